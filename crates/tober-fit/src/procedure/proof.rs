//! Proofs that no stage offends, checked without a search.
//!
//! *Bars.* A thing is in a wrong state when a step begins only if the last step that changed it was a wrong writer (or none
//! was). A writer is barred when it cannot be that last one: the step in question comes before it, or another writer comes after
//! it and before the step in question.
//!
//! *Order.* Every two steps that bar each other are in some order.
//!
//! *Cuts.* Each stage belongs to a case: which step was the last to move the body, and which the last at each line. In a case some
//! steps are done and some are not; a cut whose own steps done and open follow from these bounds the count in that case.

use super::offence::{Touched, moved, overlap, pairs};
use super::replay::sound;
use super::{Claim, Kind, NOTHING, Order, Program, Refusal};
use crate::orders;

/// A proof.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Proof {
    /// Every wrong writer is barred.
    Bars(Vec<Bar>),
    /// Every two steps that bar each other are in an order.
    Ordered,
    /// Counts are bounded.
    Cuts(Vec<Cut>),
    /// It is seen from the steps themselves, without a stage.
    Plain,
}

/// Why a writer does not leave the thing in a wrong state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bar {
    /// The thing.
    pub thing: usize,
    /// The step, or `None` for the state before any.
    pub writer: Option<usize>,
    /// What bars it.
    pub by: Barred,
}

/// What bars a writer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Barred {
    /// It is not done yet.
    NotYet,
    /// This step writes after it.
    Overwritten(usize),
}

/// How few or how many are in a home at most, over the stages that hold some steps and not others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// The home.
    pub home: usize,
    /// Steps done in every stage meant.
    pub done: Vec<usize>,
    /// Steps not begun in any stage meant.
    pub open: Vec<usize>,
    /// Which end.
    pub side: orders::Side,
    /// The end, where it is met, and why nothing is beyond.
    pub claim: orders::Claim,
}

