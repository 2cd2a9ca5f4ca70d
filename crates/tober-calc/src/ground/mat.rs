//! Bending and shear of the boards and plates of a stack, each as a cantilever beyond what it carries.

use super::crushing::{Service, TimberUse, modification_factor};
use super::error::{load_within, within};
use super::spread::{Grain, Spread, Stack};
use super::timber::{Timber, TimberStandard};
use super::{Confidence, GroundError};
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Working, greatest, number};
use tober_quantity::{Amount, Force, Length, Quantity, Ratio, Shown};

/// Bending and shear of each layer that spreads its load along its grain, from the foot down.
///
/// The load that [`super::spread()`] counts as widened by x = (l2 − l1)/2 at each end of the grain is carried out
/// there by the boards: as a cantilever under the even pressure p = R/(l2 b2) below it, M = p b2 x²/2 against
/// b h²/6 with b the width that the load bears on above, and
/// V = p b2 (x − h) with stress 1.5 V/(b h): load within a depth h of the bearing goes straight down (EN 1995-1-1
/// 6.1.7(3), NDS 3.4.3.1; from memory).
/// EN 1995-1-1 6.1.6, 6.1.7: γ times that against k_mod f/1.3, with 0.67 of the width for shear (cracks, Amendment 1).
/// NDS 3.3, 3.4: against Fb × 0.85 and Fv × 0.97 when wet; no credit for a short load. Factors from memory.
/// A plate of metal, both ways: γ times the stress against fy/γM, γM 1.0 (EN 1993-1-1 6.1) or 1.1 (EN 1999-1-1 6.1.3), elastic,
/// shear against 0.577 fy; factors from memory.
/// The area that counts is thus limited twice: by 2:1 of the spread, and by the overhang that bending allows,
/// which is the last line of the working.
///
/// # Errors
/// A load or factor out of range.
///
/// # Not covered
/// Bending across the grain: the spread of 1:1 goes no farther out than the board is thick, which is where load counts as
/// going straight down; see [`bending_across_grain`] for a board that is laid so that it spans. Boards on a hollow or a hump, knots, rot.
pub fn bending_of_stack(
    subject: &Subject,
    load: (Force, Force),
    stack: &Stack,
    spread: &Spread,
    used: &TimberUse,
) -> Result<Vec<Finding>, GroundError> {
    load_within(load)?;
    within("load factor", used.load_factor.as_one(), (1.0, 10.0), "")?;
    let mut found = Vec::new();
    let places = spread.contacts.iter().zip(&spread.undersides);
    for (i, (layer, (above, below))) in stack.layers.iter().zip(places).enumerate() {
        let sides = |size: &super::PlanSize| match layer.grain {
            Grain::Along => (size.along, size.across),
            Grain::Across => (size.across, size.along),
        };
        let note = format!("Layer {} from the top.", i + 1);
        let metal = layer.timber.filter(|timber| timber.standard.is_metal());
        let ((l1, b1), (l2, b2)) = (sides(above), sides(below));
        if let Some(metal) = metal.filter(|_| b2 > b1) {
            let at = At { l1: b1, l2: b2, b1: l1, b2: l2, h: layer.thickness };
            found.push(one(subject, load, at, metal, used, true).note(note.clone()));
            found.push(one(subject, load, at, metal, used, false).note(note.clone()));
        }
        if l2 <= l1 {
            continue;
        }
        let Some(timber) = layer.timber else {
            for (code, title) in [("ground.mat-bending", BENDING), ("ground.mat-shear", SHEAR)] {
                let missing = format!("What layer {} from the top is made of is not known.", i + 1);
                found.push(
                    Finding::not_known(code, subject.clone(), title, &missing).advice("Say its class."),
                );
            }
            continue;
        };
        let at = At { l1, l2, b1, b2, h: layer.thickness };
        found.push(one(subject, load, at, timber, used, true).note(note.clone()));
        found.push(one(subject, load, at, timber, used, false).note(note));
    }
    Ok(found)
}

const BENDING: &str = "bending of a board beyond what it carries";
const SHEAR: &str = "shear of a board beyond what it carries";

#[derive(Clone, Copy)]
struct At {
    l1: Length,
    l2: Length,
    b1: Length,
    b2: Length,
    h: Length,
}

