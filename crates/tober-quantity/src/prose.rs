//! Figures inside sentences, which somebody wrote in units of his own.

use crate::{Amount, Rounding, Shown, Unit, UnitSet, Word, WordSet, significant};
use std::borrow::Cow;

/// How many digits a figure in brackets has.
const DIGITS: usize = 3;

/// A sentence with each of its figures in the reader's units too: `below 9 m/s (20.1 mph)`.
///
/// Books are prose, and what is written in them stays as it is written; so do sentences of ours that name a length or a
/// weight. What stands in brackets is the nearest figure of three digits, and what stands before it is what counts. Only a
/// figure with a common space before its unit is looked at: a figure that was printed by [`Amount::print`] has a narrow one
/// and is in the reader's units already. What stands in double quotes is a name, and ends with its line.
pub fn in_units_of(sentence: &str, set: UnitSet) -> Cow<'_, str> {
    let mut out = String::new();
    let (mut told, mut at) = (0, 0);
    let mut quoted = false;
    while let Some(rest) = sentence.get(at..).filter(|rest| !rest.is_empty()) {
        let first = rest.chars().next().unwrap_or(' ');
        quoted = (quoted ^ (first == '"')) && first != '\n';
        let begins =
            first.is_ascii_digit() && !sentence[..at].ends_with(|c: char| c.is_alphanumeric() || c == '.');
        match Measure::at_the_start(rest).filter(|_| begins && !quoted) {
            Some(found) => {
                at += found.length;
                if let Some(said) = found.said(set) {
                    out.push_str(&sentence[told..at]);
                    out.push_str(&said);
                    told = at;
                }
            }
            None => at += first.len_utf8(),
        }
    }
    if told == 0 {
        return Cow::Borrowed(sentence);
    }
    out.push_str(&sentence[told..]);
    Cow::Owned(out)
}

/// A sentence in the trade words of one side, as far as a word cannot be taken for another: those of
/// [`Word::IN_SENTENCES`], in small letters or with a capital.
///
/// Sentences are written in the words of the first column of GLOSSARY.md and of the British one. A word that is also a
/// part of a name in books, as `arm`, or means something else too, as `pitch` between holes, stays. What stands in double
/// quotes is a name.
pub fn in_words_of(sentence: &str, words: WordSet) -> Cow<'_, str> {
    if words == WordSet::Gb {
        return Cow::Borrowed(sentence);
    }
    let changes: Vec<(&str, &str)> =
        Word::IN_SENTENCES.iter().map(|word| (WordSet::Gb.word(*word), words.word(*word))).collect();
    let mut out = String::new();
    let (mut told, mut at, mut quoted) = (0, 0, false);
    while let Some(rest) = sentence.get(at..).filter(|rest| !rest.is_empty()) {
        let first = rest.chars().next().unwrap_or(' ');
        quoted = (quoted ^ (first == '"')) && first != '\n';
        let begins =
            first.is_alphabetic() && !sentence[..at].ends_with(|c: char| c.is_alphanumeric() || c == '-');
        let changed = changes.iter().filter(|_| begins && !quoted).find_map(|(from, to)| {
            let whole = rest.get(..from.len())?;
            let ends = !rest[from.len()..].starts_with(|c: char| c.is_alphanumeric() || c == '-');
            (from != to && ends && whole.eq_ignore_ascii_case(from)).then_some((whole, *from, *to))
        });
        match changed {
            Some((whole, from, to)) => {
                out.push_str(&sentence[told..at]);
                let capital = whole.starts_with(char::is_uppercase) && !from.starts_with(char::is_uppercase);
                let letters = to.chars().enumerate();
                out.extend(letters.map(|(n, c)| if capital && n == 0 { c.to_ascii_uppercase() } else { c }));
                at += whole.len();
                told = at;
            }
            None => at += first.len_utf8(),
        }
    }
    if told == 0 {
        return Cow::Borrowed(sentence);
    }
    out.push_str(&sentence[told..]);
    Cow::Owned(out)
}

/// One or two figures and their unit, at the start of a text.
struct Measure {
    figures: [Option<f64>; 2],
    unit: Unit,
    length: usize,
}

impl Measure {
    fn at_the_start(text: &str) -> Option<Self> {
        let (first, mut rest) = figure(text)?;
        let mut second = None;
        if let Some((value, after)) = rest.strip_prefix(" to ").and_then(figure) {
            (second, rest) = (Some(value), after);
        }
        rest = rest.strip_prefix(' ')?;
        let unit = FOREIGN.iter().find(|unit| {
            rest.strip_prefix(unit.symbol)
                .is_some_and(|after| !after.starts_with(|c: char| c.is_alphanumeric() || "/²³⁴".contains(c)))
        })?;
        let length = text.len() - rest.len() + unit.symbol.len();
        Some(Self { figures: [Some(first), second], unit: *unit, length })
    }

