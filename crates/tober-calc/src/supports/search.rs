//! The branch and bound behind a band: which supports are in contact, over everything that is not known.
//!
//! A *stage* is the frame under one load: three unknowns for its position, one for each reaction, one for each
//! number of the load. A band has one stage; where feet were read under another load it has two, and the gaps,
//! which both share, are unknowns too.

use super::band::{Asked, Witness};
use super::bearing::Bearing;
use super::certificate::Certificate;
use super::flexible::{BeamsSolver, BentAnswer, FootSpring};
use super::linear::{Condition, Ended, Program};
use super::reading::FootRead;
use super::solver::{AnswerRef, Solver, Stands};
use super::statics::{Scale, Unsure, equilibrium, unsure};
use super::uncertain::{Seen, Spot, UncertainLoad, UncertainSupport};
use super::{Load, Support};
use tober_quantity::{Force, Length, Moment, Quantity, Stiffness};

/// Nodes of branch and bound for one end of one band. Seen in practice: under a hundred.
const NODES_MOST: usize = 4000;
/// Ends that differ by less than this share of the load are the same.
pub(super) const SAME: f64 = 1e-9;
/// Unknowns of a stage: three for the position of the frame, then the reactions, then the load.
const POSITION: usize = 3;
/// Conditions of a stage: three sums, then for each support "no softer" and "no stiffer".
const SUMS: usize = 3;

/// The least and greatest share that trial solutions gave.
#[derive(Clone, Copy)]
pub(super) struct Trial {
    pub low: f64,
    pub high: f64,
}

/// One end of one band, as shares of the load, both times the factor of the aim.
pub(super) struct End {
    pub bound: f64,
    pub found: f64,
    pub witness: Option<Witness>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Contact {
    Undecided,
    In,
    Clear,
}

/// One load on the frame, with where its unknowns and conditions begin.
struct Stage {
    load: Vec<Unsure>,
    unknowns: usize,
    conditions: usize,
    /// For each support, how far the frame is below its datum there, as a sum of unknowns.
    lowered: Vec<Vec<(usize, f64)>>,
}

pub(super) struct Search<'a> {
    supports: &'a [UncertainSupport],
    spots: &'a [Spot],
    bearing: Option<&'a Bearing>,
    scale: Scale,
    stiffness: f64,
    stages: Vec<Stage>,
    /// Where the gaps begin among the unknowns, where they are some.
    gaps: Option<usize>,
    bounds: Vec<(f64, f64)>,
    conditions: Vec<Condition>,
    root: Program,
    contact: Vec<Contact>,
    rigid: Solver,
    bending: BeamsSolver,
}

impl<'a> Search<'a> {
    pub fn new(asked: &Asked<'a>, spots: &'a [Spot], weight: f64) -> Self {
        let supports = asked.supports;
        let scale = Scale::of(spots, weight);
        // Half-way between the softest and the stiffest, so that no number is far from 1.
        let softest = supports.iter().map(|s| s.stiffness.low.si()).fold(f64::INFINITY, f64::min);
        let stiffest = supports.iter().map(|s| s.stiffness.high.si()).fold(0.0, f64::max);
        let mut search = Self {
            supports,
            spots,
            bearing: asked.bearing,
            scale,
            stiffness: (softest * stiffest).sqrt(),
            stages: Vec::new(),
            gaps: None,
            bounds: Vec::new(),
            conditions: Vec::new(),
            root: Program::new(&[], &[]),
            contact: Vec::new(),
            rigid: Solver::new(),
            bending: BeamsSolver::new(),
        };
        if asked.reading.is_some() {
            search.gaps = Some(0);
            let sink = search.sink();
            search.bounds.extend(supports.iter().map(|s| (s.gap.low.si() / sink, s.gap.high.si() / sink)));
        }
        let seen: Vec<FootRead> =
            supports.iter().map(|s| FootRead { seen: s.seen, measured: None }).collect();
        search.add_stage(asked.load, asked.bearing, &seen);
        if let Some(reading) = asked.reading {
            search.add_stage(&reading.load, reading.bearing.as_ref(), &reading.feet);
        }
        search.root = Program::new(&search.bounds, &search.conditions);
        for at in 0..search.contact.len() {
            if search.contact[at] == Contact::In {
                let least = search.least_lowered(at);
                search.root.narrow_condition(search.no_softer(at), least, f64::INFINITY);
            }
        }
        search
    }

