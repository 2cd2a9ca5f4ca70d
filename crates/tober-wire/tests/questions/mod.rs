//! Questions for every door: the shared cases as they stand, and small ones of our own.

use serde_json::{Value, json};

/// Computed by OR-Tools CP-SAT 9.15 and HiGHS 1.16, which agree; see the README beside the file.
pub const PACKING: &str = include_str!("../../../tober-calc/tests/data/c_packing.json");
/// Exact rational arithmetic, confirmed by OSQP 1.1.3, Clarabel 0.11.1, SciPy 1.17.1, PyNiteFEA 3.2.0 and OpenSees 3.7.1.
pub const RIGID: &str = include_str!("../../../tober-calc/tests/data/a_rigid.json");

/// An assembly of its own in numpy 2.4.6, confirmed by PyNiteFEA 3.2.0 and OpenSees 3.7.1 (openseespy 3.7.1.2).
pub const BEAMS: &str = include_str!("../../../tober-calc/tests/data/b_flexible.json");

/// Closed form in numpy 2.4.6, checked by scipy 1.17.1 and by virtual work.
pub const LIFTS: &str = include_str!("../../../tober-calc/tests/data/d_winch.json");

pub fn cases(text: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(text).expect("the file is JSON");
    file["cases"].as_array().expect("it has cases").clone()
}

/// The fourth shared lift, which goes over centre, with all that may be said of it.
pub fn lift() -> Value {
    let mut lift = cases(LIFTS)[2].clone();
    lift["winch"] = json!({"rated_N": 60_000, "drum_m": 0.09, "rope_m": 0.011, "layer": 2});
    lift["hinge_rated_N"] = json!(90_000);
    lift["held_back_by"] = json!("a check line to the rear");
    lift
}

/// Eight cars of a wheel with two heavy riders each, stopped with the first at the platform.
pub fn riders() -> Value {
    let seat = |i: usize| json!({"name": format!("car {i}"), "radius_m": 3.5, "angle_deg": 45 * i, "riders_kg": [100, 100]});
    json!({
        "id": "a wheel", "lean_deg": 90, "turning": true, "seats": (0..8).map(seat).collect::<Value>(),
        "access": [{"name": "platform", "angle_deg": 0, "within_deg": 5}],
        "out_of_balance_greatest_N_m": 20_000, "holds_N_m": 12_000,
    })
}

/// Four legs of a level frame, of which the last has sunk by 14 and is light by 6.
pub fn trim() -> Value {
    let leg = |id: &str, x: i64, y: i64| json!({"id": id, "x_mm": x, "y_mm": y, "ground_01mm": 0, "pin_first_01mm": 7400, "pin_pitch_01mm": 400, "pin_count": 8});
    let board = |id: &str, thickness: i64| json!({"id": id, "thickness_01mm": thickness, "count": 6});
    json!({
        "supports": [leg("FL", 8000, 2000), leg("FR", 8000, -2000), leg("RL", 0, 2000), leg("RR", 0, -2000)],
        "boards": [board("75", 750), board("50", 500), board("25", 250)],
        "max_stack_01mm": 2000, "min_boards_per_stack": 1, "max_boards_per_stack": 4, "min_lift_01mm": 400,
        "level_tol_x_01mm_per_m": 30, "level_tol_y_01mm_per_m": 30, "planarity_tol_01mm": 30,
        "stands": [
            {"pin_index": 2, "laid": [0]}, {"pin_index": 2, "laid": [0]},
            {"pin_index": 2, "laid": [0]}, {"pin_index": 2, "laid": [0, 2]},
        ],
        "read": {"heights_01mm": [6450, 6450, 6450, 6370], "off_by_01mm": 0},
        "feet": ["snug", "snug", "snug", {"light_01mm": 60}],
    })
}

/// Two set-ups of a laser, the second turned end for end.
fn laser() -> Value {
    let read =
        |point: &str, mm: i32| json!({"point": point, "sight": "between", "staff": format!("{mm} mm")});
    json!({
        "method": "laser", "reading_deviation": "1.5 mm", "plane_deviation": "0.1 mm/m", "cone_deviation": "0.05 mm/m",
        "sight_longest": "30 m", "fixed": [{"point": "kerb", "height": "0 m"}],
        "set_ups": [
            {"name": "1", "x": "0 m", "y": "0 m", "heading": "0 deg", "readings": [read("kerb", 1400), read("p", 1290)]},
            {"name": "2", "x": "0 m", "y": "1 m", "heading": "180 deg", "readings": [read("kerb", 1500), read("p", 1395)]},
        ],
        "places": [{"point": "kerb", "x": "9 m", "y": "0 m"}, {"point": "p", "x": "-9 m", "y": "2 m"}],
    })
}

