//! A slow search for proofs that there is no choice, for the tests alone.
//!
//! It may be as wrong as it likes: what it finds counts only if the checker accepts it. So it lists all options of a
//! support, halves the widest range of heights, and tries a fixed set of plane weights and a growing set of prices.

use tober_fit::packing::none::{Ceiling, Step, Weight};
use tober_fit::packing::{Leg, Question};
use tober_quantity::TenthMm;

/// A height of the frame over one support, and the stack that gives it.
struct Stand {
    z: i64,
    boards: Vec<i64>,
}

pub struct Prover<'a> {
    question: &'a Question,
    ceiling: Ceiling,
    options: Vec<Vec<Stand>>,
    weights: Vec<Vec<(usize, i64)>>,
    prices: Vec<(Vec<i64>, i64)>,
    nodes_left: usize,
    proof: Vec<Step>,
}

/// A proof inside the ceiling, or `None` if none was found in so many nodes.
pub fn prove(question: &Question, ceiling: Ceiling, nodes: usize) -> Option<Vec<Step>> {
    let kinds = question.boards.len();
    let any = |price: i64| if ceiling.boards.is_some() { price } else { 0 };
    let mut prices: Vec<(Vec<i64>, i64)> =
        (0..kinds).map(|k| ((0..kinds).map(|l| i64::from(k == l)).collect(), 0)).collect();
    prices.push((vec![1; kinds], 0));
    prices.push((vec![0; kinds], any(1)));
    prices.push((question.boards.iter().map(|board| board.thickness.0).collect(), 0));
    let mut prover = Prover {
        question,
        ceiling,
        options: (0..question.supports.len()).map(|i| options(question, ceiling, i)).collect(),
        weights: weights(question),
        prices,
        nodes_left: nodes,
        proof: Vec::new(),
    };
    let spans = vec![(i64::MIN / 4, i64::MAX / 4); question.supports.len()];
    prover.close(&spans).then_some(prover.proof)
}

impl Prover<'_> {
    fn close(&mut self, spans: &[(i64, i64)]) -> bool {
        if self.nodes_left == 0 {
            return false;
        }
        self.nodes_left -= 1;
        let mut reached = Vec::new();
        for (support, span) in spans.iter().enumerate() {
            let inside = self.options[support].iter().map(|o| o.z).filter(|z| (span.0..=span.1).contains(z));
            match inside
                .fold(None, |r: Option<(i64, i64)>, z| Some(r.map_or((z, z), |r| (r.0.min(z), r.1.max(z)))))
            {
                Some(span) => reached.push(span),
                None => {
                    self.proof.push(Step::Bare { support });
                    return true;
                }
            }
        }
        let plane = self.weights.iter().find(|weights| self.no_plane(weights, &reached));
        if let Some(weights) = plane {
            let weights = weights.iter().map(|&(support, times)| Weight { support, times }).collect();
            self.proof.push(Step::Plane { weights });
            return true;
        }
        if let Some((prices, price_of_any)) = self.no_stock(&reached) {
            self.proof.push(Step::Stock { prices, price_of_any });
            return true;
        }
        let Some(support) = (0..reached.len())
            .filter(|&i| reached[i].0 < reached[i].1)
            .max_by_key(|&i| reached[i].1 - reached[i].0)
        else {
            return false;
        };
        let (low, high) = reached[support];
        let height = low + (high - low) / 2;
        self.proof.push(Step::Split { support, height: TenthMm(height) });
        // The whole span goes into the parts, since the checker's own ends are these or tighter.
        let (mut below, mut above) = (spans.to_vec(), spans.to_vec());
        below[support].1 = height;
        above[support].0 = height + 1;
        self.close(&below) && self.close(&above)
    }

    fn no_plane(&self, weights: &[(usize, i64)], reached: &[(i64, i64)]) -> bool {
        let (mut least, mut along, mut across) = (0_i128, 0_i128, 0_i128);
        for &(i, w) in weights {
            let end = if w > 0 {
                reached[i].0 - self.question.planarity.0
            } else {
                reached[i].1 + self.question.planarity.0
            };
            least += i128::from(w) * i128::from(end);
            along += i128::from(w) * i128::from(self.question.supports[i].x.0);
            across += i128::from(w) * i128::from(self.question.supports[i].y.0);
        }
        let level = self.question.level;
        10_000 * least
            > along.abs() * i128::from(level.along_per_m.0) + across.abs() * i128::from(level.across_per_m.0)
    }

    /// The prices that have served before, then forty steps uphill from nothing.
    fn no_stock(&mut self, reached: &[(i64, i64)]) -> Option<(Vec<i64>, i64)> {
        for (prices, any) in &self.prices {
            if self.short(reached, prices, *any).0 > 0 {
                return Some((prices.clone(), *any));
            }
        }
        let kinds = self.question.boards.len();
        let (mut prices, mut any) = (vec![0_i64; kinds], 0_i64);
        for step in 0..40 {
            let (short, used) = self.short(reached, &prices, any);
            if short > 0 {
                self.prices.push((prices.clone(), any));
                return Some((prices, any));
            }
            let stride = 1_000 / (step + 1);
            let total: i64 = used.iter().sum();
            for (price, (used, board)) in prices.iter_mut().zip(used.iter().zip(&self.question.boards)) {
                *price = (*price + stride * (used - board.count)).max(0);
            }
            if let Some(most) = self.ceiling.boards {
                any = (any + stride * (total - most)).max(0);
            }
        }
        None
    }

    /// By how much the price of the least stacks is above that of the kit, and the boards of these stacks.
    fn short(&self, reached: &[(i64, i64)], prices: &[i64], any: i64) -> (i64, Vec<i64>) {
        let mut used = vec![0; prices.len()];
        let mut needed = 0;
        for (options, span) in self.options.iter().zip(reached) {
            let inside = options.iter().filter(|option| (span.0..=span.1).contains(&option.z));
            let price = |boards: &[i64]| boards.iter().zip(prices).map(|(n, m)| n * (m + any)).sum::<i64>();
            let least = inside.min_by_key(|option| price(&option.boards)).expect("an option that is reached");
            needed += price(&least.boards);
            for (used, n) in used.iter_mut().zip(&least.boards) {
                *used += n;
            }
        }
        let stock: i64 = self.question.boards.iter().zip(prices).map(|(board, m)| board.count * m).sum();
        (needed - stock - any * self.ceiling.boards.unwrap_or(0), used)
    }
}

