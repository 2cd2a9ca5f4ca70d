//! What stands in the way, where power comes from, what the wind finds, and what it was like before.

use crate::report::{Report, short};
use crate::section::{choice, section};
use crate::table::{above, from};
use crate::{Code, Date, Place, Point, WindLimit};
use tober_quantity::{Current, Length, Voltage};

section! {
    /// Something in the way, above ground or below.
    pub struct Obstacle {
        /// What it is called.
        name: String, link defines Obstacle;
        /// What it is.
        kind: ObstacleKind;
        /// Its corners on the pitch, or the line it follows.
        outline: Vec<Point>;
        /// The height of its underside above ground; for what lies under ground, negative.
        bottom: Option<Length>, within from("-20 m", "200 m");
        /// The height of its top above ground.
        top: Option<Length>, within from("-20 m", "500 m");
        /// How far everything must keep away from it.
        keep_away: Option<Length>, within from("0 mm", "100 m");
    }
}

choice! {
    /// What is in the way.
    pub enum ObstacleKind {
        /// An overhead power line.
        OverheadLine = "overhead line",
        /// A tree.
        Tree = "tree",
        /// A building or a wall.
        Building = "building",
        /// Another ride or stall.
        Neighbour = "neighbour",
        /// A kerb or step.
        Kerb = "kerb",
        /// A buried pipe.
        BuriedPipe = "buried pipe",
        /// A buried cable.
        BuriedCable = "buried cable",
        /// A cellar, tank or other hollow.
        Hollow = "hollow",
        /// A way that must stay open.
        Way = "way",
        /// Anything else.
        Other = "other",
    }
}

section! {
    /// A drain.
    pub struct Drain {
        /// What it is called.
        name: String, link defines Drain;
        /// Its corners on the pitch, or the line it follows.
        outline: Vec<Point>;
        /// What covers it.
        cover: Option<String>;
    }
}

section! {
    /// Where power comes from.
    pub struct Supply {
        /// What it is called.
        name: String, link defines Supply;
        /// Where it is.
        at: Option<Point>;
        /// Its voltage.
        voltage: Voltage, within above("0 V", "1000 V");
        /// How many phases it has: 1 or 3.
        phases: usize, within from("1", "3"), then one_or_three;
        /// What it may give.
        current: Current, within above("0 A", "5000 A");
        /// How it is earthed.
        earthing: Option<Earthing>;
        /// The current it gives into a short circuit.
        fault_current: Option<Current>, within above("0 A", "100000 A");
        /// The leakage current at which it is cut off.
        residual_current: Option<Current>, within above("0 A", "10 A");
        /// What plugs into it.
        connector: Option<String>;
        /// The length of cable from it to where the ride stands.
        cable_run: Option<Length>, within above("0 mm", "2 km");
    }
}

choice! {
    /// How a supply is earthed, by the letters of the international wiring rules.
    pub enum Earthing {
        /// Protective and neutral conductors apart.
        TnS = "TN-S",
        /// Protective and neutral conductors in one, then apart.
        TnCS = "TN-C-S",
        /// An electrode of one's own.
        Tt = "TT",
        /// A generator of one's own.
        Generator = "generator",
    }
}

section! {
    /// What the wind finds.
    pub struct Terrain {
        /// The code whose terrain this is: "EN 1991-1-4" or "ASCE 7".
        code: String;
        /// The category or exposure of that code: "II", "C".
        category: String;
        /// The basic wind of the place, as that code defines it.
        basic_wind: Option<WindLimit>;
        /// The height of the pitch above the sea.
        altitude: Option<Length>, within from("-430 m", "6 km");
    }
}

section! {
    /// What it was like before.
    pub struct LastVisit {
        /// When.
        date: Date;
        /// Which ride.
        ride: Option<String>;
        /// Which boards stood under which leg.
        boards: Vec<String>;
        /// How far the feet sank.
        sink: Option<Length>, within from("0 mm", "1 m");
        /// What was learned: the drain, the gate, the soft corner.
        note: Option<String>;
        /// A picture of it.
        photo: Option<String>;
    }
}

/// The bottom of an obstacle is below its top.
pub(super) fn heights(obstacles: &Option<Vec<Obstacle>>, _: &Place, report: &mut Report) {
    for obstacle in obstacles.iter().flatten() {
        if let (Some(bottom), Some(top)) = (obstacle.bottom, obstacle.top)
            && bottom > top
        {
            let message = format!("The bottom of \"{}\" is above its top.", short(&obstacle.name));
            report.error(obstacle.place.key("bottom"), Code::Disagreement, message, "Change them round.");
        }
    }
}

/// Power comes on one phase or on three.
pub(crate) fn one_or_three(phases: &usize, place: &Place, report: &mut Report) {
    if *phases == 2 {
        let message = "Power comes on one phase or on three, and `phases` is 2.";
        let help = "Write 1, also for two live wires of a split supply, or 3.";
        report.error(place.key("phases"), Code::OutOfRange, message, help);
    }
}
