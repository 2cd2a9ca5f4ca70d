//! `tober trim`: what was read of a lowered frame, and the least change that brings it in.

use crate::files::{self, Wrong, say};
use crate::plan::books_and_plan;
use crate::{Ended, Shape, text};
use std::collections::BTreeMap;
use std::path::Path;
use tober_book::{FootRead, LegRead, LoweredFrame, Source, frame_disagreements, parse_frame, parse_ride};
use tober_calc::finding::Standing;
use tober_plan::{Books, Foot, FootLoad, FrameRead, FrameWay, Held, Plan, Stood};
use tober_quantity::{Force, Length};

/// Trims a visit by the readings in `frame.toml` beside it, or in the file given.
pub fn trim(path: &Path, frame: Option<&Path>, shape: Shape) -> Ended {
    let (books, plan) = match books_and_plan(path, shape) {
        Ok(both) => both,
        Err(ended) => return ended,
    };
    let beside = files::visit_file(path).with_file_name("frame.toml");
    let file = frame.unwrap_or(&beside);
    let lowered = match read(file, path) {
        Ok(lowered) => lowered,
        Err(wrong) => return say(&wrong),
    };
    let of_books = Books { ride: &books.ride, kit: &books.kit, pitch: &books.pitch, visit: &books.visit };
    match tober_plan::trim(of_books, &plan, &stood(&plan, &lowered), &as_read(&lowered)) {
        Err(error) => say(&Wrong::file(format!("{}: {error}", file.display()))),
        Ok(trim) => {
            if shape.json {
                files::print(&format!("{}\n", tober_wire::trim::trim(&trim)));
            } else {
                files::print_in(plan.units, plan.words, &text::trim(&plan, &trim, shape.working));
            }
            match trim.standing {
                Standing::Inside | Standing::Close => Ended::Inside,
                Standing::PastLimit => Ended::PastLimit,
                Standing::NotKnown => Ended::NotKnown,
            }
        }
    }
}

/// Reads the frame, and holds its legs against the ride book of the visit.
fn read(file: &Path, visit: &Path) -> Result<LoweredFrame, Wrong> {
    let told = files::read(file).map_err(Wrong::file)?;
    let parsed = parse_frame(&Source::new(&file.display().to_string(), &told));
    let mut said = parsed.diagnostics.clone();
    // The visit has been read already, so that its ride book is there and in order.
    if let Some((name, book)) = files::ride_text(visit) {
        said.extend(frame_disagreements(&parsed, &parse_ride(&Source::new(&name, &book))));
    }
    match parsed.value {
        Some(lowered) if said.is_empty() => Ok(lowered),
        _ => Err(Wrong::books(said)),
    }
}

/// What was read, by the names of the legs.
fn as_read(lowered: &LoweredFrame) -> FrameRead {
    let about = &lowered.about;
    let way = match (about.slope_along, about.slope_across) {
        (Some(along), Some(across)) => FrameWay::Level { along, across, deviation: about.slope_off_by },
        _ => FrameWay::Heights {
            at: lowered.legs.iter().filter_map(|leg| Some((leg.leg.clone(), leg.height?))).collect(),
            deviation: about.height_off_by,
        },
    };
    let foot = |foot: FootRead, gap: Option<Length>| match foot {
        FootRead::Snug => Foot::Snug,
        FootRead::Light => Foot::Light { gap },
    };
    let feet: BTreeMap<String, Foot> =
        lowered.legs.iter().filter_map(|leg| Some((leg.leg.clone(), foot(leg.foot?, leg.gap)))).collect();
    let load = |leg: &LegRead| {
        let load = leg.load?.0;
        let own = (load.off_by > Force::ZERO).then_some(load.off_by);
        let off_by = own.or(about.load_off_by.map(|off_by| off_by.0));
        Some((leg.leg.clone(), FootLoad { load: load.value, off_by }))
    };
    FrameRead { way, feet, loads: lowered.legs.iter().filter_map(load).collect() }
}

/// What stands: the plan, where the file does not say otherwise.
fn stood(plan: &Plan, lowered: &LoweredFrame) -> Vec<Stood> {
    let mut all = Stood::of(plan);
    for stands in &mut all {
        let Some(leg) = lowered.legs.iter().find(|leg| leg.leg == stands.leg) else { continue };
        if !leg.boards.is_empty() {
            stands.layers.clone_from(&leg.boards);
        }
        match (&mut stands.held, leg.hole, leg.screw) {
            (Held::Hole { number, .. }, Some(hole), _) => *number = hole,
            (Held::Screw { extension, .. }, _, Some(screw)) => *extension = screw,
            // The trim says what such a leg has.
            (held @ Held::Hole { .. }, None, Some(extension)) => {
                *held = Held::Screw { extension, travel: extension, thread: None };
            }
            (held @ Held::Screw { .. }, Some(number), None) => {
                *held = Held::Hole { number, of: number, pitch: Length::ZERO };
            }
            _ => {}
        }
    }
    all
}
