//! Lower, read, trim: from a lowered frame that was read to the least change, in the crew's words.

mod ask;
mod feet;
mod least;
mod model;
mod words;

pub use model::{
    After, AfterLeg, Foot, FootLoad, FrameRead, FrameWay, LegChange, Stood, Trim, TrimError, TrimLeg,
};

use crate::Books;
use crate::assemble::{held, layer, whole};
use crate::carried::band_of;
use crate::cures::cures;
use crate::heights::heights;
use crate::model::{LegPlan, Plan};
use crate::packing::{Asked, Check, along, asked, verify};
use std::collections::BTreeMap;
use tober_calc::finding::{Finding, Standing, Subject};
use tober_calc::packing::trim::{self as calc, Found, Outcome, Question};
use tober_calc::packing::{Budget, Choice, Stage};
use tober_quantity::Length;
use words::{Said, capitalised};

/// The least change that brings a lowered frame inside the maker's tolerances, and what is found of it.
///
/// `plan` is the plan that was built, `stood` what stands now (after earlier rounds: [`Trim::stood`]), `read` what
/// was read. Where something is not read, what can be told of the rest is told. A change is checked by `tober-fit` on
/// the ground as it bears; one that is refused is not given.
///
/// # Errors
/// A [`TrimError`] where what was told cannot be: names that are not there, settings a leg has not, readings
/// that are none.
pub fn trim(books: Books<'_>, plan: &Plan, stood: &[Stood], read: &FrameRead) -> Result<Trim, TrimError> {
    let Books { ride, kit, pitch, visit } = books;
    let surveyed = heights(ride, pitch, visit);
    let Asked { mut problem, assumed, .. } = asked(ride, kit, pitch, &surveyed);
    // A foot under which nothing was surveyed stands at no height, so nothing can be carried over to it.
    let blind = problem.supports.iter().any(|support| !surveyed.under.contains_key(&support.name));
    let cannot_clear = blind && !problem.clearances.is_empty();
    if blind {
        problem.clearances.clear();
    }
    let question = ask::question(problem, plan, stood, read)?;
    let trimmed = calc::solve(&question, &Budget::usual()).map_err(TrimError::Refused)?;
    let Found { mut now, mut after } = calc::findings(&question, &trimmed);
    for why in &assumed {
        now = now.into_iter().map(|finding| finding.doubted(why)).collect();
        after = after.into_iter().map(|finding| finding.doubted(why)).collect();
    }
    if cannot_clear {
        now.push(not_clear());
    }
    let check = trimmed.choice().map_or(Check::NoChoice, |choice| verify(&trimmed.problem, choice, kit));
    let fits = !matches!(check, Check::Refused(_));
    match check {
        Check::NoChoice => {}
        Check::Fits => now.push(fit(true)),
        Check::Refused(why) => {
            let advice = "Change nothing by this answer, and report it: the fault is ours.";
            now = vec![why.into_iter().fold(fit(false), Finding::note).advice(advice)];
            after = Vec::new();
        }
    }
    let least = fits.then(|| least::checked(&question, &trimmed, kit)).flatten();
    let least_refused = least.as_ref().is_some_and(|finding| finding.standing == Standing::NotKnown);
    now.extend(least);
    let loads = Vec::new();
    let mut answer =
        Answer { books, plan, question: &question, trimmed: &trimmed, fits, least_refused, loads };
    if fits {
        answer.loads = answer.loads_as_read(stood, read, &surveyed, &assumed);
    }
    Ok(answer.told(now, after, stood, read))
}

fn fit(holds: bool) -> Finding {
    let title = "the trim passes the check of the part that did not choose it";
    Finding::statement("trim.fit", Subject::Frame, title, holds).never_overridden()
}

fn not_clear() -> Finding {
    let what = "The ground under every foot as it was surveyed, to which the reading can be tied.";
    Finding::not_known("trim.clearance", Subject::Frame, "what must be clear of the ground is clear", what)
        .advice("Look, and measure, at every part that must be clear of the ground.")
}

/// The worst standing of what is found about a leg; not known where nothing is.
fn standing_of(leg: &str, findings: &[Finding]) -> Standing {
    let about = findings.iter().filter(|f| f.subject == Subject::Support(leg.to_owned()));
    whole(&about.cloned().collect::<Vec<Finding>>())
}

struct Answer<'a> {
    books: Books<'a>,
    plan: &'a Plan,
    question: &'a Question,
    trimmed: &'a calc::Trim,
    /// Whether the choice, where there is one, passed its check.
    fits: bool,
    /// Whether the proof that no lesser change serves was refused.
    least_refused: bool,
    /// What is found of the loads with what was read of the feet.
    loads: Vec<Finding>,
}

