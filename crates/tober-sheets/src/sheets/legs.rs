//! The ground plan, the packing, a card for each leg, and the way onto the legs.

use super::{Given, Making};
use crate::block::{Block, Card, Cell, Picture, Table};
use crate::error::SheetsError;
use crate::say;
use tober_calc::finding::{Standing, Subject};
use tober_draw::{
    DrawError, Orientation, Palette, RideSide, StyleSheet, fixed_style, ground_plan, side_strip,
    stack_of_step,
};
use tober_plan::{LegPlan, WayDoing, WayStep};
use tober_quantity::{Length, Quantity as _, Rounding, Shown, UnitSet, Word};

/// How high the drawing of the whole pitch is printed, in millimetres: the table of six legs stands below it.
const PLAN_HEIGHT_MM: f64 = 176.0;
/// How high a side of the ride is printed, in millimetres.
const SIDE_HEIGHT_MM: f64 = 66.0;
/// How high a stack is printed, in millimetres.
const STACK_HEIGHT_MM: f64 = 62.0;

/// A drawing for paper: the print scheme written out, and its title and description as the words for who cannot see it.
pub(super) fn on_paper(svg: &str) -> (String, String) {
    let part = |tag: &str| {
        let from = svg.find(&format!("<{tag}"))?;
        let from = from + svg.get(from..)?.find('>')? + 1;
        let to = from + svg.get(from..)?.find(&format!("</{tag}>"))?;
        svg.get(from..to)
    };
    let said = [part("title"), part("desc")];
    let alt = unescaped(&said.into_iter().flatten().collect::<Vec<_>>().join(" "));
    let style = format!("<style>\n{}{}</style>", fixed_style(&Palette::PRINT), crate::HATCH);
    let styled = match svg.find("</desc>") {
        Some(at) => {
            let (head, rest) = svg.split_at(at + "</desc>".len());
            format!("{head}{style}{rest}")
        }
        None => svg.to_owned(),
    };
    (styled, alt)
}

/// A text of XML as it is read.
fn unescaped(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&apos;", "'")
        .replace("&amp;", "&")
}

fn drawn(error: &DrawError) -> SheetsError {
    SheetsError::Drawing(error.to_string())
}

fn picture(svg: &str, width: Option<f64>, height: Option<f64>) -> Block {
    let (svg, alt) = on_paper(svg);
    Block::Picture(Picture { svg, alt, width, height })
}

/// The ground plan, the packing schedule and what is left in the kit.
pub(super) fn ground(given: &Given<'_>, made: &mut Making) -> Result<(), SheetsError> {
    let plan = given.plan;
    if plan.legs.is_empty() {
        return Ok(());
    }
    let svg = ground_plan(plan, Orientation::Portrait, None, StyleSheet::OnPage).map_err(|e| drawn(&e))?;
    made.push(picture(&svg, None, Some(PLAN_HEIGHT_MM)));
    let packing = plan.words.word(Word::Packing);
    let twin = tober_draw::table(plan).map_err(|e| drawn(&e))?;
    let mut table = Table::new(
        &twin.caption,
        [
            ("", "auto"),
            ("leg", "28mm"),
            ("set at", "26mm"),
            ("stack", "16mm"),
            ("pieces from the ground up", "1fr"),
            ("ground", "18mm"),
            ("carries", "34mm"),
        ],
    );
    for row in &twin.rows {
        let [order, leg, short, set, stack, pieces, ground, carries, ..] = row.as_slice() else { continue };
        table.row([
            Cell::plain(order.as_str()),
            Cell::bold(format!("{short} {leg}")),
            Cell::bold(set.as_str()),
            Cell::bold(stack.as_str()),
            Cell::plain(pieces.as_str()),
            Cell::plain(ground.as_str()),
            Cell::plain(carries.as_str()),
        ]);
    }
    made.push(Block::Table(table));
    let mut kit = Table::new(
        &format!("What the {packing} takes from the kit"),
        [("board", "1fr"), ("used", "auto"), ("in the kit", "auto"), ("sound ones counted today", "34mm")],
    );
    for left in &plan.kit_left {
        let counted = made.line(&left.board, "sound ones counted", "");
        kit.row([
            Cell::bold(left.board.as_str()),
            Cell::plain(left.used.to_string()),
            Cell::plain(left.held.to_string()),
            counted,
        ]);
    }
    made.push(Block::Table(kit));
    for side in [RideSide::Left, RideSide::Right] {
        let svg = side_strip(plan, side, StyleSheet::OnPage).map_err(|e| drawn(&e))?;
        made.push(picture(&svg, None, Some(SIDE_HEIGHT_MM)));
    }
    Ok(())
}

