//! Equilibrium of the part at one angle.

use super::LiftError;
use super::error::within;
use tober_quantity::{Acceleration, Angle, Force, Length, Mass, Moment, Quantity, Ratio, maths};

/// A point of the part, by its distances from the hinge along it and square to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnPart {
    /// Along the part.
    pub along: Length,
    /// Square to it, up where the part lies level.
    pub normal: Length,
}

impl OnPart {
    /// Where it is with the part at an angle, in metres forward and up from the hinge.
    pub(super) fn placed_m(self, phi: Angle) -> (f64, f64) {
        let (sin, cos) = (maths::sin(phi.as_rad()), maths::cos(phi.as_rad()));
        let (e, n) = (self.along.as_m(), self.normal.as_m());
        (e * cos - n * sin, e * sin + n * cos)
    }
}

/// A part on a hinge, and the line that raises it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hinged {
    /// Mass of all that turns.
    pub mass: Mass,
    /// Where its weight acts.
    pub centre: OnPart,
    /// The eye of the line.
    pub eye: OnPart,
    /// The fixed sheave, forward of the hinge.
    pub sheave_x: Length,
    /// The fixed sheave, above the hinge.
    pub sheave_z: Length,
    /// How many falls of rope pull between eye and sheave.
    pub falls: u32,
    /// What a sheave passes on of the pull, from one fall to the next.
    pub efficiency: Ratio,
    /// Gravity.
    pub gravity: Acceleration,
}

/// The part at rest at one angle. Forces as in the module's table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct At {
    /// The angle of the part above level.
    pub phi: Angle,
    /// From the eye to the sheave.
    pub line_length: Length,
    /// The lever of the line about the hinge; positive where a pull raises the part.
    pub lever: Length,
    /// The moment of the weight about the hinge; positive where it lowers the part.
    pub weight_moment: Moment,
    /// The pull of all falls together; `None` at a dead point. Negative where the line is slack.
    pub pull: Option<Force>,
    /// The pull once more, from virtual work: how much the weight rises for how much rope comes in, over a turn of
    /// [`TURN_RAD`] either way. It shares only the places of the points with [`At::pull`].
    pub virtual_work: Option<Force>,
    /// The pull of each fall at rest, without friction.
    pub per_fall: Option<Force>,
    /// The pull of the winch rope while it hoists; `None` where the line is slack.
    pub winch: Option<Force>,
    /// The force of the hinge on the part, forward and up.
    pub hinge: Option<(Force, Force)>,
    /// The direction of the line at the eye, against level, anticlockwise.
    pub line_direction: Angle,
    /// The same against the part's own direction along it: how a lug or a shackle there is pulled.
    pub eye_direction: Angle,
}

impl At {
    /// Whether the line would have to push.
    pub fn slack(&self) -> bool {
        self.pull.is_some_and(|pull| pull < Force::ZERO)
    }
}

/// The turn over which virtual work is counted: far above rounding, far below any curvature of a travel.
pub const TURN_RAD: f64 = 1e-5;

/// A lever under this is a dead point: less than the rounding of coordinates of some hundred metres leaves of it.
const LEVER_LEAST_M: f64 = 1e-9;

impl Hinged {
    /// Refuses what no lift has.
    pub(super) fn check(&self) -> Result<(), LiftError> {
        let size = |field, what, length: Length| within(field, what, length.as_m(), -100.0, 100.0);
        within("mass_kg", "mass of the part in kilogrammes", self.mass.as_kg(), 0.0, 1e6)?;
        size("cg_along_m", "distance of the centre of gravity along the part in metres", self.centre.along)?;
        size(
            "cg_normal_m",
            "distance of the centre of gravity square to the part in metres",
            self.centre.normal,
        )?;
        size("attach_along_m", "distance of the eye along the part in metres", self.eye.along)?;
        size("attach_normal_m", "distance of the eye square to the part in metres", self.eye.normal)?;
        size("sheave_x_m", "distance of the sheave forward of the hinge in metres", self.sheave_x)?;
        size("sheave_z_m", "height of the sheave above the hinge in metres", self.sheave_z)?;
        within("falls", "number of falls", f64::from(self.falls), 1.0, 20.0)?;
        within("sheave_efficiency", "efficiency of a sheave", self.efficiency.as_one(), 0.5, 1.0)?;
        within("g_m_s2", "acceleration of gravity in m/s2", self.gravity.as_m_s2(), 9.7, 9.9)
    }

    /// What the winch rope's pull is multiplied by: `eta + eta^2 + ... + eta^falls`.
    pub fn advantage(&self) -> f64 {
        let eta = self.efficiency.as_one();
        (0..self.falls).fold((0.0, 1.0), |(sum, power), _| (sum + power * eta, power * eta)).0
    }
}

/// The part at rest at one angle.
///
/// # Errors
/// Refuses values outside their ranges (each error names its own), and an eye on the hinge or on the sheave.
pub fn hinged_at(part: &Hinged, phi: Angle) -> Result<At, LiftError> {
    part.check()?;
    within("phi_start_deg", "angle in degrees", phi.as_deg(), -360.0, 360.0)?;
    at(part, phi)
}

pub(super) fn at(part: &Hinged, phi: Angle) -> Result<At, LiftError> {
    let (px, pz) = part.eye.placed_m(phi);
    let (sx, sz) = (part.sheave_x.as_m(), part.sheave_z.as_m());
    let (gx, _) = part.centre.placed_m(phi);
    let length = maths::hypot(sx - px, sz - pz);
    let no_line = |on| LiftError::NoLine { on, at_deg: phi.as_deg() };
    if maths::hypot(px, pz) < LEVER_LEAST_M {
        return Err(no_line("hinge"));
    }
    if length < LEVER_LEAST_M {
        return Err(no_line("sheave"));
    }
    let (tx, tz) = ((sx - px) / length, (sz - pz) / length);
    let lever = px * tz - pz * tx;
    let weight = part.mass.as_kg() * part.gravity.as_m_s2();
    let moment = weight * gx;
    let pull = (lever.abs() >= LEVER_LEAST_M).then(|| moment / lever);
    let direction = maths::atan2(tz, tx);
    // Kept in half a turn either way: the angle between two directions has no turns to count.
    let eye = direction - phi.as_rad();
    let eye = maths::atan2(maths::sin(eye), maths::cos(eye));
    Ok(At {
        phi,
        line_length: Length::m(length),
        lever: Length::m(lever),
        weight_moment: Moment::from_si(moment),
        pull: pull.map(Force::n),
        virtual_work: pull.map(|_| virtual_work(part, phi)),
        per_fall: pull.map(|pull| Force::n(pull / f64::from(part.falls))),
        winch: pull.filter(|pull| *pull >= 0.0).map(|pull| Force::n(pull / part.advantage())),
        hinge: pull.map(|pull| (Force::n(-pull * tx), Force::n(weight - pull * tz))),
        line_direction: Angle::rad(direction),
        eye_direction: Angle::rad(eye),
    })
}

/// `m g dz / dl` over a small turn either way.
fn virtual_work(part: &Hinged, phi: Angle) -> Force {
    let (back, on) = (phi - Angle::rad(TURN_RAD), phi + Angle::rad(TURN_RAD));
    let line = |phi: Angle| {
        let (px, pz) = part.eye.placed_m(phi);
        maths::hypot(part.sheave_x.as_m() - px, part.sheave_z.as_m() - pz)
    };
    let rise = part.centre.placed_m(on).1 - part.centre.placed_m(back).1;
    Force::n(part.mass.as_kg() * part.gravity.as_m_s2() * rise / (line(back) - line(on)))
}
