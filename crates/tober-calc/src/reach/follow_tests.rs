//! Poses and ways held against answers in exact rational arithmetic, and against the printed figures of real trailers.

use super::*;
use crate::reach::{Axle, JACK_STIFFNESS_N_PER_M, Jack, Leg, Question, Spring, Way};
use serde_json::Value;
use tober_quantity::{Moment, Stiffness};

/// What a reaction may be off, as a share of the weight: what the source of the cases suggests for an exact method.
const OFF: f64 = 1e-9;

fn number(value: &Value) -> f64 {
    value.as_str().map_or_else(|| value.as_f64(), |text| text.parse().ok()).expect("a number")
}

fn spring(x: f64, y: f64, k: f64, top: f64) -> Spring {
    Spring { x: Length::m(x), y: Length::m(y), stiffness: Stiffness::n_per_m(k), top: Length::m(top) }
}

/// One reference case as a trailer: its first two supports are the wheels of an axle, the third is the hitch jack, the others
/// are legs. Springs, gaps and load are those of the case.
struct Case {
    id: String,
    question: Question,
    state: State,
    reactions: Vec<f64>,
}

/// The cases of six and eight supports in the shared `a_rigid.json` that do not tip and have one displacement.
fn cases() -> Vec<Case> {
    let text = include_str!("../../tests/data/a_rigid.json");
    let file: Value = serde_json::from_str(text).expect("the reference file is JSON");
    let mut list = Vec::new();
    for case in file["cases"].as_array().expect("cases") {
        let supports = case["supports"].as_array().expect("supports");
        if supports.len() < 6 || case["expected"]["displacement_unique"] != Value::Bool(true) {
            continue;
        }
        let springs: Vec<Spring> = supports
            .iter()
            .map(|s| {
                spring(number(&s["x_m"]), number(&s["y_m"]), number(&s["k_N_per_m"]), -number(&s["gap_m"]))
            })
            .collect();
        let load = &case["load"];
        let leg = |spring: &Spring| Leg {
            name: String::new(),
            spring: *spring,
            way: Way::LegAndSleeve,
            overlift: Length::ZERO,
            drawn_up: None,
            rated: None,
        };
        list.push(Case {
            id: case["id"].as_str().expect("an id").to_owned(),
            state: State {
                jack: Some(springs[2].top.si()),
                legs: springs[3..].iter().map(|s| Some(s.top.si())).collect(),
            },
            question: Question {
                axles: vec![Axle { name: String::new(), wheels: [springs[0], springs[1]], rated: None }],
                jack: Jack {
                    lowest: springs[2],
                    travel: Length::m(1.0),
                    packing: Length::ZERO,
                    ground: Length::ZERO,
                    rated: None,
                    start: Length::ZERO,
                },
                legs: springs[3..].iter().map(leg).collect(),
                load: Load {
                    down: Force::n(number(&load["W_N"])),
                    x: Length::m(number(&load["x_m"])),
                    y: Length::m(number(&load["y_m"])),
                    moment_x: Moment::nm(number(&load["Mx_Nm"])),
                    moment_y: Moment::nm(number(&load["My_Nm"])),
                },
            },
            reactions: case["expected"]["reactions_N"]
                .as_array()
                .expect("reactions")
                .iter()
                .map(number)
                .collect(),
        });
    }
    list
}

fn loads(pose: &Pose) -> Vec<f64> {
    let mut all: Vec<f64> = pose.wheel_loads.iter().flatten().map(|load| load.si()).collect();
    all.push(pose.jack_load.si());
    all.extend(pose.leg_loads.iter().map(|load| load.si()));
    all
}

fn same(case: &Case, pose: &Pose) {
    let most = OFF * case.question.load.down.si();
    for (found, exact) in loads(pose).iter().zip(&case.reactions) {
        assert!((found - exact).abs() < most, "{}: {found} N, exactly {exact} N", case.id);
    }
}

/// Evidence: exact rational reactions of the shared file `a_rigid.json`, beside the tests of the support loads.
#[test]
fn truth_a_pose_of_wheels_jack_and_legs_carries_what_exact_arithmetic_gives() {
    let cases = cases();
    assert_eq!(cases.len(), 9);
    for case in &cases {
        let pose = Rig::new(&case.question).pose(&case.state).expect("asked").expect("it stands");
        same(case, &pose);
    }
}

/// The hitch jack comes from 100 mm below and from 100 mm above: every break on the way is passed, and what it ends in is the
/// exact answer of `a_rigid.json`.
#[test]
fn truth_the_hitch_jack_wound_from_below_and_above_ends_in_the_exact_pose() {
    let mut breaks = 0;
    for case in &cases() {
        let to = case.state.jack.expect("a jack");
        for off in [-0.1, 0.1] {
            let from = State { jack: Some(to + off), ..case.state.clone() };
            let track = Rig::new(&case.question).follow(&from, Wound::Jack, to).expect("asked");
            if track.stop == Some(Stop::Rocks) {
                continue;
            }
            assert_eq!(track.stop, None, "{}", case.id);
            same(case, track.poses.last().expect("a pose"));
            breaks += track.poses.len() - 2;
        }
    }
    assert!(breaks > 20, "only {breaks} breaks were passed");
}

