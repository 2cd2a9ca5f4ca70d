//! The little linear algebra that a weighing needs. The order of every sum is fixed.

/// What is left of a column after taking out others counts as nothing below this share of it.
pub(super) const NOTHING: f64 = 1e-9;

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The lower triangle L, by rows, with L Lᵀ equal to a symmetric matrix; `None` where it is not positive definite.
fn factor(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let mut lower: Vec<Vec<f64>> = Vec::new();
    for (at, row) in matrix.iter().enumerate() {
        let mut made = Vec::with_capacity(at + 1);
        for (column, before) in lower.iter().enumerate() {
            let left = row[column] - dot(&made, &before[..column]);
            made.push(left / before[column]);
        }
        let left = row[at] - dot(&made, &made);
        if !(left > 1e-13 * row[at] && left.is_finite()) {
            return None;
        }
        made.push(left.sqrt());
        lower.push(made);
    }
    Some(lower)
}

/// L⁻¹ v.
fn forward(lower: &[Vec<f64>], v: &[f64]) -> Vec<f64> {
    let mut out: Vec<f64> = Vec::with_capacity(v.len());
    for (row, value) in lower.iter().zip(v) {
        let known = dot(&out, row);
        out.push((value - known) / row[out.len()]);
    }
    out
}

/// Orthonormal columns that span the same as those given, and what was taken as nothing is left out.
pub(super) fn orthonormal(columns: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let mut kept: Vec<Vec<f64>> = Vec::new();
    for column in columns {
        let size = dot(column, column).sqrt();
        let mut left = column.clone();
        // Twice, so that rounding of the first time is taken out too.
        for _ in 0..2 {
            for unit in &kept {
                let along = dot(unit, &left);
                left.iter_mut().zip(unit).for_each(|(l, u)| *l -= along * u);
            }
        }
        let rest = dot(&left, &left).sqrt();
        if rest > NOTHING * size && rest > 0.0 {
            kept.push(left.iter().map(|l| l / rest).collect());
        }
    }
    kept
}

/// How readings weigh on what is wanted: M of the module's formula, as W with WᵀW = M.
pub(super) struct Weights {
    /// By rows.
    w: Vec<Vec<f64>>,
    /// The rank of what is free.
    pub free: usize,
}

impl Weights {
    /// From S, symmetric and positive definite, and the columns of B.
    pub(super) fn of(s: &[Vec<f64>], b: &[Vec<f64>]) -> Option<Self> {
        let n = s.len();
        let lower = factor(s)?;
        // L⁻¹ by columns: each is what a unit vector becomes.
        let unit = |at: usize| (0..n).map(|i| if i == at { 1.0 } else { 0.0 }).collect::<Vec<f64>>();
        let mut inverse: Vec<Vec<f64>> = (0..n).map(|at| forward(&lower, &unit(at))).collect();
        let free: Vec<Vec<f64>> = b.iter().map(|column| forward(&lower, column)).collect();
        // A column that is nothing but rounding spans nothing.
        let largest = free.iter().map(|c| dot(c, c)).fold(0.0, f64::max).sqrt();
        let free: Vec<Vec<f64>> = free.into_iter().filter(|c| dot(c, c).sqrt() > NOTHING * largest).collect();
        let span = orthonormal(&free);
        for column in &mut inverse {
            for unit in &span {
                let along = dot(unit, column);
                column.iter_mut().zip(unit).for_each(|(c, u)| *c -= along * u);
            }
        }
        let w = (0..n).map(|row| inverse.iter().map(|column| column[row]).collect()).collect();
        Some(Self { w, free: span.len() })
    }
    /// W v.
    pub(super) fn half(&self, v: &[f64]) -> Vec<f64> {
        self.w.iter().map(|row| dot(row, v)).collect()
    }
    /// M v.
    pub(super) fn times(&self, v: &[f64]) -> Vec<f64> {
        let half = self.half(v);
        (0..v.len()).map(|at| self.w.iter().zip(&half).map(|(row, h)| row[at] * h).sum()).collect()
    }
    /// An entry of M on its diagonal.
    pub(super) fn diagonal(&self, at: usize) -> f64 {
        self.w.iter().map(|row| row[at] * row[at]).sum()
    }
}
