//! What the ground is.

use crate::report::{Node, Report, short};
use crate::section::{choice, section, variants};
use crate::table::{Key, Kind};
use crate::table::{above, from};
use crate::value::Value;
use crate::{Code, Date, Listed, Load, Place, Share};
use tober_quantity::{Angle, Density, Length, Pressure, Time};
use toml::de::DeValue;

section! {
    /// What the ground is, under the feet it names or under all.
    pub struct Ground {
        /// The supports under which it is like this, or "every foot" for all that no other ground names.
        under: Under, link refers Support;
        /// The board that must lie on the ground here, or a larger one, by its name in the kit; or "any".
        bottom: String;
        /// What lies under the foot. Presumptive tables are for ground below the topsoil only.
        surface: Option<Surface>;
        /// How wet it is.
        wet: Option<Wetness>;
        /// How deep below the surface the water stands.
        water_depth: Option<Length>, within from("0 mm", "50 m");
        /// What share of its weight it took to draw a loaded board over this ground sideways: the least of three
        /// pulls.
        friction: Option<Share>, within from("0", "2");
        /// On what its strength rests. Not known unless written.
        basis: Option<GroundBasis>;
        /// What was tested. None is `test = []`: a test that was made is never left out.
        tests as "test": Listed<GroundTest>;
    }
}

choice! {
    /// What lies under the foot.
    pub enum Surface {
        /// Ground from which turf and topsoil have been taken, or on which none was.
        BelowTopsoil = "below the topsoil",
        /// Topsoil without turf.
        Topsoil = "topsoil",
        /// Turf.
        Turf = "turf",
        /// Fill, or made ground.
        Fill = "fill",
        /// Paving, asphalt or concrete, with what is below it not known.
        Paved = "paved",
    }
}

choice! {
    /// How wet the ground is.
    pub enum Wetness {
        /// Dry.
        Dry = "dry",
        /// Wet.
        Wet = "wet",
        /// Water stands on it.
        StandingWater = "standing water",
    }
}

variants! {
    /// On what the strength of the ground rests.
    pub enum GroundBasis by "by" {
        /// A class of a table of presumptive pressures.
        Class(GroundClass) = "class",
        /// What an engineer's report allows.
        Report(GroundReport) = "report",
        /// Figures of the soil, from which its bearing capacity is worked.
        Soil(GroundSoil) = "soil",
        /// The tests alone.
        Tests(TestsAlone) = "tests",
    }
}

section! {
    /// The tests alone.
    pub struct TestsAlone {
        /// What they were made for, in words.
        note: Option<String>;
    }
}

section! {
    /// A class of a table of presumptive pressures.
    pub struct GroundClass {
        /// The table, by its name.
        table: String;
        /// The class, by its name in that table.
        class: String;
    }
}

section! {
    /// Figures of the soil below the topsoil, from tests of it.
    pub struct GroundSoil {
        /// Its angle of friction; 0 deg for clay that has no time to drain.
        friction_angle: Angle, within from("0 deg", "45 deg");
        /// Its cohesion; the undrained strength of clay that has no time to drain.
        cohesion: Pressure, within from("0 kPa", "10000 kPa");
        /// Its density as it lies: unit weight over gravity, so that 18 kN/m³ is 1.84 t/m3.
        density: Density, within from("1 t/m3", "3 t/m3");
        /// The method by which it is worked; the lowest of all, unless written.
        method: Option<String>;
        /// Where the figures are from: who, number, date.
        reference: String;
    }
}

section! {
    /// What an engineer's report allows.
    pub struct GroundReport {
        /// The pressure it allows.
        pressure: Pressure, within above("0 kPa", "100000 kPa");
        /// Which report: who, number, date.
        reference: String;
    }
}

variants! {
    /// A test of the ground.
    pub enum GroundTest by "kind" {
        /// Load a foot on its board, wait 15 minutes, measure how far it sank.
        Sink(SinkTest) = "sink",
        /// Push a picket of 50 mm square with a 45 degree point in by hand.
        Picket(PicketTest) = "picket",
        /// Press a thumb into clay.
        Thumb(ThumbTest) = "thumb",
        /// A penetrometer.
        Penetrometer(PenetrometerTest) = "penetrometer",
        /// A hand vane.
        Vane(VaneTest) = "vane",
    }
}