    fn sink(&self) -> f64 {
        self.scale.weight / self.stiffness
    }

    fn add_stage(&mut self, load: &UncertainLoad, bearing: Option<&Bearing>, feet: &[FootRead]) {
        let n = self.supports.len();
        let (at, conditions) = (self.bounds.len(), self.conditions.len());
        let (reactions, loads) = (at + POSITION, at + POSITION + n);
        let load = unsure(load, &self.scale);
        let free = (f64::NEG_INFINITY, f64::INFINITY);
        self.bounds.extend([free; POSITION]);
        let whole: f64 = load.iter().filter(|u| u.enters[0] > 0.0).map(|u| u.high.max(0.0)).sum();
        for foot in feet {
            let share = |force: Force| force.si() / self.scale.weight;
            let read = foot.load();
            // No foot carries more than all that presses down, so a reading cuts and never widens.
            let high = share(read.high).min(whole.max(1.0));
            self.bounds.push((share(read.low).max(0.0), high));
            self.contact.push(match foot.seen {
                Some(Seen::Snug { .. }) => Contact::In,
                _ => Contact::Undecided,
            });
        }
        self.bounds.extend(load.iter().map(|u| (u.low, u.high)));
        self.conditions.extend(equilibrium(self.spots, &self.scale, &load, reactions, loads));
        let mut lowered = Vec::with_capacity(n);
        for (i, s) in self.supports.iter().enumerate() {
            let (x, y) = self.scale.place(s.spot);
            let mut terms = vec![(at, 1.0), (at + 1, x), (at + 2, y)];
            if let Some(bearing) = bearing {
                let force = self.stiffness;
                let couple = self.stiffness * self.scale.extent;
                terms.extend((0..n).map(|j| (reactions + j, -bearing.give[i][j] * force)));
                for (b, under) in bearing.under.iter().enumerate() {
                    let unit = if b + 2 < bearing.under.len() { force } else { couple };
                    terms.push((loads + b, -under[i] * unit));
                }
                terms.retain(|term| term.1 != 0.0);
            }
            lowered.push(terms);
        }
        for (i, s) in self.supports.iter().enumerate() {
            let gap_high = if self.gaps.is_some() { 0.0 } else { s.gap.high.si() / self.sink() };
            let ends = [(s.stiffness.high.si(), f64::INFINITY), (s.stiffness.low.si(), gap_high)];
            for (k, high) in ends {
                let mut terms = lowered[i].clone();
                terms.push((reactions + i, -self.stiffness / k));
                if let Some(gaps) = self.gaps {
                    terms.push((gaps + i, -1.0));
                }
                self.conditions.push(Condition { terms, low: f64::NEG_INFINITY, high });
            }
        }
        self.stages.push(Stage { load, unknowns: at, conditions, lowered });
    }

    /// Which stage and support a place in the list of contacts is.
    fn of(&self, at: usize) -> (&Stage, usize) {
        (&self.stages[at / self.supports.len()], at % self.supports.len())
    }

    fn reaction(&self, at: usize) -> usize {
        let (stage, i) = self.of(at);
        stage.unknowns + POSITION + i
    }

    /// The condition that the support is no stiffer than it may be.
    fn no_softer(&self, at: usize) -> usize {
        let (stage, i) = self.of(at);
        stage.conditions + SUMS + 2 * i
    }

    /// What that condition is not below for a support in contact.
    fn least_lowered(&self, at: usize) -> f64 {
        if self.gaps.is_some() { 0.0 } else { self.supports[self.of(at).1].gap.low.si() / self.sink() }
    }

    /// The greatest of `factor * R_i`; `None` where nothing at all meets the conditions.
    pub fn farthest(&mut self, i: usize, factor: f64) -> Option<End> {
        self.branch((self.reaction(i), factor), |search, program| {
            let confirmed = search.confirm(program)?;
            Some((factor * confirmed.stands.reactions[i].si() / search.scale.weight, confirmed))
        })
    }

