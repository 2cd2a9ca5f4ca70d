//! What a sheet is made of, before anybody knows how it looks.

use crate::say;
use serde_json::{Value, json};
use tober_calc::finding::Standing;
use tober_calc::working::PrintedLine;
use tober_draw::Mark;

/// From how many letters on something may be parted by the end of a page: it would not be sure to fit on one.
const LONG_LETTERS: usize = 900;

/// The same for a cell: of words that long a narrow column holds one a line, and 32 lines are half a page.
const LONG_CELL_LETTERS: usize = 350;

/// The longest run of letters of a cell that is not parted: what the narrowest column of text holds in its largest type.
const CELL_WORD: usize = 11;

/// One cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Cell {
    Plain(String),
    Bold(String),
    /// A figure that must be read from afar.
    Big(String),
    /// A state: its mark, its word, and more.
    Marked(Mark, String),
    /// A load over a bar of which the whole is the limit: the shares of it that are there at least and at most.
    Bar {
        text: String,
        least: f64,
        most: f64,
        standing: Standing,
    },
    /// A line to write on, by its number.
    Blank(String),
    /// A box to tick, by its number.
    Tick(String),
}

impl Cell {
    pub(crate) fn plain(text: impl Into<String>) -> Self {
        Self::Plain(text.into())
    }
    pub(crate) fn bold(text: impl Into<String>) -> Self {
        Self::Bold(text.into())
    }
    pub(crate) fn state(standing: Standing, text: impl Into<String>) -> Self {
        Self::Marked(Mark::of(standing), text.into())
    }

    /// Whether it may be so high that no page would be sure to hold it whole.
    fn long(&self) -> bool {
        match self {
            Self::Plain(text) | Self::Bold(text) | Self::Big(text) | Self::Marked(_, text) => {
                text.chars().count() > LONG_CELL_LETTERS
            }
            Self::Bar { .. } | Self::Blank(_) | Self::Tick(_) => false,
        }
    }

    /// As the template reads it: `long` where the row may be parted by the end of a page, which is so for all of its
    /// cells or for none.
    fn json(&self, long: bool) -> Value {
        let narrow = |text: &String| say::parted(text, CELL_WORD);
        match self {
            Self::Plain(text) => json!({"is": "plain", "text": narrow(text), "long": long}),
            Self::Bold(text) => json!({"is": "bold", "text": narrow(text), "long": long}),
            Self::Big(text) => json!({"is": "big", "text": narrow(text), "long": long}),
            Self::Marked(mark, text) => {
                json!({"is": "marked", "mark": mark.name(), "word": state_word(*mark), "text": narrow(text), "long": long})
            }
            Self::Bar { text, least, most, standing } => {
                json!({"is": "bar", "text": text, "least": least, "most": most, "mark": Mark::of(*standing).name(), "long": long})
            }
            Self::Blank(number) => json!({"is": "blank", "number": number, "long": long}),
            Self::Tick(number) => json!({"is": "tick", "number": number, "long": long}),
        }
    }
}

/// The word of a mark where it stands for a finding.
fn state_word(mark: Mark) -> &'static str {
    if mark == Mark::Done { Standing::Inside.word() } else { mark.word() }
}

/// A table; its head stands again on every page.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Table {
    pub caption: String,
    pub head: Vec<String>,
    /// "auto", "2fr" or "18mm".
    pub widths: Vec<&'static str>,
    pub rows: Vec<Vec<Cell>>,
    /// Points.
    pub size: f64,
    /// Millimetres above and below a row.
    pub tight: f64,
}

