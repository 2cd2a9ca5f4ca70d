//! An amount: a number of SI units that knows how it wants to be shown.

use crate::{Dimension, Unit, UnitSet};

/// How an amount is shown: which unit in each set of units, and to how many decimals on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shown {
    /// Millimetres; inches to the nearest quarter.
    Fine,
    /// Metres; feet.
    Coarse,
    /// Square metres; square feet.
    Area,
    /// Kilogrammes; pounds.
    Mass,
    /// Tonnes; pounds. What a crew calls a load.
    Load,
    /// Kilonewtons; kips. Working only.
    Force,
    /// Kilonewton metres; kip feet. Working only.
    Moment,
    /// Kilopascals; pounds a square foot. Working only.
    Pressure,
    /// Newtons a square millimetre; pounds a square inch. Working only.
    Stress,
    /// Minutes.
    Minutes,
    /// Seconds.
    Seconds,
    /// Metres a second; miles an hour.
    Speed,
    /// Multiples of standard gravity.
    Acceleration,
    /// Degrees.
    Angle,
    /// Millimetres a metre; inches a foot.
    Slope,
    /// A plain number.
    Ratio,
    /// Per cent.
    Share,
    /// A count of things.
    Count,
    /// Kilonewtons a millimetre; kips an inch. Working only.
    Stiffness,
    /// Kilopascals a millimetre; pounds a cubic inch. Working only.
    Subgrade,
    /// Kilogrammes a cubic metre; pounds a cubic foot.
    Density,
    /// Centimetres to the fourth; inches to the fourth.
    SecondMoment,
    /// Turns a minute.
    Turning,
    /// Kilogramme square metres.
    Inertia,
    /// Kilowatts.
    Power,
    /// Amperes.
    Current,
    /// Volts.
    Voltage,
    /// Degrees Celsius; degrees Fahrenheit.
    Temperature,
}

/// A number of coherent SI units that knows how it wants to be shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// The number of coherent SI units.
    pub si: f64,
    /// How to show it.
    pub shown: Shown,
}

impl Amount {
    /// A count of things.
    pub fn count(n: usize) -> Self {
        Self { si: n as f64, shown: Shown::Count }
    }
    /// A plain number.
    pub fn ratio(x: f64) -> Self {
        Self { si: x, shown: Shown::Ratio }
    }
    /// The same amount, shown another way.
    ///
    /// # Panics
    /// If the other way shows another dimension: that is a fault of the caller, never of its data.
    #[must_use]
    pub fn shown(self, shown: Shown) -> Self {
        assert_eq!(self.shown.dimension(), shown.dimension(), "an amount keeps its dimension");
        Self { si: self.si, shown }
    }
    /// What it measures.
    pub fn dimension(self) -> Dimension {
        self.shown.dimension()
    }
}

impl Shown {
    /// What is measured.
    pub fn dimension(self) -> Dimension {
        self.unit(UnitSet::Metric).dimension
    }

    /// The unit in which it is shown.
    pub fn unit(self, set: UnitSet) -> Unit {
        let us = set == UnitSet::Us;
        let pick = |metric: (&'static str, f64), other: (&'static str, f64), dimension| {
            let (symbol, factor) = if us { other } else { metric };
            Unit { symbol, dimension, factor }
        };
        let same = |symbol, factor, dimension| Unit { symbol, dimension, factor };
        const FOOT: f64 = 0.3048;
        const INCH: f64 = 0.0254;
        const POUND: f64 = 0.453_592_37;
        const LBF: f64 = POUND * 9.806_65;
        match self {
            Self::Fine => pick(("mm", 1e-3), ("in", INCH), Dimension::LENGTH),
            Self::Coarse => pick(("m", 1.0), ("ft", FOOT), Dimension::LENGTH),
            Self::Area => pick(("m²", 1.0), ("ft²", FOOT * FOOT), Dimension::AREA),
            Self::Mass => pick(("kg", 1.0), ("lb", POUND), Dimension::MASS),
            Self::Load => pick(("t", 1e3), ("lb", POUND), Dimension::MASS),
            Self::Force => pick(("kN", 1e3), ("kip", 1e3 * LBF), Dimension::FORCE),
            Self::Moment => pick(("kN m", 1e3), ("kip ft", 1e3 * LBF * FOOT), Dimension::MOMENT),
            Self::Pressure => pick(("kPa", 1e3), ("psf", LBF / (FOOT * FOOT)), Dimension::PRESSURE),
            Self::Stress => pick(("N/mm²", 1e6), ("psi", LBF / (INCH * INCH)), Dimension::PRESSURE),
            Self::Minutes => same("min", 60.0, Dimension::TIME),
            Self::Seconds => same("s", 1.0, Dimension::TIME),
            Self::Speed => match set {
                UnitSet::Metric => same("m/s", 1.0, Dimension::SPEED),
                UnitSet::Gb | UnitSet::Us => same("mph", 1609.344 / 3600.0, Dimension::SPEED),
            },
            Self::Acceleration => same("g", 9.806_65, Dimension::ACCELERATION),
            Self::Angle => same("°", core::f64::consts::PI / 180.0, Dimension::NONE),
            Self::Slope => pick(("mm/m", 1e-3), ("in/ft", 1.0 / 12.0), Dimension::NONE),
            Self::Ratio | Self::Count => same("", 1.0, Dimension::NONE),
            Self::Share => same("%", 1e-2, Dimension::NONE),
            Self::Stiffness => pick(("kN/mm", 1e6), ("kip/in", 1e3 * LBF / INCH), Dimension::STIFFNESS),
            Self::Subgrade => {
                pick(("kPa/mm", 1e6), ("lb/in³", LBF / (INCH * INCH * INCH)), Dimension::SUBGRADE)
            }
            Self::Density => {
                pick(("kg/m³", 1.0), ("lb/ft³", POUND / (FOOT * FOOT * FOOT)), Dimension::DENSITY)
            }
            Self::SecondMoment => {
                pick(("cm⁴", 1e-8), ("in⁴", INCH * INCH * INCH * INCH), Dimension::SECOND_MOMENT)
            }
            Self::Turning => same("rpm", 2.0 * core::f64::consts::PI / 60.0, Dimension::TURNING),
            Self::Inertia => same("kg m²", 1.0, Dimension::INERTIA),
            Self::Power => same("kW", 1e3, Dimension::POWER),
            Self::Current => same("A", 1.0, Dimension::CURRENT),
            Self::Voltage => same("V", 1.0, Dimension::VOLTAGE),
            Self::Temperature => same("K", 1.0, Dimension::TEMPERATURE),
        }
    }
}
