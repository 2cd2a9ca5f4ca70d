//! C3, a frame of beams on springs that push, held against outside numbers, closed forms, laws and bad input.

mod bands;
mod cases;
mod closed_forms;
mod laws;
mod refused;

use tober_calc::supports::Spot;
use tober_calc::supports::flexible::{
    Beam, Beams, BeamsSolver, Bent, BentAnswer, Column, Condensed, FootSpring, NodeLoad,
};
use tober_quantity::{Force, Length, Moment, Pressure, Quantity, SecondMoment, Stiffness};

/// Steel: E and G in Pa, as EN 1993-1-1:2005 clause 3.2.6 gives them.
const E_PA: f64 = 210e9;
const G_PA: f64 = 81e9;

fn spot(x_m: f64, y_m: f64) -> Spot {
    Spot { x: Length::m(x_m), y: Length::m(y_m) }
}

fn beam(from: usize, to: usize, i_m4: f64, j_m4: f64) -> Beam {
    Beam {
        from,
        to,
        elasticity: Pressure::from_si(E_PA),
        second_moment: SecondMoment::from_si(i_m4),
        shear_modulus: Pressure::from_si(G_PA),
        torsion_constant: SecondMoment::from_si(j_m4),
    }
}

fn foot(k_n_per_m: f64, gap_m: f64) -> FootSpring {
    FootSpring { stiffness: Stiffness::n_per_m(k_n_per_m), gap: Length::m(gap_m) }
}

fn down(node: usize, n: f64) -> NodeLoad {
    NodeLoad { node, down: Force::n(n), moment_x: Moment::ZERO, moment_y: Moment::ZERO }
}

fn solved(frame: &Condensed, feet: &[FootSpring], load: &Column) -> Bent {
    match BeamsSolver::new().solve(frame, feet, load) {
        Ok(BentAnswer::Stands(bent)) => bent.clone(),
        other => panic!("should stand: {other:?}"),
    }
}

fn stands(beams: &Beams, supports: &[usize], feet: &[FootSpring], loads: &[NodeLoad]) -> Bent {
    let frame = Condensed::new(beams, supports).expect("a sound frame");
    let column = frame.column(loads).expect("sound loads");
    solved(&frame, feet, &column)
}

fn reactions_n(bent: &Bent) -> Vec<f64> {
    bent.reactions.iter().map(|r| r.as_n()).collect()
}

fn assert_near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} and not {expected} within {tolerance}");
}

/// A small generator of numbers that look random and are the same on every machine (xorshift64*).
struct Chance(u64);

impl Chance {
    fn new(start: u64) -> Self {
        Self(start.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }
    fn between(&mut self, least: f64, greatest: f64) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let bits = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11;
        least + (greatest - least) * (bits as f64 / (1_u64 << 53) as f64)
    }
}

/// An invented ladder of a frame: two rails, cross beams, an outrigger at each support.
struct Ladder {
    beams: Beams,
    supports: Vec<usize>,
    feet: Vec<FootSpring>,
    loads: Vec<NodeLoad>,
}

fn ladder(chance: &mut Chance, bays: usize, i_m4: f64, gap_m: f64) -> Ladder {
    let (mut nodes, mut members) = (Vec::new(), Vec::new());
    for b in 0..=bays {
        let x = 9.0 * b as f64 / bays as f64;
        nodes.push(spot(x, -0.5));
        nodes.push(spot(x, 0.5));
        members.push(beam(2 * b, 2 * b + 1, i_m4, 1e-7));
        if b > 0 {
            members.push(beam(2 * b - 2, 2 * b, i_m4, 1e-7));
            members.push(beam(2 * b - 1, 2 * b + 1, i_m4, 1e-7));
        }
    }
    let (mut supports, mut feet, mut loads) = (Vec::new(), Vec::new(), Vec::new());
    for b in [0, bays / 2, bays] {
        for side in 0..2 {
            let inner = 2 * b + side;
            let out = if side == 0 { -chance.between(1.2, 1.8) } else { chance.between(1.2, 1.8) };
            nodes.push(spot(nodes[inner].x.as_m(), out));
            members.push(beam(inner, nodes.len() - 1, i_m4, 1e-7));
            supports.push(nodes.len() - 1);
            feet.push(foot(chance.between(3e6, 6e7), chance.between(-gap_m, gap_m)));
        }
    }
    for node in 0..2 * (bays + 1) {
        loads.push(NodeLoad {
            node,
            down: Force::n(chance.between(1e3, 4e4)),
            moment_x: Moment::nm(chance.between(-2e3, 2e3)),
            moment_y: Moment::nm(chance.between(-2e3, 2e3)),
        });
    }
    Ladder { beams: Beams { nodes, members }, supports, feet, loads }
}
