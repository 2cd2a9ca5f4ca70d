//! Whether no lesser change serves, by the part that did not choose it.

use crate::packing::as_question;
use tober_book::Kit;
use tober_calc::finding::{Finding, Proof, Subject};
use tober_calc::packing::trim::{Frame, Outcome, Question, Step, Trim, none_fewer};
use tober_fit::packing::none::change;
use tober_quantity::TenthMm;

/// Hundredths in a tenth.
const HUNDREDTHS: i64 = 10;

/// What the check of the proof found; nothing where there is no proof to check.
///
/// What the reading may be off by is taken off the tolerances here, by itself.
pub(super) fn checked(question: &Question, trim: &Trim, kit: &Kit) -> Option<Finding> {
    let proof = none_fewer(question, trim)?;
    let tops: Vec<TenthMm> = trim.tops.iter().copied().collect::<Option<_>>()?;
    let mut asked = as_question(&trim.problem, kit);
    let by_level = match &question.reading.frame {
        Frame::Level { off_by, .. } => {
            let off = off_by.map_or(0, |off| off.0);
            let left = |most: TenthMm| TenthMm((most.0 * HUNDREDTHS - off).div_euclid(HUNDREDTHS));
            asked.level.along_per_m = left(asked.level.along_per_m);
            asked.level.across_per_m = left(asked.level.across_per_m);
            true
        }
        Frame::Heights { off_by, .. } => {
            asked.planarity = asked.planarity - off_by.unwrap_or_default();
            false
        }
    };
    let clear: Vec<change::Clear> = trim
        .problem
        .clearances
        .iter()
        .map(|clear| change::Clear {
            at: (TenthMm(clear.x_mm * 10), TenthMm(clear.y_mm * 10)),
            least: clear.at_least,
            most: clear.at_most,
        })
        .collect();
    let lowered = change::Lowered { question: &asked, tops: &tops, by_level, clear: &clear };
    if let (true, Outcome::Change { choice, .. }) = (by_level, &trim.outcome) {
        let seats: Vec<TenthMm> = choice.supports.iter().map(|placed| placed.seat).collect();
        if !change::reads_level(&asked, &seats) {
            return Some(refused("a level will show more than is allowed once it is made".to_owned()));
        }
    }
    let legs = match &trim.outcome {
        Outcome::Nothing { .. } => tops.len(),
        // One leg is the fewest: what stands is not in by what was read of it.
        _ if proof.is_empty() => return None,
        _ => trim.changed().len() - 1,
    };
    let step = |step: Step| match step {
        Step::Split { support, height } => change::Step::Split { support, height },
        Step::Bare { support } => change::Step::Bare { support },
        Step::Beyond { multipliers } => change::Step::Beyond { multipliers },
    };
    let set = |closed: tober_calc::packing::trim::Closed| change::Set {
        changing: closed.changing,
        steps: closed.steps.into_iter().map(step).collect(),
    };
    let sets: Vec<change::Set> = proof.into_iter().map(set).collect();
    Some(match change::check(&lowered, legs, &sets) {
        Ok(cases) => {
            let title = match &trim.outcome {
                Outcome::Nothing { .. } => {
                    "no change serves, shown to the part that did not look for one".to_owned()
                }
                _ => "no change of fewer legs serves, shown to the part that did not choose it".to_owned(),
            };
            let note = format!(
                "Sets of {legs} legs: {}, in {cases} cases, each ruled out by weighing its limits together.",
                sets.len()
            );
            Finding::statement("trim.fewest", Subject::Frame, &title, true).proof(Proof::Proved).note(note)
        }
        Err(flaw) => refused(flaw.to_string()),
    }
    .never_overridden())
}

fn refused(why: String) -> Finding {
    let title = "no change of fewer legs serves, shown to the part that did not choose it";
    let what = "Whether fewer legs would do: the proof was refused.";
    Finding::not_known("trim.fewest", Subject::Frame, title, what).note(why).never_overridden()
}
