//! The door to one calculation: the shared cases as they stand, lists, errors with their place, and working
//! that is read back and worked out again.

mod questions;
#[cfg(feature = "command")]
#[path = "door/riders.rs"]
mod riders;

use questions::{BEAMS, LIFTS, PACKING, RIGID, cases, questions};
use serde_json::{Value, json};
use tober_fit::working::check_line;
use tober_quantity::UnitSet;
use tober_wire::calc::{NAMES, answer};

/// Reactions agree to this share of the load: the cases' own figure for an exact method.
const REACTION_SHARE: f64 = 1e-9;

fn answered(name: &str, question: &Value) -> Value {
    answer(name, &question.to_string(), UnitSet::Metric).expect("the door opens").0
}

#[test]
fn truth_shared_packing_cases_through_the_door_as_one_list() {
    let cases = cases(PACKING);
    let answers = answered("packing", &Value::Array(cases.clone()));
    let answers = answers.as_array().expect("a list for a list");
    assert_eq!((cases.len(), answers.len()), (24, 24));
    for (case, answer) in cases.iter().zip(answers) {
        let (expected, result) = (&case["expected"], &answer["result"]);
        for key in ["feasible", "max_lift_01mm", "boards"] {
            if !expected[key].is_null() {
                assert_eq!(result[key], expected[key], "{key} of {}", case["id"]);
            }
        }
        if expected["feasible"] == true {
            let legs = case["supports"].as_array().expect("supports").len();
            for key in ["pin_index", "boards_by_kind"] {
                let choice = result["choice"][key].as_array().expect("a list");
                assert_eq!(choice.len(), legs, "{key} of {}", case["id"]);
            }
            assert!(result["choice"]["plane"]["C_0001mm"].is_i64(), "plane of {}", case["id"]);
        } else {
            // What was made infeasible by its stock is cured by boards; no cure ever loosens a limit (rule S1).
            let remedies: Vec<&str> = result["cures"]
                .as_array()
                .expect("cures, be it none")
                .iter()
                .filter_map(|cure| cure["remedy"].as_str())
                .collect();
            let by_boards = !remedies.is_empty() && remedies.iter().all(|remedy| *remedy == "more boards");
            assert_eq!(by_boards, case["infeasible_by"] == "inventory", "{}: {remedies:?}", case["id"]);
        }
    }
}

#[test]
fn truth_shared_rigid_cases_through_the_door_as_one_list() {
    let cases = cases(RIGID);
    let answers = answered("supports", &Value::Array(cases.clone()));
    let mut worst: f64 = 0.0;
    for (case, answer) in cases.iter().zip(answers.as_array().expect("a list for a list")) {
        let (expected, result) = (&case["expected"], &answer["result"]);
        assert_eq!(result["equilibrium"], expected["equilibrium"], "{}", case["id"]);
        if expected["equilibrium"] == false {
            continue;
        }
        assert_eq!(result["lifted"], expected["lifted"], "{}", case["id"]);
        let weight: f64 = case["load"]["W_N"].as_str().expect("a decimal").parse().expect("a number");
        let list = |value: &Value| -> Vec<f64> {
            value["reactions_N"].as_array().expect("reactions").iter().filter_map(Value::as_f64).collect()
        };
        for (found, wanted) in list(result).iter().zip(list(expected)) {
            worst = worst.max((found - wanted).abs() / weight);
        }
    }
    assert!(worst <= REACTION_SHARE, "worst difference {worst:e} of the load");
}

/// The shared cases' own figures for a frame of beams: a share of the load, and metres.
const FRAME_REACTION_SHARE: f64 = 1e-8;
const FRAME_MOVE_M: f64 = 1e-9;

#[test]
fn truth_shared_frames_of_beams_through_the_door_as_they_stand() {
    let cases = cases(BEAMS);
    let answers = answered("frame", &Value::Array(cases.clone()));
    let answers = answers.as_array().expect("a list for a list");
    assert_eq!((cases.len(), answers.len()), (12, 12));
    for (case, answer) in cases.iter().zip(answers) {
        let (expected, result) = (&case["expected"], &answer["result"]);
        let total = case["total_load_N"].as_f64().expect("a number");
        for (key, wanted) in expected.as_object().expect("an object") {
            // The same key and the same shape as the case has it; the source is each one's own.
            assert!(!result[key].is_null(), "{key} of {}", case["id"]);
            match key.as_str() {
                "source" => assert!(result[key].is_string()),
                "lifted" => assert_eq!(&result[key], wanted, "{}", case["id"]),
                _ => {
                    let most = if key == "reactions_N" { FRAME_REACTION_SHARE * total } else { FRAME_MOVE_M };
                    let (found, wanted) =
                        (result[key].as_array().expect("a list"), wanted.as_array().expect("a list"));
                    assert_eq!(found.len(), wanted.len(), "{key} of {}", case["id"]);
                    for (found, wanted) in found.iter().zip(wanted) {
                        let off = found.as_f64().expect("a number") - wanted.as_f64().expect("a number");
                        assert!(off.abs() <= most, "{key} of {} is off by {off:e}", case["id"]);
                    }
                }
            }
        }
        assert_eq!(answer["findings"][0]["standing"], "inside", "{}", case["id"]);
    }
    assert_eq!(answered("frame", &cases[0]), answers[0], "one case alone is answered as in a list");
}

