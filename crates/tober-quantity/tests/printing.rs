//! Amounts as they stand on a sheet, in the three sets of units.

use proptest::prelude::*;
use tober_quantity::{
    Acceleration, Amount, Angle, Area, Band, Current, Density, Force, FrequencyOfTurning, Inertia, Length,
    Limit, Mass, Moment, Power, Pressure, Quantity, Ratio, Rounding, SecondMoment, Shown, Slope, Speed,
    Stiffness, Subgrade, Temperature, Time, UnitSet, Voltage, WordSet, in_units_of, in_words_of,
    print_off_by, print_range, print_target, significant,
};

const UP: Rounding = Rounding::Demand;
const DOWN: Rounding = Rounding::Capacity;
const NEAREST: Rounding = Rounding::Nearest;

/// `_` stands for the narrow no-break space and `-` for the true minus sign.
fn typeset(text: &str) -> String {
    text.replace('_', "\u{202f}").replace('-', "\u{2212}")
}

fn check(amount: impl Into<Amount>, rounding: Rounding, metric: &str, gb: &str, us: &str) {
    let amount = amount.into();
    for (set, want) in [(UnitSet::Metric, metric), (UnitSet::Gb, gb), (UnitSet::Us, us)] {
        assert_eq!(amount.print(set, rounding), typeset(want), "{amount:?} in {set}");
    }
}

fn shown(quantity: impl Into<Amount>, shown: Shown) -> Amount {
    quantity.into().shown(shown)
}

#[test]
fn hand_lengths() {
    // 641.35 mm = 25.25 in
    check(Length::mm(641.35), UP, "642_mm", "642_mm", "25_1/4_in");
    check(Length::mm(641.35), DOWN, "641_mm", "641_mm", "25_1/4_in");
    check(Length::mm(-12.0), UP, "-12_mm", "-12_mm", "-1/2_in");
    check(Length::mm(0.0), UP, "0_mm", "0_mm", "0_in");
    check(Length::mm(12_500.0), UP, "12_500_mm", "12_500_mm", "492_1/4_in");
    check(Length::mm(1500.0), UP, "1500_mm", "1500_mm", "59_1/4_in");
    // 1.8161 m = 5 ft 11.5 in
    check(shown(Length::m(1.8161), Shown::Coarse), UP, "1.82_m", "1.9_m", "5_ft_11_1/2_in");
    check(shown(Length::m(1.8288), Shown::Coarse), DOWN, "1.82_m", "1.8_m", "6_ft");
    check(shown(Length::m(0.2921), Shown::Coarse), NEAREST, "0.29_m", "0.3_m", "11_1/2_in");
    check(shown(Length::m(-1.8161), Shown::Coarse), DOWN, "-1.82_m", "-1.9_m", "-5_ft_11_1/2_in");
}

#[test]
fn hand_loads_and_speeds() {
    // 2.85 t = 6283.2 lb
    check(shown(Mass::kg(2850.0), Shown::Load), UP, "2.9_t", "2.9_t", "6300_lb");
    check(shown(Mass::kg(2850.0), Shown::Load), DOWN, "2.8_t", "2.8_t", "6200_lb");
    // 640.2 kg = 1411.4 lb
    check(Mass::kg(640.2), UP, "641_kg", "641_kg", "1412_lb");
    // 7.6 m/s = 17.0007 mph
    check(Speed::m_s(7.6), UP, "7.6_m/s", "18_mph", "18_mph");
    check(Speed::m_s(7.6), DOWN, "7.6_m/s", "17_mph", "17_mph");
    check(Speed::mph(20.0), UP, "9.0_m/s", "20_mph", "20_mph");
    check(Acceleration::g(1.234), UP, "1.24_g", "1.24_g", "1.24_g");
    check(Current::a(31.2), UP, "32_A", "32_A", "32_A");
}

#[test]
fn hand_working_units() {
    // 151.03 kPa = 3154.3 psf; 1 psf = 47.880 26 Pa. The weight of a tonne is 9.806 65 kN: 15.401 t/m².
    check(Pressure::kpa(151.03), UP, "15.5_t/m²", "15.5_t/m²", "3155_psf");
    check(shown(Pressure::mpa(8.01), Shown::Stress), UP, "8.1_N/mm²", "8.1_N/mm²", "1162_psi");
    check(Force::kn(45.01), UP, "4.59_t", "4.59_t", "10_119_lb");
    check(Moment::knm(12.0), NEAREST, "1.22_t_m", "1.22_t_m", "8851_lbf_ft");
    check(Angle::deg(4.0), UP, "4.0°", "4.0°", "4.0°");
    check(Ratio::one(1.5), NEAREST, "1.50", "1.50", "1.50");
    check(shown(Ratio::percent(79.96), Shown::Share), UP, "80_%", "80_%", "80_%");
    check(Amount::count(12), NEAREST, "12", "12", "12");
    check(Temperature::deg_c(-5.0), NEAREST, "-5_°C", "-5_°C", "23_°F");
    check(Temperature::deg_c(20.0), UP, "20_°C", "20_°C", "68_°F");
    check(Slope::mm_per_m(2.0), NEAREST, "2.0_mm/m", "2.0_mm/m", "0.024_in/ft");
}

