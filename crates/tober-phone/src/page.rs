//! The one file: pages, style, script and core together.

use crate::core::{Opened, Texts, open, worked};
use crate::html::escape;
use crate::kept::Kept;
use crate::module::{core_for_a_page, packed};
use crate::sheets;
use serde_json::{Value, json};
use std::fmt::Write;
use tober_draw::STYLE;

/// The parts of the script, in one function of the page: each uses what those before it declare.
const SCRIPT: &str = concat!(
    "\"use strict\";\n(() => {\n",
    include_str!("script/page.js"),
    include_str!("script/unpack.js"),
    include_str!("script/core.js"),
    include_str!("script/store.js"),
    include_str!("script/show.js"),
    include_str!("script/enter.js"),
    include_str!("script/hand.js"),
    include_str!("script/lesson.js"),
    include_str!("script/sheet.js"),
    include_str!("script/visit.js"),
    include_str!("script/begin.js"),
    "})();\n",
);
const PAGE_STYLE: &str = include_str!("phone.css");

/// The most bytes of a file: it opens from a phone's storage, and goes by any way that a photograph goes.
pub const FILE_BYTES_MAX: usize = 1_500_000;

/// What a file is made for.
#[derive(Clone, Debug, Default)]
pub struct Book {
    /// The visits in it, in the order in which they are offered.
    pub visits: Vec<Texts>,
    /// The ride, kit and crew with which a new pitch is begun on the phone: pitch and visit are empty.
    pub begin: Option<Texts>,
    /// Whether the file of one visit opens at its rehearsal.
    pub at_rehearsal: bool,
}

/// A visit as one file that opens from a phone's storage.
///
/// The plan of the visit as it stands is in the page, and can be read without script; with it, what is typed is
/// worked out by the core in the page. Nothing is fetched from anywhere.
///
/// # Errors
/// A sentence for each thing that is wrong with the files.
pub fn page(texts: &Texts) -> Result<String, Vec<String>> {
    book(&Book { visits: vec![texts.clone()], ..Book::default() })
}

/// Several visits as one file, or a ride alone with which pitches are begun on the phone.
///
/// With several visits the plan of each is in the page in short; what is on its sheets is worked out when it is opened.
///
/// # Errors
/// A sentence for each thing that is wrong with the files, or that the file would be larger than
/// [`FILE_BYTES_MAX`].
pub fn book(book: &Book) -> Result<String, Vec<String>> {
    let mut opened = Vec::new();
    let mut wrong = Vec::new();
    for texts in &book.visits {
        match open(texts) {
            Ok(books) => opened.push(books),
            Err(found) => wrong.extend(found.iter().map(ToString::to_string)),
        }
    }
    let begin = match &book.begin {
        None => Value::Null,
        Some(texts) => match crate::core::begun(texts, "Trial", "metric") {
            Ok(_) => texts_of(texts, ""),
            Err(sentences) => {
                wrong.extend(sentences);
                Value::Null
            }
        },
    };
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let main = match opened.as_slice() {
        [one] if book.begin.is_none() => whole(one, book.at_rehearsal)?,
        several => pitches(several, book.begin.as_ref())?,
    };
    let title = title(book, &opened);
    let visits: Vec<Value> =
        book.visits.iter().zip(&opened).map(|(texts, books)| texts_of(texts, &books.key())).collect();
    let mut once = Vec::new();
    let visits: Vec<Value> = visits.into_iter().map(|visit| by_place(visit, &mut once)).collect();
    let begin = by_place(begin, &mut once);
    let (files_size, files) = packed(&json!({ "texts": once, "visits": visits, "begin": begin }).to_string());
    let (size, core) = core_for_a_page();
    let file = format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline' 'wasm-unsafe-eval'; img-src blob: data:; form-action 'none'; base-uri 'none'\">\
         <title>{title}</title><style>{STYLE}{PAGE_STYLE}</style><style id=\"foot\">@page {{ @bottom-left {{ content: \"{foot}\"; font: 9pt sans-serif; }} }}</style></head><body>\
         <a class=\"skip\" href=\"#main\">To the sheet</a>\
         <header class=\"bar0\"><h1 class=\"ride\">{title}</h1><p class=\"link\" id=\"kept\" role=\"status\">Reading only: entries need script</p></header>\
         <div id=\"stopped\" role=\"alert\"></div>\
         <main id=\"main\" tabindex=\"-1\">{main}</main><p id=\"live\" class=\"unseen\" role=\"status\"></p>\
         <script type=\"application/octet-stream\" id=\"files\" data-size=\"{files_size}\">{files}</script>\
         <script type=\"application/octet-stream\" id=\"core\" data-size=\"{size}\">{core}</script>\
         <script>{SCRIPT}</script></body></html>\n",
        title = escape(&title),
        foot = in_style(&title),
    );
    if file.len() > FILE_BYTES_MAX {
        return Err(vec![format!(
            "The file would have {} bytes; a phone is sent at most {FILE_BYTES_MAX}. Leave visits out, or write a file for each.",
            file.len()
        )]);
    }
    Ok(file)
}

