//! What the packing question is made of: supports, legs, boards, limits and the rules of a stack.

use tober_quantity::TenthMm;

/// A slope in tenths of a millimetre a metre.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct TenthMmPerM(pub i64);

/// How a leg is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Leg {
    /// A pin through one of a row of holes; hole 0 is the shortest leg.
    Holes {
        /// The length of the leg with its pin in hole 0.
        pin_first: TenthMm,
        /// From one hole to the next.
        pin_pitch: TenthMm,
        /// How many holes there are.
        pin_count: u32,
    },
    /// A screw, set anywhere from its shortest to its longest.
    Screw {
        /// The length of the leg screwed right in.
        shortest: TenthMm,
        /// The length of the leg at the end of its safe thread.
        longest: TenthMm,
    },
}

impl Leg {
    /// The length of the leg at its shortest.
    pub fn shortest(&self) -> TenthMm {
        match *self {
            Self::Holes { pin_first, .. } => pin_first,
            Self::Screw { shortest, .. } => shortest,
        }
    }
}

/// The plan of a board or of a foot, lying flat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PlanSize {
    /// The lesser side.
    pub width: TenthMm,
    /// The greater side.
    pub length: TenthMm,
}

impl PlanSize {
    /// From two sides, in either order.
    pub fn of(one: TenthMm, other: TenthMm) -> Self {
        Self { width: one.min(other), length: one.max(other) }
    }

    /// Whether a foot of the size `inner` stands wholly on this, turned whichever way fits.
    pub fn holds(self, inner: Self) -> bool {
        inner.width <= self.width && inner.length <= self.length
    }

    /// The area in square millimetres, rounded down.
    pub fn area_mm2(self) -> i64 {
        self.width.0 * self.length.0 / 100
    }
}

/// A pair of folding wedges set somewhere between two thicknesses, in a stack that has a joint for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Wedges {
    /// The pair driven least.
    pub least: TenthMm,
    /// The pair driven most.
    pub most: TenthMm,
}

/// One leg of the frame and the ground under it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Support {
    /// What the crew calls it: "front left".
    pub name: String,
    /// Along the frame, in whole millimetres.
    pub x_mm: i64,
    /// Across the frame, in whole millimetres.
    pub y_mm: i64,
    /// The height of the ground under the foot, up-positive above the datum of the pitch.
    pub ground: TenthMm,
    /// How the leg is held.
    pub leg: Leg,
    /// The plan of the foot, where a rule of the stack needs it.
    pub foot: Option<PlanSize>,
    /// A lower limit on this stack than the one for all.
    pub max_stack: Option<TenthMm>,
    /// The kinds that may lie here, as places in [`Problem::boards`]; all when absent.
    pub allowed: Option<Vec<usize>>,
    /// The only hole that may be used, where one is settled already.
    pub forced_hole: Option<u32>,
    /// Wedges that must go into this stack, where they were chosen as a cure.
    pub wedges: Option<Wedges>,
}

impl Support {
    /// A support with nothing asked of it beyond the rules for all.
    pub fn plain(name: impl Into<String>, x_mm: i64, y_mm: i64, ground: TenthMm, leg: Leg) -> Self {
        Self {
            name: name.into(),
            x_mm,
            y_mm,
            ground,
            leg,
            foot: None,
            max_stack: None,
            allowed: None,
            forced_hole: None,
            wedges: None,
        }
    }
}

/// Where in a stack a kind of board may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// A timber: bottom, top or between.
    Timber,
    /// A thin packer, such as ply: only in a joint between two timbers, never bottom, never top.
    Packer,
}

/// A kind of board and how many of it the kit holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoardKind {
    /// What the crew calls it.
    pub name: String,
    /// Its actual thickness.
    pub thickness: TenthMm,
    /// How many there are.
    pub count: u32,
    /// Its size lying flat, where a rule of the stack needs it.
    pub plan: Option<PlanSize>,
    /// Where it may lie.
    pub part: Part,
}

impl BoardKind {
    /// A timber of which only thickness and count are known.
    pub fn plain(name: impl Into<String>, thickness: TenthMm, count: u32) -> Self {
        Self { name: name.into(), thickness, count, plan: None, part: Part::Timber }
    }
}

/// The height of a stack may not pass `height / width` times the least width of its timbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct HeightToWidth {
    /// The upper number of the ratio.
    pub height: u32,
    /// The lower number of the ratio, not zero.
    pub width: u32,
}

/// The rules of a stack beyond its height and its number of boards.
///
/// A timber whose plan is not known fails every rule that asks for its plan: what is not known never
/// makes a stack better.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StackRules {
    /// Height against least width.
    pub height_to_width: Option<HeightToWidth>,
    /// The foot stands wholly on the top timber.
    pub foot_on_top: bool,
    /// The least area of the bottom timber, in square millimetres.
    pub bottom_area_mm2: Option<i64>,
    /// The least width of the bottom timber.
    pub bottom_width: Option<TenthMm>,
    /// No timber is wider than the one under it, and a packer is no wider than the timber under it and no
    /// narrower than the one on it.
    pub narrows_upward: bool,
    /// How many thin packers may lie in one joint between two timbers.
    pub packers_per_joint: u32,
}

impl StackRules {
    /// No rule beyond height and number of boards, and one packer a joint.
    pub fn plain() -> Self {
        Self {
            height_to_width: None,
            foot_on_top: false,
            bottom_area_mm2: None,
            bottom_width: None,
            narrows_upward: false,
            packers_per_joint: 1,
        }
    }
}

/// A point of the frame plane whose height is bounded: a wheel, a swept part, a platform edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clearance {
    /// What it is for.
    pub name: String,
    /// Along the frame, in whole millimetres.
    pub x_mm: i64,
    /// Across the frame, in whole millimetres.
    pub y_mm: i64,
    /// The least height of the frame plane here, above the datum of the pitch.
    pub at_least: Option<TenthMm>,
    /// The greatest height of the frame plane here, above the datum of the pitch.
    pub at_most: Option<TenthMm>,
}

/// Which hole and which boards under each leg, so that the frame is level and low.
///
/// With ground `h`, packing `p`, leg `e = shortest + extension`, the seat height is `z = h + p + e` and
/// the lift `l = p + extension`. A choice serves when a plane `c + a x + b y` exists with
/// `|a| <= level_tol_x`, `|b| <= level_tol_y` (0.1 mm a metre) and `|z - plane| <= planarity_tol` at
/// every support, all bounds included.
///
/// Range: 1 to 24 supports, 1 to 16 kinds, positions and heights within 100 m.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The legs.
    pub supports: Vec<Support>,
    /// The kit.
    pub boards: Vec<BoardKind>,
    /// The greatest height of a stack.
    pub max_stack: TenthMm,
    /// The least number of boards in a stack.
    pub min_boards_per_stack: u32,
    /// The greatest number of boards in a stack.
    pub max_boards_per_stack: u32,
    /// The least lift at every support.
    pub min_lift: TenthMm,
    /// The greatest slope along the frame.
    pub level_tol_x: TenthMmPerM,
    /// The greatest slope across the frame.
    pub level_tol_y: TenthMmPerM,
    /// How far a seat may lie from the frame plane, either way.
    pub planarity_tol: TenthMm,
    /// Points of the frame plane with a bounded height.
    pub clearances: Vec<Clearance>,
    /// The rules of a stack.
    pub rules: StackRules,
}
