//! What can be wrong with a question about stability.

use core::fmt;
use tober_quantity::{Amount, Quantity, UnitSet};

/// A question about stability that cannot be answered, and what would be right.
#[derive(Clone, Debug, PartialEq)]
pub enum StabilityError {
    /// A value is outside the range in which it means anything, or is not a number.
    OutOfRange {
        /// What the value is: "mass".
        what: &'static str,
        /// Of what, by its name.
        of: String,
        /// The value given.
        given: Amount,
        /// The least that is accepted.
        least: Amount,
        /// The greatest that is accepted.
        greatest: Amount,
    },
    /// There are too few or too many of something.
    Count {
        /// Of what, in the plural: "contacts with the ground".
        what: &'static str,
        /// How many were given.
        given: usize,
        /// The fewest that are accepted.
        fewest: usize,
        /// The most that are accepted.
        most: usize,
    },
    /// Two contacts with the ground are in one place.
    SamePlace {
        /// The first, by its name.
        first: String,
        /// The second, by its name.
        second: String,
    },
    /// All contacts with the ground are on one line, so that there is no base to stand on.
    OneLine {
        /// How wide the base is.
        width: Amount,
        /// How wide it must be.
        least: Amount,
    },
}

impl fmt::Display for StabilityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange { what, of, given, least, greatest } => write!(
                f,
                "The {what} of {of} is {}; it must be a number from {} to {}.",
                plain(*given),
                plain(*least),
                plain(*greatest),
            ),
            Self::Count { what, given, fewest, most } => {
                write!(f, "There are {given} {what}; there must be from {fewest} to {most}.")
            }
            Self::SamePlace { first, second } => write!(
                f,
                "The contacts {first} and {second} are in one place; give each its own place, or one of them only."
            ),
            Self::OneLine { width, least } => write!(
                f,
                "The contacts with the ground span a base only {} wide; at least {} is needed to stand on.",
                plain(*width),
                plain(*least),
            ),
        }
    }
}

impl core::error::Error for StabilityError {}

fn plain(amount: Amount) -> String {
    let unit = amount.shown.unit(UnitSet::Metric);
    let space = if unit.symbol.is_empty() { "" } else { " " };
    format!("{}{space}{}", amount.si / unit.factor, unit.symbol)
}

/// Lets a value through that lies in a range, ends included.
pub(super) fn within<Q: Quantity>(
    what: &'static str,
    of: &str,
    given: Q,
    least: Q,
    greatest: Q,
) -> Result<(), StabilityError> {
    // Written so that an undefined number, which compares as false, is refused.
    if given.si() >= least.si() && given.si() <= greatest.si() {
        return Ok(());
    }
    Err(StabilityError::OutOfRange {
        what,
        of: of.to_owned(),
        given: given.amount(),
        least: least.amount(),
        greatest: greatest.amount(),
    })
}

/// Lets a count through that lies in a range, ends included.
pub(super) fn counted(
    what: &'static str,
    given: usize,
    fewest: usize,
    most: usize,
) -> Result<(), StabilityError> {
    if (fewest..=most).contains(&given) {
        return Ok(());
    }
    Err(StabilityError::Count { what, given, fewest, most })
}
