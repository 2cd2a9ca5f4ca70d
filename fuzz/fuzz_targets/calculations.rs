//! Any text as a question to any calculation: an answer or a sentence, never a panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_quantity::UnitSet;
use tober_wire::calc::{NAMES, answer};

fuzz_target!(|input: (u8, &str)| {
    let (which, text) = input;
    let name = NAMES[usize::from(which) % NAMES.len()];
    match answer(name, text, UnitSet::Metric) {
        Ok((answer, _)) => assert!(answer.is_object() || answer.is_array()),
        Err(sentence) => assert!(sentence.ends_with('.')),
    }
});
