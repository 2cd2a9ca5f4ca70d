//! One condensed frame, one load, known springs: the answer.

use super::super::error::{FORCE, GAP, STIFFNESS, SupportsError, inside, limit};
use super::super::hull::{Hull, Nearest};
use super::super::solver::{Displacement, Edge, Tips};
use super::certificate::{BentCertificate, certify};
use super::condense::{Column, Condensed, HELD};
use super::contact::Contact;
use tober_quantity::{Angle, Force, Length, Moment, Quantity, Shown, Stiffness};

/// A resultant nearer to a side of the hull than this share of the extent is on it, as for a rigid frame.
const ON_EDGE: f64 = 1e-12;
/// A reaction below this share of the load is rounding and is given as none.
const NOTHING: f64 = 1e-13;
/// By how much a frame that balances on a side is shown clear of its other supports.
const CLEAR_M: f64 = 1e-4;

/// The spring of one support.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FootSpring {
    /// Force for each length of shortening: leg, timber and ground in series.
    pub stiffness: Stiffness,
    /// Clear distance from its top to the frame in the datum position; negative where it stands too high.
    pub gap: Length,
}

/// How a node has moved from its datum position.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NodeMove {
    /// Up.
    pub up: Length,
    /// About the x axis.
    pub turn_x: Angle,
    /// About the y axis.
    pub turn_y: Angle,
}

/// What a member carries, as couples on its ends that go with the slope along it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MemberForces {
    /// Bending couple on its first end, `(EI/L)(4a + 2b)`.
    pub moment_from: Moment,
    /// Bending couple on its second end.
    pub moment_to: Moment,
    /// Twisting couple on its second end; the first has the opposite.
    pub torque: Moment,
    /// Force up on its first end, `(M_1 + M_2)/L`; the second has the opposite.
    pub shear: Force,
}

/// The frame stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Bent {
    /// The load on each support, in the order given; the only one.
    pub reactions: Vec<Force>,
    /// The supports that carry nothing.
    pub lifted: Vec<usize>,
    /// How each node has moved.
    pub nodes: Vec<NodeMove>,
    /// What each member carries.
    pub forces: Vec<MemberForces>,
    /// The plane through the three supports from which the bending is counted, and whether the displacement is
    /// the only one. It is not where the frame rocks on a side.
    pub plane: Displacement,
    /// How far inside the hull of the supports the resultant acts; nothing where it is on a side.
    pub margin: Length,
    /// The side it is nearest to.
    pub nearest: Edge,
    /// The proof of the reactions.
    pub certificate: BentCertificate,
    /// How each node is bent from the plane, three numbers a node.
    pub(super) bent: Vec<f64>,
}

/// What the frame does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BentAnswer<'a> {
    /// It stands.
    Stands(&'a Bent),
    /// It tips.
    Tips(Tips),
}

/// Solves one set of springs and loads after another in the same memory.
#[derive(Clone, Debug)]
pub struct BeamsSolver {
    x: Vec<f64>,
    y: Vec<f64>,
    hull: Hull,
    contact: Contact,
    /// The condensed stiffness and node numbers that `contact` was loaded from belong to the last frame.
    left: Vec<f64>,
    answer: Bent,
}

impl Default for BeamsSolver {
    fn default() -> Self {
        Self::new()
    }
}

impl BeamsSolver {
    /// A solver that has solved nothing yet.
    pub fn new() -> Self {
        let edge = Edge { from: 0, to: 0 };
        let plane =
            Displacement { z: Length::ZERO, theta_x: Angle::ZERO, theta_y: Angle::ZERO, unique: false };
        Self {
            x: Vec::new(),
            y: Vec::new(),
            hull: Hull::default(),
            contact: Contact::default(),
            left: Vec::new(),
            answer: Bent {
                reactions: Vec::new(),
                lifted: Vec::new(),
                nodes: Vec::new(),
                forces: Vec::new(),
                plane,
                margin: Length::ZERO,
                nearest: edge,
                certificate: BentCertificate::default(),
                bent: Vec::new(),
            },
        }
    }

