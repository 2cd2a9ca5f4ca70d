//! What must be claimed of a procedure, made from its numbers alone.

use super::offence::moved;
use super::{Change, Claim, Kind, NOTHING, Program, Shared, UNTOLD, Work};
use std::collections::{BTreeMap, BTreeSet};

/// How a step touches something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum How {
    /// So that nobody else may.
    Alone,
    /// It leaves it in a state.
    Leaves(usize),
    /// It takes out of it, or has people there.
    Takes,
    /// It brings into it.
    Brings,
    /// It wants it clear of people.
    Clear,
}

/// May two steps that touch one thing so not be under way at once?
pub fn bars(one: How, other: How) -> bool {
    match (one, other) {
        (How::Takes, How::Takes) | (How::Brings, How::Brings) => false,
        (How::Leaves(one), How::Leaves(other)) => one != other,
        _ => true,
    }
}

/// The steps that touch each thing, home, winch, place and ground, and how.
pub fn touched(program: &Program) -> BTreeMap<Shared, BTreeSet<(usize, How)>> {
    let loads = loads(program);
    let mut all: BTreeMap<Shared, BTreeSet<(usize, How)>> = BTreeMap::new();
    for (step, work) in program.work.iter().enumerate() {
        let mut touch = |shared: Shared, how: How| {
            all.entry(shared).or_default().insert((step, how));
        };
        for change in &work.changes {
            match program.things.get(change.thing).map(|thing| thing.kind) {
                Some(Kind::Body) => {
                    touch(Shared::Thing(change.thing), How::Alone);
                    for &load in loads.get(&change.thing).into_iter().flatten() {
                        touch(Shared::Thing(load), How::Alone);
                    }
                }
                Some(Kind::Leg) => touch(Shared::Thing(change.thing), How::Alone),
                Some(Kind::Switch) => touch(Shared::Thing(change.thing), How::Leaves(change.to)),
                Some(Kind::Turntable) => {
                    touch(Shared::Thing(change.thing), How::Alone);
                    for (body, thing) in program.things.iter().enumerate() {
                        let moved = work.changes.iter().any(|change| change.thing == body);
                        if thing.kind == Kind::Body && thing.turns && !moved {
                            touch(Shared::Thing(body), How::Alone);
                        }
                    }
                }
                // A line and where its winch stands are the winch, below.
                Some(Kind::Line | Kind::Anchor) | None => {}
            }
        }
        for &(from, to, _) in &work.pins {
            touch(Shared::Home(from), How::Takes);
            touch(Shared::Home(to), How::Brings);
        }
        work.winch.into_iter().for_each(|winch| touch(Shared::Winch(winch), How::Alone));
        work.alone_at.iter().for_each(|&place| touch(Shared::Place(place), How::Alone));
        work.clear.into_iter().for_each(|ground| touch(Shared::Ground(ground), How::Clear));
        for &ground in work.works_in.iter().filter(|&&ground| work.clear != Some(ground)) {
            touch(Shared::Ground(ground), How::Takes);
        }
    }
    all
}

/// What each body may have on it, directly or on what it carries, in any state it is ever brought to.
fn loads(program: &Program) -> BTreeMap<usize, BTreeSet<usize>> {
    let mut on: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    for (body, thing) in program.things.iter().enumerate().filter(|(_, thing)| thing.kind == Kind::Body) {
        let changes = program.work.iter().flat_map(|work| &work.changes);
        let brought = changes.filter(|change| change.thing == body).map(|change| change.to);
        for state in brought.chain([thing.start]) {
            if let Some(carrier) = thing.states.get(state).and_then(|state| state.carrier) {
                on.entry(carrier).or_default().insert(body);
            }
        }
    }
    // Add what is on what is on it until nothing more comes.
    loop {
        let mut more: Vec<(usize, usize)> = Vec::new();
        for (&carrier, bodies) in &on {
            for body in bodies {
                let above = on.get(body).into_iter().flatten();
                more.extend(
                    above.filter(|&&top| top != carrier && !bodies.contains(&top)).map(|&top| (carrier, top)),
                );
            }
        }
        if more.is_empty() {
            return on;
        }
        for (carrier, body) in more {
            on.entry(carrier).or_default().insert(body);
        }
    }
}

/// Every claim that must be made of a program: one that is missing has been forgotten by the prover, and one that is not
/// among these has been misread.
pub fn asked(program: &Program) -> BTreeSet<Claim> {
    let mut all = BTreeSet::new();
    for (step, work) in program.work.iter().enumerate() {
        of_step(program, step, work, &mut all);
    }
    for (shared, list) in touched(program) {
        // It takes two steps to race.
        if list.iter().map(|&(step, _)| step).collect::<BTreeSet<_>>().len() > 1 {
            all.insert(Claim::Race(shared));
        }
    }
    if program.work.iter().any(|work| work.round.is_some()) {
        all.insert(Claim::Overlap);
    }
    let mut moved_homes = BTreeSet::new();
    for &(from, to, _) in program.work.iter().flat_map(|work| &work.pins) {
        moved_homes.extend([from, to]);
    }
    for &home in &moved_homes {
        all.insert(Claim::Bounds { home });
        let known = program.homes.get(home).is_some_and(|home| home.start.is_some());
        if program.comes_home && known {
            all.insert(Claim::HomeAgain { home });
        }
    }
    for (number, thing) in program.things.iter().enumerate() {
        for (state, there) in thing.states.iter().enumerate() {
            for &(home, count) in &there.held {
                all.insert(Claim::Held { body: number, state, home, count });
            }
            if there.without {
                all.insert(Claim::Never { thing: number, state });
            }
            if there.on_line {
                all.insert(Claim::OnTheLine { body: number, state });
            }
        }
        if let (Some(_), Some(state)) = (program.open_after, thing.open) {
            all.insert(match thing.kind {
                Kind::Body => Claim::Open { body: number },
                _ => Claim::OpenIs { thing: number, state },
            });
        }
        let written = program.work.iter().flat_map(|work| &work.changes).any(|change| change.thing == number);
        let returns = match thing.kind {
            Kind::Body | Kind::Leg | Kind::Line => true,
            Kind::Switch | Kind::Turntable => thing.start != UNTOLD,
            Kind::Anchor => false,
        };
        if program.comes_home && written && returns {
            all.insert(match thing.never_home {
                Some(state) => Claim::HomeNot { thing: number, state },
                None => Claim::Home { thing: number },
            });
        }
    }
    all
}

