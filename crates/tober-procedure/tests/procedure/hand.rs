//! One change to a book that is right, and the one thing that it breaks.

use crate::see_saw::proofs;
use tober_procedure::{Cure, Rule, Verdict};

/// The rules that a changed book breaks, with what is said first of each.
fn broken(changes: &[(&str, &str)]) -> Vec<(Rule, String)> {
    proofs(changes).refuted().map(|(claim, refutation)| (claim.rule, refutation.says.clone())).collect()
}

/// What one change breaks, which must be said of one rule only.
fn one(changes: &[(&str, &str)], rule: Rule) -> String {
    let all = broken(changes);
    assert!(!all.is_empty(), "nothing is refuted");
    assert!(all.iter().all(|(of, _)| *of == rule), "{all:?}");
    all[0].1.clone()
}

#[test]
fn hand_the_book_as_it_stands_is_proved() {
    let proofs = proofs(&[]);
    let open: Vec<_> =
        proofs.claims.iter().filter(|claim| !matches!(claim.verdict, Verdict::Proved)).collect();
    assert!(open.is_empty(), "{open:?}");
    for rule in [
        Rule::Moves,
        Rule::Needs,
        Rule::Races,
        Rule::Counts,
        Rule::Held,
        Rule::Winch,
        Rule::Zones,
        Rule::Open,
        Rule::Home,
    ] {
        assert!(proofs.proved(rule) > 0, "nothing is proved of {rule:?}");
    }
}

#[test]
fn hand_the_line_off_before_the_pins_leaves_the_mast_hanging() {
    let all = broken(&[("after = [\"pin mast\"]\nline-off", "after = [\"raise\"]\nline-off")]);
    let hangs = "\"mast\" is in \"open\" and not on the winch line, and 0 of \"mast pin\"";
    assert!(all.iter().any(|(rule, says)| *rule == Rule::Held && says.contains(hangs)), "{all:?}");
    // And the step that rests on the pins would begin without them.
    assert!(all.iter().all(|(rule, _)| matches!(rule, Rule::Held | Rule::Needs)), "{all:?}");
}

#[test]
fn hand_its_story_ends_with_the_line_off_and_its_cure_is_the_rule_taken_out() {
    let proofs = proofs(&[("after = [\"pin mast\"]\nline-off", "after = [\"raise\"]\nline-off")]);
    let held = proofs.refuted().find(|(claim, _)| claim.rule == Rule::Held);
    let (_, refutation) = held.expect("it hangs");
    assert_eq!(refutation.done.last().map(|told| told.step.as_str()), Some("line off"));
    assert!(refutation.done.iter().all(|told| told.step != "pin mast"), "the story is the shortest");
    assert_eq!(
        refutation.cure,
        Cure::Rules { rules: vec![("pin mast".to_owned(), "line off".to_owned())], fewest: true }
    );
}

#[test]
fn hand_raising_without_waiting_for_a_leg_is_refuted() {
    let says = one(
        &[("\"leg rear left\", \"leg rear right\"]\nline-on", "\"leg rear left\"]\nline-on")],
        Rule::Needs,
    );
    assert!(says.contains("leg \"rear right\" may be not set"), "{says}");
}

#[test]
fn hand_a_part_that_moves_from_where_it_is_not() {
    let change = (
        "moves = [{ body = \"beam\", from = \"open\", to = \"road\" }]",
        "moves = [{ body = \"beam\", from = \"road\", to = \"open\" }]",
    );
    let all = broken(&[change]);
    assert!(
        all.iter().any(|(rule, says)| *rule == Rule::Moves && says.contains("\"beam\" may be in \"open\"")),
        "{all:?}"
    );
}

#[test]
fn hand_more_pins_than_there_are() {
    let change = ("to = \"mast head\", count = 1", "to = \"mast head\", count = 2");
    let all = broken(&[change]);
    assert!(
        all.iter()
            .any(|(rule, says)| *rule == Rule::Counts && says.contains("1 of \"beam pin\" would be taken")),
        "{all:?}"
    );
}

#[test]
fn hand_two_lifts_with_one_winch_at_once_race() {
    let all = broken(&[("after = [\"line on\"]\nneeds", "after = [\"leg front\"]\nneeds")]);
    assert!(all.iter().any(|(rule, says)| *rule == Rule::Races && says.contains("the winch")), "{all:?}");
}

#[test]
fn hand_people_at_work_where_the_drive_is_on() {
    let all = broken(&[("switches = [{ switch = \"drive\", to = \"off\" }]", "")]);
    let people = "\"beam off\" has people at work in \"round the mast\" while \"drive\" is on";
    assert!(all[0].0 == Rule::Zones && all[0].1.contains(people), "{all:?}");
    // And it is still on when the ride leaves.
    assert!(all[1].0 == Rule::Home && all[1].1.contains("\"drive\" may be on"), "{all:?}");
    assert_eq!(all.len(), 2);
}

#[test]
fn hand_a_step_that_cannot_be_taken_back_with_the_mast_up_has_no_way_back() {
    let change =
        ("title = \"Pin the mast\"", "title = \"Pin the mast\"\nnot-undone = \"the pins are welded\"");
    let says = one(&[change], Rule::WayBack);
    assert!(says.contains("\"mast\" is in \"open\""), "{says}");
}

#[test]
fn hand_a_step_that_cannot_be_taken_back_on_the_road_is_no_matter() {
    let change = (
        "title = \"Set the front leg\"",
        "title = \"Set the front leg\"\nnot-undone = \"the ground has been dug\"",
    );
    assert!(broken(&[change]).is_empty());
}

#[test]
fn hand_an_idle_home_holds_nothing() {
    let says = one(
        &[(
            "fixing = \"mast pin\", home = \"mast foot\" }]\n\n",
            "fixing = \"mast pin\", home = \"pin tray\", count = 2 }]\n\n",
        )],
        Rule::Held,
    );
    assert!(says.contains("does nothing"), "{says}");
}
