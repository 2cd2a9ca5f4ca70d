//! What the ground plan shows to scale: the frame on its packing, the arms, and what lies near.

use crate::figures::Figures;
use crate::ground_plan::Orientation;
use crate::label::{self, Area, Weight};
use crate::place::{self, Placed};
use crate::sheet::{Anchor, Face, Sheet, path};
use tober_plan::{Grain, LegPlan, MapFeature, MapFeatureKind, Plan, Surroundings};
use tober_quantity::{Angle, Length, UnitSet, maths};

type Point = (f64, f64);

/// How places in the frame's axes become places on paper.
#[derive(Clone, Copy, Debug)]
pub(crate) struct View {
    orientation: Orientation,
    /// Pixels for each metre.
    per_m: f64,
    /// What is shown, in metres on paper axes before scaling.
    shown: Area,
}

impl View {
    /// The view that holds the ride and what is near it in the room there is.
    pub(crate) fn of(plan: &Plan, orientation: Orientation, (width, height): (f64, f64)) -> Self {
        let ride = ride_points(plan).into_iter().map(|point| turned(orientation, point));
        let ride = bounds(ride).unwrap_or(Area { x: -2.0, y: -2.0, width: 4.0, height: 4.0 });
        let margin = (0.15 * ride.width.max(ride.height)).max(3.0);
        let (close, farther) = (ride.inset(-margin), ride.inset(-2.0 * margin));
        let mut near = Vec::new();
        for feature in &plan.surroundings.features {
            let points: Vec<Point> =
                feature.points.iter().map(|(x, y)| turned(orientation, (x.as_m(), y.as_m()))).collect();
            if points.iter().any(|point| close.holds_point(*point)) {
                near.extend(points.into_iter().filter(|point| farther.holds_point(*point)));
            }
        }
        let corners = [(ride.x, ride.y), (ride.right(), ride.bottom())];
        let shown = bounds(near.into_iter().chain(corners)).unwrap_or(ride).inset(-0.4);
        let per_m = (width / shown.width).min(height / shown.height).min(56.0);
        Self { orientation, per_m, shown }
    }

    /// How high the picture is.
    pub(crate) fn height(&self) -> f64 {
        (self.shown.height * self.per_m).max(120.0)
    }

    /// A place on paper in pixels, from the middle of the picture.
    pub(crate) fn place(&self, x: Length, y: Length) -> Point {
        let (across, down) = turned(self.orientation, (x.as_m(), y.as_m()));
        let (middle_x, middle_y) = self.shown.middle();
        ((across - middle_x) * self.per_m, (down - middle_y) * self.per_m)
    }
}

/// The frame's axes (front, left) on paper (right, down): the front at the left in landscape, at the
/// top in portrait. Neither is a mirror image.
fn turned(orientation: Orientation, (front, left): Point) -> Point {
    match orientation {
        Orientation::Landscape => (-front, left),
        Orientation::Portrait => (-left, -front),
    }
}

fn bounds(points: impl Iterator<Item = Point>) -> Option<Area> {
    let mut found: Option<(f64, f64, f64, f64)> = None;
    for (x, y) in points {
        let (l, t, r, b) = found.unwrap_or((x, y, x, y));
        found = Some((l.min(x), t.min(y), r.max(x), b.max(y)));
    }
    found.map(|(l, t, r, b)| Area { x: l, y: t, width: r - l, height: b - t })
}

/// Every point that the picture must show, in metres in the frame's axes.
fn ride_points(plan: &Plan) -> Vec<Point> {
    let metres = |(x, y): &(Length, Length)| (x.as_m(), y.as_m());
    let around = &plan.surroundings;
    let mut points: Vec<Point> =
        around.frame.iter().chain(&around.wheels).chain(&around.hitch).map(metres).collect();
    for leg in &plan.legs {
        let half = pad_m(leg);
        for (sign_x, sign_y) in [(-0.5, -0.5), (0.5, 0.5)] {
            points.push((leg.x.as_m() + sign_x * half.0, leg.y.as_m() + sign_y * half.1));
        }
    }
    if let Some(centre) = around.centre {
        let centre = metres(&centre);
        if let Some(reach) = around.reach {
            let reach = reach.as_m().abs();
            points.extend([(centre.0 - reach, centre.1 - reach), (centre.0 + reach, centre.1 + reach)]);
        }
        for (_, angle, length) in &around.arms {
            points.push(arm_end(centre, *angle, *length));
        }
    }
    points.extend(around.passes_over.iter().map(metres));
    points
}

