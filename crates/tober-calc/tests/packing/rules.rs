//! The rules of a stack, screws and wedges, worked by hand.

use crate::check::faults;
use tober_calc::packing::{
    Answer, BoardKind, Budget, Choice, Clearance, HeightToWidth, Leg, Part, PlanSize, Problem, Setting,
    StackRules, Support, TenthMmPerM, Wedges, solve,
};
use tober_quantity::TenthMm;

/// Four legs on a square of 4 m, holes 50 mm apart, on ground that is level but for the first foot.
fn square(first_foot: i64, boards: Vec<BoardKind>) -> Problem {
    let leg = Leg::Holes { pin_first: TenthMm(3000), pin_pitch: TenthMm(500), pin_count: 4 };
    let at = [(0, 0), (4000, 0), (0, 4000), (4000, 4000)];
    let supports = at.iter().enumerate().map(|(place, &(x, y))| {
        let ground = if place == 0 { first_foot } else { 0 };
        Support::plain(format!("leg {place}"), x, y, TenthMm(ground), leg)
    });
    Problem {
        supports: supports.collect(),
        boards,
        max_stack: TenthMm(3000),
        min_boards_per_stack: 1,
        max_boards_per_stack: 6,
        min_lift: TenthMm(0),
        level_tol_x: TenthMmPerM(0),
        level_tol_y: TenthMmPerM(0),
        planarity_tol: TenthMm(10),
        clearances: Vec::new(),
        rules: StackRules::plain(),
    }
}

fn board(name: &str, thickness: i64, count: u32, plan: (i64, i64)) -> BoardKind {
    let plan = Some(PlanSize::of(TenthMm(plan.0), TenthMm(plan.1)));
    BoardKind { plan, ..BoardKind::plain(name, TenthMm(thickness), count) }
}

fn optimal(problem: &Problem) -> Choice {
    match solve(problem, &Budget::usual()).expect("well formed") {
        Answer::Optimal(choice) => {
            assert_eq!(faults(problem, &choice), Vec::<String>::new());
            choice
        }
        other => panic!("{other:?}"),
    }
}

/// Foot 0 lies 100 mm low. With boards of 50 mm and holes 50 mm apart, three legs take one board (lift 50),
/// the fourth needs 150: one board and hole 2, or more boards. Fewest boards: hole 2. So L = 150 mm, 4 boards,
/// one kind of stack, and holes 2 + 0 + 0 + 0.
#[test]
fn hand_one_low_foot() {
    let choice = optimal(&square(-1000, vec![BoardKind::plain("50", TenthMm(500), 20)]));
    assert_eq!(
        (choice.max_lift, choice.boards, choice.different_stacks, choice.holes),
        (TenthMm(1500), 4, 1, 2)
    );
    assert_eq!(choice.supports[0].setting, Setting::Hole(2));
}

/// The same with the leg of foot 0 settled in hole 0: it needs three boards.
#[test]
fn hand_a_settled_hole_is_kept() {
    let mut problem = square(-1000, vec![BoardKind::plain("50", TenthMm(500), 20)]);
    problem.supports[0].forced_hole = Some(0);
    let choice = optimal(&problem);
    assert_eq!(
        (choice.max_lift, choice.boards, choice.supports[0].setting),
        (TenthMm(1500), 6, Setting::Hole(0))
    );
}

/// A stack of three boards of 50 mm is 150 mm high. With boards 140 mm wide and height at most the width it
/// may not stand, so foot 0 (100 mm low, hole 0 settled) is refused; at 150 mm wide it may, the bound included.
#[test]
fn hand_height_to_width() {
    let wide = |width| {
        let mut problem = square(-1000, vec![board("50", 500, 20, (width, 6000))]);
        problem.supports[0].forced_hole = Some(0);
        problem.rules.height_to_width = Some(HeightToWidth { height: 1, width: 1 });
        solve(&problem, &Budget::usual()).expect("well formed")
    };
    assert!(matches!(wide(1400), Answer::Infeasible(_)));
    assert!(matches!(wide(1500), Answer::Optimal(_)));
}

/// The foot is 250 mm square. The thick board is only 200 mm wide, so it may lie but not on top; the stack of
/// 100 mm that foot 0 needs (50 mm low, hole 0 settled) is the wide board on the thick one, not two thick.
#[test]
fn hand_the_foot_stands_inside_the_top_board() {
    let boards = vec![board("narrow 50", 500, 20, (2000, 6000)), board("wide 50", 500, 4, (2500, 6000))];
    let mut problem = square(-500, boards);
    problem.rules.foot_on_top = true;
    for support in &mut problem.supports {
        support.foot = Some(PlanSize::of(TenthMm(2500), TenthMm(2500)));
        support.forced_hole = Some(0);
    }
    let choice = optimal(&problem);
    assert_eq!(choice.supports[0].laid, vec![0, 1], "the wide board lies on top");
    // With widths narrowing upward the wide board may not lie on the narrow one, and five wide ones are needed.
    problem.rules.narrows_upward = true;
    assert!(matches!(solve(&problem, &Budget::usual()), Ok(Answer::Infeasible(_))));
    problem.boards[1].count = 5;
    assert_eq!(optimal(&problem).supports[0].laid, vec![1, 1]);
}

