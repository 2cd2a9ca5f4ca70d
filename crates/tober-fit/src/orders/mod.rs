//! Is no stage of a procedure worth more, or less, than the one named?
//!
//! A stage is a set of steps done that holds with each step all that must be done before it; besides, steps with a peak may be
//! under way when all before them is done. Its value is the start, the changes of the steps done and the peaks of those under way.
//!
//! A step counts as one node of weight `change`, or, with a peak, as two: begun, of weight `peak`, and done, of weight
//! `change − peak`, which needs begun. A step needs, to begin, the done node of each step before it. A stage is a set of nodes that holds what
//! each needs, and its value is the start and the weights in it. The proof moves amounts, none below zero, from a node onto one that it
//! needs. A set that holds what each node needs never loses by that: it holds the second node wherever it holds the first. So
//!
//! `value <= start + sum of new weights over the nodes that have to be in + sum of those above zero over the others`
//!
//! for every stage, and the stage named is worth exactly as much. For a least value the start and the weights are negated first.
//!
//! The stage named is also one of fewest steps: a stage as good holds every node of new weight above zero, with each node what it
//! needs and, with each node, all from which something was moved onto it. The smallest set of that kind is built and compared.
//!
//! All numbers are whole and every sum is tested for its room, so nothing is rounded.
//!
//! # Not covered
//! Whether the weights are those of the ride.

mod cures;
mod refusal;
mod turning;

pub use cures::{Cure, FEWEST_MOST, Offence, check_cure};
pub use refusal::Refusal;
pub use turning::{Arm, Body, Direction, TurningClaim, TurningQuestion, check_branches, check_turning};

/// Which end is claimed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// No stage is worth more.
    Greatest,
    /// No stage is worth less.
    Least,
}

/// What is asked: the rules, the weights, and which steps are held done or open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// For each step, those that must be done before it.
    pub after: Vec<Vec<usize>>,
    /// The value before any step.
    pub start: i128,
    /// What each step changes when it is done.
    pub change: Vec<i128>,
    /// What each step changes while it is under way; empty, or an entry for each step.
    pub peak: Vec<Option<i128>>,
    /// Steps that are done in every stage asked about.
    pub done: Vec<usize>,
    /// Steps that are neither done nor under way in any stage asked about.
    pub open: Vec<usize>,
    /// Which end.
    pub side: Side,
}

/// An amount moved: between the begun node of `from` and the done node of `to`, or, where both are one step, from its done
/// node onto its begun node.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moved {
    /// Taken off this step.
    pub from: usize,
    /// Put on this one.
    pub to: usize,
    /// How much.
    pub amount: i128,
}

/// What is claimed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Claim {
    /// The value.
    pub value: i128,
    /// The steps done.
    pub done: Vec<usize>,
    /// The steps begun and not done.
    pub under_way: Vec<usize>,
    /// The proof.
    pub moved: Vec<Moved>,
}

/// Checks a claimed extreme.
///
/// # Errors
/// The first reason that the claim fails, in this order: shape, stage, value, proof, fewest steps.
pub fn check(question: &Question, claim: &Claim) -> Result<(), Refusal> {
    let steps = question.after.len();
    shape(question, claim)?;
    let (done, under_way) = (marked(steps, &claim.done), marked(steps, &claim.under_way));
    stage(question, &done, &under_way)?;

    // The value, summed up in the order of the steps.
    let mut value = question.start;
    for step in 0..steps {
        if done[step] {
            value = add(value, question.change[step])?;
        } else if let (true, Some(Some(peak))) = (under_way[step], question.peak.get(step)) {
            value = add(value, *peak)?;
        }
    }
    if value != claim.value {
        return Err(Refusal::Value { claimed: claim.value, found: value });
    }

    let nodes = nodes(question, &claim.moved)?;
    let bound = nodes.bound(question)?;
    let claimed = sign(question.side, claim.value)?;
    if bound != claimed {
        return Err(Refusal::Bound { claimed, bound });
    }
    fewest(question, claim, &nodes)
}

/// The value that no stage is above (below, for a least value), by what is moved.
fn bound(question: &Question, moved: &[Moved]) -> Result<i128, Refusal> {
    if let Some(step) = moved.iter().flat_map(|m| [m.from, m.to]).find(|&step| step >= question.after.len()) {
        return Err(Refusal::NoSuchStep { step, steps: question.after.len() });
    }
    nodes(question, moved)?.bound(question)
}

fn sign(side: Side, number: i128) -> Result<i128, Refusal> {
    match side {
        Side::Greatest => Ok(number),
        Side::Least => number.checked_neg().ok_or(Refusal::TooLarge),
    }
}

/// The weights of the nodes after what is moved; a step without a peak has its weight on done alone.
struct Nodes {
    begun: Vec<i128>,
    done: Vec<i128>,
    inside: Vec<bool>,
    outside: Vec<bool>,
}

impl Nodes {
    /// Of the value, or of the negated value.
    fn bound(&self, question: &Question) -> Result<i128, Refusal> {
        let mut bound = sign(question.side, question.start)?;
        for step in (0..self.done.len()).filter(|&step| !self.outside[step]) {
            for weight in [self.begun[step], self.done[step]] {
                if self.inside[step] || weight > 0 {
                    bound = add(bound, weight)?;
                }
            }
        }
        Ok(bound)
    }
}

