//! `tober calc reach`: a trailer on wheels and hitch jack, and the legs it is to be set on; metres and newtons.
//!
//! Heights are those of the frame plane above any one datum. `top_m` of a wheel is where it just hangs, `lowest_m` of the
//! jack is its top wound right in, `seat_m` of a leg is where the frame will stand on it. `shortest_m` belongs to a screw,
//! `overlift_m` to a leg held by a pin, `drawn_up_m` is where the leg touches the ground drawn right up.
//! Legs stand in the maker's order.
//!
//! ```json
//! { "axles": [{ "id": "axle 1", "rated_N": 50000, "wheels": [
//!       { "x_m": 3, "y_m": 1, "k_N_per_m": 400000, "top_m": 0.84 },
//!       { "x_m": 3, "y_m": -1, "k_N_per_m": 400000, "top_m": 0.84 }] }],
//!   "jack": { "x_m": 9, "y_m": 0, "lowest_m": 0.42, "travel_m": 0.5, "start_m": 0.78, "ground_m": 0,
//!       "packing_m": 0, "rated_N": 45000, "k_N_per_m": 100000000 },
//!   "legs": [{ "id": "rear left", "x_m": 0.6, "y_m": 1.9, "k_N_per_m": 20000000, "seat_m": 0.873,
//!       "held": "leg-and-sleeve holes", "overlift_m": 0.006, "drawn_up_m": 0.48, "rated_N": 70000 }],
//!   "load": { "W_N": 79400, "x_m": 4.4, "y_m": 0 } }
//! ```

use super::Worked;
use super::supports::load;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::reach::{
    Axle, BUDGET, Cure, Doing, JACK_STIFFNESS_N_PER_M, Jack, Leg, Outcome, Pose, Question, Sequence, Spring,
    Way, cures, findings, solve,
};
use tober_quantity::{Force, Length, Stiffness};

fn metres(field: &Field<'_>, key: &str) -> Read<Length> {
    field.get(key)?.number().map(Length::m)
}

fn metres_or(field: &Field<'_>, key: &str, or: Length) -> Read<Length> {
    field.maybe(key)?.map_or(Ok(or), |f| f.number().map(Length::m))
}

fn rated(field: &Field<'_>) -> Read<Option<Force>> {
    field.maybe("rated_N")?.map(|f| f.number().map(Force::n)).transpose()
}

fn spring(field: &Field<'_>, top: &str) -> Read<Spring> {
    let stiffness = field.maybe("k_N_per_m")?.map_or(Ok(JACK_STIFFNESS_N_PER_M), |f| f.number())?;
    Ok(Spring {
        x: metres(field, "x_m")?,
        y: metres(field, "y_m")?,
        stiffness: Stiffness::n_per_m(stiffness),
        top: metres(field, top)?,
    })
}

fn name(field: &Field<'_>, kind: &str, i: usize) -> Read<String> {
    field.maybe("id")?.map_or(Ok(format!("{kind} {}", i + 1)), |f| f.text().map(str::to_owned))
}

