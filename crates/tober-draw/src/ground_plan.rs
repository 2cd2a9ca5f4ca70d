//! The ground plan: where the ride stands, what lies around it, and a boxed note for each leg.
//!
//! The picture is to scale; the notes stand outside it in two banks. Portrait has the front at the top,
//! landscape at the left: two drawings, not one shrunk.

use crate::door;
use crate::error::DrawError;
use crate::figures::Figures;
use crate::label::{self, Area, Weight};
use crate::mark::Mark;
use crate::note::{self, NoteForm};
use crate::place::{Bank, Placed, Side, Wish};
use crate::scene::{Scene, View};
use crate::sheet::{Face, Sheet};
use crate::style::StyleSheet;
use core::fmt::Write as _;
use std::collections::BTreeSet;
use tober_plan::{MapFeatureKind, Plan};

/// Which way up a sheet is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Orientation {
    /// For a phone or an upright page: the front of the ride at the top.
    Portrait,
    /// For a laptop or a page on its side: the front of the ride at the left.
    Landscape,
}

/// Between the banks and the picture.
const FAN: f64 = 22.0;
/// The band of the zone frame.
const BAND: f64 = 17.0;
const RIM: f64 = 3.0;
const PADDING: f64 = 6.0;

/// The ground plan. The leg in hand, by its place in [`Plan::legs`], has the heavy frame.
///
/// # Errors
/// If the plan has a figure that cannot be drawn, or no such leg.
///
/// # Not covered
/// Labels for which no free place is found stand in a line under the picture instead of in it.
pub fn ground_plan(
    plan: &Plan,
    orientation: Orientation,
    in_hand: Option<usize>,
    style: StyleSheet,
) -> Result<String, DrawError> {
    door::check(plan)?;
    if let Some(leg) = in_hand.filter(|leg| *leg >= plan.legs.len()) {
        return Err(DrawError::NoSuchLeg { leg, legs: plan.legs.len() });
    }
    let (sheet, _) = compose(plan, orientation, in_hand);
    let (title, description) = words(plan);
    Ok(sheet.finish(&title, &description, style))
}

fn words(plan: &Plan) -> (String, String) {
    let figures = Figures::of(plan);
    let title = format!(
        "Ground plan of {} on {}: {} legs with the {} under each, {}.",
        plan.ride,
        plan.pitch,
        plan.legs.len(),
        figures.packing(),
        plan.standing.word().to_lowercase()
    );
    let mut description = String::from("To scale.");
    for leg in &plan.legs {
        let _ = write!(
            description,
            " {}: {}, {} {} of {}, {}.",
            leg.name,
            figures.held_told(&leg.held),
            figures.fine_with_unit(leg.stack),
            figures.packing(),
            figures.pieces_by_name(leg),
            leg.standing.word().to_lowercase()
        );
    }
    let near: Vec<&str> = plan.surroundings.features.iter().map(|feature| feature.name.as_str()).collect();
    if !near.is_empty() {
        let _ = write!(description, " Near: {}.", near.join("; "));
    }
    (title, description)
}

