//! Closed forms worked by hand, textbook results, and the laws every answer must keep.

use crate::{Chance, assert_near, load, random_frame, reactions_n, stands, support};
use tober_calc::supports::{Answer, Becomes, Load, Solver, Support, solve};
use tober_quantity::{Length, Quantity, Stiffness};

/// Four equal springs at (±a, ±b), in the order (+,+), (−,+), (+,−), (−,−).
fn four(a: f64, b: f64, k: f64) -> Vec<Support> {
    vec![support(a, b, k, 0.0), support(-a, b, k, 0.0), support(a, -b, k, 0.0), support(-a, -b, k, 0.0)]
}

#[test]
fn hand_four_equal_springs_share_in_the_plane_and_not_by_the_bilinear_rule() {
    // R = (P/4)(1 ± x/a ± y/b) with P = 100, x/a = 0.3, y/b = 0.4: 25·1.7, 25·1.1, 25·0.9, 25·0.3.
    let found = reactions_n(&stands(&four(4.0, 1.5, 1e7), &load(100.0, 1.2, 0.6, 0.0, 0.0)));
    assert_near(&found, &[42.5, 27.5, 22.5, 7.5], 1e-9 * 100.0);
    // DIFFERENCE: a published estimate for four-legged tables, (P/4)(1 ± x/a)(1 ± y/b), gives 45.5,
    // 24.5, 19.5, 10.5. It balances, but no rigid frame on equal springs does so, and it never shows lift.
    let bilinear = [45.5, 24.5, 19.5, 10.5];
    assert!(found.iter().zip(bilinear).all(|(f, b)| (f - b).abs() > 2.9));
}

#[test]
fn hand_the_kern_of_four_springs_is_a_diamond_through_the_middles_of_the_sides() {
    // First lift-off where |x|/a + |y|/b = 1: just inside, all four carry; just outside, (−,−) is off.
    let supports = four(4.0, 1.5, 1e7);
    for (fx, fy) in [(0.3, 0.7), (0.9, 0.1), (0.5, 0.5)] {
        let at = |f: f64| stands(&supports, &load(1e5, 4.0 * fx * f, 1.5 * fy * f, 0.0, 0.0));
        assert_eq!(at(0.999).lifted, Vec::<usize>::new());
        assert_eq!(at(1.001).lifted, vec![3]);
    }
    // One way, lift-off comes only when the load reaches the leg line, x = a.
    assert!(stands(&supports, &load(1e5, 3.999, 0.0, 0.0, 0.0)).lifted.is_empty());
    let on_line = stands(&supports, &load(1e5, 4.0, 0.0, 0.0, 0.0));
    assert_near(&reactions_n(&on_line), &[5e4, 0.0, 5e4, 0.0], 1e-6);
    assert!(!on_line.displacement.unique);
    assert!(on_line.margin.si().abs() < 1e-15);
}

#[test]
fn hand_springs_about_their_centroid_follow_the_pile_group_formula() {
    // R_i = k_i [P/K + P·x·x_i/Iy + P·y·y_i/Ix] about the k-weighted centroid and principal axes.
    // Six legs at (±6, ±1.25), (0, ±1.25); k = 20, 20, 10 MN/m pairs make the centroid at
    // x = (20·6 − 10·6)·2/(2·50) = 1.2 m.
    let legs = [(6.0, 20e6), (0.0, 20e6), (-6.0, 10e6)];
    let mut supports = Vec::new();
    for (x, k) in legs {
        supports.push(support(x, 1.25, k, 0.0));
        supports.push(support(x, -1.25, k, 0.0));
    }
    let (p, px, py) = (3e5, 2.0, 0.2);
    let k_sum = 100e6;
    let centroid = 1.2;
    // Iy = 2·[20·4.8² + 20·1.2² + 10·7.2²] MN m, Ix = 100·1.25² MN m.
    let iy = 2.0 * (20.0 * 23.04 + 20.0 * 1.44 + 10.0 * 51.84) * 1e6;
    let ix = 156.25e6;
    let expected: Vec<f64> = supports
        .iter()
        .map(|s| {
            let arm = (px - centroid) * (s.x.as_m() - centroid) / iy;
            s.stiffness.as_n_per_m() * p * (1.0 / k_sum + arm + py * s.y.as_m() / ix)
        })
        .collect();
    assert_near(&reactions_n(&stands(&supports, &load(p, px, py, 0.0, 0.0))), &expected, 1e-9 * p);
}

