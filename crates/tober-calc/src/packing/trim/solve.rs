//! The stages: fewest legs, fewest boards handled, least far.

use super::super::answer::{Budget, Choice, Placed, Setting, Stage};
use super::super::model::{Leg, Problem};
use super::super::plane::{self, Bound, Plane};
use super::super::search::fixed_bounds;
use super::answer::{Changed, Outcome, Trim};
use super::options::{Choices, choices, stands_high};
use super::screws::{Screws, Turned};
use super::search::{Does, Engine, Limits, Verdict};
use super::short::short;
use super::tops::{gap, measured, missing, tops};
use super::{Frame, Question, TrimError};
use core::cell::Cell;
use tober_quantity::TenthMm;

/// Divisions of the ends of the screws of one set of legs. Random frames took no more than a few.
const TURNS_MOST: u64 = 20_000;
/// Hundredths in a tenth.
const HUNDREDTHS: i64 = 10;

/// The tolerances once what a reading may be off by is taken off them: planarity, slope along, slope across.
///
/// A height that is off by so much moves a top by as much; a slope that is off tilts all tops together.
#[derive(Clone, Copy, Debug)]
pub(super) struct Allowed {
    pub planarity: i64,
    pub along: i64,
    pub across: i64,
}

pub(super) fn allowed(question: &Question, trust: bool) -> Allowed {
    let problem = &question.problem;
    let (along, across) = (problem.level_tol_x.0, problem.level_tol_y.0);
    let planarity = problem.planarity_tol.0;
    match &question.reading.frame {
        Frame::Level { off_by: Some(off), .. } if !trust => {
            let left = |most: i64| (most * HUNDREDTHS - off.0).div_euclid(HUNDREDTHS);
            Allowed { planarity, along: left(along), across: left(across) }
        }
        Frame::Heights { off_by: Some(off), .. } if !trust => {
            Allowed { planarity: planarity - off.0, along, across }
        }
        _ => Allowed { planarity, along, across },
    }
}

/// Whether the slopes that were read are inside, exactly; true where heights were read.
fn read_level(question: &Question) -> bool {
    let Frame::Level { along, across, off_by } = &question.reading.frame else { return true };
    let off = off_by.map_or(0, |off| off.0);
    let inside = |read: i64, most: i64| read.abs() + off <= most * HUNDREDTHS;
    inside(along.0, question.problem.level_tol_x.0) && inside(across.0, question.problem.level_tol_y.0)
}

/// The least change that brings a lowered frame in; see the module for what is least.
///
/// With heights, a change serves when a plane inside the level tolerances is within planarity of every top,
/// as for the packing. With a level, the plane of least squares through the tops must be inside them too:
/// what a level shows is a fact, and no slack of the feet may be spent on it. What stands is inside when the slopes
/// that were read are, and every gap is within planarity.
///
/// What a reading may be off by is taken off the tolerance it is held against. Range: see [`Problem`].
/// Source: the model is stated there and here in full; branch and bound, decided in whole numbers.
///
/// # Errors
/// A [`TrimError`] for anything outside the range.
///
/// # Not covered
/// Bending of the frame by the change, sinking that goes on, wedges, and sinking that all feet share.
pub fn solve(question: &Question, budget: &Budget) -> Result<Trim, TrimError> {
    question.check()?;
    let tops = tops(question);
    let problem = measured(question, &tops);
    problem.check().map_err(TrimError::Problem)?;
    let mut trim = Trim {
        tops: tops.iter().map(|top| top.map(TenthMm)).collect(),
        problem,
        outcome: Outcome::NotReached,
        too_low: false,
        nodes: 0,
    };
    let missing = missing(question);
    let known: Option<Vec<i64>> = tops.into_iter().collect();
    let (true, Some(known)) = (missing.is_empty(), known) else {
        trim.outcome = Outcome::NotRead { missing };
        return Ok(trim);
    };
    let problem = trim.problem.clone();
    let listed: Option<Vec<Choices>> = problem
        .supports
        .iter()
        .zip(&question.stands)
        .map(|(s, stands)| choices(&problem, s, stands))
        .collect();
    let Some(listed) = listed else { return Ok(trim) };
    let strict = allowed(question, false);
    trim.too_low = too_low(question, &problem, &known, &listed);
    trim.outcome = if strict.planarity < 0 || strict.along < 0 || strict.across < 0 {
        Outcome::TooCoarse
    } else {
        let (outcome, nodes) = least(question, &problem, &known, listed.clone(), strict, budget);
        trim.nodes = nodes;
        outcome
    };
    let trusted = allowed(question, true);
    let differs =
        (strict.planarity, strict.along, strict.across) != (trusted.planarity, trusted.along, trusted.across);
    if differs && matches!(trim.outcome, Outcome::Nothing { .. } | Outcome::TooCoarse) {
        // Were the reading exact, would there be a change? Then it is the reading that is too coarse.
        let (outcome, nodes) = least(question, &problem, &known, listed, trusted, budget);
        trim.nodes += nodes;
        trim.outcome = match outcome {
            Outcome::Nothing { short } => Outcome::Nothing { short },
            _ => Outcome::TooCoarse,
        };
    }
    Ok(trim)
}

