//! The two sets of trade words, one for each side of the ocean.

/// Which side's words a sheet uses. Chosen by the visit, apart from the units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum WordSet {
    /// Build-up, pull-down, packing, chief, arm, turntable centre, car.
    #[default]
    Gb,
    /// Set-up, tear-down, blocking, foreman, sweep, center, tub.
    Us,
}
