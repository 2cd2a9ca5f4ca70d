//! Spot heights: hand-worked, laws and refusals.

use super::*;

fn spot(point: &str, height_mm: f64) -> Spot {
    Spot { point: point.to_owned(), place: None, height: Length::mm(height_mm), deviation: None }
}

/// Two measurements 2 mm apart: their mean, and 3 mm / √2.
#[test]
fn hand_a_point_measured_twice_is_the_mean_and_checked() {
    let found =
        spots(&[spot("a", 100.0), spot("b", 50.0), spot("a", 102.0)], Length::mm(3.0)).expect("sound");
    let [a, b] = &found.heights[..] else { panic!("two points") };
    assert!((a.height.as_mm() - 101.0).abs() < 1e-9 && a.checked && !b.checked);
    assert!((a.deviation.as_mm() - 3.0 / 2.0_f64.sqrt()).abs() < 1e-9);
    assert_eq!((found.freedom, found.unchecked.len(), found.suspects.len()), (1, 1, 0));
}

#[test]
fn law_measurements_that_disagree_are_named_and_help_nothing() {
    let once = spots(&[spot("a", 100.0)], Length::mm(3.0)).expect("sound");
    let apart = spots(&[spot("a", 100.0), spot("a", 130.0)], Length::mm(3.0)).expect("sound");
    assert_eq!(apart.suspects.len(), 1);
    assert!(apart.heights[0].deviation > once.heights[0].deviation);
    let again = spots(&[spot("a", 100.0), spot("a", 100.0)], Length::mm(3.0)).expect("sound");
    assert!(again.heights[0].deviation < once.heights[0].deviation);
}

#[test]
fn refuse_spots() {
    let deviation = Length::mm(3.0);
    assert_eq!(spots(&[], deviation), Err(SurveyError::NoReadings));
    assert!(spots(&[spot("a", f64::INFINITY)], deviation).is_err());
    assert!(spots(&[spot("a", 1.0)], Length::m(1.0)).is_err());
    let at = |x: f64| Spot { place: Some(Place { x: Length::m(x), y: Length::ZERO }), ..spot("a", 1.0) };
    assert_eq!(spots(&[at(0.0), at(1.0)], deviation), Err(SurveyError::TwoPlaces { point: "a".into() }));
    assert!(spots(&[at(1e6)], deviation).is_err());
}
