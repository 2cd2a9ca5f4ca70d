//! A plan as text that a chief can act on in ten seconds.

mod every;
mod lifts;
mod riders;
mod steps;
mod trim;
mod way;
mod weigh;

pub use every::every_order;
pub use lifts::lifts;
pub use riders::riders as riders_off;
pub use steps::{again, contradicted, proved, refuted};
pub use trim::trim;
pub use weigh::weighed;

use core::fmt::Write;
use tober_calc::finding::{Finding, Measure, Override, Proof, Standing, Subject};
use tober_calc::working::Working;
use tober_plan::{Held, LegPlan, Plan};
use tober_quantity::{Band, Limit, Quantity, Rounding, Shown, UnitSet, Word};

/// The mark of a standing, which always stands beside its word.
fn mark(standing: Standing) -> &'static str {
    match standing {
        Standing::Inside => "■",
        Standing::Close => "△",
        Standing::PastLimit => "▲",
        Standing::NotKnown => "?",
    }
}

/// The whole plan.
pub fn plan(plan: &Plan, working: bool) -> String {
    let mut out = String::new();
    head(&mut out, plan);
    legs(&mut out, plan);
    way::way(&mut out, plan);
    attention(&mut out, plan);
    if !plan.cures.is_empty() {
        line(&mut out, "What would make it stand here");
        for cure in &plan.cures {
            let _ = writeln!(out, "  {cure}");
        }
        line(&mut out, "");
    }
    if !plan.legs.is_empty() {
        kit(&mut out, plan);
    }
    line(&mut out, "Where the work is");
    for caution in &plan.cautions {
        let _ = writeln!(out, "  {caution}");
    }
    if working {
        line(&mut out, "");
        workings(&mut out, &plan.findings, plan.units);
    }
    out
}

fn line(out: &mut String, text: &str) {
    out.push_str(text);
    out.push('\n');
}

fn head(out: &mut String, plan: &Plan) {
    let _ = writeln!(out, "{} on {}    plan {}", plan.ride, plan.pitch, plan.name);
    if plan.invented {
        line(out, "Invented: for trying out only.");
    }
    let count = |standing| plan.findings.iter().filter(|f| f.standing == standing).count();
    let mut parts = Vec::new();
    for (standing, words) in [
        (Standing::PastLimit, "past the limit"),
        (Standing::NotKnown, "not known"),
        (Standing::Close, "close"),
        (Standing::Inside, "inside"),
    ] {
        if count(standing) > 0 {
            parts.push(format!("{} {words}", count(standing)));
        }
    }
    let _ = writeln!(out, "{} {}    {}", mark(plan.standing), plan.standing.word(), parts.join(", "));
    if !plan.assumed.is_empty() {
        line(out, "Provisional: nothing that rests on this packing is known until this is settled:");
        for sentence in &plan.assumed {
            let _ = writeln!(out, "  {sentence}");
        }
    }
    line(out, "");
}

fn setting(leg: &LegPlan, units: UnitSet) -> String {
    match &leg.held {
        Held::Hole { number, .. } => format!("hole {number}"),
        Held::Screw { extension, .. } => {
            // A quarter of an inch is coarser than most tolerances of a plane.
            let out = extension.amount().shown(Shown::Finest).print(units, Rounding::Nearest);
            leg.held.turns().map_or_else(|| format!("screw {out}"), |turns| format!("screw {out}, {turns}"))
        }
    }
}

/// The boards of a leg from the ground up, the unit once at the end.
fn stack(leg: &LegPlan) -> String {
    let names: Vec<&str> = leg.layers.iter().map(|layer| layer.board.as_str()).collect();
    if names.is_empty() { "on the ground".to_owned() } else { names.join(" + ") }
}

fn load(leg: &LegPlan, units: UnitSet) -> String {
    let Some((low, high)) = leg.load else { return "load not known".to_owned() };
    let limit = leg.rated.map_or(Limit::None, |rated| Limit::AtMost(rated.amount().shown(Shown::Load)));
    let (low, high) = (low.amount().shown(Shown::Load), high.amount().shown(Shown::Load));
    Band { low, high, limit }.print(units)
}

