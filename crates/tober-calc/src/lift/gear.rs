//! What is found of the gear of a lift: eye, sling, crank, the winch itself, and the wind it is done in.

use super::LiftError;
use super::banded::Over;
use super::findings::{Asked, Rope, degrees, finest, load};
use super::rigging::{
    CRANK_FORCE_N, Day, EyeKind, SLING_LEAST_DEG, between, crank_force, days_between, days_of_a_year_from,
    eye_share, leg_pull, legs_counted,
};
use crate::finding::{Basis, Finding, Proof, Sense, Standing, Subject};
use crate::working::{Provenance, Working, number};
use tober_quantity::{Amount, Angle, Force, Pressure, Quantity, Ratio, Shown};

const EYE: (&str, &str) = ("lift.eye", "pull at the eye, against what it keeps of its rating at that angle");

fn eye_not_told(subject: &Subject, asked: &Asked, missing: &str) -> Option<Finding> {
    asked.of_book.then(|| Finding::not_known(EYE.0, subject.clone(), EYE.1, missing))
}

const NO_EYE: &str = "What the eye of the line is rated for (`eye-rated`).";

/// The eye at the angle where it is used most.
pub(super) fn eye(subject: &Subject, over: &Over, asked: &Asked) -> Option<Finding> {
    let Some(eye) = asked.eye else { return eye_not_told(subject, asked, NO_EYE) };
    let Some(kind) = eye.kind else {
        return Some(Finding::not_known(EYE.0, subject.clone(), EYE.1, "What kind of eye it is (`eye-is`)."));
    };
    let axis = match (kind, eye.axis) {
        (EyeKind::Lug, _) => None,
        (_, Some(axis)) => Some(axis),
        (_, None) => {
            let missing = "Which way the eye bolt points (`eye-axis`).";
            return Some(Finding::not_known(EYE.0, subject.clone(), EYE.1, missing));
        }
    };
    let mut worst: Option<(f64, Force, Angle, Angle, f64)> = None;
    for row in over.rows.iter().filter(|row| row.high > Force::ZERO) {
        let off = axis.map_or(Angle::ZERO, |axis| between(row.eye_direction, axis));
        let share = eye_share(kind, off);
        let used = if share > 0.0 { row.high.as_n() / share } else { f64::INFINITY };
        if worst.is_none_or(|worst| used > worst.0) {
            worst = Some((used, row.high, row.phi, off, share));
        }
    }
    let Some((_, pull, phi, off, share)) = worst else {
        let missing = "The line pulls nowhere, or its pull is not known.";
        return Some(Finding::not_known(EYE.0, subject.clone(), EYE.1, missing));
    };
    let place = match kind {
        EyeKind::Lug => format!("It comes at {}; the lug is pulled in its plane.", degrees(phi)),
        _ => format!("It comes at {}, the eye pulled {} off straight.", degrees(phi), degrees(off)),
    };
    Some(of_eye(subject, (pull, eye.rated, share), kind).note(place))
}

/// The eye of a part that hangs on the line, pulled straight up.
pub(super) fn eye_of_hung(subject: &Subject, pull: Force, asked: &Asked) -> Option<Finding> {
    let Some(eye) = asked.eye else { return eye_not_told(subject, asked, NO_EYE) };
    let Some(kind) = eye.kind else {
        return Some(Finding::not_known(EYE.0, subject.clone(), EYE.1, "What kind of eye it is (`eye-is`)."));
    };
    let off = match (kind, eye.axis) {
        (EyeKind::Lug, _) => Angle::ZERO,
        (_, Some(axis)) => between(Angle::deg(90.0), axis),
        (_, None) => {
            let missing = "Which way the eye bolt points (`eye-axis`).";
            return Some(Finding::not_known(EYE.0, subject.clone(), EYE.1, missing));
        }
    };
    Some(of_eye(subject, (pull, eye.rated, eye_share(kind, off)), kind))
}

