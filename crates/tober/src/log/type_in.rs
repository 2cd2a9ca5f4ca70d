//! `tober log type-in`: what was written into the blanks of a printed pack, as entries of a log.

use super::table::{self, Looked, Row};
use super::wants::{self, Blank};
use crate::files::{self, Books};
use crate::plan::books_and_plan;
use crate::{Ended, Shape};
use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};
use tober_log::text::{open, write};
use tober_log::{AHEAD_MS_MAX, Body, Draft, Entry, Log, Named, Now, next};
use tober_plan::Plan;

/// The columns that `tober sheets --beside` has always written.
const HEADS: [&str; 5] = ["number", "about", "what", "must be", "written"];
/// The columns that may be there besides.
const MAY: [&str; 3] = ["plan", "by", "at"];
/// How many sheets a pack has numbers for.
const SHEETS: u32 = 17;
/// How the names of writers begin whose entries come from paper.
const WRITER: &str = "paper-";
/// What the role of somebody is whom no crew.toml tells.
const NO_ROLE: &str = "not known";

/// What is typed in, and into what.
#[derive(clap::Args)]
pub struct TypeIn {
    /// The folder of the visit, or its visit.toml.
    visit: PathBuf,
    /// The table of blanks that `tober sheets --beside` wrote, with what was written filled in. Rows left empty stay blanks.
    blanks: PathBuf,
    /// The file of entries to write. Where there is one already, as a phone hands it over, it is gone on with, and all that
    /// is in it stays.
    #[arg(short, value_name = "FILE")]
    out: PathBuf,
    /// The plan that stands at the foot of the sheets, for rows that do not say it.
    #[arg(long, value_name = "NAME")]
    plan: Option<String>,
    /// Who wrote on the sheets, by tag, for rows that do not say it.
    #[arg(long, value_name = "TAG")]
    by: Option<String>,
    /// When it was looked at, with date and zone ("2026-05-09 05:41 +01:00"), for rows that do not say it.
    #[arg(long, value_name = "TIME")]
    at: Option<String>,
    /// The units of the sheets, where other than the visit's: metric, gb or us.
    #[arg(long)]
    units: Option<tober_quantity::UnitSet>,
    /// The trade words of the sheets, where other than the visit's: gb or us.
    #[arg(long)]
    words: Option<tober_quantity::WordSet>,
    /// Take sheets of another plan too. What stands on them is kept, and says nothing of the legs as they are planned now.
    #[arg(long)]
    another_plan: bool,
}

/// One thing that is to be said in the log.
struct Said {
    line: usize,
    kind: &'static str,
    what: String,
    body: Body,
    plan: String,
    by: Option<String>,
    /// How every entry from this blank begins its reason.
    of_blank: String,
}

/// What the table came to.
#[derive(Default)]
struct Taken {
    said: Vec<Said>,
    /// Sentences about what is not as it must be.
    told: Vec<String>,
    filled: usize,
    empty: usize,
    notes: usize,
    no_time: usize,
    nobody: usize,
}

/// What was added to a log.
#[derive(Clone, Copy, Default)]
struct Added {
    new: usize,
    /// How many of the new entries take the place of older ones from paper.
    anew: usize,
    /// How many stood there already.
    same: usize,
}

/// Types in.
pub fn type_in(asked: &TypeIn) -> Ended {
    let shape = Shape { json: false, working: false, units: asked.units, words: asked.words };
    let (books, plan) = match books_and_plan(&asked.visit, shape) {
        Ok(both) => both,
        Err(ended) => return ended,
    };
    match typed(asked, &books, &plan) {
        Ok((told, said)) => {
            told.iter().for_each(|sentence| files::tell(sentence));
            files::print(&said);
            Ended::Inside
        }
        Err(sentences) => {
            sentences.iter().for_each(|sentence| files::tell(sentence));
            files::tell(&format!("Nothing was written to {}.", asked.out.display()));
            Ended::WrongInput
        }
    }
}

fn typed(asked: &TypeIn, books: &Books, plan: &Plan) -> Result<(Vec<String>, String), Vec<String>> {
    let ms = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_millis());
    let now = Now { ms: i64::try_from(ms).unwrap_or(i64::MAX), offset_min: 0 };
    let named = asked.blanks.display().to_string();
    let text = files::read(&asked.blanks).map_err(|sentence| vec![sentence])?;
    let rows = table::rows(&named, &text, &HEADS, &MAY).map_err(|sentence| vec![sentence])?;
    let taken = taken(&named, &rows, asked, books, plan, now.ms)?;
    let visit = format!("{}: {}", books.ride.about.name, books.visit.about.name);
    let before = there(&asked.out, &visit).map_err(|sentence| vec![sentence])?;
    // Each run is a writer of its own, as each opening of the page on a phone is: two laptops that go on with copies of one file
    // never write two entries under one number.
    let writer = format!("{WRITER}{}-{}", now.ms, std::process::id());
    let (log, added) = after(before, &writer, now, &taken.said)
        .map_err(|(line, why)| vec![format!("{named}: line {line}: {why}")])?;
    files::write(&asked.out, write(&visit, &log).as_bytes()).map_err(|sentence| vec![sentence])?;
    Ok((taken.told.clone(), summary(&asked.out, &taken, added)))
}

