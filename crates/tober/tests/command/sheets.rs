//! `tober sheets`: what it writes, and with which status it ends.

use super::folder::{Folder, run, said};
use std::fs;

#[test]
fn hand_sheets_writes_a_pdf_and_ends_as_the_plan_does() {
    let demo = Folder::with_demo("sheets");
    let pdf = demo.path("out/one.pdf");
    for (visit, status) in [("kestrel-yard", 0), ("sallow-green", 1)] {
        let out = run(&["sheets", &demo.path(visit), "-o", &pdf, "--only", "one-page"]);
        assert_eq!(out.status.code(), Some(status), "{visit}: {}", said(&out.stderr));
        assert!(said(&out.stdout).contains("one.pdf: 1 page, 1 sheets, "), "{}", said(&out.stdout));
        let bytes = fs::read(&pdf).expect("it is written");
        assert!(bytes.starts_with(b"%PDF-1.7"), "PDF/A-2 is PDF 1.7");
    }
}

#[test]
fn hand_the_files_beside_a_pdf() {
    let demo = Folder::with_demo("beside");
    let pdf = demo.path("paper/pack.pdf");
    let out = run(&[
        "sheets",
        &demo.path("kestrel-yard"),
        "-o",
        &pdf,
        "--for",
        "attendant",
        "--beside",
        "--paper",
        "letter",
    ]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    for (name, begins) in [
        ("pack-packing.csv", "order,leg,short,set at,"),
        ("pack-pins.csv", "fixing,home,fastens,on the road,open,counted,by\r\n"),
        ("pack-blanks.csv", "number,about,what,must be,written\r\n9."),
        ("pack-plan.json", "{"),
        ("pack.ics", "BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"),
    ] {
        let text = fs::read_to_string(demo.path(&format!("paper/{name}"))).expect("it is written");
        assert!(text.starts_with(begins), "{name}: {}", &text[..text.len().min(120)]);
        assert!(said(&out.stdout).contains(name), "{name} is named");
    }
}

#[test]
fn refuse_what_sheets_cannot_print() {
    let demo = Folder::with_demo("unprinted");
    let visit = demo.path("kestrel-yard");
    let pdf = demo.path("no.pdf");
    let out = run(&["sheets", &visit, "-o", &pdf, "--only", "page-one"]);
    assert_eq!(out.status.code(), Some(2));
    assert!(said(&out.stderr).contains("one-page, ground, legs"), "{}", said(&out.stderr));
    let log = demo.path("kestrel-yard/visit.toml");
    let out = run(&["sheets", &visit, "-o", &pdf, "--log", &log]);
    assert_eq!(out.status.code(), Some(2));
    assert!(said(&out.stderr).contains("no entry that can be read"), "{}", said(&out.stderr));
    assert!(fs::read(&pdf).is_err(), "nothing is written");
}
