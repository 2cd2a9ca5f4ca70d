//! In which order a changed stack is laid, so that as much of the old one as can be stays where it is.

use super::super::model::{BoardKind, Part, Problem, Support};

/// Boards tried in search of an order; beyond it the order counts as none.
const TRIED_MOST: u32 = 4_000;

/// Whether boards in this order, from the ground up, keep every rule of a stack.
pub(super) fn order_stands(problem: &Problem, support: &Support, order: &[usize]) -> bool {
    let rules = &problem.rules;
    let height: i64 = order.iter().map(|&kind| problem.boards[kind].thickness.0).sum();
    let most = support.max_stack.map_or(problem.max_stack, |own| own.min(problem.max_stack)).0;
    let count = u32::try_from(order.len()).unwrap_or(u32::MAX);
    let allowed = |kind: &usize| support.allowed.as_ref().is_none_or(|kinds| kinds.contains(kind));
    if height > most
        || count < problem.min_boards_per_stack
        || count > problem.max_boards_per_stack
        || !order.iter().all(allowed)
    {
        return false;
    }
    let (Some(&bottom), Some(&top)) = (order.first(), order.last()) else { return true };
    let board = |kind: usize| &problem.boards[kind];
    let slender = rules.height_to_width.is_none_or(|ratio| {
        order.iter().filter(|&&kind| board(kind).part == Part::Timber).all(|&kind| {
            board(kind)
                .plan
                .is_some_and(|plan| height * i64::from(ratio.width) <= plan.width.0 * i64::from(ratio.height))
        })
    });
    slender
        && serves_at_bottom(problem, board(bottom))
        && serves_on_top(problem, support, board(top))
        && order.windows(2).all(|pair| lies_on(problem, board(pair[1]), board(pair[0])))
        && packers_in_joints(problem, order)
}

fn serves_at_bottom(problem: &Problem, board: &BoardKind) -> bool {
    let rules = &problem.rules;
    let area = rules.bottom_area_mm2.is_none_or(|least| board.plan.is_some_and(|p| p.area_mm2() >= least));
    let width = rules.bottom_width.is_none_or(|least| board.plan.is_some_and(|p| p.width >= least));
    board.part == Part::Timber && area && width
}

fn serves_on_top(problem: &Problem, support: &Support, board: &BoardKind) -> bool {
    let foot = support.foot.filter(|_| problem.rules.foot_on_top);
    board.part == Part::Timber && foot.is_none_or(|foot| board.plan.is_some_and(|plan| plan.holds(foot)))
}

/// Whether the widths of two neighbours let the first lie on the second.
fn lies_on(problem: &Problem, above: &BoardKind, below: &BoardKind) -> bool {
    if !problem.rules.narrows_upward {
        return true;
    }
    above.plan.zip(below.plan).is_some_and(|(above, below)| above.width <= below.width)
}

/// No joint between two timbers holds more packers than the rules allow.
fn packers_in_joints(problem: &Problem, order: &[usize]) -> bool {
    let most = problem.rules.packers_per_joint as usize;
    order.split(|&kind| problem.boards[kind].part == Part::Timber).all(|packers| packers.len() <= most)
}

/// A stack, laid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Laid {
    /// The kinds from the ground up.
    pub order: Vec<usize>,
    /// How often a board is taken off or put on to get here.
    pub handled: u32,
}

/// Lays so many boards of each kind over as many as can stay of the stack that stands; `None` where no order
/// was found that keeps the rules.
pub(super) fn lay(problem: &Problem, support: &Support, stands: &[usize], kinds: &[u8]) -> Option<Laid> {
    let new: usize = kinds.iter().map(|&count| usize::from(count)).sum();
    let mut rest = kinds.to_vec();
    let mut shared = 0;
    for &kind in stands {
        if rest[kind] == 0 {
            break;
        }
        rest[kind] -= 1;
        shared += 1;
    }
    loop {
        let mut laying = Laying { problem, support, order: stands[..shared].to_vec(), rest, tried: 0 };
        if laying.complete() {
            let handled = stands.len() + new - 2 * shared;
            return Some(Laid { order: laying.order, handled: u32::try_from(handled).unwrap_or(u32::MAX) });
        }
        rest = laying.rest;
        if shared == 0 {
            return None;
        }
        shared -= 1;
        rest[stands[shared]] += 1;
    }
}

struct Laying<'a> {
    problem: &'a Problem,
    support: &'a Support,
    order: Vec<usize>,
    rest: Vec<u8>,
    tried: u32,
}

