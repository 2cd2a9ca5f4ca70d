//! Why a drawing could not be made.

use core::fmt;

/// Why a drawing could not be made.
#[derive(Clone, Debug, PartialEq)]
pub enum DrawError {
    /// A figure of the plan is not a number, or is beyond anything on a pitch.
    Figure {
        /// Whose figure.
        whose: String,
        /// Which figure.
        what: &'static str,
        /// Its value in SI units.
        value: f64,
        /// The greatest magnitude that can be drawn, in SI units.
        greatest: f64,
    },
    /// More things than one sheet can show.
    TooMany {
        /// Of what.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many can be shown.
        greatest: usize,
    },
    /// The plan holds no leg of that place.
    NoSuchLeg {
        /// The place asked for, from 0.
        leg: usize,
        /// How many legs the plan holds.
        legs: usize,
    },
    /// The size asked of a picture is not one that can be made.
    Scale {
        /// The scale asked for.
        scale: f32,
        /// The widest and highest picture that is made, in pixels.
        greatest: u32,
    },
    /// The drawing cannot be read as SVG.
    Svg {
        /// What the reader said.
        why: String,
    },
}

impl fmt::Display for DrawError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Figure { whose, what, value, greatest } => write!(
                f,
                "{whose}: {what} is {value}, which cannot be drawn; it must be a number between \
                 −{greatest} and {greatest} in SI units."
            ),
            Self::TooMany { what, count, greatest } => {
                write!(f, "The plan holds {count} {what}; a drawing shows {greatest} at most.")
            }
            Self::NoSuchLeg { leg, legs } => {
                write!(f, "The plan has no leg at place {leg}; it has {legs}, counted from 0.")
            }
            Self::Scale { scale, greatest } => write!(
                f,
                "A picture at scale {scale} cannot be made; the scale must be above 0 and the picture at \
                 most {greatest} pixels wide and high."
            ),
            Self::Svg { why } => write!(f, "The drawing cannot be read as SVG: {why}."),
        }
    }
}

impl core::error::Error for DrawError {}
