//! What each leg carries once the frame stands on its stacks.

use crate::aboard::Around;
use crate::beams::bearing;
use crate::heights::Heights;
use crate::loads::open_load;
use crate::packing::Packed;
use tober_book::Does;
use tober_calc::finding::{Basis, Finding, Subject};
use tober_calc::packing::{Choice, residual};
use tober_calc::supports::{
    Between, Layer, Leg, Role, Situation, Spot, UncertainSupport, findings, in_series,
};
use tober_calc::working::Provenance;
use tober_quantity::{Length, Mass, Quantity, Stiffness};

/// What a new joint of a stack may bed in, either way. Ours: no source was found.
const BEDDING_A_JOINT_MM: f64 = 0.5;
/// How many deviations a height may be off by: 95 of 100 readings lie within.
pub(crate) const DEVIATIONS: f64 = 2.0;
/// To what a load is rounded on a sheet: the low end down to it, the high end up to it.
fn step() -> Mass {
    Mass::t(0.1)
}

pub(crate) fn bedding(joints: usize) -> Length {
    Length::mm(BEDDING_A_JOINT_MM * joints as f64)
}

/// The findings on the loads of the legs, open, with none to all of the riders.
///
/// Beside them what is not known of the load, which then is not known of anything that rests on it.
pub(crate) fn loads_on_legs(
    around: &Around<'_>,
    heights: &Heights,
    packed: &Packed,
    choice: &Choice,
    springs: &dyn Fn(&str) -> [Layer; 2],
) -> (Vec<Finding>, Vec<String>) {
    let Around { ride, .. } = *around;
    let load = open_load(around);
    let title = "load on the leg";
    let not_known = |missing: &str| -> Vec<Finding> {
        let carrying = ride.supports.iter().filter(|s| s.does == Does::Carries);
        carrying
            .map(|s| Finding::not_known("supports.load", Subject::Support(s.name.clone()), title, missing))
            .collect()
    };
    if !load.unknown.is_empty() {
        return (not_known(&load.unknown.join(" ")), load.doubts);
    }
    let mut legs = Vec::new();
    for (place, support) in packed.problem.supports.iter().enumerate() {
        let Some(of_book) = ride.support(&support.name) else { continue };
        let placed = &choice.supports[place];
        let deviation = heights.under.get(&support.name).and_then(|(_, deviation)| *deviation);
        // Where nobody knows how good the readings are, nothing is known of the gap but its order of size.
        let off = deviation.map_or(Length::m(1.0), |d| d * DEVIATIONS + bedding(placed.laid.len() + 1));
        let gap = -residual(&packed.problem, choice, place);
        let leg = of_book.stiffness.map_or(Layer::NotKnown, |k| Layer::Gives(Between::exact(k)));
        let [timber, ground] = springs(&support.name);
        let layers = [leg, timber, ground];
        let stiffness = in_series(&layers).unwrap_or(Between {
            low: Stiffness::n_per_m(1e3),
            high: of_book.stiffness.unwrap_or(Stiffness::n_per_m(1e12)),
        });
        legs.push(Leg {
            name: support.name.clone(),
            role: Role::Carries,
            rated: of_book.rated_load.map(|load| load.0.mass()),
            support: UncertainSupport {
                spot: Spot { x: of_book.at.along, y: of_book.at.across },
                stiffness,
                gap: Between { low: gap - off, high: gap + off },
                seen: None,
            },
            stiffness_from: Provenance::chosen("leg, timber and ground in series, as far as each is known"),
            gap_from: Provenance::chosen(
                "residual of the packing, two deviations of the survey, bedding of joints",
            ),
        });
    }
    let places: Vec<(&str, Spot)> = legs.iter().map(|leg| (leg.name.as_str(), leg.support.spot)).collect();
    let bearing = match bearing(ride, &places, &load.weights) {
        Ok(bearing) => bearing,
        Err(missing) => return (not_known(&missing), load.doubts),
    };
    let situation = Situation {
        legs,
        bearing,
        reading: None,
        weights: load.weights,
        moment_x: load.moment_x,
        moment_y: load.moment_y,
        moments_from: Provenance::chosen(
            "riders in any seats, the turntable at any angle and speed, wind from any side",
        ),
        step: step(),
    };
    match findings(&situation) {
        Ok(mut list) => {
            let title = "couples of wind, turning and riders are counted in the loads of the legs";
            let couples = Finding::statement("supports.couples", Subject::Frame, title, true)
                .basis(Basis::Mechanics)
                .working(load.couples)
                .note(
                    "They are taken to act either way about both axes at once, which is wider than need be.",
                );
            list.push(couples);
            for why in &load.doubts {
                list = list.into_iter().map(|finding| finding.doubted(why)).collect();
            }
            (list, load.doubts)
        }
        Err(error) => {
            let found = Finding::not_known("supports.load", Subject::Frame, title, &error.to_string());
            (vec![found], load.doubts)
        }
    }
}

/// The load band of a leg out of its finding.
pub(crate) fn band_of(findings: &[Finding], leg: &str) -> Option<(Mass, Mass)> {
    use tober_calc::finding::Measure;
    let about = |f: &&Finding| f.code == "supports.load" && f.subject == Subject::Support(leg.to_owned());
    let (low, high) = match &findings.iter().find(about)?.measure {
        Measure::AgainstLimit { low, high, .. } | Measure::Figure { low, high } => (low.si, high.si),
        Measure::Statement { .. } | Measure::Nothing => return None,
    };
    Some((Mass::from_si(low), Mass::from_si(high)))
}
