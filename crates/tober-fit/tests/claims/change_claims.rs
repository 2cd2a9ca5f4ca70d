//! Proofs that changing a few legs of a lowered frame does not serve.

use crate::slowly::Chance;
use tober_fit::packing::none::Flaw;
use tober_fit::packing::none::change::{Clear, Lowered, Set, Step, check, reads_level};
use tober_fit::packing::{Board, FootBoard, Layering, Leg, Level, Made, Question, StackLimits, Support};
use tober_quantity::TenthMm;

/// Four screws on a square of 2 m, each on one board of 50, from 350 up by `travel`; 5 mm/m and `planarity`.
fn square(travel: i64, planarity: i64) -> Question {
    let support = |(x, y): (i64, i64)| Support {
        name: format!("{x} {y}"),
        x: TenthMm(x),
        y: TenthMm(y),
        ground: TenthMm(-3500),
        leg: Leg::Screw { shortest: TenthMm(3000), longest: TenthMm(3000 + travel) },
        foot: None,
        stack_most: None,
        hole_forced: None,
    };
    Question {
        supports: [(0, 0), (0, 20_000), (20_000, 0), (20_000, 20_000)].map(support).to_vec(),
        boards: vec![Board {
            name: "50".to_owned(),
            thickness: TenthMm(500),
            count: 4,
            made: Made::Timber,
            plan: None,
        }],
        stack: StackLimits { height_most: TenthMm(500), boards_least: 1, boards_most: 1 },
        lift_least: TenthMm(0),
        level: Level { along_per_m: TenthMm(50), across_per_m: TenthMm(50) },
        planarity: TenthMm(planarity),
        foot_board: FootBoard::NotAsked,
        layering: Layering::NotAsked,
        slenderness: None,
    }
}

/// A multiplier of one for the rows that add up to the twist: legs 0 and 3 at least, legs 1 and 2 at most.
const TWIST: [i128; 8] = [1, 0, 0, 1, 0, 1, 1, 0];

fn beyond(changing: &[usize], multipliers: &[i128]) -> Set {
    Set { changing: changing.to_vec(), steps: vec![Step::Beyond { multipliers: multipliers.to_vec() }] }
}

/// Leg 3 is 10 mm high: a twist of 100 tenths. With 2.4 mm of planarity four legs take up 96; with 2.5 they take up all of it.
#[test]
fn hand_a_twist_that_four_legs_cannot_take_up() {
    let tops = [0, 0, 0, 100].map(TenthMm);
    let shown = |planarity| {
        let question = square(200, planarity);
        let lowered = Lowered { question: &question, tops: &tops, by_level: false, clear: &[] };
        check(&lowered, 0, &[beyond(&[], &TWIST)])
    };
    assert_eq!(shown(24), Ok(1));
    // Rows ask for -4 x 10000 x 25; the tops allow -10000 x 100.
    assert_eq!(shown(25), Err(Flaw::RowsServe { step: 0, least: -1_000_000, most: -1_000_000 }));
}

/// The same with one leg that may be turned: by 20 mm legs 0 and 3 can go down and 1 and 2 up, so only sets without a proof are left;
/// were the screws to go up only, from where they stand, turning leg 3 would not serve.
#[test]
fn hand_one_screw_that_goes_up_only() {
    let tops = [0, 0, 0, 100].map(TenthMm);
    let mut question = square(200, 20);
    // Leg 3 stands with its screw right in: its ground is 100 higher.
    question.supports[3].ground = TenthMm(-3400);
    let lowered = Lowered { question: &question, tops: &tops, by_level: false, clear: &[] };
    let sets = [[0], [1], [2], [3]].map(|leg| beyond(&leg, &TWIST));
    // Legs 1 and 2 go up by 200, which is enough for any twist.
    assert!(matches!(check(&lowered, 1, &sets), Err(Flaw::RowsServe { .. })));
    for leg in &mut question.supports[1..3] {
        leg.leg = Leg::Screw { shortest: TenthMm(3000), longest: TenthMm(3010) };
    }
    let lowered = Lowered { question: &question, tops: &tops, by_level: false, clear: &[] };
    assert_eq!(check(&lowered, 1, &sets), Ok(4));
    let out_of_order = [sets[1].clone(), sets[0].clone(), sets[2].clone(), sets[3].clone()];
    assert_eq!(check(&lowered, 1, &out_of_order), Err(Flaw::SetLeftOut { legs: vec![0] }));
    assert_eq!(check(&lowered, 1, &sets[..3]), Err(Flaw::SetLeftOut { legs: vec![3] }));
}

