//! Nothing hanging: a body is held by its fixings, or it is on the winch line.
//!
//! A body is in a placement from the step that brings it there to the step that takes it away; within that, it is off
//! the line before the line is put on and after it is taken off. In each of these windows, the least that is in each of
//! its holders' homes is a closure with the window's steps fixed. People hold nothing from one step to the next: what a
//! lock, a strap or a prop can hold, people do not.

use crate::claim::{Asked, Matter, Offence, Rule, Test};
use crate::counts::{fixings, tally};
use crate::run::{ROAD, Run};
use crate::said::Statement;
use crate::state::Tracks;
use crate::track::What;
use tober_book::{Body, Lift, Placement, Span};
use tober_calc::orders::{Precedence, StepSet, Tally, least};

/// A window: what is done in it, and what is not begun.
pub(crate) struct Window {
    done: Vec<usize>,
    open: Vec<usize>,
}

/// The windows in which a body is in a placement and on no line.
pub(crate) fn windows(tracks: &Tracks<'_>, order: &Precedence, body: &str, place: &str) -> Vec<Window> {
    let Some(track) = tracks.get(&What::Body(body)) else { return Vec::new() };
    let mut there = Vec::new();
    if track.start == place {
        there.push(Window { done: Vec::new(), open: track.writes.iter().map(|write| write.step).collect() });
    }
    for write in track.writes.iter().filter(|write| write.to == place) {
        let next =
            track.writes.iter().map(|other| other.step).filter(|&other| order.is_before(write.step, other));
        there.push(Window { done: vec![write.step], open: next.collect() });
    }
    for (what, line) in tracks {
        if !matches!(what, What::Line(_)) {
            continue;
        }
        let on: Vec<usize> =
            line.writes.iter().filter(|write| write.to == body).map(|write| write.step).collect();
        if on.is_empty() {
            continue;
        }
        // Off the line: before it is put on for the first time, and from each step that leaves the line elsewhere, if it is
        // only on another part. Of two such steps with the same to come, the earlier has every stage of the later.
        let next = |off: usize| -> Vec<usize> {
            on.iter().copied().filter(|&on| order.is_before(off, on)).collect()
        };
        let off: Vec<usize> = line
            .writes
            .iter()
            .filter(|write| write.to != body && next(write.step).len() < on.len())
            .map(|write| write.step)
            .collect();
        let moves = |step: usize| track.writes.iter().any(|write| write.step == step);
        let mut free = vec![Window { done: Vec::new(), open: on.clone() }];
        for &at in &off {
            let open = next(at);
            let stands_for =
                |earlier: usize| order.is_before(earlier, at) && next(earlier) == open && !moves(earlier);
            if !off.iter().any(|&earlier| stands_for(earlier)) {
                free.push(Window { done: vec![at], open });
            }
        }
        let both = |one: &Window, other: &Window| Window {
            done: one.done.iter().chain(&other.done).copied().collect(),
            open: one.open.iter().chain(&other.open).copied().collect(),
        };
        // What brought it last and put the line on, and what took the line off last and moved it: each would come after
        // the other.
        let never = |one: &Window, other: &Window| {
            let brought = one.done.first().filter(|&brought| on.contains(brought) && moves(*brought));
            let taken_off = other.done.first().filter(|&&taken| moves(taken));
            brought.zip(taken_off).is_some_and(|(brought, taken)| brought != taken)
        };
        let pairs = there.iter().flat_map(|one| free.iter().map(move |other| (one, other)));
        there =
            pairs.filter(|(one, other)| !never(one, other)).map(|(one, other)| both(one, other)).collect();
    }
    there
}

/// The steps done, and those not begun, at every stage of a window.
pub(crate) fn closed(order: &Precedence, window: &Window) -> (StepSet, StepSet) {
    let len = order.len();
    let done = window
        .done
        .iter()
        .fold(StepSet::from(len, window.done.iter().copied()), |done, &step| done.union(order.before(step)));
    let open = window
        .open
        .iter()
        .fold(StepSet::from(len, window.open.iter().copied()), |open, &step| open.union(order.later(step)));
    (done, open)
}

