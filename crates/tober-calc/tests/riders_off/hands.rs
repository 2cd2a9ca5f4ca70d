//! Worked by hand, and what is refused.

use super::{G, assert_near, seat, wheel};
use tober_calc::finding::{Standing, Subject};
use tober_calc::riders_off::{
    Allowed, RidersError, Stopped, WhyLeft, answered, findings, findings_of, followed,
};
use tober_quantity::{Angle, Mass, Moment};

/// Moments are told in whole newton metres, rounded up.
const WHOLE_N_M: f64 = 1.0;

fn names(question: &Stopped, seats: impl IntoIterator<Item = usize>) -> Vec<String> {
    seats.into_iter().map(|seat| question.seats[seat].name.clone()).collect()
}

/// Eight cars of 200 kg 3.5 m out. One car off: 200 · 9.80665 · 3.5 = 6865 N m, and whoever is first leaves that much; it
/// can be kept, since the second car off may be the one opposite, which leaves nothing.
#[test]
fn hand_a_full_wheel_needs_no_more_than_one_car_out_of_balance() {
    let question = wheel(3.5, &[200.0; 8]);
    let answer = answered(&question, None).unwrap();
    assert_near(answer.greatest.as_nm(), 200.0 * G * 3.5, WHOLE_N_M);
    assert!(answer.proved());
    assert_eq!(answer.order.len(), 8);
    // The first car stands at the platform already; each of the others must be brought there.
    assert_eq!(answer.turns, 7);
}

/// The same wheel emptied car by car round the platform: with four next to each other off, the other four are out of balance
/// by 2 (cos 22.5° + cos 67.5°) = 2.6131 cars: 17 940 N m.
#[test]
fn hand_car_by_car_from_the_platform_is_past_what_the_gear_holds() {
    let question = wheel(3.5, &[200.0; 8]);
    let answer = followed(&question, &[0, 1, 2, 3, 4, 5, 6, 7]).unwrap();
    let eighth = core::f64::consts::FRAC_PI_8;
    let four = 2.0 * (libm_cos(eighth) + libm_cos(3.0 * eighth));
    assert_near(answer.greatest.as_nm(), four * 200.0 * G * 3.5, WHOLE_N_M);
    let allowed = Allowed {
        out_of_balance: Some(Moment::knm(20.0)),
        holds: Some(Moment::knm(12.0)),
        ..Allowed::default()
    };
    let found = findings_of(&Subject::Ride, &question, &answer, allowed);
    assert_eq!(found[0].standing, Standing::Close);
    assert_eq!(found[1].standing, Standing::PastLimit);
    let best = answered(&question, allowed.moment(question.lean)).unwrap();
    let found = findings(&Subject::Ride, &question, &best, allowed);
    assert!(found.iter().all(|finding| finding.standing == Standing::Inside), "{found:#?}");
}

fn libm_cos(x: f64) -> f64 {
    tober_quantity::maths::cos(x)
}

/// Four cars, 100 kg at 1 m, and the one opposite the platform jammed: 981 N m remain with it at the end whatever is done.
/// With 900 N m allowed somebody must stay for its sake: the two at the sides and its opposite. Sides off: 0, 981 is the first
/// step already, so nobody may get off at all.
#[test]
fn hand_a_jammed_car_keeps_its_opposite_aboard() {
    let mut question = wheel(1.0, &[100.0; 4]);
    question.seats[2].jammed = true;
    let free = answered(&question, None).unwrap();
    assert_near(free.greatest.as_nm(), 100.0 * G, WHOLE_N_M);
    assert_eq!(free.left, [(2, WhyLeft::Jammed)]);
    let answer = answered(&question, Some(Moment::nm(900.0))).unwrap();
    assert!(answer.order.is_empty());
    assert_eq!(answer.left.len(), 4);
    assert!(answer.left_proved);
    // One rider at a time, two of 50 kg in each: the sides go off one here, one there, and the opposite of the jam stays.
    question.one_by_one = true;
    for seat in &mut question.seats {
        seat.riders = vec![(Mass::kg(50.0), Mass::kg(50.0)); 2];
    }
    let answer = answered(&question, Some(Moment::nm(900.0))).unwrap();
    assert_near(answer.greatest.as_nm(), 50.0 * G * 2.0_f64.sqrt(), WHOLE_N_M);
    let off: usize = answer.order.iter().map(|off| off.riders.len()).sum();
    assert_eq!(off, 5);
    assert_eq!(names(&question, answer.left.iter().map(|(seat, _)| *seat)), ["car 2", "car 0"]);
}

