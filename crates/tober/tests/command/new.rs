//! Books begun by `tober new`, and what becomes of them.

use crate::folder::{run, said};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use tober_book::{FileKind, Source};

const INVENTED: &str = "Invented: this ride, its kit and its pitch do not exist.";

/// A folder of its own, empty, taken away at the end.
struct Empty(PathBuf);

impl Empty {
    fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("tober-new-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        Self(folder)
    }
    fn folder(&self) -> &str {
        self.0.to_str().expect("a plain name")
    }
    fn read(&self, file: &str) -> String {
        fs::read_to_string(self.0.join(file)).expect("it is written")
    }
    fn write(&self, file: &str, text: &str) {
        fs::write(self.0.join(file), text).expect("it can be written");
    }
    /// Begins a book here from flags.
    #[track_caller]
    fn begin(&self, flags: &[&str]) {
        let out = run(&[&["new"], flags, &["-o", self.folder()]].concat());
        assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    }
    /// Everything that a visit needs, with the ground to be read one way.
    fn with_visit(name: &str, method: &str) -> Self {
        let all = Self::new(name);
        all.begin(&[&RIDE[..], &["--invented", INVENTED]].concat());
        all.begin(&KIT);
        all.begin(&["crew", "--person", "Wi, chief, hand", "--person", "Po, hand"]);
        all.begin(&["pitch", "--name", "Mill Lane", "--method", method, "--invented", INVENTED]);
        all.begin(&["visit", "--from", "2031-05-02"]);
        all
    }
}

