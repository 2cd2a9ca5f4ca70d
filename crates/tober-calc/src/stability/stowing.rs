//! What must be stowed, lowered or tied before which wind, so that the ride stands empty.

use super::actions::ActionKind;
use super::error::{StabilityError, counted};
use super::overturning::{Answer, EdgeCheck, overturning};
use super::ride::Body;
use super::situation::StabilityInput;
use super::sliding::{Sliding, Uplift, sliding, uplift};
use tober_quantity::{Pressure, Quantity};

/// The question: which bodies must be stowed in which wind?
#[derive(Clone, Debug, PartialEq)]
pub struct StowingInput {
    /// The ride as it stands open, out of service, in the greatest wind allowed.
    pub open: StabilityInput,
    /// The bodies that can be stowed: each by its place in the list of bodies, and as it is when it is stowed.
    pub stowable: Vec<(usize, Body)>,
    /// Those that the book has stowed, by their place among the ones that can be.
    pub told: Vec<usize>,
}

/// The greatest wind in which the ride stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Withstood {
    /// Its pressure at the top of the ride; nothing where it does not stand in still air.
    pub pressure: Pressure,
    /// What happens above it: "tips", "slides", "lifts"; empty where nothing does up to 20 kPa.
    pub first: &'static str,
    /// By which set of factors.
    pub set: String,
    /// What is not known of it. Where this is not empty, it may stand in less.
    pub missing: Vec<String>,
}

/// So many bodies stowed, and the wind in which it then stands: of all choices of so many, the best.
#[derive(Clone, Debug, PartialEq)]
pub struct Rung {
    /// Which, by their place among the ones that can be stowed.
    pub stowed: Vec<usize>,
    /// The wind.
    pub withstands: Withstood,
}

/// The answer to [`stowing`].
#[derive(Clone, Debug, PartialEq)]
pub struct Stowing {
    /// From nothing stowed up: each stands in more wind than the one before. Ends with the fewest that serve in the
    /// greatest wind allowed, if any do.
    pub rungs: Vec<Rung>,
    /// Whether the last rung serves in the greatest wind allowed.
    pub serves: bool,
    /// Whether every choice was tried that the answer needs; if not, fewer may serve.
    pub proved: bool,
    /// The wind in which it stands with what the book has stowed.
    pub as_told: Withstood,
}

/// The most choices of bodies that are tried.
const CHOICES_MOST: usize = 300;
/// Rounds of lowering the wind; each meets another edge, angle or interface, and few are needed.
const ROUNDS_MOST: usize = 60;
/// Wind pressures nearer to each other than this share are one.
const SETTLED: f64 = 1e-12;
const MOST_PA: f64 = 20_000.0;

/// The wind pressure at which factored tipping meets what holds; both are linear in it at one angle.
fn tips_at(edge: &EdgeCheck, pressure_pa: f64) -> f64 {
    let blown = |kind| matches!(kind, ActionKind::Wind | ActionKind::Lift);
    let wind: f64 = edge
        .actions
        .iter()
        .filter(|action| blown(action.kind))
        .map(|action| action.moment.si() * action.factor.si())
        .sum();
    let still = edge.tipping.si() - wind;
    let room = edge.holding.si() / edge.factor_least.si() - still;
    meets(room, wind / pressure_pa)
}

fn slides_at(one: &Sliding, pressure_pa: f64) -> f64 {
    let friction = one.friction.si() / one.set.friction_divisor.si();
    let factor = one.set.wind.si();
    let still = one.force.si() - one.wind.si() * factor;
    let room = friction * one.weight.si() * one.set.permanent_favourable.si() + one.guys.si() - still;
    meets(room, factor * (one.wind.si() + friction * one.lift.si()) / pressure_pa)
}

fn lifts_at(one: &Uplift, pressure_pa: f64) -> f64 {
    meets(one.holding.si(), one.lifting.si() / pressure_pa)
}

fn meets(room: f64, each_pa: f64) -> f64 {
    if room <= 0.0 {
        0.0
    } else if each_pa > 0.0 {
        room / each_pa
    } else {
        f64::INFINITY
    }
}

