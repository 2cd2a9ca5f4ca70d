//! What a quantity is, more finely than its dimension: an angle and a slope have none, a stress and a
//! ground pressure share one.

use crate::Unit;
use core::fmt;

/// What is measured, as a person would name it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A length.
    Length,
    /// An area.
    Area,
    /// A mass.
    Mass,
    /// A force.
    Force,
    /// The moment of a force.
    Moment,
    /// A pressure or a stress.
    Pressure,
    /// A time that passes.
    Time,
    /// A speed.
    Speed,
    /// An acceleration.
    Acceleration,
    /// An angle.
    Angle,
    /// Rise for each run.
    Slope,
    /// A plain number.
    Ratio,
    /// Force for each length.
    Stiffness,
    /// Pressure for each length.
    Subgrade,
    /// Mass for each volume.
    Density,
    /// Second moment of area.
    SecondMoment,
    /// Turns for each time.
    Turning,
    /// Mass times length squared.
    Inertia,
    /// Power.
    Power,
    /// Electric current.
    Current,
    /// Electric voltage.
    Voltage,
    /// Temperature.
    Temperature,
}

impl Kind {
    /// Every kind there is.
    pub const ALL: [Self; 22] = [
        Self::Length,
        Self::Area,
        Self::Mass,
        Self::Force,
        Self::Moment,
        Self::Pressure,
        Self::Time,
        Self::Speed,
        Self::Acceleration,
        Self::Angle,
        Self::Slope,
        Self::Ratio,
        Self::Stiffness,
        Self::Subgrade,
        Self::Density,
        Self::SecondMoment,
        Self::Turning,
        Self::Inertia,
        Self::Power,
        Self::Current,
        Self::Voltage,
        Self::Temperature,
    ];

    /// The name with its article: "a length".
    pub fn name(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Mass => "a mass",
            Self::Force => "a force",
            Self::Moment => "a moment",
            Self::Pressure => "a pressure",
            Self::Time => "a time",
            Self::Speed => "a speed",
            Self::Acceleration => "an acceleration",
            Self::Angle => "an angle",
            Self::Slope => "a slope",
            Self::Ratio => "a plain number or a percentage",
            Self::Stiffness => "a stiffness",
            Self::Subgrade => "a subgrade stiffness",
            Self::Density => "a density",
            Self::SecondMoment => "a second moment of area",
            Self::Turning => "a speed of turning",
            Self::Inertia => "a moment of inertia",
            Self::Power => "a power",
            Self::Current => "a current",
            Self::Voltage => "a voltage",
            Self::Temperature => "a temperature",
        }
    }

    /// The greatest magnitude that a file may state, in one of the kind's units.
    ///
    /// Far beyond any trailer-mounted ride: these catch a slipped point or a wrong unit, they are no
    /// limit of design. Ours; no source.
    pub fn greatest(self) -> (f64, &'static Unit) {
        match self {
            Self::Length => (10.0, &Unit::KILOMETRE),
            Self::Area => (1e6, &Unit::SQUARE_METRE),
            Self::Mass => (1000.0, &Unit::TONNE),
            Self::Force => (100.0, &Unit::MEGANEWTON),
            Self::Moment => (1e6, &Unit::KILONEWTON_METRE),
            Self::Pressure => (1000.0, &Unit::GIGAPASCAL),
            Self::Time => (40_000.0, &Unit::DAY),
            Self::Speed => (1000.0, &Unit::METRE_PER_SECOND),
            Self::Acceleration => (1000.0, &Unit::STANDARD_GRAVITY),
            Self::Angle => (36_000.0, &Unit::DEGREE),
            Self::Slope => (10_000.0, &Unit::MILLIMETRE_PER_METRE),
            Self::Ratio => (1e6, &Unit::ONE),
            Self::Stiffness => (1e6, &Unit::KILONEWTON_PER_MILLIMETRE),
            Self::Subgrade => (1e6, &Unit::KILOPASCAL_PER_MILLIMETRE),
            Self::Density => (1e5, &Unit::KILOGRAM_PER_CUBIC_METRE),
            Self::SecondMoment => (10.0, &Unit::METRE_TO_THE_FOURTH),
            Self::Turning => (1e5, &Unit::TURN_PER_MINUTE),
            Self::Inertia => (1e9, &Unit::KILOGRAM_SQUARE_METRE),
            Self::Power => (1e5, &Unit::KILOWATT),
            Self::Current => (1e5, &Unit::AMPERE),
            Self::Voltage => (1000.0, &Unit::KILOVOLT),
            Self::Temperature => (1000.0, &Unit::DEGREE_CELSIUS),
        }
    }

    /// The units in which it can be written, in the order in which they are offered.
    pub fn units(self) -> impl Iterator<Item = &'static Unit> {
        Unit::ALL.iter().filter(move |unit| unit.kinds.contains(&self))
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
