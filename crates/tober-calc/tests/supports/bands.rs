//! Bands: closed forms, the corners and random points of the ranges, and the laws a band must keep.

use crate::{Chance, load, random_frame, reactions_n, stands};
use tober_calc::supports::{
    Answer, Band, BandAnswer, Between, Burden, Load, Place, Seen, Spot, Support, SupportsError, Tipping,
    UncertainLoad, UncertainSupport, band, solve, statics_bound,
};
use tober_quantity::{Force, Length, Moment, Quantity, Stiffness};

fn between<Q: Quantity>(low: f64, high: f64) -> Between<Q> {
    Between { low: Q::from_si(low), high: Q::from_si(high) }
}

fn spot(x_m: f64, y_m: f64) -> Spot {
    Spot { x: Length::m(x_m), y: Length::m(y_m) }
}

fn leg(x_m: f64, y_m: f64, k: (f64, f64), gap_m: (f64, f64)) -> UncertainSupport {
    UncertainSupport {
        spot: spot(x_m, y_m),
        stiffness: between(k.0, k.1),
        gap: between(gap_m.0, gap_m.1),
        seen: None,
    }
}

fn burden(low_n: f64, high_n: f64, x_m: f64, y_m: f64) -> Burden {
    Burden { down: between(low_n, high_n), place: Place::At(spot(x_m, y_m)) }
}

fn bands(supports: &[UncertainSupport], load: &UncertainLoad) -> Band {
    match band(supports, load) {
        Ok(BandAnswer::Stands(band)) => band,
        other => panic!("should have bands: {other:?}"),
    }
}

/// Legs at (±4, ±1.5): (+,+), (−,+), (+,−), (−,−).
fn four(k: (f64, f64), gap_m: (f64, f64)) -> Vec<UncertainSupport> {
    [(4.0, 1.5), (-4.0, 1.5), (4.0, -1.5), (-4.0, -1.5)].map(|(x, y)| leg(x, y, k, gap_m)).to_vec()
}

fn assert_band(band: &Between<Force>, low_n: f64, high_n: f64) {
    let (low, high) = (band.low.as_n(), band.high.as_n());
    assert!(
        (low - low_n).abs() < 1e-4 && (high - high_n).abs() < 1e-4,
        "{low} to {high}, not {low_n} to {high_n}"
    );
}

#[test]
fn hand_one_millimetre_either_way_at_every_leg_moves_twenty_kilonewtons() {
    // R = P/4 ± k·w with the warp w = (d1 − d2 + d3 − d4)/4; four gaps of ±1 mm make |w| at most 1 mm,
    // so at 20 MN/m each leg carries 25 ± 20 kN of 100 kN.
    let found =
        bands(&four((20e6, 20e6), (-0.001, 0.001)), &UncertainLoad::of(vec![burden(1e5, 1e5, 0.0, 0.0)]));
    assert!(found.tight);
    for leg in &found.supports {
        assert_band(&leg.load, 5e3, 45e3);
        assert!(!leg.may_go_light);
        assert_band(&leg.statics, 0.0, 5e4);
    }
    // At ±1.25 mm, k·w reaches P/4 and the low diagonal is light; more changes nothing.
    for gap in [0.00125, 0.004] {
        let wide =
            bands(&four((20e6, 20e6), (-gap, gap)), &UncertainLoad::of(vec![burden(1e5, 1e5, 0.0, 0.0)]));
        assert!(wide.supports.iter().all(|leg| leg.may_go_light));
        wide.supports.iter().for_each(|leg| assert_band(&leg.load, 0.0, 5e4));
    }
}

#[test]
fn hand_a_mass_between_two_ends_and_wind_from_either_side() {
    // In full contact R = Σ (w/4)(1 ± x/a ± y/b): 100 kN in the middle, 20 to 40 kN at (4, 0) puts half of
    // itself on each leg at +x. A couple of ±12 kN m about x puts ±12/(4·1.5) = ±2 kN on each leg.
    let mut load = UncertainLoad::of(vec![burden(1e5, 1e5, 0.0, 0.0), burden(2e4, 4e4, 4.0, 0.0)]);
    load.moment_x = between::<Moment>(-12e3, 12e3);
    let found = bands(&four((1e7, 1e7), (0.0, 0.0)), &load);
    assert!(found.tight);
    for i in [0, 2] {
        assert_band(&found.supports[i].load, 25e3 + 10e3 - 2e3, 25e3 + 20e3 + 2e3);
    }
    for i in [1, 3] {
        assert_band(&found.supports[i].load, 23e3, 27e3);
    }
    // Resultant at most 12/120 = 0.1 m off the middle line, of 1.5 m, and at most 40·4/140 m along.
    let Tipping::Nowhere { margin, .. } = found.tipping else { panic!("{:?}", found.tipping) };
    assert!((margin.as_m() - 1.4).abs() < 1e-9, "{margin:?}");
}

