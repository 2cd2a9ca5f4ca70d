//! What moves is free to move: nothing still fixes it, nothing is in its way, and the place that it comes to is free.
//!
//! A home is taken to fix one body where no other body is held by it: where several share it, how many are there does
//! not say whose they are.

use crate::claim::{Asked, Matter, Offence, Rule, Test};
use crate::counts::{fixings, tally};
use crate::run::Run;
use crate::said::Statement;
use crate::state::Tracks;
use crate::track::What;
use tober_book::{BodyAt, FixingKind, Holder, Move, Placement, Span, Step};
use tober_calc::orders::{Precedence, StepSet, greatest};

/// A step, with its number.
type Numbered<'a> = (usize, &'a Step);

/// Everything that moves is free to move.
pub(crate) fn free<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for (number, &book) in run.steps.iter().enumerate() {
        let step = (number, book);
        for moved in book.moves.iter().filter(|moved| !run.absent.contains(moved.body.as_str())) {
            unfixed(run, step, moved, &mut all);
            between(run, tracks, step, moved, &mut all);
            still_between(run, tracks, step, moved, &mut all);
            room(run, tracks, step, moved, &mut all);
        }
        for (key, names) in [("sets", &book.sets), ("takes-away", &book.takes_away)] {
            for leg in names.iter().filter_map(|name| run.ride.support(name)) {
                for rack in &leg.blocked_by {
                    let what = format!("leg \"{}\"", leg.name);
                    let help = "What lies on it or in front of it comes off before it moves.";
                    all.extend(in_the_way(run, tracks, step, rack, &what, book.place.key(key), help));
                }
            }
        }
        if let (Some(_), Some(turntable)) = (book.turns_to, &run.ride.turntable) {
            for lock in &turntable.locked_by {
                let what = ("the turntable", What::Turned, book.place.key("turns-to"));
                all.extend(fixed_by(run, step, lock, what));
            }
        }
    }
    all
}

/// Whether two placements are one place, lying the same way.
fn same(one: &Placement, other: &Placement) -> bool {
    let lies = |placement: &Placement| (placement.heading, placement.raised, placement.rolled);
    one.cg == other.cg && lies(one) == lies(other)
}

/// What held a body where it was, and does not where it goes, is out before it moves; or the step takes it out.
fn unfixed<'a>(run: &'a Run<'a>, step: Numbered<'a>, moved: &'a Move, all: &mut Vec<Asked<'a>>) {
    let place = |name: &str| run.placement(&moved.body, name);
    let (Some(from), Some(to)) = (place(&moved.from), place(&moved.to)) else { return };
    if same(from, to) {
        return;
    }
    // What is fixed to its carrier goes with it.
    let goes_with = run.carrier(&moved.body, &moved.from);
    let there = |also: &&Move| !run.absent.contains(also.body.as_str());
    if step.1.moves.iter().filter(there).any(|also| Some(also.body.as_str()) == goes_with) {
        return;
    }
    for holder in &from.held_by {
        let is = |other: &Holder| other.fixing == holder.fixing && other.home == holder.home;
        // A pin about which it turns stays in.
        let turns_about = to.held_by.iter().any(is);
        let shared = run
            .bodies()
            .filter(|body| body.name != moved.body)
            .any(|body| body.placements.iter().any(|placement| placement.held_by.iter().any(is)));
        // A prop or a chock carries, and lets go of what is lifted off it; in an idle home nothing is fixed.
        let lets_go =
            run.ride.fixings.iter().find(|fixing| fixing.name == holder.fixing).is_none_or(|fixing| {
                matches!(fixing.kind, FixingKind::Prop | FixingKind::Chock)
                    || fixing.homes.iter().any(|home| home.name == holder.home && home.idle == Some(true))
            });
        if !turns_about && !shared && !lets_go {
            let what = (moved.body.as_str(), What::Body(&moved.body), moved.place.key("from"));
            all.extend(fixed_by(run, step, holder, what));
        }
    }
}

