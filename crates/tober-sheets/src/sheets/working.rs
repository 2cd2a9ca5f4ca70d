//! How every number was obtained, and on what all of it rests.

use super::verdicts::WORST_FIRST;
use super::{Given, Making};
use crate::block::{Block, Cell, Table, Verdict};
use crate::say;
use std::collections::BTreeMap;
use tober_calc::finding::{Basis, Finding, Measure, Override, Proof, Standing};
use tober_calc::working::Provenance;

/// The working of every finding, worst first.
pub(super) fn working(given: &Given<'_>, made: &mut Making) {
    let findings = given.findings();
    for standing in WORST_FIRST {
        let of: Vec<&&Finding> = findings.iter().filter(|finding| finding.standing == standing).collect();
        if of.is_empty() {
            continue;
        }
        made.heading(&format!("{}: {}", standing.word(), of.len()));
        for finding in of {
            one(given, finding, made);
        }
    }
}

fn one(given: &Given<'_>, finding: &Finding, made: &mut Making) {
    let units = given.plan.units;
    let not = if finding.measure == (Measure::Statement { holds: Some(false) }) { "not so: " } else { "" };
    let mut sentences: Vec<String> = finding.unknown.clone();
    sentences.extend(finding.advice.iter().cloned());
    let rests: Vec<String> = finding.basis.iter().map(Basis::to_string).collect();
    if !rests.is_empty() {
        sentences.push(format!("Rests on: {}.", rests.join("; ")));
    }
    sentences.extend(finding.proof.as_ref().map(|proof| match proof {
        Proof::Proved => "Proved.".to_owned(),
        Proof::Bounded { bound } => format!("Bounded: {bound}."),
        Proof::Refuted { counterexample } => format!("Refuted: {counterexample}"),
        Proof::NotReached { best } => format!("Not reached: {best}."),
    }));
    sentences.extend(finding.notes.iter().cloned());
    made.push(Block::Verdict(Verdict {
        standing: finding.standing,
        title: format!("{}: {not}{}", say::subject(&finding.subject), finding.title),
        figure: finding.figure(units),
        sentences,
        barred: finding.standing == Standing::PastLimit && finding.overriding == Override::Never,
        tight: false,
    }));
    let lines = finding.working.print(units);
    if !lines.is_empty() {
        made.push(Block::Lines(lines));
    }
}

/// Every document, rule and reading, with how many findings rest on it.
pub(super) fn sources(given: &Given<'_>, made: &mut Making) {
    let findings = given.findings();
    if findings.is_empty() {
        return;
    }
    let (mut bases, mut inputs): (BTreeMap<String, usize>, BTreeMap<String, usize>) = Default::default();
    for finding in &findings {
        for basis in &finding.basis {
            *bases.entry(basis.to_string()).or_default() += 1;
        }
        for input in finding.working.inputs() {
            let from: &Provenance = &input.provenance;
            *inputs.entry(from.to_string()).or_default() += 1;
        }
    }
    let counted = |caption: &str, of: &str, all: BTreeMap<String, usize>| {
        let mut table = Table::new(caption, [("what", "1fr"), (of, "auto")]);
        table.tight = 0.6;
        table.size = 10.0;
        for (what, count) in all {
            table.row([Cell::plain(what), Cell::plain(count.to_string())]);
        }
        Block::Table(table)
    };
    let about = &given.ride.about;
    let said =
        |what: &str, value: Option<&String>| format!("{what}: {}", value.map_or("not known", String::as_str));
    made.push(Block::List(vec![
        said("Maker", about.maker.as_ref()),
        said("Maker's manual", about.manual.as_ref()),
        "Where this pack and the maker's manual differ, the manual is right. So are local law and licensed people.".to_owned(),
        "What says \"from memory\" or \"common practice, no source\" is to be confirmed before anything rests on it alone."
            .to_owned(),
    ]));
    made.push(counted("On what the findings rest", "findings", bases));
    made.push(counted("Where the figures came from", "figures", inputs));
    made.push(Block::Text(
        "Set in Roboto and Roboto Slab, copyright Google Inc., under the Apache License 2.0.".to_owned(),
    ));
}
