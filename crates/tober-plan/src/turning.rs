//! What the bodies that turn do at speed where their weight does not lie on the axis.

use crate::aboard::{Around, axis};
use crate::wheel::{turning, wheel};
use tober_book::{Ride, Visit};
use tober_quantity::{Length, Mass, Toleranced, maths};

/// What turns without riders, out of balance: sums of masses times places, with everything as far off as it may be.
///
/// Over a whole turn a fixed sum points every way once, so that the most it does in any direction is its length: that is
/// the extreme over the angle in closed form. What masses and places may be off adds in the worst direction.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct OutOfBalance {
    /// |Σ m r|, as one mass a metre from the axis.
    pub at_one_metre: Mass,
    /// |Σ m r h|, h above the lowest foot; for a wheel h is the hub's. As one mass a metre out and a metre up.
    pub at_its_height: Mass,
    /// Of a wheel, |Σ m r d|, d how far along the frame from the point in `about`: it tips along.
    pub beside: Mass,
}

/// One body on its circle.
struct Part {
    mass: Toleranced<Mass>,
    /// From the axis, in the plane in which it turns.
    at_m: (f64, f64),
    off_m: f64,
    up_m: (f64, f64),
    beside_m: (f64, f64),
}

/// How many times farther out a body that is a seat hangs at speed than at rest.
pub(crate) fn swung(ride: &tober_book::Ride, body: &str) -> f64 {
    let seat = ride.seats.iter().find(|seat| seat.body.as_deref() == Some(body));
    seat.map_or(1.0, swung_seat)
}

/// How many times farther out a seat hangs at speed than at rest.
pub(crate) fn swung_seat(seat: &tober_book::Seat) -> f64 {
    let out = seat.radius_at_speed.filter(|_| seat.radius > Length::ZERO);
    out.map_or(1.0, |out| (out / seat.radius).max(1.0))
}

/// What the bodies of a ride that turn have out of balance at speed.
///
/// # Errors
/// What is missing.
pub(crate) fn out_of_balance(around: &Around<'_>, feet: Length) -> Result<OutOfBalance, String> {
    let parts = parts(around.ride, around.visit, feet)?;
    Ok(OutOfBalance {
        at_one_metre: longest(&parts, |_| (1.0, 1.0)),
        at_its_height: longest(&parts, |part| part.up_m),
        beside: longest(&parts, |part| part.beside_m),
    })
}

/// What turns without riders, out of balance: |Σ m r| as one mass a metre from the axis.
///
/// # Errors
/// What is missing.
pub(crate) fn own_out_of_balance(ride: &Ride, visit: &Visit) -> Result<Mass, String> {
    Ok(longest(&parts(ride, visit, Length::ZERO)?, |_| (1.0, 1.0)))
}

/// |Σ m s r| and what it may be off by, s a factor with its middle and its greatest size.
///
/// |m' s' r' − m s r| ≤ m' s' |r' − r| + |m' s' − m s| |r|, and the second is at most (m_high s_high − m s) |r|.
fn longest(parts: &[Part], by: impl Fn(&Part) -> (f64, f64)) -> Mass {
    let (mut x, mut y, mut off) = (0.0, 0.0, 0.0);
    for part in parts {
        let (middle, most) = by(part);
        let (m, high) = (part.mass.value.as_kg() * middle, part.mass.high().as_kg() * most);
        x += m * part.at_m.0;
        y += m * part.at_m.1;
        off += high * part.off_m + (high - m.abs()) * maths::hypot(part.at_m.0, part.at_m.1);
    }
    Mass::kg(maths::hypot(x, y) + off)
}

/// A height or a distance as its middle and its greatest size.
fn sized(middle_m: f64, off_m: f64) -> (f64, f64) {
    (middle_m, middle_m.abs() + off_m)
}

