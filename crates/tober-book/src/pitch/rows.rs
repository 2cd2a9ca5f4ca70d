//! Readings from a file of rows: CSV, as a spreadsheet or a survey instrument writes it.
//!
//! The first row names the columns: the keys of the same readings in `pitch.toml`, with `x` and `y` for the
//! two parts of `at`. A unit in brackets behind a name holds for the bare numbers below it: `tape (mm)`.
//! Cells are parted by commas, semicolons or tabs, whichever the first row uses; a cell may stand in double
//! quotes. Empty rows and rows that begin with `#` are passed over. A cell that a spreadsheet would take for
//! a formula is refused.

use super::readings::{LegHeight, LegTape, SpotHeight, StaffReading, WaterLeg, staff};
use super::{Pitch, Readings};
use crate::nearest::nearest;
use crate::report::{Report, listed, short};
use crate::section::Sectioned;
use crate::table::{Group, Section};
use crate::{Code, Parsed, Place, Source, Span};
use std::borrow::Cow;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

/// No file of readings has more rows.
const MOST_ROWS: usize = 10_000;

/// Reads a file of tape readings, with the columns leg and tape.
pub fn parse_tape_rows(source: &Source) -> Parsed<Vec<LegTape>> {
    let mut report = Report::new(source);
    let rows = rows::<LegTape>(&mut report);
    report.resolve(&[Group::Support, Group::Guy]);
    report.finish(Some(rows))
}

/// Reads a file of staff readings, with the columns point, set-up, kind and reading, and where they were
/// measured x, y and distance.
pub fn parse_staff_rows(source: &Source) -> Parsed<Vec<StaffReading>> {
    let mut report = Report::new(source);
    let rows = rows::<StaffReading>(&mut report);
    staff(&rows, &Place::default(), &mut report);
    report.finish(Some(rows))
}

/// Reads a file of spot heights, with the columns point, x, y and height, and where they are given deviation.
pub fn parse_spot_rows(source: &Source) -> Parsed<Vec<SpotHeight>> {
    let mut report = Report::new(source);
    let rows = rows::<SpotHeight>(&mut report);
    report.finish(Some(rows))
}

/// Reads a file of what was read at the legs.
fn at_legs<T: Sectioned>(source: &Source) -> Parsed<Vec<T>> {
    let mut report = Report::new(source);
    let rows = rows::<T>(&mut report);
    report.resolve(&[Group::Support]);
    report.finish(Some(rows))
}

/// The pitch with the readings of the file it names, which the caller has opened; what is wrong with that
/// file stands behind what is wrong with the pitch.
///
/// A pitch that has errors of its own, or names no file, stays as it is.
pub fn with_rows(pitch: Parsed<Pitch>, rows: &Source) -> Parsed<Pitch> {
    filled(pitch, rows, |pitch| pitch.readings.as_mut())
}

/// The same for the file that the earlier readings name.
pub fn with_earlier_rows(pitch: Parsed<Pitch>, rows: &Source) -> Parsed<Pitch> {
    filled(pitch, rows, |pitch| pitch.earlier.as_mut())
}

fn filled(
    mut pitch: Parsed<Pitch>,
    rows: &Source,
    which: fn(&mut Pitch) -> Option<&mut Readings>,
) -> Parsed<Pitch> {
    let Some(value) = &mut pitch.value else { return pitch };
    let Some(readings) = which(value).filter(|readings| readings.file().is_some()) else { return pitch };
    let (diagnostics, references) = match readings {
        Readings::Tape(of) => taken(parse_tape_rows(rows), &mut of.legs),
        Readings::Staff(of) => taken(parse_staff_rows(rows), &mut of.readings),
        Readings::Laser(of) => taken(parse_staff_rows(rows), &mut of.readings),
        Readings::WaterLevel(of) => taken(at_legs::<WaterLeg>(rows), &mut of.legs),
        Readings::Scale(of) => taken(at_legs::<LegHeight>(rows), &mut of.legs),
        Readings::Spots(of) => taken(parse_spot_rows(rows), &mut of.spots),
    };
    if !diagnostics.is_empty() {
        pitch.value = None;
    }
    pitch.diagnostics.extend(diagnostics);
    pitch.references.extend(references);
    pitch
}

