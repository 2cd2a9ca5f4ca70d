//! House checks: which part may know which, and what a part may never gain.
//!
//! Each failure says what to do instead.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Who may know whom, transitively closed by hand from the list in ARCHITECTURE.md.
const MAY_KNOW: &[(&str, &[&str])] = &[
    ("tober-quantity", &[]),
    ("tober-calc", &["tober-quantity"]),
    ("tober-fit", &["tober-quantity"]),
    ("tober-log", &[]),
    ("tober-book", &["tober-quantity"]),
    ("tober-procedure", &["tober-quantity", "tober-calc", "tober-book"]),
    ("tober-plan", &["tober-quantity", "tober-calc", "tober-fit", "tober-book", "tober-procedure"]),
    (
        "tober-draw",
        &["tober-quantity", "tober-calc", "tober-fit", "tober-book", "tober-procedure", "tober-plan"],
    ),
    (
        "tober-wire",
        &["tober-quantity", "tober-calc", "tober-fit", "tober-book", "tober-procedure", "tober-plan"],
    ),
    (
        "tober-phone",
        &[
            "tober-quantity",
            "tober-calc",
            "tober-book",
            "tober-plan",
            "tober-draw",
            "tober-wire",
            "tober-log",
        ],
    ),
    (
        "tober-sheets",
        &["tober-quantity", "tober-calc", "tober-book", "tober-plan", "tober-draw", "tober-log"],
    ),
];

/// Crates from outside that a part below the doors may use, each for a reason given in DESIGN.md.
const MAY_USE: &[(&str, &[&str])] = &[
    ("tober-quantity", &["libm"]),
    ("tober-calc", &[]),
    ("tober-fit", &[]),
    ("tober-book", &["toml"]),
    ("tober-procedure", &[]),
    ("tober-plan", &["sha2"]),
    ("tober-log", &["minicbor", "miniz_oxide", "qrcode", "rqrr", "serde_json", "sha2"]),
    ("tober-draw", &["resvg"]),
    ("tober-wire", &["serde", "serde_json"]),
    ("tober-phone", &["miniz_oxide", "serde_json", "sha2"]),
    ("tober-sheets", &["serde_json", "typst", "typst-layout", "typst-pdf"]),
];

/// What a part below the doors may not say: input and output, a clock, chance, threads, async.
const NOT_BELOW_THE_DOORS: &[(&str, &str)] = &[
    ("std::fs", "reading and writing files is the command's work: take text or bytes as an argument"),
    ("std::net", "the network is a door's work"),
    ("std::env", "the environment is a door's work: take what you need as an argument"),
    ("std::process", "processes are a door's work"),
    ("std::time", "a clock makes answers differ: count work instead, or take the time as an argument"),
    ("std::thread", "threads make the order of results differ: leave them to a door"),
    ("std::io", "input and output are a door's work: return text or bytes"),
    ("println!", "printing is the command's work: return text"),
    ("eprintln!", "printing is the command's work: return text"),
    ("SystemTime", "a clock makes answers differ: take the time as an argument"),
    ("Instant::", "a clock makes answers differ: count work instead"),
    ("async fn", "nothing below the doors waits"),
    (".await", "nothing below the doors waits"),
    ("RandomState", "its order differs from run to run: use BTreeMap"),
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn manifest(crate_name: &str) -> toml::Table {
    let path = root().join("crates").join(crate_name).join("Cargo.toml");
    let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    text.parse().unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn members() -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(root().join("crates"))
        .expect("the crates folder is there")
        .map(|entry| entry.expect("an entry can be read").file_name().into_string().expect("names are plain"))
        .collect();
    names.sort();
    names
}

fn names_in(manifest: &toml::Table, section: &str) -> BTreeSet<String> {
    let table = manifest.get(section).and_then(toml::Value::as_table);
    table.map(|t| t.keys().cloned().collect()).unwrap_or_default()
}

/// The complaints that the arrow rule has about one crate's dependencies.
fn arrow_complaints(name: &str, dependencies: &BTreeSet<String>) -> Vec<String> {
    let know: BTreeMap<_, _> = MAY_KNOW.iter().copied().collect();
    let uses: BTreeMap<_, _> = MAY_USE.iter().copied().collect();
    let Some(allowed) = know.get(name) else {
        return if name == "tober" {
            Vec::new()
        } else {
            vec![format!("{name} is not in the list MAY_KNOW")]
        };
    };
    let mut complaints = Vec::new();
    for dependency in dependencies {
        if dependency == "tober" || dependency.starts_with("tober-") {
            if !allowed.contains(&dependency.as_str()) {
                complaints.push(format!(
                    "{name} knows {dependency}: the arrow turns round. Move what is shared to a part that both may know."
                ));
            }
        } else if !uses.get(name).is_some_and(|list| list.contains(&dependency.as_str())) {
            complaints.push(format!(
                "{name} uses {dependency}: below the doors each crate from outside needs its sentence in DESIGN.md and a place in MAY_USE"
            ));
        }
    }
    complaints
}

#[test]
fn law_the_arrow_between_crates_never_turns_round() {
    let mut complaints = Vec::new();
    let members = members();
    assert!(members.len() >= 8, "the workspace holds its crates: {members:?}");
    for name in &members {
        let manifest = manifest(name);
        let mut dependencies = names_in(&manifest, "dependencies");
        dependencies.extend(names_in(&manifest, "build-dependencies"));
        complaints.extend(arrow_complaints(name, &dependencies));
        let ours_in_tests = names_in(&manifest, "dev-dependencies")
            .into_iter()
            .filter(|d| d.starts_with("tober"))
            .collect::<BTreeSet<_>>();
        complaints.extend(arrow_complaints(name, &ours_in_tests));
    }
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
}

#[test]
fn refuse_an_arrow_that_points_the_wrong_way() {
    let one = |d: &str| BTreeSet::from([d.to_owned()]);
    assert_eq!(arrow_complaints("tober-quantity", &one("tober-calc")).len(), 1);
    assert_eq!(arrow_complaints("tober-fit", &one("tober-calc")).len(), 1);
    assert_eq!(arrow_complaints("tober-calc", &one("tokio")).len(), 1);
    assert_eq!(arrow_complaints("tober-new", &one("libm")).len(), 1);
    assert!(arrow_complaints("tober-plan", &one("tober-calc")).is_empty());
}

fn sources(folder: &Path, out: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a source folder can be read") {
        let path = entry.expect("an entry can be read").path();
        if path.is_dir() {
            sources(&path, out);
        } else if path.extension().is_some_and(|e| e == "rs") {
            out.push(path);
        }
    }
}

