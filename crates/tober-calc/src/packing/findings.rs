//! What is found of a packing answer, with the working.

use super::answer::{Answer, Certificate, Choice};
use super::model::Problem;
use crate::finding::{Basis, Finding, Proof, Sense, Subject};
use crate::working::{Provenance, Working, greatest};
use tober_quantity::{Amount, Length, Quantity, Shown, Slope, TenthMm};

/// The rule that the height of a stack may not pass its least width: reference TM-27, one contact a layer.
const STACK_RULE: &str =
    "rescue shoring practice: height at most the least width where the load goes through one contact a layer";

/// The findings on an answer. `greatest_lift` is the maker's, where the book has one.
///
/// Level, plane and stacks have no override: they are the maker's tolerances, and a search that kept them
/// to the tenth of a millimetre has no need of one. With no choice there is one finding, that none serves.
pub fn findings(problem: &Problem, answer: &Answer, greatest_lift: Option<Length>) -> Vec<Finding> {
    let title = "a packing that serves";
    match answer {
        Answer::Infeasible(certificate) => {
            let reason = refuted(problem, certificate);
            vec![
                Finding::statement("packing.serves", Subject::Frame, title, false)
                    .never_overridden()
                    .proof(Proof::Refuted { counterexample: reason })
                    .basis(Basis::MakersLimit),
            ]
        }
        Answer::NotReached { lift_no_less_than } => {
            let what = "The search ended before it found a packing or ruled one out.";
            let best = format!("nothing found; no lift below {} mm serves", tenths_text(*lift_no_less_than));
            vec![
                Finding::not_known("packing.serves", Subject::Frame, title, what)
                    .proof(Proof::NotReached { best }),
            ]
        }
        Answer::Optimal(choice) => of_choice(problem, choice, greatest_lift, Proof::Proved),
        Answer::BestFound { choice, lift_no_less_than, boards_no_less_than } => {
            let bound = format!(
                "found {} mm with {} boards; no lift below {} mm and, with this lift, no fewer than {} boards",
                tenths_text(choice.max_lift),
                choice.boards,
                tenths_text(*lift_no_less_than),
                boards_no_less_than
            );
            of_choice(problem, choice, greatest_lift, Proof::Bounded { bound })
        }
    }
}

fn tenths_text(length: TenthMm) -> String {
    tober_quantity::significant(length.length().as_mm(), 6)
}

fn of_choice(
    problem: &Problem,
    choice: &Choice,
    greatest_lift: Option<Length>,
    proof: Proof,
) -> Vec<Finding> {
    let mut list = vec![lift(problem, choice, greatest_lift, proof)];
    list.extend(level(problem, choice));
    for place in 0..problem.supports.len() {
        list.push(in_plane(problem, choice, place).working(plane_working(problem, choice, place)));
        list.push(stack(problem, choice, place));
    }
    list
}

fn lift(problem: &Problem, choice: &Choice, limit: Option<Length>, proof: Proof) -> Finding {
    let mut working = Working::new();
    let lifts = problem.supports.iter().zip(&choice.supports).enumerate().map(|(i, (support, placed))| {
        let n = i + 1;
        let packing = working.given(
            &format!("p{n}"),
            &format!("height of the stack under {}", support.name),
            placed.packing.length(),
            Provenance::chosen("this plan"),
        );
        let extension = working.given(
            &format!("e{n}"),
            &format!("leg of {} beyond its shortest", support.name),
            (placed.lift - placed.packing).length(),
            Provenance::chosen("this plan"),
        );
        packing + extension
    });
    let lifts: Vec<_> = lifts.collect();
    let most = working.line("L", "greatest lift", greatest(lifts), Shown::Fine);
    let figure = Amount { si: most.value(), shown: Shown::Fine };
    let (code, title) = ("packing.lift", "greatest lift of a corner above bare ground");
    let finding = match limit {
        Some(limit) => Finding::against_limit(
            code,
            Subject::Frame,
            title,
            (figure, figure),
            limit.amount(),
            Sense::AtMost,
        ),
        None => {
            let missing = "The book gives no greatest lift.";
            Finding::without_limit(code, Subject::Frame, title, (figure, figure), missing)
        }
    };
    finding.basis(Basis::MakersLimit).proof(proof).working(working)
}

#[expect(clippy::cast_precision_loss, reason = "slopes of a frame are far inside a double")]
fn level(problem: &Problem, choice: &Choice) -> [Finding; 2] {
    let (along, across, over) = choice.plane.slopes();
    let one = |code, title, slope: i128, tolerance: i64| {
        let slope = Slope::mm_per_m(slope as f64 / over as f64 / 10.0);
        let limit = Slope::mm_per_m(tolerance as f64 / 10.0);
        let mut working = Working::new();
        let s = working.given("s", "slope of the plane of the frame", slope, Provenance::chosen("this plan"));
        let size = working.line("|s|", "without its sign", s.abs(), Shown::Slope);
        let figure = Amount { si: size.value(), shown: Shown::Slope };
        Finding::against_limit(code, Subject::Frame, title, (figure, figure), limit.amount(), Sense::AtMost)
            .never_overridden()
            .basis(Basis::MakersLimit)
            .working(working)
            .note("As planned. The frame is read once all feet stand, and that reading counts.")
    };
    [
        one("packing.level-along", "level along the frame", along, problem.level_tol_x.0),
        one("packing.level-across", "level across the frame", across, problem.level_tol_y.0),
    ]
}

