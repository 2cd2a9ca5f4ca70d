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
    pub fn print(&self, set: UnitSet) -> String {
        let (low, high) = self.ends(set);
        let limit = self.limit(set);
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

    /// The share of the limit that the printed figures use, in whole per cent, rounded up.
    ///
    /// It is what a reader gets who divides one printed figure by the other, so it may stand a little
    /// above the share of the computed figures, and never below it. `None` without a limit, and for a
    /// temperature, whose zero is a matter of the scale.
    pub fn share_percent(&self, set: UnitSet) -> Option<u32> {
        if self.low.shown == Shown::Temperature {
            return None;
        }
        let (low, high) = self.ends(set);
        match (self.limit, self.limit(set)) {
            (Limit::AtMost(_), Some((_, limit))) => share_percent(high.si(), limit.si()),
            (Limit::AtLeast(_), Some((_, limit))) => share_percent(limit.si(), low.si()),
            _ => None,
        }
    }

    fn ends(&self, set: UnitSet) -> (Figure, Figure) {
        let high = as_shown(self.high, self.low.shown);
        let (low, high) = if high.si < self.low.si { (high, self.low) } else { (self.low, high) };
        (Figure::new(low, set, Rounding::Capacity), Figure::new(high, set, Rounding::Requirement))
    }

    fn limit(&self, set: UnitSet) -> Option<(&'static str, Figure)> {
        let (word, limit, rounding) = match self.limit {
            Limit::None => return None,
            Limit::AtMost(limit) => (" of ", limit, Rounding::Capacity),
            Limit::AtLeast(limit) => (", at least ", limit, Rounding::Requirement),
        };
        Some((word, Figure::new(as_shown(limit, self.low.shown), set, rounding)))
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
