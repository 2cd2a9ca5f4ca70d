//! Wind speeds that say over what time they are averaged.

use super::WindError;
use super::error::within;
use tober_quantity::{Quantity, Ratio, Speed};

/// A wind speed averaged over ten minutes.
///
/// What EN 1991-1-4 maps, what EN 13814 calls v_ref, what the Beaufort scale is written in and what
/// most forecasts mean by "wind".
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct MeanSpeed(Speed);

/// A gust: a wind speed averaged over about three seconds.
///
/// What ASCE 7 maps, what a cup anemometer shows as its greatest, and what a ride's own limit usually
/// means. The peak of EN 1991-1-4 is treated as one of these.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct GustSpeed(Speed);

/// No wind on record near the ground, at any averaging time, is above this.
fn speed_greatest() -> Speed {
    Speed::m_s(150.0)
}

impl MeanSpeed {
    /// From a speed averaged over ten minutes.
    ///
    /// # Errors
    /// Refuses a speed that is not a number from 0 to 150 m/s.
    pub fn new(speed: Speed) -> Result<Self, WindError> {
        within("mean wind speed", speed, Speed::ZERO, speed_greatest())?;
        Ok(Self(speed))
    }
    /// The speed, averaged over ten minutes.
    pub fn speed(self) -> Speed {
        self.0
    }
    /// The gust that goes with this mean: v_gust = v_mean · sqrt(1 + 7 I).
    ///
    /// I is the intensity of turbulence at the same place and height, from 0 to 1. EN 1991-1-4
    /// equation 4.8, read as a speed.
    ///
    /// # Errors
    /// As [`gust_factor`], and when the gust would be above 150 m/s.
    pub fn gust(self, turbulence: Ratio) -> Result<GustSpeed, WindError> {
        GustSpeed::new(self.0 * gust_factor(turbulence)?.as_one())
    }
}

impl GustSpeed {
    /// From a speed averaged over about three seconds.
    ///
    /// # Errors
    /// Refuses a speed that is not a number from 0 to 150 m/s.
    pub fn new(speed: Speed) -> Result<Self, WindError> {
        within("gust speed", speed, Speed::ZERO, speed_greatest())?;
        Ok(Self(speed))
    }
    /// The speed, averaged over about three seconds.
    pub fn speed(self) -> Speed {
        self.0
    }
    /// The ten-minute mean in which gusts of this speed come: v_mean = v_gust / sqrt(1 + 7 I).
    ///
    /// # Errors
    /// As [`gust_factor`].
    pub fn mean(self, turbulence: Ratio) -> Result<MeanSpeed, WindError> {
        MeanSpeed::new(self.0 / gust_factor(turbulence)?.as_one())
    }
}

/// Gust over mean at one place: sqrt(1 + 7 I).
///
/// I is the intensity of turbulence, 0 to 1. EN 1991-1-4:2005, equation 4.8: the factor 7 is twice
/// the peak factor of 3.5. Open country at 10 m (I = 0.189) gives 1.52.
///
/// # Errors
/// Refuses an intensity that is not a number from 0 to 1.
///
/// # Not covered
/// Squalls and whirlwinds, whose gusts have nothing to do with the mean before them.
pub fn gust_factor(turbulence: Ratio) -> Result<Ratio, WindError> {
    within("intensity of turbulence", turbulence, Ratio::ZERO, Ratio::one(1.0))?;
    Ok(Ratio::from_si((1.0 + 7.0 * turbulence.as_one()).sqrt()))
}
