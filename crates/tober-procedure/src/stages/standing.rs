//! What a stage stands on: feet with springs, and the edges between them.

use super::sums::{Functional, Shares, Window, told};
use super::{AtStage, Over};
use crate::run::Run;
use tober_book::{Body, Does, Placement, Ride};
use tober_calc::orders::{Extreme, greatest};
use tober_calc::stability::FactorSet;
use tober_quantity::{Length, Slope, Stiffness, maths};

/// A foot: where it is, how it yields, how far it is from touching.
#[derive(Clone, Debug)]
pub struct Foot {
    /// The leg.
    pub name: String,
    /// Along and across, in metres.
    pub at: [f64; 2],
    /// Newtons for each metre.
    pub stiffness: f64,
    /// Least and greatest clear distance to the frame, in metres.
    pub gap: [f64; 2],
    /// What the book rates it for, in newtons.
    pub rated: Option<f64>,
}

/// What a stage stands on.
#[derive(Clone, Debug)]
pub struct Standing {
    /// The feet that carry.
    pub feet: Vec<Foot>,
    /// What may carry beside them while not all are set: the wheels and the hitch jack.
    pub others: Vec<Foot>,
    /// The sets of factors to ask the edges by.
    pub factors: Vec<FactorSet>,
    /// How far the frame may lean, as height over length.
    pub lean: f64,
    /// How high the datum plane is above the feet, in metres.
    pub height: f64,
}

/// The factored moment over an edge, over every stage.
#[derive(Clone, Debug)]
pub struct EdgeOver {
    /// The two legs that the edge runs between.
    pub between: [String; 2],
    /// The set of factors.
    pub factors: String,
    /// The factored moment that tips less the one that holds, in newton metres: zero and below stands.
    pub over: AtStage,
    /// What holds there, factored, in newton metres.
    pub holds: f64,
}

impl EdgeOver {
    /// How much of what holds is used where it is worst.
    pub fn share(&self) -> f64 {
        if self.holds > 0.0 { 1.0 + self.over.value / self.holds } else { f64::INFINITY }
    }
}

/// What one newton anywhere puts on a foot, and what the gaps add.
pub(crate) struct Influence {
    pub per_newton: [f64; 4],
    pub gap_low: f64,
    pub gap_high: f64,
}

impl Standing {
    /// The feet of a ride book as it is drawn: every leg that carries at its place, snug, with the book's stiffness. A leg
    /// without one takes that of the softest that has one, or 10 kN/mm where none has (common practice, no source).
    pub fn of_book(ride: &Ride) -> Self {
        let carry = || ride.supports.iter().filter(|support| support.does == Does::Carries);
        let softest = carry()
            .filter_map(|support| support.stiffness)
            .map(Stiffness::as_n_per_m)
            .fold(f64::INFINITY, f64::min);
        let softest = if softest.is_finite() { softest } else { 1e7 };
        let feet = carry().map(|support| Foot {
            name: support.name.clone(),
            at: [support.at.along.as_m(), support.at.across.as_m()],
            stiffness: support.stiffness.map_or(softest, Stiffness::as_n_per_m),
            gap: [0.0, 0.0],
            rated: support.rated_load.map(|load| load.0.as_n()),
        });
        let factors = match ride.limits.as_ref().and_then(|limits| limits.stability_factors.as_deref()) {
            Some(name) => FactorSet::named(name).into_iter().collect(),
            None => FactorSet::known(),
        };
        let lean = |slope: Option<Slope>| slope.map_or(0.0, Slope::as_ratio);
        Self {
            feet: feet.collect(),
            others: others(ride, softest),
            factors,
            lean: maths::hypot(lean(ride.frame.level_along), lean(ride.frame.level_across)),
            height: ride.frame.resting_height.map_or(1.0, Length::as_m),
        }
    }

    /// What each foot feels, while all of them touch: the springs' matrix turned round. `None` where fewer than three feet
    /// are out of line.
    ///
    /// With `r_i = (1, x_i, y_i)` and `M = sum k_i r_i r_i^T`, a newton at `p` puts `k_i r_i · M^-1 (1, p)` on foot i.
    pub(crate) fn springs(&self) -> Option<Vec<Influence>> {
        let rows: Vec<[f64; 3]> = self.feet.iter().map(|foot| [1.0, foot.at[0], foot.at[1]]).collect();
        let mut m = [[0.0; 3]; 3];
        for (row, foot) in rows.iter().zip(&self.feet) {
            for i in 0..3 {
                for j in 0..3 {
                    m[i][j] += foot.stiffness * row[i] * row[j];
                }
            }
        }
        let inverse = turned_round(&m)?;
        let dot = |a: &[f64; 3], b: &[f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        let through = |row: &[f64; 3]| [dot(&inverse[0], row), dot(&inverse[1], row), dot(&inverse[2], row)];
        let each = rows.iter().zip(&self.feet).enumerate().map(|(number, (row, foot))| {
            let to = through(row);
            let k = foot.stiffness;
            // A gap of another foot lets the frame down onto this one, its own takes it off.
            let (mut gap_low, mut gap_high) = (0.0, 0.0);
            for (other, (their, there)) in rows.iter().zip(&self.feet).enumerate() {
                let own = if other == number { -k } else { 0.0 };
                let slope = k * there.stiffness * dot(&to, their) + own;
                let (one, two) = (slope * there.gap[0], slope * there.gap[1]);
                gap_low += one.min(two);
                gap_high += one.max(two);
            }
            Influence { per_newton: [k * to[0], k * to[1], k * to[2], 0.0], gap_low, gap_high }
        });
        Some(each.collect())
    }

    /// The feet at the corners, anticlockwise.
    pub(crate) fn corners(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.feet.len()).collect();
        let at = |foot: usize| self.feet[foot].at;
        order.sort_by(|&a, &b| at(a)[0].total_cmp(&at(b)[0]).then(at(a)[1].total_cmp(&at(b)[1])));
        let left = |a: usize, b: usize, c: usize| {
            (at(b)[0] - at(a)[0]) * (at(c)[1] - at(a)[1]) - (at(b)[1] - at(a)[1]) * (at(c)[0] - at(a)[0])
        };
        let half = |feet: &mut dyn Iterator<Item = usize>| {
            let mut chain: Vec<usize> = Vec::new();
            for foot in feet {
                while chain.len() >= 2 && left(chain[chain.len() - 2], chain[chain.len() - 1], foot) <= 1e-9 {
                    chain.pop();
                }
                chain.push(foot);
            }
            chain.pop();
            chain
        };
        let mut lower = half(&mut order.iter().copied());
        lower.extend(half(&mut order.iter().rev().copied()));
        lower
    }

