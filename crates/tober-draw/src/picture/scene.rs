//! The bodies of a step in space: those of the book, and what the plan puts under them.

use super::motion::Screw;
use crate::figures::Figures;
use crate::solid::{InTheWay, Pose, RoundBody, Solid, Space, dot, plus, solid_of};
use tober_book::{Holding, Lift, Phase, Ride, Shape, WinchLift};
use tober_plan::{BodyShown, Held, LegPlan, Plan, StepShown, turned_with};
use tober_quantity::{Angle, Length, maths};

/// What a part of the scene is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    /// A body of the book: its number among those of the step.
    Body(usize),
    /// A leg or its packing: the number of the leg in the plan.
    Leg(usize),
    /// Wheels and drawbar, to tell one end from the other.
    Running,
}

/// What holds a leg out from the frame.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Out {
    /// The frame itself, or a part of the book that reaches it.
    OfTheFrame,
    /// A part that is not out yet: the leg is not at its place.
    ByAPartThatIsIn,
    /// A beam that the book does not tell of, from this place across.
    ByABeam(f64),
}

/// What stands on the ground in a step.
pub(crate) struct Scene<'a> {
    pub ride: &'a Ride,
    pub plan: &'a Plan,
    pub shown: &'a StepShown<'a>,
    pub solids: Vec<Solid>,
    pub parts: Vec<Part>,
    /// The bodies without a shape in the book, which are not drawn.
    pub shapeless: Vec<&'a str>,
    /// The height of the ground, on average, from the top of the frame.
    pub ground: f64,
    /// The numbers of the solids that move, or else of those that are worked on.
    pub hot: Vec<usize>,
    /// Whether these move.
    pub moving: bool,
    /// Whether what moves is drawn where it was, as where it comes to it is out of sight.
    pub before: bool,
}

/// How thick legs, sleeves and drawbars are drawn where the book does not say, in metres.
const LEG: f64 = 0.12;
/// How thick the plate of a foot is drawn.
const FOOT: f64 = 0.03;
/// The radius of a road wheel as it is drawn, where the book does not say: for its place only.
const WHEEL: f64 = 0.33;

/// The pose of a body in a placement with the turntable at an angle.
pub(crate) fn pose(ride: &Ride, there: &BodyShown<'_>, before: bool, turned: Angle) -> Pose {
    let place = if before { there.was } else { there.is };
    let (at, turn) = turned_with(ride, there.body, place, turned);
    let mut pose = Pose::of(place);
    pose.at = at.map(Length::as_m);
    if let Some(turn) = turn {
        let (sin, cos) = (maths::sin(turn.angle.as_rad()), maths::cos(turn.angle.as_rad()));
        pose.axes = pose.axes.map(|[x, y, z]| {
            if turn.about_the_frame {
                [x, cos * y - sin * z, sin * y + cos * z]
            } else {
                [cos * x - sin * y, sin * x + cos * y, z]
            }
        });
    }
    pose
}

impl<'a> Scene<'a> {
    /// A step when it is done, or before.
    pub(crate) fn of(ride: &'a Ride, plan: &'a Plan, shown: &'a StepShown<'a>, before: bool) -> Self {
        let mut scene = Self {
            ride,
            plan,
            shown,
            solids: Vec::new(),
            parts: Vec::new(),
            shapeless: Vec::new(),
            ground: 0.0,
            hot: Vec::new(),
            moving: false,
            before,
        };
        for (number, there) in shown.bodies.iter().enumerate() {
            match &there.body.shape {
                Some(shape) => {
                    let pose = pose(ride, there, before, shown.turned[usize::from(!before)]);
                    scene.add(Part::Body(number), solid_of(shape, &pose));
                }
                None => scene.shapeless.push(&there.body.name),
            }
        }
        let raised = !shown.legs.is_empty() && !plan.legs.is_empty();
        let down: Vec<f64> = plan.legs.iter().map(|leg| scene.foot_down(leg) + leg.stack.as_m()).collect();
        let resting = ride.frame.resting_height.map(Length::as_m);
        let on_legs = down.iter().sum::<f64>() / down.len().max(1) as f64;
        scene.ground = -if raised { on_legs } else { resting.unwrap_or(on_legs) };
        scene.legs(raised);
        scene.running();
        scene.mark();
        scene
    }

