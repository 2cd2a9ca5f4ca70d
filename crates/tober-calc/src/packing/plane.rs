//! The frame plane, decided in whole numbers.
//!
//! With `c` eliminated, bounds `low_i <= c + a x_i + b y_i <= high_i` become one half-plane in
//! (a, b) for each ordered pair of points. A polygon is cut by them in integers; it is empty exactly
//! when no plane serves. Corners are kept as crossings of two original lines, so numbers do not grow.

use super::polytope::{Gauge, Keep, Polytope};
use core::cmp::Ordering;

/// A point at which the height of the plane is bounded, in tenths of a millimetre, bounds included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Bound {
    pub x_mm: i64,
    pub y_mm: i64,
    pub low: i64,
    pub high: i64,
}

/// The frame plane of a choice: `c + a x + b y`, up-positive above the datum of the pitch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plane {
    /// On the grid of whole thousandths of a millimetre and hundredths of a millimetre a metre.
    Grid {
        /// The height at the origin, in 0.001 mm.
        height_0001mm: i64,
        /// The slope along, in 0.01 mm a metre.
        slope_x_001mm_per_m: i64,
        /// The slope across, in 0.01 mm a metre.
        slope_y_001mm_per_m: i64,
    },
    /// No plane of the grid was found to serve: exact ratios, each a number over `over`.
    Exact {
        /// The height at the origin, in 0.1 mm.
        height_01mm: i128,
        /// The slope along, in 0.1 mm a metre.
        slope_x_01mm_per_m: i128,
        /// The slope across, in 0.1 mm a metre.
        slope_y_01mm_per_m: i128,
        /// What the three are divided by; positive.
        over: i128,
    },
}

impl Plane {
    /// The height of the plane at a point as an exact ratio, in tenths of a millimetre; the second is positive.
    pub fn height_at(&self, x_mm: i64, y_mm: i64) -> (i128, i128) {
        let (x, y) = (i128::from(x_mm), i128::from(y_mm));
        match *self {
            Self::Grid { height_0001mm, slope_x_001mm_per_m, slope_y_001mm_per_m } => {
                let slopes = i128::from(slope_x_001mm_per_m) * x + i128::from(slope_y_001mm_per_m) * y;
                (100 * i128::from(height_0001mm) + slopes, 10_000)
            }
            Self::Exact { height_01mm, slope_x_01mm_per_m, slope_y_01mm_per_m, over } => {
                (1000 * height_01mm + slope_x_01mm_per_m * x + slope_y_01mm_per_m * y, 1000 * over)
            }
        }
    }

    /// The two slopes as exact ratios, in tenths of a millimetre a metre: along, across, and what both are over.
    pub fn slopes(&self) -> (i128, i128, i128) {
        match *self {
            Self::Grid { slope_x_001mm_per_m, slope_y_001mm_per_m, .. } => {
                (i128::from(slope_x_001mm_per_m), i128::from(slope_y_001mm_per_m), 10)
            }
            Self::Exact { slope_x_01mm_per_m, slope_y_01mm_per_m, over, .. } => {
                (slope_x_01mm_per_m, slope_y_01mm_per_m, over)
            }
        }
    }
}

/// `x a + y b >= least`, over real a and b.
#[derive(Clone, Copy, Debug)]
struct Line {
    x: i128,
    y: i128,
    least: i128,
}

/// A corner (a / over, b / over), `over` positive, and the line along which the outline leaves it.
#[derive(Clone, Copy, Debug)]
struct Corner {
    a: i128,
    b: i128,
    over: i128,
    leaves: Line,
}

impl Line {
    fn excess(&self, corner: &Corner) -> i128 {
        self.x * corner.a + self.y * corner.b - self.least * corner.over
    }

    /// Where two lines that are not parallel cross, leaving along `leaves`.
    fn crossing(&self, other: &Self, leaves: Self) -> Corner {
        let over = self.x * other.y - self.y * other.x;
        let a = self.least * other.y - self.y * other.least;
        let b = self.x * other.least - self.least * other.x;
        if over < 0 { Corner { a: -a, b: -b, over: -over, leaves } } else { Corner { a, b, over, leaves } }
    }
}