#[test]
fn hand_three_supports_carry_barycentric_shares_whatever_their_springs() {
    // The load at 0.5·A + 0.3·B + 0.2·C puts 50, 30 and 20 % on A, B and C.
    let (a, b, c) = ((0.0, 0.0), (9.0, 0.5), (4.0, 3.0));
    let x = 0.5 * a.0 + 0.3 * b.0 + 0.2 * c.0;
    let y = 0.5 * a.1 + 0.3 * b.1 + 0.2 * c.1;
    for (ka, kb, kc, gap) in [(1e7, 1e7, 1e7, 0.0), (5e6, 6e7, 2e7, 0.03), (1e9, 2e6, 1e7, -0.2)] {
        let supports = [support(a.0, a.1, ka, 0.0), support(b.0, b.1, kb, gap), support(c.0, c.1, kc, -gap)];
        let found = stands(&supports, &load(2e5, x, y, 0.0, 0.0));
        assert_near(&reactions_n(&found), &[1e5, 6e4, 4e4], 1e-9 * 2e5);
        // No gap changes anything, for there is nothing to share.
        assert_eq!(found.contact_change, None);
    }
    let outside = solve(
        &[support(0.0, 0.0, 1e7, 0.0), support(9.0, 0.5, 1e7, 0.0), support(4.0, 3.0, 1e7, 0.0)],
        &load(2e5, 4.5, -0.1, 0.0, 0.0),
    );
    // Below the side from A (0, 0) to B (9, 0.5): distance (9·(−0.1) − 0.5·4.5)/√81.25 = −0.349 461 m.
    let Ok(Answer::Tips(tips)) = outside else { panic!("it tips") };
    assert_eq!((tips.over.from, tips.over.to), (0, 1));
    assert!((tips.margin.as_m() + 0.349_461).abs() < 1e-6);
}

#[test]
fn hand_only_the_warp_of_four_gaps_moves_load_and_one_low_leg_lifts_at_p_over_k() {
    // P = 100 kN, k = 10 MN/m. One leg low by d: the diagonal with it loses k·d/4 each, the other gains it.
    let (p, k) = (1e5, 1e7);
    let with = |d: [f64; 4]| {
        let mut supports = four(4.0, 1.5, k);
        for (s, d) in supports.iter_mut().zip(d) {
            s.gap = Length::m(d);
        }
        stands(&supports, &load(p, 0.0, 0.0, 0.0, 0.0))
    };
    // 4 mm: k·d/4 = 10 kN.
    assert_near(&reactions_n(&with([0.004, 0.0, 0.0, 0.0])), &[15e3, 35e3, 35e3, 15e3], 1e-5);
    // Heave and tilt in both axes: nothing changes.
    assert_near(&reactions_n(&with([0.009, 0.004, 0.006, 0.001])), &[25e3; 4], 1e-5);
    // At d = P/k = 10 mm both legs of the low diagonal have just come to nothing; past it they stay off
    // and the frame rocks on the other two.
    assert_near(&reactions_n(&with([0.0099, 0.0, 0.0, 0.0])), &[250.0, 49_750.0, 49_750.0, 250.0], 1e-5);
    let past = with([0.015, 0.0, 0.0, 0.0]);
    assert_near(&reactions_n(&past), &[0.0, 5e4, 5e4, 0.0], 1e-5);
    assert_eq!(past.lifted, vec![0, 3]);
    assert!(!past.displacement.unique && past.contact_change.is_none());
    // The least change that alters the contact set is told: from 4 mm, 6 mm more (a wider gap at either
    // low leg, or a narrower one at either other leg).
    let change = with([0.004, 0.0, 0.0, 0.0]).contact_change.expect("there is one");
    assert!((change.change.as_mm().abs() - 6.0).abs() < 1e-6, "{change:?}");
    assert_eq!(change.becomes, Becomes::Light);
}

