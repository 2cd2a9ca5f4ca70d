//! `tober calc hand-lift`: a lift by people's hands, by the revised NIOSH lifting equation; metres, kilogrammes, degrees, minutes.
//!
//! ```json
//! { "id": "panel", "mass_kg": 30, "mass_off_by_kg": 1, "people": 2, "reach_m": 0.4, "height_m": 0.6, "twist_deg": 0,
//!   "reach_last_m": 0.4, "height_last_m": 0.9, "twist_last_deg": 0, "travel_m": 0.3, "put_down_with_care": true,
//!   "lifts_per_minute": 0.2, "during_min": 40, "rest_min": 40, "grip": "fair", "outside": ["nothing"],
//!   "most_each_kg": 12, "measures": "metric" }
//! ```
//!
//! `people`, `outside` and `most_each_kg` may be left out, and what rests on them is then not known. `outside` lists what takes the lift out
//! of the equation's scope, and `["nothing"]` says that each was looked at. `rest_min` left out counts as no rest; the `_last` fields, where
//! the hands end, are those of the beginning; `travel_m` is the way between both heights; `put_down_with_care` is true: then the end is
//! worked too. `measures` (`"metric"`, `"us"`) says in which of its two systems the equation is worked. The answer has its factors at
//! each end (`HM` to `CM`, `RWL_kg`, and `LI`, the mass over it), what the team may take together, and how many it takes.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::finding::Subject;
use tober_calc::lift::{
    ByHand, Grip, Hands, Lasting, LiftError, Measures, OUTSIDE, Recommended, Scope, Task, by_hand,
    people_needed, recommended, team,
};
use tober_calc::working::Provenance;
use tober_quantity::{Angle, Length, Mass, Time, Toleranced};

/// Works one question of a lift by hand.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    question.only(&[
        "id",
        "mass_kg",
        "mass_off_by_kg",
        "people",
        "reach_m",
        "height_m",
        "twist_deg",
        "reach_last_m",
        "height_last_m",
        "twist_last_deg",
        "travel_m",
        "put_down_with_care",
        "lifts_per_minute",
        "during_min",
        "rest_min",
        "grip",
        "outside",
        "most_each_kg",
        "measures",
        "expected",
    ])?;
    let maybe = |key: &str| question.maybe(key)?.map(|f| f.number()).transpose();
    let mass = Toleranced {
        value: Mass::kg(question.get("mass_kg")?.number()?),
        off_by: Mass::kg(maybe("mass_off_by_kg")?.unwrap_or(0.0)),
    };
    let people = question.maybe("people")?.map(|f| f.whole(1, 50)).transpose()?;
    let people = people.and_then(|n| u32::try_from(n).ok());
    let task = task(question)?;
    let lift = ByHand {
        mass,
        mass_from: Provenance::chosen("as given in the question"),
        people,
        task: Ok(task),
        scope: scope(question)?,
        most_each: maybe("most_each_kg")?.map(Mass::kg),
    };
    let name = question.maybe("id")?.map_or(Ok("load"), |f| f.text())?;
    let refused = |error: LiftError| refused(question, &error);
    let found = recommended(&task).map_err(refused)?;
    let findings = by_hand(&Subject::Case(name.to_owned()), &lift).map_err(refused)?;
    Ok(Worked { result: result(&task, &lift, &found), findings, working: Vec::new() })
}

fn task(question: &Field<'_>) -> Read<Task> {
    let number = |key: &str| question.get(key)?.number();
    let or = |key: &str, other: f64| question.maybe(key)?.map_or(Ok(other), |f| f.number());
    let truth = |key: &str| question.maybe(key)?.map_or(Ok(true), |f| f.truth());
    let hands = |reach: f64, height: f64, twist: f64| Hands {
        reach: Length::m(reach),
        height: Length::m(height),
        twist: Angle::deg(twist),
    };
    let (reach, height, twist) = (number("reach_m")?, number("height_m")?, or("twist_deg", 0.0)?);
    let height_last = or("height_last_m", height)?;
    let last = hands(or("reach_last_m", reach)?, height_last, or("twist_last_deg", twist)?);
    let during = Time::min_(number("during_min")?);
    let rest = question.maybe("rest_min")?.map(|f| f.number().map(Time::min_)).transpose()?;
    let Some(lasting) = Lasting::of(during, rest) else {
        let field = question.get("during_min")?;
        return Err(field.error(
            "The lifting goes on for 480 minutes at the most; over that the equation does not apply.",
        ));
    };
    let grips = [("good", Grip::Good), ("fair", Grip::Fair), ("poor", Grip::Poor)];
    let measures = [("metric", Measures::Metric), ("us", Measures::Us)];
    Ok(Task {
        first: hands(reach, height, twist),
        last: truth("put_down_with_care")?.then_some(last),
        travel: Length::m(or("travel_m", (height_last - height).abs())?),
        each_minute: number("lifts_per_minute")?,
        lasting,
        grip: question.get("grip")?.choice(&grips)?,
        measures: question.maybe("measures")?.map_or(Ok(Measures::Metric), |f| f.choice(&measures))?,
    })
}

fn scope(question: &Field<'_>) -> Read<Scope> {
    let Some(outside) = question.maybe("outside")? else { return Ok(Scope::NotTold) };
    let words: Vec<(&str, &str)> = ["nothing"].iter().chain(OUTSIDE).map(|word| (*word, *word)).collect();
    let each = outside.list()?;
    let mut said = Vec::new();
    for word in &each {
        said.push(word.choice(&words)?);
    }
    match said.as_slice() {
        [] => Ok(Scope::NotTold),
        ["nothing"] => Ok(Scope::Inside),
        _ if said.contains(&"nothing") => {
            Err(outside.error("\"nothing\" stands alone: leave it out, or what stands beside it."))
        }
        _ => Ok(Scope::Outside(said.into_iter().map(str::to_owned).collect())),
    }
}

/// The refusal at the field that it is about.
fn refused(question: &Field<'_>, error: &LiftError) -> DoorError {
    let mut refused = question.error(error.to_string());
    if let Some(field) = error.field() {
        field.clone_into(&mut refused.at);
    }
    refused
}

fn result(task: &Task, lift: &ByHand, found: &[Recommended]) -> Value {
    let mass_kg = lift.mass.value.as_kg();
    let one = |(at, (place, hands)): (&Recommended, (&str, Hands))| {
        let rwl = at.mass.as_kg();
        json!({
            "at": place, "HM": at.hm, "VM": at.vm, "DM": at.dm, "AM": at.am, "FM": at.fm, "CM": at.cm,
            "RWL_kg": rwl, "LI": (rwl > 0.0).then(|| mass_kg / rwl), "beyond": task.beyond(hands),
        })
    };
    let least = found.iter().map(|at| at.mass).reduce(Mass::min).unwrap_or(Mass::ZERO);
    json!({
        "ends": found.iter().zip(task.ends()).map(one).collect::<Value>(),
        "RWL_kg": least.as_kg(),
        "together_kg": lift.people.and_then(team).map(|times| times * least.as_kg()),
        "people_needed": people_needed(lift.mass.high(), least),
    })
}
