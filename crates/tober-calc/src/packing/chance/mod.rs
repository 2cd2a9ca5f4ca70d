//! The chance that a plan, once built and lowered, stands in tolerance.
//!
//! Seat `i` comes out at `z_i + s_i + sum over causes k of m_ki u_k`, with `z` the planned seats, `s` how much each goes down at the
//! middle of what is expected, `u` independent standard normal variables and `m_ki` what one deviation of cause `k` does at
//! leg `i`: a cause of one leg alone (its tape, the bedding of its joints) or one that legs share (the slope read
//! for all of them). In tolerance means what it means for the packing: a plane inside level and planarity exists.
//!
//! *Method.* The plane is eliminated ([`limits`]); what is left is a convex body in as many directions as there are legs
//! but one. Along a line through the middle the chance is exact, by the distribution of the distance from it; over the
//! lines it is the mean over a lattice (roots of primes, folded), in eight shifted copies. The figure is off by no more than
//! three and a half times the spread of the eight over the root of eight: 99 of 100 by Student's t with seven degrees of freedom
//! if the shifts were drawn by lot, and that is a measure and no proof. Beside it stand two bounds that are proved ([`bounds`]).
//!
//! *Valid* for causes that are normal and independent, up to 16 legs. The tolerances are checked to the double, not to the tenth.

mod bounds;
mod finding;
mod limits;
mod normal;

pub use finding::{Counted, finding, not_known};
pub use normal::{normal, normal_of_two};

use super::model::Problem;
use super::refuse::ProblemError;
use bounds::Out;
use core::fmt;
use limits::{Condition, conditions};
use tober_quantity::{Length, TenthMm, maths};

/// The most legs for which a chance is worked out.
pub const LEGS_MOST: usize = 16;
/// Shifted copies of the lattice.
const SHIFTS: usize = 8;
/// Student's t for seven degrees of freedom, 99 % two-sided (Pearson and Hartley, Biometrika Tables, table 12): 3.499.
const SPREADS: f64 = 3.5;
/// Points of one copy of the lattice, and products that all may cost.
const POINTS_MOST: usize = 512;
const PRODUCTS_MOST: usize = 4_000_000;
/// The first primes: their roots make a lattice.
const PRIMES: [f64; 15] =
    [2.0, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0, 23.0, 29.0, 31.0, 37.0, 41.0, 43.0, 47.0];

/// One cause by which seats may come out other than planned, independent of all other causes.
#[derive(Clone, Debug, PartialEq)]
pub struct Cause {
    /// What it is, for a sentence: "the tape at rear right".
    pub name: String,
    /// How far one deviation of it moves each seat.
    pub moves: Vec<Length>,
    /// What to do about it, as the start of a sentence: "read rear right again, to 1 mm". Empty where nothing can be done.
    pub again: String,
    /// What share of it would be left were it read again as well as can be; `None` where it cannot be read.
    pub left: Option<f64>,
}

/// What may come out other than planned.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubts {
    /// How much each seat comes out above its planned height in the middle of what is expected; below if negative.
    pub shift: Vec<Length>,
    /// The causes.
    pub causes: Vec<Cause>,
}

/// What reading one thing again would do.
#[derive(Clone, Debug, PartialEq)]
pub struct Raise {
    /// The cause, as a place in [`Doubts::causes`].
    pub cause: usize,
    /// The chance once that is read again as well as can be, and found as it was.
    pub chance: f64,
}

/// The chance of standing in tolerance.
#[derive(Clone, Debug, PartialEq)]
pub struct Chance {
    /// The chance.
    pub chance: f64,
    /// How far it may be off, either way.
    pub off_by: f64,
    /// Proved: the chance is no less than this.
    pub at_least: f64,
    /// Proved: the chance is no more than this.
    pub at_most: f64,
    /// The legs whose heights against each other are likeliest to be out, and how likely.
    pub weakest: (Vec<usize>, f64),
    /// What reading again would raise it, most first.
    pub raises: Vec<Raise>,
}

