//! A card for each step, with its picture.

use super::{Given, Making};
use crate::block::{Block, Card, Cell, Picture, Table};
use crate::error::SheetsError;
use crate::say;
use std::collections::BTreeMap;
use tober_book::{Phase, Step};
use tober_draw::{StyleSheet, card_picture};
use tober_plan::rehearse::{self, rehearsal};
use tober_plan::{StepShown, steps_shown};
use tober_quantity::{Quantity as _, Rounding, Shown, Word};

/// How large a picture is drawn, in its own unit, of which 13 are the height of its smallest letters.
const DRAWN: (f64, f64) = (352.0, 216.0);
/// Millimetres of paper for one unit of a picture: 13 of it print as letters of 9 points.
const MM_A_UNIT: f64 = 9.0 * 25.4 / 72.0 / 13.0;
/// What is told of what goes wrong where a step is left out.
const WRONG: usize = 2;

/// A word and what is said after it.
type Said = (String, String);

/// What the cards of a visit are made from, besides its books.
struct Told<'a> {
    shown: BTreeMap<&'a str, StepShown<'a>>,
    learnt: &'a BTreeMap<String, rehearse::Card>,
}

impl<'a> Told<'a> {
    fn of(given: &Given<'a>, learnt: &'a BTreeMap<String, rehearse::Card>) -> Self {
        let shown = steps_shown(given.ride, given.visit).unwrap_or_default();
        Self { shown: shown.into_iter().map(|shown| (shown.step.name.as_str(), shown)).collect(), learnt }
    }
}

/// What is learnt of each step: by far the longest work of a pack, so it is done once for all of its sheets.
pub(super) fn learnt(given: &Given<'_>) -> BTreeMap<String, rehearse::Card> {
    let all = rehearsal(given.ride, given.visit, given.plan.units).map(|all| all.cards);
    all.into_iter().flatten().map(|card| (card.step.clone(), card)).collect()
}

/// A phase in the words of one side.
fn phase(given: &Given<'_>, phase: Phase) -> String {
    let words = given.plan.words;
    match phase {
        Phase::BuildUp => words.capitalised(Word::BuildUp),
        Phase::PullDown => words.capitalised(Word::PullDown),
        other => say::capital(other.word()),
    }
}

/// A card for each step of some phases.
pub(super) fn cards(given: &Given<'_>, phases: &[Phase], made: &mut Making) -> Result<(), SheetsError> {
    let any = phases.iter().any(|one| !given.steps_of(&[*one]).is_empty());
    if !any {
        return Ok(());
    }
    let shared = made.shared.clone();
    let told = Told::of(given, shared.learnt.get_or_init(|| learnt(given)));
    if !told.shown.is_empty() {
        made.push(Block::Text(
            "In the pictures: heavy, what moves; thin dashed, where it was; the arrow, its way; hatched ground, where nobody may \
             be; a post, a person high, who stands where the drawing puts them; a number in a balloon, the fixing of that number. \
             Wheels, drawbar and legs are drawn for their place only."
                .to_owned(),
        ));
    }
    for one in phases {
        let steps = given.steps_of(&[*one]);
        if steps.is_empty() {
            continue;
        }
        made.heading(&phase(given, *one));
        for (number, step) in steps {
            let card = card(given, &told, number, step, made)?;
            made.push(card);
        }
    }
    Ok(())
}

/// The cards of the steps for a ride that has stopped.
pub(super) fn stopped_cards(given: &Given<'_>, made: &mut Making) -> Result<(), SheetsError> {
    let steps = given.steps_of(&[Phase::Stopped]);
    if steps.is_empty() {
        return Ok(());
    }
    made.heading("Step by step");
    let shared = made.shared.clone();
    let told = Told::of(given, shared.learnt.get_or_init(|| learnt(given)));
    for (number, step) in steps {
        let card = card(given, &told, number, step, made)?;
        made.push(card);
    }
    Ok(())
}

/// Whether a picture of a step shows more than the ride as it stood before.
fn worth_drawing(shown: &StepShown<'_>) -> bool {
    let step = shown.step;
    shown.bodies.iter().any(tober_plan::BodyShown::moves)
        || !step.pins.is_empty()
        || !step.sets.is_empty()
        || !step.takes_away.is_empty()
        || shown.turned[0] != shown.turned[1]
        || step.lift.is_some()
}

fn card(
    given: &Given<'_>,
    told: &Told<'_>,
    number: usize,
    step: &Step,
    made: &mut Making,
) -> Result<Block, SheetsError> {
    let mut said = Vec::new();
    if !step.cautions.is_empty() {
        said.push(Block::Cautions(step.cautions.clone()));
    }
    if let Some(instruction) = &step.instruction {
        said.push(Block::Call(instruction.clone()));
    }
    if !step.pins.is_empty() {
        let told = |pins: &tober_book::PinMove| {
            format!("{} {}: from {} to {}", pins.count, pins.fixing, pins.from, pins.to)
        };
        said.push(Block::Balloons(step.pins.iter().map(told).collect()));
    }
    let (where_and_wind, about) = about(given, step);
    if !where_and_wind.is_empty() {
        said.push(Block::Small(where_and_wind));
    }
    let drawn = told.shown.get(step.name.as_str()).filter(|shown| worth_drawing(shown));
    let mut blocks = match drawn {
        Some(shown) => {
            let svg = card_picture(given.ride, given.plan, shown, DRAWN, StyleSheet::OnPage)
                .map_err(|error| SheetsError::Drawing(error.to_string()))?;
            let (svg, alt) = super::legs::on_paper(&svg);
            let (width, height) = (DRAWN.0 * MM_A_UNIT, DRAWN.1 * MM_A_UNIT);
            let picture = Picture { svg, alt, width: Some(width), height: Some(height) };
            vec![Block::Beside { left: vec![Block::Picture(picture)], right: said, share: 0.495 }]
        }
        None => said,
    };
    let mut small = about;
    small.extend(told.learnt.get(&step.name).map(|learnt| wrong_and_back(step, learnt)).unwrap_or_default());
    blocks.push(Block::Small(small));
    blanks(given, step, &mut blocks, made);
    Ok(Block::Card(Card {
        number: number.to_string(),
        of: Some(given.ride.steps.len()),
        title: step.title.clone(),
        aside: String::new(),
        blocks,
        listed: false,
        level: 3,
    }))
}

