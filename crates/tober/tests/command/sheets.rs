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
        ("pack-blanks.csv", "number,about,what,must be,plan,written,by,at\r\n9."),
        ("pack-plan.json", "{"),
        ("pack.ics", "BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"),
    ] {
        let text = fs::read_to_string(demo.path(&format!("paper/{name}"))).expect("it is written");
        assert!(text.starts_with(begins), "{name}: {}", &text[..text.len().min(120)]);
        assert!(said(&out.stdout).contains(name), "{name} is named");
    }
}

/// The same visit gives the same bytes: in another run, another folder, another time zone and language, and whatever the
/// clock says.
#[test]
fn law_a_pack_and_all_beside_it_are_the_same_bytes_anywhere() {
    let prints = |folder: &Folder, zone: &str, language: &str| {
        let out = std::process::Command::new(env!("CARGO_BIN_EXE_tober"))
            .args(["sheets", "kestrel-yard", "-o", "paper/pack.pdf", "--for", "hand", "--beside"])
            .current_dir(folder.path(""))
            .envs([("TZ", zone), ("LC_ALL", language), ("LANG", language)])
            .output()
            .expect("the command runs");
        assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
        let all: Vec<(String, Vec<u8>)> = ["", "-packing.csv", "-pins.csv", "-blanks.csv", "-plan.json"]
            .into_iter()
            .map(|ending| if ending.is_empty() { "pack.pdf".to_owned() } else { format!("pack{ending}") })
            .chain(["pack.ics".to_owned()])
            .map(|name| {
                (name.clone(), fs::read(folder.path(&format!("paper/{name}"))).expect("it is written"))
            })
            .collect();
        all
    };
    let (one, other) = (Folder::with_demo("bytes-one"), Folder::with_demo("bytes-another-name-by-far"));
    let first = prints(&one, "UTC", "C");
    for (folder, zone, language) in
        [(&one, "Pacific/Kiritimati", "de_DE.UTF-8"), (&other, "America/St_Johns", "tr_TR.UTF-8")]
    {
        for ((name, before), (_, after)) in first.iter().zip(prints(folder, zone, language)) {
            assert!(*before == after, "{name} differs in {zone}");
        }
    }
    let text = String::from_utf8_lossy(&first[0].1).into_owned();
    assert!(!text.contains(&one.path("")), "no folder of this machine is in it");
    // The plan beside it is the plan that the command says.
    let beside = &first[4].1;
    let plan: serde_json::Value = serde_json::from_slice(beside).expect("it is JSON");
    let out = run(&["plan", &one.path("kestrel-yard"), "--json"]);
    let said: serde_json::Value = serde_json::from_slice(&out.stdout).expect("it is JSON");
    for (key, value) in said.as_object().expect("it is an object") {
        assert_eq!(plan.get(key), Some(value), "{key}");
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

/// A code on paper opens a sheet that is there.
#[test]
fn law_the_code_of_a_sheet_names_a_sheet_of_the_phone_book() {
    let demo = Folder::with_demo("codes");
    let page = fs::read_to_string(demo.path("kestrel-yard/phone.html")).expect("the demo wrote it");
    let mut named = 0;
    for kind in tober_sheets::SheetKind::ALL {
        let Some(id) = kind.on_the_phone() else { continue };
        assert!(
            page.contains(&format!("<section class=\"sheet\" id=\"{id}\"")),
            "{}: no sheet {id}",
            kind.name()
        );
        named += 1;
    }
    assert!(named >= 14, "most sheets of paper have their like on the phone: {named}");
}
