//! The shared cases: numpy 2.4.6 closed form, checked by scipy 1.17.1 and by virtual work; and a published loss by layer.

use crate::{assert_near, part, point, travel};
use serde_json::Value;
use tober_calc::lift::{At, Drum, Hinged, pull_on_layer, travelled};
use tober_quantity::{Force, Length};

const CASES: &str = include_str!("../data/d_winch.json");

/// Forces, N: the cases round them to 1e-5 N and suggest this.
const FORCE_N: f64 = 1e-4;
/// Lengths, m, and angles, degrees: the cases round them to 1e-9.
const PLACE: f64 = 1e-9;
/// Moments, Nm: rounded as the forces are.
const MOMENT_NM: f64 = 1e-4;
/// Central differences lose some eight digits of sixteen; the cases' own worst is 1.6e-9.
const VIRTUAL_WORK_SHARE: f64 = 5e-9;

pub fn cases() -> Vec<(Value, Hinged, tober_calc::lift::Travel)> {
    let file: Value = serde_json::from_str(CASES).expect("the file is JSON");
    let each = |case: &Value| {
        let n = |key: &str| case[key].as_f64().unwrap_or_else(|| panic!("{key} of {}", case["id"]));
        let falls = case["falls"].as_u64().and_then(|n| u32::try_from(n).ok()).expect("a small number");
        let part = part(
            n("mass_kg"),
            point(n("cg_along_m"), n("cg_normal_m")),
            point(n("attach_along_m"), n("attach_normal_m")),
            (n("sheave_x_m"), n("sheave_z_m")),
            falls,
            n("sheave_efficiency"),
        );
        (case.clone(), part, travel(n("phi_start_deg"), n("phi_end_deg"), n("step_deg")))
    };
    file["cases"].as_array().expect("a list").iter().map(each).collect()
}

fn figure(row: &At, key: &str) -> Option<f64> {
    Some(match key {
        "phi_deg" => row.phi.as_deg(),
        "line_length_m" => row.line_length.as_m(),
        "lever_arm_m" => row.lever.as_m(),
        "gravity_moment_Nm" => row.weight_moment.as_nm(),
        "total_pull_N" | "scipy_root_pull_N" => row.pull?.as_n(),
        "static_per_fall_N" => row.per_fall?.as_n(),
        "winch_rope_hoisting_N" => row.winch?.as_n(),
        "hinge_Hx_N" => row.hinge?.0.as_n(),
        "hinge_Hz_N" => row.hinge?.1.as_n(),
        "virtual_work_pull_N" => row.virtual_work?.as_n(),
        _ => panic!("no such figure: {key}"),
    })
}

#[test]
fn truth_every_figure_of_every_row_of_the_shared_cases() {
    let mut compared = 0;
    for (case, part, travel) in cases() {
        let found = travelled(&part, &travel).expect("a sound lift");
        let expected = &case["expected"];
        let rows = expected["rows"].as_array().expect("rows");
        assert_eq!(rows.len(), found.listed.rows.len(), "{}", case["id"]);
        for (wanted, row) in rows.iter().zip(&found.listed.rows) {
            for (key, wanted) in wanted.as_object().expect("a row") {
                if key == "slack" {
                    assert_eq!(wanted.as_bool(), Some(row.slack()), "{}", case["id"]);
                    continue;
                }
                let found = figure(row, key);
                let Some(wanted) = wanted.as_f64() else {
                    assert_eq!(found, None, "{key} of {}", case["id"]);
                    continue;
                };
                let tolerance = match key.as_str() {
                    "gravity_moment_Nm" => MOMENT_NM,
                    "virtual_work_pull_N" => VIRTUAL_WORK_SHARE * wanted.abs() + FORCE_N,
                    _ if key.ends_with("_N") => FORCE_N,
                    _ => PLACE,
                };
                assert_near(found.expect("a figure"), wanted, tolerance);
                compared += 1;
            }
        }
    }
    assert!(compared > 2000, "only {compared} figures were there");
}

#[test]
fn truth_peaks_and_balance_of_the_shared_cases() {
    let (mut over, mut count) = (0, 0);
    for (case, part, travel) in cases() {
        let found = travelled(&part, &travel).expect("a sound lift");
        let expected = &case["expected"];
        let n = |key: &str| expected[key].as_f64().expect("a number");
        let peak = found.listed.peak.expect("the line pulls");
        assert_near(peak.force.as_n(), n("peak_pull_N"), FORCE_N);
        assert_near(peak.phi.as_deg(), n("peak_at_deg"), PLACE);
        assert_near(found.balance.as_deg(), n("balance_angle_deg"), PLACE);
        assert_eq!(expected["goes_over_balance"].as_bool(), Some(found.listed.slack), "{}", case["id"]);
        over += i32::from(found.listed.slack);
        count += 1;
    }
    assert_eq!((count, over), (7, 1));
}

/// F_n = F_1 (D + d) / (D + (2 n - 1) d) for D 2.5 in, d 3/8 in and 10,000 lb: the table of facts RG-13, computed there from a constant
/// turning moment; "about half when full" as a magazine article of August 2017 has it.
#[test]
fn truth_a_winch_loses_half_its_pull_over_five_layers() {
    /// The table is printed to whole pounds.
    const HALF_A_POUND: f64 = 0.5;
    let wanted = [10_000.0, 7_931.0, 6_571.0, 5_610.0, 4_894.0];
    for (layer, wanted) in (1..).zip(wanted) {
        let drum = Drum { drum: Length::inches(2.5), rope: Length::inches(0.375), layer };
        let found = pull_on_layer(Force::lbf(10_000.0), &drum).expect("a sound drum");
        assert_near(found.as_lbf(), wanted, HALF_A_POUND);
    }
}
