//! `tober sheets`: a visit as paper, and the files that go beside it.

use crate::plan::{books_and_plan, of_everything};
use crate::{Ended, Shape, files};
use std::path::{Path, PathBuf};
use tober_plan::{EveryOrder, LiftBooks, LiftOfStep, Plan};
use tober_sheets::{Ask, Given, Pack, Paper, Reader, SheetKind, blanks_csv, calendar, packing_csv, pins_csv};

/// What is asked of the pack.
#[derive(clap::Args, Clone)]
pub struct Asked {
    /// The file to write.
    #[arg(short, value_name = "FILE.pdf", default_value = "tober-sheets.pdf")]
    out: PathBuf,
    /// For whom: chief, hand, operator, attendant, inspector or engineer; everybody, unless given.
    #[arg(long = "for", value_name = "WHO")]
    reader: Option<Reader>,
    /// One sheet alone: one-page, ground, legs, way, loads, steps, lifts, pins, limits, calls, riders-off, night, pull-down,
    /// people, road, working or sources.
    #[arg(long, value_name = "SHEET")]
    only: Option<SheetKind>,
    /// The own list of one person of the crew, by tag, and nothing else.
    #[arg(long, value_name = "TAG")]
    person: Option<String>,
    /// The paper: a4 or letter.
    #[arg(long, default_value = "a4")]
    paper: Paper,
    /// The address at which phones find the pages of this visit; each sheet then carries a code that opens it.
    #[arg(long, value_name = "ADDRESS")]
    at: Option<String>,
    /// The file of the log, whose head prints at the foot of every page.
    #[arg(long, value_name = "FILE")]
    log: Option<PathBuf>,
    /// The units: metric, gb or us. What the visit chose, unless given.
    #[arg(long)]
    units: Option<tober_quantity::UnitSet>,
    /// The trade words: gb or us. What the visit chose, unless given.
    #[arg(long)]
    words: Option<tober_quantity::WordSet>,
    /// Write beside it: a calendar of hold points and due checks, tables of the packing, the pins and the blanks, and the
    /// plan as JSON.
    #[arg(long)]
    beside: bool,
}

/// Prints a visit.
pub fn sheets(visit: &Path, asked: &Asked) -> Ended {
    let shape = Shape { json: false, working: false, units: asked.units, words: asked.words };
    let (books, plan) = match books_and_plan(visit, shape) {
        Ok(both) => both,
        Err(ended) => return ended,
    };
    let log = match asked.log.as_deref().map(crate::log::head_of).transpose() {
        Ok(log) => log,
        Err(sentence) => return refused(&sentence),
    };
    let every = tober_plan::every_order(&books.ride, &books.visit);
    if let Some(sentence) = asked.person.as_ref().and_then(|tag| nobody(&books, tag)) {
        return refused(&sentence);
    }
    let ask = Ask {
        reader: asked.reader,
        only: asked.only.or(asked.person.as_ref().map(|_| SheetKind::People)),
        person: asked.person.clone(),
        paper: asked.paper,
        at: asked.at.clone(),
        log,
    };
    let lifts = lifts(&books);
    let given = given(&books, &plan, every.as_ref(), &lifts);
    let pack = match tober_sheets::pack(&given, &ask) {
        Ok(pack) => pack,
        Err(error) => return refused(&error.to_string()),
    };
    let mut written = vec![(asked.out.clone(), pack.pdf.clone())];
    if asked.beside {
        written.extend(beside(&asked.out, &given, &pack));
    }
    for (path, contents) in &written {
        if let Err(sentence) = files::write(path, contents) {
            return refused(&sentence);
        }
    }
    let pages = if pack.pages == 1 { "1 page".to_owned() } else { format!("{} pages", pack.pages) };
    files::print(&format!(
        "{}: {pages}, {} sheets, {} blanks.\n",
        asked.out.display(),
        pack.sheets.len(),
        pack.blanks.len()
    ));
    for (path, _) in written.iter().skip(1) {
        files::print(&format!("{}\n", path.display()));
    }
    if !pack.out_of_place.is_empty() {
        files::tell(
            "Look at these pages with care: something on them is not all to be read. Please report it.",
        );
        pack.out_of_place.iter().for_each(|said| files::tell(said));
    }
    of_everything(&plan, every.as_ref(), &lifts)
}

