//! What is looked at and signed, and how riders get off.

use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use crate::say;
use tober_book::{Check, Interval, Override, PassRule};
use tober_quantity::{Quantity as _, Rounding, Shown, Word};

/// How many calls stand in one list: more is a second list with its own pause.
const CALLS: usize = 9;

/// The intervals in the order of need.
const INTERVALS: [Interval; 9] = [
    Interval::BuildUp,
    Interval::Day,
    Interval::FirstLoad,
    Interval::Hour,
    Interval::Rain,
    Interval::Week,
    Interval::Month,
    Interval::Year,
    Interval::Journey,
];

/// Checks by when they are due, with what is good, a blank, and who signs.
pub(super) fn calls(given: &Given<'_>, made: &mut Making) {
    let mut any = false;
    for interval in INTERVALS {
        let checks: Vec<&Check> =
            given.ride.checks.iter().filter(|check| check.interval == interval).collect();
        for (part, chunk) in checks.chunks(CALLS).enumerate() {
            any = true;
            let more = if part == 0 { String::new() } else { format!(", {}", part + 1) };
            list(given, &format!("{}{more}", say::capital(interval.word())), chunk, made);
        }
    }
    if !any {
        return;
    }
    made.heading("Fit to open");
    let chief = given.plan.words.word(Word::Chief);
    let mut table = Table::new("", [("who says so", "1fr"), ("signature", "2fr"), ("date and time", "1fr")]);
    table.tight = 2.2;
    for who in [chief, "operator", "inspector"] {
        let (signature, at) = (
            made.line("fit to open", &format!("{who}: signature"), ""),
            made.line("fit to open", &format!("{who}: date and time"), ""),
        );
        table.row([Cell::bold(say::capital(who)), signature, at]);
    }
    made.push(Block::Table(table));
    made.heading("What was taken on although it was not inside");
    let mut table = Table::new("", [("what", "1fr"), ("reason", "2fr"), ("by", "24mm")]);
    table.tight = 2.0;
    for row in 1..=3 {
        let about = format!("taken on {row}");
        let cells = ["what", "reason", "by"].map(|what| made.line(&about, what, ""));
        table.row(cells);
    }
    made.push(Block::Table(table));
}

fn list(given: &Given<'_>, title: &str, checks: &[&Check], made: &mut Making) {
    let (units, words) = (given.plan.units, given.plan.words);
    let mut table = Table::new(
        title,
        [
            ("look at", "3fr"),
            ("good when", "2fr"),
            ("found", "22mm"),
            ("signed by", "24mm"),
            ("signature", "26mm"),
        ],
    );
    for check in checks {
        let good = match &check.pass {
            Some(PassRule::Seen(rule)) => rule.text.clone().unwrap_or_else(|| "as described".to_owned()),
            Some(PassRule::Between(rule)) => say::range(rule.low, rule.high, units),
            None => "not known".to_owned(),
        };
        let found = match &check.pass {
            Some(PassRule::Between(_)) => made.line(&check.item, "found", &good),
            _ => made.tick(&check.item, "good"),
        };
        let signature = made.line(&check.item, "signature", "");
        let never =
            if check.overridable() == Override::Never { "" } else { " May be taken on with a reason." };
        let how = check.how.as_ref().map_or_else(String::new, |how| format!(". {how}"));
        table.row([
            Cell::plain(format!(
                "{}{how}{}{never}",
                say::capital(&check.item),
                if never.is_empty() { "" } else { "." }
            )),
            Cell::bold(good),
            found,
            Cell::plain(say::roles(&check.signed_by, words)),
            signature,
        ]);
    }
    made.push(Block::Table(table));
}

/// How riders get off a ride that has stopped where it should not.
pub(super) fn riders_off(given: &Given<'_>, made: &mut Making) {
    let Some(stopped) = &given.ride.stopped else { return };
    let (units, words) = (given.plan.units, given.plan.words);
    let seats = words.plural(Word::Seat);
    made.push(Block::Cautions(vec![
        "Isolate first and put your padlock on. Talk to the riders, and say when you will talk again."
            .to_owned(),
        "Nobody climbs, and nobody lets a bar open before the way down stands.".to_owned(),
    ]));
    let stored = if stopped.stored_energy.is_empty() {
        "Stored energy: not known.".to_owned()
    } else {
        format!("Still stored: {}.", stopped.stored_energy.join("; "))
    };
    made.push(Block::Strong(stored));
    let mut facts = vec![match &stopped.brake_release {
        Some(how) => format!("Brake: {how}"),
        None => "How the brake is released: not known.".to_owned(),
    }];
    facts.push(match (stopped.turning_by_hand, stopped.turning_people) {
        (Some(true), Some(people)) => {
            format!("May be turned by hand with riders aboard, by {people} people.")
        }
        (Some(true), None) => {
            "May be turned by hand with riders aboard; by how many is not known.".to_owned()
        }
        (Some(false), _) => "May not be turned by hand with riders aboard.".to_owned(),
        (None, _) => "Whether it may be turned by hand with riders aboard: not known. Do not.".to_owned(),
    });
    made.push(Block::List(facts));
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
    if !table.rows.is_empty() {
        made.push(Block::Table(table));
    }
    let mut table = Table::new(
        &format!("Riders, {} by {}", words.word(Word::Seat), words.word(Word::Seat)),
        [
            (words.word(Word::Seat), "1fr"),
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
        let about = format!("{} {name}", words.word(Word::Seat));
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
