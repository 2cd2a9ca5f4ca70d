//! The estimate, what it is sure of, and what does not fit it.

use super::algebra::{Weights, dot, orthonormal};
use super::model::{Model, Row, Stood};
use super::{AS_WELL, Cause, FoundBody, FoundState, MISFIT_AT, Residual, Suspect, Weighing, WeighingError};
use crate::working::Provenance;
use tober_quantity::{Length, Mass, Ratio};

/// A reading is checked by others where at least this part of an error in it would show.
const CHECKED: f64 = 1e-6;
/// Two masses are hardly told apart where their correlation is below this: one error moves them against each other.
const TOGETHER: f64 = -0.9;
/// At most so many things that do not fit are taken out one after the other.
const MOST_SUSPECTS: usize = 3;

pub(super) struct Estimate<'a> {
    model: &'a Model,
    variance: Vec<f64>,
    /// What was found of each unknown.
    pub value: Vec<f64>,
    shift: Vec<f64>,
    /// W H P by columns: how the readings bear on each unknown.
    half: Vec<Vec<f64>>,
    /// M d: residuals over their readings' deviations.
    residual: Vec<f64>,
    redundancy: Vec<f64>,
    misfit: f64,
    free: usize,
    count: usize,
    weights: Weights,
}

/// S of some readings, where P is diagonal: how each goes with each, before anything is read.
pub(super) struct Foreseen(Vec<Vec<f64>>);

impl Foreseen {
    pub(super) fn of(variance: &[f64], rows: &[Row]) -> Self {
        let mut all = Self(Vec::new());
        (1..=rows.len()).for_each(|count| all.add(variance, &rows[..count]));
        all
    }
    /// With the last of these rows too.
    fn add(&mut self, variance: &[f64], rows: &[Row]) {
        let Some((new, before)) = rows.split_last() else { return };
        let product =
            |a: &Row| -> f64 { a.h.iter().zip(&new.h).zip(variance).map(|((a, b), p)| a * b * p).sum() };
        let mut last: Vec<f64> = before.iter().map(product).collect();
        self.0.iter_mut().zip(&last).for_each(|(row, x)| row.push(*x));
        last.push(product(new) + 1.0);
        self.0.push(last);
    }
    /// How the rows weigh, with some more behind those that were foreseen.
    pub(super) fn weights(&self, variance: &[f64], rows: &[Row]) -> Result<Weights, WeighingError> {
        let mut all = Self(self.0.clone());
        (self.0.len() + 1..=rows.len()).for_each(|count| all.add(variance, &rows[..count]));
        let free = rows.first().map_or(0, |row| row.b.len());
        let b: Vec<Vec<f64>> = (0..free).map(|at| rows.iter().map(|row| row.b[at]).collect()).collect();
        Weights::of(&all.0, &b).ok_or(WeighingError::Lost)
    }
}

/// The variance of a combination of the unknowns after the readings.
pub(super) fn variance_of(combination: &[f64], variance: &[f64], rows: &[Row], weights: &Weights) -> f64 {
    let before: f64 = combination.iter().zip(variance).map(|(c, p)| c * c * p).sum();
    let seen: Vec<f64> = rows
        .iter()
        .map(|row| row.h.iter().zip(combination).zip(variance).map(|((h, c), p)| h * c * p).sum())
        .collect();
    let half = weights.half(&seen);
    (before - dot(&half, &half)).max(0.0)
}

impl<'a> Estimate<'a> {
    pub(super) fn of(model: &'a Model, rows: &[Row]) -> Result<Self, WeighingError> {
        let variance: Vec<f64> = model.deviation.iter().map(|s| s * s).collect();
        Self::with(model, rows, variance)
    }