/// The sheet and the notes on it, for the tests.
pub(crate) fn compose(plan: &Plan, orientation: Orientation, in_hand: Option<usize>) -> (Sheet, Vec<Placed>) {
    let figures = Figures::of(plan);
    let (width, prefix) = match orientation {
        Orientation::Portrait => (366.0, "planp"),
        Orientation::Landscape => (760.0, "planl"),
    };
    let mut sheet = Sheet::new(prefix, width, 0.0);
    let frame_top = heading(&mut sheet, plan, orientation, width);
    let inner_left = RIM + BAND + PADDING;
    let inner_right = width - inner_left;
    let top = frame_top + BAND + PADDING;
    let most_high = if orientation == Orientation::Portrait { 430.0 } else { 300.0 };
    let view = View::of(plan, orientation, (inner_right - inner_left, most_high));
    let (above, below) = split(plan, &view);
    let mut bank = Bank {
        side: Side::Above,
        left: inner_left,
        right: inner_right,
        edge: 0.0,
        columns: if orientation == Orientation::Portrait { 2 } else { 5 },
        widest: if orientation == Orientation::Portrait { 154.0 } else { 146.0 },
        height: 0.0,
    };
    let narrow = bank.note_width(above.len()).min(bank.note_width(below.len()));
    let form = NoteForm::of(figures, &plan.legs, narrow);
    bank.height = form.height();
    let depth_above = bank.depth(bank.rows(above.len()));
    let depth_below = bank.depth(bank.rows(below.len()));
    let map_top = top + depth_above + FAN;
    let map = Area { x: inner_left, y: map_top, width: inner_right - inner_left, height: view.height() };
    let scene = Scene::new(plan, view, map);
    let wish = |index: &usize| Wish { index: *index, at: scene.foot(&plan.legs[*index]) };
    bank.edge = map_top - FAN;
    let mut notes = bank.place(&above.iter().map(wish).collect::<Vec<_>>());
    bank.side = Side::Below;
    bank.edge = map.bottom() + FAN;
    notes.extend(bank.place(&below.iter().map(wish).collect::<Vec<_>>()));
    let bottom = map.bottom() + FAN + depth_below + PADDING;
    let outer = Area { x: RIM, y: frame_top, width: width - 2.0 * RIM, height: bottom + BAND - frame_top };
    zone_frame(&mut sheet, orientation, outer);
    let region =
        Area { x: map.x, y: map.y - FAN + 3.0, width: map.width, height: map.height + 2.0 * FAN - 6.0 };
    let unplaced = scene.draw(&mut sheet, figures, region, &notes);
    for placed in &notes {
        let weight = if in_hand == Some(placed.index) { "k4 fp" } else { "k2 fp" };
        sheet.rect(placed.area, weight);
        note::draw(&mut sheet, figures, &plan.legs[placed.index], placed.area, form);
    }
    let unplaced: Vec<String> = unplaced
        .into_iter()
        .map(|label| match label.at {
            Some(at) => format!("{}: {}", zone(orientation, outer.inset(BAND), at), label.words),
            None => label.words,
        })
        .collect();
    let height = key(&mut sheet, plan, (bottom + BAND, width), &unplaced, form);
    sheet.set_height(height);
    (sheet, notes)
}

/// The names of ride and pitch and the word for the whole; gives where the zone frame begins.
fn heading(sheet: &mut Sheet, plan: &Plan, orientation: Orientation, width: f64) -> f64 {
    let word = plan.standing.word();
    let (left, end) = (RIM + 2.0, width - RIM - 2.0);
    sheet.text(end, 24.0, Face::bold(15.0).end(), word);
    let mark = end - label::width(word, 15.0, Weight::Bold) - 24.0;
    sheet.mark(mark, 9.0, 19.0, Mark::of(plan.standing));
    let pitch = Face::plain(15.0).class("sl");
    if orientation == Orientation::Portrait {
        sheet.text_within(left, 25.0, Face::title(), &plan.ride, mark - left - 10.0);
        sheet.text_within(left, 46.0, pitch, &plan.pitch, end - left);
        return 56.0;
    }
    let room = (mark - left) * 0.62;
    sheet.text_within(left, 25.0, Face::title(), &plan.ride, room);
    let ride = label::cut(&plan.ride, 20.0, Weight::Slab, room);
    let after = left + label::width(&ride, 20.0, Weight::Slab) + 8.0;
    sheet.text_within(after, 25.0, pitch, &plan.pitch, mark - after - 10.0);
    36.0
}

/// Which legs have their notes above the picture and which below, so that leaders are short and the
/// banks alike.
fn split(plan: &Plan, view: &View) -> (Vec<usize>, Vec<usize>) {
    let heights: Vec<f64> = plan.legs.iter().map(|leg| view.place(leg.x, leg.y).1).collect();
    let count = heights.len();
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|a, b| heights[*a].total_cmp(&heights[*b]).then(a.cmp(b)));
    // The cut that parts the legs most evenly, but never two that stand level with each other.
    let level = |cut: usize| cut > 0 && cut < count && heights[order[cut]] - heights[order[cut - 1]] < 1.0;
    let cut =
        (0..=count).filter(|cut| !level(*cut)).min_by_key(|cut| (cut.abs_diff(count / 2), *cut)).unwrap_or(0);
    let cut = if cut.abs_diff(count / 2) > count / 4 + 1 { count / 2 } else { cut };
    let below = order.split_off(cut);
    (order, below)
}

/// How many zones across, and the letters of those down.
fn zones(orientation: Orientation) -> (u32, &'static [&'static str]) {
    match orientation {
        Orientation::Portrait => (4, &["P", "Q", "R", "S", "T", "U"]),
        Orientation::Landscape => (6, &["P", "Q", "R", "S"]),
    }
}

/// The zone of a place, as it is said over the radio: "4S".
fn zone(orientation: Orientation, inner: Area, (x, y): (f64, f64)) -> String {
    let (columns, letters) = zones(orientation);
    let across = ((x - inner.x) / inner.width * f64::from(columns)).floor();
    let number = (1..columns).rfind(|column| across >= f64::from(*column)).map_or(1, |column| column + 1);
    let down = (y - inner.y) / inner.height * letters.len() as f64;
    let row = (1..letters.len()).rfind(|row| down >= *row as f64).unwrap_or(0);
    format!("{number}{}", letters[row])
}

