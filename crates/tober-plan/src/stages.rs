//! The stages between the steps of the build-up, in the order of the book.

use crate::aboard::present;
use crate::stand::{OPEN, ROAD};
use std::collections::BTreeMap;
use tober_book::{Does, Phase, Ride, Step, Visit};

/// A stage: after which step, whether it stands on its legs yet, and where each body that has moved is.
pub(crate) struct Stage<'a> {
    /// The step after which it is.
    pub after: String,
    /// Whether every leg that carries is set.
    pub on_legs: bool,
    /// The placement of each body, by name.
    pub places: BTreeMap<String, String>,
    /// The steps in which it may be met: the one that ends in it, and those up to the one that ends it.
    pub during: Vec<&'a Step>,
}

/// Every stage after which something has moved, from the road to the open ride.
///
/// A book without steps has none, and then there is nothing to say. Where the steps do not lead from "road" to "open",
/// what is wrong is said.
pub(crate) fn stages<'a>(ride: &'a Ride, visit: &Visit) -> Result<Vec<Stage<'a>>, String> {
    let steps = ride.steps.iter().filter(|step| matches!(step.phase, Phase::Arrive | Phase::BuildUp));
    let mut places: BTreeMap<String, String> =
        present(ride, visit).map(|body| (body.name.clone(), ROAD.to_owned())).collect();
    let carry = || ride.supports.iter().filter(|support| support.does == Does::Carries);
    let tells_of_legs = ride.steps.iter().any(|step| !step.sets.is_empty());
    let mut set: Vec<&str> = Vec::new();
    let mut stages: Vec<Stage<'a>> = Vec::new();
    let mut any = false;
    for step in steps {
        any = true;
        if let Some(before) = stages.last_mut() {
            before.during.push(step);
        }
        set.extend(step.sets.iter().map(String::as_str));
        set.retain(|name| !step.takes_away.iter().any(|taken| taken == name));
        for moved in &step.moves {
            let Some(place) = places.get_mut(&moved.body) else { continue };
            if *place != moved.from {
                return Err(format!(
                    "Where \"{}\" is before the step \"{}\": it moves from \"{}\", and would be in \"{place}\".",
                    moved.body, step.name, moved.from
                ));
            }
            place.clone_from(&moved.to);
        }
        if !step.moves.is_empty() {
            let on_legs = !tells_of_legs || carry().all(|support| set.contains(&support.name.as_str()));
            stages.push(Stage {
                after: step.name.clone(),
                on_legs,
                places: places.clone(),
                during: vec![step],
            });
        }
    }
    // A body that has one place all the time need not be moved.
    let cg = |body: &str, placement: &str| ride.body(body)?.placement(placement).map(|there| there.cg);
    let elsewhere = |(body, place): &(&String, &String)| *place != OPEN && cg(body, place) != cg(body, OPEN);
    if let (true, Some((body, place))) = (any, places.iter().find(elsewhere)) {
        return Err(format!(
            "The step that brings \"{body}\" to \"{OPEN}\": the last leaves it in \"{place}\"."
        ));
    }
    Ok(stages)
}
