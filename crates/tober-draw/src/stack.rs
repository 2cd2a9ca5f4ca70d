//! One stack per leg, seen from the side.
//!
//! From the bottom: earth, each piece in its true order, the foot, the leg in its sleeve with the pin,
//! or the screw, and the frame. Grain runs along on one layer and shows its ends on the next, so that
//! *crossed* is seen. Nothing is to scale but the order; the drawing says so.

mod leg;

use self::leg::{leg_and_foot, screw, screw_share, shown_holes, sleeve_and_pin};
use crate::door;
use crate::error::DrawError;
use crate::figures::Figures;
use crate::label::{self, Area, Weight};
use crate::mark::Mark;
use crate::sheet::{Face, Sheet, number};
use crate::style::StyleSheet;
use core::fmt::Write as _;
use tober_calc::finding::Standing;
use tober_plan::{Grain, Held, LegPlan, Plan, PlanLayer};

const WIDTH: f64 = 366.0;
/// The middle of the leg.
const MIDDLE: f64 = 136.0;
/// The widest piece.
const WIDEST: f64 = 148.0;
/// Where the earth and the frame begin and end.
const LEFT: f64 = 14.0;
const RIGHT: f64 = 234.0;
/// Where labels of pieces begin, and where every label ends.
const LABELS: f64 = 224.0;
const END: f64 = 360.0;
const FRAME_TOP: f64 = 42.0;
const FRAME_BOTTOM: f64 = 64.0;
/// The least height of a piece.
const THINNEST: f64 = 13.0;
/// How far over the ground the lowest label of a piece stands.
const LAST_LABEL: f64 = 22.0;
/// From hole to hole.
const HOLES: f64 = 20.0;

/// What stands on a drawing of a plan that had to assume something.
const PROVISIONAL: &str = "provisional: rests on assumptions";

/// The stack of one leg, by its place in [`Plan::legs`].
///
/// # Errors
/// If the plan has no such leg, or a figure that cannot be drawn.
///
/// # Not covered
/// True proportions of the pieces: a thin piece is drawn at least 13 px high, a thick one at most 64.
pub fn stack(plan: &Plan, leg: usize, style: StyleSheet) -> Result<String, DrawError> {
    door::check(plan)?;
    let chosen = plan.legs.get(leg).ok_or(DrawError::NoSuchLeg { leg, legs: plan.legs.len() })?;
    let figures = Figures::of(plan);
    let sheet = compose(figures, chosen, &format!("stack{leg}"));
    let (title, description) = words(figures, chosen);
    Ok(sheet.finish(&title, &description, style))
}

/// The stack of a leg alone, for a step that says the rest beside it: no heading, and nothing of loads and findings. The
/// leg need not be one of the plan: a change is drawn before and after. The prefix keeps drawings on one page apart.
///
/// # Errors
/// If the leg has a figure that cannot be drawn.
///
/// # Not covered
/// As [`stack`].
pub fn stack_of_step(
    plan: &Plan,
    leg: &LegPlan,
    prefix: &str,
    style: StyleSheet,
) -> Result<String, DrawError> {
    door::check_leg(leg)?;
    let figures = Figures::of(plan);
    let mut sheet = Sheet::new(prefix, WIDTH, 0.0);
    let bottom = pieces(&mut sheet, figures, leg);
    sheet.set_top(FRAME_TOP - 6.0);
    if figures.provisional() {
        sheet.text(LEFT, bottom + 22.0, Face::bold(15.0), PROVISIONAL);
    }
    let last = if figures.provisional() { bottom + 22.0 } else { bottom };
    sheet.text(LEFT, bottom, Face::plain(15.0).class("sl"), "not to scale");
    sheet.set_height(last + 8.0);
    let (title, description) = words(figures, leg);
    Ok(sheet.finish(&title, &description, style))
}

