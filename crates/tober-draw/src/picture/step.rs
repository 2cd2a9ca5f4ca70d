//! The sheet of a step.

use super::choose::Chosen;
use super::ground::{Person, all_outside, comes_out, hatch, kept_clear, people, ring_is_ours, swept};
use super::rope;
use super::scene::{Scene, ends};
use super::told::{Below, Words, below, words};
use super::{key_plan, pair};
use crate::figures::Figures;
use crate::label::{self, Area, Weight};
use crate::place::near;
use crate::scene::scale_bar;
use crate::sheet::{Face, Sheet, path};
use crate::solid::{InTheWay, LineKind, Space, View, plus, visible};
use crate::style::StyleSheet;
use core::fmt::Write as _;
use tober_quantity::{Length, maths};

pub(super) const WIDTH: f64 = 760.0;
pub(super) const RIM: f64 = 18.0;
/// The ride is drawn here.
pub(super) const SCENE: Area = Area { x: RIM, y: 96.0, width: WIDTH - 2.0 * RIM, height: 440.0 };
/// Below the ride, for its scale.
const BELOW_SCENE: f64 = 24.0;
/// The most pixels a metre takes, so that a small ride does not fill the sheet with one part.
const LARGEST: f64 = 90.0;
/// From line to line of the text.
pub(super) const LINE: f64 = 19.0;
/// The height of a person, in metres, for the post under a tag; common practice, no source.
const PERSON: f64 = 1.7;

/// From metres in a view to pixels.
#[derive(Clone, Copy)]
pub(super) struct Onto {
    pub view: View,
    pub scale: f64,
    pub zero: (f64, f64),
}

impl Onto {
    pub(super) fn flat(&self, [x, y]: [f64; 2]) -> (f64, f64) {
        (self.zero.0 + x * self.scale, self.zero.1 - y * self.scale)
    }

    pub(super) fn point(&self, point: Space) -> (f64, f64) {
        self.flat(self.view.flat(point))
    }

    /// So that points fill an area.
    pub(super) fn fitted(view: View, points: &[Space], area: Area, largest: f64) -> Self {
        let (mut least, mut most) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for [x, y] in points.iter().map(|point| view.flat(*point)) {
            least = [least[0].min(x), least[1].min(y)];
            most = [most[0].max(x), most[1].max(y)];
        }
        if least[0] > most[0] {
            (least, most) = ([0.0; 2], [1.0; 2]);
        }
        let scale =
            (area.width / (most[0] - least[0]).max(0.1)).min(area.height / (most[1] - least[1]).max(0.1));
        let scale = scale.min(largest);
        let (middle_x, middle_y) = ((least[0] + most[0]) / 2.0, (least[1] + most[1]) / 2.0);
        let (x, y) = area.middle();
        Self { view, scale, zero: (x - middle_x * scale, y + middle_y * scale) }
    }
}

/// Stretches as one path: a stretch that begins where the last one ended goes on from it.
#[derive(Default)]
pub(super) struct Strokes {
    d: String,
    last: String,
}

impl Strokes {
    pub(super) fn add(&mut self, from: (f64, f64), to: (f64, f64)) {
        let (from, to) = (pair(from), pair(to));
        if from == to {
            return;
        }
        if self.last != from {
            let _ = write!(self.d, "M{from}");
        }
        let _ = write!(self.d, "L{to}");
        self.last = to;
    }

    pub(super) fn onto(self, sheet: &mut Sheet, class: &str) {
        if !self.d.is_empty() {
            sheet.path(&self.d, class);
        }
    }
}

/// The lines of the ride by weight: thin inside, thin outside, and what moves.
pub(super) fn ride(sheet: &mut Sheet, scene: &Scene<'_>, onto: &Onto, heavy: bool) {
    let (mut inner, mut outer, mut hot) = (Strokes::default(), Strokes::default(), Strokes::default());
    for line in visible(&scene.solids, &onto.view) {
        let strokes = match line.kind {
            _ if heavy && scene.hot.contains(&line.body) => &mut hot,
            LineKind::Outline => &mut outer,
            LineKind::Inner | LineKind::Meeting => &mut inner,
        };
        strokes.add(onto.flat(line.from), onto.flat(line.to));
    }
    inner.onto(sheet, "rule");
    outer.onto(sheet, "k1");
    hot.onto(sheet, "k3");
}

