//! Whether the frame tips for any load within its ends.

use super::hull::Hull;
use super::solver::Edge;
use super::uncertain::{Place, Spot, UncertainLoad};
use tober_quantity::{Length, Quantity};

/// Whether there is a load within the ends given for which the frame does not stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tipping {
    /// It stands for every one.
    Nowhere {
        /// How far inside the hull the resultant stays.
        margin: Length,
        /// The side it comes nearest to.
        nearest: Edge,
    },
    /// It tips, or balances on a side, for some and stands for others.
    Somewhere {
        /// How far inside the hull the resultant stays: not above nothing.
        margin: Length,
        /// The side it comes farthest over.
        over: Edge,
    },
    /// It tips for every one, over this side.
    Everywhere {
        /// The side.
        over: Edge,
    },
    /// The load may come to nothing, or pull up, for some.
    LiftsOff,
    /// Part of the load has no place.
    NotKnown,
}

/// A load number by number: weight, moment about the side, and between which ends it lies.
struct Part {
    down: f64,
    moment: f64,
    low: f64,
    high: f64,
}

/// The least of `moment/down` over all loads, by Dinkelbach's method: with the least ratio so far as
/// price of weight, take for each part the end that makes `moment - price*down` least.
fn least_ratio(parts: &[Part]) -> f64 {
    let at = |price: f64| {
        parts.iter().fold((0.0, 0.0), |(down, moment), p| {
            let end = if p.moment - price * p.down > 0.0 { p.low } else { p.high };
            (down + end * p.down, moment + end * p.moment)
        })
    };
    let mut ratio = f64::INFINITY;
    let (down, moment) =
        parts.iter().fold((0.0, 0.0), |(d, m), p| (d + p.low * p.down, m + p.low * p.moment));
    let mut next = moment / down;
    // It falls to the least in a few steps; the count is only so that nothing can go on for ever.
    for _ in 0..100 {
        if next >= ratio {
            break;
        }
        ratio = next;
        let (down, moment) = at(ratio);
        next = moment / down;
    }
    ratio.min(next)
}

pub(super) fn tipping(spots: &[Spot], load: &UncertainLoad) -> Tipping {
    if !load.placed() {
        return Tipping::NotKnown;
    }
    if load.down().low.si() <= 0.0 {
        return Tipping::LiftsOff;
    }
    let (x, y): (Vec<f64>, Vec<f64>) = spots.iter().map(|s| (s.x.si(), s.y.si())).unzip();
    let mut hull = Hull::default();
    hull.make(&x, &y);
    let mut least: Option<(f64, Edge)> = None;
    for (from, to) in hull.sides() {
        let (sx, sy) = (x[to] - x[from], y[to] - y[from]);
        let side = (sx * sx + sy * sy).sqrt();
        // A hull of one point has no side to turn about; nothing stands on it but by balance.
        if side <= 0.0 {
            return Tipping::Somewhere { margin: Length::ZERO, over: Edge { from, to } };
        }
        let (nx, ny) = (-sy / side, sx / side);
        let mut parts: Vec<Part> = Vec::with_capacity(load.burdens.len() + 2);
        for burden in &load.burdens {
            if let Place::At(at) = burden.place {
                let moment = nx * (at.x.si() - x[from]) + ny * (at.y.si() - y[from]);
                parts.push(Part {
                    down: 1.0,
                    moment,
                    low: burden.down.low.si(),
                    high: burden.down.high.si(),
                });
            }
        }
        for (m, moment) in [(load.moment_x, -ny), (load.moment_y, nx)] {
            parts.push(Part { down: 0.0, moment, low: m.low.si(), high: m.high.si() });
        }
        let low = least_ratio(&parts);
        let turned: Vec<Part> = parts.into_iter().map(|p| Part { moment: -p.moment, ..p }).collect();
        let high = -least_ratio(&turned);
        let edge = Edge { from, to };
        if high < 0.0 {
            return Tipping::Everywhere { over: edge };
        }
        if least.is_none_or(|(margin, _)| low < margin) {
            least = Some((low, edge));
        }
    }
    match least {
        Some((margin, nearest)) if margin > 0.0 => Tipping::Nowhere { margin: Length::m(margin), nearest },
        Some((margin, over)) => Tipping::Somewhere { margin: Length::m(margin), over },
        None => Tipping::NotKnown,
    }
}
