//! Amounts as they stand on a sheet: a value, a narrow no-break space, a unit.
//!
//! The last shown digit belongs to the kind of amount and to the set of units, not to the value. A
//! printed figure never looks safer than the computed one: see [`Rounding`].

use crate::{Amount, Shown, Unit, UnitSet};

/// Narrow no-break space: between a number and its unit, and between groups of three digits.
pub(crate) const NARROW: char = '\u{202f}';
/// The true minus sign.
const MINUS: char = '\u{2212}';

/// To which side a figure is rounded at its last shown digit.
///
/// Binary noise moves nothing: a value past a shown digit by less than one part in 10¹² of itself,
/// or by less than a thousand-millionth of that digit, counts as that digit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rounding {
    /// What is asked of a thing: away from zero, as the sign of a demand is its direction and a
    /// greater pull is worse than a smaller one as much as a greater push is. A temperature goes away
    /// from the zero of the scale it is printed in.
    Demand,
    /// What a thing can take, a limit not to be passed, the low end of a band: towards minus infinity.
    Capacity,
    /// A limit to be reached, the high end of a band: towards plus infinity.
    Requirement,
    /// A reading or a setting: to the nearest, halves away from zero.
    Nearest,
}

/// How fine an amount is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Grain {
    /// So many decimals of the unit.
    Decimals(u8),
    /// Whole hundreds of the unit.
    Hundreds,
    /// Quarters of an inch.
    Quarters,
    /// Sixteenths of an inch.
    Sixteenths,
    /// Feet and quarters of an inch.
    FeetAndQuarters,
}

impl Shown {
    /// The unit on a sheet, and how fine.
    ///
    /// Ours, from what the thing is read with and what it decides: a load over mud is no finer than
    /// a tenth of a tonne or a hundred pounds, packing no finer than a millimetre or a quarter inch.
    fn on_sheet(self, set: UnitSet) -> (Unit, Grain) {
        let us = set == UnitSet::Us;
        let decimals = match self {
            Self::Fine if us => return (Unit::INCH, Grain::Quarters),
            Self::Short if us => return (Unit::INCH, Grain::Sixteenths),
            // A crew weighs in tonnes and pounds; kilonewtons and kips stand in the working alone.
            Self::Force if us => return (Unit::POUND_OF_FORCE, Grain::Decimals(0)),
            Self::Force => return (Unit::TONNE_FORCE, Grain::Decimals(2)),
            Self::Moment if us => return (Unit::POUND_FORCE_FOOT, Grain::Decimals(0)),
            Self::Moment => return (Unit::TONNE_FORCE_METRE, Grain::Decimals(2)),
            Self::Pressure if !us => return (Unit::TONNE_FORCE_PER_SQUARE_METRE, Grain::Decimals(1)),
            Self::Coarse if us => return (Unit::INCH, Grain::FeetAndQuarters),
            Self::Load if us => return (Unit::POUND, Grain::Hundreds),
            Self::Temperature if us => return (Unit::DEGREE_FAHRENHEIT, Grain::Decimals(0)),
            Self::Temperature => return (Unit::DEGREE_CELSIUS, Grain::Decimals(0)),
            Self::Coarse if set == UnitSet::Metric => 2,
            Self::Speed if set == UnitSet::Metric => 1,
            Self::Stress | Self::Subgrade if us => 0,
            Self::Slope | Self::Finest if us => 3,
            Self::Area if us => 2,
            Self::Density | Self::SecondMoment if us => 1,
            Self::Area | Self::Ratio | Self::Acceleration => 2,
            Self::Coarse
            | Self::Finest
            | Self::Load
            | Self::Stress
            | Self::Seconds
            | Self::Angle
            | Self::Slope
            | Self::Stiffness
            | Self::Subgrade
            | Self::Turning
            | Self::Power => 1,
            Self::Pressure
            | Self::Fine
            | Self::Short
            | Self::Mass
            | Self::Minutes
            | Self::Speed
            | Self::Share
            | Self::Count
            | Self::Density
            | Self::SecondMoment
            | Self::Inertia
            | Self::Current
            | Self::Voltage => 0,
        };
        (self.unit(set), Grain::Decimals(decimals))
    }

