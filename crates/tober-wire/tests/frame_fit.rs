//! Frames of beams as one part solves them and the other, which shares no line with it, checks them.

use serde_json::Value;
use std::collections::BTreeSet;
use tober_calc::supports::flexible::{BeamsSolver, BentAnswer, Condensed};
use tober_fit::supports::{BeamsClaim, BeamsQuestion, Member, Tolerance, check_beams};
use tober_quantity::{Angle, Force, Length, Moment, Stiffness};
use tober_wire::calc::questions::{FrameQuestion, frame};

const BEAMS: &str = include_str!("../../tober-calc/tests/data/b_flexible.json");

fn cases(text: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(text).expect("the file is JSON");
    file["cases"].as_array().expect("it has cases").clone()
}

/// The shared cases' figures for a good method, far inside them.
const FORCE_SHARE: f64 = 1e-9;
const LENGTH_M: f64 = 1e-9;

fn solved(read: &FrameQuestion) -> (BeamsQuestion, BeamsClaim, Tolerance) {
    let condensed = Condensed::new(&read.beams, &read.supports).expect("sound");
    let column = condensed.column(&read.loads).expect("sound");
    let mut solver = BeamsSolver::new();
    let Ok(BentAnswer::Stands(bent)) = solver.solve(&condensed, &read.feet, &column) else {
        panic!("stands")
    };
    let supports = read.names.iter().zip(&read.supports).zip(&read.feet);
    let question = BeamsQuestion {
        nodes: read.beams.nodes.iter().map(|n| (n.x, n.y)).collect(),
        members: read
            .beams
            .members
            .iter()
            .map(|m| Member {
                from: m.from,
                to: m.to,
                elasticity: m.elasticity,
                second_moment: m.second_moment,
                shear_modulus: m.shear_modulus,
                torsion_constant: m.torsion_constant,
            })
            .collect(),
        supports: supports
            .map(|((name, &node), foot)| (name.clone(), node, foot.stiffness, foot.gap))
            .collect(),
        loads: read.loads.iter().map(|l| (l.node, l.down, l.moment_x, l.moment_y)).collect(),
    };
    let claim = BeamsClaim {
        reactions: bent.reactions.clone(),
        moved: bent.nodes.iter().map(|n| (n.up, n.turn_x, n.turn_y)).collect(),
        couples: bent.forces.iter().map(|f| (f.moment_from, f.moment_to, f.torque)).collect(),
    };
    let weight: f64 = read.loads.iter().map(|l| l.down.as_n()).sum();
    (question, claim, Tolerance { force: Force::n(FORCE_SHARE * weight), length: Length::m(LENGTH_M) })
}

fn all() -> Vec<(BeamsQuestion, BeamsClaim, Tolerance)> {
    cases(BEAMS).iter().map(|case| solved(&frame(case).expect("the case is sound"))).collect()
}

#[test]
fn law_what_was_solved_is_what_the_check_accepts() {
    let all = all();
    assert_eq!(all.len(), 12);
    for (question, claim, tolerance) in &all {
        let verdict = check_beams(question, claim, *tolerance).expect("the claim is sound");
        assert!(
            verdict.bent_off < Length::m(1e-11) && verdict.law_off <= tolerance.force * 2.0,
            "{verdict:?}"
        );
    }
}

#[test]
fn refuse_broken_certificates_of_a_frame_of_beams_for_their_reasons() {
    let mut met = BTreeSet::new();
    for (question, claim, tolerance) in all() {
        let mut broken = |change: &dyn Fn(&mut BeamsQuestion, &mut BeamsClaim), reason: &str| {
            let (mut q, mut c) = (question.clone(), claim.clone());
            change(&mut q, &mut c);
            let refusals = check_beams(&q, &c, tolerance).expect_err(reason);
            let codes: BTreeSet<&str> = refusals.iter().map(tober_fit::supports::Refusal::code).collect();
            assert!(codes.contains(reason), "{reason} and not {codes:?}");
            assert!(refusals.iter().all(|r| r.to_string().len() > 30));
            met.insert(reason.to_owned());
        };
        let small = Force::n(10.0);
        // Of a foot that stands clear other things are said than of one that carries.
        let one = claim.reactions.iter().position(|r| *r > Force::kn(1.0)).expect("one carries");
        broken(&|_, c| c.reactions[one] = c.reactions[one] + small, "node-does-not-balance");
        broken(&|_, c| c.reactions[one] = c.reactions[one] + small, "off-its-law");
        broken(&|_, c| c.reactions[2] = -small, "pulls");
        broken(&|_, c| c.couples[3].0 = c.couples[3].0 + Moment::nm(5.0), "node-does-not-balance");
        broken(&|_, c| c.couples[3].2 = c.couples[3].2 + Moment::nm(5.0), "member-off-its-bending");
        broken(&|_, c| c.moved[0].0 = c.moved[0].0 + Length::mm(0.1), "member-off-its-bending");
        broken(&|_, c| c.moved[4].1 = c.moved[4].1 + Angle::rad(1e-6), "member-off-its-bending");
        broken(&|_, c| c.moved[5].2 = Angle::rad(f64::NAN), "absurd");
        broken(&|q, _| q.loads[0].1 = q.loads[0].1 + small, "node-does-not-balance");
        broken(
            &|q, _| q.members[2].second_moment = q.members[2].second_moment * 1.01,
            "member-off-its-bending",
        );
        broken(
            &|q, _| q.supports[one].2 = Stiffness::n_per_m(q.supports[one].2.as_n_per_m() * 1.1),
            "off-its-law",
        );
        broken(&|_, c| c.reactions.truncate(2), "shape");
        broken(&|q, _| q.members[0].to = 999, "shape");
        // Another gap than was solved: whatever it does, the spring is not followed.
        broken(
            &|q, _| {
                q.supports[one].3 = q.supports[one].3 + Length::m(1.0);
            },
            "carries-while-clear",
        );
    }
    assert_eq!(met.len(), 7, "{met:?}");
    let (question, claim, tolerance) = &all()[0];
    let wide = Tolerance { force: tolerance.force * 1e8, ..*tolerance };
    let refusals = check_beams(question, claim, wide).expect_err("too wide");
    assert!(refusals.iter().any(|r| r.code() == "tolerance-too-wide"));
}
