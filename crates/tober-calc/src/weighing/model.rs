//! From bodies, states and readings to rows: what each reading says of the unknowns.

use super::algebra::{dot, orthonormal};
use super::{On, ScaleReading, State, Weighing, WeighingError};
use std::collections::BTreeMap;

/// At most so many are worked, so that the work stays small; no ride has more.
const MOST_BODIES: usize = 200;
pub(super) const MOST_STATES: usize = 12;
pub(super) const MOST_SUPPORTS: usize = 24;
pub(super) const MOST_READINGS: usize = 80;

/// The unknowns and what is known of them before anything is read.
pub(super) struct Model {
    /// Prior values: masses first, in the order of the bodies, then moments about the book's places.
    pub prior: Vec<f64>,
    /// Their deviations.
    pub deviation: Vec<f64>,
    /// What each unknown behind the masses is: body, placement, along or across.
    pub places: Vec<(usize, String, bool)>,
    /// The states.
    pub states: Vec<Stood>,
}

/// A state, ready for rows.
pub(super) struct Stood {
    /// For each body that was there: its number, its place along and across, and the unknowns of each.
    pub bodies: Vec<Placed>,
    /// Orthonormal combinations of support loads that equilibrium determines, each with what it takes of the total
    /// mass, and of its moments along and across.
    determined: Vec<Determined>,
    /// Those it leaves free.
    free: Vec<Vec<f64>>,
    /// Where its free loads begin among all that are free.
    free_from: usize,
    supports: BTreeMap<String, Vec<usize>>,
    count: usize,
}

/// A combination of support loads, and what it takes of the total mass and of its moments along and across.
type Determined = (Vec<f64>, [f64; 3]);

pub(super) struct Placed {
    pub body: usize,
    /// Place in metres, and the number of the unknown moment.
    pub along: Option<(f64, usize)>,
    pub across: Option<(f64, usize)>,
}

/// One reading, over its deviation.
#[derive(Clone)]
pub(super) struct Row {
    /// What it takes of each unknown.
    pub h: Vec<f64>,
    /// What it takes of each free support load.
    pub b: Vec<f64>,
    /// What was read.
    pub y: f64,
    /// Its deviation in kilogrammes.
    pub sigma: f64,
}

fn names<'a>(what: &'static str, names: impl Iterator<Item = &'a str>) -> Result<(), WeighingError> {
    let mut seen = std::collections::BTreeSet::new();
    for name in names {
        if !seen.insert(name) {
            return Err(WeighingError::Twice { what, name: name.to_owned() });
        }
    }
    Ok(())
}

fn figure(
    what: &'static str,
    of: &str,
    value: f64,
    good: bool,
    must: &'static str,
) -> Result<f64, WeighingError> {
    if good && value.is_finite() && value.abs() < 1e9 {
        return Ok(value);
    }
    Err(WeighingError::Figure { what, of: of.to_owned(), must })
}

impl Model {
    pub(super) fn of(weighing: &Weighing) -> Result<Self, WeighingError> {
        let Weighing { bodies, states, readings, .. } = weighing;
        for (what, count, most) in [
            ("bodies", bodies.len(), MOST_BODIES),
            ("states", states.len(), MOST_STATES),
            ("readings", readings.len(), MOST_READINGS),
        ] {
            if count > most {
                return Err(WeighingError::TooMany { what, count, most });
            }
        }
        for (what, none) in [("body", bodies.is_empty()), ("reading", readings.is_empty())] {
            if none {
                return Err(WeighingError::Nothing { what });
            }
        }
        names("body", bodies.iter().map(|body| body.name.as_str()))?;
        names("state", states.iter().map(|state| state.name.as_str()))?;
        let mut model =
            Self { prior: Vec::new(), deviation: Vec::new(), places: Vec::new(), states: Vec::new() };
        for body in bodies {
            let mass = body.mass.as_kg();
            let off = body.deviation.as_kg();
            model.prior.push(figure("mass", &body.name, mass, mass > 0.0, "more than 0 kg")?);
            model.deviation.push(figure("deviation", &body.name, off, off >= 0.0, "0 kg or more")?);
        }
        let mut free = 0;
        for state in states {
            let stood = model.stand(weighing, state, free)?;
            free += stood.free.len();
            model.states.push(stood);
        }
        Ok(model)
    }

