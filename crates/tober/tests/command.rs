//! The command as a user meets it: what it prints, and with which status it ends.

use std::fs;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

fn run(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tober")).args(arguments).output().expect("the command runs")
}

fn said(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("it speaks UTF-8")
}

/// A folder of its own for each test, with the demo in it, taken away at the end.
struct Folder(PathBuf);

impl Folder {
    fn with_demo(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("tober-{name}-{}", std::process::id()));
        let out = run(&["demo", folder.to_str().expect("a plain name")]);
        assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
        Self(folder)
    }
    fn path(&self, inside: &str) -> String {
        self.0.join(inside).to_str().expect("a plain name").to_owned()
    }
    fn change(&self, file: &str, from: &str, to: &str) {
        let path = self.0.join(file);
        let text = fs::read_to_string(&path).expect("the demo is there");
        assert!(text.contains(from), "{file} says {from}");
        fs::write(&path, text.replacen(from, to, 1)).expect("it can be changed");
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

#[test]
fn hand_exit_status_says_how_the_plan_stands() {
    let demo = Folder::with_demo("status");
    let hard = demo.path("quern-meadow");
    assert_eq!(run(&["plan", &hard]).status.code(), Some(0), "all inside or close");
    demo.change("quern-meadow/pitch.toml", "friction = 0.4\n", "");
    assert_eq!(run(&["plan", &hard]).status.code(), Some(3), "sliding is not known any more");
    demo.change("quern-meadow/ride.toml", "rated-load = \"7 t\"", "rated-load = \"2 t\"");
    assert_eq!(run(&["plan", &hard]).status.code(), Some(1), "a leg is past its limit");
    demo.change("quern-meadow/kit.toml", "count = 6", "count = \"six\"");
    assert_eq!(run(&["plan", &hard]).status.code(), Some(2), "the kit is wrong");
}

#[test]
fn refuse_all_that_is_wrong_at_once_with_its_place() {
    let demo = Folder::with_demo("wrong");
    let visit = demo.path("plover-hard");
    demo.change("plover-hard/ride.toml", "length = \"9 m\"", "lenght = \"9 m\"");
    demo.change("plover-hard/kit.toml", "thickness = \"38 mm\"", "thickness = 38");
    demo.change("plover-hard/pitch.toml", "leg = \"front left\"", "leg = \"front lift\"");
    let out = run(&["check", &visit]);
    assert_eq!(out.status.code(), Some(2));
    let errors = said(&out.stderr);
    for wanted in [
        "ride.toml:",
        "`lenght`",
        "`length`",
        "kit.toml:",
        "bare number",
        "pitch.toml:",
        "\"front lift\"",
        "\"front left\"",
        "^^^",
        "3 things are wrong.",
    ] {
        assert!(errors.contains(wanted), "{wanted} is missing from:\n{errors}");
    }
    assert!(out.stdout.is_empty(), "talk goes to standard error");
}

#[test]
fn refuse_what_is_no_visit_with_a_sentence() {
    let demo = Folder::with_demo("none");
    let binary = demo.path("binary.toml");
    fs::write(&binary, [0xff, 0xfe, 0x00, 0x80]).expect("it can be written");
    let empty = demo.path("empty.toml");
    fs::write(&empty, "").expect("it can be written");
    let folder = demo.path("");
    for arguments in [
        vec!["plan", "no-such-folder"],
        vec!["plan", &folder],
        vec!["check", "no-such-file.toml"],
        vec!["check", &binary],
        vec!["check", &empty],
        vec!["calc", "packing", "no-such-file.json"],
        vec!["calc", "packing", &binary],
        vec!["calc", "packaging"],
        vec!["demo", &binary],
    ] {
        let out = Command::new(env!("CARGO_BIN_EXE_tober")).args(&arguments).stdin(Stdio::null()).output();
        let out = out.expect("the command runs");
        assert_eq!(out.status.code(), Some(2), "{arguments:?}");
        let sentence = said(&out.stderr);
        assert!(sentence.trim_end().ends_with('.') && sentence.len() > 20, "{arguments:?}: {sentence}");
        assert!(!sentence.contains("panicked"), "{arguments:?}: {sentence}");
    }
}

#[test]
fn law_json_holds_what_the_text_says() {
    let demo = Folder::with_demo("json");
    let hard = demo.path("quern-meadow");
    let json: serde_json::Value =
        serde_json::from_slice(&run(&["plan", &hard, "--json"]).stdout).expect("it prints JSON");
    let text = said(&run(&["plan", &hard]).stdout);
    assert!(text.contains(json["name"].as_str().expect("a name")));
    let legs = json["legs"].as_array().expect("legs");
    assert_eq!(legs.len(), 6);
    for leg in legs {
        let line =
            text.lines().find(|l| l.contains(leg["name"].as_str().expect("a name"))).expect("its line");
        let hole = leg["held"]["number"].as_u64().expect("a hole");
        assert!(line.contains(&format!("hole {hole}")), "{line}");
        for layer in leg["layers"].as_array().expect("layers") {
            assert!(line.contains(layer["board"].as_str().expect("a board")), "{line}");
        }
    }
    let findings = json["findings"].as_array().expect("findings");
    assert!(findings.iter().all(|f| f["working"].is_array() && f["standing"].is_string()));
}

#[test]
fn law_units_and_words_are_those_asked_for() {
    let demo = Folder::with_demo("units");
    let hard = demo.path("quern-meadow");
    let us = said(&run(&["plan", &hard, "--units", "us", "--words", "us", "--working"]).stdout);
    assert!(us.contains("lb") && us.contains("hairpin") && us.contains("kip") && !us.contains(" kN"), "{us}");
    let metric = said(&run(&["plan", &hard, "--units", "metric", "--words", "gb", "--working"]).stdout);
    assert!(metric.contains("R-clip") && metric.contains("kN") && !metric.contains("kip"));
    let out = run(&["plan", &hard, "--units", "imperial"]);
    assert_eq!(out.status.code(), Some(2));
    assert!(said(&out.stderr).contains("metric"));
}

#[test]
fn law_calc_reads_a_file_or_standard_input_alike() {
    let demo = Folder::with_demo("calc");
    let question = r#"[{"rules": "gust at the ride", "gust": "20 m/s"}, {"rules": "nonsense"}]"#;
    let file = demo.path("question.json");
    fs::write(&file, question).expect("it can be written");
    let of_file = run(&["calc", "wind-pressure", &file]);
    let mut child = Command::new(env!("CARGO_BIN_EXE_tober"))
        .args(["calc", "wind-pressure"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the command runs");
    child.stdin.take().expect("it listens").write_all(question.as_bytes()).expect("it reads");
    let of_stream = child.wait_with_output().expect("it ends");
    assert_eq!(of_file.stdout, of_stream.stdout);
    assert_eq!((of_file.status.code(), of_stream.status.code()), (Some(2), Some(2)), "one question is wrong");
    let answers: serde_json::Value = serde_json::from_slice(&of_file.stdout).expect("JSON");
    // 0.5 × 1.25 kg/m³ × (20 m/s)² = 250 Pa.
    assert_eq!(answers[0]["result"]["pressure_Pa"], 250.0);
    assert!(answers[1]["error"]["message"].as_str().is_some_and(|m| m.contains("EN 1991-1-4")));
}

#[test]
fn hand_alone_it_says_what_to_do_next_and_every_command_it_names_is_there() {
    let out = run(&[]);
    assert_eq!(out.status.code(), Some(0));
    let text = said(&out.stdout) + include_str!("../../../README.md");
    let mut named = 0;
    for (at, _) in text.match_indices("tober ") {
        let word: String = text[at + 6..].chars().take_while(char::is_ascii_lowercase).collect();
        let command = text[..at].ends_with(['`', ' ', '|', '\n']) && !word.is_empty();
        if command && ["demo", "plan", "check", "calc"].contains(&word.as_str()) {
            assert_eq!(run(&[&word, "--help"]).status.code(), Some(0), "tober {word}");
            named += 1;
        }
    }
    assert!(named >= 4, "only {named} commands are named");
}

#[test]
fn law_drawings_are_written_as_svg_and_png() {
    let demo = Folder::with_demo("drawings");
    let folder = demo.path("pictures");
    let out = run(&["plan", &demo.path("quern-meadow"), "--drawings", &folder, "--png"]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    let mut names: Vec<String> = fs::read_dir(&folder)
        .expect("the folder is made")
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("a plain name"))
        .collect();
    names.sort();
    let of = |end: &str| names.iter().filter(|name| name.ends_with(end)).count();
    assert_eq!((of(".svg"), of(".png")), (10, 10), "{names:?}");
    for name in &names {
        let bytes = fs::read(format!("{folder}/{name}")).expect("it can be read");
        let begins =
            if name.ends_with(".png") { bytes.starts_with(b"\x89PNG") } else { bytes.starts_with(b"<svg") };
        assert!(begins, "{name}");
    }
}

#[test]
fn hand_readings_in_a_file_of_rows_give_the_same_plan() {
    let demo = Folder::with_demo("rows");
    let visit = demo.path("plover-hard");
    let before = run(&["plan", &visit]);
    let pitch = fs::read_to_string(demo.path("plover-hard/pitch.toml")).expect("the demo is there");
    let begin = pitch.find("leg = [").expect("the tape stands in the pitch");
    let end = begin + pitch[begin..].find("\n]\n").expect("and ends") + 3;
    let mut rows = "leg,tape\n".to_owned();
    for row in pitch[begin..end].lines().filter(|row| row.contains("tape = ")) {
        let texts: Vec<&str> = row.split('"').collect();
        rows += &format!("{},{}\n", texts[1], texts[3]);
    }
    demo.change("plover-hard/pitch.toml", &pitch[begin..end], "file = \"tape.csv\"\n");
    fs::write(demo.path("plover-hard/tape.csv"), &rows).expect("it can be written");
    let after = run(&["plan", &visit]);
    assert_eq!(after.status.code(), Some(0), "{}", said(&after.stderr));
    assert_eq!(said(&before.stdout), said(&after.stdout));

    fs::write(demo.path("plover-hard/tape.csv"), rows.replace("rear left,", "rear lft,")).expect("again");
    let wrong = run(&["plan", &visit]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(said(&wrong.stderr).contains("tape.csv:6:1:"), "{}", said(&wrong.stderr));
}

#[test]
fn hand_a_visit_becomes_one_file_for_a_phone() {
    let folder = Folder::with_demo("phone");
    let (visit, out) = (folder.path("quern-meadow"), folder.path("one.html"));
    let written = run(&["phone", &visit, "-o", &out]);
    assert_eq!(written.status.code(), Some(0), "{}", said(&written.stderr));
    let page = fs::read_to_string(&out).expect("the page is written");
    assert!(page.contains("Build rear right") && page.ends_with("</html>\n"));
    let by_demo =
        fs::read_to_string(folder.path("quern-meadow/phone.html")).expect("the demo writes one too");
    assert_eq!(page, by_demo);
}

#[test]
fn refuse_a_phone_file_of_a_visit_that_is_wrong() {
    let folder = Folder::with_demo("phone-wrong");
    folder.change("quern-meadow/tape.csv", "804 mm", "804 kg");
    let (visit, out) = (folder.path("quern-meadow"), folder.path("one.html"));
    let refused = run(&["phone", &visit, "-o", &out]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(said(&refused.stderr).contains("804 kg"), "{}", said(&refused.stderr));
    assert!(fs::metadata(&out).is_err(), "nothing is written");
}
