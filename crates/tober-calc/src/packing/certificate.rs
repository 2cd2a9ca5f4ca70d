//! Why nothing serves, shown as shortly as it can be.

use super::answer::Certificate;
use super::model::Problem;
use super::plane::{self, Bound};
use super::prices::{Closing, worth};
use super::search::{Engine, fixed_bounds};
use super::table;
use tober_quantity::TenthMm;

/// The shortest certificate for a problem that was proved infeasible.
pub(super) fn shortest(problem: &Problem, engine: Option<&Engine<'_>>) -> Certificate {
    let Some(engine) = engine else { return of_bounds(problem) };
    for (support, &place) in engine.tables.of_support.iter().enumerate() {
        if engine.tables.tables[place].options.is_empty() {
            return Certificate::NoStack { support };
        }
    }
    let seats = |support: usize| {
        let place = engine.tables.of_support[support];
        let last = engine.tables.tables[place].lifts.len() as u32 - 1;
        let most = table::lift_most(problem, &problem.supports[support]);
        (engine.lift_span(support, 0, most).0, engine.lift_span(support, last, most).1)
    };
    let spans: Vec<(i64, i64)> = (0..problem.supports.len()).map(seats).collect();
    plane_conflict(problem, &spans)
        .or_else(|| stock_conflict(engine))
        .unwrap_or(Certificate::Searched { nodes: engine.work })
}

/// Where not even the outermost lifts leave a plane, before any stack was listed.
fn of_bounds(problem: &Problem) -> Certificate {
    let span = |support: &super::model::Support| {
        (table::lift_least(problem, support), table::lift_most(problem, support))
    };
    let spans: Vec<(i64, i64)> = problem.supports.iter().map(span).collect();
    if let Some(support) = spans.iter().position(|(least, most)| least > most) {
        return Certificate::NoStack { support };
    }
    plane_conflict(problem, &spans).unwrap_or(Certificate::Searched { nodes: 0 })
}

/// The supports that cannot share a plane, less every one that is not needed for that.
///
/// In three unknowns an empty set of bounds has four that are already empty (Helly).
fn plane_conflict(problem: &Problem, spans: &[(i64, i64)]) -> Option<Certificate> {
    let bound = |support: usize| {
        let at = &problem.supports[support];
        let base = (at.ground + at.leg.shortest()).0;
        let slack = problem.planarity_tol.0;
        let (least, most) = spans[support];
        Bound { x_mm: at.x_mm, y_mm: at.y_mm, low: base + least - slack, high: base + most + slack }
    };
    let empty = |supports: &[usize]| {
        let bounds: Vec<Bound> =
            supports.iter().map(|&support| bound(support)).chain(fixed_bounds(problem)).collect();
        !plane::exists(&bounds, problem.level_tol_x.0, problem.level_tol_y.0)
    };
    let mut supports: Vec<usize> = (0..problem.supports.len()).collect();
    if !empty(&supports) {
        return None;
    }
    for support in 0..problem.supports.len() {
        let without: Vec<usize> = supports.iter().copied().filter(|&other| other != support).collect();
        if empty(&without) {
            supports = without;
        }
    }
    let slack = problem.planarity_tol;
    let seats = supports.iter().map(|&support| {
        let bound = bound(support);
        (TenthMm(bound.low) + slack, TenthMm(bound.high) - slack)
    });
    Some(Certificate::Plane { seats: seats.collect(), supports })
}

/// Prices that rule out every choice within the lifts that the planes leave.
fn stock_conflict(engine: &Engine<'_>) -> Option<Certificate> {
    let most =
        engine.problem.supports.iter().map(|support| table::lift_most(engine.problem, support)).max()?;
    let ranges = engine.root_ranges(most)?;
    let stock = engine.stock();
    let Closing::Closed { prices } = engine.pool.clone().closes(&ranges, &stock, &engine.tables, engine.rows)
    else {
        return None;
    };
    let least = |(&range, &place): (&(u32, u32), &usize)| {
        let table = &engine.tables.tables[place];
        let costs = table.options[table.range(range)]
            .iter()
            .map(|option| super::prices::cost(&prices, option, engine.rows));
        costs.min().unwrap_or(0)
    };
    let need: i64 = ranges.iter().zip(&engine.tables.of_support).map(least).sum();
    let lifts = ranges.iter().enumerate().map(|(support, range)| {
        let low = engine.lift_span(support, range.0, most).0;
        (TenthMm(low), TenthMm(engine.lift_span(support, range.1 - 1, most).1))
    });
    Some(Certificate::Stock {
        prices: prices[..engine.kinds].iter().map(|&price| price.unsigned_abs()).collect(),
        need: need.unsigned_abs(),
        have: worth(&prices, &stock, engine.rows).unsigned_abs(),
        lifts: lifts.collect(),
    })
}
