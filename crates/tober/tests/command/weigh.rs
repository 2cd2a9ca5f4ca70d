//! `tober weigh` and `tober calc weighing`, as a user meets them.

use crate::folder::{Folder, run, run_with, said};
use serde_json::{Value, json};
use std::fs;
use tober_fit::working::check_line;

const READINGS: &str = include_str!("../../../../demo/lantern/weighing.toml");
const ROWS: &str = include_str!("../../../../demo/lantern/weighing.csv");

/// The demo with its weighing beside it; the ride's folder.
fn with_weighing(name: &str) -> (Folder, String) {
    let demo = Folder::with_demo(name);
    let folder = demo.path("plover-hard");
    fs::write(format!("{folder}/weighing.toml"), READINGS).expect("it can be written");
    fs::write(format!("{folder}/weighing.csv"), ROWS).expect("it can be written");
    (demo, folder)
}

fn json_of(folder: &str) -> Value {
    let out = run(&["weigh", folder, folder, "--json"]);
    serde_json::from_slice(&out.stdout).unwrap_or_else(|_| panic!("{}", said(&out.stderr)))
}

#[test]
fn hand_the_invented_ride_is_weighed_and_its_book_takes_what_is_found() {
    let (demo, folder) = with_weighing("weigh");
    let out = run(&["weigh", &folder, &format!("{folder}/weighing.toml")]);
    assert_eq!(out.status.code(), Some(0), "{}{}", said(&out.stdout), said(&out.stderr));
    let text = said(&out.stdout);
    for wanted in
        ["Invented: for trying out only.", "What to weigh next", "mass-from = \"weighed\"", "\"canopy\""]
    {
        assert!(text.contains(wanted), "{wanted} is missing from:\n{text}");
    }
    // What it says to write is written, and the visit is planned with it.
    let entries = |from: &str| text[text.find(from).expect("an entry")..].to_owned();
    let canopy = entries("[[body]]\nname = \"canopy\"");
    let whole = entries("[ride]\n");
    let line = |of: &str, key: &str| of.lines().find(|line| line.starts_with(key)).expect("a key").to_owned();
    demo.change(
        "plover-hard/ride.toml",
        "name = \"canopy\"\nmass = \"310 kg ± 5 %\"\nmass-from = \"maker\"",
        &format!("name = \"canopy\"\n{}\n{}", line(&canopy, "mass = "), line(&canopy, "mass-from = ")),
    );
    demo.change("plover-hard/ride.toml", "mass = \"8.1 t ± 2 %\"", &line(&whole, "mass = "));
    demo.change(
        "plover-hard/ride.toml",
        "cg = [\"4.47 m ± 60 mm\", \"0 m ± 30 mm\", \"0.72 m ± 120 mm\"]",
        &line(&whole, "cg = "),
    );
    let check = run(&["check", &folder]);
    assert_eq!(check.status.code(), Some(0), "{}", said(&check.stderr));
    assert_eq!(run(&["plan", &folder]).status.code(), Some(0));
}

/// Every printed line of working is worked again by the part that has never seen the calculation.
#[test]
fn law_every_line_of_working_is_what_it_says() {
    let (_demo, folder) = with_weighing("weigh-working");
    let mut lines = 0;
    for units in ["metric", "us"] {
        let out = run(&["weigh", &folder, &folder, "--json", "--units", units]);
        let all: Value = serde_json::from_slice(&out.stdout).expect("JSON");
        let of_findings = all["findings"].as_array().expect("findings").iter().map(|f| &f["working"]);
        let of_masses = all["working"].as_array().expect("workings").iter().map(|w| &w["lines"]);
        for line in of_masses.chain(of_findings).filter_map(Value::as_array).flatten() {
            if let Some(numbers) = line["numbers"].as_str() {
                let result = line["result"].as_str().expect("a result");
                if let Err(why) = check_line(numbers, result) {
                    panic!("{numbers} = {result}: {why}");
                }
                lines += 1;
            }
        }
    }
    assert!(lines > 50, "{lines}");
}

