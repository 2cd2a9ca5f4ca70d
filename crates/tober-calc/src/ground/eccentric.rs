//! A base whose load is not over its middle.

use super::GroundError;
use super::error::{LOAD_KN, SIDE_M, within};
use super::spread::PlanSize;
use tober_quantity::{Area, Force, Length, Moment, Pressure, Quantity};

/// The part of a base that is centred under its load: B′ = B − 2e on each side.
///
/// Source: FHWA-IF-02-054 (GEC-6), reference GS-22. For soil, which gives way before it pulls.
///
/// # Errors
/// A size out of range, or a load beyond the edge.
pub fn effective_base(
    base: PlanSize,
    off_along: Length,
    off_across: Length,
) -> Result<PlanSize, GroundError> {
    base.check("side of the base")?;
    within("distance out of centre", off_along.as_m(), (-100.0, 100.0), "m")?;
    within("distance out of centre", off_across.as_m(), (-100.0, 100.0), "m")?;
    let along = base.along - off_along.abs() * 2.0;
    let across = base.across - off_across.abs() * 2.0;
    if along <= Length::ZERO || across <= Length::ZERO {
        return Err(GroundError::OffTheBase);
    }
    Ok(PlanSize { along, across })
}

/// The pressure under a rigid base whose load stands out of centre in one direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgePressure {
    /// How far the load stands from the middle.
    pub eccentricity: Length,
    /// How much of the base's length bears.
    pub contact: Length,
    /// Under the edge that the load is nearer to.
    pub greatest: Pressure,
    /// Under the other edge; nothing where the base has lifted.
    pub least: Pressure,
}

impl EdgePressure {
    /// The area that bears, for a base of this width.
    pub fn contact_area(&self, width: Length) -> Area {
        self.contact * width
    }
}

/// The straight-line pressure under a rigid rectangular base, on ground that cannot pull.
///
/// e = M/P. Up to e = L/6: q = (P/BL)(1 ± 6e/L). Beyond, the base lifts at one edge: it bears over
/// 3(L/2 − e) and q = 2P/(3B(L/2 − e)). Length L is in the direction of the moment. Source: textbooks,
/// reference ST-03 and ST-04, checked by WE-22.
///
/// # Errors
/// A value out of range, no load, or a load beyond the edge.
pub fn edge_pressure(
    load: Force,
    moment: Moment,
    length: Length,
    width: Length,
) -> Result<EdgePressure, GroundError> {
    within("load", load.as_kn(), (1e-6, LOAD_KN.1), "kN")?;
    within("moment", moment.as_knm(), (-1e7, 1e7), "kN m")?;
    within("length of the base", length.as_m(), SIDE_M, "m")?;
    within("width of the base", width.as_m(), SIDE_M, "m")?;
    let e_m = (moment.si() / load.si()).abs();
    let half_m = length.as_m() / 2.0;
    if e_m >= half_m {
        return Err(GroundError::OffTheBase);
    }
    let even = load / (length * width);
    let eccentricity = Length::m(e_m);
    let ratio = 6.0 * e_m / length.as_m();
    if ratio <= 1.0 {
        let (greatest, least) = (even * (1.0 + ratio), even * (1.0 - ratio));
        return Ok(EdgePressure { eccentricity, contact: length, greatest, least });
    }
    let contact = Length::m(3.0 * (half_m - e_m));
    let greatest = load / (contact * width) * 2.0;
    Ok(EdgePressure { eccentricity, contact, greatest, least: Pressure::ZERO })
}
