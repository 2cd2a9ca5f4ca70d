//! What must be so before the road: everything home, what axles and hitch carry, how high and wide it is, and who looked.

use super::count::homes_on_the_road;
use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use crate::say;
use tober_book::{Interval, Phase};
use tober_draw::solid::{Pose, solid_of};
use tober_quantity::{Force, Length, Quantity as _, Rounding, Shown};

/// What stands before every journey whatever the book says: common practice, no source.
const ALWAYS: [&str; 9] = [
    "Coupling closed and locked, hand on it",
    "Safety cable or breakaway cable on",
    "Hitch jack wound up and locked, chocks off the ground",
    "Every leg up, pinned and clipped for the road",
    "Lashings and straps tight, no load leans on one",
    "Lights and indicators, all of them, both sides",
    "Tyres: pressure, walls, wheel nuts",
    "Brakes tried at a walking pace",
    "Number plate, papers, tall enough for the way",
];

/// The sheet. Empty where the book knows neither fixings nor wheels.
pub(super) fn road(given: &Given<'_>, made: &mut Making) {
    let frame = &given.ride.frame;
    let homes = given.every.is_some_and(|every| !every.homes.is_empty());
    if !homes && frame.axles.is_empty() && frame.hitch.is_none() {
        return;
    }
    made.push(Block::Cautions(vec![
        "The maker's manual and the law come first. Nothing here says that it may go on a road.".to_owned(),
        "Every strap, coupling, safety cable and lamp is looked at by a second person.".to_owned(),
        "After the first kilometres stop, and look at straps and wheel nuts again (common practice, no source)."
            .to_owned(),
    ]));
    weights(given, made);
    if homes {
        homes_on_the_road(given, made);
    }
    looked_at(given, made);
}

/// Masses, loads, height and width: what the book knows, and a blank for what was read.
fn weights(given: &Given<'_>, made: &mut Making) {
    let (ride, units) = (given.ride, given.plan.units);
    let mut table = Table::new(
        "Weights and size; what stands in the last column counts, and it is blank until somebody has read it",
        [
            ("what", "1fr"),
            ("the book says", "38mm"),
            ("may be", "34mm"),
            ("read", "32mm"),
            ("ticket or by", "26mm"),
        ],
    );
    table.tight = 0.9;
    let unknown = || "not known".to_owned();
    let load = |load: Force, rounding: Rounding| say::load(load.mass(), units, rounding);
    let mut row = |made: &mut Making, what: &str, book: Option<String>, may: Option<String>| {
        let must = may.clone().map_or_else(String::new, |may| format!("at most {may}"));
        let (read, by) = (made.line(what, "read", &must), made.line(what, "ticket or by", ""));
        table.row([
            Cell::plain(what),
            Cell::bold(book.unwrap_or_else(unknown)),
            Cell::plain(may.map_or_else(unknown, |may| format!("at most {may}"))),
            read,
            by,
        ]);
    };
    let mass = ride.about.mass.map(|mass| {
        let (low, high) = (
            say::load(mass.low(), units, Rounding::Capacity),
            say::load(mass.high(), units, Rounding::Requirement),
        );
        format!("{low} to {high}")
    });
    row(made, "everything on the weighbridge", mass, None);
    for (at, axle) in ride.frame.axles.iter().enumerate() {
        let book = axle.load.as_ref().map(|book| load(book.0, Rounding::Requirement));
        let may = axle.rated_load.as_ref().map(|rated| load(rated.0, Rounding::Capacity));
        row(made, &format!("axle {}, at {}", at + 1, say::coarse(axle.at, units)), book, may);
    }
    let hitch = ride.frame.hitch.as_ref().and_then(|hitch| hitch.load.as_ref());
    row(made, "hitch", hitch.map(|book| load(book.0, Rounding::Requirement)), None);
    let size = extent(given);
    let length = |length: Length| length.amount().shown(Shown::Coarse).print(units, Rounding::Requirement);
    let told = |value: Option<Length>| {
        value.map(|value| match size.without.is_empty() {
            true => length(value),
            false => format!("at least {}", length(value)),
        })
    };
    row(made, "height of the highest part above the ground", told(size.height), None);
    row(made, "width over everything", told(size.width), None);
    row(made, "length over everything", told(size.length), None);
    made.push(Block::Table(table));
    let mut said = vec![
        "What the book says of axles and hitch is for the ride at rest on its wheels, as it travels."
            .to_owned(),
    ];
    if size.height.is_some() || size.width.is_some() {
        let mut sentence =
            "Height, width and length are those of the shapes in the book, in their places for the road"
                .to_owned();
        if !size.without.is_empty() {
            sentence.push_str(&format!(", without {}, which have no shape", size.without.join(", ")));
        }
        said.push(format!("{sentence}: measure them once, with a tape and a level."));
    }
    said.push(
        "Type what was read into weighing.toml by the names of this table; tober weigh then says what each part weighs."
            .to_owned(),
    );
    made.push(Block::List(said));
}

