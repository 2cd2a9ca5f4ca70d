//! One question, one answer.

use crate::fields::Speaks;
use crate::frame;
use crate::hand;
use crate::kept::{Kept, Said};
use crate::sheets::{self, InTheWay, Worked};
use crate::stands::Stands;
use crate::typed;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use tober_book::{
    Crew, Diagnostic, Kit, Parsed, Pitch, Ride, Source, Units, Visit, disagreements, parse_crew, parse_kit,
    parse_pitch, parse_ride, parse_visit, with_rows,
};
use tober_log::Now;
use tober_plan::{Books, Plan};
use tober_quantity::UnitSet;

/// An answer that says why there is none.
pub fn refused(sentence: &str) -> String {
    json!({ "refused": sentence }).to_string()
}

/// Answers a question in JSON.
///
/// | `do` | what it takes | what it gives |
/// |---|---|---|
/// | `plan` | the texts of a visit's files: `ride`, `kit`, `pitch`, `visit`, and where there are such `crew`, `rows` | `plan`, or what is `wrong` |
/// | `calc` | `name`, `question` | what `tober calc` gives |
/// | `pages` | the texts; `entries`, a line each; the time `now` as `{ms, offset}` | `parts`, `fields`, `shown`, `plan` |
/// | `open` | the texts | all the sheets as `html`, the `title`, the `key` under which entries are kept |
/// | `begin` | `ride`, `kit`, `crew`; a `name`, `units` | the texts of a new `pitch` and `visit`, in which nothing is read |
/// | `working` | as `pages`; the place of a finding, `number` | its working as `html` |
/// | `rehearse` | as `pages`; the place in the rehearsal, `at` | what stands there as `html` |
/// | `hand over` | the texts, `entries`, `as` a `file` or `codes` | the `text` of a file, or `html` with the codes |
/// | `take in` | the texts, `entries`, `text` | the `entries` that are new, and in `said` what was found |
/// | `read photo` | `width`, `height`, `grey` (two hexadecimal digits a pixel) | the `text` of the codes in it |
/// | `enter` | the same; who writes, `device`; `kind`, `what`, `value` | the new `entry` as a line (none where it already stands), then as `pages` |
///
/// What is typed wrong is in the parts, at its field; `refused` is for questions that cannot be asked.
pub fn answer(question: &str) -> String {
    let Ok(question) = serde_json::from_str::<Value>(question) else {
        return refused("The question is not JSON.");
    };
    match question["do"].as_str() {
        Some("plan") => plan(&question),
        Some("calc") => calc(&question),
        Some("pages") => pages(&question),
        Some("enter") => enter(&question),
        Some("open") => open_visit(&question),
        Some("begin") => begin(&question),
        Some("working") => working(&question),
        Some("rehearse") => rehearse(&question),
        Some("hand over") => hand::over(&question),
        Some("take in") => hand::take_in(&question),
        Some("read photo") => hand::read_photo(&question),
        _ => refused(
            "The question does not say what to do: \"plan\", \"calc\", \"pages\", \"enter\", \"hand over\" or \"take in\".",
        ),
    }
}

fn calc(question: &Value) -> String {
    let name = question["name"].as_str().unwrap_or_default();
    match tober_wire::calc::answer(name, &question["question"].to_string(), UnitSet::Metric) {
        Ok((answer, _)) => answer.to_string(),
        Err(sentence) => refused(&sentence),
    }
}

/// The texts of a visit's files.
#[derive(Clone, Debug, Default)]
pub struct Texts {
    /// The ride book.
    pub ride: String,
    /// The kit.
    pub kit: String,
    /// The pitch.
    pub pitch: String,
    /// The visit.
    pub visit: String,
    /// The crew, where the visit names one.
    pub crew: Option<String>,
    /// The file of readings beside the pitch, where it names one.
    pub rows: Option<String>,
}

