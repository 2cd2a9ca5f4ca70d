//! Sheet "Lower, read, trim": the frame as it stands, and the least change that brings it in.

use super::pitch::slope;
use super::{Parts, Worked, head, slot};
use crate::fields::{self, Speaks};
use crate::html::{button, capital, caution, escape, fine, marked, shape, standing};
use std::fmt::Write;
use tober_book::Wheels;
use tober_calc::finding::Standing;
use tober_draw::{DrawError, Mark, StyleSheet, stack_of_step};
use tober_plan::{Foot, LegChange, Trim, TrimLeg};
use tober_quantity::{Length, Quantity, Rounding, Shown, Slope, UnitSet, Word};

pub(super) fn sheet(w: &Worked, parts: &Parts) -> String {
    let units = w.units();
    let unit = Speaks::Fine.unit(units);
    let mut out = head(w.words(), "trim", parts);
    out.push_str(&slot(parts, "trim before"));
    out.push_str("<form autocomplete=\"off\" data-shown=\"lowered\">");
    out.push_str(&fields::choice(
        "frame way",
        "How the frame is read",
        &[
            ("level", "Level on the frame", "along and across"),
            ("heights", "Height at each leg", "over a string or laser"),
        ],
    ));
    out.push_str("<div data-shown=\"by level\">");
    for (axis, legend, high, low) in [
        ("along", "Along: which end is high?", ("front", "Front"), ("rear", "Rear")),
        ("across", "Across: which side is high?", ("left", "Left"), ("right", "Right")),
    ] {
        out.push_str(&slope(w, "level", axis, legend, high, low));
    }
    out.push_str("</div>");
    let _ = write!(
        out,
        "<h3>Every foot</h3><p class=\"sub\">Kick it, or try a card under it: snug, or light. Light: measure the gap, in {unit}.</p>"
    );
    for leg in w.legs() {
        let (name, id) = (capital(&leg), crate::html::slug(&leg));
        let (height, foot, gap) = (format!("height {leg}"), format!("foot {leg}"), format!("gap {leg}"));
        let _ = write!(
            out,
            "<fieldset class=\"way stand\"><legend>{}</legend><div class=\"row\" data-shown=\"by heights\"><span>Height, {unit}</span>{}{}</div><div class=\"two\">",
            escape(&name),
            fields::figure(&height, &format!("Height at {leg}"), Speaks::Fine, units),
            fields::said(&height)
        );
        for (value, words) in [("snug", "Snug"), ("light", "Light")] {
            let _ = write!(
                out,
                "<label class=\"rad\"><input type=\"radio\" name=\"{foot}\" value=\"{value}\"><span>{words}</span></label>"
            );
        }
        let _ = write!(
            out,
            "</div>{}<div class=\"row\" data-shown=\"light {leg}\"><span>Gap, {unit}</span>{}{}</div>{}</fieldset>",
            fields::said(&foot),
            fields::figure(&gap, &format!("Gap at {leg}"), Speaks::Fine, units),
            fields::said(&gap),
            slot(parts, &format!("miss {id}"))
        );
    }
    out.push_str("</form>");
    out.push_str(&slot(parts, "trim said"));
    out.push_str("</section>");
    out
}

pub(super) fn parts(w: &Worked, parts: &mut Parts) -> Result<(), DrawError> {
    let feet = match &w.frame.trim {
        Some(Ok(trim)) => trim.legs.iter().filter(|leg| leg.foot.is_some()).count(),
        _ => 0,
    };
    parts.insert(
        "trim aside".to_owned(),
        if w.frame.lowered {
            format!(
                "<p class=\"headr\">reading {}<span>{feet} of {} feet</span></p>",
                w.frame.round,
                w.legs().len()
            )
        } else {
            String::new()
        },
    );
    parts.insert("trim before".to_owned(), before(w));
    for leg in w.legs() {
        let told = match &w.frame.trim {
            Some(Ok(trim)) => trim.legs.iter().find(|told| told.name == leg),
            _ => None,
        };
        parts.insert(
            format!("miss {}", crate::html::slug(&leg)),
            told.map_or(String::new(), |told| miss(told, w.units())),
        );
    }
    parts.insert("trim said".to_owned(), said(w)?);
    Ok(())
}

