//! What was proved of a ride book's steps, and the story of what was not.

use core::fmt::Write;
use tober_book::{Code, Diagnostic, Source};
use tober_plan::Again;
use tober_procedure::{Cure, Proofs, Refutation, Rule, Told};

/// What holds in every order, a line a rule, and what is not known.
pub fn proved(proofs: &Proofs) -> String {
    let mut out = String::from("Steps, over every order that the book admits:\n");
    for rule in Rule::ALL {
        let refuted = proofs.refuted().filter(|(claim, _)| claim.rule == rule).count();
        let open = proofs.not_known().filter(|(claim, _)| claim.rule == rule).count();
        let proved = proofs.proved(rule);
        if refuted + open + proved == 0 {
            continue;
        }
        let mark = match (refuted, open) {
            (0, 0) => "■ proved",
            (0, _) => "? not known",
            _ => "▲ refuted",
        };
        let mut told = vec![format!("{proved} proved")];
        told.extend((refuted > 0).then(|| format!("{refuted} refuted")));
        told.extend((open > 0).then(|| format!("{open} not known")));
        let _ = writeln!(out, "  {mark:<12} {} ({})", rule.words(), told.join(", "));
    }
    for (claim, why) in proofs.not_known() {
        let _ = writeln!(out, "  ? {}: {why}", claim.subject);
    }
    out
}

/// The story of each refutation.
pub fn refuted(proofs: &Proofs, source: &Source) -> Vec<String> {
    proofs
        .refuted()
        .map(|(claim, refutation)| {
            let said = Diagnostic::new(
                source,
                claim.span,
                Code::Procedure,
                refutation.says.clone(),
                refutation.help.clone(),
            );
            format!("{said}{}", story(refutation, claim.way.word()))
        })
        .collect()
}

/// The order that shows it, and what would cure it.
fn story(refutation: &Refutation, way: &str) -> String {
    let mut out = String::new();
    if !refutation.done.is_empty() || !refutation.begun.is_empty() {
        let which = if refutation.shortest { "A shortest" } else { "A short" };
        let _ = write!(out, "\n  {which} order that shows it ({way}):");
        let mut quiet: Vec<&Told> = Vec::new();
        let mut number = 0;
        for told in &refutation.done {
            if told.changes.is_empty() {
                quiet.push(told);
                continue;
            }
            passed(&mut out, &mut number, &mut quiet);
            number += 1;
            let _ = write!(out, "\n    {number}. {}: {}", told.step, told.changes.join("; "));
        }
        passed(&mut out, &mut number, &mut quiet);
        if !refutation.begun.is_empty() {
            let _ = write!(out, "\n    then begun: {}", refutation.begun.join(", and with it "));
        }
    }
    match &refutation.cure {
        Cure::Rules { rules, fewest } => {
            let each: Vec<String> =
                rules.iter().map(|(first, waits)| format!("\"{waits}\" after \"{first}\"")).collect();
            let least = match (rules.len(), fewest) {
                (1, _) => "One further rule cures it",
                (_, true) => "No fewer rules cure it than",
                (_, false) => "These rules together cure it; fewer may",
            };
            let _ = write!(out, "\n  {least}: {}.", each.join(", "));
        }
        Cure::NoOrder => out.push_str("\n  No order cures it: it is the steps themselves."),
        Cure::Open => {
            out.push_str("\n  No cure of up to three rules was found; that there is none is not proved.");
        }
    }
    out.push('\n');
    out
}

/// Steps that change nothing that matters, on one line.
fn passed(out: &mut String, number: &mut usize, quiet: &mut Vec<&Told>) {
    let names: Vec<&str> = quiet.iter().map(|told| told.step.as_str()).collect();
    match names.as_slice() {
        [] => {}
        [one] => {
            let _ = write!(out, "\n    {}. {one}", *number + 1);
        }
        many => {
            let _ = write!(out, "\n    {} to {}. {}", *number + 1, *number + many.len(), many.join(", "));
        }
    }
    *number += names.len();
    quiet.clear();
}

/// How many claims were checked a second time, and how, on one line; then what was not checked.
pub fn again(again: &Again) -> String {
    let each = [
        (again.barred, "by the last step that changes a thing"),
        (again.ordered, "by the order of every pair"),
        (again.cuts, "by a cut added up"),
        (again.plain, "from the steps themselves"),
        (again.gone_through, "stage by stage"),
        (again.replayed, "by its story, replayed"),
    ];
    let told: Vec<String> =
        each.iter().filter(|(count, _)| *count > 0).map(|(count, how)| format!("{count} {how}")).collect();
    let mut out = format!(
        "  Checked a second time, by a program that did not prove them: {} claims ({}); {} cures; {} ways back.\n",
        again.claims(),
        told.join(", "),
        again.cures,
        again.ways_back
    );
    let mut by_why: std::collections::BTreeMap<&str, Vec<&str>> = std::collections::BTreeMap::new();
    for (subject, why) in &again.not_checked {
        by_why.entry(why).or_default().push(subject);
    }
    for (why, subjects) in by_why {
        let _ = match subjects.as_slice() {
            [one] => writeln!(out, "  ? Not checked a second time: {one}: {why}."),
            [one, more @ ..] => {
                writeln!(out, "  ? Not checked a second time: {one}, and {} more: {why}.", more.len())
            }
            [] => Ok(()),
        };
    }
    out
}

/// That a proof does not stand: a fault of the program.
pub fn contradicted(again: &Again) -> String {
    let mut out = String::from(
        "Tober contradicts itself over these steps: what it proved does not stand when it is checked a second time. \
         Trust nothing above. This is a fault of ours; please report it with the book.\n",
    );
    for says in &again.contradictions {
        let _ = writeln!(out, "  ▲ {says}");
    }
    out
}
