//! What each leg carries once the frame stands on its stacks.

use crate::aboard::Around;
use crate::beams::bearing;
use crate::confirm::{confirmed, cut_refused};
use crate::kicked::{AtFoot, CALM, reading, told_apart};
use crate::loads::open_load;
use std::collections::BTreeMap;
use tober_book::Does;
use tober_calc::finding::{Basis, Finding, Standing, Subject};
use tober_calc::supports::{
    Asked, BandAnswer, Between, Layer, Leg, Role, Situation, Spot, SupportsError, UncertainLoad,
    UncertainSupport, band_of as bands_of, disagreement, found, in_series, readings_not_known,
};
use tober_calc::working::Provenance;
use tober_quantity::{Length, Mass, Quantity, Stiffness, UnitSet};

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

/// What is found of the loads of the legs.
pub(crate) struct Carried {
    /// The findings.
    pub findings: Vec<Finding>,
    /// What is not known of the load, which then is not known of anything that rests on it.
    pub doubts: Vec<String>,
}

/// The legs of a plan in the order of the book, as springs with a gap each.
pub(crate) fn standing(
    around: &Around<'_>,
    springs: &dyn Fn(&str) -> [Layer; 2],
    feet: Option<&BTreeMap<String, AtFoot>>,
) -> Vec<Leg> {
    let mut legs = Vec::new();
    for of_book in around.ride.supports.iter().filter(|s| s.does == Does::Carries) {
        let Some(stands) = around.legs.iter().find(|leg| leg.name == of_book.name) else { continue };
        // Where nobody knows how good the readings are, nothing is known of the gap but its order of size.
        let off = stands
            .ground_deviation
            .map_or(Length::m(1.0), |d| d * DEVIATIONS + bedding(stands.layers.len() + 1));
        let gap = -stands.residual;
        // What a leg was raised for was no longer as surveyed, or the change was not needed: anything between the two.
        let raised = feet.and_then(|feet| feet.get(&of_book.name)).map_or(Length::ZERO, |foot| foot.raised);
        let before = gap + raised;
        let leg = of_book.stiffness.map_or(Layer::NotKnown, |k| Layer::Gives(Between::exact(k)));
        let [timber, ground] = springs(&of_book.name);
        let layers = [leg, timber, ground];
        let stiffness = in_series(&layers).unwrap_or(Between {
            low: Stiffness::n_per_m(1e3),
            high: of_book.stiffness.unwrap_or(Stiffness::n_per_m(1e12)),
        });
        legs.push(Leg {
            name: of_book.name.clone(),
            role: Role::Carries,
            rated: of_book.rated_load.map(|load| load.0.mass()),
            support: UncertainSupport {
                spot: Spot { x: of_book.at.along, y: of_book.at.across },
                stiffness,
                gap: Between { low: gap.min(before) - off, high: gap.max(before) + off },
                seen: None,
            },
            stiffness_from: Provenance::chosen("leg, timber and ground in series, as far as each is known"),
            gap_from: Provenance::chosen(
                "residual of the packing, two deviations of the survey, bedding of joints",
            ),
        });
    }
    legs
}

