//! The ride book: `ride.toml`.
//!
//! Axes of everything in it: x runs along the frame towards its front (the hitch), y across it towards
//! the left of somebody who faces the front, z up from the datum plane. The datum point, where all
//! three are zero, is a point of the frame that can be touched; `[frame] datum` says which.

mod agree;
mod body;
mod checks;
mod fixing;
mod frame;
mod held;
mod limits;
mod motion;
mod power;
mod step;
mod support;
mod switch;
mod taken_back;

pub use body::{
    Body, BodyAt, BoxShape, CylinderShape, Holder, Placement, PlateShape, Shape, TubeShape, WindArea,
};
pub use checks::{BetweenRule, Check, Interval, Override, PassRule, Role, SeenRule, Stopped, WayOff};
pub use fixing::{Fixing, FixingKind, Home};
pub use frame::{Axle, Clearance, Frame, Hitch, Member, Node as FrameNode, StiffnessModel, Wheels};
pub use held::{Ballast, Guy};
pub use limits::{Limits, LoadingRule, WindLimit};
pub use motion::{Motion, Ramp, Rotation, Seat, Sense};
pub use power::{Circuit, CircuitKind, Inlet};
pub use step::{
    Duration, EyeKind, Grip, HandLift, Lift, Move, Need, Outside, Phase, PinMove, Reading, Step,
    SwitchChange, SwitchState, WinchLift,
};
pub use support::{Does, FootMaterial, Holding, Holes, Screw, Support};
pub use switch::{Switch, Turntable};
pub use taken_back::LiftDone;

use crate::report::parse;
use crate::section::{choice, section};
use crate::table::{above, from};
use crate::{Parsed, Point3, Source};
use tober_quantity::{Mass, Toleranced};

section! {
    /// A ride book: everything about one ride that does not change with the pitch.
    pub struct Ride {
        /// The format of the file; this version reads 0.
        format: usize, within from("0", "0");
        /// What the ride is, and its total mass.
        about as "ride": About;
        /// What stands on the supports and carries everything.
        frame: Frame;
        /// What holds the frame up.
        supports as "support": Vec<Support>, then support::enough;
        /// The heavy parts.
        bodies as "body": Vec<Body>, then body::agree;
        /// Weights that are laid on the open ride to hold it down.
        ballast: Vec<Ballast>;
        /// Ropes that hold the open ride.
        guys as "guy": Vec<Guy>;
        /// Pins, clips, bolts, straps: what must always be somewhere.
        fixings as "fixing": Vec<Fixing>, then fixing::agree;
        /// The work, one piece each.
        steps as "step": Vec<Step>, then step::agree;
        /// What else is switched, locked or plugged in.
        switches as "switch": Vec<Switch>;
        /// A turntable that is turned by hand.
        turntable: Option<Turntable>, then switch::locked;
        /// What uses power.
        circuits as "circuit": Vec<Circuit>;
        /// Where power comes in.
        inlets as "inlet": Vec<Inlet>;
        /// How it turns.
        motion: Option<Motion>;
        /// What riders sit in.
        seats as "seat": Vec<Seat>;
        /// What the maker allows.
        limits: Option<Limits>;
        /// What is looked at before it opens, and again.
        checks as "check": Vec<Check>;
        /// How riders get off when it stops where it should not.
        stopped: Option<Stopped>;
    }
}

section! {
    /// What the ride is.
    pub struct About {
        /// What the ride is called.
        name: String;
        /// Who made it.
        maker: Option<String>;
        /// The maker's manual that the figures come from: title, edition, date.
        manual: Option<String>;
        /// For invented data: the sentence that says so. It prints on every sheet.
        invented: Option<String>;
        /// Which side's trade words the texts of this book use.
        words: Option<Words>;
        /// The mass of the whole ride as it stands on its supports, without riders and packing.
        mass: Option<Toleranced<Mass>>, within above("0 kg", "200 t");
        /// How that mass is known. A mass that is guessed, or of which this is not said, is taken as off by
        /// at least 10 %; one that is weighed or the maker's and has no ± is taken as off by 2 % or 5 %.
        mass_from: Option<Provenance>;
        /// The centre of gravity of the whole ride as it stands on its supports.
        cg: Option<Point3>;
    }
}

choice! {
    /// How a figure of the book is known.
    pub enum Provenance {
        /// On a weighbridge or load cells.
        Weighed = "weighed",
        /// From the maker.
        Maker = "maker",
        /// Somebody's guess.
        Guessed = "guessed",
    }
}

choice! {
    /// Which side's trade words.
    pub enum Words {
        /// Build-up, pull-down, packing, chief, car.
        Gb = "gb",
        /// Set-up, tear-down, blocking, foreman, tub.
        Us = "us",
    }
}

impl Ride {
    /// The support of a name.
    pub fn support(&self, name: &str) -> Option<&Support> {
        self.supports.iter().find(|support| support.name == name)
    }
    /// The body of a name.
    pub fn body(&self, name: &str) -> Option<&Body> {
        self.bodies.iter().find(|body| body.name == name)
    }
    /// The step of a name.
    pub fn step(&self, name: &str) -> Option<&Step> {
        self.steps.iter().find(|step| step.name == name)
    }
    /// The supports in the order in which their legs are set: those with `order` first, by it, then the
    /// others as they stand in the book.
    pub fn supports_in_order(&self) -> Vec<&Support> {
        let mut all: Vec<&Support> = self.supports.iter().collect();
        all.sort_by_key(|support| support.order.unwrap_or(usize::MAX));
        all
    }
    /// The mass of the whole ride: what `[ride] mass` says, or else the sum of its bodies with each as far
    /// off as it may be.
    pub fn total_mass(&self) -> Option<Toleranced<Mass>> {
        let sum = || {
            let zero = Toleranced::exact(Mass::ZERO);
            let add = |sum: Toleranced<Mass>, body: &Body| Toleranced {
                value: sum.value + body.mass.value,
                off_by: sum.off_by + body.mass.off_by,
            };
            (!self.bodies.is_empty()).then(|| self.bodies.iter().fold(zero, add))
        };
        self.about.mass.or_else(sum)
    }
}

/// A mass with what it may be off by, given how it is known.
///
/// Guessed or not said: at least 10 %, whatever is written. Weighed or the maker's, with no ± written:
/// 2 % and 5 %. Common practice, no source.
pub(crate) fn widened(mass: Toleranced<Mass>, from: Option<Provenance>) -> Toleranced<Mass> {
    let written = mass.off_by.as_kg() > 0.0;
    let least = match from {
        Some(Provenance::Guessed) | None => 0.10,
        Some(Provenance::Maker) if !written => 0.05,
        Some(Provenance::Weighed) if !written => 0.02,
        Some(_) => 0.0,
    };
    Toleranced { value: mass.value, off_by: mass.off_by.max(mass.value.abs() * least) }
}

/// Reads a ride book.
///
/// A frame, supports and one mass (`[ride] mass`, or a `[[body]]`) are enough.
pub fn parse_ride(source: &Source) -> Parsed<Ride> {
    parse(source, &[crate::Group::Tool], agree::one_mass, agree::parts)
}
