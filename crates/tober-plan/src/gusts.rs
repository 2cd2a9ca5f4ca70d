//! From the wind a maker allows to the pressure of its gust at the top of the ride.

use tober_book::{Pitch, Ride, Terrain as OfBook, Visit, WindLimit};
use tober_calc::stability::WindAction;
use tober_calc::wind::{
    GustPressureInput, GustSpeed, MeanSpeed, PeakPressureInput, Terrain, WindLevel, air_density,
    peak_pressure, pressure_at_gust,
};
use tober_quantity::{Length, Pressure, Ratio};

/// A speed averaged over at most this is a gust, and over at least [`MEAN_LEAST_S`] a mean.
const GUST_MOST_S: f64 = 5.0;
const MEAN_LEAST_S: f64 = 300.0;

/// The wind of a limit as an action on the ride, or what is missing for it.
pub(crate) fn action(
    limit: Option<&WindLimit>,
    top: Option<Length>,
    pitch: &Pitch,
) -> Result<WindAction, String> {
    let limit = limit.ok_or("The wind the maker allows.")?;
    let height =
        limit.at_height.ok_or("The height above ground at which the wind limit is meant: `at-height`.")?;
    let top = top.ok_or("How high the ride reaches: the wind areas of its bodies.")?;
    let terrain = pitch.terrain.as_ref().and_then(terrain);
    let pressure = gust_pressure(limit, height, terrain)?;
    // There is more wind higher up than where the limit is read.
    let grown = if height >= top {
        1.0
    } else {
        let terrain = terrain.ok_or(
            "The terrain by EN 1991-1-4, since the ride reaches higher than where its wind limit is read: `[terrain]`.",
        )?;
        exposure(terrain, top)? / exposure(terrain, height)?
    };
    Ok(WindAction { pressure: pressure * grown.max(1.0), level: WindLevel::Actual })
}

fn terrain(of_book: &OfBook) -> Option<Terrain> {
    if of_book.code != "EN 1991-1-4" {
        return None;
    }
    match of_book.category.as_str() {
        "0" => Some(Terrain::Zero),
        "I" => Some(Terrain::One),
        "II" => Some(Terrain::Two),
        "III" => Some(Terrain::Three),
        "IV" => Some(Terrain::Four),
        _ => None,
    }
}

fn profile(terrain: Terrain, height: Length) -> Result<tober_calc::wind::PeakPressure, String> {
    let input = PeakPressureInput {
        basic_speed: MeanSpeed::new(tober_quantity::Speed::m_s(1.0)).map_err(|e| e.to_string())?,
        terrain,
        height,
        orography: Ratio::one(1.0),
        turbulence_factor: Ratio::one(1.0),
        density: air_density(),
    };
    peak_pressure(&input).map_err(|error| error.to_string())
}

fn exposure(terrain: Terrain, height: Length) -> Result<f64, String> {
    Ok(profile(terrain, height)?.exposure.as_one())
}

fn gust_pressure(limit: &WindLimit, height: Length, terrain: Option<Terrain>) -> Result<Pressure, String> {
    let said = |error: tober_calc::wind::WindError| error.to_string();
    let over = limit.averaged_over.as_s();
    let gust = if over <= GUST_MOST_S {
        GustSpeed::new(limit.speed).map_err(said)?
    } else if over >= MEAN_LEAST_S {
        let terrain = terrain.ok_or(
            "The terrain by EN 1991-1-4, since the wind limit is a mean and gusts are stronger: `[terrain]`.",
        )?;
        let turbulence = profile(terrain, height)?.turbulence;
        MeanSpeed::new(limit.speed).and_then(|mean| mean.gust(turbulence)).map_err(said)?
    } else {
        return Err(format!(
            "A wind limit that is a gust (averaged over up to {GUST_MOST_S} s) or a mean (over {} min or more).",
            MEAN_LEAST_S / 60.0
        ));
    };
    pressure_at_gust(&GustPressureInput { gust, density: air_density() }).map_err(said)
}

/// The stricter of the maker's limit and the chief's. The chief's alone is no limit: it may only be stricter (S1).
pub(crate) fn stricter<'a>(
    ride: &'a Ride,
    visit: &'a Visit,
    of: fn(&tober_book::Limits) -> Option<&WindLimit>,
) -> Option<&'a WindLimit> {
    let makers = ride.limits.as_ref().and_then(of)?;
    let chiefs = visit.limits.as_ref().and_then(of);
    // Two limits compare only where they are averaged and read alike; else the maker's stands.
    let alike = |other: &&WindLimit| {
        other.averaged_over == makers.averaged_over && other.at_height == makers.at_height
    };
    match chiefs.filter(alike) {
        Some(chiefs) if chiefs.speed < makers.speed => Some(chiefs),
        _ => Some(makers),
    }
}
