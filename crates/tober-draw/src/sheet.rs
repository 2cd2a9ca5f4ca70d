//! A sheet: the one place where SVG text is written.
//!
//! Coordinates are rounded to a tenth of a pixel here, text is escaped here, and every label's place is
//! kept so that labels can be kept apart.

use crate::label::{self, Area, Weight};
use crate::mark::Mark;
use crate::style::{STYLE, StyleSheet};
use core::fmt::Write as _;
use std::collections::BTreeSet;

/// A drawing while it is made.
pub(crate) struct Sheet {
    prefix: String,
    width: f64,
    /// Where the sheet begins: what is above it is not shown.
    top: f64,
    height: f64,
    body: String,
    marks: BTreeSet<Mark>,
    /// Where each label stands, for keeping labels apart.
    pub(crate) labels: Vec<(Area, String)>,
}

/// Which point of a text its place is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// How a text looks.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Face {
    pub size: f64,
    pub weight: Weight,
    pub anchor: Anchor,
    /// Further classes: colour, halo.
    pub class: &'static str,
}

impl Face {
    pub(crate) const fn plain(size: f64) -> Self {
        Self { size, weight: Weight::Regular, anchor: Anchor::Start, class: "" }
    }
    pub(crate) const fn bold(size: f64) -> Self {
        Self { size, weight: Weight::Bold, anchor: Anchor::Start, class: "" }
    }
    pub(crate) const fn title() -> Self {
        Self { size: 20.0, weight: Weight::Slab, anchor: Anchor::Start, class: "" }
    }
    pub(crate) const fn middle(self) -> Self {
        Self { anchor: Anchor::Middle, ..self }
    }
    pub(crate) const fn end(self) -> Self {
        Self { anchor: Anchor::End, ..self }
    }
    pub(crate) const fn class(self, class: &'static str) -> Self {
        Self { class, ..self }
    }
    fn classes(self) -> String {
        let mut classes = Vec::new();
        match self.weight {
            Weight::Slab => classes.push("slab".to_owned()),
            Weight::Bold => classes.push("b".to_owned()),
            Weight::Regular => {}
        }
        if (self.size - 15.0).abs() > 0.01 && self.weight != Weight::Slab {
            classes.push(format!("s{}", number(self.size)));
        }
        match self.anchor {
            Anchor::Start => {}
            Anchor::Middle => classes.push("mid".to_owned()),
            Anchor::End => classes.push("end".to_owned()),
        }
        if !self.class.is_empty() {
            classes.push(self.class.to_owned());
        }
        classes.join(" ")
    }
    /// The area a text of this face takes when its base point stands at a place.
    pub(crate) fn area(self, x: f64, y: f64, text: &str) -> Area {
        let width = label::width(text, self.size, self.weight);
        let left = match self.anchor {
            Anchor::Start => x,
            Anchor::Middle => x - width / 2.0,
            Anchor::End => x - width,
        };
        Area { x: left, y: y - self.size * 0.76, width, height: self.size * 0.98 }
    }
}

impl Sheet {
    /// An empty sheet. The prefix keeps its names apart from those of other drawings on a page.
    pub(crate) fn new(prefix: &str, width: f64, height: f64) -> Self {
        Self {
            prefix: prefix.to_owned(),
            width,
            top: 0.0,
            height,
            body: String::new(),
            marks: BTreeSet::new(),
            labels: Vec::new(),
        }
    }

    pub(crate) fn set_top(&mut self, top: f64) {
        self.top = top;
    }

    pub(crate) fn set_height(&mut self, height: f64) {
        self.height = height;
    }

    pub(crate) fn rect(&mut self, area: Area, class: &str) {
        let _ = writeln!(
            self.body,
            r#"<rect x="{}" y="{}" width="{}" height="{}" class="{class}"/>"#,
            number(area.x),
            number(area.y),
            number(area.width),
            number(area.height)
        );
    }

    pub(crate) fn line(&mut self, from: (f64, f64), to: (f64, f64), class: &str) {
        let _ = writeln!(
            self.body,
            r#"<path d="M{} {}L{} {}" class="{class}"/>"#,
            number(from.0),
            number(from.1),
            number(to.0),
            number(to.1)
        );
    }

