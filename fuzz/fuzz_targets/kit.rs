//! Any text as `kit.toml`: never a panic, and every complaint has its place inside the text.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_book::{Source, parse_kit};

fuzz_target!(|text: &str| tober_fuzz::read_soundly(text, parse_kit(&Source::new("kit.toml", text))));
