//! Handing entries over, and taking them in: as a file, or as codes on a screen.

use crate::core::{Texts, kept_of, of_wrong, open, refused};
use serde_json::{Value, json};
use std::fmt::Write;
use tober_log::{Entry, qr, text};

/// The longest text that is taken in: the longest file of entries.
const TEXT_MAX: usize = text::FILE_BYTES_MAX;

/// The name of the visit that the entries are of.
fn visit_of(question: &Value) -> Result<String, String> {
    open(&Texts::of(question)).map(|opened| opened.name()).map_err(|wrong| of_wrong(&wrong))
}

/// Everything that is kept, as a file or as codes.
pub(crate) fn over(question: &Value) -> String {
    let visit = match visit_of(question) {
        Ok(visit) => visit,
        Err(answer) => return answer,
    };
    let kept = kept_of(question);
    if question["as"].as_str() == Some("file") {
        return json!({ "text": text::write(&visit, kept.log()) }).to_string();
    }
    let codes = match qr::codes(&visit, kept.log().entries()) {
        Ok(codes) => codes,
        Err(why) => return refused(&why.to_string()),
    };
    let of = codes.len();
    let mut html = format!(
        "<p>{of} code{}. Point the other phone's camera at each, copy what it reads, and paste it there on this sheet. Any order will do.</p>",
        if of == 1 { "" } else { "s" }
    );
    for (place, code) in codes.iter().enumerate() {
        match qr::svg(code, &format!("Code {} of {of}", place + 1)) {
            Ok(svg) => {
                let _ =
                    write!(html, "<figure class=\"codes\">{svg}</figure><p>Code {} of {of}</p>", place + 1);
            }
            Err(why) => return refused(&why.to_string()),
        }
    }
    json!({ "html": html }).to_string()
}

/// The entries of a text that are not kept yet, and what was found in words. Nothing that is kept is changed by it.
pub(crate) fn take_in(question: &Value) -> String {
    let visit = match visit_of(question) {
        Ok(visit) => visit,
        Err(answer) => return answer,
    };
    let given = question["text"].as_str().unwrap_or_default();
    if given.len() > TEXT_MAX {
        return refused(&format!("That is {} bytes long. At most {TEXT_MAX} are read.", given.len()));
    }
    if given.trim().is_empty() {
        return refused("There is nothing to take in. Paste what a camera read, or choose a file.");
    }
    let (of, entries, mut said) = read(given);
    if let Some(of) = of.filter(|of| *of != visit) {
        return refused(&format!(
            "These entries are of \"{of}\", and this page is of \"{visit}\". Open the page of that visit. Nothing was taken in."
        ));
    }
    let kept = kept_of(question);
    let there: Vec<_> = kept.log().entries().iter().map(Entry::hash).collect();
    let found = entries.len();
    let new: Vec<String> =
        entries.iter().filter(|entry| !there.contains(&entry.hash())).map(text::entry_line).collect();
    let sum = match (found, new.len()) {
        (0, _) => "No entry was found in it. Nothing was changed.".to_owned(),
        (_, 0) => format!("All {found} entries were here already."),
        (_, new) => {
            format!("{new} of {found} entries are new and were taken in. What was here stands as it stood.")
        }
    };
    said.insert(0, sum);
    json!({ "entries": new, "said": said.join(" ") }).to_string()
}

/// The visit, the entries, and what is wrong, of a file or of pasted codes.
fn read(given: &str) -> (Option<String>, Vec<Entry>, Vec<String>) {
    if given.contains("TOBER") && !given.trim_start().starts_with('{') {
        let collected = qr::collect(given);
        return (collected.visit, collected.entries, collected.sentences);
    }
    let read = text::read(given.as_bytes());
    let said = read.damage.iter().map(ToString::to_string).collect();
    (read.header.map(|header| header.visit), read.entries, said)
}

/// The text of the codes in a grey picture: two hexadecimal digits a pixel, row after row, 00 black.
pub(crate) fn read_photo(question: &Value) -> String {
    let side = |key: &str| question[key].as_u64().and_then(|side| usize::try_from(side).ok()).unwrap_or(0);
    let digits = question["grey"].as_str().unwrap_or_default().as_bytes();
    let digit = |letter: u8| (letter as char).to_digit(16).and_then(|digit| u8::try_from(digit).ok());
    let grey: Option<Vec<u8>> =
        digits.chunks(2).map(|pair| Some(digit(pair[0])? << 4 | digit(*pair.get(1)?)?)).collect();
    let Some(grey) = grey else { return refused("The picture is not whole. Take it again.") };
    match qr::texts_in(side("width"), side("height"), &grey) {
        Ok(texts) if texts.is_empty() => refused(
            "No code could be read in it. Hold the phone straight over the code, near enough that it fills the picture, and take it again.",
        ),
        Ok(texts) => json!({ "text": texts.join("\n") }).to_string(),
        Err(why) => refused(&why.to_string()),
    }
}
