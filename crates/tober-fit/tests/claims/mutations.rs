//! Sound claims changed a little, by chance that repeats: the checker and the slow way must agree on each.

use crate::reading::{claim, file, folder, list, question, text};
use crate::slowly::{Chance, is_sound};
use tober_fit::packing::{self, Claim, Question, Setting};
use tober_quantity::TenthMm;

const TRIES_A_CASE: usize = 4_000;

fn change(chance: &mut Chance, question: &mut Question, claim: &mut Claim) {
    let support = chance.index(claim.placings.len());
    let placing = &mut claim.placings[support];
    let kinds = placing.boards.len();
    match chance.pick(0, 13) {
        0 | 1 => {
            if let Setting::Hole(hole) = &mut placing.setting {
                *hole += chance.pick(-1, 1);
            }
        }
        2 => placing.boards[chance.index(kinds)] += chance.pick(-1, 1),
        3 => {
            // One board for another, or two legs' stacks for each other: often sound again.
            placing.boards[chance.index(kinds)] += 1;
            placing.boards[chance.index(kinds)] -= 1;
        }
        4 => {
            let other = chance.index(claim.placings.len());
            claim.placings.swap(support, other);
        }
        5 => claim.plane.height += chance.pick(-3_000, 3_000),
        6 => claim.plane.along += chance.pick(-300, 300),
        7 => claim.plane.across += chance.pick(-300, 300),
        8 => {
            // The same plane over a larger denominator, and perhaps a hair beside it.
            let times = chance.pick(2, 97);
            for part in [&mut claim.plane.height, &mut claim.plane.along, &mut claim.plane.across] {
                *part = *part * times + chance.pick(-1, 1);
            }
            claim.plane.denominator *= times;
        }
        9 => claim.lift_greatest = TenthMm(claim.lift_greatest.0 + chance.pick(-1, 1)),
        10 => claim.boards_total += chance.pick(-1, 1),
        11 => question.boards[chance.index(kinds)].count -= 1,
        12 => question.supports[support].ground.0 += chance.pick(-10, 10),
        _ => question.planarity.0 = (question.planarity.0 + chance.pick(-10, 10)).max(0),
    }
}

#[test]
fn law_the_checker_agrees_with_the_definitions_on_changed_claims() {
    let shared = file(&folder("sound/shared_packing.json"));
    let mut chance = Chance(20);
    let (mut sound, mut broken) = (0, 0);
    for case in list(&shared, "cases") {
        let Some(claimed) = case.get("claim") else { continue };
        for _ in 0..TRIES_A_CASE {
            let (mut question, mut claim) = (question(&case["question"]), claim(claimed));
            for _ in 0..chance.pick(1, 2) {
                change(&mut chance, &mut question, &mut claim);
            }
            if question.boards.iter().any(|board| board.count < 0) {
                continue;
            }
            let verdict = packing::check(&question, &claim);
            let slowly = is_sound(&question, &claim);
            assert_eq!(
                verdict.is_ok(),
                slowly,
                "{}: {verdict:?} of {claim:?} to {question:?}",
                text(case, "id")
            );
            if slowly {
                sound += 1;
            } else {
                broken += 1;
            }
        }
    }
    // Both sides must really have been tried.
    assert!(sound > 5_000 && broken > 20_000, "{sound} sound, {broken} broken");
}

#[test]
fn law_no_number_however_large_stops_the_checker() {
    let shared = file(&folder("sound/shared_packing.json"));
    let case = &list(&shared, "cases")[0];
    let (question, sound) = (question(&case["question"]), claim(&case["claim"]));
    for huge in [i64::MIN, i64::MIN + 1, -1_000_001, 1_000_001, i64::MAX - 1, i64::MAX] {
        let mut claims = vec![sound.clone(); 6];
        claims[0].placings[0].setting = Setting::Hole(huge);
        claims[1].placings[0].boards[0] = huge;
        claims[2].plane.height = huge;
        claims[3].plane.along = huge;
        claims[4].lift_greatest = TenthMm(huge);
        claims[5].boards_total = huge;
        for claim in claims {
            let refusals = packing::check(&question, &claim).expect_err("it passed");
            assert!(refusals.iter().all(|refusal| refusal.to_string().ends_with('.')));
        }
        let mut questions = vec![question.clone(); 7];
        questions[0].supports[0].x = TenthMm(huge);
        questions[1].supports[0].ground = TenthMm(huge);
        questions[2].boards[0].thickness = TenthMm(huge);
        questions[3].boards[0].count = huge;
        questions[4].planarity = TenthMm(huge);
        questions[5].level.along_per_m = TenthMm(huge);
        questions[6].lift_least = TenthMm(huge);
        for question in questions {
            let refusals = packing::check(&question, &sound).expect_err("it passed");
            assert_eq!(refusals.iter().map(packing::Refusal::code).next(), Some("question-absurd"));
        }
    }
    // The greatest denominator with the greatest numbers the door lets through.
    let mut claim = sound;
    claim.plane.denominator = i64::MAX;
    claim.placings[0].boards = vec![1_000_000; claim.placings[0].boards.len()];
    let refusals = packing::check(&question, &claim).expect_err("it passed");
    assert!(refusals.iter().any(|refusal| refusal.code() == "not-planar"));
    assert!(refusals.iter().all(|refusal| refusal.to_string().ends_with('.')));
}
