//! What holds what on a page: cells of tables, frames drawn round something, and what cuts off. Measured from the layout.
//!
//! The layout says where each cell begins and not where it ends: it ends where the next one of its row or column begins.

use crate::measure::{DRAWING, LINE, SLACK_MM, bounds_of};
use typst::introspection::{Location, Tag};
use typst::layout::{Abs, Frame, FrameItem, GridCell, Point, Transform};
use typst::model::TableCell;

/// How near two places may be and be the same one.
const SAME_MM: f64 = 0.01;
/// No letter of the three faces hangs lower under its line than 0.30 of its size, or stands higher over the capitals than 0.35
/// (the boxes of all letters in the fonts' `head` tables).
const HANGS: f64 = 0.35;
/// How many letters of a text are told.
const TOLD_LETTERS: usize = 40;

/// Something that holds others, on one page.
struct Holder {
    what: &'static str,
    from: Point,
    /// Where it ends, where that is known from the layout alone.
    to: Option<Point>,
    /// What holds it.
    within: Option<usize>,
    held: Vec<Held>,
}

/// Something that is printed, with how far it may stand out above and below.
struct Held {
    what: String,
    from: Point,
    to: Point,
    slack: Abs,
}

/// All holders of a page, in the order in which they begin.
#[derive(Default)]
struct Holders {
    all: Vec<Holder>,
    /// Those that are open: which, and the place of the layout that ends it.
    open: Vec<(usize, Option<Location>)>,
}

/// What stands out of its cell or its frame, in words: what, of what, and by how much. A text is named once, for the
/// innermost that it stands out of.
pub(crate) fn out_of_place(page: &Frame) -> Vec<String> {
    let mut holders = Holders::default();
    holders.walk(page, Transform::identity());
    let slack = Abs::mm(SLACK_MM);
    let mut told: Vec<(&str, Point)> = Vec::new();
    let mut all = Vec::new();
    for holder in holders.all.iter().rev() {
        let (right, lowest) = holder.to.map_or_else(|| holders.ends(holder), |to| (to.x, to.y));
        for item in &holder.held {
            let sideways = (item.to.x - right).max(holder.from.x - item.from.x);
            let upright = (item.to.y - lowest).max(holder.from.y - item.from.y);
            let over = sideways.max(upright);
            let out = sideways > slack || upright > item.slack;
            if out && !told.contains(&(item.what.as_str(), item.from)) {
                told.push((&item.what, item.from));
                let said: String = item.what.chars().take(TOLD_LETTERS).collect();
                all.push(format!("\"{said}\" stands {:.1} mm out of its {}", over.to_mm(), holder.what));
            }
        }
    }
    all.reverse();
    all
}

impl Holders {
    /// Where a cell ends: where the next of its row begins, and the next of its column.
    fn ends(&self, cell: &Holder) -> (Abs, Abs) {
        let same = Abs::mm(SAME_MM);
        let cells = || self.all.iter().filter(|other| other.to.is_none() && other.within == cell.within);
        let right = cells()
            .filter(|other| (other.from.y - cell.from.y).abs() < same && other.from.x > cell.from.x + same)
            .map(|other| other.from.x)
            .min();
        let lowest = cells()
            .filter(|other| (other.from.x - cell.from.x).abs() < same && other.from.y > cell.from.y + same)
            .map(|other| other.from.y)
            .min();
        (right.unwrap_or(Abs::inf()), lowest.unwrap_or(Abs::inf()))
    }

    fn begin(&mut self, what: &'static str, from: Point, to: Option<Point>, ends: Option<Location>) {
        let within = self.open.last().map(|(at, _)| *at);
        self.open.push((self.all.len(), ends));
        self.all.push(Holder { what, from, to, within, held: Vec::new() });
    }

    fn walk(&mut self, frame: &Frame, outer: Transform) {
        for (place, item) in frame.items() {
            let here = outer.pre_concat(Transform::translate(place.x, place.y));
            match item {
                FrameItem::Group(group) => {
                    let inner = here.pre_concat(group.transform);
                    let from = Point::zero().transform(inner);
                    let to = group.frame.size().to_point().transform(inner);
                    let what = if group.clip.is_some() {
                        Some("cut")
                    } else if group.frame.kind().is_hard() {
                        Some("frame")
                    } else if group.parent.is_some() {
                        Some("cell")
                    } else {
                        None
                    };
                    let open = self.open.len();
                    if let Some(what) = what {
                        self.begin(what, from, Some(to), None);
                    }
                    self.walk(&group.frame, inner);
                    if what.is_some() {
                        self.open.truncate(open);
                    }
                }
                FrameItem::Tag(Tag::Start(element, _))
                    if element.is::<TableCell>() || element.is::<GridCell>() =>
                {
                    self.begin("cell", Point::zero().transform(here), None, element.location());
                }
                FrameItem::Tag(Tag::End(location, ..)) => {
                    self.open.retain(|(_, ends)| ends.as_ref() != Some(location));
                }
                FrameItem::Tag(_) | FrameItem::Link(..) => {}
                FrameItem::Text(_) | FrameItem::Image(..) | FrameItem::Shape(..) => {
                    let Some((what, from, to)) = bounds_of(item, here) else { continue };
                    // The lines of a table and of a frame stand on its edges, and a line of it may be its last item.
                    if what == LINE {
                        continue;
                    }
                    // The box of a line of text ends at its foot line: what hangs below it is no fault.
                    let slack = match item {
                        FrameItem::Text(text) => Abs::mm(SLACK_MM).max(text.size * HANGS),
                        _ => Abs::mm(SLACK_MM),
                    };
                    for (at, _) in &self.open {
                        self.all[*at].held.push(Held { what: what.to_owned(), from, to, slack });
                    }
                }
            }
        }
    }
}

/// Whether a page has nothing on it besides the head of its sheet and its foot.
pub(crate) fn is_empty(page: &Frame) -> bool {
    /// Of the height of the square with the sheet's number, in the template.
    const HEAD_MM: f64 = 11.0;
    /// The title of a sheet is the only text of this size that begins a page, pt.
    const TITLE_PT: f64 = 17.5;
    let mut titled = false;
    let mut seen: Vec<Point> = Vec::new();
    titles(page, Transform::identity(), &mut |size, from| {
        titled |= size > Abs::pt(TITLE_PT) && from.y < Abs::mm(crate::measure::TOP_MM + HEAD_MM);
    });
    crate::measure::walk(page, Transform::identity(), &mut |what, from, _| {
        let blank = what != DRAWING && what.trim().is_empty();
        if what != LINE && !blank && !crate::measure::in_the_foot(from, page.size()) {
            seen.push(from);
        }
    });
    let head = Abs::mm(crate::measure::TOP_MM + if titled { HEAD_MM } else { 0.0 } - 0.5);
    !seen.iter().any(|from| from.y > head)
}

fn titles(frame: &Frame, outer: Transform, seen: &mut impl FnMut(Abs, Point)) {
    for (place, item) in frame.items() {
        let here = outer.pre_concat(Transform::translate(place.x, place.y));
        match item {
            FrameItem::Group(group) => titles(&group.frame, here.pre_concat(group.transform), seen),
            FrameItem::Text(text) => seen(text.size, Point::zero().transform(here)),
            _ => {}
        }
    }
}
