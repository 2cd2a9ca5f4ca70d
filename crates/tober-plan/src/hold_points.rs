//! Hold points: where nothing goes on until the chief has looked, with what must be so, what is counted and what is read.

use crate::rehearse::reading_words;
use std::collections::{BTreeMap, BTreeSet};
use tober_book::{Interval, Need, Phase, Ride, Step};
use tober_calc::finding::{Finding, Subject};
use tober_quantity::UnitSet;

/// A hold point: where nothing goes on until the chief has looked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoldPoint {
    /// The step.
    pub step: String,
    /// What the chief looks at.
    pub looks_at: String,
    /// What must have been so before the step began, in words.
    pub must_be: Vec<String>,
    /// What has been moved since the hold point before, counted where it now is: fixing, home, how many.
    pub counts: Vec<(String, String, i64)>,
    /// What is read off, with its range.
    pub readings: Vec<String>,
}

/// When a ride is looked at again, after it is unfolded.
const AGAIN: [(Interval, &str); 5] = [
    (Interval::BuildUp, "after unfolding"),
    (Interval::FirstLoad, "after the first full load"),
    (Interval::Hour, "after an hour"),
    (Interval::Rain, "after rain"),
    (Interval::Day, "each morning"),
];

/// The hold points in the order of the phases and of the book.
pub(crate) fn hold_points(ride: &Ride, absent: &BTreeSet<&str>, units: UnitSet) -> Vec<HoldPoint> {
    let there = |names: &[String]| !names.iter().any(|body| absent.contains(body.as_str()));
    let mut steps: Vec<&Step> =
        ride.steps.iter().filter(|step| step.phase != Phase::Stopped && there(&step.only_with)).collect();
    steps.sort_by_key(|step| step.phase);
    let mut homes: BTreeMap<(&str, &str), i64> = BTreeMap::new();
    for fixing in ride.fixings.iter().filter(|fixing| there(&fixing.only_with)) {
        for home in &fixing.homes {
            let count = i64::try_from(home.on_the_road.unwrap_or(0)).unwrap_or(0);
            homes.insert((&fixing.name, &home.name), count);
        }
    }
    let mut touched: Vec<(&str, &str)> = Vec::new();
    let mut readings: Vec<String> = Vec::new();
    let mut all = Vec::new();
    for step in steps {
        for pins in &step.pins {
            let count = i64::try_from(pins.count).unwrap_or(0);
            for (home, by) in [(&pins.from, -count), (&pins.to, count)] {
                let key = (pins.fixing.as_str(), home.as_str());
                *homes.entry(key).or_insert(0) += by;
                if by > 0 && !touched.contains(&key) {
                    touched.push(key);
                }
            }
        }
        readings.extend(step.reading.as_ref().map(|reading| reading_words(reading, units)));
        let Some(looks_at) = &step.hold_point else { continue };
        let counted =
            core::mem::take(&mut touched).into_iter().map(|key| (key, homes.get(&key).copied().unwrap_or(0)));
        all.push(HoldPoint {
            step: step.name.clone(),
            looks_at: looks_at.clone(),
            must_be: needs(&step.needs),
            counts: counted
                .filter(|(_, count)| *count > 0)
                .map(|((fixing, home), count)| (fixing.to_owned(), home.to_owned(), count))
                .collect(),
            readings: core::mem::take(&mut readings),
        });
    }
    all
}

/// Needs in words, those for the same fixing together: `every arm pin in hinge A to hinge H (8 places)`.
fn needs(needs: &[Need]) -> Vec<String> {
    let mut all: Vec<(String, Vec<&str>)> = Vec::new();
    for need in needs {
        let (what, place) = match (&need.body, &need.fixing, &need.switch, &need.support, &need.line) {
            (Some(body), ..) => {
                let Some(at) = &need.at else { continue };
                (format!("{body} in \"{at}\""), None)
            }
            (_, Some(fixing), ..) => {
                let count = need.count.map_or(String::from("every"), |count| count.to_string());
                (format!("{count} {fixing}"), need.home.as_deref())
            }
            (_, _, Some(switch), ..) => {
                let Some(is) = need.is else { continue };
                (format!("{switch} {}", is.word()), None)
            }
            (_, _, _, Some(support), _) => (format!("leg {support} set"), None),
            (.., Some(line)) => (format!("the winch line on {line}"), None),
            _ => continue,
        };
        match all.iter_mut().find(|(other, places)| *other == what && !places.is_empty()) {
            Some((_, places)) => places.extend(place),
            None => all.push((what, Vec::from_iter(place))),
        }
    }
    let told = |(what, places): (String, Vec<&str>)| match places.as_slice() {
        [] => what,
        [first, .., last] if places.len() > 3 => {
            format!("{what} in {first} to {last} ({} places)", places.len())
        }
        some => format!("{what} {}", some.iter().map(|home| placed(home)).collect::<Vec<_>>().join(", ")),
    };
    all.into_iter().map(told).collect()
}

/// A home with the word before it, where its name does not begin with one.
fn placed(home: &str) -> String {
    let has = ["in ", "at ", "on ", "across ", "round ", "under "].iter().any(|word| home.starts_with(word));
    if has { home.to_owned() } else { format!("in {home}") }
}

/// What is not known of looking again: an interval for which the book names nothing. None for a ride without seats.
pub(crate) fn looked_at_again(ride: &Ride) -> Vec<Finding> {
    if ride.seats.is_empty() {
        return Vec::new();
    }
    let missing =
        AGAIN.iter().filter(|(interval, _)| !ride.checks.iter().any(|check| check.interval == *interval));
    missing
        .map(|(interval, when)| {
            let title = format!("what is looked at {when}");
            let wanted = format!("A `[[check]]` with `interval = \"{}\"`.", interval.word());
            Finding::not_known("checks.again", Subject::Ride, &title, &wanted)
        })
        .collect()
}

/// What is looked at again, and when, in the order in which it comes.
pub fn looked_at(ride: &Ride) -> Vec<(&'static str, Vec<String>)> {
    let items = |interval: Interval| -> Vec<String> {
        ride.checks
            .iter()
            .filter(|check| check.interval == interval)
            .map(|check| check.item.clone())
            .collect()
    };
    AGAIN
        .iter()
        .map(|(interval, when)| (*when, items(*interval)))
        .filter(|(_, items)| !items.is_empty())
        .collect()
}
