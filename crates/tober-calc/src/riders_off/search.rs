//! The least greatest moment over all orders: stages in the order of the greatest moment on the way to them.

use super::kinds::Kinds;
use std::collections::{BTreeMap, BTreeSet};

/// The most stages that a search takes up.
pub(super) const STAGES_MOST: usize = 400_000;

/// What was found of the greatest moment.
pub(super) struct Least {
    /// The greatest moment of the best order found, N m; the first one where all stages are told from the start.
    pub greatest_n_m: u64,
    /// What it is at least.
    pub bound_n_m: u64,
    /// The kinds in the order in which they are taken off.
    pub order: Vec<usize>,
}

fn order_to(from: &BTreeMap<u64, (u64, usize)>, mut stage: u64) -> Vec<usize> {
    let mut order = Vec::new();
    while let Some(&(before, kind)) = from.get(&stage) {
        if before == stage {
            break;
        }
        order.push(kind);
        stage = before;
    }
    order.reverse();
    order
}

/// What a search under a cap comes to.
enum Under {
    /// An order that keeps to it.
    Order(Vec<usize>),
    /// There is none; the least moment above the cap at which a stage was turned away.
    None(u64),
    /// The work ended first.
    Open,
}

/// An order that never passes a cap: the stage with most off first, of those the one least out of balance.
fn under(kinds: &Kinds, cap_n_m: u64, stages_most: usize) -> Under {
    let (all, start) = (kinds.all(), kinds.whole_n_m(0));
    let total: usize = kinds.kinds.iter().map(|kind| kind.seats.len()).sum();
    let mut open = BTreeSet::from([(total, start, 0_u64)]);
    let mut from: BTreeMap<u64, (u64, usize)> = BTreeMap::from([(0, (0, 0))]);
    let mut above = u64::MAX;
    while let Some((aboard, _, stage)) = open.pop_first() {
        if stage == all {
            return Under::Order(order_to(&from, stage));
        }
        if from.len() > stages_most {
            return Under::Open;
        }
        for kind in (0..kinds.kinds.len()).filter(|&kind| kinds.aboard(stage, kind) > 0) {
            let next = stage + kinds.radix[kind];
            if from.contains_key(&next) {
                continue;
            }
            let moment = kinds.whole_n_m(next);
            if moment > cap_n_m {
                above = above.min(moment);
                continue;
            }
            from.insert(next, (stage, kind));
            open.insert((aboard - 1, moment, next));
        }
    }
    Under::None(above)
}

/// An order whose greatest moment is least.
///
/// A cap is put under the best order known, half way to the bound; under it there is an order, or none and then the bound is the
/// next moment there is, or the work ends and the cap goes up.
pub(super) fn least(kinds: &Kinds) -> Least {
    let mut bound = kinds.bound_n_m();
    let mut order = greedy(kinds);
    let mut greatest = greatest_of(kinds, &order);
    // Moments up to this one are left open.
    let mut open = bound.saturating_sub(1);
    let mut cap = bound;
    while bound.max(open + 1) < greatest {
        match under(kinds, cap, STAGES_MOST) {
            Under::Order(found) => {
                greatest = greatest_of(kinds, &found).min(greatest);
                order = found;
            }
            Under::None(above) => {
                bound = bound.max(above.min(greatest));
                open = open.max(bound - 1);
            }
            Under::Open => open = open.max(cap),
        }
        let from = bound.max(open + 1);
        cap = from + greatest.saturating_sub(from) / 2;
    }
    Least { greatest_n_m: greatest, bound_n_m: bound.min(greatest), order }
}

/// The greatest moment over an order, the stage before it and the one after it.
pub(super) fn greatest_of(kinds: &Kinds, order: &[usize]) -> u64 {
    let mut stage = 0;
    let mut greatest = kinds.whole_n_m(0);
    for &kind in order {
        stage += kinds.radix[kind];
        greatest = greatest.max(kinds.whole_n_m(stage));
    }
    greatest
}

/// Each time the kind after which the least is out of balance: an order, and not always the best.
fn greedy(kinds: &Kinds) -> Vec<usize> {
    let (mut stage, mut order) = (0, Vec::new());
    loop {
        let there = (0..kinds.kinds.len()).filter(|&kind| kinds.aboard(stage, kind) > 0);
        let Some(kind) = there.min_by_key(|&kind| kinds.whole_n_m(stage + kinds.radix[kind])) else {
            return order;
        };
        stage += kinds.radix[kind];
        order.push(kind);
    }
}

/// The longest order that never passes a moment, and whether no longer one exists.
pub(super) fn most_within(kinds: &Kinds, cap_n_m: u64) -> (Vec<usize>, bool) {
    if kinds.whole_n_m(0) > cap_n_m {
        return (Vec::new(), true);
    }
    let total: usize = kinds.kinds.iter().map(|kind| kind.seats.len()).sum();
    let mut open = BTreeSet::from([(total, kinds.whole_n_m(0), 0_u64)]);
    let mut from: BTreeMap<u64, (u64, usize)> = BTreeMap::from([(0, (0, 0))]);
    let mut best = (total, 0_u64);
    while let Some((aboard, _, stage)) = open.pop_first() {
        if aboard < best.0 {
            best = (aboard, stage);
        }
        if aboard == 0 || from.len() > STAGES_MOST {
            return (order_to(&from, best.1), aboard == 0);
        }
        for kind in (0..kinds.kinds.len()).filter(|&kind| kinds.aboard(stage, kind) > 0) {
            let next = stage + kinds.radix[kind];
            if from.contains_key(&next) {
                continue;
            }
            let moment = kinds.whole_n_m(next);
            if moment > cap_n_m {
                continue;
            }
            from.insert(next, (stage, kind));
            open.insert((aboard - 1, moment, next));
        }
    }
    (order_to(&from, best.1), true)
}
