//! What is refused at the door of the packing calculation.

use super::model::{Leg, Problem};
use core::fmt;
use tober_quantity::TenthMm;

/// The most supports: the plane polytope keeps one bit for each of its bounds.
pub const SUPPORTS_MOST: usize = 24;
/// The most kinds of board.
pub const KINDS_MOST: usize = 16;
/// The most boards that one stack may be allowed.
pub const BOARDS_PER_STACK_MOST: u32 = 40;
/// The most points with a bounded height.
pub const CLEARANCES_MOST: usize = 32;
/// The steepest level tolerance that is still one: 1 m a metre.
const SLOPE_MOST: i64 = 10_000;
/// The most boards of one kind in a kit.
const COUNT_MOST: u32 = 100_000;
/// The most holes in a leg.
const HOLES_MOST: u32 = 200;

/// Why a packing problem is refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ProblemError {
    /// A number lies outside the range in which the calculation holds.
    OutOfRange {
        /// Where: "support front left, pin pitch".
        place: String,
        /// The value given, in `unit`.
        value: i64,
        /// The least that is accepted.
        least: i64,
        /// The greatest that is accepted.
        most: i64,
        /// The unit of the three numbers.
        unit: &'static str,
    },
    /// Two bounds are the wrong way round.
    Crossed {
        /// The lower bound's name.
        low: String,
        /// Its value.
        low_value: i64,
        /// The upper bound's name.
        high: String,
        /// Its value.
        high_value: i64,
        /// The unit of both numbers.
        unit: &'static str,
    },
    /// Two supports stand on one spot.
    SameSpot {
        /// The first.
        one: String,
        /// The second.
        other: String,
        /// Where both stand, along.
        x_mm: i64,
        /// Where both stand, across.
        y_mm: i64,
    },
    /// Two supports, or two kinds, bear one name.
    SameName {
        /// What bears it: "supports" or "kinds of board".
        what: &'static str,
        /// The name.
        name: String,
    },
    /// A support names a kind of board that the kit does not hold.
    NoSuchKind {
        /// The support.
        support: String,
        /// The place named.
        kind: usize,
        /// How many kinds there are.
        kinds: usize,
    },
    /// A rule needs the plan of a foot that is not given.
    FootNotKnown {
        /// The support.
        support: String,
    },
    /// Screws and wedges are set to 0.1 mm, so an exact plane cannot be asked for.
    PlanarityTooFine {
        /// The support with the screw or the wedges.
        support: String,
    },
    /// A hole is settled for a leg that has no such hole.
    NoSuchHole {
        /// The support.
        support: String,
        /// The hole.
        hole: u32,
        /// How many holes the leg has.
        holes: u32,
    },
}

impl fmt::Display for ProblemError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange { place, value, least, most, unit } => {
                let space = if unit.is_empty() { "" } else { " " };
                write!(f, "{place} is {value}{space}{unit}; it must lie from {least} to {most}{space}{unit}.")
            }
            Self::Crossed { low, low_value, high, high_value, unit } => {
                let space = if unit.is_empty() { "" } else { " " };
                write!(
                    f,
                    "{low} is {low_value}{space}{unit} and {high} is {high_value}{space}{unit}; \
                     the first may not pass the second."
                )
            }
            Self::SameSpot { one, other, x_mm, y_mm } => write!(
                f,
                "Supports {one} and {other} both stand at x {x_mm} mm, y {y_mm} mm; \
                 give each support a place of its own."
            ),
            Self::SameName { what, name } => {
                write!(f, "Two {what} are called {name}; give each a name of its own.")
            }
            Self::NoSuchKind { support, kind, kinds } => write!(
                f,
                "Support {support} allows kind number {kind} of board, but there are {kinds}; \
                 count from 0."
            ),
            Self::FootNotKnown { support } => write!(
                f,
                "Support {support} has no foot size, and the foot must stand on the top board; \
                 give the foot's size."
            ),
            Self::PlanarityTooFine { support } => write!(
                f,
                "Support {support} has a screw or wedges, which are set to 0.1 mm; \
                 the planarity tolerance must be at least 0.1 mm."
            ),
            Self::NoSuchHole { support, hole, holes } => write!(
                f,
                "Support {support} is to be pinned in hole number {hole}, but its leg has {holes} holes; \
                 count from 0, and settle no hole on a screw."
            ),
        }
    }
}

