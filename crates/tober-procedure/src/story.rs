//! The story of a refutation: the steps in an order that the book admits, with what matters after each.

use crate::claim::{Matter, Told};
use crate::counts::tally;
use crate::proof::track;
use crate::run::{OPEN, Run};
use crate::said::{Statement, Thing};
use crate::state::Tracks;
use crate::track::{Track, What};
use tober_calc::orders::StepSet;

/// The steps of a stage, in an order that the book admits, with what each changes of what matters.
pub(crate) fn story(
    run: &Run<'_>,
    tracks: &Tracks<'_>,
    said: &Statement,
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
    for step in showing(run, tracks, said, done) {
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

/// An order of the steps of a stage at whose end the things are as the statement says they must not be.
///
/// Where steps that change one thing wait for nothing of each other, the last of them says how it is; so the one that shows
/// the offence, and what waits for it, come last.
fn showing(run: &Run<'_>, tracks: &Tracks<'_>, said: &Statement, done: &StepSet) -> Vec<usize> {
    let order = &run.order;
    let first = order.an_order(done);
    let shows: Shows<'_> = match said {
        Statement::Begins { thing, is, .. } => one(tracks, thing, move |state| state != is),
        Statement::BeginsNot { thing, are, .. } => {
            one(tracks, thing, |state| are.iter().any(|bad| bad == state))
        }
        Statement::Open { body } => {
            let cg = |place: &str| run.placement(body, place).map(|place| place.cg);
            one(tracks, &Thing::Body(body.clone()), move |state| cg(state) != cg(OPEN))
        }
        Statement::OpenIs { thing, is } => one(tracks, thing, move |state| state != is),
        Statement::HomeNot { thing, is } => one(tracks, thing, move |state| state == is),
        Statement::Never { body, place } => {
            one(tracks, &Thing::Body(body.clone()), move |state| state == place)
        }
        Statement::Home(thing) => track(tracks, thing)
            .into_iter()
            .flat_map(|track| one(tracks, thing, |state| state != track.start))
            .collect(),
        Statement::Held { body, place, .. } | Statement::OnTheLine { body, place } => {
            let mut shows = one(tracks, &Thing::Body(body.clone()), move |state| state == place);
            for (_, track) in tracks.iter().filter(|(what, _)| matches!(what, What::Line(_))) {
                shows.push((track, Box::new(move |state: &str| state != body)));
            }
            shows
        }
        _ => return first,
    };
    let ends = |steps: &[usize]| {
        shows.iter().all(|(track, right)| {
            let last = steps
                .iter()
                .rev()
                .find_map(|&step| track.writes.iter().rev().find(|write| write.step == step));
            right(last.map_or(track.start.as_str(), |write| &write.to))
        })
    };
    if ends(&first) {
        return first;
    }
    let writers: Vec<usize> = shows
        .iter()
        .flat_map(|(track, _)| &track.writes)
        .map(|write| write.step)
        .filter(|&step| done.contains(step))
        .collect();
    // One writer last, then each pair of them.
    let mut tries: Vec<Vec<usize>> = writers.iter().map(|&step| vec![step]).collect();
    tries.extend(writers.iter().flat_map(|&one| writers.iter().map(move |&other| vec![one, other])));
    for late in tries {
        let mut ahead = done.clone();
        let mut steps: Vec<Vec<usize>> = Vec::new();
        for &step in late.iter().rev() {
            let tail: Vec<usize> =
                ahead.iter().filter(|&other| other == step || order.is_before(step, other)).collect();
            tail.iter().for_each(|&step| ahead.remove(step));
            steps.push(order.an_order(&StepSet::from(order.len(), tail)));
        }
        steps.push(order.an_order(&ahead));
        let whole: Vec<usize> = steps.into_iter().rev().flatten().collect();
        if ends(&whole) {
            return whole;
        }
    }
    first
}

type Shows<'t> = Vec<(&'t Track, Box<dyn Fn(&str) -> bool + 't>)>;

fn one<'t>(tracks: &'t Tracks<'_>, thing: &Thing, wrong: impl Fn(&str) -> bool + 't) -> Shows<'t> {
    track(tracks, thing)
        .map(|track| (track, Box::new(wrong) as Box<dyn Fn(&str) -> bool + 't>))
        .into_iter()
        .collect()
}
