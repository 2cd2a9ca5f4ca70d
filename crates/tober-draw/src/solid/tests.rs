//! What is drawn against rays cast by a second method: bodies by their own equations (slabs, and the true circle of a round
//! body), the nearest along each ray. Where two neighbouring rays meet different faces a line must pass between them, and
//! where one line passes they must meet different faces.

use super::*;
use tober_quantity::Angle;

/// A body by its own equation.
#[derive(Clone, Copy)]
enum Truth {
    Block(Pose, Space),
    Round(Pose, RoundBody),
}

impl Truth {
    fn solid(&self) -> Solid {
        match self {
            Self::Block(pose, half) => Solid::block(pose, *half),
            Self::Round(pose, body) => Solid::round(pose, *body),
        }
    }

    /// Where a ray first meets it, coming from far away on the side of the eye, and the face.
    fn hit(&self, point: Space, eye: Space) -> Option<(f64, usize)> {
        let pose = match self {
            Self::Block(pose, _) | Self::Round(pose, _) => pose,
        };
        let from = plus(point, pose.at, -1.0);
        let own = |v: Space| pose.axes.map(|axis| dot(axis, v));
        let (p, d) = (own(from), own(eye));
        // Along +eye: the last way out of the body is where a ray from the eye comes in.
        let (mut into, mut out, mut face) = (f64::NEG_INFINITY, f64::INFINITY, 0);
        let mut slab = |axis: usize, half: f64| {
            if d[axis].abs() < 1e-12 {
                if p[axis].abs() > half {
                    out = f64::NEG_INFINITY;
                }
                return;
            }
            let (a, b) = ((-half - p[axis]) / d[axis], (half - p[axis]) / d[axis]);
            into = into.max(a.min(b));
            if a.max(b) < out {
                out = a.max(b);
                face = 2 * axis + usize::from(d[axis] > 0.0);
            }
        };
        match self {
            Self::Block(_, half) => (0..3).for_each(|axis| slab(axis, half[axis])),
            Self::Round(_, body) => {
                slab(0, body.half_length);
                let (a, b, c) = (
                    d[1] * d[1] + d[2] * d[2],
                    p[1] * d[1] + p[2] * d[2],
                    p[1] * p[1] + p[2] * p[2] - body.radius * body.radius,
                );
                let root = b * b - a * c;
                if root < 0.0 || a < 1e-12 {
                    if c > 0.0 {
                        return None;
                    }
                } else {
                    let root = root.sqrt();
                    into = into.max((-b - root) / a);
                    if (-b + root) / a < out {
                        out = (-b + root) / a;
                        face = 9;
                    }
                }
                // A tube is drawn with a line round its bore.
                if let (true, Some(bore)) = (face < 2, body.bore) {
                    let at = plus(p, d, out);
                    face += if at[1] * at[1] + at[2] * at[2] < bore * bore { 20 } else { 0 };
                }
            }
        }
        (into < out).then_some((out, face))
    }
}

/// What a ray meets first: the body and its face.
fn top(bodies: &[Truth], view: &View, flat: [f64; 2]) -> Option<(usize, usize)> {
    let point = plus(plus([0.0; 3], view.right, flat[0]), view.up, flat[1]);
    let mut best: Option<(f64, (usize, usize))> = None;
    for (number, body) in bodies.iter().enumerate() {
        if let Some((out, face)) = body.hit(point, view.eye)
            && best.is_none_or(|(far, _)| out > far)
        {
            best = Some((out, (number, face)));
        }
    }
    best.map(|(_, what)| what)
}

struct Dice(u64);

