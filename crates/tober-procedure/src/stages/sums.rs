//! A linear quantity as a sum over the steps done.

use super::{AtStage, FINE, named};
use crate::run::{ROAD, Run};
use crate::state::Tracks;
use crate::track::What;
use std::collections::BTreeMap;
use tober_book::{Body, Does, Placement, Rotation};
use tober_calc::orders::{Extreme, StepSet, Tally, greatest, least};
use tober_quantity::{Angle, Force, maths};

/// What weighs one newton where it is: newtons or newton metres.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Functional {
    /// Constant, along, across and up: what one newton at a place counts.
    pub per_newton: [f64; 4],
    /// What a weight is multiplied by where it counts below zero.
    pub light: f64,
    /// What a weight is multiplied by where it counts above zero.
    pub heavy: f64,
    /// Added for each newton: what a lean of the frame adds to a weight at height one metre, times that height.
    pub tilt: f64,
    /// The axis from which along and across are counted, for a moment about it; zero for the frame's own.
    pub axis: [f64; 2],
}

/// Where it stands on one set of legs with the turntable at one angle.
#[derive(Clone, Debug)]
pub(crate) struct Window {
    /// What is done.
    pub done: StepSet,
    /// What is not begun.
    pub open: StepSet,
    /// Where the turntable is turned to.
    pub turned: Turned,
}

/// Where the turntable is turned to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Turned {
    /// To this angle, in radians.
    To(f64),
    /// To any angle, while this step turns it; what the step moves may be anywhere on its way.
    Anywhere(usize),
}

/// The steps that set or take away a leg that carries.
pub(crate) fn leg_steps(run: &Run<'_>) -> StepSet {
    let carries =
        |name: &String| run.ride.supports.iter().any(|leg| leg.name == *name && leg.does == Does::Carries);
    let changes = |number: &usize| {
        let step = run.step(*number);
        step.sets.iter().chain(&step.takes_away).any(carries)
    };
    StepSet::from(run.steps.len(), (0..run.steps.len()).filter(changes))
}

/// The windows of a run: all legs that carry set, none taken away; one for each angle of the turntable.
pub(crate) fn windows(run: &Run<'_>, tracks: &Tracks<'_>) -> Vec<Window> {
    let len = run.steps.len();
    let special = leg_steps(run);
    let set = special.iter().filter(|&number| run.step(number).takes_away.is_empty());
    windows_with(run, tracks, &StepSet::from(len, set), &special)
}

/// The windows with some of the steps that change the legs done and the others open; one for each angle of the turntable.
pub(crate) fn windows_with(
    run: &Run<'_>,
    tracks: &Tracks<'_>,
    held: &StepSet,
    special: &StepSet,
) -> Vec<Window> {
    let len = run.steps.len();
    let (mut done, mut open) = (StepSet::none(len), StepSet::none(len));
    for number in special.iter() {
        if held.contains(number) {
            done = done.union(run.order.before(number));
            done.insert(number);
        } else {
            open = open.union(run.order.later(number));
            open.insert(number);
        }
    }
    if done.intersects(&open) {
        return Vec::new();
    }
    let mut turns: Vec<(usize, f64)> = Vec::new();
    if let Some(track) = tracks.get(&What::Turned) {
        for write in &track.writes {
            let angle = run.step(write.step).turns_to.map_or(0.0, Angle::as_rad);
            turns.push((write.step, angle));
        }
    }
    turns.sort_by_key(|(step, _)| run.order.before(*step).count());
    // A turn to where it is already turns nothing.
    let mut at = 0.0_f64;
    turns.retain(|(_, angle)| {
        let moves = (*angle - at).abs() > 1e-9;
        at = *angle;
        moves
    });
    let mut all = Vec::new();
    for epoch in 0..=turns.len() {
        let (mut done, mut open) = (done.clone(), open.clone());
        if let Some((step, _)) = epoch.checked_sub(1).and_then(|last| turns.get(last)) {
            done = done.union(run.order.before(*step));
            done.insert(*step);
        }
        if let Some((step, _)) = turns.get(epoch) {
            open = open.union(run.order.later(*step));
            open.insert(*step);
        }
        if !done.intersects(&open) {
            let angle = epoch.checked_sub(1).and_then(|last| turns.get(last)).map_or(0.0, |turn| turn.1);
            all.push(Window { done, open, turned: Turned::To(angle) });
        }
    }
    // While a step turns it, it may be at any angle.
    for &(step, _) in &turns {
        let (done, mut open) = (done.union(run.order.before(step)), open.union(run.order.later(step)));
        open.insert(step);
        if !done.intersects(&open) {
            all.push(Window { done, open, turned: Turned::Anywhere(step) });
        }
    }
    all
}

