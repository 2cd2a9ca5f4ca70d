//! What must be stowed before the greatest wind in which the ride may stand.

use crate::aboard::present;
use crate::stand::placed;
use tober_book::{Body, Ride, Visit};
use tober_calc::finding::Finding;
use tober_calc::stability::{Sources, StabilityInput, StowingInput, stowing_finding};
use tober_quantity::Speed;

/// The placement of a body that is lowered, taken in or tied before a wind.
pub(crate) const STOWED: &str = "stowed";

/// The finding on what must be stowed. None where no body of the book can be.
///
/// `input` is the ride out of service with what the book has stowed.
pub(crate) fn stowing(
    ride: &Ride,
    visit: &Visit,
    input: &StabilityInput,
    speed: Speed,
    sources: &Sources,
) -> Option<Finding> {
    let mut question = StowingInput { open: input.clone(), stowable: Vec::new(), told: Vec::new() };
    for body in present(ride, visit).filter(|body| !on_a_wheel(ride, body)) {
        let Some(at) = input.bodies.iter().position(|standing| standing.name == body.name) else { continue };
        let (Ok(open), Ok(stowed)) = (placed(body, crate::stand::OPEN), placed(body, STOWED)) else {
            continue;
        };
        if body.stowed_in_wind == Some(true) {
            question.told.push(question.stowable.len());
        }
        question.open.bodies[at] = open;
        question.stowable.push((at, stowed));
    }
    if question.stowable.is_empty() {
        return None;
    }
    stowing_finding(&question, speed, sources).ok()
}

/// What turns on a wheel stays on its circle: it is counted open, and not among what can be stowed.
fn on_a_wheel(ride: &Ride, body: &Body) -> bool {
    crate::wheel::wheel(ride).is_some() && body.on_turntable == Some(true)
}
