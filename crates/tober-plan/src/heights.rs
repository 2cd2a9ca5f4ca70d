//! From readings to the height of the ground under each foot.

use crate::readings::{Surveyed, place, surveyed};
use crate::settled::settled;
use std::collections::BTreeMap;
use tober_book::{Pitch, Point, Ride, Visit};
use tober_calc::finding::{Basis, Finding, Subject};
use tober_calc::survey::{Closure, ClosureLimit, Place, Surface, SurveyError, closure_finding};
use tober_quantity::{Length, maths};

/// The ground as far as it was read.
#[derive(Clone, Debug, Default)]
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
    /// How rough the ground is between the points, told in the axes in which they were read, so that it does not turn with
    /// the trailer.
    pub roughness: Option<Length>,
    /// Whether the ground was read under every foot itself.
    pub read_at_feet: bool,
    /// How the frame lies in the axes of the surface, where it is thought to be moved.
    pub moved: Moved,
}

/// A shift of the frame from where it stands: its datum goes to `to`, and it turns anticlockwise about that.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Moved {
    pub x_m: f64,
    pub y_m: f64,
    pub turned_rad: f64,
}

impl Moved {
    /// Where a point of the frame comes to lie.
    pub(crate) fn place(self, at: Point) -> Place {
        let to = Point { along: Length::m(self.x_m), across: Length::m(self.y_m) };
        to_pitch(at, to, self.turned_rad)
    }
}

/// Reads the ground under each support off the readings of the pitch.
pub(crate) fn heights(ride: &Ride, pitch: &Pitch, visit: &Visit) -> Heights {
    let Some(readings) = &pitch.readings else {
        return missing("Readings of the ground: a tape at each leg, or a staff.");
    };
    let read = match surveyed(ride, readings) {
        Err(error) => return missing(&error.to_string()),
        Ok(read) => read,
    };
    let mut heights = gather(&read);
    heights.surface = heights.lay(ride, visit, &read);
    heights.under_feet(ride, visit, &read);
    heights.read_at_feet =
        ride.supports.iter().all(|s| read.survey.heights.iter().any(|point| point.name == s.name));
    heights.say_what_is_missing(ride);
    heights.findings.extend(settled(ride, pitch, visit, &read));
    heights
}

