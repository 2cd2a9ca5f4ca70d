//! The stages: least greatest lift, fewest boards, fewest different stacks, lowest holes.

use super::answer::{Answer, Budget, Choice, Placed, Setting, Stage};
use super::certificate;
use super::model::{Leg, Problem};
use super::pack;
use super::plane;
use super::polytope::{Keep, Polytope};
use super::prices::NO_LIMIT;
use super::refuse::ProblemError;
use super::search::{Engine, FAR, Limits, Verdict, fixed_bounds, gauges};
use super::stack;
use super::table;
use tober_quantity::TenthMm;

/// Which hole and which boards under each leg: least greatest lift, then fewest boards, then fewest
/// different stacks, then lowest holes, then the first met in a fixed order of search.
///
/// Range: see [`Problem`]. Source: the model is stated there in full; branch and bound with linear
/// relaxations, decided in whole numbers.
///
/// # Errors
/// A [`ProblemError`] for anything outside the range.
///
/// # Not covered
/// Boards laid side by side in one layer, sinking of the ground, bending of the frame.
pub fn solve(problem: &Problem, budget: &Budget) -> Result<Answer, ProblemError> {
    problem.check()?;
    Ok(match least_lift(problem, &[], budget.nodes) {
        Lift::Infeasible(engine) => Answer::Infeasible(certificate::shortest(problem, engine.as_deref())),
        Lift::NotReached { floor } => Answer::NotReached { lift_no_less_than: TenthMm(floor) },
        Lift::Found { mut engine, chosen, lift, floor } => {
            let found = Found { chosen, lift, floor };
            fewest_boards(&mut engine, found, budget)
        }
    })
}

/// How the first stage ended.
pub(super) enum Lift<'a> {
    /// Nothing serves; the engine over all options, unless the planes alone already ruled all out.
    Infeasible(Option<Box<Engine<'a>>>),
    /// Neither found nor ruled out; no lift below `floor` serves.
    NotReached { floor: i64 },
    /// Found at `lift`; no lift below `floor` serves, and the two agree when it is proved.
    Found { engine: Box<Engine<'a>>, chosen: Vec<u32>, lift: i64, floor: i64 },
}

struct Found {
    chosen: Vec<u32>,
    lift: i64,
    floor: i64,
}

/// Whether the planes alone leave room for lifts from the least of each support up to `lift`.
fn planes_leave_room(problem: &Problem, dig: &[i64], lift: i64) -> bool {
    let gauges = gauges(problem);
    let mut polytope = Polytope::default();
    let slack = problem.planarity_tol.0;
    let span = |place: usize| {
        let support = &problem.supports[place];
        let base = (support.ground + support.leg.shortest()).0;
        let low = table::lift_least(problem, support) - dig.get(place).copied().unwrap_or(0);
        let high = lift.min(table::lift_most(problem, support));
        (high >= table::lift_least(problem, support))
            .then_some(((base + low - slack) as f64, (base + high + slack) as f64))
    };
    let Some(first) = span(0) else { return false };
    polytope.start(first, problem.level_tol_x.0 as f64, problem.level_tol_y.0 as f64);
    let supports = problem.supports.len();
    let room = (1..supports).all(|place| {
        span(place).is_some_and(|(low, high)| {
            polytope.clip(place, gauges[place], low, Keep::Above)
                && polytope.clip(place, gauges[place], high, Keep::Below)
        })
    });
    room && fixed_bounds(problem).enumerate().all(|(point, bound)| {
        let place = supports + point;
        (bound.low == -FAR || polytope.clip(place, gauges[place], bound.low as f64, Keep::Above))
            && (bound.high == FAR || polytope.clip(place, gauges[place], bound.high as f64, Keep::Below))
    })
}

/// The least lift that the planes alone leave room for, or `None` where they leave none at all.
fn floor_of_planes(problem: &Problem, dig: &[i64]) -> Option<i64> {
    let most = problem.supports.iter().map(|support| table::lift_most(problem, support)).max()?;
    let least = problem.supports.iter().map(|support| table::lift_least(problem, support)).max()?;
    if least > most || !planes_leave_room(problem, dig, most) {
        return None;
    }
    // Invariant: no room below `low`, room at `high`.
    let (mut low, mut high) = (least, most);
    while low < high {
        let middle = low + (high - low) / 2;
        if planes_leave_room(problem, dig, middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    Some(low)
}

/// The first stage. `dig` lets the ground at each support down by any amount up to its entry.
pub(super) fn least_lift<'a>(problem: &'a Problem, dig: &[i64], nodes: u64) -> Lift<'a> {
    match any_lift(problem, dig, nodes) {
        Lift::Found { mut engine, chosen, mut floor, .. } => {
            let (chosen, lift) = descend(&mut engine, chosen, &mut floor, nodes);
            Lift::Found { engine, chosen, lift, floor }
        }
        other => other,
    }
}

/// Whether anything serves at all: the first stage up to the first choice met.
pub(super) fn any_lift<'a>(problem: &'a Problem, dig: &[i64], nodes: u64) -> Lift<'a> {
    let Some(mut floor) = floor_of_planes(problem, dig) else { return Lift::Infeasible(None) };
    let most = problem.supports.iter().map(|support| table::lift_most(problem, support)).max().unwrap_or(0);
    let mut reach = floor + first_reach(problem);
    let mut engine: Option<Box<Engine<'a>>> = None;
    loop {
        let Some(tables) = table::build(problem, reach.min(most)) else { return Lift::NotReached { floor } };
        let complete = tables.complete;
        let mut ready = match engine.take() {
            Some(mut engine) => {
                engine.extend(tables);
                engine
            }
            None => Box::new(Engine::new(problem, tables, dig)),
        };
        match climb(&mut ready, &mut floor, reach.min(most), nodes) {
            Verdict::Choice(chosen) => {
                let lift = real_lift(&ready, &chosen);
                return Lift::Found { engine: ready, chosen, lift, floor };
            }
            Verdict::OutOfWork => return Lift::NotReached { floor },
            Verdict::None if complete => return Lift::Infeasible(Some(ready)),
            Verdict::None => reach += 2 * (reach - floor).max(first_reach(problem)),
        }
        engine = Some(ready);
    }
}