impl core::error::Error for ProblemError {}

fn within(
    place: impl Fn() -> String,
    value: i64,
    least: i64,
    most: i64,
    unit: &'static str,
) -> Result<(), ProblemError> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(ProblemError::OutOfRange { place: place(), value, least, most, unit })
}

const TENTHS: &str = "tenths of a millimetre";

impl Problem {
    /// Refuses what the calculation cannot answer for.
    ///
    /// # Errors
    /// The first fault met, in the order supports, boards, limits.
    pub fn check(&self) -> Result<(), ProblemError> {
        self.check_counts()?;
        for place in 0..self.supports.len() {
            self.check_support(place)?;
        }
        self.check_boards()?;
        self.check_limits()?;
        self.check_clearances()
    }

    fn check_counts(&self) -> Result<(), ProblemError> {
        let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
        within(|| "The number of supports".into(), count(self.supports.len()), 1, SUPPORTS_MOST as i64, "")?;
        within(|| "The number of kinds of board".into(), count(self.boards.len()), 1, KINDS_MOST as i64, "")?;
        let clearances = count(self.clearances.len());
        within(|| "The number of clearance points".into(), clearances, 0, CLEARANCES_MOST as i64, "")
    }

    fn check_support(&self, place: usize) -> Result<(), ProblemError> {
        let support = &self.supports[place];
        let name = &support.name;
        let far = TenthMm::GREATEST;
        within(|| format!("Support {name}, place along"), support.x_mm, -far / 10, far / 10, "mm")?;
        within(|| format!("Support {name}, place across"), support.y_mm, -far / 10, far / 10, "mm")?;
        within(|| format!("Support {name}, ground height"), support.ground.0, -far, far, TENTHS)?;
        match support.leg {
            Leg::Holes { pin_first, pin_pitch, pin_count } => {
                within(|| format!("Support {name}, length at the first hole"), pin_first.0, 0, far, TENTHS)?;
                within(|| format!("Support {name}, pin pitch"), pin_pitch.0, 1, far / 100, TENTHS)?;
                within(
                    || format!("Support {name}, number of holes"),
                    i64::from(pin_count),
                    1,
                    i64::from(HOLES_MOST),
                    "",
                )?;
            }
            Leg::Screw { shortest, longest } => {
                within(|| format!("Support {name}, shortest length"), shortest.0, 0, far, TENTHS)?;
                within(|| format!("Support {name}, longest length"), longest.0, shortest.0, far, TENTHS)?;
            }
        }
        if let Some(hole) = support.forced_hole {
            let holes = if let Leg::Holes { pin_count, .. } = support.leg { pin_count } else { 0 };
            if hole >= holes {
                return Err(ProblemError::NoSuchHole { support: name.clone(), hole, holes });
            }
        }
        self.check_stack_of(place)?;
        for other in &self.supports[..place] {
            if other.name == *name {
                return Err(ProblemError::SameName { what: "supports", name: name.clone() });
            }
            if (other.x_mm, other.y_mm) == (support.x_mm, support.y_mm) {
                let (one, other) = (other.name.clone(), name.clone());
                return Err(ProblemError::SameSpot { one, other, x_mm: support.x_mm, y_mm: support.y_mm });
            }
        }
        Ok(())
    }

    fn check_stack_of(&self, place: usize) -> Result<(), ProblemError> {
        let support = &self.supports[place];
        let name = &support.name;
        let far = TenthMm::GREATEST;
        if let Some(most) = support.max_stack {
            within(|| format!("Support {name}, greatest stack"), most.0, 0, far, TENTHS)?;
        }
        for &kind in support.allowed.iter().flatten() {
            if kind >= self.boards.len() {
                let kinds = self.boards.len();
                return Err(ProblemError::NoSuchKind { support: name.clone(), kind, kinds });
            }
        }
        if let Some(wedges) = support.wedges {
            within(|| format!("Support {name}, wedges driven least"), wedges.least.0, 1, far / 100, TENTHS)?;
            within(
                || format!("Support {name}, wedges driven most"),
                wedges.most.0,
                wedges.least.0,
                far / 100,
                TENTHS,
            )?;
        }
        if let Some(foot) = support.foot {
            within(|| format!("Support {name}, foot width"), foot.width.0, 1, far / 10, TENTHS)?;
            within(|| format!("Support {name}, foot length"), foot.length.0, foot.width.0, far / 10, TENTHS)?;
        } else if self.rules.foot_on_top {
            return Err(ProblemError::FootNotKnown { support: name.clone() });
        }
        let moves = matches!(support.leg, Leg::Screw { .. }) || support.wedges.is_some();
        if moves && self.planarity_tol.0 == 0 {
            return Err(ProblemError::PlanarityTooFine { support: name.clone() });
        }
        Ok(())
    }

