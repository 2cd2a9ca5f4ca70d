//! What is claimed: settings, stacks, a plane and the totals.

use tober_quantity::TenthMm;

/// A claimed choice, with the plane that is its certificate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Claim {
    /// What goes under each support, in the question's order.
    pub placings: Vec<Placing>,
    /// The plane in which the frame is claimed to lie.
    pub plane: Plane,
    /// The greatest lift the claim says it gives.
    pub lift_greatest: TenthMm,
    /// The number of boards the claim says it takes.
    pub boards_total: i64,
}

/// What goes under one support.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placing {
    /// Where the leg is set.
    pub setting: Setting,
    /// How many boards of each kind, in the question's order.
    pub boards: Vec<i64>,
    /// The same boards from the bottom to the top, where their order is claimed.
    pub layers: Option<Vec<Layer>>,
}

/// Where a leg is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// The pin is in this hole; the first is 0 and gives the shortest leg.
    Hole(i64),
    /// The screw is out by this much beyond its shortest.
    Extension(TenthMm),
}

/// One board in its place in a stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layer {
    /// Which kind, by its place in the question's list.
    pub kind: usize,
    /// Which way its grain runs. For plywood, wedges and metal only the plan size turns with it.
    pub grain: Grain,
}

/// Which way the grain of a board runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Along the frame.
    Along,
    /// Across the frame.
    Across,
}

/// A plane as integers over one denominator, so that every plane through rational heights can be claimed exactly.
///
/// The height over (x, y) is `(height + along x + across y) / denominator`, where x and y are metres and the result is
/// tenths of a millimetre. A plane on the grid of 0.001 mm and 0.01 mm per metre is [`Plane::on_grid`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plane {
    /// Height at the origin, times the denominator.
    pub height: i64,
    /// Slope along the frame in tenths of a millimetre a metre, times the denominator.
    pub along: i64,
    /// Slope across the frame in tenths of a millimetre a metre, times the denominator.
    pub across: i64,
    /// The common denominator, 1 or more.
    pub denominator: i64,
}

impl Plane {
    /// A plane from its height in thousandths of a millimetre and its slopes in hundredths of a millimetre a metre,
    /// or `None` where a slope is too large for the integers of a plane.
    pub fn on_grid(height_0001mm: i64, along_001mm_per_m: i64, across_001mm_per_m: i64) -> Option<Self> {
        Some(Self {
            height: height_0001mm,
            along: along_001mm_per_m.checked_mul(10)?,
            across: across_001mm_per_m.checked_mul(10)?,
            denominator: 100,
        })
    }
}
