//! A proof that no choice serves, or none with a lower greatest lift, or none with fewer boards.
//!
//! The heights `z_i` at which the frame may stand over each support are divided into cases by steps `z_i <= h` or
//! `z_i >= h + 1`, and each case is closed by one of three plain facts, all between integers:
//!
//! - *Bare*: at one support no hole and stack reaches a height of the case.
//! - *Stock*: prices `m_k >= 0` for the kinds and `m_0 >= 0` for any board. Each support takes at least
//!   `min m.q + m_0 |q|` over the stacks that reach its heights of the case; if the sum over the supports is above
//!   `m.count + m_0 boards_most`, the kit (or the ceiling on boards) cannot serve them all. This is weak duality.
//! - *Plane*: weights `w_i` with `sum w_i = 0`. A plane `c + a x + b y` that meets every support has
//!   `low_i - planarity <= c + a x_i + b y_i <= high_i + planarity`, so `a sum w_i x_i + b sum w_i y_i` is at least
//!   `sum_{w>0} w_i (low_i - planarity) + sum_{w<0} w_i (high_i + planarity)`; and by the level tolerances it is at most
//!   `level_x |sum w_i x_i| + level_y |sum w_i y_i|`. If the first is above the second there is no such plane. This is
//!   the lemma of Farkas; by Helly's theorem four supports are always enough.
//!
//! The steps are listed with the case before its parts: after a division come all steps of `z <= h`, then all of `z >= h + 1`.
//! A single *stock* or *plane* step is a whole proof where one fact is enough.
//!
//! # Range of validity
//! Proves for every rule that looks at a stack as a number of each kind. The rules on the order of layers
//! only take choices away, so what is proved here holds with them too. Screws are set in whole tenths of a millimetre.
//!
//! # Not covered
//! A shortage that is there only because boards are whole: prices see stacks mixed in any shares, so such a case may have
//! no proof here. Finding the proof. That a case is *possible*: only a claim checked by [`check`](super::check) shows that.

pub mod change;
mod flaw;
mod options;

pub use flaw::Flaw;

use super::claim::Claim;
use super::door;
use super::plane::TENTHS_PER_M;
use super::question::Question;
use super::refusal::Refusal;
use super::verdict::Verdict;
use options::{Options, Span};
use tober_quantity::TenthMm;

/// Greatest price, and greatest weight either way: room for the minors of positions in tenths of a millimetre.
const FACTOR_MOST: i64 = 1_000_000_000_000_000;

/// What a choice must keep to besides the question, for the proof that there is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ceiling {
    /// No lift above this.
    pub lift: Option<TenthMm>,
    /// No more boards in all than this.
    pub boards: Option<i64>,
}

impl Ceiling {
    /// The question as it is.
    pub const OPEN: Self = Self { lift: None, boards: None };
}

/// One step of a proof.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// First the case that this support stands at `height` or below, then the case that it stands higher.
    Split {
        /// Which support, by its place in the question.
        support: usize,
        /// The greatest height of the frame there in the first case, over the datum.
        height: TenthMm,
    },
    /// No hole and stack reaches the case's heights at this support.
    Bare {
        /// Which support, by its place in the question.
        support: usize,
    },
    /// The kit cannot serve the case.
    Stock {
        /// The price of a board of each kind, zero or more.
        prices: Vec<i64>,
        /// The price of any board, zero unless there is a ceiling on boards.
        price_of_any: i64,
    },
    /// No plane inside the level tolerances meets these supports.
    Plane {
        /// The weights, which add up to nothing.
        weights: Vec<Weight>,
    },
}

/// The weight of a support in a plane step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Weight {
    /// Which support, by its place in the question.
    pub support: usize,
    /// Its weight.
    pub times: i64,
}

/// What a sound proof shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoChoice {
    /// Inside which ceiling.
    pub ceiling: Ceiling,
    /// In how many cases.
    pub cases: usize,
}

/// Checks a proof that no choice serves inside the ceiling.
///
/// # Errors
/// The first flaw, with the step it is in.
pub fn check(question: &Question, ceiling: Ceiling, proof: &[Step]) -> Result<NoChoice, Flaw> {
    let refusals = door::question(question);
    if !refusals.is_empty() {
        return Err(Flaw::Question { refusals });
    }
    let mut options = Options::of(question)?;
    let mut open = vec![options.whole(question, ceiling.lift)];
    let mut cases = 0;
    for (at, step) in proof.iter().enumerate() {
        let case = open.pop().ok_or(Flaw::StepsLeftOver { step: at })?;
        if let Step::Split { support, height } = step {
            let (low, high) = split(at, case, *support, *height)?;
            open.push(high);
            open.push(low);
            continue;
        }
        close(question, ceiling, &mut options, at, step, &case)?;
        cases += 1;
    }
    if open.is_empty() {
        Ok(NoChoice { ceiling, cases })
    } else {
        Err(Flaw::CasesLeftOpen { open: open.len() })
    }
}

/// Proofs that a claim is the best there is: least greatest lift, and with that the fewest boards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Best {
    /// No choice has a greatest lift of a tenth of a millimetre less.
    pub none_lower: Vec<Step>,
    /// No choice with this greatest lift has a board less.
    pub none_fewer: Vec<Step>,
}

/// Why a claim is not shown to be the best.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NotBest {
    /// The claim itself is refused.
    Claim(Vec<Refusal>),
    /// The proof that none is lower has a flaw.
    Lower(Flaw),
    /// The proof that none has fewer boards has a flaw.
    Fewer(Flaw),
}

