//! What must hold before a sum over the steps is the whole truth.

use crate::run::Run;
use crate::state::{self, Tracks};
use crate::track::What;
use crate::{carried, claim::Test};
use tober_book::Ride;

/// One condition.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Condition {
    /// What must hold.
    pub words: String,
    /// Where it does not, or what is not known.
    pub broken: Option<String>,
}

pub(crate) fn conditions(run: &Run<'_>, tracks: &Tracks<'_>, ride: &Ride) -> Vec<Condition> {
    let chain = tracks.iter().find_map(|(what, track)| {
        let What::Body(name) = what else { return None };
        track.writes.iter().enumerate().find_map(|(at, one)| {
            let other =
                track.writes[at + 1..].iter().find(|other| run.order.unordered(one.step, other.step))?;
            let (one, other) = (&run.step(one.step).name, &run.step(other.step).name);
            Some(format!("\"{one}\" and \"{other}\" both move \"{name}\", in either order."))
        })
    });
    let first = |asked: Vec<crate::claim::Asked<'_>>| {
        asked.into_iter().find_map(|asked| match asked.test {
            Test::Every(offends) => offends(&run.order).map(|offence| offence.says),
            Test::NotKnown(why) => Some(why),
        })
    };
    let from = first(state::moves(run, tracks));
    let carried = first(carried::carried(run, tracks));
    let masses =
        ride.bodies.is_empty().then(|| "The bodies of the ride, with their masses and places.".to_owned());
    let places = run
        .bodies()
        .find(|body| body.placements.is_empty())
        .map(|body| format!("Where \"{}\" is.", body.name));
    vec![
        Condition {
            words: "the moves of each body follow one another in one order".to_owned(),
            broken: chain,
        },
        Condition { words: "everything moves from where it is".to_owned(), broken: from },
        Condition { words: "what carries something does not move without it".to_owned(), broken: carried },
        Condition { words: "every heavy part has a mass and a place".to_owned(), broken: masses.or(places) },
    ]
}
