//! The command as a user meets it: what it prints, and with which status it ends.

mod calc;
mod faults;
mod folder;
mod golden;
mod log;
mod named;
mod new;
mod phone;
mod picture;
mod rehearse;
#[cfg(feature = "pdf")]
mod sheets;
mod trim;
mod type_in;
mod weigh;

use folder::{Folder, run, said};
use std::fs;

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

/// Four visits of two rides: three may be opened as they are, and on the green the chief has to decide. What its visit says to
/// do is done here, and then it may be opened too.
#[test]
fn hand_the_four_visits_of_the_demo_end_as_they_should() {
    let demo = Folder::with_demo("four");
    for (visit, status) in [("plover-hard", 0), ("quern-meadow", 0), ("kestrel-yard", 0), ("sallow-green", 1)]
    {
        let out = run(&["plan", &demo.path(visit)]);
        assert_eq!(out.status.code(), Some(status), "{visit}: {}", said(&out.stdout));
        let check = run(&["check", &demo.path(visit)]);
        assert_eq!(check.status.code(), Some(0), "{visit}: {}", said(&check.stderr));
    }
    let us = said(&run(&["plan", &demo.path("kestrel-yard")]).stdout);
    // All four stand on screws: nobody is asked for a pin.
    assert!(us.contains("screws set and locked") && !us.contains("hairpin"), "{us}");
    assert!(us.contains(" turns") && us.contains("lb"), "{us}");
    demo.change(
        "sallow-green/visit.toml",
        "at = [\"0 m\", \"0 m\"]\nheading",
        "at = [\"1.5 m\", \"0 m\"]\nheading",
    );
    let pitch = demo.path("sallow-green/pitch.toml");
    let text = fs::read_to_string(&pitch).expect("it is there");
    let from = text.find("# The trench of the water main").expect("the trench is told");
    let to = text.find("[[obstacle]]").expect("what stands near is told");
    fs::write(&pitch, format!("{}{}", &text[..from], &text[to..])).expect("it can be written");
    let out = run(&["plan", &demo.path("sallow-green")]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stdout));
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
