//! Quantities from text: what is read, to which value, and what is refused, for which bytes.

use proptest::prelude::*;
use tober_quantity::{
    Acceleration, Angle, Current, Density, Force, FrequencyOfTurning, Inertia, Kind, Length, Mass, Moment,
    Pressure, Quantity, QuantityError, Ratio, Refusal, SecondMoment, Slope, Speed, Stiffness, Subgrade,
    Temperature, Time, Unit, Voltage,
};

/// The value must be the very double that stands there.
fn check<Q: Quantity>(text: &str, si: f64) {
    match Q::parse(text) {
        Ok(value) => assert!(value.si().to_bits() == si.to_bits(), "{text}: {} is not {si}", value.si()),
        Err(error) => panic!("{text}: {error}"),
    }
}

/// Within three roundings, for units that hold pi or have a zero of their own.
fn check_near<Q: Quantity>(text: &str, si: f64) {
    let value = Q::parse(text).map_or_else(|error| panic!("{text}: {error}"), Quantity::si);
    assert!((value - si).abs() <= 3.0 * f64::EPSILON * si.abs(), "{text}: {value} is not {si}");
}

fn check_toleranced<Q: Quantity>(text: &str, si: f64, off_by: f64) {
    let read = Q::parse_toleranced(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert!(read.value.si().to_bits() == si.to_bits(), "{text}: {} is not {si}", read.value.si());
    assert!(read.off_by.si().to_bits() == off_by.to_bits(), "{text}: {} is not {off_by}", read.off_by.si());
}

#[test]
fn hand_lengths() {
    check::<Length>("1.82 m", 1.82);
    check::<Length>("0.1 mm", 1e-4);
    check::<Length>("12.5 mm", 0.0125);
    check::<Length>("-12 mm", -0.012);
    check::<Length>("\u{2212}12 mm", -0.012);
    check::<Length>("+12 mm", 0.012);
    check::<Length>("12\u{a0}mm", 0.012);
    check::<Length>("12\u{202f}mm", 0.012);
    check::<Length>("12mm", 0.012);
    check::<Length>("  12 mm  ", 0.012);
    check::<Length>("12\u{202f}500\u{202f}mm", 12.5);
    check::<Length>("1,500.25 mm", 1.500_25);
    check::<Length>(".5 in", 0.0127);
    // 71.5 in × 25.4 mm = 1816.1 mm
    check::<Length>("5 ft 11 1/2 in", 1.8161);
    check::<Length>("5 ft 11.5 in", 1.8161);
    check::<Length>("5ft 11in", 1.8034);
    check::<Length>("5ft11in", 1.8034);
    check::<Length>("5ft3in", 1.6002);
    // 27.5 in = 698.5 mm
    check::<Length>("2' 3 1/2\"", 0.6985);
    check::<Length>("2'-3 1/2\"", 0.6985);
    check::<Length>("2'3\"", 0.6858);
    check::<Length>("2′ 3″", 0.6858);
    check::<Length>("1 1/2 in", 0.0381);
    check::<Length>("1-1/2 in", 0.0381);
    check::<Length>("3/4 in", 0.01905);
    check::<Length>("3/2 in", 0.0381);
    check::<Length>("-5 ft 6 in", -1.6764);
    check::<Length>("0.0000000000000000000000001 mm", 1e-28);
}

#[test]
fn hand_other_kinds() {
    check::<Mass>("3.4 t", 3400.0);
    check::<Mass>("640 kg", 640.0);
    check::<Mass>("100 lb", 45.359_237);
    check::<Force>("12 kN", 12_000.0);
    check::<Force>("1 kip", 4_448.221_615_260_5);
    check::<Moment>("12 kN m", 12_000.0);
    check::<Moment>("12 kN·m", 12_000.0);
    check::<Moment>("12 kNm", 12_000.0);
    check::<Pressure>("150 kPa", 150_000.0);
    check::<Pressure>("150 kN/m2", 150_000.0);
    check::<Pressure>("150 kN/m²", 150_000.0);
    check::<Pressure>("150 kN/m^2", 150_000.0);
    check::<Pressure>("2.1e11 Pa", 2.1e11);
    check::<Pressure>("210 GPa", 2.1e11);
    check::<Pressure>("8 N/mm2", 8e6);
    check::<Pressure>("8 MPa", 8e6);
    check::<Slope>("3 mm/m", 0.003);
    check::<Slope>("5 %", 0.05);
    check::<Ratio>("85 %", 0.85);
    check::<Ratio>("0.85", 0.85);
    check::<Speed>("20 mph", 8.9408);
    check::<Speed>("36 km/h", 10.0);
    check::<Speed>("7.5 m/s", 7.5);
    check::<Speed>("18 kt", 9.26);
    check::<Speed>("18 knots", 9.26);
    check::<Time>("15 min", 900.0);
    check::<Time>("1 h 30 min", 5400.0);
    check::<Time>("2 min 5 s", 125.0);
    check::<Time>("1 d 2 h 3 min 4 s", 93_784.0);
    check::<Current>("30 mA", 0.03);
    check::<Voltage>("11 kV", 11_000.0);
    check::<SecondMoment>("1,943 cm4", 1943e-8);
    check::<SecondMoment>("1943 cm⁴", 1943e-8);
    check::<Stiffness>("20 MN/m", 2e7);
    check::<Stiffness>("20 kN/mm", 2e7);
    check::<Subgrade>("30 kPa/mm", 3e7);
    check::<Density>("450 kg/m3", 450.0);
    check::<Inertia>("5200 kg m2", 5200.0);
    check::<Acceleration>("1.5 g", 14.709_975);
    check_near::<Angle>("180 deg", core::f64::consts::PI);
    check_near::<Angle>("90°", core::f64::consts::FRAC_PI_2);
    check_near::<FrequencyOfTurning>("30 rpm", core::f64::consts::PI);
    check_near::<Temperature>("20 degC", 293.15);
    check_near::<Temperature>("-5 °C", 268.15);
    check_near::<Temperature>("212 degF", 373.15);
}

#[test]
fn hand_tolerances() {
    // 5 % of 3.4 t is 170 kg.
    check_toleranced::<Mass>("3.4 t ± 5 %", 3400.0, 170.0);
    check_toleranced::<Mass>("3.4 t +/- 5 %", 3400.0, 170.0);
    check_toleranced::<Mass>("3.4 t ±5%", 3400.0, 170.0);
    check_toleranced::<Mass>("3.4 t", 3400.0, 0.0);
    check_toleranced::<Mass>("3.4 t ± 1/2 %", 3400.0, 17.0);
    check_toleranced::<Length>("1.82 m ± 3 mm", 1.82, 0.003);
    check_toleranced::<Length>("645 ± 3 mm", 0.645, 0.003);
    check_toleranced::<Length>("0 mm ± 3 mm", 0.0, 0.003);
    check_toleranced::<Length>("-12 mm ± 10 %", -0.012, 0.0012);
    check_toleranced::<Ratio>("0.85 ± 0.05", 0.85, 0.05);
    check_toleranced::<Temperature>("300 K ± 9 degF", 300.0, 5.0);
}

#[test]
fn hand_a_load_is_a_force_or_the_weight_of_a_mass() {
    let kilonewtons = Force::parse_load("45 kN").unwrap();
    assert!((kilonewtons.value.as_kn() - 45.0).abs() < 1e-12);
    // 4.6 t × 9.80665 m/s² = 45.110 59 kN, and a tenth of it.
    let tonnes = Force::parse_load("4.6 t ± 10 %").unwrap();
    assert!((tonnes.value.as_kn() - 45.110_59).abs() < 1e-9);
    assert!((tonnes.off_by.as_kn() - 4.511_059).abs() < 1e-9);
    assert!(matches!(
        Force::parse_load("4.6 m").unwrap_err().kind,
        Refusal::WrongKind { is: Kind::Length, wanted: Kind::Force, .. }
    ));
}

/// Refused for these bytes; the sentence and the hint are whole, and the reason is the one given.
fn refuse<Q: Quantity>(text: &str, at_fault: &str, reason: fn(&Refusal) -> bool) {
    let error = Q::parse_toleranced(text).err().unwrap_or_else(|| panic!("{text} was read"));
    refused_for(text, &error, at_fault, reason);
}

fn refused_for(text: &str, error: &QuantityError, at_fault: &str, reason: fn(&Refusal) -> bool) {
    assert_eq!(text.get(error.span.clone()), Some(at_fault), "{text}: {error:?}");
    assert!(reason(&error.kind), "{text}: {error:?}");
    for sentence in [error.to_string(), error.hint()] {
        assert!(sentence.ends_with('.'), "{text}: {sentence}");
    }
}

#[test]
fn refuse_what_is_missing() {
    refuse::<Length>("", "", |r| matches!(r, Refusal::Empty { wanted: Kind::Length }));
    refuse::<Length>("  ", "  ", |r| matches!(r, Refusal::Empty { .. }));
    refuse::<Length>("-", "", |r| matches!(r, Refusal::Empty { .. }));
    refuse::<Length>("38", "38", |r| matches!(r, Refusal::NoUnit { .. }));
    refuse::<Length>("5 ft 11", "11", |r| matches!(r, Refusal::NoUnit { .. }));
    refuse::<Mass>("3.4 t ± 5", "5", |r| matches!(r, Refusal::NoUnit { .. }));
    refuse::<Mass>("3.4 t ±", "", |r| matches!(r, Refusal::Empty { .. }));
    refuse::<Mass>("3.4 ± 5 %", "3.4", |r| matches!(r, Refusal::NoUnit { .. }));
    refuse::<Length>("about 5 mm", "about 5 mm", |r| matches!(r, Refusal::NoNumber { .. }));
    refuse::<Length>("mm", "mm", |r| matches!(r, Refusal::NoNumber { .. }));
    let sentence = Length::parse("38").unwrap_err().to_string();
    assert_eq!(sentence, "\"38\" has no unit; a length is written in mm, cm, m, km, in, ft or yd.");
}

#[test]
fn refuse_units() {
    refuse::<Length>("38 nm", "nm", |r| matches!(r, Refusal::UnknownUnit { nearest: Some("mm"), .. }));
    refuse::<Length>("38 MM", "MM", |r| matches!(r, Refusal::UnknownUnit { nearest: Some("mm"), .. }));
    refuse::<Force>("12 kn", "kn", |r| matches!(r, Refusal::UnknownUnit { nearest: Some("kN"), .. }));
    refuse::<Length>("5 furlong", "furlong", |r| matches!(r, Refusal::UnknownUnit { nearest: None, .. }));
    refuse::<Length>("5 feets", "feets", |r| matches!(r, Refusal::UnknownUnit { nearest: Some("feet"), .. }));
    refuse::<Mass>("4 tons", "tons", |r| matches!(r, Refusal::SeveralMeanings { .. }));
    refuse::<Ratio>("4 ^", "^", |r| matches!(r, Refusal::UnknownUnit { .. }));
    refuse::<Length>("4 kg", "kg", |r| {
        matches!(r, Refusal::WrongKind { is: Kind::Mass, wanted: Kind::Length, .. })
    });
    refuse::<Length>("1.82 m ± 3 kg", "kg", |r| matches!(r, Refusal::WrongKind { .. }));
    refuse::<Slope>("2 deg", "deg", |r| matches!(r, Refusal::WrongKind { is: Kind::Angle, .. }));
    refuse::<Mass>("5' 3\"", "'", |r| matches!(r, Refusal::WrongKind { is: Kind::Length, .. }));
    assert_eq!(Length::parse("4 kg").unwrap_err().to_string(), "kg is a mass; a length is wanted.");
}

#[test]
fn refuse_numbers() {
    refuse::<Length>(
        "12,5 mm",
        "12,5",
        |r| matches!(r, Refusal::DecimalComma { instead, .. } if instead == "12.5"),
    );
    refuse::<Length>(
        "0,500 m",
        "0,500",
        |r| matches!(r, Refusal::DecimalComma { instead, .. } if instead == "0.500"),
    );
    refuse::<Length>(
        ",5 m",
        ",5",
        |r| matches!(r, Refusal::DecimalComma { instead, .. } if instead == "0.5"),
    );
    refuse::<Length>("1,5000 mm", "1,5000", |r| matches!(r, Refusal::DecimalComma { .. }));
    refuse::<Length>(
        "1,50,000 mm",
        "1,50,000",
        |r| matches!(r, Refusal::Grouping { instead, .. } if instead == "150000"),
    );
    refuse::<Length>("1.234,5 mm", "1.234,5", |r| matches!(r, Refusal::Grouping { .. }));
    refuse::<Length>("1,23.5 mm", "1,23.5", |r| matches!(r, Refusal::Grouping { .. }));
    refuse::<Length>(
        "12 500 mm",
        "12 500",
        |r| matches!(r, Refusal::Grouping { instead, .. } if instead == "12500"),
    );
    refuse::<Length>("12 50 mm", "12 50", |r| matches!(r, Refusal::Malformed { .. }));
    refuse::<Length>("1.2.3 mm", "1.2.3", |r| matches!(r, Refusal::Malformed { .. }));
    refuse::<Length>("5. mm", "5.", |r| matches!(r, Refusal::Malformed { .. }));
    refuse::<Length>("1/2/3 in", "1/2/", |r| matches!(r, Refusal::Malformed { .. }));
    refuse::<Length>("1/00002 in", "1/00002", |r| matches!(r, Refusal::Malformed { .. }));
    refuse::<Length>("1.5 1/2 in", "1.5 1", |r| matches!(r, Refusal::Malformed { .. }));
    refuse::<Length>("inf mm", "inf", |r| matches!(r, Refusal::NotFinite { .. }));
    refuse::<Length>("-Infinity mm", "Infinity", |r| matches!(r, Refusal::NotFinite { .. }));
    refuse::<Length>("NaN mm", "NaN", |r| matches!(r, Refusal::NotFinite { .. }));
    refuse::<Length>("∞ mm", "∞", |r| matches!(r, Refusal::NotFinite { .. }));
    refuse::<Length>("1e400 mm", "1e400 mm", |r| matches!(r, Refusal::TooLarge { .. }));
    refuse::<Length>("1e99999999999 mm", "1e99999999999 mm", |r| matches!(r, Refusal::TooLarge { .. }));
    refuse::<Length>("-10.001 km", "-10.001 km", |r| matches!(r, Refusal::TooLarge { .. }));
    refuse::<Length>("5 m ± 11 km", "11 km", |r| matches!(r, Refusal::TooLarge { .. }));
    refuse::<Temperature>("-274 degC", "-274 degC", |r| matches!(r, Refusal::BelowAbsoluteZero { .. }));
    refuse::<Length>("3/0 in", "3/0", |r| matches!(r, Refusal::ZeroDenominator { .. }));
    refuse::<Length>("1 1/0 in", "1/0", |r| matches!(r, Refusal::ZeroDenominator { .. }));
    refuse::<Length>("1 2/2 in", "2/2", |r| matches!(r, Refusal::ImproperFraction { .. }));
    let long = format!("{} mm", "9".repeat(200));
    refuse::<Length>(&long, &long, |r| matches!(r, Refusal::TooLong { bytes: 203, .. }));
}

#[test]
fn refuse_parts() {
    refuse::<Length>("3 in 2 ft", "3 in 2 ft", |r| {
        matches!(r, Refusal::WrongParts { first: "in", second: "ft" })
    });
    refuse::<Length>("1 m 20 mm", "1 m 20 mm", |r| matches!(r, Refusal::WrongParts { .. }));
    refuse::<Length>("5 ft 12 in", "12", |r| matches!(r, Refusal::PartTooLarge { makes: 12, .. }));
    refuse::<Time>("1 h 60 min", "60", |r| matches!(r, Refusal::PartTooLarge { makes: 60, .. }));
    refuse::<Length>("5.5 ft 3 in", "5.5", |r| matches!(r, Refusal::PartNotWhole { .. }));
    refuse::<Length>("5 1/2 ft 3 in", "5 1/2", |r| matches!(r, Refusal::PartNotWhole { .. }));
}

#[test]
fn refuse_what_stands_behind() {
    refuse::<Length>("12 mm long", "long", |r| matches!(r, Refusal::Trailing { .. }));
    refuse::<Length>("5 ft x 3 ft", "x 3 ft", |r| matches!(r, Refusal::Trailing { .. }));
    refuse::<Length>("12 mm;", ";", |r| matches!(r, Refusal::Trailing { .. }));
    refuse::<Length>("12 mm ± 1 mm ± 2 mm", "± 2 mm", |r| matches!(r, Refusal::Trailing { .. }));
    refuse::<Length>("12 mm -3", "-3", |r| matches!(r, Refusal::Trailing { .. }));
}

#[test]
fn refuse_tolerances() {
    refuse::<Length>("12 mm ± -3 mm", "-3", |r| matches!(r, Refusal::NegativeTolerance { .. }));
    refuse::<Length>("0 mm ± 3 %", "± 3 %", |r| matches!(r, Refusal::PercentOfNothing));
    refuse::<Ratio>("85 % ± 5 %", "5 %", |r| matches!(r, Refusal::PercentHasTwoMeanings { .. }));
    refuse::<Slope>("3 mm/m ± 5 %", "5 %", |r| matches!(r, Refusal::PercentHasTwoMeanings { .. }));
    refuse::<Temperature>("20 degC ± 5 %", "5 %", |r| matches!(r, Refusal::PercentOfTemperature));
    let text = "12 mm ± 3 mm ";
    let error = Length::parse(text).unwrap_err();
    refused_for(text, &error, "± 3 mm", |r| matches!(r, Refusal::ToleranceNotWanted));
}

/// Every name in the table is read as its own unit, for every kind it is offered for.
#[test]
fn law_every_name_is_read_as_its_unit() {
    let mut names = 0;
    for unit in Unit::ALL {
        for kind in unit.kinds {
            for name in unit.names.iter().chain([&unit.symbol]) {
                let read = by_kind(*kind, &format!("3 {name}")).unwrap_or_else(|e| panic!("3 {name}: {e}"));
                let want = unit.to_si(3.0);
                assert!(
                    (read - want).abs() <= 3.0 * f64::EPSILON * want.abs(),
                    "3 {name}: {read}, not {want}"
                );
                names += 1;
            }
        }
    }
    assert!(names > 2 * Unit::ALL.len(), "the table was walked");
}

fn by_kind(kind: Kind, text: &str) -> Result<f64, QuantityError> {
    macro_rules! read {
        ($($kind:ident $name:ident),*) => {
            match kind { $(Kind::$kind => tober_quantity::$name::parse_toleranced(text).map(|q| q.value.si()),)* }
        };
    }
    read!(
        Length Length, Area Area, Mass Mass, Force Force, Moment Moment, Pressure Pressure, Time Time,
        Speed Speed, Acceleration Acceleration, Angle Angle, Slope Slope, Ratio Ratio, Stiffness Stiffness,
        Subgrade Subgrade, Density Density, SecondMoment SecondMoment, Turning FrequencyOfTurning,
        Inertia Inertia, Power Power, Current Current, Voltage Voltage, Temperature Temperature
    )
}

/// Whatever is refused names bytes that are in the text and says a whole sentence.
fn sound(text: &str) {
    for kind in Kind::ALL {
        match by_kind(kind, text) {
            Ok(si) => assert!(si.is_finite(), "{text}: {si}"),
            Err(error) => {
                assert!(text.get(error.span.clone()).is_some(), "{text:?}: {error:?}");
                assert!(
                    error.to_string().ends_with('.') && error.hint().ends_with('.'),
                    "{text:?}: {error:?}"
                );
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn law_no_text_panics(text in any::<String>()) {
        sound(&text);
    }

    #[test]
    fn law_no_text_of_the_right_letters_panics(
        text in "[0-9.,/e+± '\"−\u{202f}\u{a0}-]{0,9}(ft|in|mm|kN m|t|°|%|m²| |)[0-9 ./,±%]{0,6}(in|mm|%|kg|)"
    ) {
        sound(&text);
    }

    #[test]
    fn law_a_written_length_is_read_back(tenths in -1_000_000_i64..=1_000_000) {
        let text = format!("{}.{} mm", tenths / 10, (tenths % 10).abs());
        let text = if tenths < 0 && tenths > -10 { format!("-{text}") } else { text };
        let read = Length::parse(&text).unwrap();
        prop_assert_eq!(read.si().to_bits(), (tenths as f64 / 10_000.0).to_bits());
    }

    #[test]
    fn law_a_unit_scales_what_is_read(value in 0.001_f64..999.0) {
        let metres = Length::parse(&format!("{value} m")).unwrap();
        let feet = Length::parse(&format!("{value} ft")).unwrap();
        prop_assert!((feet.si() / metres.si() - 0.3048).abs() < 1e-15);
    }
}
