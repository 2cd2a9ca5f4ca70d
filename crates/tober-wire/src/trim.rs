//! Writes a trim as JSON.

use crate::plan::leg as leg_plan;
use crate::write::{amount, finding, standing};
use serde_json::{Value, json};
use tober_plan::{Foot, LegChange, Stood, Trim, TrimLeg};
use tober_quantity::{Length, Quantity, Shown, Slope, UnitSet};

/// A trim, whole, with every finding and its working.
pub fn trim(trim: &Trim) -> Value {
    let units = trim.units;
    let length = |length: Length| amount(length.amount().shown(Shown::Finest), units);
    let slope = |slope: Slope| amount(slope.amount(), units);
    let after = trim.after.as_ref().map(|after| {
        json!({
            "standing": standing(after.standing),
            "level_along": after.level_along.map(slope),
            "level_across": after.level_across.map(slope),
            "legs": after.legs.iter().map(|leg| json!({
                "name": leg.name, "height": leg.height.map(length), "miss": length(leg.miss),
            })).collect::<Value>(),
            "findings": after.findings.iter().map(|f| finding(f, units)).collect::<Value>(),
        })
    });
    json!({
        "format": 0,
        "units": units.name(),
        "words": trim.words.name(),
        "standing": standing(trim.standing),
        "next": trim.next,
        "proof": trim.proof,
        "cures": trim.cures,
        "level_along": trim.level_along.map(slope),
        "level_across": trim.level_across.map(slope),
        "legs": trim.legs.iter().map(|l| leg(l, units)).collect::<Value>(),
        "change": trim.change.iter().map(|c| change(c, units)).collect::<Value>(),
        "after": after,
        "stood": trim.stood.iter().map(|s| stood(s, units)).collect::<Value>(),
        "loads": trim.loads.iter().map(|f| finding(f, units)).collect::<Value>(),
        "findings": trim.findings.iter().map(|f| finding(f, units)).collect::<Value>(),
    })
}

fn leg(leg: &TrimLeg, units: UnitSet) -> Value {
    let length = |length: Length| amount(length.amount().shown(Shown::Finest), units);
    let foot = leg.foot.map(|foot| match foot {
        Foot::Snug => json!({ "foot": "snug" }),
        Foot::Light { gap } => json!({ "foot": "light", "gap": gap.map(length) }),
    });
    let mass = |mass: tober_quantity::Mass| amount(mass.amount().shown(Shown::Load), units);
    let load = leg.load.map(|(low, high)| json!({ "low": mass(low), "high": mass(high) }));
    json!({
        "name": leg.name,
        "short": leg.short,
        "height": leg.height.map(length),
        "miss": leg.miss.map(length),
        "foot": foot,
        "load": load,
        "standing": standing(leg.standing),
    })
}

fn change(change: &LegChange, units: UnitSet) -> Value {
    json!({
        "leg": change.leg,
        "short": change.short,
        "words": change.words,
        "sum": change.sum,
        "up": amount(change.up.amount().shown(Shown::Finest), units),
        "boards_handled": change.handled,
        "steps": change.steps,
        "from": leg_plan(&change.from, units),
        "to": leg_plan(&change.to, units),
    })
}

fn stood(stood: &Stood, units: UnitSet) -> Value {
    json!({ "leg": stood.leg, "held": crate::plan::held(&stood.held, units), "layers": stood.layers })
}
