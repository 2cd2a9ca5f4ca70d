//! Closed forms out of beam tables, and what a hand can work.
//!
//! A grillage needs three supports off one line. A plane beam is made of two alike, side by side and joined by
//! cross members that do not twist it: each then bends as the single beam of the table.

use crate::{E_PA, Ladder, assert_near, beam, down, foot, reactions_n, spot, stands};
use tober_calc::supports::flexible::{Beams, FootSpring, NodeLoad};

/// On forces, as a share of the load: rounding of a band solve, far above what is seen.
const SHARE: f64 = 1e-9;
/// A spring so stiff that its give is below every tolerance here.
const RIGID_N_PER_M: f64 = 1e12;
/// What the give of such springs and the rest of the model leave, as a share.
const NEARLY: f64 = 1e-4;

/// Two beams of the same places along, 2 m apart, with supports at some of the places.
struct Twin {
    beams: Beams,
    supports: Vec<usize>,
    loads: Vec<NodeLoad>,
}

/// `loads` are on each of the two beams.
fn twin(along_m: &[f64], supports: &[usize], loads: &[(usize, f64)], i_m4: f64) -> Twin {
    let mut beams = Beams { nodes: Vec::new(), members: Vec::new() };
    for (n, &x) in along_m.iter().enumerate() {
        beams.nodes.push(spot(x, 0.0));
        beams.nodes.push(spot(x, 2.0));
        // Stiff across, and without torsion to speak of, so that the beams turn freely at it.
        beams.members.push(beam(2 * n, 2 * n + 1, 1e-3, 1e-10));
        if n > 0 {
            beams.members.push(beam(2 * n - 2, 2 * n, i_m4, 0.0));
            beams.members.push(beam(2 * n - 1, 2 * n + 1, i_m4, 0.0));
        }
    }
    let both = |n: usize| [2 * n, 2 * n + 1];
    Twin {
        beams,
        supports: supports.iter().flat_map(|&n| both(n)).collect(),
        loads: loads.iter().flat_map(|&(n, p)| both(n).map(|node| down(node, p))).collect(),
    }
}

const I_M4: f64 = 4e-5;

#[test]
fn truth_a_simple_beam_sags_as_the_beam_table_says() {
    // P L^3/(48 EI) at mid-span, P a (3L² − 4a²)/(24 EI) there for two loads at a from the ends, each reaction P.
    // Beam tables of any handbook of structures: simply supported, point load in the middle; two equal loads.
    let (p, l) = (3e4, 6.0);
    let springs = [foot(RIGID_N_PER_M, 0.0); 4];
    let t = twin(&[0.0, 3.0, 6.0], &[0, 2], &[(1, p)], I_M4);
    let bent = stands(&t.beams, &t.supports, &springs, &t.loads);
    let sag = p * l * l * l / (48.0 * E_PA * I_M4);
    assert_near(bent.nodes[2].up.as_m(), -sag, sag * NEARLY);
    for r in reactions_n(&bent) {
        assert_near(r, p / 2.0, SHARE * p);
    }
    let a = 1.5;
    let t = twin(&[0.0, a, 3.0, l - a, l], &[0, 4], &[(1, p), (3, p)], I_M4);
    let bent = stands(&t.beams, &t.supports, &springs, &t.loads);
    let sag = p * a * (3.0 * l * l - 4.0 * a * a) / (24.0 * E_PA * I_M4);
    assert_near(bent.nodes[4].up.as_m(), -sag, sag * NEARLY);
}

#[test]
fn truth_a_beam_with_an_overhang_sags_and_rises_as_the_beam_table_says() {
    // Load P at the end of an overhang a beyond a span L: the end sags P a² (L + a)/(3 EI), the far support would lift
    // with P a/L (so a weight holds it down). Beam tables: overhanging one support, load at the end.
    let (p, l, a, hold) = (1e4, 5.0, 2.0, 9e3);
    let t = twin(&[0.0, l, l + a], &[0, 1], &[(2, p), (0, hold)], I_M4);
    let bent = stands(&t.beams, &t.supports, &[foot(RIGID_N_PER_M, 0.0); 4], &t.loads);
    let sag = p * a * a * (l + a) / (3.0 * E_PA * I_M4);
    assert_near(bent.nodes[4].up.as_m(), -sag, sag * NEARLY);
    let found = reactions_n(&bent);
    assert_near(found[0], hold - p * a / l, SHARE * p);
    assert_near(found[2], p * (1.0 + a / l), SHARE * p);
}

