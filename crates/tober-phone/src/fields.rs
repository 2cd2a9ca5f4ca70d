//! The fields of the page: what each is called, what unit stands behind it, what may be typed.
//!
//! A field begins blank and is filled by somebody who has read the thing (rule S3). Its name is the name under which
//! what is typed is kept.

use crate::html::{escape, slug};
use tober_quantity::UnitSet;

/// What a field measures, which says the unit that the crew speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Speaks {
    /// Heights, tapes, gaps, sink.
    Fine,
    /// A slope.
    Slope,
    /// A load.
    Load,
    /// A count.
    Count,
}

impl Speaks {
    /// The unit that stands behind a bare number, in a set of units.
    pub(crate) fn unit(self, units: UnitSet) -> &'static str {
        match (self, units) {
            (Self::Fine, UnitSet::Us) => "in",
            (Self::Fine, _) => "mm",
            (Self::Slope, UnitSet::Us) => "in/ft",
            (Self::Slope, _) => "mm/m",
            (Self::Load, UnitSet::Us) => "lb",
            (Self::Load, _) => "t",
            (Self::Count, _) => "",
        }
    }

    /// What was typed, with its unit: a bare number has that of its field, and a comma counts as a point.
    pub(crate) fn complete(self, typed: &str, units: UnitSet) -> String {
        let text: String = typed.chars().filter(|letter| !letter.is_control()).collect();
        let text = text.trim().replace(',', ".");
        let bare =
            !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || " ./+-\u{2212}".contains(c));
        let unit = self.unit(units);
        if bare && !unit.is_empty() { format!("{text} {unit}") } else { text }
    }
}

/// A field for a figure.
pub(crate) fn figure(name: &str, label: &str, speaks: Speaks, units: UnitSet) -> String {
    let id = slug(name);
    let unit = speaks.unit(units);
    // Fractions of an inch need a letterless keypad with a slash, which only the full one has.
    let keypad = if units == UnitSet::Us && speaks == Speaks::Fine { "text" } else { "decimal" };
    format!(
        "<input id=\"f-{id}\" name=\"{}\" type=\"text\" inputmode=\"{keypad}\" autocomplete=\"off\" \
         enterkeyhint=\"next\" maxlength=\"60\" aria-label=\"{}{}{unit}\" aria-describedby=\"said-{id}\">",
        escape(name),
        escape(label),
        if unit.is_empty() { "" } else { ", " },
    )
}

/// What is said of a field: an error, or an older entry that stands.
pub(crate) fn said(name: &str) -> String {
    format!("<p class=\"said\" id=\"said-{}\" data-said=\"{}\"></p>", slug(name), escape(name))
}

/// One choice of several.
pub(crate) fn choice(name: &str, legend: &str, options: &[(&str, &str, &str)]) -> String {
    let mut out = format!("<fieldset class=\"pick\"><legend>{}</legend>", escape(legend));
    for (value, words, aside) in options {
        let aside = if aside.is_empty() {
            String::new()
        } else {
            format!("<span class=\"sub\">{}</span>", escape(aside))
        };
        out.push_str(&format!(
            "<label class=\"rad\"><input type=\"radio\" name=\"{}\" value=\"{}\"><span>{}</span>{aside}</label>",
            escape(name),
            escape(value),
            escape(words),
        ));
    }
    out.push_str(&said(name));
    out.push_str("</fieldset>");
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_bare_number_has_the_unit_of_its_field() {
        assert_eq!(Speaks::Fine.complete(" 697 ", UnitSet::Gb), "697 mm");
        assert_eq!(Speaks::Fine.complete("27 1/2", UnitSet::Us), "27 1/2 in");
        assert_eq!(Speaks::Slope.complete("2,5", UnitSet::Metric), "2.5 mm/m");
        assert_eq!(Speaks::Load.complete("4.6", UnitSet::Gb), "4.6 t");
        // A unit that was typed is never written over.
        assert_eq!(Speaks::Fine.complete("27 1/2 in", UnitSet::Gb), "27 1/2 in");
        assert_eq!(Speaks::Fine.complete("", UnitSet::Gb), "");
        assert_eq!(Speaks::Count.complete("6", UnitSet::Gb), "6");
    }
}