/// What was done, in words.
fn summary(out: &Path, taken: &Taken, Added { new, anew, same }: Added) -> String {
    let blanks = |count: usize| if count == 1 { "1 blank".to_owned() } else { format!("{count} blanks") };
    let mut said = format!(
        "{}: {} typed in, {} left empty. New: {}. In the place of what was typed in before: {anew}. There already: {same}.\n",
        out.display(),
        blanks(taken.filled),
        taken.empty,
        super::counted(new)
    );
    if taken.notes > 0 {
        said.push_str(&format!(
            "Kept as notes, word for word, since the log has no kind of entry for them: {}.\n",
            blanks(taken.notes)
        ));
    }
    if taken.no_time > 0 {
        said.push_str(&format!("When it was looked at is not known of {}.\n", blanks(taken.no_time)));
    }
    if taken.nobody > 0 {
        said.push_str(&format!("Who wrote it is not known of {}.\n", blanks(taken.nobody)));
    }
    said.push_str("They are proposals, as all entries are, and none counts as a record.\n");
    said
}

/// Reads every row, and says all that is wrong at once.
fn taken(
    named: &str,
    rows: &[Row],
    asked: &TypeIn,
    books: &Books,
    plan: &Plan,
    now_ms: i64,
) -> Result<Taken, Vec<String>> {
    let mut taken = Taken::default();
    let mut wrong = Vec::new();
    for (at, row) in rows.iter().enumerate() {
        let twice = rows[..at].iter().find(|other| other.cell("number") == row.cell("number"));
        let read = match twice {
            Some(other) => Err(format!(
                "the blank {} stands in line {} already. Keep one of them; or read the table into the spreadsheet again with its first \
                 column as text, for as a number 1.10 becomes 1.1.",
                row.cell("number"),
                other.line
            )),
            None => one(row, asked, books, plan, now_ms, &mut taken),
        };
        if let Err(why) = read {
            wrong.push(format!("{named}: line {}: {why}", row.line));
        }
    }
    taken.told.iter_mut().for_each(|sentence| *sentence = format!("{named}: {sentence}"));
    if wrong.is_empty() { Ok(taken) } else { Err(wrong) }
}

/// Reads one row.
fn one(
    row: &Row,
    asked: &TypeIn,
    books: &Books,
    plan: &Plan,
    now_ms: i64,
    taken: &mut Taken,
) -> Result<(), String> {
    let number = row.cell("number");
    if !is_number(number) {
        return Err(format!(
            "\"{number}\" is no number of a blank. It is that of a sheet from 1 to {SHEETS}, a point, and its own, such as 3.12."
        ));
    }
    let (about, what, written) = (row.cell("about"), row.cell("what"), row.cell("written"));
    if written.is_empty() {
        taken.empty += 1;
        return Ok(());
    }
    let or = |cell: &str, given: &Option<String>| match cell {
        "" => given.clone(),
        cell => Some(cell.to_owned()),
    };
    let of_plan = or(row.cell("plan"), &asked.plan).ok_or(
        "nothing says of which plan the sheet is. Write into the column `plan` what stands at its foot, or give --plan NAME.",
    )?;
    let this = of_plan == plan.name;
    if !this && !asked.another_plan {
        return Err(format!(
            "the sheet is of the plan {of_plan}, and the visit's is now {}: what was looked at there is to be done again. Give \
             --another-plan to keep what was written as entries of {of_plan}.",
            plan.name
        ));
    }
    let by = or(row.cell("by"), &asked.by);
    let role = by.as_deref().map(|tag| role_of(tag, books)).transpose()?;
    let at = or(row.cell("at"), &asked.at).map(|at| looked(&at, now_ms)).transpose()?;
    let blank = Blank { about, what, must: row.cell("must be"), written };
    let read = wants::read(&blank, this.then_some(plan))
        .map_err(|right| format!("blank {number}, {about}, {what}: \"{written}\" was written. {right}"))?;
    taken.filled += 1;
    taken.no_time += usize::from(at.is_none());
    taken.nobody += usize::from(by.is_none());
    if let Some(differs) = &read.differs {
        taken.told.push(format!(
            "line {}: blank {number}, {about}, {what}: \"{written}\" was written, and {differs}. It is kept as it was written.",
            row.line
        ));
    }
    if !this {
        taken.told.push(format!(
            "line {}: blank {number} is of the plan {of_plan}, not of {}.",
            row.line, plan.name
        ));
    }
    let when = at.as_ref().map_or("not known", |at| at.text.as_str());
    let mut say = |kind: &'static str, what: String, mut body: Body| {
        let of_blank = format!("Done, late: on paper, blank {number}, plan {of_plan}, ");
        body.insert("what".to_owned(), what.clone());
        // The reason is no part of what an entry says, so that paper and phone agree where both say the same.
        body.insert("why".to_owned(), format!("{of_blank}looked at: {when}"));
        body.insert(ROLE.to_owned(), role.clone().unwrap_or_else(|| NO_ROLE.to_owned()));
        let plan = of_plan.clone();
        taken.said.push(Said { line: row.line, kind, what, body, plan, by: by.clone(), of_blank });
    };
    for (kind, subject, value) in &read.kept {
        say(kind, subject.clone(), Body::from([("value".to_owned(), value.clone())]));
    }
    if read.kept.is_empty() {
        let told = [about, what].map(str::trim).into_iter().filter(|part| !part.is_empty());
        let subject = format!("paper {of_plan} {number}, {}", told.collect::<Vec<_>>().join(", "));
        let mut body = Body::from([
            ("value".to_owned(), format!("{written} (looked at: {when})")),
            ("written".to_owned(), written.to_owned()),
            ("blank".to_owned(), number.to_owned()),
        ]);
        if !blank.must.is_empty() {
            body.insert("must be".to_owned(), blank.must.to_owned());
        }
        say("note", subject, body);
        taken.notes += 1;
    }
    Ok(())
}

