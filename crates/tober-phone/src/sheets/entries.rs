//! Sheet "Entries": everything that was entered, oldest never lost; handing it over, and taking it in.

use super::{Parts, Worked, head, slot};
use crate::html::escape;
use std::fmt::Write;

pub(super) fn sheet(w: &Worked, parts: &Parts) -> String {
    let mut out = head(w.words(), "entries", parts);
    out.push_str(
        "<p>These are proposals until the van's own device takes them over: a phone by itself signs nothing.</p>\
         <h3>Hand over</h3><div class=\"needs-script\">\
         <button type=\"button\" class=\"plainb\" data-hand=\"file\">Save as a file</button>\
         <button type=\"button\" class=\"plainb\" data-hand=\"share\">Share the file</button>\
         <button type=\"button\" class=\"plainb\" data-hand=\"codes\">Show as codes<span>another phone's camera reads them</span></button>\
         <div id=\"codes\"></div>\
         <h3>Take in</h3><label class=\"plainb filer\">Take in a file<input type=\"file\" id=\"take-file\" accept=\".tober,.jsonl,.txt,text/plain\"></label>\
         <label class=\"plainb filer\">Take in a photo of a code<input type=\"file\" id=\"take-photo\" accept=\"image/*\"></label>\
         <label for=\"take-text\">Or paste what a camera read</label><textarea id=\"take-text\" rows=\"3\"></textarea>\
         <button type=\"button\" class=\"plainb\" data-hand=\"paste\">Take in what is pasted</button>\
         <p id=\"taken\" role=\"status\"></p></div>",
    );
    out.push_str(&slot(parts, "entries"));
    out.push_str("</section>");
    out
}

pub(super) fn parts(w: &Worked, parts: &mut Parts) {
    parts.insert(
        "entries aside".to_owned(),
        format!("<p class=\"headr\">{}<span>kept</span></p>", w.lines.len()),
    );
    if w.lines.is_empty() {
        parts.insert("entries".to_owned(), "<p>No entries yet. Read the pitch: sheet 1.</p>".to_owned());
        return;
    }
    let mut out = String::from("<h3>Newest first</h3><ol class=\"log\">");
    for (line, stands) in &w.lines {
        let _ = write!(out, "<li{}>{}</li>", if *stands { "" } else { " class=\"older\"" }, escape(line));
    }
    out.push_str("</ol>");
    parts.insert("entries".to_owned(), out);
}
