//! Which stretches of edges are seen.

use super::{Face, Solid, Space, View, cross, dot, plus, unit};

/// What a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineKind {
    /// The outline of a body: one side of it faces the eye, the other does not.
    Outline,
    /// An edge inside the outline.
    Inner,
    /// Where two bodies that run into each other meet.
    Meeting,
}

/// A stretch of a line that is seen, on the sheet in metres to the right and up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// The number of the body whose line it is.
    pub body: usize,
    /// What it is.
    pub kind: LineKind,
    /// Where it begins.
    pub from: [f64; 2],
    /// Where it ends.
    pub to: [f64; 2],
}

/// Bodies are taken to be so much smaller on every side when they hide, in metres: an edge that lies on the face of another
/// body is not hidden by it.
const SHRUNK: f64 = 5e-4;
/// What hides an edge is at least so much nearer to the eye, in metres.
const NEARER: f64 = 1e-3;
/// A face seen at a smaller slope than this is seen edge on.
const EDGE_ON: f64 = 1e-9;
/// Shorter stretches are not drawn, in metres: half a millimetre on the ride is under a tenth of a pixel.
const SHORTEST: f64 = 5e-4;

/// A box on the sheet.
#[derive(Clone, Copy, Debug)]
struct Flat {
    least: [f64; 2],
    most: [f64; 2],
}

impl Flat {
    fn of(points: impl Iterator<Item = [f64; 2]>) -> Self {
        let mut flat = Self { least: [f64::INFINITY; 2], most: [f64::NEG_INFINITY; 2] };
        for point in points {
            flat.least = [flat.least[0].min(point[0]), flat.least[1].min(point[1])];
            flat.most = [flat.most[0].max(point[0]), flat.most[1].max(point[1])];
        }
        flat
    }

    fn apart(&self, other: &Self) -> bool {
        (0..2).any(|axis| self.least[axis] > other.most[axis] || other.least[axis] > self.most[axis])
    }
}

/// Every line of the bodies that is seen, body by body.
///
/// Cost: for n bodies of f faces and e edges, O(n² e f) at worst; bodies whose boxes on the sheet do not overlap cost one
/// comparison.
pub fn visible(solids: &[Solid], view: &View) -> Vec<Line> {
    let way = InTheWay::of(solids, view);
    let boxes = &way.boxes;
    let mut lines = Vec::new();
    let mut draw = |body: usize, kind: LineKind, from: Space, to: Space| {
        // A convex body hides nothing of its own that faces the eye.
        let own = (kind != LineKind::Meeting).then_some(body);
        way.seen(from, to, own, |from, to| lines.push(Line { body, kind, from, to }));
    };
    for (body, solid) in solids.iter().enumerate() {
        let faces_eye: Vec<bool> =
            solid.faces.iter().map(|face| dot(face.normal, view.eye) > EDGE_ON).collect();
        for edge in &solid.edges {
            let [one, other] = edge.faces.map(|face| faces_eye[face]);
            let kind = match (one, other) {
                (false, false) => continue,
                (true, true) if edge.smooth => continue,
                (true, true) => LineKind::Inner,
                _ => LineKind::Outline,
            };
            let [from, to] = edge.ends.map(|end| solid.corners[end]);
            draw(body, kind, from, to);
        }
        for (other, second) in solids.iter().enumerate().skip(body + 1) {
            if boxes[body].apart(&boxes[other]) {
                continue;
            }
            for (from, to) in meetings(solid, second, view) {
                draw(body, LineKind::Meeting, from, to);
            }
        }
    }
    lines
}

/// Bodies that may hide something, ready to be asked.
#[derive(Debug)]
pub struct InTheWay<'a> {
    solids: &'a [Solid],
    view: View,
    boxes: Vec<Flat>,
    nearest: Vec<f64>,
}

impl<'a> InTheWay<'a> {
    /// Of these bodies, in a view.
    pub fn of(solids: &'a [Solid], view: &View) -> Self {
        let flat = |solid: &Solid| Flat::of(solid.corners.iter().map(|corner| view.flat(*corner)));
        let near =
            |solid: &Solid| solid.corners.iter().map(|c| dot(view.eye, *c)).fold(f64::NEG_INFINITY, f64::max);
        Self {
            solids,
            view: *view,
            boxes: solids.iter().map(flat).collect(),
            nearest: solids.iter().map(near).collect(),
        }
    }

