//! What the legs carry, with what was read of the feet.

use super::{Answer, Foot, FrameRead, Stood};
use crate::aboard::Around;
use crate::carried::loads_on_legs;
use crate::heights::Heights;
use crate::kicked::{AtFoot, Kicked, raised_by};
use crate::model::LegPlan;
use crate::underfoot::springs;
use std::collections::BTreeMap;
use tober_calc::finding::{Finding, Standing};
use tober_calc::supports::Layer;
use tober_quantity::Length;

impl Answer<'_> {
    /// The findings on the loads of the legs as they stand, with what was read of the feet; none where none was read.
    pub(super) fn loads_as_read(
        &self,
        stood: &[Stood],
        read: &FrameRead,
        surveyed: &Heights,
        assumed: &[String],
    ) -> Vec<Finding> {
        let mut feet: BTreeMap<String, AtFoot> = BTreeMap::new();
        for (leg, foot) in &read.feet {
            feet.entry(leg.clone()).or_default().kicked = Some(match foot {
                Foot::Snug => Kicked::Snug,
                Foot::Light { gap } => Kicked::Light { gap: gap.is_some_and(|gap| gap > Length::ZERO) },
            });
        }
        for (leg, load) in &read.loads {
            feet.entry(leg.clone()).or_default().load = Some((load.load, load.off_by));
        }
        if feet.is_empty() {
            return Vec::new();
        }
        let (ride, kit, pitch, visit) = (self.books.ride, self.books.kit, self.books.pitch, self.books.visit);
        let legs: Vec<LegPlan> =
            self.plan.legs.iter().map(|leg| self.with_gap(leg, stood, surveyed)).collect();
        for (leg, stands) in self.plan.legs.iter().zip(&legs) {
            feet.entry(leg.name.clone()).or_default().raised = raised_by(leg, stands);
        }
        let gives = |name: &str| {
            let leg = legs.iter().find(|leg| leg.name == name);
            leg.map_or([Layer::NotKnown, Layer::NotKnown], |leg| springs(leg, kit, pitch))
        };
        let around = Around { ride, pitch, visit, legs: &legs };
        let mut found = loads_on_legs(&around, &gives, Some(&feet)).findings;
        for why in assumed {
            found = found.into_iter().map(|finding| finding.doubted(why)).collect();
        }
        found
    }

    /// A leg as it stands, with how far it then is from the plane of the plan as the ground was surveyed.
    fn with_gap(&self, leg: &LegPlan, stood: &[Stood], surveyed: &Heights) -> LegPlan {
        let mut stands = self.as_it_stands(leg, stood, Length::ZERO, leg.standing);
        let up = raised_by(leg, &stands);
        stands.residual = leg.residual + up;
        stands.lift = leg.lift + up;
        stands.ground_deviation = surveyed.under.get(&leg.name).and_then(|(_, deviation)| *deviation);
        stands
    }

    /// The word to stop, where what was read of the feet cannot be.
    pub(super) fn stop(&self) -> Option<String> {
        let wrong = self.loads.iter().find(|f| f.code == "supports.readings" || f.code == "supports.fit")?;
        let stop = wrong.standing == Standing::PastLimit;
        stop.then(|| wrong.advice.iter().map(|said| format!("{said} ")).collect())
    }
}

/// What belongs with the findings of the frame, and what stands with the loads alone: whether the reading can be, and what
/// is past its limit or not known, belongs with the former too.
pub(super) fn parted(loads: &[Finding]) -> (Vec<Finding>, Vec<Finding>) {
    let wanting = |f: &&Finding| matches!(f.standing, Standing::PastLimit | Standing::NotKnown);
    let about = |f: &&Finding| f.code == "supports.readings" || wanting(f);
    let of_legs = |f: &&Finding| f.code == "supports.load";
    (loads.iter().filter(about).cloned().collect(), loads.iter().filter(of_legs).cloned().collect())
}