/// The steps that move something to another place, of which no window covers the whole way.
pub(crate) fn elsewhere(run: &Run<'_>, windows: &[Window]) -> Vec<String> {
    (0..run.steps.len())
        .filter(|&number| moves_something(run, number) && !windows.iter().any(|one| covers(run, one, number)))
        .map(|number| run.step(number).name.clone())
        .collect()
}

/// Whether a step moves something that is there to another place.
pub(crate) fn moves_something(run: &Run<'_>, number: usize) -> bool {
    run.step(number).moves.iter().any(|moved| {
        let cg = |place: &str| run.placement(&moved.body, place).map(|there| there.cg);
        !run.absent.contains(moved.body.as_str()) && cg(&moved.from) != cg(&moved.to)
    })
}

/// Whether a step may be under way in a window.
pub(crate) fn covers(run: &Run<'_>, window: &Window, number: usize) -> bool {
    if window.turned == Turned::Anywhere(number) {
        return true;
    }
    let mut begun = window.done.union(run.order.before(number));
    begun.insert(number);
    !begun.intersects(&window.open) && !window.done.contains(number)
}

/// The centre of a body in a placement with the turntable at an angle, with how far it may be off.
struct Centre {
    at: [f64; 3],
    off: [f64; 3],
    /// Anywhere on a circle about it: in which two directions, and how far.
    round: Option<(usize, usize, f64)>,
}

fn centre(run: &Run<'_>, body: &Body, place: &Placement, turned: Turned) -> Centre {
    let cg = &place.cg;
    let at = [cg.along.value.as_m(), cg.across.value.as_m(), cg.up.value.as_m()];
    let off = [cg.along.off_by.as_m(), cg.across.off_by.as_m(), cg.up.off_by.as_m()];
    let still = Centre { at, off, round: None };
    let rotation = run.ride.motion.as_ref().and_then(|motion| motion.rotations.first());
    let Some(rotation) = rotation.filter(|_| on_turntable(run, body, place) && turned != Turned::To(0.0))
    else {
        return still;
    };
    let about = [
        rotation.about.along.value.as_m(),
        rotation.about.across.value.as_m(),
        rotation.about.up.value.as_m(),
    ];
    // Right-handed about the axis: up for a turntable, towards the front for a wheel.
    let (one, other) = if is_wheel(rotation) { (1, 2) } else { (0, 1) };
    let (a, b) = (at[one] - about[one], at[other] - about[other]);
    let mut centre = still;
    let most = off[one].max(off[other]) * core::f64::consts::SQRT_2;
    centre.off[one] = most;
    centre.off[other] = most;
    match turned {
        Turned::To(angle) => {
            let (sin, cos) = (maths::sin(angle), maths::cos(angle));
            centre.at[one] = about[one] + a * cos - b * sin;
            centre.at[other] = about[other] + a * sin + b * cos;
        }
        Turned::Anywhere(_) => {
            centre.at[one] = about[one];
            centre.at[other] = about[other];
            centre.round = Some((one, other, maths::hypot(a, b)));
        }
    }
    centre
}

/// Whether its axis lies level: a wheel.
pub(crate) fn is_wheel(rotation: &Rotation) -> bool {
    rotation.lean.is_some_and(|lean| (lean.as_deg().abs() - 90.0).abs() < 1e-6)
}

/// Whether a body is on the turntable in a placement: it turns with it, and nothing else carries it there.
pub(crate) fn on_turntable(run: &Run<'_>, body: &Body, place: &Placement) -> bool {
    let elsewhere = place.carried_by.as_deref().filter(|by| body.carried_by.as_deref() != Some(by));
    let carried =
        elsewhere.is_none_or(|by| run.ride.body(by).is_some_and(|by| by.on_turntable == Some(true)));
    body.on_turntable == Some(true) && carried
}

/// What one newton counts at its worst point of a box about a centre.
fn per_newton(functional: &Functional, centre: &Centre, sign: f64) -> f64 {
    let [constant, along, across, up] = functional.per_newton;
    let [x, y, z] = centre.at;
    let [dx, dy, dz] = centre.off;
    let middle = constant + along * (x - functional.axis[0]) + across * (y - functional.axis[1]) + up * z;
    let round = centre.round.map_or(0.0, |(one, other, radius)| {
        let slope = functional.per_newton;
        maths::hypot(slope[one + 1], slope[other + 1]) * radius
    });
    middle + functional.tilt + sign * round + sign * (along.abs() * dx + across.abs() * dy + up.abs() * dz)
}

