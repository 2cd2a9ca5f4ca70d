//! One checked statement about every order of a run, and how it is refuted.

use crate::cure::Cure;
use crate::run::Way;
use crate::said::Statement;
use crate::track::What;
use tober_book::Span;
use tober_calc::orders::{Precedence, StepSet};

/// What a claim is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// The steps can be put in an order at all.
    Order,
    /// A body leaves the placement it is in, a leg that is set is taken away, a line comes off what it is on.
    Moves,
    /// What a step needs is there when it begins.
    Needs,
    /// Two steps that may be under way at once touch nothing in common.
    Races,
    /// No home ever holds fewer than none or more than it can.
    Counts,
    /// No body is without what holds it.
    Held,
    /// What carries something does not move without it.
    Carried,
    /// What moves is free to move: not fixed, nothing in its way, room where it goes.
    Free,
    /// The winch and its line.
    Winch,
    /// People, moving parts and live power are never in one place.
    Zones,
    /// Every body is where the open ride has it when riders come.
    Open,
    /// Everything is in its place for the road, and every fixing home.
    Home,
    /// There is a way back from every stage.
    WayBack,
}

impl Rule {
    /// Every rule, in the order in which they are printed.
    pub const ALL: [Self; 13] = [
        Self::Order,
        Self::Moves,
        Self::Needs,
        Self::Races,
        Self::Counts,
        Self::Held,
        Self::Carried,
        Self::Free,
        Self::Winch,
        Self::Zones,
        Self::Open,
        Self::Home,
        Self::WayBack,
    ];

    /// What is proved, in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Order => "the steps can be put in an order",
            Self::Moves => "everything moves from where it is",
            Self::Needs => "what a step needs is there when it begins",
            Self::Races => "two steps under way at once touch nothing in common",
            Self::Counts => "every home has what is taken from it, and room for what is put in it",
            Self::Held => "nothing hangs: what is not held by its fixings is on the winch line",
            Self::Carried => "what carries something does not move without it",
            Self::Free => {
                "what moves is not fixed any more, nothing is in its way, and there is room where it goes"
            }
            Self::Winch => {
                "the winch line comes off nothing that it is not on, and the winch stays while it carries"
            }
            Self::Zones => "people, moving parts and live power are never in one place",
            Self::Open => "the ride is open when riders come",
            Self::Home => "everything comes home for the road",
            Self::WayBack => "there is a way back from every stage",
        }
    }
}

/// What a story follows: one thing's state, or how many are in a home.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Matter<'a> {
    /// The state of one thing.
    State(What<'a>),
    /// How many of a fixing are in a home.
    Home(&'a str, &'a str),
}

/// A stage at which a claim does not hold.
pub(crate) struct Offence {
    /// The steps done.
    pub done: StepSet,
    /// The steps begun and not done.
    pub begun: StepSet,
    /// What is wrong there.
    pub says: String,
}

/// What tells whether a claim holds under an order, and if not, where.
pub(crate) type Offends<'a> = Box<dyn Fn(&Precedence) -> Option<Offence> + 'a>;

/// A claim that is to be proved.
pub(crate) struct Asked<'a> {
    /// What it is about.
    pub rule: Rule,
    /// What it says, without prose.
    pub said: Statement,
    /// Of what it is said.
    pub subject: String,
    /// Where the book says so.
    pub span: Span,
    /// What would be right.
    pub help: String,
    /// What its story follows.
    pub matters: Vec<Matter<'a>>,
    /// How it is refuted, or why it is not known.
    pub test: Test<'a>,
}

/// How a claim is decided.
pub(crate) enum Test<'a> {
    /// By a search over every order.
    Every(Offends<'a>),
    /// It is not known, for the reason given.
    NotKnown(String),
}

/// A checked statement about every order.
#[derive(Clone, Debug)]
pub struct Claim {
    /// What it is about.
    pub rule: Rule,
    /// What it says, without prose.
    pub said: Statement,
    /// On which way through the visit.
    pub way: Way,
    /// Of what it is said.
    pub subject: String,
    /// Where the book says so.
    pub span: Span,
    /// Whether it holds.
    pub verdict: Verdict,
}

/// Whether a claim holds.
#[derive(Clone, Debug)]
pub enum Verdict {
    /// In every order that the book admits.
    Proved,
    /// Not in this one.
    Refuted(Box<Refutation>),
    /// The book does not say enough.
    NotKnown(String),
}

/// An order in which a claim does not hold.
#[derive(Clone, Debug)]
pub struct Refutation {
    /// What is wrong there.
    pub says: String,
    /// What would be right.
    pub help: String,
    /// The steps done, in an order that the book admits, with what matters after each.
    pub done: Vec<Told>,
    /// The steps then begun and not done.
    pub begun: Vec<String>,
    /// Whether no order with fewer steps done and begun shows it; else it is short, and that none is shorter is not proved.
    pub shortest: bool,
    /// Further rules that cure it.
    pub cure: Cure,
}

/// One step of a story.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// The step.
    pub step: String,
    /// What it changes of what matters.
    pub changes: Vec<String>,
}
