//! `tober new`: a book from the fewest answers, asked for on a terminal or given as flags.
//!
//! What is written is read by the same reader as every other book: an answer is tried by putting it into the book
//! in the place of its example, so that nothing can be accepted here that `tober check` refuses.
//!
//! Invariant: no file that is there is written over, and nobody is asked where nobody can answer.

mod asked;
mod crew;
mod flags;
mod kit;
mod pitch;
mod ride;
mod visit;
mod weighing;

pub use flags::New;

use crate::{Ended, files, schema};
use asked::{Answers, Given, Question, ask, said_wrong};
use std::fs::OpenOptions;
use std::io::{ErrorKind, IsTerminal, Write, stdin};
use std::path::Path;
use tober_book::{FileKind, Ride, Source, parse_pitch, parse_ride};

/// A kind of book that can be begun.
pub struct Begun {
    /// Which file.
    pub file: FileKind,
    /// What it is for, as the help says it.
    pub about: &'static str,
    /// What is asked, in order.
    pub questions: &'static [Question],
    /// The text of the book.
    pub write: fn(&Answers, &Beside) -> Result<String, Given>,
    /// What to do next, in this folder.
    pub next: &'static str,
}

/// Every kind of book that can be begun.
pub const BEGUN: [&Begun; 6] =
    [&ride::RIDE, &kit::KIT, &crew::CREW, &pitch::PITCH, &visit::VISIT, &weighing::WEIGHING];

/// What stands beside the new book.
#[derive(Default)]
pub struct Beside {
    /// The ride book, where there is a good one.
    pub ride: Option<Ride>,
    /// The name of the pitch, where there is one.
    pub pitch: Option<String>,
    /// Whether there is a crew.
    pub crew: bool,
}

/// Begins a book.
pub fn new(new: &New) -> Ended {
    match begin(new, new.begun) {
        Ok(sentence) => {
            files::print(&sentence);
            Ended::Inside
        }
        Err(sentences) => {
            sentences.iter().for_each(|sentence| files::tell(sentence));
            Ended::WrongInput
        }
    }
}

fn begin(new: &New, begun: &Begun) -> Result<String, Vec<String>> {
    let path = new.folder.join(begun.file.file_name());
    // Told before anything is asked, so that nobody answers for nothing.
    if path.symlink_metadata().is_ok() {
        return Err(vec![kept(&path)]);
    }
    let beside = beside(&new.folder, begun)?;
    let mut answers = new.answers.clone();
    let mut wrong = said_wrong(begun, &beside, &answers);
    let terminal = stdin().is_terminal() && std::io::stderr().is_terminal();
    if !terminal {
        wrong.extend(asked::missing(begun, &answers));
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    if terminal {
        let mut input = stdin().lock();
        ask(begun, &beside, &mut answers, &mut input, &mut std::io::stderr().lock())?;
    }
    let text = (begun.write)(&answers, &beside).map_err(|given| vec![given.sentence()])?;
    // What the answers are wrong in only together.
    let found = crate::check::diagnostics(begun.file, &Source::new(&path.display().to_string(), &text));
    if !found.is_empty() {
        return Err(found.iter().map(ToString::to_string).collect());
    }
    let text = if new.schema { with_schema(&new.folder, begun.file, &text)? } else { text };
    write_new(&path, &text).map_err(|sentence| vec![sentence])?;
    Ok(format!("{} is written.\nNext: {}\n", path.display(), next(begun.next, &new.folder)))
}

/// A sentence of what to do next, with the folder in it where that is not the one somebody is in.
fn next(sentence: &str, folder: &Path) -> String {
    let here = folder == Path::new(".");
    sentence
        .replace(" -o FOLDER", &if here { String::new() } else { format!(" -o {}", folder.display()) })
        .replace("FOLDER", &folder.display().to_string())
}

fn kept(path: &Path) -> String {
    format!("{} is there already and is kept. Move it away, or name another folder with -o.", path.display())
}

/// Writes a file where none is; the system itself refuses one that has come in the meantime.
fn write_new(path: &Path, text: &str) -> Result<(), String> {
    let elsewhere = "Name a folder with -o where you may write.";
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        std::fs::create_dir_all(folder)
            .map_err(|error| format!("{} cannot be made a folder: {error}. {elsewhere}", folder.display()))?;
    }
    let mut file = OpenOptions::new().write(true).create_new(true).open(path).map_err(|error| {
        if error.kind() == ErrorKind::AlreadyExists {
            kept(path)
        } else {
            format!("{} cannot be written: {error}. {elsewhere}", path.display())
        }
    })?;
    file.write_all(text.as_bytes())
        .map_err(|error| format!("{} cannot be written: {error}. {elsewhere}", path.display()))
}