#[test]
fn hand_a_leg_of_unknown_stiffness_among_known_ones() {
    // Three legs are statically determinate: nothing but the load matters, whatever the springs and gaps.
    let legs = [
        leg(0.0, 0.0, (1e6, 1e8), (-0.02, 0.02)),
        leg(8.0, 0.0, (1e6, 1e8), (-0.02, 0.02)),
        leg(4.0, 3.0, (2e6, 3e7), (0.0, 0.1)),
    ];
    let found = bands(&legs, &UncertainLoad::of(vec![burden(1e5, 1e5, 4.0, 0.6)]));
    for (leg, expected) in found.supports.iter().zip([4e4, 4e4, 2e4]) {
        assert_band(&leg.load, expected, expected);
    }
    // Three legs in line and a fourth far off that carries nothing of a load on the line between.
    // Equal springs at x = 0, 4, 8 share a load over the middle in three; with the middle one k', the
    // middle carries P·k'/(k' + 2k): for k' from k/2 to 2k, P/5 to P/2.
    let k = 1e7;
    let line = [
        leg(0.0, 0.0, (k, k), (0.0, 0.0)),
        leg(4.0, 0.0, (0.5 * k, 2.0 * k), (0.0, 0.0)),
        leg(8.0, 0.0, (k, k), (0.0, 0.0)),
        leg(4.0, 3.0, (k, k), (0.0, 0.0)),
    ];
    let found = bands(&line, &UncertainLoad::of(vec![burden(1e5, 1e5, 4.0, 0.0)]));
    assert_band(&found.supports[1].load, 2e4, 5e4);
    assert_band(&found.supports[3].load, 0.0, 0.0);
}

#[test]
fn law_a_band_of_known_numbers_is_the_answer_itself() {
    let mut chance = Chance::new(51);
    for n in [3, 4, 6, 8, 12, 24] {
        for _ in 0..40 {
            let (supports, at) = random_frame(&mut chance, n, 0.008);
            let answer = reactions_n(&stands(&supports, &at));
            let found = bands(&known(&supports), &exactly(&at));
            assert!(found.tight, "{n} supports: {found:?}");
            for (leg, r) in found.supports.iter().zip(answer) {
                assert!((leg.load.low.as_n() - r).abs() <= 2e-9 * at.down.as_n(), "{leg:?} {r}");
                assert!((leg.load.high.as_n() - r).abs() <= 2e-9 * at.down.as_n(), "{leg:?} {r}");
            }
        }
    }
}

fn known(supports: &[Support]) -> Vec<UncertainSupport> {
    supports
        .iter()
        .map(|s| {
            let (k, g) = (s.stiffness.si(), s.gap.si());
            leg(s.x.as_m(), s.y.as_m(), (k, k), (g, g))
        })
        .collect()
}

fn exactly(at: &Load) -> UncertainLoad {
    UncertainLoad {
        burdens: vec![burden(at.down.as_n(), at.down.as_n(), at.x.as_m(), at.y.as_m())],
        moment_x: Between::exact(at.moment_x),
        moment_y: Between::exact(at.moment_y),
    }
}

/// Ranges about a random frame, its load in three burdens.
fn random_ranges(chance: &mut Chance, n: usize) -> (Vec<UncertainSupport>, UncertainLoad) {
    let (supports, at) = random_frame(chance, n, 0.004);
    let mut legs = known(&supports);
    for leg in &mut legs {
        let (k, g) = (leg.stiffness.low.si(), leg.gap.low.si());
        leg.stiffness = between(k * chance.between(0.5, 1.0), k * chance.between(1.0, 2.0));
        leg.gap = between(g - chance.between(0.0, 0.003), g + chance.between(0.0, 0.003));
    }
    let w = at.down.as_n() / 3.0;
    let mut share = |dx: f64| {
        burden(w * chance.between(0.9, 1.0), w * chance.between(1.0, 1.1), at.x.as_m() + dx, at.y.as_m())
    };
    let burdens = vec![share(0.0), share(-1.0), share(1.0)];
    let load = UncertainLoad { burdens, moment_x: between(-2e3, 2e3), moment_y: between(-5e3, 5e3) };
    (legs, load)
}

