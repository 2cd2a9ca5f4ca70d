//! The search over sets of legs and heights of the hitch jack.

use super::answer::{Because, Doing, Miss, Outcome, Sequence, Step, Stop};
use super::follow::{Pose, Rig, State, Wound, cut_where_unloaded};
use super::model::{Question, ReachError, Way};
use tober_quantity::{Length, Quantity};

/// The most times the hitch jack or a screw is wound in a sequence: more and no crew follows it. Ours.
pub const POSES_MOST: usize = 40;
/// The most sets of legs with an interval of the hitch jack that are looked at. Eight legs have at most 256 sets.
pub const BUDGET: usize = 600;
/// How far past the least height the crew is sent, where there is room: what a reading may be off. Ours.
const MARGIN_M: f64 = 0.020;
/// How far one screw is wound before the next one is: more, and the frame is twisted that the others hold. Ours.
const ROUND_MOST_M: f64 = 0.05;
/// Heights nearer than this are one, in metres.
const SAME_M: f64 = 1e-7;

/// Heights of the hitch jack that will do: from, to.
type Window = (f64, f64);

/// Everything the hitch jack reaches with the same legs set.
struct Reach {
    /// By rising height of the hitch jack.
    poses: Vec<Pose>,
    down: Stop,
    up: Stop,
}

struct Search<'q> {
    rig: Rig<'q>,
    question: &'q Question,
    left: usize,
    /// Legs that are set and where, with the lowest height of the interval: nothing comes of these.
    dead: Vec<(Vec<Option<f64>>, f64, f64)>,
    best: Option<Miss>,
    exact: bool,
    steps: Vec<Step>,
    set: Vec<usize>,
}

/// Finds a way onto the legs, the maker's order first.
///
/// At most `budget` sets of legs with an interval of heights are looked at, and at most [`POSES_MOST`] windings are made.
///
/// # Errors
/// Where the question is refused, or the calculation of support loads refuses a spring or the load.
pub fn solve(question: &Question, budget: usize) -> Result<Outcome, ReachError> {
    question.check()?;
    let mut search = Search {
        rig: Rig::new(question),
        question,
        left: budget,
        dead: Vec::new(),
        best: None,
        exact: true,
        steps: Vec::new(),
        set: Vec::new(),
    };
    let (least, most) = question.jack_ends();
    let start = State {
        jack: Some(question.jack.start.max(least).min(most).si()),
        legs: vec![None; question.legs.len()],
    };
    let first = search.rig.pose(&start)?;
    let past = first.as_ref().map_or(Some(Stop::Rocks), |pose| search.rig.past(pose));
    let (Some(first), None) = (first, past) else {
        let stop = past.unwrap_or(Stop::Rocks);
        let because = Because { up: stop, down: stop };
        let miss = Miss { set: Vec::new(), leg: None, by: Length::ZERO, because };
        return Ok(Outcome::Missed { miss, proved: true });
    };
    if search.go(&start)? {
        let makers_order = search.set.windows(2).all(|pair| pair[0] < pair[1]);
        return Ok(Outcome::Reached(Sequence { start: first, steps: search.steps, makers_order }));
    }
    let stop = Stop::Rocks;
    let nothing =
        Miss { set: Vec::new(), leg: None, by: Length::ZERO, because: Because { up: stop, down: stop } };
    let proved = search.exact && search.left > 0;
    Ok(Outcome::Missed { miss: search.best.unwrap_or(nothing), proved })
}