fn one(
    subject: &Subject,
    load: (Force, Force),
    at: At,
    timber: &Timber,
    used: &TimberUse,
    bends: bool,
) -> Finding {
    let (code, title) = if bends { ("ground.mat-bending", BENDING) } else { ("ground.mat-shear", SHEAR) };
    let Some(strength) = (if bends { timber.bending() } else { timber.shear() }) else {
        let missing = format!("The strength of {} for this is not held.", timber.name);
        return Finding::not_known(code, subject.clone(), title, &missing)
            .advice("Use a board whose class is known, or ask for the figure.");
    };
    let mut w = Working::new();
    let mut given =
        |symbol: &str, meaning: &str, size: Length| w.given(symbol, meaning, size, Provenance::Computed);
    let l1 = given("l1", "what bears on it, along its grain", at.l1);
    let l2 = given("l2", "what it spreads to, along its grain", at.l2);
    let b1 = given("b1", "width that carries", at.b1);
    let b2 = given("b2", "width that it spreads to", at.b2);
    let h = given("h", "thickness", at.h);
    let r = w.given("R", "load on the leg, greatest", load.1, Provenance::Computed);
    let x = w.line("x", "overhang at each end", (l2.clone() - l1) / number(2.0), Shown::Fine);
    let p = w.line("p", "pressure below it", r / (l2 * b2.clone()), Shown::Pressure);
    let ratio = |value: f64| Ratio::one(value);
    let eurocode = timber.standard == TimberStandard::En338;
    let (factor, allowed) = if timber.standard.is_metal() {
        let source = Provenance::chosen("EN 1993 and EN 1999 compare design loads with design strengths");
        let factor = w.given("γ", "load factor", used.load_factor, source);
        let partial = if timber.standard == TimberStandard::Steel { 1.0 } else { 1.1 };
        let code = Provenance::tabulated("EN 1993-1-1 6.1, EN 1999-1-1 6.1.3, from memory");
        let partial = w.given("γM", "metal", ratio(partial), code);
        (factor, number(1.0) / partial)
    } else if eurocode {
        let source = Provenance::chosen("EN 1995-1-1 compares design loads with design strengths");
        let factor = w.given("γ", "load factor", used.load_factor, source);
        let lasts = ratio(modification_factor(used.service, used.duration));
        let lasts = w.given(
            "kmod",
            "wet and duration",
            lasts,
            Provenance::tabulated("EN 1995-1-1 Table 3.1, from memory"),
        );
        let whole = ratio(if bends { 1.0 } else { 0.67 });
        let whole =
            w.given("kcr", "left by cracks", whole, Provenance::tabulated("EN 1995-1-1 6.1.7, from memory"));
        (factor, lasts * whole / number(1.3))
    } else {
        let factor =
            w.given("γ", "load factor", ratio(1.0), Provenance::chosen("NDS compares loads as they stand"));
        let wet = match (used.service, bends) {
            (Service::Dry, _) => 1.0,
            (Service::Wet, true) => 0.85,
            (Service::Wet, false) => 0.97,
        };
        let moist =
            w.given("CM", "wet service", ratio(wet), Provenance::tabulated("NDS Supplement, from memory"));
        (factor, moist)
    };
    let f = strength.amount().shown(Shown::Stress);
    let f = w.given("f", &format!("strength, {}", timber.name), f, Provenance::tabulated(timber.source));
    let limit = w.line("fd", "stress allowed", allowed * f, Shown::Stress);
    let stress = if bends {
        let moment =
            w.line("M", "bending", p.clone() * b2.clone() * x.squared() / number(2.0), Shown::Moment);
        number(6.0) * factor.clone() * moment / (b1.clone() * h.clone().squared())
    } else {
        let shear = w.line(
            "V",
            "shear, without what lies within h of the bearing",
            p.clone() * b2.clone() * greatest(vec![x - h.clone(), number(0.0) * h.clone()]),
            Shown::Force,
        );
        number(1.5) * factor.clone() * shear / (b1.clone() * h.clone())
    };
    let stress = w.line("σ", "stress", stress, Shown::Stress);
    if bends && load.1 > Force::ZERO {
        let most = h * (limit.clone() * b1 / (number(3.0) * factor * p * b2)).sqrt();
        w.line("xm", "overhang that bending allows", most, Shown::Fine);
    }
    let share = if load.1 > Force::ZERO { (load.0 / load.1).min(1.0) } else { 1.0 };
    let amount = |si| Amount { si, shown: Shown::Stress };
    let band = (amount(stress.value() * share), amount(stress.value()));
    let basis = if timber.standard.is_metal() {
        "EN 1993-1-1:2005 6.2.5, 6.2.6; EN 1999-1-1:2007 6.2.5, 6.2.6"
    } else if eurocode {
        "EN 1995-1-1:2004 6.1.6, 6.1.7 and Table 3.1"
    } else {
        "NDS 2018 3.3, 3.4, wet factors 0.85 and 0.97"
    };
    let mut finding =
        Finding::against_limit(code, subject.clone(), title, band, amount(limit.value()), Sense::AtMost)
            .working(w)
            .basis(Basis::document(
                "UK outrigger mat design note citing BS 5975",
                "spread and overhang",
                "2019",
            ))
            .basis(Basis::from_memory(basis))
            .advice("Lay thicker boards, or put a shorter layer between, so that less hangs over.");
    if timber.confidence == Confidence::FromMemory {
        finding = finding.basis(Basis::from_memory(timber.source));
    }
    finding
}

