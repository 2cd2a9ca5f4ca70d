//! Figures and words as they stand on paper.

use std::collections::BTreeSet;
use tober_book::{AnyQuantity, Role, WindLimit};
use tober_calc::finding::Subject;
use tober_plan::{Held, LegPlan};
use tober_quantity::{
    Amount, Band, Length, Limit, Mass, Quantity as _, Rounding, Shown, UnitSet, Word, WordSet, print_range,
};

/// The longest run of letters that is not parted: about what a narrow column holds.
const LONGEST_WORD: usize = 22;
/// Where a long word may be parted.
const MAY_PART: char = '\u{200b}';
/// What stands for a letter that the fonts do not have.
const NO_LETTER: char = '\u{fffd}';

/// The letters that can be printed.
pub(crate) struct Letters(BTreeSet<char>);

impl Letters {
    /// Those that the upright and the bold face have both.
    pub(crate) fn of_fonts() -> Self {
        let fonts = crate::press::fonts();
        let has =
            |letter: char| fonts.iter().take(2).all(|font| font.info().coverage.contains(u32::from(letter)));
        // Everything above the basic plane is outside the fonts.
        Self(('\u{20}'..='\u{ffff}').filter(|letter| has(*letter)).collect())
    }

    /// A text in which every letter can be printed and no word is too long for a column.
    pub(crate) fn printable(&self, text: &str) -> String {
        // A figure is never parted from its share sign.
        let text = text.replace(" %", "\u{202f}%");
        let mut out = String::with_capacity(text.len());
        let mut run = 0;
        for letter in text.chars() {
            let letter = if letter.is_whitespace() && letter != '\u{a0}' && letter != '\u{202f}' {
                ' '
            } else if letter == MAY_PART || self.0.contains(&letter) {
                letter
            } else {
                instead(letter)
            };
            run = if letter == ' ' || letter == MAY_PART { 0 } else { run + 1 };
            if run > LONGEST_WORD {
                out.push(MAY_PART);
                run = 1;
            }
            out.push(letter);
        }
        out
    }

    /// A drawing in which every letter can be printed.
    pub(crate) fn printable_svg(&self, svg: &str) -> String {
        svg.chars()
            .map(
                |letter| {
                    if letter.is_ascii() || self.0.contains(&letter) { letter } else { instead(letter) }
                },
            )
            .collect()
    }
}

/// A text whose words may be parted after so many letters, where they are half as long again.
pub(crate) fn parted(text: &str, letters: usize) -> String {
    let word = |word: &str| {
        let all: Vec<char> = word.chars().collect();
        if all.len() <= letters + letters / 2 {
            return word.to_owned();
        }
        let parts: Vec<String> = all.chunks(letters).map(|part| part.iter().collect()).collect();
        parts.join("\u{200b}")
    };
    text.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

/// The nearest that the fonts have.
fn instead(letter: char) -> char {
    match letter {
        '\u{2011}' => '-',
        '\u{2032}' => '\'',
        '\u{b5}' => '\u{3bc}',
        _ => NO_LETTER,
    }
}

/// A text of at most so many letters.
pub(crate) fn short(text: &str, letters: usize) -> String {
    if text.chars().count() <= letters {
        return text.to_owned();
    }
    let cut: String = text.chars().take(letters.saturating_sub(1)).collect();
    format!("{}…", cut.trim_end())
}

/// A text that begins with a capital.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Of what a finding speaks.
pub(crate) fn subject(subject: &Subject) -> String {
    match subject {
        Subject::Pitch => "Ground".to_owned(),
        other => capital(&other.to_string()),
    }
}

/// A thickness or height.
pub(crate) fn fine(length: Length, units: UnitSet) -> String {
    length.amount().shown(Shown::Fine).print(units, Rounding::Nearest)
}

/// A distance on the ground.
pub(crate) fn coarse(length: Length, units: UnitSet) -> String {
    length.amount().shown(Shown::Coarse).print(units, Rounding::Nearest)
}

/// A load, rounded to the side asked for.
pub(crate) fn load(mass: Mass, units: UnitSet, rounding: Rounding) -> String {
    mass.amount().shown(Shown::Load).print(units, rounding)
}

/// What a leg carries, with what it may.
pub(crate) fn leg_load(leg: &LegPlan, units: UnitSet) -> String {
    let Some((low, high)) = leg.load else { return "not known".to_owned() };
    let limit = leg.rated.map_or(Limit::None, |rated| Limit::AtMost(rated.amount().shown(Shown::Load)));
    let shown = |mass: Mass| mass.amount().shown(Shown::Load);
    Band { low: shown(low), high: shown(high), limit }.print(units)
}

/// How a leg is set: "hole 3", "screw 87.4 mm, 21 7/8 turns".
pub(crate) fn setting(leg: &LegPlan, units: UnitSet) -> String {
    match &leg.held {
        Held::Hole { number, .. } => format!("hole {number}"),
        Held::Screw { extension, .. } => {
            let out = extension.amount().shown(Shown::Finest).print(units, Rounding::Nearest);
            leg.held.turns().map_or_else(|| format!("screw {out}"), |turns| format!("screw {out}, {turns}"))
        }
    }
}

/// The boards of a leg from the ground up.
pub(crate) fn boards(leg: &LegPlan) -> String {
    let names: Vec<&str> = leg.layers.iter().map(|layer| layer.board.as_str()).collect();
    if names.is_empty() { "on the ground".to_owned() } else { names.join(" + ") }
}

/// A wind that may not be passed: "33 mph, gust of 3 s, at 6 m".
pub(crate) fn wind(limit: &WindLimit, units: UnitSet) -> String {
    let (speed, how) = wind_parts(limit, units);
    format!("{speed}, {how}")
}

/// The same in two: the speed, and how it is read.
pub(crate) fn wind_parts(limit: &WindLimit, units: UnitSet) -> (String, String) {
    let speed = limit.speed.amount().print(units, Rounding::Capacity);
    let over = limit.averaged_over;
    let averaged = if over.as_s() <= 3.0 {
        format!("gust of {}", seconds(over.amount(), units))
    } else {
        format!("mean of {}", seconds(over.amount(), units))
    };
    let height = limit.at_height.map_or(String::new(), |height| format!(", at {}", coarse(height, units)));
    (speed, format!("{averaged}{height}"))
}

fn seconds(time: Amount, units: UnitSet) -> String {
    let text = time.shown(Shown::Seconds).print(units, Rounding::Nearest);
    text.replacen(".0", "", 1)
}

/// What a reading must be: "10 s to 14 s".
pub(crate) fn range(low: Option<AnyQuantity>, high: Option<AnyQuantity>, units: UnitSet) -> String {
    print_range(low.map(|AnyQuantity(amount)| amount), high.map(|AnyQuantity(amount)| amount), units)
}

/// A role in the words of one side.
pub(crate) fn role(role: Role, words: WordSet) -> String {
    if role == Role::Chief { words.word(Word::Chief).to_owned() } else { role.word().to_owned() }
}

/// Several roles.
pub(crate) fn roles(all: &[Role], words: WordSet) -> String {
    all.iter().map(|one| role(*one, words)).collect::<Vec<_>>().join(", ")
}
