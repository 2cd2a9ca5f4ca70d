//! The 12 shared cases: invented frames solved by an assembly of its own in numpy 2.4.6 and confirmed by
//! PyNiteFEA 3.2.0 and OpenSees 3.7.1 (openseespy 3.7.1.2), as data/b_flexible.json says.

use crate::{beam, foot, solved, spot};
use serde_json::Value;
use tober_calc::supports::flexible::{Beams, Condensed, FootSpring, NodeLoad};
use tober_quantity::{Force, Moment};

/// The cases' own figures: on reactions as a share of the load, on displacements in metres.
const REACTION: f64 = 1e-8;
const DISPLACEMENT_M: f64 = 1e-9;

pub fn cases() -> Vec<Value> {
    let file: Value =
        serde_json::from_str(include_str!("../data/b_flexible.json")).expect("the file is JSON");
    file["cases"].as_array().expect("a list of cases").clone()
}

pub fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

pub fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().expect("a list")
}

pub struct Case {
    pub beams: Beams,
    pub supports: Vec<usize>,
    pub feet: Vec<FootSpring>,
    pub loads: Vec<NodeLoad>,
    pub total_n: f64,
}

pub fn case(case: &Value) -> Case {
    let nodes = list(case, "nodes");
    let named = |value: &Value| nodes.iter().position(|n| n["id"] == *value).expect("the node is there");
    assert_eq!((number(&case["E_Pa"]), number(&case["G_Pa"])), (crate::E_PA, crate::G_PA));
    let members = list(case, "elements").iter().map(|e| {
        let section = &case["sections"][e["section"].as_str().expect("a section")];
        let (i, j) = (number(&section["I_vertical_m4"]), number(&section["J_m4"]));
        beam(named(&e["i"]), named(&e["j"]), i, j)
    });
    let members = members.collect();
    let supports = list(case, "supports");
    Case {
        beams: Beams {
            nodes: nodes.iter().map(|n| spot(number(&n["x_m"]), number(&n["y_m"]))).collect(),
            members,
        },
        supports: supports.iter().map(|s| named(&s["node"])).collect(),
        feet: supports.iter().map(|s| foot(number(&s["k_N_per_m"]), number(&s["gap_m"]))).collect(),
        loads: list(case, "loads")
            .iter()
            .map(|l| NodeLoad {
                node: named(&l["node"]),
                down: Force::n(-number(&l["Fz_N"])),
                moment_x: Moment::nm(number(&l["Mx_Nm"])),
                moment_y: Moment::nm(number(&l["My_Nm"])),
            })
            .collect(),
        total_n: number(&case["total_load_N"]),
    }
}

#[test]
fn truth_the_shared_cases_agree_with_an_own_assembly_and_two_libraries() {
    let (mut count, mut lifted_in_all) = (0, 0);
    for given in cases() {
        let id = given["id"].as_str().expect("an id");
        let Case { beams, supports, feet, loads, total_n } = case(&given);
        let frame = Condensed::new(&beams, &supports).expect("a sound frame");
        let bent = solved(&frame, &feet, &frame.column(&loads).expect("sound loads"));
        let expected = &given["expected"];
        for (found, exact) in bent.reactions.iter().zip(list(expected, "reactions_N")) {
            let off = (found.as_n() - number(exact)).abs() / total_n;
            assert!(off <= REACTION, "{id}: reaction off by {off:e} of the load");
        }
        let lifted: Vec<&Value> = bent.lifted.iter().map(|&i| &list(&given, "supports")[i]["id"]).collect();
        assert_eq!(lifted, list(expected, "lifted").iter().collect::<Vec<_>>(), "{id}");
        lifted_in_all += lifted.len();
        for (found, exact) in bent.nodes.iter().zip(list(expected, "node_u_m")) {
            let off = (found.up.as_m() - number(exact)).abs();
            assert!(off <= DISPLACEMENT_M, "{id}: node off by {off:e} m");
        }
        for (&node, exact) in supports.iter().zip(list(expected, "support_u_m")) {
            assert!((bent.nodes[node].up.as_m() - number(exact)).abs() <= DISPLACEMENT_M, "{id}");
        }
        assert!(bent.plane.unique, "{id}");
        // Far inside what is promised: the shared cases are well shaped.
        assert!(bent.certificate.residual() < 1e-11, "{id}: {:?}", bent.certificate);
        count += 1;
    }
    // So that an empty or a cut file cannot pass.
    assert_eq!((count, lifted_in_all), (12, 9));
}
