//! What goes into a trim and what comes out.

use crate::model::{Held, LegPlan, Plan};
use core::fmt;
use std::collections::BTreeMap;
use tober_calc::finding::{Finding, Standing};
use tober_quantity::{Force, Length, Mass, Slope, UnitSet, WordSet};

/// What stands at one leg now.
#[derive(Clone, Debug, PartialEq)]
pub struct Stood {
    /// The leg, by its full name.
    pub leg: String,
    /// How it is held.
    pub held: Held,
    /// Its boards by their names in the kit, from the ground up.
    pub layers: Vec<String>,
}

impl Stood {
    /// What stands where a plan was built as it is.
    pub fn of(plan: &Plan) -> Vec<Self> {
        plan.legs.iter().map(Self::of_leg).collect()
    }

    pub(super) fn of_leg(leg: &LegPlan) -> Self {
        Self {
            leg: leg.name.clone(),
            held: leg.held.clone(),
            layers: leg.layers.iter().map(|layer| layer.board.clone()).collect(),
        }
    }
}

/// What a kick at a foot told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Foot {
    /// It does not move.
    Snug,
    /// It moves.
    Light {
        /// The gap under it, where it was measured.
        gap: Option<Length>,
    },
}

/// How the frame was read.
#[derive(Clone, Debug, PartialEq)]
pub enum FrameWay {
    /// With a level, along and across.
    Level {
        /// The slope along: positive where the front is higher.
        along: Slope,
        /// The slope across: positive where the left is higher.
        across: Slope,
        /// What a slope may be off by, either way. Where it is not known, nothing that rests on it is.
        deviation: Option<Slope>,
    },
    /// Its height over a string or laser at each leg that was read.
    Heights {
        /// The heights by the legs' full names.
        at: BTreeMap<String, Length>,
        /// What a height may be off by, either way. Where it is not known, nothing that rests on it is.
        deviation: Option<Length>,
    },
}

/// Everything that was read of a lowered frame.
#[derive(Clone, Debug, PartialEq)]
pub struct FrameRead {
    /// The frame.
    pub way: FrameWay,
    /// The feet that were kicked, by the legs' full names.
    pub feet: BTreeMap<String, Foot>,
    /// The loads that were measured at feet, by the legs' full names.
    pub loads: BTreeMap<String, FootLoad>,
}

/// A load that was measured at a foot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FootLoad {
    /// What the gauge showed.
    pub load: Force,
    /// What it may be off by, either way. Where it is not known, nothing that rests on it is.
    pub off_by: Option<Force>,
}

/// What to do to a lowered frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Trim {
    /// The units of the visit.
    pub units: UnitSet,
    /// The words of the visit.
    pub words: WordSet,
    /// How the frame stands as it was read: the worst of `findings`.
    pub standing: Standing,
    /// What is found of the frame as it was read, in the order frame, legs, change; then whether what was read of the feet
    /// can be, and of the loads what is past its limit or not known.
    pub findings: Vec<Finding>,
    /// What the legs carry when the ride is open, as it stands now and cut to what was read of the feet; empty where no foot
    /// was read, or what was read cannot be.
    pub loads: Vec<Finding>,
    /// The legs, in the order in which they are set.
    pub legs: Vec<TrimLeg>,
    /// The least change, leg by leg in that order; empty where nothing changes or no change can be told.
    pub change: Vec<LegChange>,
    /// What is shown about the change: "Proved least.", "Best found, not proved least." and the like.
    pub proof: String,
    /// What to do now, as one or a few sentences.
    pub next: String,
    /// What the crew could do where no change serves, least first, as whole sentences.
    pub cures: Vec<String>,
    /// The slope along as it was read, or through the heights that were: positive where the front is higher.
    pub level_along: Option<Slope>,
    /// The slope across: positive where the left is higher.
    pub level_across: Option<Slope>,
    /// How it will stand once the change is made; `None` where nothing changes.
    pub after: Option<After>,
    /// What stands once the change is made: what the next reading is asked with.
    pub stood: Vec<Stood>,
}

/// One leg of a frame that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct TrimLeg {
    /// Its full name.
    pub name: String,
    /// Its short name.
    pub short: String,
    /// The height of the frame here, where heights were read.
    pub height: Option<Length>,
    /// How far this leg, with its foot on its boards, is above the plane of the frame; below it if negative.
    /// Told against the plane in which the frame will lie, so that a leg that has sunk alone stands out alone.
    pub miss: Option<Length>,
    /// Its foot, where it was kicked.
    pub foot: Option<Foot>,
    /// What it carries when the ride is open, least and greatest, cut to what was read of the feet.
    pub load: Option<(Mass, Mass)>,
    /// The worst standing of what is found about it.
    pub standing: Standing,
}

