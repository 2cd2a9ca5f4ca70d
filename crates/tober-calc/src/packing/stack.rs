//! Which boards may make a stack, and in which order they are laid.

use super::model::{BoardKind, Part, Problem, Support};

/// The most stacks listed for one kind of leg; beyond it the answer is "not reached".
pub(super) const STACKS_MOST: usize = 400_000;
/// The most stacks looked at for that, whether the rules admit them or not.
const LOOKED_AT_MOST: u32 = 4_000_000;

/// A stack that the rules admit: how many of each kind, and its height without wedges.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Stack {
    pub kinds: Vec<u8>,
    pub boards: u8,
    pub height: i64,
}

/// Lists every stack that may stand under `support` and is at most `height_most` high, or `None`
/// where there are more than [`STACKS_MOST`] or too many to look at.
pub(super) fn list(problem: &Problem, support: &Support, height_most: i64) -> Option<Vec<Stack>> {
    let stack_most = support.max_stack.map_or(problem.max_stack, |own| own.min(problem.max_stack)).0;
    let wedges_most = support.wedges.map_or(0, |wedges| wedges.most.0);
    let mut listing = Listing {
        problem,
        support,
        height_most: height_most.min(stack_most - wedges_most),
        kinds: vec![0; problem.boards.len()],
        found: Vec::new(),
        looked_at: 0,
    };
    listing.extend(0, 0, 0).then_some(listing.found)
}

struct Listing<'a> {
    problem: &'a Problem,
    support: &'a Support,
    height_most: i64,
    kinds: Vec<u8>,
    found: Vec<Stack>,
    looked_at: u32,
}

impl Listing<'_> {
    /// Depth is bounded by the number of kinds. Returns false when the list grows too long.
    fn extend(&mut self, kind: usize, height: i64, boards: u32) -> bool {
        if height > self.height_most {
            return true;
        }
        self.looked_at += 1;
        if self.looked_at > LOOKED_AT_MOST {
            return false;
        }
        let Some(board) = self.problem.boards.get(kind) else {
            if boards >= self.problem.min_boards_per_stack && stands(self.problem, self.support, &self.kinds)
            {
                let boards = u8::try_from(boards).unwrap_or(u8::MAX);
                self.found.push(Stack { kinds: self.kinds.clone(), boards, height });
            }
            return self.found.len() <= STACKS_MOST;
        };
        let allowed = self.support.allowed.as_ref().is_none_or(|kinds| kinds.contains(&kind));
        let room = self.problem.max_boards_per_stack - boards;
        let most = if allowed { room.min(board.count) } else { 0 };
        for count in 0..=most {
            let tall = height + i64::from(count) * board.thickness.0;
            if tall > self.height_most {
                break;
            }
            self.kinds[kind] = u8::try_from(count).unwrap_or(u8::MAX);
            if !self.extend(kind + 1, tall, boards + count) {
                return false;
            }
        }
        self.kinds[kind] = 0;
        true
    }
}

/// Whether the boards can be laid in some order that keeps the rules of the stack.
fn stands(problem: &Problem, support: &Support, kinds: &[u8]) -> bool {
    let (mut timbers, mut packers, mut height) = (0_u32, 0_u32, 0_i64);
    for (board, &count) in problem.boards.iter().zip(kinds) {
        match board.part {
            Part::Timber => timbers += u32::from(count),
            Part::Packer => packers += u32::from(count),
        }
        height += board.thickness.0 * i64::from(count);
    }
    let joints = timbers.saturating_sub(1);
    let wedged = u32::from(support.wedges.is_some());
    // A joint holds packers or the wedges, not both.
    if joints < wedged || packers > (joints - wedged) * problem.rules.packers_per_joint {
        return false;
    }
    if problem.rules.narrows_upward && !packers_fit(problem, kinds) {
        return false;
    }
    let height = height + support.wedges.map_or(0, |wedges| wedges.most.0);
    timbers == 0 || slender_enough(problem, kinds, height) && bottom_and_top(problem, support, kinds, timbers)
}

fn timbers<'a>(problem: &'a Problem, kinds: &'a [u8]) -> impl Iterator<Item = (&'a BoardKind, u32)> {
    let used =
        problem.boards.iter().zip(kinds).filter(|(board, count)| **count > 0 && board.part == Part::Timber);
    used.map(|(board, &count)| (board, u32::from(count)))
}

