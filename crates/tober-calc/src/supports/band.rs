//! The least and greatest load on each support over everything that is not known.
//!
//! With reactions and compressions as unknowns beside gaps and loads, "the stiffness lies between
//! k_low and k_high" is linear: `R/k_high <= c <= R/k_low`. So for a given set of supports in
//! contact the ends of a reaction over *all* gaps, loads and stiffnesses at once are a linear program.
//! Which supports are in contact is found by branch and bound: a support is first left undecided
//! (`R >= 0` and `c <= R/k_low`, which holds in contact and clear of it), and only where the best point
//! breaks the rule is it split into *in contact* and *clear*. Where the search ends the ends are exact,
//! and the point found is handed to [`solve`](super::solve), whose certificate proves that it is reached.

use super::error::SupportsError;
use super::linear::{Condition, Ended, Program};
use super::solver::{AnswerRef, Solver, Stands};
use super::statics::{Scale, Unsure, equilibrium, statics_bound, unsure};
use super::tipping::{Tipping, tipping};
use super::uncertain::{
    Between, Seen, Spot, UncertainLoad, UncertainSupport, check_uncertain, check_uncertain_load,
};
use super::{Load, Support};
use tober_quantity::{Force, Length, Moment, Quantity, Stiffness};

/// Nodes of branch and bound for one end of one band. Seen in practice: under a hundred.
const NODES_MOST: usize = 4000;
/// Ends that differ by less than this share of the load are the same.
const SAME: f64 = 1e-9;

/// One choice of everything that is not known, and what follows from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Witness {
    /// The supports, with a gap and a stiffness each.
    pub supports: Vec<Support>,
    /// Each burden, in the order given.
    pub burdens: Vec<Force>,
    /// The couple about the x axis.
    pub moment_x: Moment,
    /// The couple about the y axis.
    pub moment_y: Moment,
    /// The answer, with its certificate.
    pub stands: Stands,
}

/// The load on one support.
#[derive(Clone, Debug, PartialEq)]
pub struct SupportBand {
    /// It carries no less than the low end and no more than the high end, whatever the unknowns are.
    pub load: Between<Force>,
    /// The least and greatest that were found with unknowns that can be named; none where none was
    /// looked for, or the one place that serves is the very edge of tipping.
    pub found: Option<Between<Force>>,
    /// What equilibrium alone allows.
    pub statics: Between<Force>,
    /// The unknowns with which it carries least, where they were found.
    pub lightest: Option<Witness>,
    /// The unknowns with which it carries most, where they were found.
    pub heaviest: Option<Witness>,
    /// Whether it may carry nothing, or under 1e-9 of the load.
    pub may_go_light: bool,
}

/// The loads on all supports.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// In the order given.
    pub supports: Vec<SupportBand>,
    /// Whether it stands for every load within its ends. Where it does not, the bands hold for those
    /// loads for which it does.
    pub tipping: Tipping,
    /// Whether every end was reached, so that the bands are as narrow as can be.
    pub tight: bool,
}

/// What can be said of the loads on the supports.
#[derive(Clone, Debug, PartialEq)]
pub enum BandAnswer {
    /// The bands.
    Stands(Band),
    /// The frame tips for every load within its ends.
    Tips(Tipping),
    /// No gaps, loads and stiffnesses within their ends give what was seen: something that was
    /// measured or assumed is wrong. Stop and look again.
    ReadingsDisagree,
}

