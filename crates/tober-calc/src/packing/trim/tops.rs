//! From readings to the tops of the supports, and the slopes a level would show.

use super::super::model::{Problem, Support};
use super::options::stands_high;
use super::{Foot, Frame, Missing, Question};
use tober_quantity::TenthMm;

/// Hundredths of a millimetre a metre, times millimetres, in a tenth of a millimetre.
const SLOPE_TIMES_MM: i64 = 10_000;

/// The height of the frame at a support as it was read; with a level, over its plane at the datum.
pub(super) fn height_read(question: &Question, place: usize) -> Option<i64> {
    match &question.reading.frame {
        Frame::Level { along, across, .. } => {
            let support = &question.problem.supports[place];
            let rise = along.0 * support.x_mm + across.0 * support.y_mm;
            Some((2 * rise + SLOPE_TIMES_MM).div_euclid(2 * SLOPE_TIMES_MM))
        }
        Frame::Heights { at, .. } => at[place].map(|height| height.0),
    }
}

/// The gap under a foot, where it is known.
pub(super) fn gap(question: &Question, place: usize) -> Option<i64> {
    match question.reading.feet[place]? {
        Foot::Snug => Some(0),
        Foot::Light { gap } => gap.map(|gap| gap.0),
    }
}

/// The top of each support: where the frame would lie on it with its foot on its boards.
pub(super) fn tops(question: &Question) -> Vec<Option<i64>> {
    let top = |place| Some(height_read(question, place)? - gap(question, place)?);
    (0..question.problem.supports.len()).map(top).collect()
}

/// What was not read.
pub(super) fn missing(question: &Question) -> Vec<Missing> {
    let mut list = Vec::new();
    for place in 0..question.problem.supports.len() {
        if height_read(question, place).is_none() {
            list.push(Missing::Height(place));
        }
        match question.reading.feet[place] {
            None => list.push(Missing::Foot(place)),
            Some(Foot::Light { gap: None }) => list.push(Missing::Gap(place)),
            Some(_) => {}
        }
    }
    list
}

/// A leg that stands farther above the middle one than this was set wrong, and is no measure of sinking: half of
/// a usual step from hole to hole.
const SET_WRONG: i64 = 200;

/// The problem on the ground as it bears, with every board that stands counted to the kit.
///
/// Clearances are carried over from the survey's heights to those of the reading by the support that has
/// sunk least since: it is taken not to have sunk, as the packing took all.
pub(super) fn measured(question: &Question, tops: &[Option<i64>]) -> Problem {
    let mut problem = question.problem.clone();
    let mut apart: Vec<i64> = Vec::new();
    for ((support, stands), top) in problem.supports.iter_mut().zip(&question.stands).zip(tops) {
        let Some(top) = top else { continue };
        let (extension, packing) = stands_high(&question.problem, support, stands);
        let ground = top - extension - packing - support.leg.shortest().0;
        apart.push(ground - support.ground.0);
        support.ground = TenthMm(ground);
    }
    apart.sort_unstable();
    let middle = apart.get(apart.len() / 2).copied().unwrap_or(0);
    let carried = apart.iter().rev().find(|&&apart| apart <= middle + SET_WRONG).copied();
    for clearance in &mut problem.clearances {
        let shift = |height: TenthMm| height + TenthMm(carried.unwrap_or(0));
        clearance.at_least = clearance.at_least.map(shift);
        clearance.at_most = clearance.at_most.map(shift);
    }
    for (kind, board) in problem.boards.iter_mut().enumerate() {
        let stand: usize =
            question.stands.iter().map(|stands| stands.laid.iter().filter(|&&k| k == kind).count()).sum();
        board.count = board.count.max(u32::try_from(stand).unwrap_or(u32::MAX));
    }
    problem
}

/// The slopes of the plane of least squares through heights at supports: along, across, and what both are
/// over (positive), in tenths of a millimetre a metre; exact. `None` where the supports are in one line.
///
/// With `n` points and sums about their middle, `a = (Sxz Syy - Syz Sxy) / (Sxx Syy - Sxy²)` and likewise across.
/// It is what a level shows on a stiff frame that lies on equal springs and touches all of them.
pub fn slopes(supports: &[Support], heights: &[i64]) -> Option<(i128, i128, i128)> {
    let n = i128::try_from(supports.len()).ok()?;
    let points: Vec<[i128; 3]> = supports
        .iter()
        .zip(heights)
        .map(|(s, &z)| [i128::from(s.x_mm), i128::from(s.y_mm), i128::from(z)])
        .collect();
    let sum = |axis: usize| points.iter().map(|p| p[axis]).sum::<i128>();
    let about = |i: usize, j: usize| n * points.iter().map(|p| p[i] * p[j]).sum::<i128>() - sum(i) * sum(j);
    let (xx, xy, yy, xz, yz) = (about(0, 0), about(0, 1), about(1, 1), about(0, 2), about(1, 2));
    let over = xx * yy - xy * xy;
    (over > 0).then(|| (1000 * (xz * yy - yz * xy), 1000 * (yz * xx - xz * xy), over))
}
