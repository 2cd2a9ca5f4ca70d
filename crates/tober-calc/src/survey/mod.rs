//! C1, the survey: from readings to heights of the ground, each with a standard deviation.
//!
//! Six ways of reading are worked out here: [`staff()`] (a level and a staff, from one or several set-ups),
//! [`laser()`] (a rotating laser and a staff), [`water_level()`] (a hose of water), [`tape()`] (the trailer on
//! its wheels, a level on its frame, and a tape down to the ground), [`scale()`] (the trailer on its legs, and
//! the scale painted on each) and [`spots()`] (heights that a survey instrument worked out itself). Each gives
//! a [`Survey`], and a [`Surface`] lays triangles over its points: outside them nothing is known.
//! [`settlement()`] compares two surveys of the same points.
//!
//! Axes: x along the frame, y across it, z up, right-handed. A slope is above zero where the frame
//! rises towards greater x or y. Heights are up-positive from the datum of the pitch.
//!
//! Invariant: no reading is ever dropped or altered because it does not fit. It is named, and a person
//! reads again.

mod booking;
mod closing;
mod closure;
mod covariance;
mod dense;
mod error;
mod findings;
mod instrument;
mod laser;
mod net;
mod plane;
mod settlement;
mod spots;
mod staff;
mod surface;
mod tape;
mod water;

pub use booking::{Booked, BookedLevel, height_of_collimation, rise_and_fall};
pub use closing::closure_finding;
pub use closure::{Closure, ClosureLimit, share_misclosure};
pub use covariance::Covariance;
pub use error::SurveyError;
pub use findings::findings;
pub use instrument::{TwoPeg, curvature_and_refraction, end_for_end, two_peg};
pub use laser::{Laser, LaserSetUp, LaserSurvey, laser};
pub use plane::{Plane, best_plane};
pub use settlement::{Change, MOVED_AT, Settlement, SettlementLimits, settlement, settlement_findings};
pub use spots::{Spot, spots};
pub use staff::{FixedPoint, Instrument, SetUp, Sight, StaffReading, StaffSurvey, staff};
pub use surface::{Ground, Surface};
pub use tape::{Axis, LevelReading, TapeReading, TapeSurvey, scale, tape};
pub use water::{WaterReading, WaterSurvey, water_level};

use tober_quantity::{Length, Ratio, Slope};

/// How the ground was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Method {
    /// A level and a staff.
    Staff,
    /// A rotating laser and a staff.
    Laser,
    /// A hose of water.
    WaterLevel,
    /// A tape from the frame of a trailer on its wheels.
    Tape,
    /// The painted scale on the legs of a trailer that stands on them.
    Scale,
    /// Heights as a survey instrument gave them.
    Spots,
}

/// Where a point is on the plan, in the axes of the frame or of the pitch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Along the frame.
    pub x: Length,
    /// Across it, to the left.
    pub y: Length,
}

/// The height of one point, and how well it is known.
#[derive(Clone, Debug, PartialEq)]
pub struct PointHeight {
    /// The point's name.
    pub name: String,
    /// Where it is on the plan, where that is known.
    pub place: Option<Place>,
    /// Its height above the datum.
    pub height: Length,
    /// One standard deviation of that height against the datum.
    pub deviation: Length,
    /// Whether every reading that bears on this height is checked by another one.
    pub checked: bool,
}

/// One reading, as it is named to a person.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ReadingName {
    /// The set-up it was read from: for a tape survey, "tape" or "level".
    pub set_up: String,
    /// The point it was read on: for the level, the axis.
    pub point: String,
    /// Which reading of that set-up it is, counted from one.
    pub row: usize,
}

/// What the adjustment made of one reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Residual {
    /// Which reading.
    pub reading: ReadingName,
    /// Adjusted less read.
    pub residual: Length,
    /// The share of an error in this reading that shows in its own residual: 0 when nothing checks it.
    pub redundancy: Ratio,
    /// The residual over its own standard deviation, or `None` when nothing checks the reading.
    pub standardised: Option<Ratio>,
}

