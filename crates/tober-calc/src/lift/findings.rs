//! What is found of a lift by a winch line.

use super::hinged::Hinged;
use super::travel::{Peak, Travelled};
use super::winch::{Drum, pull_on_layer};
use super::{At, LiftError, hinged_at};
use crate::finding::{Basis, Finding, Proof, Sense, Subject};
use crate::working::{Provenance, Term, Working, number, sum};
use tober_quantity::{Amount, Angle, Force, Length, Quantity, Ratio, Shown};

/// What the lift is held against. What is not told leaves its finding not known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// What the winch is rated to pull on the first layer.
    pub winch_rated: Option<Force>,
    /// Drum, rope and layer.
    pub drum: Option<Drum>,
    /// What the hinge is rated to carry.
    pub hinge_rated: Option<Force>,
    /// What holds the part where the line is slack.
    pub held_back_by: Option<String>,
}

fn degrees(phi: Angle) -> String {
    let tenths = (phi.as_deg() * 10.0).round() / 10.0;
    format!("{tenths:.1}\u{b0}")
}

fn load(force: Force) -> Amount {
    force.mass().amount().shown(Shown::Load)
}

/// The findings of a travel: whether the line can hold the part all the way, the greatest pull of the winch rope while it
/// hoists, and the greatest force at the hinge.
///
/// # Errors
/// Refuses a drum that is none.
pub fn findings(
    subject: &Subject,
    part: &Hinged,
    travelled: &Travelled,
    asked: &Asked,
) -> Result<Vec<Finding>, LiftError> {
    Ok(vec![
        line(subject, travelled, asked),
        pull(subject, part, travelled, asked)?,
        hinge(subject, travelled, asked),
    ])
}

fn line(subject: &Subject, travelled: &Travelled, asked: &Asked) -> Finding {
    let title = "the line can hold the part over the whole travel";
    let of = |holds| {
        Finding::statement("lift.line", subject.clone(), title, holds)
            .basis(Basis::Mechanics)
            .note("No acceleration, wind, friction at the hinge or weight of the line.")
    };
    if let Some(dead) = travelled.dead.first() {
        let told = format!(
            "At {} hinge, eye and sheave are in one line: whatever the winch pulls, the part does not follow.",
            degrees(*dead)
        );
        let better =
            "Lead the line over a sheave that stands off that direction, or lift the part past it otherwise.";
        return of(false).proof(Proof::Refuted { counterexample: told }).advice(better);
    }
    let Some(&(from, to)) = travelled.slack.first() else { return of(true).proof(Proof::Proved) };
    let told = format!(
        "From {} to {} the weight has passed the hinge and the line is slack: a line only pulls.",
        degrees(from),
        degrees(to)
    );
    match &asked.held_back_by {
        Some(by) => {
            of(true).note(told).note(format!("There it is held by: {by}, whose own load is not worked here."))
        }
        None => of(false)
            .proof(Proof::Refuted { counterexample: told })
            .advice("Say what holds the part there (`held_back_by`), or stop the travel before."),
    }
}

fn pull(
    subject: &Subject,
    part: &Hinged,
    travelled: &Travelled,
    asked: &Asked,
) -> Result<Finding, LiftError> {
    let (code, title) = ("lift.pull", "greatest pull of the winch rope while it hoists");
    let Some(Peak { phi, force }) = travelled.peak else {
        let why = "There is no greatest pull: it grows without end towards the dead point.";
        return Ok(Finding::not_known(code, subject.clone(), title, why).basis(Basis::Mechanics));
    };
    if force < Force::ZERO {
        let why = "The line is slack over the whole travel; what holds the part is not this line.";
        return Ok(Finding::not_known(code, subject.clone(), title, why).basis(Basis::Mechanics));
    }
    let at = hinged_at(part, phi)?;
    let (mut w, winch) = working(part, &at);
    let winch = load(Force::n(winch.value()));
    let band = (winch, winch);
    let place = format!("It comes at {} of the part above level.", degrees(phi));
    let Some(first) = asked.winch_rated else {
        let missing = "What the winch is rated to pull is not said (`winch.rated_N`).";
        let finding = Finding::without_limit(code, subject.clone(), title, band, missing);
        return Ok(finding.basis(Basis::Mechanics).working(w).note(place));
    };
    let limit = match &asked.drum {
        Some(on) => {
            let limit = pull_on_layer(first, on)?;
            let told = || Provenance::chosen("as given in the question");
            let (d, rope) = (on.drum, on.rope);
            let f1 =
                w.given("F1", "pull the winch is rated for on the first layer", first, Provenance::Maker);
            let drum = w.given("D", "diameter of the drum", d.amount().shown(Shown::Finest), told());
            let rope = w.given("dr", "diameter of the rope", rope.amount().shown(Shown::Finest), told());
            let layer = f64::from(on.layer);
            let layer = w.given("k", "layer from which the rope leaves", Ratio::one(layer), told());
            let turned = drum.clone() + (number(2.0) * layer - number(1.0)) * rope.clone();
            w.line("Fk", "what it pulls on that layer", f1 * (drum + rope) / turned, Shown::Force);
            limit
        }
        None => first,
    };
    let finding = Finding::against_limit(code, subject.clone(), title, band, load(limit), Sense::AtMost)
        .basis(Basis::Mechanics)
        .basis(Basis::MakersLimit)
        .working(w)
        .note(place);
    Ok(match asked.drum {
        Some(_) => finding,
        None => finding.doubted(
            "A winch pulls less on every layer of rope: say `winch.drum_m`, `winch.rope_m` and `winch.layer`.",
        ),
    })
}

