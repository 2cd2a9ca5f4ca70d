//! C5: whether the ride stands: overturning, sliding and uplift, and the worst that riders and turning can do.

mod actions;
mod error;
mod extremes;
mod factors;
mod findings;
mod friction;
mod guys;
mod hull;
mod influence;
mod overturning;
mod ride;
mod seats;
mod situation;
mod sliding;
mod stowed;
mod stowing;
mod sweep;

pub use actions::ActionKind;
pub use error::StabilityError;
pub use extremes::{SupportExtremes, support_extremes};
pub use factors::FactorSet;
pub use findings::{Sources, findings};
pub use friction::{Condition, Friction, Interface, Surface, friction};
pub use guys::Guy;
pub use influence::{Influence, support_influences};
pub use overturning::{Answer, EdgeAction, EdgeCheck, EdgeLoad, Overturning, overturning};
pub use ride::{Body, CarriedBy, Contact, InWind, Seat, Swing, Tilt, Turntable, TurntableAngles};
pub use seats::{
    Contribution, Extreme, OutOfBalance, PartialLoad, PartialLoadInput, Place, TurningMass, base_edges,
    edge_moment_places, greatest_out_of_balance, support_load_places, worst_partial_load,
};
pub use situation::{Situation, StabilityInput, WindAction};
pub use sliding::{Sliding, Uplift, sliding, uplift};

pub use stowed::stowing_finding;
pub use stowing::{Rung, Stowing, StowingInput, Withstood, stowing, withstood};

#[cfg(test)]
mod more_tests;
#[cfg(test)]
mod seats_tests;
#[cfg(test)]
mod stand_tests;
#[cfg(test)]
mod wheel_tests;
