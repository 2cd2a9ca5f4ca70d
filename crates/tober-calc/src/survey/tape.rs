//! Heights from a tape: the trailer on its wheels, a level on its frame, a tape down to the ground.

use super::{
    BLUNDER_AT, Covariance, Doubt, Method, Place, PointHeight, ReadingName, Residual, Survey, SurveyError,
    Suspect, deviation_of, placed, plane, within,
};
use std::collections::BTreeMap;
use tober_quantity::{Length, Ratio, Slope};

/// The steepest frame that is worked out, in millimetres a metre: steeper, and lengths along the frame
/// are no longer lengths on the plan to within a few millimetres.
const SLOPE_MOST_MM_PER_M: f64 = 100.0;
/// How many times the spread of its neighbours a point must be off their plane to be pointed out (ours).
const NEIGHBOUR_AT: f64 = 4.0;

/// An axis of the frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// Along the frame.
    X,
    /// Across it.
    Y,
}

impl Axis {
    fn word(self) -> &'static str {
        match self {
            Self::X => "length",
            Self::Y => "width",
        }
    }
}

/// One reading of a level laid on the frame. Turned end for end and read again, it checks itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LevelReading {
    /// Along which axis it lay.
    pub axis: Axis,
    /// How much the frame rises towards greater x or y.
    pub slope: Slope,
    /// One standard deviation of that.
    pub deviation: Slope,
}

/// One reading of the tape, held plumb from a point of the frame to the ground.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeReading {
    /// The point of the ground. Read twice, it stands here twice.
    pub point: String,
    /// Where it is, in the axes of the frame: under the leg, or beside it where the leg is in the way.
    pub place: Place,
    /// How far the tape's upper end is above the plane of the frame; below zero when under it.
    pub above_frame: Length,
    /// What the tape reads.
    pub tape: Length,
}

/// A survey with a tape.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeSurvey {
    /// Readings of the level: one for each axis at least.
    pub levels: Vec<LevelReading>,
    /// One standard deviation of one reading of the tape, with what the ground is uneven under its end.
    pub tape_deviation: Length,
    /// Readings of the tape.
    pub readings: Vec<TapeReading>,
}

/// Heights of the ground above the frame's own origin, from a tape and a level on the frame.
///
/// h = a x + b y + u − t: a and b are the mean slopes, x and y the place from the frame's datum, u the
/// height of the tape's upper end above the frame's plane, t the mean tape. Deviation² =
/// (x σa)² + (y σb)² + σt²/n. The datum is the frame's plane at x = y = 0, so heights of ground are
/// below zero. Several readings of a slope are averaged, and their deviation is never taken as less than
/// that of the best one over √n. A height is checked when its tape and both slopes were read twice at
/// least. Valid to 100 mm/m: there the tape's foot lies up to a tenth of the tape's length from where
/// the frame's axes put it. Source: elementary geometry; ours.
///
/// # Errors
/// No slope along an axis, no tape, one point at two places, or a number that is not one or out of range.
///
/// # Not covered
/// A frame that sags between the level and the tape, and tyres that settle between two readings.
pub fn tape(survey: &TapeSurvey) -> Result<Survey, SurveyError> {
    work(survey, Method::Tape)
}

/// Heights of the ground from the scale painted on each leg: the trailer stands on its legs, every foot on the
/// ground, and the frame slopes as it will.
///
/// h = a x + b y − s, as [`tape`]: the `tape` of a reading is what the scale says, from the plane of the frame down
/// to the underside of the foot. The deviation of a reading takes in how finely the scale is painted (a scale read
/// to the nearest hole is out by a uniform half pitch, p/√12). Valid as [`tape`]. Source: elementary geometry; ours.
///
/// # Errors
/// As [`tape`].
///
/// # Not covered
/// A foot that hangs clear or stands on a board: the scale does not show it. A frame that bends under its own weight
/// between its legs. Ground that sank under the feet: it is the loaded ground whose height is found.
pub fn scale(survey: &TapeSurvey) -> Result<Survey, SurveyError> {
    work(survey, Method::Scale)
}

