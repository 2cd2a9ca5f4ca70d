//! Bearing capacity by named methods.

use super::*;
use tober_quantity::{Angle, Density};

/// The tables print three or four figures.
const PRINTED: f64 = 0.002;

fn soil(phi: f64, c_kpa: f64, kn_m3: f64) -> Soil {
    Soil {
        friction: Angle::deg(phi),
        cohesion: Pressure::kpa(c_kpa),
        density: Density::kg_m3(kn_m3 * 1000.0 / 9.80665),
        water_depth: Some(Length::m(100.0)),
    }
}

fn on(along_m: f64, across_m: f64, depth_m: f64) -> OnSoil {
    OnSoil {
        base: size(along_m, across_m),
        off_along: Length::ZERO,
        off_across: Length::ZERO,
        depth: Length::m(depth_m),
    }
}

/// Nc and Nq of the modern methods (reference GS-12: formula and printed table agree).
#[test]
fn truth_factors_of_cohesion_and_surcharge() {
    let rows = [
        (20.0, 14.83, 6.40),
        (25.0, 20.72, 10.66),
        (30.0, 30.14, 18.40),
        (35.0, 46.12, 33.30),
        (40.0, 75.31, 64.20),
    ];
    for (phi, nc, nq) in rows {
        for method in [Method::Meyerhof, Method::Hansen, Method::Vesic, Method::Eurocode] {
            let n = factors(method, Angle::deg(phi)).expect("in range");
            near(n.cohesion, nc, PRINTED);
            near(n.surcharge, nq, PRINTED);
        }
    }
    let n = factors(Method::Vesic, Angle::deg(0.0)).expect("in range");
    near(n.cohesion, 5.14, PRINTED);
    near(n.surcharge, 1.0, PRINTED);
}

fn weight(method: Method, rows: &[(f64, f64)]) {
    assert!(factors(method, Angle::deg(0.0)).expect("in range").weight.abs() < 1e-12);
    for (phi, expected) in rows {
        near(factors(method, Angle::deg(*phi)).expect("in range").weight, *expected, PRINTED);
    }
}

/// Nγ of Meyerhof (reference GS-13).
#[test]
fn truth_weight_factor_of_meyerhof() {
    weight(Method::Meyerhof, &[(20.0, 2.87), (25.0, 6.77), (30.0, 15.67), (35.0, 37.15), (40.0, 93.69)]);
}

/// Nγ of Hansen (reference GS-14).
#[test]
fn truth_weight_factor_of_hansen() {
    weight(Method::Hansen, &[(20.0, 2.95), (25.0, 6.76), (30.0, 15.07), (35.0, 33.92), (40.0, 79.54)]);
}

/// Nγ of Vesic (reference GS-15).
#[test]
fn truth_weight_factor_of_vesic() {
    weight(Method::Vesic, &[(20.0, 5.39), (25.0, 10.88), (30.0, 22.40), (35.0, 48.03), (40.0, 109.41)]);
}

/// Nγ of EN 1997-1 Annex D (reference GS-16).
#[test]
fn truth_weight_factor_of_eurocode() {
    weight(Method::Eurocode, &[(20.0, 3.93), (25.0, 9.01), (30.0, 20.09), (35.0, 45.23), (40.0, 106.05)]);
}

/// Terzaghi's factors (reference GS-17); Nc and Nq are printed to one place.
#[test]
fn truth_factors_of_terzaghi() {
    let rows = [
        (0.0, 5.7, 1.0, 0.0),
        (20.0, 17.7, 7.4, 5.0),
        (25.0, 25.1, 12.7, 9.7),
        (30.0, 37.2, 22.5, 19.7),
        (35.0, 57.8, 41.4, 42.4),
        (40.0, 95.7, 81.3, 100.4),
    ];
    for (phi, nc, nq, ng) in rows {
        let n = factors(Method::TerzaghiOlder, Angle::deg(phi)).expect("in range");
        assert!((n.cohesion - nc).abs() <= 0.06 && (n.surcharge - nq).abs() <= 0.06, "{phi}: {n:?}");
        assert!((n.weight - ng).abs() <= 0.01, "{phi}: {n:?}");
    }
}

/// A US foundation text's Example 3.1 (reference WE-05): 2 m square, 1.5 m deep: 1078.29 kPa.
#[test]
fn truth_terzaghi_square_of_a_textbook() {
    let found = capacity(Method::TerzaghiKumbhojkar, &soil(25.0, 20.0, 16.5), &on(2.0, 2.0, 1.5));
    near(found.expect("sound").as_kpa(), 1078.29, 0.001);
}

/// A page of solved problems (reference WE-07): 670 kN with a factor of 3 needs 0.943 m or, by the older table, 0.962 m.
#[test]
fn truth_terzaghi_square_for_a_load() {
    for (method, side_m) in [(Method::TerzaghiKumbhojkar, 0.943), (Method::TerzaghiOlder, 0.962)] {
        let q = capacity(method, &soil(40.0, 0.0, 18.1), &on(side_m, side_m, 1.0)).expect("sound");
        near(q.as_kpa() * side_m * side_m / 3.0, 670.0, 0.01);
    }
}

/// Shape and depth of Vesic at 30 degrees (references GS-20, GS-21 and WE-38, FHWA GEC-6).
#[test]
fn truth_shape_and_depth_of_vesic() {
    let phi = Angle::deg(30.0);
    let n = factors(Method::Vesic, phi).expect("in range");
    let s = shape_factors(Method::Vesic, &n, phi, 1.0);
    near(s.cohesion, 1.610, 0.001);
    near(s.surcharge, 1.577, 0.001);
    near(s.weight, 0.600, 0.001);
    near(depth_factor(phi, 1.0), 1.289, 0.001);
    near(depth_factor(phi, 2.0), 1.320, 0.001);
    near(depth_factor(phi, 0.0), 1.0, 1e-12);
}

