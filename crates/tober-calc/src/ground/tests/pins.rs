//! The pin of a leg, the eye of a plate, and boards that hang over.

use super::*;

fn pin() -> Pin {
    Pin {
        diameter: Some(Length::mm(32.0)),
        strength: Some(Pressure::mpa(355.0)),
        planes: Planes::Double,
        leg_wall: Some(Length::mm(8.0)),
        sleeve_wall: Some(Length::mm(6.0)),
        wall_strength: Some(Pressure::mpa(235.0)),
        gap: Some(Length::mm(3.0)),
        sleeve_bored: true,
    }
}

fn of_pin(pin: &Pin, kn: f64) -> Vec<Finding> {
    pin_findings(&leg(), both(kn), pin, Ratio::one(1.35)).expect("sound")
}

fn figures(finding: &Finding) -> (f64, f64) {
    let Measure::AgainstLimit { high, limit, .. } = &finding.measure else { panic!("{finding:?}") };
    (high.si, limit.si)
}

/// AISC design example D.7, later edition (reference WE-23): rupture 93.4, shear 95.7, bearing 32.4, yield 76.5 kips;
/// allowed 16.2.
#[test]
fn truth_eye_plate_of_the_aisc_example() {
    let inches = Length::inches;
    let plate = EyePlate {
        width: inches(4.25),
        thickness: inches(0.5),
        end: inches(2.25),
        pin: inches(1.0),
        hole: inches(1.03),
        yields: Pressure::psi(36_000.0),
        breaks: Pressure::psi(58_000.0),
    };
    let found = eye_plate(&plate).expect("sound");
    near(found.rupture.as_kip(), 93.4, 0.003);
    near(found.shear.as_kip(), 95.7, 0.003);
    near(found.bearing.as_kip(), 32.4, 0.003);
    near(found.yielding.as_kip(), 76.5, 0.003);
    near(found.allowed.as_kip(), 16.2, 0.003);
}

/// 30 kN × 1.35 on two faces of 804.25 mm²: 20.25 kN against 0.6 × 804.25 × 355/1.25 = 137.04 kN. Bearing: 15 kN against
/// 0.6 × 6 × 32 × 235 = 27.07 kN (1.5/1.35 = 1.11 is more). Bending: M = 30/8 (16 + 12 + 12) = 150 N m; W = 3217 mm³,
/// W fy = 1142.1 N m; 150/(0.8 × 1142.1) = 0.1642.
#[test]
fn hand_pin_of_a_leg() {
    let found = of_pin(&pin(), 30.0);
    let [shear, bearing, bending] = [0, 1, 2].map(|i| figures(&found[i]));
    near(shear.0, 20_250.0, 1e-6);
    near(shear.1, 137_044.0, 1e-4);
    near(bearing.0, 15_000.0, 1e-6);
    near(bearing.1, 27_072.0, 1e-6);
    near(bending.0, 0.16417, 1e-3);
}

/// What is not told is not known, and never inside.
#[test]
fn law_a_pin_less_known_is_never_better() {
    let cases: [fn(&mut Pin); 6] = [
        |p| p.diameter = None,
        |p| p.strength = None,
        |p| p.leg_wall = None,
        |p| p.sleeve_wall = None,
        |p| p.wall_strength = None,
        |p| p.gap = None,
    ];
    for forget in cases {
        let mut less = pin();
        forget(&mut less);
        let found = of_pin(&less, 30.0);
        assert!(found.iter().any(|f| f.standing == Standing::NotKnown), "{found:?}");
        for (full, less) in of_pin(&pin(), 30.0).iter().zip(&found) {
            assert!(less.standing == full.standing || less.standing == Standing::NotKnown);
        }
    }
    let rim = Pin { sleeve_bored: false, ..pin() };
    let less = Pin { sleeve_wall: None, ..rim };
    assert_eq!(of_pin(&less, 30.0)[1].standing, Standing::NotKnown);
    let single = Pin { planes: Planes::Single, ..pin() };
    assert_eq!(of_pin(&single, 30.0)[2].standing, Standing::NotKnown);
}

/// Twice the load and twice the section's area is the same share; a heavier load never gains.
#[test]
fn law_pins_scale() {
    let scaled = |by: f64| {
        let longer = |size: Option<Length>| size.map(|size| size * by);
        let one = pin();
        Pin {
            diameter: longer(one.diameter),
            leg_wall: longer(one.leg_wall),
            sleeve_wall: longer(one.sleeve_wall),
            gap: longer(one.gap),
            ..one
        }
    };
    for (small, large) in of_pin(&scaled(1.0), 40.0).iter().zip(of_pin(&scaled(2.0), 160.0)) {
        let (a, b) = (figures(small), figures(&large));
        near(a.0 / a.1, b.0 / b.1, 1e-9);
    }
    for (light, heavy) in of_pin(&pin(), 20.0).iter().zip(of_pin(&pin(), 60.0)) {
        assert!(light.share() < heavy.share());
    }
}

