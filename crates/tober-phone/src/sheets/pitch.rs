//! Sheet "This pitch": the readings by leg, and the plan they give.

use super::{InTheWay, Parts, Worked, head, slot};
use crate::fields::{self, Speaks};
use crate::html::{button, capital, caution, escape, fine, shape, standing};
use crate::typed::{self, Method};
use std::fmt::Write;
use tober_calc::finding::{Finding, Standing, Subject};
use tober_draw::{DrawError, Mark, RideSide, StyleSheet, side_strip};
use tober_plan::Held;
use tober_quantity::{Quantity, Rounding, Shown, Word};

pub(super) fn sheet(w: &Worked, parts: &Parts) -> String {
    let units = w.units();
    let mut out = head(w.words(), "pitch", parts);
    out.push_str(&slot(parts, "pitch errors"));
    out.push_str(&caution(
        "Chock the wheels, both sides, before you uncouple. Look up. Look for what lies under every foot.",
    ));
    out.push_str("<form autocomplete=\"off\">");
    out.push_str(&fields::choice(
        "method",
        "How the ground is read",
        &[
            ("tape", "Tape from frame to ground", "level on the frame"),
            ("staff", "Staff and level or laser", "one set-up"),
        ],
    ));
    for (way, caption, prefix) in [
        ("tape", "Tape from the top of the frame straight down to the ground, trailer on its wheels", "leg"),
        ("staff", "Staff on the ground under each foot", "staff"),
    ] {
        let unit = Speaks::Fine.unit(units);
        let _ = write!(
            out,
            "<div data-shown=\"{way}\"><table class=\"rd\"><caption>{caption}. Blank until read.</caption>\
             <thead><tr><th scope=\"col\">Leg</th><th scope=\"col\">Read, {unit}</th><th scope=\"col\">{}</th></tr></thead><tbody>",
            w.words().capitalised(Word::Packing)
        );
        if way == "staff" {
            let name = "staff datum";
            let _ = write!(
                out,
                "<tr><th scope=\"row\" class=\"lg\">Datum peg</th><td class=\"i\">{}</td><td>{}</td></tr>",
                fields::figure(name, "Staff on the datum peg", Speaks::Fine, units),
                fields::said(name)
            );
        }
        for leg in w.legs() {
            let name = format!("{prefix} {leg}");
            let _ = write!(
                out,
                "<tr><th scope=\"row\" class=\"lg\">{}</th><td class=\"i\">{}</td><td>{}{}</td></tr>",
                escape(&capital(&leg)),
                fields::figure(&name, &capital(&leg), Speaks::Fine, units),
                slot(parts, &format!("at {leg}")),
                fields::said(&name)
            );
        }
        out.push_str("</tbody></table></div>");
    }
    out.push_str("<div data-shown=\"tape\">");
    for (axis, legend, high, low) in [
        ("along", "Level on the frame, along: which end is high?", ("front", "Front"), ("rear", "Rear")),
        ("across", "Level across: which side is high?", ("left", "Left"), ("right", "Right")),
    ] {
        out.push_str(&slope(w, "slope", axis, legend, high, low));
    }
    out.push_str("</div>");
    out.push_str("<details><summary>How good the instruments are</summary><p class=\"sub\">The size of their usual error, plus or minus. Blank: as the pitch's file says, else not known.</p>");
    for (shown, name, label, speaks) in [
        ("tape", "slope deviation", "Level", Speaks::Slope),
        ("tape", "tape deviation", "Tape", Speaks::Fine),
        ("staff", "staff deviation", "Staff", Speaks::Fine),
    ] {
        let _ = write!(
            out,
            "<div class=\"row\" data-shown=\"{shown}\"><span>{label} ± {}</span>{}{}</div>",
            speaks.unit(units),
            fields::figure(name, &format!("{label}, plus or minus"), speaks, units),
            fields::said(name)
        );
    }
    out.push_str("</details></form>");
    out.push_str(&slot(parts, "pitch plan"));
    let _ = write!(
        out,
        "<form autocomplete=\"off\" data-shown=\"reason\"><label for=\"f-reason\">Why the {} takes it on</label>\
         <textarea id=\"f-reason\" name=\"reason\" rows=\"3\" maxlength=\"1000\" aria-describedby=\"said-reason\"></textarea>{}</form></section>",
        w.words().word(Word::Chief),
        fields::said("reason")
    );
    out
}