    /// Gives every stretch of a straight line that no body hides, but for one that it may not ask.
    pub fn seen(&self, from: Space, to: Space, but: Option<usize>, mut give: impl FnMut([f64; 2], [f64; 2])) {
        let there = Flat::of([self.view.flat(from), self.view.flat(to)].into_iter());
        let farthest = dot(self.view.eye, from).min(dot(self.view.eye, to));
        let mut hidden: Vec<[f64; 2]> = Vec::new();
        for (other, solid) in self.solids.iter().enumerate() {
            if but == Some(other) || self.boxes[other].apart(&there) || self.nearest[other] < farthest {
                continue;
            }
            hidden.extend(behind(from, to, solid, self.view.eye));
        }
        for [first, last] in left(&mut hidden) {
            let at = |t: f64| self.view.flat(plus(from, plus(to, from, -1.0), t));
            let (from, to) = (at(first), at(last));
            if (to[0] - from[0]).abs() + (to[1] - from[1]).abs() > SHORTEST {
                give(from, to);
            }
        }
    }

    /// Whether nothing hides a point.
    pub fn free(&self, point: Space) -> bool {
        self.solids.iter().all(|solid| clear(point, solid, self.view.eye))
    }

    /// The stretches of the outline of a further body that are seen; it hides nothing itself.
    pub fn outline(&self, solid: &Solid, mut give: impl FnMut([f64; 2], [f64; 2])) {
        let faces = |face: usize| dot(solid.faces[face].normal, self.view.eye) > EDGE_ON;
        for edge in solid.edges.iter().filter(|edge| faces(edge.faces[0]) != faces(edge.faces[1])) {
            let [from, to] = edge.ends.map(|end| solid.corners[end]);
            self.seen(from, to, None, &mut give);
        }
    }
}

/// The stretch of an edge, as shares of its length, that a body hides.
///
/// The strip `from + t (to − from) + s eye` with t from 0 to 1 and s from [`NEARER`] on, cut by the half-spaces of the body,
/// is a convex patch of (t, s); its least and greatest t bound what is hidden.
fn behind(from: Space, to: Space, solid: &Solid, eye: Space) -> Option<[f64; 2]> {
    const FAR: f64 = 1e3;
    let way = plus(to, from, -1.0);
    let mut patch = vec![[0.0, NEARER], [1.0, NEARER], [1.0, FAR], [0.0, FAR]];
    let mut cut = Vec::with_capacity(12);
    for face in &solid.faces {
        let value = |p: [f64; 2]| {
            dot(face.normal, from) - (face.offset - SHRUNK)
                + dot(face.normal, way) * p[0]
                + dot(face.normal, eye) * p[1]
        };
        cut.clear();
        for (at, &here) in patch.iter().enumerate() {
            let next = patch[(at + 1) % patch.len()];
            let (a, b) = (value(here), value(next));
            if a <= 0.0 {
                cut.push(here);
            }
            if (a < 0.0 && b > 0.0) || (a > 0.0 && b < 0.0) {
                let share = a / (a - b);
                cut.push([here[0] + (next[0] - here[0]) * share, here[1] + (next[1] - here[1]) * share]);
            }
        }
        core::mem::swap(&mut patch, &mut cut);
        if patch.len() < 2 {
            return None;
        }
    }
    let least = patch.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min);
    let most = patch.iter().map(|p| p[0]).fold(f64::NEG_INFINITY, f64::max);
    (most > least).then_some([least, most])
}

/// What is left of 0 to 1 without the intervals.
fn left(hidden: &mut [[f64; 2]]) -> Vec<[f64; 2]> {
    hidden.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let (mut left, mut at) = (Vec::new(), 0.0);
    for &[first, last] in hidden.iter() {
        if first > at {
            left.push([at, first]);
        }
        at = last.max(at);
    }
    if at < 1.0 {
        left.push([at, 1.0]);
    }
    left
}

