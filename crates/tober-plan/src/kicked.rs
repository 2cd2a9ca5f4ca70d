//! What a hand found at the feet of a lowered frame, and what then rested on it.

use crate::aboard::{Around, present, provenance};
use crate::beams::bearing;
use crate::loads::{EitherWay, OpenLoad, on_frame, whole};
use crate::model::{Held, LegPlan};
use crate::stand::ROAD;
use std::collections::BTreeMap;
use tober_book::{Does, Ride, Visit, Wheels};
use tober_calc::supports::{
    Apart, Between, Burden, Disagreement, FootRead, Leg, Place, Reading, Seen, Spot, UncertainLoad, Weight,
};
use tober_quantity::{Force, Length, Quantity, Rounding, Shown, UnitSet};

/// The most that a foot may carry and still move under a kick, in newtons: a kick of 1 kN against a friction of 0.3 between
/// steel and timber, and rounded up. Ours: no source was found. More of it cuts a band less.
const KICK_SHIFTS_N: f64 = 4000.0;

/// More than the reader of a frame takes as the load of a foot.
const NO_FOOT_CARRIES_KN: f64 = 1000.0;

/// What was read of one foot, by word and by gauge.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct AtFoot {
    /// Snug, or light; where it is light, whether a gap was measured under it.
    pub kicked: Option<Kicked>,
    /// The load that was measured, and what it may be off by.
    pub load: Option<(Force, Option<Force>)>,
    /// How far the leg was raised after the ground was surveyed.
    pub raised: Length,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Kicked {
    Snug,
    Light { gap: bool },
}

impl AtFoot {
    /// As the calculation takes it. A foot that does not move touches, and how hard nobody knows; one with a gap under it
    /// carries nothing.
    fn read(self) -> FootRead {
        let seen = self.kicked.map(|kicked| match kicked {
            Kicked::Snug => Seen::Snug { at_least: Force::ZERO },
            Kicked::Light { gap: true } => Seen::Light { at_most: Force::ZERO },
            Kicked::Light { gap: false } => Seen::Light { at_most: Force::n(KICK_SHIFTS_N) },
        });
        let measured = self.load.and_then(|(load, off_by)| {
            let off = off_by?;
            Some(Between { low: (load - off).max(Force::ZERO), high: (load + off).max(Force::ZERO) })
        });
        FootRead { seen, measured }
    }
}

/// The reading of the feet for the calculation, or what is missing for one.
pub(crate) fn reading(
    around: &Around<'_>,
    places: &[(&str, Spot)],
    feet: &BTreeMap<String, AtFoot>,
) -> Result<Reading, String> {
    let Around { ride, visit, .. } = *around;
    let blind = feet.iter().find(|(_, foot)| matches!(foot.load, Some((_, None))));
    if let Some((name, _)) = blind {
        return Err(format!(
            "What the load measured at {name} may be off by: write it behind the load, \"1.8 t ± 5 %\", or give \
             `load-off-by`."
        ));
    }
    match ride.frame.wheels {
        Some(Wheels::Clear | Wheels::Touching) => {}
        Some(Wheels::Sharing) => {
            return Err(
                "What the wheels carry beside the legs, so that the rest can be held against the feet."
                    .to_owned(),
            );
        }
        None => return Err("Whether the wheels carry beside the legs: `wheels` in the frame.".to_owned()),
    }
    let load = lowered_load(around, &when_set(ride, visit)?);
    if !load.unknown.is_empty() {
        return Err(load.unknown.join(" "));
    }
    Ok(Reading {
        bearing: bearing(ride, places, &load.weights)?,
        load: UncertainLoad {
            burdens: load.weights.iter().map(|weight| weight.burden).collect(),
            moment_x: load.moment_x,
            moment_y: load.moment_y,
        },
        feet: places.iter().map(|(name, _)| feet.get(*name).copied().unwrap_or_default().read()).collect(),
    })
}

