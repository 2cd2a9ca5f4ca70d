//! Stages in which not all legs are set: one closure for each set of steps done that set or take away a leg.
//!
//! Beside the legs that are set the wheels and the hitch jack may carry, and how much is not known: the trailer hangs on them by
//! springs, chocks and what the jack was wound to. So a leg has [most found, bound]: found with the legs alone, where they stand by
//! themselves; bounded with anything between nothing and all on wheels and jack. Over the edges the legs alone
//! count where they hold it, which is the safe side; else the wheels and the jack with them, and that it needs them is said.
//!
//! A step that sets or takes away a leg while others go on: the leg carries, does not, or carries a part, and the first is bounded in
//! the window before or after it, the second is that window's edges.

use super::AtStage;
use super::bound::bound;
use super::standing::{EdgeOver, Standing};
use super::sums::{self, Window};
use crate::run::{ROAD, Run};
use crate::state::Tracks;
use std::collections::{BTreeMap, BTreeSet};
use tober_book::Does;
use tober_calc::orders::{StepSet, branches};

/// So many sets of such steps done at most. Counted in work, so that the answer is the same everywhere.
const SETS_MOST: usize = 256;

/// What a leg carries while not all legs are set.
#[derive(Clone, Debug)]
pub struct PartlyFoot {
    /// The leg.
    pub name: String,
    /// The most found on it: newtons. `None` where the legs that are set do not stand by themselves.
    pub found: Option<f64>,
    /// What it can never carry more than, and the stage for which that is worked out.
    pub bound: AtStage,
    /// What the book rates it for: newtons.
    pub rated: Option<f64>,
}

/// The worst of the stages in which the ride stands on some of its legs.
#[derive(Clone, Debug)]
pub struct Partly {
    /// What it may stand on: the legs that are set, and wheels and hitch jack where they are needed.
    pub legs: Vec<String>,
    /// Whether it stands only as long as the wheels and the hitch jack carry too: the legs alone are on one line, or would
    /// let it over with the factors of a set.
    pub needs_others: bool,
    /// The steps that may move something there.
    pub steps: Vec<String>,
    /// Each leg that is set.
    pub feet: Vec<PartlyFoot>,
    /// Each edge by each set of factors; empty where nothing is known that it could stand on.
    pub edges: Vec<EdgeOver>,
}

/// The windows of a run by the legs that are set in them. `None` where there are too many.
///
/// It may stand on the same legs before one is set and after it is taken away again.
pub(crate) fn by_legs<'a>(
    run: &Run<'a>,
    tracks: &Tracks<'_>,
) -> Option<BTreeMap<BTreeSet<&'a str>, Vec<Window>>> {
    let special = sums::leg_steps(run);
    let mut all: BTreeMap<BTreeSet<&str>, Vec<Window>> = BTreeMap::new();
    for held in branches(&run.order, &special, SETS_MOST)? {
        let windows = sums::windows_with(run, tracks, &held, &special);
        all.entry(set_after(run, &held, &special)).or_default().extend(windows);
    }
    Some(all)
}

/// Whether all the feet are among the legs.
pub(crate) fn on_all(standing: &Standing, legs: &BTreeSet<&str>) -> bool {
    standing.feet.iter().all(|foot| legs.contains(foot.name.as_str()))
}

/// Those stages on some of the legs in which something moves or has been moved.
pub(crate) fn partly(
    run: &Run<'_>,
    by_legs: &BTreeMap<BTreeSet<&str>, Vec<Window>>,
    standing: &Standing,
) -> Vec<Partly> {
    let mut all = Vec::new();
    for (legs, windows) in by_legs {
        if on_all(standing, legs) {
            continue;
        }
        let may_move = |number: &usize| {
            sums::moves_something(run, *number) && windows.iter().any(|one| sums::covers(run, one, *number))
        };
        let steps: Vec<usize> = (0..run.steps.len()).filter(may_move).collect();
        // With everything where it is on the road the legs are set as the packing plan has it, which is checked there.
        if steps.is_empty() && windows.iter().all(|window| as_on_the_road(run, window)) {
            continue;
        }
        let feet = standing.feet.iter().filter(|foot| legs.contains(foot.name.as_str())).cloned().collect();
        let alone = Standing { feet, ..standing.clone() };
        let by_themselves = alone.corners().len() >= 3;
        let others = &standing.others;
        let feet = alone.feet.iter().enumerate().filter_map(|(number, foot)| {
            let spots: Vec<[f64; 2]> = others.iter().map(|other| other.at).collect();
            let (most, found) = bound(run, windows, &alone, &spots, number);
            Some(PartlyFoot { name: foot.name.clone(), found, bound: most?, rated: foot.rated })
        });
        let feet: Vec<PartlyFoot> = feet.collect();
        // What is over on its legs comes down on its wheels; what is over on all of them is over.
        let alone_edges = alone.edges_over(run, windows);
        let needs_others = !by_themselves || alone_edges.iter().any(|edge| edge.over.value > 0.0);
        let mut edges = alone_edges;
        let mut on = alone;
        if needs_others && !others.is_empty() {
            on.feet.extend(others.iter().cloned());
            edges = on.edges_over(run, windows);
        }
        let names = steps.into_iter().map(|number| run.step(number).name.clone()).collect();
        let legs = on.feet.iter().map(|foot| foot.name.clone()).collect();
        all.push(Partly { legs, needs_others, steps: names, feet, edges });
    }
    all
}

/// The legs that carry and are set once these steps are done. One that no step sets is set from the beginning.
fn set_after<'a>(run: &Run<'a>, held: &StepSet, special: &StepSet) -> BTreeSet<&'a str> {
    let sets = |name: &String| special.iter().any(|number| run.step(number).sets.contains(name));
    let carry = run.ride.supports.iter().filter(|leg| leg.does == Does::Carries && !sets(&leg.name));
    let mut legs: BTreeSet<&str> = carry.map(|leg| leg.name.as_str()).collect();
    let mut in_order: Vec<usize> = held.iter().collect();
    in_order.sort_by_key(|&number| run.order.before(number).count());
    for number in in_order {
        let step = run.step(number);
        legs.extend(step.sets.iter().map(String::as_str));
        for name in &step.takes_away {
            legs.remove(name.as_str());
        }
    }
    legs
}

/// Whether everything is where it is on the road when such a window begins.
fn as_on_the_road(run: &Run<'_>, window: &Window) -> bool {
    let in_order = run.order.an_order(&window.done);
    run.bodies().all(|body| {
        let road = body.placement(ROAD).or(body.placements.first());
        let now = sums::place_of(run, body, &in_order);
        now.map(|place| place.cg) == road.map(|place| place.cg)
    })
}
