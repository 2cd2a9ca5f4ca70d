//! The Beaufort scale: what a crew sees and a forecast says, as a ten-minute mean at 10 m.

use super::{MeanSpeed, WindError};
use tober_quantity::{Quantity, Ratio, Speed, maths};

/// One force of the Beaufort scale, in the four units in which it is published.
///
/// Each bound is printed to the last digit of its own unit, so between two forces there are small gaps
/// (1.5 to 1.6 m/s); a speed in a gap belongs to the higher force from the higher bound on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeaufortClass {
    /// The force, 0 to 12.
    pub force: u8,
    /// Least and greatest mean speed in tenths of a metre a second; no greatest for force 12.
    pub tenth_m_s: (u16, Option<u16>),
    /// Least and greatest mean speed in whole knots.
    pub knots: (u16, Option<u16>),
    /// Least and greatest mean speed in whole miles an hour.
    pub mph: (u16, Option<u16>),
    /// Least and greatest mean speed in whole kilometres an hour.
    pub km_h: (u16, Option<u16>),
}

const fn class(
    force: u8,
    tenth_m_s: (u16, u16),
    knots: (u16, u16),
    mph: (u16, u16),
    km_h: (u16, u16),
) -> BeaufortClass {
    BeaufortClass {
        force,
        tenth_m_s: (tenth_m_s.0, Some(tenth_m_s.1)),
        knots: (knots.0, Some(knots.1)),
        mph: (mph.0, Some(mph.1)),
        km_h: (km_h.0, Some(km_h.1)),
    }
}

/// The scale. World Meteorological Organization (m/s, knots, km/h); United States weather service (mph).
pub const BEAUFORT: [BeaufortClass; 13] = [
    class(0, (0, 2), (0, 0), (0, 0), (0, 0)),
    class(1, (3, 15), (1, 3), (1, 3), (1, 5)),
    class(2, (16, 33), (4, 6), (4, 7), (6, 11)),
    class(3, (34, 54), (7, 10), (8, 12), (12, 19)),
    class(4, (55, 79), (11, 16), (13, 18), (20, 28)),
    class(5, (80, 107), (17, 21), (19, 24), (29, 38)),
    class(6, (108, 138), (22, 27), (25, 31), (39, 49)),
    class(7, (139, 171), (28, 33), (32, 38), (50, 61)),
    class(8, (172, 207), (34, 40), (39, 46), (62, 74)),
    class(9, (208, 244), (41, 47), (47, 54), (75, 88)),
    class(10, (245, 284), (48, 55), (55, 63), (89, 102)),
    class(11, (285, 326), (56, 63), (64, 72), (103, 117)),
    BeaufortClass {
        force: 12,
        tenth_m_s: (327, None),
        knots: (64, None),
        mph: (73, None),
        km_h: (118, None),
    },
];

impl BeaufortClass {
    /// The least mean speed of this force.
    pub fn least(&self) -> Speed {
        Speed::m_s(f64::from(self.tenth_m_s.0) / 10.0)
    }
    /// The mean speed at which the next force begins; none for force 12. What to reckon with when only the force is known.
    pub fn next(&self) -> Option<Speed> {
        BEAUFORT.get(usize::from(self.force) + 1).map(Self::least)
    }
}

/// The force of a ten-minute mean at 10 m.
pub fn beaufort_class(mean: MeanSpeed) -> &'static BeaufortClass {
    let speed_m_s = mean.speed().as_m_s();
    BEAUFORT.iter().rev().find(|class| class.least().as_m_s() <= speed_m_s).unwrap_or(&BEAUFORT[0])
}

/// The mean speed in the middle of a force: v = 0.836 B^1.5, in m/s, B from 0 to 12.
///
/// World Meteorological Organization, from memory.
///
/// # Errors
/// Refuses a force that is not from 0 to 12.
pub fn beaufort_mean(force: u8) -> Result<MeanSpeed, WindError> {
    super::error::within("Beaufort force", Ratio::from_si(f64::from(force)), Ratio::ZERO, Ratio::one(12.0))?;
    MeanSpeed::new(Speed::m_s(0.836 * maths::pow(f64::from(force), 1.5)))
}
