//! The door to one calculation: the shared cases as they stand, lists, errors with their place, and working
//! that is read back and worked out again.

use serde_json::{Value, json};
use tober_fit::working::check_line;
use tober_quantity::UnitSet;
use tober_wire::calc::{NAMES, answer};

/// Computed by OR-Tools CP-SAT 9.15 and HiGHS 1.16, which agree; see the README beside the file.
const PACKING: &str = include_str!("../../tober-calc/tests/data/c_packing.json");
/// Exact rational arithmetic, confirmed by OSQP 1.1.3, Clarabel 0.11.1, SciPy 1.17.1, PyNiteFEA 3.2.0 and OpenSees 3.7.1.
const RIGID: &str = include_str!("../../tober-calc/tests/data/a_rigid.json");

/// Reactions agree to this share of the load: the cases' own figure for an exact method.
const REACTION_SHARE: f64 = 1e-9;

fn cases(text: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(text).expect("the file is JSON");
    file["cases"].as_array().expect("it has cases").clone()
}

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

/// One small invented question for each calculation.
fn questions() -> Vec<(&'static str, Value)> {
    let contact = |name: &str, x: &str, y: &str| json!({"name": name, "x": x, "y": y, "z": "-0.9 m"});
    vec![
        (
            "survey",
            json!({
                "method": "tape", "slope_along": ["2 mm/m", "2.4 mm/m"], "slope_across": ["0 mm/m", "0.3 mm/m"],
                "slope_deviation": "0.3 mm/m", "tape_deviation": "2 mm",
                "readings": [
                    {"point": "FL", "x": "4 m", "y": "1 m", "tape": "700 mm"},
                    {"point": "FL", "x": "4 m", "y": "1 m", "tape": "730 mm"},
                    {"point": "FR", "x": "4 m", "y": "-1 m", "tape": "720 mm"},
                    {"point": "RL", "x": "0 m", "y": "1 m", "tape": "690 mm"},
                ],
            }),
        ),
        ("packing", cases(PACKING)[0].clone()),
        ("supports", cases(RIGID)[9].clone()),
        (
            "ground",
            json!({
                "load": "5 t", "load_low": "1 t", "foot": {"along": "300 mm", "across": "300 mm"},
                "layers": [
                    {"thickness": "48 mm", "length": "600 mm", "width": "600 mm", "grain": "along", "timber": "C24"},
                    {"thickness": "73 mm", "length": "700 mm", "width": "700 mm", "grain": "across", "timber": "C24"},
                ],
                "ground": {"surface": "below the topsoil", "wet": "dry", "water_depth": "2 m",
                    "table": "IBC 2012 1806.2", "class": "sandy gravel and gravel (GW, GP)"},
                "sink_test": {"load": "60 kN", "plate": {"along": "300 mm", "across": "300 mm"},
                    "waited": "15 min", "sink": "4 mm"},
                "sink_allowed": "10 mm",
            }),
        ),
        (
            "stability",
            json!({
                "situation": "wind in service",
                "contacts": [contact("a", "0 m", "-2 m"), contact("b", "6 m", "-2 m"), contact("c", "6 m", "2 m"), contact("d", "0 m", "2 m")],
                "bodies": [
                    {"name": "frame", "mass": "4 t ± 3 %", "x": "3 m", "y": "0 m", "z": "0 m", "carried_by": "frame",
                        "wind": {"along": "2 m2", "across": "5 m2", "lift": "0 m2", "up": "0 m"}},
                    {"name": "mast", "mass": "800 kg ± 5 %", "x": "3 m", "y": "0 m", "z": "2 m", "carried_by": "turntable",
                        "wind": {"along": "3 m2", "across": "3 m2", "lift": "1 m2", "up": "3 m"}},
                ],
                "seats": [
                    {"name": "1", "angle": "0 deg", "radius": "3 m", "radius_at_speed": "3 m", "height": "1 m", "places": 2, "rider_mass_greatest": "110 kg"},
                    {"name": "2", "angle": "180 deg", "radius": "3 m", "radius_at_speed": "3 m", "height": "1 m", "places": 2, "rider_mass_greatest": "110 kg"},
                ],
                "turntable": {"x": "3 m", "y": "0 m", "speed": "10 rpm"},
                "tilt": {"along": "3 mm/m", "across": "3 mm/m"},
                "wind": {"pressure": "140 Pa"},
                "factors": ["EN 13814:2004", "unfactored 1.5"],
                "interfaces": [{"upper": "timber", "lower": "timber", "condition": "clean"}],
            }),
        ),
        (
            "wind-pressure",
            json!({"rules": "EN 1991-1-4", "basic_speed": "22 m/s", "terrain": "III", "height": "7.02 m"}),
        ),
    ]
}

#[test]
fn law_every_printed_line_of_every_calculation_adds_up() {
    let mut checked = 0;
    for (name, question) in questions() {
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
    assert!(checked > 150, "only {checked} lines were there to check");
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

/// Every place of a question at which a value stands, as the steps to it.
fn places(value: &Value, at: &mut Vec<String>, out: &mut Vec<Vec<String>>) {
    match value {
        Value::Object(fields) => {
            for (key, inner) in fields {
                at.push(key.clone());
                out.push(at.clone());
                places(inner, at, out);
                at.pop();
            }
        }
        Value::Array(list) => {
            for (i, inner) in list.iter().enumerate() {
                at.push(i.to_string());
                out.push(at.clone());
                places(inner, at, out);
                at.pop();
            }
        }
        _ => {}
    }
}

fn put(value: &mut Value, at: &[String], new: &Value) {
    let Some((step, rest)) = at.split_first() else {
        *value = new.clone();
        return;
    };
    let inner = match value {
        Value::Object(fields) => fields.get_mut(step),
        Value::Array(list) => step.parse::<usize>().ok().and_then(|i| list.get_mut(i)),
        _ => None,
    };
    if let Some(inner) = inner {
        put(inner, rest, new);
    }
}

#[test]
fn refuse_or_answer_any_value_in_any_place_and_never_a_panic() {
    // Flat, repeated, huge, negative, empty, of another kind: each in the place of every value there is.
    let spoilers = [
        json!(null),
        json!(0),
        json!(-1),
        json!(1e308),
        json!(-1e308),
        json!(1e-308),
        json!(9_007_199_254_740_993_i64),
        json!(i64::MIN),
        json!(true),
        json!(""),
        json!("0 m"),
        json!("-5 m"),
        json!("1e999 m"),
        json!("nan"),
        json!("0 kg"),
        json!("100000 t"),
        json!("1/0 in"),
        json!([]),
        json!({}),
        json!([[[[]]]]),
        json!("0"),
    ];
    let mut tried = 0;
    for (name, question) in questions() {
        let mut all = Vec::new();
        places(&question, &mut Vec::new(), &mut all);
        for place in &all {
            for spoiler in &spoilers {
                let mut spoiled = question.clone();
                put(&mut spoiled, place, spoiler);
                let (answer, _) = answer(name, &spoiled.to_string(), UnitSet::Gb).expect("it is JSON");
                let refused = answer["error"]["message"].as_str();
                let answered = answer["result"].is_object() && answer["findings"].is_array();
                assert!(answered != refused.is_some(), "{name} {place:?} {spoiler}: {answer}");
                if let Some(message) = refused {
                    assert!(message.trim_end().ends_with('.'), "{name} {place:?} {spoiler}: {message}");
                }
                tried += 1;
            }
        }
    }
    assert!(tried > 2000, "only {tried} spoiled questions");
}
