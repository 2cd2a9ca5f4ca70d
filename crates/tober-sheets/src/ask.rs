//! What is asked of a pack: for whom, which sheets, on what paper.

use core::fmt;
use core::str::FromStr;
use tober_quantity::{Word, WordSet};

/// For whom a pack is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reader {
    /// Runs the crew.
    Chief,
    /// Builds up and pulls down.
    Hand,
    /// Owns the panel, the stop and the signals.
    Operator,
    /// Loads seats and checks restraints.
    Attendant,
    /// Comes from outside to look.
    Inspector,
    /// Goes through the figures.
    Engineer,
}

impl Reader {
    /// Every one of them.
    pub const ALL: [Self; 6] =
        [Self::Chief, Self::Hand, Self::Operator, Self::Attendant, Self::Inspector, Self::Engineer];

    /// The name it is asked for by.
    pub fn name(self) -> &'static str {
        match self {
            Self::Chief => "chief",
            Self::Hand => "hand",
            Self::Operator => "operator",
            Self::Attendant => "attendant",
            Self::Inspector => "inspector",
            Self::Engineer => "engineer",
        }
    }
}

/// The size of the paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}

impl Paper {
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "us-letter",
        }
    }
}

/// A sheet of the pack. Its number is the same whatever else is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetKind {
    /// The one page.
    OnePage,
    /// Ground plan and packing schedule.
    Ground,
    /// A card for each leg.
    Legs,
    /// From the wheels onto the legs.
    Way,
    /// What the legs carry.
    Loads,
    /// The steps up to the opening.
    Steps,
    /// Lifts.
    Lifts,
    /// Pins by place.
    Pins,
    /// Limits and wind.
    Limits,
    /// What is looked at and signed.
    Calls,
    /// Getting riders off.
    RidersOff,
    /// Running, shut, and the morning.
    Night,
    /// Folding it.
    PullDown,
    /// Each person's own list.
    People,
    /// Before the road.
    Road,
    /// How every number was obtained.
    Working,
    /// On what it rests.
    Sources,
}

impl SheetKind {
    /// Every sheet, in the order of the pack.
    pub const ALL: [Self; 17] = [
        Self::OnePage,
        Self::Ground,
        Self::Legs,
        Self::Way,
        Self::Loads,
        Self::Steps,
        Self::Lifts,
        Self::Pins,
        Self::Limits,
        Self::Calls,
        Self::RidersOff,
        Self::Night,
        Self::PullDown,
        Self::People,
        Self::Road,
        Self::Working,
        Self::Sources,
    ];

    /// Its number, from 1.
    pub fn number(self) -> usize {
        Self::ALL.iter().position(|kind| *kind == self).map_or(0, |at| at + 1)
    }

