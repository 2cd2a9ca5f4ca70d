//! What was asked: the ground, the legs, the kit and the rules.

use tober_quantity::TenthMm;

/// A question of packing: what stands where, what there is to put under it, and how level it must be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The supports, at least three that are not in line.
    pub supports: Vec<Support>,
    /// The kinds of board in the kit.
    pub boards: Vec<Board>,
    /// How high and of how many boards a stack may be.
    pub stack: StackLimits,
    /// The least lift at any support: how far each corner must stand above bare ground with its shortest leg.
    pub lift_least: TenthMm,
    /// How level the frame must be.
    pub level: Level,
    /// How far a support may be from the frame's plane, up or down.
    pub planarity: TenthMm,
    /// Whether a foot may stand on bare ground.
    pub foot_board: FootBoard,
    /// Whether the order of the boards in each stack must be claimed.
    pub layering: Layering,
    /// The greatest height of a stack for its least width, where there is such a rule.
    pub slenderness: Option<Slenderness>,
}

/// One support of the frame.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Support {
    /// Its name, as the crew says it: front left, middle right.
    pub name: String,
    /// Position along the frame.
    pub x: TenthMm,
    /// Position across the frame.
    pub y: TenthMm,
    /// Height of the ground under it, up-positive from the datum of the pitch.
    pub ground: TenthMm,
    /// The leg.
    pub leg: Leg,
    /// The size of its foot, if known: `along` and `across` the frame.
    pub foot: Option<PlanSize>,
    /// A greatest stack for this support alone, besides the one for all.
    pub stack_most: Option<TenthMm>,
    /// The one hole the pin must be in, where the ride book or the chief says so.
    pub hole_forced: Option<i64>,
}

/// How a leg is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leg {
    /// A pin through one of a row of holes.
    Holes {
        /// Length of the leg in its first hole, its shortest.
        first: TenthMm,
        /// How much each next hole makes it longer.
        pitch: TenthMm,
        /// How many holes there are.
        count: i64,
    },
    /// A screw, anywhere between two lengths, in whole tenths of a millimetre.
    Screw {
        /// Length wound right in.
        shortest: TenthMm,
        /// Length wound out to the maker's mark.
        longest: TenthMm,
    },
}

impl Leg {
    /// The shortest length of the leg.
    pub fn shortest(self) -> TenthMm {
        match self {
            Self::Holes { first, .. } => first,
            Self::Screw { shortest, .. } => shortest,
        }
    }
}

/// A kind of board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Board {
    /// Its name.
    pub name: String,
    /// Its actual thickness; of a pair of wedges, the height at which the pair is set.
    pub thickness: TenthMm,
    /// How many the kit holds.
    pub count: i64,
    /// What it is.
    pub made: Made,
    /// Its size in plan, if known: `along` and `across` its grain.
    pub plan: Option<PlanSize>,
}

/// What a board is made of, as far as the rules of stacking ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Made {
    /// A timber: what a stack is built of.
    Timber,
    /// A thin sheet of plywood, to make up height between timbers.
    ThinPly,
    /// A pair of folding wedges, to make up height between timbers.
    Wedges,
    /// A metal plate.
    Metal,
}

/// The size of a foot or board seen from above.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlanSize {
    /// Along the frame for a foot; along the grain for a board.
    pub along: TenthMm,
    /// Across the frame for a foot; across the grain for a board.
    pub across: TenthMm,
}

impl PlanSize {
    /// The lesser of the two sides.
    pub fn width(self) -> TenthMm {
        self.along.min(self.across)
    }
}

/// How high and of how many boards a stack may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StackLimits {
    /// Greatest height.
    pub height_most: TenthMm,
    /// Fewest boards.
    pub boards_least: i64,
    /// Most boards.
    pub boards_most: i64,
}

/// How level the frame must be, in tenths of a millimetre for each metre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Level {
    /// Greatest slope along the frame, up or down.
    pub along_per_m: TenthMm,
    /// Greatest slope across the frame, up or down.
    pub across_per_m: TenthMm,
}

/// Whether a foot may stand on bare ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FootBoard {
    /// A timber always lies under a foot.
    Always,
    /// The question leaves it open.
    NotAsked,
}

/// Whether the order of the boards must be claimed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layering {
    /// Each stack is claimed layer by layer, bottom to top.
    Required,
    /// Counts of each kind are enough. Layers that are claimed all the same are still checked.
    NotAsked,
}

/// A greatest height of a stack of `height` for each `width` of its narrowest board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slenderness {
    /// So much height,
    pub height: i64,
    /// for so much width.
    pub width: i64,
}
