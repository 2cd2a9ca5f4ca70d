//! What is refused at the door of a trim.

use super::super::answer::Setting;
use super::super::model::Leg;
use super::super::refuse::ProblemError;
use super::{Foot, Frame, Question};
use core::fmt;
use tober_quantity::TenthMm;

/// The steepest frame that is still one: 100 mm a metre, in hundredths of a millimetre a metre.
pub(super) const SLOPE_MOST: i64 = 10_000;
/// The widest gap under a foot: half a metre.
pub(super) const GAP_MOST: i64 = 5_000;
/// The farthest that one height may be from the middle one of all: 1 m.
pub(super) const SPREAD_MOST: i64 = 10_000;
/// The most that a reading may be off by: 100 mm, or 50 mm a metre.
const OFF_BY_MOST: i64 = 1_000;
const SLOPE_OFF_BY_MOST: i64 = 5_000;

/// Why a trim is refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TrimError {
    /// The packing problem itself is refused.
    Problem(ProblemError),
    /// One entry for each support is wanted.
    Count {
        /// Of what: "stacks", "feet", "heights".
        what: &'static str,
        /// How many were given.
        given: usize,
        /// How many supports there are.
        supports: usize,
    },
    /// A number lies outside the range in which it can be a reading or a setting.
    OutOfRange {
        /// What: "Gap under rear right".
        what: String,
        /// The value given.
        value: i64,
        /// The least accepted.
        least: i64,
        /// The greatest accepted.
        most: i64,
        /// What the three numbers count.
        grain: Grain,
    },
    /// One height is so far from the others that it must be a slip.
    FarFromOthers {
        /// The support.
        support: String,
        /// Its height.
        height: TenthMm,
        /// The middle one of all heights.
        middle: TenthMm,
    },
    /// A leg with holes stands on a screw, or the other way about.
    SettingMismatch {
        /// The support.
        support: String,
    },
    /// A stack holds a kind of board that is not there.
    NoSuchKind {
        /// The support.
        support: String,
        /// The place named.
        kind: usize,
        /// How many kinds there are.
        kinds: usize,
    },
    /// Wedges in a stack are not covered.
    Wedges {
        /// The support.
        support: String,
    },
}

/// What whole numbers at the door count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Things.
    Ones,
    /// Tenths of a millimetre.
    TenthsMm,
    /// Hundredths of a millimetre a metre.
    HundredthsMmPerM,
}

impl Grain {
    /// A number of these as a person reads it.
    fn told(self, number: i64) -> String {
        match self {
            Self::Ones => number.to_string(),
            Self::TenthsMm => tober_quantity::significant(number as f64 / 10.0, 9),
            Self::HundredthsMmPerM => tober_quantity::significant(number as f64 / 100.0, 9),
        }
    }

    fn unit(self) -> &'static str {
        match self {
            Self::Ones => "",
            Self::TenthsMm => " mm",
            Self::HundredthsMmPerM => " mm/m",
        }
    }
}

impl fmt::Display for TrimError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Problem(error) => error.fmt(f),
            Self::Count { what, given, supports } => write!(
                f,
                "There are {given} {what} for {supports} supports; give one for each support, in their order."
            ),
            Self::OutOfRange { what, value, least, most, grain } => {
                let [value, least, most] = [value, least, most].map(|&number| grain.told(number));
                let unit = grain.unit();
                write!(f, "{what} is {value}{unit}; it must lie from {least} to {most}{unit}.")
            }
            Self::FarFromOthers { support, height, middle } => write!(
                f,
                "The height at {support} is {} mm and the middle one of all is {} mm; no frame bends by more than \
                 {} mm. Read {support} again.",
                mm(*height),
                mm(*middle),
                mm(TenthMm(SPREAD_MOST))
            ),
            Self::SettingMismatch { support } => write!(
                f,
                "Support {support} is said to stand in a hole and has a screw, or the other way about; \
                 give a hole for a leg with holes and an extension for a screw."
            ),
            Self::NoSuchKind { support, kind, kinds } => write!(
                f,
                "Under support {support} lies kind number {kind} of board, but there are {kinds}; count from 0."
            ),
            Self::Wedges { support } => write!(
                f,
                "Support {support} stands on wedges; a trim moves boards, holes and screws. Drive the wedges by \
                 hand, or ask without them."
            ),
        }
    }
}

impl core::error::Error for TrimError {}

fn mm(length: TenthMm) -> String {
    tober_quantity::significant(length.length().as_mm(), 6)
}

