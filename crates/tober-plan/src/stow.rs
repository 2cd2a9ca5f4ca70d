//! What must be stowed before the greatest wind in which the ride may stand.

use crate::aboard::present;
use crate::stand::placed;
use tober_book::{Body, Ride, Visit};
use tober_calc::finding::Finding;
use tober_calc::stability::{
    Body as Standing, InWind, Sources, StabilityInput, StowingInput, stowing_finding,
};
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
    for body in present(ride, visit) {
        if let Some(wheel) = crate::wheel::wheel(ride).filter(|_| body.on_turntable == Some(true)) {
            on_its_wheel(ride, visit, wheel, body, input, &mut question);
            continue;
        }
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

/// A body that is stowed where it hangs on its wheel: its wind, which is a body by itself, changes, and its weight goes
/// round as before. One that would be taken off the wheel is counted open.
fn on_its_wheel(
    ride: &Ride,
    visit: &Visit,
    wheel: crate::wheel::Wheel<'_>,
    body: &Body,
    input: &StabilityInput,
    question: &mut StowingInput,
) {
    let name = format!("wind on {}", body.name);
    let Some(at) = input.bodies.iter().position(|standing| standing.name == name) else { return };
    let Some(up) = wheel.wind_up(ride, visit) else { return };
    let Some(stowed) = wheel.stowed_face(ride, body, up) else { return };
    let open = match crate::stand::in_wind(body.placement(crate::stand::OPEN).and_then(|p| p.wind.as_ref())) {
        InWind::Face { drag_area_along, drag_area_across, lift_area, .. } => {
            InWind::Face { drag_area_along, drag_area_across, lift_area, pressure_height: up }
        }
        other => other,
    };
    if body.stowed_in_wind == Some(true) {
        question.told.push(question.stowable.len());
    }
    question.open.bodies[at].wind = open;
    let standing = input.bodies[at].clone();
    question.stowable.push((at, Standing { name: body.name.clone(), wind: stowed, ..standing }));
}