impl Dice {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

fn away(line: &Line, p: [f64; 2]) -> f64 {
    let (dx, dy) = (line.to[0] - line.from[0], line.to[1] - line.from[1]);
    let square = dx * dx + dy * dy;
    let t = ((p[0] - line.from[0]) * dx + (p[1] - line.from[1]) * dy) / square;
    let t = t.clamp(0.0, 1.0);
    maths::hypot(p[0] - line.from[0] - dx * t, p[1] - line.from[1] - dy * t)
}

fn crosses(line: &Line, p: [f64; 2], q: [f64; 2]) -> bool {
    let side =
        |a: [f64; 2], b: [f64; 2], c: [f64; 2]| (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    side(line.from, line.to, p) * side(line.from, line.to, q) < 0.0
        && side(p, q, line.from) * side(p, q, line.to) < 0.0
}

/// How far apart neighbouring rays are, in metres.
const APART: f64 = 0.02;
/// How far a flat side of a round body of 1.3 m lies from its circle (4 mm), and what is hidden by bodies half a millimetre
/// smaller: a ray so near to a line is not asked, in metres.
const UNSURE: f64 = 0.006;

/// Casts pairs of rays and says how many were asked, how many had a line between, and which are wrong.
fn compare(bodies: &[Truth], view: &View, pairs: usize, dice: &mut Dice) -> (usize, usize, Vec<String>) {
    let solids: Vec<Solid> = bodies.iter().map(Truth::solid).collect();
    let lines = visible(&solids, view);
    let corners: Vec<[f64; 2]> =
        solids.iter().flat_map(|solid| &solid.corners).map(|corner| view.flat(*corner)).collect();
    let least = |axis: usize| corners.iter().map(|c| c[axis]).fold(f64::INFINITY, f64::min) - 0.1;
    let most = |axis: usize| corners.iter().map(|c| c[axis]).fold(f64::NEG_INFINITY, f64::max) + 0.1;
    let (low, high) = ([least(0), least(1)], [most(0), most(1)]);
    let (mut asked, mut with_line, mut wrong) = (0, 0, Vec::new());
    for _ in 0..pairs {
        // Half of them anywhere, half beside an edge, drawn or not.
        let solid = &solids[(dice.next() * solids.len() as f64) as usize % solids.len()];
        let edge = solid.edges[(dice.next() * solid.edges.len() as f64) as usize % solid.edges.len()];
        let [a, b] = edge.ends.map(|end| view.flat(solid.corners[end]));
        let (t, beside) = (dice.next(), APART / 2.0);
        let mut near = |axis: usize| a[axis] + (b[axis] - a[axis]) * t + dice.between(-beside, beside);
        let near = [near(0), near(1)];
        let anywhere = [dice.between(low[0], high[0]), dice.between(low[1], high[1])];
        let p = if dice.next() < 0.5 { anywhere } else { near };
        let turn = dice.between(0.0, core::f64::consts::TAU);
        let q = [p[0] + APART * maths::cos(turn), p[1] + APART * maths::sin(turn)];
        let near: Vec<&Line> = lines.iter().filter(|line| away(line, p) < APART * 1.5).collect();
        if near.iter().any(|line| {
            away(line, p) < UNSURE
                || away(line, q) < UNSURE
                // A line that ends between the two may pass on either side.
                || [line.from, line.to].iter().any(|end| {
                    let between = Line { body: 0, kind: LineKind::Inner, from: p, to: q };
                    away(&between, *end) < UNSURE
                        && !near.iter().any(|next| {
                            !core::ptr::eq(*next, *line)
                                && [next.from, next.to].iter().any(|e| maths::hypot(e[0] - end[0], e[1] - end[1]) < 1e-6)
                        })
                })
        }) {
            continue;
        }
        asked += 1;
        let passes = near.iter().filter(|line| crosses(line, p, q)).count();
        let (one, other) = (top(bodies, view, p), top(bodies, view, q));
        with_line += usize::from(passes > 0);
        if (one != other && passes == 0) || (one == other && passes == 1) {
            wrong.push(format!("{p:.3?} {q:.3?}: {one:?} and {other:?} with {passes} lines between"));
        }
    }
    (asked, with_line, wrong)
}

fn heap(dice: &mut Dice, count: usize, room: f64) -> Vec<Truth> {
    (0..count)
        .map(|_| {
            let at = [dice.between(0.0, room), dice.between(0.0, room), dice.between(0.0, room)];
            let mut turn = || Angle::deg(dice.between(-180.0, 180.0));
            let pose = Pose::turned(at, turn(), turn(), turn());
            let mut size = || dice.between(0.05, 0.9);
            let half = [size(), size(), size()];
            match (half[0] * 1e4) as u64 % 3 {
                0 => {
                    let bore = (half[2] > 0.4).then_some(half[1] * 0.8);
                    Truth::Round(pose, RoundBody { half_length: half[0], radius: half[1], bore })
                }
                _ => Truth::Block(pose, half),
            }
        })
        .collect()
}

fn views() -> Vec<View> {
    let mut views: Vec<View> =
        [20.0, 55.0, 130.0, 215.0, 300.0].map(|at| View::from(Angle::deg(at), Angle::deg(27.0))).to_vec();
    views.extend([View::plan(), View::side()]);
    views
}

/// Evidence: rays cast by a second method at random places; see the head of this file. Bodies in any pose, many of them
/// running into each other.
#[test]
fn truth_rays_heap_of_bodies_that_run_into_each_other() {
    let mut dice = Dice(7);
    let (mut asked, mut with_line) = (0, 0);
    for (count, room) in [(12, 2.0), (30, 3.0), (60, 6.0), (8, 1.0)] {
        let bodies = heap(&mut dice, count, room);
        for view in views() {
            let (more, with, wrong) = compare(&bodies, &view, 1500, &mut dice);
            assert!(
                wrong.is_empty(),
                "{count} bodies, {view:?}: {} of {more} wrong: {:#?}",
                wrong.len(),
                &wrong[..wrong.len().min(6)]
            );
            asked += more;
            with_line += with;
        }
    }
    assert!(asked > 20_000 && with_line > 500, "{asked} pairs asked, {with_line} with a line between");
}

/// Evidence: the same rays on three bars of which each lies on the next, where no order of painting is right.
#[test]
fn truth_rays_three_bars_in_a_loop() {
    let bar = |at: Space, heading: f64, raised: f64| {
        Truth::Block(
            Pose::turned(at, Angle::deg(heading), Angle::deg(raised), Angle::ZERO),
            [1.5, 0.08, 0.04],
        )
    };
    let bars: Vec<Truth> = [0.0_f64, 120.0, 240.0]
        .map(|turn| {
            let (sin, cos) = (maths::sin(turn.to_radians()), maths::cos(turn.to_radians()));
            bar([0.45 * sin, -0.45 * cos, 0.0], turn, 9.0)
        })
        .to_vec();
    let mut dice = Dice(3);
    for view in views() {
        let (asked, with_line, wrong) = compare(&bars, &view, 3000, &mut dice);
        assert!(wrong.is_empty() && asked > 1000 && with_line > 20, "{asked}, {with_line}: {wrong:#?}");
    }
}

/// Evidence: the same rays on bodies that stand on, beside and against each other, as those of a ride do.
#[test]
fn truth_rays_bodies_that_touch() {
    let level = |at: Space, half: Space| Truth::Block(Pose::level(at), half);
    let upright = Pose::turned([4.5, 0.0, 1.5], Angle::ZERO, Angle::deg(90.0), Angle::ZERO);
    let bodies = vec![
        level([4.5, 0.0, -0.25], [4.5, 1.2, 0.25]),
        level([1.2, 0.6, 0.55], [0.45, 0.5, 0.55]),
        level([2.1, 0.6, 0.55], [0.45, 0.5, 0.55]),
        level([1.2, -0.6, 0.55], [0.45, 0.5, 0.55]),
        Truth::Round(upright, RoundBody { half_length: 1.5, radius: 0.21, bore: Some(0.2) }),
        level([4.5, 0.0, 3.2], [0.6, 0.6, 0.2]),
    ];
    let mut dice = Dice(11);
    for view in views() {
        let (asked, with_line, wrong) = compare(&bodies, &view, 4000, &mut dice);
        assert!(wrong.is_empty() && asked > 1000 && with_line > 20, "{asked}, {with_line}: {wrong:#?}");
    }
}

/// Evidence: rays again: of points on what faces the eye, the share that a ray leaves free.
#[test]
fn truth_rays_seen_share() {
    let mut dice = Dice(19);
    for _ in 0..6 {
        let bodies: Vec<Truth> =
            heap(&mut dice, 14, 2.0).into_iter().filter(|body| matches!(body, Truth::Block(..))).collect();
        let solids: Vec<Solid> = bodies.iter().map(Truth::solid).collect();
        let view = View::from(Angle::deg(40.0), Angle::deg(27.0));
        for which in 0..bodies.len() {
            let corners: Vec<[f64; 2]> = solids[which].corners.iter().map(|c| view.flat(*c)).collect();
            let least = |axis: usize| corners.iter().map(|c| c[axis]).fold(f64::INFINITY, f64::min);
            let most = |axis: usize| corners.iter().map(|c| c[axis]).fold(f64::NEG_INFINITY, f64::max);
            let (mut on, mut seen) = (0.0, 0.0);
            for i in 0..90 {
                for j in 0..90 {
                    let (s, t) = ((f64::from(i) + 0.5) / 90.0, (f64::from(j) + 0.5) / 90.0);
                    let p = [least(0) + (most(0) - least(0)) * s, least(1) + (most(1) - least(1)) * t];
                    let alone = top(&bodies[which..=which], &view, p).is_some();
                    on += f64::from(u8::from(alone));
                    seen +=
                        f64::from(u8::from(top(&bodies, &view, p).is_some_and(|(body, _)| body == which)));
                }
            }
            let found = seen_share(&solids, &[which], &view, 24);
            // Both are counts of points: under one part in a hundred each at this number, and so far apart at most.
            const APART: f64 = 0.03;
            assert!(
                (found - seen / on).abs() < APART,
                "body {which}: {found} by points, {} by rays",
                seen / on
            );
        }
    }
}

/// By hand: an arm whose length lies along the frame, raised by 90°, stands up; rolled by 90° its left side points up;
/// with a heading of 90° it points to the left.
#[test]
fn hand_pose_turns_as_the_book_tells_it() {
    let near = |a: Space, b: Space| (0..3).all(|axis| (a[axis] - b[axis]).abs() < 1e-12);
    let pose = |heading, raised, rolled| {
        Pose::turned([0.0; 3], Angle::deg(heading), Angle::deg(raised), Angle::deg(rolled)).axes
    };
    assert!(near(pose(90.0, 0.0, 0.0)[0], [0.0, 1.0, 0.0]));
    assert!(near(pose(0.0, 90.0, 0.0)[0], [0.0, 0.0, 1.0]));
    assert!(near(pose(0.0, 0.0, 90.0)[1], [0.0, 0.0, 1.0]), "left side up");
    assert!(near(pose(0.0, 0.0, 90.0)[2], [0.0, -1.0, 0.0]), "top to the right");
    // Raised first, then turned: an upright arm stays upright.
    assert!(near(pose(45.0, 90.0, 0.0)[0], [0.0, 0.0, 1.0]));
}
