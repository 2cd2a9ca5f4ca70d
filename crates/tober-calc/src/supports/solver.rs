//! One frame, one load, known numbers: the answer.

use super::certificate::Certificate;
use super::error::{SupportsError, check_load, check_support};
use super::hull::{Hull, Nearest};
use super::iteration::{Resting, Springs};
use super::{Load, Support};
use tober_quantity::{Angle, Force, Length, Quantity};

/// The most supports that one frame may have here.
const SUPPORTS_MOST: usize = 64;
/// A resultant nearer to a side of the hull than this share of the extent is on it: no nearer can be told.
const ON_EDGE: f64 = 1e-12;
/// A reaction below this share of the load is rounding and is given as none.
const NOTHING: f64 = 1e-13;
/// By how much a frame that balances on a side is shown clear of its other supports.
const CLEAR_M: f64 = 1e-4;

/// How the frame has moved: `u = z + theta_x*y - theta_y*x`, up positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Displacement {
    /// At the origin.
    pub z: Length,
    /// About the x axis.
    pub theta_x: Angle,
    /// About the y axis.
    pub theta_y: Angle,
    /// Whether it is the only one. It is not where the supports that carry are on one line: the frame rocks.
    pub unique: bool,
}

impl Displacement {
    /// How far the frame has moved up at a place.
    pub fn at(&self, x: Length, y: Length) -> Length {
        Length::m(self.z.as_m() + self.theta_x.as_rad() * y.as_m() - self.theta_y.as_rad() * x.as_m())
    }
}

/// A side of the hull of the supports, by the supports at its ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Edge {
    /// The first end, going anticlockwise.
    pub from: usize,
    /// The other end; the same as the first where all supports are at one place.
    pub to: usize,
}

/// What happens to a support when a gap changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Becomes {
    /// It carries now and goes light.
    Light,
    /// It is clear now and comes to carry.
    Carrying,
}

/// The least change of one gap after which another set of supports carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ContactChange {
    /// The support whose gap changes.
    pub gap_of: usize,
    /// By how much; positive is a wider gap, as when its ground sinks or a board is taken out.
    pub change: Length,
    /// The support that goes light or comes to carry.
    pub support: usize,
    /// Which of the two.
    pub becomes: Becomes,
}

/// The frame stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Stands {
    /// The load on each support, in the order given; exact, and the only one.
    pub reactions: Vec<Force>,
    /// The supports that carry nothing.
    pub lifted: Vec<usize>,
    /// How the frame has moved.
    pub displacement: Displacement,
    /// How far inside the hull of the supports the resultant acts; nothing where it is on a side.
    pub margin: Length,
    /// The side it is nearest to.
    pub nearest: Edge,
    /// The least change of one gap that alters which supports carry; none where the frame rocks.
    pub contact_change: Option<ContactChange>,
    /// The proof of the reactions.
    pub certificate: Certificate,
}

/// The frame cannot stand: the resultant acts outside the hull of its supports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tips {
    /// How far inside the hull the resultant acts: always negative.
    pub margin: Length,
    /// The side it tips over.
    pub over: Edge,
}

/// What the frame does.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// It stands.
    Stands(Stands),
    /// It tips.
    Tips(Tips),
}

/// What the frame does, held by the solver until it solves again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AnswerRef<'a> {
    /// It stands.
    Stands(&'a Stands),
    /// It tips.
    Tips(Tips),
}

/// Solves one frame after another in the same memory.
///
/// A frame of no more supports than an earlier one takes nothing from the heap.
#[derive(Clone, Debug)]
pub struct Solver {
    x: Vec<f64>,
    y: Vec<f64>,
    hull: Hull,
    springs: Springs,
    members: Vec<usize>,
    stands: Stands,
}

impl Default for Solver {
    fn default() -> Self {
        Self::new()
    }
}

