//! Any text as pasted codes: never a panic, always a sentence, and a whole set gives entries that pack to the same codes.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_log::qr::{codes, collect};

fuzz_target!(|text: &str| {
    let collected = collect(text);
    assert!(!collected.sentences.is_empty(), "nothing said");
    let Some(visit) = collected.visit else { return };
    let parts = codes(&visit, &collected.entries).expect("what was unpacked is packed");
    let again = collect(&parts.join("\n"));
    assert_eq!(again.entries, collected.entries);
    assert_eq!(again.visit.as_deref(), Some(visit.as_str()));
});
