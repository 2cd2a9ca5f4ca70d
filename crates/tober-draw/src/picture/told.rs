//! What is told in words: the title, what there is to see, and what stands under the picture.

use super::choose::Chosen;
use super::ground::{Person, all_outside};
use super::scene::Scene;
use super::step::{Joint, LINE, Onto, RIM, SCENE, WIDTH, balloon, onto, ride};
use crate::label::{self, Area};
use crate::sheet::{Face, Sheet};
use core::fmt::Write as _;

/// The enlarged detail.
const DETAIL: (f64, f64) = (230.0, 160.0);
/// How much larger the detail is.
const ENLARGED: f64 = 2.6;
/// The most lines told of fixings; the rest is said in the description alone.
const PINS: usize = 8;

/// The words of a step: its title in one sentence, and what there is to see.
pub(super) struct Words {
    pub title: String,
    pub description: String,
}

pub(super) fn words(
    scene: &Scene<'_>,
    chosen: &Chosen,
    pins: &[String],
    stand: &[Person],
    clear: Option<&str>,
) -> Words {
    let (step, plan) = (scene.shown.step, scene.plan);
    let moved: Vec<String> = scene
        .shown
        .bodies
        .iter()
        .filter(|there| there.moves())
        .map(|there| format!("{} from {} to {}", there.body.name, there.was.name, there.is.name))
        .collect();
    let does = match moved.len() {
        0 => String::new(),
        1..=3 => format!(": {}", moved.join(", ")),
        more => format!(
            ": {more} parts move, {} first",
            scene
                .movers()
                .first()
                .and_then(|(at, _)| scene.body(*at))
                .map_or("one", |there| there.body.name.as_str())
        ),
    };
    let title = format!(
        "Step {} of {} of {}, {}{does}.",
        scene.shown.number,
        scene.shown.of,
        plan.ride,
        step.title.trim_end_matches('.')
    );
    let mut description = String::from("Seen from outside, lengths along one direction to one scale.");
    if !moved.is_empty() {
        let _ = write!(
            description,
            " Drawn heavy, {}: {}.",
            if scene.before { "where it was" } else { "where it comes to" },
            moved.join("; ")
        );
    }
    if let Some(seen) = chosen.seen {
        let _ = write!(description, " Of it {:.0} % is in sight.", seen * 100.0);
    }
    for (number, pin) in pins.iter().enumerate() {
        let _ = write!(description, " {}: {pin}.", number + 1);
    }
    if !stand.is_empty() {
        let who: Vec<&str> = stand.iter().map(|person| person.who).collect();
        let _ = write!(description, " People: {}; {}.", who.join(", "), whose(stand));
    }
    if let Some(clear) = clear {
        let _ = write!(description, " Kept clear: {clear}.");
    }
    if !scene.shapeless.is_empty() {
        let _ =
            write!(description, " Not drawn, since the book gives no shape: {}.", scene.shapeless.join(", "));
    }
    description.push_str(" Road wheels, drawbar and legs are drawn for their place only.");
    Words { title, description }
}

/// What is told under the picture.
pub(super) struct Below<'b> {
    pub pins: &'b [String],
    pub joints: &'b [Joint],
    pub stand: &'b [Person],
    pub clear: Option<&'b str>,
    pub swept: bool,
    pub rope: Option<&'b str>,
}

