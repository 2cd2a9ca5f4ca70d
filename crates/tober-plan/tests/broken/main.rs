//! Bad input: real files, spoiled in thousands of seeded ways. Never a panic; always a sentence with its place.

#![expect(clippy::print_stdout, reason = "a test prints what it measured")]

#[path = "../demo/books.rs"]
mod books;

use books::{Texts, planned, plover_hard, quern_meadow};
use tober_book::{Diagnostic, Source, parse_crew, parse_kit, parse_pitch, parse_ride, parse_visit};

/// A small generator of its own, so that a failure is found again from its seed (a linear congruence; the
/// multiplier is Knuth's for 64 bits).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 33
    }
    fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next()).unwrap_or(0) % n.max(1)
    }
    fn pick<'a>(&mut self, of: &[&'a str]) -> &'a str {
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
fn spoiled(text: &str, chance: &mut Chance) -> String {
    let mut text = text.to_owned();
    for _ in 0..=chance.below(3) {
        text = match chance.below(9) {
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
            _ => lines_changed(&text, chance, |lines, a, _| {
                lines.remove(a);
            }),
        };
    }
    text
}

fn number_replaced(text: &str, with: &str, chance: &mut Chance) -> String {
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

/// A diagnostic has its place inside the file and says what is wrong and what would be right.
fn located(diagnostic: &Diagnostic, text: &str) {
    let shown = diagnostic.to_string();
    assert!(diagnostic.line >= 1 && diagnostic.line <= text.lines().count().max(1) + 1, "{shown}");
    assert!(diagnostic.column >= 1, "{shown}");
    assert!(diagnostic.span.start <= diagnostic.span.end && diagnostic.span.end <= text.len(), "{shown}");
    assert!(
        text.is_char_boundary(diagnostic.span.start) && text.is_char_boundary(diagnostic.span.end),
        "{shown}"
    );
    assert!(!diagnostic.message.trim().is_empty() && !diagnostic.help.trim().is_empty(), "{shown}");
}

fn parsed(kind: usize, text: &str) -> Vec<Diagnostic> {
    let source = Source::new("spoiled.toml", text);
    match kind {
        0 => parse_ride(&source).diagnostics,
        1 => parse_kit(&source).diagnostics,
        2 => parse_pitch(&source).diagnostics,
        3 => parse_visit(&source).diagnostics,
        _ => parse_crew(&source).diagnostics,
    }
}

#[test]
fn refuse_spoiled_files_with_their_place_and_never_a_panic() {
    let whole = plover_hard();
    let crew = include_str!("../../../../demo/lantern/crew.toml");
    let files = [&whole.ride, &whole.kit, &quern_meadow().pitch, &whole.visit, crew];
    let (mut refused, mut complaints) = (0, 0);
    for seed in 0..3000_u64 {
        let kind = usize::try_from(seed % 5).unwrap_or(0);
        let text = spoiled(files[kind], &mut Chance(seed));
        let diagnostics = parsed(kind, &text);
        refused += usize::from(!diagnostics.is_empty());
        complaints += diagnostics.len();
        for diagnostic in &diagnostics {
            located(diagnostic, &text);
        }
        let sorted = diagnostics.windows(2).all(|pair| pair[0].span.start <= pair[1].span.start);
        assert!(sorted, "seed {seed}: complaints stand in file order");
    }
    println!("{refused} of 3000 spoiled files refused, with {complaints} complaints");
    assert!(refused > 1000);
}

#[test]
fn refuse_spoiled_visits_or_plan_them_and_never_a_panic() {
    let mut planned_at_all = 0;
    for seed in 0..1500_u64 {
        let mut chance = Chance(seed ^ 0xBEE5);
        let mut texts: Texts = if seed % 2 == 0 { plover_hard() } else { quern_meadow() };
        for _ in 0..=chance.below(2) {
            // Only numbers: a file with a broken bracket is refused before it gets this far.
            let with = chance.pick(&["0", "1", "2", "7", "30", "250", "999", "0.001", "-3", "100000"]);
            let file = [&mut texts.ride, &mut texts.kit, &mut texts.pitch, &mut texts.visit];
            let [ride, kit, pitch, visit] = file;
            let text = match chance.below(8) {
                0..4 => ride,
                4 | 5 => kit,
                6 => pitch,
                _ => visit,
            };
            *text = number_replaced(text, with, &mut chance);
        }
        if let Ok(plan) = planned(&texts) {
            planned_at_all += 1;
            assert!(!plan.findings.is_empty(), "seed {seed}");
            for finding in &plan.findings {
                let sentences = finding.unknown.iter().chain(&finding.advice).chain(&finding.notes);
                for sentence in sentences {
                    assert!(sentence.trim_end().ends_with(['.', '`', '"', ']']), "seed {seed}: {sentence}");
                }
            }
        }
    }
    println!("{planned_at_all} of 1500 spoiled visits could be planned");
    assert!(planned_at_all > 300);
}
