//! Outside checks and laws of the staff adjustment.

use super::*;
use crate::survey::{BLUNDER_AT, Doubt};

fn instrument() -> Instrument {
    Instrument { reading: Length::mm(1.0), line_of_sight: Slope::ratio(0.0), sight_longest: Length::m(50.0) }
}

fn reading(point: &str, sight: Sight, staff_m: f64) -> StaffReading {
    StaffReading { point: point.to_owned(), sight, staff: Length::m(staff_m), distance: None }
}

fn set_up(name: &str, readings: &[(&str, Sight, f64)]) -> SetUp {
    SetUp { name: name.to_owned(), readings: readings.iter().map(|&(p, s, m)| reading(p, s, m)).collect() }
}

fn survey(fixed: &[(&str, f64)], set_ups: Vec<SetUp>) -> StaffSurvey {
    let fixed =
        fixed.iter().map(|&(name, m)| FixedPoint { name: name.to_owned(), height: Length::m(m) }).collect();
    StaffSurvey { instrument: instrument(), fixed, set_ups, places: BTreeMap::new() }
}

fn height(found: &Survey, name: &str) -> PointHeight {
    found.heights.iter().find(|h| h.name == name).cloned().expect("the point was read")
}

use Sight::{Back, Fore, Intermediate};

/// A loop over A, B, C and back, with `out` metres of blunder in the last reading.
fn loop_of_three(out: f64) -> StaffSurvey {
    survey(
        &[("A", 10.0)],
        vec![
            set_up("1", &[("A", Back, 1.500), ("B", Fore, 1.200)]),
            set_up("2", &[("B", Back, 1.400), ("C", Fore, 1.600)]),
            set_up("3", &[("C", Back, 1.300), ("A", Fore, 1.400 + out)]),
        ],
    )
}

/// The public booking example of reference WE-13 has no reading to spare, so least squares must give
/// its levels exactly, check nothing, and say so.
#[test]
fn truth_adjustment_without_spare_readings_is_the_level_book() {
    let found = staff(&survey(
        &[("BM", 100.0)],
        vec![
            set_up("1", &[("BM", Back, 2.50), ("C1", Fore, 1.95)]),
            set_up(
                "2",
                &[
                    ("C1", Back, 1.75),
                    ("P", Intermediate, 2.55),
                    ("Q", Intermediate, 2.70),
                    ("C2", Fore, 3.10),
                ],
            ),
            set_up("3", &[("C2", Back, 2.95), ("End", Fore, 2.75)]),
        ],
    ))
    .expect("a sound survey");
    for (name, level) in [("C1", 100.55), ("P", 99.75), ("Q", 99.60), ("C2", 99.20), ("End", 99.40)] {
        let point = height(&found, name);
        assert!((point.height.as_m() - level).abs() < 1e-9, "{point:?}");
        assert!(!point.checked);
    }
    assert_eq!(found.freedom, 0);
    assert_eq!(found.unchecked.len(), 8);
    assert!(found.residuals.iter().all(|r| r.standardised.is_none()));
    assert!(found.suspects.is_empty() && found.spread.is_none() && found.closure.is_none());
}

/// US Navy Engineering Aid course, fig. 7-4 (reference WE-15), as a line between two known heights: with
/// ten equal set-ups, least squares shares the 0.015 ft by set-ups, so that a point after 2 of 10 comes
/// down by the course's 0.003 ft (428 ft of 2,140 ft is one fifth).
#[test]
fn truth_line_between_bench_marks_shares_by_set_ups() {
    let ft = 0.3048;
    let names = ["BM 15", "t1", "BM 16", "t3", "t4", "t5", "t6", "t7", "t8", "t9", "BM 19"];
    let set_ups = (0..10)
        .map(|i| {
            let fore = 5.0 - if i < 2 { 0.0 } else { 1.606 / 8.0 };
            set_up(&format!("{i}"), &[(names[i], Back, 5.0 * ft), (names[i + 1], Fore, fore * ft)])
        })
        .collect();
    let found =
        staff(&survey(&[("BM 15", 134.851 * ft), ("BM 19", 136.442 * ft)], set_ups)).expect("a sound line");
    let closure = found.closure.clone().expect("a run between known points");
    assert!((closure.misclosure.as_ft() - 0.015).abs() < 1e-9);
    assert_eq!((closure.from.as_str(), closure.to.as_str(), closure.set_ups), ("BM 15", "BM 19", 10));
    let point = height(&found, "BM 16");
    assert!((point.height.as_ft() - 134.848).abs() < 0.000_5, "{}", point.height.as_ft());
    assert!(point.checked);
}

