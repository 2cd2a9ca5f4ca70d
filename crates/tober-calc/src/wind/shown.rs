//! The working of a velocity pressure.

use super::{ExposureAt, PeakPressureInput, VelocityConstant, VelocityPressureInput, WindError};
use crate::working::{Provenance, Working, greatest, number};
use tober_quantity::{Length, Quantity, Shown};

fn given() -> Provenance {
    Provenance::chosen("as given in the question")
}

/// The lines of [`super::peak_pressure`], EN 1991-1-4:2005, 4.3 to 4.5.
///
/// # Errors
/// As [`super::peak_pressure`].
pub fn peak_pressure_working(input: &PeakPressureInput) -> Result<Working, WindError> {
    super::peak_pressure(input)?;
    let code = || Provenance::tabulated("EN 1991-1-4:2005, Table 4.1");
    let coarse = |length: Length| length.amount().shown(Shown::Coarse);
    let mut w = Working::new();
    let basic = w.given("vb", "basic wind speed, ten-minute mean", input.basic_speed.speed(), given());
    let height = w.given("z", "height above the ground", coarse(input.height), given());
    let least = w.given("zmin", "least height of the terrain", coarse(input.terrain.height_least()), code());
    let rough = input.terrain.roughness_length().amount().shown(Shown::Finest);
    let z0 = w.given("z0", "roughness length of the terrain", rough, code());
    let open = w.given(
        "z0II",
        "roughness length of terrain II",
        Length::mm(50.0).amount().shown(Shown::Finest),
        code(),
    );
    let co = w.given("co", "orography factor", input.orography, given());
    let ki = w.given("kI", "turbulence factor", input.turbulence_factor, given());
    let rho = w.given("ρ", "density of the air", input.density, given());
    let kr = w.line("kr", "terrain factor", number(0.19) * (z0.clone() / open).power(0.07), Shown::Ratio);
    let used = w.line("ze", "height used", greatest(vec![height, least]), Shown::Coarse);
    let log = w.line("l", "logarithm of height over roughness", (used / z0).ln(), Shown::Ratio);
    let cr = w.line("cr", "roughness factor", kr * log.clone(), Shown::Ratio);
    let vm = w.line("vm", "mean wind speed at the height", cr * co.clone() * basic, Shown::Speed);
    let iv = w.line("Iv", "intensity of turbulence", ki / (co * log), Shown::Ratio);
    let gust = number(1.0) + number(7.0) * iv;
    w.line("qp", "peak velocity pressure", gust * number(0.5) * rho * vm.squared(), Shown::Pressure);
    Ok(w)
}

/// The lines of [`super::velocity_pressure`], ASCE 7 eq. 26.10-1 and its Table 26.10-1.
///
/// # Errors
/// As [`super::velocity_pressure`].
pub fn velocity_pressure_working(input: &VelocityPressureInput) -> Result<Working, WindError> {
    let answer = super::velocity_pressure(input)?;
    let mut w = Working::new();
    let speed = w.given("V", "basic wind speed, three-second gust", input.basic_speed.speed(), given());
    let kz = match input.exposure {
        ExposureAt::Tabulated(kz) => w.given("Kz", "exposure coefficient, from the table", kz, given()),
        ExposureAt::Height { exposure, height } => {
            let feet = |length: Length| length.amount().shown(Shown::Coarse);
            let code = || Provenance::tabulated("ASCE 7-05 Table 6-2");
            let z = w.given("z", "height above the ground", feet(height), given());
            let low = w.given("z15", "least height, 15 ft", feet(Length::feet(15.0)), code());
            let zg =
                w.given("zg", "gradient height of the exposure", feet(exposure.gradient_height()), code());
            let alpha =
                w.given("α", "power of the exposure", tober_quantity::Ratio::one(exposure.power()), code());
            let used = w.line("ze", "height used", greatest(vec![z, low]), Shown::Coarse);
            let exponent = 2.0 / alpha.value();
            w.line("n", "exponent", number(2.0) / alpha, Shown::Ratio);
            w.line("Kz", "exposure coefficient", number(2.01) * (used / zg).power(exponent), Shown::Ratio)
        }
    };
    let kzt = w.given("Kzt", "topographic factor", input.topographic_factor, given());
    let kd = w.given("Kd", "directionality factor", input.directionality_factor, given());
    let constant = match input.constant {
        VelocityConstant::Si => 0.613,
        VelocityConstant::UsCustomary => super::asce::US_CONSTANT_SI,
    };
    let density = tober_quantity::Density::kg_m3(constant);
    let half = w.given("c", "half the density of the air in the formula's constant", density, given());
    let q = w.line("qz", "velocity pressure", half * kz * kzt * kd * speed.squared(), Shown::Pressure);
    debug_assert!((q.value() - answer.pressure.as_pa()).abs() <= 1e-6 * answer.pressure.as_pa().abs());
    Ok(w)
}
