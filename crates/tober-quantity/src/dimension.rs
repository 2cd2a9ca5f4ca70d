//! Dimensions: the exponents of the base quantities.

use core::ops::{Div, Mul};

/// The exponents of length, mass, time, current and temperature in a quantity.
///
/// A plane angle counts as having no dimension, as in the SI.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Dimension {
    /// Exponent of length.
    pub length: i8,
    /// Exponent of mass.
    pub mass: i8,
    /// Exponent of time.
    pub time: i8,
    /// Exponent of electric current.
    pub current: i8,
    /// Exponent of temperature.
    pub temperature: i8,
}

impl Dimension {
    const fn new(length: i8, mass: i8, time: i8) -> Self {
        Self { length, mass, time, current: 0, temperature: 0 }
    }
    /// A plain number, a ratio or an angle.
    pub const NONE: Self = Self::new(0, 0, 0);
    /// Length.
    pub const LENGTH: Self = Self::new(1, 0, 0);
    /// Area.
    pub const AREA: Self = Self::new(2, 0, 0);
    /// Mass.
    pub const MASS: Self = Self::new(0, 1, 0);
    /// Time.
    pub const TIME: Self = Self::new(0, 0, 1);
    /// Speed.
    pub const SPEED: Self = Self::new(1, 0, -1);
    /// Acceleration.
    pub const ACCELERATION: Self = Self::new(1, 0, -2);
    /// Force.
    pub const FORCE: Self = Self::new(1, 1, -2);
    /// Moment of a force.
    pub const MOMENT: Self = Self::new(2, 1, -2);
    /// Pressure and stress.
    pub const PRESSURE: Self = Self::new(-1, 1, -2);
    /// Force for each length: the stiffness of a spring.
    pub const STIFFNESS: Self = Self::new(0, 1, -2);
    /// Pressure for each length: the stiffness of the ground under a plate.
    pub const SUBGRADE: Self = Self::new(-2, 1, -2);
    /// Mass for each volume.
    pub const DENSITY: Self = Self::new(-3, 1, 0);
    /// Second moment of area.
    pub const SECOND_MOMENT: Self = Self::new(4, 0, 0);
    /// Turns for each time.
    pub const TURNING: Self = Self::new(0, 0, -1);
    /// Mass times length squared.
    pub const INERTIA: Self = Self::new(2, 1, 0);
    /// Power.
    pub const POWER: Self = Self::new(2, 1, -3);
    /// Electric current.
    pub const CURRENT: Self = Self { length: 0, mass: 0, time: 0, current: 1, temperature: 0 };
    /// Voltage.
    pub const VOLTAGE: Self = Self { length: 2, mass: 1, time: -3, current: -1, temperature: 0 };
    /// Temperature.
    pub const TEMPERATURE: Self = Self { length: 0, mass: 0, time: 0, current: 0, temperature: 1 };

    /// This dimension to a whole power.
    #[must_use]
    pub const fn power(self, n: i8) -> Self {
        Self {
            length: self.length * n,
            mass: self.mass * n,
            time: self.time * n,
            current: self.current * n,
            temperature: self.temperature * n,
        }
    }

    /// The square root, where every exponent is even.
    #[must_use]
    pub const fn root(self) -> Option<Self> {
        let odd = (self.length | self.mass | self.time | self.current | self.temperature) & 1;
        if odd != 0 {
            return None;
        }
        Some(Self {
            length: self.length / 2,
            mass: self.mass / 2,
            time: self.time / 2,
            current: self.current / 2,
            temperature: self.temperature / 2,
        })
    }
}

impl Mul for Dimension {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self {
            length: self.length + other.length,
            mass: self.mass + other.mass,
            time: self.time + other.time,
            current: self.current + other.current,
            temperature: self.temperature + other.temperature,
        }
    }
}

impl Div for Dimension {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        self * other.power(-1)
    }
}
