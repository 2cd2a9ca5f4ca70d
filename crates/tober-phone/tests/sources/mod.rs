//! The sources that the core is built from.

use std::fs;
use std::path::{Path, PathBuf};

/// The crates that go into the core, in the order of their names.
const CRATES: [&str; 10] = [
    "tober-book",
    "tober-calc",
    "tober-draw",
    "tober-fit",
    "tober-log",
    "tober-phone",
    "tober-plan",
    "tober-procedure",
    "tober-quantity",
    "tober-wire",
];

fn rust_files(folder: &Path, out: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a source folder can be read") {
        let path = entry.expect("an entry can be read").path();
        if path.is_dir() {
            rust_files(&path, out);
        } else if path.extension().is_some_and(|e| e == "rs")
            && path.file_name().is_none_or(|n| !n.to_string_lossy().contains("tests"))
        {
            out.push(path);
        }
    }
}

/// The hash of all of them, of their manifests and of the versions they are built with.
pub fn hash() -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut files = vec![root.join("Cargo.toml"), root.join("Cargo.lock")];
    for name in CRATES {
        files.push(root.join("crates").join(name).join("Cargo.toml"));
        // Of this crate only what the program is made of: the page around it is no part of the core.
        let sources = root.join("crates").join(name).join("src");
        rust_files(&sources, &mut files);
        if name == "tober-phone" {
            files.push(root.join("crates/tober-phone/examples/tober-core.rs"));
            files.retain(|file| {
                !["page.rs", "module.rs"].iter().any(|of_page| *file == sources.join(of_page))
            });
        }
    }
    let mut named: Vec<(String, Vec<u8>)> = files
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(&root).expect("it lies inside").to_string_lossy().replace('\\', "/");
            (name, fs::read(&path).expect("a source can be read"))
        })
        .collect();
    named.sort();
    tober_phone::module::hash_of(named.iter().map(|(name, contents)| (name.as_str(), contents.as_slice())))
}
