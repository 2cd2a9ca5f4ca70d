//! Checks an order in which riders get off a stopped ride.
//!
//! The claim is a list: who gets off, with the ride turned how far, and how much is out of balance afterwards. It is gone
//! through from the first to the last: each seat can be opened and stands at a place where riders can leave it, nobody gets off
//! twice, and each moment is added up anew. With at most [`LISTED_MOST`] riders or seats to get off, every set of them is gone
//! through as well, so that "no order has less out of balance" is checked and not believed.
//!
//! Of masses that are bands the worst is wanted. The sum of all is greatest at a corner of the bands, and each corner that can be
//! the farthest lies outermost in some direction: one direction between each two neighbours of those square to a seat's arm.

use core::f64::consts::PI;
use core::fmt;
use std::collections::BTreeSet;
use tober_quantity::maths;

/// Up to how many riders or seats every set is gone through.
pub const LISTED_MOST: usize = 14;
/// Claimed moments are whole newton metres, rounded up, of sums whose digits differ with the order of adding.
const WITHIN_N_M: f64 = 1.001;
/// A place reached to the last digit of an angle is reached.
const WITHIN_DEG: f64 = 1e-5;

/// A seat.
#[derive(Clone, Debug, PartialEq)]
pub struct Seat {
    /// How it is called.
    pub name: String,
    /// Distance of its riders from the axis, m.
    pub radius_m: f64,
    /// Its direction about the axis on the ride, degrees.
    pub angle_deg: f64,
    /// The least and the greatest that each of its riders may weigh, kg.
    pub riders_kg: Vec<(f64, f64)>,
    /// Whether it cannot be opened.
    pub jammed: bool,
}

/// What was asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The seats.
    pub seats: Vec<Seat>,
    /// The places where riders can leave a seat: direction in space and how far to either side, degrees.
    pub places_deg: Vec<(f64, f64)>,
    /// How far the ride is turned, degrees.
    pub turned_deg: f64,
    /// Whether it may be turned.
    pub turning: bool,
    /// What is out of balance without riders, kg m.
    pub own_kg_m: (f64, f64),
    /// Gravity, m/s².
    pub g_m_s2: f64,
}

/// Riders get off a seat.
#[derive(Clone, Debug, PartialEq)]
pub struct Off {
    /// The seat's number.
    pub seat: usize,
    /// Which of its riders, by their places.
    pub riders: Vec<usize>,
    /// How far the ride is turned then, degrees.
    pub turned_deg: f64,
    /// What is claimed to be out of balance afterwards, N m.
    pub out_of_balance_n_m: f64,
}

/// What is claimed.
#[derive(Clone, Debug, PartialEq)]
pub struct Claim {
    /// Who gets off, first to last.
    pub order: Vec<Off>,
    /// The greatest out of balance at any stage, N m.
    pub greatest_n_m: f64,
    /// How often it is turned.
    pub turns: usize,
    /// The seats that keep riders aboard.
    pub left: Vec<usize>,
    /// Whether no order is claimed to have less out of balance.
    pub least: bool,
}

/// What the check came to, where nothing is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// How many stages were added up anew.
    pub stages: usize,
    /// Whether every set was gone through; where not, "least" is not checked.
    pub listed: bool,
}

/// Why a claim does not stand.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// A number is none, or a seat is not there.
    Absurd(&'static str),
    /// A seat that cannot be opened.
    Jammed(String),
    /// A seat that stands at no place.
    NotReached(String),
    /// The ride is turned, and may not be.
    Turned(String),
    /// Somebody gets off who is not aboard.
    NotAboard(String),
    /// Riders stay aboard that the claim does not name, or the other way round.
    Left(String),
    /// A moment is another one.
    Moment {
        /// After which seat; none for the greatest of all.
        after: Option<String>,
        /// What is claimed, N m.
        claimed_n_m: f64,
        /// What it is, N m.
        found_n_m: f64,
    },
    /// It is turned more often or less often.
    Turns {
        /// What is claimed.
        claimed: usize,
        /// How often it is.
        found: usize,
    },
    /// There is an order with less out of balance.
    NotLeast {
        /// What is claimed, N m.
        claimed_n_m: f64,
        /// The greatest of a better order, N m.
        better_n_m: f64,
    },
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Absurd(what) => write!(f, "{what} is not a number of this world"),
            Self::Jammed(name) => write!(f, "\"{name}\" cannot be opened"),
            Self::NotReached(name) => write!(f, "\"{name}\" stands at no place where riders can leave it"),
            Self::Turned(name) => write!(f, "the ride is turned for \"{name}\", and may not be"),
            Self::NotAboard(name) => write!(f, "somebody gets off \"{name}\" who is not in it"),
            Self::Left(name) => write!(f, "what is said of who stays in \"{name}\" is not so"),
            Self::Moment { after, claimed_n_m, found_n_m } => {
                let after =
                    after.as_ref().map_or("at the most".to_owned(), |name| format!("after \"{name}\""));
                write!(
                    f,
                    "{after} {claimed_n_m} N m are claimed to be out of balance, and {found_n_m} N m are"
                )
            }
            Self::Turns { claimed, found } => write!(f, "{claimed} turns are claimed, and there are {found}"),
            Self::NotLeast { claimed_n_m, better_n_m } => {
                write!(
                    f,
                    "{claimed_n_m} N m are claimed to be the least, and an order comes to {better_n_m} N m"
                )
            }
        }
    }
}

