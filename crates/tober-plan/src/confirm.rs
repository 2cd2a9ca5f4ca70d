//! The loads on the legs, checked by the part that did not work them out.

use tober_calc::finding::{Finding, Subject};
use tober_calc::supports::{Band, Place, Situation, SupportBand, Witness};
use tober_fit::supports as fit;
use tober_quantity::{Force, Length};

/// What a check may be off by, as a share of the load: doubles are good for a thousandth of it.
const SHARE: f64 = 1e-6;
const TITLE: &str = "the loads on the legs pass the check of the part that did not work them out";
const CODE: &str = "supports.fit";

/// What the check says of bands worked out without a reading. Where it refuses, no load may be acted on.
pub(crate) fn confirmed(situation: &Situation, band: &Band) -> Finding {
    match checked(situation, band) {
        Err(why) => refused(&why),
        Ok(verdict) if !verdict.unchecked.is_empty() => {
            let names = verdict.unchecked.join(", ");
            let missing = format!("A case in which {names} carries most: the figure is a bound alone.");
            Finding::not_known(CODE, Subject::Frame, TITLE, &missing).never_overridden()
        }
        Ok(verdict) => {
            let finding = Finding::statement(CODE, Subject::Frame, TITLE, true)
                .never_overridden()
                .note("Checked: that each end comes about, and that no such case passes another leg's ends.");
            if verdict.frame == fit::Frame::NotAsked {
                finding.note("Not checked: that the beams of the frame bend so.")
            } else {
                finding
            }
        }
    }
}

fn refused(why: &[fit::Refusal]) -> Finding {
    let finding = Finding::statement(CODE, Subject::Frame, TITLE, false).never_overridden();
    why.iter()
        .take(6)
        .fold(finding, |finding, why| finding.note(why.to_string()))
        .advice("Act on no load of this plan, and report it: the fault is ours.")
}

/// What the check says of bands that were cut by a reading, beside those without it; nothing where it agrees.
pub(crate) fn cut_refused(situation: &Situation, bare: &Band, cut: &Band) -> Option<Finding> {
    let names: Vec<String> = situation.legs.iter().map(|leg| leg.name.clone()).collect();
    let ends = |band: &Band| -> Vec<(Force, Force)> {
        band.supports.iter().map(|s| (s.load.low, s.load.high)).collect()
    };
    fit::check_cut(&names, &ends(bare), &ends(cut)).err().map(|why| refused(&why))
}

fn checked(situation: &Situation, band: &Band) -> Result<fit::BandVerdict, Vec<fit::Refusal>> {
    let supports = situation.legs.iter().map(|leg| fit::RangedSupport {
        name: leg.name.clone(),
        x: leg.support.spot.x,
        y: leg.support.spot.y,
        stiffness: (leg.support.stiffness.low, leg.support.stiffness.high),
        gap: (leg.support.gap.low, leg.support.gap.high),
    });
    let weights = situation.weights.iter().map(|weight| {
        // A weight without a place leaves statics alone, and then there is no case to check.
        let (x, y) = match weight.burden.place {
            Place::At(spot) => (spot.x, spot.y),
            Place::Unknown => (Length::ZERO, Length::ZERO),
        };
        fit::RangedWeight {
            name: weight.name.clone(),
            x,
            y,
            down: (weight.burden.down.low, weight.burden.down.high),
        }
    });
    let question = fit::BandQuestion {
        supports: supports.collect(),
        weights: weights.collect(),
        about_x: (situation.moment_x.low, situation.moment_x.high),
        about_y: (situation.moment_y.low, situation.moment_y.high),
    };
    let ends = |found: &SupportBand| fit::Ends {
        low: found.load.low,
        high: found.load.high,
        lightest: found.lightest.as_ref().map(case),
        heaviest: found.heaviest.as_ref().map(case),
        reached: band.tight,
    };
    let claim: Vec<fit::Ends> = band.supports.iter().map(ends).collect();
    fit::check_band(&question, &claim, SHARE)
}

fn case(witness: &Witness) -> fit::Case {
    let moved = witness.stands.displacement;
    let displacement = match &witness.bent {
        None => fit::Displacement::Rigid { height: moved.z, about_x: moved.theta_x, about_y: moved.theta_y },
        Some(bent) => fit::Displacement::AtSupports(
            witness.supports.iter().zip(bent).map(|(s, bent)| moved.at(s.x, s.y) + *bent).collect(),
        ),
    };
    fit::Case {
        springs: witness.supports.iter().map(|s| (s.stiffness, s.gap)).collect(),
        weights: witness.burdens.clone(),
        about_x: witness.moment_x,
        about_y: witness.moment_y,
        claim: fit::Claim { reactions: witness.stands.reactions.clone(), displacement },
    }
}