#[test]
fn refuse_a_reading_that_does_not_fit_by_its_name() {
    let (demo, folder) = with_weighing("weigh-wrong");
    // Two figures changed round: 3400 for 4300.
    demo.change("plover-hard/weighing.csv", "axle 2,3400,", "axle 2,4300,");
    let out = run(&["weigh", &folder, &folder]);
    assert_eq!(out.status.code(), Some(1), "{}", said(&out.stdout));
    let text = said(&out.stdout);
    assert!(text.contains("Axle 2, on the road: this fits the other readings and the book"), "{text}");
    assert!(text.contains("Read it again: the reading \"axle 2, on the road\""), "{text}");
    let found = json_of(&folder);
    let suspect = &found["result"]["suspects"][0];
    assert_eq!(suspect["cause"], json!({ "kind": "reading", "name": "axle 2, on the road" }));
    // It is 900 kg too much; the reading itself may be off by its deviation, three times that at the most.
    assert!((suspect["error_kg"].as_f64().expect("kg") - 900.0).abs() < 3.0 * 25.0, "{suspect}");
    assert_eq!(found["result"]["suspects"].as_array().map(Vec::len), Some(1), "{found}");
}

#[test]
fn refuse_a_mass_of_the_book_that_no_scale_bears_out() {
    let (demo, folder) = with_weighing("weigh-book");
    demo.change("plover-hard/ride.toml", "mass = \"8.1 t ± 2 %\"", "mass = \"9 t ± 1 %\"");
    let out = run(&["weigh", &folder, &folder]);
    assert_eq!(out.status.code(), Some(1), "{}", said(&out.stdout));
    let text = said(&out.stdout);
    assert!(
        text.contains(
            "Look at it again: the book's mass of the whole ride does not fit; about 820 kg too much"
        ),
        "{text}"
    );
}

#[test]
fn refuse_what_is_wrong_with_both_books_with_its_place() {
    let (demo, folder) = with_weighing("weigh-places");
    demo.change("plover-hard/weighing.csv", "open,front left", "opne,front left");
    demo.change("plover-hard/weighing.csv", "axle 1,3290,", "axle 1,heavy,");
    let errors = said(&run(&["weigh", &folder, &folder]).stderr);
    for wanted in ["weighing.csv:4:", "heavy", "weighing.csv:6:", "\"opne\"", "Did you mean \"open\"?"] {
        assert!(errors.contains(wanted), "{wanted} is missing from:\n{errors}");
    }
    let (demo, folder) = with_weighing("weigh-names");
    demo.change("plover-hard/weighing.csv", "road,hitch,", "road,hich,");
    demo.change("plover-hard/weighing.toml", "only = [\"canopy\"]", "only = [\"canopi\"]");
    let errors = said(&run(&["weigh", &folder, &folder]).stderr);
    for wanted in [
        "\"hich\"",
        "Did you mean \"hitch\"?",
        "\"canopi\"",
        "Did you mean \"canopy\"?",
        "2 things are wrong.",
    ] {
        assert!(errors.contains(wanted), "{wanted} is missing from:\n{errors}");
    }
    // Checked by itself, it is held against the ride book beside it.
    let check = run(&["check", &format!("{folder}/weighing.toml")]);
    assert_eq!(check.status.code(), Some(2));
    assert!(said(&check.stderr).contains("Did you mean \"canopy\"?"), "{}", said(&check.stderr));
    demo.change("plover-hard/ride.toml", "length = \"9 m\"", "lenght = \"9 m\"");
    let errors = said(&run(&["weigh", &folder, &format!("{folder}/none.toml")]).stderr);
    assert!(errors.contains("none.toml is not there") && errors.contains("`lenght`"), "{errors}");
}

