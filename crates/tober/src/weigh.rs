//! `tober weigh`: masses that nobody knows, from what was read on scales.

use crate::files::{self, Wrong, say};
use crate::{Ended, Shape, text};
use std::path::Path;
use tober_book::{
    Parsed, Ride, Source, Weighing, parse_ride, parse_weighing, weighing_disagreements, with_scale_rows,
};
use tober_calc::finding::Standing;

/// Weighs a ride by a file of readings.
pub fn weigh(ride: &Path, readings: &Path, shape: Shape) -> Ended {
    let (ride, read) = match books(ride, readings) {
        Ok(both) => both,
        Err(wrong) => return say(&wrong),
    };
    let weighed = match tober_plan::weigh(&ride, &read) {
        Ok(weighed) => weighed,
        Err(error) => return say(&Wrong::file(format!("{}: {error}.", readings.display()))),
    };
    let units = shape.units.unwrap_or_default();
    if shape.json {
        files::print(&format!("{}\n", tober_wire::weighing(&weighed, units)));
    } else {
        files::print_in(
            units,
            shape.words.unwrap_or_default(),
            &text::weighed(&ride, &read, &weighed, units, shape.working),
        );
    }
    let any = |standing| weighed.findings.iter().any(|finding| finding.standing == standing);
    if any(Standing::PastLimit) {
        Ended::PastLimit
    } else if any(Standing::NotKnown) || !weighed.left_out.is_empty() {
        Ended::NotKnown
    } else {
        Ended::Inside
    }
}

/// The two books; all that is wrong with both comes at once.
pub fn books(ride: &Path, readings: &Path) -> Result<(Ride, Weighing), Wrong> {
    let mut wrong = Wrong { unread: Vec::new(), said: Vec::new() };
    let mut open = |path: &Path| match files::read(path) {
        Ok(text) => Some(Source::new(&path.display().to_string(), &text)),
        Err(sentence) => {
            wrong.unread.push(sentence);
            None
        }
    };
    let inside = |path: &Path, name: &str| if path.is_dir() { path.join(name) } else { path.to_owned() };
    let book = open(&inside(ride, "ride.toml")).map(|source| parse_ride(&source));
    let file = inside(readings, "weighing.toml");
    let read =
        open(&file).map(|source| parse_weighing(&source)).map(|read| with_rows(read, &file, &mut open));
    if let (Some(read), Some(book)) = (&read, &book) {
        wrong.said.extend(book.diagnostics.clone());
        wrong.said.extend(read.diagnostics.clone());
        wrong.said.extend(weighing_disagreements(read, book));
    } else {
        wrong.said.extend(book.iter().flat_map(|book| book.diagnostics.clone()));
        wrong.said.extend(read.iter().flat_map(|read| read.diagnostics.clone()));
    }
    match (book.and_then(|book| book.value), read.and_then(|read| read.value)) {
        (Some(book), Some(read)) if wrong.said.is_empty() && wrong.unread.is_empty() => Ok((book, read)),
        _ => Err(wrong),
    }
}

/// The readings of the file that a weighing names, which lies beside it.
fn with_rows(
    read: Parsed<Weighing>,
    beside: &Path,
    open: &mut impl FnMut(&Path) -> Option<Source>,
) -> Parsed<Weighing> {
    let rows = read.value.as_ref().and_then(|value| value.about.file.clone());
    match rows.and_then(|rows| open(&beside.with_file_name(rows))) {
        Some(rows) => with_scale_rows(read, &rows),
        None => read,
    }
}
