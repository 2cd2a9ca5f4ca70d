//! Whether the ride stands: overturning, sliding and uplift in every situation that a book can tell of.

use crate::aboard::{axis, present, provenance, riders};
use crate::gusts::{action, stricter};
use crate::hold;
use crate::model::LegPlan;
use crate::stages::{Stage, stages};
use crate::stow::STOWED;
use crate::wheel::wheel;
use std::collections::BTreeMap;
use tober_book::{Body as OfBook, FootMaterial, Pitch, Ride, Visit, Wetness, WindArea};
use tober_calc::finding::{Finding, Standing, Subject};
use tober_calc::stability::{
    Body, CarriedBy, Condition, Contact, FactorSet, InWind, Interface, Seat, Situation, Sources,
    StabilityInput, Surface, Swing, Tilt, Turntable, TurntableAngles, WindAction, findings,
};
use tober_calc::working::Provenance;
use tober_quantity::{Length, Mass, Slope, Toleranced, maths};

/// The placements a situation finds the bodies in.
pub(crate) const OPEN: &str = "open";
pub(crate) const ROAD: &str = "road";

/// The findings on whether the ride stands, uncoupled and open.
///
/// What the plan had to assume makes every situation on its legs not known.
pub(crate) fn stands(
    ride: &Ride,
    pitch: &Pitch,
    visit: &Visit,
    legs: &[LegPlan],
    assumed: &[String],
) -> Vec<Finding> {
    let doubted = |mut found: Vec<Finding>, situation: Situation| {
        for why in assumed.iter().filter(|_| situation != Situation::Uncoupled) {
            found = found.into_iter().map(|finding| finding.doubted(why)).collect();
        }
        found
    };
    let each = |situation| doubted(one(ride, pitch, visit, legs, situation), situation);
    let missing = match (legs.is_empty(), ride.bodies.is_empty()) {
        (true, _) => Some("A packing: without one nobody knows where the feet stand."),
        (false, true) => Some("The bodies of the ride, with their masses, places and wind areas."),
        (false, false) => None,
    };
    if let Some(missing) = missing {
        let mut found = each(Situation::Uncoupled);
        let title = "whether it stands, open";
        found.push(
            Finding::not_known("stability.overturning", Subject::Ride, title, missing).never_overridden(),
        );
        return found;
    }
    let stage = || match stages(ride, visit) {
        Ok(all) => worst_stage(ride, pitch, visit, legs, &all),
        Err(missing) => not_known(Situation::Stage, &missing),
    };
    let each = |situation| match situation {
        Situation::Stage => doubted(stage(), situation),
        other => each(other),
    };
    Situation::ALL.into_iter().flat_map(each).collect()
}

fn not_known(situation: Situation, missing: &str) -> Vec<Finding> {
    let title = format!("overturning, {}", situation.words());
    vec![Finding::not_known("stability.overturning", Subject::Ride, &title, missing).never_overridden()]
}

