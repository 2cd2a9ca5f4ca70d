//! `tober log verify`: a file of entries, verified with nothing but the file.

use crate::folder::{run, said};
use std::fs;
use std::path::{Path, PathBuf};

/// The golden log that the crate of the log keeps for ever.
const WHOLE: &str = include_str!("../../../tober-log/tests/golden/north-meadow.jsonl");

/// A file of its own, taken away at the end.
struct File(PathBuf);

impl File {
    fn of(name: &str, contents: impl AsRef<[u8]>) -> Self {
        let path = std::env::temp_dir().join(format!("tober-log-{name}-{}.jsonl", std::process::id()));
        fs::write(&path, contents).expect("it can be written");
        Self(path)
    }

    fn path(&self) -> &str {
        self.0.to_str().expect("a plain name")
    }
}

impl Drop for File {
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.0);
    }
}

/// The file is refused with these complaints, and nothing more.
#[track_caller]
fn refuses(name: &str, contents: impl AsRef<[u8]>, complaints: &[&str]) {
    let file = File::of(name, contents);
    let out = run(&["log", "verify", file.path()]);
    assert_eq!(out.status.code(), Some(2), "{}", said(&out.stdout));
    let errors = said(&out.stderr);
    let lines: Vec<&str> = errors.lines().collect();
    assert_eq!(lines.len(), complaints.len() + 1, "{errors}");
    for (line, complaint) in lines.iter().zip(complaints) {
        assert!(
            line.starts_with(file.path()) && line.contains(complaint),
            "{complaint} is missing from:\n{line}"
        );
    }
}

#[test]
fn regress_golden_verdict_on_a_whole_log() {
    let file = File::of("whole", WHOLE);
    let out = run(&["log", "verify", file.path(), "--entries"]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    assert!(out.stderr.is_empty());
    let printed = said(&out.stdout).replace(file.path(), "FILE");
    let golden = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/command/golden/log-verify.txt");
    if std::env::var("TOBER_GOLDEN").is_ok_and(|what| what == "write") {
        fs::write(&golden, &printed).expect("the golden file can be written");
    }
    assert_eq!(printed, fs::read_to_string(&golden).expect("the golden file is there"));
}

#[test]
fn refuse_a_log_that_was_changed_cut_or_is_none() {
    refuses("changed", WHOLE.replace("697 mm", "679 mm"), &["Line 7, column ", "k7q2m9-1:3 is missing."]);
    let without_last = WHOLE.trim_end().rsplit_once('\n').expect("many lines").0;
    refuses(
        "cut",
        format!("{without_last}\n"),
        &["k7q2m9-1 had 6 entries and ends here at number 5: the end was cut off."],
    );
    refuses("none", "[ride]\n", &["Line 1, column 2: The line cannot be read from here on"]);
    refuses(
        "newer",
        WHOLE.replace("\"format\":0", "\"format\":9"),
        &["The file is of format 9. This version reads format 0"],
    );
    refuses(
        "bytes",
        [0xff, 0xfe, 0x00],
        &["These bytes are not text (UTF-8)", "does not end with the end of a line"],
    );
    let twice = WHOLE.lines().next().expect("a first line").to_owned() + "\n";
    refuses("ends", twice, &["k7q2m9-1 had 6 entries and ends here at number 0", "p3x8aa-1 had 3 entries"]);
    let forked = include_str!("../../../tober-log/tests/golden/forked.jsonl");
    refuses(
        "forked",
        forked,
        &["p3x8aa-1:2 is there 2 times with different contents", "p3x8aa-1:3 is missing."],
    );
}

#[test]
fn refuse_a_log_that_no_longer_has_what_an_earlier_one_had() {
    // A file whose end was taken off by somebody who wrote its first line anew is whole by itself.
    let opened = tober_log::text::open(WHOLE.as_bytes());
    let kept =
        opened.log.entries().iter().filter(|entry| entry.id().to_string() != "k7q2m9-1:6").cloned().collect();
    let shorter = tober_log::text::write("north-meadow", &tober_log::Log::gather(kept).0);
    let (shorter, whole) = (File::of("shorter", &shorter), File::of("earlier", WHOLE));
    assert_eq!(run(&["log", "verify", shorter.path()]).status.code(), Some(0));
    let out = run(&["log", "verify", shorter.path(), "--earlier", whole.path()]);
    assert_eq!(out.status.code(), Some(2));
    assert!(
        said(&out.stderr).contains("k7q2m9-1 had 6 entries and ends here at number 5"),
        "{}",
        said(&out.stderr)
    );
    // The other way round nothing is missing.
    let out = run(&["log", "verify", whole.path(), "--earlier", shorter.path()]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    // An earlier file that says nothing about ends is no help.
    let headless = File::of("headless", WHOLE.split_once('\n').expect("many lines").1);
    let out = run(&["log", "verify", whole.path(), "--earlier", headless.path()]);
    assert_eq!(out.status.code(), Some(2));
    assert!(said(&out.stderr).contains("cannot be held against the file"), "{}", said(&out.stderr));
}

#[test]
fn refuse_a_file_that_is_not_there() {
    let out = run(&["log", "verify", "nowhere.jsonl"]);
    assert_eq!(out.status.code(), Some(2));
    assert_eq!(
        said(&out.stderr),
        "nowhere.jsonl is not there. Put the file there, or give the path of one that is.\n"
    );
    assert!(out.stdout.is_empty());
}
