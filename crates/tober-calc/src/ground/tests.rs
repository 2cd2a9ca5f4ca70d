//! Outside checks, laws and refusals of ground and timber.

mod pins;
mod sinking;
mod soil;
mod tables;
mod wood;

use super::*;
use crate::finding::{Finding, Measure, Override, Standing, Subject};
use tober_quantity::{Area, Force, Length, Moment, Pressure, Ratio, Time};

fn size(along_m: f64, across_m: f64) -> PlanSize {
    PlanSize { along: Length::m(along_m), across: Length::m(across_m) }
}

fn layer(thickness_m: f64, length_m: f64, width_m: f64, boards: usize, grain: Grain) -> Layer {
    Layer {
        thickness: Length::m(thickness_m),
        length: Length::m(length_m),
        width: Length::m(width_m),
        boards,
        grain,
        off_along: Length::ZERO,
        off_across: Length::ZERO,
        timber: Some(timber("C24").expect("listed")),
    }
}

fn near(found: f64, expected: f64, relative: f64) {
    assert!((found - expected).abs() <= relative * expected.abs(), "{found} is not {expected}");
}

fn leg() -> Subject {
    Subject::Support("front left".into())
}

fn both(kn: f64) -> (Force, Force) {
    (Force::kn(kn), Force::kn(kn))
}

fn on_foot(foot: PlanSize) -> Spread {
    spread(&Stack { foot, layers: Vec::new() }).expect("a sound foot")
}

fn gravel() -> Ground {
    let table = presumptive_table("IBC 2012 1806.2").expect("listed");
    let class = table.class("sandy gravel and gravel (GW, GP)").expect("listed");
    Ground {
        surface: Some(Surface::BelowTopsoil),
        wet: Some(Wetness::Dry),
        water_depth: Some(Length::m(5.0)),
        allowed: Some(Allowed::Class { table, class }),
    }
}

fn limit(finding: &Finding) -> Pressure {
    let Measure::AgainstLimit { limit, .. } = &finding.measure else { panic!("{finding:?}") };
    Pressure::pa(limit.si)
}

// Spread and area.

/// A public quiz page on load spread (reference WE-08): 2 × 1 m at 150 kPa is 50 kPa one metre down.
#[test]
fn truth_two_to_one_spread_at_one_metre() {
    let found = pressure_at_depth(Force::kn(300.0), size(2.0, 1.0), Length::m(1.0), SoilSpread::TwoToOne)
        .expect("sound");
    near(found.as_kpa(), 50.0, 1e-12);
}

/// Chicago building code 13-132-060(b)(2) (reference GS-24): each edge grows by 0.577 z, wider than 2:1.
#[test]
fn truth_sixty_degree_spread() {
    let found = pressure_at_depth(Force::kn(100.0), size(1.0, 1.0), Length::m(1.0), SoilSpread::SixtyDegrees)
        .expect("sound");
    near(found.as_kpa(), 100.0 / (2.154 * 2.154), 0.001);
    let narrower = pressure_at_depth(Force::kn(100.0), size(1.0, 1.0), Length::m(1.0), SoilSpread::TwoToOne);
    assert!(found < narrower.expect("sound"));
}

/// A public page on outrigger pads (reference WE-09): 62,800 lb on 36 × 36 in is 48.5 psi, 334 kPa.
#[test]
fn truth_outrigger_pad_of_36_inches() {
    let side = Length::inches(36.0);
    let pad = on_foot(PlanSize { along: side, across: side });
    let load = (Force::lbf(62_800.0), Force::lbf(62_800.0));
    let found = ground_pressure(leg(), load, &pad, &gravel()).expect("sound");
    let Measure::AgainstLimit { high, .. } = found.measure else { panic!("{found:?}") };
    near(Pressure::pa(high.si).as_psi(), 48.457, 0.001);
    near(Pressure::pa(high.si).as_kpa(), 334.0, 0.001);
    assert_eq!(found.standing, Standing::PastLimit);
}