#[test]
fn hand_rounding_is_away_from_zero_for_a_demand_and_down_for_a_capacity() {
    let sign = |kg: f64, rounding| shown(Mass::kg(kg), Shown::Load).print_number(UnitSet::Metric, rounding);
    assert_eq!(sign(-310.0, UP), typeset("-0.4"));
    assert_eq!(sign(-310.0, DOWN), typeset("-0.4"));
    assert_eq!(sign(-310.0, Rounding::Requirement), typeset("-0.3"));
    assert_eq!(sign(-310.0, NEAREST), typeset("-0.3"));
    assert_eq!(sign(310.0, UP), "0.4");
    assert_eq!(sign(310.0, DOWN), "0.3");
    assert_eq!(sign(350.0, NEAREST), "0.4");
    // Nothing has no sign.
    assert_eq!(sign(-40.0, NEAREST), "0.0");
    assert_eq!(sign(-0.0, UP), "0.0");
}

#[test]
fn hand_binary_noise_moves_no_digit() {
    let tonnes = |t: f64, rounding| shown(Mass::t(t), Shown::Load).print_number(UnitSet::Metric, rounding);
    // In doubles 0.1 + 0.2 and 1.1 − 0.4 lie just above 0.3 and 0.7, and 0.3 − 0.1 just below 0.2.
    assert_eq!(tonnes(0.1 + 0.2, UP), "0.3");
    assert_eq!(tonnes(1.1 - 0.4, UP), "0.7");
    assert_eq!(tonnes(0.3 - 0.1, DOWN), "0.2");
    assert_eq!(tonnes(0.1 + 0.2 - 0.3, UP), "0.0");
    // What is more than noise does move it.
    assert_eq!(tonnes(0.3 + 1e-9, UP), "0.4");
    assert_eq!(tonnes(0.3 - 1e-9, DOWN), "0.2");
}

#[test]
fn hand_bands() {
    let load = |t: f64| shown(Mass::t(t), Shown::Load);
    let band = Band { low: load(2.47), high: load(2.81), limit: Limit::AtMost(load(4.66)) };
    assert_eq!(band.print(UnitSet::Gb), typeset("2.4 to 2.9 of 4.6_t"));
    // 2.9 / 4.6 = 63.04 %
    assert_eq!(band.share_percent(UnitSet::Gb), Some(64));
    // 2.47 t = 5445.4 lb, 2.81 t = 6195.0 lb, 4.66 t = 10 273.5 lb; 6200 / 10200 = 60.8 %
    assert_eq!(band.print(UnitSet::Us), typeset("5400 to 6200 of 10_200_lb"));
    assert_eq!(band.share_percent(UnitSet::Us), Some(61));
    let alike = Band { low: load(2.9), high: load(2.9), limit: Limit::AtMost(load(4.6)) };
    assert_eq!(alike.print(UnitSet::Gb), typeset("2.9 of 4.6_t"));
    // Kilogrammes beside tonnes are shown as the low end is; the ends may stand either way round.
    let mixed = Band { low: load(2.81), high: Mass::kg(2470.0).into(), limit: Limit::None };
    assert_eq!(mixed.print(UnitSet::Gb), typeset("2.4 to 2.9_t"));
    assert_eq!(mixed.share_percent(UnitSet::Gb), None);
    let clear = Band {
        low: Length::mm(160.4).into(),
        high: Length::mm(170.4).into(),
        limit: Limit::AtLeast(Length::mm(149.2).into()),
    };
    assert_eq!(clear.print(UnitSet::Metric), typeset("160 to 171, at least 150_mm"));
    // 150 / 160 = 93.75 %
    assert_eq!(clear.share_percent(UnitSet::Metric), Some(94));
    let coarse = |inches: f64| shown(Length::inches(inches), Shown::Coarse);
    let feet = Band { low: coarse(63.0), high: coarse(64.0), limit: Limit::AtMost(coarse(72.0)) };
    assert_eq!(feet.print(UnitSet::Us), typeset("5_ft_3_in to 5_ft_4_in of 6_ft"));
    let odd = Band { low: load(1.0), high: Length::mm(2.0).into(), limit: Limit::None };
    assert_eq!(odd.print(UnitSet::Metric), typeset("2_mm to 1.0_t"));
}

