//! The rehearsal as one HTML file: every step a sheet, how riders get off, the checks, and questions. It fetches nothing.

use core::fmt::Write;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use tober_book::Role;
use tober_plan::OffBy;
use tober_plan::rehearse::{Card, Rehearsal, quiz};
use tober_quantity::{Quantity, Rounding, UnitSet};

const STYLE: &str = include_str!("../../../tober-phone/src/phone.css");
const MORE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");
/// How many questions the page holds for each part.
const QUESTIONS: usize = 24;
/// Who may rehearse, as the list has them.
const ROLES: [Role; 4] = [Role::Hand, Role::Chief, Role::Operator, Role::Attendant];

/// Text as it stands between tags and in attributes.
fn text(raw: &str) -> String {
    raw.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// The page. `pictures` holds a drawing of a step by its name, where there is one.
pub fn page(all: &Rehearsal, pictures: &BTreeMap<String, String>, units: UnitSet, seed: u64) -> String {
    let mut out = String::new();
    let ride = text(&all.ride);
    let _ = write!(
        out,
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, \
         initial-scale=1\"><title>Rehearsal: {ride}</title><style>{}{STYLE}{MORE}</style></head><body>\
         <a class=\"skip\" href=\"#first\">To the steps</a>\
         <header class=\"bar0\"><h1 class=\"ride\">{ride}</h1><p class=\"link\">Rehearsal, {}</p></header>",
        if pictures.is_empty() { "" } else { tober_draw::STYLE },
        text(&all.visit)
    );
    steps(&mut out, all);
    out.push_str("<main>");
    begin(&mut out, all);
    for (at, card) in all.cards.iter().enumerate() {
        sheet(&mut out, all, at, card, pictures.get(&card.step));
    }
    riders(&mut out, all, units);
    checks(&mut out, all);
    questions(&mut out, all, seed);
    let _ = writeln!(out, "</main><script>{SCRIPT}</script></body></html>");
    out
}

/// All sheets as a list.
fn steps(out: &mut String, all: &Rehearsal) {
    out.push_str("<nav class=\"steps\" aria-label=\"Sheets\"><details><summary>All sheets</summary><ol>");
    let mut link = |id: &str, number: &str, title: &str| {
        let _ =
            write!(out, "<li><a href=\"#{id}\"><span class=\"n\">{number}</span> {}</a></li>", text(title));
    };
    link("first", "○", "What this is");
    for card in &all.cards {
        link(&format!("step-{}", card.number), &card.number.to_string(), &card.title);
    }
    link("riders", "R", "Getting riders off");
    link("checks", "C", "What is looked at, and when");
    link("quiz", "?", "Questions");
    out.push_str("</ol></details></nav>");
}

fn begin(out: &mut String, all: &Rehearsal) {
    let invented = all.invented.as_ref().map_or(String::new(), |said| format!("<p>{}</p>", text(said)));
    let _ = write!(
        out,
        "<section class=\"sheet\" id=\"first\" tabindex=\"-1\"><div class=\"head\"><h2>Learn it before you touch it</h2></div>\
         <p><b>Rehearsal.</b> Nothing here is recorded. Where it and the maker's manual differ, the manual is right.</p>{invented}\
         <p>{} steps, how riders get off, what is looked at and when, and questions for each part.</p>\
         <div class=\"pair\"><a class=\"btn plainb\" href=\"#step-1\">Step 1</a><a class=\"btn plainb\" href=\"#quiz\">Questions</a></div>\
         </section>",
        all.cards.len()
    );
}

/// A circle cut by a line, the number above, how many there are below.
fn balloon(number: usize, of: usize) -> String {
    format!(
        "<svg class=\"bal\" viewBox=\"0 0 52 52\" role=\"img\"><title>Step {number} of {of}</title><circle class=\"kf\" cx=\"26\" cy=\"26\" r=\"24\"/>\
         <path class=\"kn\" d=\"M2 29h48\"/><text class=\"b1\" x=\"26\" y=\"25\">{number}</text><text class=\"b2\" x=\"26\" y=\"44\">{of}</text></svg>"
    )
}

fn who(card: &Card) -> String {
    let people = match card.people {
        Some(1) => vec!["1 person".to_owned()],
        Some(many) => vec![format!("{many} people")],
        None => Vec::new(),
    };
    people
        .into_iter()
        .chain(card.skills.iter().map(|role| role.word().to_owned()))
        .collect::<Vec<_>>()
        .join(", ")
}

fn sheet(out: &mut String, all: &Rehearsal, at: usize, card: &Card, picture: Option<&String>) {
    let _ = write!(
        out,
        "<section class=\"sheet lesson\" id=\"step-{0}\" tabindex=\"-1\"><div class=\"head\">{1}<h2>{2}</h2></div>\
         <p class=\"sub\"><b>Rehearsal.</b> Nothing here is recorded. Phase: {3}.</p><div class=\"cols\"><div>",
        card.number,
        balloon(card.number, all.cards.len()),
        text(&card.title),
        card.phase.word()
    );
    if let Some(picture) = picture {
        let _ = write!(out, "<figure class=\"picture\">{picture}</figure>");
    }
    if let Some(instruction) = &card.instruction {
        let _ = write!(out, "<div class=\"coach\"><p class=\"call\">{}</p></div>", text(instruction));
    }
    for caution in &card.cautions {
        let _ = write!(out, "<p class=\"caution\"><b>Caution.</b> {}</p>", text(caution));
    }
    if let Some(hold) = &card.hold_point {
        let _ = write!(
            out,
            "<div class=\"coach\"><h3>Hold point</h3><p>Nothing goes on until the chief has looked: {}</p></div>",
            text(hold)
        );
    }
    out.push_str("</div><div>");
    facts(out, card);
    pins(out, card, picture.is_some());
    too_early(out, card);
    if !card.instead.is_empty() {
        let _ = write!(out, "<h3>May be done now as well</h3><p>{}.</p>", text(&card.instead.join("; ")));
    }
    if let Some((steps, not_easy)) = &card.back {
        let _ = write!(out, "<h3>The way back from here</h3><p>{steps} back, the last first.</p>");
        if !not_easy.is_empty() {
            out.push_str("<ul>");
            for one in not_easy {
                let _ = write!(out, "<li>{}</li>", text(one));
            }
            out.push_str("</ul>");
        }
    }
    out.push_str("</div></div><div class=\"pair\">");
    let before = at.checked_sub(1).and_then(|before| all.cards.get(before));
    let step = |card: &Card| (format!("#step-{}", card.number), format!("Step {}", card.number));
    let (back, next) = (
        before.map_or_else(|| ("#first".to_owned(), "What this is".to_owned()), step),
        all.cards.get(at + 1).map_or_else(|| ("#riders".to_owned(), "Riders off".to_owned()), step),
    );
    for (to, title) in [back, next] {
        let _ = write!(out, "<a class=\"btn plainb\" href=\"{to}\">{title}</a>");
    }
    out.push_str("</div></section>");
}

fn facts(out: &mut String, card: &Card) {
    let clear = card.keep_clear.as_ref().map(|clear| match &card.keep_clear_radius {
        Some(radius) => format!("{clear}, {radius} about its middle"),
        None => clear.clone(),
    });
    let some = |list: &[String]| (!list.is_empty()).then(|| list.join(", "));
    let people = Some(who(card)).filter(|who| !who.is_empty());
    let each = [
        ("Who", people),
        ("Works in", some(&card.works_in)),
        ("Nobody in", clear),
        ("Lift", card.lift.clone()),
        ("Wind", card.wind.clone()),
        ("Read", card.reading.clone()),
        ("Tools", some(&card.tools)),
        ("Moves", some(&card.moves)),
        ("Takes", card.minutes.map(|minutes| format!("about {minutes:.0} min"))),
    ];
    out.push_str("<ul class=\"facts\">");
    for (what, told) in each {
        if let Some(told) = told {
            let _ = write!(out, "<li><b>{what}</b> {}</li>", text(&told));
        }
    }
    out.push_str("</ul>");
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
            "<tr><td><b>{}</b></td><td><b>{} {}</b></td><td>{}</td><td>{}</td></tr>",
            pins.number,
            pins.count,
            text(&pins.fixing),
            text(&pins.from),
            text(&pins.to)
        );
    }
    out.push_str("</tbody></table>");
}