/// How far above the floor the first tables reach.
fn first_reach(problem: &Problem) -> i64 {
    let pitch = |leg: Leg| if let Leg::Holes { pin_pitch, .. } = leg { pin_pitch.0 } else { 0 };
    let pitch = problem.supports.iter().map(|support| pitch(support.leg)).max().unwrap_or(0);
    let thickest = problem.boards.iter().map(|board| board.thickness.0).max().unwrap_or(0);
    pitch.max(thickest).max(100)
}

/// The least lift from `low` up that some option has, or `None` above every option.
fn next_lift(engine: &Engine<'_>, low: i64) -> Option<i64> {
    if engine.has_strokes() {
        return Some(low);
    }
    let next =
        |table: &table::Table| table.lifts.get(table.lifts.partition_point(|&lift| lift < low)).copied();
    engine.tables.tables.iter().filter_map(next).min()
}

fn at_lift(engine: &Engine<'_>, lift: i64, nodes: u64) -> Limits {
    Limits { lift, stock: engine.stock(), stacks: None, work: nodes.saturating_sub(engine.work) }
}

/// Asks at lifts further and further above the floor, up to `reach`, raising the floor on the way.
fn climb(engine: &mut Engine<'_>, floor: &mut i64, reach: i64, nodes: u64) -> Verdict {
    let start = *floor;
    let mut step = 0;
    loop {
        let Some(lift) = next_lift(engine, (start + step).max(*floor)).filter(|&lift| lift < reach) else {
            let verdict = engine.ask(&at_lift(engine, reach, nodes));
            if verdict == Verdict::None {
                *floor = reach + 1;
            }
            return verdict;
        };
        match engine.ask(&at_lift(engine, lift, nodes)) {
            Verdict::None => *floor = lift + 1,
            other => return other,
        }
        step = (2 * step).max(lift - start + FIRST_STEP);
    }
}

/// The first step of the climb, in tenths of a millimetre.
const FIRST_STEP: i64 = 20;

/// Halves between the floor and the lift of a choice until they meet, or the work runs out.
fn descend(engine: &mut Engine<'_>, mut chosen: Vec<u32>, floor: &mut i64, nodes: u64) -> (Vec<u32>, i64) {
    let mut lift = real_lift(engine, &chosen);
    while let Some(next) = next_lift(engine, *floor).filter(|&next| next < lift) {
        *floor = next;
        // The greatest lift that an option has at or below the middle: at least `next`.
        let middle = *floor + (lift - 1 - *floor) / 2;
        match engine.ask(&at_lift(engine, middle, nodes)) {
            Verdict::Choice(better) => {
                lift = real_lift(engine, &better);
                chosen = better;
            }
            Verdict::None => *floor = middle + 1,
            Verdict::OutOfWork => return (chosen, lift),
        }
    }
    *floor = lift;
    (chosen, lift)
}