    /// The figures in the reader's units, in brackets; nothing where they are so already.
    fn said(&self, set: UnitSet) -> Option<String> {
        let own = own(self.unit, set)?;
        let told = self.figures.iter().flatten();
        let told: Vec<String> =
            told.map(|value| significant(own.of_si(self.unit.to_si(*value)), DIGITS)).collect();
        Some(format!(" ({} {})", told.join(" to "), own.symbol))
    }
}

/// Units in which sentences are written, the longer symbol before the one that begins it.
const FOREIGN: [Unit; 8] = [
    Unit::MILLIMETRE_PER_METRE,
    Unit::MILLIMETRE,
    Unit::METRE_PER_SECOND,
    Unit::METRE,
    Unit::KILONEWTON_METRE,
    Unit::KILONEWTON,
    Unit::KILOGRAM,
    Unit::TONNE,
];

/// The reader's unit for one of those; nothing where it is that one.
fn own(unit: Unit, set: UnitSet) -> Option<Unit> {
    let us = set == UnitSet::Us;
    Some(match unit.symbol {
        "m/s" if set != UnitSet::Metric => Unit::MILE_PER_HOUR,
        "kN m" => {
            if us {
                Unit::POUND_FORCE_FOOT
            } else {
                Unit::TONNE_FORCE_METRE
            }
        }
        "kN" => {
            if us {
                Unit::POUND_OF_FORCE
            } else {
                Unit::TONNE_FORCE
            }
        }
        "mm/m" if us => Unit::INCH_PER_FOOT,
        "mm" if us => Unit::INCH,
        "m" if us => Unit::FOOT,
        "kg" | "t" if us => Unit::POUND,
        _ => return None,
    })
}

/// A figure at the start of a text, and what follows it.
fn figure(text: &str) -> Option<(f64, &str)> {
    let whole = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let decimals = text[whole..].strip_prefix('.').map_or(0, |after| {
        let digits = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
        if digits == 0 { 0 } else { digits + 1 }
    });
    let (figure, rest) = text.split_at(whole + decimals);
    Some((figure.parse().ok()?, rest))
}

/// Times under this are told in seconds.
const IN_SECONDS_S: f64 = 180.0;
/// Lengths from this on are told in metres, or feet and inches.
const IN_METRES_M: f64 = 3.0;
/// Lengths under this are told as finely as a rule shows.
const SHORT_M: f64 = 0.05;

/// A length as finely as it has to be shown: a short one as a rule shows it, and finer still where it would print as
/// nothing. 5 mm are no whole quarter of an inch, and a limit of 0 in is no limit that anybody could keep.
#[must_use]
pub fn fine_enough(amount: Amount, set: UnitSet, rounding: Rounding) -> Amount {
    if amount.shown != Shown::Fine || amount.si.abs() >= SHORT_M {
        return amount;
    }
    let short = amount.shown(Shown::Short);
    let nothing = amount.si > 0.0 && short.printed(set, rounding).si <= 0.0;
    if nothing { amount.shown(Shown::Finest) } else { short }
}

/// What a reading must be, in words: `10 s to 14 s`, `at least 12.0 m`. Nothing where there is no end.
///
/// Each end is rounded to its strict side, so that a printed range is never wider than the one that was given.
pub fn print_range(low: Option<Amount>, high: Option<Amount>, set: UnitSet) -> String {
    let ends = [low, high].into_iter().flatten();
    let greatest = ends.map(|end| end.si.abs()).fold(0.0, f64::max);
    let print = |end: Amount, rounding| {
        let shown = match end.shown {
            Shown::Minutes if greatest < IN_SECONDS_S => Shown::Seconds,
            Shown::Fine if greatest >= IN_METRES_M => Shown::Coarse,
            shown => shown,
        };
        let text = fine_enough(end.shown(shown), set, rounding).print(set, rounding);
        if shown == Shown::Seconds { text.replacen(".0\u{202f}", "\u{202f}", 1) } else { text }
    };
    let low = low.map(|low| print(low, Rounding::Requirement));
    let high = high.map(|high| print(high, Rounding::Capacity));
    match (low, high) {
        (Some(low), Some(high)) => format!("{low} to {high}"),
        (Some(low), None) => format!("at least {low}"),
        (None, Some(high)) => format!("at most {high}"),
        (None, None) => String::new(),
    }
}
