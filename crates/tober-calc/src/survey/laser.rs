//! Heights from a rotating laser and a staff: its plane leans, and is a little of a cone.

use super::net::{Equation, Net};
use super::staff::{Columns, check};
use super::{
    FixedPoint, Instrument, Method, Place, PlaneFound, ReadingName, SetUp, StaffSurvey, Survey, SurveyError,
    placed,
};
use std::collections::BTreeMap;
use tober_quantity::{Angle, Length, Ratio, Slope, maths};

/// The least plane or cone error that is worked with, in millimetres a metre: an arc second is 0.005.
const SLOPE_LEAST_MM_PER_M: f64 = 1e-4;

/// How well a rotating laser reads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laser {
    /// One standard deviation of one reading of the staff, close by.
    pub reading: Length,
    /// One standard deviation of how much its plane leans, along either axis.
    pub plane: Slope,
    /// One standard deviation of how much the beam rises all round: the cone.
    pub cone: Slope,
    /// No sight is longer than this.
    pub sight_longest: Length,
}

/// One standing of the laser.
#[derive(Clone, Debug, PartialEq)]
pub struct LaserSetUp {
    /// Its name and what was read from it.
    pub set_up: SetUp,
    /// Where it stood.
    pub at: Option<Place>,
    /// Which way its front faced, from x towards y.
    pub heading: Option<Angle>,
}

/// A survey with a rotating laser.
#[derive(Clone, Debug, PartialEq)]
pub struct LaserSurvey {
    /// The laser.
    pub laser: Laser,
    /// The known points: one at least, the datum.
    pub fixed: Vec<FixedPoint>,
    /// The set-ups, in the order they were made.
    pub set_ups: Vec<LaserSetUp>,
    /// Where points are on the plan.
    pub places: BTreeMap<String, Place>,
}

/// Heights by weighted least squares, as [`super::staff()`], with the errors of the laser as unknowns.
///
/// s = I − H + t₁Δx + t₂Δy + c d + v, with Δx, Δy from the laser to the staff, d their distance, t₁ and t₂ the
/// lean of the plane and c the cone; t and c are nought, with the deviations of the laser. So points that share a
/// set-up share its error, and a point that is read from opposite sides, or with the laser turned end for end,
/// shows it. The lean belongs to the laser, and turns with it: where every set-up has a heading, all share one.
/// Otherwise each has its own, with its variance times the number n of set-ups, which is never too little
/// however they hang together (Cauchy and Schwarz). Where a set-up or a point has no place, the directions are
/// not known and each reading bears the whole of both errors on its own, the variances times the number of all
/// readings, and of set-ups for the lean: safe for the same reason. Source: least squares; the bounds are ours.
///
/// # Errors
/// As [`super::staff()`], and a plane or a cone of less than nothing or more than 10 mm/m.
///
/// # Not covered
/// A plane that leans otherwise as the laser warms up, and beams that bend over hot ground.
pub fn laser(survey: &LaserSurvey) -> Result<Survey, SurveyError> {
    let laser = &survey.laser;
    for (slope, what) in [(laser.plane, "plane's deviation"), (laser.cone, "cone's deviation")] {
        let mm_per_m = slope.as_mm_per_m();
        if !mm_per_m.is_finite() {
            return Err(SurveyError::NotANumber { what, at: "the laser".into() });
        }
        if !(SLOPE_LEAST_MM_PER_M..=10.0).contains(&mm_per_m) {
            return Err(SurveyError::Slope { what, axis: "level", mm_per_m, most_mm_per_m: 10.0 });
        }
    }
    let as_staff = StaffSurvey {
        instrument: Instrument {
            reading: laser.reading,
            line_of_sight: Slope::ZERO,
            sight_longest: laser.sight_longest,
        },
        fixed: survey.fixed.clone(),
        set_ups: survey.set_ups.iter().map(|s| s.set_up.clone()).collect(),
        places: survey.places.clone(),
    };
    check(&as_staff)?;
    for set_up in &survey.set_ups {
        if let Some(at) = set_up.at {
            placed(at, &set_up.set_up.name)?;
        }
        if set_up.heading.is_some_and(|heading| !heading.as_rad().is_finite()) {
            return Err(SurveyError::NotANumber { what: "heading", at: set_up.set_up.name.clone() });
        }
    }
    let used: Vec<&LaserSetUp> = survey.set_ups.iter().filter(|s| !s.set_up.readings.is_empty()).collect();
    let booked: Vec<&SetUp> = used.iter().map(|s| &s.set_up).collect();
    let columns = Columns::of(&booked, &survey.fixed)?;
    let directed = used
        .iter()
        .all(|s| s.at.is_some() && s.set_up.readings.iter().all(|r| survey.places.contains_key(&r.point)));
    let mut net = Net { equations: Vec::new(), unknowns: columns.next };
    let leans = directed.then(|| Leans::of(&used, laser, &mut net));
    let readings: usize = booked.iter().map(|s| s.readings.len()).sum();
    for (at, standing) in used.iter().enumerate() {
        for (row, reading) in standing.set_up.readings.iter().enumerate() {
            let mut reading = reading.clone();
            let place = survey.places.get(&reading.point);
            let offset = standing.at.zip(place).map(|(from, to)| (to.x - from.x, to.y - from.y));
            let apart = offset.map(|(x, y)| Length::m(maths::hypot(x.as_m(), y.as_m())));
            reading.distance = reading.distance.or(apart);
            let deviation = match leans {
                Some(_) => laser.reading,
                None => undirected(laser, reading.distance, readings, used.len()),
            };
            let mut equation = columns.equation((at, &standing.set_up.name), row + 1, &reading, deviation);
            if let (Some(leans), Some(offset), Some(apart)) = (&leans, offset, apart) {
                equation.terms.extend(leans.terms(at, standing, offset, apart));
            }
            net.equations.push(equation);
        }
    }
    let adjusted = net.adjust().ok_or_else(|| columns.not_tied())?;
    let mut found = columns.report(&as_staff, &adjusted, Method::Laser);
    for (i, equation) in net.equations.iter().enumerate().filter(|(_, e)| e.prior) {
        let column = equation.terms[0].0;
        let (redundancy, standardised) = adjusted.prior(i);
        found.plane.push(PlaneFound {
            what: equation.name.point.clone(),
            slope: Slope::ratio(adjusted.solution[column]),
            deviation: Slope::ratio(adjusted.deviation(column) * adjusted.scale()),
            redundancy: Ratio::one(redundancy),
            standardised: standardised.map(Ratio::one),
        });
    }
    Ok(found)
}

