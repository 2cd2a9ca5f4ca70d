//! What is found of one frame of beams with known springs, with the working.

use super::super::Support;
use super::super::solved::{coarse, given, sums};
use super::super::solver::Tips;
use super::condense::{Condensed, NodeLoad};
use super::solve::{Bent, FootSpring};
use crate::finding::{Basis, Finding, Proof, Subject};
use crate::working::{Working, sum};
use tober_quantity::{Length, Quantity, Shown};

const TITLE: &str = "the frame stands on its supports";

/// Where the loads act together: `x = (sum Q*x + My)/sum Q`, `y = (sum Q*y - Mx)/sum Q`.
fn resultant(frame: &Condensed, loads: &[NodeLoad]) -> Working {
    let mut w = Working::new();
    let (mut down, mut along, mut across) = (Vec::new(), Vec::new(), Vec::new());
    for (i, load) in loads.iter().enumerate() {
        let n = i + 1;
        let q = w.given(&format!("Q{n}"), &format!("load {n}, downward"), load.down, given());
        let x = coarse(
            &mut w,
            &format!("a{n}"),
            &format!("place of load {n} along"),
            Length::m(frame.x[load.node]),
        );
        let y = coarse(
            &mut w,
            &format!("b{n}"),
            &format!("place of load {n} across"),
            Length::m(frame.y[load.node]),
        );
        along.push(q.clone() * x);
        across.push(q.clone() * y);
        down.push(q);
        if load.moment_y.si() != 0.0 {
            along.push(w.given(
                &format!("My{n}"),
                &format!("its couple about y at {n}"),
                load.moment_y,
                given(),
            ));
        }
        if load.moment_x.si() != 0.0 {
            across.push(-w.given(
                &format!("Mx{n}"),
                &format!("its couple about x at {n}"),
                load.moment_x,
                given(),
            ));
        }
    }
    let down = w.line("W", "sum of the loads", sum(down), Shown::Force);
    let along = w.line("WX", "their moment along the frame", sum(along), Shown::Moment);
    let across = w.line("WY", "their moment across the frame", sum(across), Shown::Moment);
    w.line("x", "where the resultant acts along the frame", along / down.clone(), Shown::Coarse);
    w.line("y", "where the resultant acts across the frame", across / down, Shown::Coarse);
    w
}

/// The finding that a frame of beams tips.
pub fn bent_tips(names: &[String], frame: &Condensed, loads: &[NodeLoad], tips: &Tips) -> Finding {
    let name = |i: usize| names.get(i).map_or("?", String::as_str);
    let over = format!("It tips over the side from {} to {}.", name(tips.over.from), name(tips.over.to));
    Finding::statement("supports.stands", Subject::Frame, TITLE, false)
        .never_overridden()
        .basis(Basis::Mechanics)
        .proof(Proof::Refuted { counterexample: over })
        .working(resultant(frame, loads))
}

/// The finding that a frame of beams stands, with the load on each support.
pub fn bent_stands(
    names: &[String],
    frame: &Condensed,
    feet: &[FootSpring],
    loads: &[NodeLoad],
    answer: &Bent,
) -> Finding {
    let spots = frame.spots();
    let supports: Vec<Support> = spots
        .iter()
        .zip(feet)
        .map(|(spot, foot)| Support { x: spot.x, y: spot.y, stiffness: foot.stiffness, gap: foot.gap })
        .collect();
    let moved: Vec<Length> = frame.feet.iter().map(|&node| answer.nodes[node].up).collect();
    let mut working = resultant(frame, loads);
    working.append(sums(&answer.reactions, &moved, names, &supports));
    let residual = answer.certificate.residual();
    Finding::statement("supports.stands", Subject::Frame, TITLE, true)
        .never_overridden()
        .basis(Basis::Mechanics)
        .proof(Proof::Proved)
        .working(working)
        .note("The frame is taken as beams that bend and twist, without shear deformation.")
        .note(format!("Every node balances to {residual:.1e} of the load."))
}
