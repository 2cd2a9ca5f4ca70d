//! A load over real ground is a band: `2.4 to 2.9 of 4.6 t`.

use crate::print::{Figure, NARROW};
use crate::{Amount, Dimension, Rounding, Shown, UnitSet};

/// A limit beside a band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    /// There is none, or it is not known.
    None,
    /// The value may be at most this; printed rounded down.
    AtMost(Amount),
    /// The value must be at least this; printed rounded up.
    AtLeast(Amount),
}

/// A value between two ends, with its limit where there is one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// One end.
    pub low: Amount,
    /// The other end.
    pub high: Amount,
    /// The limit.
    pub limit: Limit,
}

impl Band {
    /// The band as it is printed: the low end rounded down, the high end up, the limit to its strict
    /// side, the unit once at the end.
    ///
    /// Ends that print alike print once. Where the three are shown in different ways, they are shown
    /// as the low end is; where they do not measure the same, or the unit stands inside the number as
    /// with feet and inches, each has its own unit.
    ///
    /// A demand that does not exceed its limit never prints as past it: where rounding would have it so,
    /// all figures have one more digit, or up to three; one that is the limit, to the last of those,
    /// prints as the limit does.
    pub fn print(&self, set: UnitSet) -> String {
        self.said(set, false)
    }

    /// The same; a figure that is one number prints once, rounded to its unsafe side.
    pub fn print_once(&self, set: UnitSet) -> String {
        self.said(set, self.low.si >= self.high.si)
    }

    fn said(&self, set: UnitSet, once: bool) -> String {
        let (low, high, limit) = self.figures(set, once);
        let units = [Some(&low), Some(&high), limit.as_ref().map(|(_, figure)| figure)];
        let one_unit = units.iter().flatten().all(|figure| figure.unit_text() == low.unit_text());
        let number = |figure: &Figure| if one_unit { figure.number() } else { figure.text() };
        let mut text = number(&low);
        if high.number() != low.number() || high.unit_text() != low.unit_text() {
            text = format!("{text} to {}", number(&high));
        }
        if let Some((word, figure)) = &limit {
            text = format!("{text}{word}{}", number(figure));
        }
        if one_unit { format!("{text}{}", low.unit_text()) } else { text }
    }

