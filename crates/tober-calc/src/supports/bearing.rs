//! Where a load that is only known between two ends bears on a frame of beams.

use super::flexible::{BeamsError, Column, Condensed, NodeLoad};
use super::uncertain::Spot;
use tober_quantity::{Force, Length, Moment};

/// A frame of beams with, for each burden, the node on which it bears.
///
/// A burden whose centre of gravity is beside its node bears there with the couple that its distance makes,
/// so that the frame as a whole feels it where it is.
#[derive(Clone, Debug)]
pub struct Bearing {
    pub(super) frame: Condensed,
    /// For one newton of each burden, in the order of the load; then for one newton metre about x and about y.
    pub(super) columns: Vec<Column>,
    /// How far each support goes up for one newton up at each, the base held.
    pub(super) give: Vec<Vec<f64>>,
    /// How far each support goes up under each column.
    pub(super) under: Vec<Vec<f64>>,
}

impl Bearing {
    /// Puts burdens on a condensed frame: for each, where it is and the node that takes it. The couples of the load
    /// bear on one node.
    ///
    /// # Errors
    /// Refuses nodes that are not there.
    pub fn new(frame: Condensed, burdens: &[(Spot, usize)], couples_at: usize) -> Result<Self, BeamsError> {
        let load = |node, down, moment_x, moment_y| NodeLoad {
            node,
            down: Force::n(down),
            moment_x: Moment::nm(moment_x),
            moment_y: Moment::nm(moment_y),
        };
        let mut columns = Vec::with_capacity(burdens.len() + 2);
        for &(spot, node) in burdens {
            let at = frame.place(node).unwrap_or(spot);
            let (dx, dy) = ((spot.x - at.x).as_m(), (spot.y - at.y).as_m());
            columns.push(frame.column(&[load(node, 1.0, -dy, dx)])?);
        }
        columns.push(frame.column(&[load(couples_at, 0.0, 1.0, 0.0)])?);
        columns.push(frame.column(&[load(couples_at, 0.0, 0.0, 1.0)])?);
        let give = frame.give();
        let under = columns.iter().map(|column| frame.give_under(column)).collect();
        Ok(Self { frame, columns, give, under })
    }

    /// The load with these forces and couples, in N and N m, in the order of the columns.
    pub(super) fn column(&self, values: impl Iterator<Item = f64>) -> Column {
        let mut sum = Column::default();
        for (column, value) in self.columns.iter().zip(values) {
            sum.add(value, column);
        }
        sum
    }
}

impl Condensed {
    /// Where a node is.
    pub fn place(&self, node: usize) -> Option<Spot> {
        Some(Spot { x: Length::m(*self.x.get(node)?), y: Length::m(*self.y.get(node)?) })
    }

    /// The node of each support, in the order given.
    pub fn feet(&self) -> &[usize] {
        &self.feet
    }
}