/// Why no chance is worked out.
#[derive(Clone, Debug, PartialEq)]
pub enum ChanceError {
    /// The packing problem itself is refused.
    Problem(ProblemError),
    /// More legs than the lattice is good for.
    TooManyLegs {
        /// How many.
        legs: usize,
    },
    /// A list that does not have one entry for each leg.
    WrongCount {
        /// What the list holds.
        what: String,
        /// How many entries it has.
        have: usize,
        /// How many legs there are.
        legs: usize,
    },
    /// A figure that is no number or past 10 m.
    NotANumber {
        /// What.
        what: String,
    },
    /// A share outside 0 to 1.
    Share {
        /// The cause.
        cause: String,
        /// The share.
        share: f64,
    },
}

impl fmt::Display for ChanceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Problem(error) => error.fmt(f),
            Self::TooManyLegs { legs } => {
                write!(f, "There are {legs} legs; the chance is worked out for up to {LEGS_MOST}.")
            }
            Self::WrongCount { what, have, legs } => {
                write!(f, "{what} has {have} entries; give one for each of the {legs} legs.")
            }
            Self::NotANumber { what } => write!(f, "{what} is no number within 10 m; give a length."),
            Self::Share { cause, share } => {
                write!(f, "What is left of {cause} is {share}; it must lie from 0 to 1.")
            }
        }
    }
}

impl core::error::Error for ChanceError {}

/// The chance that seats planned at these heights have a plane inside level and planarity once all has come out as it
/// may; see the module for formula, method and validity.
///
/// # Errors
/// A [`ChanceError`] for anything outside the range.
///
/// # Not covered
/// What must be clear of the ground; a frame that bends; causes that are not normal; sinking that goes on.
pub fn chance(problem: &Problem, seats: &[TenthMm], doubts: &Doubts) -> Result<Chance, ChanceError> {
    check(problem, seats, doubts)?;
    let conditions = conditions(problem);
    let means: Vec<f64> =
        seats.iter().zip(&doubts.shift).map(|(seat, shift)| seat.0 as f64 + 10.0 * shift.as_mm()).collect();
    let moves: Vec<Vec<f64>> =
        doubts.causes.iter().map(|cause| cause.moves.iter().map(|by| 10.0 * by.as_mm()).collect()).collect();
    let ways = ways_out(&conditions, &means, &moves);
    let (at_least, at_most) = bounds::proved(&ways);
    let body = Body::of(&conditions, &means, &moves);
    let points =
        (PRODUCTS_MOST / (SHIFTS * conditions.len().max(1) * body.directions.max(1))).clamp(32, POINTS_MOST);
    let lattice = Lattice::of(body.directions, points);
    let (estimate, off_by) = body.chance(&lattice, points);
    let weakest =
        (0..conditions.len()).max_by(|&a, &b| past(&ways, a).total_cmp(&past(&ways, b)).then(b.cmp(&a)));
    let weakest =
        weakest.map_or((Vec::new(), 0.0), |place| (conditions[place].legs.clone(), past(&ways, place)));
    // Compared on the same points, a difference is known far better than either figure.
    let coarse = (points / 16).max(32);
    let before = body.chance(&lattice, coarse).0;
    let mut raises = Vec::new();
    for (place, cause) in doubts.causes.iter().enumerate() {
        let Some(left) = cause.left.filter(|&left| left < 1.0) else { continue };
        let mut better = moves.clone();
        better[place].iter_mut().for_each(|by| *by *= left);
        let gain = Body::of(&conditions, &means, &better).chance(&lattice, coarse).0 - before;
        raises.push(Raise { cause: place, chance: (estimate + gain).clamp(0.0, 1.0) });
    }
    raises.sort_by(|a, b| b.chance.total_cmp(&a.chance).then(a.cause.cmp(&b.cause)));
    Ok(Chance { chance: estimate.clamp(at_least, at_most), off_by, at_least, at_most, weakest, raises })
}