/// The greatest wind pressure in which it neither tips, slides nor lifts by any set chosen.
///
/// At one edge, angle and interface what tips and what holds are linear in the pressure, so each gives the pressure at
/// which they meet; the least of these is taken and asked again, until the worst edge stays: Newton's method on a
/// concave function from above, which ends. Pressures up to 20 kPa. Source: statics.
///
/// # Errors
/// As [`super::overturning`].
///
/// # Not covered
/// What [`super::overturning`] and [`super::sliding`] do not cover. A set whose wind factor is for another rarity of
/// wind is left out, as there.
pub fn withstood(input: &StabilityInput) -> Result<Answer<Withstood>, StabilityError> {
    let mut question = input.clone();
    let Some(wind) = &mut question.wind else {
        input.check()?;
        return Ok(Answer::NotKnown(input.missing()));
    };
    wind.pressure = Pressure::pa(MOST_PA);
    let mut found =
        Withstood { pressure: Pressure::pa(MOST_PA), first: "", set: String::new(), missing: Vec::new() };
    for _ in 0..ROUNDS_MOST {
        let pressure_pa = found.pressure.si();
        question.wind.iter_mut().for_each(|wind| wind.pressure = found.pressure);
        let mut least = (pressure_pa, found.first, found.set.clone());
        let mut consider = |at: f64, first: &'static str, set: &str| {
            if at < least.0 {
                least = (at, first, set.to_owned());
            }
        };
        found.missing.clear();
        let tips = overturning(&question)?;
        if tips.iter().all(|answer| answer.known().is_none()) {
            return Ok(Answer::NotKnown(unknown(&tips)));
        }
        for one in tips.iter().filter_map(Answer::known) {
            one.edges.iter().for_each(|edge| consider(tips_at(edge, pressure_pa), "tips", &one.set.name));
        }
        let slides = sliding(&question)?;
        for one in slides.iter().filter_map(Answer::known) {
            consider(slides_at(one, pressure_pa), "slides", &one.set.name);
        }
        if slides.iter().all(|answer| answer.known().is_none()) {
            found.missing = unknown(&slides);
        }
        for one in uplift(&question)?.iter().filter_map(Answer::known) {
            consider(lifts_at(one, pressure_pa), "lifts", &one.set.name);
        }
        let (at, first, set) = least;
        let settled = at >= pressure_pa * (1.0 - SETTLED);
        if !settled {
            (found.pressure, found.first, found.set) = (Pressure::pa(at), first, set);
        }
        if settled || at <= 0.0 {
            break;
        }
    }
    Ok(Answer::Known(found))
}

fn unknown<T>(answers: &[Answer<T>]) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for answer in answers {
        if let Answer::NotKnown(missing) = answer {
            all.extend(
                missing.iter().filter(|sentence| !all.contains(sentence)).cloned().collect::<Vec<_>>(),
            );
        }
    }
    all
}

/// Which bodies must be stowed in which wind, the fewest first.
///
/// For none, one, two ... bodies the choice that stands in the most wind, until one serves in the greatest wind
/// allowed. Up to 300 choices are tried; beyond them all are stowed at once, and the answer says that fewer may serve.
///
/// # Errors
/// As [`withstood`], and refuses a body that is not in the list.
pub fn stowing(input: &StowingInput) -> Result<Answer<Stowing>, StabilityError> {
    let can = input.stowable.len();
    for (place, body) in &input.stowable {
        counted(
            "bodies before the one that is stowed",
            *place,
            0,
            input.open.bodies.len().saturating_sub(1),
        )?;
        body.check()?;
    }
    for place in &input.told {
        counted("bodies before the one that the book has stowed", *place, 0, can.saturating_sub(1))?;
    }
    let with = |stowed: &[usize]| {
        let mut question = input.open.clone();
        for (place, body) in stowed.iter().map(|&at| &input.stowable[at]) {
            question.bodies[*place] = body.clone();
        }
        withstood(&question)
    };
    let as_told = match with(&input.told)? {
        Answer::Known(known) => known,
        Answer::NotKnown(missing) => return Ok(Answer::NotKnown(missing)),
    };
    let allowed = input.open.wind.map_or(Pressure::ZERO, |wind| wind.pressure);
    let mut rungs: Vec<Rung> = Vec::new();
    let (mut serves, mut proved, mut tried) = (false, true, 0);
    for size in 0..=can {
        let mut best: Option<Rung> = None;
        let mut choice: Vec<usize> = (0..size).collect();
        loop {
            if tried >= CHOICES_MOST {
                proved = false;
                choice = (0..can).collect();
            }
            tried += 1;
            if let Answer::Known(withstands) = with(&choice)?
                && best.as_ref().is_none_or(|best| withstands.pressure > best.withstands.pressure)
            {
                best = Some(Rung { stowed: choice.clone(), withstands });
            }
            if !proved || !next_choice(&mut choice, can) {
                break;
            }
        }
        let more =
            |rung: &Rung| rungs.last().is_none_or(|last| rung.withstands.pressure > last.withstands.pressure);
        if let Some(rung) = best.filter(more) {
            serves = rung.withstands.pressure >= allowed;
            rungs.push(rung);
        }
        if serves || !proved {
            break;
        }
    }
    Ok(Answer::Known(Stowing { rungs, serves, proved, as_told }))
}

/// The next choice of as many out of so many, in order; false after the last.
fn next_choice(choice: &mut [usize], of: usize) -> bool {
    let size = choice.len();
    for at in (0..size).rev() {
        if choice[at] < of - size + at {
            choice[at] += 1;
            for later in at + 1..size {
                choice[later] = choice[later - 1] + 1;
            }
            return true;
        }
    }
    false
}
