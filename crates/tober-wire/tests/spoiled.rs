//! Bad questions: every value in every place, thousands of spoiled texts, and geometry that is flat, repeated, in
//! line or without size. Each is answered or refused with a sentence, and none ends in a panic.

#![expect(clippy::print_stdout, reason = "a test prints what it measured")]

mod questions;
#[path = "../../tober-book/tests/spoil/mod.rs"]
mod spoil;

use questions::{PACKING, RIGID, cases, questions};
use serde_json::{Value, json};
use spoil::{Chance, number_replaced, spoiled};
use tober_quantity::UnitSet;
use tober_wire::calc::{NAMES, answer};

/// Answered whole, or refused by a sentence that has a stop; says whether it was refused.
#[track_caller]
fn answered_or_refused(answer: &Value, of: &str) -> bool {
    let fields: Vec<&String> = answer.as_object().expect("an answer is an object").keys().collect();
    if fields == ["error"] {
        let (at, message) = (&answer["error"]["at"], &answer["error"]["message"]);
        let message = message.as_str().expect("it says why");
        assert!(at.is_string() && message.len() > 15 && message.ends_with('.'), "{of}: {message}");
        return true;
    }
    assert_eq!(fields, ["result", "findings", "working"], "{of}");
    assert!(answer["result"].is_object() && answer["findings"].is_array(), "{of}");
    assert!(answer["working"].is_array(), "{of}");
    for finding in answer["findings"].as_array().into_iter().flatten() {
        assert!(finding["standing"].is_string(), "{of}: {finding}");
    }
    false
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
        json!(1_000_000_000),
        json!(f64::MAX),
        json!(100_000),
        json!(0.5),
        json!("∞ m"),
        json!("± 5 %"),
        json!("3 t ± 500 %"),
        json!("a long text ".repeat(2000)),
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
                answered_or_refused(&answer, &format!("{name} {place:?}"));
                tried += 1;
            }
        }
    }
    assert!(tried > 2000, "only {tried} spoiled questions");
}

/// The questions of our own and all shared cases.
fn all() -> Vec<(&'static str, Value)> {
    let mut all = questions();
    all.extend(cases(PACKING).into_iter().map(|case| ("packing", case)));
    all.extend(cases(RIGID).into_iter().map(|case| ("supports", case)));
    all
}

#[test]
fn refuse_or_answer_spoiled_texts_and_never_a_panic() {
    let all = all();
    let (mut no_json, mut refused, mut answered) = (0, 0, 0);
    for seed in 0..3000_u64 {
        let mut chance = Chance(seed ^ 0x0A5C);
        // A third each for packing, for loads and for the rest, of which there are fewest questions.
        let kind = ["packing", "supports"].get(chance.below(3));
        let of_kind: Vec<_> = all
            .iter()
            .filter(|(name, _)| kind.map_or(!["packing", "supports"].contains(name), |kind| kind == name))
            .collect();
        let (name, question) = of_kind[chance.below(of_kind.len())];
        // What a case expects plays no part in its answer, and would take the most of what is spoiled.
        let mut question = question.clone();
        if let Some(fields) = question.as_object_mut() {
            fields.remove("expected");
            fields.remove("library_answers");
        }
        let text = serde_json::to_string_pretty(&question).expect("it is JSON");
        let text = if seed % 2 == 0 {
            spoiled(&text, &mut chance)
        } else {
            // A number for a number: most of these are still questions.
            let with = chance
                .pick(&["0", "1", "2", "-3", "7", "40", "999", "0.001", "1e9", "1e300", "-1e300", "1e-300"]);
            number_replaced(&text, with, &mut chance)
        };
        let units = UnitSet::ALL[chance.below(UnitSet::ALL.len())];
        match answer(name, &text, units) {
            Err(sentence) => {
                no_json += 1;
                assert!(sentence.starts_with("The question is not JSON: "), "seed {seed}: {sentence}");
                assert!(sentence.ends_with("is wanted."), "seed {seed}: {sentence}");
            }
            Ok((Value::Array(list), _)) => {
                for one in &list {
                    refused += usize::from(answered_or_refused(one, &format!("seed {seed}")));
                }
            }
            Ok((one, _)) => {
                let was_refused = answered_or_refused(&one, &format!("{name}, seed {seed}"));
                refused += usize::from(was_refused);
                answered += usize::from(!was_refused);
            }
        }
    }
    println!("of 3000 spoiled texts {no_json} were no JSON, {refused} refused, {answered} answered");
    assert!(no_json > 500 && refused > 500 && answered > 500, "{no_json}, {refused}, {answered}");
}

