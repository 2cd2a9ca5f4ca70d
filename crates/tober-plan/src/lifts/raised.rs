//! A lift by winch, from the places of a book to the plane in which the part turns.
//!
//! The plane stands upright through the hinge. Level in it is the way the part reaches farthest out: to its eye, or to where its
//! centre of gravity is before or after. What turns is the part and all that it carries, and that is found by following what
//! carries what, not by the list of what the step moves; the two are held against each other.

use super::{LiftBooks, Lifting, Places, checked, gusty};
use crate::aboard::provenance;
use tober_book::{Body, Placement, Point3, Ride, WinchLift};
use tober_calc::finding::{Finding, Subject};
use tober_calc::lift::{
    Asked, Hold, OnPart, Piece, Raised, Travel, findings as of_travel, gust_not_known, hung, over,
    pull_on_layer,
};
use tober_fit::lift as fit;
use tober_quantity::{Acceleration, Angle, Force, Length, Ratio, maths};

/// Standard gravity, m/s², 3rd CGPM (1901).
const GRAVITY_M_S2: f64 = 9.80665;
/// How far eye and sheave may be off the plane in which the part turns before a line there is no longer one in it: a fleet of a
/// degree or two over the lengths of a trailer. Common practice, no source.
const OFF_PLANE_M: f64 = 0.1;
/// How far from the book's own place the part may come by the lift's angles, beyond both tolerances: a hand's breadth and a half. Ours.
const OFF_PLACE_M: f64 = 0.15;
/// Less than this from the hinge, level, tells no way: a millimetre.
const NO_WAY_M: f64 = 1e-3;
/// What rows the travel is listed in; the greatest is looked for between them.
const ROWS: f64 = 18.0;

/// The findings of a lift by winch.
pub(super) fn findings(
    books: LiftBooks<'_>,
    lifting: Lifting<'_>,
    places: &Places<'_>,
    asked: &Asked,
) -> Vec<Finding> {
    let subject = Subject::Step(lifting.step.name.clone());
    let mut doubts = Vec::new();
    let found = worked(books, lifting, places, asked, &mut doubts);
    let found = found.unwrap_or_else(|missing| {
        [
            ("lift.line", "the line can hold the part over the whole travel"),
            ("lift.pull", "greatest pull of the winch rope while it hoists"),
            ("lift.wind-most", "wind limit of the lift, against the gust that what lifts it carries"),
        ]
        .map(|(code, title)| Finding::not_known(code, subject.clone(), title, &missing).never_overridden())
        .into()
    });
    let doubted = |finding: Finding| match finding.code {
        // What holds it afterwards and the check of what was worked rest on none of it.
        "lift.held" | "lift.over" | "lift.fit" | "lift.fit-gust" => finding,
        _ => doubts.iter().fold(finding, |finding, why| finding.doubted(why)),
    };
    found.into_iter().map(doubted).collect()
}

/// What turns or hangs: the part, and what it carries. What nobody knows the carrier of may be among it, and is told.
fn carried<'a>(
    ride: &'a Ride,
    body: &'a Body,
    places: &Places<'_>,
    doubts: &mut Vec<String>,
) -> Vec<(&'a Body, &'a Placement)> {
    let mut all = Vec::new();
    for name in places.keys() {
        match rests_on(ride, name, &body.name, places) {
            Some(true) => all.extend(there(ride, name, places)),
            Some(false) => {}
            None => doubts.push(format!(
                "What carries \"{name}\" before this step (`carried-by`): \"{}\" may.",
                body.name
            )),
        }
    }
    all
}

fn there<'a>(ride: &'a Ride, name: &str, places: &Places<'_>) -> Option<(&'a Body, &'a Placement)> {
    let body = ride.body(name)?;
    Some((body, body.placement(places.get(name)?)?))
}

/// Whether a body is another, or is carried by it, by way of others too. `None` where it is not told what carries it.
fn rests_on(ride: &Ride, name: &str, other: &str, places: &Places<'_>) -> Option<bool> {
    let mut name = name.to_owned();
    for _ in 0..=ride.bodies.len() {
        if name == other {
            return Some(true);
        }
        if name == "frame" {
            return Some(false);
        }
        let (one, at) = there(ride, &name, places)?;
        name.clone_from(at.carried_by.as_ref().or(one.carried_by.as_ref())?);
    }
    None
}

