//! Lower, read, trim: what was read of the lowered frame, round by round.
//!
//! A round is one reading of the frame and the change that comes of it. Its entries bear the plan and the number of the
//! round in their names, so that another plan, or the reading after a change, begins with blank fields (rule S3).

use crate::fields::Speaks;
use crate::stands::Stands;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use tober_book::Pitch;
use tober_plan::{Books, Foot, FrameRead, FrameWay, Held, Plan, Stood, Trim};
use tober_quantity::{Length, Quantity, Slope, UnitSet};

/// The beginnings of the names of fields that belong to a round.
pub(crate) const OF_A_ROUND: [&str; 5] = ["frame way", "level ", "height ", "foot ", "gap "];

/// A lowered frame as far as it was told.
pub(crate) struct Frame {
    /// The number of the round, from 1.
    pub round: usize,
    /// Whether legs were set and the frame lowered, by the entries of the hold points.
    pub set: bool,
    pub lowered: bool,
    /// The way that was chosen: "level" or "heights".
    pub way: Option<String>,
    /// What is wrong at a field of this round, by its name.
    pub wrong: BTreeMap<String, String>,
    /// The least change, once anything was read.
    pub trim: Option<Result<Trim, String>>,
}

/// How many changes have been made since this plan was built.
fn changes(stands: &Stands, plan: &Plan) -> usize {
    (1..).take_while(|k| stands.for_plan(&format!("changed {k}"), &plan.name).is_some()).count()
}

/// The name under which a field of a round is kept; of any other field its own.
pub(crate) fn kept_name(field: &str, stands: &Stands, plan: &Plan) -> String {
    if OF_A_ROUND.iter().any(|begin| field.starts_with(begin)) {
        format!("{} {} {field}", plan.name, changes(stands, plan) + 1)
    } else {
        field.to_owned()
    }
}

/// The field that a kept name belongs to now; `None` where it is of another round.
pub(crate) fn field_of<'a>(kept: &'a str, stands: &Stands, plan: &Plan) -> Option<&'a str> {
    let mut words = kept.splitn(3, ' ');
    let (first, second, rest) = (words.next()?, words.next(), words.next());
    match (second.and_then(|number| number.parse::<usize>().ok()), rest) {
        (Some(number), Some(field)) if OF_A_ROUND.iter().any(|begin| field.starts_with(begin)) => {
            (first == plan.name && number == changes(stands, plan) + 1).then_some(field)
        }
        _ => Some(kept),
    }
}

/// A kept name in words: "frame, reading 2, height rear right".
pub(crate) fn in_words(kept: &str) -> Option<String> {
    let mut words = kept.splitn(3, ' ');
    let (_, number, field) = (words.next()?, words.next()?.parse::<usize>().ok()?, words.next()?);
    OF_A_ROUND
        .iter()
        .any(|begin| field.starts_with(begin))
        .then(|| format!("frame, reading {number}, {field}"))
}

/// What stands at the legs: as planned, and changed by what was done since.
fn stood(stands: &Stands, plan: &Plan) -> Vec<Stood> {
    let mut stood = Stood::of(plan);
    for k in 1..=changes(stands, plan) {
        let Some(change) = stands.for_plan(&format!("changed {k}"), &plan.name) else { continue };
        for leg in &mut stood {
            let told =
                change.more.get(&format!("at {}", leg.leg)).and_then(|text| read_setting(text, &leg.held));
            if let Some((held, layers)) = told {
                leg.held = held;
                leg.layers = layers;
            }
        }
    }
    stood
}

/// What an entry says of each leg that a change touched.
pub(crate) fn settings(trim: &Trim) -> BTreeMap<String, String> {
    let one = |change: &tober_plan::LegChange| {
        let boards: Vec<&str> = change.to.layers.iter().map(|layer| layer.board.as_str()).collect();
        let held = match &change.to.held {
            Held::Hole { number, .. } => json!({ "hole": number, "boards": boards }),
            Held::Screw { extension, .. } => json!({ "screw_mm": extension.as_mm(), "boards": boards }),
        };
        (format!("at {}", change.leg), held.to_string())
    };
    trim.change.iter().map(one).collect()
}

fn read_setting(text: &str, as_now: &Held) -> Option<(Held, Vec<String>)> {
    let value: Value = serde_json::from_str(text).ok()?;
    let boards =
        value["boards"].as_array()?.iter().filter_map(|board| board.as_str().map(str::to_owned)).collect();
    let held = match as_now {
        Held::Hole { of, pitch, .. } => {
            Held::Hole { number: usize::try_from(value["hole"].as_u64()?).ok()?, of: *of, pitch: *pitch }
        }
        Held::Screw { travel, thread, .. } => Held::Screw {
            extension: Length::mm(value["screw_mm"].as_f64()?),
            travel: *travel,
            thread: *thread,
        },
    };
    Some((held, boards))
}

