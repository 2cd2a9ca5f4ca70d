//! Is there a change of at most so many legs, so many boards handled, so far up or down?
//!
//! First it is settled leg by leg which stay: the planes are clipped by what stands there, and a leg that
//! no plane left can lie on must change. Then the legs that change take what the planes leave them, the
//! one with the fewest ways first. Every cut is a relaxation; a full set is decided in whole numbers.

use super::super::model::Problem;
use super::super::plane::{self, Bound};
use super::super::polytope::{FAT, Gauge, Keep, Polytope};
use super::super::search::{FAR, fixed_bounds, gauges};
use super::options::{Choices, Group};

/// What one question allows.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// The most legs changed.
    pub legs: usize,
    /// The most boards handled.
    pub handled: u32,
    /// The farthest that a leg with holes goes up or down.
    pub far: i64,
}

/// What one leg does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Does {
    /// It stays.
    Stays,
    /// It changes to a way of a group.
    Changes { group: usize, way: usize },
}

/// How the question was answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    /// What each leg does; verified in whole numbers.
    Found(Vec<Does>),
    /// There is none.
    None,
    /// The work allowed ran out.
    OutOfWork,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Leg {
    Open,
    Stays,
    /// Changes, not yet settled to what.
    Changes,
    To(usize),
}

/// A test of a set besides the planes, by the two ends of what each top can be set to.
pub(super) type Also<'a> = dyn Fn(&[(i64, i64)]) -> bool + 'a;

/// A trim made ready for many questions.
pub(super) struct Engine<'a> {
    pub problem: &'a Problem,
    /// The height at which each top stands.
    pub tops: Vec<i64>,
    pub choices: Vec<Choices>,
    /// Planarity and slopes that are allowed once what a reading may be off by is taken off.
    pub slack: i64,
    pub slopes: (i64, i64),
    /// How much farther the top of one support may be from the plane than the others.
    pub extra: Vec<i64>,
    /// Whether a set in which nothing changes is an answer.
    pub all_may_stay: bool,
    /// What a set must pass besides the planes.
    pub also: &'a Also<'a>,
    pub work: u64,
    pub work_most: u64,
    gauges: Vec<Gauge>,
    fixed: Vec<Bound>,
    legs: Vec<Leg>,
}

impl<'a> Engine<'a> {
    pub fn new(
        problem: &'a Problem,
        tops: Vec<i64>,
        choices: Vec<Choices>,
        slack: i64,
        slopes: (i64, i64),
        also: &'a Also<'a>,
    ) -> Self {
        let legs = vec![Leg::Open; tops.len()];
        Self {
            problem,
            extra: vec![0; tops.len()],
            all_may_stay: false,
            tops,
            choices,
            slack,
            slopes,
            also,
            work: 0,
            work_most: 0,
            gauges: gauges(problem),
            fixed: fixed_bounds(problem).collect(),
            legs,
        }
    }

    /// Answers one question.
    pub fn ask(&mut self, limits: &Limits) -> Verdict {
        self.legs.fill(Leg::Open);
        let Some(polytope) = self.root(limits) else { return Verdict::None };
        self.settle_stays(&polytope, limits)
    }

    fn slack(&self, place: usize) -> i64 {
        self.slack + self.extra[place]
    }

    /// All planes that the slopes, the clearances and the whole reach of every leg leave.
    fn root(&self, limits: &Limits) -> Option<Polytope> {
        let reach = |place: usize| {
            let choices = &self.choices[place];
            let groups = choices.groups.iter().filter(|group| within(group, limits));
            let ends = groups.map(|group| (group.low, group.high));
            let ends = ends.chain(choices.may_stay.then_some((0, 0)));
            let (low, high) = ends.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
            let slack = self.slack(place);
            Some(((self.tops[place] + low - slack) as f64, (self.tops[place] + high + slack) as f64))
        };
        let mut polytope = Polytope::default();
        polytope.start(reach(0)?, self.slopes.0 as f64, self.slopes.1 as f64);
        for place in 1..self.tops.len() {
            let (low, high) = reach(place)?;
            let kept = polytope.clip(place, self.gauges[place], low, Keep::Above)
                && polytope.clip(place, self.gauges[place], high, Keep::Below);
            if !kept {
                return None;
            }
        }
        for (point, bound) in self.fixed.iter().enumerate() {
            let place = self.tops.len() + point;
            let gauge = self.gauges[place];
            let kept = (bound.low <= -FAR / 2 || polytope.clip(place, gauge, bound.low as f64, Keep::Above))
                && (bound.high >= FAR / 2 || polytope.clip(place, gauge, bound.high as f64, Keep::Below));
            if !kept {
                return None;
            }
        }
        Some(polytope)
    }

