//! Why no answer is given.

use core::fmt;
use tober_quantity::{Amount, Force, Length, Moment, Quantity, Shown, Stiffness, UnitSet};

/// Between what a number must lie for its answer to mean something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// The least that is accepted.
    pub least: Amount,
    /// The greatest that is accepted.
    pub greatest: Amount,
}

/// Why the loads on the supports cannot be given. Supports and burdens are counted from 0 in the fields
/// and from 1 in the sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum SupportsError {
    /// There is no support at all.
    NoSupports,
    /// More supports than the calculation takes.
    TooManySupports {
        /// How many were given.
        given: usize,
        /// How many it takes.
        most: usize,
    },
    /// A number of one support is not a number, or is past any real support.
    SupportOutOfRange {
        /// Which support.
        support: usize,
        /// Which of its numbers.
        what: &'static str,
        /// What was given.
        given: Amount,
        /// What is accepted.
        limit: Limit,
    },
    /// A number of the load is not a number, or is past any real load.
    LoadOutOfRange {
        /// Which of its numbers.
        what: &'static str,
        /// What was given.
        given: Amount,
        /// What is accepted.
        limit: Limit,
    },
    /// A number of one burden is not a number, or is past any real burden.
    BurdenOutOfRange {
        /// Which burden.
        burden: usize,
        /// Which of its numbers.
        what: &'static str,
        /// What was given.
        given: Amount,
        /// What is accepted.
        limit: Limit,
    },
    /// The stiffness of one layer of a support is no number, nothing, or past any real layer.
    LayerOutOfRange {
        /// Which layer, from the top of the list.
        layer: usize,
        /// What was given.
        given: Amount,
        /// What is accepted.
        limit: Limit,
    },
    /// A number from which the stiffness of a layer follows is none, or is past any real layer.
    LayerNumberOutOfRange {
        /// Which number.
        what: &'static str,
        /// What was given.
        given: Amount,
        /// What is accepted.
        limit: Limit,
    },
    /// The load as a whole does not press down, so that nothing can be said to stand.
    NotPressedDown {
        /// The load as given, positive downward.
        down: Force,
    },
    /// Not one spring for each support of the frame.
    SpringsMissing {
        /// How many were given.
        given: usize,
        /// How many supports the frame has.
        supports: usize,
    },
    /// Not every burden has its place on the frame.
    NotBorne {
        /// How many burdens there are.
        burdens: usize,
        /// How many have a place.
        borne: usize,
    },
    /// Not one reading for each support.
    ReadingsMissing {
        /// How many were given.
        given: usize,
        /// How many supports there are.
        supports: usize,
    },
    /// The low end of a range lies above its high end.
    RangeTurnedRound {
        /// Whose range, as a phrase: "the gap of support 3".
        of: String,
        /// The end given as low.
        low: Amount,
        /// The end given as high.
        high: Amount,
    },
    /// The certificate does not hold to the accuracy that is promised: the numbers are too far apart in
    /// size to be worked with.
    NotReached {
        /// The greatest residual of the certificate, as a share of the load.
        residual: f64,
        /// What it must not be above.
        greatest: f64,
    },
}

pub(super) fn metric(amount: Amount) -> String {
    let unit = amount.shown.unit(UnitSet::Metric);
    let value = amount.si / unit.factor;
    if unit.symbol.is_empty() { format!("{value}") } else { format!("{value} {}", unit.symbol) }
}