/// Nothing is turned: what stands within 50 degrees of the ladder can be reached, cars 0, 1 and 7 of eight, and nobody else.
#[test]
fn hand_without_turning_only_what_the_ladder_reaches() {
    let mut question = wheel(3.5, &[200.0; 8]);
    question.turning = false;
    question.access[0].within = Angle::deg(50.0);
    let answer = answered(&question, None).unwrap();
    let mut off: Vec<usize> = answer.order.iter().map(|off| off.seat).collect();
    off.sort_unstable();
    assert_eq!(off, [0, 1, 7]);
    assert_eq!(answer.turns, 0);
    assert_eq!(answer.left.iter().filter(|(_, why)| *why == WhyLeft::NotReached).count(), 5);
}

/// Two cars opposite each other, one with 60 to 100 kg, one with 70 to 90: the most that is out of balance is 100 − 70 = 30 kg
/// one way, 90 − 60 the other; then the heavier remains with all it may weigh, and the lighter one is the better to keep: 90.
#[test]
fn hand_bands_count_at_their_worse_end() {
    let mut question = wheel(1.0, &[80.0, 80.0]);
    question.seats[0].riders = vec![(Mass::kg(60.0), Mass::kg(100.0))];
    question.seats[1].riders = vec![(Mass::kg(70.0), Mass::kg(90.0))];
    let answer = answered(&question, None).unwrap();
    assert_near(answer.at_start.as_nm(), 30.0 * G, WHOLE_N_M);
    assert_near(answer.greatest.as_nm(), 90.0 * G, WHOLE_N_M);
    assert_eq!(answer.order.first().map(|off| off.seat), Some(0));
}

/// An axis that leans by 0.2 degrees feels 0.00349 of what is out of balance.
#[test]
fn hand_an_upright_axis_is_pulled_by_its_lean_alone() {
    let mut question = wheel(4.9, &[220.0, 0.0, 0.0, 0.0]);
    question.lean = Angle::deg(0.2);
    let answer = answered(&question, None).unwrap();
    let allowed = Allowed { out_of_balance: None, holds: Some(Moment::nm(300.0)), ..Allowed::default() };
    let found = findings_of(&Subject::Ride, &question, &answer, allowed);
    assert_eq!(found[0].standing, Standing::NotKnown);
    // 220 · 9.80665 · 4.9 · sin 0.2° = 36.9 N m, an eighth of 300.
    assert_eq!(found[1].share(), Some(13));
}

#[test]
fn refuse_what_is_out_of_range() {
    let mut question = wheel(3.5, &[200.0; 8]);
    question.seats[3].radius = tober_quantity::Length::m(-1.0);
    assert!(
        matches!(answered(&question, None), Err(RidersError::OutOfRange { ref field, .. }) if field == "seats[3].radius_m")
    );
    let mut question = wheel(3.5, &[200.0; 8]);
    question.seats[1].name = "car 0".to_owned();
    assert!(answered(&question, None).unwrap_err().to_string().contains("a name of its own"));
    let question = wheel(3.5, &[1.0; 33]);
    assert!(matches!(answered(&question, None), Err(RidersError::TooManySeats { given: 33 })));
    let mut question = wheel(3.5, &[200.0; 2]);
    question.seats[0].riders = vec![(Mass::kg(f64::NAN), Mass::kg(1.0))];
    assert!(answered(&question, None).is_err());
}

#[test]
fn refuse_an_order_that_names_who_is_not_there() {
    let mut question = wheel(3.5, &[200.0, 0.0, 200.0, 200.0]);
    question.seats[2].jammed = true;
    assert!(followed(&question, &[0, 0]).unwrap_err().to_string().contains("nobody is left in it"));
    assert!(followed(&question, &[1]).unwrap_err().to_string().contains("nobody is left in it"));
    assert!(followed(&question, &[2]).unwrap_err().to_string().contains("cannot be opened"));
    assert!(followed(&question, &[9]).is_err());
    let _ = seat("x", 1.0, 0.0, &[]);
}
