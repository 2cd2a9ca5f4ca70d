//! The one file: pages, style, script and core together.

use crate::core::{Texts, planned};
use crate::module::CORE;
use crate::sheets::{self, escape};
use std::fmt::Write;
use tober_book::{Source, parse_ride};
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
    let plan = planned(texts).map_err(|wrong| wrong.iter().map(ToString::to_string).collect::<Vec<_>>())?;
    let html = sheets::of_plan(&plan).map_err(|error| vec![error.to_string()])?;
    let files = serde_json::json!({
        "ride": texts.ride, "kit": texts.kit, "pitch": texts.pitch, "visit": texts.visit, "rows": texts.rows,
    });
    // A closing tag inside a script would end it.
    let files = files.to_string().replace('<', "\\u003c");
    let title = escape(&format!("{} on {}", plan.ride, plan.pitch));
    Ok(format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline' 'wasm-unsafe-eval'\">\
         <title>{title}</title><style>{STYLE}{PAGE_STYLE}</style></head><body>\
         <header class=\"board\"><b>{title}</b><span id=\"kept\" role=\"status\">Reading only: this page needs script to work out new readings.</span></header>\
         <main><nav aria-label=\"Sheets\"><ol><li><a href=\"#whole\">Plan</a></li><li><a href=\"#limits\">Loads and limits</a></li>\
         <li><a href=\"#pitch\">This pitch</a></li></ol></nav><p id=\"old\" role=\"status\" hidden></p>\
         <div id=\"plan\">{html}</div>{readings}</main>\
         <script type=\"application/json\" id=\"files\">{files}</script>\
         <script type=\"application/octet-stream\" id=\"core\">{CORE}</script>\
         <script>{SCRIPT}</script></body></html>\n",
        readings = readings(texts),
    ))
}

/// The sheet on which readings are typed: every field blank until somebody has read the thing (rule S3).
fn readings(texts: &Texts) -> String {
    let ride = parse_ride(&Source::new("ride.toml", &texts.ride));
    let legs = ride.value.as_ref().map(|ride| ride.supports_in_order()).unwrap_or_default();
    let mut out = String::from(
        "<section class=\"sheet\" id=\"pitch\"><h2>This pitch</h2>\
         <p>The trailer on its wheels. The level on the frame, then the tape from the frame down to the ground at each leg. \
         Write the unit: 697 mm, 27 1/2 in, 2.1 mm/m.</p><form id=\"readings\" autocomplete=\"off\">",
    );
    let mut field = |name: &str, label: &str, hint: &str| {
        let _ = write!(
            out,
            "<label class=\"field\"><span>{}</span><input type=\"text\" inputmode=\"text\" name=\"{}\" data-keep=\"{}\" placeholder=\"{}\"></label>",
            escape(label),
            escape(name),
            escape(name),
            escape(hint)
        );
    };
    field("slope_along", "Slope along, front high is plus", "mm/m");
    field("slope_across", "Slope across, left high is plus", "mm/m");
    field("slope_deviation", "How good the level is, plus or minus", "mm/m");
    field("tape_deviation", "How good the tape is, plus or minus", "mm");
    for leg in legs {
        field(&format!("leg {}", leg.name), &leg.name, "tape");
    }
    out.push_str(
        "<p class=\"caution\">Chock the wheels before you uncouple. Look up. Look for what lies under every foot.</p>\
         <button class=\"main\" type=\"submit\">Work it out</button>\
         <p id=\"said\" role=\"alert\"></p></form></section>",
    );
    out
}