fn of_eye(subject: &Subject, (pull, rated, share): (Force, Force, f64), kind: EyeKind) -> Finding {
    let source = || {
        Basis::ours(
            "where the published charts for eye bolts at an angle disagree, the lowest share of them is taken",
        )
    };
    if share <= 0.0 {
        let told = "It is pulled at an angle at which an eye bolt of this kind is not to be pulled.";
        return Finding::statement(EYE.0, subject.clone(), EYE.1, false)
            .proof(Proof::Refuted { counterexample: told.to_owned() })
            .basis(source())
            .never_overridden()
            .advice("Turn the eye into the pull, or use a lug with a shackle.");
    }
    let mut w = Working::new();
    let f = w.given("F", "pull at the eye, the greatest", pull, Provenance::Computed);
    let full = w.given("Fr", "what the eye is rated for, pulled straight", rated, Provenance::Maker);
    let charts = Provenance::tabulated("hardware guides and a fastener supplier's table, the lowest");
    let keeps = w.given("ke", "what it keeps of that at this angle", Ratio::one(share), charts);
    let limit = w.line("Fa", "what it may carry at this angle", full * keeps, Shown::Force);
    w.line("u", "share of that", f / limit, Shown::Ratio);
    let band = (load(pull), load(pull));
    let finding =
        Finding::against_limit(EYE.0, subject.clone(), EYE.1, band, load(rated * share), Sense::AtMost)
            .basis(Basis::MakersLimit)
            .working(w)
            .never_overridden();
    if kind == EyeKind::Lug { finding } else { finding.basis(source()) }
}

/// The sling, if there is one.
pub(super) fn sling(
    subject: &Subject,
    pull: Option<Force>,
    asked: &Asked,
) -> Result<Option<Finding>, LiftError> {
    let (Some(sling), Some(pull)) = (asked.sling, pull) else { return Ok(None) };
    let (code, title) = ("lift.sling", "pull in each leg of the sling");
    let each = leg_pull(pull, &sling)?;
    let basis = Basis::document("ASME B30.9", "sling angles", "as makers quote it");
    if sling.legs > 1 && sling.angle.as_deg() < SLING_LEAST_DEG - 1e-9 {
        let told = format!("The legs stand at {} from level, flatter than 30\u{b0}.", degrees(sling.angle));
        let finding = Finding::statement(code, subject.clone(), title, false)
            .proof(Proof::Refuted { counterexample: told })
            .basis(basis)
            .advice("Take a longer sling: its legs stand steeper.");
        return Ok(Some(finding.never_overridden()));
    }
    let mut w = Working::new();
    let f = w.given("F", "pull on the hook, the greatest", pull, Provenance::Computed);
    let leg = if sling.legs > 1 {
        let counted = Ratio::one(f64::from(legs_counted(sling.legs)));
        let n = w.given("n", "legs that count", counted, Provenance::chosen("four count as three"));
        let angle = w.given("\u{3b2}", "angle of a leg from level", sling.angle, Provenance::Maker);
        w.line("Fl", "pull in a leg", f / (n * angle.sin()), Shown::Force)
    } else {
        f
    };
    let rated = w.given("Fr", "what a leg may carry", sling.rated, Provenance::Maker);
    w.line("u", "share of that", leg / rated, Shown::Ratio);
    let band = (load(each), load(each));
    let finding =
        Finding::against_limit(code, subject.clone(), title, band, load(sling.rated), Sense::AtMost);
    Ok(Some(finding.basis(basis).basis(Basis::MakersLimit).working(w).never_overridden()))
}

/// The force at the crank, if there is one.
pub(super) fn crank(subject: &Subject, rope: &Rope, asked: &Asked) -> Result<Option<Finding>, LiftError> {
    let Some(crank) = asked.crank else { return Ok(None) };
    let (code, title) = ("lift.crank", "force at the crank, for the one who turns it");
    let Some(on) = &asked.drum else {
        let missing = "Drum, rope and layer of the winch.";
        return Ok(Some(Finding::not_known(code, subject.clone(), title, missing)));
    };
    let [low, high] = [crank_force(rope.low, on, &crank)?, crank_force(rope.high, on, &crank)?];
    let mut w = rope.w.clone();
    let told = || Provenance::Maker;
    let drum = w.given("Dd", "diameter of the drum", finest(on.drum), told());
    let line = w.given("dr", "diameter of the rope", finest(on.rope), told());
    let layer = Ratio::one(f64::from(on.layer));
    let layer = w.given("k", "layer from which the rope leaves", layer, Provenance::Computed);
    let r = w.given("r", "length of the crank", finest(crank.length), told());
    let i = w.given("i", "turns of the crank for one of the drum", crank.ratio, told());
    let eta = w.given("\u{3b7}g", "efficiency of the gears", crank.efficiency, told());
    let turned = drum + (number(2.0) * layer - number(1.0)) * line;
    let force = rope.term.clone() * turned / (number(2.0) * r * i * eta);
    w.line("Fc", "force at the crank", force, Shown::Force);
    let limit = Force::n(CRANK_FORCE_N);
    let kg = |force: Force| force.mass().amount().shown(Shown::Mass);
    let finding =
        Finding::against_limit(code, subject.clone(), title, (kg(low), kg(high)), kg(limit), Sense::AtMost);
    let from =
        Basis::from_memory("HSE L23, Manual handling: push and pull kept moving, 7 kgf, the lower figure");
    let finding = finding.basis(from).working(w);
    Ok(Some(match finding.standing {
        Standing::PastLimit => finding.advice("A longer crank, more gear, or another fall of rope."),
        _ => finding,
    }))
}