impl Texts {
    pub(crate) fn of(question: &Value) -> Self {
        let text = |key: &str| question[key].as_str().unwrap_or_default().to_owned();
        Self {
            ride: text("ride"),
            kit: text("kit"),
            pitch: text("pitch"),
            visit: text("visit"),
            crew: question["crew"].as_str().map(str::to_owned),
            rows: question["rows"].as_str().map(str::to_owned),
        }
    }
}

/// The books of a visit, read.
pub(crate) struct Opened {
    ride: Ride,
    kit: Kit,
    crew: Option<Crew>,
    pitch: Pitch,
    visit: Visit,
}

impl Opened {
    /// The ride and the pitch, as the head of the page names them.
    pub(crate) fn title(&self) -> String {
        format!("{} on {}", self.ride.about.name, self.pitch.about.name)
    }
    /// The name of the ride.
    pub(crate) fn ride_name(&self) -> &str {
        &self.ride.about.name
    }
    /// What tells this visit from every other in the store of a phone.
    pub(crate) fn key(&self) -> String {
        let from = self.visit.about.from.map_or(String::new(), |day| format!(", {day}"));
        format!("{}, {}{from}", self.title(), self.visit.about.name)
    }
    /// The name under which the entries of this visit are kept and handed over.
    pub(crate) fn name(&self) -> String {
        format!("{}: {}", self.ride.about.name, self.visit.about.name)
    }
}

/// Reads the texts of a visit, or says all that is wrong with them.
pub(crate) fn open(texts: &Texts) -> Result<Opened, Vec<Diagnostic>> {
    let ride = parse_ride(&Source::new("ride.toml", &texts.ride));
    let kit = parse_kit(&Source::new("kit.toml", &texts.kit));
    let visit = parse_visit(&Source::new("visit.toml", &texts.visit));
    let crew = texts.crew.as_ref().map(|text| parse_crew(&Source::new("crew.toml", text)));
    let mut pitch = parse_pitch(&Source::new("pitch.toml", &texts.pitch));
    if let (true, Some(rows)) = (names_rows(&pitch), &texts.rows) {
        pitch = with_rows(pitch, &Source::new("readings", rows));
    }
    let between = disagreements(&ride, &kit, &pitch, &visit);
    let of_files = [&visit.diagnostics, &ride.diagnostics, &kit.diagnostics, &pitch.diagnostics];
    let of_crew = crew.iter().flat_map(|crew| &crew.diagnostics);
    let wrong: Vec<Diagnostic> =
        of_files.into_iter().flatten().chain(of_crew).cloned().chain(between).collect();
    match (ride.value, kit.value, pitch.value, visit.value) {
        (Some(ride), Some(kit), Some(pitch), Some(visit)) if wrong.is_empty() => {
            Ok(Opened { ride, kit, crew: crew.and_then(|crew| crew.value), pitch, visit })
        }
        _ => Err(wrong),
    }
}

fn names_rows(pitch: &Parsed<Pitch>) -> bool {
    pitch.value.as_ref().is_some_and(|pitch| pitch.readings.as_ref().is_some_and(|r| r.file().is_some()))
}

/// The plan of a visit's texts, or what is wrong with them.
pub fn planned(texts: &Texts) -> Result<Plan, Vec<Diagnostic>> {
    let Opened { ride, kit, pitch, visit, .. } = open(texts)?;
    Ok(tober_plan::plan(Books { ride: &ride, kit: &kit, pitch: &pitch, visit: &visit }))
}

fn plan(question: &Value) -> String {
    match planned(&Texts::of(question)) {
        Ok(plan) => json!({ "plan": tober_wire::plan::plan(&plan) }).to_string(),
        Err(wrong) => of_wrong(&wrong),
    }
}

pub(crate) fn of_wrong(wrong: &[Diagnostic]) -> String {
    let one = |d: &Diagnostic| json!({ "file": d.file, "line": d.line, "column": d.column, "message": d.message, "help": d.help });
    json!({ "wrong": wrong.iter().map(one).collect::<Value>(), "html": sheets::of_wrong(wrong) }).to_string()
}

