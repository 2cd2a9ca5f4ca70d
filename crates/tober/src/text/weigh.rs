//! A weighing as text: each mass before and after, what does not fit, what to weigh next, what to write down.

use super::trim::attention;
use super::{line, lines};
use core::fmt::Write;
use tober_book::{Ride, Weighing};
use tober_calc::weighing::{FoundState, Next, On, Possible, Wanted};
use tober_plan::{Entry, WeighedRide};
use tober_quantity::{Length, Mass, Quantity, Ratio, Rounding, Shown, Toleranced, UnitSet, significant};

/// The whole weighing.
pub fn weighed(ride: &Ride, read: &Weighing, weighed: &WeighedRide, units: UnitSet, working: bool) -> String {
    let mut out = String::new();
    let _ = writeln!(
        out,
        "{} weighed    {}, {}",
        ride.about.name,
        counted(read.states.len(), "state"),
        counted(read.readings.len(), "reading")
    );
    if ride.about.invented.is_some() || read.about.invented.is_some() {
        line(&mut out, "Invented: for trying out only.");
    }
    line(&mut out, "");
    masses(&mut out, weighed, units);
    line(&mut out, "As it stood");
    for state in weighed.found.states.iter().take(read.states.len()) {
        let _ = writeln!(out, "  {}: {}", state.name, stood(state, units));
    }
    line(&mut out, "");
    readings(&mut out, weighed, units);
    attention(&mut out, &weighed.findings, units);
    for sentence in &weighed.left_out {
        let _ = writeln!(out, "  {sentence}");
    }
    line(&mut out, "");
    next(&mut out, &weighed.found.next, units);
    entries(&mut out, ride, &weighed.entries, units);
    if working {
        line(&mut out, "\nWorking");
        for working in &weighed.workings {
            line(&mut out, "");
            lines(&mut out, working, units);
        }
    }
    out
}

/// "1 reading", "2 readings".
fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

fn kg(mass: Mass, units: UnitSet) -> String {
    mass.amount().print(units, Rounding::Nearest)
}

/// A deviation of a mass, never printed as nothing.
fn off(deviation: Mass, units: UnitSet) -> String {
    deviation.amount().print(units, Rounding::Demand)
}

fn percent(told: Ratio) -> String {
    // What is told is rounded down: never more than it is.
    format!("{} %", (told.as_one() * 100.0).floor())
}

fn masses(out: &mut String, weighed: &WeighedRide, units: UnitSet) {
    line(out, "Masses: by the book; by the book and the scales; how much of that the scales tell");
    let width = weighed.found.bodies.iter().map(|body| body.name.chars().count()).max().unwrap_or(0);
    for body in &weighed.found.bodies {
        let _ = writeln!(
            out,
            "  {:width$}  {} give or take {}, {};  {} give or take {};  {}",
            body.name,
            kg(body.before.mass, units),
            off(body.before.deviation, units),
            body.before.from,
            kg(body.mass, units),
            off(body.deviation, units),
            percent(body.told)
        );
    }
    for (a, b, correlation) in &weighed.found.together {
        let r = significant(correlation.as_one(), 2);
        let _ = writeln!(
            out,
            "  The scales hardly tell \"{a}\" from \"{b}\" (correlation {r}): their sum is surer."
        );
    }
    let of = weighed.found.bodies.iter().filter(|body| body.before.deviation > Mass::ZERO).count();
    let _ = writeln!(
        out,
        "  The scales tell {} of {} and their places; the book carries the rest.\n",
        counted(weighed.found.determined, "combination"),
        if of == 1 { "1 mass".to_owned() } else { format!("{of} masses") }
    );
}

fn stood(state: &FoundState, units: UnitSet) -> String {
    let mut out = format!("{} give or take {}", kg(state.total.0, units), off(state.total.1, units));
    for (place, way) in [(state.along, "along"), (state.across, "across")] {
        if let Some((at, deviation)) = place {
            let at = at.amount().shown(Shown::Coarse).print(units, Rounding::Nearest);
            let deviation = deviation.amount().shown(Shown::Finest).print(units, Rounding::Demand);
            let _ = write!(out, ", acts {at} {way} give or take {deviation}");
        }
    }
    out
}

