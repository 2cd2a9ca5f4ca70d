//! Why a text was refused as a quantity.

use crate::{Kind, Unit};
use core::fmt;
use core::ops::Range;

/// A text that was refused: why, and which bytes of it are at fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QuantityError {
    /// Why it was refused.
    pub kind: Refusal,
    /// The bytes of the text that are at fault; empty where something is missing.
    pub span: Range<usize>,
}

/// Why a text was refused as a quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// There is nothing there.
    Empty {
        /// What was wanted.
        wanted: Kind,
    },
    /// The text is longer than any quantity.
    TooLong {
        /// How many bytes it has.
        bytes: usize,
        /// How many it may have.
        limit: usize,
    },
    /// It does not begin with a number.
    NoNumber {
        /// What stands there instead.
        found: String,
        /// What was wanted.
        wanted: Kind,
    },
    /// A number without a unit.
    NoUnit {
        /// The number.
        number: String,
        /// What was wanted.
        wanted: Kind,
    },
    /// A unit that is not in the table.
    UnknownUnit {
        /// What stands there.
        unit: String,
        /// The nearest name that is in the table.
        nearest: Option<&'static str>,
        /// What was wanted.
        wanted: Kind,
    },
    /// The ton, which is another mass in each country.
    SeveralMeanings {
        /// What stands there.
        unit: String,
    },
    /// A known unit of something else.
    WrongKind {
        /// What stands there.
        unit: String,
        /// Of what it is a unit.
        is: Kind,
        /// What was wanted.
        wanted: Kind,
    },
    /// A comma where the decimal point belongs.
    DecimalComma {
        /// The number as it stands.
        number: String,
        /// The number with a point.
        instead: String,
    },
    /// Digits that are grouped otherwise than in threes by commas.
    Grouping {
        /// The number as it stands.
        number: String,
        /// The number without groups.
        instead: String,
    },
    /// A number that cannot be read.
    Malformed {
        /// The number as it stands.
        number: String,
    },
    /// A word for what is no finite number.
    NotFinite {
        /// The word.
        word: String,
    },
    /// A magnitude beyond [`Kind::greatest`].
    TooLarge {
        /// What stands there.
        value: String,
        /// What was wanted.
        wanted: Kind,
    },
    /// A temperature below 0 K.
    BelowAbsoluteZero {
        /// What stands there.
        value: String,
    },
    /// A fraction that divides by nothing.
    ZeroDenominator {
        /// The fraction.
        fraction: String,
    },
    /// A fraction of one or more behind a whole number.
    ImproperFraction {
        /// The fraction.
        fraction: String,
    },
    /// Two parts that do not make one value, such as inches before feet.
    WrongParts {
        /// The unit of the part that stands first.
        first: &'static str,
        /// The unit of the part that stands second.
        second: &'static str,
    },
    /// A smaller part that should have been carried into the larger one, such as 12 inches after feet.
    PartTooLarge {
        /// The number of the smaller part.
        number: String,
        /// Its unit.
        unit: &'static str,
        /// How many of it make one of the larger.
        makes: u32,
        /// The larger unit.
        larger: &'static str,
    },
    /// A larger part that is not whole, such as 5.5 feet before inches.
    PartNotWhole {
        /// The number of the larger part.
        number: String,
        /// Its unit.
        unit: &'static str,
    },
    /// Text behind the quantity.
    Trailing {
        /// The text.
        text: String,
    },
    /// A tolerance where an exact value is wanted.
    ToleranceNotWanted,
    /// A tolerance below nothing.
    NegativeTolerance {
        /// The tolerance as it stands.
        tolerance: String,
    },
    /// A percentage of a value that is zero.
    PercentOfNothing,
    /// A tolerance in per cent of a value that may itself be in per cent.
    PercentHasTwoMeanings {
        /// What was wanted.
        wanted: Kind,
    },
    /// A percentage of a temperature, whose zero is a matter of the scale.
    PercentOfTemperature,
}