pub(crate) fn units(visit: &Visit) -> UnitSet {
    match visit.about.units {
        Some(Units::Gb) => UnitSet::Gb,
        Some(Units::Us) => UnitSet::Us,
        Some(Units::Metric) | None => UnitSet::Metric,
    }
}

/// The plan of what stands.
fn plan_of(opened: &Opened, stands: &Stands) -> (Kit, Pitch, typed::Typed, Plan) {
    let mut kit = opened.kit.clone();
    let mut wrong = BTreeMap::new();
    for board in &mut kit.boards {
        let field = sheets::count_of(&board.name);
        let Some(counted) = stands.value(&field) else { continue };
        match Speaks::Count.complete(counted, UnitSet::Metric).parse::<usize>() {
            Ok(count) if count <= 10_000 => board.count = count,
            _ => {
                let sentence = format!("You typed {counted}. A count is a whole number from 0 to 10000.");
                wrong.insert(field, sentence);
                // A count that cannot be read is not known, and a board not known of is not there.
                board.count = 0;
            }
        }
    }
    let units = units(&opened.visit);
    let (pitch, mut typed) = typed::merged(&opened.pitch, stands, &opened.ride, &kit, units);
    typed.wrong.extend(wrong);
    let plan = tober_plan::plan(Books { ride: &opened.ride, kit: &kit, pitch: &pitch, visit: &opened.visit });
    (kit, pitch, typed, plan)
}

/// Everything the sheets speak of, worked out.
pub(crate) fn worked(opened: &Opened, kept: &Kept, now_ms: Option<u64>) -> Worked {
    let stands = kept.stands();
    let (kit, pitch, typed, plan) = plan_of(opened, &stands);
    // A plan that was taken stays the crew's plan until another is taken: it is worked out again from what stood
    // when it was taken.
    let taken = stands.get("plan").filter(|stand| stand.value != plan.name).and_then(|stand| {
        let then = kept.as_of(&stand.entry)?;
        let (kit, pitch, _, plan) = plan_of(opened, &then);
        (plan.name == stand.value).then_some((kit, pitch, plan))
    });
    let (of_kit, of_pitch, of_plan) = taken.as_ref().map_or((&kit, &pitch, &plan), |(k, i, n)| (k, i, n));
    let books = Books { ride: &opened.ride, kit: of_kit, pitch: of_pitch, visit: &opened.visit };
    let frame = frame::frame(&stands, books, of_plan, units(&opened.visit));
    let taken = taken.map(|(_, _, plan)| plan);
    Worked {
        ride: opened.ride.clone(),
        kit_counts: opened.kit.boards.iter().map(|board| (board.name.clone(), board.count)).collect(),
        kit,
        crew: opened.crew.clone(),
        visit: opened.visit.clone(),
        of_file: opened.pitch.clone(),
        stands,
        typed,
        plan,
        taken,
        frame,
        now_ms,
        with_working: false,
        lines: kept.lines(),
        troubles: kept.troubles.clone(),
    }
}

pub(crate) fn kept_of(question: &Value) -> Kept {
    Kept::of(question["entries"].as_array().into_iter().flatten().filter_map(Value::as_str))
}

fn now_of(question: &Value) -> Option<Now> {
    let ms = question["now"]["ms"].as_i64()?;
    let offset_min = question["now"]["offset"].as_i64().and_then(|offset| i32::try_from(offset).ok())?;
    Some(Now { ms, offset_min })
}

fn pages(question: &Value) -> String {
    let opened = match open(&Texts::of(question)) {
        Ok(opened) => opened,
        Err(wrong) => return of_wrong(&wrong),
    };
    let now_ms = now_of(question).and_then(|now| u64::try_from(now.ms).ok());
    match shown(&worked(&opened, &kept_of(question), now_ms)) {
        Ok(answer) => Value::Object(answer).to_string(),
        Err(sentence) => refused(&sentence),
    }
}

