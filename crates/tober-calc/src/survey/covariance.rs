//! How the errors of heights hang together.

use tober_quantity::Length;

/// How the errors of the heights of a survey hang together: points that were read from one set-up share its
/// error, so that the difference of their heights is known better than either height.
///
/// A symmetric matrix in square metres, in the order of the heights.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Covariance {
    order: usize,
    entries_m2: Vec<f64>,
}

impl Covariance {
    /// By a rule for each pair.
    pub(super) fn by(order: usize, pair: impl Fn(usize, usize) -> f64) -> Self {
        let entries_m2 = (0..order * order).map(|at| pair(at / order, at % order)).collect();
        Self { order, entries_m2 }
    }

    /// Of one pair, in square metres; nothing where there is no such height.
    pub fn between_m2(&self, first: usize, second: usize) -> f64 {
        let inside = first < self.order && second < self.order;
        if inside { self.entries_m2[first * self.order + second] } else { 0.0 }
    }

    /// One standard deviation of a sum of heights, each with its share: √(Σᵢ Σⱼ sᵢ sⱼ cᵢⱼ).
    ///
    /// For the difference of two heights the shares are 1 and −1. Source: propagation of errors.
    pub fn deviation_of(&self, shares: &[(usize, f64)]) -> Length {
        let mut variance_m2 = 0.0;
        for &(i, a) in shares {
            for &(j, b) in shares {
                variance_m2 += a * b * self.between_m2(i, j);
            }
        }
        Length::m(variance_m2.max(0.0).sqrt())
    }
}
