//! Every command that a message or a document names is there.

use crate::folder::{run, said};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn texts(folder: &Path, ends: &[&str], found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() && !["target", "tests", ".git"].contains(&name.as_str()) {
            texts(&path, ends, found);
        } else if ends.iter().any(|end| name.ends_with(end)) {
            found.push(path);
        }
    }
}

/// The words that follow `tober ` where it is typed, and not spoken of: "the tober is wet" is the ground.
fn commands(text: &str) -> Vec<String> {
    let typed = text.match_indices("tober ").filter(|(at, _)| {
        let before = &text[..*at];
        before.is_empty()
            || before.ends_with(['`', '"', '\n', '/', '$'])
            || before.ends_with("  ")
            || before.ends_with("| ")
    });
    let word = |at: usize| text[at + 6..].chars().take_while(char::is_ascii_lowercase).collect::<String>();
    typed.map(|(at, _)| word(at)).filter(|word| !word.is_empty()).collect()
}

#[test]
fn hand_alone_it_says_what_to_do_next_and_every_command_named_anywhere_is_there() {
    let alone = run(&[]);
    assert_eq!(alone.status.code(), Some(0));
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut files = ["README.md", "CHANGELOG.md", "CONTRIBUTING.md", "SAFETY.md", "ARCHITECTURE.md", "check"]
        .map(|name| root.join(name))
        .to_vec();
    texts(&root.join("crates"), &[".rs", ".js"], &mut files);
    texts(&root.join("docs"), &[".sh", ".md"], &mut files);
    texts(&root.join("bench"), &[".sh", ".md"], &mut files);
    texts(&root.join("demo"), &[".toml"], &mut files);
    let mut named: BTreeMap<String, PathBuf> = BTreeMap::new();
    for word in commands(&said(&alone.stdout)) {
        named.insert(word, "what it says alone".into());
    }
    let by_itself = named.len();
    assert!(by_itself >= 3, "alone it names {named:?}");
    for path in files {
        let text = fs::read_to_string(&path).expect("it is there and is text");
        for word in commands(&text) {
            named.entry(word).or_insert_with(|| path.clone());
        }
    }
    // What the first line of a file of entries says that it is.
    named.remove("entries");
    // Built without the feature, the command prints no sheets.
    if cfg!(not(feature = "pdf")) {
        named.remove("sheets");
    }
    for (word, path) in &named {
        let out = run(&["help", word]);
        assert_eq!(out.status.code(), Some(0), "{} names `tober {word}`, which is not there", path.display());
    }
    for there in ["demo", "plan", "check", "calc", "phone"] {
        assert!(named.contains_key(there), "{there} is named nowhere: {named:?}");
    }
}