/// A slope as a crew says it: which end is high, and by how much.
pub(super) fn slope(
    w: &Worked,
    prefix: &str,
    axis: &str,
    legend: &str,
    high: (&str, &str),
    low: (&str, &str),
) -> String {
    let unit = Speaks::Slope.unit(w.units());
    let name = format!("{prefix} {axis}");
    let way = format!("{name} way");
    let mut out = format!("<fieldset class=\"way\"><legend>{legend}</legend><div class=\"ways\">");
    for (value, words) in [high, low, ("level", "Level")] {
        let _ = write!(
            out,
            "<label class=\"rad\"><input type=\"radio\" name=\"{way}\" value=\"{value}\"><span>{words}</span></label>"
        );
    }
    let _ = write!(
        out,
        "</div><div class=\"row\"><span>by ({unit})</span>{}</div>{}{}</fieldset>",
        fields::figure(&name, &format!("Slope {axis}"), Speaks::Slope, w.units()),
        fields::said(&name),
        fields::said(&way)
    );
    out
}

pub(super) fn parts(w: &Worked, parts: &mut Parts) -> Result<(), DrawError> {
    let (read, of) = w.typed.read;
    let aside = if w.typed.any {
        format!("<p class=\"headr\">{read} of {of}<span>read</span></p>")
    } else if w.of_file.readings.is_some() {
        "<p class=\"headr\">read<span>in the file</span></p>".to_owned()
    } else {
        format!("<p class=\"headr\">0 of {of}<span>read</span></p>")
    };
    parts.insert("pitch aside".to_owned(), aside);
    parts.insert("pitch errors".to_owned(), errors(w) + &unlike(w));
    for leg in w.legs() {
        parts.insert(format!("at {leg}"), at_leg(w, &leg));
    }
    parts.insert("pitch plan".to_owned(), plan(w)?);
    Ok(())
}

/// What does not fit, in one box, each with a way to its field.
fn errors(w: &Worked) -> String {
    let wrong: Vec<_> = w.typed.wrong.iter().collect();
    if wrong.is_empty() {
        return String::new();
    }
    let title = match wrong.len() {
        1 => "One entry does not fit".to_owned(),
        n => format!("{n} entries do not fit"),
    };
    let mut out = format!("<div class=\"coach bad\" role=\"alert\"><h3>{title}</h3><ul>");
    for (field, sentence) in wrong {
        let name = field.strip_prefix("leg ").or_else(|| field.strip_prefix("staff ")).unwrap_or(field);
        let _ = write!(
            out,
            "<li><a href=\"#f-{}\" data-field=\"{}\"><b>{}</b></a>{}</li>",
            crate::html::slug(field),
            escape(field),
            escape(&capital(name)),
            escape(sentence)
        );
    }
    out.push_str("</ul><p>The others are kept and worked.</p></div>");
    out
}

/// Readings that fit their fields and not the others, each named.
fn unlike(w: &Worked) -> String {
    let prefix = match typed::method(&w.stands, &w.of_file) {
        Some(Method::Staff) => "staff",
        _ => "leg",
    };
    let odd = w.plan.findings.iter().filter_map(|finding| match &finding.subject {
        Subject::Reading(point) if finding.standing != Standing::Inside => {
            Some((point, finding.unknown.first().or(finding.advice.first())?))
        }
        _ => None,
    });
    let mut out = String::new();
    for (point, sentence) in odd {
        let _ = write!(
            out,
            "<li><a href=\"#f-{0}\" data-field=\"{1}\"><b>{2}</b></a>{3}</li>",
            crate::html::slug(&format!("{prefix} {point}")),
            escape(&format!("{prefix} {point}")),
            escape(&capital(point)),
            escape(sentence)
        );
    }
    if out.is_empty() {
        return out;
    }
    format!("<div class=\"coach bad\"><h3>A reading is unlike the others</h3><ul>{out}</ul></div>")
}