/// A point of the ranges: `pick` says where between 0 and 1, number by number.
fn point(
    legs: &[UncertainSupport],
    load: &UncertainLoad,
    mut pick: impl FnMut() -> f64,
) -> (Vec<Support>, Load) {
    let mut at = |low: f64, high: f64| low + (high - low) * pick();
    let supports = legs.iter().map(|leg| Support {
        x: leg.spot.x,
        y: leg.spot.y,
        stiffness: Stiffness::from_si(at(leg.stiffness.low.si(), leg.stiffness.high.si())),
        gap: Length::from_si(at(leg.gap.low.si(), leg.gap.high.si())),
    });
    let supports: Vec<Support> = supports.collect();
    let (mut down, mut along, mut across) = (0.0, 0.0, 0.0);
    for b in &load.burdens {
        let w = at(b.down.low.si(), b.down.high.si());
        let Place::At(spot) = b.place else { panic!("it has a place") };
        down += w;
        along += w * spot.x.si();
        across += w * spot.y.si();
    }
    let mx = at(load.moment_x.low.si(), load.moment_x.high.si());
    let my = at(load.moment_y.low.si(), load.moment_y.high.si());
    (supports, crate::load(down, along / down, across / down, mx, my))
}

#[test]
fn law_no_corner_and_no_point_of_the_ranges_is_outside_the_band() {
    let mut chance = Chance::new(53);
    let (mut loosest, mut tight) = (0.0_f64, 0);
    for n in [4, 5, 6, 8] {
        for _ in 0..25 {
            let (legs, load) = random_ranges(&mut chance, n);
            let found = bands(&legs, &load);
            tight += u32::from(found.tight);
            let close = 1e-8 * load.down().high.as_n();
            for trial in 0..600 {
                // Half of them at corners, where the worst mostly lies.
                let (supports, at) = point(&legs, &load, || {
                    let t = chance.between(0.0, 1.0);
                    if trial % 2 == 0 { t.round() } else { t }
                });
                let Ok(Answer::Stands(stands)) = solve(&supports, &at) else { continue };
                for (leg, r) in found.supports.iter().zip(&stands.reactions) {
                    let r = r.as_n();
                    assert!(
                        r >= leg.load.low.as_n() - close && r <= leg.load.high.as_n() + close,
                        "{r} {leg:?}"
                    );
                    assert!(leg.load.low >= leg.statics.low && leg.load.high <= leg.statics.high);
                }
            }
            for leg in &found.supports {
                // What is said to be found was found by the solver, so both ends are reached, not only bounded.
                let reached = leg.found.unwrap_or_else(|| panic!("both ends are named: {found:?}"));
                let loose = (leg.load.high - reached.high).as_n().max((reached.low - leg.load.low).as_n());
                loosest = loosest.max(loose / load.down().high.as_n());
            }
        }
    }
    assert_eq!(tight, 100, "of 100 frames; loosest end {loosest:e} of the load");
    assert!(loosest <= 1e-9, "loosest end {loosest:e} of the load");
}

#[test]
fn law_ranges_past_all_reason_still_hold_every_answer() {
    // Stiffnesses and gaps over many orders of size: the band may be loose, it may not be wrong.
    let mut chance = Chance::new(71);
    let mut compared = 0;
    for trial in 0..150 {
        let n = 3 + trial % 5;
        let (mut legs, load) = random_ranges(&mut chance, n);
        for leg in &mut legs {
            let size = [1e3_f64, 1e5, 1e7, 1e9, 1e12];
            let (a, b) = (size[chance.below(5)], size[chance.below(5)]);
            leg.stiffness = between(a.min(b), a.max(b));
            let reach = [0.0, 1e-6, 1e-3, 0.1, 5.0][chance.below(5)];
            leg.gap = between(leg.gap.low.si() - reach, leg.gap.high.si() + reach);
        }
        let found = bands(&legs, &load);
        let close = 1e-7 * load.down().high.as_n();
        for _ in 0..200 {
            let (supports, at) = point(&legs, &load, || chance.between(0.0, 1.0).round());
            let Ok(Answer::Stands(stands)) = solve(&supports, &at) else { continue };
            compared += 1;
            for (leg, r) in found.supports.iter().zip(&stands.reactions) {
                let r = r.as_n();
                assert!(
                    r >= leg.load.low.as_n() - close && r <= leg.load.high.as_n() + close,
                    "{trial}: {r} {leg:?} {}",
                    found.tight
                );
            }
        }
    }
    assert!(compared > 10_000, "only {compared} answers to compare");
}

