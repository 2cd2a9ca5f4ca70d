//! `tober log type-in`: what was written on paper comes back as entries that verify and that a phone takes in.

use crate::folder::{Folder, run, said};
use serde_json::{Value, json};
use std::fs;
use tober_phone::core::answer;

const HEADS: &str = "number,about,what,must be,plan,written,by,at";
const AT: &str = "2026-05-09 05:41 +01:00";

/// The name of the plan of a visit, as it stands at the foot of its sheets.
fn plan_of(demo: &Folder, visit: &str) -> String {
    let value: Value = serde_json::from_slice(&run(&["plan", &demo.path(visit), "--json"]).stdout)
        .expect("the plan is JSON");
    value["name"].as_str().expect("it has a name").to_owned()
}

/// A table with a head and these rows.
fn table(demo: &Folder, rows: &[String]) -> String {
    let path = demo.path("blanks.csv");
    fs::write(&path, format!("{HEADS}\r\n{}\r\n", rows.join("\r\n"))).expect("it can be written");
    path
}

/// The rows of a sheet of the meadow that somebody filled.
fn filled(plan: &str) -> Vec<String> {
    let row = |number: &str, about: &str, what: &str, must: &str, written: &str| {
        format!("{number},{about},\"{what}\",{must},{plan},{written},Wi,{AT}")
    };
    vec![
        row("1.1", "front left", "packed, set and locked", "", "x"),
        row("3.1", "front right", "stack built as drawn", "", "yes"),
        row("3.2", "front right", "stack built as drawn: by", "", ""),
        row("3.4", "front right", "sink after 15 min, loaded on its boards", "", "4 mm"),
        row("4.2", "front left", "height of the frame", "", "697"),
        row("4.3", "front left", "foot snug or light", "", "light 3 mm"),
        row("'8.10", "arm C", "4 pins", "4", "3"),
        row("10.9", "fit to open", "chief: signature", "", "A. Chief"),
    ]
}

/// The texts of a visit, as the page on a phone holds them.
fn texts(demo: &Folder, visit: &str) -> Value {
    let read = |file: &str| {
        let own = fs::read_to_string(demo.path(&format!("{visit}/{file}")));
        own.or_else(|_| fs::read_to_string(demo.path(file))).ok()
    };
    json!({ "ride": read("ride.toml"), "kit": read("kit.toml"), "pitch": read("pitch.toml"),
            "visit": read("visit.toml"), "crew": read("crew.toml") })
}

fn asked(texts: &Value, more: &Value) -> Value {
    let mut question = texts.clone();
    let object = question.as_object_mut().expect("an object");
    object.extend(more.as_object().expect("an object").clone());
    serde_json::from_str(&answer(&question.to_string())).expect("the core answers in JSON")
}

