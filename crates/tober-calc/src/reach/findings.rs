//! What is found of a question of reach.

use super::answer::{Doing, Outcome, Sequence};
use super::follow::Pose;
use super::model::{Question, Way};
use crate::finding::{Basis, Finding, Proof, Sense, Subject};
use crate::working::{Provenance, Working};
use tober_quantity::{Amount, Force, Length, Quantity, Shown};

/// The greatest and least figures of a way and of those in the same order where things are as far off as they may be.
#[derive(Clone, Debug, PartialEq)]
pub struct Extremes {
    /// The greatest load on the hitch jack, least and greatest of all.
    pub jack: (Force, Force),
    /// The greatest load on each leg, least and greatest of all.
    pub legs: Vec<(Force, Force)>,
    /// How far past the seat of each leg the frame can be brought to set it, least and greatest of all.
    pub room: Vec<(Length, Length)>,
}

fn poses(way: &Sequence) -> impl Iterator<Item = &Pose> {
    core::iter::once(&way.start).chain(way.steps.iter().flat_map(|step| &step.poses))
}

/// The figures over all ways given; `None` where there is none. Ways of other orders may not be mixed.
pub fn extremes(ways: &[&Sequence]) -> Option<Extremes> {
    let first = ways.first()?;
    let legs = first.start.legs.len();
    let over = |of: &dyn Fn(&Sequence) -> f64| {
        let ends = ways.iter().map(|way| of(way));
        ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)))
    };
    let loads = |of: &dyn Fn(&Pose) -> Force| {
        let (low, high) = over(&|way| poses(way).map(|pose| of(pose).si()).fold(0.0, f64::max));
        (Force::n(low), Force::n(high))
    };
    let room = |leg: usize| {
        let (low, high) = over(&|way| {
            let room = way.steps.iter().find_map(|step| match step.doing {
                Doing::Set { leg: this, room, .. } if this == leg => Some(room.si()),
                _ => None,
            });
            room.unwrap_or(0.0)
        });
        (Length::m(low), Length::m(high))
    };
    Some(Extremes {
        jack: loads(&|pose| pose.jack_load),
        legs: (0..legs).map(|leg| loads(&|pose| pose.leg_loads[leg])).collect(),
        room: (0..legs).map(room).collect(),
    })
}

fn force(si: Force) -> Amount {
    si.mass().amount().shown(Shown::Load)
}

/// The findings on an outcome.
///
/// `in_book_order` says whether a way keeps the order of the book; `others` are ways in the same order where things are as far off as they may be; `off_by` is how far the height of each seat
/// may be off by the survey. The room to pin a leg is held against its overlift, the loads against what is
/// rated; that a way was found is a statement whose proof is the way itself.
pub fn findings(
    question: &Question,
    in_book_order: bool,
    outcome: &Outcome,
    others: &[Sequence],
    off_by: &[Length],
) -> Vec<Finding> {
    let title = "the crew can get the frame onto every leg";
    match outcome {
        Outcome::Missed { miss, proved } => {
            let told = capital(&miss.sentence(question));
            if *proved {
                vec![
                    Finding::statement("reach.way", Subject::Frame, title, false)
                        .basis(Basis::Mechanics)
                        .proof(Proof::Refuted { counterexample: told }),
                ]
            } else {
                let what = "A way was looked for and not found, and not every one was ruled out.";
                vec![
                    Finding::not_known("reach.way", Subject::Frame, title, what)
                        .basis(Basis::Mechanics)
                        .advice(told.clone())
                        .proof(Proof::NotReached { best: told }),
                ]
            }
        }
        Outcome::Reached(way) => {
            let ways: Vec<&Sequence> = core::iter::once(way).chain(others).collect();
            let Some(most) = extremes(&ways) else { return Vec::new() };
            of_way(question, in_book_order, &most, off_by)
        }
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

fn of_way(question: &Question, in_book_order: bool, most: &Extremes, off_by: &[Length]) -> Vec<Finding> {
    let title = "the crew can get the frame onto every leg";
    let order = if in_book_order { "in the order of the book" } else { "in another order than the book's" };
    let mut found = vec![
        Finding::statement("reach.way", Subject::Frame, title, true)
            .basis(Basis::Mechanics)
            .proof(Proof::Proved)
            .note(format!("The way itself is the proof, {order}; every pose on it is checked."))
            .note("Small slopes, a rigid frame, no friction; packing under the hitch jack stays as it is."),
    ];
    let band = (force(most.jack.0), force(most.jack.1));
    found.push(against(
        "reach.jack",
        Subject::Frame,
        "greatest load on the hitch jack while the legs are set",
        band,
        question.jack.rated,
    ));
    for (i, leg) in question.legs.iter().enumerate() {
        let subject = || Subject::Support(leg.name.clone());
        let band = (force(most.legs[i].0), force(most.legs[i].1));
        found.push(against(
            "reach.load",
            subject(),
            "greatest load on the leg while the legs are set",
            band,
            leg.rated,
        ));
        if matches!(leg.way, Way::Screw { .. }) || leg.overlift <= Length::ZERO {
            continue;
        }
        let off = off_by.get(i).copied().unwrap_or(Length::ZERO);
        let (low, high) = most.room[i];
        let mut w = Working::new();
        let r = w.given(
            "r",
            "greatest height past its seat to which the frame can be brought",
            low,
            Provenance::Computed,
        );
        let d =
            w.given("d", "what survey and bedding may take from it", off, Provenance::measured("the survey"));
        let least = w.line("r1", "what is sure of it", r - d, Shown::Fine);
        let low = Amount { si: least.value(), shown: Shown::Fine };
        let high = (high + off).amount();
        let title = "how far past its place the frame can be brought, to pin the leg";
        found.push(
            Finding::against_limit(
                "reach.clear",
                subject(),
                title,
                (low, high),
                leg.overlift.amount(),
                Sense::AtLeast,
            )
            .basis(Basis::MakersLimit)
            .working(w),
        );
    }
    found
}

fn against(
    code: &'static str,
    subject: Subject,
    title: &str,
    band: (Amount, Amount),
    rated: Option<Force>,
) -> Finding {
    match rated {
        Some(rated) => Finding::against_limit(code, subject, title, band, force(rated), Sense::AtMost)
            .basis(Basis::MakersLimit),
        None => Finding::without_limit(code, subject, title, band, "What it may carry is not in the book."),
    }
}
