//! Sheet "Ground": what lies under the feet, or the sink test with its wait (rules S4 and S9).

use super::{Parts, Worked, head, slot};
use crate::fields::{self, Speaks};
use crate::html::{button, capital, caution, escape, shape, standing};
use crate::typed::{GROUNDS, WAIT_MIN, bottoms};
use std::fmt::Write;
use tober_calc::finding::{Standing, Subject};
use tober_calc::ground::TABLES;
use tober_draw::Mark;
use tober_quantity::UnitSet;

/// The tables of presumptive pressures that a set of units is offered: those of its own side.
fn tables(units: UnitSet) -> &'static [&'static str] {
    if units == UnitSet::Us { &["IBC 2012 1806.2"] } else { &["NBC 9.4.4.1", "BS 8004:1986"] }
}

pub(super) fn sheet(w: &Worked, parts: &Parts) -> String {
    let units = w.units();
    let mut out = head(w.words(), "ground", parts);
    out.push_str(&caution(
        "Look under every foot: drain, pipe, cable, cellar, old trench. No foot stands on one.",
    ));
    out.push_str("<form autocomplete=\"off\">");
    out.push_str(&fields::choice(
        "ground",
        "What the feet stand on",
        &GROUNDS
            .map(|(value, words, aside)| (if value.is_empty() { "not looked" } else { value }, words, aside)),
    ));
    out.push_str("<div data-shown=\"bared\"><fieldset class=\"pick\"><legend>Which ground is bared</legend>");
    for table in TABLES.iter().filter(|table| tables(units).contains(&table.name)) {
        let _ = write!(
            out,
            "<p class=\"sub\">{}, {}, {}</p>",
            escape(table.document),
            escape(table.table),
            escape(table.edition)
        );
        for class in table.classes {
            let _ = write!(
                out,
                "<label class=\"rad\"><input type=\"radio\" name=\"ground class\" value=\"{} / {}\"><span>{}</span></label>",
                escape(table.name),
                escape(class.name),
                escape(&capital(class.name))
            );
        }
    }
    out.push_str(&fields::said("ground class"));
    out.push_str("</fieldset></div>");
    out.push_str(&fields::choice(
        "wet",
        "How wet it is",
        &[
            ("dry", "Dry", ""),
            ("wet", "Wet", ""),
            ("standing water", "Water stands on it", "do not stand a foot in it"),
        ],
    ));
    let boards = bottoms(&w.kit);
    let mut options: Vec<(&str, &str, &str)> = boards.iter().map(|&name| (name, name, "")).collect();
    options.push(("any", "Any board", "the test is then of no board"));
    out.push_str(&fields::choice("bottom", "Which board lies on the ground", &options));
    let _ = write!(
        out,
        "<details><summary>Pull test: will it slide?</summary><p class=\"sub\">Draw a loaded board sideways over this ground. The pull over its weight, such as 0.4: the least of three.</p>\
         <div class=\"row\"><span>Pull over weight</span>{}{}</div></details>",
        fields::figure("friction", "Pull over weight", Speaks::Count, units),
        fields::said("friction")
    );
    out.push_str(&slot(parts, "ground said"));
    let _ = write!(
        out,
        "<h3>Sink test</h3><p>Stand the foot on its board. Load it by the jack's gauge. Wait {WAIT_MIN} minutes. \
         Read the sink on a rule held to a peg, a good step away.</p>{}",
        caution("Hands never under the foot. Nobody under the frame while the jack holds it.")
    );
    for leg in w.legs() {
        let (load, sink) = (format!("sink load {leg}"), format!("sink {leg}"));
        let _ = write!(
            out,
            "<details><summary>{}{}</summary><div class=\"row\"><span>Load on it, {}</span>{}{}</div>{}\
             <div class=\"row\"><span>Sink, {}</span>{}{}</div></details>",
            escape(&capital(&leg)),
            slot(parts, &format!("test {leg}")),
            Speaks::Load.unit(units),
            fields::figure(&load, &format!("Load on {leg}"), Speaks::Load, units),
            fields::said(&load),
            slot(parts, &format!("loaded {leg}")),
            Speaks::Fine.unit(units),
            fields::figure(&sink, &format!("Sink of {leg}"), Speaks::Fine, units),
            fields::said(&sink)
        );
    }
    out.push_str("</form></section>");
    out
}

