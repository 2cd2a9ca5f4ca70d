//! The page that a chief carries with a grease pencil.

use super::verdicts::{attention, counted, worst};
use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use crate::say;
use tober_book::{Interval, Limits, Phase, Step, WindLimit};
use tober_calc::finding::Standing;
use tober_plan::Held;
use tober_quantity::{Quantity as _, Word};

/// How many verdicts stand on the page; the rest are counted.
const VERDICTS: usize = 5;
/// How many letters of the names of lifts stand beside their wind.
const WIND_LETTERS: usize = 52;
/// How many letters of a verdict's title stand on the page.
const TITLE_LETTERS: usize = 72;

pub(super) fn sheet(given: &Given<'_>, made: &mut Making) {
    let plan = given.plan;
    let findings = given.findings();
    if findings.is_empty() && plan.legs.is_empty() {
        return;
    }
    let standing = worst(findings.iter().copied()).unwrap_or(plan.standing);
    made.push(Block::Standing(standing, counted(&findings)));
    if !plan.assumed.is_empty() {
        made.push(Block::Strong(
            "Provisional: nothing that rests on this packing is known until this is settled.".to_owned(),
        ));
        made.push(Block::List(plan.assumed.clone()));
    }
    verdicts(given, made);
    legs(given, made);
    holds(given, made);
    let wind = wind(given);
    let mut left = Vec::new();
    core::mem::swap(&mut left, &mut made.blocks);
    made.push(wind);
    ring(made);
    let mut below = core::mem::take(&mut made.blocks);
    made.blocks = left;
    let ring = below.split_off(1);
    made.push(Block::Beside { left: below, right: ring, share: 0.62 });
    let figures = super::limits::figures(given, plan.units);
    if !figures.is_empty() {
        let said: Vec<String> = figures.iter().map(|(what, value)| format!("{what} {value}")).collect();
        made.push(Block::Text(format!("Limits: {}.", said.join(" · "))));
    }
    crew_and_again(given, made);
}

/// What is past its limit, not known or close: a line each.
fn verdicts(given: &Given<'_>, made: &mut Making) {
    let all = attention(given, &[Standing::PastLimit, Standing::NotKnown, Standing::Close]);
    let more = all.len().saturating_sub(VERDICTS);
    for mut verdict in all.into_iter().take(VERDICTS) {
        verdict.title = say::short(&verdict.title, TITLE_LETTERS);
        // Why, and what to do: on the sheet of the working; here what to look at.
        verdict.sentences.clear();
        verdict.tight = true;
        made.push(Block::Verdict(verdict));
    }
    if more > 0 {
        let loads = crate::SheetKind::Loads.number();
        made.push(Block::Text(format!("And {more} more: sheet {loads}.")));
    }
}

fn legs(given: &Given<'_>, made: &mut Making) {
    let (plan, words) = (given.plan, given.plan.words);
    if plan.legs.is_empty() {
        let packing = words.word(Word::Packing);
        made.push(Block::Strong(format!(
            "No {packing} can be given: see what is past its limit or not known."
        )));
        if !plan.cures.is_empty() {
            made.push(Block::List(plan.cures.clone()));
        }
        return;
    }
    let screws = plan.legs.iter().any(|leg| matches!(leg.held, Held::Screw { .. }));
    let set_at = if screws { "34mm" } else { "20mm" };
    let mut table = Table::new(
        &format!("Legs in the order they are set; boards from the ground up; {}", lock(given)),
        [
            ("", "6mm"),
            ("leg", "28fr"),
            ("set at", set_at),
            ("boards from the ground up", "43fr"),
            ("stack", "17mm"),
            ("carries", "38fr"),
            ("state", "21mm"),
            ("done", "15mm"),
        ],
    );
    table.tight = 0.7;
    for leg in &plan.legs {
        let done = made.tick(&leg.name, "packed, set and locked");
        table.row([
            Cell::plain(leg.order.to_string()),
            Cell::plain(format!("{} {}", leg.short, leg.name)),
            // A hole is a short word; a screw's length and turns are not.
            if screws {
                Cell::bold(say::setting(leg, plan.units))
            } else {
                Cell::Big(say::setting(leg, plan.units))
            },
            Cell::Big(say::boards(leg)),
            Cell::bold(say::fine(leg.stack, plan.units)),
            Cell::plain(say::leg_load(leg, plan.units)),
            Cell::state(leg.standing, ""),
            done,
        ]);
    }
    made.push(Block::Table(table));
}

/// How the legs of a plan are locked.
fn lock(given: &Given<'_>) -> String {
    let clip = given.plan.words.word(Word::Clip);
    let screws = given.plan.legs.iter().filter(|leg| matches!(leg.held, Held::Screw { .. })).count();
    match screws {
        0 => format!("pin and {clip}"),
        some if some == given.plan.legs.len() => "screws set and locked".to_owned(),
        _ => format!("pin and {clip}, screws set and locked"),
    }
}

