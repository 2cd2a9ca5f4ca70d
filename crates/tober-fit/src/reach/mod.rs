//! Does a claimed way get the frame from its wheels onto its legs?
//!
//! The claim is a list of poses, from the trailer on its wheels and its hitch jack to the frame on its legs alone. A pose says what
//! stands at which height, how the frame lies, and what every spring carries. What is checked:
//!
//! - every pose is in equilibrium and every spring follows its law and pushes only: [`crate::supports`]. A wheel is a spring
//!   whose top is the height of the frame plane at which it hangs, so one that pushes past its droop is refused there;
//! - nothing carries more than it is rated for, the hitch jack stays in its travel, a screw in its thread, and no drawn-up leg is
//!   below the ground;
//! - from one pose to the next one thing changes: the hitch jack or one screw is wound, a leg is set, or the hitch jack is taken away;
//! - while something is wound, no spring is pressed before and clear after, or the other way round. Poses of one set of springs in
//!   contact form a convex set on which everything is linear, so two such poses have only poses of that set between them, and
//!   a limit that both keep is kept on the whole way. So a claim must name every pose at which a spring comes into contact;
//! - a leg is set where the frame leaves room: held by a pin, at least the overlift above its seat; a screw, no higher than it
//!   touches and no lower than its shortest. It then carries nothing, so it was set unloaded;
//! - the hitch jack carries nothing when it is taken away, and at the end every leg stands at its seat.
//!
//! # Not covered
//! Whether there is a better way or none; bending of the frame; friction; what the ground does.

mod refusal;

pub use refusal::Refusal;

use crate::supports::{self, Displacement, Load, Spring, Tolerance};
use tober_quantity::{Angle, Force, Length, Stiffness};

/// The most poses that are checked.
const POSES_MOST: usize = 20_000;
/// What a height may be off, and what a spring may be pressed or clear and still count as at its break: a ten-thousandth of a
/// millimetre, far below what a hand on a jack can do.
const HEIGHT_OFF_M: f64 = 1e-7;
/// What a load may be off, as a share of the weight.
const LOAD_OFF: f64 = 1e-6;

/// A spring and the height of the frame plane at which it begins to push.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stood {
    /// Along the frame.
    pub x: Length,
    /// Across the frame.
    pub y: Length,
    /// Force for each length of shortening.
    pub stiffness: Stiffness,
    /// The height at which it begins to push; for a leg its seat, for the hitch jack its shortest.
    pub top: Length,
}

/// The wheels of an axle: `top` is the frame plane with the wheel hanging.
#[derive(Clone, Debug, PartialEq)]
pub struct Axle {
    /// Its name.
    pub name: String,
    /// Left and right.
    pub wheels: [Stood; 2],
    /// What both sides may carry together.
    pub rated: Option<Force>,
}

/// The hitch jack.
#[derive(Clone, Debug, PartialEq)]
pub struct Jack {
    /// Wound right in.
    pub shortest: Stood,
    /// The top with the jack wound right out.
    pub longest: Length,
    /// What it may carry.
    pub rated: Option<Force>,
}

/// A leg.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// Its name.
    pub name: String,
    /// On its stack, at its seat.
    pub stood: Stood,
    /// What it wants before it is set.
    pub wants: Wants,
    /// The frame plane at which it touches the ground drawn up.
    pub drawn_up: Option<Length>,
    /// What it may carry.
    pub rated: Option<Force>,
}

/// What a leg wants before it is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wants {
    /// Held by a pin: the frame at least this far above the seat.
    Above(Length),
    /// A screw: the frame at least so high that the shortest screw fits under it.
    Screw {
        /// That height of the frame plane.
        shortest: Length,
    },
}

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The axles.
    pub axles: Vec<Axle>,
    /// The hitch jack.
    pub jack: Jack,
    /// The legs.
    pub legs: Vec<Leg>,
    /// The weight.
    pub load: Load,
}

/// A claimed pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Pose {
    /// The top of the hitch jack; `None` once it is taken away.
    pub jack: Option<Length>,
    /// The top of each leg; `None` while it is not set.
    pub legs: Vec<Option<Length>>,
    /// The frame plane at the origin.
    pub height: Length,
    /// The frame's rotation about the x axis.
    pub about_x: Angle,
    /// The frame's rotation about the y axis.
    pub about_y: Angle,
    /// What the wheels of each axle carry, left and right.
    pub wheel_loads: Vec<[Force; 2]>,
    /// What the hitch jack carries.
    pub jack_load: Force,
    /// What each leg carries.
    pub leg_loads: Vec<Force>,
}

impl Pose {
    /// The frame plane over a place.
    fn over(&self, x: Length, y: Length) -> Length {
        self.height + y * self.about_x.as_rad() - x * self.about_y.as_rad()
    }
}

