//! Anchors of guys, as they were tested in this ground.

use crate::section::section;
use crate::table::above;
use crate::{Date, Load};

section! {
    /// An anchor that was pulled on, along its guy, and held.
    pub struct AnchorTest {
        /// The guy that it holds.
        guy: String, link refers Guy;
        /// The pull at which it held without moving.
        held: Load, within above("0 kN", "1000 kN");
        /// What it was pulled with.
        with: Option<String>;
        /// When it was measured.
        measured: Option<Date>;
    }
}
