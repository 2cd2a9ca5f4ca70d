//! What the parts of a ride book must agree on.

use super::{Frame, Ride, Seat, StiffnessModel, widened};
use crate::report::{Report, short};
use crate::{Code, Span};
use tober_quantity::{Mass, maths};
use toml::de::{DeTable, DeValue};

/// One mass at least is written: that of the ride, or that of a body.
pub(super) fn one_mass(tables: &DeTable<'_>, report: &mut Report) {
    let Some(about) = tables.get("ride") else { return };
    let DeValue::Table(keys) = about.get_ref() else { return };
    let bodies = match tables.get("body").map(toml::Spanned::get_ref) {
        Some(DeValue::Array(bodies)) => !bodies.is_empty(),
        Some(_) => true,
        None => false,
    };
    if !bodies && !keys.contains_key("mass") && !report.torn {
        let message = "No mass is written, so nothing can be said of any load.";
        let help = "Write `mass = \"3.4 t ± 5 %\"` here, or a `[[body]]` for each heavy part.";
        report.error(about.span().into(), Code::Missing, message, help);
    }
}

/// Widens each mass by how it is known, and looks at what only the whole book shows.
pub(super) fn parts(ride: &mut Ride, report: &mut Report) {
    ride.about.mass = ride.about.mass.map(|mass| widened(mass, ride.about.mass_from));
    for body in &mut ride.bodies {
        body.mass = widened(body.mass, body.mass_from);
    }
    for ballast in &mut ride.ballast {
        ballast.mass = widened(ballast.mass, ballast.mass_from);
    }
    for seat in &mut ride.seats {
        seat.mass = seat.mass.map(|mass| widened(mass, seat.mass_from));
    }
    bodies_within_the_whole(ride, report);
    frame(&ride.frame, report);
    seats_apart(&ride.seats, report);
    super::switch::slips(ride, report);
    super::support::blocked(&ride.supports, report);
}

/// The bodies together are not heavier than the ride they are parts of.
fn bodies_within_the_whole(ride: &Ride, report: &mut Report) {
    let Some(total) = ride.about.mass else { return };
    let least = ride.bodies.iter().fold(Mass::ZERO, |sum, body| sum + body.mass.low());
    if least > total.high() {
        let message = format!(
            "The bodies together are at least {:.0} kg, and the ride is at most {:.0} kg.",
            least.as_kg().floor(),
            total.high().as_kg().ceil()
        );
        let help = "`mass` is that of the whole ride, its bodies included.";
        report.error(ride.about.place.key("mass"), Code::Disagreement, message, help);
    }
}

/// The frame is drawn once, its beams are there if it is made of beams, and no two things share a place.
fn frame(frame: &Frame, report: &mut Report) {
    let place = &frame.place;
    if place.has("outline") && (place.has("length") || place.has("width")) {
        let message = "The frame has an outline and also a length or a width.";
        let help = "Write the outline, or the length and the width of a rectangle.";
        report.error(place.key("outline"), Code::Disagreement, message, help);
    }
    if frame.stiffness == Some(StiffnessModel::Beams) && !place.has("member") && !report.torn {
        let message = "The frame is of beams, and no `[[frame.member]]` is written.";
        let help = "Write its nodes and members, or `stiffness = \"rigid\"`.";
        report.error(place.key("stiffness"), Code::Missing, message, help);
    }
    let nodes: Vec<Standing<'_>> = frame
        .nodes
        .iter()
        .map(|node| Standing {
            name: &node.name,
            at_m: [node.at.along.as_m(), node.at.across.as_m(), 0.0],
            span: node.place.key("at"),
        })
        .collect();
    apart("Node", &nodes, report);
    for (number, axle) in frame.axles.iter().enumerate() {
        if frame.axles[..number].iter().any(|other| (other.at - axle.at).abs().as_mm() < 1.0) {
            let message = "This axle is where another is.";
            report.error(axle.place.key("at"), Code::Geometry, message, "Give each axle its own place.");
        }
    }
}

/// No two seats are in one place.
fn seats_apart(seats: &[Seat], report: &mut Report) {
    let standing = |seat: &'_ Seat| {
        let (radius_m, angle) = (seat.radius.as_m(), seat.angle.as_rad());
        let up_m = seat.height.map_or(0.0, tober_quantity::Length::as_m);
        [radius_m * maths::cos(angle), radius_m * maths::sin(angle), up_m]
    };
    let mut by_rotation = std::collections::BTreeMap::<Option<&str>, Vec<Standing<'_>>>::new();
    for seat in seats {
        let standing = Standing { name: &seat.name, at_m: standing(seat), span: seat.place.key("angle") };
        by_rotation.entry(seat.on.as_deref()).or_default().push(standing);
    }
    for seats in by_rotation.values() {
        apart("Seat", seats, report);
    }
}

struct Standing<'a> {
    name: &'a str,
    at_m: [f64; 3],
    span: Span,
}

/// Refuses a thing within a millimetre of an earlier one.
fn apart(noun: &str, things: &[Standing<'_>], report: &mut Report) {
    // Only the first few hundred are compared each with each; no ride has more, and the work stays small.
    for (number, thing) in things.iter().enumerate().take(500) {
        let near = |other: &&Standing<'_>| {
            let d: Vec<f64> = thing.at_m.iter().zip(other.at_m).map(|(a, b)| a - b).collect();
            maths::hypot(maths::hypot(d[0], d[1]), d[2]) < 1e-3
        };
        if let Some(other) = things[..number].iter().find(near) {
            let message = format!("{noun} \"{}\" is where \"{}\" is.", short(thing.name), short(other.name));
            report.error(thing.span, Code::Geometry, message, "Give each its own place.");
        }
    }
}
