//! From readings to the height of the ground under each foot.

use std::collections::BTreeMap;
use tober_book::{Pitch, Point, Readings, Repeated, Ride, StaffKind, StaffReadings, TapeReadings, Visit};
use tober_calc::finding::{Basis, Finding, Subject};
use tober_calc::survey::{
    Axis, Closure, ClosureLimit, FixedPoint, Instrument, LevelReading, Place, SetUp, Sight, StaffReading,
    StaffSurvey, Surface, Survey, SurveyError, TapeReading, TapeSurvey, closure_finding, staff, tape,
};
use tober_quantity::{Length, Slope, maths};

/// The ground as far as it was read.
#[derive(Debug, Default)]
pub(crate) struct Heights {
    /// For each support of the book, the height of the ground under it and its deviation. The deviation is
    /// missing where that of the instrument is not known.
    pub under: BTreeMap<String, (Length, Option<Length>)>,
    /// The surveyed ground, in the axes of the frame, where there are enough points for one.
    pub surface: Option<Surface>,
    /// Whether the deviations mean anything.
    pub deviations_known: bool,
    /// What was found of the readings.
    pub findings: Vec<Finding>,
}

/// Reads the ground under each support off the readings of the pitch.
pub(crate) fn heights(ride: &Ride, pitch: &Pitch, visit: &Visit) -> Heights {
    let Some(readings) = &pitch.readings else {
        return missing("Readings of the ground: a tape at each leg, or a staff.");
    };
    match readings {
        Readings::Tape(readings) => from_tape(ride, readings),
        Readings::Staff(readings) => from_staff(ride, readings, visit),
        Readings::WaterLevel(_) | Readings::Scale(_) => missing(
            "A tape or a staff survey: water level and painted scale are read, and not yet worked out.",
        ),
    }
}

fn missing(what: &str) -> Heights {
    let title = "heights of the ground under the feet";
    let finding = Finding::not_known("survey.heights", Subject::Pitch, title, what);
    Heights { findings: vec![finding], ..Heights::default() }
}

fn refused(error: &SurveyError) -> Heights {
    missing(&error.to_string())
}

fn from_tape(ride: &Ride, readings: &TapeReadings) -> Heights {
    let known = readings.slope_deviation.is_some() && readings.tape_deviation.is_some();
    // Where nobody said how good the instrument is, a figure stands in so that heights can be worked out;
    // the deviations that come of it are thrown away.
    let slope_deviation = readings.slope_deviation.unwrap_or(Slope::mm_per_m(1.0));
    let levels = [(Axis::X, &readings.slope_along), (Axis::Y, &readings.slope_across)]
        .into_iter()
        .flat_map(|(axis, slopes): (Axis, &Repeated<Slope>)| {
            slopes.0.iter().map(move |&slope| LevelReading { axis, slope, deviation: slope_deviation })
        })
        .collect();
    let read = readings.legs.iter().filter_map(|leg| {
        let support = ride.support(&leg.leg)?;
        Some(TapeReading {
            point: leg.leg.clone(),
            place: place(support.at),
            above_frame: Length::ZERO,
            tape: leg.tape,
        })
    });
    let tape_deviation = readings.tape_deviation.unwrap_or(Length::mm(5.0));
    let survey = tape(&TapeSurvey { levels, tape_deviation, readings: read.collect() });
    match survey {
        Err(error) => refused(&error),
        Ok(survey) => {
            let mut heights = gather(&survey, known);
            for point in &survey.heights {
                heights.under.insert(point.name.clone(), (point.height, known.then_some(point.deviation)));
            }
            heights.say_what_is_missing(ride);
            heights
        }
    }
}