    fn stand(
        &mut self,
        weighing: &Weighing,
        state: &State,
        free_from: usize,
    ) -> Result<Stood, WeighingError> {
        names(
            "support",
            state
                .supports
                .iter()
                .map(|s| s.name.as_str())
                .chain(state.groups.iter().map(|g| g.name.as_str())),
        )?;
        names("body", state.bodies.iter().map(|placed| placed.body.as_str()))?;
        for (what, count) in [("supports", state.supports.len()), ("groups", state.groups.len())] {
            if count > MOST_SUPPORTS {
                return Err(WeighingError::TooMany { what, count, most: MOST_SUPPORTS });
            }
        }
        let mut bodies = Vec::new();
        for placed in &state.bodies {
            let body = weighing
                .bodies
                .iter()
                .position(|b| b.name == placed.body)
                .ok_or_else(|| unknown("body", &placed.body, state))?;
            let mut place = |at: Option<(tober_quantity::Length, tober_quantity::Length)>, along: bool| {
                let Some((at, off)) = at else { return Ok(None) };
                let at = figure("place", &placed.body, at.as_m(), true, "a length")?;
                let off = figure(
                    "deviation of the place",
                    &placed.body,
                    off.as_m(),
                    off.as_m() >= 0.0,
                    "0 mm or more",
                )?;
                Ok(Some((at, self.moment(body, &placed.placement, along, off))))
            };
            bodies.push(Placed {
                body,
                along: place(placed.along, true)?,
                across: place(placed.across, false)?,
            });
        }
        let mut supports: BTreeMap<String, Vec<usize>> =
            state.supports.iter().enumerate().map(|(at, s)| (s.name.clone(), vec![at])).collect();
        for group in &state.groups {
            let each = group.supports.iter().map(|name| {
                state
                    .supports
                    .iter()
                    .position(|s| s.name == *name)
                    .ok_or_else(|| unknown("support", name, state))
            });
            supports.insert(group.name.clone(), each.collect::<Result<_, _>>()?);
        }
        for support in &state.supports {
            figure("place", &support.name, support.along.as_m(), true, "a length")?;
            figure("place", &support.name, support.across.as_m(), true, "a length")?;
        }
        let (determined, free) = equilibrium(state);
        Ok(Stood { bodies, determined, free, free_from, supports, count: state.supports.len() })
    }

    /// The unknown moment of a body in a placement about the place that the book gives: m₀ times how far off that is.
    fn moment(&mut self, body: usize, placement: &str, along: bool, off_m: f64) -> usize {
        let masses = self.prior.len() - self.places.len();
        let known = |(b, p, a): &(usize, String, bool)| (*b, p.as_str(), *a) == (body, placement, along);
        if let Some(at) = self.places.iter().position(known) {
            return masses + at;
        }
        self.places.push((body, placement.to_owned(), along));
        self.prior.push(0.0);
        self.deviation.push(self.prior[body] * off_m);
        self.prior.len() - 1
    }

    fn free(&self) -> usize {
        self.states.iter().map(|stood| stood.free.len()).sum()
    }

    /// One row for each reading.
    pub(super) fn rows(&self, weighing: &Weighing) -> Result<Vec<Row>, WeighingError> {
        weighing.readings.iter().map(|reading| self.row(weighing, reading)).collect()
    }

    fn row(&self, weighing: &Weighing, reading: &ScaleReading) -> Result<Row, WeighingError> {
        let sigma = reading.deviation.as_kg();
        let sigma = figure("deviation", &reading.name, sigma, sigma > 0.0, "more than 0 kg")?;
        let y = figure("reading", &reading.name, reading.mass.as_kg(), true, "a mass")?;
        let state =
            weighing.states.iter().position(|state| state.name == reading.state).ok_or_else(|| {
                let at = format!("reading \"{}\"", reading.name);
                WeighingError::Unknown { what: "state", name: reading.state.clone(), at }
            })?;
        let stood = &self.states[state];
        let mut on = vec![0.0; stood.count];
        let mut row = match &reading.on {
            On::Everything => self.everything(stood),
            On::These(names) => {
                for name in names {
                    let found = stood.supports.get(name).ok_or_else(|| WeighingError::Unknown {
                        what: "support",
                        name: name.clone(),
                        at: format!("reading \"{}\"", reading.name),
                    })?;
                    found.iter().for_each(|at| on[*at] = 1.0);
                }
                self.partly(stood, &on).map_err(|body| WeighingError::PlaceNotKnown {
                    reading: reading.name.clone(),
                    body: weighing.bodies[body].name.clone(),
                })?
            }
        };
        row.h.iter_mut().chain(&mut row.b).for_each(|x| *x /= sigma);
        Ok(Row { y: y / sigma, sigma, ..row })
    }

