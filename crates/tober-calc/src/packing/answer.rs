//! What comes out of the packing calculation.

use super::plane::Plane;
use tober_quantity::TenthMm;

/// How much work may be spent. Counted in nodes of the search, never in time, so that every machine
/// gives the same answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Nodes for least lift and fewest boards.
    pub nodes: u64,
    /// Further nodes for fewest different stacks and lowest holes.
    pub tidying: u64,
}

impl Budget {
    /// Enough for every case that is met in practice: about a second at the very worst.
    pub fn usual() -> Self {
        Self { nodes: 200_000, tidying: 400 }
    }
}

/// How a leg is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// The pin in this hole, counted from 0, the shortest.
    Hole(u32),
    /// The screw turned out by this much beyond its shortest.
    Screw(TenthMm),
}

/// One leg of a choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placed {
    /// How the leg is set.
    pub setting: Setting,
    /// How many boards of each kind, in the order of [`super::Problem::boards`].
    pub boards_by_kind: Vec<u32>,
    /// The kinds from the ground up.
    pub laid: Vec<usize>,
    /// How thick the wedges are driven, where this stack has wedges.
    pub wedges: Option<TenthMm>,
    /// The height of the stack, with its wedges.
    pub packing: TenthMm,
    /// Packing and extension: how far this corner stands above bare ground with its shortest leg.
    pub lift: TenthMm,
    /// The height of the seat above the datum of the pitch.
    pub seat: TenthMm,
}

/// Whether a stage of the objective was proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// No choice that is as good in the stages before is better in this one.
    Proved,
    /// The best that was met; there may be better.
    BestMet,
}

/// A choice: which hole and which boards under each leg, and a plane that proves it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// One for each support, in the order of [`super::Problem::supports`].
    pub supports: Vec<Placed>,
    /// A frame plane that keeps every tolerance.
    pub plane: Plane,
    /// The greatest lift. Stage 1 of the objective.
    pub max_lift: TenthMm,
    /// Boards in all. Stage 2.
    pub boards: u32,
    /// How many different stacks there are. Stage 3.
    pub different_stacks: u32,
    /// Whether stage 3 was proved.
    pub stacks_stage: Stage,
    /// The hole numbers added up. Stage 4: low holes before high ones.
    pub holes: u32,
    /// Whether stage 4 was proved.
    pub holes_stage: Stage,
}

/// Why nothing serves, as short as it can be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Certificate {
    /// No stack and hole that the rules admit reach the least lift here.
    NoStack {
        /// The support, as a place in [`super::Problem::supports`].
        support: usize,
    },
    /// Whatever the stock, no plane within the level tolerances meets these supports: at most four,
    /// none of which can be left out.
    Plane {
        /// The supports, as places in [`super::Problem::supports`].
        supports: Vec<usize>,
        /// The least and greatest seat height of each.
        seats: Vec<(TenthMm, TenthMm)>,
    },
    /// At these prices the cheapest stacks cost more than the whole stock is worth.
    Stock {
        /// A price for each kind.
        prices: Vec<u64>,
        /// What the cheapest stacks cost at least.
        need: u64,
        /// What the stock is worth.
        have: u64,
        /// The lifts that the planes leave to each support, least and greatest.
        lifts: Vec<(TenthMm, TenthMm)>,
    },
    /// Every combination was ruled out one by one; there is no shorter reason.
    Searched {
        /// Nodes of the search.
        nodes: u64,
    },
}

/// The answer to a packing problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Least lift and, with it, fewest boards, both proved.
    Optimal(Choice),
    /// A choice that serves; the budget ended before it was proved best.
    BestFound {
        /// The best that was met.
        choice: Choice,
        /// No choice has a lesser greatest lift than this.
        lift_no_less_than: TenthMm,
        /// No choice with the lift of this one has fewer boards than this.
        boards_no_less_than: u32,
    },
    /// Proved: nothing serves.
    Infeasible(Certificate),
    /// The budget ended before anything was found or ruled out.
    NotReached {
        /// No choice has a lesser greatest lift than this.
        lift_no_less_than: TenthMm,
    },
}

impl Answer {
    /// The choice, where there is one.
    pub fn choice(&self) -> Option<&Choice> {
        match self {
            Self::Optimal(choice) | Self::BestFound { choice, .. } => Some(choice),
            Self::Infeasible(_) | Self::NotReached { .. } => None,
        }
    }
}
