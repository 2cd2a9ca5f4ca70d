//! The pin that holds a leg: shear, bearing and bending; and the eye of a plate.

use super::GroundError;
use super::error::{load_within, within};
use crate::finding::{Basis, Finding, Sense, Subject};
use crate::working::{Provenance, Term, Working, least, number};
use core::f64::consts::PI;
use tober_quantity::{Amount, Area, Force, Length, Pressure, Quantity, Ratio, Shown};

/// How many faces of a pin are sheared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Planes {
    /// It goes through one wall of each.
    Single,
    /// It goes right through leg and sleeve.
    Double,
}

/// A pin and what it goes through. What is not told is `None`, and what rests on it is not known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pin {
    /// Its diameter.
    pub diameter: Option<Length>,
    /// Its yield strength.
    pub strength: Option<Pressure>,
    /// How many faces are sheared.
    pub planes: Planes,
    /// Thickness of one wall of the leg.
    pub leg_wall: Option<Length>,
    /// Thickness of one wall of the sleeve.
    pub sleeve_wall: Option<Length>,
    /// Yield strength of leg and sleeve, the lower of the two.
    pub wall_strength: Option<Pressure>,
    /// The gap between leg and sleeve on one side, with the leg hard against the other.
    pub gap: Option<Length>,
    /// Whether the sleeve is bored, so that the pin bears in holes of it. Otherwise it bears on the sleeve's rim.
    pub sleeve_bored: bool,
}

const RIM: &str = "bearing of the pin on the sleeve's rim";
const ADVICE: &str = "Take load off this leg, or fit the pin that the maker names.";

fn basis() -> [Basis; 2] {
    [
        Basis::document("EN 1993-1-8", "Table 3.10, Figure 3.11", "2005"),
        Basis::from_memory("EN 1993-1-8 recommended factors: M0 1.0, M2 1.25, M6,ser 1.0"),
    ]
}

fn lacking(code: &'static str, subject: &Subject, title: &str, what: &str) -> Finding {
    Finding::not_known(code, subject.clone(), title, what)
        .advice("Measure it, or ask the maker, and write it in the ride book.")
}

