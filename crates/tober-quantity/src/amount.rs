//! An amount: a number of SI units that knows how it wants to be shown.

use crate::{Dimension, Unit, UnitSet};

/// How an amount is shown: which unit in each set of units, and to how many decimals on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shown {
    /// Millimetres; inches to the nearest quarter.
    Fine,
    /// Millimetres; inches to the nearest sixteenth. For what a rule or a tape shows of a short way, as a sink.
    Short,
    /// Tenths of a millimetre; hundredths of an inch. For a tolerance and what is held against it.
    Finest,
    /// Metres; feet.
    Coarse,
    /// Square metres; square feet.
    Area,
    /// Kilogrammes; pounds.
    Mass,
    /// Tonnes; pounds. What a crew calls a load.
    Load,
    /// Tonnes; pounds. In the working kilonewtons; kips.
    Force,
    /// Tonne metres; pound feet. In the working kilonewton metres; kip feet.
    Moment,
    /// Tonnes a square metre; pounds a square foot. In the working kilopascals.
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

    /// The unit in which its working is shown: one without a zero of its own, so a temperature is in
    /// kelvins here.
    pub fn unit(self, set: UnitSet) -> Unit {
        let us = |metric, us| if set == UnitSet::Us { us } else { metric };
        match self {
            Self::Fine | Self::Short | Self::Finest => us(Unit::MILLIMETRE, Unit::INCH),
            Self::Coarse => us(Unit::METRE, Unit::FOOT),
            Self::Area => us(Unit::SQUARE_METRE, Unit::SQUARE_FOOT),
            Self::Mass => us(Unit::KILOGRAM, Unit::POUND),
            Self::Load => us(Unit::TONNE, Unit::POUND),
            Self::Force => us(Unit::KILONEWTON, Unit::KIP),
            Self::Moment => us(Unit::KILONEWTON_METRE, Unit::KIP_FOOT),
            Self::Pressure => us(Unit::KILOPASCAL, Unit::POUND_PER_SQUARE_FOOT),
            Self::Stress => us(Unit::NEWTON_PER_SQUARE_MILLIMETRE, Unit::POUND_PER_SQUARE_INCH),
            Self::Minutes => Unit::MINUTE,
            Self::Seconds => Unit::SECOND,
            Self::Speed if set == UnitSet::Metric => Unit::METRE_PER_SECOND,
            Self::Speed => Unit::MILE_PER_HOUR,
            Self::Acceleration => Unit::STANDARD_GRAVITY,
            Self::Angle => Unit::DEGREE,
            Self::Slope => us(Unit::MILLIMETRE_PER_METRE, Unit::INCH_PER_FOOT),
            Self::Ratio | Self::Count => Unit::ONE,
            Self::Share => Unit::PERCENT,
            Self::Stiffness => us(Unit::KILONEWTON_PER_MILLIMETRE, Unit::KIP_PER_INCH),
            Self::Subgrade => us(Unit::KILOPASCAL_PER_MILLIMETRE, Unit::POUND_PER_CUBIC_INCH),
            Self::Density => us(Unit::KILOGRAM_PER_CUBIC_METRE, Unit::POUND_PER_CUBIC_FOOT),
            Self::SecondMoment => us(Unit::CENTIMETRE_TO_THE_FOURTH, Unit::INCH_TO_THE_FOURTH),
            Self::Turning => Unit::TURN_PER_MINUTE,
            Self::Inertia => us(Unit::KILOGRAM_SQUARE_METRE, Unit::POUND_SQUARE_FOOT),
            Self::Power => Unit::KILOWATT,
            Self::Current => Unit::AMPERE,
            Self::Voltage => Unit::VOLT,
            Self::Temperature => Unit::KELVIN,
        }
    }
}