/// What rests on the frame while it is read: every body where it is then, what may be aboard or not, and no rider.
///
/// What turns is held where its placement has it.
fn lowered_load(around: &Around<'_>, places: &BTreeMap<String, String>) -> OpenLoad {
    let Around { ride, visit, .. } = *around;
    let mut load = OpenLoad::default();
    let mut either = EitherWay::default();
    if ride.bodies.is_empty() {
        whole(ride, &mut load, &mut either);
    }
    for body in present(ride, visit) {
        let name = places.get(&body.name).map_or(ROAD, String::as_str);
        match body.placement(name) {
            Some(there) => on_frame(body, there.cg.along, there.cg.across, &mut load, &mut either),
            None => load.unknown.push(format!("Where \"{}\" is: a placement \"{name}\".", body.name)),
        }
    }
    if !ride.bodies.is_empty() {
        for seat in ride.seats.iter().filter(|seat| seat.body.is_none()) {
            load.unknown.push(format!(
                "How \"{}\" travels: make it a body with a placement \"road\", and name it in `body`.",
                seat.name
            ));
        }
    }
    for ballast in crate::hold::ballast(ride, visit) {
        let (along, across) = (ballast.at.along, ballast.at.across);
        let most = Force::weight(ballast.mass.high());
        let from = provenance(ballast.mass_from);
        either.off_place(&ballast.name, most, from.clone(), along.off_by, across.off_by);
        load.weights.push(Weight {
            name: ballast.name.clone(),
            burden: Burden {
                down: Between { low: Force::ZERO, high: most },
                place: Place::At(Spot { x: along.value, y: across.value }),
            },
            from,
        });
    }
    (load.couples, load.moment_x, load.moment_y) = either.ends();
    load
}

/// Where each body is once the last leg that carries is set: as on the road, but for what the steps moved before.
fn when_set(ride: &Ride, visit: &Visit) -> Result<BTreeMap<String, String>, String> {
    let road = || ROAD.to_owned();
    let mut places: BTreeMap<String, String> =
        present(ride, visit).map(|body| (body.name.clone(), road())).collect();
    let mut to_set: Vec<&str> =
        ride.supports.iter().filter(|s| s.does == Does::Carries).map(|s| s.name.as_str()).collect();
    if ride.steps.iter().all(|step| step.sets.is_empty()) {
        return Ok(places);
    }
    for step in &ride.steps {
        for moved in &step.moves {
            if let Some(place) = places.get_mut(&moved.body) {
                place.clone_from(&moved.to);
            }
        }
        to_set.retain(|name| !step.sets.iter().any(|set| set == name));
        if to_set.is_empty() {
            return Ok(places);
        }
    }
    Err(format!("The step that sets {}: `sets`.", to_set.join(", ")))
}

/// What is said beside bands that a reading cut.
pub(crate) const CALM: &str = "The reading is taken to be made in calm air, with nobody on the frame, the hitch jack \
                               wound off and everything lying as the steps leave it once the last leg is set.";

/// By how much what was read and what is computed miss each other, in the units of the visit.
pub(crate) fn told_apart(apart: &Disagreement, legs: &[Leg], units: UnitSet) -> Vec<String> {
    let told = |force: Force| force.mass().amount().shown(Shown::Load).print(units, Rounding::Nearest);
    let band = |between: Between<Force>| {
        let low = told(between.low.max(Force::ZERO));
        // A foot that is only said to touch may carry anything.
        if between.high.as_kn() >= NO_FOOT_CARRIES_KN {
            return format!("{low} or more");
        }
        format!("{low} to {}", told(between.high))
    };
    let one = |one: &Apart| {
        let name = legs.get(one.support).map_or("a leg", |leg| leg.name.as_str());
        format!(
            "At {name} {} was read, and {} is computed without the readings: {} apart.",
            band(one.read),
            band(one.computed),
            told(one.by)
        )
    };
    let mut said: Vec<String> = apart.alone.iter().take(3).map(one).collect();
    if let (true, Some(together)) = (said.is_empty(), apart.together) {
        said.push(format!(
            "Each reading can be by itself; all together they miss by {} at least, beyond what each may be off by.",
            told(together)
        ));
    }
    said
}

/// A gap of a leg that stands otherwise than it was planned: what was added to it closes the gap.
pub(crate) fn raised_by(planned: &LegPlan, stands: &LegPlan) -> Length {
    let held = match (&planned.held, &stands.held) {
        (Held::Hole { number: one, pitch, .. }, Held::Hole { number: other, .. }) => {
            *pitch * (*other as f64 - *one as f64)
        }
        (Held::Screw { extension: one, .. }, Held::Screw { extension: other, .. }) => *other - *one,
        // The trim has refused what no such leg has.
        _ => Length::ZERO,
    };
    held + stands.stack - planned.stack
}
