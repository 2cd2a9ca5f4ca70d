//! The winch line: from the drum over the sheave to the eye, as far as the book tells where they are.

use super::motion::Screw;
use super::pair;
use super::scene::{Scene, ends, pose};
use super::step::Onto;
use crate::label::{self, Area, Weight};
use crate::place::{along, near};
use crate::sheet::{Face, Sheet};
use crate::solid::Space;
use tober_book::{Lift, Point3, Step, WinchLift};
use tober_plan::BodyShown;
use tober_quantity::Angle;

/// Where a line runs.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Run {
    pub drum: Option<Space>,
    pub sheave: Option<Space>,
    /// The eye, or where none is told the highest end of the part.
    pub eye: Space,
}

fn metres(at: &Point3) -> Space {
    [at.along.value.as_m(), at.across.value.as_m(), at.up.value.as_m()]
}

/// The lift that tells where the line on a body runs: the step's own, or that which it takes back, or else one that begins or ends where
/// the body is now.
fn told<'a>(scene: &Scene<'a>, name: &str, now: &str) -> Option<(&'a WinchLift, &'a Step)> {
    let of = |lift: &'a Lift, step: &'a Step| match lift {
        Lift::Winch(lift) if lift.body == name => Some((lift.as_ref(), step)),
        _ => None,
    };
    let own = scene.ride.lifts_of(scene.shown.step);
    if let Some(found) = own.into_iter().find_map(|done| of(done.lift, done.told_by)) {
        return Some(found);
    }
    let all = || scene.ride.steps.iter().filter_map(|step| of(step.lift.as_ref()?, step));
    let here = |(_, step): &(&WinchLift, &Step)| {
        step.moves.iter().any(|moved| moved.body == name && (moved.from == now || moved.to == now))
    };
    all().find(here)
}

/// Where the winch line of a step runs. The eye is told for the part as it lies where its lift begins, and goes with the part.
pub(crate) fn run(scene: &Scene<'_>) -> Option<Run> {
    let name = scene.shown.line?;
    let solid = scene.solid_of(name)?;
    let there = scene.body(solid)?;
    let place = if scene.before { there.was } else { there.is };
    let found = told(scene, name, &place.name);
    let lift = found.map(|(lift, _)| lift);
    let eye = found.and_then(|(lift, step)| {
        let eye = metres(lift.eye.as_ref()?);
        let moved = step.moves.iter().find(|moved| moved.body == name)?;
        let was = there.body.placement(&moved.from)?;
        let first = BodyShown { body: there.body, was, is: was };
        let now = scene.shown.turned[usize::from(!scene.before)];
        let screw = Screw::between(
            &pose(scene.ride, &first, true, Angle::ZERO),
            &pose(scene.ride, there, scene.before, now),
        );
        Some(screw.forth(eye))
    });
    let high = |a: &Space, b: &Space| a[2].total_cmp(&b[2]);
    let end = || ends(&scene.solids[solid]).into_iter().max_by(high);
    Some(Run {
        drum: lift.and_then(|lift| lift.winch_at.as_ref()).map(metres),
        sheave: lift.and_then(|lift| lift.sheave.as_ref()).map(metres),
        eye: eye.or_else(end)?,
    })
}

/// How far to either side of a line under load nobody stands, and how far beyond its ends, in metres: what parts flies back along it. Common
/// practice, no source.
const ASIDE: f64 = 1.0;
const BEYOND: f64 = 2.0;

/// Whether a place on the ground is in line with the rope.
pub(crate) fn in_line(run: &Run, at: [f64; 2]) -> bool {
    let mut points: Vec<Space> = run.drum.into_iter().chain(run.sheave).collect();
    points.push(run.eye);
    points.windows(2).any(|pair| {
        let (dx, dy) = (pair[1][0] - pair[0][0], pair[1][1] - pair[0][1]);
        let long = (dx * dx + dy * dy).sqrt();
        if long < 0.1 {
            return false;
        }
        let (x, y) = (at[0] - pair[0][0], at[1] - pair[0][1]);
        let (along, aside) = ((x * dx + y * dy) / long, (x * dy - y * dx).abs() / long);
        aside < ASIDE && along > -BEYOND && along < long + BEYOND
    })
}

/// What is said of how it runs.
pub(crate) fn words(run: &Run) -> &'static str {
    match (run.drum, run.sheave) {
        (Some(_), Some(_)) => "Winch line: from the drum over the sheave to the eye. Nobody in line with it.",
        (Some(_), None) => {
            "Winch line: straight from the drum to the eye, as the book tells no sheave. Nobody in line with it."
        }
        (None, Some(_)) => {
            "Winch line: from the sheave; the book does not tell where the winch is. Nobody in line with it."
        }
        (None, None) => "Winch line: the book does not tell where it runs.",
    }
}

/// The winch line with its hook.
pub(crate) fn draw(sheet: &mut Sheet, run: &Run, onto: &Onto, taken: &mut Vec<Area>) {
    let at = onto.point(run.eye);
    let fixed: Vec<Space> = run.drum.into_iter().chain(run.sheave).collect();
    let mut points: Vec<(f64, f64)> = fixed.iter().map(|point| onto.point(*point)).collect();
    if points.is_empty() {
        let from = (at.0, at.1 - 46.0);
        sheet.line((from.0, from.1 - 14.0), from, "k2 hid");
        points.push(from);
    }
    points.push(at);
    for pair in points.windows(2) {
        sheet.line(pair[0], pair[1], "k2");
        taken.extend(along(pair[0], pair[1]));
    }
    if run.sheave.is_some() {
        sheet.circle(points[points.len() - 2], 5.0, "k2 fp");
    }
    if run.drum.is_some() {
        let (x, y) = points[0];
        let drum = Area { x: x - 8.0, y: y - 5.0, width: 16.0, height: 10.0 };
        sheet.rect(drum, "k2 fp");
        taken.push(drum);
    }
    let (x, y) = at;
    let hook = format!(
        "M{}L{}C{} {} {}",
        pair((x, y - 4.0)),
        pair((x, y + 3.0)),
        pair((x, y + 13.0)),
        pair((x - 10.0, y + 13.0)),
        pair((x - 10.0, y + 4.0))
    );
    sheet.path(&hook, "k3");
}

/// The words of the winch line, where nothing else stands.
pub(crate) fn label(sheet: &mut Sheet, (run, room): (&Run, Area), onto: &Onto, taken: &mut Vec<Area>) {
    let mut words = |anchors: &[(f64, f64)], words: &str| {
        let size = (label::width(words, 13.0, Weight::Regular), 14.0);
        if let Some(area) = near(anchors, size, room, 64.0, taken) {
            sheet.text(area.x, area.y + 11.0, Face::plain(13.0).class("halo"), words);
            taken.push(area);
        }
    };
    let at = onto.point(run.eye);
    let from = run.sheave.or(run.drum).map_or((at.0, at.1 - 46.0), |point| onto.point(point));
    words(&[((from.0 + at.0) / 2.0, (from.1 + at.1) / 2.0), from], "winch line");
    if let Some(drum) = run.drum {
        words(&[onto.point(drum)], "winch");
    }
}
