//! The story of a refutation: the steps in an order that the book admits, with what matters after each.

use crate::claim::{Matter, Told};
use crate::counts::tally;
use crate::run::Run;
use crate::state::Tracks;
use tober_calc::orders::{Precedence, StepSet};

/// The steps of a stage, in an order that the book admits, with what each changes of what matters.
pub(crate) fn story(
    run: &Run<'_>,
    tracks: &Tracks<'_>,
    order: &Precedence,
    done: &StepSet,
    matters: &[Matter<'_>],
) -> Vec<Told> {
    let tallies: Vec<_> = matters
        .iter()
        .map(|matter| match *matter {
            Matter::Home(fixing, home) => tally(run, fixing, home, true),
            Matter::State(_) => None,
        })
        .collect();
    let mut counts: Vec<Option<i64>> =
        tallies.iter().map(|tally| tally.as_ref().map(|tally| tally.start)).collect();
    let mut told = Vec::new();
    for step in order.an_order(done) {
        let mut changes = Vec::new();
        for (number, matter) in matters.iter().enumerate() {
            match *matter {
                Matter::State(what) => {
                    let writes = tracks.get(&what).into_iter().flat_map(|track| &track.writes);
                    for write in writes.filter(|write| write.step == step) {
                        changes.push(format!("{} is {}", what.words(), what.state(&write.to)));
                    }
                }
                Matter::Home(fixing, home) => {
                    let (Some(count), Some(tally)) = (counts[number].as_mut(), &tallies[number]) else {
                        continue;
                    };
                    if tally.change[step] != 0 {
                        *count += tally.change[step];
                        changes.push(format!("{count} of \"{fixing}\" in \"{home}\""));
                    }
                }
            }
        }
        told.push(Told { step: run.step(step).name.clone(), changes });
    }
    told
}