impl Table {
    pub(crate) fn new<const N: usize>(caption: &str, columns: [(&str, &'static str); N]) -> Self {
        Self {
            caption: caption.to_owned(),
            head: columns.iter().map(|(head, _)| (*head).to_owned()).collect(),
            widths: columns.iter().map(|(_, width)| *width).collect(),
            rows: Vec::new(),
            size: 10.5,
            tight: 1.1,
        }
    }
    /// A head over the rows that follow.
    pub(crate) fn group(&mut self, text: impl Into<String>) {
        self.rows.push(vec![Cell::Bold(text.into())]);
    }
    /// How many letters it has, about: a row is at least as high as a line that is half full.
    fn letters(&self) -> usize {
        const ROW: usize = 45;
        let text = |cell: &Cell| match cell {
            Cell::Plain(text) | Cell::Bold(text) | Cell::Big(text) | Cell::Marked(_, text) => {
                text.chars().count()
            }
            Cell::Bar { .. } | Cell::Blank(_) | Cell::Tick(_) => 0,
        };
        self.rows.iter().map(|row| row.iter().map(text).sum::<usize>().max(ROW)).sum()
    }
    pub(crate) fn row<const N: usize>(&mut self, cells: [Cell; N]) {
        debug_assert_eq!(N, self.head.len(), "a row has a cell for every column");
        self.rows.push(cells.into());
    }
}

/// A part of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Block {
    Heading(String),
    /// What follows stands on a new page.
    Break,
    Text(String),
    Strong(String),
    /// What is to be done, in the maker's words.
    Call(String),
    /// Small print: each with the word that it begins with.
    Small(Vec<(String, String)>),
    /// Sentences numbered in balloons, as in the picture beside them.
    Balloons(Vec<String>),
    List(Vec<String>),
    Cautions(Vec<String>),
    /// How the whole stands.
    Standing(Standing, String),
    Verdict(Verdict),
    Lines(Vec<PrintedLine>),
    Table(Table),
    Picture(Picture),
    Beside {
        left: Vec<Block>,
        right: Vec<Block>,
        share: f64,
    },
    Card(Card),
    /// What is ticked, and who did so when: its numbers.
    Signed {
        text: String,
        heavy: bool,
        tick: String,
        by: String,
        at: String,
    },
    /// A line of text with a blank behind it.
    Blank {
        text: String,
        number: String,
    },
}

/// One finding, or several that say the same.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Verdict {
    pub standing: Standing,
    pub title: String,
    pub figure: String,
    pub sentences: Vec<String>,
    /// Whether nobody may pass it.
    pub barred: bool,
    /// Whether it stands close to its neighbours: one line among several.
    pub tight: bool,
}

/// A drawing.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Picture {
    pub svg: String,
    pub alt: String,
    /// Millimetres.
    pub width: Option<f64>,
    /// Millimetres.
    pub height: Option<f64>,
}

/// A card that stands on one page.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Card {
    pub number: String,
    /// Of how many it is one: then its number stands in a split balloon.
    pub of: Option<usize>,
    pub title: String,
    pub aside: String,
    pub blocks: Vec<Block>,
    /// Whether it is in the bookmarks.
    pub listed: bool,
    /// The level of its heading: one below what it stands under, as PDF/UA asks.
    pub level: u8,
}

/// The pictures of a pack, as files beside the template.
#[derive(Default)]
pub(crate) struct Pictures(pub Vec<String>);

impl Pictures {
    /// Puts a picture by and says its name; one that is there already is not put by twice.
    pub(crate) fn put(&mut self, svg: &str) -> String {
        let at = self.0.iter().position(|there| there == svg).unwrap_or_else(|| {
            self.0.push(svg.to_owned());
            self.0.len() - 1
        });
        format!("picture-{at}.svg")
    }
}

