//! Heights from a staff, by least squares over every set-up at once.

use super::closure::run_of;
use super::net::{Adjusted, Equation, Net};
use super::{
    Method, Place, PointHeight, ReadingName, Survey, SurveyError, curvature_and_refraction, deviation_of,
    placed, within,
};
use std::collections::{BTreeMap, BTreeSet};
use tober_quantity::{Length, Ratio, Slope};

/// The most set-up heights and point heights that are worked out together.
const UNKNOWNS_MOST: usize = 400;
/// The most readings that are worked out together.
const READINGS_MOST: usize = 4000;

/// How a reading is booked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sight {
    /// The first of a set-up, on a point whose height is carried on.
    Back,
    /// Any between.
    Intermediate,
    /// The last of a set-up.
    Fore,
}

/// One reading of the staff.
#[derive(Clone, Debug, PartialEq)]
pub struct StaffReading {
    /// The point the staff stands on.
    pub point: String,
    /// How it is booked. The adjustment treats all alike; a run is told by it.
    pub sight: Sight,
    /// What the staff reads, up from its foot; below zero when it hangs upside down from the point.
    pub staff: Length,
    /// From the instrument to the staff, where measured.
    pub distance: Option<Length>,
}

/// One standing of the instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUp {
    /// Its name.
    pub name: String,
    /// What was read from it.
    pub readings: Vec<StaffReading>,
}

/// How well the instrument reads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instrument {
    /// One standard deviation of one reading of the staff, close by.
    pub reading: Length,
    /// One standard deviation of how far its line of sight is from level.
    pub line_of_sight: Slope,
    /// No sight is longer than this. A sight that was not measured counts as this long.
    pub sight_longest: Length,
}

impl Instrument {
    /// One standard deviation of one reading at a distance: √(a² + (c d)²).
    fn deviation(&self, distance: Option<Length>) -> Length {
        let sloped_m = self.line_of_sight.as_ratio() * distance.unwrap_or(self.sight_longest).as_m();
        Length::m((self.reading.as_m() * self.reading.as_m() + sloped_m * sloped_m).sqrt())
    }
}

/// A point whose height is taken as known.
#[derive(Clone, Debug, PartialEq)]
pub struct FixedPoint {
    /// The point.
    pub name: String,
    /// Its height. It carries no deviation: what it is off by shifts everything alike.
    pub height: Length,
}

/// A survey with a level or a rotating laser and a staff.
#[derive(Clone, Debug, PartialEq)]
pub struct StaffSurvey {
    /// The instrument.
    pub instrument: Instrument,
    /// The known points: one at least, the datum; with two or more the survey can close on them.
    pub fixed: Vec<FixedPoint>,
    /// The set-ups, in the order they were made.
    pub set_ups: Vec<SetUp>,
    /// Where points are on the plan, for those that are there.
    pub places: BTreeMap<String, Place>,
}

/// Heights by weighted least squares, their deviations, and the readings that do not fit or are not checked.
///
/// Unknowns are the height H of each point that is not fixed and the height I of each set-up. Every
/// reading s states s = I − H + v; the sum of (v/σ)² is least. With N the normal matrix, the deviation of
/// a height is the root of its entry of N⁻¹ times the scale of [`Survey::deviations_scaled_by`]; with
/// aᵢ the row of reading i, its redundancy is rᵢ = 1 − aᵢᵀN⁻¹aᵢ/σᵢ² and its standardised residual
/// vᵢ/(σᵢ√rᵢ), on the deviations the instrument is said to have. Readings are first freed of
/// curvature and refraction where their distance is known. Valid for sights up to 100 m and at most 400
/// unknowns. Source: least squares by its normal equations; testing by standardised residuals (from memory).
///
/// # Errors
/// Any number that is not one or is off the staff; no datum; a name used twice; points that no chain of
/// readings ties to the datum; more readings or unknowns than above.
///
/// # Not covered
/// Heights of fixed points that are themselves uncertain; two large blunders that hide each other.
pub fn staff(survey: &StaffSurvey) -> Result<Survey, SurveyError> {
    check(survey)?;
    let used: Vec<&SetUp> = survey.set_ups.iter().filter(|s| !s.readings.is_empty()).collect();
    let columns = Columns::of(&used, &survey.fixed)?;
    let mut equations = Vec::new();
    for (at, set_up) in used.iter().enumerate() {
        for (row, reading) in set_up.readings.iter().enumerate() {
            let deviation = survey.instrument.deviation(reading.distance);
            equations.push(columns.equation((at, &set_up.name), row + 1, reading, deviation));
        }
    }
    let net = Net { equations, unknowns: columns.next };
    let adjusted = net.adjust().ok_or_else(|| columns.not_tied())?;
    Ok(columns.report(survey, &adjusted, Method::Staff))
}

