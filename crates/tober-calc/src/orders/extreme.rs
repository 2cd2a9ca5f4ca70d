//! The greatest and the least value over every stage, each by one cut.

use super::flow::Network;
use super::{Precedence, StepSet};

/// A quantity of a stage: `start + sum of change over the steps done + sum of peak over the steps under way`.
///
/// `peak[s]`, where it is given, is the change that holds while `s` is begun and not done; a step without one is
/// done in one go. `peak` is empty where no step has one; `change` has one entry for each step.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tally {
    /// Before any step, in whole units of the caller's choosing.
    pub start: i64,
    /// What each step changes when it is done.
    pub change: Vec<i64>,
    /// What each step changes while it is under way. Empty, or an entry for each step.
    pub peak: Vec<Option<i64>>,
}

/// A [`Tally`] in wider numbers. No sum of entries may pass 2^125.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WideTally {
    /// As in [`Tally`].
    pub start: i128,
    /// As in [`Tally`].
    pub change: Vec<i128>,
    /// As in [`Tally`].
    pub peak: Vec<Option<i128>>,
}

/// The proof that no stage does better.
///
/// A step counts as one node, or, with a peak, as two: begun (weight `peak`) and done (weight `change − peak`), and
/// done needs begun. Each [`Moved`] takes an amount, none below zero, off the weight of a node and puts it on one
/// that it needs. In any stage that holds the first, the sum stays; in any that holds only the second, it grows: so
/// no stage is worth more than `start`, plus the new weights of the nodes that have to be in, plus those new weights
/// of the other nodes that are above zero. The stage found is worth exactly that.
/// For a least value the same is said of the negated start and weights.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CutProof {
    /// What is moved, in order of the steps.
    pub moved: Vec<Moved>,
}

/// An amount moved from a node onto one that it needs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Moved {
    /// From this step: from its begun node where `to` is another step, from its done node where `to` is the same.
    pub from: usize,
    /// Onto this step: onto its done node where it is another step, onto its begun node where it is the same.
    pub to: usize,
    /// How much; above zero.
    pub amount: i128,
}

/// The greatest or least value, where it is met, and why nothing is beyond it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Extreme {
    /// The value. Held at the ends of `i64` where it does not fit, which a checker will refuse.
    pub value: i64,
    /// The steps done: the fewest with which the value is met.
    pub stage: StepSet,
    /// The steps begun and not done.
    pub under_way: StepSet,
    /// The proof.
    pub proof: CutProof,
}

/// As [`Extreme`], in wider numbers.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WideExtreme {
    /// The value.
    pub value: i128,
    /// As in [`Extreme`].
    pub stage: StepSet,
    /// As in [`Extreme`].
    pub under_way: StepSet,
    /// As in [`Extreme`].
    pub proof: CutProof,
}

impl Tally {
    fn wide(&self) -> WideTally {
        WideTally {
            start: self.start.into(),
            change: self.change.iter().map(|&c| c.into()).collect(),
            peak: self.peak.iter().map(|peak| peak.map(i128::from)).collect(),
        }
    }
}

impl WideTally {
    fn negated(&self) -> Self {
        Self {
            start: -self.start,
            change: self.change.iter().map(|c| -c).collect(),
            peak: self.peak.iter().map(|peak| peak.map(|p| -p)).collect(),
        }
    }

    fn change(&self, step: usize) -> i128 {
        self.change.get(step).copied().unwrap_or(0)
    }

    fn peak(&self, step: usize) -> Option<i128> {
        self.peak.get(step).copied().flatten()
    }

    /// The value with these steps done and those under way. A step under way that has no peak changes nothing.
    pub fn value(&self, done: &StepSet, under_way: &StepSet) -> i128 {
        let finished: i128 = done.iter().map(|step| self.change(step)).sum();
        let begun: i128 = under_way.iter().filter_map(|step| self.peak(step)).sum();
        self.start + finished + begun
    }
}

