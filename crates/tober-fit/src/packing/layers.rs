//! The order of the boards in a stack.
//!
//! The rules are common practice, no source; the ride's book may be stricter. A layer is one board, a pair of wedges
//! or a plate. Its width is the lesser side of its plan.

use super::claim::{Claim, Grain, Layer, Placing};
use super::question::{FootBoard, Layering, Made, PlanSize, Question, Support};
use super::refusal::Refusal;
use super::verdict::{Rule, Verdict};

/// Checks every stack whose order is claimed.
pub(super) fn check(question: &Question, claim: &Claim, refusals: &mut Vec<Refusal>, verdict: &mut Verdict) {
    for (support, placing) in question.supports.iter().zip(&claim.placings) {
        let Some(layers) = &placing.layers else {
            if question.layering == Layering::Required {
                refusals.push(Refusal::LayersMissing { support: support.name.clone() });
            }
            continue;
        };
        let before = refusals.len();
        same_boards(question, support, placing, layers, refusals);
        if refusals.len() > before {
            // The two stacks claimed here are not the same stack, so neither can be judged.
            continue;
        }
        let stack = Stack { question, support, layers };
        stack.shims(refusals);
        stack.metal(refusals);
        stack.crossed(refusals);
        stack.widths(refusals, verdict);
        stack.foot(refusals, verdict);
    }
}

fn same_boards(
    question: &Question,
    support: &Support,
    placing: &Placing,
    layers: &[Layer],
    refusals: &mut Vec<Refusal>,
) {
    for (k, board) in question.boards.iter().enumerate() {
        let in_layers = layers.iter().filter(|layer| layer.kind == k).map(|_| 1).sum();
        let counted = placing.boards[k];
        if in_layers != counted {
            let (support, kind) = (support.name.clone(), board.name.clone());
            refusals.push(Refusal::LayersMismatch { support, kind, in_layers, counted });
        }
    }
}

struct Stack<'a> {
    question: &'a Question,
    support: &'a Support,
    layers: &'a [Layer],
}

impl Stack<'_> {
    fn made(&self, at: usize) -> Made {
        self.question.boards[self.layers[at].kind].made
    }
    fn kind(&self, at: usize) -> String {
        self.question.boards[self.layers[at].kind].name.clone()
    }
    fn name(&self) -> String {
        self.support.name.clone()
    }

    /// Thin plywood and wedges only between timbers: never at the bottom, never on top, never against anything else.
    fn shims(&self, refusals: &mut Vec<Refusal>) {
        let top = self.layers.len().saturating_sub(1);
        for at in 0..self.layers.len() {
            if !matches!(self.made(at), Made::ThinPly | Made::Wedges) {
                continue;
            }
            if at == 0 {
                refusals.push(Refusal::ShimAtBottom { support: self.name(), kind: self.kind(at) });
            }
            if at == top {
                refusals.push(Refusal::ShimOnTop { support: self.name(), kind: self.kind(at) });
            }
            let below_wrong = at > 0 && self.made(at - 1) != Made::Timber;
            let above_wrong = at < top && self.made(at + 1) != Made::Timber;
            if below_wrong || above_wrong {
                let (support, kind) = (self.name(), self.kind(at));
                refusals.push(Refusal::ShimNotBetweenTimbers { support, kind, layer: at + 1 });
            }
        }
    }

    fn metal(&self, refusals: &mut Vec<Refusal>) {
        for at in 1..self.layers.len() {
            if self.made(at) == Made::Metal && self.made(at - 1) == Made::Metal {
                let (support, kind) = (self.name(), self.kind(at));
                refusals.push(Refusal::MetalOnMetal { support, kind, layer: at + 1 });
            }
        }
    }

    /// Each timber is turned from the nearest timber below it; plywood, wedges and metal have no grain to cross.
    fn crossed(&self, refusals: &mut Vec<Refusal>) {
        let mut below: Option<(usize, Grain)> = None;
        for (at, layer) in self.layers.iter().enumerate() {
            if self.made(at) != Made::Timber {
                continue;
            }
            if let Some((under, grain)) = below
                && grain == layer.grain
            {
                let support = self.name();
                refusals.push(Refusal::NotCrossed { support, layer: at + 1, below: under + 1 });
            }
            below = Some((at, layer.grain));
        }
    }

    fn widths(&self, refusals: &mut Vec<Refusal>, verdict: &mut Verdict) {
        if self.layers.len() < 2 {
            return;
        }
        let plans: Option<Vec<PlanSize>> =
            self.layers.iter().map(|layer| self.question.boards[layer.kind].plan).collect();
        let Some(plans) = plans else {
            verdict.leave_unknown(Rule::NoWiderAbove, &self.support.name, "the size of a board in plan");
            return;
        };
        for (at, pair) in plans.windows(2).enumerate() {
            let (below, width) = (pair[0].width(), pair[1].width());
            if width > below {
                refusals.push(Refusal::WiderAbove { support: self.name(), layer: at + 2, width, below });
            }
        }
    }

    /// A timber under the foot, and the foot inside it.
    fn foot(&self, refusals: &mut Vec<Refusal>, verdict: &mut Verdict) {
        let Some(top) = self.layers.last() else {
            if self.question.foot_board == FootBoard::Always {
                refusals.push(Refusal::FootWithoutBoard { support: self.name() });
            }
            return;
        };
        // Plywood and wedges on top are refused in their own words.
        if self.made(self.layers.len() - 1) == Made::Metal {
            refusals.push(Refusal::FootWithoutBoard { support: self.name() });
        }
        let Some(plan) = self.question.boards[top.kind].plan else {
            verdict.leave_unknown(
                Rule::FootInsideBoard,
                &self.support.name,
                "the size of the top board in plan",
            );
            return;
        };
        let Some(foot) = self.support.foot else {
            verdict.leave_unknown(Rule::FootInsideBoard, &self.support.name, "the size of the foot");
            return;
        };
        let (along, across) = match top.grain {
            Grain::Along => (plan.along, plan.across),
            Grain::Across => (plan.across, plan.along),
        };
        for (direction, foot, board) in
            [("along the frame", foot.along, along), ("across the frame", foot.across, across)]
        {
            if foot > board {
                refusals.push(Refusal::FootBeyondBoard { support: self.name(), direction, foot, board });
            }
        }
    }
}
