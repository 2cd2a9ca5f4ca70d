//! The worst partial load: which seats, full, and which turntable angle bring a load to its greatest or least.

use super::error::{StabilityError, counted, within};
use super::hull;
use super::influence::support_influences;
use super::ride::{Contact, Seat, Turntable, TurntableAngles};
use super::sweep::{self, Angles, Part, Wave};
use tober_quantity::{Angle, Force, FrequencyOfTurning, Length, Mass, Moment, Quantity, Ratio, Stiffness};

/// What something adds to a load while the turntable turns: p + q cos a + r sin a, a the turntable's angle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Contribution<Q> {
    /// The part p that does not change.
    pub constant: Q,
    /// The part q that goes with the cosine.
    pub cosine: Q,
    /// The part r that goes with the sine.
    pub sine: Q,
}

impl<Q: Quantity> Contribution<Q> {
    fn wave(&self) -> Wave {
        Wave { constant: self.constant.si(), cosine: self.cosine.si(), sine: self.sine.si() }
    }
    fn from_wave(wave: Wave) -> Self {
        Self {
            constant: Q::from_si(wave.constant),
            cosine: Q::from_si(wave.cosine),
            sine: Q::from_si(wave.sine),
        }
    }
    fn check(&self, of: &str) -> Result<(), StabilityError> {
        let most = Q::from_si(1e12);
        let least = Q::from_si(-1e12);
        for value in [self.constant, self.cosine, self.sine] {
            within("contribution", of, value, least, most)?;
        }
        Ok(())
    }
}

/// A place that may hold anything between its least and its greatest load.
#[derive(Clone, Debug, PartialEq)]
pub struct Place<Q> {
    /// Its name.
    pub name: String,
    /// What it adds with its greatest load.
    pub full: Contribution<Q>,
    /// The least share of that load that is always there: 0 for a place that may be empty.
    pub least: Ratio,
}

/// Which end is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extreme {
    /// The greatest value.
    Greatest,
    /// The least value.
    Least,
}

/// The question: how far can places, empty or full, bring a load?
#[derive(Clone, Debug, PartialEq)]
pub struct PartialLoadInput<Q> {
    /// What is there whichever places are full.
    pub base: Contribution<Q>,
    /// The places.
    pub places: Vec<Place<Q>>,
    /// The angles at which the turntable may stand.
    pub angles: TurntableAngles,
    /// Which end is looked for.
    pub extreme: Extreme,
}

/// The answer to [`worst_partial_load`].
#[derive(Clone, Debug, PartialEq)]
pub struct PartialLoad<Q> {
    /// The greatest or least value there is.
    pub value: Q,
    /// A turntable angle at which it occurs.
    pub angle: Angle,
    /// For each place, whether it is full there.
    pub full: Vec<bool>,
}

/// The greatest or least value of base + Σ share · (p + q cos a + r sin a), exactly.
///
/// The share of each place is between its least and 1, chosen for the worst; a is any angle or one of those
/// stated. A sum that is linear in each share is worst at an end of it, and a place goes from one end to
/// the other where its contribution changes its sign, so a sweep over those angles meets the worst; see
/// the source for the steps. O(n log n). Source: geometry; compared in the tests with every subset.
///
/// # Errors
/// Refuses contributions that are not finite or above 10¹² SI units, shares outside 0 to 1, more than
/// 10,000 places and an empty list of stated angles.
///
/// # Not covered
/// Loads that are not linear in the contributions: a support's load once another support has lifted off.
pub fn worst_partial_load<Q: Quantity>(
    input: &PartialLoadInput<Q>,
) -> Result<PartialLoad<Q>, StabilityError> {
    counted("places", input.places.len(), 0, 10_000)?;
    input.base.check("the base")?;
    let sign = match input.extreme {
        Extreme::Greatest => 1.0,
        Extreme::Least => -1.0,
    };
    let mut parts = vec![Part::always(input.base.wave().times(sign))];
    for place in &input.places {
        place.full.check(&place.name)?;
        within("least share", &place.name, place.least, Ratio::ZERO, Ratio::one(1.0))?;
        let wave = place.full.wave().times(sign);
        parts.push(Part { wave, when_positive: 1.0, when_negative: place.least.as_one() });
    }
    let stated_rad: Vec<f64>;
    let angles = match &input.angles {
        TurntableAngles::Any | TurntableAngles::OfAWheel { .. } => Angles::Any,
        TurntableAngles::Stated(stated) => {
            counted("stated angles of the turntable", stated.len(), 1, 10_000)?;
            for angle in stated {
                within("stated angle", "the turntable", *angle, Angle::deg(-720.0), Angle::deg(720.0))?;
            }
            stated_rad = stated.iter().map(|angle| angle.as_rad()).collect();
            Angles::Stated(&stated_rad)
        }
    };
    let peak = sweep::greatest(&parts, angles);
    Ok(PartialLoad {
        value: Q::from_si(sign * peak.value),
        angle: Angle::rad(peak.angle),
        full: parts[1..].iter().map(|part| part.wave.at(peak.angle) > 0.0).collect(),
    })
}