/// One height for each top, as near as it goes to the plane that is farthest from every limit, and a plane that
/// proves them.
fn settled(problem: &Problem, ends: &[(i64, i64)], allowed: Allowed) -> Option<(Vec<i64>, Plane)> {
    let seat = |(support, &(low, high)): (&super::super::model::Support, &(i64, i64))| Bound {
        x_mm: support.x_mm,
        y_mm: support.y_mm,
        low,
        high,
    };
    let seats: Vec<Bound> = problem.supports.iter().zip(ends).map(seat).collect();
    let fixed: Vec<Bound> = fixed_bounds(problem).collect();
    let limits = (allowed.along, allowed.across);
    let wish = plane::most_central(&seats, &fixed, allowed.planarity, limits).unwrap_or_default();
    let slack = allowed.planarity;
    let widened = |seat: &Bound| Bound { low: seat.low - slack, high: seat.high + slack, ..*seat };
    let bounds: Vec<Bound> = seats.iter().map(widened).chain(fixed).collect();
    let plane = plane::settle(&bounds, limits.0, limits.1, wish)?;
    let nearest = |seat: &Bound| {
        let (height, over) = plane.height_at(seat.x_mm, seat.y_mm);
        let nearest = i64::try_from((2 * height + over).div_euclid(2 * over)).unwrap_or(seat.low);
        nearest.clamp(seat.low, seat.high)
    };
    Some((seats.iter().map(nearest).collect(), plane))
}

fn least(
    question: &Question,
    problem: &Problem,
    tops: &[i64],
    listed: Vec<Choices>,
    allowed: Allowed,
    budget: &Budget,
) -> (Outcome, u64) {
    let by_level = matches!(question.reading.frame, Frame::Level { .. });
    let legs = tops.len();
    let slopes = (allowed.along, allowed.across);
    let fixed: Vec<Bound> = fixed_bounds(problem).collect();
    let screws = Screws::new(problem, &fixed, allowed.planarity, slopes, by_level);
    // Sets of legs of which the work did not tell whether their screws can be set, and the work it took.
    let (open, turns) = (Cell::new(false), Cell::new(0));
    let also = |ends: &[(i64, i64)]| {
        if !by_level {
            return true;
        }
        let left = budget.nodes.saturating_sub(turns.get()).min(TURNS_MOST);
        let (turned, work) = screws.turned(ends, left);
        turns.set(turns.get() + work);
        open.set(open.get() || turned == Turned::Open);
        matches!(turned, Turned::To(_))
    };
    let mut engine = Engine::new(problem, tops.to_vec(), listed, allowed.planarity, slopes, &also);
    engine.work_most = budget.nodes;
    if stays(question, &engine, allowed) {
        let choice = choice(question, problem, &engine, &vec![Does::Stays; legs], allowed, None);
        if let Some(choice) = choice {
            return (Outcome::Inside { choice }, engine.work);
        }
    }
    let mut limits = Limits { legs: 1, handled: u32::MAX, far: i64::MAX };
    let mut proof = Stage::Proved;
    let mut does = loop {
        match engine.ask(&limits) {
            Verdict::Found(does) => break does,
            Verdict::None if limits.legs < legs => limits.legs += 1,
            Verdict::None if open.get() => return (Outcome::NotReached, engine.work + turns.get()),
            Verdict::None => {
                let nodes = engine.work + turns.get();
                return (Outcome::Nothing { short: short(&mut engine, budget.nodes / 8) }, nodes);
            }
            Verdict::OutOfWork if limits.legs < legs && proof == Stage::Proved => {
                // Not proved least any more; is there any change at all?
                proof = Stage::BestMet;
                limits.legs = legs;
                engine.work_most = engine.work + budget.nodes / 2;
            }
            Verdict::OutOfWork => return (Outcome::NotReached, engine.work),
        }
    };
    if proof == Stage::Proved {
        proof = fewest_handled(&mut engine, &mut limits, &mut does);
    }
    if proof == Stage::Proved {
        proof = least_far(&mut engine, &mut limits, &mut does);
    }
    if open.get() {
        proof = Stage::BestMet;
    }
    let nodes = engine.work + turns.get();
    let Some(choice) = choice(question, problem, &engine, &does, allowed, by_level.then_some(&screws)) else {
        return (Outcome::NotReached, nodes);
    };
    let changed = changed(question, tops, &choice, &engine, &does);
    (Outcome::Change { choice, changed, proof }, nodes)
}