/// How far the seat of a support lies above the plane of the frame; below it if negative.
#[expect(clippy::cast_precision_loss, reason = "heights on a pitch are far inside a double")]
pub fn residual(problem: &Problem, choice: &Choice, place: usize) -> Length {
    let support = &problem.supports[place];
    let (height, over) = choice.plane.height_at(support.x_mm, support.y_mm);
    let tenths = (i128::from(choice.supports[place].seat.0) * over - height) as f64 / over as f64;
    Length::mm(tenths / 10.0)
}

fn in_plane(problem: &Problem, choice: &Choice, place: usize) -> Finding {
    let figure = residual(problem, choice, place).abs().amount().shown(Shown::Finest);
    let limit = problem.planarity_tol.length().amount().shown(Shown::Finest);
    let subject = Subject::Support(problem.supports[place].name.clone());
    let title = "foot in the plane of the frame";
    Finding::against_limit("packing.plane", subject, title, (figure, figure), limit, Sense::AtMost)
        .never_overridden()
        .basis(Basis::MakersLimit)
}

#[expect(clippy::cast_precision_loss, reason = "heights on a pitch are far inside a double")]
fn plane_working(problem: &Problem, choice: &Choice, place: usize) -> Working {
    let support = &problem.supports[place];
    let placed = &choice.supports[place];
    let plan = || Provenance::chosen("this plan");
    let mut w = Working::new();
    let ground = support.ground.length();
    let h = w.given("h", "height of the ground", ground, Provenance::measured("the survey"));
    let p = w.given("p", "height of the stack", placed.packing.length(), plan());
    let leg = placed.seat.length() - ground - placed.packing.length();
    let e = w.given("e", "length of the leg", leg, plan());
    let z = w.line("z", "height of the top of the leg", h + p + e, Shown::Fine);
    let (height, over) = choice.plane.height_at(support.x_mm, support.y_mm);
    let plane = Length::mm(height as f64 / over as f64 / 10.0);
    let f = w.given("f", "height of the plane of the frame here", plane, plan());
    w.line("d", "how far the top of the leg is from it", (z - f).abs(), Shown::Fine);
    w
}

fn stack(problem: &Problem, choice: &Choice, place: usize) -> Finding {
    let support = &problem.supports[place];
    let placed = &choice.supports[place];
    let most = support.max_stack.map_or(problem.max_stack, |own| own.min(problem.max_stack));
    let least_width = placed.laid.iter().filter_map(|&kind| problem.boards[kind].plan).map(|p| p.width).min();
    let mut working = Working::new();
    let p =
        working.given("p", "height of the stack", placed.packing.length(), Provenance::chosen("this plan"));
    let figure = Amount { si: p.value(), shown: Shown::Fine };
    let (limit, basis) = match (problem.rules.height_to_width, least_width) {
        (Some(ratio), Some(width)) => {
            let by_width = width.0 * i64::from(ratio.height) / i64::from(ratio.width);
            if by_width < most.0 {
                (TenthMm(by_width), Basis::from_memory(STACK_RULE))
            } else {
                (most, Basis::MakersLimit)
            }
        }
        _ => (most, Basis::MakersLimit),
    };
    let subject = Subject::Support(support.name.clone());
    let limit = limit.length().amount();
    Finding::against_limit(
        "packing.stack",
        subject,
        "height of the stack",
        (figure, figure),
        limit,
        Sense::AtMost,
    )
    .never_overridden()
    .basis(basis)
    .working(working)
}

/// Why nothing serves, in a sentence.
fn refuted(problem: &Problem, certificate: &Certificate) -> String {
    let name = |support: usize| problem.supports[support].name.as_str();
    match certificate {
        Certificate::NoStack { support } => {
            format!("No stack and setting that the rules admit reaches the least lift at {}.", name(*support))
        }
        Certificate::Plane { supports, seats } => {
            let ends: Vec<String> = supports
                .iter()
                .zip(seats)
                .map(|(&support, (low, high))| {
                    format!(
                        "{} can stand from {} to {} mm",
                        name(support),
                        tenths_text(*low),
                        tenths_text(*high)
                    )
                })
                .collect();
            format!(
                "Whatever boards there were, no frame inside the level tolerances meets these together: {}.",
                ends.join("; ")
            )
        }
        Certificate::Stock { prices, need, have, .. } => {
            let counted: Vec<String> = problem
                .boards
                .iter()
                .zip(prices)
                .filter(|(_, price)| **price > 0)
                .map(|(board, price)| {
                    format!("{price} for each of the {} of \"{}\"", board.count, board.name)
                })
                .collect();
            format!(
                "The kit cannot serve: counting {}, the cheapest stacks that reach need {need} and the kit holds {have}.",
                counted.join(", ")
            )
        }
        Certificate::Searched { nodes } => {
            format!("Every combination of holes and boards was ruled out, in {nodes} steps of the search.")
        }
    }
}
