//! The sink test, and what comes after it.

use super::*;

pub(super) fn test_of(kn: f64, sink_mm: f64) -> SinkTest {
    SinkTest {
        load: Force::kn(kn),
        load_off_by: Force::ZERO,
        plate: size(0.5, 0.5),
        waited: Time::min_(15.0),
        sink: Length::mm(sink_mm),
        sink_off_by: Length::mm(1.0),
    }
}

fn sunk(test: &SinkTest, kn: f64, most_mm: f64) -> Finding {
    sink_under_load(leg(), test, both(kn), size(0.5, 0.5), Some(Length::mm(most_mm))).expect("sound")
}

/// 20 kN on 0.25 m² is 80 kPa; 3 ± 1 mm counts as 4 mm: 20 kPa/mm. At 22 kN: 1.1² × 4 = 4.84 mm.
#[test]
fn hand_sink_test() {
    let test = test_of(20.0, 3.0);
    near(test.subgrade().expect("sound").as_kpa_per_mm(), 20.0, 1e-12);
    near(ground_stiffness(test.subgrade().expect("sound"), test.plate).as_mn_per_m(), 5.0, 1e-12);
    let found = sunk(&test, 22.0, 10.0);
    let Measure::AgainstLimit { low, high, .. } = found.measure else { panic!("{found:?}") };
    near(high.si * 1e3, 4.84, 1e-9);
    near(low.si * 1e3, 4.4, 1e-9);
    // 48 % used, but more than was tested: close, not inside.
    assert_eq!(found.standing, Standing::Close);
    assert_eq!(sunk(&test, 20.0, 10.0).standing, Standing::Inside);
    assert_eq!(sunk(&test, 20.0, 3.5).standing, Standing::PastLimit);
}

#[test]
fn law_a_poor_test_says_nothing() {
    let test = test_of(20.0, 3.0);
    let far = sunk(&test, 25.1, 10.0);
    assert_eq!(far.standing, Standing::NotKnown);
    assert!(far.advice.iter().any(|a| a.contains("at least 2.6 t")), "{far:?}");
    let hasty = SinkTest { waited: Time::min_(14.0), ..test };
    assert_eq!(sunk(&hasty, 10.0, 10.0).standing, Standing::NotKnown);
    let other = SinkTest { plate: size(0.5, 0.6), ..test };
    assert_eq!(sunk(&other, 10.0, 10.0).standing, Standing::NotKnown);
    let unsaid = sink_under_load(leg(), &test, both(10.0), size(0.5, 0.5), None).expect("sound");
    assert_eq!(unsaid.standing, Standing::NotKnown);
    let unsure = SinkTest { load_off_by: Force::kn(5.0), ..test };
    assert_eq!(sunk(&unsure, 19.0, 10.0).standing, Standing::NotKnown);
}

#[test]
fn law_more_load_or_wider_tolerance_never_sinks_less() {
    let high = |test: &SinkTest, kn: f64| match sunk(test, kn, 100.0).measure {
        Measure::AgainstLimit { high, .. } => high.si,
        _ => f64::INFINITY,
    };
    let test = test_of(20.0, 3.0);
    for step in 1..40 {
        let kn = f64::from(step);
        assert!(high(&test, kn + 1.0) >= high(&test, kn));
        assert!(high(&SinkTest { load_off_by: Force::kn(2.0), ..test }, kn) >= high(&test, kn));
        assert!(high(&SinkTest { sink_off_by: Length::mm(2.0), ..test }, kn) >= high(&test, kn));
    }
}

#[test]
fn law_a_test_stands_in_for_an_unknown_pressure_but_not_for_one_past_its_limit() {
    let (foot, test) = (on_foot(size(0.5, 0.5)), test_of(40.0, 3.0));
    let said = |kn: f64, ground: &Ground| {
        ground_findings(&leg(), both(kn), &foot, ground, Some(&test), Some(Length::mm(10.0))).expect("sound")
    };
    let turf = Ground { surface: Some(Surface::Turf), ..gravel() };
    let codes = |findings: &[Finding]| findings.iter().map(|f| (f.code, f.standing)).collect::<Vec<_>>();
    assert_eq!(codes(&said(20.0, &turf)), [("ground.sink", Standing::Inside)]);
    assert_eq!(
        codes(&said(40.0, &turf)),
        [("ground.pressure", Standing::PastLimit), ("ground.sink", Standing::Inside)]
    );
    assert_eq!(said(20.0, &gravel()).len(), 2);
}

/// Influence factors of the middle of an even load (Schleicher 1926; textbooks print 1.12, 1.53 and 2.10 for sides of 1, 2 and 5).
#[test]
fn truth_elastic_influence_factors() {
    for (m, printed) in [(1.0, 1.12), (2.0, 1.53), (5.0, 2.10)] {
        near(middle_factor(m), printed, 0.005);
    }
}

/// 36 kN on 0.6 m square is 100 kPa; with 10 N/mm² and 0.3: 100/10000 × 600 × 0.91 × 1.122 = 6.13 mm.
#[test]
fn hand_elastic_sink() {
    let found = elastic_sink(Force::kn(36.0), size(0.6, 0.6), Pressure::mpa(10.0), 0.3).expect("sound");
    near(found.as_mm(), 6.13, 0.001);
}

fn cycling(first_mm: f64, an_hour: f64) -> Cycling {
    Cycling {
        first: (Length::mm(first_mm * 0.8), Length::mm(first_mm)),
        tested: true,
        an_hour,
        hours: 10.0,
        allowed: Some(Length::mm(10.0)),
    }
}

/// 8 mm first, 20 an hour for 10 h: 200 cycles, 2.301 tenfolds, × 0.4 × 8 = 7.36 mm at most, × 0.2 × 6.4 = 2.95 at least.
/// Half of 10 mm is used up after 10^(5/3.2) = 36.5 cycles, 1.83 h: read again after an hour.
#[test]
fn hand_cyclic_sink_and_when_to_read_again() {
    let finding = cyclic_sink(leg(), &cycling(8.0, 20.0)).expect("sound");
    let Measure::AgainstLimit { low, high, .. } = &finding.measure else { panic!("{finding:?}") };
    near(high.si, 7.363e-3, 1e-3);
    near(low.si, 2.9453e-3, 1e-3);
    assert!(
        finding.advice.iter().any(|advice| advice.ends_with("also after 1 h of running.")),
        "{finding:?}"
    );
}

/// More load cycles and a greater first sink never help; what is not told is not known; an estimate is never inside.
#[test]
fn law_cyclic_sink_goes_the_right_way() {
    let share = |first, an_hour| cyclic_sink(leg(), &cycling(first, an_hour)).expect("sound").share();
    assert!(share(2.0, 20.0) < share(4.0, 20.0) && share(4.0, 20.0) < share(4.0, 200.0));
    let without = Cycling { allowed: None, ..cycling(1.0, 20.0) };
    assert_eq!(cyclic_sink(leg(), &without).expect("sound").standing, Standing::NotKnown);
    let guess = Cycling { tested: false, ..cycling(0.1, 20.0) };
    assert_eq!(cyclic_sink(leg(), &guess).expect("sound").standing, Standing::Close);
    assert!(cyclic_sink(leg(), &cycling(f64::NAN, 20.0)).is_err());
}
