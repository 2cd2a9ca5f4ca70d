//! C7: how far a turntable is out of balance while nothing holds it, over every stage and every direction.
//!
//! Out of balance by `U = |sum w r|` about its axis, and with its axis leaning by `θ`, a turntable turns itself with a torque
//! of up to `U sin θ`. In one direction `u` the sum `u · sum w r` is linear, so its greatest over every stage is one cut;
//! with K directions evenly round, the greatest over all directions lies between the greatest found and that over
//! `cos(π / K)`. The steps during which it passes the limit are where it must be held; what can hold it is found in the book:
//! a lock with a home that fastens what turns, or what carries what turns.

use super::AtStage;
use super::sums::{Counts, Functional, Shares, Window, is_wheel, on_turntable, windows, worst_of};
use crate::counts::{fixings, tally as counted};
use crate::run::{OPEN, Run};
use crate::state::Tracks;
use crate::track::{What, switched, tracks};
use std::collections::BTreeSet;
use tober_book::{Body, Fixing, FixingKind, Home, Placement, Ride, SwitchState};
use tober_calc::orders::StepSet;
use tober_quantity::Moment;

/// How many directions are tried round the axis: the value found is within 0.13 per cent.
const DIRECTIONS: usize = 64;

/// What holds a turntable, and how far it is out of balance.
#[derive(Clone, Debug)]
pub struct FreeTurntable {
    /// The lock that can hold it, and the home in which it does.
    pub lock: String,
    /// The home in which it holds.
    pub home: String,
    /// What turns when it is out: the bodies.
    pub turns: Vec<String>,
    /// The most out of balance in any stage, held or not: newton metres.
    pub worst: AtStage,
    /// No more than this in any stage.
    pub worst_bound: f64,
    /// The most out of balance while the lock may be out; `None` where it is in at every stage.
    pub free: Option<AtStage>,
    /// No more than this while it may be out.
    pub free_bound: f64,
    /// What the book allows: newton metres.
    pub limit: Option<f64>,
    /// The first and the last step during or after which it is past the limit, with everything done in the order of the
    /// book: it must be held from the first to the last.
    pub hold_from_to: Option<(String, String)>,
}

/// The turntables of a ride that a lock of the book can hold, over every stage.
///
/// The lock is found: a fixing of kind `lock` with two homes, one of which fastens something that turns or that carries it.
pub fn turntables(ride: &Ride, absent: &BTreeSet<&str>) -> Vec<FreeTurntable> {
    let Some(rotation) = ride.motion.as_ref().and_then(|motion| motion.rotations.first()) else {
        return Vec::new();
    };
    let Ok(runs) = crate::run::runs(ride, absent) else { return Vec::new() };
    let Some(run) = runs.first() else { return Vec::new() };
    let wheel = is_wheel(rotation);
    let about = &rotation.about;
    let axis = if wheel {
        [about.across.value.as_m(), about.up.value.as_m()]
    } else {
        [about.along.value.as_m(), about.across.value.as_m()]
    };
    let turns = |body: &Body, place: &Placement| on_turntable(run, body, place);
    let may_turn = |body: &&Body| body.on_turntable == Some(true);
    if !run.bodies().any(|body| may_turn(&body)) {
        return Vec::new();
    }
    let limit = ride.limits.as_ref().and_then(|limits| limits.out_of_balance_greatest).map(Moment::as_nm);
    let tracks = tracks(run);
    let everywhere = if wheel { upright(run, &tracks, windows(run, &tracks)) } else { windows(run, &tracks) };
    let mut found = Vec::new();
    for (fixing, home) in locks(run) {
        let Some(worst) = round(run, &everywhere, axis, wheel, &turns) else { continue };
        let mut out: Vec<Window> =
            everywhere.iter().flat_map(|window| unlocked(run, fixing, home, window)).collect();
        for switch in &rotation.held_by_switch {
            out = out.iter().flat_map(|window| not_locked(run, &tracks, switch, window)).collect();
        }
        let free = round(run, &out, axis, wheel, &turns);
        let bound = 1.0 / tober_quantity::maths::cos(core::f64::consts::PI / DIRECTIONS as f64);
        found.push(FreeTurntable {
            lock: fixing.name.clone(),
            home: home.name.clone(),
            turns: run.bodies().filter(may_turn).map(|body| body.name.clone()).collect(),
            worst_bound: worst.value * bound,
            free_bound: free.as_ref().map_or(0.0, |free| free.value * bound),
            hold_from_to: limit.and_then(|limit| past(run, &everywhere, axis, wheel, &turns, limit)),
            worst,
            free,
            limit,
        });
    }
    found
}

