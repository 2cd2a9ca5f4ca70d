//! The stage from above and from the side with what each leg carries, and the strip of all stages.

use super::checked;
use super::scene::Scene;
use super::step::{Onto, ride};
use crate::figures::Figures;
use crate::label::Area;
use crate::mark::Mark;
use crate::sheet::{Face, Sheet};
use crate::solid::{Space, View};
use crate::style::StyleSheet;
use crate::{DrawError, place};
use core::fmt::Write as _;
use tober_book::Ride;
use tober_calc::finding::Standing;
use tober_plan::{LegLoad, Plan, StepShown};
use tober_quantity::Mass;

const WIDTH: f64 = 760.0;
const RIM: f64 = 18.0;
/// The ride at the end of a step from above and from the right, the front to the right, with the load band at each leg.
///
/// # Errors
/// As of [`super::step_picture`].
pub fn stage_views(
    ride_book: &Ride,
    plan: &Plan,
    shown: &StepShown<'_>,
    loads: &Result<Vec<LegLoad>, String>,
    style: StyleSheet,
) -> Result<String, DrawError> {
    checked(plan, shown)?;
    let figures = Figures::of(plan);
    let scene = Scene::of(ride_book, plan, shown, false);
    let mut sheet = Sheet::new(&format!("views{}", shown.number), WIDTH, 0.0);
    let heading = format!("After step {}: {}", shown.number, shown.step.title);
    sheet.text_within(RIM, 34.0, Face::title(), &heading, WIDTH - 2.0 * RIM);
    let said = match loads {
        Ok(_) => "Weights of the parts alone: no wind, no riders, no crew. Front to the right.".to_owned(),
        Err(why) => format!("What the legs carry is not known. {why}"),
    };
    sheet.text_within(RIM, 56.0, Face::plain(14.0).class("sl"), &said, WIDTH - 2.0 * RIM);
    let points: Vec<Space> = scene.solids.iter().flat_map(|solid| solid.corners.iter().copied()).collect();
    // Both views to one scale, so that they stand under each other.
    let room = Area { x: RIM + 60.0, y: 0.0, width: WIDTH - 2.0 * RIM - 120.0, height: 250.0 };
    let scale = [View::plan(), View::side()]
        .map(|view| Onto::fitted(view, &points, room, 80.0).scale)
        .into_iter()
        .fold(80.0, f64::min);
    let mut top = 96.0;
    for (view, words) in [(View::plan(), "From above"), (View::side(), "From the right")] {
        let flat = |axis: usize| points.iter().map(move |point| view.flat(*point)[axis]);
        let (low, high) = (flat(1).fold(f64::INFINITY, f64::min), flat(1).fold(f64::NEG_INFINITY, f64::max));
        let height = ((high - low) * scale).max(40.0);
        let area = Area { y: top, height, ..room };
        let onto = Onto::fitted(view, &points, area, scale);
        sheet.text(RIM, top - 8.0, Face::bold(14.0), words);
        ride(&mut sheet, &scene, &onto, true);
        if view == View::side() {
            let y = onto.point([0.0, 0.0, scene.ground]).1;
            sheet.line((RIM, y), (WIDTH - RIM, y), "earth");
        } else {
            at_legs(&mut sheet, figures, plan, loads, &onto);
        }
        top += height + 44.0;
    }
    let mut y = top - 16.0;
    if let Ok(loads) = loads {
        for load in loads {
            bar(&mut sheet, figures, load, y);
            y += 24.0;
        }
    }
    sheet.set_height(y + 8.0);
    let title = format!(
        "{} after step {}, {}, from above and from the side, with what each leg carries.",
        plan.ride,
        shown.number,
        shown.step.title.trim_end_matches('.')
    );
    Ok(sheet.finish(&title, &told(figures, loads), style))
}

fn told(figures: Figures, loads: &Result<Vec<LegLoad>, String>) -> String {
    match loads {
        Err(why) => format!("What the legs carry is not known. {why}"),
        Ok(loads) => {
            let mut told = String::from("Weights of the parts alone.");
            for load in loads {
                let word = load.standing.word().to_lowercase();
                let _ = write!(told, " {}: {}, {word}.", load.name, figures.stage_load(load));
            }
            told
        }
    }
}

/// The band at each leg on the plan, beside its foot.
fn at_legs(
    sheet: &mut Sheet,
    figures: Figures,
    plan: &Plan,
    loads: &Result<Vec<LegLoad>, String>,
    onto: &Onto,
) {
    let mut taken: Vec<Area> = Vec::new();
    for leg in &plan.legs {
        let load = loads.as_ref().ok().and_then(|loads| loads.iter().find(|load| load.name == leg.name));
        let words = match load {
            Some(load) => format!("{} {}", leg.short, figures.stage_band(load)),
            None => leg.short.clone(),
        };
        let at = onto.point([leg.x.as_m(), leg.y.as_m(), 0.0]);
        // Outwards from the frame: over the left legs, under the right ones.
        let out = if leg.y.as_m() >= 0.0 { -26.0 } else { 26.0 };
        let size = (crate::label::width(&words, 13.0, crate::label::Weight::Bold), 14.0);
        let region = Area { x: 4.0, y: 60.0, width: WIDTH - 8.0, height: 1000.0 };
        let Some(area) = place::near(&[(at.0, at.1 + out)], size, region, 64.0, &taken) else { continue };
        sheet.text(area.x, area.y + 11.0, Face::bold(13.0).class("halo"), &words);
        taken.push(area);
    }
}

