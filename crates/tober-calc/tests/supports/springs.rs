//! Leg, timber and ground one on top of another.

use tober_calc::supports::{Between, Layer, SupportsError, ground_under, in_series, timber_stack};
use tober_quantity::{Area, Length, Pressure, Quantity, Stiffness, Subgrade};

fn gives(low_mn_m: f64, high_mn_m: f64) -> Layer {
    Layer::Gives(Between { low: Stiffness::mn_per_m(low_mn_m), high: Stiffness::mn_per_m(high_mn_m) })
}

fn assert_mn_m(found: Between<Stiffness>, low: f64, high: f64) {
    let (l, h) = (found.low.as_mn_per_m(), found.high.as_mn_per_m());
    assert!(
        (l - low).abs() < 1e-9 * low && (h - high).abs() < 1e-9 * high,
        "{l} to {h}, not {low} to {high}"
    );
}

#[test]
fn hand_two_layers_in_series_give_twice_and_a_soft_one_rules() {
    // 1/20 + 1/20 = 1/10. 1/10 + 1/40 = 1/8 and 1/30 + 1/60 = 1/20.
    assert_mn_m(in_series(&[gives(20.0, 20.0), gives(20.0, 20.0)]).expect("good"), 10.0, 10.0);
    assert_mn_m(in_series(&[gives(10.0, 30.0), gives(40.0, 60.0)]).expect("good"), 8.0, 20.0);
    assert_mn_m(in_series(&[gives(10.0, 30.0), Layer::DoesNotGive]).expect("good"), 10.0, 30.0);
    // A layer that is not known: the softest that is accepted, and at most what the others allow.
    assert_mn_m(in_series(&[gives(10.0, 30.0), Layer::NotKnown]).expect("good"), 1e-3, 30.0);
    assert_mn_m(in_series(&[]).expect("good"), 1e6, 1e6);
}

#[test]
fn truth_timber_across_the_grain_with_the_modulus_of_en_338_2016_table_1() {
    // EN 338:2016 Table 1: E90,mean 0.27 kN/mm² for C16, 0.37 kN/mm² for C24. A stack 0.2 m high on
    // 0.3 m × 0.3 m: 0.27e9 · 0.09 / 0.2 = 121.5 MN/m to 0.37e9 · 0.09 / 0.2 = 166.5 MN/m.
    let e90 = Between { low: Pressure::mpa(270.0), high: Pressure::mpa(370.0) };
    let Ok(Layer::Gives(stack)) = timber_stack(e90, Area::m2(0.09), Length::m(0.2)) else {
        panic!("it gives")
    };
    assert_mn_m(stack, 121.5, 166.5);
    assert_eq!(timber_stack(e90, Area::m2(0.09), Length::ZERO), Ok(Layer::DoesNotGive));
}

#[test]
fn hand_ground_under_a_board() {
    // 40 kPa/mm under 0.5 m² is 20 kN/mm.
    let k = Between::exact(Subgrade::kpa_per_mm(40.0));
    let Ok(Layer::Gives(board)) = ground_under(k, Area::m2(0.5)) else { panic!("it gives") };
    assert_mn_m(board, 20.0, 20.0);
}

#[test]
fn refuse_layers_without_stiffness() {
    for k in [0.0, -5.0, f64::NAN, f64::INFINITY] {
        let refused = in_series(&[gives(20.0, 20.0), gives(k, k)]);
        assert!(matches!(refused, Err(SupportsError::LayerOutOfRange { layer: 1, .. })), "{k}");
        assert!(
            refused.expect_err("refused").to_string().starts_with("Layer 2 of a support: the stiffness is")
        );
    }
    assert!(matches!(in_series(&[gives(30.0, 20.0)]), Err(SupportsError::RangeTurnedRound { .. })));
    let e90 = Between::exact(Pressure::mpa(300.0));
    for (area, height) in [(0.0, 0.2), (f64::NAN, 0.2), (0.1, -0.2), (0.1, f64::INFINITY)] {
        assert!(timber_stack(e90, Area::m2(area), Length::m(height)).is_err());
    }
    let bad = ground_under(Between::exact(Subgrade::from_si(0.0)), Area::m2(0.5));
    assert!(bad.expect_err("refused").to_string().contains("the stiffness of the ground is 0 kPa/mm;"));
}
