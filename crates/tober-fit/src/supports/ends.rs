//! Do the least and the greatest load of each support, over everything that is not known, come about as claimed?
//!
//! Each end is claimed with a *case*: one number within every range, with the reactions that follow. A case is checked as any
//! claim is ([`check`]), its numbers must lie within their ranges, and each of its reactions must lie within the ends claimed
//! for its support: one case that gives any support more than its band shows that band wrong.
//!
//! # Not covered
//! That no case gives more than a claimed end: that would want a proof of the search, and none is handed over. For a frame
//! of beams, that it bends as claimed ([`Frame::NotAsked`]).

use super::{Claim, Displacement, Frame, Load, Question, Refusal, Spring, Tolerance, check};
use tober_quantity::{Force, Length, Moment, Quantity, Stiffness};

/// Numbers are scaled and scaled back on their way into a case; they may leave their range by this share of its size.
const ROUNDING: f64 = 1e-9;

/// A support of which only ranges are known.
#[derive(Clone, Debug, PartialEq)]
pub struct RangedSupport {
    /// Its name.
    pub name: String,
    /// Position along the frame.
    pub x: Length,
    /// Position across the frame.
    pub y: Length,
    /// The least and the greatest stiffness.
    pub stiffness: (Stiffness, Stiffness),
    /// The least and the greatest gap.
    pub gap: (Length, Length),
}

/// A weight between two ends.
#[derive(Clone, Debug, PartialEq)]
pub struct RangedWeight {
    /// Its name.
    pub name: String,
    /// Where it acts along the frame.
    pub x: Length,
    /// Where it acts across the frame.
    pub y: Length,
    /// The least and the greatest force downward.
    pub down: (Force, Force),
}

/// A frame of which only ranges are known.
#[derive(Clone, Debug, PartialEq)]
pub struct BandQuestion {
    /// The supports.
    pub supports: Vec<RangedSupport>,
    /// What rests on it.
    pub weights: Vec<RangedWeight>,
    /// The least and the greatest couple about the x axis.
    pub about_x: (Moment, Moment),
    /// The least and the greatest couple about the y axis.
    pub about_y: (Moment, Moment),
}

/// One choice of everything that is not known, and what follows.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Stiffness and gap of each support.
    pub springs: Vec<(Stiffness, Length)>,
    /// Each weight.
    pub weights: Vec<Force>,
    /// The couple about the x axis.
    pub about_x: Moment,
    /// The couple about the y axis.
    pub about_y: Moment,
    /// The reactions, and how the frame moved.
    pub claim: Claim,
}

/// What is claimed of one support.
#[derive(Clone, Debug, PartialEq)]
pub struct Ends {
    /// It carries no less.
    pub low: Force,
    /// It carries no more.
    pub high: Force,
    /// The case in which it carries least, where one is given.
    pub lightest: Option<Case>,
    /// The case in which it carries most, where one is given.
    pub heaviest: Option<Case>,
    /// Whether the cases are said to reach the ends.
    pub reached: bool,
}

/// What the check of sound bands found.
#[derive(Clone, Debug, PartialEq)]
pub struct BandVerdict {
    /// The supports for which no greatest case was given, so that their high end was not checked.
    pub unchecked: Vec<String>,
    /// Whether the frame's own stiffness was part of the check.
    pub frame: Frame,
}

/// Checks claimed bands. The tolerances are shares of the greatest weight, and of how far it presses the stiffest support
/// in.
///
/// # Errors
/// All refusals, support by support.
pub fn check_band(question: &BandQuestion, claim: &[Ends], share: f64) -> Result<BandVerdict, Vec<Refusal>> {
    let expected = question.supports.len();
    if claim.len() != expected {
        return Err(vec![Refusal::Shape { what: "bands", expected, found: claim.len() }]);
    }
    let weight: f64 = question.weights.iter().map(|w| w.down.1.as_n().max(0.0)).sum();
    let mut refusals = Vec::new();
    let mut verdict = BandVerdict { unchecked: Vec::new(), frame: Frame::Rigid };
    for (at, (support, ends)) in question.supports.iter().zip(claim).enumerate() {
        if ends.heaviest.is_none() {
            verdict.unchecked.push(support.name.clone());
        }
        for (case, end) in [(&ends.lightest, ends.low), (&ends.heaviest, ends.high)] {
            let Some(case) = case else { continue };
            match in_ranges(question, case, share) {
                Err(wrong) => refusals.extend(wrong),
                Ok(frame) => {
                    if frame == Frame::NotAsked {
                        verdict.frame = frame;
                    }
                    let off = share * weight;
                    within_bands(question, claim, case, off, &mut refusals);
                    let reaction = case.claim.reactions[at];
                    if ends.reached && (reaction - end).abs().as_n() > off {
                        let support = support.name.clone();
                        refusals.push(Refusal::EndNotReached { support, reaction, end });
                    }
                }
            }
        }
    }
    if refusals.is_empty() { Ok(verdict) } else { Err(refusals) }
}