/// The locks that hold what turns, each with the home in which it does.
fn locks<'a>(run: &'a Run<'a>) -> Vec<(&'a Fixing, &'a Home)> {
    let turning: BTreeSet<&str> =
        run.bodies().filter(|body| body.on_turntable == Some(true)).map(|body| body.name.as_str()).collect();
    // What turns, and what carries it from outside: a lock on either holds it.
    let carries = |name: &str| {
        turning.contains(name)
            || run
                .bodies()
                .any(|body| turning.contains(body.name.as_str()) && body.carried_by.as_deref() == Some(name))
    };
    let mut all = Vec::new();
    for fixing in fixings(run).filter(|fixing| fixing.kind == FixingKind::Lock && fixing.homes.len() == 2) {
        let holds = |home: &&Home| home.idle != Some(true) && home.fastens.as_deref().is_some_and(carries);
        // A lock whose homes both hold, or that holds one part to another that turns too, holds no turntable.
        if let (Some(home), 1) = (fixing.homes.iter().find(holds), fixing.homes.iter().filter(holds).count())
        {
            let both_turn = home.fastens.as_deref().is_some_and(|name| {
                turning.contains(name)
                    && run.bodies().any(|body| {
                        body.name == name && body.carried_by.as_deref().is_some_and(|by| turning.contains(by))
                    })
            });
            if !both_turn {
                all.push((fixing, home));
            }
        }
    }
    all
}

/// The part of a window in which a lock may be out of its home: one window for each step that takes it out.
fn unlocked(run: &Run<'_>, fixing: &Fixing, home: &Home, window: &Window) -> Vec<Window> {
    let Some(count) = counted(run, &fixing.name, &home.name, true) else { return Vec::new() };
    let steps = || 0..run.steps.len();
    let takes: Vec<usize> = steps().filter(|&step| count.change[step] < 0).collect();
    let brings: Vec<usize> = steps().filter(|&step| count.change[step] > 0).collect();
    let mut from: Vec<Option<usize>> = takes.into_iter().map(Some).collect();
    if count.start == 0 {
        from.push(None);
    }
    from.into_iter().filter_map(|taken| between(run, window, taken, &brings)).collect()
}

/// The part of a window in which a switch may be anything but locked.
fn not_locked(run: &Run<'_>, tracks: &Tracks<'_>, switch: &str, window: &Window) -> Vec<Window> {
    let Some(track) = tracks.get(&What::Switch(switch)) else { return vec![window.clone()] };
    let locked = switched(SwitchState::Locked);
    let locks: Vec<usize> =
        track.writes.iter().filter(|write| write.to == locked).map(|write| write.step).collect();
    let mut from: Vec<Option<usize>> =
        track.writes.iter().filter(|write| write.to != locked).map(|write| Some(write.step)).collect();
    if track.start != locked {
        from.push(None);
    }
    from.into_iter().filter_map(|freed| between(run, window, freed, &locks)).collect()
}

/// The parts of windows in which the axis of a wheel is where the book says: what carries the wheel is as it is when open.
fn upright(run: &Run<'_>, tracks: &Tracks<'_>, mut all: Vec<Window>) -> Vec<Window> {
    let turning = |name: &str| run.ride.body(name).is_some_and(|body| body.on_turntable == Some(true));
    let root =
        |body: &&Body| body.on_turntable == Some(true) && !body.carried_by.as_deref().is_some_and(turning);
    for body in run.bodies().filter(root) {
        let (Some(track), Some(open)) = (tracks.get(&What::Body(&body.name)), body.placement(OPEN)) else {
            continue;
        };
        let there = |place: &str| body.placement(place).is_some_and(|place| place.cg == open.cg);
        let leaves: Vec<usize> =
            track.writes.iter().filter(|write| !there(&write.to)).map(|write| write.step).collect();
        let mut comes: Vec<Option<usize>> =
            track.writes.iter().filter(|write| there(&write.to)).map(|write| Some(write.step)).collect();
        if there(&track.start) {
            comes.push(None);
        }
        let part = |window: &Window| {
            comes.iter().filter_map(|&from| between(run, window, from, &leaves)).collect::<Vec<_>>()
        };
        all = all.iter().flat_map(part).collect();
    }
    all
}

