//! What is found of the stability of one situation, with the working.

use super::actions::ActionKind;
use super::error::StabilityError;
use super::factors::{FactorSet, TRAVELLING, UNFACTORED};
use super::overturning::{Answer, EdgeAction, EdgeCheck, EdgeLoad, Overturning, overturning};
use super::situation::StabilityInput;
use super::sliding::{Sliding, Uplift, sliding, uplift};
use crate::finding::{Basis, Finding, Proof, Sense, Standing, Subject};
use crate::working::{Provenance, Term, Working, number, sum};
use tober_quantity::{Acceleration, Amount, Force, Quantity, Ratio, Shown, Slope};

/// Where the inputs of a question about stability come from.
#[derive(Clone, Debug, PartialEq)]
pub struct Sources {
    /// The mass of each body, in their order. A body without one counts as guessed.
    pub masses: Vec<Provenance>,
    /// The masses of riders.
    pub riders: Provenance,
    /// The pressure of the wind.
    pub wind: Provenance,
    /// Areas and their coefficients.
    pub areas: Provenance,
    /// How far the frame may stand out of level.
    pub tilt: Provenance,
}

/// The findings on one situation: overturning, and on packing sliding and, in wind, uplift.
///
/// Each is judged by the factor set that comes out worst of those that were chosen; what the others say stands
/// beside it. None may be overridden (rule S2).
///
/// # Errors
/// As [`overturning`].
pub fn findings(input: &StabilityInput, sources: &Sources) -> Result<Vec<Finding>, StabilityError> {
    let mut found = vec![overturning_finding(input, sources)?];
    if input.situation.stands_on_packing() {
        found.push(sliding_finding(input, sources)?);
    }
    if input.situation.in_wind() {
        found.push(uplift_finding(input, sources)?);
    }
    Ok(found.into_iter().map(Finding::never_overridden).collect())
}

/// Of all answers the worst, by demand over limit; the notes say what every other set says.
struct Governed<'a, T> {
    worst: &'a T,
    notes: Vec<String>,
}

fn govern<'a, T>(
    answers: &'a [Answer<T>],
    share: impl Fn(&T) -> f64,
    set: impl Fn(&T) -> &str,
) -> Result<Governed<'a, T>, Vec<String>> {
    let known: Vec<&T> = answers.iter().filter_map(Answer::known).collect();
    let mut unknown: Vec<String> = Vec::new();
    for answer in answers {
        if let Answer::NotKnown(missing) = answer {
            unknown.extend(
                missing.iter().filter(|sentence| !unknown.contains(sentence)).cloned().collect::<Vec<_>>(),
            );
        }
    }
    let Some(worst) = known.iter().copied().reduce(|a, b| if share(b) > share(a) { b } else { a }) else {
        return Err(unknown);
    };
    let mut notes = vec![format!("It rests on {}, the strictest here of the sets chosen.", set(worst))];
    for other in known.iter().filter(|other| set(other) != set(worst)) {
        let of_limit = share(other);
        notes.push(if of_limit.is_finite() {
            format!("By {}: {} % of the limit.", set(other), (of_limit * 100.0).ceil())
        } else {
            format!("By {}: nothing holds.", set(other))
        });
    }
    notes.extend(unknown);
    Ok(Governed { worst, notes })
}

pub(super) fn not_known(code: &'static str, title: &str, missing: Vec<String>) -> Finding {
    let mut finding = Finding::not_known(code, Subject::Ride, title, "");
    finding.unknown = missing;
    finding
}

/// A force or moment that acts against one that resists, judged. Where nothing resists, nothing is proved to stand.
fn judged(code: &'static str, title: &str, demand: &Term, limit: &Term, shown: Shown) -> Finding {
    if limit.value() <= 0.0 {
        return Finding::statement(code, Subject::Ride, title, false);
    }
    let amount = |term: &Term| Amount { si: term.value(), shown };
    let band = (amount(demand), amount(demand));
    Finding::against_limit(code, Subject::Ride, title, band, amount(limit), Sense::AtMost)
}

const OVERTURNING: &str = "stability.overturning";
const SLIDING: &str = "stability.sliding";
const UPLIFT: &str = "stability.uplift";

