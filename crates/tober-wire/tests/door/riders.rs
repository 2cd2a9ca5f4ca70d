//! The door to getting riders off.

use crate::questions::riders;
use serde_json::{Value, json};

fn answered(question: &Value) -> Value {
    crate::answered("riders-off", question)
}

fn standings(answer: &Value) -> Vec<&str> {
    answer["findings"].as_array().unwrap().iter().map(|f| f["standing"].as_str().unwrap()).collect()
}

/// 200 kg at 3.5 m is 6865 N m; car by car it is 17 940 N m, past the 12 000 N m that hold it.
#[test]
fn hand_the_order_found_is_inside_and_car_by_car_is_not() {
    let mut question = riders();
    question["order"] = (0..8).map(|i| json!(format!("car {i}"))).collect();
    let answer = answered(&question);
    let result = &answer["result"];
    assert_eq!(result["greatest_N_m"], json!(6865.0));
    assert_eq!((&result["turns"], &result["proved"]), (&json!(7), &json!(true)));
    assert_eq!(result["checked"], json!({"stages": 9, "every_set": true}));
    assert_eq!(result["order"]["greatest_N_m"], json!(17_939.0));
    assert_eq!(standings(&answer), ["inside", "inside", "inside", "close", "past-limit"]);
}

#[test]
fn law_what_is_left_out_is_not_known() {
    for key in ["out_of_balance_greatest_N_m", "holds_N_m"] {
        let mut question = riders();
        question.as_object_mut().unwrap().remove(key);
        assert!(standings(&answered(&question)).contains(&"not-known"), "{key}");
    }
}

#[test]
fn refuse_what_is_wrong_at_its_field() {
    type Break = (fn(&mut Value), &'static str, &'static str);
    let breaks: [Break; 7] = [
        (|q| q["seats"][1]["name"] = json!("car 0"), "seats[1].name", "a name of its own"),
        (|q| q["seats"][2]["radius_m"] = json!(-1), "seats[2].radius_m", "from 0 to 60"),
        (|q| q["seats"][2]["riders_kg"] = json!([[90, 80]]), "seats[2].riders_kg[0]", "from 90 to 1000"),
        (|q| q["seats"] = json!([]), "seats", "from 1 to 32"),
        (|q| q["holds_N_m"] = json!(0), "holds_N_m", "above 0"),
        (|q| q["order"] = json!(["car 9"]), "order[0]", "the name of no seat"),
        (|q| q["order"] = json!(["car 1", "car 1"]), "order", "nobody is left in it"),
    ];
    for (spoil, at, says) in breaks {
        let mut question = riders();
        spoil(&mut question);
        let error = &answered(&question)["error"];
        assert_eq!(error["at"], at, "{error}");
        assert!(error["message"].as_str().unwrap().contains(says), "{error}");
    }
}
