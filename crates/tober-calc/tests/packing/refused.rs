//! What is refused, and that the refusal says what would be right.

use crate::cases::{problem, shared};
use tober_calc::packing::{Answer, Budget, Leg, Problem, ProblemError, TenthMmPerM, solve};
use tober_quantity::TenthMm;

fn plain() -> Problem {
    problem(&shared()[0])
}

fn refused(change: impl FnOnce(&mut Problem), words: &[&str]) {
    let mut problem = plain();
    change(&mut problem);
    let error = solve(&problem, &Budget::usual()).expect_err("refused");
    let sentence = error.to_string();
    for word in words {
        assert!(sentence.contains(word), "\"{sentence}\" names \"{word}\"");
    }
    assert!(sentence.ends_with('.'), "\"{sentence}\" is a sentence");
}

#[test]
fn refuse_nothing_to_pack() {
    refused(|p| p.supports.clear(), &["number of supports", "0", "from 1"]);
    refused(|p| p.boards.clear(), &["kinds of board", "0", "from 1"]);
}

#[test]
fn refuse_legs_that_are_none() {
    let holes = |first, pitch, count| Leg::Holes {
        pin_first: TenthMm(first),
        pin_pitch: TenthMm(pitch),
        pin_count: count,
    };
    refused(|p| p.supports[1].leg = holes(2500, 0, 4), &["S2", "pin pitch", "is 0", "from 1"]);
    refused(|p| p.supports[1].leg = holes(2500, -500, 4), &["S2", "pin pitch", "-500"]);
    refused(|p| p.supports[1].leg = holes(2500, 500, 0), &["S2", "number of holes", "from 1"]);
    refused(|p| p.supports[1].leg = holes(-1, 500, 4), &["S2", "first hole", "-1"]);
    let screw = Leg::Screw { shortest: TenthMm(3000), longest: TenthMm(2000) };
    refused(|p| p.supports[1].leg = screw, &["S2", "longest length", "2000", "3000"]);
    refused(|p| p.supports[1].forced_hole = Some(9), &["S2", "hole number 9", "4 holes"]);
}

#[test]
fn refuse_boards_that_are_none() {
    refused(|p| p.boards[0].thickness = TenthMm(-45), &["K1", "thickness", "-45"]);
    refused(|p| p.boards[0].thickness = TenthMm(0), &["K1", "thickness"]);
    refused(|p| p.boards[0].count = u32::MAX, &["K1", "count"]);
    refused(|p| p.boards[1].name = "K1".into(), &["K1", "name of its own"]);
    refused(|p| p.supports[0].allowed = Some(vec![3]), &["S1", "kind number 3", "there are 3"]);
}

#[test]
fn refuse_numbers_out_of_all_proportion() {
    refused(|p| p.supports[0].ground = TenthMm(i64::MAX), &["S1", "ground height"]);
    refused(|p| p.supports[0].x_mm = i64::MIN, &["S1", "place along"]);
    refused(|p| p.max_stack = TenthMm(-1), &["greatest stack", "-1"]);
    refused(|p| p.min_lift = TenthMm(i64::MAX), &["least lift"]);
    refused(|p| p.level_tol_x = TenthMmPerM(-1), &["level tolerance along", "-1"]);
    refused(|p| p.level_tol_y = TenthMmPerM(i64::MAX), &["level tolerance across"]);
    refused(|p| p.planarity_tol = TenthMm(-1), &["planarity tolerance", "-1"]);
    refused(|p| p.max_boards_per_stack = u32::MAX, &["most boards in a stack"]);
    refused(|p| p.min_boards_per_stack = 9, &["fewest boards", "9", "4"]);
}

#[test]
fn refuse_two_feet_on_one_spot() {
    let same =
        |p: &mut Problem| (p.supports[2].x_mm, p.supports[2].y_mm) = (p.supports[0].x_mm, p.supports[0].y_mm);
    refused(same, &["S1", "S3", "place of its own"]);
}

#[test]
fn refuse_a_screw_with_no_planarity_tolerance() {
    let screw = Leg::Screw { shortest: TenthMm(2000), longest: TenthMm(3000) };
    let change = |p: &mut Problem| {
        p.supports[0].leg = screw;
        p.planarity_tol = TenthMm(0);
    };
    refused(change, &["S1", "screw", "at least 0.1 mm"]);
}

