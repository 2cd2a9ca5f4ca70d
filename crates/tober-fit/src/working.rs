//! Re-evaluates a printed line of working from its text alone.
//!
//! A line prints as numbers with units, `42 kN / 0.36 m²`, and a result, `116.667 kPa`. This module
//! reads both back as a reader with a calculator would, with its own table of units, and says whether
//! they agree. It knows nothing of how the line was built.
//!
//! Each printed number stands for every value that rounds to it at [`DIGITS`] significant digits, so
//! the sum is done on intervals: the line agrees when the interval that the numbers give and the
//! interval that the result stands for have a point in common, and measure the same.
//!
//! Grammar: sums of products of powers; `+`, `−`, `×`, `/`, `^` with a plain number, brackets, and
//! `sqrt sin cos tan exp ln abs` of one, `least greatest` of several separated by `;`.

use core::fmt;
use tober_quantity::maths;

/// How many significant digits a printed number carries at most.
pub const DIGITS: i32 = 6;

/// Exponents of length, mass, time, current and temperature.
type Exponents = [i8; 5];

const NONE: Exponents = [0, 0, 0, 0, 0];
const LENGTH: Exponents = [1, 0, 0, 0, 0];
const MASS: Exponents = [0, 1, 0, 0, 0];
const FORCE: Exponents = [1, 1, -2, 0, 0];
const MOMENT: Exponents = [2, 1, -2, 0, 0];
const PRESSURE: Exponents = [-1, 1, -2, 0, 0];

/// Units as they are printed. Factors to SI: NIST Special Publication 811 (2008), Appendix B.8;
/// mm, kN and so on by the meaning of their prefixes.
const UNITS: &[(&str, Exponents, f64)] = &[
    ("kN m", MOMENT, 1e3),
    ("kN/mm", [0, 1, -2, 0, 0], 1e6),
    ("kN", FORCE, 1e3),
    ("kip ft", MOMENT, 1_355.817_948_331_4),
    ("kip/in", [0, 1, -2, 0, 0], 175_126.835_246_477),
    ("kip", FORCE, 4_448.221_615_260_5),
    ("kPa/mm", [-2, 1, -2, 0, 0], 1e6),
    ("kPa", PRESSURE, 1e3),
    ("kg/m³", [-3, 1, 0, 0, 0], 1.0),
    ("kg m²", [2, 1, 0, 0, 0], 1.0),
    ("kg", MASS, 1.0),
    ("kW", [2, 1, -3, 0, 0], 1e3),
    ("lb/ft³", [-3, 1, 0, 0, 0], 16.018_463_373_960_1),
    ("lb/in³", [-2, 1, -2, 0, 0], 271_447.137_526_313),
    ("lb", MASS, 0.453_592_37),
    ("psf", PRESSURE, 47.880_258_980_336),
    ("psi", PRESSURE, 6_894.757_293_168),
    ("N/mm²", PRESSURE, 1e6),
    ("mm/m", NONE, 1e-3),
    ("mm", LENGTH, 1e-3),
    ("min", [0, 0, 1, 0, 0], 60.0),
    ("mph", [1, 0, -1, 0, 0], 0.447_04),
    ("m/s", [1, 0, -1, 0, 0], 1.0),
    ("m²", [2, 0, 0, 0, 0], 1.0),
    ("m", LENGTH, 1.0),
    ("cm⁴", [4, 0, 0, 0, 0], 1e-8),
    ("in⁴", [4, 0, 0, 0, 0], 4.162_314_256e-7),
    ("in/ft", NONE, 1.0 / 12.0),
    ("in", LENGTH, 0.0254),
    ("ft²", [2, 0, 0, 0, 0], 0.092_903_04),
    ("ft", LENGTH, 0.3048),
    ("rpm", [0, 0, -1, 0, 0], core::f64::consts::PI / 30.0),
    ("t", MASS, 1e3),
    ("s", [0, 0, 1, 0, 0], 1.0),
    ("g", [1, 0, -2, 0, 0], 9.806_65),
    ("°", NONE, core::f64::consts::PI / 180.0),
    ("%", NONE, 0.01),
    ("A", [0, 0, 0, 1, 0], 1.0),
    ("V", [2, 1, -3, -1, 0], 1.0),
    ("K", [0, 0, 0, 0, 1], 1.0),
];

