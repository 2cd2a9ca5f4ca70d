//! The leg of a stack drawing: foot and cone, the sleeve with its holes, pin and clip, or the screw.

use super::{END, FRAME_BOTTOM, HOLES, Levels, MIDDLE, foot_width};
use crate::figures::Figures;
use crate::label::Area;
use crate::sheet::{Face, Sheet, number};
use core::fmt::Write as _;
use tober_plan::{Held, LegPlan};
use tober_quantity::Length;

/// Where labels of the leg begin.
const LEG_LABELS: f64 = 192.0;

pub(super) fn screw_share(extension: Length, travel: Length) -> f64 {
    let share = extension.as_mm() / travel.as_mm();
    if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 }
}

/// The first and last hole drawn: up to two on either side of the pin.
pub(super) fn shown_holes(pin: usize, of: usize) -> (usize, usize) {
    let pin = pin.max(1);
    let of = of.max(pin);
    let first = pin.saturating_sub(2).max(1);
    (first, pin.saturating_add(2).min(of))
}

/// The foot, its cone and the leg up to the sleeve.
pub(super) fn leg_and_foot(sheet: &mut Sheet, leg: &LegPlan, levels: &Levels) {
    let plate = foot_width(leg);
    let cone = (plate - 14.0).clamp(34.0, 86.0) / 2.0;
    let tube = if matches!(leg.held, Held::Screw { .. }) { 12.0 } else { 16.0 };
    let top = levels.sleeve_bottom;
    sheet.rect(Area { x: MIDDLE - tube, y: top, width: 2.0 * tube, height: levels.foot_top - top }, "k2 fp");
    let d = format!(
        "M{} {t}H{}L{} {b}H{}Z",
        number(MIDDLE - tube - 2.0),
        number(MIDDLE + tube + 2.0),
        number(MIDDLE + cone),
        number(MIDDLE - cone),
        t = number(levels.foot_top),
        b = number(levels.foot_top + 16.0),
    );
    sheet.path(&d, "k2 fp");
    let area = Area { x: MIDDLE - plate / 2.0, y: levels.foot_top + 16.0, width: plate, height: 9.0 };
    sheet.rect(area, "k2 fp");
}

/// The sleeve with its holes, the pin right through and its clip, and the neighbours of its hole.
pub(super) fn sleeve_and_pin(sheet: &mut Sheet, figures: Figures, pin: usize, of: usize, levels: &Levels) {
    let (first, last) = shown_holes(pin, of);
    let top = FRAME_BOTTOM;
    let sleeve = Area { x: MIDDLE - 25.0, y: top, width: 50.0, height: levels.sleeve_bottom - top };
    sheet.rect(sleeve, "k2 fc");
    // The leg inside its sleeve, hidden.
    let hidden = levels.sleeve_bottom - 2.0;
    for side in [-16.0, 16.0] {
        sheet.line((MIDDLE + side, top + 4.0), (MIDDLE + side, hidden), "k1 hid");
    }
    let collar = Area { x: MIDDLE - 29.0, y: levels.sleeve_bottom - 6.0, width: 58.0, height: 6.0 };
    sheet.rect(collar, "k2 fc");
    let pin = pin.max(1);
    for hole in first..=last {
        let y = top + 13.0 + HOLES * (hole - first) as f64;
        if hole == pin {
            continue;
        }
        sheet.circle((MIDDLE, y), 4.4, "k2 fp");
        if hole.abs_diff(pin) == 1 {
            sheet.line((MIDDLE + 5.0, y), (LEG_LABELS - 5.0, y), "k1");
            sheet.text_within(
                LEG_LABELS,
                y + 5.0,
                Face::plain(15.0),
                &format!("hole {hole}"),
                END - LEG_LABELS,
            );
        }
    }
    let y = top + 13.0 + HOLES * (pin - first) as f64;
    pin_and_clip(sheet, y);
    let words = format!("pin and {}, hole {pin}", figures.clip());
    sheet.line((MIDDLE + 47.0, y), (LEG_LABELS - 5.0, y), "k1");
    sheet.text_within(LEG_LABELS, y + 5.0, Face::bold(15.0).class("tox"), &words, END - LEG_LABELS);
}

/// The pin with its head on the left, and on the right the clip: one prong through the pin, the other
/// bent round it.
fn pin_and_clip(sheet: &mut Sheet, y: f64) {
    sheet.line((MIDDLE - 46.0, y), (MIDDLE + 40.0, y), "pin");
    sheet.line((MIDDLE - 46.0, y - 10.0), (MIDDLE - 46.0, y + 10.0), "pinhead");
    let x = MIDDLE + 35.0;
    let d = format!(
        "M{x} {low}V{high}a3.5 3.5 0 0 1 7 0v2q0 2 2.2 3.4q3 3.6 0 7.6l-3.4 5",
        x = number(x),
        low = number(y + 11.0),
        high = number(y - 9.0),
    );
    sheet.path(&d, "clip");
}

/// The screw in its nut, with how far it is out.
pub(super) fn screw(
    sheet: &mut Sheet,
    figures: Figures,
    (extension, travel, turns): (Length, Length, Option<String>),
    levels: &Levels,
) {
    let nut =
        Area { x: MIDDLE - 25.0, y: FRAME_BOTTOM, width: 50.0, height: levels.sleeve_bottom - FRAME_BOTTOM };
    sheet.rect(nut, "k2 fc");
    let (top, bottom) = (levels.sleeve_bottom, levels.foot_top);
    let mut d = String::new();
    let mut y = top + 5.0;
    while y < bottom - 1.0 {
        let _ = write!(d, "M{} {}l24 -3.6", number(MIDDLE - 12.0), number(y));
        y += 5.0;
    }
    sheet.path(&d, "k1");
    let x = MIDDLE + 40.0;
    for y in [top, bottom] {
        sheet.line((MIDDLE + 14.0, y), (x + 5.0, y), "k1");
    }
    if bottom - top >= 22.0 {
        sheet.dimension((x, top), (x, bottom));
    }
    let y = top + 12.0;
    let words = format!("wind out {}", turns.as_deref().unwrap_or(&figures.finest_with_unit(extension)));
    let room = END - LEG_LABELS;
    sheet.text_within(LEG_LABELS, y, Face::bold(15.0), &words, room);
    let of = format!("{} of {} {}", figures.finest(extension), figures.fine(travel), figures.fine_unit());
    sheet.text_within(LEG_LABELS, y + 17.0, Face::plain(13.0).class("sl"), &of, room);
}
