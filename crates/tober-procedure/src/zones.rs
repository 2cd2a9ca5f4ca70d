//! People, moving parts and live power are never in one place.

use crate::claim::{Asked, Matter, Offence, Rule, Test};
use crate::run::Run;
use crate::said::Statement;
use crate::state::Tracks;
use crate::track::What;
use tober_book::Lift;
use tober_calc::orders::{Precedence, StepSet};

/// No circuit is on where people work, and nobody works on the ground that a lift wants clear.
pub(crate) fn zones<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for (step, book) in run.steps.iter().enumerate() {
        for ground in &book.works_in {
            for circuit in run.ride.circuits.iter().filter(|circuit| circuit.zone.as_deref() == Some(ground))
            {
                let what = What::Switch(&circuit.name);
                let Some(track) = tracks.get(&what) else { continue };
                let offends = move |order: &Precedence| {
                    let on = track.before(order, step).into_iter().find(|possible| possible.state == "on")?;
                    Some(Offence {
                        done: on.done,
                        begun: StepSet::from(order.len(), [step]),
                        says: format!(
                            "\"{}\" has people at work in \"{ground}\" while \"{}\" is on.",
                            run.step(step).name,
                            circuit.name
                        ),
                    })
                };
                let said = Statement::BeginsNot {
                    step: book.name.clone(),
                    thing: what.into(),
                    are: vec!["on".to_owned()],
                };
                all.push(Asked {
                    rule: Rule::Zones,
                    said,
                    subject: format!("\"{}\" while \"{}\" works in \"{ground}\"", circuit.name, book.name),
                    span: book.place.key("works-in"),
                    help: format!("A step that switches \"{}\" off, and locks it, comes before; the one that switches it on comes after.", circuit.name),
                    matters: vec![Matter::State(what)],
                    test: Test::Every(Box::new(offends)),
                });
            }
        }
        let under = book.keep_clear.as_ref().filter(|ground| book.works_in.contains(ground));
        if let (Some(ground), Some(Lift::Winch(lift))) = (under, &book.lift) {
            let offends = move |order: &Precedence| {
                Some(Offence {
                    done: order.before(step).clone(),
                    begun: StepSet::from(order.len(), [step]),
                    says: format!(
                        "\"{}\" has people at work on \"{ground}\" while \"{}\" hangs over it.",
                        run.step(step).name,
                        lift.body
                    ),
                })
            };
            all.push(Asked {
                rule: Rule::Zones,
                said: Statement::NobodyUnder { step: book.name.clone() },
                subject: format!("people under \"{}\"", lift.body),
                span: book.place.key("works-in"),
                help:
                    "Nobody is under the load: take the ground out of `works-in`, and work from outside it."
                        .to_owned(),
                matters: Vec::new(),
                test: Test::Every(Box::new(offends)),
            });
        }
    }
    all
}