/// A pin's place: its number and the point.
pub(super) struct Joint {
    pub numbers: Vec<usize>,
    pub at: Space,
}

/// What is done with fixings: a sentence each, and where, as far as the book tells.
fn joints(scene: &Scene<'_>, way: &InTheWay<'_>) -> (Vec<String>, Vec<Joint>) {
    let mut told = Vec::new();
    let mut joints: Vec<Joint> = Vec::new();
    let step = scene.shown.step;
    let legs: Vec<Space> = scene
        .plan
        .legs
        .iter()
        .filter(|leg| step.sets.contains(&leg.name) || step.takes_away.contains(&leg.name))
        .map(|leg| [leg.x.as_m(), leg.y.as_m(), -0.3])
        .collect();
    let mut last: Option<Space> = None;
    for (number, pin) in step.pins.iter().enumerate() {
        told.push(format!("{} × {}: {} to {}", pin.count, pin.fixing, pin.from, pin.to));
        let fastened =
            scene.fastened(&pin.fixing, &pin.to).or_else(|| scene.fastened(&pin.fixing, &pin.from));
        // A clip without a body of its own goes with the pin before it.
        let at = match (fastened, legs.first()) {
            (Some(_), Some(leg)) => Some(*leg),
            (Some(body), None) => scene.joint(body, way),
            (None, _) => last.or_else(|| legs.first().copied()),
        };
        let Some(at) = at else { continue };
        last = Some(at);
        let same = |joint: &&mut Joint| (0..3).all(|n| (joint.at[n] - at[n]).abs() < 1e-6);
        match joints.iter_mut().find(same) {
            Some(joint) => joint.numbers.push(number + 1),
            None => joints.push(Joint { numbers: vec![number + 1], at }),
        }
    }
    (told, joints)
}

pub(super) fn draw(scene: &Scene<'_>, chosen: &Chosen, style: StyleSheet) -> String {
    let (sheet, words, _) = compose(scene, chosen);
    sheet.finish(&words.title, &words.description, style)
}

/// The sheet, its words, and who stands where.
pub(super) fn compose(scene: &Scene<'_>, chosen: &Chosen) -> (Sheet, Words, Vec<Person>) {
    let mut sheet = Sheet::new(&format!("step{}", scene.shown.number), WIDTH, 0.0);
    heading(&mut sheet, scene);
    let drawn = in_area(&mut sheet, scene, chosen, SCENE, false);
    let Drawn { pins, joints, stand, clear, hatched, rope, .. } = &drawn;
    let clear = clear.as_deref();
    let told = Below { pins, joints, stand, clear, swept: *hatched, rope: *rope };
    let bottom = below(&mut sheet, scene, chosen, &told);
    sheet.set_height(bottom);
    let words = words(scene, chosen, pins, stand, clear);
    (sheet, words, drawn.stand)
}

/// The ride alone, for a card that says the rest in its own words.
pub(super) fn on_a_card(
    scene: &Scene<'_>,
    chosen: &Chosen,
    (width, height): (f64, f64),
    style: StyleSheet,
) -> String {
    let mut sheet = Sheet::new(&format!("card{}", scene.shown.number), width, height);
    let area = Area { x: 2.0, y: 2.0, width: width - 4.0, height: height - 2.0 - BELOW_SCENE };
    let drawn = in_area(&mut sheet, scene, chosen, area, false);
    let words = words(scene, chosen, &drawn.pins, &drawn.stand, drawn.clear.as_deref());
    sheet.finish(&words.title, &words.description, style)
}

/// How wide a picture for a phone is, in pixels: on a phone a letter of it is then about as large as it says.
const PHONE: f64 = 380.0;
/// How high what is drawn of the ride is there.
const PHONE_HIGH: f64 = 300.0;
/// How many times as large as the whole ride would be drawn what a step moves may be, so that it is still seen where it is.
const CLOSER: f64 = 2.6;

/// How many times as large it must at least be for the whole ride not to be shown.
const MUCH: f64 = 1.2;

