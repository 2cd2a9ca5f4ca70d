//! The winch and its line.

use crate::claim::{Asked, Matter, Offence, Rule, Test};
use crate::run::Run;
use crate::said::Statement;
use crate::state::Tracks;
use crate::track::{NOTHING, WINCH, What};
use tober_book::Lift;
use tober_calc::orders::{Precedence, StepSet};

/// What is lifted is on the line, and the winch stays where it is while it carries.
pub(crate) fn winch<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for (step, book) in run.steps.iter().enumerate() {
        let line = What::Line(book.winch.as_deref().unwrap_or(WINCH));
        let track = tracks.get(&line);
        if let Some(Lift::Winch(lift)) = &book.lift
            && !run.absent.contains(lift.body.as_str())
        {
            let in_itself = book.line_on.as_ref() == Some(&lift.body) && book.line_off == book.line_on;
            let test = match track {
                // The step puts the line on and takes it off; that the line is free before is asked of it as a move.
                Some(_) if in_itself => continue,
                None => Test::NotKnown(
                    "Which part the winch line is on: no step says `line-on` or `line-off`.".to_owned(),
                ),
                Some(track) => Test::Every(Box::new(move |order: &Precedence| {
                    let wrong =
                        track.before(order, step).into_iter().find(|possible| possible.state != lift.body)?;
                    Some(Offence {
                        done: wrong.done,
                        begun: StepSet::from(order.len(), [step]),
                        says: format!(
                            "When \"{}\" lifts \"{}\", {} may be {}.",
                            run.step(step).name,
                            lift.body,
                            line.words(),
                            line.state(&wrong.state)
                        ),
                    })
                })),
            };
            let said =
                Statement::Begins { step: book.name.clone(), thing: line.into(), is: lift.body.clone() };
            all.push(Asked {
                rule: Rule::Winch,
                said,
                subject: format!("the line on \"{}\" in \"{}\"", lift.body, book.name),
                span: lift.place.key("body"),
                help: "A step that puts the line on it (`line-on`) comes before, and the one that takes it off (`line-off`) after.".to_owned(),
                matters: vec![Matter::State(line), Matter::State(What::Body(&lift.body))],
                test,
            });
        }
        if let (Some(anchor), Some(track)) = (&book.anchor, track) {
            let offends = move |order: &Precedence| {
                let wrong =
                    track.before(order, step).into_iter().find(|possible| possible.state != NOTHING)?;
                Some(Offence {
                    done: wrong.done,
                    begun: StepSet::from(order.len(), [step]),
                    says: format!(
                        "\"{}\" moves the winch to \"{anchor}\" while its line may be {}.",
                        run.step(step).name,
                        line.state(&wrong.state)
                    ),
                })
            };
            let said =
                Statement::Begins { step: book.name.clone(), thing: line.into(), is: NOTHING.to_owned() };
            all.push(Asked {
                rule: Rule::Winch,
                said,
                subject: format!("the winch to \"{anchor}\" in \"{}\"", book.name),
                span: book.place.key("anchor"),
                help: "The line comes off before the winch is moved.".to_owned(),
                matters: vec![Matter::State(line)],
                test: Test::Every(Box::new(offends)),
            });
        }
    }
    all
}
