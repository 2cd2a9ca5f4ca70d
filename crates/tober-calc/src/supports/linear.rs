//! A small linear program: the greatest value of one unknown inside bounds and linear conditions.
//!
//! Dual simplex with a bound either side of every unknown, on a dense condensed tableau: each basic
//! unknown is written as a sum over the others, which rest at one of their bounds. Every tableau on the
//! way gives a value that is not below the true greatest one, and it only falls; so the work may be
//! stopped at any time and what it has is still a bound. A child of a branch starts where its parent ended.

/// A bound is met when it is missed by no more than this, in the scaled numbers of the caller.
pub(super) const MET: f64 = 1e-11;
/// There is no point only if a bound is missed by more than this share of the numbers it is made of.
const EMPTY: f64 = 1e-10;
/// Entries of the tableau below this are rounding.
const PIVOT_LEAST: f64 = 1e-11;
/// Gains of the aim below this are rounding.
const GAIN_NOISE: f64 = 1e-13;
const PIVOTS_MOST: usize = 500;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum At {
    Low,
    High,
}

/// The program in its present tableau. Unknowns come first, then one for the value of each condition.
#[derive(Clone, Debug)]
pub(super) struct Program {
    low: Vec<f64>,
    high: Vec<f64>,
    /// Which unknown each row is for.
    basic: Vec<usize>,
    /// Which unknown each column is for.
    resting: Vec<usize>,
    at: Vec<At>,
    /// Row by row.
    tableau: Vec<f64>,
    gain: Vec<f64>,
    value: Vec<f64>,
}

/// How the work on a program ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Ended {
    /// This is the greatest value.
    Greatest(f64),
    /// No point meets all conditions.
    Empty,
    /// The work budget ended; the greatest value is not above this.
    NotAbove(f64),
}

/// A condition: a sum of unknowns between two bounds.
#[derive(Clone, Debug)]
pub(super) struct Condition {
    pub terms: Vec<(usize, f64)>,
    pub low: f64,
    pub high: f64,
}

impl Program {
    /// A program over unknowns with these bounds. An unknown without bounds must occur in a condition
    /// and may not be what is maximised.
    pub fn new(bounds: &[(f64, f64)], conditions: &[Condition]) -> Self {
        let (n, m) = (bounds.len(), conditions.len());
        let mut tableau = vec![0.0; n * m];
        for (row, condition) in conditions.iter().enumerate() {
            for &(j, a) in &condition.terms {
                tableau[row * n + j] += a;
            }
        }
        let all = bounds.iter().copied().chain(conditions.iter().map(|c| (c.low, c.high)));
        let (low, high) = all.unzip();
        let mut program = Self {
            low,
            high,
            basic: (n..n + m).collect(),
            resting: (0..n).collect(),
            at: vec![At::Low; n],
            tableau,
            gain: vec![0.0; n],
            value: vec![0.0; n + m],
        };
        program.take_in_the_free();
        program
    }

    /// Unknowns without bounds become basic once for all: nothing ever makes them leave.
    fn take_in_the_free(&mut self) {
        let n = self.resting.len();
        for column in 0..n {
            if !self.is_free(self.resting[column]) {
                continue;
            }
            let entry = |row: usize| self.tableau[row * n + column].abs();
            let rows = (0..self.basic.len()).filter(|&r| !self.is_free(self.basic[r]));
            match rows.max_by(|&a, &b| entry(a).total_cmp(&entry(b))) {
                Some(row) if entry(row) > PIVOT_LEAST => self.pivot(row, column),
                // No condition asks about it, so any value will do.
                _ => {
                    let unknown = self.resting[column];
                    (self.low[unknown], self.high[unknown]) = (0.0, 0.0);
                }
            }
        }
    }

    fn is_free(&self, unknown: usize) -> bool {
        self.low[unknown] == f64::NEG_INFINITY && self.high[unknown] == f64::INFINITY
    }