/// A mobile crane's operating manual (reference WE-10): 25 t on 40 t/m² needs 0.625 m²; 2,000 cm² is too small.
#[test]
fn truth_area_for_25_tonnes() {
    let tonne = Force::n(9806.65);
    let needed = area_needed(tonne * 25.0, tonne * 40.0 / Area::m2(1.0)).expect("sound");
    near(needed.as_m2(), 0.625, 1e-12);
    assert!(needed > Area::m2(0.2));
}

/// A UK outrigger mat design note citing BS 5975:2019 (reference WE-11): 330 kN on 200 kN/m² needs 1.65 m²;
/// 0.65 × 0.9 m on the lower of two layers of sleepers becomes 1.15 × 1.0 m on the ground, limited by a mat
/// of 1.65 × 1.0 m, so that the sleepers reach 0.25 m beyond. (Four sleepers of 250 × 125 mm: the only
/// usual thickness that gives 1.15.)
#[test]
fn truth_outrigger_on_sleepers() {
    near(area_needed(Force::kn(330.0), Pressure::kpa(200.0)).expect("sound").as_m2(), 1.65, 1e-12);
    let stack = Stack { foot: size(0.65, 0.9), layers: vec![layer(0.125, 1.65, 0.25, 4, Grain::Along)] };
    let found = spread(&stack).expect("sound");
    near(found.base.along.as_m(), 1.15, 1e-12);
    near(found.base.across.as_m(), 1.0, 1e-12);
    near((1.65 - found.base.along.as_m()) / 2.0, 0.25, 1e-9);
}

/// FHWA-IF-02-054 (GEC-6) (references GS-22, WE-37): 3 × 5 m with 0.3 and 0.5 m off is 2.4 × 4.0 = 9.6 m².
/// A foot out of the middle of its board counts alike.
#[test]
fn truth_effective_area_of_an_eccentric_pad() {
    let found = effective_base(size(3.0, 5.0), Length::m(0.3), Length::m(-0.5)).expect("sound");
    near(found.along.as_m(), 2.4, 1e-12);
    near(found.across.as_m(), 4.0, 1e-12);
    near(found.area().as_m2(), 9.6, 1e-12);
    let mut pad = layer(2.0, 5.0, 3.0, 1, Grain::Across);
    pad.off_along = Length::m(-0.3);
    pad.off_across = Length::m(0.5);
    let spread = spread(&Stack { foot: size(0.2, 0.2), layers: vec![pad] }).expect("sound");
    near(spread.base.area().as_m2(), 9.6, 1e-12);
}

/// A public page on tower crane bases (reference WE-22): 2,687.5 kN and 4,200 kNm on 7 × 7 m bears over
/// 5.811 m, 132.2 kPa at the edge.
#[test]
fn truth_partial_contact_of_a_crane_base() {
    let side = Length::m(7.0);
    let weight = Force::kn(7.0 * 7.0 * 1.5 * 25.0 + 850.0);
    let found = edge_pressure(weight, Moment::knm(4200.0), side, side).expect("sound");
    near(found.eccentricity.as_m(), 1.563, 0.001);
    near(found.contact.as_m(), 5.811, 0.001);
    near(found.greatest.as_kpa(), 132.2, 0.001);
    assert_eq!(found.least, Pressure::ZERO);
}

/// Textbooks (reference ST-01, ST-03): at e = L/6 one edge is just at nothing and the other at twice the mean.
#[test]
fn truth_edge_of_the_kern() {
    let found =
        edge_pressure(Force::kn(60.0), Moment::knm(60.0), Length::m(6.0), Length::m(1.0)).expect("sound");
    near(found.greatest.as_kpa(), 20.0, 1e-9);
    assert!(found.least.as_kpa().abs() < 1e-9);
    near(found.contact.as_m(), 6.0, 1e-9);
}