    /// The name it is asked for by.
    pub fn name(self) -> &'static str {
        match self {
            Self::OnePage => "one-page",
            Self::Ground => "ground",
            Self::Legs => "legs",
            Self::Way => "way",
            Self::Loads => "loads",
            Self::Steps => "steps",
            Self::Lifts => "lifts",
            Self::Pins => "pins",
            Self::Limits => "limits",
            Self::Calls => "calls",
            Self::RidersOff => "riders-off",
            Self::Night => "night",
            Self::PullDown => "pull-down",
            Self::People => "people",
            Self::Road => "road",
            Self::Working => "working",
            Self::Sources => "sources",
        }
    }

    /// Its title, in the words of one side.
    pub fn title(self, words: WordSet) -> String {
        match self {
            Self::OnePage => "One page".to_owned(),
            Self::Ground => format!("Ground plan and {}", words.word(Word::Packing)),
            Self::Legs => "Leg by leg".to_owned(),
            Self::Way => "From the wheels onto the legs".to_owned(),
            Self::Loads => "Loads of the legs".to_owned(),
            Self::Steps => format!("{} step by step", words.capitalised(Word::BuildUp)),
            Self::Lifts => "Lifts".to_owned(),
            Self::Pins => "Pins by place".to_owned(),
            Self::Limits => "Limits and wind".to_owned(),
            Self::Calls => "Look and sign".to_owned(),
            Self::RidersOff => "Getting riders off".to_owned(),
            Self::Night => "Open, shut and the morning".to_owned(),
            Self::PullDown => words.capitalised(Word::PullDown),
            Self::People => "Who does what".to_owned(),
            Self::Road => "Before the road".to_owned(),
            Self::Working => "Working".to_owned(),
            Self::Sources => "On what it rests".to_owned(),
        }
    }

    /// What the visit must have for the sheet not to be empty.
    pub(crate) fn wants(self) -> &'static str {
        match self {
            Self::Legs | Self::Ground => "no packing can be given for this visit",
            Self::Way => "no way onto the legs was found",
            Self::Steps | Self::Night | Self::PullDown => "the ride book has no step of these phases",
            Self::Lifts => "no step of the ride book says what is lifted",
            Self::Pins => "the ride book has no `[[fixing]]`",
            Self::Road => "the ride book has neither a `[[fixing]]` nor axles nor a hitch",
            Self::Limits => "neither the ride book nor the visit has `[limits]`",
            Self::Calls => "the ride book has no `[[check]]` and no step with a hold point",
            Self::RidersOff => "the ride book has no `[stopped]`",
            Self::People => "there is no crew, or nobody of it is meant",
            Self::OnePage | Self::Loads | Self::Working | Self::Sources => "the plan has no findings",
        }
    }

    /// The sheet of the phone pages that shows the same.
    pub fn on_the_phone(self) -> Option<&'static str> {
        Some(match self {
            Self::Ground => "pitch",
            Self::Legs | Self::Way => "stacks",
            Self::Loads | Self::Limits | Self::Working | Self::Sources => "limits",
            Self::People => "kit",
            Self::Steps | Self::PullDown | Self::Lifts | Self::Night => "rehearse",
            Self::RidersOff => "riders",
            Self::Calls => "checks",
            Self::OnePage | Self::Pins | Self::Road => return None,
        })
    }

    /// Whether somebody needs it.
    fn is_for(self, reader: Reader) -> bool {
        use Reader::{Attendant, Chief, Engineer, Hand, Inspector, Operator};
        let whose: &[Reader] = match self {
            Self::OnePage => &[Chief, Operator, Inspector, Engineer],
            Self::Ground | Self::Legs => &[Chief, Hand, Inspector, Engineer],
            Self::Way | Self::Steps | Self::PullDown | Self::Road => &[Chief, Hand],
            Self::Loads => &[Chief, Inspector, Engineer],
            Self::Lifts => &[Chief, Hand, Engineer],
            Self::Pins => &[Chief, Hand, Inspector],
            Self::Limits => &[Chief, Operator, Attendant, Inspector, Engineer],
            Self::Calls => &[Chief, Operator, Attendant, Inspector],
            Self::RidersOff => &[Chief, Operator, Attendant],
            Self::Night => &[Chief, Operator, Attendant],
            Self::People => &[Chief, Hand, Operator, Attendant],
            Self::Working | Self::Sources => &[Inspector, Engineer],
        };
        whose.contains(&reader)
    }
}

/// What is asked.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ask {
    /// For whom; for everybody, unless given.
    pub reader: Option<Reader>,
    /// One sheet alone.
    pub only: Option<SheetKind>,
    /// The person whose own list alone is printed among those of the crew, by tag.
    pub person: Option<String>,
    /// On what paper.
    pub paper: Paper,
    /// The address at which the van, or a web server, shows the phone pages: each sheet then carries a code that opens it.
    pub at: Option<String>,
    /// The head of the log: its first eight characters print at the foot.
    pub log: Option<String>,
}

impl Ask {
    /// The sheets that are asked for.
    pub(crate) fn sheets(&self) -> Vec<SheetKind> {
        if let Some(only) = self.only {
            return vec![only];
        }
        let all = SheetKind::ALL.into_iter();
        all.filter(|kind| self.reader.is_none_or(|reader| kind.is_for(reader))).collect()
    }

    /// A short name of what is asked, for the identity of the document.
    pub(crate) fn named(&self) -> String {
        let reader = self.reader.map_or("all", Reader::name);
        let only = self.only.map_or("all", SheetKind::name);
        format!("{reader} {only} {}", self.paper.name())
    }

    /// The title of what is asked.
    pub(crate) fn title(&self, words: WordSet) -> String {
        match (self.only, self.reader) {
            (Some(only), _) => only.title(words),
            (None, Some(reader)) => crate::of_reader(reader, words),
            (None, None) => "the whole pack".to_owned(),
        }
    }
}

/// A name that is not one of a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoSuchName(String);

impl fmt::Display for NoSuchName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl core::error::Error for NoSuchName {}

fn named<T: Copy, const N: usize>(
    text: &str,
    all: [T; N],
    name: fn(T) -> &'static str,
) -> Result<T, NoSuchName> {
    all.into_iter()
        .find(|one| name(*one) == text)
        .ok_or_else(|| NoSuchName(format!("\"{text}\" is none of these: {}.", all.map(name).join(", "))))
}

impl FromStr for Reader {
    type Err = NoSuchName;
    fn from_str(text: &str) -> Result<Self, NoSuchName> {
        named(text, Self::ALL, Self::name)
    }
}

impl FromStr for SheetKind {
    type Err = NoSuchName;
    fn from_str(text: &str) -> Result<Self, NoSuchName> {
        named(text, Self::ALL, Self::name)
    }
}

impl FromStr for Paper {
    type Err = NoSuchName;
    fn from_str(text: &str) -> Result<Self, NoSuchName> {
        let name = |paper| match paper {
            Self::A4 => "a4",
            Self::Letter => "letter",
        };
        named(&text.to_ascii_lowercase(), [Self::A4, Self::Letter], name)
    }
}
