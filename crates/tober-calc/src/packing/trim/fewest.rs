//! The proof that fewer legs than those of a change do not bring the frame in.

use super::super::search::fixed_bounds;
use super::options::choices;
use super::screws::{Screws, Step};
use super::solve::allowed;
use super::{Frame, Outcome, Question, Trim};

/// Divisions in the proof of one set of legs.
const STEPS_MOST: u64 = 4_000;
/// Beyond this many legs there are too many sets.
const LEGS_MOST: usize = 12;

/// A set of legs, and the proof that changing them, or some of them, does not bring the frame in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Closed {
    /// The legs that may change, lowest first.
    pub changing: Vec<usize>,
    /// Why that serves nowhere.
    pub steps: Vec<Step>,
}

/// For every set of one leg fewer than the change takes, the proof that it does not serve; for a trim that nothing serves,
/// the one for all legs. A set within one that does not serve does not serve either.
///
/// What the reading may be off by is taken off the tolerances, as in [`super::solve`]. `None` where nothing was decided, or where the
/// proof would need more than heights: the stock of boards, or the rules on what stands; and where it is long.
pub fn none_fewer(question: &Question, trim: &Trim) -> Option<Vec<Closed>> {
    let legs = question.problem.supports.len();
    let fewer = match &trim.outcome {
        Outcome::Change { changed, .. } => changed.len().checked_sub(1)?,
        Outcome::Nothing { .. } => legs,
        _ => return None,
    };
    if legs > LEGS_MOST {
        return None;
    }
    let tops: Vec<i64> = trim.tops.iter().map(|top| top.map(|top| top.0)).collect::<Option<_>>()?;
    let mut reached = Vec::new();
    for ((support, stands), &top) in trim.problem.supports.iter().zip(&question.stands).zip(&tops) {
        let groups = choices(&trim.problem, support, stands)?.groups;
        let ends = groups.iter().map(|group| (top + group.low, top + group.high));
        reached.push(joined(ends.chain([(top, top)]).collect()));
    }
    let allowed = allowed(question, false);
    let fixed: Vec<_> = fixed_bounds(&trim.problem).collect();
    let level = matches!(question.reading.frame, Frame::Level { .. });
    let slopes = (allowed.along, allowed.across);
    let screws = Screws::new(&trim.problem, &fixed, allowed.planarity, slopes, level);
    let mut closed = Vec::new();
    // What stands is not in by what was read of it, so for a change of one leg there is nothing to show.
    for set in (0_u32..1 << legs).filter(|set| fewer > 0 && set.count_ones() as usize == fewer) {
        let changes = |leg: &usize| set >> leg & 1 == 1;
        let only =
            |leg: usize| if changes(&leg) { reached[leg].clone() } else { vec![(tops[leg], tops[leg])] };
        let ends: Vec<_> = (0..legs).map(only).collect();
        closed.push(Closed {
            changing: (0..legs).filter(changes).collect(),
            steps: screws.none(&ends, STEPS_MOST)?,
        });
    }
    Some(closed)
}

/// The same heights as intervals, lowest first, that do not touch.
fn joined(mut ends: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    ends.sort_unstable();
    let mut joined: Vec<(i64, i64)> = Vec::new();
    for (low, high) in ends {
        match joined.last_mut() {
            Some(last) if low <= last.1 + 1 => last.1 = last.1.max(high),
            _ => joined.push((low, high)),
        }
    }
    joined
}