/// Whether what stands may stay as it is.
fn stays(question: &Question, engine: &Engine<'_>, allowed: Allowed) -> bool {
    let ends: Vec<(i64, i64)> = engine.tops.iter().map(|&top| (top, top)).collect();
    stays_but_for_planes(question, &engine.choices, allowed) && engine.planes_hold(&ends)
}

fn stays_but_for_planes(question: &Question, choices: &[Choices], allowed: Allowed) -> bool {
    let by_level = matches!(question.reading.frame, Frame::Level { .. });
    let gaps_inside =
        || (0..choices.len()).all(|place| gap(question, place).is_some_and(|gap| gap <= allowed.planarity));
    choices.iter().all(|choices| choices.may_stay) && (!by_level || read_level(question) && gaps_inside())
}

/// Whether what stands is in but for what must be clear of the ground.
fn too_low(question: &Question, problem: &Problem, tops: &[i64], listed: &[Choices]) -> bool {
    let allowed = allowed(question, false);
    if allowed.planarity < 0 || allowed.along < 0 || allowed.across < 0 {
        return false;
    }
    let ends: Vec<(i64, i64)> = tops.iter().map(|&top| (top, top)).collect();
    let slopes = (allowed.along, allowed.across);
    let engine = Engine::new(problem, tops.to_vec(), Vec::new(), allowed.planarity, slopes, &|_| true);
    stays_but_for_planes(question, listed, allowed)
        && engine.planes_hold_low(&ends)
        && !engine.planes_hold(&ends)
}

fn handled(engine: &Engine<'_>, does: &[Does]) -> u32 {
    let one = |(place, does): (usize, &Does)| match *does {
        Does::Stays => 0,
        Does::Changes { group, .. } => engine.choices[place].groups[group].handled,
    };
    does.iter().enumerate().map(one).sum()
}

fn far(engine: &Engine<'_>, does: &[Does]) -> i64 {
    let one = |(place, does): (usize, &Does)| match *does {
        Does::Stays => 0,
        Does::Changes { group, .. } => engine.choices[place].groups[group].far,
    };
    does.iter().enumerate().map(one).max().unwrap_or(0)
}

/// The second stage: counts up, since few boards leave few ways and are soon ruled out.
fn fewest_handled(engine: &mut Engine<'_>, limits: &mut Limits, does: &mut Vec<Does>) -> Stage {
    let met = handled(engine, does);
    for fewer in 0..met {
        limits.handled = fewer;
        match engine.ask(limits) {
            Verdict::Found(better) => {
                *does = better;
                return Stage::Proved;
            }
            Verdict::None => {}
            Verdict::OutOfWork => {
                limits.handled = met;
                return Stage::BestMet;
            }
        }
    }
    limits.handled = met;
    Stage::Proved
}