/// Everything that can be refused before a sum is done.
pub(super) fn check(survey: &StaffSurvey) -> Result<(), SurveyError> {
    let instrument = &survey.instrument;
    deviation_of(instrument.reading, "deviation of a reading", "the instrument")?;
    within(instrument.sight_longest, Length::m(1.0), Length::m(100.0), "longest sight", "the instrument")?;
    let slope = instrument.line_of_sight;
    if !slope.as_ratio().is_finite() {
        return Err(SurveyError::NotANumber {
            what: "line of sight's deviation",
            at: "the instrument".into(),
        });
    }
    if !(0.0..=10.0).contains(&slope.as_mm_per_m()) {
        let mm_per_m = slope.as_mm_per_m();
        let what = "line of sight's deviation";
        return Err(SurveyError::Slope { what, axis: "level", mm_per_m, most_mm_per_m: 10.0 });
    }
    let mut names = BTreeSet::new();
    for fixed in &survey.fixed {
        within(fixed.height, Length::m(-1e4), Length::m(1e4), "known height", &fixed.name)?;
        if !names.insert(&fixed.name) {
            return Err(SurveyError::RepeatedName { name: fixed.name.clone(), what: "known points" });
        }
    }
    if names.is_empty() {
        return Err(SurveyError::NoDatum);
    }
    let mut names = BTreeSet::new();
    for set_up in &survey.set_ups {
        if !names.insert(&set_up.name) {
            return Err(SurveyError::RepeatedName { name: set_up.name.clone(), what: "set-ups" });
        }
        for reading in &set_up.readings {
            within(reading.staff, Length::m(-10.0), Length::m(10.0), "staff reading", &reading.point)?;
            if let Some(distance) = reading.distance {
                within(distance, Length::ZERO, instrument.sight_longest, "sight", &reading.point)?;
            }
        }
    }
    for (name, place) in &survey.places {
        placed(*place, name)?;
    }
    let count = survey.set_ups.iter().map(|s| s.readings.len()).sum();
    match count {
        0 => Err(SurveyError::NoReadings),
        1..=READINGS_MOST => Ok(()),
        _ => Err(SurveyError::TooMany { what: "readings", count, most: READINGS_MOST }),
    }
}

/// Which columns of a net stand for what. Heights inside are above the first fixed point, so that high ground
/// costs no figures.
pub(super) struct Columns<'a> {
    fixed_m: BTreeMap<&'a str, f64>,
    points: BTreeMap<&'a str, usize>,
    /// The first column that is neither a set-up nor a point.
    pub(super) next: usize,
    datum_m: f64,
}

