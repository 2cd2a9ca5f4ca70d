//! What can be wrong with a question about getting riders off.

use core::fmt;

/// A question that cannot be answered, and what would be right.
#[derive(Clone, Debug, PartialEq)]
pub enum RidersError {
    /// A value is outside the range that is accepted, or is not a number.
    OutOfRange {
        /// The field in the question.
        field: String,
        /// What the value is, with its unit.
        what: &'static str,
        /// The value given.
        given: f64,
        /// The least that is accepted.
        least: f64,
        /// The greatest that is accepted.
        greatest: f64,
    },
    /// Too many seats.
    TooManySeats {
        /// How many.
        given: usize,
    },
    /// Two seats share a name.
    NameTwice {
        /// The field in the question.
        field: String,
        /// The name.
        name: String,
    },
    /// An order names a seat that has nobody left to get off, or that cannot be reached or opened.
    NotThere {
        /// The name.
        name: String,
        /// Why not.
        why: String,
    },
}

impl RidersError {
    /// The field that is at fault, where it is one.
    pub fn field(&self) -> Option<&str> {
        match self {
            Self::OutOfRange { field, .. } | Self::NameTwice { field, .. } => Some(field),
            Self::TooManySeats { .. } => Some("seats"),
            Self::NotThere { .. } => Some("order"),
        }
    }
}

impl fmt::Display for RidersError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange { what, given, least, greatest, .. } => {
                write!(f, "The {what} is {given}; it must be a number from {least} to {greatest}.")
            }
            Self::TooManySeats { given } => {
                write!(f, "{given} seats stand here; from 1 to {} are worked.", super::SEATS_MOST)
            }
            Self::NameTwice { name, .. } => {
                write!(f, "Two seats are called \"{name}\"; each wants a name of its own.")
            }
            Self::NotThere { name, why } => write!(f, "\"{name}\" stands in the order, and {why}."),
        }
    }
}

impl core::error::Error for RidersError {}