/// Front legs 24 tenths up over 2 m are 12 tenths a metre along. All four off by nothing but level: 12 is past 11, inside 12. With a level
/// the two rows of the slope alone show it; heights would let the feet take it up.
#[test]
fn hand_what_a_level_shows_is_past_its_tolerance() {
    let tops = [0, 0, 24, 24].map(TenthMm);
    let mut question = square(200, 30);
    // Weights are -1, -1, 1, 1 over 4 m: w.z / over = 48 / 4.
    let along = [vec![0; 8], vec![1, 0, 0, 0]].concat();
    for (allowed, inside) in [(11, false), (12, true)] {
        question.level.along_per_m = TenthMm(allowed);
        assert_eq!(reads_level(&question, &tops), inside);
        let lowered = Lowered { question: &question, tops: &tops, by_level: true, clear: &[] };
        assert_eq!(check(&lowered, 0, &[beyond(&[], &along)]).is_ok(), !inside);
    }
}

/// What must be clear is a row: the frame at 0 cannot be 40 tenths up in its middle.
#[test]
fn hand_clear_of_the_ground() {
    let tops = [0; 4].map(TenthMm);
    let question = square(200, 30);
    let clear =
        |least| [Clear { at: (TenthMm(10_000), TenthMm(10_000)), least: Some(TenthMm(least)), most: None }];
    // The middle is a quarter of each leg: four times the row of the point, and each leg at most.
    let multipliers = [0, 1, 0, 1, 0, 1, 0, 1, 4];
    for (least, shown) in [(31, true), (30, false)] {
        let clear = clear(least);
        let lowered = Lowered { question: &question, tops: &tops, by_level: false, clear: &clear };
        assert_eq!(check(&lowered, 0, &[beyond(&[], &multipliers)]).is_ok(), shown);
    }
}

/// Whatever multipliers are claimed, a frame that can be brought in is not proved away.
#[test]
fn law_no_multipliers_prove_away_what_is_there() {
    let mut chance = Chance(0x70BE_0431);
    let question = square(200, 20);
    for _ in 0..20_000 {
        let (a, b) = (chance.pick(-90, 90), chance.pick(-90, 90));
        let off = |chance: &mut Chance| chance.pick(-20, 20);
        // On a plane inside the level tolerances, each foot within planarity, and read by heights.
        let tops = [off(&mut chance), b + off(&mut chance), a + off(&mut chance), a + b + off(&mut chance)]
            .map(TenthMm);
        let lowered = Lowered { question: &question, tops: &tops, by_level: false, clear: &[] };
        let multipliers: Vec<i128> = (0..8).map(|_| i128::from(chance.pick(0, 3))).collect();
        let proof = [beyond(&[], &multipliers)];
        assert!(
            matches!(check(&lowered, 0, &proof), Err(Flaw::RowsServe { .. })),
            "{tops:?} {multipliers:?}"
        );
    }
}

#[test]
fn refuse_multipliers_that_are_none() {
    let tops = [0, 0, 0, 100].map(TenthMm);
    let question = square(200, 20);
    let lowered = Lowered { question: &question, tops: &tops, by_level: false, clear: &[] };
    let flaw = |steps: Vec<Step>| {
        let set = Set { changing: Vec::new(), steps };
        check(&lowered, 0, &[set]).map_err(|flaw| flaw.code().to_owned())
    };
    let step = |multipliers: Vec<i128>| Step::Beyond { multipliers };
    let refused = |code: &str| Err(code.to_owned());
    assert_eq!(flaw(vec![step(TWIST.to_vec())]), Ok(1));
    assert_eq!(flaw(vec![step(vec![1; 7])]), refused("multipliers-missing"));
    assert_eq!(flaw(vec![step(TWIST.map(|m| -m).to_vec())]), refused("multiplier-negative"));
    assert_eq!(
        flaw(vec![step(TWIST.map(|m| m * (i128::MAX / 2)).to_vec())]),
        refused("multiplier-too-large")
    );
    assert_eq!(flaw(vec![]), refused("cases-left-open"));
    assert_eq!(flaw(vec![step(TWIST.to_vec()), step(TWIST.to_vec())]), refused("steps-left-over"));
    assert_eq!(flaw(vec![Step::Bare { support: 1 }]), refused("not-bare"));
    assert_eq!(flaw(vec![Step::Split { support: 3, height: TenthMm(100) }]), refused("split-outside"));
}