/// The units of a kind as a list in words: "mm, cm or m".
fn units_of(kind: Kind) -> String {
    let symbols: Vec<&str> =
        kind.units().map(|unit| unit.symbol).filter(|symbol| !symbol.is_empty()).collect();
    match symbols.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// An example of how a kind is written.
fn example(kind: Kind) -> String {
    let first: Option<&Unit> = kind.units().next();
    format!("12 {}", first.map_or("", |unit| unit.symbol)).trim_end().to_owned()
}

impl QuantityError {
    /// What to write instead, as a sentence of its own; [`Display`](fmt::Display) says the rest.
    pub fn hint(&self) -> String {
        match &self.kind {
            Refusal::Empty { wanted } | Refusal::NoNumber { wanted, .. } => {
                format!("Write the number, a space and the unit, as in \"{}\".", example(*wanted))
            }
            Refusal::TooLong { .. } => {
                "Write one number with its unit and, where needed, ± and a tolerance.".to_owned()
            }
            Refusal::NoUnit { number, wanted } => match wanted.units().next() {
                Some(unit) => {
                    format!("Write \"{number} {}\" if that is the unit that was meant.", unit.symbol)
                }
                None => String::new(),
            },
            Refusal::UnknownUnit { wanted, .. } | Refusal::WrongKind { wanted, .. } => {
                format!("The units of {wanted} are {}.", units_of(*wanted))
            }
            Refusal::SeveralMeanings { .. } => {
                "Write t for the tonne of 1000 kg; write a US ton as 2000 lb and a British ton as 2240 lb."
                    .to_owned()
            }
            Refusal::DecimalComma { instead, .. } | Refusal::Grouping { instead, .. } => {
                format!("Write \"{instead}\".")
            }
            Refusal::Malformed { .. } | Refusal::NotFinite { .. } => {
                "A number is written as 12, 12.5, 1,500 or 11 1/2.".to_owned()
            }
            Refusal::TooLarge { .. } => "Look for a slipped decimal point or a wrong unit.".to_owned(),
            Refusal::BelowAbsoluteZero { .. } => "Look at the sign and the scale.".to_owned(),
            Refusal::ZeroDenominator { .. } | Refusal::ImproperFraction { .. } => {
                "Write a whole number and a fraction below one, as in \"11 1/2\".".to_owned()
            }
            Refusal::WrongParts { .. } | Refusal::PartTooLarge { .. } | Refusal::PartNotWhole { .. } => {
                "Write the larger unit first and whole, as in \"5 ft 11 1/2 in\" or \"1 h 30 min\"."
                    .to_owned()
            }
            Refusal::Trailing { .. } => "Take it out, or move it to a note.".to_owned(),
            Refusal::ToleranceNotWanted => "Write the value alone.".to_owned(),
            Refusal::NegativeTolerance { .. } => {
                "A tolerance counts both ways; write it without a sign.".to_owned()
            }
            Refusal::PercentOfNothing | Refusal::PercentOfTemperature => {
                "Write the tolerance with a unit of its own.".to_owned()
            }
            Refusal::PercentHasTwoMeanings { wanted: Kind::Slope } => {
                "Write both in mm/m, as in \"20 mm/m ± 2 mm/m\".".to_owned()
            }
            Refusal::PercentHasTwoMeanings { .. } => {
                "Write both as plain numbers, as in \"0.85 ± 0.05\".".to_owned()
            }
        }
    }
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.kind.fmt(f)
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty { wanted } => {
                write!(f, "There is nothing here; {wanted} is wanted, such as \"{}\".", example(*wanted))
            }
            Self::TooLong { bytes, limit } => {
                write!(f, "This has {bytes} bytes, which is no single quantity; one has at most {limit}.")
            }
            Self::NoNumber { found, wanted } => write!(
                f,
                "\"{found}\" does not begin with a number; {wanted} is wanted, such as \"{}\".",
                example(*wanted)
            ),
            Self::NoUnit { number, wanted } => {
                write!(f, "\"{number}\" has no unit; {wanted} is written in {}.", units_of(*wanted))
            }
            Self::UnknownUnit { unit, nearest: Some(nearest), .. } => {
                write!(f, "\"{unit}\" is no unit that is known here; the nearest is \"{nearest}\".")
            }
            Self::UnknownUnit { unit, nearest: None, wanted } => {
                write!(
                    f,
                    "\"{unit}\" is no unit that is known here; {wanted} is written in {}.",
                    units_of(*wanted)
                )
            }
            Self::SeveralMeanings { unit } => {
                write!(f, "\"{unit}\" is 1000 kg, 2000 lb or 2240 lb, after the country; write t, kg or lb.")
            }
            Self::WrongKind { unit, is, wanted } => write!(f, "{unit} is {is}; {wanted} is wanted."),
            Self::DecimalComma { number, instead } => {
                write!(f, "\"{number}\" has a comma where the decimal point belongs; write {instead}.")
            }
            Self::Grouping { number, instead } => {
                write!(f, "\"{number}\" is grouped so that it can be read in two ways; write {instead}.")
            }
            Self::Malformed { number } => {
                write!(f, "\"{number}\" cannot be read as one number; write it as 12, 12.5, 1,500 or 11 1/2.")
            }
            Self::NotFinite { word } => write!(f, "\"{word}\" is no finite number; write one that is."),
            Self::TooLarge { value, wanted } => {
                let (greatest, unit) = wanted.greatest();
                write!(
                    f,
                    "\"{value}\" is out of range; {wanted} here is at most {greatest} {} either way.",
                    unit.symbol
                )
            }
            Self::BelowAbsoluteZero { value } => {
                write!(
                    f,
                    "\"{value}\" is below absolute zero, which is −273.15 °C; write a temperature above it."
                )
            }
            Self::ZeroDenominator { fraction } => {
                write!(f, "\"{fraction}\" divides by zero; write a fraction such as 1/2.")
            }
            Self::ImproperFraction { fraction } => {
                write!(f, "\"{fraction}\" is one or more behind a whole number; add it to the whole number.")
            }
            Self::WrongParts { first, second } => write!(
                f,
                "{second} after {first} does not make one value; only in after ft, h after d, min after h and s after min do."
            ),
            Self::PartTooLarge { number, unit, makes, larger } => write!(
                f,
                "\"{number}\" {unit} is not below {makes}, which make one {larger}; carry it into the {larger}."
            ),
            Self::PartNotWhole { number, unit } => {
                write!(
                    f,
                    "\"{number}\" {unit} is not whole but has a smaller part behind it; write it whole."
                )
            }
            Self::Trailing { text } => {
                write!(f, "\"{text}\" stands behind the quantity; nothing may follow it.")
            }
            Self::ToleranceNotWanted => {
                f.write_str("A tolerance stands here, and an exact value is wanted; write the value alone.")
            }
            Self::NegativeTolerance { tolerance } => {
                write!(
                    f,
                    "The tolerance \"{tolerance}\" has a sign; a tolerance is at least zero, write it without."
                )
            }
            Self::PercentOfNothing => {
                f.write_str("A percentage of zero says nothing; write the tolerance with a unit of its own.")
            }
            Self::PercentHasTwoMeanings { wanted } => write!(
                f,
                "Per cent of {wanted} may mean a part of the value or so many points; write both without per cent."
            ),
            Self::PercentOfTemperature => f.write_str(
                "A percentage of a temperature depends on the scale; write the tolerance in degrees.",
            ),
        }
    }
}

impl core::error::Error for QuantityError {}
