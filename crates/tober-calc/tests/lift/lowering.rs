//! A travel in which the rope runs out, and what holds a part past its balance.

use super::{TONNE_N, assert_near, part, point, travel};
use tober_calc::finding::{Finding, Standing, Subject};
use tober_calc::lift::{Asked, Hold, Over, Raised, findings, held_most, over, paid_out};
use tober_calc::working::Provenance;
use tober_quantity::{Force, Length};

/// The book rounds its 3.237 to a quarter.
const PRINTED: f64 = 0.02;
/// Rounding of a handful of products, as a share of a tonne's weight.
const ROUNDING_N: f64 = 1e-9 * TONNE_N;

/// A tonne, its weight 2 m out along it, an eye at 4 m, the sheave 3 m behind the hinge and 4 m up.
fn arm(falls: u32, eta: f64) -> tober_calc::lift::Hinged {
    part(1000.0, point(2.0, 0.0), point(4.0, 0.0), (-3.0, 4.0), falls, eta)
}

fn over_of(arm: &tober_calc::lift::Hinged, from: f64, to: f64) -> Over {
    over(&Raised::exact(arm, "arm", Provenance::Maker), &travel(from, to, 5.0)).expect("sound")
}

fn found(over: &Over, asked: &Asked) -> Vec<Finding> {
    findings(&Subject::Body("arm".to_owned()), over, asked).expect("sound")
}

fn of<'a>(all: &'a [Finding], code: &str) -> Option<&'a Finding> {
    all.iter().find(|finding| finding.code == code)
}

/// Pipeline Rules of Thumb Handbook, page 6 ("Find advantages of block and tackle, taking into account pull out friction"): four parts, each
/// sheave 0.917, so that 3,250 lb are lifted by 1,000 lb; the formula printed there is E (1 - E^n) / (1 - E).
#[test]
fn truth_four_part_tackle_of_a_pipeline_handbook() {
    assert_near(arm(4, 0.917).advantage(), 3.25, PRINTED);
}

/// Two falls of 0.8 under 2,250 N: hoisting R = 2250 / (0.8 + 0.64) = 1562.5 N; running out the falls pull R / 0.8 and R / 0.64, together 2.8125 R,
/// so R = 800 N; without friction 1,125 N.
#[test]
fn hand_two_falls_running_out() {
    let arm = arm(2, 0.8);
    assert_near(paid_out(Force::n(2250.0), &arm).as_n(), 800.0, 1e-9);
    assert_near(2250.0 / arm.advantage(), 1562.5, 1e-9);
}

/// Rope that runs out pulls less than rope at rest, and that less than rope that hoists, and the more falls the further apart; without
/// friction all three are one.
#[test]
fn law_running_out_pulls_least() {
    let mut before = 1.0;
    for falls in 1..=8 {
        let (load, share) = (Force::n(TONNE_N), 1.0 / f64::from(falls));
        let rubbing = arm(falls, 0.95);
        let (out, rest, hoist) =
            (paid_out(load, &rubbing).as_n(), TONNE_N * share, TONNE_N / rubbing.advantage());
        assert!(out < rest && rest < hoist, "{falls} falls: {out} {rest} {hoist}");
        assert!(out / hoist < before, "{falls} falls");
        before = out / hoist;
        assert_near(paid_out(load, &arm(falls, 1.0)).as_n(), rest, ROUNDING_N);
    }
}

/// Up and down over the same travel: the same pull to take the part up, and only down one while it lowers.
#[test]
fn law_up_and_down_ask_the_same_of_the_winch() {
    let over = over_of(&arm(2, 0.96), 0.0, 60.0);
    let [up, down] =
        [false, true].map(|from_top| found(&over, &Asked { of_book: true, from_top, ..Asked::default() }));
    assert!(of(&up, "lift.lower").is_none());
    assert_eq!(of(&up, "lift.pull"), of(&down, "lift.pull"));
    let lower = of(&down, "lift.lower").expect("told");
    assert_eq!(lower.standing, Standing::NotKnown, "the winch's rating is not told");
    assert!(!lower.working.is_empty());
}

/// The arm at 120 degrees: its weight acts 2 cos(60) = 1 m behind the hinge, so 9806.65 N m want to go on. A check line from its eye,
/// (-2, 3.4641), to (4, 3.4641) pulls level: its lever is 3.4641 m, 9806.65 / 3.4641 = 2830.9 N.
#[test]
fn hand_a_level_check_line_holds_an_arm_past_its_balance() {
    let over = over_of(&arm(1, 1.0), 30.0, 120.0);
    let high = 12.0_f64.sqrt();
    let hold = Hold {
        at: point(4.0, 0.0),
        to_x: Length::m(4.0),
        to_z: Length::m(high),
        rated: Some(Force::n(3500.0)),
    };
    let most = held_most(&over, &hold).expect("sound").expect("slack there");
    assert_near(most.phi.as_deg(), 120.0, 1e-9);
    assert_near(most.force.as_n(), TONNE_N / high, 1e-6);
    // From the other side it pushes, with as much.
    let other = Hold { to_x: Length::m(-8.0), ..hold };
    let most = held_most(&over, &other).expect("sound").expect("slack there");
    assert_near(most.force.as_n(), -TONNE_N / high, 1e-6);

    let book = Asked {
        of_book: true,
        held_back_by: Some("the check line".to_owned()),
        hold: Some(hold),
        from_top: true,
        ..Asked::default()
    };
    let all = found(&over, &book);
    assert_eq!(of(&all, "lift.hold").expect("told").standing, Standing::Close, "2831 of 3500 N");
    assert_eq!(of(&all, "lift.over").expect("it begins past its balance").standing, Standing::NotKnown);
    let told = Asked { brought_over_by: Some("the check line".to_owned()), ..book.clone() };
    assert_eq!(of(&found(&over, &told), "lift.over").expect("told").standing, Standing::Inside);
    // Going up it does not begin there.
    assert!(of(&found(&over, &Asked { from_top: false, ..book.clone() }), "lift.over").is_none());
    // What is not told is not known.
    let unrated = Asked { hold: Some(Hold { rated: None, ..hold }), ..book.clone() };
    assert_eq!(of(&found(&over, &unrated), "lift.hold").expect("told").standing, Standing::NotKnown);
    let nowhere = Asked { hold: None, ..book };
    assert_eq!(of(&found(&over, &nowhere), "lift.hold").expect("told").standing, Standing::NotKnown);
}

/// A hold whose line goes through the hinge holds nothing.
#[test]
fn refuse_a_hold_without_a_lever() {
    let over = over_of(&arm(1, 1.0), 30.0, 120.0);
    let hold = Hold { at: point(4.0, 0.0), to_x: Length::ZERO, to_z: Length::ZERO, rated: None };
    assert_eq!(held_most(&over, &hold).expect("a question"), None);
}
