//! The way back from a stage: what is undone, the last first, and which steps are not easily gone back over.
//!
//! A step is undone only when none that waits for it is done, so every stage on the way is one that the rules admit, and what
//! is proved of every stage is true there: bodies are held, homes have what they must, and the loads of C6 are within
//! the same worst. While a step is undone, what it took is not yet back and what it brought is out: that is the same step
//! under way.

use crate::run::Run;
use crate::track::{NOTHING, What, tracks};
use tober_book::Lift;
use tober_calc::orders::StepSet;

/// Why going back over a step is not easy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mark {
    /// It cannot be taken back, for the reason that the book gives.
    NotUndone(String),
    /// To take it back, this body is lifted by the winch.
    LiftsByWinch(String),
    /// It lies behind a hold point: the chief looks again before work goes on from there.
    HoldPoint(String),
}

/// A step undone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Undone {
    /// The step.
    pub step: usize,
    /// Its name.
    pub name: String,
    /// Why that is not easy.
    pub marks: Vec<Mark>,
}

/// The way back from a stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WayBack {
    /// What is undone, in this order.
    pub undo: Vec<Undone>,
    /// What stays done, because it, or what waits for it, cannot be taken back.
    pub left: StepSet,
    /// Whether every body is then as on the road and every winch line free.
    pub home: bool,
}

/// The way back from a stage, or `None` where the steps are no stage.
pub fn way_back(run: &Run<'_>, stage: &StepSet) -> Option<WayBack> {
    if !run.order.is_stage(stage) {
        return None;
    }
    let mut left = StepSet::none(run.steps.len());
    for step in stage.iter().filter(|&step| run.step(step).not_undone.is_some()) {
        left = left.union(run.order.before(step));
        left.insert(step);
    }
    let order = run.order.an_order(stage);
    let undo = order.into_iter().rev().filter(|&step| !left.contains(step)).map(|step| Undone {
        step,
        name: run.step(step).name.clone(),
        marks: marks(run, step),
    });
    let rest = StepSet::from(left.len(), (0..left.len()).filter(|&step| !left.contains(step)));
    let home = tracks(run).iter().all(|(&what, track)| {
        let start = match what {
            What::Body(_) => track.start.as_str(),
            What::Line(_) => NOTHING,
            _ => return true,
        };
        track.possible(&run.order, &left, &rest).iter().all(|possible| possible.state == start)
    });
    Some(WayBack { undo: undo.collect(), left, home })
}

/// Why a step is not easily gone back over; empty where it is.
pub fn marks(run: &Run<'_>, step: usize) -> Vec<Mark> {
    let book = run.step(step);
    let mut all: Vec<Mark> = book.not_undone.iter().cloned().map(Mark::NotUndone).collect();
    match (&book.lift, &book.line_on) {
        (Some(Lift::Winch(lift)), _) => all.push(Mark::LiftsByWinch(lift.body.clone())),
        // The line is on for this step, and a part moves on it.
        (_, Some(body)) if book.moves.iter().any(|moved| moved.body == *body) => {
            all.push(Mark::LiftsByWinch(body.clone()));
        }
        _ => {}
    }
    all.extend(book.hold_point.iter().cloned().map(Mark::HoldPoint));
    all
}