/// The same for a phone: the part of the ride about what moves, with the words left to the page around it.
pub(super) fn for_phone(scene: &Scene<'_>, chosen: &Chosen, style: StyleSheet) -> String {
    let mut sheet = Sheet::new(&format!("step{}", scene.shown.number), PHONE, PHONE_HIGH + BELOW_SCENE);
    let area = Area { x: 2.0, y: 0.0, width: PHONE - 4.0, height: PHONE_HIGH };
    let drawn = in_area(&mut sheet, scene, chosen, area, true);
    if drawn.closer {
        key_plan::key_plan(&mut sheet, scene, &chosen.view, (2.0, PHONE_HIGH + 4.0));
        sheet.set_height(PHONE_HIGH + key_plan::HIGH + 6.0);
    }
    let words = words(scene, chosen, &drawn.pins, &drawn.stand, drawn.clear.as_deref());
    sheet.finish(&words.title, &words.description, style)
}

/// The scale of a picture that is taken closer: what moves, its fixings and its people, or the whole ride where that is as
/// large.
fn closer(
    scene: &Scene<'_>,
    chosen: &Chosen,
    stand: &[Person],
    joints: &[Joint],
    area: Area,
) -> (Onto, bool) {
    let whole = onto(scene, chosen, stand, None, area);
    let mut points: Vec<Space> = joints.iter().map(|joint| joint.at).collect();
    points.extend(scene.hot.iter().flat_map(|at| scene.solids[*at].corners.iter().copied()));
    points.extend(scene.others().iter().flat_map(|solid| solid.corners.clone()));
    if points.is_empty() {
        return (whole, false);
    }
    for person in stand {
        points.push([person.at[0], person.at[1], scene.ground]);
        points.push([person.at[0], person.at[1], scene.ground + PERSON + 0.4]);
    }
    let near = Onto::fitted(chosen.view, &points, area.inset(32.0), LARGEST.min(whole.scale * CLOSER));
    if near.scale > whole.scale * MUCH { (near, true) } else { (whole, false) }
}

/// What was drawn, for the words.
struct Drawn {
    pins: Vec<String>,
    joints: Vec<Joint>,
    stand: Vec<Person>,
    clear: Option<String>,
    hatched: bool,
    /// Whether it is only a part of the ride.
    closer: bool,
    rope: Option<&'static str>,
}

/// The ride in an area of a sheet, with its scale below; `close`: only the part about what moves.
fn in_area(sheet: &mut Sheet, scene: &Scene<'_>, chosen: &Chosen, area: Area, close: bool) -> Drawn {
    let figures = Figures::of(scene.plan);
    let (pins, joints) = joints(scene, &InTheWay::of(&scene.solids, &chosen.view));
    let patches = swept(scene);
    let works: Vec<Space> = if joints.is_empty() {
        scene.movers().iter().map(|(at, _)| scene.solids[*at].middle()).collect()
    } else {
        joints.iter().map(|joint| joint.at).collect()
    };
    let run = rope::run(scene);
    let clear = kept_clear(scene);
    let stand = people(scene, &works, &patches, (&chosen.view, run.as_ref()));
    let (onto, closer) = if close {
        closer(scene, chosen, &stand, &joints, area)
    } else {
        (onto(scene, chosen, &stand, clear, area), false)
    };
    let way = InTheWay::of(&scene.solids, &onto.view);
    let mut taken: Vec<Area> = Vec::new();
    if close {
        sheet.open_clipped("near", area);
    }
    let hatched = on_the_ground(sheet, (scene, area), &onto, &way, &patches, clear);
    ride(sheet, scene, &onto, true);
    let mut old = Strokes::default();
    for solid in scene.others() {
        way.outline(&solid, |from, to| old.add(onto.flat(from), onto.flat(to)));
    }
    old.onto(sheet, "k1 dash");
    arrows(sheet, scene, &onto, &mut taken);
    if let Some(run) = &run {
        rope::draw(sheet, run, &onto, &mut taken);
    }
    for person in &stand {
        standing(sheet, &onto, scene.ground, person, &mut taken);
    }
    if let Some(run) = &run {
        rope::label(sheet, (run, area), &onto, &mut taken);
    }
    if let Some(clear) = clear {
        keep_clear(sheet, (scene, area), &onto, clear, &mut taken);
    }
    for joint in &joints {
        balloon(sheet, &joint.numbers, onto.point(joint.at), area, &mut taken);
    }
    if close {
        sheet.close_group();
    }
    scale(sheet, &onto, figures, if close { area.inset(8.0) } else { area });
    let past = clear.filter(|_| all_outside(scene)).and_then(|clear| comes_out(&patches, clear));
    let clear = clear.map(|(_, radius)| {
        let what = scene.shown.step.keep_clear.as_deref().unwrap_or("the ground marked");
        let ours = if ring_is_ours(scene) {
            "; the book gives no ring: this one is worked from what moves and where its rope runs"
        } else {
            ""
        };
        let past = past.map_or(String::new(), |past| {
            format!("; what moves comes out to {}, past that ring", figures.coarse(Length::m(past)))
        });
        format!("{what}, {} round the middle{ours}{past}", figures.coarse(Length::m(radius)))
    });
    Drawn { pins, joints, stand, clear, hatched, closer, rope: run.as_ref().map(rope::words) }
}