/// The widths of the boards of a part, narrowest first; `None` where one is not known.
fn widths(problem: &Problem, kinds: &[u8], part: Part) -> Option<Vec<i64>> {
    let mut widths = Vec::new();
    for (board, &count) in problem.boards.iter().zip(kinds) {
        if count > 0 && board.part == part {
            widths.extend(core::iter::repeat_n(board.plan?.width.0, usize::from(count)));
        }
    }
    widths.sort_unstable();
    Some(widths)
}

/// Whether packers, laid into the uppermost joints with the narrowest on top, are each at least as wide as
/// the timber on it and no wider than the one under it.
fn packers_fit(problem: &Problem, kinds: &[u8]) -> bool {
    if !problem.boards.iter().zip(kinds).any(|(board, &count)| count > 0 && board.part == Part::Packer) {
        return true;
    }
    let (Some(packers), Some(timbers)) =
        (widths(problem, kinds, Part::Packer), widths(problem, kinds, Part::Timber))
    else {
        return false;
    };
    let each = problem.rules.packers_per_joint.max(1) as usize;
    packers.iter().enumerate().all(|(i, &packer)| {
        let joint = i / each;
        let (above, below) = (timbers.get(joint), timbers.get(joint + 1));
        above.is_some_and(|&width| width <= packer) && below.is_some_and(|&width| packer <= width)
    })
}

fn slender_enough(problem: &Problem, kinds: &[u8], height: i64) -> bool {
    let Some(ratio) = problem.rules.height_to_width else { return true };
    timbers(problem, kinds).all(|(board, _)| {
        board
            .plan
            .is_some_and(|plan| height * i64::from(ratio.width) <= plan.width.0 * i64::from(ratio.height))
    })
}

fn serves_as_bottom(problem: &Problem, board: &BoardKind) -> bool {
    let rules = &problem.rules;
    let area =
        rules.bottom_area_mm2.is_none_or(|area| board.plan.is_some_and(|plan| plan.area_mm2() >= area));
    let width = rules.bottom_width.is_none_or(|width| board.plan.is_some_and(|plan| plan.width >= width));
    area && width
}

fn serves_as_top(problem: &Problem, support: &Support, board: &BoardKind) -> bool {
    let Some(foot) = support.foot.filter(|_| problem.rules.foot_on_top) else { return true };
    board.plan.is_some_and(|plan| plan.holds(foot))
}

/// Whether some timber can lie at the bottom and another (or the same, if it is the only one) on top.
fn bottom_and_top(problem: &Problem, support: &Support, kinds: &[u8], count: u32) -> bool {
    if problem.rules.narrows_upward && timbers(problem, kinds).any(|(board, _)| board.plan.is_none()) {
        return false;
    }
    let width = |board: &BoardKind| board.plan.map_or(0, |plan| plan.width.0);
    let widest = timbers(problem, kinds).map(|(board, _)| width(board)).max().unwrap_or(0);
    let least = timbers(problem, kinds).map(|(board, _)| width(board)).min().unwrap_or(0);
    let narrows = problem.rules.narrows_upward;
    let bottom = |board: &BoardKind| serves_as_bottom(problem, board) && (!narrows || width(board) == widest);
    let top =
        |board: &BoardKind| serves_as_top(problem, support, board) && (!narrows || width(board) == least);
    timbers(problem, kinds).any(|(low, low_count)| {
        bottom(low)
            && timbers(problem, kinds).any(|(high, _)| {
                let another = count == 1 || !core::ptr::eq(low, high) || low_count > 1;
                top(high) && another
            })
    })
}

/// The order in which a stack is laid, as kinds from the ground up.
///
/// The widest timber that serves at the bottom goes down first, the narrowest that serves under the
/// foot comes last, thicker before thinner at equal width; packers lie in the uppermost joints, the
/// narrowest on top.
/// The wedges, where there are any, go into the lowest joint and are not listed.
pub(super) fn laid_order(problem: &Problem, support: &Support, kinds: &[u32]) -> Vec<usize> {
    let width = |kind: usize| problem.boards[kind].plan.map_or(0, |plan| plan.width.0);
    let of_part = |part: Part| {
        let places = (0..kinds.len()).filter(move |&kind| problem.boards[kind].part == part);
        places.flat_map(|kind| core::iter::repeat_n(kind, kinds[kind] as usize)).collect::<Vec<_>>()
    };
    let mut order = of_part(Part::Timber);
    order.sort_by_key(|&kind| (-width(kind), -problem.boards[kind].thickness.0, kind));
    if let Some(place) = order.iter().position(|&kind| serves_as_bottom(problem, &problem.boards[kind])) {
        // With one timber that alone serves as the top it must stay there, so look for another bottom.
        let only_top = |kind: usize| {
            order.iter().filter(|&&k| serves_as_top(problem, support, &problem.boards[k])).eq([&kind])
        };
        let better = order
            .iter()
            .position(|&kind| serves_as_bottom(problem, &problem.boards[kind]) && !only_top(kind));
        let bottom = order.remove(better.unwrap_or(place));
        order.insert(0, bottom);
    }
    let last = order.iter().skip(1).rposition(|&kind| serves_as_top(problem, support, &problem.boards[kind]));
    if let Some(place) = last {
        let top = order.remove(place + 1);
        order.push(top);
    }
    let mut packers = of_part(Part::Packer);
    packers.sort_by_key(|&kind| (width(kind), kind));
    lay_packers(problem, support, order, packers)
}