    fn with(model: &'a Model, rows: &[Row], variance: Vec<f64>) -> Result<Self, WeighingError> {
        let weights = Foreseen::of(&variance, rows).weights(&variance, rows)?;
        let difference: Vec<f64> = rows.iter().map(|row| row.y - dot(&row.h, &model.prior)).collect();
        let residual = weights.times(&difference);
        let half: Vec<Vec<f64>> = (0..variance.len())
            .map(|j| weights.half(&rows.iter().map(|row| row.h[j] * variance[j]).collect::<Vec<f64>>()))
            .collect();
        let shift: Vec<f64> = (0..variance.len())
            .map(|j| rows.iter().zip(&residual).map(|(row, r)| row.h[j] * variance[j] * r).sum())
            .collect();
        let value: Vec<f64> = model.prior.iter().zip(&shift).map(|(p, s)| p + s).collect();
        if value.iter().any(|v| !v.is_finite()) {
            return Err(WeighingError::Lost);
        }
        Ok(Self {
            model,
            value,
            shift,
            half,
            redundancy: (0..rows.len()).map(|at| weights.diagonal(at)).collect(),
            misfit: dot(&difference, &residual),
            residual,
            free: weights.free,
            count: rows.len(),
            variance,
            weights,
        })
    }

    pub(super) fn misfit(&self) -> f64 {
        self.misfit.max(0.0)
    }
    pub(super) fn freedom(&self) -> usize {
        self.count - self.free
    }
    pub(super) fn determined(&self) -> usize {
        let seen: Vec<Vec<f64>> = self
            .half
            .iter()
            .zip(&self.variance)
            .filter(|(_, p)| **p > 0.0)
            .map(|(half, p)| half.iter().map(|h| h / p.sqrt()).collect())
            .collect();
        let largest = seen.iter().map(|c| dot(c, c)).fold(0.0, f64::max);
        // What the readings say of an unknown a hundred-millionth as loudly as of another is rounding.
        orthonormal(&seen.into_iter().filter(|c| dot(c, c) > 1e-16 * largest).collect::<Vec<_>>())
            .len()
            .min(self.freedom())
    }

    /// The variance of an unknown.
    fn variance(&self, at: usize) -> f64 {
        (self.variance[at] - self.seen(at)).max(0.0)
    }
    /// By how much the readings lower the variance of an unknown.
    fn seen(&self, at: usize) -> f64 {
        dot(&self.half[at], &self.half[at])
    }
    /// The variance of a combination of the unknowns.
    pub(super) fn variance_of(&self, combination: &[f64]) -> f64 {
        let before: f64 = combination.iter().zip(&self.variance).map(|(c, p)| c * c * p).sum();
        let mut seen = vec![0.0; self.count];
        for (c, half) in combination.iter().zip(&self.half) {
            seen.iter_mut().zip(half).for_each(|(s, h)| *s += c * h);
        }
        (before - dot(&seen, &seen)).max(0.0)
    }

    /// The part of what is known of a combination that the readings tell.
    fn told(&self, combination: &[f64]) -> Ratio {
        let before: f64 = combination.iter().zip(&self.variance).map(|(c, p)| c * c * p).sum();
        let told = if before > 0.0 { 1.0 - self.variance_of(combination) / before } else { 0.0 };
        Ratio::one(told.clamp(0.0, 1.0))
    }

    pub(super) fn bodies(&self, weighing: &Weighing) -> Vec<FoundBody> {
        let found = |(at, before): (usize, &super::KnownBody)| FoundBody {
            name: before.name.clone(),
            mass: Mass::kg(self.value[at]),
            deviation: Mass::kg(self.variance(at).sqrt()),
            before: before.clone(),
            told: Ratio::one(if self.variance[at] > 0.0 {
                (self.seen(at) / self.variance[at]).clamp(0.0, 1.0)
            } else {
                0.0
            }),
        };
        weighing.bodies.iter().enumerate().map(found).collect()
    }

    /// The mass of all that was there, as a combination of the unknowns.
    pub(super) fn total(&self, stood: &Stood) -> Vec<f64> {
        let mut of = vec![0.0; self.value.len()];
        stood.bodies.iter().for_each(|placed| of[placed.body] += 1.0);
        of
    }

