//! Which steps must be done before which.

use super::StepSet;
use std::collections::{BTreeSet, VecDeque};

/// Which steps must be done before which: a partial order of the steps 0 to `len` − 1.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Precedence {
    before: Vec<StepSet>,
    later: Vec<StepSet>,
    direct: Vec<Vec<usize>>,
}

impl Precedence {
    /// Reads `after[s]`, the steps that must be done before `s`. A rule may stand twice, and may follow from others.
    ///
    /// # Errors
    /// A shortest circle, as its steps: each must be done before the next, and the last before the first. A rule
    /// that names no step is returned in the same way, as the number it names and the step it stands at.
    pub fn new(after: &[Vec<usize>]) -> Result<Self, Vec<usize>> {
        let len = after.len();
        let mut followers = vec![Vec::new(); len];
        let mut waits: Vec<usize> = after.iter().map(Vec::len).collect();
        for (step, firsts) in after.iter().enumerate() {
            for &first in firsts {
                followers.get_mut(first).ok_or_else(|| vec![first, step])?.push(step);
            }
        }
        let mut before = vec![StepSet::none(len); len];
        let mut order: Vec<usize> = (0..len).filter(|&step| waits[step] == 0).collect();
        let mut next = 0;
        while let Some(&step) = order.get(next) {
            next += 1;
            let mut all = StepSet::none(len);
            for &first in &after[step] {
                all.insert(first);
                all.add(&before[first]);
            }
            before[step] = all;
            for &follower in &followers[step] {
                waits[follower] -= 1;
                if waits[follower] == 0 {
                    order.push(follower);
                }
            }
        }
        if order.len() < len {
            return Err(circle(&followers, &waits));
        }
        let mut later = vec![StepSet::none(len); len];
        for &step in order.iter().rev() {
            let mut all = StepSet::none(len);
            for &follower in &followers[step] {
                all.insert(follower);
                all.add(&later[follower]);
            }
            later[step] = all;
        }
        let direct = after.iter().map(|firsts| {
            let firsts: BTreeSet<usize> = firsts.iter().copied().collect();
            let mut implied = StepSet::none(len);
            for &first in &firsts {
                implied.add(&before[first]);
            }
            firsts.into_iter().filter(|&first| !implied.contains(first)).collect()
        });
        let direct = direct.collect();
        Ok(Self { before, later, direct })
    }

    /// How many steps there are.
    pub fn len(&self) -> usize {
        self.before.len()
    }

    /// Is there no step?
    pub fn is_empty(&self) -> bool {
        self.before.is_empty()
    }

    /// Every step that must be done before `step`, directly or through others. `step` is below `len`, here and below.
    pub fn before(&self, step: usize) -> &StepSet {
        &self.before[step]
    }

    /// Every step before which `step` must be done.
    pub fn later(&self, step: usize) -> &StepSet {
        &self.later[step]
    }

    /// Must `a` be done before `b`?
    pub fn is_before(&self, a: usize, b: usize) -> bool {
        self.before[b].contains(a)
    }

    /// Two different steps, either of which may come first.
    pub fn unordered(&self, a: usize, b: usize) -> bool {
        a != b && !self.is_before(a, b) && !self.is_before(b, a)
    }

    /// The steps that must be done before `step` and follow from no other rule: the transitive reduction.
    pub fn direct(&self, step: usize) -> &[usize] {
        &self.direct[step]
    }

    /// Does the set hold, with each step, all that must be done before it?
    pub fn is_stage(&self, set: &StepSet) -> bool {
        set.len() == self.len()
            && set.iter().all(|step| self.direct[step].iter().all(|&first| set.contains(first)))
    }

    /// The steps of a stage in an order that the rules admit; of those that may come next, always the smallest number.
    pub fn an_order(&self, stage: &StepSet) -> Vec<usize> {
        let mut waits: Vec<usize> = self
            .before
            .iter()
            .map(|before| before.iter().filter(|&first| stage.contains(first)).count())
            .collect();
        let mut ready: BTreeSet<usize> = stage.iter().filter(|&step| waits[step] == 0).collect();
        let mut order = Vec::with_capacity(stage.count());
        while let Some(step) = ready.pop_first() {
            order.push(step);
            for later in self.later[step].iter().filter(|&later| stage.contains(later)) {
                waits[later] -= 1;
                if waits[later] == 0 {
                    ready.insert(later);
                }
            }
        }
        order
    }

    /// The same with more rules: for each `(u, v)`, `v` after `u`. `None` where they close a circle, or name no step.
    pub fn with(&self, rules: &[(usize, usize)]) -> Option<Self> {
        let mut after = self.direct.clone();
        for &(first, then) in rules {
            after.get_mut(then)?.push(first);
        }
        Self::new(&after).ok()
    }
}

/// A shortest circle among the steps that still wait, of those through the smallest numbers.
fn circle(followers: &[Vec<usize>], waits: &[usize]) -> Vec<usize> {
    let mut shortest: Vec<usize> = Vec::new();
    for start in (0..waits.len()).filter(|&step| waits[step] > 0) {
        let mut came_from = vec![None; waits.len()];
        let mut queue = VecDeque::from([start]);
        'search: while let Some(step) = queue.pop_front() {
            for &follower in followers[step].iter().filter(|&&follower| waits[follower] > 0) {
                if follower == start {
                    let mut back = vec![step];
                    while let Some(previous) =
                        back.last().filter(|&&at| at != start).and_then(|&at| came_from[at])
                    {
                        back.push(previous);
                    }
                    back.reverse();
                    if shortest.is_empty() || back.len() < shortest.len() {
                        shortest = back;
                    }
                    break 'search;
                }
                if came_from[follower].is_none() {
                    came_from[follower] = Some(step);
                    queue.push_back(follower);
                }
            }
        }
        // A step after itself: no circle is shorter.
        if shortest.len() == 1 {
            break;
        }
    }
    shortest
}
