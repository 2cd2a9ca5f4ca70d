//! Of the orders with the least greatest moment, one with the fewest turns by hand.

use super::kinds::{Kinds, apart_deg};
use super::search::STAGES_MOST;
use std::collections::{BTreeMap, BTreeSet};

/// Up to how many stages with a stop the least angle is looked for too.
const ALL_MOST: u64 = 150_000;
/// Angles are added up in whole parts of a degree, so that every machine orders them alike.
const PARTS_OF_A_DEGREE: f64 = 1e6;

/// One removal: which kind, at which stop.
pub(super) type Removal = (usize, usize);

/// What was found of the turns.
pub(super) struct Turned {
    /// The removals.
    pub order: Vec<Removal>,
    /// How many it takes at least.
    pub turns_bound: usize,
    /// Whether no order with as few turns is turned through less.
    pub least_angle: bool,
}

/// Turns still needed at least: kinds that are not reached here, of which no two are reached at one stop.
fn still(kinds: &Kinds, stage: u64, stop: usize) -> usize {
    let mut taken: BTreeSet<usize> = BTreeSet::new();
    let mut count = 0;
    for (k, kind) in kinds.kinds.iter().enumerate() {
        if kinds.aboard(stage, k) == 0
            || kind.stops.contains(&stop)
            || kind.stops.iter().any(|s| taken.contains(s))
        {
            continue;
        }
        taken.extend(&kind.stops);
        count += 1;
    }
    count
}

fn parts(kinds: &Kinds, a: usize, b: usize) -> u64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "an angle under 360 degrees")]
    let whole = (apart_deg(kinds.turned_deg[a], kinds.turned_deg[b]) * PARTS_OF_A_DEGREE).round() as u64;
    whole
}

/// Fewest turns, never past a moment; `given` is an order of kinds that keeps to it.
pub(super) fn fewest(kinds: &Kinds, cap_n_m: u64, given: &[usize]) -> Turned {
    let all: u64 = given.iter().map(|&kind| kinds.radix[kind]).sum();
    let stops = kinds.turned_deg.len() as u64;
    let small = kinds.all().saturating_add(1).saturating_mul(stops) <= ALL_MOST;
    let mut moments: BTreeMap<u64, u64> = BTreeMap::new();
    // (turns at least, aboard, angle) or (turns at least, angle, aboard): the second is exact in the angle as well.
    type Key = (usize, u64, u64);
    let key = |turns: usize, aboard: usize, angle: u64| -> Key {
        if small { (turns, angle, aboard as u64) } else { (turns, aboard as u64, angle) }
    };
    type At = (u64, usize);
    let start: At = (0, 0);
    let mut cost: BTreeMap<At, (usize, u64, At, usize)> = BTreeMap::new();
    let mut open: BTreeSet<(Key, At)> = BTreeSet::new();
    let mut closed: BTreeSet<At> = BTreeSet::new();
    let mut bound = still(kinds, 0, 0);
    cost.insert(start, (0, 0, start, usize::MAX));
    open.insert((key(bound, given.len(), 0), start));
    while let Some((first, at)) = open.pop_first() {
        bound = bound.max(first.0);
        if !closed.insert(at) {
            continue;
        }
        let (stage, stop) = at;
        let (turns, angle, ..) = cost[&at];
        if stage == all {
            let mut order = Vec::new();
            let mut here = at;
            while let Some(&(_, _, before, kind)) = cost.get(&here) {
                if kind == usize::MAX {
                    break;
                }
                order.push((kind, here.1));
                here = before;
            }
            order.reverse();
            return Turned { order, turns_bound: turns, least_angle: small };
        }
        if cost.len() > STAGES_MOST {
            break;
        }
        let off: usize = (0..kinds.kinds.len()).map(|kind| kinds.off(stage, kind)).sum();
        for (k, kind) in kinds.kinds.iter().enumerate() {
            if kinds.aboard(stage, k) == 0
                || kinds.off(stage, k) as u64 * kinds.radix[k] >= share_of(kinds, all, k)
            {
                continue;
            }
            let next = stage + kinds.radix[k];
            if *moments.entry(next).or_insert_with(|| kinds.whole_n_m(next)) > cap_n_m {
                continue;
            }
            for &to in &kind.stops {
                let there = (next, to);
                let turns = turns + usize::from(to != stop);
                let angle = angle + parts(kinds, stop, to);
                if closed.contains(&there)
                    || cost.get(&there).is_some_and(|old| (old.0, old.1) <= (turns, angle))
                {
                    continue;
                }
                cost.insert(there, (turns, angle, at, k));
                open.insert((key(turns + still(kinds, next, to), given.len() - off - 1, angle), there));
            }
        }
    }
    plainly(kinds, given, bound)
}

/// The part of a stage's number that a kind has.
fn share_of(kinds: &Kinds, stage: u64, kind: usize) -> u64 {
    kinds.off(stage, kind) as u64 * kinds.radix[kind]
}

/// An order as it is given, turned only where it must be, to the nearest stop.
pub(super) fn plainly(kinds: &Kinds, given: &[usize], turns_bound: usize) -> Turned {
    let (mut stop, mut turns, mut order) = (0, 0, Vec::new());
    for &kind in given {
        let stops = &kinds.kinds[kind].stops;
        if !stops.contains(&stop) {
            let Some(&to) = stops.iter().min_by_key(|&&to| parts(kinds, stop, to)) else { continue };
            stop = to;
            turns += 1;
        }
        order.push((kind, stop));
    }
    Turned { order, turns_bound: turns_bound.min(turns), least_angle: false }
}
