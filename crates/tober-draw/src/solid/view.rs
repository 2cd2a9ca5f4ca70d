//! From where the bodies are seen.

use super::{Space, dot};
use tober_quantity::{Angle, maths};

/// A view from far away: parallel lines stay parallel, and lengths along one direction keep one scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// To the right on the sheet.
    pub right: Space,
    /// Up on the sheet.
    pub up: Space,
    /// Towards the eye.
    pub eye: Space,
}

impl View {
    /// Seen from a direction, counted from the front towards the left, and so far from above.
    pub fn from(direction: Angle, down: Angle) -> Self {
        let (sin, cos) = (maths::sin(direction.as_rad()), maths::cos(direction.as_rad()));
        let (high, level) = (maths::sin(down.as_rad()), maths::cos(down.as_rad()));
        Self {
            right: [-sin, cos, 0.0],
            up: [-high * cos, -high * sin, level],
            eye: [level * cos, level * sin, high],
        }
    }

    /// Seen from above, the front to the right.
    pub fn plan() -> Self {
        Self { right: [1.0, 0.0, 0.0], up: [0.0, 1.0, 0.0], eye: [0.0, 0.0, 1.0] }
    }

    /// Seen from the right-hand side, the front to the right.
    pub fn side() -> Self {
        Self { right: [1.0, 0.0, 0.0], up: [0.0, 0.0, 1.0], eye: [0.0, -1.0, 0.0] }
    }

    /// A point on the sheet, in metres, to the right and up.
    pub fn flat(&self, point: Space) -> [f64; 2] {
        [dot(self.right, point), dot(self.up, point)]
    }
}
