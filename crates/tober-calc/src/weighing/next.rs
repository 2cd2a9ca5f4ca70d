//! What to weigh next: of the readings that can be taken, those that make what is wanted surest.

use super::estimate::{Estimate, Foreseen, fullest, variance_of};
use super::model::{Model, Row};
use super::{Next, On, Possible, Wanted, Weighing, WeighingError};
use tober_quantity::Mass;

/// More readings are only asked for where they make what is wanted surer by more than this share.
const WORTH: f64 = 0.01;

/// For each thing that may be wanted of the state with the most bodies, the readings that lower its deviation most.
pub(super) fn next(
    weighing: &Weighing,
    model: &Model,
    rows: &[Row],
    estimate: &Estimate<'_>,
) -> Result<Vec<Next>, WeighingError> {
    let Some(sigma) = deviation(weighing) else { return Ok(Vec::new()) };
    let variance: Vec<f64> = model.deviation.iter().map(|s| s * s).collect();
    let foreseen = Foreseen::of(&variance, rows);
    let mut tried = Vec::new();
    for (possible, new) in possible(weighing, model, sigma) {
        let all: Vec<Row> = rows.iter().cloned().chain(new).collect();
        let weights = foreseen.weights(&variance, &all)?;
        tried.push((possible, all, weights));
    }
    let mut found = Vec::new();
    for (wanted, combination) in wanted(weighing, model, estimate) {
        let now = estimate.variance_of(&combination).sqrt();
        let mut best: Option<(&Possible, f64)> = None;
        for (possible, all, weights) in &tried {
            let then = variance_of(&combination, &variance, all, weights).sqrt();
            if then < best.map_or(now, |(_, least)| least) * (1.0 - WORTH) {
                best = Some((possible, then));
            }
        }
        if let Some((possible, then)) = best {
            found.push(Next { wanted, now, reading: possible.clone(), then });
        }
    }
    Ok(found)
}

/// What a reading to come may be off by, in kilogrammes.
fn deviation(weighing: &Weighing) -> Option<f64> {
    let least = || weighing.readings.iter().map(|reading| reading.deviation.as_kg()).reduce(f64::min);
    weighing.deviation_next.map(Mass::as_kg).filter(|kg| *kg > 0.0 && kg.is_finite()).or_else(least)
}

/// What may be wanted, each as a combination of the unknowns.
fn wanted(weighing: &Weighing, model: &Model, estimate: &Estimate<'_>) -> Vec<(Wanted, Vec<f64>)> {
    let mut all = Vec::new();
    if let Some(state) = fullest(weighing) {
        let stood = &model.states[state];
        let name = &weighing.states[state].name;
        all.push((Wanted::Total(name.clone()), estimate.total(stood)));
        all.extend(estimate.place(stood, true).map(|(_, of)| (Wanted::Along(name.clone()), of)));
        all.extend(estimate.place(stood, false).map(|(_, of)| (Wanted::Across(name.clone()), of)));
    }
    // The body of which least is known, in kilogrammes.
    let mut worst: Option<(f64, usize, Vec<f64>)> = None;
    for body in 0..weighing.bodies.len() {
        let mut of = vec![0.0; estimate.value.len()];
        of[body] = 1.0;
        let variance = estimate.variance_of(&of);
        if worst.as_ref().is_none_or(|(most, ..)| variance > *most) {
            worst = Some((variance, body, of));
        }
    }
    all.extend(worst.map(|(_, body, of)| (Wanted::Body(weighing.bodies[body].name.clone()), of)));
    all
}

/// Every reading that can be taken in the states there are, and every body by itself; the fewest readings first.
pub(super) fn possible(weighing: &Weighing, model: &Model, sigma: f64) -> Vec<(Possible, Vec<Row>)> {
    let scaled = |mut row: Row| {
        row.h.iter_mut().chain(&mut row.b).for_each(|x| *x /= sigma);
        row.sigma = sigma;
        row
    };
    let (mut all, mut each) = (Vec::new(), Vec::new());
    for (state, stood) in weighing.states.iter().zip(&model.states) {
        let one = |on| Possible::One { state: state.name.clone(), on };
        all.push((one(On::Everything), vec![scaled(model.everything(stood))]));
        let groups = state.groups.iter().map(|group| &group.name);
        for name in groups.chain(state.supports.iter().map(|support| &support.name)) {
            if let Some(row) = model.named(stood, name) {
                all.push((one(On::These(vec![name.clone()])), vec![scaled(row)]));
            }
        }
        let rows: Option<Vec<Row>> =
            state.supports.iter().map(|s| model.named(stood, &s.name).map(scaled)).collect();
        if let Some(rows) = rows.filter(|rows| rows.len() > 1) {
            each.push((Possible::Each { state: state.name.clone() }, rows));
        }
    }
    for (at, body) in weighing.bodies.iter().enumerate() {
        all.push((Possible::Alone { body: body.name.clone() }, vec![scaled(model.alone(at))]));
    }
    each.sort_by_key(|(_, rows)| rows.len());
    all.extend(each);
    all
}