    fn add(&mut self, part: Part, solid: Solid) {
        self.parts.push(part);
        self.solids.push(solid);
    }

    /// From the top of the frame down to the underside of a foot as the plan sets it.
    fn foot_down(&self, leg: &LegPlan) -> f64 {
        let support = self.ride.supports.iter().find(|support| support.name == leg.name);
        let first = support.map_or(0.0, |support| match &support.held {
            Holding::LegAndSleeve(holes) | Holding::LegOnlyAbove(holes) | Holding::LegOnlyBelow(holes) => {
                holes.first_hole.as_m()
            }
            Holding::Screw(screw) => screw.retracted_length.as_m(),
        });
        first
            + match &leg.held {
                Held::Hole { number, pitch, .. } => pitch.as_m() * number.saturating_sub(1) as f64,
                Held::Screw { extension, .. } => extension.as_m(),
            }
    }

    /// Legs with their feet and packing: each that is set down on its stack, the others drawn up.
    fn legs(&mut self, raised: bool) {
        let phase = self.shown.step.phase;
        let title = self.shown.step.title.to_lowercase();
        let laid = !self.shown.legs.is_empty() || title.contains(Figures::of(self.plan).packing());
        for (number, leg) in self.plan.legs.iter().enumerate() {
            let (x, y) = (leg.x.as_m(), leg.y.as_m());
            let on = self.held_out(x, y);
            if on == Out::ByAPartThatIsIn {
                continue;
            }
            let set = self.shown.legs.contains(&leg.name.as_str());
            let down = self.foot_down(leg);
            let under = if raised { -(down + leg.stack.as_m()) } else { self.ground };
            let drawn_up = -(down - 0.15).min(-self.ground - leg.stack.as_m() - 0.1).max(0.2);
            let foot = if set { -down } else { drawn_up };
            let level = |from: f64, to: f64, half: [f64; 2]| {
                Solid::block(
                    &Pose::level([x, y, (from + to) / 2.0]),
                    [half[0], half[1], (to - from).abs() / 2.0],
                )
            };
            if let Out::ByABeam(edge) = on {
                let (from, to) = (edge.min(y), edge.max(y));
                let half = [LEG / 2.0, (to - from) / 2.0, LEG / 2.0];
                self.add(Part::Running, Solid::block(&Pose::level([x, (from + to) / 2.0, -0.16]), half));
            }
            let (fx, fy) = (leg.foot_length.as_m() / 2.0, leg.foot_width.as_m() / 2.0);
            self.add(Part::Leg(number), level(foot + FOOT, 0.0, [LEG / 2.0, LEG / 2.0]));
            self.add(Part::Leg(number), level(foot, foot + FOOT, [fx, fy]));
            // Packing lies where the plan wants it from the step that lays it until the leg is taken away.
            let lies = match phase {
                Phase::Arrive => false,
                Phase::Leave => set,
                _ => set || laid,
            };
            let mut at = under;
            for layer in leg.layers.iter().filter(|_| lies) {
                let (along, across) =
                    (layer.length.as_m() / 2.0, layer.width.as_m() * layer.side_by_side.max(1) as f64 / 2.0);
                let half = match layer.grain {
                    tober_plan::Grain::Along => [along, across],
                    tober_plan::Grain::Across => [across, along],
                };
                let top = at + layer.thickness.as_m();
                self.add(Part::Leg(number), level(at, top, half));
                at = top;
            }
        }
    }

    /// What holds a leg out that does not stand under the frame.
    fn held_out(&self, x: f64, y: f64) -> Out {
        let width = self.ride.frame.width.map_or(0.0, Length::as_m) / 2.0;
        if y.abs() <= width + LEG || width == 0.0 {
            return Out::OfTheFrame;
        }
        // A body is thought a hand's breadth larger than it is drawn.
        let near = |solid: &Solid| (-3..=0).any(|down| solid.holds([x, y, f64::from(down) * 0.1], -0.1));
        if self.solids.iter().any(near) {
            return Out::OfTheFrame;
        }
        let once_out = self.shown.bodies.iter().any(|there| {
            let (Some(shape), Some(open)) = (&there.body.shape, there.body.placement("open")) else {
                return false;
            };
            near(&solid_of(shape, &Pose::of(open)))
        });
        if once_out { Out::ByAPartThatIsIn } else { Out::ByABeam(width.copysign(y)) }
    }

