//! Lifts, and what is done while it is open, shut and in the morning.

use super::cards::cards;
use super::verdicts::gravity;
use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use crate::error::SheetsError;
use crate::say;
use tober_book::{Lift, LiftDone, Phase, Step};
use tober_calc::finding::Standing;
use tober_quantity::{Quantity as _, Rounding, Shown, UnitSet};

/// Every lift: its wind, how it is lifted, by how many, and what holds it afterwards.
pub(super) fn lifts(given: &Given<'_>, made: &mut Making) {
    let units = given.plan.units;
    let all: Vec<(&Step, LiftDone<'_>)> = given
        .steps()
        .into_iter()
        .filter_map(|step| Some((step, *given.ride.lifts_of(step).first()?)))
        .collect();
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
            ("what, and how", "1fr"),
            ("worst of what was worked out", "56mm"),
            ("wind at most", "27mm"),
            ("gust read", "21mm"),
            ("by", "17mm"),
        ],
    );
    for (step, lift) in all {
        let how = how(&lift, units);
        let wind = match &step.wind_limit {
            Some(limit) => Cell::bold(say::wind(limit, units)),
            None => Cell::state(Standing::NotKnown, ""),
        };
        let (gust, by) = (made.line(&step.name, "gust read", ""), made.line(&step.name, "gust read: by", ""));
        table.row([
            Cell::bold(given.number(step).to_string()),
            Cell::plain(format!("{}: {how}", step.title)),
            worst(given, step),
            wind,
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

/// How a step lifts, and what holds the part afterwards.
fn how(done: &LiftDone<'_>, units: UnitSet) -> String {
    match done.lift {
        Lift::Winch(lift) => {
            let falls = lift.falls.map_or("falls not known".to_owned(), |falls| match falls {
                1 => "one fall".to_owned(),
                more => format!("{more} falls"),
            });
            let back = if done.back { "let down on the winch:" } else { "winch on" };
            let held = done
                .ends_held_by()
                .map_or("what then holds it is not known".to_owned(), |held| format!("then held by {held}"));
            format!("{back} \"{}\", {falls}; {held}", lift.body)
        }
        Lift::Hand(lift) => {
            let people =
                lift.people.map_or("people not known".to_owned(), |people| format!("{people} people"));
            format!("by hand, {}, {people}", lift.mass.high().amount().print(units, Rounding::Demand))
        }
    }
}

/// The finding on a lift that stands worst, and of those the one that uses most of its limit.
fn worst(given: &Given<'_>, step: &Step) -> Cell {
    let lift = given.lifts.iter().find(|lift| lift.step == step.name);
    let findings = lift.into_iter().flat_map(|lift| &lift.findings);
    let Some(worst) = findings.max_by_key(|finding| (gravity(finding.standing), finding.share())) else {
        return Cell::state(Standing::NotKnown, "");
    };
    let figure = worst.figure(given.plan.units);
    let figure = if figure.is_empty() { figure } else { format!(", {figure}") };
    Cell::state(worst.standing, format!("{}{figure}", worst.title))
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
