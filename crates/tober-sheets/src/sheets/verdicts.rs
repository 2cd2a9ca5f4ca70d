//! Verdicts, worst first: what several findings say alike is said once.

use crate::block::{Block, Verdict};
use crate::say;
use crate::sheets::Given;
use tober_calc::finding::{Finding, Measure, Override, Proof, Standing, Subject};
use tober_plan::Plan;
use tober_quantity::UnitSet;

/// In which order standings are said.
pub(super) const WORST_FIRST: [Standing; 4] =
    [Standing::PastLimit, Standing::NotKnown, Standing::Close, Standing::Inside];

/// How far up a standing is in that order: the greater, the worse.
pub(super) fn gravity(standing: Standing) -> usize {
    WORST_FIRST.iter().rev().position(|one| *one == standing).unwrap_or(0)
}

/// How many findings stand how, in words.
pub(super) fn counted(findings: &[&Finding]) -> String {
    let said = WORST_FIRST.into_iter().filter_map(|standing| {
        let count = findings.iter().filter(|finding| finding.standing == standing).count();
        let words = match standing {
            Standing::PastLimit => "past the limit",
            Standing::NotKnown => "not known",
            Standing::Close => "close",
            Standing::Inside => "inside",
        };
        (count > 0).then(|| format!("{count} {words}"))
    });
    said.collect::<Vec<_>>().join(", ")
}

/// The worst standing, past limit before not known.
pub(super) fn worst<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> Option<Standing> {
    findings.into_iter().map(|finding| finding.standing).max_by_key(|standing| gravity(*standing))
}

/// What wants attention, worst first, each group once.
pub(super) fn attention(given: &Given<'_>, standings: &[Standing]) -> Vec<Verdict> {
    let findings = given.findings();
    let mut all = Vec::new();
    for standing in standings {
        let of = findings.iter().filter(|finding| finding.standing == *standing).copied();
        all.extend(grouped(&of.collect::<Vec<_>>(), given.plan));
    }
    all
}

fn grouped(findings: &[&Finding], plan: &Plan) -> Vec<Verdict> {
    let mut groups: Vec<(String, Vec<String>, bool, Vec<&Finding>)> = Vec::new();
    for finding in findings {
        let (title, sentences, barred) = said(finding, plan);
        match groups.iter_mut().find(|(t, s, b, _)| *t == title && *s == sentences && *b == barred) {
            Some((_, _, _, there)) => there.push(finding),
            None => groups.push((title, sentences, barred, vec![finding])),
        }
    }
    let verdict =
        |(title, sentences, barred, findings): (String, Vec<String>, bool, Vec<&Finding>)| Verdict {
            standing: findings.first().map_or(Standing::NotKnown, |finding| finding.standing),
            title: format!("{}: {title}", subjects(&findings, plan)),
            figure: worst_figure(&findings, plan.units),
            sentences,
            barred,
            tight: false,
        };
    groups.into_iter().map(verdict).collect()
}

fn said(finding: &Finding, plan: &Plan) -> (String, Vec<String>, bool) {
    let not = if finding.measure == (Measure::Statement { holds: Some(false) }) { "not so: " } else { "" };
    let mut sentences = Vec::new();
    if let Some(Proof::Refuted { counterexample }) = &finding.proof {
        sentences.push(counterexample.clone());
    }
    let above = |sentence: &&String| !plan.assumed.contains(sentence);
    sentences.extend(finding.unknown.iter().filter(above).chain(&finding.advice).cloned());
    let barred = finding.standing == Standing::PastLimit && finding.overriding == Override::Never;
    (format!("{not}{}", finding.title), sentences, barred)
}

/// Of what a group speaks: the names, or "all legs" where it is every one of several.
fn subjects(findings: &[&Finding], plan: &Plan) -> String {
    let legs = findings.iter().filter(|f| matches!(f.subject, Subject::Support(_))).count();
    if legs > 2 && legs == plan.legs.len() && legs == findings.len() {
        return "All legs".to_owned();
    }
    findings.iter().map(|finding| say::subject(&finding.subject)).collect::<Vec<_>>().join(", ")
}

/// The figure of the finding that uses most of its limit, and of whom it is where the others differ.
fn worst_figure(findings: &[&Finding], units: UnitSet) -> String {
    let Some(worst) = findings.iter().max_by_key(|finding| finding.share()) else { return String::new() };
    let figure = worst.figure(units);
    if figure.is_empty() || findings.iter().all(|finding| finding.figure(units) == figure) {
        return figure;
    }
    format!("worst {}, {figure}", worst.subject)
}

/// Verdicts as blocks.
pub(super) fn blocks(verdicts: impl IntoIterator<Item = Verdict>) -> Vec<Block> {
    verdicts.into_iter().map(Block::Verdict).collect()
}
