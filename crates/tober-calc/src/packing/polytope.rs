//! The planes that can still serve: a bounded polytope in height, slope along and slope across.
//!
//! Clipping is done in floating point with every bound let out by [`FAT`], so that no plane that
//! truly serves is ever lost. Nothing is decided here: leaves of the search are tested in integers.

/// By how much every bound is let out, in tenths of a millimetre. Coordinates stay below 1e7, so a
/// clipped vertex is good to about 1e-8.
pub(super) const FAT: f64 = 1e-6;

/// A corner of the polytope: plane height at the origin, slopes, and which bounds meet here.
#[derive(Clone, Copy, Debug)]
struct Vertex {
    at: [f64; 3],
    tight: u128,
}

/// Where a height of the plane is bounded: offset from the origin, in metres.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gauge {
    pub x: f64,
    pub y: f64,
}

impl Gauge {
    fn height(self, at: [f64; 3]) -> f64 {
        at[0] + self.x * at[1] + self.y * at[2]
    }
}

/// A convex polytope of planes, as its corners.
#[derive(Clone, Debug, Default)]
pub(super) struct Polytope {
    vertices: Vec<Vertex>,
    spare: Vec<Vertex>,
}

/// Which side of a bound is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Keep {
    Above,
    Below,
}

impl Polytope {
    /// All planes with slopes within the tolerances and a height at the origin within bounds.
    pub fn start(&mut self, height: (f64, f64), slope_x: f64, slope_y: f64) {
        self.vertices.clear();
        let (sx, sy) = (slope_x + FAT, slope_y + FAT);
        for corner in 0..8_u64 {
            let pick = |bit: u64, low: f64, high: f64| if corner >> bit & 1 == 0 { low } else { high };
            let at = [pick(0, height.0 - FAT, height.1 + FAT), pick(1, -sx, sx), pick(2, -sy, sy)];
            let tight = (0..3).map(|bit| 1_u128 << (2 * bit + (corner >> bit & 1))).sum();
            self.vertices.push(Vertex { at, tight });
        }
    }

    /// Makes this a copy of another without giving up its room.
    pub fn copy_from(&mut self, other: &Self) {
        self.vertices.clear();
        self.vertices.extend_from_slice(&other.vertices);
    }

    /// The least and the greatest height of the planes at a gauge.
    pub fn heights(&self, gauge: Gauge) -> (f64, f64) {
        let mut span = (f64::INFINITY, f64::NEG_INFINITY);
        for vertex in &self.vertices {
            let height = gauge.height(vertex.at);
            span = (span.0.min(height), span.1.max(height));
        }
        span
    }

    /// The mean of the corners.
    pub fn middle(&self) -> [f64; 3] {
        let mut sum = [0.0; 3];
        for vertex in &self.vertices {
            for (total, part) in sum.iter_mut().zip(vertex.at) {
                *total += part;
            }
        }
        sum.map(|total| total / self.vertices.len() as f64)
    }

    /// Keeps the planes above or below a height at gauge number `place`. Returns false when none is left.
    ///
    /// Two corners span an edge when they share two bounds. A bound that is drawn in again takes the
    /// place of its old self, whose corners all fall away.
    pub fn clip(&mut self, place: usize, gauge: Gauge, bound: f64, keep: Keep) -> bool {
        let (sign, side) = match keep {
            Keep::Above => (1.0, 0),
            Keep::Below => (-1.0, 1),
        };
        let inside = |vertex: &Vertex| sign * (gauge.height(vertex.at) - bound) + FAT;
        let least = self.vertices.iter().map(inside).fold(f64::INFINITY, f64::min);
        if least >= -0.1 * FAT {
            return true;
        }
        let bit = 1_u128 << (6 + 2 * place + side);
        let mut kept = core::mem::take(&mut self.spare);
        kept.clear();
        kept.extend(self.vertices.iter().filter(|vertex| inside(vertex) >= 0.0));
        if kept.is_empty() {
            self.spare = kept;
            return false;
        }
        let whole = kept.len();
        for gone in self.vertices.iter().filter(|vertex| inside(vertex) < 0.0) {
            let out = inside(gone);
            for stays in 0..whole {
                let shared = kept[stays].tight & gone.tight;
                if shared.count_ones() < 2 {
                    continue;
                }
                let within = inside(&kept[stays]);
                let share = within / (within - out);
                let from = kept[stays].at;
                let at = core::array::from_fn(|axis| from[axis] + share * (gone.at[axis] - from[axis]));
                kept.push(Vertex { at, tight: shared | bit });
            }
        }
        self.spare = core::mem::replace(&mut self.vertices, kept);
        true
    }
}