/// Four feet and a peg, so many millimetres above what they were.
fn spots(above: [i32; 4]) -> Value {
    let at = [("FL", "4 m", "1 m"), ("FR", "4 m", "-1 m"), ("RL", "0 m", "1 m"), ("RR", "0 m", "-1 m")];
    let spot = |((p, x, y), above): (&(&str, &str, &str), i32)| json!({"point": p, "x": x, "y": y, "height": format!("{} mm", 1000 + above)});
    let feet = at.iter().zip(above).map(spot);
    let peg = json!({"point": "peg", "height": "1 m"});
    json!({"method": "spots", "height_deviation": "1 mm", "spots": feet.chain([peg]).collect::<Value>()})
}

/// Small invented questions, at least one for each calculation and each of its ways.
pub fn questions() -> Vec<(&'static str, Value)> {
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
        ("survey", laser()),
        (
            "survey",
            json!({
                "method": "water level", "reading_deviation": "2 mm",
                "readings": [
                    {"point": "FL", "line": "1", "reading": "700 mm"},
                    {"point": "FR", "line": "1", "reading": "720 mm"},
                    {"point": "RL", "line": "1", "reading": "690 mm"},
                    {"point": "FL", "line": "1", "reading": "730 mm"},
                ],
                "places": [
                    {"point": "FL", "x": "4 m", "y": "1 m"}, {"point": "FR", "x": "4 m", "y": "-1 m"},
                    {"point": "RL", "x": "0 m", "y": "1 m"},
                ],
                "at": [{"x": "3 m", "y": "0.5 m"}],
            }),
        ),
        (
            "settlement",
            json!({
                "earlier": spots([0, 0, 0, 0]), "later": spots([0, -9, 0, -2]), "still": ["peg"], "since": "Monday",
                "level_along": "3 mm/m", "level_across": "3 mm/m", "planarity": "3 mm",
            }),
        ),
        ("packing", cases(PACKING)[7].clone()),
        ("trim", trim()),
        ("chance", chance()),
        ("supports", cases(RIGID)[9].clone()),
        ("frame", cases(BEAMS)[3].clone()),
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
                "sink_allowed": "10 mm", "elastic": {"modulus": "10 N/mm2", "poisson": 0.3},
                "cycling": {"first_sink": "3 mm", "tested": true, "an_hour": 500, "hours": 8, "allowed": "5 mm"},
            }),
        ),
        (
            "bearing-capacity",
            json!({
                "load": "40 kN", "load_low": "20 kN", "base": {"along": "600 mm", "across": "800 mm"},
                "off_along": "20 mm", "off_across": "10 mm", "depth": "100 mm", "method": "Vesic", "safety": 3,
                "soil": {"friction": "28 deg", "cohesion": "2 kPa", "density": "1800 kg/m3", "water_depth": "1 m"},
            }),
        ),
        (
            "pin",
            json!({
                "load": "40 kN", "load_low": "20 kN", "diameter": "32 mm", "strength": "355 N/mm2", "planes": "double",
                "leg_wall": "8 mm", "sleeve_wall": "8 mm", "wall_strength": "235 N/mm2", "gap": "3 mm",
                "sleeve_bored": true, "load_factor": 1.35,
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
            "stability",
            json!({
                "situation": "wind out of service",
                "contacts": [
                    {"name": "a", "x": "0 m", "y": "-2 m", "z": "0 m", "stiffness": "20 kN/mm"},
                    {"name": "b", "x": "6 m", "y": "-2 m", "z": "0 m", "stiffness": "20 kN/mm"},
                    {"name": "c", "x": "6 m", "y": "2 m", "z": "0 m", "stiffness": "20 kN/mm"},
                    {"name": "d", "x": "0 m", "y": "2 m", "z": "0 m", "stiffness": "20 kN/mm"},
                ],
                "bodies": [
                    {"name": "frame", "mass": "4 t ± 3 %", "x": "3 m", "y": "0 m", "z": "0 m", "carried_by": "frame",
                        "wind": {"along": "2 m2", "across": "5 m2", "lift": "0 m2", "up": "1 m"}},
                    {"name": "roof", "mass": "300 kg", "x": "3 m", "y": "0 m", "z": "4 m", "carried_by": "frame",
                        "wind": {"along": "6 m2", "across": "6 m2", "lift": "4 m2", "up": "4 m"},
                        "stowed": {"x": "3 m", "y": "0 m", "z": "1 m", "told": true,
                            "wind": {"along": "1 m2", "across": "1 m2", "lift": "0 m2", "up": "1 m"}}},
                ],
                "turntable": {"x": "3 m", "y": "0 m", "angles": ["0 deg"]},
                "tilt": {"along": "3 mm/m", "across": "3 mm/m"},
                "wind": {"pressure": "400 Pa"},
                "wind_speed": "25 m/s",
                "factors": ["EN 13814:2004", "EN 1990:2002 EQU"],
                "interfaces": [{"upper": "steel", "lower": "timber", "condition": "clean"}],
                "guys": [
                    {"name": "windward", "from": {"x": "3 m", "y": "0 m", "z": "4 m"}, "anchor": {"x": "3 m", "y": "-5 m", "z": "0 m"},
                        "pretension": "200 N", "strength": "8 kN", "anchor_strength": "4 kN"},
                    {"name": "lee", "from": {"x": "3 m", "y": "0 m", "z": "4 m"}, "anchor": {"x": "3 m", "y": "5 m", "z": "0 m"},
                        "pretension": "200 N", "strength": "8 kN", "anchor_strength": "4 kN"},
                ],
            }),
        ),
        ("lift", lift()),
        ("riders-off", riders()),
        (
            "orders",
            json!({
                "steps": [
                    {"id": "prop"}, {"id": "arm 1 out", "after": ["prop"]}, {"id": "arm 2 out", "after": ["prop"]},
                    {"id": "mast up", "after": ["arm 1 out"]},
                ],
                "quantities": [
                    {"name": "load on leg 1", "base": 12.5, "weights": {"arm 1 out": 4.2, "arm 2 out": -4.2, "mast up": -1.5}},
                    {"name": "pins in the rack", "base": 4, "weights": {"arm 1 out": -2, "arm 2 out": -2}, "peaks": {"mast up": 1}},
                ],
            }),
        ),
        (
            "wind-pressure",
            json!({"rules": "EN 1991-1-4", "basic_speed": "22 m/s", "terrain": "III", "height": "7.02 m"}),
        ),
        (
            "wind-pressure",
            json!({"rules": "ASCE 7", "edition": "2010", "basic_speed": "115 mph", "exposure": "C", "height": "30 ft"}),
        ),
        ("wind-pressure", json!({"rules": "gust at the ride", "gust": "15 m/s", "density": "1.25 kg/m3"})),
        (
            "survey",
            json!({
                "method": "staff", "reading_deviation": "1 mm", "line_of_sight_deviation": "0.1 mm/m",
                "sight_longest": "40 m", "fixed": [{"point": "peg", "height": "0 m"}],
                "set_ups": [
                    {"name": "by the gate", "readings": [
                        {"point": "peg", "sight": "back", "staff": "1.204 m", "distance": "12 m"},
                        {"point": "front left", "sight": "between", "staff": "1.391 m", "distance": "9 m"},
                        {"point": "drain", "sight": "fore", "staff": "1.452 m", "distance": "11 m"},
                    ]},
                    {"name": "by the oak", "readings": [
                        {"point": "drain", "sight": "back", "staff": "1.377 m", "distance": "10 m"},
                        {"point": "rear right", "sight": "between", "staff": "1.288 m", "distance": "14 m"},
                        {"point": "peg", "sight": "fore", "staff": "1.131 m", "distance": "12 m"},
                    ]},
                ],
                "places": [
                    {"point": "front left", "x": "4 m", "y": "1 m"},
                    {"point": "rear right", "x": "-4 m", "y": "-1 m"},
                ],
            }),
        ),
        (
            "ground",
            json!({
                "load": "30 kN", "foot": {"along": "250 mm", "across": "250 mm"},
                "layers": [{"thickness": "50 mm", "length": "600 mm", "width": "200 mm", "boards": 2, "grain": "along",
                    "off_along": "10 mm", "timber": "C16"}],
                "ground": {"surface": "paved", "report": {"pressure": "200 kPa", "reference": "report 3 of 2030"}},
                "timber_use": {"service": "dry", "duration": "short", "crush": "0.02 in", "load_factor": 1.35},
            }),
        ),
    ]
}

/// The seventh packing case with seats that lie well, each off by its own and all tilted by one slope.
fn chance() -> Value {
    let mut question = cases(PACKING)[7].clone();
    let supports = question["supports"].as_array().expect("supports").len();
    let alone =
        |leg: usize| (0..supports).map(|other| if other == leg { 8.0 } else { 0.0 }).collect::<Vec<f64>>();
    let causes = (0..supports).map(|leg| json!({
        "name": format!("tape {leg}"), "moves_01mm": alone(leg), "left": 0.5, "again": format!("read leg {leg} again"),
    }));
    question["causes"] = causes.collect();
    question["seats_01mm"] = vec![5000; supports].into();
    question["shift_01mm"] = vec![-2.5; supports].into();
    question
}
