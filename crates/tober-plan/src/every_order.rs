//! What the stages of the work say over every order of the steps, for a visit.
//!
//! Kept apart from [`crate::plan()`]: it rests on the ride book and on what stays at home, not on the readings of a pitch, so it
//! is no part of what a plan is named by.

use crate::aboard::present;
use crate::hold_points::{HoldPoint, hold_points, looked_at, looked_at_again};
use crate::riders::{RidersOff, riders_off};
use std::collections::{BTreeMap, BTreeSet};
use tober_book::{Phase, Ride, Step, Visit};
use tober_calc::finding::{Basis, Finding, Proof, Sense, Subject};
use tober_calc::working::{Provenance, Term, Working, sum};
use tober_procedure::stages::{
    EdgeOver, FootOver, FreeTurntable, Partly, PartlyFoot, Stages, Standing, stages, turntables,
};
use tober_procedure::{Proofs, prove};
use tober_quantity::{Force, Moment, Quantity, Shown};

/// How many of a fixing are in a home when the ride is open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HomeCount {
    /// The fixing.
    pub fixing: String,
    /// The home.
    pub home: String,
    /// The body that it fastens there, if any.
    pub fastens: Option<String>,
    /// On the road.
    pub on_the_road: i64,
    /// When the ride is open.
    pub open: i64,
}