/// Shear, bearing and bending of a leg's pin.
///
/// EN 1993-1-8 Table 3.10 for a pin that can be replaced (reference RG-15). Shear of a face: γR/n ≤ 0.6 A fy/1.25,
/// with the yield strength where the code has the ultimate, which is never less. Bearing of a wall: γR/2 ≤
/// 1.5 t d fy, and R/2 ≤ 0.6 t d fy as it stands. Bending: M = (F/8)(b + 4c + 2a) with a a wall of the sleeve, b both
/// walls of the leg, c the gap, against 1.5 W fy (design) and 0.8 W fy (as it stands), W = πd³/32 (RG-16); with the
/// square of shear added, (M/MR)² + (F/FR)² ≤ 1. γ multiplies the load for the design checks.
/// A pin on the rim of a sleeve bears on two flat edges along a line: σ = 0.591 √(E F/(d t)) ≤ 2.5 fy, the contact rule of
/// Table 3.10 for a pin that can be replaced, in a hole so wide that its edge is flat; E 210 kN/mm². Past it the rim is
/// dented with each setting, which is wear, and no fall.
/// A pin in single shear is bent by how it is held, which is not told: bending is then not known.
///
/// # Errors
/// A load, size or factor out of range.
///
/// # Not covered
/// Worn or egg-shaped holes, tearing out of the hole's edge, welds, fatigue.
pub fn pin_findings(
    subject: &Subject,
    load: (Force, Force),
    pin: &Pin,
    load_factor: Ratio,
) -> Result<Vec<Finding>, GroundError> {
    check(pin, load, load_factor)?;
    let titles = ["shear of the pin", "bearing of the pin in its holes", "bending of the pin"];
    let (Some(diameter), Some(strength)) = (pin.diameter, pin.strength) else {
        let what = "The diameter and the strength of the pin.";
        return Ok(["pin.shear", "pin.bearing", "pin.bending"]
            .into_iter()
            .zip(titles)
            .map(|(code, title)| lacking(code, subject, title, what))
            .collect());
    };
    let start = || {
        let mut w = Working::new();
        let r = w.given("R", "load on the leg, greatest", load.1, Provenance::Computed);
        let chosen = Provenance::chosen("EN 1993-1-8 compares design loads with design strengths");
        let factor = w.given("γ", "load factor", load_factor, chosen);
        let d = w.given("d", "diameter of the pin", diameter, Provenance::Maker);
        let fy = w.given(
            "fy",
            "yield strength of the pin",
            strength.amount().shown(Shown::Stress),
            Provenance::Maker,
        );
        (w, r, factor, d, fy)
    };
    let band = |most: f64, shown: Shown| {
        let share = if load.1 > Force::ZERO { (load.0 / load.1).min(1.0) } else { 1.0 };
        (Amount { si: most * share, shown }, Amount { si: most, shown })
    };
    let judge = |code, title: &str, (demand, limit): (&Term, &Term), shown, w| {
        let limit = Amount { si: limit.value(), shown };
        let mut one = Finding::against_limit(
            code,
            subject.clone(),
            title,
            band(demand.value(), shown),
            limit,
            Sense::AtMost,
        )
        .working(w)
        .advice(ADVICE);
        for basis in basis() {
            one = one.basis(basis);
        }
        one
    };

    let (mut w, r, factor, d, fy) = start();
    let planes = if pin.planes == Planes::Double { 2.0 } else { 1.0 };
    let face = w.line("F", "shear on one face", factor * r / number(planes), Shown::Force);
    let area = w.line("A", "section of the pin", number(PI / 4.0) * d.squared(), Shown::Area);
    let resists =
        w.line("FR", "shear that a face takes", number(0.6) * area * fy / number(1.25), Shown::Force);
    let shear = judge("pin.shear", titles[0], (&face, &resists), Shown::Force, w)
        .note("The yield strength stands where the code has the ultimate, which is never less.");

    let bearing = match (pin.leg_wall, pin.sleeve_wall, pin.wall_strength) {
        (_, Some(sleeve), Some(wall)) if !pin.sleeve_bored => {
            let (mut w, r, _, d, fy) = start();
            let t = w.given("a", "wall of the sleeve", sleeve, Provenance::Maker);
            let of_wall = wall.amount().shown(Shown::Stress);
            let of_wall = w.given("fw", "yield strength of the walls", of_wall, Provenance::Maker);
            let stiff = Pressure::mpa(210_000.0).amount().shown(Shown::Stress);
            let e = w.given("E", "elasticity of steel", stiff, Provenance::tabulated("EN 1993-1-1 3.2.6"));
            let half = w.line("F", "on one wall, as it stands", r / number(planes), Shown::Force);
            let most = number(2.5) * least(vec![fy, of_wall]);
            let most = w.line("σh", "contact stress that is allowed", most, Shown::Stress);
            let limit = (most / number(0.591)).squared() * d * t / e;
            let limit = w.line("FR", "bearing that the rim of a wall takes", limit, Shown::Force);
            judge("pin.bearing", RIM, (&half, &limit), Shown::Force, w)
                .note("Past this the rim is dented where the pin lies.")
                .advice("Ask the maker for a ring or saddle on the rim, so that the pin does not lie on its edge.")
        }
        _ if !pin.sleeve_bored => {
            lacking("pin.bearing", subject, RIM, "The thickness of the sleeve, and its strength.")
        }
        (Some(leg), Some(sleeve), Some(wall)) => {
            let (mut w, r, factor, d, fy) = start();
            let walls = [("a", "wall of the sleeve", sleeve), ("b1", "wall of the leg", leg)];
            let [a, b] =
                walls.map(|(symbol, meaning, size)| w.given(symbol, meaning, size, Provenance::Maker));
            let of_wall = w.given(
                "fw",
                "yield strength of the walls",
                wall.amount().shown(Shown::Stress),
                Provenance::Maker,
            );
            let half = w.line("F", "on one wall, as it stands", r / number(planes), Shown::Force);
            let place = w.line(
                "tdf",
                "wall × pin × strength",
                least(vec![a, b]) * d * least(vec![fy, of_wall]),
                Shown::Force,
            );
            // The design check, brought to the load as it stands, is 1.5/γ; that of a replaceable pin is 0.6.
            let limit = least(vec![number(1.5) / factor, number(0.6)]) * place;
            let limit = w.line("FR", "bearing that a wall takes, as it stands", limit, Shown::Force);
            judge("pin.bearing", titles[1], (&half, &limit), Shown::Force, w)
        }
        _ => {
            lacking("pin.bearing", subject, titles[1], "The thickness of leg and sleeve, and their strength.")
        }
    };

    let bending = match (pin.leg_wall, pin.sleeve_wall, pin.gap) {
        _ if pin.planes == Planes::Single => {
            lacking("pin.bending", subject, titles[2], "How a pin in one wall is held at its end.")
        }
        (Some(leg), Some(sleeve), Some(gap)) => {
            let (mut w, r, factor, d, fy) = start();
            let a = w.given("a", "wall of the sleeve", sleeve, Provenance::Maker);
            let b = w.given("b", "both walls of the leg", leg * 2.0, Provenance::Maker);
            let c = w.given("c", "gap on one side", gap, Provenance::Maker);
            let lever = (b + number(4.0) * c + number(2.0) * a) / number(8.0);
            let moment = w.line("M", "bending, as it stands", r.clone() * lever, Shown::Moment);
            let plastic = number(PI / 32.0) * d.clone().power(3.0) * fy.clone();
            let elastic = w.line("Wf", "section × strength", plastic, Shown::Moment);
            let stands = moment.clone() / (number(0.8) * elastic.clone());
            let stands = w.line("u1", "used, as it stands", stands, Shown::Ratio);
            let bent = factor.clone() * moment / (number(1.5) * elastic);
            let sheared = factor * r / number(2.0) / (number(0.6 * PI / 4.0 / 1.25) * d.squared() * fy);
            let both =
                w.line("u2", "used, bending with shear", bent.squared() + sheared.squared(), Shown::Ratio);
            let used =
                w.line("u", "used, the greater", crate::working::greatest(vec![stands, both]), Shown::Ratio);
            let one = w.given(
                "um",
                "all that may be used",
                Ratio::one(1.0),
                Provenance::tabulated("EN 1993-1-8 Table 3.10"),
            );
            judge("pin.bending", titles[2], (&used, &one), Shown::Ratio, w)
        }
        _ => lacking(
            "pin.bending",
            subject,
            titles[2],
            "The thickness of leg and sleeve, and the gap between them.",
        ),
    };
    Ok(vec![shear, bearing, bending])
}