/// The greatest value over every stage that holds `done` and nothing of `open`.
///
/// Steps of `open` are neither done nor under way. `None` where no such stage is: some step of `open` must come
/// before a step of `done`, or is one. Of the stages that meet the value, the one with the fewest steps.
pub fn greatest(p: &Precedence, t: &Tally, done: &StepSet, open: &StepSet) -> Option<Extreme> {
    greatest_wide(p, &t.wide(), done, open).map(narrow)
}

/// The least value over every stage that holds `done` and nothing of `open`; otherwise as [`greatest`].
pub fn least(p: &Precedence, t: &Tally, done: &StepSet, open: &StepSet) -> Option<Extreme> {
    least_wide(p, &t.wide(), done, open).map(narrow)
}

fn narrow(wide: WideExtreme) -> Extreme {
    let ends = (i64::MIN.into(), i64::MAX.into());
    let value = wide.value.clamp(ends.0, ends.1);
    let value = i64::try_from(value).unwrap_or_default();
    Extreme { value, stage: wide.stage, under_way: wide.under_way, proof: wide.proof }
}

/// As [`least`], in wider numbers.
pub fn least_wide(p: &Precedence, t: &WideTally, done: &StepSet, open: &StepSet) -> Option<WideExtreme> {
    let found = greatest_wide(p, &t.negated(), done, open)?;
    Some(WideExtreme { value: -found.value, ..found })
}

/// As [`greatest`], in wider numbers.
pub fn greatest_wide(p: &Precedence, t: &WideTally, done: &StepSet, open: &StepSet) -> Option<WideExtreme> {
    let len = p.len();
    let (mut inside, mut outside) = (StepSet::none(len), StepSet::none(len));
    for step in done.iter().filter(|&step| step < len) {
        inside.insert(step);
        inside.add(p.before(step));
    }
    for step in open.iter().filter(|&step| step < len) {
        outside.insert(step);
        outside.add(p.later(step));
    }
    if inside.intersects(&outside) {
        return None;
    }
    let free: Vec<usize> = (0..len).filter(|&s| !inside.contains(s) && !outside.contains(s)).collect();

    // Two nodes for a step with a peak, one for any other; the same node twice where it is one.
    let (source, sink) = (0, 1);
    let mut nodes = 2;
    let mut node_of = vec![(0, 0); len];
    for &step in &free {
        let begun = nodes;
        nodes += if t.peak(step).is_some() { 2 } else { 1 };
        node_of[step] = (begun, nodes - 1);
    }
    let mut network = Network::new(nodes);
    let mut gains: i128 = 0;
    let mut weigh = |network: &mut Network, node: usize, weight: i128| {
        if weight > 0 {
            gains += weight;
            network.arc(source, node, weight);
        } else if weight < 0 {
            network.arc(node, sink, -weight);
        }
    };
    for &step in &free {
        let (begun, finished) = node_of[step];
        match t.peak(step) {
            None => weigh(&mut network, finished, t.change(step)),
            Some(peak) => {
                weigh(&mut network, begun, peak);
                weigh(&mut network, finished, t.change(step) - peak);
            }
        }
    }
    // No flow can pass the sum of the gains, so an arc with more room than that never fills.
    let endless = gains + 1;
    let mut needs: Vec<(usize, usize, usize)> = Vec::new();
    for &step in &free {
        let (begun, finished) = node_of[step];
        if begun != finished {
            needs.push((step, step, network.arc(finished, begun, endless)));
        }
        for &first in p.direct(step).iter().filter(|&&first| !inside.contains(first)) {
            needs.push((step, first, network.arc(begun, node_of[first].1, endless)));
        }
    }
    network.fill(source, sink);

    let reached = network.reached(source);
    let mut under_way = StepSet::none(len);
    for &step in &free {
        let (begun, finished) = node_of[step];
        if reached[finished] {
            inside.insert(step);
        } else if reached[begun] {
            under_way.insert(step);
        }
    }
    let moved = needs.into_iter().map(|(from, to, arc)| Moved { from, to, amount: network.flow(arc) });
    let moved = moved.filter(|moved| moved.amount > 0).collect();
    Some(WideExtreme {
        value: t.value(&inside, &under_way),
        stage: inside,
        under_way,
        proof: CutProof { moved },
    })
}
