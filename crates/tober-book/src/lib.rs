//! The files of Tober, read into a typed model, with diagnostics.
//!
//! One file is one thing: a ride book, a kit, a crew, a pitch, a visit, a lowered frame. Each is TOML. What a file may
//! say is declared once, in the `section!` blocks of the modules below: from that one declaration come
//! the model's types, their documentation, the errors for unknown keys, wrong kinds and values out of
//! range, the printed reference ([`describe`]), and the walk over keys that the property tests use
//! ([`optional_keys`]).
//!
//! ```
//! use tober_book::{Source, parse_kit};
//! let text = "format = 0\n[kit]\nname = \"Van 1\"\n[[board]]\nname = \"50\"\nthicknes = \"48 mm\"\n";
//! let kit = parse_kit(&Source::new("kit.toml", text));
//! assert!(kit.value.is_none());
//! assert!(kit.diagnostics.iter().any(|d| d.to_string().contains("kit.toml:6:1")));
//! ```
//!
//! What is not written is not known: an optional key that is missing is `None`, and nothing here puts a
//! value in its place that is better than one somebody could have written.
//!
//! Invariant: no file is opened here and no clock is read; text comes in, a model and diagnostics go out.

mod agree;
mod describe;
mod diagnostic;
mod document;
mod names;
mod nearest;
mod report;
mod schema;
mod section;
mod source;
mod table;
mod value;
mod wording;

mod crew;
mod frame;
mod kit;
mod pitch;
mod ride;
mod visit;
mod weighing;

pub use agree::{disagreements, frame_disagreements};
pub use crew::*;
pub use describe::describe;
pub use diagnostic::{Code, Diagnostic, Parsed, Severity};
pub use document::{Document, Found, Path};
pub use frame::*;
pub use kit::*;
pub use nearest::nearest;
pub use pitch::*;
pub use ride::*;
pub use schema::schema;
pub use source::{Place, Source, Span};
pub use table::{Bounds, Choice, FileKind, Group, Key, Kind, Link, Section, Variant, optional_keys};
pub use value::{AnyQuantity, Date, Listed, Load, MeasuredLoad, Point, Point3, Repeated, Share, TimeOfDay};
pub use visit::*;
pub use weighing::*;
