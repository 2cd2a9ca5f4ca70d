//! Reading and writing files, and the two streams: data to standard output, talk to standard error.

use crate::Ended;
use std::collections::BTreeMap;
use std::fs;
use std::io::{Error, ErrorKind, Write};
use std::path::{Path, PathBuf};
use tober_book::{
    Crew, Diagnostic, Document, FileKind, Kit, Parsed, Pitch, Readings, Ride, Source, Visit, disagreements,
    parse_crew, parse_kit, parse_pitch, parse_ride, parse_visit, with_earlier_rows, with_rows,
};
use tober_quantity::{UnitSet, WordSet, in_units_of, in_words_of};

/// The largest file that is read: far above any book, and small enough never to fill a memory.
const LARGEST_BYTES: u64 = 16 * 1024 * 1024;

/// Prints data. A reader that has gone away, as a pager that was closed, is no fault.
pub fn print(text: &str) {
    let _ = std::io::stdout().lock().write_all(text.as_bytes());
}

/// Prints what holds sentences, with their figures in the reader's units too and in the reader's words.
pub fn print_in(units: UnitSet, words: WordSet, text: &str) {
    print(&in_words_of(&in_units_of(text, units), words));
}

/// Says something to a person.
pub fn tell(text: &str) {
    let mut out = std::io::stderr().lock();
    let _ = out.write_all(text.as_bytes());
    let _ = out.write_all(b"\n");
}

/// Reads a file, or says why it cannot.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, String> {
    let named = path.display();
    let about = fs::metadata(path).map_err(|error| unread(path, &error))?;
    if about.is_dir() {
        return Err(format!("{named} is a folder; a file is wanted here."));
    }
    if about.len() > LARGEST_BYTES {
        return Err(format!("{named} has {} bytes; a file of at most {LARGEST_BYTES} is read.", about.len()));
    }
    fs::read(path).map_err(|error| unread(path, &error))
}

/// Reads a text file, or says why it cannot.
pub fn read(path: &Path) -> Result<String, String> {
    String::from_utf8(read_bytes(path)?).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        format!("{} is not UTF-8 text: byte {at} begins no letter. Save it as UTF-8.", path.display())
    })
}

fn unread(path: &Path, error: &Error) -> String {
    let named = path.display();
    match error.kind() {
        ErrorKind::NotFound => {
            format!("{named} is not there. Put the file there, or give the path of one that is.")
        }
        ErrorKind::PermissionDenied => {
            format!("{named} may not be read. Give yourself leave to read it, or give another path.")
        }
        _ => format!("{named} cannot be read: {error}. Give the path of a plain file."),
    }
}

/// Writes a file and the folders above it, or says why it cannot.
pub fn write(path: &Path, contents: &[u8]) -> Result<(), String> {
    let named = path.display();
    let elsewhere = "Give a path where you may write.";
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)
            .map_err(|error| format!("{} cannot be made a folder: {error}. {elsewhere}", folder.display()))?;
    }
    fs::write(path, contents).map_err(|error| format!("{named} cannot be written: {error}. {elsewhere}"))
}

/// Writes a file unless another stands there already: what somebody changed is never lost. Says whether
/// another was kept.
pub fn write_or_keep(path: &Path, contents: &[u8]) -> Result<bool, String> {
    match fs::read(path) {
        Ok(there) => Ok(there != contents),
        // Where a file stands in the place of a folder, writing says so.
        Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => {
            write(path, contents).map(|()| false)
        }
        Err(error) => Err(unread(path, &error)),
    }
}

/// The books of a visit.
pub struct Books {
    pub ride: Ride,
    pub kit: Kit,
    pub pitch: Pitch,
    pub visit: Visit,
    pub crew: Option<Crew>,
}

/// What is wrong with a visit.
pub struct Wrong {
    /// Files that cannot be read, a sentence each.
    pub unread: Vec<String>,
    /// What the files that can be read say wrong.
    pub said: Vec<Diagnostic>,
}

impl Wrong {
    /// A file that cannot be read.
    pub fn file(sentence: String) -> Self {
        Self { unread: vec![sentence], said: Vec::new() }
    }

    /// What files say wrong.
    pub fn books(said: Vec<Diagnostic>) -> Self {
        Self { unread: Vec::new(), said }
    }
}

/// The visit.toml that a path means: the file itself, or the one in the folder.
pub fn visit_file(path: &Path) -> PathBuf {
    if path.is_dir() { path.join("visit.toml") } else { path.to_owned() }
}

fn visit_text(path: &Path, file: &Path) -> Result<String, Wrong> {
    if path.is_dir() && !file.exists() {
        return Err(Wrong::file(format!(
            "{} has no visit.toml in it. Give the folder of a visit, or its visit.toml.",
            path.display()
        )));
    }
    read(file).map_err(Wrong::file)
}

/// Where a file of a visit lies: in its folder, or, for what several visits of one ride share, in the folder above it.
///
/// A visit folder that is handed on has to be whole in itself, and `told` says what it still wants.
fn of_visit(folder: &Path, name: &str, told: &mut Vec<String>) -> PathBuf {
    let own = folder.join(name);
    // The folder above `here` is `..`, and only a name without folders of its own is looked for there.
    let above = match folder.parent() {
        Some(above) if folder.file_name().is_some() => above.to_owned(),
        _ => folder.join(".."),
    };
    let shared = above.join(name);
    if own.exists() || name.contains('/') || !shared.is_file() {
        return own;
    }
    told.push(format!(
        "{name} is not in {}; {} is used. Copy it there before you hand the folder on.",
        if folder.as_os_str().is_empty() { Path::new(".").display() } else { folder.display() },
        shared.display()
    ));
    shared
}

