//! Does a claimed choice of holes and boards serve?
//!
//! All heights are whole tenths of a millimetre. For a support with ground height `h`, a stack of boards of
//! thickness `t_k`, `q_k` of each kind, and a leg of shortest length `e0` set out by `s` beyond it
//! (`s` = hole times pitch, or the extension of a screw):
//!
//! - packing `p = sum q_k t_k`, lift `l = p + s`, height of the frame over the datum `z = h + p + e0 + s`;
//! - a plane `c + a x + b y` is the claimed frame. It is level if `|a| <= level_x` and `|b| <= level_y`, and a support meets
//!   it if `|z - (c + a x + b y)| <= planarity`. All bounds are inclusive.
//!
//! With the plane's numbers as integers over a common denominator `D` (see [`Plane`]) and x, y in tenths of a
//! millimetre, of which 10,000 make a metre, the last inequality is one between integers:
//!
//! `|10000 D z - 10000 C - A x - B y| <= 10000 D planarity`.
//!
//! Behind the door no term can reach 1e37, so nothing overflows an `i128` and nothing is rounded: a stack that
//! is exactly at a limit is inside, and one that is a tenth past it is past it.
//!
//! # Not covered
//! That no better choice exists (see [`none`] for that); that the frame comes to rest on the claimed plane and not
//! on another that also meets the supports (that is for the support loads); the order of work; the strength of timber and ground.

mod aside;
mod claim;
mod door;
mod layers;
mod moves;
pub mod none;
mod plane;
mod question;
mod refusal;
mod stacks;
mod verdict;

pub use aside::keeps_apart;
pub use claim::{Claim, Grain, Layer, Placing, Plane, Setting};
pub use moves::{Dug, Moves, Stood, Wedged, check_moved};
pub use question::{
    Board, FootBoard, Layering, Leg, Level, Made, PlanSize, Question, Slenderness, StackLimits, Support,
};
pub use refusal::Refusal;
pub use verdict::{Margin, NotKnown, Rule, Verdict};

/// Checks a claimed choice against the question it answers.
///
/// Every rule is tried as far as the claim allows, so that one answer names all that is wrong. A claim whose
/// shape or numbers make no sense is refused at the door, before anything is computed from it.
///
/// # Errors
/// All refusals, in a fixed order: the door, settings, stock, stacks, layers, lift, plane, totals.
pub fn check(question: &Question, claim: &Claim) -> Result<Verdict, Vec<Refusal>> {
    let mut refusals = door::question(question);
    if refusals.is_empty() {
        refusals = door::claim(question, claim);
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let mut verdict = Verdict::begun(question);
    let raised = stacks::settings(question, claim, &mut refusals);
    stacks::stock(question, claim, &mut refusals);
    stacks::limits(question, claim, &mut refusals, &mut verdict);
    layers::check(question, claim, &mut refusals, &mut verdict);
    // Without every setting there are no heights, and a height made up here would be refused for a wrong reason.
    if let Some(raised) = raised {
        stacks::lifts(question, claim, &raised, &mut refusals, &mut verdict);
        verdict.tightest = plane::check(question, claim, &raised, &mut refusals);
    }
    if refusals.is_empty() { Ok(verdict) } else { Err(refusals) }
}
