//! Which steps come before which, made anew from the rules.

use super::{Program, Refusal};

/// A set of steps.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Marks(Vec<u64>);

impl Marks {
    /// None of `steps` steps.
    pub fn none(steps: usize) -> Self {
        Self(vec![0; steps.div_ceil(64)])
    }

    /// The steps of a list; numbers beyond the last are left out.
    pub fn of(steps: usize, list: &[usize]) -> Self {
        let mut marks = Self::none(steps);
        list.iter().for_each(|&step| marks.set(step));
        marks
    }

    /// Is the step in the set?
    pub fn has(&self, step: usize) -> bool {
        self.0.get(step / 64).is_some_and(|word| word >> (step % 64) & 1 == 1)
    }

    /// Puts a step in.
    pub fn set(&mut self, step: usize) {
        if let Some(word) = self.0.get_mut(step / 64) {
            *word |= 1 << (step % 64);
        }
    }

    /// Takes a step out.
    pub fn clear(&mut self, step: usize) {
        if let Some(word) = self.0.get_mut(step / 64) {
            *word &= !(1 << (step % 64));
        }
    }

    /// Puts all of another set in.
    pub fn add(&mut self, other: &Self) {
        self.0.iter_mut().zip(&other.0).for_each(|(word, more)| *word |= more);
    }

    /// Is every step of `other` in this set?
    pub fn holds(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).all(|(word, more)| more & !word == 0)
    }

    /// How many.
    pub fn count(&self) -> usize {
        self.0.iter().map(|word| word.count_ones() as usize).sum()
    }
}

/// Which steps come before which.
#[derive(Clone, Debug)]
pub struct Order {
    before: Vec<Marks>,
    /// The rules that follow from no others.
    direct: Vec<Vec<usize>>,
}

impl Order {
    /// The order of a program's rules and phases, with further rules: of each pair, the second waits for the first.
    ///
    /// # Errors
    /// A rule that names no step, or rules that close a circle.
    pub fn new(program: &Program, rules: &[(usize, usize)]) -> Result<Self, Refusal> {
        let steps = program.work.len();
        if program.after.len() != steps || program.phase.len() != steps {
            return Err(Refusal::Shape);
        }
        let mut first: Vec<Marks> = Vec::with_capacity(steps);
        for step in 0..steps {
            let mut waits = Marks::of(steps, &program.after[step]);
            if let Some(&stranger) = program.after[step].iter().find(|&&other| other >= steps) {
                return Err(Refusal::NoSuchStep(stranger));
            }
            for other in 0..steps {
                if program.phase[other] < program.phase[step] {
                    waits.set(other);
                }
            }
            first.push(waits);
        }
        for &(earlier, later) in rules {
            if earlier >= steps || later >= steps {
                return Err(Refusal::NoSuchStep(earlier.max(later)));
            }
            first[later].set(earlier);
        }
        // A step is placed when all it waits for is; its befores are then known.
        let mut before = vec![Marks::none(steps); steps];
        let mut placed = Marks::none(steps);
        loop {
            let mut any = false;
            for step in 0..steps {
                if placed.has(step) || !placed.holds(&first[step]) {
                    continue;
                }
                let mut all = first[step].clone();
                for other in (0..steps).filter(|&other| first[step].has(other)) {
                    all.add(&before[other]);
                }
                before[step] = all;
                placed.set(step);
                any = true;
            }
            if !any {
                break;
            }
        }
        if placed.count() < steps {
            return Err(Refusal::Circle);
        }
        let direct = (0..steps).map(|step| {
            let mut implied = Marks::none(steps);
            for other in (0..steps).filter(|&other| before[step].has(other)) {
                implied.add(&before[other]);
            }
            (0..steps).filter(|&other| before[step].has(other) && !implied.has(other)).collect()
        });
        let direct = direct.collect();
        Ok(Self { before, direct })
    }

    /// How many steps there are.
    pub fn steps(&self) -> usize {
        self.before.len()
    }

    /// Must `a` be done before `b`?
    pub fn is_before(&self, a: usize, b: usize) -> bool {
        self.before.get(b).is_some_and(|before| before.has(a))
    }

    /// Two different steps that either may come first.
    pub fn free(&self, a: usize, b: usize) -> bool {
        a != b && !self.is_before(a, b) && !self.is_before(b, a)
    }

    /// All that must be done before a step.
    pub fn before(&self, step: usize) -> &Marks {
        &self.before[step]
    }

    /// The rules that follow from no others.
    pub fn direct(&self) -> &[Vec<usize>] {
        &self.direct
    }

    /// May the step begin where these are done?
    pub fn may_begin(&self, step: usize, done: &Marks) -> bool {
        self.before.get(step).is_some_and(|before| done.holds(before)) && !done.has(step)
    }
}