pub(super) fn parts(w: &Worked, parts: &mut Parts) {
    let mut said = String::new();
    if w.stands.get("ground").is_none() && !w.of_file.grounds.is_empty() {
        said.push_str("<p>The pitch's file tells of its ground. What is chosen here takes its place.</p>");
    }
    if let Some(sentence) = w.typed.wrong.get("ground") {
        let _ = write!(said, "<p class=\"said wrong\">{}</p>", escape(sentence));
    }
    said.push_str(&judged(w));
    parts.insert("ground said".to_owned(), said);
    parts.insert("ground aside".to_owned(), String::new());
    for leg in w.legs() {
        let (mark, aside) = tested(w, &leg);
        parts.insert(
            format!("test {leg}"),
            format!("<span class=\"sub\">{}{}</span>", shape(mark), escape(&aside)),
        );
        parts.insert(format!("loaded {leg}"), loaded(w, &leg));
    }
}

/// What each leg may rest on, as far as a plan asks for it.
fn judged(w: &Worked) -> String {
    let plan = w.shown();
    let about: Vec<_> = plan.findings.iter().filter(|f| f.code.starts_with("ground.")).collect();
    if about.is_empty() {
        return format!(
            "<p>{} Whether the ground takes the legs: not known until there is a plan.</p>",
            shape(Mark::NotKnown)
        );
    }
    let mut out =
        String::from("<table class=\"tight\"><caption>Whether the ground takes each leg</caption><tbody>");
    for leg in w.legs() {
        let of_leg = about.iter().filter(|f| f.subject == Subject::Support(leg.clone()));
        let Some(worst) = of_leg.max_by_key(|f| match f.standing {
            Standing::PastLimit => 3,
            Standing::NotKnown => 2,
            Standing::Close => 1,
            Standing::Inside => 0,
        }) else {
            continue;
        };
        let why = worst.unknown.first().or(worst.advice.first()).map_or("", String::as_str);
        let _ = write!(
            out,
            "<tr><th scope=\"row\" class=\"lg\">{}</th><td>{} {}<br><span class=\"sub\">{}</span></td></tr>",
            escape(&capital(&leg)),
            standing(worst.standing),
            escape(&worst.figure(w.units())),
            escape(why)
        );
    }
    out.push_str("</tbody></table>");
    out
}

fn tested(w: &Worked, leg: &str) -> (Mark, String) {
    let (begun, read) = (w.stands.get(&format!("loaded {leg}")), w.stands.value(&format!("sink {leg}")));
    match (begun, read) {
        (Some(_), Some(_)) => (Mark::Done, "read".to_owned()),
        (Some(begun), None) => {
            let left = left_min(w, begun.at_ms);
            let said = match left {
                Some(0) => "read it now".to_owned(),
                Some(minutes) => format!("read in {minutes} min"),
                None => format!("loaded {}", begun.at),
            };
            (Mark::InHand, said)
        }
        _ => (Mark::NotBegun, "not tested here".to_owned()),
    }
}

/// Whole minutes still to wait, rounded up.
fn left_min(w: &Worked, begun_ms: u64) -> Option<u64> {
    let until = begun_ms + WAIT_MIN * 60_000;
    Some(until.saturating_sub(w.now_ms?).div_ceil(60_000))
}

fn loaded(w: &Worked, leg: &str) -> String {
    let what = format!("loaded {leg}");
    let Some(begun) = w.stands.get(&what) else {
        if w.stands.value(&format!("sink load {leg}")).is_none() {
            return "<p class=\"sub\">Type the load first.</p>".to_owned();
        }
        return button("plainb", "begun", &what, "yes", "The load is on", "the wait begins now");
    };
    let wait = crate::typed::waited_min(&w.stands, leg);
    let early = wait.is_some_and(|minutes| minutes < WAIT_MIN);
    let mut out = format!("<p>{} Loaded {}.", shape(Mark::InHand), escape(&begun.at));
    match (wait, left_min(w, begun.at_ms)) {
        (Some(minutes), _) => {
            let _ = write!(out, " Read after {minutes} min.");
        }
        (None, Some(0)) => out.push_str(" The wait is over: read the sink."),
        (None, Some(minutes)) => {
            let _ = write!(out, " <span data-waits=\"yes\">Read the sink in {minutes} min.</span>");
        }
        (None, None) => {}
    }
    out.push_str("</p>");
    if early {
        let _ = write!(
            out,
            "<p class=\"said wrong\">That was before {WAIT_MIN} minutes were over, so the test tells nothing. Load it again.</p>{}",
            button(
                "plainb",
                "begun",
                &what,
                "again",
                "The load is on again",
                "the wait begins anew; clear the sink"
            )
        );
    }
    out
}
