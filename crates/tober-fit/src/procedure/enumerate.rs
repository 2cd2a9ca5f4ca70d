//! Every stage, every state it may be in, and everything that may be under way.

use super::offence::{Touched, offends};
use super::replay::{Now, sound};
use super::{Claim, Kind, Marks, Order, Program, Refusal};
use std::collections::BTreeMap;

/// What going through every stage found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found {
    /// No stage offends.
    Nothing {
        /// How many stages with what is under way were looked at.
        looked_at: usize,
    },
    /// This one does, and none with fewer steps done and begun.
    Offence {
        /// The steps done, in their order.
        done: Vec<usize>,
        /// The steps begun.
        begun: Vec<usize>,
    },
    /// There are more than were to be looked at.
    TooMany,
}

/// Looks for an offence against a claim at every stage, of at most `limit` with all that may be under way.
///
/// # Errors
/// A claim that names what is not there.
pub fn enumerate(program: &Program, order: &Order, claim: &Claim, limit: usize) -> Result<Found, Refusal> {
    sound(program, claim)?;
    let touched = Touched::of(program, claim);
    let matter = things(program, claim);
    let under_way = touched.steps(program, claim);
    // Of two ways to a stage that leave what matters alike, one is followed.
    let key = |now: &Now| -> Vec<(usize, Option<usize>)> {
        matter.iter().map(|&thing| (now.state[thing], now.last[thing])).collect()
    };
    type Level = BTreeMap<(Marks, Vec<(usize, Option<usize>)>), Vec<usize>>;
    let start = Now::start(program);
    let mut level: Level = BTreeMap::from([((start.done.clone(), key(&start)), Vec::new())]);
    let mut looked_at = 0;
    let mut best: Option<(Vec<usize>, Vec<usize>)> = None;
    while !level.is_empty() {
        let mut next: Level = BTreeMap::new();
        for history in level.values() {
            if best.as_ref().is_some_and(|(done, begun)| done.len() + begun.len() <= history.len()) {
                continue;
            }
            let now = Now::replay(program, order, history)?;
            for begun in begun_sets(order, claim, &now, &under_way, limit) {
                looked_at += 1;
                let shorter = best
                    .as_ref()
                    .is_none_or(|(done, also)| history.len() + begun.len() < done.len() + also.len());
                if shorter && offends(program, order, &touched, claim, &now, &begun) {
                    best = Some((history.clone(), begun));
                }
            }
            if looked_at > limit || next.len() > limit {
                return Ok(Found::TooMany);
            }
            for step in (0..program.work.len()).filter(|&step| order.may_begin(step, &now.done)) {
                let mut then = now.clone();
                then.step(program, step);
                next.entry((then.done.clone(), key(&then))).or_insert_with(|| {
                    let mut history = history.clone();
                    history.push(step);
                    history
                });
            }
        }
        level = next;
    }
    Ok(match best {
        Some((done, begun)) => Found::Offence { done, begun },
        None => Found::Nothing { looked_at },
    })
}

/// The things whose state matters to a claim.
fn things(program: &Program, claim: &Claim) -> Vec<usize> {
    let all = |of: &dyn Fn(Kind) -> bool| -> Vec<usize> {
        (0..program.things.len()).filter(|&thing| of(program.things[thing].kind)).collect()
    };
    match *claim {
        Claim::Begins { thing, .. }
        | Claim::BeginsNot { thing, .. }
        | Claim::OpenIs { thing, .. }
        | Claim::Never { thing, .. }
        | Claim::HomeNot { thing, .. }
        | Claim::Home { thing } => vec![thing],
        Claim::Open { body } => vec![body],
        Claim::Held { body, .. } | Claim::OnTheLine { body, .. } => {
            let mut things = all(&|kind| kind == Kind::Line);
            things.push(body);
            things
        }
        Claim::WayBack { .. } => all(&|kind| matches!(kind, Kind::Line | Kind::Body)),
        _ => Vec::new(),
    }
}

/// Every set of steps under way that may matter, smaller ones first.
fn begun_sets(order: &Order, claim: &Claim, now: &Now, matter: &[usize], limit: usize) -> Vec<Vec<usize>> {
    let ready: Vec<usize> = matter.iter().copied().filter(|&step| order.may_begin(step, &now.done)).collect();
    let alone = |step: usize| if order.may_begin(step, &now.done) { vec![vec![step]] } else { Vec::new() };
    match *claim {
        Claim::Begins { step, .. } | Claim::BeginsNot { step, .. } | Claim::NobodyUnder { step } => {
            alone(step)
        }
        Claim::Race(_) | Claim::Overlap => {
            super::offence::pairs(&ready).map(|(one, other)| vec![one, other]).collect()
        }
        Claim::Least { step, .. } | Claim::Most { step, .. } => {
            let mut sets = alone(step);
            if !sets.is_empty() {
                let others: Vec<usize> = ready.into_iter().filter(|&other| other != step).collect();
                sets = subsets(&others, limit);
                sets.iter_mut().for_each(|set| set.insert(0, step));
            }
            sets
        }
        Claim::Bounds { .. } | Claim::Held { .. } => subsets(&ready, limit),
        _ => vec![Vec::new()],
    }
}

/// Every subset, smaller ones first; no more than just past `limit`, which the caller then finds.
fn subsets(list: &[usize], limit: usize) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = vec![Vec::new()];
    for &step in list {
        if all.len() > limit {
            break;
        }
        let more: Vec<Vec<usize>> = all
            .iter()
            .map(|set| {
                let mut set = set.clone();
                set.push(step);
                set
            })
            .collect();
        all.extend(more);
    }
    all.sort_by_key(Vec::len);
    all
}
