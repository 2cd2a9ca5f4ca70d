//! A change in the crew's words.

use crate::model::{Held, LegPlan};
use std::collections::BTreeMap;
use tober_calc::packing::trim::Missing;
use tober_quantity::{Length, Quantity, Rounding, Shown, UnitSet, Word, WordSet};

/// In which units and words it is said.
#[derive(Clone, Copy, Debug)]
pub(super) struct Said {
    pub units: UnitSet,
    pub words: WordSet,
}

const MINUS: char = '\u{2212}';

pub(super) fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A small count as a word, a large one as a figure.
fn count_word(count: usize) -> String {
    let words = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    words.get(count).map_or_else(|| count.to_string(), |word| (*word).to_owned())
}

fn and(list: &[String]) -> String {
    match list {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// What happens to the boards of a stack, from the top.
pub(super) struct Moves {
    /// Boards that come off, the top one first.
    pub off: Vec<String>,
    /// Boards that go on, the lowest first.
    pub on: Vec<String>,
    /// How many lie that stay.
    pub stay: usize,
    /// What leaves the stack for good, each with how many and how many of it there were.
    out: BTreeMap<String, (usize, usize)>,
    /// What comes into it, each with how many.
    into: BTreeMap<String, usize>,
    /// Boards that come off and go back on.
    back: Vec<String>,
}

impl Moves {
    pub(super) fn between(from: &LegPlan, to: &LegPlan) -> Self {
        let names = |leg: &LegPlan| leg.layers.iter().map(|layer| layer.board.clone()).collect::<Vec<_>>();
        let (from, to) = (names(from), names(to));
        let stay = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
        let off: Vec<String> = from[stay..].iter().rev().cloned().collect();
        let on = to[stay..].to_vec();
        let count = |list: &[String], name: &String| list.iter().filter(|other| *other == name).count();
        let (mut out, mut into, mut back) = (BTreeMap::new(), BTreeMap::new(), Vec::new());
        for name in &off {
            let gone = count(&off, name).saturating_sub(count(&on, name));
            if gone > 0 {
                out.insert(name.clone(), (gone, count(&from, name)));
            }
            let kept = count(&off, name).min(count(&on, name));
            if kept > count(&back, name) {
                back.push(name.clone());
            }
        }
        for name in &on {
            let new = count(&on, name).saturating_sub(count(&off, name));
            if new > 0 {
                into.insert(name.clone(), new);
            }
        }
        Self { off, on, stay, out, into, back }
    }

    fn nothing(&self) -> bool {
        self.off.is_empty() && self.on.is_empty()
    }

    fn phrases(&self) -> Vec<String> {
        let out: Vec<String> = self
            .out
            .iter()
            .map(|(name, &(gone, there))| match (gone, there) {
                (1, 1) => format!("the {name}"),
                (1, _) => format!("one {name}"),
                _ => format!("{} of {name}", count_word(gone)),
            })
            .collect();
        let into: Vec<String> = self
            .into
            .iter()
            .map(
                |(name, &new)| {
                    if new == 1 { format!("one {name}") } else { format!("{} of {name}", count_word(new)) }
                },
            )
            .collect();
        let mut phrases = Vec::new();
        if !out.is_empty() {
            phrases.push(format!("take out {}", and(&out)));
        }
        if !into.is_empty() {
            phrases.push(format!("put in {}", and(&into)));
        }
        phrases
    }
}

fn hole_of(held: &Held) -> Option<usize> {
    if let Held::Hole { number, .. } = held { Some(*number) } else { None }
}

impl Said {
    pub(super) fn length(self, length: Length) -> String {
        length.amount().print(self.units, Rounding::Nearest)
    }

    fn signed(self, length: Length) -> String {
        let number = length.abs().amount().print_number(self.units, Rounding::Nearest);
        let sign = if length.as_mm() < 0.0 { MINUS.to_string() } else { "+".to_owned() };
        format!("{sign}{number}")
    }

    /// "up 15 mm", "down 12 mm".
    pub(super) fn up(self, up: Length) -> String {
        let way = if up.as_mm() < 0.0 { "down" } else { "up" };
        format!("{way} {}", self.length(up.abs()))
    }

    fn turned(from: &Held, to: &Held) -> Option<Length> {
        match (from, to) {
            (Held::Screw { extension: from, .. }, Held::Screw { extension: to, .. }) if from != to => {
                Some(*to - *from)
            }
            _ => None,
        }
    }

    /// The setting of a screw: a quarter of an inch is coarser than most tolerances it is held against.
    fn setting(self, length: Length) -> String {
        length.amount().shown(Shown::Finest).print(self.units, Rounding::Nearest)
    }

    /// How far a screw is turned: "4.2 mm", or "4.2 mm (3/4 turn)" where its thread is known.
    fn turn(self, turned: Length, held: &Held) -> String {
        let length = self.setting(turned.abs());
        let Held::Screw { thread, .. } = held else { return length };
        crate::turns_told(turned.abs(), *thread)
            .map_or_else(|| length.clone(), |turns| format!("{length} ({turns})"))
    }

    /// "Rear right one hole down, take out the 25."
    pub(super) fn change(self, from: &LegPlan, to: &LegPlan) -> String {
        let mut phrases = Vec::new();
        if let (Some(one), Some(other)) = (hole_of(&from.held), hole_of(&to.held))
            && one != other
        {
            // A higher number is a hole further down the leg's own scale: the leg gets longer.
            let (holes, way) = (one.abs_diff(other), if other > one { "down" } else { "up" });
            let plural = if holes == 1 { "hole" } else { "holes" };
            phrases.push(format!("{} {plural} {way}", count_word(holes)));
        }
        if let Some(turned) = Self::turned(&from.held, &to.held) {
            let way = if turned.as_mm() < 0.0 { "in" } else { "out" };
            phrases.push(format!("screw {} {way}", self.turn(turned, &to.held)));
        }
        let moves = Moves::between(from, to);
        phrases.extend(moves.phrases());
        // With boards alone the name is called out, with a hole or a screw it is what moves.
        let called = if moves.phrases().first() == phrases.first() { ":" } else { "" };
        let mut sentence = format!("{}{called} {}.", capitalised(&from.name), phrases.join(", "));
        if !moves.back.is_empty() {
            let back: Vec<String> = moves.back.iter().map(|name| format!("the {name}")).collect();
            let (come, go) = if back.len() == 1 { ("comes", "goes") } else { ("come", "go") };
            let back = capitalised(&and(&back));
            sentence.push_str(&format!(" {back} {come} off first and {go} back on."));
        }
        sentence
    }

    /// "Hole 3 to 4, +40; board 25 out, −25: up 15 mm."
    pub(super) fn sum(self, from: &LegPlan, to: &LegPlan, up: Length) -> String {
        let mut parts = Vec::new();
        if let (Held::Hole { number: one, pitch, .. }, Held::Hole { number: other, .. }) =
            (&from.held, &to.held)
            && one != other
        {
            let holes = *other as f64 - *one as f64;
            parts.push(format!("hole {one} to {other}, {}", self.signed(*pitch * holes)));
        }
        if let Some(turned) = Self::turned(&from.held, &to.held) {
            let way = if turned.as_mm() < 0.0 { "in" } else { "out" };
            parts.push(format!("screw {way}, {}", self.signed(turned)));
        }
        let moves = Moves::between(from, to);
        let thickness = |leg: &LegPlan, name: &String| {
            leg.layers.iter().find(|layer| &layer.board == name).map_or(Length::ZERO, |layer| layer.thickness)
        };
        let board = |name: &String, count: usize| {
            if count == 1 { format!("board {name}") } else { format!("{count} boards {name}") }
        };
        for (name, &(gone, _)) in &moves.out {
            let down = -(thickness(from, name) * gone as f64);
            parts.push(format!("{} out, {}", board(name, gone), self.signed(down)));
        }
        for (name, &new) in &moves.into {
            let up = thickness(to, name) * new as f64;
            parts.push(format!("{} in, {}", board(name, new), self.signed(up)));
        }
        format!("{}: {}.", capitalised(&parts.join("; ")), self.up(up))
    }

    /// How one leg is changed, step by step, with each caution where its work is.
    pub(super) fn steps(self, from: &LegPlan, to: &LegPlan) -> Vec<String> {
        let moves = Moves::between(from, to);
        let clip = self.words.word(Word::Clip);
        let mut steps = Vec::new();
        let only_screw = moves.nothing() && Self::turned(&from.held, &to.held).is_some();
        if only_screw {
            steps.push("Look first: wheels chocked on both sides.".to_owned());
        } else {
            steps.push(format!(
                "Look first: wheels chocked on both sides. Jack at {} until the foot hangs free. Hands never under the foot.",
                from.name
            ));
        }
        if hole_of(&from.held) != hole_of(&to.held) {
            steps.push(
                "Pin out by hand. A stiff pin is a loaded pin: take the load off before the hammer. Fingers never in a hole."
                    .to_owned(),
            );
        }
        if !moves.off.is_empty() {
            steps.push(format!("Off with a hook or a stick, the top one first: {}.", moves.off.join(", ")));
        }
        if !moves.on.is_empty() {
            let over = if moves.stay == 0 { "on the ground" } else { "on what lies there" };
            steps.push(format!(
                "On with a stick, {over}, from below: {}. Each board across the one below.",
                moves.on.join(", ")
            ));
        }
        match (&from.held, &to.held) {
            (Held::Hole { number: one, .. }, Held::Hole { number: other, .. }) if one != other => {
                steps.push(format!("Leg to hole {other}: pin in, {clip} on."));
            }
            (Held::Screw { .. }, Held::Screw { extension, .. }) => {
                if let Some(turned) = Self::turned(&from.held, &to.held) {
                    let way = if turned.as_mm() < 0.0 { "in" } else { "out" };
                    let stiff = "A stiff screw is a loaded screw: take the load off with the jack.";
                    steps.push(format!(
                        "Turn the screw {} {way}: {} out in all. {stiff}",
                        self.turn(turned, &to.held),
                        self.setting(*extension)
                    ));
                }
            }
            _ => {}
        }
        if hole_of(&to.held).is_some() {
            steps.push(format!(
                "Second pair of hands: pin and {clip}. Then lower, and jack away. Kick the foot: snug?"
            ));
        } else if only_screw {
            steps.push("Kick the foot: snug?".to_owned());
        } else {
            steps.push(
                "Second pair of hands: look at the stack. Then lower, and jack away. Kick the foot: snug?"
                    .to_owned(),
            );
        }
        steps
    }

    /// What must be read yet.
    pub(super) fn missing(self, names: &[&str], missing: &[Missing]) -> String {
        let of = |wanted: fn(&Missing) -> Option<usize>| -> Vec<String> {
            missing.iter().filter_map(wanted).map(|place| names[place].to_owned()).collect()
        };
        let heights = of(|m| if let Missing::Height(place) = *m { Some(place) } else { None });
        let feet = of(|m| if let Missing::Foot(place) = *m { Some(place) } else { None });
        let gaps = of(|m| if let Missing::Gap(place) = *m { Some(place) } else { None });
        let mut sentences = Vec::new();
        if !heights.is_empty() {
            sentences.push(format!("Read the height at {}.", and(&heights)));
        }
        if !feet.is_empty() {
            sentences.push(format!("Kick the foot at {}: snug, or light?", and(&feet)));
        }
        if !gaps.is_empty() {
            sentences.push(format!("Slide a rule under {} and read the gap.", and(&gaps)));
        }
        sentences.join(" ")
    }
}
