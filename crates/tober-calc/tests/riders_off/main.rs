//! C17 getting riders off, held against every order gone through, worked examples, laws and bad input.

mod hands;
mod laws;
mod listed;

use tober_calc::riders_off::{Access, Seat, Stopped};
use tober_quantity::{Acceleration, Angle, Length, Mass};

/// Standard gravity, m/s², 3rd CGPM (1901).
const G: f64 = 9.80665;

fn seat(name: &str, radius_m: f64, angle_deg: f64, riders_kg: &[(f64, f64)]) -> Seat {
    Seat {
        name: name.to_owned(),
        radius: Length::m(radius_m),
        angle: Angle::deg(angle_deg),
        riders: riders_kg.iter().map(|(a, b)| (Mass::kg(*a), Mass::kg(*b))).collect(),
        jammed: false,
    }
}

/// A wheel of seats evenly about it, filled with riders of one mass each, with a platform at its lowest point.
fn wheel(radius_m: f64, riders_kg: &[f64]) -> Stopped {
    let apart = 360.0 / riders_kg.len() as f64;
    let seats = riders_kg.iter().enumerate().map(|(i, &kg)| {
        let riders = if kg > 0.0 { vec![(kg, kg)] } else { Vec::new() };
        seat(&format!("car {i}"), radius_m, apart * i as f64, &riders)
    });
    Stopped {
        seats: seats.collect(),
        access: vec![Access { name: "platform".to_owned(), angle: Angle::ZERO, within: Angle::deg(1.0) }],
        turned: Angle::ZERO,
        turning: true,
        one_by_one: false,
        lean: Angle::deg(90.0),
        own_kg_m: (0.0, 0.0),
        gravity: Acceleration::m_s2(G),
    }
}

/// Numbers that look like chance and are the same each time.
struct Seeded(u64);

impl Seeded {
    fn below(&mut self, most: u64) -> u64 {
        // Steele, Lea and Flood (2014), the mixing step of SplitMix64, from memory.
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % most
    }
}

#[track_caller]
fn assert_near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} and not {expected} within {tolerance}");
}