#[test]
fn truth_a_propped_cantilever_leaves_five_sixteenths_on_its_prop() {
    // Fixed end, prop at L, load P at mid-span: the prop carries 5P/16 (beam tables: fixed at one end, supported at
    // the other, load in the middle). A beam over three supports with equal spans and loads is fixed in its middle
    // by symmetry, so each end carries 5P/16 and the middle 22P/16.
    let (p, l) = (2e4, 4.0);
    let t = twin(&[0.0, l / 2.0, l, 1.5 * l, 2.0 * l], &[0, 2, 4], &[(1, p), (3, p)], I_M4);
    let found = reactions_n(&stands(&t.beams, &t.supports, &[foot(RIGID_N_PER_M, 0.0); 6], &t.loads));
    assert_near(found[0], 5.0 / 16.0 * p, NEARLY * p);
    assert_near(found[2], 22.0 / 16.0 * p, NEARLY * p);
    assert_near(found[4], 5.0 / 16.0 * p, NEARLY * p);
}

/// A beam over two equal spans with its load spread over many nodes.
fn two_spans(middle_gap_m: f64) -> (Vec<f64>, f64, f64) {
    let (w, l, parts) = (8e3, 4.0, 40_usize);
    let step = 2.0 * l / parts as f64;
    let along: Vec<f64> = (0..=parts).map(|n| n as f64 * step).collect();
    let share = |n: usize| if n == 0 || n == parts { 0.5 } else { 1.0 };
    let loads: Vec<(usize, f64)> = (0..=parts).map(|n| (n, w * step * share(n))).collect();
    let t = twin(&along, &[0, parts / 2, parts], &loads, I_M4);
    let mut feet = [foot(RIGID_N_PER_M, 0.0); 6];
    feet[2] = foot(RIGID_N_PER_M, middle_gap_m);
    feet[3] = feet[2];
    (reactions_n(&stands(&t.beams, &t.supports, &feet, &t.loads)), w, l)
}

#[test]
fn truth_two_equal_spans_carry_three_and_ten_eighths_and_sinking_takes_load_off_the_middle() {
    // 0.375, 1.25, 0.375 w L; a middle support that sinks s loses 6 E I s/L³ (FACTS-ground-structure-road.md ST-15:
    // textbooks, from memory, confidence high). Lumping 40 parts leaves an error of order 1/40²: 0.2 %.
    let lumped = 2e-3;
    let (level, w, l) = two_spans(0.0);
    for (found, expected) in level.iter().step_by(2).zip([0.375, 1.25, 0.375]) {
        assert_near(*found, expected * w * l, lumped * w * l);
    }
    let sunk_m = 1e-3;
    let (sunk, ..) = two_spans(sunk_m);
    let loses = 6.0 * E_PA * I_M4 * sunk_m / (l * l * l);
    assert_near(level[2] - sunk[2], loses, NEARLY * loses);
}

