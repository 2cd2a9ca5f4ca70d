//! Entries, their chains, what stands, and how they are handed over.
//!
//! # Theory
//!
//! Nothing that was entered is ever changed or removed. Each writer (a [`Fields::device`]: on a phone, one opening of
//! the page) keeps one chain of [`Entry`]s: number `seq` from 1, each naming the hash of the one before it,
//!
//! hash = SHA-256(0x00 ‖ canonical bytes), canonical bytes = deterministic CBOR (RFC 8949, section 4.2) of every
//! field but the signature.
//!
//! A correction is a new entry that names those it replaces. [`Log::gather`] brings any number of chains together, in
//! any order and with repetitions, into one log; what stands is a pure fold over it ([`Log::what_stands`]). Order
//! across devices is by the hybrid clock [`Hlc`], then device, then `seq`; the wall time is shown and never sorts.
//!
//! # What is promised, and where it is broken on purpose
//!
//! An entry cannot be altered through this interface, and altering the text form shows (`tests/tampering.rs`). The same
//! entries give the same log whatever their order (`tests/merging.rs`). Two that disagree both stand. An entry of a kind
//! that this version does not know is kept and chained like any other.
//!
//! # What is not covered
//!
//! Signatures are carried and not checked; so no entry counts as a record yet ([`Entry::counts`]). There is no store:
//! texts and bytes come in and go out. A whole file made up by somebody who works out every hash anew cannot be told
//! from an honest one without a head ([`Head`]) that came another way.
//!
//! Invariant: this crate knows none of our others. What an entry means is known to those above.

mod canonical;
mod clock;
mod entry;
mod error;
mod hash;
mod line;
mod log;
#[cfg(feature = "qr")]
pub mod qr;
mod stands;
pub mod text;
mod trouble;

pub use canonical::canonical_bytes;
pub use clock::{AHEAD_MS_MAX, Hlc, Now, wall_text};
pub use entry::{Body, Draft, Entry, EntryId, Fields, Named, next};
pub use error::Refused;
pub use hash::Hash;
pub use log::{Head, Log};
pub use stands::{Stands, Subject};
pub use trouble::Trouble;