/// How large the ride is as it travels.
#[derive(Default)]
struct Extent {
    height: Option<Length>,
    width: Option<Length>,
    length: Option<Length>,
    /// The bodies that were not counted.
    without: Vec<String>,
}

/// The box round every shape of the book in its place for the road. Height is above level ground with the trailer at rest on its
/// wheels, and is not known where the book does not say how high it rests.
fn extent(given: &Given<'_>) -> Extent {
    let (mut least, mut most) = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
    let mut size = Extent::default();
    let there = |name: &String| !given.visit.about.without.contains(name);
    for body in given.ride.bodies.iter().filter(|body| there(&body.name)) {
        match (&body.shape, body.placement("road")) {
            (Some(shape), Some(place)) => {
                for corner in solid_of(shape, &Pose::of(place)).corners {
                    for axis in 0..3 {
                        least[axis] = least[axis].min(corner[axis]);
                        most[axis] = most[axis].max(corner[axis]);
                    }
                }
            }
            _ => size.without.push(body.name.clone()),
        }
    }
    if least[0] > most[0] {
        return Extent::default();
    }
    // The frame itself and its hitch are no bodies of the book.
    let frame = &given.ride.frame;
    if let Some(length) = frame.length {
        (least[0], most[0]) = (least[0].min(0.0), most[0].max(length.as_m()));
    }
    if let Some(width) = frame.width {
        let half = width.as_m() / 2.0;
        (least[1], most[1]) = (least[1].min(-half), most[1].max(half));
    }
    if let Some(hitch) = &frame.hitch {
        most[0] = most[0].max(hitch.at.along.as_m());
    }
    let off = |axis: usize| Length::m(most[axis] - least[axis]);
    size.height = frame.resting_height.map(|rests| rests + Length::m(most[2]));
    (size.length, size.width) = (Some(off(0)), Some(off(1)));
    size
}

/// What is looked at before it moves: what always is, the book's checks of a journey and its steps for leaving.
fn looked_at(given: &Given<'_>, made: &mut Making) {
    let mut table = Table::new(
        "Looked at before it moves",
        [("what", "1fr"), ("good", "20mm"), ("by", "26mm"), ("seen by", "26mm")],
    );
    table.tight = 0.7;
    let checks: Vec<String> = given
        .ride
        .checks
        .iter()
        .filter(|check| check.interval == Interval::Journey)
        .map(|check| say::capital(&check.item))
        .collect();
    let steps: Vec<String> =
        given.steps_of(&[Phase::Leave]).iter().map(|(_, step)| step.title.clone()).collect();
    let always: Vec<String> = ALWAYS.map(str::to_owned).into();
    for (head, items) in [
        ("The book's checks of a journey", checks),
        ("The book's steps for leaving", steps),
        ("Besides, always (common practice, no source)", always),
    ] {
        if items.is_empty() {
            continue;
        }
        table.group(head);
        for what in items {
            let (good, by, seen) =
                (made.tick(&what, "good"), made.line(&what, "by", ""), made.line(&what, "seen by", ""));
            table.row([Cell::plain(what), good, by, seen]);
        }
    }
    made.push(Block::Table(table));
}
