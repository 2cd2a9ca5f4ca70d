//! Three invented rides of unlike shape, which between them say everything that a ride book has to be able to say.

use std::collections::BTreeSet;
use tober_book::{Ride, Source, parse_ride};
use tober_procedure::{Proofs, Rule, Verdict, prove};

/// Their texts, by name.
pub const RIDES: [(&str, &str); 3] = [
    ("tower", include_str!("../data/tower.ride.toml")),
    ("slide", include_str!("../data/slide.ride.toml")),
    ("swallows", include_str!("../data/swallows.ride.toml")),
];

/// The text of one.
pub fn text(name: &str) -> &'static str {
    RIDES.iter().find(|(ride, _)| *ride == name).expect("there is such a ride").1
}

/// A book that is read, or what was said against it.
pub fn read(text: &str) -> Result<Ride, Vec<tober_book::Diagnostic>> {
    let parsed = parse_ride(&Source::new("ride.toml", text));
    parsed.into_result()
}

fn prove_without(name: &str, absent: &[&str]) -> Proofs {
    let ride = read(text(name)).unwrap_or_else(|wrong| panic!("{name}: {wrong:#?}"));
    prove(&ride, &absent.iter().copied().collect::<BTreeSet<_>>())
}

/// What is refuted or not known, one line each.
pub fn wrong(proofs: &Proofs) -> Vec<String> {
    let line = |claim: &tober_procedure::Claim| match &claim.verdict {
        Verdict::Proved => None,
        Verdict::Refuted(refutation) => Some(format!("{:?}: {}", claim.rule, refutation.says)),
        Verdict::NotKnown(why) => Some(format!("{:?} not known: {why}", claim.rule)),
    };
    proofs.claims.iter().filter_map(line).collect()
}

#[test]
fn hand_every_ride_says_that_it_is_invented_and_is_proved_whole() {
    for (name, text) in RIDES {
        let ride = read(text).unwrap_or_else(|wrong| panic!("{name}: {wrong:#?}"));
        assert!(ride.about.invented.is_some(), "{name}");
        assert!((15..=45).contains(&ride.steps.len()), "{name}: {}", ride.steps.len());
        assert_eq!(wrong(&prove_without(name, &[])), [""; 0], "{name}");
    }
}

#[test]
fn hand_between_them_the_rides_ask_every_rule() {
    let all: Vec<Proofs> = RIDES.iter().map(|(name, _)| prove_without(name, &[])).collect();
    for rule in Rule::ALL.into_iter().filter(|rule| *rule != Rule::WayBack) {
        assert!(all.iter().any(|proofs| proofs.proved(rule) > 0), "nothing is proved of {rule:?}");
    }
}

/// The steps of a ride that are proved without some bodies, and how many there were with them.
#[test]
fn hand_swallows_is_proved_without_its_canopy_too() {
    // The fence waits for the canopy; without it, for what the canopy waited for.
    let proofs = prove_without("swallows", &["canopy", "canopy mast"]);
    assert_eq!(wrong(&proofs), [""; 0]);
    assert!(proofs.claims.iter().all(|claim| !claim.subject.contains("canopy")));
    let with = prove_without("swallows", &[]);
    assert!(with.claims.iter().any(|claim| claim.subject.contains("canopy pin")));
    assert!(with.claims.len() > proofs.claims.len());
}

#[test]
fn hand_the_canopy_without_its_mast_is_carried_by_what_stays_at_home() {
    let proofs = prove_without("swallows", &["canopy mast"]);
    let says = wrong(&proofs);
    assert!(
        says.iter().any(|says| says.starts_with("Open") && says.contains("\"canopy\" may be in \"road\"")),
        "{says:?}"
    );
}

#[test]
fn hand_an_arm_whose_centre_stays_at_home_hangs() {
    let says = wrong(&prove_without("swallows", &["centre"]));
    let hangs = "Held: \"arm 1\" is carried in \"road\" by \"centre\", which stays at home.";
    assert!(says.iter().any(|says| says == hangs), "{says:?}");
}
