//! Pins by place, and what must be so before the road.

use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use tober_book::{Fixing, Interval, Phase};
use tober_plan::HomeCount;
use tober_quantity::Word;

/// The fixings of the visit with where they are, those that fasten the same part together.
fn by_place<'a>(given: &Given<'a>) -> Vec<(String, Vec<&'a HomeCount>)> {
    let Some(every) = given.every else { return Vec::new() };
    let mut places: Vec<(String, Vec<&HomeCount>)> = Vec::new();
    for home in &every.homes {
        let place = home.fastens.clone().unwrap_or_else(|| home.home.clone());
        match places.iter_mut().find(|(name, _)| *name == place) {
            Some((_, there)) => there.push(home),
            None => places.push((place, vec![home])),
        }
    }
    places
}

/// What is in place when the ride is open, place by place, with a blank for what is counted.
pub(super) fn pins(given: &Given<'_>, made: &mut Making) {
    let places = by_place(given);
    if places.is_empty() {
        return;
    }
    let clip = given.plan.words.word(Word::Clip);
    made.push(Block::Text(format!(
        "Counted place by place as a hold point, not pin by pin: \"4 in, 4 {clip}s in\". The sum must add up, or somebody looks for what is missing."
    )));
    let mut table = Table::new(
        "When the ride is open",
        [
            ("place", "34mm"),
            ("fixing, and where", "1fr"),
            ("must be", "auto"),
            ("counted", "26mm"),
            ("by", "20mm"),
            ("seen by", "20mm"),
        ],
    );
    table.tight = 0.8;
    for (place, homes) in &places {
        for home in homes {
            let what = format!("{}, {}", home.fixing, home.home);
            let (counted, by, seen) = (
                made.line(place, &what, &home.open.to_string()),
                made.line(place, &format!("{what}: by"), ""),
                made.line(place, &format!("{what}: seen by"), ""),
            );
            table.row([
                Cell::bold(place.as_str()),
                Cell::plain(what),
                Cell::Big(home.open.to_string()),
                counted,
                by,
                seen,
            ]);
        }
    }
    made.push(Block::Table(table));
    sums(given, made, "open", |home| home.open);
}

/// For each fixing the sum over its places, which must come to as many as there are.
fn sums(given: &Given<'_>, made: &mut Making, when: &str, count: fn(&HomeCount) -> i64) {
    let Some(every) = given.every else { return };
    let mut table = Table::new(
        &format!("Sums, when {when}"),
        [
            ("fixing", "34mm"),
            ("in its places", "1fr"),
            ("together", "20mm"),
            ("spares besides", "18mm"),
            ("counted", "26mm"),
        ],
    );
    table.tight = 0.8;
    for fixing in &given.ride.fixings {
        let homes: Vec<&HomeCount> = every.homes.iter().filter(|home| home.fixing == fixing.name).collect();
        if homes.is_empty() {
            continue;
        }
        let told: Vec<String> = homes
            .iter()
            .filter(|home| count(home) != 0)
            .map(|home| format!("{} {}", count(home), home.home))
            .collect();
        let sum: i64 = homes.iter().map(|home| count(home)).sum();
        let counted = made.line(&fixing.name, "counted together", &sum.to_string());
        table.row([
            Cell::bold(fixing.name.as_str()),
            Cell::plain(told.join(", ")),
            Cell::Big(sum.to_string()),
            Cell::plain(spares(fixing)),
            counted,
        ]);
    }
    made.push(Block::Table(table));
}

fn spares(fixing: &Fixing) -> String {
    fixing.spares.map_or("not known".to_owned(), |spares| spares.to_string())
}

/// Everything in its place for the road, and what is looked at before each journey.
pub(super) fn road(given: &Given<'_>, made: &mut Making) {
    if given.every.is_none_or(|every| every.homes.is_empty()) {
        return;
    }
    made.push(Block::Cautions(vec![
        "Every strap, coupling, safety cable and lamp is looked at by a second person.".to_owned(),
        "After the first kilometres: stop and look at the straps and wheel nuts again (common practice, no source)."
            .to_owned(),
    ]));
    sums(given, made, "on the road", |home| home.on_the_road);
    let checks: Vec<&str> = given
        .ride
        .checks
        .iter()
        .filter(|check| check.interval == Interval::Journey)
        .map(|check| check.item.as_str())
        .collect();
    let steps: Vec<String> =
        given.steps_of(&[Phase::Leave]).iter().map(|(_, step)| step.title.clone()).collect();
    let mut table = Table::new(
        "Looked at before it moves",
        [("what", "1fr"), ("good", "22mm"), ("by", "26mm"), ("seen by", "26mm")],
    );
    for what in checks.into_iter().map(str::to_owned).chain(steps) {
        let (good, by, seen) =
            (made.tick(&what, "good"), made.line(&what, "by", ""), made.line(&what, "seen by", ""));
        table.row([Cell::plain(what), good, by, seen]);
    }
    if !table.rows.is_empty() {
        made.push(Block::Table(table));
    }
    made.push(Block::Text(
        "Axle, tyre and hitch loads on the road are not worked out here: not known until it is weighed."
            .to_owned(),
    ));
}
