//! What holds for every text, every key and every file.

use tober_book::*;

const FILES: [(FileKind, &str); 11] = [
    (FileKind::Ride, include_str!("data/full.ride.toml")),
    (FileKind::Ride, include_str!("data/least.ride.toml")),
    (FileKind::Kit, include_str!("data/full.kit.toml")),
    (FileKind::Crew, include_str!("data/full.crew.toml")),
    (FileKind::Pitch, include_str!("data/full.pitch.toml")),
    (FileKind::Pitch, include_str!("data/staff.pitch.toml")),
    (FileKind::Visit, include_str!("data/full.visit.toml")),
    (FileKind::Frame, include_str!("data/heights.frame.toml")),
    (FileKind::Frame, include_str!("data/level.frame.toml")),
    (FileKind::Weighing, include_str!("data/full.weighing.toml")),
    (FileKind::Weighing, include_str!("data/rows.weighing.toml")),
];

/// What a file says, as a text that is equal where the model is, and what is wrong with it.
fn read(file: FileKind, text: &str) -> (Option<String>, Vec<Diagnostic>) {
    fn said<T: core::fmt::Debug>(parsed: Parsed<T>) -> (Option<String>, Vec<Diagnostic>) {
        (parsed.value.map(|value| format!("{value:?}")), parsed.diagnostics)
    }
    let source = Source::new(file.file_name(), text);
    match file {
        FileKind::Ride => said(parse_ride(&source)),
        FileKind::Kit => said(parse_kit(&source)),
        FileKind::Crew => said(parse_crew(&source)),
        FileKind::Pitch => said(parse_pitch(&source)),
        FileKind::Visit => said(parse_visit(&source)),
        FileKind::Frame => said(parse_frame(&source)),
        FileKind::Weighing => said(parse_weighing(&source)),
    }
}

/// Each diagnostic lies in its text, on the line it says, in file order; a value comes exactly without them.
#[track_caller]
fn located(text: &str, (value, found): &(Option<String>, Vec<Diagnostic>)) {
    assert_eq!(value.is_none(), !found.is_empty(), "a value comes exactly where nothing is wrong");
    assert!(found.is_sorted_by_key(|d| d.span.start));
    for d in found {
        assert!(d.span.start <= d.span.end && d.span.end <= text.len(), "{d}");
        let before = &text[..d.span.start];
        assert_eq!(d.line, before.matches('\n').count() + 1, "{d}");
        assert_eq!(d.column, before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1, "{d}");
        assert!(d.message.ends_with(['.', '?']) && d.message.len() < 2000, "{d}");
        assert!(d.to_string().contains(&format!(":{}:{}: error: ", d.line, d.column)));
    }
}

/// A small generator with a written start (xorshift, 64 bits), so that runs repeat.
struct Chance(u64);

impl Chance {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % n.max(1) as u64) as usize
    }
}

/// Text with something taken out, put in, doubled or exchanged in one place.
fn spoiled(text: &str, chance: &mut Chance) -> String {
    const BITS: [&str; 24] = [
        "\"", "'", "[", "]", "[[", "{", "}", "=", ".", ",", "\n", "\\", "#", "\0", "é", "±", "9", "-",
        "1e999", "nan", "0x", "\u{202e}", "\"\"\"", "= = ",
    ];
    let mut letters: Vec<char> = text.chars().collect();
    for _ in 0..=chance.below(3) {
        let at = chance.below(letters.len());
        let end = (at + 1 + chance.below(30)).min(letters.len());
        match chance.below(4) {
            0 => drop(letters.drain(at..end)),
            1 => drop(letters.splice(at..at, BITS[chance.below(BITS.len())].chars())),
            2 => {
                let copy: Vec<char> = letters[at..end].to_vec();
                let to = chance.below(letters.len());
                letters.splice(to..to, copy);
            }
            _ => drop(letters.splice(at..end, BITS[chance.below(BITS.len())].chars())),
        }
    }
    letters.into_iter().collect()
}

#[test]
fn law_spoiled_files_are_read_or_refused_where_they_are_wrong() {
    let mut chance = Chance(0x9E37_79B9_7F4A_7C15);
    let (mut refused, mut kept) = (0, 0);
    for round in 0..700 {
        let (file, good) = FILES[round % FILES.len()];
        let text = spoiled(good, &mut chance);
        let read = read(file, &text);
        located(&text, &read);
        if read.0.is_some() { kept += 1 } else { refused += 1 }
    }
    assert!(refused > 400 && kept > 3, "the spoiling bites, and not always: {refused} refused, {kept} kept");
}

#[test]
fn law_any_text_is_read_or_refused_where_it_is_wrong() {
    let mut chance = Chance(0x0123_4567_89AB_CDEF);
    let words = [
        "format", "ride", "[", "]", "[[", "]]", "=", "\"", "\n", "body", " ", "1", "mm", "{", "}", "\u{7f}",
        "ß", "at", ",",
    ];
    for _ in 0..400 {
        let text: String = (0..chance.below(60)).map(|_| words[chance.below(words.len())]).collect();
        for file in FileKind::ALL {
            located(&text, &read(file, &text));
        }
        let rows = Source::new("rows.csv", &text);
        let tape = parse_tape_rows(&rows);
        located(&text, &(tape.value.map(|v| format!("{v:?}")), tape.diagnostics));
        let staff = parse_staff_rows(&rows);
        located(&text, &(staff.value.map(|v| format!("{v:?}")), staff.diagnostics));
    }
}

