//! What was read on the pitch.

use crate::report::{Report, short};
use crate::section::{choice, section, variants};
use crate::table::{above, from};
use crate::{Code, Date, Place, Point, Repeated};
use tober_quantity::{Angle, Length, Slope};

variants! {
    /// What was read, and by which method.
    pub enum Readings by "method" {
        /// The trailer on its wheels: the slope of its frame, and a tape from frame to ground at each leg.
        Tape(TapeReadings) = "tape",
        /// A level and a staff.
        Staff(StaffReadings) = "staff",
        /// A rotating laser and a staff.
        Laser(LaserReadings) = "laser",
        /// A hose of water: the height of the ground at each leg.
        WaterLevel(WaterLevelReadings) = "water level",
        /// The painted scale on the legs.
        Scale(ScaleReadings) = "scale",
        /// Heights that a survey instrument, or a surveyor, worked out.
        Spots(SpotReadings) = "spots",
    }
}

section! {
    /// The trailer on its wheels, the slope of its frame, and a tape from frame to ground at each leg.
    pub struct TapeReadings checked by tape_once {
        /// How the frame slopes along: positive where its front is higher.
        slope_along: Repeated<Slope>, within from("-200 mm/m", "200 mm/m");
        /// How it slopes across: positive where its left is higher.
        slope_across: Repeated<Slope>, within from("-200 mm/m", "200 mm/m");
        /// The standard deviation of one slope.
        slope_deviation: Option<Slope>, within above("0 mm/m", "50 mm/m");
        /// The standard deviation of one tape reading.
        tape_deviation: Option<Length>, within above("0 mm", "100 mm");
        /// The tape at each leg, from the datum plane of the frame to the ground under the foot.
        legs as "leg": Vec<LegTape>;
        /// The tape where the hitch jack stands, from the datum plane of the frame to the ground.
        hitch_jack: Option<Length>, within above("0 mm", "5 m");
        /// A file of them beside this one, with the columns leg and tape.
        file: Option<String>, then file_in_folder;
        /// When it was read.
        measured: Option<Date>;
        /// With what it was read.
        with: Option<String>;
        /// The tag of who read it.
        by: Option<String>;
    }
}

section! {
    /// The tape at one leg. Read twice, it is written twice.
    pub struct LegTape {
        /// The leg: the name of its support. The tape is held plumb at its place.
        leg: String, link refers Support;
        /// From the datum plane of the frame down to the ground.
        tape: Length, within above("0 mm", "5 m");
    }
}

section! {
    /// A level or a rotating laser, and a staff.
    pub struct StaffReadings checked by staff_once {
        /// The standard deviation of one reading.
        reading_deviation: Option<Length>, within above("0 mm", "100 mm");
        /// The standard deviation of how far the line of sight is from level.
        line_of_sight_deviation: Option<Slope>, within above("0 mm/m", "10 mm/m");
        /// The longest sight that was taken.
        sight_longest: Option<Length>, within above("0 mm", "100 m");
        /// The published limit for how the run may close, by its name: "third order".
        closure_limit: Option<String>;
        /// Points whose height is known. Without one, the first point read is the datum.
        known_points as "known": Vec<KnownPoint>;
        /// The readings.
        readings as "reading": Vec<StaffReading>, then staff;
        /// A file of them beside this one, with the columns point, x, y, set-up, kind and reading.
        file: Option<String>, then file_in_folder;
        /// When it was read.
        measured: Option<Date>;
        /// With what it was read.
        with: Option<String>;
        /// The tag of who read it.
        by: Option<String>;
    }
}

section! {
    /// A rotating laser and a staff.
    pub struct LaserReadings checked by laser_once {
        /// The standard deviation of one reading, close by.
        reading_deviation: Option<Length>, within above("0 mm", "100 mm");
        /// The standard deviation of how much the plane of the laser leans, along either axis.
        plane_deviation: Option<Slope>, within from("0.0001 mm/m", "10 mm/m");
        /// The standard deviation of how much its beam rises all round.
        cone_deviation: Option<Slope>, within from("0.0001 mm/m", "10 mm/m");
        /// The longest sight that was taken.
        sight_longest: Option<Length>, within above("0 mm", "100 m");
        /// The published limit for how the run may close, by its name: "third order".
        closure_limit: Option<String>;
        /// Points whose height is known. Without one, the first point read is the datum.
        known_points as "known": Vec<KnownPoint>;
        /// Where the laser stood.
        set_ups as "set-up": Vec<LaserSetUp>;
        /// The readings.
        readings as "reading": Vec<StaffReading>, then staff;
        /// A file of them beside this one, with the columns point, x, y, set-up, kind and reading.
        file: Option<String>, then file_in_folder;
        /// When it was read.
        measured: Option<Date>;
        /// With what it was read.
        with: Option<String>;
        /// The tag of who read it.
        by: Option<String>;
    }
}

