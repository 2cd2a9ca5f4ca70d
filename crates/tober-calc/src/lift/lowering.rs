//! A travel in which the rope runs out, and what holds the part where the line is slack.
//!
//! # While it lowers
//! Rope that runs out turns every sheave the other way: each passes on `eta` of the pull from the side of the load, so the fall
//! next to the winch pulls least. With `R` at the winch the falls pull `R / eta, R / eta^2, ... R / eta^falls`, and
//!
//! `R = F / (1 / eta + ... + 1 / eta^falls) = F eta^falls / (1 + eta + ... + eta^(falls - 1))`.
//!
//! That is what the brake has to let go against. At rest the rope pulls between that and what it pulls while it hoists, as friction
//! acts one way or the other; and who lowers may have to take the part up again. So the winch is held against the pull of
//! hoisting over the same travel (`lift.pull`), and what it pulls while it lowers is told beside it.
//! Source: mechanics. Validity: a steady pace, all sheaves alike. Not covered: the jerk of a brake that is let go and caught.
//!
//! # Over the balance
//! Where the weight has passed the hinge the line is slack, and something else must hold the part: `H = M / dh`, with `dh` the lever
//! of the line from where that is made fast to the part (or bears on it) to the fixed point it runs to, as of the winch line. Where
//! `H` is negative it pushes, and a rope does not. The same force draws the part back over its balance, slowly and without friction at
//! the hinge, whichever way it goes. Mass and place of each piece are at their worst.

use super::banded::Over;
use super::findings::{Asked, Rope, degrees, lever, load, moment, not_told, of_first_layer, rated_at_layer};
use super::hinged::{Hinged, at};
use super::travel::GRID_DEG;
use super::{LiftError, OnPart};
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Term, Working, number, sum};
use tober_quantity::{Angle, Force, Length, Shown};

/// What holds a part where the line is slack: a check line, a spring, a strut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// Where it is made fast to the part, or bears on it.
    pub at: OnPart,
    /// The fixed point to which it runs, forward of the hinge.
    pub to_x: Length,
    /// And above it.
    pub to_z: Length,
    /// What it is rated to hold along the line between the two.
    pub rated: Option<Force>,
}

/// What a hold carries where it carries most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// At which angle of the part.
    pub phi: Angle,
    /// Along the line of the hold: positive where it pulls, negative where it pushes.
    pub force: Force,
}

/// What a winch pulls while its rope runs out under a load: see the head of this part.
pub fn paid_out(pull: Force, part: &Hinged) -> Force {
    let eta = part.efficiency.as_one();
    let (times, power) = (0..part.falls).fold((0.0, 1.0), |(sum, power), _| (sum + power, power * eta));
    pull * (power / times)
}

/// What a hold carries at most where the line is slack; `None` where the line is slack nowhere, or where the hold has no lever.
pub fn held_most(over: &Over, hold: &Hold) -> Result<Option<Held>, LiftError> {
    let part = hold_part(over, hold);
    let mut most: Option<Held> = None;
    for row in over.rows.iter().filter(|row| row.low < Force::ZERO) {
        let (line, back) = (at(&over.raised.stated(), row.phi)?, at(&part, row.phi)?);
        let (Some(_), Some(_)) = (line.pull, back.pull) else { return Ok(None) };
        let worst = over.raised.moment_nm(row.phi, line.lever < Length::ZERO);
        let force = Force::n(worst / back.lever.as_m());
        if most.is_none_or(|so_far| force.abs() > so_far.force.abs()) {
            most = Some(Held { phi: row.phi, force });
        }
    }
    Ok(most)
}

/// The part with its hold in the place of the line.
pub(super) fn hold_part(over: &Over, hold: &Hold) -> Hinged {
    Hinged { eye: hold.at, sheave_x: hold.to_x, sheave_z: hold.to_z, ..over.raised.stated() }
}

impl Over {
    /// Whether the rope runs out as the part goes from its greater angle to its lesser, or the other way (`from_top` false).
    pub fn runs_out(&self, from_top: bool) -> bool {
        self.stated.dead.is_empty()
            && self.stated.listed.rows.first().is_some_and(|row| (row.lever > Length::ZERO) == from_top)
    }
}

/// What is told of a travel in which the rope runs out.
pub(super) fn lowering(
    subject: &Subject,
    over: &Over,
    rope: &Rope,
    asked: &Asked,
) -> Result<Option<Finding>, LiftError> {
    if !over.runs_out(asked.from_top) {
        return Ok(None);
    }
    out(subject, rope, asked).map(Some)
}