fn from_staff(ride: &Ride, readings: &StaffReadings, visit: &Visit) -> Heights {
    let known = readings.reading_deviation.is_some() && readings.line_of_sight_deviation.is_some();
    let mut set_ups: Vec<SetUp> = Vec::new();
    let mut places = BTreeMap::new();
    for reading in &readings.readings {
        let sight = match reading.kind {
            StaffKind::Back => Sight::Back,
            StaffKind::Between => Sight::Intermediate,
            StaffKind::Fore => Sight::Fore,
        };
        let booked = StaffReading {
            point: reading.point.clone(),
            sight,
            staff: reading.reading,
            distance: reading.distance,
        };
        match set_ups.iter_mut().find(|set_up| set_up.name == reading.set_up) {
            Some(set_up) => set_up.readings.push(booked),
            None => set_ups.push(SetUp { name: reading.set_up.clone(), readings: vec![booked] }),
        }
        if let Some(at) = reading.at {
            places.entry(reading.point.clone()).or_insert(place(at));
        }
    }
    let fixed: Vec<FixedPoint> = if readings.known_points.is_empty() {
        let first = readings.readings.first().map(|r| r.point.clone());
        first.map(|name| FixedPoint { name, height: Length::ZERO }).into_iter().collect()
    } else {
        readings.known_points.iter().map(|k| FixedPoint { name: k.point.clone(), height: k.height }).collect()
    };
    let instrument = Instrument {
        reading: readings.reading_deviation.unwrap_or(Length::mm(3.0)),
        line_of_sight: readings.line_of_sight_deviation.unwrap_or(Slope::mm_per_m(0.1)),
        sight_longest: readings.sight_longest.unwrap_or(Length::m(100.0)),
    };
    let survey = match staff(&StaffSurvey { instrument, fixed, set_ups, places }) {
        Err(error) => return refused(&error),
        Ok(survey) => survey,
    };
    let mut heights = gather(&survey, known);
    if let Some(closure) = &survey.closure {
        heights.findings.push(closing(closure, readings.closure_limit.as_deref()));
    }
    for support in &ride.supports {
        // A staff that stood under the foot itself needs no pose; any other point does.
        let stood_there = survey.heights.iter().find(|point| point.name == support.name);
        let read = match (stood_there, &visit.pose, &heights.surface) {
            (Some(point), ..) => Some((point.height, point.deviation)),
            (None, Some(pose), Some(surface)) => {
                let on_pitch = to_pitch(support.at, pose.at, pose.heading.as_rad());
                surface.height_at(on_pitch.x, on_pitch.y)
            }
            (None, ..) => None,
        };
        if let Some((height, deviation)) = read {
            heights.under.insert(support.name.clone(), (height, known.then_some(deviation)));
        }
    }
    heights.surface = match (&visit.pose, heights.surface.take()) {
        (Some(pose), Some(_)) => surface_on_frame(&survey, pose.at, pose.heading.as_rad()),
        _ => None,
    };
    heights.say_what_is_missing(ride);
    heights
}

/// How the run closed against the limit the pitch names.
fn closing(closure: &Closure, named: Option<&str>) -> Finding {
    let limit = named.and_then(ClosureLimit::named);
    let finding = closure_finding(closure, limit);
    match (named, limit) {
        (Some(name), None) => {
            let known: Vec<&str> = ClosureLimit::ALL.into_iter().map(ClosureLimit::name).collect();
            finding
                .doubted(&format!("There is no closing limit \"{name}\"; there are: {}.", known.join(", ")))
        }
        _ => finding,
    }
}

fn gather(survey: &Survey, deviations_known: bool) -> Heights {
    let mut findings = tober_calc::survey::findings(survey);
    if !deviations_known {
        let why = "Nobody said how good the instrument is, so nothing tells a slip from its usual error.";
        findings = findings.into_iter().map(|finding| finding.doubted(why)).collect();
    }
    Heights {
        under: BTreeMap::new(),
        surface: Surface::over(&survey.heights).ok(),
        deviations_known,
        findings,
    }
}

/// The surveyed points again, in the axes of a frame that stands at a pose.
fn surface_on_frame(survey: &Survey, origin: Point, heading_rad: f64) -> Option<Surface> {
    let (sin, cos) = (maths::sin(heading_rad), maths::cos(heading_rad));
    let mut points = survey.heights.clone();
    for point in &mut points {
        point.place = point.place.map(|at| {
            let (dx, dy) = (at.x - origin.along, at.y - origin.across);
            Place { x: dx * cos + dy * sin, y: dy * cos - dx * sin }
        });
    }
    Surface::over(&points).ok()
}

