//! Real files, spoiled in seeded ways: cut off, brackets lost, lines swapped and repeated, bytes flipped, numbers
//! made huge, negative, empty or none at all.

/// A small generator of its own, so that a failure is found again from its seed (a linear congruence; the
/// multiplier is Knuth's for 64 bits).
pub struct Chance(pub u64);

impl Chance {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 33
    }
    pub fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next()).unwrap_or(0) % n.max(1)
    }
    pub fn pick<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.below(of.len())]
    }
}

/// What a number is replaced with.
const NUMBERS: &[&str] = &[
    "0",
    "-1",
    "-0",
    "1e400",
    "-1e400",
    "nan",
    "inf",
    "",
    "999999999999999999999",
    "1e-300",
    "0.0000001",
    "1,5",
    "1 1/0",
    "½",
    "３",
    "0x10",
    "--5",
    "5.5.5",
    "12345678",
    "1e308",
];
/// What a text is replaced with.
const TEXTS: &[&str] =
    &["", "\"", "ß\u{301}", "\u{202e}", "a\0b", "=1+1", "frame", "open", "every foot", "é"];

/// A cut that falls on a letter's border.
fn border(text: &str, mut at: usize) -> usize {
    at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// One text spoiled in one to three ways.
pub fn spoiled(text: &str, chance: &mut Chance) -> String {
    let mut text = text.to_owned();
    for _ in 0..=chance.below(3) {
        text = match chance.below(11) {
            0 => text[..border(&text, chance.below(text.len() + 1))].to_owned(),
            1 => {
                let at = border(&text, chance.below(text.len() + 1));
                format!(
                    "{}{}{}",
                    &text[..at],
                    chance.pick(&["[", "]", "{", "}", "\"", "=", "\n", "#", ",", "±", "'"]),
                    &text[at..]
                )
            }
            2..=4 => number_replaced(&text, chance.pick(NUMBERS), chance),
            5 => quoted_replaced(&text, chance.pick(TEXTS), chance),
            6 => lines_changed(&text, chance, |lines, a, b| lines.swap(a, b)),
            7 => lines_changed(&text, chance, |lines, a, b| lines.insert(a, lines[b])),
            8 => byte_flipped(&text, chance),
            9 => bracket_left_out(&text, chance),
            _ => lines_changed(&text, chance, |lines, a, _| {
                lines.remove(a);
            }),
        };
    }
    text
}

pub fn number_replaced(text: &str, with: &str, chance: &mut Chance) -> String {
    let starts: Vec<usize> = text
        .char_indices()
        .filter(|(i, c)| {
            c.is_ascii_digit() && !text[..*i].ends_with(|p: char| p.is_ascii_digit() || p == '.')
        })
        .map(|(i, _)| i)
        .collect();
    let Some(&start) = starts.get(chance.below(starts.len())) else { return text.to_owned() };
    let rest = &text[start..];
    let end = start + rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
    format!("{}{with}{}", &text[..start], &text[end..])
}

fn quoted_replaced(text: &str, with: &str, chance: &mut Chance) -> String {
    let quotes: Vec<usize> = text.match_indices('"').map(|(i, _)| i).collect();
    if quotes.len() < 2 {
        return text.to_owned();
    }
    let first = chance.below(quotes.len() - 1);
    format!("{}\"{with}{}", &text[..quotes[first]], &text[quotes[first + 1]..])
}

fn lines_changed(text: &str, chance: &mut Chance, change: impl Fn(&mut Vec<&str>, usize, usize)) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    if lines.is_empty() {
        return String::new();
    }
    let (a, b) = (chance.below(lines.len()), chance.below(lines.len()));
    change(&mut lines, a, b);
    lines.join("\n")
}

/// One bit of one byte turned over; what is no letter any more becomes the sign for that.
fn byte_flipped(text: &str, chance: &mut Chance) -> String {
    let mut bytes = text.as_bytes().to_vec();
    if !bytes.is_empty() {
        let at = chance.below(bytes.len());
        bytes[at] ^= 1 << chance.below(8);
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn bracket_left_out(text: &str, chance: &mut Chance) -> String {
    let at: Vec<usize> = text.match_indices(['[', ']', '{', '}', '"']).map(|(i, _)| i).collect();
    let Some(&one) = at.get(chance.below(at.len())) else { return text.to_owned() };
    format!("{}{}", &text[..one], &text[one + 1..])
}
