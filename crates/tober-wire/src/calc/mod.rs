//! The door to one calculation: a question, or a list of them, in; an answer for each, in order, out.
//!
//! An answer is `{"result": …, "findings": […], "working": […]}` or `{"error": …}`.

#[cfg(feature = "command")]
mod chance;
#[cfg(feature = "command")]
mod frame;
mod ground;
#[cfg(feature = "command")]
mod hand_lift;
#[cfg(feature = "command")]
mod lift;
#[cfg(feature = "command")]
mod orders;
mod packing;
pub mod questions;
#[cfg(feature = "command")]
mod reach;
#[cfg(feature = "command")]
mod riders_off;
#[cfg(feature = "command")]
mod soil;
mod stability;
mod supports;
mod survey;
mod trim;
#[cfg(feature = "command")]
mod weighing;
mod wind;

use crate::read::{DoorError, Field};
use crate::write;
use serde_json::{Value, json};
use tober_book::nearest;
use tober_calc::finding::{Finding, Standing};
use tober_calc::working::Working;
use tober_quantity::UnitSet;

/// The calculations that can be asked for.
pub const NAMES: &[&str] = &[
    "survey",
    #[cfg(feature = "command")]
    "settlement",
    "packing",
    #[cfg(feature = "command")]
    "chance",
    "supports",
    #[cfg(feature = "command")]
    "frame",
    "ground",
    #[cfg(feature = "command")]
    "bearing-capacity",
    #[cfg(feature = "command")]
    "pin",
    "stability",
    #[cfg(feature = "command")]
    "reach",
    #[cfg(feature = "command")]
    "lift",
    #[cfg(feature = "command")]
    "riders-off",
    #[cfg(feature = "command")]
    "hand-lift",
    #[cfg(feature = "command")]
    "orders",
    "trim",
    "wind-pressure",
    #[cfg(feature = "command")]
    "weighing",
];

/// How the answers stand, counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Standings {
    /// Questions that could not be read or worked.
    pub errors: usize,
    /// Answers with a finding past its limit.
    pub past_limit: usize,
    /// Answers with nothing past its limit and a finding that is not known.
    pub not_known: usize,
}

/// What a calculation gives back.
pub(crate) struct Worked {
    /// The result, in the shape that belongs to the calculation.
    pub result: Value,
    /// What was found, each with its working.
    pub findings: Vec<Finding>,
    /// Working that belongs to no finding.
    pub working: Vec<Working>,
}

/// What the readings of a weighing say, as JSON.
#[cfg(feature = "command")]
pub use weighing::weighed;

type Work = fn(&Field<'_>) -> Result<Worked, DoorError>;

fn work(name: &str) -> Option<Work> {
    Some(match name {
        "packing" => packing::work,
        #[cfg(feature = "command")]
        "chance" => chance::work,
        "supports" => supports::work,
        #[cfg(feature = "command")]
        "frame" => frame::work,
        "ground" => ground::work,
        #[cfg(feature = "command")]
        "bearing-capacity" => soil::capacity,
        #[cfg(feature = "command")]
        "pin" => soil::pin,
        #[cfg(feature = "command")]
        "reach" => reach::work,
        #[cfg(feature = "command")]
        "lift" => lift::work,
        #[cfg(feature = "command")]
        "riders-off" => riders_off::work,
        #[cfg(feature = "command")]
        "hand-lift" => hand_lift::work,
        #[cfg(feature = "command")]
        "orders" => orders::work,
        "stability" => stability::work,
        "survey" => survey::work,
        #[cfg(feature = "command")]
        "settlement" => survey::settled,
        "trim" => trim::work,
        #[cfg(feature = "command")]
        "weighing" => weighing::work,
        "wind-pressure" => wind::work,
        _ => return None,
    })
}

/// Answers the questions in a text: one JSON object, or an array of them.
///
/// # Errors
/// A sentence where the calculation is not known or the text is not JSON. A question that is wrong in
/// itself is answered by an error of its own, and the others are worked.
pub fn answer(name: &str, text: &str, units: UnitSet) -> Result<(Value, Standings), String> {
    let Some(work) = work(name) else {
        let meant = nearest(name, NAMES).map_or(String::new(), |near| format!(" Did you mean \"{near}\"?"));
        return Err(format!("There is no calculation {name:?}.{meant} There are: {}.", NAMES.join(", ")));
    };
    let question: Value = serde_json::from_str(text).map_err(|error| {
        format!("The question is not JSON: {error}. One object, or an array of them, is wanted.")
    })?;
    let mut standings = Standings::default();
    let answer = match &question {
        Value::Array(list) => {
            let each = |(i, one)| answer_one(work, one, &format!("[{i}]"), units, &mut standings);
            list.iter().enumerate().map(each).collect()
        }
        one => answer_one(work, one, "", units, &mut standings),
    };
    Ok((answer, standings))
}

fn answer_one(work: Work, question: &Value, at: &str, units: UnitSet, standings: &mut Standings) -> Value {
    match work(&Field::whole_question(question)) {
        Err(error) => {
            standings.errors += 1;
            json!({ "error": { "at": format!("{at}{}{}", if at.is_empty() || error.at.is_empty() { "" } else { "." }, error.at), "message": error.message } })
        }
        Ok(worked) => {
            let any = |standing| worked.findings.iter().any(|f| f.standing == standing);
            if any(Standing::PastLimit) {
                standings.past_limit += 1;
            } else if any(Standing::NotKnown) {
                standings.not_known += 1;
            }
            let of_findings = worked.findings.iter().filter(|f| !f.working.is_empty()).map(|f| {
                let lines = write::working(&f.working, units);
                json!({ "code": f.code, "subject": f.subject.to_string(), "lines": lines })
            });
            let alone = worked.working.iter().map(|w| json!({ "lines": write::working(w, units) }));
            let working: Value = of_findings.chain(alone).collect();
            json!({
                "result": worked.result,
                "findings": worked.findings.iter().map(|f| write::finding(f, units)).collect::<Value>(),
                "working": working,
            })
        }
    }
}
