//! From readings, joints and ground to the chance that the plan stands in tolerance once lowered.

use crate::heights::Heights;
use crate::model::LegPlan;
use crate::packing::Packed;
use tober_book::{Pitch, Readings, Ride, TapeReadings};
use tober_calc::finding::Finding;
use tober_calc::packing::Choice;
use tober_calc::packing::chance::{Cause, Counted, Doubts, chance, finding, not_known};
use tober_calc::supports::{Layer, in_series};
use tober_calc::survey::{Axis, LevelReading, Place, TapeReading, TapeSurvey, tape};
use tober_quantity::{Force, Length, Quantity, Slope, maths};

/// One deviation of a new joint as it beds in: half of what it may bed in either way. Ours, no source.
const BEDDING_MM: f64 = 0.25;
/// As well as a tape or a staff can be read with care. Ours.
const CAREFUL_MM: f64 = 1.0;
/// As well as a level can be read with care, both ways round, in millimetres a metre. Ours.
const CAREFUL_LEVEL: f64 = 0.1;

/// The chance before the ground gives, and where it is known how much that gives under the loads, the chance then.
///
/// Where it is not known the first says so; there is no figure that leaves it out under the name of one that has it in.
pub(crate) fn chances(
    ride: &Ride,
    pitch: &Pitch,
    heights: &Heights,
    packed: &Packed,
    choice: &Choice,
    legs: &[LegPlan],
    springs: &dyn Fn(&str) -> [Layer; 2],
) -> Vec<Finding> {
    let Some(read) = of_readings(ride, pitch, heights, packed) else {
        let what = "How good the instrument is, with which the ground was read.";
        return vec![not_known(Counted::Readings, what)];
    };
    let supports = &packed.problem.supports;
    let seats: Vec<_> = choice.supports.iter().map(|placed| placed.seat).collect();
    let with = |counted: Counted, shift: Vec<Length>, beds: &dyn Fn(usize) -> f64| {
        let mut causes = read.clone();
        for (place, support) in supports.iter().enumerate() {
            let what = if counted == Counted::Ground { " and what gives" } else { "" };
            let name = format!("bedding of the joints{what} under {}", support.name);
            let moves = alone(place, supports.len(), Length::mm(beds(place)));
            causes.push(Cause { name, moves, again: String::new(), left: None });
        }
        let doubts = Doubts { shift, causes };
        match chance(&packed.problem, &seats, &doubts) {
            Ok(found) => finding(&packed.problem, &doubts, &found, counted),
            Err(error) => not_known(counted, &error.to_string()),
        }
    };
    let joints = |place: usize| BEDDING_MM * ((choice.supports[place].laid.len() + 1) as f64).sqrt();
    let still = vec![Length::ZERO; supports.len()];
    let mut first = with(Counted::Readings, still, &joints);
    let sinks: Option<Vec<(Length, Length)>> =
        supports.iter().map(|support| sinks(legs, &support.name, springs)).collect();
    let Some(sinks) = sinks else {
        first = first.note("How far the ground gives under the loads is not known everywhere, so no chance is told for then.");
        return vec![first];
    };
    let shift = sinks.iter().map(|&(least, most)| (least + most) * -0.5).collect();
    let beds = |place: usize| {
        // From the least to the most is taken as two deviations either way.
        let (least, most) = sinks[place];
        maths::hypot(joints(place), (most - least).as_mm() / 4.0)
    };
    vec![first, with(Counted::Ground, shift, &beds)]
}

fn alone(place: usize, legs: usize, by: Length) -> Vec<Length> {
    (0..legs).map(|leg| if leg == place { by } else { Length::ZERO }).collect()
}

/// The least and the greatest that timber and ground give under a leg, where its load and both are known.
fn sinks(legs: &[LegPlan], name: &str, springs: &dyn Fn(&str) -> [Layer; 2]) -> Option<(Length, Length)> {
    let (low, high) = legs.iter().find(|leg| leg.name == name)?.load?;
    let layers = springs(name);
    if layers.contains(&Layer::NotKnown) {
        return None;
    }
    let stiffness = in_series(&layers).ok()?;
    let give = |load, stiffness: f64| Length::from_si(Force::weight(load).si() / stiffness);
    Some((give(low, stiffness.high.si()), give(high, stiffness.low.si())))
}