/// The lines in which the faces of two bodies cut each other, of faces that both face the eye.
fn meetings(one: &Solid, other: &Solid, view: &View) -> Vec<(Space, Space)> {
    let mut lines = Vec::new();
    let crosses = |solid: &Solid, face: &Face| {
        let side = |corner: &Space| dot(face.normal, *corner) - face.offset;
        let (mut under, mut over) = (false, false);
        for corner in &solid.corners {
            under |= side(corner) < -SHRUNK * 2.0;
            over |= side(corner) > SHRUNK * 2.0;
        }
        (under, over)
    };
    // A face with the whole of the other body outside it parts the two: they do not run into each other.
    let parted = |a: &Solid, b: &Solid| a.faces.iter().any(|face| !crosses(b, face).0);
    if parted(one, other) || parted(other, one) {
        return lines;
    }
    let seen = |face: &&Face| dot(face.normal, view.eye) > EDGE_ON;
    for first in one.faces.iter().filter(seen) {
        if !crosses(other, first).1 {
            continue;
        }
        for second in other.faces.iter().filter(seen) {
            let Some(along) = unit(cross(first.normal, second.normal)) else { continue };
            let (n, m) = (first.normal, second.normal);
            let between = dot(n, m);
            let square = 1.0 - between * between;
            if square < 1e-9 {
                continue;
            }
            let (a, b) = (
                (first.offset - second.offset * between) / square,
                (second.offset - first.offset * between) / square,
            );
            let start = plus(plus([0.0; 3], n, a), m, b);
            let (mut least, mut most) = (f64::NEG_INFINITY, f64::INFINITY);
            for face in one.faces.iter().chain(&other.faces) {
                if core::ptr::eq(face, first) || core::ptr::eq(face, second) {
                    continue;
                }
                let (slope, rest) = (dot(face.normal, along), face.offset - dot(face.normal, start));
                if slope.abs() < 1e-12 {
                    if rest < 0.0 {
                        most = f64::NEG_INFINITY;
                    }
                } else if slope > 0.0 {
                    most = most.min(rest / slope);
                } else {
                    least = least.max(rest / slope);
                }
            }
            if most - least > SHORTEST {
                lines.push((plus(start, along, least), plus(start, along, most)));
            }
        }
    }
    lines
}

/// How much of what faces the eye of some bodies is not hidden by the others: the seen area on the sheet over the whole,
/// from 0 to 1. Measured at points spread evenly over the faces, about so many for each body.
pub fn seen_share(solids: &[Solid], which: &[usize], view: &View, points: usize) -> f64 {
    let (mut seen, mut whole) = (0.0, 0.0);
    let boxes = InTheWay::of(solids, view).boxes;
    for &body in which {
        let solid = &solids[body];
        let in_the_way: Vec<usize> =
            (0..solids.len()).filter(|other| *other != body && !boxes[*other].apart(&boxes[body])).collect();
        for face in solid.faces.iter().filter(|face| dot(face.normal, view.eye) > EDGE_ON) {
            for triangle in 1..face.corners.len().saturating_sub(1) {
                let [a, b, c] = [0, triangle, triangle + 1].map(|at| solid.corners[face.corners[at]]);
                let (u, v) = (plus(b, a, -1.0), plus(c, a, -1.0));
                let area = dot(cross(u, v), view.eye).abs() / 2.0;
                let rows = if solid.faces.len() > 8 { 1 } else { points.max(1) };
                let share = area / (rows * rows) as f64;
                for i in 0..rows {
                    for j in 0..rows {
                        // An even spread over the triangle: what falls beyond its long side is turned back into it.
                        let (s, t) = ((i as f64 + 0.5) / rows as f64, (j as f64 + 0.5) / rows as f64);
                        let (s, t) = if s + t > 1.0 { (1.0 - s, 1.0 - t) } else { (s, t) };
                        let point = plus(plus(a, u, s), v, t);
                        whole += share;
                        let free = in_the_way.iter().all(|&other| clear(point, &solids[other], view.eye));
                        seen += if free { share } else { 0.0 };
                    }
                }
            }
        }
    }
    if whole > 0.0 { seen / whole } else { 0.0 }
}

/// Whether the way from a point to the eye keeps clear of a body.
fn clear(point: Space, solid: &Solid, eye: Space) -> bool {
    let (mut near, mut far) = (NEARER, f64::INFINITY);
    for face in &solid.faces {
        let (slope, rest) = (dot(face.normal, eye), face.offset - SHRUNK - dot(face.normal, point));
        if slope.abs() < 1e-12 {
            if rest < 0.0 {
                return true;
            }
        } else if slope > 0.0 {
            far = far.min(rest / slope);
        } else {
            near = near.max(rest / slope);
        }
        if near >= far {
            return true;
        }
    }
    false
}
