//! Which heights each support can have, and from which stacks.

use super::super::question::{FootBoard, Leg, Made, Question};
use super::flaw::Flaw;
use tober_quantity::TenthMm;

/// Most different stacks that are listed.
const STACKS_MOST: usize = 2_000_000;
/// Most looks at a stack or hole in the check of one proof, about ten seconds of a laptop.
const WORK_MOST: u64 = 10_000_000_000;

/// An interval of heights of the frame over the datum at one support, both ends included, in tenths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    pub(super) low: i64,
    pub(super) high: i64,
}

/// A leg as intervals: with its bottom at the top of a stack, the frame is `base..=base + travel` above it.
struct Reach {
    base: i64,
    travel: i64,
}

struct Stack {
    height: i64,
    boards: Vec<i64>,
}

/// All stacks the rules allow, by height, and the reach of each support.
pub(super) struct Options {
    stacks: Vec<Stack>,
    prices: Vec<i128>,
    reaches: Vec<Vec<Reach>>,
    stack_most: Vec<i64>,
    work: u64,
}

impl Options {
    pub(super) fn of(question: &Question) -> Result<Self, Flaw> {
        let mut stacks = Vec::new();
        list(question, &mut Vec::new(), 0, &mut 0, &mut stacks)?;
        stacks.sort_by_key(|stack| stack.height);
        let reaches =
            question.supports.iter().map(|support| reach(support.ground, support.leg, support.hole_forced));
        Ok(Self {
            prices: vec![0; stacks.len()],
            stacks,
            reaches: reaches.collect(),
            stack_most: question
                .supports
                .iter()
                .map(|support| support.stack_most.unwrap_or(question.stack.height_most).0)
                .collect(),
            work: 0,
        })
    }

    /// The first case: all heights that the least lift and the ceiling leave.
    ///
    /// The lift is `z - ground - shortest leg`, so both are ends of an interval of `z`. Without a ceiling the
    /// interval ends where the longest leg on the highest stack does.
    pub(super) fn whole(&self, question: &Question, ceiling: Option<TenthMm>) -> Vec<Span> {
        let spans = question.supports.iter().zip(&self.reaches).map(|(support, reaches)| {
            let bare = (support.ground + support.leg.shortest()).0;
            let longest = reaches.iter().map(|reach| reach.base + reach.travel).max().unwrap_or(bare);
            let highest = longest + question.stack.height_most.0;
            let high = ceiling.map_or(highest, |lift| highest.min(bare.saturating_add(lift.0)));
            let low = bare + question.lift_least.0;
            // A ceiling far below leaves no height; one below the lowest says so and keeps the sums small.
            Span { low, high: high.max(low - 1) }
        });
        spans.collect()
    }

    /// The least and greatest height in the span that some hole and stack really give.
    pub(super) fn reached(&mut self, support: usize, span: Span) -> Result<Option<Span>, Flaw> {
        let mut reached: Option<Span> = None;
        let mut looked = 0;
        for reach in &self.reaches[support] {
            looked += 1;
            let stacks = self.between(support, reach, span);
            if let (Some(first), Some(last)) = (stacks.first(), stacks.last()) {
                let low = (first.height + reach.base).max(span.low);
                let high = (last.height + reach.base + reach.travel).min(span.high);
                reached =
                    Some(reached.map_or(Span { low, high }, |r| Span {
                        low: r.low.min(low),
                        high: r.high.max(high),
                    }));
            }
        }
        self.spend(looked)?;
        Ok(reached)
    }

    /// Prices every stack, for [`Self::least_price`].
    pub(super) fn price(&mut self, prices: &[i64], price_of_any: i64) -> Result<(), Flaw> {
        self.spend(self.stacks.len())?;
        self.prices = self
            .stacks
            .iter()
            .map(|stack| {
                let of = |(&n, &m): (&i64, &i64)| i128::from(n) * (i128::from(m) + i128::from(price_of_any));
                stack.boards.iter().zip(prices).map(of).sum()
            })
            .collect();
        Ok(())
    }

