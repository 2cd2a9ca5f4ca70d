//! What every order of the steps says, beside a plan.

use super::{about, line, mark, workings};
use core::fmt::Write;
use std::collections::BTreeMap;
use tober_calc::finding::{Finding, Standing};
use tober_plan::{EveryOrder, HoldPoint};
use tober_procedure::Rule;
use tober_quantity::UnitSet;

/// How many steps are named where they are many.
const STEPS_NAMED: usize = 6;

/// The section on the work: what is worst at any stage, the hold points, where every fixing is.
pub fn every_order(every: &EveryOrder, units: UnitSet, working: bool) -> String {
    let mut out = String::from("\nThe work, over every order of the steps that the book admits\n");
    proofs(&mut out, every);
    // The legs share a title: the one nearest to its limit is told for all of them, and every one that is not inside.
    let of_legs = |finding: &Finding| matches!(finding.code, "stages.load" | "stages.load-partly");
    let worst = |code: &str| {
        let legs = every.findings.iter().filter(move |finding| finding.code == code);
        legs.max_by_key(|finding| (finding.standing, finding.share()))
    };
    let worst = [worst("stages.load"), worst("stages.load-partly")];
    let told = |finding: &&Finding| {
        !of_legs(finding)
            || worst.iter().flatten().any(|worst| core::ptr::eq(*worst, *finding))
            || finding.standing != Standing::Inside
    };
    for finding in every.findings.iter().filter(told) {
        let _ = writeln!(
            out,
            "  {} {}  {}: {}, {}.",
            mark(finding.standing),
            finding.standing.word(),
            about(&finding.subject),
            finding.title,
            finding.figure(units)
        );
        for sentence in finding.unknown.iter().chain(&finding.advice).chain(finding.notes.first()) {
            let _ = writeln!(out, "      {sentence}");
        }
    }
    if !every.no_easy_return.is_empty() {
        line(&mut out, "  No easy way back once these are done; stop and think before each:");
        for (step, why) in &every.no_easy_return {
            let _ = writeln!(out, "      {step}: {why}");
        }
    }
    if !every.hold_points.is_empty() {
        line(&mut out, "  Nothing goes on until the chief has looked:");
        for (number, point) in every.hold_points.iter().enumerate() {
            let _ = writeln!(out, "      {}. {}: {}", number + 1, point.step, point.looks_at);
            hold_point(&mut out, point);
        }
    }
    if !every.looked_at.is_empty() {
        line(&mut out, "  Looked at again:");
        for (when, items) in &every.looked_at {
            let _ = writeln!(out, "      {when}: {}", items.join("; "));
        }
    }
    pins(&mut out, every);
    people(&mut out, every);
    if let Some((most, steps)) = &every.most_people {
        let named: Vec<&str> = steps.iter().take(STEPS_NAMED).map(String::as_str).collect();
        let more = steps.len() - named.len();
        let more = if more > 0 { format!(" and {more} more steps") } else { String::new() };
        let _ = writeln!(out, "  Most people at once: {most} ({}{more}).", named.join(", "));
    }
    if let Some(riders) = &every.riders_off {
        out.push_str(&super::riders::riders(riders, units));
    }
    if working {
        line(&mut out, "");
        workings(&mut out, &every.findings, units);
        if let Some(riders) = &every.riders_off {
            workings(&mut out, &riders.findings, units);
        }
    }
    out
}

/// How many steps take how many people, and which do not say it.
fn people(out: &mut String, every: &EveryOrder) {
    let mut by_count: BTreeMap<usize, usize> = BTreeMap::new();
    for people in every.people.iter().filter_map(|(_, people)| *people) {
        *by_count.entry(people).or_default() += 1;
    }
    let told: Vec<String> =
        by_count.iter().map(|(people, steps)| format!("{people} in {steps} steps")).collect();
    if !told.is_empty() {
        let _ = writeln!(out, "  People for each step: {}.", told.join(", "));
    }
    let silent: Vec<&str> =
        every.people.iter().filter(|(_, people)| people.is_none()).map(|(step, _)| step.as_str()).collect();
    if !silent.is_empty() {
        let _ = writeln!(
            out,
            "  {} {}  how many people these take: {}.",
            mark(Standing::NotKnown),
            Standing::NotKnown.word(),
            silent.join(", ")
        );
    }
}

