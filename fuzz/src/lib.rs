//! What every target that reads a file asks of the reader.

use tober_book::Parsed;

/// Every complaint has its place inside the text and says something; a file without errors has a value.
pub fn read_soundly<T>(text: &str, parsed: Parsed<T>) {
    for complaint in &parsed.diagnostics {
        let span = &complaint.span;
        assert!(span.start <= span.end && span.end <= text.len(), "{span:?} of {}", text.len());
        assert!(text.is_char_boundary(span.start) && text.is_char_boundary(span.end), "{span:?}");
        assert!(!complaint.to_string().is_empty());
    }
    assert!(parsed.value.is_some() || !parsed.diagnostics.is_empty(), "refused without a reason");
}
