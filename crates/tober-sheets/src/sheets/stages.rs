//! What the legs carry, stage by stage.

use super::verdicts::gravity;
use super::{Given, Making};
use crate::block::{Block, Cell, Table};
use tober_calc::finding::Standing;
use tober_draw::Mark;
use tober_plan::{Books, LegLoad, StepShown, loads_after, steps_shown};
use tober_quantity::{Mass, Quantity as _, Rounding, Shown, UnitSet};

/// How many legs stand beside each other; more stand in a further table.
const LEGS: usize = 8;

/// A row for each stage, a cell for each leg: a figure over a bar of which the whole is the limit.
pub(super) fn strip(given: &Given<'_>, made: &mut Making) {
    let plan = given.plan;
    let books = Books { ride: given.ride, kit: given.kit, pitch: given.pitch, visit: given.visit };
    let shown = steps_shown(given.ride, given.visit).unwrap_or_default();
    let stages: Vec<(&StepShown<'_>, Result<Vec<LegLoad>, String>)> = shown
        .iter()
        .filter(|shown| shown.is_stage(given.ride))
        .map(|shown| (shown, loads_after(books, plan, shown)))
        .collect();
    if stages.is_empty() || plan.legs.is_empty() {
        return;
    }
    made.heading("What the legs carry, stage by stage");
    made.push(Block::Text(
        "Weights of the parts alone: no wind, no riders, no crew. A whole bar is what the leg may carry: full height, at least; \
         thin, at most. Solid is inside, hatched is close, and a bar that breaks through its end is past."
            .to_owned(),
    ));
    // A reason that is the same for all is said once.
    if let Some(why) = all_say(&stages) {
        made.push(Block::Verdict(crate::block::Verdict {
            standing: Standing::NotKnown,
            title: why.to_owned(),
            figure: String::new(),
            sentences: Vec::new(),
            barred: false,
            tight: false,
        }));
        return;
    }
    for from in (0..plan.legs.len()).step_by(LEGS) {
        let to = (from + LEGS).min(plan.legs.len());
        made.push(Block::Table(table(given, &stages, from..to)));
    }
}

fn all_say<'a>(stages: &'a [(&StepShown<'_>, Result<Vec<LegLoad>, String>)]) -> Option<&'a str> {
    let why = stages.first()?.1.as_ref().err()?;
    stages.iter().all(|(_, loads)| loads.as_ref().err() == Some(why)).then_some(why)
}

fn table(
    given: &Given<'_>,
    stages: &[(&StepShown<'_>, Result<Vec<LegLoad>, String>)],
    which: core::ops::Range<usize>,
) -> Table {
    let units = given.plan.units;
    let legs = &given.plan.legs[which.clone()];
    let mut table = Table::new(
        &format!("After each step, in {}, least to greatest", Shown::Load.caption(units)),
        [("step", "46mm"), ("worst, of its limit", "35mm")],
    );
    table.size = 10.0;
    table.tight = 0.7;
    for leg in legs.iter().rev() {
        let rated = leg
            .rated
            .map_or_else(String::new, |rated| format!(", of {}", load(rated, units, Rounding::Capacity)));
        table.head.insert(1, format!("{}{rated}", leg.short));
        table.widths.insert(1, "1fr");
    }
    for (shown, loads) in stages {
        let mut row = vec![Cell::plain(format!("{} {}", shown.number, shown.step.title))];
        match loads {
            Ok(loads) => {
                let mine = loads.get(which.clone()).unwrap_or_default();
                row.extend(mine.iter().map(|load| bar(load, units)));
                let worst = mine.iter().max_by_key(|load| (gravity(load.standing), load.percent));
                let said = worst.map_or(String::new(), |load| {
                    load.percent.map_or(load.short.clone(), |percent| format!("{} {percent} %", load.short))
                });
                row.push(Cell::Marked(
                    Mark::of(worst.map_or(Standing::NotKnown, |load| load.standing)),
                    said,
                ));
            }
            Err(why) => {
                row.extend(legs.iter().map(|_| Cell::plain("")));
                row.push(Cell::state(Standing::NotKnown, why.as_str()));
            }
        }
        table.rows.push(row);
    }
    table
}

fn bar(leg: &LegLoad, units: UnitSet) -> Cell {
    let Some((low, high)) = leg.load else { return Cell::plain("not known") };
    let (least, most) = (load(low, units, Rounding::Capacity), load(high, units, Rounding::Requirement));
    let text = if high <= Mass::ZERO {
        "lifts".to_owned()
    } else if least == most {
        most
    } else {
        format!("{least} to {most}")
    };
    match leg.rated.filter(|rated| *rated > Mass::ZERO) {
        Some(rated) => Cell::Bar { text, least: low / rated, most: high / rated, standing: leg.standing },
        None => Cell::plain(text),
    }
}

fn load(mass: Mass, units: UnitSet, rounding: Rounding) -> String {
    mass.amount().shown(Shown::Load).print_number(units, rounding)
}
