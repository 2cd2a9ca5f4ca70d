//! Writes what every order of the steps says as JSON.

use crate::write::finding;
use serde_json::{Value, json};
use tober_plan::EveryOrder;
use tober_procedure::{Claim, Cure, Verdict};
use tober_quantity::UnitSet;

/// What every order of the steps says: claims that do not hold or are not known, how many were proved, findings, hold
/// points, homes.
pub fn every_order(every: &EveryOrder, units: UnitSet) -> Value {
    let proved = every.proofs.claims.iter().filter(|claim| matches!(claim.verdict, Verdict::Proved)).count();
    let rest = every.proofs.claims.iter().filter(|claim| !matches!(claim.verdict, Verdict::Proved));
    json!({
        "proved": proved,
        "claims": rest.map(claim).collect::<Value>(),
        "findings": every.findings.iter().map(|f| finding(f, units)).collect::<Value>(),
        "hold_points": every.hold_points.iter().map(|point| json!({
            "step": point.step, "looks_at": point.looks_at,
        })).collect::<Value>(),
        "homes": every.homes.iter().map(|home| json!({
            "fixing": home.fixing, "home": home.home, "fastens": home.fastens,
            "on_the_road": home.on_the_road, "open": home.open,
        })).collect::<Value>(),
        "people": every.people.iter().map(|(step, people)| json!({ "step": step, "people": people })).collect::<Vec<_>>(),
        "most_people": every.most_people.as_ref().map(|(most, steps)| json!({ "people": most, "steps": steps })),
        "no_easy_return": every.no_easy_return.iter().map(|(step, why)| json!({ "step": step, "why": why })).collect::<Value>(),
    })
}

fn claim(claim: &Claim) -> Value {
    let mut one = json!({ "rule": claim.rule.words(), "subject": claim.subject });
    let more = match &claim.verdict {
        Verdict::Proved => json!({ "verdict": "proved" }),
        Verdict::NotKnown(why) => json!({ "verdict": "not known", "missing": why }),
        Verdict::Refuted(refutation) => json!({
            "verdict": "refuted",
            "says": refutation.says,
            "done": refutation.done.iter().map(|told| &told.step).collect::<Vec<_>>(),
            "begun": refutation.begun,
            "cure": match &refutation.cure {
                Cure::Rules { rules, fewest } => json!({
                    "rules": rules.iter().map(|(first, waits)| json!({ "step": waits, "after": first })).collect::<Value>(),
                    "fewest": fewest,
                }),
                Cure::NoOrder | Cure::Open => Value::Null,
            },
        }),
    };
    if let (Some(one), Value::Object(more)) = (one.as_object_mut(), more) {
        one.extend(more);
    }
    one
}