/// The third stage: halves between the ways up and down that there are.
fn least_far(engine: &mut Engine<'_>, limits: &mut Limits, does: &mut Vec<Does>) -> Stage {
    let met = far(engine, does);
    let groups = engine.choices.iter().flat_map(|choices| &choices.groups);
    let mut ways: Vec<i64> = groups.map(|group| group.far).filter(|&far| far < met).collect();
    ways.sort_unstable();
    ways.dedup();
    // Invariant: nothing serves below `ways[low]`; what was met is at `ways[high]` or beyond the last.
    let (mut low, mut high) = (0, ways.len());
    while low < high {
        let middle = low + (high - low) / 2;
        limits.far = ways[middle];
        match engine.ask(limits) {
            Verdict::Found(better) => {
                let reached = far(engine, &better);
                *does = better;
                high = ways.partition_point(|&way| way < reached).min(middle);
            }
            Verdict::None => low = middle + 1,
            Verdict::OutOfWork => return Stage::BestMet,
        }
    }
    Stage::Proved
}

/// Sets out what will stand, with a plane that proves it.
fn choice(
    question: &Question,
    problem: &Problem,
    engine: &Engine<'_>,
    does: &[Does],
    allowed: Allowed,
    level: Option<&Screws<'_>>,
) -> Option<Choice> {
    let ends: Vec<(i64, i64)> = does
        .iter()
        .enumerate()
        .map(|(place, does)| match *does {
            Does::Stays => (engine.tops[place], engine.tops[place]),
            Does::Changes { group, .. } => {
                let group = &engine.choices[place].groups[group];
                (engine.tops[place] + group.low, engine.tops[place] + group.high)
            }
        })
        .collect();
    let (mut seats, mut plane) = settled(problem, &ends, allowed)?;
    // The middle of all that is allowed need not be level; what was found to be is.
    if let Some(screws) = level.filter(|screws| !screws.serves(&seats)) {
        let (Turned::To(level), _) = screws.turned(&ends, TURNS_MOST) else { return None };
        let ends: Vec<(i64, i64)> = level.iter().map(|&top| (top, top)).collect();
        (seats, plane) = (level, settled(problem, &ends, allowed)?.1);
    }
    let placed = |place: usize| {
        let support = &problem.supports[place];
        let (extension, packing) = stands_high(problem, support, &question.stands[place]);
        let (laid, setting, packing) = match does[place] {
            Does::Stays => {
                let stands = &question.stands[place];
                (stands.laid.clone(), stands.setting, packing)
            }
            Does::Changes { group, way } => {
                let way = &engine.choices[place].groups[group].ways[way];
                let turned = seats[place] - engine.tops[place] + extension + packing - way.packing;
                let setting = match support.leg {
                    Leg::Holes { .. } => Setting::Hole(way.hole),
                    Leg::Screw { .. } => Setting::Screw(TenthMm(turned)),
                };
                (way.order.clone(), setting, way.packing)
            }
        };
        let mut boards_by_kind = vec![0; problem.boards.len()];
        for &kind in &laid {
            boards_by_kind[kind] += 1;
        }
        Placed {
            setting,
            boards_by_kind,
            laid,
            wedges: None,
            packing: TenthMm(packing),
            lift: TenthMm(seats[place]) - support.ground - support.leg.shortest(),
            seat: TenthMm(seats[place]),
        }
    };
    let supports: Vec<Placed> = (0..does.len()).map(placed).collect();
    let mut stacks: Vec<&[u32]> = supports.iter().map(|placed| placed.boards_by_kind.as_slice()).collect();
    stacks.sort_unstable();
    stacks.dedup();
    let hole = |placed: &Placed| if let Setting::Hole(hole) = placed.setting { hole } else { 0 };
    Some(Choice {
        plane,
        max_lift: supports.iter().map(|placed| placed.lift).max()?,
        boards: supports.iter().map(|placed| placed.laid.len() as u32).sum(),
        different_stacks: stacks.len() as u32,
        stacks_stage: Stage::BestMet,
        holes: supports.iter().map(hole).sum(),
        holes_stage: Stage::BestMet,
        supports,
    })
}

fn changed(
    question: &Question,
    tops: &[i64],
    choice: &Choice,
    engine: &Engine<'_>,
    does: &[Does],
) -> Vec<Changed> {
    let one = |(support, does): (usize, &Does)| match *does {
        Does::Stays => None,
        Does::Changes { group, .. } => {
            let placed = &choice.supports[support];
            let stands = &question.stands[support];
            let same = placed.laid == stands.laid && placed.setting == stands.setting;
            (!same).then(|| Changed {
                support,
                up: placed.seat - TenthMm(tops[support]),
                handled: engine.choices[support].groups[group].handled,
            })
        }
    };
    does.iter().enumerate().filter_map(one).collect()
}
