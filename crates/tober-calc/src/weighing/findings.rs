//! What is found of a weighing, with the working.

use super::estimate::Estimate;
use super::model::Model;
use super::{Cause, MISFIT_AT, Suspect, Weighed, Weighing, WeighingError};
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Working, sum};
use tober_quantity::{Amount, Mass, Quantity, Ratio, Shown, significant};

/// Below this part of what is known of a body's mass, the readings do not carry it: the book does.
const CARRIED: f64 = 0.5;

/// What is found: whether the readings fit each other and the book, and which masses still rest on a guess.
pub fn findings(weighed: &Weighed) -> Vec<Finding> {
    let mut found: Vec<Finding> = weighed.suspects.iter().map(suspect).collect();
    if found.is_empty() {
        found.push(fits(weighed));
    }
    for body in &weighed.bodies {
        let guessed = body.before.from == Provenance::Guessed;
        if guessed && body.told.as_one() < CARRIED {
            let percent = significant(body.told.as_one() * 100.0, 2);
            let missing = format!(
                "It is guessed, and the readings tell {percent} % of what is known of it; the rest is the guess."
            );
            let subject = Subject::Body(body.name.clone());
            let off = body.deviation;
            let band = ((body.mass - off).amount(), (body.mass + off).amount());
            let title = "the mass is known by weighing";
            let mut finding = Finding::without_limit("weighing.guessed", subject, title, band, &missing);
            let with = weighed.together.iter().filter(|(a, b, _)| *a == body.name || *b == body.name);
            for (a, b, _) in with {
                let other = if *a == body.name { b } else { a };
                finding = finding.note(format!("The readings hardly tell it from \"{other}\"."));
            }
            found.push(finding.basis(basis()));
        }
    }
    found
}

fn basis() -> Basis {
    Basis::ours("weighted least squares of the readings and the book, each by its deviation")
}

/// The worst of the readings, where all fit.
fn fits(weighed: &Weighed) -> Finding {
    let checked = weighed.residuals.iter().filter_map(|r| Some((r, r.standardised?)));
    let worst = checked.max_by(|(_, a), (_, b)| a.abs().as_one().total_cmp(&b.abs().as_one()));
    let title = "the readings fit each other and the book";
    let Some((reading, w)) = worst else {
        let missing = "No reading is checked by another or by the book.";
        return Finding::not_known("weighing.fits", Subject::Ride, title, missing).basis(basis());
    };
    let mut working = Working::new();
    let figure = residual_working(&mut working, reading.residual, w);
    Finding::against_limit(
        "weighing.fits",
        Subject::Reading(reading.name.clone()),
        title,
        (figure, figure),
        Amount::ratio(MISFIT_AT),
        Sense::AtMost,
    )
    .basis(Basis::from_memory("two-sided 0.1 % point of the normal distribution, 3.29"))
    .working(working)
}

/// The lines of a standardised residual; gives its size.
fn residual_working(working: &mut Working, residual: Mass, standardised: Ratio) -> Amount {
    let own = residual.as_kg().abs() / standardised.as_one().abs().max(1e-12);
    let r = working.given("r", "what was read less what was found", residual, Provenance::Computed);
    let s = working.given("s", "deviation of that", Mass::kg(own), Provenance::Computed);
    let w = working.line("w", "standardised residual", (r / s).abs(), Shown::Ratio);
    Amount::ratio(w.value())
}

/// A cause in words.
pub(crate) fn cause(cause: &Cause) -> String {
    match cause {
        Cause::Reading(name) => format!("the reading \"{name}\""),
        Cause::Together(name) => name.clone(),
        Cause::Mass(body) => format!("the book's mass of \"{body}\""),
        Cause::Place { body, placement, along } => {
            let way = if *along { "along" } else { "across" };
            format!("where the book has \"{body}\" {way}, in \"{placement}\"")
        }
    }
}

