//! Questions on a rehearsal, with answers that could be meant.
//!
//! Fair: exactly one of the choices is right by the book. A wrong one comes from near by (another home of the same pin, another
//! step's ground, a step that waits for others) and is never right as well.

use super::card::{Card, Rehearsal};
use std::collections::BTreeSet;
use tober_book::{Phase, Role};

/// How many choices a question has at most.
const CHOICES: usize = 4;

/// What a question is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// What comes next.
    Next,
    /// Where a pin goes.
    Pin,
    /// How many pins are in.
    Count,
    /// Where not to stand.
    Stand,
    /// What the caution is.
    Caution,
    /// What the chief looks at.
    HoldPoint,
    /// When a check is good.
    Check,
    /// Who gets off next.
    RidersOff,
}

/// A question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// What it is about.
    pub kind: Kind,
    /// The question.
    pub question: String,
    /// What can be answered; exactly one is right.
    pub choices: Vec<String>,
    /// Which one.
    pub right: usize,
    /// Why, in a sentence.
    pub because: String,
    /// What to learn where it was not known.
    pub learn: String,
}

/// Numbers that look like chance and are the same for a seed.
struct Seeded(u64);

impl Seeded {
    fn below(&mut self, most: usize) -> usize {
        // The mixing step of SplitMix64 (Steele, Lea and Flood, 2014), from memory.
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        let z = z ^ (z >> 31);
        usize::try_from(z % most.max(1) as u64).unwrap_or(0)
    }
}

/// Questions for somebody, the same for a seed; as many as there are, and no more than wanted.
pub fn quiz(rehearsal: &Rehearsal, role: Role, wanted: usize, seed: u64) -> Vec<Asked> {
    let mut chance = Seeded(seed);
    let mut by_kind: Vec<Vec<Asked>> = Vec::new();
    let own: Vec<&Card> = rehearsal.cards.iter().filter(|card| concerns(card, role)).collect();
    for ask in [next, pin, count, stand, caution, hold_point] {
        let mut list: Vec<Asked> = own.iter().filter_map(|card| ask(rehearsal, card, &mut chance)).collect();
        if matches!(list.first().map(|asked| asked.kind), Some(Kind::HoldPoint)) && role != Role::Chief {
            list.clear();
        }
        by_kind.push(list);
    }
    by_kind.push(checks(rehearsal, role, &mut chance));
    by_kind.push(riders(rehearsal, role, &mut chance));
    let mut asked: Vec<Asked> = Vec::new();
    // One of each kind in turn, so that no kind crowds the others out.
    while asked.len() < wanted && by_kind.iter().any(|list| !list.is_empty()) {
        for list in &mut by_kind {
            if list.is_empty() || asked.len() >= wanted {
                continue;
            }
            let one = list.remove(chance.below(list.len()));
            if asked.iter().all(|other| other.question != one.question) {
                asked.push(one);
            }
        }
    }
    asked
}

/// Whether a step is somebody's to know: the chief all of it; others what is done by them, or where they work.
fn concerns(card: &Card, role: Role) -> bool {
    let work = matches!(card.phase, Phase::Arrive | Phase::BuildUp | Phase::PullDown | Phase::Leave);
    match role {
        Role::Chief | Role::Trainer | Role::Owner | Role::Inspector => true,
        Role::Hand => work,
        other => card.skills.contains(&other) || !work,
    }
}

/// A question from its right answer and wrong ones that could be meant; none where there is no wrong one.
fn made(
    kind: Kind,
    chance: &mut Seeded,
    question: String,
    right: &str,
    wrong: impl IntoIterator<Item = String>,
    because: String,
    learn: String,
) -> Option<Asked> {
    let mut seen = BTreeSet::from([right.to_owned()]);
    let mut pool: Vec<String> = wrong.into_iter().filter(|one| seen.insert(one.clone())).collect();
    let mut choices = Vec::new();
    while choices.len() + 1 < CHOICES && !pool.is_empty() {
        choices.push(pool.remove(chance.below(pool.len())));
    }
    if choices.is_empty() {
        return None;
    }
    let place = chance.below(choices.len() + 1);
    choices.insert(place, right.to_owned());
    Some(Asked { kind, question, choices, right: place, because, learn })
}

