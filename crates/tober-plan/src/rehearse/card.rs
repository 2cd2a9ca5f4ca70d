//! Each step as a card to learn from.

use crate::riders::{RidersOff, riders_off};
use std::collections::BTreeSet;
use tober_book::{Lift, PassRule, Phase, Reading, Ride, Role, Step, Visit};
use tober_calc::orders::StepSet;
use tober_procedure::{Mark, Now, Run, Way, Wrong, ready, runs, way_back, what_if};
use tober_quantity::{Quantity, Rounding, Shown, UnitSet, WordSet, in_units_of, in_words_of, print_range};

/// How many later steps are tried without a step, for what would go wrong.
const TRIED_OF: usize = 8;
/// How many of them are told of.
const TOLD_MOST: usize = 3;

/// Fixings that a step moves, numbered as in its picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pins {
    /// Their number on the card.
    pub number: usize,
    /// How many.
    pub count: usize,
    /// The fixing.
    pub fixing: String,
    /// Where they are taken from.
    pub from: String,
    /// Where they go.
    pub to: String,
}

/// What happens when a step is done before its time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stood {
    /// The step.
    pub step: String,
    /// What must be done before.
    pub waits_for: Vec<String>,
    /// What is then wrong; empty where the book's figures show nothing.
    pub wrong: Vec<Wrong>,
}

/// One step.
#[derive(Clone, Debug)]
pub struct Card {
    /// Its place in the printed order, from 1.
    pub number: usize,
    /// The step's name in the book.
    pub step: String,
    /// Its title, or its name.
    pub title: String,
    /// Its phase.
    pub phase: Phase,
    /// What to do, in the maker's words.
    pub instruction: Option<String>,
    /// How many people.
    pub people: Option<usize>,
    /// Who must be among them.
    pub skills: Vec<Role>,
    /// Tools.
    pub tools: Vec<String>,
    /// The fixings it moves.
    pub pins: Vec<Pins>,
    /// What it moves, as sentences without an end.
    pub moves: Vec<String>,
    /// Where nobody may stand.
    pub keep_clear: Option<String>,
    /// How far about its middle that is, as printed.
    pub keep_clear_radius: Option<String>,
    /// Where its people work.
    pub works_in: Vec<String>,
    /// The wind in which it may be done, as printed.
    pub wind: Option<String>,
    /// How a heavy part is lifted in it.
    pub lift: Option<String>,
    /// What is read when it is done.
    pub reading: Option<String>,
    /// What the chief looks at before anything goes on.
    pub hold_point: Option<String>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// As a rule it takes so many minutes.
    pub minutes: Option<f64>,
    /// What else may be done at this stage, in the order of the book.
    pub instead: Vec<String>,
    /// What goes wrong if a later step is done now, before this one.
    pub too_early: Vec<Stood>,
    /// The way back from here: how many steps, and which of them are not easy, with why.
    pub back: Option<(String, Vec<String>)>,
}

/// A rehearsal of a whole visit.
#[derive(Clone, Debug)]
pub struct Rehearsal {
    /// The ride.
    pub ride: String,
    /// The visit.
    pub visit: String,
    /// The sentence that says that the data are invented.
    pub invented: Option<String>,
    /// The steps of one visit in the order of the book; then those for a stopped ride.
    pub cards: Vec<Card>,
    /// How riders get off.
    pub riders: Option<RidersOff>,
    /// What is looked at: item, when, who may sign, when it is good.
    pub checks: Vec<(String, String, Vec<Role>, String)>,
}

/// The run that a rehearsal goes through: the longest there is.
fn longest<'a>(ride: &'a Ride, absent: &BTreeSet<&'a str>) -> Option<Run<'a>> {
    let mut all = runs(ride, absent).ok()?;
    all.sort_by_key(|run| usize::from(run.way == Way::Night));
    all.pop()
}

/// The rehearsal of a visit. `None` where the book has no steps, or they wait for each other in a circle.
pub fn rehearsal(ride: &Ride, visit: &Visit, units: UnitSet) -> Option<Rehearsal> {
    made(ride, visit, units, true)
}

/// The same without what rests on the stage at each step (what else may be done, what goes wrong too early, the way back),
/// which [`Rehearsal::told_at`] tells of one step, and without how riders get off: a small part of the work.
pub fn outline(ride: &Ride, visit: &Visit, units: UnitSet) -> Option<Rehearsal> {
    made(ride, visit, units, false)
}

