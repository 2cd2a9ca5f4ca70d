//! How a body gets from one place to another: turned about one line and moved along it.

use crate::solid::{Pose, Space, cross, dot, plus, unit};
use tober_quantity::maths;

/// A turn about a line with a slide. Every move of a stiff body can be told so (Chasles).
#[derive(Clone, Copy, Debug)]
pub(crate) struct Screw {
    axis: Space,
    through: Space,
    /// Radians, from 0 to π.
    pub turn: f64,
    slide: Space,
    /// Whether points are given where they were, or where they come to.
    from_old: bool,
}

/// Under this turn, in radians, a move counts as straight.
const STRAIGHT: f64 = 0.02;

impl Screw {
    /// From one pose to another.
    pub(crate) fn between(was: &Pose, is: &Pose) -> Self {
        // The turn R takes each old axis to the new one: R = sum over axes of new ⊗ old.
        let turned = |v: Space| (0..3).fold([0.0; 3], |sum, n| plus(sum, is.axes[n], dot(was.axes[n], v)));
        let unit_axes = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        let columns = unit_axes.map(turned);
        let trace = columns[0][0] + columns[1][1] + columns[2][2];
        let turn = maths::acos(((trace - 1.0) / 2.0).clamp(-1.0, 1.0));
        let way = plus(is.at, was.at, -1.0);
        let straight =
            Self { axis: [0.0, 0.0, 1.0], through: was.at, turn: 0.0, slide: way, from_old: false };
        if turn < STRAIGHT {
            return straight;
        }
        let odd =
            [columns[1][2] - columns[2][1], columns[2][0] - columns[0][2], columns[0][1] - columns[1][0]];
        // Half a turn has no odd part: its axis is the longest column of R + 1.
        let even = (0..3)
            .map(|n| plus(columns[n], unit_axes[n], 1.0))
            .max_by(|a, b| dot(*a, *a).total_cmp(&dot(*b, *b)))
            .unwrap_or([0.0, 0.0, 1.0]);
        let axis = unit(odd).filter(|_| dot(odd, odd) > 1e-6).or_else(|| unit(even));
        let Some(axis) = axis else { return straight };
        let slide = [0, 1, 2].map(|n| axis[n] * dot(axis, way));
        let across = plus(way, slide, -1.0);
        let middle = plus(was.at, across, 0.5);
        let through = plus(middle, cross(axis, across), 0.5 / maths::tan(turn / 2.0));
        Self { axis, through, turn, slide, from_old: false }
    }

    /// The same, for points given where they were.
    pub(crate) fn told_of_old(self) -> Self {
        Self { from_old: true, ..self }
    }

    /// Where a point of the body, given in the place it is drawn in, is at a share of the way from 0 for the old place to 1
    /// for the new.
    pub(crate) fn at(&self, drawn: Space, share: f64) -> Space {
        let share = if self.from_old { share } else { share - 1.0 };
        let angle = self.turn * share;
        let (sin, cos) = (maths::sin(angle), maths::cos(angle));
        let arm = plus(drawn, self.through, -1.0);
        let along = [0, 1, 2].map(|n| self.axis[n] * dot(self.axis, arm));
        let flat = plus(arm, along, -1.0);
        let turned = plus([0, 1, 2].map(|n| flat[n] * cos), cross(self.axis, flat), sin);
        // The slide is not turned; where there is no turn it is the whole way.
        plus(plus(plus(self.through, along, 1.0), turned, 1.0), self.slide, share)
    }

    /// Where a point of the body in its old place comes to.
    pub(crate) fn forth(&self, old: Space) -> Space {
        self.told_of_old().at(old, 1.0)
    }

    /// How far a point of the body goes, in metres.
    pub(crate) fn way(&self, drawn: Space) -> f64 {
        let from = plus(self.at(drawn, 0.0), self.at(drawn, 1.0), -1.0);
        dot(from, from).sqrt().max(self.turn * self.arm(drawn))
    }

    fn arm(&self, new: Space) -> f64 {
        let arm = plus(new, self.through, -1.0);
        let along = dot(self.axis, arm);
        if self.turn > 0.0 { (dot(arm, arm) - along * along).max(0.0).sqrt() } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tober_quantity::Angle;

    /// A move told as a screw ends where it must: the old place of the new middle and of the new ends.
    #[test]
    fn law_a_screw_joins_both_places() {
        let deg = Angle::deg;
        let poses = [
            Pose::level([0.0, 0.0, 0.0]),
            Pose::turned([1.0, 2.0, 3.0], deg(90.0), deg(0.0), deg(0.0)),
            Pose::turned([4.0, 0.5, 2.1], deg(0.0), deg(90.0), deg(0.0)),
            Pose::turned([4.5, 2.6, 1.5], deg(90.0), deg(0.0), deg(0.0)),
            Pose::turned([-1.0, 0.3, 0.2], deg(180.0), deg(0.0), deg(0.0)),
            Pose::turned([2.0, 0.3, 0.2], deg(30.0), deg(-40.0), deg(170.0)),
        ];
        for was in &poses {
            for is in &poses {
                let screw = Screw::between(was, is);
                for own in [[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.3, -0.7, 1.1]] {
                    let (old, new) = (was.point(own), is.point(own));
                    let found = screw.at(new, 0.0);
                    let off = plus(found, old, -1.0);
                    assert!(dot(off, off).sqrt() < 1e-6, "{was:?} {is:?} {own:?}: {found:?} for {old:?}");
                    let on = plus(screw.forth(old), new, -1.0);
                    assert!(dot(on, on).sqrt() < 1e-6, "{was:?} {is:?} {own:?}: forth");
                    let stays = plus(screw.at(new, 1.0), new, -1.0);
                    assert!(dot(stays, stays).sqrt() < 1e-9);
                }
            }
        }
    }
}