/// Checks a proof that no stage offends against a claim.
///
/// # Errors
/// The first thing that the proof does not prove.
pub fn proof(program: &Program, order: &Order, claim: &Claim, proof: &Proof) -> Result<(), Refusal> {
    sound(program, claim)?;
    match (claim, proof) {
        (Claim::Begins { step, thing, state }, Proof::Bars(bars)) => {
            barred(program, order, *thing, &|to| to == *state, bars, &When::Begins(*step))
        }
        (Claim::BeginsNot { step, thing, states }, Proof::Bars(bars)) => {
            barred(program, order, *thing, &|to| !states.contains(&to), bars, &When::Begins(*step))
        }
        (Claim::Open { body }, Proof::Bars(bars)) => {
            let Some(last) = program.open_after else { return Err(Refusal::NoSuchThing) };
            let thing = &program.things[*body];
            let spot = |state: usize| thing.states.get(state).map(|state| state.spot);
            let right = |to: usize| thing.open.is_some_and(|open| spot(open) == spot(to));
            barred(program, order, *body, &right, bars, &When::Phase(last))
        }
        (Claim::OpenIs { thing, state }, Proof::Bars(bars)) => {
            let Some(last) = program.open_after else { return Err(Refusal::NoSuchThing) };
            barred(program, order, *thing, &|to| to == *state, bars, &When::Phase(last))
        }
        (Claim::HomeNot { thing, state }, Proof::Bars(bars)) => {
            barred(program, order, *thing, &|to| to != *state, bars, &When::End)
        }
        (Claim::Never { thing, state }, Proof::Plain) => {
            // Whatever brings it there has it there when it is done.
            let brings = writers(program, *thing).into_iter().find(|&(_, to)| to == *state);
            if program.things[*thing].start == *state || brings.is_some() {
                return Err(Refusal::NotBarred { writer: brings.map(|(step, _)| step) });
            }
            Ok(())
        }
        (Claim::Home { thing }, Proof::Bars(bars)) => {
            let start = program.things[*thing].start;
            barred(program, order, *thing, &|to| to == start, bars, &When::End)
        }
        (Claim::WayBack { step }, Proof::Bars(bars)) => {
            for (number, thing) in program.things.iter().enumerate() {
                let start = match thing.kind {
                    Kind::Body => thing.start,
                    Kind::Line => NOTHING,
                    _ => continue,
                };
                barred(program, order, number, &|to| to == start, bars, &When::After(*step))?;
            }
            Ok(())
        }
        (Claim::Race(_), Proof::Ordered) => {
            let touched = Touched::of(program, claim);
            match touched.unordered(order) {
                Some((one, other)) => Err(Refusal::Unordered { one, other }),
                None => Ok(()),
            }
        }
        (Claim::Overlap, Proof::Ordered) => {
            let rounds = Touched::of(program, claim).steps(program, claim);
            let wrong =
                pairs(&rounds).find(|&(one, other)| order.free(one, other) && overlap(program, one, other));
            wrong.map_or(Ok(()), |(one, other)| Err(Refusal::Unordered { one, other }))
        }
        (Claim::Bounds { home }, Proof::Cuts(cuts)) => {
            let case = Case { done: Vec::new(), open: Vec::new(), takers: Vec::new(), writer: None };
            at_least(program, order, cuts, *home, &case, 0)?;
            let holds = i128::from(program.homes[*home].holds);
            let high = cuts.iter().filter(|cut| cut.home == *home && cut.side == orders::Side::Greatest);
            bounded(program, order, high, &case, holds)
        }
        (Claim::Least { step, home, count }, Proof::Cuts(cuts)) => {
            let befores = (0..order.steps()).filter(|&other| order.is_before(other, *step));
            let case =
                Case { done: befores.collect(), open: vec![*step], takers: vec![*step], writer: Some(*step) };
            at_least(program, order, cuts, *home, &case, *count)
        }
        (Claim::Most { step, home, count }, Proof::Cuts(cuts)) => {
            let befores = (0..order.steps()).filter(|&other| order.is_before(other, *step));
            let case =
                Case { done: befores.collect(), open: vec![*step], takers: vec![*step], writer: Some(*step) };
            let high = cuts.iter().filter(|cut| cut.home == *home && cut.side == orders::Side::Greatest);
            bounded(program, order, high, &case, i128::from(*count))
        }
        (Claim::Held { body, state, home, count }, Proof::Cuts(cuts)) => {
            if program.homes[*home].idle {
                return Err(Refusal::Offends { done: Vec::new(), begun: Vec::new() });
            }
            for case in cases(program, order, *body, *state) {
                at_least(program, order, cuts, *home, &case, *count)?;
            }
            Ok(())
        }
        (Claim::OnTheLine { body, state }, Proof::Plain) => {
            match cases(program, order, *body, *state).first() {
                Some(case) => Err(Refusal::NotCovered { writer: case.writer }),
                None => Ok(()),
            }
        }
        (Claim::NobodyUnder { step }, Proof::Plain) => {
            let work = &program.work[*step];
            let under = work.clear.is_some_and(|ground| work.works_in.contains(&ground));
            if under && work.lifts.is_some() {
                return Err(Refusal::Offends { done: Vec::new(), begun: vec![*step] });
            }
            Ok(())
        }
        (Claim::HomeAgain { home }, Proof::Plain) => {
            let over: i64 = (0..program.work.len())
                .map(|step| moved(program, step, *home))
                .map(|(taken, brought)| brought - taken)
                .sum();
            let all = || (0..program.work.len()).collect();
            if over == 0 { Ok(()) } else { Err(Refusal::Offends { done: all(), begun: Vec::new() }) }
        }
        _ => Err(Refusal::WrongKind),
    }
}

/// The stages at which a state is asked for.
enum When {
    /// Whenever a step begins.
    Begins(usize),
    /// When a step and what it needs is done, and no more.
    After(usize),
    /// When all up to a phase is done, and no more.
    Phase(usize),
    /// When everything is done.
    End,
}