#[test]
fn truth_a_beam_on_many_springs_sags_as_a_beam_on_winkler_ground() {
    // FACTS-ground-structure-road.md WE-33: a rail on ground of k = 2,800 N per m per mm, I 12e6 mm⁴, E 205 kN/mm², under
    // 100 kN: β = (k/4EI)^(1/4) = 7.304e-4/mm, sinks Pβ/(2k) = 13.04 mm, M = P/(4β) = 34.23 kN m. That is for an endless
    // beam on ground that holds it down too; here ground only pushes, so a weight of 3 kN/m keeps the rail down,
    // which alone sinks w/k all along. Springs 400 mm apart over 12 m: the wave is spent at the ends, βx = 4.4.
    let (k, e, i, p) = (2.8e6, 205e9, 12e-6, 1e5);
    let (step, keep, w) = (0.4, 31_usize, 3e3);
    let along: Vec<f64> = (0..keep).map(|n| n as f64 * step).collect();
    let loads: Vec<(usize, f64)> =
        (0..keep).map(|n| (n, w * step + if n == keep / 2 { p } else { 0.0 })).collect();
    let all: Vec<usize> = (0..keep).collect();
    let t = twin(&along, &all, &loads, i * e / E_PA);
    let feet: Vec<FootSpring> = vec![foot(k * step, 0.0); 2 * keep];
    let bent = stands(&t.beams, &t.supports, &feet, &t.loads);
    assert!(bent.lifted.is_empty());
    let middle = 2 * (keep / 2);
    // WE-33's own tolerance.
    let tolerance = 0.005;
    let sinks = -bent.nodes[middle].up.as_m() - w / k;
    assert_near(sinks, 13.04e-3, tolerance * 13.04e-3);
    let moment = bent
        .forces
        .iter()
        .flat_map(|f| [f.moment_from.as_nm().abs(), f.moment_to.as_nm().abs()])
        .fold(0.0, f64::max);
    // Ground lumped at springs h apart takes k y h²/12 off the peak of the moment.
    let lumped = k * sinks * step * step / 12.0;
    assert_near(moment + lumped, 34.23e3, tolerance * 34.23e3);
}

#[test]
fn truth_a_twisted_frame_gives_as_four_equal_springs_with_the_warp_in_its_beams() {
    // FACTS-ground-structure-road.md ST-09: only the warp w = (d1 − d2 + d3 − d4)/4 changes reactions. A rigid frame
    // on springs k: R = P/4 ∓ k w. A frame whose own warp stiffness is c a corner is in series with them: R = P/4 ∓ w k c/(k + c).
    // c is worked out here from the frame itself by a fifth of the load of one warp pattern; see law_ for its symmetry.
    let (a, b, k, p, d) = (4.0, 1.5, 1e7, 4e5, 4e-3);
    let nodes = vec![spot(-a, -b), spot(a, -b), spot(a, b), spot(-a, b), spot(0.0, 0.0)];
    let rail = |from, to| beam(from, to, 1e-4, 1e-5);
    let members =
        vec![rail(0, 1), rail(1, 2), rail(2, 3), rail(3, 0), rail(0, 4), rail(1, 4), rail(2, 4), rail(3, 4)];
    let beams = Beams { nodes, members };
    let supports = [0, 1, 2, 3];
    let frame = tober_calc::supports::flexible::Condensed::new(&beams, &supports).expect("sound");
    let s = frame.support_stiffness();
    // In the warp pattern (+1, −1, +1, −1) every corner of this symmetric frame is held by the same force.
    let warp = [1.0, -1.0, 1.0, -1.0];
    let c: f64 = s[0].iter().zip(warp).map(|(s, w)| s * w).sum();
    let gaps = [d, 0.0, 0.0, 0.0];
    let feet: Vec<FootSpring> = gaps.iter().map(|&gap| foot(k, gap)).collect();
    let found = reactions_n(&stands(&beams, &supports, &feet, &[down(4, p)]));
    let loses = d / 4.0 * k * c / (k + c);
    for (r, sign) in found.iter().zip(warp) {
        assert_near(*r, p / 4.0 - sign * loses, SHARE * p);
    }
}

#[test]
fn hand_a_load_between_two_supports_does_not_depend_on_anything_but_statics() {
    // Three supports: shares are barycentric, whatever beams and springs are.
    let Ladder { beams, .. } = crate::ladder(&mut crate::Chance::new(5), 4, I_M4, 0.0);
    let supports = [0, 1, 8];
    let bent =
        stands(&beams, &supports, &[foot(1e7, 0.0), foot(3e6, 0.01), foot(5e7, -0.02)], &[down(4, 1e5)]);
    // Nodes 0 and 1 at x = 0, y = ∓0.5; node 8 at (9, −0.5); the load at node 4 is at (4.5, −0.5): half and half.
    let found = reactions_n(&bent);
    for (r, share) in found.iter().zip([0.5, 0.0, 0.5]) {
        assert_near(*r, share * 1e5, SHARE * 1e5);
    }
    // Exactly on the side from support 1 to support 3: the second carries nothing and the frame rocks.
    assert_eq!(bent.lifted, vec![1]);
    assert!(!bent.plane.unique);
}
