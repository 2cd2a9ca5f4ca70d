//! C8 by winch, held against outside numbers, worked examples, laws and bad input.

mod by_hand;
mod cases;
mod gear;
mod gust;
mod hands;
mod laws;
mod lowering;
mod tolerances;

use tober_calc::lift::{Hinged, OnPart, Travel};
use tober_quantity::{Acceleration, Angle, Length, Mass, Ratio};

fn point(along_m: f64, normal_m: f64) -> OnPart {
    OnPart { along: Length::m(along_m), normal: Length::m(normal_m) }
}

fn part(mass_kg: f64, centre: OnPart, eye: OnPart, sheave_m: (f64, f64), falls: u32, eta: f64) -> Hinged {
    Hinged {
        mass: Mass::kg(mass_kg),
        centre,
        eye,
        sheave_x: Length::m(sheave_m.0),
        sheave_z: Length::m(sheave_m.1),
        falls,
        efficiency: Ratio::one(eta),
        gravity: Acceleration::m_s2(9.80665),
    }
}

fn travel(start_deg: f64, end_deg: f64, step_deg: f64) -> Travel {
    Travel { start: Angle::deg(start_deg), end: Angle::deg(end_deg), step: Angle::deg(step_deg) }
}

/// The weight of a tonne under standard gravity, N.
const TONNE_N: f64 = 9806.65;

#[track_caller]
fn assert_near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} and not {expected} within {tolerance}");
}
