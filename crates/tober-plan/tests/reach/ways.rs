//! Each way of holding a leg, what misses and what cures it, and common practice.

use crate::trailer::{checked, four_legs, leg, sets, way};
use tober_calc::finding::{Proof, Standing};
use tober_calc::reach::{
    BUDGET, Cure, Doing, Outcome, Question, Stop, Way, cures, findings, practice, solve,
};
use tober_quantity::{Force, Length};

/// What a load may be off by where it was worked by hand to the newton.
const HAND_N: f64 = 1.0;

fn solved(question: &Question) -> Outcome {
    solve(question, BUDGET).expect("the question is sound")
}

/// A way that the checker passes.
fn reached(question: &Question) -> tober_calc::reach::Sequence {
    let outcome = solved(question);
    let found = way(&outcome).clone();
    let verdict = checked(question, &found).unwrap_or_else(|refusals| panic!("{refusals:?}"));
    assert_eq!(verdict.poses, 1 + found.steps.iter().map(|step| step.poses.len()).sum::<usize>());
    found
}

/// With the nose up the wheels hang, so the trailer is a beam on its rear legs at 0.6 m and the jack at 9.3 m: the jack carries
/// 79.4 (4.47 - 0.6) / (9.3 - 0.6) = 35.319 kN. On four legs the front ones carry 79.4 (4.47 - 0.6) / 7.8 / 2 = 19.697 kN each.
fn beam_by_hand(found: &tober_calc::reach::Sequence) {
    let most =
        found.steps.iter().flat_map(|step| &step.poses).map(|pose| pose.jack_load.as_n()).fold(0.0, f64::max);
    assert!((most - 35_319.3).abs() < HAND_N, "{most}");
    let last = found.steps.last().and_then(|step| step.poses.last()).expect("a pose");
    assert!((last.leg_loads[2].as_n() - 19_697.3).abs() < HAND_N, "{:?}", last.leg_loads);
}

#[test]
fn hand_holes_in_leg_and_sleeve_rear_with_the_nose_down_then_front_with_the_nose_up() {
    let found = reached(&four_legs(Way::LegAndSleeve));
    let order: Vec<usize> = sets(&found).iter().map(|set| set.0).collect();
    assert_eq!(order, [0, 1, 2, 3]);
    assert!(found.makers_order);
    let start = found.start.jack.expect("a jack").as_m();
    let jacks: Vec<f64> = sets(&found).iter().map(|set| set.1).collect();
    assert!(jacks[0] < start && jacks[1] < start && jacks[2] > start && jacks[3] > start, "{jacks:?}");
    beam_by_hand(&found);
}

#[test]
fn hand_a_pin_below_the_sleeve() {
    beam_by_hand(&reached(&four_legs(Way::BelowSleeve)));
}

#[test]
fn hand_a_pin_above_the_sleeve() {
    beam_by_hand(&reached(&four_legs(Way::AboveSleeve)));
}

/// Four screws: wound down to the ground as the trailer rests, then out in rounds, without the hitch jack moving before they carry.
#[test]
fn hand_screws_touch_as_it_rests_and_lift() {
    let question = four_legs(Way::Screw { shortest: Length::m(0.7) });
    let found = reached(&question);
    let winds = found.steps.iter().filter(|step| matches!(step.doing, Doing::Wind { .. })).count();
    assert!(winds >= 4, "{winds} windings");
    let start = found.start.jack.expect("a jack").as_m();
    assert!(sets(&found).iter().all(|&(_, jack)| (jack - start).abs() < 1e-9));
    let last = found.steps.last().and_then(|step| step.poses.last()).expect("a pose");
    assert!((last.leg_loads[2].as_n() - 19_697.3).abs() < HAND_N, "{:?}", last.leg_loads);
}

/// Rear screws and front legs with holes: the screws touch first and lift where they are needed.
#[test]
fn hand_a_screw_first_and_then_a_pin() {
    let mut question = four_legs(Way::LegAndSleeve);
    let screw = Way::Screw { shortest: Length::m(0.7) };
    question.legs[0] = leg("rear left", 0.6, 1.9, 0.873, screw);
    question.legs[1] = leg("rear right", 0.6, -1.9, 0.873, screw);
    let found = reached(&question);
    assert!(found.steps.iter().any(|step| matches!(step.doing, Doing::Wind { .. })));
}