/// Forces and moments, N and Nm, and other figures: the cases' own suggestion, and their rounding.
const LIFT_N: f64 = 1e-4;
const LIFT_M: f64 = 1e-9;
/// Central differences lose half the digits; the cases' own worst is 1.6e-9.
const VIRTUAL_WORK_SHARE: f64 = 5e-9;

#[test]
fn truth_shared_lifts_through_the_door_as_they_stand() {
    let cases = cases(LIFTS);
    let answers = answered("lift", &Value::Array(cases.clone()));
    let answers = answers.as_array().expect("a list for a list");
    assert_eq!((cases.len(), answers.len()), (7, 7));
    let same = |key: &str, found: &Value, wanted: &Value| match wanted.as_f64() {
        None => assert_eq!(found, wanted, "{key}"),
        Some(wanted) => {
            let most = match key {
                "virtual_work_pull_N" => LIFT_N + VIRTUAL_WORK_SHARE * wanted.abs(),
                _ if key.ends_with("_N") || key.ends_with("_Nm") => LIFT_N,
                _ => LIFT_M,
            };
            let found = found.as_f64().unwrap_or_else(|| panic!("{key} is a number"));
            assert!((found - wanted).abs() <= most, "{key}: {found} and not {wanted}");
        }
    };
    let mut compared = 0;
    for (case, answer) in cases.iter().zip(answers) {
        let (expected, result) = (&case["expected"], &answer["result"]);
        for (key, wanted) in expected.as_object().expect("an object").iter().filter(|(key, _)| *key != "rows")
        {
            same(key, &result[key], wanted);
        }
        let rows = |value: &Value| value["rows"].as_array().expect("rows").clone();
        let (wanted, found) = (rows(expected), rows(result));
        assert_eq!(wanted.len(), found.len(), "{}", case["id"]);
        for (wanted, found) in wanted.iter().zip(&found) {
            // What one library said of it is that library's to say.
            let ours = |(key, _): &(&String, &Value)| *key != "scipy_root_pull_N";
            for (key, wanted) in wanted.as_object().expect("a row").iter().filter(ours) {
                same(key, &found[key], wanted);
                compared += 1;
            }
        }
    }
    assert!(compared > 2000, "only {compared} figures were there");
}

type Change<'a> = &'a dyn Fn(&mut Value);

#[test]
fn refuse_frames_that_are_none_at_their_field() {
    let sound = cases(BEAMS)[0].clone();
    let wrong = |change: &dyn Fn(&mut Value)| {
        let mut case = sound.clone();
        change(&mut case);
        let error = answered("frame", &case)["error"].clone();
        (
            error["at"].as_str().unwrap_or("no error").to_owned(),
            error["message"].as_str().unwrap_or("").to_owned(),
        )
    };
    let tries: &[(&str, &str, Change)] = &[
        ("elements[2].i", "Did you mean", &|c| c["elements"][2]["i"] = json!("L11")),
        ("elements[3].section", "the fields here are: I240", &|c| {
            c["elements"][3]["section"] = json!("I999");
        }),
        ("elements[0]", "at least", &|c| c["nodes"][2]["x_m"] = json!(0.0)),
        ("nodes[11]", "Join it", &|c| {
            c["elements"].as_array_mut().expect("a list").pop();
        }),
        ("supports", "at least three", &|c| c["supports"].as_array_mut().expect("a list").truncate(2)),
        ("supports[1]", "same node", &|c| c["supports"][1]["node"] = json!("OL0")),
        ("nodes[3].id", "a name of its own", &|c| c["nodes"][3]["id"] = json!("L0")),
        ("loads[1].Mx_N", "Did you mean `Mx_Nm`", &|c| c["loads"][1]["Mx_N"] = json!(3.0)),
        ("", "pressed down", &|c| c["loads"] = json!([{"node": "L0", "Fz_N": 5e3}])),
        ("", "stiffness", &|c| c["supports"][0]["k_N_per_m"] = json!(0)),
    ];
    for (at, part, change) in tries {
        let (found, message) = wrong(change);
        assert_eq!(found, *at, "{message}");
        assert!(message.contains(part), "{message}");
    }
    // All members without torsion: it folds like paper along every line of joints.
    let (at, message) = wrong(&|c| c["sections"]["I240"]["J_m4"] = json!(0));
    assert!(at.starts_with("nodes[") && message.contains("mechanism"), "{at}: {message}");
}

#[test]
fn law_a_frame_of_beams_that_tips_is_said_to_tip() {
    let mut case = cases(BEAMS)[0].clone();
    case["loads"] = json!([{"node": "OR0", "Fz_N": -1e4, "My_Nm": -5e4}]);
    let answer = answered("frame", &case);
    assert_eq!(answer["result"]["equilibrium"], false);
    assert!(answer["result"]["resultant_margin_inside_hull_m"].as_f64().expect("a number") < -1.0);
    assert_eq!(answer["findings"][0]["standing"], "past-limit");
}

