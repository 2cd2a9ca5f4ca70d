//! Whether screws between two ends can bring a frame in: one small linear programme, and a proof in whole numbers.
//!
//! The unknowns are the plane (height at the first support `p`, slopes `a`, `b` in tenths a metre) and one height `z_i`
//! for each top, all of them between two ends. The rows, each in whole numbers with positions in tenths of a millimetre:
//!
//! - a top is within planarity: `10000 p + a x_i + b y_i - 10000 z_i >= -10000 s`, and the other way about;
//! - with a level, each slope of least squares `w.z / over` is inside its tolerance, with `w` and `over` without a common factor;
//! - what must be clear is.
//!
//! The programme finds the point that keeps the worst row by most. Below nothing no point keeps all rows, and its
//! multipliers `m_r >= 0` show it by the lemma of Farkas: `sum m_r row_r.v` is at most what the ends allow, and that is below
//! `sum m_r least_r`. It is worked in floating point; what is taken from it is rounded and decided in whole numbers.

use super::super::model::Problem;
use super::super::plane::Bound;
use super::super::search::FAR;
use super::tops::slopes;

/// Tenths of a millimetre in a metre.
const TENTHS_PER_M: i128 = 10_000;
/// Tenths in a millimetre.
const TENTHS: i128 = 10;
/// What multipliers are blown up by before they are rounded. A row times this times a height stays below 1e36.
const BLOWN_UP: f64 = 1e26;
/// Pivots by the steepest gain before the first is taken, and pivots in all. It guides only, so it may end early.
const STEEPEST: usize = 60;
const PIVOTS_MOST: usize = 300;
/// A gain or an entry below this is nothing.
const NOTHING: f64 = 1e-11;

/// `sum column_j v_j >= least`, over plane and tops.
struct Row {
    columns: Vec<i128>,
    least: i128,
    /// What it is divided by so that its shortfall counts tenths of a millimetre at a leg.
    scale: f64,
}

/// All rows of one trim.
pub(super) struct Rows {
    rows: Vec<Row>,
    slack: i64,
    slopes: (i64, i64),
    legs: usize,
}

/// The middle of what is left, in floating point, with the multipliers of the rows where there may be none.
pub(super) struct Middle {
    pub tops: Vec<f64>,
    multipliers: Vec<f64>,
    short: f64,
}

impl Rows {
    /// The rows for these tolerances; the level is asked for where it was read with one.
    pub fn new(problem: &Problem, fixed: &[Bound], slack: i64, tolerance: (i64, i64), level: bool) -> Self {
        let legs = problem.supports.len();
        let origin = problem.supports.first().map_or((0, 0), |s| (s.x_mm, s.y_mm));
        let mut rows = Vec::new();
        let mut plane = |x_mm: i64, y_mm: i64, top: Option<usize>, sign: i128, least: i64| {
            let mut columns = vec![0; 3 + legs];
            columns[0] = sign * TENTHS_PER_M;
            columns[1] = sign * TENTHS * i128::from(x_mm - origin.0);
            columns[2] = sign * TENTHS * i128::from(y_mm - origin.1);
            if let Some(top) = top {
                columns[3 + top] = -sign * TENTHS_PER_M;
            }
            rows.push(Row { columns, least: TENTHS_PER_M * i128::from(least), scale: TENTHS_PER_M as f64 });
        };
        for (place, support) in problem.supports.iter().enumerate() {
            plane(support.x_mm, support.y_mm, Some(place), 1, -slack);
            plane(support.x_mm, support.y_mm, Some(place), -1, -slack);
        }
        for bound in fixed {
            if bound.low > -FAR {
                plane(bound.x_mm, bound.y_mm, None, 1, bound.low);
            }
            if bound.high < FAR {
                plane(bound.x_mm, bound.y_mm, None, -1, -bound.high);
            }
        }
        if level {
            for (axis, most) in [tolerance.0, tolerance.1].into_iter().enumerate() {
                let Some((weights, over)) = weights(problem, axis) else { continue };
                let scale: f64 = weights.iter().map(|w| w.unsigned_abs() as f64).sum();
                for sign in [-1, 1] {
                    let columns = [0; 3].into_iter().chain(weights.iter().map(|w| sign * w)).collect();
                    rows.push(Row { columns, least: -i128::from(most) * over, scale });
                }
            }
        }
        Self { rows, slack, slopes: tolerance, legs }
    }

    /// The two ends of every unknown.
    fn ends(&self, tops: &[(i64, i64)]) -> Vec<(i64, i64)> {
        let first = (tops[0].0 - self.slack, tops[0].1 + self.slack);
        let (a, b) = self.slopes;
        [first, (-a, a), (-b, b)].into_iter().chain(tops.iter().copied()).collect()
    }

