//! The shared cases.

use crate::check::faults;
use serde_json::Value;
use tober_calc::packing::{
    Answer, BoardKind, Budget, Certificate, Leg, Problem, StackRules, Support, TenthMmPerM, solve,
};
use tober_quantity::TenthMm;

/// The cases of `data/c_packing.json`, whose answers were computed by OR-Tools CP-SAT 9.15 and HiGHS 1.16,
/// two libraries agreeing; section C of the shared statics reference defines the model.
pub fn shared() -> Vec<Value> {
    let file: Value = serde_json::from_str(include_str!("../data/c_packing.json")).expect("the file is JSON");
    file["cases"].as_array().expect("the file lists cases").clone()
}

fn whole(value: &Value, key: &str) -> i64 {
    value[key].as_i64().unwrap_or_else(|| panic!("{key} is a whole number"))
}

/// A case as a problem.
pub fn problem(case: &Value) -> Problem {
    let tenths = |value: &Value, key: &str| TenthMm(whole(value, key));
    let count = |value: &Value, key: &str| u32::try_from(whole(value, key)).expect("a count");
    let list = |key: &str| case[key].as_array().expect("a list").clone();
    let name = |value: &Value| value["id"].as_str().expect("an id").to_owned();
    let support = |s: &Value| {
        let leg = Leg::Holes {
            pin_first: tenths(s, "pin_first_01mm"),
            pin_pitch: tenths(s, "pin_pitch_01mm"),
            pin_count: count(s, "pin_count"),
        };
        Support::plain(name(s), whole(s, "x_mm"), whole(s, "y_mm"), tenths(s, "ground_01mm"), leg)
    };
    let board = |b: &Value| BoardKind::plain(name(b), tenths(b, "thickness_01mm"), count(b, "count"));
    Problem {
        supports: list("supports").iter().map(support).collect(),
        boards: list("boards").iter().map(board).collect(),
        max_stack: tenths(case, "max_stack_01mm"),
        min_boards_per_stack: count(case, "min_boards_per_stack"),
        max_boards_per_stack: count(case, "max_boards_per_stack"),
        min_lift: tenths(case, "min_lift_01mm"),
        level_tol_x: TenthMmPerM(whole(case, "level_tol_x_01mm_per_m")),
        level_tol_y: TenthMmPerM(whole(case, "level_tol_y_01mm_per_m")),
        planarity_tol: tenths(case, "planarity_tol_01mm"),
        clearances: Vec::new(),
        rules: StackRules::plain(),
    }
}

/// Source: `c_packing.json`, CP-SAT 9.15 and HiGHS 1.16 agreeing, 24 cases.
#[test]
fn truth_shared_cases_agree_on_feasibility_lift_and_boards() {
    let mut wrong = Vec::new();
    let cases = shared();
    assert_eq!(cases.len(), 24, "the file holds 24 cases");
    for case in &cases {
        let problem = problem(case);
        let expected = &case["expected"];
        let answer = solve(&problem, &Budget::usual()).expect("a shared case is well formed");
        let agrees = match &answer {
            Answer::Optimal(choice) => {
                let claimed = faults(&problem, choice);
                claimed.is_empty()
                    && expected["feasible"] == true
                    && expected["max_lift_01mm"] == choice.max_lift.0
                    && expected["boards"] == choice.boards
            }
            Answer::Infeasible(_) => expected["feasible"] == false,
            Answer::BestFound { .. } | Answer::NotReached { .. } => false,
        };
        if !agrees {
            wrong.push(format!("{}: {answer:?} against {expected}", case["id"]));
        }
    }
    assert!(wrong.is_empty(), "{} of 24 disagree:\n{}", wrong.len(), wrong.join("\n"));
}

/// Source: `c_packing.json`, `one_optimal.plane`: every plane given there is on the same grid as ours.
#[test]
fn truth_shared_cases_get_a_plane_on_the_grid() {
    let mut given = 0;
    for case in shared().iter().filter(|case| case["expected"]["feasible"] == true) {
        let answer = solve(&problem(case), &Budget::usual()).expect("a shared case is well formed");
        let choice = answer.choice().expect("a feasible case has a choice");
        assert!(
            matches!(choice.plane, tober_calc::packing::Plane::Grid { .. }),
            "{}: {:?}",
            case["id"],
            choice.plane
        );
        given += 1;
    }
    assert_eq!(given, 20, "the file holds 20 feasible cases");
}

/// What the file says was tightened decides which certificate can be given: one support too low is a
/// conflict of planes; a short inventory is one of stock.
#[test]
fn truth_infeasible_cases_are_refused_for_the_reason_they_were_made_by() {
    for case in &shared() {
        let Some(cause) = case["infeasible_by"].as_str() else { continue };
        let Answer::Infeasible(certificate) = solve(&problem(case), &Budget::usual()).expect("well formed")
        else {
            panic!("{} has no choice", case["id"]);
        };
        match cause {
            "drop" => {
                assert!(matches!(&certificate, Certificate::Plane { supports, .. } if supports.len() <= 4));
            }
            "inventory" => {
                assert!(matches!(&certificate, Certificate::Stock { need, have, .. } if need > have));
            }
            "grain" | "clearance" => {
                assert!(!matches!(certificate, Certificate::Stock { .. }), "{}: {certificate:?}", case["id"]);
            }
            other => panic!("a cause not met before: {other}"),
        }
    }
}
