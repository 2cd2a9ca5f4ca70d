//! `tober calc orders`: the greatest and the least value over every order that the rules admit; plain numbers, any unit.
//!
//! A stage is a set of steps done that holds, with each step, everything it stands `after`. A quantity is worth `base` and the
//! weights of the steps done; a step that is not named under `weights` weighs 0. A step named under `peaks` may also be under way,
//! begun and not done, and then counts its peak instead; `max_under_way` and `min_under_way` stand in the answer where
//! `peaks` stand in the question.
//!
//! Weights are made whole by one power of two, so the search is exact (as long as the finest digit is not 2^112 below the largest
//! number; where it is, `exact` is false and `within` says how much better another stage could be). `max` and `min` are `base` and then,
//! in the order of `steps`, the weight of each step done. `max_stage` and `min_stage` are of the fewest steps that reach the value, in an
//! order that the rules admit. `tober-fit` checks both with its own sums before they are printed.
//!
//! ```json
//! { "steps": [{ "id": "s0" }, { "id": "s1", "after": ["s0"] }],
//!   "quantities": [{ "name": "q", "base": 0.0, "weights": { "s1": 1.5, "s0": -0.5 }, "peaks": { "s1": 4.0 } }] }
//! ```

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use tober_book::nearest;
use tober_calc::orders::{Floating, Precedence, StepSet, Whole, WideExtreme, greatest_wide, least_wide};
use tober_fit::orders as fit;

/// The most steps of a question.
const STEPS_MOST: usize = 2000;
/// The most entries of a message's list.
const NAMED_MOST: usize = 12;

struct Steps<'a> {
    ids: Vec<&'a str>,
    numbers: BTreeMap<&'a str, usize>,
    after: Vec<Vec<usize>>,
    precedence: Precedence,
}

fn listed(ids: &[&str]) -> String {
    let more = if ids.len() > NAMED_MOST { ", …" } else { "" };
    format!(
        "{}{more}",
        ids.iter().take(NAMED_MOST).map(|id| format!("`{id}`")).collect::<Vec<_>>().join(", ")
    )
}

impl<'a> Steps<'a> {
    fn number(&self, id: &str, at: &Field<'_>) -> Read<usize> {
        number(&self.ids, &self.numbers, id, at)
    }

    fn read(field: &Field<'a>) -> Read<Self> {
        let list = field.list()?;
        if list.len() > STEPS_MOST {
            return Err(
                field.error(format!("{} steps stand here; at most {STEPS_MOST} are worked.", list.len()))
            );
        }
        let mut ids = Vec::new();
        let mut numbers = BTreeMap::new();
        for (i, step) in list.iter().enumerate() {
            step.only(&["id", "after"])?;
            let id = step.get("id")?;
            let text = id.text()?;
            if let Some(first) = numbers.insert(text, i) {
                return Err(id.error(format!(
                    "`{text}` is the id of steps[{first}] already; each step wants an id of its own."
                )));
            }
            ids.push(text);
        }
        let after = |step: &Field<'a>| -> Read<Vec<usize>> {
            let Some(after) = step.maybe("after")? else { return Ok(Vec::new()) };
            after.list()?.iter().map(|first| number(&ids, &numbers, first.text()?, first)).collect()
        };
        let after = list.iter().map(after).collect::<Read<Vec<_>>>()?;
        let precedence = Precedence::new(&after).map_err(|circle| {
            let mut names: Vec<String> = circle
                .iter()
                .take(NAMED_MOST)
                .filter_map(|&step| ids.get(step))
                .map(|id| format!("`{id}`"))
                .collect();
            if circle.len() > NAMED_MOST {
                names.push("…".into());
            }
            names.extend(names.first().cloned());
            field.error(format!(
                "the rules close a circle: {}. Take one of these rules out.",
                names.join(" before ")
            ))
        })?;
        Ok(Self { ids, numbers, after, precedence })
    }

    fn names(&self, steps: impl IntoIterator<Item = usize>) -> Value {
        steps.into_iter().filter_map(|step| self.ids.get(step).copied()).map(Value::from).collect()
    }
}

fn number(ids: &[&str], numbers: &BTreeMap<&str, usize>, id: &str, at: &Field<'_>) -> Read<usize> {
    numbers.get(id).copied().ok_or_else(|| {
        let meant = nearest(id, ids).map_or(String::new(), |near| format!(" Did you mean `{near}`?"));
        let there = if ids.is_empty() {
            "There are no steps".to_owned()
        } else {
            format!("The steps are {}", listed(ids))
        };
        at.error(format!("`{id}` is the id of no step.{meant} {there}."))
    })
}

