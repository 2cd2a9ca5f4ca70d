//! `tober calc weighing`: bodies, how they stood on scales, and what the scales said.
//!
//! ```json
//! { "bodies": [{ "name": "trailer", "mass": "3.3 t ± 66 kg", "from": "guessed" }],
//!   "states": [{ "name": "hitched",
//!     "supports": [{ "name": "hitch", "along": "10.2 m", "across": "0 m" }],
//!     "groups": [{ "name": "axle 1", "supports": ["left", "right"] }],
//!     "bodies": [{ "name": "trailer", "placement": "road", "along": "4.4 m ± 30 mm", "across": "0 m ± 20 mm" }] }],
//!   "readings": [{ "state": "hitched", "on": ["hitch"], "mass": "1.1 t", "deviation": "20 kg" }],
//!   "deviation_next": "20 kg" }
//! ```
//!
//! What stands behind ± is a standard deviation. `from` is "weighed", "maker" or "guessed"; `on` is "everything" or a list
//! of supports and groups; `from`, `supports`, `groups`, `placement`, `along`, `across`, a reading's `name` and
//! `deviation_next` may be left out.

use super::Worked;
use crate::read::{DoorError, Field, Read};
use serde_json::{Value, json};
use tober_book::Provenance as Known;
use tober_calc::weighing::{
    Carrier, Cause, Group, KnownBody, On, PlacedBody, Possible, ScaleReading, State, Wanted, Weighed,
    Weighing, findings, weigh, workings,
};
use tober_calc::working::Provenance;
use tober_quantity::{Length, Mass, Ratio};

/// Works one weighing.
pub(super) fn work(question: &Field<'_>) -> Result<Worked, DoorError> {
    question.only(&["bodies", "states", "readings", "deviation_next"])?;
    let list = |key: &str| question.get(key)?.list();
    let weighing = Weighing {
        bodies: list("bodies")?.iter().map(body).collect::<Read<_>>()?,
        states: list("states")?.iter().map(state).collect::<Read<_>>()?,
        readings: list("readings")?.iter().map(reading).collect::<Read<_>>()?,
        deviation_next: question.maybe("deviation_next")?.map(|field| field.quantity()).transpose()?,
    };
    let failed = |error: tober_calc::weighing::WeighingError| question.error(error.to_string());
    let found = weigh(&weighing).map_err(failed)?;
    let working = workings(&weighing, &found).map_err(failed)?;
    Ok(Worked { result: weighed(&found), findings: findings(&found), working })
}

fn body(field: &Field<'_>) -> Read<KnownBody> {
    field.only(&["name", "mass", "from"])?;
    let mass = field.get("mass")?.toleranced::<Mass>()?;
    let words = [
        (Known::Weighed, Provenance::Weighed),
        (Known::Maker, Provenance::Maker),
        (Known::Guessed, Provenance::Guessed),
    ];
    let from = match field.maybe("from")? {
        None => Provenance::Guessed,
        Some(field) => {
            let known = words.each_ref().map(|(known, _)| (known.word(), *known));
            let known = field.choice(&known)?;
            words.into_iter().find(|(word, _)| *word == known).map_or(Provenance::Guessed, |(_, from)| from)
        }
    };
    Ok(KnownBody {
        name: field.get("name")?.text()?.to_owned(),
        mass: mass.value,
        deviation: mass.off_by,
        from,
    })
}

fn state(field: &Field<'_>) -> Read<State> {
    field.only(&["name", "supports", "groups", "bodies"])?;
    let some =
        |key: &str| Ok::<_, DoorError>(field.maybe(key)?.map(|f| f.list()).transpose()?.unwrap_or_default());
    let carrier = |field: &Field<'_>| -> Read<Carrier> {
        field.only(&["name", "along", "across"])?;
        Ok(Carrier {
            name: field.get("name")?.text()?.to_owned(),
            along: field.get("along")?.quantity()?,
            across: field.get("across")?.quantity()?,
        })
    };
    let group = |field: &Field<'_>| -> Read<Group> {
        field.only(&["name", "supports"])?;
        Ok(Group { name: field.get("name")?.text()?.to_owned(), supports: texts(&field.get("supports")?)? })
    };
    let placed = |field: &Field<'_>| -> Read<PlacedBody> {
        field.only(&["name", "placement", "along", "across"])?;
        let place = |key: &str| {
            let read = field.maybe(key)?.map(|f| f.toleranced::<Length>()).transpose()?;
            Ok::<_, DoorError>(read.map(|length| (length.value, length.off_by)))
        };
        Ok(PlacedBody {
            body: field.get("name")?.text()?.to_owned(),
            placement: field.maybe("placement")?.map(|f| f.text()).transpose()?.unwrap_or("").to_owned(),
            along: place("along")?,
            across: place("across")?,
        })
    };
    Ok(State {
        name: field.get("name")?.text()?.to_owned(),
        supports: some("supports")?.iter().map(carrier).collect::<Read<_>>()?,
        groups: some("groups")?.iter().map(group).collect::<Read<_>>()?,
        bodies: field.get("bodies")?.list()?.iter().map(placed).collect::<Read<_>>()?,
    })
}

