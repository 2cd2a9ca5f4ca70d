//! Steps that change the weights of others: a turn of the turntable to a stated angle, a support that is set or taken away.
//!
//! The weights are those of one set of such steps done. So each stage of the special steps alone is held, the others of them left open, and cut
//! with its own weights; the worst of all is the worst. R turns in a row have R + 1 such stages. Special steps that are not
//! ordered among themselves have up to 2^R, which is capped.
//!
//! # Not covered
//! The special step itself while it is under way: for a turn the arc that it sweeps ([`super::greatest_turning`] with the turns before it
//! held done and the others open).

use super::{Precedence, StepSet, WideExtreme, WideTally, greatest_wide};
use std::collections::BTreeSet;

/// One set of special steps done, and the greatest value with it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Branch {
    /// The special steps done.
    pub done: StepSet,
    /// The special steps left open.
    pub open: StepSet,
    /// The greatest value; `None` where no stage holds what is asked and these.
    pub found: Option<WideExtreme>,
}

/// Every set of special steps that some stage has done, those of the fewest steps first; `None` where there are more than `most`.
pub fn branches(p: &Precedence, special: &StepSet, most: usize) -> Option<Vec<StepSet>> {
    let steps: Vec<usize> = special.iter().filter(|&step| step < p.len()).collect();
    let mut all = vec![StepSet::none(p.len())];
    let mut seen = BTreeSet::new();
    let mut next = 0;
    while let Some(done) = all.get(next).cloned() {
        next += 1;
        let ready =
            |&step: &usize| steps.iter().all(|&first| !p.is_before(first, step) || done.contains(first));
        for &step in steps.iter().filter(|&&step| !done.contains(step)).filter(|step| ready(step)) {
            let mut more = done.clone();
            more.insert(step);
            if seen.insert(more.clone()) {
                if all.len() >= most {
                    return None;
                }
                all.push(more);
            }
        }
    }
    Some(all)
}

/// The greatest value with each set of special steps done, by the weights of that set.
///
/// `None` where there are more sets than `most`.
pub fn greatest_by(
    p: &Precedence,
    special: &StepSet,
    weights: &dyn Fn(&StepSet) -> WideTally,
    (done, open): (&StepSet, &StepSet),
    most: usize,
) -> Option<Vec<Branch>> {
    let branch = |held: StepSet| {
        let left = StepSet::from(p.len(), special.iter().filter(|&step| !held.contains(step)));
        let tally = weights(&held);
        let found = greatest_wide(p, &tally, &done.union(&held), &open.union(&left));
        Branch { done: held, open: left, found }
    };
    Some(branches(p, special, most)?.into_iter().map(branch).collect())
}
