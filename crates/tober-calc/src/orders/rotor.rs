//! The greatest value over every stage and every angle of a turntable.
//!
//! At a stage the value is `C + A cos a + B sin a`. Over all stages and masses its greatest at the point (p, q) of the plane,
//! `V(p, q) = max of C + A p + B q`, is convex, being a greatest of linear functions. An arc of the unit circle lies in the triangle of its two
//! ends and the corner at which the tangents there meet, so V on the arc is at most the greatest of its three values: one cut each. A stage found
//! is worth `C + sqrt(A^2 + B^2)` at the angle that suits it best, which is a value that is met. The arc of the highest bound is
//! halved until the two lie close together; for an arc of s radians they differ by about s^2/8 of the part that turns.
//!
//! Directions are rational points of the circle (by the tangent of half the angle), so all is in whole numbers: the value
//! is rounded down, the bound up, and a checker needs no floating point.
//!
//! Cost: five cuts to begin with for each quarter of a circle, and three for each halving.

use super::bodies::{Direction, Loads, LoadsError};
use super::{CutProof, Precedence, StepSet, WideExtreme, greatest_wide};
use tober_quantity::Angle;

/// Which angles are looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Arc {
    /// Every angle.
    Circle,
    /// From one direction on to another, counterclockwise; a full turn where they are one.
    Between(Direction, Direction),
}

/// When the search stops.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Close {
    /// Once value and bound differ by no more than this, in whole units.
    pub within: i128,
    /// Or after so many cuts.
    pub cuts: usize,
}

/// The greatest value over stages and angles, and a bound of it.
#[derive(Clone, PartialEq, Debug)]
pub struct Turning {
    /// A value that is met, rounded down to whole units.
    pub value: i128,
    /// No stage at any angle is worth more.
    pub bound: i128,
    /// The steps done where the value is met.
    pub stage: StepSet,
    /// The steps under way there.
    pub under_way: StepSet,
    /// The mass of each body there.
    pub masses: Vec<i64>,
    /// The angle there.
    pub angle: Angle,
    /// How many cuts it took.
    pub cuts: usize,
    /// The proof of the bound.
    pub proof: TurningProof,
}

/// Directions in order, counterclockwise, each less than half a turn on from the one before, with a cut at each and at
/// each corner between two. Over a circle the last corner lies between the last and the first.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TurningProof {
    /// The directions.
    pub directions: Vec<Direction>,
    /// The cut at each direction.
    pub touching: Vec<CutProof>,
    /// The cut at the corner between each direction and the next.
    pub corners: Vec<CutProof>,
}

struct Point {
    at: Direction,
    found: WideExtreme,
}

/// An arc: its first direction, and the corner to the next.
struct Piece {
    from: Point,
    corner: Point,
}

/// The greatest value over every stage that holds `done` and nothing of `open`, at every angle of `arc`.
///
/// `None` where there is no such stage. For the least value: [`Loads::negated`].
///
/// # Errors
/// As [`Loads::sound`].
pub fn greatest_turning(
    p: &Precedence,
    loads: &Loads,
    (done, open): (&StepSet, &StepSet),
    arc: Arc,
    close: Close,
) -> Result<Option<Turning>, LoadsError> {
    loads.sound(p)?;
    let mut search = Search { p, loads, done, open, arc, cuts: 0, best: None };
    let directions = begin(arc);
    let mut points = Vec::new();
    for &at in &directions {
        let Some(point) = search.cut(at) else { return Ok(None) };
        points.push(point);
    }
    let last = match arc {
        Arc::Circle => None,
        Arc::Between(..) => points.pop(),
    };
    let mut pieces: Vec<Piece> = Vec::new();
    let ends: Vec<Direction> = points.iter().map(|point| point.at).collect();
    for (i, from) in points.into_iter().enumerate() {
        let to = ends.get(i + 1).copied().or(last.as_ref().map(|last| last.at)).unwrap_or(ends[0]);
        let Some(corner) = search.cut(from.at.corner(to)) else { return Ok(None) };
        pieces.push(Piece { from, corner });
    }
    let after_last = last.as_ref().map_or_else(|| pieces[0].from.at, |last| last.at);
    loop {
        let Some(worst) = (0..pieces.len()).max_by(|&a, &b| higher(&pieces[a].corner, &pieces[b].corner))
        else {
            return Ok(None);
        };
        let corners = pieces.iter().map(|piece| &piece.corner).chain(pieces.iter().map(|piece| &piece.from));
        let bound = corners.chain(&last).map(|point| up(point.found.value, point.at.r)).max().unwrap_or(0);
        let to = pieces.get(worst + 1).map_or(after_last, |next| next.from.at);
        let from = pieces[worst].from.at;
        let middle = Direction::near(pieces[worst].corner.at.angle());
        let between = from.cross(middle) > 0 && middle.cross(to) > 0;
        let value = search.best.as_ref().map_or(i128::MIN, |best| best.value);
        if bound - value <= close.within || search.cuts + 3 > close.cuts || !between {
            return Ok(search.end(bound, pieces, last));
        }
        let cut = (search.cut(middle), search.cut(from.corner(middle)), search.cut(middle.corner(to)));
        let (Some(middle), Some(first), Some(second)) = cut else { return Ok(None) };
        pieces[worst].corner = first;
        pieces.insert(worst + 1, Piece { from: middle, corner: second });
    }
}

