//! The travel of a part that is made of several, each known within tolerances.
//!
//! The moment of the weight is `g sum(m_i x_i)`, so with the lever as it is the pull lies between its least and greatest over
//! all tolerances at once: each piece takes the end of its mass and of its place that is worst. The force at the hinge is a
//! convex function of weight and pull, so its greatest is at one of the four pairs of their ends.

use super::error::within;
use super::hinged::at;
use super::travel::GRID_DEG;
use super::{Hinged, LiftError, OnPart, Travel, Travelled, travelled};
use crate::working::Provenance;
use tober_quantity::{Acceleration, Angle, Force, Length, Mass, Ratio, Toleranced, maths};

/// Something that turns with the part.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// What it is called.
    pub name: String,
    /// Its mass.
    pub mass: Toleranced<Mass>,
    /// Where that comes from.
    pub mass_from: Provenance,
    /// Where its weight acts.
    pub centre: OnPart,
    /// How far that may be off, along the part and square to it, either way.
    pub off_by: OnPart,
}

/// A part on a hinge, made of pieces, and the line that raises it.
#[derive(Clone, Debug, PartialEq)]
pub struct Raised {
    /// Everything that turns.
    pub pieces: Vec<Piece>,
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

/// The part at an angle, over its tolerances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandAt {
    /// The angle.
    pub phi: Angle,
    /// The least pull of all falls together; negative where the line may be slack.
    pub low: Force,
    /// The greatest.
    pub high: Force,
    /// The greatest force at the hinge while the line pulls.
    pub hinge: Force,
    /// The direction of the line at the eye, against the part's own along it.
    pub eye_direction: Angle,
}

/// A travel over the tolerances of what is raised.
#[derive(Clone, Debug, PartialEq)]
pub struct Over {
    /// The travel of the part as stated.
    pub stated: Travelled,
    /// What is raised.
    pub raised: Raised,
    /// The bands, from one angle to the next; none with a dead point in the travel.
    pub rows: Vec<BandAt>,
    /// Where the line may be slack.
    pub slack: Vec<(Angle, Angle)>,
}

impl Raised {
    /// A part known without tolerance.
    pub fn exact(part: &Hinged, name: &str, mass_from: Provenance) -> Self {
        let nothing = OnPart { along: Length::m(0.0), normal: Length::m(0.0) };
        Self {
            pieces: vec![Piece {
                name: name.to_owned(),
                mass: Toleranced::exact(part.mass),
                mass_from,
                centre: part.centre,
                off_by: nothing,
            }],
            eye: part.eye,
            sheave_x: part.sheave_x,
            sheave_z: part.sheave_z,
            falls: part.falls,
            efficiency: part.efficiency,
            gravity: part.gravity,
        }
    }

    /// The part as it is stated, without tolerances.
    pub fn stated(&self) -> Hinged {
        let mass = self.pieces.iter().fold(0.0, |sum, piece| sum + piece.mass.value.as_kg());
        let centre = |of: fn(&OnPart) -> Length| {
            let moment = |sum: f64, piece: &Piece| sum + piece.mass.value.as_kg() * of(&piece.centre).as_m();
            match self.pieces.as_slice() {
                [one] => of(&one.centre),
                all => Length::m(all.iter().fold(0.0, moment) / mass),
            }
        };
        Hinged {
            mass: Mass::kg(mass),
            centre: OnPart { along: centre(|c| c.along), normal: centre(|c| c.normal) },
            eye: self.eye,
            sheave_x: self.sheave_x,
            sheave_z: self.sheave_z,
            falls: self.falls,
            efficiency: self.efficiency,
            gravity: self.gravity,
        }
    }

    /// For each piece its mass and how far forward of the hinge it is, where the pull is greatest over their tolerances
    /// (`more`) or least.
    pub(super) fn worst(&self, phi: Angle, more: bool) -> Vec<(Mass, Length)> {
        let (sin, cos) = (maths::sin(phi.as_rad()), maths::cos(phi.as_rad()));
        let one = |piece: &Piece| {
            let (x, _) = piece.centre.placed_m(phi);
            let off = piece.off_by.along.as_m() * cos.abs() + piece.off_by.normal.as_m() * sin.abs();
            let x = if more { x + off } else { x - off };
            // A heavier piece adds to the moment where it is forward of the hinge.
            let mass = if (x > 0.0) == more { piece.mass.high() } else { piece.mass.low() };
            // A picometre is rounding of a sine.
            (mass, Length::m(if x.abs() < 1e-12 { 0.0 } else { x }))
        };
        self.pieces.iter().map(one).collect()
    }

    pub(super) fn moment_nm(&self, phi: Angle, more: bool) -> f64 {
        let g = self.gravity.as_m_s2();
        self.worst(phi, more).into_iter().fold(0.0, |sum, (mass, x)| sum + mass.as_kg() * x.as_m() * g)
    }

