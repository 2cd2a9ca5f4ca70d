//! The core as WebAssembly, and the one file that does the ground work on one phone.
//!
//! [`core`] answers one question: a visit's files in, a plan and its pages out; or one calculation. It is the same
//! code as the laptop's, and the same bytes come out. [`page`] is the file itself: pages, style, script and core in
//! one, which asks nothing of any network and can be read without script.
//!
//! Invariant: nothing is computed in the script. It carries what is typed to the core and shows what comes back.

pub mod core;
pub mod module;
pub mod page;
mod sheets;
