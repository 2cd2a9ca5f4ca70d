//! How riders get off when the ride stops where it should not.

use super::{about, line, mark};
use core::fmt::Write;
use tober_calc::finding::{Finding, Standing};
use tober_calc::riders_off::{Answer, WhyLeft};
use tober_plan::{OffBy, RidersOff};
use tober_quantity::{Moment, Quantity, Rounding, UnitSet};

/// The section: findings, then each way as an order to read aloud.
pub fn riders(riders: &RidersOff, units: UnitSet) -> String {
    let mut out =
        String::from("  If it stops with riders aboard, every seat full and as heavy as allowed:\n");
    let worst = |code: &str| {
        let of = riders.findings.iter().filter(|finding| finding.code == code);
        of.max_by_key(|finding| (finding.standing, finding.share()))
    };
    let told = |finding: &&Finding| {
        finding.standing != Standing::Inside
            || worst(finding.code).is_some_and(|worst| core::ptr::eq(worst, *finding))
    };
    for finding in riders.findings.iter().filter(told) {
        let figure = finding.figure(units);
        let figure = if figure.is_empty() { String::new() } else { format!(", {figure}") };
        let _ = writeln!(
            out,
            "      {} {}  {}: {}{figure}.",
            mark(finding.standing),
            finding.standing.word(),
            about(&finding.subject),
            finding.title
        );
        for sentence in finding.unknown.iter().chain(&finding.notes) {
            let _ = writeln!(out, "          {sentence}");
        }
    }
    for way in &riders.ways {
        one(&mut out, way, units);
    }
    if let Some(brake) = &riders.brake_release {
        let _ = writeln!(out, "      Brake: {brake}");
    }
    if !riders.stored_energy.is_empty() {
        let _ = writeln!(out, "      Still stored: {}.", riders.stored_energy.join(", "));
    }
    out
}

fn moment(value: Moment, units: UnitSet) -> String {
    value.amount().print(units, Rounding::Demand)
}

/// The order of a way in one line: who gets off, with the turn before.
pub fn order(way: &OffBy, answer: &Answer) -> String {
    let name = |seat: usize| way.seats.get(seat).map_or("?", String::as_str);
    let each = answer.order.iter().map(|off| {
        let turn = off.turn.as_deg().round();
        let turned =
            if turn == 0.0 || !way.turned { String::new() } else { format!("turn {:.0}°, ", turn.abs()) };
        let riders = match (way.one_by_one, off.riders.len()) {
            (false, _) => String::new(),
            (true, 1) => " (one rider)".to_owned(),
            (true, many) => format!(" ({many} riders)"),
        };
        format!("{turned}{}{riders}", name(off.seat))
    });
    each.collect::<Vec<_>>().join("; ")
}

fn one(out: &mut String, way: &OffBy, units: UnitSet) {
    let people = way.people.map_or(String::new(), |people| format!(", {people} people"));
    let time = way.time.map_or(String::new(), |time| format!(", about {:.0} min", time.as_min().ceil()));
    line(out, &format!("      {}{people}{time}:", way.way));
    line(out, &format!("          {}.", order(way, &way.answer)));
    let names = |why: &[WhyLeft]| -> Vec<&str> {
        let left = way.answer.left.iter().filter(|(_, left)| why.contains(left));
        left.filter_map(|(seat, _)| way.seats.get(*seat)).map(String::as_str).collect()
    };
    let stay = names(&[WhyLeft::NotReached, WhyLeft::Jammed]);
    if !stay.is_empty() {
        let _ = writeln!(out, "          It does not reach {}: call for help.", stay.join(", "));
    }
    let stay = names(&[WhyLeft::PastLimit]);
    if !stay.is_empty() {
        let _ = writeln!(
            out,
            "          Riders stay in {}, or it would be past what is allowed: hold it and call for help.",
            stay.join(", ")
        );
    }
    if let (Some((_, Some(past))), Some(allowed)) = (&way.naive, way.allowed) {
        let _ = writeln!(
            out,
            "          ▲ Not seat by seat round from the place: with {} off it is {} out of balance, of {} allowed.",
            way.seats.get(past.seat).map_or("?", String::as_str),
            moment(past.out_of_balance, units),
            allowed.amount().print(units, Rounding::Capacity)
        );
    }
}
