//! The lifts of a ride book's steps: what is found of each, and the check by the part that did not work it.
//!
//! Kept apart from [`crate::plan()`]: it rests on ride book, kit and days, not on the packing, so it is no part of what a plan is
//! named by. Only the command works it out; the phone says where it is to be found.

mod by_hand;
mod gusty;
mod raised;

use crate::gusts;
use std::collections::BTreeMap;
use tober_book::{Body, Date, Kit, Lift, Phase, Pitch, Placement, Ride, Step, Visit, WinchLift, WindLimit};
use tober_calc::finding::{Finding, Standing, Subject};
use tober_calc::lift::{
    Asked, Crank, Day, Drum, Eye, EyeKind, Sling, at_winch, examined, layers, own_wind, rated,
};
use tober_quantity::{Angle, Length, Pressure};

/// The books that lifts are worked from. Without kit and visit the winch is not looked at.
#[derive(Clone, Copy, Debug)]
pub struct LiftBooks<'a> {
    /// The ride.
    pub ride: &'a Ride,
    /// The kit.
    pub kit: Option<&'a Kit>,
    /// The pitch.
    pub pitch: Option<&'a Pitch>,
    /// The visit.
    pub visit: Option<&'a Visit>,
}

/// A lift that a step does.
#[derive(Clone, Debug)]
pub struct LiftOfStep {
    /// The step.
    pub step: String,
    /// Its title.
    pub title: String,
    /// Whether a winch lifts, or else hands.
    pub by_winch: bool,
    /// The step whose lift is taken back, gone the other way; none where the step tells its own.
    pub takes_back: Option<String>,
    /// What is found of it.
    pub findings: Vec<Finding>,
}

/// Where every body is before a step, in the order of the book.
type Places<'a> = BTreeMap<&'a str, &'a str>;

/// A lift by winch, the way a step does it.
#[derive(Clone, Copy, Debug)]
struct Lifting<'a> {
    step: &'a Step,
    lift: &'a WinchLift,
    body: &'a Body,
    /// The step that tells it: another where it is taken back.
    told_by: &'a Step,
    /// Whether it is gone from its last angle to its first.
    back: bool,
}

impl<'a> Lifting<'a> {
    /// Where the book has the part when the lift begins as it is told, and when it ends.
    fn ends(self) -> (Option<&'a Placement>, Option<&'a Placement>) {
        let moved = self.told_by.moves.iter().find(|moved| moved.body == self.body.name);
        moved.map_or((None, None), |moved| (self.body.placement(&moved.from), self.body.placement(&moved.to)))
    }
}

/// Every step of a ride that lifts, by winch or by hand, in the order of the book, without what stays at home. A step that takes
/// a lift back and tells none of its own does the same lift the other way.
pub fn lifts(books: LiftBooks<'_>) -> Vec<LiftOfStep> {
    let ride = books.ride;
    let there = |name: &str| {
        !books.visit.is_some_and(|visit| visit.about.without.iter().any(|without| without == name))
    };
    let mut places: Places<'_> = ride
        .bodies
        .iter()
        .filter(|body| there(&body.name))
        .map(|body| (body.name.as_str(), crate::stand::ROAD))
        .collect();
    let mut all = Vec::new();
    for step in ride.steps.iter().filter(|step| step.only_with.iter().all(|body| there(body))) {
        all.extend(of_step(books, step, &places));
        if step.phase == Phase::Stopped {
            continue;
        }
        for moved in &step.moves {
            if let Some(place) = places.get_mut(moved.body.as_str()) {
                *place = &moved.to;
            }
        }
    }
    all
}

