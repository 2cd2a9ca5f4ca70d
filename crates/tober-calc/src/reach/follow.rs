//! From one pose to another, break by break.

use super::answer::Stop;
use super::model::{Question, ReachError};
use crate::supports::{AnswerRef, Displacement, Load, Solver, Support};
use tober_quantity::{Force, Length, Quantity};

/// How far past a break the springs in contact are looked at, in metres: a ten-thousandth of a millimetre.
const NUDGE_M: f64 = 1e-7;
/// Nearer than this to where it goes, a way is at its end, in metres.
const THERE_M: f64 = 1e-9;
/// More breaks than this on one way and it is given up: there are at most a few for each spring.
const BREAKS_MOST: usize = 300;
/// What a load may be past its limit by rounding, as a share of the weight.
const ROUNDING: f64 = 1e-9;

/// The trailer at rest, with what every spring carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Pose {
    /// The height of the top of the hitch jack; `None` once it is taken away.
    pub jack: Option<Length>,
    /// The height of the top of each leg; `None` where it is not set.
    pub legs: Vec<Option<Length>>,
    /// How the frame lies: its plane above the datum of the pitch.
    pub lies: Displacement,
    /// What each axle carries, left and right.
    pub wheel_loads: Vec<[Force; 2]>,
    /// What the hitch jack carries.
    pub jack_load: Force,
    /// What each leg carries.
    pub leg_loads: Vec<Force>,
}

impl Pose {
    /// What all wheels carry together.
    pub fn on_wheels(&self) -> Force {
        self.wheel_loads.iter().flatten().fold(Force::ZERO, |sum, &load| sum + load)
    }
}

/// What stands where, without what it carries.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct State {
    pub jack: Option<f64>,
    pub legs: Vec<Option<f64>>,
}

/// What is wound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wound {
    Jack,
    Leg(usize),
}

/// A way as far as it goes.
pub(super) struct Track {
    /// Where it begins, its breaks, and where it ends.
    pub poses: Vec<Pose>,
    /// What stopped it before it was where it should go.
    pub stop: Option<Stop>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Slot {
    Wheel(usize, usize),
    Jack,
    Leg(usize),
}

/// The trailer of a question, with the memory of its solver.
pub(super) struct Rig<'q> {
    pub question: &'q Question,
    solver: Solver,
    springs: Vec<Support>,
    slots: Vec<Slot>,
}

impl<'q> Rig<'q> {
    pub fn new(question: &'q Question) -> Self {
        Self { question, solver: Solver::new(), springs: Vec::new(), slots: Vec::new() }
    }

    fn stand(&mut self, state: &State) {
        self.springs.clear();
        self.slots.clear();
        let question = self.question;
        let mut put = |slot, spring: &super::Spring, top: f64| {
            self.slots.push(slot);
            self.springs.push(Support {
                x: spring.x,
                y: spring.y,
                stiffness: spring.stiffness,
                gap: Length::m(-top),
            });
        };
        for (a, axle) in question.axles.iter().enumerate() {
            for (side, wheel) in axle.wheels.iter().enumerate() {
                put(Slot::Wheel(a, side), wheel, wheel.top.si());
            }
        }
        if let Some(top) = state.jack {
            put(Slot::Jack, &question.jack.lowest, top);
        }
        for (i, leg) in question.legs.iter().enumerate() {
            if let Some(top) = state.legs[i] {
                put(Slot::Leg(i), &leg.spring, top);
            }
        }
    }

    /// The pose of a state, or `None` where the frame tips or rocks.
    pub fn pose(&mut self, state: &State) -> Result<Option<Pose>, ReachError> {
        self.stand(state);
        let load: Load = self.question.load;
        let answer = self.solver.solve(&self.springs, &load).map_err(ReachError::Supports)?;
        let AnswerRef::Stands(stands) = answer else { return Ok(None) };
        if !stands.displacement.unique {
            return Ok(None);
        }
        let mut pose = Pose {
            jack: state.jack.map(Length::m),
            legs: state.legs.iter().map(|top| top.map(Length::m)).collect(),
            lies: stands.displacement,
            wheel_loads: vec![[Force::ZERO; 2]; self.question.axles.len()],
            jack_load: Force::ZERO,
            leg_loads: vec![Force::ZERO; self.question.legs.len()],
        };
        for (slot, &load) in self.slots.iter().zip(&stands.reactions) {
            match *slot {
                Slot::Wheel(a, side) => pose.wheel_loads[a][side] = load,
                Slot::Jack => pose.jack_load = load,
                Slot::Leg(i) => pose.leg_loads[i] = load,
            }
        }
        Ok(Some(pose))
    }

