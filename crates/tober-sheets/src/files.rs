//! The files that go beside the PDF: a calendar and tables for a spreadsheet.

use crate::say;
use crate::sheets::{Blank, Given};
use core::fmt::Write as _;
use std::collections::BTreeMap;
use tober_book::{Date, Interval, Phase};
use tober_plan::Plan;
use tober_quantity::{Length, Mass, Quantity as _, Rounding, Shown};

/// How many bytes of a line of a calendar stand before it is folded (RFC 5545, section 3.1).
const LINE_BYTES: usize = 75;

/// Hold points and due checks as a calendar (RFC 5545). `None` where the visit has no first day.
///
/// Hold points stand on the first day, since nothing says at which hour they fall; what is due each build-up too; what is
/// due each day or week repeats until the last day of the visit. Every entry is for a whole day. The stamp of each entry is
/// the first day of the visit, so that the same visit gives the same bytes.
///
/// # Not covered
/// What is due each month or year: no file says when it was last done. What is due after something has happened.
pub fn calendar(given: &Given<'_>) -> Option<String> {
    let about = &given.visit.about;
    let first = about.from?;
    let last = about.until.unwrap_or(first);
    let mut out = String::new();
    let plan = given.plan;
    let mut lines: Vec<String> = vec![
        "BEGIN:VCALENDAR".to_owned(),
        "VERSION:2.0".to_owned(),
        "PRODID:-//tober//sheets//EN".to_owned(),
        "CALSCALE:GREGORIAN".to_owned(),
        format!("X-WR-CALNAME:{}", escaped(&format!("{} on {}", plan.ride, plan.pitch))),
    ];
    // The same entry of the same visit keeps its identity (RFC 5545, section 3.8.4.7), so that a calendar that is read in
    // again after another reading does not hold it twice.
    let mut known: BTreeMap<String, usize> = BTreeMap::new();
    let mut event = |of: &str, title: &str, more: &str, again: &str| {
        let identity = format!("{}-{}-{}-{}", slug(&plan.ride), slug(&plan.pitch), day(first), slug(of));
        let times = known.entry(identity.clone()).and_modify(|times| *times += 1).or_insert(1);
        let more_of = if *times > 1 { format!("-{times}") } else { String::new() };
        lines.push("BEGIN:VEVENT".to_owned());
        lines.push(format!("UID:{identity}{more_of}@tober.invalid"));
        lines.push(format!("DTSTAMP:{}T000000Z", day(first)));
        lines.push(format!("DTSTART;VALUE=DATE:{}", day(first)));
        lines.push(format!("SUMMARY:{}", escaped(title)));
        if !more.is_empty() {
            lines.push(format!("DESCRIPTION:{}", escaped(more)));
        }
        if !again.is_empty() {
            lines.push(format!("RRULE:FREQ={again};UNTIL={}", day(last)));
        }
        lines.push("TRANSP:TRANSPARENT".to_owned());
        lines.push("END:VEVENT".to_owned());
    };
    for (at, step) in given.steps_of(&[Phase::Arrive, Phase::BuildUp, Phase::Prove]) {
        if let Some(looks_at) = &step.hold_point {
            let title = format!("Hold point, step {at}: {}", step.title);
            event(&format!("hold point {}", step.name), &title, looks_at, "");
        }
    }
    for check in &given.ride.checks {
        let again = match check.interval {
            Interval::BuildUp => "",
            Interval::Day => "DAILY",
            Interval::Week => "WEEKLY",
            _ => continue,
        };
        let signs = say::roles(&check.signed_by, plan.words);
        let title = format!("Due {}: {}", check.interval.word(), check.item);
        event(&title, &title, &format!("Signed by: {signs}"), again);
    }
    lines.push("END:VCALENDAR".to_owned());
    for line in &lines {
        fold(&mut out, line);
    }
    Some(out)
}

/// A text as a part of an identity: its Latin letters and figures.
fn slug(text: &str) -> String {
    let letters = |part: &str| part.chars().filter(char::is_ascii_alphanumeric).collect::<String>();
    let parts: Vec<String> = text.split_whitespace().map(letters).filter(|part| !part.is_empty()).collect();
    parts.join("-").to_ascii_lowercase()
}

fn day(date: Date) -> String {
    format!("{:04}{:02}{:02}", date.year, date.month, date.day)
}

/// A text of a calendar: RFC 5545, section 3.3.11.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        match letter {
            '\\' | ';' | ',' => out.extend(['\\', letter]),
            '\n' => out.push_str("\\n"),
            control if control.is_control() => {}
            plain => out.push(plain),
        }
    }
    out
}

