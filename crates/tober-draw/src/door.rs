//! The door of this crate: what can be drawn at all.

use crate::error::DrawError;
use tober_plan::{Held, LegPlan, Plan};
use tober_quantity::Quantity;

/// The greatest length that is drawn: 10 km.
const LENGTH_M: f64 = 10_000.0;
/// The greatest mass that is printed: a million tonnes.
const MASS_KG: f64 = 1e9;
/// The most legs on one sheet.
pub(crate) const LEGS: usize = 64;
/// The most layers of one stack.
pub(crate) const LAYERS: usize = 40;
/// The most points of the surroundings together.
const POINTS: usize = 4096;

/// Refuses a plan with a figure that cannot be drawn.
pub(crate) fn check(plan: &Plan) -> Result<(), DrawError> {
    few("legs", plan.legs.len(), LEGS)?;
    for leg in &plan.legs {
        check_leg(leg)?;
    }
    check_surroundings(plan)
}

pub(crate) fn check_leg(leg: &LegPlan) -> Result<(), DrawError> {
    let whose = leg.name.as_str();
    few("layers in one stack", leg.layers.len(), LAYERS)?;
    for (what, length) in [
        ("its place along the frame", leg.x),
        ("its place across the frame", leg.y),
        ("the length of its foot", leg.foot_length),
        ("the width of its foot", leg.foot_width),
        ("its stack", leg.stack),
        ("its lift", leg.lift),
        ("its residual", leg.residual),
    ] {
        within(whose, what, length, LENGTH_M)?;
    }
    match leg.held {
        Held::Hole { pitch, .. } => within(whose, "its hole pitch", pitch, LENGTH_M)?,
        Held::Screw { extension, travel, .. } => {
            within(whose, "its extension", extension, LENGTH_M)?;
            within(whose, "its travel", travel, LENGTH_M)?;
        }
    }
    for layer in &leg.layers {
        within(whose, "the thickness of a board", layer.thickness, LENGTH_M)?;
        within(whose, "the length of a board", layer.length, LENGTH_M)?;
        within(whose, "the width of a board", layer.width, LENGTH_M)?;
    }
    for height in leg.ground.iter().chain(&leg.ground_deviation) {
        within(whose, "the height of its ground", *height, LENGTH_M)?;
    }
    for mass in leg.load.iter().flat_map(|(low, high)| [low, high]).chain(&leg.rated) {
        within(whose, "its load", *mass, MASS_KG)?;
    }
    Ok(())
}

fn check_surroundings(plan: &Plan) -> Result<(), DrawError> {
    let around = &plan.surroundings;
    let features = around.features.iter().map(|feature| feature.points.len().max(1)).sum::<usize>();
    few("points on the pitch", around.frame.len() + around.wheels.len() + features, POINTS)?;
    few("arms", around.arms.len(), LEGS)?;
    let place = |whose: &str, (x, y): (tober_quantity::Length, tober_quantity::Length)| {
        within(whose, "a place along the frame", x, LENGTH_M)?;
        within(whose, "a place across the frame", y, LENGTH_M)
    };
    for point in &around.frame {
        place("Frame", *point)?;
    }
    for point in around.wheels.iter().chain(&around.hitch).chain(&around.centre) {
        place("Ride", *point)?;
    }
    for feature in &around.features {
        for point in &feature.points {
            place(&feature.name, *point)?;
        }
    }
    for (letter, angle, length) in &around.arms {
        within(letter, "the angle of an arm", *angle, 1000.0)?;
        within(letter, "the length of an arm", *length, LENGTH_M)?;
    }
    if let Some(reach) = around.reach {
        within("Ride", "its reach", reach, LENGTH_M)?;
    }
    if let Some(north) = around.north {
        within("Pitch", "the angle to north", north, 1000.0)?;
    }
    Ok(())
}

fn within<Q: Quantity>(whose: &str, what: &'static str, quantity: Q, greatest: f64) -> Result<(), DrawError> {
    let value = quantity.si();
    if value.is_finite() && value.abs() <= greatest {
        Ok(())
    } else {
        Err(DrawError::Figure { whose: whose.to_owned(), what, value, greatest })
    }
}

fn few(what: &'static str, count: usize, greatest: usize) -> Result<(), DrawError> {
    if count <= greatest { Ok(()) } else { Err(DrawError::TooMany { what, count, greatest }) }
}