/// One set-up, datum read once, P read twice: the height of P has variance 1 + 1/2 of one reading.
#[test]
fn hand_deviation_of_a_point_read_twice() {
    let found = staff(&survey(
        &[("A", 0.0)],
        vec![set_up("1", &[("A", Back, 1.5), ("P", Intermediate, 1.2), ("P", Fore, 1.2)])],
    ))
    .expect("a sound survey");
    let point = height(&found, "P");
    assert!((point.deviation.as_mm() - 1.5_f64.sqrt()).abs() < 1e-9);
    // The single reading of A moves P and nothing checks it.
    assert!(!point.checked);
    assert_eq!(found.unchecked, [ReadingName { set_up: "1".into(), point: "A".into(), row: 1 }]);
}

/// A loop of three set-ups closing 6 mm: each of six equal readings takes 1 mm, so B rises 0.002 m less.
/// Height of B: N⁻¹ of a loop of six is (2 × 4)/6 of one reading's variance.
#[test]
fn hand_loop_shares_its_misclosure() {
    let found = staff(&loop_of_three(-0.006)).expect("a sound loop");
    let closure = found.closure.as_ref().expect("a loop");
    assert!((closure.misclosure.as_mm() - 6.0).abs() < 1e-9);
    let b = height(&found, "B");
    assert!((b.height.as_m() - 10.298).abs() < 1e-9, "{b:?}");
    assert!((found.spread.expect("one to spare").as_one() - 6.0_f64.sqrt()).abs() < 1e-9);
    // √(8/6) mm, and scaled up by the spread √6 because the readings agree worse than they should.
    assert!((b.deviation.as_mm() - (8.0_f64 / 6.0 * 6.0).sqrt()).abs() < 1e-9);
    assert!(b.checked && found.unchecked.is_empty());
}

/// In a single loop an error may be in any of its readings: all of them are named, none is singled out.
#[test]
fn law_one_loop_cannot_tell_which_reading() {
    let found = staff(&loop_of_three(0.050)).expect("a sound loop");
    assert_eq!(found.suspects.len(), 1);
    let Doubt::Blunder { or_else, error, .. } = &found.suspects[0].doubt else { panic!("{found:?}") };
    assert_eq!(or_else.len(), 5);
    assert!((error.abs().as_mm() - 50.0).abs() < 1e-6);
}

/// A point seen from three set-ups, each tied twice to two known points: the one wrong reading is named.
#[test]
fn law_blunder_is_named_where_readings_to_spare_allow() {
    let sound = |name: &str, height_m: f64| {
        set_up(
            name,
            &[("A", Back, height_m), ("B", Intermediate, height_m - 0.5), ("P", Fore, height_m - 0.2)],
        )
    };
    for bad in 0..3 {
        let mut set_ups = vec![sound("1", 1.5), sound("2", 1.4), sound("3", 1.7)];
        set_ups[bad].readings[2].staff = set_ups[bad].readings[2].staff + Length::mm(100.0);
        let found = staff(&survey(&[("A", 0.0), ("B", 0.5)], set_ups)).expect("a sound survey");
        let suspect = &found.suspects[0];
        assert_eq!(suspect.reading, ReadingName { set_up: (bad + 1).to_string(), point: "P".into(), row: 3 });
        let Doubt::Blunder { error, or_else, standardised } = &suspect.doubt else { panic!("{suspect:?}") };
        assert!((error.as_mm() - 100.0).abs() < 1e-6, "{error:?}");
        assert!(or_else.is_empty() && standardised.as_one() > BLUNDER_AT);
    }
}

#[test]
fn law_shifting_the_datum_shifts_every_height() {
    let low = staff(&loop_of_three(0.003)).expect("sound");
    let mut lifted = loop_of_three(0.003);
    lifted.fixed[0].height = Length::m(810.0);
    let high = staff(&lifted).expect("sound");
    for (a, b) in low.heights.iter().zip(&high.heights) {
        assert!(((b.height - a.height).as_m() - 800.0).abs() < 1e-9);
        assert!((b.deviation - a.deviation).as_mm().abs() < 1e-9);
    }
}

