//! The pressure of a known gust, and the force of a pressure on a body.

use super::error::within;
use super::{GustSpeed, WindError};
use tober_quantity::{Area, Density, Force, Pressure, Quantity, Ratio};

/// How rare the wind behind a pressure is, which decides what factor belongs to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WindLevel {
    /// The wind as it is: a gust limit that is kept, or a speed mapped for 50 years. A factor is still to come.
    Actual,
    /// A speed mapped so rare that its factor for strength is 1.0 already (ASCE 7 from 2010 on).
    Strength,
}

/// The density of air recommended by EN 1991-1-4:2005, 4.5 (1), note 2: 1.25 kg/m³.
pub fn air_density() -> Density {
    Density::kg_m3(1.25)
}

pub(super) fn check_density(density: Density) -> Result<(), WindError> {
    within("density of the air", density, Density::kg_m3(0.8), Density::kg_m3(1.5))
}

/// The question: what pressure has a gust that blows at the ride?
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GustPressureInput {
    /// The gust, averaged over about three seconds, at the height of the face it blows on.
    pub gust: GustSpeed,
    /// Density of the air: see [`air_density`].
    pub density: Density,
}

/// The pressure of a gust: q = rho v² / 2.
///
/// q pressure (Pa), rho density of the air (kg/m³), v the gust (m/s). What a ride's own "out of
/// service above this gust" comes to. EN 1991-1-4:2005, equation 4.10, with the gust in place of the mean.
///
/// # Errors
/// Refuses a density that is not from 0.8 to 1.5 kg/m³.
///
/// # Not covered
/// The growth of the gust with height: a gust read at head height is larger at the top of the ride.
pub fn pressure_at_gust(input: &GustPressureInput) -> Result<Pressure, WindError> {
    check_density(input.density)?;
    let speed_m_s = input.gust.speed().as_m_s();
    Ok(Pressure::pa(0.5 * input.density.as_kg_m3() * speed_m_s * speed_m_s))
}

/// The question: what force has a pressure on a body?
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindForceInput {
    /// Pressure of the wind at the body.
    pub pressure: Pressure,
    /// Force coefficient of the body, with its sign for lift.
    pub force_coefficient: Ratio,
    /// Area that the coefficient refers to.
    pub area: Area,
}

/// The force of the wind on a body: F = q · cf · A.
///
/// q pressure (Pa), cf force coefficient, A reference area (m²). EN 1991-1-4:2005, equation 5.3 with
/// the structural factor cscd at 1, which holds for what is stiff and lower than 15 m.
///
/// # Errors
/// Refuses a pressure outside 0 to 20 kPa, a coefficient outside -5 to 5, an area outside 0 to 10,000 m².
pub fn wind_force(input: &WindForceInput) -> Result<Force, WindError> {
    within("wind pressure", input.pressure, Pressure::ZERO, Pressure::kpa(20.0))?;
    within("force coefficient", input.force_coefficient, Ratio::one(-5.0), Ratio::one(5.0))?;
    within("area in the wind", input.area, Area::ZERO, Area::m2(1e4))?;
    Ok(Force::from_si(input.pressure.as_pa() * input.force_coefficient.as_one() * input.area.as_m2()))
}
