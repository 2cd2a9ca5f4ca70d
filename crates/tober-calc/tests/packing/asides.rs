//! Whether two things on the plan keep apart.

use crate::enumeration::Chance;
use tober_calc::packing::{Spot, aside};
use tober_quantity::TenthMm;

fn spots(list: &[(i64, i64)]) -> Vec<Spot> {
    list.iter().map(|&(x, y)| (TenthMm(x), TenthMm(y))).collect()
}

/// A square of 10 beside one that begins 3 farther along and 4 farther across: corner to corner 5 apart, and beside a line 3 away.
#[test]
fn hand_apart_by_a_corner_and_by_a_side() {
    let square = spots(&[(0, 0), (10, 0), (10, 10), (0, 10)]);
    let corner = spots(&[(13, 14), (20, 14), (13, 20)]);
    assert!(aside(&square, &corner, TenthMm(5)).is_some());
    assert!(aside(&square, &corner, TenthMm(6)).is_none());
    let line = spots(&[(13, -50), (13, 50)]);
    assert!(aside(&square, &line, TenthMm(3)).is_some());
    assert!(aside(&square, &line, TenthMm(4)).is_none());
    // A manhole in the middle of it, and one on its rim.
    assert!(aside(&square, &spots(&[(5, 5)]), TenthMm(0)).is_none());
    assert!(aside(&square, &spots(&[(10, 5)]), TenthMm(0)).is_some());
    // It lies across all of it though no corner is inside.
    assert!(aside(&square, &spots(&[(-5, 5), (15, 6)]), TenthMm(0)).is_none());
}

/// Against the least distance over many points of both.
#[test]
fn law_apart_is_what_the_nearest_points_are() {
    let mut chance = Chance(0x70BE_0442);
    let (mut apart, mut near) = (0, 0);
    for _ in 0..2000 {
        let mut some = |n: i64| -> Vec<(i64, i64)> {
            let middle = (chance.between(-300, 300), chance.between(-300, 300));
            (0..n)
                .map(|_| (middle.0 + chance.between(-150, 150), middle.1 + chance.between(-150, 150)))
                .collect()
        };
        let (one, other) = (some(3), some(2));
        // Points of a triangle by thirtieths, and of a line by thirtieths.
        let mut least = f64::INFINITY;
        for i in 0..=30_i64 {
            for j in 0..=30 - i {
                let of = |axis: fn(&(i64, i64)) -> i64| {
                    (axis(&one[0]) * i + axis(&one[1]) * j + axis(&one[2]) * (30 - i - j)) as f64 / 30.0
                };
                let p = (of(|p| p.0), of(|p| p.1));
                for k in 0..=30_i64 {
                    let of = |axis: fn(&(i64, i64)) -> i64| {
                        (axis(&other[0]) * k + axis(&other[1]) * (30 - k)) as f64 / 30.0
                    };
                    least = least.min(tober_quantity::maths::hypot(p.0 - of(|q| q.0), p.1 - of(|q| q.1)));
                }
            }
        }
        let keep = chance.between(0, 200);
        // No point of either is farther than this from one that was tried: a thirtieth of the longest side, for both.
        let coarse = 2.0 * 430.0 / 30.0;
        if aside(&spots(&one), &spots(&other), TenthMm(keep)).is_some() {
            assert!(least >= keep as f64 - 1e-9, "{one:?} {other:?} {keep} {least}");
            apart += 1;
        } else {
            assert!(least < keep as f64 + coarse, "{one:?} {other:?} {keep} {least}");
            near += 1;
        }
    }
    assert!(apart > 500 && near > 300, "{apart} {near}");
}