/// What the check of a sound way found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Verdict {
    /// How many poses were checked.
    pub poses: usize,
    /// In how many of them no wheel carries anything, so that no chock holds.
    pub off_wheels: usize,
}

/// Checks a claimed way.
///
/// # Errors
/// All refusals of the first pose that has any, or of the step that leads to the next.
pub fn check(question: &Question, poses: &[Pose]) -> Result<Verdict, Vec<Refusal>> {
    shapes(question, poses)?;
    let mut off_wheels = 0;
    for (at, pose) in poses.iter().enumerate() {
        let mut refusals = of_pose(question, at, pose);
        if at == 0 {
            if pose.jack.is_none() || pose.legs.iter().any(Option::is_some) {
                refusals.push(Refusal::BeginsElsewhere);
            }
        } else {
            of_step(question, at, &poses[at - 1], pose, &mut refusals);
        }
        if at + 1 == poses.len() {
            ends(question, pose, &mut refusals);
        }
        if !refusals.is_empty() {
            return Err(refusals);
        }
        let carried = pose.wheel_loads.iter().flatten().fold(Force::ZERO, |sum, &load| sum + load);
        off_wheels += usize::from(carried <= question.load.weight * LOAD_OFF);
    }
    Ok(Verdict { poses: poses.len(), off_wheels })
}

fn shapes(question: &Question, poses: &[Pose]) -> Result<(), Vec<Refusal>> {
    if poses.len() < 2 || poses.len() > POSES_MOST {
        return Err(vec![Refusal::Poses { poses: poses.len(), least: 2, most: POSES_MOST }]);
    }
    for (at, pose) in poses.iter().enumerate() {
        let pairs = [
            ("heights of legs", question.legs.len(), pose.legs.len()),
            ("loads of legs", question.legs.len(), pose.leg_loads.len()),
            ("loads of axles", question.axles.len(), pose.wheel_loads.len()),
        ];
        for (what, expected, found) in pairs {
            if expected != found {
                return Err(vec![Refusal::Shape { pose: at, what, expected, found }]);
            }
        }
    }
    Ok(())
}

/// Every spring of a pose that is there: its name, where it stands, its top and what it carries.
fn springs<'q>(question: &'q Question, pose: &Pose) -> Vec<(String, &'q Stood, Length, Force)> {
    let mut list = Vec::new();
    for (axle, loads) in question.axles.iter().zip(&pose.wheel_loads) {
        for ((side, wheel), &load) in ["left", "right"].into_iter().zip(&axle.wheels).zip(loads) {
            list.push((format!("{}, {side}", axle.name), wheel, wheel.top, load));
        }
    }
    if let Some(top) = pose.jack {
        list.push(("the hitch jack".to_owned(), &question.jack.shortest, top, pose.jack_load));
    }
    for ((leg, top), &load) in question.legs.iter().zip(&pose.legs).zip(&pose.leg_loads) {
        if let Some(top) = *top {
            list.push((leg.name.clone(), &leg.stood, top, load));
        }
    }
    list
}

fn of_pose(question: &Question, at: usize, pose: &Pose) -> Vec<Refusal> {
    let mut refusals = Vec::new();
    let list = springs(question, pose);
    let of_c3 = supports::Question {
        supports: list
            .iter()
            .map(|(name, stood, top, _)| Spring {
                name: name.clone(),
                x: stood.x,
                y: stood.y,
                stiffness: stood.stiffness,
                gap: -*top,
            })
            .collect(),
        load: question.load,
    };
    let claim = supports::Claim {
        reactions: list.iter().map(|(_, _, _, load)| *load).collect(),
        displacement: Displacement::Rigid {
            height: pose.height,
            about_x: pose.about_x,
            about_y: pose.about_y,
        },
    };
    let tolerance = Tolerance { force: question.load.weight * LOAD_OFF, length: Length::m(1e-9) };
    if let Err(why) = supports::check(&of_c3, &claim, tolerance) {
        refusals.extend(why.into_iter().map(|refusal| Refusal::Pose { pose: at, refusal }));
    }
    rated(question, at, pose, &mut refusals);
    let off = Length::m(HEIGHT_OFF_M);
    match pose.jack {
        Some(top) if !(top >= question.jack.shortest.top - off && top <= question.jack.longest + off) => {
            let (least, most) = (question.jack.shortest.top, question.jack.longest);
            refusals.push(Refusal::JackOutOfTravel { pose: at, top, least, most });
        }
        None if pose.jack_load > Force::ZERO => {
            refusals.push(Refusal::CarriesWhileAway {
                pose: at,
                what: "the hitch jack".to_owned(),
                load: pose.jack_load,
            });
        }
        _ => {}
    }
    for ((leg, top), &load) in question.legs.iter().zip(&pose.legs).zip(&pose.leg_loads) {
        let seat = leg.stood.top;
        match (*top, leg.wants) {
            (None, _) => {
                if load > Force::ZERO {
                    refusals.push(Refusal::CarriesWhileAway { pose: at, what: leg.name.clone(), load });
                }
                let over = pose.over(leg.stood.x, leg.stood.y);
                if let Some(touches) = leg.drawn_up.filter(|&touches| over < touches - off) {
                    refusals.push(Refusal::DrawnUpTouches {
                        pose: at,
                        leg: leg.name.clone(),
                        below: touches - over,
                    });
                }
            }
            (Some(top), Wants::Above(_)) if (top - seat).abs() > off => {
                refusals.push(Refusal::OffItsSeat { pose: at, leg: leg.name.clone(), top, seat });
            }
            (Some(top), Wants::Screw { shortest }) if top < shortest - off || top > seat + off => {
                refusals.push(Refusal::ScrewOutOfThread {
                    pose: at,
                    leg: leg.name.clone(),
                    top,
                    shortest,
                    seat,
                });
            }
            _ => {}
        }
    }
    refusals
}

