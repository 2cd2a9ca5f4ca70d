//! What a plan is worked out from, and what a book says of bodies, axis and riders.

use crate::model::LegPlan;
use crate::wheel::wheel;
use tober_book::{Body, Pitch, Ride, Seat, Visit};
use tober_calc::working::Provenance;
use tober_quantity::{Angle, Length, Mass};

/// What a load comes from.
#[derive(Clone, Copy)]
pub(crate) struct Around<'a> {
    /// The ride.
    pub ride: &'a Ride,
    /// The pitch.
    pub pitch: &'a Pitch,
    /// The visit.
    pub visit: &'a Visit,
    /// The legs, as far as they are planned.
    pub legs: &'a [LegPlan],
}

/// How a mass of the book is known.
pub(crate) fn provenance(from: Option<tober_book::Provenance>) -> Provenance {
    match from {
        Some(tober_book::Provenance::Weighed) => Provenance::Weighed,
        Some(tober_book::Provenance::Maker) => Provenance::Maker,
        Some(tober_book::Provenance::Guessed) | None => Provenance::Guessed,
    }
}

/// The bodies that stay at home are left out.
pub(crate) fn present<'a>(ride: &'a Ride, visit: &'a Visit) -> impl Iterator<Item = &'a Body> {
    ride.bodies.iter().filter(|body| !visit.about.without.contains(&body.name))
}

/// Where on the plan the ride turns, if the book tells of exactly one axis: an upright one, or a wheel's hub.
pub(crate) fn axis(ride: &Ride) -> Option<(Length, Length)> {
    let rotations = &ride.motion.as_ref()?.rotations;
    let [rotation] = rotations.as_slice() else { return None };
    let upright = rotation.lean.is_some_and(|lean| lean == Angle::ZERO);
    (upright || wheel(ride).is_some()).then_some((rotation.about.along.value, rotation.about.across.value))
}

/// The heaviest that riders in a seat may be, if the book says.
pub(crate) fn riders(ride: &Ride, seat: &Seat) -> Option<Mass> {
    let of_limits = ride.limits.as_ref().and_then(|limits| limits.rider_mass_greatest);
    let one = match (seat.rider_mass_greatest, of_limits) {
        (Some(own), Some(general)) => own.max(general),
        (own, general) => own.or(general)?,
    };
    Some(one * seat.places as f64)
}
