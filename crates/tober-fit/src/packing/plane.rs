//! Level and planarity of the claimed plane, as inequalities between integers.

use super::claim::{Claim, Plane};
use super::question::Question;
use super::refusal::Refusal;
use super::stacks;
use super::verdict::Margin;
use tober_quantity::TenthMm;

/// Tenths of a millimetre in a metre.
pub(super) const TENTHS_PER_M: i128 = 10_000;

/// Checks the plane, and returns the margin of the support that is nearest to the limit of planarity.
pub(super) fn check(
    question: &Question,
    claim: &Claim,
    raised: &[TenthMm],
    refusals: &mut Vec<Refusal>,
) -> Option<Margin> {
    level(question, &claim.plane, refusals);
    let plane = &claim.plane;
    let denominator = TENTHS_PER_M * i128::from(plane.denominator);
    let most = i128::from(question.planarity.0) * denominator;
    let mut tightest: Option<Margin> = None;
    for ((support, placing), &out) in question.supports.iter().zip(&claim.placings).zip(raised) {
        let z = support.ground + stacks::height(question, placing) + support.leg.shortest() + out;
        let over = TENTHS_PER_M * i128::from(plane.height)
            + i128::from(plane.along) * i128::from(support.x.0)
            + i128::from(plane.across) * i128::from(support.y.0);
        let off = i128::from(z.0) * denominator - over;
        if off.abs() > most {
            refusals.push(Refusal::NotPlanar {
                support: support.name.clone(),
                off,
                denominator,
                most: question.planarity,
            });
        }
        let numerator = most - off.abs();
        if tightest.as_ref().is_none_or(|margin| numerator < margin.numerator) {
            tightest = Some(Margin { support: support.name.clone(), numerator, denominator });
        }
    }
    tightest
}

/// `|A| <= level_x D` and `|B| <= level_y D`.
fn level(question: &Question, plane: &Plane, refusals: &mut Vec<Refusal>) {
    let denominator = plane.denominator;
    let past =
        |slope: i64, most: TenthMm| i128::from(slope).abs() > i128::from(most.0) * i128::from(denominator);
    let most = question.level.along_per_m;
    if past(plane.along, most) {
        refusals.push(Refusal::NotLevelAlong { slope: plane.along, denominator, most });
    }
    let most = question.level.across_per_m;
    if past(plane.across, most) {
        refusals.push(Refusal::NotLevelAcross { slope: plane.across, denominator, most });
    }
}
