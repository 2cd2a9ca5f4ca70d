//! The quantities themselves.

use crate::{Amount, Dimension, Kind, QuantityError, Refusal, Shown, Unit, parse};
use core::ops::{Add, Div, Mul, Neg, Sub};

/// What every quantity can do.
pub trait Quantity: Copy {
    /// What it measures.
    const DIMENSION: Dimension;
    /// What it is, as a person would name it.
    const KIND: Kind;
    /// How it is shown unless somebody asks otherwise.
    const SHOWN: Shown;
    /// From a number of coherent SI units.
    fn from_si(si: f64) -> Self;
    /// As a number of coherent SI units.
    fn si(self) -> f64;
    /// As an amount, for a finding or its working.
    fn amount(self) -> Amount {
        Amount { si: self.si(), shown: Self::SHOWN }
    }
    /// Reads a number with its unit: `1.82 m`, `5 ft 11 1/2 in`, `1,500 psf`.
    ///
    /// The value is the double nearest to what is written, in SI units; where the unit holds pi or has
    /// a zero of its own, or the text has more than 19 digits, it is within three roundings of it.
    ///
    /// # Errors
    /// If the text is not one number with a unit of this kind, or lies outside [`Kind::greatest`];
    /// see [`Refusal`] for each reason.
    fn parse(text: &str) -> Result<Self, QuantityError> {
        parse::plain(text, Self::KIND).map(Self::from_si)
    }
    /// Reads a number with its unit and, where it is given, what it may be off by: `3.4 t ± 5 %`.
    ///
    /// `+/-` stands for `±`. The tolerance is a percentage or has a unit of the same kind;
    /// `645 ± 3 mm` gives both the one unit. A tolerance in per cent of a value that may itself be in
    /// per cent is refused, as it has two meanings.
    ///
    /// # Errors
    /// As [`Quantity::parse`], and if the tolerance is negative or a percentage of nothing.
    fn parse_toleranced(text: &str) -> Result<Toleranced<Self>, QuantityError> {
        let (value, off_by) = parse::toleranced(text, Self::KIND)?;
        Ok(Toleranced { value: Self::from_si(value), off_by: Self::from_si(off_by) })
    }
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $dimension:ident, $kind:ident, $shown:ident,
     $( $(#[$unit_doc:meta])* $make:ident $read:ident $unit:ident; )*) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
            $(
                $(#[$unit_doc])*
                pub fn $make(value: f64) -> Self { Self(Unit::$unit.to_si(value)) }
                $(#[$unit_doc])*
                pub fn $read(self) -> f64 { Unit::$unit.of_si(self.0) }
            )*
            /// Without its sign.
            #[must_use]
            pub fn abs(self) -> Self { Self(self.0.abs()) }
            /// The lesser of two.
            #[must_use]
            pub fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }
            /// The greater of two.
            #[must_use]
            pub fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }
            /// Neither infinite nor undefined.
            pub fn is_finite(self) -> bool { self.0.is_finite() }
        }
        impl Quantity for $name {
            const DIMENSION: Dimension = Dimension::$dimension;
            const KIND: Kind = Kind::$kind;
            const SHOWN: Shown = Shown::$shown;
            fn from_si(si: f64) -> Self { Self(si) }
            fn si(self) -> f64 { self.0 }
        }
        impl From<$name> for Amount {
            fn from(quantity: $name) -> Self { quantity.amount() }
        }
        impl Add for $name { type Output = Self; fn add(self, o: Self) -> Self { Self(self.0 + o.0) } }
        impl Sub for $name { type Output = Self; fn sub(self, o: Self) -> Self { Self(self.0 - o.0) } }
        impl Neg for $name { type Output = Self; fn neg(self) -> Self { Self(-self.0) } }
        impl Mul<f64> for $name { type Output = Self; fn mul(self, k: f64) -> Self { Self(self.0 * k) } }
        impl Div<f64> for $name { type Output = Self; fn div(self, k: f64) -> Self { Self(self.0 / k) } }
        impl Div for $name { type Output = f64; fn div(self, o: Self) -> f64 { self.0 / o.0 } }
    };
}