    /// Winds one thing from where it is to a height, and says what stopped it if anything did.
    pub fn follow(&mut self, from: &State, wound: Wound, to: f64) -> Result<Track, ReachError> {
        let mut state = from.clone();
        let Some(first) = self.pose(&state)? else {
            return Ok(Track { poses: Vec::new(), stop: Some(Stop::Rocks) });
        };
        let mut track = Track { stop: self.past(&first), poses: vec![first] };
        let mut at = height_of(&state, wound);
        while track.stop.is_none() && (to - at).abs() > THERE_M {
            if track.poses.len() > BREAKS_MOST {
                track.stop = Some(Stop::Rocks);
                break;
            }
            let way = (to - at).signum();
            let nudge = NUDGE_M.min((to - at).abs());
            set_height(&mut state, wound, at + way * nudge);
            if self.pose(&state)?.is_none() {
                track.stop = Some(Stop::Rocks);
                break;
            }
            let Some(step) = self.to_break(wound, way) else {
                track.stop = Some(Stop::Rocks);
                break;
            };
            let next = if nudge + step >= (to - at).abs() { to } else { at + way * (nudge + step) };
            set_height(&mut state, wound, next);
            let Some(pose) = self.pose(&state)? else {
                track.stop = Some(Stop::Rocks);
                break;
            };
            let last = &track.poses[track.poses.len() - 1];
            if let Some((share, stop)) = self.first_past(last, &pose) {
                track.stop = Some(stop);
                set_height(&mut state, wound, at + (next - at) * share);
                if let Some(pose) = self.pose(&state)? {
                    track.poses.push(pose);
                }
                break;
            }
            track.poses.push(pose);
            at = next;
        }
        Ok(track)
    }

    /// How far it can be wound on from the pose last solved before a spring comes into contact or leaves it: within one
    /// set everything is linear, `dq = M^-1 k a` with `M = sum k a a^T` over the springs in contact.
    fn to_break(&self, wound: Wound, way: f64) -> Option<f64> {
        let stands = self.solver.last();
        let lies = stands.displacement;
        let pressed = |s: &Support| -lies.at(s.x, s.y).si() - s.gap.si();
        let in_contact: Vec<bool> = stands.reactions.iter().map(|r| r.si() > 0.0).collect();
        let mut m = [[0.0; 3]; 3];
        let mut right = [0.0; 3];
        for (i, s) in self.springs.iter().enumerate().filter(|&(i, _)| in_contact[i]) {
            let a = arm(s);
            for r in 0..3 {
                for c in 0..3 {
                    m[r][c] += s.stiffness.si() * a[r] * a[c];
                }
            }
            if is_wound(self.slots[i], wound) {
                right = a.map(|part| part * s.stiffness.si() * way);
            }
        }
        let rate = solve_3(m, right)?;
        let mut step = f64::INFINITY;
        for (i, s) in self.springs.iter().enumerate() {
            let a = arm(s);
            let up = rate[0] * a[0] + rate[1] * a[1] + rate[2] * a[2];
            let own = if is_wound(self.slots[i], wound) { way } else { 0.0 };
            let change = own - up;
            // Rounding leaves a rate where nothing changes.
            if change.abs() < 1e-12 || (change < 0.0) != in_contact[i] {
                continue;
            }
            step = step.min((pressed(s) / -change).max(0.0));
        }
        Some(step)
    }

