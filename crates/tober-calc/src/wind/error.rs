//! What can be wrong with a question about wind.

use core::fmt;
use tober_quantity::{Amount, Quantity, UnitSet};

/// A question about wind that cannot be answered, and what would be right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WindError {
    /// A value is outside the range in which the formula holds, or is not a number.
    OutOfRange {
        /// What the value is.
        what: &'static str,
        /// The value given.
        given: Amount,
        /// The least that is accepted.
        least: Amount,
        /// The greatest that is accepted.
        greatest: Amount,
    },
}

impl fmt::Display for WindError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::OutOfRange { what, given, least, greatest } => {
                let unit = given.shown.unit(UnitSet::Metric);
                let space = if unit.symbol.is_empty() { "" } else { " " };
                write!(
                    f,
                    "The {what} is {}{space}{symbol}; it must be a number from {} to {}{space}{symbol}.",
                    given.si / unit.factor,
                    least.si / unit.factor,
                    greatest.si / unit.factor,
                    symbol = unit.symbol,
                )
            }
        }
    }
}

impl core::error::Error for WindError {}

/// Lets a value through that lies in a range, ends included.
pub(super) fn within<Q: Quantity>(
    what: &'static str,
    given: Q,
    least: Q,
    greatest: Q,
) -> Result<(), WindError> {
    // Written so that an undefined number, which compares as false, is refused.
    if given.si() >= least.si() && given.si() <= greatest.si() {
        return Ok(());
    }
    Err(WindError::OutOfRange {
        what,
        given: given.amount(),
        least: least.amount(),
        greatest: greatest.amount(),
    })
}
