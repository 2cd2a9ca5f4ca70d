//! Sliding on the packing, and uplift by the wind.

use super::error::StabilityError;
use super::factors::FactorSet;
use super::friction::{Interface, friction};
use super::guys::{against_lifting_n, against_sliding_n};
use super::hull;
use super::overturning::{Answer, level_missing};
use super::ride::{CarriedBy, InWind};
use super::seats::{TurningMass, greatest_out_of_balance};
use super::situation::{Aboard, Situation, StabilityInput};
use tober_quantity::{Angle, Force, Length, Mass, Quantity, Ratio, maths};

/// Sliding by one factor set.
#[derive(Clone, Debug, PartialEq)]
pub struct Sliding {
    /// The set.
    pub set: FactorSet,
    /// The wind's force along the ground, without factor; nothing where none blows.
    pub wind: Force,
    /// The force of turning, without factor.
    pub turning: Force,
    /// The weight's part down the tilted frame, at the greatest masses, without factor.
    pub downhill: Force,
    /// All of that, factored.
    pub force: Force,
    /// The weight at the least masses, riders not counted, without factor.
    pub weight: Force,
    /// The wind's lift, without factor.
    pub lift: Force,
    /// The two surfaces that slide first, of those for which a figure is held.
    pub interface: Interface,
    /// Their friction, before its divisor.
    pub friction: Ratio,
    /// Where that was published.
    pub friction_source: &'static str,
    /// What the guys add, in the direction in which they help least.
    pub guys: Force,
    /// What resists: friction / divisor · (factored weight − factored lift), never below zero, and the guys.
    pub resistance: Force,
}

/// Uplift of the whole ride by one factor set.
#[derive(Clone, Debug, PartialEq)]
pub struct Uplift {
    /// The set.
    pub set: FactorSet,
    /// The wind's lift, without factor.
    pub lift: Force,
    /// The wind's lift, factored.
    pub lifting: Force,
    /// The weight at the least masses, without factor.
    pub weight: Force,
    /// What the guys pull down with.
    pub guys: Force,
    /// Both, the weight factored.
    pub holding: Force,
}

/// Sliding by each factor set: γ (wind + turning) + γ W θ ≤ (µ / divisor) (γ W − γ lift) + guys, forces in N.
///
/// W weight at the least masses on the right and the greatest on the left, θ tilt, µ the lowest friction of all
/// interfaces. Turning is the greatest out-of-balance of riders and masses at the highest speed. Source: statics.
/// A bound on the safe side: the worst of each force at once, from one direction, with no rider's weight to help.
///
/// Not known where any interface has no published figure, unless one that has already slides.
///
/// # Errors
/// As [`super::overturning`].
///
/// # Not covered
/// Stakes, spades and the ground's own shear strength.
pub fn sliding(input: &StabilityInput) -> Result<Vec<Answer<Sliding>>, StabilityError> {
    input.check()?;
    hull::edges(&input.contacts)?;
    let turning = turning_force(input)?;
    let guys = Force::n(against_sliding_n(&input.ropes()));
    let by_set = |set: &FactorSet| {
        let mut missing = input.missing();
        missing.extend(level_missing(input, set));
        by_interface(input, set, (turning, guys), missing)
    };
    Ok(every_set(input, by_set))
}

/// Uplift by each factor set: γ lift ≤ γ W + guys, W the weight at the least masses (N). Empty where no wind acts.
///
/// Source: statics. Lift of a part of the ride shows as overturning.
///
/// # Errors
/// As [`super::overturning`].
pub fn uplift(input: &StabilityInput) -> Result<Vec<Answer<Uplift>>, StabilityError> {
    input.check()?;
    hull::edges(&input.contacts)?;
    if !input.situation.in_wind() {
        return Ok(Vec::new());
    }
    let by_set = |set: &FactorSet| {
        let mut missing = input.wind_missing();
        missing.extend(input.guys_missing());
        missing.extend(level_missing(input, set));
        if !missing.is_empty() {
            return Answer::NotKnown(missing);
        }
        let (lift, weight) = (lift(input), weight(input));
        let guys = Force::n(against_lifting_n(&input.ropes()));
        Answer::Known(Uplift {
            set: set.clone(),
            lift,
            lifting: lift * set.wind.as_one(),
            weight,
            guys,
            holding: weight * set.permanent_favourable.as_one() + guys,
        })
    };
    Ok(every_set(input, by_set))
}

fn every_set<T>(input: &StabilityInput, by_set: impl Fn(&FactorSet) -> Answer<T>) -> Vec<Answer<T>> {
    if input.factors.is_empty() {
        let missing = "Not known: the set of factors against overturning, sliding and uplift.";
        return vec![Answer::NotKnown(vec![missing.to_owned()])];
    }
    input.factors.iter().map(by_set).collect()
}

fn weight(input: &StabilityInput) -> Force {
    input.bodies.iter().fold(Force::ZERO, |sum, body| sum + Force::weight(body.mass.low()))
}

