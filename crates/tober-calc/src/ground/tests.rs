//! Outside checks, laws and refusals of ground and timber.

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

// Presumptive tables and water.

/// International Building Code 2012 Table 1806.2 (reference GS-01), and none for mud, peat and fill (GS-03).
#[test]
fn truth_building_code_table() {
    let table = presumptive_table("IBC 2012 1806.2").expect("listed");
    let kpa: Vec<Option<f64>> = table.classes.iter().map(|c| c.pressure().map(Pressure::as_kpa)).collect();
    for (found, expected) in kpa.iter().zip([574.6, 191.5, 143.6, 95.8, 71.8]) {
        near(found.expect("printed"), expected, 0.001);
    }
    assert_eq!(kpa[5], None);
}

/// National Building Code of Canada, small buildings (reference GS-06), with its hand tests (GS-07).
#[test]
fn truth_small_buildings_table_and_hand_tests() {
    let table = presumptive_table("NBC 9.4.4.1").expect("listed");
    let kpa = |name: &str| table.class(name).expect("listed").pressure().expect("printed").as_kpa();
    near(kpa(class_by_thumb(Thumb::Hard)), 150.0, 1e-12);
    near(kpa(class_by_thumb(Thumb::Moderate)), 75.0, 1e-12);
    near(kpa(class_by_thumb(Thumb::Easy)), 40.0, 1e-12);
    near(kpa(class_by_picket(Length::mm(200.0)).expect("a depth")), 150.0, 1e-12);
    near(kpa(class_by_picket(Length::mm(201.0)).expect("a depth")), 50.0, 1e-12);
    near(kpa("dense silt"), 100.0, 1e-12);
    assert_eq!(class_by_picket(Length::m(f64::NAN)), None);
}

/// Chicago building code 13-132-060(a) (reference GS-05).
#[test]
fn truth_city_code_table() {
    let table = presumptive_table("Chicago 13-132-060").expect("listed");
    for (name, kpa) in
        [("compact clean sand", 239.4), ("very soft clay", 23.9), ("hardpan", 574.6), ("gravel", 287.3)]
    {
        near(table.class(name).expect("listed").pressure().expect("printed").as_kpa(), kpa, 0.002);
    }
}

/// A table in a public chat answer lists clay at 1,000, gravel at 4,000, sand at 3,000 psf (reference DIS-24), and
/// trade tables give firm clay 296 kPa (DIS-02). Neither is reproduced: no clay or silt outside
/// Chicago's harder classes is trusted with more than 150 kPa by any table that was read.
#[test]
fn truth_faulty_tables_are_not_reproduced() {
    let table = presumptive_table("IBC 2012 1806.2").expect("listed");
    for (class, wrong) in table.classes[2..5].iter().zip([4000.0, 3000.0, 1000.0]) {
        assert!((class.pressure().expect("printed").as_psf() - wrong).abs() > 400.0);
    }
    for table in TABLES {
        assert!(!table.document.to_lowercase().contains("outrigger"));
        for class in table.classes.iter().filter(|c| c.name == "firm clay") {
            assert!(class.pressure().expect("printed").as_kpa() <= 75.0);
        }
    }
}

/// IS 1904:1961 Table 2.2 note 6 (reference GS-32): half at the base, all from B below, a line between.
#[test]
fn truth_water_halves_sand() {
    let width = Length::m(0.8);
    for (depth_m, factor) in [(0.0, 0.5), (0.2, 0.625), (0.4, 0.75), (0.8, 1.0), (3.0, 1.0)] {
        near(water_factor(Some(Length::m(depth_m)), width).expect("sound"), factor, 1e-12);
    }
    near(water_factor(None, width).expect("sound"), 0.5, 1e-12);
}

#[test]
fn law_saying_less_of_the_ground_never_helps() {
    let foot = on_foot(size(0.5, 0.5));
    for kn in [5.0, 15.0, 20.0, 30.0, 34.0, 40.0] {
        let standing = |ground: &Ground| {
            let found = ground_pressure(leg(), both(kn), &foot, ground).expect("sound");
            assert_eq!(found.overriding, Override::Never);
            found.standing
        };
        let full = standing(&gravel());
        for less in [
            Ground { surface: None, ..gravel() },
            Ground { wet: None, ..gravel() },
            Ground { water_depth: None, ..gravel() },
            Ground { allowed: None, ..gravel() },
        ] {
            assert!(standing(&less) >= full, "{kn} kN: {less:?}");
        }
        for (worse, less) in [
            (Ground { wet: Some(Wetness::StandingWater), ..gravel() }, Ground { wet: None, ..gravel() }),
            (Ground { surface: Some(Surface::Turf), ..gravel() }, Ground { surface: None, ..gravel() }),
            (
                Ground { water_depth: Some(Length::ZERO), ..gravel() },
                Ground { water_depth: None, ..gravel() },
            ),
        ] {
            assert!(standing(&less) >= standing(&worse), "{kn} kN: {less:?}");
        }
    }
}

