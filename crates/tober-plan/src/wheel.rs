//! A wheel: a ride that turns about an axis along the frame, so that riders go up on one side and down on the other.
//!
//! Everything that turns is told of by the circle it runs on in the plane of the wheel. A car hangs from its pin, so what
//! counts of it is where its pin is: the radius and angle of its seat.

use crate::aboard::present;
use tober_book::{Body, Point3, Ride, Rotation, Seat, Visit};
use tober_calc::stability::{Body as Standing, CarriedBy, Contact, InWind};
use tober_quantity::{Length, maths};

/// How far from 90 degrees an axis may lean and still be a wheel's: less than a book can write by mistake.
const LEAN_OFF_DEG: f64 = 1e-6;
/// How far off the plane of the wheel a body may have its centre of gravity: a millimetre is no place at all.
const OFF_PLANE_M: f64 = 1e-3;
/// Standard gravity, m/s², 3rd CGPM (1901).
const GRAVITY: f64 = 9.80665;

/// A ride's wheel.
#[derive(Clone, Copy)]
pub(crate) struct Wheel<'a> {
    rotation: &'a Rotation,
}

/// Where something on the wheel is, from the hub: along the axis, and in the plane of the wheel to the left and up.
#[derive(Clone, Copy)]
pub(crate) struct OnWheel {
    /// To the left with the wheel at angle zero, and by how much that may be off.
    pub left_m: (f64, f64),
    /// Up, likewise.
    pub up_m: (f64, f64),
}

impl OnWheel {
    /// The distance from the hub.
    pub fn radius_m(self) -> f64 {
        maths::hypot(self.left_m.0, self.up_m.0)
    }
}

/// The wheel of a ride that turns about exactly one axis, and that along the frame.
pub(crate) fn wheel(ride: &Ride) -> Option<Wheel<'_>> {
    let [rotation] = ride.motion.as_ref()?.rotations.as_slice() else { return None };
    let lean_deg = rotation.lean?.as_deg().abs();
    ((lean_deg - 90.0).abs() < LEAN_OFF_DEG).then_some(Wheel { rotation })
}