/// The nose cannot go down far enough for the rear legs: the jack at its shortest is what stops it. Packing under it is no cure, since
/// it only makes the jack longer; boards under the wheels are.
#[test]
fn hand_a_jack_that_does_not_go_low_enough_says_so_and_boards_under_the_wheels_cure_it() {
    let mut question = four_legs(Way::LegAndSleeve);
    question.jack.lowest.top = Length::m(0.72);
    let outcome = solved(&question);
    let Outcome::Missed { miss, proved } = &outcome else { panic!("{outcome:?}") };
    assert!(*proved);
    assert_eq!((miss.leg, miss.because.down), (Some(0), Stop::JackShortest));
    let found = cures(&question).expect("asked");
    let Some(Cure::WheelsOnBoards(boards)) = found.first() else { panic!("{found:?}") };
    let on_boards = |boards: Length| {
        let mut other = question.clone();
        for wheel in other.axles.iter_mut().flat_map(|axle| &mut axle.wheels) {
            wheel.top = wheel.top + boards;
        }
        other.jack.start = other.jack.start + boards;
        other
    };
    reached(&on_boards(*boards));
    assert!(matches!(solved(&on_boards(*boards - Length::mm(10.0))), Outcome::Missed { .. }));
    let found = findings(&question, true, &outcome, &[], &[]);
    assert_eq!(found[0].standing, Standing::PastLimit);
    assert!(
        matches!(&found[0].proof, Some(Proof::Refuted { counterexample }) if counterexample.contains("rear left misses by"))
    );
}

/// The miss is what is missing: with the seat lower by it, and a tenth of a millimetre more for the wheels' give, the leg clears.
#[test]
fn hand_the_miss_is_the_least_that_is_missing() {
    let mut question = four_legs(Way::LegAndSleeve);
    question.jack.lowest.top = Length::m(0.72);
    let outcome = solved(&question);
    let Outcome::Missed { miss, .. } = &outcome else { panic!("{outcome:?}") };
    assert!(miss.by > Length::mm(5.0), "{miss:?}");
    let lower = |by: Length| {
        let mut other = question.clone();
        for leg in &mut other.legs[..2] {
            leg.spring.top = leg.spring.top - by;
        }
        matches!(solved(&other), Outcome::Missed { miss, .. } if miss.leg == Some(0) && miss.set.is_empty())
    };
    assert!(lower(miss.by - Length::mm(0.1)));
    assert!(!lower(miss.by + Length::mm(0.1)));
}

/// The hitch jack starts and ends too low for the front legs: packing under it cures, and 10 mm less does not.
#[test]
fn hand_a_jack_that_does_not_go_high_enough_is_cured_by_packing_under_it() {
    let mut question = four_legs(Way::LegAndSleeve);
    question.jack.travel = Length::m(0.42);
    let outcome = solved(&question);
    let Outcome::Missed { miss, proved: true } = &outcome else { panic!("{outcome:?}") };
    assert_eq!((miss.set.as_slice(), miss.because.up), (&[0, 1][..], Stop::JackLongest));
    let found = cures(&question).expect("asked");
    let Some(Cure::JackPacking(packing)) = found.first() else { panic!("{found:?}") };
    let packed = |packing: Length| {
        let mut other = question.clone();
        other.jack.packing = packing;
        other
    };
    reached(&packed(*packing));
    assert!(matches!(solved(&packed(*packing - Length::mm(10.0))), Outcome::Missed { .. }));
}

#[test]
fn hand_a_leg_that_is_long_when_drawn_up_stops_the_nose() {
    let mut question = four_legs(Way::LegAndSleeve);
    for leg in &mut question.legs {
        leg.drawn_up = Some(Length::m(0.69));
    }
    let outcome = solved(&question);
    let Outcome::Missed { miss, proved: true } = &outcome else { panic!("{outcome:?}") };
    assert!(matches!(miss.because.down, Stop::DrawnUp(2 | 3)), "{miss:?}");
}

