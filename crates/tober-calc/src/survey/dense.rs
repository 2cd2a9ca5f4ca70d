//! Small dense symmetric systems, by Cholesky's method.
//!
//! A survey has some tens of unknowns. The order of every sum is fixed, so the same readings give the
//! same bits on every machine.

/// A symmetric matrix, kept whole, row by row.
pub(crate) struct Symmetric {
    order: usize,
    entries: Vec<f64>,
}

/// The inverse of a symmetric positive definite matrix.
pub(crate) struct Inverse {
    order: usize,
    entries: Vec<f64>,
}

impl Symmetric {
    /// All zeros.
    pub(crate) fn zero(order: usize) -> Self {
        Self { order, entries: vec![0.0; order * order] }
    }

    /// Adds to one entry and to its mirror image.
    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        self.entries[row * self.order + column] += value;
        if row != column {
            self.entries[column * self.order + row] += value;
        }
    }

    /// The inverse, or `None` where the matrix is not positive definite to within rounding.
    ///
    /// A pivot that has lost all but 1e-12 of the entry it started from counts as nothing.
    pub(crate) fn inverse(&self) -> Option<Inverse> {
        let n = self.order;
        let lower = self.factor()?;
        let mut entries = vec![0.0; n * n];
        for column in 0..n {
            let mut x = vec![0.0; n];
            for row in column..n {
                let unit = if row == column { 1.0 } else { 0.0 };
                let known: f64 = (column..row).map(|k| lower[row * n + k] * x[k]).sum();
                x[row] = (unit - known) / lower[row * n + row];
            }
            for row in (0..n).rev() {
                let known: f64 = (row + 1..n).map(|k| lower[k * n + row] * x[k]).sum();
                x[row] = (x[row] - known) / lower[row * n + row];
                entries[row * n + column] = x[row];
            }
        }
        Some(Inverse { order: n, entries })
    }

    /// The lower triangle L with L Lᵀ equal to this matrix.
    fn factor(&self) -> Option<Vec<f64>> {
        let n = self.order;
        let mut lower = vec![0.0; n * n];
        for row in 0..n {
            for column in 0..=row {
                let done: f64 = (0..column).map(|k| lower[row * n + k] * lower[column * n + k]).sum();
                let left = self.entries[row * n + column] - done;
                if row != column {
                    lower[row * n + column] = left / lower[column * n + column];
                } else if left > 1e-12 * self.entries[row * n + row] && left.is_finite() {
                    lower[row * n + row] = left.sqrt();
                } else {
                    return None;
                }
            }
        }
        Some(lower)
    }
}

impl Inverse {
    /// One entry.
    pub(crate) fn at(&self, row: usize, column: usize) -> f64 {
        self.entries[row * self.order + column]
    }

    /// The inverse times a vector.
    pub(crate) fn times(&self, right: &[f64]) -> Vec<f64> {
        self.entries
            .chunks(self.order.max(1))
            .map(|row| row.iter().zip(right).map(|(a, b)| a * b).sum())
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// [[4, 2], [2, 3]] has determinant 8, so its inverse is [[3, -2], [-2, 4]] / 8.
    #[test]
    fn hand_two_by_two() {
        let mut matrix = Symmetric::zero(2);
        matrix.add(0, 0, 4.0);
        matrix.add(0, 1, 2.0);
        matrix.add(1, 1, 3.0);
        let inverse = matrix.inverse().expect("positive definite");
        for (row, column, expected) in [(0, 0, 0.375), (0, 1, -0.25), (1, 0, -0.25), (1, 1, 0.5)] {
            assert!((inverse.at(row, column) - expected).abs() < 1e-15);
        }
        let x = inverse.times(&[8.0, 16.0]);
        assert!((x[0] + 1.0).abs() < 1e-14 && (x[1] - 6.0).abs() < 1e-14);
    }

    #[test]
    fn refuse_a_singular_matrix() {
        let mut matrix = Symmetric::zero(2);
        for (row, column) in [(0, 0), (0, 1), (1, 1)] {
            matrix.add(row, column, 1.0);
        }
        assert!(matrix.inverse().is_none());
    }

    /// The inverse times the matrix is the unit matrix, for the normal matrix of a chain of springs.
    #[test]
    fn law_inverse_times_matrix_is_unity() {
        let order = 12;
        let mut matrix = Symmetric::zero(order);
        for i in 0..order {
            matrix.add(i, i, 2.0 + 0.1 * i as f64);
            if i > 0 {
                matrix.add(i, i - 1, -1.0);
            }
        }
        let inverse = matrix.inverse().expect("positive definite");
        for column in 0..order {
            let image: Vec<f64> = (0..order).map(|row| matrix.entries[row * order + column]).collect();
            for (row, value) in inverse.times(&image).into_iter().enumerate() {
                let unit = if row == column { 1.0 } else { 0.0 };
                assert!((value - unit).abs() < 1e-12, "{row} {column} {value}");
            }
        }
    }
}
