//! `tober calc survey`: readings, with their units, to heights of the ground; and `tober calc settlement`: two such
//! sets of readings of the same points, on an earlier and a later day.
//!
//! A survey has a `method`: `tape`, `scale`, `staff`, `laser`, `water level` or `spots`. Each says how good its
//! instrument is and lists what was read; `at` is a list of places where the height of the ground between the points is
//! wanted. A settlement has `earlier` and `later`, each a survey; `still`, the points that are taken as still; `since`;
//! and the tolerances `level_along`, `level_across` and `planarity`, as far as they are known.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use tober_calc::survey::{
    Axis, ClosureLimit, FixedPoint, Instrument, Laser, LaserSetUp, LaserSurvey, LevelReading, Place, SetUp,
    SettlementLimits, Sight, Spot, StaffReading, StaffSurvey, Surface, Survey, TapeReading, TapeSurvey,
    WaterReading, WaterSurvey, closure_finding, findings, laser, scale, settlement, settlement_findings,
    spots, staff, tape, water_level,
};
use tober_quantity::{Angle, Length, Quantity, Slope};

fn place(field: &Field<'_>) -> Read<Place> {
    Ok(Place { x: field.get("x")?.quantity()?, y: field.get("y")?.quantity()? })
}

fn maybe<Q: Quantity>(field: &Field<'_>, key: &str) -> Read<Option<Q>> {
    field.maybe(key)?.map(|f| f.quantity()).transpose()
}

/// One quantity, or a list of such where it was read again.
fn repeated<Q: Quantity>(field: &Field<'_>) -> Read<Vec<Q>> {
    if field.json().is_array() {
        return field.list()?.iter().map(Field::quantity).collect();
    }
    Ok(vec![field.quantity()?])
}

/// Works one survey.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    let survey = read(question)?;
    let mut found = findings(&survey);
    if let Some(closure) = &survey.closure {
        let limits: Vec<(&str, ClosureLimit)> = ClosureLimit::ALL.map(|limit| (limit.name(), limit)).to_vec();
        let limit = question.maybe("closure_limit")?.map(|field| field.choice(&limits)).transpose()?;
        found.push(closure_finding(closure, limit));
    }
    let mut result = heights(&survey);
    if let Some(wanted) = question.maybe("at")? {
        result["ground"] = between(&survey, &wanted)?;
    }
    Ok(Worked { result, findings: found, working: Vec::new() })
}

/// Works one settlement.
#[cfg_attr(not(feature = "command"), expect(dead_code, reason = "a phone has no door for it"))]
pub(super) fn settled(question: &Field<'_>) -> Result<Worked, DoorError> {
    question.only(&["earlier", "later", "still", "since", "level_along", "level_across", "planarity"])?;
    let (earlier, later) = (read(&question.get("earlier")?)?, read(&question.get("later")?)?);
    let mut still = Vec::new();
    if let Some(listed) = question.maybe("still")? {
        for point in listed.list()? {
            still.push(point.text()?.to_owned());
        }
    }
    let placed = later.heights.iter().filter(|h| !still.contains(&h.name));
    let feet = placed.filter_map(|h| Some((h.name.clone(), h.place?))).collect();
    let found =
        settlement(&earlier, &later, &still, &feet).map_err(|error| question.error(error.to_string()))?;
    let since = question.maybe("since")?.map(|field| field.text().map(str::to_owned)).transpose()?;
    let limits = SettlementLimits {
        along: maybe(question, "level_along")?,
        across: maybe(question, "level_across")?,
        planarity: maybe(question, "planarity")?,
        since: since.map_or_else(|| "Since the earlier readings".to_owned(), |day| format!("Since {day}")),
    };
    let slope = |(slope, deviation): (Slope, Slope)| json!({ "rise_mm_per_m": slope.as_mm_per_m(), "deviation_mm_per_m": deviation.as_mm_per_m() });
    let change = |c: &tober_calc::survey::Change| {
        json!({
            "point": c.point,
            "rise_m": c.rise.as_m(),
            "deviation_m": c.deviation.as_m(),
            "standardised": c.standardised.map(tober_quantity::Ratio::as_one),
            "more_than_readings_explain": c.moved,
            "still": c.still,
            "off_plane_m": c.off_plane.map(|(off, _)| off.as_m()),
            "off_plane_deviation_m": c.off_plane.map(|(_, deviation)| deviation.as_m()),
        })
    };
    let result = json!({
        "changes": found.changes.iter().map(change).collect::<Value>(),
        "still": found.still,
        "still_assumed": found.still_assumed,
        "tilt_along": found.tilt.map(|[along, _]| slope(along)),
        "tilt_across": found.tilt.map(|[_, across]| slope(across)),
        "read_only_once": found.unmatched,
    });
    Ok(Worked { result, findings: settlement_findings(&found, &limits), working: Vec::new() })
}

