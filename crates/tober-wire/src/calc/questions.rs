//! The questions that are asked in bulk, read on their own: for benchmarks that time the calculation alone.

use crate::read::{Field, Read};
use serde_json::Value;
use tober_calc::packing::Problem;
use tober_calc::supports::{Load, Support};

#[cfg(feature = "command")]
pub use super::frame::FrameQuestion;

/// A packing question.
///
/// # Errors
/// Where a field is missing or wrong.
pub fn packing(question: &Value) -> Read<Problem> {
    super::packing::problem(&Field::whole_question(question))
}

/// A question of support loads.
///
/// # Errors
/// Where a field is missing or wrong.
pub fn supports(question: &Value) -> Read<(Vec<Support>, Load)> {
    super::supports::frame(&Field::whole_question(question)).map(|(_, supports, load)| (supports, load))
}

/// A question of a frame of beams.
///
/// # Errors
/// Where a field is missing or wrong.
#[cfg(feature = "command")]
pub fn frame(question: &Value) -> Read<FrameQuestion> {
    super::frame::frame(&Field::whole_question(question))
}
