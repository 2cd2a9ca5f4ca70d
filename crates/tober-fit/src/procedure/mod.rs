//! Does a procedure keep what is claimed of it, in every order that its rules admit?
//!
//! A second reading of the steps of a ride, from plain numbers: things that are in one state at a time, homes with so many in
//! them, steps with what they need, change, take and touch. It shares no table with the program that made the claims.
//!
//! A *stage* is a set of steps done that holds with each step all that must be done before it; besides, steps all of whose
//! befores are done may be *under way*. The state of a thing is what the last step wrote that changed it, so it hangs on the
//! order in which the stage was reached. A step under way has taken and not yet brought.
//!
//! | claimed | checked by |
//! | --- | --- |
//! | a story that shows an offence | [`story`]: every step is replayed, and at its end the offence is looked for |
//! | no stage offends | [`proof`]: each wrong writer is barred, each pair is ordered, each cut is added up ([`crate::orders`]) |
//! | the same, of a small procedure | [`enumerate`]: every stage, every state it may be in, everything that may be under way |
//! | further rules cure it | [`cure`]: with all of them it holds, without any one of them it does not, and no fewer do |
//! | a way back from a stage | [`retreat`]: each step undone has no follower done, and every stage on the way is looked at |
//! | nothing was left out | [`asked`]: what must be claimed of these steps, made from the numbers alone |
//!
//! # Not covered
//! Whether the numbers are those of the ride book: that is the reader's part, which is written apart from the prover's.

mod asked;
mod claim;
mod cure;
mod enumerate;
mod offence;
mod order;
mod proof;
mod refusal;
mod replay;
mod retreat;

pub use asked::How;
pub use asked::{asked, bars, touched};
pub use claim::{Claim, Shared};
pub use cure::{Cure, CureChecked, Story, cure};
pub use enumerate::{Found, enumerate};
pub use order::{Marks, Order};
pub use proof::{Bar, Barred, Cut, Proof, proof};
pub use refusal::Refusal;
pub use replay::story;
pub use retreat::{Retreat, retreat};

/// The state of a line that is on nothing. A line on the thing of number `t` is in state `t + 1`.
pub const NOTHING: usize = 0;
/// The state of what nothing has been said of yet.
pub const UNTOLD: usize = usize::MAX;

/// The steps of one visit as plain numbers. Steps, things, homes, winches, places and grounds are counted from 0.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Program {
    /// For each step, those that must be done before it.
    pub after: Vec<Vec<usize>>,
    /// For each step, its phase: it waits for every step of a lower one.
    pub phase: Vec<usize>,
    /// What each step does; one entry for each.
    pub work: Vec<Work>,
    /// What has one state at a time.
    pub things: Vec<Thing>,
    /// Where fixings can be.
    pub homes: Vec<Home>,
    /// The last phase before riders come, where the open ride is asked about.
    pub open_after: Option<usize>,
    /// Whether everything must be as on the road when all is done.
    pub comes_home: bool,
    /// The last phase from which there must be a way back.
    pub way_back_until: usize,
}

/// Something that is in one state at a time.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    /// What it is.
    pub kind: Kind,
    /// Its state before any step.
    pub start: usize,
    /// For a body, what each of its states is.
    pub states: Vec<State>,
    /// The state in which the open ride has it, where that is said.
    pub open: Option<usize>,
    /// For a body, whether it turns with the turntable.
    pub turns: bool,
    /// For a circuit, the state in which it can hurt, and the ground on which.
    pub live: Option<(usize, usize)>,
    /// For a leg, the bodies that may not be in these states when it moves.
    pub blocked: Vec<(usize, usize)>,
    /// For the turntable, the homes from which everything is out when it turns.
    pub locked: Vec<usize>,
    /// For a circuit, the state in which it may not be when all is done; any other does.
    pub never_home: Option<usize>,
}

/// What a thing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A part that is moved.
    Body,
    /// Something switched.
    Switch,
    /// A leg.
    Leg,
    /// The line of a winch.
    Line,
    /// Where a winch stands.
    Anchor,
    /// How far the turntable is turned.
    Turntable,
}

/// One state of a body.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    /// Where it is: equal numbers are one place.
    pub spot: usize,
    /// Where and how it lies: equal numbers are one place and one attitude.
    pub lies: usize,
    /// The body that carries it.
    pub carrier: Option<usize>,
    /// What holds it: homes, and how many must be in each.
    pub held: Vec<(usize, i64)>,
    /// Whether it is there only on a line.
    pub on_line: bool,
    /// The bodies, with their states, between which it closes a gap.
    pub beside: Vec<(usize, usize)>,
    /// The place with room for one body in which it then is.
    pub room: Option<usize>,
    /// Whether what carries or holds it there stays at home.
    pub without: bool,
}

/// A home of a fixing.
#[derive(Clone, Debug, PartialEq)]
pub struct Home {
    /// How many are there before any step, where that is said.
    pub start: Option<i64>,
    /// How many it holds.
    pub holds: i64,
    /// Whether what is there holds nothing.
    pub idle: bool,
    /// Whether what is there only carries, and lets go of what is lifted off it.
    pub lets_go: bool,
}

/// What a step does.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Work {
    /// States it changes.
    pub changes: Vec<Change>,
    /// States that must be when it begins: thing and state.
    pub needs: Vec<(usize, usize)>,
    /// How many must be in homes when it begins.
    pub least: Vec<(usize, i64)>,
    /// Fixings it moves: from a home, to a home, how many.
    pub pins: Vec<(usize, usize, i64)>,
    /// The winch that it uses.
    pub winch: Option<usize>,
    /// The line by which it lifts, and the body.
    pub lifts: Option<(usize, usize)>,
    /// The line whose winch it moves.
    pub moves_winch: Option<usize>,
    /// Places with room for one.
    pub alone_at: Vec<usize>,
    /// Ground that it wants clear of people.
    pub clear: Option<usize>,
    /// The middle and the radius of that ground, in metres.
    pub round: Option<([f64; 2], f64)>,
    /// Where its people work.
    pub works_in: Vec<usize>,
    /// Whether it cannot be taken back.
    pub for_good: bool,
}

/// One change of a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Change {
    /// The thing.
    pub thing: usize,
    /// The state in which it must be before.
    pub from: Option<usize>,
    /// The state in which it is afterwards.
    pub to: usize,
}