fn within(
    what: impl Fn() -> String,
    value: i64,
    least: i64,
    most: i64,
    grain: Grain,
) -> Result<(), TrimError> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(TrimError::OutOfRange { what: what(), value, least, most, grain })
}

impl Question {
    /// Refuses what a trim cannot answer for.
    ///
    /// # Errors
    /// The first fault met, in the order problem, stacks, frame, feet.
    pub fn check(&self) -> Result<(), TrimError> {
        self.problem.check().map_err(TrimError::Problem)?;
        let supports = self.problem.supports.len();
        let count = |what, given| {
            if given == supports { Ok(()) } else { Err(TrimError::Count { what, given, supports }) }
        };
        count("stacks", self.stands.len())?;
        count("feet", self.reading.feet.len())?;
        for place in 0..supports {
            self.check_stands(place)?;
        }
        match &self.reading.frame {
            Frame::Level { along, across, off_by } => {
                within(
                    || "The slope along".into(),
                    along.0,
                    -SLOPE_MOST,
                    SLOPE_MOST,
                    Grain::HundredthsMmPerM,
                )?;
                within(
                    || "The slope across".into(),
                    across.0,
                    -SLOPE_MOST,
                    SLOPE_MOST,
                    Grain::HundredthsMmPerM,
                )?;
                let off_by = off_by.map_or(0, |off| off.0);
                within(
                    || "What a slope may be off by".into(),
                    off_by,
                    0,
                    SLOPE_OFF_BY_MOST,
                    Grain::HundredthsMmPerM,
                )?;
            }
            Frame::Heights { at, off_by } => {
                count("heights", at.len())?;
                let off_by = off_by.map_or(0, |off| off.0);
                within(|| "What a height may be off by".into(), off_by, 0, OFF_BY_MOST, Grain::TenthsMm)?;
                self.check_heights(at)?;
            }
        }
        for (support, foot) in self.problem.supports.iter().zip(&self.reading.feet) {
            if let Some(Foot::Light { gap: Some(gap) }) = foot {
                within(|| format!("The gap under {}", support.name), gap.0, 0, GAP_MOST, Grain::TenthsMm)?;
            }
        }
        Ok(())
    }

    fn check_stands(&self, place: usize) -> Result<(), TrimError> {
        let support = &self.problem.supports[place];
        let name = || support.name.clone();
        let stands = &self.stands[place];
        if support.wedges.is_some() {
            return Err(TrimError::Wedges { support: name() });
        }
        match (support.leg, stands.setting) {
            (Leg::Holes { pin_count, .. }, Setting::Hole(hole)) => {
                let most = i64::from(pin_count) - 1;
                within(
                    || format!("The hole of {}, counted from 0,", support.name),
                    i64::from(hole),
                    0,
                    most,
                    Grain::Ones,
                )?;
            }
            (Leg::Screw { shortest, longest }, Setting::Screw(extension)) => {
                let most = (longest - shortest).0;
                within(|| format!("The screw of {}", support.name), extension.0, 0, most, Grain::TenthsMm)?;
            }
            _ => return Err(TrimError::SettingMismatch { support: name() }),
        }
        let kinds = self.problem.boards.len();
        match stands.laid.iter().find(|&&kind| kind >= kinds) {
            Some(&kind) => Err(TrimError::NoSuchKind { support: name(), kind, kinds }),
            None => within(
                || format!("The number of boards under {}", support.name),
                i64::try_from(stands.laid.len()).unwrap_or(i64::MAX),
                0,
                i64::from(super::super::refuse::BOARDS_PER_STACK_MOST),
                Grain::Ones,
            ),
        }
    }

    fn check_heights(&self, at: &[Option<TenthMm>]) -> Result<(), TrimError> {
        let far = TenthMm::GREATEST / 2;
        let mut known: Vec<i64> = Vec::new();
        for (support, height) in self.problem.supports.iter().zip(at) {
            if let Some(height) = height {
                within(|| format!("The height at {}", support.name), height.0, -far, far, Grain::TenthsMm)?;
                known.push(height.0);
            }
        }
        known.sort_unstable();
        let Some(&middle) = known.get(known.len() / 2) else { return Ok(()) };
        for (support, height) in self.problem.supports.iter().zip(at) {
            if let Some(height) = height.filter(|height| (height.0 - middle).abs() > SPREAD_MOST) {
                let support = support.name.clone();
                return Err(TrimError::FarFromOthers { support, height, middle: TenthMm(middle) });
            }
        }
        Ok(())
    }
}
