//! The whole travel: listed angles, the peak between them, over-centre and dead points.

use super::error::within;
use super::hinged::{At, Hinged, at};
use super::{LiftError, OnPart};
use tober_quantity::{Angle, Force, maths};

/// The grid on which turning points of the pull are sought, in degrees.
pub const GRID_DEG: f64 = 0.05;
/// The most angles that are listed.
pub const ROWS_MOST: f64 = 2000.0;
/// What the last step may fall short of the end of the travel and still be listed, in degrees: rounding of the steps.
const END_DEG: f64 = 1e-9;
/// Bisections from the grid down to the last digit of an angle.
const HALVINGS: u32 = 44;

/// The travel of the part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Travel {
    /// Where it begins.
    pub start: Angle,
    /// Where it ends, not below where it begins.
    pub end: Angle,
    /// From one listed angle to the next.
    pub step: Angle,
}

/// The greatest of a figure, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Peak {
    /// The force.
    pub force: Force,
    /// The angle of the part.
    pub phi: Angle,
}

/// What is said of the listed angles alone.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    /// A row for each.
    pub rows: Vec<At>,
    /// The greatest pull of all falls together.
    pub peak: Option<Peak>,
    /// Whether the line is slack at one of them.
    pub slack: bool,
}

/// What is said of a travel.
#[derive(Clone, Debug, PartialEq)]
pub struct Travelled {
    /// The listed angles.
    pub listed: Listed,
    /// The greatest pull of all falls together over the whole travel, ends included; `None` with a dead point in the travel.
    pub peak: Option<Peak>,
    /// The greatest force at the hinge over the grid, listed angles, ends and peak, as far as the line is not slack.
    pub hinge: Option<Peak>,
    /// Where the weight stands over the hinge with the part upright: its moment is nothing there.
    pub balance: Angle,
    /// Where the moment of the weight is nothing inside the travel.
    pub over_centre: Vec<Angle>,
    /// Where the lever of the line is nothing inside the travel.
    pub dead: Vec<Angle>,
    /// The angles from which and to which the line is slack inside the travel.
    pub slack: Vec<(Angle, Angle)>,
}

fn angle_of(point: OnPart) -> f64 {
    maths::atan2(point.normal.as_m(), point.along.as_m())
}

/// The angles `first + k half turns` inside the travel, least first.
fn inside(first_rad: f64, travel: &Travel) -> Vec<Angle> {
    let half = core::f64::consts::PI;
    let (from, to) = (travel.start.as_rad(), travel.end.as_rad());
    let mut next = first_rad + ((from - first_rad) / half).ceil() * half;
    let mut found = Vec::new();
    while next <= to {
        found.push(Angle::rad(next));
        next += half;
    }
    found
}

/// The numerator of the slope of the pull: see the module.
fn slope(part: &Hinged, phi: f64) -> f64 {
    let (psi, theta) = (phi + angle_of(part.centre), part_to_sheave(part) - phi);
    let a = maths::hypot(part.eye.along.as_m(), part.eye.normal.as_m());
    let b = maths::hypot(part.sheave_x.as_m(), part.sheave_z.as_m());
    let (sin, cos) = (maths::sin(theta), maths::cos(theta));
    let l2 = a * a + b * b - 2.0 * a * b * cos;
    l2 * maths::cos(psi + theta) - a * b * sin * sin * maths::cos(psi)
}

/// From the eye to the sheave, seen from the hinge, with the part level.
fn part_to_sheave(part: &Hinged) -> f64 {
    maths::atan2(part.sheave_z.as_m(), part.sheave_x.as_m()) - angle_of(part.eye)
}

