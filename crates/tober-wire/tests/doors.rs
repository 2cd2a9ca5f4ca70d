//! The door to one calculation: the shared cases as they stand, lists, errors with their place, and working
//! that is read back and worked out again.

mod questions;

use questions::{PACKING, RIGID, cases, questions};
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
