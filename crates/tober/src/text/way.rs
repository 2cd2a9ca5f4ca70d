//! The way onto the legs, as the crew does it.

use core::fmt::Write;
use tober_plan::{Plan, WayDoing, WayStep};
use tober_quantity::{Length, Quantity, Rounding, Shown, UnitSet};

fn fine(length: Length, units: UnitSet) -> String {
    length.amount().print(units, Rounding::Nearest)
}

/// Heights to a quarter of an inch are too coarse to wind a jack to, so they print as finely as a tape shows.
fn finest(length: Length, units: UnitSet) -> String {
    length.amount().shown(Shown::Short).print(units, Rounding::Nearest)
}

/// How far a screw is out, and in how many turns where they are known.
fn out_by(length: Length, turns: Option<&String>, units: UnitSet) -> String {
    let out = finest(length, units);
    turns.map_or(out.clone(), |turns| format!("{out} ({turns})"))
}

/// Which screw is wound.
fn screw(step: &WayStep) -> Option<&str> {
    match &step.doing {
        WayDoing::Wind { leg, .. } => Some(leg),
        _ => None,
    }
}

/// The way, where there is one; nothing otherwise, since the findings say why.
pub fn way(out: &mut String, plan: &Plan) {
    let Some(way) = &plan.way else { return };
    let units = plan.units;
    let order = if way.in_book_order { "in the order of the book" } else { "NOT in the order of the book" };
    let _ = writeln!(out, "Setting the legs, {order}; wheels chocked all the time, nobody under the frame");
    if way.jack_packing > Length::ZERO {
        let _ = writeln!(out, "     Lay {} of packing under the hitch jack.", fine(way.jack_packing, units));
    }
    let mut number = 0;
    let mut steps = way.steps.iter().peekable();
    while let Some(step) = steps.next() {
        match &step.doing {
            WayDoing::Set { leg, work, clear, screw_out, turns } => {
                let place = match screw_out {
                    Some(screw_out) => {
                        format!(" until it is {} out", out_by(*screw_out, turns.as_ref(), units))
                    }
                    None => String::new(),
                };
                let past = if *clear > Length::ZERO {
                    format!("; the frame is {} past its place", finest(*clear, units))
                } else {
                    String::new()
                };
                let _ = writeln!(out, "     Set {leg}: {work}{place}{past}.");
            }
            _ => {
                number += 1;
                let mut free = step.wheels_come_free;
                let mut line = told(step, units);
                // A round of the screws is one line.
                let mut wound = Vec::from_iter(screw(step));
                let mut round = Vec::from_iter(wound_to(step, units));
                while let Some(leg) = steps.peek().and_then(|next| screw(next))
                    && !wound.is_empty()
                    && !wound.contains(&leg)
                {
                    let Some(next) = steps.next() else { break };
                    round.extend(wound_to(next, units));
                    free |= next.wheels_come_free;
                    wound.push(leg);
                }
                if round.len() > 1 {
                    line = format!("wind each screw in turn until it is out by: {}", round.join(", "));
                }
                let mut letters = line.chars();
                let first = letters.next().map(|first| first.to_uppercase().collect::<String>());
                let _ = writeln!(out, "  {number}  {}{}.", first.unwrap_or_default(), letters.as_str());
                if free {
                    let _ = writeln!(
                        out,
                        "     The wheels carry nothing now and chocks hold nothing: only jack and legs keep the trailer from sliding."
                    );
                }
            }
        }
    }
    if way.pin_above {
        let _ = writeln!(
            out,
            "     A pin on top of a sleeve carries only where the sleeve belongs to the foot: look before you lower onto it."
        );
    }
    if !way.differs.is_empty() {
        let _ = writeln!(
            out,
            "     Other than common practice (no source), rear first with the nose down, then front with the nose up: {}",
            way.differs.join(" ")
        );
    }
    out.push('\n');
}

/// How far a screw is wound: `RL rear left 120 mm (20 1/8 turns)`.
fn wound_to(step: &WayStep, units: UnitSet) -> Option<String> {
    let WayDoing::Wind { leg, screw_out, turns } = &step.doing else { return None };
    Some(format!("{leg} {}", out_by(*screw_out, turns.as_ref(), units)))
}

fn told(step: &WayStep, units: UnitSet) -> String {
    let load = |rounding| step.jack_load.amount().shown(Shown::Load).print(units, rounding);
    match &step.doing {
        WayDoing::Jack { up, height, least, most } => {
            let direction = if *up { "up" } else { "down" };
            format!(
                "wind the hitch jack {direction} until the frame over it is {} above the ground ({} to {} will do); it carries {}",
                finest(*height, units),
                finest(*least, units),
                finest(*most, units),
                load(Rounding::Demand)
            )
        }
        WayDoing::Wind { leg, screw_out, turns } => {
            format!("wind {leg} until it is {} out", out_by(*screw_out, turns.as_ref(), units))
        }
        WayDoing::Off => {
            "wind the hitch jack in until it carries nothing: the frame stands on its legs".to_owned()
        }
        WayDoing::Set { .. } => String::new(),
    }
}
