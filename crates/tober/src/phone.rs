//! `tober phone`: a visit, a folder of visits, or a ride alone, as one file for one phone.

use crate::Ended;
use crate::files::{self, Wrong};
use std::fs;
use std::path::{Path, PathBuf};
use tober_phone::core::Texts;
use tober_phone::page::Book;

/// Writes what the path names as one file: a visit, every visit in a folder of them, or a ride book, with which
/// pitches are begun on the phone.
pub fn phone(path: &Path, out: &Path) -> Ended {
    let book = match book(path) {
        Ok(book) => book,
        Err(wrong) => return files::say(&wrong),
    };
    let written = tober_phone::page::book(&book)
        .and_then(|page| files::write(out, page.as_bytes()).map_err(|sentence| vec![sentence]));
    match written {
        Ok(()) => {
            files::print(&format!("{}: copy it to the phone and open it there.\n", out.display()));
            Ended::Inside
        }
        Err(sentences) => {
            sentences.iter().for_each(|sentence| files::tell(sentence));
            Ended::WrongInput
        }
    }
}

/// The one file of a visit.
pub fn page(visit: &Path) -> Result<String, Vec<String>> {
    texts(visit).map_err(|sentence| vec![sentence]).and_then(|texts| tober_phone::page::page(&texts))
}

/// The same, opening at its rehearsal.
pub fn rehearsal(visit: &Path) -> Result<String, Vec<String>> {
    let texts = texts(visit).map_err(|sentence| vec![sentence])?;
    tober_phone::page::book(&Book { visits: vec![texts], begin: None, at_rehearsal: true })
}

/// What a path names.
fn book(path: &Path) -> Result<Book, Wrong> {
    let visits = visits_in(path);
    if let Some(ride) = ride_alone(path).filter(|_| visits.is_empty()) {
        return begin(&ride).map(|begin| Book { begin: Some(begin), ..Book::default() });
    }
    // A folder that holds nothing of the kind is named as a visit that is not there.
    let visits = if visits.is_empty() { vec![path.to_owned()] } else { visits };
    let mut texts_of = Vec::new();
    let (mut unread, mut said) = (Vec::new(), Vec::new());
    for visit in &visits {
        // The same checks and the same sentences as a plan gets.
        match files::visit(visit) {
            Ok(_) => match texts(visit) {
                Ok(texts) => texts_of.push(texts),
                Err(sentence) => unread.push(sentence),
            },
            Err(wrong) => {
                unread.extend(wrong.unread);
                said.extend(wrong.said);
            }
        }
    }
    if unread.is_empty() && said.is_empty() {
        Ok(Book { visits: texts_of, ..Book::default() })
    } else {
        Err(Wrong { unread, said })
    }
}

/// The visits in the folders of a folder, in the order of their names. None where it is a visit itself.
fn visits_in(path: &Path) -> Vec<PathBuf> {
    if !path.is_dir() || path.join("visit.toml").exists() {
        return Vec::new();
    }
    let mut found: Vec<PathBuf> = fs::read_dir(path)
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|folder| folder.join("visit.toml").is_file())
        .collect();
    found.sort();
    found
}

/// A ride book: the file itself, or the one in a folder that has no visit.
fn ride_alone(path: &Path) -> Option<PathBuf> {
    if path.is_dir() {
        let ride = path.join("ride.toml");
        return (ride.exists() && !path.join("visit.toml").exists()).then_some(ride);
    }
    let text = files::read(path).ok()?;
    let first = text.lines().map(str::trim).find(|line| line.starts_with('['))?;
    (first == "[ride]").then(|| path.to_owned())
}

/// A ride with the kit and, where there is one, the crew that lie beside it.
fn begin(ride: &Path) -> Result<Texts, Wrong> {
    let beside = |name: &str| ride.with_file_name(name);
    let crew = beside("crew.toml");
    let read = |path: &Path| files::read(path).map_err(Wrong::file);
    Ok(Texts {
        ride: read(ride)?,
        // Without boards there are no stacks.
        kit: read(&beside("kit.toml"))?,
        crew: if crew.exists() { Some(read(&crew)?) } else { None },
        ..Texts::default()
    })
}

/// The texts of a visit's files.
fn texts(visit: &Path) -> Result<Texts, String> {
    let file = files::visit_file(visit);
    let folder = file.parent().unwrap_or(Path::new(""));
    let text = files::read(&file)?;
    let parsed = tober_book::parse_visit(&tober_book::Source::new("visit.toml", &text));
    let about = parsed.value.ok_or("The visit has errors.")?.about;
    let pitch = files::read(&folder.join(&about.pitch))?;
    let named = tober_book::parse_pitch(&tober_book::Source::new("pitch.toml", &pitch)).value;
    let rows = named.and_then(|pitch| pitch.readings.as_ref()?.file().map(str::to_owned));
    let beside = |rows: String| Path::new(&about.pitch).with_file_name(rows);
    Ok(Texts {
        ride: files::read(&files::shared(folder, &about.ride))?,
        kit: files::read(&files::shared(folder, &about.kit))?,
        pitch,
        visit: text,
        crew: about.crew.as_ref().map(|crew| files::read(&files::shared(folder, crew))).transpose()?,
        rows: rows.map(|rows| files::read(&folder.join(beside(rows)))).transpose()?,
    })
}
