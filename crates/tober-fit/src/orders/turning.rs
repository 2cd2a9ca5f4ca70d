//! Is no stage worth more at any angle of the turntable than is claimed, and is the value claimed met?
//!
//! A body of mass m between two ends gives `m (fixed + cos cos a + sin sin a)` at its placement. At a stage with masses chosen the value is
//! `C + A cos a + B sin a`: at most `C + sqrt(A^2 + B^2)`, met at one angle. The claim names stage and masses; C, A and B are summed up
//! here and the value must not be above the whole part of that (or, where the angle that suits lies outside the arc
//! asked about, above the better of the two ends).
//!
//! The bound: the greatest over all stages and masses of `C + A p + B q` is a convex function of (p, q). Between two directions less
//! than half a turn apart the arc lies in the triangle of both and the corner where the tangents meet, so no value on it is above the
//! three at these points. The directions are rational points of the unit circle and go round the arc without a gap; the corners are worked out
//! here. At each point each body counts by the mass that gives most, and the proof of the point bounds every stage as in
//! [`super::check`]. All in whole numbers.

use super::{Moved, Question, Refusal, Side, bound};

/// A rational point: `(p / r, q / r)`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Direction {
    /// Cosine times `r`.
    pub p: i128,
    /// Sine times `r`.
    pub q: i128,
    /// Above zero.
    pub r: i128,
}

/// What a unit of mass gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Arm {
    /// Whatever the angle.
    pub fixed: i128,
    /// Times the cosine.
    pub cos: i128,
    /// Times the sine.
    pub sin: i128,
}

/// A body that moves along a chain of placements.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Body {
    /// Least and greatest mass.
    pub mass: (i128, i128),
    /// The steps that move it, in order.
    pub steps: Vec<usize>,
    /// Before the first and after each.
    pub placements: Vec<Arm>,
    /// While each is under way; empty, or an entry for each step.
    pub in_hand: Vec<Option<Arm>>,
}

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TurningQuestion {
    /// For each step, those that must be done before it.
    pub after: Vec<Vec<usize>>,
    /// What does not move.
    pub base: Arm,
    /// What moves.
    pub bodies: Vec<Body>,
    /// Steps that are done in every stage asked about.
    pub done: Vec<usize>,
    /// Steps that are neither done nor under way in any.
    pub open: Vec<usize>,
    /// From which direction to which, counterclockwise; every angle where there is none.
    pub arc: Option<(Direction, Direction)>,
}

/// What is claimed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TurningClaim {
    /// A value that is met.
    pub value: i128,
    /// No value is above this.
    pub bound: i128,
    /// The steps done where the value is met.
    pub done: Vec<usize>,
    /// Those under way.
    pub under_way: Vec<usize>,
    /// The mass of each body there.
    pub masses: Vec<i128>,
    /// Directions, counterclockwise.
    pub directions: Vec<Direction>,
    /// The proof at each direction.
    pub touching: Vec<Vec<Moved>>,
    /// The proof at the corner from each direction to the next; over a circle also from the last to the first.
    pub corners: Vec<Vec<Moved>>,
}

type Checked<T> = Result<T, Refusal>;

fn times(a: i128, b: i128) -> Checked<i128> {
    a.checked_mul(b).ok_or(Refusal::TooLarge)
}

fn plus(a: i128, b: i128) -> Checked<i128> {
    a.checked_add(b).ok_or(Refusal::TooLarge)
}

fn cross(a: Direction, b: Direction) -> Checked<i128> {
    plus(times(a.p, b.q)?, -times(a.q, b.p)?)
}

/// `r` times what a unit of mass gives at a point.
fn at(arm: Arm, point: Direction) -> Checked<i128> {
    plus(plus(times(arm.fixed, point.r)?, times(arm.cos, point.p)?)?, times(arm.sin, point.q)?)
}

/// Checks a claimed value and bound over every angle.
///
/// # Errors
/// The first reason that the claim fails.
pub fn check_turning(question: &TurningQuestion, claim: &TurningClaim) -> Checked<()> {
    bodies(question)?;
    let value = met(question, claim)?;
    if claim.value > value {
        return Err(Refusal::Value { claimed: claim.value, found: value });
    }
    let corners = around(question, claim)?;
    let touching = claim.directions.iter().zip(&claim.touching);
    for (point, moved) in touching.chain(corners.iter().zip(&claim.corners)) {
        let tally = weights(question, *point)?;
        let bound = bound(&tally, moved)?;
        if bound > times(claim.bound, point.r)? {
            return Err(Refusal::Bound { claimed: claim.bound, bound: bound.div_euclid(point.r) });
        }
    }
    Ok(())
}