    fn empty(&self) -> Row {
        Row { h: vec![0.0; self.prior.len()], b: vec![0.0; self.free()], y: 0.0, sigma: 1.0 }
    }

    /// A scale under all that is there, in kilogrammes.
    pub(super) fn everything(&self, stood: &Stood) -> Row {
        let mut row = self.empty();
        stood.bodies.iter().for_each(|placed| row.h[placed.body] += 1.0);
        row
    }

    /// A scale under one body.
    pub(super) fn alone(&self, body: usize) -> Row {
        let mut row = self.empty();
        row.h[body] = 1.0;
        row
    }

    /// A scale under these supports (1 for each that is on it); the body whose place is missing where one is.
    fn partly(&self, stood: &Stood, on: &[f64]) -> Result<Row, usize> {
        let mut row = self.empty();
        // What the scale takes of the total mass, and of its moments along and across.
        let mut takes = [0.0; 3];
        for (combination, of) in &stood.determined {
            let share = dot(on, combination);
            takes.iter_mut().zip(of).for_each(|(t, o)| *t += share * o);
        }
        for placed in &stood.bodies {
            row.h[placed.body] += takes[0];
            for (take, place) in [(takes[1], placed.along), (takes[2], placed.across)] {
                if take.abs() < 1e-12 {
                    continue;
                }
                let (at, moment) = place.ok_or(placed.body)?;
                row.h[placed.body] += take * at;
                row.h[moment] += take;
            }
        }
        for (at, free) in stood.free.iter().enumerate() {
            row.b[stood.free_from + at] = dot(on, free);
        }
        Ok(row)
    }

    /// A scale under a support or group, by its name.
    pub(super) fn named(&self, stood: &Stood, name: &str) -> Option<Row> {
        let mut on = vec![0.0; stood.count];
        stood.supports.get(name)?.iter().for_each(|at| on[*at] = 1.0);
        self.partly(stood, &on).ok()
    }
}

fn unknown(what: &'static str, name: &str, state: &State) -> WeighingError {
    WeighingError::Unknown { what, name: name.to_owned(), at: format!("state \"{}\"", state.name) }
}

/// The loads of n supports split into combinations that Σ R, Σ R x and Σ R y determine, and combinations that they
/// leave free: with C the rows 1, x, y, the first are an orthonormal base of C's rows, each with what it is made of,
/// and the second complete it.
///
/// Supports in one line determine less, and then nothing is said of what acts beside the line.
fn equilibrium(state: &State) -> (Vec<Determined>, Vec<Vec<f64>>) {
    let n = state.supports.len();
    let along: Vec<f64> = state.supports.iter().map(|s| s.along.as_m()).collect();
    let across: Vec<f64> = state.supports.iter().map(|s| s.across.as_m()).collect();
    let mut determined: Vec<Determined> = Vec::new();
    for (at, row) in [vec![1.0; n], along, across].into_iter().enumerate() {
        let size = dot(&row, &row).sqrt();
        let mut left = row;
        // The combination of totals that this combination of loads is.
        let mut of = [0.0; 3];
        of[at] = 1.0;
        for _ in 0..2 {
            for (unit, made_of) in &determined {
                let part = dot(unit, &left);
                left.iter_mut().zip(unit).for_each(|(l, u)| *l -= part * u);
                of.iter_mut().zip(made_of).for_each(|(o, m)| *o -= part * m);
            }
        }
        let rest = dot(&left, &left).sqrt();
        if rest > super::algebra::NOTHING * size.max(1.0) {
            left.iter_mut().for_each(|l| *l /= rest);
            of.iter_mut().for_each(|o| *o /= rest);
            determined.push((left, of));
        }
    }
    let units = (0..n).map(|at| (0..n).map(|i| if i == at { 1.0 } else { 0.0 }).collect());
    let columns: Vec<Vec<f64>> = determined.iter().map(|(unit, _)| unit.clone()).chain(units).collect();
    let mut all = orthonormal(&columns);
    let free = all.split_off(determined.len().min(all.len()));
    (determined, free)
}