/// A text as the inside of a string of a style sheet: every letter by its number, so that none ends anything.
fn in_style(text: &str) -> String {
    text.chars().map(|letter| format!("\\{:x} ", u32::from(letter))).collect()
}

fn title(book: &Book, opened: &[Opened]) -> String {
    match opened {
        [one] if book.begin.is_none() => one.title(),
        [] => {
            let ride = book.begin.as_ref().and_then(|texts| crate::core::ride_name(&texts.ride));
            ride.unwrap_or_else(|| "Ground work".to_owned())
        }
        several => {
            let mut rides: Vec<&str> = Vec::new();
            for opened in several {
                let name = opened.ride_name();
                if !rides.contains(&name) {
                    rides.push(name);
                }
            }
            format!("{}: {} visits", rides.join(" and "), several.len())
        }
    }
}

fn texts_of(texts: &Texts, key: &str) -> Value {
    json!({
        "key": key, "ride": texts.ride, "kit": texts.kit, "pitch": texts.pitch, "visit": texts.visit,
        "crew": texts.crew, "rows": texts.rows,
    })
}

/// The same with each text by its place in a list of them, so that the ride of several visits stands there once.
fn by_place(mut texts: Value, once: &mut Vec<Value>) -> Value {
    for (key, text) in texts.as_object_mut().into_iter().flatten() {
        if key == "key" || !text.is_string() {
            continue;
        }
        let place = once.iter().position(|other| other == text).unwrap_or_else(|| {
            once.push(text.clone());
            once.len() - 1
        });
        *text = json!(place);
    }
    texts
}

/// All sheets of one visit, with the working of every figure: what is read without script.
fn whole(opened: &Opened, at_rehearsal: bool) -> Result<String, Vec<String>> {
    let mut w = worked(opened, &Kept::of([]), None);
    w.with_working = true;
    let parts = sheets::parts(&w).map_err(|error| vec![error.to_string()])?;
    Ok(format!("<div id=\"visit\">{}</div>", sheets::all(&w, &parts, at_rehearsal)))
}

/// The sheet on which a visit is chosen or begun, with each plan in short.
fn pitches(several: &[Opened], begin: Option<&Texts>) -> Result<String, Vec<String>> {
    let mut out = String::from(
        "<section class=\"sheet\" id=\"pitches\" aria-labelledby=\"h-pitches\"><div class=\"head\"><h2 id=\"h-pitches\" tabindex=\"-1\">Pitches</h2></div>",
    );
    for (place, opened) in several.iter().enumerate() {
        let w = worked(opened, &Kept::of([]), None);
        let _ = write!(
            out,
            "<h3>{}</h3>{}<button type=\"button\" class=\"plainb\" data-open=\"{place}\">Open {}</button>",
            escape(&opened.title()),
            sheets::in_short(&w),
            escape(&w.plan.pitch)
        );
    }
    out.push_str("<div id=\"begun\"></div>");
    if begin.is_some() {
        out.push_str(
            "<form autocomplete=\"off\" id=\"begin\" class=\"needs-script\"><h3>Begin a pitch</h3><label for=\"begin-name\">What this ground is called</label>\
             <input type=\"text\" id=\"begin-name\" maxlength=\"60\" class=\"words\"><fieldset class=\"pick\"><legend>Units and words</legend>\
             <label class=\"rad\"><input type=\"radio\" name=\"begin units\" value=\"gb\"><span>mm, t, mph</span><span class=\"sub\">British words</span></label>\
             <label class=\"rad\"><input type=\"radio\" name=\"begin units\" value=\"metric\"><span>mm, t, m/s</span><span class=\"sub\">British words</span></label>\
             <label class=\"rad\"><input type=\"radio\" name=\"begin units\" value=\"us\"><span>inches, lb, mph</span><span class=\"sub\">American words</span></label></fieldset>\
             <button type=\"button\" class=\"go\" data-begin=\"yes\">Begin<span>every field is blank until it is read</span></button><p id=\"begin-said\" class=\"said wrong\" role=\"alert\"></p></form>",
        );
    }
    out.push_str("</section><div id=\"visit\"></div>");
    Ok(out)
}