impl When {
    /// Is a step done at each of these stages?
    fn done(&self, program: &Program, order: &Order, step: usize) -> bool {
        match *self {
            Self::Begins(begins) => order.is_before(step, begins),
            Self::After(last) => step == last || order.is_before(step, last),
            Self::Phase(last) => program.phase[step] <= last,
            Self::End => true,
        }
    }

    /// Is a step not done at any of them?
    fn open(&self, program: &Program, order: &Order, step: usize) -> bool {
        match *self {
            Self::Begins(begins) => step == begins || order.is_before(begins, step),
            Self::After(_) | Self::Phase(_) | Self::End => !self.done(program, order, step),
        }
    }
}

/// The steps that change a thing, with the state in which each leaves it.
fn writers(program: &Program, thing: usize) -> Vec<(usize, usize)> {
    let last = |step: usize| program.work[step].changes.iter().rev().find(|change| change.thing == thing);
    (0..program.work.len()).filter_map(|step| last(step).map(|change| (step, change.to))).collect()
}

fn barred(
    program: &Program,
    order: &Order,
    thing: usize,
    right: &dyn Fn(usize) -> bool,
    bars: &[Bar],
    when: &When,
) -> Result<(), Refusal> {
    let writers = writers(program, thing);
    let start = (!right(program.things[thing].start)).then_some(None);
    let wrong = writers.iter().filter(|&&(_, to)| !right(to)).map(|&(step, _)| Some(step));
    for writer in start.into_iter().chain(wrong) {
        let Some(bar) = bars.iter().find(|bar| bar.thing == thing && bar.writer == writer) else {
            return Err(Refusal::NotBarred { writer });
        };
        let holds = match bar.by {
            Barred::NotYet => writer.is_some_and(|writer| when.open(program, order, writer)),
            Barred::Overwritten(by) => {
                let later = writer.is_none_or(|writer| order.is_before(writer, by));
                by < program.work.len()
                    && later
                    && when.done(program, order, by)
                    && writers.iter().any(|&(step, _)| step == by)
            }
        };
        if !holds {
            return Err(Refusal::BadBar { writer });
        }
    }
    Ok(())
}

/// One case of a proof: steps done and not done in it, and those that are not under way.
struct Case {
    done: Vec<usize>,
    /// Not done.
    open: Vec<usize>,
    /// Not under way.
    takers: Vec<usize>,
    writer: Option<usize>,
}

/// Every case in which a body is in a state and on no line, but those that contradict themselves.
fn cases(program: &Program, order: &Order, body: usize, state: usize) -> Vec<Case> {
    let mut all: Vec<Case> = Vec::new();
    for (last, open) in last_writers(program, order, body, &|to| to == state) {
        // What moves it on is not under way.
        let takers = open.clone();
        all.push(Case { done: last.into_iter().collect(), open, takers, writer: last });
    }
    for line in (0..program.things.len()).filter(|&thing| program.things[thing].kind == Kind::Line) {
        let writers = writers(program, line);
        let puts_on = |step: &usize| writers.contains(&(*step, body + 1));
        if !writers.iter().any(|&(_, to)| to == body + 1) {
            continue;
        }
        let off = last_writers(program, order, line, &|to| to != body + 1);
        // Two steps that change both body and line cannot each be the last: one at the body, the other at the line.
        let changes =
            |step: usize, thing: usize| program.work[step].changes.iter().any(|change| change.thing == thing);
        let never = |case: &Case, last: Option<usize>| {
            case.writer
                .zip(last)
                .is_some_and(|(mover, user)| mover != user && changes(mover, line) && changes(user, body))
        };
        let both = |case: &Case, (last, open): &(Option<usize>, Vec<usize>)| Case {
            done: case.done.iter().copied().chain(*last).collect(),
            open: case.open.iter().chain(open).copied().collect(),
            // Nor is what puts the line on it next.
            takers: case.takers.iter().chain(open.iter().filter(|step| puts_on(step))).copied().collect(),
            writer: case.writer,
        };
        let pairs = all.iter().flat_map(|case| off.iter().map(move |off| (case, off)));
        all = pairs.filter(|(case, off)| !never(case, off.0)).map(|(case, off)| both(case, off)).collect();
    }
    all.retain(|case| {
        !case
            .done
            .iter()
            .any(|&done| case.open.iter().any(|&open| open == done || order.is_before(open, done)))
    });
    all
}