    fn check_boards(&self) -> Result<(), ProblemError> {
        for (place, board) in self.boards.iter().enumerate() {
            let name = &board.name;
            within(
                || format!("Board {name}, thickness"),
                board.thickness.0,
                1,
                TenthMm::GREATEST / 10,
                TENTHS,
            )?;
            within(|| format!("Board {name}, count"), i64::from(board.count), 0, i64::from(COUNT_MOST), "")?;
            if let Some(plan) = board.plan {
                within(|| format!("Board {name}, width"), plan.width.0, 1, TenthMm::GREATEST, TENTHS)?;
                within(
                    || format!("Board {name}, length"),
                    plan.length.0,
                    plan.width.0,
                    TenthMm::GREATEST,
                    TENTHS,
                )?;
            }
            if self.boards[..place].iter().any(|other| other.name == *name) {
                return Err(ProblemError::SameName { what: "kinds of board", name: name.clone() });
            }
        }
        Ok(())
    }

    fn check_limits(&self) -> Result<(), ProblemError> {
        let far = TenthMm::GREATEST;
        within(|| "The greatest stack".into(), self.max_stack.0, 0, far, TENTHS)?;
        let (least, most) = (i64::from(self.min_boards_per_stack), i64::from(self.max_boards_per_stack));
        within(|| "The most boards in a stack".into(), most, 0, i64::from(BOARDS_PER_STACK_MOST), "")?;
        if least > most {
            return Err(ProblemError::Crossed {
                low: "The fewest boards in a stack".into(),
                low_value: least,
                high: "the most".into(),
                high_value: most,
                unit: "",
            });
        }
        within(|| "The least lift".into(), self.min_lift.0, -far, far, TENTHS)?;
        let slopes = "tenths of a millimetre a metre";
        within(|| "The level tolerance along".into(), self.level_tol_x.0, 0, SLOPE_MOST, slopes)?;
        within(|| "The level tolerance across".into(), self.level_tol_y.0, 0, SLOPE_MOST, slopes)?;
        within(|| "The planarity tolerance".into(), self.planarity_tol.0, 0, far / 10, TENTHS)?;
        if let Some(ratio) = self.rules.height_to_width {
            within(|| "Stack height to width, upper number".into(), i64::from(ratio.height), 1, 10_000, "")?;
            within(|| "Stack height to width, lower number".into(), i64::from(ratio.width), 1, 10_000, "")?;
        }
        if let Some(area) = self.rules.bottom_area_mm2 {
            within(|| "The least area of the bottom board".into(), area, 0, far * far, "square millimetres")?;
        }
        if let Some(width) = self.rules.bottom_width {
            within(|| "The least width of the bottom board".into(), width.0, 0, far, TENTHS)?;
        }
        Ok(())
    }

    fn check_clearances(&self) -> Result<(), ProblemError> {
        let far = TenthMm::GREATEST;
        for point in &self.clearances {
            let name = &point.name;
            within(|| format!("Clearance {name}, place along"), point.x_mm, -far / 10, far / 10, "mm")?;
            within(|| format!("Clearance {name}, place across"), point.y_mm, -far / 10, far / 10, "mm")?;
            for height in [point.at_least, point.at_most].into_iter().flatten() {
                within(|| format!("Clearance {name}, height"), height.0, -2 * far, 2 * far, TENTHS)?;
            }
            if let (Some(low), Some(high)) = (point.at_least, point.at_most)
                && low > high
            {
                return Err(ProblemError::Crossed {
                    low: format!("Clearance {name}, least height"),
                    low_value: low.0,
                    high: "the greatest".into(),
                    high_value: high.0,
                    unit: TENTHS,
                });
            }
        }
        Ok(())
    }
}