/// What every order of the steps says.
#[derive(Clone, Debug)]
pub struct EveryOrder {
    /// What was proved and refuted of the steps.
    pub proofs: Proofs,
    /// The findings on the stages: loads of the legs, tipping, the turntable.
    pub findings: Vec<Finding>,
    /// The hold points, in the order of the book.
    pub hold_points: Vec<HoldPoint>,
    /// Where every fixing is, on the road and when the ride is open.
    pub homes: Vec<HomeCount>,
    /// The steps that take the most people, and how many.
    pub most_people: Option<(usize, Vec<String>)>,
    /// Every step with the people that it takes, where the book says it.
    pub people: Vec<(String, Option<usize>)>,
    /// The steps of the build-up from which there is no easy way back, each with why.
    pub no_easy_return: Vec<(String, String)>,
    /// What is looked at again, and when.
    pub looked_at: Vec<(&'static str, Vec<String>)>,
    /// How riders get off where it stops with them aboard; none where the book has no seats.
    pub riders_off: Option<RidersOff>,
}

/// What every order of a ride's steps says, without what stays at home. `None` where the book has no steps.
pub fn every_order(ride: &Ride, visit: &Visit) -> Option<EveryOrder> {
    if ride.steps.is_empty() {
        return None;
    }
    let there: BTreeSet<&str> = present(ride, visit).map(|body| body.name.as_str()).collect();
    let absent: BTreeSet<&str> =
        ride.bodies.iter().map(|body| body.name.as_str()).filter(|name| !there.contains(name)).collect();
    let standing = Standing::of_book(ride);
    let mut findings = Vec::new();
    if let Some(stages) = stages(ride, &absent, &standing) {
        of_stages(ride, &stages, &mut findings);
    }
    for turntable in turntables(ride, &absent) {
        findings.push(of_turntable(ride, &turntable));
    }
    let steps =
        || ride.steps.iter().filter(|step| !step.only_with.iter().any(|body| absent.contains(body.as_str())));
    findings.extend(looked_at_again(ride));
    let most = steps().filter_map(|step| step.people).max();
    let with_most = |most: usize| {
        steps().filter(|step| step.people == Some(most)).map(|step| step.name.clone()).collect()
    };
    Some(EveryOrder {
        proofs: prove(ride, &absent),
        findings,
        hold_points: hold_points(ride, &absent, crate::assemble::units(visit)),
        homes: homes(ride, &absent),
        most_people: most.map(|most| (most, with_most(most))),
        people: steps().map(|step| (step.name.clone(), step.people)).collect(),
        no_easy_return: steps()
            .filter(|step| step.phase <= Phase::Prove)
            .filter_map(no_easy_return)
            .collect(),
        looked_at: looked_at(ride),
        riders_off: riders_off(ride, visit),
    })
}

/// Why there is no easy way back once a step is done.
fn no_easy_return(step: &Step) -> Option<(String, String)> {
    let why = match (&step.not_undone, &step.lift) {
        (Some(why), _) => format!("it cannot be taken back: {why}"),
        (None, Some(tober_book::Lift::Winch(lift))) => {
            let wind = step
                .wind_limit
                .as_ref()
                .map(|_| ", in no more than the wind of that lift")
                .unwrap_or_default();
            format!("\"{}\" has to be let down by the winch{wind}", lift.body)
        }
        _ => return None,
    };
    Some((step.name.clone(), why))
}

/// Where every fixing is.
fn homes(ride: &Ride, absent: &BTreeSet<&str>) -> Vec<HomeCount> {
    let mut all = Vec::new();
    let done = |step: &&Step| {
        step.phase <= Phase::Prove && !step.only_with.iter().any(|body| absent.contains(body.as_str()))
    };
    for fixing in ride
        .fixings
        .iter()
        .filter(|fixing| !fixing.only_with.iter().any(|body| absent.contains(body.as_str())))
    {
        for home in &fixing.homes {
            let moved = |to: bool| -> i64 {
                let pins = ride.steps.iter().filter(done).flat_map(|step| &step.pins);
                let there = pins.filter(|pins| {
                    pins.fixing == fixing.name && (if to { &pins.to } else { &pins.from }) == &home.name
                });
                there.map(|pins| i64::try_from(pins.count).unwrap_or(0)).sum()
            };
            let road = i64::try_from(home.on_the_road.unwrap_or(0)).unwrap_or(0);
            all.push(HomeCount {
                fixing: fixing.name.clone(),
                home: home.name.clone(),
                fastens: home.fastens.clone(),
                on_the_road: road,
                open: road + moved(true) - moved(false),
            });
        }
    }
    all
}

const TITLE: &str = "load on the leg, the worst of every stage in every order";

fn of_stages(ride: &Ride, stages: &Stages, findings: &mut Vec<Finding>) {
    let broken: Vec<String> = stages
        .conditions
        .iter()
        .filter_map(|condition| {
            condition.broken.as_ref().map(|why| format!("Whether {}: {why}", condition.words))
        })
        .collect();
    if !broken.is_empty() || stages.feet.is_empty() {
        let missing =
            if broken.is_empty() { "The legs, with their places.".to_owned() } else { broken.join(" ") };
        findings.push(Finding::not_known("stages.load", Subject::Frame, TITLE, &missing));
        return;
    }
    for foot in &stages.feet {
        findings.push(of_foot(ride, foot, stages));
    }
    findings.extend(partly(ride, stages));
    let of = |edge| (edge, None);
    let some = stages.partly.iter().flat_map(|part| part.edges.iter().map(move |edge| (edge, Some(part))));
    let nearest = stages
        .edges
        .iter()
        .map(of)
        .chain(some)
        .max_by(|one, other| one.0.share().total_cmp(&other.0.share()));
    findings.extend(nearest.map(|(edge, part)| of_edge(ride, edge, part)));
    if !stages.not_covered.is_empty() {
        let names: Vec<String> = stages.not_covered.iter().map(|name| format!("\"{name}\"")).collect();
        for finding in findings.iter_mut() {
            finding.notes.push(format!(
                "Not covered, since a leg is set or taken away in the same step, or in too many orders: {}.",
                names.join(", ")
            ));
        }
    }
}

fn of_edge(ride: &Ride, edge: &EdgeOver, part: Option<&Partly>) -> Finding {
    let [one, other] = &edge.between;
    let mut working = Working::new();
    let (mut hold, mut tip) = (Vec::new(), Vec::new());
    let from = || Provenance::chosen("its mass and place at the worse end, with the factors of the set");
    for (number, (body, share)) in edge.over.shares.iter().enumerate() {
        let n = number + 1;
        let meaning = format!("factored moment of {body} over the edge");
        if *share > 0.0 {
            tip.push(working.given(&format!("T{n}"), &meaning, Moment::nm(*share).amount(), from()));
        } else if *share < 0.0 {
            hold.push(working.given(&format!("H{n}"), &meaning, Moment::nm(-share).amount(), from()));
        }
    }
    let tips = total(&mut working, "Mt", "what tips over the edge", tip);
    let holds = total(&mut working, "Mh", "what holds", hold);
    let finding = Finding::against_limit(
        "stages.overturning",
        Subject::Ride,
        "overturning, the worst of every stage in every order, in still air",
        (Moment::nm(tips).amount(), Moment::nm(tips).amount()),
        Moment::nm(holds).amount(),
        Sense::AtMost,
    )
    .proof(Proof::Proved)
    .basis(Basis::Mechanics)
    .working(working)
    .note(format!(
        "Over the edge from \"{one}\" to \"{other}\", {}; factors of {}, the frame leaning as far as it may.",
        edge.over.words(ride),
        edge.factors
    ))
    .note("Wind is in the findings on the stages in the order of the book; this one is without.")
    .never_overridden();
    match part {
        None => finding,
        Some(part) if part.needs_others => finding.note(format!(
            "It then stands on {}: the legs that are set would not hold it without the wheels and the hitch jack.",
            named(&part.legs)
        )),
        Some(part) => finding.note(format!("It then stands on no more than {}.", named(&part.legs))),
    }
}

/// The loads of the legs while not all are set: for each the part in which its bound is greatest.
fn partly(ride: &Ride, stages: &Stages) -> Vec<Finding> {
    let mut worst: BTreeMap<&str, (&PartlyFoot, &Partly)> = BTreeMap::new();
    for part in &stages.partly {
        for foot in &part.feet {
            let best = worst.entry(&foot.name).or_insert((foot, part));
            if foot.bound.value > best.0.bound.value {
                *best = (foot, part);
            }
        }
    }
    worst.into_values().map(|(foot, part)| of_partly(ride, foot, part)).collect()
}

fn of_partly(ride: &Ride, foot: &PartlyFoot, part: &Partly) -> Finding {
    let subject = Subject::Support(foot.name.clone());
    let title = "load on the leg while not all legs are set, no more than this in every order";
    let mut working = Working::new();
    let from = || Provenance::chosen("its mass and place at the worse end");
    let shares = foot.bound.shares.iter().enumerate();
    let terms = shares.map(|(number, (body, share))| {
        let meaning = format!("what {body} adds at most, whatever carries beside the leg");
        let share = Force::n(*share).amount().shown(Shown::Force);
        working.given(&format!("R{}", number + 1), &meaning, share, from())
    });
    let terms: Vec<Term> = terms.collect();
    working.line("Rmax", "no more than this on the leg", sum(terms), Shown::Force);
    let load = |force: f64| Force::n(force.max(0.0)).mass().amount().shown(Shown::Load);
    let band = (load(foot.found.unwrap_or(0.0).min(foot.bound.value)), load(foot.bound.value));
    let finding = match foot.rated {
        Some(rated) => {
            Finding::against_limit("stages.load-partly", subject, title, band, load(rated), Sense::AtMost)
                .basis(Basis::MakersLimit)
        }
        None => {
            Finding::without_limit("stages.load-partly", subject, title, band, "What the leg is rated for.")
        }
    };
    let found = foot.found.map_or("Nothing was found".to_owned(), |found| {
        format!("The most that was found is {}", weight(found))
    });
    finding
        .basis(Basis::Mechanics)
        .proof(Proof::Bounded { bound: weight(foot.bound.value) })
        .working(working)
        .note(format!(
            "With {} set, {}. {found} with nothing on the wheels; the wheels and the hitch jack may take anything.",
            named(&part.feet.iter().map(|foot| foot.name.clone()).collect::<Vec<String>>()),
            foot.bound.words(ride)
        ))
}

/// Newtons as the mass whose weight they are, for a sentence.
fn weight(newtons: f64) -> String {
    format!("{:.2} t", Force::n(newtons).mass().as_t())
}

fn named(names: &[String]) -> String {
    names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<String>>().join(", ")
}

fn total(working: &mut Working, symbol: &str, meaning: &str, terms: Vec<Term>) -> f64 {
    if terms.is_empty() {
        return 0.0;
    }
    working.line(symbol, meaning, sum(terms), Shown::Moment).value()
}

fn of_foot(ride: &Ride, foot: &FootOver, stages: &Stages) -> Finding {
    let subject = Subject::Support(foot.name.clone());
    let most = if stages.all_touch { foot.greatest.value } else { foot.bound };
    let mut working = Working::new();
    let from = || Provenance::chosen("its mass and place at the worse end");
    let terms: Vec<Term> = foot
        .greatest
        .shares
        .iter()
        .enumerate()
        .map(|(number, (body, share))| {
            let meaning = format!("what {body} adds to the leg");
            working.given(
                &format!("R{}", number + 1),
                &meaning,
                Force::n(*share).amount().shown(Shown::Force),
                from(),
            )
        })
        .collect();
    working.line("Rmax", "load of the leg at that stage, all legs touching", sum(terms), Shown::Force);
    let low = Force::n(foot.least.value.max(0.0)).mass().amount().shown(Shown::Load);
    let high = Force::n(most).mass().amount().shown(Shown::Load);
    let mut finding = match foot.rated {
        Some(rated) => {
            let rated = Force::n(rated).mass().amount().shown(Shown::Load);
            Finding::against_limit("stages.load", subject, TITLE, (low, high), rated, Sense::AtMost)
                .basis(Basis::MakersLimit)
        }
        None => {
            Finding::without_limit("stages.load", subject, TITLE, (low, high), "What the leg is rated for.")
        }
    }
    .basis(Basis::Mechanics)
    .working(working)
    .note(format!("The most {}; the least {}.", foot.greatest.words(ride), foot.least.words(ride)));
    finding = if stages.all_touch {
        finding.proof(Proof::Proved)
    } else {
        let found = foot.found.map_or("nothing".to_owned(), weight);
        finding.proof(Proof::Bounded { bound: weight(foot.bound) }).note(format!(
            "A leg comes light in some stage, so this is a bound; the most that was found is {found}."
        ))
    };
    finding.note(
        "Every leg snug and as drawn, riders and wind left out: those are in the loads of the open ride.",
    )
}

fn of_turntable(ride: &Ride, turntable: &FreeTurntable) -> Finding {
    let title = "out of balance while nothing holds what turns, in every order";
    let free = turntable.free.as_ref().map_or(0.0, |free| free.value);
    let band = (Moment::nm(free).amount(), Moment::nm(turntable.free_bound.max(free)).amount());
    let mut finding = match turntable.limit {
        Some(limit) => Finding::against_limit(
            "stages.turntable",
            Subject::Ride,
            title,
            band,
            Moment::nm(limit).amount(),
            Sense::AtMost,
        )
        .basis(Basis::MakersLimit),
        None => Finding::without_limit(
            "stages.turntable",
            Subject::Ride,
            title,
            band,
            "How far it may be out of balance: `[limits] out-of-balance-greatest`.",
        ),
    }
    .basis(Basis::Mechanics)
    .proof(Proof::Bounded { bound: "the greater figure; the lesser was found".to_owned() });
    let place = format!("\"{}\" in \"{}\"", turntable.lock, turntable.home);
    finding = match &turntable.hold_from_to {
        Some((first, last)) => finding.note(format!(
            "Found: {place} must hold it from \"{first}\" to \"{last}\"; without it what turns would be out of balance past the limit, worst {}.",
            turntable.worst.words(ride)
        )),
        None => finding.note(format!(
            "What can hold it is {place}; in the order of the book it is never out of balance past the limit; the worst of every order is {}.",
            turntable.worst.words(ride)
        )),
    };
    if let Some(free) = &turntable.free {
        finding = finding.note(format!("While it may be free the worst is {}.", free.words(ride)));
    }
    finding.never_overridden()
}