impl Wheel<'_> {
    /// A point of the axis.
    pub fn hub(self) -> Point3 {
        self.rotation.about
    }

    /// The height of the hub, the greatest it may be.
    fn hub_up(self) -> Length {
        self.hub().up.high()
    }

    /// The circle on which a body runs: that of its seat where it is one, or else that of its centre of gravity.
    pub fn place(self, ride: &Ride, body: &Body, cg: &Point3) -> OnWheel {
        if let Some(seat) = ride.seats.iter().find(|seat| seat.body.as_deref() == Some(&*body.name)) {
            let (radius_m, angle) = (seat.radius.as_m(), seat.angle.as_rad());
            return OnWheel {
                left_m: (radius_m * maths::sin(angle), 0.0),
                up_m: (-radius_m * maths::cos(angle), 0.0),
            };
        }
        let hub = self.hub();
        let from = |at: tober_quantity::Toleranced<Length>, zero: tober_quantity::Toleranced<Length>| {
            (at.value.as_m() - zero.value.as_m(), at.off_by.as_m())
        };
        OnWheel { left_m: from(cg.across, hub.across), up_m: from(cg.up, hub.up) }
    }

    /// What is not so slow that a rider's weight is more than the force with which they are turned, at the greatest
    /// speed the maker allows. Only then is what riders add to the load never below nothing.
    pub fn too_fast(self, ride: &Ride) -> Option<String> {
        let omega = self.rotation.speed_greatest.as_rad_per_s();
        let radius_m = |seat: &Seat| seat.radius_at_speed.unwrap_or(seat.radius).max(seat.radius).as_m();
        let fast = |seat: &&Seat| omega * omega * radius_m(seat) >= GRAVITY;
        ride.seats.iter().find(fast).map(|seat| {
            format!("A wheel so slow that riders in \"{}\" are never weightless at its top.", seat.name)
        })
    }

    /// The highest that a rider comes whose distance from the hub is this, and no lower than the book says; or so much
    /// higher that a force of turning at that height, along the ground, tips as much as the same force at the hub
    /// would in the worst direction of the wheel's plane.
    ///
    /// F at the hub tips with at most F √(h² + b²), h the hub's height above the feet and b the distance of the farthest
    /// foot from it on the plan: as F at the height √(h² + b²).
    pub fn top(self, radius: Length, contacts: &[Contact]) -> Length {
        let hub = self.hub_up();
        let (x_m, y_m) = (self.hub().along.value.as_m(), self.hub().across.value.as_m());
        let beside = |contact: &Contact| maths::hypot(contact.x.as_m() - x_m, contact.y.as_m() - y_m);
        let beside_m = contacts.iter().map(beside).fold(0.0, f64::max);
        let mut top = hub + radius;
        for contact in contacts {
            top = top.max(contact.z + Length::m(maths::hypot((hub - contact.z).as_m(), beside_m)));
        }
        top
    }

    /// The height at which the wind acts on what turns, when the wheel stands at its worst angle: the hub's, and as much
    /// more as the areas are out of balance about it. Nothing where a body's area is not known.
    pub fn wind_up(self, ride: &Ride, visit: &Visit) -> Option<Length> {
        let hub = self.hub();
        let mut along = [0.0; 3];
        let mut across = [0.0; 3];
        for body in turning(ride, visit) {
            let open = body.placement("open")?;
            let wind = open.wind.as_ref()?;
            let left_m = open.cg.across.value.as_m() - hub.across.value.as_m();
            let up_m = wind.up.as_m() - hub.up.value.as_m();
            for (sums, area) in [(&mut along, wind.along), (&mut across, wind.across)] {
                let area_m2 = area.as_m2();
                sums[0] += area_m2;
                sums[1] += area_m2 * left_m;
                sums[2] += area_m2 * up_m;
            }
        }
        let off_m = |sums: [f64; 3]| {
            if sums[0] > 0.0 { maths::hypot(sums[1], sums[2]) / sums[0] } else { 0.0 }
        };
        Some(self.hub_up() + Length::m(off_m(along).max(off_m(across))))
    }

    /// How the wind finds a body that is stowed where it hangs on the wheel: taken in or tied, not taken off.
    ///
    /// The wheel's areas then are out of balance by at most so much more as the area that is gone makes at its radius, and
    /// that is put to the height of what is left: a bound for any choice of what is stowed. Nothing where the book has no
    /// such placement, where it is elsewhere, or where nothing would be left of its area.
    pub fn stowed_face(self, ride: &Ride, body: &Body, wind_up: Length) -> Option<InWind> {
        let (open, stowed) = (body.placement("open")?, body.placement(crate::stow::STOWED)?);
        let at =
            |there: &tober_book::Placement| (there.cg.along.value, there.cg.across.value, there.cg.up.value);
        if at(open) != at(stowed) {
            return None;
        }
        let (was, is) = (open.wind.as_ref()?, stowed.wind.as_ref()?);
        let hub = self.hub();
        let (left, up) = (open.cg.across.value - hub.across.value, was.up - hub.up.value);
        let radius_m = self.place(ride, body, &open.cg).radius_m().max(maths::hypot(left.as_m(), up.as_m()));
        let more = |was: f64, is: f64| match (was - is).abs() {
            gone if gone <= 0.0 => Some(0.0),
            gone => (is > 0.0).then(|| gone * radius_m / is),
        };
        let along_m = more(was.along.as_m2(), is.along.as_m2())?;
        let across_m = more(was.across.as_m2(), is.across.as_m2())?;
        Some(InWind::Face {
            drag_area_along: is.along,
            drag_area_across: is.across,
            lift_area: is.lift,
            pressure_height: wind_up + Length::m(along_m.max(across_m)),
        })
    }

    /// How high what turns reaches above the datum plane.
    pub fn highest(self, ride: &Ride) -> Length {
        let seats = ride.seats.iter().map(|seat| seat.radius);
        let reach = ride.motion.as_ref().and_then(|motion| motion.radius);
        self.hub_up() + seats.chain(reach).reduce(Length::max).unwrap_or(Length::ZERO)
    }

    /// A body of the wheel as the sums of stability want it: on a circle in the plan, of which the part to either side is
    /// counted.
    ///
    /// It is put at the highest it comes to, since that is worst for tilt and for the forces of turning. The wind on it is a
    /// body of its own, which does not turn.
    ///
    /// # Errors
    /// What is missing, where its centre of gravity is beside the plane in which the wheel is told to turn.
    pub fn as_told(
        self,
        ride: &Ride,
        body: &Body,
        mut standing: Standing,
        contacts: &[Contact],
        wind_up: Option<Length>,
    ) -> Result<Vec<Standing>, String> {
        let Some(open) = body.placement("open") else { return Ok(vec![standing]) };
        let place = self.place(ride, body, &open.cg);
        let hub = self.hub();
        let beside_m = (open.cg.along.value.as_m() - hub.along.value.as_m()).abs();
        let radius_m = place.radius_m();
        if radius_m > OFF_PLANE_M && beside_m > OFF_PLANE_M {
            return Err(format!(
                "A wheel in one plane: \"{}\" turns {:.0} mm beside the place in `about`.",
                body.name,
                beside_m * 1e3
            ));
        }
        let mut list = Vec::with_capacity(2);
        if let (InWind::Face { drag_area_along, drag_area_across, lift_area, .. }, Some(up)) =
            (standing.wind, wind_up)
        {
            let pressure_height = up;
            list.push(Standing {
                name: format!("wind on {}", body.name),
                mass: tober_quantity::Toleranced::exact(tober_quantity::Mass::ZERO),
                carried_by: CarriedBy::Frame,
                y: hub.across.value,
                wind: InWind::Face { drag_area_along, drag_area_across, lift_area, pressure_height },
                ..standing.clone()
            });
            standing.wind = InWind::CountedElsewhere;
        }
        // Angle zero is the lowest point, and goes to the front; left stays left.
        let off_m = place.left_m.1.max(place.up_m.1);
        if radius_m > OFF_PLANE_M {
            standing.x = hub.along.value - Length::m(place.up_m.0);
        }
        standing.y = hub.across.value + Length::m(place.left_m.0);
        standing.z = self.top(Length::m(radius_m + off_m), contacts);
        list.push(standing);
        Ok(list)
    }
}

/// What is aboard and turns.
pub(crate) fn turning<'a>(ride: &'a Ride, visit: &'a Visit) -> impl Iterator<Item = &'a Body> {
    present(ride, visit).filter(|body| body.on_turntable == Some(true))
}

/// The ground that the wheel passes over: as far as it reaches to either side, and as long as the longest that turns.
pub(crate) fn passes_over(ride: &Ride) -> Vec<(Length, Length)> {
    use tober_book::Shape;
    let Some(wheel) = wheel(ride) else { return Vec::new() };
    let Some(reach) = ride.motion.as_ref().and_then(|motion| motion.radius) else { return Vec::new() };
    let length = |body: &Body| match &body.shape {
        Some(Shape::Box(shape)) => Some(shape.length),
        Some(Shape::Plate(shape)) => Some(shape.length),
        _ => None,
    };
    let seats = ride.seats.iter().filter_map(|seat| ride.body(seat.body.as_deref()?));
    let half = seats.filter_map(length).reduce(Length::max).unwrap_or(Length::ZERO) / 2.0;
    let (x, y) = (wheel.hub().along.value, wheel.hub().across.value);
    vec![(x - half, y - reach), (x + half, y - reach), (x + half, y + reach), (x - half, y + reach)]
}
