//! How riders get off a ride that has stopped, and what is looked at and when.

use super::named;
use crate::html::{capital, escape};
use std::fmt::Write;
use tober_plan::OffBy;
use tober_plan::rehearse::Rehearsal;
use tober_quantity::{Quantity, Rounding, UnitSet, WordSet};

/// The way back to the list of steps.
const BACK: &str = "<p class=\"to\"><a href=\"#rehearse\">All steps</a></p>";

pub(super) fn riders(out: &mut String, all: &Rehearsal, units: UnitSet) {
    out.push_str("<section class=\"sheet\" id=\"riders\" aria-labelledby=\"h-riders\"><div class=\"head\"><h2 id=\"h-riders\" tabindex=\"-1\">Getting riders off</h2></div>");
    let Some(riders) = &all.riders else {
        let _ = write!(out, "<p>The book has no seats.</p>{BACK}</section>");
        return;
    };
    out.push_str("<p>It has stopped, every seat full and the riders as heavy as allowed. Talk to them. Isolate, lock off.</p>");
    for finding in riders.findings.iter().filter(|finding| !finding.unknown.is_empty()) {
        let _ = write!(out, "<p class=\"caution\">Not known: {}</p>", escape(&finding.unknown.join(" ")));
    }
    for way in &riders.ways {
        one_way(out, way, units);
    }
    if let Some(brake) = &riders.brake_release {
        let _ = write!(out, "<p><b>Brake.</b> {}</p>", escape(brake));
    }
    if !riders.stored_energy.is_empty() {
        let _ = write!(
            out,
            "<p class=\"caution\"><b>Still stored.</b> {}.</p>",
            escape(&riders.stored_energy.join(", "))
        );
    }
    let _ = write!(out, "{BACK}</section>");
}

fn one_way(out: &mut String, way: &OffBy, units: UnitSet) {
    let name = |seat: usize| escape(way.seats.get(seat).map_or("?", String::as_str));
    let _ = write!(out, "<h3>{}</h3>", escape(&capital(&way.way)));
    if let Some(instruction) = &way.instruction {
        let _ = write!(out, "<p>{}</p>", escape(instruction));
    }
    let _ = write!(
        out,
        "<table><caption>In this order</caption><thead><tr><th scope=\"col\">No.</th>{}<th scope=\"col\">Riders off</th>\
         <th scope=\"col\" class=\"r\">Then out of balance</th></tr></thead><tbody>",
        if way.turned { "<th scope=\"col\">Turn by hand</th>" } else { "" }
    );
    for (number, off) in way.answer.order.iter().enumerate() {
        let turn = off.turn.as_deg().round();
        let turned = match (way.turned, turn == 0.0) {
            (false, _) => String::new(),
            (true, true) => "<td>none</td>".to_owned(),
            (true, false) => format!("<td>{:.0}°</td>", turn.abs()),
        };
        let riders =
            if way.one_by_one { format!(", {} of its riders", off.riders.len()) } else { String::new() };
        let _ = write!(
            out,
            "<tr><td><b>{}</b></td>{turned}<td><b>{}</b>{riders}</td><td class=\"r\">{}</td></tr>",
            number + 1,
            name(off.seat),
            escape(&off.out_of_balance.amount().print(units, Rounding::Demand))
        );
    }
    out.push_str("</tbody></table>");
    let left: Vec<String> = way.answer.left.iter().map(|(seat, _)| name(*seat)).collect();
    if !left.is_empty() {
        let _ = write!(out, "<p class=\"caution\">Not this way: {}. Call for help.</p>", left.join(", "));
    }
    if let (Some((_, Some(past))), Some(allowed)) = (&way.naive, way.allowed) {
        let _ = write!(
            out,
            "<p class=\"caution\">Not seat by seat round from the place: with {} off it is {} out of balance, of {} allowed.</p>",
            name(past.seat),
            escape(&past.out_of_balance.amount().print(units, Rounding::Demand)),
            escape(&allowed.amount().print(units, Rounding::Capacity))
        );
    }
}

pub(super) fn checks(out: &mut String, all: &Rehearsal, words: WordSet) {
    out.push_str("<section class=\"sheet\" id=\"checks\" aria-labelledby=\"h-checks\"><div class=\"head\"><h2 id=\"h-checks\" tabindex=\"-1\">What is looked at, and when</h2></div>");
    let mut whens: Vec<&str> = Vec::new();
    for (_, when, ..) in &all.checks {
        if !whens.contains(&when.as_str()) {
            whens.push(when);
        }
    }
    for when in whens {
        let _ = write!(
            out,
            "<table class=\"looked\"><caption>{}</caption><thead><tr><th scope=\"col\">Look at, signed by</th><th scope=\"col\">Good when</th>\
             </tr></thead><tbody>",
            escape(&capital(when))
        );
        for (item, _, signed, good) in all.checks.iter().filter(|(_, other, ..)| other == when) {
            let signed: Vec<&str> = signed.iter().map(|role| named(*role, words)).collect();
            let _ = write!(
                out,
                "<tr><td>{}<br><span class=\"sub\">{}</span></td><td>{}</td></tr>",
                escape(&capital(item)),
                signed.join(" or "),
                escape(&capital(good))
            );
        }
        out.push_str("</tbody></table>");
    }
    let _ = write!(out, "{BACK}</section>");
}