fn rated(question: &Question, at: usize, pose: &Pose, refusals: &mut Vec<Refusal>) {
    let mut try_one = |what: &str, load: Force, rated: Option<Force>| {
        if let Some(rated) = rated.filter(|&rated| load > rated + question.load.weight * LOAD_OFF) {
            refusals.push(Refusal::PastRated { pose: at, what: what.to_owned(), load, rated });
        }
    };
    for (axle, loads) in question.axles.iter().zip(&pose.wheel_loads) {
        try_one(&axle.name, loads[0] + loads[1], axle.rated);
    }
    try_one("the hitch jack", pose.jack_load, question.jack.rated);
    for (leg, &load) in question.legs.iter().zip(&pose.leg_loads) {
        try_one(&leg.name, load, leg.rated);
    }
}

/// What lies between one pose and the next.
fn of_step(question: &Question, at: usize, before: &Pose, pose: &Pose, refusals: &mut Vec<Refusal>) {
    let off = Length::m(HEIGHT_OFF_M);
    let mut changes = 0;
    let mut wound = false;
    match (before.jack, pose.jack) {
        (Some(a), Some(b)) if (a - b).abs() > Length::ZERO => {
            changes += 1;
            wound = true;
        }
        (Some(_), None) => {
            changes += 1;
            if before.jack_load > question.load.weight * LOAD_OFF {
                refusals.push(Refusal::JackTakenLoaded { pose: at, load: before.jack_load });
            }
        }
        (None, Some(_)) => refusals.push(Refusal::JackBack { pose: at }),
        _ => {}
    }
    for (i, leg) in question.legs.iter().enumerate() {
        match (before.legs[i], pose.legs[i]) {
            (Some(a), Some(b)) if (a - b).abs() > Length::ZERO => {
                changes += 1;
                wound = true;
            }
            (Some(_), None) => refusals.push(Refusal::LegTaken { pose: at, leg: leg.name.clone() }),
            (None, Some(top)) => {
                changes += 1;
                let over = before.over(leg.stood.x, leg.stood.y);
                let (has, wants) = match leg.wants {
                    Wants::Above(overlift) => (over - leg.stood.top, overlift),
                    Wants::Screw { .. } => (over - top, Length::ZERO),
                };
                if has < wants - off {
                    refusals.push(Refusal::NoRoom { pose: at, leg: leg.name.clone(), has, wants });
                }
            }
            _ => {}
        }
    }
    if changes > 1 {
        refusals.push(Refusal::TwoThings { pose: at });
    }
    if !wound {
        return;
    }
    for ((name, stood, was, _), (_, _, is, _)) in
        springs(question, before).iter().zip(&springs(question, pose))
    {
        let pressed_before = *was - before.over(stood.x, stood.y);
        let pressed_after = *is - pose.over(stood.x, stood.y);
        let crosses = |a: Length, b: Length| a > off && b < -off;
        if crosses(pressed_before, pressed_after) || crosses(pressed_after, pressed_before) {
            refusals.push(Refusal::PassesABreak { pose: at, spring: name.clone() });
        }
    }
}

fn ends(question: &Question, pose: &Pose, refusals: &mut Vec<Refusal>) {
    if pose.jack.is_some() {
        refusals.push(Refusal::EndsOnJack);
    }
    for (leg, top) in question.legs.iter().zip(&pose.legs) {
        let there = top.is_some_and(|top| (top - leg.stood.top).abs() <= Length::m(HEIGHT_OFF_M));
        if !there {
            refusals.push(Refusal::NotSetAtTheEnd { leg: leg.name.clone() });
        }
    }
}
