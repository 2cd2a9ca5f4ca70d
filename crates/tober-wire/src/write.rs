//! Writes findings and their working as JSON.

use serde_json::{Map, Value, json};
use tober_calc::finding::{Finding, Measure, Override, Proof, Sense, Standing, Subject};
use tober_calc::working::Working;
use tober_quantity::{Amount, UnitSet};

/// A standing as one word.
pub fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Inside => "inside",
        Standing::Close => "close",
        Standing::PastLimit => "past-limit",
        Standing::NotKnown => "not-known",
    }
}

/// An amount in the unit in which it is shown, with its SI value beside it.
pub fn amount(amount: Amount, units: UnitSet) -> Value {
    let unit = amount.shown.unit(units);
    json!({ "value": amount.si / unit.factor, "unit": unit.symbol, "si": amount.si })
}

fn subject(subject: &Subject) -> Value {
    let kind = match subject {
        Subject::Ride => "ride",
        Subject::Frame => "frame",
        Subject::Support(_) => "support",
        Subject::Body(_) => "body",
        Subject::Board(_) => "board",
        Subject::Pitch => "pitch",
        Subject::Reading(_) => "reading",
        Subject::Step(_) => "step",
        Subject::Case(_) => "case",
    };
    json!({ "kind": kind, "name": subject.to_string() })
}

fn measure(measure: &Measure, units: UnitSet, into: &mut Map<String, Value>) {
    match measure {
        Measure::AgainstLimit { low, high, limit, sense } => {
            into.insert("low".into(), amount(*low, units));
            into.insert("high".into(), amount(*high, units));
            into.insert("limit".into(), amount(*limit, units));
            let sense = match sense {
                Sense::AtMost => "at-most",
                Sense::AtLeast => "at-least",
            };
            into.insert("sense".into(), sense.into());
        }
        Measure::Figure { low, high } => {
            into.insert("low".into(), amount(*low, units));
            into.insert("high".into(), amount(*high, units));
        }
        Measure::Statement { holds } => {
            into.insert("holds".into(), json!(holds));
        }
        Measure::Nothing => {}
    }
}

fn proof(proof: &Proof) -> Value {
    match proof {
        Proof::Proved => json!({ "kind": "proved" }),
        Proof::Bounded { bound } => json!({ "kind": "bounded", "bound": bound }),
        Proof::Refuted { counterexample } => json!({ "kind": "refuted", "counterexample": counterexample }),
        Proof::NotReached { best } => json!({ "kind": "not-reached", "best": best }),
    }
}

/// One finding.
pub fn finding(finding: &Finding, units: UnitSet) -> Value {
    let mut out = Map::new();
    out.insert("code".into(), finding.code.into());
    out.insert("subject".into(), subject(&finding.subject));
    out.insert("title".into(), finding.title.clone().into());
    out.insert("standing".into(), standing(finding.standing).into());
    if let Some(share) = finding.share() {
        out.insert("share_percent".into(), share.into());
    }
    measure(&finding.measure, units, &mut out);
    if let Some(p) = &finding.proof {
        out.insert("proof".into(), proof(p));
    }
    let overriding = match finding.overriding {
        Override::Never => "never",
        Override::ChiefWithReason => "chief-with-reason",
    };
    out.insert("override".into(), overriding.into());
    out.insert("basis".into(), finding.basis.iter().map(ToString::to_string).collect());
    for (key, sentences) in
        [("unknown", &finding.unknown), ("advice", &finding.advice), ("notes", &finding.notes)]
    {
        if !sentences.is_empty() {
            out.insert(key.into(), sentences.iter().cloned().collect());
        }
    }
    let inputs = finding.working.inputs().into_iter().map(|input| {
        json!({
            "symbol": input.symbol,
            "meaning": input.meaning,
            "amount": amount(input.amount, units),
            "from": input.provenance.to_string(),
        })
    });
    out.insert("inputs".into(), inputs.collect());
    out.insert("working".into(), working(&finding.working, units));
    Value::Object(out)
}

/// The lines of a working.
pub fn working(working: &Working, units: UnitSet) -> Value {
    let line = |line: tober_calc::working::PrintedLine| {
        let mut out = Map::new();
        out.insert("meaning".into(), line.meaning.into());
        out.insert("symbols".into(), line.symbols.into());
        if !line.numbers.is_empty() {
            out.insert("numbers".into(), line.numbers.into());
        }
        out.insert("result".into(), line.result.into());
        if !line.from.is_empty() {
            out.insert("from".into(), line.from.into());
        }
        Value::Object(out)
    };
    working.print(units).into_iter().map(line).collect()
}
