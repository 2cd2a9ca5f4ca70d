//! Orders in which riders get off: sound ones pass, each broken one is refused for its reason.

use tober_fit::riders_off::{Claim, Off, Question, Refusal, Seat, check};

const G: f64 = 9.80665;

/// Four cars of 100 kg, a metre out, with a platform where the first one stands.
fn four() -> Question {
    let seat = |i: u8| Seat {
        name: format!("car {i}"),
        radius_m: 1.0,
        angle_deg: f64::from(i) * 90.0,
        riders_kg: vec![(100.0, 100.0)],
        jammed: false,
    };
    Question {
        seats: (0..4).map(seat).collect(),
        places_deg: vec![(0.0, 5.0)],
        turned_deg: 0.0,
        turning: true,
        own_kg_m: (0.0, 0.0),
        g_m_s2: G,
    }
}

fn off(seat: usize, out_of_balance_n_m: f64) -> Off {
    Off { seat, riders: vec![0], turned_deg: -90.0 * seat as f64, out_of_balance_n_m }
}

/// 100 kg at a metre is 981 N m: the first off leaves its opposite, then nobody, and so on.
fn opposite() -> Claim {
    let order = vec![off(0, 981.0), off(2, 0.0), off(1, 981.0), off(3, 0.0)];
    Claim { order, greatest_n_m: 981.0, turns: 3, left: Vec::new(), least: true }
}

#[test]
fn hand_opposite_cars_pass_and_every_set_is_gone_through() {
    let verdict = check(&four(), &opposite()).unwrap();
    assert!(verdict.listed);
    assert_eq!(verdict.stages, 5);
}

/// Round the platform: two neighbours are left after two, 981 times the root of two.
#[test]
fn refuse_round_the_platform_as_the_least() {
    let order = vec![off(0, 981.0), off(1, 1387.0), off(2, 981.0), off(3, 0.0)];
    let mut claim = Claim { order, greatest_n_m: 1387.0, turns: 3, left: Vec::new(), least: true };
    assert!(matches!(check(&four(), &claim), Err(Refusal::NotLeast { .. })));
    claim.least = false;
    check(&four(), &claim).unwrap();
}

#[test]
fn refuse_each_broken_claim_for_its_reason() {
    type Break = (fn(&mut Question, &mut Claim), &'static str);
    let breaks: [Break; 10] = [
        (|question, _| question.seats[2].jammed = true, "cannot be opened"),
        (|question, _| question.turning = false, "may not be"),
        (|_, claim| claim.order[1].turned_deg = -90.0, "at no place"),
        (|_, claim| claim.order[3] = claim.order[0].clone(), "not in it"),
        (|_, claim| claim.order[2].out_of_balance_n_m = 900.0, "are claimed to be out of balance"),
        (|_, claim| claim.greatest_n_m = 900.0, "at the most"),
        (|_, claim| claim.turns = 2, "turns are claimed"),
        (|_, claim| claim.left = vec![1], "who stays"),
        (|_, claim| claim.order[0].seat = 9, "the number of a seat"),
        (|question, _| question.seats[0].radius_m = f64::NAN, "a value of the question"),
    ];
    for (spoil, says) in breaks {
        let (mut question, mut claim) = (four(), opposite());
        spoil(&mut question, &mut claim);
        let refusal = check(&question, &claim).unwrap_err().to_string();
        assert!(refusal.contains(says), "{refusal}");
    }
}

/// Of bands the worst corner counts: 60 to 100 kg opposite 70 to 90 kg are out of balance by 30 kg at the most, and with the first
/// off by the other's 90.
#[test]
fn hand_bands_count_at_their_worst_corner() {
    let mut question = four();
    question.seats.truncate(3);
    question.seats[0].riders_kg = vec![(60.0, 100.0)];
    question.seats[1].riders_kg = Vec::new();
    question.seats[2].riders_kg = vec![(70.0, 90.0)];
    let order = vec![off(0, (90.0 * G).ceil()), off(2, 0.0)];
    let claim = Claim { order, greatest_n_m: (90.0 * G).ceil(), turns: 1, left: Vec::new(), least: true };
    check(&question, &claim).unwrap();
}