/// What rests on the stage at a step.
fn tell(card: &mut Card, run: &Run<'_>, order: &[usize], done: &StepSet, step: usize) {
    let title = |step: usize| title(run.step(step)).to_owned();
    card.instead = ready(run, done).into_iter().filter(|&other| other != step).map(title).collect();
    card.too_early = too_early(run, order, done, step);
    let mut after = done.clone();
    after.insert(step);
    card.back = back(run, &after);
}

fn made(ride: &Ride, visit: &Visit, units: UnitSet, in_full: bool) -> Option<Rehearsal> {
    let absent: BTreeSet<&str> = visit.about.without.iter().map(String::as_str).collect();
    let run = longest(ride, &absent).filter(|run| !run.steps.is_empty())?;
    let order = run.order.an_order(&StepSet::all(run.steps.len()));
    let words = crate::assemble::words(ride, visit);
    let mut done = StepSet::none(run.steps.len());
    let mut cards = Vec::new();
    for &step in &order {
        let mut card = card(ride, run.step(step), cards.len() + 1, (units, words));
        if in_full {
            tell(&mut card, &run, &order, &done, step);
        }
        done.insert(step);
        cards.push(card);
    }
    let stopped = ride.steps.iter().filter(|step| step.phase == Phase::Stopped);
    for step in stopped.filter(|step| !step.only_with.iter().any(|body| absent.contains(body.as_str()))) {
        cards.push(card(ride, step, cards.len() + 1, (units, words)));
    }
    let good = |pass: Option<&PassRule>| match pass {
        Some(PassRule::Seen(rule)) => rule.text.clone().unwrap_or_default(),
        Some(PassRule::Between(rule)) => {
            print_range(rule.low.map(|low| low.0), rule.high.map(|high| high.0), units)
        }
        None => String::new(),
    };
    let checks = ride.checks.iter().map(|check| {
        let signed = check.signed_by.clone();
        (check.item.clone(), check.interval.word().to_owned(), signed, good(check.pass.as_ref()))
    });
    Some(Rehearsal {
        ride: ride.about.name.clone(),
        visit: visit.about.name.clone(),
        invented: ride.about.invented.clone(),
        cards,
        riders: if in_full { riders_off(ride, visit) } else { None },
        checks: checks.collect(),
    })
}

fn title(step: &Step) -> &str {
    &step.title
}

pub(crate) fn reading_words(reading: &Reading, units: UnitSet) -> String {
    let range = print_range(reading.low.map(|low| low.0), reading.high.map(|high| high.0), units);
    let each = if reading.at_each_support == Some(true) { ", at each leg" } else { "" };
    if range.is_empty() {
        format!("{}{each}", reading.what)
    } else {
        format!("{}{each}: {range}", reading.what)
    }
}

fn card(ride: &Ride, step: &Step, number: usize, (units, words): (UnitSet, WordSet)) -> Card {
    let pins = step.pins.iter().enumerate().map(|(at, pins)| Pins {
        number: at + 1,
        count: pins.count,
        fixing: pins.fixing.clone(),
        from: pins.from.clone(),
        to: pins.to.clone(),
    });
    let told = |sentence: &String| in_words_of(&in_units_of(sentence, units), words).into_owned();
    let wind = step.wind_limit.as_ref().map(|limit| {
        let speed = limit.speed.amount().print(units, Rounding::Capacity);
        format!("at most {speed}, averaged over {:.0}\u{202f}s", limit.averaged_over.as_s())
    });
    let lift = ride.lifts_of(step).first().map(|done| match done.lift {
        Lift::Winch(winch) => {
            let held = done.ends_held_by().map_or(String::new(), |by| format!("; then held by {by}"));
            format!("\"{}\" on the winch{held}", winch.body)
        }
        Lift::Hand(hand) => {
            let mass = hand.mass.high().amount().print(units, Rounding::Demand);
            let people = hand.people.map_or(String::new(), |people| format!(", {people} people together"));
            format!("by hand, {mass}{people}")
        }
    });
    Card {
        number,
        step: step.name.clone(),
        title: title(step).to_owned(),
        phase: step.phase,
        instruction: step.instruction.as_ref().map(told),
        people: step.people,
        skills: step.skills.clone(),
        tools: step.tools.clone(),
        pins: pins.collect(),
        moves: step
            .moves
            .iter()
            .map(|moved| format!("{}: {} to {}", moved.body, moved.from, moved.to))
            .collect(),
        keep_clear: step.keep_clear.as_ref().map(told),
        keep_clear_radius: step
            .keep_clear_radius
            .map(|radius| radius.amount().shown(Shown::Coarse).print(units, Rounding::Demand)),
        works_in: step.works_in.clone(),
        wind,
        lift,
        reading: step.reading.as_ref().map(|reading| told(&reading_words(reading, units))),
        hold_point: step.hold_point.as_ref().map(told),
        cautions: step.cautions.iter().map(told).collect(),
        minutes: step.duration.as_ref().map(|duration| duration.usual.as_min()),
        instead: Vec::new(),
        too_early: Vec::new(),
        back: None,
    }
}

