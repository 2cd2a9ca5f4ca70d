//! Is a claimed lift what it is said to be?
//!
//! Each claim is checked by its own code:
//!
//! - *Raised*: in a calm or in a gust, no pull of the line over the travel and over every tolerance is more than claimed, no force at the hinge, and where
//!   it is claimed the line is never slack. Places are turned about the hinge as they lie in space, and what is claimed is
//!   held against bounds over whole intervals of the turn: in an interval of half-width `h` about its middle the eye moves by no more than
//!   `a h`, so `l <= l0 + a h` and `abs(P x S) >= abs(P0 x S) - a b h`, and the moment of the weights grows by no more than
//!   `h g sum(m r)`. An interval whose bound is more than claimed is halved; what is claimed may be passed by [`OVER`].
//! - *Hung*: the line carries the weight.
//! - *Rope*: what the winch pulls is that, over the sum of a geometric series, and the layer's share of the rating.
//! - *Let out*: what the rope pulls while it runs out, fall by fall from the winch on; and *held back*: what holds the part where the
//!   line is slack carries no more than claimed, over whole intervals of the turn as above.
//! - *By hand*: the recommended mass of the NIOSH equation, what a team may take, and how many it takes, in [`by_hand`].
//!
//! # Not covered
//! Acceleration, wind across the plane of the travel, friction at the hinge; eye, sling and crank; whether the inputs are true.

mod by_hand;

pub use by_hand::{Hand, Held, by_hand, together};

use core::fmt;
use tober_quantity::{Acceleration, Angle, Force, Length, Mass, maths};

/// What a true value may be over a claimed greatest, as a share: the claim is looked for on a grid of a twentieth of a degree, between
/// whose points a smooth figure rises by less than a millionth.
pub const OVER: f64 = 1e-4;
/// What two workings of one figure may differ by, as a share.
const ROUNDING: f64 = 1e-9;
/// The most intervals that are looked at.
const INTERVALS_MOST: u32 = 400_000;
/// A moment that is less than this share of the greatest is nothing: rounding of places.
const NOTHING: f64 = 1e-7;

/// Something that turns, where the travel begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weight {
    /// The least and the most it may weigh.
    pub mass: (Mass, Mass),
    /// Forward of the hinge, and above.
    pub at: (Length, Length),
    /// What these may be off, either way.
    pub off_by: (Length, Length),
}

/// What a gust does to something that turns, where the travel begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// The most it pushes level, either way.
    pub level: Force,
    /// The most it lifts.
    pub up: Force,
    /// The two places at which it may act.
    pub at: [(Length, Length); 2],
}

/// A part on a hinge and its line, where the travel begins. Lengths are forward of the hinge and above.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// What turns.
    pub weights: Vec<Weight>,
    /// What a gust does to it; nothing in a calm.
    pub pushes: Vec<Push>,
    /// The eye of the line.
    pub eye: (Length, Length),
    /// The fixed sheave.
    pub sheave: (Length, Length),
    /// The turn to one end of the travel, up positive.
    pub least: Angle,
    /// To the other end.
    pub most: Angle,
    /// Gravity.
    pub gravity: Acceleration,
}

/// What is claimed of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Claim {
    /// The greatest pull of the line.
    pub pull: Force,
    /// The greatest force at the hinge while it pulls.
    pub hinge: Force,
    /// That it pulls all the way.
    pub never_slack: bool,
}

/// Why a claim is refused.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// A value of the question is none.
    NoQuestion(&'static str),
    /// The line has no lever in the travel.
    Dead {
        /// The turn.
        at: Angle,
    },
    /// A figure is more than claimed.
    More {
        /// Which.
        what: &'static str,
        /// At which turn of the part from where it begins.
        at: Angle,
        /// What it may be there.
        found: f64,
        /// What is claimed.
        claimed: f64,
    },
    /// A figure is not what is claimed.
    Differs {
        /// Which.
        what: &'static str,
        /// What it is.
        found: f64,
        /// What is claimed.
        claimed: f64,
    },
    /// The line may be slack.
    Slack {
        /// At which turn.
        at: Angle,
    },
    /// More intervals than are looked at.
    NotReached,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoQuestion(what) => write!(f, "The {what} of the question is none."),
            Self::Dead { at } => {
                write!(f, "Turned by {:.2} degrees the line has no lever about the hinge.", at.as_deg())
            }
            Self::More { what, at, found, claimed } => write!(
                f,
                "Turned by {:.2} degrees the {what} may be {found:.1} N, and {claimed:.1} N is claimed.",
                at.as_deg()
            ),
            Self::Differs { what, found, claimed } => {
                write!(f, "The {what} is {found:.4}, and {claimed:.4} is claimed.")
            }
            Self::Slack { at } => {
                write!(
                    f,
                    "Turned by {:.2} degrees the line may be slack, and it is claimed never to be.",
                    at.as_deg()
                )
            }
            Self::NotReached => f.write_str("The claim was not gone through to its end."),
        }
    }
}