#[test]
fn law_edge_pressures_hold_the_load_up() {
    for moment in [0.0, 20.0, 60.0, 99.0, 120.0, 170.0] {
        let found = edge_pressure(Force::kn(60.0), Moment::knm(moment), Length::m(6.0), Length::m(1.5))
            .expect("sound");
        let mean = (found.greatest + found.least) / 2.0;
        near((mean * found.contact_area(Length::m(1.5))).as_kn(), 60.0, 1e-9);
    }
    assert_eq!(
        edge_pressure(Force::kn(60.0), Moment::knm(181.0), Length::m(6.0), Length::m(1.5)),
        Err(GroundError::OffTheBase)
    );
}

/// Foot 200 mm; 50 mm board 300 × 200 along, then three 50 × 200 mm boards 600 long across.
/// Along: 200 + 4 × 50 = 400, held to 300; then 300 + 2 × 50 = 400 (three boards of 200 reach 600).
/// Across: 200 + 2 × 50, held to 200; then 200 + 4 × 50 = 400.
#[test]
fn hand_two_crossed_layers() {
    let stack = Stack {
        foot: size(0.2, 0.2),
        layers: vec![layer(0.05, 0.3, 0.2, 1, Grain::Along), layer(0.05, 0.6, 0.2, 3, Grain::Across)],
    };
    let found = spread(&stack).expect("sound");
    near(found.undersides[0].along.as_m(), 0.3, 1e-12);
    near(found.undersides[0].across.as_m(), 0.2, 1e-12);
    near(found.base.along.as_m(), 0.4, 1e-12);
    near(found.base.across.as_m(), 0.4, 1e-12);
}

/// A narrow foot on the middle of three boards does not load the outer two.
#[test]
fn hand_boards_beside_the_load_carry_nothing() {
    let stack = Stack { foot: size(0.2, 0.2), layers: vec![layer(0.1, 1.0, 0.25, 3, Grain::Along)] };
    near(spread(&stack).expect("sound").base.across.as_m(), 0.25, 1e-12);
    let wider = Stack { foot: size(0.2, 0.3), layers: stack.layers };
    near(spread(&wider).expect("sound").base.across.as_m(), 0.5, 1e-12);
}

#[test]
fn law_a_longer_wider_or_thicker_board_never_raises_the_pressure() {
    let area = |thickness: f64, length: f64, width: f64| {
        let layers =
            vec![layer(thickness, length, width, 1, Grain::Across), layer(0.05, 1.2, 0.3, 1, Grain::Along)];
        spread(&Stack { foot: size(0.25, 0.3), layers }).expect("sound").base.area()
    };
    for step in 1..30 {
        let more = f64::from(step) * 0.02;
        assert!(area(0.05 + more, 0.4, 0.3) >= area(0.03 + more, 0.4, 0.3));
        assert!(area(0.05, 0.4 + more, 0.3) >= area(0.05, 0.38 + more, 0.3));
        assert!(area(0.05, 0.4, 0.3 + more) >= area(0.05, 0.4, 0.28 + more));
    }
}

#[test]
fn law_turning_the_whole_stack_turns_its_base() {
    let layers = |a, b| vec![layer(0.05, 0.5, 0.2, 2, a), layer(0.07, 0.9, 0.25, 3, b)];
    let one =
        spread(&Stack { foot: size(0.2, 0.3), layers: layers(Grain::Along, Grain::Across) }).expect("sound");
    let other =
        spread(&Stack { foot: size(0.3, 0.2), layers: layers(Grain::Across, Grain::Along) }).expect("sound");
    assert_eq!((one.base.along, one.base.across), (other.base.across, other.base.along));
}

#[test]
fn law_the_greatest_base_of_a_layer_is_reached_by_a_large_board() {
    let foot = size(0.25, 0.3);
    let most = base_most(foot, Length::m(0.08), Grain::Along).expect("sound");
    let stack = Stack { foot, layers: vec![layer(0.08, 9.0, 9.0, 1, Grain::Along)] };
    let base = spread(&stack).expect("sound").base;
    near(base.along.as_m(), most.along.as_m(), 1e-12);
    near(base.across.as_m(), most.across.as_m(), 1e-12);
}
