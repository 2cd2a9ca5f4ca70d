//! What a question of reach is made of.

use crate::supports::Load;
use core::fmt;
use tober_quantity::{Force, Length, Quantity, Stiffness};

/// How stiff a hitch jack is taken to be: 30 kN shorten it by 0.3 mm. Ours; it is a steel screw in a steel tube.
pub const JACK_STIFFNESS_N_PER_M: f64 = 1e8;
/// The most legs a question may have.
pub(super) const LEGS_MOST: usize = 24;
/// The most axles a question may have.
const AXLES_MOST: usize = 8;

/// A spring and the height of the frame plane over it at which it begins to push.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spring {
    /// Along the frame.
    pub x: Length,
    /// Across the frame.
    pub y: Length,
    /// Force for each length of shortening.
    pub stiffness: Stiffness,
    /// The height of the frame plane above the datum of the pitch at which it begins to push.
    pub top: Length,
}

/// The wheels on one side of an axle.
pub type Wheel = Spring;

/// An axle: the wheels on its left and on its right.
#[derive(Clone, Debug, PartialEq)]
pub struct Axle {
    /// What it is called.
    pub name: String,
    /// Left and right; `top` is the frame plane with the wheel hanging just clear.
    pub wheels: [Wheel; 2],
    /// What both sides together may carry.
    pub rated: Option<Force>,
}

/// The hitch jack.
#[derive(Clone, Debug, PartialEq)]
pub struct Jack {
    /// The jack wound right in, without packing.
    pub lowest: Spring,
    /// How far it can be wound out.
    pub travel: Length,
    /// Packing under it, which stays for the whole sequence.
    pub packing: Length,
    /// The ground under it, above the datum of the pitch.
    pub ground: Length,
    /// What it may carry.
    pub rated: Option<Force>,
    /// The frame plane over it before anything is wound; the nearest height the jack reaches is taken.
    pub start: Length,
}

/// How a leg is held, and so what it wants before it is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    /// A hole of the leg meets the hole of the sleeve.
    LegAndSleeve,
    /// Holes in the leg only, the pin on top of the sleeve.
    AboveSleeve,
    /// Holes in the leg only, the pin under the sleeve.
    BelowSleeve,
    /// A screw.
    Screw {
        /// The height of the frame plane with the screw right in and its foot on its stack.
        shortest: Length,
    },
}

impl Way {
    /// What the crew does once the frame is high enough, as a sentence for the leg's line.
    pub fn work(self) -> &'static str {
        match self {
            Self::LegAndSleeve => "lay its stack, hold the leg until the holes meet, pin it",
            Self::AboveSleeve => "lay its stack, stand the leg on it, pin it on top of the sleeve",
            Self::BelowSleeve => "lay its stack, stand the leg on it, pin it under the sleeve",
            Self::Screw { .. } => "lay its stack, wind the screw down",
        }
    }
}

/// A leg and where it is to stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// What the crew calls it.
    pub name: String,
    /// The leg on its stack; `top` is its seat.
    pub spring: Spring,
    /// How it is held.
    pub way: Way,
    /// How far past its seat the frame must be for its pin; nothing for a screw.
    pub overlift: Length,
    /// The height of the frame plane at which the drawn-up leg touches the ground. Where it is missing, nothing is asked.
    pub drawn_up: Option<Length>,
    /// What it may carry.
    pub rated: Option<Force>,
}

impl Leg {
    /// How high the frame plane must be over this leg before it can be set.
    pub fn wants(&self) -> Length {
        match self.way {
            Way::Screw { shortest } => shortest,
            _ => self.spring.top + self.overlift,
        }
    }
}

/// A trailer on its wheels and its hitch jack, and the legs it is to be set on.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The axles.
    pub axles: Vec<Axle>,
    /// The hitch jack.
    pub jack: Jack,
    /// The legs, in the maker's order.
    pub legs: Vec<Leg>,
    /// What the trailer weighs and where, as it is when the legs are set.
    pub load: Load,
}

impl Question {
    /// The least and the greatest height of the top of the hitch jack.
    pub fn jack_ends(&self) -> (Length, Length) {
        let lowest = self.jack.lowest.top + self.jack.packing;
        (lowest, lowest + self.jack.travel)
    }

    /// Refuses a question that no trailer can ask.
    ///
    /// # Errors
    /// Names what is out of range. Springs and load are tried by the calculation of support loads.
    pub fn check(&self) -> Result<(), ReachError> {
        let count = |what, given: usize, least, most| {
            if (least..=most).contains(&given) {
                Ok(())
            } else {
                Err(ReachError::Count { what, given, least, most })
            }
        };
        count("axles", self.axles.len(), 1, AXLES_MOST)?;
        count("legs", self.legs.len(), 3, LEGS_MOST)?;
        let within = |what: String, length: Length, least: f64, most: f64| {
            let si = length.si();
            if si >= least && si <= most {
                Ok(())
            } else {
                Err(ReachError::Length { what, given: length, least, most })
            }
        };
        within("the travel of the hitch jack".to_owned(), self.jack.travel, 1e-3, 5.0)?;
        within("the packing under the hitch jack".to_owned(), self.jack.packing, 0.0, 5.0)?;
        within("the start of the hitch jack".to_owned(), self.jack.start, -100.0, 100.0)?;
        for leg in &self.legs {
            within(format!("the overlift of {}", leg.name), leg.overlift, 0.0, 1.0)?;
            if let Way::Screw { shortest } = leg.way {
                let seat = leg.spring.top.si();
                within(
                    format!("the shortest of {}, seen from its seat", leg.name),
                    shortest,
                    seat - 5.0,
                    seat,
                )?;
            }
        }
        Ok(())
    }
}

/// Why a question of reach is refused.
#[derive(Clone, Debug, PartialEq)]
pub enum ReachError {
    /// Too few or too many of a thing.
    Count {
        /// Of what.
        what: &'static str,
        /// How many there are.
        given: usize,
        /// The fewest.
        least: usize,
        /// The most.
        most: usize,
    },
    /// A length that no trailer has.
    Length {
        /// Which.
        what: String,
        /// What was given.
        given: Length,
        /// The least in metres.
        least: f64,
        /// The greatest in metres.
        most: f64,
    },
    /// The calculation of support loads refuses a spring or the load.
    Supports(crate::supports::SupportsError),
}

impl fmt::Display for ReachError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Count { what, given, least, most } => {
                write!(f, "There are {given} {what}; from {least} to {most} are worked out.")
            }
            Self::Length { what, given, least, most } => write!(
                f,
                "{what} is {:.1} mm; it must be from {:.1} to {:.1} mm.",
                given.as_mm(),
                least * 1000.0,
                most * 1000.0
            ),
            Self::Supports(error) => error.fmt(f),
        }
    }
}