fn missing(what: &str) -> Heights {
    let title = "heights of the ground under the feet";
    let finding = Finding::not_known("survey.heights", Subject::Pitch, title, what);
    Heights { findings: vec![finding], ..Heights::default() }
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

fn gather(read: &Surveyed) -> Heights {
    let mut findings = tober_calc::survey::findings(&read.survey);
    if !read.deviations_known {
        let why = "Nobody said how good the instrument is, so nothing tells a slip from its usual error.";
        findings = findings.into_iter().map(|finding| finding.doubted(why)).collect();
    }
    if let Some(closure) = &read.survey.closure {
        findings.push(closing(closure, read.closure_limit.as_deref()));
    }
    Heights { findings, deviations_known: read.deviations_known, ..Heights::default() }
}

/// A point of the pitch, in the axes of a frame that stands at a pose.
pub(crate) fn to_frame(at: Place, origin: Point, heading_rad: f64) -> Place {
    let (sin, cos) = (maths::sin(heading_rad), maths::cos(heading_rad));
    let (dx, dy) = (at.x - origin.along, at.y - origin.across);
    Place { x: dx * cos + dy * sin, y: dy * cos - dx * sin }
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
    /// The ground between the points, in the axes of the frame: a point under a foot is where the book has that foot,
    /// any other where it is on the pitch, with the trailer at its pose.
    fn lay(&mut self, ride: &Ride, visit: &Visit, read: &Surveyed) -> Option<Surface> {
        let mut on_frame = read.survey.clone();
        if !read.on_frame {
            for point in &mut on_frame.heights {
                let turned = |at| {
                    let pose = visit.pose.as_ref()?;
                    Some(to_frame(at, pose.at, pose.heading.as_rad()))
                };
                let foot = ride.support(&point.name).map(|support| place(support.at));
                point.place = foot.or(point.place.and_then(turned));
            }
        }
        match Surface::over_survey(&on_frame) {
            Ok(surface) => Some(surface),
            // So few points are no surface, and nothing is wrong with them.
            Err(SurveyError::TooFewPoints { .. } | SurveyError::OnOneLine { .. }) => None,
            Err(error) => {
                let title = "ground between the points";
                let finding = Finding::not_known("survey.surface", Subject::Pitch, title, &error.to_string());
                self.findings.push(finding);
                None
            }
        }
    }

    /// The ground under each foot: where a reading was made under the foot itself, by that; otherwise between the
    /// points.
    fn under_feet(&mut self, ride: &Ride, visit: &Visit, read: &Surveyed) {
        // In the axes of the pitch: four points of a grid lie on one circle there to the last digit, and the diagonal
        // between them is chosen alike however the trailer stands.
        let between = Surface::over_survey(&read.survey).ok().filter(|_| !read.on_frame);
        // Which of two equal diagonals a flat field of a grid gets decides which points are neighbours: the greater figure of the
        // field and of its mirror is taken, so that a mirrored pitch is as rough.
        let mut mirror = read.survey.clone();
        mirror
            .heights
            .iter_mut()
            .filter_map(|point| point.place.as_mut())
            .for_each(|place| place.y = -place.y);
        let seen = between.as_ref().or(self.surface.as_ref()).and_then(Surface::roughness);
        let mirrored = Surface::over_survey(&mirror).ok().and_then(|surface| surface.roughness());
        self.roughness = seen.map(|seen| mirrored.map_or(seen, |other| seen.max(other)));
        let mut bumps_unknown = Vec::new();
        for support in &ride.supports {
            let stood_there = read.survey.heights.iter().find(|point| point.name == support.name);
            let ground = match (stood_there, &visit.pose, &between) {
                (Some(point), ..) => Some((point.height, point.deviation)),
                (None, Some(pose), Some(surface)) => {
                    let on_pitch = to_pitch(support.at, pose.at, pose.heading.as_rad());
                    surface.ground_at(on_pitch.x, on_pitch.y).map(|ground| {
                        if ground.bumps.is_none() {
                            bumps_unknown.push(support.name.as_str());
                        }
                        (ground.height, ground.deviation())
                    })
                }
                (None, ..) => None,
            };
            if let Some((height, deviation)) = ground {
                let deviation = read.deviations_known.then_some(deviation);
                self.under.insert(support.name.clone(), (height, deviation));
            }
        }
        if !bumps_unknown.is_empty() {
            let missing = format!(
                "How rough the ground is between the points, under {}: read four points at least that have others all \
                 round them, or one under each foot.",
                bumps_unknown.join(", ")
            );
            let title = "ground between the points";
            self.findings.push(
                Finding::not_known("survey.between", Subject::Pitch, title, &missing).basis(Basis::ours(
                    "a height between two points is a guess about what lies between them",
                )),
            );
        }
    }

    /// The heights under the feet were the frame moved so; a foot off the surveyed ground has none.
    pub(crate) fn moved(&self, ride: &Ride, moved: Moved) -> Self {
        let mut heights = Self { moved, under: BTreeMap::new(), findings: Vec::new(), ..self.clone() };
        for support in &ride.supports {
            let at = moved.place(support.at);
            if let Some(ground) = self.surface.as_ref().and_then(|s| s.ground_at(at.x, at.y)) {
                // Away from the points that were read the ground is as rough as they tell; where they do not, how far off
                // its height may be is not known.
                let known = self.deviations_known && ground.bumps.is_some();
                let deviation = known.then(|| ground.deviation());
                heights.under.insert(support.name.clone(), (ground.height, deviation));
            }
        }
        heights
    }

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
    /// polygon, at a surveyed point inside it, or where a side of one crosses a side of the other. Between the points it
    /// is as rough as they tell: a bump may lie anywhere inside, so it is counted as in the middle of a triangle.
    pub(crate) fn highest_within(&self, polygon: &[Point]) -> Option<Highest> {
        let surface = self.surface.as_ref()?;
        let corners: Vec<(f64, f64)> = polygon
            .iter()
            .map(|&p| self.moved.place(p))
            .map(|place| (place.x.as_m(), place.y.as_m()))
            .collect();
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
            let (x, y) = (Length::m(x), Length::m(y));
            if let Some((height, deviation)) = surface.height_at(x, y) {
                let so_far = highest.unwrap_or((height, deviation));
                highest = Some((height.max(so_far.0), deviation.max(so_far.1)));
            }
        }
        let all_corners_known =
            corners.iter().all(|&(x, y)| surface.height_at(Length::m(x), Length::m(y)).is_some());
        let (height, readings) = highest.filter(|_| all_corners_known)?;
        Some(Highest { height, readings, bumps: self.roughness })
    }
}

/// The highest ground under a part.
pub(crate) struct Highest {
    pub height: Length,
    /// The greatest deviation that the readings leave there, however their errors hang together.
    pub readings: Length,
    /// What bumps between the points may add, as one deviation; nothing where the readings do not tell.
    pub bumps: Option<Length>,
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
