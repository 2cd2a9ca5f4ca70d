//! Step cards, lifts, and what is done while it is open, shut and in the morning.

use super::{Given, Making};
use crate::block::{Block, Card, Cell, Table};
use crate::say;
use tober_book::{Lift, Phase, PinMove, Step};
use tober_calc::finding::Standing;
use tober_quantity::{Quantity as _, Rounding, Shown, Word};

/// A phase in the words of one side.
fn phase(given: &Given<'_>, phase: Phase) -> String {
    let words = given.plan.words;
    match phase {
        Phase::BuildUp => words.capitalised(Word::BuildUp),
        Phase::PullDown => words.capitalised(Word::PullDown),
        other => say::capital(other.word()),
    }
}

/// A card for each step of some phases.
pub(super) fn cards(given: &Given<'_>, phases: &[Phase], made: &mut Making) {
    let total = given.steps().len();
    for one in phases {
        let steps = given.steps_of(&[*one]);
        if steps.is_empty() {
            continue;
        }
        made.heading(&phase(given, *one));
        for (number, step) in steps {
            let card = card(given, (number, total), step, made);
            made.push(card);
        }
    }
}

fn card(given: &Given<'_>, (number, total): (usize, usize), step: &Step, made: &mut Making) -> Block {
    let units = given.plan.units;
    let mut blocks = Vec::new();
    if !step.cautions.is_empty() {
        blocks.push(Block::Cautions(step.cautions.clone()));
    }
    if let Some(instruction) = &step.instruction {
        blocks.push(Block::Text(instruction.clone()));
    }
    let pins: Vec<String> = step.pins.iter().map(pins).collect();
    if !pins.is_empty() {
        blocks.push(Block::List(pins));
    }
    let mut table = Table::new(
        "",
        [("read or look", "1fr"), ("must be", "28mm"), ("", "32mm"), ("by", "20mm"), ("at", "20mm")],
    );
    table.tight = 0.8;
    if let Some(reading) = &step.reading {
        let must = say::range(reading.low, reading.high, units);
        let each = if reading.at_each_support == Some(true) {
            given.plan.legs.iter().map(|leg| format!(" at {}", leg.short)).collect()
        } else {
            vec![String::new()]
        };
        for place in each {
            let what = format!("{}{place}", reading.what);
            let (value, by, at) = (
                made.line(&step.name, &what, &must),
                made.line(&step.name, &format!("{what}: by"), ""),
                made.line(&step.name, &format!("{what}: at"), ""),
            );
            table.row([Cell::plain(say::capital(&what)), Cell::bold(must.as_str()), value, by, at]);
        }
    }
    if let Some(looks_at) = &step.hold_point {
        let chief = given.plan.words.word(Word::Chief);
        let (seen, by, at) = (
            made.tick(&step.name, "hold point passed"),
            made.line(&step.name, "hold point: by", ""),
            made.line(&step.name, "hold point: at", ""),
        );
        table.row([
            Cell::bold(format!("Hold point, the {chief}: {looks_at}")),
            Cell::plain(""),
            seen,
            by,
            at,
        ]);
    }
    if !table.rows.is_empty() {
        blocks.push(Block::Table(table));
    }
    Block::Card(Card {
        number: format!("{number} of {total}"),
        title: step.title.clone(),
        aside: aside(given, step),
        blocks,
        listed: false,
        level: 3,
    })
}

/// Who, with what, how long, in what wind, who keeps away, and after what.
fn aside(given: &Given<'_>, step: &Step) -> String {
    let units = given.plan.units;
    let mut parts = Vec::new();
    let people = step
        .people
        .map(|people| if people == 1 { "1 person".to_owned() } else { format!("{people} people") });
    let skills = say::roles(&step.skills, given.plan.words);
    match (people, skills.is_empty()) {
        (Some(people), true) => parts.push(people),
        (Some(people), false) => parts.push(format!("{people}, {skills} among them")),
        (None, false) => parts.push(format!("people not said, {skills} among them")),
        (None, true) => parts.push("people: not known".to_owned()),
    }
    if !step.tools.is_empty() {
        parts.push(step.tools.join(", "));
    }
    if let Some(duration) = &step.duration {
        let minutes =
            |time: tober_quantity::Time| time.amount().shown(Shown::Minutes).print(units, Rounding::Nearest);
        parts.push(format!("usually {}", minutes(duration.usual)));
    }
    if let Some(limit) = &step.wind_limit {
        parts.push(format!("wind at most {}", say::wind(limit, units)));
    }
    if let Some(clear) = &step.keep_clear {
        let radius = step
            .keep_clear_radius
            .map_or_else(String::new, |radius| format!(", {} round its middle", say::coarse(radius, units)));
        parts.push(format!("keep clear: {clear}{radius}"));
    }
    let after: Vec<&str> = step
        .after
        .iter()
        .filter_map(|name| given.ride.step(name).map(|before| before.title.as_str()))
        .collect();
    if !after.is_empty() {
        parts.push(format!("after: {}", after.join(", ")));
    }
    parts.join(" · ")
}

fn pins(moved: &PinMove) -> String {
    format!("{} {}: from {} to {}", moved.count, moved.fixing, moved.from, moved.to)
}

/// Every lift: its wind, how it is lifted, by how many, and what holds it afterwards.
pub(super) fn lifts(given: &Given<'_>, made: &mut Making) {
    let units = given.plan.units;
    let all: Vec<(usize, &Step)> =
        given.steps().into_iter().enumerate().filter(|(_, step)| step.lift.is_some()).collect();
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
    for (at, step) in all {
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
            Cell::plain((at + 1).to_string()),
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
pub(super) fn night(given: &Given<'_>, made: &mut Making) {
    cards(given, &[Phase::Open, Phase::Shut, Phase::Reopen], made);
    if made.blocks.is_empty() {
        return;
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
}
