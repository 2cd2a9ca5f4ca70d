//! The drawings of a plan, as files.

use std::path::Path;
use tober_plan::Plan;

/// Writes the drawings of a plan into a folder.
pub fn write(_plan: &Plan, _folder: &Path, _png: bool) -> Result<Vec<String>, String> {
    Err("Drawings are not there yet.".to_owned())
}
