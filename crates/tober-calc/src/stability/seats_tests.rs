//! The sweep against every subset of seats, and the laws it must keep.

use super::*;
use core::f64::consts::{PI, TAU};
use tober_quantity::{
    Angle, Force, FrequencyOfTurning, Length, Mass, Moment, Quantity, Ratio, Stiffness, maths,
};

/// A small seeded generator (a multiply-and-shift sequence), so that every run tries the same cases.
pub(super) struct Chance(u64);

impl Chance {
    pub fn new(start: u64) -> Self {
        Self(start.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }
    /// From 0 up to 1.
    pub fn unit(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }
}

pub(super) fn contact(name: &str, x_m: f64, y_m: f64) -> Contact {
    Contact { name: name.to_owned(), x: Length::m(x_m), y: Length::m(y_m), z: Length::ZERO }
}

fn seat(index: usize, degrees: f64, radius_m: f64, riders: u32, rider_kg: f64) -> Seat {
    Seat {
        name: format!("seat {index}"),
        angle: Angle::deg(degrees),
        radius: Length::m(radius_m),
        swing: Swing::Rigid,
        z: Some(Length::m(2.0)),
        riders,
        rider_mass: Some(Mass::kg(rider_kg)),
    }
}

fn turntable(x_m: f64, y_m: f64) -> Turntable {
    Turntable { x: Length::m(x_m), y: Length::m(y_m), angles: TurntableAngles::Any, speed: None }
}

fn ring(n: usize, radius_m: f64, rider_kg: f64) -> Vec<Seat> {
    (0..n).map(|i| seat(i, 360.0 * i as f64 / n as f64, radius_m, 2, rider_kg)).collect()
}

/// Seats at chance angles and radii; every third case is a regular ring, where crossings tie.
fn seats_by_chance(chance: &mut Chance, n: usize, regular: bool) -> Vec<Seat> {
    let one = |i: usize| {
        let degrees = if regular { 360.0 * i as f64 / n as f64 } else { chance.between(0.0, 360.0) };
        let radius_m = if regular { 5.0 } else { chance.between(0.5, 8.0) };
        let riders = if regular { 2 } else { 1 + (chance.unit() * 3.0) as u32 };
        seat(i, degrees, radius_m, riders, if regular { 90.0 } else { chance.between(40.0, 120.0) })
    };
    (0..n).map(one).collect()
}

/// The greatest of base + Σ over a subset, for every subset: each subset's sum is one wave, whose crest is known.
fn by_every_subset<Q: Quantity>(base: (f64, f64, f64), places: &[Place<Q>], sign: f64) -> f64 {
    let n = places.len();
    let mut best = f64::NEG_INFINITY;
    for subset in 0u32..1 << n {
        let (mut p, mut q, mut r) = base;
        for (i, place) in places.iter().enumerate() {
            let share = if subset >> i & 1 == 1 { 1.0 } else { place.least.as_one() };
            p += share * place.full.constant.si();
            q += share * place.full.cosine.si();
            r += share * place.full.sine.si();
        }
        best = best.max(sign * p + (q * q + r * r).sqrt());
    }
    sign * best
}

fn check_against_subsets<Q: Quantity>(places: &[Place<Q>], scale: f64, what: &str) -> f64 {
    let mut worst = 0.0_f64;
    for (extreme, sign) in [(Extreme::Greatest, 1.0), (Extreme::Least, -1.0)] {
        let input = PartialLoadInput {
            base: Contribution {
                constant: Q::from_si(0.3 * scale),
                cosine: Q::from_si(0.1 * scale),
                sine: Q::from_si(-0.2 * scale),
            },
            places: places.to_vec(),
            angles: TurntableAngles::Any,
            extreme,
        };
        let swept = worst_partial_load(&input).unwrap();
        let all = by_every_subset((0.3 * scale, 0.1 * scale, -0.2 * scale), places, sign);
        let difference = (swept.value.si() - all).abs() / scale;
        assert!(difference < 1e-12, "{what}, {extreme:?}: {} against {all}", swept.value.si());
        // The seats named are those that give the value at the angle named.
        let angle = swept.angle.as_rad();
        let at = |c: &Contribution<Q>| {
            c.constant.si() + c.cosine.si() * maths::cos(angle) + c.sine.si() * maths::sin(angle)
        };
        let named: f64 = places
            .iter()
            .zip(&swept.full)
            .map(|(place, full)| at(&place.full) * if *full { 1.0 } else { place.least.as_one() })
            .sum::<f64>()
            + at(&input.base);
        assert!((named - swept.value.si()).abs() / scale < 1e-12, "{what}: the named seats give {named}");
        worst = worst.max(difference);
    }
    worst
}

const BASE: [(f64, f64); 4] = [(3.0, 2.0), (-3.0, 2.0), (-3.0, -2.0), (3.0, -2.0)];

#[test]
fn law_edge_moments_agree_with_every_subset() {
    let mut chance = Chance::new(11);
    let mut worst = 0.0_f64;
    for case in 0..240_usize {
        let n = [1, 2, 3, 5, 8, 10, 12][case % 7];
        let seats = seats_by_chance(&mut chance, n, case % 3 == 0);
        let axis = turntable(chance.between(-2.0, 2.0), chance.between(-2.0, 2.0));
        let corner = |i: usize| (Length::m(BASE[i % 4].0), Length::m(BASE[i % 4].1));
        let mut places = edge_moment_places(&seats, &axis, (corner(case), corner(case + 1))).unwrap();
        if case % 5 == 0 {
            places.iter_mut().for_each(|place| place.least = Ratio::one(0.25));
        }
        worst = worst.max(check_against_subsets(&places, 1e4, &format!("edge case {case}")));
    }
    assert!(worst < 1e-12, "worst difference from every subset: {worst:.1e}");
}

#[test]
fn law_support_loads_agree_with_every_subset() {
    let mut chance = Chance::new(12);
    let mut worst = 0.0_f64;
    for case in 0..120_usize {
        let n = [1, 2, 4, 8, 11, 12][case % 6];
        let seats = seats_by_chance(&mut chance, n, case % 3 == 0);
        let axis = turntable(chance.between(-1.0, 1.0), chance.between(-1.0, 1.0));
        let mut supports = Vec::new();
        for (i, (x, y)) in BASE.into_iter().chain([(0.0, 2.2), (0.1, -2.2)]).enumerate() {
            let k = Stiffness::mn_per_m(chance.between(5.0, 40.0));
            supports.push((contact(&format!("leg {i}"), x, y), k));
        }
        let places = support_load_places(&seats, &axis, &supports, case % 6).unwrap();
        worst = worst.max(check_against_subsets(&places, 1e4, &format!("support case {case}")));
    }
    assert!(worst < 1e-12, "worst difference from every subset: {worst:.1e}");
}

#[test]
fn law_sixteen_seats_agree_with_every_subset() {
    let mut chance = Chance::new(13);
    for regular in [true, false] {
        let seats = seats_by_chance(&mut chance, 16, regular);
        let axis = turntable(0.4, -0.3);
        let edge = ((Length::m(3.0), Length::m(2.0)), (Length::m(-3.0), Length::m(2.0)));
        let places = edge_moment_places(&seats, &axis, edge).unwrap();
        check_against_subsets(&places, 1e4, "sixteen seats, edge");
        let supports: Vec<_> =
            BASE.iter().map(|(x, y)| (contact("leg", *x, *y), Stiffness::mn_per_m(20.0))).collect();
        let places = support_load_places(&seats, &axis, &supports, 2).unwrap();
        check_against_subsets(&places, 1e4, "sixteen seats, support");
    }
}

fn turning(seats: &[Seat]) -> Vec<TurningMass> {
    let one = |seat: &Seat| TurningMass {
        name: seat.name.clone(),
        mass: seat.load().unwrap(),
        least: Ratio::ZERO,
        radius: seat.radius,
        angle: seat.angle,
    };
    seats.iter().map(one).collect()
}

#[test]
fn law_out_of_balance_agrees_with_every_subset() {
    let mut chance = Chance::new(14);
    for case in 0..120_usize {
        let n = [1, 2, 3, 7, 12, 14][case % 6];
        let seats = seats_by_chance(&mut chance, n, case % 3 == 0);
        let masses = turning(&seats);
        let found = greatest_out_of_balance(&masses).unwrap();
        let mut best = 0.0_f64;
        for subset in 0u32..1 << n {
            let (mut x, mut y) = (0.0, 0.0);
            for (i, mass) in masses.iter().enumerate().filter(|(i, _)| subset >> i & 1 == 1) {
                let _ = i;
                let moment = mass.mass.as_kg() * mass.radius.as_m();
                x += moment * maths::cos(mass.angle.as_rad());
                y += moment * maths::sin(mass.angle.as_rad());
            }
            best = best.max((x * x + y * y).sqrt());
        }
        let difference = (found.mass_at_one_metre.as_kg() - best).abs() / best;
        assert!(difference < 1e-12, "case {case}: {:?} against {best}", found.mass_at_one_metre);
    }
}

/// Worked by hand. A full ring of n equal seats with its axis at distance e inside an edge: with half of it full on
/// the far side, the longest sum of n unit vectors on a regular ring is 1 / sin(π/n) for even n.
#[test]
fn law_regular_ring_has_a_closed_form() {
    for n in [2_usize, 4, 6, 8, 16, 64] {
        let seats = ring(n, 5.0, 90.0);
        let found = greatest_out_of_balance(&turning(&seats)).unwrap();
        let closed = 2.0 * 90.0 * 5.0 / maths::sin(PI / n as f64);
        assert!((found.mass_at_one_metre.as_kg() - closed).abs() / closed < 1e-12, "{n} seats");
    }
}

/// Worked by hand. One seat, 2 riders of 90 kg at 5 m, axis 2 m inside the edge: outside by 3 m at the worst, so
/// 180 · 9.80665 · 3 = 5,295.6 N m, with the seat square to the edge; and 7 m inside at the least.
#[test]
fn hand_one_seat_over_an_edge() {
    let seats = [seat(0, 0.0, 5.0, 2, 90.0)];
    let edge = ((Length::m(3.0), Length::m(2.0)), (Length::m(-3.0), Length::m(2.0)));
    let places = edge_moment_places(&seats, &turntable(0.0, 0.0), edge).unwrap();
    let mut input = PartialLoadInput {
        base: Contribution::default(),
        places,
        angles: TurntableAngles::Any,
        extreme: Extreme::Greatest,
    };
    let most = worst_partial_load(&input).unwrap();
    assert!((most.value.as_nm() - 180.0 * 9.806_65 * 3.0).abs() < 1e-9, "{:?}", most.value);
    assert!((most.angle.as_deg() - 90.0).abs() < 1e-9, "{:?}", most.angle.as_deg());
    input.extreme = Extreme::Least;
    let least = worst_partial_load(&input).unwrap();
    assert!((least.value.as_nm() + 180.0 * 9.806_65 * 7.0).abs() < 1e-9, "{:?}", least.value);
    // At stated angles only, the seat at the front is 2 m inside: it is left empty for the greatest.
    input.extreme = Extreme::Greatest;
    input.angles = TurntableAngles::Stated(vec![Angle::ZERO, Angle::deg(180.0)]);
    let stated = worst_partial_load(&input).unwrap();
    assert_eq!((stated.value, stated.full), (Moment::ZERO, vec![false]));
}

#[test]
fn law_sampling_never_beats_the_sweep_and_misses_the_crest() {
    let mut chance = Chance::new(15);
    let mut missed = 0.0_f64;
    for _ in 0..60 {
        let seats = seats_by_chance(&mut chance, 24, false);
        let edge = ((Length::m(3.0), Length::m(2.0)), (Length::m(-3.0), Length::m(2.0)));
        let places = edge_moment_places(&seats, &turntable(0.3, 0.2), edge).unwrap();
        let mut input = PartialLoadInput {
            base: Contribution::default(),
            places,
            angles: TurntableAngles::Any,
            extreme: Extreme::Greatest,
        };
        let swept = worst_partial_load(&input).unwrap().value.as_nm();
        input.angles = TurntableAngles::Stated((0..24).map(|i| Angle::deg(15.0 * f64::from(i))).collect());
        let sampled = worst_partial_load(&input).unwrap().value.as_nm();
        assert!(sampled <= swept * (1.0 + 1e-12));
        missed = missed.max(1.0 - sampled / swept);
    }
    assert!(missed > 1e-3, "steps of 15 degrees ought to miss something; they missed {missed:.1e}");
}

#[test]
fn law_one_more_seat_never_lowers_the_worst() {
    let mut chance = Chance::new(16);
    for _ in 0..100 {
        let seats = seats_by_chance(&mut chance, 20, false);
        let axis = turntable(chance.between(-2.0, 2.0), chance.between(-2.0, 2.0));
        let edge = ((Length::m(3.0), Length::m(2.0)), (Length::m(-3.0), Length::m(2.0)));
        let mut before = f64::NEG_INFINITY;
        for n in 0..=seats.len() {
            let places = edge_moment_places(&seats[..n], &axis, edge).unwrap();
            let input = PartialLoadInput {
                base: Contribution::default(),
                places,
                angles: TurntableAngles::Any,
                extreme: Extreme::Greatest,
            };
            let value = worst_partial_load(&input).unwrap().value.as_nm();
            assert!(value >= before - 1e-9, "seat {n}: {value} after {before}");
            before = value;
        }
    }
}

#[test]
fn law_turning_the_seats_round_changes_nothing() {
    let mut chance = Chance::new(17);
    for _ in 0..50 {
        let seats = seats_by_chance(&mut chance, 17, false);
        let turned: Vec<Seat> =
            seats.iter().map(|s| Seat { angle: s.angle + Angle::deg(77.7), ..s.clone() }).collect();
        let edge = ((Length::m(3.0), Length::m(2.0)), (Length::m(-3.0), Length::m(2.0)));
        let worst = |seats: &[Seat]| {
            let places = edge_moment_places(seats, &turntable(0.5, 0.5), edge).unwrap();
            let input = PartialLoadInput {
                base: Contribution::default(),
                places,
                angles: TurntableAngles::Any,
                extreme: Extreme::Greatest,
            };
            worst_partial_load(&input).unwrap().value.as_nm()
        };
        let (a, b) = (worst(&seats), worst(&turned));
        assert!((a - b).abs() <= 1e-9 * a.abs(), "{a} and {b}");
    }
}

/// Four equal springs at (±a, ±b): R = (P/4)(1 ± x/a ± y/b); with x/a 0.3 and y/b 0.4, 42.5, 27.5, 22.5 and 7.5 % of P
/// (derived in closed form; textbook).
#[test]
fn truth_four_springs_share_a_load() {
    let supports: Vec<_> =
        BASE.iter().map(|(x, y)| (contact("leg", *x, *y), Stiffness::mn_per_m(20.0))).collect();
    let supports: Vec<_> = supports
        .into_iter()
        .enumerate()
        .map(|(i, (c, k))| (Contact { name: format!("leg {i}"), ..c }, k))
        .collect();
    let shares: Vec<f64> = support_influences(&supports)
        .unwrap()
        .iter()
        .map(|influence| influence.share(Length::m(0.9), Length::m(0.8)).as_percent())
        .collect();
    for (share, printed) in shares.iter().zip([42.5, 27.5, 7.5, 22.5]) {
        assert!((share - printed).abs() < 1e-12, "{shares:?}");
    }
}

/// Shares add up to the whole and keep the centre of gravity, whatever the springs and the place.
#[test]
fn law_shares_keep_balance() {
    let mut chance = Chance::new(18);
    for _ in 0..200 {
        let mut supports = Vec::new();
        for (i, (x, y)) in BASE.into_iter().enumerate() {
            let (dx, dy) = (chance.between(-0.5, 0.5), chance.between(-0.5, 0.5));
            let k = Stiffness::mn_per_m(chance.between(1.0, 100.0));
            supports.push((contact(&format!("leg {i}"), x + dx, y + dy), k));
        }
        let (x, y) = (chance.between(-3.0, 3.0), chance.between(-2.0, 2.0));
        let influences = support_influences(&supports).unwrap();
        let (mut sum, mut sum_x, mut sum_y) = (0.0, 0.0, 0.0);
        for (influence, (contact, _)) in influences.iter().zip(&supports) {
            let share = influence.share(Length::m(x), Length::m(y)).as_one();
            sum += share;
            sum_x += share * contact.x.as_m();
            sum_y += share * contact.y.as_m();
        }
        assert!((sum - 1.0).abs() < 1e-12 && (sum_x - x).abs() < 1e-11 && (sum_y - y).abs() < 1e-11);
    }
}

/// Worked by hand: 300 kg out of balance at 1 m and 30 turns a minute (w = π /s) gives 300 π² = 2,960.9 N.
#[test]
fn hand_force_of_turning() {
    let out = OutOfBalance { mass_at_one_metre: Mass::kg(300.0), direction: Angle::ZERO, full: vec![] };
    assert!((out.force(FrequencyOfTurning::rpm(30.0)).as_n() - 2960.881).abs() < 1e-3);
    assert!(out.force(FrequencyOfTurning::rad_per_s(TAU)) > Force::kn(11.8));
}

#[test]
fn refuse_places_that_are_none() {
    let good = Place { name: "A".to_owned(), full: Contribution::default(), least: Ratio::ZERO };
    let input = |place: Place<Moment>, angles: TurntableAngles| PartialLoadInput {
        base: Contribution::default(),
        places: vec![place],
        angles,
        extreme: Extreme::Greatest,
    };
    for bad in [f64::NAN, f64::INFINITY, -0.1, 1.1] {
        let place = Place { least: Ratio::one(bad), ..good.clone() };
        assert!(worst_partial_load(&input(place, TurntableAngles::Any)).is_err());
    }
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300] {
        let full = Contribution { cosine: Moment::nm(bad), ..Contribution::default() };
        let place = Place { full, ..good.clone() };
        assert!(worst_partial_load(&input(place, TurntableAngles::Any)).is_err());
        let angles = TurntableAngles::Stated(vec![Angle::rad(bad)]);
        assert!(worst_partial_load(&input(good.clone(), angles)).is_err());
    }
    assert!(worst_partial_load(&input(good, TurntableAngles::Stated(vec![]))).is_err());
    let flat = [contact("a", 0.0, 0.0), contact("b", 1.0, 0.0), contact("c", 2.0, 0.0)];
    let message = base_edges(&flat).unwrap_err().to_string();
    assert_eq!(
        message,
        "The contacts with the ground span a base only 0 mm wide; at least 50 mm is needed to stand on."
    );
    let twice = [contact("a", 0.0, 0.0), contact("b", 1.0, 0.0), contact("c", 1.0, 0.0)];
    assert!(matches!(base_edges(&twice), Err(StabilityError::SamePlace { .. })));
    assert!(matches!(base_edges(&twice[..2]), Err(StabilityError::Count { given: 2, .. })));
}