/// No fixing of a home is in when a step begins, but what it takes out itself.
fn fixed_by<'a>(
    run: &'a Run<'a>,
    (number, book): Numbered<'a>,
    holder: &'a Holder,
    (name, what, span): (&'a str, What<'a>, Span),
) -> Option<Asked<'a>> {
    // What stays at home fixes nothing.
    fixings(run).find(|fixing| fixing.name == holder.fixing)?;
    let high = tally(run, &holder.fixing, &holder.home, false)?;
    let own: usize = book
        .pins
        .iter()
        .filter(|pins| pins.fixing == holder.fixing && pins.from == holder.home)
        .map(|pins| pins.count)
        .sum();
    let own = i64::try_from(own).unwrap_or(i64::MAX);
    let offends = move |order: &Precedence| {
        let mut open = order.later(number).clone();
        open.insert(number);
        let most = greatest(order, &high, order.before(number), &open)?;
        let mut begun = most.under_way;
        begun.insert(number);
        (most.value > own).then(|| Offence {
            done: most.stage,
            begun,
            says: format!(
                "When \"{}\" moves {}, {} of \"{}\" may still be in \"{}\" and fix it.",
                book.name,
                what.words(),
                most.value - own,
                holder.fixing,
                holder.home
            ),
        })
    };
    Some(Asked {
        rule: Rule::Free,
        said: Statement::Most {
            step: book.name.clone(),
            fixing: holder.fixing.clone(),
            home: holder.home.clone(),
            count: own,
        },
        subject: format!("{name} free of \"{}\" in \"{}\" for \"{}\"", holder.fixing, holder.home, book.name),
        span,
        help: format!("A step that takes them out of \"{}\" comes before.", holder.home),
        matters: vec![Matter::Home(&holder.fixing, &holder.home), Matter::State(what)],
        test: Test::Every(Box::new(offends)),
    })
}

/// That a body is not in a placement when a step begins.
fn gone(step: &Step, body: &str, place: &str) -> Statement {
    let thing = What::Body(body).into();
    Statement::BeginsNot { step: step.name.clone(), thing, are: vec![place.to_owned()] }
}

/// A body is not in a placement when a step begins, unless the step moves it out.
fn in_the_way<'a>(
    run: &'a Run<'a>,
    tracks: &'a Tracks<'a>,
    (number, book): Numbered<'a>,
    other: &'a BodyAt,
    what: &str,
    span: Span,
    help: &str,
) -> Option<Asked<'a>> {
    let moves_it = book.moves.iter().any(|moved| moved.body == other.body && moved.from == other.at);
    if moves_it || run.absent.contains(other.body.as_str()) {
        return None;
    }
    let track = tracks.get(&What::Body(&other.body))?;
    let says = format!(
        "When \"{}\" moves {what}, \"{}\" may be in \"{}\" and in its way.",
        book.name, other.body, other.at
    );
    let offends = move |order: &Precedence| {
        let wrong = track.before(order, number).into_iter().find(|possible| possible.state == other.at)?;
        Some(Offence { done: wrong.done, begun: StepSet::from(order.len(), [number]), says: says.clone() })
    };
    Some(Asked {
        rule: Rule::Free,
        said: gone(book, &other.body, &other.at),
        subject: format!("\"{}\" out of the way of \"{}\"", other.body, book.name),
        span,
        help: help.to_owned(),
        matters: vec![Matter::State(What::Body(&other.body))],
        test: Test::Every(Box::new(offends)),
    })
}

/// What closes a gap comes when its neighbours are in place.
fn between<'a>(
    run: &'a Run<'a>,
    tracks: &'a Tracks<'a>,
    (number, book): Numbered<'a>,
    moved: &'a Move,
    all: &mut Vec<Asked<'a>>,
) {
    let Some(to) = run.placement(&moved.body, &moved.to) else { return };
    for beside in &to.between {
        let with = book.moves.iter().any(|also| also.body == beside.body && also.to == beside.at);
        if with || run.absent.contains(beside.body.as_str()) {
            continue;
        }
        let Some(track) = tracks.get(&What::Body(&beside.body)) else { continue };
        let offends = move |order: &Precedence| {
            let before = track.before(order, number);
            let wrong = before.into_iter().find(|possible| possible.state != beside.at)?;
            Some(Offence {
                done: wrong.done,
                begun: StepSet::from(order.len(), [number]),
                says: format!(
                    "When \"{}\" brings \"{}\" to \"{}\", \"{}\" may be in \"{}\"; it must be in \"{}\" first.",
                    book.name, moved.body, moved.to, beside.body, wrong.state, beside.at
                ),
            })
        };
        all.push(Asked {
            rule: Rule::Free,
            said: Statement::Begins {
                step: book.name.clone(),
                thing: What::Body(&beside.body).into(),
                is: beside.at.clone(),
            },
            subject: format!("\"{}\" beside \"{}\" in \"{}\"", beside.body, moved.body, book.name),
            span: moved.place.key("to"),
            help: "What closes a ring or a gap comes last, and goes first.".to_owned(),
            matters: vec![Matter::State(What::Body(&beside.body)), Matter::State(What::Body(&moved.body))],
            test: Test::Every(Box::new(offends)),
        });
    }
}