/// Why a line was refused.
#[derive(Clone, Debug, PartialEq)]
pub enum WorkingRefusal {
    /// The text cannot be read.
    Unreadable {
        /// The text.
        text: String,
        /// What was wanted where reading stopped.
        wanted: &'static str,
        /// The byte at which reading stopped.
        at: usize,
    },
    /// Two sides of a sum, or the numbers and the result, do not measure the same.
    Dimension {
        /// The numbers.
        numbers: String,
        /// The result.
        result: String,
    },
    /// The numbers do not give the result.
    Disagrees {
        /// The numbers.
        numbers: String,
        /// The result as printed.
        result: String,
        /// The least the numbers give, in SI units.
        low: f64,
        /// The greatest the numbers give, in SI units.
        high: f64,
    },
}

impl fmt::Display for WorkingRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable { text, wanted, at } => {
                write!(f, "`{text}` cannot be read at byte {at}: {wanted} is wanted there.")
            }
            Self::Dimension { numbers, result } => {
                write!(f, "`{numbers} = {result}` mixes quantities that do not measure the same.")
            }
            Self::Disagrees { numbers, result, low, high } => {
                write!(f, "`{numbers} = {result}`: the numbers give {low} to {high} in SI units.")
            }
        }
    }
}

/// Every value between two ends, and what it measures.
#[derive(Clone, Copy, Debug)]
struct Interval {
    low: f64,
    high: f64,
    exponents: Exponents,
}

/// How wide the sum came out, against its own size: 0 where nothing was lost to rounding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Agreement {
    /// Half the width of the interval that the numbers give, over the greatest magnitude in it.
    pub looseness: f64,
}

/// Whether the numbers of a printed line give its printed result.
///
/// # Errors
/// A [`WorkingRefusal`] where the text cannot be read, the units do not match, or the sum disagrees.
pub fn check_line(numbers: &str, result: &str) -> Result<Agreement, WorkingRefusal> {
    let given = Reader::whole(numbers)?;
    let shown = Reader::whole(result)?;
    if given.exponents != shown.exponents {
        return Err(WorkingRefusal::Dimension { numbers: numbers.to_owned(), result: result.to_owned() });
    }
    // A slack of a few units in the last place of a double, for the reader's own arithmetic.
    let slack = 1e-13 * given.low.abs().max(given.high.abs());
    let apart = shown.low > given.high + slack || shown.high < given.low - slack;
    // A division by nothing gives every number there is, and would agree with any result.
    if apart || !given.low.is_finite() || !given.high.is_finite() {
        return Err(WorkingRefusal::Disagrees {
            numbers: numbers.to_owned(),
            result: result.to_owned(),
            low: given.low,
            high: given.high,
        });
    }
    let size = given.low.abs().max(given.high.abs());
    Ok(Agreement { looseness: if size > 0.0 { (given.high - given.low) / 2.0 / size } else { 0.0 } })
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
}

type Read = Result<Interval, WorkingRefusal>;

