//! `tober check`: what is wrong with books.

use crate::Ended;
use crate::files::{self, Wrong};
use std::path::Path;
use tober_book::{
    Diagnostic, Source, parse_crew, parse_frame, parse_kit, parse_pitch, parse_ride, parse_visit,
};

/// Checks each file or folder. A visit is checked with all that belongs to it.
pub fn check(paths: &[impl AsRef<Path>]) -> Ended {
    let mut ended = Ended::Inside;
    for path in paths {
        let path = path.as_ref();
        match one(path) {
            Ok(sentence) => files::print(&format!("{sentence}\n")),
            Err(wrong) => ended = files::say(&wrong),
        }
    }
    ended
}

fn one(path: &Path) -> Result<String, Wrong> {
    let named = path.display();
    let visit =
        path.is_dir() || path.file_name().is_some_and(|name| name.to_string_lossy().ends_with("visit.toml"));
    if visit {
        let books = files::visit(path)?;
        let crew =
            books.crew.as_ref().map_or(String::new(), |crew| format!(" and {} people", crew.people.len()));
        return Ok(format!(
            "{named}: nothing is wrong. {} with {} supports, {} bodies, {} kinds of board{crew}.",
            books.ride.about.name,
            books.ride.supports.len(),
            books.ride.bodies.len(),
            books.kit.boards.len()
        ));
    }
    let text = files::read(path).map_err(Wrong::file)?;
    let source = Source::new(&named.to_string(), &text);
    let (what, diagnostics): (&str, Vec<Diagnostic>) = match kind(&text) {
        Some("ride") => ("ride book", parse_ride(&source).diagnostics),
        Some("kit") => ("kit", parse_kit(&source).diagnostics),
        Some("crew") => ("crew", parse_crew(&source).diagnostics),
        Some("visit") => ("visit", parse_visit(&source).diagnostics),
        Some("pitch") => ("pitch", parse_pitch(&source).diagnostics),
        Some("leg") => ("lowered frame", parse_frame(&source).diagnostics),
        _ => {
            let sentence = format!(
                "{named} is none of the files Tober reads: it has no section [ride], [kit], [crew], [pitch] or [visit], and no [[leg]]."
            );
            return Err(Wrong::file(sentence));
        }
    };
    if diagnostics.is_empty() {
        Ok(format!("{named}: nothing is wrong with this {what}."))
    } else {
        Err(Wrong::books(diagnostics))
    }
}

/// Which file it is, by the first section that only one of them has.
fn kind(text: &str) -> Option<&'static str> {
    // A ride book has a frame too, so a lowered frame is known by its legs.
    let sections = ["ride", "kit", "crew", "pitch", "visit", "[leg]"];
    text.lines().find_map(|line| {
        let line = line.trim_start();
        let section = sections.into_iter().find(|section| line.starts_with(&format!("[{section}]")))?;
        Some(section.trim_matches(['[', ']']))
    })
}