/// A card for each leg: the stack as it is built, the setting, what it carries, and blanks.
pub(super) fn cards(given: &Given<'_>, made: &mut Making) -> Result<(), SheetsError> {
    if given.plan.legs.is_empty() {
        return Ok(());
    }
    made.push(Block::Cautions(given.plan.cautions.clone()));
    for leg in &given.plan.legs {
        let card = card(given, leg, made)?;
        made.push(card);
    }
    Ok(())
}

fn card(given: &Given<'_>, leg: &LegPlan, made: &mut Making) -> Result<Block, SheetsError> {
    let plan = given.plan;
    let svg =
        stack_of_step(plan, leg, &format!("leg{}", leg.order), StyleSheet::OnPage).map_err(|e| drawn(&e))?;
    let mut right = vec![Block::Table(figures(given, leg))];
    let findings = given.findings();
    let wanting = findings.iter().filter(|finding| {
        finding.standing != Standing::Inside && finding.subject == Subject::Support(leg.name.clone())
    });
    let said: Vec<String> = wanting
        .map(|finding| {
            let figure = finding.figure(plan.units);
            let figure = if figure.is_empty() { figure } else { format!(", {figure}") };
            format!("{}: {}{figure}", finding.standing.word(), finding.title)
        })
        .collect();
    if !said.is_empty() {
        right.push(Block::List(said));
    }
    let mut blanks =
        Table::new("", [("when built", "1fr"), ("", "26mm"), ("by", "18mm"), ("seen by", "22mm")]);
    let clip = plan.words.word(Word::Clip);
    let lock = match leg.held {
        tober_plan::Held::Hole { .. } => format!("pin and {clip} in, second hands"),
        tober_plan::Held::Screw { .. } => "screw locked, second hands".to_owned(),
    };
    let sink = "sink after 15 min, loaded on its boards".to_owned();
    for what in ["stack built as drawn".to_owned(), lock, "foot snug".to_owned(), sink] {
        let figure = if what.starts_with("sink") {
            made.line(&leg.name, &what, "")
        } else {
            made.tick(&leg.name, &what)
        };
        let by = made.line(&leg.name, &format!("{what}: by"), "");
        let seen = made.line(&leg.name, &format!("{what}: seen by"), "");
        blanks.row([Cell::plain(what), figure, by, seen]);
    }
    let left = vec![picture(&svg, None, Some(STACK_HEIGHT_MM))];
    Ok(Block::Card(Card {
        number: leg.order.to_string(),
        of: None,
        title: format!("{} {}", leg.short, leg.name),
        aside: String::new(),
        blocks: vec![Block::Beside { left, right, share: 0.4 }, Block::Table(blanks)],
        listed: true,
        level: 2,
    }))
}

fn figures(given: &Given<'_>, leg: &LegPlan) -> Table {
    let units = given.plan.units;
    let mut table = Table::new("", [("what", "30mm"), ("is", "1fr")]);
    table.tight = 0.7;
    table.row([Cell::plain("set at"), Cell::Big(say::setting(leg, units))]);
    table.row([Cell::plain("stack"), Cell::Big(say::fine(leg.stack, units))]);
    table.row([
        Cell::plain("boards from the ground up, each across the one below"),
        Cell::Big(say::boards(leg)),
    ]);
    table.row([Cell::plain("carries, of what it may"), Cell::bold(say::leg_load(leg, units))]);
    let ground = leg.ground.map_or("not known".to_owned(), |ground| say::fine(ground, units));
    table.row([Cell::plain("ground over the survey datum"), Cell::plain(ground)]);
    table.row([Cell::plain("state"), Cell::state(leg.standing, "")]);
    table
}

/// Heights to a quarter of an inch are too coarse to wind a jack to, so they print as finely as a tape shows.
fn height(length: Length, units: UnitSet) -> String {
    length.amount().shown(Shown::Short).print(units, Rounding::Nearest)
}

