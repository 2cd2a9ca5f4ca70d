//! Whether everything on a page is in its place, measured from the layout and not by eye.

use crate::held;
use typst::layout::{Abs, Frame, FrameItem, Point, Size, Transform};
use typst_layout::PagedDocument;

/// What a drawing is called where it has no text of its own.
pub(crate) const DRAWING: &str = "a drawing";
/// What a line or an area is called.
pub(crate) const LINE: &str = "a line";

/// The margins left and right, and above, as in the template.
const SIDE_MM: f64 = 12.0;
pub(crate) const TOP_MM: f64 = 11.0;
/// Where what is printed ends, from the lower edge, as in the template.
const BODY_MM: f64 = 19.0;
/// Where the foot begins, from the lower edge: its rule, less half of its own weight.
const FOOT_MM: f64 = 15.3;
/// How near the foot may come to the lower edge: what a common printer leaves white (common practice, no source).
const EDGE_MM: f64 = 4.2;
/// How far something may stand out of its place: half the heaviest line, and what a letter leans out of its box.
pub(crate) const SLACK_MM: f64 = 0.8;

/// A line across the page is thinner and longer than this.
const THIN_MM: f64 = 1.7;
const LONG_MM: f64 = 5.0;
/// How far a line may run into a letter: what a bracket of a table's type hangs lower than a p (0.2 mm), and half the
/// weight of the heaviest rule (0.25 mm).
const INTO_MM: f64 = 0.45;

/// What stands out of its place or on something else, in words: on which page, what, and by how much.
pub(crate) fn overflows(document: &PagedDocument) -> Vec<String> {
    let mut all = Vec::new();
    for (at, page) in document.pages().iter().enumerate() {
        let mut texts: Vec<(String, Point, Point)> = Vec::new();
        let mut rules: Vec<(Point, Point)> = Vec::new();
        let Size { x: width, y: height } = page.frame.size();
        walk(&page.frame, Transform::identity(), &mut |item, from, to| {
            let sideways = (to.x - (width - Abs::mm(SIDE_MM))).max(Abs::mm(SIDE_MM) - from.x);
            let lowest = if in_the_foot(from, page.frame.size()) { EDGE_MM } else { BODY_MM };
            let upright = (to.y - (height - Abs::mm(lowest))).max(Abs::mm(TOP_MM) - from.y);
            let over = sideways.max(upright);
            if over > Abs::mm(SLACK_MM) {
                let item: String = item.chars().take(40).collect();
                all.push(format!(
                    "page {}: \"{item}\" stands {:.1} mm out of its place",
                    at + 1,
                    over.to_mm()
                ));
            }
            let thin = to.y - from.y < Abs::mm(THIN_MM) && to.x - from.x > Abs::mm(LONG_MM);
            if item == LINE && thin {
                rules.push((from, to));
            } else if item != DRAWING && item != LINE {
                texts.push((item.to_owned(), from, to));
            }
        });
        all.extend(
            held::out_of_place(&page.frame).into_iter().map(|said| format!("page {}: {said}", at + 1)),
        );
        if held::is_empty(&page.frame) {
            all.push(format!("page {}: nothing stands on it", at + 1));
        }
        for (text, from, to) in &texts {
            let through = |(first, last): &&(Point, Point)| {
                let wide = to.x.min(last.x) - from.x.max(first.x);
                let deep = Abs::mm(INTO_MM);
                wide > Abs::mm(SLACK_MM) && last.y > from.y + deep && first.y < to.y - deep
            };
            if rules.iter().any(|rule| through(&rule)) {
                all.push(format!("page {}: a line runs through \"{text}\"", at + 1));
            }
        }
        for (place, (one, from, to)) in texts.iter().enumerate() {
            for (other, first, last) in &texts[place + 1..] {
                let wide = to.x.min(last.x) - from.x.max(first.x);
                let high = to.y.min(last.y) - from.y.max(first.y);
                if wide > Abs::mm(SLACK_MM) && high > Abs::mm(SLACK_MM) {
                    all.push(format!("page {}: \"{one}\" and \"{other}\" stand on each other", at + 1));
                }
            }
        }
    }
    all
}

/// Whether something that begins here is of the foot of a page.
pub(crate) fn in_the_foot(from: Point, page: Size) -> bool {
    from.y > page.y - Abs::mm(FOOT_MM)
}

/// Goes through everything that is printed, with its place on the page.
pub(crate) fn walk(frame: &Frame, outer: Transform, seen: &mut impl FnMut(&str, Point, Point)) {
    for (place, item) in frame.items() {
        let here = outer.pre_concat(Transform::translate(place.x, place.y));
        if let FrameItem::Group(group) = item {
            walk(&group.frame, here.pre_concat(group.transform), seen);
        } else if let Some((what, from, to)) = bounds_of(item, here) {
            seen(what, from, to);
        }
    }
}

/// What something is that is printed, and where it begins and ends on the page.
pub(crate) fn bounds_of(item: &FrameItem, here: Transform) -> Option<(&str, Point, Point)> {
    let (what, from, to) = match item {
        FrameItem::Text(text) => {
            let bounds = text.bbox();
            (text.text.as_str(), bounds.min, bounds.max)
        }
        FrameItem::Image(_, size, _) => (DRAWING, Point::zero(), size.to_point()),
        FrameItem::Shape(shape, _) => {
            let bounds = shape.bbox(true);
            (LINE, bounds.min, bounds.max)
        }
        FrameItem::Group(_) | FrameItem::Link(..) | FrameItem::Tag(_) => return None,
    };
    // A run of spaces has no outline, and its box no end.
    let bounded = |point: Point| point.x.to_raw().is_finite() && point.y.to_raw().is_finite();
    let (from, to) = if bounded(from) && bounded(to) { (from, to) } else { (Point::zero(), Point::zero()) };
    let (one, other) = (from.transform(here), to.transform(here));
    Some((
        what,
        Point::new(one.x.min(other.x), one.y.min(other.y)),
        Point::new(one.x.max(other.x), one.y.max(other.y)),
    ))
}
