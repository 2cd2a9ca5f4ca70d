//! `tober calc wind-pressure`: from a speed to the pressure of its gust, by a code chosen by name.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::json;
use tober_calc::wind::{
    AsceEdition, Exposure, ExposureAt, GustPressureInput, GustSpeed, MeanSpeed, PeakPressureInput, Terrain,
    VelocityConstant, VelocityPressureInput, air_density, peak_pressure, peak_pressure_working,
    pressure_at_gust, velocity_pressure, velocity_pressure_working,
};
use tober_quantity::{Quantity, Ratio};

#[derive(Clone, Copy)]
enum Rules {
    Eurocode,
    Asce,
    Gust,
}

fn ratio_or(question: &Field<'_>, key: &str, otherwise: f64) -> Read<Ratio> {
    Ok(Ratio::one(question.maybe(key)?.map_or(Ok(otherwise), |f| f.number())?))
}

fn quantity_or<Q: Quantity>(question: &Field<'_>, key: &str, otherwise: Q) -> Read<Q> {
    question.maybe(key)?.map_or(Ok(otherwise), |f| f.quantity())
}

/// Works one question of wind pressure.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    let rules =
        [("EN 1991-1-4", Rules::Eurocode), ("ASCE 7", Rules::Asce), ("gust at the ride", Rules::Gust)];
    match question.get("rules")?.choice(&rules)? {
        Rules::Eurocode => eurocode(question),
        Rules::Asce => asce(question),
        Rules::Gust => gust(question),
    }
}

fn eurocode(question: &Field<'_>) -> Read<Worked> {
    let known = ["rules", "basic_speed", "terrain", "height", "orography", "turbulence_factor", "density"];
    question.only(&known)?;
    let terrains = [
        ("0", Terrain::Zero),
        ("I", Terrain::One),
        ("II", Terrain::Two),
        ("III", Terrain::Three),
        ("IV", Terrain::Four),
    ];
    let refused = |error: tober_calc::wind::WindError| question.error(error.to_string());
    let input = PeakPressureInput {
        basic_speed: MeanSpeed::new(question.get("basic_speed")?.quantity()?).map_err(refused)?,
        terrain: question.get("terrain")?.choice(&terrains)?,
        height: question.get("height")?.quantity()?,
        orography: ratio_or(question, "orography", 1.0)?,
        turbulence_factor: ratio_or(question, "turbulence_factor", 1.0)?,
        density: quantity_or(question, "density", air_density())?,
    };
    let answer = peak_pressure(&input).map_err(refused)?;
    let working = peak_pressure_working(&input).map_err(refused)?;
    let result = json!({
        "peak_pressure_Pa": answer.peak_pressure.as_pa(),
        "basic_pressure_Pa": answer.basic_pressure.as_pa(),
        "mean_speed_m_s": answer.mean_speed.speed().as_m_s(),
        "gust_speed_m_s": answer.gust_speed.speed().as_m_s(),
        "turbulence": answer.turbulence.as_one(),
        "exposure": answer.exposure.as_one(),
        "roughness_factor": answer.roughness_factor.as_one(),
        "terrain_factor": answer.terrain_factor.as_one(),
        "height_used_m": answer.height_used.as_m(),
        "speed_means": "ten-minute mean at 10 m over open country",
    });
    Ok(Worked { result, findings: Vec::new(), working: vec![working] })
}

fn asce(question: &Field<'_>) -> Read<Worked> {
    let known = [
        "rules",
        "edition",
        "basic_speed",
        "exposure",
        "height",
        "exposure_coefficient",
        "topographic_factor",
        "directionality_factor",
        "constant",
    ];
    question.only(&known)?;
    let editions =
        [("2005", AsceEdition::Of2005), ("2010", AsceEdition::Of2010), ("2016", AsceEdition::Of2016)];
    let exposures = [("B", Exposure::B), ("C", Exposure::C), ("D", Exposure::D)];
    let constants = [("us", VelocityConstant::UsCustomary), ("si", VelocityConstant::Si)];
    let refused = |error: tober_calc::wind::WindError| question.error(error.to_string());
    let exposure = match question.maybe("exposure_coefficient")? {
        Some(kz) => ExposureAt::Tabulated(Ratio::one(kz.number()?)),
        None => ExposureAt::Height {
            exposure: question.get("exposure")?.choice(&exposures)?,
            height: question.get("height")?.quantity()?,
        },
    };
    let input = VelocityPressureInput {
        edition: question.get("edition")?.choice(&editions)?,
        basic_speed: GustSpeed::new(question.get("basic_speed")?.quantity()?).map_err(refused)?,
        exposure,
        topographic_factor: ratio_or(question, "topographic_factor", 1.0)?,
        directionality_factor: ratio_or(question, "directionality_factor", 0.85)?,
        constant: question.maybe("constant")?.map_or(Ok(VelocityConstant::Si), |f| f.choice(&constants))?,
    };
    let answer = velocity_pressure(&input).map_err(refused)?;
    let working = velocity_pressure_working(&input).map_err(refused)?;
    let result = json!({
        "velocity_pressure_Pa": answer.pressure.as_pa(),
        "exposure_coefficient": answer.exposure_coefficient.as_one(),
        "speed_means": "three-second gust at 33 ft in exposure C",
    });
    Ok(Worked { result, findings: Vec::new(), working: vec![working] })
}

fn gust(question: &Field<'_>) -> Read<Worked> {
    question.only(&["rules", "gust", "density"])?;
    let refused = |error: tober_calc::wind::WindError| question.error(error.to_string());
    let input = GustPressureInput {
        gust: GustSpeed::new(question.get("gust")?.quantity()?).map_err(refused)?,
        density: quantity_or(question, "density", air_density())?,
    };
    let pressure = pressure_at_gust(&input).map_err(refused)?;
    let result = json!({ "pressure_Pa": pressure.as_pa(), "speed_means": "three-second gust at the ride" });
    Ok(Worked { result, findings: Vec::new(), working: Vec::new() })
}
