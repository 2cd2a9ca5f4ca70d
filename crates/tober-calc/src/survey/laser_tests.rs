//! Outside checks and laws of the rotating laser.

use super::*;
use crate::finding::Standing;
use crate::survey::{Sight, StaffReading, findings, staff};

/// Rounding of sums of some hundred metres.
const ROUNDING_M: f64 = 1e-8;

fn place(x: f64, y: f64) -> Place {
    Place { x: Length::m(x), y: Length::m(y) }
}

/// A set-up at a place with a heading in degrees, and what was read from it.
type Standing1<'a> = (&'a str, Option<(f64, f64)>, Option<f64>, Vec<(&'a str, f64)>);

fn survey(
    laser: Laser,
    datum: (&str, f64),
    places: &[(&str, f64, f64)],
    set_ups: &[Standing1<'_>],
) -> LaserSurvey {
    let reading = |&(point, m): &(&str, f64)| StaffReading {
        point: point.to_owned(),
        sight: Sight::Intermediate,
        staff: Length::m(m),
        distance: None,
    };
    LaserSurvey {
        laser,
        fixed: vec![FixedPoint { name: datum.0.to_owned(), height: Length::m(datum.1) }],
        set_ups: set_ups
            .iter()
            .map(|(name, at, heading, read)| LaserSetUp {
                set_up: SetUp { name: (*name).to_owned(), readings: read.iter().map(reading).collect() },
                at: at.map(|(x, y)| place(x, y)),
                heading: heading.map(Angle::deg),
            })
            .collect(),
        places: places.iter().map(|&(name, x, y)| (name.to_owned(), place(x, y))).collect(),
    }
}

fn good() -> Laser {
    Laser {
        reading: Length::mm(1.0),
        plane: Slope::mm_per_m(0.1),
        cone: Slope::mm_per_m(0.05),
        sight_longest: Length::m(50.0),
    }
}

fn point<'a>(found: &'a Survey, name: &str) -> &'a super::super::PointHeight {
    found.heights.iter().find(|h| h.name == name).expect("it was read")
}

/// The public booking example of reference WE-13, as set-ups of a laser: 100.55, 99.75, 99.60, 99.20, 99.40.
#[test]
fn truth_a_laser_makes_the_level_book() {
    let set_ups = [
        ("1", None, None, vec![("BM", 2.50), ("C1", 1.95)]),
        ("2", None, None, vec![("C1", 1.75), ("P", 2.55), ("Q", 2.70), ("C2", 3.10)]),
        ("3", None, None, vec![("C2", 2.95), ("End", 2.75)]),
    ];
    let found = laser(&survey(good(), ("BM", 100.0), &[], &set_ups)).expect("sound");
    for (name, level) in [("C1", 100.55), ("P", 99.75), ("Q", 99.60), ("C2", 99.20), ("End", 99.40)] {
        assert!((point(&found, name).height.as_m() - level).abs() < ROUNDING_M, "{name}");
    }
}

/// A public document on differential levelling (reference WE-36): BM 820.00 ft, 8.42 and 1.20 give 827.22 ft.
#[test]
fn truth_a_laser_in_feet() {
    let feet = |ft: f64| Length::feet(ft).as_m();
    let set_ups = [("1", None, None, vec![("BM", feet(8.42)), ("X", feet(1.20))])];
    let found = laser(&survey(good(), ("BM", feet(820.0)), &[], &set_ups)).expect("sound");
    assert!((point(&found, "X").height.as_ft() - 827.22).abs() < 1e-6);
}

/// Surveying texts (reference SV-09): at 100 m a level line reads 0.67 mm too much, at 30 m 0.06 mm.
#[test]
fn truth_curvature_and_refraction_at_a_hundred_metres() {
    let mut far = good();
    far.sight_longest = Length::m(100.0);
    let mut asked = survey(
        far,
        ("near", 0.0),
        &[],
        &[("1", None, None, vec![("near", 1.0), ("far", 1.0), ("thirty", 1.0)])],
    );
    for (i, d) in [0.0, 100.0, 30.0].into_iter().enumerate() {
        asked.set_ups[0].set_up.readings[i].distance = Some(Length::m(d));
    }
    let found = laser(&asked).expect("sound");
    assert!((point(&found, "far").height.as_mm() - 0.67).abs() < 0.005);
    assert!((point(&found, "thirty").height.as_mm() - 0.06).abs() < 0.005);
}