/// What goes wrong without a step: later ones that need it, with everything else done that they wait for and that does not
/// wait for this step; those for which something goes wrong first.
fn too_early(run: &Run<'_>, order: &[usize], done: &StepSet, step: usize) -> Vec<Stood> {
    let place = order.iter().position(|&other| other == step).unwrap_or(0);
    let later = order.iter().skip(place + 1).filter(|&&other| run.order.before(other).contains(step));
    let tried = later.take(TRIED_OF).filter_map(|&other| {
        let mut stage = done.union(run.order.before(other));
        run.order.later(step).iter().for_each(|waits| stage.remove(waits));
        stage.insert(step);
        let with = stood(run, &stage, other).map(|stood| stood.wrong).unwrap_or_default();
        stage.remove(step);
        let mut without = stood(run, &stage, other)?;
        // What is wrong with the step done as well is the fault of others that are left out with it.
        if without.wrong.iter().any(|wrong| !with.contains(wrong)) {
            without.wrong.retain(|wrong| !with.contains(wrong));
        }
        Some(without)
    });
    let mut all: Vec<Stood> = tried.collect();
    all.sort_by_key(|stood| stood.wrong.is_empty());
    all.truncate(TOLD_MOST);
    all
}

fn stood(run: &Run<'_>, done: &StepSet, step: usize) -> Option<Stood> {
    let Now::NotYet { waits_for, wrong } = what_if(run, done, step) else { return None };
    let waits_for = waits_for.into_iter().map(|first| title(run.step(first)).to_owned()).collect();
    Some(Stood { step: title(run.step(step)).to_owned(), waits_for, wrong })
}

/// How many steps the way back has, and what is not easy on it.
fn back(run: &Run<'_>, done: &StepSet) -> Option<(String, Vec<String>)> {
    let way = way_back(run, done)?;
    let steps = match way.undo.len() {
        0 => return None,
        1 => "1 step".to_owned(),
        many => format!("{many} steps"),
    };
    let not_easy = way.undo.iter().filter_map(|undone| {
        let mark = undone.marks.iter().find_map(|mark| match mark {
            Mark::NotUndone(why) => Some(format!("cannot be taken back: {why}")),
            Mark::LiftsByWinch(body) => Some(format!("\"{body}\" is let down by the winch")),
            Mark::HoldPoint(_) => None,
        })?;
        Some(format!("{}: {mark}", title(run.step(undone.step))))
    });
    Some((steps, not_easy.collect()))
}

impl Rehearsal {
    /// The card that a name, a title or a number means.
    pub fn find(&self, what: &str) -> Option<usize> {
        let wanted = what.trim().to_lowercase();
        if let Ok(number) = wanted.parse::<usize>() {
            return self.cards.iter().position(|card| card.number == number);
        }
        let same = |card: &Card| card.step.to_lowercase() == wanted || card.title.to_lowercase() == wanted;
        let near = |card: &Card| card.title.to_lowercase().contains(&wanted);
        let exact = self.cards.iter().position(same);
        exact.or_else(|| if wanted.is_empty() { None } else { self.cards.iter().position(near) })
    }