/// The sentence that says so where nobody of the crew has a tag.
fn nobody(books: &files::Books, tag: &str) -> Option<String> {
    let people = books.crew.as_ref().map(|crew| crew.people.as_slice()).unwrap_or_default();
    if people.iter().any(|person| person.tag == tag) {
        return None;
    }
    let tags: Vec<&str> = people.iter().map(|person| person.tag.as_str()).collect();
    Some(if tags.is_empty() {
        format!("Nobody has the tag \"{tag}\": there is no crew.toml. Write one with a [[person]].")
    } else {
        format!("Nobody has the tag \"{tag}\". There are: {}.", tags.join(", "))
    })
}

fn refused(sentence: &str) -> Ended {
    files::tell(sentence);
    Ended::WrongInput
}

/// The lifts of a visit.
fn lifts(books: &files::Books) -> Vec<LiftOfStep> {
    tober_plan::lifts(LiftBooks {
        ride: &books.ride,
        kit: Some(&books.kit),
        pitch: Some(&books.pitch),
        visit: Some(&books.visit),
    })
}

fn given<'a>(
    books: &'a files::Books,
    plan: &'a Plan,
    every: Option<&'a EveryOrder>,
    lifts: &'a [LiftOfStep],
) -> Given<'a> {
    Given {
        plan,
        every,
        lifts,
        ride: &books.ride,
        kit: &books.kit,
        pitch: &books.pitch,
        visit: &books.visit,
        crew: books.crew.as_ref(),
    }
}

/// The files that go beside a PDF, each with its contents.
fn beside(pdf: &Path, given: &Given<'_>, pack: &Pack) -> Vec<(PathBuf, Vec<u8>)> {
    let stem = pdf.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    let named = |ending: &str| pdf.with_file_name(format!("{stem}{ending}"));
    let mut plan = tober_wire::plan::plan(given.plan);
    if let (Some(object), Some(every)) = (plan.as_object_mut(), given.every) {
        object.insert("every_order".to_owned(), tober_wire::steps::every_order(every, given.plan.units));
    }
    if let (Some(object), false) = (plan.as_object_mut(), given.lifts.is_empty()) {
        object.insert("lifts".to_owned(), tober_wire::steps::lifts(given.lifts, given.plan.units));
    }
    let mut all = vec![
        (named("-packing.csv"), packing_csv(given.plan).into_bytes()),
        (named("-pins.csv"), pins_csv(given).into_bytes()),
        (named("-blanks.csv"), blanks_csv(&pack.blanks, &given.plan.name).into_bytes()),
        (named("-plan.json"), format!("{plan}\n").into_bytes()),
    ];
    match calendar(given) {
        Some(calendar) => all.push((named(".ics"), calendar.into_bytes())),
        None => files::tell("No calendar: visit.toml does not say `from`, the day on which the ride comes."),
    }
    all
}

/// The pack of a visit of the demo.
pub fn of_demo(visit: &Path, out: &Path) -> Result<usize, String> {
    let shape = Shape { json: false, working: false, units: None, words: None };
    let (books, plan) = books_and_plan(visit, shape).map_err(|_| "The visit has errors.".to_owned())?;
    let every = tober_plan::every_order(&books.ride, &books.visit);
    let pack = tober_sheets::pack(&given(&books, &plan, every.as_ref(), &lifts(&books)), &Ask::default())
        .map_err(|error| error.to_string())?;
    files::write(out, &pack.pdf)?;
    Ok(pack.pages)
}
