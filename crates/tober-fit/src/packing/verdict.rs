//! What a sound claim is shown to give, and what was not looked at.

use super::question::{FootBoard, Layering, Question};
use core::fmt;
use std::collections::BTreeSet;
use tober_quantity::TenthMm;

/// What the check of a sound claim found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// The greatest lift of any support.
    pub lift_greatest: TenthMm,
    /// The number of boards.
    pub boards_total: i64,
    /// The support that is nearest to the limit of planarity.
    pub tightest: Option<Margin>,
    /// The rules that were checked at every support and hold.
    pub checked: BTreeSet<Rule>,
    /// The rules the question did not ask for.
    pub not_asked: BTreeSet<Rule>,
    /// The rules that were asked for and could not be tried, since a size is missing.
    pub not_known: Vec<NotKnown>,
}

impl Verdict {
    /// Whether nothing that was asked for had to be left unknown.
    pub fn is_whole(&self) -> bool {
        self.not_known.is_empty()
    }

    pub(super) fn begun(question: &Question) -> Self {
        let mut verdict = Self {
            lift_greatest: TenthMm(0),
            boards_total: 0,
            tightest: None,
            checked: BTreeSet::from([
                Rule::Settings,
                Rule::Stock,
                Rule::StackHeight,
                Rule::BoardsInStack,
                Rule::LiftLeast,
                Rule::Level,
                Rule::Planarity,
                Rule::Totals,
            ]),
            not_asked: BTreeSet::new(),
            not_known: Vec::new(),
        };
        verdict.note(Rule::Slenderness, question.slenderness.is_some());
        verdict.note(Rule::BoardUnderFoot, question.foot_board == FootBoard::Always);
        verdict.note(Rule::HoleForced, question.supports.iter().any(|s| s.hole_forced.is_some()));
        verdict.note(Rule::StackHeightHere, question.supports.iter().any(|s| s.stack_most.is_some()));
        for rule in Rule::OF_LAYERS {
            verdict.note(rule, question.layering == Layering::Required);
        }
        verdict
    }

    fn note(&mut self, rule: Rule, asked: bool) {
        if asked {
            self.checked.insert(rule);
        } else {
            self.not_asked.insert(rule);
        }
    }

    pub(super) fn leave_unknown(&mut self, rule: Rule, support: &str, missing: &'static str) {
        self.checked.remove(&rule);
        self.not_known.push(NotKnown { rule, support: support.to_owned(), missing });
    }
}

/// A rule that could not be tried at a support.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotKnown {
    /// The rule.
    pub rule: Rule,
    /// The support.
    pub support: String,
    /// What would have to be known.
    pub missing: &'static str,
}

impl fmt::Display for NotKnown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "At {} the rule on {} is not known, since {} is not given.",
            self.support, self.rule, self.missing
        )
    }
}

/// How far inside the limit of planarity a support is: `numerator / denominator` tenths of a millimetre, exact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Margin {
    /// The support.
    pub support: String,
    /// Numerator of the margin, zero at the limit.
    pub numerator: i128,
    /// Denominator of the margin, above zero.
    pub denominator: i128,
}

/// A rule of packing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// Each pin is in a hole that exists, each screw within its travel.
    Settings,
    /// The pin is in the one hole it must be in.
    HoleForced,
    /// No more boards of a kind than the kit holds.
    Stock,
    /// No stack higher than allowed.
    StackHeight,
    /// No stack higher than allowed at its own support.
    StackHeightHere,
    /// Neither too few nor too many boards in a stack.
    BoardsInStack,
    /// No stack too high for its narrowest board.
    Slenderness,
    /// A timber always lies under a foot.
    BoardUnderFoot,
    /// Thin plywood and wedges lie only between timbers.
    ShimsBetweenTimbers,
    /// No metal on metal.
    MetalOnMetal,
    /// Each timber's grain is turned from the timber below.
    LayersCross,
    /// The foot is inside the top board.
    FootInsideBoard,
    /// No board is wider than the one it lies on.
    NoWiderAbove,
    /// Each corner is lifted enough.
    LiftLeast,
    /// The plane is level along and across.
    Level,
    /// Each support meets the plane.
    Planarity,
    /// The greatest lift and the number of boards are as stated.
    Totals,
}

impl Rule {
    /// The rules that need the order of the boards.
    pub const OF_LAYERS: [Self; 5] = [
        Self::ShimsBetweenTimbers,
        Self::MetalOnMetal,
        Self::LayersCross,
        Self::FootInsideBoard,
        Self::NoWiderAbove,
    ];
}

impl fmt::Display for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Settings => "holes and screw travel",
            Self::HoleForced => "the hole that is laid down",
            Self::Stock => "boards in the kit",
            Self::StackHeight => "stack height",
            Self::StackHeightHere => "stack height at one support",
            Self::BoardsInStack => "boards in a stack",
            Self::Slenderness => "stack height to width",
            Self::BoardUnderFoot => "a board under the foot",
            Self::ShimsBetweenTimbers => "plywood and wedges between timbers",
            Self::MetalOnMetal => "no metal on metal",
            Self::LayersCross => "crossed layers",
            Self::FootInsideBoard => "the foot inside the top board",
            Self::NoWiderAbove => "no board wider than the one below",
            Self::LiftLeast => "least lift",
            Self::Level => "level",
            Self::Planarity => "planarity",
            Self::Totals => "stated totals",
        })
    }
}