/// The word that readings of a tape or a scale are named by.
fn word(method: Method) -> &'static str {
    if method == Method::Scale { "scale" } else { "tape" }
}

fn work(survey: &TapeSurvey, method: Method) -> Result<Survey, SurveyError> {
    check(survey)?;
    let along = mean_slope(survey, Axis::X)?;
    let across = mean_slope(survey, Axis::Y)?;
    let groups = by_point(survey)?;
    let mut report = Survey {
        heights: Vec::new(),
        residuals: Vec::new(),
        freedom: 0,
        spread: None,
        deviations_scaled_by: Ratio::one(1.0),
        suspects: Vec::new(),
        unchecked: Vec::new(),
        closure: None,
        method,
        covariance: Covariance::default(),
        plane: Vec::new(),
    };
    for mean in [&along, &across] {
        tell_slope(mean, &mut report);
    }
    let mut residuals = BTreeMap::new();
    for (name, rows) in &groups {
        let level_checked = along.rows.len() > 1 && across.rows.len() > 1;
        report.heights.push(height_of(survey, name, rows, &along, &across, level_checked));
        tell_tape(survey, (name, rows), &mut report, &mut residuals);
    }
    report.covariance = covariance(&report.heights, &along, &across);
    report.residuals = residuals.into_values().collect();
    report.freedom = survey.levels.len() - 2 + survey.readings.len() - groups.len();
    report.suspects.extend(off_their_neighbours(survey, &groups, &report));
    Ok(report)
}

/// The mean of the readings of one slope.
struct MeanSlope {
    axis: Axis,
    slope: f64,
    deviation: f64,
    /// Row in the survey's list, counted from one, and slope.
    rows: Vec<(usize, f64)>,
    /// The greatest deviation of one reading.
    single: f64,
}

fn check(survey: &TapeSurvey) -> Result<(), SurveyError> {
    const MOST: usize = 4000;
    for level in &survey.levels {
        let axis = level.axis.word();
        let bounds = [("slope", level.slope, 0.0), ("deviation of the slope", level.deviation, 1e-3)];
        for (what, value, least) in bounds {
            let mm_per_m = value.as_mm_per_m();
            if !mm_per_m.is_finite() {
                return Err(SurveyError::NotANumber { what, at: format!("the frame's {axis}") });
            }
            let size = if least > 0.0 { mm_per_m } else { mm_per_m.abs() };
            if !(least..=SLOPE_MOST_MM_PER_M).contains(&size) {
                return Err(SurveyError::Slope { what, axis, mm_per_m, most_mm_per_m: SLOPE_MOST_MM_PER_M });
            }
        }
    }
    deviation_of(survey.tape_deviation, "deviation of the tape", "all points")?;
    for reading in &survey.readings {
        placed(reading.place, &reading.point)?;
        within(
            reading.above_frame,
            Length::m(-10.0),
            Length::m(10.0),
            "height above the frame",
            &reading.point,
        )?;
        within(reading.tape, Length::ZERO, Length::m(20.0), "tape", &reading.point)?;
    }
    match survey.readings.len().max(survey.levels.len()) {
        _ if survey.readings.is_empty() => Err(SurveyError::NoReadings),
        count if count > MOST => Err(SurveyError::TooMany { what: "readings", count, most: MOST }),
        _ => Ok(()),
    }
}

fn mean_slope(survey: &TapeSurvey, axis: Axis) -> Result<MeanSlope, SurveyError> {
    let rows: Vec<(usize, f64, f64)> = survey
        .levels
        .iter()
        .enumerate()
        .filter(|(_, level)| level.axis == axis)
        .map(|(row, level)| (row + 1, level.slope.as_ratio(), level.deviation.as_ratio()))
        .collect();
    if rows.is_empty() {
        return Err(SurveyError::NoSlope { axis: axis.word() });
    }
    let count = rows.len() as f64;
    // Readings count alike: the worst deviation stands for all, so a poor reading never improves a good one's.
    let single = rows.iter().map(|row| row.2).fold(0.0, f64::max);
    let slope = rows.iter().map(|row| row.1).sum::<f64>() / count;
    let squares: f64 = rows.iter().map(|row| (row.1 - slope) * (row.1 - slope)).sum();
    let found = if rows.len() > 1 { (squares / (count - 1.0)).sqrt() } else { 0.0 };
    Ok(MeanSlope {
        axis,
        slope,
        deviation: single.max(found) / count.sqrt(),
        rows: rows.into_iter().map(|(row, slope, _)| (row, slope)).collect(),
        single,
    })
}