section! {
    /// One standing of the laser.
    pub struct LaserSetUp {
        /// Its name, as the readings have it.
        name: String;
        /// Where it stood.
        at: Option<Point>;
        /// Which way its front faced, from the along axis of the pitch towards its across axis. The lean of its plane
        /// turns with it: read end for end it shows.
        heading: Option<Angle>, within from("-360 deg", "360 deg");
    }
}

section! {
    /// Heights that a survey instrument, or a surveyor, worked out.
    pub struct SpotReadings checked by spots_once {
        /// The standard deviation of one height, for points that have none of their own.
        height_deviation: Option<Length>, within from("0.01 mm", "100 mm");
        /// The points.
        spots as "spot": Vec<SpotHeight>;
        /// A file of them beside this one, with the columns point, x, y, height and, where there is one, deviation.
        file: Option<String>, then file_in_folder;
        /// When it was read.
        measured: Option<Date>;
        /// With what it was read.
        with: Option<String>;
        /// The tag of who read it.
        by: Option<String>;
    }
}

section! {
    /// The height of one point.
    pub struct SpotHeight {
        /// The point. One that stood under a foot bears the name of its support.
        point: String;
        /// Where it is.
        at: Option<Point>;
        /// Its height above the datum of the pitch.
        height: Length, within from("-1 km", "9 km");
        /// The standard deviation of that height.
        deviation: Option<Length>, within from("0.01 mm", "100 mm");
    }
}

section! {
    /// A point whose height is known.
    pub struct KnownPoint {
        /// The point.
        point: String;
        /// Its height above the datum of the pitch.
        height: Length, within from("-1 km", "9 km");
    }
}

section! {
    /// One reading of a staff.
    pub struct StaffReading {
        /// The point the staff stood on; a point read twice keeps its name.
        point: String;
        /// Where the point is, the first time it is read.
        at: Option<Point>;
        /// Where the instrument stood: one name for each place.
        set_up: String;
        /// What the reading is for.
        kind: StaffKind;
        /// What the staff says, up from its foot; negative where it hangs upside down from the point.
        reading: Length, within from("-8 m", "8 m");
        /// From the instrument to the staff.
        distance: Option<Length>, within above("0 mm", "100 m");
    }
}

choice! {
    /// What a staff reading is for.
    pub enum StaffKind {
        /// Of a point whose height is known, to find that of the instrument.
        Back = "back",
        /// Of a point whose height is wanted.
        Between = "between",
        /// Of the last point before the instrument moves, which the next set-up reads back to.
        Fore = "fore",
    }
}

section! {
    /// A hose of water: the height of the ground at each leg.
    pub struct WaterLevelReadings checked by water_once {
        /// The standard deviation of one height.
        reading_deviation: Option<Length>, within from("0.01 mm", "100 mm");
        /// From the water line down to the ground at each leg. One that is read again is written twice: the first
        /// leg, read again at the end, shows that no water was lost.
        legs as "leg": Vec<WaterLeg>;
        /// A file of them beside this one, with the columns leg, reading and, for more than one water line, line.
        file: Option<String>, then file_in_folder;
        /// When it was read.
        measured: Option<Date>;
        /// With what it was read.
        with: Option<String>;
        /// The tag of who read it.
        by: Option<String>;
    }
}

section! {
    /// What was read at one leg from the water line.
    pub struct WaterLeg {
        /// The leg: the name of its support.
        leg: String, link refers Support;
        /// From the water line down to the ground.
        reading: Length, within from("0 mm", "10 m");
        /// Which water line: another name after the hose was filled or moved. A leg that is read from both ties them.
        line: Option<String>;
    }
}

section! {
    /// What the scale of one leg says.
    pub struct LegHeight {
        /// The leg: the name of its support.
        leg: String, link refers Support;
        /// The figure of the leg's scale: from the datum plane down to the underside of the foot.
        reading: Length, within from("0 mm", "10 m");
    }
}