    /// The least price of a stack with which some hole gives a height in the span, or `None` where none does.
    pub(super) fn least_price(&mut self, support: usize, span: Span) -> Result<Option<i128>, Flaw> {
        let mut least: Option<i128> = None;
        let mut looked = 0;
        for reach in &self.reaches[support] {
            let (from, to) = self.indices(support, reach, span);
            looked += 1 + to - from;
            if let Some(&price) = self.prices[from..to].iter().min() {
                least = Some(least.map_or(price, |least| least.min(price)));
            }
        }
        self.spend(looked)?;
        Ok(least)
    }

    fn between(&self, support: usize, reach: &Reach, span: Span) -> &[Stack] {
        let (from, to) = self.indices(support, reach, span);
        &self.stacks[from..to]
    }

    fn indices(&self, support: usize, reach: &Reach, span: Span) -> (usize, usize) {
        let low = span.low - reach.base - reach.travel;
        let high = (span.high - reach.base).min(self.stack_most[support]);
        let from = self.stacks.partition_point(|stack| stack.height < low);
        let to = self.stacks.partition_point(|stack| stack.height <= high);
        // A span without a height in it has its ends the wrong way round.
        (from, if span.low > span.high { from } else { to.max(from) })
    }

    fn spend(&mut self, looked: usize) -> Result<(), Flaw> {
        self.work = self.work.saturating_add(u64::try_from(looked).unwrap_or(u64::MAX));
        if self.work > WORK_MOST { Err(Flaw::TooMuchWork { most: WORK_MOST }) } else { Ok(()) }
    }
}

fn reach(ground: TenthMm, leg: Leg, forced: Option<i64>) -> Vec<Reach> {
    match leg {
        Leg::Holes { first, pitch, count } => {
            let holes = forced.map_or(0..count, |hole| hole..hole + 1);
            holes.map(|hole| Reach { base: (ground + first + pitch * hole).0, travel: 0 }).collect()
        }
        Leg::Screw { shortest, longest } => {
            vec![Reach { base: (ground + shortest).0, travel: (longest - shortest).0 }]
        }
    }
}

/// Lists the stacks kind by kind; the depth is the number of kinds, at most 64.
fn list(
    question: &Question,
    counts: &mut Vec<i64>,
    height: i64,
    tried: &mut usize,
    stacks: &mut Vec<Stack>,
) -> Result<(), Flaw> {
    let boards: i64 = counts.iter().sum();
    let Some(board) = question.boards.get(counts.len()) else {
        *tried += 1;
        if *tried > STACKS_MOST {
            return Err(Flaw::TooManyStacks { most: STACKS_MOST });
        }
        if boards >= question.stack.boards_least && allowed(question, counts, height) {
            stacks.push(Stack { height, boards: counts.clone() });
        }
        return Ok(());
    };
    for n in 0..=board.count.min(question.stack.boards_most - boards) {
        let higher = height + board.thickness.0 * n;
        if higher > question.stack.height_most.0 {
            break;
        }
        counts.push(n);
        list(question, counts, higher, tried, stacks)?;
        counts.pop();
    }
    Ok(())
}

/// The rules that look at a stack as a number of each kind. A size that is not known forbids nothing.
fn allowed(question: &Question, counts: &[i64], height: i64) -> bool {
    let used = || question.boards.iter().zip(counts).filter(|(_, n)| **n > 0).map(|(board, _)| board);
    if question.foot_board == FootBoard::Always && !used().any(|board| board.made == Made::Timber) {
        return false;
    }
    question.slenderness.is_none_or(|rule| {
        let narrow = used().filter_map(|board| board.plan).map(|plan| plan.width().0).min();
        narrow.is_none_or(|width| {
            i128::from(height) * i128::from(rule.width) <= i128::from(width) * i128::from(rule.height)
        })
    })
}
