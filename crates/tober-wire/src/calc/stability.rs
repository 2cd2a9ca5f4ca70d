//! `tober calc stability`: one situation, one question, with units as in the files.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::stability::{
    Answer, Body, CarriedBy, Condition, Contact, EdgeCheck, FactorSet, InWind, Interface, Overturning, Seat,
    Situation, Sliding, Sources, StabilityInput, Surface, Swing, Tilt, Turntable, TurntableAngles, Uplift,
    WindAction, findings, overturning, sliding, uplift,
};
use tober_calc::wind::WindLevel;
use tober_calc::working::Provenance;
use tober_quantity::{Angle, Length};

const SITUATIONS: [(&str, Situation); 7] = [
    ("uncoupled", Situation::Uncoupled),
    ("open empty", Situation::OpenEmpty),
    ("open full", Situation::OpenFull),
    ("partial load", Situation::PartialLoad),
    ("turning", Situation::Turning),
    ("wind in service", Situation::WindInService),
    ("wind out of service", Situation::WindOutOfService),
];

const SURFACES: [(&str, Surface); 9] = [
    ("timber", Surface::Timber),
    ("plywood", Surface::Plywood),
    ("steel", Surface::Steel),
    ("concrete", Surface::Concrete),
    ("rubber", Surface::Rubber),
    ("clay", Surface::Clay),
    ("loam", Surface::Loam),
    ("sand or gravel", Surface::SandOrGravel),
    ("other", Surface::Other),
];

fn name(field: &Field<'_>) -> Read<String> {
    Ok(field.get("name")?.text()?.to_owned())
}

fn each<T>(question: &Field<'_>, key: &str, read: impl Fn(&Field<'_>) -> Read<T>) -> Read<Option<Vec<T>>> {
    question.maybe(key)?.map(|listed| listed.list()?.iter().map(&read).collect()).transpose()
}

fn contact(field: &Field<'_>) -> Read<Contact> {
    field.only(&["name", "x", "y", "z"])?;
    Ok(Contact {
        name: name(field)?,
        x: field.get("x")?.quantity()?,
        y: field.get("y")?.quantity()?,
        z: field.get("z")?.quantity()?,
    })
}

fn body(field: &Field<'_>) -> Read<Body> {
    field.only(&["name", "mass", "x", "y", "z", "carried_by", "wind"])?;
    let carriers = [("frame", CarriedBy::Frame), ("turntable", CarriedBy::Turntable)];
    let wind = match field.maybe("wind")? {
        None => InWind::NotKnown,
        Some(wind) if wind.json().is_string() => {
            wind.choice(&[("counted elsewhere", InWind::CountedElsewhere)])?
        }
        Some(wind) => {
            wind.only(&["along", "across", "lift", "up"])?;
            InWind::Face {
                drag_area_along: wind.get("along")?.quantity()?,
                drag_area_across: wind.get("across")?.quantity()?,
                lift_area: wind.get("lift")?.quantity()?,
                pressure_height: wind.get("up")?.quantity()?,
            }
        }
    };
    Ok(Body {
        name: name(field)?,
        mass: field.get("mass")?.toleranced()?,
        x: field.get("x")?.quantity()?,
        y: field.get("y")?.quantity()?,
        z: field.get("z")?.quantity()?,
        carried_by: field.maybe("carried_by")?.map_or(Ok(CarriedBy::NotKnown), |f| f.choice(&carriers))?,
        wind,
    })
}

fn seat(field: &Field<'_>) -> Read<Seat> {
    field.only(&["name", "angle", "radius", "radius_at_speed", "height", "places", "rider_mass_greatest"])?;
    let at_speed = field.maybe("radius_at_speed")?.map(|f| f.quantity::<Length>()).transpose()?;
    let places = field.get("places")?.whole(1, 100)?;
    Ok(Seat {
        name: name(field)?,
        angle: field.get("angle")?.quantity()?,
        radius: field.get("radius")?.quantity()?,
        swing: at_speed.map_or(Swing::NotKnown, Swing::OutTo),
        z: field.maybe("height")?.map(|f| f.quantity()).transpose()?,
        riders: u32::try_from(places).unwrap_or(u32::MAX),
        rider_mass: field.maybe("rider_mass_greatest")?.map(|f| f.quantity()).transpose()?,
    })
}

fn turntable(question: &Field<'_>) -> Read<Option<Turntable>> {
    let Some(field) = question.maybe("turntable")? else { return Ok(None) };
    field.only(&["x", "y", "angles", "speed", "wheel"])?;
    let one = |angle: &Field<'_>| -> Read<Angle> { angle.quantity() };
    let stated = each(&field, "angles", one)?;
    // Whether its axis lies along the frame, as a wheel's.
    let wheel = field.maybe("wheel")?.map(|f| f.truth()).transpose()?.unwrap_or(false);
    let angles = match stated {
        Some(stated) => TurntableAngles::Stated(stated),
        None if wheel => TurntableAngles::OfAWheel,
        None => TurntableAngles::Any,
    };
    Ok(Some(Turntable {
        x: field.get("x")?.quantity()?,
        y: field.get("y")?.quantity()?,
        angles,
        speed: field.maybe("speed")?.map(|f| f.quantity()).transpose()?,
    }))
}