fn of_step(books: LiftBooks<'_>, step: &Step, places: &Places<'_>) -> Vec<LiftOfStep> {
    let subject = Subject::Step(step.name.clone());
    let mut all = Vec::new();
    for done in books.ride.lifts_of(step) {
        let (by_winch, mut findings) = match done.lift {
            Lift::Winch(lift) => {
                let there = |body: &&Body| places.contains_key(body.name.as_str());
                let Some(body) = books.ride.body(&lift.body).filter(there) else { continue };
                let lifting = Lifting { step, lift, body, told_by: done.told_by, back: done.back };
                (true, of_winch(books, lifting, places))
            }
            Lift::Hand(lift) if done.back => (false, by_hand::findings(&subject, &by_hand::back(lift))),
            Lift::Hand(lift) => (false, by_hand::findings(&subject, lift)),
        };
        findings.push(wind(books, &subject, step));
        all.push(LiftOfStep {
            step: step.name.clone(),
            title: step.title.clone(),
            by_winch,
            takes_back: done.back.then(|| done.told_by.name.clone()),
            findings,
        });
    }
    all
}

fn of_winch(books: LiftBooks<'_>, lifting: Lifting<'_>, places: &Places<'_>) -> Vec<Finding> {
    let step = lifting.step;
    let subject = Subject::Step(step.name.clone());
    let winch = winch(books, step.winch.as_ref().or(lifting.told_by.winch.as_ref()));
    let asked = asked(&winch, lifting);
    let mut all = raised::findings(books, lifting, places, &asked);
    match &winch {
        Some(Ok(winch)) => {
            all.push(rated(&subject, winch.lifting_rating.map(|load| load.0)));
            let until = books.visit.and_then(|visit| visit.about.until);
            all.push(examined(&subject, winch.examined.map(day), until.map(day)));
        }
        Some(Err(missing)) => {
            let title = "the winch is rated for lifting";
            all.push(Finding::not_known("lift.rated", subject.clone(), title, missing).never_overridden());
        }
        None => {}
    }
    all.push(at_winch(&subject, step.people.and_then(|people| u32::try_from(people).ok())));
    all
}

fn day(date: Date) -> Day {
    (date.year, date.month, date.day)
}

type Winch<'a> = Option<Result<&'a tober_book::Winch, String>>;

/// The winch of a step; none without a kit.
fn winch<'a>(books: LiftBooks<'a>, named: Option<&String>) -> Winch<'a> {
    let kit = books.kit?;
    Some(match (named, kit.winches.as_slice()) {
        (Some(name), all) => {
            let named = all.iter().find(|winch| winch.name == *name);
            named.ok_or_else(|| format!("The winch \"{name}\" of this step: the kit has none of that name."))
        }
        (None, [one]) => Ok(one),
        (None, []) => Err("The winch: the kit has none (`[[winch]]`).".to_owned()),
        (None, _) => {
            Err("Which winch lifts it: the kit has several, and the step names none (`winch`).".to_owned())
        }
    })
}

fn asked(winch: &Winch<'_>, lifting: Lifting<'_>) -> Asked {
    let lift = lifting.lift;
    let down = lift.angle_first.zip(lift.angle_last).is_some_and(|(first, last)| first > last);
    let mut asked = Asked {
        of_book: true,
        hinge_rated: lift.hinge_rated.map(|load| load.0),
        held_back_by: lift.held_back_by.clone(),
        then_held_by: then_held_by(lifting),
        from_top: down != lifting.back,
        brought_over_by: lift.brought_over_by.clone(),
        ..Asked::default()
    };
    if let Some(rated) = lift.eye_rated {
        let kind = lift.eye_is.map(|is| match is {
            tober_book::EyeKind::Lug => EyeKind::Lug,
            tober_book::EyeKind::Shoulder => EyeKind::Shoulder,
            tober_book::EyeKind::Plain => EyeKind::Plain,
        });
        asked.eye = Some(Eye { kind, rated: rated.0, axis: lift.eye_axis });
    }
    let legs = lift.sling_legs.and_then(|legs| u32::try_from(legs).ok());
    if let (Some(legs), Some(rated)) = (legs, lift.sling_rated) {
        // Of one leg the angle changes nothing; of more one that is not told counts as the flattest, past its limit.
        let angle = lift.sling_angle.unwrap_or(Angle::deg(if legs == 1 { 90.0 } else { 1.0 }));
        asked.sling = Some(Sling { legs, angle, rated: rated.0 });
    }
    let Some(Ok(winch)) = winch else { return asked };
    asked.winch_rated = winch.lifting_rating.map(|load| load.0);
    if let (Some(drum), Some(rope), Some(width), Some(length)) =
        (winch.drum_diameter, winch.rope_diameter, winch.drum_width, winch.rope_length)
    {
        // How much of the rope is out is not told, so the drum counts as full: the least pull.
        asked.drum = layers(drum, rope, width, length).map(|layer| Drum { drum, rope, layer });
    }
    if let (Some(length), Some(ratio), Some(efficiency)) = (winch.crank, winch.gear_ratio, winch.efficiency) {
        let [ratio, efficiency] = [ratio, efficiency].map(|share| share.0);
        asked.crank = Some(Crank { length, ratio, efficiency });
    }
    asked
}