/// A book of one mass and no bodies: its legs on scales give what it weighs and where that acts.
#[test]
fn hand_a_bare_book_is_weighed_on_its_legs() {
    let folder = std::env::temp_dir().join(format!("tober-weigh-bare-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder");
    let ride = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/minimal/ride.toml"))
        .expect("the demo");
    fs::write(folder.join("ride.toml"), ride.replace("mass-from = \"weighed\"\n", ""))
        .expect("it can be written");
    // 900 + 800 + 700 + 800 kg at 0.6 and 5.6 m, 1.05 m aside: 3200 kg, (900 + 800) · 0.6 + (700 + 800) · 5.6 = 9420 kg m.
    let mut text =
        "format = 0\n[weighing]\ndeviation = \"1 kg\"\n[[state]]\nname = \"up\"\nstands = \"legs\"\n"
            .to_owned();
    for (leg, kg) in [("rear left", 900), ("rear right", 800), ("front left", 700), ("front right", 800)] {
        text += &format!("[[reading]]\nstate = \"up\"\non = \"{leg}\"\nload = \"{kg} kg\"\n");
    }
    fs::write(folder.join("weighing.toml"), text).expect("it can be written");
    let folder_name = folder.to_str().expect("a plain name");
    let out = run(&["weigh", folder_name, folder_name]);
    let _ = fs::remove_dir_all(&folder);
    let text = said(&out.stdout).replace('\u{202f}', " ");
    assert_eq!(out.status.code(), Some(0), "{text}{}", said(&out.stderr));
    // 9420 / 3200 = 2.944 m; across (900 + 700 - 800 - 800) · 1.05 / 3200 = 0.
    for wanted in ["mass = \"3200 kg ± 5 kg\"", "acts 2.94 m along", "# cg = [\"2944 mm ± ", "\"0 mm ± "] {
        assert!(text.contains(wanted), "{wanted} is missing from:\n{text}");
    }
}

fn asked(question: &Value) -> Value {
    let out = run_with(&["calc", "weighing"], question.to_string().as_bytes());
    serde_json::from_slice(&out.stdout).expect("it prints JSON")
}

/// WE-25 of the reference (a trailer-parts supplier's page): 1,025 lb on the tongue and 7,200 lb on the wheels, 264 in
/// apart, is 12.46 % and 6.499 in too far forward for 10 %; through the command, in pounds and inches, and the same in
/// kilogrammes and metres.
#[test]
fn truth_a_trailer_through_the_command_in_two_sets_of_units() {
    let question = |arm: &str, mass: &str, off: &str, far: &str, tongue: &str, wheels: &str| {
        json!({
            "bodies": [{ "name": "trailer", "mass": mass }],
            "states": [{
                "name": "hitched",
                "supports": [
                    { "name": "wheels", "along": "0 m", "across": "0 m" },
                    { "name": "tongue", "along": arm, "across": "0 m" },
                ],
                "bodies": [{ "name": "trailer", "along": far, "across": "0 m" }],
            }],
            "readings": [
                { "state": "hitched", "on": ["tongue"], "mass": tongue, "deviation": off },
                { "state": "hitched", "on": ["wheels"], "mass": wheels, "deviation": off },
            ],
        })
    };
    let us = question("264 in", "8000 lb ± 40000 lb", "1 lb", "1 ft ± 100 ft", "1025 lb", "7200 lb");
    let metric = question(
        "6.7056 m",
        "3628.73896 kg ± 18143.6948 kg",
        "0.45359237 kg",
        "0.3048 m ± 30.48 m",
        "464.93217925 kg",
        "3265.865064 kg",
    );
    let mut found = Vec::new();
    for question in [us, metric] {
        let answer = asked(&question);
        let state = &answer["result"]["states"][0];
        let (mass, along) =
            (state["mass_kg"].as_f64().expect("kg"), state["along"]["m"].as_f64().expect("m"));
        let inches = along / 0.0254;
        // What the wide guess weighs beside a reading of 1 lb: less than a millionth.
        assert!((mass / 0.453_592_37 - 8_225.0).abs() < 0.01, "{mass}");
        assert!((inches / 264.0 * 100.0 - 12.46).abs() < 0.005, "{inches}");
        assert!((inches - 26.4 - 6.499).abs() < 0.005, "{inches}");
        found.push((mass, along));
    }
    // Another unit is a rounding.
    assert!((found[0].0 - found[1].0).abs() < 1e-6 && (found[0].1 - found[1].1).abs() < 1e-9, "{found:?}");
}

#[test]
fn refuse_questions_of_the_wrong_shape() {
    let answer = asked(&json!({ "bodies": [{ "name": "a", "mass": "1 t" }], "states": [], "readings": [] }));
    assert!(answer["error"]["message"].as_str().is_some_and(|m| m.contains("no reading")), "{answer}");
    let answer = asked(&json!({ "bodies": [{ "name": "a", "mass": "1 kN" }], "states": [], "readings": [] }));
    assert_eq!(answer["error"]["at"], "bodies[0].mass");
    let answer = asked(&json!({ "bodies": [], "states": [], "reading": [] }));
    assert!(answer["error"]["message"].as_str().is_some_and(|m| m.contains("`readings`")), "{answer}");
    let out = run_with(&["calc", "weighin"], b"{}");
    assert!(said(&out.stderr).contains("Did you mean \"weighing\"?"), "{}", said(&out.stderr));
}

/// Questions that are spoiled in seeded ways are answered or refused with a sentence, and never stop the command.
#[test]
fn refuse_spoiled_questions_and_never_a_panic() {
    let good = json!({
        "bodies": [
            { "name": "trailer", "mass": "3.3 t ± 66 kg", "from": "weighed" },
            { "name": "mast", "mass": "620 kg ± 30 kg" },
        ],
        "states": [
            {
                "name": "up",
                "supports": [
                    { "name": "a", "along": "0 m", "across": "1 m" },
                    { "name": "b", "along": "0 m", "across": "-1 m" },
                    { "name": "c", "along": "5 m", "across": "1 m" },
                    { "name": "d", "along": "5 m", "across": "-1 m" },
                ],
                "groups": [{ "name": "rear", "supports": ["a", "b"] }],
                "bodies": [
                    { "name": "trailer", "placement": "open", "along": "2.4 m ± 30 mm", "across": "0 m ± 20 mm" },
                    { "name": "mast", "placement": "open", "along": "3 m ± 30 mm", "across": "0 m" },
                ],
            },
            { "name": "mast alone", "bodies": [{ "name": "mast" }] },
        ],
        "readings": [
            { "state": "up", "on": ["rear"], "mass": "2 t", "deviation": "10 kg" },
            { "state": "up", "on": ["c"], "mass": "1 t", "deviation": "10 kg" },
            { "state": "up", "on": ["d"], "mass": "1 t", "deviation": "10 kg" },
            { "state": "mast alone", "on": "everything", "mass": "630 kg", "deviation": "3 kg" },
        ],
        "deviation_next": "5 kg",
    })
    .to_string();
    const BITS: [&str; 16] = [
        "\"0 kg\"",
        "\"-5 t\"",
        "\"1e300 t\"",
        "\"1e-300 kg\"",
        "\"0 m\"",
        "\"1e9 m\"",
        "[]",
        "{}",
        "null",
        "\"\"",
        "\"up\"",
        "\"a\"",
        "\"1 kg ± 1e8 kg\"",
        "\"5 m\"",
        "7",
        "\"trailer\"",
    ];
    let mut seed = 0x2545_f491_4f6c_dd1d_u64;
    let mut below = |n: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(seed >> 33).unwrap_or(0) % n.max(1)
    };
    let (mut worked, mut refused) = (0, 0);
    for _ in 0..3_000 {
        let mut text = good.clone();
        for _ in 0..=below(3) {
            // A text in quotes, or a list, gives way to something else.
            let starts: Vec<usize> = text.match_indices(":\"").map(|(at, _)| at + 1).collect();
            let at = starts.get(below(starts.len())).copied().unwrap_or(0);
            let end = text[at + 1..].find('"').map_or(text.len(), |length| at + length + 2);
            text.replace_range(at..end, BITS[below(BITS.len())]);
        }
        match tober_wire::calc::answer("weighing", &text, tober_quantity::UnitSet::Metric) {
            Ok((answer, _)) if answer["error"].is_null() => {
                // What is answered is figures: JSON has no others.
                let masses = answer["result"]["bodies"].as_array().expect("bodies");
                assert!(masses.iter().all(|body| body["mass_kg"].is_number()), "{text}");
                worked += 1;
            }
            Ok((answer, _)) => {
                let message = answer["error"]["message"].as_str().expect("a sentence");
                assert!(message.len() > 10, "{message}");
                refused += 1;
            }
            Err(_) => refused += 1,
        }
    }
    assert!(worked > 80 && refused > 1_000, "{worked} and {refused}");
}
