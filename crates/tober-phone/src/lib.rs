//! The core as WebAssembly, and the one file that does the ground work on one phone.
//!
//! [`core`] answers one question: a visit's files and the entries made so far in, the sheets out. It is the same
//! code as the laptop's, and the same bytes come out. [`page`] is the file itself: pages, style, script and core in
//! one, which asks nothing of any network and can be read without script.
//!
//! What is shown is a function of the files and the entries alone. Entries are those of `tober-log`: a phone by
//! itself signs nothing, so they are proposals until a device of the van takes them over.
//!
//! Invariant: nothing is computed in the script. It carries what is typed to the core, keeps the entries that come
//! back, and shows the rest.

pub mod core;
mod fields;
mod frame;
mod hand;
mod html;
mod kept;
pub mod module;
pub mod page;
mod sheets;
mod stands;
mod typed;
