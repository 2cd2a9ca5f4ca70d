//! Any text as a question to every calculation: an answer or a sentence, never a panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_quantity::UnitSet;
use tober_wire::calc::{NAMES, answer};

fuzz_target!(|text: &str| {
    for name in NAMES {
        match answer(name, text, UnitSet::Metric) {
            Ok((answer, _)) => assert!(answer.is_object() || answer.is_array(), "{name}: {answer}"),
            Err(sentence) => assert!(sentence.ends_with('.'), "{name}: {sentence}"),
        }
    }
});
