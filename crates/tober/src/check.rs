//! `tober check`: what is wrong with books.

use crate::files::{self, Wrong};
use crate::{Ended, text};
use std::collections::BTreeSet;
use std::path::Path;
use tober_book::{
    Diagnostic, FileKind, Kit, Pitch, Ride, Source, Visit, parse_crew, parse_frame, parse_kit, parse_pitch,
    parse_ride, parse_visit, parse_weighing,
};
use tober_calc::finding::Standing;
use tober_plan::{LiftBooks, standing_of};
use tober_quantity::UnitSet;

/// Checks each file or folder. A visit is checked with all that belongs to it.
pub fn check(paths: &[impl AsRef<Path>]) -> Ended {
    let mut ended = Ended::Inside;
    for path in paths {
        let path = path.as_ref();
        match one(path) {
            Ok((sentence, steps)) => {
                files::print(&format!("{sentence}\n"));
                ended = ended.worse(steps.map_or(Ended::Inside, |steps| self::steps(&steps)));
            }
            Err(wrong) => ended = ended.worse(files::say(&wrong)),
        }
    }
    ended
}

/// A ride book whose steps are to be proved.
struct Steps {
    source: Source,
    ride: Ride,
    absent: Vec<String>,
    /// The kit, the pitch and the visit, where a visit is checked.
    around: Option<(Kit, Pitch, Visit)>,
}

/// Proves or refutes the steps of a ride book, and says so.
fn steps(book: &Steps) -> Ended {
    if book.ride.steps.is_empty() {
        return Ended::Inside;
    }
    let absent: BTreeSet<&str> = book.absent.iter().map(String::as_str).collect();
    let proofs = tober_procedure::prove(&book.ride, &absent);
    files::print(&text::proved(&proofs));
    let again = tober_plan::again(&book.ride, &absent, &proofs.claims);
    files::print(&text::again(&again));
    if !again.contradictions.is_empty() {
        files::tell(&text::contradicted(&again));
        return Ended::WrongInput;
    }
    for story in text::refuted(&proofs, &book.source) {
        files::tell(&story);
    }
    let of_steps = match (proofs.refuted().next(), proofs.not_known().next()) {
        (Some(_), _) => Ended::PastLimit,
        (None, Some(_)) => Ended::NotKnown,
        (None, None) => Ended::Inside,
    };
    of_steps.worse(lifts(book))
}

/// The lifts of the steps. Of a ride book alone only what is past its limit counts: winch, terrain and days come with a visit.
fn lifts(book: &Steps) -> Ended {
    let (kit, pitch, visit) = match &book.around {
        Some((kit, pitch, visit)) => (Some(kit), Some(pitch), Some(visit)),
        None => (None, None, None),
    };
    let mut all = tober_plan::lifts(LiftBooks { ride: &book.ride, kit, pitch, visit });
    if visit.is_none() {
        all.retain(|lift| standing_of(lift) == Standing::PastLimit);
    }
    let units = visit.map_or(UnitSet::Metric, tober_plan::units);
    files::print(&text::lifts(&all, units, false));
    all.iter().map(|lift| crate::plan::of(standing_of(lift))).fold(Ended::Inside, Ended::worse)
}

fn one(path: &Path) -> Result<(String, Option<Steps>), Wrong> {
    let named = path.display();
    let visit =
        path.is_dir() || path.file_name().is_some_and(|name| name.to_string_lossy().ends_with("visit.toml"));
    if visit {
        let books = files::visit(path)?;
        let crew =
            books.crew.as_ref().map_or(String::new(), |crew| format!(" and {} people", crew.people.len()));
        let sentence = format!(
            "{named}: nothing is wrong. {} with {} supports, {} bodies, {} kinds of board{crew}.",
            books.ride.about.name,
            books.ride.supports.len(),
            books.ride.bodies.len(),
            books.kit.boards.len()
        );
        let file = files::visit_file(path);
        let (name, text) = files::ride_text(&file).unwrap_or_default();
        let absent = books.visit.about.without.clone();
        let around = Some((books.kit, books.pitch, books.visit));
        let steps = Steps { source: Source::new(&name, &text), ride: books.ride, absent, around };
        return Ok((sentence, Some(steps)));
    }
    let text = files::read(path).map_err(Wrong::file)?;
    let source = Source::new(&named.to_string(), &text);
    let Some(kind) = kind(&text) else {
        let sentence = format!(
            "{named} is none of the files Tober reads: it has no section [ride], [kit], [crew], [pitch], [visit] or [weighing], and no [[leg]]."
        );
        return Err(Wrong::file(sentence));
    };
    let what = match kind {
        FileKind::Ride => "ride book",
        FileKind::Frame => "lowered frame",
        other => other.word(),
    };
    let diagnostics = diagnostics(kind, &source);
    // A weighing is held against the ride book that lies beside it.
    let ride = path.with_file_name(FileKind::Ride.file_name());
    if kind == FileKind::Weighing && diagnostics.is_empty() && ride.is_file() {
        crate::weigh::books(&ride, path)?;
        let sentence =
            format!("{named}: nothing is wrong with this {what}, nor with {} beside it.", ride.display());
        return Ok((sentence, None));
    }
    if diagnostics.is_empty() {
        let ride = if kind == FileKind::Ride { parse_ride(&source).value } else { None };
        let steps = ride.map(|ride| Steps { source, ride, absent: Vec::new(), around: None });
        Ok((format!("{named}: nothing is wrong with this {what}."), steps))
    } else {
        Err(Wrong::books(diagnostics))
    }
}

/// What is wrong with a file of a kind.
pub fn diagnostics(kind: FileKind, source: &Source) -> Vec<Diagnostic> {
    match kind {
        FileKind::Ride => parse_ride(source).diagnostics,
        FileKind::Kit => parse_kit(source).diagnostics,
        FileKind::Crew => parse_crew(source).diagnostics,
        FileKind::Visit => parse_visit(source).diagnostics,
        FileKind::Pitch => parse_pitch(source).diagnostics,
        FileKind::Frame => parse_frame(source).diagnostics,
        FileKind::Weighing => parse_weighing(source).diagnostics,
    }
}

/// Which file it is, by the first section that only one of them has.
fn kind(text: &str) -> Option<FileKind> {
    // A ride book has a frame too, so a lowered frame is known by its legs.
    let sections = [
        ("[ride]", FileKind::Ride),
        ("[kit]", FileKind::Kit),
        ("[crew]", FileKind::Crew),
        ("[pitch]", FileKind::Pitch),
        ("[visit]", FileKind::Visit),
        ("[[leg]]", FileKind::Frame),
        ("[weighing]", FileKind::Weighing),
    ];
    text.lines().find_map(|line| {
        let line = line.trim_start();
        sections.into_iter().find(|(section, _)| line.starts_with(section)).map(|(_, kind)| kind)
    })
}