#[test]
fn hand_a_beam_on_the_side_of_the_hull_with_three_supports() {
    // The load acts on the side y = 0 over three equal springs at x = 0, 4, 8, at x = 4: a third each.
    // The support at (4, 3) would put a moment about that side, so it carries nothing.
    let supports = [
        support(0.0, 0.0, 1e7, 0.0),
        support(4.0, 0.0, 1e7, 0.0),
        support(8.0, 0.0, 1e7, 0.0),
        support(4.0, 3.0, 1e7, -0.05),
    ];
    let found = stands(&supports, &load(3e4, 4.0, 0.0, 0.0, 0.0));
    assert_near(&reactions_n(&found), &[1e4, 1e4, 1e4, 0.0], 1e-6);
    assert_eq!(found.lifted, vec![3]);
    // The middle one 3 mm low: k·g = 30 kN is more than its share, 10 kN, so the ends carry all.
    let mut low = supports;
    low[1].gap = Length::mm(3.0);
    assert_near(&reactions_n(&stands(&low, &load(3e4, 4.0, 0.0, 0.0, 0.0))), &[15e3, 0.0, 15e3, 0.0], 1e-6);
    // Over a corner, that corner carries all.
    let corner = stands(&supports, &load(3e4, 8.0, 0.0, 0.0, 0.0));
    assert_near(&reactions_n(&corner), &[0.0, 0.0, 3e4, 0.0], 1e-6);
    assert!(corner.certificate.holds());
}

#[test]
fn hand_few_supports_and_supports_at_one_place() {
    // One support under the load carries it; beside it, the frame tips.
    let one = [support(2.0, 1.0, 1e7, 0.0)];
    assert_near(&reactions_n(&stands(&one, &load(1e4, 2.0, 1.0, 0.0, 0.0))), &[1e4], 1e-6);
    assert!(matches!(solve(&one, &load(1e4, 2.1, 1.0, 0.0, 0.0)), Ok(Answer::Tips(_))));
    // Two supports: a beam; the load a quarter of the way puts 3/4 and 1/4 on them.
    let two = [support(0.0, 0.0, 1e7, 0.0), support(4.0, 0.0, 3e7, 0.002)];
    let beam = stands(&two, &load(1e4, 1.0, 0.0, 0.0, 0.0));
    assert_near(&reactions_n(&beam), &[7500.0, 2500.0], 1e-6);
    assert!(!beam.displacement.unique);
    assert!(matches!(solve(&two, &load(1e4, 1.0, 0.01, 0.0, 0.0)), Ok(Answer::Tips(_))));
    assert!(matches!(solve(&two, &load(1e4, 4.01, 0.0, 0.0, 0.0)), Ok(Answer::Tips(_))));
    // Two equal springs at one place, one 1 mm low: of 20 kN on that place, 15 and 5 kN (k·g = 10 kN).
    let twins = [
        support(0.0, 0.0, 1e7, 0.0),
        support(0.0, 0.0, 1e7, 0.001),
        support(4.0, 0.0, 1e7, 0.0),
        support(2.0, 2.0, 1e7, 0.0),
    ];
    // At 0.5·A + 0.25·C + 0.25·D of 40 kN.
    let found = stands(&twins, &load(4e4, 1.5, 0.5, 0.0, 0.0));
    assert_near(&reactions_n(&found), &[15e3, 5e3, 1e4, 1e4], 1e-6);
    // Three in line carry a load on that line: here all equal and the load over the middle.
    let line = [support(0.0, 1.0, 1e7, 0.0), support(3.0, 1.0, 1e7, 0.0), support(6.0, 1.0, 1e7, 0.0)];
    assert_near(&reactions_n(&stands(&line, &load(3e4, 3.0, 1.0, 0.0, 0.0))), &[1e4; 3], 1e-6);
    assert!(matches!(solve(&line, &load(3e4, 3.0, 1.2, 0.0, 0.0)), Ok(Answer::Tips(_))));
}

