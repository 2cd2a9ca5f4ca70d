//! The one file: pages, style, script and core together.

use crate::core::{Texts, open, worked};
use crate::html::escape;
use crate::kept::Kept;
use crate::module::CORE;
use crate::sheets;
use tober_draw::STYLE;

const SCRIPT: &str = include_str!("phone.js");
const PAGE_STYLE: &str = include_str!("phone.css");

/// A visit as one file that opens from a phone's storage.
///
/// The plan of the visit as it stands is in the page, and can be read without script; with it, what is typed is
/// worked out by the core in the page. Nothing is fetched from anywhere.
///
/// # Errors
/// A sentence for each thing that is wrong with the files.
pub fn page(texts: &Texts) -> Result<String, Vec<String>> {
    let opened = open(texts).map_err(|wrong| wrong.iter().map(ToString::to_string).collect::<Vec<_>>())?;
    let mut w = worked(&opened, &Kept::of([]), None);
    w.with_working = true;
    let parts = sheets::parts(&w).map_err(|error| vec![error.to_string()])?;
    let main = sheets::all(&w, &parts);
    let files = serde_json::json!({
        "ride": texts.ride, "kit": texts.kit, "pitch": texts.pitch, "visit": texts.visit,
        "crew": texts.crew, "rows": texts.rows,
    });
    // A closing tag inside a script would end it.
    let files = files.to_string().replace('<', "\\u003c");
    let title = escape(&format!("{} on {}", w.plan.ride, w.plan.pitch));
    Ok(format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline' 'wasm-unsafe-eval'; img-src blob: data:; form-action 'none'; base-uri 'none'\">\
         <title>{title}</title><style>{STYLE}{PAGE_STYLE}</style></head><body>\
         <a class=\"skip\" href=\"#main\">To the sheet</a>\
         <header class=\"bar0\"><h1 class=\"ride\">{title}</h1><p class=\"link\" id=\"kept\" role=\"status\">Reading only: entries need script</p></header>\
         <div id=\"stopped\" role=\"alert\"></div>\
         <main id=\"main\" tabindex=\"-1\">{main}</main><p id=\"live\" class=\"unseen\" role=\"status\"></p>\
         <script type=\"application/json\" id=\"files\">{files}</script>\
         <script type=\"application/octet-stream\" id=\"core\">{CORE}</script>\
         <script>{SCRIPT}</script></body></html>\n",
    ))
}
