//! C16: masses and centres of gravity that nobody knows, from readings of scales.
//!
//! Unknown are the mass of each body and, for each placement it was weighed in, how far its weight acts from where the
//! book says. What the book says of them is a reading too, with its own deviation: the *prior*. A state is the ride as
//! it stood on its scales: which bodies were there, each in which placement, and the supports that carried them. The
//! supports' loads are unknown as well; they obey Σ R = Σ m, Σ R x = Σ m x, Σ R y = Σ m y, and where there are more of
//! them than equations, what is left free is carried along and never assumed.
//!
//! The estimate is that of weighted least squares, which is the one of least deviation among all that are linear in
//! the readings. Masses and moments of mass are linear in it; a centre of gravity is their quotient, and its deviation
//! is of first order.
//!
//! Source: Gauss–Markov theorem and its form with priors, from memory; the statics are those of a rigid body.
//! Not covered: friction of scales, wheels that carry while the ride stands on its legs, wind while weighing.

mod algebra;
mod error;
mod estimate;
mod findings;
mod model;
mod next;
#[cfg(test)]
mod tests;

pub use error::WeighingError;
pub use findings::{findings, workings};

use crate::working::Provenance;
use model::Model;
use tober_quantity::{Length, Mass, Ratio};

/// Everything that went onto scales, and what is known of it beforehand.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighing {
    /// The bodies, each once.
    pub bodies: Vec<KnownBody>,
    /// How the ride stood, each way once.
    pub states: Vec<State>,
    /// What the scales said.
    pub readings: Vec<ScaleReading>,
    /// What a reading to come may be off by; the least of the readings there are, unless given.
    pub deviation_next: Option<Mass>,
}

/// A body with what the book says of its mass.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownBody {
    /// Its name.
    pub name: String,
    /// Its mass.
    pub mass: Mass,
    /// The standard deviation of that; zero for a mass that is taken as it is.
    pub deviation: Mass,
    /// How it is known.
    pub from: Provenance,
}

/// The ride as it stood on scales.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Its name.
    pub name: String,
    /// What carried it. Nothing where it was only weighed as a whole.
    pub supports: Vec<Carrier>,
    /// Supports that can stand on one scale, by a name.
    pub groups: Vec<Group>,
    /// The bodies that were there.
    pub bodies: Vec<PlacedBody>,
}

/// A support of a state.
#[derive(Clone, Debug, PartialEq)]
pub struct Carrier {
    /// Its name.
    pub name: String,
    /// Along.
    pub along: Length,
    /// Across.
    pub across: Length,
}

/// Supports by one name.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// The name: "axle 1".
    pub name: String,
    /// The names of the supports.
    pub supports: Vec<String>,
}

/// A body where it was.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedBody {
    /// The body.
    pub body: String,
    /// The name of its placement: bodies of one placement in several states are in one place.
    pub placement: String,
    /// Where its weight acts along, with the standard deviation of that; not known where there is none.
    pub along: Option<(Length, Length)>,
    /// Where it acts across.
    pub across: Option<(Length, Length)>,
}

/// What a scale said.
#[derive(Clone, Debug, PartialEq)]
pub struct ScaleReading {
    /// What it is called in a finding.
    pub name: String,
    /// The state in which it was read.
    pub state: String,
    /// What stood on the scale.
    pub on: On,
    /// What it said.
    pub mass: Mass,
    /// The standard deviation of that; more than zero.
    pub deviation: Mass,
    /// From where it is: a scale, or else the book, that says a mass of several bodies together.
    pub from: Provenance,
}

/// What stood on a scale.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum On {
    /// The whole of the state.
    Everything,
    /// Supports, or groups of them, by name.
    These(Vec<String>),
}

/// What the readings say.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighed {
    /// Each body, in the order given.
    pub bodies: Vec<FoundBody>,
    /// Each state, in the order given.
    pub states: Vec<FoundState>,
    /// Each reading, in the order given.
    pub residuals: Vec<Residual>,
    /// The sum of the squares of residuals and of shifts from the book, each over its deviation.
    pub misfit: f64,
    /// How many of the readings' figures check others or the book.
    pub freedom: usize,
    /// How many combinations of the unknowns the readings determine.
    pub determined: usize,
    /// What does not fit, the worst first; empty where all fits.
    pub suspects: Vec<Suspect>,
    /// Pairs of bodies whose masses the readings hardly tell apart, with their correlation.
    pub together: Vec<(String, String, Ratio)>,
    /// What to weigh next, for each thing that may be wanted.
    pub next: Vec<Next>,
}

/// A body's mass.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundBody {
    /// Its name.
    pub name: String,
    /// Its mass.
    pub mass: Mass,
    /// The standard deviation of that.
    pub deviation: Mass,
    /// What was known before.
    pub before: KnownBody,
    /// The part of what is known of it that the readings tell, from 0 to 1: 1 − σ²/σ₀².
    pub told: Ratio,
}