fn legs(out: &mut String, plan: &Plan) {
    let packing = plan.words.word(Word::Packing);
    let screws = plan.legs.iter().filter(|leg| matches!(leg.held, Held::Screw { .. })).count();
    let pin = match screws {
        0 => format!("pin and {}", plan.words.word(Word::Clip)),
        some if some == plan.legs.len() => "screws set and locked".to_owned(),
        _ => format!("pin and {}, screws set and locked", plan.words.word(Word::Clip)),
    };
    if plan.legs.is_empty() {
        let _ = writeln!(out, "No {packing} can be given. What is missing or past its limit stands below.\n");
        return;
    }
    let _ = writeln!(
        out,
        "Legs in the order they are set; boards from the ground up, each across the one below; {pin}"
    );
    let rows: Vec<[String; 6]> = plan
        .legs
        .iter()
        .map(|leg| {
            [
                format!("{}", leg.order),
                format!("{} {}", leg.short, leg.name),
                setting(leg, plan.units),
                stack(leg),
                format!("= {}", leg.stack.amount().print(plan.units, Rounding::Nearest)),
                format!("{}  {} {}", load(leg, plan.units), mark(leg.standing), leg.standing.word()),
            ]
        })
        .collect();
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..6).map(width).collect();
    for row in &rows {
        let mut text = String::from(" ");
        for (cell, width) in row.iter().zip(&widths) {
            let _ = write!(text, " {cell}{}", " ".repeat(width - cell.chars().count() + 1));
        }
        line(out, text.trim_end());
    }
    line(out, "");
}

fn about(subject: &Subject) -> String {
    match subject {
        Subject::Frame => "Frame".to_owned(),
        Subject::Ride => "Ride".to_owned(),
        Subject::Pitch => "Ground".to_owned(),
        other => {
            let name = other.to_string();
            let mut letters = name.chars();
            letters.next().map_or(name.clone(), |first| first.to_uppercase().chain(letters).collect())
        }
    }
}

fn attention(out: &mut String, plan: &Plan) {
    let wanting: Vec<&Finding> = plan.findings.iter().filter(|f| f.standing != Standing::Inside).collect();
    if wanting.is_empty() {
        line(out, "Nothing needs attention.\n");
        return;
    }
    line(out, "What needs attention");
    let mut groups: Vec<(Wants, Vec<&Finding>)> = Vec::new();
    for finding in wanting {
        let wants = Wants::of(finding, plan);
        match groups.iter_mut().find(|(there, _)| *there == wants) {
            Some((_, findings)) => findings.push(finding),
            None => groups.push((wants, vec![finding])),
        }
    }
    let often = said_often(&groups);
    if !often.is_empty() {
        line(out, "  Not known, and so nothing that rests on it:");
        for sentence in &often {
            let _ = writeln!(out, "      {sentence}");
        }
    }
    for (wants, findings) in groups {
        let subjects = subjects(&findings, plan);
        let _ = writeln!(
            out,
            "  {} {}  {subjects}: {}{}.{}",
            mark(wants.standing),
            wants.standing.word(),
            wants.title,
            worst_figure(&findings, plan.units),
            if wants.barred { " Nobody may pass this." } else { "" }
        );
        for sentence in wants.sentences.iter().filter(|sentence| !often.contains(sentence)) {
            let _ = writeln!(out, "      {sentence}");
        }
    }
    line(out, "");
}

/// What three groups or more say is not known: it is said once for all of them.
fn said_often(groups: &[(Wants, Vec<&Finding>)]) -> Vec<String> {
    let mut often: Vec<String> = Vec::new();
    for (_, findings) in groups {
        for sentence in findings.iter().flat_map(|finding| &finding.unknown) {
            let says = |(wants, _): &&(Wants, Vec<&Finding>)| wants.sentences.contains(sentence);
            if !often.contains(sentence) && groups.iter().filter(says).count() >= 3 {
                often.push(sentence.clone());
            }
        }
    }
    often
}

