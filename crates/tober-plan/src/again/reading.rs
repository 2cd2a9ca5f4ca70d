//! A ride book's steps as the plain numbers that `tober-fit` reads.
//!
//! Written apart from `tober-procedure`, so that what one misreads the other finds. Nothing of that crate's reading is
//! used here: neither its runs, nor its tracks, nor its counts.

use std::collections::{BTreeMap, BTreeSet};
use tober_book::{Body, BodyAt, Fixing, FixingKind, Lift, Phase, Ride, Step, SwitchState};
use tober_fit::procedure::{Change, Home, Kind, NOTHING, Program, State, Thing, UNTOLD, Work};
use tober_quantity::Angle;

/// The name of the winch in a book that names none.
const ONE_WINCH: &str = "winch";

/// A thing by what it is and its name.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Named {
    Body(String),
    Switch(String),
    Leg(String),
    Line(String),
    Anchor(String),
    Turntable,
}

/// Names given numbers in the order in which they come.
#[derive(Debug, Default)]
pub(super) struct Numbers(BTreeMap<String, usize>);

impl Numbers {
    fn of(&mut self, name: &str) -> usize {
        let next = self.0.len();
        *self.0.entry(name.to_owned()).or_insert(next)
    }

    /// The number of a name that has one.
    pub fn get(&self, name: &str) -> Option<usize> {
        self.0.get(name).copied()
    }
}

/// The plain numbers of one way through a visit, and which name has which.
#[derive(Debug)]
pub(super) struct Reading {
    pub program: Program,
    /// The names of the steps, in their order.
    pub steps: Vec<String>,
    pub things: BTreeMap<Named, usize>,
    /// The places at which winches stand.
    pub anchors: Numbers,
    pub homes: BTreeMap<(String, String), usize>,
    pub winches: Numbers,
    pub grounds: Numbers,
    pub places: Numbers,
    /// The places with room for one body.
    rooms: Numbers,
}

/// How far a phase is along a visit. `None` for what is done only when something is wrong.
fn along(phase: Phase) -> Option<usize> {
    match phase {
        Phase::Arrive => Some(0),
        Phase::BuildUp => Some(1),
        Phase::Prove => Some(2),
        Phase::Open => Some(3),
        Phase::Shut => Some(4),
        Phase::Reopen => Some(5),
        Phase::PullDown => Some(6),
        Phase::Leave => Some(7),
        Phase::Stopped => None,
    }
}

fn at_night(step: &Step) -> bool {
    matches!(step.phase, Phase::Shut | Phase::Reopen)
}

/// The number of a switch's state.
pub(super) fn switched(state: SwitchState) -> usize {
    match state {
        SwitchState::Off => 0,
        SwitchState::On => 1,
        SwitchState::Locked => 2,
        SwitchState::Free => 3,
        SwitchState::Connected => 4,
        SwitchState::Apart => 5,
    }
}

/// Tenths of a degree round from 0 to 3599.
pub(super) fn tenths(degrees: f64) -> usize {
    let tenths = (degrees * 10.0).round();
    let round = tenths - 3600.0 * (tenths / 3600.0).floor();
    // At most 3600, and not below zero.
    if round >= 3600.0 { 0 } else { round as usize }
}

fn turned(angle: Angle) -> usize {
    tenths(angle.as_deg())
}

/// The steps that are done, in the order of the book.
fn chosen<'a>(ride: &'a Ride, absent: &BTreeSet<&str>, night: bool) -> BTreeMap<&'a str, &'a Step> {
    let by_name: BTreeMap<&str, &Step> = ride.steps.iter().map(|step| (step.name.as_str(), step)).collect();
    let mut in_it: BTreeSet<&str> = BTreeSet::new();
    for step in &ride.steps {
        if along(step.phase).is_some() && (night || !at_night(step)) {
            in_it.insert(&step.name);
        }
    }
    // Without a night, what the pull-down waits for is still done.
    loop {
        let mut more = BTreeSet::new();
        for name in &in_it {
            let step = by_name[name];
            if at_night(step) || matches!(step.phase, Phase::PullDown | Phase::Leave) {
                let waits = step.after.iter().filter_map(|name| by_name.get(name.as_str()));
                more.extend(waits.filter(|step| at_night(step)).map(|step| step.name.as_str()));
            }
        }
        let before = in_it.len();
        in_it.extend(more);
        if in_it.len() == before {
            break;
        }
    }
    let here = |step: &Step| !step.only_with.iter().any(|body| absent.contains(body.as_str()));
    by_name.into_iter().filter(|(name, step)| in_it.contains(name) && here(step)).collect()
}