/// Puts packers into the joints from the top joint downwards, leaving the lowest to the wedges.
fn lay_packers(problem: &Problem, support: &Support, timbers: Vec<usize>, packers: Vec<usize>) -> Vec<usize> {
    let mut left = packers.into_iter().peekable();
    let lowest = usize::from(support.wedges.is_some());
    let mut joints: Vec<Vec<usize>> = vec![Vec::new(); timbers.len().saturating_sub(1)];
    for joint in joints.iter_mut().skip(lowest).rev() {
        while joint.len() < problem.rules.packers_per_joint as usize && left.peek().is_some() {
            // Packers come narrowest first, and the narrowest of a joint lies on top.
            joint.extend(left.next());
        }
        joint.reverse();
    }
    let mut order = Vec::new();
    for (place, timber) in timbers.into_iter().enumerate() {
        order.push(timber);
        if let Some(joint) = joints.get(place) {
            order.extend(joint);
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::super::model::{HeightToWidth, Leg, PlanSize, StackRules, TenthMmPerM, Wedges};
    use super::*;
    use tober_quantity::TenthMm;

    /// A small generator of numbers that look random and are the same on every machine (xorshift64*).
    struct Chance(u64);

    impl Chance {
        fn below(&mut self, end: u64) -> u64 {
            self.0 ^= self.0 >> 12;
            self.0 ^= self.0 << 25;
            self.0 ^= self.0 >> 27;
            (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33) % end
        }
        fn pick(&mut self, from: &[i64]) -> i64 {
            from[self.below(from.len() as u64) as usize]
        }
        fn coin(&mut self) -> bool {
            self.below(2) == 0
        }
    }

    fn random(chance: &mut Chance, packers: bool) -> Problem {
        let plan = |chance: &mut Chance| {
            PlanSize::of(TenthMm(chance.pick(&[1500, 2000, 3000])), TenthMm(chance.pick(&[2000, 3000, 6000])))
        };
        let boards = (0..3).map(|kind| BoardKind {
            name: format!("K{kind}"),
            thickness: TenthMm(chance.pick(&[80, 250, 500])),
            count: 3,
            plan: (chance.below(8) > 0).then(|| plan(chance)),
            part: if packers && kind == 2 { Part::Packer } else { Part::Timber },
        });
        let boards = boards.collect();
        let leg = Leg::Screw { shortest: TenthMm(0), longest: TenthMm(0) };
        let mut support = Support::plain("leg", 0, 0, TenthMm(0), leg);
        support.foot = Some(plan(chance));
        support.wedges =
            (packers && chance.coin()).then_some(Wedges { least: TenthMm(100), most: TenthMm(200) });
        Problem {
            supports: vec![support],
            boards,
            max_stack: TenthMm(3000),
            min_boards_per_stack: 0,
            max_boards_per_stack: 4,
            min_lift: TenthMm(0),
            level_tol_x: TenthMmPerM(0),
            level_tol_y: TenthMmPerM(0),
            planarity_tol: TenthMm(1),
            clearances: Vec::new(),
            rules: StackRules {
                height_to_width: chance.coin().then_some(HeightToWidth { height: 1, width: 2 }),
                foot_on_top: chance.coin(),
                bottom_area_mm2: chance.coin().then_some(60_000),
                bottom_width: chance.coin().then_some(TenthMm(2000)),
                narrows_upward: chance.coin(),
                packers_per_joint: 1 + chance.below(2) as u32,
            },
        }
    }

    /// Whether one order, from the ground up, keeps every rule; straight from their wording.
    fn order_stands(problem: &Problem, order: &[usize]) -> bool {
        let (rules, support) = (&problem.rules, &problem.supports[0]);
        let board = |kind: &usize| &problem.boards[*kind];
        let timbers: Vec<&BoardKind> = order.iter().map(board).filter(|b| b.part == Part::Timber).collect();
        let (Some(bottom), Some(top)) = (timbers.first(), timbers.last()) else {
            return order.is_empty() && support.wedges.is_none();
        };
        let ends_are_timber = order.first().is_some_and(|k| board(k).part == Part::Timber)
            && order.last().is_some_and(|k| board(k).part == Part::Timber);
        let joints: Vec<usize> = order.split(|k| board(k).part == Part::Timber).map(<[usize]>::len).collect();
        let inner = &joints[1..joints.len() - 1];
        let free = usize::from(support.wedges.is_some());
        let packers = inner.iter().all(|&n| n <= rules.packers_per_joint as usize)
            && inner.iter().filter(|&&n| n == 0).count() >= free;
        let thick: i64 = order.iter().map(|k| board(k).thickness.0).sum();
        let height = thick + support.wedges.map_or(0, |wedges| wedges.most.0);
        let slender = rules.height_to_width.is_none_or(|ratio| {
            timbers.iter().all(|b| {
                b.plan.is_some_and(|p| height * i64::from(ratio.width) <= p.width.0 * i64::from(ratio.height))
            })
        });
        let foot =
            !rules.foot_on_top || top.plan.is_some_and(|p| support.foot.is_some_and(|foot| p.holds(foot)));
        let area = rules.bottom_area_mm2.is_none_or(|area| bottom.plan.is_some_and(|p| p.area_mm2() >= area));
        let width = rules.bottom_width.is_none_or(|width| bottom.plan.is_some_and(|p| p.width >= width));
        let narrows = !rules.narrows_upward
            || order.iter().all(|k| board(k).plan.is_some())
                && order.is_sorted_by(|low, high| {
                    board(low).plan.map(|p| p.width) >= board(high).plan.map(|p| p.width)
                });
        ends_are_timber && packers && slender && foot && area && width && narrows
    }

    fn orders(kinds: &[u8]) -> Vec<Vec<usize>> {
        if kinds.iter().all(|&n| n == 0) {
            return vec![Vec::new()];
        }
        let mut list = Vec::new();
        for kind in (0..kinds.len()).filter(|&kind| kinds[kind] > 0) {
            let mut rest = kinds.to_vec();
            rest[kind] -= 1;
            list.extend(orders(&rest).into_iter().map(|order| [vec![kind], order].concat()));
        }
        list
    }

    /// Every stack of up to four boards against every order in which it can be laid.
    #[test]
    fn law_a_stack_is_listed_when_some_order_stands_and_is_laid_so() {
        let mut chance = Chance(0x70BE_0004);
        let (mut listed_in_all, mut refused_in_all) = (0, 0);
        for round in 0..600 {
            let packers = round % 2 == 1;
            let problem = random(&mut chance, packers);
            let support = &problem.supports[0];
            let listed = list(&problem, support, 3000).expect("few stacks");
            for code in 0..64_u8 {
                let kinds = vec![code % 4, code / 4 % 4, code / 16];
                if kinds.iter().sum::<u8>() > 4 {
                    continue;
                }
                let is_listed = listed.iter().any(|stack| stack.kinds == kinds);
                if is_listed {
                    let laid = laid_order(
                        &problem,
                        support,
                        &kinds.iter().map(|&n| u32::from(n)).collect::<Vec<_>>(),
                    );
                    assert!(
                        order_stands(&problem, &laid),
                        "round {round}: {kinds:?} laid as {laid:?}: {problem:?}"
                    );
                    listed_in_all += 1;
                } else {
                    // Packers among narrowing timbers are laid in the uppermost joints only, which may refuse
                    // a stack that some other order would save; nothing else may be refused needlessly.
                    let stands = orders(&kinds).iter().any(|order| order_stands(&problem, order));
                    let excused = packers && problem.rules.narrows_upward;
                    assert!(!stands || excused, "round {round}: {kinds:?} refused: {problem:?}");
                    refused_in_all += 1;
                }
            }
        }
        assert!(
            listed_in_all > 2000 && refused_in_all > 2000,
            "{listed_in_all} listed, {refused_in_all} refused"
        );
    }
}
