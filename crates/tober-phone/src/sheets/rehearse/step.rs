//! A step as a sheet of its own, and what happens if another is done in its place.

use super::stage::Stage;
use super::{Of, named};
use crate::html::{capital, caution, escape, marked, shape};
use crate::sheets::Worked;
use std::fmt::Write;
use tober_draw::{Mark, StyleSheet, step_picture_for_phone};
use tober_plan::rehearse::{Card, Rehearsal, Stood};
use tober_plan::steps_shown;
use tober_quantity::{Word, WordSet};

/// How many people, and who must be among them.
pub(super) fn who(card: &Card, words: WordSet) -> String {
    let people = card
        .people
        .map(|people| if people == 1 { "1 person".to_owned() } else { format!("{people} people") });
    let skills = card.skills.iter().map(|role| named(*role, words).to_owned());
    people.into_iter().chain(skills).collect::<Vec<_>>().join(", ")
}

/// Where nobody may be.
pub(super) fn keep_clear(card: &Card) -> Option<String> {
    let clear = card.keep_clear.as_ref()?;
    Some(match &card.keep_clear_radius {
        Some(radius) => format!("{clear}, {radius} about its middle"),
        None => clear.clone(),
    })
}

/// A circle cut by a line: the step above, how many there are below.
fn balloon(number: usize, of: usize) -> String {
    format!(
        "<svg class=\"bal\" viewBox=\"0 0 52 52\" role=\"img\"><title>Step {number} of {of}</title><circle class=\"kf\" cx=\"26\" cy=\"26\" r=\"24\"/>\
         <path class=\"kn\" d=\"M2 29h48\"/><text class=\"b1\" x=\"26\" y=\"25\">{number}</text><text class=\"b2\" x=\"26\" y=\"44\">{of}</text></svg>"
    )
}

/// The sheet of a step at a stage.
pub(super) fn sheet(of: Of<'_>, all: &Rehearsal, stage: &Stage, w: &Worked) -> Result<String, String> {
    let Some(card) = all.told_at(of.ride, of.visit, &stage.done, stage.card) else {
        return Err(super::NO_STEPS.to_owned());
    };
    let mut out = format!(
        "<div class=\"head\">{}<h2 id=\"h-lesson\" tabindex=\"-1\">{}</h2></div><p class=\"sub\"><b>Rehearsal.</b> Nothing here is recorded. {}.</p>",
        balloon(card.number, all.cards.len()),
        escape(&card.title),
        escape(&capital(card.phase.word())),
    );
    if !stage.is_printed() {
        let _ = write!(
            out,
            "<p>Not in the printed order: {} of {} steps are done.</p>",
            stage.done.len(),
            all.cards.len()
        );
    }
    out.push_str("<div class=\"cols\"><div>");
    let pictured = picture(of, &card, w)?;
    out.push_str(&pictured);
    if let Some(instruction) = &card.instruction {
        let _ = write!(out, "<p class=\"call coach\">{}</p>", escape(instruction));
    }
    for sentence in &card.cautions {
        out.push_str(&caution(sentence));
    }
    if let Some(hold) = &card.hold_point {
        let chief = of.words.word(Word::Chief);
        let _ = write!(
            out,
            "<div class=\"coach\"><h3>Hold point</h3><p>Nothing goes on until the {chief} has looked: {}</p></div>",
            escape(hold)
        );
    }
    pins(&mut out, &card, !pictured.is_empty());
    facts(&mut out, &card, of.words);
    out.push_str("</div><div>");
    ways_on(&mut out, of, all, stage);
    too_early(&mut out, &card);
    ask(&mut out, all, stage);
    as_well(&mut out, of, all, stage);
    back(&mut out, &card);
    out.push_str("<p class=\"to\"><a href=\"#rehearse\">All steps</a></p></div></div>");
    Ok(out)
}

