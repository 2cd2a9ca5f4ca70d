//! What uses power, and where it comes in.

use crate::Point3;
use crate::Share;
use crate::section::{choice, section};
use crate::table::{above, from};
use tober_quantity::{Current, Power, Time, Voltage};

section! {
    /// One thing that uses power.
    pub struct Circuit {
        /// What it is called.
        name: String, link defines Circuit;
        /// What it is.
        kind: CircuitKind;
        /// What it draws when it runs.
        power: Power, within above("0 kW", "2000 kW");
        /// Its voltage.
        voltage: Option<Voltage>, within above("0 V", "1000 V");
        /// On how many phases: 1 or 3.
        phases: Option<usize>, within from("1", "3");
        /// Its power factor.
        power_factor: Option<Share>, within above("0", "1");
        /// The efficiency of its motor: shaft power over what it draws, where `power` is on the shaft.
        efficiency: Option<Share>, within above("0", "1");
        /// What it draws when it starts, as a multiple of what it draws when it runs.
        starting_ratio: Option<Share>, within from("1", "12");
        /// How long it takes to start.
        starting_time: Option<Time>, within above("0 s", "5 min");
        /// Where its power comes in.
        inlet: Option<String>, link refers Inlet;
        /// The rating of the fuse or breaker it has.
        breaker: Option<Current>, within above("0 A", "2000 A");
        /// The leakage current at which it is cut off.
        residual_current: Option<Current>, within above("0 A", "10 A");
        /// The ground or room in which it can hurt somebody while it is on, by the name that steps give.
        zone: Option<String>;
        /// When it is switched on: 1 for the first.
        order: Option<usize>, within from("1", "999");
        /// Whether it goes off first at pull-down.
        off_first: Option<bool>;
    }
}

choice! {
    /// What a circuit feeds.
    pub enum CircuitKind {
        /// A motor.
        Motor = "motor",
        /// The lights of the ride.
        Lights = "lights",
        /// Light to work by, which must not go off with the ride's.
        WorkLight = "work light",
        /// Controls and interlocks.
        Controls = "controls",
        /// Heat.
        Heat = "heat",
        /// Anything else.
        Other = "other",
    }
}

section! {
    /// Where power comes in.
    pub struct Inlet {
        /// What it is called.
        name: String, link defines Inlet;
        /// Its rating.
        rating: Current, within above("0 A", "2000 A");
        /// Its voltage.
        voltage: Voltage, within above("0 V", "1000 V");
        /// How many phases it has: 1 or 3.
        phases: usize, within from("1", "3"), then crate::pitch::site::one_or_three;
        /// What plugs into it.
        connector: Option<String>;
        /// Where it is.
        at: Option<Point3>;
        /// Whether the code wants an earth electrode of the ride's own.
        own_electrode: Option<bool>;
    }
}