#[test]
fn law_what_was_written_comes_back_whole_and_a_phone_takes_it_in() {
    let demo = Folder::with_demo("type-in");
    let plan = plan_of(&demo, "quern-meadow");
    let blanks = table(&demo, &filled(&plan));
    let (visit, file) = (demo.path("quern-meadow"), demo.path("paper.jsonl"));
    let out = run(&["log", "type-in", &visit, &blanks, "-o", &file]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    assert!(
        said(&out.stdout).contains("7 blanks typed in, 1 left empty. New: 9 entries."),
        "{}",
        said(&out.stdout)
    );
    assert!(
        said(&out.stderr).contains("line 8: blank 8.10, arm C, 4 pins: \"3\" was written, and it must be 4.")
    );

    let verified = run(&["log", "verify", &file, "--entries"]);
    assert_eq!(verified.status.code(), Some(0), "{}", said(&verified.stderr));
    let lines = said(&verified.stdout);
    for wanted in [
        "tick: built front left: yes, by Wi",
        "tick: pinned front left: yes, by Wi",
        "tick: built front right: yes, by Wi",
        &format!("reading: {plan} 1 height front left: 697 mm, by Wi"),
        &format!("reading: {plan} 1 foot front left: light, by Wi"),
        &format!("reading: {plan} 1 gap front left: 3 mm, by Wi"),
        "blank 1.1, plan",
        "Done, late: on paper",
        "looked at: 2026-05-09T05:41:00+01:00",
        "written 4 mm",
        "written A. Chief",
        "must be 4",
    ] {
        assert!(lines.contains(wanted), "{wanted} is missing from:\n{lines}");
    }

    // The page takes it in by its own code, and shows it.
    let texts = texts(&demo, "quern-meadow");
    let text = fs::read_to_string(&file).expect("it is written");
    let taken = asked(&texts, &json!({ "do": "take in", "entries": [], "text": text }));
    let entries = taken["entries"].as_array().unwrap_or_else(|| panic!("{taken}"));
    assert_eq!(entries.len(), 9, "{}", taken["said"]);
    let shown = asked(&texts, &json!({ "do": "pages", "entries": entries })).to_string();
    for wanted in [
        "697 mm",
        "A. Chief (looked at: 2026-05-09T05:41:00+01:00)",
        "4 mm (looked at:",
        "Done, late: on paper, blank",
    ] {
        assert!(shown.contains(wanted), "{wanted} is not on the page");
    }

    // Typed in once more nothing is added; what was misread is replaced, and still there.
    let before = fs::read(&file).expect("it is written");
    let out = run(&["log", "type-in", &visit, &blanks, "-o", &file]);
    assert!(said(&out.stdout).contains("New: 0 entries. "), "{}", said(&out.stdout));
    assert_eq!(fs::read(&file).expect("it is written"), before);
    let mended: Vec<String> = filled(&plan).iter().map(|row| row.replace(",697,", ",679,")).collect();
    let out = run(&["log", "type-in", &visit, &table(&demo, &mended), "-o", &file]);
    assert!(
        said(&out.stdout).contains("New: 1 entry. In the place of what was typed in before: 1."),
        "{}",
        said(&out.stdout)
    );
    let lines = said(&run(&["log", "verify", &file, "--entries"]).stdout);
    assert!(lines.contains("679 mm, by Wi") && lines.contains("replaces 697 mm"), "{lines}");
    assert!(!lines.contains("Not agreed"), "{lines}");
}

#[test]
fn law_paper_takes_the_place_of_nothing_that_a_phone_said() {
    let demo = Folder::with_demo("type-in-beside");
    let plan = plan_of(&demo, "quern-meadow");
    let (visit, file) = (demo.path("quern-meadow"), demo.path("paper.jsonl"));
    let row = |written: &str| vec![format!("4.2,front left,height of the frame,,{plan},{written},Wi,{AT}")];
    run(&["log", "type-in", &visit, &table(&demo, &row("697 mm")), "-o", &file]);
    // What a phone says of the same leg, made as a phone makes it.
    let opened = tober_log::text::open(&fs::read(&file).expect("it is written"));
    let header = opened.header.expect("a header");
    let paper = &opened.log.entries()[0];
    let mut body = paper.body.clone();
    body.remove("why");
    let draft = tober_log::Draft {
        role: "chief".to_owned(),
        kind: paper.kind.clone(),
        body,
        ..tober_log::Draft::default()
    };
    let now = tober_log::Now { ms: 1_778_301_000_000, offset_min: 60 };
    let phone = tober_log::next(None, "k7q2m9-1", tober_log::Hlc::default(), now, draft).expect("an entry");
    let log = tober_log::Log::gather(vec![phone]).0;
    for (written, agreed) in [("697 mm", true), ("705 mm", false)] {
        fs::write(&file, tober_log::text::write(&header.visit, &log)).expect("it can be written");
        let out = run(&["log", "type-in", &visit, &table(&demo, &row(written)), "-o", &file]);
        assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
        let lines = said(&run(&["log", "verify", &file]).stdout);
        assert!(lines.contains("2 entries") && lines.contains("still readable: 0"), "{lines}");
        assert_eq!(lines.contains("Not agreed"), !agreed, "{written}: {lines}");
    }
}

#[test]
fn refuse_what_cannot_be_what_was_written() {
    let demo = Folder::with_demo("type-in-refused");
    let plan = plan_of(&demo, "quern-meadow");
    let (visit, file) = (demo.path("quern-meadow"), demo.path("paper.jsonl"));
    let height = |number: &str, plan: &str, written: &str, by: &str, at: &str| {
        format!("{number},front left,height of the frame,,{plan},{written},{by},{at}")
    };
    let good = height("4.2", &plan, "697", "Wi", AT);
    for (rows, wanted) in [
        (vec![height("99.1", &plan, "697", "Wi", AT)], "line 2: \"99.1\" is no number of a blank."),
        (vec![height("4.x", &plan, "697", "Wi", AT)], "line 2: \"4.x\" is no number of a blank."),
        (vec![good.clone(), good.clone()], "line 3: the blank 4.2 stands in line 2 already."),
        (
            vec![height("4.2", "zzzz", "697", "Wi", AT)],
            "line 2: the sheet is of the plan zzzz, and the visit's is now ",
        ),
        (vec![height("4.2", "", "697", "Wi", AT)], "line 2: nothing says of which plan the sheet is."),
        (
            vec![height("4.2", &plan, "tall", "Wi", AT)],
            "height of the frame: \"tall\" was written. Write the number",
        ),
        (vec![height("4.2", &plan, "697 kg", "Wi", AT)], "\"697 kg\" was written."),
        (vec![height("4.2", &plan, "697", "Qq", AT)], "nobody of the crew has the tag \"Qq\". There are: "),
        (
            vec![height("4.2", &plan, "697", "Wi", "2999-01-01 00:00 Z")],
            "\"2999-01-01 00:00 Z\" is yet to come",
        ),
        (vec![height("4.2", &plan, "697", "Wi", "2026-05-09 05:41")], "\"2026-05-09 05:41\" has no zone."),
        (
            vec![good.replace("front left", "front lift")],
            "\"front lift\" is no leg of this ride. Its legs are: ",
        ),
        (vec![good.replace(",Wi,", ",Wi,,")], "line 2: 9 cells, and the head has 8."),
    ] {
        let out = run(&["log", "type-in", &visit, &table(&demo, &rows), "-o", &file]);
        assert_eq!(out.status.code(), Some(2), "{rows:?}");
        let errors = said(&out.stderr);
        assert!(
            errors.contains("blanks.csv: ") && errors.contains(wanted),
            "{wanted} is missing from:\n{errors}"
        );
        assert!(fs::metadata(&file).is_err(), "nothing is written");
    }
    // A file that is none of this visit's is left as it is.
    for (contents, wanted) in [
        ("not entries\n", "is no whole file of entries"),
        (
            include_str!("../../../tober-log/tests/golden/north-meadow.jsonl"),
            "has the entries of \"north-meadow\"",
        ),
    ] {
        fs::write(&file, contents).expect("it can be written");
        let out = run(&["log", "type-in", &visit, &table(&demo, std::slice::from_ref(&good)), "-o", &file]);
        assert_eq!(out.status.code(), Some(2));
        assert!(said(&out.stderr).contains(wanted), "{}", said(&out.stderr));
        assert_eq!(fs::read_to_string(&file).expect("it is there"), contents);
    }
}

#[test]
fn hand_a_sheet_of_another_plan_is_kept_under_its_own() {
    let demo = Folder::with_demo("type-in-other");
    let (visit, file) = (demo.path("quern-meadow"), demo.path("paper.jsonl"));
    let rows = ["4.2,front left,height of the frame,,zzzz,697 mm,,".to_owned()];
    let out = run(&["log", "type-in", &visit, &table(&demo, &rows), "-o", &file, "--another-plan"]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    assert!(said(&out.stderr).contains("line 2: blank 4.2 is of the plan zzzz, not of "));
    let told = said(&out.stdout);
    assert!(told.contains("When it was looked at is not known of 1 blank."), "{told}");
    assert!(told.contains("Who wrote it is not known of 1 blank."), "{told}");
    let lines = said(&run(&["log", "verify", &file, "--entries"]).stdout);
    assert!(lines.contains("note: paper zzzz 4.2, front left, height of the frame: 697 mm"), "{lines}");
    assert!(lines.contains("looked at: not known") && lines.contains("; plan zzzz"), "{lines}");
}