/// Which bodies count, in which placement.
pub(crate) type Counts<'a> = &'a dyn Fn(&Body, &Placement) -> bool;

/// What each body's share of a quantity is, in each placement, in hundredths.
pub(crate) struct Shares<'a> {
    run: &'a Run<'a>,
    functional: &'a Functional,
    turned: Turned,
    upward: bool,
    counts: Counts<'a>,
}

impl<'a> Shares<'a> {
    pub fn new(
        run: &'a Run<'a>,
        functional: &'a Functional,
        turned: Turned,
        upward: bool,
        counts: Counts<'a>,
    ) -> Self {
        Self { run, functional, turned, upward, counts }
    }

    fn weigh(&self, body: &Body, phi: f64) -> i64 {
        let low = Force::weight(body.mass.low()).as_n() * self.functional.light * phi;
        let high = Force::weight(body.mass.high()).as_n() * self.functional.heavy * phi;
        let worst = if self.upward { low.max(high) } else { low.min(high) };
        let fine = if self.upward { (worst * FINE).ceil() } else { (worst * FINE).floor() };
        fine as i64
    }

    fn sign(&self) -> f64 {
        if self.upward { 1.0 } else { -1.0 }
    }

    fn worse(&self, one: i64, other: i64) -> i64 {
        if self.upward { one.max(other) } else { one.min(other) }
    }

    /// In a placement, at rest.
    pub fn at_rest(&self, body: &Body, place: &Placement) -> i64 {
        if !(self.counts)(body, place) {
            return 0;
        }
        let centre = centre(self.run, body, place, self.turned);
        self.weigh(body, per_newton(self.functional, &centre, self.sign()))
    }

    /// Anywhere on the way from one placement to another: the worst point of the ball over the straight line between them.
    pub fn on_the_way(&self, body: &Body, from: &Placement, to: &Placement) -> i64 {
        let ends = self.worse(self.at_rest(body, from), self.at_rest(body, to));
        if !(self.counts)(body, from) && !(self.counts)(body, to) {
            return ends;
        }
        let (one, other) =
            (centre(self.run, body, from, self.turned), centre(self.run, body, to, self.turned));
        let span: f64 =
            (0..3).map(|axis| (one.at[axis] - other.at[axis]) * (one.at[axis] - other.at[axis])).sum();
        let slope = self.functional.per_newton;
        let steep = (slope[1] * slope[1] + slope[2] * slope[2] + slope[3] * slope[3]).sqrt();
        let wider = |a: Option<(usize, usize, f64)>, b: Option<(usize, usize, f64)>| match (a, b) {
            (Some(a), Some(b)) => Some(if a.2 > b.2 { a } else { b }),
            (a, b) => a.or(b),
        };
        let middle = Centre {
            at: [0, 1, 2].map(|axis| (one.at[axis] + other.at[axis]) / 2.0),
            off: [0, 1, 2].map(|axis| one.off[axis].max(other.off[axis])),
            round: wider(one.round, other.round),
        };
        let sign = self.sign();
        let phi = per_newton(self.functional, &middle, sign) + sign * steep * span.sqrt() / 2.0;
        self.worse(ends, self.weigh(body, phi))
    }

    /// The share of each body at a stage: what is done, and what is under way.
    pub fn at_stage(&self, done: &StepSet, under_way: &StepSet) -> Vec<i64> {
        let turning = if let Turned::Anywhere(step) = self.turned { Some(step) } else { None };
        let in_order = self.run.order.an_order(done);
        let mut all = Vec::new();
        for body in self.run.bodies() {
            let place = place_of(self.run, body, &in_order);
            let begun = under_way.iter().chain(turning);
            let moved = begun
                .filter_map(|step| self.run.step(step).moves.iter().find(|moved| moved.body == body.name))
                .next();
            let hand =
                moved.and_then(|moved| Some((body.placement(&moved.from)?, body.placement(&moved.to)?)));
            all.push(match (hand, place) {
                (Some((from, to)), _) => self.on_the_way(body, from, to),
                (None, Some(place)) => self.at_rest(body, place),
                (None, None) => 0,
            });
        }
        all
    }

