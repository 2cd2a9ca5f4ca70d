//! The loads of supports under a wheel: its turning pulls down and up through the hub, and to either side.

use super::stand_tests::{G, body, oblong, single};
use super::*;
use tober_quantity::{Angle, FrequencyOfTurning, Length, Stiffness, maths};

/// Binary noise of two ways to one number, as a share of it.
const NOISE: f64 = 1e-9;
/// A degree's step may miss an extreme by this share: 1 − cos 0.5°.
const STEP: f64 = 4e-5;

const HUB_M: f64 = 5.0;
const ACROSS_M: f64 = 2.4;
const ALONG_M: f64 = 3.0;
/// Nearly one turn in two seconds.
const OMEGA: f64 = 3.0;

fn wheel(hub: Option<Length>, situation: Situation) -> StabilityInput {
    let mut input = single(0.0, 0.0, 0.0, 0.0, 0.0);
    input.situation = situation;
    input.contacts = oblong(ALONG_M, ACROSS_M);
    let z = input.contacts[0].z;
    input.turntable = Some(Turntable {
        x: Length::m(0.5),
        y: Length::ZERO,
        angles: TurntableAngles::OfAWheel { hub: hub.map(|hub| hub + z) },
        speed: Some(FrequencyOfTurning::rad_per_s(OMEGA)),
    });
    // 400 kg at 3 m, told at 40 degrees from the lowest point to the left; and what stands still.
    let angle = Angle::deg(40.0).as_rad();
    let at = (0.5 + 3.0 * maths::cos(angle), 3.0 * maths::sin(angle), 8.0);
    input.bodies = vec![
        body("out of balance", 400.0, 0.0, at, CarriedBy::Turntable),
        body("frame", 3000.0, 0.0, (0.2, 0.1, 0.0), CarriedBy::Frame),
    ];
    input.seats = Some(Vec::new());
    input
}

/// R = V/4 + V_x x/(4 a²) + (V_y + S H) y/(4 b²) for feet at (±a, ±b) on equal springs: at each degree the weight stands at
/// r sin b beside the hub, and F = m r ω² acts through the hub, F cos b down and F sin b to the left.
fn by_statics(degree: f64, turning: bool, (x, y): (f64, f64)) -> f64 {
    let angle = Angle::deg(degree).as_rad();
    let (sin, cos) = (maths::sin(angle), maths::cos(angle));
    let (weight, still) = (400.0 * G, 3000.0 * G);
    let force = if turning { 400.0 * 3.0 * OMEGA * OMEGA } else { 0.0 };
    let down = weight + still + force * cos;
    let along = (weight + force * cos) * 0.5 + still * 0.2;
    let across = weight * 3.0 * sin + still * 0.1 + force * sin * HUB_M;
    down / 4.0 + along * x / (4.0 * ALONG_M * ALONG_M) + across * y / (4.0 * ACROSS_M * ACROSS_M)
}

#[test]
fn hand_the_feet_of_a_wheel_out_of_balance() {
    for situation in [Situation::OpenEmpty, Situation::Turning] {
        let input = wheel(Some(Length::m(HUB_M)), situation);
        let loads = support_extremes(&input, &[Stiffness::n_per_m(1e7); 4]).unwrap();
        for (load, contact) in loads.known().expect("known").iter().zip(&input.contacts) {
            let at = (contact.x.as_m(), contact.y.as_m());
            let all = (0..360).flat_map(|degree| {
                let turning = situation == Situation::Turning;
                [false, turning].map(|turning| by_statics(f64::from(degree), turning, at))
            });
            let (least, most) =
                all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), r| (a.min(r), b.max(r)));
            let spread = (most - least) * STEP + most.abs() * NOISE;
            assert!(load.greatest.as_n() >= most - most.abs() * NOISE, "{load:?} {most}");
            assert!(load.least.as_n() <= least + most.abs() * NOISE, "{load:?} {least}");
            assert!((load.greatest.as_n() - most).abs() <= spread, "{load:?} {most}");
            assert!((load.least.as_n() - least).abs() <= spread, "{load:?} {least}");
        }
    }
}

/// Without the height of its hub the loads under a wheel are not known; and what an upright turntable gives does not change.
#[test]
fn refuse_loads_under_a_wheel_whose_hub_nobody_told() {
    let input = wheel(None, Situation::Turning);
    let answer = support_extremes(&input, &[Stiffness::n_per_m(1e7); 4]).unwrap();
    let Answer::NotKnown(missing) = answer else { panic!("{answer:?}") };
    assert!(missing.iter().any(|what| what.contains("hub")), "{missing:?}");
}

/// Wind at a stage is asked for, and tips: in more wind it is nearer to its limit.
#[test]
fn law_a_stage_stands_in_wind() {
    use super::stand_tests::{governing, ride};
    use tober_quantity::Pressure;
    let mut input = ride(Situation::Stage);
    input.wind = None;
    assert!(overturning(&input).unwrap().iter().all(|answer| answer.known().is_none()), "no wind was told");
    let share = |pascals: f64| {
        let mut input = ride(Situation::Stage);
        input.wind.as_mut().expect("a wind").pressure = Pressure::pa(pascals);
        governing(&input).share.expect("something holds").as_one()
    };
    assert!(share(200.0) > share(50.0) && share(50.0) > share(0.0));
}
