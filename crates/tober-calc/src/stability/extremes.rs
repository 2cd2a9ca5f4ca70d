//! The least and the greatest load of each support: the worst riders, the worst angle, at rest and turning.

use super::error::{StabilityError, counted};
use super::influence::support_influences;
use super::overturning::Answer;
use super::ride::{CarriedBy, InWind, TurntableAngles};
use super::seats::turning_wave;
use super::situation::{Aboard, Situation, StabilityInput};
use super::sweep::{self, Angles, Part, Peak, Wave};
use tober_quantity::{Angle, Force, Mass, Quantity, Stiffness, maths};

/// Between what the load of a support lies in a situation.
#[derive(Clone, Debug, PartialEq)]
pub struct SupportExtremes {
    /// The support.
    pub name: String,
    /// The least, below zero where it would have to be held down.
    pub least: Force,
    /// The turntable's angle there.
    pub least_angle: Angle,
    /// The greatest.
    pub greatest: Force,
    /// The turntable's angle there.
    pub greatest_angle: Angle,
}

/// The least and the greatest load of each contact, without factors, for a rigid frame on springs.
///
/// R = Σ W (c + c_x x + c_y y) + Σ F h (c_x e_x + c_y e_y), W weights in N, F = m r ω² and the wind's force in N in
/// direction e, h above the lowest contact in m, c the influence of the support ([`support_influences`]). Each mass at
/// the worse end of its band, each rider there or not, each guy from slack to its strength. Exact over all angles by a sweep,
/// as long as no support lifts: where a least is below zero one does, and only equilibrium of the whole is right.
/// On a wheel the force of turning goes through the hub, up and down too. Wind from any side is bounded, as in [`super::overturning`]. Source: statics.
///
/// # Errors
/// As [`super::overturning`] and [`support_influences`]; refuses another number of stiffnesses than of contacts.
pub fn support_extremes(
    input: &StabilityInput,
    stiffness: &[Stiffness],
) -> Result<Answer<Vec<SupportExtremes>>, StabilityError> {
    input.check()?;
    counted("stiffnesses", stiffness.len(), input.contacts.len(), input.contacts.len())?;
    let supports: Vec<_> = input.contacts.iter().cloned().zip(stiffness.iter().copied()).collect();
    let influences = support_influences(&supports)?;
    let mut missing = input.missing();
    if hub_of(input) == Some(None) {
        missing.push("Not known: how high the hub of the wheel is.".to_owned());
    }
    if !missing.is_empty() {
        return Ok(Answer::NotKnown(missing));
    }
    let foot_m = input.contacts.iter().map(|contact| contact.z.si()).fold(f64::INFINITY, f64::min);
    let full_speed = input.turntable.as_ref().and_then(|turntable| turntable.speed).map_or(0.0, Quantity::si);
    let speeds = if input.situation.turns() && full_speed > 0.0 { vec![0.0, full_speed] } else { vec![0.0] };
    let stated = input.turntable.as_ref().map(super::ride::Turntable::stated_rad).unwrap_or_default();
    let any = hub_of(input).is_some()
        || input.turntable.as_ref().is_some_and(|turntable| turntable.angles == TurntableAngles::Any);
    let still = [0.0];
    let angles = match (any, stated.is_empty()) {
        (true, _) => Angles::Any,
        (false, false) => Angles::Stated(&stated),
        (false, true) => Angles::Stated(&still),
    };
    let one = |(index, contact): (usize, &super::ride::Contact)| {
        let influence = influences[index];
        let at = (influence.constant, influence.per_x, influence.per_y);
        let peak = |sign: f64| {
            let each = speeds
                .iter()
                .map(|speed| sweep::greatest(&parts(input, at, foot_m, speed * speed, sign), angles));
            each.reduce(|a, b| if b.value > a.value { b } else { a })
                .unwrap_or(Peak { value: 0.0, angle: 0.0 })
        };
        let (most, least) = (peak(1.0), peak(-1.0));
        SupportExtremes {
            name: contact.name.clone(),
            least: Force::n(-least.value),
            least_angle: Angle::rad(least.angle),
            greatest: Force::n(most.value),
            greatest_angle: Angle::rad(most.angle),
        }
    };
    Ok(Answer::Known(input.contacts.iter().enumerate().map(one).collect()))
}

/// The height of a wheel's hub, where it is known; nothing for what is no wheel.
fn hub_of(input: &StabilityInput) -> Option<Option<f64>> {
    match input.turntable.as_ref()?.angles {
        TurntableAngles::OfAWheel { hub } => Some(hub.map(Quantity::si)),
        _ => None,
    }
}