#[test]
fn refuse_pins_out_of_range() {
    let wrong = [
        Pin { diameter: Some(Length::mm(f64::NAN)), ..pin() },
        Pin { gap: Some(Length::mm(-1.0)), ..pin() },
        Pin { strength: Some(Pressure::mpa(1e6)), ..pin() },
    ];
    for one in wrong {
        assert!(pin_findings(&leg(), both(30.0), &one, Ratio::one(1.35)).is_err(), "{one:?}");
    }
    assert!(pin_findings(&leg(), both(30.0), &pin(), Ratio::one(0.9)).is_err());
}

fn boards(foot_m: f64, layers: Vec<Layer>, kn: f64) -> Vec<Finding> {
    let stack = Stack { foot: size(foot_m, foot_m), layers };
    let spread = spread(&stack).expect("sound");
    let used = TimberUse {
        service: Service::Wet,
        duration: LoadDuration::Medium,
        crush: Crush::FourHundredths,
        load_factor: Ratio::one(1.35),
    };
    bending_of_stack(&leg(), both(kn), &stack, &spread, &used).expect("sound")
}

/// A foot of 300 mm on one C24 board 100 × 300 × 900 mm: it spreads 200 mm to each end, to 700 mm. 42 kN over 0.7 × 0.3 m is
/// 200 kPa; M = 200 × 0.3 × 0.2²/2 = 1.2 kN m; W = 0.3 × 0.1²/6 = 500 cm³: 2.4 × 1.35 = 3.24 N/mm² against
/// 0.65 × 24/1.3 = 12. V = 200 × 0.3 × (0.2 − 0.1) = 6 kN: 1.5 × 6/(0.3 × 0.1) × 1.35 = 0.405 against 0.65 × 0.67 × 4/1.3 = 1.34.
#[test]
fn hand_board_as_a_cantilever() {
    let found = boards(0.3, vec![layer(0.1, 0.9, 0.3, 1, Grain::Along)], 42.0);
    let [bending, shear] = [0, 1].map(|i| figures(&found[i]));
    near(bending.0, 3.24e6, 1e-9);
    near(bending.1, 12e6, 1e-9);
    // Of the overhang of 2 h, half goes straight down.
    near(shear.0, 0.405e6, 1e-9);
    near(shear.1, 1.34e6, 1e-9);
}

/// The outrigger note (reference WE-11): a load of 1.15 m on a mat of 1.65 m leaves 0.25 m at each end.
#[test]
fn truth_overhang_of_the_outrigger_note() {
    let stack = Stack { foot: size(1.15, 1.0), layers: vec![layer(0.25, 1.65, 1.0, 1, Grain::Along)] };
    let spread = spread(&stack).expect("sound");
    near((spread.undersides[0].along.as_m() - spread.contacts[0].along.as_m()) / 2.0, 0.25, 1e-12);
    near(spread.base.area().as_m2(), 1.65, 1e-12);
}

/// A stack turned a quarter, a heavier load, timber that nobody knows.
#[test]
fn law_boards_turned_and_loaded() {
    let turned = |grain| boards(0.3, vec![layer(0.1, 0.9, 0.3, 1, grain)], 42.0);
    for (a, b) in turned(Grain::Along).iter().zip(turned(Grain::Across)) {
        assert_eq!(figures(a), figures(&b));
    }
    let loaded = |kn| boards(0.3, vec![layer(0.1, 0.9, 0.3, 1, Grain::Along)], kn);
    for (light, heavy) in loaded(20.0).iter().zip(loaded(60.0)) {
        assert!(light.share() < heavy.share());
    }
    let unknown = Layer { timber: None, ..layer(0.1, 0.9, 0.3, 1, Grain::Along) };
    let found = boards(0.3, vec![unknown], 42.0);
    assert!(found.len() == 2 && found.iter().all(|f| f.standing == Standing::NotKnown));
    // A layer no wider than its load hangs nowhere over.
    assert!(boards(0.3, vec![layer(0.1, 0.3, 0.3, 1, Grain::Along)], 42.0).is_empty());
}

/// How far the contact rule of one code and the roller rule of another may be apart: half as much again.
const CODES_APART: f64 = 1.5;

