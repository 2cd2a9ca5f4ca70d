//! Pins by place, and their sums.

use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use tober_book::{Fixing, Step};
use tober_plan::HomeCount;
use tober_quantity::Word;

/// A place with the homes that are counted there together.
type Counted<'a> = (String, Vec<&'a HomeCount>);

/// The homes that hold something, those that fasten the same part together: a clip with the pin that is put in in the same
/// step; what is put in where a leg is set, with the legs.
fn by_place<'a>(given: &Given<'a>, count: fn(&HomeCount) -> i64) -> Vec<Counted<'a>> {
    let Some(every) = given.every else { return Vec::new() };
    let steps = given.steps();
    let mut places: Vec<Counted<'a>> = Vec::new();
    for home in every.homes.iter().filter(|home| count(home) > 0) {
        let place = place_of(given, &steps, &every.homes, home);
        match places.iter_mut().find(|(name, _)| *name == place) {
            Some((_, there)) => there.push(home),
            None => places.push((place, vec![home])),
        }
    }
    places
}

fn place_of(given: &Given<'_>, steps: &[&Step], homes: &[HomeCount], home: &HomeCount) -> String {
    let puts =
        |step: &&&Step| step.pins.iter().any(|pins| pins.fixing == home.fixing && pins.to == home.home);
    let step = steps.iter().find(puts);
    if step.is_some_and(|step| !step.sets.is_empty()) {
        return given.plan.legs.len().to_string() + " legs";
    }
    let fastened = step.into_iter().flat_map(|step| &step.pins).find_map(|pins| {
        let there = homes.iter().find(|home| home.fixing == pins.fixing && home.home == pins.to)?;
        there.fastens.clone()
    });
    home.fastens.clone().or(fastened).unwrap_or_else(|| home.home.clone())
}

/// "2 arm pin: hinge A; 2 arm clip: pin end A", and "2 + 2".
fn told(homes: &[&HomeCount], count: fn(&HomeCount) -> i64) -> (String, String) {
    let what: Vec<String> =
        homes.iter().map(|home| format!("{} {}: {}", count(home), home.fixing, home.home)).collect();
    let must: Vec<String> = homes.iter().map(|home| count(home).to_string()).collect();
    (what.join("; "), must.join(" + "))
}

/// What is in place when the ride is open, place by place, with a blank for what is counted.
pub(super) fn pins(given: &Given<'_>, made: &mut Making) {
    let places = by_place(given, |home| home.open);
    if places.is_empty() {
        return;
    }
    let clip = given.plan.words.word(Word::Clip);
    made.push(Block::Text(format!(
        "Counted place by place as a hold point: \"4 in, 4 {clip}s in\". The sums must add up, or somebody looks."
    )));
    counted("When the ride is open", places, |home| home.open, made);
    empty(given, "Empty when the ride is open", |home| home.open, made);
    by_fixing(given, made, "open", |home| home.open);
}

/// The same for the road.
pub(super) fn homes_on_the_road(given: &Given<'_>, made: &mut Making) {
    let places = by_place(given, |home| home.on_the_road);
    if !places.is_empty() {
        counted("Every fixing home for the road", places, |home| home.on_the_road, made);
        let spares: Vec<String> =
            given.ride.fixings.iter().map(|fixing| format!("{} {}", fixing.name, spares(fixing))).collect();
        made.push(Block::Text(format!("Spares besides: {}.", spares.join(", "))));
    }
}

fn counted(caption: &str, places: Vec<Counted<'_>>, count: fn(&HomeCount) -> i64, made: &mut Making) {
    let mut table = Table::new(
        caption,
        [
            ("place", "30mm"),
            ("fixings, and where", "1fr"),
            ("must be", "22mm"),
            ("counted", "28mm"),
            ("by", "19mm"),
            ("seen by", "19mm"),
        ],
    );
    table.tight = 0.35;
    for (place, homes) in places {
        let (what, must) = told(&homes, count);
        let (counted, by, seen) =
            (made.line(&place, &what, &must), made.line(&place, "by", ""), made.line(&place, "seen by", ""));
        table.row([Cell::bold(place), Cell::plain(what), Cell::Big(must), counted, by, seen]);
    }
    made.push(Block::Table(table));
}

/// The homes that must hold nothing, two beside each other.
fn empty(given: &Given<'_>, caption: &str, count: fn(&HomeCount) -> i64, made: &mut Making) {
    let homes: Vec<&HomeCount> =
        given.every.into_iter().flat_map(|every| &every.homes).filter(|home| count(home) == 0).collect();
    if homes.is_empty() {
        return;
    }
    let mut table =
        Table::new(caption, [("home", "1fr"), ("empty", "18mm"), ("home", "1fr"), ("empty", "18mm")]);
    table.tight = 0.6;
    for pair in homes.chunks(2) {
        let mut row = Vec::new();
        for home in pair {
            row.push(Cell::plain(format!("{}, of {}", home.home, home.fixing)));
            row.push(made.tick(&home.home, &format!("no {} left in it", home.fixing)));
        }
        row.resize(4, Cell::plain(""));
        table.rows.push(row);
    }
    made.push(Block::Table(table));
}

/// For each fixing the sum over its places, which must come to as many as there are.
pub(super) fn by_fixing(given: &Given<'_>, made: &mut Making, when: &str, count: fn(&HomeCount) -> i64) {
    let Some(every) = given.every else { return };
    let mut table = Table::new(
        &format!("Sums, when {when}"),
        [
            ("fixing", "34mm"),
            ("in its places", "1fr"),
            ("together", "20mm"),
            ("spares besides", "26mm"),
            ("counted", "28mm"),
        ],
    );
    table.tight = 0.35;
    for fixing in &given.ride.fixings {
        let homes: Vec<&HomeCount> = every.homes.iter().filter(|home| home.fixing == fixing.name).collect();
        if homes.is_empty() {
            continue;
        }
        let there: Vec<&&HomeCount> = homes.iter().filter(|home| count(home) != 0).collect();
        let told = match there.as_slice() {
            [one] => one.home.clone(),
            [first, .., last] if there.iter().all(|home| count(home) == count(first)) => {
                format!("{} in each of {} places, {} to {}", count(first), there.len(), first.home, last.home)
            }
            some => some
                .iter()
                .map(|home| format!("{} {}", count(home), home.home))
                .collect::<Vec<_>>()
                .join(", "),
        };
        let sum: i64 = homes.iter().map(|home| count(home)).sum();
        let counted = made.line(&fixing.name, "counted together", &sum.to_string());
        table.row([
            Cell::bold(fixing.name.as_str()),
            Cell::plain(told),
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
