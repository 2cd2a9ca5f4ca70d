//! Lifts, and what is done while it is open, shut and in the morning.

use super::cards::cards;
use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use crate::error::SheetsError;
use crate::say;
use tober_book::{Lift, Phase, Step};
use tober_calc::finding::Standing;
use tober_quantity::{Quantity as _, Rounding, Shown};

/// Every lift: its wind, how it is lifted, by how many, and what holds it afterwards.
pub(super) fn lifts(given: &Given<'_>, made: &mut Making) {
    let units = given.plan.units;
    let all: Vec<&Step> = given.steps().into_iter().filter(|step| step.lift.is_some()).collect();
    if all.is_empty() {
        return;
    }
    made.push(Block::Cautions(vec![
        "Nobody under the load, and nothing held by people that a lock, a strap or a prop can hold."
            .to_owned(),
        "A winch is rated for lifting and examined, and its eye is loaded in plane.".to_owned(),
        "When the wind of a lift is passed: lower, tie, clear people, wait.".to_owned(),
    ]));
    let mut table = Table::new(
        "",
        [
            ("step", "auto"),
            ("what", "1fr"),
            ("how", "1fr"),
            ("wind at most", "28mm"),
            ("then held by", "26mm"),
            ("gust read", "20mm"),
            ("by", "16mm"),
        ],
    );
    table.size = 10.0;
    for step in all {
        let (how, held) = match &step.lift {
            Some(Lift::Winch(lift)) => {
                let falls = lift.falls.map_or("falls not known".to_owned(), |falls| match falls {
                    1 => "one fall".to_owned(),
                    more => format!("{more} falls"),
                });
                (format!("winch, \"{}\", {falls}", lift.body), lift.then_held_by.clone())
            }
            Some(Lift::Hand(lift)) => {
                let people =
                    lift.people.map_or("people not known".to_owned(), |people| format!("{people} people"));
                let mass = lift.mass.high().amount().print(units, Rounding::Demand);
                (format!("by hand, {mass}, {people}"), Some("stays in hand".to_owned()))
            }
            None => continue,
        };
        let wind = match &step.wind_limit {
            Some(limit) => Cell::bold(say::wind(limit, units)),
            None => Cell::state(Standing::NotKnown, ""),
        };
        let held = match held {
            Some(held) => Cell::plain(held),
            None => Cell::state(Standing::NotKnown, ""),
        };
        let (gust, by) = (made.line(&step.name, "gust read", ""), made.line(&step.name, "gust read: by", ""));
        table.row([
            Cell::plain(given.number(step).to_string()),
            Cell::bold(step.title.as_str()),
            Cell::plain(how),
            wind,
            held,
            gust,
            by,
        ]);
    }
    made.push(Block::Table(table));
    let winches: Vec<String> = given
        .kit
        .winches
        .iter()
        .map(|winch| {
            let rating =
                winch.lifting_rating.as_ref().map_or("lifting rating not known".to_owned(), |rating| {
                    format!(
                        "rated for lifting {}",
                        rating.0.amount().shown(Shown::Force).print(units, Rounding::Capacity)
                    )
                });
            let examined =
                winch.examined.map_or("examination not known".to_owned(), |date| format!("examined {date}"));
            format!("{}: {rating}, {examined}", winch.name)
        })
        .collect();
    if !winches.is_empty() {
        made.heading("Winches of the kit");
        made.push(Block::List(winches));
    }
}

/// While it is open, when it is shut, and in the morning.
pub(super) fn night(given: &Given<'_>, made: &mut Making) -> Result<(), SheetsError> {
    cards(given, &[Phase::Open, Phase::Shut, Phase::Reopen], made)?;
    if made.blocks.is_empty() {
        return Ok(());
    }
    made.heading("Wind and feet through the day and the night");
    let mut table = Table::new(
        "",
        [
            ("time", "24mm"),
            ("greatest gust", "1fr"),
            ("worst foot, sunk", "1fr"),
            ("rain", "1fr"),
            ("by", "22mm"),
        ],
    );
    for row in 1..=10 {
        let about = format!("watch {row}");
        let cells = ["time", "greatest gust", "sink of the worst foot", "rain", "by"]
            .map(|what| made.line(&about, what, ""));
        table.row(cells);
    }
    made.push(Block::Table(table));
    Ok(())
}
