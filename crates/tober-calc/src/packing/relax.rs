//! Where nothing serves: what the crew could do, each remedy alone, least first.
//!
//! Never a looser tolerance: level, planarity, least lift and the limits of a stack are the maker's, and
//! are left as they are. Shifting or turning the trailer is the work of the site calculation. Raising the
//! ground under a foot is not offered: a made-up base is part of the stack, and a stack has its limits.
//!
//! Every remedy is proved least by solving again with less, and proved to serve by solving with it.

use super::answer::{Answer, Budget, Choice};
use super::model::{BoardKind, Part, Problem, Wedges};
use super::plane;
use super::refuse::{KINDS_MOST, ProblemError};
use super::search::fixed_bounds;
use super::solve::{Lift, any_lift, solve};
use tober_quantity::TenthMm;

/// What a crew has at hand where the plain kit does not serve.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Means {
    /// The deepest that a foot may be dug in.
    pub dig_most: TenthMm,
    /// How many feet may be dug in together.
    pub dig_feet_most: usize,
    /// The most further boards of one kind that could be had.
    pub boards_most: u32,
    /// A pair of folding wedges, where there are any.
    pub wedges: Option<Wedges>,
    /// How many pairs of wedges there are.
    pub wedge_pairs: usize,
    /// Thin packers that could be cut, each with the most sheets in its count; laid only between timbers.
    pub packers: Vec<BoardKind>,
}

impl Means {
    /// Common practice, no source: dig one or two feet in up to 200 mm, borrow up to a dozen boards.
    pub fn usual() -> Self {
        Self {
            dig_most: TenthMm(2000),
            dig_feet_most: 2,
            boards_most: 12,
            wedges: None,
            wedge_pairs: 0,
            packers: Vec::new(),
        }
    }
}

/// One thing that a crew could do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Remedy {
    /// More boards of one kind; one fewer would not do.
    MoreBoards {
        /// The kind, as a place in [`Problem::boards`].
        kind: usize,
        /// How many more.
        more: u32,
    },
    /// Dig feet in; if no foot may go deeper than the deepest less 0.1 mm, nothing serves.
    DigIn {
        /// The feet, as places in [`Problem::supports`], each with its depth.
        feet: Vec<(usize, TenthMm)>,
        /// With one foot: every depth in steps of 1 mm from the one given to this one serves as well.
        to: TenthMm,
    },
    /// Wedges between timbers in these stacks; fewer stacks with wedges would not do.
    Wedges {
        /// The stacks, as places in [`Problem::supports`].
        supports: Vec<usize>,
        /// The wedges.
        wedges: Wedges,
    },
    /// Thin packers between timbers; one fewer would not do.
    Packers {
        /// The packer.
        packer: BoardKind,
        /// How many sheets in all.
        sheets: u32,
    },
    /// Two of these together, where none alone would do: the first carried out, less of the second would not do.
    Together(Box<Self>, Box<Self>),
}

/// A remedy with the choice that it makes possible.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cure {
    /// What to do.
    pub remedy: Remedy,
    /// A choice that then serves.
    pub choice: Choice,
}

/// What would do where nothing serves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WhyNot {
    /// There is a choice already.
    Serves,
    /// Each of these alone would do.
    Cures {
        /// The remedies: packers, wedges, boards, digging; least first within each.
        cures: Vec<Cure>,
        /// How many remedies were tried and neither proved nor ruled out within the budget.
        undecided: usize,
    },
    /// Proved: none of the means would do, nor a pair of those that are tried together. Shift or turn the trailer, or do not build here.
    DoNotBuildHere,
    /// None was found; this many were neither proved nor ruled out within the budget.
    NotReached {
        /// How many.
        undecided: usize,
    },
}

