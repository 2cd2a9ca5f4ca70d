//! Common practice beside what was computed.

use super::answer::{Doing, Outcome, Sequence};
use super::model::{Question, ReachError, Way};
use super::search::{BUDGET, solve};
use tober_quantity::Length;

/// How a sequence compares with common practice (no source): the rear legs are set first, with the nose down, then the front
/// legs, with the nose up.
#[derive(Clone, Debug, PartialEq)]
pub struct Practice {
    /// Whether it is the same.
    pub agrees: bool,
    /// Where it differs and why, as whole sentences.
    pub sentences: Vec<String>,
}

/// Compares a sequence of a trailer with holes only; `None` for one with screws, or without legs at both ends.
///
/// Rear is behind the middle of the axles, which the frame turns about as long as it stands on its wheels.
///
/// # Errors
/// Where the question in the order of the practice is refused.
pub fn practice(question: &Question, sequence: &Sequence) -> Result<Option<Practice>, ReachError> {
    let wheels: Vec<Length> = question.axles.iter().map(|axle| axle.wheels[0].x).collect();
    let middle = wheels.iter().fold(Length::ZERO, |sum, &x| sum + x) / wheels.len().max(1) as f64;
    let rear = |leg: usize| question.legs[leg].spring.x < middle;
    let all = 0..question.legs.len();
    let screws = question.legs.iter().any(|leg| matches!(leg.way, Way::Screw { .. }));
    if screws || all.clone().all(rear) || !all.clone().any(rear) {
        return Ok(None);
    }
    let start = sequence.start.jack.unwrap_or(Length::ZERO);
    let sets: Vec<(usize, Length)> = sequence
        .steps
        .iter()
        .filter_map(|step| match step.doing {
            Doing::Set { leg, .. } => Some((leg, step.poses.first()?.jack?)),
            _ => None,
        })
        .collect();
    let mut sentences = Vec::new();
    let first_front = sets.iter().position(|&(leg, _)| !rear(leg));
    let rear_late = first_front.is_some_and(|first| sets[first..].iter().any(|&(leg, _)| rear(leg)));
    if rear_late {
        let why = if sequence.makers_order {
            "the book's order asks for it"
        } else {
            "the order found asks for it"
        };
        sentences.push(format!("Front legs are set before rear legs: {why}."));
        sentences.push(other_order(question, &rear)?);
    } else {
        if sets.iter().any(|&(leg, jack)| rear(leg) && jack >= start) {
            sentences.push(
                "The rear legs are set without the nose down: the frame is high enough there as it rests."
                    .to_owned(),
            );
        }
        if sets.iter().any(|&(leg, jack)| !rear(leg) && jack <= start) {
            sentences.push(
                "The front legs are set without the nose up: the frame is high enough there as it is."
                    .to_owned(),
            );
        }
    }
    Ok(Some(Practice { agrees: sentences.is_empty(), sentences }))
}

/// Whether it would go in the order of the practice.
fn other_order(question: &Question, rear: &dyn Fn(usize) -> bool) -> Result<String, ReachError> {
    let mut order: Vec<usize> = (0..question.legs.len()).collect();
    order.sort_by_key(|&leg| !rear(leg));
    let mut other = question.clone();
    other.legs = order.iter().map(|&leg| question.legs[leg].clone()).collect();
    Ok(match solve(&other, BUDGET)? {
        Outcome::Reached(way) if way.makers_order => "Rear legs first would go as well.".to_owned(),
        _ => "Rear legs first does not go here.".to_owned(),
    })
}