#[test]
fn law_order_of_set_ups_and_readings_does_not_matter() {
    let given = loop_of_three(0.004);
    let mut turned = given.clone();
    turned.set_ups.reverse();
    for set_up in &mut turned.set_ups {
        set_up.readings.reverse();
    }
    let (a, b) = (staff(&given).expect("sound"), staff(&turned).expect("sound"));
    for (a, b) in a.heights.iter().zip(&b.heights) {
        assert_eq!(a.name, b.name);
        assert!(
            (a.height - b.height).as_mm().abs() < 1e-9 && (a.deviation - b.deviation).as_mm().abs() < 1e-9
        );
    }
}

#[test]
fn law_a_worse_instrument_never_gives_a_better_height() {
    let mut given = loop_of_three(0.004);
    let mut before = 0.0;
    for mm in [0.5, 1.0, 2.0, 3.0, 5.0, 8.0] {
        given.instrument.reading = Length::mm(mm);
        let deviation = height(&staff(&given).expect("sound"), "B").deviation.as_mm();
        assert!(deviation >= before - 1e-12, "{mm} mm: {deviation} after {before}");
        before = deviation;
    }
}

#[test]
fn law_leaving_out_a_distance_never_gives_a_better_height() {
    let mut given = loop_of_three(0.0);
    given.instrument.line_of_sight = Slope::mm_per_m(0.1);
    let without = height(&staff(&given).expect("sound"), "B").deviation;
    for set_up in &mut given.set_ups {
        for reading in &mut set_up.readings {
            reading.distance = Some(Length::m(12.0));
        }
    }
    let with = height(&staff(&given).expect("sound"), "B").deviation;
    assert!(with < without, "{with:?} {without:?}");
}

#[test]
fn refuse_bad_staff_surveys() {
    let refused = |s: &StaffSurvey| {
        let said = staff(s).expect_err("must be refused").to_string();
        assert!(said.ends_with('.'), "{said}");
        said
    };
    let good = loop_of_three(0.0);

    let mut s = good.clone();
    s.fixed.clear();
    assert!(refused(&s).contains("known height"));
    let mut s = good.clone();
    s.set_ups.clear();
    assert!(refused(&s).contains("no readings"));
    let mut s = good.clone();
    s.set_ups[1].readings[0].staff = Length::m(f64::INFINITY);
    assert!(refused(&s).contains("not a number"));
    let mut s = good.clone();
    s.set_ups[1].readings[0].staff = Length::m(1500.0);
    assert!(refused(&s).contains("1500"));
    let mut s = good.clone();
    s.set_ups[1].name = "1".into();
    assert!(refused(&s).contains("set-ups"));
    let mut s = good.clone();
    s.fixed[0].name = "elsewhere".into();
    assert!(refused(&s).contains("A, B, C"));
    let mut s = good.clone();
    s.instrument.reading = Length::ZERO;
    assert!(refused(&s).contains("deviation of a reading"));
    let mut s = good.clone();
    s.instrument.line_of_sight = Slope::ratio(f64::NAN);
    assert!(refused(&s).contains("line of sight"));
    let mut s = good;
    s.set_ups[0].readings[0].distance = Some(Length::m(90.0));
    assert!(refused(&s).contains("sight"));
}

/// Every number of a survey in turn is made bad in every way: a sentence or a finite answer, never a panic.
#[test]
fn refuse_or_answer_whatever_the_number() {
    let bad = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e300, 1e-300, -0.0, 0.0, 9.999];
    let (mut refused, mut answered) = (0, 0);
    for value in bad.map(Length::m) {
        for field in 0..9 {
            let mut s = loop_of_three(0.004);
            match field {
                0 => s.instrument.reading = value,
                1 => s.instrument.sight_longest = value,
                2 => s.instrument.line_of_sight = Slope::ratio(value.as_m()),
                3 => s.fixed[0].height = value,
                4 => s.set_ups[2].readings[1].distance = Some(value),
                5 => drop(s.places.insert("B".into(), Place { x: value, y: Length::ZERO })),
                6 => drop(s.places.insert("B".into(), Place { x: Length::ZERO, y: value })),
                7 => s.set_ups[0].readings[0].staff = value,
                _ => s.set_ups[2].readings[1].staff = value,
            }
            match staff(&s) {
                Ok(found) => {
                    assert!(found.heights.iter().all(|h| h.height.is_finite() && h.deviation.is_finite()));
                    answered += 1;
                }
                Err(error) => {
                    assert!(error.to_string().ends_with('.'));
                    refused += 1;
                }
            }
        }
    }
    assert!(refused > 40 && answered > 10, "{refused} {answered}");
}
