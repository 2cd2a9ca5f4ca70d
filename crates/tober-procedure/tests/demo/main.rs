//! Whether the steps of both demo rides are proved, and what a rule less leads to.

use std::collections::BTreeSet;
use tober_book::{Ride, Source, parse_ride};
use tober_procedure::{Cure, Proofs, Refutation, Rule, Verdict, prove};

fn text(ride: &str) -> String {
    let path = format!("{}/../../demo/{ride}/ride.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("the demo is there")
}

fn book(ride: &str) -> Ride {
    let parsed = parse_ride(&Source::new("ride.toml", &text(ride)));
    let said: Vec<String> = parsed.diagnostics.iter().map(ToString::to_string).collect();
    parsed.value.unwrap_or_else(|| panic!("{}", said.join("\n")))
}

/// The demo without one rule: `step` no longer waits for `first`.
fn without(ride: &str, step: &str, first: &str) -> Proofs {
    let mut book = book(ride);
    let step = book.steps.iter_mut().find(|there| there.name == step).expect("the step is there");
    let before = step.after.len();
    step.after.retain(|name| name != first);
    assert_eq!(step.after.len() + 1, before, "\"{first}\" is waited for");
    prove(&book, &BTreeSet::new())
}

#[test]
fn hand_both_demo_rides_are_proved_whole() {
    for ride in ["lantern", "osier"] {
        let proofs = prove(&book(ride), &BTreeSet::new());
        let open: Vec<_> =
            proofs.claims.iter().filter(|claim| !matches!(claim.verdict, Verdict::Proved)).collect();
        assert!(open.is_empty(), "{ride}: {open:#?}");
        assert!(proofs.claims.len() > 100);
    }
}

#[test]
fn hand_both_demo_rides_have_60_to_90_steps_with_about_8_hold_points() {
    for ride in ["lantern", "osier"] {
        let book = book(ride);
        assert!((60..=90).contains(&book.steps.len()), "{ride}: {}", book.steps.len());
        let holds = book.steps.iter().filter(|step| step.hold_point.is_some()).count();
        assert!((7..=9).contains(&holds), "{ride}: {holds}");
        let cautions = book.steps.iter().filter(|step| !step.cautions.is_empty()).count();
        assert!(cautions >= 8, "{ride}: {cautions}");
    }
}

/// The refutation of a rule that says something, without one `after`; with the steps of its story.
fn told(ride: &str, (step, first): (&str, &str), rule: Rule, says: &str) -> (Refutation, Vec<String>) {
    let proofs = without(ride, step, first);
    let found =
        proofs.refuted().find(|(claim, refutation)| claim.rule == rule && refutation.says.contains(says));
    let all: Vec<_> = proofs.refuted().map(|(claim, refutation)| (claim.rule, &refutation.says)).collect();
    let refutation = found.unwrap_or_else(|| panic!("{all:#?}")).1.clone();
    let story = refutation.done.iter().map(|told| told.step.clone()).collect();
    (refutation, story)
}

fn rule(first: &str, waits: &str) -> Cure {
    Cure::Rules { rules: vec![(first.to_owned(), waits.to_owned())], fewest: true }
}

#[test]
fn hand_lantern_lifted_before_the_line_is_on_hangs_from_nothing() {
    let says = "\"mast\" is in \"open\" and not on the winch line, and 0 of \"mast pin\" in \"mast foot\" hold it: 2 must";
    let (refutation, story) = told("lantern", ("first lift", "winch ready"), Rule::Held, says);
    // The line is never put on in this story, and its end is the lift.
    assert!(!story.contains(&"winch ready".to_owned()), "{story:?}");
    assert_eq!(story.last().map(String::as_str), Some("raise mast"));
    assert_eq!(refutation.cure, rule("winch ready", "raise mast"));
}

#[test]
fn hand_lantern_uncoupled_before_the_chocks_stands_without_them() {
    let says = "there may be 0 of \"wheel chock\" in \"at the wheels\"; there must be 4";
    let (refutation, story) = told("lantern", ("uncouple", "chock"), Rule::Needs, says);
    assert!(!story.contains(&"chock".to_owned()), "{story:?}");
    assert_eq!(refutation.begun, ["uncouple"]);
    assert_eq!(refutation.cure, rule("chock", "uncouple"));
}

#[test]
fn hand_lantern_jacks_taken_out_over_a_leg_that_is_not_set() {
    let says = "leg \"rear left\" may be not set; it must be set";
    let (refutation, story) = told("lantern", ("jacks out", "leg RL"), Rule::Needs, says);
    assert!(story.contains(&"leg RR".to_owned()) && !story.contains(&"leg RL".to_owned()), "{story:?}");
    assert_eq!(refutation.cure, rule("leg RL", "jacks out"));
}

#[test]
fn hand_osier_half_raised_before_the_line_is_on_hangs_from_nothing() {
    let says =
        "\"tower\" is in \"half raised\", where only the winch line holds it, and the line is not on it";
    let (refutation, story) = told("osier", ("cradle free", "winch ready"), Rule::Held, says);
    assert!(!story.contains(&"winch ready".to_owned()), "{story:?}");
    assert_eq!(story.last().map(String::as_str), Some("raise half"));
    assert_eq!(refutation.cure, rule("winch ready", "raise half"));
}

#[test]
fn hand_osier_lifted_while_the_cradle_pins_may_be_in() {
    let says = "there may be 0 of \"cradle pin\" in \"cradle rack\"; there must be 2";
    let (refutation, story) = told("osier", ("first lift", "cradle free"), Rule::Needs, says);
    assert_eq!(refutation.begun, ["first lift"]);
    assert!(!story.contains(&"cradle free".to_owned()), "{story:?}");
    assert_eq!(refutation.cure, rule("cradle free", "first lift"));
}

/// At each stage a step that waits for nothing may be begun, one that waits is told with what is missing, and a step done is done.
#[test]
fn law_what_if_agrees_with_the_order() {
    use tober_calc::orders::StepSet;
    use tober_procedure::{Now, ready, runs, what_if};
    for ride in ["lantern", "osier"] {
        let ride = book(ride);
        let run = runs(&ride, &BTreeSet::new()).expect("they can be ordered").remove(0);
        let none = StepSet::none(run.steps.len());
        let (mut waiting, mut wrong_somewhere) = (0, 0);
        for step in 0..run.steps.len() {
            let before = run.order.before(step).clone();
            assert_eq!(what_if(&run, &before, step), Now::Ready, "{}", run.step(step).name);
            assert!(ready(&run, &before).contains(&step));
            let mut with = before.clone();
            with.insert(step);
            assert_eq!(what_if(&run, &with, step), Now::Done);
            match what_if(&run, &none, step) {
                Now::Ready => assert!(before.is_empty()),
                Now::NotYet { waits_for, wrong } => {
                    assert_eq!(StepSet::from(before.len(), waits_for.iter().copied()), before);
                    assert!(wrong.iter().all(|wrong| !wrong.says.is_empty() && !wrong.help.is_empty()));
                    waiting += 1;
                    wrong_somewhere += usize::from(!wrong.is_empty());
                }
                other => panic!("{other:?}"),
            }
        }
        // Of the others the book tells nothing that is wrong on the road: looking, talking, and parts that are where they start.
        assert!(waiting > 50 && wrong_somewhere >= 20, "{wrong_somewhere} of {waiting}");
        assert_eq!(what_if(&run, &none, run.steps.len()), Now::NoStage);
        let alone = StepSet::from(run.steps.len(), [run.steps.len() - 1]);
        assert_eq!(what_if(&run, &alone, 0), Now::NoStage);
    }
}