/// The title and the description.
fn words(figures: Figures, leg: &LegPlan) -> (String, String) {
    let unit = figures.fine_unit();
    let title = format!(
        "{}: {}, {} {} {unit} high, {}.",
        leg.name,
        figures.held_told(&leg.held),
        figures.packing(),
        figures.fine(leg.stack),
        leg.standing.word().to_lowercase()
    );
    let mut from_below = String::new();
    for (place, layer) in leg.layers.iter().enumerate() {
        let before = if place == 0 { "" } else { "; " };
        let thickness = figures.fine_with_unit(layer.thickness);
        let _ = write!(from_below, "{before}{thickness} {}, {}", figures.board(layer), figures.lies(layer));
    }
    if leg.layers.is_empty() {
        from_below.push_str("no board under the foot");
    }
    let ground = match figures.ground(leg) {
        Some(ground) => format!("{ground} {unit} over the survey datum"),
        None => "not known".to_owned(),
    };
    let description = format!(
        "Seen from the side, not to scale. From the ground up: {from_below}. Ground {ground}. Carries {}.",
        figures.load(leg)
    );
    (title, description)
}

/// Heights of the parts of one drawing, from the top down.
struct Levels {
    sleeve_bottom: f64,
    foot_top: f64,
    stack_top: f64,
    ground: f64,
    /// Where the highest label of a piece may stand.
    first_label: f64,
    /// The height of each layer, from the ground up.
    layers: Vec<f64>,
}

/// Labels of many pieces take one line each, of few two.
fn row_height(pieces: usize) -> f64 {
    if pieces > 6 { 23.0 } else { 37.0 }
}

fn levels(leg: &LegPlan) -> Levels {
    let total_mm: f64 = leg.layers.iter().map(|layer| layer.thickness.as_mm().max(0.0)).sum();
    let per_mm = if total_mm > 0.0 { (180.0 / total_mm).min(0.66) } else { 0.66 };
    let layers: Vec<f64> = leg
        .layers
        .iter()
        .map(|layer| (layer.thickness.as_mm().max(0.0) * per_mm).clamp(THINNEST, 64.0))
        .collect();
    let stack: f64 = layers.iter().sum();
    let (sleeve, shank) = match leg.held {
        Held::Hole { number, of, .. } => {
            let (first, last) = shown_holes(number, of);
            let below = number.saturating_sub(first) as f64;
            (12.0 + HOLES * (last - first + 1) as f64, 12.0 + 5.0 * below)
        }
        Held::Screw { extension, travel, .. } => (30.0, 14.0 + 56.0 * screw_share(extension, travel)),
    };
    let sleeve_bottom = FRAME_BOTTOM + sleeve;
    // The labels of the pieces need so much between the leg's last label and the ground.
    let first_label = sleeve_bottom + if matches!(leg.held, Held::Screw { .. }) { 48.0 } else { 10.0 };
    let labels = row_height(leg.layers.len()) * leg.layers.len().saturating_sub(1) as f64;
    let ground = sleeve_bottom + shank + 16.0 + 9.0 + stack;
    let missing = first_label + labels - (ground - LAST_LABEL);
    let foot_top = sleeve_bottom + shank + missing.max(0.0);
    let stack_top = foot_top + 16.0 + 9.0;
    Levels { sleeve_bottom, foot_top, stack_top, ground: stack_top + stack, first_label, layers }
}

pub(crate) fn compose(figures: Figures, leg: &LegPlan, prefix: &str) -> Sheet {
    let mut sheet = Sheet::new(prefix, WIDTH, 0.0);
    heading(&mut sheet, leg);
    let bottom = pieces(&mut sheet, figures, leg);
    let height = foot_lines(&mut sheet, figures, leg, bottom);
    sheet.set_height(height);
    sheet
}

/// The leg, its stack and the ground, with their labels; gives the line of the lowest label.
fn pieces(sheet: &mut Sheet, figures: Figures, leg: &LegPlan) -> f64 {
    let levels = levels(leg);
    earth(sheet, levels.ground);
    leg_and_foot(sheet, leg, &levels);
    match leg.held {
        Held::Hole { number, of, .. } => sleeve_and_pin(sheet, figures, number, of, &levels),
        Held::Screw { extension, travel, .. } => {
            screw(sheet, figures, (extension, travel, leg.held.turns()), &levels);
        }
    }
    frame(sheet);
    layers(sheet, leg, &levels);
    layer_labels(sheet, figures, leg, &levels);
    total(sheet, figures, leg, &levels);
    ground_label(sheet, figures, leg, levels.ground)
}

