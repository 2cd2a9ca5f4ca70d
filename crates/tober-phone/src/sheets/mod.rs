//! The sheets, made by the core for laptop and phone alike.
//!
//! Each sheet has a fixed part (its fields, which are never drawn again while somebody types in them) and slots that
//! are filled anew after every entry.

mod entries;
mod ground;
mod kit;
mod last;
mod limits;
mod pitch;
mod rehearse;
mod stacks;
mod trim;

pub(crate) use kit::count_of;
pub(crate) use limits::working;
pub(crate) use rehearse::{Of, lesson};
pub(crate) use stacks::count;
pub(crate) use trim::inside;

use crate::frame::Frame;
use crate::html::{escape, shape};
use crate::stands::{Stand, Stands};
use crate::typed::Typed;
use std::collections::BTreeMap;
use std::fmt::Write;
use tober_book::{Crew, Diagnostic, Kit, Pitch, Ride, Visit};
use tober_calc::finding::{Finding, Override, Standing};
use tober_draw::{DrawError, Mark};
use tober_plan::Plan;
use tober_quantity::{UnitSet, Word, WordSet, in_units_of, in_words_of};

/// Everything the sheets speak of.
pub(crate) struct Worked {
    /// The ride book.
    pub ride: Ride,
    /// The kit.
    pub kit: Kit,
    /// How many of each board the kit's own file counts.
    pub kit_counts: BTreeMap<String, usize>,
    /// The crew, where its book is there.
    pub crew: Option<Crew>,
    /// The visit.
    pub visit: Visit,
    /// The pitch as its file says it.
    pub of_file: Pitch,
    /// What stands of the entries.
    pub stands: Stands,
    /// What the typed part came to.
    pub typed: Typed,
    /// The plan of what stands now.
    pub plan: Plan,
    /// The plan that the chief took, where it is another than that of what stands now.
    pub taken: Option<Plan>,
    /// The frame of the plan shown, once it is lowered.
    pub frame: Frame,
    /// The time now, in milliseconds, where a clock was given.
    pub now_ms: Option<u64>,
    /// The entries in words, newest first, with whether each still stands.
    pub lines: Vec<(String, bool)>,
    /// Whether each finding that is not inside carries its working at once: for reading without script. A page with
    /// script asks for it.
    pub with_working: bool,
    /// What is wrong with the entries themselves.
    pub troubles: Vec<String>,
}

impl Worked {
    pub(crate) fn units(&self) -> UnitSet {
        self.plan.units
    }
    pub(crate) fn words(&self) -> WordSet {
        self.plan.words
    }
    /// The plan the crew works from: the one that was taken, or else the one proposed.
    pub(crate) fn shown(&self) -> &Plan {
        self.taken.as_ref().unwrap_or(&self.plan)
    }
    /// What stands in the way of taking the plan that is proposed.
    pub(crate) fn in_the_way(&self) -> InTheWay<'_> {
        let past = || self.plan.findings.iter().filter(|finding| finding.standing == Standing::PastLimit);
        // Whether the ride stands in the wind is asked before anything goes up; boards can be laid and taken up again.
        let barred: Vec<&Finding> = past()
            .filter(|finding| {
                finding.overriding == Override::Never && !finding.code.starts_with("stability.")
            })
            .collect();
        if self.plan.legs.is_empty() {
            InTheWay::NoStacks
        } else if !barred.is_empty() {
            InTheWay::Barred(barred)
        } else if past().any(|finding| finding.overriding != Override::Never) && self.reason().is_none() {
            InTheWay::Reason(past().filter(|finding| finding.overriding != Override::Never).collect())
        } else {
            InTheWay::Nothing
        }
    }
    /// What is past its limit on the plan shown, and bars everything from going up.
    pub(crate) fn nothing_goes_up(&self) -> Vec<&Finding> {
        let all = self.shown().findings.iter();
        all.filter(|f| f.standing == Standing::PastLimit && f.overriding == Override::Never).collect()
    }
    /// Why the chief takes on what is past its limit in the plan that is proposed.
    pub(crate) fn reason(&self) -> Option<&Stand> {
        self.stands.get(&reason_for(&self.plan)).filter(|stand| stand.others.is_empty())
    }
    /// Whether the plan shown was taken.
    pub(crate) fn is_taken(&self) -> bool {
        self.stands.value("plan") == Some(self.shown().name.as_str())
    }
    /// The names of the legs in the order in which they are set.
    pub(crate) fn legs(&self) -> Vec<String> {
        self.ride.supports_in_order().iter().map(|leg| leg.name.clone()).collect()
    }
    /// How a piece of work stands for the plan shown.
    pub(crate) fn mark_of(&self, what: &str) -> Mark {
        match self.stands.get(what) {
            None => Mark::NotBegun,
            Some(stand) if !stand.others.is_empty() => Mark::NotKnown,
            Some(stand) if stand.plan.as_deref() == Some(self.shown().name.as_str()) => Mark::Done,
            // It was done for another plan.
            Some(_) => Mark::DoAgain,
        }
    }
}