/// What comes before the frame is read: the hold point "lowered", with the cautions of the work.
fn before(w: &Worked) -> String {
    let plan = w.shown();
    if !w.frame.set {
        return format!(
            "<p>{} First every leg is set, and the {} has looked.</p><p class=\"to\"><a href=\"#stacks\">To the stacks</a></p>",
            shape(Mark::NotBegun),
            w.words().word(Word::Chief)
        );
    }
    if let Some(held) = w.stands.for_plan("hold lowered", &plan.name) {
        return format!(
            "<p>{} {} {}. All feet set, pins and {}s in, jacks clear.</p>",
            marked(Mark::Witnessed, "Lowered"),
            escape(&held.at),
            escape(&held.by),
            w.words().word(Word::Clip)
        );
    }
    let wheels = match w.ride.frame.wheels {
        Some(Wheels::Clear) => "The wheels end clear of the ground.",
        Some(Wheels::Touching) => "The wheels end just touching the ground.",
        Some(Wheels::Sharing) => "The wheels go on carrying their share.",
        None => "How the wheels end is not known: see the maker's manual.",
    };
    let mut out = untested(w);
    out.push_str("<ol>");
    for step in [
        "Everybody out from under. One person gives the word.",
        "Wheels chocked, both sides.",
        "Lower a little at a time, end by end, until every foot takes its load. Watch every stack.",
        "A stack that leans or a board that cracks: stop, and raise again.",
        wheels,
        "Jacks clear.",
    ] {
        let _ = write!(out, "<li>{}</li>", escape(step));
    }
    out.push_str("</ol>");
    out.push_str(&caution("Hands and feet never under a foot or a frame that moves. A stiff pin is a loaded pin: take the load off before the hammer."));
    out.push_str(&button(
        "go",
        "hold",
        "hold lowered",
        "yes",
        "Lowered: I have looked",
        "all feet on their stacks, jacks clear",
    ));
    out.push_str(&button("halt", "stop", "stop", "Stopped while lowering", "Stop, something is wrong", ""));
    out
}

/// A warning where the ground under a foot is not known to take it.
fn untested(w: &Worked) -> String {
    let about = w
        .shown()
        .findings
        .iter()
        .filter(|finding| finding.code.starts_with("ground.") && finding.standing == Standing::NotKnown);
    let count = about.map(|finding| &finding.subject).collect::<std::collections::BTreeSet<_>>().len();
    if count == 0 {
        return String::new();
    }
    format!(
        "<div class=\"coach bad\"><h3>{} The ground is not known under {count} {}</h3><p>Nothing shows that it takes the load. Test it before the weight comes on.</p><p class=\"to\"><a href=\"#ground\">To the ground</a></p></div>",
        shape(Mark::NotKnown),
        if count == 1 { "foot" } else { "feet" }
    )
}

fn signed(length: Length, units: UnitSet) -> String {
    length.amount().shown(Shown::Fine).print_miss(units)
}

/// How far a leg misses, and its foot.
fn miss(leg: &TrimLeg, units: UnitSet) -> String {
    let foot = match leg.foot {
        None => "foot not kicked".to_owned(),
        Some(Foot::Snug) => "snug".to_owned(),
        Some(Foot::Light { gap: None }) => "light: measure the gap".to_owned(),
        Some(Foot::Light { gap: Some(gap) }) => format!("light, {}", fine(gap, units)),
    };
    let miss = leg.miss.map_or(String::new(), |miss| format!("<b>{}</b> ", escape(&signed(miss, units))));
    format!("<p class=\"miss\">{miss}{} {}</p>", standing(leg.standing), escape(&foot))
}

fn said(w: &Worked) -> Result<String, DrawError> {
    let mut out = String::new();
    match &w.frame.trim {
        None => return Ok(out),
        Some(Err(sentence)) => {
            let _ = write!(
                out,
                "<div class=\"coach bad\" role=\"alert\"><h3>That cannot be read</h3><p>{}</p></div>",
                escape(sentence)
            );
        }
        Some(Ok(trim)) => told(w, trim, &mut out)?,
    }
    Ok(out)
}