fn texts(field: &Field<'_>) -> Read<Vec<String>> {
    field.list()?.iter().map(|name| name.text().map(str::to_owned)).collect()
}

fn reading(field: &Field<'_>) -> Read<ScaleReading> {
    field.only(&["name", "state", "on", "mass", "deviation"])?;
    let state = field.get("state")?.text()?.to_owned();
    let on = field.get("on")?;
    let on = if on.json().is_array() {
        On::These(texts(&on)?)
    } else {
        on.choice(&[("everything", ())]).map(|()| On::Everything)?
    };
    let named = field.maybe("name")?.map(|f| f.text()).transpose()?.map(str::to_owned);
    Ok(ScaleReading {
        name: named.unwrap_or_else(|| format!("{}, {state}", under(&on))),
        state,
        on,
        mass: field.get("mass")?.quantity()?,
        deviation: field.get("deviation")?.quantity()?,
        from: Provenance::measured("scale"),
    })
}

fn under(on: &On) -> String {
    match on {
        On::Everything => "everything".to_owned(),
        On::These(names) => names.join(" + "),
    }
}

fn cause(cause: &Cause) -> Value {
    match cause {
        Cause::Reading(name) => json!({ "kind": "reading", "name": name }),
        Cause::Together(name) => json!({ "kind": "masses", "name": name }),
        Cause::Mass(body) => json!({ "kind": "mass", "body": body }),
        Cause::Place { body, placement, along } => {
            json!({ "kind": if *along { "place-along" } else { "place-across" }, "body": body, "placement": placement })
        }
    }
}

/// What the readings say, as JSON.
pub fn weighed(found: &Weighed) -> Value {
    let place = |place: Option<(Length, Length)>| {
        place.map(|(at, off)| json!({ "m": at.as_m(), "deviation_m": off.as_m() }))
    };
    let bodies = found.bodies.iter().map(|body| {
        json!({
            "name": body.name,
            "mass_kg": body.mass.as_kg(),
            "deviation_kg": body.deviation.as_kg(),
            "before_kg": body.before.mass.as_kg(),
            "before_deviation_kg": body.before.deviation.as_kg(),
            "from": body.before.from.to_string(),
            "told": body.told.as_one(),
        })
    });
    let states = found.states.iter().map(|state| {
        json!({
            "name": state.name,
            "mass_kg": state.total.0.as_kg(),
            "deviation_kg": state.total.1.as_kg(),
            "told": state.told.as_one(),
            "along": place(state.along),
            "across": place(state.across),
        })
    });
    let readings = found.residuals.iter().map(|residual| {
        json!({
            "name": residual.name,
            "residual_kg": residual.residual.as_kg(),
            "redundancy": residual.redundancy.as_one(),
            "standardised": residual.standardised.map(Ratio::as_one),
        })
    });
    let suspects = found.suspects.iter().map(|suspect| {
        let unit = if matches!(suspect.cause, Cause::Place { .. }) { "error_m" } else { "error_kg" };
        json!({
            "cause": cause(&suspect.cause),
            "standardised": suspect.standardised.as_one(),
            unit: suspect.error,
            "or_else": suspect.or_else.iter().map(cause).collect::<Value>(),
        })
    });
    let next = found.next.iter().map(|next| {
        let (wanted, of, unit) = match &next.wanted {
            Wanted::Total(state) => ("mass", state, "kg"),
            Wanted::Along(state) => ("along", state, "m"),
            Wanted::Across(state) => ("across", state, "m"),
            Wanted::Body(body) => ("body", body, "kg"),
        };
        let weigh = match &next.reading {
            Possible::One { state, on } => json!({ "state": state, "on": under(on) }),
            Possible::Each { state } => json!({ "state": state, "on": "each support" }),
            Possible::Alone { body } => json!({ "body": body }),
        };
        json!({ "wanted": wanted, "of": of, "unit": unit, "now": next.now, "then": next.then, "weigh": weigh })
    });
    let together =
        found.together.iter().map(|(a, b, r)| json!({ "bodies": [a, b], "correlation": r.as_one() }));
    json!({
        "bodies": bodies.collect::<Value>(),
        "states": states.collect::<Value>(),
        "readings": readings.collect::<Value>(),
        "misfit": found.misfit,
        "freedom": found.freedom,
        "determined": found.determined,
        "suspects": suspects.collect::<Value>(),
        "together": together.collect::<Value>(),
        "next": next.collect::<Value>(),
    })
}
