//! What is on the ground: the ground that something sweeps over, and where people stand.

use super::rope::{self, Run, in_line};
use super::scene::Scene;
use crate::solid::{Solid, Space, View};
use tober_book::Role;

/// At how many places along its way a moving body is taken to sweep the ground.
const SWEEP: usize = 12;
/// Between the strokes of a hatch, in metres.
const HATCH: f64 = 0.28;
/// How far people keep from what moves, in metres; common practice, no source.
const KEEP: f64 = 0.4;
/// How far from each other people are drawn, in metres.
const APART: f64 = 1.1;
/// How far apart tags are drawn across and up the sheet, in metres.
const TAG: [f64; 2] = [1.0, 0.8];
/// A body higher than this above the ground can be walked under, in metres.
const HEAD: f64 = 2.0;

type Flat = [f64; 2];

/// The outline of points on the ground, against the clock.
pub(super) fn hull(mut points: Vec<Flat>) -> Vec<Flat> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let turn = |a: Flat, b: Flat, c: Flat| (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    let mut hull: Vec<Flat> = Vec::new();
    for _ in 0..2 {
        let start = hull.len();
        for &point in &points {
            while hull.len() >= start + 2 && turn(hull[hull.len() - 2], hull[hull.len() - 1], point) <= 0.0 {
                hull.pop();
            }
            hull.push(point);
        }
        points.reverse();
        hull.pop();
    }
    hull
}

/// The ground under what moves on its way, as convex patches; none under what people carry.
pub(crate) fn swept(scene: &Scene<'_>) -> Vec<Vec<Flat>> {
    if scene.by_hand() {
        return Vec::new();
    }
    let mut patches = Vec::new();
    for (solid, screw) in scene.movers() {
        for at in 0..=SWEEP {
            let share = at as f64 / SWEEP as f64;
            let corners = scene.solids[solid].corners.iter().map(|corner| {
                let [x, y, _] = screw.at(*corner, share);
                [x, y]
            });
            patches.push(hull(corners.collect()));
        }
    }
    patches
}

/// Strokes at 45° over the patches, each once.
pub(crate) fn hatch(patches: &[Vec<Flat>]) -> Vec<[Flat; 2]> {
    // Along u = x − y the strokes are counted, along v = x + y they run.
    let turned: Vec<Vec<Flat>> =
        patches.iter().map(|patch| patch.iter().map(|[x, y]| [x - y, x + y]).collect()).collect();
    let us = || turned.iter().flatten().map(|point| point[0]);
    let (least, most) = (us().fold(f64::INFINITY, f64::min), us().fold(f64::NEG_INFINITY, f64::max));
    let step = HATCH * core::f64::consts::SQRT_2;
    let mut strokes = Vec::new();
    if !(least.is_finite() && most.is_finite()) {
        return strokes;
    }
    let mut u = (least / step).ceil() * step;
    while u < most {
        let mut runs: Vec<Flat> = Vec::new();
        for patch in &turned {
            let mut ends = [f64::INFINITY, f64::NEG_INFINITY];
            for (at, a) in patch.iter().enumerate() {
                let b = patch[(at + 1) % patch.len()];
                if (a[0] - u) * (b[0] - u) < 0.0 {
                    let v = a[1] + (b[1] - a[1]) * (u - a[0]) / (b[0] - a[0]);
                    ends = [ends[0].min(v), ends[1].max(v)];
                }
            }
            if ends[0] < ends[1] {
                runs.push(ends);
            }
        }
        runs.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut open: Option<Flat> = None;
        for run in runs {
            match &mut open {
                Some(last) if run[0] <= last[1] => last[1] = last[1].max(run[1]),
                _ => strokes.extend(open.replace(run).map(|done| stroke(u, done))),
            }
        }
        strokes.extend(open.map(|done| stroke(u, done)));
        u += step;
    }
    strokes
}

fn stroke(u: f64, [from, to]: Flat) -> [Flat; 2] {
    [[(from + u) / 2.0, (from - u) / 2.0], [(to + u) / 2.0, (to - u) / 2.0]]
}

/// A person on the ground.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Person {
    pub at: Flat,
    /// Two letters.
    pub tag: &'static str,
    /// Who that is.
    pub who: &'static str,
    /// Whether the book says where.
    pub told: bool,
}