impl Block {
    /// How many letters it has, about.
    fn letters(&self) -> usize {
        match self {
            Self::Heading(text)
            | Self::Text(text)
            | Self::Strong(text)
            | Self::Call(text)
            | Self::Signed { text, .. }
            | Self::Blank { text, .. } => text.chars().count(),
            Self::List(items) | Self::Cautions(items) | Self::Balloons(items) => {
                items.iter().map(|item| item.chars().count()).sum()
            }
            Self::Small(items) => items.iter().map(|(_, text)| text.chars().count()).sum(),
            Self::Table(table) => table.letters(),
            Self::Lines(lines) => lines.len() * 80,
            Self::Card(card) => card.blocks.iter().map(Self::letters).sum(),
            Self::Beside { left, right, .. } => {
                let of = |blocks: &[Self]| blocks.iter().map(Self::letters).sum::<usize>();
                of(left).max(of(right))
            }
            Self::Verdict(verdict) => verdict.letters(),
            Self::Standing(..) | Self::Picture(_) | Self::Break => 0,
        }
    }

    pub(crate) fn json(&self, pictures: &mut Pictures) -> Value {
        let of = |blocks: &[Self], pictures: &mut Pictures| -> Vec<Value> {
            blocks.iter().map(|block| block.json(pictures)).collect()
        };
        match self {
            Self::Heading(text) => json!({"is": "heading", "level": 2, "text": text}),
            Self::Break => json!({"is": "break"}),
            Self::Text(text) => json!({"is": "text", "text": text}),
            Self::Strong(text) => json!({"is": "strong", "text": text}),
            Self::Call(text) => json!({"is": "call", "text": text}),
            Self::Small(items) => json!({"is": "small", "items": items}),
            Self::Balloons(items) => json!({"is": "balloons", "items": items}),
            Self::List(items) => json!({"is": "list", "items": items}),
            Self::Cautions(items) => json!({"is": "cautions", "items": items}),
            Self::Standing(standing, text) => json!({
                "is": "standing", "mark": Mark::of(*standing).name(), "word": standing.word(), "text": text
            }),
            Self::Verdict(verdict) => json!({
                "is": "verdict",
                "mark": Mark::of(verdict.standing).name(),
                "word": verdict.standing.word(),
                "title": verdict.title,
                "figure": verdict.figure,
                "sentences": verdict.sentences,
                "barred": verdict.barred,
                "tight": verdict.tight,
                "long": verdict.letters() > LONG_LETTERS
            }),
            Self::Lines(lines) => {
                let line = |line: &PrintedLine| {
                    json!({
                        "symbols": line.symbols, "numbers": line.numbers, "result": line.result,
                        "meaning": line.meaning, "from": line.from
                    })
                };
                json!({"is": "lines", "lines": lines.iter().map(line).collect::<Vec<_>>()})
            }
            Self::Table(table) => json!({
                "is": "table",
                "caption": table.caption,
                "head": table.head,
                "widths": table.widths,
                "size": table.size,
                "tight": table.tight,
                "rows": table.rows.iter().map(|row| {
                    let long = row.iter().any(Cell::long);
                    row.iter().map(|cell| cell.json(long)).collect::<Vec<_>>()
                }).collect::<Vec<_>>()
            }),
            Self::Picture(picture) => json!({
                "is": "picture",
                "file": pictures.put(&picture.svg),
                "alt": picture.alt,
                "width": picture.width,
                "height": picture.height
            }),
            Self::Beside { left, right, share } => {
                json!({"is": "beside", "left": of(left, pictures), "right": of(right, pictures), "share": share})
            }
            Self::Card(card) => json!({
                "is": "card",
                "number": card.number,
                "of": card.of.map(|of| of.to_string()),
                "title": card.title,
                "aside": card.aside,
                "listed": card.listed,
                "level": card.level,
                "long": self.letters() > LONG_LETTERS,
                "blocks": of(&card.blocks, pictures)
            }),
            Self::Signed { text, heavy, tick, by, at } => {
                json!({"is": "signed", "text": text, "heavy": heavy, "tick": tick, "by": by, "at": at})
            }
            Self::Blank { text, number } => json!({"is": "blank", "text": text, "number": number}),
        }
    }
}

impl Verdict {
    fn letters(&self) -> usize {
        let sentences: usize = self.sentences.iter().map(|sentence| sentence.chars().count()).sum();
        self.title.chars().count() + sentences
    }
}
