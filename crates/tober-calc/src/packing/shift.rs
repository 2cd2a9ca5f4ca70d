//! Shifting or turning the trailer: the least of each alone after which a packing serves, on stated steps.

use super::answer::{Answer, Budget, Choice};
use super::model::Problem;
use super::refuse::ProblemError;
use super::relax::{Cure, Means, WhyNot, why_not};
use super::solve::{Lift, any_lift, solve};

/// What is known of a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum There {
    /// The question with the ground that is there.
    Asks(Box<Problem>),
    /// Its ground was not surveyed.
    NotSurveyed,
    /// Something stands, hangs or lies in the way: it is no place for the trailer.
    Taken,
}

/// How a search over steps ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shift {
    /// So many steps serve, one way or the other.
    Found {
        /// The steps, negative for the other way.
        steps: i64,
        /// The question there.
        problem: Box<Problem>,
        /// A choice that serves there.
        choice: Box<Choice>,
        /// Nearer places that were neither proved nor ruled out; with none of them no fewer steps serve.
        undecided: usize,
        /// Nearer places that lie off the surveyed ground, of which nothing is known.
        not_known: usize,
    },
    /// No number of steps serves, of those whose ground is known.
    None {
        /// Places that were neither proved nor ruled out.
        undecided: usize,
        /// Places that lie off the surveyed ground.
        not_known: usize,
    },
}

/// The fewest steps, one way or the other, after which a packing serves: one step, one back, two, and so on to `most`.
///
/// `at` gives what is known of the place after so many steps. One that is taken is passed over.
/// Serving is decided place by place and exactly; it does not grow with the steps, so none is left out, and
/// nothing is said of places between two steps. Of two ways as short the first (above nothing) is taken.
///
/// # Errors
/// A [`ProblemError`] for a question outside the range of [`solve`].
///
/// # Not covered
/// Whether the trailer can be brought there; what stands or hangs in its way, but for what `at` knows.
pub fn least_shift(at: &dyn Fn(i64) -> There, most: i64, budget: &Budget) -> Result<Shift, ProblemError> {
    let (mut undecided, mut not_known) = (0, 0);
    for steps in (1..=most).flat_map(|steps| [steps, -steps]) {
        let problem = match at(steps) {
            There::Asks(problem) => problem,
            There::Taken => continue,
            There::NotSurveyed => {
                not_known += 1;
                continue;
            }
        };
        problem.check()?;
        match any_lift(&problem, &[], budget.nodes) {
            Lift::Infeasible(_) => {}
            Lift::NotReached { .. } => undecided += 1,
            Lift::Found { .. } => match solve(&problem, budget)? {
                Answer::Optimal(choice) | Answer::BestFound { choice, .. } => {
                    let choice = Box::new(choice);
                    return Ok(Shift::Found { steps, problem, choice, undecided, not_known });
                }
                Answer::Infeasible(_) | Answer::NotReached { .. } => undecided += 1,
            },
        }
    }
    Ok(Shift::None { undecided, not_known })
}

/// A shift after which digging feet in serves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DugShift {
    /// The steps, negative for the other way.
    pub steps: i64,
    /// The question there, with nothing dug.
    pub problem: Problem,
    /// What to dig there, the least deep first met, and a choice that then serves.
    pub cure: Cure,
    /// Nearer places that were neither proved nor ruled out.
    pub undecided: usize,
    /// Nearer places that lie off the surveyed ground.
    pub not_known: usize,
}

/// The fewest steps, one way or the other, after which a packing serves once feet are dug in, as few and as deep as `means`
/// allows; the order of places is that of [`least_shift`]. `None` where no place of those that are known serves.
///
/// A place is ruled out where nothing serves with every foot free to go as deep as one may: a relaxation of any that are dug.
///
/// # Errors
/// A [`ProblemError`] for a question outside the range of [`solve`].
///
/// # Not covered
/// As for [`least_shift`]. More steps with less digging: the first place that serves is given.
pub fn least_shift_dug(
    at: &dyn Fn(i64) -> There,
    most: i64,
    means: &Means,
    budget: &Budget,
) -> Result<Option<DugShift>, ProblemError> {
    let dig_alone = Means { boards_most: 0, wedges: None, packers: Vec::new(), ..means.clone() };
    let (mut undecided, mut not_known) = (0, 0);
    for steps in (1..=most).flat_map(|steps| [steps, -steps]) {
        let problem = match at(steps) {
            There::Asks(problem) => *problem,
            There::Taken => continue,
            There::NotSurveyed => {
                not_known += 1;
                continue;
            }
        };
        problem.check()?;
        let deepest = vec![means.dig_most.0; problem.supports.len()];
        if matches!(any_lift(&problem, &deepest, budget.nodes), Lift::Infeasible(_)) {
            continue;
        }
        match why_not(&problem, &dig_alone, budget)? {
            WhyNot::Cures { cures, .. } => {
                if let Some(cure) = cures.into_iter().next() {
                    return Ok(Some(DugShift { steps, problem, cure, undecided, not_known }));
                }
            }
            WhyNot::NotReached { .. } | WhyNot::Serves => undecided += 1,
            WhyNot::DoNotBuildHere => {}
        }
    }
    Ok(None)
}
