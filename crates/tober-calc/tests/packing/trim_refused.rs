//! What a trim refuses at its door.

use tober_calc::packing::trim::{Foot, Frame, HundredthMmPerM, Question, Reading, Stands, TrimError, solve};
use tober_calc::packing::{
    BoardKind, Budget, Leg, Problem, Setting, StackRules, Support, TenthMmPerM, Wedges,
};
use tober_quantity::TenthMm;

fn question() -> Question {
    let leg = Leg::Holes { pin_first: TenthMm(7400), pin_pitch: TenthMm(400), pin_count: 4 };
    let support = |name: &str, x, y| Support::plain(name, x, y, TenthMm(0), leg);
    let problem = Problem {
        supports: vec![support("front", 4000, 0), support("left", 0, 2000), support("right", 0, -2000)],
        boards: vec![BoardKind::plain("50", TenthMm(500), 6)],
        max_stack: TenthMm(2000),
        min_boards_per_stack: 1,
        max_boards_per_stack: 4,
        min_lift: TenthMm(0),
        level_tol_x: TenthMmPerM(30),
        level_tol_y: TenthMmPerM(30),
        planarity_tol: TenthMm(30),
        clearances: Vec::new(),
        rules: StackRules::plain(),
    };
    let stands = vec![Stands { setting: Setting::Hole(1), laid: vec![0] }; 3];
    let frame = Frame::Heights { at: vec![Some(TenthMm(6450)); 3], off_by: Some(TenthMm(0)) };
    Question { problem, stands, reading: Reading { frame, feet: vec![Some(Foot::Snug); 3] } }
}

#[track_caller]
fn refused(spoil: impl Fn(&mut Question), sentence: &str) {
    let mut question = question();
    assert!(solve(&question, &Budget::usual()).is_ok(), "it is sound before it is spoiled");
    spoil(&mut question);
    let error = solve(&question, &Budget::usual()).expect_err("it is refused");
    assert_eq!(error.to_string(), sentence);
}

#[test]
fn refuse_a_height_that_is_a_slip() {
    refused(
        |q| {
            q.reading.frame =
                Frame::Heights { at: [6450, 64500, 6450].map(|h| Some(TenthMm(h))).to_vec(), off_by: None }
        },
        "The height at left is 6450 mm and the middle one of all is 645 mm; no frame bends by more than 1000 mm. Read left again.",
    );
}

#[test]
fn refuse_readings_that_cannot_be() {
    let level = |along, off| Frame::Level {
        along: HundredthMmPerM(along),
        across: HundredthMmPerM(0),
        off_by: Some(HundredthMmPerM(off)),
    };
    refused(
        |q| q.reading.frame = level(10_001, 0),
        "The slope along is 100.01 mm/m; it must lie from −100 to 100 mm/m.",
    );
    refused(
        |q| q.reading.frame = level(0, -1),
        "What a slope may be off by is −0.01 mm/m; it must lie from 0 to 50 mm/m.",
    );
    refused(
        |q| q.reading.feet[1] = Some(Foot::Light { gap: Some(TenthMm(-1)) }),
        "The gap under left is −0.1 mm; it must lie from 0 to 500 mm.",
    );
    refused(
        |q| q.reading.feet[1] = Some(Foot::Light { gap: Some(TenthMm(5001)) }),
        "The gap under left is 500.1 mm; it must lie from 0 to 500 mm.",
    );
}

#[test]
fn refuse_lists_of_another_length() {
    refused(
        |q| q.reading.feet.truncate(2),
        "There are 2 feet for 3 supports; give one for each support, in their order.",
    );
    refused(
        |q| q.stands.truncate(1),
        "There are 1 stacks for 3 supports; give one for each support, in their order.",
    );
    refused(
        |q| q.reading.frame = Frame::Heights { at: Vec::new(), off_by: None },
        "There are 0 heights for 3 supports; give one for each support, in their order.",
    );
}

#[test]
fn refuse_a_setting_or_a_board_that_is_not_there() {
    refused(
        |q| q.stands[2].setting = Setting::Hole(4),
        "The hole of right, counted from 0, is 4; it must lie from 0 to 3.",
    );
    let mut screw = question();
    screw.stands[2].setting = Setting::Screw(TenthMm(10));
    assert_eq!(
        solve(&screw, &Budget::usual()),
        Err(TrimError::SettingMismatch { support: "right".to_owned() })
    );
    refused(
        |q| q.stands[0].laid = vec![0, 1],
        "Under support front lies kind number 1 of board, but there are 1; count from 0.",
    );
    let mut wedged = question();
    wedged.problem.supports[0].wedges = Some(Wedges { least: TenthMm(100), most: TenthMm(200) });
    assert_eq!(solve(&wedged, &Budget::usual()), Err(TrimError::Wedges { support: "front".to_owned() }));
}
