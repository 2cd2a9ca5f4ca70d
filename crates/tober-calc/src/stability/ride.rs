//! What stands: contacts with the ground, bodies, seats and the turntable.
//!
//! Axes: x along the frame to the front, y across it to the left, z up. z is counted from one level for
//! contacts and bodies alike; any level will do. Angles are anticlockwise from the front, seen from above.

use super::error::{StabilityError, within};
use tober_quantity::{Angle, Area, FrequencyOfTurning, Length, Mass, Quantity, Slope, Toleranced};

/// A place where the ride stands on the ground: a foot, a wheel or the hitch jack.
#[derive(Clone, Debug, PartialEq)]
pub struct Contact {
    /// Its name.
    pub name: String,
    /// Place along the frame.
    pub x: Length,
    /// Place across the frame.
    pub y: Length,
    /// Height of the place where it touches the ground.
    pub z: Length,
}

/// What carries a body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CarriedBy {
    /// The frame: it stays where it is.
    Frame,
    /// The turntable: it turns with it. Its place is given for the turntable at angle zero.
    Turntable,
    /// Nobody has said. What depends on the turntable's angle is then not known.
    NotKnown,
}

/// How a body stands in the wind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum InWind {
    /// Nobody has said. Wind on the ride is then not known.
    NotKnown,
    /// Its wind is counted in the face of another body, or it is wholly sheltered: somebody has said so.
    CountedElsewhere,
    /// It offers a face to the wind.
    Face {
        /// Force coefficient times area against wind along the frame.
        drag_area_along: Area,
        /// Force coefficient times area against wind across the frame.
        drag_area_across: Area,
        /// Upward force coefficient times area; nothing only for what has no roof, sail or wing.
        lift_area: Area,
        /// Height of the centre of pressure.
        pressure_height: Length,
    },
}

/// A body with its mass and where its centre of gravity is.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// Its name.
    pub name: String,
    /// Its mass and how far that may be off.
    pub mass: Toleranced<Mass>,
    /// Centre of gravity along the frame.
    pub x: Length,
    /// Centre of gravity across the frame.
    pub y: Length,
    /// Height of the centre of gravity.
    pub z: Length,
    /// What carries it.
    pub carried_by: CarriedBy,
    /// How it stands in the wind.
    pub wind: InWind,
}

/// How far a seat hangs from the axis while the ride runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Swing {
    /// Nobody has said. Forces of turning are then not known.
    NotKnown,
    /// The seat cannot swing: its radius is the same at rest and at speed.
    Rigid,
    /// The seat swings out to this radius at the turning speed stated.
    OutTo(Length),
}

/// A seat, with the riders it may hold. Its own mass is that of a body.
#[derive(Clone, Debug, PartialEq)]
pub struct Seat {
    /// Its name.
    pub name: String,
    /// Its angle from the front with the turntable at angle zero.
    pub angle: Angle,
    /// Distance of the riders from the axis of the turntable, at rest.
    pub radius: Length,
    /// That distance at speed.
    pub swing: Swing,
    /// Height of the riders' centre of gravity, the greatest it comes to; none where the book does not say.
    pub z: Option<Length>,
    /// The most riders it holds.
    pub riders: u32,
    /// The greatest mass of one rider; none where the book does not say.
    pub rider_mass: Option<Mass>,
}

/// The angles at which the turntable may stand.
#[derive(Clone, Debug, PartialEq)]
pub enum TurntableAngles {
    /// Any angle.
    Any,
    /// Any angle of a wheel, whose axis lies along the frame: what turns goes to either side, and not along. Angles are then
    /// counted from the lowest point to the left, heights are the greatest that are come to, and the force of turning is
    /// taken in every direction, as on an upright turntable. The loads of single supports also want the height of the hub.
    OfAWheel {
        /// How high the hub is; not known unless told.
        hub: Option<Length>,
    },
    /// One of these only.
    Stated(Vec<Angle>),
}

/// The part of the ride that turns, about an upright axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Turntable {
    /// Place of the axis along the frame.
    pub x: Length,
    /// Place of the axis across the frame.
    pub y: Length,
    /// The angles at which it may stand.
    pub angles: TurntableAngles,
    /// Its highest turning speed; none where the book does not say.
    pub speed: Option<FrequencyOfTurning>,
}

/// How far the frame may stand out of level, either way: the tolerance, or the reading and its own error if that is more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tilt {
    /// Slope along the frame.
    pub along: Slope,
    /// Slope across the frame.
    pub across: Slope,
}