    /// The factored moment over each edge by each set of factors, over every stage.
    pub(crate) fn edges_over(&self, run: &Run<'_>, windows: Over<'_>) -> Vec<EdgeOver> {
        let corners = self.corners();
        if corners.len() < 3 {
            return Vec::new();
        }
        let mut all = Vec::new();
        for set in &self.factors {
            for (number, &one) in corners.iter().enumerate() {
                let other = corners[(number + 1) % corners.len()];
                let ([x, y], [u, v]) = (self.feet[one].at, self.feet[other].at);
                let length = maths::hypot(u - x, v - y);
                // Out of the polygon, which runs anticlockwise.
                let (nx, ny) = ((v - y) / length, (x - u) / length);
                let outward = -(nx * x + ny * y);
                let heavy = set.permanent_unfavourable.as_one() * set.overturning_least.as_one();
                let functional = Functional {
                    per_newton: [outward, nx, ny, self.lean],
                    light: set.permanent_favourable.as_one(),
                    heavy,
                    tilt: self.lean * self.height,
                    axis: [0.0; 2],
                };
                let between = [one, other].map(|foot| self.feet[foot].name.clone());
                all.extend(over(run, windows, &functional, &between, set));
            }
        }
        all
    }
}

fn over(
    run: &Run<'_>,
    windows: &[Window],
    functional: &Functional,
    between: &[String; 2],
    set: &FactorSet,
) -> Option<EdgeOver> {
    let every = |_: &Body, _: &Placement| true;
    let mut best: Option<(i64, &Window, Extreme)> = None;
    for window in windows {
        let whole = Shares::new(run, functional, window.turned, true, &every).tally()?;
        let Some(extreme) = greatest(&run.order, &whole, &window.done, &window.open) else { continue };
        if best.as_ref().is_none_or(|(value, ..)| *value < extreme.value) {
            best = Some((extreme.value, window, extreme));
        }
    }
    let (_, window, extreme) = best?;
    let over = told(run, window, &Shares::new(run, functional, window.turned, true, &every), &extreme);
    // What holds at that stage: the shares below zero.
    let holds = over.shares.iter().map(|(_, share)| -share.min(0.0)).sum();
    Some(EdgeOver { between: between.clone(), factors: set.name.clone(), over, holds })
}

/// The wheels, and the hitch jack or the hitch.
fn others(ride: &Ride, stiffness: f64) -> Vec<Foot> {
    let foot = |name: String, at: [f64; 2]| Foot { name, at, stiffness, gap: [0.0, 0.0], rated: None };
    let mut all = Vec::new();
    for (number, axle) in ride.frame.axles.iter().enumerate() {
        for (side, half) in [("left", 0.5), ("right", -0.5)] {
            let name = format!("{side} wheels of axle {}", number + 1);
            all.push(foot(name, [axle.at.as_m(), half * axle.track.as_m()]));
        }
    }
    if let Some(hitch) = &ride.frame.hitch {
        let at = hitch.jack_at.as_ref().unwrap_or(&hitch.at);
        all.push(foot("hitch".to_owned(), [at.along.as_m(), at.across.as_m()]));
    }
    all
}

/// The inverse of a symmetric matrix of three rows; `None` where it has none to the accuracy of the numbers.
fn turned_round(m: &[[f64; 3]; 3]) -> Option<[[f64; 3]; 3]> {
    let minor = |r: usize, c: usize| {
        let (a, b) = ((r + 1) % 3, (r + 2) % 3);
        let (d, e) = ((c + 1) % 3, (c + 2) % 3);
        m[a][d] * m[b][e] - m[a][e] * m[b][d]
    };
    let determinant = m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
    let size = m[0][0] * m[1][1] * m[2][2];
    // Also where it is no number.
    if determinant.abs() <= size * 1e-12 || determinant.is_nan() {
        return None;
    }
    Some([0, 1, 2].map(|r| [0, 1, 2].map(|c| minor(c, r) / determinant)))
}
