//! Published and hand-worked weighings; the laws are in a file of their own.

use super::estimate::Estimate;
use super::model::{Model, Row};
use super::*;

mod laws;

/// A small generator, so that a case is found again from its seed (Knuth's multiplier for 64 bits).
struct Chance(u64);

impl Chance {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }
    /// Normal with mean 0 and deviation 1: the sum of twelve even ones.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.unit()).sum::<f64>() - 6.0
    }
    fn below(&mut self, n: usize) -> usize {
        (self.unit() * n as f64) as usize
    }
}

fn body(name: &str, mass_kg: f64, deviation_kg: f64) -> KnownBody {
    KnownBody {
        name: name.into(),
        mass: Mass::kg(mass_kg),
        deviation: Mass::kg(deviation_kg),
        from: Provenance::Guessed,
    }
}

fn carrier(name: &str, along_m: f64, across_m: f64) -> Carrier {
    Carrier { name: name.into(), along: Length::m(along_m), across: Length::m(across_m) }
}

fn placed(body: &str, along_m: f64, across_m: f64, off_m: f64) -> PlacedBody {
    PlacedBody {
        body: body.into(),
        placement: "road".into(),
        along: Some((Length::m(along_m), Length::m(off_m))),
        across: Some((Length::m(across_m), Length::m(off_m))),
    }
}

fn reading(state: &str, on: &[&str], mass: Mass, deviation_kg: f64) -> ScaleReading {
    let everything = on.is_empty();
    ScaleReading {
        name: format!("{state}: {}", if everything { "everything".into() } else { on.join(" + ") }),
        state: state.into(),
        on: if everything { On::Everything } else { On::These(on.iter().map(|n| (*n).into()).collect()) },
        mass,
        deviation: Mass::kg(deviation_kg),
        from: Provenance::measured("scale"),
    }
}

/// A body of which next to nothing is known, on a hitch and an axle.
fn trailer(arm: Length, hitch: Mass, axle: Mass) -> Weighed {
    let weighing = Weighing {
        bodies: vec![body("trailer", 4_000.0, 3e4)],
        states: vec![State {
            name: "hitched".into(),
            supports: vec![carrier("axle", 0.0, 0.0), carrier("hitch", arm.as_m(), 0.0)],
            groups: Vec::new(),
            bodies: vec![placed("trailer", 1.0, 0.0, 30.0)],
        }],
        readings: vec![reading("hitched", &["hitch"], hitch, 0.5), reading("hitched", &["axle"], axle, 0.5)],
        deviation_next: None,
    };
    weigh(&weighing).expect("it is worked")
}

/// How far two figures may be apart where the book's mass is known to 30 t and its place to 30 m: next to nothing.
const NEXT_TO_NOTHING: f64 = 1e-6;

fn near(found: f64, wanted: f64, share: f64) {
    assert!((found - wanted).abs() <= share * wanted.abs().max(1e-3), "{found} for {wanted}");
}

/// A trailer-parts supplier's page on the place of an axle (reference WE-25), 264 in from tongue to axle: 1,025 and
/// 7,200 lb are 12.46 % on the tongue, 6.499 in too far forward for 10 %; 300 and 8,200 lb are 3.5 %, 17 in too far back.
#[test]
fn truth_tongue_and_axle_readings_place_the_weight() {
    let arm = Length::inches(264.0);
    let pounds = |lb: f64| Mass::kg(lb * 0.453_592_37);
    for (tongue, wheels, percent, inches, tolerance) in
        [(1_025.0, 7_200.0, 12.46, 6.499, 1e-3), (300.0, 8_200.0, 3.5, -17.0, 1e-2)]
    {
        let found = trailer(arm, pounds(tongue), pounds(wheels));
        let state = &found.states[0];
        near(state.total.0.as_kg(), (tongue + wheels) * 0.453_592_37, NEXT_TO_NOTHING);
        let along = state.along.expect("two supports place it along").0;
        near(along.as_in() / 264.0 * 100.0, percent, 1e-2);
        near(along.as_in() - 0.10 * 264.0, inches, tolerance);
    }
}