/// Puts the rows where they belong, and gives what was wrong and what they refer to.
fn taken<T>(
    read: Parsed<Vec<T>>,
    into: &mut Vec<T>,
) -> (Vec<crate::Diagnostic>, Vec<crate::diagnostic::Reference>) {
    *into = read.value.unwrap_or_default();
    (read.diagnostics, read.references)
}

/// A column: the key it fills, and the unit its bare numbers have.
struct Column {
    name: String,
    unit: Option<String>,
}

struct Cell {
    text: String,
    span: Span,
}

/// Every row as a table of the section, read as if it stood in the pitch itself.
pub(crate) fn rows<T: Sectioned>(report: &mut Report) -> Vec<T> {
    let source = report.source.clone();
    let text = source.text();
    let mut found = Vec::new();
    let mut columns: Option<(Vec<Column>, char)> = None;
    let mut start = 0;
    let mut count = 0;
    for line in text.split_inclusive('\n') {
        let span = Span { start, end: start + line.trim_end_matches(['\r', '\n']).len() };
        start += line.len();
        // A byte order mark, as spreadsheets write it.
        let begin = if span.start == 0 && text.starts_with('\u{feff}') { 3 } else { span.start };
        let span = Span { start: begin, end: span.end.max(begin) };
        let line = &text[span.start..span.end];
        if line.trim().is_empty() || line.trim_start().starts_with('#') {
            continue;
        }
        let Some((columns, separator)) = &columns else {
            let separator = [';', '\t'].into_iter().find(|s| line.contains(*s)).unwrap_or(',');
            let Some(cells) = cells(line, span.start, separator, report) else { return found };
            let Some(named) = header(&cells, T::SECTION, span, report) else { return found };
            columns = Some((named, separator));
            continue;
        };
        count += 1;
        if count > MOST_ROWS {
            let message = format!("There are more than {MOST_ROWS} rows.");
            report.error(span, Code::OutOfRange, message, "Part them over several pitches.");
            return found;
        }
        let Some(cells) = cells(line, span.start, *separator, report) else { continue };
        if let Some(table) = row(&cells, columns, span, report) {
            found.extend(T::read_section(&table, span, "", report));
        }
    }
    if columns.is_none() {
        let help = format!("The first row names the columns: {}.", column_names(T::SECTION).join(", "));
        report.error(Span::default(), Code::Missing, "There is no row that names the columns.", help);
    }
    found
}

/// The cells of a line, or nothing if it cannot be parted.
fn cells(line: &str, start: usize, separator: char, report: &mut Report) -> Option<Vec<Cell>> {
    let mut found = Vec::new();
    let mut at = 0;
    loop {
        let rest = &line[at..];
        let blank = rest.len() - rest.trim_start_matches(' ').len();
        let (text, length) = if rest[blank..].starts_with('"') {
            let Some((text, length)) = quoted_cell(&rest[blank..]) else {
                let span = Span { start: start + at + blank, end: start + line.len() };
                let help = "Close it on the same line; a quote inside is written twice.";
                report.error(span, Code::Syntax, "The quote that begins here does not end.", help);
                return None;
            };
            (text, blank + length)
        } else {
            let length = rest.find(separator).unwrap_or(rest.len());
            (rest[..length].trim().to_owned(), length)
        };
        let raw = rest[..length].trim();
        let begin = at + (rest[..length].len() - rest[..length].trim_start().len());
        let span = Span { start: start + begin, end: start + begin + raw.len() };
        let after = rest[length..].trim_start_matches(' ');
        at = line.len() - after.len();
        found.push(Cell { text: text.trim().to_owned(), span });
        if after.is_empty() {
            return Some(found);
        }
        let Some(next) = after.strip_prefix(separator) else {
            let span = Span { start: start + at, end: start + line.len() };
            report.error(
                span,
                Code::Syntax,
                "Something stands behind the closing quote.",
                "A cell ends with its quote.",
            );
            return None;
        };
        at = line.len() - next.len();
    }
}

/// The text of a cell in quotes and the bytes it takes; nothing if the quote does not end.
fn quoted_cell(text: &str) -> Option<(String, usize)> {
    let mut out = String::new();
    let mut letters = text.char_indices().skip(1).peekable();
    while let Some((at, letter)) = letters.next() {
        if letter != '"' {
            out.push(letter);
        } else if letters.peek().is_some_and(|(_, next)| *next == '"') {
            out.push('"');
            letters.next();
        } else {
            return Some((out, at + 1));
        }
    }
    None
}

