//! C3: what each support carries, whether that is the only answer, and when the frame tips instead.
//!
//! [`solve`] answers for one set of known numbers: a rigid frame on springs that can push and not
//! pull, each with a gap to close first. [`band`] answers for what a crew really knows, which is a range
//! for every gap, mass and stiffness. [`statics_bound`] answers when nothing is known of the springs.
//!
//! Axes: x along the frame, y across it, z up, right-handed; moments and turns follow the
//! right-hand rule. Displacements are small, springs are linear, there is no friction and no
//! horizontal load.
//!
//! The frame moves by `u = z + theta_x*y - theta_y*x`; support i has the compression
//! `c = -u(x_i, y_i) - g_i` and pushes up with `R = k*max(0, c)`. Equilibrium asks for `sum R = W`,
//! `sum R*y = W*y_W - Mx` and `sum R*x = W*x_W + My`, so the resultant acts at
//! `(x_W + My/W, y_W - Mx/W)`. It can be met if and only if that point is in the hull of the supports.
//!
//! Invariant: no answer leaves this module without its certificate, and the certificate is worked
//! out from the answer alone, never taken from the search that found it.

mod band;
mod bearing;
mod certificate;
mod error;
mod findings;
pub mod flexible;
mod hull;
mod influence;
mod iteration;
mod linear;
mod reading;
mod search;
mod solved;
mod solver;
mod spring;
mod statics;
mod tipping;
mod uncertain;

pub use band::{Asked, Band, BandAnswer, SupportBand, Witness, band, band_of};
pub use bearing::Bearing;
pub use certificate::Certificate;
pub use error::{Limit, SupportsError};
pub use findings::{Leg, Role, Situation, Weight, findings, found, readings_not_known};
pub use influence::{Influence, Input, influences, influences_of};
pub use reading::{Apart, Disagreement, FootRead, Reading, disagreement};
pub use solved::solved_findings;
pub use solver::{
    Answer, AnswerRef, Becomes, ContactChange, Displacement, Edge, Solver, Stands, Tips, solve,
};
pub use spring::{Layer, ground_under, in_series, timber_stack};
pub use statics::statics_bound;
pub use tipping::Tipping;
pub use uncertain::{Between, Burden, Place, Seen, Spot, UncertainLoad, UncertainSupport};

use tober_quantity::{Force, Length, Moment, Stiffness};

/// One support: where it stands, how it yields, and how far it is from touching.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Support {
    /// Where it stands along the frame.
    pub x: Length,
    /// Where it stands across the frame.
    pub y: Length,
    /// Force for each length of shortening: leg, timber and ground in series.
    pub stiffness: Stiffness,
    /// Clear distance from its top to the frame in the datum position; negative where it stands too high.
    pub gap: Length,
}

/// What the frame weighs and where, with couples beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// The weight, positive downward.
    pub down: Force,
    /// Where it acts along the frame.
    pub x: Length,
    /// Where it acts across the frame.
    pub y: Length,
    /// The couple about the x axis.
    pub moment_x: Moment,
    /// The couple about the y axis.
    pub moment_y: Moment,
}

impl Load {
    /// A weight alone.
    pub fn weight(down: Force, x: Length, y: Length) -> Self {
        Self { down, x, y, moment_x: Moment::ZERO, moment_y: Moment::ZERO }
    }
}