/// Of all stages the one that is nearest to tipping, and the one nearest to lifting, each in the wind in which its work may
/// be done. Only what is heavy enough to be a body of the book is looked at.
fn worst_stage(
    ride: &Ride,
    pitch: &Pitch,
    visit: &Visit,
    legs: &[LegPlan],
    stages: &[Stage<'_>],
) -> Vec<Finding> {
    const CODES: [&str; 2] = ["stability.overturning", "stability.uplift"];
    let mut worst: [Option<(&Stage<'_>, Finding)>; 2] = [None, None];
    let mut unknown: Vec<String> = Vec::new();
    for stage in stages {
        let found = match at_stage(ride, pitch, visit, legs, stage) {
            Ok(found) => found,
            Err(missing) => return not_known(Situation::Stage, &missing),
        };
        for (place, code) in worst.iter_mut().zip(CODES) {
            let Some(finding) = found.iter().find(|finding| finding.code == code) else { continue };
            if finding.standing == Standing::NotKnown {
                let news = finding.unknown.iter().filter(|why| !unknown.contains(why));
                let news: Vec<String> = news.cloned().collect();
                unknown.extend(news);
            }
            let rank = |finding: &Finding| {
                (finding.standing != Standing::NotKnown, finding.standing, finding.share())
            };
            if place.as_ref().is_none_or(|(_, before)| rank(finding) > rank(before)) {
                *place = Some((stage, finding.clone()));
            }
        }
    }
    let held = if wheel(ride).is_some() { "the wheel held" } else { "the turntable at any angle" };
    let noted = |(stage, mut finding): (&Stage<'_>, Finding)| {
        for why in unknown.iter().filter(|why| !finding.unknown.contains(why)).cloned().collect::<Vec<_>>() {
            finding = finding.doubted(&why);
        }
        let base = if stage.on_legs { "on its legs" } else { "on its wheels and the hitch jack" };
        let of = stages.len();
        finding
            .note(format!("The worst of {of} stages in the order of the book: after \"{}\".", stage.after))
            .note(format!(
                "It stands {base}, {held}, in the greatest wind its steps allow; no other order is looked at."
            ))
    };
    worst.into_iter().flatten().map(noted).collect()
}

/// What is found of a stage.
fn at_stage(
    ride: &Ride,
    pitch: &Pitch,
    visit: &Visit,
    legs: &[LegPlan],
    stage: &Stage<'_>,
) -> Result<Vec<Finding>, String> {
    let place = |body: &OfBook| stage.places.get(&body.name).map_or(ROAD, String::as_str);
    let contacts = if stage.on_legs { on_legs(ride, legs) } else { on_wheels(ride) };
    let contacts = contacts.map_err(str::to_owned)?;
    let mut bodies =
        present(ride, visit).map(|body| placed(body, place(body))).collect::<Result<Vec<_>, _>>()?;
    if wheel(ride).is_some() {
        // While it is raised the wheel is held as it is placed.
        bodies.iter_mut().for_each(|body| body.carried_by = CarriedBy::Frame);
    }
    let up = |body: &Body| match body.wind {
        InWind::Face { pressure_height, .. } => Some(pressure_height),
        InWind::NotKnown | InWind::CountedElsewhere => None,
    };
    let lowest = contacts.iter().map(|contact| contact.z).reduce(Length::min).unwrap_or(Length::ZERO);
    let top = bodies.iter().filter_map(up).reduce(Length::max).map(|top| (top - lowest).max(Length::ZERO));
    let wind = wind_of_stage(ride, pitch, visit, stage, top);
    let mut input = input(ride, pitch, visit, legs, Situation::Stage, contacts, bodies);
    let mut missing = None;
    match wind {
        Ok(wind) => input.wind = Some(wind),
        Err(what) => missing = Some(what),
    }
    let sources = sources(ride, visit, &input);
    let found = findings(&input, &sources).map_err(|error| error.to_string())?;
    let doubted = |finding: Finding| match &missing {
        Some(missing) => finding.doubted(missing),
        None => finding,
    };
    Ok(found.into_iter().map(doubted).collect())
}

/// The greatest wind in which a step may be done that meets a stage. A step's own limit may only be stricter than that of
/// the ride, and a step without one has that of the ride.
fn wind_of_stage(
    ride: &Ride,
    pitch: &Pitch,
    visit: &Visit,
    stage: &Stage<'_>,
    top: Option<Length>,
) -> Result<WindAction, String> {
    let of_ride = action(stricter(ride, visit, |limits| limits.wind_in_service.as_ref()), top, pitch)?;
    let mut most = None::<WindAction>;
    for step in &stage.during {
        let mut wind = of_ride;
        if let Some(own) = step.wind_limit.as_ref() {
            let own = action(Some(own), top, pitch)?;
            wind.pressure = wind.pressure.min(own.pressure);
        }
        if most.is_none_or(|most| wind.pressure > most.pressure) {
            most = Some(wind);
        }
    }
    Ok(most.unwrap_or(of_ride))
}

fn sources(ride: &Ride, visit: &Visit, input: &StabilityInput) -> Sources {
    let of_bodies = present(ride, visit).map(|body| (body.name.as_str(), body.mass_from));
    let of_ballast = hold::ballast(ride, visit).map(|ballast| (ballast.name.as_str(), ballast.mass_from));
    let named: BTreeMap<_, _> = of_bodies.chain(of_ballast).collect();
    let from =
        |body: &Body| named.get(body.name.as_str()).map_or(Provenance::Guessed, |from| provenance(*from));
    let masses = input.bodies.iter().map(from).collect();
    Sources {
        masses,
        riders: Provenance::Maker,
        wind: Provenance::Maker,
        areas: Provenance::Maker,
        tilt: Provenance::Maker,
    }
}

/// All that is known of the ride in a situation, but for its wind.
fn input(
    ride: &Ride,
    pitch: &Pitch,
    visit: &Visit,
    legs: &[LegPlan],
    situation: Situation,
    contacts: Vec<Contact>,
    bodies: Vec<Body>,
) -> StabilityInput {
    let lowest = contacts.iter().map(|contact| contact.z).reduce(Length::min).unwrap_or(Length::ZERO);
    StabilityInput {
        situation,
        guys: hold::guys(ride, pitch, lowest),
        bodies,
        seats: seats(ride, &contacts),
        turntable: turntable(ride),
        tilt: tilt(ride),
        wind: None,
        factors: factors(ride, visit),
        interfaces: interfaces(ride, pitch, legs),
        contacts,
    }
}

fn one(ride: &Ride, pitch: &Pitch, visit: &Visit, legs: &[LegPlan], situation: Situation) -> Vec<Finding> {
    let contacts = match situation {
        Situation::Uncoupled => on_wheels(ride),
        _ => on_legs(ride, legs),
    };
    let contacts = match contacts {
        Ok(contacts) => contacts,
        Err(missing) => return not_known(situation, missing),
    };
    let bodies = match bodies(ride, visit, situation, &contacts) {
        Ok(bodies) if bodies.is_empty() => {
            return not_known(situation, "The bodies of the ride, with their masses and places.");
        }
        Ok(bodies) => bodies,
        Err(missing) => return not_known(situation, &missing),
    };
    let (wind, wind_missing) = match wind(ride, pitch, visit, legs, situation) {
        Some(Ok(action)) => (Some(action), None),
        Some(Err(missing)) => (None, Some(missing)),
        None => (None, None),
    };
    let input = StabilityInput { wind, ..input(ride, pitch, visit, legs, situation, contacts, bodies) };
    let sources = sources(ride, visit, &input);
    let stowing = || {
        let limit = stricter(ride, visit, |limits| limits.wind_out_of_service.as_ref())?;
        crate::stow::stowing(ride, visit, &input, limit.speed, &sources)
    };
    match findings(&input, &sources) {
        Ok(found) => found
            .into_iter()
            .chain((situation == Situation::WindOutOfService).then(stowing).flatten())
            .map(|mut finding| {
                if let Some(missing) = &wind_missing {
                    finding = finding.doubted(missing);
                }
                finding
            })
            .collect(),
        Err(error) => not_known(situation, &error.to_string()),
    }
}

/// The feet, with their height below the datum plane.
fn on_legs(ride: &Ride, legs: &[LegPlan]) -> Result<Vec<Contact>, &'static str> {
    if legs.is_empty() {
        return Err("A packing: without one nobody knows where the feet stand.");
    }
    let contact = |leg: &LegPlan| {
        let shortest = ride.support(&leg.name).map_or(Length::ZERO, |support| support.held.shortest());
        Contact { name: leg.name.clone(), x: leg.x, y: leg.y, z: -(shortest + leg.lift) }
    };
    Ok(legs.iter().map(contact).collect())
}

/// The wheels and the jack of the hitch bar.
fn on_wheels(ride: &Ride) -> Result<Vec<Contact>, &'static str> {
    let frame = &ride.frame;
    let height = frame.resting_height.ok_or("How high the frame rests on its wheels: `resting-height`.")?;
    let jack = frame.hitch.as_ref().and_then(|hitch| hitch.jack_at);
    let jack = jack.ok_or("Where the hitch jack stands: `[frame.hitch] jack-at`.")?;
    if frame.axles.is_empty() {
        return Err("The axles of the trailer: `[[frame.axle]]`.");
    }
    let mut contacts =
        vec![Contact { name: "hitch jack".to_owned(), x: jack.along, y: jack.across, z: -height }];
    for (i, axle) in frame.axles.iter().enumerate() {
        for (side, y) in [("left", axle.track / 2.0), ("right", -(axle.track / 2.0))] {
            let name = format!("{side} wheels of axle {}", i + 1);
            contacts.push(Contact { name, x: axle.at, y, z: -height });
        }
    }
    Ok(contacts)
}

/// The bodies of the book first, in their order; out of service those that the maker has stowed are.
fn bodies(
    ride: &Ride,
    visit: &Visit,
    situation: Situation,
    contacts: &[Contact],
) -> Result<Vec<Body>, String> {
    let placement = if situation == Situation::Uncoupled { ROAD } else { OPEN };
    let mut list = Vec::new();
    let wheel = wheel(ride).filter(|_| placement == OPEN);
    let wind_up = wheel.and_then(|wheel| wheel.wind_up(ride, visit));
    for body in present(ride, visit) {
        let on_wheel = wheel.filter(|_| body.on_turntable == Some(true));
        let stowed = situation == Situation::WindOutOfService && body.stowed_in_wind == Some(true);
        let standing = placed(body, if stowed && on_wheel.is_none() { STOWED } else { placement })?;
        match on_wheel {
            Some(wheel) => {
                let mut told = wheel.as_told(ride, body, standing, contacts, wind_up)?;
                if stowed {
                    let face = wind_up.and_then(|up| wheel.stowed_face(ride, body, up));
                    let missing = || {
                        format!(
                            "How the wind finds \"{}\" stowed: a placement \"{STOWED}\" where it hangs open, with a wind area.",
                            body.name
                        )
                    };
                    let face = face.ok_or_else(missing)?;
                    told.iter_mut().take(1).for_each(|wind| wind.wind = face);
                }
                list.extend(told);
            }
            None => list.push(standing),
        }
    }
    if ride.seats.is_empty() && !list.is_empty() {
        // A book that tells of no seats leaves out their mass too.
        return Err("The seats of the ride, with what they weigh.".to_owned());
    }
    if placement == OPEN {
        for seat in ride.seats.iter().filter(|seat| seat.body.is_none()) {
            list.push(seat_as_body(ride, seat)?);
        }
        list.extend(hold::ballast(ride, visit).map(hold::as_body));
    } else if let Some(seat) = ride.seats.iter().find(|seat| seat.body.is_none()) {
        return Err(format!(
            "How \"{}\" travels: make it a body with a placement \"road\", and name it in `body`.",
            seat.name
        ));
    }
    Ok(list)
}

/// How the wind finds what a book tells of.
pub(crate) fn in_wind(wind: Option<&WindArea>) -> InWind {
    wind.map_or(InWind::NotKnown, |wind| InWind::Face {
        drag_area_along: wind.along,
        drag_area_across: wind.across,
        lift_area: wind.lift,
        pressure_height: wind.up,
    })
}

pub(crate) fn placed(body: &OfBook, placement: &str) -> Result<Body, String> {
    let there = body
        .placement(placement)
        .ok_or_else(|| format!("Where \"{}\" is: a placement \"{placement}\".", body.name))?;
    let wind = in_wind(there.wind.as_ref());
    let turns = match body.on_turntable {
        Some(true) => CarriedBy::Turntable,
        Some(false) => CarriedBy::Frame,
        None => CarriedBy::NotKnown,
    };
    Ok(Body {
        name: body.name.clone(),
        mass: body.mass,
        x: there.cg.along.value,
        y: there.cg.across.value,
        z: there.cg.up.high(),
        carried_by: turns,
        wind,
    })
}

fn seat_as_body(ride: &Ride, seat: &tober_book::Seat) -> Result<Body, String> {
    let mass: Toleranced<Mass> = seat.mass.ok_or_else(|| format!("The mass of \"{}\", empty.", seat.name))?;
    let (x, y) = axis(ride).ok_or("The axis about which the seats turn, upright or a wheel's.")?;
    let z = seat.height.ok_or_else(|| format!("How high \"{}\" is: `height`.", seat.name))?;
    // On a wheel it comes over the top.
    let z = wheel(ride).map_or(z, |wheel| z.max(wheel.highest(ride)));
    let angle = seat.angle.as_rad();
    Ok(Body {
        name: seat.name.clone(),
        mass,
        x: x + seat.radius * maths::cos(angle),
        y: y + seat.radius * maths::sin(angle),
        z,
        carried_by: CarriedBy::Turntable,
        wind: InWind::NotKnown,
    })
}

fn seats(ride: &Ride, contacts: &[Contact]) -> Option<Vec<Seat>> {
    if ride.seats.is_empty() {
        return None;
    }
    let seat = |seat: &tober_book::Seat| Seat {
        name: seat.name.clone(),
        angle: seat.angle,
        radius: seat.radius,
        swing: seat.radius_at_speed.map_or(Swing::NotKnown, Swing::OutTo),
        z: seat.height.map(|told| match wheel(ride) {
            Some(wheel) => told.max(wheel.top(seat.radius_at_speed.unwrap_or(seat.radius), contacts)),
            None => told,
        }),
        riders: u32::try_from(seat.places).unwrap_or(u32::MAX),
        rider_mass: riders(ride, seat).map(|all| all / seat.places.max(1) as f64),
    };
    Some(ride.seats.iter().map(seat).collect())
}

fn turntable(ride: &Ride) -> Option<Turntable> {
    let (x, y) = axis(ride)?;
    let rotation = ride.motion.as_ref()?.rotations.first()?;
    let speed = match ride.limits.as_ref().and_then(|limits| limits.speed_greatest) {
        Some(limit) if limit < rotation.speed_greatest => limit,
        _ => rotation.speed_greatest,
    };
    // A wheel's bodies are told as on an upright turntable, on the safe side: see `wheel::as_told`. Sliding counts no rider's
    // weight as holding, and that is more than what turning takes off it, unless the wheel is too fast.
    let speed = Some(speed).filter(|_| wheel(ride).is_none_or(|wheel| wheel.too_fast(ride).is_none()));
    let angles = wheel(ride)
        .map_or(TurntableAngles::Any, |wheel| TurntableAngles::OfAWheel { hub: Some(wheel.hub().up.high()) });
    Some(Turntable { x, y, angles, speed })
}

fn tilt(ride: &Ride) -> Option<Tilt> {
    let (along, across): (Slope, Slope) = ride.frame.level_along.zip(ride.frame.level_across)?;
    Some(Tilt { along, across })
}

/// The factor sets: the maker's and the visit's where both are written, or else every one that is known.
fn factors(ride: &Ride, visit: &Visit) -> Vec<FactorSet> {
    let makers = ride.limits.as_ref().and_then(|limits| limits.stability_factors.as_deref());
    let visits = visit.about.stability_factors.as_deref();
    let (Some(makers), Some(visits)) = (makers, visits) else { return FactorSet::known() };
    let mut sets: Vec<FactorSet> = Vec::new();
    for name in [makers, visits] {
        // A set that is not known leaves none, and then nothing is known: never a silent choice.
        let Some(set) = FactorSet::named(name) else { return Vec::new() };
        if sets.iter().all(|there| there.name != set.name) {
            sets.push(set);
        }
    }
    sets
}

/// What lies on what, from the foot down to the ground, under every leg.
fn interfaces(ride: &Ride, pitch: &Pitch, legs: &[LegPlan]) -> Vec<Interface> {
    let mut list = Vec::new();
    for leg in legs {
        let foot = ride.support(&leg.name).and_then(|support| support.foot_material);
        let foot = foot.map_or(Surface::Other, |material| match material {
            FootMaterial::Steel => Surface::Steel,
            FootMaterial::Timber => Surface::Timber,
            FootMaterial::Plastic => Surface::Plastic,
            FootMaterial::Rubber => Surface::Rubber,
            FootMaterial::Aluminium => Surface::Other,
        });
        let ground = pitch.ground_under(&leg.name);
        let dry = ground.and_then(|ground| ground.wet) == Some(Wetness::Dry);
        let condition = if dry { Condition::Clean } else { Condition::NotClean };
        let drawn = ground.and_then(|ground| ground.friction);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "the book bounds it from 0 to 2"
        )]
        let below = drawn
            .map_or(Surface::Other, |share| Surface::Drawn((share.0.as_one() * 100.0 + 1e-9).floor() as u8));
        let mut surfaces = vec![foot];
        surfaces.extend(leg.layers.iter().rev().map(|layer| match layer.metal.as_deref() {
            // Steels are named S and their strength; friction of other metals is not published here.
            Some(metal) if metal.starts_with('S') => Surface::Steel,
            Some(_) => Surface::Other,
            None if layer.thin => Surface::Plywood,
            None => Surface::Timber,
        }));
        surfaces.push(below);
        for pair in surfaces.windows(2) {
            let interface = Interface { upper: pair[0], lower: pair[1], condition };
            if !list.contains(&interface) {
                list.push(interface);
            }
        }
    }
    list
}

