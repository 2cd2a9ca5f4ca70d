//! The simple shapes of a ride book as convex bodies.

use super::{Solid, Space, plus};
use tober_book::{Placement, Shape};
use tober_quantity::{Angle, Length, maths};

/// Where a body is and how it lies: its middle and its own three axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Its middle.
    pub at: Space,
    /// Its own axes: along, across to the left, up. Each of length 1 and square to the others.
    pub axes: [Space; 3],
}

impl Pose {
    /// Level, its length along the frame.
    pub fn level(at: Space) -> Self {
        Self { at, axes: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]] }
    }

    /// Rolled over to the right about its length, then its front end raised, then turned to the left about the upright, as
    /// a ride book tells it.
    pub fn turned(at: Space, heading: Angle, raised: Angle, rolled: Angle) -> Self {
        let turn = |angle: Angle| (maths::sin(angle.as_rad()), maths::cos(angle.as_rad()));
        let ((sh, ch), (sr, cr), (so, co)) = (turn(heading), turn(raised), turn(rolled));
        let place = |p: Space| {
            // To the right, seen from behind: what was up goes to the right, which is across, negative.
            let rolled = [p[0], co * p[1] - so * p[2], so * p[1] + co * p[2]];
            let raised = [cr * rolled[0] - sr * rolled[2], rolled[1], sr * rolled[0] + cr * rolled[2]];
            [ch * raised[0] - sh * raised[1], sh * raised[0] + ch * raised[1], raised[2]]
        };
        Self { at, axes: [place([1.0, 0.0, 0.0]), place([0.0, 1.0, 0.0]), place([0.0, 0.0, 1.0])] }
    }

    /// The pose of a placement of the book.
    pub fn of(placement: &Placement) -> Self {
        let cg = &placement.cg;
        let at = [cg.along.value, cg.across.value, cg.up.value].map(Length::as_m);
        let angle = |told: Option<Angle>| told.unwrap_or(Angle::ZERO);
        Self::turned(at, angle(placement.heading), angle(placement.raised), angle(placement.rolled))
    }

    /// The same, with its first axis along the line from one point to another, the middle half way; none where the two are
    /// one place.
    pub fn along(from: Space, to: Space) -> Option<Self> {
        let along = super::unit(plus(to, from, -1.0))?;
        let up = if along[2].abs() > 0.9 { [1.0, 0.0, 0.0] } else { [0.0, 0.0, 1.0] };
        let across = super::unit(super::cross(up, along))?;
        let at = plus(plus([0.0; 3], from, 0.5), to, 0.5);
        Some(Self { at, axes: [along, across, super::cross(along, across)] })
    }

    /// A point given in its own axes.
    pub fn point(&self, own: Space) -> Space {
        (0..3).fold(self.at, |sum, axis| plus(sum, self.axes[axis], own[axis]))
    }
}

/// A straight round body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundBody {
    /// Half its length.
    pub half_length: f64,
    /// Its radius outside.
    pub radius: f64,
    /// Its radius inside, of a tube.
    pub bore: Option<f64>,
}

/// A simple shape in a pose as a convex body; a tube as a round body with its bore drawn on both ends.
pub fn solid_of(shape: &Shape, pose: &Pose) -> Solid {
    let half = |x: Length, y: Length, z: Length| [x, y, z].map(|length| length.as_m() / 2.0);
    match shape {
        Shape::Box(shape) => Solid::block(pose, half(shape.length, shape.width, shape.height)),
        Shape::Plate(shape) => Solid::block(pose, half(shape.length, shape.width, shape.thickness)),
        Shape::Cylinder(shape) => {
            let [half_length, radius, _] = half(shape.length, shape.diameter, shape.diameter);
            Solid::round(pose, RoundBody { half_length, radius, bore: None })
        }
        Shape::Tube(shape) => {
            let [half_length, radius, _] = half(shape.length, shape.diameter, shape.diameter);
            let bore = Some(radius - shape.wall.as_m());
            Solid::round(pose, RoundBody { half_length, radius, bore })
        }
    }
}
