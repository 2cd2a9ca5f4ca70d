//! A visit's entries as codes on a screen: packed, cut into parts, drawn, and read again.
//!
//! A part is the text `TOBER0/N/M/HASH/DATA`: format 0, part N of M, the first eight digits of the hash of the whole,
//! and base45 (RFC 9285), whose letters are those that a QR code holds most tightly. A phone's camera shows the text; it
//! can be pasted in any order, with repetitions, and with other words around it.

mod base45;
mod columns;
mod parts;
#[cfg(feature = "photo")]
mod photo;
mod picture;

pub use parts::{Collected, PART_LETTERS_MAX, codes, collect};
#[cfg(feature = "photo")]
pub use photo::{PHOTO_SIDE_MAX, texts_in};
pub use picture::{Modules, QUIET_MODULES, modules, svg};