/// The writers that leave a thing in a state meant, with the writers that are then not done; `None` for none done.
fn last_writers(
    program: &Program,
    order: &Order,
    thing: usize,
    meant: &dyn Fn(usize) -> bool,
) -> Vec<(Option<usize>, Vec<usize>)> {
    let writers = writers(program, thing);
    let mut all = Vec::new();
    if meant(program.things[thing].start) {
        all.push((None, writers.iter().map(|&(step, _)| step).collect()));
    }
    for &(last, _) in writers.iter().filter(|&&(_, to)| meant(to)) {
        let later = writers.iter().map(|&(step, _)| step).filter(|&step| order.is_before(last, step));
        all.push((Some(last), later.collect()));
    }
    all
}

fn at_least(
    program: &Program,
    order: &Order,
    cuts: &[Cut],
    home: usize,
    case: &Case,
    wanted: i64,
) -> Result<(), Refusal> {
    let low = cuts.iter().filter(|cut| cut.home == home && cut.side == orders::Side::Least);
    bounded(program, order, low, case, i128::from(wanted))
}

/// Some cut that covers the case keeps the count on the right side of `wanted`, and adds up.
fn bounded<'c>(
    program: &Program,
    order: &Order,
    cuts: impl Iterator<Item = &'c Cut>,
    case: &Case,
    wanted: i128,
) -> Result<(), Refusal> {
    let mut refusal = Refusal::NotCovered { writer: case.writer };
    for cut in cuts {
        let steps = order.steps();
        let follows = |done: usize| {
            done < steps && case.done.iter().any(|&have| have == done || order.is_before(done, have))
        };
        // What is open in the cut is open in the case: after something not done, or not done itself and not under way.
        let shut = |open: usize| {
            let after = case.open.iter().any(|&not| order.is_before(not, open));
            open < steps && (after || (case.open.contains(&open) && case.takers.contains(&open)))
        };
        if !cut.done.iter().all(|&done| follows(done)) || !cut.open.iter().all(|&open| shut(open)) {
            continue;
        }
        let bound = cut.claim.value;
        let serves = match cut.side {
            orders::Side::Least => bound >= wanted,
            orders::Side::Greatest => bound <= wanted,
        };
        if !serves {
            refusal = Refusal::CutTooLow { bound, wanted };
            continue;
        }
        match adds_up(program, order, cut) {
            Ok(()) => return Ok(()),
            Err(wrong) => refusal = wrong,
        }
    }
    Err(refusal)
}

/// A cut's bound by additions alone.
fn adds_up(program: &Program, order: &Order, cut: &Cut) -> Result<(), Refusal> {
    let Some(start) = program.homes.get(cut.home).and_then(|home| home.start) else {
        return Err(Refusal::NoSuchThing);
    };
    let moves: Vec<(i64, i64)> = (0..program.work.len()).map(|step| moved(program, step, cut.home)).collect();
    let peak = |&(taken, brought): &(i64, i64)| match cut.side {
        _ if taken == 0 && brought == 0 => None,
        orders::Side::Least => Some(i128::from(-taken)),
        orders::Side::Greatest => Some(i128::from(brought)),
    };
    let question = orders::Question {
        after: order.direct().to_vec(),
        start: start.into(),
        change: moves.iter().map(|&(taken, brought)| i128::from(brought - taken)).collect(),
        peak: moves.iter().map(peak).collect(),
        done: cut.done.clone(),
        open: cut.open.clone(),
        side: cut.side,
    };
    orders::check(&question, &cut.claim).map_err(Refusal::Cut)
}