/// What the readings may be off by: each leg's own, and what legs share. `None` where that is not known.
fn of_readings(ride: &Ride, pitch: &Pitch, heights: &Heights, packed: &Packed) -> Option<Vec<Cause>> {
    if let Some(Readings::Tape(readings)) = &pitch.readings {
        return of_tape(readings, packed);
    }
    // A staff: what all heights share moves all legs alike and does not matter, and what several set-ups share is
    // counted as each leg's own, which is wider.
    let supports = &packed.problem.supports;
    let one = |(place, support): (usize, &tober_calc::packing::Support)| {
        ride.support(&support.name)?;
        let deviation = heights.under.get(&support.name)?.1?;
        let name = format!("reading of the ground under {}", support.name);
        Some(own(&support.name, name, place, supports.len(), deviation))
    };
    supports.iter().enumerate().map(one).collect()
}

/// One leg's own reading, with what is left of it once it is read with care.
fn own(leg: &str, name: String, place: usize, legs: usize, deviation: Length) -> Cause {
    let careful = CAREFUL_MM / deviation.as_mm();
    Cause {
        name,
        moves: alone(place, legs, deviation),
        again: format!("read {leg} again, to {CAREFUL_MM} mm"),
        left: (careful < 1.0).then_some(careful),
    }
}

fn of_tape(readings: &TapeReadings, packed: &Packed) -> Option<Vec<Cause>> {
    let (slope_deviation, tape_deviation) = (readings.slope_deviation?, readings.tape_deviation?);
    let supports = &packed.problem.supports;
    let mut causes = Vec::new();
    for (place, support) in supports.iter().enumerate() {
        let times = readings.legs.iter().filter(|leg| leg.leg == support.name).count().max(1);
        let deviation = tape_deviation / (times as f64).sqrt();
        let name = format!("tape at {}", support.name);
        causes.push(own(&support.name, name, place, supports.len(), deviation));
    }
    for (axis, words) in [(Axis::X, "along"), (Axis::Y, "across")] {
        let deviation = slope_read(readings, axis, slope_deviation)?;
        let at = |s: &tober_calc::packing::Support| if axis == Axis::X { s.x_mm } else { s.y_mm };
        let careful = CAREFUL_LEVEL / deviation.as_mm_per_m();
        causes.push(Cause {
            name: format!("slope of the frame {words}, as the level showed it"),
            moves: supports.iter().map(|s| Length::mm(at(s) as f64) * deviation.as_ratio()).collect(),
            again: format!("read the level {words} again, both ways round, to {CAREFUL_LEVEL} mm/m"),
            left: (careful < 1.0).then_some(careful),
        });
    }
    Some(causes)
}

/// The deviation of the mean slope along an axis, as the survey has it: what a point one metre along is less well
/// known by than the datum.
fn slope_read(readings: &TapeReadings, axis: Axis, deviation: Slope) -> Option<Slope> {
    let levels = [(Axis::X, &readings.slope_along), (Axis::Y, &readings.slope_across)].into_iter().flat_map(
        |(axis, slopes)| slopes.0.iter().map(move |&slope| LevelReading { axis, slope, deviation }),
    );
    let far = if axis == Axis::X { (Length::m(1.0), Length::ZERO) } else { (Length::ZERO, Length::m(1.0)) };
    let point = |name: &str, (x, y)| TapeReading {
        point: name.to_owned(),
        place: Place { x, y },
        above_frame: Length::ZERO,
        tape: Length::m(1.0),
    };
    let readings = vec![point("datum", (Length::ZERO, Length::ZERO)), point("one metre", far)];
    let survey =
        tape(&TapeSurvey { levels: levels.collect(), tape_deviation: Length::mm(0.01), readings }).ok()?;
    let of = |name: &str| {
        survey.heights.iter().find(|point| point.name == name).map(|point| point.deviation.as_m())
    };
    let (near, far) = (of("datum")?, of("one metre")?);
    Some(Slope::ratio((far * far - near * near).max(0.0).sqrt()))
}