fn suspect(suspect: &Suspect) -> Finding {
    let (subject, size, unit) = match &suspect.cause {
        Cause::Reading(name) => (Subject::Reading(name.clone()), suspect.error, "kg"),
        Cause::Together(_) => (Subject::Ride, suspect.error, "kg"),
        Cause::Mass(body) => (Subject::Body(body.clone()), suspect.error, "kg"),
        Cause::Place { body, .. } => (Subject::Body(body.clone()), suspect.error * 1e3, "mm"),
    };
    let figure = Amount::ratio(suspect.standardised.as_one().abs());
    let mut working = Working::new();
    working.given("w", "standardised residual", figure, Provenance::Computed);
    let what = cause(&suspect.cause);
    let again = match suspect.cause {
        Cause::Reading(_) => "Read it again",
        Cause::Together(_) | Cause::Mass(_) | Cause::Place { .. } => "Look at it again",
    };
    // A reading is off by its error; a figure of the book lacks it.
    let read = matches!(suspect.cause, Cause::Reading(_) | Cause::Together(_));
    let too = if (size > 0.0) == read { "much" } else { "little" };
    let mut advice = format!(
        "{again}: {what} does not fit; about {} {unit} too {too} would explain it.",
        significant(size.abs(), 2)
    );
    if !suspect.or_else.is_empty() {
        let others: Vec<String> = suspect.or_else.iter().map(cause).collect();
        advice = format!("{advice} So would {}.", others.join(", or "));
    }
    let title = "this fits the other readings and the book";
    let limit = Amount::ratio(MISFIT_AT);
    let mut finding =
        Finding::against_limit("weighing.fits", subject, title, (figure, figure), limit, Sense::AtMost)
            .basis(Basis::from_memory("two-sided 0.1 % point of the normal distribution, 3.29"))
            .advice(advice)
            .working(working);
    if let Some((state, mass, off)) = &suspect.without {
        finding = finding.note(format!(
            "Without it \"{state}\" is {} kg, give or take {} kg.",
            significant(mass.as_kg(), 5),
            significant(off.as_kg(), 2)
        ));
    }
    finding
}

/// How each mass, and each state's mass and place, was obtained.
///
/// # Errors
/// As [`super::weigh`].
pub fn workings(weighing: &Weighing, weighed: &Weighed) -> Result<Vec<Working>, WeighingError> {
    let model = Model::of(weighing)?;
    let rows = model.rows(weighing)?;
    let estimate = Estimate::of(&model, &rows)?;
    let mut all = Vec::new();
    for (at, body) in weighing.bodies.iter().enumerate() {
        let mut working = Working::new();
        let before = format!("mass of {} by the book", body.name);
        let mut terms = vec![working.given("m0", &before, body.mass, body.from.clone())];
        let gains = estimate.gains(at, &rows);
        for (number, ((reading, residual), gain)) in
            weighing.readings.iter().zip(&weighed.residuals).zip(gains).enumerate()
        {
            if gain.abs() < 1e-12 {
                continue;
            }
            let n = number + 1;
            let from = reading.from.clone();
            let r = working.given(&format!("r{n}"), &reading.name, reading.mass, from);
            let p = working.given(
                &format!("p{n}"),
                "what the book would have it say",
                residual.foreseen,
                Provenance::Computed,
            );
            let k = working.given(
                &format!("k{n}"),
                "its weight, by least squares",
                Ratio::one(gain),
                Provenance::Computed,
            );
            terms.push(k * (r - p));
        }
        working.line("m", &format!("mass of {}", body.name), sum(terms), Shown::Mass);
        all.push(working);
    }
    for state in &weighed.states {
        let mut working = Working::new();
        let mut masses = Vec::new();
        let (mut along, mut across) = (Vec::new(), Vec::new());
        for (number, (name, mass, x, y)) in state.parts.iter().enumerate() {
            let n = number + 1;
            let m = working.given(&format!("m{n}"), &format!("mass of {name}"), *mass, Provenance::Computed);
            for (symbol, way, at, terms) in [("x", "along", x, &mut along), ("y", "across", y, &mut across)] {
                if let Some(at) = at {
                    let at = at.amount().shown(Shown::Coarse);
                    let place = format!("where {name} acts {way}");
                    terms.push(
                        m.clone() * working.given(&format!("{symbol}{n}"), &place, at, Provenance::Computed),
                    );
                }
            }
            masses.push(m);
        }
        if masses.is_empty() {
            continue;
        }
        let total = working.line("M", &format!("mass, {}", state.name), sum(masses), Shown::Mass);
        for (symbol, way, found, terms) in
            [("X", "along", state.along, along), ("Y", "across", state.across, across)]
        {
            if found.is_some() {
                let title = format!("where it acts {way}");
                working.line(symbol, &title, sum(terms) / total.clone(), Shown::Coarse);
            }
        }
        all.push(working);
    }
    Ok(all)
}
