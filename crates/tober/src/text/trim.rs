//! A trim as text: what to do now, how, and how each leg stands.

use super::{about, line, mark, workings};
use core::fmt::Write;
use tober_calc::finding::{Finding, Measure, Override, Standing};
use tober_plan::{Foot, Plan, Trim, TrimLeg};
use tober_quantity::{Quantity, Rounding, Shown, Slope, UnitSet};

/// The whole trim.
pub fn trim(plan: &Plan, trim: &Trim, working: bool) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "{} on {}    plan {}, lowered", plan.ride, plan.pitch, plan.name);
    if plan.invented {
        line(&mut out, "Invented: for trying out only.");
    }
    let _ = writeln!(out, "{} {}    {}\n", mark(trim.standing), trim.standing.word(), trim.proof);
    let _ = writeln!(out, "Now: {}\n", trim.next);
    for change in &trim.change {
        let _ = writeln!(out, "{}\n  {}", change.words, change.sum);
        for (i, step) in change.steps.iter().enumerate() {
            let _ = writeln!(out, "  {}. {step}", i + 1);
        }
        line(&mut out, "");
    }
    if let Some((_, rest)) = trim.cures.split_first().filter(|(_, rest)| !rest.is_empty()) {
        line(&mut out, "Or one of these");
        for cure in rest {
            let _ = writeln!(out, "  {cure}");
        }
        line(&mut out, "");
    }
    legs(&mut out, trim);
    if let Some(after) = &trim.after {
        let _ = writeln!(
            out,
            "After the change: {} {}, as worked out. Level {}.\n",
            mark(after.standing),
            after.standing.word(),
            level(after.level_along, after.level_across, trim.units)
        );
    }
    attention(&mut out, &trim.findings, trim.units);
    if working {
        line(&mut out, "");
        let loads = trim.loads.iter().filter(|f| f.standing < Standing::NotKnown);
        let after = trim.after.iter().flat_map(|after| &after.findings);
        workings(&mut out, trim.findings.iter().chain(loads).chain(after), trim.units);
    }
    out
}

/// "1.2 mm/m, front high, along; 0.0 mm/m across".
fn level(along: Option<Slope>, across: Option<Slope>, units: UnitSet) -> String {
    let one = |slope: Option<Slope>, up: &str, down: &str, axis: &str| {
        let Some(slope) = slope else { return format!("{axis} not known") };
        let printed = slope.abs().amount().print(units, Rounding::Nearest);
        let nothing = slope.abs().amount().printed(units, Rounding::Nearest).si == 0.0;
        let high = if slope.si() < 0.0 { down } else { up };
        if nothing { format!("{axis} {printed}") } else { format!("{axis} {printed}, {high} high") }
    };
    format!("{}; {}", one(along, "front", "rear", "along"), one(across, "left", "right", "across"))
}

fn legs(out: &mut String, trim: &Trim) {
    let _ = writeln!(out, "Level {}", level(trim.level_along, trim.level_across, trim.units));
    let loads = if trim.loads.is_empty() { "" } else { ", load when open with what was read of the feet" };
    let _ = writeln!(
        out,
        "Legs: height read, foot, how far from the plane of the frame with the foot on its boards{loads}"
    );
    let row = |leg: &TrimLeg| {
        let fine = |length: tober_quantity::Length| {
            length.amount().shown(Shown::Finest).print(trim.units, Rounding::Nearest)
        };
        let foot = match leg.foot {
            None => "foot not kicked".to_owned(),
            Some(Foot::Snug) => "snug".to_owned(),
            Some(Foot::Light { gap: None }) => "light, gap not read".to_owned(),
            Some(Foot::Light { gap: Some(gap) }) => format!("light, {}", fine(gap)),
        };
        let miss = leg.miss.map_or("not known".to_owned(), |miss| {
            format!(
                "{} {}",
                miss.amount().shown(Shown::Finest).print_miss(trim.units),
                Shown::Finest.caption(trim.units)
            )
        });
        // The low end down and the high end up, as the finding has it.
        let load = leg.load.map_or(String::new(), |(low, high)| {
            let number = low.amount().shown(Shown::Load).print_number(trim.units, Rounding::Capacity);
            format!(
                "{number} to {}",
                high.amount().shown(Shown::Load).print(trim.units, Rounding::Requirement)
            )
        });
        [
            format!("{} {}", leg.short, leg.name),
            leg.height.map_or(String::new(), fine),
            foot,
            miss,
            load,
            format!("{} {}", mark(leg.standing), leg.standing.word()),
        ]
    };
    let rows: Vec<[String; 6]> = trim.legs.iter().map(row).collect();
    for row in &rows {
        let mut text = String::from(" ");
        for (column, cell) in row.iter().enumerate() {
            let width = rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
            if width > 0 {
                let _ = write!(text, " {cell}{}", " ".repeat(width - cell.chars().count() + 1));
            }
        }
        line(out, text.trim_end());
    }
    line(out, "");
}

/// What is not inside its limit, and what would be right.
pub(super) fn attention(out: &mut String, findings: &[Finding], units: UnitSet) {
    let wanting: Vec<&Finding> = findings.iter().filter(|f| f.standing != Standing::Inside).collect();
    if wanting.is_empty() {
        line(out, "Nothing needs attention.");
        return;
    }
    line(out, "What needs attention");
    for finding in wanting {
        let said = finding.figure(units);
        let said = if said.is_empty() { said } else { format!(", {said}") };
        let not =
            if finding.measure == (Measure::Statement { holds: Some(false) }) { "not so: " } else { "" };
        let barred = finding.standing == Standing::PastLimit && finding.overriding == Override::Never;
        let barred = if barred { " Nobody may pass this." } else { "" };
        let _ = writeln!(
            out,
            "  {} {}  {}: {not}{}{said}.{barred}",
            mark(finding.standing),
            finding.standing.word(),
            about(&finding.subject),
            finding.title
        );
        for sentence in finding.unknown.iter().chain(&finding.advice) {
            let _ = writeln!(out, "      {sentence}");
        }
    }
}
