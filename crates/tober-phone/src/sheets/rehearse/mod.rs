//! Sheet "Rehearsal": every step of the visit to learn from before anything is touched. Nothing is recorded.
//!
//! The list of steps is in the page and can be read without script. A step's own sheet, its picture, the answer to "what
//! if I do this now?" and the questions are made by the core when somebody goes there, each by its address.

mod quiz;
mod riders;
mod stage;
mod step;

use super::{Parts, Worked, head};
use crate::html::{capital, escape};
use stage::Stage;
use std::fmt::Write;
use tober_book::{Ride, Role, Visit};
use tober_plan::rehearse::{Card, Rehearsal, outline};
use tober_plan::riders_off;
use tober_quantity::{UnitSet, Word, WordSet};

/// What a rehearsal is of.
#[derive(Clone, Copy)]
pub(crate) struct Of<'a> {
    pub ride: &'a Ride,
    pub visit: &'a Visit,
    pub units: UnitSet,
    pub words: WordSet,
}

/// A part in the words of the visit.
fn named(role: Role, words: WordSet) -> &'static str {
    if role == Role::Chief { words.word(Word::Chief) } else { role.word() }
}

/// What is said where there are no steps.
const NO_STEPS: &str = "There is nothing to rehearse: the ride book has no [[step]], or its steps wait for each other in a circle.";

/// What stands at a place of the rehearsal: a step, the answer to "what if", or a question.
///
/// # Errors
/// A sentence where there is no such place, or where a drawing cannot be made.
pub(crate) fn lesson(of: Of<'_>, at: &str, seed: u64, w: &dyn Fn() -> Worked) -> Result<String, String> {
    let mut all = outline(of.ride, of.visit, of.units).ok_or(NO_STEPS)?;
    let none =
        || format!("The rehearsal has no place \"{at}\": its steps are step-1 to step-{}.", all.cards.len());
    if let Some(asked) = at.strip_prefix("quiz") {
        all.riders = riders_off(of.ride, of.visit);
        return quiz::sheet(&all, asked, seed, of.words).ok_or_else(none);
    }
    if let Some(asked) = at.strip_prefix("if-") {
        let stage = Stage::read(asked, all.cards.len()).ok_or_else(none)?;
        return Ok(step::what_if(of, &all, &stage));
    }
    let number = if at == "lesson" { "1" } else { at.strip_prefix("step-").unwrap_or_default() };
    let stage = Stage::read(number, all.cards.len()).ok_or_else(none)?;
    step::sheet(of, &all, &stage, &w())
}

/// The sheets: the list of steps, how riders get off, what is looked at and when, and the one that holds what is gone to.
pub(super) fn sheet(w: &Worked, parts: &Parts) -> String {
    let mut out = head(w.words(), "rehearse", parts);
    let of = Of { ride: &w.ride, visit: &w.visit, units: w.units(), words: w.words() };
    let Some(mut all) = outline(of.ride, of.visit, of.units) else {
        let _ = write!(out, "<p>{}</p></section>", escape(NO_STEPS));
        return out;
    };
    out.push_str(
        "<p><b>Learn it before you touch it.</b> Nothing here is recorded. Where it and the maker's manual differ, the manual is right.</p>",
    );
    all.riders = riders_off(of.ride, of.visit);
    if let Some(invented) = &all.invented {
        let _ = write!(out, "<p>{}</p>", escape(invented));
    }
    out.push_str("<div class=\"pair needs-script\"><a class=\"btn plainb\" href=\"#step-1\">Step 1</a><a class=\"btn plainb\" href=\"#quiz\">Questions</a></div>\
         <p class=\"to\"><a href=\"#riders\">Getting riders off</a></p><p class=\"to\"><a href=\"#checks\">What is looked at, and when</a></p>");
    list(&mut out, of, &all);
    out.push_str("</section>");
    riders::riders(&mut out, &all, w.units());
    riders::checks(&mut out, &all, w.words());
    out.push_str("<section class=\"sheet needs-script\" id=\"lesson\" aria-labelledby=\"h-lesson\"><h2 id=\"h-lesson\" tabindex=\"-1\">Rehearsal</h2><div id=\"quiz\"></div></section>");
    out
}

/// Every step in the printed order, by phase; what may be done in any order says so.
fn list(out: &mut String, of: Of<'_>, all: &Rehearsal) {
    let free = all.in_any_order(of.ride, of.visit);
    let mut phase = None;
    for (at, card) in all.cards.iter().enumerate() {
        if phase != Some(card.phase) {
            let end = if phase.is_some() { "</ol>" } else { "" };
            let _ =
                write!(out, "{end}<h3>{}</h3><ol class=\"list steps\">", escape(&capital(card.phase.word())));
            phase = Some(card.phase);
        }
        if let Some((first, last)) = free.iter().find(|(first, _)| *first == at) {
            let _ = write!(out, "<li class=\"any\">{} to {} in any order:</li>", first + 1, last + 1);
        }
        let inside = if free.iter().any(|(first, last)| (first..=last).contains(&&at)) {
            " class=\"free\""
        } else {
            ""
        };
        let _ = write!(
            out,
            "<li id=\"step-{0}\"{inside}><a href=\"#step-{0}\"><span class=\"n\">{0}</span><b>{1}</b></a><div class=\"untaught\">",
            card.number,
            escape(&card.title)
        );
        in_words(out, of, card);
        out.push_str("</div></li>");
    }
    if phase.is_some() {
        out.push_str("</ol>");
    }
}

/// A step in a few lines, for reading without script and on paper.
fn in_words(out: &mut String, of: Of<'_>, card: &Card) {
    if let Some(instruction) = &card.instruction {
        let _ = write!(out, "<p>{}</p>", escape(instruction));
    }
    let who = step::who(card, of.words);
    if !who.is_empty() {
        let _ = write!(out, "<p class=\"sub\">{}</p>", escape(&capital(&who)));
    }
    for pins in &card.pins {
        let _ = write!(
            out,
            "<p>{} {}: {} to {}</p>",
            pins.count,
            escape(&pins.fixing),
            escape(&pins.from),
            escape(&pins.to)
        );
    }
    if let Some(clear) = step::keep_clear(card) {
        let _ = write!(out, "<p>Nobody in: {}</p>", escape(&clear));
    }
    for caution in &card.cautions {
        out.push_str(&crate::html::caution(caution));
    }
    if let Some(hold) = &card.hold_point {
        let _ = write!(out, "<p><b>Hold point.</b> {}</p>", escape(hold));
    }
}