    /// How far up or down the planes let the top of a support go.
    fn window(&self, polytope: &Polytope, place: usize) -> (f64, f64) {
        let (low, high) = polytope.heights(self.gauges[place]);
        let reach = self.slack(place) as f64 + 4.0 * FAT;
        (low - reach - self.tops[place] as f64, high + reach - self.tops[place] as f64)
    }

    fn clip(&self, polytope: &mut Polytope, place: usize, low: i64, high: i64) -> bool {
        let (top, slack, gauge) = (self.tops[place], self.slack(place), self.gauges[place]);
        polytope.clip(place, gauge, (top + low - slack) as f64, Keep::Above)
            && polytope.clip(place, gauge, (top + high + slack) as f64, Keep::Below)
    }

    fn out_of_work(&mut self) -> bool {
        self.work += 1;
        self.work > self.work_most
    }

    /// Settles which legs stay. Depth is bounded by the number of legs.
    fn settle_stays(&mut self, polytope: &Polytope, limits: &Limits) -> Verdict {
        if self.out_of_work() {
            return Verdict::OutOfWork;
        }
        let before = self.legs.clone();
        let verdict = self.settle_stays_here(polytope, limits);
        if !matches!(verdict, Verdict::Found(_)) {
            self.legs = before;
        }
        verdict
    }

    fn settle_stays_here(&mut self, polytope: &Polytope, limits: &Limits) -> Verdict {
        for place in 0..self.legs.len() {
            if self.legs[place] != Leg::Open {
                continue;
            }
            let (low, high) = self.window(polytope, place);
            if !self.choices[place].may_stay || low > 0.0 || high < 0.0 {
                self.legs[place] = Leg::Changes;
            }
        }
        let changing = self.legs.iter().filter(|leg| **leg == Leg::Changes).count();
        if changing > limits.legs {
            return Verdict::None;
        }
        let Some(place) = self.legs.iter().position(|leg| *leg == Leg::Open) else {
            return self.settle_changes(polytope, limits, limits.handled);
        };
        if self.least_handled(polytope, limits).is_none_or(|least| least > limits.handled) {
            return Verdict::None;
        }
        let mut clipped = polytope.clone();
        self.legs[place] = Leg::Stays;
        let mut verdict = Verdict::None;
        if self.clip(&mut clipped, place, 0, 0) {
            verdict = self.settle_stays(&clipped, limits);
        }
        if verdict != Verdict::None || changing == limits.legs {
            return verdict;
        }
        self.legs[place] = Leg::Changes;
        self.settle_stays(polytope, limits)
    }