/// The bodies have the shape they need, and their steps stand in an order that the rules make sure of.
fn bodies(question: &TurningQuestion) -> Checked<()> {
    let steps = question.after.len();
    let mut hands: Vec<Option<bool>> = vec![None; steps];
    let rules = question.after.iter().flatten().chain(&question.done).chain(&question.open);
    let named = rules.chain(question.bodies.iter().flat_map(|body| &body.steps));
    if let Some(&step) = named.into_iter().find(|&&step| step >= steps) {
        return Err(Refusal::NoSuchStep { step, steps });
    }
    for body in &question.bodies {
        let hand = body.in_hand.len();
        if body.placements.len() != body.steps.len() + 1
            || body.mass.0 > body.mass.1
            || !(hand == 0 || hand == body.steps.len())
        {
            return Err(Refusal::Shape {
                steps: body.steps.len(),
                changes: body.placements.len(),
                peaks: hand,
            });
        }
        for pair in body.steps.windows(2) {
            if !must_follow(&question.after, pair[0], pair[1]) {
                return Err(Refusal::NoChain { first: pair[0], step: pair[1] });
            }
        }
        for (i, &step) in body.steps.iter().enumerate() {
            let has = matches!(body.in_hand.get(i), Some(Some(_)));
            if hands[step].replace(has).is_some_and(|other| other != has) {
                return Err(Refusal::Uneven { step });
            }
        }
    }
    Ok(())
}

fn must_follow(after: &[Vec<usize>], first: usize, step: usize) -> bool {
    let mut seen = vec![false; after.len()];
    let mut look = vec![step];
    while let Some(one) = look.pop() {
        for &before in &after[one] {
            if before == first {
                return true;
            }
            if !seen[before] {
                seen[before] = true;
                look.push(before);
            }
        }
    }
    false
}

/// The whole part of the most that the stage named is worth at an angle of the arc, with the masses named.
fn met(question: &TurningQuestion, claim: &TurningClaim) -> Checked<i128> {
    let steps = question.after.len();
    if let Some(&step) = claim.done.iter().chain(&claim.under_way).find(|&&step| step >= steps) {
        return Err(Refusal::NoSuchStep { step, steps });
    }
    if claim.masses.len() != question.bodies.len() {
        return Err(Refusal::Shape { steps, changes: claim.masses.len(), peaks: question.bodies.len() });
    }
    let (done, under_way) = (super::marked(steps, &claim.done), super::marked(steps, &claim.under_way));
    let tally = weights(question, Direction { p: 1, q: 0, r: 1 })?;
    super::stage(&tally, &done, &under_way)?;
    let mut sums = question.base;
    for (number, (body, &mass)) in question.bodies.iter().zip(&claim.masses).enumerate() {
        if mass < body.mass.0 || mass > body.mass.1 {
            return Err(Refusal::Mass { body: number, mass });
        }
        let moved = body.steps.iter().take_while(|&&step| done[step]).count();
        let hand = body.in_hand.get(moved).copied().flatten();
        let arm = match hand {
            Some(hand) if under_way[body.steps[moved]] => hand,
            _ => body.placements[moved],
        };
        sums.fixed = plus(sums.fixed, times(mass, arm.fixed)?)?;
        sums.cos = plus(sums.cos, times(mass, arm.cos)?)?;
        sums.sin = plus(sums.sin, times(mass, arm.sin)?)?;
    }
    let towards = Direction { p: sums.cos, q: sums.sin, r: 1 };
    match question.arc {
        Some((from, to)) if !on_the_way(from, to, towards)? => {
            Ok(at(sums, from)?.div_euclid(from.r).max(at(sums, to)?.div_euclid(to.r)))
        }
        _ => {
            let squares = plus(times(sums.cos, sums.cos)?, times(sums.sin, sums.sin)?)?;
            plus(sums.fixed, squares.isqrt())
        }
    }
}

/// Does a direction lie from one on to another? Where the two are one, every direction does.
fn on_the_way(from: Direction, to: Direction, at: Direction) -> Checked<bool> {
    if cross(from, to)? > 0 {
        Ok(cross(from, at)? >= 0 && cross(at, to)? >= 0)
    } else {
        Ok(!(cross(to, at)? > 0 && cross(at, from)? > 0))
    }
}