    /// The unit as it stands in the caption of a table whose cells hold [`Amount::print_number`];
    /// empty where the unit stands inside the number, as with feet and inches.
    pub fn caption(self, set: UnitSet) -> &'static str {
        match self.on_sheet(set) {
            (_, Grain::FeetAndQuarters) => "",
            (unit, _) => unit.symbol,
        }
    }
}

impl Grain {
    /// So many digits more. Feet and quarters become inches, hundreds single ones, parts of an inch hundredths.
    fn finer(self, digits: u8) -> Self {
        match (self, digits) {
            (_, 0) => self,
            (Self::Decimals(places), more) => Self::Decimals(places + more),
            (Self::Hundreds, more) => Self::Decimals(more - 1),
            (Self::Quarters | Self::Sixteenths | Self::FeetAndQuarters, more) => Self::Decimals(more + 1),
        }
    }

    /// How many of the last shown digit make one unit.
    fn steps(self) -> f64 {
        match self {
            Self::Decimals(places) => (0..places).fold(1.0, |steps, _| steps * 10.0),
            Self::Hundreds => 0.01,
            Self::Quarters | Self::FeetAndQuarters => 4.0,
            Self::Sixteenths => 16.0,
        }
    }
}

/// A rounded amount: a whole number of its last shown digit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Figure {
    count: f64,
    unit: Unit,
    grain: Grain,
}

impl Figure {
    pub(crate) fn new(amount: Amount, set: UnitSet, rounding: Rounding) -> Self {
        Self::finer(amount, set, rounding, 0)
    }
    /// With so many digits more than a sheet has.
    pub(crate) fn finer(amount: Amount, set: UnitSet, rounding: Rounding, digits: u8) -> Self {
        let (unit, grain) = amount.shown.on_sheet(set);
        let grain = grain.finer(digits);
        let mut figure = Self { count: round(unit.of_si(amount.si) * grain.steps(), rounding), unit, grain };
        // A sheet is read back: what it says of the coldest there is may not lie below it.
        if amount.shown == Shown::Temperature && amount.si >= 0.0 && figure.si() < 0.0 {
            figure.count += 1.0;
        }
        figure
    }
    /// A difference of two amounts, which has no zero of its own.
    pub(crate) fn difference(amount: Amount, set: UnitSet, rounding: Rounding) -> Self {
        let (unit, grain) = amount.shown.on_sheet(set);
        Self { count: round(amount.si / unit.factor * grain.steps(), rounding), unit, grain }
    }
    /// The printed value in SI units.
    pub(crate) fn si(&self) -> f64 {
        self.unit.to_si(self.count / self.grain.steps())
    }
    /// Whether this is printed as less than another.
    pub(crate) fn is_below(&self, other: &Self) -> bool {
        let (one, two) = (self.si(), other.si());
        two - one > 1e-9 * one.abs().max(two.abs())
    }
    /// The number alone; with its units where they stand inside it.
    pub(crate) fn number(&self) -> String {
        if !self.count.is_finite() {
            return "not known".to_owned();
        }
        let sign = if self.count < 0.0 { MINUS.to_string() } else { String::new() };
        let count = self.count.abs();
        let number = match self.grain {
            Grain::Decimals(places) => decimals(count, usize::from(places)),
            Grain::Hundreds => decimals(count * 100.0, 0),
            Grain::Quarters => fractions(count, 4),
            Grain::Sixteenths => fractions(count, 16),
            Grain::FeetAndQuarters => feet_and_quarters(count),
        };
        format!("{sign}{number}")
    }
    /// What stands behind the number: a narrow no-break space and the unit. The degree of an angle
    /// follows at once, as the SI writes it.
    pub(crate) fn unit_text(&self) -> String {
        let nothing = self.grain == Grain::FeetAndQuarters || !self.count.is_finite();
        match self.unit.symbol {
            "" => String::new(),
            _ if nothing => String::new(),
            "°" => "°".to_owned(),
            symbol => format!("{NARROW}{}", symbol.replace(' ', "\u{202f}")),
        }
    }
    /// The number with its unit.
    pub(crate) fn text(&self) -> String {
        format!("{}{}", self.number(), self.unit_text())
    }
}