fn worked(
    books: LiftBooks<'_>,
    lifting: Lifting<'_>,
    places: &Places<'_>,
    asked: &Asked,
    doubts: &mut Vec<String>,
) -> Result<Vec<Finding>, String> {
    let Lifting { step, lift, body, back, .. } = lifting;
    let subject = Subject::Step(step.name.clone());
    let turns = carried(books.ride, body, places, doubts);
    if !turns.iter().any(|(one, _)| one.name == body.name) {
        return Err(format!("Where \"{}\" is before this step: the placement it is in.", body.name));
    }
    for (one, _) in &turns {
        if !step.moves.iter().any(|moved| moved.body == one.name) {
            doubts.push(format!(
                "Where \"{}\" comes to, which \"{}\" carries: the step does not move it.",
                one.name, body.name
            ));
        }
    }
    let falls =
        lift.falls.and_then(|falls| u32::try_from(falls).ok()).ok_or("How many falls carry it (`falls`).")?;
    let efficiency = lift.sheave_efficiency.ok_or("The efficiency of a sheave (`sheave-efficiency`).")?.0;
    let gravity = Acceleration::m_s2(GRAVITY_M_S2);
    let reeving = (falls, efficiency, gravity);
    let refused = |error: tober_calc::lift::LiftError| error.to_string();
    if lift.hangs == Some(true) {
        let nothing = OnPart { along: Length::ZERO, normal: Length::ZERO };
        let piece = |(one, _): &(&Body, &Placement)| piece(one, nothing, nothing);
        let pieces: Vec<Piece> = turns.iter().map(piece).collect();
        let mut found = hung(&subject, &pieces, reeving, asked).map_err(refused)?;
        let masses: Vec<_> = pieces.iter().map(|piece| piece.mass.high()).collect();
        let weight = masses.iter().fold(Force::ZERO, |sum, mass| sum + Force::weight(*mass));
        let said = fit::hung(&masses, gravity, weight).and_then(|()| of_rope(&found, weight, reeving, asked));
        found.push(checked(&subject, said));
        found.extend(gusty::hung(books, lifting, &turns, (falls, reeving.1), asked));
        return Ok(found);
    }
    let plane = Plane::of(lifting, places, doubts)?;
    // Where the part is before this step: at its last angle where the lift is taken back.
    let now = if back { plane.last } else { plane.first };
    let pieces = turns.iter().map(|(one, at)| {
        let (centre, off_by) = plane.on_part(&at.cg, now);
        piece(one, centre, off_by)
    });
    let (eye, _) = plane.on_part(&plane.eye, plane.first);
    let (sheave_x, sheave_z) = plane.level_and_up(&plane.sheave);
    let raised = Raised {
        pieces: pieces.collect(),
        eye,
        sheave_x: Length::m(sheave_x),
        sheave_z: Length::m(sheave_z),
        falls,
        efficiency: reeving.1,
        gravity,
    };
    let (start, end) = (plane.first.min(plane.last), plane.first.max(plane.last));
    let travel = Travel { start, end, step: (end - start) / ROWS };
    let found = over(&raised, &travel).map_err(refused)?;
    let asked = &Asked { hold: plane.hold(lift), ..asked.clone() };
    let mut all = of_travel(&subject, &found, asked).map_err(refused)?;
    if let (Some(pull), Some(hinge)) = (found.greatest_pull(), found.greatest_hinge()) {
        let question = fit::Question {
            pushes: Vec::new(),
            weights: turns.iter().map(|(one, at)| plane.weight(one, &at.cg)).collect(),
            eye: plane.turned(&plane.eye, now),
            sheave: plane.metres(&plane.sheave),
            least: start - now,
            most: end - now,
            gravity,
        };
        let claim = fit::Claim { pull, hinge, never_slack: found.slack.is_empty() };
        let hold = lift.held_back_at.as_ref().zip(lift.held_back_to.as_ref());
        let hold = hold.map(|(at, to)| (plane.turned(at, now), plane.metres(to)));
        let said = fit::raised(&question, &claim)
            .and_then(|()| of_rope(&all, pull, reeving, asked))
            .and_then(|()| of_hold(&all, &question, hold));
        all.push(checked(&subject, said));
        let all_of = (&found, asked);
        all.extend(gusty::turned(books, lifting, &turns, (&plane, now), all_of, &question));
    } else {
        let missing = "A greatest pull: there is none without a gust either.";
        all.extend(gust_not_known(&subject, missing));
    }
    Ok(all)
}