    /// By how much every limit is kept, with what stops there; below zero it is past.
    fn kept(&self, pose: &Pose) -> Vec<(f64, Stop)> {
        let question = self.question;
        let mut kept = Vec::new();
        if let Some(rated) = question.jack.rated {
            kept.push(((rated - pose.jack_load).si(), Stop::JackLoad));
        }
        for (a, axle) in question.axles.iter().enumerate() {
            if let Some(rated) = axle.rated {
                let load = pose.wheel_loads[a][0] + pose.wheel_loads[a][1];
                kept.push(((rated - load).si(), Stop::AxleLoad(a)));
            }
        }
        for (i, leg) in question.legs.iter().enumerate() {
            match (pose.legs[i], leg.rated, leg.drawn_up) {
                (Some(_), Some(rated), _) => kept.push(((rated - pose.leg_loads[i]).si(), Stop::LegLoad(i))),
                (None, _, Some(touches)) => {
                    let over = pose.lies.at(leg.spring.x, leg.spring.y) - touches;
                    // A length beside forces: only its sign and its zero count.
                    kept.push((over.si() * question.load.down.si(), Stop::DrawnUp(i)));
                }
                _ => {}
            }
        }
        kept
    }

    /// The limit that a pose is past, if any.
    pub fn past(&self, pose: &Pose) -> Option<Stop> {
        let rounding = ROUNDING * self.question.load.down.si();
        self.kept(pose).into_iter().find(|(kept, _)| *kept < -rounding).map(|(_, stop)| stop)
    }

    /// Where between two poses of one set of springs the first limit is met, as a share of the way.
    fn first_past(&self, from: &Pose, to: &Pose) -> Option<(f64, Stop)> {
        let rounding = ROUNDING * self.question.load.down.si();
        let mut first: Option<(f64, Stop)> = None;
        for ((a, stop), (b, _)) in self.kept(from).into_iter().zip(self.kept(to)) {
            if b < -rounding && b < a {
                let share = (a.max(0.0) / (a.max(0.0) - b)).clamp(0.0, 1.0);
                if first.is_none_or(|(least, _)| share < least) {
                    first = Some((share, stop));
                }
            }
        }
        first
    }
}

fn arm(s: &Support) -> [f64; 3] {
    [1.0, s.y.si(), -s.x.si()]
}

fn is_wound(slot: Slot, wound: Wound) -> bool {
    match (slot, wound) {
        (Slot::Jack, Wound::Jack) => true,
        (Slot::Leg(i), Wound::Leg(j)) => i == j,
        _ => false,
    }
}

fn height_of(state: &State, wound: Wound) -> f64 {
    match wound {
        Wound::Jack => state.jack.unwrap_or(0.0),
        Wound::Leg(i) => state.legs[i].unwrap_or(0.0),
    }
}

fn set_height(state: &mut State, wound: Wound, height: f64) {
    match wound {
        Wound::Jack => state.jack = Some(height),
        Wound::Leg(i) => state.legs[i] = Some(height),
    }
}

/// Three equations by elimination with the greatest pivot; `None` where they do not settle it.
fn solve_3(mut m: [[f64; 3]; 3], mut b: [f64; 3]) -> Option<[f64; 3]> {
    let size = m.iter().flatten().fold(0.0_f64, |most, v| most.max(v.abs()));
    for col in 0..3 {
        let pivot = (col..3).max_by(|&p, &q| m[p][col].abs().total_cmp(&m[q][col].abs()))?;
        if m[pivot][col].abs() <= size * 1e-14 {
            return None;
        }
        m.swap(col, pivot);
        b.swap(col, pivot);
        for row in col + 1..3 {
            let f = m[row][col] / m[col][col];
            let above = m[col];
            for (value, above) in m[row].iter_mut().zip(above) {
                *value -= f * above;
            }
            b[row] -= f * b[col];
        }
    }
    let z = b[2] / m[2][2];
    let y = (b[1] - m[1][2] * z) / m[1][1];
    Some([(b[0] - m[0][1] * y - m[0][2] * z) / m[0][0], y, z])
}

/// Ends a way of the hitch jack where it first carries nothing; a stop before that stays.
pub(super) fn cut_where_unloaded(track: &mut Track) {
    match track.poses.iter().position(|pose| pose.jack_load <= Force::ZERO) {
        Some(at) => {
            track.poses.truncate(at + 1);
            track.stop = None;
        }
        None => track.stop = track.stop.or(Some(Stop::JackShortest)),
    }
}

#[cfg(test)]
#[path = "follow_tests.rs"]
mod tests;
