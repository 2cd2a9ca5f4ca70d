//! Two steps that may be under way at once touch nothing in common.
//!
//! Pins that two steps take out of one tray are no race: how many are there is counted ([`crate::counts`]). That one
//! step takes what another brings is.

use crate::claim::{Asked, Matter, Offence, Rule, Test};
use crate::counts::fixings;
use crate::run::Run;
use crate::said::{InCommon, Statement};
use crate::state::Tracks;
use crate::track::{WINCH, What, switched};
use std::collections::{BTreeMap, BTreeSet};
use tober_book::{Lift, Span};
use tober_calc::orders::{Precedence, StepSet};
use tober_quantity::Length;

/// What two steps may have in common.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Shared<'a> {
    Body(&'a str),
    Leg(&'a str),
    Switch(&'a str),
    Home(&'a str, &'a str),
    Winch(&'a str),
    Turned,
    PlaceForOne(&'a str),
    Ground(&'a str),
}

/// How a step touches it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum How<'a> {
    /// So that nobody else may.
    Alone,
    /// It leaves it in a state; another step may leave it in the same.
    Leaves(&'a str),
    /// It takes out of it, or is there: others may too.
    With,
    /// It brings into it.
    Brings,
    /// It wants it clear of people.
    Clear,
}

impl<'a> How<'a> {
    fn bars(self, other: How<'a>) -> bool {
        match (self, other) {
            (How::With, How::With) | (How::Brings, How::Brings) => false,
            (How::Leaves(one), How::Leaves(other)) => one != other,
            _ => true,
        }
    }
}

struct Touch<'a> {
    step: usize,
    how: How<'a>,
    span: Span,
}

impl Shared<'_> {
    fn said(self) -> InCommon {
        match self {
            Self::Body(name) => InCommon::Thing(What::Body(name).into()),
            Self::Leg(name) => InCommon::Thing(What::Leg(name).into()),
            Self::Switch(name) => InCommon::Thing(What::Switch(name).into()),
            Self::Turned => InCommon::Thing(What::Turned.into()),
            Self::Home(fixing, home) => InCommon::Home(fixing.to_owned(), home.to_owned()),
            Self::Winch(name) => InCommon::Winch(name.to_owned()),
            Self::PlaceForOne(name) => InCommon::PlaceForOne(name.to_owned()),
            Self::Ground(name) => InCommon::Ground(name.to_owned()),
        }
    }

    fn words(self) -> String {
        match self {
            Self::Body(name) | Self::Switch(name) => format!("\"{name}\""),
            Self::Leg(name) => format!("leg \"{name}\""),
            Self::Home(fixing, home) => format!("\"{fixing}\" in \"{home}\""),
            Self::Winch(name) if name == WINCH => "the winch".to_owned(),
            Self::Winch(name) => format!("winch \"{name}\""),
            Self::Turned => "the turntable".to_owned(),
            Self::PlaceForOne(name) => format!("the place \"{name}\", where there is room for one"),
            Self::Ground(name) => format!("the ground \"{name}\""),
        }
    }
}

fn touched<'a>(run: &'a Run<'a>, tracks: &Tracks<'a>) -> BTreeMap<Shared<'a>, Vec<Touch<'a>>> {
    let mut all: BTreeMap<Shared<'a>, Vec<Touch<'a>>> = BTreeMap::new();
    // What is carried moves with its carrier, so a step that moves the carrier touches it.
    let carried = carried_by(run, tracks);
    for (step, book) in run.steps.iter().enumerate() {
        let mut touch = |shared: Shared<'a>, how: How<'a>, span: Span| {
            all.entry(shared).or_default().push(Touch { step, how, span });
        };
        let mut bodies: BTreeMap<&str, Span> = BTreeMap::new();
        for moved in book.moves.iter().filter(|moved| !run.absent.contains(moved.body.as_str())) {
            bodies.insert(&moved.body, moved.place.key("body"));
            for &body in carried.get(moved.body.as_str()).into_iter().flatten() {
                bodies.entry(body).or_insert_with(|| moved.place.key("body"));
            }
        }
        for (body, span) in bodies {
            touch(Shared::Body(body), How::Alone, span);
        }
        for name in &book.sets {
            touch(Shared::Leg(name), How::Alone, book.place.key("sets"));
        }
        for name in &book.takes_away {
            touch(Shared::Leg(name), How::Alone, book.place.key("takes-away"));
        }
        for change in &book.switches {
            touch(
                Shared::Switch(&change.switch),
                How::Leaves(switched(change.to)),
                change.place.key("switch"),
            );
        }
        for pins in book.pins.iter().filter(|pins| fixings(run).any(|there| there.name == pins.fixing)) {
            touch(Shared::Home(&pins.fixing, &pins.from), How::With, pins.place.key("from"));
            touch(Shared::Home(&pins.fixing, &pins.to), How::Brings, pins.place.key("to"));
        }
        let hauled = matches!(book.lift, Some(Lift::Winch(_)));
        if book.line_on.is_some() || book.line_off.is_some() || book.anchor.is_some() || hauled {
            let key = ["line-on", "line-off", "anchor", "lift"].into_iter().find(|key| book.place.has(key));
            let span = book.place.key(key.unwrap_or("name"));
            touch(Shared::Winch(book.winch.as_deref().unwrap_or(WINCH)), How::Alone, span);
        }
        if book.turns_to.is_some() {
            touch(Shared::Turned, How::Alone, book.place.key("turns-to"));
            for body in run.bodies().filter(|body| body.on_turntable == Some(true)) {
                if !book.moves.iter().any(|moved| moved.body == body.name) {
                    touch(Shared::Body(&body.name), How::Alone, book.place.key("turns-to"));
                }
            }
        }
        for place in &book.place_for_one {
            touch(Shared::PlaceForOne(place), How::Alone, book.place.key("place-for-one"));
        }
        if let Some(ground) = &book.keep_clear {
            touch(Shared::Ground(ground), How::Clear, book.place.key("keep-clear"));
        }
        for ground in
            book.works_in.iter().filter(|ground| book.keep_clear.as_deref() != Some(ground.as_str()))
        {
            touch(Shared::Ground(ground), How::With, book.place.key("works-in"));
        }
    }
    all
}

/// What each body may carry, however far up.
fn carried_by<'a>(run: &'a Run<'a>, tracks: &Tracks<'a>) -> BTreeMap<&'a str, BTreeSet<&'a str>> {
    let mut direct: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for body in run.bodies() {
        let states = tracks.get(&What::Body(&body.name)).into_iter().flat_map(|track| {
            track.writes.iter().map(|write| write.to.as_str()).chain([track.start.as_str()])
        });
        for state in states {
            if let Some(carrier) = run.carrier(&body.name, state) {
                direct.entry(carrier).or_default().insert(&body.name);
            }
        }
    }
    let mut all = BTreeMap::new();
    for &carrier in direct.keys() {
        let mut found: BTreeSet<&str> = BTreeSet::new();
        let mut open = vec![carrier];
        while let Some(at) = open.pop() {
            for &body in direct.get(at).into_iter().flatten() {
                if body != carrier && found.insert(body) {
                    open.push(body);
                }
            }
        }
        all.insert(carrier, found);
    }
    all
}

/// Two of a list that bar each other and may be under way at once, with the least done before.
fn pair<'a, 'b>(
    run: &Run<'_>,
    order: &Precedence,
    list: &'b [Touch<'a>],
) -> Option<(StepSet, &'b Touch<'a>, &'b Touch<'a>)> {
    let mut best: Option<(StepSet, &Touch<'_>, &Touch<'_>)> = None;
    for (at, one) in list.iter().enumerate() {
        for other in &list[at + 1..] {
            if one.step == other.step || !one.how.bars(other.how) || !order.unordered(one.step, other.step) {
                continue;
            }
            let done = run.just_before(order, &[one.step, other.step]);
            if best.as_ref().is_none_or(|(least, ..)| done.count() < least.count()) {
                best = Some((done, one, other));
            }
        }
    }
    best
}

