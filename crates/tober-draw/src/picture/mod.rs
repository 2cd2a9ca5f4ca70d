//! A picture of a step: the ride from outside, what moves drawn heavy, and what a new hand must know of it.
//!
//! Everything is drawn from the shapes and places of the ride book and the packing of the plan; nothing is to be seen that
//! they do not tell, except road wheels, drawbars and legs, which are drawn for their place only, and where people stand.

mod choose;
mod ground;
mod key_plan;
mod motion;
mod rope;
mod scene;
mod step;
mod told;
mod views;

#[cfg(test)]
mod tests;

pub use views::{load_strip, stage_views};

use crate::style::StyleSheet;
use crate::{DrawError, sheet};
use choose::{in_question, seen_best};
use tober_book::Ride;
use tober_plan::{Plan, StepShown};

/// The most bodies of one picture: beyond it the work of one drawing is no longer bounded by a blink.
const BODIES: usize = 400;

/// A picture of a step.
///
/// # Errors
/// Where a figure of the plan cannot be drawn, or there are more bodies than one picture shows.
pub fn step_picture(
    ride: &Ride,
    plan: &Plan,
    shown: &StepShown<'_>,
    style: StyleSheet,
) -> Result<String, DrawError> {
    checked(plan, shown)?;
    let (scene, chosen) = seen_best(ride, plan, shown);
    Ok(step::draw(&scene, &chosen, style))
}

/// The picture of a step without its words, for a card that says them itself: the ride, what moves, the balloons of the
/// fixings, who stands where, and the scale. `size` is its width and height; letters are 13 or more of the same unit high.
///
/// # Errors
/// As of [`step_picture`].
pub fn card_picture(
    ride: &Ride,
    plan: &Plan,
    shown: &StepShown<'_>,
    size: (f64, f64),
    style: StyleSheet,
) -> Result<String, DrawError> {
    checked(plan, shown)?;
    let (scene, chosen) = seen_best(ride, plan, shown);
    Ok(step::on_a_card(&scene, &chosen, size, style))
}

/// A picture of a step for a phone: the part of the ride about what moves, as large as a phone is wide. What stands under
/// the other picture in words is left to the page around it.
///
/// # Errors
/// As of [`step_picture`].
pub fn step_picture_for_phone(
    ride: &Ride,
    plan: &Plan,
    shown: &StepShown<'_>,
    style: StyleSheet,
) -> Result<String, DrawError> {
    checked(plan, shown)?;
    let (scene, chosen) = seen_best(ride, plan, shown);
    Ok(step::for_phone(&scene, &chosen, style))
}

/// The share of what a step moves, or of what is worked on, that its picture shows: from 0, all of it behind other bodies,
/// to 1. None where the step touches no body with a shape.
pub fn seen_of_step(ride: &Ride, plan: &Plan, shown: &StepShown<'_>) -> Option<f64> {
    let (scene, chosen) = seen_best(ride, plan, shown);
    let which = in_question(&scene);
    (!which.is_empty()).then(|| crate::solid::seen_share(&scene.solids, &which, &chosen.view, 8))
}

fn checked(plan: &Plan, shown: &StepShown<'_>) -> Result<(), DrawError> {
    crate::door::check(plan)?;
    let count = shown.bodies.len();
    if count > BODIES {
        return Err(DrawError::TooMany { what: "bodies", count, greatest: BODIES });
    }
    Ok(())
}

/// A coordinate pair for a path.
pub(crate) fn pair((x, y): (f64, f64)) -> String {
    format!("{} {}", sheet::number(x), sheet::number(y))
}
