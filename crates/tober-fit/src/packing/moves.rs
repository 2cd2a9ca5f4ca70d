//! A choice that needs something done first: a foot dug in, wedges driven, the trailer shifted or turned.
//!
//! Everything is whole tenths of a millimetre. A foot that is dug in by `d` stands on ground lower by `d`. A pair of wedges is a
//! layer of its own, as thick as it is driven. Where the trailer was moved, each foot must lie in a surveyed triangle,
//! its ground must be what the triangle gives there, to 0.1 mm, and the feet must lie to each other as they do on the frame.

use super::{Board, Claim, Made, PlanSize, Question, Refusal, Verdict, check};
use tober_quantity::TenthMm;

/// What is done before the packing. Places are those of the question's supports.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Moves {
    /// Feet that are dug in.
    pub dug: Vec<Dug>,
    /// Wedges that are driven. Each counts as one more kind of board, after those of the question, in this order.
    pub wedged: Vec<Wedged>,
    /// Where every foot stands once the trailer was moved; empty where it was not.
    pub stood: Vec<Stood>,
}

/// A foot that is dug in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dug {
    /// Which.
    pub support: usize,
    /// How deep.
    pub by: TenthMm,
    /// The deepest that a foot may be dug in.
    pub most: TenthMm,
}

/// A pair of wedges under one support.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wedged {
    /// Which.
    pub support: usize,
    /// How thick the pair is driven.
    pub driven: TenthMm,
    /// The pair driven least.
    pub least: TenthMm,
    /// The pair driven most.
    pub most: TenthMm,
}

/// Where a foot stands on the surveyed ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stood {
    /// Its place on the plan of the survey: along, across.
    pub at: (TenthMm, TenthMm),
    /// The corners of the surveyed triangle that it lies in: along, across, height.
    pub corners: [(TenthMm, TenthMm, TenthMm); 3],
    /// The height of the ground there, as claimed.
    pub ground: TenthMm,
}

/// How far a foot may lie from where the frame puts it, and a height from its triangle: rounding of places, in tenths.
const ROUNDING: i128 = 2;

/// Checks a choice on the ground as it is once the moves are done; see [`check`].
///
/// # Errors
/// All refusals: first those of the moves, and where there is none those of the choice.
pub fn check_moved(question: &Question, moves: &Moves, claim: &Claim) -> Result<Verdict, Vec<Refusal>> {
    let mut refusals = Vec::new();
    let mut done = question.clone();
    if !moves.stood.is_empty() {
        stood(&mut done, &moves.stood, &mut refusals);
    }
    let absurd = |refusals: &mut Vec<Refusal>,
                  what,
                  at: &str,
                  value: TenthMm,
                  least: TenthMm,
                  most: TenthMm| {
        if value < least || value > most {
            let at = at.to_owned();
            refusals.push(Refusal::ClaimAbsurd { what, at, value: value.0, least: least.0, most: most.0 });
        }
    };
    for dug in &moves.dug {
        let Some(support) = done.supports.get_mut(dug.support) else {
            return Err(vec![no_support(dug.support, question)]);
        };
        absurd(&mut refusals, "depth dug in", &support.name, dug.by, TenthMm(1), dug.most);
        support.ground = support.ground - dug.by;
    }
    for (place, wedged) in moves.wedged.iter().enumerate() {
        let Some(support) = done.supports.get(wedged.support) else {
            return Err(vec![no_support(wedged.support, question)]);
        };
        absurd(
            &mut refusals,
            "thickness of the wedges",
            &support.name,
            wedged.driven,
            wedged.least,
            wedged.most,
        );
        done.boards.push(Board {
            name: format!("wedges under {}", support.name),
            thickness: wedged.driven,
            count: 1,
            made: Made::Wedges,
            plan: narrowest(question, claim, wedged.support),
        });
        for (other, placing) in claim.placings.iter().enumerate() {
            let count = placing.boards.get(question.boards.len() + place).copied().unwrap_or(0);
            let wanted = i64::from(other == wedged.support);
            if count != wanted {
                let at = question.supports.get(other).map_or_else(String::new, |s| s.name.clone());
                refusals.push(Refusal::ClaimAbsurd {
                    what: "pairs of wedges",
                    at,
                    value: count,
                    least: wanted,
                    most: wanted,
                });
            }
        }
    }
    // A pair of wedges is no board: the limit on boards holds for the others.
    if !moves.wedged.is_empty() {
        let most = question.stack.boards_most;
        for (support, placing) in question.supports.iter().zip(&claim.placings) {
            let boards: i64 =
                placing.boards.iter().take(question.boards.len()).fold(0, |sum, &n| sum.saturating_add(n));
            if boards > most {
                refusals.push(Refusal::TooManyBoards { support: support.name.clone(), boards, most });
            }
        }
        done.stack.boards_most = most.saturating_add(1);
    }
    if refusals.is_empty() { check(&done, claim) } else { Err(refusals) }
}

