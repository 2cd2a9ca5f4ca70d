//! Further rules that would cure a refuted claim.

use crate::claim::Offends;
use tober_calc::orders::Precedence;

/// How many times a claim is tried in the search for a cure. Counted in work, so that the answer is the same everywhere.
const TRIALS: usize = 1500;
/// Up to how many rules are tried together.
const TOGETHER: usize = 3;

/// Further rules that cure a refuted claim.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cure {
    /// The steps of each pair: the second waits for the first. None of them can be left out.
    Rules {
        /// The pairs.
        rules: Vec<(String, String)>,
        /// No smaller set of rules cures it.
        fewest: bool,
    },
    /// No order cures it: something else is wrong.
    NoOrder,
    /// None was found within the search; that there is none is not proved.
    Open,
}

/// The fewest rules "the second waits for the first" with which a claim holds.
///
/// Tries every single rule that bars the stage found, then every pair, then three. A rule bars a stage when the step
/// that waits is begun in it and the one waited for is not done, or when it has another of `writers`, the steps that change the
/// thing, come last. A set that would close a circle is passed over.
pub(crate) fn cure(order: &Precedence, offends: &Offends<'_>, writers: &[usize]) -> Found {
    // What every step waits for already is the most that order can do: all in the order of the book, one by one.
    let mut left = TRIALS;
    for size in 1..=TOGETHER {
        let mut rules = Vec::new();
        match with(order, offends, writers, size, &mut rules, &mut left) {
            Tried::Holds => return Found::Rules(rules, true),
            Tried::NoRules if size == 1 => return Found::NoOrder,
            Tried::OutOfWork => return Found::Open,
            Tried::Fails | Tried::NoRules => {}
        }
    }
    Found::Open
}

/// What was found, by the numbers of steps.
pub(crate) enum Found {
    Rules(Vec<(usize, usize)>, bool),
    NoOrder,
    Open,
}

enum Tried {
    Holds,
    Fails,
    /// No rule bars the stage.
    NoRules,
    OutOfWork,
}

fn with(
    order: &Precedence,
    offends: &Offends<'_>,
    writers: &[usize],
    more: usize,
    rules: &mut Vec<(usize, usize)>,
    left: &mut usize,
) -> Tried {
    let Some(ruled) = order.with(rules) else { return Tried::Fails };
    if *left == 0 {
        return Tried::OutOfWork;
    }
    *left -= 1;
    let Some(offence) = offends(&ruled) else { return Tried::Holds };
    if more == 0 {
        return Tried::Fails;
    }
    // The steps begun come first, then those done, latest first: what waits there leaves most freedom to the rest.
    let mut steps = ruled.an_order(&offence.done);
    steps.extend(offence.begun.iter());
    let mut any = false;
    // Where both are done, a rule says which of two that change the thing comes last: it puts one, or what follows it, before
    // another, or what that waits for.
    let reorders = |first: usize, waits: usize| {
        let done = writers.iter().copied().filter(|&writer| offence.done.contains(writer));
        let done: Vec<usize> = done.collect();
        let after = |writer: usize| writer == first || ruled.is_before(writer, first);
        let before = |writer: usize| writer == waits || ruled.is_before(waits, writer);
        done.iter().any(|&one| after(one) && done.iter().any(|&other| other != one && before(other)))
    };
    for waits in steps.into_iter().rev() {
        for first in 0..ruled.len() {
            if first == waits || !ruled.unordered(first, waits) {
                continue;
            }
            if offence.done.contains(first) && (!offence.done.contains(waits) || !reorders(first, waits)) {
                continue;
            }
            any = true;
            rules.push((first, waits));
            match with(order, offends, writers, more - 1, rules, left) {
                Tried::Holds => return Tried::Holds,
                Tried::OutOfWork => return Tried::OutOfWork,
                Tried::Fails | Tried::NoRules => {}
            }
            rules.pop();
        }
    }
    if any { Tried::Fails } else { Tried::NoRules }
}
