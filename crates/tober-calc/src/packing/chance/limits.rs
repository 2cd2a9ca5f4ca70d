//! What being in tolerance asks of the seats alone, with the plane eliminated.
//!
//! Seats `z` have a plane inside level `A`, `B` and planarity `t` exactly when for every set of weights `m` that adds
//! up to nothing, `|sum m z| <= t sum |m| + A |sum m x| + B |sum m y|` (Farkas; the plane's height drops
//! out as the weights add up to nothing). It is enough to ask this of the weights that cannot be split: of two legs;
//! of three that balance about one axis; of four that balance about both.

use super::super::model::Problem;
use std::collections::BTreeMap;

/// One such condition: `|sum of weight * seat| <= width`, in tenths of a millimetre.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Condition {
    pub weights: Vec<f64>,
    pub width: f64,
    /// The legs that it weighs, as places.
    pub legs: Vec<usize>,
}

type Row = [i128; 3];

/// All conditions, each once; scaled so that the greatest weight is one.
pub(super) fn conditions(problem: &Problem) -> Vec<Condition> {
    let at: Vec<Row> = problem.supports.iter().map(|s| [1, i128::from(s.x_mm), i128::from(s.y_mm)]).collect();
    let n = at.len();
    let mut found: BTreeMap<Vec<i128>, ()> = BTreeMap::new();
    for i in 0..n {
        for j in i + 1..n {
            take(&mut found, n, &[(i, 1), (j, -1)]);
            for k in j + 1..n {
                for axis in [1, 2] {
                    let minor = |p: usize, q: usize| at[q][axis] - at[p][axis];
                    take(&mut found, n, &[(i, minor(j, k)), (j, -minor(i, k)), (k, minor(i, j))]);
                }
                for l in k + 1..n {
                    let d = |p: usize, q: usize, r: usize| determinant(at[p], at[q], at[r]);
                    take(
                        &mut found,
                        n,
                        &[(i, d(j, k, l)), (j, -d(i, k, l)), (k, d(i, j, l)), (l, -d(i, j, k))],
                    );
                }
            }
        }
    }
    found.keys().map(|weights| condition(problem, &at, weights)).collect()
}

fn determinant(a: Row, b: Row, c: Row) -> i128 {
    (b[1] - a[1]) * (c[2] - a[2]) - (b[2] - a[2]) * (c[1] - a[1])
}

/// Keeps weights that are not all nothing, divided by what they share, the first above nothing.
fn take(found: &mut BTreeMap<Vec<i128>, ()>, n: usize, weights: &[(usize, i128)]) {
    let share = weights.iter().fold(0, |share, &(_, weight)| common(share, weight.abs()));
    let Some(&(_, first)) = weights.iter().find(|(_, weight)| *weight != 0) else { return };
    let mut row = vec![0; n];
    for &(place, weight) in weights {
        row[place] = weight / share * first.signum();
    }
    found.insert(row, ());
}

fn common(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { common(b, a % b) }
}

#[expect(clippy::cast_precision_loss, reason = "weights are scaled to one; a double holds them to 1e-16")]
fn condition(problem: &Problem, at: &[Row], weights: &[i128]) -> Condition {
    let greatest = weights.iter().map(|weight| weight.abs()).max().unwrap_or(1).max(1) as f64;
    let about = |axis: usize| weights.iter().zip(at).map(|(m, at)| m * at[axis]).sum::<i128>().abs() as f64;
    let size = weights.iter().map(|weight| weight.abs()).sum::<i128>() as f64;
    let slopes = problem.level_tol_x.0 as f64 * about(1) + problem.level_tol_y.0 as f64 * about(2);
    Condition {
        weights: weights.iter().map(|&weight| weight as f64 / greatest).collect(),
        width: (problem.planarity_tol.0 as f64 * size + slopes / 1000.0) / greatest,
        legs: weights.iter().enumerate().filter(|(_, weight)| **weight != 0).map(|(leg, _)| leg).collect(),
    }
}
