//! Any text as any file: never a panic, and every complaint has its place inside the text.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tober_book::{Source, parse_crew, parse_kit, parse_pitch, parse_ride, parse_visit};

fuzz_target!(|text: &str| {
    let source = Source::new("fuzzed.toml", text);
    let complaints = [
        parse_ride(&source).diagnostics,
        parse_kit(&source).diagnostics,
        parse_pitch(&source).diagnostics,
        parse_visit(&source).diagnostics,
        parse_crew(&source).diagnostics,
    ];
    for complaint in complaints.iter().flatten() {
        assert!(complaint.span.end <= text.len() && text.is_char_boundary(complaint.span.start));
        assert!(!complaint.to_string().is_empty());
    }
});