/// The part over its whole travel.
///
/// # Errors
/// Refuses values outside their ranges, an end before the start, steps of nothing or more rows than [`ROWS_MOST`], and
/// an eye that meets hinge or sheave at an angle that is looked at.
pub fn travelled(part: &Hinged, travel: &Travel) -> Result<Travelled, LiftError> {
    part.check()?;
    let (start, end, step) = (travel.start.as_deg(), travel.end.as_deg(), travel.step.as_deg());
    within("phi_start_deg", "angle at which the travel begins in degrees", start, -360.0, 360.0)?;
    within("phi_end_deg", "angle at which the travel ends in degrees", end, start, start + 360.0)?;
    within("step_deg", "step of the listed angles in degrees", step, (end - start) / ROWS_MOST, 360.0)?;
    within("step_deg", "step of the listed angles in degrees", step, 1e-6, 360.0)?;
    let listed = listed(part, start, end, step)?;
    let quarter = core::f64::consts::FRAC_PI_2;
    let over_centre = inside(quarter - angle_of(part.centre), travel);
    let dead = inside(part_to_sheave(part), travel);

    // Everything that is looked at: grid and turning points between.
    let mut looked = Vec::new();
    let mut phi = start;
    let mut count = 0_u32;
    while phi < end {
        looked.push(phi);
        let next = (start + f64::from(count + 1) * GRID_DEG).min(end);
        looked.extend(turning(part, phi, next));
        count += 1;
        phi = next;
    }
    looked.push(end);
    let mut peak: Option<Peak> = None;
    let mut hinge: Option<Peak> = None;
    let rows = listed.rows.iter().map(|row| Ok(*row));
    for row in rows.chain(looked.into_iter().map(|deg| at(part, Angle::deg(deg)))) {
        let row = row?;
        raise(&mut peak, row.pull, row.phi);
        let held = row.hinge.filter(|_| !row.slack());
        raise(&mut hinge, held.map(|(x, z)| Force::n(maths::hypot(x.as_n(), z.as_n()))), row.phi);
    }
    let slack = slack(part, travel, &over_centre, &dead)?;
    let bounded = dead.is_empty();
    let upright = maths::atan2(part.centre.along.as_m(), part.centre.normal.as_m());
    Ok(Travelled {
        listed,
        peak: peak.filter(|_| bounded),
        hinge: hinge.filter(|_| bounded),
        balance: Angle::rad(upright),
        over_centre,
        dead,
        slack,
    })
}

fn raise(peak: &mut Option<Peak>, force: Option<Force>, phi: Angle) {
    let Some(force) = force else { return };
    if peak.is_none_or(|so_far| force > so_far.force) {
        *peak = Some(Peak { force, phi });
    }
}

fn listed(part: &Hinged, start: f64, end: f64, step: f64) -> Result<Listed, LiftError> {
    let mut rows = Vec::new();
    let mut count = 0_u32;
    loop {
        let phi = start + f64::from(count) * step;
        if phi > end + END_DEG {
            break;
        }
        rows.push(at(part, Angle::deg(phi))?);
        count += 1;
    }
    let mut peak = None;
    for row in &rows {
        raise(&mut peak, row.pull, row.phi);
    }
    let slack = rows.iter().any(At::slack);
    Ok(Listed { rows, peak, slack })
}

/// The turning point between two angles of the grid, in degrees, where there is one.
fn turning(part: &Hinged, low: f64, high: f64) -> Option<f64> {
    let q = |deg: f64| slope(part, Angle::deg(deg).as_rad());
    let begins = q(low) > 0.0;
    if begins == (q(high) > 0.0) {
        return None;
    }
    let (mut low, mut high) = (low, high);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if (q(middle) > 0.0) == begins { low = middle } else { high = middle }
    }
    Some(f64::midpoint(low, high))
}

/// Between two neighbouring zeros of moment or lever the pull keeps its sign, which is that in the middle.
fn slack(
    part: &Hinged,
    travel: &Travel,
    over_centre: &[Angle],
    dead: &[Angle],
) -> Result<Vec<(Angle, Angle)>, LiftError> {
    let mut ends: Vec<f64> = over_centre.iter().chain(dead).map(|phi| phi.as_rad()).collect();
    ends.extend([travel.start.as_rad(), travel.end.as_rad()]);
    ends.sort_by(f64::total_cmp);
    let mut found: Vec<(Angle, Angle)> = Vec::new();
    for pair in ends.windows(2) {
        let [low, high] = [pair[0], pair[1]];
        if low < high && at(part, Angle::rad(f64::midpoint(low, high)))?.slack() {
            found.push((Angle::rad(low), Angle::rad(high)));
        }
    }
    Ok(found)
}
