//! C2: which hole and which boards under each leg, so that the frame is level and as low as it can be.
//!
//! [`solve`] answers a [`Problem`] with an [`Answer`] that is proved, or says what it could not prove.
//! All lengths are whole tenths of a millimetre, so that a tie at a limit is decided, not rounded.
//!
//! Invariant: a choice that leaves here passed its test in whole numbers.

mod answer;
mod aside;
mod certificate;
pub mod chance;
mod findings;
mod model;
mod pack;
mod plane;
mod polytope;
mod prices;
mod refuse;
mod relax;
mod search;
mod shift;
mod solve;
mod stack;
mod table;
pub mod trim;

pub use answer::{Answer, Budget, Certificate, Choice, Placed, Setting, Stage};
pub use aside::{Spot, aside};
pub use findings::{findings, residual};
pub use model::{
    BoardKind, Clearance, HeightToWidth, Leg, Part, PlanSize, Problem, StackRules, Support, TenthMmPerM,
    Wedges,
};
pub use plane::Plane;
pub use refuse::{BOARDS_PER_STACK_MOST, CLEARANCES_MOST, KINDS_MOST, ProblemError, SUPPORTS_MOST};
pub use relax::{Cure, Means, Remedy, WhyNot, why_not};
pub use shift::{DugShift, Shift, There, least_shift, least_shift_dug};
pub use solve::solve;