/// The frame of zones: numbers across, letters from P down, outside every plan, so that a place can be
/// said over the radio.
fn zone_frame(sheet: &mut Sheet, orientation: Orientation, outer: Area) {
    let inner = outer.inset(BAND);
    sheet.rect(outer, "k2 none");
    sheet.rect(inner, "k1 none");
    let (columns, letters) = zones(orientation);
    let face = Face::plain(13.0).middle().class("sl");
    let step = inner.width / f64::from(columns);
    for column in 0..columns {
        let x = inner.x + step * f64::from(column);
        for y in [outer.y, inner.bottom()] {
            sheet.text(x + step / 2.0, y + 13.0, face, &(column + 1).to_string());
            if column > 0 {
                sheet.line((x, y), (x, y + BAND), "k1");
            }
        }
    }
    let step = inner.height / letters.len() as f64;
    for (row, letter) in letters.iter().enumerate() {
        let y = inner.y + step * row as f64;
        for x in [outer.x, inner.right()] {
            sheet.text(x + BAND / 2.0, y + step / 2.0 + 4.5, face, letter);
            if row > 0 {
                sheet.line((x, y), (x + BAND, y), "k1");
            }
        }
    }
}

/// Marks with their words, kinds of lines, labels that found no place, and how to read the figures;
/// gives the drawing's height.
fn key(sheet: &mut Sheet, plan: &Plan, (top, width): (f64, f64), unplaced: &[String], form: NoteForm) -> f64 {
    let figures = Figures::of(plan);
    let mut flow = Flow { sheet, left: RIM + 2.0, right: width - RIM - 2.0, x: RIM + 2.0, y: top + 22.0 };
    let standings: BTreeSet<_> = plan.legs.iter().map(|leg| leg.standing).collect();
    for standing in standings {
        flow.marked(Mark::of(standing), standing.word());
    }
    let kinds = |kind| plan.surroundings.features.iter().any(|feature| feature.kind == kind);
    for (kind, class, word) in [
        (MapFeatureKind::Overhead, "k3 over", "overhead"),
        (MapFeatureKind::Buried, "k3 bur", "in the ground"),
    ] {
        if kinds(kind) {
            flow.lined(class, word);
        }
    }
    for assumed in &plan.assumed {
        flow.phrase(&format!("provisional, assumed: {assumed}"));
    }
    for label in unplaced {
        flow.phrase(label);
    }
    let ground = if form.ground_word == "gr" { "gr: ground" } else { "ground" };
    flow.phrase(&format!("{}, {ground} over the survey datum", figures.fine_unit()));
    let pieces = if form.by_name { "pieces by name" } else { "pieces by thickness" };
    flow.phrase(&format!("{pieces}, from the ground up"));
    flow.phrase(&format!("plan {}", plan.name));
    if plan.invented {
        flow.phrase("figures invented");
    }
    flow.y + 10.0
}

/// Short items set one after the other in lines.
struct Flow<'a> {
    sheet: &'a mut Sheet,
    left: f64,
    right: f64,
    x: f64,
    y: f64,
}

impl Flow<'_> {
    fn take(&mut self, width: f64) -> f64 {
        if self.x > self.left && self.x + width > self.right {
            self.x = self.left;
            self.y += 21.0;
        }
        let x = self.x;
        self.x += width + 16.0;
        x
    }
    fn marked(&mut self, mark: Mark, word: &str) {
        let x = self.take(22.0 + label::width(word, 14.0, Weight::Regular));
        self.sheet.mark(x, self.y - 13.5, 17.0, mark);
        self.sheet.text(x + 22.0, self.y, Face::plain(14.0), word);
    }
    fn lined(&mut self, class: &str, word: &str) {
        let x = self.take(42.0 + label::width(word, 14.0, Weight::Regular));
        self.sheet.line((x + 2.0, self.y - 5.0), (x + 36.0, self.y - 5.0), class);
        self.sheet.text(x + 42.0, self.y, Face::plain(14.0), word);
    }
    fn phrase(&mut self, words: &str) {
        let room = self.right - self.left;
        let x = self.take(label::width(words, 13.0, Weight::Regular).min(room));
        self.sheet.text_within(x, self.y, Face::plain(13.0).class("sl"), words, room);
    }
}

#[cfg(test)]
mod tests;
