//! An invented trailer on level ground, and what the checker says of an outcome.

use tober_calc::reach::{Axle, Doing, Jack, Leg, Outcome, Pose, Question, Sequence, Spring, Way};
use tober_calc::supports::Load;
use tober_fit::reach as fit;
use tober_quantity::{Force, Length, Stiffness};

pub fn spring(x_m: f64, y_m: f64, k_n_per_m: f64, top_m: f64) -> Spring {
    Spring {
        x: Length::m(x_m),
        y: Length::m(y_m),
        stiffness: Stiffness::n_per_m(k_n_per_m),
        top: Length::m(top_m),
    }
}

/// The wheels of an axle that rest at 0.78 m under 17 kN a side and hang 60 mm lower.
pub fn axle(name: &str, x_m: f64) -> Axle {
    let wheel = |y_m| spring(x_m, y_m, 17_000.0 / 0.06, 0.84);
    Axle { name: name.to_owned(), wheels: [wheel(1.0), wheel(-1.0)], rated: Some(Force::kn(50.0)) }
}

pub fn leg(name: &str, x_m: f64, y_m: f64, seat_m: f64, way: Way) -> Leg {
    let overlift = if matches!(way, Way::Screw { .. }) { Length::ZERO } else { Length::mm(6.0) };
    Leg {
        name: name.to_owned(),
        spring: spring(x_m, y_m, 2e7, seat_m),
        way,
        overlift,
        drawn_up: Some(Length::m(0.48)),
        rated: Some(Force::kn(70.0)),
    }
}

/// Two axles at 2.7 and 3.7 m, the hitch jack at 9.3 m from 0.42 to 0.92 m, legs at the rear and at the front.
pub fn four_legs(way: Way) -> Question {
    Question {
        axles: vec![axle("axle 1", 2.7), axle("axle 2", 3.7)],
        jack: Jack {
            lowest: spring(9.3, 0.0, 1e8, 0.42),
            travel: Length::m(0.5),
            packing: Length::ZERO,
            ground: Length::ZERO,
            rated: Some(Force::kn(45.0)),
            start: Length::m(0.78),
        },
        legs: vec![
            leg("rear left", 0.6, 1.9, 0.873, way),
            leg("rear right", 0.6, -1.9, 0.873, way),
            leg("front left", 8.4, 1.9, 0.873, way),
            leg("front right", 8.4, -1.9, 0.873, way),
        ],
        load: Load::weight(Force::kn(79.4), Length::m(4.47), Length::m(0.0)),
    }
}

pub fn way(outcome: &Outcome) -> &Sequence {
    match outcome {
        Outcome::Reached(way) => way,
        Outcome::Missed { miss, proved } => panic!("missed, proved {proved}: {miss:?}"),
    }
}

/// The legs in the order in which they are set, each with the height of the hitch jack.
pub fn sets(way: &Sequence) -> Vec<(usize, f64)> {
    let one = |step: &tober_calc::reach::Step| match step.doing {
        Doing::Set { leg, .. } => Some((leg, step.poses[0].jack.map_or(f64::NAN, Length::as_m))),
        _ => None,
    };
    way.steps.iter().filter_map(one).collect()
}

fn stood(spring: &Spring) -> fit::Stood {
    fit::Stood { x: spring.x, y: spring.y, stiffness: spring.stiffness, top: spring.top }
}

pub fn for_the_checker(question: &Question) -> fit::Question {
    let mut shortest = stood(&question.jack.lowest);
    shortest.top = shortest.top + question.jack.packing;
    fit::Question {
        axles: question
            .axles
            .iter()
            .map(|axle| fit::Axle {
                name: axle.name.clone(),
                wheels: [stood(&axle.wheels[0]), stood(&axle.wheels[1])],
                rated: axle.rated,
            })
            .collect(),
        jack: fit::Jack {
            shortest,
            longest: shortest.top + question.jack.travel,
            rated: question.jack.rated,
        },
        legs: question
            .legs
            .iter()
            .map(|leg| fit::Leg {
                name: leg.name.clone(),
                stood: stood(&leg.spring),
                wants: match leg.way {
                    Way::Screw { shortest } => fit::Wants::Screw { shortest },
                    _ => fit::Wants::Above(leg.overlift),
                },
                drawn_up: leg.drawn_up,
                rated: leg.rated,
            })
            .collect(),
        load: tober_fit::supports::Load {
            weight: question.load.down,
            x: question.load.x,
            y: question.load.y,
            about_x: question.load.moment_x,
            about_y: question.load.moment_y,
        },
    }
}

fn claimed(pose: &Pose) -> fit::Pose {
    fit::Pose {
        jack: pose.jack,
        legs: pose.legs.clone(),
        height: pose.lies.z,
        about_x: pose.lies.theta_x,
        about_y: pose.lies.theta_y,
        wheel_loads: pose.wheel_loads.clone(),
        jack_load: pose.jack_load,
        leg_loads: pose.leg_loads.clone(),
    }
}

/// What the checker says of a way.
pub fn checked(question: &Question, way: &Sequence) -> Result<fit::Verdict, Vec<fit::Refusal>> {
    let poses: Vec<fit::Pose> = core::iter::once(&way.start)
        .chain(way.steps.iter().flat_map(|step| &step.poses))
        .map(claimed)
        .collect();
    fit::check(&for_the_checker(question), &poses)
}
