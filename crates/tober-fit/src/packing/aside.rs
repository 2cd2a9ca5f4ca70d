//! Two things on the plan keep apart: a claimed direction shows it.

use tober_quantity::TenthMm;

/// Greatest part of a direction, and of a place: room for the squares of their products in an `i128`.
const MOST: u64 = 1_000_000_000;

/// Whether every corner of the second lies past every corner of the first along the direction, by `keep` or more: with
/// `n` the direction, `(min n.q - max n.p)^2 >= keep^2 n.n` and the first not below nothing. Then the convex hulls of
/// both are at least `keep` apart. By multiplication alone; no corners, no direction or one out of range shows nothing.
pub fn keeps_apart(
    one: &[(TenthMm, TenthMm)],
    other: &[(TenthMm, TenthMm)],
    keep: TenthMm,
    direction: (i64, i64),
) -> bool {
    let places = one.iter().chain(other).flat_map(|place| [place.0.0, place.1.0]);
    let sound = places.chain([direction.0, direction.1, keep.0]).all(|value| value.unsigned_abs() <= MOST);
    if !sound || direction == (0, 0) || keep.0 < 0 {
        return false;
    }
    let (x, y) = (i128::from(direction.0), i128::from(direction.1));
    let past = |place: &(TenthMm, TenthMm)| x * i128::from(place.0.0) + y * i128::from(place.1.0);
    let (Some(last), Some(first)) = (one.iter().map(past).max(), other.iter().map(past).min()) else {
        return false;
    };
    let keep = i128::from(keep.0);
    first >= last && (first - last).pow(2) >= keep * keep * (x * x + y * y)
}
