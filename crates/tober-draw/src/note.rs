//! The boxed note of one leg: its state, what to build, and what it carries.

use crate::figures::Figures;
use crate::label::{self, Area, Weight};
use crate::mark::Mark;
use crate::sheet::{Anchor, Face, Sheet};
use tober_plan::LegPlan;

/// What all notes of a plan have alike, so that they read alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct NoteForm {
    /// "ground", or "gr" where the notes are too narrow for the word.
    pub ground_word: &'static str,
    /// Whether what a leg may carry takes a line of its own.
    limit_apart: bool,
    /// Whether the ground takes a line of its own.
    ground_apart: bool,
    /// How many lines the pieces take.
    piece_lines: usize,
    /// Whether the pieces stand by the names the crew calls them; by thickness where names are too long.
    pub by_name: bool,
}

const INSET: f64 = 8.0;
const LINE: f64 = 17.0;
const BODY: Face = Face::plain(14.0);
const STRONG: Face = Face::bold(14.0);

fn regular(text: &str) -> f64 {
    label::width(text, 14.0, Weight::Regular)
}

impl NoteForm {
    /// The form in which the notes of all legs fit into a width.
    pub(crate) fn of(figures: Figures, legs: &[LegPlan], width: f64) -> Self {
        let room = width - 2.0 * INSET;
        let beside = |word: &str| {
            legs.iter().all(|leg| {
                let held = label::width(&figures.held(&leg.held), 14.0, Weight::Bold);
                held + 8.0 + ground_width(figures, leg, word) <= room
            })
        };
        let (ground_word, ground_apart) = if beside("ground") {
            ("ground", false)
        } else if beside("gr") {
            ("gr", false)
        } else {
            ("ground", true)
        };
        let limit_apart = legs.iter().any(|leg| regular(&figures.load(leg)) > room);
        let by_name = legs.iter().all(|leg| fits(&figures.pieces_by_name(leg), room));
        let lines = |leg| wrapped(&pieces(figures, leg, by_name), room).len();
        let piece_lines = legs.iter().map(lines).max().unwrap_or(1).clamp(1, MOST_LINES);
        Self { ground_word, limit_apart, ground_apart, piece_lines, by_name }
    }

    /// How high a note is.
    pub(crate) fn height(self) -> f64 {
        let lines = 3 + self.piece_lines + usize::from(self.limit_apart) + usize::from(self.ground_apart);
        12.0 + LINE * lines as f64
    }
}

/// The most lines that the pieces of a stack take; what is longer is cut.
const MOST_LINES: usize = 3;

fn pieces(figures: Figures, leg: &LegPlan, by_name: bool) -> String {
    if by_name { figures.pieces_by_name(leg) } else { figures.pieces(leg) }
}

/// Whether a row of pieces stands in a note uncut.
fn fits(pieces: &str, room: f64) -> bool {
    let lines = wrapped(pieces, room);
    lines.len() <= MOST_LINES && lines.iter().all(|line| regular(line.trim_end()) <= room)
}

/// A row of pieces in as many lines as it needs.
fn wrapped(pieces: &str, room: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    for piece in pieces.split_inclusive("+ ") {
        let full = lines
            .last()
            .is_some_and(|line| !line.is_empty() && regular(&format!("{line}{}", piece.trim_end())) > room);
        if full {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            line.push_str(piece);
        }
    }
    lines
}

fn ground_width(figures: Figures, leg: &LegPlan, word: &str) -> f64 {
    match leg.ground {
        Some(height) => regular(&format!("{word} {}", figures.fine_signed(height))),
        None => regular(word) + 21.0,
    }
}

/// Writes a note into its box.
pub(crate) fn draw(sheet: &mut Sheet, figures: Figures, leg: &LegPlan, area: Area, form: NoteForm) {
    let (left, right, room) = (area.x + INSET, area.right() - INSET, area.width - 2.0 * INSET);
    let mut y = area.y + 21.0;
    let total = figures.fine(leg.stack);
    let total_width = label::width(&total, 18.0, Weight::Bold);
    sheet.mark(left - 1.0, y - 15.0, 18.0, Mark::of(leg.standing));
    sheet.text_within(left + 22.0, y, Face::bold(15.0), &leg.short, room - 28.0 - total_width);
    sheet.text(right, y, Face::bold(18.0).end(), &total);
    let lines = wrapped(&pieces(figures, leg, form.by_name), room);
    for (place, line) in lines.iter().take(form.piece_lines).enumerate() {
        let rest = if place + 1 == form.piece_lines { lines[place..].concat() } else { line.clone() };
        sheet.text_within(left, y + LINE * (place + 1) as f64, BODY, rest.trim_end(), room);
    }
    y += LINE * (form.piece_lines + 1) as f64;
    sheet.text_within(left, y, STRONG, &figures.held(&leg.held), room);
    if form.ground_apart {
        y += LINE;
        ground(sheet, figures, leg, (left, y), form, Anchor::Start);
    } else {
        ground(sheet, figures, leg, (right, y), form, Anchor::End);
    }
    y += LINE;
    match leg.load {
        None => {
            sheet.mark(left - 1.0, y - 13.5, 17.0, Mark::NotKnown);
            sheet.text_within(left + 20.0, y, BODY, "load not known", room - 20.0);
        }
        Some(_) if form.limit_apart => {
            let (band, limit) = figures.load_parts(leg);
            sheet.text_within(left, y, BODY, &band, room);
            sheet.text_within(left, y + LINE, BODY, &limit, room);
        }
        Some(_) => sheet.text_within(left, y, BODY, &figures.load(leg), room),
    }
}

fn ground(
    sheet: &mut Sheet,
    figures: Figures,
    leg: &LegPlan,
    (x, y): (f64, f64),
    form: NoteForm,
    anchor: Anchor,
) {
    let face = if anchor == Anchor::End { BODY.end() } else { BODY };
    match leg.ground {
        Some(height) => {
            sheet.text(x, y, face, &format!("{} {}", form.ground_word, figures.fine_signed(height)));
        }
        None => {
            let word = regular(form.ground_word);
            let (word_x, mark_x) =
                if anchor == Anchor::End { (x - 21.0, x - 17.0) } else { (x, x + word + 4.0) };
            sheet.mark(mark_x, y - 13.5, 17.0, Mark::NotKnown);
            sheet.text(word_x, y, face, form.ground_word);
        }
    }
}
