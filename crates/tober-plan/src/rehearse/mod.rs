//! A rehearsal: what each step asks of whom, what could go wrong, what may be done instead, and the way back; and questions on it.
//!
//! Everything comes from the ride book and from what is proved of its steps. Nothing is recorded. Chance comes from a seed.

mod card;
mod quiz;

pub(crate) use card::reading_words;
pub use card::{Card, Pins, Rehearsal, Stood, outline, rehearsal};
pub use quiz::{Asked, Kind, quiz};