/// Every list of places in a question, with its places altered.
fn with_places(question: &Value, alter: &dyn Fn(usize, &mut serde_json::Map<String, Value>)) -> Value {
    let mut question = question.clone();
    for key in ["supports", "contacts", "bodies", "seats", "readings", "places"] {
        for (i, one) in question[key].as_array_mut().into_iter().flatten().enumerate() {
            if let Some(fields) = one.as_object_mut() {
                alter(i, fields);
            }
        }
    }
    if question["boards"].is_null() {
        // Indexing a question by a key it does not have puts a null there.
        question.as_object_mut().expect("an object").retain(|_, value| !value.is_null());
    }
    question
}

/// The value of the same kind that a place has, in whole metres.
fn metres(like: &Value, key: &str, m: i64) -> Value {
    match (like, key) {
        (Value::String(text), _) if text.ends_with('m') => json!(format!("{m} m")),
        (Value::String(_), _) => json!(m.to_string()),
        (_, "x_mm" | "y_mm") => json!(m * 1000),
        _ => json!(m),
    }
}

#[test]
fn refuse_or_answer_flat_repeated_and_collinear_places() {
    type Place = fn(usize) -> (i64, i64);
    let shapes: [(&str, Place); 6] = [
        ("all at one place", |_| (2, 1)),
        ("all at the datum", |_| (0, 0)),
        ("in line along", |i| (i64::try_from(i).unwrap_or(0), 0)),
        ("in line across", |i| (0, i64::try_from(i).unwrap_or(0))),
        ("in line aslant", |i| (i64::try_from(i).unwrap_or(0), i64::try_from(i).unwrap_or(0))),
        ("far away", |i| (90 + i64::try_from(i).unwrap_or(0) % 2, -90 - i64::try_from(i).unwrap_or(0) / 2)),
    ];
    let (mut refused, mut answered) = (0, 0);
    for (n, (name, question)) in all().iter().enumerate() {
        for (shape, place) in shapes {
            let altered = with_places(question, &|i, fields| {
                let (x, y) = place(i);
                for (keys, m) in [(["x", "x_m", "x_mm"], x), (["y", "y_m", "y_mm"], y)] {
                    for key in keys {
                        if let Some(value) = fields.get_mut(key) {
                            *value = metres(value, key, m);
                        }
                    }
                }
            });
            let (answer, _) = answer(name, &altered.to_string(), UnitSet::Metric).expect("it is JSON");
            let was_refused = answered_or_refused(&answer, &format!("{name} {n}, {shape}"));
            refused += usize::from(was_refused);
            answered += usize::from(!was_refused);
        }
    }
    println!("{refused} refused, {answered} answered");
    assert!(refused > 50 && answered > 50, "{refused} refused, {answered} answered");
}

#[test]
fn refuse_a_list_that_is_empty_and_a_load_whose_ends_are_crossed() {
    for (name, question) in all() {
        for key in ["supports", "contacts", "boards", "bodies", "readings", "set_ups", "fixed", "factors"] {
            if question.get(key).is_none() {
                continue;
            }
            let mut emptied = question.clone();
            emptied[key] = json!([]);
            let (answer, _) = answer(name, &emptied.to_string(), UnitSet::Metric).expect("it is JSON");
            let was_refused = answered_or_refused(&answer, &format!("{name} without {key}"));
            // No boards is a kit that serves nothing, and without a set of factors there is nothing to hold against.
            assert!(was_refused || ["boards", "factors"].contains(&key), "{name} without {key}: {answer}");
        }
    }
    let (_, mut ground) = questions().into_iter().find(|(name, _)| *name == "ground").expect("it is there");
    ground["load_low"] = json!("9 t");
    let (answer, _) = answer("ground", &ground.to_string(), UnitSet::Metric).expect("it is JSON");
    assert!(answered_or_refused(&answer, "crossed ends"), "9 t is the least and 5 t the most: {answer}");
}

/// What has no value below nothing, by the name of its field.
const NEVER_NEGATIVE: [&str; 31] = [
    "load",
    "load_low",
    "thickness",
    "length",
    "width",
    "boards",
    "water_depth",
    "waited",
    "sink",
    "sink_allowed",
    "load_factor",
    "mass",
    "radius",
    "radius_at_speed",
    "places",
    "rider_mass_greatest",
    "pressure",
    "speed",
    "basic_speed",
    "height",
    "gust",
    "density",
    "reading_deviation",
    "slope_deviation",
    "tape_deviation",
    "sight_longest",
    "distance",
    "k_N_per_m",
    "W_N",
    "thickness_01mm",
    "pin_pitch_01mm",
];