/// What was proved, in a line; what was not, each.
fn proofs(out: &mut String, every: &EveryOrder) {
    let proofs = &every.proofs;
    let proved: usize = Rule::ALL.into_iter().map(|rule| proofs.proved(rule)).sum();
    let (refuted, open) = (proofs.refuted().count(), proofs.not_known().count());
    let standing = match (refuted, open) {
        (0, 0) => Standing::Inside,
        (0, _) => Standing::NotKnown,
        _ => Standing::PastLimit,
    };
    let _ = writeln!(
        out,
        "  {} {}  {proved} checks of the steps hold in every order, {refuted} fail, {open} not known (tober check says which).",
        mark(standing),
        standing.word()
    );
    for (_, refutation) in proofs.refuted() {
        let _ = writeln!(out, "      {}", refutation.says);
    }
    for (claim, why) in proofs.not_known() {
        let _ = writeln!(out, "      {}: {why}", claim.subject);
    }
}

/// What must be so at a hold point, what is counted, and what is read, each on a line where there is any.
fn hold_point(out: &mut String, point: &HoldPoint) {
    if !point.must_be.is_empty() {
        let _ = writeln!(out, "          must be: {}", point.must_be.join(", "));
    }
    let mut counts: Vec<(&str, i64, Vec<&str>)> = Vec::new();
    for (fixing, home, count) in &point.counts {
        match counts.iter_mut().find(|(other, many, _)| other == fixing && many == count) {
            Some((.., homes)) => homes.push(home),
            None => counts.push((fixing, *count, vec![home])),
        }
    }
    let told: Vec<String> =
        counts.iter().map(|(fixing, count, homes)| format!("{fixing} {}", places(*count, homes))).collect();
    if !told.is_empty() {
        let _ = writeln!(out, "          count: {}", told.join("; "));
    }
    if !point.readings.is_empty() {
        let _ = writeln!(out, "          read: {}", point.readings.join("; "));
    }
}

/// Where pins are when it is open, homes with as many each told together; homes that are empty then are left out.
fn pins(out: &mut String, every: &EveryOrder) {
    if every.homes.is_empty() {
        return;
    }
    line(out, "  Pins, clips and straps when it is open:");
    let mut fixings: Vec<&str> = Vec::new();
    for home in &every.homes {
        if !fixings.contains(&home.fixing.as_str()) {
            fixings.push(&home.fixing);
        }
    }
    for fixing in fixings {
        let mut by_count: Vec<(i64, Vec<&str>)> = Vec::new();
        for home in every.homes.iter().filter(|home| home.fixing == fixing && home.open != 0) {
            match by_count.iter_mut().find(|(count, _)| *count == home.open) {
                Some((_, names)) => names.push(&home.home),
                None => by_count.push((home.open, vec![&home.home])),
            }
        }
        let told: Vec<String> = by_count.iter().map(|(count, names)| places(*count, names)).collect();
        let _ = writeln!(out, "      {fixing}: {}", told.join(", "));
    }
}

fn places(count: i64, names: &[&str]) -> String {
    match names {
        [one] => format!("{count} {}", placed(one)),
        [first, .., last] if names.len() > 3 => {
            format!("{count} in each of {first} to {last} ({} places)", names.len())
        }
        some => format!("{count} in each of {}", some.join(", ")),
    }
}

/// A home with the word before it, where its name does not begin with one.
fn placed(home: &str) -> String {
    let has = ["in ", "at ", "on ", "across ", "round ", "under "].iter().any(|word| home.starts_with(word));
    if has { home.to_owned() } else { format!("in {home}") }
}
