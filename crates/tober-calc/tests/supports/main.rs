//! C3, the loads on the supports, held against outside numbers, closed forms, laws and bad input.

mod bands;
mod cases;
mod closed_forms;
mod findings;
mod oracle;
mod refused;
mod springs;

use tober_calc::supports::{Answer, Load, Stands, Support, solve};
use tober_quantity::{Force, Length, Moment, Stiffness};

/// A support in metres and newtons a metre.
fn support(x_m: f64, y_m: f64, k_n_per_m: f64, gap_m: f64) -> Support {
    Support {
        x: Length::m(x_m),
        y: Length::m(y_m),
        stiffness: Stiffness::n_per_m(k_n_per_m),
        gap: Length::m(gap_m),
    }
}

fn load(down_n: f64, x_m: f64, y_m: f64, moment_x_nm: f64, moment_y_nm: f64) -> Load {
    Load {
        down: Force::n(down_n),
        x: Length::m(x_m),
        y: Length::m(y_m),
        moment_x: Moment::nm(moment_x_nm),
        moment_y: Moment::nm(moment_y_nm),
    }
}

fn stands(supports: &[Support], load: &Load) -> Stands {
    match solve(supports, load) {
        Ok(Answer::Stands(stands)) => stands,
        other => panic!("should stand: {other:?}"),
    }
}

fn reactions_n(stands: &Stands) -> Vec<f64> {
    stands.reactions.iter().map(|r| r.as_n()).collect()
}

fn assert_near(found: &[f64], expected: &[f64], tolerance: f64) {
    assert_eq!(found.len(), expected.len());
    for (i, (f, e)) in found.iter().zip(expected).enumerate() {
        assert!((f - e).abs() <= tolerance, "number {i}: {f} and not {e}, of {found:?} and {expected:?}");
    }
}

/// A small generator of numbers that look random and are the same on every machine (xorshift64*).
struct Chance(u64);

impl Chance {
    fn new(start: u64) -> Self {
        Self(start.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }
    fn between(&mut self, least: f64, greatest: f64) -> f64 {
        least + (greatest - least) * ((self.next() >> 11) as f64 / (1_u64 << 53) as f64)
    }
    fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() % n as u64).expect("below n")
    }
}

/// A frame of a trailer ride: supports in pairs along both sides, a little out of line, gaps within
/// `gap_m`, and a load somewhere inside the middle of the hull.
fn random_frame(chance: &mut Chance, n: usize, gap_m: f64) -> (Vec<Support>, Load) {
    let mut supports = Vec::new();
    for i in 0..n {
        let x = 12.0 * (i / 2) as f64 / ((n - 1) / 2).max(1) as f64 + chance.between(-0.4, 0.4);
        let y = if i % 2 == 0 { 0.0 } else { 2.5 } + chance.between(-0.2, 0.2);
        supports.push(support(x, y, chance.between(2e6, 6e7), chance.between(-gap_m, gap_m)));
    }
    // A point inside the hull: a mixture of the supports.
    let shares: Vec<f64> = (0..n).map(|_| chance.between(0.0, 1.0)).collect();
    let total: f64 = shares.iter().sum();
    let mix = |of: fn(&Support) -> Length| {
        supports.iter().zip(&shares).map(|(s, w)| of(s).as_m() * w / total).sum::<f64>()
    };
    let (x, y) = (mix(|s| s.x), mix(|s| s.y));
    let weight = chance.between(5e4, 5e5);
    let (mx, my) = (chance.between(-1e3, 1e3), chance.between(-1e3, 1e3));
    (supports, load(weight, x - my / weight, y + mx / weight, mx, my))
}
