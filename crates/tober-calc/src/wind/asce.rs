//! Velocity pressure by ASCE 7, editions of 2005, 2010 and 2016.

use super::error::within;
use super::{GustSpeed, WindError, WindLevel};
use tober_quantity::{Length, Pressure, Ratio, maths};

/// The editions whose exposure constants are used here. The edition of 2022 changed them (from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum AsceEdition {
    /// ASCE 7-05: its map is at the level of actual wind.
    Of2005,
    /// ASCE 7-10: its maps are at the level of strength.
    Of2010,
    /// ASCE 7-16: its maps are at the level of strength.
    Of2016,
}

impl AsceEdition {
    /// How rare the mapped wind of this edition is.
    pub fn wind_level(self) -> WindLevel {
        match self {
            Self::Of2005 => WindLevel::Actual,
            Self::Of2010 | Self::Of2016 => WindLevel::Strength,
        }
    }
}

/// What the wind blows over before it reaches the ride: ASCE 7-05, 6.5.6.3; 7-10 and 7-16, 26.7.3.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exposure {
    /// Town, suburb, woodland.
    B,
    /// Open country.
    C,
    /// Flat, next to open water.
    D,
}

impl Exposure {
    /// Every exposure, from the town outwards.
    pub const ALL: [Self; 3] = [Self::B, Self::C, Self::D];

    /// The exponent alpha of the profile. ASCE 7-05, Table 6-2.
    /// The power α of the exposure (ASCE 7-05 Table 6-2).
    pub fn power(self) -> f64 {
        match self {
            Self::B => 7.0,
            Self::C => 9.5,
            Self::D => 11.5,
        }
    }
    /// The height zg of the boundary layer. ASCE 7-05, Table 6-2.
    pub fn gradient_height(self) -> Length {
        Length::feet(match self {
            Self::B => 1200.0,
            Self::C => 900.0,
            Self::D => 700.0,
        })
    }
    /// Velocity pressure exposure coefficient Kz = 2.01 (z / zg)^(2 / alpha), z not less than 15 ft.
    ///
    /// ASCE 7-05, Table 6-3 (case 2) and 7-16, Table 26.10-1.
    ///
    /// # Errors
    /// Refuses a height that is not above 0 and up to the gradient height.
    pub fn coefficient(self, height: Length) -> Result<Ratio, WindError> {
        within("height above the ground", height, Length::mm(1.0), self.gradient_height())?;
        let height_used = height.max(Length::feet(15.0));
        Ok(Ratio::one(2.01 * maths::pow(height_used / self.gradient_height(), 2.0 / self.power())))
    }
}

/// Which of the two printed forms of the formula is used. They differ by half a part in a thousand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum VelocityConstant {
    /// q = 0.00256 Kz Kzt Kd V², psf and mph. The larger of the two.
    UsCustomary,
    /// q = 0.613 Kz Kzt Kd V², Pa and m/s.
    Si,
}

/// Where the exposure coefficient Kz comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ExposureAt {
    /// Computed for a height by [`Exposure::coefficient`].
    Height {
        /// What the wind blows over.
        exposure: Exposure,
        /// Height of the face above the ground.
        height: Length,
    },
    /// Read from the printed table, which has two decimals.
    Tabulated(Ratio),
}

/// The question: what is the velocity pressure at a height?
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VelocityPressureInput {
    /// The edition whose map the speed came from.
    pub edition: AsceEdition,
    /// Basic wind speed V: a three-second gust at 33 ft in exposure C.
    pub basic_speed: GustSpeed,
    /// What the wind blows over, and how high the face is.
    pub exposure: ExposureAt,
    /// Topographic factor Kzt: 1 on flat ground.
    pub topographic_factor: Ratio,
    /// Directionality factor Kd: 0.85 for most structures, 0.95 for round towers, and 1 if not known.
    pub directionality_factor: Ratio,
    /// Which printed form is used.
    pub constant: VelocityConstant,
}

/// The constant 0.00256 psf/mph² in kg/m³: 0.00256 · 47.880 258 98 / 0.447 04².
pub(super) const US_CONSTANT_SI: f64 = 0.00256 * 47.880_258_980_335_84 / (0.447_04 * 0.447_04);

/// The answer to [`velocity_pressure`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VelocityPressure {
    /// Exposure coefficient Kz.
    pub exposure_coefficient: Ratio,
    /// Velocity pressure qz: that of the gust.
    pub pressure: Pressure,
    /// How rare the wind behind it is, which decides its load factor.
    pub level: WindLevel,
}

/// Velocity pressure: q = 0.00256 Kz Kzt Kd V² (psf, mph), or 0.613 Kz Kzt Kd V² (Pa, m/s).
///
/// V three-second gust at 33 ft in exposure C; Kz with the floor of 15 ft; Kzt topography; Kd direction.
/// ASCE 7-10 and 7-16, equation 26.10-1 (7-05, equation 6-15), without the importance factor of 2005 and
/// with the ground elevation factor of 2016 at 1, which is never less safe.
///
/// # Errors
/// Refuses a height that is not above 0 and up to the gradient height, a tabulated coefficient outside 0.5 to 2.5, a
/// topographic factor outside 1 to 3 and a directionality factor outside 0.85 to 1.
///
/// # Not covered
/// The edition of 2022; the gust-effect factor G and the force coefficients, which belong to the body.
pub fn velocity_pressure(input: &VelocityPressureInput) -> Result<VelocityPressure, WindError> {
    let exposure_coefficient = match input.exposure {
        ExposureAt::Height { exposure, height } => exposure.coefficient(height)?,
        ExposureAt::Tabulated(coefficient) => {
            within("exposure coefficient", coefficient, Ratio::one(0.5), Ratio::one(2.5))?;
            coefficient
        }
    };
    within("topographic factor", input.topographic_factor, Ratio::one(1.0), Ratio::one(3.0))?;
    within("directionality factor", input.directionality_factor, Ratio::one(0.85), Ratio::one(1.0))?;
    let factors = exposure_coefficient.as_one()
        * input.topographic_factor.as_one()
        * input.directionality_factor.as_one();
    let speed = input.basic_speed.speed();
    let pressure = match input.constant {
        VelocityConstant::UsCustomary => Pressure::psf(0.00256 * factors * speed.as_mph() * speed.as_mph()),
        VelocityConstant::Si => Pressure::pa(0.613 * factors * speed.as_m_s() * speed.as_m_s()),
    };
    Ok(VelocityPressure { exposure_coefficient, pressure, level: input.edition.wind_level() })
}
