//! Every claim about a ride book's steps, checked a second time by the part that did not make it.
//!
//! The book is read into plain numbers anew ([`reading`]), what must be claimed is made from these, and each claim is then
//! handed to `tober-fit` with its proof, its story, its cure or its way back. A claim that is missing, that says something
//! else, or that does not stand is a contradiction: a fault of ours, not of the book.

mod reading;
mod translate;

use reading::Reading;
use std::collections::BTreeSet;
use tober_book::Ride;
use tober_fit::procedure::{self as fit, Claim as Plain, Found, Order, Refusal};
use tober_procedure::{Claim, Cure, Prover, Run, Statement, Verdict, Way};

/// Up to how many stages of one claim are gone through.
const STAGES: usize = 20_000;
/// Up to how many looks the ways back may take, over all of them.
const LOOKS: usize = 2_000_000;

/// What was checked a second time.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Again {
    /// Claims whose proof names what bars each wrong state.
    pub barred: usize,
    /// Claims whose pairs are all in an order.
    pub ordered: usize,
    /// Claims whose cuts add up.
    pub cuts: usize,
    /// Claims seen from the steps themselves.
    pub plain: usize,
    /// Claims that were gone through stage by stage.
    pub gone_through: usize,
    /// Stories replayed.
    pub replayed: usize,
    /// Cures checked.
    pub cures: usize,
    /// Stages from which the way back was followed.
    pub ways_back: usize,
    /// Claims that the book does not say enough for.
    pub not_known: usize,
    /// What was not checked, and why.
    pub not_checked: Vec<(String, String)>,
    /// What contradicts itself: a fault of ours.
    pub contradictions: Vec<String>,
}

impl Again {
    /// How many claims were checked.
    pub fn claims(&self) -> usize {
        self.barred + self.ordered + self.cuts + self.plain + self.gone_through + self.replayed
    }
}

/// Checks every claim about a ride's steps a second time.
pub fn again(ride: &Ride, absent: &BTreeSet<&str>, claims: &[Claim]) -> Again {
    check(ride, absent, claims, false)
}

/// As [`again`], and every claim is gone through stage by stage besides, whatever its proof: for small rides, in tests.
pub fn again_by_stages(ride: &Ride, absent: &BTreeSet<&str>, claims: &[Claim]) -> Again {
    check(ride, absent, claims, true)
}

fn check(ride: &Ride, absent: &BTreeSet<&str>, claims: &[Claim], by_stages: bool) -> Again {
    let mut again = Again::default();
    if ride.steps.is_empty() {
        return again;
    }
    let Ok(runs) = tober_procedure::runs(ride, absent) else {
        let circle = |night: bool| Order::new(&Reading::of(ride, absent, night).program, &[]).is_err();
        if circle(false) || circle(true) {
            again.replayed += 1;
        } else {
            again.contradictions.push("A circle of steps is claimed, and there is none.".to_owned());
        }
        return again;
    };
    for run in &runs {
        let reading = Reading::of(ride, absent, run.way == Way::Night);
        match Order::new(&reading.program, &[]) {
            Ok(order) => {
                Checker { run, reading, order, prover: Prover::new(run), by_stages }.all(claims, &mut again);
            }
            Err(refusal) => again.contradictions.push(format!("{}: {refusal}", run.way.word())),
        }
    }
    again
}

struct Checker<'a> {
    run: &'a Run<'a>,
    reading: Reading,
    order: Order,
    prover: Prover<'a>,
    by_stages: bool,
}