fn heading(sheet: &mut Sheet, leg: &LegPlan) {
    let word = leg.standing.word();
    let face = Face::bold(15.0).end();
    let width = label::width(word, 15.0, Weight::Bold);
    sheet.text(END, 25.0, face, word);
    sheet.mark(END - width - 24.0, 10.0, 19.0, Mark::of(leg.standing));
    let end = END - width - 34.0;
    sheet.text_within(LEFT, 26.0, Face::bold(18.0), &leg.short, 70.0);
    let after = LEFT + label::width(&leg.short, 18.0, Weight::Bold).min(70.0) + 9.0;
    sheet.text_within(after, 26.0, Face::title(), &capital(&leg.name), end - after);
}

/// A name with a capital at its beginning.
fn capital(name: &str) -> String {
    let mut signs = name.chars();
    signs.next().map_or_else(String::new, |first| first.to_uppercase().chain(signs).collect())
}

fn frame(sheet: &mut Sheet) {
    let rail = Area { x: LEFT, y: FRAME_TOP, width: RIGHT - LEFT, height: FRAME_BOTTOM - FRAME_TOP };
    sheet.rect(rail, "k2 fp");
    sheet.line((LEFT, FRAME_TOP + 5.0), (RIGHT, FRAME_TOP + 5.0), "k1");
    sheet.line((LEFT, FRAME_BOTTOM - 5.0), (RIGHT, FRAME_BOTTOM - 5.0), "k1");
    sheet.text(END, FRAME_TOP + 16.0, Face::plain(15.0).end().class("sl"), "frame");
    let end = END - label::width("frame", 15.0, Weight::Regular) - 6.0;
    sheet.line((RIGHT, FRAME_TOP + 11.0), (end, FRAME_TOP + 11.0), "k1");
}

fn earth(sheet: &mut Sheet, ground: f64) {
    let mut d = String::new();
    let mut x = LEFT + 10.0;
    while x <= RIGHT {
        let _ = write!(d, "M{} {}l-9 11", number(x), number(ground + 1.5));
        x += 11.0;
    }
    sheet.path(&d, "earth");
    sheet.line((LEFT, ground), (RIGHT, ground), "k3");
}

/// How wide each part is drawn: the widest piece takes all the room, the others their share of it.
fn per_mm_across(leg: &LegPlan) -> f64 {
    let foot = leg.foot_length.as_mm().abs();
    let widest = leg.layers.iter().map(extent_mm).fold(foot, f64::max);
    if widest > 0.0 { WIDEST / widest } else { 0.0 }
}

fn foot_width(leg: &LegPlan) -> f64 {
    (leg.foot_length.as_mm().abs() * per_mm_across(leg)).clamp(52.0, WIDEST)
}

/// How far a layer reaches along the frame.
fn extent_mm(layer: &PlanLayer) -> f64 {
    match layer.grain {
        Grain::Along => layer.length.as_mm().abs(),
        Grain::Across => layer.width.as_mm().abs() * layer.side_by_side.max(1) as f64,
    }
}

/// The pieces, from the ground up.
fn layers(sheet: &mut Sheet, leg: &LegPlan, levels: &Levels) {
    let mut bottom = levels.ground;
    for (layer, height) in leg.layers.iter().zip(&levels.layers) {
        let width = layer_width(leg, layer);
        let area = Area { x: MIDDLE - width / 2.0, y: bottom - height, width, height: *height };
        bottom -= height;
        if layer.thin {
            sheet.rect(area, "k2 fk");
            continue;
        }
        sheet.rect(area, "k2 fc");
        match layer.grain {
            Grain::Along => grain_along(sheet, area),
            Grain::Across => end_grain(sheet, area, layer.side_by_side),
        }
    }
}

fn layer_width(leg: &LegPlan, layer: &PlanLayer) -> f64 {
    (extent_mm(layer) * per_mm_across(leg)).clamp(40.0, WIDEST)
}

fn grain_along(sheet: &mut Sheet, area: Area) {
    let waves = (area.width / 22.0).round().max(1.0);
    let half = area.width / waves / 2.0;
    let rows = (area.height / 6.0).floor().max(1.0);
    let mut d = String::new();
    let mut row = 1.0;
    while row <= rows {
        let y = area.y + area.height * row / (rows + 1.0);
        let rise = if row % 2.0 > 0.5 { -2.4 } else { 1.6 };
        let _ = write!(
            d,
            "M{} {}q{} {} {} 0",
            number(area.x),
            number(y),
            number(half),
            number(rise),
            number(2.0 * half)
        );
        let mut wave = 1.0;
        while wave < waves {
            let _ = write!(d, "t{} 0", number(2.0 * half));
            wave += 1.0;
        }
        row += 1.0;
    }
    sheet.path(&d, "grain");
}