impl core::error::Error for Refusal {}

type Pair = (f64, f64);

fn metres(point: (Length, Length)) -> Pair {
    (point.0.as_m(), point.1.as_m())
}

fn turned(point: Pair, by: Pair) -> Pair {
    (point.0 * by.0 - point.1 * by.1, point.0 * by.1 + point.1 * by.0)
}

/// What bounds the part in an interval of its turn.
struct Bounds {
    /// Whether a pull of the line raises the part.
    raises: bool,
    /// The least and the greatest moment of the weights, each the way the line holds against.
    moment: Pair,
    /// The least and the greatest lever.
    lever: Pair,
    /// The direction of the line in the middle, and how far a unit along it may be off.
    line: (Pair, f64),
    /// The weight, least and greatest; what lifts it is off the least.
    weight: Pair,
    /// What pushes it level.
    push: f64,
}

/// Bounds in the interval about a middle; `None` where they say nothing, since the line may have no lever in it.
fn bounds(question: &Question, middle: f64, half: f64) -> Option<Bounds> {
    let by = (maths::cos(middle), maths::sin(middle));
    let (start, sheave) = (metres(question.eye), metres(question.sheave));
    let eye = turned(start, by);
    let (a, b) = (maths::hypot(start.0, start.1), maths::hypot(sheave.0, sheave.1));
    let towards = (sheave.0 - eye.0, sheave.1 - eye.1);
    let length = maths::hypot(towards.0, towards.1);
    let across = eye.0 * sheave.1 - eye.1 * sheave.0;
    let (least_across, least_length) = (across.abs() - a * b * half, length - a * half);
    if least_across <= 0.0 || least_length <= 0.0 {
        return None;
    }
    let sign = if across > 0.0 { 1.0 } else { -1.0 };
    let g = question.gravity.as_m_s2();
    let (mut low, mut high, mut grows, mut weight) = (0.0, 0.0, 0.0, (0.0, 0.0));
    for one in &question.weights {
        let (x, z) = metres(one.at);
        let off = metres(one.off_by);
        let x_now = turned((x, z), by).0;
        let off_now = off.0 * by.0.abs() + off.1 * by.1.abs();
        let ends = [one.mass.0.as_kg(), one.mass.1.as_kg()];
        let all = ends.map(|m| [m * (x_now - off_now), m * (x_now + off_now)]);
        let flat = [all[0][0], all[0][1], all[1][0], all[1][1]].map(|moment| moment * g * sign);
        low += flat.into_iter().fold(f64::INFINITY, f64::min);
        high += flat.into_iter().fold(f64::NEG_INFINITY, f64::max);
        grows += ends[1] * g * (maths::hypot(x, z) + off.0 + off.1);
        weight = (weight.0 + ends[0] * g, weight.1 + ends[1] * g);
    }
    let mut push = 0.0;
    for one in &question.pushes {
        let (side, up) = (one.level.as_n(), one.up.as_n());
        let now = one.at.map(|at| turned(metres(at), by));
        let high_up = now[0].1.abs().max(now[1].1.abs());
        // Lifting raises what is forward of the hinge.
        let lifts = now.map(|(x, _)| -x * up * sign);
        low += lifts[0].min(lifts[1]).min(0.0) - side * high_up;
        high += lifts[0].max(lifts[1]).max(0.0) + side * high_up;
        let far = one.at.map(|at| maths::hypot(at.0.as_m(), at.1.as_m()));
        grows += (side + up) * far[0].max(far[1]);
        weight.0 -= up;
        push += side;
    }
    Some(Bounds {
        push,
        raises: across > 0.0,
        moment: (low - grows * half, high + grows * half),
        lever: (least_across / (length + a * half), (across.abs() + a * b * half) / least_length),
        line: ((towards.0 / length, towards.1 / length), 2.0 * a * half / least_length),
        weight,
    })
}

