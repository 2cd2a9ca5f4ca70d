//! The command, run; and folders of their own for tests to spoil.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

pub fn run(arguments: &[&str]) -> Output {
    run_with(arguments, b"")
}

/// The command with something to read on standard input.
pub fn run_with(arguments: &[&str], input: &[u8]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tober"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command runs");
    // A command that reads nothing may have ended already, which is no fault.
    let _ = child.stdin.take().expect("it listens").write_all(input);
    child.wait_with_output().expect("it ends")
}

pub fn said(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("it speaks UTF-8")
}

/// A folder of its own for each test, with the demo in it, taken away at the end.
pub struct Folder(PathBuf);

impl Folder {
    pub fn with_demo(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("tober-{name}-{}", std::process::id()));
        let out = run(&["demo", folder.to_str().expect("a plain name")]);
        assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
        Self(folder)
    }
    pub fn path(&self, inside: &str) -> String {
        self.0.join(inside).to_str().expect("a plain name").to_owned()
    }
    pub fn change(&self, file: &str, from: &str, to: &str) {
        let path = self.0.join(file);
        let text = fs::read_to_string(&path).expect("the demo is there");
        assert!(text.contains(from), "{file} says {from}");
        fs::write(&path, text.replacen(from, to, 1)).expect("it can be changed");
    }
    /// Every file in it, by name.
    pub fn contents(&self) -> BTreeMap<PathBuf, Vec<u8>> {
        let mut all = BTreeMap::new();
        gather(&self.0, &mut all);
        all
    }
}

fn gather(folder: &Path, all: &mut BTreeMap<PathBuf, Vec<u8>>) {
    for entry in fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            gather(&path, all);
        } else {
            let bytes = fs::read(&path).expect("it can be read");
            all.insert(path, bytes);
        }
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}
