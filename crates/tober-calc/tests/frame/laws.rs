//! Laws that every answer must keep.

use crate::cases::{Case, case, cases};
use crate::{Chance, Ladder, assert_near, beam, ladder, reactions_n, solved, spot, stands};
use tober_calc::supports::flexible::{Beams, Condensed, NodeLoad};
use tober_calc::supports::{Answer, Load, Support, solve};
use tober_quantity::{Force, Length, Moment, Quantity};

/// Share of the load that rounding may leave between two ways of writing the same frame.
const SAME: f64 = 1e-9;

fn frames() -> Vec<Ladder> {
    (0..60)
        .map(|n| {
            let mut chance = Chance::new(n + 1);
            let i = if n % 3 == 0 { 1e-4 } else { 3e-5 };
            ladder(&mut chance, 3 + (n as usize) % 4, i, if n % 2 == 0 { 0.15 } else { 0.003 })
        })
        .collect()
}

fn weight_n(loads: &[NodeLoad]) -> f64 {
    loads.iter().map(|l| l.down.as_n()).sum()
}

#[test]
fn law_reactions_balance_the_loads() {
    let mut lifted = 0;
    for l in frames() {
        let bent = stands(&l.beams, &l.supports, &l.feet, &l.loads);
        let weight = weight_n(&l.loads);
        let (mut up, mut along, mut across) = (-weight, 0.0, 0.0);
        for (&node, r) in l.supports.iter().zip(reactions_n(&bent)) {
            assert!(r >= 0.0);
            up += r;
            along += r * l.beams.nodes[node].x.as_m();
            across += r * l.beams.nodes[node].y.as_m();
        }
        for load in &l.loads {
            along -= load.down.as_n() * l.beams.nodes[load.node].x.as_m() + load.moment_y.as_nm();
            across -= load.down.as_n() * l.beams.nodes[load.node].y.as_m() - load.moment_x.as_nm();
        }
        assert_near(up, 0.0, SAME * weight);
        assert_near(along, 0.0, 10.0 * SAME * weight);
        assert_near(across, 0.0, 10.0 * SAME * weight);
        assert!(bent.certificate.holds());
        lifted += bent.lifted.len();
    }
    assert!(lifted >= 15, "the frames tried seldom lift: {lifted}");
}

#[test]
fn law_the_condensed_stiffness_is_reciprocal_and_knows_no_rigid_motion() {
    for l in frames() {
        let frame = Condensed::new(&l.beams, &l.supports).expect("sound");
        let s = frame.support_stiffness();
        let size = s.iter().flatten().fold(0.0_f64, |m, v| m.max(v.abs()));
        for (p, row) in s.iter().enumerate() {
            let (mut lift, mut pitch, mut roll) = (0.0, 0.0, 0.0);
            for (q, entry) in row.iter().enumerate() {
                assert_near(*entry, s[q][p], SAME * size);
                lift += entry;
                pitch += entry * l.beams.nodes[l.supports[q]].x.as_m();
                roll += entry * l.beams.nodes[l.supports[q]].y.as_m();
            }
            for held in [lift, pitch, roll] {
                assert_near(held, 0.0, 10.0 * SAME * size);
            }
        }
    }
}

#[test]
fn law_a_load_here_moves_there_what_a_load_there_moves_here() {
    // Maxwell's law, with every foot pressed in so that none comes or goes: the weights are heavy, the gaps nothing.
    let mut l = ladder(&mut Chance::new(9), 4, 5e-5, 0.0);
    let plain = stands(&l.beams, &l.supports, &l.feet, &l.loads);
    assert!(plain.lifted.is_empty());
    let mut moved = |at: usize, seen: usize| {
        l.loads.push(crate::down(at, 1e3));
        let bent = stands(&l.beams, &l.supports, &l.feet, &l.loads);
        l.loads.pop();
        assert!(bent.lifted.is_empty());
        bent.nodes[seen].up.as_m() - plain.nodes[seen].up.as_m()
    };
    for (a, b) in [(0, 5), (2, 7), (1, 8), (3, 9)] {
        let (there, here) = (moved(a, b), moved(b, a));
        assert!(there.abs() > 1e-9);
        assert_near(there, here, 1e-12);
    }
}

