//! The quantities themselves.

use crate::{Amount, Dimension, Shown};
use core::ops::{Add, Div, Mul, Neg, Sub};

/// What every quantity can do.
pub trait Quantity: Copy {
    /// What it measures.
    const DIMENSION: Dimension;
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
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $dimension:ident, $shown:ident,
     $( $(#[$unit_doc:meta])* $make:ident $read:ident $factor:expr; )*) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
            $(
                $(#[$unit_doc])*
                pub fn $make(value: f64) -> Self { Self(value * $factor) }
                $(#[$unit_doc])*
                pub fn $read(self) -> f64 { self.0 / $factor }
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

/// The pound, in kilogrammes, exact by definition (international yard and pound agreement, 1959).
const POUND: f64 = 0.453_592_37;
/// Standard gravity, in metres a second squared, exact by definition (3rd CGPM, 1901).
const GRAVITY: f64 = 9.806_65;
const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;
const DEGREE: f64 = core::f64::consts::PI / 180.0;

quantity! {
    /// A length or a height. Heights are up-positive from the datum of the pitch.
    Length, LENGTH, Fine,
    /// Millimetres.
    mm as_mm 1e-3;
    /// Metres.
    m as_m 1.0;
    /// Inches.
    inches as_in INCH;
    /// Feet.
    feet as_ft FOOT;
}
quantity! {
    /// An area.
    Area, AREA, Area,
    /// Square metres.
    m2 as_m2 1.0;
    /// Square feet.
    ft2 as_ft2 (FOOT * FOOT);
}
quantity! {
    /// A mass.
    Mass, MASS, Mass,
    /// Kilogrammes.
    kg as_kg 1.0;
    /// Tonnes.
    t as_t 1e3;
    /// Pounds.
    lb as_lb POUND;
}
quantity! {
    /// A force.
    Force, FORCE, Force,
    /// Newtons.
    n as_n 1.0;
    /// Kilonewtons.
    kn as_kn 1e3;
    /// Pounds-force.
    lbf as_lbf (POUND * GRAVITY);
}
quantity! {
    /// The moment of a force.
    Moment, MOMENT, Moment,
    /// Newton metres.
    nm as_nm 1.0;
    /// Kilonewton metres.
    knm as_knm 1e3;
}
quantity! {
    /// A pressure on the ground or from the wind, or a stress in a part.
    Pressure, PRESSURE, Pressure,
    /// Pascals.
    pa as_pa 1.0;
    /// Kilopascals, which are kilonewtons a square metre.
    kpa as_kpa 1e3;
    /// Megapascals, which are newtons a square millimetre.
    mpa as_mpa 1e6;
    /// Pounds-force a square foot.
    psf as_psf (POUND * GRAVITY / (FOOT * FOOT));
    /// Pounds-force a square inch.
    psi as_psi (POUND * GRAVITY / (INCH * INCH));
}
quantity! {
    /// A time that passes.
    Time, TIME, Minutes,
    /// Seconds.
    s as_s 1.0;
    /// Minutes.
    min_ as_min 60.0;
    /// Hours.
    h as_h 3600.0;
}
quantity! {
    /// A speed. Every limit that uses one says over what time it is averaged.
    Speed, SPEED, Speed,
    /// Metres a second.
    m_s as_m_s 1.0;
    /// Miles an hour.
    mph as_mph (1609.344 / 3600.0);
    /// Kilometres an hour.
    km_h as_km_h (1.0 / 3.6);
    /// Knots.
    knots as_knots (1852.0 / 3600.0);
}
quantity! {
    /// An acceleration.
    Acceleration, ACCELERATION, Acceleration,
    /// Metres a second squared.
    m_s2 as_m_s2 1.0;
    /// Multiples of standard gravity.
    g as_g GRAVITY;
}
quantity! {
    /// An angle.
    Angle, NONE, Angle,
    /// Radians.
    rad as_rad 1.0;
    /// Degrees.
    deg as_deg DEGREE;
}
quantity! {
    /// A slope: rise for each run.
    Slope, NONE, Slope,
    /// Rise over run.
    ratio as_ratio 1.0;
    /// Millimetres a metre.
    mm_per_m as_mm_per_m 1e-3;
    /// Per cent.
    percent as_percent 1e-2;
}
quantity! {
    /// A plain ratio: a factor, an efficiency, a share.
    Ratio, NONE, Ratio,
    /// As a number.
    one as_one 1.0;
    /// Per cent.
    percent as_percent 1e-2;
}
quantity! {
    /// The stiffness of a spring: force for each length.
    Stiffness, STIFFNESS, Stiffness,
    /// Newtons a metre.
    n_per_m as_n_per_m 1.0;
    /// Meganewtons a metre, which are kilonewtons a millimetre.
    mn_per_m as_mn_per_m 1e6;
}
quantity! {
    /// The stiffness of the ground under a plate: pressure for each length.
    Subgrade, SUBGRADE, Subgrade,
    /// Kilopascals a millimetre, which are meganewtons a cubic metre.
    kpa_per_mm as_kpa_per_mm 1e6;
    /// Pounds-force a cubic inch.
    pci as_pci (POUND * GRAVITY / (INCH * INCH * INCH));
}
quantity! {
    /// Mass for each volume.
    Density, DENSITY, Density,
    /// Kilogrammes a cubic metre.
    kg_m3 as_kg_m3 1.0;
    /// Pounds a cubic foot.
    lb_ft3 as_lb_ft3 (POUND / (FOOT * FOOT * FOOT));
}
quantity! {
    /// Second moment of area, or the torsion constant of a section.
    SecondMoment, SECOND_MOMENT, SecondMoment,
    /// Metres to the fourth.
    m4 as_m4 1.0;
    /// Centimetres to the fourth, as section tables print it.
    cm4 as_cm4 1e-8;
    /// Inches to the fourth.
    in4 as_in4 (INCH * INCH * INCH * INCH);
}
quantity! {
    /// How fast something turns.
    FrequencyOfTurning, TURNING, Turning,
    /// Radians a second.
    rad_per_s as_rad_per_s 1.0;
    /// Turns a minute.
    rpm as_rpm (2.0 * core::f64::consts::PI / 60.0);
}
quantity! {
    /// Mass times length squared.
    Inertia, INERTIA, Inertia,
    /// Kilogramme square metres.
    kg_m2 as_kg_m2 1.0;
}
quantity! {
    /// Power.
    Power, POWER, Power,
    /// Watts.
    w as_w 1.0;
    /// Kilowatts.
    kw as_kw 1e3;
}
quantity! {
    /// Electric current.
    Current, CURRENT, Current,
    /// Amperes.
    a as_a 1.0;
}
quantity! {
    /// Electric voltage.
    Voltage, VOLTAGE, Voltage,
    /// Volts.
    v as_v 1.0;
}
quantity! {
    /// A temperature, kept in kelvins.
    Temperature, TEMPERATURE, Temperature,
    /// Kelvins.
    k as_k 1.0;
}

impl Force {
    /// The weight of a mass under standard gravity.
    pub fn weight(mass: Mass) -> Self {
        Self(mass.0 * GRAVITY)
    }
    /// The mass whose weight this is under standard gravity: how a crew speaks of a load.
    pub fn mass(self) -> Mass {
        Mass(self.0 / GRAVITY)
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