/// The bottom board must be 300 mm wide: it goes first, and a stack without one may not stand.
#[test]
fn hand_the_bottom_board_spreads() {
    let boards = vec![board("narrow 50", 500, 20, (2000, 6000)), board("mat 50", 500, 4, (3000, 6000))];
    let mut problem = square(-500, boards);
    problem.supports.iter_mut().for_each(|support| support.forced_hole = Some(0));
    problem.rules.bottom_width = Some(TenthMm(3000));
    let choice = optimal(&problem);
    assert_eq!(choice.supports[0].laid, vec![1, 0]);
    assert!(choice.supports[1..].iter().all(|placed| placed.laid == [1]));
    problem.rules.bottom_width = None;
    problem.rules.bottom_area_mm2 = Some(300 * 600);
    assert_eq!(optimal(&problem).supports[0].laid, vec![1, 0]);
}

/// Ply of 8 mm lies only between two timbers. Foot 0 is 58 mm low: 50 + 8 + 50 under it, 50 under the rest.
#[test]
fn hand_ply_lies_between_timbers() {
    let ply = BoardKind { part: Part::Packer, ..BoardKind::plain("ply", TenthMm(80), 4) };
    let mut problem = square(-580, vec![BoardKind::plain("50", TenthMm(500), 20), ply]);
    problem.supports.iter_mut().for_each(|support| support.forced_hole = Some(0));
    problem.planarity_tol = TenthMm(0);
    let choice = optimal(&problem);
    assert_eq!(choice.supports[0].laid, vec![0, 1, 0]);
    // 66 mm low wants two sheets in one joint (or five boards), which the plain rules refuse.
    problem.max_boards_per_stack = 4;
    problem.supports[0].ground = TenthMm(-660);
    assert!(matches!(solve(&problem, &Budget::usual()), Ok(Answer::Infeasible(_))));
    problem.rules.packers_per_joint = 2;
    assert_eq!(optimal(&problem).supports[0].laid, vec![0, 1, 1, 0]);
}

/// A kind that may not lie under foot 0, and a lower limit on its stack.
#[test]
fn hand_what_one_foot_allows() {
    let boards = vec![BoardKind::plain("50", TenthMm(500), 20), BoardKind::plain("75", TenthMm(750), 20)];
    let mut problem = square(-1000, boards);
    problem.supports[0].allowed = Some(vec![1]);
    let choice = optimal(&problem);
    assert_eq!(choice.supports[0].boards_by_kind[0], 0);
    problem.supports[0].max_stack = Some(TenthMm(700));
    assert!(matches!(solve(&problem, &Budget::usual()), Ok(Answer::Infeasible(_))));
}

/// Screws from 0 to 120 mm on level boards of 50 mm: foot 0 is 83.7 mm low. The others stay screwed in, within
/// planarity 1 mm: with all slack used, lift 50 + 83.7 - 2 = 131.7 mm is the least greatest lift.
#[test]
fn hand_a_screw_takes_any_height() {
    let mut problem = square(-837, vec![BoardKind::plain("50", TenthMm(500), 20)]);
    for support in &mut problem.supports {
        support.leg = Leg::Screw { shortest: TenthMm(3000), longest: TenthMm(4200) };
    }
    // Level is free of play (tolerance 0), so the plane is 1 mm below the one seat and 1 mm above the three.
    let choice = optimal(&problem);
    assert_eq!((choice.max_lift, choice.boards), (TenthMm(1317), 4));
}

/// Wedges from 20 to 40 mm in the first stack: foot 0 is 80 mm low, so 50 + wedges 30 + 50 within 1 mm.
#[test]
fn hand_wedges_take_up_the_rest() {
    let mut problem = square(-800, vec![BoardKind::plain("50", TenthMm(500), 20)]);
    problem.supports.iter_mut().for_each(|support| support.forced_hole = Some(0));
    assert!(matches!(solve(&problem, &Budget::usual()), Ok(Answer::Infeasible(_))));
    problem.supports[0].wedges = Some(Wedges { least: TenthMm(200), most: TenthMm(400) });
    let choice = optimal(&problem);
    let driven = choice.supports[0].wedges.expect("this stack has wedges");
    assert!((280..=320).contains(&driven.0), "{driven:?}");
    assert_eq!(choice.supports[0].laid, vec![0, 0]);
}

/// A wheel in the middle of the frame must hang 400 mm up: seats are at 300 + lift, so the lift is 100 mm, less
/// the 1 mm that a seat may lie below the plane.
#[test]
fn hand_a_clearance_lifts_the_frame() {
    let mut problem = square(0, vec![BoardKind::plain("50", TenthMm(500), 20)]);
    problem.clearances.push(Clearance {
        name: "wheel".into(),
        x_mm: 2000,
        y_mm: 2000,
        at_least: Some(TenthMm(4000)),
        at_most: None,
    });
    let choice = optimal(&problem);
    assert_eq!((choice.max_lift, choice.boards, choice.holes), (TenthMm(1000), 4, 4));
    let (height, over) = choice.plane.height_at(2000, 2000);
    assert!(height >= 4000 * over);
    problem.clearances[0].at_most = Some(TenthMm(4000));
    let choice = optimal(&problem);
    let (height, over) = choice.plane.height_at(2000, 2000);
    assert_eq!(height, 4000 * over);
}
