//! Heights from a hose of water: the water line is level, and the ground is so far below it.

use super::net::{Equation, Net};
use super::{
    Covariance, Method, Place, PointHeight, ReadingName, Survey, SurveyError, deviation_of, placed, within,
};
use std::collections::{BTreeMap, BTreeSet};
use tober_quantity::{Length, Ratio};

/// The most water lines and points that are worked out together.
const UNKNOWNS_MOST: usize = 400;
/// The most readings.
const READINGS_MOST: usize = 4000;

/// One reading: from the water line down to the ground.
#[derive(Clone, Debug, PartialEq)]
pub struct WaterReading {
    /// The point. Read again at the end, it stands here twice, and checks that the hose lost no water.
    pub point: String,
    /// Which water line: another name when the hose was filled again or stood at another height.
    pub line: String,
    /// From the water line down to the ground.
    pub down: Length,
}

/// A survey with a hose of water.
#[derive(Clone, Debug, PartialEq)]
pub struct WaterSurvey {
    /// One standard deviation of one reading, with how far the water stands off level in a still hose.
    pub deviation: Length,
    /// The readings, in the order they were made.
    pub readings: Vec<WaterReading>,
    /// Where points are on the plan, for those that are there.
    pub places: BTreeMap<String, Place>,
}

/// Heights of the ground above the first water line, by least squares over every line at once.
///
/// r = L − H + v: L is the height of the water line and nought for the first, H that of the ground. A point read
/// from two lines ties them. Heights are below zero, and their deviation is against the first water line, so that
/// legs read from one line are known alike. Valid for a hose without air in it. Source: water finds its level;
/// least squares by its normal equations.
///
/// # Errors
/// No readings, one that is not a number or is not from 0 to 10 m, a line that no point ties to the first.
///
/// # Not covered
/// Air in the hose, or one end of it in the sun: both shift one end by centimetres, and a reading that is made
/// twice in the same way does not show it. Water that is lost between two readings shows only in one point read again.
pub fn water_level(survey: &WaterSurvey) -> Result<Survey, SurveyError> {
    deviation_of(survey.deviation, "deviation of a reading", "the hose")?;
    for reading in &survey.readings {
        within(reading.down, Length::ZERO, Length::m(10.0), "reading from the water line", &reading.point)?;
    }
    for (name, place) in &survey.places {
        placed(*place, name)?;
    }
    let first = survey.readings.first().ok_or(SurveyError::NoReadings)?.line.as_str();
    let count = survey.readings.len();
    if count > READINGS_MOST {
        return Err(SurveyError::TooMany { what: "readings", count, most: READINGS_MOST });
    }
    refuse_untied(survey, first)?;
    let lines: BTreeSet<&str> =
        survey.readings.iter().map(|r| r.line.as_str()).filter(|l| *l != first).collect();
    let points: BTreeSet<&str> = survey.readings.iter().map(|r| r.point.as_str()).collect();
    let unknowns = lines.len() + points.len();
    if unknowns > UNKNOWNS_MOST {
        return Err(SurveyError::TooMany {
            what: "water lines and points",
            count: unknowns,
            most: UNKNOWNS_MOST,
        });
    }
    let line_at: BTreeMap<&str, usize> = lines.into_iter().zip(0..).collect();
    let point_at: BTreeMap<&str, usize> = points.into_iter().zip(line_at.len()..).collect();
    let equation = |(row, reading): (usize, &WaterReading)| {
        let line = line_at.get(reading.line.as_str()).map(|&column| (column, 1.0));
        let point = point_at.get(reading.point.as_str()).map(|&column| (column, -1.0));
        let name = ReadingName { set_up: reading.line.clone(), point: reading.point.clone(), row: row + 1 };
        Equation {
            name,
            terms: line.into_iter().chain(point).collect(),
            observed: reading.down.as_m(),
            deviation: survey.deviation.as_m(),
            prior: false,
        }
    };
    let net = Net { equations: survey.readings.iter().enumerate().map(equation).collect(), unknowns };
    let adjusted = net.adjust().ok_or(SurveyError::NoReadings)?;
    let scale = adjusted.scale();
    let columns: Vec<Option<usize>> = point_at.values().map(|&column| Some(column)).collect();
    let covariance: Covariance = adjusted.covariance(&columns);
    let height = |(name, column): (&&str, &usize)| PointHeight {
        name: (*name).to_owned(),
        place: survey.places.get(*name).copied(),
        height: Length::m(adjusted.solution[*column]),
        deviation: Length::m(adjusted.deviation(*column) * scale),
        checked: adjusted.checked(*column),
    };
    Ok(Survey {
        heights: point_at.iter().map(height).collect(),
        residuals: adjusted.told(),
        freedom: adjusted.freedom,
        spread: adjusted.spread.map(Ratio::one),
        deviations_scaled_by: Ratio::one(scale),
        suspects: adjusted.worst().into_iter().collect(),
        unchecked: adjusted.unchecked(),
        closure: None,
        method: Method::WaterLevel,
        covariance,
        plane: Vec::new(),
    })
}

/// Refuses points of lines that no chain of shared points ties to the first.
fn refuse_untied(survey: &WaterSurvey, first: &str) -> Result<(), SurveyError> {
    let (mut lines, mut points) = (BTreeSet::from([first]), BTreeSet::new());
    loop {
        let before = (lines.len(), points.len());
        for reading in &survey.readings {
            if lines.contains(reading.line.as_str()) {
                points.insert(reading.point.as_str());
            } else if points.contains(reading.point.as_str()) {
                lines.insert(reading.line.as_str());
            }
        }
        if (lines.len(), points.len()) == before {
            break;
        }
    }
    let untied: BTreeSet<String> = survey
        .readings
        .iter()
        .filter(|r| !lines.contains(r.line.as_str()))
        .map(|r| r.point.clone())
        .collect();
    if untied.is_empty() {
        return Ok(());
    }
    Err(SurveyError::NotConnected { points: untied.into_iter().collect() })
}

#[cfg(test)]
#[path = "water_tests.rs"]
mod tests;