fn too_early(out: &mut String, card: &Card) {
    let stories: Vec<_> = card.too_early.iter().filter(|early| !early.wrong.is_empty()).collect();
    if stories.is_empty() {
        return;
    }
    out.push_str("<h3>What goes wrong without it</h3><dl class=\"early\">");
    for early in stories {
        let _ = write!(out, "<dt>▲ “{}” done all the same</dt>", text(&early.step));
        for wrong in early.wrong.iter().take(2) {
            let _ = write!(
                out,
                "<dd>{} <span class=\"sub\">{}</span></dd>",
                text(&wrong.says),
                text(&wrong.help)
            );
        }
    }
    out.push_str("</dl>");
}

fn riders(out: &mut String, all: &Rehearsal, units: UnitSet) {
    out.push_str("<section class=\"sheet\" id=\"riders\" tabindex=\"-1\"><div class=\"head\"><h2>Getting riders off</h2></div>");
    let Some(riders) = &all.riders else {
        out.push_str("<p>The book has no seats.</p></section>");
        return;
    };
    out.push_str("<p>It has stopped, every seat full and the riders as heavy as allowed. Talk to them. Isolate, lock off.</p>");
    for finding in riders.findings.iter().filter(|finding| !finding.unknown.is_empty()) {
        let _ = write!(out, "<p class=\"caution\">Not known: {}</p>", text(&finding.unknown.join(" ")));
    }
    for way in &riders.ways {
        one_way(out, way, units);
    }
    if let Some(brake) = &riders.brake_release {
        let _ = write!(out, "<p><b>Brake.</b> {}</p>", text(brake));
    }
    if !riders.stored_energy.is_empty() {
        let _ = write!(
            out,
            "<p class=\"caution\"><b>Still stored.</b> {}.</p>",
            text(&riders.stored_energy.join(", "))
        );
    }
    out.push_str("</section>");
}