/// Where the ride book, the kit or the crew of a visit lies, said nowhere.
pub fn shared(folder: &Path, name: &str) -> PathBuf {
    of_visit(folder, name, &mut Vec::new())
}

/// The ride book that a visit names: the name of the file, and its text. Nothing where it cannot be read.
pub fn ride_text(path: &Path) -> Option<(String, String)> {
    let file = visit_file(path);
    let text = read(&file).ok()?;
    let visit = parse_visit(&Source::new(&file.display().to_string(), &text)).value?;
    let ride = shared(file.parent().unwrap_or(Path::new("")), &visit.about.ride);
    Some((ride.display().to_string(), read(&ride).ok()?))
}

/// Reads a visit and all that belongs to it. All that is wrong with all files comes at once: a file that is
/// not there, or a visit that is wrong in itself, hides nothing of the others.
pub fn visit(path: &Path) -> Result<Books, Wrong> {
    let file = visit_file(path);
    let text = visit_text(path, &file)?;
    let visit = parse_visit(&Source::new(&file.display().to_string(), &text));
    // The names of the other files, as far as they stand there: of a visit that is wrong there is no value.
    let named: BTreeMap<String, String> = Document::parse(&text)
        .map(|document| document.keys(FileKind::Visit))
        .unwrap_or_default()
        .into_iter()
        .filter_map(|found| Some((found.path.to_string(), found.text?)))
        .collect();
    let folder = file.parent().unwrap_or(Path::new("")).to_owned();
    let mut unread = Vec::new();
    let mut told = Vec::new();
    let mut open = |key: &str| -> Option<Source> {
        // A pitch and its readings are of one visit alone; ride, kit and crew may be shared by several.
        let name = named.get(key)?;
        let path = if key == "visit.pitch" { folder.join(name) } else { of_visit(&folder, name, &mut told) };
        let text = read(&path).map_err(|sentence| unread.push(sentence)).ok()?;
        Some(Source::new(&path.display().to_string(), &text))
    };
    let ride = open("visit.ride").map(|source| parse_ride(&source));
    let kit = open("visit.kit").map(|source| parse_kit(&source));
    let crew = open("visit.crew").map(|source| parse_crew(&source));
    let pitch = open("visit.pitch").map(|source| parse_pitch(&source)).map(|pitch| {
        // The readings lie beside the pitch, wherever that is; so do the earlier ones.
        let mut beside = |rows: Option<String>| {
            let file = Path::new(named.get("visit.pitch").map_or("", String::as_str)).with_file_name(rows?);
            let path = folder.join(file);
            let text = read(&path).map_err(|sentence| unread.push(sentence)).ok()?;
            Some(Source::new(&path.display().to_string(), &text))
        };
        let file = |readings: Option<&Readings>| readings.and_then(|r| r.file().map(str::to_owned));
        let names = pitch.value.as_ref();
        let now = beside(file(names.and_then(|pitch| pitch.readings.as_ref())));
        let earlier = beside(file(names.and_then(|pitch| pitch.earlier.as_ref())));
        let pitch = match now {
            Some(rows) => with_rows(pitch, &rows),
            None => pitch,
        };
        match earlier {
            Some(rows) => with_earlier_rows(pitch, &rows),
            None => pitch,
        }
    });
    told.iter().for_each(|sentence| tell(sentence));
    gather(ride, kit, pitch, visit, crew, unread)
}

fn gather(
    ride: Option<Parsed<Ride>>,
    kit: Option<Parsed<Kit>>,
    pitch: Option<Parsed<Pitch>>,
    visit: Parsed<Visit>,
    crew: Option<Parsed<Crew>>,
    unread: Vec<String>,
) -> Result<Books, Wrong> {
    let mut said = visit.diagnostics.clone();
    said.extend(ride.iter().flat_map(|ride| ride.diagnostics.clone()));
    said.extend(kit.iter().flat_map(|kit| kit.diagnostics.clone()));
    said.extend(pitch.iter().flat_map(|pitch| pitch.diagnostics.clone()));
    said.extend(crew.iter().flat_map(|crew| crew.diagnostics.clone()));
    let (Some(ride), Some(kit), Some(pitch)) = (ride, kit, pitch) else {
        return Err(Wrong { unread, said });
    };
    said.extend(disagreements(&ride, &kit, &pitch, &visit));
    let crew = crew.and_then(|crew| crew.value);
    match (ride.value, kit.value, pitch.value, visit.value) {
        (Some(ride), Some(kit), Some(pitch), Some(visit)) if said.is_empty() && unread.is_empty() => {
            Ok(Books { ride, kit, pitch, visit, crew })
        }
        _ => Err(Wrong { unread, said }),
    }
}

/// Says what is wrong, and ends.
pub fn say(wrong: &Wrong) -> Ended {
    for sentence in &wrong.unread {
        tell(sentence);
    }
    for diagnostic in &wrong.said {
        tell(&diagnostic.to_string());
        tell("");
    }
    let count = wrong.unread.len() + wrong.said.len();
    if count > 1 || !wrong.said.is_empty() {
        tell(&format!("{count} thing{} wrong.", if count == 1 { " is" } else { "s are" }));
    }
    Ended::WrongInput
}
