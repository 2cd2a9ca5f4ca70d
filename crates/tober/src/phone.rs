//! `tober phone`: a visit as one file for one phone.

use crate::Ended;
use crate::files;
use std::path::Path;
use tober_phone::core::Texts;

/// Writes the visit as one file.
pub fn phone(visit: &Path, out: &Path) -> Ended {
    // The same checks and the same sentences as a plan gets.
    if let Err(wrong) = files::visit(visit) {
        return files::say(&wrong);
    }
    let written =
        page(visit).and_then(|page| files::write(out, page.as_bytes()).map_err(|sentence| vec![sentence]));
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
        ride: files::read(&folder.join(&about.ride))?,
        kit: files::read(&folder.join(&about.kit))?,
        pitch,
        visit: text,
        crew: about.crew.as_ref().map(|crew| files::read(&folder.join(crew))).transpose()?,
        rows: rows.map(|rows| files::read(&folder.join(beside(rows)))).transpose()?,
    })
}