/// The part of a window after one step and before those of others that come after it.
fn between(run: &Run<'_>, window: &Window, from: Option<usize>, until: &[usize]) -> Option<Window> {
    let (mut done, mut open) = (window.done.clone(), window.open.clone());
    if let Some(step) = from {
        done = done.union(run.order.before(step));
        done.insert(step);
    }
    for &step in until {
        if from.is_none_or(|from| run.order.is_before(from, step)) {
            open = open.union(run.order.later(step));
            open.insert(step);
        }
    }
    (!done.intersects(&open)).then_some(Window { done, open, turned: window.turned })
}

/// The greatest out of balance over every stage and every direction.
fn round(
    run: &Run<'_>,
    windows: &[Window],
    axis: [f64; 2],
    wheel: bool,
    turns: Counts<'_>,
) -> Option<AtStage> {
    let mut best: Option<AtStage> = None;
    for number in 0..DIRECTIONS {
        let functional = direction(number, axis, wheel);
        let Some(found) = worst_of(run, windows, &functional, true, turns) else { continue };
        if best.as_ref().is_none_or(|best| found.value > best.value) {
            best = Some(found);
        }
    }
    best
}

fn direction(number: usize, axis: [f64; 2], wheel: bool) -> Functional {
    use tober_quantity::maths::{cos, sin};
    let angle = 2.0 * core::f64::consts::PI * number as f64 / DIRECTIONS as f64;
    let (one, other) = (cos(angle), sin(angle));
    let constant = -(one * axis[0] + other * axis[1]);
    let per_newton = if wheel { [constant, 0.0, one, other] } else { [constant, one, other, 0.0] };
    Functional { per_newton, light: 1.0, heavy: 1.0, tilt: 0.0, axis: [0.0; 2] }
}

/// The first and the last step, in the order of the book, during or after which it is out of balance by more than a limit.
fn past(
    run: &Run<'_>,
    windows: &[Window],
    axis: [f64; 2],
    wheel: bool,
    turns: Counts<'_>,
    limit: f64,
) -> Option<(String, String)> {
    let order = run.order.an_order(&StepSet::all(run.steps.len()));
    let (mut first, mut last) = (None, None);
    for window in windows {
        let tallies: Vec<_> = (0..DIRECTIONS)
            .map(|number| {
                Shares::new(run, &direction(number, axis, wheel), window.turned, true, turns).tally()
            })
            .collect::<Option<_>>()?;
        let mut at: Vec<i64> = tallies.iter().map(|tally| tally.start).collect();
        let mut done = StepSet::none(run.steps.len());
        for (place, &step) in order.iter().enumerate() {
            let reached = done.contains_all(&window.done);
            if window.open.contains(step) {
                break;
            }
            let hand = at.iter().zip(&tallies).map(|(at, tally)| at + tally.peak[step].unwrap_or(0)).max();
            at.iter_mut().zip(&tallies).for_each(|(at, tally)| *at += tally.change[step]);
            done.insert(step);
            let rest = at.iter().copied().max();
            let most = if reached {
                hand.max(rest)
            } else if done.contains_all(&window.done) {
                rest
            } else {
                None
            };
            if most.is_some_and(|most| most as f64 / super::FINE > limit) {
                first = first.map_or(Some(place), |first: usize| Some(first.min(place)));
                last = last.map_or(Some(place), |last: usize| Some(last.max(place)));
            }
        }
    }
    let name = |place: usize| run.step(order[place]).name.clone();
    Some((name(first?), name(last?)))
}
