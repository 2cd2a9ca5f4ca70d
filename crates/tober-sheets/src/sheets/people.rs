//! Each person's own list.

use super::{Given, Making};
use crate::ask::Reader;
use crate::block::{Block, Cell, Table};
use crate::say;
use tober_book::{Person, Role, Step};

/// The list of each person of the crew, or of those who have the role that a pack is for.
pub(super) fn people(given: &Given<'_>, reader: Option<Reader>, made: &mut Making) {
    let Some(crew) = given.crew else { return };
    let role = reader.and_then(|reader| match reader {
        Reader::Chief | Reader::Inspector | Reader::Engineer => None,
        Reader::Hand => Some(Role::Hand),
        Reader::Operator => Some(Role::Operator),
        Reader::Attendant => Some(Role::Attendant),
    });
    for person in crew.people.iter().filter(|person| role.is_none_or(|role| person.skills.contains(&role))) {
        one(given, person, made);
    }
}

fn one(given: &Given<'_>, person: &Person, made: &mut Making) {
    let words = given.plan.words;
    made.heading(&format!("{}: {}", person.tag, say::roles(&person.skills, words)));
    let taught = person.taught.contains(&given.ride.about.name);
    if !taught {
        made.push(Block::Strong("Not yet taught this ride: works beside somebody who is.".to_owned()));
    }
    let hours = match (person.from, person.until) {
        (Some(from), Some(until)) => format!("Here from {from} until {until}."),
        _ => "Hours: not known.".to_owned(),
    };
    made.push(Block::Text(hours));
    let asks = |step: &Step| step.skills.iter().any(|skill| person.skills.contains(skill));
    let hand = person.skills.contains(&Role::Hand);
    let mut table = Table::new(
        "Steps that ask for you, in the order of the book",
        [("step", "auto"), ("what", "1fr"), ("as", "34mm"), ("done at", "24mm")],
    );
    table.tight = 0.7;
    for step in given.steps() {
        let any_hand = step.skills.is_empty() && hand;
        if !asks(step) && !any_hand {
            continue;
        }
        let role = if any_hand { "any hand".to_owned() } else { say::roles(&step.skills, words) };
        let done = made.line(&format!("{} {}", person.tag, step.name), "done at", "");
        table.row([
            Cell::plain(given.number(step).to_string()),
            Cell::plain(step.title.as_str()),
            Cell::plain(role),
            done,
        ]);
    }
    if table.rows.is_empty() {
        made.push(Block::Text("No step of the book asks for what you may do.".to_owned()));
    } else {
        made.push(Block::Table(table));
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