/// How a frame will stand once it is changed.
#[derive(Clone, Debug, PartialEq)]
pub struct After {
    /// The worst of its findings.
    pub standing: Standing,
    /// What is found, as worked out.
    pub findings: Vec<Finding>,
    /// The legs, in the order in which they are set.
    pub legs: Vec<AfterLeg>,
    /// The slope along.
    pub level_along: Option<Slope>,
    /// The slope across.
    pub level_across: Option<Slope>,
}

/// One leg of a frame that is changed.
#[derive(Clone, Debug, PartialEq)]
pub struct AfterLeg {
    /// Its full name.
    pub name: String,
    /// The height that will be read here, where heights are read.
    pub height: Option<Length>,
    /// How far the leg will be above the plane of the frame.
    pub miss: Length,
}

/// What changes at one leg.
#[derive(Clone, Debug, PartialEq)]
pub struct LegChange {
    /// The leg, by its full name.
    pub leg: String,
    /// Its short name.
    pub short: String,
    /// As it stands. Its residual is its miss; its load is that of the plan where it stands as planned.
    pub from: LegPlan,
    /// As it will stand. Its load is not worked out.
    pub to: LegPlan,
    /// How far it goes up; down if negative.
    pub up: Length,
    /// How often a board is taken off or put on.
    pub handled: u32,
    /// What changes, as a sentence: "Rear right one hole down, take out the 25."
    pub words: String,
    /// The sum of it: "Hole 3 to 4, +40; board 25 out, −25: up 15 mm."
    pub sum: String,
    /// How it is done, with the cautions where the work is.
    pub steps: Vec<String>,
}

/// Why there is no trim.
#[derive(Clone, Debug, PartialEq)]
pub enum TrimError {
    /// The plan has no legs.
    NoLegs,
    /// A name that no leg bears.
    UnknownLeg {
        /// The name.
        name: String,
        /// The nearest that there is.
        near: Option<String>,
        /// All that there are.
        known: Vec<String>,
    },
    /// What stands at a leg is not told, or is told twice.
    Stood {
        /// The leg.
        leg: String,
        /// How often it is told.
        times: usize,
    },
    /// A board that the kit has not.
    UnknownBoard {
        /// The leg.
        leg: String,
        /// The board.
        board: String,
        /// All kinds that there are.
        known: Vec<String>,
    },
    /// A setting that the leg has not.
    Setting {
        /// The leg.
        leg: String,
        /// What was told: "hole 9", "a screw".
        told: String,
        /// What there is: "holes 1 to 8".
        there_is: String,
    },
    /// A reading that is not a number, or far outside what can be read.
    Unreadable {
        /// What was read: "The height at rear right".
        what: String,
    },
    /// The calculation refuses it.
    Refused(tober_calc::packing::trim::TrimError),
}

impl fmt::Display for TrimError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoLegs => f.write_str(
                "The plan sets no legs, so there is nothing to trim. Make a plan that serves, and build it first.",
            ),
            Self::UnknownLeg { name, near, known } => {
                write!(f, "No leg that carries is called \"{name}\".")?;
                if let Some(near) = near {
                    write!(f, " Did you mean \"{near}\"?")?;
                }
                write!(f, " There are: {}.", known.join(", "))
            }
            Self::Stood { leg, times: 0 } => {
                write!(f, "What stands at {leg} is not told. Give its hole or screw and its boards from the ground up.")
            }
            Self::Stood { leg, times } => {
                write!(f, "What stands at {leg} is told {times} times. Tell it once.")
            }
            Self::UnknownBoard { leg, board, known } => write!(
                f,
                "Under {leg} lies \"{board}\", and the kit has no such board. There are: {}.",
                known.join(", ")
            ),
            Self::Setting { leg, told, there_is } => {
                write!(f, "At {leg} {told} is told, and there is {there_is}.")
            }
            Self::Unreadable { what } => {
                write!(f, "{what} is no length or slope that can be read. Read it again.")
            }
            Self::Refused(error) => error.fmt(f),
        }
    }
}

impl core::error::Error for TrimError {}
