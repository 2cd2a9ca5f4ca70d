//! What the ground calculations refuse, and why.

use core::fmt;
use tober_quantity::Force;

/// Why a calculation on ground or timber could not be done.
#[derive(Clone, Debug, PartialEq)]
pub enum GroundError {
    /// A value is not a number, or lies outside what can stand under a ride.
    OutOfRange {
        /// What the value is.
        what: &'static str,
        /// The value, in the unit named.
        value: f64,
        /// The least that is accepted.
        low: f64,
        /// The greatest that is accepted.
        high: f64,
        /// The unit of the three.
        unit: &'static str,
    },
    /// The least of a load is more than its greatest.
    Crossed {
        /// What was given as the least, in kilonewtons.
        least_kn: f64,
        /// What was given as the greatest, in kilonewtons.
        greatest_kn: f64,
    },
    /// The load stands beyond the edge of a layer.
    OffTheBoard {
        /// The layer, from the top, counted from one.
        layer: usize,
    },
    /// The load stands beyond the edge of its base: it tips.
    OffTheBase,
    /// More layers or boards than a stack can have.
    TooMany {
        /// What.
        what: &'static str,
        /// How many were given.
        count: usize,
        /// The most that is accepted.
        most: usize,
    },
    /// A name that no table here bears.
    NoSuch {
        /// What was looked for.
        what: &'static str,
        /// The name given.
        name: String,
        /// The names there are.
        known: Vec<&'static str>,
    },
}

impl fmt::Display for GroundError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange { what, value, low, high, unit } => {
                write!(f, "The {what} is {value} {unit}: it must lie between {low} and {high} {unit}.")
            }
            Self::Crossed { least_kn, greatest_kn } => write!(
                f,
                "The least load is {least_kn} kN and the greatest {greatest_kn} kN: the least may not pass the greatest."
            ),
            Self::OffTheBoard { layer } => write!(
                f,
                "The load stands beyond the edge of layer {layer} from the top: lay the boards under it."
            ),
            Self::OffTheBase => {
                write!(f, "The load stands beyond the edge of its base and tips it: bring it over the base.")
            }
            Self::TooMany { what, count, most } => {
                write!(f, "There are {count} {what}: at most {most} can be worked out.")
            }
            Self::NoSuch { what, name, known } => {
                write!(f, "There is no {what} called {name}: choose one of {}.", known.join("; "))
            }
        }
    }
}

impl core::error::Error for GroundError {}

/// A value between two bounds; anything that is not a number is outside them.
pub(super) fn within(
    what: &'static str,
    value: f64,
    (low, high): (f64, f64),
    unit: &'static str,
) -> Result<(), GroundError> {
    if value >= low && value <= high {
        return Ok(());
    }
    Err(GroundError::OutOfRange { what, value, low, high, unit })
}

/// A load from its least to its greatest. Crossed ends would be judged by the smaller of the two.
pub(super) fn load_within((least, greatest): (Force, Force)) -> Result<(), GroundError> {
    within("load", least.as_kn(), LOAD_KN, "kN")?;
    within("load", greatest.as_kn(), LOAD_KN, "kN")?;
    if least > greatest {
        return Err(GroundError::Crossed { least_kn: least.as_kn(), greatest_kn: greatest.as_kn() });
    }
    Ok(())
}

/// The loads that a foot can carry, in kilonewtons.
pub(super) const LOAD_KN: (f64, f64) = (0.0, 1e5);
/// The side of a foot, a board or a base, in metres.
pub(super) const SIDE_M: (f64, f64) = (0.001, 100.0);
