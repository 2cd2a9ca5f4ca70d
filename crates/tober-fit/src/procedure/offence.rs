//! Whether a claim is offended at one stage.

use super::asked::{How, bars, touched};
use super::replay::Now;
use super::{Claim, Kind, NOTHING, Order, Program, Shared};

/// The steps that touch what a claim is about, and how.
pub(super) struct Touched(Vec<(usize, How)>);

impl Touched {
    pub fn of(program: &Program, claim: &Claim) -> Self {
        let list = match *claim {
            Claim::Race(shared) => touched(program).remove(&shared),
            Claim::Least { home, .. }
            | Claim::Most { home, .. }
            | Claim::Bounds { home }
            | Claim::Held { home, .. } => touched(program).remove(&Shared::Home(home)),
            _ => None,
        };
        Self(list.into_iter().flatten().collect())
    }

    /// Two steps that bar each other and are in no order.
    pub fn unordered(&self, order: &Order) -> Option<(usize, usize)> {
        self.0.iter().enumerate().find_map(|(at, &(one, how))| {
            let bad = |&&(other, also): &&(usize, How)| bars(how, also) && order.free(one, other);
            self.0[at + 1..].iter().find(bad).map(|&(other, _)| (one, other))
        })
    }

    /// The steps whose being under way matters to the claim.
    pub fn steps(&self, program: &Program, claim: &Claim) -> Vec<usize> {
        let mut steps: Vec<usize> = match *claim {
            Claim::Overlap => {
                (0..program.work.len()).filter(|&step| program.work[step].round.is_some()).collect()
            }
            _ => self.0.iter().map(|&(step, _)| step).collect(),
        };
        steps.dedup();
        steps
    }
}

/// Is the claim offended where these steps are done and those begun may be? Each step begun may begin.
pub(super) fn offends(
    program: &Program,
    order: &Order,
    touched: &Touched,
    claim: &Claim,
    now: &Now,
    begun: &[usize],
) -> bool {
    match claim {
        Claim::Begins { step, thing, state } => begun.contains(step) && now.state[*thing] != *state,
        Claim::BeginsNot { step, thing, states } => {
            begun.contains(step) && states.contains(&now.state[*thing])
        }
        Claim::Least { step, home, count } => {
            let others = begun.iter().copied().filter(|other| other != step);
            begun.contains(step) && low(program, now, *home, others).is_some_and(|low| low < *count)
        }
        Claim::Most { step, home, count } => {
            let others = begun.iter().filter(|&other| other != step);
            let brought: i64 = others.map(|&other| moved(program, other, *home).1).sum();
            begun.contains(step) && now.count[*home].is_some_and(|there| there + brought > *count)
        }
        Claim::Bounds { home } => {
            let too_few = low(program, now, *home, begun.iter().copied()).is_some_and(|low| low < 0);
            let brought: i64 = begun.iter().map(|&step| moved(program, step, *home).1).sum();
            too_few || now.count[*home].is_some_and(|there| there + brought > program.homes[*home].holds)
        }
        Claim::Race(_) => pairs(begun).any(|(one, other)| {
            let of = |step: usize| touched.0.iter().filter(move |touch| touch.0 == step);
            of(one).any(|&(_, how)| of(other).any(|&(_, also)| bars(how, also)))
        }),
        Claim::Overlap => pairs(begun).any(|(one, other)| overlap(program, one, other)),
        Claim::Held { body, state, home, count } => {
            // What does nothing holds nothing, wherever the body is.
            program.homes[*home].idle
                || (hangs(program, order, *body, *state, now, begun)
                    && low(program, now, *home, begun.iter().copied()).is_some_and(|low| low < *count))
        }
        Claim::OnTheLine { body, state } => hangs(program, order, *body, *state, now, begun),
        Claim::NobodyUnder { step } => {
            let work = &program.work[*step];
            let under = work.clear.is_some_and(|ground| work.works_in.contains(&ground));
            begun.contains(step) && work.lifts.is_some() && under
        }
        Claim::Open { body } => {
            let thing = &program.things[*body];
            let spot = |state: usize| thing.states.get(state).map(|state| state.spot);
            is_open(program, now) && thing.open.is_some_and(|open| spot(open) != spot(now.state[*body]))
        }
        Claim::OpenIs { thing, state } => is_open(program, now) && now.state[*thing] != *state,
        Claim::Never { thing, state } => now.state[*thing] == *state,
        Claim::HomeNot { thing, state } => all_done(program, now) && now.state[*thing] == *state,
        Claim::Home { thing } => all_done(program, now) && now.state[*thing] != program.things[*thing].start,
        Claim::HomeAgain { home } => all_done(program, now) && now.count[*home] != program.homes[*home].start,
        Claim::WayBack { step } => {
            let mut least = order.before(*step).clone();
            least.set(*step);
            now.done == least && away(program, now).is_some()
        }
    }
}

