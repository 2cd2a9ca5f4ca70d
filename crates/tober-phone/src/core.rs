//! One question, one answer.

use crate::sheets;
use serde_json::{Value, json};
use tober_book::{
    Diagnostic, Parsed, Pitch, Source, disagreements, parse_kit, parse_pitch, parse_ride, parse_visit,
    with_rows,
};
use tober_plan::{Books, Plan};
use tober_quantity::UnitSet;

/// An answer that says why there is none.
pub fn refused(sentence: &str) -> String {
    json!({ "refused": sentence }).to_string()
}

/// Answers a question in JSON.
///
/// `{"do": "plan", "ride": …, "kit": …, "pitch": …, "visit": …, "rows": …}` takes the texts of the files; with
/// `"readings": {"slope_along": …, "slope_across": …, "legs": {"front left": …}}` what was typed on the phone takes
/// the place of the readings in the pitch. The answer holds the plan, its sheets as HTML, or what is wrong.
/// `{"do": "calc", "name": …, "question": …}` is `tober calc`.
pub fn answer(question: &str) -> String {
    let Ok(question) = serde_json::from_str::<Value>(question) else {
        return refused("The question is not JSON.");
    };
    match question["do"].as_str() {
        Some("plan") => plan(&question),
        Some("calc") => calc(&question),
        _ => refused("The question does not say what to do: \"plan\" or \"calc\"."),
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
    /// The file of readings beside the pitch, where it names one.
    pub rows: Option<String>,
}

/// The plan of a visit's texts, or what is wrong with them.
pub fn planned(texts: &Texts) -> Result<Plan, Vec<Diagnostic>> {
    let ride = parse_ride(&Source::new("ride.toml", &texts.ride));
    let kit = parse_kit(&Source::new("kit.toml", &texts.kit));
    let visit = parse_visit(&Source::new("visit.toml", &texts.visit));
    let mut pitch = parse_pitch(&Source::new("pitch.toml", &texts.pitch));
    if let (true, Some(rows)) = (names_rows(&pitch), &texts.rows) {
        pitch = with_rows(pitch, &Source::new("readings", rows));
    }
    let between = disagreements(&ride, &kit, &pitch, &visit);
    let of_files = [&visit.diagnostics, &ride.diagnostics, &kit.diagnostics, &pitch.diagnostics];
    let wrong: Vec<Diagnostic> = of_files.into_iter().flatten().cloned().chain(between).collect();
    match (ride.value, kit.value, pitch.value, visit.value) {
        (Some(ride), Some(kit), Some(pitch), Some(visit)) if wrong.is_empty() => {
            Ok(tober_plan::plan(Books { ride: &ride, kit: &kit, pitch: &pitch, visit: &visit }))
        }
        _ => Err(wrong),
    }
}

fn names_rows(pitch: &Parsed<Pitch>) -> bool {
    pitch.value.as_ref().is_some_and(|pitch| pitch.readings.as_ref().is_some_and(|r| r.file().is_some()))
}

fn plan(question: &Value) -> String {
    let text = |key: &str| question[key].as_str().unwrap_or_default().to_owned();
    let mut texts = Texts {
        ride: text("ride"),
        kit: text("kit"),
        pitch: text("pitch"),
        visit: text("visit"),
        rows: question["rows"].as_str().map(str::to_owned),
    };
    if question["readings"].is_object() {
        texts.pitch = with_readings(&texts.pitch, &question["readings"]);
    }
    match planned(&texts) {
        Ok(plan) => match sheets::of_plan(&plan) {
            Ok(html) => json!({ "plan": tober_wire::plan::plan(&plan), "html": html }).to_string(),
            Err(error) => refused(&error.to_string()),
        },
        Err(wrong) => {
            let one = |d: &Diagnostic| json!({ "file": d.file, "line": d.line, "column": d.column, "message": d.message, "help": d.help });
            json!({ "wrong": wrong.iter().map(one).collect::<Value>(), "html": sheets::of_wrong(&wrong) })
                .to_string()
        }
    }
}

/// A text as a TOML string.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => out.extend(['\\', letter]),
            '\n' | '\r' | '\t' => out.push(' '),
            control if control.is_control() => {}
            plain => out.push(plain),
        }
    }
    out.push('"');
    out
}

/// The pitch with what was typed in place of its own readings. The rest of it stands as it was.
fn with_readings(pitch: &str, readings: &Value) -> String {
    let mut out = String::new();
    let mut inside = false;
    for line in pitch.lines() {
        if line.starts_with('[') {
            inside = line.trim_end() == "[readings]" || line.starts_with("[[readings.");
        }
        if !inside {
            out.push_str(line);
            out.push('\n');
        }
    }
    out.push_str("[readings]\nmethod = \"tape\"\n");
    for key in ["slope_along", "slope_across", "slope_deviation", "tape_deviation"] {
        if let Some(typed) = readings[key].as_str() {
            out.push_str(&format!("{} = {}\n", key.replace('_', "-"), quoted(typed)));
        }
    }
    out.push_str("leg = [\n");
    for (leg, tape) in readings["legs"].as_object().into_iter().flatten() {
        if let Some(tape) = tape.as_str() {
            out.push_str(&format!("  {{ leg = {}, tape = {} }},\n", quoted(leg), quoted(tape)));
        }
    }
    out.push_str("]\n");
    out
}
