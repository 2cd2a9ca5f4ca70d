//! What was read of a lowered frame: `frame.toml`, beside the visit.

use crate::report::{Report, any_tables, as_read, parse, short};
use crate::section::{choice, section};
use crate::table::{Group, above, from};
use crate::{Code, Load, MeasuredLoad, Parsed, Place, Source};
use tober_quantity::{Force, Length, Slope};

section! {
    /// What was read of a frame once it is lowered onto its legs, and what stands there if it is not as planned.
    pub struct LoweredFrame checked by one_way {
        /// The format of the file; this version reads 0.
        format: usize, within from("0", "0");
        /// The frame as a whole.
        about as "frame": FrameLevel;
        /// Each leg.
        legs as "leg": Vec<LegRead>, then legs_once;
    }
}

section! {
    /// The frame as a whole: its two slopes where a level was laid on it, and how good the reading is.
    pub struct FrameLevel {
        /// How it slopes along: positive where its front is higher. Where it is written, heights are not.
        slope_along: Option<Slope>, within from("-100 mm/m", "100 mm/m");
        /// How it slopes across: positive where its left is higher.
        slope_across: Option<Slope>, within from("-100 mm/m", "100 mm/m");
        /// What a slope may be off by, either way.
        slope_off_by: Option<Slope>, within from("0 mm/m", "50 mm/m");
        /// What a height may be off by, either way.
        height_off_by: Option<Length>, within from("0 mm", "100 mm");
        /// What a measured load may be off by, either way, where the reading does not say its own.
        load_off_by: Option<Load>, within above("0 kN", "50 kN");
        /// For invented data: the sentence that says so. It prints on every sheet.
        invented: Option<String>;
    }
}

section! {
    /// One leg: what was read at it, and what stands there where earlier rounds have changed it.
    pub struct LegRead checked by gap_and_setting {
        /// The leg: the name of its support.
        leg: String, link refers Support;
        /// The height of the frame here over a string or laser.
        height: Option<Length>, within from("-10 m", "10 m");
        /// What a kick at the foot told.
        foot: Option<FootRead>;
        /// The gap under a light foot.
        gap: Option<Length>, within from("0 mm", "500 mm");
        /// The load on the foot as a gauge in its jack or a load cell showed it, with what the gauge may be off by.
        load: Option<MeasuredLoad>, within from("-20 kN", "500 kN");
        /// The hole in which the pin is, counted from the frame end; as planned, unless written.
        hole: Option<usize>, within from("1", "200");
        /// How far the screw is out beyond its shortest; as planned, unless written.
        screw: Option<Length>, within from("0 mm", "5 m");
        /// The boards under the foot by their names in the kit, from the ground up; as planned, unless written.
        boards: Vec<String>;
    }
}

choice! {
    /// What a kick at a foot tells.
    pub enum FootRead {
        /// It does not move.
        Snug = "snug",
        /// It moves.
        Light = "light",
    }
}

/// A frame is read one way: two slopes, or heights.
fn one_way(frame: &LoweredFrame, report: &mut Report) {
    let about = &frame.about;
    match (about.slope_along, about.slope_across) {
        (Some(_), Some(_)) => {
            if let Some(leg) = frame.legs.iter().find(|leg| leg.height.is_some()) {
                let message = format!("Slopes are written, and a height at \"{}\" too.", short(&leg.leg));
                let help = "Read the frame one way: two slopes, or a height at each leg.";
                report.error(leg.place.key("height"), Code::Disagreement, message, help);
            }
        }
        (None, None) => {
            if frame.legs.iter().all(|leg| leg.height.is_none()) {
                let message = "Neither slopes nor heights are written.";
                let help = "Write `slope-along` and `slope-across`, or `height` at each leg.";
                report.error(frame.place.key("frame"), Code::Missing, message, help);
            }
        }
        (along, _) => {
            let (there, missing) = if along.is_some() {
                ("slope-along", "slope-across")
            } else {
                ("slope-across", "slope-along")
            };
            let message = format!("`{there}` is written without `{missing}`.");
            report.error(about.place.key(there), Code::Missing, message, "A level is read both ways.");
        }
    }
}

fn legs_once(legs: &[LegRead], _: &Place, report: &mut Report) {
    for (i, leg) in legs.iter().enumerate() {
        if legs[..i].iter().any(|other| other.leg == leg.leg) {
            let message = format!("\"{}\" is read above already.", short(&leg.leg));
            report.error(leg.place.key("leg"), Code::RepeatedName, message, "Leave one of them out.");
        }
    }
}

fn gap_and_setting(leg: &LegRead, report: &mut Report) {
    if leg.gap.is_some() && leg.foot != Some(FootRead::Light) {
        let message = format!("\"{}\" has a gap and is not said to be light.", short(&leg.leg));
        let help = "Write `foot = \"light\"`, or leave `gap` out: a snug foot has none.";
        report.error(leg.place.key("gap"), Code::Disagreement, message, help);
    }
    if let (Some(gap), Some(load)) = (leg.gap, leg.load)
        && gap > Length::ZERO
        && load.0.low() > Force::ZERO
    {
        let message = format!("\"{}\" has a gap under it and a load on it.", short(&leg.leg));
        let help = "A foot with a gap carries nothing: read both again, and leave the wrong one out.";
        report.error(leg.place.key("load"), Code::Disagreement, message, help);
    }
    if leg.hole.is_some() && leg.screw.is_some() {
        let message = format!("\"{}\" has a hole and a screw.", short(&leg.leg));
        report.error(leg.place.key("screw"), Code::Disagreement, message, "A leg is held one way.");
    }
}

/// Reads what was read of a frame. The legs it names are looked for in the ride book by [`crate::frame_disagreements`].
pub fn parse_frame(source: &Source) -> Parsed<LoweredFrame> {
    parse(source, &[Group::Support], any_tables, as_read)
}