/// Supports on one line, two supports and one support are answered: the slope that the supports leave open
/// is still bounded by the level tolerance.
#[test]
fn law_supports_on_a_line_are_answered() {
    for keep in 1..=3 {
        let mut problem = plain();
        problem.supports.truncate(keep);
        for (place, support) in problem.supports.iter_mut().enumerate() {
            (support.x_mm, support.y_mm) = (4000 * place as i64, 0);
        }
        let answer = solve(&problem, &Budget::usual()).expect("well formed");
        let Answer::Optimal(choice) = answer else { panic!("{keep} supports on a line: {answer:?}") };
        assert_eq!(crate::check::faults(&problem, &choice), Vec::<String>::new());
    }
}

/// Every error keeps its numbers in fields.
#[test]
fn refuse_with_typed_fields() {
    let mut problem = plain();
    problem.boards[2].thickness = TenthMm(-630);
    let error = problem.check().expect_err("refused");
    assert!(matches!(error, ProblemError::OutOfRange { value: -630, least: 1, .. }), "{error:?}");
}

/// Wild numbers are refused with a sentence or answered; nothing stops the program.
#[test]
fn refuse_wild_numbers_without_a_panic() {
    let mut chance = crate::enumeration::Chance(0x70BE_0005);
    let edges = [
        i64::MIN,
        -1_000_001,
        -1_000_000,
        -100_001,
        -100_000,
        -1,
        0,
        1,
        2,
        100,
        9_999,
        10_000,
        100_000,
        1_000_000,
        i64::MAX,
    ];
    let (mut refused, mut answered) = (0, 0);
    for _ in 0..3000 {
        let n = chance.between(1, 5) as usize;
        let kinds = chance.between(1, 4) as usize;
        let mut problem = crate::enumeration::random(&mut chance, n, kinds, 3);
        for _ in 0..chance.between(1, 3) {
            let edge = edges[chance.between(0, edges.len() as i64 - 1) as usize];
            let at = chance.between(0, n as i64 - 1) as usize;
            let kind = chance.between(0, kinds as i64 - 1) as usize;
            let small = u32::try_from(edge.clamp(0, i64::from(u32::MAX))).unwrap_or(0);
            match chance.between(0, 13) {
                0 => problem.supports[at].x_mm = edge,
                1 => problem.supports[at].y_mm = edge,
                2 => problem.supports[at].ground = TenthMm(edge),
                3 => problem.boards[kind].thickness = TenthMm(edge),
                4 => problem.boards[kind].count = small,
                5 => problem.max_stack = TenthMm(edge),
                6 => problem.min_lift = TenthMm(edge),
                7 => problem.level_tol_x = TenthMmPerM(edge),
                8 => problem.level_tol_y = TenthMmPerM(edge),
                9 => problem.planarity_tol = TenthMm(edge),
                10 => problem.max_boards_per_stack = small,
                11 => {
                    problem.supports[at].leg = Leg::Screw { shortest: TenthMm(2000), longest: TenthMm(edge) }
                }
                12 => {
                    problem.supports[at].leg =
                        Leg::Holes { pin_first: TenthMm(2000), pin_pitch: TenthMm(edge), pin_count: 3 };
                }
                _ => problem.supports[at].max_stack = Some(TenthMm(edge)),
            }
        }
        match solve(&problem, &Budget { nodes: 300, tidying: 20 }) {
            Ok(answer) => {
                answered += 1;
                if let Some(choice) = answer.choice() {
                    assert_eq!(crate::check::faults(&problem, choice), Vec::<String>::new(), "{problem:?}");
                }
            }
            Err(error) => {
                refused += 1;
                assert!(error.to_string().ends_with('.'));
            }
        }
    }
    assert!(refused > 500 && answered > 500, "{refused} refused, {answered} answered");
}

/// Sixteen kinds and forty boards a stack are too many stacks to list: said, not waited for.
#[test]
fn law_too_many_stacks_are_not_reached() {
    let mut problem = plain();
    let kind = |k: i64| tober_calc::packing::BoardKind::plain(format!("K{k}"), TenthMm(100 + 7 * k), 40);
    problem.boards = (0..16).map(kind).collect();
    problem.max_boards_per_stack = 40;
    problem.min_boards_per_stack = 30;
    let answer = solve(&problem, &Budget::usual()).expect("well formed");
    assert!(
        matches!(answer, Answer::NotReached { lift_no_less_than } if lift_no_less_than.0 >= 3000),
        "{answer:?}"
    );
}
