//! Sheet "Loads and limits": bands, what is past, close, not known, with the working one touch away.

use super::{Parts, Worked, head, slot};
use crate::html::{capital, escape, load, shape, standing};
use std::fmt::Write;
use tober_calc::finding::{Finding, Override, Standing, Subject};
use tober_draw::Mark;
use tober_plan::LegPlan;
use tober_quantity::Rounding;

pub(super) fn sheet(w: &Worked, parts: &Parts) -> String {
    let mut out = head(w.words(), "limits", parts);
    out.push_str(&slot(parts, "loads"));
    out.push_str(&slot(parts, "findings"));
    out.push_str("</section>");
    out
}

pub(super) fn parts(w: &Worked, parts: &mut Parts) {
    parts.insert("limits aside".to_owned(), String::new());
    parts.insert("loads".to_owned(), loads(w));
    parts.insert("findings".to_owned(), findings(w));
}

/// Loads on the legs as bands, each with a bar that is full at its limit.
fn loads(w: &Worked) -> String {
    let plan = w.shown();
    if plan.legs.is_empty() {
        return String::new();
    }
    let mut out = String::from(
        "<table class=\"loads\"><caption>What each leg carries, least to greatest. A full bar is its limit; the white cut is the least.</caption><tbody>",
    );
    for leg in &plan.legs {
        let said = match leg.load {
            None => format!("{} load not known", shape(Mark::NotKnown)),
            Some((low, high)) => {
                let of = leg.rated.map_or_else(
                    || ", no limit in the book".to_owned(),
                    |rated| format!(" of {}", load(rated, w.units(), Rounding::Capacity)),
                );
                format!(
                    "<b>{} to {}</b>{}",
                    escape(&load(low, w.units(), Rounding::Capacity)),
                    escape(&load(high, w.units(), Rounding::Requirement)),
                    escape(&of)
                )
            }
        };
        let _ = write!(
            out,
            "<tr><th scope=\"row\" class=\"lg\">{}</th><td>{said}{}</td></tr>",
            escape(&capital(&leg.name)),
            bar(leg)
        );
    }
    out.push_str("</tbody></table>");
    out
}

fn bar(leg: &LegPlan) -> String {
    let (Some((low, high)), Some(rated)) = (leg.load, leg.rated) else { return String::new() };
    if rated.as_kg() <= 0.0 {
        return String::new();
    }
    let share = |of: f64| (of / rated.as_kg()).clamp(0.0, 1.06) * 300.0;
    let (low, high) = (share(low.as_kg().max(0.0)), share(high.as_kg().max(0.0)));
    format!(
        "<svg class=\"bar\" viewBox=\"0 0 322 16\" aria-hidden=\"true\"><rect x=\"1\" y=\"2\" width=\"300\" height=\"12\" class=\"kf\"/>\
         <rect x=\"1\" y=\"2\" width=\"{high:.1}\" height=\"12\" class=\"bf{}\"/><rect x=\"{:.1}\" y=\"2\" width=\"3\" height=\"12\" class=\"cut\"/></svg>",
        if high > 300.0 { " bo" } else { "" },
        low.min(high - 3.0).max(0.0),
    )
}

fn findings(w: &Worked) -> String {
    let mut out = String::new();
    for (kind, words) in [
        (Standing::PastLimit, "Past limit"),
        (Standing::NotKnown, "Not known"),
        (Standing::Close, "Close: from 80 % of the limit up"),
        (Standing::Inside, "Inside"),
    ] {
        let all = w.shown().findings.iter().enumerate();
        let of_kind: Vec<(usize, &Finding)> = all.filter(|(_, f)| f.standing == kind).collect();
        if of_kind.is_empty() {
            continue;
        }
        let _ = write!(out, "<h3>{words}: {}</h3>", of_kind.len());
        for (place, finding) in of_kind {
            one(w, place, finding, &mut out);
        }
    }
    out
}

fn one(w: &Worked, place: usize, finding: &Finding, out: &mut String) {
    let subject = match &finding.subject {
        Subject::Pitch => "ground".to_owned(),
        other => other.to_string(),
    };
    let barred = finding.standing == Standing::PastLimit && finding.overriding == Override::Never;
    let _ = write!(
        out,
        "<details class=\"one\"><summary>{} {}: {} <b>{}</b>{}</summary>",
        standing(finding.standing),
        escape(&subject),
        escape(&finding.title),
        escape(&finding.figure(w.units())),
        if barred { " <span class=\"no\">No override</span>" } else { "" }
    );
    for sentence in finding.unknown.iter().chain(&finding.advice).chain(&finding.notes) {
        let _ = write!(out, "<p>{}</p>", escape(sentence));
    }
    for basis in &finding.basis {
        let _ = write!(out, "<p>Rests on: {}</p>", escape(&basis.to_string()));
    }
    if w.with_working && finding.standing != Standing::Inside {
        out.push_str(&working(w, finding));
    } else {
        let _ = write!(out, "<div data-working=\"{place}\"></div>");
    }
    out.push_str("</details>");
}

/// How a figure was obtained, line by line.
pub(crate) fn working(w: &Worked, finding: &Finding) -> String {
    let mut out = String::new();
    let lines = finding.working.print(w.units());
    if !lines.is_empty() {
        out.push_str("<ol class=\"working\">");
        for line in lines {
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
        out.push_str("</ol>");
    }
    out
}
