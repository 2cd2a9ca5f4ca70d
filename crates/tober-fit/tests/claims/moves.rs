//! Choices that need something done first: sound ones pass, and each broken one is refused for its reason.

use crate::reading::{claim, file, folder, question};
use tober_fit::packing::{Claim, Dug, Moves, Question, Refusal, Stood, check, check_moved, keeps_apart};
use tober_quantity::TenthMm;

fn six_legs() -> (Question, Claim) {
    let case = file(&folder("sound/packing/six_legs.json"));
    (question(&case["question"]), claim(&case["claim"]))
}

fn codes(result: Result<tober_fit::packing::Verdict, Vec<Refusal>>) -> Vec<&'static str> {
    result.map_or_else(|refusals| refusals.iter().map(Refusal::code).collect(), |_| Vec::new())
}

/// The ground of one foot is 30 mm too high; dug in by 30 mm it is as it was in the sound claim.
#[test]
fn hand_a_foot_that_is_dug_in() {
    let (mut question, claim) = six_legs();
    question.supports[2].ground = question.supports[2].ground + TenthMm(300);
    assert_eq!(codes(check(&question, &claim)), ["not-planar"]);
    let dug = |support, by, most| Moves {
        dug: vec![Dug { support, by: TenthMm(by), most: TenthMm(most) }],
        ..Moves::default()
    };
    let after = |moves: &Moves| codes(check_moved(&question, moves, &claim));
    assert!(after(&dug(2, 300, 2000)).is_empty());
    assert_eq!(after(&dug(2, 300, 299)), ["claim-absurd"]);
    assert_eq!(after(&dug(2, 0, 2000)), ["claim-absurd"]);
    assert_eq!(after(&dug(2, -300, 2000)), ["claim-absurd"]);
    assert_eq!(after(&dug(9, 300, 2000)), ["claim-absurd"]);
    assert!(after(&dug(1, 300, 2000)).contains(&"not-planar"), "another foot does not do");
}

/// Every foot in a triangle of its own, moved by 1 m and 2 m, over ground that is level round each.
fn moved(question: &Question) -> Moves {
    let stood = question.supports.iter().map(|s| {
        let at = (s.x + TenthMm(10_000), s.y + TenthMm(20_000));
        let corner = |x: i64, y: i64| (at.0 + TenthMm(x), at.1 + TenthMm(y), s.ground);
        Stood { at, corners: [corner(-500, -500), corner(500, -500), corner(0, 700)], ground: s.ground }
    });
    Moves { stood: stood.collect(), ..Moves::default() }
}

#[test]
fn hand_a_trailer_that_is_shifted() {
    let (question, claim) = six_legs();
    // The question's own ground is that of before, and does not matter.
    let mut before = question.clone();
    before.supports.iter_mut().for_each(|s| s.ground = TenthMm(9_000));
    let good = moved(&question);
    assert!(codes(check_moved(&before, &good, &claim)).is_empty());
    // A slope in one triangle: 100 over 1000 tenths gives 50 at its foot in the middle of that side.
    let mut sloped = good.clone();
    sloped.stood[1].corners[0].2 = sloped.stood[1].ground - TenthMm(60);
    assert_eq!(codes(check_moved(&before, &sloped, &claim)), ["not-on-survey"]);
    let mut high = good.clone();
    high.stood[3].ground = high.stood[3].ground + TenthMm(10);
    assert!(codes(check_moved(&before, &high, &claim)).contains(&"not-on-survey"));
    let mut outside = good.clone();
    outside.stood[4].corners.iter_mut().for_each(|corner| corner.0 = corner.0 + TenthMm(2_000));
    assert_eq!(codes(check_moved(&before, &outside, &claim)), ["not-on-survey"]);
    let mut flat = good.clone();
    flat.stood[4].corners[2] = flat.stood[4].corners[1];
    assert_eq!(codes(check_moved(&before, &flat, &claim)), ["not-on-survey"]);
    let mut apart = good.clone();
    apart.stood[0].at.0 = apart.stood[0].at.0 + TenthMm(50);
    assert!(codes(check_moved(&before, &apart, &claim)).contains(&"not-the-frame"));
    let mut mirrored = good.clone();
    for stood in &mut mirrored.stood {
        stood.at.1 = -stood.at.1;
        stood.corners.iter_mut().for_each(|corner| corner.1 = -corner.1);
    }
    assert!(codes(check_moved(&before, &mirrored, &claim)).contains(&"not-the-frame"));
    let mut short = good;
    short.stood.pop();
    assert_eq!(codes(check_moved(&before, &short, &claim)), ["shape"]);
}

/// A quarter turn leaves the feet as they are to each other.
#[test]
fn law_turning_all_feet_together_changes_nothing() {
    let (question, claim) = six_legs();
    let mut turned = moved(&question);
    for stood in &mut turned.stood {
        stood.at = (-stood.at.1, stood.at.0);
        stood.corners.iter_mut().for_each(|corner| (corner.0, corner.1) = (-corner.1, corner.0));
    }
    assert!(codes(check_moved(&question, &turned, &claim)).is_empty());
}

/// A foot of 300 by 300 and a trench 500 ahead of it: the direction along shows 500 and no more; one across shows nothing, nor does one
/// that points away.
#[test]
fn hand_a_foot_keeps_apart_from_a_trench() {
    let spot = |(x, y): (i64, i64)| (TenthMm(x), TenthMm(y));
    let foot = [(0, 0), (3000, 0), (3000, 3000), (0, 3000)].map(spot);
    let trench = [(8000, -9000), (8000, 9000)].map(spot);
    let shown = |keep, direction| keeps_apart(&foot, &trench, TenthMm(keep), direction);
    assert!(shown(5000, (1, 0)) && shown(5000, (7, 0)) && !shown(5001, (1, 0)));
    for direction in [(0, 1), (-1, 0), (0, 0), (1, 1), (i64::MAX, 0)] {
        assert!(!shown(0, direction) || direction == (1, 0), "{direction:?}");
    }
    assert!(!keeps_apart(&foot, &[], TenthMm(0), (1, 0)), "no corners show nothing");
    assert!(!shown(-1, (1, 0)));
}