/// Gravel at 3,000 psf under 0.25 m²: 30 kN is 120 kPa of 143.6 kPa, 84 %.
#[test]
fn hand_gravel_is_close_and_wet_gravel_not_known() {
    let foot = on_foot(size(0.5, 0.5));
    let found = ground_pressure(leg(), both(30.0), &foot, &gravel()).expect("sound");
    assert_eq!((found.standing, found.share()), (Standing::Close, Some(84)));
    let halved = Ground { water_depth: Some(Length::ZERO), ..gravel() };
    let found = ground_pressure(leg(), both(30.0), &foot, &halved).expect("sound");
    assert_eq!(found.standing, Standing::PastLimit);
    near(limit(&found).as_psf(), 1500.0, 1e-9);
    let turf = Ground { surface: Some(Surface::Turf), ..gravel() };
    let found = ground_pressure(leg(), both(10.0), &foot, &turf).expect("sound");
    assert_eq!(found.standing, Standing::NotKnown);
    assert!(found.advice.iter().any(|a| a.contains("sink test")));
}

/// The superseded British table is for bases a metre wide and more: under a foot it settles nothing.
#[test]
fn law_a_table_for_wide_bases_is_not_known_under_a_foot() {
    let table = presumptive_table("BS 8004:1986").expect("listed");
    let class = table.class("stiff clay").expect("listed");
    let ground = Ground { allowed: Some(Allowed::Class { table, class }), ..gravel() };
    let found = ground_pressure(leg(), both(5.0), &on_foot(size(0.5, 0.5)), &ground).expect("sound");
    assert_eq!(found.standing, Standing::NotKnown);
    let wide = ground_pressure(leg(), both(5.0), &on_foot(size(1.0, 1.0)), &ground).expect("sound");
    assert_eq!(wide.standing, Standing::Inside);
    assert!(wide.basis.iter().any(|b| b.to_string().contains("from memory")));
}

// The sink test.

fn test_of(kn: f64, sink_mm: f64) -> SinkTest {
    SinkTest {
        load: Force::kn(kn),
        load_off_by: Force::ZERO,
        plate: size(0.5, 0.5),
        waited: Time::min_(15.0),
        sink: Length::mm(sink_mm),
        sink_off_by: Length::mm(1.0),
    }
}

fn sunk(test: &SinkTest, kn: f64, most_mm: f64) -> Finding {
    sink_under_load(leg(), test, both(kn), size(0.5, 0.5), Some(Length::mm(most_mm))).expect("sound")
}

/// 20 kN on 0.25 m² is 80 kPa; 3 ± 1 mm counts as 4 mm: 20 kPa/mm. At 22 kN: 1.1² × 4 = 4.84 mm.
#[test]
fn hand_sink_test() {
    let test = test_of(20.0, 3.0);
    near(test.subgrade().expect("sound").as_kpa_per_mm(), 20.0, 1e-12);
    near(ground_stiffness(test.subgrade().expect("sound"), test.plate).as_mn_per_m(), 5.0, 1e-12);
    let found = sunk(&test, 22.0, 10.0);
    let Measure::AgainstLimit { low, high, .. } = found.measure else { panic!("{found:?}") };
    near(high.si * 1e3, 4.84, 1e-9);
    near(low.si * 1e3, 4.4, 1e-9);
    // 48 % used, but more than was tested: close, not inside.
    assert_eq!(found.standing, Standing::Close);
    assert_eq!(sunk(&test, 20.0, 10.0).standing, Standing::Inside);
    assert_eq!(sunk(&test, 20.0, 3.5).standing, Standing::PastLimit);
}