#[test]
fn law_a_mirrored_frame_gives_mirrored_answers() {
    for l in frames() {
        let bent = stands(&l.beams, &l.supports, &l.feet, &l.loads);
        let mut mirrored = l.beams.clone();
        mirrored.nodes.iter_mut().for_each(|n| n.y = -n.y);
        // A couple about x turns round in the mirror, one about y does not.
        let loads: Vec<NodeLoad> = l.loads.iter().map(|q| NodeLoad { moment_x: -q.moment_x, ..*q }).collect();
        let other = stands(&mirrored, &l.supports, &l.feet, &loads);
        for (a, b) in reactions_n(&bent).into_iter().zip(reactions_n(&other)) {
            assert_near(a, b, SAME * weight_n(&l.loads));
        }
    }
}

#[test]
fn law_loads_and_gaps_twice_as_great_give_all_twice_as_great() {
    for l in frames() {
        let bent = stands(&l.beams, &l.supports, &l.feet, &l.loads);
        let mut feet = l.feet.clone();
        feet.iter_mut().for_each(|f| f.gap = f.gap * 2.0);
        let loads: Vec<NodeLoad> = l
            .loads
            .iter()
            .map(|q| NodeLoad {
                down: q.down * 2.0,
                moment_x: q.moment_x * 2.0,
                moment_y: q.moment_y * 2.0,
                ..*q
            })
            .collect();
        let twice = stands(&l.beams, &l.supports, &feet, &loads);
        for (a, b) in bent.nodes.iter().zip(&twice.nodes) {
            assert_near(2.0 * a.up.as_m(), b.up.as_m(), 1e-10);
        }
        for (a, b) in reactions_n(&bent).into_iter().zip(reactions_n(&twice)) {
            assert_near(2.0 * a, b, SAME * weight_n(&loads));
        }
    }
}

#[test]
fn law_a_frame_made_stiffer_tends_to_the_rigid_frame() {
    for l in frames() {
        let weight = weight_n(&l.loads);
        let supports: Vec<Support> = l
            .supports
            .iter()
            .zip(&l.feet)
            .map(|(&node, f)| {
                let at = l.beams.nodes[node];
                Support { x: at.x, y: at.y, stiffness: f.stiffness, gap: f.gap }
            })
            .collect();
        let (mut mx, mut my) = (0.0, 0.0);
        for q in &l.loads {
            let at = l.beams.nodes[q.node];
            mx += q.moment_x.as_nm() - q.down.as_n() * at.y.as_m();
            my += q.moment_y.as_nm() + q.down.as_n() * at.x.as_m();
        }
        let load = Load {
            down: Force::n(weight),
            x: Length::ZERO,
            y: Length::ZERO,
            moment_x: Moment::nm(mx),
            moment_y: Moment::nm(my),
        };
        let Ok(Answer::Stands(rigid)) = solve(&supports, &load) else { panic!("stands") };
        let mut before = f64::INFINITY;
        for stiffer in [1e4, 1e6, 3e7] {
            let mut beams = l.beams.clone();
            for m in &mut beams.members {
                m.elasticity = m.elasticity * 40.0;
                m.shear_modulus = m.shear_modulus * 40.0;
                m.second_moment = m.second_moment * (stiffer / 40.0);
                m.torsion_constant = m.torsion_constant * (stiffer / 40.0);
            }
            let bent = stands(&beams, &l.supports, &l.feet, &l.loads);
            let off = bent.reactions.iter().zip(&rigid.reactions);
            let off = off.map(|(a, b)| (a.as_n() - b.as_n()).abs()).fold(0.0, f64::max) / weight;
            assert!(off <= before.max(SAME), "{stiffer:e}: {off:e} after {before:e}");
            // Nearer by about as much as it is stiffer, but for where a foot comes or goes.
            before = 0.1 * off;
        }
        assert!(before < 1e-4, "and {before:e} off at last");
    }
}