fn heading(sheet: &mut Sheet, scene: &Scene<'_>) {
    let (x, y) = (RIM + 27.0, 46.0);
    sheet.circle((x, y), 26.0, "k2 fp");
    sheet.line((x - 26.0, y + 4.0), (x + 26.0, y + 4.0), "k1");
    sheet.text(x, y - 2.0, Face::bold(18.0).middle(), &scene.shown.number.to_string());
    sheet.text(x, y + 19.0, Face::plain(13.0).middle(), &scene.shown.of.to_string());
    let room = WIDTH - RIM * 2.0 - 72.0;
    sheet.text_within(RIM + 68.0, 42.0, Face::title(), &scene.shown.step.title, room);
    let invented = if scene.plan.invented { " Invented." } else { "" };
    let line = format!("{}, {}.{invented}", scene.plan.ride, scene.shown.step.phase.word());
    sheet.text_within(RIM + 68.0, 66.0, Face::plain(14.0).class("sl"), &line, room);
}

/// The scale, so that the ride, its old places, people and the near part of what is kept clear are on the sheet.
pub(super) fn onto(
    scene: &Scene<'_>,
    chosen: &Chosen,
    stand: &[Person],
    clear: Option<([f64; 2], f64)>,
    area: Area,
) -> Onto {
    let mut points: Vec<Space> =
        scene.solids.iter().flat_map(|solid| solid.corners.iter().copied()).collect();
    points.extend(scene.others().iter().flat_map(|solid| solid.corners.clone()));
    for person in stand {
        points.push([person.at[0], person.at[1], scene.ground]);
        points.push([person.at[0], person.at[1], scene.ground + PERSON + 0.4]);
    }
    if let Some((middle, radius)) = clear {
        points.extend(ring(middle, radius, scene.ground));
    }
    Onto::fitted(chosen.view, &points, area.inset(10.0), LARGEST)
}

/// A circle on the ground.
fn ring(middle: [f64; 2], radius: f64, ground: f64) -> Vec<Space> {
    const SIDES: usize = 60;
    (0..=SIDES)
        .map(|side| {
            let angle = core::f64::consts::TAU * (side % SIDES) as f64 / SIDES as f64;
            [middle[0] + radius * maths::cos(angle), middle[1] + radius * maths::sin(angle), ground]
        })
        .collect()
}