fn tilt(question: &Field<'_>) -> Read<Option<Tilt>> {
    let Some(field) = question.maybe("tilt")? else { return Ok(None) };
    field.only(&["along", "across"])?;
    Ok(Some(Tilt { along: field.get("along")?.quantity()?, across: field.get("across")?.quantity()? }))
}

fn wind(question: &Field<'_>) -> Read<Option<WindAction>> {
    let Some(field) = question.maybe("wind")? else { return Ok(None) };
    field.only(&["pressure", "level"])?;
    let levels = [("actual", WindLevel::Actual), ("strength", WindLevel::Strength)];
    let level = field.maybe("level")?.map_or(Ok(WindLevel::Actual), |f| f.choice(&levels))?;
    Ok(Some(WindAction { pressure: field.get("pressure")?.quantity()?, level }))
}

fn factor_set(field: &Field<'_>) -> Read<FactorSet> {
    let named = FactorSet::named(field.text()?);
    named.ok_or_else(|| {
        let known: Vec<String> = FactorSet::known().into_iter().map(|set| set.name).collect();
        field.error(format!("no such set of factors is known; known are: {}.", known.join(", ")))
    })
}

fn surface(field: &Field<'_>) -> Read<Surface> {
    if let Some(drawn) = field.json().as_f64() {
        // A loaded board was drawn over it: the share of its weight that it took.
        if !(0.0..=2.0).contains(&drawn) {
            return Err(field.error(format!("`{drawn}` stands here; a share from 0 to 2 is wanted.")));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "tested above")]
        return Ok(Surface::Drawn((drawn * 100.0 + 1e-9).floor() as u8));
    }
    field.choice(&SURFACES)
}

fn interface(field: &Field<'_>) -> Read<Interface> {
    field.only(&["upper", "lower", "condition"])?;
    let conditions =
        [("clean", Condition::Clean), ("not clean", Condition::NotClean), ("icy", Condition::Icy)];
    Ok(Interface {
        upper: surface(&field.get("upper")?)?,
        lower: surface(&field.get("lower")?)?,
        condition: field.get("condition")?.choice(&conditions)?,
    })
}

/// Works one question of stability.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    question.only(&[
        "situation",
        "contacts",
        "bodies",
        "seats",
        "turntable",
        "tilt",
        "wind",
        "factors",
        "interfaces",
    ])?;
    let input = StabilityInput {
        situation: question.get("situation")?.choice(&SITUATIONS)?,
        contacts: question.get("contacts")?.list()?.iter().map(contact).collect::<Read<_>>()?,
        bodies: question.get("bodies")?.list()?.iter().map(body).collect::<Read<_>>()?,
        seats: each(question, "seats", seat)?,
        turntable: turntable(question)?,
        tilt: tilt(question)?,
        wind: wind(question)?,
        factors: each(question, "factors", factor_set)?.unwrap_or_default(),
        interfaces: each(question, "interfaces", interface)?.unwrap_or_default(),
    };
    let refused = |error: tober_calc::stability::StabilityError| question.error(error.to_string());
    let given = || Provenance::chosen("as given in the question");
    let sources = Sources {
        masses: input.bodies.iter().map(|_| given()).collect(),
        riders: given(),
        wind: given(),
        areas: given(),
        tilt: given(),
    };
    let found = findings(&input, &sources).map_err(refused)?;
    let result = json!({
        "overturning": answers(&overturning(&input).map_err(refused)?, tipping),
        "sliding": answers(&sliding(&input).map_err(refused)?, slid),
        "uplift": answers(&uplift(&input).map_err(refused)?, lifted),
    });
    Ok(Worked { result, findings: found, working: Vec::new() })
}

fn answers<T>(all: &[Answer<T>], write: impl Fn(&T) -> Value) -> Value {
    let one = |answer: &Answer<T>| match answer {
        Answer::Known(known) => write(known),
        Answer::NotKnown(missing) => json!({ "not_known": missing }),
    };
    all.iter().map(one).collect()
}

fn edge(edge: &EdgeCheck) -> Value {
    json!({
        "from": edge.from,
        "to": edge.to,
        "holding_Nm": edge.holding.as_nm(),
        "tipping_Nm": edge.tipping.as_nm(),
        "factor_least": edge.factor_least.as_one(),
        "margin_Nm": edge.margin.as_nm(),
        "share": edge.share.map(tober_quantity::Ratio::as_one),
        "angle_deg": edge.angle.map(Angle::as_deg),
        "full": edge.full,
    })
}

fn tipping(overturning: &Overturning) -> Value {
    json!({
        "set": overturning.set.name,
        "governing": edge(overturning.governing()),
        "edges": overturning.edges.iter().map(edge).collect::<Value>(),
    })
}

fn slid(sliding: &Sliding) -> Value {
    json!({
        "set": sliding.set.name,
        "force_N": sliding.force.as_n(),
        "weight_N": sliding.weight.as_n(),
        "friction": sliding.friction.as_one(),
        "friction_source": sliding.friction_source,
    })
}

fn lifted(uplift: &Uplift) -> Value {
    json!({ "set": uplift.set.name, "lifting_N": uplift.lifting.as_n(), "holding_N": uplift.holding.as_n() })
}
