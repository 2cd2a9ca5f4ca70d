//! How long a crew waits for a frame of beams: condensing one, and solving one that is condensed.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use std::hint::black_box;
use std::time::Instant;
use tober_calc::supports::Spot;
use tober_calc::supports::flexible::{Beam, Beams, BeamsSolver, BentAnswer, Condensed, FootSpring, NodeLoad};
use tober_quantity::{Force, Length, Moment, Pressure, Quantity, SecondMoment, Stiffness};

fn beam(from: usize, to: usize) -> Beam {
    Beam {
        from,
        to,
        elasticity: Pressure::from_si(210e9),
        second_moment: SecondMoment::from_si(4e-5),
        shear_modulus: Pressure::from_si(81e9),
        torsion_constant: SecondMoment::from_si(1.3e-7),
    }
}

/// Two rails with cross beams and an outrigger at each support.
fn ladder(bays: usize, pairs: usize) -> (Beams, Vec<usize>) {
    let (mut nodes, mut members) = (Vec::new(), Vec::new());
    for b in 0..=bays {
        for y in [-0.5, 0.5] {
            nodes.push(Spot { x: Length::m(9.0 * b as f64 / bays as f64), y: Length::m(y) });
        }
        members.push(beam(2 * b, 2 * b + 1));
        if b > 0 {
            members.extend([beam(2 * b - 2, 2 * b), beam(2 * b - 1, 2 * b + 1)]);
        }
    }
    let mut supports = Vec::new();
    for pair in 0..pairs {
        let b = pair * bays / (pairs - 1);
        for (side, y) in [(0, -1.5), (1, 1.5)] {
            nodes.push(Spot { x: nodes[2 * b].x, y: Length::m(y) });
            members.push(beam(2 * b + side, nodes.len() - 1));
            supports.push(nodes.len() - 1);
        }
    }
    (Beams { nodes, members }, supports)
}

/// The microseconds of one of many, over half a second.
fn microseconds(mut one: impl FnMut(u64)) -> f64 {
    let (mut count, start) = (0_u64, Instant::now());
    while start.elapsed().as_millis() < 500 {
        for _ in 0..100 {
            one(count);
            count += 1;
        }
    }
    start.elapsed().as_secs_f64() * 1e6 / count as f64
}

fn main() {
    for (bays, pairs) in [(4, 2), (6, 3), (6, 4), (12, 6)] {
        let (beams, supports) = ladder(bays, pairs);
        let condense = microseconds(|_| {
            black_box(Condensed::new(black_box(&beams), black_box(&supports)).expect("sound"));
        });
        let frame = Condensed::new(&beams, &supports).expect("sound");
        let load = |node: usize| NodeLoad {
            node,
            down: Force::kn(20.0 + node as f64),
            moment_x: Moment::nm(500.0),
            moment_y: Moment::nm(-300.0),
        };
        let loads: Vec<NodeLoad> = (0..2 * (bays + 1)).map(load).collect();
        let load = microseconds(|_| {
            black_box(frame.column(black_box(&loads)).expect("sound"));
        });
        let column = frame.column(&loads).expect("sound");
        // Gaps that are never the same twice, so that nothing can be remembered, and that lift a foot now and then.
        let mut feet: Vec<FootSpring> = supports
            .iter()
            .map(|_| FootSpring { stiffness: Stiffness::mn_per_m(20.0), gap: Length::ZERO })
            .collect();
        let (mut solver, mut lifted) = (BeamsSolver::new(), 0_usize);
        let solve = microseconds(|n| {
            for (i, foot) in feet.iter_mut().enumerate() {
                foot.gap = Length::mm(((n * 7919 + i as u64 * 104_729) % 997) as f64 * 0.15);
            }
            match solver.solve(black_box(&frame), black_box(&feet), black_box(&column)) {
                Ok(BentAnswer::Stands(bent)) => lifted += usize::from(!bent.lifted.is_empty()),
                _ => panic!("every frame of the benchmark stands"),
            }
        });
        println!(
            "{} nodes, {} members, {} supports: condense {condense:.1} µs, a load {load:.2} µs, solve with proof {solve:.2} µs ({lifted} lifted a foot)",
            beams.nodes.len(),
            beams.members.len(),
            supports.len()
        );
    }
}
