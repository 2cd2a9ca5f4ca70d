//! What may be claimed of a procedure.

/// What two steps may touch in common.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shared {
    /// A thing.
    Thing(usize),
    /// A home.
    Home(usize),
    /// A winch.
    Winch(usize),
    /// A place with room for one.
    Place(usize),
    /// Ground.
    Ground(usize),
}

/// A claim over every stage. An offence against it is a stage, how it was reached, and what is begun.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the sentence of each variant names its fields")]
pub enum Claim {
    /// Whenever `step` begins, `thing` is in `state`.
    Begins { step: usize, thing: usize, state: usize },
    /// Whenever `step` begins, `thing` is in none of `states`.
    BeginsNot { step: usize, thing: usize, states: Vec<usize> },
    /// Whenever `step` begins, at least `count` are in `home`, whatever else is under way.
    Least { step: usize, home: usize, count: i64 },
    /// Whenever `step` begins, at most `count` are in `home`, whatever else is under way.
    Most { step: usize, home: usize, count: i64 },
    /// `home` never has fewer than none or more than it holds, whatever is under way.
    Bounds { home: usize },
    /// No two steps that bar each other from it may be under way at once.
    Race(Shared),
    /// No two steps that may be under way at once want ground clear that overlaps, under two names.
    Overlap,
    /// Whenever `body` is in `state` and on no line, at least `count` are in `home`. What moves it next, or puts a line on it
    /// next, is not under way: while that is done, it is the step that has it.
    Held { body: usize, state: usize, home: usize, count: i64 },
    /// Whenever `body` is in `state`, a line is on it.
    OnTheLine { body: usize, state: usize },
    /// Nobody works on the ground that `step` wants clear for its lift.
    NobodyUnder { step: usize },
    /// When all up to the open ride is done, `body` is where the open ride has it.
    Open { body: usize },
    /// When all up to the open ride is done, `thing` is in `state`.
    OpenIs { thing: usize, state: usize },
    /// `thing` is in `state` at no stage.
    Never { thing: usize, state: usize },
    /// When everything is done, `thing` is as it was before any step.
    Home { thing: usize },
    /// When everything is done, `thing` is not in `state`.
    HomeNot { thing: usize, state: usize },
    /// When everything is done, `home` has as many as before any step.
    HomeAgain { home: usize },
    /// `step` cannot be taken back; where no more is done than it and what it needs, bodies and lines are as before any step.
    WayBack { step: usize },
}