/// The pull of the winch rope and of the layer, checked from the finding that prints them.
fn of_rope(
    found: &[Finding],
    line: Force,
    (falls, efficiency, _): (u32, Ratio, Acceleration),
    asked: &Asked,
) -> Result<(), fit::Refusal> {
    let (line, efficiency) = (line.max(Force::ZERO), efficiency.as_one());
    if let Some(claimed) = claimed(found, "lift.pull") {
        fit::rope(line, falls, efficiency, claimed)?;
    }
    if let Some(claimed) = claimed(found, "lift.lower") {
        fit::let_out(line, falls, efficiency, claimed)?;
    }
    match (asked.winch_rated, &asked.drum) {
        (Some(first), Some(on)) => match pull_on_layer(first, on) {
            Ok(claimed) => fit::layer(first, on.drum, on.rope, on.layer, claimed),
            Err(_) => Err(fit::Refusal::NoQuestion("drum")),
        },
        _ => Ok(()),
    }
}

/// The greatest that a finding tells. It speaks of a load, which is a mass under standard gravity.
fn claimed(found: &[Finding], code: &str) -> Option<Force> {
    use tober_calc::finding::Measure;
    let finding = found.iter().find(|finding| finding.code == code)?;
    match finding.measure {
        Measure::AgainstLimit { high, .. } | Measure::Figure { high, .. } => {
            Some(Force::n(high.si * GRAVITY_M_S2))
        }
        _ => None,
    }
}

type Flat = (Length, Length);

/// What holds the part where the line is slack, checked from the finding that prints it.
fn of_hold(
    found: &[Finding],
    question: &fit::Question,
    hold: Option<(Flat, Flat)>,
) -> Result<(), fit::Refusal> {
    match (hold, claimed(found, "lift.hold")) {
        (Some(hold), Some(claimed)) => fit::held_back(question, hold, claimed),
        _ => Ok(()),
    }
}

fn piece(body: &Body, centre: OnPart, off_by: OnPart) -> Piece {
    Piece { name: body.name.clone(), mass: body.mass, mass_from: provenance(body.mass_from), centre, off_by }
}

/// The plane in which a part turns.
pub(super) struct Plane {
    hinge: Point3,
    eye: Point3,
    sheave: Point3,
    pub first: Angle,
    pub last: Angle,
    /// A unit along level in it.
    pub level: (f64, f64),
}

/// A place from the hinge: along, across, up, in metres.
fn from(hinge: &Point3, at: &Point3) -> (f64, f64, f64) {
    let m = |a: tober_quantity::Toleranced<Length>, b: tober_quantity::Toleranced<Length>| {
        (a.value - b.value).as_m()
    };
    (m(at.along, hinge.along), m(at.across, hinge.across), m(at.up, hinge.up))
}

impl Plane {
    fn of(lifting: Lifting<'_>, places: &Places<'_>, doubts: &mut Vec<String>) -> Result<Self, String> {
        let Lifting { lift, body, back, .. } = lifting;
        let hinge = lift.hinge.ok_or("A point of the hinge (`hinge`), or that the part hangs (`hangs`).")?;
        let eye = lift.eye.ok_or("Where the line is made fast (`eye`).")?;
        let sheave = lift.sheave.ok_or("The fixed sheave (`sheave`).")?;
        let first = lift.angle_first.ok_or("The angle where it begins (`angle-first`).")?;
        let last = lift.angle_last.ok_or("The angle where it ends (`angle-last`).")?;
        if first == last {
            return Err("A travel: it begins and ends at the same angle.".to_owned());
        }
        let exact = |at: &Point3| [at.along, at.across, at.up].iter().all(|c| c.off_by == Length::ZERO);
        if ![hinge, eye, sheave].iter().all(exact) {
            doubts.push("Hinge, eye and sheave without tolerance: they are worked as stated.".to_owned());
        }
        // As the lift is told; where the part is in truth counts for the end at which it is.
        let there = places.get(body.name.as_str()).and_then(|place| body.placement(place));
        let (told_before, told_after) = lifting.ends();
        let (before, after) = if back { (told_before, there) } else { (there, told_after) };
        let ways = [
            Some((from(&hinge, &eye), first)),
            before.map(|there| (from(&hinge, &there.cg), first)),
            after.map(|there| (from(&hinge, &there.cg), last)),
        ];
        let out = |way: &((f64, f64, f64), Angle)| maths::hypot(way.0.0, way.0.1);
        let Some(way) = ways.into_iter().flatten().max_by(|a, b| out(a).total_cmp(&out(b))) else {
            return Err("Where it is before and after.".to_owned());
        };
        let (length, turned) = (out(&way), maths::cos(way.1.as_rad()));
        if length < NO_WAY_M {
            return Err("Which way the part reaches out from its hinge.".to_owned());
        }
        // Beyond upright it reaches out the other way than level is counted.
        let sign = if turned < 0.0 { -1.0 } else { 1.0 };
        let level = (way.0.0 / length * sign, way.0.1 / length * sign);
        let plane = Self { hinge, eye, sheave, first, last, level };
        for (what, at) in [("eye", &eye), ("sheave", &sheave)] {
            let (x, y, _) = from(&hinge, at);
            let off = (x * level.1 - y * level.0).abs();
            if off > OFF_PLANE_M {
                doubts.push(format!(
                    "The {what} in the plane in which the part turns: it is {:.0} mm off.",
                    off * 1e3
                ));
            }
        }
        if let (Some(before), Some(after)) = (before, after) {
            plane.comes_to(before, after, doubts);
        }
        Ok(plane)
    }