/// The key under which a role is carried until it becomes a field of the entry.
const ROLE: &str = "role";

/// Whether a text is the number of a sheet, a point and a number from 1.
fn is_number(text: &str) -> bool {
    let whole =
        |part: &str| part.parse::<u32>().ok().filter(|number| number.to_string() == part && *number > 0);
    text.split_once('.').is_some_and(|(sheet, blank)| {
        whole(sheet).is_some_and(|sheet| sheet <= SHEETS) && whole(blank).is_some()
    })
}

/// The role of somebody: the first skill that the crew's file names.
fn role_of(tag: &str, books: &Books) -> Result<String, String> {
    let Some(crew) = &books.crew else { return Ok(NO_ROLE.to_owned()) };
    let person = crew.people.iter().find(|person| person.tag == tag).ok_or_else(|| {
        let tags: Vec<&str> = crew.people.iter().map(|person| person.tag.as_str()).collect();
        format!("nobody of the crew has the tag \"{tag}\". There are: {}.", tags.join(", "))
    })?;
    Ok(person.skills.first().map_or(NO_ROLE, |role| role.word()).to_owned())
}

/// When something was looked at: never after now.
fn looked(written: &str, now_ms: i64) -> Result<Looked, String> {
    let looked = table::time(written)?;
    let ahead = i64::try_from(AHEAD_MS_MAX).unwrap_or(0);
    if looked.ms > now_ms.saturating_add(ahead) {
        return Err(format!(
            "\"{written}\" is yet to come; this clock says {}. Write when it was looked at, or set the clock.",
            tober_log::wall_text(Now { ms: now_ms, offset_min: 0 })
        ));
    }
    Ok(looked)
}

/// What a file has already; nothing where there is none.
fn there(path: &Path, visit: &str) -> Result<Log, String> {
    if !path.exists() {
        return Ok(Log::default());
    }
    let opened = open(&files::read_bytes(path)?);
    let named = path.display();
    if !opened.whole() {
        return Err(format!(
            "{named} is there and is no whole file of entries. `tober log verify` says what is wrong with it; or give another file."
        ));
    }
    match opened.header {
        Some(header) if header.visit != visit => Err(format!(
            "{named} has the entries of \"{}\", and this visit is \"{visit}\". Give the file of this visit, or a new one.",
            header.visit
        )),
        _ => Ok(opened.log),
    }
}

/// The log with what was said after it, and what was added to it; or the line of the table that no entry can hold, and why.
fn after(mut log: Log, writer: &str, now: Now, said: &[Said]) -> Result<(Log, Added), (usize, String)> {
    let mut added = Added::default();
    for said in said {
        let mut body = said.body.clone();
        let role = body.remove(ROLE).unwrap_or_else(|| NO_ROLE.to_owned());
        // Only what was typed in from the same blank is replaced. What a phone says stands beside it until somebody settles it.
        let subjects = log.what_stands(said.kind);
        let heads = subjects.get(&said.what).map(|subject| subject.heads.as_slice()).unwrap_or_default();
        let older: Vec<&Entry> = heads
            .iter()
            .copied()
            .filter(|entry| {
                entry.device.starts_with(WRITER)
                    && entry.why().is_some_and(|why| why.starts_with(&said.of_blank))
            })
            .collect();
        if older.iter().any(|entry| entry.body == body && entry.person_tag == said.by) {
            added.same += 1;
            continue;
        }
        added.anew += usize::from(!older.is_empty());
        added.new += 1;
        let draft = Draft {
            role,
            person_tag: said.by.clone(),
            kind: said.kind.to_owned(),
            body,
            replaces: older.iter().map(|entry| Named::from(entry.id())).collect(),
            plan_hash: Some(said.plan.clone()),
        };
        let entry = next(log.last_of(writer), writer, log.seen(now.ms), now, draft)
            .map_err(|refused| (said.line, refused.to_string()))?;
        let mut entries = log.entries().to_vec();
        entries.push(entry);
        log = Log::gather(entries).0;
    }
    Ok((log, added))
}