fn tag(role: Role) -> (&'static str, &'static str) {
    match role {
        Role::Chief => ("Ch", "chief"),
        Role::Trainer => ("Tr", "trainer"),
        Role::Hand => ("Ha", "hand"),
        Role::Operator => ("Op", "operator"),
        Role::Attendant => ("At", "attendant"),
        Role::Inspector => ("In", "inspector"),
        Role::Owner => ("Ow", "owner"),
        Role::Electrician => ("El", "electrician"),
    }
}

/// How far a point is outside a convex patch; below zero inside.
pub(crate) fn outside(patch: &[Flat], p: Flat) -> f64 {
    let mut most = f64::NEG_INFINITY;
    for (at, a) in patch.iter().enumerate() {
        let b = patch[(at + 1) % patch.len()];
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let long = (dx * dx + dy * dy).sqrt();
        if long > 1e-9 {
            most = most.max(((p[0] - a[0]) * dy - (p[1] - a[1]) * dx) / long);
        }
    }
    most
}

/// A patch with its least and greatest corner.
fn boxed(patch: Vec<Flat>) -> ([Flat; 2], Vec<Flat>) {
    let least = |n: usize| patch.iter().map(|p| p[n]).fold(f64::INFINITY, f64::min);
    let most = |n: usize| patch.iter().map(|p| p[n]).fold(f64::NEG_INFINITY, f64::max);
    ([[least(0), least(1)], [most(0), most(1)]], patch)
}

/// How far past what a lift sweeps and where its rope runs the ground is kept clear where the book gives no ring, in metres: ours.
const PAST: f64 = 1.0;

/// The ground that the step keeps clear: its middle and how far round it. For a lift by winch of which the book gives no ring, one about
/// the hinge (or under what hangs) that holds all that the part sweeps and the ends of its rope.
pub(crate) fn kept_clear(scene: &Scene<'_>) -> Option<(Flat, f64)> {
    let step = scene.shown.step;
    if let (Some(at), Some(radius)) = (step.keep_clear_at.as_ref(), step.keep_clear_radius) {
        return Some(([at.along.as_m(), at.across.as_m()], radius.as_m()));
    }
    let lift = scene.by_winch()?;
    let part = scene.solids[scene.solid_of(&lift.body)?].middle();
    let hinge = lift.hinge.as_ref().map(|at| [at.along.value.as_m(), at.across.value.as_m()]);
    let middle = hinge.unwrap_or([part[0], part[1]]);
    let run = rope::run(scene);
    let ends = run.iter().flat_map(|run| run.drum.into_iter().chain(run.sheave).chain([run.eye]));
    let mut points: Vec<Flat> = ends.map(|[x, y, _]| [x, y]).collect();
    points.extend(swept(scene).into_iter().flatten());
    let far = points.iter().map(|p| apart(*p, middle)).fold(0.0, f64::max);
    Some((middle, far + PAST))
}

/// Whether the ring is this drawing's own.
pub(crate) fn ring_is_ours(scene: &Scene<'_>) -> bool {
    let step = scene.shown.step;
    step.keep_clear_at.is_none() || step.keep_clear_radius.is_none()
}

fn apart(a: Flat, b: Flat) -> f64 {
    let (dx, dy) = (a[0] - b[0], a[1] - b[1]);
    (dx * dx + dy * dy).sqrt()
}

/// How far from the middle of a ring what moves comes, where that is past it.
pub(crate) fn comes_out(patches: &[Vec<Flat>], (middle, radius): (Flat, f64)) -> Option<f64> {
    let far = patches.iter().flatten().map(|p| apart(*p, middle)).fold(0.0, f64::max);
    (far > radius).then_some(far)
}

/// Whether everybody stands outside the ground that is kept clear: for a lift on a rope, and a trailer that is moved. A part
/// that is walked or carried has its people at it, and keeps the others out.
pub(crate) fn all_outside(scene: &Scene<'_>) -> bool {
    scene.by_winch().is_some() || scene.shown.line.is_some() || !scene.moving
}

