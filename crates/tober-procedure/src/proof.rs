//! Why a claim holds, as an object small enough to be checked by a program that shares nothing with this one.

use crate::counts::tally;
use crate::held::{closed, windows};
use crate::run::{OPEN, Run};
use crate::said::{Statement, Thing};
use crate::state::Tracks;
use crate::track::{NOTHING, Track, What, tracks};
use tober_book::Phase;
use tober_calc::orders::{Extreme, Precedence, StepSet, greatest, least};

/// Why a claim holds in every order.
#[derive(Clone, Debug)]
pub enum Proof {
    /// Each step that would leave the thing in a wrong state is barred from being the last that changed it.
    Bars(Vec<Bar>),
    /// Every two steps that bar each other are in an order.
    Ordered,
    /// The least, or greatest, of a home over the stages in question.
    Cuts(Vec<Cut>),
    /// It is seen from the steps themselves.
    Plain,
}

/// Why a step does not leave a thing in a wrong state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    /// The thing.
    pub thing: Thing,
    /// The step; `None` for the state on the road.
    pub writer: Option<usize>,
    /// The step that changes it afterwards; `None` where `writer` is not done yet at the stages in question.
    pub by: Option<usize>,
}

/// A bound on how many are in a home. Steps by their numbers in the run.
#[derive(Clone, Debug)]
pub struct Cut {
    /// The fixing.
    pub fixing: String,
    /// The home.
    pub home: String,
    /// Steps that are done at every stage meant.
    pub done: Vec<usize>,
    /// Steps that are not begun at any.
    pub open: Vec<usize>,
    /// Whether it is the least, and not the greatest.
    pub is_least: bool,
    /// The bound with its own proof.
    pub extreme: Extreme,
}

/// Proves the statements of one run.
pub struct Prover<'a> {
    run: &'a Run<'a>,
    tracks: Tracks<'a>,
}

impl<'a> Prover<'a> {
    /// For a run.
    pub fn new(run: &'a Run<'a>) -> Self {
        Self { run, tracks: tracks(run) }
    }

    /// The proof of a statement that holds under an order: the run's, or that with further rules. `None` where it is said
    /// in words only, or names what is not there.
    ///
    /// A statement that does not hold gets a proof that does not hold either; it is not looked at here.
    pub fn proof(&self, order: &Precedence, said: &Statement) -> Option<Proof> {
        prove(self.run, &self.tracks, order, said)
    }
}

fn prove(run: &Run<'_>, tracks: &Tracks<'_>, order: &Precedence, said: &Statement) -> Option<Proof> {
    let none = StepSet::none(order.len());
    let begins = |step: &str| -> Option<(StepSet, StepSet)> {
        let step = number(run, step)?;
        let mut open = order.later(step).clone();
        open.insert(step);
        Some((order.before(step).clone(), open))
    };
    let rest =
        |done: &StepSet| StepSet::from(done.len(), (0..done.len()).filter(|&step| !done.contains(step)));
    match said {
        Statement::Begins { step, thing, is } => {
            let (done, open) = begins(step)?;
            Some(Proof::Bars(bars(track(tracks, thing)?, thing, order, &done, &open, &|to| to == is)))
        }
        Statement::BeginsNot { step, thing, are } => {
            let (done, open) = begins(step)?;
            let right = |to: &str| !are.iter().any(|state| state == to);
            Some(Proof::Bars(bars(track(tracks, thing)?, thing, order, &done, &open, &right)))
        }
        Statement::Open { body } => {
            let thing = Thing::Body(body.clone());
            let open = run.placement(body, OPEN)?;
            let right = |to: &str| run.placement(body, to).is_some_and(|place| place.cg == open.cg);
            let done = run.up_to(Phase::Prove);
            Some(Proof::Bars(bars(track(tracks, &thing)?, &thing, order, &done, &rest(&done), &right)))
        }
        Statement::OpenIs { thing, is } => {
            let done = run.up_to(Phase::Prove);
            let right = |to: &str| to == is;
            Some(Proof::Bars(bars(track(tracks, thing)?, thing, order, &done, &rest(&done), &right)))
        }
        Statement::HomeNot { thing, is } => {
            let all = StepSet::all(order.len());
            Some(Proof::Bars(bars(track(tracks, thing)?, thing, order, &all, &none, &|to| to != is)))
        }
        Statement::Home(thing) => {
            let track = track(tracks, thing)?;
            let all = StepSet::all(order.len());
            Some(Proof::Bars(bars(track, thing, order, &all, &none, &|to| to == track.start)))
        }
        Statement::WayBack { step } => {
            let step = number(run, step)?;
            let mut done = order.before(step).clone();
            done.insert(step);
            let mut all = Vec::new();
            for (&what, track) in tracks {
                let start = match what {
                    What::Body(_) => track.start.as_str(),
                    What::Line(_) => NOTHING,
                    _ => continue,
                };
                all.extend(bars(track, &what.into(), order, &done, &rest(&done), &|to| to == start));
            }
            Some(Proof::Bars(all))
        }
        Statement::Race(_) | Statement::Overlap => Some(Proof::Ordered),
        Statement::Bounds { fixing, home } => {
            let low = cut(run, order, (fixing, home), (&none, &none), true)?;
            Some(Proof::Cuts(vec![low, cut(run, order, (fixing, home), (&none, &none), false)?]))
        }
        Statement::Least { step, fixing, home, .. } => {
            let (done, open) = begins(step)?;
            Some(Proof::Cuts(vec![cut(run, order, (fixing, home), (&done, &open), true)?]))
        }
        Statement::Most { step, fixing, home, .. } => {
            let (done, open) = begins(step)?;
            Some(Proof::Cuts(vec![cut(run, order, (fixing, home), (&done, &open), false)?]))
        }
        Statement::Held { body, place, fixing, home, .. } => {
            let windows = windows(tracks, order, body, place);
            let cuts = windows.iter().filter_map(|window| {
                let (done, open) = closed(order, window);
                (!done.intersects(&open)).then(|| cut(run, order, (fixing, home), (&done, &open), true))?
            });
            Some(Proof::Cuts(cuts.collect()))
        }
        Statement::OnTheLine { .. }
        | Statement::NobodyUnder { .. }
        | Statement::Never { .. }
        | Statement::HomeAgain { .. } => Some(Proof::Plain),
        Statement::Order | Statement::Words => None,
    }
}

