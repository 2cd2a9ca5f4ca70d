//! Wind: from a speed somebody measured, forecast or looked up to the pressure on the ride.
//!
//! Two ways from a mapped speed to a pressure, chosen by the visit and never mixed: EN 1991-1-4
//! ([`peak_pressure`]) and ASCE 7 ([`velocity_pressure`]); and the plain one from a gust that was
//! measured at the ride ([`pressure_at_gust`]), which is what a maker's "out of service above" means.
//!
//! A wind speed says nothing until it says over what time it is averaged. A ten-minute mean of
//! 15 m/s in open country holds gusts of 23 m/s, with more than twice the pressure. So the two are
//! two types here, [`MeanSpeed`] and [`GustSpeed`], and only a stated turbulence turns one into the other.

mod asce;
mod beaufort;
mod error;
mod eurocode;
mod pressure;
mod shown;
mod speed;

pub use asce::{
    AsceEdition, Exposure, ExposureAt, VelocityConstant, VelocityPressure, VelocityPressureInput,
    velocity_pressure,
};
pub use beaufort::{BEAUFORT, BeaufortClass, beaufort_class, beaufort_mean};
pub use error::WindError;
pub use eurocode::{PeakPressure, PeakPressureInput, Terrain, peak_pressure};
pub use pressure::{GustPressureInput, WindForceInput, WindLevel, air_density, pressure_at_gust, wind_force};
pub use shown::{peak_pressure_working, velocity_pressure_working};
pub use speed::{GustSpeed, MeanSpeed, gust_factor};

#[cfg(test)]
mod tests;
