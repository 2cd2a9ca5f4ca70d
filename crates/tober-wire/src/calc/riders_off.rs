//! `tober calc riders-off`: the order in which riders get off a ride that has stopped; metres, kilograms, degrees, newton metres.
//!
//! ```json
//! { "id": "a wheel", "lean_deg": 90, "turned_deg": 0, "turning": true, "one_by_one": false,
//!   "seats": [{ "name": "A", "radius_m": 3.5, "angle_deg": 0, "riders_kg": [80, [60, 100]] },
//!             { "name": "B", "radius_m": 3.5, "angle_deg": 180, "riders_kg": [75], "jammed": true }],
//!   "access": [{ "name": "platform", "angle_deg": 0, "within_deg": 5 }],
//!   "out_of_balance_greatest_N_m": 20000, "holds_N_m": 12000, "order": ["A"] }
//! ```
//!
//! `lean_deg` is how far the axis leans from upright: 90 for a wheel, for a turntable what the frame may be off level. Angles run
//! about the axis the same way as those of seats; a wheel's may be counted from its lowest point. A rider's mass is a number or
//! `[least, greatest]`; a seat whose `riders_kg` is empty or left out is empty. `turned_deg` (0), `turning` (false), `one_by_one`
//! (false), `own_kg_m` (`[0, 0]`), `g_m_s2` (9.80665) and `jammed` (false) may be left out, and so may both limits: what is
//! held against them is then not known. `order` is somebody's own order, seat by seat, which is followed and held against
//! the same limits under `order` of the answer.
//!
//! The answer names who gets off next, the turn by hand before it, and what is then out of balance: least greatest moment first,
//! then fewest turns. `tober-fit` goes through it before it is given.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::finding::Subject;
use tober_calc::riders_off::{
    Access, Allowed, Answer, RidersError, Seat, Stopped, WhyLeft, answered, findings, findings_of, followed,
};
use tober_quantity::{Acceleration, Angle, Length, Mass, Moment};

/// Standard gravity, m/s².
const GRAVITY_M_S2: f64 = 9.80665;

/// Works one question of a stopped ride.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    question.only(&[
        "id",
        "seats",
        "access",
        "turned_deg",
        "turning",
        "one_by_one",
        "lean_deg",
        "own_kg_m",
        "g_m_s2",
        "out_of_balance_greatest_N_m",
        "holds_N_m",
        "order",
    ])?;
    let stopped = stopped(question)?;
    let moment = |key: &str| -> Read<Option<Moment>> {
        let Some(field) = question.maybe(key)? else { return Ok(None) };
        let value = field.number()?;
        // Written so that an undefined number, which compares as false, is refused.
        if value > 0.0 && value <= 1e9 {
            return Ok(Some(Moment::nm(value)));
        }
        Err(field.error(format!("{value} N m stands here; a number above 0 and up to 1e9 is wanted.")))
    };
    let allowed = Allowed {
        out_of_balance: moment("out_of_balance_greatest_N_m")?,
        holds: moment("holds_N_m")?,
        ..Allowed::default()
    };
    let name = question.maybe("id")?.map_or(Ok("ride"), |f| f.text())?;
    let subject = Subject::Case(name.to_owned());
    let refused = |error: RidersError| refused(question, &error);
    let answer = answered(&stopped, allowed.moment(stopped.lean)).map_err(refused)?;
    let checked = tober_plan::riders_checked(&stopped, &answer).map_err(|refusal| {
        question.error(format!("the order found did not pass its check and is not given: {refusal}"))
    })?;
    let mut found = findings(&subject, &stopped, &answer, allowed);
    let mut result = told(&stopped, &answer);
    result["checked"] = json!({ "stages": checked.stages, "every_set": checked.listed });
    if let Some(order) = question.maybe("order")? {
        let seat = |field: &Field<'_>| {
            let name = field.text()?;
            let place = stopped.seats.iter().position(|seat| seat.name == name);
            place.ok_or_else(|| field.error(format!("`{name}` is the name of no seat.")))
        };
        let seats: Vec<usize> = order.list()?.iter().map(seat).collect::<Read<_>>()?;
        let own = followed(&stopped, &seats).map_err(|error| order.error(error.to_string()))?;
        let subject = Subject::Case(format!("{name}, in the order named"));
        found.extend(findings_of(&subject, &stopped, &own, allowed));
        result["order"] = told(&stopped, &own);
    }
    Ok(Worked { result, findings: found, working: Vec::new() })
}