fn overturning_finding(input: &StabilityInput, sources: &Sources) -> Result<Finding, StabilityError> {
    let title = format!("overturning, {}", input.situation.words());
    let answers = overturning(input)?;
    let share = |one: &Overturning| one.governing().share.map_or(f64::INFINITY, Ratio::as_one);
    let governed = match govern(&answers, share, |one| &one.set.name) {
        Ok(governed) => governed,
        Err(missing) => return Ok(not_known(OVERTURNING, &title, missing)),
    };
    let check = governed.worst.governing();
    let set = &governed.worst.set;
    let mut working = Working::new();
    let (tipping, holding) = moments(&mut working, input, check, sources, &set.basis);
    let least = working.given("k", "least factor", check.factor_least, tabulated(&set.basis));
    let needed = working.line("M_n", "moment that must be held", least * tipping, Shown::Moment);

    let mut finding = judged(OVERTURNING, &title, &needed, &holding, Shown::Moment)
        .basis(set.basis.clone())
        .basis(Basis::Mechanics)
        .working(working)
        .note(where_it_is_worst(check));
    finding = if finding.standing == Standing::PastLimit {
        finding
            .proof(Proof::Refuted { counterexample: where_it_is_worst(check) })
            .advice("Do not go on; ask the maker what base or ballast this situation needs.")
    } else {
        finding.proof(Proof::Proved)
    };
    if let Some(note) = beside(input, &answers)? {
        finding = finding.note(note);
    }
    if input.situation.in_wind() && !lifted(check) {
        finding = finding.note("No lift of a roof or sail acts here.");
    }
    Ok(governed.notes.into_iter().fold(finding, Finding::note))
}

/// What a rule that was not chosen says: for wind against weight the factors for travelling rides ask 1.2 where the older
/// building rule asks 1.5, so a pass says by which it stands. Judges nothing.
fn beside(input: &StabilityInput, answers: &[Answer<Overturning>]) -> Result<Option<String>, StabilityError> {
    let has = |name: &str| input.factors.iter().any(|set| set.name == name);
    let other = match (has(TRAVELLING), has(UNFACTORED)) {
        (_, false) => UNFACTORED,
        (false, true) => TRAVELLING,
        (true, true) => return Ok(None),
    };
    let mut question = input.clone();
    question.factors = FactorSet::named(other).into_iter().collect();
    let share = |one: &Overturning| one.governing().share.map_or(f64::INFINITY, Ratio::as_one);
    let stands = answers.iter().filter_map(Answer::known).all(|one| share(one) <= 1.0);
    Ok(overturning(&question)?.first().and_then(Answer::known).map(|by_other| {
        let used = share(by_other);
        let beside = format!("Beside it, not chosen: by {other} {} % of the limit.", (used * 100.0).ceil());
        match (stands, used > 1.0) {
            (_, _) if !used.is_finite() => format!("Beside it, not chosen: by {other} nothing holds."),
            (true, true) => {
                format!("{beside} It would not pass by that rule: the pass rests on what was chosen.")
            }
            _ => beside,
        }
    }))
}

fn lifted(check: &EdgeCheck) -> bool {
    check.actions.iter().any(|action| action.kind == ActionKind::Lift)
}

fn where_it_is_worst(check: &EdgeCheck) -> String {
    let mut text = format!("The edge from {} to {} is nearest to tipping", check.from, check.to);
    if let Some(angle) = check.angle {
        text += &format!(", with the turntable at {:.0}°", angle.as_deg());
    }
    if !check.full.is_empty() {
        text += &format!(" and full: {}", check.full.join(", "));
    }
    text + "."
}

fn tabulated(basis: &Basis) -> Provenance {
    Provenance::tabulated(&basis.to_string())
}

/// The lines of the moments that tip and that hold, and the two sums.
fn moments(
    working: &mut Working,
    input: &StabilityInput,
    check: &EdgeCheck,
    sources: &Sources,
    basis: &Basis,
) -> (Term, Term) {
    let standard = Provenance::chosen("standard gravity, exact");
    let gravity = working.given("g", "gravity", Acceleration::g(1.0), standard);
    if let Some(tilt) = input.tilt {
        let of = |slope: Slope| slope.amount();
        working.given("s_x", "tilt along the frame, in the levers", of(tilt.along), sources.tilt.clone());
        working.given("s_y", "tilt across the frame, in the levers", of(tilt.across), sources.tilt.clone());
    }
    let (mut tipping, mut holding) = (Vec::new(), Vec::new());
    for (index, action) in check.actions.iter().enumerate() {
        let number = index + 1;
        let moment = moment_line(working, input, action, number, &gravity, sources);
        let factor = working.given(
            &format!("f{number}"),
            &format!("factor on {}", action.name),
            action.factor,
            tabulated(basis),
        );
        let side = if action.moment.si() > 0.0 { &mut tipping } else { &mut holding };
        side.push(factor * moment);
    }
    let mut total = |symbol: &str, meaning: &str, terms: Vec<Term>| {
        if terms.is_empty() {
            let nothing = tober_quantity::Moment::ZERO;
            return working.given(symbol, meaning, nothing, Provenance::Computed);
        }
        working.line(symbol, meaning, sum(terms), Shown::Moment)
    };
    let tipping = total("M_t", "moment that tips, factored", tipping);
    let holding = total("M_h", "moment that holds, factored", holding);
    (tipping, holding)
}

