//! What has one state at a time: everything moves from where it is, and what a step needs is there.

use crate::claim::{Asked, Matter, Offence, Rule, Test};
use crate::run::Run;
use crate::said::Statement;
use crate::track::{Track, UNKNOWN, WINCH, What, asked};
use std::collections::BTreeMap;
use tober_calc::orders::{Precedence, StepSet};

pub(crate) type Tracks<'a> = BTreeMap<What<'a>, Track>;

/// Looks for a stage just before `step` in which `what` is in another state than `wanted`.
fn elsewhere(
    run: &Run<'_>,
    track: &Track,
    order: &Precedence,
    step: usize,
    what: What<'_>,
    wanted: &str,
) -> Option<Offence> {
    let wrong = track.before(order, step).into_iter().find(|possible| possible.state != wanted)?;
    let name = &run.step(step).name;
    let says = if wrong.state == UNKNOWN {
        format!(
            "When \"{name}\" begins, nothing has yet said how {} is; it must be {}.",
            what.words(),
            what.state(wanted)
        )
    } else {
        format!(
            "When \"{name}\" begins, {} may be {}; it must be {}.",
            what.words(),
            what.state(&wrong.state),
            what.state(wanted)
        )
    };
    Some(Offence { done: wrong.done, begun: StepSet::from(order.len(), [step]), says })
}

/// Everything moves from where it is.
pub(crate) fn moves<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for (&what, track) in tracks {
        for write in &track.writes {
            let Some(from) = &write.from else { continue };
            let rule = if matches!(what, What::Line(_)) { Rule::Winch } else { Rule::Moves };
            let step = write.step;
            let said =
                Statement::Begins { step: run.step(step).name.clone(), thing: what.into(), is: from.clone() };
            all.push(Asked {
                rule,
                said,
                subject: format!("{} in \"{}\"", what.words(), run.step(step).name),
                span: write.span,
                help: format!(
                    "Before this step something must leave {} {}, or it is not this that moves.",
                    what.words(),
                    what.state(from)
                ),
                matters: vec![Matter::State(what)],
                test: Test::Every(Box::new(move |order| elsewhere(run, track, order, step, what, from))),
            });
        }
    }
    all
}

/// What a step needs is there when it begins.
pub(crate) fn needs<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for (step, book) in run.steps.iter().enumerate() {
        let winch = book.winch.as_deref().unwrap_or(WINCH);
        for need in &book.needs {
            let Some((what, wanted, span)) = asked(need, winch) else { continue };
            if matches!(what, What::Body(name) if run.absent.contains(name)) {
                continue;
            }
            let subject = format!("\"{}\": {} {}", book.name, what.words(), what.state(&wanted));
            let help = format!(
                "A step that leaves {} {} must come before, and none that changes it between.",
                what.words(),
                what.state(&wanted)
            );
            let said = Statement::Begins { step: book.name.clone(), thing: what.into(), is: wanted.clone() };
            let test = match tracks.get(&what) {
                Some(track) => {
                    Test::Every(Box::new(move |order| elsewhere(run, track, order, step, what, &wanted)))
                }
                None => Test::NotKnown(format!("No step says how {} is.", what.words())),
            };
            all.push(Asked {
                rule: Rule::Needs,
                said,
                subject,
                span,
                help,
                matters: vec![Matter::State(what)],
                test,
            });
        }
    }
    all
}