/// The findings on the loads of the legs, open, with none to all of the riders.
///
/// With what was read of the feet once the frame was lowered the bands are cut to what agrees with it; where nothing does,
/// that is the finding, and no load is told. Every band is handed to `tober-fit`, and one that it refuses is not told.
pub(crate) fn loads_on_legs(
    around: &Around<'_>,
    springs: &dyn Fn(&str) -> [Layer; 2],
    feet: Option<&BTreeMap<String, AtFoot>>,
) -> Carried {
    let Around { ride, .. } = *around;
    let load = open_load(around);
    let title = "load on the leg";
    // Whether a reading can be is not known either where the loads are not.
    let nothing = |missing: &str, doubts: Vec<String>| {
        let carrying = ride.supports.iter().filter(|s| s.does == Does::Carries);
        let mut findings: Vec<Finding> = carrying
            .map(|s| Finding::not_known("supports.load", Subject::Support(s.name.clone()), title, missing))
            .collect();
        findings.extend(feet.map(|_| readings_not_known(missing)));
        Carried { findings, doubts }
    };
    if !load.unknown.is_empty() {
        return nothing(&load.unknown.join(" "), load.doubts);
    }
    let legs = standing(around, springs, feet);
    let places: Vec<(&str, Spot)> = legs.iter().map(|leg| (leg.name.as_str(), leg.support.spot)).collect();
    let bearing = match bearing(ride, &places, &load.weights) {
        Ok(bearing) => bearing,
        Err(missing) => return nothing(&missing, load.doubts),
    };
    let read = feet.map(|feet| reading(around, &places, feet));
    let mut situation = Situation {
        bearing,
        reading: None,
        weights: load.weights,
        moment_x: load.moment_x,
        moment_y: load.moment_y,
        moments_from: Provenance::chosen(
            "riders in any seats, the turntable at any angle and speed, wind from any side",
        ),
        step: step(),
        legs,
    };
    let list = match read {
        None => told(&situation),
        Some(Err(missing)) => told(&situation).map(|mut list| {
            list.push(readings_not_known(&missing));
            list
        }),
        Some(Ok(reading)) => {
            situation.reading = Some(reading);
            told_with_reading(&situation, crate::assemble::units(around.visit))
        }
    };
    match list {
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
            Carried { findings: list, doubts: load.doubts }
        }
        Err(error) => {
            let mut findings =
                vec![Finding::not_known("supports.load", Subject::Frame, title, &error.to_string())];
            findings.extend(feet.map(|_| readings_not_known(&error.to_string())));
            Carried { findings, doubts: load.doubts }
        }
    }
}

/// The findings of a situation without a reading, with what the check of the bands says; that alone where it refuses.
fn told(situation: &Situation) -> Result<Vec<Finding>, SupportsError> {
    let (mut list, band) = found(situation)?;
    if let Some(band) = band {
        let check = confirmed(situation, &band);
        if check.standing == Standing::PastLimit {
            return Ok(vec![check]);
        }
        list.push(check);
    }
    Ok(list)
}

/// The same with a reading. Its bands have no case of their own that could be handed over: those without it are checked, and
/// that none grew by it.
fn told_with_reading(situation: &Situation, units: UnitSet) -> Result<Vec<Finding>, SupportsError> {
    let (mut list, cut) = found(situation)?;
    let supports: Vec<UncertainSupport> = situation.legs.iter().map(|leg| leg.support).collect();
    let Some(cut) = cut else {
        if let Some(apart) =
            situation.reading.as_ref().map(|read| disagreement(&supports, read)).transpose()?
        {
            let said = apart.map_or_else(Vec::new, |apart| told_apart(&apart, &situation.legs, units));
            for finding in list.iter_mut().filter(|finding| finding.code == "supports.readings") {
                finding.advice.extend(said.iter().cloned());
                finding.notes.push(CALM.to_owned());
            }
        }
        return Ok(list);
    };
    let burdens = situation.weights.iter().map(|weight| weight.burden).collect();
    let load = UncertainLoad { burdens, moment_x: situation.moment_x, moment_y: situation.moment_y };
    let bearing = situation.bearing.as_ref();
    let asked = Asked { supports: &supports, load: &load, bearing, reading: None };
    let BandAnswer::Stands(bare) = bands_of(&asked)? else { return Ok(list) };
    let mut check = confirmed(situation, &bare);
    if let Some(refused) = cut_refused(situation, &bare, &cut) {
        check = refused;
    }
    if check.standing == Standing::PastLimit {
        return Ok(vec![check]);
    }
    list.push(check.note("Checked without the reading, and that no band grew by it."));
    for finding in list.iter_mut().filter(|finding| finding.code == "supports.readings") {
        finding.notes.push(CALM.to_owned());
    }
    Ok(list)
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