/// Readings of each point, by name: row in the survey's list, counted from nought.
fn by_point(survey: &TapeSurvey) -> Result<BTreeMap<&str, Vec<usize>>, SurveyError> {
    let mut groups: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (row, reading) in survey.readings.iter().enumerate() {
        let rows = groups.entry(reading.point.as_str()).or_default();
        if rows.first().is_some_and(|&first| survey.readings[first].place != reading.place) {
            return Err(SurveyError::TwoPlaces { point: reading.point.clone() });
        }
        rows.push(row);
    }
    Ok(groups)
}

fn height_of(
    survey: &TapeSurvey,
    name: &str,
    rows: &[usize],
    along: &MeanSlope,
    across: &MeanSlope,
    level_checked: bool,
) -> PointHeight {
    let place = survey.readings[rows[0]].place;
    let (x_m, y_m) = (place.x.as_m(), place.y.as_m());
    let downs: Vec<f64> = rows.iter().map(|&row| down_m(&survey.readings[row])).collect();
    let mean_m = downs.iter().sum::<f64>() / downs.len() as f64;
    let (from_x, from_y) = (x_m * along.deviation, y_m * across.deviation);
    let tape_m = tape_spread_m(survey, &downs) / (downs.len() as f64).sqrt();
    PointHeight {
        name: name.to_owned(),
        place: Some(place),
        height: Length::m(along.slope * x_m + across.slope * y_m - mean_m),
        deviation: Length::m((from_x * from_x + from_y * from_y + tape_m * tape_m).sqrt()),
        checked: rows.len() > 1 && level_checked,
    }
}

/// Points share the two slopes: c = x x' σa² + y y' σb², and with itself the tape's own share on top.
fn covariance(heights: &[PointHeight], along: &MeanSlope, across: &MeanSlope) -> Covariance {
    let at = |i: usize| heights[i].place.map_or((0.0, 0.0), |at| (at.x.as_m(), at.y.as_m()));
    Covariance::by(heights.len(), |i, j| {
        let ((x, y), (u, v)) = (at(i), at(j));
        let own = heights[i].deviation.as_m();
        let shared = x * u * along.deviation * along.deviation + y * v * across.deviation * across.deviation;
        if i == j { own * own } else { shared }
    })
}

/// How far the ground is below the frame's plane, square to level.
fn down_m(reading: &TapeReading) -> f64 {
    (reading.tape - reading.above_frame).as_m()
}

/// The deviation of one reading: as stated, or as repeated readings show it where that is more.
fn tape_spread_m(survey: &TapeSurvey, downs: &[f64]) -> f64 {
    let count = downs.len() as f64;
    let mean = downs.iter().sum::<f64>() / count;
    let squares: f64 = downs.iter().map(|d| (d - mean) * (d - mean)).sum();
    let found = if downs.len() > 1 { (squares / (count - 1.0)).sqrt() } else { 0.0 };
    survey.tape_deviation.as_m().max(found)
}

/// The most by which readings with one deviation should differ: the blunder limit of a difference.
fn range_most(single: f64) -> f64 {
    BLUNDER_AT * core::f64::consts::SQRT_2 * single
}

fn range_of(values: impl Iterator<Item = f64> + Clone) -> f64 {
    values.clone().fold(f64::NEG_INFINITY, f64::max) - values.fold(f64::INFINITY, f64::min)
}