/// The ends of boards side by side; a wide board shows several hearts.
fn end_grain(sheet: &mut Sheet, area: Area, boards: usize) {
    let shown = boards.clamp(1, 12) as f64;
    let board = area.width / shown;
    let hearts = (board / 32.0).round().clamp(1.0, 6.0);
    let cell = board / hearts;
    let mut rings = String::new();
    let mut joints = String::new();
    let mut index = 0.0;
    while index < shown * hearts {
        let middle = area.x + cell * (index + 0.5);
        for part in [0.9, 0.58, 0.28] {
            let across = cell / 2.0 * part;
            let up = (area.height - 2.5) * part;
            let _ = write!(
                rings,
                "M{} {}a{} {} 0 0 1 {} 0",
                number(middle - across),
                number(area.bottom() - 1.0),
                number(across),
                number(up),
                number(2.0 * across)
            );
        }
        index += 1.0;
        if index % hearts < 0.5 && index < shown * hearts {
            let _ = write!(
                joints,
                "M{} {}v{}",
                number(area.x + cell * index),
                number(area.y),
                number(area.height)
            );
        }
    }
    sheet.path(&rings, "grain");
    if !joints.is_empty() {
        sheet.path(&joints, "k1");
    }
}

/// Thickness and name of each piece, on a leader with a dot at the piece.
fn layer_labels(sheet: &mut Sheet, figures: Figures, leg: &LegPlan, levels: &Levels) {
    let count = leg.layers.len();
    if count == 0 {
        let y = levels.ground - 8.0;
        let words = "no board under foot";
        sheet.text_within(LABELS - 8.0, y, Face::bold(15.0).class("tox"), words, END - LABELS + 8.0);
        return;
    }
    let row = row_height(count);
    let mut wanted = Vec::new();
    let mut bottom = levels.ground;
    for height in &levels.layers {
        wanted.push(bottom - height / 2.0);
        bottom -= height;
    }
    wanted.reverse();
    let places = label::spread(&wanted, row, levels.first_label, levels.ground - LAST_LABEL);
    for (place, layer) in leg.layers.iter().enumerate() {
        let from_top = count - 1 - place;
        let (at, y) = (wanted[from_top], places[from_top]);
        let dot = MIDDLE + layer_width(leg, layer) / 2.0 - 11.0;
        let class = if layer.thin { "k1 fp" } else { "fk" };
        sheet.circle((dot, at), 2.6, class);
        // A leader is level inside its piece and turns only beside the stack.
        let elbow = MIDDLE + WIDEST / 2.0 + 3.0;
        let edge = MIDDLE + layer_width(leg, layer) / 2.0;
        if layer.thin {
            sheet.line((edge, at), (elbow, at), "k1");
        } else {
            sheet.line((dot, at), (elbow, at), "k1");
        }
        sheet.line((elbow, at), (LABELS - 3.0, y), "k1");
        layer_label(sheet, figures, layer, LabelPlace { y, two_lines: count <= 6 });
    }
}

#[derive(Clone, Copy)]
struct LabelPlace {
    y: f64,
    two_lines: bool,
}

fn layer_label(sheet: &mut Sheet, figures: Figures, layer: &PlanLayer, at: LabelPlace) {
    let thickness = figures.fine(layer.thickness);
    let after = LABELS + label::width(&thickness, 20.0, Weight::Bold) + 5.0;
    if at.two_lines {
        sheet.text(LABELS, at.y, Face::bold(20.0), &thickness);
        sheet.text_within(after, at.y, Face::plain(15.0), &figures.lies_short(layer), END - after);
        let second = Face::plain(14.0).class("sl");
        sheet.text_within(LABELS, at.y + 16.0, second, &figures.board(layer), END - LABELS);
    } else {
        sheet.text(LABELS, at.y + 7.0, Face::bold(20.0), &thickness);
        sheet.text_within(after, at.y + 7.0, Face::plain(15.0), &figures.board(layer), END - after);
    }
}