/// The picture; none where the step's places are not told.
fn picture(of: Of<'_>, card: &Card, w: &Worked) -> Result<String, String> {
    let steps = steps_shown(of.ride, of.visit).unwrap_or_default();
    let Some(shown) = steps.iter().find(|shown| shown.step.name == card.step) else {
        return Ok(String::new());
    };
    let svg = step_picture_for_phone(of.ride, w.shown(), shown, StyleSheet::OnPage);
    svg.map(|svg| format!("<figure class=\"picture\">{svg}</figure>")).map_err(|error| error.to_string())
}

fn facts(out: &mut String, card: &Card, words: WordSet) {
    let some = |list: &[String]| (!list.is_empty()).then(|| list.join(", "));
    let people = Some(who(card, words)).filter(|who| !who.is_empty());
    let each = [
        ("Who", people),
        ("Works in", some(&card.works_in)),
        ("Nobody in", keep_clear(card)),
        ("Lift", card.lift.clone()),
        ("Wind", card.wind.clone()),
        ("Read", card.reading.clone()),
        ("Tools", some(&card.tools)),
        ("Moves", some(&card.moves)),
        ("Takes", card.minutes.map(|minutes| format!("about {minutes:.0} min"))),
    ];
    out.push_str("<dl class=\"told\">");
    for (what, told) in each {
        if let Some(told) = told {
            let _ = write!(out, "<div><dt>{what}</dt><dd>{}</dd></div>", escape(&told));
        }
    }
    out.push_str("</dl>");
}

fn pins(out: &mut String, card: &Card, pictured: bool) {
    if card.pins.is_empty() {
        return;
    }
    let _ = write!(
        out,
        "<table><caption>{}</caption><thead><tr><th scope=\"col\">No.</th><th scope=\"col\">Pins</th>\
         <th scope=\"col\">From</th><th scope=\"col\">To</th></tr></thead><tbody>",
        if pictured { "Pins, numbered as in the picture" } else { "Pins" }
    );
    for pins in &card.pins {
        let _ = write!(
            out,
            "<tr><th scope=\"row\"><b>{}</b></th><td><b>{} {}</b></td><td>{}</td><td>{}</td></tr>",
            pins.number,
            pins.count,
            escape(&pins.fixing),
            escape(&pins.from),
            escape(&pins.to)
        );
    }
    out.push_str("</tbody></table>");
}

/// The step before, and the next that is free.
fn ways_on(out: &mut String, of: Of<'_>, all: &Rehearsal, stage: &Stage) {
    let mut after = stage.done.clone();
    after.insert(stage.card);
    let number = |stage: &Stage| format!("Step {}", stage.card + 1);
    let back = stage.done.last().map(|&card| {
        let mut done = stage.done.clone();
        done.remove(&card);
        Stage { card, done }
    });
    // After the last step that has a place in the order come those for a ride that has stopped, in the order of the book.
    let free = all.open(of.ride, of.visit, &after).0.first().copied();
    let next = free.map(|card| Stage { card, done: after.clone() });
    let next = next.or_else(|| (stage.card + 1 < all.cards.len()).then(|| Stage::printed(stage.card + 1)));
    let (back_to, back_said) =
        back.map_or(("#rehearse".to_owned(), "All steps".to_owned()), |to| (to.address(), number(&to)));
    let (next_to, next_said) =
        next.map_or(("#riders".to_owned(), "Riders off".to_owned()), |to| (to.address(), number(&to)));
    let _ = write!(
        out,
        "<div class=\"pair\"><a class=\"btn plainb\" href=\"{back_to}\">{back_said}</a><a class=\"btn plainb\" href=\"{next_to}\">{next_said}</a></div>"
    );
}

fn too_early(out: &mut String, card: &Card) {
    let stories: Vec<&Stood> = card.too_early.iter().filter(|early| !early.wrong.is_empty()).collect();
    if stories.is_empty() {
        return;
    }
    out.push_str("<h3>What could go wrong without it</h3>");
    for early in stories {
        let _ =
            write!(out, "<p><b>{}{}</b> done all the same:</p>", shape(Mark::PastLimit), escape(&early.step));
        for wrong in early.wrong.iter().take(2) {
            let _ = write!(
                out,
                "<p>{} <span class=\"sub\">{}</span></p>",
                escape(&wrong.says),
                escape(&wrong.help)
            );
        }
    }
}

