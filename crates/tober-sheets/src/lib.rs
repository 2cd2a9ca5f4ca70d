//! The printed pack: what a crew holds in its hands when everything electrical fails, as one PDF.
//!
//! [`pack`] takes a plan with its books and gives the sheets that were asked for, as one tagged PDF with real text,
//! bookmarks, drawings as vectors with their words, and blanks that are numbered so that what is written into them can
//! be typed in later. It draws black on white.
//!
//! It knows no clock and reads no file: the typesetter, its template and the fonts are in the program, so the same plan
//! gives the same bytes everywhere.
//!
//! Invariant: this crate judges nothing. Verdicts, figures and words come from the plan and the books.

mod ask;
mod block;
mod error;
mod files;
mod held;
mod measure;
mod press;
mod say;
mod sheets;
#[cfg(test)]
mod tests;

pub use ask::{Ask, Paper, Reader, SheetKind};
pub use error::SheetsError;
pub use files::{blanks_csv, calendar, packing_csv, pins_csv};
pub use sheets::{Blank, Given};

use block::Pictures;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::rc::Rc;
use tober_draw::{Mark, Palette, fixed_style};
use tober_quantity::{Word, WordSet, in_units_of, in_words_of};

/// A printed pack.
#[derive(Clone, Debug)]
pub struct Pack {
    /// The PDF, as PDF/UA-1 and, where the visit says on which day the ride comes, as PDF/A-2a.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// The sheets that are in it.
    pub sheets: Vec<SheetKind>,
    /// Every blank, in the order in which they stand.
    pub blanks: Vec<Blank>,
    /// What stands over the edge of its page or on something else, a sentence each: measured from the layout. Empty for
    /// anything that was tried; where it is not, those pages must be read with care.
    pub out_of_place: Vec<String>,
}

/// The rules that a drawing on paper has besides those of its scheme: *close* is hatched there.
const HATCH: &str = ".tober-hatch{stroke:#000000;stroke-width:2px}\n";

/// How many letters of a name stand in the foot of a page.
const FOOT_LETTERS: usize = 34;

/// Prints a pack.
///
/// # Errors
/// If a sheet alone was asked for and the visit has nothing to put on it, if a figure of the plan cannot be drawn, or if
/// an address is too long for a code.
///
/// # Not covered
/// Letters outside the bundled fonts (Latin, Greek, Cyrillic) print as the sign for a letter that is not known.
pub fn pack(given: &Given<'_>, ask: &Ask) -> Result<Pack, SheetsError> {
    let (files, sheets, blanks) = files_of(given, ask)?;
    let pages = press::pages(files)?;
    let out_of_place = measure::overflows(&pages);
    let pdf = press::pdf(
        &pages,
        &format!("{} {}", given.plan.name, ask.named()),
        given.visit.about.from.is_some(),
    )?;
    Ok(Pack { pdf, pages: pages.pages().len(), sheets, blanks, out_of_place })
}

type Files = BTreeMap<String, Vec<u8>>;

/// What the typesetter reads.
fn files_of(given: &Given<'_>, ask: &Ask) -> Result<(Files, Vec<SheetKind>, Vec<Blank>), SheetsError> {
    let words = given.plan.words;
    let mut pictures = Pictures::default();
    let (mut all, mut kinds, mut blanks) = (Vec::new(), Vec::new(), Vec::new());
    let shared = Rc::default();
    for kind in ask.sheets() {
        let made = sheets::make(kind, given, ask, &shared)?;
        if made.blocks.is_empty() {
            if ask.only == Some(kind) {
                return Err(SheetsError::Empty { sheet: kind.name(), wants: kind.wants() });
            }
            continue;
        }
        let title = kind.title(words);
        let code = ask.at.as_ref().map(|at| code(at, kind, &title, &mut pictures)).transpose()?;
        all.push(json!({
            "number": kind.number().to_string(),
            "title": title,
            "code": code,
            "code-alt": ask.at.as_ref().map(|at| format!("A code that opens {}", address(at, kind))),
            "blocks": made.blocks.iter().map(|block| block.json(&mut pictures)).collect::<Vec<_>>()
        }));
        kinds.push(kind);
        blanks.extend(made.blanks);
    }
    let plan = given.plan;
    let short = |text: &str| say::short(text, FOOT_LETTERS);
    let mut data = json!({
        "title": format!("{} on {}: {}", plan.ride, plan.pitch, ask.title(words)),
        "description": format!(
            "{} of the plan {} for {}, {}.", say::capital(&ask.title(words)), plan.name, plan.visit, plan.standing.word()
        ),
        "ride": short(&plan.ride),
        "pitch": short(&plan.pitch),
        "visit": short(&plan.visit),
        "plan": plan.name,
        "log": ask.log.as_ref().map_or("log not begun".to_owned(), |head| format!("log {head}")),
        "invented": if plan.invented { "Invented: for trying out only." } else { "" },
        "paper": ask.paper.name(),
        "region": match words { WordSet::Gb => "GB", WordSet::Us => "US" },
        "date": given.visit.about.from.map(|date| json!([date.year, date.month, date.day])),
        "sheets": all
    });
    let letters = say::Letters::of_fonts();
    clean(&mut data, &letters, &|text| in_words_of(&in_units_of(text, plan.units), words).into_owned());
    let mut files = Files::new();
    files.insert("pack.json".to_owned(), data.to_string().into_bytes());
    for (at, svg) in pictures.0.iter().enumerate() {
        files.insert(format!("picture-{at}.svg"), letters.printable_svg(svg).into_bytes());
    }
    for mark in Mark::ALL {
        files.insert(format!("mark-{}.svg", mark.name()), mark_svg(mark).into_bytes());
    }
    Ok((files, kinds, blanks))
}

/// A mark as a picture of its own, black on white.
fn mark_svg(mark: Mark) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"24\" height=\"24\" viewBox=\"0 0 24 24\" color=\"#000000\"><style>{}{HATCH}</style>{}</svg>",
        fixed_style(&Palette::PRINT),
        mark.shape()
    )
}

/// Every text of the data in the units and words of its reader, with only letters that can be printed.
fn clean(value: &mut Value, letters: &say::Letters, told: &dyn Fn(&str) -> String) {
    match value {
        Value::String(text) => *text = letters.printable(&told(text)),
        Value::Array(items) => items.iter_mut().for_each(|item| clean(item, letters, told)),
        Value::Object(items) => items.values_mut().for_each(|item| clean(item, letters, told)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// The address of a sheet where the phone pages are.
fn address(at: &str, kind: SheetKind) -> String {
    kind.on_the_phone().map_or_else(|| at.to_owned(), |id| format!("{}#{id}", at.trim_end_matches('#')))
}

/// The code that opens a sheet.
fn code(at: &str, kind: SheetKind, title: &str, pictures: &mut Pictures) -> Result<String, SheetsError> {
    /// What the smallest print that a phone still reads off damp paper holds: 20 mm across, from memory.
    const MOST: usize = 120;
    let address = address(at, kind);
    let letters = address.chars().count();
    if letters > MOST {
        return Err(SheetsError::Address { letters, most: MOST });
    }
    let svg =
        tober_log::qr::svg(&address, title).map_err(|_| SheetsError::Address { letters, most: MOST })?;
    Ok(pictures.put(&svg))
}

/// What a pack is for, in words: "the chief's pack".
fn of_reader(reader: Reader, words: WordSet) -> String {
    match reader {
        Reader::Chief => format!("the {}'s pack", words.word(Word::Chief)),
        other => format!("the {}'s pack", other.name()),
    }
}
