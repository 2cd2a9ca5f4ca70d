//! The chance as a finding, with the deviations that it rests on.

use super::super::model::Problem;
use super::{Chance, Doubts};
use crate::finding::{Basis, Finding, Measure, Proof, Standing, Subject};
use crate::working::{Provenance, Working, sum};
use tober_quantity::{Amount, Shown};

const CODE: &str = "packing.chance";

/// What is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// What was read, and joints as they bed in: how the frame stands before the ground gives.
    Readings,
    /// That, and what timber and ground give under the loads once open.
    Ground,
}

impl Counted {
    fn title(self) -> &'static str {
        match self {
            Self::Readings => {
                "chance that the frame stands in tolerance once lowered, were the ground not to give"
            }
            Self::Ground => {
                "chance that the frame stands in tolerance under its loads, with what the ground gives"
            }
        }
    }
}

/// Below this a trim is to be reckoned with. Ours.
const LIKELY: f64 = 0.9;
/// A reading that raises the chance by less than this is not worth the walk. Ours.
const WORTH: f64 = 0.01;

/// Where something that the chance rests on is not known: no figure, and what is missing.
pub fn not_known(counted: Counted, missing: &str) -> Finding {
    Finding::not_known(CODE, Subject::Frame, counted.title(), missing)
}

fn percent(share: f64, up: bool) -> f64 {
    // A hair of rounding must not make 90 of 90.000000001.
    let whole = if up { (100.0 * share - 1e-6).ceil() } else { (100.0 * share + 1e-6).floor() };
    whole.clamp(0.0, 100.0)
}

/// The chance as a finding: a band in whole per cent, never past a limit, as no maker gives one; close where a trim is to
/// be reckoned with.
pub fn finding(problem: &Problem, doubts: &Doubts, found: &Chance, counted: Counted) -> Finding {
    let low = percent((found.chance - found.off_by).max(found.at_least), false);
    let high = percent((found.chance + found.off_by).min(found.at_most), true);
    let share = |percent: f64| Amount { si: percent / 100.0, shown: Shown::Share };
    let mut finding = Finding::statement(CODE, Subject::Frame, counted.title(), true);
    finding.measure = Measure::Figure { low: share(low), high: share(high) };
    finding.standing = if low >= 100.0 * LIKELY { Standing::Inside } else { Standing::Close };
    let bound = format!(
        "proved no less than {} % and no more than {} %",
        percent(found.at_least, false),
        percent(found.at_most, true)
    );
    finding = finding
        .proof(Proof::Bounded { bound })
        .basis(Basis::ours("under nine times in ten a trim is to be reckoned with"))
        .working(deviations(problem, doubts))
        .note(
            "In tolerance: one plane inside level both ways meets every leg inside planarity. Causes are taken as normal and \
             independent; the band is from a lattice of lines, the proof from sums of single and paired chances.",
        );
    let (legs, likely) = &found.weakest;
    if *likely >= WORTH && !legs.is_empty() {
        let names: Vec<&str> = legs.iter().map(|&leg| problem.supports[leg].name.as_str()).collect();
        finding = finding
            .note(format!("Likeliest to be out: the heights of {} against each other.", names.join(", ")));
    }
    match found.raises.first().filter(|raise| raise.chance - found.chance >= WORTH) {
        Some(raise) => finding.advice(format!(
            "What raises it most: {}. If it reads the same, the chance is about {} %.",
            doubts.causes[raise.cause].again,
            percent(raise.chance, false)
        )),
        None if finding.standing == Standing::Close => finding.advice(
            "No reading raises it by much. Keep boards for a trim at hand, and read the frame once lowered.",
        ),
        None => finding,
    }
}

/// For each leg what each cause does to it, and all together.
fn deviations(problem: &Problem, doubts: &Doubts) -> Working {
    let mut w = Working::new();
    for (leg, support) in problem.supports.iter().enumerate() {
        let mut squares = Vec::new();
        for (place, cause) in doubts.causes.iter().enumerate() {
            let by = cause.moves[leg];
            if by.as_mm() != 0.0 {
                let symbol = format!("d{}.{}", leg + 1, place + 1);
                let meaning = format!("{}, by one deviation at {}", cause.name, support.name);
                squares.push(
                    w.given(&symbol, &meaning, by, Provenance::chosen("one standard deviation")).squared(),
                );
            }
        }
        if !squares.is_empty() {
            let meaning = format!("deviation of the height of {}", support.name);
            w.line(&format!("s{}", leg + 1), &meaning, sum(squares).sqrt(), Shown::Finest);
        }
    }
    w
}
