//! From where a step is best seen.

use super::scene::{Part, Scene};
use crate::solid::{View, seen_share};
use tober_book::Ride;
use tober_plan::{BodyShown, Plan, StepShown};
use tober_quantity::Angle;

/// How far from above a step is seen.
pub(crate) const DOWN_DEG: f64 = 27.0;
/// The same, and steeper where what moves lies among other things.
const DOWN_DEGS: [f64; 3] = [DOWN_DEG, 42.0, 60.0];
/// The share of what moves that must be seen from the usual height, or else it is looked at from higher up.
const FAIR: f64 = 0.35;
/// From where a step may be seen, the first that serves taken: from the right and the front unless something hides the work.
const FROM_DEG: [f64; 12] = [300.0, 240.0, 330.0, 210.0, 285.0, 255.0, 60.0, 120.0, 30.0, 150.0, 75.0, 105.0];
/// The same for a wheel, whose plane lies across: from behind or before it, so that it is not seen edge on.
const WHEEL_FROM_DEG: [f64; 12] =
    [215.0, 145.0, 325.0, 35.0, 235.0, 125.0, 305.0, 55.0, 195.0, 165.0, 345.0, 15.0];
/// The share of what moves that must be seen for a view to be taken without looking further.
const ENOUGH: f64 = 0.6;
/// The share of a way's length that must be seen of it, not end on.
const WAY_SEEN: f64 = 0.45;

/// How a step is seen.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Chosen {
    pub view: View,
    /// The share of what moves or is worked on that nothing hides; none where nothing does.
    pub seen: Option<f64>,
}

/// The bodies whose sight counts: what the book's step moves, without the packing under legs.
pub(crate) fn in_question(scene: &Scene<'_>) -> Vec<usize> {
    let bodies: Vec<usize> =
        scene.hot.iter().copied().filter(|at| matches!(scene.parts[*at], Part::Body(_))).collect();
    if bodies.is_empty() { scene.hot.clone() } else { bodies }
}

/// The view that shows best what moves.
pub(crate) fn choose(scene: &Scene<'_>) -> Chosen {
    let which = in_question(scene);
    let lean =
        scene.ride.motion.iter().flat_map(|motion| &motion.rotations).filter_map(|rotation| rotation.lean);
    let wheel = lean.into_iter().any(|lean| (lean.as_deg().abs() - 90.0).abs() < 1e-6);
    let order = if wheel { WHEEL_FROM_DEG } else { FROM_DEG };
    let view = |from: f64, down: f64| View::from(Angle::deg(from), Angle::deg(down));
    if which.is_empty() {
        return Chosen { view: view(order[0], DOWN_DEG), seen: None };
    }
    let movers = scene.movers();
    let mut best: Option<(f64, Chosen)> = None;
    let all = DOWN_DEGS.into_iter().flat_map(|down| order.map(|from| (from, down)));
    for (number, (from, down)) in all.enumerate() {
        if number % order.len() == 0 && best.is_some_and(|(_, chosen)| chosen.seen >= Some(FAIR)) {
            break;
        }
        let view = view(from, down);
        let seen = seen_share(&scene.solids, &which, &view, 3);
        let way = movers
            .iter()
            .map(|(at, screw)| {
                let middle = scene.solids[*at].middle();
                let (old, new) = (screw.at(middle, 0.0), screw.at(middle, 1.0));
                let long: f64 = (0..3).map(|n| (new[n] - old[n]) * (new[n] - old[n])).sum();
                let ([a, b], [c, d]) = (view.flat(new), view.flat(old));
                if long > 1e-6 { (((a - c) * (a - c) + (b - d) * (b - d)) / long).sqrt() } else { 1.0 }
            })
            .fold(1.0, f64::min);
        let chosen = Chosen { view, seen: Some(seen) };
        if seen >= ENOUGH && way >= WAY_SEEN {
            return chosen;
        }
        let score = seen.min(ENOUGH) + 0.5 * way.min(WAY_SEEN);
        if best.is_none_or(|(most, _)| score > most) {
            best = Some((score, chosen));
        }
    }
    best.map_or(Chosen { view: view(order[0], DOWN_DEG), seen: None }, |(_, chosen)| chosen)
}

/// A step with its view: when it is done, or before where what moves is then better seen.
pub(crate) fn seen_best<'a>(ride: &'a Ride, plan: &'a Plan, shown: &'a StepShown<'a>) -> (Scene<'a>, Chosen) {
    let after = Scene::of(ride, plan, shown, false);
    let chosen = choose(&after);
    if !shown.bodies.iter().any(BodyShown::moves) || chosen.seen >= Some(FAIR) {
        return (after, chosen);
    }
    let before = Scene::of(ride, plan, shown, true);
    let earlier = choose(&before);
    if earlier.seen > chosen.seen { (before, earlier) } else { (after, chosen) }
}
