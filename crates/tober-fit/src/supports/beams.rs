//! Do claimed reactions, movements and member forces belong to a frame of beams under its load?
//!
//! Three things are checked, each by itself: every node is in equilibrium under its load, its reaction and the ends of
//! its members; every member is bent and twisted by its end couples as `a = L(2 M1 - M2)/(6 EI)`, `b = L(2 M2 - M1)/(6 EI)`,
//! `t = T L/(GJ)` say, where a and b are what its ends slope against its chord and t is how much it twists; and every
//! support pushes and follows its spring, `R = k max(0, -u - g)`.
//!
//! With `(c, s)` the direction of a member, its end slopes along it by `theta_x s - theta_y c` and twists by
//! `theta_x c + theta_y s`. These conditions are those of a convex problem whose reactions are unique, so a claim that keeps
//! them is the answer, however found. Not covered: shear deformation, warping, strength.

use super::{Refusal, Tolerance, door};
use tober_quantity::{Angle, Force, Length, Moment, Pressure, SecondMoment, Stiffness, maths};

/// A frame of beams on springs that can only push.
#[derive(Clone, Debug, PartialEq)]
pub struct BeamsQuestion {
    /// Where the nodes are, along and across.
    pub nodes: Vec<(Length, Length)>,
    /// The members.
    pub members: Vec<Member>,
    /// The supports: name, node, stiffness, gap.
    pub supports: Vec<(String, usize, Stiffness, Length)>,
    /// The loads: node, force downward, couples about x and y.
    pub loads: Vec<(usize, Force, Moment, Moment)>,
}

/// A straight member of one section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Member {
    /// Its first node.
    pub from: usize,
    /// Its second node.
    pub to: usize,
    /// Modulus of elasticity.
    pub elasticity: Pressure,
    /// Second moment of area for bending up and down.
    pub second_moment: SecondMoment,
    /// Shear modulus.
    pub shear_modulus: Pressure,
    /// Torsion constant.
    pub torsion_constant: SecondMoment,
}

/// What is claimed.
#[derive(Clone, Debug, PartialEq)]
pub struct BeamsClaim {
    /// What each support pushes up with.
    pub reactions: Vec<Force>,
    /// How each node has moved: up, and its turns about x and y.
    pub moved: Vec<(Length, Angle, Angle)>,
    /// For each member the couples on its first and second end that go with the slope along it, and the torque on its
    /// second end.
    pub couples: Vec<(Moment, Moment, Moment)>,
}

/// What the check of a sound claim found, at the worst place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeamsVerdict {
    /// The force left over at a node.
    pub force_left: Force,
    /// The couple left over at a node.
    pub couple_left: Moment,
    /// How far a member end is from where its couples bend it.
    pub bent_off: Length,
    /// Difference of a reaction and what its spring gives.
    pub law_off: Force,
}

const NODES_MOST: usize = 1000;

