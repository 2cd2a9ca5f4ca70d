//! What a leg can never carry more than, whichever legs touch.
//!
//! Legs only push. With any numbers `y = (y0, yx, yy)` such that `y · (1, x_j, y_j)` is at least zero at every foot and at
//! least one at foot i, equilibrium gives `R_i <= sum y·(1, x_j, y_j) R_j = y · (W, W x, W y)`: linear in the weights, so a
//! closure bounds it over every stage. The corners of what `y` may be are the planes through three of these conditions; each
//! gives a bound, and the least of them is printed.

use super::standing::Standing;
use super::sums::{Functional, Shares, Window, worst};
use super::{AtStage, Over};
use crate::run::Run;
use tober_book::{Body, Placement};
use tober_calc::orders::greatest;
use tober_calc::supports::{Answer, Load, Support, solve};
use tober_quantity::{Force, Length, Stiffness};

/// Nothing is negative to more than this: one part in a thousand million.
const LEVEL: f64 = 1e-9;

/// No more than this on a leg in any stage, whatever carries at `others` beside the legs; and the most found on it, with legs
/// that only push and nothing at the others, at the stages that the search for the bound comes upon.
pub(crate) fn bound(
    run: &Run<'_>,
    windows: Over<'_>,
    standing: &Standing,
    others: &[[f64; 2]],
    foot: usize,
) -> (Option<AtStage>, Option<f64>) {
    let spots = standing.feet.iter().map(|foot| &foot.at).chain(others);
    let rows: Vec<[f64; 3]> = spots.map(|at| [1.0, at[0], at[1]]).collect();
    let least = |number: usize| if number == foot { 1.0 } else { 0.0 };
    let (mut best, mut most): (Option<AtStage>, _) = (None, None);
    for a in 0..rows.len() {
        for b in a + 1..rows.len() {
            for c in b + 1..rows.len() {
                let heights = [least(a), least(b), least(c)];
                let Some(y) = plane([&rows[a], &rows[b], &rows[c]], heights) else { continue };
                let dot = |row: &[f64; 3]| y[0] * row[0] + y[1] * row[1] + y[2] * row[2];
                if rows.iter().enumerate().any(|(number, row)| dot(row) < least(number) - LEVEL) {
                    continue;
                }
                let functional = Functional {
                    per_newton: [y[0], y[1], y[2], 0.0],
                    light: 1.0,
                    heavy: 1.0,
                    tilt: 0.0,
                    axis: [0.0; 2],
                };
                let found =
                    windows.iter().filter_map(|window| at_worst(run, window, standing, foot, &functional));
                most = found.chain(most).reduce(f64::max);
                let found = worst(run, windows, &functional, true);
                best = found.into_iter().chain(best).min_by(|one, other| one.value.total_cmp(&other.value));
            }
        }
    }
    (best, most)
}

/// What legs that only push put on one of them at the stage where a functional is greatest, everything at rest, each body as
/// heavy or as light as makes the functional greatest, and gaps in the middle of what they may be.
fn at_worst(
    run: &Run<'_>,
    window: &Window,
    standing: &Standing,
    foot: usize,
    functional: &Functional,
) -> Option<f64> {
    let every = |_: &Body, _: &Placement| true;
    let shares = Shares::new(run, functional, window.turned, true, &every);
    let stage = greatest(&run.order, &shares.tally()?, &window.done, &window.open)?.stage;
    let [weight, along, across] = shares.resultant(&stage)?;
    let feet: Vec<Support> = standing
        .feet
        .iter()
        .map(|foot| Support {
            x: Length::m(foot.at[0]),
            y: Length::m(foot.at[1]),
            stiffness: Stiffness::n_per_m(foot.stiffness),
            gap: Length::m((foot.gap[0] + foot.gap[1]) / 2.0),
        })
        .collect();
    let load = Load::weight(Force::n(weight), Length::m(along / weight), Length::m(across / weight));
    match solve(&feet, &load).ok()? {
        Answer::Stands(stands) => stands.reactions.get(foot).map(|force| force.as_n()),
        Answer::Tips(_) => None,
    }
}

/// The plane with these heights at three places.
fn plane(rows: [&[f64; 3]; 3], heights: [f64; 3]) -> Option<[f64; 3]> {
    let det = |a: [f64; 3], b: [f64; 3], c: [f64; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
    };
    let [a, b, c] = rows.map(|row| *row);
    let whole = det(a, b, c);
    if whole.abs() < LEVEL {
        return None;
    }
    let with = |column: usize| {
        let mut put = [a, b, c];
        for (row, height) in put.iter_mut().zip(heights) {
            row[column] = height;
        }
        det(put[0], put[1], put[2]) / whole
    };
    Some([with(0), with(1), with(2)])
}
