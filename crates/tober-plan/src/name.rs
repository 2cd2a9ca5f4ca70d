//! The name of a plan: a hash of what went into it and of what was chosen, and of no wording.

use crate::model::{Held, LegPlan};
use core::fmt::Write as _;
use sha2::{Digest, Sha256};
use tober_calc::finding::{Finding, Measure};
use tober_quantity::{Quantity, significant};

/// Digits to which a figure counts: those that the working prints.
const DIGITS: usize = tober_calc::working::DIGITS;

/// The first eight hexadecimal digits of the SHA-256 of the plan's facts.
///
/// The facts are the holes, screws and boards of the legs, and of each finding its code, its subject, how it stands,
/// its figures, and the inputs of its working, each rounded to six digits. Two plans of one name rest on the same
/// inputs and set the legs the same. Other words for the same thing change no name.
pub(crate) fn name_of(legs: &[LegPlan], findings: &[Finding]) -> String {
    let digest = Sha256::digest(facts(legs, findings).as_bytes());
    digest.iter().take(4).map(|byte| format!("{byte:02x}")).collect()
}

/// One line for each fact. Names that users gave are quoted, so that none can stand for two.
fn facts(legs: &[LegPlan], findings: &[Finding]) -> String {
    let mut text = String::new();
    for leg in legs {
        let held = match &leg.held {
            Held::Hole { number, .. } => format!("hole {number}"),
            Held::Screw { extension, .. } => format!("screw {}", significant(extension.si(), DIGITS)),
        };
        let boards: Vec<&str> = leg.layers.iter().map(|layer| layer.board.as_str()).collect();
        // Writing to a string cannot fail.
        let _ = writeln!(text, "leg {:?} {held} {boards:?}", leg.name);
    }
    // The order of findings is for the reader; the facts have one of their own.
    let mut lines: Vec<String> = findings.iter().map(of_finding).collect();
    lines.sort_unstable();
    for line in lines {
        text.push_str(&line);
        text.push('\n');
    }
    text
}

fn of_finding(finding: &Finding) -> String {
    let figures = match &finding.measure {
        Measure::AgainstLimit { low, high, limit, .. } => vec![low.si, high.si, limit.si],
        Measure::Figure { low, high } => vec![low.si, high.si],
        Measure::Statement { .. } | Measure::Nothing => Vec::new(),
    };
    let inputs = finding.working.inputs().into_iter().map(|input| input.amount.si);
    let figures: Vec<String> =
        figures.into_iter().chain(inputs).map(|figure| significant(figure, DIGITS)).collect();
    let subject = finding.subject.to_string();
    format!("{} {subject:?} {:?} {}", finding.code, finding.standing, figures.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use tober_calc::finding::{Sense, Subject};
    use tober_calc::working::{Provenance, Working};
    use tober_quantity::Length;

    fn finding(title: &str, words: &str, mm: f64) -> Finding {
        let mut working = Working::new();
        let p = working.given("p", words, Length::mm(mm), Provenance::chosen(words));
        let figure = tober_quantity::Amount { si: p.value(), shown: tober_quantity::Shown::Fine };
        let limit = Length::mm(200.0).amount();
        let subject = Subject::Support("rear right".to_owned());
        Finding::against_limit("packing.stack", subject, title, (figure, figure), limit, Sense::AtMost)
            .working(working)
            .note(words)
            .advice(words)
    }

    #[test]
    fn law_other_words_for_the_same_facts_change_no_name() {
        let one = [finding("height of the stack", "this plan", 86.0), finding("second", "thing", 40.0)];
        let other = [finding("2nd", "same thing, said better", 40.0), finding("stack", "chosen here", 86.0)];
        assert_eq!(name_of(&[], &one), name_of(&[], &other));
    }

    #[test]
    fn law_another_input_is_another_name() {
        let names: Vec<String> =
            [86.0, 86.1, 85.9].iter().map(|&mm| name_of(&[], &[finding("a", "b", mm)])).collect();
        assert!(names[0] != names[1] && names[0] != names[2] && names[1] != names[2], "{names:?}");
        // Noise below what the working prints is no other input.
        assert_eq!(name_of(&[], &[finding("a", "b", 86.000_000_000_1)]), names[0]);
    }
}