    /// Whether the angles bring the part to where the book has it.
    fn comes_to(&self, before: &Placement, after: &Placement, doubts: &mut Vec<String>) {
        let turn = (self.last - self.first).as_rad();
        let (sin, cos) = (maths::sin(turn), maths::cos(turn));
        let (x, z) = self.level_and_up(&before.cg);
        let (to_x, to_z) = self.level_and_up(&after.cg);
        let off = maths::hypot(x * cos - z * sin - to_x, x * sin + z * cos - to_z);
        let spread = |at: &Placement| {
            let cg = [at.cg.along, at.cg.across, at.cg.up];
            cg.iter().fold(0.0, |sum, c| sum + c.off_by.as_m())
        };
        if off > OFF_PLACE_M + spread(before) + spread(after) {
            doubts.push(format!(
                "Hinge, angles and places that agree: by the angles its centre of gravity comes {:.0} mm from where \"{}\" has it.",
                off * 1e3,
                after.name
            ));
        }
    }

    /// A place from the hinge, level in the plane and up.
    fn level_and_up(&self, at: &Point3) -> (f64, f64) {
        let (x, y, z) = from(&self.hinge, at);
        (x * self.level.0 + y * self.level.1, z)
    }

    fn metres(&self, at: &Point3) -> (Length, Length) {
        let (x, z) = self.level_and_up(at);
        (Length::m(x), Length::m(z))
    }

    /// What level and up may be off.
    fn off_by(&self, at: &Point3) -> (f64, f64) {
        let level =
            at.along.off_by.as_m() * self.level.0.abs() + at.across.off_by.as_m() * self.level.1.abs();
        (level, at.up.off_by.as_m())
    }

    /// A place of the part as it lies at its first angle, once it is turned to another.
    fn turned(&self, at: &Point3, now: Angle) -> (Length, Length) {
        let turn = (now - self.first).as_rad();
        let (sin, cos) = (maths::sin(turn), maths::cos(turn));
        let (x, z) = self.level_and_up(at);
        (Length::m(x * cos - z * sin), Length::m(x * sin + z * cos))
    }

    /// What holds the part where the line is slack, where the book tells it.
    fn hold(&self, lift: &WinchLift) -> Option<Hold> {
        let (at, _) = self.on_part(lift.held_back_at.as_ref()?, self.first);
        let (to_x, to_z) = self.metres(lift.held_back_to.as_ref()?);
        Some(Hold { at, to_x, to_z, rated: lift.held_back_rated.map(|load| load.0) })
    }

    /// A place by its distances along the part and square to it, as it lies at an angle, and what they may be off.
    pub fn on_part(&self, at: &Point3, lies: Angle) -> (OnPart, OnPart) {
        let (sin, cos) = (maths::sin(lies.as_rad()), maths::cos(lies.as_rad()));
        let (x, z) = self.level_and_up(at);
        let (dx, dz) = self.off_by(at);
        let on = |along: f64, normal: f64| OnPart { along: Length::m(along), normal: Length::m(normal) };
        (
            on(x * cos + z * sin, z * cos - x * sin),
            on(dx * cos.abs() + dz * sin.abs(), dz * cos.abs() + dx * sin.abs()),
        )
    }

    /// A place of the part where it is at an angle, from the hinge.
    pub fn of_part(&self, at: OnPart, lies: Angle) -> Flat {
        let (sin, cos) = (maths::sin(lies.as_rad()), maths::cos(lies.as_rad()));
        let (e, n) = (at.along, at.normal);
        (e * cos - n * sin, e * sin + n * cos)
    }

    fn weight(&self, body: &Body, at: &Point3) -> fit::Weight {
        let (dx, dz) = self.off_by(at);
        fit::Weight {
            mass: (body.mass.low(), body.mass.high()),
            at: self.metres(at),
            off_by: (Length::m(dx), Length::m(dz)),
        }
    }
}