fn one_way(out: &mut String, way: &OffBy, units: UnitSet) {
    let name = |seat: usize| text(way.seats.get(seat).map_or("?", String::as_str));
    let mut letters = way.way.chars();
    let titled: String =
        letters.next().map(char::to_uppercase).into_iter().flatten().chain(letters).collect();
    let _ = write!(out, "<h3>{}</h3>", text(&titled));
    if let Some(instruction) = &way.instruction {
        let _ = write!(out, "<p>{}</p>", text(instruction));
    }
    let _ = write!(
        out,
        "<table><caption>In this order</caption><thead><tr><th scope=\"col\">No.</th>{}<th scope=\"col\">Riders off</th>\
         <th scope=\"col\" class=\"r\">Then out of balance</th></tr></thead><tbody>",
        if way.turned { "<th scope=\"col\">Turn by hand</th>" } else { "" }
    );
    for (number, off) in way.answer.order.iter().enumerate() {
        let turn = off.turn.as_deg().round();
        let turned = match (way.turned, turn == 0.0) {
            (false, _) => String::new(),
            (true, true) => "<td>none</td>".to_owned(),
            (true, false) => format!("<td>{:.0}°</td>", turn.abs()),
        };
        let riders =
            if way.one_by_one { format!(", {} of its riders", off.riders.len()) } else { String::new() };
        let _ = write!(
            out,
            "<tr><td><b>{}</b></td>{turned}<td><b>{}</b>{riders}</td><td class=\"r\">{}</td></tr>",
            number + 1,
            name(off.seat),
            text(&off.out_of_balance.amount().print(units, Rounding::Demand))
        );
    }
    out.push_str("</tbody></table>");
    let left: Vec<String> = way.answer.left.iter().map(|(seat, _)| name(*seat)).collect();
    if !left.is_empty() {
        let _ = write!(out, "<p class=\"caution\">Not this way: {}. Call for help.</p>", left.join(", "));
    }
    if let (Some((_, Some(past))), Some(allowed)) = (&way.naive, way.allowed) {
        let _ = write!(
            out,
            "<p class=\"caution\">Not seat by seat round from the place: with {} off it is {} out of balance, of {} allowed.</p>",
            name(past.seat),
            text(&past.out_of_balance.amount().print(units, Rounding::Demand)),
            text(&allowed.amount().print(units, Rounding::Capacity))
        );
    }
}

