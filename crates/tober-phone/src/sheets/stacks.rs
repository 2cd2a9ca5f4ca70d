//! Sheet "Stacks": one drawing a leg in the order in which they are set, and what is left in the kit.

use super::{Parts, Worked, head, slot};
use crate::html::{button, capital, caution, escape, load, marked, shape, standing};
use std::fmt::Write;
use tober_calc::finding::Standing;
use tober_draw::{DrawError, Mark, StyleSheet, stack_of_step};
use tober_plan::{Held, LegPlan};
use tober_quantity::{Quantity, Rounding, Shown, UnitSet, Word};

pub(super) fn sheet(w: &Worked, parts: &Parts) -> String {
    let mut out = head(w.words(), "stacks", parts);
    out.push_str(&slot(parts, "stacks whole"));
    out.push_str(&slot(parts, "hold set"));
    out.push_str(&slot(parts, "kit left"));
    out.push_str("</section>");
    for order in 1..=w.legs().len() {
        let _ = write!(
            out,
            "<section class=\"sheet step\" id=\"leg-{order}\" aria-labelledby=\"h-leg-{order}\">{}</section>",
            slot(parts, &format!("step {order}"))
        );
    }
    out
}

/// How many legs are built with pin and clip seen by second hands, and how many there are, for the plan shown.
pub(crate) fn count(w: &Worked) -> (usize, usize) {
    let name = &w.shown().name;
    let done = w.shown().legs.iter().filter(|leg| {
        ["built", "pinned"]
            .iter()
            .all(|work| w.stands.for_plan(&format!("{work} {}", leg.name), name).is_some())
    });
    (done.count(), w.shown().legs.len())
}

pub(super) fn parts(w: &Worked, parts: &mut Parts) -> Result<(), DrawError> {
    let plan = w.shown();
    let (done, of) = count(w);
    parts.insert("stacks aside".to_owned(), format!("<p class=\"headr\">{done} of {of}<span>set</span></p>"));
    parts.insert("stacks whole".to_owned(), whole(w));
    parts.insert("hold set".to_owned(), hold_set(w, done, of));
    parts.insert("kit left".to_owned(), kit_left(w));
    for (place, _) in w.legs().iter().enumerate() {
        let html = match plan.legs.get(place) {
            Some(leg) => step(w, place, leg)?,
            None => format!(
                "<h2 id=\"h-leg-{0}\" tabindex=\"-1\">Leg {0}</h2><p>{1} No stack is known for it yet.</p><p class=\"to\"><a href=\"#pitch\">Read the ground first</a></p>",
                place + 1,
                shape(Mark::NotKnown)
            ),
        };
        parts.insert(format!("step {}", place + 1), html);
    }
    Ok(())
}

fn whole(w: &Worked) -> String {
    let plan = w.shown();
    let mut out = String::new();
    if plan.legs.is_empty() {
        return format!(
            "<p>{} There are no stacks yet.</p><p class=\"to\"><a href=\"#pitch\">Read the ground</a></p>",
            shape(Mark::NotKnown)
        );
    }
    let _ = write!(out, "<p class=\"word\">{}</p>", standing(plan.standing));
    if !w.is_taken() {
        out.push_str("<p><b>Nobody has taken this plan yet.</b></p><p class=\"to\"><a href=\"#pitch\">Look at the readings, then take it</a></p>");
    }
    if plan.standing == Standing::PastLimit {
        let barred = plan.findings.iter().any(|f| {
            f.standing == Standing::PastLimit && f.overriding == tober_calc::finding::Override::Never
        });
        let _ = write!(
            out,
            "<div class=\"coach bad\"><h3>{}</h3><p>What is past its limit stands first on its sheet.</p><p class=\"to\"><a href=\"#limits\">Loads and limits</a></p></div>",
            if barred { "Do not build here as it stands" } else { "Something is past its limit" }
        );
    }
    out.push_str("<ul class=\"list\">");
    for leg in &plan.legs {
        let _ = write!(
            out,
            "<li><a href=\"#leg-{}\"><span class=\"n\">{}</span><span><b>{}</b><br><span class=\"sub\">{}. {}</span></span>{}</a></li>",
            leg.order,
            leg.order,
            escape(&capital(&leg.name)),
            escape(&setting(leg, w.units())),
            escape(&boards(leg).join(", ")),
            shape(leg_mark(w, leg)),
        );
    }
    out.push_str("</ul>");
    for sentence in &plan.cautions {
        out.push_str(&caution(sentence));
    }
    out
}