/// Datum 10 m before the laser and a point 10 m behind it: 1 + 1 mm² of reading, (20 m × 0.1 mm/m)² of the plane,
/// nothing of the cone, which lifts both: √6 mm. A point beside the datum, at the same place: √2 mm.
#[test]
fn hand_points_across_the_laser_bear_the_plane_twice() {
    let places = [("d", 10.0, 0.0), ("beside", 10.0, 0.001), ("behind", -10.0, 0.0), ("out", 20.0, 0.0)];
    let read = vec![("d", 1.0), ("beside", 1.0), ("behind", 1.0), ("out", 1.0)];
    let found =
        laser(&survey(good(), ("d", 0.0), &places, &[("1", Some((0.0, 0.0)), None, read)])).expect("sound");
    let expected = [("behind", 6.0), ("beside", 2.0), ("out", 2.0 + 1.0 + 0.25)];
    for (name, square) in expected {
        let mm = point(&found, name).deviation.as_mm();
        assert!((mm * mm - square).abs() < 1e-4, "{name}: {mm}");
    }
    assert_eq!(found.plane.len(), 3);
    let [.., plane] = &findings(&found)[..] else { panic!("a finding on the plane") };
    assert_eq!((plane.code, plane.standing), ("survey.plane", Standing::NotKnown));
}