/// What holds a part where the step brings it.
fn then_held_by(Lifting { step, lift, body, back, .. }: Lifting<'_>) -> Option<String> {
    let moved = step.moves.iter().find(|moved| moved.body == body.name);
    let there = moved.and_then(|moved| body.placement(&moved.to));
    let by_fixings = there.filter(|there| !there.held_by.is_empty()).map(|there| {
        let each: Vec<String> =
            there.held_by.iter().map(|by| format!("{} ({})", by.fixing, by.home)).collect();
        each.join(", ")
    });
    let told = if back { &lift.first_held_by } else { &lift.then_held_by };
    by_fixings.or_else(|| there.and_then(|there| there.rests_on.clone())).or_else(|| told.clone())
}

/// The wind limit of the step against that of the ride.
fn wind(books: LiftBooks<'_>, subject: &Subject, step: &Step) -> Finding {
    let of_ride = match books.visit {
        Some(visit) => gusts::stricter(books.ride, visit, |limits| limits.wind_in_service.as_ref()),
        None => books.ride.limits.as_ref().and_then(|limits| limits.wind_in_service.as_ref()),
    };
    let own = step.wind_limit.as_ref();
    if let (Some(own), Some(ride)) = (own, of_ride)
        && own.averaged_over == ride.averaged_over
        && own.at_height.is_some()
        && own.at_height == ride.at_height
    {
        let squared = |limit: &WindLimit| Ok(Pressure::pa(limit.speed.as_m_s() * limit.speed.as_m_s()));
        return own_wind(subject, squared(own), squared(ride));
    }
    let heights = [own, of_ride].into_iter().flatten().filter_map(|limit| limit.at_height);
    let top = heights.reduce(Length::max);
    let pressure = |limit: Option<&WindLimit>, whose: &str| {
        let limit = limit.ok_or_else(|| format!("The wind limit of {whose}."))?;
        let pitch = books.pitch.ok_or("The terrain of a pitch, since both limits are not read alike.")?;
        gusts::action(Some(limit), top, pitch).map(|wind| wind.pressure)
    };
    own_wind(subject, pressure(own, "this step (`wind-limit`)"), pressure(of_ride, "the ride (`[limits]`)"))
}

/// What the part that checks says, as a finding.
fn checked(subject: &Subject, said: Result<(), tober_fit::lift::Refusal>) -> Finding {
    let title = "the lift passes the check of the part that did not work it";
    let finding = Finding::statement("lift.fit", subject.clone(), title, said.is_ok()).never_overridden();
    match said {
        Ok(()) => finding,
        Err(why) => finding
            .note(why.to_string())
            .advice("Lift nothing by this plan, and report it: the fault is ours."),
    }
}

/// The worst standing of a lift: past its limit, else not known, else the worst.
pub fn standing_of(lift: &LiftOfStep) -> Standing {
    crate::assemble::whole(&lift.findings)
}