/// A stage of a window in which fewer than `wanted` are there.
fn too_few(order: &Precedence, low: &Tally, window: &Window, wanted: i64) -> Option<(i64, StepSet, StepSet)> {
    let (done, open) = closed(order, window);
    if done.intersects(&open) {
        return None;
    }
    let found = least(order, low, &done, &open)?;
    (found.value < wanted).then_some((found.value, found.stage, found.under_way))
}

/// A body that is in a placement only while it hangs on the winch line is on it there.
fn only_on_the_line<'a>(tracks: &'a Tracks<'a>, body: &'a Body, placement: &'a Placement) -> Asked<'a> {
    let offends = move |order: &Precedence| {
        let nothing = Tally { start: 0, change: vec![0; order.len()], peak: Vec::new() };
        windows(tracks, order, &body.name, &placement.name)
            .iter()
            .filter_map(|window| too_few(order, &nothing, window, 1))
            .min_by_key(|(_, stage, _)| stage.count())
            .map(|(_, done, begun)| Offence {
                done,
                begun,
                says: format!(
                    "\"{}\" is in \"{}\", where only the winch line holds it, and the line is not on it.",
                    body.name, placement.name
                ),
            })
    };
    let lines = tracks.keys().filter(|what| matches!(what, What::Line(_))).map(|&what| Matter::State(what));
    Asked {
        rule: Rule::Held,
        said: Statement::OnTheLine { body: body.name.clone(), place: placement.name.clone() },
        subject: format!("\"{}\" in \"{}\" by the winch line", body.name, placement.name),
        span: placement.place.key("on-the-line"),
        help: "The line is put on before it is brought there, and taken off after it has gone on.".to_owned(),
        matters: [Matter::State(What::Body(&body.name))].into_iter().chain(lines).collect(),
        test: Test::Every(Box::new(offends)),
    }
}

/// A body comes to a placement, or begins in it, that something holds or carries which stays at home.
fn without<'a>(
    tracks: &'a Tracks<'a>,
    body: &'a Body,
    placement: &'a Placement,
    span: Span,
    says: String,
) -> Option<Asked<'a>> {
    let track = tracks.get(&What::Body(&body.name))?;
    let offends = move |order: &Precedence| {
        let none = StepSet::none(order.len());
        let possible = track.possible(order, &none, &none);
        let there = possible.into_iter().find(|possible| possible.state == placement.name)?;
        Some(Offence { done: there.done, begun: none, says: says.clone() })
    };
    Some(Asked {
        rule: Rule::Held,
        said: Statement::Never { body: body.name.clone(), place: placement.name.clone() },
        subject: format!("\"{}\" in \"{}\" without what stays at home", body.name, placement.name),
        span,
        help: "Leave it at home too, or write where it goes without it.".to_owned(),
        matters: vec![Matter::State(What::Body(&body.name))],
        test: Test::Every(Box::new(offends)),
    })
}

