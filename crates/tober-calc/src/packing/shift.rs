//! Shifting or turning the trailer: the least of each alone after which a packing serves, on stated steps.

use super::answer::{Answer, Budget, Choice};
use super::model::Problem;
use super::refuse::ProblemError;
use super::solve::{Lift, any_lift, solve};

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
/// `at` gives the question after so many steps, with the ground that is there, or `None` where that was not surveyed.
/// Serving is decided place by place and exactly; it does not grow with the steps, so none is left out, and
/// nothing is said of places between two steps. Of two ways as short the first (above nothing) is taken.
///
/// # Errors
/// A [`ProblemError`] for a question outside the range of [`solve`].
///
/// # Not covered
/// Whether the trailer can be brought there, and what stands or hangs in its way.
pub fn least_shift(
    at: &dyn Fn(i64) -> Option<Problem>,
    most: i64,
    budget: &Budget,
) -> Result<Shift, ProblemError> {
    let (mut undecided, mut not_known) = (0, 0);
    for steps in (1..=most).flat_map(|steps| [steps, -steps]) {
        let Some(problem) = at(steps) else {
            not_known += 1;
            continue;
        };
        problem.check()?;
        match any_lift(&problem, &[], budget.nodes) {
            Lift::Infeasible(_) => {}
            Lift::NotReached { .. } => undecided += 1,
            Lift::Found { .. } => match solve(&problem, budget)? {
                Answer::Optimal(choice) | Answer::BestFound { choice, .. } => {
                    let (problem, choice) = (Box::new(problem), Box::new(choice));
                    return Ok(Shift::Found { steps, problem, choice, undecided, not_known });
                }
                Answer::Infeasible(_) | Answer::NotReached { .. } => undecided += 1,
            },
        }
    }
    Ok(Shift::None { undecided, not_known })
}