quantity! {
    /// A length or a height. Heights are up-positive from the datum of the pitch.
    Length, LENGTH, Length, Fine,
    /// Millimetres.
    mm as_mm MILLIMETRE;
    /// Metres.
    m as_m METRE;
    /// Inches.
    inches as_in INCH;
    /// Feet.
    feet as_ft FOOT;
}
quantity! {
    /// An area.
    Area, AREA, Area, Area,
    /// Square metres.
    m2 as_m2 SQUARE_METRE;
    /// Square feet.
    ft2 as_ft2 SQUARE_FOOT;
}
quantity! {
    /// A mass.
    Mass, MASS, Mass, Mass,
    /// Kilogrammes.
    kg as_kg KILOGRAM;
    /// Tonnes.
    t as_t TONNE;
    /// Pounds.
    lb as_lb POUND;
}
quantity! {
    /// A force.
    Force, FORCE, Force, Force,
    /// Newtons.
    n as_n NEWTON;
    /// Kilonewtons.
    kn as_kn KILONEWTON;
    /// Pounds-force.
    lbf as_lbf POUND_FORCE;
    /// Kips, a thousand pounds-force each.
    kip as_kip KIP;
}
quantity! {
    /// The moment of a force.
    Moment, MOMENT, Moment, Moment,
    /// Newton metres.
    nm as_nm NEWTON_METRE;
    /// Kilonewton metres.
    knm as_knm KILONEWTON_METRE;
}
quantity! {
    /// A pressure on the ground or from the wind, or a stress in a part.
    Pressure, PRESSURE, Pressure, Pressure,
    /// Pascals.
    pa as_pa PASCAL;
    /// Kilopascals, which are kilonewtons a square metre.
    kpa as_kpa KILOPASCAL;
    /// Megapascals, which are newtons a square millimetre.
    mpa as_mpa NEWTON_PER_SQUARE_MILLIMETRE;
    /// Pounds-force a square foot.
    psf as_psf POUND_PER_SQUARE_FOOT;
    /// Pounds-force a square inch.
    psi as_psi POUND_PER_SQUARE_INCH;
}
quantity! {
    /// A time that passes.
    Time, TIME, Time, Minutes,
    /// Seconds.
    s as_s SECOND;
    /// Minutes.
    min_ as_min MINUTE;
    /// Hours.
    h as_h HOUR;
}
quantity! {
    /// A speed. Every limit that uses one says over what time it is averaged.
    Speed, SPEED, Speed, Speed,
    /// Metres a second.
    m_s as_m_s METRE_PER_SECOND;
    /// Miles an hour.
    mph as_mph MILE_PER_HOUR;
    /// Kilometres an hour.
    km_h as_km_h KILOMETRE_PER_HOUR;
    /// Knots.
    knots as_knots KNOT;
}
quantity! {
    /// An acceleration.
    Acceleration, ACCELERATION, Acceleration, Acceleration,
    /// Metres a second squared.
    m_s2 as_m_s2 METRE_PER_SECOND_SQUARED;
    /// Multiples of standard gravity.
    g as_g STANDARD_GRAVITY;
}
quantity! {
    /// An angle.
    Angle, NONE, Angle, Angle,
    /// Radians.
    rad as_rad RADIAN;
    /// Degrees.
    deg as_deg DEGREE;
}
quantity! {
    /// A slope: rise for each run.
    Slope, NONE, Slope, Slope,
    /// Rise over run.
    ratio as_ratio ONE;
    /// Millimetres a metre.
    mm_per_m as_mm_per_m MILLIMETRE_PER_METRE;
    /// Per cent.
    percent as_percent PERCENT;
}
quantity! {
    /// A plain ratio: a factor, an efficiency, a share.
    Ratio, NONE, Ratio, Ratio,
    /// As a number.
    one as_one ONE;
    /// Per cent.
    percent as_percent PERCENT;
}
quantity! {
    /// The stiffness of a spring: force for each length.
    Stiffness, STIFFNESS, Stiffness, Stiffness,
    /// Newtons a metre.
    n_per_m as_n_per_m NEWTON_PER_METRE;
    /// Meganewtons a metre, which are kilonewtons a millimetre.
    mn_per_m as_mn_per_m KILONEWTON_PER_MILLIMETRE;
}
quantity! {
    /// The stiffness of the ground under a plate: pressure for each length.
    Subgrade, SUBGRADE, Subgrade, Subgrade,
    /// Kilopascals a millimetre, which are meganewtons a cubic metre.
    kpa_per_mm as_kpa_per_mm KILOPASCAL_PER_MILLIMETRE;
    /// Pounds-force a cubic inch.
    pci as_pci POUND_PER_CUBIC_INCH;
}
quantity! {
    /// Mass for each volume.
    Density, DENSITY, Density, Density,
    /// Kilogrammes a cubic metre.
    kg_m3 as_kg_m3 KILOGRAM_PER_CUBIC_METRE;
    /// Pounds a cubic foot.
    lb_ft3 as_lb_ft3 POUND_PER_CUBIC_FOOT;
}
quantity! {
    /// Second moment of area, or the torsion constant of a section.
    SecondMoment, SECOND_MOMENT, SecondMoment, SecondMoment,
    /// Metres to the fourth.
    m4 as_m4 METRE_TO_THE_FOURTH;
    /// Centimetres to the fourth, as section tables print it.
    cm4 as_cm4 CENTIMETRE_TO_THE_FOURTH;
    /// Inches to the fourth.
    in4 as_in4 INCH_TO_THE_FOURTH;
}
quantity! {
    /// How fast something turns.
    FrequencyOfTurning, TURNING, Turning, Turning,
    /// Radians a second.
    rad_per_s as_rad_per_s RADIAN_PER_SECOND;
    /// Turns a minute.
    rpm as_rpm TURN_PER_MINUTE;
}
quantity! {
    /// Mass times length squared.
    Inertia, INERTIA, Inertia, Inertia,
    /// Kilogramme square metres.
    kg_m2 as_kg_m2 KILOGRAM_SQUARE_METRE;
}
quantity! {
    /// Power.
    Power, POWER, Power, Power,
    /// Watts.
    w as_w WATT;
    /// Kilowatts.
    kw as_kw KILOWATT;
}
quantity! {
    /// Electric current.
    Current, CURRENT, Current, Current,
    /// Amperes.
    a as_a AMPERE;
}
quantity! {
    /// Electric voltage.
    Voltage, VOLTAGE, Voltage, Voltage,
    /// Volts.
    v as_v VOLT;
}
quantity! {
    /// A temperature, kept in kelvins.
    Temperature, TEMPERATURE, Temperature, Temperature,
    /// Kelvins.
    k as_k KELVIN;
    /// Degrees Celsius.
    deg_c as_deg_c DEGREE_CELSIUS;
    /// Degrees Fahrenheit.
    deg_f as_deg_f DEGREE_FAHRENHEIT;
}

