//! What becomes of it when a step is begun now, whatever the book waits for.
//!
//! The steps done are put in one order and the step at its end; everything that is claimed of moves, needs, homes, holders and the
//! winch line is asked of that one order. What goes wrong with the step in it is the answer. Where nothing does, the book's order
//! still is the maker's.

use crate::claim::{Asked, Rule, Test};
use crate::run::Run;
use crate::{carried, counts, free, held, state, track, winch};
use tober_calc::orders::{Precedence, StepSet};

/// Something that goes wrong when a step is begun too early.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrong {
    /// The rule it breaks.
    pub rule: Rule,
    /// What is wrong, as a sentence.
    pub says: String,
    /// What would be right.
    pub help: String,
}

/// What a step is at a stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Now {
    /// It is done.
    Done,
    /// It may be begun.
    Ready,
    /// It waits.
    NotYet {
        /// What must be done before, first to last.
        waits_for: Vec<usize>,
        /// What goes wrong if it is begun all the same; empty where the book's figures show nothing.
        wrong: Vec<Wrong>,
    },
    /// The steps done are no stage of this run, or there is no such step.
    NoStage,
}

/// The steps that may be begun at a stage, in the order of the book.
pub fn ready(run: &Run<'_>, done: &StepSet) -> Vec<usize> {
    let open = |step: &usize| {
        !done.contains(*step) && run.order.before(*step).iter().all(|first| done.contains(first))
    };
    (0..run.steps.len()).filter(open).collect()
}

/// What becomes of a step that is begun at a stage.
pub fn what_if(run: &Run<'_>, done: &StepSet, step: usize) -> Now {
    if step >= run.steps.len() || !run.order.is_stage(done) {
        return Now::NoStage;
    }
    if done.contains(step) {
        return Now::Done;
    }
    let before = run.order.before(step);
    let waits: Vec<usize> =
        run.order.an_order(before).into_iter().filter(|first| !done.contains(*first)).collect();
    if waits.is_empty() {
        return Now::Ready;
    }
    let mut order = run.order.an_order(done);
    order.push(step);
    Now::NotYet { waits_for: waits, wrong: wrong(run, &order) }
}

/// What goes wrong with the last of some steps, done in this order and in no other.
fn wrong(run: &Run<'_>, order: &[usize]) -> Vec<Wrong> {
    let last = order.len() - 1;
    let after: Vec<Vec<usize>> = (0..order.len()).map(|at| at.checked_sub(1).into_iter().collect()).collect();
    let Ok(chain) = Precedence::new(&after) else { return Vec::new() };
    let one = Run {
        ride: run.ride,
        way: run.way,
        absent: run.absent.clone(),
        steps: order.iter().map(|&step| run.step(step)).collect(),
        order: chain,
    };
    let tracks = track::tracks(&one);
    let mut asked = state::moves(&one, &tracks);
    asked.extend(state::needs(&one, &tracks));
    asked.extend(counts::needs(&one));
    asked.extend(counts::bounds(&one));
    asked.extend(held::held(&one, &tracks));
    asked.extend(carried::carried(&one, &tracks));
    asked.extend(free::free(&one, &tracks));
    asked.extend(winch::winch(&one, &tracks));
    let mut all: Vec<Wrong> = Vec::new();
    for Asked { rule, help, test, .. } in asked {
        let Test::Every(offends) = test else { continue };
        let Some(offence) = offends(&one.order) else { continue };
        // What is wrong without the step is no answer to what it does.
        let its = offence.done.contains(last) || offence.begun.contains(last);
        if its && all.iter().all(|other| other.says != offence.says) {
            all.push(Wrong { rule, says: offence.says, help });
        }
    }
    all
}
