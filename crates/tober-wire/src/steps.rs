//! Writes what every order of the steps says as JSON.

use crate::write::{finding, standing};
use serde_json::{Value, json};
use tober_plan::{EveryOrder, LiftOfStep, OffBy, RidersOff, standing_of};
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
            "step": point.step, "looks_at": point.looks_at, "must_be": point.must_be, "readings": point.readings,
            "counts": point.counts.iter().map(|(fixing, home, count)| json!({
                "fixing": fixing, "home": home, "count": count,
            })).collect::<Value>(),
        })).collect::<Value>(),
        "homes": every.homes.iter().map(|home| json!({
            "fixing": home.fixing, "home": home.home, "fastens": home.fastens,
            "on_the_road": home.on_the_road, "open": home.open,
        })).collect::<Value>(),
        "people": every.people.iter().map(|(step, people)| json!({ "step": step, "people": people })).collect::<Vec<_>>(),
        "most_people": every.most_people.as_ref().map(|(most, steps)| json!({ "people": most, "steps": steps })),
        "looked_at": every.looked_at.iter().map(|(when, items)| json!({ "when": when, "items": items })).collect::<Value>(),
        "riders_off": every.riders_off.as_ref().map(|riders| riders_off(riders, units)),
        "no_easy_return": every.no_easy_return.iter().map(|(step, why)| json!({ "step": step, "why": why })).collect::<Value>(),
    })
}

fn riders_off(riders: &RidersOff, units: UnitSet) -> Value {
    let way = |way: &OffBy| {
        let name = |seat: usize| way.seats.get(seat);
        json!({
            "way": way.way, "people": way.people, "turned_by_hand": way.turned, "one_by_one": way.one_by_one,
            "time_s": way.time.map(tober_quantity::Time::as_s),
            "off": way.answer.order.iter().map(|off| json!({
                "seat": name(off.seat), "riders": off.riders.len(), "turn_deg": off.turn.as_deg(),
                "out_of_balance_N_m": off.out_of_balance.as_nm(),
            })).collect::<Value>(),
            "greatest_N_m": way.answer.greatest.as_nm(),
            "allowed_N_m": way.allowed.map(tober_quantity::Moment::as_nm),
            "turns": way.answer.turns, "proved": way.answer.proved(),
            "left": way.answer.left.iter().filter_map(|(seat, _)| name(*seat)).collect::<Vec<_>>(),
            "seat_by_seat": way.naive_findings.iter().map(|f| finding(f, units)).collect::<Value>(),
        })
    };
    json!({
        "ways": riders.ways.iter().map(way).collect::<Value>(),
        "findings": riders.findings.iter().map(|f| finding(f, units)).collect::<Value>(),
        "brake_release": riders.brake_release, "stored_energy": riders.stored_energy,
    })
}

/// The lifts of the steps, each with its standing and its findings.
pub fn lifts(all: &[LiftOfStep], units: UnitSet) -> Value {
    let one = |lift: &LiftOfStep| {
        json!({
            "step": lift.step,
            "title": lift.title,
            "by": if lift.by_winch { "winch" } else { "hand" },
            "takes_back": lift.takes_back,
            "standing": standing(standing_of(lift)),
            "findings": lift.findings.iter().map(|f| finding(f, units)).collect::<Value>(),
        })
    };
    all.iter().map(one).collect()
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
