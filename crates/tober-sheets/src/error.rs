//! Why no pack is printed.

use core::fmt;

/// Why no pack is printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SheetsError {
    /// No sheet of this name.
    NoSheet {
        /// What was asked for.
        asked: String,
        /// What there is.
        there: Vec<&'static str>,
    },
    /// The sheet is there, and this visit has nothing to put on it.
    Empty {
        /// The sheet.
        sheet: &'static str,
        /// What would fill it.
        wants: &'static str,
    },
    /// A figure of the plan cannot be drawn.
    Drawing(String),
    /// An address is too long for a code.
    Address {
        /// How many letters it has.
        letters: usize,
        /// How many it may have.
        most: usize,
    },
    /// A fault of ours, with what the typesetter said.
    Fault(String),
}

impl SheetsError {
    pub(crate) fn fault(said: &str) -> Self {
        Self::Fault(said.to_owned())
    }
}

impl fmt::Display for SheetsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSheet { asked, there } => {
                write!(f, "There is no sheet \"{asked}\". There are: {}.", there.join(", "))
            }
            Self::Empty { sheet, wants } => {
                write!(f, "The sheet \"{sheet}\" would be empty: {wants}.")
            }
            Self::Drawing(said) => f.write_str(said),
            Self::Address { letters, most } => write!(
                f,
                "The address has {letters} letters, and a code of this size holds at most {most}. Give a shorter one."
            ),
            Self::Fault(said) => {
                write!(
                    f,
                    "The pages could not be set, and that is a fault of ours; please report it: {said}."
                )
            }
        }
    }
}

impl core::error::Error for SheetsError {}