/// One deviation of a reading whose direction is not known, with all that the laser may be out.
fn undirected(laser: &Laser, distance: Option<Length>, readings: usize, set_ups: usize) -> Length {
    let d_m = distance.unwrap_or(laser.sight_longest).as_m();
    let (lean, cone) = (laser.plane.as_ratio() * d_m, laser.cone.as_ratio() * d_m);
    let readings = readings as f64;
    let own = laser.reading.as_m() * laser.reading.as_m();
    Length::m((own + readings * (set_ups as f64 * lean * lean + cone * cone)).sqrt())
}

/// The columns of the laser's own errors.
struct Leans {
    first: usize,
    /// Whether all set-ups share one lean, which turns with the laser.
    shared: bool,
    cone: usize,
}

impl Leans {
    /// Adds the unknowns, each with what is known of it beforehand.
    fn of(used: &[&LaserSetUp], laser: &Laser, net: &mut Net) -> Self {
        let shared = used.iter().all(|s| s.heading.is_some());
        let first = net.unknowns;
        let planes: Vec<String> = if shared {
            vec!["plane of the laser".into()]
        } else {
            used.iter().map(|s| format!("plane of set-up {}", s.set_up.name)).collect()
        };
        let times = planes.len() as f64;
        let lean = laser.plane.as_ratio() * times.sqrt();
        let both = planes.iter().flat_map(|p| [format!("{p}, along"), format!("{p}, across")]);
        let known = both.map(|what| (what, lean)).chain([("cone".to_owned(), laser.cone.as_ratio())]);
        for (what, deviation) in known {
            net.equations.push(Equation {
                name: ReadingName { set_up: "laser".into(), point: what, row: 0 },
                terms: vec![(net.unknowns, 1.0)],
                observed: 0.0,
                deviation,
                prior: true,
            });
            net.unknowns += 1;
        }
        Self { first, shared, cone: net.unknowns - 1 }
    }

    fn terms(
        &self,
        at: usize,
        standing: &LaserSetUp,
        (x, y): (Length, Length),
        apart: Length,
    ) -> [(usize, f64); 3] {
        let (x, y) = (x.as_m(), y.as_m());
        let turned = standing.heading.filter(|_| self.shared).map_or(0.0, Angle::as_rad);
        let (sin, cos) = (maths::sin(turned), maths::cos(turned));
        let column = if self.shared { self.first } else { self.first + 2 * at };
        [(column, x * cos + y * sin), (column + 1, y * cos - x * sin), (self.cone, apart.as_m())]
    }
}

#[cfg(test)]
#[path = "laser_tests.rs"]
mod tests;
