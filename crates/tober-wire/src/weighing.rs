//! Writes a weighed ride as JSON.

use crate::calc::weighed;
use crate::write::{finding, working};
use serde_json::{Value, json};
use tober_plan::{Entry, WeighedRide};
use tober_quantity::{Length, Toleranced, UnitSet};

/// A weighed ride, whole, with every finding and its working.
pub fn weighing(ride: &WeighedRide, units: UnitSet) -> Value {
    let length =
        |length: &Toleranced<Length>| json!({ "m": length.value.as_m(), "off_by_m": length.off_by.as_m() });
    let entry = |entry: &Entry| {
        json!({
            "body": entry.body,
            "mass_kg": entry.mass.value.as_kg(),
            "off_by_kg": entry.mass.off_by.as_kg(),
            "before_kg": entry.before.as_kg(),
            "before_from": entry.from.to_string(),
            "along": entry.place.as_ref().map(|[along, _]| length(along)),
            "across": entry.place.as_ref().map(|[_, across]| length(across)),
        })
    };
    json!({
        "result": weighed(&ride.found),
        "findings": ride.findings.iter().map(|f| finding(f, units)).collect::<Value>(),
        "working": ride.workings.iter().map(|w| json!({ "lines": working(w, units) })).collect::<Value>(),
        "left_out": ride.left_out,
        "entries": ride.entries.iter().map(entry).collect::<Value>(),
    })
}
