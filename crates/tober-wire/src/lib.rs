//! The JSON shapes at every door.
//!
//! Two things pass here: questions for one calculation (`tober calc`, and later the phone), and plans.
//! Questions are read by hand from JSON, so that an error can say at which field it is, what stands
//! there and what would be right. Answers are written by hand, so that the inner types stay free to
//! change. Same question, same bytes.
//!
//! Invariant: this crate decides nothing. It reads fields, calls one calculation, and writes fields.

pub mod calc;
pub mod plan;
pub mod read;
#[cfg(feature = "command")]
pub mod steps;
pub mod trim;
#[cfg(feature = "command")]
mod weighing;
pub mod write;

#[cfg(feature = "command")]
pub use weighing::weighing;
