//! Changes to a problem that must not change its answer, or only one way.

use crate::cases::{problem, shared};
use crate::check::faults;
use crate::enumeration::{Chance, random, random_kit};
use tober_calc::packing::{Answer, Budget, Problem, solve};
use tober_quantity::TenthMm;

fn figures(problem: &Problem) -> Option<(i64, u32)> {
    match solve(problem, &Budget::usual()).expect("well formed") {
        Answer::Optimal(choice) => {
            assert_eq!(faults(problem, &choice), Vec::<String>::new());
            Some((choice.max_lift.0, choice.boards))
        }
        Answer::Infeasible(_) => None,
        other => panic!("small problems are proved: {other:?}"),
    }
}

fn problems() -> Vec<Problem> {
    let mut chance = Chance(0x70BE_0002);
    let mut problems: Vec<Problem> = shared().iter().map(problem).collect();
    problems.extend((0..40).map(|_| random(&mut chance, 6, 4, 6)));
    problems.extend((0..20).map(|_| random_kit(&mut chance, 6, 5)));
    problems
}

#[test]
fn law_mirrored_frames_have_the_same_lift_and_boards() {
    for problem in problems() {
        let mut along = problem.clone();
        along.supports.iter_mut().for_each(|support| support.x_mm = -support.x_mm);
        let mut across = problem.clone();
        across.supports.iter_mut().for_each(|support| support.y_mm = -support.y_mm);
        let figures_here = figures(&problem);
        assert_eq!(figures(&along), figures_here, "mirrored along: {problem:?}");
        assert_eq!(figures(&across), figures_here, "mirrored across: {problem:?}");
    }
}

#[test]
fn law_the_datum_of_the_pitch_changes_nothing() {
    for problem in problems() {
        for shift in [-12_345, 7, 99_999] {
            let mut shifted = problem.clone();
            shifted.supports.iter_mut().for_each(|support| support.ground = support.ground + TenthMm(shift));
            assert_eq!(figures(&shifted), figures(&problem), "all ground {shift} higher: {problem:?}");
        }
    }
}

#[test]
fn law_the_order_of_the_legs_changes_nothing() {
    for problem in problems() {
        let mut turned = problem.clone();
        turned.supports.reverse();
        turned.supports.rotate_left(1);
        assert_eq!(figures(&turned), figures(&problem), "{problem:?}");
    }
}

#[test]
fn law_more_boards_never_raise_the_lift() {
    for problem in problems() {
        let before = figures(&problem);
        for kind in 0..problem.boards.len() {
            let mut more = problem.clone();
            more.boards[kind].count += 2;
            let after = figures(&more);
            if let Some((lift, _)) = before {
                assert!(
                    after.is_some_and(|(better, _)| better <= lift),
                    "two more of kind {kind}: {problem:?}"
                );
            }
        }
    }
}

#[test]
fn law_the_same_problem_gets_the_same_answer() {
    for problem in problems() {
        let once = solve(&problem, &Budget::usual());
        assert_eq!(once, solve(&problem, &Budget::usual()));
    }
}

/// The bounds that come with an answer cut short hold for the proved answer.
#[test]
fn law_a_small_budget_only_widens_the_bounds() {
    let mut cut_short = 0;
    for problem in problems() {
        let proved = figures(&problem);
        for nodes in [1, 3, 10, 40] {
            match solve(&problem, &Budget { nodes, tidying: 0 }).expect("well formed") {
                Answer::Optimal(choice) => assert_eq!(Some((choice.max_lift.0, choice.boards)), proved),
                Answer::Infeasible(_) => assert_eq!(None, proved),
                Answer::BestFound { choice, lift_no_less_than, boards_no_less_than } => {
                    cut_short += 1;
                    assert_eq!(faults(&problem, &choice), Vec::<String>::new());
                    let (lift, boards) = proved.expect("a choice was found");
                    assert!(lift_no_less_than.0 <= lift && lift <= choice.max_lift.0);
                    assert!(
                        choice.max_lift.0 > lift || (boards_no_less_than..=choice.boards).contains(&boards)
                    );
                }
                Answer::NotReached { lift_no_less_than } => {
                    cut_short += 1;
                    assert!(proved.is_none_or(|(lift, _)| lift_no_less_than.0 <= lift));
                }
            }
        }
    }
    assert!(cut_short > 50, "the budgets bite: {cut_short} cut short");
}
