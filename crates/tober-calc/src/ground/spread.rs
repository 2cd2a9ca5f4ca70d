//! How a load spreads on its way down through crossed packing, and through soil.

use super::GroundError;
use super::error::{LOAD_KN, SIDE_M, within};
use super::timber::Timber;
use crate::working::{Provenance, Term, Working, least, number};
use tober_quantity::{Area, Force, Length, Pressure, Quantity, Shown};

/// The most layers of a stack.
const LAYERS_MOST: usize = 50;
/// The most boards of a layer.
const BOARDS_MOST: usize = 50;

/// Which way the grain of a layer runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grain {
    /// Along the frame.
    Along,
    /// Across the frame.
    Across,
}

/// The size of a foot, a base or a contact on the plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanSize {
    /// Along the frame.
    pub along: Length,
    /// Across the frame.
    pub across: Length,
}

impl PlanSize {
    /// Its area.
    pub fn area(self) -> Area {
        self.along * self.across
    }
    /// Its lesser side.
    pub fn least_side(self) -> Length {
        self.along.min(self.across)
    }
    pub(super) fn check(self, what: &'static str) -> Result<(), GroundError> {
        within(what, self.along.as_m(), SIDE_M, "m")?;
        within(what, self.across.as_m(), SIDE_M, "m")
    }
}

/// One layer of a stack: equal boards laid close, side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Actual thickness.
    pub thickness: Length,
    /// Length of one board, along its grain.
    pub length: Length,
    /// Width of one board.
    pub width: Length,
    /// How many lie side by side.
    pub boards: usize,
    /// Which way the grain runs.
    pub grain: Grain,
    /// How far the middle of the layer lies from under the load, along the frame.
    pub off_along: Length,
    /// How far the middle of the layer lies from under the load, across the frame.
    pub off_across: Length,
    /// What it is made of, where that is known: a timber, or the metal of a plate.
    pub timber: Option<&'static Timber>,
}

/// A foot on its stack, layers from the top down.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// The foot.
    pub foot: PlanSize,
    /// The layers, the one under the foot first. None: the foot stands on the ground.
    pub layers: Vec<Layer>,
}

/// Where the load goes on its way down.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// What bears on the top of each layer, the first under the foot.
    pub contacts: Vec<PlanSize>,
    /// How wide the load is at the underside of each layer.
    pub undersides: Vec<PlanSize>,
    /// What bears on the ground.
    pub base: PlanSize,
    /// The lines that show it.
    pub working: Working,
    /// The area on the ground as a term of that working.
    pub(super) base_area: Term,
}

/// Spreads a load down a stack.
///
/// Through a layer of thickness h the load widens by h to each side across the grain (1:1) and by 2h to each
/// side along it (2:1), through a plate of metal by h to each side, and never past the edges of the boards that it bears on. Boards side by side do
/// not help each other: one that the load from above does not touch carries nothing. The width counted
/// is twice the lesser distance from under the load to an edge, so that a stack out of centre counts only for
/// the part that is centred under its load (B′ = B − 2e). What lies beyond must work in bending and counts
/// for nothing. Source: a UK outrigger mat design note citing BS 5975:2019 (reference GS-25), checked
/// by its example (WE-11); effective area FHWA GEC-6 (GS-22).
///
/// # Errors
/// A size that is not a number or not above nothing, too many layers or boards, a load beyond a layer's edge.
///
/// # Not covered
/// Boards laid with gaps, wedges, bending of boards, and the weight of the stack.
pub fn spread(stack: &Stack) -> Result<Spread, GroundError> {
    check(stack)?;
    let mut working = Working::new();
    let measured = || Provenance::measured("tape");
    let mut along = working.given("a0", "foot, along the frame", stack.foot.along, measured());
    let mut across = working.given("b0", "foot, across the frame", stack.foot.across, measured());
    let mut contacts = Vec::new();
    let mut undersides = Vec::new();
    for (i, layer) in stack.layers.iter().enumerate() {
        let n = i + 1;
        let room = room(layer, along.value(), across.value(), n)?;
        let thickness = working.given(
            &format!("h{n}"),
            &format!("thickness of layer {n} from the top"),
            layer.thickness,
            measured(),
        );
        let metal = layer.timber.is_some_and(|timber| timber.standard.is_metal());
        let (by_along, by_across) = match layer.grain {
            _ if metal => (2.0, 2.0),
            Grain::Along => (4.0, 2.0),
            Grain::Across => (2.0, 4.0),
        };
        let mut widen = |side: &Term, symbol: &str, word: &str, room_m: f64, by: f64| {
            let edge = working.given(
                &format!("{symbol}e{n}"),
                &format!("width of layer {n} under the load, {word} the frame"),
                Length::m(room_m),
                Provenance::Computed,
            );
            let contact = side.value().min(room_m);
            let wider = least(vec![side.clone() + number(by) * thickness.clone(), edge]);
            let meaning = format!("load under layer {n}, {word} the frame");
            (working.line(&format!("{symbol}{n}"), &meaning, wider, Shown::Fine), Length::m(contact))
        };
        let (next_along, contact_along) = widen(&along, "a", "along", room.0, by_along);
        let (next_across, contact_across) = widen(&across, "b", "across", room.1, by_across);
        contacts.push(PlanSize { along: contact_along, across: contact_across });
        (along, across) = (next_along, next_across);
        undersides.push(PlanSize { along: Length::m(along.value()), across: Length::m(across.value()) });
    }
    let base = PlanSize { along: Length::m(along.value()), across: Length::m(across.value()) };
    let base_area = working.line("A", "area that bears on the ground", along * across, Shown::Area);
    Ok(Spread { contacts, undersides, base, working, base_area })
}