fn told(w: &Worked, trim: &Trim, out: &mut String) -> Result<(), DrawError> {
    let several = trim.change.len();
    let title = match several {
        0 => "What to do".to_owned(),
        1 => "The least change: one leg".to_owned(),
        n => format!("The least change: {n} legs"),
    };
    let bad = trim.standing == Standing::PastLimit && trim.change.is_empty();
    let _ = write!(
        out,
        "<div class=\"coach{}\"><h3>{title}</h3><p class=\"word2\">{}</p><p class=\"sub\">{}</p></div>",
        if bad { " bad" } else { "" },
        escape(&trim.next),
        escape(&trim.proof)
    );
    for change in &trim.change {
        one(w, change, out)?;
    }
    for cure in &trim.cures {
        let _ = write!(out, "<p>{}</p>", escape(cure));
    }
    if !trim.change.is_empty() {
        let words: Vec<&str> = trim.change.iter().map(|change| change.words.as_str()).collect();
        let under: Vec<String> = trim.change.iter().map(|change| change.leg.clone()).collect();
        out.push_str(&button(
            "go",
            "change",
            &format!("changed {}", w.frame.round),
            &words.join(" "),
            "Confirm the change",
            &format!("{}, pins and {}s seen", under.join(", "), w.words().word(Word::Clip)),
        ));
        out.push_str(&button(
            "halt",
            "stop",
            "stop",
            "Stopped while trimming",
            "Stop, something is wrong",
            "",
        ));
    }
    level(trim, out);
    let what = "hold frame read";
    if let Some(held) = w.stands.for_plan(what, &w.shown().name) {
        let _ = write!(
            out,
            "<p>{} {} {}</p>",
            marked(Mark::Witnessed, "Frame read, inside"),
            escape(&held.at),
            escape(&held.by)
        );
    } else if inside(w) && !w.nothing_goes_up().is_empty() {
        out.push_str("<div class=\"coach bad\"><h3>Nothing goes up yet</h3><p>The frame is in, and something else is past its limit: see the first sheet.</p><p><span class=\"no\">No override</span></p></div>");
    } else if inside(w) {
        let chief = w.words().capitalised(Word::Chief);
        let _ = write!(
            out,
            "<h3>Hold point: frame read</h3><p>{chief} looks once more along the frame and at every pin.</p>"
        );
        out.push_str(&button("go", "hold", what, "yes", "Frame read: inside", trim.standing.word()));
    }
    Ok(())
}

/// Whether the frame was read and nothing of it has to change.
pub(crate) fn inside(w: &Worked) -> bool {
    match &w.frame.trim {
        Some(Ok(trim)) => {
            trim.change.is_empty() && matches!(trim.standing, Standing::Inside | Standing::Close)
        }
        _ => false,
    }
}

/// One leg's change: its words, the stack before and after, and how it is done.
fn one(w: &Worked, change: &LegChange, out: &mut String) -> Result<(), DrawError> {
    let id = crate::html::slug(&change.leg);
    let draw = |leg, when: &str| stack_of_step(w.shown(), leg, &format!("{when}-{id}"), StyleSheet::OnPage);
    let _ = write!(
        out,
        "<h3>{}</h3><p>{}</p><figure><figcaption>After the change</figcaption>{}</figure><details><summary>As it stands now</summary><figure>{}</figure></details><ol>",
        escape(&change.words),
        escape(&change.sum),
        draw(&change.to, "then")?,
        draw(&change.from, "now")?
    );
    for step in &change.steps {
        let _ = write!(out, "<li>{}</li>", escape(step));
    }
    out.push_str("</ol>");
    Ok(())
}

/// Level along and across as read, and each finding with its standing.
fn level(trim: &Trim, out: &mut String) {
    let print = |slope: Slope| slope.amount().shown(Shown::Slope).print(trim.units, Rounding::Nearest);
    out.push_str("<h3>As it was read</h3><ul class=\"facts\">");
    let rows = [("Along", trim.level_along, "front", "rear"), ("Across", trim.level_across, "left", "right")];
    for (axis, slope, high, low) in rows {
        let words = match slope {
            None => "not known".to_owned(),
            Some(slope) if slope.abs() < Slope::mm_per_m(0.05) => "level".to_owned(),
            Some(slope) => {
                let end = if slope > Slope::mm_per_m(0.0) { high } else { low };
                format!("{end} high by {}", print(slope.abs()))
            }
        };
        let _ = write!(out, "<li>{axis}: <b>{}</b></li>", escape(&words));
    }
    out.push_str("</ul>");
    for finding in trim.findings.iter().filter(|finding| finding.standing != Standing::Inside) {
        let _ = write!(
            out,
            "<p>{} {}: {} <b>{}</b></p>",
            standing(finding.standing),
            escape(&finding.subject.to_string()),
            escape(&finding.title),
            escape(&finding.figure(trim.units))
        );
        for sentence in finding.unknown.iter().chain(&finding.advice) {
            let _ = write!(out, "<p class=\"sub\">{}</p>", escape(sentence));
        }
    }
    if let Some(after) = &trim.after {
        let _ = write!(out, "<p>After the change, as worked out: {}</p>", standing(after.standing));
    }
}