/// Checks the claim on a part that is raised about a hinge.
///
/// # Errors
/// Why it is refused.
pub fn raised(question: &Question, claim: &Claim) -> Result<(), Refusal> {
    let (from, to) = (question.least.as_rad(), question.most.as_rad());
    let sound = |weight: &Weight| {
        let numbers = [weight.at.0, weight.at.1, weight.off_by.0, weight.off_by.1];
        weight.mass.0.as_kg() >= 0.0
            && weight.mass.1 >= weight.mass.0
            && weight.mass.1.is_finite()
            && numbers.iter().all(|number| number.is_finite())
            && weight.off_by.0.as_m() >= 0.0
            && weight.off_by.1.as_m() >= 0.0
    };
    let blown = |push: &Push| {
        let places = push.at.iter().flat_map(|at| [at.0.as_m(), at.1.as_m()]);
        let forces = [push.level.as_n(), push.up.as_n()];
        forces.iter().all(|force| *force >= 0.0) && places.chain(forces).all(f64::is_finite)
    };
    if !question.pushes.iter().all(blown) {
        return Err(Refusal::NoQuestion("list of pushes"));
    }
    if question.weights.is_empty() || !question.weights.iter().all(sound) {
        return Err(Refusal::NoQuestion("list of weights"));
    }
    if !(to > from && to - from <= 7.0) {
        return Err(Refusal::NoQuestion("travel"));
    }
    // What is not a number compares as nothing, and would be let through below.
    let places = [metres(question.eye), metres(question.sheave)];
    let figures = [question.gravity.as_m_s2(), claim.pull.as_n(), claim.hinge.as_n()];
    if !places.iter().flat_map(|at| [at.0, at.1]).chain(figures).all(f64::is_finite) {
        return Err(Refusal::NoQuestion("eye, sheave, gravity or claim"));
    }
    let mut left = vec![(from, to)];
    let mut count = 0_u32;
    let mut way = None;
    while let Some((low, high)) = left.pop() {
        count += 1;
        if count > INTERVALS_MOST {
            return Err(Refusal::NotReached);
        }
        let (middle, half) = (f64::midpoint(low, high), (high - low) / 2.0);
        let refused = match bounds(question, middle, half) {
            None => Some(Refusal::Dead { at: Angle::rad(middle) }),
            Some(found) => {
                // The lever changes sign only by way of nothing, which no interval that is bounded holds.
                if *way.get_or_insert(found.raises) != found.raises {
                    return Err(Refusal::Dead { at: Angle::rad(middle) });
                }
                more(&found, claim, middle)
            }
        };
        if let Some(why) = refused {
            if half < 1e-9 {
                return Err(why);
            }
            left.push((low, middle));
            left.push((middle, high));
        }
    }
    Ok(())
}

/// What of a claim the bounds do not bear out.
fn more(found: &Bounds, claim: &Claim, middle: f64) -> Option<Refusal> {
    let at = Angle::rad(middle);
    let (moment, lever) = (found.moment, found.lever);
    if claim.never_slack && moment.0 < -NOTHING * found.weight.1 {
        return Some(Refusal::Slack { at });
    }
    // A line does not push.
    let pull = if moment.1 > 0.0 { moment.1 / lever.0 } else { 0.0 };
    let least = if moment.0 > 0.0 { moment.0 / lever.1 } else { 0.0 };
    let claimed = claim.pull.as_n();
    if pull > claimed * (1.0 + OVER) {
        return Some(Refusal::More { what: "pull of the line", at, found: pull, claimed });
    }
    if pull <= 0.0 {
        return None;
    }
    let ((tx, tz), off) = found.line;
    let mut hinge = 0.0_f64;
    for weight in [found.weight.0, found.weight.1] {
        for force in [least, pull] {
            hinge = hinge.max(maths::hypot((force * tx).abs() + found.push, weight - force * tz));
        }
    }
    let (hinge, claimed) = (hinge + pull * off, claim.hinge.as_n());
    (hinge > claimed * (1.0 + OVER)).then_some(Refusal::More {
        what: "force at the hinge",
        at,
        found: hinge,
        claimed,
    })
}