    /// Where the mass of a state acts along or across, and that as a combination of the unknowns, to first order.
    pub(super) fn place(&self, stood: &Stood, along: bool) -> Option<(f64, Vec<f64>)> {
        let total = dot(&self.total(stood), &self.value);
        let mut moment = 0.0;
        let places: Vec<(usize, f64, usize)> = stood
            .bodies
            .iter()
            .map(|placed| {
                let (at, unknown) = if along { placed.along } else { placed.across }?;
                moment += self.value[placed.body] * at + self.value[unknown];
                Some((placed.body, at, unknown))
            })
            .collect::<Option<_>>()?;
        // Masses far from what can be give no place.
        if total <= 0.0 || places.is_empty() {
            return None;
        }
        let place = moment / total;
        let mut of = vec![0.0; self.value.len()];
        for (body, at, unknown) in places {
            of[body] += (at - place) / total;
            of[unknown] += 1.0 / total;
        }
        Some((place, of))
    }

    pub(super) fn states(&self, weighing: &Weighing) -> Vec<FoundState> {
        let found = |(state, stood): (&super::State, &Stood)| {
            let total = self.total(stood);
            let place = |along| {
                let (at, of) = self.place(stood, along)?;
                Some((Length::m(at), Length::m(self.variance_of(&of).sqrt())))
            };
            let at = |mass: f64, place: Option<(f64, usize)>| {
                place.map(|(at, unknown)| Length::m(at + self.value[unknown] / mass))
            };
            let parts = stood.bodies.iter().map(|placed| {
                let mass = self.value[placed.body];
                let name = weighing.bodies[placed.body].name.clone();
                (name, Mass::kg(mass), at(mass, placed.along), at(mass, placed.across))
            });
            FoundState {
                name: state.name.clone(),
                total: (Mass::kg(dot(&total, &self.value)), Mass::kg(self.variance_of(&total).sqrt())),
                told: self.told(&total),
                along: place(true),
                across: place(false),
                parts: parts.collect(),
            }
        };
        weighing.states.iter().zip(&self.model.states).map(found).collect()
    }

    /// The residual of a reading over its own deviation.
    fn standardised(&self, at: usize) -> Option<f64> {
        (self.redundancy[at] > CHECKED).then(|| self.residual[at] / self.redundancy[at].sqrt())
    }

    pub(super) fn residuals(&self, weighing: &Weighing, rows: &[Row]) -> Vec<Residual> {
        let found = |(at, (reading, row)): (usize, (&super::ScaleReading, &Row))| Residual {
            name: reading.name.clone(),
            residual: Mass::kg(self.residual[at] * row.sigma),
            redundancy: Ratio::one(self.redundancy[at].clamp(0.0, 1.0)),
            standardised: self.standardised(at).map(Ratio::one),
            foreseen: Mass::kg(dot(&row.h, &self.model.prior) * row.sigma),
        };
        weighing.readings.iter().zip(rows).enumerate().map(found).collect()
    }

    /// How much each reading moves an unknown, kilogramme for kilogramme.
    pub(super) fn gains(&self, unknown: usize, rows: &[Row]) -> Vec<f64> {
        let seen: Vec<f64> = rows.iter().map(|row| row.h[unknown] * self.variance[unknown]).collect();
        self.weights.times(&seen).iter().zip(rows).map(|(gain, row)| gain / row.sigma).collect()
    }

    pub(super) fn together(&self, weighing: &Weighing) -> Vec<(String, String, Ratio)> {
        let mut found = Vec::new();
        for (a, first) in weighing.bodies.iter().enumerate() {
            for (b, second) in weighing.bodies.iter().enumerate().skip(a + 1) {
                let both = (self.variance(a) * self.variance(b)).sqrt();
                let covariance = -dot(&self.half[a], &self.half[b]);
                if both > 0.0 && covariance / both < TOGETHER {
                    let correlation = Ratio::one((covariance / both).max(-1.0));
                    found.push((first.name.clone(), second.name.clone(), correlation));
                }
            }
        }
        found
    }

    fn name(&self, weighing: &Weighing, unknown: usize) -> Cause {
        match unknown.checked_sub(weighing.bodies.len()) {
            None => Cause::Mass(weighing.bodies[unknown].name.clone()),
            Some(at) => {
                let (body, placement, along) = &self.model.places[at];
                Cause::Place {
                    body: weighing.bodies[*body].name.clone(),
                    placement: placement.clone(),
                    along: *along,
                }
            }
        }
    }

