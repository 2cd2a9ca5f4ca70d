//! How far each screw is turned, and the proof that none turned so far serves.
//!
//! A screw is set in whole tenths of a millimetre (in truth it goes anywhere; a tenth is finer than is read). The ends
//! of each top are divided until a point in whole tenths serves, or the linear programme refutes each part. Every ending
//! is decided in whole numbers; where all tops are at one height it is plain arithmetic, so the division ends.

use super::super::model::Problem;
use super::super::plane::{self, Bound};
use super::linear::{Middle, Rows};
use super::tops::slopes;
use tober_quantity::TenthMm;

/// What came of looking for heights.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Turned {
    /// Heights in whole tenths that serve.
    To(Vec<i64>),
    /// None do.
    Nowhere,
    /// The work allowed ran out.
    Open,
}

/// One step of the proof that no heights serve: a division comes first, then all steps of its lower part, then of its upper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// First the case that the top of this support is at this height or below, then that it is higher.
    Split {
        /// The support.
        support: usize,
        /// The greatest height of the first case.
        height: TenthMm,
    },
    /// Nothing reaches a height of the case at this support.
    Bare {
        /// The support.
        support: usize,
    },
    /// No plane and no heights of the case keep every row; see `tober_fit::packing::none::change` for the rows.
    Beyond {
        /// One for each row, none below nothing.
        multipliers: Vec<i128>,
    },
}

/// Tolerances and places of one trim.
pub(super) struct Screws<'a> {
    problem: &'a Problem,
    fixed: &'a [Bound],
    slack: i64,
    slopes: (i64, i64),
    level: bool,
    rows: Rows,
}

type Ends = Vec<(i64, i64)>;

impl<'a> Screws<'a> {
    pub fn new(
        problem: &'a Problem,
        fixed: &'a [Bound],
        slack: i64,
        slopes: (i64, i64),
        level: bool,
    ) -> Self {
        let rows = Rows::new(problem, fixed, slack, slopes, level);
        Self { problem, fixed, slack, slopes, level, rows }
    }

    /// Whether tops at these heights are in; exact.
    pub fn serves(&self, tops: &[i64]) -> bool {
        let level = !self.level
            || slopes(&self.problem.supports, tops).is_none_or(|(along, across, over)| {
                along.abs() <= i128::from(self.slopes.0) * over
                    && across.abs() <= i128::from(self.slopes.1) * over
            });
        let bound = |(support, &top): (&super::super::model::Support, &i64)| Bound {
            x_mm: support.x_mm,
            y_mm: support.y_mm,
            low: top - self.slack,
            high: top + self.slack,
        };
        let tops = self.problem.supports.iter().zip(tops).map(bound);
        level
            && plane::exists(
                &tops.chain(self.fixed.iter().copied()).collect::<Vec<_>>(),
                self.slopes.0,
                self.slopes.1,
            )
    }

    /// Heights between these ends that serve, or proof that there are none.
    pub fn turned(&self, ends: &[(i64, i64)], work_most: u64) -> (Turned, u64) {
        let mut open = vec![ends.to_vec()];
        let mut work = 0;
        while let Some(case) = open.pop() {
            work += 1;
            if work > work_most {
                return (Turned::Open, work);
            }
            if case.iter().all(|(low, high)| low == high) {
                let tops: Vec<i64> = case.iter().map(|&(low, _)| low).collect();
                if self.serves(&tops) {
                    return (Turned::To(tops), work);
                }
                continue;
            }
            let middle = self.rows.middle(&case);
            if self.rows.refuted(&case, &middle).is_some() {
                continue;
            }
            let tops = nearest(&case, &middle);
            if self.serves(&tops) {
                return (Turned::To(tops), work);
            }
            let (leg, height) = division(&case, &middle);
            let [below, above] = divided(&case, leg, height);
            open.push(above);
            open.push(below);
        }
        (Turned::Nowhere, work)
    }

    /// A proof that no heights serve, where each top reaches only what is listed for it (lowest first, apart from each
    /// other); `None` where some do, or where no proof is found in the work allowed.
    pub fn none(&self, reached: &[Ends], work_most: u64) -> Option<Vec<Step>> {
        let whole = |list: &Ends| Some((list.first()?.0, list.last()?.1));
        let mut open: Vec<Ends> = vec![reached.iter().map(whole).collect::<Option<_>>()?];
        let mut steps = Vec::new();
        let mut work = 0;
        while let Some(mut case) = open.pop() {
            work += 1;
            if work > work_most {
                return None;
            }
            let bare = case.iter_mut().zip(reached).position(|(ends, list)| !narrowed(ends, list));
            if let Some(support) = bare {
                steps.push(Step::Bare { support });
                continue;
            }
            let middle = self.rows.middle(&case);
            if let Some(multipliers) = self.rows.refuted(&case, &middle) {
                steps.push(Step::Beyond { multipliers });
                continue;
            }
            let tops = nearest(&case, &middle);
            let gap = tops
                .iter()
                .zip(reached)
                .position(|(top, list)| !list.iter().any(|e| e.0 <= *top && *top <= e.1));
            let (leg, height) = match gap {
                // Between two that are reached: the lower is as good a place to divide as any.
                Some(leg) => {
                    let below = reached[leg].iter().rfind(|ends| ends.1 < tops[leg])?;
                    (leg, below.1)
                }
                None if self.serves(&tops) || case.iter().all(|(low, high)| low == high) => return None,
                None => division(&case, &middle),
            };
            steps.push(Step::Split { support: leg, height: TenthMm(height) });
            let [below, above] = divided(&case, leg, height);
            open.push(above);
            open.push(below);
        }
        Some(steps)
    }
}

/// Draws ends in to what is reached between them; false where nothing is.
fn narrowed(ends: &mut (i64, i64), list: &Ends) -> bool {
    let within = || list.iter().filter(|one| one.1 >= ends.0 && one.0 <= ends.1);
    let (Some(first), Some(last)) = (within().next(), within().next_back()) else { return false };
    *ends = (ends.0.max(first.0), ends.1.min(last.1));
    true
}

fn nearest(case: &[(i64, i64)], middle: &Middle) -> Vec<i64> {
    case.iter().zip(&middle.tops).map(|(&(low, high), top)| (top.round() as i64).clamp(low, high)).collect()
}

/// Where to divide: the top that lies farthest from a whole tenth, or the one with the farthest to go.
fn division(case: &[(i64, i64)], middle: &Middle) -> (usize, i64) {
    let aside = |leg: usize| (middle.tops[leg] - middle.tops[leg].round()).abs();
    let rank = |leg: usize| (if aside(leg) > 1e-6 { aside(leg) } else { 0.0 }, case[leg].1 - case[leg].0);
    let free = (0..case.len()).filter(|&leg| case[leg].0 < case[leg].1);
    let leg =
        free.max_by(|&a, &b| rank(a).0.total_cmp(&rank(b).0).then(rank(a).1.cmp(&rank(b).1))).unwrap_or(0);
    let (low, high) = case[leg];
    let height = if aside(leg) > 1e-6 { middle.tops[leg].floor() as i64 } else { low + (high - low) / 2 };
    (leg, height.clamp(low, high - 1))
}

fn divided(case: &[(i64, i64)], leg: usize, height: i64) -> [Ends; 2] {
    let (mut below, mut above) = (case.to_vec(), case.to_vec());
    below[leg].1 = height;
    above[leg].0 = height + 1;
    [below, above]
}
