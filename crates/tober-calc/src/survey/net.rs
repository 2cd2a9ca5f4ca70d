//! Least squares over readings that are each a sum of unknowns, with what tells a slip from a reading.

use super::dense::{Inverse, Symmetric};
use super::{BLUNDER_AT, Covariance, Doubt, ReadingName, Residual, Suspect};
use tober_quantity::{Length, Ratio};

/// Below this share of its own error showing, a reading counts as unchecked.
const REDUNDANCY_LEAST: f64 = 1e-6;

/// One reading, or one thing that is known beforehand, as a sum of unknowns each with its factor.
pub(super) struct Equation {
    pub(super) name: ReadingName,
    /// Column and factor; no column twice.
    pub(super) terms: Vec<(usize, f64)>,
    pub(super) observed: f64,
    pub(super) deviation: f64,
    /// Whether it is what an instrument is known for, and no reading.
    pub(super) prior: bool,
}

/// All readings of a survey.
pub(super) struct Net {
    pub(super) equations: Vec<Equation>,
    pub(super) unknowns: usize,
}

/// A net, worked out.
pub(super) struct Adjusted<'a> {
    net: &'a Net,
    inverse: Inverse,
    pub(super) solution: Vec<f64>,
    residuals: Vec<f64>,
    redundancies: Vec<f64>,
    /// The root of the variance factor, where there is anything to spare.
    pub(super) spread: Option<f64>,
    pub(super) freedom: usize,
}

impl Net {
    /// The unknowns with the least sum of (residual / deviation)², or `None` where they are not all tied.
    pub(super) fn adjust(&self) -> Option<Adjusted<'_>> {
        let mut normal = Symmetric::zero(self.unknowns);
        let mut right = vec![0.0; self.unknowns];
        for equation in &self.equations {
            let weight = 1.0 / (equation.deviation * equation.deviation);
            for (i, &(row, a)) in equation.terms.iter().enumerate() {
                right[row] += weight * a * equation.observed;
                for &(column, b) in &equation.terms[..=i] {
                    normal.add(row.max(column), row.min(column), weight * a * b);
                }
            }
        }
        let inverse = normal.inverse()?;
        let solution = inverse.times(&right);
        let residuals: Vec<f64> = self.equations.iter().map(|e| e.computed(&solution) - e.observed).collect();
        let redundancies = self.equations.iter().map(|e| e.redundancy(&inverse)).collect();
        let freedom = self.equations.len() - self.unknowns.min(self.equations.len());
        let squares: f64 =
            residuals.iter().zip(&self.equations).map(|(v, e)| (v / e.deviation) * (v / e.deviation)).sum();
        let spread = (freedom > 0).then(|| (squares / freedom as f64).sqrt());
        Some(Adjusted { net: self, inverse, solution, residuals, redundancies, spread, freedom })
    }
}

