//! `tober calc lift`: a part that turns about a hinge, raised by a winch line; metres, newtons, degrees.
//!
//! ```json
//! { "id": "mast", "mass_kg": 4400, "cg_along_m": 3.705, "cg_normal_m": 0.433,
//!   "attach_along_m": 4.319, "attach_normal_m": 0.487, "sheave_x_m": -3.409, "sheave_z_m": 4.314,
//!   "falls": 3, "sheave_efficiency": 0.95, "phi_start_deg": -2, "phi_end_deg": 85, "step_deg": 2.5,
//!   "winch": { "rated_N": 40000, "drum_m": 0.064, "rope_m": 0.0095, "layer": 3,
//!              "crank_m": 0.35, "gear_ratio": 30, "efficiency": 0.5 },
//!   "eye": { "is": "shoulder eye bolt", "rated_N": 60000, "axis_deg": 90 },
//!   "sling": { "legs": 2, "angle_deg": 60, "rated_N": 50000 },
//!   "hinge_rated_N": 90000, "held_back_by": "the check line", "then_held_by": "two mast pins", "lowers": true,
//!   "hold": { "along_m": 4.3, "normal_m": 0.5, "to_x_m": 5, "to_z_m": 0, "rated_N": 12000 } }
//! ```
//!
//! `lowers` has the travel gone from its end to its start, and `hold` is what holds the part where the line is slack: where it is made fast to the
//! part, the fixed point it runs to, and what it may carry (`rated_N` may be left out). Both may be left out.
//! The hinge is the origin, x forward, z up, angles from +x anticlockwise. `id`, `g_m_s2` (9.80665), `winch`, `hinge_rated_N`
//! and `held_back_by` may be left out, and what they would be held against is then not known; without `eye`, `sling`, a crank and
//! `then_held_by` nothing is said of them. `axis_deg` is where the eye bolt points, against the direction along the part. The answer has a row for
//! each listed angle and its peak (`rows`, `peak_pull_N`, `peak_at_deg`), and under `travel` what lies between: the greatest pull
//! of all, where the weight passes the hinge, where the line is slack, and dead points.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::finding::Subject;
use tober_calc::lift::{
    Asked, At, Crank, Drum, Eye, EyeKind, Hinged, Hold, LiftError, OnPart, Peak, Raised, Sling, Travel,
    Travelled, findings, over,
};
use tober_calc::working::Provenance;
use tober_quantity::{Acceleration, Angle, Force, Length, Mass, Quantity, Ratio};

/// Standard gravity, m/s².
const GRAVITY_M_S2: f64 = 9.80665;

/// Works one question of a lift.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    question.only(&[
        "id",
        "mass_kg",
        "cg_along_m",
        "cg_normal_m",
        "attach_along_m",
        "attach_normal_m",
        "sheave_x_m",
        "sheave_z_m",
        "falls",
        "sheave_efficiency",
        "phi_start_deg",
        "phi_end_deg",
        "step_deg",
        "g_m_s2",
        "winch",
        "hinge_rated_N",
        "held_back_by",
        "then_held_by",
        "eye",
        "sling",
        "lowers",
        "hold",
        // What a case of reference expects; nothing is taken from it.
        "expected",
    ])?;
    let number = |key: &str| question.get(key)?.number();
    let metres = |key: &str| number(key).map(Length::m);
    let degrees = |key: &str| number(key).map(Angle::deg);
    let part = Hinged {
        mass: Mass::kg(number("mass_kg")?),
        centre: OnPart { along: metres("cg_along_m")?, normal: metres("cg_normal_m")? },
        eye: OnPart { along: metres("attach_along_m")?, normal: metres("attach_normal_m")? },
        sheave_x: metres("sheave_x_m")?,
        sheave_z: metres("sheave_z_m")?,
        falls: count(&question.get("falls")?)?,
        efficiency: Ratio::one(number("sheave_efficiency")?),
        gravity: Acceleration::m_s2(question.maybe("g_m_s2")?.map_or(Ok(GRAVITY_M_S2), |f| f.number())?),
    };
    let travel =
        Travel { start: degrees("phi_start_deg")?, end: degrees("phi_end_deg")?, step: degrees("step_deg")? };
    let asked = asked(question)?;
    let name = question.maybe("id")?.map_or(Ok("part"), |f| f.text())?;
    let raised = Raised::exact(&part, name, Provenance::chosen("as given in the question"));
    let found = over(&raised, &travel).map_err(|error| refused(question, &error))?;
    let findings = findings(&Subject::Body(name.to_owned()), &found, &asked)
        .map_err(|error| refused(question, &error))?;
    Ok(Worked { result: result(&found.stated), findings, working: Vec::new() })
}

fn count(field: &Field<'_>) -> Read<u32> {
    let whole = field.whole(1, 20)?;
    u32::try_from(whole).map_err(|_| field.error("a whole number from 1 to 20 is wanted."))
}

