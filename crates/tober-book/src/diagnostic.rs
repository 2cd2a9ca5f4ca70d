//! What is wrong with a file, where, and what would be right.

use crate::{Group, Source, Span};
use core::fmt;

/// How much a diagnostic matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The file cannot be used until this is put right.
    Error,
    /// The file can be used; somebody should look.
    Warning,
}

/// What kind of thing is wrong. Stable: scripts and tests may rest on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Code {
    /// The text is not TOML, or a line of readings is not CSV.
    Syntax,
    /// The file is of a format this version does not read.
    Format,
    /// A key that does not belong where it stands.
    UnknownKey,
    /// A key or section that must be there is not.
    Missing,
    /// A value of the wrong kind: a bare number for a quantity, a text for a list.
    WrongKind,
    /// A quantity, date or time that cannot be read.
    Unreadable,
    /// A value outside what is possible.
    OutOfRange,
    /// A word that is not one of those allowed.
    UnknownWord,
    /// A name that nothing bears.
    UnknownName,
    /// Two things of a kind with one name.
    RepeatedName,
    /// Things that wait for each other, or carry each other, in a circle.
    Circle,
    /// Flat, repeated, in line or without size.
    Geometry,
    /// Two statements that cannot both be true.
    Disagreement,
    /// An order of the steps that the book admits and in which something goes wrong.
    Procedure,
}

impl Code {
    /// The code as text, for machines.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Syntax => "syntax",
            Self::Format => "format",
            Self::UnknownKey => "unknown-key",
            Self::Missing => "missing",
            Self::WrongKind => "wrong-kind",
            Self::Unreadable => "unreadable",
            Self::OutOfRange => "out-of-range",
            Self::UnknownWord => "unknown-word",
            Self::UnknownName => "unknown-name",
            Self::RepeatedName => "repeated-name",
            Self::Circle => "circle",
            Self::Geometry => "geometry",
            Self::Disagreement => "disagreement",
            Self::Procedure => "procedure",
        }
    }
}

/// One thing that is wrong with a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnostic {
    /// How much it matters.
    pub severity: Severity,
    /// What kind of thing is wrong.
    pub code: Code,
    /// The name of the file.
    pub file: String,
    /// The bytes concerned.
    pub span: Span,
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1.
    pub column: usize,
    /// What is wrong: a full sentence.
    pub message: String,
    /// What would be right: a full sentence, or empty where the message says it all.
    pub help: String,
    /// The text of the line.
    pub excerpt: String,
}

impl Diagnostic {
    /// What is wrong at a place of a file.
    pub fn new(source: &Source, span: Span, code: Code, message: String, help: String) -> Self {
        let span = Span { start: source.boundary(span.start), end: source.boundary(span.end) };
        let (line, column) = source.line_column(span.start);
        Self {
            severity: Severity::Error,
            code,
            file: source.name().to_owned(),
            span,
            line,
            column,
            message,
            help,
            excerpt: source.line(line).to_owned(),
        }
    }
}

impl fmt::Display for Diagnostic {
    /// The place, the sentence, the line with the text concerned underlined, and the help.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let severity = match self.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        writeln!(f, "{}:{}:{}: {severity}: {}", self.file, self.line, self.column, self.message)?;
        // A line can be very long: what is shown of it lies round the place. A tab takes as much room above as below.
        let long = self.excerpt.chars().count() > EXCERPT_LETTERS;
        let left_out = if long { (self.column - 1).saturating_sub(EXCERPT_BEFORE) } else { 0 };
        let first = if left_out > 0 { "…" } else { "" };
        let last = if self.excerpt.chars().count() > left_out + EXCERPT_LETTERS { "…" } else { "" };
        let shown: String =
            self.excerpt.chars().skip(left_out).take(EXCERPT_LETTERS).map(printable).collect();
        let before = self.column - 1 - left_out;
        let here = self.excerpt.chars().skip(self.column - 1);
        let mut bytes = self.span.end.saturating_sub(self.span.start);
        let most = (EXCERPT_LETTERS + 1).saturating_sub(before).max(1);
        let under = here.take_while(|c| take(&mut bytes, c.len_utf8())).count().clamp(1, most);
        writeln!(f, "  | {first}{shown}{last}")?;
        write!(f, "  | {}{}", " ".repeat(before + first.chars().count()), "^".repeat(under))?;
        if !self.help.is_empty() {
            write!(f, "\n  = {}", self.help)?;
        }
        Ok(())
    }
}

/// How much of a line is shown: what stands in a terminal of common width beside the bar.
const EXCERPT_LETTERS: usize = 96;
/// How much of a longer line is shown before the place.
const EXCERPT_BEFORE: usize = 40;

fn printable(c: char) -> char {
    if c.is_control() { ' ' } else { c }
}

fn take(bytes: &mut usize, length: usize) -> bool {
    let taken = *bytes > 0;
    *bytes = bytes.saturating_sub(length);
    taken
}

/// A name a file gives to something.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Named {
    pub group: Group,
    /// The name of the thing it belongs to, where names are only distinct within that thing.
    pub within: Option<String>,
    pub name: String,
    pub span: Span,
}

/// A name a file uses.
#[derive(Clone, Debug)]
pub(crate) struct Reference {
    /// The file; the readings of a pitch can stand in one of their own.
    pub source: Source,
    pub group: Group,
    pub within: Option<String>,
    pub name: String,
    pub span: Span,
}

/// A file that has been read.
#[derive(Clone, Debug)]
pub struct Parsed<T> {
    /// The text it was read from.
    pub source: Source,
    /// What it says, unless anything in it is an error.
    pub value: Option<T>,
    /// Everything that is wrong with it, in file order.
    pub diagnostics: Vec<Diagnostic>,
    pub(crate) names: Vec<Named>,
    pub(crate) references: Vec<Reference>,
}

impl<T> Parsed<T> {
    /// The value, or everything that is wrong.
    ///
    /// # Errors
    /// The diagnostics, if any of them is an error.
    pub fn into_result(self) -> Result<T, Vec<Diagnostic>> {
        self.value.ok_or(self.diagnostics)
    }
}