fn stopped(question: &Field<'_>) -> Read<Stopped> {
    let degrees = |field: &Field<'_>| field.number().map(Angle::deg);
    let truth = |field: Option<Field<'_>>| field.map_or(Ok(false), |f| f.truth());
    let own_kg_m = match question.maybe("own_kg_m")? {
        None => (0.0, 0.0),
        Some(field) => match field.list()?.as_slice() {
            [x, y] => (x.number()?, y.number()?),
            _ => return Err(field.error("two numbers are wanted here.")),
        },
    };
    let access = |field: &Field<'_>| -> Read<Access> {
        field.only(&["name", "angle_deg", "within_deg"])?;
        Ok(Access {
            name: field.get("name")?.text()?.to_owned(),
            angle: degrees(&field.get("angle_deg")?)?,
            within: degrees(&field.get("within_deg")?)?,
        })
    };
    Ok(Stopped {
        seats: question.get("seats")?.list()?.iter().map(seat).collect::<Read<_>>()?,
        access: question.get("access")?.list()?.iter().map(access).collect::<Read<_>>()?,
        turned: question.maybe("turned_deg")?.map_or(Ok(Angle::ZERO), |f| degrees(&f))?,
        turning: truth(question.maybe("turning")?)?,
        one_by_one: truth(question.maybe("one_by_one")?)?,
        lean: degrees(&question.get("lean_deg")?)?,
        own_kg_m,
        gravity: Acceleration::m_s2(question.maybe("g_m_s2")?.map_or(Ok(GRAVITY_M_S2), |f| f.number())?),
    })
}

fn seat(field: &Field<'_>) -> Read<Seat> {
    field.only(&["name", "radius_m", "angle_deg", "riders_kg", "jammed"])?;
    let rider = |field: &Field<'_>| -> Read<(Mass, Mass)> {
        if field.json().is_array() {
            return match field.list()?.as_slice() {
                [low, high] => Ok((Mass::kg(low.number()?), Mass::kg(high.number()?))),
                _ => Err(field.error("the least and the greatest a rider may weigh are wanted here.")),
            };
        }
        field.number().map(|kg| (Mass::kg(kg), Mass::kg(kg)))
    };
    let riders =
        field.maybe("riders_kg")?.map_or(Ok(Vec::new()), |f| f.list()?.iter().map(rider).collect())?;
    Ok(Seat {
        name: field.get("name")?.text()?.to_owned(),
        radius: Length::m(field.get("radius_m")?.number()?),
        angle: Angle::deg(field.get("angle_deg")?.number()?),
        riders,
        jammed: field.maybe("jammed")?.map_or(Ok(false), |f| f.truth())?,
    })
}

/// The refusal at the field that it is about.
fn refused(question: &Field<'_>, error: &RidersError) -> DoorError {
    let mut refused = question.error(error.to_string());
    if let Some(field) = error.field() {
        field.clone_into(&mut refused.at);
    }
    refused
}

fn told(stopped: &Stopped, answer: &Answer) -> Value {
    let name = |seat: usize| stopped.seats.get(seat).map(|seat| seat.name.as_str());
    let off = |off: &tober_calc::riders_off::Off| {
        json!({
            "seat": name(off.seat),
            "riders": off.riders,
            "turn_deg": off.turn.as_deg(),
            "turned_deg": off.turned.as_deg(),
            "access": stopped.access.get(off.access).map(|place| place.name.as_str()),
            "out_of_balance_N_m": off.out_of_balance.as_nm(),
            "felt_N_m": off.felt.as_nm(),
        })
    };
    let left = |(seat, why): &(usize, WhyLeft)| {
        let why = match why {
            WhyLeft::Jammed => "cannot be opened",
            WhyLeft::NotReached => "no place reaches it",
            WhyLeft::PastLimit => "past what is allowed",
        };
        json!({ "seat": name(*seat), "why": why })
    };
    json!({
        "off": answer.order.iter().map(off).collect::<Value>(),
        "at_start_N_m": answer.at_start.as_nm(),
        "greatest_N_m": answer.greatest.as_nm(),
        "greatest_bound_N_m": answer.greatest_bound.as_nm(),
        "turns": answer.turns,
        "turns_bound": answer.turns_bound,
        "least_angle": answer.least_angle,
        "proved": answer.proved(),
        "left": answer.left.iter().map(left).collect::<Value>(),
    })
}