impl Checker<'_> {
    fn all(&self, claims: &[Claim], again: &mut Again) {
        if let Some(wrong) = self.same_order() {
            again.contradictions.push(wrong);
            return;
        }
        let mut claimed: BTreeSet<Plain> = BTreeSet::new();
        let mut proved: Vec<Plain> = Vec::new();
        let asked = fit::asked(&self.reading.program);
        for claim in claims {
            let here = claim.way == self.run.way;
            // What fails on one way through the visit stands once, and answers for the other.
            let elsewhere = !here && !matches!(claim.verdict, Verdict::Proved);
            if !here && !elsewhere {
                continue;
            }
            let tell = |says: String| format!("{} ({}): {says}", claim.subject, self.run.way.word());
            if claim.said == Statement::Order {
                again.plain += usize::from(here);
                continue;
            }
            if claim.said == Statement::Words {
                if here && matches!(claim.verdict, Verdict::NotKnown(_)) {
                    again.not_known += 1;
                } else if here {
                    again.not_checked.push((claim.subject.clone(), "it is said in words only".to_owned()));
                }
                continue;
            }
            let Some(plain) = self.reading.claim(self.run.ride, &claim.said) else {
                if here && !matches!(claim.verdict, Verdict::NotKnown(_)) {
                    again.contradictions.push(tell("it names what is not in the book".to_owned()));
                }
                continue;
            };
            claimed.insert(plain.clone());
            if !here {
                continue;
            }
            if !asked.contains(&plain) {
                again.contradictions.push(tell("the book does not ask for it".to_owned()));
                continue;
            }
            if let Some(thing) = self.written_twice(&plain) {
                again.not_checked.push((claim.subject.clone(), format!("a step changes {thing} twice")));
                continue;
            }
            match &claim.verdict {
                Verdict::NotKnown(_) => again.not_known += 1,
                Verdict::Proved => match self.proved(claim, &plain, again) {
                    Ok(()) => proved.push(plain),
                    Err(refusal) => again.contradictions.push(tell(refusal.to_string())),
                },
                Verdict::Refuted(_) => {
                    if let Err(refusal) = self.refuted(claim, &plain, again) {
                        again.contradictions.push(tell(refusal.to_string()));
                    }
                }
            }
        }
        for missing in asked.difference(&claimed) {
            again
                .contradictions
                .push(format!("Nothing was claimed of {missing:?} ({}).", self.run.way.word()));
        }
        self.ways_back(&proved, again);
    }

    /// Whether both readings have the same steps in the same order, or where they differ.
    fn same_order(&self) -> Option<String> {
        let names: Vec<&str> = self.run.steps.iter().map(|step| step.name.as_str()).collect();
        if names != self.reading.steps {
            return Some(format!("The steps that are done are read in two ways, {}.", self.run.way.word()));
        }
        let steps = 0..names.len();
        let differ = steps.clone().find_map(|one| {
            let other = steps
                .clone()
                .find(|&other| self.run.order.is_before(one, other) != self.order.is_before(one, other))?;
            Some((one, other))
        });
        differ.map(|(one, other)| {
            format!("Whether \"{}\" comes before \"{}\" is read in two ways.", names[one], names[other])
        })
    }

    /// A thing of a claim that one step changes twice: which of the two comes last is not said.
    fn written_twice(&self, claim: &Plain) -> Option<String> {
        let about = |thing: usize| match *claim {
            Plain::Begins { thing: of, .. }
            | Plain::BeginsNot { thing: of, .. }
            | Plain::OpenIs { thing: of, .. }
            | Plain::Never { thing: of, .. }
            | Plain::HomeNot { thing: of, .. }
            | Plain::Home { thing: of } => of == thing,
            Plain::Open { body } => body == thing,
            Plain::Held { .. } | Plain::OnTheLine { .. } | Plain::WayBack { .. } => true,
            _ => false,
        };
        let twice = self.reading.program.work.iter().find_map(|work| {
            work.changes.iter().enumerate().find_map(|(at, change)| {
                let again = work.changes[..at].iter().any(|before| before.thing == change.thing);
                (again && about(change.thing)).then_some(change.thing)
            })
        })?;
        let name = self.reading.things.iter().find(|(_, number)| **number == twice);
        name.map(|(name, _)| format!("{name:?}"))
    }

    fn proved(&self, claim: &Claim, plain: &Plain, again: &mut Again) -> Result<(), Refusal> {
        if self.by_stages
            && let Found::Offence { done, begun } =
                fit::enumerate(&self.reading.program, &self.order, plain, usize::MAX)?
        {
            return Err(Refusal::Offends { done, begun });
        }
        let proof = self.prover.proof(&self.run.order, &claim.said);
        let proof = proof.and_then(|proof| self.reading.proof(&proof)).ok_or(Refusal::WrongKind)?;
        let refusal = match fit::proof(&self.reading.program, &self.order, plain, &proof) {
            Ok(()) => {
                *match proof {
                    fit::Proof::Bars(_) => &mut again.barred,
                    fit::Proof::Ordered => &mut again.ordered,
                    fit::Proof::Cuts(_) => &mut again.cuts,
                    fit::Proof::Plain => &mut again.plain,
                } += 1;
                return Ok(());
            }
            Err(refusal) => refusal,
        };
        // A proof that leaves a case out proves nothing; while there are few stages, they decide.
        if !matches!(
            refusal,
            Refusal::NotCovered { .. } | Refusal::NotBarred { .. } | Refusal::CutTooLow { .. }
        ) {
            return Err(refusal);
        }
        match fit::enumerate(&self.reading.program, &self.order, plain, STAGES)? {
            Found::Nothing { .. } => again.gone_through += 1,
            Found::Offence { done, begun } => return Err(Refusal::Offends { done, begun }),
            Found::TooMany => {
                let why = format!("its proof leaves a case open, and there are more than {STAGES} stages");
                again.not_checked.push((claim.subject.clone(), why));
            }
        }
        Ok(())
    }

    fn refuted(&self, claim: &Claim, plain: &Plain, again: &mut Again) -> Result<(), Refusal> {
        let Verdict::Refuted(refutation) = &claim.verdict else { return Ok(()) };
        let number = |name: &String| self.reading.step(name).ok_or(Refusal::NoSuchThing);
        let done: Vec<usize> =
            refutation.done.iter().map(|told| number(&told.step)).collect::<Result<_, _>>()?;
        let begun: Vec<usize> = refutation.begun.iter().map(number).collect::<Result<_, _>>()?;
        fit::story(&self.reading.program, &self.order, plain, &done, &begun)?;
        again.replayed += 1;
        if refutation.shortest {
            let found = fit::enumerate(&self.reading.program, &self.order, plain, STAGES)?;
            if let Found::Offence { done: least, begun: with } = found {
                let (said, found) = (done.len() + begun.len(), least.len() + with.len());
                if said != found {
                    return Err(Refusal::NotShortest { said, found });
                }
            }
        }
        let mut cure = fit::Cure { rules: Vec::new(), fewest: false, with: None, without: Vec::new() };
        match &refutation.cure {
            Cure::Open => return Ok(()),
            Cure::NoOrder => {}
            Cure::Rules { rules, fewest } => {
                for (first, waits) in rules {
                    cure.rules.push((number(first)?, number(waits)?));
                }
                cure.fewest = *fewest;
                // Both readings number the steps alike: that was compared first.
                let order = self.run.order.with(&cure.rules).ok_or(Refusal::Circle)?;
                let with = self.prover.proof(&order, &claim.said);
                cure.with = with.and_then(|proof| self.reading.proof(&proof));
                if rules.len() == 1 {
                    cure.without = vec![Some((done, begun))];
                }
            }
        }
        let checked = fit::cure(&self.reading.program, plain, &cure, STAGES)?;
        if checked.cures && (cure.rules.is_empty() || (checked.each_needed && checked.fewest == cure.fewest))
        {
            again.cures += 1;
        } else {
            let why = "going through every smaller set of rules would take too long".to_owned();
            again.not_checked.push((format!("the cure of {}", claim.subject), why));
        }
        Ok(())
    }

    /// The way back from the open ride, and from the smallest stage that holds each step, while the work lasts.
    fn ways_back(&self, proved: &[Plain], again: &mut Again) {
        let stage_claim = |claim: &&Plain| {
            matches!(claim, Plain::Bounds { .. } | Plain::Held { .. } | Plain::OnTheLine { .. })
        };
        let hold: Vec<Plain> = proved.iter().filter(stage_claim).cloned().collect();
        let steps = self.run.steps.len();
        let set = |done: &dyn Fn(usize) -> bool| {
            tober_calc::orders::StepSet::from(steps, (0..steps).filter(|&step| done(step)))
        };
        let open = self.reading.program.open_after.unwrap_or(usize::MAX);
        let mut stages = vec![set(&|step| self.reading.program.phase[step] <= open)];
        let least = (0..steps).map(|last| set(&|step| step == last || self.order.is_before(step, last)));
        stages.extend(least);
        let mut left = LOOKS;
        for stage in stages {
            let Some(back) = tober_procedure::way_back(self.run, &stage) else {
                again.contradictions.push("A stage has no way back.".to_owned());
                return;
            };
            let work = (2 * back.undo.len() + 1).saturating_mul(hold.len() + 1);
            if work > left {
                let why = "more looks than are taken over all ways back".to_owned();
                again.not_checked.push(("the ways back from further stages".to_owned(), why));
                return;
            }
            left -= work;
            let retreat = fit::Retreat {
                stage: stage.iter().collect(),
                undo: back.undo.iter().map(|undone| undone.step).collect(),
                left: back.left.iter().collect(),
                home: back.home,
            };
            match fit::retreat(&self.reading.program, &self.order, &hold, &retreat) {
                Ok(_) => again.ways_back += 1,
                Err(refusal) => {
                    again.contradictions.push(format!("A way back ({}): {refusal}", self.run.way.word()));
                    return;
                }
            }
        }
    }
}