fn learn(card: &Card) -> String {
    format!("step {}, {}", card.number, card.title)
}

fn next(all: &Rehearsal, card: &Card, chance: &mut Seeded) -> Option<Asked> {
    let before = all.cards.iter().rev().find(|other| other.number < card.number)?;
    // What may be done now as well is not wrong, nor is what is done already; what waits for this step is.
    let wrong = all.cards.iter().filter(|other| {
        let near = other.number > card.number && other.number <= card.number + 9;
        near && other.phase != Phase::Stopped && !card.instead.contains(&other.title)
    });
    let wrong: Vec<String> = wrong.map(|other| other.title.clone()).collect();
    if card.phase == Phase::Stopped {
        return None;
    }
    made(
        Kind::Next,
        chance,
        format!("\"{}\" is done. What comes next?", before.title),
        &card.title,
        wrong,
        format!("By the book \"{}\" is next; the others wait for it or for what comes after it.", card.title),
        learn(card),
    )
}

fn pin(all: &Rehearsal, card: &Card, chance: &mut Seeded) -> Option<Asked> {
    if card.pins.is_empty() {
        return None;
    }
    let pins = &card.pins[chance.below(card.pins.len())];
    let here: BTreeSet<&str> =
        card.pins.iter().filter(|other| other.fixing == pins.fixing).map(|other| other.to.as_str()).collect();
    // Other homes of the same pin, then homes of what else this step moves.
    let same = all.cards.iter().flat_map(|other| &other.pins).filter(|other| other.fixing == pins.fixing);
    let near = card.pins.iter().filter(|other| other.fixing != pins.fixing);
    let mut wrong: Vec<String> = same
        .flat_map(|other| [other.from.clone(), other.to.clone()])
        .chain(near.map(|other| other.to.clone()))
        .filter(|home| !here.contains(home.as_str()) && *home != pins.from)
        .collect();
    if wrong.len() + 1 < CHOICES {
        // Homes of other pins, from the steps nearest to this one.
        let mut others: Vec<&Card> = all.cards.iter().filter(|other| other.number != card.number).collect();
        others.sort_by_key(|other| other.number.abs_diff(card.number));
        let homes = others.into_iter().flat_map(|other| &other.pins).map(|other| other.to.clone());
        wrong.extend(homes.filter(|home| !here.contains(home.as_str()) && *home != pins.from).take(CHOICES));
    }
    let question =
        format!("\"{}\": {} × {} from {}. Where to?", card.title, pins.count, pins.fixing, pins.from);
    let only =
        card.pins.iter().filter(|other| other.fixing == pins.fixing && other.from == pins.from).count();
    if only > 1 {
        // Several places are right for pins of one rack: asked by the count instead.
        return None;
    }
    let because = format!("{} of {} go to {}.", pins.count, pins.fixing, pins.to);
    made(Kind::Pin, chance, question, &pins.to, wrong, because, learn(card))
}

fn count(_: &Rehearsal, card: &Card, chance: &mut Seeded) -> Option<Asked> {
    if card.pins.is_empty() {
        return None;
    }
    let first = &card.pins[chance.below(card.pins.len())];
    let count: usize =
        card.pins.iter().filter(|pins| pins.fixing == first.fixing).map(|pins| pins.count).sum();
    let wrong = [count + 1, count + 2, count * 2, count.saturating_sub(1), count / 2];
    let wrong =
        wrong.into_iter().filter(|other| *other > 0 && *other != count).map(|other| other.to_string());
    let question = format!("\"{}\": how many of {} are moved in all?", card.title, first.fixing);
    let because = format!("{count} of {}.", first.fixing);
    made(Kind::Count, chance, question, &count.to_string(), wrong, because, learn(card))
}

