//! What can be wrong with a proof.

use super::super::refusal::Refusal;
use core::fmt;
use tober_quantity::TenthMm;

/// The first flaw found in a proof. Steps and supports are counted from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the sentence of each variant names its fields")]
pub enum Flaw {
    /// The question itself is refused at the door.
    Question { refusals: Vec<Refusal> },
    /// The kit allows more different stacks than are counted here.
    TooManyStacks { most: usize },
    /// The proof asks for more work than is done here.
    TooMuchWork { most: u64 },
    /// A step names a support that is not in the question.
    NoSuchSupport { step: usize, support: usize },
    /// A division lies outside what it divides.
    SplitOutside { step: usize, height: TenthMm, low: TenthMm, high: TenthMm },
    /// A support said to be bare is reached.
    NotBare { step: usize, support: usize, height: TenthMm },
    /// There is not one price for each kind.
    PricesMissing { step: usize, expected: usize, found: usize },
    /// A price is negative, or a factor too large.
    FactorOutOfRange { step: usize, factor: i64 },
    /// A price on any board without a ceiling on boards.
    NoCeilingOnBoards { step: usize },
    /// At these prices the stock is enough.
    StockServes { step: usize, needed: i128, held: i128 },
    /// There are more weights than supports.
    TooManyWeights { step: usize, found: usize, most: usize },
    /// The weights do not add up to nothing.
    WeightsDoNotCancel { step: usize, sum: i128 },
    /// At these weights a plane is not excluded.
    PlaneServes { step: usize, least: i128, most: i128 },
    /// A set of legs has no proof, or stands out of its order.
    SetLeftOut { legs: Vec<usize> },
    /// There is not one multiplier for each row.
    MultipliersMissing { step: usize, expected: usize, found: usize },
    /// A multiplier below nothing.
    MultiplierNegative { step: usize, row: usize },
    /// Multipliers with which the sums pass what is counted here.
    MultiplierTooLarge { step: usize },
    /// With these multipliers a plane and tops are not excluded.
    RowsServe { step: usize, least: i128, most: i128 },
    /// The proof ends before all cases are closed.
    CasesLeftOpen { open: usize },
    /// The proof goes on after all cases are closed.
    StepsLeftOver { step: usize },
}

impl Flaw {
    /// A short name for the flaw, which never changes.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Question { .. } => "question",
            Self::TooManyStacks { .. } => "too-many-stacks",
            Self::TooMuchWork { .. } => "too-much-work",
            Self::NoSuchSupport { .. } => "no-such-support",
            Self::SplitOutside { .. } => "split-outside",
            Self::NotBare { .. } => "not-bare",
            Self::PricesMissing { .. } => "prices-missing",
            Self::FactorOutOfRange { .. } => "factor-out-of-range",
            Self::NoCeilingOnBoards { .. } => "no-ceiling-on-boards",
            Self::StockServes { .. } => "stock-serves",
            Self::TooManyWeights { .. } => "too-many-weights",
            Self::WeightsDoNotCancel { .. } => "weights-do-not-cancel",
            Self::PlaneServes { .. } => "plane-serves",
            Self::SetLeftOut { .. } => "set-left-out",
            Self::MultipliersMissing { .. } => "multipliers-missing",
            Self::MultiplierNegative { .. } => "multiplier-negative",
            Self::MultiplierTooLarge { .. } => "multiplier-too-large",
            Self::RowsServe { .. } => "rows-serve",
            Self::CasesLeftOpen { .. } => "cases-left-open",
            Self::StepsLeftOver { .. } => "steps-left-over",
        }
    }
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Question { refusals } => {
                write!(f, "The question is refused.")?;
                refusals.iter().try_for_each(|refusal| write!(f, " {refusal}"))
            }
            Self::TooManyStacks { most } => {
                write!(f, "The kit allows more than {most} different stacks, so the proof is not checked.")
            }
            Self::TooMuchWork { most } => {
                write!(
                    f,
                    "The proof needs more than {most} looks at a stack, so it is not checked to its end."
                )
            }
            Self::NoSuchSupport { step, support } => {
                write!(f, "Step {step} names support {support}, which the question does not have.")
            }
            Self::SplitOutside { step, height, low, high } => write!(
                f,
                "Step {step} divides at {} tenths of a millimetre, outside what it divides ({} to {}).",
                height.0, low.0, high.0
            ),
            Self::NotBare { step, support, height } => write!(
                f,
                "Step {step} says that nothing reaches support {support}; {} tenths of a millimetre is reached.",
                height.0
            ),
            Self::PricesMissing { step, expected, found } => {
                write!(f, "Step {step} has {found} prices where the kit has {expected} kinds of board.")
            }
            Self::FactorOutOfRange { step, factor } => {
                write!(
                    f,
                    "Step {step} uses the factor {factor}; a price is never below nothing, and no factor is above 1e15."
                )
            }
            Self::NoCeilingOnBoards { step } => {
                write!(f, "Step {step} puts a price on any board, but the number of boards has no ceiling.")
            }
            Self::StockServes { step, needed, held } => {
                write!(
                    f,
                    "Step {step} does not exclude its case: at its prices {needed} is needed and {held} held."
                )
            }
            Self::TooManyWeights { step, found, most } => {
                write!(f, "Step {step} has {found} weights for {most} supports.")
            }
            Self::WeightsDoNotCancel { step, sum } => {
                write!(f, "The weights of step {step} add up to {sum}; they must add up to nothing.")
            }
            Self::PlaneServes { step, least, most } => write!(
                f,
                "Step {step} does not exclude its case: at its weights the supports ask for {least} and the level tolerances allow {most}."
            ),
            Self::SetLeftOut { legs } => {
                write!(f, "There is no proof in its place for a change of the supports {legs:?}.")
            }
            Self::MultipliersMissing { step, expected, found } => {
                write!(f, "Step {step} has {found} multipliers for {expected} rows.")
            }
            Self::MultiplierNegative { step, row } => {
                write!(f, "The multiplier of row {row} in step {step} is below nothing.")
            }
            Self::MultiplierTooLarge { step } => {
                write!(f, "The multipliers of step {step} are too large to be summed.")
            }
            Self::RowsServe { step, least, most } => write!(
                f,
                "Step {step} does not exclude its case: its rows ask for {least} and the ends allow {most}."
            ),
            Self::CasesLeftOpen { open } => write!(f, "The proof ends with {open} cases open."),
            Self::StepsLeftOver { step } => {
                write!(f, "All cases are closed before step {step}, and the proof goes on.")
            }
        }
    }
}