    /// The load on each support of a condensed frame on springs that only push, with gaps.
    ///
    /// Minimises the elastic energy of beams and springs less the work of the load. The frame stands if and only if
    /// the resultant is in the closed hull of the supports; then the reactions are the only ones. On a side of the
    /// hull, to 1e-12 of the extent, only the supports on that side carry.
    ///
    /// Valid for small displacements and linear beams and springs. Source: the stiffness method for grillages, any
    /// textbook of structures; held to cases solved by two general libraries and to closed forms.
    ///
    /// # Errors
    /// Refuses springs that no support has, a number of springs that is not that of the supports, and a load that does
    /// not press down. Gives [`SupportsError::NotReached`] rather than an answer whose certificate does not hold.
    ///
    /// # Not covered
    /// Friction, sideways load, ground that stays down when it has sunk, buckling.
    pub fn solve(
        &mut self,
        frame: &Condensed,
        feet: &[FootSpring],
        load: &Column,
    ) -> Result<BentAnswer<'_>, SupportsError> {
        let n = frame.feet.len();
        if feet.len() != n {
            return Err(SupportsError::SpringsMissing { given: feet.len(), supports: n });
        }
        check(feet, load)?;
        self.x.clear();
        self.x.extend(frame.feet.iter().map(|&node| frame.x[node]));
        self.y.clear();
        self.y.extend(frame.feet.iter().map(|&node| frame.y[node]));
        self.hull.make(&self.x, &self.y);
        let weight = load.sums[0];
        let (px, py) = (load.sums[1] / weight, load.sums[2] / weight);
        let Some(nearest) = self.hull.nearest(px, py) else {
            return Err(SupportsError::NoSupports);
        };
        let from_first = |(x, y): (&f64, &f64)| (x - self.x[0]).abs().max((y - self.y[0]).abs());
        let extent = self.x.iter().zip(&self.y).map(from_first).fold(0.0, f64::max);
        let tell = ON_EDGE * (extent + px.abs() + py.abs());
        let edge = Edge { from: nearest.from, to: nearest.to };
        if nearest.margin < -tell {
            return Ok(BentAnswer::Tips(Tips { margin: Length::m(nearest.margin), over: edge }));
        }
        let on_edge = nearest.margin <= tell;
        self.answer.nearest = edge;
        self.answer.margin = Length::m(if on_edge { 0.0 } else { nearest.margin });
        let greatest = feet.iter().map(|f| f.stiffness.si()).fold(0.0, f64::max);
        let sink = weight / greatest;
        let inward = on_edge.then(|| self.inward(nearest, (px, py), tell));
        let springs = &mut self.contact.springs;
        springs.clear();
        for (i, foot) in feet.iter().enumerate() {
            let (dx, dy) = (self.x[i] - px, self.y[i] - py);
            // What is off the side would put a moment about it that nothing takes up: it carries nothing.
            let carries = inward.is_none_or(|(nx, ny, corner)| {
                let off = if corner { (dx * dx + dy * dy).sqrt() } else { (dx * nx + dy * ny).abs() };
                off <= 4.0 * tell
            });
            let k = if carries { foot.stiffness.si() / greatest } else { 0.0 };
            springs.push(dx / extent, dy / extent, k, foot.gap.si() / sink);
        }
        let contact = &mut self.contact;
        contact.free.clone_from(&frame.free);
        contact.s.clear();
        contact.s.extend(frame.stiffness.iter().map(|s| s / greatest));
        contact.p.clear();
        contact.p.extend(load.kept.iter().map(|f| -f / weight));
        let full = contact.rest();
        self.answer.plane.unique = full && !on_edge;

