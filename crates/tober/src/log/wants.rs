//! What a blank of a sheet wants, and what its log keeps of it.

use tober_plan::Plan;
use tober_quantity::{
    Acceleration, Angle, Current, Force, FrequencyOfTurning, Length, Mass, Moment, Power, Pressure, Quantity,
    Ratio, Slope, Speed, Temperature, Time, UnitSet, Voltage, Word,
};

/// What is kept of a blank that the log has a kind of entry for: its kind, its subject, and the value.
pub type Kept = (&'static str, String, String);

/// A blank that was written into.
pub struct Blank<'a> {
    pub about: &'a str,
    pub what: &'a str,
    pub must: &'a str,
    pub written: &'a str,
}

/// A blank, read.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Read {
    /// The entries of kinds that the log has; none where it is kept as a note.
    pub kept: Vec<Kept>,
    /// How what was written differs from what the blank must be. It is kept as it was written all the same.
    pub differs: Option<String>,
}

/// The blanks that are ticked, by what stands beside them, besides those of the legs.
const TICKS: [&str; 5] = ["foot snug", "hold point passed", "good", "jammed", "done"];
/// The blanks into which a whole number is written.
const COUNTS: [&str; 3] = ["riders aboard", "emptied as number", "riders off"];

/// Reads what was written into a blank.
///
/// `plan` is the plan of the sheet where that is the one of the visit; of another plan nothing is known, and all of it is
/// kept as notes.
///
/// # Errors
/// What was written cannot be what the blank wants: what would be right.
pub fn read(blank: &Blank<'_>, plan: Option<&Plan>) -> Result<Read, String> {
    let mut read = Read::default();
    if let Some(plan) = plan
        && let Some(done) = of_a_leg(blank, plan)?
    {
        read.kept = done;
        return Ok(read);
    }
    let Blank { what, must, written, .. } = *blank;
    if TICKS.contains(&what) || what.starts_with("no ") && what.ends_with(" left in it") {
        ticked(written)?;
    } else if COUNTS.contains(&what) {
        count(written)?;
    } else if what == "gust read" {
        Speed::parse(written).map_err(|error| error.hint())?;
    }
    if let Ok(wanted) = must.parse::<u32>() {
        let counted = count(written)?;
        read.differs = (counted != wanted).then(|| format!("it must be {wanted}"));
    } else {
        read.differs = against(must, written)?;
    }
    Ok(read)
}

/// What the log keeps of a leg and of the kit, under the names that the page has for them.
fn of_a_leg(blank: &Blank<'_>, plan: &Plan) -> Result<Option<Vec<Kept>>, String> {
    let Blank { about, what, written, .. } = *blank;
    let clip = plan.words.word(Word::Clip);
    let locks = [format!("pin and {clip} in, second hands"), "screw locked, second hands".to_owned()];
    let works: &[&str] = match what {
        "packed, set and locked" => &["built", "pinned"],
        "stack built as drawn" => &["built"],
        lock if locks.iter().any(|known| known == lock) => &["pinned"],
        _ => &[],
    };
    let of_legs = !works.is_empty() || matches!(what, "height of the frame" | "foot snug or light");
    if of_legs && !plan.legs.iter().any(|leg| leg.name == about) {
        let names: Vec<&str> = plan.legs.iter().map(|leg| leg.name.as_str()).collect();
        return Err(format!("\"{about}\" is no leg of this ride. Its legs are: {}.", names.join(", ")));
    }
    if !works.is_empty() {
        // What was not done is no tick, and still was written.
        let done = ticked(written)?;
        return Ok(done.then(|| {
            works.iter().map(|work| ("tick", format!("{work} {about}"), "yes".to_owned())).collect()
        }));
    }
    // A sheet is printed before the frame is read for the first time: its fields are those of the first round.
    let of_round = |field: &str| format!("{} 1 {field} {about}", plan.name);
    match what {
        "height of the frame" => Ok(Some(vec![("reading", of_round("height"), fine(written, plan.units)?)])),
        "foot snug or light" => {
            let said = written.to_lowercase();
            let gap = said.strip_prefix("light").map(|rest| rest.trim_matches([' ', ',', ':']));
            match (said.as_str(), gap) {
                ("snug", _) => Ok(Some(vec![("reading", of_round("foot"), "snug".to_owned())])),
                (_, Some(gap)) => {
                    let mut kept = vec![("reading", of_round("foot"), "light".to_owned())];
                    if !gap.is_empty() {
                        kept.push(("reading", of_round("gap"), fine(gap, plan.units)?));
                    }
                    Ok(Some(kept))
                }
                _ => Err("Write snug, or light, or light with the gap, such as light 3 mm.".to_owned()),
            }
        }
        "sound ones counted" => {
            if !plan.kit_left.iter().any(|left| left.board == about) {
                return Err(format!("\"{about}\" is no board of this kit."));
            }
            Ok(Some(vec![("reading", format!("count {about}"), count(written)?.to_string())]))
        }
        _ => Ok(None),
    }
}