#[test]
fn refuse_less_than_nothing_of_what_has_no_less() {
    let (mut tried, mut seen) = (0, std::collections::BTreeSet::new());
    for (name, question) in questions() {
        let mut all = Vec::new();
        places(&question, &mut Vec::new(), &mut all);
        for place in &all {
            let Some(key) = NEVER_NEGATIVE.iter().find(|key| place.last().is_some_and(|last| last == *key))
            else {
                continue;
            };
            // The height of a seat or of a peg is a place, and may lie below the datum. What a case expects is not read.
            if place[0] == "expected" || (*key == "height" && name != "wind-pressure") {
                continue;
            }
            let negative = match place.iter().fold(&question, |at, step| match at {
                Value::Array(list) => &list[step.parse::<usize>().expect("a place in a list")],
                other => &other[step.as_str()],
            }) {
                Value::String(text) => json!(format!("-{text}")),
                Value::Number(number) => json!(-number.as_f64().expect("a number")),
                _ => continue,
            };
            let mut spoiled = question.clone();
            put(&mut spoiled, place, &negative);
            let (answer, _) = answer(name, &spoiled.to_string(), UnitSet::Metric).expect("it is JSON");
            assert!(answered_or_refused(&answer, name), "{name} {place:?} takes {negative}");
            seen.insert(*key);
            tried += 1;
        }
    }
    assert!(tried > 50, "only {tried} were tried");
    assert_eq!(seen.len(), NEVER_NEGATIVE.len(), "each field is in a question: {seen:?}");
}

#[test]
fn refuse_deep_nesting_and_long_lists_with_a_sentence() {
    for name in NAMES {
        let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
        let sentence = answer(name, &deep, UnitSet::Metric).expect_err("too deep to be a question");
        assert!(sentence.ends_with("is wanted."), "{sentence}");
        let objects = format!("{}1{}", "{\"a\":".repeat(120), "}".repeat(120));
        let (answer_deep, _) = answer(name, &objects, UnitSet::Metric).expect("it is JSON");
        assert!(answered_or_refused(&answer_deep, name), "{name}");
        let long = format!("[{}]", vec!["{}"; 5000].join(","));
        let (answers, standings) = answer(name, &long, UnitSet::Metric).expect("it is JSON");
        assert_eq!((answers.as_array().map(Vec::len), standings.errors), (Some(5000), 5000));
        assert_eq!(answers[4999]["error"]["at"], "[4999]", "{name}");
    }
}

#[test]
fn refuse_an_unknown_name_with_the_nearest_that_is_known() {
    for (asked, near) in [
        ("survay", "Did you mean \"survey\"?"),
        ("Packing", "Did you mean \"packing\"?"),
        ("wind_pressure", "Did you mean \"wind-pressure\"?"),
        ("stabilty", "Did you mean \"stability\"?"),
        ("suport", "Did you mean \"supports\"?"),
    ] {
        let sentence = answer(asked, "{}", UnitSet::Metric).expect_err("there is no such calculation");
        assert!(sentence.contains(near), "{sentence}");
    }
    let sentence = answer("kite", "{}", UnitSet::Metric).expect_err("there is no such calculation");
    assert!(
        !sentence.contains("Did you mean") && NAMES.iter().all(|name| sentence.contains(name)),
        "{sentence}"
    );
    // A field too: here one letter was left out.
    let (answer, _) = answer("ground", "{\"lod\": \"3 t\"}", UnitSet::Metric).expect("it is JSON");
    assert_eq!(answer["error"]["at"], "lod");
    assert!(
        answer["error"]["message"].as_str().is_some_and(|m| m.contains("Did you mean `load`?")),
        "{answer}"
    );
}

#[test]
fn law_answers_come_in_the_order_and_number_of_the_questions() {
    for name in NAMES {
        let ours: Vec<Value> = all().into_iter().filter(|(n, _)| n == name).map(|(_, q)| q).collect();
        let mut list = Vec::new();
        for question in &ours {
            list.push(question.clone());
            list.push(json!({ "nonsense": list.len() }));
        }
        let (answers, standings) = answer(name, &json!(list).to_string(), UnitSet::Us).expect("it is JSON");
        let answers = answers.as_array().expect("a list for a list");
        assert_eq!((answers.len(), standings.errors), (list.len(), ours.len()), "{name}");
        for (i, question) in ours.iter().enumerate() {
            let (alone, _) = answer(name, &question.to_string(), UnitSet::Us).expect("it is JSON");
            assert_eq!(
                answers[2 * i].to_string(),
                alone.to_string(),
                "{name} {i}: as if asked alone, byte for byte"
            );
            let at = answers[2 * i + 1]["error"]["at"].as_str().unwrap_or_default();
            assert!(at.starts_with(&format!("[{}]", 2 * i + 1)), "{name} {i}: {at}");
        }
    }
}