#[test]
fn law_mirror_order_place_and_units_change_nothing() {
    let mut chance = Chance::new(17);
    for _ in 0..300 {
        let (supports, at) = random_frame(&mut chance, 6, 0.008);
        let before = reactions_n(&stands(&supports, &at));
        let close = 1e-9 * at.down.as_n();
        // Mirrored in the xz plane: y turns round, and with it the couple about x.
        let mirrored: Vec<Support> = supports.iter().map(|s| Support { y: -s.y, ..*s }).collect();
        let mirrored_load = Load { y: -at.y, moment_x: -at.moment_x, ..at };
        assert_near(&reactions_n(&stands(&mirrored, &mirrored_load)), &before, close);
        // In the other order.
        let turned: Vec<Support> = supports.iter().rev().copied().collect();
        let mut back = reactions_n(&stands(&turned, &at));
        back.reverse();
        assert_near(&back, &before, close);
        // Measured from another origin, and every gap wider by as much: the frame only sinks farther.
        let away = |s: &Support| Support {
            x: s.x + Length::m(37.0),
            y: s.y - Length::m(11.0),
            gap: s.gap + Length::mm(25.0),
            ..*s
        };
        let moved: Vec<Support> = supports.iter().map(away).collect();
        let moved_load = Load { x: at.x + Length::m(37.0), y: at.y - Length::m(11.0), ..at };
        assert_near(&reactions_n(&stands(&moved, &moved_load)), &before, close);
        // The same numbers with the foot as unit of length: forces per foot, couples in foot-forces.
        const FOOT: f64 = 0.3048;
        let in_feet = |s: &Support| Support {
            x: s.x / FOOT,
            y: s.y / FOOT,
            gap: s.gap / FOOT,
            stiffness: Stiffness::n_per_m(s.stiffness.as_n_per_m() * FOOT),
        };
        let feet: Vec<Support> = supports.iter().map(in_feet).collect();
        let feet_load = Load {
            x: at.x / FOOT,
            y: at.y / FOOT,
            moment_x: at.moment_x / FOOT,
            moment_y: at.moment_y / FOOT,
            ..at
        };
        assert_near(&reactions_n(&stands(&feet, &feet_load)), &before, close);
        // Twice the load on springs twice as stiff, or with gaps twice as wide: twice the reactions.
        let stiff: Vec<Support> =
            supports.iter().map(|s| Support { stiffness: s.stiffness * 2.0, ..*s }).collect();
        let wide: Vec<Support> = supports.iter().map(|s| Support { gap: s.gap * 2.0, ..*s }).collect();
        let twice =
            Load { down: at.down * 2.0, moment_x: at.moment_x * 2.0, moment_y: at.moment_y * 2.0, ..at };
        let doubled: Vec<f64> = before.iter().map(|r| 2.0 * r).collect();
        assert_near(&reactions_n(&stands(&stiff, &twice)), &doubled, 2.0 * close);
        assert_near(&reactions_n(&stands(&wide, &twice)), &doubled, 2.0 * close);
    }
}