fn arm_end(centre: Point, angle: Angle, length: Length) -> Point {
    let (angle, length) = (angle.as_rad(), length.as_m());
    (centre.0 + length * maths::cos(angle), centre.1 + length * maths::sin(angle))
}

/// How far the lowest layer reaches along and across the frame; the foot itself where there is none.
fn pad_m(leg: &LegPlan) -> Point {
    match leg.layers.first() {
        None => (leg.foot_length.as_m().abs(), leg.foot_width.as_m().abs()),
        Some(layer) => {
            let grain = layer.length.as_m().abs();
            let across = layer.width.as_m().abs() * layer.side_by_side.max(1) as f64;
            match layer.grain {
                Grain::Along => (grain, across),
                Grain::Across => (across, grain),
            }
        }
    }
}

/// The picture in its place on the sheet.
pub(crate) struct Scene<'a> {
    plan: &'a Plan,
    view: View,
    middle: Point,
}

impl<'a> Scene<'a> {
    pub(crate) fn new(plan: &'a Plan, view: View, map: Area) -> Self {
        Self { plan, view, middle: map.middle() }
    }

    fn at(&self, (x, y): (Length, Length)) -> Point {
        let (across, down) = self.view.place(x, y);
        (self.middle.0 + across, self.middle.1 + down)
    }

    fn at_m(&self, (x, y): Point) -> Point {
        self.at((Length::m(x), Length::m(y)))
    }

    /// Where a leg's foot stands.
    pub(crate) fn foot(&self, leg: &LegPlan) -> Point {
        self.at((leg.x, leg.y))
    }

    /// An upright area of so many metres along and across the frame, at least so many pixels.
    fn patch(&self, middle: Point, (along, across): Point, least: f64) -> Area {
        let (width, height) = match self.view.orientation {
            Orientation::Landscape => (along, across),
            Orientation::Portrait => (across, along),
        };
        let (width, height) = ((width * self.view.per_m).max(least), (height * self.view.per_m).max(least));
        Area { x: middle.0 - width / 2.0, y: middle.1 - height / 2.0, width, height }
    }

    /// Draws everything inside a region; gives the labels that found no place, with the place
    /// of what they name where it is in the picture.
    pub(crate) fn draw(
        &self,
        sheet: &mut Sheet,
        figures: Figures,
        region: Area,
        notes: &[Placed],
    ) -> Vec<Unplaced> {
        let around = &self.plan.surroundings;
        sheet.open_clipped("map", region);
        for feature in &around.features {
            self.feature_shape(sheet, feature);
        }
        self.reach_and_arms(sheet, around);
        sheet.close_group();
        self.frame(sheet, around);
        for leg in &self.plan.legs {
            self.packing(sheet, leg);
        }
        for note in notes {
            sheet.path(&path(&note.leader, false), "k1");
            sheet.circle(note.leader[0], 3.0, "fk");
        }
        let mut taken = self.taken(around, notes);
        self.corner_signs(sheet, region, &mut taken);
        self.arm_letters(sheet, around);
        self.labels(sheet, figures, region, taken)
    }

    fn reach_and_arms(&self, sheet: &mut Sheet, around: &Surroundings) {
        let Some(centre) = around.centre else { return };
        if let Some(reach) = around.reach {
            sheet.circle(self.at(centre), reach.as_m().abs() * self.view.per_m, "k1 dash");
        }
        for (_, angle, length) in &around.arms {
            let end = self.at_m(arm_end((centre.0.as_m(), centre.1.as_m()), *angle, *length));
            sheet.line(self.at(centre), end, "k1 dashdot");
        }
    }

    /// The corners of the ground that a wheel passes over.
    fn passed_over(&self, around: &Surroundings) -> Vec<Point> {
        around.passes_over.iter().map(|corner| self.at(*corner)).collect()
    }