/// The text with the comment that tells an editor where the schema is, which is written beside it.
fn with_schema(folder: &Path, file: FileKind, text: &str) -> Result<String, Vec<String>> {
    let name = schema::file_name(file);
    let path = folder.join(&name);
    match files::write_or_keep(&path, tober_book::schema(file).as_bytes()) {
        Ok(false) => {}
        Ok(true) => files::tell(&format!(
            "{} differs from this version's schema and is kept. Move it away to have this version's.",
            path.display()
        )),
        Err(sentence) => return Err(vec![sentence]),
    }
    Ok(format!("#:schema {name}\n{text}"))
}

/// Reads what stands beside the new book, as far as the new book needs it.
fn beside(folder: &Path, begun: &Begun) -> Result<Beside, Vec<String>> {
    let mut beside = Beside::default();
    let there = |kind: FileKind| folder.join(kind.file_name());
    let text = |kind: FileKind| {
        let path = there(kind);
        let text = files::read(&path)?;
        Ok::<Source, String>(Source::new(&path.display().to_string(), &text))
    };
    let wanted: &[FileKind] = match begun.file {
        FileKind::Pitch | FileKind::Weighing => &[FileKind::Ride],
        FileKind::Visit => &[FileKind::Ride, FileKind::Kit, FileKind::Pitch],
        _ => &[],
    };
    // A pitch can be read before anybody has written down the ride.
    let needed = if begun.file == FileKind::Pitch { &[] } else { wanted };
    let missing: Vec<String> = needed
        .iter()
        .filter(|kind| !there(**kind).exists())
        .map(|kind| {
            format!(
                "{} is not there, and a new {} needs it. Make it first: tober new {}{}",
                there(*kind).display(),
                begun.file.word(),
                kind.word(),
                next(" -o FOLDER", folder)
            )
        })
        .collect();
    if !missing.is_empty() {
        return Err(missing);
    }
    if wanted.contains(&FileKind::Ride) && there(FileKind::Ride).exists() {
        let parsed = text(FileKind::Ride).map(|source| parse_ride(&source)).map_err(|said| vec![said])?;
        let told = || parsed.diagnostics.iter().map(ToString::to_string).collect::<Vec<_>>();
        beside.ride = Some(parsed.value.clone().ok_or_else(told)?);
    }
    if wanted.contains(&FileKind::Pitch) {
        let parsed = text(FileKind::Pitch).map(|source| parse_pitch(&source)).map_err(|said| vec![said])?;
        let told = || parsed.diagnostics.iter().map(ToString::to_string).collect::<Vec<_>>();
        beside.pitch = Some(parsed.value.as_ref().map(|pitch| pitch.about.name.clone()).ok_or_else(told)?);
    }
    beside.crew = there(FileKind::Crew).exists();
    Ok(beside)
}

/// A text in quotes, as TOML writes it.
pub fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for letter in text.trim().chars() {
        match letter {
            '"' => out += "\\\"",
            '\\' => out += "\\\\",
            c if c.is_control() => out += &format!("\\u{:04X}", u32::from(c)),
            c => out.push(c),
        }
    }
    out + "\""
}