/// Ground at known heights, read by a laser that leans 0.8 mm/m, end for end: the heights come back, and the lean.
/// Read from one side only they are out by up to 16 mm.
#[test]
fn law_read_end_for_end_a_leaning_laser_gives_the_ground() {
    let places = [("a", 10.0, 0.0), ("b", -10.0, 2.0), ("c", 3.0, 9.0), ("d", -2.0, -9.0)];
    let ground = [0.0, 0.12, -0.05, 0.07];
    let lean = 0.8e-3;
    let read = |turn: f64| -> Vec<(&str, f64)> {
        let reading = |(&(name, x, _), height): (&(&'static str, f64, f64), f64)| {
            (name, 1.5 + lean * turn * x - height)
        };
        places.iter().zip(ground).map(reading).collect()
    };
    let mut poor = good();
    poor.plane = Slope::mm_per_m(1.0);
    let at = Some((0.0, 0.0));
    let both = [("1", at, Some(0.0), read(1.0)), ("2", at, Some(180.0), read(-1.0))];
    let found = laser(&survey(poor, ("a", 0.0), &places, &both)).expect("sound");
    for ((name, ..), height) in places.iter().zip(ground) {
        assert!((point(&found, name).height.as_mm() - height * 1e3).abs() < 0.1, "{name}");
    }
    assert!((found.plane[0].slope.as_mm_per_m() - 0.8).abs() < 0.01, "{:?}", found.plane);
    let plane = findings(&found).into_iter().find(|f| f.code == "survey.plane").expect("told");
    assert_eq!(plane.standing, Standing::Inside, "{plane:?}");
    // The same laser, said to be ten times better than it is, is past its limit.
    let found = laser(&survey(good(), ("a", 0.0), &places, &both)).expect("sound");
    let plane = findings(&found).into_iter().find(|f| f.code == "survey.plane").expect("told");
    assert_eq!(plane.standing, Standing::PastLimit, "{plane:?}");
    let once = laser(&survey(poor, ("a", 0.0), &places, &both[..1])).expect("sound");
    assert!((point(&once, "b").height.as_mm() - 120.0).abs() > 15.0);
}

/// Leaving out headings, places of set-ups or places of points never makes a height better known.
#[test]
fn law_knowing_less_of_the_laser_lowers_no_deviation() {
    let places = [("a", 9.0, 1.0), ("b", -7.0, 2.0), ("c", 3.0, 8.0), ("d", -2.0, -9.0), ("e", 1.0, 1.5)];
    let read: Vec<(&str, f64)> = places.iter().map(|p| (p.0, 1.0)).collect();
    let set_ups = [
        ("1", Some((0.0, 0.0)), Some(0.0), read.clone()),
        ("2", Some((4.0, -3.0)), Some(140.0), read[1..].to_vec()),
        ("3", Some((-5.0, 3.0)), Some(260.0), read[2..].to_vec()),
    ];
    let whole = survey(good(), ("a", 0.0), &places, &set_ups);
    let mut less = vec![whole.clone(), whole.clone(), whole.clone(), whole.clone()];
    less[0].set_ups[1].heading = None;
    less[1].set_ups.iter_mut().for_each(|s| s.heading = None);
    less[2].set_ups[0].at = None;
    less[3].places.remove("e");
    let best = laser(&whole).expect("sound");
    for worse in less {
        let worse = laser(&worse).expect("sound");
        for (a, b) in best.heights.iter().zip(&worse.heights) {
            assert!(b.deviation.as_m() >= a.deviation.as_m() - 1e-12, "{a:?} {b:?}");
        }
    }
}

/// With a plane and a cone of next to nothing a laser is a level; a shift of the datum shifts every height; a
/// reading more that fits raises no deviation; the order of readings does not matter.
#[test]
fn law_a_perfect_laser_is_a_level() {
    let places = [("a", 9.0, 1.0), ("b", -7.0, 2.0), ("c", 3.0, 8.0)];
    let set_ups = [
        ("1", Some((0.0, 0.0)), None, vec![("a", 1.2), ("b", 1.31), ("c", 1.0)]),
        ("2", Some((2.0, 2.0)), None, vec![("b", 1.51), ("c", 1.2)]),
    ];
    let mut perfect = good();
    perfect.plane = Slope::mm_per_m(1e-4);
    perfect.cone = Slope::mm_per_m(1e-4);
    let asked = survey(perfect, ("a", 5.0), &places, &set_ups);
    let found = laser(&asked).expect("sound");
    let mut booked: Vec<SetUp> = asked.set_ups.iter().map(|s| s.set_up.clone()).collect();
    for (set_up, standing) in booked.iter_mut().zip(&asked.set_ups) {
        for reading in &mut set_up.readings {
            let (from, to) = (standing.at.expect("placed"), asked.places[&reading.point]);
            reading.distance = Some(Length::m(maths::hypot((to.x - from.x).as_m(), (to.y - from.y).as_m())));
        }
    }
    let level = staff(&StaffSurvey {
        instrument: Instrument {
            reading: perfect.reading,
            line_of_sight: Slope::ZERO,
            sight_longest: perfect.sight_longest,
        },
        fixed: asked.fixed.clone(),
        set_ups: booked,
        places: BTreeMap::new(),
    })
    .expect("sound");
    for (a, b) in found.heights.iter().zip(&level.heights) {
        // 1e-4 mm/m over some 20 m leaves 2e-6 m.
        assert!((a.height - b.height).as_m().abs() < 1e-5 && (a.deviation - b.deviation).as_m().abs() < 1e-5);
    }
    let mut shifted = asked.clone();
    shifted.fixed[0].height = Length::m(7.0);
    shifted.set_ups[0].set_up.readings.reverse();
    let shifted = laser(&shifted).expect("sound");
    for (a, b) in found.heights.iter().zip(&shifted.heights) {
        assert!(((b.height - a.height).as_m() - 2.0).abs() < ROUNDING_M);
        assert!((b.deviation - a.deviation).as_m().abs() < ROUNDING_M);
    }
    let mut more = asked.clone();
    let again = more.set_ups[0].set_up.readings[1].clone();
    more.set_ups[0].set_up.readings.push(again);
    let more = laser(&more).expect("sound");
    for (a, b) in found.heights.iter().zip(&more.heights) {
        assert!(b.deviation.as_m() <= a.deviation.as_m() + ROUNDING_M);
    }
}

#[test]
fn refuse_lasers() {
    let read = vec![("a", 1.0), ("b", 1.0)];
    let set_ups = [("1", Some((0.0, 0.0)), None, read)];
    let said = |laser_is: Laser| {
        laser(&survey(laser_is, ("a", 0.0), &[("a", 1.0, 0.0), ("b", 2.0, 0.0)], &set_ups))
            .expect_err("refused")
            .to_string()
    };
    let with = |plane: f64, cone: f64| Laser {
        plane: Slope::mm_per_m(plane),
        cone: Slope::mm_per_m(cone),
        ..good()
    };
    assert!(said(with(f64::NAN, 0.1)).contains("not a number"));
    assert!(said(with(0.0, 0.1)).contains("above nothing"));
    assert!(said(with(0.1, 11.0)).contains("no more than 10"));
    let far = survey(good(), ("a", 0.0), &[("a", 101.0, 0.0)], &set_ups);
    assert!(laser(&far).is_err());
    let loose = survey(good(), ("z", 0.0), &[], &set_ups);
    assert!(laser(&loose).expect_err("no datum read").to_string().contains("No chain"));
}