fn stand(all: &Rehearsal, card: &Card, chance: &mut Seeded) -> Option<Asked> {
    let right = card.keep_clear.as_ref()?;
    let ground = |other: &Card| other.keep_clear.clone().into_iter().chain(other.works_in.clone());
    let wrong = all.cards.iter().flat_map(ground).chain(["nowhere: the whole ground is clear".to_owned()]);
    let question = format!("\"{}\": which ground does the book keep clear of people?", card.title);
    let radius = card
        .keep_clear_radius
        .as_ref()
        .map_or(String::new(), |radius| format!(", {radius} about its middle"));
    made(Kind::Stand, chance, question, right, wrong, format!("Keep clear: {right}{radius}."), learn(card))
}

fn caution(all: &Rehearsal, card: &Card, chance: &mut Seeded) -> Option<Asked> {
    if card.cautions.is_empty() {
        return None;
    }
    let right = &card.cautions[chance.below(card.cautions.len())];
    let others = all.cards.iter().flat_map(|other| &other.cautions);
    let wrong = others.filter(|other| !card.cautions.contains(other)).cloned();
    let question = format!("\"{}\": which caution stands with it in the book?", card.title);
    made(Kind::Caution, chance, question, right, wrong, right.clone(), learn(card))
}

fn hold_point(all: &Rehearsal, card: &Card, chance: &mut Seeded) -> Option<Asked> {
    let right = card.hold_point.as_ref()?;
    let wrong = all.cards.iter().filter_map(|other| other.hold_point.clone());
    let question = format!("Hold point after \"{}\": what must be so before anything goes on?", card.title);
    made(Kind::HoldPoint, chance, question, right, wrong, right.clone(), learn(card))
}

fn checks(all: &Rehearsal, role: Role, chance: &mut Seeded) -> Vec<Asked> {
    let own = all.checks.iter().filter(|(_, _, signed, good)| {
        !good.is_empty() && (signed.contains(&role) || matches!(role, Role::Chief | Role::Trainer))
    });
    let mut list = Vec::new();
    for (item, interval, _, good) in own {
        let wrong = all.checks.iter().map(|(_, _, _, other)| other.clone()).filter(|other| !other.is_empty());
        let question = format!("Check {interval}, \"{item}\": when is it good?");
        list.extend(made(
            Kind::Check,
            chance,
            question,
            good,
            wrong,
            format!("Good: {good}."),
            format!("check \"{item}\""),
        ));
    }
    list
}

fn riders(all: &Rehearsal, role: Role, chance: &mut Seeded) -> Vec<Asked> {
    if role == Role::Hand {
        return Vec::new();
    }
    let mut list = Vec::new();
    let Some(way) = all.riders.as_ref().and_then(|riders| riders.ways.first()) else { return list };
    let name = |seat: usize| way.seats.get(seat).cloned().unwrap_or_default();
    if let Some((_, Some(past))) = &way.naive {
        let question = format!(
            "Stopped, every seat full, the first at the place for \"{}\". Which order is past what is allowed?",
            way.way
        );
        let wrong: Vec<String> = way.answer.order.iter().take(3).map(|off| name(off.seat)).collect();
        let right = "seat by seat round from the place".to_owned();
        let plausible = [format!("first {}", wrong.join(", then ")), "none: any order is inside".to_owned()];
        let because = format!("With {} off it is past what is allowed.", name(past.seat));
        let learn = "the order in which riders get off".to_owned();
        list.extend(made(Kind::RidersOff, chance, question, &right, plausible, because, learn));
    }
    let order: Vec<String> = way.answer.order.iter().map(|off| name(off.seat)).collect();
    for pair in order.windows(2).take(3) {
        let [here, then] = pair else { continue };
        let place = order.iter().position(|seat| seat == here).unwrap_or(0);
        let gone: BTreeSet<&String> = order.iter().take(place + 1).collect();
        let wrong = way.seats.iter().filter(|seat| !gone.contains(seat)).cloned();
        let question = format!(
            "Stopped, every seat full; on the printed order {here} has just been emptied. Which is next?"
        );
        let because = format!("The printed order goes on with {then}.");
        let learn = "the order in which riders get off".to_owned();
        list.extend(made(Kind::RidersOff, chance, question, then, wrong, because, learn));
    }
    list
}