/// The effective area of GEC-6 (references GS-22, WE-37): 3 × 5 m, 0.3 and 0.5 m out of centre, is 9.6 m².
#[test]
fn truth_effective_area_is_what_capacity_counts() {
    let off = OnSoil { off_along: Length::m(0.3), off_across: Length::m(0.5), ..on(3.0, 5.0, 0.0) };
    let centred = on(2.4, 4.0, 0.0);
    let soil = soil(30.0, 5.0, 18.0);
    for method in Method::ALL {
        let [a, b] = [&off, &centred].map(|on| capacity(method, &soil, on).expect("sound").as_kpa());
        near(a, b, 1e-12);
    }
    let finding = capacity_finding(leg(), both(960.0), &soil, &off, Some(Method::Vesic), 3.0).expect("sound");
    let Measure::AgainstLimit { high, .. } = finding.measure else { panic!("{finding:?}") };
    near(high.si, 100_000.0, 1e-9);
}

/// Undrained clay on its surface (reference GS-19): 5.14 cu in a strip, about a fifth more under a square.
#[test]
fn truth_undrained_clay() {
    let clay = soil(0.0, 40.0, 18.0);
    near(
        capacity(Method::Eurocode, &clay, &on(1.0, 1.0, 0.0)).expect("sound").as_kpa(),
        6.17 * 40.0,
        PRINTED,
    );
    near(
        capacity(Method::Eurocode, &clay, &on(90.0, 0.01, 0.0)).expect("sound").as_kpa(),
        5.14 * 40.0,
        PRINTED,
    );
    near(undrained_allowed(Pressure::kpa(30.0), 3.0).expect("sound").as_kpa(), 51.4, PRINTED);
}

/// DIS-05: at 30 degrees the methods differ by half; the lowest decides where none is named, and the spread is said.
#[test]
fn law_the_lowest_method_decides_and_the_spread_is_said() {
    let (soil, on) = (soil(30.0, 0.0, 18.0), on(1.0, 1.0, 0.0));
    let all = capacities(&soil, &on).expect("sound");
    let least = all.iter().map(|(_, q)| q.as_kpa()).fold(f64::INFINITY, f64::min);
    let most = all.iter().map(|(_, q)| q.as_kpa()).fold(0.0, f64::max);
    assert!(all.len() == Method::ALL.len() && most > 1.3 * least, "{all:?}");
    let finding = capacity_finding(leg(), both(10.0), &soil, &on, None, 3.0).expect("sound");
    near(limit(&finding).as_kpa(), least / 3.0, 1e-9);
    assert!(finding.notes.iter().any(|note| note.contains("The methods differ")), "{finding:?}");
    assert_eq!(finding.overriding, Override::Never);
}

/// A heavier load never gains, a wider base, drier ground or a smaller factor never loses.
#[test]
fn law_capacity_goes_the_right_way() {
    for method in Method::ALL {
        for phi in [0.0, 10.0, 20.0, 25.0, 30.0, 35.0, 40.0] {
            let carries = |side_m: f64, water_m: Option<f64>, c_kpa: f64| {
                let wet = Soil { water_depth: water_m.map(Length::m), ..soil(phi, c_kpa, 18.0) };
                capacity(method, &wet, &on(side_m, side_m, 0.2)).expect("sound").as_kpa() * side_m * side_m
            };
            assert!(carries(1.0, Some(9.0), 5.0) <= carries(1.2, Some(9.0), 5.0));
            assert!(carries(1.0, Some(0.0), 5.0) <= carries(1.0, Some(0.5), 5.0));
            assert!(carries(1.0, None, 5.0) <= carries(1.0, Some(0.0), 5.0));
            assert!(carries(1.0, Some(9.0), 5.0) < carries(1.0, Some(9.0), 6.0));
        }
    }
    let share = |kn: f64| {
        let f = capacity_finding(leg(), both(kn), &soil(30.0, 0.0, 18.0), &on(1.0, 1.0, 0.0), None, 3.0);
        f.expect("sound").share()
    };
    assert!(share(20.0) < share(40.0));
}

/// Every method grows with friction, and the base turned a quarter gives the same.
#[test]
fn law_friction_and_mirror() {
    for method in Method::ALL {
        let mut before = 0.0;
        for phi in 0..=40 {
            let soil = soil(f64::from(phi), 10.0, 18.0);
            let q = capacity(method, &soil, &on(1.0, 2.0, 0.5)).expect("sound").as_kpa();
            assert!(q >= before * 0.999, "{method:?} {phi}: {q} after {before}");
            near(capacity(method, &soil, &on(2.0, 1.0, 0.5)).expect("sound").as_kpa(), q, 1e-12);
            before = q;
        }
    }
}

#[test]
fn refuse_soil_out_of_range() {
    for (phi, c, density) in
        [(-1.0, 5.0, 18.0), (46.0, 5.0, 18.0), (f64::NAN, 5.0, 18.0), (30.0, -1.0, 18.0), (30.0, 1.0, 1.0)]
    {
        let wrong = soil(phi, c, density);
        assert!(capacities(&wrong, &on(1.0, 1.0, 0.0)).is_err(), "{wrong:?}");
    }
    assert!(capacity(Method::TerzaghiOlder, &soil(41.0, 0.0, 18.0), &on(1.0, 1.0, 0.0)).is_err());
    let sound = soil(30.0, 0.0, 18.0);
    assert!(capacity_finding(leg(), both(10.0), &sound, &on(1.0, 1.0, 0.0), None, 1.5).is_err());
}
