//! What a winch pulls on the layers of its drum.

use super::LiftError;
use super::error::within;
use tober_quantity::{Force, Length};

/// A drum and its rope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drum {
    /// The bare drum.
    pub drum: Length,
    /// The rope, across.
    pub rope: Length,
    /// The layer from which the rope leaves: 1 is on the bare drum.
    pub layer: u32,
}

impl Drum {
    pub(super) fn check(&self) -> Result<(), LiftError> {
        within("winch.drum_m", "diameter of the drum in metres", self.drum.as_m(), 0.01, 2.0)?;
        within("winch.rope_m", "diameter of the rope in metres", self.rope.as_m(), 0.001, 0.06)?;
        within("winch.layer", "layer of rope", f64::from(self.layer), 1.0, 20.0)
    }
}

/// What a winch pulls that is rated for the first layer: `F_n = F_1 (D + d) / (D + (2 n - 1) d)`.
///
/// `D` diameter of the drum, `d` of the rope, `n` the layer; the same turning moment at every layer, each layer a
/// whole rope's diameter above the last. Mechanics; common practice says 10 to 15 % a layer, no source.
///
/// # Errors
/// Refuses a drum outside 10 mm to 2 m, a rope outside 1 to 60 mm, a layer outside 1 to 20, a negative pull.
pub fn pull_on_layer(first: Force, on: &Drum) -> Result<Force, LiftError> {
    within("winch.rated_N", "pull that the winch is rated for in newtons", first.as_n(), 0.0, 1e7)?;
    on.check()?;
    let turned = on.drum + on.rope * (2.0 * f64::from(on.layer) - 1.0);
    Ok(first * ((on.drum + on.rope) / turned))
}