fn check(problem: &Problem, seats: &[TenthMm], doubts: &Doubts) -> Result<(), ChanceError> {
    problem.check().map_err(ChanceError::Problem)?;
    let legs = problem.supports.len();
    if legs > LEGS_MOST {
        return Err(ChanceError::TooManyLegs { legs });
    }
    let count = |what: String, have: usize| {
        if have == legs { Ok(()) } else { Err(ChanceError::WrongCount { what, have, legs }) }
    };
    count("The list of seats".to_owned(), seats.len())?;
    count("The list of shifts".to_owned(), doubts.shift.len())?;
    let number = |what: &dyn Fn() -> String, length: Length| {
        if length.as_m().abs() <= 10.0 { Ok(()) } else { Err(ChanceError::NotANumber { what: what() }) }
    };
    for (shift, support) in doubts.shift.iter().zip(&problem.supports) {
        number(&|| format!("The shift of {}", support.name), *shift)?;
    }
    for (seat, support) in seats.iter().zip(&problem.supports) {
        // Seats lie about the pitch's datum, which may be far off.
        if seat.0.abs() > 4 * TenthMm::GREATEST {
            return Err(ChanceError::NotANumber { what: format!("The seat of {}", support.name) });
        }
    }
    for cause in &doubts.causes {
        count(cause.name.clone(), cause.moves.len())?;
        for by in &cause.moves {
            number(&|| format!("A deviation of {}", cause.name), *by)?;
        }
        if let Some(share) = cause.left.filter(|share| !(0.0..=1.0).contains(share)) {
            return Err(ChanceError::Share { cause: cause.name.clone(), share });
        }
    }
    Ok(())
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Each condition broken upwards and broken downwards, in this order. One that nothing moves is in or out for good.
fn ways_out(conditions: &[Condition], means: &[f64], moves: &[Vec<f64>]) -> Vec<Out> {
    let mut list = Vec::new();
    for condition in conditions {
        let along: Vec<f64> = moves.iter().map(|by| dot(&condition.weights, by)).collect();
        let deviation = dot(&along, &along).sqrt();
        let middle = dot(&condition.weights, means);
        for sign in [1.0, -1.0] {
            let room = condition.width - sign * middle;
            let margin = if deviation > STILL { room / deviation } else { room.signum() * 40.0 };
            let unit = if deviation > STILL { sign / deviation } else { 0.0 };
            list.push(Out { margin, along: along.iter().map(|by| by * unit).collect() });
        }
    }
    list
}

/// Below this nothing moves, in tenths of a millimetre.
const STILL: f64 = 1e-9;

/// The chance that a condition is broken, upwards or downwards.
fn past(ways: &[Out], condition: usize) -> f64 {
    normal(-ways[2 * condition].margin) + normal(-ways[2 * condition + 1].margin)
}

/// Points over which the chance is averaged, as standard normal variables; eight copies, each shifted from the last.
struct Lattice {
    directions: usize,
    copies: Vec<Vec<f64>>,
}

impl Lattice {
    fn of(directions: usize, points: usize) -> Self {
        let copy = |shift: usize| {
            let mut list = Vec::with_capacity(points * directions);
            for point in 0..points {
                for prime in PRIMES.iter().take(directions) {
                    let place = (point + 1) as f64 * prime.sqrt() + shift as f64 * maths::ln(*prime);
                    // Folded, so that the two ends of the interval meet.
                    let fraction = place - place.floor();
                    list.push(normal::quantile(1.0 - (2.0 * fraction - 1.0).abs()));
                }
            }
            list
        };
        Self { directions, copies: (0..SHIFTS).map(copy).collect() }
    }
}

/// The convex body of what is in tolerance, in directions that are independent.
struct Body {
    /// For each condition: its middle and its width.
    rows: Vec<(f64, f64)>,
    /// What each direction does to each condition, one after the other.
    by: Vec<f64>,
    directions: usize,
}

impl Body {
    fn of(conditions: &[Condition], means: &[f64], moves: &[Vec<f64>]) -> Self {
        let spans = independent(moves, means.len());
        let of = |condition: &Condition| (dot(&condition.weights, means), condition.width);
        let by = conditions.iter().flat_map(|c| spans.iter().map(|span| dot(&c.weights, span)));
        Self { by: by.collect(), rows: conditions.iter().map(of).collect(), directions: spans.len() }
    }

    /// The chance and how far it may be off, with so many points of each copy of the lattice.
    fn chance(&self, lattice: &Lattice, points: usize) -> (f64, f64) {
        if self.directions <= 1 {
            return (self.along(&[1.0][..self.directions]), 1e-12);
        }
        let mut copies = [0.0; SHIFTS];
        for (copy, of_copy) in copies.iter_mut().zip(&lattice.copies) {
            let lines = of_copy.chunks_exact(lattice.directions.max(1)).take(points);
            *copy = lines.map(|line| self.along(line)).sum::<f64>() / points as f64;
        }
        let mean = copies.iter().sum::<f64>() / SHIFTS as f64;
        let squares: f64 = copies.iter().map(|copy| (copy - mean) * (copy - mean)).sum();
        let of_mean = (squares / ((SHIFTS - 1) * SHIFTS) as f64).sqrt();
        (mean, SPREADS * of_mean + 1e-9)
    }

    /// The chance along one line through the middle, were all lines like it.
    fn along(&self, line: &[f64]) -> f64 {
        let length = dot(line, line).sqrt();
        let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
        let mut by = self.by.chunks_exact(self.directions.max(1));
        for &(middle, width) in &self.rows {
            let moved = by.next().map_or(0.0, |by| dot(by, line));
            if moved.abs() <= STILL * length {
                if middle.abs() > width + STILL {
                    return 0.0;
                }
                continue;
            }
            let each = length / moved;
            let ends = ((-width - middle) * each, (width - middle) * each);
            low = low.max(ends.0.min(ends.1));
            high = high.min(ends.0.max(ends.1));
            if low >= high {
                return 0.0;
            }
        }
        if self.directions == 0 {
            return 1.0;
        }
        let below = |at: f64| 0.5 * at.signum() * normal::within_radius(self.directions, at.abs());
        below(high) - below(low)
    }
}

/// Independent directions that spread the seats as the causes do, but for what moves all alike.
///
/// Cholesky's columns of the covariance, the leg that is spread most first. Of legs that are spread alike the first in
/// the list is taken, so that a mirror or another unit changes nothing.
fn independent(moves: &[Vec<f64>], legs: usize) -> Vec<Vec<f64>> {
    let mut left = vec![vec![0.0; legs]; legs];
    for by in moves {
        let mean = by.iter().sum::<f64>() / legs as f64;
        for i in 0..legs {
            for j in 0..legs {
                left[i][j] += (by[i] - mean) * (by[j] - mean);
            }
        }
    }
    let enough = (0..legs).map(|i| left[i][i]).sum::<f64>() * 1e-13 + STILL * STILL;
    let mut columns: Vec<Vec<f64>> = Vec::new();
    // What moves all alike was taken out, so one leg follows from the others.
    while columns.len() + 1 < legs {
        let most = |a: usize, b: usize| if left[b][b] > left[a][a] * (1.0 + 1e-9) { b } else { a };
        let Some(widest) = (0..legs).reduce(most).filter(|&i| left[i][i] > enough) else { break };
        let root = left[widest][widest].sqrt();
        let column: Vec<f64> = left.iter().map(|row| row[widest] / root).collect();
        for (row, a) in left.iter_mut().zip(&column) {
            for (entry, b) in row.iter_mut().zip(&column) {
                *entry -= a * b;
            }
        }
        columns.push(column);
    }
    columns
}