/// How high above the lowest foot the wind acts on anything.
fn top(ride: &Ride, legs: &[LegPlan]) -> Option<Length> {
    let heights = ride.bodies.iter().map(|body| Some(body.placement(OPEN)?.wind.as_ref()?.up));
    let highest = heights.collect::<Option<Vec<Length>>>()?.into_iter().reduce(Length::max)?;
    let highest = wheel(ride).map_or(highest, |wheel| highest.max(wheel.highest(ride)));
    let below = |leg: &LegPlan| {
        ride.support(&leg.name).map_or(Length::ZERO, |support| support.held.shortest()) + leg.lift
    };
    Some(highest + legs.iter().map(below).reduce(Length::max)?)
}

/// The wind of a situation: `None` where it has none.
fn wind(
    ride: &Ride,
    pitch: &Pitch,
    visit: &Visit,
    legs: &[LegPlan],
    situation: Situation,
) -> Option<Result<WindAction, String>> {
    let limit = match situation {
        Situation::WindInService => stricter(ride, visit, |limits| limits.wind_in_service.as_ref()),
        Situation::WindOutOfService => stricter(ride, visit, |limits| limits.wind_out_of_service.as_ref()),
        _ => return None,
    };
    Some(action(limit, top(ride, legs), pitch))
}

/// The wind in which it may run, and how high it reaches: for what the legs carry.
pub(crate) fn wind_in_service(
    ride: &Ride,
    pitch: &Pitch,
    visit: &Visit,
    legs: &[LegPlan],
) -> Result<WindAction, String> {
    wind(ride, pitch, visit, legs, Situation::WindInService).unwrap_or_else(|| Err(String::new()))
}