    fn band(&self, stated: &Hinged, phi: Angle) -> Result<Option<BandAt>, LiftError> {
        let row = at(stated, phi)?;
        if row.pull.is_none() {
            return Ok(None);
        }
        let lever = row.lever.as_m();
        let ends = [false, true].map(|more| self.moment_nm(phi, more) / lever);
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        let total = |of: fn(&Piece) -> Mass| {
            self.pieces.iter().fold(0.0, |sum, piece| sum + of(piece).as_kg()) * self.gravity.as_m_s2()
        };
        let (sin, cos) = (maths::sin(row.line_direction.as_rad()), maths::cos(row.line_direction.as_rad()));
        let mut hinge = 0.0_f64;
        for weight in [total(|p| p.mass.low()), total(|p| p.mass.high())] {
            for pull in [low.max(0.0), high.max(0.0)] {
                hinge = hinge.max(maths::hypot(pull * cos, weight - pull * sin));
            }
        }
        Ok(Some(BandAt {
            phi,
            low: Force::n(low),
            high: Force::n(high),
            hinge: Force::n(hinge),
            eye_direction: row.eye_direction,
        }))
    }
}

/// A part over its whole travel and over the tolerances of what turns.
///
/// The rows lie a twentieth of a degree apart, with both ends, every listed angle and the greatest pull and hinge force
/// of the part as stated among them.
///
/// # Errors
/// As [`travelled`]; a tolerance that is negative, and a part of no pieces.
pub fn over(raised: &Raised, travel: &Travel) -> Result<Over, LiftError> {
    for piece in &raised.pieces {
        within("mass_kg", "least mass of a piece in kilogrammes", piece.mass.low().as_kg(), 0.0, 1e6)?;
        let off = piece.off_by.along.as_m().min(piece.off_by.normal.as_m());
        within("cg", "tolerance of a centre of gravity in metres", off, 0.0, 100.0)?;
    }
    within("mass_kg", "number of pieces", raised.pieces.len() as f64, 1.0, 1000.0)?;
    let part = raised.stated();
    let stated = travelled(&part, travel)?;
    let mut angles: Vec<f64> = stated.listed.rows.iter().map(|row| row.phi.as_deg()).collect();
    angles.extend([stated.peak, stated.hinge].into_iter().flatten().map(|peak| peak.phi.as_deg()));
    let (start, end) = (travel.start.as_deg(), travel.end.as_deg());
    let mut count = 0_u32;
    while start + f64::from(count) * GRID_DEG < end {
        angles.push(start + f64::from(count) * GRID_DEG);
        count += 1;
    }
    angles.push(end);
    angles.sort_by(f64::total_cmp);
    angles.dedup();
    let mut rows = Vec::new();
    if stated.dead.is_empty() {
        for deg in angles {
            rows.extend(raised.band(&part, Angle::deg(deg))?);
        }
    }
    let known = |piece: &Piece| {
        piece.mass.off_by == Mass::kg(0.0)
            && piece.off_by.along == Length::m(0.0)
            && piece.off_by.normal == Length::m(0.0)
    };
    let slack = if raised.pieces.iter().all(known) {
        stated.slack.clone()
    } else {
        runs(&rows, stated.slack.clone())
    };
    Ok(Over { stated, raised: raised.clone(), rows, slack })
}

/// From where to where the least pull is below nothing.
fn runs(rows: &[BandAt], stated: Vec<(Angle, Angle)>) -> Vec<(Angle, Angle)> {
    let mut found: Vec<(Angle, Angle)> = Vec::new();
    let mut before = false;
    for row in rows {
        let slack = row.low < Force::n(0.0);
        match found.last_mut() {
            Some(last) if slack && before => last.1 = row.phi,
            _ if slack => found.push((row.phi, row.phi)),
            _ => {}
        }
        before = slack;
    }
    if rows.is_empty() { stated } else { found }
}

impl Over {
    /// The greatest pull of all falls together, over travel and tolerances.
    pub fn greatest_pull(&self) -> Option<Force> {
        self.greatest(|row| row.high).map(|row| row.high)
    }

    /// The greatest force at the hinge while the line pulls.
    pub fn greatest_hinge(&self) -> Option<Force> {
        self.rows.iter().filter(|row| row.high >= Force::n(0.0)).map(|row| row.hinge).reduce(Force::max)
    }

    /// The row where a figure is greatest; the first of equals.
    pub(super) fn greatest(&self, of: impl Fn(&BandAt) -> Force) -> Option<&BandAt> {
        let more = |best: &BandAt, row: &BandAt| of(row) > of(best);
        self.rows.iter().fold(None, |best, row| match best {
            Some(best) if !more(best, row) => Some(best),
            _ => Some(row),
        })
    }
}