    /// The weight of a stage at rest and its moments along and across, in newtons and metres: each body in the middle of where
    /// it may be, and as heavy or as light as is worse. `None` where it may be at any angle.
    pub fn resultant(&self, done: &StepSet) -> Option<[f64; 3]> {
        let in_order = self.run.order.an_order(done);
        let mut sum = [0.0; 3];
        for body in self.run.bodies() {
            let place = place_of(self.run, body, &in_order)?;
            let centre = centre(self.run, body, place, self.turned);
            if centre.round.is_some() {
                return None;
            }
            let counts = per_newton(self.functional, &centre, 0.0);
            let mass = if (counts > 0.0) == self.upward { body.mass.high() } else { body.mass.low() };
            let weight = Force::weight(mass).as_n();
            sum[0] += weight;
            sum[1] += weight * centre.at[0];
            sum[2] += weight * centre.at[1];
        }
        Some(sum)
    }

    /// The sum over the steps done. `None` where the book does not say where a body is.
    pub fn tally(&self) -> Option<Tally> {
        let run = self.run;
        let mut start = 0;
        let mut bodies: BTreeMap<&str, &Body> = BTreeMap::new();
        for body in run.bodies() {
            start += self.at_rest(body, body.placement(ROAD).or(body.placements.first())?);
            bodies.insert(&body.name, body);
        }
        let mut change = vec![0; run.steps.len()];
        let mut peak = vec![None; run.steps.len()];
        for (number, step) in run.steps.iter().enumerate() {
            let mut in_hand = 0;
            for moved in &step.moves {
                let Some(body) = bodies.get(moved.body.as_str()) else { continue };
                let (from, to) = (body.placement(&moved.from)?, body.placement(&moved.to)?);
                let old = self.at_rest(body, from);
                change[number] += self.at_rest(body, to) - old;
                in_hand += self.on_the_way(body, from, to) - old;
            }
            if self.turned == Turned::Anywhere(number) {
                start += in_hand;
            } else if in_hand != 0 || change[number] != 0 {
                peak[number] = Some(in_hand);
            }
        }
        Some(Tally { start, change, peak })
    }
}

/// Where a body is once these steps are done, one after the other.
pub(crate) fn place_of<'b>(run: &Run<'_>, body: &'b Body, in_order: &[usize]) -> Option<&'b Placement> {
    let mut place = body.placement(ROAD).or(body.placements.first());
    for &step in in_order {
        let moved = run.step(step).moves.iter().find(|moved| moved.body == body.name);
        place = moved.map_or(place, |moved| body.placement(&moved.to));
    }
    place
}

/// The worst value over every stage of every window.
pub(crate) fn worst(
    run: &Run<'_>,
    windows: &[Window],
    functional: &Functional,
    upward: bool,
) -> Option<AtStage> {
    worst_of(run, windows, functional, upward, &|_, _| true)
}

/// The worst value over every stage of every window, of some of the bodies.
pub(crate) fn worst_of(
    run: &Run<'_>,
    windows: &[Window],
    functional: &Functional,
    upward: bool,
    counts: Counts<'_>,
) -> Option<AtStage> {
    let mut best: Option<(i64, &Window, Extreme)> = None;
    for window in windows {
        let tally = Shares::new(run, functional, window.turned, upward, counts).tally()?;
        let extreme = if upward {
            greatest(&run.order, &tally, &window.done, &window.open)
        } else {
            least(&run.order, &tally, &window.done, &window.open)
        };
        let Some(extreme) = extreme else { continue };
        let further = |best: i64| if upward { extreme.value > best } else { extreme.value < best };
        if best.as_ref().is_none_or(|(best, ..)| further(*best)) {
            best = Some((extreme.value, window, extreme));
        }
    }
    let (_, window, extreme) = best?;
    Some(told(run, window, &Shares::new(run, functional, window.turned, upward, counts), &extreme))
}

/// The stage of an extreme, told.
pub(crate) fn told(run: &Run<'_>, window: &Window, shares: &Shares<'_>, extreme: &Extreme) -> AtStage {
    let each = shares.at_stage(&extreme.stage, &extreme.under_way);
    let names = run.bodies().map(|body| body.name.clone());
    AtStage {
        value: extreme.value as f64 / FINE,
        done: named(run, &extreme.stage),
        under_way: under_way(run, window, &extreme.under_way),
        shares: names.zip(each.into_iter().map(|share| share as f64 / FINE)).collect(),
    }
}

/// The steps under way at a stage of a window, by name.
pub(crate) fn under_way(run: &Run<'_>, window: &Window, set: &StepSet) -> Vec<String> {
    let turning = if let Turned::Anywhere(step) = window.turned { Some(step) } else { None };
    set.iter().chain(turning).map(|step| run.step(step).name.clone()).collect()
}
