//! Lengths, forces, angles and their like: parsed, printed and converted.
//!
//! Every physical value that crosses a crate border is one of the types of this crate. A value is
//! made by a function named for its unit and read by a function named for its unit, so that no bare
//! number has to be guessed at:
//!
//! ```
//! use tober_quantity::Length;
//! let board = Length::mm(38.0);
//! assert!((board.as_in() - 1.496).abs() < 0.001);
//! ```
//!
//! Inside, everything is SI. [`Unit`] is the one table of units; parsing, printing and the working
//! of a finding all read it.
//!
//! Invariant: this crate knows nobody, and has never heard of a file, a clock or a screen.

pub mod maths;

mod amount;
mod band;
mod dimension;
mod error;
mod fraction;
mod kind;
mod number;
mod parse;
mod print;
mod prose;
mod quantity;
mod sets;
mod significant;
mod spelling;
mod tenth;
mod unit;
mod words;

pub use amount::{Amount, Shown};
pub use band::{Band, Limit, print_off_by, print_target, share_percent};
pub use dimension::Dimension;
pub use error::{QuantityError, Refusal};
pub use kind::Kind;
pub use print::Rounding;
pub use prose::{fine_enough, in_units_of, in_words_of, print_range};
pub use quantity::{
    Acceleration, Angle, Area, Current, Density, Force, FrequencyOfTurning, Inertia, Length, Mass, Moment,
    Power, Pressure, Quantity, Ratio, SecondMoment, Slope, Speed, Stiffness, Subgrade, Temperature, Time,
    Toleranced, Voltage,
};
pub use sets::{UnitSet, UnknownSet, WordSet};
pub use significant::significant;
pub use tenth::TenthMm;
pub use unit::Unit;
pub use words::Word;