    /// Sets what is to be made as great as can be: `factor` times one unknown. Only before any work.
    pub fn aim(&mut self, unknown: usize, factor: f64) {
        let n = self.resting.len();
        self.gain.fill(0.0);
        if let Some(column) = self.resting.iter().position(|&u| u == unknown) {
            self.gain[column] = factor;
        } else if let Some(row) = self.basic.iter().position(|&u| u == unknown) {
            for column in 0..n {
                self.gain[column] = factor * self.tableau[row * n + column];
            }
        }
        for column in 0..n {
            self.rest(column);
        }
    }

    /// Puts a column at the bound where it gains most.
    fn rest(&mut self, column: usize) {
        let unknown = self.resting[column];
        let better = if self.gain[column] > 0.0 { At::High } else { At::Low };
        self.at[column] = match better {
            At::High if self.high[unknown] == f64::INFINITY => At::Low,
            At::Low if self.low[unknown] == f64::NEG_INFINITY => At::High,
            other => other,
        };
    }

    /// Narrows the bounds of an unknown.
    pub fn narrow(&mut self, unknown: usize, low: f64, high: f64) {
        self.low[unknown] = self.low[unknown].max(low);
        self.high[unknown] = self.high[unknown].min(high);
        // A column that had only one bound to rest at keeps it; its gain says that this is right.
    }

    /// Narrows the bounds of a condition, counted in the order given.
    pub fn narrow_condition(&mut self, condition: usize, low: f64, high: f64) {
        let unknown = self.value.len() - self.basic.len() + condition;
        self.narrow(unknown, low, high);
    }

    /// This program as it was before any work, with the bounds it has now: rounding that has gathered in the
    /// tableau on the way is gone.
    pub fn afresh(&self, untouched: &Self, unknown: usize, factor: f64) -> Self {
        let mut fresh = untouched.clone();
        fresh.low.clone_from(&self.low);
        fresh.high.clone_from(&self.high);
        fresh.aim(unknown, factor);
        fresh
    }

    /// The value of an unknown when the work ended.
    pub fn value(&self, unknown: usize) -> f64 {
        self.value[unknown]
    }

    fn resting_value(&self, column: usize) -> f64 {
        let unknown = self.resting[column];
        match self.at[column] {
            At::Low => self.low[unknown],
            At::High => self.high[unknown],
        }
    }

    fn evaluate(&mut self) -> f64 {
        let n = self.resting.len();
        let mut total = 0.0;
        for column in 0..n {
            let value = self.resting_value(column);
            self.value[self.resting[column]] = value;
            total += self.gain[column] * value;
        }
        for row in 0..self.basic.len() {
            let entries = &self.tableau[row * n..(row + 1) * n];
            let sum = entries.iter().zip(&self.resting).map(|(a, &u)| a * self.value[u]).sum();
            self.value[self.basic[row]] = sum;
        }
        total
    }

    /// Works until the greatest value is found.
    pub fn maximise(&mut self) -> Ended {
        if (0..self.value.len()).any(|u| self.low[u] > self.high[u] + MET) {
            return Ended::Empty;
        }
        let n = self.resting.len();
        for _ in 0..PIVOTS_MOST {
            let total = self.evaluate();
            let mut worst = (MET, None);
            for (row, &unknown) in self.basic.iter().enumerate() {
                let value = self.value[unknown];
                let (below, above) = (self.low[unknown] - value, value - self.high[unknown]);
                if below > worst.0 {
                    worst = (below, Some((row, At::Low)));
                }
                if above > worst.0 {
                    worst = (above, Some((row, At::High)));
                }
            }
            let Some((row, leaves_at)) = worst.1 else { return Ended::Greatest(total) };
            let mut least = f64::INFINITY;
            for column in 0..n {
                let Some(entry) = self.could_enter(row, column, leaves_at) else { continue };
                least = least.min((self.gain[column].abs() + GAIN_NOISE) / entry);
            }
            // Of all that keep the gains right to within their noise, the greatest entry: small ones spoil the tableau.
            let mut enters: Option<(f64, usize)> = None;
            for column in 0..n {
                let Some(entry) = self.could_enter(row, column, leaves_at) else { continue };
                if self.gain[column].abs() / entry <= least && enters.is_none_or(|(size, _)| entry > size) {
                    enters = Some((entry, column));
                }
            }
            let Some((_, column)) = enters else {
                // Nothing can be raised any more. What is missed by no more than rounding is no proof
                // that there is no point, so the bound is kept.
                let entries = &self.tableau[row * n..(row + 1) * n];
                let size =
                    entries.iter().zip(&self.resting).map(|(a, &u)| (a * self.value[u]).abs()).sum::<f64>();
                let missed = worst.0 > EMPTY * (1.0 + size);
                return if missed { Ended::Empty } else { Ended::NotAbove(total) };
            };
            self.pivot(row, column);
            self.at[column] = leaves_at;
        }
        Ended::NotAbove(self.evaluate())
    }