/// Checks a claim on a frame of beams. A couple at a node may be off by the tolerance on force times a metre.
///
/// # Errors
/// All refusals: at the door alone, or of the supports, the nodes and the members in their order.
pub fn check_beams(
    question: &BeamsQuestion,
    claim: &BeamsClaim,
    tolerance: Tolerance,
) -> Result<BeamsVerdict, Vec<Refusal>> {
    let mut refusals = at_door(question, claim, tolerance);
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let mut left = vec![[0.0; 3]; question.nodes.len()];
    for &(node, down, about_x, about_y) in &question.loads {
        left[node][0] -= down.as_n();
        left[node][1] += about_x.as_nm();
        left[node][2] += about_y.as_nm();
    }
    let law_off = supports(question, claim, tolerance, &mut left, &mut refusals);
    let bent_off = members(question, claim, tolerance, &mut left, &mut refusals);
    let (mut force, mut couple) = (0.0_f64, 0.0_f64);
    for (node, [up, x, y]) in left.into_iter().enumerate() {
        force = force.max(up.abs());
        couple = couple.max(x.abs()).max(y.abs());
        let most = tolerance.force.as_n();
        if up.abs() > most || x.abs() > most || y.abs() > most {
            refusals.push(Refusal::NodeDoesNotBalance {
                node: node + 1,
                force: Force::n(up),
                about_x: Moment::nm(x),
                about_y: Moment::nm(y),
                most: tolerance.force,
            });
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    Ok(BeamsVerdict { force_left: Force::n(force), couple_left: Moment::nm(couple), bent_off, law_off })
}

fn supports(
    question: &BeamsQuestion,
    claim: &BeamsClaim,
    tolerance: Tolerance,
    left: &mut [[f64; 3]],
    refusals: &mut Vec<Refusal>,
) -> Force {
    let mut worst = Force::ZERO;
    for ((name, node, stiffness, gap), &reaction) in question.supports.iter().zip(&claim.reactions) {
        left[*node][0] += reaction.as_n();
        let pressed = -claim.moved[*node].0 - *gap;
        let force_of = |length: Length| Force::n(stiffness.as_n_per_m() * length.as_m());
        let law = force_of(pressed.max(Length::ZERO));
        worst = worst.max((reaction - law).abs());
        let support = name.clone();
        if reaction < Force::ZERO {
            refusals.push(Refusal::Pulls { support, reaction });
        } else if pressed < -tolerance.length && reaction > tolerance.force {
            refusals.push(Refusal::CarriesWhileClear { support, reaction, clear: -pressed });
        } else if (reaction - law).abs() > tolerance.force + force_of(tolerance.length) {
            refusals.push(Refusal::OffItsLaw { support, reaction, law });
        }
    }
    worst
}

fn members(
    question: &BeamsQuestion,
    claim: &BeamsClaim,
    tolerance: Tolerance,
    left: &mut [[f64; 3]],
    refusals: &mut Vec<Refusal>,
) -> Length {
    let mut worst = 0.0_f64;
    for (at, (member, couples)) in question.members.iter().zip(&claim.couples).enumerate() {
        let (a, b) = (question.nodes[member.from], question.nodes[member.to]);
        let (along, across) = ((b.0 - a.0).as_m(), (b.1 - a.1).as_m());
        let long = maths::hypot(along, across);
        let (c, s) = (along / long, across / long);
        let (first, second, torque) = (couples.0.as_nm(), couples.1.as_nm(), couples.2.as_nm());
        // The ends: shear from the couples, and both couples turned back into the axes of the frame.
        let shear = (first + second) / long;
        for (node, up, bend, twist) in
            [(member.from, shear, first, -torque), (member.to, -shear, second, torque)]
        {
            left[node][0] -= up;
            left[node][1] -= bend * s + twist * c;
            left[node][2] -= twist * s - bend * c;
        }
        let slope = |moved: (Length, Angle, Angle)| moved.1.as_rad() * s - moved.2.as_rad() * c;
        let turned = |moved: (Length, Angle, Angle)| moved.1.as_rad() * c + moved.2.as_rad() * s;
        let (p, q) = (claim.moved[member.from], claim.moved[member.to]);
        let chord = (q.0 - p.0).as_m() / long;
        let bending = member.elasticity.as_pa() * member.second_moment.as_m4();
        let twisting = member.shear_modulus.as_pa() * member.torsion_constant.as_m4();
        let share = long / (6.0 * bending);
        let mut off = (slope(p) - chord - share * (2.0 * first - second)).abs();
        off = off.max((slope(q) - chord - share * (2.0 * second - first)).abs());
        if twisting > 0.0 {
            off = off.max((turned(q) - turned(p) - torque * long / twisting).abs());
        } else if torque != 0.0 {
            off = f64::INFINITY;
        }
        let off = off * long;
        worst = worst.max(off);
        if off > tolerance.length.as_m() {
            refusals.push(Refusal::MemberOffItsBending {
                member: at + 1,
                off: Length::m(off),
                most: tolerance.length,
            });
        }
    }
    Length::m(worst)
}

fn at_door(question: &BeamsQuestion, claim: &BeamsClaim, tolerance: Tolerance) -> Vec<Refusal> {
    let mut refusals = Vec::new();
    let nodes = question.nodes.len();
    if question.supports.is_empty() {
        return vec![Refusal::NoSupports];
    }
    let mut shape = |what, expected, found| {
        if expected != found {
            refusals.push(Refusal::Shape { what, expected, found });
        }
    };
    shape("nodes that are checked", nodes.min(NODES_MOST), nodes);
    shape("reactions", question.supports.len(), claim.reactions.len());
    shape("movements of nodes", nodes, claim.moved.len());
    shape("couples of members", question.members.len(), claim.couples.len());
    let named = question.supports.iter().map(|s| s.1).chain(question.loads.iter().map(|l| l.0));
    let named = named.chain(question.members.iter().flat_map(|m| [m.from, m.to]));
    for node in named {
        shape("nodes that are named", node.min(nodes.saturating_sub(1)), node);
    }
    if !refusals.is_empty() {
        return refusals;
    }
    let mut within =
        |what, at: String, value, least, most| door::within(&mut refusals, &at, what, value, (least, most));
    for (i, at) in question.nodes.iter().enumerate() {
        let node = || format!("node {}", i + 1);
        within("position along", node(), at.0.as_m(), -1e3, 1e3);
        within("position across", node(), at.1.as_m(), -1e3, 1e3);
        let (up, x, y) = claim.moved[i];
        within("claimed movement", node(), up.as_m(), -1e3, 1e3);
        within("claimed turn about x", node(), x.as_rad(), -10.0, 10.0);
        within("claimed turn about y", node(), y.as_rad(), -10.0, 10.0);
    }
    for (i, (m, claimed)) in question.members.iter().zip(&claim.couples).enumerate() {
        let member = || format!("member {}", i + 1);
        let (a, b) = (question.nodes[m.from], question.nodes[m.to]);
        within("length", member(), maths::hypot((b.0 - a.0).as_m(), (b.1 - a.1).as_m()), 1e-4, 2e3);
        within("bending stiffness", member(), m.elasticity.as_pa() * m.second_moment.as_m4(), 1e-9, 1e18);
        within(
            "twisting stiffness",
            member(),
            m.shear_modulus.as_pa() * m.torsion_constant.as_m4(),
            0.0,
            1e18,
        );
        for couple in [claimed.0, claimed.1, claimed.2] {
            within("claimed couple", member(), couple.as_nm(), -1e12, 1e12);
        }
    }
    for ((name, _, k, gap), reaction) in question.supports.iter().zip(&claim.reactions) {
        within("stiffness", name.clone(), k.as_n_per_m(), 1.0, 1e15);
        within("gap", name.clone(), gap.as_m(), -100.0, 100.0);
        within("claimed reaction", name.clone(), reaction.as_n(), -1e9, 1e9);
    }
    for &(node, down, x, y) in &question.loads {
        let at = || format!("the load at node {}", node + 1);
        within("force", at(), down.as_n(), -1e9, 1e9);
        within("couple about x", at(), x.as_nm(), -1e12, 1e12);
        within("couple about y", at(), y.as_nm(), -1e12, 1e12);
    }
    let weight: f64 = question.loads.iter().map(|l| l.1.as_n()).sum();
    let stiffest = question.supports.iter().map(|s| s.2.as_n_per_m()).fold(1.0, f64::max);
    within("weight", "the loads".to_owned(), weight, 1e-3, 1e9);
    for (what, value_si, most_si) in [
        ("force", tolerance.force.as_n(), weight * 1e-3),
        ("length", tolerance.length.as_m(), (weight * 1e-3 / stiffest).min(1e-4)),
    ] {
        if most_si > 0.0 && !(0.0..=most_si).contains(&value_si) {
            refusals.push(Refusal::ToleranceTooWide { what, value_si, most_si });
        }
    }
    refusals
}
