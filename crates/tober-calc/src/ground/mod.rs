//! C4, ground and timber: whether the ground takes a leg, and whether its packing does.
//!
//! [`spread()`] follows a load down a stack; [`ground_findings`] holds the pressure against a presumptive table,
//! a report or a sink test; [`crushing_of_stack`] looks at each bearing on the way; [`stack_stiffness`]
//! says how springy it all is.
//!
//! Invariant: presumptive tables count for dry ground below the topsoil only. Whatever is left unsaid makes
//! a finding *not known*, and no finding about ground can be overridden.

mod bearing;
mod capacity;
mod crib;
mod crushing;
mod eccentric;
mod error;
mod mat;
mod pin;
mod presumptive;
mod settle;
mod sink;
mod spread;
mod stiffness;
mod timber;

pub use bearing::{
    Allowed, Ground, Surface, Wetness, allowed_by_cone, allowed_by_vane, ground_findings, ground_pressure,
};
pub use capacity::{
    Factors, Method, OnSoil, SAFETY, SAFETY_LEAST, Soil, capacities, capacity, capacity_finding,
    depth_factor, factors, shape_factors, undrained_allowed,
};
pub use crib::{crib_capacity, crib_height_most, crossing_capacity};
pub use crushing::{
    Bearing, Crush, LoadDuration, Service, TimberUse, bearing_area_factor, crushing, crushing_of_stack,
    modification_factor,
};
pub use eccentric::{EdgePressure, edge_pressure, effective_base};
pub use error::GroundError;
pub use mat::{bending_across_grain, bending_of_stack};
pub use pin::{EyePlate, EyeStrength, Pin, Planes, eye_plate, pin_findings};
pub use presumptive::{
    Confidence, GroundClass, GroundKind, PresumptiveTable, TABLES, Thumb, cautious_class, class_by_picket,
    class_by_thumb, presumptive_table, water_factor,
};
pub use settle::{
    CYCLIC_SHARE, Cycling, READ_AGAIN_AT, cyclic_sink, elastic_sink, middle_factor, read_again_hours,
};
pub use sink::{BEYOND_TEST_MOST, SAME_SIZE_WITHIN, SinkTest, WAIT_LEAST_MIN, sink_under_load};
pub use spread::{
    Grain, Layer, PlanSize, SoilSpread, Spread, Stack, area_needed, base_most, pressure_at_depth, spread,
};
pub use stiffness::{StiffnessBand, ground_stiffness, stack_stiffness};
pub use timber::{METALS, TIMBERS, Timber, TimberStandard, metal, timber};

#[cfg(test)]
mod tests;