    /// Multipliers that show in whole numbers that nothing between these ends keeps every row.
    pub fn refuted(&self, tops: &[(i64, i64)], middle: &Middle) -> Option<Vec<i128>> {
        if middle.short <= 0.0 {
            return None;
        }
        let whole = |(multiplier, row): (&f64, &Row)| (multiplier / row.scale * BLOWN_UP).round() as i128;
        let multipliers: Vec<i128> = middle.multipliers.iter().zip(&self.rows).map(whole).collect();
        let least: i128 = multipliers.iter().zip(&self.rows).map(|(m, row)| m * row.least).sum();
        let mut most = 0;
        for (column, (low, high)) in self.ends(tops).into_iter().enumerate() {
            let of: i128 = multipliers.iter().zip(&self.rows).map(|(m, row)| m * row.columns[column]).sum();
            most += (of * i128::from(low)).max(of * i128::from(high));
        }
        (most < least).then_some(multipliers)
    }

    /// The point between the ends that keeps the worst row by most, by the simplex method on the dual.
    ///
    /// Dual: the greatest `sum m_r least_r - sum_j h_j (u_j + d_j)` with `sum m_r row_rj + u_j - d_j = 0` and `sum m_r = 1`,
    /// all at or above nothing, unknowns counted from the middle of their ends, `h_j` half of what lies between. The
    /// first row alone with its `u` or `d` is a basis to begin with.
    pub fn middle(&self, tops: &[(i64, i64)]) -> Middle {
        let ends = self.ends(tops);
        let (size, count) = (ends.len(), self.rows.len());
        let mid: Vec<f64> = ends.iter().map(|&(low, high)| 0.5 * (low + high) as f64).collect();
        let half: Vec<f64> = ends.iter().map(|&(low, high)| 0.5 * (high - low) as f64).collect();
        let (width, last) = (count + 2 * size + 1, size);
        let mut table = vec![vec![0.0; width]; size + 2];
        for (r, row) in self.rows.iter().enumerate() {
            let mut least = row.least as f64;
            for j in 0..size {
                let column = row.columns[j] as f64;
                table[j][r] = column / row.scale;
                least -= column * mid[j];
            }
            table[last][r] = 1.0;
            table[last + 1][r] = least / row.scale;
        }
        for j in 0..size {
            (table[j][count + 2 * j], table[j][count + 2 * j + 1]) = (1.0, -1.0);
            (table[last + 1][count + 2 * j], table[last + 1][count + 2 * j + 1]) = (-half[j], -half[j]);
        }
        table[last][width - 1] = 1.0;
        let mut basis: Vec<usize> =
            (0..size).map(|j| count + 2 * j + usize::from(table[j][0] > 0.0)).collect();
        basis.push(0);
        pivot(&mut table, last, 0);
        for (j, &column) in basis.iter().enumerate().take(size) {
            pivot(&mut table, j, column);
        }
        for turn in 0..PIVOTS_MOST {
            let gains = &table[last + 1][..width - 1];
            let gaining = gains.iter().enumerate().filter(|(_, gain)| **gain > NOTHING);
            let entering = if turn < STEEPEST {
                gaining.max_by(|a, b| a.1.total_cmp(b.1))
            } else {
                gaining.min_by_key(|(column, _)| *column)
            };
            let Some((entering, _)) = entering else { break };
            let share = |row: usize| table[row][width - 1].max(0.0) / table[row][entering];
            let leaving = (0..=last).filter(|&row| table[row][entering] > NOTHING);
            let leaving =
                leaving.min_by(|&a, &b| share(a).total_cmp(&share(b)).then(basis[a].cmp(&basis[b])));
            let Some(leaving) = leaving else { break };
            basis[leaving] = entering;
            pivot(&mut table, leaving, entering);
        }
        let mut multipliers = vec![0.0; count];
        for (row, &column) in basis.iter().enumerate() {
            if column < count {
                multipliers[column] = table[row][width - 1].max(0.0);
            }
        }
        let at = |j: usize| mid[j] - half[j] - table[last + 1][count + 2 * j];
        Middle { tops: (3..3 + self.legs).map(at).collect(), multipliers, short: -table[last + 1][width - 1] }
    }
}

fn pivot(table: &mut [Vec<f64>], row: usize, column: usize) {
    let by = table[row][column];
    for entry in &mut table[row] {
        *entry /= by;
    }
    let taken = core::mem::take(&mut table[row]);
    for other in table.iter_mut().filter(|other| !other.is_empty()) {
        let times = other[column];
        if times != 0.0 {
            for (entry, take) in other.iter_mut().zip(&taken) {
                *entry -= times * take;
            }
        }
    }
    table[row] = taken;
}

/// The weights of the tops in a slope of least squares, and what they are over, without a common factor.
fn weights(problem: &Problem, axis: usize) -> Option<(Vec<i128>, i128)> {
    let legs = problem.supports.len();
    let mut weights = Vec::with_capacity(legs);
    let mut over = 0;
    for place in 0..legs {
        let mut alone = vec![0; legs];
        alone[place] = 1;
        let (along, across, of) = slopes(&problem.supports, &alone)?;
        weights.push(if axis == 0 { along } else { across });
        over = of;
    }
    let common = weights.iter().fold(over, |common, weight| divisor(common, weight.abs()));
    Some((weights.iter().map(|weight| weight / common).collect(), over / common))
}

fn divisor(mut a: i128, mut b: i128) -> i128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