fn no_support(place: usize, question: &Question) -> Refusal {
    let most = question.supports.len() as i64 - 1;
    Refusal::ClaimAbsurd { what: "support", at: "a move".to_owned(), value: place as i64, least: 0, most }
}

/// Wedges lie wholly on the timber under them, so in plan they are taken as the narrowest timber of their stack.
fn narrowest(question: &Question, claim: &Claim, support: usize) -> Option<PlanSize> {
    let boards = &claim.placings.get(support)?.boards;
    let used =
        question.boards.iter().zip(boards).filter(|(board, count)| **count > 0 && board.made == Made::Timber);
    used.filter_map(|(board, _)| board.plan).min_by_key(|plan| plan.width())
}

type Place = (i128, i128);

fn apart(a: Place, b: Place) -> i128 {
    let (x, y) = (a.0 - b.0, a.1 - b.1);
    x * x + y * y
}

/// Twice the area of a triangle, above nothing when it turns anticlockwise.
fn area(a: Place, b: Place, c: Place) -> i128 {
    (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
}

fn stood(question: &mut Question, stood: &[Stood], refusals: &mut Vec<Refusal>) {
    let (expected, found) = (question.supports.len(), stood.len());
    if expected != found {
        refusals.push(Refusal::Shape {
            what: "places of feet",
            at: "the moved trailer".to_owned(),
            expected,
            found,
        });
        return;
    }
    let far = TenthMm::GREATEST;
    let lengths = stood.iter().flat_map(|s| {
        let corners = s.corners.iter().flat_map(|c| [c.0, c.1, c.2]);
        corners.chain([s.at.0, s.at.1, s.ground])
    });
    if let Some(past) = lengths.into_iter().find(|length| length.0.abs() > far) {
        let at = "the moved trailer".to_owned();
        refusals.push(Refusal::ClaimAbsurd {
            what: "place or height",
            at,
            value: past.0,
            least: -far,
            most: far,
        });
        return;
    }
    let whole = |a: TenthMm, b: TenthMm| (i128::from(a.0), i128::from(b.0));
    let on_frame: Vec<Place> = question.supports.iter().map(|s| whole(s.x, s.y)).collect();
    let on_pitch: Vec<Place> = stood.iter().map(|s| whole(s.at.0, s.at.1)).collect();
    for (place, (support, stood)) in question.supports.iter_mut().zip(stood).enumerate() {
        let [a, b, c] = stood.corners.map(|corner| whole(corner.0, corner.1));
        let at = on_pitch[place];
        let all = area(a, b, c);
        let shares = [area(b, c, at), area(c, a, at), area(a, b, at)];
        let turn = all.signum();
        let height: i128 =
            shares.iter().zip(stood.corners).map(|(share, corner)| share * i128::from(corner.2.0)).sum();
        let off = (height - all * i128::from(stood.ground.0)).abs();
        if turn == 0 || shares.iter().any(|share| share * turn < 0) || off > ROUNDING * all.abs() {
            refusals.push(Refusal::NotOnSurvey { support: support.name.clone(), ground: stood.ground });
        }
        // As far from every other foot as on the frame: d² may be off by 2 d times the rounding.
        for other in 0..place {
            let (here, there) = (apart(on_frame[place], on_frame[other]), apart(at, on_pitch[other]));
            let allowed = 2 * ROUNDING * (here.unsigned_abs().isqrt() as i128 + ROUNDING);
            if (here - there).abs() > allowed {
                refusals.push(Refusal::NotTheFrame { support: support.name.clone() });
            }
        }
        // And not mirrored.
        if place >= 2 {
            let (frame, pitch) =
                (area(on_frame[0], on_frame[1], on_frame[place]), area(on_pitch[0], on_pitch[1], at));
            let side = 2
                * ROUNDING
                * (apart(on_frame[0], on_frame[1]).unsigned_abs().isqrt() as i128
                    + apart(on_frame[0], on_frame[place]).unsigned_abs().isqrt() as i128
                    + ROUNDING);
            if (frame - pitch).abs() > side {
                refusals.push(Refusal::NotTheFrame { support: support.name.clone() });
            }
        }
        support.ground = stood.ground;
    }
}