/// A body or a line that is not as on the road.
pub(super) fn away(program: &Program, now: &Now) -> Option<usize> {
    program.things.iter().enumerate().position(|(number, thing)| match thing.kind {
        Kind::Body => now.state[number] != thing.start,
        Kind::Line => now.state[number] != NOTHING,
        _ => false,
    })
}

/// Whether a body is in a state and on no line, and nothing under way has it.
fn hangs(program: &Program, order: &Order, body: usize, state: usize, now: &Now, begun: &[usize]) -> bool {
    let line = |thing: usize| program.things[thing].kind == Kind::Line;
    let on_a_line = (0..program.things.len()).any(|thing| line(thing) && now.state[thing] == body + 1);
    now.state[body] == state
        && !on_a_line
        && !begun.iter().any(|&step| has_it(program, order, body, &now.last, step))
}

/// Whether a step under way has the body: it moves it on from where its last mover brought it, or puts on it a line that its
/// last user has left.
fn has_it(program: &Program, order: &Order, body: usize, last: &[Option<usize>], step: usize) -> bool {
    program.work[step].changes.iter().any(|change| {
        let puts_on = change.to == body + 1 && program.things[change.thing].kind == Kind::Line;
        let next = last[change.thing].is_none_or(|last| order.is_before(last, step));
        next && (change.thing == body || puts_on)
    })
}

/// What a step takes from a home and brings to it.
pub(super) fn moved(program: &Program, step: usize, home: usize) -> (i64, i64) {
    let pins = &program.work[step].pins;
    let sum =
        |of: &dyn Fn(&(usize, usize, i64)) -> bool| pins.iter().filter(|pin| of(pin)).map(|pin| pin.2).sum();
    (sum(&|pin| pin.0 == home), sum(&|pin| pin.1 == home))
}

/// How many are in a home while steps under way have taken and not yet brought.
fn low(program: &Program, now: &Now, home: usize, begun: impl Iterator<Item = usize>) -> Option<i64> {
    let taken: i64 = begun.map(|step| moved(program, step, home).0).sum();
    now.count[home].map(|there| there - taken)
}

/// Whether all up to the open ride is done, and no more.
fn is_open(program: &Program, now: &Now) -> bool {
    program.open_after.is_some_and(|last| {
        (0..program.work.len()).all(|step| now.done.has(step) == (program.phase[step] <= last))
    })
}

fn all_done(program: &Program, now: &Now) -> bool {
    now.done.count() == program.work.len()
}

/// Whether two steps want ground clear that overlaps, under two names.
pub(super) fn overlap(program: &Program, one: usize, other: usize) -> bool {
    let (one, other) = (&program.work[one], &program.work[other]);
    let (Some((a, reach)), Some((b, more))) = (one.round, other.round) else { return false };
    let (along, across) = (a[0] - b[0], a[1] - b[1]);
    one.clear != other.clear && along * along + across * across < (reach + more) * (reach + more)
}

/// Every two of a list.
pub(super) fn pairs(list: &[usize]) -> impl Iterator<Item = (usize, usize)> + '_ {
    list.iter().enumerate().flat_map(|(at, &one)| list[at + 1..].iter().map(move |&other| (one, other)))
}
