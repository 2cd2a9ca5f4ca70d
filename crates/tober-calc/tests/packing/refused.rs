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
