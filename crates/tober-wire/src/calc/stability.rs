//! `tober calc stability`: one situation, one question, with units as in the files.
//!
//! `situation`, `contacts` (`name`, `x`, `y`, `z`, and `stiffness` for the loads of supports), `bodies` (`mass`, place,
//! `carried_by`, `wind`; `stowed` with its own place, wind and `told`, which then wants `wind_speed`), `seats`, `turntable`,
//! `tilt`, `wind`, `factors` by name, `interfaces` from the feet down, `guys` (`from`, `anchor`, `pretension`, `strength`,
//! `anchor_strength`). What is left out is not known.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_calc::stability::{
    Answer, Body, CarriedBy, Condition, Contact, EdgeCheck, FactorSet, Guy, InWind, Interface, Overturning,
    Rung, Seat, Situation, Sliding, Sources, StabilityInput, Stowing, StowingInput, SupportExtremes, Surface,
    Swing, Tilt, Turntable, TurntableAngles, Uplift, WindAction, Withstood, findings, friction, overturning,
    sliding, stowing, stowing_finding, support_extremes, uplift,
};
use tober_calc::wind::WindLevel;
use tober_calc::working::Provenance;
use tober_quantity::{Angle, Force, Length, Stiffness};

const SITUATIONS: [(&str, Situation); 8] = [
    ("stage", Situation::Stage),
    ("uncoupled", Situation::Uncoupled),
    ("open empty", Situation::OpenEmpty),
    ("open full", Situation::OpenFull),
    ("partial load", Situation::PartialLoad),
    ("turning", Situation::Turning),
    ("wind in service", Situation::WindInService),
    ("wind out of service", Situation::WindOutOfService),
];

const SURFACES: [(&str, Surface); 14] = [
    ("timber", Surface::Timber),
    ("plywood", Surface::Plywood),
    ("steel", Surface::Steel),
    ("concrete", Surface::Concrete),
    ("rubber", Surface::Rubber),
    ("clay", Surface::Clay),
    ("loam", Surface::Loam),
    ("sand", Surface::Sand),
    ("gravel", Surface::Gravel),
    ("silt", Surface::Silt),
    ("rock", Surface::Rock),
    ("plastic", Surface::Plastic),
    ("ribbed aluminium", Surface::RibbedAluminium),
    ("other", Surface::Other),
];

fn name(field: &Field<'_>) -> Read<String> {
    Ok(field.get("name")?.text()?.to_owned())
}

fn each<T>(question: &Field<'_>, key: &str, read: impl Fn(&Field<'_>) -> Read<T>) -> Read<Option<Vec<T>>> {
    question.maybe(key)?.map(|listed| listed.list()?.iter().map(&read).collect()).transpose()
}

fn contact(field: &Field<'_>) -> Read<Contact> {
    field.only(&["name", "x", "y", "z", "stiffness"])?;
    Ok(Contact {
        name: name(field)?,
        x: field.get("x")?.quantity()?,
        y: field.get("y")?.quantity()?,
        z: field.get("z")?.quantity()?,
    })
}

/// A body, and how it is when it is stowed, where that is given.
fn body_and_stowed(field: &Field<'_>) -> Read<(Body, Option<(Body, bool)>)> {
    field.only(&["name", "mass", "x", "y", "z", "carried_by", "wind", "stowed"])?;
    let open = body(field)?;
    let Some(stowed) = field.maybe("stowed")? else { return Ok((open, None)) };
    stowed.only(&["x", "y", "z", "wind", "told"])?;
    let told = stowed.maybe("told")?.map_or(Ok(false), |told| told.truth())?;
    let there = Body {
        x: stowed.get("x")?.quantity()?,
        y: stowed.get("y")?.quantity()?,
        z: stowed.get("z")?.quantity()?,
        wind: in_wind(&stowed)?,
        ..open.clone()
    };
    Ok((open, Some((there, told))))
}

/// A body as it is in the question: open, or stowed where that is told.
fn as_told<'a>(open: &'a Body, stowed: Option<&'a (Body, bool)>) -> &'a Body {
    stowed.filter(|(_, told)| *told).map_or(open, |(stowed, _)| stowed)
}

fn in_wind(field: &Field<'_>) -> Read<InWind> {
    Ok(match field.maybe("wind")? {
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
    })
}

fn guy(field: &Field<'_>) -> Read<Guy> {
    field.only(&["name", "from", "anchor", "pretension", "strength", "anchor_strength"])?;
    let place = |key: &str| -> Read<(Length, Length, Length)> {
        let place = field.get(key)?;
        place.only(&["x", "y", "z"])?;
        Ok((place.get("x")?.quantity()?, place.get("y")?.quantity()?, place.get("z")?.quantity()?))
    };
    let force = |key: &str| -> Read<Option<Force>> { field.maybe(key)?.map(|f| f.quantity()).transpose() };
    Ok(Guy {
        name: name(field)?,
        from: place("from")?,
        anchor: place("anchor")?,
        pretension: force("pretension")?,
        strength: force("strength")?,
        anchor_strength: force("anchor_strength")?,
    })
}

