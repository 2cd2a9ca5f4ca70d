//! Claims on lifts: the shared winch cases, what is broken in each way, and the lifting equation's printed examples.

use serde_json::Value;
use tober_fit::lift::{
    Claim, Hand, Held, Push, Question, Refusal, Weight, by_hand, held_back, hung, layer, let_out, raised,
    rope, together,
};
use tober_quantity::{Acceleration, Angle, Force, Length, Mass, maths};

/// Computed by numpy 2.4.6 in closed form and checked by scipy 1.17.1; see the README of the shared cases.
const CASES: &str = include_str!("../../../tober-calc/tests/data/d_winch.json");

/// Half a step of the cases' lists may hide a little more than what is listed: seen up to 0.3 % at a peak inside a travel.
const BETWEEN: f64 = 0.005;

fn at(x: f64, z: f64) -> (Length, Length) {
    (Length::m(x), Length::m(z))
}

/// A case as it lies where its travel begins, and what its list says of pull and hinge.
fn case(case: &Value) -> (Question, f64, f64, bool) {
    let n = |key: &str| case[key].as_f64().expect("a number");
    let start = Angle::deg(n("phi_start_deg"));
    let (sin, cos) = (maths::sin(start.as_rad()), maths::cos(start.as_rad()));
    let placed = |e: f64, m: f64| at(e * cos - m * sin, e * sin + m * cos);
    let mass = Mass::kg(n("mass_kg"));
    let question = Question {
        pushes: Vec::new(),
        weights: vec![Weight {
            mass: (mass, mass),
            at: placed(n("cg_along_m"), n("cg_normal_m")),
            off_by: at(0.0, 0.0),
        }],
        eye: placed(n("attach_along_m"), n("attach_normal_m")),
        sheave: at(n("sheave_x_m"), n("sheave_z_m")),
        least: Angle::deg(0.0),
        most: Angle::deg(n("phi_end_deg")) - start,
        gravity: Acceleration::m_s2(n("g_m_s2")),
    };
    let rows = case["expected"]["rows"].as_array().expect("rows");
    let mut hinge = 0.0_f64;
    for row in rows.iter().filter(|row| row["slack"] == false) {
        let of = |key: &str| row[key].as_f64().expect("a number");
        hinge = hinge.max(maths::hypot(of("hinge_Hx_N"), of("hinge_Hz_N")));
    }
    let peak = case["expected"]["peak_pull_N"].as_f64().expect("a peak");
    // The lists may end before the travel does.
    let balance = case["expected"]["balance_angle_deg"].as_f64().expect("an angle");
    (question, peak, hinge, balance < n("phi_end_deg"))
}

fn claim(pull: f64, hinge: f64, never_slack: bool) -> Claim {
    Claim { pull: Force::n(pull), hinge: Force::n(hinge), never_slack }
}

#[test]
fn truth_shared_winch_cases_stand_and_one_percent_less_does_not() {
    let cases: Value = serde_json::from_str(CASES).expect("the file is JSON");
    let mut over = (0, 0);
    for one in cases["cases"].as_array().expect("a list") {
        let (question, peak, hinge, slack) = case(one);
        let (pull, most) = (peak * (1.0 + BETWEEN), hinge * (1.0 + BETWEEN));
        assert_eq!(raised(&question, &claim(pull, most, false)), Ok(()), "{}", one["id"]);
        let refused = raised(&question, &claim(peak * 0.99, most, false)).expect_err("less than there is");
        assert!(matches!(refused, Refusal::More { what: "pull of the line", .. }), "{refused}");
        let refused = raised(&question, &claim(pull, hinge * 0.99, false)).expect_err("less than there is");
        assert!(matches!(refused, Refusal::More { what: "force at the hinge", .. }), "{refused}");
        let never = raised(&question, &claim(pull, most, true));
        assert_eq!(matches!(never, Err(Refusal::Slack { .. })), slack, "{} {never:?}", one["id"]);
        over = (over.0 + i32::from(slack), over.1 + i32::from(!slack));
    }
    assert!(over.0 >= 1 && over.1 >= 1, "some go over their balance and some do not: {over:?}");
}

/// A tonne at 2 m on a level arm, the eye at 4 m, the sheave straight above the eye; 5 % on the mass and 0.1 m on the place: at rest level
/// the line holds 1.05 x 2.1 / 4 = 0.55125 t, and no more on the way down from there.
fn arm(off: f64) -> Question {
    Question {
        pushes: Vec::new(),
        weights: vec![Weight {
            mass: (Mass::kg(950.0), Mass::kg(1050.0)),
            at: at(2.0, 0.0),
            off_by: at(off, 0.0),
        }],
        eye: at(4.0, 0.0),
        sheave: at(4.0, 3.0),
        least: Angle::deg(-1.0),
        most: Angle::deg(0.0),
        gravity: Acceleration::m_s2(9.80665),
    }
}