/// A board that spans across its grain, from bearing to bearing, and carries a load spread evenly over the span.
///
/// M = R l/8, σ = 6 M/(b h²), γσ against k_mod f_t,90/1.3: EN 338:2016 Table 1 gives no bending strength across the grain but a
/// tension strength of 0.4 N/mm² for every class (reference TM-14, TM-15), and bending across it pulls the fibres apart.
/// A thirtieth and less of what it carries along its grain: no board is meant to span so. Timber of EN 338 alone.
///
/// # Errors
/// A load, size or factor out of range.
///
/// # Not covered
/// Checks and shakes, which leave nothing of this strength.
pub fn bending_across_grain(
    subject: &Subject,
    load: (Force, Force),
    (span, width, thickness): (Length, Length, Length),
    timber: &Timber,
    used: &TimberUse,
) -> Result<Finding, GroundError> {
    const CODE: &str = "ground.across-grain";
    const TITLE: &str = "bending of a board that spans across its grain";
    load_within(load)?;
    within("load factor", used.load_factor.as_one(), (1.0, 10.0), "")?;
    for (what, size) in [("span", span), ("width of a board", width), ("thickness of a board", thickness)] {
        within(what, size.as_m(), (0.001, 40.0), "m")?;
    }
    if timber.standard != TimberStandard::En338 {
        let missing = format!("The strength of {} across its grain is not held.", timber.name);
        return Ok(Finding::not_known(CODE, subject.clone(), TITLE, &missing));
    }
    let mut w = Working::new();
    let r = w.given("R", "load on the board, greatest", load.1, Provenance::Computed);
    let mut size = |symbol: &str, meaning: &str, size: Length| {
        w.given(symbol, meaning, size, Provenance::measured("tape"))
    };
    let l = size("l", "span across the grain", span);
    let b = size("b", "along the grain, what carries", width);
    let h = size("h", "thickness", thickness);
    let chosen = Provenance::chosen("EN 1995-1-1 compares design loads with design strengths");
    let factor = w.given("γ", "load factor", used.load_factor, chosen);
    let code = |what: &str| Provenance::tabulated(what);
    let lasts = Ratio::one(modification_factor(used.service, used.duration));
    let lasts = w.given("kmod", "wet and duration", lasts, code("EN 1995-1-1 Table 3.1, from memory"));
    let strength = tober_quantity::Pressure::mpa(0.4).amount().shown(Shown::Stress);
    let f = w.given("f", "tension strength across the grain", strength, code("EN 338:2016 Table 1"));
    let moment = w.line("M", "bending", r * l / number(8.0), Shown::Moment);
    let stress =
        w.line("σ", "design stress", number(6.0) * factor * moment / (b * h.squared()), Shown::Stress);
    let limit = w.line("fd", "design strength", lasts * f / number(1.3), Shown::Stress);
    let amount = |si| Amount { si, shown: Shown::Stress };
    let share = if load.1 > Force::ZERO { (load.0 / load.1).min(1.0) } else { 1.0 };
    let band = (amount(stress.value() * share), amount(stress.value()));
    Ok(Finding::against_limit(CODE, subject.clone(), TITLE, band, amount(limit.value()), Sense::AtMost)
        .working(w)
        .basis(Basis::document("EN 338", "Table 1, ft,90,k", "2016"))
        .basis(Basis::from_memory("EN 1995-1-1:2004 6.1.6 and Table 3.1"))
        .advice("Turn the board, so that its grain runs over the bearings."))
}
