//! A claim that the frame tips, shown by one direction.

use super::{Question, Refusal, Tolerance, door};
use tober_quantity::{Length, Ratio, maths};

/// A claim that the frame tips: a direction in plan in which the resultant is farther out than every support.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tips {
    /// Part of the direction along the frame.
    pub x: Ratio,
    /// Part of the direction across the frame.
    pub y: Ratio,
}

/// What the check of a sound claim of tipping found.
#[derive(Clone, Debug, PartialEq)]
pub struct Tipping {
    /// How far the resultant lies beyond the support that is farthest out in that direction.
    pub beyond: Length,
    /// That support.
    pub farthest: String,
}

/// Checks a claim that the frame tips.
///
/// `n . p_resultant > n . p_i + length` for every support i, with `n` the direction made one long. Reactions that only push have
/// their resultant in the hull of the supports, so none can then balance the load.
///
/// # Errors
/// All refusals at the door, or that the direction does not separate.
pub fn check_tips(question: &Question, claim: Tips, tolerance: Tolerance) -> Result<Tipping, Vec<Refusal>> {
    let mut refusals = door::question(question);
    door::tolerance(question, tolerance, &mut refusals);
    let (x, y) = (claim.x.as_one(), claim.y.as_one());
    let long = maths::hypot(x, y);
    if !(1e-9..=1e9).contains(&long) {
        refusals.push(Refusal::NoDirection { x: claim.x, y: claim.y });
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let (x, y) = (x / long, y / long);
    let load = question.load;
    // Both distances are from the weight, so that no figures are lost in a far origin.
    let resultant = Length::m((load.about_y.as_nm() * x - load.about_x.as_nm() * y) / load.weight.as_n());
    let outs = question.supports.iter().map(|s| ((s.x - load.x) * x + (s.y - load.y) * y, &s.name));
    let Some((out, name)) = outs.reduce(|best, next| if next.0 > best.0 { next } else { best }) else {
        return Err(vec![Refusal::NoSupports]);
    };
    let (beyond, farthest) = (resultant - out, name.clone());
    if beyond > tolerance.length {
        Ok(Tipping { beyond, farthest })
    } else {
        Err(vec![Refusal::DoesNotSeparate { beyond, support: farthest, least: tolerance.length }])
    }
}
