//! A claim that is not true, or has been changed, does not pass.

use crate::random::{book, ride};
use std::collections::BTreeSet;
use tober_book::Ride;
use tober_plan::again;
use tober_procedure::{Claim, Cure, Refutation, Statement, Verdict, prove};

/// How many rides are made.
const RIDES: u64 = 60;

/// Every ride with its claims, one of which has been changed. `change` returns whether it could.
fn each(change: impl Fn(&mut Claim) -> bool) -> Vec<(u64, usize, usize)> {
    let mut all = Vec::new();
    for seed in 0..RIDES {
        let Some(ride) = ride(&book(seed)) else { continue };
        let claims = prove(&ride, &BTreeSet::new()).claims;
        for number in 0..claims.len() {
            let mut changed = claims.clone();
            if change(&mut changed[number]) {
                all.push((seed, number, contradictions(&ride, &changed)));
            }
        }
    }
    all
}

fn contradictions(ride: &Ride, claims: &[Claim]) -> usize {
    again(ride, &BTreeSet::new(), claims).contradictions.len()
}

/// All are refused, and there are enough of them.
fn refused(all: &[(u64, usize, usize)], enough: usize) {
    let passed: Vec<_> = all.iter().filter(|(.., found)| *found == 0).collect();
    assert!(all.len() >= enough, "only {} were tried", all.len());
    assert!(passed.is_empty(), "{} of {} passed: {passed:?}", passed.len(), all.len());
}

fn refuted(claim: &mut Claim) -> Option<&mut Refutation> {
    match &mut claim.verdict {
        // What is said in words only is listed as not checked.
        Verdict::Refuted(refutation) if !matches!(claim.said, Statement::Order | Statement::Words) => {
            Some(refutation)
        }
        _ => None,
    }
}

#[test]
fn refuse_a_false_claim_said_to_be_proved() {
    refused(
        &each(|claim| {
            let was = refuted(claim).is_some();
            if was {
                claim.verdict = Verdict::Proved;
            }
            was
        }),
        100,
    );
}

#[test]
fn refuse_a_story_without_its_end() {
    // Nothing begins, so nothing begins in a wrong state.
    refused(
        &each(|claim| {
            let begins = matches!(claim.said, Statement::Begins { .. });
            begins && refuted(claim).is_some_and(|story| story.begun.pop().is_some())
        }),
        50,
    );
}

#[test]
fn refuse_a_story_in_an_order_that_the_book_does_not_admit() {
    refused(
        &each(|claim| {
            // The step that arrives comes first in every order.
            refuted(claim).is_some_and(|story| {
                let last = story.done.len().saturating_sub(1);
                if last > 0 {
                    story.done.swap(0, last);
                }
                last > 0
            })
        }),
        50,
    );
}

#[test]
fn refuse_a_cure_with_a_rule_to_spare() {
    refused(
        &each(|claim| {
            refuted(claim).is_some_and(|story| match &mut story.cure {
                // Once more the same rule: without either of the two the other cures.
                Cure::Rules { rules, .. } => {
                    rules.push(rules[0].clone());
                    true
                }
                _ => false,
            })
        }),
        50,
    );
}

#[test]
fn refuse_a_cure_that_lacks_a_rule() {
    refused(
        &each(|claim| {
            refuted(claim).is_some_and(|story| match &mut story.cure {
                Cure::Rules { rules, .. } if rules.len() > 1 => rules.pop().is_some(),
                _ => false,
            })
        }),
        20,
    );
}

#[test]
fn refuse_no_cure_where_one_rule_cures() {
    refused(
        &each(|claim| {
            refuted(claim).is_some_and(|story| {
                let one = matches!(&story.cure, Cure::Rules { rules, .. } if rules.len() == 1);
                if one {
                    story.cure = Cure::NoOrder;
                }
                one
            })
        }),
        50,
    );
}

#[test]
fn refuse_a_list_of_claims_that_leaves_one_out() {
    let mut tried = 0;
    for seed in 0..RIDES {
        let Some(ride) = ride(&book(seed)) else { continue };
        let claims = prove(&ride, &BTreeSet::new()).claims;
        for (number, claim) in claims.iter().enumerate() {
            let twins = claims.iter().filter(|other| other.said == claim.said).count();
            let unsaid = matches!(claim.said, Statement::Order | Statement::Words);
            if twins > 1 || unsaid || seed % 10 > 0 {
                continue;
            }
            let mut fewer = claims.clone();
            fewer.remove(number);
            assert!(
                contradictions(&ride, &fewer) > 0,
                "ride {seed} without claim {number}: {:?}",
                claim.said
            );
            tried += 1;
        }
    }
    assert!(tried > 50, "only {tried} were tried");
}
