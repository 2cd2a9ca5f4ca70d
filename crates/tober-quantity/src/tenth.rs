//! Whole tenths of a millimetre, for the calculations that must be exact.

use crate::Length;
use core::ops::{Add, Mul, Neg, Sub};

/// A length in whole tenths of a millimetre.
///
/// Packing is chosen and checked in these, so that a tie at a limit is decided and never rounded.
/// The range is ±100 m (±1,000,000 tenths); [`TenthMm::nearest`] refuses what lies outside.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TenthMm(pub i64);

impl TenthMm {
    /// The greatest magnitude that a length on a pitch may have here: 100 m.
    pub const GREATEST: i64 = 1_000_000;

    /// The nearest whole tenth, or `None` outside ±100 m or if the length is not finite.
    pub fn nearest(length: Length) -> Option<Self> {
        let tenths = (length.as_mm() * 10.0).round();
        #[expect(clippy::cast_possible_truncation, reason = "the range is tested on the same line")]
        (tenths.abs() <= Self::GREATEST as f64).then_some(Self(tenths as i64))
    }

    /// As a [`Length`].
    pub fn length(self) -> Length {
        Length::mm(self.0 as f64 / 10.0)
    }
}

impl Add for TenthMm {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl Sub for TenthMm {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl Neg for TenthMm {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<i64> for TenthMm {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}