    pub(crate) fn path(&mut self, path: &str, class: &str) {
        let _ = writeln!(self.body, r#"<path d="{path}" class="{class}"/>"#);
    }

    pub(crate) fn circle(&mut self, centre: (f64, f64), radius: f64, class: &str) {
        let _ = writeln!(
            self.body,
            r#"<circle cx="{}" cy="{}" r="{}" class="{class}"/>"#,
            number(centre.0),
            number(centre.1),
            number(radius)
        );
    }

    /// Opens a group that is cut to an area; `name` is its name within this drawing.
    pub(crate) fn open_clipped(&mut self, name: &str, area: Area) {
        let id = format!("{}-{name}", self.prefix);
        let _ = writeln!(self.body, r#"<clipPath id="{id}">"#);
        self.rect(area, "fp");
        let _ = writeln!(self.body, r#"</clipPath><g clip-path="url(#{id})">"#);
    }

    pub(crate) fn close_group(&mut self) {
        self.body.push_str("</g>\n");
    }

    /// A dimension line with filled heads at both ends.
    pub(crate) fn dimension(&mut self, from: (f64, f64), to: (f64, f64)) {
        self.line(from, to, "k1");
        self.arrow_head(from, to);
        self.arrow_head(to, from);
    }

    /// A filled head at the end of a line that comes from another point.
    pub(crate) fn arrow_head(&mut self, from: (f64, f64), tip: (f64, f64)) {
        let (dx, dy) = (tip.0 - from.0, tip.1 - from.1);
        let length = (dx * dx + dy * dy).sqrt();
        if length < 1e-9 {
            return;
        }
        let (ux, uy) = (dx / length, dy / length);
        let back = (tip.0 - 8.0 * ux, tip.1 - 8.0 * uy);
        let d = path(
            &[tip, (back.0 - 2.8 * uy, back.1 + 2.8 * ux), (back.0 + 2.8 * uy, back.1 - 2.8 * ux)],
            true,
        );
        self.path(&d, "fk");
    }

    /// A text at a place, as it stands.
    pub(crate) fn text(&mut self, x: f64, y: f64, face: Face, text: &str) {
        self.text_with_full(x, y, face, text, None);
    }

    /// A text at a place, cut with an ellipsis where it is wider than there is room; the whole is kept
    /// as the text's own title.
    pub(crate) fn text_within(&mut self, x: f64, y: f64, face: Face, text: &str, room: f64) {
        let shown = label::cut(text, face.size, face.weight, room);
        let full = (shown != label::clean(text)).then_some(text);
        self.text_with_full(x, y, face, &shown, full);
    }

    fn text_with_full(&mut self, x: f64, y: f64, face: Face, text: &str, full: Option<&str>) {
        self.labels.push((face.area(x, y, text), text.to_owned()));
        let classes = face.classes();
        let _ = write!(self.body, r#"<text x="{}" y="{}""#, number(x), number(y));
        if !classes.is_empty() {
            let _ = write!(self.body, r#" class="{classes}""#);
        }
        self.body.push('>');
        if let Some(full) = full {
            let _ = write!(self.body, "<title>{}</title>", escape(full));
        }
        let _ = writeln!(self.body, "{}</text>", escape(text));
    }

    /// A state mark with its upper left corner at a place. Its word must stand beside it.
    pub(crate) fn mark(&mut self, x: f64, y: f64, size: f64, mark: Mark) {
        self.marks.insert(mark);
        let _ = writeln!(
            self.body,
            r##"<use href="#{}-{}" x="{}" y="{}" width="{size}" height="{size}" class="{}"/>"##,
            self.prefix,
            mark.name(),
            number(x),
            number(y),
            mark.class(),
            size = number(size)
        );
    }

    /// The finished drawing.
    pub(crate) fn finish(self, title: &str, description: &str, style: StyleSheet) -> String {
        let mut svg = String::with_capacity(self.body.len() + 4096);
        let (width, height, prefix) = (number(self.width), number(self.height - self.top), &self.prefix);
        let top = number(self.top);
        let _ = writeln!(
            svg,
            r#"<svg xmlns="http://www.w3.org/2000/svg" class="tober" width="{width}" height="{height}" viewBox="0 {top} {width} {height}" role="img" aria-labelledby="{prefix}-t {prefix}-d">"#
        );
        let _ = writeln!(svg, r#"<title id="{prefix}-t">{}</title>"#, escape(title));
        let _ = writeln!(svg, r#"<desc id="{prefix}-d">{}</desc>"#, escape(description));
        if style == StyleSheet::Embedded {
            let _ = writeln!(svg, "<style>\n{STYLE}</style>");
        }
        if !self.marks.is_empty() {
            svg.push_str("<defs>\n");
            for mark in &self.marks {
                let _ = writeln!(svg, "{}", mark.symbol(prefix));
            }
            svg.push_str("</defs>\n");
        }
        let whole = Area { x: 0.0, y: self.top, width: self.width, height: self.height - self.top };
        let mut ground = Self::new("", 0.0, 0.0);
        ground.rect(whole, "fp");
        svg.push_str(&ground.body);
        svg.push_str(&self.body);
        svg.push_str("</svg>\n");
        svg
    }
}

/// A path through points, closed or open.
pub(crate) fn path(points: &[(f64, f64)], closed: bool) -> String {
    let mut d = String::new();
    for (i, (x, y)) in points.iter().enumerate() {
        let _ = write!(d, "{}{} {}", if i == 0 { 'M' } else { 'L' }, number(*x), number(*y));
    }
    if closed {
        d.push('Z');
    }
    d
}

/// A coordinate to a tenth of a pixel, without a needless point or sign.
///
/// What is not a number is written as 0: no drawing function is given one, as plans are checked first.
pub(crate) fn number(value: f64) -> String {
    let tenths = (value * 10.0).round() / 10.0;
    if !tenths.is_finite() || tenths == 0.0 { "0".to_owned() } else { format!("{tenths}") }
}

/// Text for XML: cleaned of what no drawing can show, and with the five signs written as entities.
pub(crate) fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in label::clean(text).chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            _ => escaped.push(c),
        }
    }
    escaped
}