/// What is read, looked at and signed, each with its blanks.
fn blanks(given: &Given<'_>, step: &Step, blocks: &mut Vec<Block>, made: &mut Making) {
    let units = given.plan.units;
    if let Some(reading) = &step.reading {
        let must = say::range(reading.low, reading.high, units);
        let good = if must.is_empty() { String::new() } else { format!(": {must}") };
        let what = say::capital(&reading.what);
        if reading.at_each_support == Some(true) {
            let column = ("leg", "auto");
            let (reads, by) = (("reads", "1fr"), ("by", "1fr"));
            let mut table = Table::new(&format!("{what}{good}"), [column, reads, by, column, reads, by]);
            table.tight = 0.6;
            for pair in given.plan.legs.chunks(2) {
                let mut row = Vec::new();
                for leg in pair {
                    let what = format!("{} at {}", reading.what, leg.short);
                    row.push(Cell::bold(leg.short.as_str()));
                    row.push(made.line(&step.name, &what, &must));
                    row.push(made.line(&step.name, &format!("{what}: by"), ""));
                }
                row.resize(6, Cell::plain(""));
                table.rows.push(row);
            }
            blocks.push(Block::Table(table));
        } else {
            let number = made.blank(&step.name, &reading.what, &must);
            blocks.push(Block::Blank { text: format!("{what}{good}"), number });
        }
    }
    let (text, heavy, tick) = match &step.hold_point {
        Some(looks_at) => {
            let chief = given.plan.words.word(Word::Chief);
            (format!("Hold point, the {chief}: {looks_at}"), true, "hold point passed")
        }
        None => ("Done".to_owned(), false, "done"),
    };
    let tick = made.blank(&step.name, tick, "");
    let (by, at) = (made.blank(&step.name, "by", ""), made.blank(&step.name, "at", ""));
    blocks.push(Block::Signed { text, heavy, tick, by, at });
}

/// In what wind and who keeps away; then who, with what, how long and after what: each with the word that it begins with.
fn about(given: &Given<'_>, step: &Step) -> (Vec<Said>, Vec<Said>) {
    let units = given.plan.units;
    let mut danger: Vec<Said> = Vec::new();
    let mut all: Vec<Said> = Vec::new();
    let mut add = |what: &str, text: String| all.push((what.to_owned(), text));
    let people = step
        .people
        .map(|people| if people == 1 { "1 person".to_owned() } else { format!("{people} people") });
    let skills = say::roles(&step.skills, given.plan.words);
    add(
        "Who",
        match (people, skills.is_empty()) {
            (Some(people), true) => people,
            (Some(people), false) => format!("{people}, {skills} among them"),
            (None, false) => format!("how many is not known, {skills} among them"),
            (None, true) => "not known".to_owned(),
        },
    );
    if !step.tools.is_empty() {
        add("With", step.tools.join(", "));
    }
    if let Some(duration) = &step.duration {
        let usual = duration.usual.amount().shown(Shown::Minutes).print(units, Rounding::Nearest);
        add("Takes", format!("usually {usual}"));
    }
    if let Some(limit) = &step.wind_limit {
        danger.push(("Wind".to_owned(), format!("at most {}", say::wind(limit, units))));
    }
    if let Some(clear) = &step.keep_clear {
        let radius = step
            .keep_clear_radius
            .map_or_else(String::new, |radius| format!(", {} round its middle", say::coarse(radius, units)));
        danger.push(("Keep clear".to_owned(), format!("{clear}{radius}")));
    }
    let after: Vec<&str> = step
        .after
        .iter()
        .filter_map(|name| given.ride.step(name).map(|before| before.title.as_str()))
        .collect();
    if !after.is_empty() {
        add("After", after.join("; "));
    }
    (danger, all)
}

/// What goes wrong where a step is left out, and the way back from it.
fn wrong_and_back(step: &Step, card: &rehearse::Card) -> Vec<Said> {
    // What waits for a step is left out with it; only what is said of things that the step itself touches is its own.
    let touched: Vec<String> = step
        .moves
        .iter()
        .map(|moved| &moved.body)
        .chain(step.pins.iter().map(|pins| &pins.fixing))
        .chain(&step.sets)
        .chain(&step.takes_away)
        .chain(step.switches.iter().map(|change| &change.switch))
        .chain(&step.line_on)
        .chain(&step.line_off)
        .map(|name| format!("\"{name}\""))
        .collect();
    let own = |says: &str| touched.iter().any(|name| says.contains(name));
    let wrong = card.too_early.iter().filter_map(|early| early.wrong.iter().find(|wrong| own(&wrong.says)));
    let mut all: Vec<Said> =
        wrong.take(WRONG).map(|wrong| ("If left out".to_owned(), wrong.says.clone())).collect();
    if let Some((steps, not_easy)) = &card.back {
        let more = match not_easy.as_slice() {
            [] => String::new(),
            [one] => format!("; not easy: {one}"),
            [one, rest @ ..] => format!("; not easy: {one}, and {} more", rest.len()),
        };
        all.push(("Way back from here".to_owned(), format!("{steps}{more}")));
    }
    all
}