fn options(question: &Question, ceiling: Ceiling, support: usize) -> Vec<Stand> {
    let at = &question.supports[support];
    let Leg::Holes { first, pitch, count } = at.leg else { panic!("the prover knows no screws") };
    let mut options = Vec::new();
    for boards in stacks(question) {
        let height: i64 = question.boards.iter().zip(&boards).map(|(board, n)| board.thickness.0 * n).sum();
        let fits = height <= question.stack.height_most.0
            && (question.stack.boards_least..=question.stack.boards_most).contains(&boards.iter().sum());
        for hole in 0..count {
            let lift = height + hole * pitch.0;
            if fits && lift >= question.lift_least.0 && ceiling.lift.is_none_or(|most| lift <= most.0) {
                options.push(Stand { z: at.ground.0 + first.0 + lift, boards: boards.clone() });
            }
        }
    }
    options
}

/// Every multiset of boards of the kit up to the most in a stack.
pub fn stacks(question: &Question) -> Vec<Vec<i64>> {
    let mut stacks = vec![Vec::new()];
    for board in &question.boards {
        let mut longer = Vec::new();
        for stack in stacks {
            let room = question.stack.boards_most - stack.iter().sum::<i64>();
            for n in 0..=board.count.min(room) {
                let mut stack = stack.clone();
                stack.push(n);
                longer.push(stack);
            }
        }
        stacks = longer;
    }
    stacks
}

/// Two supports, or three with one moment of their places gone, or four with both gone; each with both signs.
fn weights(question: &Question) -> Vec<Vec<(usize, i64)>> {
    let n = question.supports.len();
    let (x, y) = (|i: usize| question.supports[i].x.0, |i: usize| question.supports[i].y.0);
    let area = |a, b, c| (x(b) - x(a)) * (y(c) - y(a)) - (x(c) - x(a)) * (y(b) - y(a));
    let mut found = Vec::new();
    for a in 0..n {
        for b in a + 1..n {
            found.push(vec![(a, 1), (b, -1)]);
            for c in b + 1..n {
                found.push(vec![(a, x(b) - x(c)), (b, x(c) - x(a)), (c, x(a) - x(b))]);
                found.push(vec![(a, y(b) - y(c)), (b, y(c) - y(a)), (c, y(a) - y(b))]);
                for d in c + 1..n {
                    found.push(vec![
                        (a, area(b, c, d)),
                        (b, -area(a, c, d)),
                        (c, area(a, b, d)),
                        (d, -area(a, b, c)),
                    ]);
                }
            }
        }
    }
    let turned: Vec<_> = found.iter().map(|w| w.iter().map(|&(i, w)| (i, -w)).collect()).collect();
    found.extend(turned);
    found
}