    /// The figures that are printed, with as many digits as it takes.
    fn figures(&self, set: UnitSet, once: bool) -> (Figure, Figure, Option<(&'static str, Figure)>) {
        const DIGITS: u8 = 3;
        let demand = match self.limit {
            Limit::AtLeast(limit) => limit.si <= self.low.si.min(self.high.si),
            Limit::AtMost(limit) => self.low.si.max(self.high.si) <= limit.si,
            Limit::None => false,
        };
        let mut digits = 0;
        loop {
            let (mut low, mut high) = self.ends(set, once, digits);
            let limit = self.limit(set, digits);
            let belied = |limit: &Figure| match self.limit {
                Limit::AtLeast(_) => low.is_below(limit),
                _ => limit.is_below(&high),
            };
            let Some((_, figure)) = limit.filter(|(_, limit)| demand && belied(limit)) else {
                return (low, high, limit);
            };
            if digits == DIGITS || self.is_its_limit() {
                match self.limit {
                    Limit::AtLeast(_) => low = figure,
                    _ => high = figure,
                }
                if once {
                    (low, high) = (figure, figure);
                }
                return (low, high, limit);
            }
            digits += 1;
        }
    }

    /// Whether the demand is the limit itself, but for what binary numbers cannot tell.
    fn is_its_limit(&self) -> bool {
        let (end, limit) = match self.limit {
            Limit::None => return false,
            Limit::AtMost(limit) => (self.low.si.max(self.high.si), limit.si),
            Limit::AtLeast(limit) => (self.low.si.min(self.high.si), limit.si),
        };
        (end - limit).abs() <= 1e-9 * limit.abs()
    }

    /// The share of the limit that the printed figures use, in whole per cent, rounded up.
    ///
    /// It is what a reader gets who divides one printed figure by the other, so it may stand a little
    /// above the share of the computed figures, and never below it. `None` without a limit, and for a
    /// temperature, whose zero is a matter of the scale.
    pub fn share_percent(&self, set: UnitSet) -> Option<u32> {
        if self.low.shown == Shown::Temperature {
            return None;
        }
        let (low, high) = self.ends(set, false, 0);
        match (self.limit, self.limit(set, 0)) {
            (Limit::AtMost(_), Some((_, limit))) => share_percent(high.si(), limit.si()),
            (Limit::AtLeast(_), Some((_, limit))) => share_percent(limit.si(), low.si()),
            _ => None,
        }
    }

    fn ends(&self, set: UnitSet, once: bool, digits: u8) -> (Figure, Figure) {
        let high = as_shown(self.high, self.low.shown);
        if once {
            let at_least = matches!(self.limit, Limit::AtLeast(_));
            let rounding = if at_least { Rounding::Capacity } else { Rounding::Demand };
            let one = Figure::finer(high, set, rounding, digits);
            return (one, one);
        }
        let (low, high) = if high.si < self.low.si { (high, self.low) } else { (self.low, high) };
        let figure = |amount, rounding| Figure::finer(amount, set, rounding, digits);
        (figure(low, Rounding::Capacity), figure(high, Rounding::Requirement))
    }

    fn limit(&self, set: UnitSet, digits: u8) -> Option<(&'static str, Figure)> {
        let (word, limit, rounding) = match self.limit {
            Limit::None => return None,
            Limit::AtMost(limit) => (" of ", limit, Rounding::Capacity),
            Limit::AtLeast(limit) => (", at least ", limit, Rounding::Requirement),
        };
        Some((word, Figure::finer(as_shown(limit, self.low.shown), set, rounding, digits)))
    }
}

/// The amount shown another way where that is certain to show the same kind of thing. Angles, slopes
/// and shares have no dimension in common that would tell them apart, so they stay as they are.
fn as_shown(amount: Amount, shown: Shown) -> Amount {
    let same = amount.dimension() == shown.dimension() && shown.dimension() != Dimension::NONE;
    if same { amount.shown(shown) } else { amount }
}

/// A target with its tolerance, `645 ± 3 mm`: the target to the nearest, the tolerance rounded down.
pub fn print_target(target: Amount, tolerance: Amount, set: UnitSet) -> String {
    plus_minus(target, tolerance, set, Rounding::Capacity)
}

/// A value with what it may be off by, `3.4 ± 0.2 t`: the value to the nearest, the rest rounded up.
pub fn print_off_by(value: Amount, off_by: Amount, set: UnitSet) -> String {
    plus_minus(value, off_by, set, Rounding::Requirement)
}

fn plus_minus(value: Amount, spread: Amount, set: UnitSet, rounding: Rounding) -> String {
    let value = Figure::new(value, set, Rounding::Nearest);
    let spread = Figure::difference(spread, set, rounding);
    if value.unit_text() == spread.unit_text() && !value.unit_text().is_empty() {
        format!("{}{NARROW}±{NARROW}{}", value.number(), spread.text())
    } else {
        format!("{}{NARROW}±{NARROW}{}", value.text(), spread.text())
    }
}

/// The share of a limit that a demand uses, in whole per cent, rounded up.
///
/// A share that is above a whole per cent by less than one part in 10¹² counts as that per cent, so
/// that binary noise moves nothing. `None` where either is not a finite number. A demand of zero or
/// less uses nothing of a limit above zero; a limit of zero or less is wholly used by a demand that
/// does not exceed it, and is passed without measure by any other.
pub fn share_percent(demand: f64, limit: f64) -> Option<u32> {
    const WITHOUT_MEASURE: u32 = 1_000_000;
    if !demand.is_finite() || !limit.is_finite() {
        return None;
    }
    if limit <= 0.0 {
        return Some(if demand <= limit { 100 } else { WITHOUT_MEASURE });
    }
    let percent = (demand.max(0.0) / limit * 100.0 * (1.0 - 1e-12)).ceil();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped on this line")]
    Some(percent.clamp(0.0, f64::from(WITHOUT_MEASURE)) as u32)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHOWN: [Shown; 12] = [
        Shown::Fine,
        Shown::Finest,
        Shown::Coarse,
        Shown::Mass,
        Shown::Load,
        Shown::Force,
        Shown::Pressure,
        Shown::Speed,
        Shown::Slope,
        Shown::Share,
        Shown::Count,
        Shown::Moment,
    ];

    /// A run of numbers between 0 and 1 that is the same every time.
    fn some(count: usize) -> impl Iterator<Item = f64> {
        let mut state = 7_u64;
        (0..count).map(move |_| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            f64::from((state >> 40) as u32) / f64::from(1_u32 << 24)
        })
    }