/// The slopes that still serve, as a convex polygon that may be a segment or a point.
struct Polygon {
    corners: Vec<Corner>,
    spare: Vec<Corner>,
}

impl Polygon {
    fn slopes_within(slope_x: i64, slope_y: i64) -> Self {
        let (a, b) = (i128::from(slope_x), i128::from(slope_y));
        let bottom = Line { x: 0, y: 1, least: -b };
        let right = Line { x: -1, y: 0, least: -a };
        let top = Line { x: 0, y: -1, least: -b };
        let left = Line { x: 1, y: 0, least: -a };
        let corner = |a, b, leaves| Corner { a, b, over: 1, leaves };
        let corners =
            vec![corner(-a, -b, bottom), corner(a, -b, right), corner(a, b, top), corner(-a, b, left)];
        Self { corners, spare: Vec::new() }
    }

    /// Returns false when nothing is left.
    fn clip(&mut self, line: Line) -> bool {
        if self.corners.iter().all(|corner| line.excess(corner) >= 0) {
            return true;
        }
        self.spare.clear();
        for (place, corner) in self.corners.iter().enumerate() {
            let next = &self.corners[(place + 1) % self.corners.len()];
            match (line.excess(corner).cmp(&0), line.excess(next).cmp(&0)) {
                (Ordering::Greater, Ordering::Less) => {
                    self.spare.push(*corner);
                    self.spare.push(corner.leaves.crossing(&line, line));
                }
                (Ordering::Equal, Ordering::Less) => self.spare.push(Corner { leaves: line, ..*corner }),
                (Ordering::Less, Ordering::Greater) => {
                    self.spare.push(corner.leaves.crossing(&line, corner.leaves));
                }
                (Ordering::Less, _) => {}
                (Ordering::Greater | Ordering::Equal, _) => self.spare.push(*corner),
            }
        }
        core::mem::swap(&mut self.corners, &mut self.spare);
        !self.corners.is_empty()
    }
}

fn polygon(bounds: &[Bound], slope_x: i64, slope_y: i64) -> Option<Polygon> {
    let mut polygon = Polygon::slopes_within(slope_x, slope_y);
    for (place, one) in bounds.iter().enumerate() {
        if one.low > one.high {
            return None;
        }
        for other in &bounds[..place] {
            // Plane at `one` at most its high, at `other` at least its low, and the other way about.
            let (x, y) = (i128::from(one.x_mm - other.x_mm), i128::from(one.y_mm - other.y_mm));
            let up = Line { x, y, least: 1000 * i128::from(one.low - other.high) };
            let down = Line { x: -x, y: -y, least: 1000 * i128::from(other.low - one.high) };
            if !polygon.clip(up) || !polygon.clip(down) {
                return None;
            }
        }
    }
    Some(polygon)
}

/// Whether some plane with slopes within the tolerances keeps every bound; exact.
pub(super) fn exists(bounds: &[Bound], slope_x: i64, slope_y: i64) -> bool {
    polygon(bounds, slope_x, slope_y).is_some()
}

/// Whether this plane keeps every bound and both slopes; exact.
pub(super) fn keeps(plane: &Plane, bounds: &[Bound], slope_x: i64, slope_y: i64) -> bool {
    let (a, b, over) = plane.slopes();
    let level = a.abs() <= i128::from(slope_x) * over && b.abs() <= i128::from(slope_y) * over;
    level
        && bounds.iter().all(|bound| {
            let (height, over) = plane.height_at(bound.x_mm, bound.y_mm);
            i128::from(bound.low) * over <= height && height <= i128::from(bound.high) * over
        })
}

/// Steps on the grid of slopes, nearest first.
const NEAR: [(i64, i64); 9] = [(0, 0), (-1, 0), (1, 0), (0, -1), (0, 1), (-1, -1), (1, 1), (-1, 1), (1, -1)];

