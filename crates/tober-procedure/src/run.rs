//! A run: the steps of one visit, and which must come before which.

use std::collections::{BTreeMap, BTreeSet};
use tober_book::{Body, Phase, Placement, Ride, Step};
use tober_calc::orders::{Precedence, StepSet};

/// The placement a body is in on the road.
pub(crate) const ROAD: &str = "road";
/// The placement a body is in when the ride is open.
pub(crate) const OPEN: &str = "open";

/// Which way through a visit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Build-up, open, pull-down; of the steps at night only those that the pull-down waits for.
    Day,
    /// Build-up, open, shut for a night, proved again, pull-down.
    Night,
}

impl Way {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Self::Day => "pulled down after the day",
            Self::Night => "with a night between",
        }
    }
}

/// The steps of one visit with what must come before what.
///
/// A step waits for its `after`, and for every step of the phases before its own: phases follow one another. Where a
/// step is left out because the equipment it is for stays at home, what waited for it waits for what it waited for.
pub struct Run<'a> {
    /// The ride.
    pub ride: &'a Ride,
    /// Which way through.
    pub way: Way,
    /// The bodies that stay at home.
    pub absent: BTreeSet<&'a str>,
    /// The steps, in the order of the book; a step is named by its number here.
    pub steps: Vec<&'a Step>,
    /// Which must be done before which.
    pub order: Precedence,
}

/// Every way through a visit without the bodies that stay at home, or the steps that wait for each other in a circle.
pub fn runs<'a>(ride: &'a Ride, absent: &BTreeSet<&'a str>) -> Result<Vec<Run<'a>>, Vec<&'a Step>> {
    let night = ride.steps.iter().any(|step| matches!(step.phase, Phase::Shut | Phase::Reopen));
    let ways: &[Way] = if night { &[Way::Day, Way::Night] } else { &[Way::Day] };
    ways.iter().map(|&way| run(ride, absent, way)).collect()
}

fn run<'a>(ride: &'a Ride, absent: &BTreeSet<&'a str>, way: Way) -> Result<Run<'a>, Vec<&'a Step>> {
    let by_name: BTreeMap<&str, usize> =
        ride.steps.iter().enumerate().map(|(at, step)| (step.name.as_str(), at)).collect();
    let before =
        |at: usize| ride.steps[at].after.iter().filter_map(|name| by_name.get(name.as_str()).copied());
    let at_night = |at: usize| matches!(ride.steps[at].phase, Phase::Shut | Phase::Reopen);
    let wanted: BTreeSet<usize> = {
        let always = |at: &usize| !at_night(*at) && ride.steps[*at].phase != Phase::Stopped;
        let mut wanted: BTreeSet<usize> = (0..ride.steps.len()).filter(always).collect();
        match way {
            Way::Night => wanted.extend((0..ride.steps.len()).filter(|&at| at_night(at))),
            // What the pull-down waits for is done in either case.
            Way::Day => {
                let mut open: Vec<usize> = wanted
                    .iter()
                    .copied()
                    .filter(|&at| matches!(ride.steps[at].phase, Phase::PullDown | Phase::Leave))
                    .collect();
                while let Some(at) = open.pop() {
                    open.extend(before(at).filter(|&at| at_night(at) && wanted.insert(at)));
                }
            }
        }
        wanted
    };
    let left_out = |at: usize| {
        !wanted.contains(&at) || ride.steps[at].only_with.iter().any(|body| absent.contains(body.as_str()))
    };
    let kept: Vec<usize> = wanted.iter().copied().filter(|&at| !left_out(at)).collect();
    let number: BTreeMap<usize, usize> = kept.iter().enumerate().map(|(number, &at)| (at, number)).collect();
    let mut after: Vec<Vec<usize>> = Vec::with_capacity(kept.len());
    for &at in &kept {
        let mut waits = BTreeSet::new();
        let mut open: Vec<usize> = before(at).collect();
        let mut seen = BTreeSet::new();
        while let Some(earlier) = open.pop() {
            if !seen.insert(earlier) {
                continue;
            }
            match number.get(&earlier) {
                Some(&number) => drop(waits.insert(number)),
                None => open.extend(before(earlier)),
            }
        }
        after.push(waits.into_iter().collect());
    }
    follow_phases(&kept, ride, &mut after);
    let steps: Vec<&Step> = kept.iter().map(|&at| &ride.steps[at]).collect();
    match Precedence::new(&after) {
        Ok(order) => Ok(Run { ride, way, absent: absent.clone(), steps, order }),
        Err(circle) => Err(circle.into_iter().map(|number| steps[number]).collect()),
    }
}

/// Every step waits for what ends the nearest phase before its own that has steps.
fn follow_phases(kept: &[usize], ride: &Ride, after: &mut [Vec<usize>]) {
    let phase = |number: usize| ride.steps[kept[number]].phase;
    let phases: BTreeSet<Phase> = (0..kept.len()).map(phase).collect();
    let phases: Vec<Phase> = phases.into_iter().collect();
    for pair in phases.windows(2) {
        let of = |wanted: Phase| (0..kept.len()).filter(move |&number| phase(number) == wanted);
        let waited_for: BTreeSet<usize> =
            of(pair[0]).flat_map(|number| after[number].iter().copied()).collect();
        let ends: Vec<usize> = of(pair[0]).filter(|number| !waited_for.contains(number)).collect();
        for number in of(pair[1]) {
            let has_earlier = after[number].iter().any(|&earlier| phase(earlier) == pair[1]);
            if !has_earlier {
                after[number].extend(ends.iter().copied().filter(|end| *end != number));
            }
        }
    }
}

impl<'a> Run<'a> {
    /// The step of a number.
    pub fn step(&self, number: usize) -> &'a Step {
        self.steps[number]
    }

    /// The bodies that are there.
    pub fn bodies(&self) -> impl Iterator<Item = &'a Body> + '_ {
        self.ride.bodies.iter().filter(|body| !self.absent.contains(body.name.as_str()))
    }

    /// A placement of a body that is there.
    pub(crate) fn placement(&self, body: &str, place: &str) -> Option<&'a Placement> {
        self.ride.body(body)?.placement(place)
    }

    /// What carries a body in a placement.
    pub(crate) fn carrier(&self, body: &str, place: &str) -> Option<&'a str> {
        let whole = self.ride.body(body)?;
        let there = whole.placement(place).and_then(|placement| placement.carried_by.as_deref());
        there.or(whole.carried_by.as_deref())
    }

    /// The steps up to and with a phase.
    pub(crate) fn up_to(&self, last: Phase) -> StepSet {
        let done = (0..self.steps.len()).filter(|&number| self.steps[number].phase <= last);
        StepSet::from(self.steps.len(), done)
    }

    /// What is done where two steps are about to begin at once, and nothing else that can wait.
    pub(crate) fn just_before(&self, order: &Precedence, begun: &[usize]) -> StepSet {
        begun.iter().fold(StepSet::none(self.steps.len()), |done, &step| done.union(order.before(step)))
    }
}
