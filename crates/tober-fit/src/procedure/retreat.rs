//! A way back from a stage: steps undone, the last first.

use super::offence::{Touched, away, offends};
use super::replay::Now;
use super::{Claim, Marks, Order, Program, Refusal};

/// A way back that is claimed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Retreat {
    /// The steps done where it begins.
    pub stage: Vec<usize>,
    /// The steps undone, in their order.
    pub undo: Vec<usize>,
    /// The steps still done where it ends, because they or what comes after them cannot be taken back.
    pub left: Vec<usize>,
    /// It is claimed that bodies and lines are then as before any step.
    pub home: bool,
}

/// Checks a way back: each step undone is done, can be taken back and has no follower done; it ends where it says and not
/// before it must; and at every stage on the way, with the step being undone under way, none of `hold` is offended.
/// Returns how many stages were looked at.
///
/// Undoing a step leads to the stage before it, from which the same step could be done again: what is true there of every
/// order is true on the way back. So the way is replayed from its end.
///
/// # Errors
/// The first thing that is not so.
pub fn retreat(
    program: &Program,
    order: &Order,
    hold: &[Claim],
    retreat: &Retreat,
) -> Result<usize, Refusal> {
    let steps = program.work.len();
    for &step in retreat.stage.iter().chain(&retreat.undo).chain(&retreat.left) {
        if step >= steps {
            return Err(Refusal::NoSuchStep(step));
        }
    }
    let stage = Marks::of(steps, &retreat.stage);
    if let Some(step) = (0..steps).find(|&step| stage.has(step) && !stage.holds(order.before(step))) {
        return Err(Refusal::TooEarly { step });
    }
    let mut done = stage;
    for &step in &retreat.undo {
        if !done.has(step) {
            return Err(Refusal::NotDone { step });
        }
        if let Some(follower) = (0..steps).find(|&other| done.has(other) && order.is_before(step, other)) {
            return Err(Refusal::FollowerDone { step, follower });
        }
        if program.work[step].for_good {
            return Err(Refusal::ForGood { step });
        }
        done.clear(step);
    }
    if done != Marks::of(steps, &retreat.left) {
        return Err(Refusal::EndsElsewhere);
    }
    let kept = |step: usize| {
        program.work[step].for_good
            || (0..steps)
                .any(|other| done.has(other) && program.work[other].for_good && order.is_before(step, other))
    };
    if let Some(step) = (0..steps).find(|&step| done.has(step) && !kept(step)) {
        return Err(Refusal::StopsEarly { step });
    }
    // From the end of the way to its beginning.
    let mut now = Now::start(program);
    while let Some(step) = (0..steps).find(|&step| done.has(step) && order.may_begin(step, &now.done)) {
        now.step(program, step);
    }
    if retreat.home
        && let Some(thing) = away(program, &now)
    {
        return Err(Refusal::NotHome { thing });
    }
    let mut held = Vec::with_capacity(hold.len());
    for claim in hold {
        super::replay::sound(program, claim)?;
        held.push((claim, Touched::of(program, claim)));
    }
    let look = |now: &Now, begun: &[usize]| {
        let offended =
            held.iter().any(|(claim, touched)| offends(program, order, touched, claim, now, begun));
        if !offended {
            return Ok(());
        }
        let done = (0..steps).filter(|&step| now.done.has(step)).collect();
        Err(Refusal::Offends { done, begun: begun.to_vec() })
    };
    look(&now, &[])?;
    for &step in retreat.undo.iter().rev() {
        look(&now, &[step])?;
        now.step(program, step);
        look(&now, &[])?;
    }
    Ok(2 * retreat.undo.len() + 1)
}