/// All sheets of a visit, to be put up at once.
fn open_visit(question: &Value) -> String {
    let opened = match open(&Texts::of(question)) {
        Ok(opened) => opened,
        Err(wrong) => return of_wrong(&wrong),
    };
    let w = worked(&opened, &Kept::of([]), None);
    match sheets::parts(&w) {
        Ok(parts) => {
            json!({ "html": sheets::all(&w, &parts, false), "title": opened.title(), "key": opened.key() })
                .to_string()
        }
        Err(error) => refused(&error.to_string()),
    }
}

fn begin(question: &Value) -> String {
    let text = |key: &str| question[key].as_str().unwrap_or_default();
    match begun(&Texts::of(question), text("name"), text("units")) {
        Ok(texts) => match open(&texts) {
            Ok(opened) => json!({
                "pitch": texts.pitch, "visit": texts.visit, "title": opened.title(), "key": opened.key(),
            })
            .to_string(),
            Err(wrong) => of_wrong(&wrong),
        },
        Err(sentences) => refused(&sentences.join(" ")),
    }
}

/// The longest name of a pitch that is begun on a phone, in letters.
const NAME_MAX: usize = 60;

/// A pitch and a visit of which nothing is read yet, beside a ride, a kit and a crew.
pub(crate) fn begun(texts: &Texts, name: &str, units: &str) -> Result<Texts, Vec<String>> {
    let name = name.trim();
    let long = name.chars().count();
    if long == 0 || long > NAME_MAX {
        return Err(vec![format!("The name has {long} letters. Give the ground a name of 1 to {NAME_MAX}.")]);
    }
    let words = match units {
        "gb" | "metric" => "gb",
        "us" => "us",
        _ => return Err(vec!["Say which units this crew speaks.".to_owned()]),
    };
    let name = typed::quoted(name);
    let crew = if texts.crew.is_some() { "crew = \"crew.toml\"\n" } else { "" };
    let texts = Texts {
        pitch: format!("format = 0\n[pitch]\nname = {name}\n"),
        visit: format!(
            "format = 0\n[visit]\nname = {name}\nride = \"ride.toml\"\nkit = \"kit.toml\"\n{crew}pitch = \"pitch.toml\"\nunits = \"{units}\"\nwords = \"{words}\"\n"
        ),
        rows: None,
        ..texts.clone()
    };
    match open(&texts) {
        Ok(_) => Ok(texts),
        Err(wrong) => Err(wrong.iter().map(ToString::to_string).collect()),
    }
}

/// The name of a ride, if its book can be read.
pub(crate) fn ride_name(text: &str) -> Option<String> {
    parse_ride(&Source::new("ride.toml", text)).value.map(|ride| ride.about.name)
}

/// How one figure was obtained.
fn working(question: &Value) -> String {
    let opened = match open(&Texts::of(question)) {
        Ok(opened) => opened,
        Err(wrong) => return of_wrong(&wrong),
    };
    let w = worked(&opened, &kept_of(question), None);
    let number = question["number"].as_u64().and_then(|number| usize::try_from(number).ok());
    match number.and_then(|number| w.shown().findings.get(number)) {
        Some(finding) => json!({ "html": sheets::working(&w, finding) }).to_string(),
        None => refused("There is no finding of that number."),
    }
}

/// A place in the rehearsal. Nothing of it is entered.
fn rehearse(question: &Value) -> String {
    let opened = match open(&Texts::of(question)) {
        Ok(opened) => opened,
        Err(wrong) => return of_wrong(&wrong),
    };
    let Opened { ride, visit, .. } = &opened;
    let of = sheets::Of { ride, visit, units: units(visit), words: tober_plan::words(ride, visit) };
    let seed = now_of(question).and_then(|now| u64::try_from(now.ms / 1000 % 100_000).ok()).unwrap_or(1);
    // Only a step's picture needs the plan.
    let w = || worked(&opened, &kept_of(question), None);
    match sheets::lesson(of, question["at"].as_str().unwrap_or_default(), seed, &w) {
        Ok(html) => json!({ "html": html }).to_string(),
        Err(sentence) => refused(&sentence),
    }
}