#[test]
fn hand_tolerances_are_taken_at_their_worst() {
    let worst = 9806.65 * 0.55125;
    let hinge = 9806.65;
    assert_eq!(raised(&arm(0.1), &claim(worst, hinge, true)), Ok(()));
    let refused =
        raised(&arm(0.1), &claim(9806.65 * 0.525, hinge, true)).expect_err("without the place's tolerance");
    assert!(matches!(refused, Refusal::More { .. }), "{refused}");
    assert_eq!(raised(&arm(0.0), &claim(9806.65 * 0.525, hinge, true)), Ok(()));
}

#[test]
fn refuse_dead_points_and_questions_that_are_none() {
    let mut dead = arm(0.0);
    dead.sheave = at(6.0, 1.0);
    dead.most = Angle::deg(30.0);
    let refused = raised(&dead, &claim(1e9, 1e9, false)).expect_err("the eye passes the line to the sheave");
    assert!(matches!(refused, Refusal::Dead { .. }), "{refused}");
    let mut none = arm(0.0);
    none.weights.clear();
    assert!(matches!(raised(&none, &claim(1e9, 1e9, false)), Err(Refusal::NoQuestion(_))));
    let mut back = arm(0.0);
    back.most = Angle::deg(-2.0);
    assert!(matches!(raised(&back, &claim(1e9, 1e9, false)), Err(Refusal::NoQuestion(_))));
    let mut wild = arm(0.0);
    wild.eye = at(f64::NAN, 0.0);
    assert!(matches!(raised(&wild, &claim(1e9, 1e9, false)), Err(Refusal::NoQuestion(_))));
    assert!(matches!(raised(&arm(0.0), &claim(f64::NAN, 1e9, false)), Err(Refusal::NoQuestion(_))));
    let mut heavier = arm(0.0);
    heavier.weights[0].mass.1 = Mass::kg(900.0);
    assert!(matches!(raised(&heavier, &claim(1e9, 1e9, false)), Err(Refusal::NoQuestion(_))));
}

/// Two falls at 0.9: 0.9 + 0.81 = 1.71. RG-13: 10,000 lb on the third layer of a drum of 2.5 in with rope of 3/8 in is 6,571 lb.
#[test]
fn truth_rope_and_layer() {
    assert_eq!(rope(Force::kn(1.71), 2, 0.9, Force::kn(1.0)), Ok(()));
    assert_eq!(rope(Force::kn(3.0), 3, 1.0, Force::kn(1.0)), Ok(()));
    assert!(rope(Force::kn(1.71), 3, 0.9, Force::kn(1.0)).is_err());
    let found = Force::lbf(10_000.0 * 2.875 / 4.375);
    assert!((found.as_lbf() - 6571.0).abs() < 0.5);
    let on =
        |layer_: u32| layer(Force::lbf(10_000.0), Length::inches(2.5), Length::inches(0.375), layer_, found);
    assert_eq!(on(3), Ok(()));
    assert!(on(2).is_err());
    assert_eq!(
        hung(&[Mass::t(1.0), Mass::t(0.5)], Acceleration::m_s2(9.80665), Force::n(14_709.975)),
        Ok(())
    );
    assert!(hung(&[Mass::t(1.0)], Acceleration::m_s2(9.80665), Force::n(14_709.975)).is_err());
}

/// At 25 cm and 75 cm height, by 25 cm: all factors are 1 but that of the end at 100 cm: 0.925. Table 5 of NIOSH 94-110, p. 15: six lifts a minute
/// for two hours is 0.50, nine for eight hours 0.15 with the hands high and nothing low.
#[test]
fn truth_lifting_equation_by_its_table() {
    let hand = Hand {
        reach_cm: 25.0,
        heights_cm: (75.0, 100.0),
        twist_deg: 0.0,
        each_minute: 0.2,
        minutes: (60.0, 60.0),
        grip: 0,
    };
    let held = |one: f64, people: u32, times: f64| Held {
        one: Mass::kg(one),
        people,
        together: Mass::kg(one * times),
    };
    let one = 23.0 * 0.925;
    assert_eq!(by_hand(&hand, &held(one, 1, 1.0)), Ok(()));
    assert_eq!(by_hand(&hand, &held(one, 2, 4.0 / 3.0)), Ok(()));
    assert_eq!(by_hand(&hand, &held(one, 3, 1.5)), Ok(()));
    assert!(by_hand(&hand, &held(one, 2, 2.0)).is_err());
    assert!(by_hand(&hand, &held(23.0, 1, 1.0)).is_err());
    assert!(together(&held(one, 5, 1.5)).is_err());
    let often = Hand { each_minute: 6.0, minutes: (120.0, 40.0), ..hand };
    assert_eq!(by_hand(&often, &held(one * 0.50, 1, 1.0)), Ok(()));
    let long = Hand { each_minute: 9.0, minutes: (480.0, 0.0), ..hand };
    assert_eq!(by_hand(&long, &held(one * 0.15, 1, 1.0)), Ok(()));
    let low = Hand { heights_cm: (74.0, 99.0), ..long };
    assert_eq!(by_hand(&low, &held(0.0, 1, 1.0)), Ok(()));
    let beyond = Hand { heights_cm: (75.0, 176.0), ..hand };
    assert_eq!(by_hand(&beyond, &held(0.0, 1, 1.0)), Ok(()));
    let twisted = Hand { twist_deg: 45.0, grip: 2, ..hand };
    assert_eq!(by_hand(&twisted, &held(one * 0.856 * 0.9, 1, 1.0)), Ok(()));
    assert!(by_hand(&Hand { minutes: (481.0, 0.0), ..hand }, &held(one, 1, 1.0)).is_err());
}