/// A count of the last shown digit, made whole.
fn round(count: f64, rounding: Rounding) -> f64 {
    let slack = (count.abs() * 1e-12).max(1e-9);
    match rounding {
        Rounding::Capacity => (count + slack).floor(),
        Rounding::Requirement => (count - slack).ceil(),
        Rounding::Demand => (count.abs() - slack).ceil().copysign(count),
        Rounding::Nearest => (count.abs() + slack + 0.5).floor().copysign(count),
    }
}

/// A whole number with its last digits behind a point; five digits and more in groups of three.
fn decimals(count: f64, places: usize) -> String {
    let digits = format!("{count:0>width$.0}", width = places + 1);
    let (whole, part) = digits.split_at(digits.len() - places);
    let mut text = String::with_capacity(digits.len() + 8);
    for (i, digit) in whole.chars().enumerate() {
        let left = whole.len() - i;
        if i > 0 && left % 3 == 0 && whole.len() > 4 {
            text.push(NARROW);
        }
        text.push(digit);
    }
    if places > 0 {
        text.push('.');
        text.push_str(part);
    }
    text
}

/// `25 1/4`, `1/2`, `3/16`, `0`: a count of parts of an inch, of which a power of two make one, in lowest terms.
fn fractions(count: f64, of: u32) -> String {
    let whole = (count / f64::from(of)).floor();
    let (mut part, mut of) = ((count - f64::from(of) * whole).round(), of);
    while part > 0.5 && part % 2.0 == 0.0 {
        (part, of) = (part / 2.0, of / 2);
    }
    match (part < 0.5, whole < 0.5) {
        (true, _) => decimals(whole, 0),
        (false, true) => format!("{part:.0}/{of}"),
        (false, false) => format!("{}{NARROW}{part:.0}/{of}", decimals(whole, 0)),
    }
}

/// `5 ft 11 1/2 in`, `6 ft`, `11 1/2 in`.
fn feet_and_quarters(count: f64) -> String {
    let feet = (count / 48.0).floor();
    let rest = count - 48.0 * feet;
    match (feet < 0.5, rest < 0.5) {
        (true, _) => format!("{}{NARROW}in", fractions(rest, 4)),
        (false, true) => format!("{}{NARROW}ft", decimals(feet, 0)),
        (false, false) => format!("{}{NARROW}ft{NARROW}{}{NARROW}in", decimals(feet, 0), fractions(rest, 4)),
    }
}

impl Amount {
    /// The value with its unit, as it stands on a sheet; "not known" where it is not finite.
    pub fn print(self, set: UnitSet, rounding: Rounding) -> String {
        Figure::new(self, set, rounding).text()
    }
    /// The value alone, for a table whose caption holds the unit: see [`Shown::caption`].
    pub fn print_number(self, set: UnitSet, rounding: Rounding) -> String {
        Figure::new(self, set, rounding).number()
    }
    /// A miss of a target, with its sign and without its unit: `+1`, `−3`, `0`. Rounded away from zero.
    pub fn print_miss(self, set: UnitSet) -> String {
        let figure = Figure::difference(self, set, Rounding::Demand);
        let plus = if figure.count > 0.0 { "+" } else { "" };
        format!("{plus}{}", figure.number())
    }
    /// The value that is printed, as an amount: what a reader of the sheet has to go by.
    #[must_use]
    pub fn printed(self, set: UnitSet, rounding: Rounding) -> Self {
        Self { si: Figure::new(self, set, rounding).si(), shown: self.shown }
    }
}