fn of_step(program: &Program, step: usize, work: &Work, all: &mut BTreeSet<Claim>) {
    let written =
        |thing: usize| program.work.iter().flat_map(|work| &work.changes).any(|change| change.thing == thing);
    for change in &work.changes {
        free(program, step, change, all);
        if let Some(state) = change.from {
            all.insert(Claim::Begins { step, thing: change.thing, state });
        }
        let (Some(thing), Some(from)) = (program.things.get(change.thing), change.from) else { continue };
        let spot = |state: usize| thing.states.get(state).map(|state| state.spot);
        if thing.kind != Kind::Body || spot(from) == spot(change.to) {
            continue;
        }
        // What may be on it must go with it.
        for (load, other) in program.things.iter().enumerate() {
            if work.changes.iter().any(|change| change.thing == load) {
                continue;
            }
            let on = |state: &usize| other.states[*state].carrier == Some(change.thing);
            let states: Vec<usize> = (0..other.states.len()).filter(on).collect();
            if !states.is_empty() {
                all.insert(Claim::BeginsNot { step, thing: load, states });
            }
        }
    }
    all.extend(work.needs.iter().map(|&(thing, state)| Claim::Begins { step, thing, state }));
    all.extend(work.least.iter().map(|&(home, count)| Claim::Least { step, home, count }));
    if let Some((line, body)) = work.lifts {
        // A step that puts the line on and takes it off again asks only that the line is free before.
        let in_itself = work
            .changes
            .iter()
            .any(|change| change.thing == line && change.from == Some(NOTHING) && change.to == NOTHING);
        if !in_itself {
            all.insert(Claim::Begins { step, thing: line, state: body + 1 });
        }
        if work.clear.is_some_and(|ground| work.works_in.contains(&ground)) {
            all.insert(Claim::NobodyUnder { step });
        }
    }
    if let Some(line) = work.moves_winch.filter(|&line| written(line)) {
        all.insert(Claim::Begins { step, thing: line, state: NOTHING });
    }
    for &ground in &work.works_in {
        for (number, thing) in program.things.iter().enumerate() {
            if let Some((on, _)) = thing.live.filter(|&(_, zone)| zone == ground) {
                all.insert(Claim::BeginsNot { step, thing: number, states: vec![on] });
            }
        }
    }
    if work.for_good && program.phase.get(step).is_some_and(|&phase| phase <= program.way_back_until) {
        all.insert(Claim::WayBack { step });
    }
}

/// What must be so that one thing is free to move in a step.
fn free(program: &Program, step: usize, change: &Change, all: &mut BTreeSet<Claim>) {
    let Some(thing) = program.things.get(change.thing) else { return };
    let changes = &program.work[step].changes;
    // What the step itself moves away is not in the way.
    let mut gone = |body: usize, state: usize| {
        if !changes.iter().any(|also| also.thing == body && also.from == Some(state)) {
            all.insert(Claim::BeginsNot { step, thing: body, states: vec![state] });
        }
    };
    thing.blocked.iter().for_each(|&(body, state)| gone(body, state));
    let places = change.from.and_then(|from| thing.states.get(from)).zip(thing.states.get(change.to));
    for (number, other) in program.things.iter().enumerate() {
        for (state, there) in other.states.iter().enumerate() {
            let closes = change.from.is_some_and(|from| there.beside.contains(&(change.thing, from)));
            let fills = number != change.thing
                && there.room.is_some()
                && places.is_some_and(|(_, to)| to.room == there.room);
            if closes || fills {
                gone(number, state);
            }
        }
    }
    let mut out = |home: usize| {
        if program.homes[home].start.is_some() {
            all.insert(Claim::Most { step, home, count: moved(program, step, home).0 });
        }
    };
    thing.locked.iter().for_each(|&home| out(home));
    let Some((from, to)) = places else { return };
    let carried_along = from.carrier.is_some_and(|on| changes.iter().any(|also| also.thing == on));
    if from.lies != to.lies && !carried_along {
        for &(home, _) in &from.held {
            let holds = |state: &super::State| state.held.iter().any(|&(other, _)| other == home);
            let shared = program
                .things
                .iter()
                .enumerate()
                .any(|(number, other)| number != change.thing && other.states.iter().any(holds));
            let there = &program.homes[home];
            if !holds(to) && !shared && !there.idle && !there.lets_go {
                out(home);
            }
        }
    }
    for &(body, state) in &to.beside {
        if !changes.iter().any(|also| also.thing == body && also.to == state) {
            all.insert(Claim::Begins { step, thing: body, state });
        }
    }
}