/// Checks bands that a reading of the feet cut: none may lie outside what it was without the reading.
///
/// # Errors
/// Each support whose band grew, or that is missing.
pub fn check_cut(
    names: &[String],
    before: &[(Force, Force)],
    after: &[(Force, Force)],
) -> Result<(), Vec<Refusal>> {
    let expected = names.len();
    if let Some(found) = [before.len(), after.len()].into_iter().find(|&found| found != expected) {
        return Err(vec![Refusal::Shape { what: "bands", expected, found }]);
    }
    let mut refusals = Vec::new();
    for ((name, &(low, high)), &cut) in names.iter().zip(before).zip(after) {
        let off = Force::n(high.as_n().abs() * ROUNDING);
        for reaction in [cut.0, cut.1] {
            // What is not a number lies in no band.
            if !(reaction >= low - off && reaction <= high + off) {
                refusals.push(Refusal::OutsideItsBand { support: name.clone(), reaction, low, high });
            }
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

fn in_ranges(question: &BandQuestion, case: &Case, share: f64) -> Result<Frame, Vec<Refusal>> {
    let supports = question.supports.len();
    let mut refusals = Vec::new();
    for (what, expected, found) in [
        ("springs", supports, case.springs.len()),
        ("weights", question.weights.len(), case.weights.len()),
        ("reactions", supports, case.claim.reactions.len()),
    ] {
        if expected != found {
            refusals.push(Refusal::Shape { what, expected, found });
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let mut within = |what: &'static str, at: &str, value_si: f64, (least_si, most_si): (f64, f64)| {
        let off = ROUNDING * least_si.abs().max(most_si.abs());
        if !(value_si >= least_si - off && value_si <= most_si + off) {
            refusals.push(Refusal::OutsideItsRange { what, at: at.to_owned(), value_si, least_si, most_si });
        }
    };
    for (support, &(stiffness, gap)) in question.supports.iter().zip(&case.springs) {
        let of = &support.stiffness;
        within("stiffness", &support.name, stiffness.si(), (of.0.si(), of.1.si()));
        within("gap", &support.name, gap.si(), (support.gap.0.si(), support.gap.1.si()));
    }
    for (weight, &down) in question.weights.iter().zip(&case.weights) {
        within("weight", &weight.name, down.si(), (weight.down.0.si(), weight.down.1.si()));
    }
    let load = "the load";
    within("couple about x", load, case.about_x.si(), (question.about_x.0.si(), question.about_x.1.si()));
    within("couple about y", load, case.about_y.si(), (question.about_y.0.si(), question.about_y.1.si()));
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let (mut down, mut along, mut across) = (0.0, 0.0, 0.0);
    for (weight, force) in question.weights.iter().zip(&case.weights) {
        down += force.as_n();
        along += force.as_n() * weight.x.as_m();
        across += force.as_n() * weight.y.as_m();
    }
    let spring = |(support, &(stiffness, gap)): (&RangedSupport, &(Stiffness, Length))| Spring {
        name: support.name.clone(),
        x: support.x,
        y: support.y,
        stiffness,
        gap,
    };
    let springs: Vec<Spring> = question.supports.iter().zip(&case.springs).map(spring).collect();
    let stiffest = case.springs.iter().map(|(k, _)| k.as_n_per_m()).fold(1.0, f64::max);
    let tolerance =
        Tolerance { force: Force::n(share * down), length: Length::m((share * down / stiffest).min(1e-4)) };
    let load = Load {
        weight: Force::n(down),
        x: Length::m(along / down),
        y: Length::m(across / down),
        about_x: case.about_x,
        about_y: case.about_y,
    };
    check(&Question { supports: springs, load }, &case.claim, tolerance)?;
    Ok(match case.claim.displacement {
        Displacement::Rigid { .. } => Frame::Rigid,
        Displacement::AtSupports(_) => Frame::NotAsked,
    })
}

fn within_bands(
    question: &BandQuestion,
    claim: &[Ends],
    case: &Case,
    off_n: f64,
    refusals: &mut Vec<Refusal>,
) {
    let off = Force::n(off_n);
    for ((support, ends), &reaction) in question.supports.iter().zip(claim).zip(&case.claim.reactions) {
        if !(reaction >= ends.low - off && reaction <= ends.high + off) {
            let (support, low, high) = (support.name.clone(), ends.low, ends.high);
            refusals.push(Refusal::OutsideItsBand { support, reaction, low, high });
        }
    }
}