fn axle((i, field): (usize, Field<'_>)) -> Read<Axle> {
    field.only(&["id", "wheels", "rated_N"])?;
    let wheels: Vec<Spring> = field
        .get("wheels")?
        .list()?
        .iter()
        .map(|wheel| {
            wheel.get("k_N_per_m")?;
            spring(wheel, "top_m")
        })
        .collect::<Read<_>>()?;
    let wheels = wheels.try_into().map_err(|_| field.error("the wheels on two sides are wanted."))?;
    Ok(Axle { name: name(&field, "axle", i)?, wheels, rated: rated(&field)? })
}

#[derive(Clone, Copy)]
enum Held {
    LegAndSleeve,
    Above,
    Below,
    Screw,
}

fn leg((i, field): (usize, Field<'_>)) -> Read<Leg> {
    field.only(&[
        "id",
        "x_m",
        "y_m",
        "k_N_per_m",
        "seat_m",
        "held",
        "shortest_m",
        "overlift_m",
        "drawn_up_m",
        "rated_N",
    ])?;
    field.get("k_N_per_m")?;
    let held = field.get("held")?.choice(&[
        ("leg-and-sleeve holes", Held::LegAndSleeve),
        ("leg-only holes above the sleeve", Held::Above),
        ("leg-only holes below the sleeve", Held::Below),
        ("screw", Held::Screw),
    ])?;
    let (way, overlift) = match held {
        Held::LegAndSleeve => (Way::LegAndSleeve, metres(&field, "overlift_m")?),
        Held::Above => (Way::AboveSleeve, metres(&field, "overlift_m")?),
        Held::Below => (Way::BelowSleeve, metres(&field, "overlift_m")?),
        Held::Screw => (Way::Screw { shortest: metres(&field, "shortest_m")? }, Length::ZERO),
    };
    let drawn_up = field.maybe("drawn_up_m")?.map(|f| f.number().map(Length::m)).transpose()?;
    let spring = spring(&field, "seat_m")?;
    Ok(Leg { name: name(&field, "leg", i)?, spring, way, overlift, drawn_up, rated: rated(&field)? })
}

fn question(field: &Field<'_>) -> Read<Question> {
    field.only(&["id", "axles", "jack", "legs", "load"])?;
    let jack = field.get("jack")?;
    jack.only(&[
        "x_m",
        "y_m",
        "k_N_per_m",
        "lowest_m",
        "travel_m",
        "packing_m",
        "ground_m",
        "start_m",
        "rated_N",
    ])?;
    let lowest = spring(&jack, "lowest_m")?;
    Ok(Question {
        axles: field.get("axles")?.list()?.into_iter().enumerate().map(axle).collect::<Read<_>>()?,
        jack: Jack {
            lowest,
            travel: metres(&jack, "travel_m")?,
            packing: metres_or(&jack, "packing_m", Length::ZERO)?,
            ground: metres_or(&jack, "ground_m", Length::ZERO)?,
            rated: rated(&jack)?,
            start: metres(&jack, "start_m")?,
        },
        legs: field.get("legs")?.list()?.into_iter().enumerate().map(leg).collect::<Read<_>>()?,
        load: load(&field.get("load")?)?,
    })
}

/// Works one question of reach.
pub(super) fn work(field: &Field<'_>) -> Result<Worked, DoorError> {
    let question = question(field)?;
    let outcome = solve(&question, BUDGET).map_err(|error| field.error(error.to_string()))?;
    let result = match &outcome {
        Outcome::Reached(way) => reached(&question, way),
        Outcome::Missed { miss, proved } => {
            let name = |leg: usize| question.legs[leg].name.clone();
            let cures = cures(&question).unwrap_or_default();
            json!({
                "reached": false,
                "proved": proved,
                "set": miss.set.iter().map(|&leg| name(leg)).collect::<Vec<_>>(),
                "misses": miss.leg.map(name),
                "by_m": miss.by.as_m(),
                "up": miss.because.up.sentence(&question),
                "down": miss.because.down.sentence(&question),
                "cures": cures.iter().map(cure).collect::<Value>(),
            })
        }
    };
    let in_order = !matches!(&outcome, Outcome::Reached(way) if !way.makers_order);
    Ok(Worked { result, findings: findings(&question, in_order, &outcome, &[], &[]), working: Vec::new() })
}

fn cure(cure: &Cure) -> Value {
    match cure {
        Cure::JackPacking(jack) => json!({ "jack_packing_m": jack.as_m() }),
        Cure::WheelsOnBoards(wheels) => json!({ "wheels_on_boards_m": wheels.as_m() }),
        Cure::Both { jack, wheels } => {
            json!({ "jack_packing_m": jack.as_m(), "wheels_on_boards_m": wheels.as_m() })
        }
    }
}

fn reached(question: &Question, way: &Sequence) -> Value {
    let name = |leg: usize| question.legs[leg].name.clone();
    let steps = way.steps.iter().map(|step| {
        let mut one = match step.doing {
            Doing::Jack { to, least, most } => {
                json!({ "do": "jack", "to_m": to.as_m(), "least_m": least.as_m(), "most_m": most.as_m() })
            }
            Doing::Set { leg, top, clear, room } => {
                json!({ "do": "set", "leg": name(leg), "top_m": top.as_m(), "clear_m": clear.as_m(), "room_m": room.as_m() })
            }
            Doing::Wind { leg, to } => json!({ "do": "wind", "leg": name(leg), "to_m": to.as_m() }),
            Doing::Off => json!({ "do": "jack off" }),
        };
        if let Some(object) = one.as_object_mut() {
            object.insert("poses".into(), step.poses.iter().map(pose).collect());
        }
        one
    });
    json!({
        "reached": true,
        "makers_order": way.makers_order,
        "start": pose(&way.start),
        "steps": steps.collect::<Value>(),
    })
}

fn pose(pose: &Pose) -> Value {
    let newtons = |loads: &[Force]| loads.iter().map(|load| load.as_n()).collect::<Vec<f64>>();
    json!({
        "jack_m": pose.jack.map(Length::as_m),
        "legs_m": pose.legs.iter().map(|top| top.map(Length::as_m)).collect::<Value>(),
        "z_at_origin_m": pose.lies.z.as_m(),
        "theta_x_rad": pose.lies.theta_x.as_rad(),
        "theta_y_rad": pose.lies.theta_y.as_rad(),
        "wheels_N": pose.wheel_loads.iter().map(|side| newtons(side)).collect::<Value>(),
        "jack_N": pose.jack_load.as_n(),
        "legs_N": newtons(&pose.leg_loads),
    })
}