#[test]
fn law_a_poor_test_says_nothing() {
    let test = test_of(20.0, 3.0);
    let far = sunk(&test, 25.1, 10.0);
    assert_eq!(far.standing, Standing::NotKnown);
    assert!(far.advice.iter().any(|a| a.contains("at least 2.6 t")), "{far:?}");
    let hasty = SinkTest { waited: Time::min_(14.0), ..test };
    assert_eq!(sunk(&hasty, 10.0, 10.0).standing, Standing::NotKnown);
    let other = SinkTest { plate: size(0.5, 0.6), ..test };
    assert_eq!(sunk(&other, 10.0, 10.0).standing, Standing::NotKnown);
    let unsaid = sink_under_load(leg(), &test, both(10.0), size(0.5, 0.5), None).expect("sound");
    assert_eq!(unsaid.standing, Standing::NotKnown);
    let unsure = SinkTest { load_off_by: Force::kn(5.0), ..test };
    assert_eq!(sunk(&unsure, 19.0, 10.0).standing, Standing::NotKnown);
}

#[test]
fn law_more_load_or_wider_tolerance_never_sinks_less() {
    let high = |test: &SinkTest, kn: f64| match sunk(test, kn, 100.0).measure {
        Measure::AgainstLimit { high, .. } => high.si,
        _ => f64::INFINITY,
    };
    let test = test_of(20.0, 3.0);
    for step in 1..40 {
        let kn = f64::from(step);
        assert!(high(&test, kn + 1.0) >= high(&test, kn));
        assert!(high(&SinkTest { load_off_by: Force::kn(2.0), ..test }, kn) >= high(&test, kn));
        assert!(high(&SinkTest { sink_off_by: Length::mm(2.0), ..test }, kn) >= high(&test, kn));
    }
}

#[test]
fn law_a_test_stands_in_for_an_unknown_pressure_but_not_for_one_past_its_limit() {
    let (foot, test) = (on_foot(size(0.5, 0.5)), test_of(40.0, 3.0));
    let said = |kn: f64, ground: &Ground| {
        ground_findings(&leg(), both(kn), &foot, ground, Some(&test), Some(Length::mm(10.0))).expect("sound")
    };
    let turf = Ground { surface: Some(Surface::Turf), ..gravel() };
    let codes = |findings: &[Finding]| findings.iter().map(|f| (f.code, f.standing)).collect::<Vec<_>>();
    assert_eq!(codes(&said(20.0, &turf)), [("ground.sink", Standing::Inside)]);
    assert_eq!(
        codes(&said(40.0, &turf)),
        [("ground.pressure", Standing::PastLimit), ("ground.sink", Standing::Inside)]
    );
    assert_eq!(said(20.0, &gravel()).len(), 2);
}

// Timber.

/// NDS 3.10.4 (reference TM-11): the tabulated bearing area factors. The table rounds 1.094 at 4 in up to
/// 1.10; the formula's own lower value is used here.
#[test]
fn truth_bearing_area_factor() {
    for (inches, factor) in
        [(0.5, 1.75), (1.0, 1.38), (1.5, 1.25), (2.0, 1.19), (3.0, 1.13), (4.0, 1.10), (6.0, 1.0)]
    {
        let found = bearing_area_factor(Length::inches(inches), Length::inches(3.0)).expect("sound");
        assert!((found - factor).abs() < 0.0064, "{inches}: {found}");
    }
    near(bearing_area_factor(Length::inches(2.0), Length::inches(2.9)).expect("sound"), 1.0, 1e-12);
}

/// NDS Supplement 2018 Tables 4A and 4B in SI (reference TM-08).
#[test]
fn truth_bearing_strength_in_si() {
    for (name, mpa) in
        [("Douglas fir-larch", 4.31), ("southern pine", 3.90), ("spruce-pine-fir", 2.93), ("hem-fir", 2.79)]
    {
        assert!((timber(name).expect("listed").across_grain().as_mpa() - mpa).abs() < 0.005, "{name}");
    }
}

/// EN 338:2016 Table 1 (references TM-14 to TM-16): strength and stiffness across the grain; and where the
/// stiffness is derived as a thirtieth of that along the grain, the rule gives the two that were read.
#[test]
fn truth_en_338_across_the_grain() {
    for (name, mpa, stiffness) in
        [("C16", 2.2, 270.0), ("C24", 2.5, 370.0), ("C14", 2.0, 230.0), ("C30", 2.7, 400.0)]
    {
        let class = timber(name).expect("listed");
        near(class.across_grain().as_mpa(), mpa, 1e-12);
        near(class.stiffness_across().expect("known").as_mpa(), stiffness, 0.02);
    }
    near(8000.0 / 30.0, 270.0, 0.02);
    near(11000.0 / 30.0, 370.0, 0.02);
}