/// The pull of the rope while it runs out, from the pull of all falls.
pub(super) fn out(subject: &Subject, rope: &Rope, asked: &Asked) -> Result<Finding, LiftError> {
    let (code, title) = ("lift.lower", "greatest pull of the winch rope while it lowers");
    let mut w = rope.before.clone();
    let (f, eta, falls) = &rope.of;
    let eta = w.given("\u{3b7}", "efficiency of a sheave", *eta, Provenance::Maker);
    let power = |by: u32| if by == 1 { eta.clone() } else { eta.clone().power(f64::from(by)) };
    let each = (0..*falls).map(|fall| if fall == 0 { number(1.0) } else { power(fall) });
    let each: Vec<Term> = each.collect();
    let n = w.line("n", "how many times it acts, friction helping", sum(each) / power(*falls), Shown::Ratio);
    let out = w.line("Rl", "pull of the winch rope while it lowers", f.clone() / n, Shown::Force);
    let high = Force::n(out.value());
    let share = if rope.high > Force::ZERO { rope.low / rope.high } else { 1.0 };
    let band = (load(high * share), load(high));
    let limit = rated_at_layer(&mut w, asked)?;
    let finding = match limit {
        Some(limit) => {
            let of = Finding::against_limit(code, subject.clone(), title, band, load(limit), Sense::AtMost);
            of_first_layer(of.basis(Basis::MakersLimit), asked)
        }
        None => Finding::without_limit(code, subject.clone(), title, band, &not_told(asked)),
    };
    Ok(finding
        .basis(Basis::Mechanics)
        .working(w)
        .note("Friction of the sheaves helps it here. To take the part up again the rope pulls what it pulls while it hoists.")
        .never_overridden())
}

/// Whether the travel begins where the line is slack.
fn begins_slack(over: &Over, from_top: bool) -> Option<Angle> {
    let rows = &over.rows;
    let first = if from_top { rows.last() } else { rows.first() }?;
    let near = |edge: Angle| (edge.as_deg() - first.phi.as_deg()).abs() < GRID_DEG / 2.0;
    over.slack.iter().any(|(low, high)| near(*low) || near(*high)).then_some(first.phi)
}

/// What holds the part where the line is slack, and what brings it over its balance where it begins there. Only asked of a book,
/// and of a question that tells a hold.
pub(super) fn over_balance(subject: &Subject, over: &Over, asked: &Asked) -> Result<Vec<Finding>, LiftError> {
    let mut all = Vec::new();
    if over.slack.is_empty() || over.rows.is_empty() {
        return Ok(all);
    }
    if asked.of_book || asked.hold.is_some() {
        all.extend(hold(subject, over, asked)?);
    }
    let (code, title) = ("lift.over", "something brings the part over its balance where it begins");
    if let Some(phi) = begins_slack(over, asked.from_top).filter(|_| asked.of_book) {
        let finding = match &asked.brought_over_by {
            Some(by) => Finding::statement(code, subject.clone(), title, true)
                .basis(Basis::MakersLimit)
                .note(format!(
                    "It begins at {}, past its balance: the winch can only let go. It is brought over by: {by}.",
                    degrees(phi)
                ))
                .note("It has to pull what holds the part there, and a little more."),
            None => Finding::not_known(
                code,
                subject.clone(),
                title,
                "What brings it over: it begins past its balance, where the winch can only let go (`brought-over-by`).",
            ),
        };
        all.push(finding.never_overridden());
    }
    Ok(all)
}

fn hold(subject: &Subject, over: &Over, asked: &Asked) -> Result<Option<Finding>, LiftError> {
    let (code, title) = ("lift.hold", "greatest force in what holds the part where the line is slack");
    // Without anything that holds it the line is past its limit already.
    if asked.of_book && asked.held_back_by.is_none() {
        return Ok(None);
    }
    let not_known = |missing: &str| {
        let finding = Finding::not_known(code, subject.clone(), title, missing);
        Ok(Some(finding.basis(Basis::Mechanics).never_overridden()))
    };
    let Some(hold) = asked.hold else {
        return not_known(
            "Where it is made fast to the part, and to where it runs (`held-back-at`, `held-back-to`).",
        );
    };
    let Some(most) = held_most(over, &hold)? else {
        return not_known("A hold whose line passes the hinge on one side: it has no lever there.");
    };
    let part = hold_part(over, &hold);
    let row = at(&part, most.phi)?;
    let mut w = Working::new();
    let names = [
        "hold along the part",
        "hold square to the part",
        "fixed point forward of the hinge",
        "fixed point above the hinge",
    ];
    let (_, _, d) = lever(&mut w, &part, &row, names);
    let more = at(&over.raised.stated(), most.phi)?.lever < Length::ZERO;
    let m = moment(&mut w, &over.raised, over.raised.worst(most.phi, more));
    w.line("H", "force of the hold, pulling where positive", m / d, Shown::Force);
    let band = (load(Force::ZERO), load(most.force.abs()));
    let finding = match hold.rated {
        Some(rated) => Finding::against_limit(code, subject.clone(), title, band, load(rated), Sense::AtMost)
            .basis(Basis::MakersLimit),
        None => {
            let key = asked.key("hold.rated_N", "held-back-rated");
            let missing = format!("What it is rated to hold (`{key}`).");
            Finding::without_limit(code, subject.clone(), title, band, &missing)
        }
    };
    let way = if most.force < Force::ZERO { "pushes: a rope does not" } else { "pulls" };
    Ok(Some(
        finding
            .basis(Basis::Mechanics)
            .working(w)
            .note(format!("It comes at {}, and there it {way}.", degrees(most.phi)))
            .never_overridden(),
    ))
}