/// The steps done that a step waits for, through those that are left out.
fn waits(
    ride: &Ride,
    number: &BTreeMap<&str, usize>,
    step: &Step,
    seen: &mut BTreeSet<String>,
) -> BTreeSet<usize> {
    let mut all = BTreeSet::new();
    for name in &step.after {
        if let Some(&there) = number.get(name.as_str()) {
            all.insert(there);
        } else if seen.insert(name.clone())
            && let Some(left_out) = ride.steps.iter().find(|step| step.name == *name)
        {
            all.extend(waits(ride, number, left_out, seen));
        }
    }
    all
}

impl Reading {
    /// Reads a ride book without the bodies that stay at home, with or without a night.
    pub fn of(ride: &Ride, absent: &BTreeSet<&str>, night: bool) -> Self {
        let chosen = chosen(ride, absent, night);
        let steps: Vec<&Step> =
            ride.steps.iter().filter(|step| chosen.contains_key(step.name.as_str())).collect();
        let number: BTreeMap<&str, usize> =
            steps.iter().enumerate().map(|(at, step)| (step.name.as_str(), at)).collect();
        let mut reading = Self {
            program: Program::default(),
            steps: steps.iter().map(|step| step.name.clone()).collect(),
            things: BTreeMap::new(),
            anchors: Numbers::default(),
            homes: BTreeMap::new(),
            winches: Numbers::default(),
            grounds: Numbers::default(),
            places: Numbers::default(),
            rooms: Numbers::default(),
        };
        for step in &steps {
            let waits = waits(ride, &number, step, &mut BTreeSet::new());
            reading.program.after.push(waits.into_iter().collect());
            reading.program.phase.push(along(step.phase).unwrap_or_default());
        }
        reading.things_of(ride, absent, &steps);
        reading.homes_of(ride, absent);
        reading.locks_of(ride);
        for step in &steps {
            let work = reading.work(ride, absent, step);
            reading.program.work.push(work);
        }
        let any = |phases: &[Phase]| steps.iter().any(|step| phases.contains(&step.phase));
        reading.program.open_after = any(&[Phase::BuildUp]).then_some(2);
        reading.program.comes_home = any(&[Phase::PullDown, Phase::Leave]);
        reading.program.way_back_until = 2;
        reading
    }

    fn thing(&mut self, named: Named, kind: Kind, start: usize) -> usize {
        let next = self.program.things.len();
        let there = *self.things.entry(named).or_insert(next);
        if there == next {
            let thing = Thing {
                kind,
                start,
                states: Vec::new(),
                open: None,
                turns: false,
                live: None,
                blocked: Vec::new(),
                locked: Vec::new(),
                never_home: None,
            };
            self.program.things.push(thing);
        }
        there
    }