fn read(question: &Field<'_>) -> Read<Survey> {
    type By = fn(&Field<'_>) -> Read<Survey>;
    let methods: [(&str, By); 6] = [
        ("tape", |q| from_frame(q, false)),
        ("staff", by_staff),
        ("laser", by_laser),
        ("water level", by_water),
        ("scale", |q| from_frame(q, true)),
        ("spots", by_spots),
    ];
    question.get("method")?.choice(&methods)?(question)
}

/// The ground at places between the points; nothing outside them.
fn between(survey: &Survey, wanted: &Field<'_>) -> Read<Value> {
    let surface = Surface::over_survey(survey).map_err(|error| wanted.error(error.to_string()))?;
    let mut list = Vec::new();
    for field in wanted.list()? {
        field.only(&["x", "y"])?;
        let at = place(&field)?;
        let ground = surface.ground_at(at.x, at.y).map(|ground| {
            json!({
                "height_m": ground.height.as_m(),
                "deviation_m": ground.deviation().as_m(),
                "of_readings_m": ground.readings.as_m(),
                "of_bumps_m": ground.bumps.map(Length::as_m),
            })
        });
        list.push(json!({ "x_m": at.x.as_m(), "y_m": at.y.as_m(), "ground": ground }));
    }
    Ok(Value::Array(list))
}

fn by_water(question: &Field<'_>) -> Read<Survey> {
    question.only(&["method", "reading_deviation", "readings", "places", "at"])?;
    let reading = |field: &Field<'_>| -> Read<WaterReading> {
        field.only(&["point", "line", "reading"])?;
        let line = field.maybe("line")?.map(|line| line.text().map(str::to_owned)).transpose()?;
        Ok(WaterReading {
            point: field.get("point")?.text()?.to_owned(),
            line: line.unwrap_or_else(|| "water line".to_owned()),
            down: field.get("reading")?.quantity()?,
        })
    };
    let survey = WaterSurvey {
        deviation: question.get("reading_deviation")?.quantity()?,
        readings: question.get("readings")?.list()?.iter().map(reading).collect::<Read<_>>()?,
        places: places(question)?,
    };
    water_level(&survey).map_err(|error| question.error(error.to_string()))
}

fn by_spots(question: &Field<'_>) -> Read<Survey> {
    question.only(&["method", "height_deviation", "spots", "at"])?;
    let spot = |field: &Field<'_>| -> Read<Spot> {
        field.only(&["point", "x", "y", "height", "deviation"])?;
        let placed = field.maybe("x")?.is_some() || field.maybe("y")?.is_some();
        Ok(Spot {
            point: field.get("point")?.text()?.to_owned(),
            place: if placed { Some(place(field)?) } else { None },
            height: field.get("height")?.quantity()?,
            deviation: maybe(field, "deviation")?,
        })
    };
    let list = question.get("spots")?.list()?.iter().map(spot).collect::<Read<Vec<_>>>()?;
    let deviation = question.get("height_deviation")?.quantity()?;
    spots(&list, deviation).map_err(|error| question.error(error.to_string()))
}

fn by_laser(question: &Field<'_>) -> Read<Survey> {
    question.only(&[
        "method",
        "reading_deviation",
        "plane_deviation",
        "cone_deviation",
        "sight_longest",
        "closure_limit",
        "fixed",
        "set_ups",
        "places",
        "at",
    ])?;
    let standing = |field: &Field<'_>| -> Read<LaserSetUp> {
        field.only(&["name", "x", "y", "heading", "readings"])?;
        let placed = field.maybe("x")?.is_some() || field.maybe("y")?.is_some();
        Ok(LaserSetUp {
            at: if placed { Some(place(field)?) } else { None },
            heading: maybe::<Angle>(field, "heading")?,
            set_up: set_up(field)?,
        })
    };
    let survey = LaserSurvey {
        laser: Laser {
            reading: question.get("reading_deviation")?.quantity()?,
            plane: question.get("plane_deviation")?.quantity()?,
            cone: question.get("cone_deviation")?.quantity()?,
            sight_longest: question.get("sight_longest")?.quantity()?,
        },
        fixed: fixed(question)?,
        set_ups: question.get("set_ups")?.list()?.iter().map(standing).collect::<Read<_>>()?,
        places: places(question)?,
    };
    laser(&survey).map_err(|error| question.error(error.to_string()))
}

fn fixed(question: &Field<'_>) -> Read<Vec<FixedPoint>> {
    let one = |field: &Field<'_>| -> Read<FixedPoint> {
        field.only(&["point", "height"])?;
        Ok(FixedPoint {
            name: field.get("point")?.text()?.to_owned(),
            height: field.get("height")?.quantity()?,
        })
    };
    question.get("fixed")?.list()?.iter().map(one).collect()
}

fn places(question: &Field<'_>) -> Read<BTreeMap<String, Place>> {
    let mut places = BTreeMap::new();
    if let Some(listed) = question.maybe("places")? {
        for field in listed.list()? {
            field.only(&["point", "x", "y"])?;
            places.insert(field.get("point")?.text()?.to_owned(), place(&field)?);
        }
    }
    Ok(places)
}