/// What the crew could do where nothing serves: the least of each remedy alone; where none alone would do, of two.
///
/// The budget is for each question asked on the way; a problem with eight legs and six kinds asks
/// a few hundred, most of them answered in a few nodes.
///
/// # Errors
/// A [`ProblemError`] for a problem outside the range of [`solve`].
///
/// # Not covered
/// Other pairs than wedges or boards with one foot dug in; shifting or turning the trailer (see
/// [`super::least_shift`]); another kind of board than those of the kit.
pub fn why_not(problem: &Problem, means: &Means, budget: &Budget) -> Result<WhyNot, ProblemError> {
    problem.check()?;
    let mut attempt = Attempt { budget: *budget, undecided: 0, cures: Vec::new() };
    match attempt.serves(problem, &[]) {
        Some(true) => return Ok(WhyNot::Serves),
        Some(false) => {}
        None => attempt.undecided += 1,
    }
    for packer in &means.packers {
        attempt.packers(problem, packer)?;
    }
    if let Some(wedges) = means.wedges {
        attempt.wedges(problem, wedges, means.wedge_pairs)?;
    }
    attempt.boards(problem, means.boards_most)?;
    attempt.digging(problem, means)?;
    if attempt.cures.is_empty() {
        attempt.pairs(problem, means)?;
    }
    let Attempt { cures, undecided, .. } = attempt;
    Ok(match (cures.is_empty(), undecided) {
        (false, _) => WhyNot::Cures { cures, undecided },
        (true, 0) => WhyNot::DoNotBuildHere,
        (true, _) => WhyNot::NotReached { undecided },
    })
}

impl Remedy {
    /// The problem with this remedy carried out.
    #[must_use]
    pub fn applied(&self, problem: &Problem) -> Problem {
        let mut changed = problem.clone();
        match self {
            Self::MoreBoards { kind, more } => changed.boards[*kind].count += more,
            Self::DigIn { feet, .. } => {
                for (support, depth) in feet {
                    let ground = &mut changed.supports[*support].ground;
                    *ground = *ground - *depth;
                }
            }
            Self::Wedges { supports, wedges } => {
                for support in supports {
                    changed.supports[*support].wedges = Some(*wedges);
                }
            }
            Self::Together(one, other) => changed = other.applied(&one.applied(problem)),
            Self::Packers { packer, sheets } => {
                changed.boards.push(BoardKind { count: *sheets, part: Part::Packer, ..packer.clone() });
            }
        }
        changed
    }
}

struct Attempt {
    budget: Budget,
    undecided: usize,
    cures: Vec<Cure>,
}

impl Attempt {
    /// Whether anything serves; `None` when the budget ended first.
    fn serves(&self, problem: &Problem, dig: &[i64]) -> Option<bool> {
        match any_lift(problem, dig, self.budget.nodes) {
            Lift::Found { .. } => Some(true),
            Lift::Infeasible(_) => Some(false),
            Lift::NotReached { .. } => None,
        }
    }

    /// The least amount from 1 to `most` that serves, where more never serves less. What could not be
    /// decided is counted, and gives no cure.
    fn least(&mut self, most: i64, serves: impl Fn(&Self, i64) -> Option<bool>) -> Option<i64> {
        let (mut short, mut enough) = (0, most);
        let mut ask = most;
        loop {
            match serves(self, ask) {
                Some(true) => enough = ask,
                Some(false) if ask == most => return None,
                Some(false) => short = ask,
                None => {
                    self.undecided += 1;
                    return None;
                }
            }
            if enough - short <= 1 {
                return Some(enough);
            }
            ask = short + (enough - short) / 2;
        }
    }

    /// Keeps a remedy if a choice serves once it is carried out.
    fn keep(&mut self, problem: &Problem, remedy: Remedy) -> Result<bool, ProblemError> {
        let answer = solve(&remedy.applied(problem), &self.budget)?;
        Ok(match answer {
            Answer::Optimal(choice) | Answer::BestFound { choice, .. } => {
                self.cures.push(Cure { remedy, choice });
                true
            }
            Answer::Infeasible(_) => false,
            Answer::NotReached { .. } => {
                self.undecided += 1;
                false
            }
        })
    }

