//! What is looked at and signed.

use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use crate::say;
use tober_book::{Check, Interval, Override, PassRule};
use tober_quantity::Word;

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
    let mut table = Table::new(
        "",
        [
            ("look at", "3fr"),
            ("good when", "2fr"),
            ("found", "24mm"),
            ("signed by", "24mm"),
            ("signature", "32mm"),
        ],
    );
    for interval in INTERVALS {
        let checks: Vec<&Check> =
            given.ride.checks.iter().filter(|check| check.interval == interval).collect();
        for (part, chunk) in checks.chunks(CALLS).enumerate() {
            let more = if part == 0 { String::new() } else { format!(", {}", part + 1) };
            table.group(format!("{}{more}", say::capital(interval.word())));
            list(given, chunk, &mut table, made);
        }
    }
    if table.rows.is_empty() {
        return;
    }
    made.push(Block::Table(table));
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

fn list(given: &Given<'_>, checks: &[&Check], table: &mut Table, made: &mut Making) {
    let (units, words) = (given.plan.units, given.plan.words);
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
}
