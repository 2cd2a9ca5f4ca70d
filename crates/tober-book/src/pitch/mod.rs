//! The pitch: `pitch.toml`. One piece of ground, what was read on it and what is known of it.
//!
//! Positions on the pitch are along and across axes of its own, laid out by whoever surveyed it;
//! heights are up from its own datum.

mod anchor;
mod ground;
mod readings;
pub(crate) mod rows;
pub(crate) mod site;

pub use anchor::AnchorTest;
pub use ground::{
    Firmness, Ground, GroundBasis, GroundClass, GroundReport, GroundSoil, GroundTest, PenetrometerTest,
    PicketTest, SinkTest, Surface, TestsAlone, ThumbTest, Under, VaneTest, Wetness,
};
pub use readings::{
    KnownPoint, LaserReadings, LaserSetUp, LegHeight, LegTape, Readings, ScaleReadings, SpotHeight,
    SpotReadings, StaffKind, StaffReading, StaffReadings, Still, TapeReadings, WaterLeg, WaterLevelReadings,
};
pub use rows::{parse_spot_rows, parse_staff_rows, parse_tape_rows, with_earlier_rows, with_rows};
pub use site::{Drain, Earthing, LastVisit, Obstacle, ObstacleKind, Supply, Terrain};

use crate::report::{any_tables, as_read, parse};
use crate::section::section;
use crate::table::{Group, from};
use crate::{Parsed, Source};
use tober_quantity::Angle;

section! {
    /// One piece of ground, what was read on it and what is known of it.
    pub struct Pitch {
        /// The format of the file; this version reads 0.
        format: usize, within from("0", "0");
        /// What the pitch is.
        about as "pitch": AboutPitch;
        /// What was read on it.
        readings: Option<Readings>;
        /// What was read on an earlier day at the same points: what settled since is worked out.
        earlier: Option<Readings>;
        /// What is needed to compare the two.
        settlement: Option<Still>;
        /// What the ground is, for all feet or for some.
        grounds as "ground": Vec<Ground>, then ground::agree;
        /// The anchors of guys that were tested.
        anchors as "anchor": Vec<AnchorTest>;
        /// What stands or lies in the way, above ground or below. None is `obstacle = []`; not known unless
        /// written.
        obstacles as "obstacle": Option<Vec<Obstacle>>, then site::heights;
        /// Drains. None is `drain = []`; not known unless written.
        drains as "drain": Option<Vec<Drain>>;
        /// Where power comes from.
        supplies as "supply": Vec<Supply>;
        /// What the wind finds.
        terrain: Option<Terrain>;
        /// What it was like before.
        last_visits as "last-visit": Vec<LastVisit>;
    }
}

section! {
    /// What the pitch is.
    pub struct AboutPitch {
        /// What the pitch is called.
        name: String;
        /// Where it is, in words.
        location as "where": Option<String>;
        /// The direction of its along axis, from north towards east.
        north: Option<Angle>, within from("-360 deg", "360 deg");
        /// For invented data: the sentence that says so. It prints on every sheet.
        invented: Option<String>;
    }
}

impl Pitch {
    /// What is said of the ground under a support: what names it, or else what is under every foot.
    pub fn ground_under(&self, support: &str) -> Option<&Ground> {
        let named =
            self.grounds.iter().find(|ground| ground.under.names().iter().any(|name| name == support));
        named.or_else(|| self.grounds.iter().find(|ground| ground.under == Under::EveryFoot))
    }
}

/// Reads a pitch. The supports it names are looked for when the visit is checked as a whole.
pub fn parse_pitch(source: &Source) -> Parsed<Pitch> {
    parse(source, &[Group::Support, Group::Guy], any_tables, as_read)
}