/// Whether the stage that refutes a statement is one of the fewest steps that do.
///
/// A stage of the worst value with the fewest steps is one of the fewest that offend at all where every stage that
/// offends is worse by one only, which the cuts tell.
pub(crate) fn is_shortest(run: &Run<'_>, tracks: &Tracks<'_>, order: &Precedence, said: &Statement) -> bool {
    let wanted = match said {
        Statement::Order | Statement::Words => return false,
        Statement::Least { count, .. } | Statement::Most { count, .. } | Statement::Held { count, .. } => {
            *count
        }
        Statement::Bounds { .. } => 0,
        _ => return true,
    };
    let Some(Proof::Cuts(cuts)) = prove(run, tracks, order, said) else { return false };
    let (mut by, mut sides) = (Vec::new(), [false, false]);
    for cut in cuts {
        let over = match (&said, cut.is_least) {
            (Statement::Bounds { fixing, home }, false) => {
                let fixing = run.ride.fixings.iter().find(|there| there.name == *fixing);
                let home = fixing.and_then(|fixing| fixing.homes.iter().find(|there| there.name == *home));
                let holds = home.and_then(|home| i64::try_from(home.holds).ok());
                holds.map_or(0, |holds| cut.extreme.value.saturating_sub(holds))
            }
            (Statement::Most { .. }, _) => cut.extreme.value.saturating_sub(wanted),
            _ => wanted.saturating_sub(cut.extreme.value),
        };
        if over > 0 {
            by.push(over);
            sides[usize::from(cut.is_least)] = true;
        }
    }
    by.iter().all(|&by| by == 1) && !(sides[0] && sides[1])
}

/// The steps that change what a statement is about, where the last of them decides.
pub(crate) fn writers(tracks: &Tracks<'_>, said: &Statement) -> Vec<usize> {
    let about = |what: What<'_>| match said {
        Statement::Begins { thing, .. }
        | Statement::BeginsNot { thing, .. }
        | Statement::OpenIs { thing, .. }
        | Statement::HomeNot { thing, .. }
        | Statement::Home(thing) => Thing::from(what) == *thing,
        Statement::Open { body } | Statement::Never { body, .. } => {
            matches!(what, What::Body(name) if name == body)
        }
        Statement::Held { body, .. } | Statement::OnTheLine { body, .. } => {
            matches!(what, What::Line(_)) || matches!(what, What::Body(name) if name == body)
        }
        Statement::WayBack { .. } => matches!(what, What::Line(_) | What::Body(_)),
        _ => false,
    };
    let tracks = tracks.iter().filter(|(what, _)| about(**what));
    tracks.flat_map(|(_, track)| &track.writes).map(|write| write.step).collect()
}

/// The number of a step in a run.
fn number(run: &Run<'_>, name: &str) -> Option<usize> {
    run.steps.iter().position(|step| step.name == name)
}

/// The track of a thing.
pub(crate) fn track<'t>(tracks: &'t Tracks<'_>, thing: &Thing) -> Option<&'t Track> {
    tracks.iter().find(|(what, _)| Thing::from(**what) == *thing).map(|(_, track)| track)
}

/// What bars every wrong writer, where something does.
fn bars(
    track: &Track,
    thing: &Thing,
    order: &Precedence,
    done: &StepSet,
    open: &StepSet,
    right: &dyn Fn(&str) -> bool,
) -> Vec<Bar> {
    let mut all = Vec::new();
    if !right(&track.start) {
        let by = track.writes.iter().map(|write| write.step).find(|&step| done.contains(step));
        all.extend(by.map(|by| Bar { thing: thing.clone(), writer: None, by: Some(by) }));
    }
    for write in track.writes.iter().filter(|write| !right(&write.to)) {
        let by = track
            .writes
            .iter()
            .map(|other| other.step)
            .find(|&other| done.contains(other) && order.is_before(write.step, other));
        if by.is_some() || open.contains(write.step) {
            all.push(Bar { thing: thing.clone(), writer: Some(write.step), by });
        }
    }
    all
}

fn cut(
    run: &Run<'_>,
    order: &Precedence,
    (fixing, home): (&str, &str),
    (done, open): (&StepSet, &StepSet),
    is_least: bool,
) -> Option<Cut> {
    let tally = tally(run, fixing, home, is_least)?;
    let extreme =
        if is_least { least(order, &tally, done, open) } else { greatest(order, &tally, done, open) }?;
    Some(Cut {
        fixing: fixing.to_owned(),
        home: home.to_owned(),
        done: done.iter().collect(),
        open: open.iter().collect(),
        is_least,
        extreme,
    })
}
