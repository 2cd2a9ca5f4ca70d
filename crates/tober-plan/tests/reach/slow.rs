//! A slow search: every set of legs, every height of the hitch jack on a grid, one step of the grid at a time.

use std::collections::BTreeSet;
use tober_calc::reach::Question;
use tober_calc::supports::{Answer, Displacement, Support, solve};
use tober_quantity::{Length, Stiffness};

/// The step of the grid, in metres.
const STEP_M: f64 = 0.002;

/// Chance with a seed, the same on every machine.
pub struct Chance(pub u64);

impl Chance {
    /// From nothing up to one.
    pub fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Where the frame lies with these legs set and the jack there, if that keeps every limit.
fn lies(question: &Question, set: usize, jack: f64) -> Option<Displacement> {
    let support = |s: &tober_calc::reach::Spring, top: Length| Support {
        x: s.x,
        y: s.y,
        stiffness: s.stiffness,
        gap: -top,
    };
    let mut supports: Vec<Support> =
        question.axles.iter().flat_map(|axle| &axle.wheels).map(|wheel| support(wheel, wheel.top)).collect();
    let jack_at = supports.len();
    supports.push(support(&question.jack.lowest, Length::m(jack)));
    let is_set = |leg: usize| set >> leg & 1 == 1;
    for (i, leg) in question.legs.iter().enumerate() {
        let mut one = support(&leg.spring, leg.spring.top);
        if !is_set(i) {
            // A leg that is not set is as good as one far below.
            one.gap = Length::m(9.0);
            one.stiffness = Stiffness::n_per_m(1e3);
        }
        supports.push(one);
    }
    let Ok(Answer::Stands(stands)) = solve(&supports, &question.load) else { return None };
    let load = |at: usize| stands.reactions[at];
    let axles = (0..question.axles.len()).all(|a| {
        let rated = question.axles[a].rated.expect("a rated axle");
        load(2 * a) + load(2 * a + 1) <= rated
    });
    let legs = question.legs.iter().enumerate().all(|(i, leg)| {
        let over = stands.displacement.at(leg.spring.x, leg.spring.y);
        let drawn_up = leg.drawn_up.is_none_or(|touches| over >= touches);
        if is_set(i) { load(jack_at + 1 + i) <= leg.rated.expect("a rated leg") } else { drawn_up }
    });
    (axles && legs && load(jack_at) <= question.jack.rated.expect("a rated jack"))
        .then_some(stands.displacement)
}

/// Whether all legs can be set and the hitch jack then carries nothing at its shortest.
pub fn goes(question: &Question) -> bool {
    let (least, most) = question.jack_ends();
    let steps = ((most - least).as_m() / STEP_M) as i32;
    let height = |at: i32| least.as_m() + f64::from(at) * STEP_M;
    let start = ((question.jack.start.max(least).min(most) - least).as_m() / STEP_M).round() as i32;
    let all = (1 << question.legs.len()) - 1;
    let mut seen = BTreeSet::new();
    let mut open = vec![(0, start.clamp(0, steps))];
    while let Some((set, at)) = open.pop() {
        if !seen.insert((set, at)) {
            continue;
        }
        let Some(lies) = lies(question, set, height(at)) else { continue };
        if set == all && at == 0 && lies.at(question.jack.lowest.x, Length::ZERO) > least {
            return true;
        }
        open.extend([at - 1, at + 1].into_iter().filter(|at| (0..=steps).contains(at)).map(|at| (set, at)));
        for (i, leg) in question.legs.iter().enumerate() {
            let clear = lies.at(leg.spring.x, leg.spring.y) - leg.spring.top;
            if set >> i & 1 == 0 && clear >= leg.overlift {
                open.push((set | 1 << i, at));
            }
        }
    }
    false
}