fn leg_mark(w: &Worked, leg: &LegPlan) -> Mark {
    let (built, pinned) =
        (w.mark_of(&format!("built {}", leg.name)), w.mark_of(&format!("pinned {}", leg.name)));
    match (built, pinned) {
        (Mark::Done, Mark::Done) => Mark::Witnessed,
        (Mark::DoAgain, _) | (_, Mark::DoAgain) => Mark::DoAgain,
        (Mark::Done, _) | (_, Mark::Done) => Mark::InHand,
        (mark, _) => mark,
    }
}

/// The chief's hold point: legs set. It cannot be passed while a pin is not seen (rule S2).
fn hold_set(w: &Worked, done: usize, of: usize) -> String {
    if of == 0 {
        return String::new();
    }
    let plan = &w.shown().name;
    let chief = w.words().capitalised(Word::Chief);
    let mut out = "<h3>Hold point: legs set</h3>".to_owned();
    if let Some(held) = w.stands.for_plan("hold legs set", plan) {
        let _ = write!(
            out,
            "<p>{} {} {}</p>",
            marked(Mark::Witnessed, "Looked at"),
            escape(&held.at),
            escape(&held.by)
        );
    } else if done < of {
        let _ = write!(
            out,
            "<p>{} {done} of {of} legs have stack, pin and {} seen. {chief} looks when all have.</p>",
            shape(Mark::NotBegun),
            w.words().word(Word::Clip)
        );
    } else {
        out.push_str(&button(
            "go",
            "hold",
            "hold legs set",
            "yes",
            "Legs set: I have looked",
            &format!("{of} of {of} pinned and clipped"),
        ));
    }
    out
}

fn kit_left(w: &Worked) -> String {
    let plan = w.shown();
    if plan.kit_left.is_empty() {
        return String::new();
    }
    let mut out = String::from(
        "<table class=\"tight\"><caption>What is left in the kit once all stacks are built</caption><thead><tr><th scope=\"col\">Board</th><th scope=\"col\" class=\"r\">In the kit</th><th scope=\"col\" class=\"r\">Used</th><th scope=\"col\" class=\"r\">Left</th></tr></thead><tbody>",
    );
    for left in &plan.kit_left {
        let _ = write!(
            out,
            "<tr><th scope=\"row\">{}</th><td class=\"r\">{}</td><td class=\"r\">{}</td><td class=\"r\"><b>{}</b></td></tr>",
            escape(&left.board),
            left.held,
            left.used,
            left.held.saturating_sub(left.used)
        );
    }
    out.push_str("</tbody></table>");
    out
}

pub(super) fn setting(leg: &LegPlan, units: UnitSet) -> String {
    match &leg.held {
        Held::Hole { number, .. } => format!("Hole {number}"),
        Held::Screw { extension, .. } => {
            let out = extension.amount().shown(Shown::Finest).print(units, Rounding::Nearest);
            leg.held
                .turns()
                .map_or_else(|| format!("Screw out {out}"), |turns| format!("Screw out {out}, {turns}"))
        }
    }
}

fn boards(leg: &LegPlan) -> Vec<&str> {
    leg.layers.iter().map(|layer| layer.board.as_str()).collect()
}

/// The festoon: one lamp a leg, each as its mark.
fn festoon(w: &Worked, here: usize) -> String {
    let legs = &w.shown().legs;
    let step = 340.0 / legs.len().max(1) as f64;
    let mut lamps = String::new();
    let mut cable = String::from("M8 6");
    let mut set = 0;
    for (place, leg) in legs.iter().enumerate() {
        let mark = leg_mark(w, leg);
        set += usize::from(mark == Mark::Witnessed);
        let x = 13.0 + step * (place as f64 + 0.5);
        let _ = write!(cable, " Q{:.1} 14 {:.1} 6", x, 13.0 + step * (place as f64 + 1.0));
        let (size, up) = if place == here { (22.0, 8.0) } else { (17.0, 11.0) };
        let _ = write!(
            lamps,
            "<svg x=\"{:.1}\" y=\"{up}\" width=\"{size}\" height=\"{size}\" viewBox=\"0 0 24 24\" class=\"s {}\">{}</svg>",
            x - size / 2.0,
            mark.class(),
            mark.shape()
        );
    }
    format!(
        "<svg class=\"lamps\" viewBox=\"0 0 366 34\" role=\"img\" aria-label=\"{set} of {} legs set\"><path d=\"{cable}\" class=\"kn\"/>{lamps}</svg>",
        legs.len()
    )
}

/// What the leg carries, and how what was found of it stands.
fn carries(w: &Worked, leg: &LegPlan) -> String {
    let load = match leg.load {
        None => "load not known".to_owned(),
        Some((low, high)) => format!(
            "{} to {}",
            load(low, w.units(), Rounding::Capacity),
            load(high, w.units(), Rounding::Requirement)
        ),
    };
    let worst = leg.remarks.first().filter(|_| leg.standing != Standing::Inside);
    let why = worst.map_or(String::new(), |remark| format!(" {}", remark.text));
    format!(
        "<p class=\"carries\">Carries <b>{}</b>. {}{}</p>",
        escape(&load),
        standing(leg.standing),
        escape(&why)
    )
}

