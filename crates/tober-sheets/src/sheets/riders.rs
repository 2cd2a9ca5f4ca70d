//! How riders get off a ride that has stopped where it should not: the order, and a form for who is aboard.

use super::cards::stopped_cards;
use super::{Given, Making};
use crate::block::{Block, Card, Cell, Table, Verdict};
use crate::error::SheetsError;
use crate::say;
use tober_book::Stopped;
use tober_calc::finding::{Finding, Override, Standing};
use tober_calc::riders_off::{Answer, WhyLeft};
use tober_plan::{OffBy, RidersOff};
use tober_quantity::{Moment, Quantity as _, Rounding, Shown, UnitSet, Word};

/// From how many seats on the order with one of them jammed is left to the command: the list would be longer than the card.
const JAMMED_SEATS: usize = 16;

/// The sheet. Empty where the book does not tell of a stop.
pub(super) fn sheet(given: &Given<'_>, made: &mut Making) -> Result<(), SheetsError> {
    let Some(stopped) = &given.ride.stopped else { return Ok(()) };
    made.push(Block::Cautions(vec![
        "Isolate first and put your padlock on. Talk to the riders, and say when you will talk again."
            .to_owned(),
        "Nobody climbs, and nobody lets a bar open before the way down stands.".to_owned(),
    ]));
    made.push(Block::Strong(if stopped.stored_energy.is_empty() {
        "Stored energy: not known.".to_owned()
    } else {
        format!("Still stored: {}.", stopped.stored_energy.join("; "))
    }));
    made.push(Block::List(by_hand(stopped)));
    let worked = given.every.and_then(|every| every.riders_off.as_ref());
    if let Some(worked) = worked {
        verdicts(given, worked, made);
    }
    ways(given, stopped, made);
    for (at, way) in worked.iter().flat_map(|worked| &worked.ways).enumerate() {
        made.push(card(given, at, way));
    }
    form(given, worked, made);
    stopped_cards(given, made)
}

/// The brake, and turning by hand.
fn by_hand(stopped: &Stopped) -> Vec<String> {
    let brake = match &stopped.brake_release {
        Some(how) => format!("Brake: {how}"),
        None => "How the brake is released: not known.".to_owned(),
    };
    let turning = match (stopped.turning_by_hand, stopped.turning_people) {
        (Some(true), Some(people)) => {
            format!("May be turned by hand with riders aboard, by {people} people.")
        }
        (Some(true), None) => {
            "May be turned by hand with riders aboard; by how many is not known.".to_owned()
        }
        (Some(false), _) => "May not be turned by hand with riders aboard.".to_owned(),
        (None, _) => "Whether it may be turned by hand with riders aboard: not known. Do not.".to_owned(),
    };
    vec![brake, turning]
}

/// What is past its limit, not known or close; where nothing is, what uses most of its limit.
fn verdicts(given: &Given<'_>, worked: &RidersOff, made: &mut Making) {
    let units = given.plan.units;
    let said = |finding: &Finding| {
        Block::Verdict(Verdict {
            standing: finding.standing,
            title: format!("{}: {}", say::subject(&finding.subject), finding.title),
            figure: finding.figure(units),
            sentences: finding.unknown.iter().chain(&finding.notes).cloned().collect(),
            barred: finding.standing == Standing::PastLimit && finding.overriding == Override::Never,
            tight: true,
        })
    };
    let wanting: Vec<&Finding> =
        worked.findings.iter().filter(|finding| finding.standing != Standing::Inside).collect();
    if wanting.is_empty() {
        made.blocks.extend(worked.findings.iter().max_by_key(|finding| finding.share()).map(said));
    }
    for standing in super::verdicts::WORST_FIRST {
        made.blocks
            .extend(wanting.iter().filter(|finding| finding.standing == standing).map(|one| said(one)));
    }
}

