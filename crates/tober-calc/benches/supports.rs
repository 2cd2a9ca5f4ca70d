//! How long a crew waits for the loads on the supports: solves a second, and one whole band.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use serde_json::json;
use std::hint::black_box;
use std::time::Instant;
use tober_calc::supports::{
    AnswerRef, BandAnswer, Between, Burden, Load, Place, Solver, Spot, Support, UncertainLoad,
    UncertainSupport, band,
};
use tober_quantity::{Force, Length, Moment, Stiffness};

/// A small generator of numbers that look random and are the same on every machine (xorshift64*).
struct Chance(u64);

impl Chance {
    fn between(&mut self, least: f64, greatest: f64) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let bits = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11;
        least + (greatest - least) * (bits as f64 / (1_u64 << 53) as f64)
    }
}

/// Pairs of legs along both sides of a frame, gaps within 10 mm, the load a mixture of the legs' places.
fn frame(chance: &mut Chance, n: usize) -> (Vec<Support>, Load) {
    let supports: Vec<Support> = (0..n)
        .map(|i| Support {
            x: Length::m(12.0 * (i / 2) as f64 / ((n - 1) / 2) as f64 + chance.between(-0.4, 0.4)),
            y: Length::m(if i % 2 == 0 { 0.0 } else { 2.5 } + chance.between(-0.2, 0.2)),
            stiffness: Stiffness::mn_per_m(chance.between(2.0, 60.0)),
            gap: Length::mm(chance.between(-10.0, 10.0)),
        })
        .collect();
    let shares: Vec<f64> = (0..n).map(|_| chance.between(0.0, 1.0)).collect();
    let total: f64 = shares.iter().sum();
    let mix = |of: fn(&Support) -> Length| {
        Length::m(supports.iter().zip(&shares).map(|(s, w)| of(s).as_m() * w / total).sum())
    };
    let load = Load::weight(Force::kn(chance.between(50.0, 500.0)), mix(|s| s.x), mix(|s| s.y));
    (supports, load)
}

/// The same frame as a crew knows it: gaps ±3 mm, stiffness from half to double, three bodies ± 5 %, wind.
fn ranges(supports: &[Support], load: &Load) -> (Vec<UncertainSupport>, UncertainLoad) {
    let legs = supports.iter().map(|s| UncertainSupport {
        spot: Spot { x: s.x, y: s.y },
        stiffness: Between { low: s.stiffness * 0.5, high: s.stiffness * 2.0 },
        gap: Between { low: s.gap * 0.3 - Length::mm(3.0), high: s.gap * 0.3 + Length::mm(3.0) },
        seen: None,
    });
    let bodies = [-1.0, 0.0, 1.0].map(|along| Burden {
        down: Between { low: load.down * (0.95 / 3.0), high: load.down * (1.05 / 3.0) },
        place: Place::At(Spot { x: load.x + Length::m(along), y: load.y }),
    });
    let wind = Between { low: Moment::knm(-5.0), high: Moment::knm(5.0) };
    (legs.collect(), UncertainLoad { burdens: bodies.to_vec(), moment_x: wind, moment_y: wind })
}

/// Solves a second over a thousand frames, no two alike, so that nothing can be remembered from the last.
fn solves_a_second(n: usize) -> f64 {
    let mut chance = Chance(0x9E37_79B9_7F4A_7C15 ^ n as u64);
    let frames: Vec<_> = (0..1000).map(|_| frame(&mut chance, n)).collect();
    let mut solver = Solver::new();
    let (mut stood, mut rounds) = (0_u64, 0_u64);
    let start = Instant::now();
    while start.elapsed().as_millis() < 500 {
        for (supports, load) in &frames {
            let answer = solver.solve(black_box(supports), black_box(load));
            stood += u64::from(matches!(answer, Ok(AnswerRef::Stands(_))));
        }
        rounds += 1;
    }
    let seconds = start.elapsed().as_secs_f64();
    let solves = rounds * frames.len() as u64;
    assert_eq!(stood, solves, "every frame of the benchmark stands");
    solves as f64 / seconds
}

/// The microseconds of each of 200 bands, quickest first, and how many reached both their ends.
fn bands(n: usize) -> (Vec<f64>, u32) {
    let mut chance = Chance(0xD1B5_4A32_D192_ED03 ^ n as u64);
    let mut times_us: Vec<f64> = Vec::new();
    let mut tight = 0;
    for _ in 0..200 {
        let (supports, load) = frame(&mut chance, n);
        let (legs, load) = ranges(&supports, &load);
        let start = Instant::now();
        let answer = band(black_box(&legs), black_box(&load));
        times_us.push(start.elapsed().as_secs_f64() * 1e6);
        tight += u32::from(matches!(answer, Ok(BandAnswer::Stands(band)) if band.tight));
    }
    times_us.sort_by(f64::total_cmp);
    (times_us, tight)
}

fn main() {
    let as_json = std::env::args().any(|arg| arg == "--json");
    let sizes = [4, 6, 8, 12];
    let solves = sizes.map(|n| (n, solves_a_second(n)));
    let bands = sizes.map(|n| (n, bands(n)));
    if as_json {
        let solves = solves.map(|(n, rate)| json!({ "supports": n, "solves_a_second": rate }));
        let bands = bands.map(|(n, (times_us, tight))| {
            json!({ "supports": n, "median_us": times_us[100], "worst_us": times_us[199], "tight_of_200": tight })
        });
        println!("{}", json!({ "solves": solves, "bands": bands }));
        return;
    }
    for (n, rate) in solves {
        println!("solve, {n:2} supports, all frames different: {rate:9.0} a second");
    }
    for (n, (times_us, tight)) in bands {
        println!(
            "band, {n:2} supports: median {:6.0} µs, worst {:6.0} µs, ends reached in {tight} of 200",
            times_us[100], times_us[199]
        );
    }
}
