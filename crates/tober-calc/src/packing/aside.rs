//! Whether two things on the plan keep apart, with a line between them that shows it.

use tober_quantity::TenthMm;

/// A place on the plan: along, across.
pub type Spot = (TenthMm, TenthMm);

/// A direction square to a line between two things, that shows that they keep apart by at least `keep`; `None` where they
/// do not. Each is the convex hull of its corners; a line or a point is one too.
///
/// Along the direction `n`, every corner of the second is past every corner of the first by
/// `gap = min n.q - max n.p >= keep |n|`. Between two convex things the farthest such gap is their distance, and it
/// is met square to a side of one or along the line from a corner to a corner, so all of these are tried.
/// In whole numbers. Source: the theorem of the separating line; worked out here.
pub fn aside(one: &[Spot], other: &[Spot], keep: TenthMm) -> Option<(i64, i64)> {
    let to = |p: &Spot, q: &Spot| ((q.0 - p.0).0, (q.1 - p.1).0);
    let sides = |of: &[Spot]| -> Vec<(i64, i64)> {
        of.iter().flat_map(|p| of.iter().map(|q| to(p, q)).map(|(x, y)| (-y, x))).collect()
    };
    let across = one.iter().flat_map(|p| other.iter().map(|q| to(p, q)));
    let tried = across.chain(sides(one)).chain(sides(other));
    tried.into_iter().find(|&normal| parts(one, other, keep, normal))
}

fn parts(one: &[Spot], other: &[Spot], keep: TenthMm, (x, y): (i64, i64)) -> bool {
    let (x, y) = (i128::from(x), i128::from(y));
    let along = |p: &Spot| x * i128::from(p.0.0) + y * i128::from(p.1.0);
    let (Some(far), Some(near)) = (one.iter().map(along).max(), other.iter().map(along).min()) else {
        return false;
    };
    let (gap, keep) = (near - far, i128::from(keep.0));
    (x, y) != (0, 0) && gap >= 0 && gap * gap >= keep * keep * (x * x + y * y)
}