/// The load on each support of a rigid frame on springs that only push, with gaps.
///
/// Minimises `1/2 sum k*max(0, c)^2 + W*u(x_W, y_W) - Mx*theta_x - My*theta_y` (see the module for the
/// symbols). The frame stands if and only if the resultant is in the closed hull of the supports;
/// then the reactions are the only ones. On a side of the hull, to 1e-12 of the extent, only the
/// supports on that side carry.
///
/// Valid for small displacements, linear springs and a frame much stiffer than its supports. No
/// published worked example of such a frame with gaps was found; it is held to 24 cases solved
/// in exact rational arithmetic and to closed forms.
///
/// # Errors
/// Refuses numbers that are none, that no frame has, and a load that does not press down. Gives
/// [`SupportsError::NotReached`] rather than an answer whose certificate does not hold.
///
/// # Not covered
/// Friction, sideways load, a frame that bends, ground that stays down when it has sunk.
pub fn solve(supports: &[Support], load: &Load) -> Result<Answer, SupportsError> {
    let mut solver = Solver::new();
    match solver.solve(supports, load)? {
        AnswerRef::Tips(tips) => Ok(Answer::Tips(tips)),
        AnswerRef::Stands(_) => Ok(Answer::Stands(solver.stands)),
    }
}

/// The frame in plain numbers, as the steps below hand it on.
struct Scaled {
    weight: f64,
    resultant: (f64, f64),
    extent: f64,
    stiffness: f64,
    /// Length of one unit of compression: weight over stiffness.
    sink: f64,
}

impl Solver {
    /// A solver that has solved nothing yet.
    pub fn new() -> Self {
        Self {
            x: Vec::new(),
            y: Vec::new(),
            hull: Hull::default(),
            springs: Springs::default(),
            members: Vec::new(),
            stands: Stands {
                reactions: Vec::new(),
                lifted: Vec::new(),
                displacement: Displacement {
                    z: Length::ZERO,
                    theta_x: Angle::ZERO,
                    theta_y: Angle::ZERO,
                    unique: false,
                },
                margin: Length::ZERO,
                nearest: Edge { from: 0, to: 0 },
                contact_change: None,
                certificate: Certificate {
                    force_residual: 0.0,
                    moment_residual: 0.0,
                    spring_residual: 0.0,
                    least_reaction: 0.0,
                },
            },
        }
    }

    /// As [`solve`], in the memory of this solver.
    ///
    /// # Errors
    /// As [`solve`].
    pub fn solve(&mut self, supports: &[Support], load: &Load) -> Result<AnswerRef<'_>, SupportsError> {
        if supports.is_empty() {
            return Err(SupportsError::NoSupports);
        }
        if supports.len() > SUPPORTS_MOST {
            return Err(SupportsError::TooManySupports { given: supports.len(), most: SUPPORTS_MOST });
        }
        for (i, support) in supports.iter().enumerate() {
            check_support(i, support)?;
        }
        check_load(load)?;