fn set_up(field: &Field<'_>) -> Read<SetUp> {
    let reading = |field: &Field<'_>| -> Read<StaffReading> {
        field.only(&["point", "sight", "staff", "distance"])?;
        let sights = [("back", Sight::Back), ("between", Sight::Intermediate), ("fore", Sight::Fore)];
        Ok(StaffReading {
            point: field.get("point")?.text()?.to_owned(),
            sight: field.get("sight")?.choice(&sights)?,
            staff: field.get("staff")?.quantity()?,
            distance: maybe(field, "distance")?,
        })
    };
    Ok(SetUp {
        name: field.get("name")?.text()?.to_owned(),
        readings: field.get("readings")?.list()?.iter().map(reading).collect::<Read<_>>()?,
    })
}

/// Readings down from the plane of the frame: by a tape, or by the scale painted on each leg.
fn from_frame(question: &Field<'_>, by_scale: bool) -> Read<Survey> {
    let down = if by_scale { "scale" } else { "tape" };
    let deviation_key = if by_scale { "reading_deviation" } else { "tape_deviation" };
    let keys = ["method", "slope_along", "slope_across", "slope_deviation", deviation_key, "readings", "at"];
    question.only(&keys)?;
    let deviation: Slope = question.get("slope_deviation")?.quantity()?;
    let mut levels = Vec::new();
    for (key, axis) in [("slope_along", Axis::X), ("slope_across", Axis::Y)] {
        let slopes = repeated::<Slope>(&question.get(key)?)?;
        levels.extend(slopes.into_iter().map(|slope| LevelReading { axis, slope, deviation }));
    }
    let reading = |field: &Field<'_>| -> Read<TapeReading> {
        field.only(&["point", "x", "y", down, "above_frame"])?;
        Ok(TapeReading {
            point: field.get("point")?.text()?.to_owned(),
            place: place(field)?,
            above_frame: maybe(field, "above_frame")?.unwrap_or(Length::ZERO),
            tape: field.get(down)?.quantity()?,
        })
    };
    let survey = TapeSurvey {
        levels,
        tape_deviation: question.get(deviation_key)?.quantity()?,
        readings: question.get("readings")?.list()?.iter().map(reading).collect::<Read<_>>()?,
    };
    let found = if by_scale { scale(&survey) } else { tape(&survey) };
    found.map_err(|error| question.error(error.to_string()))
}

fn by_staff(question: &Field<'_>) -> Read<Survey> {
    question.only(&[
        "method",
        "reading_deviation",
        "line_of_sight_deviation",
        "sight_longest",
        "closure_limit",
        "fixed",
        "set_ups",
        "places",
        "at",
    ])?;
    let standing = |field: &Field<'_>| -> Read<SetUp> {
        field.only(&["name", "readings"])?;
        set_up(field)
    };
    let survey = StaffSurvey {
        instrument: Instrument {
            reading: question.get("reading_deviation")?.quantity()?,
            line_of_sight: question.get("line_of_sight_deviation")?.quantity()?,
            sight_longest: question.get("sight_longest")?.quantity()?,
        },
        fixed: fixed(question)?,
        set_ups: question.get("set_ups")?.list()?.iter().map(standing).collect::<Read<_>>()?,
        places: places(question)?,
    };
    staff(&survey).map_err(|error| question.error(error.to_string()))
}

fn heights(survey: &Survey) -> Value {
    let height = |point: &tober_calc::survey::PointHeight| {
        json!({
            "point": point.name,
            "x_m": point.place.map(|p| p.x.as_m()),
            "y_m": point.place.map(|p| p.y.as_m()),
            "height_m": point.height.as_m(),
            "deviation_m": point.deviation.as_m(),
            "checked": point.checked,
        })
    };
    let residual = |r: &tober_calc::survey::Residual| {
        json!({
            "set_up": r.reading.set_up,
            "point": r.reading.point,
            "row": r.reading.row,
            "residual_m": r.residual.as_m(),
            "redundancy": r.redundancy.as_one(),
            "standardised": r.standardised.map(tober_quantity::Ratio::as_one),
        })
    };
    json!({
        "heights": survey.heights.iter().map(height).collect::<Value>(),
        "residuals": survey.residuals.iter().map(residual).collect::<Value>(),
        "freedom": survey.freedom,
        "plane": survey.plane.iter().map(|p| json!({
            "what": p.what,
            "slope_mm_per_m": p.slope.as_mm_per_m(),
            "deviation_mm_per_m": p.deviation.as_mm_per_m(),
            "redundancy": p.redundancy.as_one(),
        })).collect::<Value>(),
        "spread": survey.spread.map(tober_quantity::Ratio::as_one),
        "closure": survey.closure.as_ref().map(|c| json!({
            "from": c.from,
            "to": c.to,
            "set_ups": c.set_ups,
            "distance_m": c.distance.map(Length::as_m),
            "misclosure_m": c.misclosure.as_m(),
        })),
    })
}