    /// The size of the entry of a column that would bring the basic unknown of a row towards the bound it misses.
    fn could_enter(&self, row: usize, column: usize, leaves_at: At) -> Option<f64> {
        let unknown = self.resting[column];
        let entry = self.tableau[row * self.resting.len() + column];
        if entry.abs() < PIVOT_LEAST || self.high[unknown] - self.low[unknown] <= 0.0 {
            return None;
        }
        // Which way the basic unknown goes when this column leaves its bound.
        let raises = (entry > 0.0) == (self.at[column] == At::Low);
        (raises == (leaves_at == At::Low)).then_some(entry.abs())
    }

    /// Exchanges the basic unknown of a row for the one of a column.
    fn pivot(&mut self, row: usize, column: usize) {
        let n = self.resting.len();
        let inverse = 1.0 / self.tableau[row * n + column];
        for j in 0..n {
            self.tableau[row * n + j] *= -inverse;
        }
        self.tableau[row * n + column] = inverse;
        let (before, rest) = self.tableau.split_at_mut(row * n);
        let (pivot_row, after) = rest.split_at_mut(n);
        let others = before.chunks_exact_mut(n).chain(after.chunks_exact_mut(n));
        for entries in others.chain(core::iter::once(&mut self.gain[..])) {
            let factor = entries[column];
            if factor == 0.0 {
                continue;
            }
            entries[column] = 0.0;
            for (entry, above) in entries.iter_mut().zip(&*pivot_row) {
                *entry += factor * above;
            }
        }
        core::mem::swap(&mut self.basic[row], &mut self.resting[column]);
        self.rest(column);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at_most(terms: &[(usize, f64)], high: f64) -> Condition {
        Condition { terms: terms.to_vec(), low: f64::NEG_INFINITY, high }
    }

    #[test]
    fn hand_two_unknowns() {
        // Greatest x with x + y <= 4, x − y <= 1, 0 <= x, y <= 9: at x = 2.5, y = 1.5.
        let conditions = [at_most(&[(0, 1.0), (1, 1.0)], 4.0), at_most(&[(0, 1.0), (1, -1.0)], 1.0)];
        let mut program = Program::new(&[(0.0, 9.0), (0.0, 9.0)], &conditions);
        program.aim(0, 1.0);
        let Ended::Greatest(value) = program.maximise() else { panic!("there is a greatest") };
        assert!((value - 2.5).abs() < 1e-12 && (program.value(1) - 1.5).abs() < 1e-12);
    }

    #[test]
    fn hand_an_unknown_without_bounds_and_a_program_without_a_point() {
        // q free, 0 <= q − x <= 1, q <= 3: the greatest x is 3. With x >= 3.5 there is none.
        let free = (f64::NEG_INFINITY, f64::INFINITY);
        let between = Condition { terms: vec![(0, 1.0), (1, -1.0)], low: 0.0, high: 1.0 };
        let conditions = [between, at_most(&[(0, 1.0)], 3.0)];
        let mut program = Program::new(&[free, (0.0, 9.0)], &conditions);
        program.aim(1, 1.0);
        let mut child = program.clone();
        assert_eq!(program.maximise(), Ended::Greatest(3.0));
        child.narrow(1, 3.5, 9.0);
        assert_eq!(child.maximise(), Ended::Empty);
    }
}
