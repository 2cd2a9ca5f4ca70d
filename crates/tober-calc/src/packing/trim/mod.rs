//! Lower, read, trim: the least change of holes, screws and stacks that brings a lowered frame in.
//!
//! The frame stands on its packing and was read. Every support then has a *top*: the height at which the
//! frame would lie on it with its foot on its boards,
//!
//! - heights read over a string or laser: `s = h - g`,
//! - level read along and across: `s = a x + b y - g` (the height of the whole is not measured, and not needed),
//!
//! with `g` the gap under a foot that is light, and zero under one that is snug. Leg and stack as they stand
//! add `e + p`, so the ground *as it bears* is `z = s - e - p`, sunk or not, and the question is that of the
//! packing again on this ground: a plane inside the level tolerances within planarity of every top. What
//! is least is now the change: [`solve`] gives fewest legs changed, then fewest boards handled, then the
//! least greatest way up or down, then the first met in a fixed order.
//!
//! A board is handled once for each time it is taken off or put on: to take out a lower one, those above
//! come off first and go back on. The order of a changed stack is chosen so that as many boards as can be
//! stay where they are.
//!
//! A leg on a screw is set to the middle of what is allowed, as a screw is turned further at no cost; the
//! third stage counts legs with holes only. A screw is set in whole tenths of a millimetre. Which screws are enough is
//! decided by a linear programme over the plane and all screws at once, in whole numbers; [`none_fewer`] gives
//! the proof, set of legs by set of legs, for a part that shares no code with this one.

mod answer;
mod door;
mod fewest;
mod findings;
mod lay;
mod linear;
mod options;
mod screws;
mod search;
mod short;
mod solve;
mod tops;

pub use answer::{Changed, Missing, Outcome, Trim};
pub use door::{Grain, TrimError};
pub use fewest::{Closed, none_fewer};
pub use findings::{Found, findings, misses, slopes_after, slopes_now};
pub use screws::Step;
pub use solve::solve;
pub use tops::slopes;

use super::answer::Setting;
use super::model::Problem;
use tober_quantity::TenthMm;

/// A slope as it is read: in hundredths of a millimetre a metre.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct HundredthMmPerM(pub i64);

/// What stands under one support now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stands {
    /// How the leg is set.
    pub setting: Setting,
    /// The kinds of its boards from the ground up, as places in [`Problem::boards`].
    pub laid: Vec<usize>,
}

/// What a kick at a foot tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Foot {
    /// It does not move.
    Snug,
    /// It moves: there is a gap under it.
    Light {
        /// How wide the gap is, where it was read.
        gap: Option<TenthMm>,
    },
}

/// How the frame was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Frame {
    /// With a level, along and across.
    Level {
        /// The slope along: positive where the front is higher.
        along: HundredthMmPerM,
        /// The slope across: positive where the left is higher.
        across: HundredthMmPerM,
        /// What a slope may be off by, either way, where that is known.
        off_by: Option<HundredthMmPerM>,
    },
    /// Its height over a string or laser at each support.
    Heights {
        /// One for each support, where it was read.
        at: Vec<Option<TenthMm>>,
        /// What a height may be off by, either way, where that is known.
        off_by: Option<TenthMm>,
    },
}

/// Everything that was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading {
    /// The frame.
    pub frame: Frame,
    /// One foot for each support, where it was kicked.
    pub feet: Vec<Option<Foot>>,
}

/// The question: what was built, and what was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The packing problem as it was before anything was lowered. Its heights of the ground are used for its
    /// clearances alone.
    pub problem: Problem,
    /// What stands, one for each support.
    pub stands: Vec<Stands>,
    /// What was read.
    pub reading: Reading,
}