    fn arm_letters(&self, sheet: &mut Sheet, around: &Surroundings) {
        for (letter, end) in self.arm_ends(around) {
            sheet.circle(end, 10.0, "k1 fp");
            sheet.text_within(end.0, end.1 + 5.0, Face::plain(14.0).middle(), letter, 18.0);
        }
    }

    fn arm_ends<'b>(&self, around: &'b Surroundings) -> Vec<(&'b str, Point)> {
        let Some(centre) = around.centre else { return Vec::new() };
        let centre = (centre.0.as_m(), centre.1.as_m());
        let end = |(letter, angle, length): &'b (String, Angle, Length)| {
            (letter.as_str(), self.at_m(arm_end(centre, *angle, *length)))
        };
        around.arms.iter().map(end).collect()
    }

    fn frame(&self, sheet: &mut Sheet, around: &Surroundings) {
        let outline: Vec<Point> = around.frame.iter().map(|point| self.at(*point)).collect();
        let frame = bounds(outline.iter().copied());
        if let (Some(hitch), Some(frame)) = (around.hitch, frame) {
            let hitch = self.at(hitch);
            for corner in front_corners(frame, self.view.orientation) {
                sheet.line(corner, hitch, "k2");
            }
            sheet.circle(hitch, 4.0, "k2 fp");
        }
        if let Some(frame) = frame {
            for leg in &self.plan.legs {
                let foot = self.foot(leg);
                let edge = (foot.0.clamp(frame.x, frame.right()), foot.1.clamp(frame.y, frame.bottom()));
                sheet.line(foot, edge, "beam");
                sheet.line(foot, edge, "beamin");
            }
        }
        for wheel in &around.wheels {
            let area = self.patch(self.at(*wheel), (0.75, 0.25), 4.0);
            sheet.rect(area, "fk");
        }
        if outline.len() > 1 {
            sheet.path(&path(&outline, true), "k3 fc");
            for wheel in &around.wheels {
                // Seen through the frame, as the wheels are under it.
                sheet.rect(self.patch(self.at(*wheel), (0.75, 0.25), 4.0), "k1 hid");
            }
        }
        // A wheel is high above the frame, and over the ground on either side.
        if around.passes_over.len() > 2 {
            sheet.path(&path(&self.passed_over(around), true), "k1 dash");
        }
        if let Some(centre) = around.centre {
            let (x, y) = self.at(centre);
            let radius = (0.55 * self.view.per_m).clamp(7.0, 22.0);
            sheet.circle((x, y), radius, "k2 fp");
            sheet.line((x - radius * 0.6, y), (x + radius * 0.6, y), "k1");
            sheet.line((x, y - radius * 0.6), (x, y + radius * 0.6), "k1");
        }
    }

    fn packing(&self, sheet: &mut Sheet, leg: &LegPlan) {
        let foot = self.foot(leg);
        sheet.rect(self.patch(foot, pad_m(leg), 9.0), "k2 fp");
        let plate = (leg.foot_length.as_m().abs(), leg.foot_width.as_m().abs());
        sheet.rect(self.patch(foot, plate, 5.0), "k1 fc");
    }

    /// Lines, rings and squares of what lies near.
    fn feature_shape(&self, sheet: &mut Sheet, feature: &MapFeature) {
        let points: Vec<Point> = feature.points.iter().map(|point| self.at(*point)).collect();
        let (Some(first), Some(last)) = (points.first().copied(), points.last().copied()) else { return };
        let single = points.len() == 1;
        match feature.kind {
            MapFeatureKind::Supply => {
                sheet.rect(Area { x: first.0 - 6.0, y: first.1 - 6.0, width: 12.0, height: 12.0 }, "fk");
            }
            MapFeatureKind::Standing if single => {
                sheet.circle(first, 9.0, "k2 fc");
                sheet.circle(first, 2.6, "fk");
            }
            MapFeatureKind::Standing => sheet.path(&path(&points, points.len() > 2), "k2 fc"),
            MapFeatureKind::Overhead if single => sheet.circle(first, 7.0, "k3 over"),
            MapFeatureKind::Overhead => sheet.path(&path(&points, false), "k3 over"),
            MapFeatureKind::Buried if single => sheet.circle(first, 7.0, "k3 bur"),
            MapFeatureKind::Buried => sheet.path(&path(&points, false), "k3 bur"),
            MapFeatureKind::Way if single => sheet.circle(first, 7.0, "k3 dash"),
            MapFeatureKind::Way => {
                sheet.path(&path(&points, false), "k2 dash");
                sheet.arrow_head(points[points.len() - 2], last);
            }
        }
    }

    /// What labels must keep clear of.
    fn taken(&self, around: &Surroundings, notes: &[Placed]) -> Vec<Area> {
        let mut taken: Vec<Area> = notes.iter().map(|note| note.area.inset(-2.0)).collect();
        for note in notes {
            for pair in note.leader.windows(2) {
                taken.extend(place::along(pair[0], pair[1]));
            }
        }
        for leg in &self.plan.legs {
            taken.push(self.patch(self.foot(leg), pad_m(leg), 9.0).inset(-2.0));
        }
        taken.extend(bounds(around.frame.iter().map(|point| self.at(*point))));
        for (_, end) in self.arm_ends(around) {
            taken.push(Area { x: end.0 - 11.0, y: end.1 - 11.0, width: 22.0, height: 22.0 });
        }
        for feature in &around.features {
            let points: Vec<Point> = feature.points.iter().map(|point| self.at(*point)).collect();
            for pair in points.windows(2) {
                taken.extend(place::along(pair[0], pair[1]));
            }
            for point in points {
                taken.push(Area { x: point.0 - 10.0, y: point.1 - 10.0, width: 20.0, height: 20.0 });
            }
        }
        taken
    }

    /// The scale bar and north, in the first corners that are free.
    fn corner_signs(&self, sheet: &mut Sheet, region: Area, taken: &mut Vec<Area>) {
        let (bar, words) = scale_bar(self.plan.units, self.view.per_m, 90.0);
        let width = bar.max(label::width(&words, 13.0, Weight::Regular)) + 8.0;
        if let Some(area) = corner(region, (width, 28.0), taken) {
            let (x, y) = (area.x + 4.0, area.y + 22.0);
            sheet.line((x, y), (x + bar, y), "k2");
            for end in [x, x + bar] {
                sheet.line((end, y - 4.0), (end, y + 4.0), "k2");
            }
            sheet.text(x + bar / 2.0, y - 7.0, Face::plain(13.0).middle(), &words);
            taken.push(area);
        }
        let Some(north) = self.plan.surroundings.north else { return };
        if let Some(area) = corner(region, (46.0, 46.0), taken) {
            let (x, y) = area.middle();
            let towards =
                turned(self.view.orientation, (maths::cos(north.as_rad()), maths::sin(north.as_rad())));
            let tip = (x + 14.0 * towards.0, y + 14.0 * towards.1);
            let tail = (x - 14.0 * towards.0, y - 14.0 * towards.1);
            sheet.line(tail, tip, "k2");
            sheet.arrow_head(tail, tip);
            let at = (x - 11.0 * towards.1, y + 11.0 * towards.0 + 5.0);
            sheet.text(at.0, at.1, Face::bold(14.0).middle(), "N");
            taken.push(area);
        }
    }

    /// Names of what lies near, the front, and the reach.
    fn labels(
        &self,
        sheet: &mut Sheet,
        figures: Figures,
        region: Area,
        mut taken: Vec<Area>,
    ) -> Vec<Unplaced> {
        let around = &self.plan.surroundings;
        self.front(sheet, around, region, &mut taken);
        let mut unplaced = Vec::new();
        for feature in &around.features {
            let words = self.feature_label(sheet, figures, feature, region, &mut taken);
            unplaced.extend(words);
        }
        if let (Some(centre), Some(reach)) = (around.centre, around.reach) {
            let (x, y) = self.at(centre);
            let radius = reach.as_m().abs() * self.view.per_m;
            let mut rim = Vec::new();
            for eighth in [1.0, 3.0, 5.0, 7.0, 0.5, 3.5, 4.5, 7.5] {
                let angle = eighth * core::f64::consts::FRAC_PI_4;
                rim.push((x + radius * maths::cos(angle), y + radius * maths::sin(angle)));
            }
            let words = format!("reach {}", figures.coarse(reach));
            put(sheet, Face::plain(13.0).class("sl halo"), &words, (&rim, region, 64.0), &mut taken);
        }
        if around.passes_over.len() > 2 {
            let face = Face::plain(13.0).class("sl halo");
            put(sheet, face, "wheel", (&self.passed_over(around), region, 64.0), &mut taken);
        }
        unplaced
    }

    fn front(&self, sheet: &mut Sheet, around: &Surroundings, region: Area, taken: &mut Vec<Area>) {
        let Some(frame) = bounds(around.frame.iter().map(|point| self.at(*point))) else { return };
        let corners = front_corners(frame, self.view.orientation);
        let middle = (f64::midpoint(corners[0].0, corners[1].0), f64::midpoint(corners[0].1, corners[1].1));
        let face = Face::plain(13.0);
        let inside = match self.view.orientation {
            Orientation::Landscape => (middle.0 + 10.0, middle.1 + 4.5, face),
            Orientation::Portrait => (middle.0, middle.1 + 18.0, face.middle()),
        };
        let area = inside.2.area(inside.0, inside.1, "front");
        let clear = around.centre.is_none_or(|centre| {
            let (x, y) = self.at(centre);
            !Area { x: x - 22.0, y: y - 22.0, width: 44.0, height: 44.0 }.overlaps(area)
        });
        let wheels = around.wheels.iter().map(|wheel| self.patch(self.at(*wheel), (0.75, 0.25), 4.0));
        if frame.holds(area.inset(-1.0)) && clear && !wheels.into_iter().any(|wheel| wheel.overlaps(area)) {
            sheet.text(inside.0, inside.1, inside.2, "front");
            taken.push(area);
        } else {
            put(sheet, face.class("halo"), "front", (&[middle], region, 64.0), taken);
        }
    }

    /// Names a feature near what is seen of it, or at the rim with its distance where nothing is.
    fn feature_label(
        &self,
        sheet: &mut Sheet,
        figures: Figures,
        feature: &MapFeature,
        region: Area,
        taken: &mut Vec<Area>,
    ) -> Option<Unplaced> {
        let points: Vec<Point> = feature.points.iter().map(|point| self.at(*point)).collect();
        let seen = seen_points(&points, region);
        let face = Face::bold(13.0).class("halo");
        if !seen.is_empty() {
            let words = label::cut(&feature.name, 13.0, Weight::Bold, 190.0);
            let placed = put(sheet, face, &words, (&seen, region, 64.0), taken);
            return (!placed).then(|| Unplaced { words: feature.name.clone(), at: Some(seen[0]) });
        }
        let (nearest, distance) = feature
            .points
            .iter()
            .map(|(x, y)| (self.at((*x, *y)), maths::hypot(x.as_m(), y.as_m())))
            .min_by(|a, b| a.1.total_cmp(&b.1))?;
        let words = format!("{}, {} off", feature.name, figures.coarse(Length::m(distance)));
        let shown = label::cut(&words, 13.0, Weight::Bold, 190.0);
        let rim = clamp_to(nearest, region.inset(9.0), self.middle);
        for aside in [0.0, 30.0, -30.0, 60.0, -60.0, 90.0, -90.0, 120.0, -120.0] {
            let rim = if region.inset(10.0).holds_point((rim.0, region.middle().1)) {
                (rim.0 + aside, rim.1)
            } else {
                (rim.0, rim.1 + aside)
            };
            let sign = Area { x: rim.0 - 9.0, y: rim.1 - 9.0, width: 18.0, height: 18.0 };
            if !region.holds(sign) || taken.iter().any(|area| area.overlaps(sign)) {
                continue;
            }
            taken.push(sign);
            if put(sheet, face, &shown, (&[rim], region, 21.0), taken) {
                let (dx, dy) = (nearest.0 - self.middle.0, nearest.1 - self.middle.1);
                let length = (dx * dx + dy * dy).sqrt().max(1e-9);
                let (ux, uy) = (8.0 * dx / length, 8.0 * dy / length);
                let (tail, tip) = ((rim.0 - ux, rim.1 - uy), (rim.0 + ux, rim.1 + uy));
                sheet.line(tail, tip, "k2");
                sheet.arrow_head(tail, tip);
                return None;
            }
            taken.pop();
        }
        Some(Unplaced { words, at: None })
    }
}

