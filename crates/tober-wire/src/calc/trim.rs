//! `tober calc trim`: the packing question of a lowered frame, with what stands and what was read.

use super::Worked;
use super::packing::{chosen, problem, tenths};
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::packing::trim::{
    Foot, Frame, HundredthMmPerM, Missing, Outcome, Question, Reading, Stands, Trim, findings, solve,
};
use tober_calc::packing::{Budget, Setting, Stage};
use tober_quantity::TenthMm;

/// Wide enough for any reading; the calculation has its own limits and says so in millimetres.
const MOST: i64 = 1_000_000_000;

fn stands(field: &Field<'_>) -> Read<Stands> {
    field.only(&["pin_index", "laid"])?;
    let hole = field.get("pin_index")?.whole(0, i64::from(u32::MAX))?;
    let kind = |field: &Field<'_>| -> Read<usize> {
        let kind = field.whole(0, MOST)?;
        usize::try_from(kind).map_err(|_| field.error("the place of a kind of board is wanted."))
    };
    Ok(Stands {
        setting: Setting::Hole(u32::try_from(hole).map_err(|_| field.error("a hole is wanted."))?),
        laid: field.get("laid")?.list()?.iter().map(kind).collect::<Read<_>>()?,
    })
}

/// `"snug"`, `{"light_01mm": 60}`, `{"light_01mm": null}` or `null` where the foot was not kicked.
fn foot(field: &Field<'_>) -> Read<Option<Foot>> {
    if field.json().is_null() {
        return Ok(None);
    }
    if field.json().is_object() {
        field.only(&["light_01mm"])?;
        let gap = field.maybe("light_01mm")?.map(|gap| tenths(&gap)).transpose()?;
        return Ok(Some(Foot::Light { gap }));
    }
    field.choice(&[("snug", Foot::Snug), ("light", Foot::Light { gap: None })]).map(Some)
}

fn frame(field: &Field<'_>) -> Read<Frame> {
    if field.maybe("heights_01mm")?.is_some() {
        field.only(&["heights_01mm", "off_by_01mm"])?;
        let height = |field: &Field<'_>| -> Read<Option<TenthMm>> {
            if field.json().is_null() { Ok(None) } else { tenths(field).map(Some) }
        };
        return Ok(Frame::Heights {
            at: field.get("heights_01mm")?.list()?.iter().map(height).collect::<Read<_>>()?,
            off_by: field.maybe("off_by_01mm")?.map(|off| tenths(&off)).transpose()?,
        });
    }
    field.only(&["along_001mm_per_m", "across_001mm_per_m", "off_by_001mm_per_m", "heights_01mm"])?;
    let slope = |field: &Field<'_>| field.whole(-MOST, MOST).map(HundredthMmPerM);
    Ok(Frame::Level {
        along: slope(&field.get("along_001mm_per_m")?)?,
        across: slope(&field.get("across_001mm_per_m")?)?,
        off_by: field.maybe("off_by_001mm_per_m")?.map(|off| slope(&off)).transpose()?,
    })
}

fn question(field: &Field<'_>) -> Read<Question> {
    Ok(Question {
        problem: problem(field)?,
        stands: field.get("stands")?.list()?.iter().map(stands).collect::<Read<_>>()?,
        reading: Reading {
            frame: frame(&field.get("read")?)?,
            feet: field.get("feet")?.list()?.iter().map(foot).collect::<Read<_>>()?,
        },
    })
}

/// Works one trim.
pub(super) fn work(field: &Field<'_>) -> Result<Worked, DoorError> {
    let question = question(field)?;
    let trim = solve(&question, &Budget::usual()).map_err(|error| field.error(error.to_string()))?;
    let found = findings(&question, &trim);
    let findings = found.now.into_iter().chain(found.after).collect();
    Ok(Worked { result: result(&question, &trim), findings, working: Vec::new() })
}

fn result(question: &Question, trim: &Trim) -> Value {
    let name = |place: usize| question.problem.supports[place].name.clone();
    let mut result = json!({
        "outcome": outcome(&trim.outcome),
        "tops_01mm": trim.tops.iter().map(|top| top.map(|top| top.0)).collect::<Value>(),
        "nodes": trim.nodes,
    });
    let mut put = |key: &str, value: Value| {
        if let Some(object) = result.as_object_mut() {
            object.insert(key.to_owned(), value);
        }
    };
    match &trim.outcome {
        Outcome::NotRead { missing } => {
            let one = |missing: &Missing| match *missing {
                Missing::Height(place) => json!({ "height": name(place) }),
                Missing::Foot(place) => json!({ "foot": name(place) }),
                Missing::Gap(place) => json!({ "gap": name(place) }),
            };
            put("missing", missing.iter().map(one).collect());
        }
        Outcome::Nothing { short } => {
            let one = |&(place, by): &(usize, TenthMm)| json!({ "support": name(place), "short_01mm": by.0 });
            put("short", short.iter().map(one).collect());
        }
        Outcome::Change { proof, .. } => {
            let proof = if *proof == Stage::Proved { "proved least" } else { "best found" };
            put("proof", proof.into());
        }
        Outcome::Inside { .. } | Outcome::TooCoarse | Outcome::NotReached => {}
    }
    if let Some(choice) = trim.choice() {
        let one = |changed: &tober_calc::packing::trim::Changed| {
            json!({
                "support": name(changed.support),
                "up_01mm": changed.up.0,
                "boards_handled": changed.handled,
                "laid": choice.supports[changed.support].laid,
            })
        };
        put("changed", trim.changed().iter().map(one).collect());
        put("choice", chosen(choice, "", None)["choice"].clone());
    }
    result
}

fn outcome(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::NotRead { .. } => "not-read",
        Outcome::Inside { .. } => "inside",
        Outcome::Change { .. } => "change",
        Outcome::TooCoarse => "too-coarse",
        Outcome::Nothing { .. } => "nothing",
        Outcome::NotReached => "not-reached",
    }
}