/// The detail and the words; gives where they end.
pub(super) fn below(sheet: &mut Sheet, scene: &Scene<'_>, chosen: &Chosen, told: &Below<'_>) -> f64 {
    let top = SCENE.bottom() + 30.0;
    let mut left = RIM;
    let mut bottom = top;
    if let Some(joint) = told.joints.first() {
        let area = Area { x: RIM, y: top, width: DETAIL.0, height: DETAIL.1 };
        detail(sheet, scene, chosen, joint, area);
        left = area.right() + 22.0;
        bottom = area.bottom() + 24.0;
    }
    let room = WIDTH - RIM - left;
    let mut y = top + 12.0;
    let mut line = |sheet: &mut Sheet, face: Face, indent: f64, text: &str| {
        for part in folded(text, face, room - indent) {
            sheet.text_within(left + indent, y, face, &part, room - indent);
            y += LINE;
        }
        y
    };
    let mut at = top + 12.0;
    for (number, pin) in told.pins.iter().take(PINS).enumerate() {
        sheet.circle((left + 10.0, at - 5.0), 9.0, "k1 fp");
        sheet.text(left + 10.0, at, Face::bold(13.0).middle(), &(number + 1).to_string());
        at = line(sheet, Face::bold(14.0), 26.0, pin);
    }
    if let Some(clear) = told.clear {
        let who = if all_outside(scene) { "Keep clear" } else { "Others keep clear" };
        line(sheet, Face::bold(14.0).class("tox"), 0.0, &format!("{who}: {clear}."));
    }
    if told.swept {
        line(sheet, Face::plain(14.0), 0.0, "Hatched ground: under what moves. Nobody there.");
    }
    if let Some(rope) = told.rope {
        line(sheet, Face::plain(14.0), 0.0, rope);
    }
    if !told.stand.is_empty() {
        let mut who: Vec<String> = Vec::new();
        for person in told.stand {
            let count = told.stand.iter().filter(|other| other.tag == person.tag).count();
            let words = format!(
                "{} {}{}",
                person.tag,
                if count > 1 { format!("{count} × ") } else { String::new() },
                person.who
            );
            if !who.contains(&words) {
                who.push(words);
            }
        }
        line(sheet, Face::plain(14.0), 0.0, &format!("People: {}; {}.", who.join(", "), whose(told.stand)));
    }
    if scene.movers().is_empty() && scene.moving {
        line(sheet, Face::plain(14.0), 0.0, "Heavy: what is set, taken away or turned.");
    } else if scene.moving {
        line(
            sheet,
            Face::plain(14.0),
            0.0,
            if scene.before {
                "Heavy: moves, drawn where it was. Dashed: where it goes. Arrow: its way."
            } else {
                "Heavy: moves. Dashed: where it was. Arrow: its way."
            },
        );
    } else if !scene.hot.is_empty() {
        line(sheet, Face::plain(14.0), 0.0, "Heavy: what is worked on. Nothing moves.");
    }
    line(
        sheet,
        Face::plain(14.0).class("sl"),
        0.0,
        "Posts: a person high. Wheels, drawbar, legs, beams: for their place only.",
    );
    bottom.max(y + 6.0)
}

/// Who says where people stand.
fn whose(stand: &[Person]) -> &'static str {
    match (stand.iter().any(|one| one.told), stand.iter().all(|one| one.told)) {
        (_, true) => "they stand where the book says",
        (true, false) => "the book says where some stand, the other places are this drawing's choice",
        (false, _) => "where they stand is this drawing's choice",
    }
}

/// A text in as many lines as it takes.
fn folded(text: &str, face: Face, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if label::width(&format!("{line} {word}"), face.size, face.weight) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// The place of the first pins, enlarged.
fn detail(sheet: &mut Sheet, scene: &Scene<'_>, chosen: &Chosen, joint: &Joint, area: Area) {
    let base = onto(scene, chosen, &[], None, SCENE);
    let scale = base.scale * ENLARGED;
    let [x, y] = chosen.view.flat(joint.at);
    let (mx, my) = area.middle();
    let large = Onto { view: chosen.view, scale, zero: (mx - x * scale, my + y * scale) };
    sheet.open_clipped("detail", area);
    ride(sheet, scene, &large, true);
    sheet.close_group();
    sheet.rect(area, "k2");
    let mut taken = Vec::new();
    balloon(sheet, &joint.numbers, (mx, my), area.inset(4.0), &mut taken);
    let words = format!("{ENLARGED} times as large");
    sheet.text(area.x, area.bottom() + 16.0, Face::plain(13.0).class("sl"), &words);
}
