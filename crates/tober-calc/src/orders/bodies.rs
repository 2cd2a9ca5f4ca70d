//! Bodies that move along chains of placements, as weights of steps.
//!
//! A body at a placement gives `m (fixed + cos cos a + sin sin a)` for its mass m and the angle a of the turntable; for
//! a quantity that no angle enters, `cos` and `sin` are 0. Its mass lies between two ends, which may hold a tolerance or
//! a favourable and an unfavourable factor. The greatest that a placement j gives is `h_j`, the greater of the two ends, a function of the
//! placement alone. So a step that moves the body from j to j + 1 weighs `h_(j+1) − h_j`, and a step under way that has the body in hand
//! `h_hand − h_j`: the weights telescope, because the steps of a body are done one after the other. Bodies whose masses
//! do not hang together are exact that way; a factor that many share is not covered, and its two ends are to be tried.

use super::{Precedence, StepSet, WideTally};

/// A direction of the turntable as a rational unit vector: cosine `p / r`, sine `q / r`, with p^2 + q^2 = r^2; or, off the
/// circle, the corner between two of them.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Direction {
    /// Cosine times `r`.
    pub p: i128,
    /// Sine times `r`.
    pub q: i128,
    /// Above zero.
    pub r: i128,
}

/// Binary places of the tangent of half an angle: an angle is met to 2^-12 rad (0.014 degrees).
const PLACES: u32 = 12;

impl Direction {
    /// The angle 0.
    pub const ZERO: Self = Self { p: 1, q: 0, r: 1 };

    /// A direction within 2^-12 rad (0.014 degrees) of an angle in radians.
    pub fn near(angle: f64) -> Self {
        let quarter = core::f64::consts::FRAC_PI_2;
        let turns = (angle / quarter).round();
        let half = (angle - turns * quarter) / 2.0;
        let scale = f64::from(1_u32 << PLACES);
        #[expect(
            clippy::cast_possible_truncation,
            reason = "the tangent of at most an eighth of a turn, times 4096"
        )]
        let k = (tober_quantity::maths::tan(half) * scale).round() as i128;
        let whole = 1_i128 << PLACES;
        let mut at = Self { p: whole * whole - k * k, q: 2 * k * whole, r: whole * whole + k * k };
        #[expect(clippy::cast_possible_truncation, reason = "from 0 to 3")]
        for _ in 0..turns.rem_euclid(4.0) as u8 {
            at = at.quarter_on();
        }
        at
    }

    /// A quarter turn on.
    #[must_use]
    pub fn quarter_on(self) -> Self {
        Self { p: -self.q, q: self.p, r: self.r }
    }

    /// The angle in radians, from −π to π.
    pub fn angle(self) -> f64 {
        tober_quantity::maths::atan2(self.q as f64, self.p as f64)
    }

    /// Above zero where the other lies less than half a turn on from this.
    pub(super) fn cross(self, other: Self) -> i128 {
        self.p * other.q - self.q * other.p
    }

    /// Where the tangents at the two meet.
    pub(super) fn corner(self, other: Self) -> Self {
        Self {
            p: self.p * other.r + other.p * self.r,
            q: self.q * other.r + other.q * self.r,
            r: self.r * other.r + self.p * other.p + self.q * other.q,
        }
    }
}

/// What a unit of mass at a placement gives: `fixed + cos cos a + sin sin a`, in whole units.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Arm {
    /// Whatever the angle.
    pub fixed: i64,
    /// Times the cosine of the angle.
    pub cos: i64,
    /// Times its sine.
    pub sin: i64,
}

impl Arm {
    /// `r` times what it gives at `at`.
    fn at(self, at: Direction) -> i128 {
        i128::from(self.fixed) * at.r + i128::from(self.cos) * at.p + i128::from(self.sin) * at.q
    }

    fn negated(self) -> Self {
        Self { fixed: -self.fixed, cos: -self.cos, sin: -self.sin }
    }

    fn size(self) -> i128 {
        i128::from(self.fixed).abs() + i128::from(self.cos).abs() + i128::from(self.sin).abs()
    }
}

/// A body that moves along a chain of placements.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Body {
    /// The least and the greatest mass, in whole units, with factors if there are any.
    pub mass: (i64, i64),
    /// The steps that move it, in the order in which they must be done.
    pub steps: Vec<usize>,
    /// Where it is before the first of them and after each.
    pub placements: Vec<Arm>,
    /// Where it is worst while each of them is under way; empty where that is nowhere looked at.
    pub in_hand: Vec<Option<Arm>>,
}

/// Bodies, and what is there without them.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Loads {
    /// What does not move.
    pub base: Arm,
    /// What moves.
    pub bodies: Vec<Body>,
}