/// The directions are points of the circle and go round what is asked about; the corners between them.
fn around(question: &TurningQuestion, claim: &TurningClaim) -> Checked<Vec<Direction>> {
    let directions = &claim.directions;
    for (place, at) in directions.iter().enumerate() {
        if at.r <= 0 || plus(times(at.p, at.p)?, times(at.q, at.q)?)? != times(at.r, at.r)? {
            return Err(Refusal::OffTheCircle { place });
        }
    }
    let (Some(&first), Some(&last)) = (directions.first(), directions.last()) else {
        return Err(Refusal::Gap { place: 0 });
    };
    let mut ends: Vec<(Direction, Direction)> =
        directions.windows(2).map(|pair| (pair[0], pair[1])).collect();
    match question.arc {
        None => ends.push((last, first)),
        Some((from, to)) if first == from && last == to => {}
        Some(_) => return Err(Refusal::Gap { place: directions.len() }),
    }
    if claim.touching.len() != directions.len() || claim.corners.len() != ends.len() {
        return Err(Refusal::Gap { place: claim.corners.len() });
    }
    // Steps that all lead on counterclockwise and end where they began go round at least once.
    let mut corners = Vec::new();
    for (place, &(one, next)) in ends.iter().enumerate() {
        let r = plus(plus(times(one.r, next.r)?, times(one.p, next.p)?)?, times(one.q, next.q)?)?;
        if cross(one, next)? <= 0 || r <= 0 {
            return Err(Refusal::Gap { place });
        }
        corners.push(Direction {
            p: plus(times(one.p, next.r)?, times(next.p, one.r)?)?,
            q: plus(times(one.q, next.r)?, times(next.q, one.r)?)?,
            r,
        });
    }
    Ok(corners)
}

/// The weights of the steps, times `r`, with each body's mass chosen for the most.
fn weights(question: &TurningQuestion, point: Direction) -> Checked<Question> {
    let steps = question.after.len();
    let mut tally = Question {
        after: question.after.clone(),
        start: at(question.base, point)?,
        change: vec![0; steps],
        peak: vec![None; steps],
        done: question.done.clone(),
        open: question.open.clone(),
        side: Side::Greatest,
    };
    for body in &question.bodies {
        let most = |arm: Arm| -> Checked<i128> {
            let unit = at(arm, point)?;
            Ok(times(body.mass.0, unit)?.max(times(body.mass.1, unit)?))
        };
        tally.start = plus(tally.start, most(body.placements[0])?)?;
        for (i, &step) in body.steps.iter().enumerate() {
            let before = most(body.placements[i])?;
            let change = plus(most(body.placements[i + 1])?, -before)?;
            tally.change[step] = plus(tally.change[step], change)?;
            if let Some(Some(hand)) = body.in_hand.get(i) {
                let peak = plus(most(*hand)?, -before)?;
                tally.peak[step] = Some(plus(tally.peak[step].unwrap_or(0), peak)?);
            }
        }
    }
    Ok(tally)
}

/// Checks that the sets listed are all the sets of special steps that a stage can have done.
///
/// # Errors
/// Where one is missing, or is not such a set.
pub fn check_branches(after: &[Vec<usize>], special: &[usize], listed: &[Vec<usize>]) -> Checked<()> {
    let steps = after.len();
    let named = after.iter().flatten().chain(special).chain(listed.iter().flatten());
    if let Some(&step) = named.into_iter().find(|&&step| step >= steps) {
        return Err(Refusal::NoSuchStep { step, steps });
    }
    let sets: std::collections::BTreeSet<Vec<bool>> =
        listed.iter().map(|set| super::marked(steps, set)).collect();
    let before = |step: usize| special.iter().copied().filter(move |&first| must_follow(after, first, step));
    if !sets.contains(&vec![false; steps]) {
        return Err(Refusal::BranchMissing { step: None });
    }
    for set in &sets {
        for step in 0..steps {
            if set[step] && (!special.contains(&step) || before(step).any(|first| !set[first])) {
                return Err(Refusal::NoBranch { step });
            }
        }
        // From a set every next one is reached by a step; so none is missing where each next one is listed.
        for &step in special.iter().filter(|&&step| !set[step] && before(step).all(|first| set[first])) {
            let mut next = set.clone();
            next[step] = true;
            if !sets.contains(&next) {
                return Err(Refusal::BranchMissing { step: Some(step) });
            }
        }
    }
    Ok(())
}