impl Adjusted<'_> {
    /// What the deviations are multiplied by: the spread where that is above one.
    pub(super) fn scale(&self) -> f64 {
        self.spread.unwrap_or(1.0).max(1.0)
    }

    /// What became of each reading.
    pub(super) fn told(&self) -> Vec<Residual> {
        let of = |i: usize| Residual {
            reading: self.net.equations[i].name.clone(),
            residual: Length::m(self.residuals[i]),
            redundancy: Ratio::one(self.redundancies[i]),
            standardised: self.standardised(i).map(Ratio::one),
        };
        (0..self.net.equations.len()).filter(|&i| !self.net.equations[i].prior).map(of).collect()
    }

    /// The readings that nothing checks.
    pub(super) fn unchecked(&self) -> Vec<ReadingName> {
        let read = self.net.equations.iter().zip(&self.redundancies);
        read.filter(|(e, r)| !e.prior && **r < REDUNDANCY_LEAST).map(|(e, _)| e.name.clone()).collect()
    }

    /// Whether no unchecked reading moves this unknown.
    pub(super) fn checked(&self, column: usize) -> bool {
        self.net.equations.iter().zip(&self.redundancies).all(|(equation, redundancy)| {
            let moved: f64 = equation.terms.iter().map(|&(c, a)| a * self.inverse.at(column, c)).sum();
            let moved = moved / (equation.deviation * equation.deviation);
            equation.prior || *redundancy >= REDUNDANCY_LEAST || moved.abs() < 1e-9
        })
    }

    /// One deviation of an unknown, not scaled.
    pub(super) fn deviation(&self, column: usize) -> f64 {
        self.inverse.at(column, column).max(0.0).sqrt()
    }

    /// How the errors of some unknowns hang together; `None` is a height that is fixed.
    pub(super) fn covariance(&self, columns: &[Option<usize>]) -> Covariance {
        let scale = self.scale() * self.scale();
        Covariance::by(columns.len(), |i, j| match (columns[i], columns[j]) {
            (Some(i), Some(j)) => self.inverse.at(i, j) * scale,
            _ => 0.0,
        })
    }

    /// The residual of an equation over its own deviation, where something checks it.
    fn standardised(&self, i: usize) -> Option<f64> {
        let redundancy = self.redundancies[i];
        (redundancy >= REDUNDANCY_LEAST)
            .then(|| self.residuals[i] / (self.net.equations[i].deviation * redundancy.sqrt()))
    }

    /// The share of an error of what was known beforehand that would show, and how it stands to its deviation.
    pub(super) fn prior(&self, equation: usize) -> (f64, Option<f64>) {
        (self.redundancies[equation], self.standardised(equation))
    }

    /// The reading that fits worst, if it is past the limit, with those that cannot be told from it.
    pub(super) fn worst(&self) -> Option<Suspect> {
        let equations = &self.net.equations;
        let size = |i: usize| self.standardised(i).filter(|_| !equations[i].prior).map_or(0.0, f64::abs);
        let sizes: Vec<f64> = (0..equations.len()).map(size).collect();
        let greatest = sizes.iter().copied().fold(0.0, f64::max);
        if greatest <= BLUNDER_AT {
            return None;
        }
        // The first of those that are equal to rounding, so that the order of sums does not choose.
        let worst = sizes.iter().position(|size| *size >= greatest * (1.0 - 1e-9))?;
        let or_else = (0..equations.len())
            .filter(|&i| i != worst && sizes[i] > 0.0 && self.inseparable(worst, i))
            .map(|i| equations[i].name.clone())
            .collect();
        Some(Suspect {
            reading: equations[worst].name.clone(),
            doubt: Doubt::Blunder {
                standardised: Ratio::one(sizes[worst]),
                error: Length::m(-self.residuals[worst] / self.redundancies[worst]),
                or_else,
            },
        })
    }

    /// Whether the residuals of two readings are so tied that an error in one looks like one in the other.
    fn inseparable(&self, i: usize, j: usize) -> bool {
        let (a, b) = (&self.net.equations[i], &self.net.equations[j]);
        let shared: f64 = a
            .terms
            .iter()
            .map(|&(row, x)| b.terms.iter().map(|&(c, y)| x * y * self.inverse.at(row, c)).sum::<f64>())
            .sum();
        let own = |e: &Equation, redundancy: f64| e.deviation * redundancy.sqrt();
        let tie = shared / (own(a, self.redundancies[i]) * own(b, self.redundancies[j]));
        tie.abs() > 0.99
    }
}

impl Equation {
    fn computed(&self, solution: &[f64]) -> f64 {
        self.terms.iter().map(|&(column, factor)| factor * solution[column]).sum()
    }

    /// 1 − aᵀN⁻¹a/σ², kept between 0 and 1 against rounding.
    fn redundancy(&self, inverse: &Inverse) -> f64 {
        let variance: f64 = self
            .terms
            .iter()
            .map(|&(row, a)| self.terms.iter().map(|&(c, b)| a * b * inverse.at(row, c)).sum::<f64>())
            .sum();
        (1.0 - variance / (self.deviation * self.deviation)).clamp(0.0, 1.0)
    }
}
