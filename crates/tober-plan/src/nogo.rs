//! What a moved trailer must keep clear of: what the pitch names, above ground and below.

use crate::aboard::axis;
use crate::heights::Moved;
use crate::packing::tenths;
use crate::surroundings::on_frame;
use crate::wheel::{passes_over, wheel};
use tober_book::{Does, Kit, ObstacleKind, Pitch, Point, Ride, TimberRole, Visit};
use tober_calc::packing::{Spot, aside};
use tober_fit::packing::keeps_apart;
use tober_quantity::{Length, TenthMm};

/// One thing of the pitch, in the axes of the frame where it stands now.
struct NoGo {
    spots: Vec<Spot>,
    keep: TenthMm,
    /// Whether it lies under ground, so that only what stands on the ground must keep clear of it.
    buried: bool,
}

/// All that is known of what is in the way.
pub(crate) struct NoGos {
    list: Vec<NoGo>,
    /// What a sentence must still say: nothing where all is known.
    unknown: Option<String>,
}

/// What of the trailer must keep clear: corners in the axes of the frame, by how much more, and whether it stands on the ground.
struct Part {
    corners: Vec<Point>,
    more: Length,
    on_ground: bool,
}

impl NoGos {
    /// What the pitch names. Without a pose nobody knows where that is from the frame.
    ///
    /// Anything above ground is kept out of the plan of the frame and of what its riders sweep, however high it hangs; that is
    /// more than is needed, and errs to the safe side. Under ground, and above it, feet with the longest timber either way,
    /// wheels and hitch jack keep clear. More than two corners are taken as what they enclose.
    pub(crate) fn of(pitch: &Pitch, visit: &Visit) -> Self {
        let (Some(pose), Some(obstacles), Some(drains)) = (&visit.pose, &pitch.obstacles, &pitch.drains)
        else {
            let what = "once nothing stands, hangs or lies in its way".to_owned();
            return Self { list: Vec::new(), unknown: Some(what) };
        };
        let spots = |outline: &[Point]| {
            let spot = |point: &Point| {
                let (along, across) = on_frame(*point, Some(pose));
                (tenths(along), tenths(across))
            };
            outline.iter().map(spot).collect()
        };
        let mut without = Vec::new();
        let mut list = Vec::new();
        for obstacle in obstacles {
            let buried = matches!(
                obstacle.kind,
                ObstacleKind::BuriedPipe | ObstacleKind::BuriedCable | ObstacleKind::Hollow
            );
            if obstacle.keep_away.is_none() {
                without.push(obstacle.name.as_str());
            }
            let keep = tenths(obstacle.keep_away.unwrap_or(Length::ZERO));
            list.push(NoGo { spots: spots(&obstacle.outline), keep, buried });
        }
        for drain in drains {
            list.push(NoGo { spots: spots(&drain.outline), keep: TenthMm(0), buried: true });
        }
        let unknown = (!without.is_empty())
            .then(|| format!("once it is known how far to keep from {}", without.join(", ")));
        Self { list, unknown }
    }

    /// What must hold besides, for a sentence that goes on: what is not known, or that what the pitch names is clear.
    pub(crate) fn besides(&self, ride: &Ride) -> String {
        let swept = ride.motion.is_none() || reach(ride).is_some() || !passes_over(ride).is_empty();
        match &self.unknown {
            Some(unknown) => unknown.clone(),
            None if !swept => "once nothing stands or hangs where its arms pass".to_owned(),
            None => "clear there of all that the pitch names".to_owned(),
        }
    }

    /// Whether the trailer, moved so, keeps clear of everything. Each thing is shown to keep apart by a line between them,
    /// which the part that did not find it checks.
    pub(crate) fn clear(&self, ride: &Ride, kit: &Kit, moved: Moved) -> bool {
        parts(ride, kit).iter().all(|part| {
            let spots: Vec<Spot> = part
                .corners
                .iter()
                .map(|&corner| moved.place(corner))
                .map(|place| (tenths(place.x), tenths(place.y)))
                .collect();
            let against = self.list.iter().filter(|nogo| part.on_ground || !nogo.buried);
            against.into_iter().filter(|nogo| !nogo.spots.is_empty()).all(|nogo| {
                let keep = nogo.keep + tenths(part.more);
                aside(&spots, &nogo.spots, keep)
                    .is_some_and(|direction| keeps_apart(&spots, &nogo.spots, keep, direction))
            })
        })
    }
}

/// What turns about an upright axis: its middle and how far it reaches.
fn reach(ride: &Ride) -> Option<(Point, Length)> {
    let (along, across) = axis(ride).filter(|_| wheel(ride).is_none())?;
    Some((Point { along, across }, ride.motion.as_ref()?.radius?))
}

fn parts(ride: &Ride, kit: &Kit) -> Vec<Part> {
    let timbers = kit.boards.iter().filter(|board| board.role == TimberRole::Timber);
    let longest = timbers.map(|board| board.length.max(board.width)).reduce(Length::max);
    let mut parts = Vec::new();
    for support in ride.supports.iter().filter(|support| support.does == Does::Carries) {
        let foot = [support.foot_length, support.foot_width, longest].into_iter().flatten();
        let half = foot.reduce(Length::max).unwrap_or(Length::ZERO) / 2.0;
        parts.push(square(support.at, half));
    }
    for axle in &ride.frame.axles {
        for side in [axle.track / 2.0, axle.track * -0.5] {
            parts.push(square(Point { along: axle.at, across: side }, Length::ZERO));
        }
    }
    if let Some(hitch) = &ride.frame.hitch {
        parts.push(square(hitch.at, Length::ZERO));
    }
    let above = |corners: Vec<Point>, more| Part { corners, more, on_ground: false };
    parts.push(above(ride.frame.corners(), Length::ZERO));
    if let Some((middle, radius)) = reach(ride) {
        parts.push(above(vec![middle], radius));
    }
    let passed: Vec<Point> =
        passes_over(ride).into_iter().map(|(along, across)| Point { along, across }).collect();
    if !passed.is_empty() {
        parts.push(above(passed, Length::ZERO));
    }
    parts
}

fn square(at: Point, half: Length) -> Part {
    let corner = |x: f64, y: f64| Point { along: at.along + half * x, across: at.across + half * y };
    Part {
        corners: vec![corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)],
        more: Length::ZERO,
        on_ground: true,
    }
}