    fn packers(&mut self, problem: &Problem, packer: &BoardKind) -> Result<(), ProblemError> {
        if problem.boards.len() >= KINDS_MOST || packer.count == 0 {
            return Ok(());
        }
        let with = |sheets: i64| {
            let sheets = u32::try_from(sheets).unwrap_or(u32::MAX);
            Remedy::Packers { packer: packer.clone(), sheets }
        };
        with(i64::from(packer.count)).applied(problem).check()?;
        let least = self
            .least(i64::from(packer.count), |this, sheets| this.serves(&with(sheets).applied(problem), &[]));
        if let Some(sheets) = least {
            self.keep(problem, with(sheets))?;
        }
        Ok(())
    }

    fn boards(&mut self, problem: &Problem, most: u32) -> Result<(), ProblemError> {
        let mut found = Vec::new();
        for kind in 0..problem.boards.len() {
            let with = |more: i64| Remedy::MoreBoards { kind, more: u32::try_from(more).unwrap_or(u32::MAX) };
            let most = i64::from(most);
            if most == 0 || with(most).applied(problem).check().is_err() {
                continue;
            }
            let least = self.least(most, |this, more| this.serves(&with(more).applied(problem), &[]));
            found.extend(least.map(|more| (more, kind)));
        }
        found.sort_unstable();
        for (more, kind) in found {
            self.keep(problem, Remedy::MoreBoards { kind, more: u32::try_from(more).unwrap_or(u32::MAX) })?;
        }
        Ok(())
    }

    /// The fewest stacks with wedges: one, then two, then three.
    fn wedges(&mut self, problem: &Problem, wedges: Wedges, pairs: usize) -> Result<(), ProblemError> {
        if problem.planarity_tol.0 == 0 {
            return Ok(());
        }
        for size in 1..=pairs.min(WEDGED_MOST) {
            let before = self.cures.len();
            for supports in sets(problem.supports.len(), size) {
                let remedy = Remedy::Wedges { supports, wedges };
                let applied = remedy.applied(problem);
                applied.check()?;
                match self.serves(&applied, &[]) {
                    Some(true) => {
                        self.keep(problem, remedy)?;
                    }
                    Some(false) => {}
                    None => self.undecided += 1,
                }
            }
            if self.cures.len() > before {
                break;
            }
        }
        Ok(())
    }

    /// One foot dug in; where no one foot cures, two together, and so on.
    fn digging(&mut self, problem: &Problem, means: &Means) -> Result<(), ProblemError> {
        if means.dig_most.0 < 1 {
            return Ok(());
        }
        for size in 1..=means.dig_feet_most.min(problem.supports.len()) {
            let mut found = Vec::new();
            for feet in sets(problem.supports.len(), size) {
                let dig = |depth: i64| -> Vec<i64> {
                    (0..problem.supports.len())
                        .map(|support| if feet.contains(&support) { depth } else { 0 })
                        .collect()
                };
                // Any depth up to the one asked is allowed, so a greater one never serves less.
                let least = self.least(means.dig_most.0, |this, depth| this.serves(problem, &dig(depth)));
                found.extend(least.map(|depth| (depth, feet.clone())));
            }
            found.sort_unstable();
            let before = self.cures.len();
            for (depth, feet) in found {
                self.dig(problem, &feet, depth, means.dig_most.0)?;
            }
            if self.cures.len() > before {
                break;
            }
        }
        Ok(())
    }

