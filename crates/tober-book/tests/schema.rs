//! The schemas say what the reader says, as far as a schema can.

mod shape;
mod spoil;

use serde_json::Value as Json;
use shape::{Shapes, of_shape};
use spoil::{Chance, spoiled};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use tober_book::*;

fn kind_of(path: &Path) -> Option<FileKind> {
    let name = path.file_name()?.to_str()?;
    FileKind::ALL.into_iter().find(|kind| name.ends_with(kind.file_name()))
}

fn files(folder: &Path, found: &mut Vec<(PathBuf, FileKind, String)>) {
    for entry in fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            files(&path, found);
        } else if let Some(kind) = kind_of(&path) {
            let text = fs::read_to_string(&path).expect("it is text");
            found.push((path, kind, text));
        }
    }
    found.sort();
}

/// Every file of the demo and every good file of these tests.
fn good() -> Vec<(PathBuf, FileKind, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    files(&root.join("../../demo"), &mut found);
    files(&root.join("tests/data"), &mut found);
    assert!(found.len() >= 15, "{}", found.len());
    found
}

fn complaints(file: FileKind, text: &str) -> Vec<Diagnostic> {
    let source = Source::new(file.file_name(), text);
    match file {
        FileKind::Ride => parse_ride(&source).diagnostics,
        FileKind::Kit => parse_kit(&source).diagnostics,
        FileKind::Crew => parse_crew(&source).diagnostics,
        FileKind::Pitch => parse_pitch(&source).diagnostics,
        FileKind::Visit => parse_visit(&source).diagnostics,
        FileKind::Frame => parse_frame(&source).diagnostics,
        FileKind::Weighing => parse_weighing(&source).diagnostics,
    }
}

/// The published metaschema of the draft, which the validator carries, takes each schema.
#[test]
fn truth_each_schema_is_a_schema_of_its_draft() {
    for file in FileKind::ALL {
        let text = schema(file);
        let json: Json = serde_json::from_str(&text).expect("it is JSON");
        assert_eq!(json["$schema"], "https://json-schema.org/draft/2020-12/schema");
        if let Err(error) = jsonschema::meta::validate(&json) {
            panic!("{}: {error}", file.file_name());
        }
        assert!(!text.contains("deprecated"), "nothing is kept that should not be written");
    }
}

#[test]
fn law_every_good_file_fits_its_schema() {
    let shapes = Shapes::new();
    for (path, file, text) in good() {
        assert!(complaints(file, &text).is_empty(), "{}", path.display());
        assert_eq!(shapes.said(file, &text), Some(Vec::new()), "{}", path.display());
    }
}

/// Keys are left out one at a time: what the schema then misses the reader misses, and the other way round.
#[test]
fn law_required_and_optional_keys_are_those_of_the_reader() {
    const ENOUGH: usize = 3;
    let shapes = Shapes::new();
    let (mut required, mut optional) = (BTreeSet::new(), BTreeSet::new());
    for (path, file, text) in good() {
        let document = Document::parse(&text).expect("it is TOML");
        let mut tried = BTreeMap::<String, usize>::new();
        for found in document.keys(file) {
            // Ninety steps have one table: the first few of a list stand for the others.
            let place: String =
                found.path.to_string().split(']').map(|part| part.split('[').next().unwrap_or("")).collect();
            let before = tried.entry(place).or_default();
            *before += 1;
            if *before > ENOUGH {
                continue;
            }
            let without = document.without(&found.path).text();
            let said = shapes.said(file, &without).expect("it stays TOML");
            let missed = complaints(file, &without).iter().any(of_shape);
            let of = format!("{}: {} left out: {said:?}", path.display(), found.path);
            assert_eq!(!said.is_empty(), missed, "{of}");
            assert_eq!(missed, found.key.required, "{of}");
            let set = if missed { &mut required } else { &mut optional };
            set.insert((file, found.key.name));
        }
    }
    assert!(required.len() > 60 && optional.len() > 150, "{} and {}", required.len(), optional.len());
}

