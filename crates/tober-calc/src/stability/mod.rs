//! Stability: whether the ride tips, slides or lifts, and what its riders do to that.

mod error;
mod hull;
mod influence;
mod ride;
mod seats;
mod sweep;

pub use error::StabilityError;
pub use influence::{Influence, support_influences};
pub use ride::{Body, CarriedBy, Contact, InWind, Seat, Swing, Tilt, Turntable, TurntableAngles};
pub use seats::{
    Contribution, Extreme, OutOfBalance, PartialLoad, PartialLoadInput, Place, TurningMass, base_edges,
    edge_moment_places, greatest_out_of_balance, support_load_places, worst_partial_load,
};

#[cfg(test)]
mod seats_tests;
