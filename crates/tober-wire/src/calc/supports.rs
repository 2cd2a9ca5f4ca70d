//! `tober calc supports`: a rigid frame on springs that push and do not pull; metres, newtons, radians.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::supports::{Answer, Load, Stands, Support, solve, solved_findings};
use tober_quantity::{Force, Length, Moment, Quantity, Stiffness};

/// The names of the supports, the supports and the load of a question.
pub(super) fn frame(question: &Field<'_>) -> Read<(Vec<String>, Vec<Support>, Load)> {
    let listed = question.get("supports")?.list()?;
    let mut names = Vec::new();
    let mut supports = Vec::new();
    for (i, s) in listed.iter().enumerate() {
        names.push(s.maybe("id")?.map_or(Ok(format!("{}", i + 1)), |f| f.text().map(str::to_owned))?);
        supports.push(Support {
            x: Length::m(s.get("x_m")?.number()?),
            y: Length::m(s.get("y_m")?.number()?),
            stiffness: Stiffness::n_per_m(s.get("k_N_per_m")?.number()?),
            gap: Length::m(s.get("gap_m")?.number()?),
        });
    }
    let load = load(&question.get("load")?)?;
    Ok((names, supports, load))
}

/// A weight, where it acts, and couples that may be left out.
pub(super) fn load(load: &Field<'_>) -> Read<Load> {
    let number_or_none = |key: &str| -> Read<f64> { load.maybe(key)?.map_or(Ok(0.0), |f| f.number()) };
    Ok(Load {
        down: Force::n(load.get("W_N")?.number()?),
        x: Length::m(load.get("x_m")?.number()?),
        y: Length::m(load.get("y_m")?.number()?),
        moment_x: Moment::nm(number_or_none("Mx_Nm")?),
        moment_y: Moment::nm(number_or_none("My_Nm")?),
    })
}

/// Works one question of support loads.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    let (names, supports, load) = frame(question)?;
    let answer = solve(&supports, &load).map_err(|error| question.error(error.to_string()))?;
    let result = match &answer {
        Answer::Tips(tips) => json!({
            "equilibrium": false,
            "resultant_margin_inside_hull_m": tips.margin.as_m(),
        }),
        Answer::Stands(stands) => standing(stands, &names, &supports, &load),
    };
    Ok(Worked { result, findings: solved_findings(&names, &supports, &load, &answer), working: Vec::new() })
}

fn standing(stands: &Stands, names: &[String], supports: &[Support], load: &Load) -> Value {
    let lifted: Vec<&String> = names
        .iter()
        .zip(&stands.reactions)
        .filter(|(_, reaction)| reaction.si() <= 0.0)
        .map(|(name, _)| name)
        .collect();
    let moved = stands.displacement;
    let at = |x, y| moved.at(x, y).as_m();
    json!({
        "equilibrium": true,
        "reactions_unique": true,
        "displacement_unique": moved.unique,
        "reactions_N": stands.reactions.iter().map(|r| r.as_n()).collect::<Vec<f64>>(),
        "lifted": lifted,
        "z_at_origin_m": moved.z.as_m(),
        "theta_x_rad": moved.theta_x.as_rad(),
        "theta_y_rad": moved.theta_y.as_rad(),
        "u_at_supports_m": supports.iter().map(|s| at(s.x, s.y)).collect::<Vec<f64>>(),
        "z_at_load_point_m": at(load.x, load.y),
        "resultant_margin_inside_hull_m": stands.margin.as_m(),
    })
}
