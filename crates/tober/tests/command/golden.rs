//! Whole runs, kept as files: what a user reads may change only where somebody looked at the change.
//!
//! `TOBER_GOLDEN=write cargo test --release -p tober golden` writes them anew.

use crate::folder::{Folder, run, run_with, said};
use std::fs;
use std::path::Path;

/// What was printed is what is kept. Paths of the machine are masked.
#[track_caller]
fn kept(name: &str, printed: &str, folder: &str) {
    let printed = printed.replace(folder.trim_end_matches('/'), "FOLDER");
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/command/golden").join(name);
    if std::env::var("TOBER_GOLDEN").is_ok_and(|what| what == "write") {
        fs::write(&path, &printed).expect("the golden file can be written");
        return;
    }
    let golden = fs::read_to_string(&path).expect("the golden file is there");
    let differs = golden.lines().zip(printed.lines()).position(|(a, b)| a != b);
    assert!(
        golden == printed,
        "{name} differs from what is printed, first at line {}. If the change is meant, run with TOBER_GOLDEN=write \
         and look at the difference. Printed:\n{printed}",
        differs.map_or(golden.lines().count().min(printed.lines().count()), |at| at) + 1
    );
}

#[test]
fn regress_golden_plans_of_the_demo() {
    let demo = Folder::with_demo("golden");
    let folder = demo.path("");
    for visit in ["plover-hard", "quern-meadow", "kestrel-yard", "sallow-green"] {
        let path = demo.path(visit);
        let gb = run(&["plan", &path, "--units", "gb", "--words", "gb"]);
        kept(&format!("{visit}.txt"), &said(&gb.stdout), &folder);
        let us = run(&["plan", &path, "--units", "us", "--words", "us"]);
        kept(&format!("{visit}-us.txt"), &said(&us.stdout), &folder);
    }
}

#[test]
fn regress_golden_trims_of_the_demo() {
    let demo = Folder::with_demo("golden-trim");
    let folder = demo.path("");
    let path = demo.path("quern-meadow");
    fs::write(demo.path("quern-meadow/frame.toml"), crate::trim::sunk()).expect("it can be written");
    kept("trim.txt", &said(&run(&["trim", &path, "--working"]).stdout), &folder);
    let us = run(&["trim", &path, "--units", "us", "--words", "us"]);
    kept("trim-us.txt", &said(&us.stdout), &folder);
}

#[test]
fn regress_golden_weighing_of_the_demo() {
    let ride = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/lantern");
    kept("weigh.txt", &said(&run(&["weigh", ride, ride]).stdout), ride);
    let wheel = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/osier");
    kept("weigh-wheel.txt", &said(&run(&["weigh", wheel, wheel]).stdout), wheel);
}

#[test]
fn regress_golden_complaints_of_a_visit_that_is_wrong_all_over() {
    let demo = Folder::with_demo("golden-wrong");
    let folder = demo.path("");
    fs::remove_file(demo.path("quern-meadow/kit.toml")).expect("it was there");
    demo.change("quern-meadow/ride.toml", "rated-load = \"7 t\"", "rated-load = 7");
    demo.change("quern-meadow/tape.csv", "804 mm", "804 kg");
    demo.change("quern-meadow/visit.toml", "heading = \"0 deg\"", "heading = \"0 degs\"");
    let out = run(&["plan", &demo.path("quern-meadow")]);
    assert_eq!(out.status.code(), Some(2));
    kept("wrong-all-over.txt", &said(&out.stderr), &folder);
}

#[test]
fn regress_golden_orders_of_an_invented_procedure() {
    let question = include_bytes!("orders.json");
    let out = run_with(&["calc", "orders"], question);
    assert_eq!(out.status.code(), Some(2), "two of the questions are wrong: {}", said(&out.stderr));
    kept("orders.txt", &said(&out.stdout), "no folder");
}

#[test]
fn regress_golden_invented_lifts() {
    let out = run_with(&["calc", "lift"], include_bytes!("lift.json"));
    assert_eq!(out.status.code(), Some(2), "two of the questions are wrong: {}", said(&out.stderr));
    kept("lift.txt", &said(&out.stdout), "no folder");
}

#[test]
fn regress_golden_invented_lifts_by_hand() {
    let out = run_with(&["calc", "hand-lift"], include_bytes!("hand_lift.json"));
    assert_eq!(out.status.code(), Some(2), "three of the questions are wrong: {}", said(&out.stderr));
    kept("hand-lift.txt", &said(&out.stdout), "no folder");
}
