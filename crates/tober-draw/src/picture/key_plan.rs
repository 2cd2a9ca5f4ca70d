//! Where on the ride a picture taken closer looks: the ride from above, what it is about in black, and from where it is seen.

use super::ground::hull;
use super::scene::{Part, Scene};
use super::step::Onto;
use crate::label::Area;
use crate::sheet::{Face, Sheet, path};
use crate::solid::{Space, View};

/// The room it takes, in pixels.
pub(super) const HIGH: f64 = 66.0;
const WIDE: f64 = 128.0;
/// How far outside the ride the sign of the eye stands, in pixels.
const OUT: f64 = 6.0;

/// Draws it with its upper left corner at a place.
pub(super) fn key_plan(sheet: &mut Sheet, scene: &Scene<'_>, view: &View, (x, y): (f64, f64)) {
    let area = Area { x, y, width: WIDE, height: HIGH };
    let bodies = || (0..scene.solids.len()).filter(|at| matches!(scene.parts[*at], Part::Body(_)));
    let points: Vec<Space> = bodies().flat_map(|at| scene.solids[at].corners.iter().copied()).collect();
    if points.is_empty() {
        return;
    }
    let onto = Onto::fitted(View::plan(), &points, area.inset(12.0), f64::INFINITY);
    let (mut thin, mut black) = (String::new(), String::new());
    for at in bodies() {
        let outline = hull(scene.solids[at].corners.iter().map(|[x, y, _]| [*x, *y]).collect());
        let outline: Vec<(f64, f64)> = outline.iter().map(|[x, y]| onto.point([*x, *y, 0.0])).collect();
        let into = if scene.hot.contains(&at) { &mut black } else { &mut thin };
        into.push_str(&path(&outline, true));
    }
    if !thin.is_empty() {
        sheet.path(&thin, "rule");
    }
    if !black.is_empty() {
        sheet.path(&black, "fk k1");
    }
    // From outside the ride towards its middle.
    let (mx, my) = area.middle();
    let long = (view.eye[0] * view.eye[0] + view.eye[1] * view.eye[1]).sqrt().max(1e-9);
    let (ux, uy) = (view.eye[0] / long, -view.eye[1] / long);
    let reach = (WIDE / 2.0 / ux.abs().max(1e-9)).min(HIGH / 2.0 / uy.abs().max(1e-9)) - 2.0 * OUT;
    let (tx, ty) = (mx + ux * reach, my + uy * reach);
    let (bx, by) = (tx + ux * OUT * 2.0, ty + uy * OUT * 2.0);
    let (sx, sy) = (uy * OUT * 0.6, ux * OUT * 0.6);
    let arrow = [(tx, ty), (bx - sx, by + sy), (bx + sx, by - sy)];
    sheet.path(&path(&arrow, true), "fo");
    let face = Face::plain(13.0);
    sheet.text(area.right() + 14.0, area.bottom() - 22.0, face, "From above, front to the right.");
    sheet.text(area.right() + 14.0, area.bottom() - 5.0, face, "Black: what it is about. Red: the eye.");
}
