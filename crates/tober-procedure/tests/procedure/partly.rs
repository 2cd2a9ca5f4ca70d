//! Stages on some of the legs, against the enumeration of every stage, each with its own legs by C3.

use crate::stages::{Chance, NEWTONS, every, place, ride_with, worst_of};
use std::collections::BTreeSet;
use tober_book::Ride;
use tober_calc::supports::{Answer, Load, Support, solve};
use tober_procedure::stages::{Foot, Partly, Standing, stages};
use tober_quantity::{Force, Length, Mass, Stiffness};

type Stage = (Vec<usize>, Vec<usize>);

/// The legs set once these steps are done.
fn legs(ride: &Ride, done: &[usize]) -> BTreeSet<String> {
    let ever = |name: &String| ride.steps.iter().any(|step| step.sets.contains(name));
    let names = ride.supports.iter().map(|leg| leg.name.clone());
    let mut legs: BTreeSet<String> = names.filter(|name| !ever(name)).collect();
    // In the book a leg is set before it is taken away.
    for &step in done {
        legs.extend(ride.steps[step].sets.iter().cloned());
        for name in &ride.steps[step].takes_away {
            legs.remove(name);
        }
    }
    legs
}

fn changes_legs(ride: &Ride, step: usize) -> bool {
    !ride.steps[step].sets.is_empty() || !ride.steps[step].takes_away.is_empty()
}

/// The part that tells of the legs of a stage.
fn part<'a>(parts: &'a [Partly], on: &BTreeSet<String>) -> Option<&'a Partly> {
    parts.iter().find(|part| {
        let own: BTreeSet<String> = part.feet.iter().map(|foot| foot.name.clone()).collect();
        own == *on
    })
}

fn support(foot: &Foot, stiffness: f64) -> Support {
    Support {
        x: Length::m(foot.at[0]),
        y: Length::m(foot.at[1]),
        stiffness: Stiffness::n_per_m(stiffness),
        gap: Length::ZERO,
    }
}

#[test]
fn law_no_stage_on_some_of_the_legs_passes_its_bound_whatever_the_wheels_carry() {
    let mut chance = Chance(2027);
    let (mut seen, mut on_wheels) = (0, 0);
    for _ in 0..60 {
        let ride = ride_with(&mut chance, true);
        let standing = Standing::of_book(&ride);
        let found = stages(&ride, &BTreeSet::new(), &standing).expect("it moves something");
        assert!(found.not_covered.is_empty(), "{:?}", found.not_covered);
        let all: BTreeSet<String> = standing.feet.iter().map(|foot| foot.name.clone()).collect();
        for stage in every(&ride).into_iter().filter(|stage| stage.1.is_empty()) {
            let on = legs(&ride, &stage.0);
            if on == all {
                continue;
            }
            let Some(part) = part(&found.partly, &on) else {
                let moved = |step: &usize| !ride.steps[*step].moves.is_empty();
                assert!(!stage.0.iter().any(moved), "nothing tells of {stage:?} on {on:?}");
                continue;
            };
            let (mut weight, mut along, mut across) = (0.0, 0.0, 0.0);
            for body in &ride.bodies {
                let there = place(&ride, body, &stage);
                let mass = if chance.next(2) == 0 { body.mass.low() } else { body.mass.high() };
                let own = Force::weight(mass).as_n();
                weight += own;
                along += own * there.at[0];
                across += own * there.at[1];
            }
            let load = Load::weight(Force::n(weight), Length::m(along / weight), Length::m(across / weight));
            // Wheels and hitch as stiff as may be, hardly at all, or clear.
            let legs_on = standing.feet.iter().filter(|foot| on.contains(&foot.name));
            let mut feet: Vec<Support> = legs_on.map(|foot| support(foot, foot.stiffness)).collect();
            let own = feet.len();
            match chance.next(3) {
                0 => {}
                _ => feet.extend(standing.others.iter().map(|o| support(o, chance.between(1e4, 1e7)))),
            }
            let Ok(Answer::Stands(stands)) = solve(&feet, &load) else { continue };
            seen += 1;
            on_wheels += usize::from(stands.reactions.iter().skip(own).any(|r| r.as_n() > 0.0));
            let names = standing.feet.iter().filter(|foot| on.contains(&foot.name));
            for (foot, reaction) in names.zip(&stands.reactions) {
                let said = part.feet.iter().find(|said| said.name == foot.name).expect("it is told");
                let carries = reaction.as_n();
                assert!(carries <= said.bound.value + NEWTONS, "{}: {carries} N passes {said:?}", foot.name);
                assert!(said.found.is_none_or(|found| found <= said.bound.value + NEWTONS), "{said:?}");
            }
        }
    }
    assert!(seen > 1000 && on_wheels > 300, "{seen} stages, {on_wheels} on wheels too");
}

