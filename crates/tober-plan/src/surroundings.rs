//! What the ground plan shows besides the legs.

use crate::aboard::axis;
use crate::model::{MapFeature, MapFeatureKind, Surroundings};
use crate::wheel::{passes_over, wheel};
use tober_book::{ObstacleKind, Pitch, Point, Pose, Ride, Visit};
use tober_quantity::{Angle, Length, maths};

/// A point of the pitch, in the axes of the frame.
pub(crate) fn on_frame(point: Point, pose: Option<&Pose>) -> (Length, Length) {
    let Some(pose) = pose else { return (point.along, point.across) };
    let (sin, cos) = (maths::sin(pose.heading.as_rad()), maths::cos(pose.heading.as_rad()));
    let (dx, dy) = (point.along - pose.at.along, point.across - pose.at.across);
    (dx * cos + dy * sin, dy * cos - dx * sin)
}

fn kind(of: ObstacleKind) -> MapFeatureKind {
    match of {
        ObstacleKind::OverheadLine => MapFeatureKind::Overhead,
        ObstacleKind::BuriedPipe | ObstacleKind::BuriedCable | ObstacleKind::Hollow => MapFeatureKind::Buried,
        ObstacleKind::Way => MapFeatureKind::Way,
        ObstacleKind::Tree
        | ObstacleKind::Building
        | ObstacleKind::Neighbour
        | ObstacleKind::Kerb
        | ObstacleKind::Other => MapFeatureKind::Standing,
    }
}

/// Gathers what is near. Without a pose the features of the pitch are left out: nobody knows where they are
/// from the frame.
pub(crate) fn surroundings(ride: &Ride, pitch: &Pitch, visit: &Visit) -> Surroundings {
    let pose = visit.pose.as_ref();
    let place = |point: &Point| on_frame(*point, pose);
    let mut features = Vec::new();
    if pose.is_some() {
        for obstacle in pitch.obstacles.iter().flatten() {
            features.push(MapFeature {
                name: obstacle.name.clone(),
                kind: kind(obstacle.kind),
                points: obstacle.outline.iter().map(place).collect(),
            });
        }
        for drain in pitch.drains.iter().flatten() {
            let points = drain.outline.iter().map(place).collect();
            features.push(MapFeature { name: drain.name.clone(), kind: MapFeatureKind::Buried, points });
        }
        for supply in &pitch.supplies {
            if let Some(at) = &supply.at {
                features.push(MapFeature {
                    name: supply.name.clone(),
                    kind: MapFeatureKind::Supply,
                    points: vec![place(at)],
                });
            }
        }
    }
    let wheels = ride.frame.axles.iter().flat_map(|axle| {
        let side = axle.track / 2.0;
        [(axle.at, side), (axle.at, -side)]
    });
    let arms = ride.seats.iter().filter_map(|seat| Some((seat.arm.clone()?, seat.angle, seat.radius)));
    // A wheel does not turn on the plan: it passes over a strip of the ground.
    let upright = wheel(ride).is_none();
    Surroundings {
        frame: ride.frame.corners().iter().map(|p| (p.along, p.across)).collect(),
        hitch: ride.frame.hitch.as_ref().map(|hitch| (hitch.at.along, hitch.at.across)),
        centre: axis(ride).filter(|_| upright),
        reach: ride.motion.as_ref().and_then(|motion| motion.radius).filter(|_| upright),
        arms: arms.filter(|_| upright).collect(),
        passes_over: passes_over(ride),
        wheels: wheels.collect(),
        features,
        // The along axis of the pitch lies so far from north towards east; the front so far from it to the left.
        north: pitch
            .about
            .north
            .zip(pose)
            .map(|(north, pose)| Angle::rad(north.as_rad() - pose.heading.as_rad())),
    }
}