/// The code of a file without comments and without its test module.
fn code_lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines()
        .enumerate()
        .take_while(|(_, line)| !line.trim_start().starts_with("#[cfg(test)]"))
        .map(|(i, line)| (i + 1, line))
        .filter(|(_, line)| !line.trim_start().starts_with("//"))
}

#[test]
fn law_nothing_below_the_doors_gains_io_a_clock_or_async() {
    let mut complaints = Vec::new();
    for (name, _) in MAY_KNOW {
        let folder = root().join("crates").join(name).join("src");
        if !folder.exists() {
            continue;
        }
        let mut files = Vec::new();
        sources(&folder, &mut files);
        // Tests that lie in a folder of their own read and write what they keep.
        files.retain(|file| !file.starts_with(folder.join("tests")));
        assert!(!files.is_empty(), "{name} has sources");
        for file in files {
            let text = fs::read_to_string(&file).expect("a source file can be read");
            for (number, line) in code_lines(&text) {
                for (word, instead) in NOT_BELOW_THE_DOORS {
                    if line.contains(word) {
                        complaints.push(format!("{}:{number}: `{word}`: {instead}", file.display()));
                    }
                }
            }
        }
    }
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
}

#[test]
fn law_every_crate_takes_the_one_lint_set_and_so_forbids_unsafe() {
    let workspace: toml::Table =
        fs::read_to_string(root().join("Cargo.toml")).expect("it is there").parse().expect("it is TOML");
    let forbids = workspace["workspace"]["lints"]["rust"]["unsafe_code"].as_str();
    assert_eq!(forbids, Some("forbid"), "unsafe code stays forbidden in the workspace lints");
    for name in members() {
        let takes =
            manifest(&name).get("lints").and_then(|l| l.get("workspace")).and_then(toml::Value::as_bool);
        assert_eq!(takes, Some(true), "{name}/Cargo.toml needs `[lints] workspace = true`");
    }
}

#[test]
fn law_every_outside_crate_has_its_sentence_in_the_design() {
    let design = fs::read_to_string(root().join("DESIGN.md")).expect("DESIGN.md is there");
    for name in members() {
        let manifest = manifest(&name);
        let mut used = names_in(&manifest, "dependencies");
        used.extend(names_in(&manifest, "dev-dependencies"));
        for dependency in used.iter().filter(|d| !d.starts_with("tober")) {
            assert!(
                design.contains(&format!("`{dependency}`")),
                "{name} uses {dependency}: write in DESIGN.md, in one sentence, why this crate"
            );
        }
    }
}

/// Words of state and marks are on every sheet, so they are explained.
#[test]
fn law_the_glossary_has_every_word_of_state() {
    use tober_calc::finding::Standing;
    let glossary =
        fs::read_to_string(root().join("GLOSSARY.md")).expect("GLOSSARY.md is there").to_lowercase();
    let standings = [Standing::Inside, Standing::Close, Standing::PastLimit, Standing::NotKnown];
    let words =
        standings.map(Standing::word).into_iter().chain(tober_draw::Mark::ALL.map(tober_draw::Mark::word));
    for word in words {
        assert!(glossary.contains(&word.to_lowercase()), "GLOSSARY.md does not say what {word:?} means");
    }
}

#[test]
fn law_the_glossary_agrees_with_the_words_that_are_printed() {
    use tober_quantity::{Word, WordSet};
    let glossary = fs::read_to_string(root().join("GLOSSARY.md")).expect("GLOSSARY.md is there");
    let rows: Vec<Vec<&str>> = glossary
        .lines()
        .filter(|line| line.starts_with("| "))
        .map(|line| line.trim_matches('|').split('|').map(str::trim).collect())
        .collect();
    for word in Word::ALL {
        let code = word.in_code();
        let row = rows.iter().find(|row| row[0].split(", ").any(|cell| cell == code));
        let row = row.unwrap_or_else(|| panic!("GLOSSARY.md has no row for {code}"));
        let at = row[0].split(", ").position(|cell| cell == code).unwrap_or(0);
        for (set, column) in [(WordSet::Gb, 1), (WordSet::Us, 2)] {
            let printed = row[column].split(", ").nth(at);
            assert_eq!(printed, Some(set.word(word)), "GLOSSARY.md, row {code}, column {set}");
        }
    }
}