/// Nothing hangs.
pub(crate) fn held<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for body in run.bodies() {
        for placement in &body.placements {
            all.extend(
                (placement.on_the_line == Some(true)).then(|| only_on_the_line(tracks, body, placement)),
            );
            let carrier = run.carrier(&body.name, &placement.name);
            if let Some(carrier) = carrier.filter(|carrier| run.absent.contains(carrier)) {
                let says = format!(
                    "\"{}\" is carried in \"{}\" by \"{carrier}\", which stays at home.",
                    body.name, placement.name
                );
                all.extend(without(tracks, body, placement, placement.place.key("name"), says));
            }
            for holder in &placement.held_by {
                let Some(fixing) = run.ride.fixings.iter().find(|fixing| fixing.name == holder.fixing) else {
                    continue;
                };
                if !fixings(run).any(|there| there.name == fixing.name) {
                    let says = format!(
                        "\"{}\" is held in \"{}\" by \"{}\", and they stay at home.",
                        body.name, placement.name, fixing.name
                    );
                    all.extend(without(tracks, body, placement, holder.place.key("fixing"), says));
                    continue;
                }
                let Some(home) = fixing.homes.iter().find(|home| home.name == holder.home) else { continue };
                let wanted = i64::try_from(holder.count.unwrap_or(home.holds)).unwrap_or(i64::MAX);
                let span = holder.place.key("home");
                let subject =
                    format!("\"{}\" in \"{}\" by {wanted} of \"{}\"", body.name, placement.name, fixing.name);
                let mut matters =
                    vec![Matter::State(What::Body(&body.name)), Matter::Home(&fixing.name, &home.name)];
                matters.extend(
                    tracks
                        .keys()
                        .filter(|what| matches!(what, What::Line(_)))
                        .map(|&what| Matter::State(what)),
                );
                let help = format!(
                    "It is held by its fixings before the winch line comes off or hands let go, and not let go before something else has it: a lock, a strap, a prop or the line, not people. Home \"{}\" must have {wanted}.",
                    home.name
                );
                let said = Statement::Held {
                    body: body.name.clone(),
                    place: placement.name.clone(),
                    fixing: fixing.name.clone(),
                    home: home.name.clone(),
                    count: wanted,
                };
                if home.idle == Some(true) {
                    let says = format!(
                        "A fixing in \"{}\" does nothing, so it does not hold \"{}\".",
                        home.name, body.name
                    );
                    let offends = move |order: &Precedence| {
                        let none = StepSet::none(order.len());
                        Some(Offence { done: none.clone(), begun: none, says: says.clone() })
                    };
                    all.push(Asked {
                        rule: Rule::Held,
                        said,
                        subject,
                        span,
                        help,
                        matters,
                        test: Test::Every(Box::new(offends)),
                    });
                    continue;
                }
                let test = match tally(run, &fixing.name, &home.name, true) {
                    None => Test::NotKnown(format!(
                        "How many of \"{}\" are in each home on the road.",
                        fixing.name
                    )),
                    Some(low) => Test::Every(Box::new(move |order| {
                        windows(tracks, order, &body.name, &placement.name)
                            .iter()
                            .filter_map(|window| too_few(order, &low, window, wanted))
                            .min_by_key(|(_, stage, begun)| stage.count() + begun.count())
                            .map(|(there, done, begun)| Offence {
                                done,
                                begun,
                                says: format!(
                                    "\"{}\" is in \"{}\" and not on the winch line, and {} of \"{}\" in \"{}\" hold it: {wanted} must.",
                                    body.name, placement.name, there.max(0), fixing.name, home.name
                                ),
                            })
                    })),
                };
                all.push(Asked { rule: Rule::Held, said, subject, span, help, matters, test });
            }
        }
    }
    for book in &run.steps {
        let Some(lift) = &book.lift else { continue };
        for moved in
            book.moves.iter().filter(|moved| moved.to != ROAD && !run.absent.contains(moved.body.as_str()))
        {
            let lifted = match lift {
                Lift::Winch(winch) => winch.body == moved.body,
                Lift::Hand(_) => true,
            };
            let told = run.placement(&moved.body, &moved.to).is_some_and(|place| {
                !place.held_by.is_empty() || place.rests_on.is_some() || place.on_the_line == Some(true)
            });
            if lifted && !told {
                all.push(Asked {
                    rule: Rule::Held,
                    said: Statement::Words,
                    subject: format!("\"{}\" in \"{}\"", moved.body, moved.to),
                    span: moved.place.key("to"),
                    help: "Write `held-by`, `rests-on` or `on-the-line` at the placement.".to_owned(),
                    matters: Vec::new(),
                    test: Test::NotKnown(format!("What holds \"{}\" in \"{}\".", moved.body, moved.to)),
                });
            }
        }
    }
    all
}
