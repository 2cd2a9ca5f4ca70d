//! Why a weighing cannot be worked.

use core::fmt;

/// Why a weighing cannot be worked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WeighingError {
    /// There is nothing to weigh, or nothing was read.
    Nothing {
        /// What is missing: "body" or "reading".
        what: &'static str,
    },
    /// More than are worked.
    TooMany {
        /// Of what.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many are worked.
        most: usize,
    },
    /// A name that nothing bears.
    Unknown {
        /// What it should name.
        what: &'static str,
        /// The name.
        name: String,
        /// Where it is used.
        at: String,
    },
    /// A name given twice.
    Twice {
        /// What bears it.
        what: &'static str,
        /// The name.
        name: String,
    },
    /// A figure that cannot be.
    Figure {
        /// Which: "mass".
        what: &'static str,
        /// Of what.
        of: String,
        /// What it must be.
        must: &'static str,
    },
    /// A reading of some of the supports of a state in which a body's place is not known.
    PlaceNotKnown {
        /// The reading.
        reading: String,
        /// The body.
        body: String,
    },
    /// The figures are so far apart in size that nothing can be worked out in double precision.
    Lost,
}

impl fmt::Display for WeighingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing { what } => write!(f, "there is no {what}; at least one is needed"),
            Self::TooMany { what, count, most } => {
                write!(f, "there are {count} {what}, and at most {most} are worked")
            }
            Self::Unknown { what, name, at } => {
                write!(f, "{at} names the {what} \"{name}\", and there is none")
            }
            Self::Twice { what, name } => {
                write!(f, "the {what} \"{name}\" is given twice; give each its own name")
            }
            Self::Figure { what, of, must } => write!(f, "the {what} of \"{of}\" must be {must}"),
            Self::PlaceNotKnown { reading, body } => write!(
                f,
                "reading \"{reading}\" is of some of the supports, and where \"{body}\" is was not said; say where, or weigh everything"
            ),
            Self::Lost => write!(
                f,
                "the deviations differ so much in size that the figures are lost; give deviations nearer to each other"
            ),
        }
    }
}

impl core::error::Error for WeighingError {}
