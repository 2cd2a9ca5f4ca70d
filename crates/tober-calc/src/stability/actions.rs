//! What acts on the ride about one edge, each action as a wave over the turntable's angle.

use super::factors::FactorSet;
use super::guys::pulls;
use super::hull::Edge;
use super::ride::{Body, CarriedBy, InWind, Seat};
use super::seats::turning_wave;
use super::situation::{Aboard, StabilityInput};
use super::sweep::{Part, Wave};
use tober_quantity::{Force, Mass, Quantity, maths};

/// What kind of action it is, which decides its factor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ActionKind {
    /// The weight of a body.
    Weight,
    /// Riders, with what turning does to them.
    Riders,
    /// What turning does to bodies that are not in balance.
    OutOfBalance,
    /// Wind against a face.
    Wind,
    /// Lift of the wind under a roof.
    Lift,
    /// The pull of a guy.
    Guy,
}

/// An action about an edge. Its moment is load · wave, positive where it tips.
pub(super) struct Action {
    pub kind: ActionKind,
    /// Of what, by its place in the list of bodies or seats.
    pub of: usize,
    /// Moment in N m for each unit of load.
    pub wave: Wave,
    /// Load and factor while it tips.
    pub tips: (f64, f64),
    /// Load and factor while it holds.
    pub holds: (f64, f64),
}

impl Action {
    /// As a part of the sum "tipping − ratio × holding".
    pub fn part(&self, ratio: f64) -> Part {
        Part {
            wave: self.wave,
            when_positive: self.tips.0 * self.tips.1,
            when_negative: ratio * self.holds.0 * self.holds.1,
        }
    }
}

/// What is the same for every action about one edge.
pub(super) struct Edging<'a> {
    pub input: &'a StabilityInput,
    pub edge: &'a Edge,
    pub set: &'a FactorSet,
    /// Square of the turning speed, (rad/s)²; nothing at rest.
    pub speed_squared: f64,
}