/// The pages of what was worked out, as the script puts them up.
fn shown(w: &Worked) -> Result<Map<String, Value>, String> {
    let parts = sheets::parts(w).map_err(|error| error.to_string())?;
    let mut fields = Map::new();
    for (what, stand) in w.stands.iter() {
        // Where two entries disagree, neither is put into the field.
        let value = if stand.others.is_empty() { stand.value.as_str() } else { "" };
        if *what == *sheets::reason_for(&w.plan) {
            fields.insert("reason".to_owned(), json!(value));
        } else if let Some(field) = frame::field_of(what, &w.stands, w.shown()) {
            fields.insert(field.to_owned(), json!(value));
        }
    }
    let how = typed::method(&w.stands, &w.of_file);
    // A way that nobody chose is still the one whose fields are seen.
    if w.stands.get("method").is_none() {
        let seen = if how == Some(typed::Method::Staff) { "staff" } else { "tape" };
        fields.insert("method".to_owned(), json!(seen));
    }
    let mut answer = Map::new();
    answer.insert("parts".to_owned(), json!(parts));
    answer.insert("fields".to_owned(), Value::Object(fields));
    let wrong: BTreeMap<&String, &String> = w.typed.wrong.iter().chain(&w.frame.wrong).collect();
    answer.insert("wrong".to_owned(), json!(wrong));
    let mut boxes = Map::new();
    for (name, is_shown) in [
        ("tape", how != Some(typed::Method::Staff)),
        ("staff", how == Some(typed::Method::Staff)),
        ("bared", w.stands.value("ground") == Some("below the topsoil")),
        ("reason", w.reason().is_some() || matches!(w.in_the_way(), InTheWay::Reason(_))),
        ("lowered", w.frame.lowered),
        ("by level", w.frame.way.as_deref() == Some("level")),
        ("by heights", w.frame.way.as_deref() == Some("heights")),
    ] {
        boxes.insert(name.to_owned(), json!(is_shown));
    }
    for leg in w.legs() {
        let foot = frame::kept_name(&format!("foot {leg}"), &w.stands, w.shown());
        boxes.insert(format!("light {leg}"), json!(w.stands.value(&foot) == Some("light")));
    }
    answer.insert("shown".to_owned(), Value::Object(boxes));
    answer.insert("plan".to_owned(), json!(w.shown().name));
    Ok(answer)
}

