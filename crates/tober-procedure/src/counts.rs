//! Pins, clips, straps: how many are in each home, over every order.
//!
//! What is in a home is what was there on the road and the sum over the steps done of what they bring and take, so its
//! least and greatest over every stage are closures. A step under way has taken what it takes, and not yet brought what
//! it brings, where the least is asked; the other way about where the greatest is.

use crate::claim::{Asked, Matter, Offence, Rule, Test};
use crate::run::Run;
use crate::said::Statement;
use tober_book::{Fixing, Home};
use tober_calc::orders::{Precedence, StepSet, Tally, greatest, least};

/// How many are in a home: what steps bring and take.
///
/// `None` where the book does not say what is where on the road.
pub(crate) fn tally(run: &Run<'_>, fixing: &str, home: &str, lowest: bool) -> Option<Tally> {
    let book = run.ride.fixings.iter().find(|there| there.name == fixing)?;
    let there = book.homes.iter().find(|there| there.name == home)?;
    let start = on_the_road(book, there)?;
    let mut change = vec![0; run.steps.len()];
    let mut peak = vec![None; run.steps.len()];
    for (step, moved) in run.steps.iter().enumerate() {
        let (mut takes, mut brings) = (0_i64, 0_i64);
        for pins in moved.pins.iter().filter(|pins| pins.fixing == fixing) {
            let count = i64::try_from(pins.count).ok()?;
            takes += if pins.from == home { count } else { 0 };
            brings += if pins.to == home { count } else { 0 };
        }
        change[step] = brings - takes;
        if takes != 0 || brings != 0 {
            peak[step] = Some(if lowest { -takes } else { brings });
        }
    }
    Some(Tally { start, change, peak })
}

/// How many are in a home on the road: what the book says there, or none where it says so of another home.
fn on_the_road(fixing: &Fixing, home: &Home) -> Option<i64> {
    let said = fixing.homes.iter().any(|home| home.on_the_road.is_some());
    match (home.on_the_road, said, fixing.homes.len()) {
        (Some(count), ..) => i64::try_from(count).ok(),
        (None, true, _) => Some(0),
        (None, false, 1) => i64::try_from(fixing.count).ok(),
        (None, false, _) => None,
    }
}

/// The fixings that there are.
pub(crate) fn fixings<'a>(run: &'a Run<'a>) -> impl Iterator<Item = &'a Fixing> {
    run.ride
        .fixings
        .iter()
        .filter(|fixing| !fixing.only_with.iter().any(|body| run.absent.contains(body.as_str())))
}

/// Where a step takes from, or brings to, a home.
fn touching<'a>(
    run: &'a Run<'a>,
    fixing: &'a Fixing,
    home: &'a Home,
) -> Option<(usize, &'a tober_book::PinMove)> {
    run.steps.iter().enumerate().find_map(|(step, book)| {
        let pins = book
            .pins
            .iter()
            .find(|pins| pins.fixing == fixing.name && (pins.from == home.name || pins.to == home.name));
        pins.map(|pins| (step, pins))
    })
}

/// No home ever holds fewer than none, or more than it can.
pub(crate) fn bounds<'a>(run: &'a Run<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for fixing in fixings(run) {
        for home in &fixing.homes {
            let Some((_, first)) = touching(run, fixing, home) else { continue };
            let subject = format!("\"{}\" in \"{}\"", fixing.name, home.name);
            let span = first.place.key(if first.from == home.name { "from" } else { "to" });
            let matters = vec![Matter::Home(&fixing.name, &home.name)];
            let said = Statement::Bounds { fixing: fixing.name.clone(), home: home.name.clone() };
            if tally(run, &fixing.name, &home.name, true).is_none() {
                let test =
                    Test::NotKnown(format!("How many of \"{}\" are in each home on the road.", fixing.name));
                all.push(Asked {
                    rule: Rule::Counts,
                    said,
                    subject,
                    span,
                    help: "Write `on-the-road` at its homes.".to_owned(),
                    matters,
                    test,
                });
                continue;
            }
            let low = tally(run, &fixing.name, &home.name, true);
            let high = tally(run, &fixing.name, &home.name, false);
            let holds = i64::try_from(home.holds).unwrap_or(i64::MAX);
            let offends = move |order: &Precedence| {
                let none = StepSet::none(order.len());
                let low = least(order, low.as_ref()?, &none, &none)?;
                if low.value < 0 {
                    let says = format!(
                        "{} of \"{}\" would be taken from \"{}\" that are not there.",
                        -low.value, fixing.name, home.name
                    );
                    return Some(Offence { done: low.stage, begun: low.under_way, says });
                }
                let high = greatest(order, high.as_ref()?, &none, &none)?;
                (high.value > holds).then(|| Offence {
                    says: format!(
                        "{} of \"{}\" would be in \"{}\", which holds {holds}.",
                        high.value, fixing.name, home.name
                    ),
                    done: high.stage,
                    begun: high.under_way,
                })
            };
            all.push(Asked {
                rule: Rule::Counts,
                said,
                subject,
                span,
                help: "Every fixing is always in one home: take it from where it is, and put it where there is room.".to_owned(),
                matters,
                test: Test::Every(Box::new(offends)),
            });
        }
    }
    all
}