    fn running(&mut self) {
        let frame = &self.ride.frame;
        let resting = frame.resting_height.map_or(-self.ground, Length::as_m);
        for axle in &frame.axles {
            let hangs = if -self.ground > resting { axle.droop.map_or(0.0, Length::as_m) } else { 0.0 };
            let middle = -(resting + hangs.min(-self.ground - resting)) + WHEEL;
            for side in [-1.0, 1.0] {
                let at = [axle.at.as_m(), side * axle.track.as_m() / 2.0, middle];
                let axes = [[0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, 1.0]];
                let round = RoundBody { half_length: 0.1, radius: WHEEL, bore: Some(WHEEL * 0.55) };
                self.add(Part::Running, Solid::round(&Pose { at, axes }, round));
            }
        }
        if let (Some(hitch), Some(length)) = (frame.hitch.as_ref(), frame.length) {
            let at = [hitch.at.along.as_m(), hitch.at.across.as_m()];
            for side in [-1.0, 1.0] {
                let from = [length.as_m(), side * 0.4, -0.2];
                let Some(pose) = Pose::along(from, [at[0], at[1], -0.2]) else { continue };
                let half = maths::hypot(at[0] - from[0], at[1] - from[1]) / 2.0;
                self.add(Part::Running, Solid::block(&pose, [half, 0.05, 0.06]));
            }
        }
    }

    /// What moves; or else what is set, pinned or hooked.
    fn mark(&mut self) {
        let step = self.shown.step;
        let leg = |number: usize| {
            let name = &self.plan.legs[number].name;
            step.sets.contains(name) || step.takes_away.contains(name)
        };
        let moves: Vec<usize> = (0..self.parts.len())
            .filter(|&at| match self.parts[at] {
                Part::Body(number) => self.shown.bodies[number].moves(),
                Part::Leg(number) => leg(number),
                Part::Running => false,
            })
            .collect();
        self.moving = !moves.is_empty();
        self.hot = moves;
        if self.hot.is_empty() {
            let worked: Vec<&str> = step
                .pins
                .iter()
                .filter_map(|pin| {
                    self.fastened(&pin.fixing, &pin.to).or_else(|| self.fastened(&pin.fixing, &pin.from))
                })
                .chain(step.line_on.as_deref())
                .chain(step.line_off.as_deref())
                .collect();
            self.hot = worked.iter().filter_map(|name| self.solid_of(name)).collect();
            self.hot.sort_unstable();
            self.hot.dedup();
        }
    }

    /// Whether people lift what the step lifts, as the step tells or as it takes a lift back.
    pub(crate) fn by_hand(&self) -> bool {
        self.ride.lifts_of(self.shown.step).iter().any(|done| matches!(done.lift, Lift::Hand(_)))
    }

