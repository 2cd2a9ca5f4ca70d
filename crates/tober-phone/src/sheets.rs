//! The sheets of a plan as HTML, made by the core for laptop and phone alike.

use std::fmt::Write;
use tober_book::Diagnostic;
use tober_calc::finding::{Finding, Measure, Override, Sense, Standing, Subject};
use tober_draw::{DrawError, Mark, StyleSheet, stack};
use tober_plan::{Held, LegPlan, Plan};
use tober_quantity::{Band, Limit, Quantity, Rounding, Shown, UnitSet, Word};

/// Text that is safe inside an element or a quoted attribute.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            plain => out.push(plain),
        }
    }
    out
}

/// A standing as its shape and its word: the shape never stands alone.
fn mark(standing: Standing) -> String {
    let mark = Mark::of(standing);
    format!(
        "<span class=\"mark {}\"><svg viewBox=\"0 0 24 24\" aria-hidden=\"true\">{}</svg>{}</span>",
        mark.class(),
        mark.shape(),
        escape(standing.word())
    )
}

/// The sheets: the word for the whole, one sheet a leg in the order they are set, then loads and limits.
pub(crate) fn of_plan(plan: &Plan) -> Result<String, DrawError> {
    let mut out = String::new();
    whole(&mut out, plan);
    for (place, leg) in plan.legs.iter().enumerate() {
        one_leg(&mut out, plan, place, leg)?;
    }
    limits(&mut out, plan);
    Ok(out)
}

fn whole(out: &mut String, plan: &Plan) {
    let _ = write!(
        out,
        "<section class=\"sheet\" id=\"whole\"><h2>{} on {}</h2><p class=\"word\">{}</p>",
        escape(&plan.ride),
        escape(&plan.pitch),
        mark(plan.standing)
    );
    if plan.invented {
        out.push_str("<p>Invented: for trying out only.</p>");
    }
    if !plan.assumed.is_empty() {
        out.push_str(
            "<p>Provisional: nothing that rests on this packing is known until this is settled:</p><ul>",
        );
        for sentence in &plan.assumed {
            let _ = write!(out, "<li>{}</li>", escape(sentence));
        }
        out.push_str("</ul>");
    }
    if plan.legs.is_empty() {
        let packing = plan.words.word(Word::Packing);
        let _ = write!(
            out,
            "<p><b>No {packing} can be given.</b> What is missing or past its limit stands below.</p>"
        );
    }
    if !plan.cures.is_empty() {
        out.push_str("<h3>What would make it stand here</h3><ul>");
        for cure in &plan.cures {
            let _ = write!(out, "<li>{}</li>", escape(cure));
        }
        out.push_str("</ul>");
    }
    out.push_str("<h3>Where the work is</h3><ul class=\"cautions\">");
    for caution in &plan.cautions {
        let _ = write!(out, "<li>{}</li>", escape(caution));
    }
    let _ = write!(out, "</ul><p class=\"foot\">plan {}</p></section>", escape(&plan.name));
}

fn setting(leg: &LegPlan, units: UnitSet) -> String {
    match &leg.held {
        Held::Hole { number, .. } => format!("Hole {number}"),
        Held::Screw { extension, .. } => {
            format!("Screw out {}", extension.amount().shown(Shown::Finest).print(units, Rounding::Nearest))
        }
    }
}

fn one_leg(out: &mut String, plan: &Plan, place: usize, leg: &LegPlan) -> Result<(), DrawError> {
    let boards: Vec<String> = leg.layers.iter().map(|layer| escape(&layer.board)).collect();
    let name = escape(&leg.name);
    let clip = plan.words.word(Word::Clip);
    let _ = write!(
        out,
        "<section class=\"sheet leg\" id=\"leg-{order}\"><h2><span class=\"balloon\">{order}<small>{of}</small></span> Build {name}</h2>\
         {picture}\
         <dl><dt>Call</dt><dd>{name}: setting and stack?</dd>\
         <dt>Answer</dt><dd><b>{setting}. {boards}.</b> From the ground up, each across the one below.</dd>\
         <dt>Witness</dt><dd>Second pair of hands: pin, {clip}. Hands never under a foot.</dd></dl>\
         <label class=\"tick\"><input type=\"checkbox\" data-keep=\"{plan} built {name}\"> Stack built</label>\
         <label class=\"tick\"><input type=\"checkbox\" data-keep=\"{plan} pinned {name}\"> Pin and {clip}, second hands</label></section>",
        order = leg.order,
        of = plan.legs.len(),
        picture = stack(plan, place, StyleSheet::OnPage)?,
        // A tick belongs to the plan it was made for: another plan begins with none (rule S3).
        plan = escape(&plan.name),
        setting = escape(&setting(leg, plan.units)),
        boards = boards.join(", then "),
    );
    Ok(())
}

fn figure(finding: &Finding, units: UnitSet) -> String {
    match &finding.measure {
        Measure::AgainstLimit { low, high, limit, sense } => {
            let limit = match sense {
                Sense::AtMost => Limit::AtMost(*limit),
                Sense::AtLeast => Limit::AtLeast(*limit),
            };
            let share = finding.share().map_or(String::new(), |percent| format!(", {percent} %"));
            format!("{}{share}", Band { low: *low, high: *high, limit }.print(units))
        }
        Measure::Figure { low, high } => Band { low: *low, high: *high, limit: Limit::None }.print(units),
        Measure::Statement { .. } | Measure::Nothing => String::new(),
    }
}

fn limits(out: &mut String, plan: &Plan) {
    out.push_str("<section class=\"sheet\" id=\"limits\"><h2>Loads and limits</h2>");
    for finding in &plan.findings {
        let subject = match &finding.subject {
            Subject::Pitch => "ground".to_owned(),
            other => other.to_string(),
        };
        let barred = finding.standing == Standing::PastLimit && finding.overriding == Override::Never;
        let _ = write!(
            out,
            "<details><summary>{} {}: {} <b>{}</b>{}</summary>",
            mark(finding.standing),
            escape(&subject),
            escape(&finding.title),
            escape(&figure(finding, plan.units)),
            if barred { " <span class=\"barred\">No override</span>" } else { "" }
        );
        for sentence in finding.unknown.iter().chain(&finding.advice).chain(&finding.notes) {
            let _ = write!(out, "<p>{}</p>", escape(sentence));
        }
        for basis in &finding.basis {
            let _ = write!(out, "<p>Rests on: {}</p>", escape(&basis.to_string()));
        }
        out.push_str("<ol class=\"working\">");
        for line in finding.working.print(plan.units) {
            let numbers =
                if line.numbers.is_empty() { String::new() } else { format!(" = {}", line.numbers) };
            let _ = write!(
                out,
                "<li>{}{} = <b>{}</b> <small>{} {}</small></li>",
                escape(&line.symbols),
                escape(&numbers),
                escape(&line.result),
                escape(&line.meaning),
                escape(&line.from)
            );
        }
        out.push_str("</ol></details>");
    }
    out.push_str("</section>");
}

/// What is wrong with the files, each with its place.
pub(crate) fn of_wrong(wrong: &[Diagnostic]) -> String {
    let mut out =
        String::from("<section class=\"sheet\" id=\"whole\"><h2>Something typed does not fit</h2><ul>");
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
    out.push_str("</ul><p>Nothing was lost: what you typed stands where you typed it.</p></section>");
    out
}