#[test]
fn hand_a_jack_of_too_little_load_is_named() {
    let mut question = four_legs(Way::LegAndSleeve);
    question.jack.rated = Some(Force::kn(30.0));
    let Outcome::Missed { miss, proved: true } = solved(&question) else { panic!("it goes") };
    assert_eq!(miss.because.up, Stop::JackLoad);
}

/// Front first does not go, since the rear cannot rise any more once the front stands; then it is another order, and that is said.
#[test]
fn hand_another_order_than_the_books_where_that_does_not_go() {
    let mut question = four_legs(Way::LegAndSleeve);
    question.legs.rotate_left(2);
    let found = reached(&question);
    assert!(!found.makers_order);
    let order: Vec<usize> = sets(&found).iter().map(|set| set.0).collect();
    assert_eq!(order, [2, 3, 0, 1]);
}

/// Common practice, no source: rear legs first with the nose down, then front legs with the nose up.
#[test]
fn hand_the_way_of_a_trailer_on_legs_alone_is_that_of_common_practice() {
    let question = four_legs(Way::LegAndSleeve);
    let practice = practice(&question, &reached(&question)).expect("asked").expect("holes at both ends");
    assert!(practice.agrees, "{practice:?}");
    let screws = four_legs(Way::Screw { shortest: Length::m(0.7) });
    assert_eq!(tober_calc::reach::practice(&screws, &reached(&screws)).expect("asked"), None);
}

/// The ground falls to the rear, so that the rear stands high enough as it rests, and the book has the front set first: it differs, it is said
/// why, and that the practice would go as well.
#[test]
fn hand_where_it_differs_from_common_practice_it_says_where_and_why() {
    let mut question = four_legs(Way::LegAndSleeve);
    for leg in &mut question.legs[..2] {
        leg.spring.top = Length::m(0.76);
    }
    for leg in &mut question.legs[2..] {
        leg.spring.top = Length::m(0.80);
    }
    question.legs.rotate_left(2);
    let found = reached(&question);
    assert!(found.makers_order);
    let practice = practice(&question, &found).expect("asked").expect("holes at both ends");
    assert!(!practice.agrees);
    let said = practice.sentences.join(" ");
    assert!(
        said.contains("the book's order asks for it") && said.contains("Rear legs first would go as well"),
        "{said}"
    );
    // In the order of the practice the rear needs no nose down.
    question.legs.rotate_left(2);
    let practice =
        tober_calc::reach::practice(&question, &reached(&question)).expect("asked").expect("holes");
    assert!(practice.sentences[0].contains("without the nose down"), "{practice:?}");
}

#[test]
fn refuse_questions_that_no_trailer_asks() {
    let sound = four_legs(Way::LegAndSleeve);
    let refused = |change: &dyn Fn(&mut Question)| {
        let mut question = sound.clone();
        change(&mut question);
        solve(&question, BUDGET).expect_err("it was worked out").to_string()
    };
    for (said, sentence) in [
        ("axles", refused(&|q| q.axles.clear())),
        ("legs", refused(&|q| q.legs.truncate(2))),
        ("travel", refused(&|q| q.jack.travel = Length::ZERO)),
        ("overlift", refused(&|q| q.legs[0].overlift = Length::m(-0.1))),
        ("packing", refused(&|q| q.jack.packing = Length::m(f64::NAN))),
        ("start", refused(&|q| q.jack.start = Length::m(f64::INFINITY))),
        ("shortest", refused(&|q| q.legs[0].way = Way::Screw { shortest: Length::m(0.9) })),
        ("weight", refused(&|q| q.load.down = Force::n(f64::NAN))),
    ] {
        assert!(sentence.contains(said) && sentence.ends_with('.'), "{said}: {sentence}");
    }
}

#[test]
fn refuse_a_way_once_the_budget_is_spent_and_never_call_that_proved() {
    let outcome = solve(&four_legs(Way::LegAndSleeve), 2).expect("asked");
    assert!(matches!(outcome, Outcome::Missed { proved: false, .. }), "{outcome:?}");
    let found = findings(&four_legs(Way::LegAndSleeve), true, &outcome, &[], &[]);
    assert_eq!(found[0].standing, Standing::NotKnown);
}