/// What a step needs of fixings is in its home when the step begins.
pub(crate) fn needs<'a>(run: &'a Run<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    for (step, book) in run.steps.iter().enumerate() {
        for need in &book.needs {
            let (Some(name), Some(home)) = (need.fixing.as_deref(), need.home.as_deref()) else { continue };
            let Some(fixing) = fixings(run).find(|fixing| fixing.name == name) else { continue };
            let Some(there) = fixing.homes.iter().find(|there| there.name == home) else { continue };
            let wanted = i64::try_from(need.count.unwrap_or(there.holds)).unwrap_or(i64::MAX);
            let subject = format!("\"{}\": {wanted} of \"{name}\" in \"{home}\"", book.name);
            let span = need.place.key("home");
            let matters = vec![Matter::Home(name, home)];
            let test = match tally(run, name, home, true) {
                None => Test::NotKnown(format!("How many of \"{name}\" are in each home on the road.")),
                Some(low) => Test::Every(Box::new(move |order| {
                    let mut open = order.later(step).clone();
                    open.insert(step);
                    let found = least(order, &low, order.before(step), &open)?;
                    let mut begun = found.under_way;
                    begun.insert(step);
                    (found.value < wanted).then(|| Offence {
                        done: found.stage,
                        begun,
                        says: format!(
                            "When \"{}\" begins there may be {} of \"{name}\" in \"{home}\"; there must be {wanted}.",
                            run.step(step).name, found.value
                        ),
                    })
                })),
            };
            let help = format!("The steps that put them in \"{home}\" must come before this one.");
            let said = Statement::Least {
                step: book.name.clone(),
                fixing: name.to_owned(),
                home: home.to_owned(),
                count: wanted,
            };
            all.push(Asked { rule: Rule::Needs, said, subject, span, help, matters, test });
        }
    }
    all
}

/// When everything is done, every home has what it had on the road.
pub(crate) fn home_again<'a>(run: &'a Run<'a>) -> Vec<Asked<'a>> {
    let mut all = Vec::new();
    if !run
        .steps
        .iter()
        .any(|step| matches!(step.phase, tober_book::Phase::PullDown | tober_book::Phase::Leave))
    {
        return all;
    }
    for fixing in fixings(run) {
        for home in &fixing.homes {
            let Some((_, first)) = touching(run, fixing, home) else { continue };
            let Some(low) = tally(run, &fixing.name, &home.name, true) else { continue };
            let over: i64 = low.change.iter().sum();
            let offends = move |order: &Precedence| {
                (over != 0).then(|| Offence {
                    done: StepSet::all(order.len()),
                    begun: StepSet::none(order.len()),
                    says: format!(
                        "When everything is done, \"{}\" has {} of \"{}\"; on the road it has {}.",
                        home.name,
                        low.start + over,
                        fixing.name,
                        low.start
                    ),
                })
            };
            all.push(Asked {
                rule: Rule::Home,
                said: Statement::HomeAgain { fixing: fixing.name.clone(), home: home.name.clone() },
                subject: format!("\"{}\" in \"{}\"", fixing.name, home.name),
                span: first.place.section,
                help: "What the build-up moves, the pull-down brings home.".to_owned(),
                matters: vec![Matter::Home(&fixing.name, &home.name)],
                test: Test::Every(Box::new(offends)),
            });
        }
    }
    all
}
