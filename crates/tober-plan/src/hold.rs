//! What holds the open ride besides its weight: guys with their anchors, and ballast.

use tober_book::{Ballast, Pitch, Ride, Visit};
use tober_calc::stability::{Body, CarriedBy, Guy};
use tober_quantity::{Force, Length, Ratio};

/// A strength over its factor; none where either is not written.
fn over(strength: Option<Force>, factor: Option<Ratio>) -> Option<Force> {
    Some(strength? / factor?.as_one())
}

/// The guys, each with the least pull at which its anchor was tested and held.
///
/// An anchor is taken to be as low as the lowest foot, which gives the guy its longest and steepest way down.
pub(crate) fn guys(ride: &Ride, pitch: &Pitch, ground: Length) -> Vec<Guy> {
    let guy = |guy: &tober_book::Guy| {
        let tests = pitch.anchors.iter().filter(|test| test.guy == guy.name);
        let held = tests.map(|test| test.held.0).reduce(Force::min);
        Guy {
            name: guy.name.clone(),
            from: (guy.at.along, guy.at.across, guy.up),
            anchor: (guy.anchor.along, guy.anchor.across, ground),
            pretension: guy.pretension.map(|load| load.0),
            strength: over(guy.breaking_strength.map(|load| load.0), guy.factor.map(|factor| factor.0)),
            anchor_strength: over(held, guy.anchor_factor.map(|factor| factor.0)),
        }
    };
    ride.guys.iter().map(guy).collect()
}

/// The ballast that is not left at home.
pub(crate) fn ballast<'a>(ride: &'a Ride, visit: &'a Visit) -> impl Iterator<Item = &'a Ballast> {
    ride.ballast.iter().filter(|ballast| !visit.about.without.contains(&ballast.name))
}

/// Ballast as a body of the open ride.
pub(crate) fn as_body(ballast: &Ballast) -> Body {
    Body {
        name: ballast.name.clone(),
        mass: ballast.mass,
        x: ballast.at.along.value,
        y: ballast.at.across.value,
        z: ballast.at.up.high(),
        carried_by: match ballast.on_turntable {
            Some(true) => CarriedBy::Turntable,
            Some(false) => CarriedBy::Frame,
            None => CarriedBy::NotKnown,
        },
        wind: crate::stand::in_wind(ballast.wind.as_ref()),
    }
}