#[test]
fn law_numbering_is_nothing_to_the_answer() {
    for given in cases() {
        let Case { beams, supports, feet, loads, total_n } = case(&given);
        let bent = stands(&beams, &supports, &feet, &loads);
        let n = beams.nodes.len();
        let new = |node: usize| (node * 11 + 3) % n;
        assert!(n % 11 != 0, "eleven must not divide the count");
        let mut nodes = beams.nodes.clone();
        for (old, at) in beams.nodes.iter().enumerate() {
            nodes[new(old)] = *at;
        }
        let mut members: Vec<_> = beams.members.clone();
        for m in &mut members {
            // The other way round too.
            (m.from, m.to) = (new(m.to), new(m.from));
        }
        members.reverse();
        let turned: Vec<usize> = supports.iter().rev().map(|&s| new(s)).collect();
        let feet: Vec<_> = feet.into_iter().rev().collect();
        let loads: Vec<NodeLoad> = loads.iter().map(|q| NodeLoad { node: new(q.node), ..*q }).collect();
        let other = stands(&Beams { nodes, members }, &turned, &feet, &loads);
        for (a, b) in reactions_n(&bent).into_iter().zip(reactions_n(&other).into_iter().rev()) {
            assert_near(a, b, SAME * total_n);
        }
    }
}

#[test]
fn law_a_member_parted_in_two_bends_as_it_did() {
    use tober_calc::supports::flexible::attach;
    for given in cases() {
        let Case { beams, supports, feet, loads, total_n } = case(&given);
        let bent = stands(&beams, &supports, &feet, &loads);
        let mut parted = beams.clone();
        let m = beams.members[0];
        let (a, b) = (beams.nodes[m.from], beams.nodes[m.to]);
        let at = spot(0.3 * a.x.as_m() + 0.7 * b.x.as_m(), 0.3 * a.y.as_m() + 0.7 * b.y.as_m());
        let point = attach(&mut parted, at, Length::mm(1.0), "Support", 0).expect("on a beam");
        assert_eq!((point.node, parted.members.len()), (beams.nodes.len(), beams.members.len() + 1));
        let other = stands(&parted, &supports, &feet, &loads);
        for (a, b) in reactions_n(&bent).into_iter().zip(reactions_n(&other)) {
            assert_near(a, b, SAME * total_n);
        }
    }
}

#[test]
fn law_columns_add_as_loads_do() {
    let l = ladder(&mut Chance::new(3), 4, 5e-5, 0.01);
    let frame = Condensed::new(&l.beams, &l.supports).expect("sound");
    let whole = solved(&frame, &l.feet, &frame.column(&l.loads).expect("sound"));
    let mut sum = tober_calc::supports::flexible::Column::default();
    for load in &l.loads {
        let half = NodeLoad {
            down: load.down * 0.5,
            moment_x: load.moment_x * 0.5,
            moment_y: load.moment_y * 0.5,
            ..*load
        };
        sum.add(2.0, &frame.column(&[half]).expect("sound"));
    }
    let added = solved(&frame, &l.feet, &sum);
    for (a, b) in reactions_n(&whole).into_iter().zip(reactions_n(&added)) {
        assert_near(a, b, SAME * weight_n(&l.loads));
    }
}

/// The soft and stiff ends of what a maker could mean: bad numbers must not pass as answers.
#[test]
fn law_no_answer_leaves_without_its_proof() {
    for (i, j) in [(1e-9, 1e-12), (1e-6, 1e-9), (1e-2, 1e-3), (10.0, 1.0)] {
        let mut l = ladder(&mut Chance::new(17), 5, 1e-4, 0.005);
        for m in &mut l.beams.members {
            *m = beam(m.from, m.to, i, j);
        }
        let frame = Condensed::new(&l.beams, &l.supports).expect("sound");
        let column = frame.column(&l.loads).expect("sound");
        let mut solver = tober_calc::supports::flexible::BeamsSolver::new();
        if let Ok(tober_calc::supports::flexible::BentAnswer::Stands(bent)) =
            solver.solve(&frame, &l.feet, &column)
        {
            assert!(bent.certificate.residual() <= 1e-9 && bent.reactions.iter().all(|r| r.si() >= 0.0));
        }
    }
}