/// Two steps that may be under way at once touch nothing in common.
pub(crate) fn races<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for (shared, list) in touched(run, tracks) {
        if list.iter().all(|touch| touch.step == list[0].step) {
            continue;
        }
        // The later of the first two that race is where the book is pointed at.
        let span = pair(run, &run.order, &list).map_or(list[0].span, |(_, _, second)| second.span);
        let matters = match shared {
            Shared::Body(name) => vec![Matter::State(What::Body(name))],
            Shared::Leg(name) => vec![Matter::State(What::Leg(name))],
            Shared::Switch(name) => vec![Matter::State(What::Switch(name))],
            Shared::Home(fixing, home) => vec![Matter::Home(fixing, home)],
            _ => Vec::new(),
        };
        let offends = move |order: &Precedence| {
            let (done, one, other) = pair(run, order, &list)?;
            let (one_name, other_name) = (&run.step(one.step).name, &run.step(other.step).name);
            let says = match (shared, one.how, other.how) {
                (Shared::Ground(ground), How::With, _) => format!(
                    "\"{one_name}\" has people at work on the ground \"{ground}\", and \"{other_name}\" wants it clear: both may be under way at once."
                ),
                (Shared::Ground(ground), _, How::With) => format!(
                    "\"{one_name}\" wants the ground \"{ground}\" clear, and \"{other_name}\" has people at work on it: both may be under way at once."
                ),
                _ => format!(
                    "\"{one_name}\" and \"{other_name}\" may be under way at once, and both touch {}.",
                    shared.words()
                ),
            };
            Some(Offence { done, begun: StepSet::from(order.len(), [one.step, other.step]), says })
        };
        all.push(Asked {
            said: Statement::Race(shared.said()),
            rule: if matches!(shared, Shared::Ground(_)) { Rule::Zones } else { Rule::Races },
            subject: shared.words(),
            span,
            help: "One of the two waits for the other: write it in `after`.".to_owned(),
            matters,
            test: Test::Every(Box::new(offends)),
        });
    }
    all.extend(overlaps(run));
    all
}

