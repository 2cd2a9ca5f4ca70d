//! The door: what is not a number, or not one of this world, goes no further.

use super::{Claim, Displacement, Question, Refusal, Tolerance};

const SUPPORTS_MOST: usize = 64;
const PLACE_MOST_M: f64 = 1e3;
const GAP_MOST_M: f64 = 100.0;
const FORCE_MOST_N: f64 = 1e9;
const MOMENT_MOST_NM: f64 = 1e12;
/// Softer than 1 N/m or stiffer than 1e15 N/m is no support.
const STIFFNESS_N_PER_M: (f64, f64) = (1.0, 1e15);
/// The least weight for which a resultant has a place.
const WEIGHT_LEAST_N: f64 = 1e-3;
const TURN_MOST_RAD: f64 = 10.0;

pub(super) fn within(
    refusals: &mut Vec<Refusal>,
    at: &str,
    what: &'static str,
    value_si: f64,
    (least_si, most_si): (f64, f64),
) {
    // What is not a number lies in no range, so this refuses it as well.
    if !(least_si..=most_si).contains(&value_si) {
        refusals.push(Refusal::Absurd { what, at: at.to_owned(), value_si, least_si, most_si });
    }
}

fn either_way(most: f64) -> (f64, f64) {
    (-most, most)
}

pub(super) fn question(question: &Question) -> Vec<Refusal> {
    let supports = question.supports.len();
    if supports == 0 {
        return vec![Refusal::NoSupports];
    }
    if supports > SUPPORTS_MOST {
        return vec![Refusal::TooManySupports { supports, most: SUPPORTS_MOST }];
    }
    let mut refusals = Vec::new();
    for spring in &question.supports {
        let at = &spring.name;
        within(&mut refusals, at, "position along", spring.x.as_m(), either_way(PLACE_MOST_M));
        within(&mut refusals, at, "position across", spring.y.as_m(), either_way(PLACE_MOST_M));
        within(&mut refusals, at, "stiffness", spring.stiffness.as_n_per_m(), STIFFNESS_N_PER_M);
        within(&mut refusals, at, "gap", spring.gap.as_m(), either_way(GAP_MOST_M));
    }
    let load = question.load;
    let at = "the load";
    within(&mut refusals, at, "weight", load.weight.as_n(), (WEIGHT_LEAST_N, FORCE_MOST_N));
    within(&mut refusals, at, "position along", load.x.as_m(), either_way(PLACE_MOST_M));
    within(&mut refusals, at, "position across", load.y.as_m(), either_way(PLACE_MOST_M));
    within(&mut refusals, at, "couple about x", load.about_x.as_nm(), either_way(MOMENT_MOST_NM));
    within(&mut refusals, at, "couple about y", load.about_y.as_nm(), either_way(MOMENT_MOST_NM));
    refusals
}

pub(super) fn claim(question: &Question, claim: &Claim, refusals: &mut Vec<Refusal>) {
    let expected = question.supports.len();
    if claim.reactions.len() != expected {
        refusals.push(Refusal::Shape { what: "reactions", expected, found: claim.reactions.len() });
    }
    for (spring, reaction) in question.supports.iter().zip(&claim.reactions) {
        within(refusals, &spring.name, "claimed reaction", reaction.as_n(), either_way(FORCE_MOST_N));
    }
    match &claim.displacement {
        Displacement::Rigid { height, about_x, about_y } => {
            let at = "the claimed displacement";
            within(refusals, at, "height", height.as_m(), either_way(PLACE_MOST_M));
            within(refusals, at, "turn about x", about_x.as_rad(), either_way(TURN_MOST_RAD));
            within(refusals, at, "turn about y", about_y.as_rad(), either_way(TURN_MOST_RAD));
        }
        Displacement::AtSupports(up) => {
            if up.len() != expected {
                refusals.push(Refusal::Shape { what: "displacements", expected, found: up.len() });
            }
            for (spring, up) in question.supports.iter().zip(up) {
                within(refusals, &spring.name, "claimed displacement", up.as_m(), either_way(PLACE_MOST_M));
            }
        }
    }
}

/// Neither the tolerance on force, nor the force of the stiffest support over the one on length, above a
/// thousandth of the weight.
pub(super) fn tolerance(question: &Question, tolerance: Tolerance, refusals: &mut Vec<Refusal>) {
    let force_most_n = question.load.weight.as_n() * 1e-3;
    let stiffest = question.supports.iter().map(|spring| spring.stiffness.as_n_per_m()).fold(1.0, f64::max);
    let limits = [
        ("force", tolerance.force.as_n(), force_most_n),
        ("length", tolerance.length.as_m(), (force_most_n / stiffest).min(1e-4)),
    ];
    for (what, value_si, most_si) in limits {
        // Without a weight there is no limit to compare with, and the weight has been refused already.
        if most_si > 0.0 && !(0.0..=most_si).contains(&value_si) {
            refusals.push(Refusal::ToleranceTooWide { what, value_si, most_si });
        }
    }
}
