//! What carries something does not move without it.

use crate::claim::{Asked, Matter, Offence, Rule, Test};
use crate::run::Run;
use crate::said::Statement;
use crate::state::Tracks;
use crate::track::What;
use tober_calc::orders::{Precedence, StepSet};

/// A step that moves a carrier moves what it carries.
pub(crate) fn carried<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for (step, book) in run.steps.iter().enumerate() {
        for moved in &book.moves {
            let cg = |place: &str| run.placement(&moved.body, place).map(|there| there.cg);
            if run.absent.contains(moved.body.as_str()) || cg(&moved.from) == cg(&moved.to) {
                continue;
            }
            // Who may be on it, somewhere.
            let may: Vec<&str> = run
                .bodies()
                .filter(|body| !book.moves.iter().any(|also| also.body == body.name))
                .filter(|body| {
                    body.placements
                        .iter()
                        .any(|place| run.carrier(&body.name, &place.name) == Some(&moved.body))
                })
                .map(|body| body.name.as_str())
                .collect();
            for body in may {
                let Some(track) = tracks.get(&What::Body(body)) else { continue };
                let offends = move |order: &Precedence| {
                    let on = |state: &str| run.carrier(body, state) == Some(moved.body.as_str());
                    let wrong = track.before(order, step).into_iter().find(|possible| on(&possible.state))?;
                    Some(Offence {
                        done: wrong.done,
                        begun: StepSet::from(order.len(), [step]),
                        says: format!(
                            "\"{}\" moves \"{}\", which may carry \"{body}\" then (in \"{}\"), and does not say where \"{body}\" goes.",
                            run.step(step).name,
                            moved.body,
                            wrong.state
                        ),
                    })
                };
                let on_it = |place: &&tober_book::Placement| {
                    run.carrier(body, &place.name) == Some(moved.body.as_str())
                };
                let places = run.ride.body(body).into_iter().flat_map(|body| &body.placements);
                let said = Statement::BeginsNot {
                    step: book.name.clone(),
                    thing: What::Body(body).into(),
                    are: places.filter(on_it).map(|place| place.name.clone()).collect(),
                };
                all.push(Asked {
                    rule: Rule::Carried,
                    said,
                    subject: format!("\"{body}\" on \"{}\" in \"{}\"", moved.body, book.name),
                    span: moved.place.key("body"),
                    help: format!("Write where \"{body}\" goes in the same step, or take it off before; or write at its placement what carries it there (`carried-by`)."),
                    matters: vec![Matter::State(What::Body(body)), Matter::State(What::Body(&moved.body))],
                    test: Test::Every(Box::new(offends)),
                });
            }
        }
    }
    all
}
