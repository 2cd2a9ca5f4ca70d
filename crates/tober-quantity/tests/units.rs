//! The table of units against published factors, and the functions that are named for the units.
//!
//! Seven-digit factors are those of NIST Special Publication 811 (2008 edition), Appendix B.8, "Factors
//! for units listed alphabetically", from memory: the document itself was not read for this test. Only the factors
//! of psf, psi, in⁴ and lb ft² were compared with public reprints; they agreed. A row marked "exact" gives all the
//! digits there are.

use proptest::prelude::*;
use tober_quantity::{Dimension, Kind, Quantity, Shown, TenthMm, Unit, UnitSet, UnknownSet, WordSet};

/// How near the factor must come: seven printed digits are right to half of the last of them.
const SEVEN_DIGITS: f64 = 5e-7;
/// For an exact factor: a double is right to half an epsilon, and the division adds half.
const EXACT: f64 = f64::EPSILON;

const POUND_1959: &str = "international yard and pound agreement, 1959, exact";
const SP811: &str = "NIST SP 811 (2008), Appendix B.8";
const SP811_EXACT: &str = "NIST SP 811 (2008), Appendix B.8, exact";
const PREFIX: &str = "SI Brochure (2019), table 7, SI prefixes, exact";
const COHERENT: &str = "SI Brochure (2019), tables 2 and 4, coherent unit, exact";
const NON_SI: &str = "SI Brochure (2019), table 8, non-SI units accepted, exact";

/// Symbol, factor, source. Rows whose source is not a printed factor say how they follow from one.
const TRUTH: &[(&str, f64, &str)] = &[
    ("mm", 0.001, PREFIX),
    ("cm", 0.01, PREFIX),
    ("m", 1.0, COHERENT),
    ("km", 1000.0, PREFIX),
    ("in", 0.0254, POUND_1959),
    ("ft", 0.3048, POUND_1959),
    ("yd", 0.9144, POUND_1959),
    ("mm²", 1e-6, PREFIX),
    ("cm²", 1e-4, PREFIX),
    ("m²", 1.0, COHERENT),
    ("in²", 6.4516e-4, SP811_EXACT),
    ("ft²", 9.290_304e-2, SP811_EXACT),
    ("kg", 1.0, COHERENT),
    ("t", 1000.0, NON_SI),
    ("lb", 0.453_592_37, POUND_1959),
    ("N", 1.0, COHERENT),
    ("kN", 1e3, PREFIX),
    ("MN", 1e6, PREFIX),
    ("lbf", 4.448_222, SP811),
    ("kip", 4.448_222e3, SP811),
    ("N m", 1.0, COHERENT),
    ("kN m", 1e3, PREFIX),
    ("lbf ft", 1.355_818, SP811),
    ("kip ft", 1.355_818e3, "a thousand pound-force feet of NIST SP 811 (2008), Appendix B.8"),
    ("t m", 9.806_65e3, "a thousand kilogram-force metres, NIST SP 811 (2008), B.8, exact"),
    ("Pa", 1.0, COHERENT),
    ("kPa", 1e3, PREFIX),
    ("N/mm²", 1e6, PREFIX),
    ("GPa", 1e9, PREFIX),
    ("t/m²", 9.806_65e3, "a thousand kilogram-force a square metre, NIST SP 811 (2008), B.8, exact"),
    ("psf", 4.788_026e1, SP811),
    ("ksf", 4.788_026e4, "a thousand pounds-force a square foot of NIST SP 811 (2008), Appendix B.8"),
    ("psi", 6.894_757e3, SP811),
    ("ksi", 6.894_757e6, SP811),
    ("s", 1.0, COHERENT),
    ("min", 60.0, NON_SI),
    ("h", 3600.0, NON_SI),
    ("d", 86_400.0, NON_SI),
    ("m/s", 1.0, COHERENT),
    ("km/h", 2.777_778e-1, SP811),
    ("mph", 0.447_04, SP811_EXACT),
    ("kt", 5.144_444e-1, SP811),
    ("m/s²", 1.0, COHERENT),
    ("g", 9.806_65, "3rd General Conference on Weights and Measures, 1901, exact"),
    ("rad", 1.0, COHERENT),
    ("mrad", 1e-3, PREFIX),
    ("°", 1.745_329e-2, SP811),
    ("mm/m", 1e-3, PREFIX),
    ("in/ft", 8.333_333e-2, "an inch is a twelfth of a foot; seven digits of 1/12"),
    ("%", 0.01, "SI Brochure (2019), section 5.4.7, per cent, exact"),
    ("", 1.0, "SI Brochure (2019), section 5.4.7, the number one, exact"),
    ("N/m", 1.0, COHERENT),
    ("kN/m", 1e3, PREFIX),
    ("kN/mm", 1e6, PREFIX),
    ("lbf/in", 1.751_268e2, SP811),
    ("kip/in", 1.751_268e5, "a thousand pounds-force an inch of NIST SP 811 (2008), Appendix B.8"),
    ("kPa/mm", 1e6, PREFIX),
    ("kPa/m", 1e3, PREFIX),
    ("lb/in³", 2.714_471e5, "psi an inch: 6894.757 / 0.0254, NIST SP 811 (2008), Appendix B.8"),
    ("kg/m³", 1.0, COHERENT),
    ("t/m³", 1e3, NON_SI),
    ("lb/ft³", 1.601_846e1, SP811),
    ("mm⁴", 1e-12, PREFIX),
    ("cm⁴", 1e-8, PREFIX),
    ("m⁴", 1.0, COHERENT),
    ("in⁴", 4.162_314e-7, SP811),
    ("rad/s", 1.0, COHERENT),
    ("rpm", 1.047_198e-1, SP811),
    ("kg m²", 1.0, COHERENT),
    ("lb ft²", 4.214_011e-2, SP811),
    ("W", 1.0, COHERENT),
    ("kW", 1e3, PREFIX),
    ("mA", 1e-3, PREFIX),
    ("A", 1.0, COHERENT),
    ("V", 1.0, COHERENT),
    ("kV", 1e3, PREFIX),
    ("K", 1.0, COHERENT),
    ("°C", 1.0, NON_SI),
    ("°F", 5.555_556e-1, SP811),
];