impl fmt::Display for SupportsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSupports => write!(f, "There are no supports; give at least one with its place."),
            Self::TooManySupports { given, most } => {
                write!(f, "There are {given} supports; at most {most} can be worked with at once.")
            }
            Self::SupportOutOfRange { support, what, given, limit } => write!(
                f,
                "Support {}: the {what} is {}; it must be from {} to {}.",
                support + 1,
                metric(*given),
                metric(limit.least),
                metric(limit.greatest)
            ),
            Self::LoadOutOfRange { what, given, limit } => write!(
                f,
                "The load: the {what} is {}; it must be from {} to {}.",
                metric(*given),
                metric(limit.least),
                metric(limit.greatest)
            ),
            Self::BurdenOutOfRange { burden, what, given, limit } => write!(
                f,
                "Burden {}: the {what} is {}; it must be from {} to {}.",
                burden + 1,
                metric(*given),
                metric(limit.least),
                metric(limit.greatest)
            ),
            Self::LayerOutOfRange { layer, given, limit } => write!(
                f,
                "Layer {} of a support: the stiffness is {}; it must be from {} to {}. A layer that does not \
                 give, or of which nothing is known, has a name of its own.",
                layer + 1,
                metric(*given),
                metric(limit.least),
                metric(limit.greatest)
            ),
            Self::LayerNumberOutOfRange { what, given, limit } => write!(
                f,
                "A layer of a support: the {what} is {}; it must be from {} to {}.",
                metric(*given),
                metric(limit.least),
                metric(limit.greatest)
            ),
            Self::NotPressedDown { down } => write!(
                f,
                "The load is {} downward; a frame stands only when it is pressed down, so give the weight \
                 that rests on it, or hold it down.",
                metric(down.amount())
            ),
            Self::SpringsMissing { given, supports } => {
                write!(f, "There are {given} springs for {supports} supports; give one for each.")
            }
            Self::NotBorne { burdens, borne } => write!(
                f,
                "There are {burdens} burdens and {borne} places where they bear on the frame; give one for each."
            ),
            Self::ReadingsMissing { given, supports } => {
                write!(
                    f,
                    "There are {given} readings for {supports} supports; give one for each, be it that it was not read."
                )
            }
            Self::RangeTurnedRound { of, low, high } => write!(
                f,
                "The range of {of} goes from {} to {}; the low end must not be above the high end.",
                metric(*low),
                metric(*high)
            ),
            Self::NotReached { residual, greatest } => write!(
                f,
                "The loads do not balance closely enough: the residual is {residual:e} of the load and must \
                 not be above {greatest:e}. The numbers differ too much in size; look for a stiffness or a \
                 gap in the wrong unit."
            ),
        }
    }
}

impl std::error::Error for SupportsError {}

/// Farther than this from the origin, or from touching, nothing belongs to one frame.
pub(super) const REACH: f64 = 1_000.0;
pub(super) const GAP: f64 = 10.0;
/// A leg on the softest ground is stiffer than the least; a block of steel is softer than the greatest.
pub(super) const STIFFNESS: (f64, f64) = (1e3, 1e12);
/// From the weight of a few grains to a thousand times the heaviest ride on a trailer.
pub(super) const FORCE: (f64, f64) = (1e-3, 1e9);
pub(super) const MOMENT: f64 = 1e12;

/// Whether a number lies in a range; a number that is not one lies in none.
pub(super) fn inside(value: f64, least: f64, greatest: f64) -> bool {
    value >= least && value <= greatest
}

pub(super) fn limit<Q: Quantity>(least: f64, greatest: f64, shown: Shown) -> Limit {
    Limit {
        least: Q::from_si(least).amount().shown(shown),
        greatest: Q::from_si(greatest).amount().shown(shown),
    }
}

pub(super) fn check_support(support: usize, s: &super::Support) -> Result<(), SupportsError> {
    let refuse =
        |what, given: Amount, limit| Err(SupportsError::SupportOutOfRange { support, what, given, limit });
    for (what, at) in [("place along the frame", s.x), ("place across the frame", s.y)] {
        if !inside(at.si(), -REACH, REACH) {
            let limit = limit::<Length>(-REACH, REACH, Shown::Coarse);
            return refuse(what, at.amount().shown(Shown::Coarse), limit);
        }
    }
    if !inside(s.stiffness.si(), STIFFNESS.0, STIFFNESS.1) {
        let limit = limit::<Stiffness>(STIFFNESS.0, STIFFNESS.1, Shown::Stiffness);
        return refuse("stiffness", s.stiffness.amount(), limit);
    }
    if !inside(s.gap.si(), -GAP, GAP) {
        return refuse("gap", s.gap.amount(), limit::<Length>(-GAP, GAP, Shown::Fine));
    }
    Ok(())
}

pub(super) fn check_load(load: &super::Load) -> Result<(), SupportsError> {
    let refuse = |what, given, limit| Err(SupportsError::LoadOutOfRange { what, given, limit });
    for (what, at) in [("place along the frame", load.x), ("place across the frame", load.y)] {
        if !inside(at.si(), -REACH, REACH) {
            let limit = limit::<Length>(-REACH, REACH, Shown::Coarse);
            return refuse(what, at.amount().shown(Shown::Coarse), limit);
        }
    }
    for (what, m) in [("couple about x", load.moment_x), ("couple about y", load.moment_y)] {
        if !inside(m.si(), -MOMENT, MOMENT) {
            return refuse(what, m.amount(), limit::<Moment>(-MOMENT, MOMENT, Shown::Moment));
        }
    }
    if load.down.si() <= 0.0 {
        return Err(SupportsError::NotPressedDown { down: load.down });
    }
    if !inside(load.down.si(), FORCE.0, FORCE.1) {
        return refuse("weight", load.down.amount(), limit::<Force>(FORCE.0, FORCE.1, Shown::Force));
    }
    Ok(())
}