fn asked(question: &Field<'_>) -> Read<Asked> {
    let force = |field: Option<Field<'_>>| field.map(|f| f.number().map(Force::n)).transpose();
    let (mut winch_rated, mut drum, mut crank) = (None, None, None);
    if let Some(winch) = question.maybe("winch")? {
        winch.only(&["rated_N", "drum_m", "rope_m", "layer", "crank_m", "gear_ratio", "efficiency"])?;
        winch_rated = force(winch.maybe("rated_N")?)?;
        let metres = |key: &str| winch.maybe(key)?.map(|f| f.number().map(Length::m)).transpose();
        let layer = winch.maybe("layer")?.map(|f| count(&f)).transpose()?;
        if let (Some(on), Some(rope), Some(layer)) = (metres("drum_m")?, metres("rope_m")?, layer) {
            drum = Some(Drum { drum: on, rope, layer });
        }
        let ratio = |key: &str| winch.maybe(key)?.map(|f| f.number().map(Ratio::one)).transpose();
        if let (Some(length), Some(ratio), Some(efficiency)) =
            (metres("crank_m")?, ratio("gear_ratio")?, ratio("efficiency")?)
        {
            crank = Some(Crank { length, ratio, efficiency });
        }
    }
    let text = |key: &str| question.maybe(key)?.map(|f| f.text().map(str::to_owned)).transpose();
    Ok(Asked {
        of_book: false,
        winch_rated,
        drum,
        crank,
        eye: question.maybe("eye")?.map(|f| eye(&f)).transpose()?,
        sling: question.maybe("sling")?.map(|f| sling(&f)).transpose()?,
        then_held_by: text("then_held_by")?,
        hinge_rated: force(question.maybe("hinge_rated_N")?)?,
        held_back_by: text("held_back_by")?,
        from_top: question.maybe("lowers")?.map_or(Ok(false), |f| f.truth())?,
        hold: question.maybe("hold")?.map(|f| hold(&f)).transpose()?,
        brought_over_by: None,
    })
}

fn eye(field: &Field<'_>) -> Read<Eye> {
    field.only(&["is", "rated_N", "axis_deg"])?;
    let kinds =
        [("lug", EyeKind::Lug), ("shoulder eye bolt", EyeKind::Shoulder), ("plain eye bolt", EyeKind::Plain)];
    Ok(Eye {
        kind: field.maybe("is")?.map(|f| f.choice(&kinds)).transpose()?,
        rated: Force::n(field.get("rated_N")?.number()?),
        axis: field.maybe("axis_deg")?.map(|f| f.number().map(Angle::deg)).transpose()?,
    })
}

fn hold(field: &Field<'_>) -> Read<Hold> {
    field.only(&["along_m", "normal_m", "to_x_m", "to_z_m", "rated_N"])?;
    let metres = |key: &str| field.get(key)?.number().map(Length::m);
    Ok(Hold {
        at: OnPart { along: metres("along_m")?, normal: metres("normal_m")? },
        to_x: metres("to_x_m")?,
        to_z: metres("to_z_m")?,
        rated: field.maybe("rated_N")?.map(|f| f.number().map(Force::n)).transpose()?,
    })
}

fn sling(field: &Field<'_>) -> Read<Sling> {
    field.only(&["legs", "angle_deg", "rated_N"])?;
    Ok(Sling {
        legs: count(&field.get("legs")?)?,
        angle: Angle::deg(field.get("angle_deg")?.number()?),
        rated: Force::n(field.get("rated_N")?.number()?),
    })
}

/// The refusal at the field that it is about.
fn refused(question: &Field<'_>, error: &LiftError) -> DoorError {
    let mut refused = question.error(error.to_string());
    if let Some(field) = error.field() {
        field.clone_into(&mut refused.at);
    }
    refused
}

fn newtons(force: Option<Force>) -> Value {
    force.map(Force::as_n).into()
}

fn row(at: &At) -> Value {
    json!({
        "phi_deg": at.phi.as_deg(),
        "line_length_m": at.line_length.as_m(),
        "lever_arm_m": at.lever.as_m(),
        "gravity_moment_Nm": at.weight_moment.si(),
        "total_pull_N": newtons(at.pull),
        "static_per_fall_N": newtons(at.per_fall),
        "winch_rope_hoisting_N": newtons(at.winch),
        "hinge_Hx_N": newtons(at.hinge.map(|(x, _)| x)),
        "hinge_Hz_N": newtons(at.hinge.map(|(_, z)| z)),
        "slack": at.slack(),
        "virtual_work_pull_N": newtons(at.virtual_work),
        "line_direction_deg": at.line_direction.as_deg(),
        "eye_direction_deg": at.eye_direction.as_deg(),
    })
}

fn result(found: &Travelled) -> Value {
    let at = |peak: Option<Peak>| peak.map(|peak| peak.phi.as_deg());
    let degrees = |angles: &[Angle]| angles.iter().map(|phi| phi.as_deg()).collect::<Value>();
    let listed = &found.listed;
    json!({
        "peak_pull_N": newtons(listed.peak.map(|peak| peak.force)),
        "peak_at_deg": at(listed.peak),
        "balance_angle_deg": found.balance.as_deg(),
        "goes_over_balance": listed.slack,
        "rows": listed.rows.iter().map(row).collect::<Value>(),
        "travel": {
            "peak_pull_N": newtons(found.peak.map(|peak| peak.force)),
            "peak_at_deg": at(found.peak),
            "peak_hinge_N": newtons(found.hinge.map(|peak| peak.force)),
            "peak_hinge_at_deg": at(found.hinge),
            "over_centre_deg": degrees(&found.over_centre),
            "dead_deg": degrees(&found.dead),
            "slack_deg": found.slack.iter().map(|(a, b)| json!([a.as_deg(), b.as_deg()])).collect::<Value>(),
        },
    })
}
