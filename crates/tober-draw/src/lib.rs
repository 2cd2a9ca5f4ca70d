//! Plans and stages as drawings.
//!
//! A drawing is SVG text that stands alone or takes its style from the page around it. Every drawing
//! has a title and a description that say the whole content, every figure in it is also in
//! [`table()`], and the same plan gives the same bytes. Word, shape and colour tell a state, in that
//! order of trust.
//!
//! Invariant: this crate judges nothing and computes nothing but places on a sheet. Standings, figures
//! and words come from the plan.

mod door;
mod error;
mod figures;
mod ground_plan;
mod label;
mod mark;
mod note;
mod picture;
mod place;
mod scene;
mod sheet;
mod side_strip;
pub mod solid;
mod stack;
mod style;
mod table;

#[cfg(feature = "png")]
mod png;

pub use error::DrawError;
pub use ground_plan::{Orientation, ground_plan};
pub use mark::Mark;
pub use picture::{
    card_picture, load_strip, seen_of_step, stage_views, step_picture, step_picture_for_phone,
};
#[cfg(feature = "png")]
pub use png::png;
pub use side_strip::{RideSide, side_strip};
pub use stack::{stack, stack_of_step};
pub use style::{Palette, STYLE, StyleSheet, fixed_style};
pub use table::{Table, table};