    /// Two things together: wedges in one stack, or more boards of one kind, and with them one foot dug in. Of each first
    /// the one with the least depth is kept; more boards are then brought down to the fewest that do.
    fn pairs(&mut self, problem: &Problem, means: &Means) -> Result<(), ProblemError> {
        let legs = problem.supports.len();
        let wedged = means.wedges.filter(|_| means.wedge_pairs > 0 && problem.planarity_tol.0 > 0);
        let wedged: Vec<Remedy> = wedged
            .iter()
            .flat_map(|&wedges| (0..legs).map(move |leg| Remedy::Wedges { supports: vec![leg], wedges }))
            .collect();
        let more = means.boards_most;
        let boards: Vec<Remedy> = (0..problem.boards.len())
            .filter(|_| more > 0)
            .map(|kind| Remedy::MoreBoards { kind, more })
            .collect();
        for firsts in [wedged, boards] {
            let mut best: Option<(i64, usize, Cure)> = None;
            for (place, first) in firsts.iter().enumerate() {
                let with = first.applied(problem);
                if with.check().is_err() {
                    continue;
                }
                let mut inner = Self { budget: self.budget, undecided: 0, cures: Vec::new() };
                // No deeper than the best so far: only less is of use.
                let most = best.as_ref().map_or(means.dig_most.0, |(depth, ..)| depth - 1);
                inner
                    .digging(&with, &Means { dig_feet_most: 1, dig_most: TenthMm(most), ..means.clone() })?;
                self.undecided += inner.undecided;
                for cure in inner.cures {
                    let Remedy::DigIn { feet, .. } = &cure.remedy else { continue };
                    let depth = feet.first().map_or(0, |(_, depth)| depth.0);
                    if best.as_ref().is_none_or(|(least, ..)| depth < *least) {
                        best = Some((depth, place, cure));
                    }
                }
            }
            let Some((_, place, cure)) = best else { continue };
            let second = Box::new(cure.remedy);
            let fewest = |kind: usize, this: &mut Self| {
                let fewer =
                    |more: i64| Remedy::MoreBoards { kind, more: u32::try_from(more).unwrap_or(u32::MAX) };
                let dug = second.applied(problem);
                this.least(i64::from(more), |this, more| this.serves(&fewer(more).applied(&dug), &[]))
                    .map(fewer)
            };
            let first = match firsts[place] {
                Remedy::MoreBoards { kind, .. } => fewest(kind, self),
                ref other => Some(other.clone()),
            };
            if let Some(first) = first {
                self.keep(problem, Remedy::Together(Box::new(first), second))?;
            }
        }
        Ok(())
    }

    /// Settles the depths from the least deepest one upwards, and keeps the first that serves. With no
    /// planarity tolerance there may be none in whole tenths; that counts as undecided.
    fn dig(&mut self, problem: &Problem, feet: &[usize], least: i64, most: i64) -> Result<(), ProblemError> {
        for depth in (least..=most).take(SETTLING_STEPS) {
            let depths = if feet.len() == 1 { Some(vec![depth]) } else { self.depths(problem, feet, depth) };
            let Some(depths) = depths else { continue };
            let feet: Vec<(usize, TenthMm)> =
                feet.iter().copied().zip(depths).map(|(foot, depth)| (foot, TenthMm(depth))).collect();
            let to = if feet.len() == 1 { self.deepest(problem, feet[0], most) } else { TenthMm(depth) };
            if self.keep(problem, Remedy::DigIn { feet, to })? {
                return Ok(());
            }
        }
        self.undecided += 1;
        Ok(())
    }

    /// How deep each foot must go for a choice that is met when each may go down to `most`.
    fn depths(&self, problem: &Problem, feet: &[usize], most: i64) -> Option<Vec<i64>> {
        let dig: Vec<i64> =
            (0..problem.supports.len()).map(|s| if feet.contains(&s) { most } else { 0 }).collect();
        let Lift::Found { engine, chosen, lift, .. } = any_lift(problem, &dig, self.budget.nodes) else {
            return None;
        };
        let seats = engine.seats(&chosen, lift);
        let fixed: Vec<plane::Bound> = fixed_bounds(problem).collect();
        let slopes = (problem.level_tol_x.0, problem.level_tol_y.0);
        let wish = plane::most_central(&seats, &fixed, problem.planarity_tol.0, slopes)?;
        let depth = |&foot: &usize| {
            let (at, seat) = (&problem.supports[foot], &seats[foot]);
            let height = wish[0] + (wish[1] * at.x_mm as f64 + wish[2] * at.y_mm as f64) / 1000.0;
            let bare = seat.low + most;
            (bare - (height.round() as i64)).clamp(0, most)
        };
        Some(feet.iter().map(depth).collect())
    }