    #[test]
    fn law_a_demand_inside_its_limit_never_prints_as_past_it() {
        let mut finer = 0;
        let draws: Vec<f64> = some(3000).collect();
        for draw in draws.chunks_exact(3) {
            for shown in SHOWN {
                let limit = Amount { si: 0.001 + 9.0 * draw[0] * draw[0], shown };
                for share in [draw[1], 0.99, 0.9999, 1.0 - 1e-7, 1.0] {
                    let demand = Amount { si: limit.si * share, shown };
                    let low = Amount { si: demand.si * draw[2], shown };
                    for set in UnitSet::ALL {
                        for (band, once) in [
                            (Band { low, high: demand, limit: Limit::AtMost(limit) }, false),
                            (Band { low: demand, high: demand, limit: Limit::AtMost(limit) }, true),
                        ] {
                            let (_, high, Some((_, most))) = band.figures(set, once) else {
                                panic!("a limit")
                            };
                            assert!(!most.is_below(&high), "{}", band.said(set, once));
                            finer += usize::from(
                                band.said(set, once).len() > band.ends(set, once, 0).1.text().len() * 3,
                            );
                        }
                        let band = Band { low: limit, high: limit, limit: Limit::AtLeast(demand) };
                        let (low, _, Some((_, least))) = band.figures(set, true) else { panic!("a limit") };
                        assert!(!low.is_below(&least), "{}", band.print_once(set));
                    }
                }
            }
        }
        assert!(finer > 0, "some had more digits");
    }

    #[test]
    fn hand_one_more_digit_where_rounding_would_belie_the_verdict() {
        // 0.99 mm = 0.038 976 in rounds up to 0.039; 0.995 mm = 0.039 173 in would to 0.040, and 1 mm = 0.039 370 in down
        // to 0.039: with a digit more it is 0.0392 of 0.0393.
        let mm = |mm: f64| Amount { si: mm / 1000.0, shown: Shown::Finest };
        let at_most = |demand: f64| Band { low: mm(demand), high: mm(demand), limit: Limit::AtMost(mm(1.0)) };
        assert_eq!(at_most(0.99).print_once(UnitSet::Us), "0.039 of 0.039\u{202f}in");
        assert_eq!(at_most(0.995).print_once(UnitSet::Us), "0.0392 of 0.0393\u{202f}in");
        assert_eq!(at_most(1.0).print_once(UnitSet::Us), "0.039 of 0.039\u{202f}in");
        assert_eq!(at_most(1.0).print_once(UnitSet::Metric), "1.0 of 1.0\u{202f}mm");
        // What is past its limit prints as past it: 1.01 mm = 0.039 764 in.
        assert_eq!(at_most(1.01).print_once(UnitSet::Us), "0.040 of 0.039\u{202f}in");
    }
}
