//! Weights in floating point, made whole.

use super::{StepSet, WideTally};

/// Bits of the largest entry of a whole tally. With fewer than 2^12 steps no sum of entries passes 2^125.
const BITS: i32 = 112;

/// A quantity of a stage in floating point; otherwise as [`super::Tally`]. Every number is finite.
#[derive(Clone, PartialEq, Debug)]
pub struct Floating {
    /// Before any step.
    pub start: f64,
    /// What each step changes when it is done.
    pub change: Vec<f64>,
    /// What each step changes while it is under way. Empty, or an entry for each step.
    pub peak: Vec<Option<f64>>,
}

/// A [`Floating`] tally in whole units, each number `n` meaning `n 2^exponent`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Whole {
    /// The numbers.
    pub tally: WideTally,
    /// The unit is two to this power.
    pub exponent: i32,
    /// Some number had to be rounded to the unit; it is then below 2^-110 of the largest.
    pub rounded: bool,
}

/// A finite number as `mantissa 2^exponent`, the mantissa odd or 0.
fn parts(number: f64) -> (i128, i32) {
    let bits = number.to_bits();
    let field = (bits >> 52 & 0x7FF) as i32;
    let fraction = i128::from(bits & ((1 << 52) - 1));
    let (mantissa, exponent) =
        if field == 0 { (fraction, -1074) } else { (fraction | 1 << 52, field - 1075) };
    if mantissa == 0 {
        return (0, 0);
    }
    let zeros = mantissa.trailing_zeros();
    let mantissa = mantissa >> zeros;
    (if number < 0.0 { -mantissa } else { mantissa }, exponent + zeros as i32)
}

impl Floating {
    fn numbers(&self) -> impl Iterator<Item = f64> {
        let peaks = self.peak.iter().filter_map(|peak| *peak);
        core::iter::once(self.start).chain(self.change.iter().copied()).chain(peaks)
    }

    /// The value with these steps done and those under way: the start, then in order of the steps the change of each
    /// that is done and the peak of each under way.
    pub fn value(&self, done: &StepSet, under_way: &StepSet) -> f64 {
        let mut value = self.start;
        for (step, change) in self.change.iter().enumerate() {
            if done.contains(step) {
                value += change;
            } else if under_way.contains(step) {
                value += self.peak.get(step).copied().flatten().unwrap_or(0.0);
            }
        }
        value
    }

    /// The same in whole units. The unit is the power of two of which every number is a multiple, so nothing is
    /// rounded, unless the finest digit lies more than 2^112 (5e33) below the largest number: then the unit is 2^-112
    /// of the power of two above the largest, and what is finer is rounded to it, half away from zero.
    pub fn whole(&self) -> Whole {
        let of = |number: f64| {
            let (mantissa, exponent) = parts(number);
            (mantissa != 0)
                .then(|| (exponent, exponent + 128 - mantissa.unsigned_abs().leading_zeros() as i32))
        };
        let finest = self.numbers().filter_map(of).map(|(finest, _)| finest).min().unwrap_or(0);
        let top = self.numbers().filter_map(of).map(|(_, top)| top).max().unwrap_or(0);
        let exponent = finest.max(top - BITS);
        let scale = |number: f64| {
            let (mantissa, of) = parts(number);
            let shift = of - exponent;
            if mantissa == 0 || shift < -60 {
                0
            } else if shift >= 0 {
                mantissa << shift
            } else {
                // Half away from zero; the mantissa has at most 53 bits.
                let half = 1_i128 << (-shift - 1);
                mantissa.signum() * ((mantissa.abs() + half) >> -shift)
            }
        };
        let tally = WideTally {
            start: scale(self.start),
            change: self.change.iter().map(|&change| scale(change)).collect(),
            peak: self.peak.iter().map(|peak| peak.map(scale)).collect(),
        };
        Whole { tally, exponent, rounded: exponent > finest }
    }
}
