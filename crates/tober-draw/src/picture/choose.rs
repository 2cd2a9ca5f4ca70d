//! From where a step is best seen.

use super::scene::{Part, Scene};
use crate::solid::{View, seen_share};
use tober_quantity::Angle;

/// How far from above a step is seen.
pub(crate) const DOWN_DEG: f64 = 27.0;
/// From where a step may be seen, the first that serves taken: from the right and the front unless something hides the work.
const FROM_DEG: [f64; 12] =
    [300.0, 240.0, 330.0, 210.0, 285.0, 255.0, 60.0, 120.0, 30.0, 150.0, 75.0, 105.0];
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

pub(crate) fn choose(scene: &Scene<'_>) -> Chosen {
    let which = in_question(scene);
    let view = |from: f64| View::from(Angle::deg(from), Angle::deg(DOWN_DEG));
    if which.is_empty() {
        return Chosen { view: view(FROM_DEG[0]), seen: None };
    }
    let movers = scene.movers();
    let mut best: Option<(f64, Chosen)> = None;
    for from in FROM_DEG {
        let view = view(from);
        let seen = seen_share(&scene.solids, &which, &view, 3);
        let way = movers
            .iter()
            .map(|(at, screw)| {
                let new = scene.solids[*at].middle();
                let old = screw.at(new, 0.0);
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
    best.map_or(Chosen { view: view(FROM_DEG[0]), seen: None }, |(_, chosen)| chosen)
}
