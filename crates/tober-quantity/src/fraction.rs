//! Whole fractions, and the double nearest to one.

/// A number that was read: a fraction of whole numbers where that is possible, else a double.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Reading {
    /// Numerator and denominator; the denominator is above zero and below 2¹²⁶.
    Exact(u128, u128),
    /// The double nearest to the text, or infinite.
    Nearest(f64),
}

/// No denominator is greater, so that a remainder can be doubled.
const GREATEST_DENOMINATOR: u128 = 1 << 126;

impl Reading {
    /// A fraction; the double nearest to it where the denominator is out of range.
    pub(crate) fn fraction(numerator: u128, denominator: u128) -> Self {
        if denominator == 0 || denominator > GREATEST_DENOMINATOR {
            return Self::Nearest(numerator as f64 / denominator as f64);
        }
        Self::Exact(numerator, denominator)
    }
    /// As a double.
    pub(crate) fn value(self) -> f64 {
        match self {
            Self::Exact(numerator, denominator) => nearest_double(numerator, denominator),
            Self::Nearest(value) => value,
        }
    }
    /// Multiplied by a fraction, exactly where the whole numbers stay within 126 bits.
    pub(crate) fn times(self, numerator: u128, denominator: u128) -> Self {
        if let Self::Exact(n, d) = self
            && let (Some(n), Some(d)) = (n.checked_mul(numerator), d.checked_mul(denominator))
            && d <= GREATEST_DENOMINATOR
        {
            return Self::Exact(n, d);
        }
        Self::Nearest(self.value() * numerator as f64 / denominator as f64)
    }
    /// The sum, exactly where the whole numbers stay within 126 bits.
    pub(crate) fn plus(self, other: Self) -> Self {
        if let (Self::Exact(a, b), Self::Exact(c, d)) = (self, other)
            && let (Some(left), Some(right)) = (a.checked_mul(d), c.checked_mul(b))
            && let (Some(n), Some(over)) = (left.checked_add(right), b.checked_mul(d))
            && over <= GREATEST_DENOMINATOR
        {
            return Self::Exact(n, over);
        }
        Self::Nearest(self.value() + other.value())
    }
    /// Whether it is a whole number; a double never counts as one.
    pub(crate) fn is_whole(self) -> bool {
        matches!(self, Self::Exact(n, d) if n % d == 0)
    }
    /// Whether it is below a whole number.
    pub(crate) fn is_below(self, limit: u32) -> bool {
        match self {
            Self::Exact(n, d) => n / d < u128::from(limit),
            Self::Nearest(value) => value < f64::from(limit),
        }
    }
}

/// The double nearest to `numerator / denominator`, ties to even.
///
/// Long division, bit by bit, to at least 55 bits, with a sticky bit for what is left over. The
/// quotient of the values that come here lies between 2⁻¹²⁸ and 2¹²⁸, far from the subnormal doubles.
fn nearest_double(numerator: u128, denominator: u128) -> f64 {
    if numerator == 0 {
        return 0.0;
    }
    let mut quotient = numerator / denominator;
    let mut rest = numerator % denominator;
    let mut halvings = 0_u32;
    while quotient < 1 << 55 && rest != 0 {
        rest <<= 1;
        quotient <<= 1;
        if rest >= denominator {
            rest -= denominator;
            quotient |= 1;
        }
        halvings += 1;
    }
    let sticky = u128::from(rest != 0);
    let power_of_two = f64::from_bits(u64::from(1023 - halvings) << 52);
    (quotient | sticky) as f64 * power_of_two
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rust's own reading of decimals is correctly rounded; the division must agree with it.
    #[test]
    fn law_a_decimal_fraction_is_the_double_that_the_decimal_reads_as() {
        let mut state = 0x2545_F491_4F6C_DD1D_u64;
        for _ in 0..20_000 {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            let digits = state >> (state % 40);
            let places = (state >> 58) % 16;
            let text = format!("{digits}e-{places}");
            let want: f64 = text.parse().unwrap();
            let got =
                Reading::fraction(u128::from(digits), 10_u128.pow(u32::try_from(places).unwrap())).value();
            assert!(got.to_bits() == want.to_bits(), "{text}: {got} is not {want}");
        }
    }

    #[test]
    fn hand_greatest_fractions_stay_finite() {
        assert!(Reading::fraction(u128::MAX, 1).value() > 3.4e38);
        assert!(Reading::fraction(1, GREATEST_DENOMINATOR).value() > 0.0);
        assert!(Reading::fraction(1, u128::MAX).value() > 0.0);
        assert!(Reading::fraction(u128::MAX, 1).times(u128::MAX, 1).value().is_finite());
    }
}
