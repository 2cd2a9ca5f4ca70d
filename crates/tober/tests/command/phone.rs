//! `tober phone`: a visit, a folder of visits, a ride alone.

use crate::folder::{Folder, run, said};
use std::fs;

#[test]
fn hand_one_file_of_a_visit_a_folder_of_visits_or_a_ride_alone() {
    let folder = Folder::with_demo("phone-paths");
    let alone = folder.path("alone");
    fs::create_dir(&alone).expect("a folder");
    for name in ["ride.toml", "kit.toml"] {
        fs::copy(folder.path(&format!("quern-meadow/{name}")), format!("{alone}/{name}")).expect("a copy");
    }
    for (path, holds) in [
        (folder.path("quern-meadow"), "Lantern Round on Quern Meadow"),
        (folder.path("quern-meadow/visit.toml"), "Lantern Round on Quern Meadow"),
        (folder.path(""), "Osier Wheel and Lantern Round: 4 visits"),
        (alone.clone(), "Begin a pitch"),
        (format!("{alone}/ride.toml"), "Begin a pitch"),
    ] {
        let out = folder.path("phone.html");
        let done = run(&["phone", &path, "-o", &out]);
        assert_eq!(done.status.code(), Some(0), "{path}: {}", said(&done.stderr));
        let page = fs::read_to_string(&out).expect("it was written");
        assert!(page.contains(holds), "{path} has no {holds}");
        assert!(page.len() < 1_500_000, "{path}: {} bytes", page.len());
    }
}

#[test]
fn refuse_a_phone_file_of_what_is_not_there_or_wrong() {
    let folder = Folder::with_demo("phone-astray");
    let out = folder.path("phone.html");
    let empty = folder.path("empty");
    fs::create_dir(&empty).expect("a folder");
    for (path, says) in [
        (folder.path("nowhere"), "nowhere"),
        (empty, "no visit.toml"),
        (folder.path("quern-meadow/kit.toml"), "visit"),
    ] {
        let done = run(&["phone", &path, "-o", &out]);
        assert_eq!(done.status.code(), Some(2), "{path}");
        assert!(said(&done.stderr).contains(says), "{path}: {}", said(&done.stderr));
    }
    // A ride without its kit, and one of several visits that is wrong: it is named, and nothing is written.
    let alone = folder.path("alone");
    fs::create_dir(&alone).expect("a folder");
    fs::copy(folder.path("quern-meadow/ride.toml"), format!("{alone}/ride.toml")).expect("a copy");
    let done = run(&["phone", &alone, "-o", &out]);
    assert_eq!(done.status.code(), Some(2));
    assert!(said(&done.stderr).contains("kit.toml"), "{}", said(&done.stderr));
    folder.change("plover-hard/pitch.toml", "format = 0", "format = 7");
    let done = run(&["phone", &folder.path(""), "-o", &out]);
    assert_eq!(done.status.code(), Some(2));
    assert!(said(&done.stderr).contains("plover-hard"), "{}", said(&done.stderr));
    assert!(!fs::exists(&out).expect("it can be asked"), "nothing is written");
}