        let reactions = &mut self.answer.reactions;
        reactions.clear();
        for (k, c) in contact.springs.k.iter().zip(&contact.springs.c) {
            let share = k * c;
            reactions.push(Force::n(if share > NOTHING { share * weight } else { 0.0 }));
        }
        self.answer.lifted.clear();
        self.answer.lifted.extend((0..n).filter(|&i| self.answer.reactions[i].si() <= 0.0));
        let [sunk, q1, q2] = contact.plane();
        let (mut along, mut across) = (q1 * sink / extent, q2 * sink / extent);
        if let Some((nx, ny, _)) = inward {
            let mut tilt = 0.0_f64;
            for i in (0..n).filter(|&i| contact.springs.k[i] <= 0.0) {
                let into = (self.x[i] - px) * nx + (self.y[i] - py) * ny;
                tilt = tilt.min((-CLEAR_M - contact.springs.c[i] * sink) / into);
            }
            (along, across) = (along + tilt * nx, across + tilt * ny);
        }
        let plane = &mut self.answer.plane;
        plane.z = Length::m(-(sunk * sink - along * px - across * py));
        plane.theta_x = Angle::rad(-across);
        plane.theta_y = Angle::rad(along);
        self.recover(frame, load, sink);
        certify(frame, feet, load, extent, &mut self.answer, &mut self.left);
        let certificate = self.answer.certificate;
        if !certificate.holds() {
            let (residual, greatest) = (certificate.residual(), BentCertificate::RESIDUAL_MOST);
            return Err(SupportsError::NotReached { residual, greatest });
        }
        Ok(BentAnswer::Stands(&self.answer))
    }

    /// Inward from the side on which the resultant is, and whether it is at a corner.
    fn inward(&self, nearest: Nearest, (px, py): (f64, f64), tell: f64) -> (f64, f64, bool) {
        let (a, b) = (nearest.from, nearest.to);
        let corner = [a, b].into_iter().find(|&i| {
            let (dx, dy) = (self.x[i] - px, self.y[i] - py);
            (dx * dx + dy * dy).sqrt() <= tell
        });
        if let Some(i) = corner {
            let (nx, ny) = self.hull.inward_at_corner(i);
            return (nx, ny, true);
        }
        let (sx, sy) = (self.x[b] - self.x[a], self.y[b] - self.y[a]);
        let side = (sx * sx + sy * sy).sqrt();
        (-sy / side, sx / side, false)
    }

    /// All nodes, from the plane and the bending of the further supports.
    fn recover(&mut self, frame: &Condensed, load: &Column, sink: f64) {
        let ne = frame.eliminated;
        let left = &mut self.left;
        left.clear();
        left.extend_from_slice(&load.still);
        left.resize(ne + frame.free.len(), 0.0);
        for (j, e) in self.contact.bending().iter().enumerate() {
            let up = -e * sink;
            left[ne + j] = up;
            let shape = &frame.shapes[j * ne..(j + 1) * ne];
            left[..ne].iter_mut().zip(shape).for_each(|(to, share)| *to += up * share);
        }
        let answer = &mut self.answer;
        answer.bent.clear();
        answer.nodes.clear();
        for (i, numbers) in frame.number.iter().enumerate() {
            let bent = numbers.map(|n| if n == HELD { 0.0 } else { left[n] });
            answer.bent.extend_from_slice(&bent);
            let plane = answer.plane;
            let up = plane.at(Length::m(frame.x[i]), Length::m(frame.y[i]));
            answer.nodes.push(NodeMove {
                up: Length::m(up.si() + bent[0]),
                turn_x: Angle::rad(plane.theta_x.as_rad() + bent[1]),
                turn_y: Angle::rad(plane.theta_y.as_rad() + bent[2]),
            });
        }
    }
}

fn check(feet: &[FootSpring], load: &Column) -> Result<(), SupportsError> {
    for (support, foot) in feet.iter().enumerate() {
        let refuse =
            |what, given, limit| Err(SupportsError::SupportOutOfRange { support, what, given, limit });
        if !inside(foot.stiffness.si(), STIFFNESS.0, STIFFNESS.1) {
            let limit = limit::<Stiffness>(STIFFNESS.0, STIFFNESS.1, Shown::Stiffness);
            return refuse("stiffness", foot.stiffness.amount(), limit);
        }
        if !inside(foot.gap.si(), -GAP, GAP) {
            return refuse("gap", foot.gap.amount(), limit::<Length>(-GAP, GAP, Shown::Fine));
        }
    }
    let down = Force::n(load.sums[0]);
    if down.si() <= 0.0 {
        return Err(SupportsError::NotPressedDown { down });
    }
    if !inside(down.si(), FORCE.0, FORCE.1) {
        let limit = limit::<Force>(FORCE.0, FORCE.1, Shown::Force);
        return Err(SupportsError::LoadOutOfRange { what: "weight", given: down.amount(), limit });
    }
    Ok(())
}