/// Rescue practice (references TM-20 to TM-22, DIS-06): 24,000 and 60,000 lb on four crossings; on nine of
/// 4×4 the published 54,000, 55,000 and 55,125 lb, of which the least is given.
#[test]
fn truth_crib_capacities() {
    let pounds = |pieces, inches| crib_capacity(pieces, Length::inches(inches)).expect("sound").as_lbf();
    near(pounds(2, 3.5), 24_000.0, 1e-9);
    near(pounds(2, 5.5), 60_000.0, 1e-9);
    near(pounds(3, 3.5), 54_000.0, 1e-9);
    assert!(pounds(3, 3.5) < 55_000.0);
    // 500 psi on the dressed contact, for a size that is not taught: 7.25² × 500 × 4.
    near(pounds(2, 7.25), 105_125.0, 1e-9);
}

/// Rescue practice (references TM-23, TM-27): three widths; one and a half on two crossings; one on one.
#[test]
fn truth_crib_heights() {
    let width = Length::inches(16.0);
    let feet = |crossings| crib_height_most(width, crossings).expect("sound").as_ft();
    near(feet(4), 4.0, 1e-12);
    near(feet(2), 2.0, 1e-12);
    near(feet(1), 16.0 / 12.0, 1e-12);
}

fn wet() -> TimberUse {
    TimberUse {
        service: Service::Wet,
        duration: LoadDuration::Medium,
        crush: Crush::FourHundredths,
        load_factor: Ratio::one(1.5),
    }
}

fn bearing(along_mm: f64, across_mm: f64, end_mm: f64) -> Bearing {
    Bearing {
        along_grain: Length::mm(along_mm),
        across_grain: Length::mm(across_mm),
        from_end: Length::mm(end_mm),
    }
}

/// EN 1995-1-1 6.1.5, C24 wet, 40 kN, foot 200 × 200 mm, 100 mm from the end: 1.5 × 40,000 / (260 × 200) =
/// 1.1538 N/mm² against 1.0 × 0.65 × 2.5 / 1.3 = 1.25 N/mm², 93 %.
#[test]
fn hand_crushing_by_eurocode() {
    let c24 = timber("C24").expect("listed");
    let found = crushing(leg(), both(40.0), bearing(200.0, 200.0, 100.0), c24, &wet()).expect("sound");
    near(limit(&found).as_mpa(), 1.25, 1e-12);
    let Measure::AgainstLimit { high, .. } = found.measure else { panic!("{found:?}") };
    near(high.si / 1e6, 60_000.0 / 52_000.0, 1e-12);
    assert_eq!((found.standing, found.share()), (Standing::Close, Some(93)));
}

/// NDS: Douglas fir-larch, 3½ in of bearing, 4 in from the end, wet, crush 0.02 in:
/// 625 × 0.67 × 3.875/3.5 × 0.73 = 338.4 psi.
#[test]
fn hand_crushing_by_nds() {
    let fir = timber("Douglas fir-larch").expect("listed");
    let at = Bearing {
        along_grain: Length::inches(3.5),
        across_grain: Length::inches(5.5),
        from_end: Length::inches(4.0),
    };
    let used = TimberUse { crush: Crush::TwoHundredths, ..wet() };
    let found = crushing(leg(), both(20.0), at, fir, &used).expect("sound");
    near(limit(&found).as_psi(), 625.0 * 0.67 * 3.875 / 3.5 * 0.73, 1e-9);
    near(limit(&found).as_psi(), 338.4, 0.001);
}

#[test]
fn law_timber_nobody_knows_is_not_known() {
    let mut stack = Stack {
        foot: size(0.2, 0.2),
        layers: vec![layer(0.05, 0.6, 0.2, 1, Grain::Along), layer(0.05, 0.6, 0.2, 3, Grain::Across)],
    };
    let findings = |stack: &Stack| {
        let spread = spread(stack).expect("sound");
        crushing_of_stack(&leg(), both(20.0), stack, &spread, &wet()).expect("sound")
    };
    // The foot on layer 1; layer 1 on layer 2, both faces.
    let known = findings(&stack);
    assert_eq!(known.len(), 3);
    assert!(known.iter().all(|f| f.standing != Standing::NotKnown));
    stack.layers[1].timber = None;
    let unknown = findings(&stack);
    assert_eq!(unknown.iter().filter(|f| f.standing == Standing::NotKnown).count(), 1);
    let spread = spread(&stack).expect("sound");
    assert_eq!(stack_stiffness(&stack, &spread), None);
    let guessed = timber("softwood, unknown grade").expect("listed").across_grain();
    assert!(TIMBERS.iter().all(|t| t.across_grain() >= guessed));
}

