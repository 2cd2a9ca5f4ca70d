//! Why a claim about a procedure is refused.

use core::fmt;

/// The reason. Steps, things and homes are counted from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the sentence of each variant names its fields")]
pub enum Refusal {
    /// There is not one entry for each step.
    Shape,
    /// A number names no step.
    NoSuchStep(usize),
    /// A claim names a thing, a state or a home that is not there.
    NoSuchThing,
    /// Rules close a circle.
    Circle,
    /// A step of the story is done twice.
    Twice { step: usize },
    /// A step is begun before another that must be done first.
    TooEarly { step: usize },
    /// At the end of the story nothing is wrong.
    NoOffence,
    /// It is said to be a shortest story, and a shorter one shows the same.
    NotShortest { said: usize, found: usize },
    /// The proof does not say why the thing is not left in a wrong state by this writer, or from the beginning.
    NotBarred { writer: Option<usize> },
    /// What the proof says bars a writer does not.
    BadBar { writer: Option<usize> },
    /// Two steps that bar each other are in no order.
    Unordered { one: usize, other: usize },
    /// A cut does not add up.
    Cut(crate::orders::Refusal),
    /// No cut of the proof covers a case: the last mover of the body and the last steps at each line.
    NotCovered { writer: Option<usize> },
    /// The cuts leave room for an offence.
    CutTooLow { bound: i128, wanted: i128 },
    /// The proof is not of a kind that proves this.
    WrongKind,
    /// What is claimed to hold does not, and this stage shows it.
    Offends { done: Vec<usize>, begun: Vec<usize> },
    /// Without this rule of a cure it holds as well.
    RuleToSpare { rule: usize },
    /// Fewer rules cure it.
    FewerRules { rules: Vec<(usize, usize)> },
    /// It is said that no order cures it, and this rule does.
    RuleCures { first: usize, waits: usize },
    /// A step undone that is not done.
    NotDone { step: usize },
    /// A step undone whose follower is still done.
    FollowerDone { step: usize, follower: usize },
    /// A step undone that cannot be taken back.
    ForGood { step: usize },
    /// The way back ends elsewhere than it says.
    EndsElsewhere,
    /// The way back stops though more could be undone.
    StopsEarly { step: usize },
    /// It is said that the way back leads home, and at its end this thing is not as on the road.
    NotHome { thing: usize },
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Shape => f.write_str("The program has not one entry for each step."),
            Self::NoSuchStep(step) => write!(f, "Step {step} is named and is not there."),
            Self::NoSuchThing => f.write_str("A claim names a thing, a state or a home that is not there."),
            Self::Circle => f.write_str("The rules close a circle."),
            Self::Twice { step } => write!(f, "Step {step} is done twice."),
            Self::TooEarly { step } => write!(f, "Step {step} is begun before what it waits for is done."),
            Self::NoOffence => f.write_str("At the end of the story nothing is wrong."),
            Self::NotShortest { said, found } => {
                write!(f, "The story takes {said} steps and is said to be a shortest; one takes {found}.")
            }
            Self::NotBarred { writer } => {
                write!(f, "The proof does not bar {}.", Writer(*writer))
            }
            Self::BadBar { writer } => {
                write!(f, "What the proof gives as barring {} does not.", Writer(*writer))
            }
            Self::Unordered { one, other } => {
                write!(f, "Steps {one} and {other} bar each other and are in no order.")
            }
            Self::Cut(refusal) => write!(f, "A cut does not add up. {refusal}"),
            Self::NotCovered { writer } => {
                write!(f, "No cut of the proof covers the case of {}.", Writer(*writer))
            }
            Self::CutTooLow { bound, wanted } => {
                write!(f, "The cuts prove no more than {bound}; {wanted} is wanted.")
            }
            Self::WrongKind => f.write_str("The proof is not of a kind that proves this."),
            Self::Offends { done, begun } => {
                write!(f, "It does not hold: done {done:?}, begun {begun:?}.")
            }
            Self::RuleToSpare { rule } => write!(f, "Without rule {rule} of the cure it holds as well."),
            Self::FewerRules { rules } => write!(f, "Fewer rules cure it: {rules:?}."),
            Self::RuleCures { first, waits } => {
                write!(f, "It is said that no order cures it; step {waits} after step {first} does.")
            }
            Self::NotDone { step } => write!(f, "Step {step} is undone and was not done."),
            Self::FollowerDone { step, follower } => {
                write!(f, "Step {step} is undone while step {follower}, which waits for it, is done.")
            }
            Self::ForGood { step } => write!(f, "Step {step} is undone and cannot be."),
            Self::EndsElsewhere => f.write_str("The way back ends elsewhere than it says."),
            Self::StopsEarly { step } => {
                write!(f, "The way back stops where step {step} could still be undone.")
            }
            Self::NotHome { thing } => {
                write!(f, "The way back is said to lead home, and thing {thing} is not as on the road.")
            }
        }
    }
}

/// A writer in words.
struct Writer(Option<usize>);

impl fmt::Display for Writer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            Some(step) => write!(f, "step {step} as the last"),
            None => f.write_str("the state at the beginning"),
        }
    }
}
