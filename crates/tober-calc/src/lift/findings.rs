//! What is found of a lift by a winch line.

use super::banded::{BandAt, Over, Piece, Raised};
use super::gear::{crank, eye, sling};
use super::lowering::{Hold, lowering, out, over_balance};
use super::rigging::{Crank, Eye, Sling};
use super::winch::{Drum, pull_on_layer};
use super::{At, Hinged, LiftError, hinged_at};
use crate::finding::{Basis, Finding, Proof, Sense, Subject};
use crate::working::{Provenance, Term, Working, number, sum};
use tober_quantity::{Acceleration, Amount, Angle, Force, Length, Mass, Quantity, Ratio, Shown};

/// What the lift is held against. What is not told leaves its finding not known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// Whether a ride book and a kit are asked, and not a question of one calculation: then what they do not tell of eye and of what
    /// holds the part afterwards is not known, and keys are named as there.
    pub of_book: bool,
    /// What the winch is rated to lift, on the first layer.
    pub winch_rated: Option<Force>,
    /// Drum, rope and layer.
    pub drum: Option<Drum>,
    /// Its crank, where it is turned by hand.
    pub crank: Option<Crank>,
    /// What the hinge is rated to carry.
    pub hinge_rated: Option<Force>,
    /// What holds the part where the line is slack.
    pub held_back_by: Option<String>,
    /// The eye at which the line is made fast.
    pub eye: Option<Eye>,
    /// The sling between hook and part, if there is one.
    pub sling: Option<Sling>,
    /// What holds the part when the line comes off.
    pub then_held_by: Option<String>,
    /// Whether the travel is gone from its greater angle to its lesser. Of what hangs: whether it is let down.
    pub from_top: bool,
    /// Where and how strong the hold is by which the part is held where the line is slack.
    pub hold: Option<Hold>,
    /// What brings the part over its balance where the travel begins past it.
    pub brought_over_by: Option<String>,
}

impl Asked {
    /// The key of a question, or that of a book.
    pub(super) fn key(&self, question: &'static str, book: &'static str) -> &'static str {
        if self.of_book { book } else { question }
    }
}

pub(super) fn degrees(phi: Angle) -> String {
    let tenths = (phi.as_deg() * 10.0).round() / 10.0;
    format!("{tenths:.1}\u{b0}")
}

pub(super) fn load(force: Force) -> Amount {
    force.mass().amount().shown(Shown::Load)
}

/// A pull of the winch rope, with its lines and where it comes.
pub(super) struct Rope {
    pub w: Working,
    pub term: Term,
    pub low: Force,
    pub high: Force,
    pub note: String,
    /// The lines as far as the pull of all falls.
    pub before: Working,
    /// That pull, the efficiency of a sheave and the falls.
    pub of: (Term, Ratio, u32),
}

/// The findings of a travel: whether the line can hold the part all the way, the greatest pull of the winch rope while it
/// hoists, the greatest force at the hinge, and what hangs between.
///
/// # Errors
/// Refuses a drum, a crank or a sling that is none.
pub fn findings(subject: &Subject, over: &Over, asked: &Asked) -> Result<Vec<Finding>, LiftError> {
    let rope = rope(over)?;
    let mut all = vec![line(subject, over, asked)];
    match &rope {
        Ok(rope) => {
            all.push(pull(subject, rope, asked)?);
            all.extend(lowering(subject, over, rope, asked)?);
            all.push(hinge(subject, over, asked));
            all.extend(sling(subject, over.greatest(|row| row.high).map(|row| row.high), asked)?);
            all.extend(crank(subject, rope, asked)?);
        }
        Err(why) => {
            all.push(Finding::not_known(PULL.0, subject.clone(), PULL.1, why).basis(Basis::Mechanics));
            all.push(hinge(subject, over, asked));
        }
    }
    all.extend(eye(subject, over, asked));
    all.extend(over_balance(subject, over, asked)?);
    all.extend(held(subject, asked));
    Ok(all)
}

