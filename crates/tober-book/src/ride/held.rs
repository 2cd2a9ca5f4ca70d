//! What holds the open ride down besides its weight.

use super::{Provenance, WindArea};
use crate::section::section;
use crate::table::{above, from};
use crate::{Load, Point, Point3, Share};
use tober_quantity::{Length, Mass, Toleranced};

section! {
    /// A rope that holds the open ride, from a place on what does not turn down to an anchor in the ground. What the
    /// anchor was tested with stands in the pitch.
    pub struct Guy {
        /// What it is called.
        name: String, link defines Guy;
        /// Where it is made fast to the ride.
        at: Point;
        /// How high above the datum plane it is made fast.
        up: Length, within from("-5 m", "100 m");
        /// Where its anchor goes into the ground.
        anchor: Point;
        /// How tight it is drawn. Not known unless written.
        pretension: Option<Load>, within from("0 kN", "1000 kN");
        /// The load at which the weakest of rope and fittings breaks.
        breaking_strength: Option<Load>, within above("0 kN", "10000 kN");
        /// What that is divided by: the maker's factor.
        factor: Option<Share>, within from("1", "20");
        /// What the pull that an anchor was tested with is divided by: the maker's factor.
        anchor_factor: Option<Share>, within from("1", "20");
    }
}

section! {
    /// A weight that is laid on the open ride to hold it down.
    pub struct Ballast {
        /// What it is called.
        name: String, link defines Body;
        /// Its mass, widened as `mass-from` says.
        mass: Toleranced<Mass>, within above("0 kg", "100 t");
        /// How its mass is known.
        mass_from: Option<Provenance>;
        /// Its centre of gravity.
        at: Point3;
        /// Whether it lies on the turntable. Not known unless written.
        on_turntable: Option<bool>;
        /// What the wind finds of it. Not known unless written.
        wind: Option<WindArea>;
    }
}