/// What the force of turning adds to the load of one support, for each kilogramme and (rad/s)².
///
/// On an upright turntable it lies level, at the height of what turns. On a wheel it goes through the hub, down and up as
/// well as sideways: F (cos b (c + c_x X + c_y Y) + sin b c_y H), b the angle from the lowest point to the left, (X, Y) the
/// place of the hub and H its height above the lowest contact.
fn swung(
    (constant, per_x, per_y): (f64, f64, f64),
    axis: (f64, f64),
    hub: Option<f64>,
    (angle, radius_m): (f64, f64),
    (height_m, foot_m): (f64, f64),
) -> Wave {
    let none = (0.0, 0.0);
    match hub {
        Some(hub_m) => {
            let goes = (constant + per_x * axis.0 + per_y * axis.1, per_y * (hub_m - foot_m));
            turning_wave((0.0, 0.0, 0.0), goes, none, angle, radius_m)
        }
        None => {
            let wave = turning_wave((0.0, per_x, per_y), (per_x, per_y), none, angle, radius_m);
            wave.times(height_m - foot_m)
        }
    }
}

/// What adds to `sign` times the load of one support.
fn parts(
    input: &StabilityInput,
    influence: (f64, f64, f64),
    foot_m: f64,
    speed_squared: f64,
    sign: f64,
) -> Vec<Part> {
    let turntable = input.turntable.as_ref().map(|turntable| (turntable.x.si(), turntable.y.si()));
    let axis = turntable.unwrap_or((0.0, 0.0));
    let (_, per_x, per_y) = influence;
    let hub = hub_of(input).flatten();
    let goes = (if hub.is_some() { 0.0 } else { per_x }, per_y);
    let weight = Force::weight(Mass::kg(1.0)).si();
    let pressure_pa = input.wind.filter(|_| input.situation.in_wind()).map_or(0.0, |wind| wind.pressure.si());
    let mut parts = Vec::new();
    let mut either_n = 0.0;
    for body in &input.bodies {
        let (dx, dy) = (body.x.si() - axis.0, body.y.si() - axis.1);
        let turns = body.carried_by == CarriedBy::Turntable && input.situation != Situation::Uncoupled;
        let (angle, radius_m) = (maths::atan2(dy, dx), maths::hypot(dx, dy));
        let place = if turns {
            turning_wave(influence, goes, axis, angle, radius_m)
        } else {
            Wave::still(influence.0 + per_x * body.x.si() + per_y * body.y.si())
        };
        let mut wave = place.times(weight);
        if turns {
            let swung = swung(influence, axis, hub, (angle, radius_m), (body.z.si(), foot_m));
            wave = wave.plus(swung, speed_squared);
        }
        let (low, high) = (body.mass.low().si(), body.mass.high().si());
        parts.push(Part { wave: wave.times(sign), when_positive: high, when_negative: low });
        if let InWind::Face { drag_area_along, drag_area_across, lift_area, pressure_height } = body.wind {
            let (along, across) = (drag_area_along.si(), drag_area_across.si());
            let share = if turns {
                maths::hypot(along, across) * maths::hypot(per_x, per_y)
            } else {
                along * per_x.abs() + across * per_y.abs()
            };
            either_n += pressure_pa * share * (pressure_height.si() - foot_m).max(0.0);
            let wave = place.times(-sign * pressure_pa * lift_area.si());
            parts.push(Part { wave, when_positive: 1.0, when_negative: 0.0 });
        }
    }
    parts.push(Part::always(Wave::still(either_n)));
    let aboard = input.situation.aboard();
    for seat in input.seats.iter().flatten().filter(|_| aboard != Aboard::Nobody) {
        let turning = speed_squared > 0.0;
        let radius_m = seat.radius_at_speed().filter(|_| turning).unwrap_or(seat.radius).si();
        let (angle, height_m) = (seat.angle.si(), seat.z.map_or(0.0, Quantity::si));
        let place = turning_wave(influence, goes, axis, angle, radius_m).times(weight);
        let swung = swung(influence, axis, hub, (angle, radius_m), (height_m, foot_m));
        let wave = place.plus(swung, speed_squared).times(sign);
        let full = seat.load().map_or(0.0, Quantity::si);
        let empty = if aboard == Aboard::Everybody { full } else { 0.0 };
        parts.push(Part { wave, when_positive: full, when_negative: empty });
    }
    for rope in input.ropes() {
        let (x, y, z) = rope.from;
        let down = -rope.towards.2 * (influence.0 + per_x * x + per_y * y);
        let wave =
            Wave::still(sign * (down + (rope.towards.0 * per_x + rope.towards.1 * per_y) * (z - foot_m)));
        parts.push(Part { wave, when_positive: rope.strength_n, when_negative: 0.0 });
    }
    parts
}
