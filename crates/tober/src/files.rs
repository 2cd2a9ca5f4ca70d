//! Reading and writing files, and the two streams: data to standard output, talk to standard error.

use crate::Ended;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use tober_book::{
    Crew, Diagnostic, Kit, Parsed, Pitch, Ride, Source, Visit, disagreements, parse_crew, parse_kit,
    parse_pitch, parse_ride, parse_visit, with_rows,
};

/// The largest file that is read: far above any book, and small enough never to fill a memory.
const LARGEST_BYTES: u64 = 16 * 1024 * 1024;

/// Prints data. A reader that has gone away, as a pager that was closed, is no fault.
pub fn print(text: &str) {
    let _ = std::io::stdout().lock().write_all(text.as_bytes());
}

/// Says something to a person.
pub fn tell(text: &str) {
    let mut out = std::io::stderr().lock();
    let _ = out.write_all(text.as_bytes());
    let _ = out.write_all(b"\n");
}

/// Reads a text file, or says why it cannot.
pub fn read(path: &Path) -> Result<String, String> {
    let named = path.display();
    let about = fs::metadata(path).map_err(|error| format!("{named} cannot be read: {error}."))?;
    if about.is_dir() {
        return Err(format!("{named} is a folder; a file is wanted here."));
    }
    if about.len() > LARGEST_BYTES {
        return Err(format!("{named} has {} bytes; a file of at most {LARGEST_BYTES} is read.", about.len()));
    }
    let bytes = fs::read(path).map_err(|error| format!("{named} cannot be read: {error}."))?;
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        format!("{named} is not UTF-8 text: byte {at} begins no letter. Save it as UTF-8.")
    })
}

/// Writes a file and the folders above it, or says why it cannot.
pub fn write(path: &Path, contents: &[u8]) -> Result<(), String> {
    let named = path.display();
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)
            .map_err(|error| format!("{} cannot be made: {error}.", folder.display()))?;
    }
    fs::write(path, contents).map_err(|error| format!("{named} cannot be written: {error}."))
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
pub enum Wrong {
    /// A file cannot be read.
    File(String),
    /// What the files say is wrong.
    Books(Vec<Diagnostic>),
}

/// The visit.toml that a path means: the file itself, or the one in the folder.
pub fn visit_file(path: &Path) -> PathBuf {
    if path.is_dir() { path.join("visit.toml") } else { path.to_owned() }
}

fn source(folder: &Path, name: &str) -> Result<Source, String> {
    let path = folder.join(name);
    Ok(Source::new(&path.display().to_string(), &read(&path)?))
}

/// Reads a visit and all that belongs to it. All that is wrong with all files comes at once.
pub fn visit(path: &Path) -> Result<Books, Wrong> {
    let file = visit_file(path);
    let folder = file.parent().unwrap_or(Path::new("")).to_owned();
    let text = read(&file).map_err(Wrong::File)?;
    let visit = parse_visit(&Source::new(&file.display().to_string(), &text));
    let Some(about) = visit.value.as_ref().map(|visit| visit.about.clone()) else {
        return Err(Wrong::Books(visit.diagnostics));
    };
    let open = |name: &str| source(&folder, name).map_err(Wrong::File);
    let ride = parse_ride(&open(&about.ride)?);
    let kit = parse_kit(&open(&about.kit)?);
    let mut pitch = parse_pitch(&open(&about.pitch)?);
    let rows = pitch.value.as_ref().and_then(|pitch| pitch.readings.as_ref()?.file().map(str::to_owned));
    if let Some(rows) = rows {
        pitch = with_rows(pitch, &open(&rows)?);
    }
    let crew = about.crew.as_deref().map(|name| open(name).map(|source| parse_crew(&source))).transpose()?;
    gather(ride, kit, pitch, visit, crew)
}

fn gather(
    ride: Parsed<Ride>,
    kit: Parsed<Kit>,
    pitch: Parsed<Pitch>,
    visit: Parsed<Visit>,
    crew: Option<Parsed<Crew>>,
) -> Result<Books, Wrong> {
    let between = disagreements(&ride, &kit, &pitch, &visit);
    let crew_wrong = crew.as_ref().map_or(&[][..], |crew| &crew.diagnostics);
    let of_files =
        [&visit.diagnostics[..], &ride.diagnostics, &kit.diagnostics, &pitch.diagnostics, crew_wrong];
    let wrong: Vec<Diagnostic> = of_files.into_iter().flatten().cloned().chain(between).collect();
    let crew = crew.and_then(|crew| crew.value);
    match (ride.value, kit.value, pitch.value, visit.value) {
        (Some(ride), Some(kit), Some(pitch), Some(visit)) if wrong.is_empty() => {
            Ok(Books { ride, kit, pitch, visit, crew })
        }
        _ => Err(Wrong::Books(wrong)),
    }
}

/// Says what is wrong, and ends.
pub fn say(wrong: &Wrong) -> Ended {
    match wrong {
        Wrong::File(sentence) => tell(sentence),
        Wrong::Books(diagnostics) => {
            for diagnostic in diagnostics {
                tell(&diagnostic.to_string());
                tell("");
            }
            let count = diagnostics.len();
            tell(&format!("{count} thing{} wrong.", if count == 1 { " is" } else { "s are" }));
        }
    }
    Ended::WrongInput
}