fn holds(given: &Given<'_>, made: &mut Making) {
    let holds: Vec<(usize, &Step)> = given
        .steps_of(&[Phase::Arrive, Phase::BuildUp, Phase::Prove, Phase::Open])
        .into_iter()
        .filter(|(_, step)| step.hold_point.is_some())
        .collect();
    if holds.is_empty() {
        return;
    }
    let chief = given.plan.words.word(Word::Chief);
    let mut table = Table::new(
        &format!("Hold points: nothing goes on until the {chief} has looked"),
        [("step", "auto"), ("after it, what must be so", "1fr"), ("seen", "auto")],
    );
    table.tight = 0.55;
    table.size = 10.0;
    for (number, step) in holds {
        let seen = made.tick(&step.name, "hold point passed");
        let looks_at = step.hold_point.as_deref().unwrap_or_default();
        table.row([
            Cell::plain(number.to_string()),
            Cell::plain(format!("{}: {looks_at}", step.title)),
            seen,
        ]);
    }
    made.push(Block::Table(table));
}

/// The stricter of the visit's own limit and the maker's.
pub(super) fn wind_limits<'a>(
    given: &Given<'a>,
    which: fn(&Limits) -> Option<&WindLimit>,
) -> Option<&'a WindLimit> {
    let own = given.visit.limits.as_ref().and_then(which);
    own.or_else(|| given.ride.limits.as_ref().and_then(which))
}

/// The lifts of the printed order by the wind they may be done in, least first.
pub(super) fn winds_of_steps(given: &Given<'_>) -> Vec<(WindLimit, Vec<String>)> {
    let mut all: Vec<(WindLimit, Vec<String>)> = Vec::new();
    for step in given.steps() {
        let Some(limit) = &step.wind_limit else { continue };
        let alike = |there: &WindLimit| {
            there.speed == limit.speed
                && there.averaged_over == limit.averaged_over
                && there.at_height == limit.at_height
        };
        match all.iter_mut().find(|(there, _)| alike(there)) {
            Some((_, steps)) => steps.push(step.title.clone()),
            None => all.push((limit.clone(), vec![step.title.clone()])),
        }
    }
    all.sort_by(|(one, _), (other, _)| one.speed.si().total_cmp(&other.speed.si()));
    all
}

fn wind(given: &Given<'_>) -> Block {
    let units = given.plan.units;
    let mut table = Table::new(
        "Wind. Past that of a lift: lower, tie, clear people, wait",
        [("what", "1fr"), ("no more than", "auto")],
    );
    table.tight = 0.55;
    table.size = 10.0;
    for (limit, steps) in winds_of_steps(given) {
        let named = say::short(&steps.join("; "), WIND_LETTERS);
        table.row([Cell::plain(named), Cell::bold(say::wind(&limit, units))]);
    }
    let run = wind_limits(given, |limits| limits.wind_in_service.as_ref());
    let stand = wind_limits(given, |limits| limits.wind_out_of_service.as_ref());
    let said = |limit: Option<&WindLimit>| match limit {
        Some(limit) => Cell::bold(say::wind(limit, units)),
        None => Cell::state(Standing::NotKnown, ""),
    };
    table.row([Cell::plain("Run. Past it: stop, riders off, shut"), said(run)]);
    table.row([Cell::plain("Stand shut. Past it: keep everybody away"), said(stand)]);
    Block::Table(table)
}

fn ring(made: &mut Making) {
    let mut table = Table::new("Who to ring", [("who", "auto"), ("number", "1fr")]);
    table.tight = 0.2;
    table.size = 10.0;
    for who in [
        "emergency call",
        "owner of the ride",
        "maker",
        "owner of the ground",
        "owner of the line overhead",
        "electrician",
        "inspector",
    ] {
        let line = made.line(who, "name and number", "");
        table.row([Cell::plain(who), line]);
    }
    made.push(Block::Table(table));
}

/// The crew by their tags, and when what is looked at again.
fn crew_and_again(given: &Given<'_>, made: &mut Making) {
    if let Some(crew) = given.crew {
        let tags: Vec<String> = crew
            .people
            .iter()
            .map(|person| format!("{} {}", person.tag, say::roles(&person.skills, given.plan.words)))
            .collect();
        made.push(Block::Text(format!("Crew: {}.", tags.join(" · "))));
    }
    let again: Vec<&str> = given
        .ride
        .checks
        .iter()
        .map(|check| check.interval)
        .filter(|interval| {
            matches!(interval, Interval::FirstLoad | Interval::Hour | Interval::Rain | Interval::Day)
        })
        .fold(Vec::new(), |mut all, interval| {
            if !all.contains(&interval.word()) {
                all.push(interval.word());
            }
            all
        });
    if !again.is_empty() {
        let calls = crate::SheetKind::Calls.number();
        made.push(Block::Text(format!("Look again {}: sheet {calls}.", again.join(", "))));
    }
}