/// Writes a line of a calendar, folded where it is long, never inside a letter.
fn fold(out: &mut String, line: &str) {
    let mut bytes = 0;
    for letter in line.chars() {
        if bytes + letter.len_utf8() > LINE_BYTES {
            out.push_str("\r\n ");
            bytes = 1;
        }
        out.push(letter);
        bytes += letter.len_utf8();
    }
    out.push_str("\r\n");
}

/// A row of a table (RFC 4180). A text that a spreadsheet would take for a formula gets an apostrophe before it.
fn row<I: IntoIterator<Item = String>>(out: &mut String, cells: I) {
    let cell = |text: String| {
        let text = if text.starts_with(['=', '@', '+', '-', '\t']) { format!("'{text}") } else { text };
        if text.contains(['"', ',', '\n', '\r']) {
            format!("\"{}\"", text.replace('"', "\"\""))
        } else {
            text
        }
    };
    let line: Vec<String> = cells.into_iter().map(cell).collect();
    let _ = write!(out, "{}\r\n", line.join(","));
}

/// The packing as a table, a row for each leg in the order in which they are set. Figures in the units of the plan, which
/// stand in the head.
pub fn packing_csv(plan: &Plan) -> String {
    let units = plan.units;
    let (fine, load) = (Shown::Fine.caption(units), Shown::Load.caption(units));
    let mut out = String::new();
    row(
        &mut out,
        [
            "order".to_owned(),
            "leg".to_owned(),
            "short".to_owned(),
            "set at".to_owned(),
            "boards from the ground up".to_owned(),
            format!("stack {fine}"),
            format!("least load {load}"),
            format!("greatest load {load}"),
            format!("rated load {load}"),
            "state".to_owned(),
        ],
    );
    let length = |length: Length| length.amount().shown(Shown::Fine).print_number(units, Rounding::Nearest);
    let mass = |mass: Option<Mass>, rounding: Rounding| {
        mass.map_or("not known".to_owned(), |mass| {
            mass.amount().shown(Shown::Load).print_number(units, rounding)
        })
    };
    for leg in &plan.legs {
        row(
            &mut out,
            [
                leg.order.to_string(),
                leg.name.clone(),
                leg.short.clone(),
                say::setting(leg, units),
                say::boards(leg),
                length(leg.stack),
                mass(leg.load.map(|(low, _)| low), Rounding::Capacity),
                mass(leg.load.map(|(_, high)| high), Rounding::Requirement),
                mass(leg.rated, Rounding::Capacity),
                leg.standing.word().to_owned(),
            ]
            .map(|text| plain(&text)),
        );
    }
    out
}

/// A text without the narrow spaces of print.
fn plain(text: &str) -> String {
    text.replace('\u{202f}', " ")
}

/// The pin account as a table: where every fixing is on the road and when the ride is open, with a column for what was
/// counted. Empty but for its head where the book has no steps.
pub fn pins_csv(given: &Given<'_>) -> String {
    let mut out = String::new();
    row(&mut out, ["fixing", "home", "fastens", "on the road", "open", "counted", "by"].map(str::to_owned));
    for home in given.every.into_iter().flat_map(|every| &every.homes) {
        row(
            &mut out,
            [
                home.fixing.clone(),
                home.home.clone(),
                home.fastens.clone().unwrap_or_default(),
                home.on_the_road.to_string(),
                home.open.to_string(),
                String::new(),
                String::new(),
            ],
        );
    }
    out
}

/// Every blank of a printed pack by its number, with columns for what was written into it, by whom (a tag) and when it was looked
/// at (with date and zone), and the plan that stands at the foot of its page. `tober log type-in` takes it back.
pub fn blanks_csv(blanks: &[Blank], plan: &str) -> String {
    let mut out = String::new();
    row(&mut out, ["number", "about", "what", "must be", "plan", "written", "by", "at"].map(str::to_owned));
    for blank in blanks {
        let told = [&blank.about, &blank.what, &blank.must].map(|text| plain(text));
        let empty = core::iter::repeat_n(String::new(), 3);
        row(&mut out, [as_text(&blank.number)].into_iter().chain(told).chain([as_text(plan)]).chain(empty));
    }
    out
}

/// A name that a spreadsheet would read as a number and write back otherwise, with an apostrophe before it: the blank 1.10 would
/// become 1.1, and the plan 12345e67 a power of ten.
fn as_text(name: &str) -> String {
    let number = name.parse::<f64>().is_ok();
    if number && (name.ends_with('0') || !name.contains('.')) { format!("'{name}") } else { name.to_owned() }
}
