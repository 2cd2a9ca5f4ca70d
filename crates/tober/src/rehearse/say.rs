//! A rehearsal as text.

use core::fmt::Write;
use std::collections::BTreeSet;
use tober_book::Role;
use tober_plan::rehearse::{Card, Rehearsal, Stood};
use tober_quantity::UnitSet;

/// The words that are understood.
pub const HELP: &str = "Enter goes on. `if STEP` says what happens if it is done now; `do STEP` does it where it may be; `free` what may be \
     done now; `back` the way back from here; `show STEP`, `list`, `riders`, `quit`.\n";

/// What it is.
pub fn head(all: &Rehearsal) -> String {
    let invented = all.invented.as_ref().map_or(String::new(), |said| format!("{said}\n"));
    format!(
        "Rehearsal: {}, {}. Nothing here is recorded. The maker's manual is right where it differs.\n{invented}{HELP}",
        all.ride, all.visit
    )
}

/// Whether a step is somebody's own.
fn own(card: &Card, role: Role) -> bool {
    card.skills.contains(&role)
}

/// One step.
pub fn card(all: &Rehearsal, card: &Card, role: Role) -> String {
    let mut out = format!("\n{}/{}  {}  ({})\n", card.number, all.cards.len(), card.title, card.phase.word());
    let mut told = |what: &str, text: &str| {
        let _ = writeln!(out, "  {what:<12}{text}");
    };
    if let Some(instruction) = &card.instruction {
        told("Do", instruction);
    }
    let mut who: Vec<String> = card
        .people
        .iter()
        .map(|people| if *people == 1 { "1 person".to_owned() } else { format!("{people} people") })
        .collect();
    who.extend(card.skills.iter().map(|role| role.word().to_owned()));
    if !who.is_empty() {
        let yours = if own(card, role) { " (you)" } else { "" };
        told("Who", &format!("{}{yours}", who.join(", ")));
    }
    if !card.tools.is_empty() {
        told("Tools", &card.tools.join(", "));
    }
    for pins in &card.pins {
        told(
            "Pins",
            &format!("{}. {} × {}: {} to {}", pins.number, pins.count, pins.fixing, pins.from, pins.to),
        );
    }
    if let Some(clear) = &card.keep_clear {
        let radius =
            card.keep_clear_radius.as_ref().map_or(String::new(), |r| format!(", {r} about its middle"));
        told("Keep clear", &format!("{clear}{radius}"));
    }
    if let Some(lift) = &card.lift {
        told("Lift", lift);
    }
    if let Some(wind) = &card.wind {
        told("Wind", wind);
    }
    if let Some(reading) = &card.reading {
        told("Read", reading);
    }
    for caution in &card.cautions {
        told("Caution", caution);
    }
    if let Some(hold) = &card.hold_point {
        told("Hold point", hold);
    }
    for early in card.too_early.iter().filter(|early| !early.wrong.is_empty()).take(2) {
        told("Goes wrong", &format!("without it, at \"{}\": {}", early.step, early.wrong[0].says));
    }
    if !card.instead.is_empty() {
        told("As well", &format!("may be done now instead: {}", card.instead.join("; ")));
    }
    if let Some((steps, not_easy)) = &card.back {
        let more = match not_easy.as_slice() {
            [] => String::new(),
            [one] => format!(" Not easy: {one}."),
            [one, rest @ ..] => format!(" Not easy: {one}, and {} more.", rest.len()),
        };
        told("Way back", &format!("{steps}.{more}"));
    }
    out
}

/// What may be done now.
pub fn free(all: &Rehearsal, free: &[usize]) -> String {
    let mut out = String::from("May be done now, in any order:\n");
    for &card in free {
        let _ = writeln!(out, "  {}  {}", all.cards[card].number, all.cards[card].title);
    }
    out
}

/// The way back.
pub fn back(undone: &[String]) -> String {
    if undone.is_empty() {
        return "Nothing is done yet, so there is nothing to go back over.\n".to_owned();
    }
    let mut out = String::from("The way back from here, first to last:\n");
    for (number, step) in undone.iter().enumerate() {
        let _ = writeln!(out, "  {}. {step}", number + 1);
    }
    out
}

/// What happens if a step is done now.
pub fn what_if(card: &Card, done: bool, now: Option<&Option<Stood>>) -> String {
    if done {
        return format!("\"{}\" is done already.\n", card.title);
    }
    let Some(now) = now else {
        return format!(
            "\"{}\" is for a ride that has stopped with riders aboard; see `riders`.\n",
            card.title
        );
    };
    let Some(stood) = now else { return format!("■ \"{}\" may be done now.\n", card.title) };
    let mut out = format!("▲ \"{}\" waits for: {}.\n", card.title, stood.waits_for.join("; "));
    for wrong in &stood.wrong {
        let _ = writeln!(out, "  {} (rule: {})", wrong.says, wrong.rule.words());
        let _ = writeln!(out, "      {}", wrong.help);
    }
    if stood.wrong.is_empty() {
        out.push_str(
            "  The book's figures show nothing that goes wrong; the maker's order holds all the same.\n",
        );
    }
    out
}

/// Every step, with what is done.
pub fn list(all: &Rehearsal, done: &BTreeSet<usize>) -> String {
    let mut out = String::new();
    for (at, card) in all.cards.iter().enumerate() {
        let mark = if done.contains(&at) { "■" } else { "○" };
        let _ = writeln!(out, "  {mark} {}  {} ({})", card.number, card.title, card.phase.word());
    }
    out
}

/// How riders get off.
pub fn riders(all: &Rehearsal, units: UnitSet) -> String {
    all.riders.as_ref().map_or(String::new(), |riders| crate::text::riders_off(riders, units))
}