#[test]
#[expect(clippy::print_stdout, reason = "a test against published numbers says how near it came")]
fn truth_every_unit_of_the_table_against_its_published_factor() {
    let mut worst = 0.0_f64;
    for unit in Unit::ALL {
        let rows: Vec<_> = TRUTH.iter().filter(|(symbol, ..)| *symbol == unit.symbol).collect();
        let [(symbol, factor, source)] = rows[..] else {
            panic!("\"{}\" needs one row of its own among the published factors", unit.symbol);
        };
        let allowed = if is_exact(source) { EXACT } else { SEVEN_DIGITS };
        // Through the door that everything uses, and with a number that is not one.
        let found = unit.difference_to_si(3.0) / 3.0;
        let off = (found / factor - 1.0).abs();
        assert!(off <= allowed, "{symbol}: {found}, published {factor} ({source})");
        assert!((unit.factor / factor - 1.0).abs() <= allowed, "{symbol}: {}", unit.factor);
        worst = worst.max(off);
    }
    assert_eq!(TRUTH.len(), Unit::ALL.len(), "no row stands for a unit that is gone");
    println!("worst difference from a published factor: {worst:e}");
}

fn is_exact(source: &str) -> bool {
    source.ends_with("exact")
}

/// Fixed points of the temperature scales: SI Brochure (2019), section 2.3.1 (t/°C = T/K − 273.15), and
/// NIST SP 811 (2008), Appendix B.8 (T/K = (t/°F + 459.67) / 1.8); both from memory.
#[test]
fn truth_temperature_scales() {
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-10, "{a} is not {b}");
    near(Unit::DEGREE_CELSIUS.to_si(0.0), 273.15);
    near(Unit::DEGREE_FAHRENHEIT.to_si(32.0), 273.15);
    near(Unit::DEGREE_FAHRENHEIT.to_si(212.0), 373.15);
    near(Unit::DEGREE_FAHRENHEIT.to_si(-459.67), 0.0);
    near(Unit::DEGREE_FAHRENHEIT.of_si(Unit::DEGREE_CELSIUS.to_si(-40.0)), -40.0);
    near(Unit::DEGREE_FAHRENHEIT.difference_to_si(9.0), 5.0);
    assert!(!Unit::DEGREE_CELSIUS.starts_at_zero() && Unit::KELVIN.starts_at_zero());
}