impl Force {
    /// The weight of a mass under standard gravity.
    pub fn weight(mass: Mass) -> Self {
        Self(Unit::STANDARD_GRAVITY.to_si(mass.0))
    }
    /// Reads a force, or a mass whose weight under standard gravity it is: `45 kN`, `4.6 t ± 5 %`.
    ///
    /// How a rated load is stated: a crew and a plate speak of tonnes, a drawing of kilonewtons.
    ///
    /// # Errors
    /// As [`Quantity::parse_toleranced`].
    pub fn parse_load(text: &str) -> Result<Toleranced<Self>, QuantityError> {
        match Self::parse_toleranced(text) {
            Err(QuantityError { kind: Refusal::WrongKind { is: Kind::Mass, .. }, .. }) => {
                let mass = Mass::parse_toleranced(text)?;
                Ok(Toleranced { value: Self::weight(mass.value), off_by: Self::weight(mass.off_by) })
            }
            read => read,
        }
    }
    /// The mass whose weight this is under standard gravity: how a crew speaks of a load.
    pub fn mass(self) -> Mass {
        Mass(Unit::STANDARD_GRAVITY.of_si(self.0))
    }
}
impl Div<Area> for Force {
    type Output = Pressure;
    fn div(self, area: Area) -> Pressure {
        Pressure(self.0 / area.0)
    }
}
impl Mul<Length> for Force {
    type Output = Moment;
    fn mul(self, arm: Length) -> Moment {
        Moment(self.0 * arm.0)
    }
}
impl Mul<Area> for Pressure {
    type Output = Force;
    fn mul(self, area: Area) -> Force {
        Force(self.0 * area.0)
    }
}
impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}

/// A value with what it may be off by, either way. `3.4 t ± 5 %` is read as one of these.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Toleranced<Q> {
    /// The value as stated.
    pub value: Q,
    /// How far the true value may lie from it, either way; never negative.
    pub off_by: Q,
}

impl<Q: Quantity> Toleranced<Q> {
    /// A value taken as it is.
    pub fn exact(value: Q) -> Self {
        Self { value, off_by: Q::from_si(0.0) }
    }
    /// The least the true value may be.
    pub fn low(self) -> Q {
        Q::from_si(self.value.si() - self.off_by.si())
    }
    /// The greatest the true value may be.
    pub fn high(self) -> Q {
        Q::from_si(self.value.si() + self.off_by.si())
    }
}