/// What the reader takes the schema takes, and what is wrong in its shape both refuse, over spoiled files.
#[test]
fn law_spoiled_files_are_refused_for_their_shape_by_both() {
    const SEEDS: u64 = 120;
    let shapes = Shapes::new();
    let (mut taken, mut refused) = (0, 0);
    for (path, file, text) in good() {
        for seed in 0..SEEDS {
            let spoiled = spoiled(&text, &mut Chance(seed));
            let Some(said) = shapes.said(file, &spoiled) else { continue };
            let found = complaints(file, &spoiled);
            let of = format!("{} seed {seed}: {said:?}\n{spoiled}", path.display());
            if found.is_empty() {
                assert!(said.is_empty(), "{of}");
                taken += 1;
            }
            if found.iter().any(of_shape) {
                assert!(!said.is_empty(), "{of}");
                refused += 1;
            }
        }
    }
    assert!(taken > 50 && refused > 50, "{taken} and {refused}");
}

/// Every way of writing a quantity that the reader has a test or a document for, and ways it refuses.
#[test]
fn law_quantities_are_written_as_the_reader_reads_them() {
    let shapes = Shapes::new();
    let board = |thickness: &str| {
        let thickness = toml::Value::String(thickness.into());
        format!(
            "format = 0\n[kit]\nname = \"v\"\n[[board]]\nname = \"b\"\nthickness = {thickness}\n\
             length = \"1 m\"\nwidth = \"1 m\"\ncount = 1\nrole = \"timber\"\n"
        )
    };
    let ride = |mass: &str| {
        let least = include_str!("data/least.ride.toml");
        least.replace("\"3.4 t ± 5 %\"", &toml::Value::String(mass.into()).to_string())
    };
    let both = |file, text: &str, good: bool| {
        assert_eq!(complaints(file, text).is_empty(), good, "{text}");
        assert_eq!(shapes.said(file, text).expect("TOML").is_empty(), good, "{text}");
    };
    for good in ["48 mm", " 48mm ", "0.048 m", "4.8e-2 m", "1 7/8 in", "1-7/8 in", "1 7/8\"", "0 ft 1 7/8 in"]
    {
        both(FileKind::Kit, &board(good), true);
    }
    for wrong in ["48", "48 kg", "48 MM", "mm", "", "forty mm", "48 mm wide", "48 mm ± 1 mm"] {
        both(FileKind::Kit, &board(wrong), false);
    }
    for good in [
        "3,400 kg",
        "3.4 t +/- 5 %",
        "3.4 t ± 100 kg",
        "3400 ± 50 kg",
        "3.4 t ± 5 per cent",
        "3\u{202f}400\u{202f}kg",
    ] {
        both(FileKind::Ride, &ride(good), true);
    }
    for wrong in ["3400", "3.4 t ±", "3.4 ± 5 %", "3.4 kN", "3.4 t ± 5 mm"] {
        both(FileKind::Ride, &ride(wrong), false);
    }
}

/// An editor completes keys and shows what they mean: each key of the table stands in the schema with its text.
#[test]
fn law_every_key_stands_in_the_schema_with_its_meaning() {
    for file in FileKind::ALL {
        let json: Json = serde_json::from_str(&schema(file)).expect("it is JSON");
        let all = json.to_string();
        let mut count = 0;
        for (path, key) in optional_keys(file) {
            let meaning = Json::String(key.doc.trim().to_owned()).to_string();
            let meaning = meaning.trim_matches('"');
            assert!(all.contains(&format!("\"{}\":{{\"description\":\"{meaning}", key.name)), "{path}");
            count += 1;
        }
        assert!(count > 5, "{}", file.file_name());
        // Types of one name would be one definition.
        let definitions = json["$defs"].as_object().expect("definitions");
        let used = all.matches("#/$defs/").count();
        assert!(used >= definitions.len(), "{}", file.file_name());
    }
}