fn enter(question: &Value) -> String {
    let opened = match open(&Texts::of(question)) {
        Ok(opened) => opened,
        Err(wrong) => return of_wrong(&wrong),
    };
    let Some(now) = now_of(question) else {
        return refused("An entry needs the time: \"now\" with \"ms\" and \"offset\".");
    };
    let text = |key: &str| question[key].as_str().unwrap_or_default().to_owned();
    let kept = kept_of(question);
    let stands = kept.stands();
    let by = stands.value("who").map(str::to_owned);
    let mut said = Said {
        kind: text("kind"),
        what: text("what"),
        value: text("value"),
        role: role_of(&opened, by.as_deref()),
        by,
        plan: question["plan"].as_str().map(str::to_owned),
        more: BTreeMap::new(),
    };
    if !said.known() || said.what.is_empty() {
        return refused(&format!("There is no entry of the kind \"{}\".", said.kind));
    }
    if !said.of_a_plan() {
        said.plan = None;
    }
    // What belongs to a reading of the frame bears its plan and its round, and a change what it leaves behind.
    if said.kind == "adopt" || said.what == "reason" {
        let w = worked(&opened, &kept, None);
        if said.what == "reason" {
            said.what = sheets::reason_for(&w.plan);
        } else if said.value != w.plan.name {
            return refused("That plan is not the one the readings give now. Look at it again.");
        } else {
            match w.in_the_way() {
                InTheWay::Nothing => {}
                InTheWay::NoStacks => return refused("There are no stacks in this plan to build."),
                InTheWay::Barred(_) => {
                    return refused(
                        "Something is past its limit that nobody may override. Do not build here as it stands.",
                    );
                }
                InTheWay::Reason(_) => {
                    return refused("Something is past its limit. Write first why it is taken on.");
                }
            }
        }
    }
    if matches!(said.kind.as_str(), "tick" | "hold")
        && let Err(sentence) = may(&worked(&opened, &kept, None), &mut said)
    {
        return refused(sentence);
    }
    if said.kind == "change" || frame::OF_A_ROUND.iter().any(|begin| said.what.starts_with(begin)) {
        let w = worked(&opened, &kept, None);
        said.what = frame::kept_name(&said.what, &w.stands, w.shown());
        if said.kind == "change" {
            match &w.frame.trim {
                Some(Ok(trim))
                    if !trim.change.is_empty() && said.what == format!("changed {}", w.frame.round) =>
                {
                    said.more = frame::settings(trim);
                }
                _ => return refused("There is no change to confirm: read the frame first."),
            }
        }
    }
    let entry = match kept.next(&text("device"), now, &said) {
        Ok(entry) => entry,
        Err(sentence) => return refused(&sentence),
    };
    let line = entry.as_ref().map(tober_log::text::entry_line);
    let lines = question["entries"].as_array().into_iter().flatten().filter_map(Value::as_str);
    let after = Kept::of(lines.chain(line.as_deref()));
    let now_ms = u64::try_from(now.ms).ok();
    match shown(&worked(&opened, &after, now_ms)) {
        Ok(mut answer) => {
            answer.insert("entry".to_owned(), json!(line));
            Value::Object(answer).to_string()
        }
        Err(sentence) => refused(&sentence),
    }
}

/// Whether a piece of work may be called done, or a hold point passed: nothing goes on until what it rests on is there
/// (rule S2). What is done is of the plan that is shown, whatever the page thought.
fn may(w: &Worked, said: &mut Said) -> Result<(), &'static str> {
    said.plan = Some(w.shown().name.clone());
    if !w.is_taken() {
        return Err("Nobody has taken this plan. Look at the readings, and take it first.");
    }
    let (done, of) = sheets::count(w);
    match (said.kind.as_str(), said.what.as_str()) {
        ("tick", what) => {
            let (work, leg) = what.split_once(' ').unwrap_or((what, ""));
            let there = w.shown().legs.iter().any(|other| other.name == leg);
            let built = w.stands.for_plan(&format!("built {leg}"), &w.shown().name).is_some();
            match work {
                _ if !there => Err("This plan has no such leg."),
                "built" => Ok(()),
                "pinned" if built => Ok(()),
                "pinned" => Err("The stack comes first: build it, then pin and clip."),
                _ => Err("There is no such piece of work."),
            }
        }
        (_, "hold legs set") if done == of && of > 0 => Ok(()),
        (_, "hold legs set") => Err(
            "Not every leg has its stack, its pin and its clip seen. An arm or a leg that is not pinned has no override.",
        ),
        (_, "hold lowered") if w.frame.set => Ok(()),
        (_, "hold lowered") => Err("First the legs are set and looked at."),
        (_, "hold frame read") if !w.frame.lowered || !sheets::inside(w) => {
            Err("The frame is not inside yet: read it, and trim it until it is.")
        }
        (_, "hold frame read") if !w.nothing_goes_up().is_empty() => {
            Err("Something is past its limit that nobody may override: nothing goes up until it is settled.")
        }
        (_, "hold frame read") => Ok(()),
        _ => Err("There is no such hold point."),
    }
}

/// What somebody is in the crew; not said where nobody said who has the phone.
fn role_of(opened: &Opened, by: Option<&str>) -> String {
    let person = opened
        .crew
        .as_ref()
        .and_then(|crew| crew.people.iter().find(|person| Some(person.tag.as_str()) == by));
    person
        .and_then(|person| person.skills.first())
        .map_or_else(|| "not said".to_owned(), |role| role.word().to_owned())
}