/// Why a reading is doubted.
#[derive(Clone, Debug, PartialEq)]
pub enum Doubt {
    /// Its standardised residual is past [`BLUNDER_AT`].
    Blunder {
        /// That residual, without its sign.
        standardised: Ratio,
        /// The error that would explain it, read less true.
        error: Length,
        /// The other readings that would explain it equally well.
        or_else: Vec<ReadingName>,
    },
    /// Readings of one thing differ by more than they should.
    Disagree {
        /// The greatest less the least, in the unit of the reading; for a slope, millimetres over a metre.
        range: Length,
        /// The most that they should differ.
        most: Length,
    },
    /// The ground there lies off the plane of its neighbours. It may be so: look.
    OffItsNeighbours {
        /// How far above that plane it lies.
        off: Length,
        /// How many times the neighbours' own spread that is.
        times_spread: Ratio,
    },
}

/// A reading to look at again.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Which reading.
    pub reading: ReadingName,
    /// Why.
    pub doubt: Doubt,
}

/// Heights from readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Survey {
    /// The points, in order of their names.
    pub heights: Vec<PointHeight>,
    /// What became of each reading, in the order they were booked.
    pub residuals: Vec<Residual>,
    /// How many readings there are beyond those that are needed.
    pub freedom: usize,
    /// The square root of the variance factor: how the residuals compare with the deviation the
    /// instrument is said to have. `None` where there is nothing to compare.
    pub spread: Option<Ratio>,
    /// What the deviations were multiplied by: the spread where that is above one, otherwise one.
    /// Readings that happen to agree never make a height better than its instrument.
    pub deviations_scaled_by: Ratio,
    /// Readings that do not fit.
    pub suspects: Vec<Suspect>,
    /// Readings that nothing checks.
    pub unchecked: Vec<ReadingName>,
    /// How the run closed, where the booking is a run between known points.
    pub closure: Option<Closure>,
    /// How the readings were made.
    pub method: Method,
    /// How the errors of the heights hang together, in the order of the heights; already scaled as the deviations.
    pub covariance: Covariance,
    /// What the readings say of the laser itself.
    pub plane: Vec<PlaneFound>,
}

/// What readings say of one error of a rotating laser.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaneFound {
    /// Which error: "plane of set-up 1, along", "cone".
    pub what: String,
    /// How much, as the readings have it.
    pub slope: Slope,
    /// One standard deviation of that.
    pub deviation: Slope,
    /// The share of such an error that shows in the readings: 0 when nothing checks it.
    pub redundancy: Ratio,
    /// How it stands to the deviation the laser is said to have, where anything checks it.
    pub standardised: Option<Ratio>,
}

/// The standardised residual past which a reading is doubted.
///
/// One sound reading in a thousand is past it: the two-sided 0.1 % point of the normal distribution,
/// usual in testing levelling nets (from memory).
pub const BLUNDER_AT: f64 = 3.29;

/// A length that is a number between two bounds.
fn within(value: Length, low: Length, high: Length, what: &'static str, at: &str) -> Result<(), SurveyError> {
    if !value.is_finite() {
        return Err(SurveyError::NotANumber { what, at: at.to_owned() });
    }
    if value < low || value > high {
        return Err(SurveyError::OutOfRange { what, at: at.to_owned(), value, low, high });
    }
    Ok(())
}

/// A place within a hundred metres of the origin.
fn placed(place: Place, at: &str) -> Result<(), SurveyError> {
    let most = Length::m(100.0);
    within(place.x, -most, most, "place along x", at)?;
    within(place.y, -most, most, "place along y", at)
}

/// A standard deviation: above nothing, and no more than a tenth of a metre.
fn deviation_of(value: Length, what: &'static str, at: &str) -> Result<(), SurveyError> {
    within(value, Length::mm(0.01), Length::mm(100.0), what, at)
}