const REACH_M: f64 = 1e3;
const MASS_KG: f64 = 1e6;

pub(super) fn check_place(
    what_of: &str,
    x: Length,
    y: Length,
    z: Option<Length>,
) -> Result<(), StabilityError> {
    let reach = Length::m(REACH_M);
    within("place along the frame", what_of, x, -reach, reach)?;
    within("place across the frame", what_of, y, -reach, reach)?;
    within("height", what_of, z.unwrap_or(Length::ZERO), -reach, reach)
}

impl Body {
    pub(super) fn check(&self) -> Result<(), StabilityError> {
        let name = &self.name;
        check_place(name, self.x, self.y, Some(self.z))?;
        within("mass", name, self.mass.value, Mass::ZERO, Mass::kg(MASS_KG))?;
        within("tolerance of the mass", name, self.mass.off_by, Mass::ZERO, self.mass.value)?;
        let InWind::Face { drag_area_along, drag_area_across, lift_area, pressure_height } = self.wind else {
            return Ok(());
        };
        within("area in the wind along the frame", name, drag_area_along, Area::ZERO, Area::m2(1e4))?;
        within("area in the wind across the frame", name, drag_area_across, Area::ZERO, Area::m2(1e4))?;
        within("area lifted by the wind", name, lift_area, Area::ZERO, Area::m2(1e4))?;
        within("height of pressure", name, pressure_height, -Length::m(REACH_M), Length::m(REACH_M))
    }
}

impl Seat {
    pub(super) fn check(&self) -> Result<(), StabilityError> {
        let name = &self.name;
        let turn = Angle::deg(720.0);
        within("angle", name, self.angle, -turn, turn)?;
        within("radius", name, self.radius, Length::ZERO, Length::m(100.0))?;
        within("height", name, self.z.unwrap_or(Length::ZERO), -Length::m(REACH_M), Length::m(REACH_M))?;
        if let Swing::OutTo(radius) = self.swing {
            within("radius at speed", name, radius, Length::ZERO, Length::m(100.0))?;
        }
        if let Some(mass) = self.rider_mass {
            within("greatest mass of one rider", name, mass, Mass::kg(1.0), Mass::kg(500.0))?;
        }
        Ok(())
    }
    /// The mass of all its riders at their greatest.
    pub fn load(&self) -> Option<Mass> {
        self.rider_mass.map(|mass| mass * f64::from(self.riders))
    }
    /// The radius at speed, where it is known.
    pub fn radius_at_speed(&self) -> Option<Length> {
        match self.swing {
            Swing::NotKnown => None,
            Swing::Rigid => Some(self.radius),
            Swing::OutTo(radius) => Some(radius),
        }
    }
}

impl Turntable {
    pub(super) fn check(&self) -> Result<(), StabilityError> {
        check_place("the turntable", self.x, self.y, None)?;
        if let TurntableAngles::Stated(angles) = &self.angles {
            super::error::counted("stated angles of the turntable", angles.len(), 1, 10_000)?;
            for angle in angles {
                let turn = Angle::deg(720.0);
                within("stated angle", "the turntable", *angle, -turn, turn)?;
            }
        }
        match self.speed {
            Some(speed) => within(
                "turning speed",
                "the turntable",
                speed,
                FrequencyOfTurning::ZERO,
                FrequencyOfTurning::rpm(300.0),
            ),
            None => Ok(()),
        }
    }
    /// The part of a direction, outward over an edge, in which things that turn go round.
    pub(super) fn goes(&self, (out_x, out_y): (f64, f64)) -> (f64, f64) {
        (if matches!(self.angles, TurntableAngles::OfAWheel { .. }) { 0.0 } else { out_x }, out_y)
    }
    pub(super) fn stated_rad(&self) -> Vec<f64> {
        match &self.angles {
            TurntableAngles::Any | TurntableAngles::OfAWheel { .. } => Vec::new(),
            TurntableAngles::Stated(angles) => angles.iter().map(|angle| angle.si()).collect(),
        }
    }
}

impl Tilt {
    pub(super) fn check(&self) -> Result<(), StabilityError> {
        // Beyond one in five no frame is carried on packing, and the small-angle reading of a slope ends.
        let most = Slope::ratio(0.2);
        within("slope along", "the frame", self.along, Slope::ZERO, most)?;
        within("slope across", "the frame", self.across, Slope::ZERO, most)
    }
}
