//! Why claimed reactions, or a claim of tipping, are refused.

use core::fmt;
use tober_quantity::{Force, Length, Moment, Ratio};

/// One reason, with the numbers that govern.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the sentence of each variant names its fields")]
pub enum Refusal {
    /// There are no supports.
    NoSupports,
    /// There are more supports than are checked here.
    TooManySupports { supports: usize, most: usize },
    /// A number is not finite or outside what any ride or pitch can have. In coherent SI units.
    Absurd { what: &'static str, at: String, value_si: f64, least_si: f64, most_si: f64 },
    /// The claim has not one entry for each support.
    Shape { what: &'static str, expected: usize, found: usize },
    /// With this tolerance a wrong claim could pass. In coherent SI units.
    ToleranceTooWide { what: &'static str, value_si: f64, most_si: f64 },
    /// A support is claimed to pull.
    Pulls { support: String, reaction: Force },
    /// A support is claimed to carry and to stand clear of the frame.
    CarriesWhileClear { support: String, reaction: Force, clear: Length },
    /// A reaction is not what the spring gives at the claimed displacement.
    OffItsLaw { support: String, reaction: Force, law: Force },
    /// The reactions do not add up to the weight.
    ForcesDoNotBalance { sum: Force, weight: Force, most: Force },
    /// The moments do not balance.
    MomentsDoNotBalance { axis: &'static str, left: Moment, most: Moment },
    /// A node of a frame of beams is not in equilibrium. Counted from 1.
    NodeDoesNotBalance { node: usize, force: Force, about_x: Moment, about_y: Moment, most: Force },
    /// A member is not bent or twisted as its end couples would. Counted from 1.
    MemberOffItsBending { member: usize, off: Length, most: Length },
    /// A number of a case is outside the range it is claimed for. In coherent SI units.
    OutsideItsRange { what: &'static str, at: String, value_si: f64, least_si: f64, most_si: f64 },
    /// A case gives a support more or less than the ends claimed for it.
    OutsideItsBand { support: String, reaction: Force, low: Force, high: Force },
    /// The case that is said to reach an end does not.
    EndNotReached { support: String, reaction: Force, end: Force },
    /// A direction of no length, or of no finite one, points nowhere.
    NoDirection { x: Ratio, y: Ratio },
    /// The resultant is not beyond all supports in the claimed direction.
    DoesNotSeparate { beyond: Length, support: String, least: Length },
}

impl Refusal {
    /// A short name for the reason, which never changes.
    pub fn code(&self) -> &'static str {
        match self {
            Self::NoSupports => "no-supports",
            Self::TooManySupports { .. } => "too-many-supports",
            Self::Absurd { .. } => "absurd",
            Self::Shape { .. } => "shape",
            Self::ToleranceTooWide { .. } => "tolerance-too-wide",
            Self::Pulls { .. } => "pulls",
            Self::CarriesWhileClear { .. } => "carries-while-clear",
            Self::OffItsLaw { .. } => "off-its-law",
            Self::ForcesDoNotBalance { .. } => "forces-do-not-balance",
            Self::MomentsDoNotBalance { .. } => "moments-do-not-balance",
            Self::NodeDoesNotBalance { .. } => "node-does-not-balance",
            Self::MemberOffItsBending { .. } => "member-off-its-bending",
            Self::OutsideItsRange { .. } => "outside-its-range",
            Self::OutsideItsBand { .. } => "outside-its-band",
            Self::EndNotReached { .. } => "end-not-reached",
            Self::NoDirection { .. } => "no-direction",
            Self::DoesNotSeparate { .. } => "does-not-separate",
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSupports => write!(f, "The question has no supports."),
            Self::TooManySupports { supports, most } => {
                write!(f, "The question has {supports} supports; at most {most} are checked.")
            }
            Self::Absurd { what, at, value_si, least_si, most_si } => write!(
                f,
                "The {what} of {at} is {value_si:e} in SI units; it must be from {least_si:e} to {most_si:e}."
            ),
            Self::Shape { what, expected, found } => {
                write!(f, "The claim has {found} {what} for {expected} supports.")
            }
            Self::ToleranceTooWide { what, value_si, most_si } => write!(
                f,
                "The tolerance on {what} is {value_si:e} in SI units; it must be from 0 to {most_si:e}, or a wrong claim could pass."
            ),
            Self::Pulls { support, reaction } => {
                write!(
                    f,
                    "{support} is claimed to pull with {:.3} N; a support can only push.",
                    -reaction.as_n()
                )
            }
            Self::CarriesWhileClear { support, reaction, clear } => write!(
                f,
                "{support} is claimed to carry {:.3} N and to stand {:.6} mm clear of the frame.",
                reaction.as_n(),
                clear.as_mm()
            ),
            Self::OffItsLaw { support, reaction, law } => write!(
                f,
                "{support} is claimed to carry {:.3} N; at the claimed displacement its spring gives {:.3} N.",
                reaction.as_n(),
                law.as_n()
            ),
            Self::ForcesDoNotBalance { sum, weight, most } => write!(
                f,
                "The reactions add up to {:.6} N and the weight is {:.6} N; they may differ by {:e} N.",
                sum.as_n(),
                weight.as_n(),
                most.as_n()
            ),
            Self::MomentsDoNotBalance { axis, left, most } => write!(
                f,
                "A moment of {:e} N m about the {axis} axis is left over; it may be {:e} N m.",
                left.as_nm(),
                most.as_nm()
            ),
            Self::NodeDoesNotBalance { node, force, about_x, about_y, most } => write!(
                f,
                "At node {node} a force of {:e} N and couples of {:e} and {:e} N m about x and y are left over; each may be {:e}.",
                force.as_n(),
                about_x.as_nm(),
                about_y.as_nm(),
                most.as_n()
            ),
            Self::MemberOffItsBending { member, off, most } => write!(
                f,
                "An end of member {member} is {:e} mm from where its couples bend or twist it; it may be {:e} mm.",
                off.as_mm(),
                most.as_mm()
            ),
            Self::OutsideItsRange { what, at, value_si, least_si, most_si } => write!(
                f,
                "The {what} of {at} is {value_si:e} in SI units in a case; it lies from {least_si:e} to {most_si:e}."
            ),
            Self::OutsideItsBand { support, reaction, low, high } => write!(
                f,
                "{support} carries {:.3} N in a case; its band is claimed to be {:.3} N to {:.3} N.",
                reaction.as_n(),
                low.as_n(),
                high.as_n()
            ),
            Self::EndNotReached { support, reaction, end } => write!(
                f,
                "{support} carries {:.3} N in the case that is said to reach {:.3} N.",
                reaction.as_n(),
                end.as_n()
            ),
            Self::NoDirection { x, y } => {
                write!(f, "The direction ({:e}, {:e}) points nowhere.", x.as_one(), y.as_one())
            }
            Self::DoesNotSeparate { beyond, support, least } => write!(
                f,
                "In the claimed direction the resultant is {:.6} mm beyond {support}; tipping is shown only above {:.6} mm.",
                beyond.as_mm(),
                least.as_mm()
            ),
        }
    }
}
