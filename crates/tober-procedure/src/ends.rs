//! The ride is open when riders come, and everything is on the road when it leaves; and the way back.

use crate::claim::{Asked, Matter, Offence, Rule, Test};
use crate::run::{OPEN, Run};
use crate::said::Statement;
use crate::state::Tracks;
use crate::track::{NOTHING, Track, UNKNOWN, What, angle, switched};
use tober_book::{Phase, Span};
use tober_calc::orders::{Precedence, StepSet};

/// Everything that is not in a set of steps.
fn others(done: &StepSet) -> StepSet {
    StepSet::from(done.len(), (0..done.len()).filter(|&step| !done.contains(step)))
}

/// Where the book speaks of a body.
fn span_of(run: &Run<'_>, body: &str) -> Span {
    run.ride.body(body).map_or(Span { start: 0, end: 0 }, |body| body.place.key("name"))
}

/// When everything up to the empty test is done, every body is in its placement "open".
pub(crate) fn open<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    if !run.steps.iter().any(|step| step.phase == Phase::BuildUp) {
        return all;
    }
    let done = run.up_to(Phase::Prove);
    for (&what, track) in tracks {
        let What::Body(body) = what else {
            all.extend(switched_open(run, what, track, &done));
            continue;
        };
        let Some(open) = run.placement(body, OPEN) else { continue };
        let done = done.clone();
        let offends = move |order: &Precedence| {
            let same = |place: &str| run.placement(body, place).is_some_and(|there| there.cg == open.cg);
            let wrong = track
                .possible(order, &done, &others(&done))
                .into_iter()
                .find(|possible| !same(&possible.state))?;
            Some(Offence {
                done: wrong.done,
                begun: StepSet::none(order.len()),
                says: format!(
                    "When everything up to the empty test is done, \"{body}\" may be in \"{}\" and not in \"{OPEN}\".",
                    wrong.state
                ),
            })
        };
        all.push(Asked {
            rule: Rule::Open,
            said: Statement::Open { body: body.to_owned() },
            subject: format!("\"{body}\""),
            span: track.writes.last().map_or_else(|| span_of(run, body), |write| write.span),
            help: format!("A step of the build-up brings it to \"{OPEN}\"."),
            matters: vec![Matter::State(what)],
            test: Test::Every(Box::new(offends)),
        });
    }
    all
}

/// What is switched, locked or turned is as the book wants it when riders come.
fn switched_open<'a>(
    run: &'a Run<'a>,
    what: What<'a>,
    track: &'a Track,
    done: &StepSet,
) -> Option<Asked<'a>> {
    let (wanted, span) = match what {
        What::Switch(name) => {
            let switch = run.ride.switches.iter().find(|switch| switch.name == name)?;
            (switched(switch.when_open?).to_owned(), switch.place.key("when-open"))
        }
        What::Turned => {
            let turntable = run.ride.turntable.as_ref()?;
            (angle(turntable.when_open?), turntable.place.key("when-open"))
        }
        _ => return None,
    };
    let help = format!("A step of the build-up leaves it {}.", what.state(&wanted));
    let subject = what.words();
    let said = Statement::OpenIs { thing: what.into(), is: wanted.clone() };
    let done = done.clone();
    let offends = move |order: &Precedence| {
        let possible = track.possible(order, &done, &others(&done));
        let wrong = possible.into_iter().find(|possible| possible.state != wanted)?;
        Some(Offence {
            done: wrong.done,
            begun: StepSet::none(order.len()),
            says: format!(
                "When everything up to the empty test is done, {} may be {}; for riders it must be {}.",
                what.words(),
                what.state(&wrong.state),
                what.state(&wanted)
            ),
        })
    };
    let matters = vec![Matter::State(what)];
    Some(Asked { rule: Rule::Open, said, subject, span, help, matters, test: Test::Every(Box::new(offends)) })
}

/// When everything is done, every body, leg and line is as it was on the road; no circuit is on.
pub(crate) fn home<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    if !run.steps.iter().any(|step| matches!(step.phase, Phase::PullDown | Phase::Leave)) {
        return all;
    }
    for (&what, track) in tracks {
        let circuit =
            matches!(what, What::Switch(name) if run.ride.circuits.iter().any(|one| one.name == name));
        if matches!(what, What::Anchor(_)) || track.start == UNKNOWN || track.writes.is_empty() {
            continue;
        }
        // A circuit may be locked or unplugged as well as off.
        let wrong = move |state: &str| if circuit { state == "on" } else { state != track.start };
        let offends = move |order: &Precedence| {
            let done = StepSet::all(order.len());
            let nothing = StepSet::none(order.len());
            let wrong =
                track.possible(order, &done, &nothing).into_iter().find(|possible| wrong(&possible.state))?;
            Some(Offence {
                done,
                begun: nothing,
                says: format!(
                    "When everything is done, {} may be {}; on the road it is {}.",
                    what.words(),
                    what.state(&wrong.state),
                    what.state(&track.start)
                ),
            })
        };
        all.push(Asked {
            rule: Rule::Home,
            said: if circuit {
                Statement::HomeNot { thing: what.into(), is: "on".to_owned() }
            } else {
                Statement::Home(what.into())
            },
            subject: what.words(),
            span: track.writes.last().map_or(Span { start: 0, end: 0 }, |write| write.span),
            help: "A step of the pull-down brings it home.".to_owned(),
            matters: vec![Matter::State(what)],
            test: Test::Every(Box::new(offends)),
        });
    }
    all
}

/// From every stage of the build-up there is a way back to the road, or to a stage at which nothing is raised or open.
///
/// Taking back the last step whose followers are all not done leads from one stage to another that this crate has
/// proved, so the way back exists but where a step cannot be taken back. The stage that such a step leaves for good is
/// the least one that holds it; what stands there must be able to stay.
pub(crate) fn way_back<'a>(run: &'a Run<'a>, tracks: &'a Tracks<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for (step, book) in run.steps.iter().enumerate() {
        let Some(why) = book.not_undone.as_deref() else { continue };
        if book.phase > Phase::Prove {
            continue;
        }
        let offends = move |order: &Precedence| {
            let mut done = order.before(step).clone();
            done.insert(step);
            let rest = others(&done);
            let away = tracks.iter().find_map(|(&what, track)| {
                let rests = match what {
                    What::Body(_) => track.start.as_str(),
                    What::Line(_) => NOTHING,
                    _ => return None,
                };
                let found = track
                    .possible(order, &done, &rest)
                    .into_iter()
                    .find(|possible| possible.state != rests)?;
                Some(format!("{} is {}", what.words(), what.state(&found.state)))
            })?;
            Some(Offence {
                says: format!(
                    "\"{}\" cannot be taken back ({why}), and then {away}: there is no way back to the road from there.",
                    run.step(step).name
                ),
                done,
                begun: StepSet::none(order.len()),
            })
        };
        all.push(Asked {
            rule: Rule::WayBack,
            said: Statement::WayBack { step: book.name.clone() },
            subject: format!("from \"{}\"", book.name),
            span: book.place.key("not-undone"),
            help: "Do it before anything is raised or opened, or make it a step that can be taken back."
                .to_owned(),
            matters: tracks
                .keys()
                .filter(|what| matches!(what, What::Body(_)))
                .map(|&what| Matter::State(what))
                .collect(),
            test: Test::Every(Box::new(offends)),
        });
    }
    all
}