/// A label for which no free place was found.
pub(crate) struct Unplaced {
    pub words: String,
    /// Where what it names is, if it is in the picture.
    pub at: Option<Point>,
}

/// The two corners of the frame's bounds at its front.
fn front_corners(frame: Area, orientation: Orientation) -> [Point; 2] {
    match orientation {
        Orientation::Landscape => [(frame.x, frame.y), (frame.x, frame.bottom())],
        Orientation::Portrait => [(frame.x, frame.y), (frame.right(), frame.y)],
    }
}

/// Writes a label where there is a free place near its anchors.
fn put(
    sheet: &mut Sheet,
    face: Face,
    words: &str,
    (anchors, region, farthest): (&[Point], Area, f64),
    taken: &mut Vec<Area>,
) -> bool {
    let size = (label::width(words, face.size, face.weight) + 4.0, face.size + 3.0);
    let Some(area) = place::near(anchors, size, region.inset(2.0), farthest, taken) else { return false };
    debug_assert_eq!(face.anchor, Anchor::Start, "an area is taken from its left edge");
    // A label that stands off from what it names is led to it.
    let leader = |anchor: &Point| {
        let edge = (anchor.0.clamp(area.x, area.right()), anchor.1.clamp(area.y, area.bottom()));
        (maths::hypot(edge.0 - anchor.0, edge.1 - anchor.1), *anchor, edge)
    };
    let shortest = anchors.iter().map(leader).min_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((length, from, to)) = shortest.filter(|(length, ..)| *length > 18.0) {
        let start = 8.0 / length;
        let from = (from.0 + (to.0 - from.0) * start, from.1 + (to.1 - from.1) * start);
        sheet.line(from, to, "rule");
        taken.extend(place::along(from, to));
    }
    sheet.text(area.x + 2.0, area.bottom() - 4.0, face, words);
    taken.push(area);
    true
}