/// Whether the winch is rated to lift: one that is not lifts nothing (a pulling winch may let go).
pub fn rated(subject: &Subject, rating: Option<Force>) -> Finding {
    let finding =
        Finding::statement("lift.rated", subject.clone(), "the winch is rated for lifting", rating.is_some())
            .basis(Basis::MakersLimit)
            .never_overridden();
    match rating {
        Some(_) => finding,
        None => finding.advice("Lift with a winch that its maker rates for lifting (`lifting-rating`); one that pulls may let go."),
    }
}

/// Days since the examination of the winch, on the last day it is used, against a year.
///
/// Lifting equipment is examined at least every 12 months, accessories and what lifts people every 6 (LOLER 1998 reg. 9; HSE
/// INDG422), or by a written scheme; elsewhere as the maker or the code says, if that is sooner.
pub fn examined(subject: &Subject, examined: Option<Day>, until: Option<Day>) -> Finding {
    let (code, title) = ("lift.examined", "days since the winch was examined, at the end of the visit");
    let not_known = |missing: &str| Finding::not_known(code, subject.clone(), title, missing);
    let finding = match (examined, until) {
        (None, _) => not_known("When the winch was last examined (`examined`)."),
        (_, None) => not_known("When the visit ends (`until`)."),
        (Some(day), Some(until)) => {
            let days = days_between(day, until);
            if days < 0 {
                not_known("Its last examination: the day told is after the visit.")
            } else {
                let count = |days: i64| Amount::count(usize::try_from(days).unwrap_or(usize::MAX));
                let most = count(days_of_a_year_from(day));
                Finding::against_limit(
                    code,
                    subject.clone(),
                    title,
                    (count(days), count(days)),
                    most,
                    Sense::AtMost,
                )
            }
        }
    };
    finding
        .basis(Basis::document("LOLER", "regulation 9: lifting equipment, 12 months", "1998"))
        .never_overridden()
        .note("Where the maker or the code of the place says sooner, that counts. Every part of the gear has its own day.")
}

/// Whether a lift has a wind limit of its own that is lower than the ride's, both as the pressure of a gust at one height.
pub fn own_wind(subject: &Subject, own: Result<Pressure, String>, ride: Result<Pressure, String>) -> Finding {
    let (code, title) = ("lift.wind", "the lift has a wind limit of its own, lower than the ride's");
    let finding = match (own, ride) {
        (Err(why), _) | (_, Err(why)) => Finding::not_known(code, subject.clone(), title, &why),
        (Ok(own), Ok(ride)) => {
            let holds = own.as_pa() < ride.as_pa() * (1.0 - 1e-9);
            let finding = Finding::statement(code, subject.clone(), title, holds);
            if holds {
                finding
            } else {
                finding.advice("Set the step a wind limit (`wind-limit`) below the ride's.")
            }
        }
    };
    finding
        .basis(Basis::ours("a part on a line stands worse in the wind than a ride that is pinned"))
        .never_overridden()
        .note("When it is passed: lower, tie, clear people, wait.")
}

/// The fewest who raise a part by winch: one at the winch, and one who watches the part and says stop.
pub const AT_WINCH_LEAST: u32 = 2;

/// Whether enough people raise a part by winch.
pub fn at_winch(subject: &Subject, people: Option<u32>) -> Finding {
    let (code, title) = ("lift.people", "enough people lift it");
    let told = format!("It takes {AT_WINCH_LEAST}: one at the winch, and one who watches and says stop.");
    let finding = match people {
        None => {
            Finding::not_known(code, subject.clone(), title, "How many people the step takes (`people`).")
        }
        Some(people) => Finding::statement(code, subject.clone(), title, people >= AT_WINCH_LEAST),
    };
    finding.basis(Basis::CommonPractice).note(told)
}
