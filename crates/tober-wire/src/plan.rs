//! Writes a plan as JSON.

use crate::write::{amount, finding, standing};
use serde_json::{Value, json};
use tober_plan::{Grain, Held, LegPlan, Plan, PlanLayer, Way, WayDoing, WayStep};
use tober_quantity::{Mass, Quantity, Shown, UnitSet};

/// A plan, whole, with every finding and its working.
pub fn plan(plan: &Plan) -> Value {
    let units = plan.units;
    json!({
        "format": 0,
        "name": plan.name,
        "ride": plan.ride,
        "pitch": plan.pitch,
        "visit": plan.visit,
        "invented": plan.invented,
        "units": units.name(),
        "words": plan.words.name(),
        "standing": standing(plan.standing),
        "legs": plan.legs.iter().map(|l| leg(l, units)).collect::<Value>(),
        "way": plan.way.as_ref().map(|w| way(w, units)),
        "kit": plan.kit_left.iter().map(|left| json!({
            "board": left.board, "held": left.held, "used": left.used,
        })).collect::<Value>(),
        "assumed": plan.assumed,
        "cures": plan.cures,
        "cautions": plan.cautions,
        "findings": plan.findings.iter().map(|f| finding(f, units)).collect::<Value>(),
    })
}

fn load(mass: Mass, units: UnitSet) -> Value {
    amount(mass.amount().shown(Shown::Load), units)
}

/// Lengths above the ground beside the hitch jack; screws by how far they are out.
fn way(way: &Way, units: UnitSet) -> Value {
    let length = |length: tober_quantity::Length| amount(length.amount(), units);
    let step = |step: &WayStep| {
        let mut one = match &step.doing {
            WayDoing::Jack { up, height, least, most } => json!({
                "do": if *up { "jack up" } else { "jack down" },
                "height": length(*height), "least": length(*least), "most": length(*most),
            }),
            WayDoing::Set { leg, work, clear, screw_out, turns } => json!({
                "do": "set", "leg": leg, "work": work,
                "clear": length(*clear), "screw_out": screw_out.map(length), "turns": turns,
            }),
            WayDoing::Wind { leg, screw_out, turns } => {
                json!({ "do": "wind", "leg": leg, "screw_out": length(*screw_out), "turns": turns })
            }
            WayDoing::Off => json!({ "do": "jack off" }),
        };
        if let Some(object) = one.as_object_mut() {
            object.insert("jack_load".into(), load(step.jack_load, units));
            object.insert("wheels_come_free".into(), step.wheels_come_free.into());
        }
        one
    };
    json!({
        "jack_packing": length(way.jack_packing),
        "in_book_order": way.in_book_order,
        "differs_from_practice": way.differs,
        "steps": way.steps.iter().map(step).collect::<Value>(),
    })
}

pub(crate) fn leg(leg: &LegPlan, units: UnitSet) -> Value {
    let length = |length: tober_quantity::Length| amount(length.amount(), units);
    json!({
        "name": leg.name,
        "short": leg.short,
        "order": leg.order,
        "standing": standing(leg.standing),
        "held": held(&leg.held, units),
        "layers": leg.layers.iter().map(|l| layer(l, units)).collect::<Value>(),
        "stack": length(leg.stack),
        "lift": length(leg.lift),
        "ground": leg.ground.map(length),
        "ground_deviation": leg.ground_deviation.map(length),
        "residual": length(leg.residual),
        "load": leg.load.map(|(low, high)| json!({ "low": load(low, units), "high": load(high, units) })),
        "rated": leg.rated.map(|rated| load(rated, units)),
        "remarks": leg.remarks.iter().map(|remark| json!({
            "text": remark.text, "standing": standing(remark.standing),
        })).collect::<Value>(),
    })
}

pub(crate) fn held(held: &Held, units: UnitSet) -> Value {
    match held {
        Held::Hole { number, of, pitch } => json!({
            "by": "hole", "number": number, "of": of, "pitch": amount(pitch.amount(), units),
        }),
        Held::Screw { extension, travel, thread } => json!({
            "by": "screw",
            "extension": amount(extension.amount(), units),
            "travel": amount(travel.amount(), units),
            "thread_pitch": thread.map(|thread| amount(thread.amount(), units)),
            "turns": tober_plan::turns(*extension, *thread),
        }),
    }
}

fn layer(layer: &PlanLayer, units: UnitSet) -> Value {
    json!({
        "board": layer.board,
        "thickness": amount(layer.thickness.amount(), units),
        "grain": match layer.grain { Grain::Along => "along", Grain::Across => "across" },
        "side_by_side": layer.side_by_side,
        "thin": layer.thin,
    })
}