impl<'a> Columns<'a> {
    /// Set-ups first, in their order; then points, in order of their names.
    ///
    /// # Errors
    /// No datum, points that nothing ties to it, or too many of them.
    pub(super) fn of(used: &[&'a SetUp], fixed: &'a [FixedPoint]) -> Result<Self, SurveyError> {
        let datum_m = fixed.first().ok_or(SurveyError::NoDatum)?.height.as_m();
        let fixed_m: BTreeMap<&str, f64> =
            fixed.iter().map(|f| (f.name.as_str(), f.height.as_m() - datum_m)).collect();
        let names: BTreeSet<&str> = used
            .iter()
            .flat_map(|s| s.readings.iter().map(|r| r.point.as_str()))
            .filter(|name| !fixed_m.contains_key(name))
            .collect();
        refuse_unconnected(used, &fixed_m)?;
        let next = used.len() + names.len();
        if next > UNKNOWNS_MOST {
            return Err(SurveyError::TooMany {
                what: "set-ups and points",
                count: next,
                most: UNKNOWNS_MOST,
            });
        }
        let points = names.into_iter().enumerate().map(|(i, name)| (name, used.len() + i)).collect();
        Ok(Self { fixed_m, points, next, datum_m })
    }

    /// The equation of one reading: staff = I − H.
    pub(super) fn equation(
        &self,
        set_up: (usize, &str),
        row: usize,
        reading: &StaffReading,
        deviation: Length,
    ) -> Equation {
        let curved = reading.distance.map_or(Length::ZERO, curvature_and_refraction);
        let name = reading.point.as_str();
        let mut observed = (reading.staff - curved).as_m();
        let mut terms = vec![(set_up.0, 1.0)];
        match self.points.get(name) {
            Some(&column) => terms.push((column, -1.0)),
            None => observed += self.fixed_m.get(name).copied().unwrap_or(0.0),
        }
        let name = ReadingName { set_up: set_up.1.to_owned(), point: reading.point.clone(), row };
        Equation { name, terms, observed, deviation: deviation.as_m(), prior: false }
    }

    /// What an adjusted net says, with the fixed points at their heights.
    pub(super) fn report(&self, survey: &StaffSurvey, adjusted: &Adjusted<'_>, method: Method) -> Survey {
        let scale = adjusted.scale();
        let place = |name: &str| survey.places.get(name).copied();
        let computed = self.points.iter().map(|(name, &column)| {
            let height = PointHeight {
                name: (*name).to_owned(),
                place: place(name),
                height: Length::m(adjusted.solution[column] + self.datum_m),
                deviation: Length::m(adjusted.deviation(column) * scale),
                checked: adjusted.checked(column),
            };
            (height, Some(column))
        });
        let fixed = survey.fixed.iter().map(|known| {
            let height = PointHeight {
                name: known.name.clone(),
                place: place(&known.name),
                height: known.height,
                deviation: Length::ZERO,
                checked: true,
            };
            (height, None)
        });
        let mut heights: Vec<(PointHeight, Option<usize>)> = computed.chain(fixed).collect();
        heights.sort_by(|a, b| a.0.name.cmp(&b.0.name));
        let (heights, columns): (Vec<_>, Vec<_>) = heights.into_iter().unzip();
        Survey {
            method,
            covariance: adjusted.covariance(&columns),
            heights,
            residuals: adjusted.told(),
            freedom: adjusted.freedom,
            spread: adjusted.spread.map(Ratio::one),
            deviations_scaled_by: Ratio::one(scale),
            suspects: adjusted.worst().into_iter().collect(),
            unchecked: adjusted.unchecked(),
            closure: run_of(&survey.set_ups, |name| {
                survey.fixed.iter().find(|f| f.name == name).map(|f| f.height.as_m())
            }),
            plane: Vec::new(),
        }
    }

    /// A net that is tied to a fixed height has an answer; if weights so unlike that rounding eats it were ever
    /// let in, it is told as points that are not tied.
    pub(super) fn not_tied(&self) -> SurveyError {
        SurveyError::NotConnected { points: self.points.keys().map(|&name| name.to_owned()).collect() }
    }
}

/// Refuses points that no chain of set-ups ties to a fixed height.
fn refuse_unconnected(set_ups: &[&SetUp], fixed_m: &BTreeMap<&str, f64>) -> Result<(), SurveyError> {
    let mut tied: BTreeSet<&str> = fixed_m.keys().copied().collect();
    let mut left: Vec<&SetUp> = set_ups.to_vec();
    // Each round ties at least one set-up or is the last one.
    while !left.is_empty() {
        let (now, later): (Vec<&SetUp>, Vec<&SetUp>) =
            left.iter().partition(|s| s.readings.iter().any(|r| tied.contains(r.point.as_str())));
        if now.is_empty() {
            let points: BTreeSet<String> =
                later.iter().flat_map(|s| s.readings.iter().map(|r| r.point.clone())).collect();
            return Err(SurveyError::NotConnected { points: points.into_iter().collect() });
        }
        tied.extend(now.iter().flat_map(|s| s.readings.iter().map(|r| r.point.as_str())));
        left = later;
    }
    Ok(())
}

#[cfg(test)]
#[path = "staff_tests.rs"]
mod tests;