    /// The groups of a leg that the planes and the limits leave, by their places.
    fn left<'b>(
        &'b self,
        polytope: &Polytope,
        place: usize,
        limits: &'b Limits,
        handled: u32,
    ) -> impl Iterator<Item = usize> + 'b {
        let (low, high) = self.window(polytope, place);
        let groups = self.choices[place].groups.iter().enumerate();
        groups
            .take_while(move |(_, group)| group.handled <= handled)
            .filter(move |(_, g)| within(g, limits) && g.high as f64 >= low && g.low as f64 <= high)
            .map(|(index, _)| index)
    }

    /// The boards that must be handled at the least at the legs that change and are not settled; `None` where one
    /// has no way left.
    fn least_handled(&self, polytope: &Polytope, limits: &Limits) -> Option<u32> {
        let mut sum = 0;
        for place in 0..self.legs.len() {
            if self.legs[place] == Leg::Changes {
                // Groups come cheapest first.
                let first = self.left(polytope, place, limits, limits.handled).next()?;
                sum += self.choices[place].groups[first].handled;
            }
        }
        Some(sum)
    }

    /// Settles to what the legs change. Depth is bounded by the number of legs.
    fn settle_changes(&mut self, polytope: &Polytope, limits: &Limits, handled: u32) -> Verdict {
        if self.out_of_work() {
            return Verdict::OutOfWork;
        }
        let Some(least) = self.least_handled(polytope, limits) else { return Verdict::None };
        if least > handled || !self.stock_may_serve() {
            return Verdict::None;
        }
        let mut fewest: Option<(usize, usize, Vec<usize>)> = None;
        for place in 0..self.legs.len() {
            if self.legs[place] == Leg::Changes {
                let left: Vec<usize> = self.left(polytope, place, limits, handled).collect();
                if fewest.as_ref().is_none_or(|(count, ..)| left.len() < *count) {
                    fewest = Some((left.len(), place, left));
                }
            }
        }
        let Some((_, place, left)) = fewest else { return self.decide() };
        for index in left {
            let group = &self.choices[place].groups[index];
            let (cost, low, high) = (group.handled, group.low, group.high);
            let mut clipped = polytope.clone();
            if !self.clip(&mut clipped, place, low, high) {
                continue;
            }
            self.legs[place] = Leg::To(index);
            let verdict = self.settle_changes(&clipped, limits, handled - cost);
            if verdict != Verdict::None {
                return verdict;
            }
            self.legs[place] = Leg::Changes;
        }
        Verdict::None
    }

    /// Whether the stock serves if every settled leg takes its least of each kind.
    fn stock_may_serve(&self) -> bool {
        (0..self.problem.boards.len()).all(|kind| {
            let taken = |(place, leg): (usize, &Leg)| match leg {
                Leg::To(index) => u32::from(self.choices[place].groups[*index].least[kind]),
                Leg::Stays => self.standing(place, kind),
                Leg::Open | Leg::Changes => 0,
            };
            let taken: u32 = self.legs.iter().enumerate().map(taken).sum();
            taken <= self.problem.boards[kind].count
        })
    }

    fn standing(&self, place: usize, kind: usize) -> u32 {
        self.choices[place].stands[kind]
    }

    /// The test that decides, in whole numbers.
    fn decide(&self) -> Verdict {
        // What stands was tried on its own, by what was read of it.
        if !self.all_may_stay && self.legs.iter().all(|leg| *leg == Leg::Stays) {
            return Verdict::None;
        }
        let ends: Vec<(i64, i64)> =
            self.legs.iter().enumerate().map(|(place, leg)| self.ends(place, *leg)).collect();
        if !self.planes_hold(&ends) || !(self.also)(&ends) {
            return Verdict::None;
        }
        let mut left: Vec<i64> = self.problem.boards.iter().map(|board| i64::from(board.count)).collect();
        for (place, leg) in self.legs.iter().enumerate() {
            if *leg == Leg::Stays {
                for (kind, left) in left.iter_mut().enumerate() {
                    *left -= i64::from(self.standing(place, kind));
                }
            }
        }
        let mut does = vec![Does::Stays; self.legs.len()];
        if self.serve(0, &mut left, &mut does) { Verdict::Found(does) } else { Verdict::None }
    }

    /// Whether some plane inside the slopes and the clearances is within planarity of every top; exact.
    pub fn planes_hold(&self, ends: &[(i64, i64)]) -> bool {
        self.planes_hold_with(ends, &self.fixed)
    }

    /// The same with no regard to the clearances.
    pub fn planes_hold_low(&self, ends: &[(i64, i64)]) -> bool {
        self.planes_hold_with(ends, &[])
    }

    fn planes_hold_with(&self, ends: &[(i64, i64)], fixed: &[Bound]) -> bool {
        let bound = |(place, &(low, high)): (usize, &(i64, i64))| {
            let support = &self.problem.supports[place];
            let slack = self.slack(place);
            Bound { x_mm: support.x_mm, y_mm: support.y_mm, low: low - slack, high: high + slack }
        };
        let bounds: Vec<Bound> = ends.iter().enumerate().map(bound).chain(fixed.iter().copied()).collect();
        plane::exists(&bounds, self.slopes.0, self.slopes.1)
    }

    fn ends(&self, place: usize, leg: Leg) -> (i64, i64) {
        let top = self.tops[place];
        match leg {
            Leg::To(index) => {
                let group = &self.choices[place].groups[index];
                (top + group.low, top + group.high)
            }
            Leg::Open | Leg::Stays | Leg::Changes => (top, top),
        }
    }

    /// Takes a way of each settled group from the stock. Depth is bounded by the number of legs.
    fn serve(&self, place: usize, left: &mut [i64], does: &mut [Does]) -> bool {
        if left.iter().any(|&left| left < 0) {
            return false;
        }
        let Some(leg) = self.legs.get(place) else { return true };
        let Leg::To(index) = *leg else { return self.serve(place + 1, left, does) };
        for (number, way) in self.choices[place].groups[index].ways.iter().enumerate() {
            for (left, &count) in left.iter_mut().zip(&way.kinds) {
                *left -= i64::from(count);
            }
            does[place] = Does::Changes { group: index, way: number };
            if self.serve(place + 1, left, does) {
                return true;
            }
            for (left, &count) in left.iter_mut().zip(&way.kinds) {
                *left += i64::from(count);
            }
        }
        false
    }
}

fn within(group: &Group, limits: &Limits) -> bool {
    group.handled <= limits.handled && group.far <= limits.far
}