/// One that gets off: the moment of a kilogram there and what it may weigh.
#[derive(Clone, Copy)]
struct Part {
    arm: (f64, f64),
    kg: (f64, f64),
}

fn part(question: &Question, seat: &Seat, kg: (f64, f64)) -> Part {
    let a = seat.angle_deg * PI / 180.0;
    let arm = question.g_m_s2 * seat.radius_m;
    Part { arm: (arm * maths::cos(a), arm * maths::sin(a)), kg }
}

/// The greatest moment that parts can make together, N m.
fn greatest(question: &Question, parts: &[Part]) -> f64 {
    let own = (question.own_kg_m.0 * question.g_m_s2, question.own_kg_m.1 * question.g_m_s2);
    let mut square: Vec<f64> = parts
        .iter()
        .filter(|part| part.kg.1 > part.kg.0)
        .map(|part| {
            let across = maths::atan2(part.arm.0, -part.arm.1);
            if across < 0.0 { across + PI } else { across }
        })
        .collect();
    square.sort_by(f64::total_cmp);
    let mut between: Vec<f64> = square.windows(2).map(|two| (two[0] + two[1]) / 2.0).collect();
    between.push(match (square.first(), square.last()) {
        (Some(first), Some(last)) => (first + PI + last) / 2.0,
        _ => 0.0,
    });
    let opposite: Vec<f64> = between.iter().map(|u| u + PI).collect();
    let corner = |u: f64| {
        let (x, y) = (maths::cos(u), maths::sin(u));
        let sum = parts.iter().fold(own, |sum, part| {
            let kg = if x * part.arm.0 + y * part.arm.1 > 0.0 { part.kg.1 } else { part.kg.0 };
            (sum.0 + kg * part.arm.0, sum.1 + kg * part.arm.1)
        });
        maths::hypot(sum.0, sum.1)
    };
    between.into_iter().chain(opposite).map(corner).fold(0.0, f64::max)
}

fn off_deg(a: f64, b: f64) -> f64 {
    let way = (a - b).rem_euclid(360.0);
    way.min(360.0 - way)
}

fn sane(question: &Question) -> bool {
    let seat = |seat: &Seat| {
        (0.0..=60.0).contains(&seat.radius_m)
            && (-1e4..=1e4).contains(&seat.angle_deg)
            && seat.riders_kg.iter().all(|(low, high)| 0.0 <= *low && low <= high && *high <= 1e3)
    };
    let place = |(angle, within): &(f64, f64)| (-1e4..=1e4).contains(angle) && (0.0..=180.0).contains(within);
    let own = |kg_m: f64| (-1e6..=1e6).contains(&kg_m);
    question.seats.iter().all(seat)
        && question.places_deg.iter().all(place)
        && (-1e4..=1e4).contains(&question.turned_deg)
        && own(question.own_kg_m.0)
        && own(question.own_kg_m.1)
        && (1.0..=20.0).contains(&question.g_m_s2)
}

