//! Why a claimed way is refused.

use crate::supports;
use core::fmt;
use tober_quantity::{Force, Length};

/// One reason, with the numbers that govern. Poses are counted from 0 in the fields and from 1 in the sentence.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the sentence of each variant names its fields")]
pub enum Refusal {
    /// Too few poses for a way, or more than are checked.
    Poses { poses: usize, least: usize, most: usize },
    /// A pose has not one entry for each thing.
    Shape { pose: usize, what: &'static str, expected: usize, found: usize },
    /// A pose is not in equilibrium, or a spring does not follow its law.
    Pose { pose: usize, refusal: supports::Refusal },
    /// The first pose is not that of a trailer on its wheels and its hitch jack.
    BeginsElsewhere,
    /// The hitch jack is shorter or longer than it can be.
    JackOutOfTravel { pose: usize, top: Length, least: Length, most: Length },
    /// Something carries more than it may.
    PastRated { pose: usize, what: String, load: Force, rated: Force },
    /// Something that is not there carries.
    CarriesWhileAway { pose: usize, what: String, load: Force },
    /// A leg that is drawn up is below the ground.
    DrawnUpTouches { pose: usize, leg: String, below: Length },
    /// A leg held by a pin stands at another height than its seat.
    OffItsSeat { pose: usize, leg: String, top: Length, seat: Length },
    /// A screw is shorter than it can be, or past its planned length.
    ScrewOutOfThread { pose: usize, leg: String, top: Length, shortest: Length, seat: Length },
    /// A leg is set where the frame leaves no room for its pin.
    NoRoom { pose: usize, leg: String, has: Length, wants: Length },
    /// More than one thing changes from one pose to the next.
    TwoThings { pose: usize },
    /// A spring comes into contact, or leaves it, between two poses.
    PassesABreak { pose: usize, spring: String },
    /// A leg that was set is not there any more.
    LegTaken { pose: usize, leg: String },
    /// The hitch jack is taken away while it carries.
    JackTakenLoaded { pose: usize, load: Force },
    /// The hitch jack is back after it was taken away.
    JackBack { pose: usize },
    /// The last pose still has the hitch jack.
    EndsOnJack,
    /// A leg does not stand at its seat in the last pose.
    NotSetAtTheEnd { leg: String },
}

impl Refusal {
    /// A short name for the reason, which never changes.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Poses { .. } => "poses",
            Self::Shape { .. } => "shape",
            Self::Pose { refusal, .. } => refusal.code(),
            Self::BeginsElsewhere => "begins-elsewhere",
            Self::JackOutOfTravel { .. } => "jack-out-of-travel",
            Self::PastRated { .. } => "past-rated",
            Self::CarriesWhileAway { .. } => "carries-while-away",
            Self::DrawnUpTouches { .. } => "drawn-up-touches",
            Self::OffItsSeat { .. } => "off-its-seat",
            Self::ScrewOutOfThread { .. } => "screw-out-of-thread",
            Self::NoRoom { .. } => "no-room",
            Self::TwoThings { .. } => "two-things",
            Self::PassesABreak { .. } => "passes-a-break",
            Self::LegTaken { .. } => "leg-taken",
            Self::JackTakenLoaded { .. } => "jack-taken-loaded",
            Self::JackBack { .. } => "jack-back",
            Self::EndsOnJack => "ends-on-jack",
            Self::NotSetAtTheEnd { .. } => "not-set-at-the-end",
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Poses { poses, least, most } => {
                write!(f, "The claim has {poses} poses; from {least} to {most} are checked.")
            }
            Self::Shape { pose, what, expected, found } => {
                write!(f, "Pose {} has {found} {what}; {expected} are wanted.", pose + 1)
            }
            Self::Pose { pose, refusal } => write!(f, "Pose {}: {refusal}", pose + 1),
            Self::BeginsElsewhere => {
                write!(f, "The first pose must have the hitch jack and no leg set.")
            }
            Self::JackOutOfTravel { pose, top, least, most } => write!(
                f,
                "Pose {}: the top of the hitch jack is at {:.3} mm; it reaches from {:.3} to {:.3} mm.",
                pose + 1,
                top.as_mm(),
                least.as_mm(),
                most.as_mm()
            ),
            Self::PastRated { pose, what, load, rated } => write!(
                f,
                "Pose {}: {what} carries {:.3} N and may carry {:.3} N.",
                pose + 1,
                load.as_n(),
                rated.as_n()
            ),
            Self::CarriesWhileAway { pose, what, load } => write!(
                f,
                "Pose {}: {what} is not there and is claimed to carry {:.3} N.",
                pose + 1,
                load.as_n()
            ),
            Self::DrawnUpTouches { pose, leg, below } => write!(
                f,
                "Pose {}: {leg} is drawn up and would be {:.3} mm below the ground.",
                pose + 1,
                below.as_mm()
            ),
            Self::OffItsSeat { pose, leg, top, seat } => write!(
                f,
                "Pose {}: {leg} stands at {:.3} mm and its seat is at {:.3} mm.",
                pose + 1,
                top.as_mm(),
                seat.as_mm()
            ),
            Self::ScrewOutOfThread { pose, leg, top, shortest, seat } => write!(
                f,
                "Pose {}: {leg} stands at {:.3} mm; it may stand from {:.3} to {:.3} mm.",
                pose + 1,
                top.as_mm(),
                shortest.as_mm(),
                seat.as_mm()
            ),
            Self::NoRoom { pose, leg, has, wants } => write!(
                f,
                "Pose {}: {leg} is set with the frame {:.3} mm above where it will stand; {:.3} mm are wanted.",
                pose + 1,
                has.as_mm(),
                wants.as_mm()
            ),
            Self::TwoThings { pose } => {
                write!(f, "Pose {}: more than one thing changes from the pose before.", pose + 1)
            }
            Self::PassesABreak { pose, spring } => write!(
                f,
                "Pose {}: {spring} comes into contact or leaves it on the way here, and no pose shows where.",
                pose + 1
            ),
            Self::LegTaken { pose, leg } => {
                write!(f, "Pose {}: {leg} was set and is not there any more.", pose + 1)
            }
            Self::JackTakenLoaded { pose, load } => write!(
                f,
                "Pose {}: the hitch jack is taken away while it carries {:.3} N.",
                pose + 1,
                load.as_n()
            ),
            Self::JackBack { pose } => {
                write!(f, "Pose {}: the hitch jack is back after it was taken away.", pose + 1)
            }
            Self::EndsOnJack => write!(f, "The last pose still has the hitch jack."),
            Self::NotSetAtTheEnd { leg } => write!(f, "{leg} does not stand at its seat in the last pose."),
        }
    }
}
