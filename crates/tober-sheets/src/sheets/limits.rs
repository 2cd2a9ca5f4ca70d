//! What the legs carry, and what may not be passed.

use super::one_page::{wind_limits, winds_of_steps};
use super::verdicts::{attention, blocks, counted, worst};
use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use crate::say;
use tober_book::{Limits, LoadingRule, WindLimit};
use tober_calc::finding::{Finding, Standing, Subject};
use tober_quantity::{Amount, Quantity, Rounding, UnitSet, Word};

/// What each leg carries, over everything that was worked out; then every verdict that is not inside, with its reason.
pub(super) fn loads(given: &Given<'_>, made: &mut Making) {
    let plan = given.plan;
    let findings = given.findings();
    let Some(standing) = worst(findings.iter().copied()) else { return };
    made.push(Block::Standing(standing, counted(&findings)));
    if !plan.legs.is_empty() {
        let mut table = Table::new(
            "What each leg carries, least to greatest, of what it may",
            [
                ("leg", "30mm"),
                ("open, all cases", "1fr"),
                ("worst stage, in every order", "1fr"),
                ("state", "auto"),
            ],
        );
        for leg in &plan.legs {
            let mine = |finding: &&&Finding| {
                finding.subject == Subject::Support(leg.name.clone())
                    && finding.code.starts_with("stages.load")
            };
            let of_stages: Vec<&&Finding> = findings.iter().filter(mine).collect();
            let stage = match of_stages.first() {
                Some(_) => {
                    of_stages.iter().map(|finding| finding.figure(plan.units)).collect::<Vec<_>>().join("; ")
                }
                None => "not known".to_owned(),
            };
            let about = of_stages.iter().map(|finding| **finding);
            let stands = findings.iter().copied().filter(|f| f.subject == Subject::Support(leg.name.clone()));
            table.row([
                Cell::bold(format!("{} {}", leg.short, leg.name)),
                Cell::bold(say::leg_load(leg, plan.units)),
                Cell::plain(stage),
                Cell::state(worst(stands.chain(about)).unwrap_or(Standing::NotKnown), ""),
            ]);
        }
        made.push(Block::Table(table));
    }
    super::stages::strip(given, made);
    let all = attention(given, &[Standing::PastLimit, Standing::NotKnown, Standing::Close]);
    if !all.is_empty() {
        made.heading("What needs attention");
        made.blocks.extend(blocks(all));
    }
    if !plan.cures.is_empty() {
        made.heading("What would make it stand here");
        made.push(Block::List(plan.cures.clone()));
    }
}

/// Limits that are figures, in words with their figures; the stricter of the visit's and the maker's.
pub(super) fn figures(given: &Given<'_>, units: UnitSet) -> Vec<(String, String)> {
    let (own, maker) = (given.visit.limits.as_ref(), given.ride.limits.as_ref());
    let mut all = Vec::new();
    let mut add = |what: &str, amount: Option<Amount>, rounding: Rounding| {
        all.extend(amount.map(|amount| {
            let amount = tober_quantity::fine_enough(amount, units, rounding);
            (what.to_owned(), amount.print(units, rounding))
        }));
    };
    // A limit of the visit is never looser: the reader of the visit refuses one that is.
    fn of<T>(
        own: Option<&Limits>,
        maker: Option<&Limits>,
        which: impl Fn(&Limits) -> Option<T>,
    ) -> Option<T> {
        own.and_then(&which).or_else(|| maker.and_then(&which))
    }
    let most = Rounding::Capacity;
    add("riders at most", of(own, maker, |l| l.riders_greatest).map(Amount::count), most);
    add("mass of one rider", of(own, maker, |l| l.rider_mass_greatest).map(Quantity::amount), most);
    add("turns in a minute", of(own, maker, |l| l.speed_greatest).map(Quantity::amount), most);
    let seats = given.plan.words.plural(Word::Seat);
    let apart = format!("opposite {seats} differ by");
    add(&apart, of(own, maker, |l| l.opposite_difference_greatest).map(Quantity::amount), most);
    add("sink of a foot", of(own, maker, |l| l.sink_greatest).map(Quantity::amount), most);
    add(
        "sink more than its neighbour",
        of(own, maker, |l| l.sink_difference_greatest).map(Quantity::amount),
        most,
    );
    add("slope of the ground", of(own, maker, |l| l.ground_slope_greatest).map(Quantity::amount), most);
    add(
        "no colder than",
        of(own, maker, |l| l.temperature_least).map(Quantity::amount),
        Rounding::Requirement,
    );
    add("no hotter than", of(own, maker, |l| l.temperature_greatest).map(Quantity::amount), most);
    all
}

/// Every limit, and every wind, with a place to write what is read.
pub(super) fn limits(given: &Given<'_>, made: &mut Making) {
    if given.visit.limits.is_none() && given.ride.limits.is_none() {
        return;
    }
    let units = given.plan.units;
    let mut table = Table::new(
        "Wind, gravest last. When it is passed the answer is often: lower, tie, clear people, wait",
        [("what", "1fr"), ("no more than", "26mm"), ("as", "30mm"), ("read, when", "34mm"), ("by", "21mm")],
    );
    let said = |limit: Option<&WindLimit>| match limit {
        Some(limit) => {
            let (speed, how) = say::wind_parts(limit, units);
            (Cell::Big(speed), Cell::plain(how))
        }
        None => (Cell::state(Standing::NotKnown, ""), Cell::plain("")),
    };
    for (limit, steps) in winds_of_steps(given) {
        let named = steps.join("; ");
        let (read, by) = (made.line(&named, "gust and time", ""), made.line(&named, "by", ""));
        let (speed, how) = said(Some(&limit));
        table.row([Cell::plain(named), speed, how, read, by]);
    }
    let run = wind_limits(given, |limits| limits.wind_in_service.as_ref());
    let stand = wind_limits(given, |limits| limits.wind_out_of_service.as_ref());
    for (what, limit) in [
        ("Running. Past it: stop, riders off, shut what catches wind", run),
        ("Standing shut. Past it: keep everybody away", stand),
    ] {
        let (read, by) = (made.line(what, "gust and time", ""), made.line(what, "by", ""));
        let (speed, how) = said(limit);
        table.row([Cell::bold(what), speed, how, read, by]);
    }
    made.push(Block::Table(table));
    let mut table =
        Table::new("What else may not be passed", [("what", "1fr"), ("limit", "70mm"), ("from", "40mm")]);
    table.size = 12.0;
    let whose = if given.visit.limits.is_some() { "maker, or stricter for this visit" } else { "maker" };
    for (what, value) in figures(given, units) {
        table.row([Cell::plain(say::capital(&what)), Cell::Big(value), Cell::plain(whose)]);
    }
    let rule = given
        .visit
        .limits
        .as_ref()
        .and_then(|limits| limits.partial_loading)
        .or_else(|| given.ride.limits.as_ref().and_then(|limits| limits.partial_loading));
    if let Some(rule) = rule {
        let seats = given.plan.words.plural(Word::Seat);
        let said = match rule {
            LoadingRule::Any => format!("any {seats}, in any order"),
            LoadingRule::OppositePairs => format!("{seats} that face each other, in pairs"),
            LoadingRule::AllOrNone => format!("all {seats} or none"),
        };
        table.row([Cell::plain("Which may be filled"), Cell::bold(said), Cell::plain(whose)]);
    }
    if !table.rows.is_empty() {
        made.push(Block::Table(table));
    }
}