#[test]
fn hand_targets_and_misses() {
    let mm = |value| Amount::from(Length::mm(value));
    assert_eq!(print_target(mm(645.0), mm(3.9), UnitSet::Metric), typeset("645_±_3_mm"));
    assert_eq!(print_off_by(mm(645.0), mm(2.1), UnitSet::Metric), typeset("645_±_3_mm"));
    let k = |value| Amount::from(Temperature::k(value));
    assert_eq!(print_off_by(k(293.15), k(2.0), UnitSet::Metric), typeset("20_±_2_°C"));
    let angle = |value| Amount::from(Angle::deg(value));
    assert_eq!(print_target(angle(4.0), angle(0.5), UnitSet::Metric), typeset("4.0_±_0.5°"));
    assert_eq!(mm(1.0).print_miss(UnitSet::Metric), "+1");
    assert_eq!(mm(-2.5).print_miss(UnitSet::Metric), typeset("-3"));
    assert_eq!(mm(0.0).print_miss(UnitSet::Metric), "0");
}

/// 0 K is −459.67 °F. Rounded away from zero that is −460 °F, which no reader takes.
#[test]
fn regress_the_coldest_there_is_reads_back() {
    for rounding in [UP, DOWN, NEAREST, Rounding::Requirement] {
        check(Temperature::k(0.0), rounding, "-273_°C", "-273_°C", "-459_°F");
        for set in [UnitSet::Metric, UnitSet::Gb, UnitSet::Us] {
            let text = Amount::from(Temperature::k(0.0)).print(set, rounding);
            assert!(Temperature::parse(&text).is_ok(), "{text}");
        }
    }
}

#[test]
fn hand_captions() {
    assert_eq!(Shown::Load.caption(UnitSet::Gb), "t");
    assert_eq!(Shown::Fine.caption(UnitSet::Us), "in");
    assert_eq!(Shown::Coarse.caption(UnitSet::Us), "");
    assert_eq!(Shown::Temperature.caption(UnitSet::Metric), "°C");
}

#[test]
fn hand_what_is_not_finite_is_not_known() {
    for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        for set in UnitSet::ALL {
            let amount = Amount::from(Length::m(value));
            assert_eq!(amount.print(set, UP), "not known");
            let band = Band { low: amount, high: amount, limit: Limit::AtMost(amount) };
            assert_eq!(band.print(set), "not known of not known");
            assert_eq!(band.share_percent(set), None);
        }
    }
}

#[test]
fn hand_significant_digits() {
    let cases = [
        (123_456.789, 6, "123457"),
        (2.5, 6, "2.5"),
        (0.000_123_456_78, 4, "0.0001235"),
        (-0.05, 3, "\u{2212}0.05"),
        (999_999.96, 6, "1000000"),
        (0.1 + 0.2, 6, "0.3"),
        (1e9, 3, "1000000000"),
        (0.0, 6, "0"),
        (f64::NAN, 6, "not a number"),
    ];
    for (value, digits, want) in cases {
        assert_eq!(significant(value, digits), want);
    }
}

