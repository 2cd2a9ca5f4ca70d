//! What is found of one frame with known numbers, with the working.

use super::{Answer, Load, Support};
use crate::finding::{Basis, Finding, Proof, Subject};
use crate::working::{Provenance, Term, Working, sum};
use tober_quantity::{Force, Length, Quantity, Shown};

pub(super) fn given() -> Provenance {
    Provenance::chosen("as given in the question")
}

pub(super) fn coarse(w: &mut Working, symbol: &str, meaning: &str, length: Length) -> Term {
    w.given(symbol, meaning, length.amount().shown(Shown::Coarse), given())
}

/// Where the load acts, with its couples: `x = x_W + My/W`, `y = y_W − Mx/W`.
fn resultant(load: &Load) -> Working {
    let mut w = Working::new();
    let down = w.given("W", "weight", load.down, given());
    let at_x = coarse(&mut w, "xW", "where it acts along the frame", load.x);
    let at_y = coarse(&mut w, "yW", "where it acts across the frame", load.y);
    let about_x = w.given("Mx", "couple about the x axis", load.moment_x, given());
    let about_y = w.given("My", "couple about the y axis", load.moment_y, given());
    w.line("x", "where the resultant acts along the frame", at_x + about_y / down.clone(), Shown::Coarse);
    w.line("y", "where the resultant acts across the frame", at_y - about_x / down, Shown::Coarse);
    w
}

/// The three sums over the supports, which give the weight and its moments back.
pub(super) fn sums(reactions: &[Force], moved: &[Length], names: &[String], supports: &[Support]) -> Working {
    let mut w = Working::new();
    let (mut up, mut along, mut across) = (Vec::new(), Vec::new(), Vec::new());
    for (i, ((support, reaction), &moved)) in supports.iter().zip(reactions).zip(moved).enumerate() {
        let (n, name) = (i + 1, names.get(i).map_or("", String::as_str));
        let x = coarse(&mut w, &format!("x{n}"), &format!("place of {name} along the frame"), support.x);
        let y = coarse(&mut w, &format!("y{n}"), &format!("place of {name} across the frame"), support.y);
        let k = w.given(&format!("k{n}"), &format!("stiffness of {name}"), support.stiffness, given());
        let gap = w.given(&format!("g{n}"), &format!("gap of {name}"), support.gap, given());
        let u = w.given(
            &format!("u{n}"),
            &format!("how far the frame moves up at {name}"),
            moved,
            Provenance::Computed,
        );
        let reaction = if reaction.si() > 0.0 {
            w.line(&format!("R{n}"), &format!("load on {name}"), k * (-u - gap), Shown::Force)
        } else {
            w.given(
                &format!("R{n}"),
                &format!("load on {name}, which is clear"),
                *reaction,
                Provenance::Computed,
            )
        };
        up.push(reaction.clone());
        along.push(reaction.clone() * x);
        across.push(reaction * y);
    }
    w.line("ΣR", "sum of the loads: it is W", sum(up), Shown::Force);
    w.line("ΣRx", "their moment along the frame: it is W x", sum(along), Shown::Moment);
    w.line("ΣRy", "their moment across the frame: it is W y", sum(across), Shown::Moment);
    w
}

/// The findings on one frame with known numbers: whether it stands, and the load on each support, which has
/// no limit here.
pub fn solved_findings(names: &[String], supports: &[Support], load: &Load, answer: &Answer) -> Vec<Finding> {
    let title = "the frame stands on its supports";
    let name = |i: usize| names.get(i).map_or("?", String::as_str);
    match answer {
        Answer::Tips(tips) => {
            let over =
                format!("It tips over the side from {} to {}.", name(tips.over.from), name(tips.over.to));
            vec![
                Finding::statement("supports.stands", Subject::Frame, title, false)
                    .never_overridden()
                    .basis(Basis::Mechanics)
                    .proof(Proof::Refuted { counterexample: over })
                    .working(resultant(load)),
            ]
        }
        Answer::Stands(stands) => {
            let mut working = resultant(load);
            let moved: Vec<Length> = supports.iter().map(|s| stands.displacement.at(s.x, s.y)).collect();
            working.append(sums(&stands.reactions, &moved, names, supports));
            let residual = stands.certificate.residual();
            vec![
                Finding::statement("supports.stands", Subject::Frame, title, true)
                    .never_overridden()
                    .basis(Basis::Mechanics)
                    .proof(Proof::Proved)
                    .working(working)
                    .note(format!("The sums are met to {residual:.1e} of the weight.")),
            ]
        }
    }
}