#[test]
fn law_with_known_springs_the_ends_over_gaps_are_those_of_the_corners_or_beyond() {
    // All 2^n corners of the gaps, one load: the band must hold them; in full contact it is them.
    let mut chance = Chance::new(57);
    let mut equal = 0;
    for _ in 0..40 {
        let (supports, at) = random_frame(&mut chance, 6, 0.001);
        let mut legs = known(&supports);
        for leg in &mut legs {
            leg.gap = between(leg.gap.low.si() - 0.0003, leg.gap.high.si() + 0.0003);
        }
        let found = bands(&legs, &exactly(&at));
        let mut ends = vec![(f64::INFINITY, f64::NEG_INFINITY); 6];
        let mut full = true;
        for corner in 0..64_u32 {
            let mut one = supports.clone();
            for (i, s) in one.iter_mut().enumerate() {
                s.gap = if corner >> i & 1 == 1 { legs[i].gap.high } else { legs[i].gap.low };
            }
            let answer = stands(&one, &at);
            full &= answer.lifted.is_empty();
            for (end, r) in ends.iter_mut().zip(reactions_n(&answer)) {
                *end = (end.0.min(r), end.1.max(r));
            }
        }
        let close = 1e-8 * at.down.as_n();
        for (leg, (low, high)) in found.supports.iter().zip(ends) {
            assert!(leg.load.low.as_n() <= low + close && leg.load.high.as_n() >= high - close);
            if full {
                assert!(
                    (leg.load.low.as_n() - low).abs() <= close
                        && (leg.load.high.as_n() - high).abs() <= close
                );
            }
        }
        equal += u32::from(full);
    }
    assert!(equal >= 5, "only {equal} of 40 frames stay in full contact");
}

#[test]
fn law_wider_ranges_never_give_a_narrower_band() {
    let mut chance = Chance::new(59);
    for n in [4, 6, 7] {
        for _ in 0..60 {
            let (legs, load) = random_ranges(&mut chance, n);
            let (mut wide_legs, mut wide_load) = (legs.clone(), load.clone());
            match chance.below(4) {
                0 => {
                    let gap = &mut wide_legs[chance.below(n)].gap;
                    *gap = between(gap.low.si() - 0.001, gap.high.si() + 0.0005);
                }
                1 => {
                    let k = &mut wide_legs[chance.below(n)].stiffness;
                    *k = between(k.low.si() * 0.7, k.high.si() * 1.2);
                }
                2 => {
                    let down = &mut wide_load.burdens[chance.below(3)].down;
                    *down = between(down.low.si() * 0.97, down.high.si() * 1.02);
                }
                _ => wide_load.moment_x = between(-4e3, 3e3),
            }
            let close = 1e-8 * wide_load.down().high.as_n();
            let (narrow, wide) = (bands(&legs, &load), bands(&wide_legs, &wide_load));
            for (a, b) in narrow.supports.iter().zip(&wide.supports) {
                assert!(b.load.low.as_n() <= a.load.low.as_n() + close, "{a:?} {b:?}");
                assert!(b.load.high.as_n() >= a.load.high.as_n() - close, "{a:?} {b:?}");
                assert!(b.may_go_light || !a.may_go_light);
            }
        }
    }
}