fn place(at: Point) -> Place {
    Place { x: at.along, y: at.across }
}

/// A point of the frame, in the axes of the pitch.
fn to_pitch(at: Point, origin: Point, heading_rad: f64) -> Place {
    let (sin, cos) = (maths::sin(heading_rad), maths::cos(heading_rad));
    Place {
        x: origin.along + at.along * cos - at.across * sin,
        y: origin.across + at.along * sin + at.across * cos,
    }
}

impl Heights {
    fn say_what_is_missing(&mut self, ride: &Ride) {
        let unread: Vec<&str> = ride
            .supports
            .iter()
            .map(|support| support.name.as_str())
            .filter(|name| !self.under.contains_key(*name))
            .collect();
        let title = "heights of the ground under the feet";
        for name in unread {
            let what = "A reading under this foot, inside the ground that was surveyed.";
            let subject = Subject::Support(name.to_owned());
            self.findings.push(
                Finding::not_known("survey.heights", subject, title, what)
                    .basis(Basis::ours("outside the surveyed points nothing is known of the ground")),
            );
        }
    }

    /// The greatest height of the ground inside a polygon and the greatest deviation that goes with it, in the
    /// axes of the frame; `None` where part of it was not surveyed.
    ///
    /// The ground is taken as triangles between surveyed points, so the greatest height is at a corner of the
    /// polygon, at a surveyed point inside it, or where a side of one crosses a side of the other.
    pub(crate) fn highest_within(&self, polygon: &[Point]) -> Option<(Length, Length)> {
        let surface = self.surface.as_ref()?;
        let corners: Vec<(f64, f64)> = polygon.iter().map(|p| (p.along.as_m(), p.across.as_m())).collect();
        let mut tried: Vec<(f64, f64)> = corners.clone();
        for triangle in surface.triangles() {
            let points: Vec<(f64, f64)> = triangle.iter().map(|(x, y, _)| (x.as_m(), y.as_m())).collect();
            tried.extend(points.iter().copied().filter(|&p| inside(p, &corners)));
            for side in 0..3 {
                for (i, &a) in corners.iter().enumerate() {
                    let b = corners[(i + 1) % corners.len()];
                    tried.extend(crossing(points[side], points[(side + 1) % 3], a, b));
                }
            }
        }
        let mut highest: Option<(Length, Length)> = None;
        for (x, y) in tried {
            // A crossing on the rim of the survey may fall outside it by rounding; its neighbours are tried too.
            let read = surface.height_at(Length::m(x), Length::m(y));
            if let Some((height, deviation)) = read {
                let so_far = highest.unwrap_or((height, deviation));
                highest = Some((height.max(so_far.0), deviation.max(so_far.1)));
            }
        }
        let all_corners_known =
            corners.iter().all(|&(x, y)| surface.height_at(Length::m(x), Length::m(y)).is_some());
        highest.filter(|_| all_corners_known)
    }
}

fn inside(p: (f64, f64), polygon: &[(f64, f64)]) -> bool {
    let mut within = false;
    for (i, &a) in polygon.iter().enumerate() {
        let b = polygon[(i + 1) % polygon.len()];
        if (a.1 > p.1) != (b.1 > p.1) && p.0 < (b.0 - a.0) * (p.1 - a.1) / (b.1 - a.1) + a.0 {
            within = !within;
        }
    }
    within
}

fn crossing(a: (f64, f64), b: (f64, f64), c: (f64, f64), d: (f64, f64)) -> Option<(f64, f64)> {
    let (r, s) = ((b.0 - a.0, b.1 - a.1), (d.0 - c.0, d.1 - c.1));
    let cross = r.0 * s.1 - r.1 * s.0;
    if cross == 0.0 {
        return None;
    }
    let (ex, ey) = (c.0 - a.0, c.1 - a.1);
    let (t, u) = ((ex * s.1 - ey * s.0) / cross, (ex * r.1 - ey * r.0) / cross);
    let on = |v: f64| (0.0..=1.0).contains(&v);
    (on(t) && on(u)).then_some((a.0 + t * r.0, a.1 + t * r.1))
}
