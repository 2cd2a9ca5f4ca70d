//! A way onto the legs passes, and broken ones are refused for their stated reasons.

use crate::reading::{file, files, folder, list, text};
use serde_json::Value;
use std::collections::BTreeSet;
use tober_fit::reach::{self, Axle, Jack, Leg, Pose, Question, Refusal, Stood, Wants};
use tober_fit::supports::Load;
use tober_quantity::{Angle, Force, Length, Moment, Stiffness};

/// The stiffness of a hitch jack where the file gives none.
const JACK_N_PER_M: f64 = 1e8;

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("no number `{key}` in {value}"))
}
fn metres(value: &Value, key: &str) -> Length {
    Length::m(number(value, key))
}
fn rated(value: &Value) -> Option<Force> {
    value["rated_N"].as_f64().map(Force::n)
}
fn newtons(values: &Value) -> Vec<Force> {
    values.as_array().expect("a list").iter().map(|n| Force::n(n.as_f64().expect("a number"))).collect()
}
fn stood(value: &Value, top: &str) -> Stood {
    let stiffness = value["k_N_per_m"].as_f64().unwrap_or(JACK_N_PER_M);
    Stood {
        x: metres(value, "x_m"),
        y: metres(value, "y_m"),
        stiffness: Stiffness::n_per_m(stiffness),
        top: metres(value, top),
    }
}

fn question(value: &Value) -> Question {
    let (jack, load) = (&value["jack"], &value["load"]);
    let axle = |axle: &Value| Axle {
        name: text(axle, "id").to_owned(),
        wheels: [stood(&axle["wheels"][0], "top_m"), stood(&axle["wheels"][1], "top_m")],
        rated: rated(axle),
    };
    let leg = |leg: &Value| Leg {
        name: text(leg, "id").to_owned(),
        stood: stood(leg, "seat_m"),
        wants: match text(leg, "held") {
            "screw" => Wants::Screw { shortest: metres(leg, "shortest_m") },
            _ => Wants::Above(metres(leg, "overlift_m")),
        },
        drawn_up: leg["drawn_up_m"].as_f64().map(Length::m),
        rated: rated(leg),
    };
    Question {
        axles: list(value, "axles").iter().map(axle).collect(),
        jack: Jack {
            shortest: stood(jack, "lowest_m"),
            longest: metres(jack, "lowest_m") + metres(jack, "travel_m"),
            rated: rated(jack),
        },
        legs: list(value, "legs").iter().map(leg).collect(),
        load: Load {
            weight: Force::n(number(load, "W_N")),
            x: metres(load, "x_m"),
            y: metres(load, "y_m"),
            about_x: Moment::ZERO,
            about_y: Moment::ZERO,
        },
    }
}

fn poses(value: &Value) -> Vec<Pose> {
    let pose = |pose: &Value| Pose {
        jack: pose["jack_m"].as_f64().map(Length::m),
        legs: list(pose, "legs_m").iter().map(|top| top.as_f64().map(Length::m)).collect(),
        height: metres(pose, "z_at_origin_m"),
        about_x: Angle::rad(number(pose, "theta_x_rad")),
        about_y: Angle::rad(number(pose, "theta_y_rad")),
        wheel_loads: list(pose, "wheels_N")
            .iter()
            .map(|sides| newtons(sides).try_into().expect("two sides"))
            .collect(),
        jack_load: Force::n(number(pose, "jack_N")),
        leg_loads: newtons(&pose["legs_N"]),
    };
    list(value, "poses").iter().map(pose).collect()
}

fn codes(refusals: &[Refusal]) -> BTreeSet<&'static str> {
    refusals.iter().map(Refusal::code).collect()
}

