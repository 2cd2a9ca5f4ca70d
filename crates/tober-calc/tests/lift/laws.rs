//! Laws of a lift: equilibrium, mirror, scaling, and that nothing on a finer list exceeds the peak.

use crate::cases::cases;
use crate::{assert_near, part, point, travel};
use tober_calc::lift::{Hinged, Travel, hinged_at, travelled};
use tober_quantity::{Angle, Length, maths};

/// A share of the weight: sums of a few products of doubles.
const SHARE: f64 = 1e-10;

/// Arms of every build from a small generator of its own (a linear congruence, always the same), with the shared ones.
fn arms() -> Vec<(Hinged, Travel)> {
    let mut state = 7_u64;
    let mut next = |low: f64, high: f64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * (state >> 40) as f64 / f64::from(1_u32 << 24)
    };
    let mut arms: Vec<_> = cases().into_iter().map(|(_, part, travel)| (part, travel)).collect();
    for falls in 1..=60 {
        let arm = part(
            next(100.0, 9000.0),
            point(next(0.5, 9.0), next(-6.0, 2.0)),
            point(next(1.0, 11.0), next(-1.0, 1.0)),
            (next(-6.0, 3.0), next(2.0, 9.0)),
            1 + falls % 6,
            next(0.9, 1.0),
        );
        arms.push((arm, travel(next(-20.0, 20.0), next(30.0, 100.0), 5.0)));
    }
    arms
}

/// Weight, line and hinge sum to nothing, and so do their moments about the sheave, through which the line passes: an equation
/// that the pull was not made from.
#[test]
fn law_part_is_at_rest_at_every_angle() {
    let mut rows = 0;
    for (arm, travel) in arms() {
        let weight = arm.mass.as_kg() * arm.gravity.as_m_s2();
        for row in travelled(&arm, &travel).expect("sound").listed.rows {
            let (Some(pull), Some((hx, hz))) = (row.pull, row.hinge) else { continue };
            let direction = row.line_direction.as_rad();
            let most = SHARE * (weight + pull.as_n().abs());
            assert_near(hx.as_n() + pull.as_n() * maths::cos(direction), 0.0, most);
            assert_near(hz.as_n() + pull.as_n() * maths::sin(direction) - weight, 0.0, most);
            let (sx, sz) = (arm.sheave_x.as_m(), arm.sheave_z.as_m());
            let (sin, cos) = (maths::sin(row.phi.as_rad()), maths::cos(row.phi.as_rad()));
            let gx = arm.centre.along.as_m() * cos - arm.centre.normal.as_m() * sin;
            let about_sheave = -sx * hz.as_n() + sz * hx.as_n() - (gx - sx) * weight;
            assert_near(about_sheave, 0.0, most * 20.0);
            rows += 1;
        }
    }
    assert!(rows > 900, "only {rows} rows");
}

#[test]
fn law_virtual_work_gives_the_same_pull() {
    /// Central differences over 1e-5 rad keep seven digits and more, off dead points.
    const WORK_SHARE: f64 = 1e-6;
    for (arm, travel) in arms() {
        for row in travelled(&arm, &travel).expect("sound").listed.rows {
            let (Some(pull), Some(work)) = (row.pull, row.virtual_work) else { continue };
            if row.lever.as_m().abs() > 0.05 && row.line_length.as_m() > 0.5 {
                let weight = arm.mass.as_kg() * arm.gravity.as_m_s2();
                assert_near(work.as_n(), pull.as_n(), WORK_SHARE * (pull.as_n().abs() + weight));
            }
        }
    }
}

#[test]
fn law_lift_seen_in_a_mirror_pulls_alike() {
    for (arm, travel) in arms() {
        let mut mirrored = arm;
        mirrored.centre.normal = -arm.centre.normal;
        mirrored.eye.normal = -arm.eye.normal;
        mirrored.sheave_x = -arm.sheave_x;
        for row in travelled(&arm, &travel).expect("sound").listed.rows {
            let other = hinged_at(&mirrored, Angle::deg(180.0) - row.phi).expect("sound");
            let (Some(a), Some(b)) = (row.pull, other.pull) else { continue };
            let most = 1e-8 * (a.as_n().abs() + 1.0);
            assert_near(b.as_n(), a.as_n(), most);
            assert_near(other.lever.as_m(), -row.lever.as_m(), 1e-10);
            let (ours, theirs) = (row.hinge.expect("a hinge"), other.hinge.expect("a hinge"));
            assert_near(theirs.0.as_n(), -ours.0.as_n(), most);
            assert_near(theirs.1.as_n(), ours.1.as_n(), most);
        }
    }
}

#[test]
fn law_pull_grows_with_mass_and_not_with_size() {
    for (arm, travel) in arms() {
        let mut large = arm;
        for length in [
            &mut large.centre.along,
            &mut large.centre.normal,
            &mut large.eye.along,
            &mut large.eye.normal,
            &mut large.sheave_x,
            &mut large.sheave_z,
        ] {
            *length = *length * 3.0;
        }
        large.mass = arm.mass * 2.0;
        let (small, large) =
            (travelled(&arm, &travel).expect("sound"), travelled(&large, &travel).expect("sound"));
        for (a, b) in small.listed.rows.iter().zip(&large.listed.rows) {
            let (Some(f), Some(g)) = (a.pull, b.pull) else { continue };
            assert_near(g.as_n(), 2.0 * f.as_n(), 1e-8 * (f.as_n().abs() + 1.0));
            assert_near(b.lever.as_m(), 3.0 * a.lever.as_m(), 1e-10);
        }
        assert_eq!(small.dead.len(), large.dead.len());
    }
}

/// A list forty times as fine finds no more than the peak, and comes near it.
#[test]
fn law_no_listed_angle_however_fine_exceeds_the_peak() {
    let mut inner = 0;
    for (arm, travel) in arms() {
        let found = travelled(&arm, &travel).expect("sound");
        let Some(peak) = found.peak else {
            assert!(!found.dead.is_empty(), "only a dead point leaves no peak");
            continue;
        };
        let (start, end) = (travel.start.as_deg(), travel.end.as_deg());
        let weight = arm.mass.as_kg() * arm.gravity.as_m_s2();
        let mut greatest = f64::NEG_INFINITY;
        for i in 0..=20_000_u32 {
            let phi = Angle::deg(start + (end - start) * f64::from(i) / 20_000.0);
            let pull = hinged_at(&arm, phi).expect("sound").pull.expect("no dead point");
            greatest = greatest.max(pull.as_n());
        }
        assert!(greatest <= peak.force.as_n() + 1e-9 * weight, "{greatest} over {peak:?}");
        assert!(
            greatest >= peak.force.as_n() - 1e-4 * weight - 1e-4 * greatest.abs(),
            "{greatest} under {peak:?}"
        );
        inner += i32::from(peak.phi.as_deg() > start + 0.1 && peak.phi.as_deg() < end - 0.1);
    }
    assert!(inner >= 3, "only {inner} peaks lie inside a travel");
}

#[test]
fn law_peak_of_the_travel_holds_that_of_the_list() {
    for (arm, travel) in arms() {
        let found = travelled(&arm, &travel).expect("sound");
        if let (Some(whole), Some(listed)) = (found.peak, found.listed.peak) {
            assert!(whole.force >= listed.force);
        }
        let upright = hinged_at(&arm, found.balance).expect("sound");
        let lever = upright.weight_moment.as_nm() / (arm.mass.as_kg() * arm.gravity.as_m_s2());
        assert_near(Length::m(lever).as_m(), 0.0, 1e-12);
    }
}