/// One field of a round, read as a quantity; what cannot be is named at its field.
fn quantity<Q: Quantity>(
    stands: &Stands,
    name: &dyn Fn(&str) -> String,
    field: &str,
    speaks: Speaks,
    units: UnitSet,
    wrong: &mut BTreeMap<String, String>,
) -> Option<Q> {
    let typed = stands.value(&name(field))?;
    match Q::parse(&speaks.complete(typed, units)) {
        Ok(quantity) => Some(quantity),
        Err(error) => {
            wrong.insert(field.to_owned(), format!("You typed {typed}. {}", error.hint().replace('"', "")));
            None
        }
    }
}

/// The frame of a plan that was built, and the least change to it.
pub(crate) fn frame(stands: &Stands, books: Books<'_>, plan: &Plan, units: UnitSet) -> Frame {
    let name = |field: &str| kept_name(field, stands, plan);
    let mut wrong = BTreeMap::new();
    let hold = |which: &str| stands.for_plan(which, &plan.name).is_some();
    let way = stands.value(&name("frame way")).map(str::to_owned);
    let mut out = Frame {
        round: changes(stands, plan) + 1,
        set: hold("hold legs set"),
        lowered: hold("hold lowered"),
        way,
        wrong: BTreeMap::new(),
        trim: None,
    };
    if !out.lowered || plan.legs.is_empty() {
        return out;
    }
    let read_way = match out.way.as_deref() {
        Some("level") => level(stands, &name, books.pitch, units, &mut wrong),
        Some("heights") => heights(stands, &name, plan, books.pitch, units, &mut wrong),
        _ => None,
    };
    let mut feet = BTreeMap::new();
    for leg in &plan.legs {
        let foot = match stands.value(&name(&format!("foot {}", leg.name))) {
            Some("snug") => Foot::Snug,
            Some("light") => {
                let field = format!("gap {}", leg.name);
                let gap = quantity::<Length>(stands, &name, &field, Speaks::Fine, units, &mut wrong);
                Foot::Light { gap }
            }
            _ => continue,
        };
        feet.insert(leg.name.clone(), foot);
    }
    out.wrong = wrong;
    if let Some(way) = read_way {
        let read = FrameRead { way, feet, loads: BTreeMap::new() };
        let trim = tober_plan::trim(books, plan, &stood(stands, plan), &read);
        out.trim = Some(trim.map_err(|error| error.to_string()));
    }
    out
}

/// The level, along and across. Both are wanted: one alone tells no change.
fn level(
    stands: &Stands,
    name: &dyn Fn(&str) -> String,
    pitch: &Pitch,
    units: UnitSet,
    wrong: &mut BTreeMap<String, String>,
) -> Option<FrameWay> {
    let mut slopes = Vec::new();
    for (axis, high) in [("along", "front"), ("across", "left")] {
        let way = stands.value(&name(&format!("level {axis} way")));
        let field = format!("level {axis}");
        slopes.push(match way {
            None => None,
            Some("level") => Some(Slope::mm_per_m(0.0)),
            Some(end) => {
                let amount = quantity::<Slope>(stands, name, &field, Speaks::Slope, units, wrong);
                amount.map(|slope| {
                    let size = slope.abs();
                    if end == high { size } else { Slope::mm_per_m(-size.as_mm_per_m()) }
                })
            }
        });
    }
    let of_file = match &pitch.readings {
        Some(tober_book::Readings::Tape(tape)) => tape.slope_deviation,
        _ => None,
    };
    let typed = |field: &str| stands.value(field).map(|typed| Speaks::Slope.complete(typed, units));
    let deviation = typed("slope deviation").and_then(|text| Slope::parse(&text).ok()).or(of_file);
    Some(FrameWay::Level { along: slopes[0]?, across: slopes[1]?, deviation })
}

fn heights(
    stands: &Stands,
    name: &dyn Fn(&str) -> String,
    plan: &Plan,
    pitch: &Pitch,
    units: UnitSet,
    wrong: &mut BTreeMap<String, String>,
) -> Option<FrameWay> {
    let mut at = BTreeMap::new();
    for leg in &plan.legs {
        let field = format!("height {}", leg.name);
        if let Some(height) = quantity::<Length>(stands, name, &field, Speaks::Fine, units, wrong) {
            at.insert(leg.name.clone(), height);
        }
    }
    let of_file = match &pitch.readings {
        Some(tober_book::Readings::Tape(tape)) => tape.tape_deviation,
        Some(tober_book::Readings::Staff(staff)) => staff.reading_deviation,
        _ => None,
    };
    let typed = ["staff deviation", "tape deviation"]
        .iter()
        .find_map(|field| Length::parse(&Speaks::Fine.complete(stands.value(field)?, units)).ok());
    (!at.is_empty()).then_some(FrameWay::Heights { at, deviation: typed.or(of_file) })
}