/// 100 mm of C24 (370 N/mm²) over 0.2 × 0.2 m exactly covered by its board: 370 × 40,000 / 100 N/mm = 148 MN/m.
#[test]
fn hand_stiffness_of_one_board() {
    let stack = Stack { foot: size(0.2, 0.2), layers: vec![layer(0.1, 0.2, 0.2, 1, Grain::Along)] };
    let spread = spread(&stack).expect("sound");
    let band = stack_stiffness(&stack, &spread).expect("known");
    near(band.low.as_mn_per_m(), 148.0, 1e-9);
    near(band.high.as_mn_per_m(), 148.0, 1e-9);
}

#[test]
fn refuse_sizes_loads_and_names_that_cannot_be() {
    let sentence = |error: GroundError| {
        let said = error.to_string();
        assert!(said.ends_with('.'), "{said}");
        said
    };
    let bad = |edit: &dyn Fn(&mut Stack)| {
        let mut stack = Stack { foot: size(0.2, 0.2), layers: vec![layer(0.05, 0.6, 0.2, 1, Grain::Along)] };
        edit(&mut stack);
        sentence(spread(&stack).expect_err("must be refused"))
    };
    assert!(bad(&|s| s.foot.along = Length::m(f64::NAN)).contains("side of the foot is NaN"));
    assert!(bad(&|s| s.foot.along = Length::m(-0.2)).contains("side of the foot"));
    assert!(bad(&|s| s.layers[0].thickness = Length::ZERO).contains("thickness"));
    assert!(bad(&|s| s.layers[0].length = Length::m(f64::INFINITY)).contains("length of a board"));
    assert!(bad(&|s| s.layers[0].boards = 0).contains("boards in a layer"));
    assert!(bad(&|s| s.layers[0].off_along = Length::m(0.4)).contains("layer 1"));
    assert!(bad(&|s| s.layers = vec![s.layers[0].clone(); 99]).contains("99 layers"));

    assert!(
        sentence(area_needed(Force::kn(10.0), Pressure::ZERO).expect_err("none"))
            .contains("allowed pressure")
    );
    assert!(sentence(area_needed(Force::kn(-1.0), Pressure::kpa(50.0)).expect_err("none")).contains("load"));
    assert!(sentence(presumptive_table("trade").expect_err("none")).contains("IBC 2012"));
    assert!(sentence(timber("balsa").expect_err("none")).contains("C24"));
    assert!(effective_base(size(1.0, 1.0), Length::m(0.5), Length::ZERO).is_err());
    assert!(edge_pressure(Force::ZERO, Moment::ZERO, Length::m(1.0), Length::m(1.0)).is_err());
    assert!(water_factor(Some(Length::m(-1.0)), Length::m(1.0)).is_err());
    let foot = on_foot(size(0.5, 0.5));
    assert!(ground_pressure(leg(), both(f64::NAN), &foot, &gravel()).is_err());
    // Ends that are crossed would be judged by the smaller load.
    let crossed = (Force::kn(90.0), Force::kn(50.0));
    let said = sentence(ground_pressure(leg(), crossed, &foot, &gravel()).expect_err("crossed"));
    assert!(said.contains("least load is 90 kN and the greatest 50 kN"));
    assert!(sink_under_load(leg(), &test_of(20.0, 1.0), crossed, foot.base, None).is_err());
    let nan_sink = SinkTest { sink: Length::m(f64::NAN), ..test_of(20.0, 1.0) };
    assert!(nan_sink.subgrade().is_err());
    let c24 = timber("C24").expect("listed");
    assert!(crushing(leg(), both(10.0), bearing(0.0, 10.0, 0.0), c24, &wet()).is_err());
    assert!(crushing(leg(), crossed, bearing(100.0, 100.0, 0.0), c24, &wet()).is_err());
    let light = TimberUse { load_factor: Ratio::one(0.5), ..wet() };
    assert!(crushing(leg(), both(10.0), bearing(100.0, 100.0, 0.0), c24, &light).is_err());
}
