//! What cannot be read or written: a sentence with what would be right, the status of wrong input, and
//! nothing lost.

use crate::folder::{Folder, run, run_with, said};
use std::fs;
use std::path::PathBuf;

/// Ends with the status of wrong input and sentences, prints no data, and is no fault of ours.
#[track_caller]
fn refused(arguments: &[&str], input: &[u8]) -> String {
    let out = run_with(arguments, input);
    let sentence = said(&out.stderr);
    assert_eq!(out.status.code(), Some(2), "{arguments:?}: {sentence}");
    assert!(sentence.trim_end().ends_with('.') && sentence.len() > 20, "{arguments:?}: {sentence}");
    for ours in ["panicked", "fault of ours", "os error 2)"] {
        assert!(!sentence.contains(ours), "{arguments:?}: {sentence}");
    }
    sentence
}

#[test]
fn refuse_what_cannot_be_read_with_a_sentence() {
    let demo = Folder::with_demo("unread");
    let file = |name: &str, bytes: &[u8]| {
        fs::write(demo.path(name), bytes).expect("it can be written");
        demo.path(name)
    };
    let binary = file("binary.toml", &[0xff, 0xfe, 0x00, 0x80]);
    let zeros = file("zeros.toml", &[0; 64]);
    let empty = file("empty.toml", b"");
    let (folder, kit) = (demo.path(""), demo.path("quern-meadow/kit.toml"));
    fs::create_dir_all(demo.path("hollow/visit.toml")).expect("a folder in the place of a file");
    let hollow = demo.path("hollow");
    let drawings = demo.path("quern-meadow/drawings");
    for (arguments, says) in [
        (vec!["plan", "no-such-folder"], "is not there"),
        (vec!["plan", &folder], "has no visit.toml"),
        (vec!["plan", &hollow], "is a folder; a file is wanted"),
        (vec!["plan", &binary], "is not UTF-8"),
        (vec!["plan", &empty], "is missing"),
        (vec!["plan", &kit], "There is no"),
        (vec!["phone", "no-such-folder"], "is not there"),
        // A folder without any visit in its folders; one with them is taken as all of them.
        (vec!["phone", &drawings], "has no visit.toml"),
        (vec!["check", "no-such-file.toml"], "is not there"),
        (vec!["check", &folder], "has no visit.toml"),
        (vec!["check", &binary], "is not UTF-8"),
        (vec!["check", &zeros], "none of the files Tober reads"),
        (vec!["check", &empty], "none of the files Tober reads"),
        (vec!["calc", "packing", "no-such-file.json"], "is not there"),
        (vec!["calc", "packing", &binary], "is not UTF-8"),
        (vec!["calc", "packing", &empty], "not JSON"),
        (vec!["calc", "packing", &folder], "is a folder; a file is wanted"),
        (vec!["calc", "packaging", &empty], "packing"),
    ] {
        let sentence = refused(&arguments, b"");
        assert!(sentence.contains(says), "{arguments:?} says {sentence}");
    }
    assert!(refused(&["calc", "survey"], b"").contains("not JSON"));
    assert!(refused(&["calc", "survey"], &[0xff, 0xfe]).contains("cannot be read as UTF-8 text"));
}

#[test]
fn refuse_to_write_where_something_else_stands_and_lose_nothing() {
    let demo = Folder::with_demo("unwritten");
    let before = demo.contents();
    let (visit, kit) = (demo.path("quern-meadow"), demo.path("quern-meadow/kit.toml"));
    let below = demo.path("quern-meadow/kit.toml/below.html");
    // A file in the place of a folder stops everybody, the owner of the machine too.
    for arguments in [
        vec!["plan", &visit, "--drawings", &kit],
        vec!["plan", &visit, "--drawings", &below, "--png"],
        vec!["phone", &visit, "-o", &below],
        vec!["phone", &visit, "-o", &visit],
        vec!["demo", &kit],
        vec!["demo", &below],
    ] {
        let sentence = refused(&arguments, b"");
        assert!(sentence.contains("Give a path where you may write"), "{arguments:?}: {sentence}");
    }
    assert_eq!(demo.contents(), before, "nothing that was there is changed");
}

#[test]
fn regress_a_second_demo_keeps_the_readings_that_were_changed() {
    let demo = Folder::with_demo("kept");
    let folder = demo.path("");
    let again = run(&["demo", &folder]);
    assert_eq!((again.status.code(), said(&again.stderr)), (Some(0), String::new()));
    demo.change("quern-meadow/tape.csv", "804 mm", "806 mm");
    demo.change("quern-meadow/kit.toml", "[kit]", "# Counted again.\n[kit]");
    let before = demo.contents();
    let once_more = run(&["demo", &folder]);
    assert_eq!(once_more.status.code(), Some(0));
    let sentences = said(&once_more.stderr);
    assert_eq!(sentences.lines().count(), 2, "{sentences}");
    for kept in ["quern-meadow/tape.csv", "quern-meadow/kit.toml"] {
        assert!(sentences.contains(&format!("{kept} differs from the demo's own and is kept.")));
        let path = PathBuf::from(demo.path(kept));
        assert_eq!(demo.contents()[&path], before[&path], "{kept}");
    }
}