fn check(stack: &Stack) -> Result<(), GroundError> {
    stack.foot.check("side of the foot")?;
    if stack.layers.len() > LAYERS_MOST {
        return Err(GroundError::TooMany { what: "layers", count: stack.layers.len(), most: LAYERS_MOST });
    }
    for layer in &stack.layers {
        within("thickness of a board", layer.thickness.as_m(), (0.0005, 2.0), "m")?;
        within("length of a board", layer.length.as_m(), SIDE_M, "m")?;
        within("width of a board", layer.width.as_m(), SIDE_M, "m")?;
        within("distance out of centre", layer.off_along.as_m(), (-100.0, 100.0), "m")?;
        within("distance out of centre", layer.off_across.as_m(), (-100.0, 100.0), "m")?;
        if layer.boards == 0 || layer.boards > BOARDS_MOST {
            let what = "boards in a layer";
            let (value, high) = (layer.boards as f64, BOARDS_MOST as f64);
            return Err(GroundError::OutOfRange { what, value, low: 1.0, high, unit: "boards" });
        }
    }
    Ok(())
}

/// The widths along and across the frame, centred under the load, that a layer offers to it.
fn room(layer: &Layer, along_m: f64, across_m: f64, n: usize) -> Result<(f64, f64), GroundError> {
    let (length_m, width_m) = (layer.length.as_m(), layer.width.as_m());
    // From here the load is at nought and the layer's middle at its offset.
    let lengthwise = |middle_m: f64| length_m - 2.0 * middle_m.abs();
    let sideways = |middle_m: f64, load_m: f64| {
        let first_m = middle_m - width_m * layer.boards as f64 / 2.0;
        let touched = (0..layer.boards).filter_map(|k| {
            let low_m = first_m + width_m * k as f64;
            let high_m = low_m + width_m;
            // A sliver thinner than a hundredth of a millimetre is rounding, not wood.
            (low_m < load_m / 2.0 - 1e-5 && high_m > -load_m / 2.0 + 1e-5).then_some((low_m, high_m))
        });
        let (low_m, high_m) = touched.fold((f64::INFINITY, f64::NEG_INFINITY), |edges, board| {
            (edges.0.min(board.0), edges.1.max(board.1))
        });
        2.0 * high_m.min(-low_m)
    };
    let (along, across) = match layer.grain {
        Grain::Along => (lengthwise(layer.off_along.as_m()), sideways(layer.off_across.as_m(), across_m)),
        Grain::Across => (sideways(layer.off_along.as_m(), along_m), lengthwise(layer.off_across.as_m())),
    };
    if along > 0.0 && across > 0.0 { Ok((along, across)) } else { Err(GroundError::OffTheBoard { layer: n }) }
}

/// How a load spreads through soil to a weaker layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SoilSpread {
    /// Two down to one out: each side of the base grows by the depth.
    TwoToOne,
    /// 60 degrees to the horizontal: each side grows by twice the depth times tan 30.
    SixtyDegrees,
}

/// Pressure on a weaker layer of soil at a depth below a loaded base.
///
/// 2:1: σ = P / ((B + z)(L + z)), civil textbooks, reference GS-23. 60 degrees: 2 z tan 30° in place of z,
/// Chicago building code 13-132-060(b)(2), reference GS-24, where the table says 0.577 z for each edge.
/// The weight of the soil above is not counted.
///
/// # Errors
/// A load, side or depth that is not a number or out of range.
pub fn pressure_at_depth(
    load: Force,
    base: PlanSize,
    depth: Length,
    rule: SoilSpread,
) -> Result<Pressure, GroundError> {
    within("load", load.as_kn(), LOAD_KN, "kN")?;
    base.check("side of the base")?;
    within("depth", depth.as_m(), (0.0, 100.0), "m")?;
    let grown = match rule {
        SoilSpread::TwoToOne => depth,
        SoilSpread::SixtyDegrees => depth * (2.0 / 3.0_f64.sqrt()),
    };
    Ok(load / ((base.along + grown) * (base.across + grown)))
}

/// The area that a load needs on ground that allows a pressure: A = P / p.
///
/// # Errors
/// A load out of range, or a pressure that is not above nothing.
pub fn area_needed(load: Force, allowed: Pressure) -> Result<Area, GroundError> {
    within("load", load.as_kn(), LOAD_KN, "kN")?;
    within("allowed pressure", allowed.as_kpa(), (0.1, 1e6), "kPa")?;
    Ok(Area::m2(load.si() / allowed.si()))
}

/// The greatest base that a single layer under a foot can make, whatever its size: foot + 2h across the grain
/// and foot + 4h along it. A mat larger than that must be stiffer, not larger.
///
/// # Errors
/// A foot or thickness out of range.
pub fn base_most(foot: PlanSize, thickness: Length, grain: Grain) -> Result<PlanSize, GroundError> {
    foot.check("side of the foot")?;
    within("thickness of a board", thickness.as_m(), (0.0005, 2.0), "m")?;
    let (by_along, by_across) = match grain {
        Grain::Along => (4.0, 2.0),
        Grain::Across => (2.0, 4.0),
    };
    Ok(PlanSize { along: foot.along + thickness * by_along, across: foot.across + thickness * by_across })
}