/// What was printed reads back as the printed value, for every quantity, set and rounding; and the
/// rounding went to its own side.
fn check_law<Q: Quantity + Into<Amount>>(value: Q, as_shown: Shown) -> Result<(), TestCaseError> {
    let amount: Amount = value.into();
    let amount = amount.shown(as_shown);
    for set in UnitSet::ALL {
        for rounding in [Rounding::Demand, Rounding::Capacity, Rounding::Requirement, Rounding::Nearest] {
            let text = amount.print(set, rounding);
            let printed = amount.printed(set, rounding).si;
            let read = Q::parse(&text).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?.si();
            let noise = 1e-12 * printed.abs().max(amount.si.abs());
            prop_assert!((read - printed).abs() <= noise, "{text}: {read} is not {printed}");
            let right_side = match rounding {
                // Away from the zero of the printed scale, which is not that of the SI.
                Rounding::Demand if as_shown == Shown::Temperature => true,
                Rounding::Demand => read.abs() >= amount.si.abs() * (1.0 - 1e-9) - noise,
                Rounding::Capacity => read <= amount.si + 1e-9 * amount.si.abs() + noise,
                Rounding::Requirement => read >= amount.si - 1e-9 * amount.si.abs() - noise,
                Rounding::Nearest => true,
            };
            prop_assert!(right_side || printed.abs() < 1e-9, "{text} of {}: {rounding:?}", amount.si);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn law_what_is_printed_is_read_back(x in -999.0_f64..999.0, scale in 0_i32..4) {
        let x = x * [1.0, 0.1, 0.01, 10.0][usize::try_from(scale).unwrap_or(0)];
        check_law(Length::m(x / 10.0), Shown::Fine)?;
        check_law(Length::m(x / 10.0), Shown::Coarse)?;
        check_law(Length::m(x / 10.0), Shown::Finest)?;
        check_law(Length::m(x / 10.0), Shown::Short)?;
        check_law(Area::m2(x), Shown::Area)?;
        check_law(Mass::kg(x), Shown::Mass)?;
        check_law(Mass::kg(x * 100.0), Shown::Load)?;
        check_law(Moment::knm(x), Shown::Moment)?;
        check_law(Pressure::kpa(x), Shown::Pressure)?;
        check_law(Pressure::mpa(x), Shown::Stress)?;
        check_law(Time::min_(x), Shown::Minutes)?;
        check_law(Time::s(x), Shown::Seconds)?;
        check_law(Speed::m_s(x / 20.0), Shown::Speed)?;
        check_law(Acceleration::g(x / 50.0), Shown::Acceleration)?;
        check_law(Angle::deg(x), Shown::Angle)?;
        check_law(Slope::mm_per_m(x / 10.0), Shown::Slope)?;
        check_law(Ratio::one(x), Shown::Ratio)?;
        check_law(Ratio::percent(x), Shown::Share)?;
        check_law(Ratio::one(x), Shown::Count)?;
        check_law(Stiffness::mn_per_m(x), Shown::Stiffness)?;
        check_law(Subgrade::kpa_per_mm(x), Shown::Subgrade)?;
        check_law(Density::kg_m3(x), Shown::Density)?;
        check_law(SecondMoment::cm4(x), Shown::SecondMoment)?;
        check_law(FrequencyOfTurning::rpm(x), Shown::Turning)?;
        check_law(Inertia::kg_m2(x), Shown::Inertia)?;
        check_law(Power::kw(x), Shown::Power)?;
        check_law(Current::a(x), Shown::Current)?;
        check_law(Voltage::v(x), Shown::Voltage)?;
    }

    /// A sheet writes a force as the mass whose weight it is, and a book takes a load as such a mass.
    #[test]
    fn law_a_printed_force_reads_back_as_the_mass_it_is_the_weight_of(kn in -999.0_f64..999.0) {
        let amount = Amount::from(Force::kn(kn));
        for set in UnitSet::ALL {
            for rounding in [UP, DOWN, NEAREST, Rounding::Requirement] {
                let text = amount.print(set, rounding);
                let mass = Mass::parse(&text).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
                let read = Force::weight(mass).si();
                let printed = amount.printed(set, rounding).si;
                prop_assert!((read - printed).abs() <= 1e-12 * printed.abs(), "{text}: {read} is not {printed}");
            }
        }
    }

    /// A range that is printed lies inside the one that was given, whatever the units.
    #[test]
    fn law_a_printed_range_is_never_wider(low in -20.0_f64..20.0, more in 0.02_f64..40.0, small in 0_i32..3) {
        let scale = [1.0, 0.01, 0.003][usize::try_from(small).unwrap_or(0)];
        let (low, high) = (low * scale, (low + more) * scale);
        for set in UnitSet::ALL {
            let text = print_range(Some(Length::m(low).into()), Some(Length::m(high).into()), set);
            let (first, last) = text.split_once(" to ").unwrap_or_default();
            let read = |text| Length::parse(text).map_or(f64::NAN, Length::as_m);
            prop_assert!(read(first) >= low - 1e-9 && read(last) <= high + 1e-9, "{text} of {low} to {high} m");
        }
    }

    /// No sentence stops the reader of sentences, and what it says of itself is still there.
    #[test]
    fn law_a_sentence_keeps_every_word(text in "[a-z0-9\". −/m]{0,40}") {
        for set in UnitSet::ALL {
            let said = in_units_of(&text, set);
            let mut left = said.chars();
            prop_assert!(text.chars().all(|c| left.any(|other| other == c)), "{said} of {text}");
        }
    }

    #[test]
    fn law_a_printed_temperature_is_read_back(celsius in -200.0_f64..900.0) {
        check_law(Temperature::deg_c(celsius), Shown::Temperature)?;
    }

    #[test]
    fn law_a_printed_share_is_never_below_the_computed_one(demand in 1.0_f64..10_000.0, limit in 1000.0_f64..10_000.0) {
        let load = |kg: f64| Amount::from(Mass::kg(kg)).shown(Shown::Load);
        for set in UnitSet::ALL {
            let band = Band { low: load(0.0), high: load(demand), limit: Limit::AtMost(load(limit)) };
            let printed = f64::from(band.share_percent(set).unwrap_or(0));
            prop_assert!(printed >= 100.0 * demand / limit - 1e-6);
        }
    }

    #[test]
    fn law_no_number_panics(bits in any::<u64>(), digits in any::<usize>()) {
        let value = f64::from_bits(bits);
        for set in UnitSet::ALL {
            for rounding in [Rounding::Demand, Rounding::Capacity, Rounding::Requirement, Rounding::Nearest] {
                for shown in [Shown::Fine, Shown::Coarse] {
                    let text = Amount::from(Length::m(value)).shown(shown).print(set, rounding);
                    prop_assert!(!text.is_empty());
                }
                let load = Amount::from(Mass::kg(value)).shown(Shown::Load);
                prop_assert!(!load.print(set, rounding).is_empty());
            }
        }
        prop_assert!(!significant(value, digits).is_empty());
    }
}

/// 9 m/s is 20.13 mph, 40 mm 1.575 in, 25 mm 0.984 in, 1.5 t 3307 lb, 2 kN 0.2039 t and 449.6 lb.
#[test]
fn hand_sentences_in_the_units_of_the_reader() {
    let cases = [
        ("The gust is below 9 m/s.", UnitSet::Gb, "The gust is below 9 m/s (20.1 mph)."),
        ("The gust is below 9 m/s.", UnitSet::Metric, "The gust is below 9 m/s."),
        ("Dig in by 25 to 40 mm now.", UnitSet::Us, "Dig in by 25 to 40 mm (0.984 to 1.57 in) now."),
        ("at least 1.5 t on it", UnitSet::Us, "at least 1.5 t (3310 lb) on it"),
        ("pull 2 kN here", UnitSet::Gb, "pull 2 kN (0.204 t) here"),
        ("the board \"mat 25 mm\" lies", UnitSet::Us, "the board \"mat 25 mm\" lies"),
        ("in 3 minutes, 2 tonnes, step 4 t", UnitSet::Us, "in 3 minutes, 2 tonnes, step 4 t (8820 lb)"),
        ("5 kN/m2", UnitSet::Gb, "5 kN/m2"),
        ("level to 3 mm/m", UnitSet::Us, "level to 3 mm/m (0.036 in/ft)"),
    ];
    for (sentence, set, want) in cases {
        assert_eq!(in_units_of(sentence, set), want);
    }
}

/// 6 mm is 0.236 in, of which 3/16 in is the next sixteenth inside; 12 m is 39 ft 4.44 in.
#[test]
fn hand_ranges() {
    let range = |low: Option<f64>, high: Option<f64>, set| {
        let amount = |m: f64| Amount::from(Length::m(m));
        print_range(low.map(amount), high.map(amount), set).replace('\u{202f}', "_")
    };
    assert_eq!(range(Some(0.0), Some(0.006), UnitSet::Us), "0_in to 3/16_in");
    assert_eq!(range(Some(0.0), Some(0.006), UnitSet::Gb), "0_mm to 6_mm");
    assert_eq!(range(Some(12.0), None, UnitSet::Gb), "at least 12.0_m");
    assert_eq!(range(Some(12.0), None, UnitSet::Us), "at least 39_ft_4_1/2_in");
    assert_eq!(range(None, Some(0.1), UnitSet::Metric), "at most 100_mm");
    assert_eq!(range(None, None, UnitSet::Metric), "");
    let minute = Amount::from(Time::s(60.0));
    assert_eq!(print_range(Some(minute), None, UnitSet::Gb), "at least 60\u{202f}s");
}

/// The table of words is GLOSSARY.md; a name in quotes and the distance of holes stay as they are.
#[test]
fn hand_sentences_in_the_words_of_the_reader() {
    let cases = [
        ("The chief looks at the packing.", "The foreman looks at the blocking."),
        (
            "Packing \"packing A\" lies here; hole pitch 50.",
            "Blocking \"packing A\" lies here; hole pitch 50.",
        ),
        ("Pin and R-clip, repacking, chiefly", "Pin and hairpin, repacking, chiefly"),
        ("At the build-up; the pull-down.", "At the set-up; the tear-down."),
    ];
    for (sentence, want) in cases {
        assert_eq!(in_words_of(sentence, WordSet::Us), want);
        assert_eq!(in_words_of(sentence, WordSet::Gb), sentence);
    }
}
