//! The question behind every stage: is there a choice with at most this lift, within this stock?
//!
//! Branch and bound over ranges of lifts, one range for each support. At each node the polytope of
//! planes narrows the ranges, stock prices and a packing of whole ranges may close it, a packing near
//! the middle plane may solve it, and else the widest range is halved. Halving loses no combination,
//! every closing test is a relaxation, and a node of single lifts is decided in whole numbers.

use super::model::Problem;
use super::pack::{Packing, Stores, pack};
use super::plane::{self, Bound};
use super::polytope::{FAT, Gauge, Keep, Polytope};
use super::prices::{Closing, NO_LIMIT, Pool};
use super::table::{ROWS_MOST, Rows, Tables};

/// A height that no bound reaches, in tenths of a millimetre.
pub(super) const FAR: i64 = 100_000_000;
/// Options tried when packing whole ranges, and near the middle plane.
const STEPS_WHOLE: u64 = 200;
const STEPS_MIDDLE: u64 = 200;
/// Options tried that count as one node of work.
const STEPS_A_NODE: u64 = 100;
/// Rounds of clipping and narrowing at one node.
const ROUNDS: usize = 6;
/// Prices are improved at nodes up to this number, then at one in so many.
const PRICE_ALWAYS: u64 = 8;
const PRICE_EVERY: u64 = 4;

/// How the question was answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    /// One option for each support, as places in its table; verified in whole numbers.
    Choice(Vec<u32>),
    /// Proved: there is none.
    None,
    /// The work allowed ran out.
    OutOfWork,
}

/// What one question allows.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// The greatest lift.
    pub lift: i64,
    /// The stock, with boards in all and holes in all as further rows.
    pub stock: Rows<i64>,
    /// The most different stacks, where that is limited.
    pub stacks: Option<usize>,
    /// Nodes of work that may still be spent.
    pub work: u64,
}

type Ranges = Vec<(u32, u32)>;

#[derive(Clone, Debug, Default)]
struct Frame {
    ranges: Ranges,
    polytope: Polytope,
}

/// A problem made ready for many questions.
pub(super) struct Engine<'a> {
    pub problem: &'a Problem,
    pub tables: Tables,
    pub pool: Pool,
    /// Nodes of work spent so far, over all questions.
    pub work: u64,
    pub kinds: usize,
    pub rows: usize,
    /// Seat height at no lift, and the amount by which the ground may be dug away, for each support.
    bases: Vec<i64>,
    dig: Vec<i64>,
    gauges: Vec<Gauge>,
    frames: Vec<Frame>,
    nodes_this_question: u64,
}

impl<'a> Engine<'a> {
    /// `dig` lets the ground at each support down by any amount up to its entry; empty for none.
    pub fn new(problem: &'a Problem, tables: Tables, dig: &[i64]) -> Self {
        let kinds = problem.boards.len();
        let rows = kinds + 2;
        let mut pool = Pool::default();
        let thickness: Vec<i64> = problem.boards.iter().map(|board| board.thickness.0).collect();
        pool.start(&thickness, &tables, rows);
        let dig = (0..problem.supports.len()).map(|place| dig.get(place).copied().unwrap_or(0)).collect();
        let bases =
            problem.supports.iter().map(|support| (support.ground + support.leg.shortest()).0).collect();
        let gauges = gauges(problem);
        Self {
            problem,
            tables,
            pool,
            work: 0,
            kinds,
            rows,
            bases,
            dig,
            gauges,
            frames: Vec::new(),
            nodes_this_question: 0,
        }
    }

    /// Takes tables that reach higher.
    pub fn extend(&mut self, tables: Tables) {
        self.tables = tables;
        self.pool.rebuild(&self.tables, self.rows);
    }

    /// The stock of the kit, with no limit on boards or holes in all.
    pub fn stock(&self) -> Rows<i64> {
        let mut stock = [NO_LIMIT; ROWS_MOST];
        for (row, board) in stock.iter_mut().zip(&self.problem.boards) {
            *row = i64::from(board.count);
        }
        stock
    }

    /// Answers one question.
    pub fn ask(&mut self, limits: &Limits) -> Verdict {
        let limits = Limits { work: self.work.saturating_add(limits.work), ..*limits };
        self.nodes_this_question = 0;
        let Some(frame) = self.root(limits.lift) else { return Verdict::None };
        self.frames.clear();
        self.frames.push(frame);
        self.visit(0, &limits)
    }