#[test]
fn hand_what_a_kick_finds_narrows_the_band_or_contradicts_it() {
    let load = UncertainLoad::of(vec![burden(1e5, 1e5, 0.0, 0.0)]);
    let mut legs = four((20e6, 20e6), (-0.004, 0.004));
    // Leg 1 moves and is known to carry 2 kN at most: by the warp rule its diagonal carries as little and
    // the other two the rest, 48 to 50 kN.
    legs[0].seen = Some(Seen::Light { at_most: Force::kn(2.0) });
    let found = bands(&legs, &load);
    assert_band(&found.supports[0].load, 0.0, 2e3);
    assert_band(&found.supports[3].load, 0.0, 2e3);
    assert_band(&found.supports[1].load, 48e3, 50e3);
    assert_band(&found.supports[2].load, 48e3, 50e3);
    // Leg 1 holds against a kick that would shift 1 kN: the other end of the same diagonal does too.
    legs[0].seen = Some(Seen::Snug { at_least: Force::kn(1.0) });
    let found = bands(&legs, &load);
    assert_band(&found.supports[0].load, 1e3, 5e4);
    assert_band(&found.supports[3].load, 1e3, 5e4);
    assert_band(&found.supports[1].load, 0.0, 49e3);
    // At ±1 mm every leg carries 5 kN or more; a leg that moves under a kick contradicts that.
    let mut tight = four((20e6, 20e6), (-0.001, 0.001));
    tight[2].seen = Some(Seen::Light { at_most: Force::kn(2.0) });
    assert_eq!(band(&tight, &load), Ok(BandAnswer::ReadingsDisagree));
    // A leg with a gap of 30 to 40 mm cannot be snug.
    let mut high = four((20e6, 20e6), (0.0, 0.0));
    high[1].gap = between(0.030, 0.040);
    high[1].seen = Some(Seen::Snug { at_least: Force::kn(1.0) });
    assert_eq!(band(&high, &load), Ok(BandAnswer::ReadingsDisagree));
}

#[test]
fn hand_statics_alone_and_the_four_legs_that_do_not_give() {
    // Rigid legs have the one-parameter family R = R0 + t(+1, −1, −1, +1) here: with the load at
    // x/a = 0.3, y/b = 0.4 of 100 kN, R0 = 42.5, 27.5, 22.5, 7.5 and t from −7.5 to 22.5 kN.
    let spots: Vec<Spot> = four((1e7, 1e7), (0.0, 0.0)).iter().map(|l| l.spot).collect();
    let load = UncertainLoad::of(vec![burden(1e5, 1e5, 1.2, 0.6)]);
    let ends = statics_bound(&spots, &load).expect("good input").expect("it balances");
    for (end, (low, high)) in ends.iter().zip([(35e3, 65e3), (5e3, 35e3), (0.0, 3e4), (0.0, 3e4)]) {
        assert_band(end, low, high);
    }
    // Stiffness and gaps known to nothing at all: the band is the statics bound.
    let loose = bands(&four((1e3, 1e12), (-1.0, 1.0)), &load);
    for (leg, end) in loose.supports.iter().zip(&ends) {
        assert_band(&leg.load, end.low.as_n(), end.high.as_n());
    }
    // Of one mass nobody knows where it is: from nothing to all of it, on every leg.
    let nowhere = Burden { down: between(9e4, 1e5), place: Place::Unknown };
    let unplaced = bands(&four((1e7, 1e7), (0.0, 0.0)), &UncertainLoad::of(vec![nowhere]));
    assert_eq!(unplaced.tipping, Tipping::NotKnown);
    assert!(!unplaced.tight);
    unplaced.supports.iter().for_each(|leg| assert_band(&leg.load, 0.0, 1e5));
}

#[test]
fn hand_tipping_over_the_ranges() {
    let legs = four((1e7, 1e7), (0.0, 0.0));
    let with = |mx: f64| UncertainLoad {
        burdens: vec![burden(8e4, 1e5, 0.0, 0.0)],
        moment_x: between(-mx, mx),
        moment_y: between(0.0, 0.0),
    };
    // 80 kN · 1.5 m = 120 kN m holds it down about either long side.
    let Tipping::Nowhere { margin, .. } = bands(&legs, &with(100e3)).tipping else { panic!("it stands") };
    assert!((margin.as_m() - (1.5 - 100.0 / 80.0)).abs() < 1e-12);
    let Tipping::Somewhere { margin, .. } = bands(&legs, &with(140e3)).tipping else { panic!("it may tip") };
    assert!((margin.as_m() - (1.5 - 140.0 / 80.0)).abs() < 1e-12);
    let outside = UncertainLoad::of(vec![burden(8e4, 1e5, 0.0, 1.6)]);
    assert!(matches!(band(&legs, &outside), Ok(BandAnswer::Tips(Tipping::Everywhere { .. }))));
    let uplift = UncertainLoad::of(vec![burden(8e4, 1e5, 0.0, 0.0), burden(-9e4, 0.0, 0.0, 0.0)]);
    assert_eq!(bands(&legs, &uplift).tipping, Tipping::LiftsOff);
}