#[test]
fn refuse_lifts_that_are_none_at_their_field() {
    let tries: &[(&str, &str, Change)] = &[
        ("mass_kg", "must be a number from 0", &|c| c["mass_kg"] = json!(-1)),
        ("sheave_efficiency", "from 0.5 to 1", &|c| c["sheave_efficiency"] = json!(95)),
        ("falls", "a whole number from 1 to 20", &|c| c["falls"] = json!(2.5)),
        ("step_deg", "step", &|c| c["step_deg"] = json!(0)),
        ("winch.layer", "a whole number", &|c| c["winch"]["layer"] = json!("full")),
        ("winch.drum_m", "from 0.01 to 2", &|c| c["winch"]["drum_m"] = json!(90)),
        ("cg_along", "Did you mean `cg_along_m`", &|c| c["cg_along"] = json!(3)),
    ];
    for (at, part, change) in tries {
        let mut case = questions::lift();
        change(&mut case);
        let error = &answered("lift", &case)["error"];
        assert_eq!(error["at"], *at, "{error}");
        assert!(error["message"].as_str().is_some_and(|m| m.contains(part)), "{error}");
    }
}

/// What may be left out is a limit: without it no finding stands better.
#[test]
fn law_a_lift_that_tells_less_is_not_found_better() {
    let worse = ["inside", "close", "past-limit", "not-known"];
    let standings = |case: &Value| -> Vec<usize> {
        let answer = answered("lift", case);
        let found = answer["findings"].as_array().expect("findings");
        let rank = |f: &Value| worse.iter().position(|word| f["standing"] == *word).expect("a standing");
        found.iter().map(rank).collect()
    };
    let full = standings(&questions::lift());
    for key in ["winch", "hinge_rated_N", "held_back_by"] {
        let mut less = questions::lift();
        less.as_object_mut().expect("an object").remove(key);
        let less = standings(&less);
        assert!(full.iter().zip(&less).all(|(full, less)| less >= full), "{key}: {full:?} {less:?}");
        assert_ne!(full, less, "{key}");
    }
    for key in ["rated_N", "drum_m", "rope_m", "layer"] {
        let mut less = questions::lift();
        less["winch"].as_object_mut().expect("an object").remove(key);
        assert!(standings(&less)[1] >= full[1], "{key}");
    }
}

#[test]
fn law_every_printed_line_of_every_calculation_adds_up() {
    let mut checked = 0;
    let shared = [("packing", PACKING), ("supports", RIGID)]
        .into_iter()
        .flat_map(|(name, text)| cases(text).into_iter().map(move |case| (name, case)));
    for (name, question) in questions().into_iter().chain(shared) {
        for units in UnitSet::ALL {
            let text = question.to_string();
            let (answer, standings) = answer(name, &text, units).expect("the door opens");
            assert_eq!(standings.errors, 0, "{name}: {answer}");
            for working in answer["working"].as_array().expect("a list of workings") {
                for line in working["lines"].as_array().expect("lines") {
                    let Some(numbers) = line["numbers"].as_str() else { continue };
                    let result = line["result"].as_str().expect("a result");
                    check_line(numbers, result)
                        .unwrap_or_else(|why| panic!("{name}: {}: {why}", line["symbols"]));
                    checked += 1;
                }
            }
        }
    }
    assert!(checked > 1500, "only {checked} lines were there to check");
}

#[test]
fn law_same_question_same_bytes_and_one_wrong_element_stops_no_other() {
    for (name, question) in questions() {
        let list = json!([question, {"nonsense": 1}, question]);
        let once = answered(name, &list);
        assert_eq!(once.to_string(), answered(name, &list).to_string(), "{name}");
        let answers = once.as_array().expect("a list");
        assert_eq!(answers.len(), 3);
        assert_eq!(answers[0], answers[2], "{name}");
        let error = answers[1]["error"].as_object().expect("the wrong one is answered by an error");
        assert!(error["at"].as_str().is_some_and(|at| at.starts_with("[1]")), "{name}: {error:?}");
        let message = error["message"].as_str().unwrap_or_default();
        assert!(message.ends_with('.') && message.len() > 20, "{name}: {message}");
    }
}

#[test]
fn refuse_with_the_place_the_value_and_what_would_be_right() {
    let mut case = cases(RIGID)[0].clone();
    case["supports"][2]["k_N_per_m"] = json!("a lot");
    let error = &answered("supports", &case)["error"];
    assert_eq!(error["at"], "supports[2].k_N_per_m");
    assert_eq!(error["message"], "`\"a lot\"` stands here; a finite number is wanted.");
    for name in NAMES {
        for text in ["", "{", "null", "7", "\"text\"", "[[]]", "{}", "[{}]", "{\"a\": 1e400}"] {
            match answer(name, text, UnitSet::Us) {
                Err(sentence) => assert!(sentence.ends_with('.'), "{sentence}"),
                Ok((_, standings)) => assert!(standings.errors > 0, "{name} takes {text}"),
            }
        }
    }
    assert!(answer("packaging", "{}", UnitSet::Metric).expect_err("no such thing").contains("packing"));
}
