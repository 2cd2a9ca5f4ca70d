//! A frame that bends and twists: a grillage of beams, condensed once to what its supports need.
//!
//! Nodes lie in one plane and move up by `w` and turn by `theta_x`, `theta_y`; straight prismatic
//! Euler-Bernoulli members join them rigidly. With `(c, s)` the direction of a member of length L from
//! node 1 to node 2, its ends slope along it by `phi = theta_x*s - theta_y*c` and twist about it by
//! `tau = theta_x*c + theta_y*s`. Against its chord, `a = phi_1 - (w_2 - w_1)/L` and `b` likewise:
//! `M_1 = (EI/L)(4a + 2b)`, `M_2 = (EI/L)(2a + 4b)`, `T = (GJ/L)(tau_2 - tau_1)`, shear `(M_1 + M_2)/L`.
//!
//! The motion is taken apart into a plane through three of the supports and what the frame bends from it.
//! So a frame as stiff as can be is no harder than a soft one: its bending goes to nothing, and what is
//! left is the rigid frame. [`Condensed`] eliminates once whatever is not the height of a further support;
//! every load is then one [`Column`], and [`BeamsSolver`] finds the springs in contact by the scheme of the
//! rigid frame.
//!
//! Not covered: shear deformation, warping, offsets at joints, loads between nodes (put a node there),
//! the frame's own weight unless it is given as loads.

mod attach;
mod certificate;
mod condense;
mod contact;
mod error;
mod findings;
mod solve;

pub use attach::{Attached, attach};
pub use certificate::BentCertificate;
pub use condense::{Column, Condensed, NodeLoad};
pub use error::{BeamsError, Turn};
pub use findings::{bent_stands, bent_tips};
pub use solve::{BeamsSolver, Bent, BentAnswer, FootSpring, MemberForces, NodeMove};

use super::uncertain::Spot;
use tober_quantity::{Pressure, SecondMoment};

/// A frame of beams in one plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Beams {
    /// The nodes.
    pub nodes: Vec<Spot>,
    /// The members between them.
    pub members: Vec<Beam>,
}

/// A straight prismatic member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beam {
    /// The node it begins at.
    pub from: usize,
    /// The node it ends at.
    pub to: usize,
    /// Modulus of elasticity, E.
    pub elasticity: Pressure,
    /// Second moment of area for bending up and down, I.
    pub second_moment: SecondMoment,
    /// Shear modulus, G.
    pub shear_modulus: Pressure,
    /// St Venant torsion constant, J.
    pub torsion_constant: SecondMoment,
}
