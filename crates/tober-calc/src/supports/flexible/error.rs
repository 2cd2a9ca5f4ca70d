//! Why a frame of beams cannot be worked with.

use super::super::error::{Limit, metric};
use core::fmt;
use tober_quantity::{Amount, Length, Quantity, Shown};

/// How a node could move with nothing to hold it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// Up and down.
    UpAndDown,
    /// About the x axis.
    AboutX,
    /// About the y axis.
    AboutY,
}

/// Why a frame of beams is refused. Counted from 0 in the fields and from 1 in the sentence.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the sentence of each variant names its fields")]
pub enum BeamsError {
    TooMany { what: &'static str, given: usize, most: usize },
    TooFewSupports { given: usize },
    SupportsOnOneLine,
    SupportsAtOneNode { first: usize, second: usize },
    UnknownNode { of: &'static str, which: usize, node: usize, nodes: usize },
    NodeOutOfRange { node: usize, what: &'static str, given: Amount, limit: Limit },
    MemberOutOfRange { member: usize, what: &'static str, given: Amount, limit: Limit },
    MemberWithoutLength { member: usize, length: Length, least: Length },
    LoadOutOfRange { load: usize, what: &'static str, given: Amount, limit: Limit },
    NotConnected { node: usize },
    Mechanism { node: usize, turn: Turn },
    TooFar { what: &'static str, which: usize, away: Length, most: Length },
}

impl fmt::Display for BeamsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let coarse = |length: Length| metric(length.amount().shown(Shown::Coarse));
        match self {
            Self::TooMany { what, given, most } => {
                write!(f, "There are {given} {what}; at most {most} can be worked with at once.")
            }
            Self::TooFewSupports { given } => write!(
                f,
                "There are {given} supports; a frame of beams stands on at least three that are not on one line. \
                 Give the others."
            ),
            Self::SupportsOnOneLine => f.write_str(
                "All supports are on one line, so nothing keeps the frame from turning about it. Give one that is \
                 off that line.",
            ),
            Self::SupportsAtOneNode { first, second } => write!(
                f,
                "Supports {} and {} stand at the same node. Give them as one, with the sum of their stiffnesses, \
                 or a node each.",
                first + 1,
                second + 1
            ),
            Self::UnknownNode { of, which, node, nodes } => write!(
                f,
                "{of} {} names node {}, and there are {nodes} nodes.",
                which + 1,
                node + 1
            ),
            Self::NodeOutOfRange { node, what, given, limit } => write!(
                f,
                "Node {}: the {what} is {}; it must be from {} to {}.",
                node + 1,
                metric(*given),
                metric(limit.least),
                metric(limit.greatest)
            ),
            Self::MemberOutOfRange { member, what, given, limit } => write!(
                f,
                "Member {}: the {what} is {}; it must be from {} to {}.",
                member + 1,
                metric(*given),
                metric(limit.least),
                metric(limit.greatest)
            ),
            Self::MemberWithoutLength { member, length, least } => write!(
                f,
                "Member {} is {} long, and must be at least {}. Join its two nodes into one, or correct their places.",
                member + 1,
                coarse(*length),
                coarse(*least)
            ),
            Self::LoadOutOfRange { load, what, given, limit } => write!(
                f,
                "Load {}: the {what} is {}; it must be from {} to {}.",
                load + 1,
                metric(*given),
                metric(limit.least),
                metric(limit.greatest)
            ),
            Self::NotConnected { node } => write!(
                f,
                "No members lead from node {} to the first support. Join it to the frame with a member, or leave it out.",
                node + 1
            ),
            Self::Mechanism { node, turn } => {
                let how = match turn {
                    Turn::UpAndDown => "move up and down",
                    Turn::AboutX => "turn about the x axis",
                    Turn::AboutY => "turn about the y axis",
                };
                write!(
                    f,
                    "Node {} can {how} and nothing holds it: the frame is a mechanism. Give its members a torsion \
                     constant, or a member across.",
                    node + 1
                )
            }
            Self::TooFar { what, which, away, most } => write!(
                f,
                "{what} {} is {} from the nearest beam, and may be {}. Give the frame a node and a member that \
                 reach it.",
                which + 1,
                coarse(*away),
                coarse(*most)
            ),
        }
    }
}

impl std::error::Error for BeamsError {}