section! {
    /// A foot loaded on its board, left to stand, and its sinking measured.
    pub struct SinkTest {
        /// The load on the foot.
        load: Load, within above("0 kN", "2000 kN");
        /// The length of what stood on the ground.
        plate_length: Length, within above("0 mm", "10 m");
        /// The width of what stood on the ground.
        plate_width: Length, within above("0 mm", "10 m");
        /// Where a foot stood on boards of the kit: their names, from the ground up. What the load spreads to
        /// through them is then counted as it is under a leg.
        boards: Vec<String>;
        /// How long it was left.
        wait: Time, within above("0 s", "48 h");
        /// How far it sank in that time.
        sink: Length, within from("0 mm", "500 mm");
        /// Where: the support.
        at: Option<String>, link refers Support;
        /// When it was measured.
        measured: Option<Date>;
    }
}

section! {
    /// A picket pushed in by somebody of average weight.
    pub struct PicketTest {
        /// How far it went in.
        depth: Length, within from("0 mm", "2 m");
        /// Where: the support.
        at: Option<String>, link refers Support;
        /// When it was measured.
        measured: Option<Date>;
    }
}

section! {
    /// A thumb pressed into clay.
    pub struct ThumbTest {
        /// How it gave.
        firmness: Firmness;
        /// Where: the support.
        at: Option<String>, link refers Support;
        /// When it was measured.
        measured: Option<Date>;
    }
}

choice! {
    /// How clay gives to a thumb.
    pub enum Firmness {
        /// Hard to indent.
        Stiff = "stiff",
        /// Indented by moderate pressure.
        Firm = "firm",
        /// Penetrated easily.
        Soft = "soft",
    }
}

section! {
    /// A penetrometer pushed or driven in.
    pub struct PenetrometerTest checked by says_something {
        /// The resistance of its cone: force over area.
        resistance: Option<Pressure>, within above("0 kPa", "100000 kPa");
        /// How deep it was.
        depth: Option<Length>, within from("0 mm", "20 m");
        /// How far a blow drove it, for one that is driven.
        a_blow: Option<Length>, within above("0 mm", "1 m");
        /// Where: the support.
        at: Option<String>, link refers Support;
        /// When it was measured.
        measured: Option<Date>;
    }
}

section! {
    /// A hand vane turned in clay.
    pub struct VaneTest {
        /// The undrained strength it shows.
        strength: Pressure, within above("0 kPa", "1000 kPa");
        /// How deep it was.
        depth: Option<Length>, within from("0 mm", "20 m");
        /// Where: the support.
        at: Option<String>, link refers Support;
        /// When it was measured.
        measured: Option<Date>;
    }
}

/// Under which feet the ground is so.
#[derive(Clone, Debug, PartialEq)]
pub enum Under {
    /// Under every foot that no other ground names: `"every foot"`.
    EveryFoot,
    /// Under the supports of these names.
    These(Vec<String>),
}

impl Under {
    const EVERY_FOOT: &'static str = "every foot";
    /// The names written, if any.
    pub fn names(&self) -> &[String] {
        match self {
            Self::EveryFoot => &[],
            Self::These(names) => names,
        }
    }
}

impl Value for Under {
    const KIND: Kind = Kind::Repeated(&Kind::Text);
    fn read(value: Node<'_, '_>, key: &'static Key, report: &mut Report) -> Option<Self> {
        match value.value {
            DeValue::String(text) if text == Self::EVERY_FOOT => Some(Self::EveryFoot),
            DeValue::Array(items) if items.is_empty() => {
                let help = "Name the supports, or write \"every foot\".";
                report.error(value.span, Code::OutOfRange, "This ground lies under no foot.", help);
                None
            }
            DeValue::Array(_) => Vec::<String>::read(value, key, report).map(Self::These),
            _ => String::read(value, key, report).map(|name| Self::These(vec![name])),
        }
    }
}

/// A penetrometer shows a resistance, or how far a blow drives it.
fn says_something(test: &PenetrometerTest, report: &mut Report) {
    if !test.place.has("resistance") && !test.place.has("a-blow") {
        let help = "Write `resistance` for one that is pushed, or `a-blow` for one that is driven.";
        report.error(test.place.section, Code::Missing, "This penetrometer test says nothing.", help);
    }
}

/// No support stands on two grounds, and at most one ground is for all the others.
pub(super) fn agree(grounds: &[Ground], _: &Place, report: &mut Report) {
    let mut for_every = false;
    let mut told = std::collections::BTreeSet::new();
    for ground in grounds {
        let span = ground.place.key("under");
        if ground.under == Under::EveryFoot && core::mem::replace(&mut for_every, true) {
            let message = "Two grounds are under every foot.";
            report.error(span, Code::Disagreement, message, "Name the supports in one of them.");
        }
        for name in ground.under.names() {
            if !told.insert(name) {
                let message = format!("The ground under \"{}\" is told twice.", short(name));
                report.error(span, Code::Disagreement, message, "Name it in one of the two.");
            }
        }
    }
}