/// What is said alike of several legs, and so is said once.
#[derive(PartialEq)]
struct Wants {
    standing: Standing,
    title: String,
    barred: bool,
    sentences: Vec<String>,
}

impl Wants {
    fn of(finding: &Finding, plan: &Plan) -> Self {
        let holds_not = finding.measure == Measure::Statement { holds: Some(false) };
        let mut sentences = Vec::new();
        if let Some(Proof::Refuted { counterexample }) = &finding.proof {
            sentences.push(counterexample.clone());
        }
        let said_above = |sentence: &&String| !plan.assumed.contains(sentence);
        sentences.extend(finding.unknown.iter().filter(said_above).chain(&finding.advice).cloned());
        Self {
            standing: finding.standing,
            title: format!("{}{}", if holds_not { "not so: " } else { "" }, finding.title),
            barred: finding.standing == Standing::PastLimit && finding.overriding == Override::Never,
            sentences,
        }
    }
}

/// Of what a group of findings speaks: the names, or "all legs" where it is every one of several.
fn subjects(findings: &[&Finding], plan: &Plan) -> String {
    let legs = findings.iter().filter(|f| matches!(f.subject, Subject::Support(_))).count();
    if legs > 2 && legs == plan.legs.len() && legs == findings.len() {
        return "All legs".to_owned();
    }
    let names: Vec<String> = findings.iter().map(|f| about(&f.subject)).collect();
    names.join(", ")
}

/// The figure of the finding that uses most of its limit, and of whom it is where the others differ.
fn worst_figure(findings: &[&Finding], units: UnitSet) -> String {
    let Some(worst) = findings.iter().max_by_key(|f| f.share()) else { return String::new() };
    let said = worst.figure(units);
    if said.is_empty() {
        return String::new();
    }
    let alike = findings.iter().all(|f| f.figure(units) == said);
    if alike { format!(", {said}") } else { format!(", worst {}: {said}", worst.subject) }
}

fn kit(out: &mut String, plan: &Plan) {
    let used: Vec<String> = plan
        .kit_left
        .iter()
        .map(|left| format!("{} of {} \"{}\"", left.used, left.held, left.board))
        .collect();
    let _ = writeln!(out, "Boards used: {}.\n", used.join(", "));
}

fn workings<'a>(out: &mut String, findings: impl IntoIterator<Item = &'a Finding>, units: UnitSet) {
    line(out, "Working");
    for finding in findings {
        let _ = writeln!(
            out,
            "\n{} {}  {}: {}  {}",
            mark(finding.standing),
            finding.standing.word(),
            about(&finding.subject),
            finding.title,
            finding.figure(units)
        );
        for basis in &finding.basis {
            let _ = writeln!(out, "    rests on: {basis}");
        }
        match &finding.proof {
            Some(Proof::Proved) => line(out, "    proved"),
            Some(Proof::Bounded { bound }) => {
                let _ = writeln!(out, "    bounded: {bound}");
            }
            Some(Proof::Refuted { counterexample }) => {
                let _ = writeln!(out, "    refuted: {counterexample}");
            }
            Some(Proof::NotReached { best }) => {
                let _ = writeln!(out, "    not reached: {best}");
            }
            None => {}
        }
        lines(out, &finding.working, units);
        for note in &finding.notes {
            let _ = writeln!(out, "    {note}");
        }
    }
}

/// The lines of a working.
fn lines(out: &mut String, working: &Working, units: UnitSet) {
    for printed in working.print(units) {
        if printed.numbers.is_empty() {
            let _ = writeln!(
                out,
                "    {} = {}    {} ({})",
                printed.symbols, printed.result, printed.meaning, printed.from
            );
        } else {
            let _ = writeln!(
                out,
                "    {} = {} = {}    {}",
                printed.symbols, printed.numbers, printed.result, printed.meaning
            );
        }
    }
}
