//! What each leg can be changed to, and what that costs.

use super::super::answer::Setting;
use super::super::model::{Leg, Problem, Support};
use super::super::stack;
use super::Stands;
use super::lay::{self, Laid};
use std::collections::BTreeMap;

/// One stack with one setting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Way {
    /// The hole; 0 with a screw.
    pub hole: u32,
    pub kinds: Vec<u8>,
    pub order: Vec<usize>,
    /// The height of the stack.
    pub packing: i64,
}

/// All ways of one leg that move its top by the same amount with the same handling of boards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Group {
    /// How often a board is taken off or put on.
    pub handled: u32,
    /// How far the top moves up: the two ends of what a screw leaves open, else one figure.
    pub low: i64,
    pub high: i64,
    /// How far up or down it moves at the least; nothing where a screw is turned.
    pub far: i64,
    /// Of each kind, the fewest that any of the ways takes.
    pub least: Vec<u8>,
    pub ways: Vec<Way>,
}

/// What one leg can do.
#[derive(Clone, Debug)]
pub(super) struct Choices {
    /// Whether what stands keeps the rules, so that it may stay.
    pub may_stay: bool,
    /// How many boards of each kind stand.
    pub stands: Vec<u32>,
    /// What it can be changed to, cheapest first.
    pub groups: Vec<Group>,
}

/// How far a leg reaches beyond its shortest, and its stack, as it stands.
pub(super) fn stands_high(problem: &Problem, support: &Support, stands: &Stands) -> (i64, i64) {
    let packing = stands.laid.iter().map(|&kind| problem.boards[kind].thickness.0).sum();
    let extension = match (support.leg, stands.setting) {
        (Leg::Holes { pin_pitch, .. }, Setting::Hole(hole)) => pin_pitch.0 * i64::from(hole),
        (_, Setting::Screw(extension)) => extension.0,
        (Leg::Screw { .. }, Setting::Hole(_)) => 0,
    };
    (extension, packing)
}

/// What a support can be changed to, or `None` where there are too many stacks to list.
pub(super) fn choices(problem: &Problem, support: &Support, stands: &Stands) -> Option<Choices> {
    let (extension, packing) = stands_high(problem, support, stands);
    let lift = extension + packing;
    let hole_now = if let Setting::Hole(hole) = stands.setting { hole } else { 0 };
    let may_stay = lay::order_stands(problem, support, &stands.laid)
        && lift >= problem.min_lift.0
        && support.forced_hole.is_none_or(|forced| forced == hole_now);
    let mut groups: BTreeMap<(u32, i64, i64, i64), Group> = BTreeMap::new();
    let mut take = |handled: u32, low: i64, high: i64, far: i64, way: Way| {
        let (least, ways) = (way.kinds.clone(), Vec::new());
        let new = Group { handled, low, high, far, least, ways };
        let group = groups.entry((handled, far, low, high)).or_insert(new);
        for (least, &count) in group.least.iter_mut().zip(&way.kinds) {
            *least = (*least).min(count);
        }
        group.ways.push(way);
    };
    for stack in stack::list(problem, support, problem.max_stack.0)? {
        let Some(Laid { order, handled }) = lay::lay(problem, support, &stands.laid, &stack.kinds) else {
            continue;
        };
        let way =
            |hole| Way { hole, kinds: stack.kinds.clone(), order: order.clone(), packing: stack.height };
        match support.leg {
            Leg::Holes { pin_pitch, pin_count, .. } => {
                for hole in support.forced_hole.map_or(0..pin_count, |hole| hole..hole + 1) {
                    let new = stack.height + pin_pitch.0 * i64::from(hole);
                    if new < problem.min_lift.0 || (handled == 0 && hole == hole_now) {
                        continue;
                    }
                    take(handled, new - lift, new - lift, (new - lift).abs(), way(hole));
                }
            }
            Leg::Screw { shortest, longest } => {
                let least = stack.height.max(problem.min_lift.0);
                let most = stack.height + (longest - shortest).0;
                if least <= most {
                    take(handled, least - lift, most - lift, 0, way(0));
                }
            }
        }
    }
    let mut groups: Vec<Group> = groups.into_values().collect();
    for group in &mut groups {
        let boards = |way: &Way| way.kinds.iter().map(|&count| u32::from(count)).sum::<u32>();
        group.ways.sort_by(|a, b| (boards(a), a.hole, &a.order).cmp(&(boards(b), b.hole, &b.order)));
    }
    let count = |kind: usize| stands.laid.iter().filter(|&&k| k == kind).count();
    let standing = (0..problem.boards.len()).map(|kind| u32::try_from(count(kind)).unwrap_or(u32::MAX));
    Some(Choices { may_stay, stands: standing.collect(), groups })
}
