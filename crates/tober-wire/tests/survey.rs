//! The doors of the survey and of the settlement: each method, the ground between points, and what is refused where.

use serde_json::{Value, json};
use tober_fit::working::check_line;
use tober_quantity::UnitSet;
use tober_wire::calc::answer;

fn answered(name: &str, question: &Value) -> Value {
    let answer = answer(name, &question.to_string(), UnitSet::Metric).expect("the door opens").0;
    for working in answer["working"].as_array().into_iter().flatten() {
        for line in working["lines"].as_array().expect("lines") {
            let text = |key: &str| line[key].as_str().unwrap_or("");
            if !text("numbers").is_empty() {
                check_line(text("numbers"), text("result")).unwrap_or_else(|wrong| panic!("{wrong}: {line}"));
            }
        }
    }
    answer
}

fn height_m(answer: &Value, point: &str) -> f64 {
    let list = answer["result"]["heights"].as_array().unwrap_or_else(|| panic!("no heights: {answer}"));
    list.iter().find(|h| h["point"] == point).expect("it was read")["height_m"].as_f64().expect("a number")
}

/// A public page on booking levels (reference WE-12, DIS-17): 0.670 m from A to B over two set-ups, by staff, laser
/// and water level alike.
#[test]
fn truth_three_instruments_make_one_level_book_through_the_door() {
    let sighted = json!([
        {"name": "1", "readings": [{"point": "A", "sight": "back", "staff": "2.570 m"}, {"point": "CP", "sight": "fore", "staff": "1.200 m"}]},
        {"name": "2", "readings": [{"point": "CP", "sight": "back", "staff": "3.050 m"}, {"point": "B", "sight": "fore", "staff": "3.750 m"}]},
    ]);
    let mut staff = json!({"method": "staff", "reading_deviation": "1 mm", "line_of_sight_deviation": "0.1 mm/m", "sight_longest": "30 m", "fixed": [{"point": "A", "height": "100 m"}], "set_ups": sighted});
    let by_staff = answered("survey", &staff);
    let one = staff.as_object_mut().expect("an object");
    one.remove("line_of_sight_deviation");
    one.extend([
        ("method".to_owned(), json!("laser")),
        ("plane_deviation".to_owned(), json!("0.1 mm/m")),
        ("cone_deviation".to_owned(), json!("0.05 mm/m")),
    ]);
    let by_laser = answered("survey", &staff);
    let by_water = answered(
        "survey",
        &json!({"method": "water level", "reading_deviation": "2 mm", "readings": [
            {"point": "A", "line": "1", "reading": "2.570 m"}, {"point": "CP", "line": "1", "reading": "1.200 m"},
            {"point": "CP", "line": "2", "reading": "3.050 m"}, {"point": "B", "line": "2", "reading": "3.750 m"}]}),
    );
    for answer in [by_staff, by_laser, by_water] {
        assert!((height_m(&answer, "B") - height_m(&answer, "A") - 0.670).abs() < 1e-9, "{answer}");
    }
}

/// A public page of mathematics problems (reference WE-34, recomputed exactly): the changes tilt by -7/3 and 56/15.
#[test]
fn truth_a_tilt_through_the_door() {
    let at = [("a", 0, -3, 0), ("b", 4, 0, 0), ("c", 3, -1, 1), ("d", 1, -2, 1), ("e", -1, -4, -3)];
    let spots = |times: i32| -> Value {
        let spot = |(p, x, y, z): (&str, i32, i32, i32)| json!({"point": p, "x": format!("{x} m"), "y": format!("{y} m"), "height": format!("{} m", z * times)});
        json!({"method": "spots", "height_deviation": "2 mm", "spots": at.map(spot)})
    };
    let asked = json!({"earlier": spots(0), "later": spots(1), "since": "Monday", "planarity": "3 mm"});
    let answer = answered("settlement", &asked);
    let rise = |key: &str| answer["result"][key]["rise_mm_per_m"].as_f64().expect("a number") / 1e3;
    assert!(
        (rise("tilt_along") + 7.0 / 3.0).abs() < 1e-9 && (rise("tilt_across") - 56.0 / 15.0).abs() < 1e-9
    );
    let off = answer["result"]["changes"][4]["off_plane_m"].as_f64().expect("a number");
    assert!((off + 14.0 / 15.0).abs() < 1e-9);
    assert_eq!(answer["result"]["changes"][4]["more_than_readings_explain"], true);
    assert_eq!(answer["result"]["still_assumed"], true);
}

/// Between three points 3 m apart the ground is their mean in the middle; outside it is not known.
#[test]
fn hand_ground_between_points_through_the_door() {
    let spot = |p: &str, x: &str, y: &str, h: &str| json!({"point": p, "x": x, "y": y, "height": h});
    let answer = answered(
        "survey",
        &json!({"method": "spots", "height_deviation": "3 mm",
            "spots": [spot("a", "0 m", "0 m", "1 m"), spot("b", "3 m", "0 m", "1.3 m"), spot("c", "0 m", "3 m", "0.7 m")],
            "at": [{"x": "1 m", "y": "1 m"}, {"x": "3 m", "y": "3 m"}]}),
    );
    let ground = &answer["result"]["ground"];
    assert!((ground[0]["ground"]["height_m"].as_f64().expect("a number") - 1.0).abs() < 1e-12);
    let deviation = ground[0]["ground"]["deviation_m"].as_f64().expect("a number");
    assert!((deviation - 0.003 / 3.0_f64.sqrt()).abs() < 1e-12);
    assert!(ground[0]["ground"]["of_bumps_m"].is_null() && ground[1]["ground"].is_null());
}

#[test]
fn refuse_surveys_at_their_field() {
    let refused = |name: &str, question: Value, at: &str, says: &str| {
        let error = answered(name, &question)["error"].clone();
        let (found, message) =
            (error["at"].as_str().unwrap_or("no error"), error["message"].as_str().unwrap_or(""));
        assert!(found == at && message.contains(says), "{error}");
    };
    refused("survey", json!({"method": "hose"}), "method", "water level");
    refused(
        "survey",
        json!({"method": "water level", "reading_deviation": "2 mm", "readings": []}),
        "",
        "no readings",
    );
    refused(
        "survey",
        json!({"method": "scale", "tape_deviation": "2 mm"}),
        "tape_deviation",
        "reading_deviation",
    );
    let spots = |y: &str| json!({"method": "spots", "height_deviation": "2 mm", "spots": [{"point": "a", "x": "0 m", y: "0 m", "height": "1 m"}]});
    refused("survey", spots("z"), "spots[0].z", "Did you mean");
    refused(
        "settlement",
        json!({"earlier": spots("y"), "later": spots("y"), "still": ["peg"]}),
        "",
        "peg is named as still",
    );
    refused("settlement", json!({"earlier": spots("y")}), "", "`later` is missing");
}
