//! The wind on a part on its way up or down.

use super::{TONNE_N, assert_near, part, point, travel};
use tober_calc::finding::{Finding, Measure, Standing, Subject};
use tober_calc::lift::{
    Asked, Gust, Hinged, Hold, OnPart, Over, Pushed, Raised, between_two, carried, gusts, gusts_hung,
    held_most, in_gust, over,
};
use tober_calc::working::Provenance;
use tober_quantity::{Angle, Area, Force, Length, Pressure, Quantity, Ratio, Speed, maths};

/// Rounding of a handful of sums, as a share of a tonne's weight.
const ROUNDING_N: f64 = 1e-9 * TONNE_N;
/// Halving stops here, as a share of a gust.
const HALVED: f64 = 1e-6;

/// A tonne 2 m out along an arm, an eye at 4 m, the sheave 3 m behind the hinge and 4 m up, one fall without friction.
fn arm() -> Hinged {
    part(1000.0, point(2.0, 0.0), point(4.0, 0.0), (-3.0, 4.0), 1, 1.0)
}

fn over_of(arm: &Hinged, from: f64, to: f64) -> Over {
    over(&Raised::exact(arm, "arm", Provenance::Maker), &travel(from, to, 5.0)).expect("sound")
}

fn sail(area: f64, lift: f64, at: OnPart) -> Vec<Pushed> {
    vec![Pushed { name: "sail".to_owned(), area: Area::m2(area), lift: Area::m2(lift), at: [at; 2] }]
}

fn at_100_pa() -> Gust {
    Gust { pressure: Pressure::pa(100.0), speed: Speed::m_s(10.0) }
}

fn of<'a>(all: &'a [Finding], code: &str) -> &'a Finding {
    all.iter().find(|finding| finding.code == code).expect("told")
}

/// Upright, the arm asks for nothing; 2 m2 of sail 3 m up in 100 Pa for 600 N m, and the line, level at 4 m, pulls 150 N.
#[test]
fn hand_a_sail_on_an_upright_arm() {
    let over = over_of(&arm(), 90.0, 90.0);
    let (pull, hinge) =
        in_gust(&over, &sail(2.0, 0.0, point(3.0, 0.0)), Pressure::pa(100.0), &Asked::default())
            .expect("sound")
            .expect("a pull");
    assert_near(pull.as_n(), 150.0, ROUNDING_N);
    // The hinge takes the pull and the push level, at the worst together, and the weight.
    assert_near(hinge.as_n(), maths::hypot(150.0 + 200.0, TONNE_N), ROUNDING_N);
}

/// At every angle, whatever part of the gust blows and whichever way, the pull lies within what is told.
#[test]
fn law_every_gust_up_to_the_limit_lies_in_the_band() {
    let (arm, q) = (arm(), 250.0);
    let sails = sail(3.0, 1.5, point(2.5, 0.4));
    let over = over_of(&arm, 0.0, 110.0);
    let (most, hinge) =
        in_gust(&over, &sails, Pressure::pa(q), &Asked::default()).expect("sound").expect("a pull");
    let mut near = f64::NEG_INFINITY;
    for row in &over.rows {
        let (sin, cos) = (maths::sin(row.phi.as_rad()), maths::cos(row.phi.as_rad()));
        let (x, z) = (2.5 * cos - 0.4 * sin, 2.5 * sin + 0.4 * cos);
        let (px, pz) = (4.0 * cos, 4.0 * sin);
        let long = maths::hypot(-3.0 - px, 4.0 - pz);
        let (tx, tz) = ((-3.0 - px) / long, (4.0 - pz) / long);
        let lever = px * tz - pz * tx;
        for share in [-1.0, -0.4, 0.0, 0.7, 1.0] {
            for up in [0.0, 0.5, 1.0] {
                let (push, lift) = (share * q * 3.0, up * q * 1.5);
                // About the hinge against the clock: the push turns by -z, the lift by x, the weight by -2 cos.
                let pull = (TONNE_N * 2.0 * cos + push * z - lift * x) / lever;
                near = near.max(pull);
                assert!(pull <= most.as_n() + ROUNDING_N, "{} deg: {pull} over {most:?}", row.phi.as_deg());
                if pull >= 0.0 {
                    let at_hinge = maths::hypot(-pull * tx - push, TONNE_N - lift - pull * tz);
                    assert!(at_hinge <= hinge.as_n() + ROUNDING_N, "{} deg", row.phi.as_deg());
                }
            }
        }
    }
    assert_near(near, most.as_n(), 1e-3 * TONNE_N);
}

