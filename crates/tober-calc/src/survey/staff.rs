//! Heights from a staff, by least squares over every set-up at once.

use super::closure::run_of;
use super::dense::{Inverse, Symmetric};
use super::{
    BLUNDER_AT, Doubt, Place, PointHeight, ReadingName, Residual, Survey, SurveyError, Suspect,
    curvature_and_refraction, deviation_of, placed, within,
};
use std::collections::{BTreeMap, BTreeSet};
use tober_quantity::{Length, Ratio, Slope};

/// The most set-up heights and point heights that are worked out together.
const UNKNOWNS_MOST: usize = 400;
/// The most readings that are worked out together.
const READINGS_MOST: usize = 4000;
/// Below this share of its own error showing, a reading counts as unchecked.
const REDUNDANCY_LEAST: f64 = 1e-6;

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
    let net = Net::build(survey)?;
    let adjusted = net.adjust()?;
    Ok(net.report(survey, &adjusted))
}

/// Everything that can be refused before a sum is done.
fn check(survey: &StaffSurvey) -> Result<(), SurveyError> {
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

/// One reading as an equation: staff = I − H.
struct Equation {
    name: ReadingName,
    /// The column of the set-up's height.
    set_up: usize,
    /// The column of the point's height, or the fixed height in metres above the datum.
    point: Result<usize, f64>,
    staff_m: f64,
    deviation_m: f64,
}

/// The whole net. Heights inside are above the first fixed point, so that high ground costs no figures.
struct Net<'a> {
    equations: Vec<Equation>,
    /// Point names, in the order of their columns.
    points: Vec<&'a str>,
    unknowns: usize,
    datum_m: f64,
}

struct Adjusted {
    inverse: Inverse,
    solution_m: Vec<f64>,
    residuals_m: Vec<f64>,
    redundancies: Vec<f64>,
    spread: Option<f64>,
    freedom: usize,
}

impl<'a> Net<'a> {
    fn build(survey: &'a StaffSurvey) -> Result<Self, SurveyError> {
        let datum_m = survey.fixed.first().ok_or(SurveyError::NoDatum)?.height.as_m();
        let fixed_m: BTreeMap<&str, f64> =
            survey.fixed.iter().map(|f| (f.name.as_str(), f.height.as_m() - datum_m)).collect();
        let used: Vec<&SetUp> = survey.set_ups.iter().filter(|s| !s.readings.is_empty()).collect();
        let points: Vec<&str> = used
            .iter()
            .flat_map(|s| s.readings.iter().map(|r| r.point.as_str()))
            .filter(|name| !fixed_m.contains_key(name))
            .collect::<BTreeSet<_>>()
            .into_iter()
            .collect();
        refuse_unconnected(&used, &fixed_m)?;
        let unknowns = used.len() + points.len();
        if unknowns > UNKNOWNS_MOST {
            let what = "set-ups and points";
            return Err(SurveyError::TooMany { what, count: unknowns, most: UNKNOWNS_MOST });
        }
        let column: BTreeMap<&str, usize> =
            points.iter().enumerate().map(|(i, name)| (*name, used.len() + i)).collect();
        let mut equations = Vec::new();
        for (at, set_up) in used.iter().enumerate() {
            for (row, reading) in set_up.readings.iter().enumerate() {
                let curved = reading.distance.map_or(Length::ZERO, curvature_and_refraction);
                let name = reading.point.as_str();
                let fixed = fixed_m.get(name).copied().unwrap_or(0.0);
                equations.push(Equation {
                    name: ReadingName {
                        set_up: set_up.name.clone(),
                        point: reading.point.clone(),
                        row: row + 1,
                    },
                    set_up: at,
                    point: column.get(name).copied().ok_or(fixed),
                    staff_m: (reading.staff - curved).as_m(),
                    deviation_m: survey.instrument.deviation(reading.distance).as_m(),
                });
            }
        }
        Ok(Self { equations, points, unknowns, datum_m })
    }

    fn adjust(&self) -> Result<Adjusted, SurveyError> {
        let mut normal = Symmetric::zero(self.unknowns);
        let mut right = vec![0.0; self.unknowns];
        for equation in &self.equations {
            let weight = 1.0 / (equation.deviation_m * equation.deviation_m);
            normal.add(equation.set_up, equation.set_up, weight);
            match equation.point {
                Ok(point) => {
                    normal.add(point, point, weight);
                    normal.add(equation.set_up, point, -weight);
                    right[equation.set_up] += weight * equation.staff_m;
                    right[point] -= weight * equation.staff_m;
                }
                Err(fixed_m) => right[equation.set_up] += weight * (equation.staff_m + fixed_m),
            }
        }
        // The net is connected to a fixed height, so the matrix is positive definite; if weights so
        // unlike that rounding eats it were ever let in, it is told as points that are not tied.
        let not_tied = || SurveyError::NotConnected {
            points: self.points.iter().map(|&name| name.to_owned()).collect(),
        };
        let inverse = normal.inverse().ok_or_else(not_tied)?;
        let solution_m = inverse.times(&right);
        let residuals_m: Vec<f64> =
            self.equations.iter().map(|e| e.computed(&solution_m) - e.staff_m).collect();
        let redundancies = self.equations.iter().map(|e| e.redundancy(&inverse)).collect();
        let freedom = self.equations.len() - self.unknowns.min(self.equations.len());
        let squares: f64 = residuals_m
            .iter()
            .zip(&self.equations)
            .map(|(v, e)| (v / e.deviation_m) * (v / e.deviation_m))
            .sum();
        let spread = (freedom > 0).then(|| (squares / freedom as f64).sqrt());
        Ok(Adjusted { inverse, solution_m, residuals_m, redundancies, spread, freedom })
    }

