//! `tober calc survey`: readings of a tape or a staff, with their units, to heights of the ground.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use tober_calc::survey::{
    Axis, ClosureLimit, FixedPoint, Instrument, LevelReading, Place, SetUp, Sight, StaffReading, StaffSurvey,
    Survey, TapeReading, TapeSurvey, closure_finding, findings, staff, tape,
};
use tober_quantity::{Length, Quantity, Slope};

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
    let method = question.get("method")?.choice(&[("tape", true), ("staff", false)])?;
    let survey = if method { by_tape(question)? } else { by_staff(question)? };
    let mut found = findings(&survey);
    if let Some(closure) = &survey.closure {
        let limits: Vec<(&str, ClosureLimit)> = ClosureLimit::ALL.map(|limit| (limit.name(), limit)).to_vec();
        let limit = question.maybe("closure_limit")?.map(|field| field.choice(&limits)).transpose()?;
        found.push(closure_finding(closure, limit));
    }
    Ok(Worked { result: heights(&survey), findings: found, working: Vec::new() })
}

fn by_tape(question: &Field<'_>) -> Read<Survey> {
    question.only(&[
        "method",
        "slope_along",
        "slope_across",
        "slope_deviation",
        "tape_deviation",
        "readings",
    ])?;
    let deviation: Slope = question.get("slope_deviation")?.quantity()?;
    let mut levels = Vec::new();
    for (key, axis) in [("slope_along", Axis::X), ("slope_across", Axis::Y)] {
        let slopes = repeated::<Slope>(&question.get(key)?)?;
        levels.extend(slopes.into_iter().map(|slope| LevelReading { axis, slope, deviation }));
    }
    let reading = |field: &Field<'_>| -> Read<TapeReading> {
        field.only(&["point", "x", "y", "tape", "above_frame"])?;
        Ok(TapeReading {
            point: field.get("point")?.text()?.to_owned(),
            place: place(field)?,
            above_frame: maybe(field, "above_frame")?.unwrap_or(Length::ZERO),
            tape: field.get("tape")?.quantity()?,
        })
    };
    let survey = TapeSurvey {
        levels,
        tape_deviation: question.get("tape_deviation")?.quantity()?,
        readings: question.get("readings")?.list()?.iter().map(reading).collect::<Read<_>>()?,
    };
    tape(&survey).map_err(|error| question.error(error.to_string()))
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
    ])?;
    let fixed = |field: &Field<'_>| -> Read<FixedPoint> {
        field.only(&["point", "height"])?;
        Ok(FixedPoint {
            name: field.get("point")?.text()?.to_owned(),
            height: field.get("height")?.quantity()?,
        })
    };
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
    let set_up = |field: &Field<'_>| -> Read<SetUp> {
        field.only(&["name", "readings"])?;
        Ok(SetUp {
            name: field.get("name")?.text()?.to_owned(),
            readings: field.get("readings")?.list()?.iter().map(reading).collect::<Read<_>>()?,
        })
    };
    let mut places = BTreeMap::new();
    if let Some(listed) = question.maybe("places")? {
        for field in listed.list()? {
            field.only(&["point", "x", "y"])?;
            places.insert(field.get("point")?.text()?.to_owned(), place(&field)?);
        }
    }
    let survey = StaffSurvey {
        instrument: Instrument {
            reading: question.get("reading_deviation")?.quantity()?,
            line_of_sight: question.get("line_of_sight_deviation")?.quantity()?,
            sight_longest: question.get("sight_longest")?.quantity()?,
        },
        fixed: question.get("fixed")?.list()?.iter().map(fixed).collect::<Read<_>>()?,
        set_ups: question.get("set_ups")?.list()?.iter().map(set_up).collect::<Read<_>>()?,
        places,
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