impl<'a> Reader<'a> {
    fn whole(text: &'a str) -> Read {
        let mut reader = Reader { text, at: 0 };
        let value = reader.sum()?;
        reader.space();
        if reader.at < text.len() { Err(reader.wanted("the end or an operator")) } else { Ok(value) }
    }
    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }
    fn space(&mut self) {
        while self.rest().starts_with(' ') {
            self.at += 1;
        }
    }
    fn take(&mut self, token: &str) -> bool {
        self.space();
        let found = self.rest().starts_with(token);
        if found {
            self.at += token.len();
        }
        found
    }
    fn wanted(&self, wanted: &'static str) -> WorkingRefusal {
        WorkingRefusal::Unreadable { text: self.text.to_owned(), wanted, at: self.at }
    }
    fn alike(&self, a: Interval, b: Interval) -> Result<(), WorkingRefusal> {
        if a.exponents == b.exponents {
            return Ok(());
        }
        Err(WorkingRefusal::Dimension { numbers: self.text.to_owned(), result: String::new() })
    }

    fn sum(&mut self) -> Read {
        let mut left = self.product()?;
        loop {
            let add = if self.take("+") {
                true
            } else if self.take("−") {
                false
            } else {
                return Ok(left);
            };
            let right = self.product()?;
            self.alike(left, right)?;
            left = if add {
                Interval { low: left.low + right.low, high: left.high + right.high, ..left }
            } else {
                Interval { low: left.low - right.high, high: left.high - right.low, ..left }
            };
        }
    }

    fn product(&mut self) -> Read {
        let mut left = self.signed()?;
        loop {
            let multiply = if self.take("×") {
                true
            } else if self.take("/") {
                false
            } else {
                return Ok(left);
            };
            let right = self.signed()?;
            let sign = if multiply { 1 } else { -1 };
            let mut exponents = left.exponents;
            for (mine, other) in exponents.iter_mut().zip(right.exponents) {
                *mine += sign * other;
            }
            let right = if multiply { right } else { reciprocal(right) };
            left = Interval { exponents, ..hull_of_products(left, right) };
        }
    }

    fn signed(&mut self) -> Read {
        if self.take("−") {
            let value = self.signed()?;
            return Ok(Interval { low: -value.high, high: -value.low, ..value });
        }
        self.power()
    }

    fn power(&mut self) -> Read {
        let base = self.atom()?;
        if !self.take("^") {
            return Ok(base);
        }
        let negative = self.take("−");
        let (size, half) = self.plain_number()?;
        let exponent = if negative { -size } else { size };
        // A whole exponent is itself; a broken one stands for every number that rounds to it.
        let half = if exponent.fract() == 0.0 { 0.0 } else { half };
        let powers = [exponent - half, exponent + half];
        let ends = powers.map(|power| [maths::pow(base.low, power), maths::pow(base.high, power)]);
        let ends = ends.as_flattened();
        let mut low = ends.iter().copied().fold(f64::INFINITY, f64::min);
        let high = ends.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if base.low < 0.0 && base.high > 0.0 {
            low = low.min(0.0);
        }
        #[expect(clippy::cast_possible_truncation, reason = "exponents of formulas are small")]
        let exponents = base.exponents.map(|e| (f64::from(e) * exponent).round() as i8);
        Ok(Interval { low, high, exponents })
    }

    fn atom(&mut self) -> Read {
        if self.take("(") {
            let value = self.sum()?;
            return if self.take(")") { Ok(value) } else { Err(self.wanted("a closing bracket")) };
        }
        for name in ["sqrt", "sin", "cos", "tan", "exp", "ln", "abs", "least", "greatest"] {
            if self.take(&format!("{name}(")) {
                let mut arguments = vec![self.sum()?];
                while self.take(";") {
                    let next = self.sum()?;
                    self.alike(arguments[0], next)?;
                    arguments.push(next);
                }
                return if self.take(")") {
                    Ok(call(name, &arguments))
                } else {
                    Err(self.wanted("a closing bracket"))
                };
            }
        }
        self.measured_number()
    }

    /// A number without a unit, and half of its last significant digit.
    fn plain_number(&mut self) -> Result<(f64, f64), WorkingRefusal> {
        self.space();
        let end = self
            .rest()
            .char_indices()
            .find(|(_, c)| !(c.is_ascii_digit() || *c == '.'))
            .map_or(self.rest().len(), |(i, _)| i);
        let size: f64 = self.rest()[..end].parse().map_err(|_| self.wanted("a number"))?;
        self.at += end;
        let value = size * maths::pow(10.0, f64::from(self.power_of_ten()?));
        let half = if value > 0.0 {
            0.5 * maths::pow(10.0, maths::log10(value).floor() - f64::from(DIGITS - 1))
        } else {
            0.0
        };
        Ok((value, half))
    }

    /// What stands after an `e`: a very small or very large number is printed with a power of ten.
    fn power_of_ten(&mut self) -> Result<i16, WorkingRefusal> {
        if !self.rest().starts_with('e') {
            return Ok(0);
        }
        self.at += 1;
        let sign = if self.rest().starts_with('−') {
            self.at += '−'.len_utf8();
            -1
        } else {
            1
        };
        let end = self.rest().find(|c: char| !c.is_ascii_digit()).unwrap_or(self.rest().len());
        let power: i16 = self.rest()[..end].parse().map_err(|_| self.wanted("a power of ten"))?;
        self.at += end;
        Ok(sign * power)
    }

    fn measured_number(&mut self) -> Read {
        let (value, half) = self.plain_number()?;
        let (mut exponents, mut factor) = (NONE, 1.0);
        if let Some(unit) = self.rest().strip_prefix('\u{202f}') {
            let Some((symbol, e, f)) = UNITS.iter().find(|(symbol, ..)| unit.starts_with(symbol)) else {
                return Err(self.wanted("a unit of the table"));
            };
            (exponents, factor) = (*e, *f);
            self.at += '\u{202f}'.len_utf8() + symbol.len();
        }
        Ok(Interval { low: (value - half) * factor, high: (value + half) * factor, exponents })
    }
}