/// No name means two units of one kind, a printed symbol can be typed, and a unit measures its kind.
#[test]
fn law_the_table_is_of_a_piece() {
    for kind in Kind::ALL {
        let mut names: Vec<&str> = kind.units().flat_map(|unit| unit.names.iter().copied()).collect();
        assert!(!names.is_empty(), "{kind} has a unit");
        let count = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count, "{kind} has a name for two of its units");
        let dimension = kind.units().next().map(|unit| unit.dimension);
        assert!(kind.units().all(|unit| Some(unit.dimension) == dimension), "{kind} has one dimension");
        let (greatest, unit) = kind.greatest();
        assert!(greatest > 0.0 && unit.kinds.contains(&kind), "the range of {kind} is in one of its units");
    }
    for unit in Unit::ALL {
        assert!(unit.factor.is_finite() && unit.factor > 0.0, "{}", unit.symbol);
    }
}

/// The dimensions follow from one another.
#[test]
fn law_dimensions_multiply() {
    assert_eq!(Dimension::FORCE / Dimension::AREA, Dimension::PRESSURE);
    assert_eq!(Dimension::FORCE * Dimension::LENGTH, Dimension::MOMENT);
    assert_eq!(Dimension::FORCE / Dimension::LENGTH, Dimension::STIFFNESS);
    assert_eq!(Dimension::PRESSURE / Dimension::LENGTH, Dimension::SUBGRADE);
    assert_eq!(Dimension::MASS * Dimension::ACCELERATION, Dimension::FORCE);
    assert_eq!(Dimension::MASS / Dimension::LENGTH.power(3), Dimension::DENSITY);
    assert_eq!(Dimension::AREA.power(2), Dimension::SECOND_MOMENT);
    assert_eq!(Dimension::MASS * Dimension::AREA, Dimension::INERTIA);
    assert_eq!(Dimension::FORCE * Dimension::SPEED, Dimension::POWER);
    assert_eq!(Dimension::VOLTAGE * Dimension::CURRENT, Dimension::POWER);
    assert_eq!(Dimension::AREA.root(), Some(Dimension::LENGTH));
    assert_eq!(Dimension::PRESSURE.root(), None);
}