/// Points of a line that lie in a region: some on its way, middle first, then its own.
fn seen_points(points: &[Point], region: Area) -> Vec<Point> {
    let mut seen = Vec::new();
    for pair in points.windows(2) {
        for share in [0.5, 0.25, 0.75, 0.1, 0.9] {
            let point =
                (pair[0].0 + (pair[1].0 - pair[0].0) * share, pair[0].1 + (pair[1].1 - pair[0].1) * share);
            if region.holds_point(point) {
                seen.push(point);
            }
        }
    }
    seen.extend(points.iter().copied().filter(|point| region.holds_point(*point)));
    seen
}

/// Where the way from the middle of the picture to a far point leaves a region.
fn clamp_to(point: Point, region: Area, middle: Point) -> Point {
    let (dx, dy) = (point.0 - middle.0, point.1 - middle.1);
    let mut share: f64 = 1.0;
    for (towards, low, high) in [
        (dx, region.x - middle.0, region.right() - middle.0),
        (dy, region.y - middle.1, region.bottom() - middle.1),
    ] {
        if towards > 1e-9 {
            share = share.min(high / towards);
        } else if towards < -1e-9 {
            share = share.min(low / towards);
        }
    }
    (middle.0 + dx * share, middle.1 + dy * share)
}

/// A free corner of a region for a sign of this size.
fn corner(region: Area, (width, height): Point, taken: &[Area]) -> Option<Area> {
    let region = region.inset(3.0);
    let mut drop = 0.0;
    while drop < region.height - height {
        for (x, y) in [
            (region.x, region.bottom() - height - drop),
            (region.right() - width, region.y + drop),
            (region.right() - width, region.bottom() - height - drop),
            (region.x, region.y + drop),
        ] {
            let area = Area { x, y, width, height };
            if !taken.iter().any(|other| other.overlaps(area)) {
                return Some(area);
            }
        }
        drop += 8.0;
    }
    None
}

/// The longest round length that is drawn in at most so many pixels, with its words.
pub(crate) fn scale_bar(units: UnitSet, per_m: f64, most: f64) -> (f64, String) {
    let (metres, symbol) = if units == UnitSet::Us { (0.3048, "ft") } else { (1.0, "m") };
    let mut best = (1.0, 1.0 * metres * per_m);
    for count in [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0] {
        let length = count * metres * per_m;
        if length <= most {
            best = (count, length);
        }
    }
    (best.1, format!("{}\u{202F}{symbol}", best.0))
}