/// A trade page on low loaders (reference WE-35): 60 t whose weight acts 2 m behind the kingpin of 8 m puts 45 t on the
/// kingpin and 15 t on the axles.
#[test]
fn truth_kingpin_and_axle_readings_of_a_low_loader() {
    let found = trailer(Length::m(8.0), Mass::t(45.0), Mass::t(15.0));
    let state = &found.states[0];
    near(state.total.0.as_t(), 60.0, NEXT_TO_NOTHING);
    near(8.0 - state.along.expect("along").0.as_m(), 2.0, NEXT_TO_NOTHING);
}

/// A trailer of 2,500 lb with 284 lb on its tongue: 11.36 %, where the page that has the example prints 11.86 %
/// (reference WE-26 and DIS-20, which says to use 11.36).
#[test]
fn truth_a_share_that_a_page_misprints_is_not_reproduced() {
    let pounds = |lb: f64| Mass::kg(lb * 0.453_592_37);
    let found = trailer(Length::m(1.0), pounds(284.0), pounds(2_500.0 - 284.0));
    let share = found.states[0].along.expect("along").0.as_m();
    near(share * 100.0, 11.36, 1e-3);
    assert!((share * 100.0 - 11.86).abs() > 0.4);
}

/// The plane z = a + b x + c y of least squares through (0,-3,0), (4,0,0), (3,-1,1), (1,-2,1), (-1,-4,-3): a = 158/15,
/// b = -7/3, c = 56/15, residuals 2/3, -6/5, 6/5, 4/15, -14/15, sum of squares 64/15 (reference WE-34: inputs of a public
/// page of problems, answers exact).
#[test]
fn truth_a_plane_of_least_squares() {
    const POINTS: [[f64; 3]; 5] =
        [[0.0, -3.0, 0.0], [4.0, 0.0, 0.0], [3.0, -1.0, 1.0], [1.0, -2.0, 1.0], [-1.0, -4.0, -3.0]];
    const RESIDUALS: [f64; 5] = [2.0 / 3.0, -6.0 / 5.0, 6.0 / 5.0, 4.0 / 15.0, -14.0 / 15.0];
    // As unknowns of which next to nothing is known; and as loads that are free, of which nothing is.
    let known = |deviation: f64, unknowns: usize| Model {
        prior: vec![0.0; unknowns],
        deviation: vec![deviation; unknowns],
        places: Vec::new(),
        states: Vec::new(),
    };
    let row = |[x, y, z]: [f64; 3], free: bool| Row {
        h: if free { Vec::new() } else { vec![1.0, x, y] },
        b: if free { vec![1.0, x, y] } else { Vec::new() },
        y: z,
        sigma: 1.0,
    };
    let as_residual = |x: &Row, value: &[f64]| x.y - x.h.iter().zip(value).map(|(h, v)| h * v).sum::<f64>();
    let model = known(1e4, 3);
    let rows: Vec<Row> = POINTS.iter().map(|p| row(*p, false)).collect();
    let estimate = Estimate::of(&model, &rows).expect("it is worked");
    for (found, wanted) in estimate.value.iter().zip([158.0 / 15.0, -7.0 / 3.0, 56.0 / 15.0]) {
        near(*found, wanted, 1e-5);
    }
    for (row, wanted) in rows.iter().zip(RESIDUALS) {
        near(as_residual(row, &estimate.value), wanted, 1e-4);
    }
    assert_eq!(estimate.determined(), 3);

    let model = known(1.0, 0);
    let rows: Vec<Row> = POINTS.iter().map(|p| row(*p, true)).collect();
    let estimate = Estimate::of(&model, &rows).expect("it is worked");
    near(estimate.misfit(), 64.0 / 15.0, 1e-12);
    assert_eq!(estimate.freedom(), 2);
}

