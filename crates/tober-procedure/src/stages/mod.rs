//! C6 and C7: the worst that any stage puts on the legs, over the edges and on the turntable, over every order.
//!
//! Where a body is depends on its own steps only, and what a weight puts on a leg or over an edge is linear in where it is.
//! So each of these quantities is a sum over the steps done, and its worst value over all stages is one minimum cut
//! ([`tober_calc::orders`]). Each body counts as heavy or as light, and as far to the worse side, as it may be: with
//! `φ` the quantity for one kilogram at the worst point of the placement, `h = max(m_low φ, m_high φ)`, and a step that
//! moves it counts `h(new) − h(old)`.
//!
//! While a step is under way, what it moves may be anywhere on its way. A way about a hinge of up to half a turn lies in
//! the ball that has the straight line between its two ends as a diameter, whichever way round; the worst point of that
//! ball counts.
//!
//! Values are held in hundredths of a newton or newton metre, each rounded to the worse side, so that the cut is exact.
//!
//! # What must hold first
//! Order is restricted by `after` and phases alone; the moves of a body form a chain; what carries something does not move
//! without it; all legs touch, which is checked by the least load of each over the same stages. A turntable that is turned to
//! stated angles gives one cut for each; so does each set of legs on which it may stand ([`Partly`]).
//! Where one does not hold, what rests on it is not known; where a leg may come light, a value found and a bound are given.
//!
//! # Not covered
//! Riders, wind, the legs' own weight, packing; a way of more than half a turn; frames that bend.

mod bound;
mod conditions;
mod partly;
mod standing;
mod sums;
mod turntable;

pub use conditions::Condition;
pub use partly::{Partly, PartlyFoot};
pub use standing::{EdgeOver, Foot, Standing};
pub use turntable::{FreeTurntable, turntables};

use crate::run::Run;
use crate::track::tracks;
use std::collections::BTreeSet;
use sums::{Functional, Window, windows, worst};
use tober_book::Ride;
use tober_calc::orders::StepSet;

/// Hundredths.
pub(crate) const FINE: f64 = 100.0;

/// A value over every stage, and the stage.
#[derive(Clone, Debug)]
pub struct AtStage {
    /// The value: newtons, or newton metres.
    pub value: f64,
    /// The steps done there, in an order that the book admits.
    pub done: Vec<String>,
    /// The steps under way there.
    pub under_way: Vec<String>,
    /// What each body adds to it there.
    pub shares: Vec<(String, f64)>,
}

impl AtStage {
    /// The stage in a few words, with the numbers of its steps in the order in which they are printed.
    pub fn words(&self, ride: &Ride) -> String {
        let numbered = |name: &String| {
            let number = ride.steps.iter().position(|step| step.name == *name);
            number.map_or(format!("\"{name}\""), |number| format!("step {}, \"{name}\",", number + 1))
        };
        match self.under_way.as_slice() {
            [] => match self.done.last() {
                None => "before anything".to_owned(),
                Some(last) => format!("after {}", numbered(last).trim_end_matches(',')),
            },
            some => {
                let names: Vec<String> = some.iter().map(numbered).collect();
                let are = if some.len() == 1 { "is" } else { "are" };
                format!("while {} {are} under way", names.join(" and "))
            }
        }
    }
}

/// What a leg carries over every stage.
#[derive(Clone, Debug)]
pub struct FootOver {
    /// The leg.
    pub name: String,
    /// The least it carries while all touch. Below zero: it would have to pull, so it comes light there.
    pub least: AtStage,
    /// The most it carries while all touch.
    pub greatest: AtStage,
    /// What it can never carry more than, in any stage, whichever legs touch: newtons. The greatest, where all touch in
    /// every stage.
    pub bound: f64,
    /// Where a leg may come light: the most that was found on it at the stages looked at, with legs that only push.
    pub found: Option<f64>,
    /// What the book rates it for: newtons.
    pub rated: Option<f64>,
}

