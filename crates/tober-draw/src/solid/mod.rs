//! Convex bodies in space, seen from far away: which of their lines are seen.
//!
//! A body is convex and bounded by flat faces; a round one has as many flat sides as leave no corner to be seen. Everything
//! is in metres, in the axes of the frame: along, across to the left, up.
//!
//! [`visible`] gives every stretch of an edge that no body hides. For an edge and a body, what is hidden is one interval: the
//! strip that starts at the edge and runs towards the eye, cut by the half-spaces of the body. Bodies that run into each
//! other meet in lines, and these are drawn too. It is exact for the flat-sided bodies, without pixels and without an order.
//!
//! # Not covered
//! A view from near by; bodies that are not convex.

mod hidden;
mod shape;
mod view;

#[cfg(test)]
mod tests;

pub use hidden::{InTheWay, Line, LineKind, seen_share, visible};
pub use shape::{Pose, RoundBody, solid_of};
pub use view::View;

use tober_quantity::maths;

/// A point or a direction in space.
pub type Space = [f64; 3];

/// The sum of two directions, the second so many times.
pub(crate) fn plus(a: Space, b: Space, times: f64) -> Space {
    [a[0] + b[0] * times, a[1] + b[1] * times, a[2] + b[2] * times]
}

/// The scalar product.
pub(crate) fn dot(a: Space, b: Space) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// The vector product.
pub(crate) fn cross(a: Space, b: Space) -> Space {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// A direction of length 1; none of no direction.
pub(crate) fn unit(a: Space) -> Option<Space> {
    let length = dot(a, a).sqrt();
    (length > 1e-12).then(|| [a[0] / length, a[1] / length, a[2] / length])
}

/// A flat face: its corners in order round it, seen from outside against the clock, and its plane.
#[derive(Clone, Debug)]
pub struct Face {
    /// The numbers of its corners.
    pub corners: Vec<usize>,
    /// Outwards, of length 1.
    pub normal: Space,
    /// `normal · point` of every point on it.
    pub offset: f64,
}

/// An edge between two faces, or a line drawn on one.
#[derive(Clone, Copy, Debug)]
pub struct Edge {
    /// The numbers of its two ends.
    pub ends: [usize; 2],
    /// The faces on its two sides; the same twice where it is a line on a face.
    pub faces: [usize; 2],
    /// Whether it only stands for the roundness of a side: drawn where it is the outline, and nowhere else.
    pub smooth: bool,
}

/// A convex body.
#[derive(Clone, Debug, Default)]
pub struct Solid {
    /// Its corners, and the ends of lines on its faces.
    pub corners: Vec<Space>,
    /// Its faces.
    pub faces: Vec<Face>,
    /// Its edges.
    pub edges: Vec<Edge>,
}

/// The sides of a round body: at 200 pixels across, the outline is nowhere more than 0.3 pixels from the circle.
pub const SIDES: usize = 40;

impl Solid {
    /// A body between two outlines of the same number of corners, each in order round it: the lower, then the upper, both
    /// against the clock seen from above. The sides are `smooth` where they stand for a round one.
    fn between(lower: &[Space], upper: &[Space], smooth: bool) -> Self {
        let n = lower.len().min(upper.len());
        let mut corners: Vec<Space> = lower[..n].to_vec();
        corners.extend_from_slice(&upper[..n]);
        let mut solid = Self { corners, ..Self::default() };
        for side in 0..n {
            let next = (side + 1) % n;
            solid.face(vec![side, next, n + next, n + side]);
        }
        solid.face((0..n).rev().collect());
        solid.face((n..2 * n).collect());
        for side in 0..n {
            let next = (side + 1) % n;
            let before = (side + n - 1) % n;
            solid.edges.push(Edge { ends: [side, next], faces: [side, n], smooth: false });
            solid.edges.push(Edge { ends: [n + side, n + next], faces: [side, n + 1], smooth: false });
            solid.edges.push(Edge { ends: [side, n + side], faces: [before, side], smooth });
        }
        solid
    }

    fn face(&mut self, corners: Vec<usize>) {
        // By the whole outline, so that a face with two corners in one place has a normal too.
        let mut sum = [0.0; 3];
        let first = self.corners[corners[0]];
        for pair in corners[1..].windows(2) {
            let (a, b) = (plus(self.corners[pair[0]], first, -1.0), plus(self.corners[pair[1]], first, -1.0));
            sum = plus(sum, cross(a, b), 1.0);
        }
        let normal = unit(sum).unwrap_or([0.0, 0.0, 1.0]);
        self.faces.push(Face { corners, normal, offset: dot(normal, first) });
    }

    /// A body by its six faces: half its size along three axes about a middle.
    pub fn block(pose: &Pose, half: Space) -> Self {
        let at = |x: f64, y: f64, z: f64| pose.point([x * half[0], y * half[1], z * half[2]]);
        let level = |z: f64| [at(-1.0, -1.0, z), at(1.0, -1.0, z), at(1.0, 1.0, z), at(-1.0, 1.0, z)];
        Self::between(&level(-1.0), &level(1.0), false)
    }

    /// A straight round body about the first axis of a pose. With a `bore`, a line round it on both ends.
    pub fn round(pose: &Pose, body: RoundBody) -> Self {
        let ring = |x: f64, radius: f64| -> Vec<Space> {
            let turn = |side: usize| core::f64::consts::TAU * side as f64 / SIDES as f64;
            (0..SIDES)
                .map(|side| {
                    let angle = turn(side);
                    pose.point([x, radius * maths::cos(angle), radius * maths::sin(angle)])
                })
                .collect()
        };
        let mut solid =
            Self::between(&ring(-body.half_length, body.radius), &ring(body.half_length, body.radius), true);
        let bore = body.bore.filter(|bore| *bore > 0.0 && *bore < body.radius);
        for (end, x) in [(SIDES, -body.half_length), (SIDES + 1, body.half_length)] {
            let Some(bore) = bore else { continue };
            let first = solid.corners.len();
            solid.corners.extend(ring(x, bore));
            for side in 0..SIDES {
                let ends = [first + side, first + (side + 1) % SIDES];
                solid.edges.push(Edge { ends, faces: [end, end], smooth: false });
            }
        }
        solid
    }

    /// Whether a point lies in it, off its faces by at least `inside`.
    pub fn holds(&self, point: Space, inside: f64) -> bool {
        self.faces.iter().all(|face| dot(face.normal, point) <= face.offset - inside)
    }

    /// Its middle: the mean of its corners.
    pub fn middle(&self) -> Space {
        let sum = self.corners.iter().fold([0.0; 3], |sum, corner| plus(sum, *corner, 1.0));
        let n = self.corners.len().max(1) as f64;
        [sum[0] / n, sum[1] / n, sum[2] / n]
    }
}
