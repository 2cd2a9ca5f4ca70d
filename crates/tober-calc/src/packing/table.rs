//! What one kind of leg can reach: every stack with every hole, sorted by lift.

use super::model::{Leg, Part, Problem, Support};
use super::stack;

/// Rows of the stock: one for each kind of board, then boards in all, then holes in all.
pub(super) const ROWS_MOST: usize = super::refuse::KINDS_MOST + 2;

/// One amount for each row of the stock.
pub(super) type Rows<T> = [T; ROWS_MOST];

/// Everything that decides which stacks and holes a support has; supports that agree share a table.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Class {
    leg: Leg,
    foot: Option<super::model::PlanSize>,
    max_stack: Option<i64>,
    allowed: Option<Vec<usize>>,
    forced_hole: Option<u32>,
    wedges: Option<super::model::Wedges>,
}

/// One stack in one hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Option_ {
    pub lift: i64,
    pub rows: Rows<u8>,
}

/// Every option of one kind of leg up to a cap, grouped by lift.
#[derive(Clone, Debug)]
pub(super) struct Table {
    pub options: Vec<Option_>,
    /// The lifts met, ascending. With a screw or wedges, the least of an interval.
    pub lifts: Vec<i64>,
    /// Where the options of each lift begin, and the end.
    pub starts: Vec<u32>,
    /// How far the lift can still be raised by a screw or by wedges.
    pub stroke: i64,
}

impl Table {
    /// The options of a range of lifts.
    pub fn range(&self, lifts: (u32, u32)) -> core::ops::Range<usize> {
        self.starts[lifts.0 as usize] as usize..self.starts[lifts.1 as usize] as usize
    }
}

/// The tables of a problem and which one each support uses.
#[derive(Clone, Debug)]
pub(super) struct Tables {
    pub tables: Vec<Table>,
    pub of_support: Vec<usize>,
    /// Whether no option lies beyond the cap.
    pub complete: bool,
}

fn class(support: &Support) -> Class {
    let leg = match support.leg {
        Leg::Holes { pin_pitch, pin_count, .. } => {
            Leg::Holes { pin_first: tober_quantity::TenthMm(0), pin_pitch, pin_count }
        }
        Leg::Screw { shortest, longest } => {
            Leg::Screw { shortest: tober_quantity::TenthMm(0), longest: longest - shortest }
        }
    };
    Class {
        leg,
        foot: support.foot,
        max_stack: support.max_stack.map(|most| most.0),
        allowed: support.allowed.clone(),
        forced_hole: support.forced_hole,
        wedges: support.wedges,
    }
}

/// The greatest lift that a support could have if there were boards enough.
pub(super) fn lift_most(problem: &Problem, support: &Support) -> i64 {
    let stack = support.max_stack.map_or(problem.max_stack, |own| own.min(problem.max_stack)).0;
    stack + extension_most(support)
}

fn extension_most(support: &Support) -> i64 {
    match support.leg {
        Leg::Holes { pin_pitch, pin_count, .. } => pin_pitch.0 * i64::from(pin_count - 1),
        Leg::Screw { shortest, longest } => (longest - shortest).0,
    }
}

/// The least lift that a support must have: a valid lower bound, not always reached.
pub(super) fn lift_least(problem: &Problem, support: &Support) -> i64 {
    let stocked = || problem.boards.iter().filter(|board| board.count > 0);
    let timbers = stocked().filter(|board| board.part == Part::Timber);
    let thinnest_timber = timbers.map(|board| board.thickness.0).min().unwrap_or(0);
    let thinnest = stocked().map(|board| board.thickness.0).min().unwrap_or(0);
    let fewest = i64::from(problem.min_boards_per_stack);
    let board = if fewest > 0 { thinnest_timber + (fewest - 1) * thinnest } else { 0 };
    let hole = match (support.leg, support.forced_hole) {
        (Leg::Holes { pin_pitch, .. }, Some(hole)) => pin_pitch.0 * i64::from(hole),
        _ => 0,
    };
    (board + hole).max(problem.min_lift.0)
}

/// Lists the options of every support up to a greatest lift, or `None` where there are too many.
pub(super) fn build(problem: &Problem, cap: i64) -> Option<Tables> {
    let mut classes: Vec<Class> = Vec::new();
    let mut tables = Vec::new();
    let mut of_support = Vec::new();
    let mut complete = true;
    for support in &problem.supports {
        let class = class(support);
        let place = match classes.iter().position(|known| *known == class) {
            Some(place) => place,
            None => {
                tables.push(table(problem, support, cap)?);
                classes.push(class);
                classes.len() - 1
            }
        };
        complete &= cap >= lift_most(problem, support);
        of_support.push(place);
    }
    Some(Tables { tables, of_support, complete })
}

fn table(problem: &Problem, support: &Support, cap: i64) -> Option<Table> {
    let kinds = problem.boards.len();
    let wedges = support.wedges.map_or((0, 0), |wedges| (wedges.least.0, (wedges.most - wedges.least).0));
    let (holes, pitch, screw) = match support.leg {
        Leg::Holes { pin_pitch, pin_count, .. } => (pin_count, pin_pitch.0, 0),
        Leg::Screw { .. } => (1, 0, extension_most(support)),
    };
    let stroke = screw + wedges.1;
    let holes = support.forced_hole.map_or(0..holes, |hole| hole..hole + 1);
    let mut options = Vec::new();
    for stack in stack::list(problem, support, cap)? {
        let mut rows = [0; ROWS_MOST];
        rows[..kinds].copy_from_slice(&stack.kinds);
        rows[kinds] = stack.boards;
        for hole in holes.clone() {
            let lift = stack.height + wedges.0 + pitch * i64::from(hole);
            if lift > cap {
                break;
            }
            if lift + stroke >= problem.min_lift.0 {
                rows[kinds + 1] = u8::try_from(hole).unwrap_or(u8::MAX);
                options.push(Option_ { lift, rows });
            }
        }
        if options.len() > stack::STACKS_MOST {
            return None;
        }
    }
    options.sort_unstable_by_key(|option| {
        (option.lift, option.rows[kinds], option.rows[kinds + 1], option.rows)
    });
    let (mut lifts, mut starts) = (Vec::new(), Vec::new());
    for (place, option) in options.iter().enumerate() {
        if lifts.last() != Some(&option.lift) {
            lifts.push(option.lift);
            starts.push(place as u32);
        }
    }
    starts.push(options.len() as u32);
    Some(Table { options, lifts, starts, stroke })
}