    /// Every cause there may be, with how far it is off over the deviation of that; the worst first.
    fn causes(&self) -> Vec<(f64, Which)> {
        let mut all: Vec<(f64, Which)> =
            (0..self.count).filter_map(|at| Some((self.standardised(at)?, Which::Reading(at)))).collect();
        for at in 0..self.value.len() {
            let seen = self.seen(at);
            if self.variance[at] > 0.0 && seen > CHECKED * self.variance[at] {
                all.push((self.shift[at] / seen.sqrt(), Which::Prior(at)));
            }
        }
        all.sort_by(|(a, _), (b, _)| b.abs().total_cmp(&a.abs()));
        all
    }

    /// What does not fit. The worst is taken out, and what then does not fit is told too.
    pub(super) fn suspects(&self, weighing: &Weighing, rows: &[Row]) -> Result<Vec<Suspect>, WeighingError> {
        let mut found = Vec::new();
        let mut kept: Vec<usize> = (0..rows.len()).collect();
        let mut variance = self.variance.clone();
        for _ in 0..MOST_SUSPECTS {
            let left: Vec<Row> = kept.iter().map(|at| rows[*at].clone()).collect();
            if left.is_empty() {
                break;
            }
            let estimate = Self::with(self.model, &left, variance.clone())?;
            let causes = estimate.causes();
            let Some(&(worst, which)) = causes.first().filter(|(w, _)| w.abs() > MISFIT_AT) else { break };
            let named = |which: Which| match which {
                Which::Reading(at) => {
                    let reading = &weighing.readings[kept[at]];
                    let name = reading.name.clone();
                    let scale = matches!(reading.from, Provenance::Measured { .. });
                    if scale { Cause::Reading(name) } else { Cause::Together(name) }
                }
                Which::Prior(at) => estimate.name(weighing, at),
            };
            let or_else = causes.iter().skip(1).filter(|(w, _)| w * w > worst * worst - AS_WELL);
            let or_else = or_else.map(|(_, which)| named(*which)).collect();
            let mut suspect = Suspect {
                cause: named(which),
                standardised: Ratio::one(worst),
                error: 0.0,
                or_else,
                without: None,
            };
            match which {
                Which::Reading(at) => {
                    suspect.error = estimate.residual[at] * left[at].sigma / estimate.redundancy[at];
                    kept.remove(at);
                    suspect.without = self.without(weighing, rows, &kept, &variance)?;
                }
                Which::Prior(at) => {
                    let off = estimate.shift[at] * variance[at] / estimate.seen(at);
                    let body = at.checked_sub(weighing.bodies.len()).map(|at| self.model.places[at].0);
                    // A moment of mass over the book's mass is a place.
                    suspect.error = body.map_or(off, |body| off / self.model.prior[body]);
                    // From here on the book says next to nothing of it.
                    variance[at] =
                        (variance[at].sqrt() + off.abs()) * (variance[at].sqrt() + off.abs()) * 100.0;
                }
            }
            found.push(suspect);
        }
        Ok(found)
    }

    /// The mass of the state with the most bodies, by the readings that are left.
    fn without(
        &self,
        weighing: &Weighing,
        rows: &[Row],
        kept: &[usize],
        variance: &[f64],
    ) -> Result<Option<(String, Mass, Mass)>, WeighingError> {
        let left: Vec<Row> = kept.iter().map(|at| rows[*at].clone()).collect();
        let Some(state) = fullest(weighing).filter(|_| !left.is_empty()) else { return Ok(None) };
        let estimate = Self::with(self.model, &left, variance.to_vec())?;
        let total = estimate.total(&self.model.states[state]);
        let mass = Mass::kg(dot(&total, &estimate.value));
        let off = Mass::kg(estimate.variance_of(&total).sqrt());
        Ok(Some((weighing.states[state].name.clone(), mass, off)))
    }
}

#[derive(Clone, Copy)]
enum Which {
    Reading(usize),
    Prior(usize),
}

/// The state with the most bodies, the first of them.
pub(super) fn fullest(weighing: &Weighing) -> Option<usize> {
    let most = weighing.states.iter().map(|state| state.bodies.len()).max()?;
    weighing.states.iter().position(|state| state.bodies.len() == most)
}