/// Ground that two steps want clear and that overlaps, under two names.
fn overlaps<'a>(run: &'a Run<'a>) -> Option<Asked<'a>> {
    struct Round {
        step: usize,
        at: (Length, Length),
        radius: Length,
    }
    let rounds: Vec<Round> = run
        .steps
        .iter()
        .enumerate()
        .filter_map(|(step, book)| {
            let at = book.keep_clear_at?;
            Some(Round { step, at: (at.along, at.across), radius: book.keep_clear_radius? })
        })
        .collect();
    let first = rounds.first()?.step;
    let offends = move |order: &Precedence| {
        for (number, one) in rounds.iter().enumerate() {
            for other in &rounds[number + 1..] {
                let (a, b) = (run.step(one.step), run.step(other.step));
                let (along, across) = ((one.at.0 - other.at.0).as_m(), (one.at.1 - other.at.1).as_m());
                let reach = (one.radius + other.radius).as_m();
                let apart = along * along + across * across >= reach * reach;
                if apart || a.keep_clear == b.keep_clear || !order.unordered(one.step, other.step) {
                    continue;
                }
                return Some(Offence {
                    done: run.just_before(order, &[one.step, other.step]),
                    begun: StepSet::from(order.len(), [one.step, other.step]),
                    says: format!(
                        "\"{}\" and \"{}\" may be under way at once, and the ground that each wants clear overlaps.",
                        a.name, b.name
                    ),
                });
            }
        }
        None
    };
    Some(Asked {
        rule: Rule::Zones,
        said: Statement::Overlap,
        subject: "the ground that steps want clear".to_owned(),
        span: run.step(first).place.key("keep-clear-radius"),
        help: "One of the two waits for the other: write it in `after`.".to_owned(),
        matters: Vec::new(),
        test: Test::Every(Box::new(offends)),
    })
}
