//! Steps done one after the other, each changing what it says it changes.

use super::offence::{Touched, offends};
use super::{Claim, Marks, Order, Program, Refusal};

/// How everything is after some steps.
#[derive(Clone, Debug)]
pub(super) struct Now {
    /// The state of each thing.
    pub state: Vec<usize>,
    /// The last step that changed it.
    pub last: Vec<Option<usize>>,
    /// How many are in each home, where that is known.
    pub count: Vec<Option<i64>>,
    /// The steps done.
    pub done: Marks,
}

impl Now {
    /// Before any step.
    pub fn start(program: &Program) -> Self {
        Self {
            state: program.things.iter().map(|thing| thing.start).collect(),
            last: vec![None; program.things.len()],
            count: program.homes.iter().map(|home| home.start).collect(),
            done: Marks::none(program.work.len()),
        }
    }

    /// Does a step, which may be done now.
    pub fn step(&mut self, program: &Program, step: usize) {
        for change in &program.work[step].changes {
            self.state[change.thing] = change.to;
            self.last[change.thing] = Some(step);
        }
        for &(from, to, count) in &program.work[step].pins {
            for (home, more) in [(from, -count), (to, count)] {
                self.count[home] = self.count[home].and_then(|there| there.checked_add(more));
            }
        }
        self.done.set(step);
    }

    /// Does steps in an order.
    ///
    /// # Errors
    /// A step that is not there, is done twice, or is begun before what it waits for is done.
    pub fn replay(program: &Program, order: &Order, steps: &[usize]) -> Result<Self, Refusal> {
        let mut now = Self::start(program);
        for &step in steps {
            may(order, &now.done, step)?;
            now.step(program, step);
        }
        Ok(now)
    }
}

fn may(order: &Order, done: &Marks, step: usize) -> Result<(), Refusal> {
    if step >= order.steps() {
        return Err(Refusal::NoSuchStep(step));
    }
    if done.has(step) {
        return Err(Refusal::Twice { step });
    }
    if order.may_begin(step, done) { Ok(()) } else { Err(Refusal::TooEarly { step }) }
}

/// Every number of a program and of a claim names something.
///
/// # Errors
/// One that does not.
pub(super) fn sound(program: &Program, claim: &Claim) -> Result<(), Refusal> {
    let (steps, things, homes) = (program.work.len(), program.things.len(), program.homes.len());
    let fine = program.work.iter().all(|work| {
        work.changes.iter().all(|change| change.thing < things)
            && work.pins.iter().all(|&(from, to, _)| from < homes && to < homes)
            && work
                .round
                .is_none_or(|(at, radius)| at[0].is_finite() && at[1].is_finite() && radius.is_finite())
    });
    let named = match *claim {
        Claim::Begins { step, thing, .. } | Claim::BeginsNot { step, thing, .. } => {
            step < steps && thing < things
        }
        Claim::Least { step, home, .. } | Claim::Most { step, home, .. } => step < steps && home < homes,
        Claim::Bounds { home } | Claim::HomeAgain { home } => home < homes,
        Claim::Held { body, state, home, .. } => {
            home < homes && program.things.get(body).is_some_and(|thing| state < thing.states.len())
        }
        Claim::OnTheLine { body, state } => {
            program.things.get(body).is_some_and(|thing| state < thing.states.len())
        }
        Claim::NobodyUnder { step } | Claim::WayBack { step } => step < steps,
        Claim::Open { body } => program.things.get(body).is_some_and(|thing| thing.open.is_some()),
        Claim::Home { thing }
        | Claim::OpenIs { thing, .. }
        | Claim::Never { thing, .. }
        | Claim::HomeNot { thing, .. } => thing < things,
        Claim::Race(_) | Claim::Overlap => true,
    };
    if fine && named { Ok(()) } else { Err(Refusal::NoSuchThing) }
}

/// Replays a story: the steps done in their order, then those begun at once. At its end the claim must be offended.
///
/// # Errors
/// The first thing that is not so.
pub fn story(
    program: &Program,
    order: &Order,
    claim: &Claim,
    done: &[usize],
    begun: &[usize],
) -> Result<(), Refusal> {
    sound(program, claim)?;
    let now = Now::replay(program, order, done)?;
    for (number, &step) in begun.iter().enumerate() {
        may(order, &now.done, step)?;
        if begun[..number].contains(&step) {
            return Err(Refusal::Twice { step });
        }
    }
    let touched = Touched::of(program, claim);
    if offends(program, order, &touched, claim, &now, begun) { Ok(()) } else { Err(Refusal::NoOffence) }
}