/// What stands in the way of taking a plan (rule S2).
pub(crate) enum InTheWay<'a> {
    Nothing,
    NoStacks,
    /// Findings past their limit that nobody may override.
    Barred(Vec<&'a Finding>),
    /// Findings that the chief may take on, with a reason that prints.
    Reason(Vec<&'a Finding>),
}

/// The name under which the reason for taking a plan is kept.
pub(crate) fn reason_for(plan: &Plan) -> String {
    format!("{} reason", plan.name)
}

/// The slots by their names.
pub(crate) type Parts = BTreeMap<String, String>;

/// One sheet in the list of them.
pub(crate) struct Sheet {
    pub id: &'static str,
    pub title: &'static str,
}

/// The sheets, in the order in which they are needed.
pub(crate) const SHEETS: [Sheet; 9] = [
    Sheet { id: "pitch", title: "This pitch" },
    Sheet { id: "ground", title: "Ground" },
    Sheet { id: "stacks", title: "Stacks" },
    Sheet { id: "trim", title: "Lower, read, trim" },
    Sheet { id: "limits", title: "Loads and limits" },
    Sheet { id: "last", title: "Last time" },
    Sheet { id: "kit", title: "Kit and crew" },
    Sheet { id: "entries", title: "Entries" },
    Sheet { id: "rehearse", title: "Rehearsal" },
];

/// The title of a sheet in the words of the visit.
fn title(sheet: &Sheet, words: WordSet) -> String {
    match sheet.id {
        "pitch" => format!("This {}", words.word(Word::Pitch)),
        _ => sheet.title.to_owned(),
    }
}

/// A slot, with what it holds at present.
pub(crate) fn slot(parts: &Parts, name: &str) -> String {
    slot_in("div", parts, name)
}

/// A slot as an element of a kind.
pub(crate) fn slot_in(element: &str, parts: &Parts, name: &str) -> String {
    let held = parts.get(name).map_or("", String::as_str);
    format!("<{element} data-part=\"{}\">{held}</{element}>", escape(name))
}

/// The head of a sheet: its number on a dog-eared corner that leads to the list of sheets, its title, an aside.
fn head(words: WordSet, id: &str, parts: &Parts) -> String {
    let place = SHEETS.iter().position(|sheet| sheet.id == id).unwrap_or(0);
    format!(
        "<section class=\"sheet\" id=\"{id}\" aria-labelledby=\"h-{id}\"><div class=\"head\">\
         <a class=\"corner\" href=\"#sheets\" aria-label=\"Sheet {number}. To the list of sheets\">\
         <svg viewBox=\"0 0 56 56\" aria-hidden=\"true\"><path d=\"M6 5h34l11 11v35H6z\" class=\"kf\"/><path d=\"M40 5v11h11\" class=\"kn\"/>\
         <text x=\"28\" y=\"39\" class=\"b1\">{number}</text></svg></a>\
         <h2 id=\"h-{id}\" tabindex=\"-1\">{title}</h2>{aside}</div>",
        number = place + 1,
        title = escape(&title(&SHEETS[place], words)),
        aside = slot(parts, &format!("{id} aside")),
    )
}

/// Every slot of every sheet.
///
/// # Errors
/// If a drawing cannot be made.
pub(crate) fn parts(w: &Worked) -> Result<Parts, DrawError> {
    let mut parts = Parts::new();
    pitch::parts(w, &mut parts)?;
    ground::parts(w, &mut parts);
    stacks::parts(w, &mut parts)?;
    trim::parts(w, &mut parts)?;
    limits::parts(w, &mut parts);
    last::parts(w, &mut parts);
    kit::parts(w, &mut parts);
    entries::parts(w, &mut parts);
    parts.insert("banner".to_owned(), banner(w));
    parts.insert("title block".to_owned(), title_block(w));
    for html in parts.values_mut() {
        let told = in_words_of(&in_units_of(html, w.units()), w.words()).into_owned();
        *html = told;
    }
    Ok(parts)
}

/// What must be seen on every sheet.
fn banner(w: &Worked) -> String {
    let mut out = String::new();
    if let Some(stop) = w.stands.get("stop").filter(|stand| stand.value != "no") {
        let _ = write!(
            out,
            "<div class=\"coach bad\" role=\"alert\"><h3>{}Stopped</h3><p>{} {}</p>{}</div>",
            shape(Mark::Stopped),
            escape(&stop.at),
            escape(&stop.value),
            crate::html::button(
                "plainb",
                "stop",
                "stop",
                "no",
                "It is settled: go on",
                "The entry stays in the list"
            ),
        );
    }
    if w.taken.is_some() {
        let _ = write!(
            out,
            "<div class=\"coach\"><h3>The readings have changed since this plan was taken</h3>\
             <p>The stacks shown are still those of plan {}. Look at sheet 1, and take the new plan or put the reading right.</p></div>",
            escape(&w.shown().name)
        );
    }
    for trouble in &w.troubles {
        let _ = write!(
            out,
            "<div class=\"coach bad\"><h3>An entry is not whole</h3><p>{}</p></div>",
            escape(trouble)
        );
    }
    out
}

fn title_block(w: &Worked) -> String {
    let plan = if w.is_taken() { w.shown().name.clone() } else { format!("{}, not taken", w.shown().name) };
    format!(
        "<div class=\"tb0\"><div><span>Plan</span><b>{}</b></div><div><span>Entries</span><b>{}</b></div><div><span>Figures</span><b>{}</b></div></div>",
        escape(&plan),
        w.lines.len(),
        if w.plan.invented { "invented" } else { "of the books" },
    )
}

/// All the sheets, with their slots as they are now; the rehearsal first where the page is for that.
pub(crate) fn all(w: &Worked, parts: &Parts, rehearsal_first: bool) -> String {
    let mut out = slot(parts, "banner");
    if rehearsal_first {
        out.push_str(&rehearse::sheet(w, parts));
    }
    out.push_str(&pitch::sheet(w, parts));
    out.push_str(&ground::sheet(w, parts));
    out.push_str(&stacks::sheet(w, parts));
    out.push_str(&trim::sheet(w, parts));
    out.push_str(&limits::sheet(w, parts));
    out.push_str(&last::sheet(w, parts));
    out.push_str(&kit::sheet(w, parts));
    out.push_str(&entries::sheet(w, parts));
    if !rehearsal_first {
        out.push_str(&rehearse::sheet(w, parts));
    }
    out.push_str("<nav class=\"foot\" id=\"sheets\" aria-label=\"Sheets\"><h2 id=\"h-sheets\" tabindex=\"-1\">Sheets</h2><ol>");
    for (place, sheet) in SHEETS.iter().enumerate() {
        let _ = write!(
            out,
            "<li><a href=\"#{}\"><span class=\"n\">{}</span>{}</a></li>",
            sheet.id,
            place + 1,
            escape(&title(sheet, w.words()))
        );
    }
    let _ = write!(out, "</ol>{}</nav>", slot(parts, "title block"));
    out
}

/// A plan in short: the legs in their order, and what is not inside. For reading where several visits share a page.
pub(crate) fn in_short(w: &Worked) -> String {
    let plan = &w.plan;
    let mut out = format!("<p>{}</p>", crate::html::standing(plan.standing));
    if plan.legs.is_empty() {
        out.push_str("<p>No stacks are known yet.</p>");
    }
    out.push_str("<ol>");
    for leg in &plan.legs {
        let boards: Vec<&str> = leg.layers.iter().map(|layer| layer.board.as_str()).collect();
        let _ = write!(
            out,
            "<li><b>{}</b>: {}. {}</li>",
            escape(&crate::html::capital(&leg.name)),
            escape(&stacks::setting(leg, plan.units)),
            escape(&boards.join(", then "))
        );
    }
    out.push_str("</ol>");
    out
}

/// What is wrong with the files, each with its place.
pub(crate) fn of_wrong(wrong: &[Diagnostic]) -> String {
    let mut out = String::from(
        "<section class=\"sheet\" id=\"wrong\"><div class=\"coach bad\"><h2>The books do not fit</h2><ul>",
    );
    for diagnostic in wrong {
        let _ = write!(
            out,
            "<li><b>{}</b> {} <small>{}, line {}</small></li>",
            escape(&diagnostic.message),
            escape(&diagnostic.help),
            escape(&diagnostic.file),
            diagnostic.line
        );
    }
    out.push_str("</ul></div><p>Nothing was lost: every entry stands where it was kept.</p></section>");
    out
}
