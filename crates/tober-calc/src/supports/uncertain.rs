//! What is known of supports and load when it is only known between two ends.

use super::error::{self, FORCE, GAP, MOMENT, REACH, STIFFNESS, SupportsError, inside, limit};
use tober_quantity::{Amount, Force, Length, Moment, Quantity, Shown, Stiffness, Toleranced};

/// A quantity of which only the two ends are known that it lies between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between<Q> {
    /// The least it may be.
    pub low: Q,
    /// The greatest it may be.
    pub high: Q,
}

impl<Q: Quantity> Between<Q> {
    /// A quantity that is known.
    pub fn exact(value: Q) -> Self {
        Self { low: value, high: value }
    }
    /// The middle of the two ends.
    pub fn middle(self) -> Q {
        Q::from_si(0.5 * (self.low.si() + self.high.si()))
    }
}

impl<Q: Quantity> From<Toleranced<Q>> for Between<Q> {
    fn from(toleranced: Toleranced<Q>) -> Self {
        Self { low: toleranced.low(), high: toleranced.high() }
    }
}

/// A place on the frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Along the frame.
    pub x: Length,
    /// Across the frame.
    pub y: Length,
}

/// What a hand found on kicking a foot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seen {
    /// It does not move: it carries more than a kick can shift.
    Snug {
        /// The least it must carry not to move.
        at_least: Force,
    },
    /// It moves: it carries no more than a kick can shift.
    Light {
        /// The most it may carry and still move; nothing at all if it hangs clear.
        at_most: Force,
    },
}

/// A support of which only ranges are known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UncertainSupport {
    /// Where it stands.
    pub spot: Spot,
    /// Force for each length of shortening: leg, timber and ground in series.
    pub stiffness: Between<Stiffness>,
    /// Clear distance to the frame in its datum position: residual of the packing, survey and bedding.
    pub gap: Between<Length>,
    /// What was found on kicking it, if anybody has.
    pub seen: Option<Seen>,
}

/// Where a burden acts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Place {
    /// Here.
    At(Spot),
    /// Nobody knows. Then nothing is known of the shares either.
    Unknown,
}

/// One weight, or one upward pull where it is negative, somewhere between two ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Burden {
    /// The force, positive downward.
    pub down: Between<Force>,
    /// Where it acts.
    pub place: Place,
}

/// All that rests on the frame. Every range is independent of every other.
#[derive(Clone, Debug, PartialEq)]
pub struct UncertainLoad {
    /// Weights and vertical wind forces.
    pub burdens: Vec<Burden>,
    /// The couple about the x axis, as of wind from either side.
    pub moment_x: Between<Moment>,
    /// The couple about the y axis, as of wind from either end.
    pub moment_y: Between<Moment>,
}

impl UncertainLoad {
    /// Weights alone, without couples.
    pub fn of(burdens: Vec<Burden>) -> Self {
        let none = Between::exact(Moment::ZERO);
        Self { burdens, moment_x: none, moment_y: none }
    }
    /// Least and greatest of the sum of all burdens.
    pub fn down(&self) -> Between<Force> {
        let sum = |of: fn(&Burden) -> f64| Force::n(self.burdens.iter().map(of).sum());
        Between { low: sum(|b| b.down.low.si()), high: sum(|b| b.down.high.si()) }
    }
    /// Whether every burden has a place.
    pub fn placed(&self) -> bool {
        self.burdens.iter().all(|b| b.place != Place::Unknown)
    }
}

fn range<Q: Quantity>(
    between: Between<Q>,
    of: impl Fn() -> String,
    ends: (f64, f64),
    refuse: impl Fn(Amount, error::Limit) -> SupportsError,
) -> Result<(), SupportsError> {
    for end in [between.low, between.high] {
        if !inside(end.si(), ends.0, ends.1) {
            return Err(refuse(end.amount(), limit::<Q>(ends.0, ends.1, Q::SHOWN)));
        }
    }
    if between.low.si() > between.high.si() {
        let (low, high) = (between.low.amount(), between.high.amount());
        return Err(SupportsError::RangeTurnedRound { of: of(), low, high });
    }
    Ok(())
}

fn spot(
    at: Spot,
    refuse: impl Fn(&'static str, Amount, error::Limit) -> SupportsError,
) -> Result<(), SupportsError> {
    for (what, value) in [("place along the frame", at.x), ("place across the frame", at.y)] {
        if !inside(value.si(), -REACH, REACH) {
            let limit = limit::<Length>(-REACH, REACH, Shown::Coarse);
            return Err(refuse(what, value.amount().shown(Shown::Coarse), limit));
        }
    }
    Ok(())
}

pub(super) fn check_spot(support: usize, at: Spot) -> Result<(), SupportsError> {
    spot(at, |what, given, limit| SupportsError::SupportOutOfRange { support, what, given, limit })
}

pub(super) fn check_uncertain(support: usize, s: &UncertainSupport) -> Result<(), SupportsError> {
    check_spot(support, s.spot)?;
    let refuse = |what| move |given, limit| SupportsError::SupportOutOfRange { support, what, given, limit };
    let of = |what: &'static str| move || format!("the {what} of support {}", support + 1);
    range(s.stiffness, of("stiffness"), STIFFNESS, refuse("stiffness"))?;
    range(s.gap, of("gap"), (-GAP, GAP), refuse("gap"))?;
    match s.seen {
        Some(Seen::Snug { at_least: load } | Seen::Light { at_most: load }) => {
            range(Between::exact(load), of("load"), (0.0, FORCE.1), refuse("load that a kick can shift"))
        }
        None => Ok(()),
    }?;
    Ok(())
}

/// Also gives the sum of the burdens.
pub(super) fn check_uncertain_load(load: &UncertainLoad) -> Result<Between<Force>, SupportsError> {
    for (burden, b) in load.burdens.iter().enumerate() {
        let of = || format!("the force of burden {}", burden + 1);
        range(b.down, of, (-FORCE.1, FORCE.1), |given, limit| SupportsError::BurdenOutOfRange {
            burden,
            what: "force",
            given,
            limit,
        })?;
        if let Place::At(at) = b.place {
            spot(at, |what, given, limit| SupportsError::BurdenOutOfRange { burden, what, given, limit })?;
        }
    }
    for (what, moment) in [("couple about x", load.moment_x), ("couple about y", load.moment_y)] {
        let refuse = |given, limit| SupportsError::LoadOutOfRange { what, given, limit };
        range(moment, || format!("the {what}"), (-MOMENT, MOMENT), refuse)?;
    }
    let down = load.down();
    if down.high.si() <= 0.0 {
        return Err(SupportsError::NotPressedDown { down: down.high });
    }
    if !inside(down.high.si(), FORCE.0, FORCE.1) {
        let limit = limit::<Force>(FORCE.0, FORCE.1, Shown::Force);
        return Err(SupportsError::LoadOutOfRange { what: "weight", given: down.high.amount(), limit });
    }
    Ok(down)
}