fn moment_line(
    working: &mut Working,
    input: &StabilityInput,
    action: &EdgeAction,
    number: usize,
    gravity: &Term,
    sources: &Sources,
) -> Term {
    let name = &action.name;
    let side = if action.moment.si() > 0.0 { "tips" } else { "holds" };
    let moment = format!("M{number}");
    let lever = |working: &mut Working| {
        let meaning = format!("lever of {name} about the edge");
        working.given(&format!("d{number}"), &meaning, action.lever, Provenance::Computed)
    };
    match action.load {
        EdgeLoad::Mass(mass) => {
            let from = match action.kind {
                ActionKind::Riders => sources.riders.clone(),
                _ => mass_source(input, name, sources),
            };
            let meaning = format!("mass of {name}, at the end that is worse");
            let mass = working.given(&format!("m{number}"), &meaning, mass, from);
            let lever = lever(working);
            let term = mass * gravity.clone() * lever;
            working.line(&moment, &format!("{name} {side} with"), term, Shown::Moment)
        }
        EdgeLoad::Wind { pressure, area } => {
            let pressure =
                working.given(&format!("q{number}"), "pressure of the wind", pressure, sources.wind.clone());
            let meaning = format!("area times coefficient of {name}");
            let area = working.given(&format!("A{number}"), &meaning, area, sources.areas.clone());
            let lever = lever(working);
            let term = pressure * area * lever;
            working.line(&moment, &format!("wind on {name} {side} with"), term, Shown::Moment)
        }
        EdgeLoad::Pull(pull) => {
            let meaning = format!("pull of {name}, when the first guy carries all it may");
            let pull = working.given(&format!("T{number}"), &meaning, pull, Provenance::Computed);
            let lever = lever(working);
            working.line(&moment, &format!("{name} {side} with"), pull * lever, Shown::Moment)
        }
        EdgeLoad::Turning => {
            let meaning = format!("out of balance: {name} {side} with");
            working.given(&moment, &meaning, action.moment.abs(), Provenance::Computed)
        }
    }
}

fn mass_source(input: &StabilityInput, name: &str, sources: &Sources) -> Provenance {
    let index = input.bodies.iter().position(|body| body.name == name);
    index.and_then(|index| sources.masses.get(index)).cloned().unwrap_or(Provenance::Guessed)
}

/// The mass that several bodies have together is no better known than the worst known of them.
fn worst_mass_source(input: &StabilityInput, sources: &Sources) -> Provenance {
    let each = input.bodies.iter().map(|body| mass_source(input, &body.name, sources));
    let rank = |from: &Provenance| match from {
        Provenance::Guessed => 0,
        Provenance::Computed => 1,
        Provenance::Chosen { .. } => 2,
        Provenance::Tabulated { .. } => 3,
        Provenance::Maker => 4,
        Provenance::Measured { .. } => 5,
        Provenance::Weighed => 6,
    };
    each.min_by_key(rank).unwrap_or(Provenance::Guessed)
}

fn ratio(demand: Force, limit: Force) -> f64 {
    if limit > Force::ZERO {
        demand / limit
    } else if demand > Force::ZERO {
        f64::INFINITY
    } else {
        0.0
    }
}

