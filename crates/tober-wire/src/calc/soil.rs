//! `tober calc bearing-capacity` and `tober calc pin`.

use super::Worked;
use super::ground::{length_or, load, size};
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::finding::Subject;
use tober_calc::ground::{
    EyePlate, GroundError, Method, OnSoil, Pin, Planes, SAFETY, Soil, capacities, capacity_finding,
    eye_plate, pin_findings,
};
use tober_quantity::{Force, Length, Ratio};

fn subject(question: &Field<'_>) -> Read<Subject> {
    Ok(Subject::Case(question.maybe("name")?.map_or(Ok("case"), |f| f.text())?.to_owned()))
}

/// Both ends of a load.
fn loads(question: &Field<'_>) -> Read<(Force, Force)> {
    let most = load(&question.get("load")?)?;
    Ok((question.maybe("load_low")?.map_or(Ok(most), |f| load(&f))?, most))
}

/// Works one question of bearing capacity: every method is answered, the named or the lowest decides.
pub(super) fn capacity(question: &Field<'_>) -> Result<Worked, DoorError> {
    question.only(&[
        "name",
        "load",
        "load_low",
        "base",
        "off_along",
        "off_across",
        "depth",
        "soil",
        "method",
        "safety",
    ])?;
    let of_soil = question.get("soil")?;
    of_soil.only(&["friction", "cohesion", "density", "water_depth"])?;
    let soil = Soil {
        friction: of_soil.get("friction")?.quantity()?,
        cohesion: of_soil.get("cohesion")?.quantity()?,
        density: of_soil.get("density")?.quantity()?,
        water_depth: of_soil.maybe("water_depth")?.map(|f| f.quantity()).transpose()?,
    };
    let on = OnSoil {
        base: size(&question.get("base")?)?,
        off_along: length_or(question, "off_along", Length::ZERO)?,
        off_across: length_or(question, "off_across", Length::ZERO)?,
        depth: length_or(question, "depth", Length::ZERO)?,
    };
    let methods = Method::ALL.map(|method| (method.name(), method));
    let method = question.maybe("method")?.map(|f| f.choice(&methods)).transpose()?;
    let safety = question.maybe("safety")?.map_or(Ok(SAFETY), |f| f.number())?;
    let refused = |error: GroundError| question.error(error.to_string());
    let all = capacities(&soil, &on).map_err(refused)?;
    let finding = capacity_finding(subject(question)?, loads(question)?, &soil, &on, method, safety)
        .map_err(refused)?;
    let each = all.iter().map(|(method, q)| json!({"method": method.name(), "ultimate_kPa": q.as_kpa()}));
    let result = json!({ "methods": each.collect::<Value>(), "safety_factor": safety });
    Ok(Worked { result, findings: vec![finding], working: Vec::new() })
}

/// Works one question of a pin: that of a leg, or the eye of a plate.
pub(super) fn pin(question: &Field<'_>) -> Result<Worked, DoorError> {
    if let Some(plate) = question.maybe("plate")? {
        question.only(&["name", "plate"])?;
        plate.only(&["width", "thickness", "end", "pin", "hole", "yield", "ultimate"])?;
        let strength = eye_plate(&EyePlate {
            width: plate.get("width")?.quantity()?,
            thickness: plate.get("thickness")?.quantity()?,
            end: plate.get("end")?.quantity()?,
            pin: plate.get("pin")?.quantity()?,
            hole: plate.get("hole")?.quantity()?,
            yields: plate.get("yield")?.quantity()?,
            breaks: plate.get("ultimate")?.quantity()?,
        });
        let found = strength.map_err(|error| plate.error(error.to_string()))?;
        let result = json!({
            "rules": "AISC 360 D5, J7; allowed with 2.00 and, for yield, 1.67",
            "rupture_kN": found.rupture.as_kn(),
            "shear_kN": found.shear.as_kn(),
            "bearing_kN": found.bearing.as_kn(),
            "yield_kN": found.yielding.as_kn(),
            "allowed_kN": found.allowed.as_kn(),
        });
        return Ok(Worked { result, findings: Vec::new(), working: Vec::new() });
    }
    let sizes = ["diameter", "strength", "leg_wall", "sleeve_wall", "wall_strength", "gap"];
    question.only(
        &[&["name", "load", "load_low", "planes", "sleeve_bored", "load_factor"][..], &sizes].concat(),
    )?;
    let length = |key: &str| question.maybe(key)?.map(|f| f.quantity::<Length>()).transpose();
    let stress = |key: &str| question.maybe(key)?.map(|f| f.quantity()).transpose();
    let planes = [("single", Planes::Single), ("double", Planes::Double)];
    let pin = Pin {
        diameter: length("diameter")?,
        strength: stress("strength")?,
        planes: question.maybe("planes")?.map_or(Ok(Planes::Single), |f| f.choice(&planes))?,
        leg_wall: length("leg_wall")?,
        sleeve_wall: length("sleeve_wall")?,
        wall_strength: stress("wall_strength")?,
        gap: length("gap")?,
        sleeve_bored: question.maybe("sleeve_bored")?.map_or(Ok(false), |f| f.truth())?,
    };
    let factor = Ratio::one(question.maybe("load_factor")?.map_or(Ok(1.35), |f| f.number())?);
    let findings = pin_findings(&subject(question)?, loads(question)?, &pin, factor)
        .map_err(|error| question.error(error.to_string()))?;
    Ok(Worked { result: json!({ "rules": "EN 1993-1-8 Table 3.10" }), findings, working: Vec::new() })
}