/// Whether a tick says that it was done.
fn ticked(written: &str) -> Result<bool, String> {
    match written.to_lowercase().as_str() {
        "yes" | "y" | "x" | "v" | "ok" | "done" | "good" | "\u{2713}" | "\u{2714}" => Ok(true),
        "no" | "n" => Ok(false),
        _ => Err("Write yes or no, or leave it empty where nothing was ticked.".to_owned()),
    }
}

fn count(written: &str) -> Result<u32, String> {
    written.parse().map_err(|_| "Write a whole number, such as 6.".to_owned())
}

/// A length with its unit; a bare number has the unit of the sheet, whose plan has those units.
fn fine(written: &str, units: UnitSet) -> Result<String, String> {
    let text = written.replace(',', ".");
    let bare = text.chars().all(|c| c.is_ascii_digit() || " ./+-\u{2212}".contains(c));
    let unit = if units == UnitSet::Us { "in" } else { "mm" };
    let text = if bare { format!("{text} {unit}") } else { text };
    Length::parse(&text).map(|_| text).map_err(|error| error.hint())
}

/// A text as a quantity of each kind that a sheet has a range of, in SI units.
const KINDS: [fn(&str) -> Option<f64>; 16] = [
    |text| Length::parse(text).ok().map(Quantity::si),
    |text| Slope::parse(text).ok().map(Quantity::si),
    |text| Mass::parse(text).ok().map(Quantity::si),
    |text| Force::parse(text).ok().map(Quantity::si),
    |text| Moment::parse(text).ok().map(Quantity::si),
    |text| Pressure::parse(text).ok().map(Quantity::si),
    |text| Time::parse(text).ok().map(Quantity::si),
    |text| Speed::parse(text).ok().map(Quantity::si),
    |text| Angle::parse(text).ok().map(Quantity::si),
    |text| Ratio::parse(text).ok().map(Quantity::si),
    |text| Temperature::parse(text).ok().map(Quantity::si),
    |text| FrequencyOfTurning::parse(text).ok().map(Quantity::si),
    |text| Acceleration::parse(text).ok().map(Quantity::si),
    |text| Power::parse(text).ok().map(Quantity::si),
    |text| Current::parse(text).ok().map(Quantity::si),
    |text| Voltage::parse(text).ok().map(Quantity::si),
];

/// Holds a figure against a printed range: `10 s to 14 s`, `at least 12.0 m`, `at most 3 mm`. Anything else is no range, and
/// nothing is held against it.
fn against(must: &str, written: &str) -> Result<Option<String>, String> {
    let (low, high) =
        match (must.strip_prefix("at least "), must.strip_prefix("at most "), must.split_once(" to ")) {
            (Some(low), ..) => (Some(low), None),
            (_, Some(high), _) => (None, Some(high)),
            (.., Some((low, high))) => (Some(low), Some(high)),
            _ => return Ok(None),
        };
    let Some(kind) =
        KINDS.iter().find(|kind| [low, high].into_iter().flatten().all(|end| kind(end).is_some()))
    else {
        return Ok(None);
    };
    let Some(figure) = kind(&written.replace(',', ".")) else {
        return Err(format!("It must be {must}: write the figure with its unit, as it was read."));
    };
    let outside = low.and_then(kind).is_some_and(|low| figure < low)
        || high.and_then(kind).is_some_and(|high| figure > high);
    Ok(outside.then(|| format!("it must be {must}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(what: &str, must: &str, written: &str) -> Result<Read, String> {
        read(&Blank { about: "brake", what, must, written }, None)
    }

    #[test]
    fn hand_a_figure_is_held_against_what_its_blank_must_be() {
        let fits = Ok(Read::default());
        assert_eq!(of("stops in", "10 s to 14 s", "12 s"), fits);
        assert_eq!(of("stops in", "10 s to 14 s", "0.2 min"), fits, "0.2 min are 12 s");
        assert_eq!(of("clear", "at least 12.0 m", "40 ft"), fits, "40 ft are 12.192 m");
        assert_eq!(of("level", "\u{2212}3.0 mm/m to 3.0 mm/m", "-2 mm/m"), fits);
        assert_eq!(of("turns", "2.8 rpm to 3.2 rpm", "3 rpm"), fits);
        assert_eq!(of("supply", "380 V to 420 V", "400 V"), fits);
        assert_eq!(of("pins", "4", "4"), fits);
        assert_eq!(of("looked at", "", "rust at the hinge"), fits);
        for (must, written) in
            [("10 s to 14 s", "15 s"), ("at least 12.0 m", "39 ft"), ("at most 3 mm", "4 mm"), ("4", "3")]
        {
            let read = of("found", must, written).expect("it can be read");
            assert_eq!(read.differs, Some(format!("it must be {must}")), "{written}");
        }
    }

    #[test]
    fn refuse_what_a_blank_does_not_want() {
        for (what, must, written, right) in [
            ("stops in", "10 s to 14 s", "12", "It must be 10 s to 14 s"),
            ("stops in", "10 s to 14 s", "12 m", "with its unit"),
            ("pins", "4", "four", "a whole number"),
            ("riders off", "", "all", "a whole number"),
            ("good", "", "perhaps", "yes or no"),
            ("gust read", "", "strong", "the unit"),
        ] {
            let said = of(what, must, written).expect_err(written);
            assert!(said.contains(right), "{what} {written}: {said}");
        }
    }
}