fn checks(out: &mut String, all: &Rehearsal) {
    out.push_str("<section class=\"sheet\" id=\"checks\" tabindex=\"-1\"><div class=\"head\"><h2>What is looked at, and when</h2></div>");
    let mut whens: Vec<&str> = Vec::new();
    for (_, when, ..) in &all.checks {
        if !whens.contains(&when.as_str()) {
            whens.push(when);
        }
    }
    for when in whens {
        let _ = write!(
            out,
            "<table><caption>{}</caption><thead><tr><th scope=\"col\">Look at</th><th scope=\"col\">Good when</th><th scope=\"col\">Signed by</th>\
             </tr></thead><tbody>",
            text(when)
        );
        for (item, _, signed, good) in all.checks.iter().filter(|(_, other, ..)| other == when) {
            let signed: Vec<&str> = signed.iter().map(|role| role.word()).collect();
            let _ = write!(
                out,
                "<tr><td>{}</td><td>{}</td><td>{}</td></tr>",
                text(item),
                text(good),
                signed.join(" or ")
            );
        }
        out.push_str("</tbody></table>");
    }
    out.push_str("</section>");
}

fn questions(out: &mut String, all: &Rehearsal, seed: u64) {
    let link = |learn: &str| {
        let number = learn.strip_prefix("step ").and_then(|rest| rest.split(',').next());
        match number {
            Some(number) => format!("#step-{number}"),
            None if learn.starts_with("check") => "#checks".to_owned(),
            None => "#riders".to_owned(),
        }
    };
    let of = |role: Role| -> Value {
        let asked = quiz(all, role, QUESTIONS, seed);
        let each = asked.iter().map(|one| {
            json!({ "question": one.question, "choices": one.choices, "right": one.right, "because": one.because,
                "learn": one.learn, "link": link(&one.learn) })
        });
        each.collect()
    };
    let all_of: serde_json::Map<String, Value> =
        ROLES.into_iter().map(|role| (role.word().to_owned(), of(role))).collect();
    let options: String = ROLES.into_iter().map(|role| format!("<option>{}</option>", role.word())).collect();
    // "<" ends no script inside a string once it is written as its number.
    let data = Value::Object(all_of).to_string().replace('<', "\\u003c");
    let _ = write!(
        out,
        "<section class=\"sheet noprint\" id=\"quiz\" tabindex=\"-1\"><div class=\"head\"><h2>Questions</h2></div>\
         <noscript><p>Questions need script. tober rehearse --quiz asks them in the terminal.</p></noscript>\
         <p><label for=\"who\">You are</label></p><select id=\"who\">{options}</select>\
         <p id=\"score\" role=\"status\"></p><div id=\"question\"></div>\
         <button class=\"go\" id=\"begin\" type=\"button\">Begin</button></section>\
         <script type=\"application/json\" id=\"questions\">{data}</script>"
    );
}
