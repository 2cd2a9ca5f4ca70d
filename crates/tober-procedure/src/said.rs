//! What a claim says, in the names of the book and without a word of prose, so that a program that shares nothing with
//! this one can check it.

use crate::track::What;

/// What has one state at a time.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thing {
    /// A body: the placement it is in.
    Body(String),
    /// A circuit, or what a step calls it: on, off, locked ...
    Switch(String),
    /// A leg: "set" or "not set".
    Leg(String),
    /// The line of a winch: the body that it is on, or "nothing".
    Line(String),
    /// A winch: where it stands.
    Anchor(String),
    /// The turntable: the angle to which it is turned.
    Turned,
}

impl From<What<'_>> for Thing {
    fn from(what: What<'_>) -> Self {
        match what {
            What::Body(name) => Self::Body(name.to_owned()),
            What::Switch(name) => Self::Switch(name.to_owned()),
            What::Leg(name) => Self::Leg(name.to_owned()),
            What::Line(name) => Self::Line(name.to_owned()),
            What::Anchor(name) => Self::Anchor(name.to_owned()),
            What::Turned => Self::Turned,
        }
    }
}

/// What two steps may touch in common.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum InCommon {
    /// A body, a leg, a switch, the turntable.
    Thing(Thing),
    /// A home of a fixing.
    Home(String, String),
    /// A winch.
    Winch(String),
    /// A place with room for one.
    PlaceForOne(String),
    /// Ground or a room.
    Ground(String),
}

/// What a claim says. Steps, bodies, homes by their names in the book.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Statement {
    /// The steps can be put in an order.
    Order,
    /// Whenever the step begins, the thing is in the state.
    Begins {
        /// The step.
        step: String,
        /// The thing.
        thing: Thing,
        /// The state.
        is: String,
    },
    /// Whenever the step begins, the thing is in none of the states.
    BeginsNot {
        /// The step.
        step: String,
        /// The thing.
        thing: Thing,
        /// The states.
        are: Vec<String>,
    },
    /// Whenever the step begins, at least so many of the fixing are in the home, whatever else is under way.
    Least {
        /// The step.
        step: String,
        /// The fixing.
        fixing: String,
        /// The home.
        home: String,
        /// How many.
        count: i64,
    },
    /// Whenever the step begins, at most so many of the fixing are in the home, whatever else is under way.
    Most {
        /// The step.
        step: String,
        /// The fixing.
        fixing: String,
        /// The home.
        home: String,
        /// How many.
        count: i64,
    },
    /// The home never has fewer than none or more than it holds, whatever is under way.
    Bounds {
        /// The fixing.
        fixing: String,
        /// The home.
        home: String,
    },
    /// No two steps that bar each other from it may be under way at once.
    Race(InCommon),
    /// No two steps that may be under way at once want ground clear that overlaps.
    Overlap,
    /// Whenever the body is in the placement and on no winch line, at least so many of the fixing are in the home.
    Held {
        /// The body.
        body: String,
        /// The placement.
        place: String,
        /// The fixing.
        fixing: String,
        /// The home.
        home: String,
        /// How many.
        count: i64,
    },
    /// Whenever the body is in the placement, a winch line is on it.
    OnTheLine {
        /// The body.
        body: String,
        /// The placement.
        place: String,
    },
    /// Nobody works on the ground that the step's own lift wants clear.
    NobodyUnder {
        /// The step.
        step: String,
    },
    /// When everything up to the empty test is done, the body is where the open ride has it.
    Open {
        /// The body.
        body: String,
    },
    /// When everything up to the empty test is done, the thing is in the state.
    OpenIs {
        /// The thing.
        thing: Thing,
        /// The state.
        is: String,
    },
    /// The body is in the placement at no stage: what carries or holds it there stays at home.
    Never {
        /// The body.
        body: String,
        /// The placement.
        place: String,
    },
    /// When everything is done, the thing is not in the state.
    HomeNot {
        /// The thing.
        thing: Thing,
        /// The state.
        is: String,
    },
    /// When everything is done, the thing is as it was on the road.
    Home(Thing),
    /// When everything is done, the home has as many of the fixing as on the road.
    HomeAgain {
        /// The fixing.
        fixing: String,
        /// The home.
        home: String,
    },
    /// The step cannot be taken back; where it and no more than it needs is done, everything still lies as on the road.
    WayBack {
        /// The step.
        step: String,
    },
    /// Something that is said in words only, and not checked a second time.
    Words,
}