impl Search<'_> {
    fn go(&mut self, state: &State) -> Result<bool, ReachError> {
        if self.left == 0 {
            return Ok(false);
        }
        self.left -= 1;
        if self.set.len() == self.question.legs.len() {
            return self.finish(state);
        }
        let reach = self.explore(state)?;
        let (least, most) = ends(&reach.poses);
        for leg in 0..self.question.legs.len() {
            if state.legs[leg].is_none() && self.try_leg(state, leg, &reach)? {
                return Ok(true);
            }
        }
        self.note_miss(state, &reach);
        if self.lift_then_go(state)? {
            return Ok(true);
        }
        self.dead.push((state.legs.clone(), least, most));
        Ok(false)
    }

    /// Whether this set of legs was left without a way from an interval that holds this height.
    fn is_dead(&self, state: &State) -> bool {
        let jack = state.jack.unwrap_or(0.0);
        let same = |legs: &[Option<f64>]| {
            legs.iter().zip(&state.legs).all(|(a, b)| match (a, b) {
                (Some(a), Some(b)) => (a - b).abs() < SAME_M,
                (None, None) => true,
                _ => false,
            })
        };
        self.dead
            .iter()
            .any(|(legs, least, most)| same(legs) && jack >= least - SAME_M && jack <= most + SAME_M)
    }

    fn explore(&mut self, state: &State) -> Result<Reach, ReachError> {
        let (lowest, highest) = self.question.jack_ends();
        let down = self.rig.follow(state, Wound::Jack, lowest.si())?;
        let up = self.rig.follow(state, Wound::Jack, highest.si())?;
        let mut poses = down.poses;
        poses.reverse();
        poses.extend(up.poses.into_iter().skip(1));
        Ok(Reach {
            poses,
            down: down.stop.unwrap_or(Stop::JackShortest),
            up: up.stop.unwrap_or(Stop::JackLongest),
        })
    }

    fn over(&self, pose: &Pose, leg: usize) -> f64 {
        let spring = &self.question.legs[leg].spring;
        pose.lies.at(spring.x, spring.y).si()
    }

    fn highest(&self, reach: &Reach, leg: usize) -> f64 {
        reach.poses.iter().map(|pose| self.over(pose, leg)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The heights of the hitch jack at which the frame over a leg is at least so high, nearest first.
    fn windows(&self, leg: usize, wants: f64, reach: &Reach, from: f64) -> Vec<Window> {
        let point = |pose: &Pose| (jack_of(pose), self.over(pose, leg) - wants);
        let mut windows: Vec<Window> = Vec::new();
        let mut put = |a: f64, b: f64| match windows.last_mut() {
            Some(last) if a <= last.1 + SAME_M => last.1 = b,
            _ => windows.push((a, b)),
        };
        if let [only] = reach.poses.as_slice() {
            let (at, over) = point(only);
            if over >= 0.0 {
                put(at, at);
            }
        }
        for pair in reach.poses.windows(2) {
            let ((a, over_a), (b, over_b)) = (point(&pair[0]), point(&pair[1]));
            let crossing = a + (b - a) * (over_a / (over_a - over_b));
            match (over_a >= 0.0, over_b >= 0.0) {
                (true, true) => put(a, b),
                (true, false) => put(a, crossing),
                (false, true) => put(crossing, b),
                (false, false) => {}
            }
        }
        let away = |w: &Window| (w.0 - from).max(from - w.1).max(0.0);
        windows.sort_by(|one, other| away(one).total_cmp(&away(other)));
        windows
    }

    fn try_leg(&mut self, state: &State, leg: usize, reach: &Reach) -> Result<bool, ReachError> {
        let from = state.jack.unwrap_or(0.0);
        let of = &self.question.legs[leg];
        // In a window the leg carries nothing, so every height of it leads to one interval with the leg set, and one
        // height stands for all. A screw set below its length carries as it is wound: then first where it touches, next
        // where it can be wound to its length at once.
        let mut floors = vec![of.wants().si()];
        if matches!(of.way, Way::Screw { .. }) {
            floors.push(of.spring.top.si());
        }
        for floor in floors {
            for window in self.windows(leg, floor, reach, from) {
                let shared = self.shared(state, leg, window, reach, from);
                if self.set_in(state, leg, shared, reach)? {
                    return Ok(true);
                }
            }
        }
        Ok(false)
    }

    /// The part of a window in which the legs that follow in the maker's order can be set as well, as many as go.
    fn shared(&self, state: &State, leg: usize, window: Window, reach: &Reach, from: f64) -> Window {
        let mut shared = window;
        for next in leg + 1..self.question.legs.len() {
            if state.legs[next].is_some() {
                continue;
            }
            let meets = self
                .windows(next, self.question.legs[next].wants().si(), reach, from)
                .into_iter()
                .find_map(|(a, b)| {
                    let both = (a.max(shared.0), b.min(shared.1));
                    (both.0 <= both.1).then_some(both)
                });
            let Some(both) = meets else { break };
            shared = both;
        }
        shared
    }

    /// Winds the hitch jack into a window, sets the leg and goes on; takes both back where nothing comes of it.
    fn set_in(
        &mut self,
        state: &State,
        leg: usize,
        window: Window,
        reach: &Reach,
    ) -> Result<bool, ReachError> {
        let from = state.jack.unwrap_or(0.0);
        let (steps, set) = (self.steps.len(), self.set.len());
        let arrived = steps > 0 && from >= window.0 - SAME_M && from <= window.1 + SAME_M;
        let to = if arrived { from } else { self.height_in(window, from) };
        let mut next = state.clone();
        if (to - from).abs() > SAME_M {
            if self.wound() >= POSES_MOST {
                self.exact = false;
                return Ok(false);
            }
            let track = self.rig.follow(state, Wound::Jack, to)?;
            if track.stop.is_some() {
                return Ok(false);
            }
            next.jack = Some(to);
            let (least, most) = (Length::m(window.0), Length::m(window.1));
            let doing = Doing::Jack { to: Length::m(to), least, most };
            self.steps.push(Step { doing, poses: track.poses.into_iter().skip(1).collect() });
        }
        let Some(pose) = self.rig.pose(&next)? else {
            self.steps.truncate(steps);
            return Ok(false);
        };
        let of = &self.question.legs[leg];
        let (over, seat) = (self.over(&pose, leg), of.spring.top.si());
        let top = if matches!(of.way, Way::Screw { .. }) { seat.min(over) } else { seat };
        if top < seat {
            self.exact = false;
        }
        next.legs[leg] = Some(top);
        let done = match self.rig.pose(&next)? {
            Some(pose) if !self.is_dead(&next) && self.rig.past(&pose).is_none() => {
                let highest = self.highest(reach, leg);
                let (clear, room) = (Length::m(over - seat), Length::m(highest - seat));
                let doing = Doing::Set { leg, top: Length::m(top), clear, room };
                self.steps.push(Step { doing, poses: vec![pose] });
                self.set.push(leg);
                self.go(&next)?
            }
            _ => false,
        };
        if !done {
            self.steps.truncate(steps);
            self.set.truncate(set);
        }
        Ok(done)
    }

    fn wound(&self) -> usize {
        self.steps.iter().filter(|step| !matches!(step.doing, Doing::Set { .. })).count()
    }

    /// The height to go to in a window: a little past its nearer end, or its middle where it is narrow, on a whole
    /// millimetre above the ground under the hitch jack where one lies inside.
    fn height_in(&self, (least, most): Window, from: f64) -> f64 {
        let margin = MARGIN_M.min((most - least) / 2.0);
        let to = from.max(least + margin).min(most - margin);
        let ground = self.question.jack.ground.si();
        let whole = ground + ((to - ground) * 1000.0).round() / 1000.0;
        if whole >= least && whole <= most { whole } else { to.max(least).min(most) }
    }

    /// Winds the screws that are set to their planned length, in as few even rounds as go.
    fn lift(&mut self, state: &State) -> Result<Option<State>, ReachError> {
        let low: Vec<(usize, f64, f64)> = (0..self.question.legs.len())
            .filter_map(|leg| {
                let (top, seat) = (state.legs[leg]?, self.question.legs[leg].spring.top.si());
                (top < seat - SAME_M).then_some((leg, top, seat))
            })
            .collect();
        let before = self.steps.len();
        let most = POSES_MOST.saturating_sub(self.wound());
        let farthest = low.iter().map(|&(_, top, seat)| seat - top).fold(0.0, f64::max);
        let fewest = (farthest / ROUND_MOST_M).ceil().max(1.0) as u32;
        let tried = [fewest, fewest * 2, fewest * 4];
        for rounds in tried.into_iter().filter(|&rounds| rounds as usize * low.len() <= most) {
            let mut now = state.clone();
            let mut all = true;
            'wind: for round in 1..=rounds {
                for &(leg, top, seat) in &low {
                    let to = if round == rounds {
                        seat
                    } else {
                        top + (seat - top) * f64::from(round) / f64::from(rounds)
                    };
                    let track = self.rig.follow(&now, Wound::Leg(leg), to)?;
                    if track.stop.is_some() {
                        all = false;
                        break 'wind;
                    }
                    now.legs[leg] = Some(to);
                    let doing = Doing::Wind { leg, to: Length::m(to) };
                    self.steps.push(Step { doing, poses: track.poses.into_iter().skip(1).collect() });
                }
            }
            if all {
                return Ok(Some(now));
            }
            self.steps.truncate(before);
        }
        Ok(None)
    }

    fn has_low_screw(&self, state: &State) -> bool {
        self.question
            .legs
            .iter()
            .zip(&state.legs)
            .any(|(leg, top)| top.is_some_and(|top| top < leg.spring.top.si() - SAME_M))
    }

    fn lift_then_go(&mut self, state: &State) -> Result<bool, ReachError> {
        if !self.has_low_screw(state) {
            return Ok(false);
        }
        let before = self.steps.len();
        if let Some(next) = self.lift(state)?
            && !self.is_dead(&next)
            && self.go(&next)?
        {
            return Ok(true);
        }
        self.steps.truncate(before);
        Ok(false)
    }

    /// All legs are set: the screws are wound to their length and the hitch jack is taken out.
    fn finish(&mut self, state: &State) -> Result<bool, ReachError> {
        let before = self.steps.len();
        let mut now = state.clone();
        if self.has_low_screw(state) {
            match self.lift(state)? {
                Some(lifted) => now = lifted,
                None => return Ok(false),
            }
        }
        let mut track = self.rig.follow(&now, Wound::Jack, self.question.jack_ends().0.si())?;
        cut_where_unloaded(&mut track);
        let stop = match track.stop {
            None => {
                now.jack = None;
                let pose = self.rig.pose(&now)?;
                let past = pose.as_ref().map_or(Some(Stop::Rocks), |pose| self.rig.past(pose));
                if let (Some(pose), None) = (pose, past) {
                    let mut poses: Vec<Pose> = track.poses.into_iter().skip(1).collect();
                    poses.push(pose);
                    self.steps.push(Step { doing: Doing::Off, poses });
                    return Ok(true);
                }
                past.unwrap_or(Stop::Rocks)
            }
            Some(stop) => stop,
        };
        self.steps.truncate(before);
        let because = Because { up: stop, down: stop };
        self.keep(Miss { set: self.set.clone(), leg: None, by: Length::ZERO, because });
        Ok(false)
    }

    fn note_miss(&mut self, state: &State, reach: &Reach) {
        for leg in (0..self.question.legs.len()).filter(|&leg| state.legs[leg].is_none()) {
            let wants = self.question.legs[leg].wants().si();
            let by = Length::m(wants - self.highest(reach, leg));
            if by > Length::ZERO {
                let because = Because { up: reach.up, down: reach.down };
                self.keep(Miss { set: self.set.clone(), leg: Some(leg), by, because });
            }
        }
    }

    /// Keeps the miss that tells a crew most: in the maker's order before any other, then with most legs set, then the least.
    fn keep(&mut self, miss: Miss) {
        let rank = |miss: &Miss| {
            let order = miss.set.iter().chain(&miss.leg);
            (order.enumerate().all(|(at, &leg)| at == leg), miss.set.len())
        };
        let better = self.best.as_ref().is_none_or(|best| {
            let (this, that) = (rank(&miss), rank(best));
            this > that || (this == that && miss.by < best.by)
        });
        if better {
            self.best = Some(miss);
        }
    }
}

fn jack_of(pose: &Pose) -> f64 {
    pose.jack.unwrap_or(Length::ZERO).si()
}

fn ends(poses: &[Pose]) -> (f64, f64) {
    let end = |pose: Option<&Pose>| pose.map_or(0.0, jack_of);
    (end(poses.first()), end(poses.last()))
}
