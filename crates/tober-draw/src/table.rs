//! The figures of the drawings as rows of text, to stand beside them.

use crate::door;
use crate::error::DrawError;
use crate::figures::Figures;
use tober_plan::Plan;

/// A table of text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// What the table shows, with its unit.
    pub caption: String,
    /// The head of each column.
    pub head: Vec<String>,
    /// A row for each leg, in the order in which the legs are set.
    pub rows: Vec<Vec<String>>,
}

/// The twin of every drawing: the same figures, a row for each leg.
///
/// # Errors
/// If the plan has a figure that cannot be drawn.
pub fn table(plan: &Plan) -> Result<Table, DrawError> {
    door::check(plan)?;
    let figures = Figures::of(plan);
    let head =
        ["order", "leg", "", "set at", "stack", "pieces from the ground up", "ground", "carries", "state"];
    let rows = plan.legs.iter().map(|leg| {
        let said: Vec<&str> = leg.remarks.iter().map(|remark| remark.text.as_str()).collect();
        let state = leg.standing.word();
        vec![
            leg.order.to_string(),
            leg.name.clone(),
            leg.short.clone(),
            figures.held(&leg.held),
            figures.fine(leg.stack),
            figures.pieces_named(leg),
            figures.ground(leg).unwrap_or_else(|| "not known".to_owned()),
            figures.load(leg),
            if said.is_empty() { state.to_owned() } else { format!("{state}: {}", said.join("; ")) },
        ]
    });
    Ok(Table {
        caption: format!(
            "Legs and {}, {}. Ground over the survey datum.",
            figures.packing(),
            figures.fine_unit()
        ),
        head: head.map(str::to_owned).to_vec(),
        rows: rows.collect(),
    })
}