fn step(w: &Worked, place: usize, leg: &LegPlan) -> Result<String, DrawError> {
    let plan = w.shown();
    let name = capital(&leg.name);
    // A screw has neither pin nor clip: what second hands look at is how far it is out, and its lock.
    let (seen, see, confirm) = match leg.held {
        Held::Hole { .. } => {
            let clip = w.words().word(Word::Clip);
            (format!("pin, {clip}"), format!("Pin and {clip}"), format!("Confirm pin and {clip}"))
        }
        Held::Screw { .. } => {
            ("setting, lock".to_owned(), "Setting and lock".to_owned(), "Confirm setting and lock".to_owned())
        }
    };
    let setting = setting(leg, w.units());
    let boards = boards(leg);
    let answer = match boards.split_first() {
        None => format!("{setting}. No board."),
        Some((first, [])) => format!("{setting}. Board {first}."),
        Some((first, rest)) => format!("{setting}. Board {first}, then {} across it.", rest.join(", then ")),
    };
    let mut out = format!(
        "<div class=\"head\"><svg class=\"bal\" viewBox=\"0 0 50 50\" role=\"img\" aria-label=\"Step {order} of {of}\"><circle cx=\"25\" cy=\"25\" r=\"23\" class=\"kf\"/><path d=\"M2 25h46\" class=\"kn\"/><text x=\"25\" y=\"21\" class=\"b1\">{order}</text><text x=\"25\" y=\"41\" class=\"b2\">{of}</text></svg>\
         <h2 id=\"h-leg-{order}\" tabindex=\"-1\">Build {lower}</h2></div>{festoon}<figure class=\"fig\">{picture}</figure>\
         <dl class=\"call coach\"><div><dt>Call</dt><dd>{name}: setting, stack?</dd></div><div><dt>Answer</dt><dd><b>{answer}</b></dd></div>\
         <div><dt>Witness</dt><dd>Second hands: {seen}.</dd></div></dl>",
        order = leg.order,
        of = plan.legs.len(),
        lower = escape(&leg.name),
        name = escape(&name),
        festoon = festoon(w, place),
        picture = stack_of_step(plan, leg, &format!("step{place}"), StyleSheet::OnPage)?,
        answer = escape(&answer),
    );
    let (built, pinned) = (format!("built {}", leg.name), format!("pinned {}", leg.name));
    let (is_built, is_pinned) = (w.mark_of(&built), w.mark_of(&pinned));
    if is_built == Mark::DoAgain || is_pinned == Mark::DoAgain {
        let _ = write!(out, "<p>{} It was built for another plan.</p>", marked(Mark::DoAgain, "Do again"));
    }
    let seen_box = |mark: Mark, words: &str| format!("<p class=\"box\">{}{}</p>", shape(mark), escape(words));
    let _ = write!(
        out,
        "<div class=\"pair\">{}{}</div>",
        seen_box(is_built, "Stack built"),
        seen_box(is_pinned, &see)
    );
    if !w.is_taken() {
        out.push_str("<p><b>Nobody has taken this plan yet.</b></p><p class=\"to\"><a href=\"#pitch\">Take it first</a></p>");
    } else if is_built != Mark::Done {
        out.push_str(&caution("Hands never under a foot. Use a hook."));
        out.push_str(&button("go", "tick", &built, "yes", "Confirm stack built", &answer));
    } else if is_pinned != Mark::Done {
        out.push_str(&caution(if matches!(leg.held, Held::Hole { .. }) {
            "Stiff pin: it is loaded. Take the load off."
        } else {
            "Stiff screw: it is loaded. Take the load off."
        }));
        out.push_str(&button("go", "tick", &pinned, "yes", &confirm, "second pair of hands"));
    } else {
        let next = plan.legs.iter().find(|other| leg_mark(w, other) != Mark::Witnessed);
        match next {
            Some(next) => {
                let _ = write!(
                    out,
                    "<a class=\"btn go\" href=\"#leg-{}\">Next: {}<span>{} done</span></a>",
                    next.order,
                    escape(&next.name),
                    escape(&leg.name)
                );
            }
            None => {
                let _ = write!(
                    out,
                    "<a class=\"btn go\" href=\"#stacks\">All legs set<span>to the hold point</span></a>"
                );
            }
        }
    }
    out.push_str(&button(
        "halt",
        "stop",
        "stop",
        &format!("Stopped at {}", leg.name),
        "Stop, something is wrong",
        "",
    ));
    out.push_str(&carries(w, leg));
    Ok(out)
}