/// A neighbour goes when what stands between has gone.
fn still_between<'a>(
    run: &'a Run<'a>,
    tracks: &'a Tracks<'a>,
    step: Numbered<'a>,
    moved: &'a Move,
    all: &mut Vec<Asked<'a>>,
) {
    for body in run.bodies() {
        for placement in &body.placements {
            let beside = |at: &BodyAt| at.body == moved.body && at.at == moved.from;
            if !placement.between.iter().any(beside) {
                continue;
            }
            let (number, book) = step;
            if book.moves.iter().any(|also| also.body == body.name && also.from == placement.name) {
                continue;
            }
            let Some(track) = tracks.get(&What::Body(&body.name)) else { continue };
            let offends = move |order: &Precedence| {
                let before = track.before(order, number);
                let wrong = before.into_iter().find(|possible| possible.state == placement.name)?;
                Some(Offence {
                    done: wrong.done,
                    begun: StepSet::from(order.len(), [number]),
                    says: format!(
                        "When \"{}\" takes \"{}\" away, \"{}\" may be in \"{}\", which it stands beside.",
                        book.name, moved.body, body.name, placement.name
                    ),
                })
            };
            all.push(Asked {
                rule: Rule::Free,
                said: gone(book, &body.name, &placement.name),
                subject: format!("\"{}\" gone before \"{}\"", body.name, book.name),
                span: moved.place.key("from"),
                help: "What closes a ring or a gap comes last, and goes first.".to_owned(),
                matters: vec![Matter::State(What::Body(&body.name)), Matter::State(What::Body(&moved.body))],
                test: Test::Every(Box::new(offends)),
            });
        }
    }
}

/// Where there is room for one body there is no other.
fn room<'a>(
    run: &'a Run<'a>,
    tracks: &'a Tracks<'a>,
    (number, book): Numbered<'a>,
    moved: &'a Move,
    all: &mut Vec<Asked<'a>>,
) {
    let spot = |placement: &'a Placement| placement.spot.as_deref();
    let Some(wanted) = run.placement(&moved.body, &moved.to).and_then(spot) else { return };
    for body in run.bodies().filter(|body| body.name != moved.body) {
        for there in body.placements.iter().filter(|placement| spot(placement) == Some(wanted)) {
            if book.moves.iter().any(|also| also.body == body.name && also.from == there.name) {
                continue;
            }
            let Some(track) = tracks.get(&What::Body(&body.name)) else { continue };
            let offends = move |order: &Precedence| {
                let before = track.before(order, number);
                let wrong = before.into_iter().find(|possible| possible.state == there.name)?;
                Some(Offence {
                    done: wrong.done,
                    begun: StepSet::from(order.len(), [number]),
                    says: format!(
                        "When \"{}\" brings \"{}\" to \"{wanted}\", \"{}\" may be there: it has room for one.",
                        book.name, moved.body, body.name
                    ),
                })
            };
            all.push(Asked {
                rule: Rule::Free,
                said: gone(book, &body.name, &there.name),
                subject: format!("room for \"{}\" in \"{wanted}\" in \"{}\"", moved.body, book.name),
                span: moved.place.key("to"),
                help: "What is there goes first, or this goes elsewhere.".to_owned(),
                matters: vec![Matter::State(What::Body(&body.name)), Matter::State(What::Body(&moved.body))],
                test: Test::Every(Box::new(offends)),
            });
        }
    }
}
