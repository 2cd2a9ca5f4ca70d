//! A ride of 300 steps and 400 kinds of fixing is proved, and refuted with a short story.

use crate::{large, rides};
use std::collections::BTreeSet;
use tober_procedure::{Cure, Rule, prove};

#[test]
fn hand_300_steps_and_400_fixings_are_proved() {
    let ride = rides::read(&large::book(false)).unwrap_or_else(|wrong| panic!("{wrong:#?}"));
    assert_eq!((ride.steps.len(), ride.fixings.len()), (300, 400));
    let proofs = prove(&ride, &BTreeSet::new());
    assert_eq!(rides::wrong(&proofs), [""; 0]);
    // Two homes for every fixing; every part held by each of its fixings.
    assert_eq!(proofs.proved(Rule::Counts), 800);
    assert_eq!(proofs.proved(Rule::Held), 400);
}

#[test]
fn hand_one_rule_less_in_a_large_ride_is_found_with_its_cure() {
    let ride = rides::read(&large::book(true)).unwrap_or_else(|wrong| panic!("{wrong:#?}"));
    let proofs = prove(&ride, &BTreeSet::new());
    let needs = proofs.refuted().find(|(claim, _)| claim.rule == Rule::Needs).expect("a part is not there");
    assert!(needs.1.says.contains("\"part 13.8\" may be in \"road\""), "{}", needs.1.says);
    // The 18 legs and nothing else are done in the shortest story.
    assert_eq!(needs.1.done.len(), 18);
    let rules = vec![("put 13.8".to_owned(), "put 13.9".to_owned())];
    assert_eq!(needs.1.cure, Cure::Rules { rules, fewest: true });
}
