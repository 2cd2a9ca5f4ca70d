//! What settled since the earlier readings of the pitch.

use crate::heights::to_frame;
use crate::readings::{Surveyed, place, surveyed};
use std::collections::{BTreeMap, BTreeSet};
use tober_book::{Pitch, Ride, Visit};
use tober_calc::finding::{Finding, Subject};
use tober_calc::survey::{Place, SettlementLimits, SurveyError, settlement, settlement_findings};

/// The findings on what moved between the earlier readings and those of now.
///
/// Where there are no earlier ones they are asked for once the ride stands: the readings are of a later day than the one on
/// which it came, or the pitch says what stood still. On the day it comes nothing has stood there that could have sunk.
pub(crate) fn settled(ride: &Ride, pitch: &Pitch, visit: &Visit, now: &Surveyed) -> Vec<Finding> {
    let Some(later) = &pitch.readings else { return Vec::new() };
    let Some(earlier) = &pitch.earlier else {
        let stood = matches!((visit.about.from, later.measured()), (Some(came), Some(read)) if read > came);
        let judged = ride.limits.as_ref().is_some_and(|limits| limits.sink_greatest.is_some())
            || ride.frame.planarity.is_some()
            || ride.frame.level_along.is_some()
            || ride.frame.level_across.is_some();
        if !judged || !(stood || pitch.settlement.is_some()) {
            return Vec::new();
        }
        let missing = "The readings of the day on which it was set up, as `[earlier]`: what has sunk since shows by them.";
        let title = "settlement since the earlier readings";
        return vec![Finding::not_known("settlement.read", Subject::Pitch, title, missing)];
    };
    let refused = |error: &SurveyError| {
        let title = "settlement since the earlier readings";
        vec![Finding::not_known("settlement.read", Subject::Pitch, title, &error.to_string())]
    };
    let before = match surveyed(ride, earlier) {
        Ok(before) => before,
        Err(error) => return refused(&error),
    };
    let mut still = pitch.settlement.as_ref().map_or_else(Vec::new, |told| told.still.clone());
    if still.is_empty() {
        // A point whose height is known on both days is what both were measured from.
        let known = before.known_points.iter().filter(|name| now.known_points.contains(name));
        still = known.cloned().collect();
    }
    let feet = feet(ride, visit, &before, now, &still);
    let found = match settlement(&before.survey, &now.survey, &still, &feet.places) {
        Ok(found) => found,
        Err(error) => return refused(&error),
    };
    let limits = SettlementLimits {
        along: ride.frame.level_along.filter(|_| feet.in_frame_axes),
        across: ride.frame.level_across.filter(|_| feet.in_frame_axes),
        planarity: ride.frame.planarity,
        since: earlier
            .measured()
            .map_or_else(|| "Since the earlier readings".to_owned(), |day| format!("Since {day}")),
    };
    let mut doubts = Vec::new();
    if !(before.deviations_known && now.deviations_known) {
        doubts.push(
            "Nobody said how good the instrument was on both days, so nothing tells what readings explain.",
        );
    }
    if matches!((earlier.measured(), later.measured()), (Some(old), Some(new)) if old >= new) {
        doubts.push("The earlier readings are not from an earlier day than those of now.");
    }
    let doubted = |finding: Finding| doubts.iter().fold(finding, |finding, why| finding.doubted(why));
    settlement_findings(&found, &limits).into_iter().map(doubted).collect()
}

struct Feet {
    places: BTreeMap<String, Place>,
    in_frame_axes: bool,
}

/// The points whose plane matters: the feet, where three of them at least were read both times; otherwise every point
/// with a place, in the axes of the frame where the pose of the trailer is known.
fn feet(ride: &Ride, visit: &Visit, before: &Surveyed, now: &Surveyed, still: &[String]) -> Feet {
    let of = |read: &Surveyed| -> BTreeSet<String> {
        read.survey.heights.iter().map(|h| h.name.clone()).filter(|name| !still.contains(name)).collect()
    };
    let both: BTreeSet<String> = of(before).intersection(&of(now)).cloned().collect();
    let supports = ride.supports.iter().map(|support| (support.name.clone(), place(support.at)));
    let legs: BTreeMap<String, Place> = supports.filter(|(name, _)| both.contains(name)).collect();
    if legs.len() >= 3 || now.on_frame {
        return Feet { places: legs, in_frame_axes: true };
    }
    let placed = now.survey.heights.iter().filter(|h| both.contains(&h.name));
    let places = placed.filter_map(|h| {
        let at = h.place?;
        let turned = visit.pose.as_ref().map(|pose| to_frame(at, pose.at, pose.heading.as_rad()));
        Some((h.name.clone(), turned.unwrap_or(at)))
    });
    Feet { places: places.collect(), in_frame_axes: visit.pose.is_some() }
}
