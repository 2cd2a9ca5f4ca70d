//! What was read of the feet, and by how much it disagrees where it cannot be.

use super::band::{Asked, BandAnswer, band_of};
use super::bearing::Bearing;
use super::error::{FORCE, SupportsError, inside, limit};
use super::search::Search;
use super::uncertain::{Between, Seen, Spot, UncertainLoad, UncertainSupport, check_uncertain_load};
use tober_quantity::{Force, Quantity, Shown};

/// What was read of one foot.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FootRead {
    /// What was found on kicking it.
    pub seen: Option<Seen>,
    /// The load on it as a gauge showed it, with what the gauge may be off by.
    pub measured: Option<Between<Force>>,
}

impl FootRead {
    /// Between what the load on the foot lies by what was read.
    pub fn load(&self) -> Between<Force> {
        let mut load = Between { low: Force::ZERO, high: Force::n(FORCE.1) };
        match self.seen {
            Some(Seen::Snug { at_least }) => load.low = at_least,
            Some(Seen::Light { at_most }) => load.high = at_most,
            None => {}
        }
        if let Some(measured) = self.measured {
            load.low = load.low.max(measured.low);
            load.high = load.high.min(measured.high);
        }
        load
    }
    /// Whether anything was read.
    pub fn is_read(&self) -> bool {
        self.seen.is_some() || self.measured.is_some()
    }
}

/// What was read of the feet, and what rested on the frame then.
#[derive(Clone, Debug)]
pub struct Reading {
    /// What rested on the frame when it was read.
    pub load: UncertainLoad,
    /// Where that bears, for a frame that bends.
    pub bearing: Option<Bearing>,
    /// What was read of each support, in order.
    pub feet: Vec<FootRead>,
}

impl Reading {
    pub(super) fn check(&self, supports: usize) -> Result<(), SupportsError> {
        if self.feet.len() != supports {
            return Err(SupportsError::ReadingsMissing { given: self.feet.len(), supports });
        }
        for (support, foot) in self.feet.iter().enumerate() {
            let mut numbers = Vec::new();
            match foot.seen {
                Some(Seen::Snug { at_least: load } | Seen::Light { at_most: load }) => numbers.push(load),
                None => {}
            }
            if let Some(measured) = foot.measured {
                numbers.extend([measured.low, measured.high]);
                if measured.low > measured.high {
                    let of = format!("the load measured at support {}", support + 1);
                    let (low, high) = (measured.low.amount(), measured.high.amount());
                    return Err(SupportsError::RangeTurnedRound { of, low, high });
                }
            }
            if let Some(bad) = numbers.into_iter().find(|n| !inside(n.si(), -FORCE.1, FORCE.1)) {
                let limit = limit::<Force>(-FORCE.1, FORCE.1, Shown::Force);
                let what = "load that was read";
                return Err(SupportsError::SupportOutOfRange { support, what, given: bad.amount(), limit });
            }
        }
        check_uncertain_load(&self.load)?;
        Ok(())
    }
}

/// By how much readings cannot be.
#[derive(Clone, Debug, PartialEq)]
pub struct Disagreement {
    /// The feet whose reading, by itself, is outside what can be computed without it: worst first.
    pub alone: Vec<Apart>,
    /// What every reading would at least have to be off by, all together, more than it may be.
    pub together: Option<Force>,
}

/// A reading that is outside what can be computed without any reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apart {
    /// The support.
    pub support: usize,
    /// Between what it was read.
    pub read: Between<Force>,
    /// Between what it was computed.
    pub computed: Between<Force>,
    /// By how much the two miss each other.
    pub by: Force,
}

/// By how much the readings disagree with gaps, stiffnesses and loads within their ends; `None` where they agree, or
/// the frame could not have stood under the load of the reading.
///
/// # Errors
/// As [`band_of`].
pub fn disagreement(
    supports: &[UncertainSupport],
    reading: &Reading,
) -> Result<Option<Disagreement>, SupportsError> {
    reading.check(supports.len())?;
    let bare: Vec<UncertainSupport> =
        supports.iter().map(|s| UncertainSupport { seen: None, ..*s }).collect();
    let asked =
        Asked { supports: &bare, load: &reading.load, bearing: reading.bearing.as_ref(), reading: None };
    let BandAnswer::Stands(computed) = band_of(&asked)? else { return Ok(None) };
    let mut alone = Vec::new();
    for (support, (foot, band)) in reading.feet.iter().zip(&computed.supports).enumerate() {
        let (read, computed) = (foot.load(), band.load);
        let by = (read.low - computed.high).max(computed.low - read.high);
        if foot.is_read() && by > Force::ZERO {
            alone.push(Apart { support, read, computed, by });
        }
    }
    alone.sort_by(|a, b| b.by.si().total_cmp(&a.by.si()).then(a.support.cmp(&b.support)));
    let spots: Vec<Spot> = supports.iter().map(|s| s.spot).collect();
    let weight = reading.load.down().high.si();
    let together =
        Search::new(&asked, &spots, weight).least_slack(&reading.feet).map(|s| Force::n(s * weight));
    let together = together.filter(|slack| slack.si() > 1e-9 * weight);
    if alone.is_empty() && together.is_none() {
        return Ok(None);
    }
    Ok(Some(Disagreement { alone, together }))
}
