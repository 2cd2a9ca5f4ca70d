//! The one table of units. Parsing, printing, the quantities and the working of a finding read it.
//!
//! A factor is kept as a fraction of two whole numbers, so that a text such as `0.1 mm` becomes the
//! double nearest to a ten-thousandth of a metre, and not ten times the error of `1e-3`. Only the
//! degree and the turn, which hold the number pi, have no such fraction.

use crate::{Dimension, Kind};

/// A unit: how it is written, what it measures, and how many SI units it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// How the unit is written after a number.
    pub symbol: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// How many coherent SI units one of it is.
    pub factor: f64,
    /// What it is offered for.
    pub kinds: &'static [Kind],
    /// How it may be typed: superscripts as digits, one space between words, the shortest first.
    pub names: &'static [&'static str],
    /// The factor is `times / over`; both are whole numbers, except where pi is in `times`.
    times: f64,
    over: f64,
    /// Where its zero lies, in SI units; not 0 for degrees Celsius and Fahrenheit only.
    zero: f64,
}

/// A fraction of two whole numbers.
type Fraction = (u128, u128);
/// 25.4 mm exactly (international yard and pound agreement, 1959).
const INCH: Fraction = (254, 10_000);
/// 12 inches.
const FOOT: Fraction = (3_048, 10_000);
/// 0.453 592 37 kg exactly (international yard and pound agreement, 1959).
const POUND: Fraction = (45_359_237, 100_000_000);
/// 9.806 65 m/s² exactly (3rd General Conference on Weights and Measures, 1901).
const GRAVITY: Fraction = (980_665, 100_000);
/// The weight of a pound under standard gravity.
const LBF: Fraction = (POUND.0 * GRAVITY.0, POUND.1 * GRAVITY.1);

/// Reduces a fraction until both sides are doubles without rounding; the build stops where it cannot.
const fn exact(times: u128, over: u128) -> (f64, f64) {
    let (mut a, mut b) = (times, over);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    let (times, over) = (times / a, over / a);
    let (as_times, as_over) = (times as f64, over as f64);
    assert!(as_times as u128 == times && as_over as u128 == over, "both sides are whole doubles");
    (as_times, as_over)
}

/// A fraction of half a turn.
const fn turn(over: u32) -> (f64, f64) {
    (core::f64::consts::PI, over as f64)
}