/// A state's mass and where it acts.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundState {
    /// Its name.
    pub name: String,
    /// The mass of all that was there, and its standard deviation.
    pub total: (Mass, Mass),
    /// The part of what is known of that mass that the readings tell, from 0 to 1.
    pub told: Ratio,
    /// Where it acts along, and the standard deviation of that; nothing where the place of a body is not known.
    pub along: Option<(Length, Length)>,
    /// Where it acts across.
    pub across: Option<(Length, Length)>,
    /// The bodies, with their masses and where each acts as far as that is known.
    pub parts: Vec<(String, Mass, Option<Length>, Option<Length>)>,
}

/// How a reading lies to the others and to the book.
#[derive(Clone, Debug, PartialEq)]
pub struct Residual {
    /// The reading.
    pub name: String,
    /// Read less what was found.
    pub residual: Mass,
    /// Which part of an error in it would show, from 0 to 1.
    pub redundancy: Ratio,
    /// The residual over its own deviation; nothing where no other reading nor the book checks it.
    pub standardised: Option<Ratio>,
    /// What the book alone would have it say.
    pub foreseen: Mass,
}

/// What may be wrong.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// A reading, by its name.
    Reading(String),
    /// A mass that the book gives of several bodies together, by its name.
    Together(String),
    /// The mass that the book gives a body.
    Mass(String),
    /// Where the book says that a body's weight acts in a placement, along or across.
    Place {
        /// The body.
        body: String,
        /// Its placement.
        placement: String,
        /// Along, or else across.
        along: bool,
    },
}

/// Something that does not fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// What explains it best.
    pub cause: Cause,
    /// How far it is off over the deviation of that.
    pub standardised: Ratio,
    /// By how much it would be off: a mass; for a place, a length.
    pub error: f64,
    /// What else would explain it: causes that a test cannot tell from this one.
    pub or_else: Vec<Cause>,
    /// The mass of the state with the most bodies without this reading; nothing for what the book says.
    pub without: Option<(String, Mass, Mass)>,
}

/// What to weigh next.
#[derive(Clone, Debug, PartialEq)]
pub struct Next {
    /// What is wanted.
    pub wanted: Wanted,
    /// Its deviation now, in kilogrammes or metres.
    pub now: f64,
    /// The readings that lower it most.
    pub reading: Possible,
    /// Its deviation with them.
    pub then: f64,
}

/// Something that may be wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// The mass of a state.
    Total(String),
    /// Where the mass of a state acts along.
    Along(String),
    /// Where it acts across.
    Across(String),
    /// The mass of a body.
    Body(String),
}

/// Readings that can be taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Possible {
    /// One scale under this, in this state.
    One {
        /// The state.
        state: String,
        /// What stands on the scale.
        on: On,
    },
    /// Every support of this state, each by itself.
    Each {
        /// The state.
        state: String,
    },
    /// This body by itself.
    Alone {
        /// The body.
        body: String,
    },
}

/// A standardised residual past this does not fit: one sound reading in a thousand is past it.
///
/// The same as for a survey: [`crate::survey::BLUNDER_AT`] (from memory).
pub const MISFIT_AT: f64 = crate::survey::BLUNDER_AT;

/// Causes whose squares differ by less than this explain a misfit as well as each other: the 95 % point of chi-squared
/// with one degree of freedom (from memory).
pub const AS_WELL: f64 = 3.84;

/// What the readings say of every mass.
///
/// With prior θ₀, its covariance P, readings y = H θ + B λ + ε of covariance V (λ the support loads that statics leave
/// free): S = H P Hᵀ + V, M = S⁻¹ − S⁻¹B (BᵀS⁻¹B)⁻BᵀS⁻¹, θ = θ₀ + P Hᵀ M (y − H θ₀), and its covariance is
/// P − P Hᵀ M H P. Masses in kg, moments of mass in kg m.
///
/// # Errors
/// Names that are unknown or given twice, figures that are not numbers or not more than zero where they must be, and
/// more bodies or readings than are worked.
pub fn weigh(weighing: &Weighing) -> Result<Weighed, WeighingError> {
    let model = Model::of(weighing)?;
    let rows = model.rows(weighing)?;
    let estimate = estimate::Estimate::of(&model, &rows)?;
    Ok(Weighed {
        bodies: estimate.bodies(weighing),
        states: estimate.states(weighing),
        residuals: estimate.residuals(weighing, &rows),
        misfit: estimate.misfit(),
        freedom: estimate.freedom(),
        determined: estimate.determined(),
        suspects: estimate.suspects(weighing, &rows)?,
        together: estimate.together(weighing),
        next: next::next(weighing, &model, &rows, &estimate)?,
    })
}