fn faces(input: &StabilityInput) -> impl Iterator<Item = (bool, f64, f64, f64)> {
    input.bodies.iter().filter_map(|body| match body.wind {
        InWind::Face { drag_area_along, drag_area_across, lift_area, .. } => Some((
            body.carried_by == CarriedBy::Turntable,
            drag_area_along.si(),
            drag_area_across.si(),
            lift_area.si(),
        )),
        InWind::NotKnown | InWind::CountedElsewhere => None,
    })
}

fn lift(input: &StabilityInput) -> Force {
    let pressure_pa = input.wind.map_or(0.0, |wind| wind.pressure.si());
    let area_m2: f64 = faces(input).map(|(_, _, _, lift_m2)| lift_m2).sum();
    Force::n(if input.situation.in_wind() { pressure_pa * area_m2 } else { 0.0 })
}

fn drag(input: &StabilityInput) -> Force {
    let pressure_pa = input.wind.map_or(0.0, |wind| wind.pressure.si());
    let (mut along_m2, mut across_m2, mut turning_m2) = (0.0, 0.0, 0.0);
    for (turns, along, across, _) in faces(input) {
        if turns {
            turning_m2 += maths::hypot(along, across);
        } else {
            along_m2 += along;
            across_m2 += across;
        }
    }
    let area_m2 = maths::hypot(along_m2, across_m2) + turning_m2;
    Force::n(if input.situation.in_wind() { pressure_pa * area_m2 } else { 0.0 })
}

/// The greatest rotating force of riders and of bodies within their mass bands.
fn turning_force(input: &StabilityInput) -> Result<Force, StabilityError> {
    let (true, Some(turntable)) = (input.situation.turns(), &input.turntable) else {
        return Ok(Force::ZERO);
    };
    let Some(speed) = turntable.speed else { return Ok(Force::ZERO) };
    let mut masses = Vec::new();
    for body in input.bodies.iter().filter(|body| body.carried_by == CarriedBy::Turntable) {
        let (dx, dy) = ((body.x - turntable.x).si(), (body.y - turntable.y).si());
        let high = body.mass.high();
        masses.push(TurningMass {
            name: body.name.clone(),
            mass: high,
            least: Ratio::one(if high > Mass::ZERO { body.mass.low() / high } else { 0.0 }),
            radius: Length::m(maths::hypot(dx, dy)),
            angle: Angle::rad(maths::atan2(dy, dx)),
        });
    }
    for seat in input.seats.iter().flatten() {
        masses.push(TurningMass {
            name: seat.name.clone(),
            mass: seat.load().unwrap_or(Mass::ZERO),
            least: Ratio::ZERO,
            radius: seat.radius_at_speed().unwrap_or(seat.radius),
            angle: seat.angle,
        });
    }
    Ok(greatest_out_of_balance(&masses)?.force(speed))
}

fn by_interface(
    input: &StabilityInput,
    set: &FactorSet,
    (turning, guys): (Force, Force),
    mut missing: Vec<String>,
) -> Answer<Sliding> {
    if input.interfaces.is_empty() {
        missing.push("Not known: what lies on what, from the feet down to the ground.".to_owned());
    }
    let mut lowest: Option<(Interface, Ratio, &'static str)> = None;
    let mut unpublished = Vec::new();
    for interface in &input.interfaces {
        match friction(*interface) {
            Some(found) if lowest.is_none_or(|(_, coefficient, _)| found.coefficient < coefficient) => {
                lowest = Some((*interface, found.coefficient, found.source));
            }
            Some(_) => {}
            None => unpublished
                .push(format!("Not known: the friction of {}; a pull test would tell.", interface.words())),
        }
    }
    let (true, Some((interface, coefficient, source))) = (missing.is_empty(), lowest) else {
        missing.extend(unpublished);
        return Answer::NotKnown(missing);
    };

    let tilt = input.tilt.map_or(0.0, |tilt| maths::hypot(tilt.along.si(), tilt.across.si()));
    let riders = input.seats.iter().flatten().filter(|_| input.situation.aboard() != Aboard::Nobody);
    let riders_n =
        riders.fold(0.0, |sum, seat| sum + seat.load().map_or(0.0, |load| Force::weight(load).si()));
    let bodies_n: f64 = input.bodies.iter().map(|body| Force::weight(body.mass.high()).si()).sum();
    let (wind, weight, lift) = (drag(input), weight(input), lift(input));
    let weight_down = set.permanent_unfavourable.si() * bodies_n + set.other_variable.si() * riders_n;
    let force = wind * set.wind.si() + turning * set.other_variable.si() + Force::n(weight_down * tilt);
    let pressing = weight * set.permanent_favourable.si() - lift * set.wind.si();
    let resistance = pressing.max(Force::ZERO) * (coefficient / set.friction_divisor) + guys;
    if force <= resistance && !unpublished.is_empty() {
        return Answer::NotKnown(unpublished);
    }
    Answer::Known(Sliding {
        set: set.clone(),
        wind,
        turning,
        downhill: Force::n((bodies_n + riders_n) * tilt),
        force,
        weight,
        lift,
        interface,
        friction: coefficient,
        friction_source: source,
        guys,
        resistance,
    })
}

impl Situation {
    /// Whether sliding and uplift mean anything beyond what the brakes and chocks hold: not on wheels.
    pub fn stands_on_packing(self) -> bool {
        self != Self::Uncoupled
    }
}