    /// The least by which all readings must be off beyond what they may be, as a share of the load: one unknown more,
    /// which widens them all. `None` where there is none, or nothing stands at all.
    pub fn least_slack(mut self, feet: &[FootRead]) -> Option<f64> {
        let slack = self.bounds.len();
        self.bounds.push((0.0, 2.0));
        for (i, foot) in feet.iter().enumerate().filter(|(_, foot)| foot.is_read()) {
            let (read, reaction) = (foot.load(), self.reaction(i));
            let (low, high) = (read.low.si() / self.scale.weight, read.high.si() / self.scale.weight);
            let at_least = vec![(reaction, 1.0), (slack, 1.0)];
            self.conditions.push(Condition { terms: at_least, low, high: f64::INFINITY });
            let at_most = vec![(reaction, 1.0), (slack, -1.0)];
            self.conditions.push(Condition { terms: at_most, low: f64::NEG_INFINITY, high });
        }
        self.contact.fill(Contact::Undecided);
        self.root = Program::new(&self.bounds, &self.conditions);
        self.branch((slack, -1.0), |_, _| None).map(|end| -end.bound)
    }

    /// Branch and bound from a program that is aimed. `confirm` gives what is really reached at a point that breaks
    /// no rule.
    fn branch(
        &mut self,
        (aim, factor): (usize, f64),
        confirm: impl Fn(&mut Self, &Program) -> Option<(f64, Witness)>,
    ) -> Option<End> {
        // With two stages a point is not one choice of stiffnesses, so it bounds and confirms nothing.
        let single = self.stages.len() == 1;
        let mut start = self.root.clone();
        start.aim(aim, factor);
        let mut open = vec![(start, self.contact.clone())];
        let (mut best, mut found, mut bound) = (f64::NEG_INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
        let (mut witness, mut nodes) = (None, 0);
        while let Some((mut program, contact)) = open.pop() {
            nodes += 1;
            // Two stages are deep, and a tableau handed down gathers rounding that could rule out what can be.
            if !single && nodes > 1 {
                program = program.afresh(&self.root, aim, factor);
            }
            let value = match program.maximise() {
                Ended::Empty => continue,
                Ended::Greatest(value) => value,
                Ended::NotAbove(value) => {
                    bound = bound.max(value);
                    continue;
                }
            };
            if value <= best + 1e-12 {
                bound = bound.max(value);
                continue;
            }
            let Some(split) = self.worst_broken(&program, &contact) else {
                bound = bound.max(value);
                if !single {
                    best = best.max(value);
                } else if let Some((share, confirmed)) = confirm(self, &program) {
                    if share > found {
                        (found, witness) = (share, Some(confirmed));
                    }
                    best = best.max(found);
                }
                continue;
            };
            if nodes >= NODES_MOST {
                bound = bound.max(value);
                continue;
            }
            let mut clear = (program.clone(), contact.clone());
            clear.0.narrow(self.reaction(split), 0.0, 0.0);
            clear.1[split] = Contact::Clear;
            let mut touching = (program, contact);
            touching.0.narrow_condition(self.no_softer(split), self.least_lowered(split), f64::INFINITY);
            touching.1[split] = Contact::In;
            // The one put on last is worked first: contact is the likelier.
            open.push(clear);
            open.push(touching);
        }
        (bound > f64::NEG_INFINITY).then_some(End { bound, found, witness })
    }

    /// The undecided support that pushes although it is not compressed enough to, by the most.
    fn worst_broken(&self, program: &Program, contact: &[Contact]) -> Option<usize> {
        let mut worst = (1e-10, None);
        for (at, _) in contact.iter().enumerate().filter(|(_, c)| **c == Contact::Undecided) {
            let reaction = program.value(self.reaction(at));
            let no_softer = program.value(self.bounds.len() + self.no_softer(at));
            let missing = (self.least_lowered(at) - no_softer).min(reaction);
            if missing > worst.0 {
                worst = (missing, Some(at));
            }
        }
        worst.1
    }

    /// Solves at the middle of all ranges and with each support in turn high and stiff, or low and soft,
    /// among the others. It has nothing to do with the program, so it can show a wrong bound up.
    pub fn by_trial(&mut self) -> Vec<Trial> {
        let n = self.supports.len();
        let mut trials = vec![Trial { low: f64::INFINITY, high: f64::NEG_INFINITY }; n];
        let middle: Vec<f64> = self.stages[0].load.iter().map(|u| 0.5 * (u.low + u.high)).collect();
        let end = |s: &UncertainSupport, low: bool| Support {
            x: s.spot.x,
            y: s.spot.y,
            stiffness: if low { s.stiffness.low } else { s.stiffness.high },
            gap: if low { s.gap.high } else { s.gap.low },
        };
        // A reading narrows the ranges in ways that a trial does not know, so then there is none.
        if self.stages.len() > 1 || self.supports.iter().any(|s| s.seen.is_some()) {
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
            if let Some((stands, _)) = self.solve(&supports, &middle) {
                for (trial, r) in trials.iter_mut().zip(&stands.reactions) {
                    let share = r.si() / self.scale.weight;
                    *trial = Trial { low: trial.low.min(share), high: trial.high.max(share) };
                }
            }
        }
        trials
    }

    /// The first stage with known springs and these numbers of its load; with how far each support is bent.
    fn solve(&mut self, supports: &[Support], values: &[f64]) -> Option<(Stands, Option<Vec<Length>>)> {
        let (weight, arm) = (self.scale.weight, self.scale.weight * self.scale.extent);
        let Some(bearing) = self.bearing else {
            let mut sums = [0.0; 3];
            for (value, unsure) in values.iter().zip(&self.stages[0].load) {
                for (sum, enters) in sums.iter_mut().zip(unsure.enters) {
                    *sum += value * enters;
                }
            }
            // A weight at the origin with couples.
            let origin = self.spots.first().map_or((Length::ZERO, Length::ZERO), |s| (s.x, s.y));
            let load = Load {
                down: Force::n(sums[0] * weight),
                x: origin.0,
                y: origin.1,
                moment_x: Moment::nm(-sums[2] * arm),
                moment_y: Moment::nm(sums[1] * arm),
            };
            return match self.rigid.solve(supports, &load) {
                Ok(AnswerRef::Stands(stands)) => Some((stands.clone(), None)),
                // On the very edge of tipping, rounding can put the point outside: then nothing was found.
                Ok(AnswerRef::Tips(_)) | Err(_) => None,
            };
        };
        let couples = values.len().saturating_sub(2);
        let unit = |at: usize| if at < couples { weight } else { arm };
        let column = bearing.column(values.iter().enumerate().map(|(at, value)| value * unit(at)));
        let springs: Vec<FootSpring> =
            supports.iter().map(|s| FootSpring { stiffness: s.stiffness, gap: s.gap }).collect();
        let Ok(BentAnswer::Stands(bent)) = self.bending.solve(&bearing.frame, &springs, &column) else {
            return None;
        };
        let proof = bent.certificate;
        let stands = Stands {
            reactions: bent.reactions.clone(),
            lifted: bent.lifted.clone(),
            displacement: bent.plane,
            margin: bent.margin,
            nearest: bent.nearest,
            contact_change: None,
            certificate: Certificate {
                force_residual: proof.force_residual,
                moment_residual: proof.moment_residual,
                spring_residual: proof.spring_residual,
                least_reaction: proof.least_reaction,
            },
        };
        let up = bearing.frame.feet().iter().zip(self.spots);
        let bent = up.map(|(&node, spot)| bent.nodes[node].up - bent.plane.at(spot.x, spot.y)).collect();
        Some((stands, Some(bent)))
    }

    /// Names gaps, stiffnesses and a load that belong to the point found, and solves for them.
    fn confirm(&mut self, program: &Program) -> Option<Witness> {
        let stage = &self.stages[0];
        let n = self.supports.len();
        let sink = self.sink();
        let mut supports = Vec::with_capacity(n);
        for (j, s) in self.supports.iter().enumerate() {
            let lowered: f64 = stage.lowered[j].iter().map(|&(u, share)| share * program.value(u)).sum();
            let reaction = program.value(self.reaction(j));
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
        let loads = stage.unknowns + POSITION + n;
        let mut values: Vec<f64> = stage
            .load
            .iter()
            .enumerate()
            .map(|(b, unsure)| program.value(loads + b).clamp(unsure.low, unsure.high))
            .collect();
        let (stands, bent) = self.solve(&supports, &values)?;
        // The two couples come last, x before y.
        let arm = self.scale.weight * self.scale.extent;
        let mut couple = || Moment::nm(values.pop().unwrap_or(0.0) * arm);
        let (moment_y, moment_x) = (couple(), couple());
        let burdens = values.iter().map(|v| Force::n(v * self.scale.weight)).collect();
        Some(Witness { supports, burdens, moment_x, moment_y, stands, bent })
    }
}