fn ways(given: &Given<'_>, stopped: &Stopped, made: &mut Making) {
    let (units, words) = (given.plan.units, given.plan.words);
    let mut table = Table::new(
        "Ways off, best first",
        [
            ("way", "30mm"),
            ("do", "1fr"),
            ("reaches", "auto"),
            ("who", "26mm"),
            ("people", "auto"),
            ("time a seat", "auto"),
        ],
    );
    let not_known = || "not known".to_owned();
    for way in &stopped.ways {
        table.row([
            Cell::bold(way.name.as_str()),
            Cell::plain(way.instruction.clone().unwrap_or_default()),
            Cell::plain(way.reaches.map_or_else(not_known, |reach| say::coarse(reach, units))),
            Cell::plain(say::roles(&way.who, words)),
            Cell::plain(way.people.map_or_else(not_known, |people| people.to_string())),
            Cell::plain(way.time_a_seat.map_or_else(not_known, |time| {
                time.amount().shown(Shown::Minutes).print(units, Rounding::Requirement)
            })),
        ]);
    }
    if table.rows.is_empty() {
        made.push(Block::Strong("How riders get off: not known. The book names no way.".to_owned()));
    } else {
        made.push(Block::Table(table));
    }
}

/// The order of one way with every seat full, and with one of them jammed.
fn card(given: &Given<'_>, at: usize, way: &OffBy) -> Block {
    let (units, words) = (given.plan.units, given.plan.words);
    let mut blocks = Vec::new();
    if let (Some((_, Some(past))), Some(allowed)) = (&way.naive, way.allowed) {
        blocks.push(Block::Cautions(vec![format!(
            "Not {} by {} round from the place: with {} off it is {} out of balance, of {} allowed.",
            words.word(Word::Seat),
            words.word(Word::Seat),
            name(way, past.seat),
            moment(past.out_of_balance, units),
            allowed.amount().print(units, Rounding::Capacity)
        )]));
    }
    let mut order = Table::new(
        "Every one full and as heavy as allowed",
        [("", "7mm"), ("turn by hand", "20mm"), ("riders off", "1fr"), ("then out of balance", "23mm")],
    );
    order.tight = 0.9;
    for (at, off) in way.answer.order.iter().enumerate() {
        let turn = off.turn.as_deg().round().abs();
        let turned = match (way.turned, turn == 0.0) {
            (false, _) => "not turned".to_owned(),
            (true, true) => "none".to_owned(),
            (true, false) => format!("{turn:.0}°"),
        };
        let some = match (way.one_by_one, off.riders.len()) {
            (false, _) => String::new(),
            (true, 1) => ", 1 rider".to_owned(),
            (true, count) => format!(", {count} riders"),
        };
        order.row([
            Cell::bold((at + 1).to_string()),
            Cell::plain(turned),
            Cell::bold(format!("{}{some}", name(way, off.seat))),
            Cell::plain(moment(off.out_of_balance, units)),
        ]);
    }
    let mut left_column = vec![Block::Table(order)];
    left_column.extend(left(way, &way.answer).map(|said| Block::Strong(format!("{said}."))));
    if way.turned {
        let first = way.seats.first().map_or("the first seat", String::as_str);
        left_column.push(Block::Text(format!(
            "The first turn is from a stop with {first} at the place; from another stop it is other, and the order stays."
        )));
    }
    if (2..JAMMED_SEATS).contains(&way.jammed.len()) {
        blocks.push(Block::Beside { left: left_column, right: vec![jammed(way)], share: 0.5 });
    } else {
        blocks.extend(left_column);
    }
    let limit = match way.allowed {
        Some(allowed) => {
            format!("At most {} out of balance.", allowed.amount().print(units, Rounding::Capacity))
        }
        None => "How far it may be out of balance is not known.".to_owned(),
    };
    let time =
        way.time.map_or(String::new(), |time| format!(" About {:.0} min for all.", time.as_min().ceil()));
    Block::Card(Card {
        number: char::from_u32('A' as u32 + at as u32).map_or_else(String::new, String::from),
        of: None,
        title: say::capital(&way.way),
        aside: format!("{limit}{time}"),
        blocks,
        listed: true,
        level: 2,
    })
}