struct Quantity<'a> {
    name: &'a str,
    tally: Floating,
    peaks: bool,
}

fn quantity<'a>(steps: &Steps<'a>, field: &Field<'a>) -> Read<Quantity<'a>> {
    field.only(&["name", "base", "weights", "peaks"])?;
    let len = steps.ids.len();
    let mut change = vec![0.0; len];
    for (id, weight) in field.get("weights")?.entries()? {
        change[steps.number(id, &weight)?] = weight.number()?;
    }
    let peaks = field.maybe("peaks")?;
    let mut peak = Vec::new();
    if let Some(peaks) = &peaks {
        peak.resize(len, None);
        for (id, height) in peaks.entries()? {
            peak[steps.number(id, &height)?] = Some(height.number()?);
        }
    }
    let tally = Floating { start: field.get("base")?.number()?, change, peak };
    let together = tally.start.abs()
        + tally.change.iter().map(|change| change.abs()).sum::<f64>()
        + tally.peak.iter().filter_map(|peak| peak.map(f64::abs)).sum::<f64>();
    if !together.is_finite() {
        return Err(field.error(
            "the base, weights and peaks without their signs add up to more than a number can hold (1.8e308); smaller numbers, in a larger unit, are wanted.",
        ));
    }
    Ok(Quantity { name: field.get("name")?.text()?, tally, peaks: peaks.is_some() })
}

/// Works one question of orders.
pub(super) fn work(field: &Field<'_>) -> Result<Worked, DoorError> {
    field.only(&["id", "steps", "quantities"])?;
    let steps = Steps::read(&field.get("steps")?)?;
    let each = |field: &Field<'_>| extremes(&steps, field);
    let quantities = field.get("quantities")?.list()?.iter().map(each).collect::<Read<Value>>()?;
    Ok(Worked { result: json!({ "quantities": quantities }), findings: Vec::new(), working: Vec::new() })
}

fn extremes(steps: &Steps<'_>, field: &Field<'_>) -> Read<Value> {
    let quantity = quantity(steps, field)?;
    let whole = quantity.tally.whole();
    let none = StepSet::none(steps.ids.len());
    let mut written = Map::new();
    written.insert("name".into(), quantity.name.into());
    let sides = [
        ("max", greatest_wide(&steps.precedence, &whole.tally, &none, &none), fit::Side::Greatest),
        ("min", least_wide(&steps.precedence, &whole.tally, &none, &none), fit::Side::Least),
    ];
    for (key, found, side) in sides {
        // No step is held, so the stage at which nothing is done is always there.
        let found =
            found.ok_or_else(|| field.error("no stage was found, which is a fault of this program."))?;
        checked(steps, &whole, &found, side).map_err(|refusal| {
            field.error(format!("the answer found did not pass its check and is not given: {refusal}"))
        })?;
        written.insert(key.into(), quantity.tally.value(&found.stage, &found.under_way).into());
        written.insert(format!("{key}_stage"), steps.names(steps.precedence.an_order(&found.stage)));
        if quantity.peaks {
            written.insert(format!("{key}_under_way"), steps.names(found.under_way.iter()));
        }
    }
    if whole.rounded {
        // Each entry is off by half a unit at most, on either side of a comparison.
        let entries = 1 + quantity.tally.change.len() + quantity.tally.peak.len();
        written.insert("exact".into(), false.into());
        written.insert(
            "within".into(),
            (entries as f64 * tober_quantity::maths::pow(2.0, whole.exponent.into())).into(),
        );
    }
    Ok(written.into())
}

fn checked(
    steps: &Steps<'_>,
    whole: &Whole,
    found: &WideExtreme,
    side: fit::Side,
) -> Result<(), fit::Refusal> {
    let question = fit::Question {
        after: steps.after.clone(),
        start: whole.tally.start,
        change: whole.tally.change.clone(),
        peak: whole.tally.peak.clone(),
        done: Vec::new(),
        open: Vec::new(),
        side,
    };
    let moved = found.proof.moved.iter();
    let claim = fit::Claim {
        value: found.value,
        done: found.stage.iter().collect(),
        under_way: found.under_way.iter().collect(),
        moved: moved.map(|m| fit::Moved { from: m.from, to: m.to, amount: m.amount }).collect(),
    };
    fit::check(&question, &claim)
}
