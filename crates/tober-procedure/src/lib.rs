//! The steps of a ride as a checked program: which state each step leaves, every order that a crew may take, and
//! whether anything goes wrong in one of them.
//!
//! A ride book restricts order only by `after` and by the phases, so a *stage* is a set of steps done that holds with
//! each step everything it waits for. Every claim here is decided over *all* stages, not over the printed order:
//!
//! - *States* (where a body is, how something is switched, what the winch line is on): the last step that changed it is
//!   found for every order at once ([`track`]); smallest stages give shortest stories.
//! - *Counts* (pins in a home): start plus a sum over the steps done; least and greatest by a minimum cut
//!   ([`tober_calc::orders`]). A step under way has taken and not yet brought, or the other way about.
//! - *Races*: two steps that no rule orders and that touch the same thing.
//!
//! A claim that does not hold comes with a [`Refutation`]: an order that shows it, what is wrong at its end, and the
//! fewest further `after` rules that would cure it. Everything here rests on what the book says; what it does not say is
//! [`Verdict::NotKnown`].
//!
//! Cost, for n steps and f homes: the order O(n^2), states O(n) a need, races O(k^2) for k steps that touch one thing,
//! two cuts a home, one for each holder of a placement that a step leaves, and for each window in which a holder holds;
//! a cut is O(n^2 m) at worst and near O(n) on real books. A cure tries the claim up to a bounded number of times.
//! `benches/prove.rs` measures it: 300 steps with 400 kinds of fixing take 30 to 40 times the 84 steps of a demo ride.
//!
//! # Not covered
//! Either/or precedence, a step that is done twice in one run, and loads (these are the plan's, stage by stage).

mod back;
mod carried;
mod claim;
mod counts;
mod cure;
mod ends;
mod free;
mod held;
mod proof;
mod races;
mod run;
mod said;
pub mod stages;
mod state;
mod story;
mod track;
mod what_if;
mod winch;
mod zones;

pub use back::{Mark, Undone, WayBack, marks, way_back};
pub use claim::{Claim, Refutation, Rule, Told, Verdict};
pub use cure::Cure;
pub use proof::{Bar, Cut, Proof, Prover};
pub use run::{Run, Way, runs};
pub use said::{InCommon, Statement, Thing};
pub use what_if::{Now, Wrong, ready, what_if};

use claim::{Asked, Test};
use std::collections::BTreeSet;
use tober_book::Ride;

/// What was proved, refuted or left open about a ride book's steps.
#[derive(Clone, Debug, Default)]
pub struct Proofs {
    /// Every claim. One that is refuted on two ways through the visit stands once.
    pub claims: Vec<Claim>,
}

impl Proofs {
    /// The claims refuted.
    pub fn refuted(&self) -> impl Iterator<Item = (&Claim, &Refutation)> {
        self.claims.iter().filter_map(|claim| match &claim.verdict {
            Verdict::Refuted(refutation) => Some((claim, &**refutation)),
            _ => None,
        })
    }

    /// The claims not known, with why.
    pub fn not_known(&self) -> impl Iterator<Item = (&Claim, &str)> {
        self.claims.iter().filter_map(|claim| match &claim.verdict {
            Verdict::NotKnown(why) => Some((claim, why.as_str())),
            _ => None,
        })
    }

    /// How many claims of a rule were proved.
    pub fn proved(&self, rule: Rule) -> usize {
        self.claims
            .iter()
            .filter(|claim| claim.rule == rule && matches!(claim.verdict, Verdict::Proved))
            .count()
    }
}

/// Proves or refutes everything that a ride book's steps must keep, in every order, without the bodies that stay at
/// home.
pub fn prove(ride: &Ride, absent: &BTreeSet<&str>) -> Proofs {
    let mut proofs = Proofs::default();
    if ride.steps.is_empty() {
        return proofs;
    }
    let runs = match runs(ride, absent) {
        Ok(runs) => runs,
        Err(circle) => {
            let names: Vec<String> = circle.iter().map(|step| format!("\"{}\"", step.name)).collect();
            let refutation = Refutation {
                says: format!("These steps wait for each other in a circle, over their phases: {}.", names.join(" after ")),
                help: "A step waits for every step of the phases before its own; take an `after` out that names a step of a later phase.".to_owned(),
                done: Vec::new(),
                begun: Vec::new(),
                shortest: false,
                cure: Cure::NoOrder,
            };
            proofs.claims.push(Claim {
                rule: Rule::Order,
                said: Statement::Order,
                way: Way::Day,
                subject: "the steps".to_owned(),
                span: circle.first().map_or(ride.steps[0].place.section, |step| step.place.key("after")),
                verdict: Verdict::Refuted(Box::new(refutation)),
            });
            return proofs;
        }
    };
    for run in &runs {
        proofs.claims.push(Claim {
            rule: Rule::Order,
            said: Statement::Order,
            way: run.way,
            subject: format!("{} steps", run.steps.len()),
            span: ride.steps[0].place.section,
            verdict: Verdict::Proved,
        });
        let tracks = track::tracks(run);
        let mut asked = state::moves(run, &tracks);
        asked.extend(state::needs(run, &tracks));
        asked.extend(counts::needs(run));
        asked.extend(races::races(run, &tracks));
        asked.extend(counts::bounds(run));
        asked.extend(held::held(run, &tracks));
        asked.extend(carried::carried(run, &tracks));
        asked.extend(free::free(run, &tracks));
        asked.extend(winch::winch(run, &tracks));
        asked.extend(zones::zones(run, &tracks));
        asked.extend(ends::open(run, &tracks));
        asked.extend(ends::home(run, &tracks));
        asked.extend(counts::home_again(run));
        asked.extend(ends::way_back(run, &tracks));
        for asked in asked {
            let claim = decide(run, &tracks, asked);
            let same = |there: &Claim| {
                there.rule == claim.rule
                    && there.said == claim.said
                    && there.span == claim.span
                    && there.subject == claim.subject
                    && !matches!(there.verdict, Verdict::Proved)
            };
            let told = !matches!(claim.verdict, Verdict::Proved) && proofs.claims.iter().any(same);
            if !told {
                proofs.claims.push(claim);
            }
        }
    }
    proofs
}

fn decide(run: &Run<'_>, tracks: &state::Tracks<'_>, asked: Asked<'_>) -> Claim {
    let verdict = match &asked.test {
        Test::NotKnown(why) => Verdict::NotKnown(why.clone()),
        Test::Every(offends) => match offends(&run.order) {
            None => Verdict::Proved,
            Some(offence) => {
                let name = |step: usize| run.step(step).name.clone();
                let cure = match cure::cure(&run.order, offends, &proof::writers(tracks, &asked.said)) {
                    cure::Found::Rules(rules, fewest) => Cure::Rules {
                        rules: rules.into_iter().map(|(first, waits)| (name(first), name(waits))).collect(),
                        fewest,
                    },
                    cure::Found::NoOrder => Cure::NoOrder,
                    cure::Found::Open => Cure::Open,
                };
                Verdict::Refuted(Box::new(Refutation {
                    says: offence.says,
                    help: asked.help,
                    done: story::story(run, tracks, &asked.said, &offence.done, &asked.matters),
                    shortest: proof::is_shortest(run, tracks, &run.order, &asked.said),
                    begun: offence.begun.iter().map(name).collect(),
                    cure,
                }))
            }
        },
    };
    Claim {
        rule: asked.rule,
        said: asked.said,
        way: run.way,
        subject: asked.subject,
        span: asked.span,
        verdict,
    }
}
