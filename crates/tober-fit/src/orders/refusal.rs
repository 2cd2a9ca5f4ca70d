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
    /// A body's steps need not be done in the order given.
    NoChain { first: usize, step: usize },
    /// A step has one body in hand and another not.
    Uneven { step: usize },
    /// A body does not have the mass named.
    Mass { body: usize, mass: i128 },
    /// A direction is not on the unit circle.
    OffTheCircle { place: usize },
    /// Directions do not go round what is asked about.
    Gap { place: usize },
    /// A set of special steps that no stage has done.
    NoBranch { step: usize },
    /// A set of special steps that a stage can have done is not listed.
    BranchMissing { step: Option<usize> },
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
            Self::NoChain { .. } => "no-chain",
            Self::Uneven { .. } => "uneven",
            Self::Mass { .. } => "mass",
            Self::OffTheCircle { .. } => "off-the-circle",
            Self::Gap { .. } => "gap",
            Self::NoBranch { .. } => "no-branch",
            Self::BranchMissing { .. } => "branch-missing",
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
            Self::NoChain { first, step } => {
                write!(
                    f,
                    "The rules do not make sure that step {step} is done after step {first}, as a body's steps must be."
                )
            }
            Self::Uneven { step } => {
                write!(f, "Step {step} has one body in hand with a place for it, and another without.")
            }
            Self::Mass { body, mass } => write!(f, "Body {body} cannot have the mass {mass}."),
            Self::OffTheCircle { place } => {
                write!(f, "Direction {place} is not a point of the unit circle.")
            }
            Self::Gap { place } => {
                write!(
                    f,
                    "The directions leave a gap at direction {place}; each wants to lie less than half a turn on from the one before, with a proof at each and between."
                )
            }
            Self::NoBranch { step } => {
                write!(
                    f,
                    "A set of special steps is listed that no stage has done: step {step} does not belong there."
                )
            }
            Self::BranchMissing { step: Some(step) } => {
                write!(
                    f,
                    "A set of special steps is missing: one that is listed, with step {step} done as well."
                )
            }
            Self::BranchMissing { step: None } => {
                f.write_str("The set in which no special step is done is missing.")
            }
            Self::NotCounted { rules, most } => {
                write!(f, "A set of {rules} rules is said to be the smallest; that is checked up to {most}.")
            }
        }
    }
}