/// A pin on a flat edge is a roller: AISC 360-16 J7-2 (from memory), R = 1.2 (Fy − 90) l d/20 in N/mm² and mm, over a safety factor
/// of 2.00. The contact rule of EN 1993-1-8 Table 3.10 on a flat edge allows nearly the same.
#[test]
fn truth_a_pin_on_a_rim_is_a_roller_of_the_american_code() {
    use crate::finding::Measure;
    for (yields, diameter, wall) in [(250.0, 25.0, 6.0), (275.0, 30.0, 8.0), (355.0, 32.0, 10.0)] {
        let strength = Some(Pressure::mpa(yields));
        let one = Pin {
            diameter: Some(Length::mm(diameter)),
            sleeve_wall: Some(Length::mm(wall)),
            strength,
            wall_strength: strength,
            sleeve_bored: false,
            ..pin()
        };
        let found = of_pin(&one, 1.0);
        let Measure::AgainstLimit { limit, .. } = &found[1].measure else { panic!("{:?}", found[1]) };
        let roller_n = 1.2 * (yields - 90.0) * wall * diameter / 20.0 / 2.0;
        let ratio = limit.si / roller_n;
        assert!((1.0 / CODES_APART..CODES_APART).contains(&ratio), "{} N and {roller_n} N", limit.si);
    }
}

fn wet() -> TimberUse {
    TimberUse {
        service: Service::Wet,
        duration: LoadDuration::Medium,
        crush: Crush::FourHundredths,
        load_factor: Ratio::one(1.35),
    }
}

/// A plate of 20 mm under a foot of 200 mm spreads it by its thickness to each side: 50 kN over 240 mm by 240 mm are 868.1 kPa,
/// M = 868.1 · 0.24 · 0.02²/2 = 41.67 N m, σ = 6 · 1.35 · 41.67/(0.2 · 0.02²) = 4.219 N/mm² of 275, either way.
#[test]
fn hand_a_plate_of_steel_bends_either_way() {
    let size = Length::mm(200.0);
    let plate = |name: &str| Layer {
        thickness: Length::mm(20.0),
        length: Length::mm(500.0),
        width: Length::mm(500.0),
        boards: 1,
        grain: Grain::Along,
        off_along: Length::ZERO,
        off_across: Length::ZERO,
        timber: Some(metal(name).expect("listed")),
    };
    let bent = |name: &str| {
        let stack = Stack { foot: PlanSize { along: size, across: size }, layers: vec![plate(name)] };
        let spread = spread(&stack).expect("sound");
        assert!((spread.base.along.as_mm() - 240.0).abs() < 1e-9 && spread.base.along == spread.base.across);
        assert!(stack_stiffness(&stack, &spread).is_some(), "its stiffness is known");
        assert!(crushing_of_stack(&leg(), both(50.0), &stack, &spread, &wet()).expect("sound").is_empty());
        bending_of_stack(&leg(), both(50.0), &stack, &spread, &wet()).expect("sound")
    };
    let steel = bent("S275");
    assert_eq!(steel.iter().filter(|f| f.code == "ground.mat-bending").count(), 2, "along and across");
    for one in steel.iter().filter(|f| f.code == "ground.mat-bending") {
        let (stress, limit) = figures(one);
        near(stress / 1e6, 4.21875, 1e-5);
        near(limit / 1e6, 275.0, 1e-9);
    }
    // 240/1.1 N/mm².
    near(figures(&bent("EN AW-6082 T6")[0]).1 / 1e6, 218.18182, 1e-4);
    assert!(metal("tin").is_err());
}

/// 5 kN on a board of 600 mm by 50 mm that spans 600 mm across its grain: M = 5 · 0.6/8 = 375 N m, σ = 6 · 1.35 · 375/(0.6 · 0.05²) =
/// 2.025 N/mm², of 0.65 · 0.4/1.3 = 0.2 N/mm².
#[test]
fn hand_a_board_that_spans_across_its_grain_breaks() {
    let sizes = (Length::mm(600.0), Length::mm(600.0), Length::mm(50.0));
    let class = timber("C24").expect("listed");
    let found = bending_across_grain(&leg(), both(5.0), sizes, class, &wet()).expect("sound");
    let (stress, limit) = figures(&found);
    near(stress / 1e6, 2.025, 1e-9);
    near(limit / 1e6, 0.2, 1e-9);
    assert_eq!(found.standing, Standing::PastLimit);
    let american = timber("hem-fir").expect("listed");
    let found = bending_across_grain(&leg(), both(5.0), sizes, american, &wet()).expect("sound");
    assert_eq!(found.standing, Standing::NotKnown);
}
