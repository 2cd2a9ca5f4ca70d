//! Sheet "Kit and crew": what is in the van today, and who is here.

use super::{Parts, Worked, head, slot};
use crate::fields::{self, Speaks};
use crate::html::{escape, fine, shape};
use std::fmt::Write;
use tober_draw::Mark;
use tober_quantity::{Rounding, Word};

/// The name of the field that counts a kind of board.
pub(crate) fn count_of(board: &str) -> String {
    format!("count {board}")
}

pub(super) fn sheet(w: &Worked, parts: &Parts) -> String {
    let units = w.units();
    let mut out = head(w.words(), "kit", parts);
    if let Some(crew) = &w.crew {
        let tags: Vec<(String, String)> = crew
            .people
            .iter()
            .map(|person| {
                let skills: Vec<String> = person
                    .skills
                    .iter()
                    .map(|role| {
                        let role = role.word();
                        if role == "chief" { w.words().word(Word::Chief).to_owned() } else { role.to_owned() }
                    })
                    .collect();
                let taught = if person.taught.iter().any(|ride| ride == &w.ride.about.name) {
                    "taught this ride"
                } else {
                    "not yet taught this ride"
                };
                (person.tag.clone(), format!("{}; {taught}", skills.join(", ")))
            })
            .collect();
        let options: Vec<(&str, &str, &str)> =
            tags.iter().map(|(tag, about)| (tag.as_str(), tag.as_str(), about.as_str())).collect();
        out.push_str("<form autocomplete=\"off\">");
        out.push_str(&fields::choice("who", "Who has this phone", &options));
        out.push_str("</form>");
    }
    let _ = write!(
        out,
        "<form autocomplete=\"off\"><table class=\"rd\"><caption>Boards. Count the sound ones: a split or rotten board is no board. Blank: as the kit's file says.</caption>\
         <thead><tr><th scope=\"col\">Board, {} thick</th><th scope=\"col\">Counted today</th><th scope=\"col\">In the file</th></tr></thead><tbody>",
        Speaks::Fine.unit(units)
    );
    for board in &w.kit.boards {
        let name = count_of(&board.name);
        let _ = write!(
            out,
            "<tr><th scope=\"row\" class=\"lg\">{}<br><span class=\"sub\">{}</span></th><td class=\"i\">{}</td><td>{}{}</td></tr>",
            escape(&board.name),
            escape(&fine(board.thickness, units)),
            fields::figure(&name, &format!("Boards {} counted", board.name), Speaks::Count, units),
            slot(parts, &name),
            fields::said(&name)
        );
    }
    out.push_str("</tbody></table></form>");
    out.push_str(&slot(parts, "kit things"));
    // Of this phone alone: no entry is made of it.
    out.push_str("<form autocomplete=\"off\" class=\"needs-script\">");
    for (name, legend, options) in [
        (
            "local screen",
            "This screen",
            [("", "As the phone"), ("day", "Day, also in full sun"), ("night", "Night")].as_slice(),
        ),
        ("local buttons", "Buttons", [("", "For gloves"), ("mitten", "Larger, for mittens")].as_slice()),
    ] {
        let options: Vec<(&str, &str, &str)> =
            options.iter().map(|&(value, words)| (value, words, "")).collect();
        out.push_str(&fields::choice(name, legend, &options));
    }
    out.push_str("</form>");
    out.push_str("</section>");
    out
}

pub(super) fn parts(w: &Worked, parts: &mut Parts) {
    parts.insert("kit aside".to_owned(), String::new());
    for board in &w.kit.boards {
        // The kit has been counted anew by then; its file's own figure stands beside it.
        parts.insert(
            count_of(&board.name),
            w.kit_counts.get(&board.name).map_or(String::new(), usize::to_string),
        );
    }
    let mut out = String::from("<h3>For lifting</h3><ul class=\"facts\">");
    for jack in &w.kit.jacks {
        let _ = write!(
            out,
            "<li>{} × {}: lifts {}{}</li>",
            jack.count.map_or_else(|| "?".to_owned(), |count| count.to_string()),
            escape(&jack.name),
            escape(&crate::html::load(jack.rated_load.0.mass(), w.units(), Rounding::Capacity)),
            examined(jack.examined.map(|date| date.to_string()))
        );
    }
    for winch in &w.kit.winches {
        let lifts = winch.lifting_rating.map_or_else(
            || "a pulling winch: it lifts nothing".to_owned(),
            |rating| format!("lifts {}", crate::html::load(rating.0.mass(), w.units(), Rounding::Capacity)),
        );
        let _ = write!(
            out,
            "<li>{}: {}{}</li>",
            escape(&winch.name),
            escape(&lifts),
            examined(winch.examined.map(|date| date.to_string()))
        );
    }
    for tool in &w.kit.tools {
        let _ = write!(
            out,
            "<li>{} × {}</li>",
            tool.count.map_or_else(|| "?".to_owned(), |count| count.to_string()),
            escape(&tool.name)
        );
    }
    out.push_str("</ul><p class=\"caution\">Only a winch that is rated for lifting, and examined, may lift. Nobody under the load.</p>");
    parts.insert("kit things".to_owned(), out);
}

fn examined(date: Option<String>) -> String {
    match date {
        Some(date) => format!(", examined {}", escape(&date)),
        None => format!(", {} examination not known", shape(Mark::NotKnown)),
    }
}