/// Where the people of a step stand, near the work: on the ground, off what stands there, off what something sweeps over,
/// outside the ground that is kept clear, out of line with the rope, and so that no tag hides another. Where the book says where somebody
/// stands (`stands`), that counts; the other places are this drawing's.
pub(crate) fn people(
    scene: &Scene<'_>,
    works: &[Space],
    patches: &[Vec<Flat>],
    (view, run): (&View, Option<&Run>),
) -> Vec<Person> {
    let eye = view.eye;
    let step = scene.shown.step;
    let mut roles = step.skills.clone();
    roles.resize(step.people.unwrap_or(roles.len()).max(roles.len()), Role::Hand);
    let low = |solid: &Solid| {
        solid.corners.iter().map(|c| c[2]).fold(f64::INFINITY, f64::min) < scene.ground + HEAD
    };
    let in_the_way: Vec<([Flat; 2], Vec<Flat>)> = scene
        .solids
        .iter()
        .filter(|solid| low(solid))
        .map(|solid| boxed(hull(solid.corners.iter().map(|[x, y, _]| [*x, *y]).collect())))
        .collect();
    let swept: Vec<([Flat; 2], Vec<Flat>)> = patches.iter().cloned().map(boxed).collect();
    let clear = kept_clear(scene).filter(|_| all_outside(scene));
    let (mut least, mut most) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for corner in scene.solids.iter().flat_map(|solid| &solid.corners) {
        least = [least[0].min(corner[0]), least[1].min(corner[1])];
        most = [most[0].max(corner[0]), most[1].max(corner[1])];
    }
    if let Some((middle, radius)) = clear {
        least = [least[0].min(middle[0] - radius - 1.0), least[1].min(middle[1] - radius - 1.0)];
        most = [most[0].max(middle[0] + radius + 1.0), most[1].max(middle[1] + radius + 1.0)];
    }
    let middle = scene.solids.first().map_or([0.0; 3], Solid::middle);
    let fall_back = [middle];
    let works = if works.is_empty() { &fall_back[..] } else { works };
    let mut free: Vec<Flat> = Vec::new();
    let mut x = least[0] - 1.6;
    while x < most[0] + 1.6 {
        let mut y = least[1] - 1.6;
        while y < most[1] + 1.6 {
            let p = [x, y];
            let off = |(boxed, patch): &([Flat; 2], Vec<Flat>)| {
                (0..2).any(|n| p[n] < boxed[0][n] - KEEP || p[n] > boxed[1][n] + KEEP)
                    || outside(patch, p) > KEEP
            };
            let out = clear.is_none_or(|(c, r)| {
                (c[0] - x) * (c[0] - x) + (c[1] - y) * (c[1] - y) > (r + 0.7) * (r + 0.7)
            });
            let aside = run.is_none_or(|run| !in_line(run, p));
            if out && aside && in_the_way.iter().all(off) && swept.iter().all(off) {
                free.push(p);
            }
            y += 0.4;
        }
        x += 0.4;
    }
    let level = (eye[0] * eye[0] + eye[1] * eye[1]).sqrt().max(0.1);
    let mut stand: Vec<Person> = Vec::new();
    for (number, role) in roles.iter().enumerate() {
        let work = works[number % works.len()];
        let cost = |p: &Flat| {
            let (dx, dy) = (p[0] - work[0], p[1] - work[1]);
            // On the near side, where nothing stands between them and the eye, but not before the work.
            let beside = (dx * eye[1] - dy * eye[0]).abs() / level;
            (dx * dx + dy * dy).sqrt() - 0.6 * (dx * eye[0] + dy * eye[1]) + 3.0 * (1.0 - beside).max(0.0)
        };
        let seen = |p: Flat| view.flat([p[0], p[1], 0.0]);
        let free_of = |p: Flat, other: &Person| {
            let ([x, y], [ox, oy]) = (seen(p), seen(other.at));
            apart(p, other.at) > APART && ((x - ox).abs() > TAG[0] || (y - oy).abs() > TAG[1])
        };
        let (tag, who) = tag(*role);
        if let Some(told) = step.stands.get(number) {
            stand.push(Person { at: [told.along.as_m(), told.across.as_m()], tag, who, told: true });
            continue;
        }
        let best = |fits: &dyn Fn(Flat) -> bool| {
            let all = free.iter().filter(|p| fits(**p));
            all.min_by(|a, b| cost(a).total_cmp(&cost(b))).copied()
        };
        let at = best(&|p| stand.iter().all(|other| free_of(p, other)))
            .or_else(|| best(&|p| stand.iter().all(|other| apart(p, other.at) > APART)));
        if let Some(at) = at {
            stand.push(Person { at, tag, who, told: false });
        }
    }
    stand
}