section! {
    /// The painted scale on the legs: how far each leg is out, with every foot on the ground.
    pub struct ScaleReadings checked by scale_once {
        /// How the frame slopes along: positive where its front is higher.
        slope_along: Repeated<Slope>, within from("-200 mm/m", "200 mm/m");
        /// How it slopes across: positive where its left is higher.
        slope_across: Repeated<Slope>, within from("-200 mm/m", "200 mm/m");
        /// The standard deviation of one slope.
        slope_deviation: Option<Slope>, within above("0 mm/m", "50 mm/m");
        /// The standard deviation of one figure of a scale.
        reading_deviation: Option<Length>, within above("0 mm", "100 mm");
        /// What each scale says: from the datum plane down to the underside of the foot. Read again, it is written
        /// twice.
        legs as "leg": Vec<LegHeight>;
        /// A file of them beside this one, with the columns leg and reading.
        file: Option<String>, then file_in_folder;
        /// When it was read.
        measured: Option<Date>;
        /// With what it was read.
        with: Option<String>;
        /// The tag of who read it.
        by: Option<String>;
    }
}

impl Readings {
    /// The file of readings that stands beside the pitch, if one is named.
    pub fn file(&self) -> Option<&str> {
        let file = match self {
            Self::Tape(of) => &of.file,
            Self::Staff(of) => &of.file,
            Self::Laser(of) => &of.file,
            Self::WaterLevel(of) => &of.file,
            Self::Scale(of) => &of.file,
            Self::Spots(of) => &of.file,
        };
        file.as_deref()
    }
    /// When it was read.
    pub fn measured(&self) -> Option<Date> {
        match self {
            Self::Tape(of) => of.measured,
            Self::Staff(of) => of.measured,
            Self::Laser(of) => of.measured,
            Self::WaterLevel(of) => of.measured,
            Self::Scale(of) => of.measured,
            Self::Spots(of) => of.measured,
        }
    }
}

section! {
    /// What is needed to compare the readings with the earlier ones.
    pub struct Still {
        /// The points that are taken as still: a kerb, a peg outside the feet. Without one, what all feet sank together
        /// is not known.
        still: Vec<String>;
    }
}

fn file_in_folder(name: &Option<String>, place: &Place, report: &mut Report) {
    if let Some(name) = name {
        crate::visit::in_folder(name, "file", place, report);
    }
}

fn tape_once(tape: &TapeReadings, report: &mut Report) {
    once("leg", &tape.place, report);
}
fn staff_once(staff: &StaffReadings, report: &mut Report) {
    once("reading", &staff.place, report);
}
fn water_once(water: &WaterLevelReadings, report: &mut Report) {
    once("leg", &water.place, report);
}
fn scale_once(scale: &ScaleReadings, report: &mut Report) {
    once("leg", &scale.place, report);
}
fn spots_once(spots: &SpotReadings, report: &mut Report) {
    once("spot", &spots.place, report);
}
fn laser_once(laser: &LaserReadings, report: &mut Report) {
    once("reading", &laser.place, report);
    let mut told = std::collections::BTreeSet::new();
    for set_up in &laser.set_ups {
        if !told.insert(&set_up.name) {
            let message = format!("Set-up \"{}\" is told twice.", short(&set_up.name));
            report.error(set_up.place.key("name"), Code::RepeatedName, message, "Leave one of them out.");
        }
    }
}

/// Readings stand in the pitch or in a file of their own, not in both.
fn once(rows: &str, place: &Place, report: &mut Report) {
    if place.has("file") && place.has(rows) {
        let message = "There are readings here and in a file: which are to be used?";
        let help = format!("Leave out `file`, or every `{rows}`.");
        report.error(place.key("file"), Code::Disagreement, message, help);
    }
}

/// A point has one position, and each set-up looks back to at least one point.
pub(crate) fn staff(readings: &[StaffReading], _: &Place, report: &mut Report) {
    use std::collections::{BTreeMap, BTreeSet};
    let backed: BTreeSet<&str> =
        readings.iter().filter(|r| r.kind == StaffKind::Back).map(|r| r.set_up.as_str()).collect();
    let (mut known, mut met) = (BTreeMap::new(), BTreeSet::new());
    for reading in readings {
        if let Some(at) = reading.at
            && *known.entry(reading.point.as_str()).or_insert(at) != at
        {
            let message =
                format!("Point \"{}\" is in another place here than before.", short(&reading.point));
            report.error(
                reading.place.key("at"),
                Code::Disagreement,
                message,
                "Give each point its own name.",
            );
        }
        if met.insert(reading.set_up.as_str()) && !backed.contains(reading.set_up.as_str()) {
            let message = format!(
                "Set-up \"{}\" has no back reading: its height is not known.",
                short(&reading.set_up)
            );
            let help = "Read a point of known height with `kind = \"back\"` first.";
            report.error(reading.place.key("set-up"), Code::Missing, message, help);
        }
    }
}