fn reciprocal(x: Interval) -> Interval {
    if x.low <= 0.0 && x.high >= 0.0 {
        return Interval { low: f64::NAN, high: f64::NAN, ..x };
    }
    Interval { low: 1.0 / x.high, high: 1.0 / x.low, ..x }
}

fn hull_of_products(a: Interval, b: Interval) -> Interval {
    let all = [a.low * b.low, a.low * b.high, a.high * b.low, a.high * b.high];
    let low = all.iter().copied().fold(f64::INFINITY, f64::min);
    let high = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    Interval { low, high, exponents: a.exponents }
}

fn call(name: &str, arguments: &[Interval]) -> Interval {
    let x = arguments[0];
    let fold = |pick: fn(f64, f64) -> f64| Interval {
        low: arguments.iter().map(|a| a.low).reduce(pick).unwrap_or(f64::NAN),
        high: arguments.iter().map(|a| a.high).reduce(pick).unwrap_or(f64::NAN),
        ..x
    };
    let monotone = |f: fn(f64) -> f64| Interval { low: f(x.low), high: f(x.high), ..x };
    // A sine or cosine changes by no more than its angle does.
    let near = |f: fn(f64) -> f64| {
        let (middle, half) = (f(f64::midpoint(x.low, x.high)), (x.high - x.low) / 2.0);
        Interval { low: middle - half, high: middle + half, ..x }
    };
    match name {
        "sqrt" => Interval { exponents: x.exponents.map(|e| e / 2), ..monotone(|v| v.max(0.0).sqrt()) },
        "sin" => near(maths::sin),
        "cos" => near(maths::cos),
        "tan" => monotone(maths::tan),
        "exp" => monotone(maths::exp),
        "ln" => monotone(maths::ln),
        "abs" if x.high < 0.0 => Interval { low: -x.high, high: -x.low, ..x },
        "abs" if x.low < 0.0 => Interval { low: 0.0, high: x.high.max(-x.low), ..x },
        "abs" => x,
        "least" => fold(f64::min),
        _ => fold(f64::max),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn agrees(numbers: &str, result: &str) -> bool {
        let spaced = |text: &str| text.replace('_', "\u{202f}");
        check_line(&spaced(numbers), &spaced(result)).is_ok()
    }

    #[test]
    fn hand_lines_that_agree() {
        assert!(agrees("42_kN / 0.36_m²", "116.667_kPa")); // 42 000 / 0.36 = 116 666.67
        assert!(agrees("1_kip / 1_ft²", "1000_psf"));
        assert!(agrees("2 × (3_m)^2", "18_m²"));
        assert!(agrees("sqrt(16_m²) + 1_m", "5_m"));
        assert!(agrees("sin(30_°)", "0.5"));
        assert!(agrees("greatest(1_kN; −2_kN)", "1_kN"));
        assert!(agrees("1_kN − −2_kN", "3_kN"));
        assert!(agrees("3_kN m / 1_kN", "3_m"));
        assert!(agrees("2e−11_kN + 1_kN", "1_kN"));
    }

    #[test]
    fn refuse_lines_that_do_not() {
        assert!(!agrees("42_kN / 0.36_m²", "116.668_kPa"));
        assert!(!agrees("42_kN / 0.36_m²", "116.667_kN"));
        assert!(!agrees("1_kN + 1_m", "2_kN"));
        assert!(!agrees("1_kN / 0", "2_kN"));
        assert!(!agrees("1_kN +", "1_kN"));
        assert!(!agrees("1_furlong", "1_m"));
        assert!(!agrees("", "1_m"));
        assert!(!agrees("(1_m", "1_m"));
    }
}