#[test]
fn refuse_ranges_turned_round_and_loads_that_pull() {
    let legs = four((1e7, 1e7), (0.002, 0.001));
    let load = UncertainLoad::of(vec![burden(1e5, 1e5, 0.0, 0.0)]);
    assert_eq!(
        band(&legs, &load).expect_err("refused").to_string(),
        "The range of the gap of support 1 goes from 2 mm to 1 mm; the low end must not be above the high end."
    );
    let legs = four((1e7, 1e7), (0.0, 0.0));
    let pull = UncertainLoad::of(vec![burden(-2e5, -1e5, 0.0, 0.0)]);
    assert!(matches!(band(&legs, &pull), Err(SupportsError::NotPressedDown { .. })));
    assert!(matches!(band(&legs, &UncertainLoad::of(Vec::new())), Err(SupportsError::NotPressedDown { .. })));
    assert_eq!(band(&[], &load), Err(SupportsError::NoSupports));
    let lost = UncertainLoad::of(vec![burden(1e5, f64::NAN, 0.0, 0.0)]);
    assert!(
        band(&legs, &lost).expect_err("refused").to_string().starts_with("Burden 1: the force is NaN kN;")
    );
}

#[test]
fn refuse_or_answer_whatever_ranges_come_and_never_panic() {
    let mut chance = Chance::new(61);
    let (mut answered, mut refused) = (0, 0);
    for trial in 0..3000 {
        let mut pick = |tame: &[f64]| {
            let odd = [f64::NAN, f64::INFINITY, -1e300, 1e300, 1e-300];
            if trial % 3 == 0 && chance.below(12) == 0 {
                odd[chance.below(5)]
            } else {
                tame[chance.below(tame.len())]
            }
        };
        let n = [0, 1, 2, 3, 4, 6][trial % 6];
        let legs: Vec<UncertainSupport> = (0..n)
            .map(|_| {
                let k = (pick(&[1e3, 1e7]), pick(&[1e7, 2e7, 1e12]));
                let gap = (pick(&[0.0, -1e-3, -10.0]), pick(&[0.0, 1e-3, 10.0]));
                leg(pick(&[0.0, 1.0, 4.0, 1e-9]), pick(&[0.0, 2.0, 1e-13]), k, gap)
            })
            .collect();
        let burdens = vec![
            burden(pick(&[1e-3, 1e5]), pick(&[1e5, 1e9]), pick(&[0.0, 1.0]), pick(&[0.0, 0.5])),
            burden(pick(&[-1e4, 0.0]), pick(&[0.0, 1e4]), pick(&[0.0, 1.0]), pick(&[0.0, 0.5])),
        ];
        match band(&legs, &UncertainLoad::of(burdens)) {
            Ok(_) => answered += 1,
            Err(error) => {
                refused += 1;
                assert!(error.to_string().ends_with('.'));
            }
        }
    }
    assert!(answered > 500 && refused > 500, "{answered} answered, {refused} refused");
}

#[test]
fn hand_a_load_given_twice_is_the_sum() {
    // Two burdens at one place are one burden.
    let legs = four((1e7, 1e7), (-0.001, 0.001));
    let one = bands(&legs, &UncertainLoad::of(vec![burden(9e4, 1e5, 0.5, 0.1)]));
    let two = bands(&legs, &UncertainLoad::of(vec![burden(5e4, 6e4, 0.5, 0.1), burden(4e4, 4e4, 0.5, 0.1)]));
    for (a, b) in one.supports.iter().zip(&two.supports) {
        assert_band(&b.load, a.load.low.as_n(), a.load.high.as_n());
    }
    let single = reactions_n(&stands(
        &legs.iter().map(|l| crate::support(l.spot.x.as_m(), l.spot.y.as_m(), 1e7, 0.0)).collect::<Vec<_>>(),
        &load(9.5e4, 0.5, 0.1, 0.0, 0.0),
    ));
    assert!(
        one.supports.iter().zip(single).all(|(leg, r)| leg.load.low.as_n() < r && r < leg.load.high.as_n())
    );
}
