//! C17 getting riders off: in which order seats are emptied when a ride has stopped with riders aboard.
//!
//! Riders of mass `m` at the distance `r` from the axis, in the direction `a` about it, put it out of balance. What is out of
//! balance at a stage is the length of the sum over everybody still aboard,
//!
//! `M = g abs(sum of m r (cos a, sin a))`,
//!
//! the greatest moment about the axis over a whole turn. An axis that leans by `l` from upright feels `T = M sin(l)` of it at the
//! worst angle: that is what brake, gear or hands must hold, or the ride runs away. Where `m` is a band, `M` is the greatest over
//! every choice inside the bands: the farthest corner of the sum of the segments, gone round in the order of their directions.
//!
//! # What is found
//! Of all orders that empty every seat that can be reached and opened, one whose greatest `M` (before, between and after) is
//! least; of those, one with the fewest turns by hand; of those, where there are few enough stages to go through all, one turned
//! through the least angle. Moments are compared in whole newton metres, rounded up.
//!
//! Stages are told by how many of each kind of seat are empty; seats in one place with riders of one mass are of a kind. The
//! search takes stages in the order of the greatest moment on the way to them, so the first complete order is the best. It
//! starts from a bound: each rider's step from aboard to off has half their own moment on one side of it at least. Work is
//! counted in stages; where it ends first, the answer carries what is proved so far.
//!
//! # Not covered
//! Swing while it is turned, what turning by jerks adds, the stability of the ride on its feet (see [`crate::stability`]), people
//! who climb aboard, and how heavy each rider really is.

mod answer;
mod error;
mod findings;
mod kinds;
mod search;
mod turns;

pub use answer::{Answer, Off, WhyLeft, answered, followed};
pub use error::RidersError;
pub use findings::{Allowed, findings, findings_of};

use tober_quantity::{Acceleration, Angle, Length, Mass};

/// The most seats of a question.
pub const SEATS_MOST: usize = 32;

/// What riders sit in.
#[derive(Clone, Debug, PartialEq)]
pub struct Seat {
    /// What it is called.
    pub name: String,
    /// How far its riders are from the axis.
    pub radius: Length,
    /// Its direction about the axis on the ride.
    pub angle: Angle,
    /// The riders in it, each with the least and the greatest they may weigh; none where it is empty.
    pub riders: Vec<(Mass, Mass)>,
    /// Whether its bar, belt or door cannot be opened.
    pub jammed: bool,
}

/// A place at which riders can leave a seat: a platform, a ladder.
#[derive(Clone, Debug, PartialEq)]
pub struct Access {
    /// What it is called.
    pub name: String,
    /// Its direction about the axis, fixed in space.
    pub angle: Angle,
    /// How far to either side of it a seat may stand.
    pub within: Angle,
}

/// A ride that has stopped with riders aboard.
#[derive(Clone, Debug, PartialEq)]
pub struct Stopped {
    /// The seats.
    pub seats: Vec<Seat>,
    /// Where riders can leave a seat.
    pub access: Vec<Access>,
    /// How far the ride is turned: a seat's direction in space is its own and this.
    pub turned: Angle,
    /// Whether it may be turned by hand with riders aboard.
    pub turning: bool,
    /// Whether riders of one seat may leave it at different times.
    pub one_by_one: bool,
    /// How far the axis leans from upright, everything counted.
    pub lean: Angle,
    /// What is out of balance without riders, as masses times distances in the ride's own directions.
    pub own_kg_m: (f64, f64),
    /// Gravity.
    pub gravity: Acceleration,
}