    fn things_of(&mut self, ride: &Ride, absent: &BTreeSet<&str>, steps: &[&Step]) {
        // Bodies first, so that what carries one has a number.
        for body in &ride.bodies {
            self.thing(Named::Body(body.name.clone()), Kind::Body, UNTOLD);
        }
        for support in &ride.supports {
            self.thing(Named::Leg(support.name.clone()), Kind::Leg, 0);
        }
        for circuit in &ride.circuits {
            let there =
                self.thing(Named::Switch(circuit.name.clone()), Kind::Switch, switched(SwitchState::Off));
            self.program.things[there].never_home = Some(switched(SwitchState::On));
            if let Some(zone) = &circuit.zone {
                let ground = self.grounds.of(zone);
                self.program.things[there].live = Some((switched(SwitchState::On), ground));
            }
        }
        for switch in &ride.switches {
            let start = switch.on_the_road.map_or(UNTOLD, switched);
            let there = self.thing(Named::Switch(switch.name.clone()), Kind::Switch, start);
            self.program.things[there].open = switch.when_open.map(switched);
        }
        let turned_at =
            ride.turntable.as_ref().and_then(|turntable| turntable.on_the_road).map_or(UNTOLD, turned);
        if let Some(turntable) = &ride.turntable {
            let there = self.thing(Named::Turntable, Kind::Turntable, turned_at);
            self.program.things[there].open = turntable.when_open.map(turned);
        }
        for step in steps {
            let winch = step.winch.as_deref().unwrap_or(ONE_WINCH).to_owned();
            let needs = |of: &dyn Fn(&tober_book::Need) -> bool| step.needs.iter().any(of);
            let switches = step.switches.iter().map(|change| &change.switch);
            for name in switches.chain(step.needs.iter().filter_map(|need| need.switch.as_ref())) {
                self.thing(Named::Switch(name.clone()), Kind::Switch, UNTOLD);
            }
            let hauls = matches!(step.lift, Some(Lift::Winch(_))) || step.anchor.is_some();
            if step.line_on.is_some()
                || step.line_off.is_some()
                || hauls
                || needs(&|need| need.line.is_some())
            {
                self.thing(Named::Line(winch.clone()), Kind::Line, NOTHING);
            }
            if step.anchor.is_some() || needs(&|need| need.anchor.is_some()) {
                self.thing(Named::Anchor(winch), Kind::Anchor, UNTOLD);
            }
            if step.turns_to.is_some() || needs(&|need| need.turned_to.is_some()) {
                self.thing(Named::Turntable, Kind::Turntable, turned_at);
            }
        }
        for body in ride.bodies.iter().filter(|body| !absent.contains(body.name.as_str())) {
            self.body(body, absent);
        }
        for body in ride.bodies.iter().filter(|body| !absent.contains(body.name.as_str())) {
            let there = self.things[&Named::Body(body.name.clone())];
            for (state, place) in body.placements.iter().enumerate() {
                self.program.things[there].states[state].beside = self.at(ride, absent, &place.between);
            }
        }
        for leg in &ride.supports {
            let there = self.things[&Named::Leg(leg.name.clone())];
            self.program.things[there].blocked = self.at(ride, absent, &leg.blocked_by);
        }
    }

    /// Bodies that are there, and their placements.
    fn at(&self, ride: &Ride, absent: &BTreeSet<&str>, of: &[BodyAt]) -> Vec<(usize, usize)> {
        let there = of.iter().filter(|at| !absent.contains(at.body.as_str()));
        let number = |at: &BodyAt| {
            let body = self.things.get(&Named::Body(at.body.clone())).copied()?;
            Some((body, Self::placement(ride, &at.body, &at.at)))
        };
        there.filter_map(number).collect()
    }

    fn body(&mut self, body: &Body, absent: &BTreeSet<&str>) {
        let states = body.placements.iter().enumerate().map(|(at, place)| {
            let spot = body.placements.iter().position(|other| other.cg == place.cg).unwrap_or(at);
            let carrier = place.carried_by.as_ref().or(body.carried_by.as_ref());
            let without = carrier.is_some_and(|name| absent.contains(name.as_str()));
            let carrier = carrier.and_then(|name| self.things.get(&Named::Body(name.clone())).copied());
            let lies = body.placements.iter().position(|other| {
                let turned = (other.heading, other.raised, other.rolled);
                other.cg == place.cg && turned == (place.heading, place.raised, place.rolled)
            });
            State {
                spot,
                lies: lies.unwrap_or(at),
                carrier,
                on_line: place.on_the_line == Some(true),
                room: place.spot.as_ref().map(|name| self.rooms.of(name)),
                without,
                ..State::default()
            }
        });
        let states: Vec<State> = states.collect();
        let called = |name: &str| body.placements.iter().position(|place| place.name == name);
        let start = called("road").or((!body.placements.is_empty()).then_some(0));
        let there = self.things[&Named::Body(body.name.clone())];
        let thing = &mut self.program.things[there];
        thing.start = start.unwrap_or(UNTOLD);
        thing.open = called("open");
        thing.turns = body.on_turntable == Some(true);
        thing.states = states;
    }

