//! What has one state at a time: where a body is, how something is switched, whether a leg is set, what the winch line
//! is on, where the winch stands, how far the turntable is turned.

use crate::run::{ROAD, Run};
use std::collections::BTreeMap;
use tober_book::{Need, Span, SwitchState};
use tober_calc::orders::{Precedence, StepSet};
use tober_quantity::Angle;

/// The winch of a ride that names none.
pub(crate) const WINCH: &str = "winch";
/// A winch line that is on nothing.
pub(crate) const NOTHING: &str = "nothing";
/// A leg that is set.
pub(crate) const SET: &str = "set";
/// A leg that is not set.
pub(crate) const NOT_SET: &str = "not set";
/// The state of what nobody has told yet.
pub(crate) const UNKNOWN: &str = "not known";

/// What has one state at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum What<'a> {
    /// A body: the placement it is in.
    Body(&'a str),
    /// A circuit, or what a step calls it.
    Switch(&'a str),
    /// A support.
    Leg(&'a str),
    /// A winch: the body that its line is on.
    Line(&'a str),
    /// A winch: where it stands.
    Anchor(&'a str),
    /// The turntable: the angle to which it is turned.
    Turned,
}

impl What<'_> {
    /// In words, at the head of a sentence.
    pub fn words(self) -> String {
        match self {
            Self::Body(name) | Self::Switch(name) => format!("\"{name}\""),
            Self::Leg(name) => format!("leg \"{name}\""),
            Self::Line(name) if name == WINCH => "the winch line".to_owned(),
            Self::Line(name) => format!("the line of winch \"{name}\""),
            Self::Anchor(name) if name == WINCH => "the winch".to_owned(),
            Self::Anchor(name) => format!("winch \"{name}\""),
            Self::Turned => "the turntable".to_owned(),
        }
    }

    /// The preposition before its state.
    pub fn preposition(self) -> &'static str {
        match self {
            Self::Body(_) => "in ",
            Self::Line(_) => "on ",
            Self::Anchor(_) => "at ",
            Self::Turned => "at ",
            Self::Switch(_) | Self::Leg(_) => "",
        }
    }

    /// A state in words.
    pub fn state(self, state: &str) -> String {
        match self {
            Self::Body(_) | Self::Anchor(_) => format!("{}\"{state}\"", self.preposition()),
            Self::Line(_) if state != NOTHING && state != UNKNOWN => format!("on \"{state}\""),
            _ => format!("{}{state}", self.preposition()),
        }
    }
}

/// One step that brings it into a state.
pub(crate) struct Write {
    /// The step.
    pub step: usize,
    /// The state it must be in before, where the book says.
    pub from: Option<String>,
    /// The state it is in afterwards.
    pub to: String,
    /// Where the book says so.
    pub span: Span,
}

/// The states of one thing over a run.
pub(crate) struct Track {
    /// At the beginning.
    pub start: String,
    /// The steps that change it.
    pub writes: Vec<Write>,
}

/// A state that a thing may be in, with the least that must be done for it.
pub(crate) struct Possible {
    /// The state.
    pub state: String,
    /// The steps done.
    pub done: StepSet,
}

impl Track {
    /// The states it may be in when a stage contains `done` and none of `open`, each with a smallest such stage in
    /// which it is, smallest first.
    ///
    /// Exact where `open` is closed under "later" and `done` under "before": a write is the last one in some order
    /// exactly when none of what must be done comes after it.
    pub fn possible(&self, order: &Precedence, done: &StepSet, open: &StepSet) -> Vec<Possible> {
        let mut found: Vec<Possible> = Vec::new();
        if !self.writes.iter().any(|write| done.contains(write.step)) {
            found.push(Possible { state: self.start.clone(), done: done.clone() });
        }
        for write in &self.writes {
            let with = order.before(write.step);
            if open.contains(write.step) || with.intersects(open) {
                continue;
            }
            let overwritten = self
                .writes
                .iter()
                .any(|other| order.is_before(write.step, other.step) && done.contains(other.step));
            if !overwritten {
                let mut stage = done.union(with);
                stage.insert(write.step);
                found.push(Possible { state: write.to.clone(), done: stage });
            }
        }
        found.sort_by_key(|possible| possible.done.count());
        found
    }

    /// The states it may be in just before a step begins.
    pub fn before(&self, order: &Precedence, step: usize) -> Vec<Possible> {
        let mut open = order.later(step).clone();
        open.insert(step);
        self.possible(order, order.before(step), &open)
    }
}

/// An angle as a state.
pub(crate) fn angle(angle: Angle) -> String {
    let turn = angle.as_deg() % 360.0;
    let turn = if turn < 0.0 { turn + 360.0 } else { turn };
    let whole = (turn * 10.0).round() / 10.0;
    format!("{} deg", if (whole - 360.0).abs() < 0.05 { 0.0 } else { whole })
}

/// A switch's state as a state.
pub(crate) fn switched(state: SwitchState) -> &'static str {
    match state {
        SwitchState::On => "on",
        SwitchState::Off => "off",
        SwitchState::Locked => "locked",
        SwitchState::Free => "free",
        SwitchState::Connected => "connected",
        SwitchState::Apart => "apart",
    }
}

/// Every track of a run.
pub(crate) fn tracks<'a>(run: &Run<'a>) -> BTreeMap<What<'a>, Track> {
    let mut tracks: BTreeMap<What<'a>, Track> = BTreeMap::new();
    for body in run.bodies() {
        let road = body.placement(ROAD).or(body.placements.first());
        let start = road.map_or(UNKNOWN, |placement| placement.name.as_str()).to_owned();
        tracks.insert(What::Body(&body.name), Track { start, writes: Vec::new() });
    }
    for support in &run.ride.supports {
        tracks.insert(What::Leg(&support.name), Track { start: NOT_SET.to_owned(), writes: Vec::new() });
    }
    // Nothing feeds a circuit on the road.
    for circuit in &run.ride.circuits {
        tracks.insert(What::Switch(&circuit.name), Track { start: "off".to_owned(), writes: Vec::new() });
    }
    for switch in &run.ride.switches {
        let start = switch.on_the_road.map_or(UNKNOWN, switched).to_owned();
        tracks.insert(What::Switch(&switch.name), Track { start, writes: Vec::new() });
    }
    if let Some(turntable) = &run.ride.turntable {
        let start = turntable.on_the_road.map_or_else(|| UNKNOWN.to_owned(), angle);
        tracks.insert(What::Turned, Track { start, writes: Vec::new() });
    }
    for (step, book) in run.steps.iter().enumerate() {
        let mut write = |what: What<'a>, from: Option<String>, to: String, span: Span| {
            let start = if matches!(what, What::Line(_)) { NOTHING } else { UNKNOWN };
            let fresh = || Track { start: start.to_owned(), writes: Vec::new() };
            tracks.entry(what).or_insert_with(fresh).writes.push(Write { step, from, to, span });
        };
        for moved in book.moves.iter().filter(|moved| !run.absent.contains(moved.body.as_str())) {
            let span = moved.place.key("from");
            write(What::Body(&moved.body), Some(moved.from.clone()), moved.to.clone(), span);
        }
        for name in &book.sets {
            write(What::Leg(name), Some(NOT_SET.to_owned()), SET.to_owned(), book.place.key("sets"));
        }
        for name in &book.takes_away {
            write(What::Leg(name), Some(SET.to_owned()), NOT_SET.to_owned(), book.place.key("takes-away"));
        }
        for change in &book.switches {
            write(What::Switch(&change.switch), None, switched(change.to).to_owned(), change.place.key("to"));
        }
        if let Some(to) = book.turns_to {
            write(What::Turned, None, angle(to), book.place.key("turns-to"));
        }
        let winch = book.winch.as_deref().unwrap_or(WINCH);
        if let Some(anchor) = &book.anchor {
            write(What::Anchor(winch), None, anchor.clone(), book.place.key("anchor"));
        }
        match (&book.line_on, &book.line_off) {
            (Some(on), None) => {
                write(What::Line(winch), Some(NOTHING.to_owned()), on.clone(), book.place.key("line-on"));
            }
            // On for this step only.
            (Some(on), Some(off)) if on == off => {
                write(
                    What::Line(winch),
                    Some(NOTHING.to_owned()),
                    NOTHING.to_owned(),
                    book.place.key("line-on"),
                );
            }
            (Some(on), Some(off)) => {
                write(What::Line(winch), Some(off.clone()), on.clone(), book.place.key("line-on"));
            }
            (None, Some(off)) => {
                write(What::Line(winch), Some(off.clone()), NOTHING.to_owned(), book.place.key("line-off"));
            }
            (None, None) => {}
        }
    }
    tracks
}

/// What a need asks of which thing, where it asks for a state.
pub(crate) fn asked<'a>(need: &'a Need, winch: &'a str) -> Option<(What<'a>, String, Span)> {
    let place = &need.place;
    if let (Some(body), Some(at)) = (&need.body, &need.at) {
        return Some((What::Body(body), at.clone(), place.key("at")));
    }
    if let (Some(switch), Some(is)) = (&need.switch, need.is) {
        return Some((What::Switch(switch), switched(is).to_owned(), place.key("is")));
    }
    if let Some(support) = &need.support {
        return Some((What::Leg(support), SET.to_owned(), place.key("support")));
    }
    if let Some(body) = &need.line {
        return Some((What::Line(winch), body.clone(), place.key("line")));
    }
    if let Some(to) = need.turned_to {
        return Some((What::Turned, angle(to), place.key("turned-to")));
    }
    need.anchor.as_ref().map(|anchor| (What::Anchor(winch), anchor.clone(), place.key("anchor")))
}