#[test]
fn regress_a_file_that_is_not_there_hides_nothing_of_the_others() {
    let demo = Folder::with_demo("hidden");
    let visit = demo.path("quern-meadow");
    fs::remove_file(demo.path("quern-meadow/kit.toml")).expect("it was there");
    fs::remove_file(demo.path("quern-meadow/tape.csv")).expect("it was there");
    demo.change("quern-meadow/ride.toml", "[ride]", "[ride]\ncolour = \"red\"");
    demo.change("quern-meadow/visit.toml", "[pose]", "[pose]\ncolour = \"red\"");
    demo.change("quern-meadow/crew.toml", "[crew]", "[crew]\ncolour = \"red\"");
    for command in ["check", "plan", "phone"] {
        let out = run(&[command, &visit]);
        let errors = said(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{errors}");
        for wanted in ["kit.toml is not there", "tape.csv is not there"] {
            assert_eq!(errors.matches(wanted).count(), 1, "{command}: {wanted}:\n{errors}");
        }
        for file in ["ride.toml:", "visit.toml:", "crew.toml:"] {
            let line = errors.lines().find(|line| line.contains(file)).unwrap_or_default();
            assert!(line.ends_with("There is no key `colour` here."), "{command}: {file}\n{errors}");
        }
        assert!(errors.ends_with("5 things are wrong.\n"), "{errors}");
    }
}

#[test]
fn regress_readings_lie_beside_the_pitch_for_every_command() {
    let demo = Folder::with_demo("beside");
    let visit = demo.path("quern-meadow");
    let before = run(&["plan", &visit]);
    fs::create_dir(demo.path("quern-meadow/pitch")).expect("it can be made");
    for file in ["pitch.toml", "tape.csv"] {
        let to = demo.path(&format!("quern-meadow/pitch/{file}"));
        fs::rename(demo.path(&format!("quern-meadow/{file}")), to).expect("it can be moved");
    }
    demo.change("quern-meadow/visit.toml", "pitch = \"pitch.toml\"", "pitch = \"pitch/pitch.toml\"");
    let after = run(&["plan", &visit]);
    assert_eq!(said(&after.stdout), said(&before.stdout), "{}", said(&after.stderr));
    let out = run(&["phone", &visit, "-o", &demo.path("one.html")]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
}

#[test]
fn hand_what_is_wrong_is_shown_with_its_place_and_underlined() {
    let demo = Folder::with_demo("shown");
    let kit = demo.path("plover-hard/kit.toml");
    demo.change("plover-hard/kit.toml", "thickness = \"38 mm\"", "thicknes = \"38 mm\"");
    let text = fs::read_to_string(&kit).expect("it is there");
    let line = 1 + text.lines().position(|line| line.starts_with("thicknes ")).expect("it is there");
    let errors = refused(&["check", &kit], b"");
    // Line and column are those an editor shows; the underline has the length of the word and stands below it.
    let wanted = format!(
        "{kit}:{line}:1: error: There is no key `thicknes` here.\n  | thicknes = \"38 mm\"\n  | ^^^^^^^^\n"
    );
    assert!(errors.contains(&wanted), "{errors}");
    assert!(errors.contains("Did you mean `thickness`?"), "{errors}");
    assert!(!errors.contains('\u{1b}'), "no colours where no terminal is");
}

/// What several visits of one ride share may lie in the folder above them; that is said, and the plan is the same.
#[test]
fn hand_ride_kit_and_crew_may_lie_one_folder_up() {
    let demo = Folder::with_demo("shared");
    let visit = demo.path("sallow-green");
    let whole = run(&["plan", &visit]);
    for file in ["ride.toml", "kit.toml", "crew.toml"] {
        fs::rename(demo.path(&format!("sallow-green/{file}")), demo.path(file)).expect("it was there");
    }
    let shared = run(&["plan", &visit]);
    assert_eq!((whole.status.code(), said(&whole.stdout)), (shared.status.code(), said(&shared.stdout)));
    let told = said(&shared.stderr);
    for file in ["ride.toml", "kit.toml", "crew.toml"] {
        assert!(told.contains(&format!("{file} is not in {visit}; {} is used.", demo.path(file))), "{told}");
    }
    assert_eq!(run(&["check", &visit]).status.code(), Some(0));
    let phone = demo.path("phone.html");
    assert_eq!(run(&["phone", &visit, "-o", &phone]).status.code(), Some(0));
    // A pitch is of one visit alone, and a name with a folder is looked for where it says.
    fs::rename(demo.path("sallow-green/pitch.toml"), demo.path("pitch.toml")).expect("it was there");
    let out = run(&["plan", &visit]);
    assert_eq!(out.status.code(), Some(2));
    assert!(said(&out.stderr).contains("sallow-green/pitch.toml is not there"), "{}", said(&out.stderr));
}