/// The least and greatest load on each support over every gap, stiffness and load within its ends.
///
/// Every range is taken as independent of every other. The ends are exact, and `found` equals `load`,
/// unless the work budget ended; then `load` is still a bound. Wider ranges never give a narrower band.
/// What was [`Seen`] on kicking a foot narrows it.
///
/// Where part of the load has no place, or all supports are on one line, the band is what equilibrium
/// alone allows.
///
/// Valid as [`solve`](super::solve) is: rigid frame, small displacements, no friction. No published
/// example was found; it is held to [`solve`](super::solve) at the corners and at random points of the
/// ranges.
///
/// # Errors
/// Refuses numbers that are none or that no frame has, ranges turned round, and a load that nowhere
/// presses down.
///
/// # Not covered
/// Ranges that hang together, such as one scale that reads all masses too low: they make the band
/// wider than it need be, never too narrow.
pub fn band(supports: &[UncertainSupport], load: &UncertainLoad) -> Result<BandAnswer, SupportsError> {
    for (i, support) in supports.iter().enumerate() {
        check_uncertain(i, support)?;
    }
    let down = check_uncertain_load(load)?;
    let spots: Vec<Spot> = supports.iter().map(|s| s.spot).collect();
    let tipping = tipping(&spots, load);
    let Some(statics) = statics_bound(&spots, load)? else {
        return Ok(BandAnswer::Tips(tipping));
    };
    if !load.placed() || on_one_line(&spots) {
        let supports = statics.iter().map(|&ends| only_statics(ends, down.high)).collect();
        return Ok(BandAnswer::Stands(Band { supports, tipping, tight: false }));
    }
    let mut search = Search::new(supports, &spots, load, down.high.si());
    let seen = search.by_trial();
    let mut bands = Vec::with_capacity(supports.len());
    let mut tight = true;
    for (i, &statics) in statics.iter().enumerate() {
        let Some(low) = search.farthest(i, -1.0) else {
            return Ok(BandAnswer::ReadingsDisagree);
        };
        let Some(high) = search.farthest(i, 1.0) else {
            return Ok(BandAnswer::ReadingsDisagree);
        };
        let force = |share: f64| Force::n(share.clamp(0.0, 1.0) * down.high.si());
        // A bound that the solver can be shown to pass is none: the numbers are too far apart in size.
        if seen[i].low < -low.bound - SAME || seen[i].high > high.bound + SAME {
            tight = false;
            bands.push(only_statics(statics, down.high));
            continue;
        }
        tight &= low.bound - low.found <= SAME && high.bound - high.found <= SAME;
        let load =
            Between { low: force(-low.bound).max(statics.low), high: force(high.bound).min(statics.high) };
        let reached = low.found.is_finite() && high.found.is_finite();
        let found = reached.then(|| Between { low: force(-low.found), high: force(high.found) });
        bands.push(SupportBand {
            load,
            found,
            statics,
            lightest: low.witness,
            heaviest: high.witness,
            may_go_light: -low.bound <= SAME,
        });
    }
    Ok(BandAnswer::Stands(Band { supports: bands, tipping, tight }))
}

/// The band of a support of which nothing but equilibrium is known.
fn only_statics(statics: Between<Force>, weight: Force) -> SupportBand {
    let may_go_light = statics.low.si() <= SAME * weight.si();
    SupportBand { load: statics, found: None, statics, lightest: None, heaviest: None, may_go_light }
}

fn on_one_line(spots: &[Spot]) -> bool {
    let (x, y): (Vec<f64>, Vec<f64>) = spots.iter().map(|s| (s.x.si(), s.y.si())).unzip();
    let mut hull = super::hull::Hull::default();
    hull.make(&x, &y);
    hull.is_flat()
}

/// The least and greatest share that trial solutions gave.
#[derive(Clone, Copy)]
struct Trial {
    low: f64,
    high: f64,
}

/// One end of one band, as shares of the load, both times the factor of the aim.
struct End {
    bound: f64,
    found: f64,
    witness: Option<Witness>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Contact {
    Undecided,
    In,
    Clear,
}

struct Search<'a> {
    supports: &'a [UncertainSupport],
    spots: &'a [Spot],
    scale: Scale,
    load: Vec<Unsure>,
    stiffness: f64,
    root: Program,
    contact: Vec<Contact>,
    solver: Solver,
}

/// Unknowns of the program: three for the position of the frame, then the reactions, then the load.
const POSITION: usize = 3;
/// Conditions: three sums, then for each support "no softer" and "no stiffer".
const SUMS: usize = 3;

