//! `tober calc chance`: the packing question with its planned seats, and what may come out other than planned.
//!
//! Beside the fields of a packing question: `seats_01mm`, one whole number a leg; `causes`, each with `name`, `moves_01mm` (what
//! one deviation of it does at each leg) and, where it can be read again, `left` (the share of it that is then left)
//! with `again` (what to do, as the start of a sentence); and `shift_01mm`, where seats are expected to come out elsewhere.

use super::Worked;
use super::packing::{problem, tenths};
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::packing::chance::{Cause, Counted, Doubts, chance, finding};
use tober_quantity::Length;

fn lengths(field: &Field<'_>) -> Read<Vec<Length>> {
    field.list()?.iter().map(|each| each.number().map(|tenth| Length::mm(tenth / 10.0))).collect()
}

fn cause(field: &Field<'_>) -> Read<Cause> {
    field.only(&["name", "moves_01mm", "left", "again"])?;
    let again = field.maybe("again")?.map_or(Ok(""), |again| again.text())?;
    Ok(Cause {
        name: field.get("name")?.text()?.to_owned(),
        moves: lengths(&field.get("moves_01mm")?)?,
        again: again.to_owned(),
        left: field.maybe("left")?.map(|left| left.number()).transpose()?,
    })
}

/// Works one chance.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    let problem = problem(question)?;
    let seats: Vec<_> = question.get("seats_01mm")?.list()?.iter().map(tenths).collect::<Read<_>>()?;
    let none = vec![Length::ZERO; seats.len()];
    let doubts = Doubts {
        shift: question.maybe("shift_01mm")?.map_or(Ok(none), |shift| lengths(&shift))?,
        causes: question.get("causes")?.list()?.iter().map(cause).collect::<Read<_>>()?,
    };
    let found = chance(&problem, &seats, &doubts).map_err(|error| question.error(error.to_string()))?;
    // Seats that are expected to come out elsewhere do so as the ground gives.
    let counted = if question.maybe("shift_01mm")?.is_some() { Counted::Ground } else { Counted::Readings };
    let name = |leg: &usize| problem.supports[*leg].name.as_str();
    let result = json!({
        "chance": found.chance,
        "off_by": found.off_by,
        "at_least": found.at_least,
        "at_most": found.at_most,
        "weakest": { "legs": found.weakest.0.iter().map(name).collect::<Value>(), "chance_out": found.weakest.1 },
        "raises": found.raises.iter().map(|raise| json!({
            "cause": doubts.causes[raise.cause].name, "chance": raise.chance,
        })).collect::<Value>(),
    });
    Ok(Worked { result, findings: vec![finding(&problem, &doubts, &found, counted)], working: Vec::new() })
}
