//! Do claimed reactions carry the load, or does the frame tip as claimed?
//!
//! Axes: x along the frame, y across it, z up, right-handed; small displacements, no friction, no horizontal load.
//! A rigid frame that goes up by `z0` at the origin and turns by `theta_x`, `theta_y` goes up at (x, y) by
//! `u = z0 + theta_x y - theta_y x`. A support of stiffness `k` whose top is the gap `g` below the frame at `u = 0` is
//! pressed together by `c = -u - g` and pushes up with `R = k max(0, c)`. Under the weight `W` at (x_W, y_W) and the
//! couples `M_x`, `M_y`:
//!
//! `sum R = W`, `sum R (y - y_W) = -M_x`, `sum R (x - x_W) = M_y`.
//!
//! For a rigid frame these conditions are necessary and sufficient: they are the optimality conditions of a convex
//! problem whose reactions are unique, so reactions and a displacement that keep them *are* the answer, however found.
//!
//! The frame tips if and only if the resultant, at (x_W + M_y / W, y_W - M_x / W), is outside the convex hull of the
//! supports; the certificate is a direction in which it is farther out than every support.
//!
//! # Range of validity
//! Supports up to 1 km away, forces up to 1 GN, at most 64 supports. A claim is checked in doubles: it is right to
//! within the tolerance, which is why the tolerance has a ceiling of its own.
//!
//! # Not covered
//! Whether a flexible frame can take the displacements that are claimed for its supports alone (see
//! [`Displacement`]; with nodes and members it is checked by [`check_beams`]); strength. Where only ranges are known, [`check_band`].

mod beams;
mod door;
mod ends;
mod refusal;
mod tips;

pub use beams::{BeamsClaim, BeamsQuestion, BeamsVerdict, Member, check_beams};
pub use ends::{BandQuestion, BandVerdict, Case, Ends, RangedSupport, RangedWeight, check_band, check_cut};
pub use refusal::Refusal;
pub use tips::{Tipping, Tips, check_tips};

use tober_quantity::{Angle, Force, Length, Moment, Stiffness};

/// A frame on springs that can only push.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The supports.
    pub supports: Vec<Spring>,
    /// What they carry.
    pub load: Load,
}

/// One support.
#[derive(Clone, Debug, PartialEq)]
pub struct Spring {
    /// Its name.
    pub name: String,
    /// Position along the frame.
    pub x: Length,
    /// Position across the frame.
    pub y: Length,
    /// Stiffness of leg, packing and ground together.
    pub stiffness: Stiffness,
    /// Clear distance from its top to the frame in the datum position; negative where it is too high.
    pub gap: Length,
}

/// A weight and two couples.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// The weight, downward.
    pub weight: Force,
    /// Where it acts along the frame.
    pub x: Length,
    /// Where it acts across the frame.
    pub y: Length,
    /// Couple about the x axis, right-handed.
    pub about_x: Moment,
    /// Couple about the y axis, right-handed.
    pub about_y: Moment,
}

/// Claimed reactions and the displacement that goes with them.
#[derive(Clone, Debug, PartialEq)]
pub struct Claim {
    /// What each support pushes up with, in the question's order.
    pub reactions: Vec<Force>,
    /// How the frame has moved.
    pub displacement: Displacement,
}

/// How the frame has moved from its datum position.
#[derive(Clone, Debug, PartialEq)]
pub enum Displacement {
    /// As a rigid body.
    Rigid {
        /// Upward movement at the origin.
        height: Length,
        /// Rotation about the x axis.
        about_x: Angle,
        /// Rotation about the y axis.
        about_y: Angle,
    },
    /// Upward by this at each support. That the frame can bend so is not checked, and the verdict says that.
    AtSupports(Vec<Length>),
}

/// How far a claim may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// On each force, at most a thousandth of the weight. Moments get this times the distance of the farthest support.
    pub force: Force,
    /// On each displacement: at most a tenth of a millimetre, and at most what changes the force of the stiffest
    /// support by a thousandth of the weight.
    pub length: Length,
}

/// What the check of sound reactions found.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// Sum of the reactions less the weight.
    pub force_left: Force,
    /// Moment about the x axis that is left over.
    pub about_x_left: Moment,
    /// Moment about the y axis that is left over.
    pub about_y_left: Moment,
    /// Greatest difference between a reaction and what its spring gives.
    pub law_worst: Force,
    /// The supports that stand clear or carry nothing.
    pub lifted: Vec<String>,
    /// Whether the frame's own stiffness was part of the check.
    pub frame: Frame,
}