fn tell_slope(mean: &MeanSlope, report: &mut Survey) {
    let name = |row: usize| ReadingName { set_up: "level".into(), point: mean.axis.word().into(), row };
    if let [(row, _)] = mean.rows[..] {
        report.unchecked.push(name(row));
        return;
    }
    let (range, most) = (range_of(mean.rows.iter().map(|r| r.1)), range_most(mean.single));
    if range > most {
        let doubt = Doubt::Disagree { range: Length::m(range), most: Length::m(most) };
        report.suspects.extend(mean.rows.last().map(|(row, _)| Suspect { reading: name(*row), doubt }));
    }
}

fn tell_tape(
    survey: &TapeSurvey,
    (name, rows): (&str, &[usize]),
    report: &mut Survey,
    residuals: &mut BTreeMap<usize, Residual>,
) {
    let word = word(report.method);
    let reading = |row: usize| ReadingName { set_up: word.into(), point: name.to_owned(), row: row + 1 };
    let downs: Vec<f64> = rows.iter().map(|&row| down_m(&survey.readings[row])).collect();
    let count = downs.len() as f64;
    let mean = downs.iter().sum::<f64>() / count;
    let redundancy = 1.0 - 1.0 / count;
    for (&row, down) in rows.iter().zip(&downs) {
        let residual_m = mean - down;
        let standardised = (rows.len() > 1)
            .then(|| Ratio::one(residual_m / (survey.tape_deviation.as_m() * redundancy.sqrt())));
        residuals.insert(
            row,
            Residual {
                reading: reading(row),
                residual: Length::m(residual_m),
                redundancy: Ratio::one(redundancy),
                standardised,
            },
        );
    }
    if let [row] = rows {
        report.unchecked.push(reading(*row));
        return;
    }
    let (range, most) = (range_of(downs.iter().copied()), range_most(survey.tape_deviation.as_m()));
    if range > most {
        let doubt = Doubt::Disagree { range: Length::m(range), most: Length::m(most) };
        report.suspects.extend(rows.last().map(|&row| Suspect { reading: reading(row), doubt }));
    }
}

/// The point that lies furthest off the plane of all the others, if far enough to be pointed out.
///
/// Six points at least, so that the others leave two to spare over their plane; off by more than four
/// times the others' own spread about it and more than the blunder limit of the tape. Ours.
fn off_their_neighbours(
    survey: &TapeSurvey,
    groups: &BTreeMap<&str, Vec<usize>>,
    report: &Survey,
) -> Option<Suspect> {
    let heights = &report.heights;
    if heights.len() < 6 {
        return None;
    }
    let xyz: Vec<[f64; 3]> = heights
        .iter()
        .filter_map(|h| h.place.map(|at| [at.x.as_m(), at.y.as_m(), h.height.as_m()]))
        .collect();
    let over = |[a, b, c]: [f64; 3], p: &[f64; 3]| p[2] - (a * p[0] + b * p[1] + c);
    let mut worst: Option<(usize, f64, f64)> = None;
    for i in 0..xyz.len() {
        let others: Vec<[f64; 3]> =
            xyz.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, p)| *p).collect();
        let Some(fitted) = plane::fit(&others) else { continue };
        let squares: f64 = others.iter().map(|p| over(fitted, p) * over(fitted, p)).sum();
        let spread_m = (squares / (others.len() as f64 - 3.0)).sqrt().max(survey.tape_deviation.as_m());
        let off_m = over(fitted, &xyz[i]);
        let times = off_m.abs() / spread_m;
        if times > NEIGHBOUR_AT && worst.is_none_or(|(_, _, most)| times > most) {
            worst = Some((i, off_m, times));
        }
    }
    let (i, off_m, times) = worst?;
    let name = &heights[i].name;
    let row = groups.get(name.as_str())?.first()? + 1;
    Some(Suspect {
        reading: ReadingName { set_up: word(report.method).into(), point: name.clone(), row },
        doubt: Doubt::OffItsNeighbours { off: Length::m(off_m), times_spread: Ratio::one(times) },
    })
}

#[cfg(test)]
#[path = "tape_tests.rs"]
mod tests;
