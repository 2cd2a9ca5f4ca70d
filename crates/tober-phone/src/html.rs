//! Small pieces of HTML that every sheet is made of.

use tober_calc::finding::Standing;
use tober_draw::Mark;
use tober_quantity::{Length, Mass, Quantity, Rounding, Shown, UnitSet};

/// Text that is safe inside an element or a quoted attribute.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            plain => out.push(plain),
        }
    }
    out
}

/// A text as part of an identity: letters, digits and hyphens.
pub(crate) fn slug(text: &str) -> String {
    text.chars().map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' }).collect()
}

/// The first letter as a capital.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// The shape of a mark alone. It never stands without its word.
pub(crate) fn shape(mark: Mark) -> String {
    format!(
        "<svg class=\"s {}\" viewBox=\"0 0 24 24\" aria-hidden=\"true\">{}</svg>",
        mark.class(),
        mark.shape()
    )
}

/// A mark with words beside it.
pub(crate) fn marked(mark: Mark, words: &str) -> String {
    format!("<span class=\"mark {}\">{}{}</span>", mark.class(), shape(mark), escape(words))
}

/// A standing as its shape and its word.
pub(crate) fn standing(standing: Standing) -> String {
    marked(Mark::of(standing), standing.word())
}

/// A thickness or height with its unit: "75 mm".
pub(crate) fn fine(length: Length, units: UnitSet) -> String {
    length.amount().shown(Shown::Fine).print(units, Rounding::Nearest)
}

/// A mass or load with its unit, rounded to the given side.
pub(crate) fn load(mass: Mass, units: UnitSet, rounding: Rounding) -> String {
    mass.amount().shown(Shown::Load).print(units, rounding)
}

/// A button that makes an entry.
pub(crate) fn button(class: &str, kind: &str, what: &str, value: &str, words: &str, under: &str) -> String {
    let small = if under.is_empty() { String::new() } else { format!("<span>{}</span>", escape(under)) };
    format!(
        "<button type=\"button\" class=\"{class}\" data-do=\"{}\" data-what=\"{}\" data-value=\"{}\">{}{small}</button>",
        escape(kind),
        escape(what),
        escape(value),
        escape(words),
    )
}

/// A sentence that stands where the work is.
pub(crate) fn caution(text: &str) -> String {
    format!("<p class=\"caution\">{}</p>", escape(text))
}