    /// The lift by winch that the step does.
    pub(crate) fn by_winch(&self) -> Option<&'a WinchLift> {
        self.ride.lifts_of(self.shown.step).into_iter().find_map(|done| match done.lift {
            Lift::Winch(lift) => Some(lift.as_ref()),
            Lift::Hand(_) => None,
        })
    }

    /// The body that a fixing fastens in a home.
    pub(crate) fn fastened(&self, fixing: &str, home: &str) -> Option<&'a str> {
        let fixing = self.ride.fixings.iter().find(|there| there.name == fixing)?;
        fixing.homes.iter().find(|there| there.name == home)?.fastens.as_deref()
    }

    /// The number of the solid of a body.
    pub(crate) fn solid_of(&self, name: &str) -> Option<usize> {
        self.parts.iter().position(|part| match part {
            Part::Body(number) => self.shown.bodies[*number].body.name == name,
            _ => false,
        })
    }

    /// The body of a solid.
    pub(crate) fn body(&self, solid: usize) -> Option<&'a BodyShown<'a>> {
        match self.parts[solid] {
            Part::Body(number) => self.shown.bodies.get(number),
            _ => None,
        }
    }

    /// What carries a body where the step leaves it.
    pub(crate) fn carrier(&self, there: &BodyShown<'_>) -> Option<&'a str> {
        let name = there.is.carried_by.as_deref().or(there.body.carried_by.as_deref())?;
        self.ride.body(name).map(|body| body.name.as_str())
    }

    /// The bodies that move and do not ride on one that moves, each with how it moves.
    pub(crate) fn movers(&self) -> Vec<(usize, Screw)> {
        let moved =
            |name: &str| self.shown.bodies.iter().any(|there| there.body.name == name && there.moves());
        let mut movers: Vec<(usize, Screw)> = self
            .hot
            .iter()
            .filter_map(|&at| {
                let there = self.body(at).filter(|there| there.moves())?;
                if self.carrier(there).is_some_and(moved) {
                    return None;
                }
                Some((at, self.screw(there)))
            })
            .collect();
        movers.retain(|(at, screw)| screw.way(self.solids[*at].middle()) > 0.05 || screw.turn > 0.05);
        movers
    }

    /// How a body moves in the step.
    pub(crate) fn screw(&self, there: &BodyShown<'_>) -> Screw {
        let [before, after] = self.shown.turned;
        let screw =
            Screw::between(&pose(self.ride, there, true, before), &pose(self.ride, there, false, after));
        if self.before { screw.told_of_old() } else { screw }
    }

    /// The bodies that move, where they are not drawn.
    pub(crate) fn others(&self) -> Vec<Solid> {
        let moved = self.shown.bodies.iter().filter(|there| there.moves());
        moved
            .filter_map(|there| {
                let shape: &Shape = there.body.shape.as_ref()?;
                let [was, is] = [(true, 0), (false, 1)]
                    .map(|(before, at)| pose(self.ride, there, before, self.shown.turned[at]));
                (was != is).then(|| solid_of(shape, if self.before { &is } else { &was }))
            })
            .collect()
    }

    /// Where on a body the work is: that point of its faces, edges and corners which is nearest to what carries it, one in
    /// sight before one that is hidden.
    pub(crate) fn joint(&self, name: &str, way: &InTheWay<'_>) -> Option<Space> {
        /// What a point in sight may be farther off, in metres.
        const HIDDEN: f64 = 0.6;
        /// What the distance to the middle of the carrier counts beside that to its faces.
        const MIDDLE: f64 = 0.02;
        let at = self.solid_of(name)?;
        let solid = &self.solids[at];
        let carrier =
            self.body(at).and_then(|there| self.carrier(there)).and_then(|name| self.solid_of(name));
        let mut points = ends(solid);
        points.extend(solid.edges.iter().map(|edge| {
            let [a, b] = edge.ends.map(|end| solid.corners[end]);
            [0, 1, 2].map(|n| (a[n] + b[n]) / 2.0)
        }));
        points.extend(solid.corners.iter().copied());
        let far = |point: &Space| {
            let towards =
                carrier.map_or([solid.middle()[0], 0.0, self.ground], |at| self.solids[at].middle());
            let off = plus(*point, towards, -1.0);
            let faces = carrier.map_or(0.0, |at| {
                let over = |face: &crate::solid::Face| dot(face.normal, *point) - face.offset;
                self.solids[at].faces.iter().map(over).fold(0.0, f64::max)
            });
            let hidden = if way.free(*point) { 0.0 } else { HIDDEN };
            faces + dot(off, off).sqrt() * MIDDLE + hidden
        };
        points
            .into_iter()
            .map(|point| (far(&point), point))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, point)| point)
    }
}

/// The middles of the flat faces of a body.
pub(crate) fn ends(solid: &Solid) -> Vec<Space> {
    let smooth = solid.faces.len() > 8;
    let faces = solid.faces.iter().filter(|face| !smooth || face.corners.len() > 4);
    faces
        .map(|face| {
            let sum =
                face.corners.iter().fold([0.0; 3], |sum, corner| plus(sum, solid.corners[*corner], 1.0));
            sum.map(|of| of / face.corners.len() as f64)
        })
        .collect()
}
