//! The proof that goes with the answer of a frame that bends.

use super::condense::{Column, Condensed};
use super::solve::{Bent, FootSpring};
use tober_quantity::{Force, Moment, Quantity};

/// What shows, by itself, that the reactions are right, worked out on the frame before it was condensed.
///
/// Displacements of the nodes whose member forces balance load and reactions at every node, with reactions
/// that push only and each follow from the displacement of their node by `R = k*max(0, -u - g)`, meet the
/// conditions of a convex problem that are necessary and sufficient; its reactions are the only ones.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BentCertificate {
    /// The greatest force left over at a node, over the load.
    pub force_residual: f64,
    /// The greatest couple left over at a node, over the load times the extent.
    pub moment_residual: f64,
    /// The greatest `|R - k*max(0, c)|`, over the load.
    pub spring_residual: f64,
    /// The least reaction over the load; never negative.
    pub least_reaction: f64,
}

impl BentCertificate {
    /// What a residual must not be above.
    pub const RESIDUAL_MOST: f64 = 1e-9;

    /// The greatest residual.
    pub fn residual(&self) -> f64 {
        self.force_residual.max(self.moment_residual).max(self.spring_residual).max(-self.least_reaction)
    }

    /// Whether the answer is proved to 1e-9 of the load.
    pub fn holds(&self) -> bool {
        // Written so that a residual that is not a number fails.
        self.residual() <= Self::RESIDUAL_MOST
            && self.force_residual.is_finite()
            && self.moment_residual.is_finite()
            && self.spring_residual.is_finite()
    }
}

/// The greater, passing over nothing: a maximum would pass over what is not a number.
fn worse(most: f64, next: f64) -> f64 {
    let next = next.abs();
    if next > most || !next.is_finite() { next } else { most }
}

/// Works the certificate and the forces of the members out of the answer alone.
pub(super) fn certify(
    frame: &Condensed,
    feet: &[FootSpring],
    column: &Column,
    extent: f64,
    answer: &mut Bent,
    left: &mut Vec<f64>,
) {
    let weight = column.sums[0];
    left.clear();
    left.extend_from_slice(&column.at_nodes);
    let mut certificate = BentCertificate { least_reaction: f64::INFINITY, ..BentCertificate::default() };
    for ((&node, foot), reaction) in frame.feet.iter().zip(feet).zip(&answer.reactions) {
        let r = reaction.si();
        left[3 * node] += r;
        let pressed = -answer.nodes[node].up.si() - foot.gap.si();
        let off = r - foot.stiffness.si() * pressed.max(0.0);
        certificate.spring_residual = worse(certificate.spring_residual, off / weight);
        certificate.least_reaction = certificate.least_reaction.min(r / weight);
    }
    answer.forces.clear();
    for line in &frame.members {
        // The plane bends nothing, so what is bent from it gives the forces without loss of figures.
        let bent = |k: usize| answer.bent[if k < 3 { 3 * line.from + k } else { 3 * line.to + k - 3 }];
        let modes = line.modes();
        let [a, b, t] =
            modes.map(|mode| mode.iter().enumerate().map(|(k, part)| part * bent(k)).sum::<f64>());
        let from = line.bend * (4.0 * a + 2.0 * b);
        let to = line.bend * (2.0 * a + 4.0 * b);
        let torque = line.twist * t;
        for k in 0..6 {
            let held = modes[0][k] * from + modes[1][k] * to + modes[2][k] * torque;
            left[if k < 3 { 3 * line.from + k } else { 3 * line.to + k - 3 }] -= held;
        }
        answer.forces.push(super::MemberForces {
            moment_from: Moment::nm(from),
            moment_to: Moment::nm(to),
            torque: Moment::nm(torque),
            shear: Force::n((from + to) / line.length),
        });
    }
    for node in left.chunks_exact(3) {
        certificate.force_residual = worse(certificate.force_residual, node[0] / weight);
        let couple = worse(node[1].abs(), node[2]);
        certificate.moment_residual = worse(certificate.moment_residual, couple / (weight * extent));
    }
    answer.certificate = certificate;
}
