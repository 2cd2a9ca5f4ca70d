//! The visit: `visit.toml`. One ride on one pitch between two dates.

use crate::report::{Report, any_tables, as_read, parse, short};
use crate::section::{choice, section};
use crate::table::from;
use crate::{Code, Date, Limits, Parsed, Place, Point, Source, Words};
use tober_quantity::Angle;

section! {
    /// One ride on one pitch between two dates.
    pub struct Visit {
        /// The format of the file; this version reads 0.
        format: usize, within from("0", "0");
        /// What comes together.
        about as "visit": AboutVisit, then dates;
        /// Where the trailer stands on the pitch.
        pose: Option<Pose>;
        /// Limits of the chief's own. They may only be stricter than the maker's.
        limits: Option<Limits>;
    }
}

section! {
    /// What comes together in a visit. The files stand in its folder.
    pub struct AboutVisit {
        /// What the visit is called.
        name: String;
        /// The file of the ride book.
        ride: String, then in_folder_ride;
        /// The file of the kit.
        kit: String, then in_folder_kit;
        /// The file of the crew.
        crew: Option<String>, then in_folder_crew;
        /// The file of the pitch.
        pitch: String, then in_folder_pitch;
        /// The day the ride comes.
        from: Option<Date>;
        /// The day it leaves.
        until: Option<Date>;
        /// The units of its sheets.
        units: Option<Units>;
        /// The trade words of its sheets.
        words: Option<Words>;
        /// The set of factors against overturning, sliding and uplift, by its name; every set that is known, unless
        /// written.
        stability_factors: Option<String>;
        /// The rules for wind, by their name: "EN 1991-1-4" or "ASCE 7"; every one that is known, unless written.
        wind_rules: Option<String>;
        /// The rules for power.
        power_rules: Option<PowerRules>;
        /// Bodies of the book that are left at home.
        without: Vec<String>, link refers Body;
        /// For invented data: the sentence that says so. It prints on every sheet.
        invented: Option<String>;
    }
}

choice! {
    /// The units of a sheet.
    pub enum Units {
        /// Millimetres, kilogrammes and tonnes, metres a second.
        Metric = "metric",
        /// Millimetres, tonnes, miles an hour.
        Gb = "gb",
        /// Inches to the nearest quarter, pounds, miles an hour.
        Us = "us",
    }
}

choice! {
    /// The rules for power.
    pub enum PowerRules {
        /// The international rules and the British ones built on them.
        Iec = "iec",
        /// The American ones.
        Us = "us",
    }
}

section! {
    /// Where the trailer stands on the pitch, and which way round.
    pub struct Pose {
        /// Where the datum point of the frame is on the pitch.
        at: Point;
        /// The direction of its front, from the along axis of the pitch towards its across axis.
        heading: Angle, within from("-360 deg", "360 deg");
    }
}

fn dates(about: &AboutVisit, _: &Place, report: &mut Report) {
    if let (Some(first), Some(last)) = (about.from, about.until)
        && last < first
    {
        let message = format!("The visit ends on {last}, before it begins on {first}.");
        report.error(about.place.key("until"), Code::Disagreement, message, "Change them round.");
    }
}

fn in_folder_ride(name: &str, place: &Place, report: &mut Report) {
    in_folder(name, "ride", place, report);
}
fn in_folder_kit(name: &str, place: &Place, report: &mut Report) {
    in_folder(name, "kit", place, report);
}
fn in_folder_crew(name: &Option<String>, place: &Place, report: &mut Report) {
    if let Some(name) = name {
        in_folder(name, "crew", place, report);
    }
}
fn in_folder_pitch(name: &str, place: &Place, report: &mut Report) {
    in_folder(name, "pitch", place, report);
}

/// A visit folder is complete in itself, so a file of it is in it or in a folder of it.
pub(crate) fn in_folder(name: &str, key: &str, place: &Place, report: &mut Report) {
    let outside = name.starts_with(['/', '~'])
        || name.contains(['\\', ':', '\0'])
        || name.split('/').any(|part| part.is_empty() || part == "." || part == "..");
    if outside {
        let message = format!("`{key}` is \"{}\", which is not in the folder of the visit.", short(name));
        let help = "Copy the file into the folder and write its name, such as \"ride.toml\".";
        report.error(place.key(key), Code::OutOfRange, message, help);
    }
}

/// Reads a visit. The bodies it names are looked for when the visit is checked as a whole.
pub fn parse_visit(source: &Source) -> Parsed<Visit> {
    parse(source, &[crate::Group::Body], any_tables, as_read)
}