/// What a mass at a radius adds to a load that depends on where it stands as c + cx X + cy Y, with the part of
/// (cx, cy) in which it goes round: all of it, but on a wheel.
pub(super) fn turning_wave(
    influence: (f64, f64, f64),
    goes: (f64, f64),
    turntable: (f64, f64),
    angle_rad: f64,
    radius_m: f64,
) -> Wave {
    use tober_quantity::maths::{cos, sin};
    let (constant, per_x, per_y) = influence;
    let (c, s) = (cos(angle_rad), sin(angle_rad));
    Wave {
        constant: constant + per_x * turntable.0 + per_y * turntable.1,
        cosine: radius_m * (goes.0 * c + goes.1 * s),
        sine: radius_m * (goes.1 * c - goes.0 * s),
    }
}

fn places<Q: Quantity>(
    seats: &[Seat],
    turntable: &Turntable,
    influence: (f64, f64, f64),
) -> Result<Vec<Place<Q>>, StabilityError> {
    counted("seats", seats.len(), 0, 10_000)?;
    turntable.check()?;
    let axis = (turntable.x.si(), turntable.y.si());
    let place = |seat: &Seat| {
        seat.check()?;
        let load = seat.load().unwrap_or(Mass::ZERO);
        let wave = turning_wave(
            influence,
            turntable.goes((influence.1, influence.2)),
            axis,
            seat.angle.si(),
            seat.radius.si(),
        );
        Ok(Place {
            name: seat.name.clone(),
            full: Contribution::from_wave(wave.times(Force::weight(load).si())),
            least: Ratio::ZERO,
        })
    };
    seats.iter().map(place).collect()
}

/// What the riders of each seat add to the moment that tips over an edge, at rest.
///
/// The edge runs from one point to another with the base to its left; the moment is weight times the
/// distance outside the edge, so it is negative for a seat inside. Seats whose rider mass is not known add nothing.
///
/// # Errors
/// Refuses seats or a turntable with values out of range, and an edge shorter than 1 mm.
pub fn edge_moment_places(
    seats: &[Seat],
    turntable: &Turntable,
    edge: ((Length, Length), (Length, Length)),
) -> Result<Vec<Place<Moment>>, StabilityError> {
    let (from, to) = edge;
    let (dx, dy) = ((to.0 - from.0).si(), (to.1 - from.1).si());
    let length_m = tober_quantity::maths::hypot(dx, dy);
    within("length", "the edge", Length::m(length_m), Length::mm(1.0), Length::m(1e4))?;
    let outward = (dy / length_m, -dx / length_m);
    let constant = -(outward.0 * from.0.si() + outward.1 * from.1.si());
    places(seats, turntable, (constant, outward.0, outward.1))
}

