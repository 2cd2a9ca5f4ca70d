//! Peak velocity pressure by EN 1991-1-4:2005, section 4.

use super::error::within;
use super::pressure::check_density;
use super::{GustSpeed, MeanSpeed, WindError, gust_factor};
use tober_quantity::{Density, Length, Pressure, Quantity, Ratio, Speed, maths};

/// What the wind blows over before it reaches the ride: EN 1991-1-4:2005, Table 4.1.
///
/// The figures of categories I and III were read in worked sheets; those of 0, II and IV are from memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Terrain {
    /// Category 0: sea, or a coast open to it.
    Zero,
    /// Category I: lakes, or flat land with nothing on it.
    One,
    /// Category II: grass, with single trees or houses at least twenty heights apart.
    Two,
    /// Category III: villages, suburbs, woods.
    Three,
    /// Category IV: town, at least 15 % built over to more than 15 m on average.
    Four,
}

impl Terrain {
    /// Every category, from the sea inwards.
    pub const ALL: [Self; 5] = [Self::Zero, Self::One, Self::Two, Self::Three, Self::Four];

    /// Roughness length z0.
    pub fn roughness_length(self) -> Length {
        Length::m(match self {
            Self::Zero => 0.003,
            Self::One => 0.01,
            Self::Two => 0.05,
            Self::Three => 0.3,
            Self::Four => 1.0,
        })
    }
    /// The height z_min below which the wind is taken as at it.
    pub fn height_least(self) -> Length {
        Length::m(match self {
            Self::Zero | Self::One => 1.0,
            Self::Two => 2.0,
            Self::Three => 5.0,
            Self::Four => 10.0,
        })
    }
    /// Terrain factor kr = 0.19 (z0 / 0.05 m)^0.07. EN 1991-1-4:2005, equation 4.5.
    pub fn factor(self) -> Ratio {
        Ratio::one(0.19 * maths::pow(self.roughness_length().as_m() / 0.05, 0.07))
    }
}

/// The question: what is the peak velocity pressure at a height?
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PeakPressureInput {
    /// Basic wind speed vb: the ten-minute mean at 10 m over open country, with season and direction in it.
    pub basic_speed: MeanSpeed,
    /// What the wind blows over.
    pub terrain: Terrain,
    /// Height of the top of the face above the ground.
    pub height: Length,
    /// Orography factor co: 1 on flat ground, more on a hill or a cliff top.
    pub orography: Ratio,
    /// Turbulence factor kI: 1 is recommended.
    pub turbulence_factor: Ratio,
    /// Density of the air: see [`super::air_density`].
    pub density: Density,
}

/// The answer to [`peak_pressure`], with every figure on the way to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PeakPressure {
    /// The height used: not less than the terrain's z_min.
    pub height_used: Length,
    /// Terrain factor kr.
    pub terrain_factor: Ratio,
    /// Roughness factor cr.
    pub roughness_factor: Ratio,
    /// Mean speed vm at the height: a ten-minute mean.
    pub mean_speed: MeanSpeed,
    /// Intensity of turbulence Iv.
    pub turbulence: Ratio,
    /// Basic pressure qb = rho vb² / 2.
    pub basic_pressure: Pressure,
    /// Peak velocity pressure qp: that of the gust.
    pub peak_pressure: Pressure,
    /// Exposure factor ce = qp / qb.
    pub exposure: Ratio,
    /// The gust whose pressure qp is: vm sqrt(1 + 7 Iv).
    pub gust_speed: GustSpeed,
}

/// Peak velocity pressure: qp = (1 + 7 Iv) · rho vm² / 2.
///
/// With vm = cr co vb, cr = kr ln(z/z0), Iv = kI / (co ln(z/z0)); z height (m), z0 roughness length (m),
/// vb ten-minute mean (m/s), rho density (kg/m³), qp (Pa). Holds up to 200 m. EN 1991-1-4:2005, 4.3 to 4.5,
/// equations 4.3 to 4.10, with the recommended values where a national annex may differ.
///
/// # Errors
/// Refuses a height outside 0 to 200 m (above 0), an orography factor outside 1 to 2, a turbulence factor
/// outside 0.5 to 1.5, a density outside 0.8 to 1.5 kg/m³ and a gust above 150 m/s.
///
/// # Not covered
/// Finding the orography factor of a hill, tall neighbours (annex A.4), and national annexes.
pub fn peak_pressure(input: &PeakPressureInput) -> Result<PeakPressure, WindError> {
    within("height above the ground", input.height, Length::mm(1.0), Length::m(200.0))?;
    within("orography factor", input.orography, Ratio::one(1.0), Ratio::one(2.0))?;
    within("turbulence factor", input.turbulence_factor, Ratio::one(0.5), Ratio::one(1.5))?;
    check_density(input.density)?;

    let height_used = input.height.max(input.terrain.height_least());
    let log_height = maths::ln(height_used / input.terrain.roughness_length());
    let terrain_factor = input.terrain.factor();
    let roughness_factor = Ratio::one(terrain_factor.as_one() * log_height);
    let orography = input.orography.as_one();

    let basic_m_s = input.basic_speed.speed().as_m_s();
    let mean_speed = MeanSpeed::new(Speed::m_s(roughness_factor.as_one() * orography * basic_m_s))?;
    let turbulence = Ratio::one(input.turbulence_factor.as_one() / (orography * log_height));

    let half_density = 0.5 * input.density.as_kg_m3();
    let mean_m_s = mean_speed.speed().as_m_s();
    let basic_pressure = Pressure::pa(half_density * basic_m_s * basic_m_s);
    let gust_squared = 1.0 + 7.0 * turbulence.as_one();
    let peak_pressure = Pressure::pa(gust_squared * half_density * mean_m_s * mean_m_s);
    let profile = roughness_factor.as_one() * orography;
    Ok(PeakPressure {
        height_used,
        terrain_factor,
        roughness_factor,
        mean_speed,
        turbulence,
        basic_pressure,
        peak_pressure,
        // Not the quotient of the pressures, which is undefined in still air.
        exposure: Ratio::one(gust_squared * profile * profile),
        gust_speed: GustSpeed::new(Speed::from_si(mean_m_s * gust_factor(turbulence)?.as_one()))?,
    })
}
