//! The lifts of a ride's steps, beside a plan or by themselves.

use super::{line, mark, workings};
use core::fmt::Write;
use tober_calc::finding::{Finding, Measure, Proof, Standing};
use tober_plan::{LiftOfStep, standing_of};
use tober_quantity::UnitSet;

/// The section on lifts: steps that lift alike are told once, with what uses most and all that is not inside.
pub fn lifts(all: &[LiftOfStep], units: UnitSet, working: bool) -> String {
    let mut out = String::new();
    if all.is_empty() {
        return out;
    }
    line(&mut out, "\nThe lifts");
    let mut groups: Vec<(String, Vec<&str>)> = Vec::new();
    for lift in all {
        let said = told(lift, units);
        match groups.iter_mut().find(|(there, _)| *there == said) {
            Some((_, steps)) => steps.push(&lift.step),
            None => groups.push((said, vec![&lift.step])),
        }
    }
    for (said, steps) in groups {
        let _ = write!(out, "{}", said.replacen("STEPS", &steps.join(", "), 1));
    }
    if working {
        line(&mut out, "");
        for lift in all {
            workings(&mut out, &lift.findings, units);
        }
    }
    out
}

/// What is told of a lift, with the word STEPS where the steps are named.
fn told(lift: &LiftOfStep, units: UnitSet) -> String {
    let standing = standing_of(lift);
    let mut out = format!(
        "  {} {}  STEPS, by {}{}:",
        mark(standing),
        standing.word(),
        if lift.by_winch { "winch" } else { "hand" },
        lift.takes_back.as_ref().map(|step| format!(", which takes back \"{step}\"")).unwrap_or_default()
    );
    let figures =
        ["lift.pull", "lift.lower", "lift.hinge", "lift.eye", "lift.crank", "lift.hold", "lift.hand"];
    let each = |codes: &[&str]| {
        let told = lift.findings.iter().filter(|finding| codes.contains(&finding.code));
        let measured = |finding: &&Finding| {
            matches!(finding.measure, Measure::AgainstLimit { .. } | Measure::Figure { .. })
        };
        let each =
            told.filter(measured).map(|finding| format!("{} {}", word(finding), finding.figure(units)));
        each.collect::<Vec<String>>().join("; ")
    };
    let told = each(&figures);
    let _ = writeln!(out, " {}.", if told.is_empty() { "no figure" } else { &told });
    let in_wind = each(&["lift.gust", "lift.wind-most"]);
    if !in_wind.is_empty() {
        let _ = writeln!(out, "      In a gust of its wind limit: {in_wind}.");
    }
    for finding in &lift.findings {
        // Where the equation does not apply, where a line is slack and what holds the part then.
        let said = match finding.code {
            "lift.hand" | "lift.held" | "lift.over" => finding.notes.get(..1),
            "lift.line" => finding.notes.get(1..),
            _ => None,
        };
        for sentence in said.unwrap_or_default() {
            let _ = writeln!(out, "      {sentence}");
        }
    }
    for finding in lift.findings.iter().filter(|finding| finding.standing > Standing::Close) {
        let holds_not = finding.measure == Measure::Statement { holds: Some(false) };
        let not = if holds_not { "not so: " } else { "" };
        let _ = writeln!(out, "      {}: {not}{}.", finding.standing.word(), finding.title);
        let told = match &finding.proof {
            Some(Proof::Refuted { counterexample }) => Some(counterexample),
            _ => None,
        };
        for sentence in told.into_iter().chain(&finding.unknown).chain(&finding.advice) {
            let _ = writeln!(out, "          {sentence}");
        }
    }
    out
}

fn word(finding: &Finding) -> &'static str {
    match finding.code {
        "lift.pull" => "rope",
        "lift.lower" => "rope running out",
        "lift.hold" => "hold",
        "lift.gust" => "rope",
        "lift.wind-most" => "the limit itself",
        "lift.hinge" => "hinge",
        "lift.eye" => "eye",
        "lift.crank" => "crank",
        _ => "together",
    }
}