    /// How a step stands after others, all by their places among the cards: whether it may be done, and if not, why not.
    pub fn what_if(
        &self,
        ride: &Ride,
        visit: &Visit,
        done: &BTreeSet<usize>,
        card: usize,
    ) -> Option<Option<Stood>> {
        let absent: BTreeSet<&str> = visit.about.without.iter().map(String::as_str).collect();
        let run = longest(ride, &absent)?;
        let number = |card: usize| run.steps.iter().position(|step| step.name == self.cards[card].step);
        let done = StepSet::from(run.steps.len(), done.iter().filter_map(|&card| number(card)));
        let step = number(card)?;
        match what_if(&run, &done, step) {
            Now::NotYet { .. } => Some(stood(&run, &done, step)),
            Now::Ready | Now::Done => Some(None),
            Now::NoStage => None,
        }
    }

    /// A card as it is at a stage, after others that are done: what else may be done, what goes wrong too early, and the
    /// way back. `None` where there is no such card.
    pub fn told_at(&self, ride: &Ride, visit: &Visit, done: &BTreeSet<usize>, card: usize) -> Option<Card> {
        let absent: BTreeSet<&str> = visit.about.without.iter().map(String::as_str).collect();
        let run = longest(ride, &absent)?;
        let number = |card: &Card| run.steps.iter().position(|step| step.name == card.step);
        let stage = StepSet::from(
            run.steps.len(),
            done.iter().filter_map(|&card| self.cards.get(card).and_then(number)),
        );
        let mut told = self.cards.get(card)?.clone();
        // A step for a ride that has stopped has no stage.
        if let Some(step) = number(&told) {
            let order = run.order.an_order(&StepSet::all(run.steps.len()));
            tell(&mut told, &run, &order, &stage, step);
        }
        Some(told)
    }

    /// Stretches of the printed order whose steps may be done in any order among themselves: the places of the first and
    /// the last card of each. A stretch does not go past the end of a phase.
    pub fn in_any_order(&self, ride: &Ride, visit: &Visit) -> Vec<(usize, usize)> {
        let absent: BTreeSet<&str> = visit.about.without.iter().map(String::as_str).collect();
        let Some(run) = longest(ride, &absent) else { return Vec::new() };
        let step = |card: &Card| run.steps.iter().position(|step| step.name == card.step);
        let mut done = StepSet::none(run.steps.len());
        let mut stretches = Vec::new();
        let mut first = 0;
        while first < self.cards.len() {
            let free = ready(&run, &done);
            let goes_on = |card: &&Card| {
                card.phase == self.cards[first].phase && step(card).is_some_and(|step| free.contains(&step))
            };
            let many = self.cards[first..].iter().take_while(goes_on).count().max(1);
            if many > 1 {
                stretches.push((first, first + many - 1));
            }
            for card in &self.cards[first..first + many] {
                if let Some(step) = step(card) {
                    done.insert(step);
                }
            }
            first += many;
        }
        stretches
    }

    /// The cards that may be done after others, and the way back from there, first step first.
    pub fn open(&self, ride: &Ride, visit: &Visit, done: &BTreeSet<usize>) -> (Vec<usize>, Vec<String>) {
        let absent: BTreeSet<&str> = visit.about.without.iter().map(String::as_str).collect();
        let Some(run) = longest(ride, &absent) else { return (Vec::new(), Vec::new()) };
        let number = |card: usize| run.steps.iter().position(|step| step.name == self.cards[card].step);
        let stage = StepSet::from(run.steps.len(), done.iter().filter_map(|&card| number(card)));
        let card = |step: usize| self.cards.iter().position(|card| card.step == run.step(step).name);
        let free = ready(&run, &stage).into_iter().filter_map(card).collect();
        let undone = way_back(&run, &stage).map(|way| way.undo).unwrap_or_default();
        let words = |mark: &Mark| match mark {
            Mark::NotUndone(why) => format!("cannot be taken back: {why}"),
            Mark::LiftsByWinch(body) => format!("\"{body}\" is let down by the winch"),
            Mark::HoldPoint(_) => "the chief looks again".to_owned(),
        };
        let told = |undone: &tober_procedure::Undone| {
            let marks: Vec<String> = undone.marks.iter().map(words).collect();
            let marks = if marks.is_empty() { String::new() } else { format!(" ({})", marks.join("; ")) };
            format!("{}{marks}", title(run.step(undone.step)))
        };
        (free, undone.iter().map(told).collect())
    }
}