        self.x.clear();
        self.x.extend(supports.iter().map(|s| s.x.si()));
        self.y.clear();
        self.y.extend(supports.iter().map(|s| s.y.si()));
        self.hull.make(&self.x, &self.y);
        let scaled = self.scale(supports, load);
        let (px, py) = scaled.resultant;
        let Some(nearest) = self.hull.nearest(px, py) else {
            return Err(SupportsError::NoSupports);
        };
        // A couple can throw the resultant far out; rounding grows with that distance, not only with the frame.
        let tell = ON_EDGE * (scaled.extent + px.abs() + py.abs());
        let edge = Edge { from: nearest.from, to: nearest.to };
        if nearest.margin < -tell {
            return Ok(AnswerRef::Tips(Tips { margin: Length::m(nearest.margin), over: edge }));
        }
        let on_edge = nearest.margin <= tell;
        self.stands.nearest = edge;
        self.stands.margin = Length::m(if on_edge { 0.0 } else { nearest.margin });
        if on_edge {
            self.balance_on_edge(supports, &scaled, nearest, tell);
        } else {
            self.rest_inside(supports, &scaled);
        }
        self.certify(supports, &scaled);
        let certificate = self.stands.certificate;
        if !certificate.holds() {
            let (residual, greatest) = (certificate.residual(), Certificate::RESIDUAL_MOST);
            return Err(SupportsError::NotReached { residual, greatest });
        }
        Ok(AnswerRef::Stands(&self.stands))
    }

    /// The answer that was given last, if the frame stood.
    pub(crate) fn last(&self) -> &Stands {
        &self.stands
    }

    fn scale(&self, supports: &[Support], load: &Load) -> Scaled {
        let weight = load.down.si();
        let resultant =
            (load.x.si() + load.moment_y.si() / weight, load.y.si() - load.moment_x.si() / weight);
        let (mut extent, mut stiffness) = (0.0_f64, 0.0_f64);
        for s in supports {
            extent = extent.max((s.x.si() - self.x[0]).abs()).max((s.y.si() - self.y[0]).abs());
            stiffness = stiffness.max(s.stiffness.si());
        }
        // All supports at one place have no extent; any length will do then.
        let extent = if extent > 0.0 { extent } else { 1.0 };
        Scaled { weight, resultant, extent, stiffness, sink: weight / stiffness }
    }

    fn rest_inside(&mut self, supports: &[Support], scaled: &Scaled) {
        let (px, py) = scaled.resultant;
        self.members.clear();
        self.members.extend(0..supports.len());
        self.springs.clear();
        for s in supports {
            self.springs.push(
                (s.x.si() - px) / scaled.extent,
                (s.y.si() - py) / scaled.extent,
                s.stiffness.si() / scaled.stiffness,
                s.gap.si() / scaled.sink,
            );
        }
        let resting = self.springs.rest();
        self.take_reactions(supports.len(), scaled);
        let [q0, q1, q2] = resting.q;
        let turn = scaled.sink / scaled.extent;
        let (along, across) = (q1 * turn, q2 * turn);
        self.take_displacement(q0 * scaled.sink, along, across, scaled);
        self.stands.displacement.unique = self.carrying_not_in_line(scaled.extent);
        self.stands.contact_change =
            if self.stands.displacement.unique { self.least_change(&resting, scaled) } else { None };
    }

    /// The resultant is on a side or a corner of the hull: supports off it would put a moment about
    /// it that nothing takes up, so they carry nothing, and what is left is a beam on its springs.
    fn balance_on_edge(&mut self, supports: &[Support], scaled: &Scaled, nearest: Nearest, tell: f64) {
        let (px, py) = scaled.resultant;
        let (a, b) = (nearest.from, nearest.to);
        let (ax, ay) = (self.x[a], self.y[a]);
        let (sx, sy) = (self.x[b] - ax, self.y[b] - ay);
        let side = (sx * sx + sy * sy).sqrt();
        let corner = [a, b].into_iter().find(|&i| {
            let (dx, dy) = (self.x[i] - px, self.y[i] - py);
            (dx * dx + dy * dy).sqrt() <= tell
        });
        // Along the side, and inward from it; at a corner, inward is between its two sides.
        let (ux, uy) = if side > 0.0 { (sx / side, sy / side) } else { (1.0, 0.0) };
        let (nx, ny) = match corner {
            Some(i) => self.hull.inward_at_corner(i),
            None => (-uy, ux),
        };
        self.members.clear();
        self.springs.clear();
        for (i, s) in supports.iter().enumerate() {
            let (dx, dy) = (self.x[i] - px, self.y[i] - py);
            let off = match corner {
                Some(_) => (dx * dx + dy * dy).sqrt(),
                None => (dx * nx + dy * ny).abs(),
            };
            if off <= 4.0 * tell {
                let along = if corner.is_some() { 0.0 } else { (dx * ux + dy * uy) / scaled.extent };
                self.members.push(i);
                self.springs.push(along, 0.0, s.stiffness.si() / scaled.stiffness, s.gap.si() / scaled.sink);
            }
        }
        let resting = self.springs.rest();
        self.take_reactions(supports.len(), scaled);
        let sink = resting.q[0] * scaled.sink;
        let lean = resting.q[1] * scaled.sink / scaled.extent;
        // Any lean that keeps the others clear will do; take the least that shows them clear.
        let mut tilt = 0.0_f64;
        for (i, s) in supports.iter().enumerate() {
            if self.members.contains(&i) {
                continue;
            }
            let (dx, dy) = (self.x[i] - px, self.y[i] - py);
            let inward = dx * nx + dy * ny;
            let here = sink + lean * (dx * ux + dy * uy);
            tilt = tilt.min((s.gap.si() - CLEAR_M - here) / inward);
        }
        let (along, across) = (lean * ux + tilt * nx, lean * uy + tilt * ny);
        self.take_displacement(sink, along, across, scaled);
        self.stands.displacement.unique = false;
        self.stands.contact_change = None;
    }

    fn take_reactions(&mut self, n: usize, scaled: &Scaled) {
        let stands = &mut self.stands;
        stands.reactions.clear();
        stands.reactions.resize(n, Force::ZERO);
        for (j, &i) in self.members.iter().enumerate() {
            let share = self.springs.k[j] * self.springs.c[j];
            if share > NOTHING {
                stands.reactions[i] = Force::n(share * scaled.weight);
            }
        }
        stands.lifted.clear();
        stands.lifted.extend((0..n).filter(|&i| stands.reactions[i].si() <= 0.0));
    }

    /// From how far the frame sinks at the resultant and how much more for each metre in x and in y.
    fn take_displacement(&mut self, sink: f64, along: f64, across: f64, scaled: &Scaled) {
        let (px, py) = scaled.resultant;
        let d = &mut self.stands.displacement;
        d.z = Length::m(-(sink - along * px - across * py));
        d.theta_x = Angle::rad(-across);
        d.theta_y = Angle::rad(along);
    }

    fn carrying_not_in_line(&self, extent: f64) -> bool {
        let carries = |i: &usize| self.stands.reactions[*i].si() > 0.0;
        let mut carrying = (0..self.x.len()).filter(carries);
        let Some(first) = carrying.next() else { return false };
        let from_first = |i: usize| (self.x[i] - self.x[first], self.y[i] - self.y[first]);
        let mut far = (0.0, 0.0);
        for i in carrying.clone() {
            let (dx, dy) = from_first(i);
            if dx * dx + dy * dy > far.0 * far.0 + far.1 * far.1 {
                far = (dx, dy);
            }
        }
        carrying.any(|i| {
            let (dx, dy) = from_first(i);
            (far.0 * dy - far.1 * dx).abs() > ON_EDGE * extent * extent
        })
    }

    /// Within one contact set everything is linear in the gaps: `dR_j/dg_i = k_j*(a_j H^-1 a_i k_i - [i = j])`
    /// and `dc_l/dg_i = a_l H^-1 a_i k_i`; a support that is clear changes nothing until it touches.
    fn least_change(&self, resting: &Resting, scaled: &Scaled) -> Option<ContactChange> {
        let p = &self.springs;
        let n = p.len();
        let carries = |i: usize| self.stands.reactions[i].si() > 0.0;
        let mut matrix = super::iteration::Matrix::default();
        for i in (0..n).filter(|&i| carries(i)) {
            matrix.add(p.k[i], p.s[i], p.t[i]);
        }
        let factors = if p.c.iter().all(|&c| c > 0.0) { resting.factors } else { matrix.factors() };
        let mut least: Option<ContactChange> = None;
        let mut keep = |gap_of: usize, change: f64, support: usize, becomes| {
            if change.is_finite() && least.is_none_or(|l| change.abs() < l.change.si().abs()) {
                least = Some(ContactChange { gap_of, change: Length::from_si(change), support, becomes });
            }
        };
        for i in 0..n {
            if !carries(i) {
                keep(i, p.c[i], i, Becomes::Carrying);
                continue;
            }
            let w = factors.solve([p.k[i], p.k[i] * p.s[i], p.k[i] * p.t[i]]);
            for j in 0..n {
                let moved = w[0] + w[1] * p.s[j] + w[2] * p.t[j] - f64::from(u8::from(i == j));
                // Rounding leaves a rate where three supports carry and nothing can change.
                if moved.abs() > 1e-9 {
                    let becomes = if carries(j) { Becomes::Light } else { Becomes::Carrying };
                    keep(i, -p.c[j] / moved, j, becomes);
                }
            }
        }
        least.map(|l| ContactChange { change: l.change * scaled.sink, ..l })
    }

    /// Works the certificate out from the supports, the reactions and the displacement alone.
    fn certify(&mut self, supports: &[Support], scaled: &Scaled) {
        let (px, py) = scaled.resultant;
        let d = self.stands.displacement;
        let (mut force, mut along, mut across) = (-scaled.weight, 0.0, 0.0);
        let (mut spring, mut least) = (0.0_f64, f64::INFINITY);
        for (s, reaction) in supports.iter().zip(&self.stands.reactions) {
            let r = reaction.si();
            force += r;
            along += r * (s.x.si() - px);
            across += r * (s.y.si() - py);
            let compression = -d.at(s.x, s.y).si() - s.gap.si();
            let off = (r - s.stiffness.si() * compression.max(0.0)).abs();
            // A maximum would pass over what is not a number.
            spring = if off > spring || !off.is_finite() { off } else { spring };
            least = least.min(r);
        }
        self.stands.certificate = Certificate {
            force_residual: force.abs() / scaled.weight,
            moment_residual: along.abs().max(across.abs()) / (scaled.weight * scaled.extent),
            spring_residual: spring / scaled.weight,
            least_reaction: least / scaled.weight,
        };
    }
}