fn readings(out: &mut String, weighed: &WeighedRide, units: UnitSet) {
    line(out, "What the scales said, and how far that is from what was found, in deviations of that");
    let read = weighed.question.readings.iter().zip(&weighed.found.residuals);
    for (reading, residual) in read {
        let fits = residual.standardised.map_or("nothing checks it".to_owned(), |w| {
            format!("{} off, {}", kg(residual.residual, units), significant(w.as_one(), 2))
        });
        let _ = writeln!(out, "  {}: {}; {fits}", reading.name, kg(reading.mass, units));
    }
    line(out, "");
}

fn next(out: &mut String, next: &[Next], units: UnitSet) {
    if next.is_empty() {
        return;
    }
    line(out, "What to weigh next, each by what it makes surest");
    for next in next {
        let mass = |si: f64| off(Mass::kg(si), units);
        let length = |si: f64| Length::m(si).amount().shown(Shown::Finest).print(units, Rounding::Demand);
        let (wanted, now, then) = match &next.wanted {
            Wanted::Total(state) => (format!("the mass of \"{state}\""), mass(next.now), mass(next.then)),
            Wanted::Along(state) => {
                (format!("where \"{state}\" acts along"), length(next.now), length(next.then))
            }
            Wanted::Across(state) => {
                (format!("where \"{state}\" acts across"), length(next.now), length(next.then))
            }
            Wanted::Body(body) => (format!("the mass of \"{body}\""), mass(next.now), mass(next.then)),
        };
        let weigh = match &next.reading {
            Possible::One { state, on: On::Everything } => format!("everything, \"{state}\""),
            Possible::One { state, on: On::These(names) } => format!("{}, \"{state}\"", names.join(" + ")),
            Possible::Each { state } => format!("each support by itself, \"{state}\""),
            Possible::Alone { body } => format!("\"{body}\" by itself, where it can be taken off"),
        };
        let _ = writeln!(out, "  for {wanted}: {weigh}; give or take {now} now, {then} then");
    }
    line(out, "");
}

/// A mass and what it may be off by as a book has it, in whole units and never surer than it is.
fn toleranced(mass: Toleranced<Mass>, units: UnitSet) -> String {
    let (symbol, of) = match units {
        UnitSet::Us => ("lb", Mass::as_lb as fn(Mass) -> f64),
        UnitSet::Metric | UnitSet::Gb => ("kg", Mass::as_kg as fn(Mass) -> f64),
    };
    let whole = of(mass.value).round();
    let off_by = (of(mass.off_by) + (of(mass.value) - whole).abs()).ceil();
    format!("\"{whole} {symbol} ± {off_by} {symbol}\"")
}

fn entries(out: &mut String, ride: &Ride, entries: &[Entry], units: UnitSet) {
    if entries.is_empty() {
        line(out, "No mass is told well enough by the scales to be written into the ride book as weighed.");
        return;
    }
    line(
        out,
        "For the ride book; ± is twice the deviation. Weigh anew from the book as it was, not from these.",
    );
    for entry in entries {
        let section = match &entry.body {
            None => "[ride]".to_owned(),
            Some(body) => format!("[[body]]\nname = \"{body}\""),
        };
        let _ = writeln!(
            out,
            "\n{section}\nmass = {}    # {}, {}, before\nmass-from = \"weighed\"",
            toleranced(entry.mass, units),
            kg(entry.before, units),
            entry.from
        );
        if let Some([along, across]) = &entry.place {
            let one = |place: &Toleranced<Length>| {
                // In whole millimetres, and never surer than it is.
                let (mm, off) = (place.value.as_mm(), place.off_by.as_mm());
                // Nothing has no sign.
                let whole = mm.round() + 0.0;
                format!("\"{whole} mm ± {} mm\"", (off + (mm - whole).abs()).ceil())
            };
            match ride.about.cg.map(|cg| cg.up) {
                Some(up) => {
                    let _ = writeln!(
                        out,
                        "cg = [{}, {}, {}]    # how high is not told by scales: as it was",
                        one(along),
                        one(across),
                        one(&up)
                    );
                }
                None => {
                    let _ = writeln!(
                        out,
                        "# cg = [{}, {}, ...]    # how high is not told by scales",
                        one(along),
                        one(across)
                    );
                }
            }
        }
    }
}
