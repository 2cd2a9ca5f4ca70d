//! The drawings of a plan, as files.

use crate::files;
use std::path::{Path, PathBuf};
use tober_draw::{DrawError, Orientation, RideSide, StyleSheet, ground_plan, png, side_strip, stack};
use tober_plan::Plan;

/// How many pixels of a PNG stand for one unit of a drawing: sharp on paper and on a phone.
pub const PNG_SCALE: f32 = 2.0;

/// Writes the drawings of a plan into a folder, and says which files they are.
pub fn write(plan: &Plan, folder: &Path, as_png: bool) -> Result<Vec<String>, String> {
    let mut written = Vec::new();
    for (name, svg) in drawn(plan).map_err(|error| error.to_string())? {
        let path = folder.join(format!("{name}.svg"));
        files::write(&path, svg.as_bytes())?;
        written.push(path);
        if as_png {
            let path = folder.join(format!("{name}.png"));
            let picture = png(&svg, PNG_SCALE).map_err(|error| error.to_string())?;
            files::write(&path, &picture)?;
            written.push(path);
        }
    }
    Ok(written.iter().map(|path: &PathBuf| path.display().to_string()).collect())
}

/// Every drawing of a plan with the name of its file.
fn drawn(plan: &Plan) -> Result<Vec<(String, String)>, DrawError> {
    const ALONE: StyleSheet = StyleSheet::Embedded;
    let mut all = vec![
        ("plan-portrait".to_owned(), ground_plan(plan, Orientation::Portrait, None, ALONE)?),
        ("plan-landscape".to_owned(), ground_plan(plan, Orientation::Landscape, None, ALONE)?),
        ("side-left".to_owned(), side_strip(plan, RideSide::Left, ALONE)?),
        ("side-right".to_owned(), side_strip(plan, RideSide::Right, ALONE)?),
    ];
    for (place, leg) in plan.legs.iter().enumerate() {
        let name: String = leg.name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
        all.push((format!("stack-{}-{name}", leg.order), stack(plan, place, ALONE)?));
    }
    Ok(all)
}