impl<'a> Search<'a> {
    fn new(supports: &'a [UncertainSupport], spots: &'a [Spot], load: &UncertainLoad, weight: f64) -> Self {
        let n = supports.len();
        let scale = Scale::of(spots, weight);
        let unsure = unsure(load, &scale);
        // Half-way between the softest and the stiffest, so that no number is far from 1.
        let softest = supports.iter().map(|s| s.stiffness.low.si()).fold(f64::INFINITY, f64::min);
        let stiffest = supports.iter().map(|s| s.stiffness.high.si()).fold(0.0, f64::max);
        let stiffness = (softest * stiffest).sqrt();
        let sink = weight / stiffness;
        let free = (f64::NEG_INFINITY, f64::INFINITY);
        let mut bounds = vec![free; POSITION];
        let mut contact = Vec::with_capacity(n);
        for s in supports {
            let (ends, state) = match s.seen {
                Some(Seen::Snug { at_least }) => ((at_least.si() / weight, 1.0), Contact::In),
                Some(Seen::Light { at_most }) => {
                    ((0.0, (at_most.si() / weight).min(1.0)), Contact::Undecided)
                }
                None => ((0.0, 1.0), Contact::Undecided),
            };
            bounds.push(ends);
            contact.push(state);
        }
        bounds.extend(unsure.iter().map(|u| (u.low, u.high)));
        let mut conditions = equilibrium(spots, &scale, &unsure, POSITION, POSITION + n).to_vec();
        for (i, s) in supports.iter().enumerate() {
            let (x, y) = scale.place(s.spot);
            let ends = [
                (s.stiffness.high.si(), f64::NEG_INFINITY, f64::INFINITY),
                (s.stiffness.low.si(), f64::NEG_INFINITY, s.gap.high.si() / sink),
            ];
            for (k, low, high) in ends {
                let terms = vec![(0, 1.0), (1, x), (2, y), (POSITION + i, -stiffness / k)];
                conditions.push(Condition { terms, low, high });
            }
        }
        let mut search = Self {
            supports,
            spots,
            scale,
            load: unsure,
            stiffness,
            root: Program::new(&bounds, &conditions),
            contact,
            solver: Solver::new(),
        };
        for i in 0..n {
            if search.contact[i] == Contact::In {
                let gap = search.gap_low(i);
                search.root.narrow_condition(SUMS + 2 * i, gap, f64::INFINITY);
            }
        }
        search
    }

    fn gap_low(&self, i: usize) -> f64 {
        self.supports[i].gap.low.si() * self.stiffness / self.scale.weight
    }

    /// The greatest of `factor * R_i`; `None` where nothing at all meets the conditions.
    fn farthest(&mut self, i: usize, factor: f64) -> Option<End> {
        let mut start = self.root.clone();
        start.aim(POSITION + i, factor);
        let mut open = vec![(start, self.contact.clone())];
        let (mut found, mut bound) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        let (mut witness, mut nodes) = (None, 0);
        while let Some((mut program, contact)) = open.pop() {
            nodes += 1;
            let value = match program.maximise() {
                Ended::Empty => continue,
                Ended::Greatest(value) => value,
                Ended::NotAbove(value) => {
                    bound = bound.max(value);
                    continue;
                }
            };
            if value <= found + 1e-12 {
                bound = bound.max(value);
                continue;
            }
            let Some(split) = self.worst_broken(&program, &contact) else {
                bound = bound.max(value);
                if let Some(confirmed) = self.confirm(&program) {
                    let share = factor * confirmed.stands.reactions[i].si() / self.scale.weight;
                    if share > found {
                        (found, witness) = (share, Some(confirmed));
                    }
                }
                continue;
            };
            if nodes >= NODES_MOST {
                bound = bound.max(value);
                continue;
            }
            let mut clear = (program.clone(), contact.clone());
            clear.0.narrow(POSITION + split, 0.0, 0.0);
            clear.1[split] = Contact::Clear;
            let mut touching = (program, contact);
            touching.0.narrow_condition(SUMS + 2 * split, self.gap_low(split), f64::INFINITY);
            touching.1[split] = Contact::In;
            // The one put on last is worked first: contact is the likelier.
            open.push(clear);
            open.push(touching);
        }
        (bound > f64::NEG_INFINITY).then_some(End { bound, found, witness })
    }

    /// Solves at the middle of all ranges and with each support in turn high and stiff, or low and soft,
    /// among the others. It has nothing to do with the program, so it can show a wrong bound up.
    fn by_trial(&mut self) -> Vec<Trial> {
        let n = self.supports.len();
        let mut trials = vec![Trial { low: f64::INFINITY, high: f64::NEG_INFINITY }; n];
        let mut load = [0.0; 3];
        for unsure in &self.load {
            for (sum, enters) in load.iter_mut().zip(unsure.enters) {
                *sum += 0.5 * (unsure.low + unsure.high) * enters;
            }
        }
        let load = self.load_of(load);
        let end = |s: &UncertainSupport, low: bool| Support {
            x: s.spot.x,
            y: s.spot.y,
            stiffness: if low { s.stiffness.low } else { s.stiffness.high },
            gap: if low { s.gap.high } else { s.gap.low },
        };
        // A reading narrows the ranges in ways that a trial does not know, so then there is none.
        if self.supports.iter().any(|s| s.seen.is_some()) {
            return trials;
        }
        for trial in 0..=2 * n {
            let supports: Vec<Support> = self
                .supports
                .iter()
                .enumerate()
                .map(|(i, s)| match trial {
                    0 => Support { stiffness: s.stiffness.middle(), gap: s.gap.middle(), ..end(s, true) },
                    t => end(s, (i == (t - 1) / 2) == (t % 2 == 0)),
                })
                .collect();
            if let Ok(AnswerRef::Stands(stands)) = self.solver.solve(&supports, &load) {
                for (trial, r) in trials.iter_mut().zip(&stands.reactions) {
                    let share = r.si() / self.scale.weight;
                    *trial = Trial { low: trial.low.min(share), high: trial.high.max(share) };
                }
            }
        }
        trials
    }

