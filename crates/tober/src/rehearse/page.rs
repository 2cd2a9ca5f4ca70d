//! The rehearsal as one HTML file.

use tober_plan::rehearse::Rehearsal;
use tober_quantity::UnitSet;

/// The page.
pub fn page(_all: &Rehearsal, _units: UnitSet, _seed: u64) -> String {
    String::new()
}
