//! Calculations through the command: from a file or a stream, one question or many in one process.

use crate::folder::{Folder, run, run_with, said};
use serde_json::{Value, json};
use std::fs;

/// Computed by OR-Tools CP-SAT 9.15 and HiGHS 1.16, which agree; see the README beside the file.
const PACKING: &str = include_str!("../../../tober-calc/tests/data/c_packing.json");
/// Exact rational arithmetic, confirmed by OSQP 1.1.3, Clarabel 0.11.1, SciPy 1.17.1, PyNiteFEA 3.2.0 and OpenSees 3.7.1.
const RIGID: &str = include_str!("../../../tober-calc/tests/data/a_rigid.json");

/// Reactions agree to this share of the load: the cases' own figure for an exact method.
const REACTION_SHARE: f64 = 1e-9;

fn cases(text: &str) -> Value {
    serde_json::from_str::<Value>(text).expect("the file is JSON")["cases"].take()
}

/// The answers to a list of cases on standard input, in one process.
fn answered(name: &str, cases: &Value) -> Vec<Value> {
    let out = run_with(&["calc", name], cases.to_string().as_bytes());
    assert_eq!(out.stdout.last(), Some(&b'\n'));
    let answers: Value = serde_json::from_slice(&out.stdout).expect("it prints JSON");
    answers.as_array().expect("a list for a list").clone()
}

#[test]
fn truth_shared_packing_cases_through_the_command_in_one_process() {
    let cases = cases(PACKING);
    let answers = answered("packing", &cases);
    let cases = cases.as_array().expect("a list");
    assert_eq!((cases.len(), answers.len()), (24, 24));
    for (case, answer) in cases.iter().zip(&answers) {
        let (expected, result) = (&case["expected"], &answer["result"]);
        assert_eq!(result["feasible"], expected["feasible"], "{}", case["id"]);
        if expected["feasible"] == true {
            for key in ["max_lift_01mm", "boards"] {
                assert!(expected[key].is_i64(), "the case {} has a {key}", case["id"]);
                assert_eq!(result[key], expected[key], "{key} of {}", case["id"]);
            }
        }
    }
}

#[test]
fn truth_shared_rigid_cases_through_the_command_in_one_process() {
    let cases = cases(RIGID);
    let answers = answered("supports", &cases);
    let cases = cases.as_array().expect("a list");
    assert_eq!((cases.len(), answers.len()), (24, 24));
    let (mut worst, mut compared) = (0.0_f64, 0);
    for (case, answer) in cases.iter().zip(&answers) {
        let (expected, result) = (&case["expected"], &answer["result"]);
        assert_eq!(result["equilibrium"], expected["equilibrium"], "{}", case["id"]);
        if expected["equilibrium"] == false {
            continue;
        }
        assert_eq!(result["lifted"], expected["lifted"], "{}", case["id"]);
        let weight: f64 = case["load"]["W_N"].as_str().expect("a decimal").parse().expect("a number");
        let of = |value: &Value| -> Vec<f64> {
            let listed = value["reactions_N"].as_array().expect("reactions");
            listed.iter().map(|r| r.as_f64().expect("a number")).collect()
        };
        let (found, wanted) = (of(result), of(expected));
        assert_eq!(found.len(), wanted.len(), "{}", case["id"]);
        for (found, wanted) in found.iter().zip(wanted) {
            worst = worst.max((found - wanted).abs() / weight);
            compared += 1;
        }
    }
    assert!(worst <= REACTION_SHARE && compared > 60, "{compared} compared, worst {worst:e} of the load");
}

#[test]
fn law_calc_reads_a_file_or_standard_input_alike() {
    let demo = Folder::with_demo("calc");
    let question = r#"[{"rules": "gust at the ride", "gust": "20 m/s"}, {"rules": "nonsense"}]"#;
    let file = demo.path("question.json");
    fs::write(&file, question).expect("it can be written");
    let of_file = run(&["calc", "wind-pressure", &file]);
    let of_stream = run_with(&["calc", "wind-pressure"], question.as_bytes());
    assert_eq!(of_file.stdout, of_stream.stdout);
    assert_eq!((of_file.status.code(), of_stream.status.code()), (Some(2), Some(2)), "one question is wrong");
    let answers: Value = serde_json::from_slice(&of_file.stdout).expect("JSON");
    // 0.5 × 1.25 kg/m³ × (20 m/s)² = 250 Pa.
    assert_eq!(answers[0]["result"]["pressure_Pa"], 250.0);
    assert!(answers[1]["error"]["message"].as_str().is_some_and(|m| m.contains("EN 1991-1-4")));
}

#[test]
fn law_status_of_a_calculation_is_that_of_its_worst_answer() {
    let ground = |load: &str, class: Option<&str>| {
        let mut question = json!({
            "load": load, "foot": {"along": "500 mm", "across": "500 mm"},
            "ground": {"surface": "below the topsoil", "wet": "dry", "water_depth": "3 m"},
        });
        if let Some(class) = class {
            question["ground"]["table"] = json!("IBC 2012 1806.2");
            question["ground"]["class"] = json!(class);
        }
        question
    };
    let gravel = Some("sandy gravel and gravel (GW, GP)");
    let (light, heavy, unknown) = (ground("10 kN", gravel), ground("400 kN", gravel), ground("10 kN", None));
    let status = |questions: &[&Value]| {
        let out = run_with(&["calc", "ground"], json!(questions).to_string().as_bytes());
        let answers: Value = serde_json::from_slice(&out.stdout).expect("JSON");
        assert_eq!(answers.as_array().map(Vec::len), Some(questions.len()), "{}", said(&out.stderr));
        out.status.code()
    };
    let nonsense = json!({"load": "10 kg of feathers"});
    assert_eq!(status(&[&heavy]), Some(1));
    assert_eq!(status(&[&unknown]), Some(3));
    assert_eq!(status(&[&unknown, &heavy, &light]), Some(1), "past limit is worse than not known");
    assert_eq!(status(&[&heavy, &nonsense, &unknown]), Some(2), "a question that is wrong is told first");
    assert_eq!(status(&[]), Some(0), "nothing asked, nothing wrong");
}
