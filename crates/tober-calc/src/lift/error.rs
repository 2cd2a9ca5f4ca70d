//! What can be wrong with a question about a lift.

use core::fmt;

/// A question about a lift that cannot be answered, and what would be right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LiftError {
    /// A value is outside the range that is accepted, or is not a number.
    OutOfRange {
        /// The field in the question.
        field: &'static str,
        /// What the value is, with its unit.
        what: &'static str,
        /// The value given.
        given: f64,
        /// The least that is accepted.
        least: f64,
        /// The greatest that is accepted.
        greatest: f64,
    },
    /// The eye of the line lies on the hinge or on the sheave at an angle of the travel.
    NoLine {
        /// Which of the two.
        on: &'static str,
        /// At which angle, in degrees.
        at_deg: f64,
    },
}

impl LiftError {
    /// The field that is at fault, where it is one.
    pub fn field(&self) -> Option<&'static str> {
        match self {
            Self::OutOfRange { field, .. } => Some(field),
            Self::NoLine { .. } => None,
        }
    }
}

impl fmt::Display for LiftError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::OutOfRange { what, given, least, greatest, .. } => {
                write!(f, "The {what} is {given}; it must be a number from {least} to {greatest}.")
            }
            Self::NoLine { on, at_deg } => write!(
                f,
                "At {at_deg} deg the eye of the line lies on the {on}, so there is no line that pulls: eye, hinge and sheave \
                 must be three places."
            ),
        }
    }
}

impl core::error::Error for LiftError {}

/// Lets a value through that lies in a range, ends included.
pub(super) fn within(
    field: &'static str,
    what: &'static str,
    given: f64,
    least: f64,
    greatest: f64,
) -> Result<(), LiftError> {
    // Written so that an undefined number, which compares as false, is refused.
    if given >= least && given <= greatest {
        return Ok(());
    }
    Err(LiftError::OutOfRange { field, what, given, least, greatest })
}