fn check(pin: &Pin, load: (Force, Force), factor: Ratio) -> Result<(), GroundError> {
    load_within(load)?;
    within("load factor", factor.as_one(), (1.0, 10.0), "")?;
    let sizes = [
        ("diameter of the pin", pin.diameter),
        ("wall of the leg", pin.leg_wall),
        ("wall of the sleeve", pin.sleeve_wall),
    ];
    for (what, size) in sizes {
        size.map_or(Ok(()), |size| within(what, size.as_mm(), (0.5, 500.0), "mm"))?;
    }
    pin.gap.map_or(Ok(()), |gap| within("gap", gap.as_mm(), (0.0, 500.0), "mm"))?;
    for (what, strength) in
        [("strength of the pin", pin.strength), ("strength of the walls", pin.wall_strength)]
    {
        strength.map_or(Ok(()), |one| within(what, one.as_mpa(), (10.0, 3000.0), "N/mm²"))?;
    }
    Ok(())
}

/// A plate with an eye for a pin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EyePlate {
    /// Width of the plate.
    pub width: Length,
    /// Its thickness.
    pub thickness: Length,
    /// From the edge of the hole to the end of the plate, along the pull.
    pub end: Length,
    /// The diameter of the pin.
    pub pin: Length,
    /// The diameter of the hole.
    pub hole: Length,
    /// Yield strength.
    pub yields: Pressure,
    /// Ultimate strength.
    pub breaks: Pressure,
}

/// What an eye plate takes before it fails, by each way of failing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EyeStrength {
    /// Rupture across the hole: Fu 2 t be, be = 2t + 0.63 in, at most what is there.
    pub rupture: Force,
    /// Shear out of the end: 0.6 Fu 2 t (a + d/2).
    pub shear: Force,
    /// Bearing of the pin: 1.8 Fy d t.
    pub bearing: Force,
    /// Yield of the whole plate: Fy w t.
    pub yielding: Force,
    /// The least of the four, each over its safety factor: 2.00, 2.00, 2.00, 1.67.
    pub allowed: Force,
}

/// The nominal strengths of a pin-connected plate, AISC 360 D5 and J7 (reference RG-17, checked by WE-23).
///
/// # Errors
/// A size or strength out of range, or a hole wider than the plate.
pub fn eye_plate(plate: &EyePlate) -> Result<EyeStrength, GroundError> {
    for (what, size) in [
        ("thickness of the plate", plate.thickness),
        ("diameter of the pin", plate.pin),
        ("end of the plate", plate.end),
    ] {
        within(what, size.as_mm(), (0.5, 1000.0), "mm")?;
    }
    within("diameter of the hole", plate.hole.as_mm(), (plate.pin.as_mm(), 1000.0), "mm")?;
    within("width of the plate", plate.width.as_mm(), (plate.hole.as_mm(), 5000.0), "mm")?;
    within("yield strength", plate.yields.as_mpa(), (10.0, 3000.0), "N/mm²")?;
    within("ultimate strength", plate.breaks.as_mpa(), (plate.yields.as_mpa(), 3000.0), "N/mm²")?;
    let beside = (plate.width - plate.hole) / 2.0;
    let effective = (plate.thickness * 2.0 + Length::inches(0.63)).min(beside);
    let force = |strength: Pressure, area: Area| Force::from_si(strength.si() * area.si());
    let rupture = force(plate.breaks, plate.thickness * effective * 2.0);
    let shear = force(plate.breaks, plate.thickness * (plate.end + plate.pin / 2.0) * 2.0) * 0.6;
    let bearing = force(plate.yields, plate.pin * plate.thickness) * 1.8;
    let yielding = force(plate.yields, plate.width * plate.thickness);
    let allowed = (rupture / 2.0).min(shear / 2.0).min(bearing / 2.0).min(yielding / 1.67);
    Ok(EyeStrength { rupture, shear, bearing, yielding, allowed })
}