fn parts(ride: &Ride, visit: &Visit, feet: Length) -> Result<Vec<Part>, String> {
    let (x, y) = axis(ride).ok_or("The axis about which the ride turns, upright or a wheel's.")?;
    let from_axis = |at: Toleranced<Length>, zero: Length| (at.value.as_m() - zero.as_m(), at.off_by.as_m());
    let mut parts = Vec::new();
    for body in turning(ride, visit) {
        let open = body.placement("open").ok_or_else(|| format!("Where \"{}\" is, open.", body.name))?;
        let cg = &open.cg;
        if let Some(wheel) = wheel(ride) {
            let (place, hub) = (wheel.place(ride, body, cg), wheel.hub());
            let beside_m = cg.along.value.as_m() - hub.along.value.as_m();
            parts.push(Part {
                mass: body.mass,
                at_m: (place.left_m.0, place.up_m.0),
                off_m: maths::hypot(place.left_m.1, place.up_m.1),
                up_m: sized((hub.up.value + feet).as_m(), hub.up.off_by.as_m()),
                beside_m: sized(beside_m, cg.along.off_by.as_m() + hub.along.off_by.as_m()),
            });
            continue;
        }
        let out = swung(ride, &body.name);
        let ((dx, off_x), (dy, off_y)) = (from_axis(cg.along, x), from_axis(cg.across, y));
        // A seat that swings out comes up with its riders, and no higher than the book has them.
        let seat = ride.seats.iter().find(|seat| seat.body.as_deref() == Some(&*body.name));
        let up = seat.and_then(|seat| seat.height).map_or(cg.up.value, |height| height.max(cg.up.value));
        parts.push(Part {
            mass: body.mass,
            at_m: (dx * out, dy * out),
            off_m: maths::hypot(off_x, off_y) * out,
            up_m: sized((up + feet).as_m(), cg.up.off_by.as_m()),
            beside_m: (0.0, 0.0),
        });
    }
    for seat in ride.seats.iter().filter(|seat| seat.body.is_none()) {
        let mass = seat.mass.ok_or_else(|| format!("The mass of \"{}\", empty.", seat.name))?;
        let height = seat.height.ok_or_else(|| format!("How high \"{}\" is: `height`.", seat.name))?;
        let (radius_m, angle) = (seat.radius.as_m() * swung_seat(seat), seat.angle.as_rad());
        // On a wheel angle zero is the lowest point, and angles go to the left.
        let (hub_up, at_m) = match wheel(ride) {
            Some(wheel) => {
                (wheel.hub().up.value, (radius_m * maths::sin(angle), -radius_m * maths::cos(angle)))
            }
            None => (height, (radius_m * maths::cos(angle), radius_m * maths::sin(angle))),
        };
        let up_m = sized((hub_up + feet).as_m(), 0.0);
        parts.push(Part { mass, at_m, off_m: 0.0, up_m, beside_m: (0.0, 0.0) });
    }
    for ballast in crate::hold::ballast(ride, visit).filter(|ballast| ballast.on_turntable == Some(true)) {
        let ((dx, off_x), (dy, off_y)) = (from_axis(ballast.at.along, x), from_axis(ballast.at.across, y));
        let up = ballast.at.up;
        let (at_m, off_m, up_m, beside_m) = match wheel(ride) {
            Some(wheel) => {
                let hub = wheel.hub();
                let rise_m = up.value.as_m() - hub.up.value.as_m();
                let up_m = sized((hub.up.value + feet).as_m(), hub.up.off_by.as_m());
                ((dy, rise_m), maths::hypot(off_y, up.off_by.as_m()), up_m, sized(dx, off_x))
            }
            None => {
                let up_m = sized((up.value + feet).as_m(), up.off_by.as_m());
                ((dx, dy), maths::hypot(off_x, off_y), up_m, (0.0, 0.0))
            }
        };
        parts.push(Part { mass: ballast.mass, at_m, off_m, up_m, beside_m });
    }
    Ok(parts)
}
