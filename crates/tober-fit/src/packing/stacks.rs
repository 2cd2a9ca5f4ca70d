//! Settings, stock, stack limits and lifts.

use super::claim::{Claim, Placing, Setting};
use super::question::{FootBoard, Leg, Made, PlanSize, Question, Slenderness, Support};
use super::refusal::Refusal;
use super::verdict::{Rule, Verdict};
use tober_quantity::TenthMm;

/// How far each leg is set out beyond its shortest, or `None` if any setting does not exist.
pub(super) fn settings(
    question: &Question,
    claim: &Claim,
    refusals: &mut Vec<Refusal>,
) -> Option<Vec<TenthMm>> {
    let before = refusals.len();
    let mut raised = Vec::with_capacity(question.supports.len());
    for (support, placing) in question.supports.iter().zip(&claim.placings) {
        match (support.leg, placing.setting) {
            (Leg::Holes { pitch, count, .. }, Setting::Hole(hole)) if (0..count).contains(&hole) => {
                raised.push(pitch * hole);
            }
            (Leg::Holes { count, .. }, Setting::Hole(hole)) => {
                refusals.push(Refusal::HoleOutOfRange { support: support.name.clone(), hole, count });
            }
            (Leg::Screw { shortest, longest }, Setting::Extension(extension)) => {
                let most = longest - shortest;
                if extension < TenthMm(0) || extension > most {
                    refusals.push(Refusal::ExtensionOutOfRange {
                        support: support.name.clone(),
                        extension,
                        most,
                    });
                } else {
                    raised.push(extension);
                }
            }
            _ => refusals.push(Refusal::SettingMismatch { support: support.name.clone() }),
        }
    }
    let exist = refusals.len() == before;
    for (support, placing) in question.supports.iter().zip(&claim.placings) {
        if let (Some(forced), Setting::Hole(hole)) = (support.hole_forced, placing.setting)
            && hole != forced
            && exist
        {
            refusals.push(Refusal::HoleNotForced { support: support.name.clone(), hole, forced });
        }
    }
    exist.then_some(raised)
}

/// `sum over supports of q_k <= count_k` for each kind.
pub(super) fn stock(question: &Question, claim: &Claim, refusals: &mut Vec<Refusal>) {
    for (k, board) in question.boards.iter().enumerate() {
        let used = claim.placings.iter().map(|placing| placing.boards[k]).sum();
        if used > board.count {
            refusals.push(Refusal::StockExceeded { kind: board.name.clone(), used, held: board.count });
        }
    }
}

/// The height of a stack, `sum q_k t_k`.
pub(super) fn height(question: &Question, placing: &Placing) -> TenthMm {
    let tenths = question.boards.iter().zip(&placing.boards).map(|(board, &n)| board.thickness.0 * n).sum();
    TenthMm(tenths)
}

/// Height, number of boards, slenderness, and a board under the foot.
pub(super) fn limits(question: &Question, claim: &Claim, refusals: &mut Vec<Refusal>, verdict: &mut Verdict) {
    for (support, placing) in question.supports.iter().zip(&claim.placings) {
        let name = &support.name;
        let stack = height(question, placing);
        let limits = question.stack;
        if stack > limits.height_most {
            let most = limits.height_most;
            refusals.push(Refusal::StackTooHigh { support: name.clone(), height: stack, most });
        }
        if let Some(most) = support.stack_most.filter(|&most| stack > most) {
            refusals.push(Refusal::StackTooHighHere { support: name.clone(), height: stack, most });
        }
        let boards: i64 = placing.boards.iter().sum();
        if boards < limits.boards_least {
            let least = limits.boards_least;
            refusals.push(Refusal::TooFewBoards { support: name.clone(), boards, least });
        }
        if boards > limits.boards_most {
            let most = limits.boards_most;
            refusals.push(Refusal::TooManyBoards { support: name.clone(), boards, most });
        }
        let timber =
            question.boards.iter().zip(&placing.boards).any(|(b, &n)| b.made == Made::Timber && n > 0);
        // Where layers are claimed, the layers themselves say what lies under the foot.
        if question.foot_board == FootBoard::Always && placing.layers.is_none() && !timber {
            refusals.push(Refusal::FootWithoutBoard { support: name.clone() });
        }
        if let Some(rule) = question.slenderness {
            slenderness(question, support, placing, rule, refusals, verdict);
        }
    }
}

/// `p * width <= least width * height`, in whole numbers.
fn slenderness(
    question: &Question,
    support: &Support,
    placing: &Placing,
    rule: Slenderness,
    refusals: &mut Vec<Refusal>,
    verdict: &mut Verdict,
) {
    let used =
        || question.boards.iter().zip(&placing.boards).filter(|(_, n)| **n > 0).map(|(board, _)| board);
    if used().any(|board| board.plan.is_none()) {
        verdict.leave_unknown(Rule::Slenderness, &support.name, "the size of a board in plan");
    }
    // A stack of nothing is not slender. One that is too high for a known board is so whatever the others are.
    let Some(width) = used().filter_map(|board| board.plan).map(PlanSize::width).min() else { return };
    let stack = height(question, placing);
    if i128::from(stack.0) * i128::from(rule.width) > i128::from(width.0) * i128::from(rule.height) {
        refusals.push(Refusal::StackTooSlender {
            support: support.name.clone(),
            height: stack,
            width,
            for_height: rule.height,
            for_width: rule.width,
        });
    }
}

/// The lift of each corner, and the two totals that the claim states.
pub(super) fn lifts(
    question: &Question,
    claim: &Claim,
    raised: &[TenthMm],
    refusals: &mut Vec<Refusal>,
    verdict: &mut Verdict,
) {
    for ((support, placing), &out) in question.supports.iter().zip(&claim.placings).zip(raised) {
        let lift = height(question, placing) + out;
        verdict.lift_greatest = verdict.lift_greatest.max(lift);
        verdict.boards_total += placing.boards.iter().sum::<i64>();
        if lift < question.lift_least {
            let least = question.lift_least;
            refusals.push(Refusal::LiftTooLow { support: support.name.clone(), lift, least });
        }
    }
    if claim.lift_greatest != verdict.lift_greatest {
        refusals.push(Refusal::LiftMisstated { claimed: claim.lift_greatest, found: verdict.lift_greatest });
    }
    if claim.boards_total != verdict.boards_total {
        refusals.push(Refusal::BoardsMisstated { claimed: claim.boards_total, found: verdict.boards_total });
    }
}
