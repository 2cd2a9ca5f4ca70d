//! Each person's own list.

use super::{Given, Making};
use crate::ask::{Ask, Reader};
use crate::block::{Block, Cell, Table};
use crate::say;
use tober_book::{Person, Phase, Role, Step};

/// The list of each person of the crew; of those alone who have the role that a pack is for, or of the one who is asked for. Each
/// begins on a page of its own, to be handed out.
pub(super) fn people(given: &Given<'_>, ask: &Ask, made: &mut Making) {
    let Some(crew) = given.crew else { return };
    let role = ask.reader.and_then(|reader| match reader {
        Reader::Chief | Reader::Inspector | Reader::Engineer => None,
        Reader::Hand => Some(Role::Hand),
        Reader::Operator => Some(Role::Operator),
        Reader::Attendant => Some(Role::Attendant),
    });
    let meant = |person: &&Person| match &ask.person {
        Some(tag) => person.tag == *tag,
        None => role.is_none_or(|role| person.skills.contains(&role)),
    };
    // Every blank has its number before some are left out, so that it is the same on every pack.
    for person in &crew.people {
        let (before, taken) = (made.blocks.len(), made.taken());
        if before > 0 {
            made.push(Block::Break);
        }
        one(given, person, made);
        if !meant(&person) {
            made.forget(before, taken);
        }
    }
}

fn one(given: &Given<'_>, person: &Person, made: &mut Making) {
    let words = given.plan.words;
    made.heading(&format!("{}: {}", person.tag, say::roles(&person.skills, words)));
    if !person.taught.contains(&given.ride.about.name) {
        made.push(Block::Strong("Not yet taught this ride: works beside somebody who is.".to_owned()));
    }
    made.push(Block::Text(match (person.from, person.until) {
        (Some(from), Some(until)) => format!("Here from {from} until {until}."),
        _ => "Hours: not known.".to_owned(),
    }));
    let mut all: Vec<&Step> = given.steps().into_iter().filter(|step| asks(step, person)).collect();
    // What is for a stop that nobody plans stands last.
    all.sort_by_key(|step| step.phase == Phase::Stopped);
    if all.is_empty() {
        made.push(Block::Text("No step of the book asks for what you may do.".to_owned()));
    } else {
        made.push(Block::Strong("Steps that ask for you, in the order of the book".to_owned()));
        let half = all.len().div_ceil(2);
        let left = steps(given, person, &all[..half], made);
        let right = steps(given, person, &all[half..], made);
        made.push(Block::Beside { left: vec![left], right: vec![right], share: 0.5 });
    }
    let signs: Vec<String> = given
        .ride
        .checks
        .iter()
        .filter(|check| check.signed_by.iter().any(|role| person.skills.contains(role)))
        .map(|check| format!("{}, {}", check.item, check.interval.word()))
        .collect();
    if !signs.is_empty() {
        made.push(Block::Strong("You may sign for".to_owned()));
        made.push(Block::List(signs));
    }
}

/// Whether a step asks for what somebody may do; one that asks for nothing is for any hand.
fn asks(step: &Step, person: &Person) -> bool {
    let named = step.skills.iter().any(|skill| person.skills.contains(skill));
    named || (step.skills.is_empty() && person.skills.contains(&Role::Hand))
}

fn steps(given: &Given<'_>, person: &Person, steps: &[&Step], made: &mut Making) -> Block {
    let words = given.plan.words;
    let mut table = Table::new("", [("step", "9mm"), ("what", "1fr"), ("done", "20mm")]);
    table.tight = 0.9;
    let several = person.skills.len() > 1;
    for step in steps {
        let mine: Vec<Role> =
            step.skills.iter().copied().filter(|skill| person.skills.contains(skill)).collect();
        let role = if several && !mine.is_empty() {
            format!(" ({})", say::roles(&mine, words))
        } else {
            String::new()
        };
        let done = made.tick(&format!("{} {}", person.tag, step.name), "done");
        table.row([
            Cell::plain(given.number(step).to_string()),
            Cell::plain(format!("{}{role}", step.title)),
            done,
        ]);
    }
    Block::Table(table)
}