fn hinge(subject: &Subject, travelled: &Travelled, asked: &Asked) -> Finding {
    let (code, title) = ("lift.hinge", "greatest force at the hinge");
    let Some(Peak { force, phi }) = travelled.hinge else {
        let why = "The line holds the part nowhere, or there is a dead point: the force at the hinge is not told by it.";
        return Finding::not_known(code, subject.clone(), title, why).basis(Basis::Mechanics);
    };
    let band = (load(force), load(force));
    let finding = match asked.hinge_rated {
        Some(rated) => Finding::against_limit(code, subject.clone(), title, band, load(rated), Sense::AtMost)
            .basis(Basis::MakersLimit),
        None => Finding::without_limit(
            code,
            subject.clone(),
            title,
            band,
            "What the hinge may carry is not said (`hinge_rated_N`).",
        ),
    };
    let place = format!("It comes at {}; looked for every twentieth of a degree.", degrees(phi));
    finding.basis(Basis::Mechanics).note(place)
}

/// The lines of the pull at one angle, and the pull of the winch rope.
fn working(part: &Hinged, at: &At) -> (Working, Term) {
    let told = || Provenance::chosen("as given in the question");
    let mut w = Working::new();
    let length = |w: &mut Working, symbol: &str, meaning: &str, value: Length| {
        w.given(symbol, meaning, value.amount().shown(Shown::Coarse), told())
    };
    let ge = length(&mut w, "Ge", "centre of gravity along the part", part.centre.along);
    let gn = length(&mut w, "Gn", "centre of gravity square to the part", part.centre.normal);
    let pe = length(&mut w, "Pe", "eye of the line along the part", part.eye.along);
    let pn = length(&mut w, "Pn", "eye of the line square to the part", part.eye.normal);
    let sx = length(&mut w, "Sx", "sheave forward of the hinge", part.sheave_x);
    let sz = length(&mut w, "Sz", "sheave above the hinge", part.sheave_z);
    let m = w.given("m", "mass of the part", part.mass, told());
    let g = w.given("g", "gravity", part.gravity, told());
    let eta = w.given("\u{3b7}", "efficiency of a sheave", part.efficiency, told());
    let phi =
        w.given("\u{3c6}", "angle of the part where the pull is greatest", at.phi, Provenance::Computed);
    let (cos, sin) = (phi.clone().cos(), phi.sin());
    let gx = w.line(
        "Gx",
        "centre of gravity forward of the hinge",
        ge * cos.clone() - gn * sin.clone(),
        Shown::Coarse,
    );
    let px = w.line(
        "Px",
        "eye forward of the hinge",
        pe.clone() * cos.clone() - pn.clone() * sin.clone(),
        Shown::Coarse,
    );
    let pz = w.line("Pz", "eye above the hinge", pe * sin + pn * cos, Shown::Coarse);
    let across = (sx.clone() - px.clone()).squared() + (sz.clone() - pz.clone()).squared();
    let l = w.line("l", "length of the line", across.sqrt(), Shown::Coarse);
    let d = w.line("d", "lever of the line about the hinge", (px * sz - pz * sx) / l, Shown::Coarse);
    let f = w.line("F", "pull of all falls together", m * g * gx / d, Shown::Force);
    let falls =
        (1..=part.falls).map(|fall| if fall == 1 { eta.clone() } else { eta.clone().power(f64::from(fall)) });
    let n = w.line("n", "how many times the winch's pull acts, after friction", sum(falls), Shown::Ratio);
    let r = w.line("R", "pull of the winch rope while it hoists", f / n, Shown::Force);
    (w, r)
}