fn nodes(question: &Question, moved: &[Moved]) -> Result<Nodes, Refusal> {
    let steps = question.after.len();
    let has_peak = |step: usize| matches!(question.peak.get(step), Some(Some(_)));
    let (mut begun, mut done) = (vec![0_i128; steps], vec![0_i128; steps]);
    for step in 0..steps {
        let change = sign(question.side, question.change[step])?;
        match question.peak.get(step) {
            Some(Some(peak)) => {
                begun[step] = sign(question.side, *peak)?;
                done[step] = change.checked_sub(begun[step]).ok_or(Refusal::TooLarge)?;
            }
            _ => done[step] = change,
        }
    }
    for &Moved { from, to, amount } in moved {
        let needed = if from == to { has_peak(from) } else { question.after[from].contains(&to) };
        if amount < 0 || !needed {
            return Err(Refusal::Move { from, to, amount, needed });
        }
        let off = if from != to && has_peak(from) { &mut begun[from] } else { &mut done[from] };
        *off = off.checked_sub(amount).ok_or(Refusal::TooLarge)?;
        let on = if from == to { &mut begun[to] } else { &mut done[to] };
        *on = add(*on, amount)?;
    }
    let (inside, outside) = forced(question);
    Ok(Nodes { begun, done, inside, outside })
}

fn add(a: i128, b: i128) -> Result<i128, Refusal> {
    a.checked_add(b).ok_or(Refusal::TooLarge)
}

fn marked(steps: usize, list: &[usize]) -> Vec<bool> {
    let mut marks = vec![false; steps];
    for &step in list {
        marks[step] = true;
    }
    marks
}

fn shape(question: &Question, claim: &Claim) -> Result<(), Refusal> {
    let steps = question.after.len();
    if question.change.len() != steps || !(question.peak.is_empty() || question.peak.len() == steps) {
        return Err(Refusal::Shape { steps, changes: question.change.len(), peaks: question.peak.len() });
    }
    let lists = [&question.done, &question.open, &claim.done, &claim.under_way];
    let of_lists = lists.into_iter().flatten().copied();
    let of_rules = question.after.iter().flatten().copied();
    let of_moves = claim.moved.iter().flat_map(|moved| [moved.from, moved.to]);
    match of_lists.chain(of_rules).chain(of_moves).find(|&step| step >= steps) {
        Some(step) => Err(Refusal::NoSuchStep { step, steps }),
        None => Ok(()),
    }
}

fn stage(question: &Question, done: &[bool], under_way: &[bool]) -> Result<(), Refusal> {
    for step in 0..done.len() {
        let begun = done[step] || under_way[step];
        if let (true, Some(&first)) = (begun, question.after[step].iter().find(|&&first| !done[first])) {
            return Err(Refusal::NotAStage { step, first });
        }
        if under_way[step] && (done[step] || !matches!(question.peak.get(step), Some(Some(_)))) {
            return Err(Refusal::UnderWay { step, done: done[step] });
        }
    }
    if let Some(&step) = question.done.iter().find(|&&step| !done[step]) {
        return Err(Refusal::HeldDone { step });
    }
    match question.open.iter().find(|&&step| done[step] || under_way[step]) {
        Some(&step) => Err(Refusal::HeldOpen { step }),
        None => Ok(()),
    }
}

/// The steps that are done in every stage asked about, and those that are not begun in any.
fn forced(question: &Question) -> (Vec<bool>, Vec<bool>) {
    let steps = question.after.len();
    let mut inside = marked(steps, &question.done);
    let mut look = question.done.clone();
    while let Some(step) = look.pop() {
        for &first in &question.after[step] {
            if !inside[first] {
                inside[first] = true;
                look.push(first);
            }
        }
    }
    let mut outside = marked(steps, &question.open);
    loop {
        let blocked = |step: usize| question.after[step].iter().any(|&first| outside[first]);
        let more: Vec<usize> = (0..steps).filter(|&step| !outside[step] && blocked(step)).collect();
        if more.is_empty() {
            return (inside, outside);
        }
        for step in more {
            outside[step] = true;
        }
    }
}

/// Builds the smallest set that is as good, and compares.
fn fewest(question: &Question, claim: &Claim, nodes: &Nodes) -> Result<(), Refusal> {
    let Nodes { inside, outside, .. } = nodes;
    let steps = question.after.len();
    let has_peak = |step: usize| matches!(question.peak.get(step), Some(Some(_)));
    let (mut begun, mut done) = (inside.clone(), inside.clone());
    for step in (0..steps).filter(|&step| !outside[step]) {
        done[step] |= nodes.done[step] > 0;
        begun[step] |= done[step] || nodes.begun[step] > 0;
    }
    loop {
        let (begun_before, done_before) = (begun.clone(), done.clone());
        for step in 0..steps {
            begun[step] |= done[step];
            // A step without a peak is one node: begun is done.
            done[step] |= begun[step] && !has_peak(step);
            if begun[step] {
                for &first in &question.after[step] {
                    done[first] = true;
                }
            }
        }
        for moved in claim.moved.iter().filter(|moved| moved.amount > 0) {
            if moved.from == moved.to {
                done[moved.from] |= begun[moved.to];
            } else {
                begun[moved.from] |= done[moved.to];
            }
        }
        if begun == begun_before && done == done_before {
            break;
        }
    }
    let named = marked(steps, &claim.done);
    let named_under_way = marked(steps, &claim.under_way);
    let differs = (0..steps).find(|&s| done[s] != named[s] || (begun[s] && !done[s]) != named_under_way[s]);
    differs.map_or(Ok(()), |step| Err(Refusal::NotTheFewest { step }))
}