    fn homes_of(&mut self, ride: &Ride, absent: &BTreeSet<&str>) {
        for fixing in ride.fixings.iter().filter(|fixing| here(fixing, absent)) {
            let told = fixing.homes.iter().any(|home| home.on_the_road.is_some());
            for home in &fixing.homes {
                let start = match home.on_the_road {
                    Some(there) => Some(whole(there)),
                    // What is said of other homes leaves this one empty; where there is but one, all are in it.
                    None if told => Some(0),
                    None if fixing.homes.len() == 1 => Some(whole(fixing.count)),
                    None => None,
                };
                let key = (fixing.name.clone(), home.name.clone());
                if self.homes.contains_key(&key) {
                    continue;
                }
                self.homes.insert(key, self.program.homes.len());
                let idle = home.idle == Some(true);
                let lets_go = matches!(fixing.kind, FixingKind::Prop | FixingKind::Chock);
                self.program.homes.push(Home { start, holds: whole(home.holds), idle, lets_go });
            }
        }
        for body in ride.bodies.iter().filter(|body| !absent.contains(body.name.as_str())) {
            let there = self.things[&Named::Body(body.name.clone())];
            for (state, place) in body.placements.iter().enumerate() {
                for holder in &place.held_by {
                    let fixing = ride.fixings.iter().find(|fixing| fixing.name == holder.fixing);
                    self.program.things[there].states[state].without |=
                        fixing.is_some_and(|fixing| !here(fixing, absent));
                    let Some(home) = self.home(&holder.fixing, &holder.home) else { continue };
                    let count = holder.count.map_or(self.program.homes[home].holds, whole);
                    self.program.things[there].states[state].held.push((home, count));
                }
            }
        }
    }

    /// What locks the turntable.
    fn locks_of(&mut self, ride: &Ride) {
        let locks = ride.turntable.iter().flat_map(|turntable| &turntable.locked_by);
        let homes: Vec<usize> = locks.filter_map(|lock| self.home(&lock.fixing, &lock.home)).collect();
        if let Some(&there) = self.things.get(&Named::Turntable) {
            self.program.things[there].locked = homes;
        }
    }

    /// The number of a home.
    pub fn home(&self, fixing: &str, home: &str) -> Option<usize> {
        self.homes.get(&(fixing.to_owned(), home.to_owned())).copied()
    }

    /// The number of a placement of a body.
    fn placement(ride: &Ride, body: &str, place: &str) -> usize {
        let body = ride.bodies.iter().find(|there| there.name == body);
        let state = body.and_then(|body| body.placements.iter().position(|there| there.name == place));
        state.unwrap_or(UNTOLD)
    }

    fn line_state(&self, body: &str) -> usize {
        self.things.get(&Named::Body(body.to_owned())).map_or(UNTOLD, |body| body + 1)
    }