/// The least greatest lift to which a choice of options can be set.
fn real_lift(engine: &Engine<'_>, chosen: &[u32]) -> i64 {
    let low = engine.greatest_lift(chosen);
    if !engine.has_strokes() {
        return low;
    }
    let mut low = low;
    let mut high =
        engine.problem.supports.iter().map(|s| table::lift_most(engine.problem, s)).max().unwrap_or(low);
    while low < high {
        let middle = low + (high - low) / 2;
        if engine.plane_exists(chosen, middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    low
}

fn fewest_boards(engine: &mut Engine<'_>, found: Found, budget: &Budget) -> Answer {
    let Found { mut chosen, lift, floor } = found;
    let row = engine.kinds;
    let mut stock = engine.stock();
    let fewest = fewest_in_ranges(engine, lift);
    let mut proved = lift == floor;
    let mut boards = count(engine, &chosen, row);
    while proved && boards > fewest {
        stock[row] = boards - 1;
        let work = budget.nodes.saturating_sub(engine.work);
        match engine.ask(&Limits { lift, stock, stacks: None, work }) {
            Verdict::Choice(better) => {
                chosen = better;
                boards = count(engine, &chosen, row);
            }
            Verdict::None => break,
            Verdict::OutOfWork => proved = false,
        }
    }
    stock[row] = boards;
    let tidied = tidy(engine, chosen, lift, stock, budget.tidying);
    let choice = choice(engine, &tidied, lift);
    if proved {
        return Answer::Optimal(choice);
    }
    Answer::BestFound {
        choice,
        lift_no_less_than: TenthMm(floor),
        boards_no_less_than: u32::try_from(fewest).unwrap_or(0),
    }
}

fn count(engine: &Engine<'_>, chosen: &[u32], row: usize) -> i64 {
    let mut prices = [0; table::ROWS_MOST];
    prices[row] = 1;
    pack::total(&engine.tables, chosen, &prices, engine.rows)
}

/// The boards that the supports need at least, each on its own.
fn fewest_in_ranges(engine: &Engine<'_>, lift: i64) -> i64 {
    let Some(ranges) = engine.root_ranges(lift) else { return 0 };
    let least = |(&range, &place): (&(u32, u32), &usize)| {
        let table = &engine.tables.tables[place];
        table.options[table.range(range)]
            .iter()
            .map(|option| i64::from(option.rows[engine.kinds]))
            .min()
            .unwrap_or(0)
    };
    ranges.iter().zip(&engine.tables.of_support).map(least).sum()
}

struct Tidied {
    chosen: Vec<u32>,
    stacks: Stage,
    holes: Stage,
}

/// Stages 3 and 4, each within what is left of the tidying budget.
fn tidy(
    engine: &mut Engine<'_>,
    mut chosen: Vec<u32>,
    lift: i64,
    mut stock: table::Rows<i64>,
    nodes: u64,
) -> Tidied {
    let end = engine.work.saturating_add(nodes);
    let mut stage = [Stage::BestMet; 2];
    let mut different = pack::different_stacks(&engine.tables, &chosen, engine.kinds);
    loop {
        if different <= 1 {
            stage[0] = Stage::Proved;
            break;
        }
        // Half of the budget, so that the holes get their share.
        let work = end.saturating_sub(engine.work).saturating_sub(nodes / 2);
        match engine.ask(&Limits { lift, stock, stacks: Some(different - 1), work }) {
            Verdict::Choice(better) => {
                chosen = better;
                different = pack::different_stacks(&engine.tables, &chosen, engine.kinds);
            }
            Verdict::None => {
                stage[0] = Stage::Proved;
                break;
            }
            Verdict::OutOfWork => break,
        }
    }
    let row = engine.kinds + 1;
    loop {
        let holes = count(engine, &chosen, row);
        if holes == 0 {
            stage[1] = stage[0];
            break;
        }
        stock[row] = holes - 1;
        let work = end.saturating_sub(engine.work);
        match engine.ask(&Limits { lift, stock, stacks: Some(different), work }) {
            Verdict::Choice(better) => chosen = better,
            Verdict::None => {
                stage[1] = stage[0];
                break;
            }
            Verdict::OutOfWork => break,
        }
    }
    debug_assert!(stock[row] <= NO_LIMIT, "the row of holes is a limit or none");
    Tidied { chosen, stacks: stage[0], holes: stage[1] }
}

/// Sets out a choice of options with its plane, screws and wedges set to that plane.
fn choice(engine: &Engine<'_>, tidied: &Tidied, lift: i64) -> Choice {
    let problem = engine.problem;
    let seats = engine.seats(&tidied.chosen, lift);
    let slack = problem.planarity_tol.0;
    let slopes = (problem.level_tol_x.0, problem.level_tol_y.0);
    let fixed: Vec<plane::Bound> = fixed_bounds(problem).collect();
    let wish = plane::most_central(&seats, &fixed, slack, slopes).unwrap_or_default();
    let widened =
        |seat: &plane::Bound| plane::Bound { low: seat.low - slack, high: seat.high + slack, ..*seat };
    let bounds: Vec<plane::Bound> = seats.iter().map(widened).chain(fixed).collect();
    let plane = plane::settle(&bounds, slopes.0, slopes.1, wish);
    // Every choice that reaches this line passed the exact test, so a plane is there.
    let plane = plane.unwrap_or(plane::Plane::Grid {
        height_0001mm: 0,
        slope_x_001mm_per_m: 0,
        slope_y_001mm_per_m: 0,
    });
    let supports: Vec<Placed> = (0..seats.len())
        .map(|support| placed(engine, support, tidied.chosen[support], &seats[support], &plane))
        .collect();
    Choice {
        plane,
        max_lift: supports.iter().map(|placed| placed.lift).max().unwrap_or(TenthMm(lift)),
        boards: supports.iter().map(|placed| placed.boards_by_kind.iter().sum::<u32>()).sum(),
        different_stacks: pack::different_stacks(&engine.tables, &tidied.chosen, engine.kinds) as u32,
        stacks_stage: tidied.stacks,
        holes: u32::try_from(count(engine, &tidied.chosen, engine.kinds + 1)).unwrap_or(u32::MAX),
        holes_stage: tidied.holes,
        supports,
    }
}

/// One leg of a choice. A screw or wedges are set so that the seat lies as near the plane as they go.
fn placed(
    engine: &Engine<'_>,
    place: usize,
    index: u32,
    seat: &plane::Bound,
    plane: &plane::Plane,
) -> Placed {
    let problem = engine.problem;
    let support = &problem.supports[place];
    let table = &engine.tables.tables[engine.tables.of_support[place]];
    let option = &table.options[index as usize];
    let boards_by_kind: Vec<u32> =
        option.rows[..engine.kinds].iter().map(|&count| u32::from(count)).collect();
    let boards: i64 =
        boards_by_kind.iter().zip(&problem.boards).map(|(&n, board)| i64::from(n) * board.thickness.0).sum();
    let (height, over) = plane.height_at(support.x_mm, support.y_mm);
    let nearest = i64::try_from((2 * height + over).div_euclid(2 * over)).unwrap_or(seat.low);
    let seat = nearest.clamp(seat.low, seat.high);
    let lift = seat - (support.ground + support.leg.shortest()).0;
    let least = support.wedges.map_or(0, |wedges| wedges.least.0);
    let hole = u32::from(option.rows[engine.kinds + 1]);
    let (setting, wedges) = match support.leg {
        Leg::Holes { pin_pitch, .. } => {
            let driven = lift - boards - pin_pitch.0 * i64::from(hole);
            (Setting::Hole(hole), support.wedges.map(|_| TenthMm(driven)))
        }
        Leg::Screw { shortest, longest } => {
            let turned = (lift - boards - least).min((longest - shortest).0).max(0);
            (Setting::Screw(TenthMm(turned)), support.wedges.map(|_| TenthMm(lift - boards - turned)))
        }
    };
    Placed {
        laid: stack::laid_order(problem, support, &boards_by_kind),
        setting,
        boards_by_kind,
        wedges,
        packing: TenthMm(boards + wedges.map_or(0, |wedges| wedges.0)),
        lift: TenthMm(lift),
        seat: TenthMm(seat),
    }
}