/// Checks that a line on which all of some masses hang carries no more than claimed.
///
/// # Errors
/// Why it is refused.
pub fn hung(masses: &[Mass], gravity: Acceleration, claimed: Force) -> Result<(), Refusal> {
    let found = gravity.as_m_s2() * masses.iter().fold(0.0, |sum, mass| sum + mass.as_kg());
    same("weight on the line in newtons", found, claimed.as_n())
}

/// Checks the pull of the winch rope from that of the line.
///
/// # Errors
/// Why it is refused.
pub fn rope(pull: Force, falls: u32, efficiency: f64, claimed: Force) -> Result<(), Refusal> {
    // The sum of a geometric series.
    let times = if (efficiency - 1.0).abs() < 1e-12 {
        f64::from(falls)
    } else {
        efficiency * (1.0 - maths::pow(efficiency, f64::from(falls))) / (1.0 - efficiency)
    };
    if times.is_nan() || times <= 0.0 {
        return Err(Refusal::NoQuestion("reeving"));
    }
    same("pull of the winch rope in newtons", pull.as_n() / times, claimed.as_n())
}

/// Checks the pull of the winch rope while it runs out, from that of the line.
///
/// # Errors
/// Why it is refused.
pub fn let_out(pull: Force, falls: u32, efficiency: f64, claimed: Force) -> Result<(), Refusal> {
    if !(efficiency > 0.0 && falls > 0) {
        return Err(Refusal::NoQuestion("reeving"));
    }
    // A unit at the winch is more on every fall.
    let (mut fall, mut all) = (1.0, 0.0);
    for _ in 0..falls {
        fall /= efficiency;
        all += fall;
    }
    same("pull of the winch rope while it lowers in newtons", pull.as_n() / all, claimed.as_n())
}

/// Checks that what holds a part where its line may be slack carries no more than claimed: from a point of the part, where it is as the
/// travel begins, to a fixed one.
///
/// # Errors
/// Why it is refused.
pub fn held_back(
    question: &Question,
    hold: ((Length, Length), (Length, Length)),
    claimed: Force,
) -> Result<(), Refusal> {
    let by_hold = Question { eye: hold.0, sheave: hold.1, ..question.clone() };
    let places = [metres(hold.0), metres(hold.1)];
    if !places.iter().flat_map(|at| [at.0, at.1]).chain([claimed.as_n()]).all(f64::is_finite) {
        return Err(Refusal::NoQuestion("hold"));
    }
    let mut left = vec![(question.least.as_rad(), question.most.as_rad())];
    let mut count = 0_u32;
    while let Some((low, high)) = left.pop() {
        count += 1;
        if count > INTERVALS_MOST {
            return Err(Refusal::NotReached);
        }
        let (middle, half) = (f64::midpoint(low, high), (high - low) / 2.0);
        let at = Angle::rad(middle);
        let need = bounds(question, middle, half).map(|found| -found.moment.0);
        let refused = match (need, bounds(&by_hold, middle, half)) {
            (None, _) => Some(Refusal::Dead { at }),
            (Some(need), _) if need <= 0.0 => None,
            (Some(_), None) => Some(Refusal::Dead { at }),
            (Some(need), Some(found)) => {
                let (found, claimed) = (need / found.lever.0, claimed.as_n());
                let what = "force of what holds the part back";
                (found > claimed * (1.0 + OVER)).then_some(Refusal::More { what, at, found, claimed })
            }
        };
        if let Some(why) = refused {
            if half < 1e-9 {
                return Err(why);
            }
            left.push((low, middle));
            left.push((middle, high));
        }
    }
    Ok(())
}

/// Checks what a winch pulls on a layer: its turning moment stays what it is on the first, half a rope above the drum.
///
/// # Errors
/// Why it is refused.
pub fn layer(first: Force, drum: Length, line: Length, layer: u32, claimed: Force) -> Result<(), Refusal> {
    let arm = |layer: u32| drum.as_m() / 2.0 + line.as_m() * (f64::from(layer) - 0.5);
    same("pull on the layer in newtons", first.as_n() * arm(1) / arm(layer), claimed.as_n())
}

fn same(what: &'static str, found: f64, claimed: f64) -> Result<(), Refusal> {
    if (found - claimed).abs() <= ROUNDING * found.abs().max(claimed.abs()) {
        return Ok(());
    }
    Err(Refusal::Differs { what, found, claimed })
}