impl Answer<'_> {
    fn said(&self) -> Said {
        Said { units: self.plan.units, words: self.plan.words }
    }

    /// The choice that may be acted on.
    fn choice(&self) -> Option<&Choice> {
        self.trimmed.choice().filter(|_| self.fits)
    }

    fn told(&self, mut now: Vec<Finding>, after: Vec<Finding>, stood: &[Stood], read: &FrameRead) -> Trim {
        let misses = self.misses();
        let change = self.change(stood, &now, &after);
        let cures = match self.trimmed.outcome {
            Outcome::Nothing { .. } => cures(&self.trimmed.problem, self.books.kit),
            _ => Vec::new(),
        };
        let slopes = calc::slopes_now(self.question, self.trimmed);
        let frame = whole(&now);
        let (about, loads) = feet::parted(&self.loads);
        now.extend(about);
        Trim {
            units: self.plan.units,
            words: self.plan.words,
            standing: whole(&now),
            legs: self.legs(&now, &misses, read),
            proof: self.proof().to_owned(),
            next: self.stop().unwrap_or_default() + &self.next(&change, &cures, frame),
            cures,
            level_along: slopes.map(|slopes| slopes[0]),
            level_across: slopes.map(|slopes| slopes[1]),
            after: (!change.is_empty()).then(|| self.after(after, read)),
            stood: self.stood(stood, &change),
            change,
            findings: now,
            loads,
        }
    }

    fn misses(&self) -> BTreeMap<&str, Length> {
        let misses = calc::misses(self.question, self.trimmed);
        let named = self.question.problem.supports.iter().zip(misses);
        named.filter_map(|(support, miss)| Some((support.name.as_str(), miss?))).collect()
    }

    fn place(&self, leg: &str) -> Option<usize> {
        self.question.problem.supports.iter().position(|support| support.name == leg)
    }

    fn legs(&self, now: &[Finding], misses: &BTreeMap<&str, Length>, read: &FrameRead) -> Vec<TrimLeg> {
        let one = |leg: &LegPlan| {
            let height = match &read.way {
                FrameWay::Heights { at, .. } => at.get(&leg.name).copied(),
                FrameWay::Level { .. } => None,
            };
            TrimLeg {
                name: leg.name.clone(),
                short: leg.short.clone(),
                height,
                miss: misses.get(leg.name.as_str()).copied(),
                foot: read.feet.get(&leg.name).copied(),
                load: band_of(&self.loads, &leg.name),
                standing: standing_of(&leg.name, now),
            }
        };
        self.plan.legs.iter().map(one).collect()
    }

    /// A leg of the plan with what stands there in place of what was planned.
    fn as_it_stands(&self, leg: &LegPlan, stood: &[Stood], miss: Length, standing: Standing) -> LegPlan {
        let Some(stands) = stood.iter().find(|stood| stood.leg == leg.name) else { return leg.clone() };
        let as_planned = Stood::of_leg(leg) == *stands;
        let kinds: Vec<usize> = stands.layers.iter().filter_map(|name| self.kind(name)).collect();
        let mut leg = self.laid(leg, &kinds);
        leg.held = stands.held.clone();
        leg.residual = miss;
        leg.load = leg.load.filter(|_| as_planned);
        leg.standing = standing;
        leg.remarks = Vec::new();
        leg
    }

    fn kind(&self, name: &str) -> Option<usize> {
        self.trimmed.problem.boards.iter().position(|board| board.name == name)
    }

    /// A leg with boards of these kinds under it, from the ground up.
    fn laid(&self, leg: &LegPlan, kinds: &[usize]) -> LegPlan {
        let problem = &self.trimmed.problem;
        let ways = along(problem, kinds);
        let layers = kinds.iter().zip(ways);
        let layers =
            layers.filter_map(|(&kind, along)| layer(self.books.kit, &problem.boards[kind].name, along));
        let stack = kinds.iter().map(|&kind| problem.boards[kind].thickness.length());
        LegPlan {
            layers: layers.collect(),
            stack: stack.fold(Length::ZERO, |sum, thick| sum + thick),
            ..leg.clone()
        }
    }

    fn change(&self, stood: &[Stood], now: &[Finding], after: &[Finding]) -> Vec<LegChange> {
        let Some(choice) = self.choice() else { return Vec::new() };
        let mut list = Vec::new();
        for leg in &self.plan.legs {
            let Some(place) = self.place(&leg.name) else { continue };
            let Some(changed) = self.trimmed.changed().iter().find(|changed| changed.support == place) else {
                continue;
            };
            let Some(support) = self.books.ride.support(&leg.name) else { continue };
            let misses = self.misses();
            let miss = misses.get(leg.name.as_str()).copied().unwrap_or(Length::ZERO);
            let from = self.as_it_stands(leg, stood, miss, standing_of(&leg.name, now));
            let placed = &choice.supports[place];
            let mut to = self.laid(&from, &placed.laid);
            to.held = held(support, placed);
            to.lift = placed.lift.length();
            to.residual = miss + changed.up.length();
            to.load = None;
            to.standing = standing_of(&leg.name, after);
            let from = LegPlan { lift: (placed.lift - changed.up).length(), ..from };
            let said = self.said();
            list.push(LegChange {
                leg: leg.name.clone(),
                short: leg.short.clone(),
                up: changed.up.length(),
                handled: changed.handled,
                words: said.change(&from, &to),
                sum: said.sum(&from, &to, changed.up.length()),
                steps: said.steps(&from, &to),
                from,
                to,
            });
        }
        list
    }

    fn after(&self, findings: Vec<Finding>, read: &FrameRead) -> After {
        let slopes = calc::slopes_after(self.question, self.trimmed);
        let misses = self.misses();
        let by_height = matches!(read.way, FrameWay::Heights { .. });
        let mut legs = Vec::new();
        for leg in &self.plan.legs {
            let (Some(place), Some(choice)) = (self.place(&leg.name), self.choice()) else { continue };
            let top = self.trimmed.tops[place].map_or(Length::ZERO, tober_quantity::TenthMm::length);
            let seat = choice.supports[place].seat.length();
            let miss = misses.get(leg.name.as_str()).copied().unwrap_or(Length::ZERO);
            legs.push(AfterLeg {
                name: leg.name.clone(),
                height: by_height.then_some(seat),
                miss: miss + seat - top,
            });
        }
        After {
            standing: whole(&findings),
            findings,
            legs,
            level_along: slopes.map(|slopes| slopes[0]),
            level_across: slopes.map(|slopes| slopes[1]),
        }
    }

    /// What stands once the change is made.
    fn stood(&self, stood: &[Stood], change: &[LegChange]) -> Vec<Stood> {
        let one = |stands: &Stood| {
            let changed = change.iter().find(|change| change.leg == stands.leg);
            changed.map_or_else(|| stands.clone(), |change| Stood::of_leg(&change.to))
        };
        stood.iter().map(one).collect()
    }

    fn proof(&self) -> &'static str {
        if !self.fits {
            return "Refused by the check.";
        }
        if self.least_refused {
            return match &self.trimmed.outcome {
                Outcome::Nothing { .. } => "No change was found; that none serves is not proved.",
                _ => "Best found, not proved least.",
            };
        }
        match &self.trimmed.outcome {
            Outcome::Inside { .. } => "Proved: nothing has to change.",
            Outcome::Change { proof: Stage::Proved, .. } => "Proved least.",
            Outcome::Change { proof: Stage::BestMet, .. } => "Best found, not proved least.",
            Outcome::NotRead { .. } => "Not known: something is not read.",
            Outcome::TooCoarse => "Not known: the reading is too coarse.",
            Outcome::Nothing { .. } => "Proved: no change serves.",
            Outcome::NotReached => "Not known: the search ended first.",
        }
    }

    fn next(&self, change: &[LegChange], cures: &[String], standing: Standing) -> String {
        if !self.fits {
            return "Change nothing by this answer, and report it: the fault is ours. Trim by hand."
                .to_owned();
        }
        let names: Vec<&str> = self.question.problem.supports.iter().map(|s| s.name.as_str()).collect();
        match &self.trimmed.outcome {
            Outcome::NotRead { missing } => self.said().missing(&names, missing),
            Outcome::Inside { .. } => match standing {
                Standing::Inside => "Nothing to change. The frame is in.".to_owned(),
                Standing::Close => "Nothing to change. It is close: read it again once it has been loaded.".to_owned(),
                Standing::PastLimit => "Nothing of holes and boards to change; look at what is past its limit.".to_owned(),
                Standing::NotKnown => "Nothing to change by this reading. Look at what is not known.".to_owned(),
            },
            Outcome::Change { .. } => {
                let words: Vec<&str> = change.iter().map(|change| change.words.as_str()).collect();
                format!("{} Then kick every foot and read the frame again.", words.join(" "))
            }
            Outcome::TooCoarse => {
                "This reading may be off by as much as the frame may be. Read it again with something finer."
                    .to_owned()
            }
            Outcome::Nothing { short } => {
                let reach = short.first().map_or(String::new(), |&(place, short)| {
                    let (name, short) = (capitalised(names[place]), self.said().length(short.length()));
                    format!(" {name} cannot be reached: {short} short.")
                });
                let cure = cures.first().map_or(String::new(), |cure| format!(" {cure}"));
                format!("Do not build here as it stands: no change of holes and boards brings the frame in.{reach}{cure}")
            }
            Outcome::NotReached => {
                "No change was found in the work allowed, and none was ruled out. Trim by hand, or shift the trailer."
                    .to_owned()
            }
        }
    }
}