impl Laying<'_> {
    /// Lays the rest in the first order that stands: wide before narrow, thick before thin, packers as far
    /// up as they go. Where there is none, all is as it was. Depth is bounded by the boards of a stack.
    fn complete(&mut self) -> bool {
        if self.rest.iter().all(|&count| count == 0) {
            return order_stands(self.problem, self.support, &self.order);
        }
        let mut kinds: Vec<usize> = (0..self.rest.len()).filter(|&kind| self.rest[kind] > 0).collect();
        let boards = &self.problem.boards;
        let width = |kind: usize| boards[kind].plan.map_or(0, |plan| plan.width.0);
        kinds.sort_by_key(|&kind| {
            let packer = boards[kind].part == Part::Packer;
            (packer, -width(kind), -boards[kind].thickness.0, kind)
        });
        for kind in kinds {
            self.tried += 1;
            if self.tried > TRIED_MOST {
                return false;
            }
            let lies = match self.order.last() {
                Some(&below) => lies_on(self.problem, &boards[kind], &boards[below]),
                None => serves_at_bottom(self.problem, &boards[kind]),
            };
            if !lies {
                continue;
            }
            self.order.push(kind);
            self.rest[kind] -= 1;
            if packers_in_joints(self.problem, &self.order) && self.complete() {
                return true;
            }
            self.order.pop();
            self.rest[kind] += 1;
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::model::{Leg, PlanSize, StackRules, TenthMmPerM};
    use super::*;
    use tober_quantity::TenthMm;

    /// Wide, middle, narrow, and a packer of the middle width; no board wider than the one below.
    fn problem(narrows_upward: bool) -> Problem {
        let board = |name: &str, thickness, side: i64, part| BoardKind {
            name: name.to_owned(),
            thickness: TenthMm(thickness),
            count: 4,
            plan: Some(PlanSize { width: TenthMm(side), length: TenthMm(side) }),
            part,
        };
        let leg = Leg::Holes { pin_first: TenthMm(0), pin_pitch: TenthMm(400), pin_count: 4 };
        let mut support = Support::plain("leg", 0, 0, TenthMm(0), leg);
        support.foot = Some(PlanSize { width: TenthMm(3000), length: TenthMm(3000) });
        Problem {
            supports: vec![support],
            boards: vec![
                board("wide", 730, 7000, Part::Timber),
                board("middle", 480, 6000, Part::Timber),
                board("narrow", 240, 5000, Part::Timber),
                board("ply", 120, 6000, Part::Packer),
            ],
            max_stack: TenthMm(2500),
            min_boards_per_stack: 1,
            max_boards_per_stack: 5,
            min_lift: TenthMm(0),
            level_tol_x: TenthMmPerM(0),
            level_tol_y: TenthMmPerM(0),
            planarity_tol: TenthMm(1),
            clearances: Vec::new(),
            rules: StackRules { foot_on_top: true, narrows_upward, ..StackRules::plain() },
        }
    }

    fn orders(rest: &[u8]) -> Vec<Vec<usize>> {
        if rest.iter().all(|&n| n == 0) {
            return vec![Vec::new()];
        }
        let mut list = Vec::new();
        for kind in (0..rest.len()).filter(|&kind| rest[kind] > 0) {
            let mut less = rest.to_vec();
            less[kind] -= 1;
            list.extend(orders(&less).into_iter().map(|order| [vec![kind], order].concat()));
        }
        list
    }

    /// Every stack of up to five boards from every order of up to three that stands, against every order.
    #[test]
    fn law_no_order_handles_fewer_boards() {
        let mut tried = 0;
        for narrows in [true, false] {
            let problem = problem(narrows);
            let support = &problem.supports[0];
            let stacks = || (0..=u8::MAX).map(|code| [code % 4, code / 4 % 4, code / 16 % 4, code / 64]);
            let few = stacks().filter(|kinds| (1..=3).contains(&kinds.iter().sum::<u8>()));
            let standing: Vec<Vec<usize>> = few
                .flat_map(|kinds| orders(&kinds))
                .filter(|order| order_stands(&problem, support, order))
                .collect();
            for kinds in stacks().filter(|kinds| (1..=4).contains(&kinds.iter().sum::<u8>())) {
                let stand: Vec<Vec<usize>> = orders(&kinds)
                    .into_iter()
                    .filter(|order| order_stands(&problem, support, order))
                    .collect();
                for old in &standing {
                    let cost = |new: &Vec<usize>| {
                        let stay = old.iter().zip(new).take_while(|(a, b)| a == b).count();
                        old.len() + new.len() - 2 * stay
                    };
                    let least = stand.iter().map(cost).min();
                    let laid = lay(&problem, support, old, &kinds);
                    assert_eq!(
                        laid.as_ref().map(|laid| laid.handled as usize),
                        least,
                        "{old:?} to {kinds:?}"
                    );
                    if let Some(laid) = laid {
                        assert!(order_stands(&problem, support, &laid.order), "{laid:?}");
                        assert_eq!(cost(&laid.order), laid.handled as usize);
                        tried += 1;
                    }
                }
            }
        }
        assert!(tried > 1_000, "{tried}");
    }
}