/// A level circuit of eight lines from four benchmarks to Q and R, weighted by one over the number of set-ups: Q 815.424
/// ± 0.012, R 802.958 ± 0.016, standard error of unit weight 0.067 with the weights times twelve (Open Access Surveying
/// Library, Least Squares Lite, chapter E, example; read in a stored copy. Benchmarks A 806.52, B 818.32, C 820.12,
/// D 824.04 follow from the residuals of its chapter B, and agree line by line.)
#[test]
fn truth_a_weighted_level_circuit() {
    // Q, R, what was read, set-ups.
    const LINES: [(f64, f64, f64, f64); 8] = [
        (1.0, 0.0, 806.52 + 8.91, 3.0),
        (1.0, 0.0, 818.32 - 2.92, 2.0),
        (1.0, 0.0, 820.12 - 4.67, 1.0),
        (1.0, 0.0, 824.04 - 8.66, 3.0),
        (0.0, 1.0, 806.52 - 3.56, 3.0),
        (0.0, 1.0, 820.12 - 17.12, 4.0),
        (0.0, 1.0, 824.04 - 21.10, 2.0),
        (-1.0, 1.0, -12.47, 3.0),
    ];
    /// The page prints thousandths, one of them cut off.
    const THOUSANDTH: f64 = 1.2e-3;
    let model =
        Model { prior: vec![815.0, 803.0], deviation: vec![1e4; 2], places: Vec::new(), states: Vec::new() };
    let row = |(q, r, read, set_ups): (f64, f64, f64, f64)| {
        let sigma = (set_ups / 12.0).sqrt();
        Row { h: vec![q / sigma, r / sigma], b: Vec::new(), y: read / sigma, sigma }
    };
    let rows: Vec<Row> = LINES.map(row).to_vec();
    let estimate = Estimate::of(&model, &rows).expect("it is worked");
    // Eight lines for two heights: six are over.
    let unit_weight = (estimate.misfit() / 6.0).sqrt();
    assert!((unit_weight - 0.067).abs() < 5e-4, "{unit_weight}");
    for (at, height, deviation) in [(0, 815.424, 0.012), (1, 802.958, 0.016)] {
        assert!((estimate.value[at] - height).abs() < THOUSANDTH, "{}", estimate.value[at]);
        let mut one = vec![0.0; 2];
        one[at] = 1.0;
        let found = unit_weight * estimate.variance_of(&one).sqrt();
        assert!((found - deviation).abs() < 6e-4, "{found}");
    }
}

/// Reading 3,000 kg with deviation 30 kg of a body guessed as 3,400 kg with deviation 40 kg: weights 1/900 and 1/1600
/// give (3000·16 + 3400·9)/25 = 3144 kg, deviation 24 kg, residual −144 kg; the residual's own deviation is
/// 900/50 = 18 kg, so that it is 8 of them; told 1 − 576/1600 = 0.64.
#[test]
fn hand_a_guess_and_a_reading() {
    let weighing = Weighing {
        bodies: vec![body("ride", 3_400.0, 40.0)],
        states: vec![State {
            name: "on a scale".into(),
            supports: Vec::new(),
            groups: Vec::new(),
            bodies: vec![PlacedBody {
                body: "ride".into(),
                placement: "road".into(),
                along: None,
                across: None,
            }],
        }],
        readings: vec![reading("on a scale", &[], Mass::kg(3_000.0), 30.0)],
        deviation_next: None,
    };
    let found = weigh(&weighing).expect("it is worked");
    let ride = &found.bodies[0];
    near(ride.mass.as_kg(), 3_144.0, 1e-12);
    near(ride.deviation.as_kg(), 24.0, 1e-12);
    near(ride.told.as_one(), 0.64, 1e-12);
    near(found.residuals[0].residual.as_kg(), -144.0, 1e-12);
    near(found.residuals[0].standardised.expect("the book checks it").as_one(), -8.0, 1e-12);
    // With one reading and one guess, either may be wrong.
    assert_eq!(found.suspects[0].or_else.len(), 1);
    // Nothing can be said of a mass that is taken as it is.
    let exact = Weighing { bodies: vec![body("ride", 3_400.0, 0.0)], ..weighing };
    let found = weigh(&exact).expect("it is worked");
    near(found.bodies[0].mass.as_kg(), 3_400.0, 1e-12);
    assert_eq!((found.bodies[0].deviation.as_kg(), found.determined), (0.0, 0));
}