#[test]
fn law_every_value_put_in_every_place_is_read_or_refused_there() {
    let values = [
        "0",
        "-1",
        "1e308",
        "nan",
        "true",
        "\"\"",
        "\"0 mm\"",
        "\"-5 t ± 200 %\"",
        "[]",
        "[[]]",
        "{}",
        "{ by = 1 }",
        "2031-05-02",
        "\"nan mm\"",
        "[\"1 m\", \"1 m\"]",
        "[\"1 m\", \"1 m\", \"1 m\"]",
        "\"99999999999999999999 m\"",
    ];
    for (file, text) in FILES {
        let document = Document::parse(text).expect("the test data is TOML");
        for found in document.keys(file) {
            for value in values {
                let other = document.with(&found.path, value).expect("the key is there").text();
                located(&other, &read(file, &other));
            }
        }
    }
}

#[test]
fn law_a_file_put_together_again_says_the_same() {
    for (file, text) in FILES {
        let (first, wrong) = read(file, text);
        let first = first.unwrap_or_else(|| panic!("{}", wrong[0]));
        let again = Document::parse(text).expect("it is TOML").text();
        let (second, wrong) = read(file, &again);
        let second = second.unwrap_or_else(|| panic!("{}", wrong[0]));
        assert_eq!(without_places(&first), without_places(&second));
    }
}

/// The model without where its parts stood, which is all that may differ.
fn without_places(said: &str) -> String {
    let mut parts = said.split("place: Place {");
    let mut out = parts.next().unwrap_or("").to_owned();
    for part in parts {
        out += part.split_once("} }").map_or(part, |(_, rest)| rest.trim_start_matches([' ', '}', ',']));
    }
    out
}

#[test]
fn law_every_optional_key_can_be_left_out() {
    // Some keys are bound to another that is there; each of these says so, and nothing else is refused.
    for (file, text) in FILES {
        let document = Document::parse(text).expect("the test data is TOML");
        let mut left_out = 0;
        for found in document.optional(file) {
            let (value, wrong) = read(file, &document.without(&found.path).text());
            let bound = wrong
                .iter()
                .all(|d| matches!(d.code, Code::UnknownName | Code::Missing | Code::Disagreement));
            assert!(value.is_some() || bound, "without {}: {}", found.path, wrong[0]);
            left_out += usize::from(value.is_some());
        }
        let all = document.optional(file).len();
        assert!(
            all < 10 || left_out * 10 >= all * 8,
            "{}: {left_out} of {all} can be left out",
            file.file_name()
        );
    }
}

#[test]
fn law_every_required_key_is_missed() {
    for (file, text) in FILES {
        let document = Document::parse(text).expect("the test data is TOML");
        for found in document.keys(file).into_iter().filter(|found| found.key.required) {
            let (value, wrong) = read(file, &document.without(&found.path).text());
            let told = wrong.iter().any(|d| d.code == Code::Missing && d.message.contains(found.key.name));
            assert!(value.is_none() && told, "without {}: {wrong:?}", found.path);
        }
    }
}

#[test]
fn law_the_test_data_use_every_key_of_the_table() {
    for file in FileKind::ALL {
        let used: std::collections::BTreeSet<String> = FILES
            .iter()
            .filter(|(kind, _)| *kind == file)
            .flat_map(|(_, text)| Document::parse(text).expect("it is TOML").keys(file))
            .map(|found| plain(&found.path.to_string()))
            .collect();
        let unused: Vec<String> = optional_keys(file)
            .into_iter()
            .map(|(path, _)| path)
            .filter(|path| !used.contains(path))
            .collect();
        // Read and checked by the tests of the readings and of this file's own limits elsewhere.
        let elsewhere = |path: &String| {
            ["readings.", "earlier.", "limits."].iter().any(|start| path.starts_with(start))
                && file != FileKind::Ride
        };
        let unused: Vec<String> = unused.into_iter().filter(|path| !elsewhere(path)).collect();
        assert_eq!(unused, Vec::<String>::new(), "{}", file.file_name());
    }
}

/// A path without the places in lists.
fn plain(path: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for letter in path.chars() {
        match letter {
            '[' => inside = true,
            ']' => inside = false,
            c if !inside => out.push(c),
            _ => {}
        }
    }
    out
}

#[test]
fn law_every_key_is_described() {
    for file in FileKind::ALL {
        let described = describe(file);
        for (path, key) in optional_keys(file) {
            assert!(key.doc.trim().ends_with('.'), "{path} has a sentence");
            assert!(described.contains(&format!("| `{}` |", key.name)), "{path} is described");
        }
    }
}

#[test]
fn law_leaving_out_how_a_mass_is_known_never_makes_it_surer() {
    for from in ["weighed", "maker", "guessed"] {
        for tolerance in ["", " ± 1 %", " ± 7 %", " ± 25 %"] {
            let with = FILES[1]
                .1
                .replace("± 5 %", tolerance.trim_start())
                .replace("\"maker\"", &format!("\"{from}\""));
            let without = with.replace(&format!("mass-from = \"{from}\"\n"), "");
            assert_ne!(with, without);
            let off = |text: &str| {
                let ride = parse_ride(&Source::new("ride.toml", text)).into_result().expect("it is right");
                ride.total_mass().expect("it is written").off_by.as_kg()
            };
            assert!(off(&without) >= off(&with), "{from}{tolerance}");
            assert!(off(&without) >= 340.0 - 1e-6, "a tenth of 3.4 t at least");
        }
    }
}
