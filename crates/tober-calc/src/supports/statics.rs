//! What equilibrium alone says of the load on each support.

use super::error::SupportsError;
use super::linear::{Condition, Ended, Program};
use super::uncertain::{Between, Place, Spot, UncertainLoad, check_spot, check_uncertain_load};
use tober_quantity::{Force, Quantity};

/// The most supports a band is worked out for.
pub(super) const SUPPORTS_MOST: usize = 24;

/// The numbers that make weight and extent 1.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    pub weight: f64,
    pub extent: f64,
    pub origin: (f64, f64),
}

impl Scale {
    pub fn of(spots: &[Spot], weight: f64) -> Self {
        let origin = spots.first().map_or((0.0, 0.0), |s| (s.x.si(), s.y.si()));
        let away = |s: &Spot| (s.x.si() - origin.0).abs().max((s.y.si() - origin.1).abs());
        let extent = spots.iter().map(away).fold(0.0, f64::max);
        Self { weight, extent: if extent > 0.0 { extent } else { 1.0 }, origin }
    }
    pub fn place(&self, at: Spot) -> (f64, f64) {
        ((at.x.si() - self.origin.0) / self.extent, (at.y.si() - self.origin.1) / self.extent)
    }
}

/// One number of the load that is not known: where it enters the three sums and between which ends it lies.
#[derive(Clone, Copy, Debug)]
pub(super) struct Unsure {
    /// Share of it in the sum of forces, of moments along x and of moments along y.
    pub enters: [f64; 3],
    pub low: f64,
    pub high: f64,
}

/// The load, scaled: what is fixed, and every number that is not, burdens first, then the couples.
pub(super) fn unsure(load: &UncertainLoad, scale: &Scale) -> Vec<Unsure> {
    let mut list = Vec::with_capacity(load.burdens.len() + 2);
    for burden in &load.burdens {
        let (x, y) = match burden.place {
            Place::At(at) => scale.place(at),
            Place::Unknown => (0.0, 0.0),
        };
        let (low, high) = (burden.down.low.si() / scale.weight, burden.down.high.si() / scale.weight);
        list.push(Unsure { enters: [1.0, x, y], low, high });
    }
    let arm = scale.weight * scale.extent;
    for (moment, enters) in [(load.moment_x, [0.0, 0.0, -1.0]), (load.moment_y, [0.0, 1.0, 0.0])] {
        list.push(Unsure { enters, low: moment.low.si() / arm, high: moment.high.si() / arm });
    }
    list
}

/// The three sums of equilibrium, over reactions from unknown `reactions` on and loads from `loads` on.
pub(super) fn equilibrium(
    spots: &[Spot],
    scale: &Scale,
    load: &[Unsure],
    reactions: usize,
    loads: usize,
) -> [Condition; 3] {
    core::array::from_fn(|row| {
        let mut terms = Vec::with_capacity(spots.len() + load.len());
        for (i, &spot) in spots.iter().enumerate() {
            let (x, y) = scale.place(spot);
            terms.push((reactions + i, [1.0, x, y][row]));
        }
        for (b, burden) in load.iter().enumerate() {
            terms.push((loads + b, -burden.enters[row]));
        }
        Condition { terms, low: 0.0, high: 0.0 }
    })
}

/// The least and greatest load on each support over every way to balance the load by pushing.
///
/// The ends of `R_i` over all `R >= 0` with `sum R = W`, `sum R*x = W*x_W + My`, `sum R*y = W*y_W - Mx`,
/// and over all loads within their ends: a linear program, whose ends lie where at most three supports
/// carry. Any springs, any gaps and any stiff frame lie inside it. Where part of the load has no place,
/// each support may carry anything from nothing to all of it.
///
/// `None` where no load within its ends can be balanced: the frame tips whatever happens.
///
/// Source: statics. That legs and ground without any give have no single answer is the paradox of the
/// four-legged table (Euler, 1773); this is the whole set of answers.
///
/// # Errors
/// Refuses numbers that are none or that no frame has, ranges turned round, and a load that nowhere
/// presses down.
pub fn statics_bound(
    spots: &[Spot],
    load: &UncertainLoad,
) -> Result<Option<Vec<Between<Force>>>, SupportsError> {
    if spots.is_empty() {
        return Err(SupportsError::NoSupports);
    }
    if spots.len() > SUPPORTS_MOST {
        return Err(SupportsError::TooManySupports { given: spots.len(), most: SUPPORTS_MOST });
    }
    for (i, &spot) in spots.iter().enumerate() {
        check_spot(i, spot)?;
    }
    let down = check_uncertain_load(load)?;
    if !load.placed() {
        return Ok(Some(vec![Between { low: Force::ZERO, high: down.high }; spots.len()]));
    }
    let scale = Scale::of(spots, down.high.si());
    let unsure = unsure(load, &scale);
    let n = spots.len();
    let bounds: Vec<_> =
        core::iter::repeat_n((0.0, 1.0), n).chain(unsure.iter().map(|u| (u.low, u.high))).collect();
    let program = Program::new(&bounds, &equilibrium(spots, &scale, &unsure, 0, n));
    let mut ends = Vec::with_capacity(n);
    for i in 0..n {
        let mut farthest = [0.0; 2];
        for (end, factor) in farthest.iter_mut().zip([-1.0, 1.0]) {
            let mut program = program.clone();
            program.aim(i, factor);
            match program.maximise() {
                Ended::Empty => return Ok(None),
                Ended::Greatest(value) | Ended::NotAbove(value) => *end = factor * value,
            }
        }
        let [low, high] = farthest.map(|share| Force::n(share.clamp(0.0, 1.0) * scale.weight));
        ends.push(Between { low, high });
    }
    Ok(Some(ends))
}