    fn work(&mut self, ride: &Ride, absent: &BTreeSet<&str>, step: &Step) -> Work {
        let mut work = Work { for_good: step.not_undone.is_some(), ..Work::default() };
        let there = |name: &str| !absent.contains(name);
        let mut change = |thing: Option<&usize>, from: Option<usize>, to: usize| {
            work.changes.extend(thing.map(|&thing| Change { thing, from, to }));
        };
        for moved in step.moves.iter().filter(|moved| there(&moved.body)) {
            let state = |place: &str| Self::placement(ride, &moved.body, place);
            change(
                self.things.get(&Named::Body(moved.body.clone())),
                Some(state(&moved.from)),
                state(&moved.to),
            );
        }
        for name in &step.sets {
            change(self.things.get(&Named::Leg(name.clone())), Some(0), 1);
        }
        for name in &step.takes_away {
            change(self.things.get(&Named::Leg(name.clone())), Some(1), 0);
        }
        for switch in &step.switches {
            change(self.things.get(&Named::Switch(switch.switch.clone())), None, switched(switch.to));
        }
        if let Some(to) = step.turns_to {
            change(self.things.get(&Named::Turntable), None, turned(to));
        }
        let winch = step.winch.as_deref().unwrap_or(ONE_WINCH).to_owned();
        if let Some(anchor) = &step.anchor {
            let at = self.anchors.of(anchor);
            change(self.things.get(&Named::Anchor(winch.clone())), None, at);
        }
        let line = self.things.get(&Named::Line(winch.clone())).copied();
        let (on, off) = (step.line_on.as_deref(), step.line_off.as_deref());
        if on.is_some() || off.is_some() {
            // Before the step the line is on what it comes off; on and off the same body, it is on nothing before and after.
            let within = on == off;
            let from = off.filter(|_| !within).map_or(NOTHING, |body| self.line_state(body));
            let to = on.filter(|_| !within).map_or(NOTHING, |body| self.line_state(body));
            change(line.as_ref(), Some(from), to);
        }
        for need in &step.needs {
            let state = match () {
                () if need.body.is_some() => {
                    need.body.as_deref().filter(|body| there(body)).zip(need.at.as_deref()).and_then(
                        |(body, at)| {
                            let thing = self.things.get(&Named::Body(body.to_owned()))?;
                            Some((*thing, Self::placement(ride, body, at)))
                        },
                    )
                }
                () if need.switch.is_some() => {
                    need.switch.clone().zip(need.is).and_then(|(switch, is)| {
                        Some((*self.things.get(&Named::Switch(switch))?, switched(is)))
                    })
                }
                () if need.support.is_some() => {
                    need.support.clone().and_then(|leg| Some((*self.things.get(&Named::Leg(leg))?, 1)))
                }
                () if need.line.is_some() => line.zip(need.line.as_deref().map(|body| self.line_state(body))),
                () if need.turned_to.is_some() => {
                    self.things.get(&Named::Turntable).copied().zip(need.turned_to.map(turned))
                }
                () => need.anchor.as_deref().and_then(|anchor| {
                    let at = self.anchors.of(anchor);
                    Some((*self.things.get(&Named::Anchor(winch.clone()))?, at))
                }),
            };
            work.needs.extend(state);
            if let (Some(fixing), Some(home)) = (&need.fixing, &need.home)
                && let Some(home) = self.home(fixing, home)
            {
                let count = need.count.map_or(self.program.homes[home].holds, whole);
                work.least.push((home, count));
            }
        }
        for pins in &step.pins {
            if let (Some(from), Some(to)) =
                (self.home(&pins.fixing, &pins.from), self.home(&pins.fixing, &pins.to))
            {
                work.pins.push((from, to, whole(pins.count)));
            }
        }
        let lift = match &step.lift {
            Some(Lift::Winch(lift)) => Some(lift.as_ref()),
            _ => None,
        };
        if on.is_some() || off.is_some() || step.anchor.is_some() || lift.is_some() {
            work.winch = Some(self.winches.of(&winch));
        }
        let lifted = lift.filter(|lift| there(&lift.body));
        work.lifts =
            line.zip(lifted.and_then(|lift| self.things.get(&Named::Body(lift.body.clone())).copied()));
        work.moves_winch = line.filter(|_| step.anchor.is_some());
        work.alone_at = step.place_for_one.iter().map(|name| self.places.of(name)).collect();
        work.clear = step.keep_clear.as_ref().map(|ground| self.grounds.of(ground));
        work.works_in = step.works_in.iter().map(|ground| self.grounds.of(ground)).collect();
        work.round = step
            .keep_clear_at
            .zip(step.keep_clear_radius)
            .map(|(at, radius)| ([at.along.as_m(), at.across.as_m()], radius.as_m()));
        work
    }
}

fn here(fixing: &Fixing, absent: &BTreeSet<&str>) -> bool {
    !fixing.only_with.iter().any(|body| absent.contains(body.as_str()))
}

fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}
