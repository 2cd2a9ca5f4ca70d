//! How stiff a stack and the ground under it are, for what each leg carries.

use super::spread::{PlanSize, Spread, Stack};
use tober_quantity::{Quantity, Stiffness, Subgrade};

/// A stiffness between two bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StiffnessBand {
    /// The least.
    pub low: Stiffness,
    /// The greatest.
    pub high: Stiffness,
}

/// The stiffness of a stack under its load, layers in series, or `None` where a layer's is not known or
/// there is no layer.
///
/// k = 1 / Σ h/(E₉₀ A): with A the area at the top of each layer for the low bound and at its underside for the
/// high one; the truth of a spreading load lies between. Bedding of faces that have never been loaded
/// is not in it and is often softer than the wood: it belongs to the gaps. Source: elastic springs in series.
pub fn stack_stiffness(stack: &Stack, spread: &Spread) -> Option<StiffnessBand> {
    if stack.layers.is_empty() {
        return None;
    }
    let softness = |areas: &[PlanSize]| -> Option<f64> {
        stack.layers.iter().zip(areas).try_fold(0.0, |sum, (layer, area)| {
            let across = layer.timber?.stiffness_across()?;
            Some(sum + layer.thickness.as_m() / (across.as_pa() * area.area().as_m2()))
        })
    };
    let low = Stiffness::n_per_m(1.0 / softness(&spread.contacts)?);
    let high = Stiffness::n_per_m(1.0 / softness(&spread.undersides)?);
    Some(StiffnessBand { low, high })
}

/// The stiffness of the ground under a base: subgrade stiffness times area.
pub fn ground_stiffness(subgrade: Subgrade, base: PlanSize) -> Stiffness {
    Stiffness::n_per_m(subgrade.si() * base.area().as_m2())
}