#[test]
fn law_loads_add_up_while_all_supports_carry() {
    let mut chance = Chance::new(23);
    let mut added = 0;
    for _ in 0..2000 {
        let (mut supports, first) = random_frame(&mut chance, 6, 0.0);
        for s in &mut supports {
            s.gap = Length::ZERO;
        }
        let second = Load::weight(first.down * 0.7, first.x + Length::m(0.8), first.y + Length::m(0.1));
        let both = {
            let total = first.down + second.down;
            let (f, s) = (first.down.as_n(), second.down.as_n());
            Load {
                down: total,
                x: Length::m((f * first.x.as_m() + s * second.x.as_m()) / total.as_n()),
                y: Length::m((f * first.y.as_m() + s * second.y.as_m()) / total.as_n()),
                moment_x: first.moment_x,
                moment_y: first.moment_y,
            }
        };
        let answers = [first, second, both].map(|l| solve(&supports, &l));
        let [Ok(Answer::Stands(a)), Ok(Answer::Stands(b)), Ok(Answer::Stands(c))] = answers else { continue };
        if a.lifted.is_empty() && b.lifted.is_empty() {
            let sum: Vec<f64> = reactions_n(&a).iter().zip(reactions_n(&b)).map(|(a, b)| a + b).collect();
            assert_near(&reactions_n(&c), &sum, 1e-9 * both.down.as_n());
            added += 1;
        }
    }
    assert!(added > 300, "only {added} of 2000 frames had all supports carrying");
}

#[test]
fn law_reactions_balance_the_load_and_follow_from_the_displacement() {
    let mut chance = Chance::new(29);
    let mut solver = Solver::new();
    for n in [3, 4, 6, 9, 12, 24] {
        for _ in 0..300 {
            let (supports, at) = random_frame(&mut chance, n, 0.02);
            let found = stands(&supports, &at);
            let w = at.down.as_n();
            let sum = |of: fn(&Support) -> f64| {
                supports.iter().zip(&found.reactions).map(|(s, r)| of(s) * r.as_n()).sum::<f64>()
            };
            assert!((sum(|_| 1.0) - w).abs() <= 1e-10 * w);
            assert!((sum(|s| s.y.as_m()) - (w * at.y.as_m() - at.moment_x.as_nm())).abs() <= 1e-9 * w);
            assert!((sum(|s| s.x.as_m()) - (w * at.x.as_m() + at.moment_y.as_nm())).abs() <= 1e-9 * w);
            for (i, (s, r)) in supports.iter().zip(&found.reactions).enumerate() {
                let compression = -found.displacement.at(s.x, s.y).as_m() - s.gap.as_m();
                let spring = s.stiffness.as_n_per_m() * compression.max(0.0);
                assert!((spring - r.as_n()).abs() <= 1e-9 * w, "support {i}");
            }
            // A solver that has solved other frames answers to the last bit as a new one does.
            match solver.solve(&supports, &at) {
                Ok(tober_calc::supports::AnswerRef::Stands(again)) => assert_eq!(*again, found),
                other => panic!("{other:?}"),
            }
        }
    }
}

#[test]
fn law_the_least_change_of_a_gap_is_the_least_that_alters_what_carries() {
    let mut chance = Chance::new(31);
    let mut altered = 0;
    for _ in 0..400 {
        let (supports, at) = random_frame(&mut chance, 6, 0.006);
        let before = stands(&supports, &at);
        let Some(change) = before.contact_change else { continue };
        let with = |gap_of: usize, by: Length| {
            let mut changed = supports.clone();
            changed[gap_of].gap = changed[gap_of].gap + by;
            stands(&changed, &at).lifted
        };
        // A little less leaves all as it was, at this support and at every other, either way.
        for i in 0..supports.len() {
            for by in [change.change * 0.999, change.change * -0.999] {
                assert_eq!(with(i, by), before.lifted, "{change:?}");
            }
        }
        // A little more alters it, and at the support that was named.
        let after = with(change.gap_of, change.change * 1.001);
        let light_after = after.contains(&change.support);
        assert_eq!(light_after, change.becomes == Becomes::Light, "{change:?} {after:?}");
        altered += 1;
    }
    assert!(altered > 350, "{altered} of 400");
}
