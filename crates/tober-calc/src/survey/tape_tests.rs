//! Hand-worked cases and laws of the tape survey.

use super::*;

fn reading(point: &str, x: f64, y: f64, tape_m: f64) -> TapeReading {
    TapeReading {
        point: point.to_owned(),
        place: Place { x: Length::m(x), y: Length::m(y) },
        above_frame: Length::ZERO,
        tape: Length::m(tape_m),
    }
}

fn level(axis: Axis, mm_per_m: f64) -> LevelReading {
    LevelReading { axis, slope: Slope::mm_per_m(mm_per_m), deviation: Slope::mm_per_m(0.5) }
}

fn four_legs() -> TapeSurvey {
    TapeSurvey {
        levels: vec![level(Axis::X, 10.0), level(Axis::Y, -4.0)],
        tape_deviation: Length::mm(3.0),
        readings: vec![
            reading("front left", 4.0, 1.0, 0.900),
            reading("front right", 4.0, -1.0, 0.880),
            reading("rear left", -4.0, 1.0, 0.760),
            reading("rear right", -4.0, -1.0, 0.750),
        ],
    }
}

/// Frame rising 10 mm/m forward and falling 4 mm/m to the left. Front left: 0.040 − 0.004 − 0.900 =
/// −0.864 m; deviation √((4 × 0.5)² + (1 × 0.5)² + 3²) = √13.25 mm. Rear right: −0.040 + 0.004 − 0.750.
#[test]
fn hand_four_legs() {
    let found = tape(&four_legs()).expect("a sound survey");
    let near = |i: usize, name: &str, height_m: f64| {
        assert_eq!(found.heights[i].name, name);
        assert!((found.heights[i].height.as_m() - height_m).abs() < 1e-12, "{:?}", found.heights[i]);
    };
    near(0, "front left", -0.864);
    near(3, "rear right", -0.786);
    assert!((found.heights[0].deviation.as_mm() - 13.25_f64.sqrt()).abs() < 1e-9);
    assert_eq!(found.freedom, 0);
    assert_eq!(found.unchecked.len(), 6);
    assert!(found.heights.iter().all(|h| !h.checked));
}

/// A tape hooked on a bracket 0.120 m below the frame's plane reads 0.120 m less for the same ground.
#[test]
fn hand_tape_from_a_bracket_below_the_frame() {
    let mut survey = four_legs();
    survey.readings[0].above_frame = Length::m(-0.120);
    survey.readings[0].tape = Length::m(0.780);
    let found = tape(&survey).expect("a sound survey");
    assert!((found.heights[0].height.as_m() + 0.864).abs() < 1e-12);
}

/// Read twice and turned end for end, all agree: checked, and the tape's part of the variance is halved:
/// (4 × 0.5)²/2 + (1 × 0.5)²/2 + 9/2 = 6.625 mm².
#[test]
fn hand_reading_twice_checks_and_halves() {
    let mut survey = four_legs();
    survey.readings.extend(survey.readings.clone());
    survey.levels.extend(survey.levels.clone());
    let found = tape(&survey).expect("a sound survey");
    assert!(found.heights.iter().all(|h| h.checked));
    assert!((found.heights[0].deviation.as_mm() - 6.625_f64.sqrt()).abs() < 1e-9);
    assert_eq!(found.freedom, 6);
    assert!(found.unchecked.is_empty() && found.suspects.is_empty());
}

#[test]
fn law_two_readings_that_disagree_are_named_and_kept() {
    let mut survey = four_legs();
    survey.readings.push(reading("rear left", -4.0, 1.0, 0.860));
    let found = tape(&survey).expect("a sound survey");
    assert_eq!(found.suspects.len(), 1);
    assert_eq!(found.suspects[0].reading.point, "rear left");
    let Doubt::Disagree { range, most } = found.suspects[0].doubt else { panic!("{found:?}") };
    assert!((range.as_mm() - 100.0).abs() < 1e-9 && (most.as_mm() - 3.29 * 18.0_f64.sqrt()).abs() < 1e-9);
    // The mean stands, and its deviation carries the 100 mm: √(100²/2)/√2 = 50 mm and more.
    let rear = found.heights.iter().find(|h| h.name == "rear left").expect("was read");
    assert!((rear.height.as_m() - (-0.04 - 0.004 - 0.810)).abs() < 1e-12);
    assert!(rear.deviation.as_mm() > 50.0);
}

#[test]
fn law_a_level_that_reads_otherwise_when_turned_is_named() {
    let mut survey = four_legs();
    survey.levels.push(level(Axis::X, 16.0));
    let found = tape(&survey).expect("a sound survey");
    assert!(found.suspects.iter().any(|s| s.reading.set_up == "level" && s.reading.point == "length"));
}

