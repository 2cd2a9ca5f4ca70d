//! How long the sweep over 64 seats takes, and all situations of a six-legged ride.

#![expect(clippy::print_stdout, reason = "a benchmark prints")]

use std::hint::black_box;
use std::time::Instant;
use tober_calc::stability::{
    Body, CarriedBy, Condition, Contact, Extreme, FactorSet, InWind, Interface, PartialLoadInput, Seat,
    Situation, StabilityInput, Surface, Swing, Tilt, TurningMass, Turntable, TurntableAngles, WindAction,
    edge_moment_places, greatest_out_of_balance, overturning, sliding, uplift, worst_partial_load,
};
use tober_calc::wind::WindLevel;
use tober_quantity::{
    Angle, Area, FrequencyOfTurning, Length, Mass, Pressure, Ratio, Slope, Toleranced, maths,
};

fn seats(n: usize, radius_m: f64) -> Vec<Seat> {
    let one = |i: usize| Seat {
        name: format!("seat {i}"),
        angle: Angle::deg(360.0 * i as f64 / n as f64 + 0.1 * (i % 7) as f64),
        radius: Length::m(radius_m + 0.05 * (i % 5) as f64),
        swing: Swing::Rigid,
        z: Some(Length::m(1.9)),
        riders: 2,
        rider_mass: Some(Mass::kg(80.0 + (i % 3) as f64)),
    };
    (0..n).map(one).collect()
}

fn turntable() -> Turntable {
    Turntable {
        x: Length::ZERO,
        y: Length::ZERO,
        angles: TurntableAngles::Any,
        speed: Some(FrequencyOfTurning::rpm(9.0)),
    }
}

fn ride(situation: Situation) -> StabilityInput {
    let contact = |(name, x, y): (&str, f64, f64)| Contact {
        name: name.to_owned(),
        x: Length::m(x),
        y: Length::m(y),
        z: Length::ZERO,
    };
    let legs = [
        ("FL", 3.4, 2.1),
        ("FR", 3.4, -2.1),
        ("ML", 0.0, 2.4),
        ("MR", 0.0, -2.4),
        ("RL", -3.4, 2.1),
        ("RR", -3.4, -2.1),
    ];
    let body = |name: String, kg: f64, x: f64, y: f64, z: f64, carried_by| Body {
        name,
        mass: Toleranced { value: Mass::kg(kg), off_by: Mass::kg(0.03 * kg) },
        x: Length::m(x),
        y: Length::m(y),
        z: Length::m(z),
        carried_by,
        wind: InWind::Face {
            drag_area_along: Area::m2(2.0),
            drag_area_across: Area::m2(3.0),
            lift_area: Area::m2(0.1),
            pressure_height: Length::m(z),
        },
    };
    let mut bodies = vec![
        body("frame".to_owned(), 5200.0, 0.2, 0.0, 0.9, CarriedBy::Frame),
        body("centre".to_owned(), 2400.0, 0.0, 0.0, 2.4, CarriedBy::Turntable),
    ];
    for arm in 0..8 {
        let angle = core::f64::consts::FRAC_PI_4 * f64::from(arm);
        let (c, s) = (maths::cos(angle), maths::sin(angle));
        bodies.push(body(format!("arm {arm}"), 210.0, 2.9 * c, 2.9 * s, 2.1, CarriedBy::Turntable));
    }
    StabilityInput {
        situation,
        contacts: legs.into_iter().map(contact).collect(),
        bodies,
        seats: Some(seats(16, 4.4)),
        turntable: Some(turntable()),
        tilt: Some(Tilt { along: Slope::mm_per_m(5.0), across: Slope::mm_per_m(5.0) }),
        wind: Some(WindAction { pressure: Pressure::pa(250.0), level: WindLevel::Actual }),
        factors: FactorSet::known(),
        interfaces: vec![Interface {
            upper: Surface::Steel,
            lower: Surface::Timber,
            condition: Condition::Clean,
        }],
        guys: vec![],
    }
}

fn time(what: &str, times: u32, mut job: impl FnMut()) {
    job();
    let begun = Instant::now();
    for _ in 0..times {
        job();
    }
    println!("{what}: {:.2} µs", begun.elapsed().as_secs_f64() * 1e6 / f64::from(times));
}

fn main() {
    let seats = seats(64, 4.4);
    let edge = ((Length::m(3.0), Length::m(2.0)), (Length::m(-3.0), Length::m(2.0)));
    let places = edge_moment_places(&seats, &turntable(), edge).expect("seats that are right");
    let input = PartialLoadInput {
        base: Default::default(),
        places,
        angles: TurntableAngles::Any,
        extreme: Extreme::Greatest,
    };
    time("worst partial load, edge moment, 64 seats", 10_000, || {
        black_box(worst_partial_load(black_box(&input)).expect("an answer"));
    });
    let masses: Vec<TurningMass> = seats
        .iter()
        .map(|seat| TurningMass {
            name: seat.name.clone(),
            mass: Mass::kg(160.0),
            least: Ratio::ZERO,
            radius: seat.radius,
            angle: seat.angle,
        })
        .collect();
    time("greatest out of balance, 64 seats", 10_000, || {
        black_box(greatest_out_of_balance(black_box(&masses)).expect("an answer"));
    });
    let situations: Vec<StabilityInput> = Situation::ALL.into_iter().map(ride).collect();
    time("seven situations, six legs, sixteen seats, ten bodies, seven factor sets", 200, || {
        for input in &situations {
            black_box(overturning(black_box(input)).expect("an answer"));
            black_box(sliding(black_box(input)).expect("an answer"));
            black_box(uplift(black_box(input)).expect("an answer"));
        }
    });
}