/// Every named pair of functions: what goes in comes out, and one of the unit is its published factor.
macro_rules! pairs {
    ($value:ident; $($quantity:ident { $($make:ident $read:ident $symbol:literal),* })*) => {
        $($({
            let quantity = tober_quantity::$quantity::$make($value);
            let back = quantity.$read();
            // A temperature loses what its zero adds: 273.15 K and 459.67 °F over.
            let zero = if $symbol.ends_with(['C', 'F']) { 1000.0 } else { 0.0 };
            prop_assert!((back - $value).abs() <= 4.0 * f64::EPSILON * ($value.abs() + zero),
                "{} {}: {back} came back for {}", stringify!($quantity), $symbol, $value);
            let factor = TRUTH.iter().find(|(symbol, ..)| *symbol == $symbol).map(|(_, factor, _)| *factor);
            let made = tober_quantity::$quantity::$make($value).si() - tober_quantity::$quantity::$make(0.0).si();
            prop_assert!(factor.is_some_and(|factor|
                (made - $value * factor).abs() <= 1e-6 * ($value * factor).abs() + 1e-12 * zero),
                "{} {}: {made}", stringify!($quantity), $symbol);
        })*)*
    };
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn truth_what_is_made_of_a_unit_is_read_in_it(value in -1e6_f64..1e6) {
        pairs! { value;
            Length { mm as_mm "mm", m as_m "m", inches as_in "in", feet as_ft "ft" }
            Area { m2 as_m2 "m²", ft2 as_ft2 "ft²" }
            Mass { kg as_kg "kg", t as_t "t", lb as_lb "lb" }
            Force { n as_n "N", kn as_kn "kN", lbf as_lbf "lbf", kip as_kip "kip" }
            Moment { nm as_nm "N m", knm as_knm "kN m" }
            Pressure { pa as_pa "Pa", kpa as_kpa "kPa", mpa as_mpa "N/mm²", psf as_psf "psf", psi as_psi "psi" }
            Time { s as_s "s", min_ as_min "min", h as_h "h" }
            Speed { m_s as_m_s "m/s", mph as_mph "mph", km_h as_km_h "km/h", knots as_knots "kt" }
            Acceleration { m_s2 as_m_s2 "m/s²", g as_g "g" }
            Angle { rad as_rad "rad", deg as_deg "°" }
            Slope { ratio as_ratio "", mm_per_m as_mm_per_m "mm/m", percent as_percent "%" }
            Ratio { one as_one "", percent as_percent "%" }
            Stiffness { n_per_m as_n_per_m "N/m", mn_per_m as_mn_per_m "kN/mm" }
            Subgrade { kpa_per_mm as_kpa_per_mm "kPa/mm", pci as_pci "lb/in³" }
            Density { kg_m3 as_kg_m3 "kg/m³", lb_ft3 as_lb_ft3 "lb/ft³" }
            SecondMoment { m4 as_m4 "m⁴", cm4 as_cm4 "cm⁴", in4 as_in4 "in⁴" }
            FrequencyOfTurning { rad_per_s as_rad_per_s "rad/s", rpm as_rpm "rpm" }
            Inertia { kg_m2 as_kg_m2 "kg m²" }
            Power { w as_w "W", kw as_kw "kW" }
            Current { a as_a "A" }
            Voltage { v as_v "V" }
            Temperature { k as_k "K", deg_c as_deg_c "°C", deg_f as_deg_f "°F" }
        }
    }

    #[test]
    fn law_a_tenth_of_a_millimetre_is_exact(tenths in -TenthMm::GREATEST..=TenthMm::GREATEST) {
        prop_assert_eq!(TenthMm::nearest(TenthMm(tenths).length()), Some(TenthMm(tenths)));
    }
}

#[test]
fn refuse_tenths_out_of_range() {
    for metres in [100.0001, -100.0001, f64::NAN, f64::INFINITY, 1e300] {
        assert_eq!(TenthMm::nearest(tober_quantity::Length::m(metres)), None, "{metres}");
    }
}

/// Whatever the set of units, a kind of amount keeps what it measures.
#[test]
fn law_a_unit_of_another_set_measures_the_same() {
    for shown in
        [Shown::Fine, Shown::Load, Shown::Pressure, Shown::Speed, Shown::Subgrade, Shown::Temperature]
    {
        for set in UnitSet::ALL {
            assert_eq!(shown.unit(set).dimension, shown.dimension(), "{shown:?} in {set}");
        }
    }
}

#[test]
fn hand_sets_by_name() {
    for set in UnitSet::ALL {
        assert_eq!(set.to_string().parse(), Ok(set));
    }
    for set in WordSet::ALL {
        assert_eq!(set.to_string().parse(), Ok(set));
    }
}

#[test]
fn refuse_sets_that_are_none() {
    let units: Result<UnitSet, UnknownSet> = "imperial".parse();
    let sentence = "\"imperial\" is no set of units; write \"metric\", \"gb\" or \"us\".";
    assert_eq!(units.unwrap_err().to_string(), sentence);
    let words: Result<WordSet, UnknownSet> = "GB".parse();
    assert_eq!(words.unwrap_err().to_string(), "\"GB\" is no set of words; write \"gb\" or \"us\".");
    let long: Result<UnitSet, UnknownSet> = "x".repeat(1000).parse();
    assert_eq!(long.unwrap_err().name.len(), 40);
}