    fn report(&self, survey: &StaffSurvey, adjusted: &Adjusted) -> Survey {
        let scale = adjusted.spread.unwrap_or(1.0).max(1.0);
        let residuals: Vec<Residual> = (0..self.equations.len())
            .map(|i| Residual {
                reading: self.equations[i].name.clone(),
                residual: Length::m(adjusted.residuals_m[i]),
                redundancy: Ratio::one(adjusted.redundancies[i]),
                standardised: self.standardised(adjusted, i).map(Ratio::one),
            })
            .collect();
        let unchecked = self
            .equations
            .iter()
            .zip(&adjusted.redundancies)
            .filter(|(_, redundancy)| **redundancy < REDUNDANCY_LEAST)
            .map(|(equation, _)| equation.name.clone())
            .collect();
        Survey {
            heights: self.heights(survey, adjusted, scale),
            residuals,
            freedom: adjusted.freedom,
            spread: adjusted.spread.map(Ratio::one),
            deviations_scaled_by: Ratio::one(scale),
            suspects: self.worst(adjusted).into_iter().collect(),
            unchecked,
            closure: run_of(&survey.set_ups, |name| {
                survey.fixed.iter().find(|f| f.name == name).map(|f| f.height.as_m())
            }),
        }
    }

    fn heights(&self, survey: &StaffSurvey, adjusted: &Adjusted, scale: f64) -> Vec<PointHeight> {
        let first = self.unknowns - self.points.len();
        let place = |name: &str| survey.places.get(name).copied();
        let computed = self.points.iter().enumerate().map(|(i, name)| PointHeight {
            name: (*name).to_owned(),
            place: place(name),
            height: Length::m(adjusted.solution_m[first + i] + self.datum_m),
            deviation: Length::m(adjusted.inverse.at(first + i, first + i).max(0.0).sqrt() * scale),
            checked: self.checked(adjusted, first + i),
        });
        let fixed = survey.fixed.iter().map(|known| PointHeight {
            name: known.name.clone(),
            place: place(&known.name),
            height: known.height,
            deviation: Length::ZERO,
            checked: true,
        });
        let mut heights: Vec<PointHeight> = computed.chain(fixed).collect();
        heights.sort_by(|a, b| a.name.cmp(&b.name));
        heights
    }

    /// Whether no unchecked reading moves this height.
    fn checked(&self, adjusted: &Adjusted, column: usize) -> bool {
        self.equations.iter().zip(&adjusted.redundancies).all(|(equation, redundancy)| {
            let point = equation.point.map_or(0.0, |p| adjusted.inverse.at(column, p));
            let moved = (adjusted.inverse.at(column, equation.set_up) - point)
                / (equation.deviation_m * equation.deviation_m);
            *redundancy >= REDUNDANCY_LEAST || moved.abs() < 1e-9
        })
    }

    fn standardised(&self, adjusted: &Adjusted, i: usize) -> Option<f64> {
        let redundancy = adjusted.redundancies[i];
        (redundancy >= REDUNDANCY_LEAST)
            .then(|| adjusted.residuals_m[i] / (self.equations[i].deviation_m * redundancy.sqrt()))
    }

    /// The reading that fits worst, if it is past the limit, with those that cannot be told from it.
    fn worst(&self, adjusted: &Adjusted) -> Option<Suspect> {
        let sizes: Vec<f64> =
            (0..self.equations.len()).map(|i| self.standardised(adjusted, i).map_or(0.0, f64::abs)).collect();
        let greatest = sizes.iter().copied().fold(0.0, f64::max);
        if greatest <= BLUNDER_AT {
            return None;
        }
        // The first of those that are equal to rounding, so that the order of sums does not choose.
        let worst = sizes.iter().position(|size| *size >= greatest * (1.0 - 1e-9))?;
        let or_else = (0..self.equations.len())
            .filter(|&i| i != worst && sizes[i] > 0.0 && self.inseparable(adjusted, worst, i))
            .map(|i| self.equations[i].name.clone())
            .collect();
        Some(Suspect {
            reading: self.equations[worst].name.clone(),
            doubt: Doubt::Blunder {
                standardised: Ratio::one(sizes[worst]),
                error: Length::m(-adjusted.residuals_m[worst] / adjusted.redundancies[worst]),
                or_else,
            },
        })
    }

    /// Whether the residuals of two readings are so tied that an error in one looks like one in the other.
    fn inseparable(&self, adjusted: &Adjusted, i: usize, j: usize) -> bool {
        let (a, b) = (&self.equations[i], &self.equations[j]);
        let at = |row: usize, column: usize| adjusted.inverse.at(row, column);
        let half = |row: usize| at(row, b.set_up) - b.point.map_or(0.0, |p| at(row, p));
        let shared = half(a.set_up) - a.point.map_or(0.0, half);
        let own = |e: &Equation, redundancy: f64| e.deviation_m * redundancy.sqrt();
        let tie = shared / (own(a, adjusted.redundancies[i]) * own(b, adjusted.redundancies[j]));
        tie.abs() > 0.99
    }
}

impl Equation {
    fn computed(&self, solution_m: &[f64]) -> f64 {
        solution_m[self.set_up] - self.point.map_or_else(|fixed_m| fixed_m, |p| solution_m[p])
    }

    /// 1 − aᵀN⁻¹a/σ², kept between 0 and 1 against rounding.
    fn redundancy(&self, inverse: &Inverse) -> f64 {
        let own = inverse.at(self.set_up, self.set_up);
        let variance = self.point.map_or(own, |p| own - 2.0 * inverse.at(self.set_up, p) + inverse.at(p, p));
        (1.0 - variance / (self.deviation_m * self.deviation_m)).clamp(0.0, 1.0)
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
