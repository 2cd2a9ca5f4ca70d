//! `tober trim`: a lowered frame read in a file beside the visit.

use crate::folder::{Folder, run, said};
use std::fs;

fn frame(rows: &[(&str, &str, &str)]) -> String {
    let mut text = "format = 0\n\n[frame]\nheight-off-by = \"0 mm\"\n".to_owned();
    for (leg, height, foot) in rows {
        text += &format!("\n[[leg]]\nleg = \"{leg}\"\nheight = \"{height}\"\n{foot}\n");
    }
    text
}

const SNUG: &str = "foot = \"snug\"";

/// The lines of LOOK's example: all within 3 of 645 but rear right, which has sunk and is light by 6.
pub fn sunk() -> String {
    frame(&[
        ("front left", "643 mm", SNUG),
        ("front right", "646 mm", SNUG),
        ("rear left", "645 mm", SNUG),
        ("rear right", "637 mm", "foot = \"light\"\ngap = \"6 mm\""),
        ("middle left", "645 mm", SNUG),
        ("middle right", "642 mm", SNUG),
    ])
}

#[test]
fn hand_a_sunk_leg_is_told_and_the_round_ends_inside() {
    let demo = Folder::with_demo("trim");
    let visit = demo.path("quern-meadow");
    fs::write(demo.path("quern-meadow/frame.toml"), sunk()).expect("it can be written");
    let out = run(&["trim", &visit]);
    assert_eq!(out.status.code(), Some(1), "{}", said(&out.stderr));
    let text = said(&out.stdout);
    assert!(text.contains("Now: Rear right: take out the 25 and the ply 12, put in one 50."), "{text}");
    let json: serde_json::Value =
        serde_json::from_slice(&run(&["trim", &visit, "--json"]).stdout).expect("it prints JSON");
    assert_eq!(json["change"][0]["leg"], "rear right");
    assert_eq!(json["change"][0]["up"]["value"], 12.0);
    // The next round: what was changed is written down, and what is read is what was worked out.
    let then = sunk()
        .replace("637 mm", "643 mm")
        .replace("foot = \"light\"\ngap = \"6 mm\"", "foot = \"snug\"\nboards = [\"mat\", \"50\", \"50\"]");
    fs::write(demo.path("quern-meadow/frame.toml"), then).expect("it can be written");
    let out = run(&["trim", &visit]);
    assert_eq!(out.status.code(), Some(0), "{}{}", said(&out.stdout), said(&out.stderr));
    assert!(said(&out.stdout).contains("Nothing to change."));
}

#[test]
fn law_what_is_not_read_ends_with_three_and_is_asked_for() {
    let demo = Folder::with_demo("trim-unread");
    let text = sunk().replace("foot = \"light\"\ngap = \"6 mm\"", "foot = \"light\"");
    fs::write(demo.path("quern-meadow/frame.toml"), text).expect("it can be written");
    let out = run(&["trim", &demo.path("quern-meadow")]);
    assert_eq!(out.status.code(), Some(3), "{}", said(&out.stderr));
    assert!(said(&out.stdout).contains("Slide a rule under rear right and read the gap."));
}

#[test]
fn refuse_readings_that_are_wrong_with_their_place() {
    let demo = Folder::with_demo("trim-wrong");
    let visit = demo.path("quern-meadow");
    let missing = run(&["trim", &demo.path("plover-hard")]);
    assert_eq!(missing.status.code(), Some(2));
    assert!(said(&missing.stderr).contains("frame.toml is not there"), "{}", said(&missing.stderr));
    for (from, to, says) in [
        ("\"rear right\"", "\"rear rite\"", "\"rear right\""),
        ("\"637 mm\"", "637", "bare number"),
        ("\"637 mm\"", "\"6370 mm\"", "Read rear right again."),
        ("foot = \"light\"", "foot = \"snug\"", "a snug foot has none"),
        ("gap = \"6 mm\"", "gap = \"6 mm\"\nhole = 9", "holes 1 to 8"),
        ("gap = \"6 mm\"", "gap = \"6 mm\"\nboards = [\"plank\"]", "\"plank\""),
        ("height-off-by", "hight-off-by", "`height-off-by`"),
        ("gap = \"6 mm\"", "gap = \"6 mm\"\nload = \"1.2 t ± 5 %\"", "A foot with a gap carries nothing"),
        ("gap = \"6 mm\"", "gap = \"6 mm\"\nload = 1.2", "bare number"),
        ("gap = \"6 mm\"", "gap = \"6 mm\"\nload = \"120 t ± 5 %\"", "outside what it can be"),
    ] {
        fs::write(demo.path("quern-meadow/frame.toml"), sunk().replace(from, to)).expect("it can be written");
        let out = run(&["trim", &visit]);
        assert_eq!(out.status.code(), Some(2), "{to}: {}", said(&out.stdout));
        assert!(said(&out.stderr).contains(says), "{to}: {}", said(&out.stderr));
        assert!(out.stdout.is_empty(), "{to}");
    }
}

/// A gauge at rear left within what was computed narrows every load; one far outside it says stop, with both figures.
#[test]
fn hand_a_measured_load_narrows_the_loads_or_says_stop() {
    let demo = Folder::with_demo("trim-load");
    let visit = demo.path("quern-meadow");
    let file = demo.path("quern-meadow/frame.toml");
    let with = |load: &str| {
        let at = "leg = \"rear left\"";
        sunk().replace(at, &format!("{at}\nload = \"{load}\""))
    };
    let high = |text: &str| {
        fs::write(&file, text).expect("it can be written");
        let json: serde_json::Value =
            serde_json::from_slice(&run(&["trim", &visit, "--json"]).stdout).expect("it prints JSON");
        json["legs"]
            .as_array()
            .expect("legs")
            .iter()
            .map(|leg| leg["load"]["high"]["value"].as_f64())
            .collect()
    };
    let bare: Vec<Option<f64>> = high(&sunk());
    let cut: Vec<Option<f64>> = high(&with("1.2 t ± 5 %"));
    assert!(bare.iter().zip(&cut).all(|(bare, cut)| cut.is_some() && cut <= bare), "{bare:?} {cut:?}");
    assert!(cut < bare, "the gauge narrows nothing: {cut:?}");
    fs::write(&file, with("9 t ± 5 %")).expect("it can be written");
    let out = run(&["trim", &visit]);
    assert_eq!(out.status.code(), Some(1));
    let text = said(&out.stdout).replace('\u{202f}', " ");
    assert!(text.contains("Now: Stop. Begin at rear left"), "{text}");
    assert!(text.contains("9.5 t was read") && text.contains("is computed without the readings"), "{text}");
    // What the gauge may be off by may stand once for all legs; where it stands nowhere, nothing is known by it.
    fs::write(&file, with("9 t")).expect("it can be written");
    let text = said(&run(&["trim", &visit]).stdout);
    assert!(
        !text.contains("Stop.") && text.contains("What the load measured at rear left may be off by"),
        "{text}"
    );
    let all = with("9 t").replace("[frame]", "[frame]\nload-off-by = \"0.5 t\"");
    fs::write(&file, all).expect("it can be written");
    assert!(said(&run(&["trim", &visit]).stdout).contains("Now: Stop."));
}