/// Goes through a claimed order.
///
/// # Errors
/// The first thing that is not as claimed.
pub fn check(question: &Question, claim: &Claim) -> Result<Verdict, Refusal> {
    if !sane(question) {
        return Err(Refusal::Absurd("a value of the question"));
    }
    let mut aboard: Vec<BTreeSet<usize>> =
        question.seats.iter().map(|seat| (0..seat.riders_kg.len()).collect()).collect();
    let mut one_by_one = false;
    let parts = |aboard: &[BTreeSet<usize>]| -> Vec<Part> {
        let of = |(seat, riders): (&Seat, &BTreeSet<usize>)| -> Vec<Part> {
            riders.iter().map(|&rider| part(question, seat, seat.riders_kg[rider])).collect()
        };
        question.seats.iter().zip(aboard).flat_map(of).collect()
    };
    let moment = |after: Option<String>, claimed: f64, found: f64| {
        let off = (claimed - found).abs() > WITHIN_N_M;
        // What is not a number is not near anything, so it is refused as well.
        if off || !claimed.is_finite() {
            return Err(Refusal::Moment { after, claimed_n_m: claimed, found_n_m: found });
        }
        Ok(())
    };
    let (mut here, mut turns) = (question.turned_deg, 0);
    let mut most = greatest(question, &parts(&aboard));
    for off in &claim.order {
        let seat = question.seats.get(off.seat).ok_or(Refusal::Absurd("the number of a seat"))?;
        let name = || seat.name.clone();
        if seat.jammed {
            return Err(Refusal::Jammed(name()));
        }
        if !off.turned_deg.is_finite() {
            return Err(Refusal::Absurd("an angle of the claim"));
        }
        if off_deg(off.turned_deg, here) > WITHIN_DEG {
            if !question.turning {
                return Err(Refusal::Turned(name()));
            }
            turns += 1;
            here = off.turned_deg;
        }
        let stands = seat.angle_deg + off.turned_deg;
        let reached =
            question.places_deg.iter().any(|(at, within)| off_deg(stands, *at) <= within + WITHIN_DEG);
        if !reached {
            return Err(Refusal::NotReached(name()));
        }
        for &rider in &off.riders {
            if !aboard[off.seat].remove(&rider) {
                return Err(Refusal::NotAboard(name()));
            }
        }
        one_by_one |= off.riders.len() != seat.riders_kg.len();
        let found = greatest(question, &parts(&aboard));
        moment(Some(name()), off.out_of_balance_n_m, found)?;
        most = most.max(found);
    }
    moment(None, claim.greatest_n_m, most)?;
    if turns != claim.turns {
        return Err(Refusal::Turns { claimed: claim.turns, found: turns });
    }
    for (number, seat) in question.seats.iter().enumerate() {
        if aboard[number].is_empty() == claim.left.contains(&number) {
            return Err(Refusal::Left(seat.name.clone()));
        }
    }
    let listed = claim.least && listed(question, claim, one_by_one)?;
    Ok(Verdict { stages: claim.order.len() + 1, listed })
}

/// Whether every set of who got off was gone through, and none of them leads past the claim's end with less.
///
/// Each that leaves at once is one: a seat, or a rider where the riders of some seat leave at different times.
fn listed(question: &Question, claim: &Claim, one_by_one: bool) -> Result<bool, Refusal> {
    let mut goes: Vec<Vec<Part>> = Vec::new();
    let mut stays: Vec<Part> = Vec::new();
    for (number, seat) in question.seats.iter().enumerate() {
        let parts: Vec<Part> = seat.riders_kg.iter().map(|&kg| part(question, seat, kg)).collect();
        if claim.left.contains(&number) && claim.order.iter().all(|off| off.seat != number) {
            stays.extend(parts);
        } else if one_by_one {
            goes.extend(parts.into_iter().map(|part| vec![part]));
        } else if !parts.is_empty() {
            goes.push(parts);
        }
    }
    if goes.len() > LISTED_MOST {
        return Ok(false);
    }
    let sets = 1_usize << goes.len();
    let mut least = vec![f64::INFINITY; sets];
    for gone in 0..sets {
        let there = goes.iter().enumerate().filter(|(i, _)| gone >> i & 1 == 0);
        let parts: Vec<Part> = there.flat_map(|(_, parts)| parts).chain(&stays).copied().collect();
        let before = (0..goes.len()).filter(|i| gone >> i & 1 == 1).map(|i| least[gone ^ (1 << i)]);
        let before = if gone == 0 { 0.0 } else { before.fold(f64::INFINITY, f64::min) };
        least[gone] = before.max(greatest(question, &parts));
    }
    let better = least.last().copied().unwrap_or(0.0);
    if better < claim.greatest_n_m - WITHIN_N_M {
        return Err(Refusal::NotLeast { claimed_n_m: claim.greatest_n_m, better_n_m: better });
    }
    Ok(true)
}