/// What is said to be carried is used up to the last newton, and half a sail more carries less; in a calm nothing changes.
#[test]
fn law_the_gust_that_is_carried_uses_a_rating_up() {
    let over = over_of(&arm(), 0.0, 80.0);
    let calm = over.greatest_pull().expect("a pull");
    let asked = |rope: f64, hinge: f64| Asked {
        winch_rated: Some(calm * rope),
        hinge_rated: Some(Force::n(TONNE_N * hinge)),
        ..Asked::default()
    };
    for (rope, hinge, first) in [(1.2, 100.0, "the winch and its rope"), (100.0, 3.5, "the hinge")] {
        let mut before = f64::INFINITY;
        for area in [2.0, 3.0, 8.0] {
            let sails = sail(area, 0.0, point(3.0, 0.0));
            let (most, used) =
                carried(&over, &sails, &asked(rope, hinge)).expect("sound").expect("in a calm");
            assert_eq!(used, first);
            assert!(most.as_pa() < before, "{area} m2");
            before = most.as_pa();
            let (pull, at_hinge) =
                in_gust(&over, &sails, most, &Asked::default()).expect("sound").expect("a pull");
            let share = match first {
                "the hinge" => at_hinge.as_n() / (TONNE_N * hinge),
                _ => pull / (calm * rope),
            };
            assert_near(share, 1.0, HALVED);
            assert!(share <= 1.0 + 1e-12, "on the safe side");
        }
    }
    assert_eq!(carried(&over, &[], &asked(0.9, 100.0)), Ok(None), "not even in a calm");
}

/// Past its balance the gust adds to what the hold carries: at 120 degrees the weight asks for 9806.65 N m, 2 m2 at 3 m, 2.5981 m up, in 100 Pa for
/// 519.6 N m more. A hold rated for what it carries in a calm and a tenth more is used up at 980.665 / (2 x 2.5981) = 188.7 Pa.
#[test]
fn hand_a_hold_past_the_balance_in_a_gust() {
    let over = over_of(&arm(), 100.0, 120.0);
    let hold =
        Hold { at: point(4.0, 0.0), to_x: Length::m(4.0), to_z: Length::m(12.0_f64.sqrt()), rated: None };
    let calm = held_most(&over, &hold).expect("sound").expect("slack").force;
    let asked = Asked { hold: Some(Hold { rated: Some(calm * 1.1), ..hold }), ..Asked::default() };
    let found = carried(&over, &sail(2.0, 0.0, point(3.0, 0.0)), &asked).expect("sound").expect("in a calm");
    assert_near(found.0.as_pa(), 0.1 * TONNE_N / (2.0 * 3.0 * 0.75_f64.sqrt()), 1e-3);
    assert_eq!(found.1, "what holds it past its balance");
}

/// What a box of 1 by 2 m shows edge-on and face-on, a quarter turn apart, is 1 and 2 m; aslant it shows most at the diagonal, sqrt 5. At 45 degrees
/// from face to face of a square of 1 m: 1 and sqrt 2, and never more than its diagonal. Bounds are checked against every direction between.
#[test]
fn hand_what_a_box_shows_between_two_directions() {
    let shows = |a: f64, b: f64, at: f64| a * maths::sin(at).abs() + b * maths::cos(at).abs();
    let quarter = core::f64::consts::FRAC_PI_2;
    let most = between_two(Area::m2(2.0), Area::m2(1.0), Angle::deg(90.0)).expect("a bound");
    assert_near(most.si(), 5.0_f64.sqrt(), 1e-12);
    for (from, to) in [(0.0, quarter), (0.2, 1.1), (-0.4, 0.9), (1.0, 1.3), (0.3, 2.2)] {
        let (a, b) = (shows(1.0, 2.0, from), shows(1.0, 2.0, to));
        let bound = between_two(Area::m2(a), Area::m2(b), Angle::rad(to - from)).expect("a bound").si();
        for step in 0..=1000 {
            let at = from + (to - from) * f64::from(step) / 1000.0;
            assert!(shows(1.0, 2.0, at) <= bound + 1e-12, "{from} {to} {at}");
        }
        assert!(bound <= 2.5 * a.max(b), "{from} {to}: {bound}");
    }
    assert_eq!(between_two(Area::m2(1.0), Area::m2(1.0), Angle::deg(121.0)), None);
}