/// The findings of a part that hangs on the line alone: `F = m g`.
///
/// # Errors
/// As [`findings`]; a part of no pieces.
pub fn hung(
    subject: &Subject,
    pieces: &[Piece],
    (falls, efficiency, gravity): (u32, Ratio, Acceleration),
    asked: &Asked,
) -> Result<Vec<Finding>, LiftError> {
    use super::error::within;
    within("falls", "number of falls", f64::from(falls), 1.0, 20.0)?;
    within("sheave_efficiency", "efficiency of a sheave", efficiency.as_one(), 0.5, 1.0)?;
    let total = |of: fn(&Piece) -> f64| pieces.iter().fold(0.0, |sum, piece| sum + of(piece));
    let [low_kg, high_kg] = [total(|p| p.mass.low().as_kg()), total(|p| p.mass.high().as_kg())];
    within("mass_kg", "mass of the part in kilogrammes", low_kg, 0.0, 1e6)?;
    within("mass_kg", "mass of the part in kilogrammes", high_kg, 1e-9, 1e6)?;
    let mut w = Working::new();
    let g = w.given("g", "gravity", gravity, constant());
    let masses: Vec<Term> = (1..)
        .zip(pieces)
        .map(|(i, piece)| {
            let meaning = format!("mass of \"{}\", the most", piece.name);
            w.given(&format!("m{i}"), &meaning, piece.mass.high(), piece.mass_from.clone())
        })
        .collect();
    let f = w.line("F", "weight on the line", sum(masses) * g, Shown::Force);
    let load_most = Force::n(f.value());
    let rope = reeved(w, f, (low_kg / high_kg, falls, efficiency), "It hangs on the line alone.".to_owned());
    let mut all = vec![pull(subject, &rope, asked)?];
    if asked.from_top {
        all.push(out(subject, &rope, asked)?);
    }
    all.extend(sling(subject, Some(load_most), asked)?);
    all.extend(crank(subject, &rope, asked)?);
    all.extend(super::gear::eye_of_hung(subject, load_most, asked));
    all.extend(held(subject, asked));
    Ok(all)
}

fn constant() -> Provenance {
    Provenance::tabulated("standard gravity, 3rd CGPM (1901)")
}

fn line(subject: &Subject, over: &Over, asked: &Asked) -> Finding {
    let title = "the line can hold the part over the whole travel";
    let of = |holds| {
        Finding::statement("lift.line", subject.clone(), title, holds)
            .basis(Basis::Mechanics)
            .note("No acceleration, wind, friction at the hinge or weight of the line.")
    };
    if let Some(dead) = over.stated.dead.first() {
        let told = format!(
            "At {} hinge, eye and sheave are in one line: whatever the winch pulls, the part does not follow.",
            degrees(*dead)
        );
        let better =
            "Lead the line over a sheave that stands off that direction, or lift the part past it otherwise.";
        return of(false).proof(Proof::Refuted { counterexample: told }).advice(better);
    }
    let Some(&(from, to)) = over.slack.first() else { return of(true).proof(Proof::Proved) };
    let told = format!(
        "From {} to {} the weight {} the hinge and the line is slack: a line only pulls.",
        degrees(from),
        degrees(to),
        if over.stated.slack.is_empty() { "may have passed" } else { "has passed" }
    );
    match &asked.held_back_by {
        Some(by) => {
            let worked = if asked.of_book || asked.hold.is_some() {
                ""
            } else {
                ", whose own load is not worked here"
            };
            of(true).note(told).note(format!("There it is held by: {by}{worked}."))
        }
        None => of(false).proof(Proof::Refuted { counterexample: told }).advice(format!(
            "Say what holds the part there (`{}`), or stop the travel before.",
            asked.key("held_back_by", "held-back-by")
        )),
    }
}

const PULL: (&str, &str) = ("lift.pull", "greatest pull of the winch rope while it hoists");

/// The greatest pull of the winch rope over travel and tolerances; [`Err`] says why there is none.
fn rope(over: &Over) -> Result<Result<Rope, String>, LiftError> {
    let Some(greatest) = over.greatest(|row| row.high) else {
        return Ok(Err("There is no greatest pull: it grows without end towards the dead point.".to_owned()));
    };
    if greatest.high < Force::ZERO {
        let why = "The line is slack over the whole travel; what holds the part is not this line.";
        return Ok(Err(why.to_owned()));
    }
    let part = over.raised.stated();
    let at = hinged_at(&part, greatest.phi)?;
    let low = over.greatest(|row| row.low).map_or(Force::ZERO, |row| row.low.max(Force::ZERO));
    let (w, f) = match over.raised.pieces.as_slice() {
        [one] if low == greatest.high && one.off_by.along == Length::ZERO => of_one(&part, &at, one),
        _ => of_pieces(&over.raised, &at, greatest),
    };
    let share = if f.value() > 0.0 { low.as_n() / f.value() } else { 1.0 };
    let note = format!("It comes at {} of the part above level.", degrees(greatest.phi));
    Ok(Ok(reeved(w, f, (share, part.falls, part.efficiency), note)))
}