/// At rest the jack at 9 m carries 40 kN (4.0 - 3.2) / (9 - 3.2) = 5.517 kN; at the end the screw at 8 m carries
/// 40 (4.0 - 0.6) / (8 - 0.6) = 18.378 kN and each rear leg half of the rest. The wheels hang in the last three poses.
#[test]
fn hand_a_way_with_a_pin_a_pin_below_and_a_screw_passes() {
    let sound = file(&folder("sound/reach/a_pin_a_pin_below_and_a_screw.json"));
    let (question, poses) = (question(&sound["question"]), poses(&sound));
    let verdict = reach::check(&question, &poses).expect("it passes");
    assert_eq!(verdict.poses, poses.len());
    assert_eq!(verdict.off_wheels, 3);
    // A newton in forty thousand: the figures in the comment are rounded.
    assert!((poses[0].jack_load.as_kn() - 5.517).abs() < 1e-3);
    let last = &poses[poses.len() - 1];
    assert!((last.leg_loads[2].as_kn() - 18.378).abs() < 1e-3);
    assert!((last.leg_loads[0].as_kn() - (40.0 - 18.378) / 2.0).abs() < 1e-3);
}

#[test]
fn refuse_every_broken_way_for_its_stated_reason_and_no_other() {
    let broken = files("broken/reach");
    assert!(broken.len() >= 30, "only {} broken ways", broken.len());
    let mut seen = BTreeSet::new();
    for (path, case) in broken {
        assert!(text(&case, "why").ends_with('.'), "{path}: say why, in a sentence");
        let stated: BTreeSet<&str> =
            list(&case, "refused_for").iter().map(|code| code.as_str().expect("a code")).collect();
        let refusals = match reach::check(&question(&case["question"]), &poses(&case)) {
            Err(refusals) => refusals,
            Ok(verdict) => panic!("{path} passed: {verdict:?}"),
        };
        assert_eq!(codes(&refusals), stated, "{path}: {refusals:?}");
        for refusal in &refusals {
            let sentence = refusal.to_string();
            assert!(sentence.ends_with('.') && sentence.len() > 20, "{path}: {sentence}");
        }
        seen.extend(codes(&refusals));
    }
    // All reasons of this checker, and six of the poses' own.
    assert_eq!(seen.len(), 23, "{seen:?}");
}

/// The reactions of a pose are the only ones: a newton more on any spring of any pose is refused.
#[test]
fn law_no_other_load_of_any_spring_passes() {
    let sound = file(&folder("sound/reach/a_pin_a_pin_below_and_a_screw.json"));
    let (question, poses) = (question(&sound["question"]), poses(&sound));
    let mut tried = 0;
    for at in 0..poses.len() {
        for spring in 0..2 + 1 + question.legs.len() {
            let mut other = poses.clone();
            let more = Force::n(1.0);
            match spring {
                0 | 1 => {
                    let load = &mut other[at].wheel_loads[0][spring];
                    *load = *load + more;
                }
                2 => other[at].jack_load = other[at].jack_load + more,
                leg => {
                    let load = &mut other[at].leg_loads[leg - 3];
                    *load = *load + more;
                }
            }
            assert!(reach::check(&question, &other).is_err(), "pose {at}, spring {spring}");
            tried += 1;
        }
    }
    assert!(tried > 50);
}

/// A frame that lies a hundredth of a millimetre elsewhere than its springs say is refused.
#[test]
fn law_no_other_lie_of_the_frame_passes() {
    let sound = file(&folder("sound/reach/a_pin_a_pin_below_and_a_screw.json"));
    let (question, poses) = (question(&sound["question"]), poses(&sound));
    for at in 0..poses.len() {
        for turn in [(1e-5, 0.0, 0.0), (0.0, 1e-5, 0.0), (0.0, 0.0, 1e-5)] {
            let mut other = poses.clone();
            let pose = &mut other[at];
            pose.height = pose.height + Length::m(turn.0);
            pose.about_x = pose.about_x + Angle::rad(turn.1);
            pose.about_y = pose.about_y + Angle::rad(turn.2);
            assert!(reach::check(&question, &other).is_err(), "pose {at}, {turn:?}");
        }
    }
}