fn on_the_ground(
    sheet: &mut Sheet,
    (scene, area): (&Scene<'_>, Area),
    onto: &Onto,
    way: &InTheWay<'_>,
    patches: &[Vec<[f64; 2]>],
    clear: Option<([f64; 2], f64)>,
) -> bool {
    let ground = scene.ground;
    let (mut least, mut most) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for corner in scene.solids.iter().flat_map(|solid| &solid.corners) {
        least = [least[0].min(corner[0] - 0.4), least[1].min(corner[1] - 0.4)];
        most = [most[0].max(corner[0] + 0.4), most[1].max(corner[1] + 0.4)];
    }
    let corners = [[least[0], least[1]], [most[0], least[1]], [most[0], most[1]], [least[0], most[1]]];
    let mut edge = Strokes::default();
    for (at, [x, y]) in corners.iter().enumerate() {
        let [nx, ny] = corners[(at + 1) % 4];
        way.seen([*x, *y, ground], [nx, ny, ground], None, |a, b| edge.add(onto.flat(a), onto.flat(b)));
    }
    sheet.open_clipped("ground", area);
    edge.onto(sheet, "rule dashdot");
    sheet.close_group();
    let mut strokes = Strokes::default();
    for [[x, y], [nx, ny]] in hatch(patches) {
        way.seen([x, y, ground], [nx, ny, ground], None, |a, b| strokes.add(onto.flat(a), onto.flat(b)));
    }
    let hatched = !strokes.d.is_empty();
    strokes.onto(sheet, "rule");
    let Some((middle, radius)) = clear else { return hatched };
    let rim = ring(middle, radius, ground);
    let inner = ring(middle, (radius - 0.45).max(0.0), ground);
    let mut strokes = Strokes::default();
    for pair in rim.windows(2) {
        way.seen(pair[0], pair[1], None, |a, b| strokes.add(onto.flat(a), onto.flat(b)));
    }
    // Short strokes lean inwards from the rim: the side to keep off.
    for (at, from) in rim.iter().enumerate().skip(1) {
        let to = inner[if at + 1 < inner.len() { at + 1 } else { 1 }];
        way.seen(*from, to, None, |a, b| strokes.add(onto.flat(a), onto.flat(b)));
    }
    strokes.onto(sheet, "clip");
    hatched
}

/// The words of the ground that is kept clear, where its rim is free.
fn keep_clear(
    sheet: &mut Sheet,
    (scene, room): (&Scene<'_>, Area),
    onto: &Onto,
    clear: ([f64; 2], f64),
    taken: &mut Vec<Area>,
) {
    let words = if all_outside(scene) { "keep clear" } else { "others keep clear" };
    let size = (label::width(words, 14.0, Weight::Bold), 15.0);
    let mut rim: Vec<(f64, f64)> =
        ring(clear.0, clear.1, scene.ground).iter().map(|point| onto.point(*point)).collect();
    rim.sort_by(|a, b| b.1.total_cmp(&a.1));
    if let Some(area) =
        rim.iter().find_map(|at| near(&[(at.0, at.1 - 0.3 * onto.scale - 14.0)], size, room, 21.0, taken))
    {
        sheet.text(area.x, area.y + 12.0, Face::bold(14.0).class("tox halo"), words);
        taken.push(area);
    }
}

/// The arrows from old to new, each along its true way.
fn arrows(sheet: &mut Sheet, scene: &Scene<'_>, onto: &Onto, taken: &mut Vec<Area>) {
    const MOST: usize = 4;
    // What is carried goes as its people walk: only from where to where is drawn.
    let by_hand = scene.by_hand();
    for (solid, screw) in scene.movers().into_iter().take(MOST) {
        // The end that goes farthest.
        let body = &scene.solids[solid];
        let mut points = ends(body);
        points.push(body.middle());
        if by_hand {
            points = vec![body.middle()];
        }
        let far = points.into_iter().max_by(|a, b| screw.way(*a).total_cmp(&screw.way(*b)));
        let Some(tip) = far.filter(|tip| screw.way(*tip) > 0.1) else { continue };
        let steps = if screw.turn > 0.0 && !by_hand { 20 } else { 1 };
        let curve: Vec<(f64, f64)> =
            (0..=steps).map(|at| onto.point(screw.at(tip, f64::from(at) / f64::from(steps)))).collect();
        let (first, last) = (curve[0], curve[curve.len() - 1]);
        let long = ((last.0 - first.0) * (last.0 - first.0) + (last.1 - first.1) * (last.1 - first.1)).sqrt();
        if long < 6.0 && screw.turn < 0.2 {
            continue;
        }
        let before = curve
            .iter()
            .rev()
            .find(|p| (p.0 - last.0).abs() + (p.1 - last.1).abs() > 12.0)
            .copied()
            .unwrap_or(first);
        let d = (last.0 - before.0, last.1 - before.1);
        let n = (d.0 * d.0 + d.1 * d.1).sqrt().max(1e-9);
        let (ux, uy) = (d.0 / n, d.1 / n);
        let back = (last.0 - 15.0 * ux, last.1 - 15.0 * uy);
        let mut shaft: Vec<(f64, f64)> = curve
            .iter()
            .copied()
            .filter(|p| (p.0 - last.0) * ux + (p.1 - last.1) * uy < -14.0 || curve.len() == 2)
            .collect();
        if curve.len() == 2 {
            shaft = vec![first];
        }
        shaft.push(back);
        sheet.path(&path(&shaft, false), "k4");
        let head = [last, (back.0 - 7.0 * uy, back.1 + 7.0 * ux), (back.0 + 7.0 * uy, back.1 - 7.0 * ux)];
        sheet.path(&path(&head, true), "fk");
        taken.extend(shaft.windows(2).flat_map(|pair| crate::place::along(pair[0], pair[1])));
    }
}

/// A person: a ring on the ground, a post as high as a person, and a tag.
fn standing(sheet: &mut Sheet, onto: &Onto, ground: f64, person: &Person, taken: &mut Vec<Area>) {
    let foot = [person.at[0], person.at[1], ground];
    let circle: Vec<(f64, f64)> =
        ring(person.at, 0.32, ground).iter().map(|point| onto.point(*point)).collect();
    let (x, y) = onto.point(foot);
    let (_, top) = onto.point(plus(foot, [0.0, 0.0, 1.0], PERSON));
    sheet.path(&path(&circle[..circle.len() - 1], true), "k2 fp");
    sheet.line((x, y), (x, top), "k2");
    let tag = Area { x: x - 14.0, y: top - 22.0, width: 28.0, height: 23.0 };
    let shape = [
        (tag.x, tag.bottom()),
        (tag.x, tag.y + 6.0),
        (tag.x + 6.0, tag.y),
        (tag.right() - 6.0, tag.y),
        (tag.right(), tag.y + 6.0),
        (tag.right(), tag.bottom()),
    ];
    sheet.path(&path(&shape, true), "k2 fp");
    sheet.text(x, top - 4.0, Face::bold(14.0).middle(), person.tag);
    taken.push(tag);
    taken.extend(crate::place::along((x, y), (x, top)));
}

/// Numbers in balloons on a leader with a dot at the place.
pub(super) fn balloon(
    sheet: &mut Sheet,
    numbers: &[usize],
    at: (f64, f64),
    region: Area,
    taken: &mut Vec<Area>,
) {
    const RADIUS: f64 = 11.0;
    let size = (RADIUS * 2.0 * numbers.len().min(4) as f64, RADIUS * 2.0);
    let around: Vec<(f64, f64)> =
        [(0.0, -40.0), (40.0, -28.0), (-40.0, -28.0), (0.0, 44.0), (44.0, 28.0), (-44.0, 28.0)]
            .iter()
            .map(|(dx, dy)| (at.0 + dx, at.1 + dy))
            .collect();
    let Some(area) = near(&around, size, region, 46.0, taken) else { return };
    let (x, y) = area.middle();
    sheet.line(at, (x, y), "k1");
    sheet.circle(at, 3.0, "fk");
    for (place, number) in numbers.iter().take(4).enumerate() {
        let x = area.x + RADIUS * (2 * place + 1) as f64;
        sheet.circle((x, y), RADIUS, "k2 fp");
        sheet.text(x, y + 5.0, Face::bold(14.0).middle(), &number.to_string());
    }
    taken.push(area);
    taken.extend(crate::place::along(at, (x, y)));
}

fn scale(sheet: &mut Sheet, onto: &Onto, figures: Figures, area: Area) {
    let (long, said) = scale_bar(figures.units(), onto.scale, 130.0);
    let (x, y) = (area.right() - long, area.bottom() + 14.0);
    sheet.line((x, y), (x + long, y), "k2");
    for end in [x, x + long] {
        sheet.line((end, y - 4.0), (end, y + 4.0), "k2");
    }
    let words = format!("{said} level, across the sheet");
    sheet.text(x - 8.0, y + 5.0, Face::plain(13.0).end(), &words);
}