/// Nine points on a plane, and one of them 80 mm off it.
#[test]
fn law_a_point_off_its_neighbours_is_named_and_kept() {
    let mut survey = four_legs();
    survey.readings = (0..9)
        .map(|i| {
            let (x, y) = (f64::from(i / 3) * 3.0, f64::from(i % 3));
            reading(&format!("p{i}"), x, y, 0.8 + 0.02 * x - 0.01 * y)
        })
        .collect();
    assert!(tape(&survey).expect("sound").suspects.is_empty());
    survey.readings[4].tape = survey.readings[4].tape + Length::mm(80.0);
    let found = tape(&survey).expect("sound");
    assert_eq!(found.suspects.len(), 1);
    assert_eq!(found.suspects[0].reading, ReadingName { set_up: "tape".into(), point: "p4".into(), row: 5 });
    let Doubt::OffItsNeighbours { off, .. } = found.suspects[0].doubt else { panic!("{found:?}") };
    assert!((off.as_mm() + 80.0).abs() < 1e-6, "{off:?}");
    assert_eq!(found.heights.len(), 9);
}

#[test]
fn law_order_of_readings_does_not_matter() {
    let mut turned = four_legs();
    turned.readings.reverse();
    turned.levels.reverse();
    let (a, b) = (tape(&four_legs()).expect("sound"), tape(&turned).expect("sound"));
    assert_eq!(a.heights, b.heights);
}

#[test]
fn law_mirrored_frame_gives_the_same_heights() {
    let mut mirrored = four_legs();
    mirrored.levels[1].slope = -mirrored.levels[1].slope;
    for reading in &mut mirrored.readings {
        reading.place.y = -reading.place.y;
    }
    let (a, b) = (tape(&four_legs()).expect("sound"), tape(&mirrored).expect("sound"));
    for (a, b) in a.heights.iter().zip(&b.heights) {
        assert!((a.height - b.height).as_mm().abs() < 1e-9);
    }
}

#[test]
fn law_wider_deviations_never_give_a_better_height() {
    let narrow = tape(&four_legs()).expect("sound");
    let mut wide = four_legs();
    wide.levels[0].deviation = Slope::mm_per_m(1.5);
    wide.tape_deviation = Length::mm(5.0);
    for (a, b) in narrow.heights.iter().zip(&tape(&wide).expect("sound").heights) {
        assert!(b.deviation > a.deviation);
    }
}

#[test]
fn refuse_bad_tape_surveys() {
    let refused = |survey: &TapeSurvey| {
        let said = tape(survey).expect_err("must be refused").to_string();
        assert!(said.ends_with('.'), "{said}");
        said
    };
    let mut s = four_legs();
    s.levels.remove(0);
    assert!(refused(&s).contains("slope along its length"));
    let mut s = four_legs();
    s.readings.clear();
    assert!(refused(&s).contains("no readings"));
    let mut s = four_legs();
    s.readings[2].tape = Length::m(-0.2);
    assert!(refused(&s).contains("rear left"));
    let mut s = four_legs();
    s.readings[2].place.x = Length::m(f64::NAN);
    assert!(refused(&s).contains("not a number"));
    let mut s = four_legs();
    s.levels[1].slope = Slope::ratio(0.5);
    assert!(refused(&s).contains("width is 500 mm/m"));
    let mut s = four_legs();
    s.levels[1].deviation = Slope::ratio(0.0);
    assert!(refused(&s).contains("above nothing"));
    let mut s = four_legs();
    s.readings.push(reading("rear left", -3.0, 1.0, 0.76));
    assert!(refused(&s).contains("two different places"));
    let mut s = four_legs();
    s.tape_deviation = Length::m(-1.0);
    assert!(refused(&s).contains("deviation of the tape"));
}

/// A scale that says 900 mm where a tape says 900 mm finds the same ground, and its readings are named as its own.
#[test]
fn law_a_scale_is_a_tape_that_is_painted_on() {
    let (by_tape, by_scale) = (tape(&four_legs()).expect("sound"), scale(&four_legs()).expect("sound"));
    assert_eq!(by_tape.heights, by_scale.heights);
    assert!(by_scale.unchecked.iter().any(|r| r.set_up == "scale"));
    assert!(by_scale.unchecked.iter().all(|r| r.set_up != "tape"));
}

/// Legs at x = ±4 share the slope along, deviation 0.5 mm/m: the difference of front and rear bears 8 × 0.5 mm of
/// it and 3 √2 mm of tape, √34 mm; that of two legs across bears 2 × 0.5 mm and 3 √2 mm, √19.
#[test]
fn hand_legs_share_the_slopes() {
    let found = tape(&four_legs()).expect("sound");
    let apart = |i: usize, j: usize| found.covariance.deviation_of(&[(i, 1.0), (j, -1.0)]).as_mm();
    assert!((apart(0, 2) - 34.0_f64.sqrt()).abs() < 1e-9, "{}", apart(0, 2));
    assert!((apart(0, 1) - 19.0_f64.sqrt()).abs() < 1e-9, "{}", apart(0, 1));
    for (i, height) in found.heights.iter().enumerate() {
        assert!((found.covariance.deviation_of(&[(i, 1.0)]) - height.deviation).as_m().abs() < 1e-12);
    }
}

#[test]
fn refuse_scales_as_tapes() {
    let mut none = four_legs();
    none.readings.clear();
    assert_eq!(scale(&none), Err(SurveyError::NoReadings));
    let mut steep = four_legs();
    steep.levels[0] = level(Axis::X, 150.0);
    assert!(scale(&steep).is_err());
}
