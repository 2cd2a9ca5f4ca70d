//! What is found of the wind a ride stands in, and of what must be stowed before it.

use super::error::StabilityError;
use super::findings::{Sources, not_known};
use super::overturning::Answer;
use super::stowing::{Rung, StowingInput, Withstood, stowing};
use crate::finding::{Basis, Finding, Proof, Sense, Standing, Subject};
use crate::working::{Provenance, Working};
use tober_quantity::{Amount, Pressure, Quantity, Shown, Speed};

/// The finding on what must be stowed: the speed of the greatest wind allowed, against that of the wind in which it stands with what the book
/// has stowed; and for fewer and more bodies stowed the wind to which it stands. Never overridden (rule S2).
///
/// `speed` is the speed of the greatest wind allowed, as its limit is read; other winds are told in the same terms, by
/// v = v₀ √(q / q₀).
///
/// # Errors
/// As [`stowing`].
pub fn stowing_finding(
    input: &StowingInput,
    speed: Speed,
    sources: &Sources,
) -> Result<Finding, StabilityError> {
    const CODE: &str = "stability.stowing";
    let title = "standing empty in the greatest wind allowed, with what the book has stowed";
    let answer = match stowing(input)? {
        Answer::Known(answer) => answer,
        Answer::NotKnown(missing) => return Ok(not_known(CODE, title, missing).never_overridden()),
    };
    let allowed = input.open.wind.map_or(Pressure::ZERO, |wind| wind.pressure);
    if allowed <= Pressure::ZERO {
        let nothing = vec!["Not known: a wind that presses, against which to stow.".to_owned()];
        return Ok(not_known(CODE, title, nothing).never_overridden());
    }
    let mut working = Working::new();
    let q0 = working.given("q", "pressure of the greatest wind allowed", allowed, sources.wind.clone());
    let v0 = working.given("v", "speed of that wind, as its limit is read", speed, sources.wind.clone());
    let mut stands = |number: usize, meaning: &str, withstands: &Withstood| {
        let limit = format!("greatest pressure in which it stands, {meaning}");
        let q = working.given(&format!("q{number}"), &limit, withstands.pressure, Provenance::Computed);
        let speed = v0.clone() * (q / q0.clone()).sqrt();
        working.line(
            &format!("v{number}"),
            &format!("speed to which it stands, {meaning}"),
            speed,
            Shown::Speed,
        )
    };
    let told = names(input, &input.told);
    let limit = stands(0, &format!("as the book has it: {told}"), &answer.as_told);
    for (index, rung) in answer.rungs.iter().enumerate() {
        stands(index + 1, &names(input, &rung.stowed), &rung.withstands);
    }
    let mut finding = if limit.value() > 0.0 {
        let limit = Amount { si: limit.value(), shown: Shown::Speed };
        let demand = (speed.amount(), speed.amount());
        Finding::against_limit(CODE, Subject::Ride, title, demand, limit, Sense::AtMost)
    } else {
        Finding::statement(CODE, Subject::Ride, title, false)
    };
    finding = finding.basis(Basis::Mechanics).working(working);
    finding = finding.note(format!("The book has {told}."));
    for rung in &answer.rungs {
        finding = finding.note(told_of(input, rung, allowed));
    }
    finding = match (answer.serves, answer.rungs.last()) {
        (true, Some(least)) => {
            finding.note(format!("The least that must be done: {}.", names(input, &least.stowed)))
        }
        _ => finding.note("Whatever is stowed, it does not stand in the greatest wind allowed."),
    };
    finding = if answer.proved {
        finding.proof(Proof::Proved)
    } else {
        finding.note("Not every choice was tried: fewer may serve.")
    };
    if finding.standing == Standing::PastLimit {
        let advice = match (answer.serves, answer.rungs.last()) {
            (true, Some(least)) => format!(
                "Ask the maker whether this may be done before that wind: {}.",
                names(input, &least.stowed)
            ),
            _ => "Fold it before that wind comes, or do not build it.".to_owned(),
        };
        finding = finding.advice(advice);
    }
    for why in &answer.as_told.missing {
        finding = finding.doubted(why);
    }
    Ok(finding.never_overridden())
}

fn names(input: &StowingInput, stowed: &[usize]) -> String {
    if stowed.is_empty() {
        return "nothing stowed".to_owned();
    }
    let each: Vec<&str> = stowed.iter().map(|&at| input.stowable[at].1.name.as_str()).collect();
    format!("{} stowed", each.join(", "))
}

fn told_of(input: &StowingInput, rung: &Rung, allowed: Pressure) -> String {
    let with = names(input, &rung.stowed);
    let withstands = &rung.withstands;
    if withstands.pressure <= Pressure::ZERO {
        return format!("With {with} it {} in still air.", withstands.first);
    }
    if withstands.first.is_empty() {
        return format!("With {with} it stands in any wind.");
    }
    // Rounded down: a speed to which it stands.
    let percent = ((withstands.pressure / allowed).sqrt() * 100.0).floor();
    format!(
        "With {with} it stands up to {percent} % of that wind's speed, and then {} first (by {}).",
        withstands.first, withstands.set
    )
}
