//! Why a claimed extreme is refused.

use core::fmt;

/// The reason, with the numbers that govern. Steps are counted from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the sentence of each variant names its fields")]
pub enum Refusal {
    /// There is not one entry for each step.
    Shape { steps: usize, changes: usize, peaks: usize },
    /// A number names no step.
    NoSuchStep { step: usize, steps: usize },
    /// A step is begun before another that must be done first.
    NotAStage { step: usize, first: usize },
    /// A step is said to be under way that is done, or that has no peak.
    UnderWay { step: usize, done: bool },
    /// A step held done is not done.
    HeldDone { step: usize },
    /// A step held open is begun.
    HeldOpen { step: usize },
    /// The stage is not worth what is claimed.
    Value { claimed: i128, found: i128 },
    /// A move that proves nothing.
    Move { from: usize, to: usize, amount: i128, needed: bool },
    /// The proof bounds every stage by another value.
    Bound { claimed: i128, bound: i128 },
    /// A smaller stage is as good.
    NotTheFewest { step: usize },
    /// A sum has no room.
    TooLarge,
    /// Rules close a circle.
    Circle,
    /// A stage named as an offence is none under the rules as they are.
    NoOffence { offence: usize, step: usize },
    /// No rule of the set prevents an offence.
    NotPrevented { offence: usize },
    /// The set would do without a rule.
    RuleToSpare { rule: usize },
    /// Fewer rules prevent every offence named, so that the set is not proved the smallest.
    FewerRules { rules: Vec<(usize, usize)> },
    /// It was not asked for a proof that can be gone through.
    NotCounted { rules: usize, most: usize },
}

impl Refusal {
    /// A short name for the reason, which never changes.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Shape { .. } => "shape",
            Self::NoSuchStep { .. } => "no-such-step",
            Self::NotAStage { .. } => "not-a-stage",
            Self::UnderWay { .. } => "under-way",
            Self::HeldDone { .. } => "held-done",
            Self::HeldOpen { .. } => "held-open",
            Self::Value { .. } => "value",
            Self::Move { .. } => "move",
            Self::Bound { .. } => "bound",
            Self::NotTheFewest { .. } => "not-the-fewest",
            Self::TooLarge => "too-large",
            Self::Circle => "circle",
            Self::NoOffence { .. } => "no-offence",
            Self::NotPrevented { .. } => "not-prevented",
            Self::RuleToSpare { .. } => "rule-to-spare",
            Self::FewerRules { .. } => "fewer-rules",
            Self::NotCounted { .. } => "not-counted",
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Shape { steps, changes, peaks } => write!(
                f,
                "There are {steps} steps, {changes} changes and {peaks} peaks; one change for each step is wanted, and as many peaks or none."
            ),
            Self::NoSuchStep { step, steps } => {
                write!(f, "Step {step} is named, and there are {steps}, counted from 0.")
            }
            Self::NotAStage { step, first } => {
                write!(f, "Step {step} is begun before step {first} is done, which must come first.")
            }
            Self::UnderWay { step, done: true } => write!(f, "Step {step} is said to be done and under way."),
            Self::UnderWay { step, done: false } => {
                write!(f, "Step {step} is said to be under way and has no value for that.")
            }
            Self::HeldDone { step } => write!(f, "Step {step} is to be done in the stage and is not."),
            Self::HeldOpen { step } => write!(f, "Step {step} is to be left open in the stage and is begun."),
            Self::Value { claimed, found } => {
                write!(f, "The stage is said to be worth {claimed} and is worth {found}.")
            }
            Self::Move { from, to, amount, needed: true } => {
                write!(
                    f,
                    "The proof moves {amount} from step {from} onto step {to}; nothing below 0 may be moved."
                )
            }
            Self::Move { from, to, amount, needed: false } => {
                write!(f, "The proof moves {amount} from step {from} onto step {to}, which it does not need.")
            }
            Self::Bound { claimed, bound } => {
                write!(f, "The proof bounds every stage by {bound}; {claimed} is claimed.")
            }
            Self::NotTheFewest { step } => {
                write!(f, "A stage of fewer steps is as good; the two differ first at step {step}.")
            }
            Self::TooLarge => f.write_str("A sum of weights is too large to be worked in whole numbers."),
            Self::Circle => f.write_str("The rules close a circle, so that no order of all steps is left."),
            Self::NoOffence { offence, step } => {
                write!(f, "Offence {offence} is none: the rules do not admit it, first at step {step}.")
            }
            Self::NotPrevented { offence } => write!(f, "No rule of the set prevents offence {offence}."),
            Self::RuleToSpare { rule } => {
                write!(f, "Without rule {rule} of the set every offence named is prevented as well.")
            }
            Self::FewerRules { rules } => {
                write!(
                    f,
                    "{} rules prevent every offence named, which is fewer than the set has.",
                    rules.len()
                )
            }
            Self::NotCounted { rules, most } => {
                write!(f, "A set of {rules} rules is said to be the smallest; that is checked up to {most}.")
            }
        }
    }
}