/// Why loads cannot be worked.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LoadsError {
    /// A body wants one placement more than steps, its least mass first, and a place in hand for each step or none at all.
    Shape {
        /// The body.
        body: usize,
    },
    /// The steps of a body are not in an order that the rules make sure of.
    NoChain {
        /// The body.
        body: usize,
        /// A step of it that need not be done after the one before.
        step: usize,
    },
    /// Of the bodies that a step moves, one has a place in hand and another has not.
    Uneven {
        /// The step.
        step: usize,
    },
    /// Together the loads pass 2^61 units: coarser units are wanted.
    TooLarge,
}

/// The largest sum of loads: so that no product with a direction passes 2^120.
const LARGEST: i128 = 1 << 61;

impl Loads {
    /// Tests what [`Loads::tally`] takes for granted.
    ///
    /// # Errors
    /// The first fault, in order of the bodies.
    pub fn sound(&self, p: &Precedence) -> Result<(), LoadsError> {
        let mut in_hand: Vec<Option<bool>> = vec![None; p.len()];
        let mut size = self.base.size();
        for (number, body) in self.bodies.iter().enumerate() {
            let hands = body.in_hand.len();
            let shape = body.placements.len() == body.steps.len() + 1
                && body.mass.0 <= body.mass.1
                && (hands == 0 || hands == body.steps.len())
                && body.steps.iter().all(|&step| step < p.len());
            if !shape {
                return Err(LoadsError::Shape { body: number });
            }
            if let Some(pair) = body.steps.windows(2).find(|pair| !p.is_before(pair[0], pair[1])) {
                return Err(LoadsError::NoChain { body: number, step: pair[1] });
            }
            for (i, &step) in body.steps.iter().enumerate() {
                let has = matches!(body.in_hand.get(i), Some(Some(_)));
                if in_hand[step].replace(has).is_some_and(|other| other != has) {
                    return Err(LoadsError::Uneven { step });
                }
            }
            let arms = body.placements.iter().chain(body.in_hand.iter().flatten());
            let most = i128::from(body.mass.0).abs().max(i128::from(body.mass.1).abs());
            // A weight is a difference of two, and a step's done node a difference of two weights.
            size += arms.map(|arm| arm.size()).sum::<i128>() * most * 4;
            if size > LARGEST {
                return Err(LoadsError::TooLarge);
            }
        }
        Ok(())
    }

    /// The same with every sign turned: its greatest value is the least of this, negated.
    #[must_use]
    pub fn negated(&self) -> Self {
        let mut loads = self.clone();
        loads.base = loads.base.negated();
        for body in &mut loads.bodies {
            for arm in body.placements.iter_mut().chain(body.in_hand.iter_mut().flatten()) {
                *arm = arm.negated();
            }
        }
        loads
    }

    /// The weights of the steps, times `at.r`, for the greatest value with the turntable at `at`. The loads are sound.
    pub fn tally(&self, steps: usize, at: Direction) -> WideTally {
        let mut tally = WideTally { start: self.base.at(at), change: vec![0; steps], peak: Vec::new() };
        if self.bodies.iter().any(|body| body.in_hand.iter().any(Option::is_some)) {
            tally.peak.resize(steps, None);
        }
        for body in &self.bodies {
            let greatest = |arm: &Arm| greatest(body.mass, *arm, at);
            let heights: Vec<i128> = body.placements.iter().map(greatest).collect();
            tally.start += heights.first().copied().unwrap_or(0);
            for ((i, &step), pair) in body.steps.iter().enumerate().zip(heights.windows(2)) {
                tally.change[step] += pair[1] - pair[0];
                if let Some(Some(hand)) = body.in_hand.get(i) {
                    *tally.peak[step].get_or_insert(0) += greatest(hand) - pair[0];
                }
            }
        }
        tally
    }

    /// Where each body is with these steps done and under way, and the mass that gives most at `at`.
    pub(super) fn placed(&self, done: &StepSet, under_way: &StepSet, at: Direction) -> Vec<(Arm, i64)> {
        let each = |body: &Body| {
            let moved = body.steps.iter().take_while(|&&step| done.contains(step)).count();
            let hand = body.in_hand.get(moved).copied().flatten();
            let lifted = body.steps.get(moved).is_some_and(|&step| under_way.contains(step));
            let arm = hand.filter(|_| lifted).or(body.placements.get(moved).copied()).unwrap_or_default();
            let (low, high) = body.mass;
            (arm, if arm.at(at) < 0 { low } else { high })
        };
        self.bodies.iter().map(each).collect()
    }
}

fn greatest(mass: (i64, i64), arm: Arm, at: Direction) -> i128 {
    let unit = arm.at(at);
    (i128::from(mass.0) * unit).max(i128::from(mass.1) * unit)
}