    /// Every range up to a greatest lift, and every plane the slopes allow; `None` if a range is empty.
    fn root(&self, lift: i64) -> Option<Frame> {
        let mut ranges = Ranges::new();
        for &place in &self.tables.of_support {
            let table = &self.tables.tables[place];
            let end = table.lifts.partition_point(|&least| least <= lift) as u32;
            if end == 0 || lift < self.problem.min_lift.0 {
                return None;
            }
            ranges.push((0, end));
        }
        let mut polytope = Polytope::default();
        let (slope_x, slope_y) = (self.problem.level_tol_x.0 as f64, self.problem.level_tol_y.0 as f64);
        let (low, high) = self.seat_bounds(0, ranges[0], lift);
        // The origin of the gauges is the first support, so its bounds are the bounds there.
        polytope.start((low, high), slope_x, slope_y);
        Some(Frame { ranges, polytope })
    }

    /// The ranges that the planes leave, before any halving; `None` if they leave none.
    pub fn root_ranges(&self, lift: i64) -> Option<Ranges> {
        let mut frame = self.root(lift)?;
        self.narrow(&mut frame, lift).then_some(frame.ranges)
    }

    /// The lift that an option can be set to, least and greatest, below a cap.
    pub fn lift_span(&self, support: usize, lift_index: u32, cap: i64) -> (i64, i64) {
        let table = &self.tables.tables[self.tables.of_support[support]];
        let least = table.lifts[lift_index as usize];
        (least.max(self.problem.min_lift.0), (least + table.stroke).min(cap))
    }

    /// Plane heights that a range of lifts can meet at a support, let out a little.
    fn seat_bounds(&self, support: usize, range: (u32, u32), cap: i64) -> (f64, f64) {
        let low = self.lift_span(support, range.0, cap).0;
        let high = self.lift_span(support, range.1 - 1, cap).1;
        let slack = self.problem.planarity_tol.0;
        let base = self.bases[support];
        ((base + low - slack - self.dig[support]) as f64, (base + high + slack) as f64)
    }

    /// Clips the planes by the ranges and the ranges by the planes, until still. False: nothing left.
    fn narrow(&self, frame: &mut Frame, cap: i64) -> bool {
        let supports = frame.ranges.len();
        for (place, point) in self.problem.clearances.iter().enumerate() {
            let (at, gauge) = (supports + place, self.gauges[supports + place]);
            let low =
                point.at_least.is_none_or(|low| frame.polytope.clip(at, gauge, low.0 as f64, Keep::Above));
            let high = low
                && point
                    .at_most
                    .is_none_or(|high| frame.polytope.clip(at, gauge, high.0 as f64, Keep::Below));
            if !high {
                return false;
            }
        }
        for _ in 0..ROUNDS {
            for support in 0..supports {
                let (low, high) = self.seat_bounds(support, frame.ranges[support], cap);
                let gauge = self.gauges[support];
                let kept = frame.polytope.clip(support, gauge, low, Keep::Above)
                    && frame.polytope.clip(support, gauge, high, Keep::Below);
                if !kept {
                    return false;
                }
            }
            let mut moved = false;
            for support in 0..supports {
                let (low, high) = frame.polytope.heights(self.gauges[support]);
                let old = frame.ranges[support];
                let new = self.range_within(support, old, (low - FAT, high + FAT), cap);
                if new.0 >= new.1 {
                    return false;
                }
                moved |= new != old;
                frame.ranges[support] = new;
            }
            if !moved {
                break;
            }
        }
        true
    }

    /// The part of a range that can meet plane heights within a window.
    fn range_within(&self, support: usize, range: (u32, u32), window: (f64, f64), cap: i64) -> (u32, u32) {
        let table = &self.tables.tables[self.tables.of_support[support]];
        let base = self.bases[support] as f64;
        let slack = self.problem.planarity_tol.0 as f64;
        let lifts = &table.lifts[range.0 as usize..range.1 as usize];
        let most = window.1 - base + slack + self.dig[support] as f64;
        let least = window.0 - base - slack;
        let min_lift = self.problem.min_lift.0;
        let begin = lifts.partition_point(|&lift| ((lift + table.stroke).min(cap) as f64) < least);
        let end = lifts.partition_point(|&lift| lift.max(min_lift) as f64 <= most);
        (range.0 + begin as u32, range.0 + end as u32)
    }

