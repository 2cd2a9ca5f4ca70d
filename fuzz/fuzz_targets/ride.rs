//! Any text as `ride.toml`: never a panic, and every complaint has its place inside the text.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_book::{Source, parse_ride};

fuzz_target!(|text: &str| tober_fuzz::read_soundly(text, parse_ride(&Source::new("ride.toml", text))));
