//! The calculations, with findings and their working.
//!
//! One module for each calculation. Each is a function of its typed inputs and of nothing else.
//!
//! Invariant: nothing here reads a file, a clock or chance, or knows what a ride book looks like.

pub mod finding;
pub mod ground;
pub mod lift;
pub mod orders;
pub mod packing;
pub mod reach;
pub mod riders_off;
pub mod stability;
pub mod supports;
pub mod survey;
pub mod weighing;
pub mod wind;
pub mod working;
