//! How a unit is spelled: `kN/m²`, `kN/m2`, `kN m`, `′`, `deg`.

use crate::parse::Cursor;
use crate::{Kind, QuantityError, Refusal, Unit};

/// The longest name of a unit, in bytes, with room to spare.
const LONGEST: usize = 24;

/// Whether a percentage stands at a place.
pub(crate) enum Spelling {
    /// It does, up to this byte.
    Percent {
        /// The byte behind it.
        end: usize,
    },
    /// It does not.
    Other,
}

/// Whether the next unit is per cent.
pub(crate) fn percent(cursor: &Cursor<'_>) -> Spelling {
    let mut ahead = Cursor { text: cursor.text, at: cursor.at };
    ahead.skip_spaces();
    let start = ahead.at;
    let end = scan(&ahead);
    let mut name = Name::default();
    if name.write(cursor.slice(start, end)) && Unit::PERCENT.is_named(name.as_str()) {
        return Spelling::Percent { end };
    }
    Spelling::Other
}

/// The unit that stands next, if one does. The place is left behind it.
pub(crate) fn unit(cursor: &mut Cursor<'_>, wanted: Kind) -> Result<Option<&'static Unit>, QuantityError> {
    let back = cursor.at;
    cursor.skip_spaces();
    let start = cursor.at;
    let end = scan(cursor);
    if end == start {
        cursor.at = back;
        return Ok(None);
    }
    let text = cursor.slice(start, end);
    cursor.at = end;
    match lookup(text, wanted) {
        Some((unit, true)) => return Ok(Some(unit)),
        Some((unit, false)) => {
            let is = unit.kinds.first().copied().unwrap_or(Kind::Ratio);
            return Err(cursor.refuse(start, end, Refusal::WrongKind { unit: text.to_owned(), is, wanted }));
        }
        None => {}
    }
    let first_word = text.split(char::is_whitespace).next().unwrap_or(text);
    let word_end = start + first_word.len();
    let kind = if matches!(first_word.to_ascii_lowercase().as_str(), "ton" | "tons") {
        let kind = Refusal::SeveralMeanings { unit: first_word.to_owned() };
        return Err(cursor.refuse(start, word_end, kind));
    } else if first_word.len() < text.len() && lookup(first_word, wanted).is_some_and(|(_, fits)| fits) {
        let text = cursor.text[word_end..].trim().to_owned();
        let text_start = cursor.text.len() - cursor.text[word_end..].trim_start().len();
        return Err(cursor.refuse(text_start, text_start + text.len(), Refusal::Trailing { text }));
    } else {
        Refusal::UnknownUnit { unit: text.to_owned(), nearest: nearest(text, wanted), wanted }
    };
    Err(cursor.refuse(start, end, kind))
}

/// The byte behind the unit that stands here.
///
/// A digit belongs to it as an exponent: 2, 3 or 4 behind a letter, with no further digit, letter or
/// point behind it, so that `5ft3in` is left as feet and inches.
fn scan(cursor: &Cursor<'_>) -> usize {
    let rest = cursor.rest();
    if let Some(mark) = rest.chars().next().filter(|c| matches!(c, '\'' | '′' | '’' | '"' | '″' | '”'))
    {
        return cursor.at + mark.len_utf8();
    }
    let mut end = 0;
    let mut before = ' ';
    let mut chars = rest.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let next = chars.peek().map_or(' ', |(_, next)| *next);
        let belongs = match c {
            '/' | '°' | '%' | '·' | '^' | '²' | '³' | '⁴' => true,
            '2'..='4' => {
                let ends = !(next.is_alphanumeric() || matches!(next, '.' | ','));
                (before.is_alphabetic() || before == '^') && ends
            }
            _ => c.is_alphabetic(),
        };
        if belongs {
            end = at + c.len_utf8();
        } else if end == 0 || !joins(c, next) {
            break;
        }
        before = c;
    }
    cursor.at + end
}

/// Whether a space joins two words of a unit, as in `kN m`.
fn joins(c: char, next: char) -> bool {
    c.is_whitespace() && (next.is_alphabetic() || next == '°' || next.is_whitespace())
}

/// The unit of that name, and whether it is one of the kind that is wanted.
fn lookup(text: &str, wanted: Kind) -> Option<(&'static Unit, bool)> {
    let mut name = Name::default();
    if !name.write(text) || name.len == 0 {
        return None;
    }
    let name = name.as_str();
    if let Some(unit) = wanted.units().find(|unit| unit.is_named(name)) {
        return Some((unit, true));
    }
    Unit::ALL.iter().find(|unit| unit.is_named(name)).map(|unit| (unit, false))
}

/// A name in the spelling of the table: superscripts as digits, one space between words.
#[derive(Default)]
struct Name {
    bytes: [u8; LONGEST],
    len: usize,
}

impl Name {
    /// False where it is longer than any name.
    fn write(&mut self, text: &str) -> bool {
        let mut space = false;
        for c in text.chars() {
            let plain = match c {
                '²' => '2',
                '³' => '3',
                '⁴' => '4',
                '\'' | '′' | '’' => return self.push_all("ft"),
                '"' | '″' | '”' => return self.push_all("in"),
                '^' => continue,
                '·' => ' ',
                c if c.is_whitespace() => ' ',
                c => c,
            };
            if plain == ' ' {
                space = self.len > 0;
                continue;
            }
            let mut buffer = [0; 4];
            if (space && !self.push_all(" ")) || !self.push_all(plain.encode_utf8(&mut buffer)) {
                return false;
            }
            space = false;
        }
        true
    }
    fn push_all(&mut self, text: &str) -> bool {
        let end = self.len + text.len();
        let Some(place) = self.bytes.get_mut(self.len..end) else { return false };
        place.copy_from_slice(text.as_bytes());
        self.len = end;
        true
    }
    fn as_str(&self) -> &str {
        // Whole characters were written, so this is always text.
        core::str::from_utf8(&self.bytes[..self.len]).unwrap_or("")
    }
}

/// The nearest name of the kind that is wanted: the same but for capitals, else within one change of a
/// letter (two for long names). Else a name of another kind that is the same but for capitals.
fn nearest(text: &str, wanted: Kind) -> Option<&'static str> {
    let of_kind =
        || wanted.units().flat_map(|unit| unit.names.iter().copied()).filter(|name| !name.is_empty());
    let same = |name: &&str| name.eq_ignore_ascii_case(text);
    let close = |name: &&str| changes(text, name) <= if name.chars().count() > 4 { 2 } else { 1 };
    let anywhere = || Unit::ALL.iter().flat_map(|unit| unit.names.iter().copied()).find(same);
    of_kind().find(same).or_else(|| of_kind().find(close)).or_else(anywhere)
}

/// The least number of letters put in, taken out or changed that turns one word into the other.
fn changes(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let change = diagonal + usize::from(x != *y);
            diagonal = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}