fn at_leg(w: &Worked, leg: &str) -> String {
    let Some(of_plan) = w.plan.legs.iter().find(|of_plan| of_plan.name == leg) else {
        return String::new();
    };
    let setting = match &of_plan.held {
        Held::Hole { number, .. } => format!("hole {number}"),
        Held::Screw { extension, .. } => {
            let out = extension.amount().shown(Shown::Finest).print(w.units(), Rounding::Nearest);
            of_plan
                .held
                .turns()
                .map_or_else(|| format!("screw out {out}"), |turns| format!("screw out {out}, {turns}"))
        }
    };
    let boards: Vec<&str> = of_plan.layers.iter().map(|layer| layer.board.as_str()).collect();
    format!(
        "<b>{}</b>, {}<br><span class=\"sub\">{}</span>",
        escape(&fine(of_plan.stack, w.units())),
        escape(&setting),
        escape(&boards.join(" + "))
    )
}

/// The plan that the readings give, and the button that takes it.
fn plan(w: &Worked) -> Result<String, DrawError> {
    let mut out = String::new();
    let plan = &w.plan;
    let packing = w.words().word(Word::Packing);
    if plan.legs.is_empty() {
        out.push_str(&no_packing(w));
        return Ok(out);
    }
    let boards: usize = plan.legs.iter().map(|leg| leg.layers.len()).sum();
    let _ = write!(out, "<h3>The {packing} this gives</h3><p class=\"word\">{}</p>", standing(plan.standing));
    let waiting = plan.findings.iter().filter(|finding| finding.standing != Standing::Inside).count();
    let _ = write!(
        out,
        "<p>{} boards under {} legs. {waiting} of {} findings are past a limit, close or not known.</p><p class=\"to\"><a href=\"#limits\">Loads and limits</a></p>",
        boards,
        plan.legs.len(),
        plan.findings.len()
    );
    if plan.invented {
        out.push_str("<p class=\"sub\">Invented: for trying out only.</p>");
    }
    if !plan.assumed.is_empty() {
        out.push_str("<p>Provisional: nothing that rests on this is known until this is settled:</p><ul>");
        for sentence in &plan.assumed {
            let _ = write!(out, "<li>{}</li>", escape(sentence));
        }
        out.push_str("</ul>");
    }
    for side in [RideSide::Left, RideSide::Right] {
        let _ = write!(out, "<figure>{}</figure>", side_strip(plan, side, StyleSheet::OnPage)?);
    }
    let in_wind: Vec<&Finding> =
        w.nothing_goes_up().into_iter().filter(|finding| finding.code.starts_with("stability.")).collect();
    if !in_wind.is_empty() {
        out.push_str("<div class=\"coach bad\"><h3>Nothing goes up until this is settled</h3>");
        named(w, &in_wind, &mut out);
        out.push_str("<p><span class=\"no\">No override</span></p><p>Legs may be packed. Ask the maker how the ride is held, or test: see the sheet Ground.</p></div>");
    }
    match w.in_the_way() {
        InTheWay::Barred(findings) => {
            out.push_str("<div class=\"coach bad\"><h3>Do not build here as it stands</h3>");
            named(w, &findings, &mut out);
            out.push_str("<p><span class=\"no\">No override</span></p></div>");
        }
        InTheWay::Reason(findings) => {
            out.push_str("<div class=\"coach bad\"><h3>Past its limit</h3>");
            named(w, &findings, &mut out);
            let chief = w.words().word(Word::Chief);
            let _ = write!(
                out,
                "<p><span class=\"may\">The {chief} may take it on, with a reason</span></p><p>Write the reason below: it prints.</p></div>"
            );
        }
        InTheWay::NoStacks => {}
        InTheWay::Nothing if w.stands.value("plan") == Some(plan.name.as_str()) => {
            let at = w.stands.get("plan").map_or("", |stand| stand.at.as_str());
            let _ = write!(
                out,
                "<p>{} Taken {}: plan {}.</p><a class=\"btn go\" href=\"#stacks\">Go to the stacks<span>set them in their order</span></a>",
                shape(Mark::Done),
                escape(at),
                escape(&plan.name)
            );
        }
        InTheWay::Nothing => out.push_str(&button(
            "go",
            "adopt",
            "plan",
            &plan.name,
            "Take this plan",
            &format!("{} legs, {boards} boards", plan.legs.len()),
        )),
    }
    if let Some(reason) = w.reason() {
        let _ = write!(
            out,
            "<p>{} {} {}: {}</p>",
            shape(Mark::Overridden),
            escape(&reason.at),
            escape(&reason.by),
            escape(&reason.value)
        );
    }
    Ok(out)
}

