//! Sheet "Last time": what this pitch was like before, and what to write down for the next time.

use super::{Parts, Worked, head, slot};
use crate::fields;
use crate::html::{capital, escape, fine};
use std::fmt::Write;

pub(super) fn sheet(w: &Worked, parts: &Parts) -> String {
    let mut out = head(w.words(), "last", parts);
    out.push_str(&slot(parts, "last visits"));
    let _ = write!(
        out,
        "<h3>For the next time</h3><form autocomplete=\"off\"><label for=\"f-note\">The drain, the gate, the soft corner</label>\
         <textarea id=\"f-note\" name=\"note\" rows=\"4\" maxlength=\"2000\" aria-describedby=\"said-note\"></textarea>{}</form>{}</section>",
        fields::said("note"),
        slot(parts, "this visit")
    );
    out
}

pub(super) fn parts(w: &Worked, parts: &mut Parts) {
    parts.insert("last aside".to_owned(), String::new());
    parts.insert("last visits".to_owned(), before(w));
    parts.insert("this visit".to_owned(), now(w));
}

fn before(w: &Worked) -> String {
    if w.of_file.last_visits.is_empty() {
        return "<p>Nothing is written down of this ground yet. What you enter on this visit is what the next one will see.</p>".to_owned();
    }
    let mut out = String::new();
    for visit in &w.of_file.last_visits {
        let _ = write!(out, "<h3>{}</h3>", escape(&visit.date.to_string()));
        if let Some(ride) = &visit.ride {
            let _ = write!(out, "<p class=\"sub\">{}</p>", escape(ride));
        }
        if !visit.boards.is_empty() {
            out.push_str("<ul>");
            for boards in &visit.boards {
                let _ = write!(out, "<li>{}</li>", escape(&capital(boards)));
            }
            out.push_str("</ul>");
        }
        if let Some(sink) = visit.sink {
            let _ = write!(out, "<p>The feet sank <b>{}</b>.</p>", escape(&fine(sink, w.units())));
        }
        if let Some(note) = &visit.note {
            let _ = write!(out, "<p>{}</p>", escape(note));
        }
    }
    out.push_str("<p class=\"sub\">Last time tells what to look for. It is no reading of today: nothing of it is filled in.</p>");
    out
}

/// What this visit will look like to the next one.
fn now(w: &Worked) -> String {
    if !w.is_taken() {
        return String::new();
    }
    let mut out = String::from("<h3>What this visit leaves</h3><ul>");
    for leg in &w.shown().legs {
        let boards: Vec<&str> = leg.layers.iter().map(|layer| layer.board.as_str()).collect();
        let _ = write!(
            out,
            "<li>{}: {}. {}</li>",
            escape(&capital(&leg.name)),
            escape(&boards.join(", ")),
            escape(&super::stacks::setting(leg, w.units()))
        );
    }
    out.push_str("</ul>");
    out
}
