//! How long a crew waits for the loads on the supports: solves a second, and one whole band.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use std::hint::black_box;
use std::time::Instant;
use tober_calc::supports::{AnswerRef, Load, Solver, Support};
use tober_quantity::{Force, Length, Stiffness};

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

fn main() {
    for n in [4, 6, 8, 12] {
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
        println!("solve, {n:2} supports, all frames different: {:9.0} a second", solves as f64 / seconds);
    }
}