/// One leg: its name, the band, and the bar of which the whole is the limit.
fn bar(sheet: &mut Sheet, figures: Figures, load: &LegLoad, y: f64) {
    sheet.text(RIM, y, Face::bold(14.0), &load.short);
    sheet.text(RIM + 40.0, y, Face::plain(14.0), &figures.stage_load(load));
    sheet.mark(RIM + 220.0, y - 13.0, 16.0, Mark::of(load.standing));
    sheet.text(RIM + 242.0, y, Face::plain(14.0), load.standing.word());
    whole_bar(sheet, Area { x: RIM + 350.0, y: y - 12.0, width: 340.0, height: 13.0 }, load);
}

/// A bar whose whole length is the limit: past it, it breaks through its end.
fn whole_bar(sheet: &mut Sheet, area: Area, load: &LegLoad) {
    let Some(percent) = load.percent else {
        sheet.rect(area, "k1 hid");
        return;
    };
    let fill = match load.standing {
        Standing::PastLimit => "fo",
        Standing::Close => "tober-gilt",
        _ => "fk",
    };
    // What it carries at least is a full bar; from there to the most it may be, a narrow one.
    let share = f64::from(percent.min(106)) / 100.0;
    let sure = load.load.filter(|(_, high)| *high > Mass::ZERO).map_or(0.0, |(low, high)| low / high);
    let narrow =
        Area { y: area.y + area.height * 0.3, width: area.width * share, height: area.height * 0.4, ..area };
    sheet.rect(narrow, fill);
    sheet.rect(Area { width: area.width * share * sure, ..area }, fill);
    sheet.rect(area, "k1");
}

/// The strip of stages: a row each, a cell for each leg, in the order of the plan.
///
/// # Errors
/// As of [`super::step_picture`].
pub fn load_strip(
    plan: &Plan,
    stages: &[(&StepShown<'_>, Result<Vec<LegLoad>, String>)],
    style: StyleSheet,
) -> Result<String, DrawError> {
    crate::door::check(plan)?;
    const ROW: f64 = 40.0;
    const NAME: f64 = 190.0;
    const LAST: f64 = 120.0;
    let figures = Figures::of(plan);
    let mut sheet = Sheet::new("strip", WIDTH, 0.0);
    sheet.text(RIM, 34.0, Face::title(), "What each leg carries, stage by stage");
    let said = "Weights of the parts alone: no wind, no riders, no crew. Thick: at least. Thin: at most. The box: the limit.";
    sheet.text(RIM, 56.0, Face::plain(14.0).class("sl"), said);
    let legs = plan.legs.len().max(1);
    let cell = (WIDTH - 2.0 * RIM - NAME - LAST) / legs as f64;
    for (at, leg) in plan.legs.iter().enumerate() {
        sheet.text(RIM + NAME + cell * at as f64, 84.0, Face::bold(14.0), &leg.short);
    }
    let mut description = String::new();
    let mut y = 100.0;
    for (shown, loads) in stages {
        sheet.line((RIM, y), (WIDTH - RIM, y), "rule");
        let words = format!("{} {}", shown.number, shown.step.title);
        sheet.text_within(RIM, y + 18.0, Face::plain(14.0), &words, NAME - 10.0);
        let _ = write!(description, "Step {}: ", shown.number);
        match loads {
            Err(why) => {
                sheet.text_within(
                    RIM + NAME,
                    y + 18.0,
                    Face::plain(13.0).class("sl"),
                    &format!("Not known. {why}"),
                    WIDTH - 2.0 * RIM - NAME,
                );
                let _ = write!(description, "not known. {why} ");
            }
            Ok(loads) => {
                let mut worst: Option<(u32, &LegLoad)> = None;
                for (at, load) in loads.iter().enumerate() {
                    let x = RIM + NAME + cell * at as f64;
                    sheet.text_within(x, y + 16.0, Face::plain(13.0), &figures.stage_band(load), cell - 6.0);
                    whole_bar(&mut sheet, Area { x, y: y + 22.0, width: cell - 12.0, height: 10.0 }, load);
                    if let Some(percent) = load.percent.filter(|it| worst.is_none_or(|(most, _)| *it > most))
                    {
                        worst = Some((percent, load));
                    }
                    let _ = write!(description, "{} {}; ", load.short, figures.stage_load(load));
                }
                let x = WIDTH - RIM - LAST + 6.0;
                let worst_of =
                    loads.iter().map(|load| load.standing).max_by_key(|standing| gravity(*standing));
                let standing = worst_of.unwrap_or(Standing::NotKnown);
                sheet.mark(x, y + 6.0, 16.0, Mark::of(standing));
                sheet.text(x + 20.0, y + 18.0, Face::plain(14.0), standing.word());
                if let Some((percent, load)) = worst {
                    let words = format!("{} {percent} %", load.short);
                    sheet.text(x + 20.0, y + 34.0, Face::plain(13.0), &words);
                }
            }
        }
        y += ROW;
    }
    sheet.set_height(y + 8.0);
    let title = format!("What each leg of {} carries at each of {} stages.", plan.ride, stages.len());
    Ok(sheet.finish(&title, description.trim_end(), style))
}

/// Past its limit before not known, as a plan tells it.
fn gravity(standing: Standing) -> u8 {
    match standing {
        Standing::PastLimit => 3,
        Standing::NotKnown => 2,
        Standing::Close => 1,
        Standing::Inside => 0,
    }
}