/// A plane that keeps every bound: on the grid where one is found near `wish`, else an exact corner.
pub(super) fn settle(bounds: &[Bound], slope_x: i64, slope_y: i64, wish: [f64; 3]) -> Option<Plane> {
    let grid = |c: i64, a: i64, b: i64| Plane::Grid {
        height_0001mm: c,
        slope_x_001mm_per_m: a,
        slope_y_001mm_per_m: b,
    };
    let corner = polygon(bounds, slope_x, slope_y)?.corners.first().copied()?;
    let at_corner = [corner.a as f64 / corner.over as f64, corner.b as f64 / corner.over as f64];
    for slopes in [[wish[1], wish[2]], at_corner] {
        // The nearest slopes of the grid first, so that a mirrored frame lies mirrored.
        for (aside_a, aside_b) in NEAR {
            let near = |value: f64, aside: i64| (value * 10.0).round() as i64 + aside;
            let (a, b) = (near(slopes[0], aside_a), near(slopes[1], aside_b));
            if let Some(c) = height_on_grid(bounds, a, b)
                && keeps(&grid(c, a, b), bounds, slope_x, slope_y)
            {
                return Some(grid(c, a, b));
            }
        }
    }
    // The heights that serve at this corner are an interval; take its lower end.
    let lows = bounds.iter().map(|bound| {
        let slopes = corner.a * i128::from(bound.x_mm) + corner.b * i128::from(bound.y_mm);
        1000 * corner.over * i128::from(bound.low) - slopes
    });
    Some(Plane::Exact {
        height_01mm: lows.max()?,
        slope_x_01mm_per_m: 1000 * corner.a,
        slope_y_01mm_per_m: 1000 * corner.b,
        over: 1000 * corner.over,
    })
}

/// With slopes on the grid, the height in 0.001 mm in the middle of those that serve, if there is one.
fn height_on_grid(bounds: &[Bound], a: i64, b: i64) -> Option<i64> {
    let slopes =
        |bound: &Bound| i128::from(a) * i128::from(bound.x_mm) + i128::from(b) * i128::from(bound.y_mm);
    let low = bounds.iter().map(|bound| 10_000 * i128::from(bound.low) - slopes(bound)).max()?;
    let high = bounds.iter().map(|bound| 10_000 * i128::from(bound.high) - slopes(bound)).min()?;
    let (least, most) = (-(-low).div_euclid(100), high.div_euclid(100));
    (least <= most).then(|| i64::try_from(least + (most - least) / 2).ok())?
}

/// The plane whose worst share of the three tolerances is least, to about a thousandth of the share.
///
/// `seats` are the heights of the seats, without tolerance; `fixed` are bounds that are kept as they are.
pub(super) fn most_central(
    seats: &[Bound],
    fixed: &[Bound],
    planarity: i64,
    slopes: (i64, i64),
) -> Option<[f64; 3]> {
    let origin = (seats.first()?.x_mm, seats.first()?.y_mm);
    let gauge = |bound: &Bound| Gauge {
        x: (bound.x_mm - origin.0) as f64 / 1000.0,
        y: (bound.y_mm - origin.1) as f64 / 1000.0,
    };
    let at = |share: f64| -> Option<[f64; 3]> {
        let slack = planarity as f64 * share;
        let span = |bound: &Bound| (bound.low as f64 - slack, bound.high as f64 + slack);
        let mut polytope = Polytope::default();
        polytope.start(span(&seats[0]), slopes.0 as f64 * share, slopes.1 as f64 * share);
        for (place, seat) in seats.iter().enumerate().skip(1) {
            let (low, high) = span(seat);
            let kept = polytope.clip(place, gauge(seat), low, Keep::Above)
                && polytope.clip(place, gauge(seat), high, Keep::Below);
            if !kept {
                return None;
            }
        }
        for (place, bound) in fixed.iter().enumerate() {
            let place = seats.len() + place;
            let kept = polytope.clip(place, gauge(bound), bound.low as f64, Keep::Above)
                && polytope.clip(place, gauge(bound), bound.high as f64, Keep::Below);
            if !kept {
                return None;
            }
        }
        Some(polytope.middle())
    };
    let (mut low, mut high) = (0.0, 1.0);
    let mut best = at(1.0)?;
    for _ in 0..10 {
        let share = 0.5 * (low + high);
        match at(share) {
            Some(middle) => {
                best = middle;
                high = share;
            }
            None => low = share,
        }
    }
    let (x, y) = (origin.0 as f64 / 1000.0, origin.1 as f64 / 1000.0);
    Some([best[0] - best[1] * x - best[2] * y, best[1], best[2]])
}
