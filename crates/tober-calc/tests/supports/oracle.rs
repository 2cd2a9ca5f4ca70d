//! The answer against one found another way: every contact set is tried, by elimination with pivoting.

use crate::{Chance, cases, random_frame, reactions_n, stands};
use tober_calc::supports::{Load, Support};

/// Solves a small dense system by Gaussian elimination with row pivoting.
fn eliminate(mut a: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let n = a.len();
    for col in 0..n {
        let pivot = (col..n).max_by(|&i, &j| a[i][col].abs().total_cmp(&a[j][col].abs()))?;
        a.swap(col, pivot);
        if a[col][col].abs() < 1e-9 {
            return None;
        }
        let pivot_row = a[col].clone();
        for (row, entries) in a.iter_mut().enumerate() {
            if row != col {
                let factor = entries[col] / pivot_row[col];
                for (entry, above) in entries.iter_mut().zip(&pivot_row) {
                    *entry -= factor * above;
                }
            }
        }
    }
    Some((0..n).map(|i| a[i][n] / a[i][i]).collect())
}

/// Reactions and compressions if exactly the supports in `set` act, as springs that may also pull.
/// Unknowns: the three displacements, in units that keep the numbers near one.
fn with_contact(supports: &[Support], load: &Load, set: &[bool]) -> Option<(Vec<f64>, Vec<f64>)> {
    let mut a = vec![vec![0.0; 4]; 3];
    let w = load.down.as_n();
    let rhs = [w, w * load.x.as_m() + load.moment_y.as_nm(), w * load.y.as_m() - load.moment_x.as_nm()];
    for row in 0..3 {
        a[row][3] = rhs[row] / 1e6;
    }
    for (s, _) in supports.iter().zip(set).filter(|(_, on)| **on) {
        let at = [1.0, s.x.as_m(), s.y.as_m()];
        let k = s.stiffness.as_n_per_m() / 1e6;
        for row in 0..3 {
            for col in 0..3 {
                a[row][col] += k * at[row] * at[col];
            }
            a[row][3] += k * at[row] * s.gap.as_m();
        }
    }
    let q = eliminate(a)?;
    let c: Vec<f64> =
        supports.iter().map(|s| q[0] + q[1] * s.x.as_m() + q[2] * s.y.as_m() - s.gap.as_m()).collect();
    let r = supports.iter().zip(set).zip(&c);
    let r = r.map(|((s, on), c)| if *on { s.stiffness.as_n_per_m() * c } else { 0.0 });
    Some((r.collect(), c))
}

/// The contact set in which every support that acts pushes and every other is clear.
fn by_enumeration(supports: &[Support], load: &Load) -> Option<Vec<f64>> {
    let n = supports.len();
    for bits in 0_u32..(1 << n) {
        // Two springs cannot hold a load that is not on their line, and no load here is on one.
        if bits.count_ones() < 3 {
            continue;
        }
        let set: Vec<bool> = (0..n).map(|i| bits >> i & 1 == 1).collect();
        if let Some((r, c)) = with_contact(supports, load, &set) {
            let good = (0..n).all(|i| if set[i] { r[i] >= 0.0 } else { c[i] <= 0.0 });
            if good {
                return Some(r);
            }
        }
    }
    None
}

/// What this tool must not do: start with all supports, drop those that would pull, never let one back.
fn naive(supports: &[Support], load: &Load) -> Option<Vec<f64>> {
    let mut set = vec![true; supports.len()];
    loop {
        let (r, _) = with_contact(supports, load, &set)?;
        if r.iter().all(|&r| r >= 0.0) {
            return Some(r);
        }
        for (on, r) in set.iter_mut().zip(&r) {
            *on &= *r >= 0.0;
        }
    }
}

fn far(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).fold(0.0, |m, (a, b)| m.max((a - b).abs()))
}

#[test]
fn law_newton_finds_what_trying_every_contact_set_finds() {
    let mut compared = 0;
    for (n, count) in [(3, 500), (4, 2000), (5, 2000), (6, 2000), (8, 500), (10, 30)] {
        let mut chance = Chance::new(n as u64);
        for trial in 0..count {
            let (supports, load) = random_frame(&mut chance, n, 0.010);
            let expected = by_enumeration(&supports, &load).expect("one contact set serves");
            let found = reactions_n(&stands(&supports, &load));
            let off = far(&found, &expected) / load.down.as_n();
            assert!(off <= 1e-9, "{n} supports, trial {trial}: off by {off:e} of the load");
            compared += 1;
        }
    }
    assert_eq!(compared, 7030);
}

#[test]
fn regress_dropping_supports_for_good_is_wrong_where_it_is_known_to_be() {
    let mut wrong = Vec::new();
    for case in cases::cases() {
        let Some(exact) = cases::expected_n(&case) else { continue };
        if case["kind"] == "line2" {
            continue;
        }
        let (supports, load) = cases::frame(&case);
        let found = naive(&supports, &load);
        if found.is_none_or(|r| far(&r, &exact) > 1e-6 * load.down.as_n()) {
            wrong.push(case["id"].as_str().expect("an id").to_owned());
        }
    }
    assert_eq!(wrong, ["A20", "A29"], "where the naive way fails among the shared cases");

    let (mut chance, mut astray) = (Chance::new(66), 0);
    for _ in 0..1000 {
        let (supports, load) = random_frame(&mut chance, 6, 0.010);
        let right = reactions_n(&stands(&supports, &load));
        astray +=
            u32::from(naive(&supports, &load).is_none_or(|r| far(&r, &right) > 1e-6 * load.down.as_n()));
    }
    assert!(astray > 100, "the naive way went astray in only {astray} of 1000 frames");
}