/// Directions to begin with: quarter by quarter.
fn begin(arc: Arc) -> Vec<Direction> {
    match arc {
        Arc::Circle => {
            core::iter::successors(Some(Direction::ZERO), |at| Some(at.quarter_on())).take(4).collect()
        }
        Arc::Between(from, to) => {
            let mut directions = vec![from];
            let mut at = from;
            // Not yet within a quarter of the end; three quarters is the most that can go before it.
            for _ in 0..3 {
                let next = at.quarter_on();
                if at.cross(to) > 0 && next.cross(to) <= 0 {
                    break;
                }
                directions.push(next);
                at = next;
            }
            directions.push(to);
            directions
        }
    }
}

/// Rounded up to a whole number.
fn up(value: i128, over: i128) -> i128 {
    value.div_euclid(over) + i128::from(value.rem_euclid(over) != 0)
}

/// Which of two corners bounds by more. Rounded to floating point: it only chooses what is halved next.
fn higher(a: &Point, b: &Point) -> core::cmp::Ordering {
    let of = |point: &Point| point.found.value as f64 / point.at.r as f64;
    of(a).total_cmp(&of(b))
}

struct Best {
    value: i128,
    stage: StepSet,
    under_way: StepSet,
    masses: Vec<i64>,
    angle: f64,
}

struct Search<'a> {
    p: &'a Precedence,
    loads: &'a Loads,
    done: &'a StepSet,
    open: &'a StepSet,
    arc: Arc,
    cuts: usize,
    best: Option<Best>,
}

impl Search<'_> {
    fn cut(&mut self, at: Direction) -> Option<Point> {
        self.cuts += 1;
        let tally = self.loads.tally(self.p.len(), at);
        let found = greatest_wide(self.p, &tally, self.done, self.open)?;
        let (value, angle) = self.met(&found, at);
        if self.best.as_ref().is_none_or(|best| value > best.value) {
            let placed = self.loads.placed(&found.stage, &found.under_way, at);
            self.best = Some(Best {
                value,
                stage: found.stage.clone(),
                under_way: found.under_way.clone(),
                masses: placed.into_iter().map(|(_, mass)| mass).collect(),
                angle,
            });
        }
        Some(Point { at, found })
    }

    /// The most that the stage is worth with these masses at any angle of the arc, and that angle.
    fn met(&self, found: &WideExtreme, at: Direction) -> (i128, f64) {
        let base = self.loads.base;
        let mut sums = (i128::from(base.fixed), i128::from(base.cos), i128::from(base.sin));
        for (arm, mass) in self.loads.placed(&found.stage, &found.under_way, at) {
            let mass = i128::from(mass);
            sums.0 += mass * i128::from(arm.fixed);
            sums.1 += mass * i128::from(arm.cos);
            sums.2 += mass * i128::from(arm.sin);
        }
        let (fixed, cos, sin) = sums;
        let towards = Direction { p: cos, q: sin, r: 1 };
        match self.arc {
            Arc::Between(from, to) if !inside(from, to, towards) => {
                let of = |end: Direction| {
                    ((fixed * end.r + cos * end.p + sin * end.q).div_euclid(end.r), end.angle())
                };
                let (first, last) = (of(from), of(to));
                if first.0 >= last.0 { first } else { last }
            }
            _ => (fixed + (cos * cos + sin * sin).isqrt(), towards.angle()),
        }
    }

    fn end(self, bound: i128, pieces: Vec<Piece>, last: Option<Point>) -> Option<Turning> {
        let best = self.best?;
        let mut proof = TurningProof { directions: Vec::new(), touching: Vec::new(), corners: Vec::new() };
        for piece in pieces {
            proof.directions.push(piece.from.at);
            proof.touching.push(piece.from.found.proof);
            proof.corners.push(piece.corner.found.proof);
        }
        if let Some(last) = last {
            proof.directions.push(last.at);
            proof.touching.push(last.found.proof);
        }
        Some(Turning {
            value: best.value,
            bound,
            stage: best.stage,
            under_way: best.under_way,
            masses: best.masses,
            angle: Angle::rad(best.angle),
            cuts: self.cuts,
            proof,
        })
    }
}

/// Does a direction lie from one on to another, counterclockwise?
fn inside(from: Direction, to: Direction, at: Direction) -> bool {
    if from.cross(to) > 0 {
        from.cross(at) >= 0 && at.cross(to) >= 0
    } else {
        !(to.cross(at) > 0 && at.cross(from) > 0)
    }
}
