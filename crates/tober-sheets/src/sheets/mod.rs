//! The sheets, one by one.

mod calls;
mod cards;
mod count;
mod legs;
mod limits;
mod one_page;
mod people;
mod riders;
mod road;
mod stages;
mod steps;
mod verdicts;
mod working;

use crate::ask::{Ask, SheetKind};
use crate::block::{Block, Cell};
use crate::error::SheetsError;
use core::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use tober_book::{Crew, Kit, Phase, Pitch, Ride, Step, Visit};
use tober_calc::finding::Finding;
use tober_plan::{EveryOrder, LiftOfStep, Plan, rehearse};

/// What a pack is made from.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// What every order of the steps says, where the book has steps.
    pub every: Option<&'a EveryOrder>,
    /// The lifts of the steps.
    pub lifts: &'a [LiftOfStep],
    /// The ride.
    pub ride: &'a Ride,
    /// The kit.
    pub kit: &'a Kit,
    /// The pitch.
    pub pitch: &'a Pitch,
    /// The visit.
    pub visit: &'a Visit,
    /// The crew, where the visit names one.
    pub crew: Option<&'a Crew>,
}

impl<'a> Given<'a> {
    /// The steps that are done on this visit, in the order of the book.
    pub(crate) fn steps(&self) -> Vec<&'a Step> {
        let there: BTreeSet<&str> =
            self.every.into_iter().flat_map(|every| &every.people).map(|(name, _)| name.as_str()).collect();
        self.ride.steps.iter().filter(|step| there.contains(step.name.as_str())).collect()
    }

    /// Those of some phases, each with its number.
    pub(crate) fn steps_of(&self, phases: &[Phase]) -> Vec<(usize, &'a Step)> {
        let all = self.steps().into_iter().filter(|step| phases.contains(&step.phase));
        all.map(|step| (self.number(step), step)).collect()
    }

    /// The number of a step: its place in the book, as it is called everywhere.
    pub(crate) fn number(&self, step: &Step) -> usize {
        self.ride.steps.iter().position(|one| one.name == step.name).map_or(0, |at| at + 1)
    }

    /// Every finding, those on the stages of the work, on getting riders off and on the lifts too.
    pub(crate) fn findings(&self) -> Vec<&'a Finding> {
        let stages = self.every.into_iter().flat_map(|every| &every.findings);
        let riders = self.every.into_iter().filter_map(|every| every.riders_off.as_ref());
        let riders = riders.flat_map(|riders| &riders.findings);
        let lifts = self.lifts.iter().flat_map(|lift| &lift.findings);
        self.plan.findings.iter().chain(stages).chain(riders).chain(lifts).collect()
    }
}

/// A blank of a printed pack, by the number that stands before it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blank {
    /// Its number: that of its sheet, then its own.
    pub number: String,
    /// Of what it is filled: a leg, a step, a check.
    pub about: String,
    /// What is written into it.
    pub what: String,
    /// What it must be, where that is a figure.
    pub must: String,
}

/// A sheet when it is made.
#[derive(Debug, Default)]
pub(crate) struct Made {
    pub blocks: Vec<Block>,
    pub blanks: Vec<Blank>,
}

/// What several sheets of a pack are made from, worked out once, when the first of them is made.
#[derive(Debug, Default)]
pub(crate) struct Shared {
    learnt: OnceCell<BTreeMap<String, rehearse::Card>>,
}

/// A sheet while it is made.
pub(crate) struct Making {
    sheet: usize,
    shared: Rc<Shared>,
    pub blocks: Vec<Block>,
    blanks: Vec<Blank>,
}

impl Making {
    fn new(kind: SheetKind, shared: &Rc<Shared>) -> Self {
        Self { sheet: kind.number(), shared: Rc::clone(shared), blocks: Vec::new(), blanks: Vec::new() }
    }

    /// A new blank: its number.
    pub(crate) fn blank(&mut self, about: &str, what: &str, must: &str) -> String {
        let number = format!("{}.{}", self.sheet, self.blanks.len() + 1);
        self.blanks.push(Blank {
            number: number.clone(),
            about: about.to_owned(),
            what: what.to_owned(),
            must: must.to_owned(),
        });
        number
    }

    /// A cell to write into.
    pub(crate) fn line(&mut self, about: &str, what: &str, must: &str) -> Cell {
        Cell::Blank(self.blank(about, what, must))
    }

    /// A cell to tick.
    pub(crate) fn tick(&mut self, about: &str, what: &str) -> Cell {
        Cell::Tick(self.blank(about, what, ""))
    }

    /// Leaves out the blocks from one on, with their blanks, whose numbers stay taken.
    pub(crate) fn forget(&mut self, from: usize, blanks: usize) {
        self.blocks.truncate(from);
        for blank in self.blanks.iter_mut().skip(blanks) {
            blank.number.clear();
        }
    }

    /// How many blanks there are.
    pub(crate) fn taken(&self) -> usize {
        self.blanks.len()
    }

    pub(crate) fn push(&mut self, block: Block) {
        self.blocks.push(block);
    }

    pub(crate) fn heading(&mut self, text: &str) {
        self.push(Block::Heading(text.to_owned()));
    }
}

/// Makes one sheet. One that has nothing on it has no blocks.
pub(crate) fn make(
    kind: SheetKind,
    given: &Given<'_>,
    ask: &Ask,
    shared: &Rc<Shared>,
) -> Result<Made, SheetsError> {
    let mut made = Making::new(kind, shared);
    match kind {
        SheetKind::OnePage => one_page::sheet(given, &mut made),
        SheetKind::Ground => legs::ground(given, &mut made)?,
        SheetKind::Legs => legs::cards(given, &mut made)?,
        SheetKind::Way => legs::way(given, &mut made),
        SheetKind::Loads => limits::loads(given, &mut made),
        SheetKind::Steps => {
            cards::cards(given, &[Phase::Arrive, Phase::BuildUp, Phase::Prove], &mut made)?;
        }
        SheetKind::Lifts => steps::lifts(given, &mut made),
        SheetKind::Pins => count::pins(given, &mut made),
        SheetKind::Limits => limits::limits(given, &mut made),
        SheetKind::Calls => calls::calls(given, &mut made),
        SheetKind::RidersOff => riders::sheet(given, &mut made)?,
        SheetKind::Night => steps::night(given, &mut made)?,
        SheetKind::PullDown => {
            cards::cards(given, &[Phase::PullDown, Phase::Leave], &mut made)?;
        }
        SheetKind::People => people::people(given, ask, &mut made),
        SheetKind::Road => road::road(given, &mut made),
        SheetKind::Working => working::working(given, &mut made),
        SheetKind::Sources => working::sources(given, &mut made),
    }
    made.blanks.retain(|blank| !blank.number.is_empty());
    Ok(Made { blocks: made.blocks, blanks: made.blanks })
}