fn sliding_finding(input: &StabilityInput, sources: &Sources) -> Result<Finding, StabilityError> {
    let title = format!("sliding, {}", input.situation.words());
    let answers = sliding(input)?;
    let governed =
        match govern(&answers, |one: &Sliding| ratio(one.force, one.resistance), |one| &one.set.name) {
            Ok(governed) => governed,
            Err(missing) => return Ok(not_known(SLIDING, &title, missing)),
        };
    let found = governed.worst;
    let set = &found.set;
    let mut working = Working::new();
    let from = || tabulated(&set.basis);
    let wind_factor = working.given("f_w", "factor on wind", set.wind, from());
    let other_factor = working.given("f_v", "factor on riders and turning", set.other_variable, from());
    let weight_factor = working.given("f_g", "factor on weight that helps", set.permanent_favourable, from());
    let divisor = working.given("f_m", "divisor of friction", set.friction_divisor, from());
    let wind = working.given("H_w", "force of the wind along the ground", found.wind, sources.wind.clone());
    let turning = working.given("H_t", "greatest force out of balance", found.turning, Provenance::Computed);
    let down = found.force - found.wind * set.wind.si() - found.turning * set.other_variable.si();
    let downhill = working.given(
        "H_s",
        "weight down the tilted frame, greatest masses, factored",
        down.max(Force::ZERO),
        sources.tilt.clone(),
    );
    let force = working.line(
        "H",
        "force along the ground, factored",
        wind_factor.clone() * wind + other_factor * turning + downhill,
        Shown::Force,
    );
    let weight = working.given(
        "W",
        "weight of the ride, least masses, no riders",
        found.weight,
        worst_mass_source(input, sources),
    );
    let lift = working.given("L", "lift of the wind", found.lift, sources.wind.clone());
    let friction =
        working.given("mu", "lowest friction", found.friction, Provenance::tabulated(found.friction_source));
    let pressing = working.line(
        "N",
        "what presses down, factored",
        weight_factor * weight - wind_factor * lift,
        Shown::Force,
    );
    let pressing = if pressing.value() > 0.0 { pressing } else { pressing * number(0.0) };
    let mut resisting = friction / divisor * pressing;
    if !input.ropes().is_empty() {
        let meaning = "what the guys add, in the direction in which they help least";
        resisting = resisting + working.given("G", meaning, found.guys, Provenance::Computed);
    }
    let resistance = working.line("R", "what resists", resisting, Shown::Force);
    let mut finding = judged(SLIDING, &title, &force, &resistance, Shown::Force)
        .basis(set.basis.clone())
        .working(working)
        .note(format!(
            "What slides first is {}; no rider's weight is counted to help.",
            found.interface.words()
        ));
    let mut told = Vec::new();
    for sentence in input.interfaces.iter().filter_map(|interface| interface.disagreement()) {
        if !told.contains(&sentence) {
            told.push(sentence);
        }
    }
    finding = told.into_iter().fold(finding, Finding::note);
    if finding.standing == Standing::PastLimit {
        finding = finding.advice("Do not go on; ask the maker how the ride is held against sliding.");
    }
    Ok(governed.notes.into_iter().fold(finding, Finding::note))
}

fn uplift_finding(input: &StabilityInput, sources: &Sources) -> Result<Finding, StabilityError> {
    let title = format!("uplift, {}", input.situation.words());
    let answers = uplift(input)?;
    let governed = match govern(&answers, |one: &Uplift| ratio(one.lifting, one.holding), |one| &one.set.name)
    {
        Ok(governed) => governed,
        Err(missing) => return Ok(not_known(UPLIFT, &title, missing)),
    };
    let found = governed.worst;
    let set = &found.set;
    let mut working = Working::new();
    let from = || tabulated(&set.basis);
    let wind_factor = working.given("f_w", "factor on wind", set.wind, from());
    let weight_factor = working.given("f_g", "factor on weight that helps", set.permanent_favourable, from());
    let lift = working.given("L", "lift of the wind", found.lift, sources.wind.clone());
    let weight = working.given(
        "W",
        "weight of the ride, least masses, no riders",
        found.weight,
        worst_mass_source(input, sources),
    );
    let lifting = working.line("F", "what lifts, factored", wind_factor * lift, Shown::Force);
    let mut holding = weight_factor * weight;
    if !input.ropes().is_empty() {
        let meaning = "what the guys pull down with when the first carries all it may";
        holding = holding + working.given("G", meaning, found.guys, Provenance::Computed);
    }
    let holding = working.line("R", "what holds down, factored", holding, Shown::Force);
    let finding =
        judged(UPLIFT, &title, &lifting, &holding, Shown::Force).basis(set.basis.clone()).working(working);
    Ok(governed.notes.into_iter().fold(finding, Finding::note))
}