/// What the riders of each seat add to the load of one support while every support touches the ground.
///
/// A rigid frame on springs: see [`support_influences`].
///
/// # Errors
/// As [`support_influences`], and refuses seats or a turntable with values out of range.
pub fn support_load_places(
    seats: &[Seat],
    turntable: &Turntable,
    supports: &[(Contact, Stiffness)],
    support: usize,
) -> Result<Vec<Place<Force>>, StabilityError> {
    let influences = support_influences(supports)?;
    counted("supports before the one asked for", support, 0, influences.len() - 1)?;
    let influence = influences[support];
    places(seats, turntable, (influence.constant, influence.per_x, influence.per_y))
}

/// A mass at a radius on the turntable.
#[derive(Clone, Debug, PartialEq)]
pub struct TurningMass {
    /// Its name.
    pub name: String,
    /// Its greatest mass.
    pub mass: Mass,
    /// The least share of that mass that is always there: 0 for riders who may be absent.
    pub least: Ratio,
    /// Its radius.
    pub radius: Length,
    /// Its angle, the turntable at angle zero.
    pub angle: Angle,
}

/// The answer to [`greatest_out_of_balance`].
#[derive(Clone, Debug, PartialEq)]
pub struct OutOfBalance {
    /// The mass that, one metre from the axis, would be as much out of balance.
    pub mass_at_one_metre: Mass,
    /// The direction in which it lies, the turntable at angle zero.
    pub direction: Angle,
    /// For each mass, whether it is there at its greatest.
    pub full: Vec<bool>,
}

impl OutOfBalance {
    /// The rotating force: F = m r w², m r the mass at one metre (kg m), w the turning speed (rad/s).
    pub fn force(&self, speed: FrequencyOfTurning) -> Force {
        Force::n(self.mass_at_one_metre.as_kg() * speed.as_rad_per_s() * speed.as_rad_per_s())
    }
}

/// The greatest length of Σ m r over all loads: how far a turntable can be out of balance.
///
/// The longest of all sums is the greatest, over all directions d, of Σ max(share · m r · d), which is again
/// a sweep; the sums met on the way are the corners of a zonotope. O(n log n), exact. Source: geometry.
///
/// # Errors
/// Refuses masses, radii, shares and angles out of range, and more than 10,000 masses.
pub fn greatest_out_of_balance(masses: &[TurningMass]) -> Result<OutOfBalance, StabilityError> {
    counted("masses", masses.len(), 0, 10_000)?;
    let mut parts = Vec::with_capacity(masses.len());
    for turning in masses {
        let name = &turning.name;
        within("mass", name, turning.mass, Mass::ZERO, Mass::t(1000.0))?;
        within("least share", name, turning.least, Ratio::ZERO, Ratio::one(1.0))?;
        within("radius", name, turning.radius, Length::ZERO, Length::m(100.0))?;
        within("angle", name, turning.angle, Angle::deg(-720.0), Angle::deg(720.0))?;
        let moment_kg_m = turning.mass.as_kg() * turning.radius.as_m();
        let (c, s) = (
            tober_quantity::maths::cos(turning.angle.as_rad()),
            tober_quantity::maths::sin(turning.angle.as_rad()),
        );
        let wave = Wave { constant: 0.0, cosine: moment_kg_m * c, sine: moment_kg_m * s };
        parts.push(Part { wave, when_positive: 1.0, when_negative: turning.least.as_one() });
    }
    let peak = sweep::greatest(&parts, Angles::Any);
    Ok(OutOfBalance {
        mass_at_one_metre: Mass::kg(peak.value.max(0.0)),
        direction: Angle::rad(peak.angle),
        full: parts.iter().map(|part| part.wave.at(peak.angle) > 0.0).collect(),
    })
}

/// The edges of the base of some contacts, each from one contact to the next with the base to its left.
///
/// # Errors
/// Refuses fewer than three contacts, two in one place, and contacts all on one line.
pub fn base_edges(contacts: &[Contact]) -> Result<Vec<(String, String)>, StabilityError> {
    Ok(hull::edges(contacts)?.into_iter().map(|edge| (edge.from, edge.to)).collect())
}