    fn visit(&mut self, depth: usize, limits: &Limits) -> Verdict {
        self.work += 1;
        self.nodes_this_question += 1;
        if self.work > limits.work {
            return Verdict::OutOfWork;
        }
        let mut frame = core::mem::take(&mut self.frames[depth]);
        let verdict = self.visit_frame(depth, &mut frame, limits);
        self.frames[depth] = frame;
        verdict
    }

    fn visit_frame(&mut self, depth: usize, frame: &mut Frame, limits: &Limits) -> Verdict {
        if !self.narrow(frame, limits.lift) {
            return Verdict::None;
        }
        if self.priced_out(&frame.ranges, limits) {
            return Verdict::None;
        }
        if frame.ranges.iter().all(|range| range.1 - range.0 == 1) {
            return self.leaf(&frame.ranges, limits);
        }
        let middle = frame.polytope.middle();
        if let Some(found) = self.pack_near(&frame.ranges, middle, limits) {
            return Verdict::Choice(found);
        }
        match self.pack_ranges(&frame.ranges, limits, STEPS_WHOLE) {
            Packing::Nothing => return Verdict::None,
            Packing::Found(found) if self.plane_exists(&found, limits.lift) => return Verdict::Choice(found),
            Packing::Found(_) | Packing::OutOfSteps => {}
        }
        self.branch(depth, frame, middle, limits)
    }

    fn priced_out(&mut self, ranges: &Ranges, limits: &Limits) -> bool {
        match self.pool.closes(ranges, &limits.stock, &self.tables, self.rows) {
            Closing::Closed { .. } => true,
            Closing::Open { nearest } => {
                let now = self.nodes_this_question;
                (now <= PRICE_ALWAYS || now.is_multiple_of(PRICE_EVERY))
                    && self.pool.improve(nearest, ranges, &limits.stock, &self.tables, self.rows)
            }
        }
    }

    fn branch(&mut self, depth: usize, frame: &Frame, middle: [f64; 3], limits: &Limits) -> Verdict {
        let span = |support: usize| {
            let range = frame.ranges[support];
            let lifts = &self.tables.tables[self.tables.of_support[support]].lifts;
            if range.1 - range.0 == 1 { -1 } else { lifts[range.1 as usize - 1] - lifts[range.0 as usize] }
        };
        let Some(widest) =
            (0..frame.ranges.len()).max_by_key(|&support| (span(support), core::cmp::Reverse(support)))
        else {
            return Verdict::None;
        };
        let range = frame.ranges[widest];
        let lifts =
            &self.tables.tables[self.tables.of_support[widest]].lifts[range.0 as usize..range.1 as usize];
        let half = lifts[0] + (lifts[lifts.len() - 1] - lifts[0]) / 2;
        let cut = range.0 + lifts.partition_point(|&lift| lift <= half) as u32;
        let gauge = self.gauges[widest];
        let height = middle[0] + gauge.x * middle[1] + gauge.y * middle[2] - self.bases[widest] as f64;
        let (low, high) = ((range.0, cut), (cut, range.1));
        let halves = if height <= half as f64 { [low, high] } else { [high, low] };
        if self.frames.len() <= depth + 1 {
            self.frames.push(Frame::default());
        }
        for half in halves {
            let below = &mut self.frames[depth + 1];
            below.ranges.clone_from(&frame.ranges);
            below.ranges[widest] = half;
            below.polytope.copy_from(&frame.polytope);
            let verdict = self.visit(depth + 1, limits);
            if verdict != Verdict::None {
                return verdict;
            }
        }
        Verdict::None
    }

    /// Single lifts: an exact plane, then an exact packing.
    fn leaf(&mut self, ranges: &Ranges, limits: &Limits) -> Verdict {
        let first: Vec<u32> = ranges
            .iter()
            .zip(&self.tables.of_support)
            .map(|(&range, &place)| self.tables.tables[place].range(range).start as u32)
            .collect();
        if !self.plane_exists(&first, limits.lift) {
            return Verdict::None;
        }
        let steps =
            limits.work.saturating_sub(self.work).saturating_mul(STEPS_A_NODE).saturating_add(STEPS_A_NODE);
        match self.pack_ranges(ranges, limits, steps) {
            Packing::Found(found) => Verdict::Choice(found),
            Packing::Nothing => Verdict::None,
            Packing::OutOfSteps => Verdict::OutOfWork,
        }
    }

