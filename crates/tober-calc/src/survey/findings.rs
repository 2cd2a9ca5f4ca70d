//! What is found of a survey, with the working.

use super::{BLUNDER_AT, Doubt, Method, PlaneFound, ReadingName, Survey, Suspect};
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Working};
use tober_quantity::{Amount, Quantity, Shown, UnitSet, significant};

/// The findings on a survey: readings that do not fit, readings that nothing checks, and how well each
/// height is known.
///
/// A reading past [`BLUNDER_AT`] times its own deviation is past its limit until somebody reads it again;
/// one that is merely off the plane of its neighbours is close, since the ground may be so. How well a
/// height is known has no limit of its own: it goes into the bands of everything that rests on it.
pub fn findings(survey: &Survey) -> Vec<Finding> {
    let mut list: Vec<Finding> = survey.suspects.iter().map(suspect).collect();
    let title = "the readings fit together";
    if survey.suspects.is_empty() {
        let mut finding = Finding::statement("survey.fits", Subject::Pitch, title, true);
        if survey.freedom == 0 {
            finding =
                finding.doubted(&format!("No reading is checked by another: {}.", check_by(survey.method)));
        } else {
            finding = finding.note(checked_note(survey));
        }
        list.push(
            finding.basis(Basis::ours("a reading that nothing checks may be wrong without being found")),
        );
    }
    if survey.method == Method::Laser {
        list.push(plane(&survey.plane));
    }
    list
}

/// How readings of a method are checked.
fn check_by(method: Method) -> &'static str {
    match method {
        Method::Tape => "read the slopes turned end for end, and a tape twice",
        Method::Scale => "read the slopes turned end for end, and a scale twice",
        Method::WaterLevel => "read the first leg again at the end",
        Method::Staff | Method::Laser => {
            "read the first point again at the end, or points from a second set-up"
        }
        Method::Spots => "measure a point again",
    }
}

/// Below this share of it showing, an error of the laser counts as unchecked (ours).
const PLANE_SHOWS: f64 = 0.5;

/// Whether the laser turns in a level plane, as far as the readings show it.
fn plane(found: &[PlaneFound]) -> Finding {
    let (code, subject) = ("survey.plane", Subject::Pitch);
    let title = "the laser turns in a level plane";
    let size = |p: &PlaneFound| p.standardised.map_or(0.0, |s| s.as_one().abs());
    let worst = found.iter().max_by(|a, b| size(a).total_cmp(&size(b)));
    let leans: Vec<&PlaneFound> = found.iter().filter(|p| p.what != "cone").collect();
    let basis = Basis::from_memory("two-sided 0.1 % point of the normal distribution, 3.29");
    let Some(worst) = worst else {
        let missing = "Where the laser stood and where each point is: without them nothing checks its plane.";
        return Finding::not_known(code, subject, title, missing);
    };
    let mm_per_m = |slope: tober_quantity::Slope| significant(slope.as_mm_per_m(), 2);
    let mut working = Working::new();
    let figure = Amount::ratio(size(worst));
    working.given("w", "found over its own deviation", figure, Provenance::Computed);
    let limit = Amount::ratio(BLUNDER_AT);
    let finding = Finding::against_limit(code, subject, title, (figure, figure), limit, Sense::AtMost)
        .basis(basis)
        .working(working)
        .note(format!(
            "Most out: {}, {} mm/m, give or take {}.",
            worst.what,
            mm_per_m(worst.slope),
            mm_per_m(worst.deviation)
        ))
        .advice("Have the laser adjusted, or read each point with it turned end for end.");
    if leans.iter().any(|p| p.redundancy.as_one() < PLANE_SHOWS) {
        return finding.doubted(
            "Too little of a leaning plane would show in these readings: read one point from opposite sides, far out.",
        );
    }
    finding
}

fn checked_note(survey: &Survey) -> String {
    let unchecked = survey.unchecked.len();
    match unchecked {
        0 => "Every reading is checked by another one.".to_owned(),
        1 => format!("One reading is checked by no other: {}.", name(&survey.unchecked[0])),
        n => {
            format!("{n} readings are checked by no other, the first of them {}.", name(&survey.unchecked[0]))
        }
    }
}

fn name(reading: &ReadingName) -> String {
    format!("{} of {}, reading {}", reading.set_up, reading.point, reading.row)
}

fn suspect(suspect: &Suspect) -> Finding {
    let subject = Subject::Reading(suspect.reading.point.clone());
    let mut working = Working::new();
    match &suspect.doubt {
        Doubt::Blunder { standardised, error, or_else } => {
            let limit = Amount::ratio(BLUNDER_AT);
            let figure = standardised.amount();
            working.given("w", "residual over its own deviation", figure, Provenance::Computed);
            let size = error.amount().si.abs() * 1e3;
            let mut advice = format!(
                "Read {} again: an error of about {} mm would explain it.",
                name(&suspect.reading),
                significant(size, 2)
            );
            if !or_else.is_empty() {
                let others: Vec<String> = or_else.iter().map(name).collect();
                advice = format!("{advice} So would an error in {}.", others.join(", or in "));
            }
            let title = "this reading fits the others";
            Finding::against_limit("survey.blunder", subject, title, (figure, figure), limit, Sense::AtMost)
                .basis(Basis::from_memory("two-sided 0.1 % point of the normal distribution, 3.29"))
                .advice(advice)
                .working(working)
        }
        Doubt::Disagree { range, most } => {
            let title = "readings of one thing agree";
            let (range, most) = (range.amount(), most.amount());
            working.given("r", "greatest less least of these readings", range, Provenance::Computed);
            Finding::against_limit("survey.disagree", subject, title, (range, range), most, Sense::AtMost)
                .basis(Basis::ours("3.29 deviations of a difference of two readings"))
                .advice(format!("Read {} again.", name(&suspect.reading)))
                .working(working)
        }
        Doubt::OffItsNeighbours { off, times_spread } => {
            let metric = Shown::Fine.unit(UnitSet::Metric);
            let mm = significant(off.si() / metric.factor, 3);
            Finding::statement("survey.neighbours", subject, "the ground here lies as its neighbours do", true)
                .doubted(&format!(
                    "It lies {mm} mm off the plane of its neighbours, {} times their own spread: look, or read it again.",
                    significant(times_spread.as_one(), 2)
                ))
                .basis(Basis::ours("ground may step; a tape misread looks the same"))
        }
    }
}