fn body(field: &Field<'_>) -> Read<Body> {
    let carriers = [("frame", CarriedBy::Frame), ("turntable", CarriedBy::Turntable)];
    Ok(Body {
        name: name(field)?,
        mass: field.get("mass")?.toleranced()?,
        x: field.get("x")?.quantity()?,
        y: field.get("y")?.quantity()?,
        z: field.get("z")?.quantity()?,
        carried_by: field.maybe("carried_by")?.map_or(Ok(CarriedBy::NotKnown), |f| f.choice(&carriers))?,
        wind: in_wind(field)?,
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
    field.only(&["x", "y", "angles", "speed", "wheel", "hub"])?;
    let one = |angle: &Field<'_>| -> Read<Angle> { angle.quantity() };
    let stated = each(&field, "angles", one)?;
    // Whether its axis lies along the frame, as a wheel's.
    let wheel = field.maybe("wheel")?.map(|f| f.truth()).transpose()?.unwrap_or(false);
    let angles = match stated {
        Some(stated) => TurntableAngles::Stated(stated),
        None if wheel => {
            TurntableAngles::OfAWheel { hub: field.maybe("hub")?.map(|f| f.quantity()).transpose()? }
        }
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
        "guys",
        "wind_speed",
    ])?;
    let bodies = question.get("bodies")?.list()?.iter().map(body_and_stowed).collect::<Read<Vec<_>>>()?;
    let contacts = question.get("contacts")?.list()?;
    let input = StabilityInput {
        situation: question.get("situation")?.choice(&SITUATIONS)?,
        contacts: contacts.iter().map(contact).collect::<Read<_>>()?,
        bodies: bodies.iter().map(|(open, stowed)| as_told(open, stowed.as_ref()).clone()).collect(),
        seats: each(question, "seats", seat)?,
        turntable: turntable(question)?,
        tilt: tilt(question)?,
        wind: wind(question)?,
        factors: each(question, "factors", factor_set)?.unwrap_or_default(),
        interfaces: each(question, "interfaces", interface)?.unwrap_or_default(),
        guys: each(question, "guys", guy)?.unwrap_or_default(),
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
    let mut found = findings(&input, &sources).map_err(refused)?;
    let mut result = json!({
        "overturning": answers(&overturning(&input).map_err(refused)?, tipping),
        "sliding": answers(&sliding(&input).map_err(refused)?, slid),
        "uplift": answers(&uplift(&input).map_err(refused)?, lifted),
        "friction": input.interfaces.iter().map(|interface| published(*interface)).collect::<Value>(),
    });
    let stiffness = |contact: &Field<'_>| -> Read<Option<Stiffness>> {
        contact.maybe("stiffness")?.map(|f| f.quantity()).transpose()
    };
    let stiffness = contacts.iter().map(stiffness).collect::<Read<Option<Vec<_>>>>()?;
    if let Some(stiffness) = stiffness {
        let loads = support_extremes(&input, &stiffness).map_err(refused)?;
        result["supports"] = answers(&[loads], |all| all.iter().map(carried).collect())[0].clone();
    }
    if input.situation == Situation::WindOutOfService && bodies.iter().any(|(_, stowed)| stowed.is_some()) {
        let open =
            StabilityInput { bodies: bodies.iter().map(|(open, _)| open.clone()).collect(), ..input.clone() };
        let mut stow = StowingInput { open, stowable: Vec::new(), told: Vec::new() };
        for (at, (there, told)) in
            bodies.iter().enumerate().filter_map(|(at, (_, stowed))| Some((at, stowed.clone()?)))
        {
            if told {
                stow.told.push(stow.stowable.len());
            }
            stow.stowable.push((at, there));
        }
        let answer = stowing(&stow).map_err(refused)?;
        result["stowing"] = answers(&[answer], |found| stowed(&stow, found))[0].clone();
        let speed = question.get("wind_speed")?.quantity()?;
        found.push(stowing_finding(&stow, speed, &sources).map_err(refused)?);
    }
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
        "guys_N": sliding.guys.as_n(),
        "resistance_N": sliding.resistance.as_n(),
    })
}

fn published(interface: Interface) -> Value {
    json!({
        "pair": interface.words(),
        "counts": friction(interface).map(|found| found.coefficient.as_one()),
        "published": interface
            .published()
            .map(|(figure, source)| json!({ "friction": figure, "source": source }))
            .collect::<Value>(),
    })
}

fn carried(load: &SupportExtremes) -> Value {
    json!({
        "name": load.name,
        "least_N": load.least.as_n(),
        "least_angle_deg": load.least_angle.as_deg(),
        "greatest_N": load.greatest.as_n(),
        "greatest_angle_deg": load.greatest_angle.as_deg(),
    })
}

fn withstands(wind: &Withstood) -> Value {
    json!({ "pressure_Pa": wind.pressure.as_pa(), "then": wind.first, "set": wind.set, "not_known": wind.missing })
}

fn stowed(question: &StowingInput, found: &Stowing) -> Value {
    let name = |at: &usize| question.stowable[*at].1.name.clone();
    let rung = |rung: &Rung| {
        json!({
            "stowed": rung.stowed.iter().map(name).collect::<Vec<_>>(),
            "withstands": withstands(&rung.withstands),
        })
    };
    json!({
        "as_told": withstands(&found.as_told),
        "rungs": found.rungs.iter().map(rung).collect::<Value>(),
        "serves": found.serves,
        "proved": found.proved,
    })
}

fn lifted(uplift: &Uplift) -> Value {
    json!({ "set": uplift.set.name, "lifting_N": uplift.lifting.as_n(), "holding_N": uplift.holding.as_n() })
}