/// The total of the stack, dimensioned on the left.
fn total(sheet: &mut Sheet, figures: Figures, leg: &LegPlan, levels: &Levels) {
    if leg.layers.is_empty() {
        return;
    }
    let (top, bottom) = (levels.stack_top, levels.ground);
    let words = figures.fine(leg.stack);
    let tall = bottom - top >= 46.0;
    let x = if tall { 32.0 } else { 52.0 };
    let size =
        if label::width(&words, 23.0, Weight::Bold) <= if tall { 52.0 } else { 40.0 } { 23.0 } else { 15.0 };
    let highest = leg.layers.last().map_or(0.0, |layer| layer_width(leg, layer));
    sheet.line((x - 6.0, top), (MIDDLE - highest.max(foot_width(leg)) / 2.0 - 2.0, top), "k1");
    let middle = f64::midpoint(top, bottom);
    if tall {
        sheet.dimension((x, top), (x, bottom));
        let area = Face::bold(size).middle().area(x, middle + size * 0.36, &words).inset(-2.0);
        sheet.rect(area, "fp");
        sheet.text(x, middle + size * 0.36, Face::bold(size).middle(), &words);
    } else {
        for (from, to) in [((x, top - 18.0), (x, top)), ((x, bottom + 18.0), (x, bottom))] {
            sheet.line(from, to, "k1");
            sheet.arrow_head(from, to);
        }
        sheet.text(x - 6.0, middle + size * 0.36, Face::bold(size).end(), &words);
    }
}

/// The height of the ground beside its line; gives the lowest line so far.
fn ground_label(sheet: &mut Sheet, figures: Figures, leg: &LegPlan, ground: f64) -> f64 {
    let baseline = ground + 27.0;
    sheet.line((RIGHT, ground), (END, ground), "rule");
    match figures.ground(leg) {
        Some(height) => {
            let words = format!("ground {height}");
            sheet.text_within(END, baseline, Face::plain(15.0).end(), &words, END - LEFT);
        }
        None => {
            let words = "not known";
            let width = label::width(words, 15.0, Weight::Regular);
            sheet.text(END, baseline, Face::plain(15.0).end(), words);
            sheet.mark(END - width - 22.0, baseline - 14.0, 17.0, Mark::NotKnown);
            let before = END - width - 27.0;
            sheet.text(before, baseline, Face::plain(15.0).end(), "ground");
        }
    }
    baseline
}

/// What the leg carries, what is said of it, and how to read the drawing; gives the drawing's height.
fn foot_lines(sheet: &mut Sheet, figures: Figures, leg: &LegPlan, from: f64) -> f64 {
    let mut y = from + 25.0;
    sheet.line((LEFT, y - 18.0), (END, y - 18.0), "rule");
    sheet.text(LEFT, y, Face::plain(15.0).class("sl"), "carries");
    let indent = LEFT + label::width("carries", 15.0, Weight::Regular) + 8.0;
    match leg.load {
        Some(_) => sheet.text_within(indent, y, Face::bold(15.0), &figures.load(leg), END - indent),
        None => {
            sheet.mark(indent, y - 14.0, 17.0, Mark::of(Standing::NotKnown));
            sheet.text(indent + 22.0, y, Face::bold(15.0), "load not known");
        }
    }
    const REMARKS: usize = 4;
    for remark in leg.remarks.iter().take(REMARKS) {
        y += 23.0;
        sheet.mark(LEFT, y - 14.0, 17.0, Mark::of(remark.standing));
        sheet.text_within(LEFT + 24.0, y, Face::plain(15.0), &remark.text, END - LEFT - 24.0);
    }
    if leg.remarks.len() > REMARKS {
        y += 20.0;
        let more = format!("and {} more, in the table", leg.remarks.len() - REMARKS);
        sheet.text(LEFT + 24.0, y, Face::plain(13.0), &more);
    }
    if figures.provisional() {
        y += 22.0;
        sheet.text(LEFT, y, Face::bold(15.0), PROVISIONAL);
    }
    y += 21.0;
    let words = format!("{}, ground over the survey datum", figures.fine_unit());
    sheet.text(LEFT, y, Face::plain(13.0).class("sl"), &words);
    sheet.text(END, y, Face::plain(13.0).class("sl").end(), "not to scale");
    y + 10.0
}
