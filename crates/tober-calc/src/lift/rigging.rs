//! What hangs between winch and part: eye, sling, crank, rope on the drum, and the day of the examination.

use super::LiftError;
use super::error::within;
use super::winch::Drum;
use tober_quantity::{Angle, Force, Length, Ratio};

/// How the line is made fast to the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EyeKind {
    /// A plate with a shackle through it, or an eye that turns into the pull: as strong every way in its plane.
    Lug,
    /// A bolt with an eye and a shoulder that bears on the part.
    Shoulder,
    /// A bolt with an eye and no shoulder.
    Plain,
}

/// An eye.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eye {
    /// What it is.
    pub kind: Option<EyeKind>,
    /// What it is rated for, pulled straight.
    pub rated: Force,
    /// Where straight is, against the direction along the part, towards the upper side of it lying level; of a lug nothing.
    pub axis: Option<Angle>,
}

/// Pulled within this of its axis an eye bolt counts as pulled straight, in degrees.
const STRAIGHT_DEG: f64 = 5.0;
/// Up to here a shoulder eye bolt keeps [`SHOULDER_NEAR`] of its rating, in degrees.
const NEAR_DEG: f64 = 15.0;
/// Some makers' share at 15 degrees, from memory, the lower of two: a hardware guide has 0.80 there.
const SHOULDER_NEAR: f64 = 0.55;
/// The share from there to square: a fastener supplier's table at 45 degrees (M8: 278 of 1,110 lb), a hardware guide's at 90
/// (388 of 1,550 lb). The guide has 0.30 at 45 degrees and 0.65 at 30; where they disagree the lower is taken.
const SHOULDER_FAR: f64 = 0.25;

/// What an eye keeps of its rating where it is pulled at an angle from straight: the safe envelope of the published charts.
///
/// An eye bolt without a shoulder is pulled straight only (US Navy NAVFAC P-307 practice). One with a shoulder keeps
/// all of it to 5 degrees, 0.55 to 15, and 0.25 to square. A lug keeps all of it in its plane, and is not pulled out of it.
pub fn eye_share(kind: EyeKind, off_axis: Angle) -> f64 {
    let off = off_axis.as_deg().abs();
    match kind {
        EyeKind::Lug => 1.0,
        _ if off <= STRAIGHT_DEG => 1.0,
        EyeKind::Plain => 0.0,
        EyeKind::Shoulder if off <= NEAR_DEG => SHOULDER_NEAR,
        EyeKind::Shoulder if off <= 90.0 => SHOULDER_FAR,
        EyeKind::Shoulder => 0.0,
    }
}

/// The angle between two directions, 0 to 180 degrees.
pub(super) fn between(a: Angle, b: Angle) -> Angle {
    let turned = (a.as_deg() - b.as_deg()).rem_euclid(360.0);
    Angle::deg(turned.min(360.0 - turned))
}

/// A sling between hook and part, its legs alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sling {
    /// How many legs.
    pub legs: u32,
    /// Each leg's angle from level.
    pub angle: Angle,
    /// What each leg may carry, pulled straight.
    pub rated: Force,
}

/// Legs flatter than this are not to be used, in degrees from level: sling makers, ASME B30.9.
pub const SLING_LEAST_DEG: f64 = 30.0;

/// How many legs of a sling count as carrying: four count as three (chain makers' tables), since a stiff part hangs on three.
pub fn legs_counted(legs: u32) -> u32 {
    legs.min(3)
}

/// The pull in each leg of a sling: `W / (n sin(angle))`, of one leg the load itself.
///
/// # Errors
/// Refuses legs outside 1 to 4, and an angle outside 1 to 90 degrees.
pub fn leg_pull(load: Force, sling: &Sling) -> Result<Force, LiftError> {
    within("sling.legs", "number of legs of the sling", f64::from(sling.legs), 1.0, 4.0)?;
    within("sling.angle_deg", "angle of a leg from level in degrees", sling.angle.as_deg(), 1.0, 90.0)?;
    if sling.legs == 1 {
        return Ok(load);
    }
    Ok(load / (f64::from(legs_counted(sling.legs)) * tober_quantity::maths::sin(sling.angle.as_rad())))
}

/// A winch that is turned by hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crank {
    /// From its axis to the hand.
    pub length: Length,
    /// Turns of the crank for one of the drum.
    pub ratio: Ratio,
    /// What the gears pass on.
    pub efficiency: Ratio,
}

/// What one person keeps up at a crank: 7 kgf, the lower of the two guideline figures for keeping a load moving by push or pull
/// (HSE L23: 10 kgf for men, 7 for women; from memory).
pub const CRANK_FORCE_N: f64 = 7.0 * 9.80665;

/// The force at the crank: `P (D + (2 k - 1) d) / (2 r i eta)`, of the layer `k` from which the rope leaves.
///
/// # Errors
/// Refuses a crank outside 50 mm to 1 m, a ratio outside 0.5 to 1000, an efficiency outside 0.05 to 1, and a drum that is none.
pub fn crank_force(pull: Force, on: &Drum, crank: &Crank) -> Result<Force, LiftError> {
    on.check()?;
    within("winch.crank_m", "length of the crank in metres", crank.length.as_m(), 0.05, 1.0)?;
    within("winch.gear_ratio", "turns of the crank for one of the drum", crank.ratio.as_one(), 0.5, 1000.0)?;
    within("winch.efficiency", "efficiency of the winch's gears", crank.efficiency.as_one(), 0.05, 1.0)?;
    let turned = on.drum + on.rope * (2.0 * f64::from(on.layer) - 1.0);
    Ok(pull * (turned / (crank.length * 2.0)) / (crank.ratio.as_one() * crank.efficiency.as_one()))
}

/// The layer that the last of a rope comes to lie on, wound turn by turn: on layer `k` a turn takes `pi (D + (2 k - 1) d)`. `None`
/// over twenty layers, or where the drum is narrower than the rope.
pub fn layers(drum: Length, rope: Length, width: Length, length: Length) -> Option<u32> {
    let turns = (width / rope).floor();
    if !(turns >= 1.0 && length.is_finite() && drum.as_m() > 0.0) {
        return None;
    }
    let mut left = length.as_m();
    (1..=20).find(|layer| {
        let turn = core::f64::consts::PI * (drum + rope * (2.0 * f64::from(*layer) - 1.0)).as_m();
        left -= turns * turn;
        left <= 0.0
    })
}

/// A day of the calendar as year, month and day.
pub type Day = (u16, u8, u8);

/// The days from the first of March of year nothing to a day, by the Gregorian calendar.
///
/// Counted in years that begin in March, so that the day that some have and others not is the last.
fn count_of((year, month, day): Day) -> i64 {
    let march = (i64::from(month) + 9) % 12;
    let year = i64::from(year) - i64::from(month < 3);
    365 * year + year / 4 - year / 100 + year / 400 + (153 * march + 2) / 5 + i64::from(day) - 1
}

/// How many days lie between two.
pub fn days_between(from: Day, until: Day) -> i64 {
    count_of(until) - count_of(from)
}

/// Days from an examination to the day before which the next is due, twelve months on.
pub fn days_of_a_year_from(day: Day) -> i64 {
    let on = match day {
        (year, 2, 29) => (year + 1, 3, 1),
        (year, month, day) => (year + 1, month, day),
    };
    days_between(day, on)
}