/// Two falls of 0.8 under 2,250 N: R / 0.8 + R / 0.64 = 2.8125 R, so R = 800 N.
#[test]
fn hand_rope_that_runs_out() {
    let out = |claimed: f64| let_out(Force::n(2250.0), 2, 0.8, Force::n(claimed));
    assert_eq!(out(800.0), Ok(()));
    assert!(matches!(out(801.0), Err(Refusal::Differs { .. })));
    assert!(matches!(let_out(Force::n(1.0), 0, 0.8, Force::n(1.0)), Err(Refusal::NoQuestion(_))));
}

/// A tonne 2 m out on an arm of 4 m that lies level, turned up to 120 degrees. There its weight acts 1 m behind the hinge, and a check line
/// from its end to (4, sqrt 12) pulls level, 3.4641 m above the hinge: 9806.65 / 3.4641 = 2830.94 N.
#[test]
fn hand_what_holds_an_arm_past_its_balance() {
    let mass = Mass::kg(1000.0);
    let question = Question {
        pushes: Vec::new(),
        weights: vec![Weight { mass: (mass, mass), at: at(2.0, 0.0), off_by: at(0.0, 0.0) }],
        eye: at(4.0, 0.0),
        sheave: at(-3.0, 4.0),
        least: Angle::deg(30.0),
        most: Angle::deg(120.0),
        gravity: Acceleration::m_s2(9.80665),
    };
    let hold = (at(4.0, 0.0), at(4.0, 12.0_f64.sqrt()));
    assert_eq!(held_back(&question, hold, Force::n(2830.95)), Ok(()));
    let said = held_back(&question, hold, Force::n(2829.0));
    assert!(matches!(said, Err(Refusal::More { .. })), "{said:?}");
    // Through the hinge it holds nothing.
    let said = held_back(&question, (at(4.0, 0.0), at(0.0, 0.0)), Force::n(1e9));
    assert!(matches!(said, Err(Refusal::Dead { .. })), "{said:?}");
}

/// An arm that stands upright from 60 degrees on, its weight on itself: at 90 degrees it asks for nothing, and a push of 200 N 3 m up
/// for 600 N m; from its end at 4 m to (-3, 4) the line has a lever of 4 m: 150 N. The weight alone asks for most at 60 degrees: 9806.65 x 1 N m over
/// the lever there: eye (2, 3.4641), line (-5, 0.5359), (2 x 0.5359 + 3.4641 x 5) / 5.0286 = 3.6575 m; with the push at 3 m, 2.5981 m up, 519.6 N m more.
#[test]
fn hand_a_push_adds_its_moment() {
    let mass = Mass::kg(1000.0);
    let turn = 60.0_f64.to_radians();
    let placed = |far: f64| at(far * maths::cos(turn), far * maths::sin(turn));
    let question = |newtons: f64| Question {
        pushes: vec![Push { level: Force::n(newtons), up: Force::n(0.0), at: [placed(3.0); 2] }],
        weights: vec![Weight { mass: (mass, mass), at: placed(2.0), off_by: at(0.0, 0.0) }],
        eye: placed(4.0),
        sheave: at(-3.0, 4.0),
        least: Angle::deg(0.0),
        most: Angle::deg(30.0),
        gravity: Acceleration::m_s2(9.80665),
    };
    let lever =
        (2.0 * (4.0 - 12.0_f64.sqrt()) + 12.0_f64.sqrt() * 5.0) / maths::hypot(5.0, 4.0 - 12.0_f64.sqrt());
    let pull = |push: f64| (9806.65 + push * 3.0 * 0.75_f64.sqrt()) / lever;
    let said = |push: f64, claimed: f64| raised(&question(push), &claim(claimed, 1e6, false));
    assert_eq!(said(0.0, pull(0.0)), Ok(()));
    assert_eq!(said(200.0, pull(200.0)), Ok(()));
    assert!(matches!(said(200.0, pull(190.0)), Err(Refusal::More { .. })));
    assert!(matches!(said(-1.0, 1e6), Err(Refusal::NoQuestion(_))));
}
