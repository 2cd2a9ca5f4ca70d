//! The ground along one side of the frame, with the legs of that side, heights exaggerated.
//!
//! The front is at the left on both sides, as on the landscape ground plan. The ground is known where a
//! foot stands; between two feet it is only joined, and drawn dashed.

use crate::door;
use crate::error::DrawError;
use crate::figures::Figures;
use crate::label::{self, Area, Weight};
use crate::mark::Mark;
use crate::sheet::{Face, Sheet, number, path};
use crate::style::StyleSheet;
use core::fmt::Write as _;
use tober_plan::{LegPlan, Plan};

/// A side of the ride, seen from behind with the face to the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RideSide {
    /// The left.
    Left,
    /// The right.
    Right,
}

impl RideSide {
    fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
    /// A leg within a centimetre of the middle line belongs to both sides.
    fn holds(self, leg: &LegPlan) -> bool {
        match self {
            Self::Left => leg.y.as_mm() >= -10.0,
            Self::Right => leg.y.as_mm() <= 10.0,
        }
    }
}

const WIDTH: f64 = 366.0;
const LEFT: f64 = 44.0;
const RIGHT: f64 = 322.0;
const RAIL: f64 = 46.0;
/// The highest ground or stack, and the lowest ground.
const HIGHEST: f64 = 84.0;
const LOWEST: f64 = 170.0;
/// By how much heights may be exaggerated.
const FACTORS: [f64; 8] = [1.0, 2.0, 3.0, 5.0, 8.0, 10.0, 20.0, 40.0];

/// The ground along one side.
///
/// # Errors
/// If the plan has a figure that cannot be drawn.
///
/// # Not covered
/// The ground between the feet: what was surveyed there is not part of a plan.
pub fn side_strip(plan: &Plan, side: RideSide, style: StyleSheet) -> Result<String, DrawError> {
    door::check(plan)?;
    let figures = Figures::of(plan);
    let legs = legs_of(plan, side);
    let scale = Scale::of(&legs);
    let (title, description) = words(figures, &legs, side, scale);
    Ok(compose(figures, &legs, side, scale).finish(&title, &description, style))
}

/// The legs of a side from the front to the rear.
fn legs_of(plan: &Plan, side: RideSide) -> Vec<&LegPlan> {
    let mut legs: Vec<&LegPlan> = plan.legs.iter().filter(|leg| side.holds(leg)).collect();
    legs.sort_by(|a, b| b.x.as_m().total_cmp(&a.x.as_m()).then(a.order.cmp(&b.order)));
    legs
}

fn words(figures: Figures, legs: &[&LegPlan], side: RideSide, scale: Scale) -> (String, String) {
    let side = side.word();
    let factor = number(scale.factor);
    let title = format!("Ground along the {side} side of the frame, heights {factor} times exaggerated.");
    let mut description = String::from("From the front to the rear:");
    for leg in legs {
        let ground = figures.ground(leg).unwrap_or_else(|| "not known".to_owned());
        let stack = figures.fine_with_unit(leg.stack);
        let _ = write!(description, " {}: ground {ground}, {} {stack};", leg.name, figures.packing());
    }
    description.pop();
    description.push('.');
    (title, description)
}

/// How metres become pixels.
#[derive(Clone, Copy, Debug)]
struct Scale {
    /// The front end, in metres along the frame, and pixels for each metre.
    front_m: f64,
    per_m: f64,
    factor: f64,
    /// The highest ground or stack in metres over the datum.
    highest_m: f64,
}

impl Scale {
    fn of(legs: &[&LegPlan]) -> Self {
        let front_m = legs.iter().map(|leg| leg.x.as_m()).fold(f64::NEG_INFINITY, f64::max);
        let rear_m = legs.iter().map(|leg| leg.x.as_m()).fold(f64::INFINITY, f64::min);
        let span = front_m - rear_m;
        let per_m = if span > 0.01 { (RIGHT - LEFT) / span } else { 40.0 };
        let grounds =
            legs.iter().filter_map(|leg| leg.ground.map(|ground| (ground.as_m(), leg.stack.as_m())));
        let mut highest_m = f64::NEG_INFINITY;
        let mut lowest_m = f64::INFINITY;
        for (ground, stack) in grounds {
            highest_m = highest_m.max(ground + stack.max(0.0));
            lowest_m = lowest_m.min(ground);
        }
        if highest_m < lowest_m {
            (highest_m, lowest_m) = (0.0, 0.0);
        }
        let fits = |factor: &f64| (highest_m - lowest_m) * per_m * factor <= LOWEST - HIGHEST;
        let factor = FACTORS.into_iter().rfind(fits).unwrap_or(1.0);
        // Where even the true proportion is too high the whole strip is made narrower.
        let room = (LOWEST - HIGHEST) / ((highest_m - lowest_m) * factor).max(1e-9);
        Self {
            front_m: if legs.is_empty() { 0.0 } else { front_m },
            per_m: per_m.min(room),
            factor,
            highest_m,
        }
    }
    fn x(self, leg: &LegPlan) -> f64 {
        LEFT + (self.front_m - leg.x.as_m()) * self.per_m
    }
    fn y(self, height_m: f64) -> f64 {
        HIGHEST + (self.highest_m - height_m) * self.per_m * self.factor
    }
}

