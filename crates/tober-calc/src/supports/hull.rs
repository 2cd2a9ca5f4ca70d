//! The convex hull of the supports, and how far inside it a point lies.

use tober_quantity::maths::hypot;

/// The corners of the hull, anticlockwise, as indices into the points it was made from.
///
/// Points that lie on a side, or on another point, are no corners. A hull of one point or of one
/// line has one or two corners.
#[derive(Clone, Debug, Default)]
pub(super) struct Hull {
    pub corners: Vec<usize>,
    order: Vec<usize>,
    x: Vec<f64>,
    y: Vec<f64>,
}

/// The side of the hull that a point is nearest to being outside of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Nearest {
    /// Distance inside the hull, in metres; negative outside.
    pub margin: f64,
    /// Ends of the side, anticlockwise round the hull; the same twice where the hull is one point.
    pub from: usize,
    pub to: usize,
}

fn cross(ax: f64, ay: f64, bx: f64, by: f64) -> f64 {
    ax * by - ay * bx
}

impl Hull {
    /// Makes the hull of these points anew; nothing is done when they are those of the last time.
    pub fn make(&mut self, x: &[f64], y: &[f64]) {
        if self.x == x && self.y == y {
            return;
        }
        self.x.clear();
        self.x.extend_from_slice(x);
        self.y.clear();
        self.y.extend_from_slice(y);
        self.order.clear();
        self.order.extend(0..x.len());
        self.order.sort_unstable_by(|&a, &b| (x[a], y[a]).partial_cmp(&(x[b], y[b])).unwrap_or(a.cmp(&b)));
        self.order.dedup_by(|b, a| x[*a].total_cmp(&x[*b]).is_eq() && y[*a].total_cmp(&y[*b]).is_eq());
        self.corners.clear();
        if self.order.len() < 3 {
            self.corners.extend_from_slice(&self.order);
            return;
        }
        self.chain(false);
        self.chain(true);
    }

    /// Appends one half of the hull, without its last corner.
    fn chain(&mut self, back: bool) {
        let start = self.corners.len();
        let n = self.order.len();
        for step in 0..n {
            let p = self.order[if back { n - 1 - step } else { step }];
            while self.corners.len() >= start + 2 {
                let b = self.corners[self.corners.len() - 1];
                let a = self.corners[self.corners.len() - 2];
                let (ux, uy) = (self.x[b] - self.x[a], self.y[b] - self.y[a]);
                let (vx, vy) = (self.x[p] - self.x[b], self.y[p] - self.y[b]);
                // A turn that rounding alone could have made is no turn.
                let turn = cross(ux, uy, vx, vy);
                let noise = 1e-14 * ((ux.abs() + uy.abs()) * (vx.abs() + vy.abs()));
                if turn > noise {
                    break;
                }
                self.corners.pop();
            }
            self.corners.push(p);
        }
        self.corners.pop();
    }

    /// Whether the points lie on one line, or are one.
    pub fn is_flat(&self) -> bool {
        self.corners.len() < 3
    }

    /// The sides, as pairs of corners.
    pub fn sides(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        let m = self.corners.len();
        (0..m).map(move |i| (self.corners[i], self.corners[(i + 1) % m]))
    }

    /// Half-way between the two sides that meet at a corner, one long.
    pub fn inward_at_corner(&self, corner: usize) -> (f64, f64) {
        let (mut nx, mut ny) = (0.0, 0.0);
        for (from, to) in self.sides() {
            let other = if from == corner {
                to
            } else if to == corner {
                from
            } else {
                continue;
            };
            let (dx, dy) = (self.x[other] - self.x[corner], self.y[other] - self.y[corner]);
            let length = (dx * dx + dy * dy).sqrt();
            if length > 0.0 {
                nx += dx / length;
                ny += dy / length;
            }
        }
        let length = (nx * nx + ny * ny).sqrt();
        if length > 0.0 { (nx / length, ny / length) } else { (1.0, 0.0) }
    }

    /// Where the point lies; `None` only for a hull of nothing.
    pub fn nearest(&self, px: f64, py: f64) -> Option<Nearest> {
        let mut inward: Option<Nearest> = None;
        let mut outward = f64::INFINITY;
        for (from, to) in self.sides() {
            let (sx, sy) = (self.x[to] - self.x[from], self.y[to] - self.y[from]);
            let (dx, dy) = (px - self.x[from], py - self.y[from]);
            let length_sq = sx * sx + sy * sy;
            if length_sq <= 0.0 {
                let margin = -hypot(dx, dy);
                return Some(Nearest { margin, from, to });
            }
            let length = length_sq.sqrt();
            let inside = cross(sx, sy, dx, dy) / length;
            if inward.is_none_or(|n| inside < n.margin) {
                inward = Some(Nearest { margin: inside, from, to });
            }
            let t = ((dx * sx + dy * sy) / length_sq).clamp(0.0, 1.0);
            let (ex, ey) = (dx - t * sx, dy - t * sy);
            outward = outward.min(ex * ex + ey * ey);
        }
        let nearest = inward?;
        if self.is_flat() || nearest.margin < 0.0 {
            return Some(Nearest { margin: -outward.sqrt(), ..nearest });
        }
        Some(nearest)
    }
}
