//! Sound claims pass, and every broken one is refused for exactly the reason it was broken for.

use crate::reading::{claim, file, files, folder, int, list, question, text};
use std::collections::BTreeSet;
use tober_fit::packing::{self, Rule};
use tober_quantity::TenthMm;

/// Invented questions whose optima were proved by two general solvers; see the `source` in the file.
#[test]
fn truth_proved_optima_of_two_solvers_pass_with_their_lift_and_boards() {
    let shared = file(&folder("sound/shared_packing.json"));
    let mut passed = 0;
    for case in list(&shared, "cases") {
        let Some(claimed) = case.get("claim") else { continue };
        let id = text(case, "id");
        let verdict = packing::check(&question(&case["question"]), &claim(claimed))
            .unwrap_or_else(|refusals| panic!("{id}: {refusals:?}"));
        assert_eq!(verdict.lift_greatest, TenthMm(int(claimed, "lift_greatest_01mm")), "{id}");
        assert_eq!(verdict.boards_total, int(claimed, "boards_total"), "{id}");
        let tightest = verdict.tightest.expect("a support that is nearest to its limit");
        assert!(tightest.numerator >= 0, "{id}");
        passed += 1;
    }
    assert_eq!(passed, 20);
}

#[test]
fn hand_sound_claims_pass_with_nothing_left_unknown() {
    let sound = files("sound/packing");
    assert!(sound.len() >= 6, "only {} sound claims", sound.len());
    for (path, case) in sound {
        let verdict = packing::check(&question(&case["question"]), &claim(&case["claim"]))
            .unwrap_or_else(|refusals| panic!("{path}: {refusals:?}"));
        assert!(verdict.is_whole(), "{path}: {:?}", verdict.not_known);
        assert!(verdict.checked.contains(&Rule::LayersCross), "{path}");
    }
}

#[test]
fn refuse_every_broken_claim_for_its_stated_reason_and_no_other() {
    let broken = files("broken/packing");
    assert!(broken.len() >= 50, "only {} broken claims", broken.len());
    let mut seen = BTreeSet::new();
    for (path, case) in broken {
        assert!(text(&case, "why").ends_with('.'), "{path}: say why, in a sentence");
        let stated: BTreeSet<&str> =
            list(&case, "refused_for").iter().map(|code| code.as_str().expect("a code")).collect();
        let refusals = packing::check(&question(&case["question"]), &claim(&case["claim"]))
            .expect_err(&format!("{path} passed"));
        let found: BTreeSet<&str> = refusals.iter().map(packing::Refusal::code).collect();
        assert_eq!(found, stated, "{path}: {refusals:?}");
        for refusal in &refusals {
            let sentence = refusal.to_string();
            assert!(sentence.ends_with('.') && sentence.len() > 30, "{path}: {sentence}");
        }
        seen.extend(found);
    }
    // Each reason there is has a broken claim that shows it; the list is the one of `Refusal::code`.
    assert_eq!(seen.len(), 31, "{seen:?}");
}

/// With a slope of 0.1 mm a metre, a leg 0.1 mm along the frame meets the plane 1/10000 of 0.1 mm higher or lower. At the
/// origin the front left leg, 2.0 mm over the plane, is exactly at the limit.
#[test]
fn hand_one_unit_of_the_inequality_decides() {
    let case = file(&folder("sound/packing/six_legs.json"));
    for (x, margin) in [(1, Some(1)), (0, Some(0)), (-1, None)] {
        let (mut question, mut claim) = (question(&case["question"]), claim(&case["claim"]));
        question.supports[0].ground = TenthMm(20);
        question.supports[0].x = TenthMm(x);
        claim.plane.along = 1;
        match (packing::check(&question, &claim), margin) {
            (Ok(verdict), Some(margin)) => {
                let tightest = verdict.tightest.expect("a support that is nearest to its limit");
                assert_eq!((tightest.numerator, tightest.denominator), (margin, 10_000));
                assert_eq!(tightest.support, "front left");
            }
            (Err(refusals), None) => {
                let codes: Vec<&str> = refusals.iter().map(packing::Refusal::code).collect();
                assert_eq!(codes, ["not-planar"]);
                // The sentence rounds away from zero, so that it never says 2.0000 mm of 2.0 mm.
                assert!(refusals[0].to_string().contains("2.0001 mm"), "{}", refusals[0]);
            }
            other => panic!("at {x}: {other:?}"),
        }
    }
}