/// Findings by what they speak of, with their figures.
fn named(w: &Worked, findings: &[&Finding], out: &mut String) {
    out.push_str("<ul>");
    for finding in findings {
        let _ = write!(
            out,
            "<li>{} {}: {} <b>{}</b></li>",
            shape(Mark::PastLimit),
            escape(&capital(&finding.subject.to_string())),
            escape(&finding.title),
            escape(&finding.figure(w.units()))
        );
    }
    out.push_str("</ul>");
}

/// Why there is no packing: what is still to be read, or that nothing serves.
fn no_packing(w: &Worked) -> String {
    let mut out = String::new();
    let packing = w.words().word(Word::Packing);
    let how = typed::method(&w.stands, &w.of_file);
    let wanted: Vec<String> = if w.typed.any || w.of_file.readings.is_none() {
        typed::names_of(how.or(Some(Method::Tape)), &w.ride)
            .into_iter()
            .filter(|name| w.stands.value(name).is_none() || w.typed.wrong.contains_key(name))
            .collect()
    } else {
        Vec::new()
    };
    if !wanted.is_empty() {
        let said: Vec<String> = wanted.iter().map(|name| in_words(name)).collect();
        let _ = write!(
            out,
            "<h3>{} No {packing} yet</h3><p>Still to read: {}.</p>",
            shape(Mark::NotKnown),
            escape(&said.join(", "))
        );
        return out;
    }
    let past =
        w.plan.findings.iter().any(|f| f.standing == Standing::PastLimit && f.code.starts_with("packing"));
    if past {
        let _ = write!(
            out,
            "<div class=\"coach bad\"><h3>{} Do not build here as it stands</h3><p>No {packing} from this kit serves on these readings.</p></div>",
            shape(Mark::PastLimit)
        );
    } else {
        let _ = write!(out, "<h3>{} No {packing} can be given</h3>", shape(Mark::NotKnown));
        out.push_str("<p>What is missing stands on its own sheet.</p><p class=\"to\"><a href=\"#limits\">Loads and limits</a></p>");
    }
    if !w.plan.cures.is_empty() {
        out.push_str("<h3>What would make it stand here</h3><ul>");
        for cure in &w.plan.cures {
            let _ = write!(out, "<li>{}</li>", escape(cure));
        }
        out.push_str("</ul>");
    }
    out
}

/// A field in words: "leg front left" is "front left".
fn in_words(name: &str) -> String {
    match name {
        "slope along way" => "level along".to_owned(),
        "slope across way" => "level across".to_owned(),
        "staff datum" => "the datum peg".to_owned(),
        other => other.split_once(' ').map_or(other, |(_, leg)| leg).to_owned(),
    }
}