#[test]
fn law_the_moment_over_the_edges_of_some_legs_is_that_of_the_enumeration() {
    let mut chance = Chance(41);
    let (mut compared, mut leaning) = (0, 0);
    for _ in 0..40 {
        let ride = ride_with(&mut chance, true);
        let standing = Standing::of_book(&ride);
        let found = stages(&ride, &BTreeSet::new(), &standing).expect("it moves something");
        for part in &found.partly {
            leaning += usize::from(part.needs_others);
            let own: BTreeSet<String> = part.feet.iter().map(|foot| foot.name.clone()).collect();
            let there = |stage: &Stage| {
                legs(&ride, &stage.0) == own && !stage.1.iter().any(|&step| changes_legs(&ride, step))
            };
            let some: Vec<Stage> = every(&ride).into_iter().filter(there).collect();
            for edge in &part.edges {
                let set = standing.factors.iter().find(|set| set.name == edge.factors).expect("it is there");
                let foot = |name: &String| -> &Foot {
                    let mut both = standing.feet.iter().chain(&standing.others);
                    both.find(|foot| foot.name == *name).expect("it is there")
                };
                let ([x, y], [u, v]) = (foot(&edge.between[0]).at, foot(&edge.between[1]).at);
                let long = ((u - x) * (u - x) + (v - y) * (v - y)).sqrt();
                let (nx, ny) = ((v - y) / long, (x - u) / long);
                let counts = |point: [f64; 3], mass: Mass| {
                    let lever = nx * (point[0] - x)
                        + ny * (point[1] - y)
                        + standing.lean * (point[2] + standing.height);
                    let factor = if lever > 0.0 {
                        set.permanent_unfavourable.as_one() * set.overturning_least.as_one()
                    } else {
                        set.permanent_favourable.as_one()
                    };
                    factor * Force::weight(mass).as_n() * lever
                };
                let enumerated = worst_of(&ride, some.clone(), [nx, ny, standing.lean], &counts, 1.0);
                let value = edge.over.value;
                assert!((enumerated - value).abs() < NEWTONS, "{:?}: {value}, {enumerated}", edge.between);
                compared += 1;
            }
        }
    }
    assert!(compared > 300 && leaning > 0, "{compared} edges, {leaning} on wheels as well");
}

#[test]
fn law_a_leg_set_before_anything_moves_leaves_no_stage_on_some_of_the_legs() {
    let mut chance = Chance(3);
    for _ in 0..20 {
        let mut ride = ride_with(&mut chance, true);
        ride.steps.retain(|step| step.takes_away.is_empty());
        let sets: Vec<String> =
            ride.steps.iter().filter(|s| !s.sets.is_empty()).map(|s| s.name.clone()).collect();
        for step in ride.steps.iter_mut().filter(|step| step.sets.is_empty()) {
            step.after.extend(sets.iter().cloned());
        }
        let found = stages(&ride, &BTreeSet::new(), &Standing::of_book(&ride)).expect("it moves something");
        assert!(found.partly.is_empty(), "{:?}", found.partly);
    }
}
