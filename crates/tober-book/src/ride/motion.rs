//! How the ride turns, and what riders sit in.

use super::Provenance;
use crate::Point3;
use crate::section::{choice, section};
use crate::table::{above, from};
use tober_quantity::{Angle, FrequencyOfTurning, Length, Mass, Time, Toleranced};

section! {
    /// How the ride turns.
    pub struct Motion {
        /// What turns, from the frame outwards.
        rotations as "rotation": Vec<Rotation>;
        /// How far the outermost point of anything reaches from the first axis.
        radius: Option<Length>, within above("0 mm", "60 m");
        /// How long a ride lasts.
        ride_time: Option<Time>, within above("0 s", "2 h");
        /// How long it takes to stop from full speed when the stop is pressed.
        stopping_time: Option<Time>, within above("0 s", "10 min");
    }
}

section! {
    /// One thing that turns about an axis.
    pub struct Rotation {
        /// What it is called.
        name: String, link defines Rotation;
        /// A point of its axis.
        about: Point3;
        /// How far its axis leans from upright, towards the front. 90 degrees is a wheel's.
        lean: Option<Angle>, within from("-180 deg", "180 deg");
        /// The greatest speed the maker allows.
        speed_greatest: FrequencyOfTurning, within above("0 rpm", "200 rpm");
        /// The speed it is run at.
        speed_usual: Option<FrequencyOfTurning>, within above("0 rpm", "200 rpm");
        /// Which way it turns, seen from above (or from the front, for a wheel).
        sense: Option<Sense>;
        /// What holds it still when it is "locked", beside the locks that fasten it: switches, brakes, gears.
        held_by_switch: Vec<String>;
        /// The rotation that carries it, or "frame". Not known unless written.
        carried_by: Option<String>, link refers Rotation;
        /// How its speed comes up and goes down.
        ramps as "ramp": Vec<Ramp>;
    }
}

choice! {
    /// A way of turning.
    pub enum Sense {
        /// As the hands of a clock.
        Clockwise = "clockwise",
        /// Against the hands of a clock.
        Anticlockwise = "anticlockwise",
        /// Either.
        Either = "either",
    }
}

section! {
    /// A stretch of time over which the speed changes evenly.
    pub struct Ramp {
        /// The speed at its end.
        to: FrequencyOfTurning, within from("-200 rpm", "200 rpm");
        /// How long it takes.
        over: Time, within above("0 s", "1 h");
    }
}

section! {
    /// What riders sit in.
    pub struct Seat {
        /// What it is called.
        name: String, link defines Seat;
        /// The letter of the arm that carries it.
        arm: Option<String>;
        /// How far the riders are from the axis.
        radius: Length, within from("0 mm", "60 m");
        /// How far the riders are from the axis at the greatest speed; the same as `radius` where it cannot swing.
        radius_at_speed: Option<Length>, within from("0 mm", "60 m");
        /// Its angle about the axis, from the front towards the left, with the turntable at zero.
        angle: Angle, within from("-360 deg", "360 deg");
        /// How high the riders are above the datum plane.
        height: Option<Length>, within from("-5 m", "100 m");
        /// How many places it has.
        places: usize, within from("1", "100");
        /// The body of the book that it is; its mass is then that body's.
        body: Option<String>, link refers Body;
        /// Its mass, empty, where it is no body of the book.
        mass: Option<Toleranced<Mass>>, within above("0 kg", "20 t");
        /// How its mass is known.
        mass_from: Option<Provenance>;
        /// The heaviest rider the maker allows in one place.
        rider_mass_greatest: Option<Mass>, within above("0 kg", "500 kg");
        /// The rotation it is on. Not known unless written, where there are several.
        on: Option<String>, link refers Rotation;
        /// Which way riders face: the angle from straight outwards, towards the left.
        facing: Option<Angle>, within from("-360 deg", "360 deg");
    }
}
