//! Outside checks and laws of the water level.

use super::*;
use crate::finding::Standing;
use crate::survey::{Doubt, findings};

/// Rounding of sums of a few metres.
const ROUNDING_M: f64 = 1e-9;

fn survey(rows: &[(&str, &str, f64)]) -> WaterSurvey {
    let reading = |&(line, point, m): &(&str, &str, f64)| WaterReading {
        point: point.to_owned(),
        line: line.to_owned(),
        down: Length::m(m),
    };
    WaterSurvey {
        deviation: Length::mm(2.0),
        readings: rows.iter().map(reading).collect(),
        places: BTreeMap::new(),
    }
}

fn found(rows: &[(&str, &str, f64)]) -> Survey {
    water_level(&survey(rows)).expect("a sound survey")
}

fn height_m(survey: &Survey, name: &str) -> f64 {
    survey.heights.iter().find(|h| h.name == name).expect("it was read").height.as_m()
}

/// A public page on booking levels (reference WE-12, with the backsight its own sum needs, DIS-17): a rise of
/// 1.370 and a fall of 0.700, together 0.670 m. A water line is a line of collimation.
#[test]
fn truth_two_water_lines_make_the_level_book() {
    let found = found(&[("1", "A", 2.570), ("1", "CP", 1.200), ("2", "CP", 3.050), ("2", "B", 3.750)]);
    let rise = |from, to| height_m(&found, to) - height_m(&found, from);
    assert!((rise("A", "CP") - 1.370).abs() < ROUNDING_M);
    assert!((rise("CP", "B") + 0.700).abs() < ROUNDING_M);
    assert!((rise("A", "B") - 0.670).abs() < ROUNDING_M);
}

/// The same page (reference WE-13): RL 100.00, then 100.55, 99.75, 99.60, 99.20, 99.40.
#[test]
fn truth_three_water_lines_make_the_level_book() {
    let found = found(&[
        ("1", "BM", 2.50),
        ("1", "C1", 1.95),
        ("2", "C1", 1.75),
        ("2", "P", 2.55),
        ("2", "Q", 2.70),
        ("2", "C2", 3.10),
        ("3", "C2", 2.95),
        ("3", "End", 2.75),
    ]);
    let datum = height_m(&found, "BM");
    for (point, level) in [("C1", 100.55), ("P", 99.75), ("Q", 99.60), ("C2", 99.20), ("End", 99.40)] {
        assert!((100.0 + height_m(&found, point) - datum - level).abs() < ROUNDING_M, "{point}");
    }
    assert_eq!((found.freedom, found.unchecked.len()), (0, 8));
}

/// Two legs from one line: each 2 mm, their difference 2 √2 mm. A third from a second line that is tied by one of
/// them: √(4 + 4 + 4) mm against the first line.
#[test]
fn hand_deviations_of_one_and_two_lines() {
    let found = found(&[("1", "a", 0.5), ("1", "b", 0.6), ("2", "b", 0.7), ("2", "c", 0.9)]);
    let deviations: Vec<f64> = found.heights.iter().map(|h| h.deviation.as_mm()).collect();
    for (found, expected) in deviations.iter().zip([2.0, 2.0, 12.0_f64.sqrt()]) {
        assert!((found - expected).abs() < 1e-9, "{deviations:?}");
    }
    let apart = found.covariance.deviation_of(&[(0, 1.0), (1, -1.0)]);
    assert!((apart.as_mm() - 8.0_f64.sqrt()).abs() < 1e-9);
    assert!((height_m(&found, "c") + 0.8).abs() < ROUNDING_M);
}

/// A closing reading that is 20 mm out is named, and so is the first, which would explain it as well.
#[test]
fn hand_a_closing_reading_that_does_not_fit_is_named() {
    let found = found(&[("1", "a", 0.5), ("1", "b", 0.6), ("1", "a", 0.52)]);
    let [suspect] = &found.suspects[..] else { panic!("one suspect: {:?}", found.suspects) };
    let Doubt::Blunder { or_else, .. } = &suspect.doubt else { panic!("a blunder") };
    assert_eq!((suspect.reading.point.as_str(), or_else.len()), ("a", 1));
    assert_eq!(findings(&found)[0].standing, Standing::PastLimit);
    assert_eq!(found.unchecked.len(), 1, "b is checked by nothing");
}

#[test]
fn law_order_and_height_of_the_line_change_nothing_and_a_reading_more_raises_no_deviation() {
    let rows = [("1", "a", 0.5), ("1", "b", 0.6), ("1", "c", 0.55), ("2", "c", 0.75), ("2", "d", 0.81)];
    let first = found(&rows);
    // Reversed within the first line, which stays the datum.
    let turned = found(&[rows[2], rows[1], rows[0], rows[4], rows[3]]);
    for (a, b) in first.heights.iter().zip(&turned.heights) {
        assert!((a.height - b.height).as_m().abs() < ROUNDING_M && a.name == b.name);
        assert!((a.deviation - b.deviation).as_m().abs() < ROUNDING_M);
    }
    let higher = found(&rows.map(|(line, point, m)| (line, point, if line == "1" { m + 0.2 } else { m })));
    for (a, b) in first.heights.iter().zip(&higher.heights) {
        assert!(((a.height - b.height).as_m() - 0.2).abs() < ROUNDING_M);
    }
    for point in ["a", "b", "c", "d"] {
        let mut more = rows.to_vec();
        let consistent = rows.iter().find(|r| r.1 == point).expect("it was read");
        more.push(*consistent);
        let more = found(&more);
        for (a, b) in first.heights.iter().zip(&more.heights) {
            assert!(b.deviation.as_m() <= a.deviation.as_m() + ROUNDING_M, "{point}: {a:?} {b:?}");
        }
    }
}

#[test]
fn refuse_water_levels() {
    let said = |rows: &[(&str, &str, f64)]| water_level(&survey(rows)).expect_err("refused").to_string();
    assert!(said(&[]).contains("no readings"));
    assert!(said(&[("1", "a", -0.1)]).contains("must lie between"));
    assert!(said(&[("1", "a", f64::NAN)]).contains("not a number"));
    assert!(said(&[("1", "a", 0.5), ("2", "b", 0.5)]).contains("No chain"));
    let mut coarse = survey(&[("1", "a", 0.5)]);
    coarse.deviation = Length::ZERO;
    assert!(water_level(&coarse).is_err());
}