/// "What if I do this now?", for any step that is not done.
fn ask(out: &mut String, all: &Rehearsal, stage: &Stage) {
    out.push_str("<h3 id=\"if-title\">What if I do another step now?</h3><select id=\"if\" aria-labelledby=\"if-title\">");
    for (at, card) in all.cards.iter().enumerate() {
        if at != stage.card && !stage.done.contains(&at) {
            let _ = write!(
                out,
                "<option value=\"{}\">{} {}</option>",
                card.number,
                card.number,
                escape(&card.title)
            );
        }
    }
    let _ = write!(
        out,
        "</select><button type=\"button\" class=\"plainb\" data-if=\"{}\">What if I do this now?</button><div id=\"if-said\" role=\"status\"></div>",
        stage.done_written()
    );
}

/// How many of the steps that are waited for are named.
const WAITS_TOLD: usize = 4;

/// The answer.
pub(super) fn what_if(of: Of<'_>, all: &Rehearsal, stage: &Stage) -> String {
    let title = escape(&all.cards[stage.card].title);
    if stage.done.contains(&stage.card) {
        return format!("<p><b>{title}</b> is done already.</p>");
    }
    let Some(now) = all.what_if(of.ride, of.visit, &stage.done, stage.card) else {
        return format!(
            "<p><b>{title}</b> is for a ride that has stopped with riders aboard.</p><p class=\"to\"><a href=\"#riders\">Getting riders off</a></p>"
        );
    };
    let Some(stood) = now else {
        return format!(
            "<p>{} <b>{title}</b></p><p class=\"to\"><a href=\"{}\">Go to it</a></p>",
            marked(Mark::Done, "May be done now:"),
            stage.address()
        );
    };
    let mut out = format!("<p>{} <b>{title}</b></p>", marked(Mark::PastLimit, "Not now:"));
    for wrong in &stood.wrong {
        let _ = write!(
            out,
            "<div class=\"coach bad\"><h3>{}</h3><p>{}</p><p>{}</p></div>",
            escape(&capital(wrong.rule.words())),
            escape(&wrong.says),
            escape(&wrong.help)
        );
    }
    if stood.wrong.is_empty() {
        out.push_str(
            "<p>The book's figures show nothing that goes wrong; the maker's order holds all the same.</p>",
        );
    }
    let first: Vec<&str> = stood.waits_for.iter().take(WAITS_TOLD).map(String::as_str).collect();
    let more = match stood.waits_for.len() - first.len() {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    let _ = write!(out, "<p>It waits for: {}{more}.</p>", escape(&first.join("; ")));
    out
}

/// What else may be done at this stage.
fn as_well(out: &mut String, of: Of<'_>, all: &Rehearsal, stage: &Stage) {
    let (free, _) = all.open(of.ride, of.visit, &stage.done);
    let others: Vec<usize> = free.into_iter().filter(|card| *card != stage.card).collect();
    if others.is_empty() {
        return;
    }
    out.push_str("<h3>May be done now as well</h3><ol class=\"list\">");
    for card in others {
        let to = Stage { card, done: stage.done.clone() };
        let _ = write!(
            out,
            "<li><a href=\"{}\"><span class=\"n\">{}</span><b>{}</b></a></li>",
            to.address(),
            card + 1,
            escape(&all.cards[card].title)
        );
    }
    out.push_str("</ol>");
}

fn back(out: &mut String, card: &Card) {
    let Some((steps, not_easy)) = &card.back else { return };
    let _ = write!(out, "<h3>The way back from here</h3><p>{} back, the last first.</p>", escape(steps));
    if !not_easy.is_empty() {
        out.push_str("<ul>");
        for one in not_easy {
            let _ = write!(out, "<li>{}</li>", escape(one));
        }
        out.push_str("</ul>");
    }
}
