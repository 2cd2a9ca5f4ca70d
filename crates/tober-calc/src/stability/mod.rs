//! C5: whether the ride stands: overturning, sliding and uplift, and the worst that riders and turning can do.

mod error;
mod hull;
mod influence;
mod ride;
mod seats;
mod sweep;

pub use error::StabilityError;
pub use influence::{Influence, support_influences};
pub use ride::*;
pub use seats::*;
