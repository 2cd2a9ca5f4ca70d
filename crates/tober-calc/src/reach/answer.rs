//! What comes out of a question of reach.

use super::follow::Pose;
use super::model::Question;
use tober_quantity::Length;

/// What ends a way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stop {
    /// The hitch jack is at its shortest.
    JackShortest,
    /// The hitch jack is at its longest.
    JackLongest,
    /// The hitch jack is at its rated load.
    JackLoad,
    /// A leg is at its rated load.
    LegLoad(usize),
    /// An axle is at its rated load.
    AxleLoad(usize),
    /// A leg that is drawn up touches the ground.
    DrawnUp(usize),
    /// What carries stands in one line, or the weight is beyond it: the frame rocks or tips.
    Rocks,
}

impl Stop {
    /// The reason in the crew's words.
    pub fn sentence(self, question: &Question) -> String {
        let leg = |i: usize| question.legs.get(i).map_or("?", |leg| leg.name.as_str());
        match self {
            Self::JackShortest => "the hitch jack is wound right in".to_owned(),
            Self::JackLongest => "the hitch jack is wound right out".to_owned(),
            Self::JackLoad => "the hitch jack is at its rated load".to_owned(),
            Self::LegLoad(i) => format!("leg {} is at its rated load", leg(i)),
            Self::AxleLoad(i) => {
                format!("{} is at its rated load", question.axles.get(i).map_or("?", |axle| &axle.name))
            }
            Self::DrawnUp(i) => format!("leg {}, drawn right up, touches the ground", leg(i)),
            Self::Rocks => "the frame would rock".to_owned(),
        }
    }
}

/// One thing the crew does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doing {
    /// Wind the hitch jack until its top is at this height. Anything from `least` to `most` will do.
    Jack {
        /// The height to go to.
        to: Length,
        /// The least that will do.
        least: Length,
        /// The greatest that will do.
        most: Length,
    },
    /// Set a leg. Its top is then at this height: its seat, or where its screw touches.
    Set {
        /// Which leg.
        leg: usize,
        /// Where its top is.
        top: Length,
        /// How far the frame is past its seat; below it if negative, for a screw that will lift.
        clear: Length,
        /// How far past its seat the frame can be brought, with the legs that are set before.
        room: Length,
    },
    /// Wind a screw until its top is at this height.
    Wind {
        /// Which leg.
        leg: usize,
        /// Where its top is then.
        to: Length,
    },
    /// Wind the hitch jack in until it carries nothing, and take it away.
    Off,
}

/// One thing the crew does with every pose on the way, the last of which is the one it ends in.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What is done.
    pub doing: Doing,
    /// The poses where the set of springs in contact changes, in order; the step begins where the one before ends.
    pub poses: Vec<Pose>,
}

/// A way onto the legs.
#[derive(Clone, Debug, PartialEq)]
pub struct Sequence {
    /// Before anything is wound: on the wheels and on the hitch jack.
    pub start: Pose,
    /// What is done, in order.
    pub steps: Vec<Step>,
    /// Whether the legs are set in the maker's order.
    pub makers_order: bool,
}

impl Sequence {
    /// The legs in the order in which they are set.
    pub fn order(&self) -> Vec<usize> {
        let set = |step: &Step| match step.doing {
            Doing::Set { leg, .. } => Some(leg),
            _ => None,
        };
        self.steps.iter().filter_map(set).collect()
    }
}

/// Why a leg cannot be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Because {
    /// What ends the way up; `None` where going on would not help.
    pub up: Stop,
    /// What ends the way down.
    pub down: Stop,
}

/// How near the crew comes.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    /// The legs that can be set before, in order.
    pub set: Vec<usize>,
    /// The leg that misses by least then; `None` where all are set and the hitch jack cannot be taken out of its load,
    /// or where the trailer is past a limit before anything is done.
    pub leg: Option<usize>,
    /// By how much the frame stays too low over it.
    pub by: Length,
    /// What ends the way of the hitch jack.
    pub because: Because,
}

impl Miss {
    /// What misses, by how much and why, as a sentence that goes on from another.
    pub fn sentence(&self, question: &Question) -> String {
        let name = |leg: usize| question.legs.get(leg).map_or("?", |leg| leg.name.as_str());
        let set: Vec<&str> = self.set.iter().map(|&leg| name(leg)).collect();
        let after = if set.is_empty() { String::new() } else { format!("with {} set, ", set.join(", ")) };
        let (up, down) = (self.because.up.sentence(question), self.because.down.sentence(question));
        let why = if up == down { up } else { format!("going up, {up}; going down, {down}") };
        match self.leg {
            Some(leg) => {
                format!(
                    "{after}leg {} misses by {:.0} mm at the least: {why}.",
                    name(leg),
                    self.by.as_mm().ceil()
                )
            }
            None if set.is_empty() => format!("before anything is wound, {why}."),
            None => format!("{after}the hitch jack cannot be taken out: {why}."),
        }
    }
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// A way, with every pose of it.
    Reached(Sequence),
    /// There is none.
    Missed {
        /// How near it comes.
        miss: Miss,
        /// Whether that is proved. It is not where screws lift or the budget ended.
        proved: bool,
    },
}