/// The worst of every stage.
#[derive(Clone, Debug)]
pub struct Stages {
    /// The conditions, each with whether it holds.
    pub conditions: Vec<Condition>,
    /// Each leg. Empty where a condition does not hold.
    pub feet: Vec<FootOver>,
    /// Each edge by each set of factors: the factored moment over it; zero and below stands.
    pub edges: Vec<EdgeOver>,
    /// The stages in which it stands on some of its legs and something moves or has been moved.
    pub partly: Vec<Partly>,
    /// The steps that move something and that no stage covers.
    pub not_covered: Vec<String>,
    /// Whether every leg touches in every stage, so that the loads are exact.
    pub all_touch: bool,
}

/// The worst of every stage of a ride on given feet, without the bodies that stay at home.
///
/// `None` where the book has no steps that move anything, or the steps go in a circle.
pub fn stages(ride: &Ride, absent: &BTreeSet<&str>, standing: &Standing) -> Option<Stages> {
    let runs = crate::run::runs(ride, absent).ok()?;
    // A night moves no body; the day has every stage of the build-up and of the pull-down.
    let run = runs.first()?;
    if !run.steps.iter().any(|step| !step.moves.is_empty()) {
        return None;
    }
    let tracks = tracks(run);
    let conditions = conditions::conditions(run, &tracks, ride);
    let holds = conditions.iter().all(|condition| condition.broken.is_none());
    let mut found = Stages {
        conditions,
        feet: Vec::new(),
        edges: Vec::new(),
        partly: Vec::new(),
        not_covered: Vec::new(),
        all_touch: false,
    };
    let by_legs = partly::by_legs(run, &tracks);
    let every = match &by_legs {
        Some(by_legs) => by_legs.values().flatten().cloned().collect(),
        None => windows(run, &tracks),
    };
    found.not_covered = sums::elsewhere(run, &every);
    if holds && let Some(by_legs) = &by_legs {
        found.partly = partly::partly(run, by_legs, standing);
    }
    let windows = match by_legs {
        Some(by_legs) => {
            let on_all = by_legs.into_iter().filter(|(legs, _)| partly::on_all(standing, legs));
            on_all.flat_map(|(_, windows)| windows).collect()
        }
        None => every,
    };
    if !holds || windows.is_empty() {
        return Some(found);
    }
    let springs = standing.springs();
    for (number, foot) in standing.feet.iter().enumerate() {
        let Some(influence) = springs.as_ref().and_then(|springs| springs.get(number)) else { continue };
        let functional = Functional {
            per_newton: influence.per_newton,
            light: 1.0,
            heavy: 1.0,
            tilt: 0.0,
            axis: [0.0; 2],
        };
        let greatest = worst(run, &windows, &functional, true).map(|mut at| {
            at.value += influence.gap_high;
            at
        });
        let least = worst(run, &windows, &functional, false).map(|mut at| {
            at.value += influence.gap_low;
            at
        });
        let (Some(greatest), Some(least)) = (greatest, least) else { continue };
        let (name, bound) = (foot.name.clone(), greatest.value);
        found.feet.push(FootOver { name, least, bound, found: None, greatest, rated: foot.rated });
    }
    found.all_touch = !found.feet.is_empty() && found.feet.iter().all(|foot| foot.least.value >= 0.0);
    if !found.all_touch {
        for (number, foot) in found.feet.iter_mut().enumerate() {
            let (bound, most) = bound::bound(run, &windows, standing, &[], number);
            foot.bound = bound.map_or(f64::INFINITY, |bound| bound.value);
            foot.found = most;
        }
    }
    found.edges = standing.edges_over(run, &windows);
    Some(found)
}

/// The names of the steps of a set, in an order that the book admits.
pub(crate) fn named(run: &Run<'_>, set: &StepSet) -> Vec<String> {
    run.order.an_order(set).into_iter().map(|step| run.step(step).name.clone()).collect()
}

/// A window of a run in which it stands on the same legs with the turntable at the same angle.
pub(crate) type Over<'a> = &'a [Window];
