//! Any text as `pitch.toml`: never a panic, and every complaint has its place inside the text.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_book::{Source, parse_pitch};

fuzz_target!(|text: &str| tober_fuzz::read_soundly(text, parse_pitch(&Source::new("pitch.toml", text))));
