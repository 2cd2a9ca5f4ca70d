//! What a plan holds.

use tober_calc::finding::{Finding, Standing};
use tober_quantity::{Angle, Length, Mass, UnitSet, WordSet};

/// A plan for one ride on one pitch.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The ride's name.
    pub ride: String,
    /// The pitch's name.
    pub pitch: String,
    /// The visit's name.
    pub visit: String,
    /// Whether the books say that they are invented.
    pub invented: bool,
    /// The units the visit chose.
    pub units: UnitSet,
    /// The words the visit chose.
    pub words: WordSet,
    /// The word for the whole: the worst standing of all findings that count, past limit before not known.
    pub standing: Standing,
    /// The first eight characters of the hash of the rounded inputs: the plan's name.
    pub name: String,
    /// The legs, in the order in which they are set. Empty where no packing serves.
    pub legs: Vec<LegPlan>,
    /// How the frame gets from its wheels onto the legs, where a way was found.
    pub way: Option<Way>,
    /// Every finding, worst first.
    pub findings: Vec<Finding>,
    /// What the crew could do where no packing serves, least first, as whole sentences.
    pub cures: Vec<String>,
    /// What is left in the kit once the stacks are built.
    pub kit_left: Vec<KitLeft>,
    /// What the ground plan shows besides the legs.
    pub surroundings: Surroundings,
    /// What the books do not say and the plan had to assume. Where this is not empty the plan is provisional, and
    /// nothing that rests on it is known.
    pub assumed: Vec<String>,
    /// Cautions that belong beside the packing, as whole sentences.
    pub cautions: Vec<String>,
}

/// One leg of the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct LegPlan {
    /// The support's full name, by corner: "rear right".
    pub name: String,
    /// Its short name: "RR".
    pub short: String,
    /// Its place in the order in which the legs are set, from 1.
    pub order: usize,
    /// Place of the foot along the frame from the frame's datum, towards the front positive.
    pub x: Length,
    /// Place of the foot across the frame, towards the left positive.
    pub y: Length,
    /// Size of the foot along the frame.
    pub foot_length: Length,
    /// Size of the foot across the frame.
    pub foot_width: Length,
    /// How it is held.
    pub held: Held,
    /// The layers from the ground up. Empty where the foot stands on the ground.
    pub layers: Vec<PlanLayer>,
    /// The height of the stack.
    pub stack: Length,
    /// Packing plus leg extension beyond its shortest: how far this corner stands above bare ground.
    pub lift: Length,
    /// Height of the ground under the foot over the datum of the survey, where it is known.
    pub ground: Option<Length>,
    /// The deviation of that height.
    pub ground_deviation: Option<Length>,
    /// How far the frame plane lies above (+) or below (−) the top of this leg.
    pub residual: Length,
    /// What the leg carries, least and greatest over all situations computed, where it is known.
    pub load: Option<(Mass, Mass)>,
    /// What the leg may carry, where the book says.
    pub rated: Option<Mass>,
    /// The worst standing of the findings about this leg.
    pub standing: Standing,
    /// What is said of this leg in a word or two, worst first.
    pub remarks: Vec<LegWord>,
}

/// A short remark on a leg with its standing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LegWord {
    /// The remark: "ground not known".
    pub text: String,
    /// How it stands.
    pub standing: Standing,
}

/// How the frame gets from its wheels onto its legs.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Packing under the hitch jack, from the start.
    pub jack_packing: Length,
    /// What is done, in order.
    pub steps: Vec<WayStep>,
    /// Whether the legs are set in the order of the book.
    pub in_book_order: bool,
    /// Where it differs from common practice and why, as whole sentences.
    pub differs: Vec<String>,
    /// Whether a leg is held by a pin on top of its sleeve.
    pub pin_above: bool,
}

/// One thing that is done on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct WayStep {
    /// What.
    pub doing: WayDoing,
    /// What the hitch jack carries then.
    pub jack_load: Mass,
    /// Whether the wheels come to carry nothing, so that chocks hold nothing.
    pub wheels_come_free: bool,
}

/// What is done.
#[derive(Clone, Debug, PartialEq)]
pub enum WayDoing {
    /// The hitch jack is wound until the frame over it is so high above the ground beside it.
    Jack {
        /// Whether that is up.
        up: bool,
        /// The height to go to.
        height: Length,
        /// The least that will do.
        least: Length,
        /// The greatest that will do.
        most: Length,
    },
    /// A leg is set.
    Set {
        /// Which, with its short name.
        leg: String,
        /// How, in a few words.
        work: &'static str,
        /// How far the frame is past where it will stand on this leg.
        clear: Length,
        /// How far a screw is out then.
        screw_out: Option<Length>,
        /// The same in turns, where the book tells of its thread.
        turns: Option<String>,
    },
    /// A screw that carries is wound.
    Wind {
        /// Which, with its short name.
        leg: String,
        /// How far it is out then.
        screw_out: Length,
        /// The same in turns, where the book tells of its thread.
        turns: Option<String>,
    },
    /// The hitch jack is wound in until it carries nothing, and taken away.
    Off,
}

