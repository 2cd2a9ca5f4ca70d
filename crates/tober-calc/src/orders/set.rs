//! A set of steps, one bit each.

const BITS: usize = 64;

/// A set of steps by number, out of steps 0 to `len` − 1.
///
/// A number that is not below `len` is in no set: putting it in does nothing.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct StepSet {
    len: usize,
    words: Vec<u64>,
}

impl StepSet {
    /// No step, out of `len`.
    pub fn none(len: usize) -> Self {
        Self { len, words: vec![0; len.div_ceil(BITS)] }
    }

    /// Every step, out of `len`.
    pub fn all(len: usize) -> Self {
        Self::from(len, 0..len)
    }

    /// The steps named, out of `len`.
    pub fn from(len: usize, steps: impl IntoIterator<Item = usize>) -> Self {
        let mut set = Self::none(len);
        for step in steps {
            set.insert(step);
        }
        set
    }

    /// Puts a step in.
    pub fn insert(&mut self, step: usize) {
        if step < self.len {
            self.words[step / BITS] |= 1 << (step % BITS);
        }
    }

    /// Takes a step out.
    pub fn remove(&mut self, step: usize) {
        if step < self.len {
            self.words[step / BITS] &= !(1 << (step % BITS));
        }
    }

    /// Is the step in it?
    pub fn contains(&self, step: usize) -> bool {
        step < self.len && self.words[step / BITS] >> (step % BITS) & 1 == 1
    }

    /// The steps in either, out of as many as the first.
    #[must_use]
    pub fn union(&self, other: &Self) -> Self {
        let mut both = self.clone();
        both.add(other);
        both
    }

    /// Puts in every step of another set.
    pub(super) fn add(&mut self, other: &Self) {
        for (word, more) in self.words.iter_mut().zip(&other.words) {
            *word |= more;
        }
    }

    /// Do the two share a step?
    pub fn intersects(&self, other: &Self) -> bool {
        self.words.iter().zip(&other.words).any(|(a, b)| a & b != 0)
    }

    /// Is every step of the other in this one?
    pub fn contains_all(&self, other: &Self) -> bool {
        let word = |i: usize| self.words.get(i).copied().unwrap_or(0);
        other.words.iter().enumerate().all(|(i, theirs)| theirs & !word(i) == 0)
    }

    /// The steps, the smallest number first.
    pub fn iter(&self) -> impl Iterator<Item = usize> {
        self.words.iter().enumerate().flat_map(|(i, word)| {
            let mut left = *word;
            core::iter::from_fn(move || {
                let bit = (left != 0).then(|| left.trailing_zeros() as usize)?;
                left &= left - 1;
                Some(i * BITS + bit)
            })
        })
    }

    /// How many steps are in it.
    pub fn count(&self) -> usize {
        self.words.iter().map(|word| word.count_ones() as usize).sum()
    }

    /// Out of how many steps the set is taken; not how many are in it ([`StepSet::count`]).
    pub fn len(&self) -> usize {
        self.len
    }

    /// Is no step in it?
    pub fn is_empty(&self) -> bool {
        self.words.iter().all(|word| *word == 0)
    }
}