    /// The load with these three scaled sums, as a weight at the origin with couples.
    fn load_of(&self, sums: [f64; 3]) -> Load {
        let [down, along, across] = sums;
        let origin = self.spots.first().map_or((Length::ZERO, Length::ZERO), |s| (s.x, s.y));
        let arm = self.scale.weight * self.scale.extent;
        Load {
            down: Force::n(down * self.scale.weight),
            x: origin.0,
            y: origin.1,
            moment_x: Moment::nm(-across * arm),
            moment_y: Moment::nm(along * arm),
        }
    }

    /// The undecided support that pushes although it is not compressed enough to, by the most.
    fn worst_broken(&self, program: &Program, contact: &[Contact]) -> Option<usize> {
        let mut worst = (1e-10, None);
        let n = self.supports.len();
        for (i, _) in contact.iter().enumerate().filter(|(_, c)| **c == Contact::Undecided) {
            let reaction = program.value(POSITION + i);
            let no_softer = program.value(POSITION + n + self.load.len() + SUMS + 2 * i);
            let missing = (self.gap_low(i) - no_softer).min(reaction);
            if missing > worst.0 {
                worst = (missing, Some(i));
            }
        }
        worst.1
    }

    /// Names gaps, stiffnesses and a load that belong to the point found, and solves for them.
    fn confirm(&mut self, program: &Program) -> Option<Witness> {
        let n = self.supports.len();
        let sink = self.scale.weight / self.stiffness;
        let mut supports = Vec::with_capacity(n);
        for (j, s) in self.supports.iter().enumerate() {
            let (x, y) = self.scale.place(s.spot);
            let lowered = program.value(0) + x * program.value(1) + y * program.value(2);
            let reaction = program.value(POSITION + j);
            let (gap_low, gap_high) = (s.gap.low.si() / sink, s.gap.high.si() / sink);
            // In units where k*c = R: the flexibility lies between these two, and gap + R*flexibility = lowered.
            let (least, most) =
                (self.stiffness / s.stiffness.high.si(), self.stiffness / s.stiffness.low.si());
            let (gap, flexibility) = if reaction > 0.0 {
                let gap = (lowered - reaction * 0.5 * (least + most)).clamp(gap_low, gap_high);
                (gap, ((lowered - gap) / reaction).clamp(least, most))
            } else {
                (gap_high, least)
            };
            supports.push(Support {
                x: s.spot.x,
                y: s.spot.y,
                stiffness: Stiffness::from_si(
                    (self.stiffness / flexibility).clamp(s.stiffness.low.si(), s.stiffness.high.si()),
                ),
                gap: Length::from_si((gap * sink).clamp(s.gap.low.si(), s.gap.high.si())),
            });
        }
        let mut sums = [0.0; 3];
        let mut values = Vec::with_capacity(self.load.len());
        for (b, unsure) in self.load.iter().enumerate() {
            let value = program.value(POSITION + n + b).clamp(unsure.low, unsure.high);
            values.push(value);
            for (sum, enters) in sums.iter_mut().zip(unsure.enters) {
                *sum += value * enters;
            }
        }
        let load = self.load_of(sums);
        let stands = match self.solver.solve(&supports, &load) {
            Ok(AnswerRef::Stands(stands)) => stands.clone(),
            // On the very edge of tipping, rounding can put the point outside: then nothing was found.
            Ok(AnswerRef::Tips(_)) | Err(_) => return None,
        };
        // The two couples come last, x before y.
        let arm = self.scale.weight * self.scale.extent;
        let mut couple = || Moment::nm(values.pop().unwrap_or(0.0) * arm);
        let (moment_y, moment_x) = (couple(), couple());
        let burdens = values.iter().map(|v| Force::n(v * self.scale.weight)).collect();
        Some(Witness { supports, burdens, moment_x, moment_y, stands })
    }
}
