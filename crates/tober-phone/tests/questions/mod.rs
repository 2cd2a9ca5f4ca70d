//! The reference questions: what is asked of the core on a laptop, of the module in Node, and of the page in a browser.

use serde_json::{Value, json};
use std::collections::BTreeMap;
use tober_phone::core::Texts;

pub const RIDE: &str = include_str!("../../../../demo/lantern/ride.toml");
pub const KIT: &str = include_str!("../../../../demo/lantern/kit.toml");
pub const MEADOW: [&str; 3] = [
    include_str!("../../../../demo/lantern/quern-meadow/pitch.toml"),
    include_str!("../../../../demo/lantern/quern-meadow/visit.toml"),
    include_str!("../../../../demo/lantern/quern-meadow/tape.csv"),
];
const HARD: [&str; 2] = [
    include_str!("../../../../demo/lantern/plover-hard/pitch.toml"),
    include_str!("../../../../demo/lantern/plover-hard/visit.toml"),
];
/// Computed by OR-Tools CP-SAT 9.15 and HiGHS 1.16, which agree.
const PACKING: &str = include_str!("../../../tober-calc/tests/data/c_packing.json");
/// Exact rational arithmetic, confirmed by OSQP 1.1.3, Clarabel 0.11.1, SciPy 1.17.1, PyNiteFEA 3.2.0 and OpenSees 3.7.1.
const RIGID: &str = include_str!("../../../tober-calc/tests/data/a_rigid.json");

pub const TAPES: [(&str, &str); 6] = [
    ("front left", "697 mm"),
    ("front right", "742 mm"),
    ("middle left", "761 mm"),
    ("middle right", "781 mm"),
    ("rear left", "804 mm"),
    ("rear right", "860 mm"),
];

/// The texts of the meadow.
pub fn meadow() -> Texts {
    let [pitch, visit, rows] = MEADOW.map(str::to_owned);
    Texts { ride: RIDE.to_owned(), kit: KIT.to_owned(), pitch, visit, rows: Some(rows) }
}

/// A visit's texts as a question, with or without what was typed.
pub fn question(texts: &Texts, readings: Option<Value>) -> Value {
    let mut question = json!({
        "do": "plan", "ride": texts.ride, "kit": texts.kit, "pitch": texts.pitch, "visit": texts.visit,
        "rows": texts.rows,
    });
    if let Some(readings) = readings {
        question["readings"] = readings;
    }
    question
}

/// The readings of the meadow as a thumb types them.
pub fn typed() -> Value {
    json!({
        "slope_along": "-4 mm/m", "slope_across": "3 mm/m", "slope_deviation": "0.3 mm/m", "tape_deviation": "2 mm",
        "legs": TAPES.into_iter().collect::<BTreeMap<_, _>>(),
    })
}

fn cases(text: &str) -> Value {
    serde_json::from_str::<Value>(text).expect("the file is JSON")["cases"].clone()
}

/// All of them, one text each without a line break.
pub fn all() -> Vec<String> {
    let hard = Texts { pitch: HARD[0].to_owned(), visit: HARD[1].to_owned(), rows: None, ..meadow() };
    let mut spoiled = typed();
    spoiled["legs"]["rear left"] = json!("eight hundred");
    let mut questions = vec![
        question(&meadow(), None),
        question(&meadow(), Some(typed())),
        question(&meadow(), Some(spoiled)),
        question(&hard, None),
        json!("nonsense"),
    ];
    for (name, text) in [("packing", PACKING), ("supports", RIGID)] {
        for case in cases(text).as_array().expect("cases") {
            questions.push(json!({ "do": "calc", "name": name, "question": case }));
        }
    }
    assert_eq!(questions.len(), 5 + 24 + 24);
    questions.iter().map(Value::to_string).collect()
}
