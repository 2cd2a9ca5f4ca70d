//! What a survey refuses, and why.

use core::fmt;
use tober_quantity::Length;

/// Why readings could not be turned into heights.
#[derive(Clone, Debug, PartialEq)]
pub enum SurveyError {
    /// A value is not a number, or is infinite.
    NotANumber {
        /// What the value is.
        what: &'static str,
        /// The point, set-up or side it belongs to.
        at: String,
    },
    /// A length lies outside what can be read on a pitch.
    OutOfRange {
        /// What the value is.
        what: &'static str,
        /// The point or set-up it belongs to.
        at: String,
        /// The value given.
        value: Length,
        /// The least that is accepted.
        low: Length,
        /// The greatest that is accepted.
        high: Length,
    },
    /// A frame slope is steeper than a level can tell, or its deviation is not above nothing.
    Slope {
        /// What the value is.
        what: &'static str,
        /// The axis of the frame.
        axis: &'static str,
        /// The value given, in millimetres a metre.
        mm_per_m: f64,
        /// The greatest accepted, in millimetres a metre.
        most_mm_per_m: f64,
    },
    /// Nothing was read.
    NoReadings,
    /// No point has a known height.
    NoDatum,
    /// No slope was read along one axis of the frame.
    NoSlope {
        /// The axis.
        axis: &'static str,
    },
    /// A name is used for two different things.
    RepeatedName {
        /// The name.
        name: String,
        /// What bears it.
        what: &'static str,
    },
    /// More of something than a survey of one pitch can need.
    TooMany {
        /// What.
        what: &'static str,
        /// How many were given.
        count: usize,
        /// The most that is accepted.
        most: usize,
    },
    /// A surface needs three points.
    TooFewPoints {
        /// How many points have a place and a height.
        have: usize,
        /// How many are needed.
        need: usize,
    },
    /// Two points stand at the same place, to the tenth of a millimetre.
    SamePlace {
        /// One of them.
        first: String,
        /// The other.
        second: String,
    },
    /// All points lie on one line.
    OnOneLine {
        /// How many there are.
        points: usize,
    },
    /// One point is read at two places.
    TwoPlaces {
        /// The point.
        point: String,
    },
    /// No chain of readings leads from a fixed height to these points.
    NotConnected {
        /// The points.
        points: Vec<String>,
    },
    /// Two surveys have no point in common.
    NothingInCommon,
    /// A point that is named as still was not read both times.
    StillNotRead {
        /// The point.
        point: String,
    },
    /// A booking does not run from backsight to foresight, set-up after set-up.
    NotARun {
        /// The set-up where the run breaks.
        set_up: String,
        /// What is wrong there.
        because: &'static str,
    },
}

impl fmt::Display for SurveyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotANumber { what, at } => {
                write!(f, "The {what} at {at} is not a number: read it again and write it down.")
            }
            Self::OutOfRange { what, at, value, low, high } => write!(
                f,
                "The {what} at {at} is {:.4} m: it must lie between {:.4} m and {:.4} m.",
                value.as_m(),
                low.as_m(),
                high.as_m()
            ),
            Self::Slope { what, axis, mm_per_m, most_mm_per_m } => write!(
                f,
                "The {what} along the frame's {axis} is {mm_per_m} mm/m: it must be no more than \
                 {most_mm_per_m} mm/m, and a deviation must be above nothing."
            ),
            Self::NoReadings => write!(f, "There are no readings: read at least one point."),
            Self::NoDatum => {
                write!(f, "No point has a known height: give one point a height, 0 if nothing else is known.")
            }
            Self::NoSlope { axis } => write!(
                f,
                "The frame's slope along its {axis} was not read: lay the level along that axis and read it."
            ),
            Self::RepeatedName { name, what } => {
                write!(f, "Two {what} are called {name}: give each its own name.")
            }
            Self::TooMany { what, count, most } => {
                write!(f, "There are {count} {what}: at most {most} can be worked out together.")
            }
            Self::TooFewPoints { have, need } => {
                write!(f, "Only {have} points have a place and a height: a surface needs at least {need}.")
            }
            Self::SamePlace { first, second } => write!(
                f,
                "{first} and {second} stand at the same place: keep one of them, or correct where they stand."
            ),
            Self::OnOneLine { points } => {
                write!(f, "All {points} points lie on one line: read at least one point to the side of it.")
            }
            Self::TwoPlaces { point } => write!(
                f,
                "{point} is read at two different places: a second reading must be at the same place, or \
                 have another name."
            ),
            Self::NotConnected { points } => write!(
                f,
                "No chain of readings leads from a known height to {}: read a known point, or a point shared \
                 with another set-up, from there too.",
                points.join(", ")
            ),
            Self::NothingInCommon => {
                write!(f, "No point was read both times: give a point the same name in both readings.")
            }
            Self::StillNotRead { point } => write!(
                f,
                "{point} is named as still and was not read both times: name a point that was, or none."
            ),
            Self::NotARun { set_up, because } => {
                write!(f, "The booking is not a run at set-up {set_up}: {because}.")
            }
        }
    }
}

impl core::error::Error for SurveyError {}