fn compose(figures: Figures, legs: &[&LegPlan], side: RideSide, scale: Scale) -> Sheet {
    let mut sheet = Sheet::new(&format!("side-{}", side.word()), WIDTH, 0.0);
    let title = format!("Ground, {} side", side.word());
    sheet.text(8.0, 24.0, Face::title(), &title);
    let factor = format!("heights × {}", number(scale.factor));
    sheet.text(WIDTH - 8.0, 24.0, Face::plain(15.0).class("sl").end(), &factor);
    let rear = legs.last().map_or(RIGHT, |leg| scale.x(leg));
    sheet.rect(Area { x: LEFT - 26.0, y: RAIL, width: rear - LEFT + 52.0, height: 8.0 }, "k2 fc");
    let datum = scale.y(0.0);
    // The datum of a survey may lie far above or below the ground; then it is not shown.
    if (HIGHEST - 12.0..=LOWEST + 12.0).contains(&datum) {
        sheet.line((8.0, datum), (WIDTH - 8.0, datum), "rule dashdot");
    }
    ground(&mut sheet, legs, scale);
    for leg in legs {
        standing(&mut sheet, leg, scale);
    }
    let bottom = legs
        .iter()
        .filter_map(|leg| leg.ground)
        .map(|ground| scale.y(ground.as_m()))
        .fold(HIGHEST + 34.0, f64::max);
    let last = captions(&mut sheet, figures, legs, scale, bottom + 24.0);
    let words = format!("front at the left; {}, over the survey datum", figures.fine_unit());
    sheet.text(8.0, last + 22.0, Face::plain(13.0).class("sl"), &words);
    sheet.set_height(last + 32.0);
    sheet
}

/// Solid where a foot stands, dashed between two feet, nothing where a foot's ground is not known.
fn ground(sheet: &mut Sheet, legs: &[&LegPlan], scale: Scale) {
    let place = |leg: &LegPlan| leg.ground.map(|ground| (scale.x(leg), scale.y(ground.as_m())));
    for pair in legs.windows(2) {
        if let (Some(from), Some(to)) = (place(pair[0]), place(pair[1])) {
            sheet.path(&path(&[from, to], false), "k2 dash");
        }
    }
    for (x, y) in legs.iter().filter_map(|leg| place(leg)) {
        sheet.line((x - 18.0, y), (x + 18.0, y), "k3");
    }
}

fn standing(sheet: &mut Sheet, leg: &LegPlan, scale: Scale) {
    let x = scale.x(leg);
    let Some(ground) = leg.ground else {
        sheet.line((x, RAIL + 8.0), (x, HIGHEST + 12.0), "k2 hid");
        sheet.mark(x - 9.0, HIGHEST + 14.0, 18.0, Mark::NotKnown);
        return;
    };
    let bottom = scale.y(ground.as_m());
    let top = scale.y(ground.as_m() + leg.stack.as_m().max(0.0));
    sheet.line((x, RAIL + 8.0), (x, top - 3.0), "k3");
    sheet.line((x - 8.0, top - 1.5), (x + 8.0, top - 1.5), "k3");
    if top < bottom {
        sheet.rect(Area { x: x - 12.0, y: top, width: 24.0, height: bottom - top }, "k2 fc");
    }
}

/// Each leg's name over its ground, moved aside where legs stand close; gives the last line.
fn captions(sheet: &mut Sheet, figures: Figures, legs: &[&LegPlan], scale: Scale, y: f64) -> f64 {
    let heights: Vec<String> = legs
        .iter()
        .map(|leg| leg.ground.map_or_else(|| "not known".to_owned(), |ground| figures.fine_signed(ground)))
        .collect();
    let room = legs
        .iter()
        .zip(&heights)
        .map(|(leg, height)| {
            let name = label::width(&leg.short, 15.0, Weight::Bold).min(70.0);
            name.max(label::width(height, 14.0, Weight::Regular))
        })
        .fold(20.0, f64::max)
        + 6.0;
    // Names that do not fit side by side take turns in rows.
    let abreast = ((WIDTH - 12.0) / room).floor().max(1.0);
    let rows = (legs.len() as f64 / abreast).ceil().max(1.0);
    let mut last = y;
    let mut row = 0.0;
    while row < rows {
        let step = rows;
        let chosen: Vec<usize> = (0..legs.len()).filter(|i| (*i as f64 % step - row).abs() < 0.5).collect();
        let wanted: Vec<f64> = chosen.iter().map(|i| scale.x(legs[*i])).collect();
        let places = label::spread(&wanted, room, 6.0 + room / 2.0, WIDTH - 6.0 - room / 2.0);
        last = y + row * 36.0;
        for (i, x) in chosen.into_iter().zip(places) {
            sheet.text_within(x, last, Face::bold(15.0).middle(), &legs[i].short, 70.0);
            sheet.text(x, last + 16.0, Face::plain(14.0).middle(), &heights[i]);
        }
        row += 1.0;
    }
    last + 16.0
}
