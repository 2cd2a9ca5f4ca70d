//! The demo's files, read.

use tober_book::{Source, parse_kit, parse_pitch, parse_ride, parse_visit, with_rows};
use tober_plan::{Books, Plan, plan};

/// The texts of a visit's files.
#[derive(Clone)]
pub struct Texts {
    pub ride: String,
    pub kit: String,
    pub pitch: String,
    pub visit: String,
    /// A file of readings beside the pitch.
    pub rows: Option<String>,
}

const RIDE: &str = include_str!("../../../../demo/lantern/ride.toml");
const KIT: &str = include_str!("../../../../demo/lantern/kit.toml");

/// The easy pitch.
pub fn plover_hard() -> Texts {
    Texts {
        ride: without_steps(RIDE),
        kit: KIT.to_owned(),
        pitch: include_str!("../../../../demo/lantern/plover-hard/pitch.toml").to_owned(),
        visit: include_str!("../../../../demo/lantern/plover-hard/visit.toml").to_owned(),
        rows: None,
    }
}

/// The hard one.
pub fn quern_meadow() -> Texts {
    Texts {
        pitch: include_str!("../../../../demo/lantern/quern-meadow/pitch.toml").to_owned(),
        visit: include_str!("../../../../demo/lantern/quern-meadow/visit.toml").to_owned(),
        rows: Some(include_str!("../../../../demo/lantern/quern-meadow/tape.csv").to_owned()),
        ..plover_hard()
    }
}

/// A ride book without its steps, on which only its stages rest (`tests/held`): tests that change every key are the quicker for it.
pub fn without_steps(ride: &str) -> String {
    let mut inside = false;
    let kept = ride.lines().filter(|line| {
        if line.starts_with('[') {
            inside = line.starts_with("[[step]]") || line.starts_with("[step.");
        }
        !inside
    });
    kept.collect::<Vec<_>>().join("\n")
}

/// The plan of a visit, or the first complaint about its files.
pub fn planned(texts: &Texts) -> Result<Plan, String> {
    let first = |diagnostics: Vec<tober_book::Diagnostic>| {
        diagnostics.first().map_or("no value".to_owned(), ToString::to_string)
    };
    let ride = parse_ride(&Source::new("ride.toml", &texts.ride)).into_result().map_err(first)?;
    let kit = parse_kit(&Source::new("kit.toml", &texts.kit)).into_result().map_err(first)?;
    let mut pitch = parse_pitch(&Source::new("pitch.toml", &texts.pitch));
    let named = pitch.value.as_ref().is_some_and(|p| p.readings.as_ref().is_some_and(|r| r.file().is_some()));
    if let (true, Some(rows)) = (named, &texts.rows) {
        pitch = with_rows(pitch, &Source::new("rows.csv", rows));
    }
    let pitch = pitch.into_result().map_err(first)?;
    let visit = parse_visit(&Source::new("visit.toml", &texts.visit)).into_result().map_err(first)?;
    Ok(plan(Books { ride: &ride, kit: &kit, pitch: &pitch, visit: &visit }))
}