/// The order with one seat jammed, for each of them; a first word that all seats share is left out.
fn jammed(way: &OffBy) -> Block {
    let first = way.seats.first().and_then(|name| name.split_once(' ')).map_or("", |(word, _)| word);
    let shared = !first.is_empty() && way.seats.iter().all(|name| name.starts_with(&format!("{first} ")));
    let short = |seat: usize| {
        let name = name(way, seat);
        if shared { name.get(first.len() + 1..).unwrap_or(name) } else { name }
    };
    let mut table = Table::new(
        "With one jammed, in this order",
        [("jammed", "15mm"), ("riders off", "1fr"), ("stay aboard", "32mm")],
    );
    table.tight = 0.9;
    for (seat, answer) in way.jammed.iter().enumerate() {
        let mut order: Vec<&str> = answer.order.iter().map(|off| short(off.seat)).collect();
        order.dedup();
        let stay: Vec<&str> = answer.left.iter().map(|(seat, _)| short(*seat)).collect();
        table.row([Cell::bold(short(seat)), Cell::plain(order.join(", ")), Cell::bold(stay.join(", "))]);
    }
    Block::Table(table)
}

fn name(way: &OffBy, seat: usize) -> &str {
    way.seats.get(seat).map_or("?", String::as_str)
}

fn moment(value: Moment, units: UnitSet) -> String {
    value.amount().print(units, Rounding::Demand)
}

/// Who stays aboard, and why; nothing where nobody does.
fn left(way: &OffBy, answer: &Answer) -> Option<String> {
    let of = |which: WhyLeft| -> Vec<&str> {
        answer.left.iter().filter(|(_, why)| *why == which).map(|(seat, _)| name(way, *seat)).collect()
    };
    let (unreached, held) = (of(WhyLeft::NotReached), of(WhyLeft::PastLimit));
    let mut said = Vec::new();
    if !unreached.is_empty() {
        said.push(format!("not reached: {}", unreached.join(", ")));
    }
    if !held.is_empty() {
        said.push(format!("held for balance: {}", held.join(", ")));
    }
    if said.is_empty() {
        return None;
    }
    Some(format!("{}; call for help", say::capital(&said.join("; "))))
}

/// Who is aboard and in which order they got off, to be written in; and what holds where seats are empty.
fn form(given: &Given<'_>, worked: Option<&RidersOff>, made: &mut Making) {
    let words = given.plan.words;
    let (seat, seats) = (words.word(Word::Seat), words.plural(Word::Seat));
    made.heading("Who is aboard");
    let rule = if worked.is_some_and(|worked| !worked.ways.is_empty()) {
        format!(
            "The orders above are proved with every one of the {seats} full. With empty ones: write who is aboard, and let \
             tober calc riders-off or the phone work out the order. With neither: go by the order above and leave the empty ones \
             out, one of the {seats} at a time, hand on the brake; where it creeps, stop, hold it and call for help (common \
             practice, no source)."
        )
    } else {
        format!(
            "No order is known. Hold it on its brake, take {seats} that face each other after each other, heavier first, and where \
             it creeps, stop, hold it and call for help (common practice, no source)."
        )
    };
    made.push(Block::Text(rule));
    let mut table = Table::new(
        &format!("Riders, {seat} by {seat}"),
        [
            (seat, "30mm"),
            ("riders aboard", "1fr"),
            ("jammed", "auto"),
            ("emptied as number", "1fr"),
            ("riders off", "1fr"),
        ],
    );
    let names: Vec<String> = if given.ride.seats.is_empty() {
        (1..=8).map(|at| at.to_string()).collect()
    } else {
        given.ride.seats.iter().map(|seat| seat.name.clone()).collect()
    };
    for name in names {
        let about = format!("{seat} {name}");
        let aboard = made.line(&about, "riders aboard", "");
        let jammed = made.tick(&about, "jammed");
        let order = made.line(&about, "emptied as number", "");
        let off = made.line(&about, "riders off", "");
        table.row([Cell::bold(name), aboard, jammed, order, off]);
    }
    made.push(Block::Table(table));
    let number = made.blank("riders", "counted off together, of how many aboard", "");
    made.push(Block::Blank { text: format!("Riders counted off, of all {seats} together:"), number });
}