/// The names a column may have: the keys of the section, with x and y for `at`.
fn column_names(section: &'static Section) -> Vec<&'static str> {
    let names = section.keys.iter().map(|key| key.name);
    names.flat_map(|name| if name == "at" { vec!["x", "y"] } else { vec![name] }).collect()
}

/// The columns the first row names, or nothing if any of it is wrong.
fn header(cells: &[Cell], section: &'static Section, line: Span, report: &mut Report) -> Option<Vec<Column>> {
    let known = column_names(section);
    let before = report.diagnostics.len();
    let mut columns: Vec<Column> = Vec::new();
    let mut misspelt = Vec::new();
    for cell in cells {
        let (name, unit) = match cell.text.split_once(['(', '[']) {
            Some((name, unit)) => (name, Some(unit.trim_end_matches([')', ']']).trim().to_owned())),
            None => (cell.text.as_str(), None),
        };
        let name = name.trim().to_lowercase().replace([' ', '_'], "-");
        if !known.contains(&name.as_str()) {
            let near = nearest(&name, &known);
            misspelt.extend(near);
            let help = match near {
                Some(near) => format!("Did you mean `{near}`?"),
                None => format!("The columns are {}.", listed(&known)),
            };
            let message = format!("There is no column `{}`.", short(&cell.text));
            report.error(cell.span, Code::UnknownKey, message, help);
        } else if columns.iter().any(|column| column.name == name) {
            let message = format!("There is a column `{name}` already.");
            report.error(cell.span, Code::RepeatedName, message, "Leave one of them out.");
        }
        columns.push(Column { name, unit });
    }
    let wanted = section.keys.iter().filter(|key| key.required).map(|key| key.name);
    for name in
        wanted.filter(|name| !misspelt.contains(name) && !columns.iter().any(|column| column.name == *name))
    {
        let message = format!("The column `{name}` is missing.");
        report.error(line, Code::Missing, message, "The first row names the columns.");
    }
    if columns.iter().any(|c| c.name == "x") != columns.iter().any(|c| c.name == "y") {
        report.error(line, Code::Missing, "`x` and `y` come together.", "Give both, or neither.");
    }
    (report.diagnostics.len() == before).then_some(columns)
}

/// A row as a table, or nothing if it is not one.
fn row(cells: &[Cell], columns: &[Column], line: Span, report: &mut Report) -> Option<DeTable<'static>> {
    if cells.len() != columns.len() {
        let message = format!("This row has {} cells, and there are {} columns.", cells.len(), columns.len());
        report.error(line, Code::Syntax, message, "Give each row a cell for each column; it may be empty.");
        return None;
    }
    let mut table = DeTable::new();
    let (mut x, mut y) = (None, None);
    for (cell, column) in cells.iter().zip(columns) {
        if formula(&cell.text) {
            let message = "This looks like a formula of a spreadsheet.";
            report.error(cell.span, Code::Unreadable, message, "Write the value itself.");
            return None;
        }
        if cell.text.is_empty() {
            continue;
        }
        let bare = cell.text.ends_with(|c: char| c.is_ascii_digit() || c == '.');
        let text = match &column.unit {
            Some(unit) if bare => format!("{} {unit}", cell.text),
            _ => cell.text.clone(),
        };
        let range = cell.span.start..cell.span.end;
        let value = Spanned::new(range.clone(), DeValue::String(Cow::Owned(text)));
        match column.name.as_str() {
            "x" => x = Some(value),
            "y" => y = Some(value),
            name => {
                table.insert(Spanned::new(range, Cow::Owned(name.to_owned())), value);
            }
        }
    }
    let mut at = DeArray::new();
    let parts: Vec<_> = x.into_iter().chain(y).collect();
    let begin = parts.iter().map(|part| part.span().start).min();
    let end = parts.iter().map(|part| part.span().end).max();
    parts.into_iter().for_each(|part| at.push(part));
    if let (Some(begin), Some(end)) = (begin, end) {
        let key = Spanned::new(begin..end, Cow::Borrowed("at"));
        table.insert(key, Spanned::new(begin..end, DeValue::Array(at)));
    }
    Some(table)
}

/// Whether a spreadsheet would compute with the cell: it begins with a sign of a formula and is no number.
fn formula(text: &str) -> bool {
    let number = |rest: &str| rest.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    match text.chars().next() {
        Some('=' | '@' | '+') => true,
        Some('-') => !number(text[1..].trim_start()),
        _ => text.contains(char::is_control),
    }
}