/// From the pull of all falls to that of the winch rope.
fn reeved(mut w: Working, f: Term, (low_share, falls, efficiency): (f64, u32, Ratio), note: String) -> Rope {
    let (before, of) = (w.clone(), (f.clone(), efficiency, falls));
    let eta = w.given("\u{3b7}", "efficiency of a sheave", efficiency, Provenance::Maker);
    let powers =
        (1..=falls).map(|fall| if fall == 1 { eta.clone() } else { eta.clone().power(f64::from(fall)) });
    let n = w.line("n", "how many times the winch's pull acts, after friction", sum(powers), Shown::Ratio);
    let term = w.line("R", "pull of the winch rope while it hoists", f / n, Shown::Force);
    let high = Force::n(term.value());
    Rope { w, term, low: high * low_share, high, note, before, of }
}

fn pull(subject: &Subject, rope: &Rope, asked: &Asked) -> Result<Finding, LiftError> {
    let (code, title) = PULL;
    let mut w = rope.w.clone();
    let band = (load(rope.low), load(rope.high));
    let Some(limit) = rated_at_layer(&mut w, asked)? else {
        let finding = Finding::without_limit(code, subject.clone(), title, band, &not_told(asked));
        return Ok(finding.basis(Basis::Mechanics).working(w).note(rope.note.clone()).never_overridden());
    };
    let finding = Finding::against_limit(code, subject.clone(), title, band, load(limit), Sense::AtMost)
        .basis(Basis::Mechanics)
        .basis(Basis::MakersLimit)
        .working(w)
        .note(rope.note.clone())
        .never_overridden();
    Ok(of_first_layer(finding, asked))
}

/// The same finding, doubted where no drum is told and so the rating of the first layer stands for every one.
pub(super) fn of_first_layer(finding: Finding, asked: &Asked) -> Finding {
    if asked.drum.is_some() {
        return finding;
    }
    finding.doubted(&format!(
        "A winch pulls less on every layer of rope: say {}.",
        asked.key(
            "`winch.drum_m`, `winch.rope_m` and `winch.layer`",
            "`drum-diameter`, `drum-width`, `rope-diameter` and `rope-length`"
        )
    ))
}

pub(super) fn not_told(asked: &Asked) -> String {
    let key = asked.key("winch.rated_N", "lifting-rating");
    format!("What the winch is rated to lift is not said (`{key}`).")
}

/// What the winch is rated for on its layer, with its lines; on the first where no drum is told.
pub(super) fn rated_at_layer(w: &mut Working, asked: &Asked) -> Result<Option<Force>, LiftError> {
    let Some(first) = asked.winch_rated else { return Ok(None) };
    let Some(on) = &asked.drum else { return Ok(Some(first)) };
    let limit = pull_on_layer(first, on)?;
    let f1 = w.given("F1", "what the winch is rated for on the first layer", first, Provenance::Maker);
    let drum = w.given("Dd", "diameter of the drum", finest(on.drum), Provenance::Maker);
    let line = w.given("dr", "diameter of the rope", finest(on.rope), Provenance::Maker);
    let layer = Ratio::one(f64::from(on.layer));
    let layer = w.given("k", "layer from which the rope leaves", layer, Provenance::Computed);
    let turned = drum.clone() + (number(2.0) * layer - number(1.0)) * line.clone();
    w.line("Fk", "what it pulls on that layer", f1 * (drum + line) / turned, Shown::Force);
    Ok(Some(limit))
}

pub(super) fn finest(length: Length) -> Amount {
    length.amount().shown(Shown::Finest)
}

fn hinge(subject: &Subject, over: &Over, asked: &Asked) -> Finding {
    let (code, title) = ("lift.hinge", "greatest force at the hinge");
    let pulled = |row: &&BandAt| row.high >= Force::ZERO;
    let worst = over.rows.iter().filter(pulled).fold(None, |best: Option<&BandAt>, row| match best {
        Some(best) if best.hinge >= row.hinge => Some(best),
        _ => Some(row),
    });
    let Some(worst) = worst else {
        let why = "The line holds the part nowhere, or there is a dead point: the force at the hinge is not told by it.";
        return Finding::not_known(code, subject.clone(), title, why).basis(Basis::Mechanics);
    };
    let stated = over.stated.hinge.map_or(worst.hinge, |peak| peak.force.min(worst.hinge));
    let band = (load(stated), load(worst.hinge));
    let finding = match asked.hinge_rated {
        Some(rated) => Finding::against_limit(code, subject.clone(), title, band, load(rated), Sense::AtMost)
            .basis(Basis::MakersLimit),
        None => {
            let missing = format!(
                "What the hinge may carry is not said (`{}`).",
                asked.key("hinge_rated_N", "hinge-rated")
            );
            Finding::without_limit(code, subject.clone(), title, band, &missing)
        }
    };
    let place = format!("It comes at {}; looked for every twentieth of a degree.", degrees(worst.phi));
    finding.basis(Basis::Mechanics).note(place)
}