/// The same for each leg in turn, as a screw: 60 mm from below.
#[test]
fn truth_a_screw_wound_from_below_ends_in_the_exact_pose() {
    let mut ways = 0;
    for case in &cases() {
        for leg in 0..case.question.legs.len() {
            let to = case.state.legs[leg].expect("a leg");
            let mut from = case.state.clone();
            from.legs[leg] = Some(to - 0.06);
            let track = Rig::new(&case.question).follow(&from, Wound::Leg(leg), to).expect("asked");
            if track.stop == Some(Stop::Rocks) {
                continue;
            }
            same(case, track.poses.last().expect("a pose"));
            ways += 1;
        }
    }
    assert!(ways > 20, "only {ways} ways");
}

/// A trailer on one axle at `axle_x` and its hitch jack at `jack_x`, in metres and newtons.
fn on_one_axle(weight: f64, x: f64, axle_x: f64, jack_x: f64) -> Question {
    let wheel = |y| spring(axle_x, y, 4e5, 0.8);
    Question {
        axles: vec![Axle { name: String::new(), wheels: [wheel(0.9), wheel(-0.9)], rated: None }],
        jack: Jack {
            lowest: spring(jack_x, 0.0, JACK_STIFFNESS_N_PER_M, 0.5),
            travel: Length::m(0.5),
            packing: Length::ZERO,
            ground: Length::ZERO,
            rated: None,
            start: Length::m(0.75),
        },
        legs: Vec::new(),
        load: Load::weight(Force::n(weight), Length::m(x), Length::ZERO),
    }
}

fn jack_share(question: &Question) -> f64 {
    let state = State { jack: Some(0.75), legs: Vec::new() };
    let pose = Rig::new(question).pose(&state).expect("asked").expect("it stands");
    pose.jack_load / question.load.down
}

/// Inches to metres.
const INCH_M: f64 = 0.0254;
/// Pounds of weight to newtons.
const POUND_N: f64 = 4.448_221_6;

/// A trailer-parts supplier's two worked examples (reference WE-25): 264 in from coupling to axle; tongue 1,025 lb and wheels 7,200 lb are
/// 12.46 % on the tongue, 300 and 8,200 lb are 3.5 %, to the last figure printed. The page's rule for moving the axle is not held
/// here: it leaves the 264 in as they are, and a pose does not.
#[test]
fn truth_the_jack_carries_the_tongue_share_of_two_printed_examples() {
    for (tongue, wheels, printed, off) in [(1025.0, 7200.0, 0.1246, 5e-5), (300.0, 8200.0, 0.035, 5e-4)] {
        let (apart, weight) = (264.0 * INCH_M, (tongue + wheels) * POUND_N);
        let share = jack_share(&on_one_axle(weight, apart * tongue / (tongue + wheels), 0.0, apart));
        assert!((share - printed).abs() < off, "{share}");
    }
}

/// A low-loader of 60 t on public pages of the trade (reference WE-35): 8 m from kingpin to axles, the weight 2 m behind the kingpin: 45 t on
/// the kingpin, here the hitch jack, and 15 t on the axles.
#[test]
fn truth_the_jack_and_the_axles_share_a_low_loader_as_printed() {
    let question = on_one_axle(60_000.0 * 9.81, 6.0, 0.0, 8.0);
    let share = jack_share(&question);
    assert!((share * 60.0 - 45.0).abs() < 1e-6 && ((1.0 - share) * 60.0 - 15.0).abs() < 1e-6, "{share}");
}

/// Between two neighbouring poses of a way everything is on a straight line: the pose half-way is half of both.
#[test]
fn law_between_two_breaks_everything_is_linear() {
    for case in &cases() {
        let to = case.state.jack.expect("a jack");
        let from = State { jack: Some(to - 0.05), ..case.state.clone() };
        let mut rig = Rig::new(&case.question);
        let track = rig.follow(&from, Wound::Jack, to).expect("asked");
        for pair in track.poses.windows(2) {
            let jack = |pose: &Pose| pose.jack.expect("a jack").si();
            let middle = State { jack: Some((jack(&pair[0]) + jack(&pair[1])) / 2.0), ..from.clone() };
            let pose = rig.pose(&middle).expect("asked").expect("it stands");
            let ends = loads(&pair[0]).into_iter().zip(loads(&pair[1]));
            for (half, (a, b)) in loads(&pose).into_iter().zip(ends) {
                let off = (half - (a + b) / 2.0).abs();
                assert!(off < OFF * case.question.load.down.si(), "{}: off by {off} N", case.id);
            }
        }
    }
}

/// Wound down and wound up again, every pose comes back.
#[test]
fn law_a_way_back_passes_the_same_breaks() {
    for case in &cases() {
        let to = case.state.jack.expect("a jack");
        let from = State { jack: Some(to - 0.05), ..case.state.clone() };
        let mut rig = Rig::new(&case.question);
        let there = rig.follow(&from, Wound::Jack, to).expect("asked");
        if there.stop.is_some() {
            continue;
        }
        let back = rig.follow(&case.state, Wound::Jack, to - 0.05).expect("asked");
        assert_eq!(there.poses.len(), back.poses.len(), "{}", case.id);
        for (a, b) in there.poses.iter().zip(back.poses.iter().rev()) {
            let apart = (a.jack.expect("a jack") - b.jack.expect("a jack")).abs();
            assert!(apart.si() < 1e-8, "{}: breaks {} m apart", case.id, apart.si());
        }
    }
}