/// Three tenths of its weight from the side, and it hangs on a pull of sqrt(1 + 0.09) of it. Rated for 1.25 of it, it takes 0.75 of its weight from
/// the side: 3 m2 at 0.75 x 9806.65 / 3 = 2451.7 Pa, which from 100 Pa at 10 m/s is sqrt(24.517) x 10 = 49.5 m/s.
#[test]
fn hand_a_part_that_hangs_in_a_gust() {
    let weight = Force::n(TONNE_N);
    let asked = Asked {
        winch_rated: Some(weight * 1.25),
        eye: Some(tober_calc::lift::Eye {
            kind: Some(tober_calc::lift::EyeKind::Lug),
            rated: weight * 2.0,
            axis: None,
        }),
        drum: Some(tober_calc::lift::Drum { drum: Length::m(0.2), rope: Length::m(0.01), layer: 1 }),
        ..Asked::default()
    };
    let subject = Subject::Body("sail".to_owned());
    let found = |area: f64| {
        let sails = sail(area, 0.0, point(0.0, 0.0));
        gusts_hung(&subject, (weight, weight), (1, Ratio::one(1.0)), &sails, &at_100_pa(), &asked)
            .expect("sound")
    };
    let all = found(0.3 * TONNE_N / 100.0);
    let Measure::AgainstLimit { high, .. } = of(&all, "lift.gust").measure else { panic!("a figure") };
    assert_near(high.si, 1000.0 * 1.09_f64.sqrt(), 1e-6);
    let all = found(3.0);
    let Measure::AgainstLimit { limit, .. } = of(&all, "lift.wind-most").measure else { panic!("a figure") };
    assert_near(limit.si, 10.0 * (0.75 * TONNE_N / 300.0).sqrt(), 1e-6);
    assert_eq!(of(&all, "lift.wind-most").standing, Standing::Inside);
}

/// What is not rated leaves the wind limit not known, with its figure.
#[test]
fn law_what_is_not_rated_is_not_known() {
    let over = over_of(&arm(), 0.0, 80.0);
    let sails = sail(2.0, 0.0, point(3.0, 0.0));
    let subject = Subject::Body("arm".to_owned());
    let full = Asked {
        winch_rated: over.greatest_pull().map(|pull| pull * 2.0),
        drum: Some(tober_calc::lift::Drum { drum: Length::m(0.2), rope: Length::m(0.01), layer: 1 }),
        hinge_rated: Some(Force::n(TONNE_N * 10.0)),
        eye: Some(tober_calc::lift::Eye {
            kind: Some(tober_calc::lift::EyeKind::Lug),
            rated: Force::n(TONNE_N * 10.0),
            axis: None,
        }),
        ..Asked::default()
    };
    let standing = |asked: &Asked| {
        let all = gusts(&subject, &over, &sails, &at_100_pa(), asked).expect("sound");
        of(&all, "lift.wind-most").standing
    };
    assert_eq!(standing(&full), Standing::Inside);
    for less in [
        Asked { winch_rated: None, ..full.clone() },
        Asked { hinge_rated: None, ..full.clone() },
        Asked { eye: None, ..full.clone() },
        Asked { drum: None, ..full.clone() },
    ] {
        assert_eq!(standing(&less), Standing::NotKnown);
    }
}