/// What holds the part when the line comes off. Only asked of a book.
fn held(subject: &Subject, asked: &Asked) -> Option<Finding> {
    let (code, title) = ("lift.held", "something holds the part when the winch comes off");
    match &asked.then_held_by {
        Some(by) => Some(
            Finding::statement(code, subject.clone(), title, true)
                .basis(Basis::MakersLimit)
                .note(format!("Then it is held by: {by}."))
                .note("Nothing is held by people that a lock, a strap or a prop can hold."),
        ),
        None => asked.of_book.then(|| {
            let missing = "What holds it then: `then-held-by`, or `held-by` of where it comes to.";
            Finding::not_known(code, subject.clone(), title, missing)
        }),
    }
}

/// The lines of the pull of a part in one piece, without tolerances.
fn of_one(part: &Hinged, at: &At, piece: &Piece) -> (Working, Term) {
    let told = || Provenance::Maker;
    let mut w = Working::new();
    let ge = coarse(&mut w, "Ge", "centre of gravity along the part", part.centre.along);
    let gn = coarse(&mut w, "Gn", "centre of gravity square to the part", part.centre.normal);
    let m = w.given("m", "mass of the part", part.mass, piece.mass_from.clone());
    let (cos, sin, d) = lever(&mut w, part, at, OF_LINE);
    let g = w.given("g", "gravity", part.gravity, told());
    let gx = w.line("Gx", "centre of gravity forward of the hinge", ge * cos - gn * sin, Shown::Coarse);
    let f = w.line("F", "pull of all falls together", m * g * gx / d, Shown::Force);
    (w, f)
}

/// The lines of the pull of a part in several pieces, each at the worst of its tolerances.
fn of_pieces(raised: &Raised, at: &At, row: &BandAt) -> (Working, Term) {
    let mut w = Working::new();
    let (_, _, d) = lever(&mut w, &raised.stated(), at, OF_LINE);
    // A line that pulls the other way turns the worst about.
    let worst = raised.worst(row.phi, at.lever > Length::ZERO);
    let moment = moment(&mut w, raised, worst);
    let f = w.line("F", "pull of all falls together", moment / d, Shown::Force);
    (w, f)
}

/// The lines of the moment of the weight, each piece with its mass and place.
pub(super) fn moment(w: &mut Working, raised: &Raised, worst: Vec<(Mass, Length)>) -> Term {
    let g = w.given("g", "gravity", raised.gravity, constant());
    let moments: Vec<Term> = (1..)
        .zip(raised.pieces.iter().zip(worst))
        .map(|(i, (piece, (mass, x)))| {
            let meaning = format!("mass of \"{}\", at its worst", piece.name);
            let m = w.given(&format!("m{i}"), &meaning, mass, piece.mass_from.clone());
            let meaning = "how far forward of the hinge it acts then, at its worst";
            let x = x.amount().shown(Shown::Coarse);
            m * w.given(&format!("x{i}"), meaning, x, Provenance::Computed)
        })
        .collect();
    w.line("M", "moment of the weight about the hinge", sum(moments) * g, Shown::Moment)
}

fn coarse(w: &mut Working, symbol: &str, meaning: &str, value: Length) -> Term {
    w.given(symbol, meaning, value.amount().shown(Shown::Coarse), Provenance::Maker)
}

/// What eye and sheave are called in the lines of a lever.
pub(super) const OF_LINE: [&str; 4] = [
    "eye of the line along the part",
    "eye of the line square to the part",
    "sheave forward of the hinge",
    "sheave above the hinge",
];

/// The lines of the lever; cosine and sine of the angle come first.
pub(super) fn lever(w: &mut Working, part: &Hinged, at: &At, names: [&str; 4]) -> (Term, Term, Term) {
    let pe = coarse(w, "Pe", names[0], part.eye.along);
    let pn = coarse(w, "Pn", names[1], part.eye.normal);
    let sx = coarse(w, "Sx", names[2], part.sheave_x);
    let sz = coarse(w, "Sz", names[3], part.sheave_z);
    let phi =
        w.given("\u{3c6}", "angle of the part where the pull is greatest", at.phi, Provenance::Computed);
    let (cos, sin) = (phi.clone().cos(), phi.sin());
    let px = pe.clone() * cos.clone() - pn.clone() * sin.clone();
    let px = w.line("Px", "eye forward of the hinge", px, Shown::Coarse);
    let pz = w.line("Pz", "eye above the hinge", pe * sin.clone() + pn * cos.clone(), Shown::Coarse);
    let across = (sx.clone() - px.clone()).squared() + (sz.clone() - pz.clone()).squared();
    let l = w.line("l", "length of the line", across.sqrt(), Shown::Coarse);
    let d = w.line("d", "lever of the line about the hinge", (px * sz - pz * sx) / l, Shown::Coarse);
    (cos, sin, d)
}
