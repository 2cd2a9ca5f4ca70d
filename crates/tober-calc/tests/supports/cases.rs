//! The 24 shared cases: invented frames whose answers were found in exact rational arithmetic over all
//! contact sets and confirmed by five general libraries (named, with versions, in data/a_rigid.json).

use crate::{load, support};
use serde_json::Value;
use tober_calc::supports::{Answer, Load, Support, solve};

/// On reactions, as a share of the load; the exact answers are rounded to double, so 1e-15 is met.
const REACTION: f64 = 1e-9;
const DISPLACEMENT_M: f64 = 1e-9;
const TURN_RAD: f64 = 1e-10;

pub fn cases() -> Vec<Value> {
    let file: Value = serde_json::from_str(include_str!("../data/a_rigid.json")).expect("the file is JSON");
    file["cases"].as_array().expect("a list of cases").clone()
}

/// A decimal string, as the file writes every number that must be exact.
fn decimal(value: &Value) -> f64 {
    value.as_str().expect("a decimal string").parse().expect("a decimal number")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

pub fn frame(case: &Value) -> (Vec<Support>, Load) {
    let supports = case["supports"].as_array().expect("supports").iter();
    let supports = supports.map(|s| {
        support(decimal(&s["x_m"]), decimal(&s["y_m"]), decimal(&s["k_N_per_m"]), decimal(&s["gap_m"]))
    });
    let l = &case["load"];
    let load = load(
        decimal(&l["W_N"]),
        decimal(&l["x_m"]),
        decimal(&l["y_m"]),
        decimal(&l["Mx_Nm"]),
        decimal(&l["My_Nm"]),
    );
    (supports.collect(), load)
}

pub fn expected_n(case: &Value) -> Option<Vec<f64>> {
    let list = case["expected"]["reactions_N"].as_array()?;
    Some(list.iter().map(number).collect())
}

#[test]
fn truth_the_shared_cases_agree_with_exact_arithmetic_and_five_libraries() {
    let (mut standing, mut tipping, mut on_a_line) = (0, 0, 0);
    for case in cases() {
        let id = case["id"].as_str().expect("an id");
        let (supports, load) = frame(&case);
        let expected = &case["expected"];
        let margin = number(&case["resultant_margin_inside_hull_m"]);
        match solve(&supports, &load).expect("an answer") {
            Answer::Tips(tips) => {
                tipping += 1;
                assert_eq!(expected["equilibrium"], false, "{id} stands");
                assert!(
                    (tips.margin.as_m() - margin).abs() < 2e-9,
                    "{id}: margin {:?}, not {margin}",
                    tips.margin
                );
            }
            Answer::Stands(stands) => {
                standing += 1;
                assert_eq!(expected["equilibrium"], true, "{id} tips");
                assert!(
                    (stands.margin.as_m() - margin).abs() < 2e-9,
                    "{id}: margin {:?}, not {margin}",
                    stands.margin
                );
                let weight = load.down.as_n();
                for (found, exact) in stands.reactions.iter().zip(expected_n(&case).expect("reactions")) {
                    let off = (found.as_n() - exact).abs() / weight;
                    assert!(off <= REACTION, "{id}: off by {off:e} of the load");
                }
                let lifted: Vec<String> = stands.lifted.iter().map(|i| format!("S{}", i + 1)).collect();
                let lifted_exact: Vec<&str> =
                    expected["lifted"].as_array().expect("a list").iter().filter_map(Value::as_str).collect();
                assert_eq!(lifted, lifted_exact, "{id}");
                assert!(stands.certificate.holds(), "{id}: {:?}", stands.certificate);
                let unique = expected["displacement_unique"] == true;
                assert_eq!(stands.displacement.unique, unique, "{id}");
                if unique {
                    let d = stands.displacement;
                    let z = (d.z.as_m() - number(&expected["z_at_origin_m"])).abs();
                    let x = (d.theta_x.as_rad() - number(&expected["theta_x_rad"])).abs();
                    let y = (d.theta_y.as_rad() - number(&expected["theta_y_rad"])).abs();
                    assert!(z <= DISPLACEMENT_M, "{id}: z off by {z:e}");
                    assert!(x <= TURN_RAD && y <= TURN_RAD, "{id}: turn off by {x:e}, {y:e}");
                } else {
                    on_a_line += 1;
                }
            }
        }
    }
    // So that an empty or a cut file cannot pass.
    assert_eq!((standing, tipping, on_a_line), (22, 2, 1));
}