impl Drop for Empty {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

const RIDE: [&str; 19] = [
    "ride",
    "--name",
    "Bare Wheel",
    "--length",
    "6.2 m",
    "--width",
    "2.3 m",
    "--along",
    "0.6 m, 5.6 m",
    "--aside",
    "1.05 m",
    "--held",
    "screw",
    "--shortest",
    "420 mm",
    "--travel",
    "310 mm",
    "--mass",
    "3.4 t ± 5 %",
];
const KIT: [&str; 7] = [
    "kit",
    "--board",
    "12, 48 mm, 600 mm, 600 mm",
    "--board",
    "8, 24 mm, 500 mm, 500 mm",
    "--invented",
    INVENTED,
];

/// What somebody reads, by the key of its blank.
const READ: [(&str, &str); 18] = [
    ("slope-along", "[\"1.5 mm/m\", \"1.5 mm/m\"]"),
    ("slope-across", "[\"-0.8 mm/m\", \"-0.8 mm/m\"]"),
    ("slope-deviation", "\"0.3 mm/m\""),
    ("tape-deviation", "\"2 mm\""),
    ("reading-deviation", "\"2 mm\""),
    ("line-of-sight-deviation", "\"0.1 mm/m\""),
    ("plane-deviation", "\"0.1 mm/m\""),
    ("cone-deviation", "\"0.05 mm/m\""),
    ("height-deviation", "\"2 mm\""),
    ("sight-longest", "\"20 m\""),
    ("file", "\"staff.csv\""),
    ("measured", "\"2031-05-02\""),
    ("by", "\"Wi\""),
    ("bottom", "\"any\""),
    ("surface", "\"turf\""),
    ("wet", "\"dry\""),
    ("friction", "0.4"),
    ("test", "[]"),
];

/// The blanks of a pitch filled in: each line that waits for somebody who has looked; those with nothing to put in
/// stay as they are.
fn filled(pitch: &str, leg_key: &str) -> String {
    let mut out = String::new();
    let mut legs = 0;
    for line in pitch.lines() {
        let waiting = line.strip_prefix("# ").unwrap_or("");
        let key = waiting.split_once(" =").map_or("", |(key, _)| key);
        let value = READ.iter().find(|(known, _)| *known == key).map(|(_, value)| *value);
        let section = ["[readings]", "[[ground]]", "leg = [", "]", "method = ", "under = "];
        if waiting.trim_start().starts_with("{ leg = ") {
            let blank = format!("{leg_key} =  }}");
            assert!(waiting.contains(&blank), "a reading is blank until it is read: {waiting}");
            out += &waiting.replace(&blank, &format!("{leg_key} = \"{} mm\" }}", 540 + 6 * legs));
            legs += 1;
        } else if let Some(value) = value {
            assert!(waiting[key.len() + 2..].trim_start().starts_with('#'), "a blank is blank: {waiting}");
            out += &format!("{key} = {value}");
        } else if section.iter().any(|part| waiting.starts_with(part)) {
            out += waiting;
        } else {
            out += line;
        }
        out.push('\n');
    }
    out
}

#[test]
fn hand_five_books_begun_and_the_ground_read_give_stacks() {
    for (method, leg_key) in [
        ("tape", "tape"),
        ("scale", "reading"),
        ("water level", "reading"),
        ("staff", ""),
        ("laser", ""),
        ("spots", ""),
    ] {
        let visit = Empty::with_visit(&method.replace(' ', "-"), method);
        let check = run(&["check", visit.folder()]);
        assert_eq!(check.status.code(), Some(0), "before anything is read: {}", said(&check.stderr));
        // Unread, no leg has a stack: nothing was filled in beforehand.
        let before = run(&["plan", visit.folder()]);
        assert_eq!(before.status.code(), Some(3), "{}", said(&before.stdout));

        let pitch = filled(&visit.read("pitch.toml"), leg_key);
        visit.write("pitch.toml", &pitch);
        if leg_key.is_empty() {
            let spots = method == "spots";
            let head = if spots {
                "point,x (m),y (m),height (mm)\npeg,0,0,0\n"
            } else {
                "point,x (m),y (m),set-up,kind,reading (mm)\npeg,0,0,A,back,1500\n"
            };
            let mut rows = head.to_owned();
            for (at, (x, y)) in
                [(-1.0, -3.0), (8.0, -3.0), (8.0, 3.0), (-1.0, 3.0), (3.0, 0.0)].iter().enumerate()
            {
                rows += &if spots {
                    format!("p{at},{x},{y},{}\n", 7 * at)
                } else {
                    format!("p{at},{x},{y},A,between,{}\n", 1490 + 7 * at)
                };
            }
            visit.write("staff.csv", &rows);
            let text = visit.read("visit.toml");
            visit.write(
                "visit.toml",
                &text.replace("#[pose]\n#at", "[pose]\nat").replace("#heading", "heading"),
            );
        }
        let check = run(&["check", visit.folder()]);
        assert_eq!(check.status.code(), Some(0), "{method}: {}\n{pitch}", said(&check.stderr));
        let plan = run(&["plan", visit.folder(), "--json"]);
        assert_eq!(plan.status.code(), Some(3), "{method}: {}", said(&plan.stdout));
        let plan: serde_json::Value = serde_json::from_slice(&plan.stdout).expect("JSON");
        let legs = plan["legs"].as_array().expect("legs");
        assert_eq!(legs.len(), 4, "{method}");
        assert!(legs.iter().all(|leg| leg["held"].is_object()), "{method}: {legs:?}");
        assert!(legs.iter().any(|leg| leg["layers"].as_array().is_some_and(|l| !l.is_empty())), "{method}");
    }
}

/// Lines of a book that are examples, a unit each: a section with all its keys, or a key by itself.
fn examples(text: &str) -> Vec<Vec<usize>> {
    let example = |line: &str| {
        line.starts_with('#') && !line.starts_with("# ") && line != "#" && !line.starts_with("#:")
    };
    let mut found: Vec<Vec<usize>> = Vec::new();
    let (mut before, mut section) = (false, false);
    for (at, line) in text.lines().enumerate() {
        if example(line) {
            section = if before { section } else { line.starts_with("#[") };
            match found.last_mut() {
                Some(last) if before && section => last.push(at),
                _ => found.push(vec![at]),
            }
        }
        before = example(line);
    }
    found
}

fn uncommented(text: &str, lines: &[usize]) -> String {
    let line = |(at, line): (usize, &str)| {
        let line = if lines.contains(&at) { &line[1..] } else { line };
        format!("{line}\n")
    };
    text.lines().enumerate().map(line).collect()
}

#[test]
fn law_every_example_can_be_taken_by_itself_and_with_all_the_others() {
    let visit = Empty::with_visit("examples", "tape");
    let mut keys = 0;
    for kind in [FileKind::Ride, FileKind::Kit, FileKind::Crew, FileKind::Pitch, FileKind::Visit] {
        let text = visit.read(kind.file_name());
        let found = examples(&text);
        assert!(!found.is_empty(), "{}", kind.file_name());
        let good = |lines: &[usize]| {
            let book = uncommented(&text, lines);
            visit.write(kind.file_name(), &book);
            let out = run(&["check", visit.folder()]);
            let line = lines.first().map_or("", |at| text.lines().nth(*at).unwrap_or(""));
            assert_eq!(out.status.code(), Some(0), "{}: {line}: {}", kind.file_name(), said(&out.stderr));
        };
        for unit in &found {
            good(unit);
            keys += unit.len();
        }
        // All together stay, so that the next book is tried beside a full one.
        good(&found.concat());
    }
    assert!(keys > 80, "{keys}");
    // Examples are no readings: with every one of them taken no height is known.
    let plan = run(&["plan", visit.folder()]);
    assert!(matches!(plan.status.code(), Some(1 | 3)), "{}", said(&plan.stdout));
}

/// What is not known of a plan, each sentence once.
fn not_known(visit: &Empty) -> BTreeSet<String> {
    let out = run(&["plan", visit.folder(), "--json"]);
    let plan: serde_json::Value = serde_json::from_slice(&out.stdout).expect("JSON");
    let findings = plan["findings"].as_array().expect("findings");
    let unknown = findings.iter().filter_map(|f| f["unknown"].as_array()).flatten();
    unknown.map(|sentence| sentence.as_str().expect("a sentence").to_owned()).collect()
}

/// With the ground read, what was not known for want of a key is known once its example is taken.
#[test]
fn law_the_examples_of_a_ride_book_make_known_what_they_say() {
    let visit = Empty::with_visit("known", "tape");
    let pitch = filled(&visit.read("pitch.toml"), "tape");
    visit.write("pitch.toml", &pitch);
    let bare = not_known(&visit);
    let text = visit.read("ride.toml");
    visit.write("ride.toml", &uncommented(&text, &examples(&text).concat()));
    let full = not_known(&visit);
    for gone in [
        "The book gives no tolerance for level along",
        "The book gives no tolerance for level across",
        "The book does not say how far a foot may be from the plane",
        "The book gives no greatest stack",
        "The book does not say how many boards",
        "The book gives no least lift",
        "The book does not say what must stay clear",
        "Riders are left out",
        "The wind is left out",
    ] {
        let of = |said: &BTreeSet<String>| said.iter().any(|sentence| sentence.starts_with(gone));
        assert!(of(&bare), "{gone}: {bare:#?}");
        assert!(!of(&full), "{gone}: {full:#?}");
    }
}

#[test]
fn refuse_what_is_missing_and_what_is_wrong_all_at_once() {
    let empty = Empty::new("missing");
    let out = run(&["new", "ride", "--name", "x", "-o", empty.folder()]);
    assert_eq!(out.status.code(), Some(2));
    let errors = said(&out.stderr);
    for flag in ["--length", "--width", "--along", "--aside", "--held", "--mass"] {
        assert!(errors.contains(&format!("  {flag} \"")), "{flag} is missing from:\n{errors}");
    }
    assert!(!errors.contains("--mass-from") && !errors.contains("--name"), "{errors}");
    assert!(!Path::new(empty.folder()).exists(), "nothing is written");

    let flags = [
        "new",
        "ride",
        "--name",
        "x",
        "--length",
        "62",
        "--width",
        "2.3 kg",
        "--along",
        "1 m",
        "--aside",
        "1 m",
        "--held",
        "glue",
        "--mass",
        "0 t",
        "-o",
        empty.folder(),
    ];
    let errors = said(&run(&flags).stderr);
    for wrong in [
        "--length: `length`: \"62\" has no unit",
        "--width: ",
        "--along: There are 1",
        "--held: ",
        "--mass: ",
    ] {
        assert!(errors.contains(wrong), "{wrong} is missing from:\n{errors}");
    }
    let with_holes: Vec<&str> = RIDE.iter().copied().chain(["--hole-count", "8"]).collect();
    let out = run(&[&["new"], &with_holes[..], &["-o", empty.folder()]].concat());
    assert_eq!(out.status.code(), Some(2));
    assert!(said(&out.stderr).contains("--hole-count: "), "{}", said(&out.stderr));
}

/// A weighing begun for the legs of a ride, its examples, and what the scales said filled in.
#[test]
fn hand_a_weighing_begun_and_read_weighs_the_ride() {
    let visit = Empty::with_visit("weighing", "tape");
    visit.begin(&["weighing", "--stands", "legs", "--deviation", "5 kg", "--placement", "open"]);
    let text = visit.read("weighing.toml");
    let path = format!("{}/weighing.toml", visit.folder());
    assert!(!text.contains("\nload"), "nothing is filled in beforehand: {text}");
    let found = examples(&text);
    for lines in found.iter().cloned().chain([found.concat()]) {
        visit.write("weighing.toml", &uncommented(&text, &lines));
        let check = run(&["check", &path]);
        assert_eq!(check.status.code(), Some(0), "{}", said(&check.stderr));
    }
    // Unread, nothing can be weighed, and that is said.
    visit.write("weighing.toml", &text);
    let unread = run(&["weigh", visit.folder(), visit.folder()]);
    assert_eq!(unread.status.code(), Some(2));
    assert!(said(&unread.stderr).contains("no reading"), "{}", said(&unread.stderr));
    let mut read = String::new();
    let mut legs = 0;
    for line in text.lines() {
        let waiting = line.strip_prefix("# ").unwrap_or("");
        if ["[[reading]]", "state = ", "on = "].iter().any(|start| waiting.starts_with(start)) {
            read += waiting;
        } else if waiting.starts_with("load = ") {
            legs += 1;
            read += &if legs == 5 {
                "load = \"3.4 t\"".to_owned()
            } else {
                format!("load = \"{} kg\"", 800 + 20 * legs)
            };
        } else {
            read += line;
        }
        read.push('\n');
    }
    assert_eq!(legs, 5, "four legs and everything");
    visit.write("weighing.toml", &read);
    let out = run(&["weigh", visit.folder(), visit.folder()]);
    assert_eq!(out.status.code(), Some(0), "{}{}", said(&out.stdout), said(&out.stderr));
    // 820 + 840 + 860 + 880 = 3400 kg.
    assert!(said(&out.stdout).contains("mass = \"3400 kg ± "), "{}", said(&out.stdout));
    // A ride without axles stands on no wheels.
    let again = run(&[
        "new",
        "weighing",
        "--stands",
        "wheels and hitch",
        "--deviation",
        "5 kg",
        "-o",
        visit.folder(),
    ]);
    assert!(said(&again.stderr).contains("is there already"), "{}", said(&again.stderr));
    fs::remove_file(&path).expect("it was there");
    let again = run(&[
        "new",
        "weighing",
        "--stands",
        "wheels and hitch",
        "--deviation",
        "5 kg",
        "-o",
        visit.folder(),
    ]);
    assert!(said(&again.stderr).contains("--stands: the ride book has no hitch"), "{}", said(&again.stderr));
}

#[test]
fn refuse_to_write_over_anything() {
    let visit = Empty::with_visit("kept", "tape");
    for (kind, flags) in
        [("ride", &RIDE[..]), ("kit", &KIT[..]), ("crew", &["crew"][..]), ("visit", &["visit"][..])]
    {
        let file = format!("{kind}.toml");
        visit.write(&file, "mine");
        let out = run(&[&["new"], flags, &["-o", visit.folder()]].concat());
        assert_eq!(out.status.code(), Some(2), "{kind}");
        assert!(said(&out.stderr).contains("is there already and is kept"), "{}", said(&out.stderr));
        assert_eq!(visit.read(&file), "mine");
    }
    // A book that belongs to others needs them.
    let empty = Empty::new("alone");
    let out = run(&["new", "visit", "-o", empty.folder()]);
    let errors = said(&out.stderr);
    for kind in ["ride", "kit", "pitch"] {
        assert!(errors.contains(&format!("tober new {kind} -o ")), "{errors}");
    }
    assert_eq!(out.status.code(), Some(2));
    // A pitch does not, and is read leg by leg once there are names.
    empty.begin(&["pitch", "--name", "Mill Lane", "--method", "tape"]);
    assert!(empty.read("pitch.toml").contains("a row for each leg by its name in the ride book"));
    let check = run(&["check", &format!("{}/pitch.toml", empty.folder())]);
    assert_eq!(check.status.code(), Some(0), "{}", said(&check.stderr));
}

/// Feet and inches are halved by nobody and mirrored as they were typed.
#[test]
fn hand_a_ride_in_feet_and_inches() {
    let empty = Empty::new("feet");
    let us = [
        "ride",
        "--name",
        "Big Tub",
        "--length",
        "20 ft 4 in",
        "--width",
        "7' 6\"",
        "--along",
        "2 ft, 18 ft 4 1/2 in",
        "--aside",
        "3 ft 5 1/4 in, 3 ft 6 in",
        "--held",
        "leg-only holes below the sleeve",
        "--first-hole",
        "29 1/8 in",
        "--hole-pitch",
        "1 1/2 in",
        "--hole-count",
        "08",
        "--mass",
        "7,500 lb ± 5 %",
        "--mass-from",
        "maker",
    ];
    empty.begin(&us);
    let parsed = tober_book::parse_ride(&Source::new("ride.toml", &empty.read("ride.toml")));
    let ride = parsed.value.expect("it is read");
    let right = &ride.support("front right").expect("a leg").at;
    assert!(
        (right.along.as_in() - 220.5).abs() < 1e-9 && (right.across.as_in() + 42.0).abs() < 1e-9,
        "{right:?}"
    );
    assert_eq!(ride.supports[0].held.holes().map(|holes| holes.hole_count), Some(8));
}

/// The bare book of the demo is what the command writes, byte for byte, and its visit is planned.
#[test]
fn law_the_minimal_ride_of_the_demo_is_what_is_written() {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/minimal");
    let visit = Empty::new("demo");
    visit.begin(&[&RIDE[..], &["--mass-from", "weighed", "--invented", INVENTED]].concat());
    visit.begin(&[&KIT[..], &["--name", "Bare van"]].concat());
    visit.begin(&["pitch", "--name", "Mill Lane", "--method", "tape", "--invented", INVENTED]);
    visit.begin(&["visit", "--invented", INVENTED]);
    if std::env::var("TOBER_GOLDEN").as_deref() == Ok("write") {
        fs::create_dir_all(&demo).expect("a folder");
        for file in ["ride.toml", "kit.toml", "visit.toml"] {
            fs::write(demo.join(file), visit.read(file)).expect("it can be written");
        }
        fs::write(demo.join("pitch.toml"), filled(&visit.read("pitch.toml"), "tape"))
            .expect("it can be written");
    }
    for file in ["ride.toml", "kit.toml", "visit.toml"] {
        let shipped = fs::read_to_string(demo.join(file)).expect("the demo has it");
        assert_eq!(shipped, visit.read(file), "{file}: TOBER_GOLDEN=write writes it anew");
    }
    let shipped = fs::read_to_string(demo.join("pitch.toml")).expect("the demo has it");
    assert_eq!(
        shipped,
        filled(&visit.read("pitch.toml"), "tape"),
        "the pitch is the one begun, with its readings"
    );
    let plan = run(&["plan", demo.to_str().expect("a plain name")]);
    assert_eq!(plan.status.code(), Some(3), "{}", said(&plan.stderr));
    assert!(said(&plan.stdout).contains("rear left"), "{}", said(&plan.stdout));
}

#[test]
fn hand_schemas_are_printed_written_and_named_on_the_first_line() {
    let empty = Empty::new("schema");
    empty.begin(&[&KIT[..], &["--schema"]].concat());
    let kit = empty.read("kit.toml");
    assert_eq!(kit.lines().next(), Some("#:schema kit.schema.json"));
    assert!(tober_book::parse_kit(&Source::new("kit.toml", &kit)).value.is_some());
    let printed = run(&["schema", "kit"]);
    assert_eq!(printed.status.code(), Some(0));
    assert_eq!(said(&printed.stdout), empty.read("kit.schema.json"));
    assert_eq!(run(&["schema", "-o", empty.folder()]).status.code(), Some(0));
    for kind in FileKind::ALL {
        assert_eq!(empty.read(&format!("{}.schema.json", kind.word())), tober_book::schema(kind));
    }
    let wrong = run(&["schema", "kitt"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(said(&wrong.stderr).contains("Did you mean \"kit\"?"), "{}", said(&wrong.stderr));
}

#[test]
fn refuse_several_sorts_of_board_in_one_flag() {
    let folder = std::env::temp_dir().join(format!("tober-boards-{}", std::process::id()));
    let named = folder.to_str().expect("a plain name");
    let both = "24, 75 mm, 600 mm, 600 mm; 24, 48 mm, 600 mm, 600 mm";
    let out = run(&["new", "kit", "-o", named, "--board", both]);
    assert_eq!(out.status.code(), Some(2));
    let why = said(&out.stderr);
    assert!(why.contains("has 7 parts; write four") && why.contains("each sort of board by itself"), "{why}");
    assert!(!folder.join("kit.toml").exists());
    let help = said(&run(&["new", "kit", "--help"]).stdout);
    assert!(help.contains("The flag stands once for each."), "{help}");
}
