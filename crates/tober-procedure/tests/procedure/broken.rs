//! Broken books: one change to a ride that is proved, and what is refused of it, why, and where.

use crate::{rides, see_saw};
use std::collections::BTreeSet;
use tober_book::{Ride, Source, parse_ride};
use tober_procedure::{Claim, Cure, Proofs, Refutation, Rule, prove, runs};

/// One broken book.
struct Broken {
    /// What is wrong with it, in two or three words.
    name: &'static str,
    /// Which book.
    ride: &'static str,
    /// One text in place of another.
    changes: &'static [(&'static str, &'static str)],
    /// The rule it breaks; none where the book is refused as it is read.
    rule: Option<Rule>,
    /// The text at the place in the file where that is said.
    at: &'static str,
    /// Part of what is said.
    says: &'static str,
    /// What else must be said of it, as it follows: a rule and part of what is said.
    also: &'static [(Rule, &'static str)],
}

include!("broken_books.rs");

/// A book with its changes, each of which must be there once to make.
fn text(broken: &Broken) -> String {
    let mut text = if broken.ride == "see-saw" { see_saw::BOOK } else { rides::text(broken.ride) }.to_owned();
    for (from, to) in broken.changes {
        assert!(text.contains(from), "{}: {from:?} is not in the book", broken.name);
        text = text.replacen(from, to, 1);
    }
    text
}

fn proofs(ride: &Ride) -> Proofs {
    prove(ride, &BTreeSet::new())
}

/// A broken book, its text, what was read of it, and what is refuted.
type Told = (&'static Broken, String, Ride, Vec<(Claim, Refutation)>);

/// Every broken book that can be read, with what is refuted of it.
fn refuted() -> Vec<Told> {
    let read = BROKEN.iter().filter(|broken| broken.rule.is_some());
    read.map(|broken| {
        let text = text(broken);
        let ride = rides::read(&text).unwrap_or_else(|wrong| panic!("{}: {wrong:#?}", broken.name));
        let refuted: Vec<_> =
            proofs(&ride).refuted().map(|(claim, refutation)| (claim.clone(), refutation.clone())).collect();
        (broken, text, ride, refuted)
    })
    .collect()
}

#[test]
fn refuse_at_least_40_broken_books() {
    assert!(BROKEN.len() >= 40, "{}", BROKEN.len());
    let names: BTreeSet<&str> = BROKEN.iter().map(|broken| broken.name).collect();
    assert_eq!(names.len(), BROKEN.len(), "each has its own name");
}

#[test]
fn refuse_each_for_its_reason_at_its_place_and_for_nothing_else() {
    let mut wrong = Vec::new();
    for (broken, text, _, refuted) in refuted() {
        let all: Vec<String> = refuted
            .iter()
            .map(|(claim, refutation)| {
                let at = text.get(claim.span.start..claim.span.end).unwrap_or("?");
                format!("{:?} at {at}: {}", claim.rule, refutation.says)
            })
            .collect();
        let found = refuted.iter().any(|(claim, refutation)| {
            Some(claim.rule) == broken.rule
                && text.get(claim.span.start..claim.span.end).is_some_and(|at| at == broken.at)
                && refutation.says.contains(broken.says)
        });
        let listed = |rule: Rule, says: &str| {
            (Some(rule) == broken.rule && says.contains(broken.says))
                || broken.also.iter().any(|(also, part)| *also == rule && says.contains(part))
        };
        let more = refuted.iter().any(|(claim, refutation)| !listed(claim.rule, &refutation.says));
        let idle = broken.also.iter().any(|(also, part)| {
            !refuted.iter().any(|(claim, refutation)| claim.rule == *also && refutation.says.contains(part))
        });
        if !found || more || idle {
            wrong.push(format!(
                "{} (found {found}, more {more}, listed and not said {idle}):\n  {}",
                broken.name,
                all.join("\n  ")
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn refuse_what_cannot_be_read_at_its_place() {
    let mut wrong = Vec::new();
    for broken in BROKEN.iter().filter(|broken| broken.rule.is_none()) {
        let text = text(broken);
        let said = parse_ride(&Source::new("ride.toml", &text)).diagnostics;
        let right = |one: &tober_book::Diagnostic| {
            text.get(one.span.start..one.span.end) == Some(broken.at)
                && format!("{} {}", one.message, one.help).contains(broken.says)
        };
        if said.len() != 1 || !said.iter().all(right) {
            let all: Vec<String> = said
                .iter()
                .map(|one| {
                    format!("at {:?}: {} {}", text.get(one.span.start..one.span.end), one.message, one.help)
                })
                .collect();
            wrong.push(format!("{}:\n  {}", broken.name, all.join("\n  ")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// An order of a story is one that the book admits: each step comes after all it waits for, and what is begun at its end
/// may be begun there.
#[test]
fn law_every_story_is_an_order_that_the_book_admits() {
    let mut told = 0;
    for (broken, _, ride, refuted) in refuted() {
        let absent = BTreeSet::new();
        let Ok(runs) = runs(&ride, &absent) else { continue };
        for (claim, refutation) in &refuted {
            let run = runs.iter().find(|run| run.way == claim.way).expect("the way is there");
            let number =
                |name: &str| run.steps.iter().position(|step| step.name == name).expect("it is a step");
            let mut done = BTreeSet::new();
            for step in &refutation.done {
                let step = number(&step.step);
                assert!(run.order.before(step).iter().all(|first| done.contains(&first)), "{}", broken.name);
                assert!(done.insert(step), "{}: no step is done twice", broken.name);
            }
            for step in refutation.begun.iter().map(|name| number(name)) {
                assert!(run.order.before(step).iter().all(|first| done.contains(&first)), "{}", broken.name);
                assert!(!done.contains(&step), "{}: it is begun and not done", broken.name);
            }
            told += 1;
        }
    }
    assert!(told >= 40, "{told}");
}

/// The claim of a book with more rules, if it is proved there.
fn cured(ride: &Ride, rules: &[(String, String)], claim: &Claim) -> bool {
    let mut ride = ride.clone();
    for (first, waits) in rules {
        let step = ride.steps.iter_mut().find(|step| step.name == *waits).expect("the step is there");
        step.after.push(first.clone());
    }
    let proofs = proofs(&ride);
    let order = proofs.refuted().any(|(claim, _)| claim.rule == Rule::Order);
    let still = proofs.refuted().any(|(other, _)| {
        other.rule == claim.rule
            && other.way == claim.way
            && other.subject == claim.subject
            && other.span == claim.span
    });
    !order && !still
}

#[test]
fn law_every_cure_cures_and_no_rule_of_it_can_be_left_out() {
    let mut cures = 0;
    for (broken, _, ride, refuted) in refuted() {
        for (claim, refutation) in &refuted {
            let Cure::Rules { rules, .. } = &refutation.cure else { continue };
            assert!(cured(&ride, rules, claim), "{}: {rules:?} for {}", broken.name, refutation.says);
            for leave in 0..rules.len() {
                let mut fewer = rules.clone();
                fewer.remove(leave);
                assert!(!cured(&ride, &fewer, claim), "{}: {rules:?} without one", broken.name);
            }
            cures += 1;
        }
    }
    assert!(cures >= 20, "{cures}");
}