impl Unit {
    const fn new(
        symbol: &'static str,
        kinds: &'static [Kind],
        dimension: Dimension,
        (times, over): (f64, f64),
        names: &'static [&'static str],
    ) -> Self {
        Self { symbol, dimension, factor: times / over, kinds, names, times, over, zero: 0.0 }
    }
    const fn zero_at(self, zero: f64) -> Self {
        Self { zero, ..self }
    }

    /// Millimetre.
    pub const MILLIMETRE: Self =
        Self::new("mm", &[Kind::Length], Dimension::LENGTH, exact(1, 1_000), &["mm"]);
    /// Centimetre.
    pub const CENTIMETRE: Self = Self::new("cm", &[Kind::Length], Dimension::LENGTH, exact(1, 100), &["cm"]);
    /// Metre.
    pub const METRE: Self = Self::new("m", &[Kind::Length], Dimension::LENGTH, exact(1, 1), &["m"]);
    /// Kilometre.
    pub const KILOMETRE: Self = Self::new("km", &[Kind::Length], Dimension::LENGTH, exact(1_000, 1), &["km"]);
    /// Inch.
    pub const INCH: Self =
        Self::new("in", &[Kind::Length], Dimension::LENGTH, exact(INCH.0, INCH.1), &["in", "inch", "inches"]);
    /// Foot.
    pub const FOOT: Self =
        Self::new("ft", &[Kind::Length], Dimension::LENGTH, exact(FOOT.0, FOOT.1), &["ft", "foot", "feet"]);
    /// Yard.
    pub const YARD: Self = Self::new(
        "yd",
        &[Kind::Length],
        Dimension::LENGTH,
        exact(3 * FOOT.0, FOOT.1),
        &["yd", "yard", "yards"],
    );
    /// Square millimetre.
    pub const SQUARE_MILLIMETRE: Self =
        Self::new("mm²", &[Kind::Area], Dimension::AREA, exact(1, 1_000_000), &["mm2"]);
    /// Square centimetre.
    pub const SQUARE_CENTIMETRE: Self =
        Self::new("cm²", &[Kind::Area], Dimension::AREA, exact(1, 10_000), &["cm2"]);
    /// Square metre.
    pub const SQUARE_METRE: Self = Self::new("m²", &[Kind::Area], Dimension::AREA, exact(1, 1), &["m2"]);
    /// Square inch.
    pub const SQUARE_INCH: Self = Self::new(
        "in²",
        &[Kind::Area],
        Dimension::AREA,
        exact(INCH.0 * INCH.0, INCH.1 * INCH.1),
        &["in2", "sq in"],
    );
    /// Square foot.
    pub const SQUARE_FOOT: Self = Self::new(
        "ft²",
        &[Kind::Area],
        Dimension::AREA,
        exact(FOOT.0 * FOOT.0, FOOT.1 * FOOT.1),
        &["ft2", "sq ft"],
    );
    /// Kilogramme.
    pub const KILOGRAM: Self = Self::new("kg", &[Kind::Mass], Dimension::MASS, exact(1, 1), &["kg"]);
    /// Tonne.
    pub const TONNE: Self =
        Self::new("t", &[Kind::Mass], Dimension::MASS, exact(1_000, 1), &["t", "tonne", "tonnes"]);
    /// Pound.
    pub const POUND: Self =
        Self::new("lb", &[Kind::Mass], Dimension::MASS, exact(POUND.0, POUND.1), &["lb", "lbs"]);
    /// Newton.
    pub const NEWTON: Self = Self::new("N", &[Kind::Force], Dimension::FORCE, exact(1, 1), &["N"]);
    /// Kilonewton.
    pub const KILONEWTON: Self = Self::new("kN", &[Kind::Force], Dimension::FORCE, exact(1_000, 1), &["kN"]);
    /// Meganewton.
    pub const MEGANEWTON: Self =
        Self::new("MN", &[Kind::Force], Dimension::FORCE, exact(1_000_000, 1), &["MN"]);
    /// Pound-force.
    pub const POUND_FORCE: Self =
        Self::new("lbf", &[Kind::Force], Dimension::FORCE, exact(LBF.0, LBF.1), &["lbf"]);
    /// Kip, a thousand pounds-force.
    pub const KIP: Self =
        Self::new("kip", &[Kind::Force], Dimension::FORCE, exact(1_000 * LBF.0, LBF.1), &["kip", "kips"]);
    /// Newton metre.
    pub const NEWTON_METRE: Self =
        Self::new("N m", &[Kind::Moment], Dimension::MOMENT, exact(1, 1), &["N m", "Nm"]);
    /// Kilonewton metre.
    pub const KILONEWTON_METRE: Self =
        Self::new("kN m", &[Kind::Moment], Dimension::MOMENT, exact(1_000, 1), &["kN m", "kNm"]);
    /// Pound-force foot.
    pub const POUND_FORCE_FOOT: Self = Self::new(
        "lbf ft",
        &[Kind::Moment],
        Dimension::MOMENT,
        exact(LBF.0 * FOOT.0, LBF.1 * FOOT.1),
        &["lbf ft", "ft lbf", "lb ft", "ft lb"],
    );
    /// Kip foot.
    pub const KIP_FOOT: Self = Self::new(
        "kip ft",
        &[Kind::Moment],
        Dimension::MOMENT,
        exact(1_000 * LBF.0 * FOOT.0, LBF.1 * FOOT.1),
        &["kip ft", "ft kip"],
    );
    /// Weight of a tonne under standard gravity, at one metre.
    pub const TONNE_FORCE_METRE: Self =
        Self::new("t m", &[Kind::Moment], Dimension::MOMENT, exact(1_000 * GRAVITY.0, GRAVITY.1), &["t m"]);
    /// Weight of a tonne, as a sheet writes a force. It is printed and never read: what is read as `t` is a mass.
    pub(crate) const TONNE_FORCE: Self =
        Self::new("t", &[], Dimension::FORCE, exact(1_000 * GRAVITY.0, GRAVITY.1), &[]);
    /// Weight of a pound, as a sheet writes a force. It is printed and never read.
    pub(crate) const POUND_OF_FORCE: Self = Self::new("lb", &[], Dimension::FORCE, exact(LBF.0, LBF.1), &[]);
    /// Pascal.
    pub const PASCAL: Self =
        Self::new("Pa", &[Kind::Pressure], Dimension::PRESSURE, exact(1, 1), &["Pa", "N/m2"]);
    /// Kilopascal, which is a kilonewton a square metre.
    pub const KILOPASCAL: Self =
        Self::new("kPa", &[Kind::Pressure], Dimension::PRESSURE, exact(1_000, 1), &["kPa", "kN/m2"]);
    /// Newton a square millimetre, which is a megapascal.
    pub const NEWTON_PER_SQUARE_MILLIMETRE: Self = Self::new(
        "N/mm²",
        &[Kind::Pressure],
        Dimension::PRESSURE,
        exact(1_000_000, 1),
        &["N/mm2", "MPa", "MN/m2"],
    );
    /// Gigapascal.
    pub const GIGAPASCAL: Self =
        Self::new("GPa", &[Kind::Pressure], Dimension::PRESSURE, exact(1_000_000_000, 1), &["GPa", "kN/mm2"]);
    /// Weight of a tonne under standard gravity, a square metre.
    pub const TONNE_FORCE_PER_SQUARE_METRE: Self = Self::new(
        "t/m²",
        &[Kind::Pressure],
        Dimension::PRESSURE,
        exact(1_000 * GRAVITY.0, GRAVITY.1),
        &["t/m2"],
    );
    /// Pound-force a square foot.
    pub const POUND_PER_SQUARE_FOOT: Self = Self::new(
        "psf",
        &[Kind::Pressure],
        Dimension::PRESSURE,
        exact(LBF.0 * FOOT.1 * FOOT.1, LBF.1 * FOOT.0 * FOOT.0),
        &["psf", "lb/ft2", "lbf/ft2"],
    );
    /// Kip a square foot.
    pub const KIP_PER_SQUARE_FOOT: Self = Self::new(
        "ksf",
        &[Kind::Pressure],
        Dimension::PRESSURE,
        exact(1_000 * LBF.0 * FOOT.1 * FOOT.1, LBF.1 * FOOT.0 * FOOT.0),
        &["ksf", "kip/ft2"],
    );
    /// Pound-force a square inch.
    pub const POUND_PER_SQUARE_INCH: Self = Self::new(
        "psi",
        &[Kind::Pressure],
        Dimension::PRESSURE,
        exact(LBF.0 * INCH.1 * INCH.1, LBF.1 * INCH.0 * INCH.0),
        &["psi", "lb/in2", "lbf/in2"],
    );
    /// Kip a square inch.
    pub const KIP_PER_SQUARE_INCH: Self = Self::new(
        "ksi",
        &[Kind::Pressure],
        Dimension::PRESSURE,
        exact(1_000 * LBF.0 * INCH.1 * INCH.1, LBF.1 * INCH.0 * INCH.0),
        &["ksi", "kip/in2"],
    );
    /// Second.
    pub const SECOND: Self = Self::new("s", &[Kind::Time], Dimension::TIME, exact(1, 1), &["s"]);
    /// Minute.
    pub const MINUTE: Self = Self::new("min", &[Kind::Time], Dimension::TIME, exact(60, 1), &["min"]);
    /// Hour.
    pub const HOUR: Self = Self::new("h", &[Kind::Time], Dimension::TIME, exact(3_600, 1), &["h"]);
    /// Day of 24 hours.
    pub const DAY: Self =
        Self::new("d", &[Kind::Time], Dimension::TIME, exact(86_400, 1), &["d", "day", "days"]);
    /// Metre a second.
    pub const METRE_PER_SECOND: Self =
        Self::new("m/s", &[Kind::Speed], Dimension::SPEED, exact(1, 1), &["m/s"]);
    /// Kilometre an hour.
    pub const KILOMETRE_PER_HOUR: Self =
        Self::new("km/h", &[Kind::Speed], Dimension::SPEED, exact(1_000, 3_600), &["km/h"]);
    /// Mile an hour.
    pub const MILE_PER_HOUR: Self =
        Self::new("mph", &[Kind::Speed], Dimension::SPEED, exact(5_280 * FOOT.0, 3_600 * FOOT.1), &["mph"]);
    /// Knot, a nautical mile of 1852 m an hour.
    pub const KNOT: Self = Self::new(
        "kt",
        &[Kind::Speed],
        Dimension::SPEED,
        exact(1_852, 3_600),
        &["kt", "kts", "knot", "knots"],
    );
    /// Metre a second squared.
    pub const METRE_PER_SECOND_SQUARED: Self =
        Self::new("m/s²", &[Kind::Acceleration], Dimension::ACCELERATION, exact(1, 1), &["m/s2"]);
    /// Standard gravity.
    pub const STANDARD_GRAVITY: Self =
        Self::new("g", &[Kind::Acceleration], Dimension::ACCELERATION, exact(GRAVITY.0, GRAVITY.1), &["g"]);
    /// Radian.
    pub const RADIAN: Self = Self::new("rad", &[Kind::Angle], Dimension::NONE, exact(1, 1), &["rad"]);
    /// Milliradian.
    pub const MILLIRADIAN: Self =
        Self::new("mrad", &[Kind::Angle], Dimension::NONE, exact(1, 1_000), &["mrad"]);
    /// Degree.
    pub const DEGREE: Self =
        Self::new("°", &[Kind::Angle], Dimension::NONE, turn(180), &["°", "deg", "degrees"]);
    /// Millimetre a metre.
    pub const MILLIMETRE_PER_METRE: Self =
        Self::new("mm/m", &[Kind::Slope], Dimension::NONE, exact(1, 1_000), &["mm/m"]);
    /// Inch a foot.
    pub const INCH_PER_FOOT: Self =
        Self::new("in/ft", &[Kind::Slope], Dimension::NONE, exact(1, 12), &["in/ft"]);
    /// Per cent.
    pub const PERCENT: Self = Self::new(
        "%",
        &[Kind::Slope, Kind::Ratio],
        Dimension::NONE,
        exact(1, 100),
        &["%", "per cent", "percent"],
    );
    /// A plain number.
    pub const ONE: Self = Self::new("", &[Kind::Ratio], Dimension::NONE, exact(1, 1), &[""]);
    /// Newton a metre.
    pub const NEWTON_PER_METRE: Self =
        Self::new("N/m", &[Kind::Stiffness], Dimension::STIFFNESS, exact(1, 1), &["N/m"]);
    /// Kilonewton a metre, which is a newton a millimetre.
    pub const KILONEWTON_PER_METRE: Self =
        Self::new("kN/m", &[Kind::Stiffness], Dimension::STIFFNESS, exact(1_000, 1), &["kN/m", "N/mm"]);
    /// Kilonewton a millimetre, which is a meganewton a metre.
    pub const KILONEWTON_PER_MILLIMETRE: Self =
        Self::new("kN/mm", &[Kind::Stiffness], Dimension::STIFFNESS, exact(1_000_000, 1), &["kN/mm", "MN/m"]);
    /// Pound-force an inch.
    pub const POUND_FORCE_PER_INCH: Self = Self::new(
        "lbf/in",
        &[Kind::Stiffness],
        Dimension::STIFFNESS,
        exact(LBF.0 * INCH.1, LBF.1 * INCH.0),
        &["lbf/in", "lb/in"],
    );
    /// Kip an inch.
    pub const KIP_PER_INCH: Self = Self::new(
        "kip/in",
        &[Kind::Stiffness],
        Dimension::STIFFNESS,
        exact(1_000 * LBF.0 * INCH.1, LBF.1 * INCH.0),
        &["kip/in"],
    );
    /// Kilopascal a millimetre, which is a meganewton a cubic metre.
    pub const KILOPASCAL_PER_MILLIMETRE: Self = Self::new(
        "kPa/mm",
        &[Kind::Subgrade],
        Dimension::SUBGRADE,
        exact(1_000_000, 1),
        &["kPa/mm", "MN/m3", "MPa/m"],
    );
    /// Kilopascal a metre, which is a kilonewton a cubic metre.
    pub const KILOPASCAL_PER_METRE: Self =
        Self::new("kPa/m", &[Kind::Subgrade], Dimension::SUBGRADE, exact(1_000, 1), &["kPa/m", "kN/m3"]);
    /// Pound-force a cubic inch.
    pub const POUND_PER_CUBIC_INCH: Self = Self::new(
        "lb/in³",
        &[Kind::Subgrade],
        Dimension::SUBGRADE,
        exact(LBF.0 * INCH.1 * INCH.1 * INCH.1, LBF.1 * INCH.0 * INCH.0 * INCH.0),
        &["lb/in3", "lbf/in3", "pci", "psi/in"],
    );
    /// Kilogramme a cubic metre.
    pub const KILOGRAM_PER_CUBIC_METRE: Self =
        Self::new("kg/m³", &[Kind::Density], Dimension::DENSITY, exact(1, 1), &["kg/m3"]);
    /// Tonne a cubic metre.
    pub const TONNE_PER_CUBIC_METRE: Self =
        Self::new("t/m³", &[Kind::Density], Dimension::DENSITY, exact(1_000, 1), &["t/m3"]);
    /// Pound a cubic foot.
    pub const POUND_PER_CUBIC_FOOT: Self = Self::new(
        "lb/ft³",
        &[Kind::Density],
        Dimension::DENSITY,
        exact(POUND.0 * FOOT.1 * FOOT.1 * FOOT.1, POUND.1 * FOOT.0 * FOOT.0 * FOOT.0),
        &["lb/ft3", "pcf"],
    );
    /// Millimetre to the fourth.
    pub const MILLIMETRE_TO_THE_FOURTH: Self = Self::new(
        "mm⁴",
        &[Kind::SecondMoment],
        Dimension::SECOND_MOMENT,
        exact(1, 1_000_000_000_000),
        &["mm4"],
    );
    /// Centimetre to the fourth, as section tables print it.
    pub const CENTIMETRE_TO_THE_FOURTH: Self =
        Self::new("cm⁴", &[Kind::SecondMoment], Dimension::SECOND_MOMENT, exact(1, 100_000_000), &["cm4"]);
    /// Metre to the fourth.
    pub const METRE_TO_THE_FOURTH: Self =
        Self::new("m⁴", &[Kind::SecondMoment], Dimension::SECOND_MOMENT, exact(1, 1), &["m4"]);
    /// Inch to the fourth.
    pub const INCH_TO_THE_FOURTH: Self = Self::new(
        "in⁴",
        &[Kind::SecondMoment],
        Dimension::SECOND_MOMENT,
        exact(INCH.0 * INCH.0 * INCH.0 * INCH.0, INCH.1 * INCH.1 * INCH.1 * INCH.1),
        &["in4"],
    );
    /// Radian a second.
    pub const RADIAN_PER_SECOND: Self =
        Self::new("rad/s", &[Kind::Turning], Dimension::TURNING, exact(1, 1), &["rad/s"]);
    /// Turn a minute.
    pub const TURN_PER_MINUTE: Self =
        Self::new("rpm", &[Kind::Turning], Dimension::TURNING, turn(30), &["rpm", "r/min"]);
    /// Kilogramme square metre.
    pub const KILOGRAM_SQUARE_METRE: Self =
        Self::new("kg m²", &[Kind::Inertia], Dimension::INERTIA, exact(1, 1), &["kg m2"]);
    /// Pound square foot.
    pub const POUND_SQUARE_FOOT: Self = Self::new(
        "lb ft²",
        &[Kind::Inertia],
        Dimension::INERTIA,
        exact(POUND.0 * FOOT.0 * FOOT.0, POUND.1 * FOOT.1 * FOOT.1),
        &["lb ft2"],
    );
    /// Watt.
    pub const WATT: Self = Self::new("W", &[Kind::Power], Dimension::POWER, exact(1, 1), &["W"]);
    /// Kilowatt.
    pub const KILOWATT: Self = Self::new("kW", &[Kind::Power], Dimension::POWER, exact(1_000, 1), &["kW"]);
    /// Milliampere.
    pub const MILLIAMPERE: Self =
        Self::new("mA", &[Kind::Current], Dimension::CURRENT, exact(1, 1_000), &["mA"]);
    /// Ampere.
    pub const AMPERE: Self = Self::new("A", &[Kind::Current], Dimension::CURRENT, exact(1, 1), &["A"]);
    /// Volt.
    pub const VOLT: Self = Self::new("V", &[Kind::Voltage], Dimension::VOLTAGE, exact(1, 1), &["V"]);
    /// Kilovolt.
    pub const KILOVOLT: Self =
        Self::new("kV", &[Kind::Voltage], Dimension::VOLTAGE, exact(1_000, 1), &["kV"]);
    /// Kelvin.
    pub const KELVIN: Self =
        Self::new("K", &[Kind::Temperature], Dimension::TEMPERATURE, exact(1, 1), &["K"]);
    /// Degree Celsius.
    pub const DEGREE_CELSIUS: Self =
        Self::new("°C", &[Kind::Temperature], Dimension::TEMPERATURE, exact(1, 1), &["degC", "°C"])
            .zero_at(273.15);
    /// Degree Fahrenheit.
    pub const DEGREE_FAHRENHEIT: Self =
        Self::new("°F", &[Kind::Temperature], Dimension::TEMPERATURE, exact(5, 9), &["degF", "°F"])
            .zero_at(459.67 * 5.0 / 9.0);

    /// Every unit there is, those of one kind together, in the order in which they are offered.
    pub const ALL: &'static [Self] = &[
        Self::MILLIMETRE,
        Self::CENTIMETRE,
        Self::METRE,
        Self::KILOMETRE,
        Self::INCH,
        Self::FOOT,
        Self::YARD,
        Self::SQUARE_MILLIMETRE,
        Self::SQUARE_CENTIMETRE,
        Self::SQUARE_METRE,
        Self::SQUARE_INCH,
        Self::SQUARE_FOOT,
        Self::KILOGRAM,
        Self::TONNE,
        Self::POUND,
        Self::NEWTON,
        Self::KILONEWTON,
        Self::MEGANEWTON,
        Self::POUND_FORCE,
        Self::KIP,
        Self::NEWTON_METRE,
        Self::KILONEWTON_METRE,
        Self::POUND_FORCE_FOOT,
        Self::KIP_FOOT,
        Self::TONNE_FORCE_METRE,
        Self::PASCAL,
        Self::KILOPASCAL,
        Self::NEWTON_PER_SQUARE_MILLIMETRE,
        Self::GIGAPASCAL,
        Self::TONNE_FORCE_PER_SQUARE_METRE,
        Self::POUND_PER_SQUARE_FOOT,
        Self::KIP_PER_SQUARE_FOOT,
        Self::POUND_PER_SQUARE_INCH,
        Self::KIP_PER_SQUARE_INCH,
        Self::SECOND,
        Self::MINUTE,
        Self::HOUR,
        Self::DAY,
        Self::METRE_PER_SECOND,
        Self::KILOMETRE_PER_HOUR,
        Self::MILE_PER_HOUR,
        Self::KNOT,
        Self::METRE_PER_SECOND_SQUARED,
        Self::STANDARD_GRAVITY,
        Self::RADIAN,
        Self::MILLIRADIAN,
        Self::DEGREE,
        Self::MILLIMETRE_PER_METRE,
        Self::INCH_PER_FOOT,
        Self::PERCENT,
        Self::ONE,
        Self::NEWTON_PER_METRE,
        Self::KILONEWTON_PER_METRE,
        Self::KILONEWTON_PER_MILLIMETRE,
        Self::POUND_FORCE_PER_INCH,
        Self::KIP_PER_INCH,
        Self::KILOPASCAL_PER_MILLIMETRE,
        Self::KILOPASCAL_PER_METRE,
        Self::POUND_PER_CUBIC_INCH,
        Self::KILOGRAM_PER_CUBIC_METRE,
        Self::TONNE_PER_CUBIC_METRE,
        Self::POUND_PER_CUBIC_FOOT,
        Self::MILLIMETRE_TO_THE_FOURTH,
        Self::CENTIMETRE_TO_THE_FOURTH,
        Self::METRE_TO_THE_FOURTH,
        Self::INCH_TO_THE_FOURTH,
        Self::RADIAN_PER_SECOND,
        Self::TURN_PER_MINUTE,
        Self::KILOGRAM_SQUARE_METRE,
        Self::POUND_SQUARE_FOOT,
        Self::WATT,
        Self::KILOWATT,
        Self::MILLIAMPERE,
        Self::AMPERE,
        Self::VOLT,
        Self::KILOVOLT,
        Self::KELVIN,
        Self::DEGREE_CELSIUS,
        Self::DEGREE_FAHRENHEIT,
    ];

    /// So many of this unit, in coherent SI units.
    ///
    /// Rounded twice at most: once where `value * times` is no double, once by the division.
    pub fn to_si(&self, value: f64) -> f64 {
        value * self.times / self.over + self.zero
    }
    /// So many coherent SI units, in this unit.
    pub fn of_si(&self, si: f64) -> f64 {
        (si - self.zero) * self.over / self.times
    }
    /// A difference of so many of this unit: without the zero of a temperature scale.
    pub fn difference_to_si(&self, value: f64) -> f64 {
        value * self.times / self.over
    }
    /// Whether its zero is the zero of the quantity, so that a share of a value means something.
    pub fn starts_at_zero(&self) -> bool {
        self.zero == 0.0
    }
    /// The factor as a fraction of whole numbers; `None` for units that hold pi.
    pub(crate) fn fraction(&self) -> Option<(u128, u128)> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "tested to be whole")]
        (self.times.fract() == 0.0).then_some((self.times as u128, self.over as u128))
    }
    /// Whether this is how the unit may be typed. `name` has superscripts as digits and single spaces.
    pub fn is_named(&self, name: &str) -> bool {
        self.names.contains(&name)
    }
}