/// The way from the wheels onto the legs, with a place to write each height that was reached.
pub(super) fn way(given: &Given<'_>, made: &mut Making) {
    let plan = given.plan;
    let Some(way) = &plan.way else { return };
    let units = plan.units;
    let mut cautions = vec!["Wheels stay chocked all the time. Nobody under the frame.".to_owned()];
    if way.pin_above {
        cautions.push(
            "A pin on top of a sleeve carries only where the sleeve belongs to the foot: look before you lower onto it."
                .to_owned(),
        );
    }
    if way.steps.iter().any(|step| step.wheels_come_free) {
        cautions.push(
            "Where it says that the wheels come free, chocks hold nothing any more: only jack and legs keep the trailer from sliding."
                .to_owned(),
        );
    }
    made.push(Block::Cautions(cautions));
    if !way.in_book_order {
        made.push(Block::Strong("The legs are not set in the order of the book.".to_owned()));
    }
    if way.jack_packing > Length::ZERO {
        let packing = plan.words.word(Word::Packing);
        made.push(Block::Text(format!(
            "Lay {} of {packing} under the hitch jack.",
            say::fine(way.jack_packing, units)
        )));
    }
    let mut table = Table::new(
        "",
        [("", "auto"), ("do", "1fr"), ("jack carries", "auto"), ("reached", "30mm"), ("by", "20mm")],
    );
    for (at, step) in way.steps.iter().enumerate() {
        let (what, must) = told(step, units);
        let about = format!("way onto the legs, {}", at + 1);
        let (reached, by) = (made.line(&about, "reached", &must), made.line(&about, "by", ""));
        let free = if step.wheels_come_free { " The wheels come free." } else { "" };
        table.row([
            Cell::plain((at + 1).to_string()),
            Cell::plain(format!("{what}.{free}")),
            Cell::plain(say::load(step.jack_load, units, Rounding::Demand)),
            reached,
            by,
        ]);
    }
    made.push(Block::Table(table));
    if !way.differs.is_empty() {
        made.push(Block::Text(format!(
            "Other than common practice (no source), rear first with the nose down, then front with the nose up: {}",
            way.differs.join(" ")
        )));
    }
    made.heading("When all feet stand: read the frame");
    let mut table = Table::new(
        "Height of the frame at each leg over one level line; the field is blank until somebody has read it",
        [("leg", "28mm"), ("height", "1fr"), ("foot snug or light", "1fr"), ("read by", "26mm")],
    );
    for leg in &plan.legs {
        let height = made.line(&leg.name, "height of the frame", "");
        let foot = made.line(&leg.name, "foot snug or light", "");
        let by = made.line(&leg.name, "height of the frame: by", "");
        table.row([Cell::bold(format!("{} {}", leg.short, leg.name)), height, foot, by]);
    }
    made.push(Block::Table(table));
}

/// What is done, and what it must come to.
fn told(step: &WayStep, units: UnitSet) -> (String, String) {
    let out = |length: Length, turns: Option<&String>| {
        let out = length.amount().shown(Shown::Finest).print(units, Rounding::Nearest);
        turns.map_or_else(|| out.clone(), |turns| format!("{out} ({turns})"))
    };
    match &step.doing {
        WayDoing::Jack { up, height: to, least, most } => {
            let direction = if *up { "up" } else { "down" };
            (
                format!(
                    "Wind the hitch jack {direction} until the frame over it is {} above the ground",
                    height(*to, units)
                ),
                format!("{} to {}", height(*least, units), height(*most, units)),
            )
        }
        WayDoing::Set { leg, work, clear, screw_out, turns } => {
            let until = screw_out.map_or_else(String::new, |length| {
                format!(" until it is {} out", out(length, turns.as_ref()))
            });
            let past = if *clear > Length::ZERO {
                format!("; the frame is {} past its place", height(*clear, units))
            } else {
                String::new()
            };
            (format!("Set {leg}: {work}{until}{past}"), String::new())
        }
        WayDoing::Wind { leg, screw_out, turns } => {
            let to = out(*screw_out, turns.as_ref());
            (format!("Wind {leg} until it is {to} out"), to)
        }
        WayDoing::Off => (
            "Wind the hitch jack in until it carries nothing: the frame stands on its legs".to_owned(),
            String::new(),
        ),
    }
}
