//! `tober rehearse`: gone through by piped words, asked and answered, and written as a page.

use crate::folder::{Folder, run, run_with, said};
use std::fs;

fn right(page: &str) -> usize {
    page.matches("■ Right.").count()
}

#[test]
fn regress_it_is_gone_through_by_words() {
    let demo = Folder::with_demo("rehearse");
    let visit = demo.path("kestrel-yard");
    let out = run_with(
        &["rehearse", &visit],
        b"\nif raise half\nfree\nback\ndo nothing such\nwhat\nshow 3\nquit\n",
    );
    let text = said(&out.stdout);
    assert_eq!(out.status.code(), Some(0), "{text}");
    for wanted in [
        "Nothing here is recorded",
        "only the winch line holds it",
        "May be done now, in any order:",
        "1. Walk the pitch and look up",
        "No step is called \"nothing such\"",
        "is no word here",
        "4 × wheel chock: chock rack to at the wheels",
    ] {
        assert!(text.contains(wanted), "{wanted:?} is not in {text}");
    }
    // Without a name it is the step in hand.
    let shown = said(&run_with(&["rehearse", &visit], b"show\nquit\n").stdout);
    assert_eq!(shown.matches("Walk the pitch and look up").count(), 2, "{shown}");
    // With nothing to read it shows the first step and ends.
    assert_eq!(run_with(&["rehearse", &visit], b"").status.code(), Some(0));
}

/// The answers are read off the run that passes every question, then given.
#[test]
fn law_right_answers_are_right_and_the_score_says_so() {
    let demo = Folder::with_demo("rehearse-quiz");
    let visit = demo.path("plover-hard");
    for role in ["chief", "hand", "operator", "attendant"] {
        let args = ["rehearse", &visit, "--quiz", "--as", role, "--questions", "9", "--seed", "5"];
        let passed = said(&run_with(&args, "\n".repeat(9).as_bytes()).stdout);
        assert!(passed.contains("0 of 9 right.") && passed.contains("To learn:"), "{passed}");
        let mut answers = String::new();
        for line in passed.lines().filter_map(|line| line.split_once("? Passed. ")) {
            answers.push_str(line.1.split_whitespace().next().unwrap_or(""));
            answers.push('\n');
        }
        let out = run_with(&args, answers.as_bytes());
        let text = said(&out.stdout);
        assert!(text.contains("9 of 9 right.") && !text.contains("To learn:"), "{text}");
        assert_eq!((right(&text), out.status.code()), (9, Some(0)));
        // What is no answer is asked again; where answers end, the rest is not answered.
        let cut = said(&run_with(&args, b"seven\n99\n").stdout);
        assert!(cut.contains("a number from 1 to") && cut.contains("9 not answered"), "{cut}");
    }
}

/// The file is the phone book of the visit, of which the rehearsal is the first sheet: one set of sheets for both.
#[test]
fn law_the_page_stands_alone_and_holds_every_step() {
    let demo = Folder::with_demo("rehearse-page");
    let file = demo.path("rehearsal.html");
    let out = run(&["rehearse", &demo.path("kestrel-yard"), "-o", &file]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    let page = fs::read_to_string(&file).expect("it was written");
    // The packed core is letters of every kind, but none of them is a quotation mark.
    for way_out in ["href=\"http", " src=\"", "<link", "@import"] {
        assert!(!page.contains(way_out), "it fetches nothing: {way_out}");
    }
    assert!(page.contains("default-src 'none'"), "and says so to the browser");
    for number in 1..=90 {
        assert!(
            page.contains(&format!("<li id=\"step-{number}\"")),
            "step {number} can be read without script"
        );
    }
    let first = page.find("<section class=\"sheet\"").expect("it has sheets");
    assert!(
        page[first..].starts_with("<section class=\"sheet\" id=\"rehearse\""),
        "it opens at the rehearsal"
    );
    for wanted in ["Getting riders off", "Nothing here is recorded", "href=\"#quiz\"", "Invented"] {
        assert!(page.contains(wanted), "{wanted}");
    }
}

#[test]
fn refuse_a_ride_without_steps() {
    let minimal = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/minimal");
    let out = run(&["rehearse", minimal]);
    assert_eq!(out.status.code(), Some(2));
    assert!(said(&out.stderr).contains("no [[step]]"), "{}", said(&out.stderr));
}