impl Edging<'_> {
    /// Every action. What is not known must have been asked for before; it adds nothing here.
    pub fn actions(&self) -> Vec<Action> {
        let mut actions = Vec::new();
        for (of, body) in self.input.bodies.iter().enumerate() {
            actions.push(self.weight(of, body));
        }
        if self.input.situation.aboard() != Aboard::Nobody {
            let seats = self.input.seats.iter().flatten().enumerate();
            actions.extend(seats.map(|(of, seat)| self.riders(of, seat)));
        }
        if self.speed_squared > 0.0 {
            self.out_of_balance(&mut actions);
        }
        if let Some(wind) = self.input.wind.filter(|_| self.input.situation.in_wind()) {
            for (of, body) in self.input.bodies.iter().enumerate() {
                self.wind(of, body, wind.pressure.si(), &mut actions);
            }
        }
        self.guys(&mut actions);
        actions
    }

    /// Each guy as it pulls when the ride begins to turn over the edge. Its strength has its own factor.
    fn guys(&self, actions: &mut Vec<Action>) {
        let ropes = self.input.ropes();
        let (out_x, out_y) = self.outward();
        let lever = |rope: &super::guys::Rope| {
            let (x, y, z) = rope.from;
            let inside_m = self.edge.inside_m(x, y) - self.tilted_m(z);
            let out = rope.towards.0 * out_x + rope.towards.1 * out_y;
            -rope.towards.2 * inside_m - out * (z - self.edge.height_m)
        };
        let levers: Vec<f64> = ropes.iter().map(lever).collect();
        for (of, (pull, lever)) in pulls(&ropes, &levers).into_iter().zip(levers).enumerate() {
            let load = (pull, 1.0);
            actions.push(Action {
                kind: ActionKind::Guy,
                of,
                wave: Wave::still(-lever),
                tips: load,
                holds: load,
            });
        }
    }

    fn outward(&self) -> (f64, f64) {
        (-self.edge.inward.0, -self.edge.inward.1)
    }

    /// How much further out a thing of this height comes when the frame tilts out over the edge, for each metre.
    fn tilted_m(&self, z_m: f64) -> f64 {
        let Some(tilt) = self.input.tilt else { return 0.0 };
        let (out_x, out_y) = self.outward();
        let slope = out_x.abs() * tilt.along.si() + out_y.abs() * tilt.across.si();
        slope * (z_m - self.edge.height_m).max(0.0)
    }

    fn axis(&self) -> (f64, f64) {
        self.input.turntable.as_ref().map_or((0.0, 0.0), |turntable| (turntable.x.si(), turntable.y.si()))
    }

    /// The part of the outward direction in which what turns goes round.
    fn goes(&self) -> (f64, f64) {
        let outward = self.outward();
        self.input.turntable.as_ref().map_or(outward, |turntable| turntable.goes(outward))
    }

    fn turns(&self, body: &Body) -> bool {
        body.carried_by == CarriedBy::Turntable
            && self.input.situation != super::situation::Situation::Uncoupled
    }

    /// How far outside the edge a body's place is, in m.
    fn outside(&self, body: &Body) -> Wave {
        let (x, y) = (body.x.si(), body.y.si());
        if !self.turns(body) {
            return Wave::still(-self.edge.inside_m(x, y));
        }
        let (axis_x, axis_y) = self.axis();
        let (dx, dy) = (x - axis_x, y - axis_y);
        let (out_x, out_y) = self.outward();
        let influence = (-self.edge.origin_m, out_x, out_y);
        turning_wave(influence, self.goes(), (axis_x, axis_y), maths::atan2(dy, dx), maths::hypot(dx, dy))
    }

    fn weight(&self, of: usize, body: &Body) -> Action {
        let lever = self.outside(body).plus(Wave::still(1.0), self.tilted_m(body.z.si()));
        Action {
            kind: ActionKind::Weight,
            of,
            wave: lever.times(Force::weight(Mass::kg(1.0)).si()),
            tips: (body.mass.high().si(), self.set.permanent_unfavourable.si()),
            holds: (body.mass.low().si(), self.set.permanent_favourable.si()),
        }
    }

    fn riders(&self, of: usize, seat: &Seat) -> Action {
        let (out_x, out_y) = self.outward();
        let z_m = seat.z.map_or(0.0, Quantity::si);
        let turning = self.speed_squared > 0.0;
        let radius_m = seat.radius_at_speed().filter(|_| turning).unwrap_or(seat.radius).si();
        let angle = seat.angle.si();
        let influence = (-self.edge.origin_m, out_x, out_y);
        let lever = turning_wave(influence, self.goes(), self.axis(), angle, radius_m)
            .plus(Wave::still(1.0), self.tilted_m(z_m));
        let swung = turning_wave((0.0, out_x, out_y), (out_x, out_y), (0.0, 0.0), angle, radius_m);
        let height_m = z_m - self.edge.height_m;
        let load_kg = seat.load().map_or(0.0, Quantity::si);
        let holds_kg = if self.input.situation.aboard() == Aboard::Everybody { load_kg } else { 0.0 };
        Action {
            kind: ActionKind::Riders,
            of,
            wave: lever.times(Force::weight(Mass::kg(1.0)).si()).plus(swung, self.speed_squared * height_m),
            tips: (load_kg, self.set.other_variable.si()),
            holds: (holds_kg, self.set.permanent_favourable.si()),
        }
    }

    /// The bodies of a turntable pull outwards all at once, so the sum of their stated masses is one action;
    /// what each mass may be off by is an action of its own, either way. What would help is not counted.
    fn out_of_balance(&self, actions: &mut Vec<Action>) {
        let (out_x, out_y) = self.outward();
        let (axis_x, axis_y) = self.axis();
        let factor = self.set.other_variable.si();
        let mut sum = Wave::default();
        for (of, body) in self.input.bodies.iter().enumerate().filter(|(_, body)| self.turns(body)) {
            let (dx, dy) = (body.x.si() - axis_x, body.y.si() - axis_y);
            let (angle, radius_m) = (maths::atan2(dy, dx), maths::hypot(dx, dy));
            let height_m = body.z.si() - self.edge.height_m;
            let wave = turning_wave((0.0, out_x, out_y), (out_x, out_y), (0.0, 0.0), angle, radius_m)
                .times(self.speed_squared * height_m);
            sum = sum.plus(wave, body.mass.value.si());
            let off_by = body.mass.off_by.si();
            for way in [1.0, -1.0] {
                actions.push(Action {
                    kind: ActionKind::OutOfBalance,
                    of,
                    wave: wave.times(way),
                    tips: (off_by, factor),
                    holds: (0.0, 0.0),
                });
            }
        }
        actions.push(Action {
            kind: ActionKind::OutOfBalance,
            of: usize::MAX,
            wave: sum,
            tips: (1.0, factor),
            holds: (0.0, 0.0),
        });
    }

    fn wind(&self, of: usize, body: &Body, pressure_pa: f64, actions: &mut Vec<Action>) {
        let InWind::Face { drag_area_along, drag_area_across, lift_area, pressure_height } = body.wind else {
            return;
        };
        let (out_x, out_y) = self.outward();
        let (along_m2, across_m2) = (drag_area_along.si(), drag_area_across.si());
        // Wind from any side pushes at most with each area along its own axis, so the two together bound a
        // slanting wind; a part that turns can show the edge any mixture of the two.
        let area_m2 = if self.turns(body) {
            maths::hypot(along_m2, across_m2)
        } else {
            out_x.abs() * along_m2 + out_y.abs() * across_m2
        };
        let lever_m = (pressure_height.si() - self.edge.height_m).max(0.0);
        let tips = (pressure_pa, self.set.wind.si());
        let holds = (0.0, 0.0);
        let wave = Wave::still(area_m2 * lever_m);
        actions.push(Action { kind: ActionKind::Wind, of, wave, tips, holds });
        // Lift inside the edge tips; lift outside it would help, and is not counted.
        let wave = self.outside(body).times(-lift_area.si());
        actions.push(Action { kind: ActionKind::Lift, of, wave, tips, holds });
    }
}