/// How a support is held.
#[derive(Clone, Debug, PartialEq)]
pub enum Held {
    /// A pin through a hole.
    Hole {
        /// The hole, counted from the frame end; hole 1 is the shortest leg.
        number: usize,
        /// How many holes there are.
        of: usize,
        /// The distance from hole to hole.
        pitch: Length,
    },
    /// A screw.
    Screw {
        /// How far it is wound out beyond its shortest.
        extension: Length,
        /// How far it can be wound out.
        travel: Length,
        /// How far one turn moves it, where the book says.
        thread: Option<Length>,
    },
}

/// Into how many parts a turn of a screw is told: what an eye can tell of a crank.
const PARTS_OF_A_TURN: f64 = 8.0;

/// A whole number of turns, and eighths of one.
///
/// Turns = length / thread pitch, to the nearest eighth. Of nothing, or where the pitch is not known, none.
pub fn turns(length: Length, thread: Option<Length>) -> Option<f64> {
    let turns = length.as_mm() / thread.filter(|thread| *thread > Length::ZERO)?.as_mm();
    turns.is_finite().then(|| (turns * PARTS_OF_A_TURN).round() / PARTS_OF_A_TURN)
}

/// Turns in words, to the nearest eighth: "26 3/8 turns", "1 turn", "1/4 turn".
pub fn turns_told(length: Length, thread: Option<Length>) -> Option<String> {
    let turns = turns(length, thread)?;
    let (whole, part) = (turns.trunc(), (turns.fract().abs() * PARTS_OF_A_TURN).round());
    let part = match part as u8 {
        1 => "1/8",
        2 => "1/4",
        3 => "3/8",
        4 => "1/2",
        5 => "5/8",
        6 => "3/4",
        7 => "7/8",
        _ => "",
    };
    let word = if turns.abs() > 1.0 || turns == 0.0 { "turns" } else { "turn" };
    Some(match (whole == 0.0, part.is_empty()) {
        (_, true) => format!("{whole:.0} {word}"),
        (true, false) => format!("{part} {word}"),
        (false, false) => format!("{whole:.0} {part} {word}"),
    })
}

impl Held {
    /// How many turns a screw is wound out, in words, where it is a screw and its book tells of its thread.
    pub fn turns(&self) -> Option<String> {
        match self {
            Self::Screw { extension, thread, .. } => turns_told(*extension, *thread),
            Self::Hole { .. } => None,
        }
    }
}

/// Which way the grain of a layer runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Along the frame.
    Along,
    /// Across the frame.
    Across,
}

/// One layer of a stack.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanLayer {
    /// The kind of board, by its name in the kit.
    pub board: String,
    /// Its actual thickness.
    pub thickness: Length,
    /// Length of one board, along its grain.
    pub length: Length,
    /// Width of one board.
    pub width: Length,
    /// How many lie side by side.
    pub side_by_side: usize,
    /// Which way the grain runs.
    pub grain: Grain,
    /// Whether this is thin packing between timbers: ply or a pair of wedges.
    pub thin: bool,
    /// The metal of a plate, as the kit names it.
    pub metal: Option<String>,
}

/// What is left of a kind of board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KitLeft {
    /// The kind of board.
    pub board: String,
    /// How many the kit holds.
    pub held: u32,
    /// How many the plan uses.
    pub used: u32,
}

/// What the ground plan shows besides the legs. Places are on the pitch, in its own axes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Surroundings {
    /// The outline of the frame, in the frame's axes.
    pub frame: Vec<(Length, Length)>,
    /// The hitch, in the frame's axes.
    pub hitch: Option<(Length, Length)>,
    /// The middle of the turntable, in the frame's axes.
    pub centre: Option<(Length, Length)>,
    /// How far the ride reaches from there.
    pub reach: Option<Length>,
    /// The arms: letter, angle from the front (anticlockwise), length.
    pub arms: Vec<(String, Angle, Length)>,
    /// The corners of the ground that a wheel passes over as it turns, in the frame's axes; none where the ride turns
    /// on the plan.
    pub passes_over: Vec<(Length, Length)>,
    /// The wheels, in the frame's axes.
    pub wheels: Vec<(Length, Length)>,
    /// What stands, hangs or lies near, in the frame's axes.
    pub features: Vec<MapFeature>,
    /// The angle from the front of the frame to north, anticlockwise, where it is known.
    pub north: Option<Angle>,
}

/// Something on or near the pitch.
#[derive(Clone, Debug, PartialEq)]
pub struct MapFeature {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: MapFeatureKind,
    /// Its corners or ends, in the frame's axes; one point where it has no extent.
    pub points: Vec<(Length, Length)>,
}

/// What a feature of the pitch is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MapFeatureKind {
    /// Stands on the ground.
    Standing,
    /// Hangs overhead.
    Overhead,
    /// Lies in the ground.
    Buried,
    /// Brings power.
    Supply,
    /// A way in or out.
    Way,
}