    /// The deepest to which one foot may be dug, in steps of 1 mm without a gap.
    fn deepest(&self, problem: &Problem, (foot, from): (usize, TenthMm), most: i64) -> TenthMm {
        let mut to = from;
        for step in 1..=BAND_STEPS {
            let deeper = TenthMm(from.0 + 10 * step);
            let remedy = Remedy::DigIn { feet: vec![(foot, deeper)], to: deeper };
            if deeper.0 > most || self.serves(&remedy.applied(problem), &[]) != Some(true) {
                break;
            }
            to = deeper;
        }
        to
    }
}

/// The most stacks that wedges are tried in together.
const WEDGED_MOST: usize = 3;
/// Steps of 0.1 mm from the least depth within which a whole number of tenths is looked for.
const SETTLING_STEPS: usize = 30;
/// Steps of 1 mm over which a band of depths is followed.
const BAND_STEPS: i64 = 30;

/// Every set of `size` of the first `n` places, in order.
fn sets(n: usize, size: usize) -> Vec<Vec<usize>> {
    let mut list: Vec<Vec<usize>> = vec![Vec::new()];
    for _ in 0..size {
        let longer = |set: &Vec<usize>| {
            let next = set.last().map_or(0, |last| last + 1);
            (next..n).map(|place| [set.as_slice(), &[place]].concat()).collect::<Vec<_>>()
        };
        list = list.iter().flat_map(longer).collect();
    }
    list
}

impl Cure {
    /// What to do, as a sentence in millimetres.
    pub fn sentence(&self, problem: &Problem) -> String {
        self.remedy.sentence(problem)
    }
}

impl Remedy {
    /// What to do, as a sentence in millimetres.
    fn sentence(&self, problem: &Problem) -> String {
        let mm = |length: TenthMm| tober_quantity::significant(length.length().as_mm(), 6);
        let names = |places: &[usize]| {
            places.iter().map(|&place| problem.supports[place].name.as_str()).collect::<Vec<_>>().join(", ")
        };
        match self {
            Self::MoreBoards { kind, more } => {
                format!("Get {more} more of \"{}\".", problem.boards[*kind].name)
            }
            Self::DigIn { feet, to } if feet.len() == 1 => {
                let (foot, depth) = feet[0];
                let name = &problem.supports[foot].name;
                if depth == *to {
                    format!("Dig {name} in by {} mm, and read the ground again before packing.", mm(depth))
                } else {
                    format!(
                        "Dig {name} in by {} mm to {} mm, and read the ground again before packing.",
                        mm(depth),
                        mm(*to)
                    )
                }
            }
            Self::DigIn { feet, .. } => {
                let each: Vec<String> = feet
                    .iter()
                    .map(|(foot, depth)| format!("{} in by {} mm", problem.supports[*foot].name, mm(*depth)))
                    .collect();
                format!("Dig {}, and read the ground again before packing.", each.join(" and "))
            }
            Self::Together(one, other) => format!("{} {}", one.sentence(problem), other.sentence(problem)),
            Self::Wedges { supports, wedges } => format!(
                "Put a pair of wedges, set from {} to {} mm, between two timbers under {}.",
                mm(wedges.least),
                mm(wedges.most),
                names(supports)
            ),
            Self::Packers { packer, sheets } => {
                format!(
                    "Cut {sheets} of \"{}\", {} mm thick, to lie between timbers.",
                    packer.name,
                    mm(packer.thickness)
                )
            }
        }
    }
}
