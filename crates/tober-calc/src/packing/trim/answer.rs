//! What comes out of a trim.

use super::super::answer::{Choice, Stage};
use super::super::model::Problem;
use tober_quantity::TenthMm;

/// Something that was not read and must be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Missing {
    /// The height of the frame at a support.
    Height(usize),
    /// Whether a foot is snug or light.
    Foot(usize),
    /// The gap under a light foot.
    Gap(usize),
}

/// One leg that changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// The support, as a place in [`Problem::supports`].
    pub support: usize,
    /// How far its top goes up; down if negative.
    pub up: TenthMm,
    /// How often a board is taken off or put on.
    pub handled: u32,
}

/// How a trim ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Something is not read, so no change can be told.
    NotRead {
        /// What, in the order of the supports.
        missing: Vec<Missing>,
    },
    /// All inside: nothing to change. The choice is what stands.
    Inside {
        /// What stands, with a plane that proves it.
        choice: Choice,
    },
    /// A change brings it in.
    Change {
        /// What will stand, with a plane that proves it.
        choice: Choice,
        /// The legs that change, in the order of the supports.
        changed: Vec<Changed>,
        /// Whether no lesser change serves.
        proof: Stage,
    },
    /// What was read may be off by as much as the tolerance, so no change can be shown to bring it in.
    TooCoarse,
    /// Proved: no change of holes, screws and boards brings it in.
    Nothing {
        /// The supports that stand in the way, each with what its nearest setting is short of, were the
        /// others free to change; least first. Empty where no single support is in the way.
        short: Vec<(usize, TenthMm)>,
    },
    /// The budget ended before a change was found or ruled out.
    NotReached,
}

/// The answer to a trim.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trim {
    /// The packing problem on the ground as it bears: the one that the outcome answers.
    ///
    /// Where something is not read, the ground of that support is that of the question.
    pub problem: Problem,
    /// The top of each support, where it is known.
    pub tops: Vec<Option<TenthMm>>,
    /// How it ended.
    pub outcome: Outcome,
    /// Whether what stands is in but for what must be clear of the ground: the frame lies too low for that.
    pub too_low: bool,
    /// Nodes of the search.
    pub nodes: u64,
}

impl Trim {
    /// What stands once the trim is done, where that is known.
    pub fn choice(&self) -> Option<&Choice> {
        match &self.outcome {
            Outcome::Inside { choice } | Outcome::Change { choice, .. } => Some(choice),
            _ => None,
        }
    }

    /// The legs that change.
    pub fn changed(&self) -> &[Changed] {
        match &self.outcome {
            Outcome::Change { changed, .. } => changed,
            _ => &[],
        }
    }
}
