//! The text of a file, and places in it.

use std::collections::BTreeMap;
use std::sync::Arc;

/// A file's name and its text.
///
/// The name is only for messages; nothing is opened.
#[derive(Clone, Debug)]
pub struct Source {
    name: Arc<str>,
    text: Arc<str>,
    line_starts: Arc<[usize]>,
}

impl Source {
    /// A text and the name to call it by.
    pub fn new(name: &str, text: &str) -> Self {
        let starts = core::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Self { name: name.into(), text: text.into(), line_starts: starts }
    }
    /// The name of the file.
    pub fn name(&self) -> &str {
        &self.name
    }
    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }
    /// The line and column of a byte, both counted from 1, the column in characters.
    ///
    /// A byte past the end, or inside a character, counts as the nearest one before it.
    pub fn line_column(&self, byte: usize) -> (usize, usize) {
        let byte = self.boundary(byte);
        let line = self.line_starts.partition_point(|&start| start <= byte).max(1);
        let start = self.line_starts[line - 1];
        (line, self.text[start..byte].chars().count() + 1)
    }
    /// The text of a line, counted from 1, without its end; empty past the last line.
    pub fn line(&self, line: usize) -> &str {
        let Some(&start) = line.checked_sub(1).and_then(|at| self.line_starts.get(at)) else { return "" };
        let end = self.line_starts.get(line).map_or(self.text.len(), |&next| next - 1);
        self.text[start..end].trim_end_matches('\r')
    }
    /// The nearest byte at or before this one where a character begins.
    pub(crate) fn boundary(&self, byte: usize) -> usize {
        let mut byte = byte.min(self.text.len());
        while !self.text.is_char_boundary(byte) {
            byte -= 1;
        }
        byte
    }
}

/// A range of bytes in a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl From<core::ops::Range<usize>> for Span {
    fn from(range: core::ops::Range<usize>) -> Self {
        Self { start: range.start, end: range.end.max(range.start) }
    }
}

/// Where a section stands in its file, and where the value of each of its keys stands.
///
/// Two places always compare equal, so that two models are equal when they say the same.
#[derive(Clone, Debug, Default)]
pub struct Place {
    /// The section: its header, or the whole of an inline table.
    pub section: Span,
    keys: BTreeMap<&'static str, Span>,
    /// Keys that seem to be there under a wrong name.
    misspelt: Vec<&'static str>,
}

impl Place {
    pub(crate) fn new(section: Span, misspelt: Vec<&'static str>) -> Self {
        Self { section, keys: BTreeMap::new(), misspelt }
    }
    pub(crate) fn is_misspelt(&self, key: &str) -> bool {
        self.misspelt.contains(&key)
    }
    pub(crate) fn note(&mut self, key: &'static str, span: Span) {
        self.keys.insert(key, span);
    }
    /// Where the value of a key stands, or the section if the key is not written.
    pub fn key(&self, name: &str) -> Span {
        self.keys.get(name).copied().unwrap_or(self.section)
    }
    /// Whether the key is written.
    pub fn has(&self, name: &str) -> bool {
        self.keys.contains_key(name)
    }
}

impl PartialEq for Place {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}