/// Whether the displacements were shown to be those of one frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Frame {
    /// They are those of a rigid body.
    Rigid,
    /// They were taken as claimed at each support, so these need not be the reactions of any real frame.
    NotAsked,
}

/// Checks claimed reactions.
///
/// Every support must push and not pull, follow `R = k max(0, -u - g)` within `force + k length`, and all of them must be
/// in equilibrium with the load within the tolerance.
///
/// # Errors
/// All refusals: at the door alone, or of the supports in their order and then of equilibrium.
pub fn check(question: &Question, claim: &Claim, tolerance: Tolerance) -> Result<Verdict, Vec<Refusal>> {
    let mut refusals = door::question(question);
    door::claim(question, claim, &mut refusals);
    door::tolerance(question, tolerance, &mut refusals);
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let (law_worst, lifted) = springs(question, claim, tolerance, &mut refusals);
    let left = equilibrium(question, claim, tolerance, &mut refusals);
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let frame = match claim.displacement {
        Displacement::Rigid { .. } => Frame::Rigid,
        Displacement::AtSupports(_) => Frame::NotAsked,
    };
    let (force_left, about_x_left, about_y_left) = left;
    Ok(Verdict { force_left, about_x_left, about_y_left, law_worst, lifted, frame })
}

/// `R >= 0` and `R = k max(0, -u - g)` at each support: the worst difference, and which are lifted.
fn springs(
    question: &Question,
    claim: &Claim,
    tolerance: Tolerance,
    refusals: &mut Vec<Refusal>,
) -> (Force, Vec<String>) {
    let mut law_worst = Force::ZERO;
    let mut lifted = Vec::new();
    for (at, (spring, &reaction)) in question.supports.iter().zip(&claim.reactions).enumerate() {
        let support = spring.name.clone();
        let up = match &claim.displacement {
            Displacement::Rigid { height, about_x, about_y } => {
                *height + spring.y * about_x.as_rad() - spring.x * about_y.as_rad()
            }
            Displacement::AtSupports(up) => up[at],
        };
        let pressed = -up - spring.gap;
        let force_of = |length: Length| Force::n(spring.stiffness.as_n_per_m() * length.as_m());
        let law = force_of(pressed.max(Length::ZERO));
        law_worst = law_worst.max((reaction - law).abs());
        if reaction == Force::ZERO || pressed < -tolerance.length {
            lifted.push(support.clone());
        }
        if reaction < Force::ZERO {
            refusals.push(Refusal::Pulls { support, reaction });
        } else if pressed < -tolerance.length && reaction > tolerance.force {
            refusals.push(Refusal::CarriesWhileClear { support, reaction, clear: -pressed });
        } else if (reaction - law).abs() > tolerance.force + force_of(tolerance.length) {
            refusals.push(Refusal::OffItsLaw { support, reaction, law });
        }
    }
    (law_worst, lifted)
}

/// The three equations of equilibrium, with moments about the weight so that no figures are lost in a far origin.
fn equilibrium(
    question: &Question,
    claim: &Claim,
    tolerance: Tolerance,
    refusals: &mut Vec<Refusal>,
) -> (Force, Moment, Moment) {
    let load = question.load;
    let mut force_left = -load.weight;
    let (mut about_x_left, mut about_y_left) = (load.about_x, -load.about_y);
    let mut farthest = Length::ZERO;
    for (spring, &reaction) in question.supports.iter().zip(&claim.reactions) {
        let (arm_x, arm_y) = (spring.x - load.x, spring.y - load.y);
        force_left = force_left + reaction;
        about_x_left = about_x_left + reaction * arm_y;
        about_y_left = about_y_left + reaction * arm_x;
        farthest = farthest.max(arm_x.abs()).max(arm_y.abs());
    }
    if force_left.abs() > tolerance.force {
        let sum = force_left + load.weight;
        refusals.push(Refusal::ForcesDoNotBalance { sum, weight: load.weight, most: tolerance.force });
    }
    let most = tolerance.force * farthest;
    for (axis, left) in [("x", about_x_left), ("y", about_y_left)] {
        if left.abs() > most {
            refusals.push(Refusal::MomentsDoNotBalance { axis, left, most });
        }
    }
    (force_left, about_x_left, about_y_left)
}