impl core::fmt::Display for NotBest {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Claim(refusals) => {
                write!(f, "The choice is refused.")?;
                refusals.iter().try_for_each(|refusal| write!(f, " {refusal}"))
            }
            Self::Lower(flaw) => write!(f, "That no choice is lower is not shown. {flaw}"),
            Self::Fewer(flaw) => write!(f, "That no choice takes fewer boards is not shown. {flaw}"),
        }
    }
}

/// Checks a claim and the proofs that nothing is better: first in greatest lift, then in number of boards.
///
/// # Errors
/// The refusals of the claim, or the first flaw in a proof.
pub fn check_best(question: &Question, claim: &Claim, best: &Best) -> Result<Verdict, NotBest> {
    let verdict = super::check(question, claim).map_err(NotBest::Claim)?;
    let lift = verdict.lift_greatest;
    let lower = Ceiling { lift: Some(lift - TenthMm(1)), boards: None };
    check(question, lower, &best.none_lower).map_err(NotBest::Lower)?;
    let fewer = Ceiling { lift: Some(lift), boards: Some(verdict.boards_total - 1) };
    check(question, fewer, &best.none_fewer).map_err(NotBest::Fewer)?;
    Ok(verdict)
}

fn split(
    at: usize,
    case: Vec<Span>,
    support: usize,
    height: TenthMm,
) -> Result<(Vec<Span>, Vec<Span>), Flaw> {
    let Some(&Span { low, high }) = case.get(support) else {
        return Err(Flaw::NoSuchSupport { step: at, support });
    };
    // A division outside the span would leave one case as it was, and a proof could run on for ever.
    if height.0 < low || height.0 >= high {
        return Err(Flaw::SplitOutside { step: at, height, low: TenthMm(low), high: TenthMm(high) });
    }
    let (mut below, mut above) = (case.clone(), case);
    below[support].high = height.0;
    above[support].low = height.0 + 1;
    Ok((below, above))
}

fn close(
    question: &Question,
    ceiling: Ceiling,
    options: &mut Options,
    at: usize,
    step: &Step,
    case: &[Span],
) -> Result<(), Flaw> {
    match step {
        Step::Split { .. } => Ok(()),
        Step::Bare { support } => {
            let span = *case.get(*support).ok_or(Flaw::NoSuchSupport { step: at, support: *support })?;
            match options.reached(*support, span)? {
                None => Ok(()),
                Some(reached) => {
                    Err(Flaw::NotBare { step: at, support: *support, height: TenthMm(reached.low) })
                }
            }
        }
        Step::Stock { prices, price_of_any } => {
            stock(question, ceiling, options, at, (prices, *price_of_any), case)
        }
        Step::Plane { weights } => plane(question, options, at, weights, case),
    }
}

fn stock(
    question: &Question,
    ceiling: Ceiling,
    options: &mut Options,
    at: usize,
    (prices, price_of_any): (&[i64], i64),
    case: &[Span],
) -> Result<(), Flaw> {
    if prices.len() != question.boards.len() {
        return Err(Flaw::PricesMissing { step: at, expected: question.boards.len(), found: prices.len() });
    }
    for &price in prices.iter().chain([&price_of_any]) {
        if !(0..=FACTOR_MOST).contains(&price) {
            return Err(Flaw::FactorOutOfRange { step: at, factor: price });
        }
    }
    let mut held: i128 =
        question.boards.iter().zip(prices).map(|(b, &m)| i128::from(b.count) * i128::from(m)).sum();
    match ceiling.boards {
        Some(most) => held += i128::from(most) * i128::from(price_of_any),
        None if price_of_any != 0 => return Err(Flaw::NoCeilingOnBoards { step: at }),
        None => {}
    }
    let mut needed: i128 = 0;
    options.price(prices, price_of_any)?;
    for (support, span) in case.iter().enumerate() {
        match options.least_price(support, *span)? {
            Some(least) => needed += least,
            // Nothing reaches this support, so the case is closed whatever the stock.
            None => return Ok(()),
        }
    }
    if needed > held { Ok(()) } else { Err(Flaw::StockServes { step: at, needed, held }) }
}

fn plane(
    question: &Question,
    options: &mut Options,
    at: usize,
    weights: &[Weight],
    case: &[Span],
) -> Result<(), Flaw> {
    let planarity = i128::from(question.planarity.0);
    let (mut sum, mut along, mut across, mut least) = (0_i128, 0_i128, 0_i128, 0_i128);
    // A support named twice would only be counted twice, which is as true; but a list without end is refused.
    if weights.len() > question.supports.len() {
        return Err(Flaw::TooManyWeights { step: at, found: weights.len(), most: question.supports.len() });
    }
    for weight in weights {
        let (Some(support), Some(span)) = (question.supports.get(weight.support), case.get(weight.support))
        else {
            return Err(Flaw::NoSuchSupport { step: at, support: weight.support });
        };
        if weight.times.unsigned_abs() > FACTOR_MOST.unsigned_abs() {
            return Err(Flaw::FactorOutOfRange { step: at, factor: weight.times });
        }
        let Some(reached) = options.reached(weight.support, *span)? else { return Ok(()) };
        let times = i128::from(weight.times);
        sum += times;
        along += times * i128::from(support.x.0);
        across += times * i128::from(support.y.0);
        least += times
            * if times > 0 {
                i128::from(reached.low) - planarity
            } else {
                i128::from(reached.high) + planarity
            };
    }
    if sum != 0 {
        return Err(Flaw::WeightsDoNotCancel { step: at, sum });
    }
    let level = question.level;
    let most =
        i128::from(level.along_per_m.0) * along.abs() + i128::from(level.across_per_m.0) * across.abs();
    if TENTHS_PER_M * least > most {
        Ok(())
    } else {
        Err(Flaw::PlaneServes { step: at, least: TENTHS_PER_M * least, most })
    }
}