    fn pack_ranges(&mut self, ranges: &Ranges, limits: &Limits, steps: u64) -> Packing {
        let stores =
            Stores { stock: &limits.stock, stacks_most: limits.stacks, kinds: self.kinds, rows: self.rows };
        let (packing, used) = pack(&self.tables, &self.pool, stores, ranges, steps);
        self.work += used / STEPS_A_NODE;
        packing
    }

    /// A choice near one plane, if a short search finds it.
    fn pack_near(&mut self, ranges: &Ranges, plane: [f64; 3], limits: &Limits) -> Option<Vec<u32>> {
        let mut windows = Ranges::with_capacity(ranges.len());
        for (support, &range) in ranges.iter().enumerate() {
            let gauge = self.gauges[support];
            let height = plane[0] + gauge.x * plane[1] + gauge.y * plane[2];
            let window = self.range_within(support, range, (height, height), limits.lift);
            if window.0 >= window.1 {
                return None;
            }
            windows.push(window);
        }
        match self.pack_ranges(&windows, limits, STEPS_MIDDLE) {
            Packing::Found(found) => self.plane_exists(&found, limits.lift).then_some(found),
            Packing::Nothing | Packing::OutOfSteps => None,
        }
    }

    /// The seat heights of a choice, least and greatest, without tolerance.
    pub fn seats(&self, chosen: &[u32], cap: i64) -> Vec<Bound> {
        let seat = |(support, &index): (usize, &u32)| {
            let table = &self.tables.tables[self.tables.of_support[support]];
            let least = table.options[index as usize].lift;
            let low = least.max(self.problem.min_lift.0) - self.dig[support];
            let high = (least + table.stroke).min(cap);
            let base = self.bases[support];
            let at = &self.problem.supports[support];
            Bound { x_mm: at.x_mm, y_mm: at.y_mm, low: base + low, high: base + high }
        };
        chosen.iter().enumerate().map(seat).collect()
    }

    /// Whether a plane serves a choice; exact.
    pub fn plane_exists(&self, chosen: &[u32], cap: i64) -> bool {
        let mut bounds = self.seats(chosen, cap);
        let slack = self.problem.planarity_tol.0;
        for bound in &mut bounds {
            bound.low -= slack;
            bound.high += slack;
        }
        bounds.extend(fixed_bounds(self.problem));
        plane::exists(&bounds, self.problem.level_tol_x.0, self.problem.level_tol_y.0)
    }

    /// The greatest of the least lifts of a choice.
    pub fn greatest_lift(&self, chosen: &[u32]) -> i64 {
        let lift = |(&place, &index): (&usize, &u32)| self.tables.tables[place].options[index as usize].lift;
        let greatest = self.tables.of_support.iter().zip(chosen).map(lift).max().unwrap_or(0);
        greatest.max(self.problem.min_lift.0)
    }

    /// Whether some table has a screw or wedges, so that a lift is an interval.
    pub fn has_strokes(&self) -> bool {
        self.tables.tables.iter().any(|table| table.stroke > 0)
    }
}

/// Offsets of supports, then of clearance points, from the first support.
pub(super) fn gauges(problem: &Problem) -> Vec<Gauge> {
    let Some(first) = problem.supports.first() else { return Vec::new() };
    let places = problem.supports.iter().map(|support| (support.x_mm, support.y_mm));
    let points = problem.clearances.iter().map(|point| (point.x_mm, point.y_mm));
    let gauge = |(x, y): (i64, i64)| Gauge {
        x: (x - first.x_mm) as f64 / 1000.0,
        y: (y - first.y_mm) as f64 / 1000.0,
    };
    places.chain(points).map(gauge).collect()
}

/// The bounds of the clearance points.
pub(super) fn fixed_bounds(problem: &Problem) -> impl Iterator<Item = Bound> {
    problem.clearances.iter().map(|point| Bound {
        x_mm: point.x_mm,
        y_mm: point.y_mm,
        low: point.at_least.map_or(-FAR, |low| low.0),
        high: point.at_most.map_or(FAR, |high| high.0),
    })
}
