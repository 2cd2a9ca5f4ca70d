//! The chance of standing in tolerance: against tables, against seeded sampling, against its own laws.

use crate::enumeration::Chance as Lot;
use tober_calc::packing::chance::{Cause, Chance, ChanceError, Doubts, chance, normal, normal_of_two};
use tober_calc::packing::{BoardKind, Leg, Problem, StackRules, Support, TenthMmPerM};
use tober_quantity::{Length, TenthMm};

/// The table was printed to six places; as it is carried about, one figure is off by 1.4e-7 and others by 1e-9.
const OF_TABLE: f64 = 5e-7;

fn frame(at: &[(i64, i64)], level: (i64, i64), planarity: i64) -> Problem {
    let leg = Leg::Holes { pin_first: TenthMm(3000), pin_pitch: TenthMm(500), pin_count: 3 };
    let support = |(i, &(x, y)): (usize, &(i64, i64))| Support::plain(format!("L{i}"), x, y, TenthMm(0), leg);
    Problem {
        supports: at.iter().enumerate().map(support).collect(),
        boards: vec![BoardKind::plain("50", TenthMm(500), 9)],
        max_stack: TenthMm(2000),
        min_boards_per_stack: 0,
        max_boards_per_stack: 4,
        min_lift: TenthMm(0),
        level_tol_x: TenthMmPerM(level.0),
        level_tol_y: TenthMmPerM(level.1),
        planarity_tol: TenthMm(planarity),
        clearances: Vec::new(),
        rules: StackRules::plain(),
    }
}

/// Each leg on its own, with one deviation in tenths of a millimetre.
fn own(deviations: &[f64]) -> Vec<Cause> {
    let cause = |(i, _): (usize, &f64)| {
        let moves =
            deviations.iter().enumerate().map(|(j, &d)| Length::mm(if i == j { d / 10.0 } else { 0.0 }));
        Cause { name: format!("tape {i}"), moves: moves.collect(), left: Some(0.5), again: String::new() }
    };
    deviations.iter().enumerate().map(cause).collect()
}

fn still(causes: Vec<Cause>, legs: usize) -> Doubts {
    Doubts { shift: vec![Length::ZERO; legs], causes }
}

fn asked(problem: &Problem, seats: &[i64], doubts: &Doubts) -> Chance {
    let seats: Vec<TenthMm> = seats.iter().map(|&seat| TenthMm(seat)).collect();
    chance(problem, &seats, doubts).expect("well formed")
}

/// Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 26.1.
#[test]
fn truth_normal_table() {
    for (x, p) in [
        (0.0, 0.5),
        (0.5, 0.691_462_461_274_013),
        (1.0, 0.841_344_746_068_543),
        (1.96, 0.975_002_104_851_78),
        (2.0, 0.977_249_868_051_821),
        (3.0, 0.998_650_101_968_370),
    ] {
        assert!((normal(x) - p).abs() < 1e-12, "{x}: {}", normal(x));
        assert!((normal(-x) - (1.0 - p)).abs() < 1e-12, "{x}");
    }
}

/// National Bureau of Standards, Tables of the Bivariate Normal Distribution Function and Related Functions, Applied
/// Mathematics Series 50 (1959), as carried to sixteen figures in public test values.
#[test]
fn truth_bivariate_normal_table() {
    for (h, k, r, p) in [
        (-2.0, 1.0, 0.5, 0.022_603_272_185_698_67),
        (-1.0, 1.0, 0.5, 0.154_872_951_858_41),
        (0.0, 1.0, 0.5, 0.468_742_808_335_218_4),
        (1.0, 1.0, 0.5, 0.745_203_586_892_947_6),
        (2.0, 1.0, 0.5, 0.831_860_830_687_418_8),
        (3.0, 1.0, 0.5, 0.841_031_426_113_420_2),
        (-0.2, 0.5, -0.9, 0.137_701_938_491_946_4),
        (-0.2, 0.5, -0.5, 0.217_775_115_526_529),
        (-0.2, 0.5, -0.1, 0.277_072_982_340_473_8),
        (-0.2, 0.5, 0.0, 0.290_926_116_868_381_2),
        (-0.2, 0.5, 0.3, 0.332_026_254_410_802_8),
        (-0.2, 0.5, 0.7, 0.388_770_640_528_232),
        (-0.2, 0.5, 0.8, 0.403_276_519_836_134_4),
        (1.0, 0.5, 0.673, 0.650_827_149_883_866_4),
        (-1.0, -1.0, 0.5, 0.062_514_094_704_316_53),
        (0.0, 0.0, 1.0, 0.5),
        (0.0, 0.0, -1.0, 0.0),
        (0.0, 0.0, 0.0, 0.25),
    ] {
        let ours = normal_of_two(h, k, r);
        assert!((ours - p).abs() < OF_TABLE, "{h} {k} {r}: {ours} for {p}");
    }
}

/// Sheppard's theorem (1899): both below their middle with the chance 1/4 + asin(r) / (2 pi). The figures are those
/// of r = 1/2 (a third), r = -1/2 (a sixth), and of r = sin 80 and sin 89 degrees (17/36 and 179/360).
#[test]
fn truth_sheppard() {
    let sine = |degrees: f64| tober_quantity::maths::sin(degrees.to_radians());
    for (r, p) in [(0.5, 1.0 / 3.0), (-0.5, 1.0 / 6.0), (sine(80.0), 17.0 / 36.0), (-sine(89.0), 1.0 / 360.0)]
    {
        assert!((normal_of_two(0.0, 0.0, r) - p).abs() < 1e-12, "{r}");
    }
}

/// With no slope allowed, in tolerance means that the greatest height less the least is within twice the planarity: the
/// range of n normal heights. Its 95 % and 99 % points: Pearson and Hartley, Biometrika Tables for Statisticians,
/// table 29, endless degrees of freedom.
#[test]
fn truth_range_of_heights() {
    // Tables give the point to a thousandth: 0.0005 times a density below 0.2, and the lattice's own error.
    let of_point = 1.5e-4;
    for (legs, q95, q99) in
        [(3, 3.314, 4.120), (4, 3.633, 4.403), (5, 3.858, 4.603), (6, 4.030, 4.757), (8, 4.286, 4.987)]
    {
        let at: Vec<(i64, i64)> =
            (0..legs).map(|i| ((i / 2) * 3000 + (i % 2) * 70, (i % 2) * 2400 + i)).collect();
        for (q, p) in [(q95, 0.95), (q99, 0.99)] {
            // One deviation is 1000 tenths; twice the planarity is q deviations.
            let planarity = (q * 500.0_f64).round() as i64;
            let problem = frame(&at, (0, 0), planarity);
            let doubts = still(own(&vec![1000.0; at.len()]), at.len());
            let found = asked(&problem, &vec![0; at.len()], &doubts);
            let off = (found.chance - p).abs();
            assert!(off < of_point + found.off_by, "{legs} legs, {q}: {found:?}");
            assert!(found.off_by < 0.006, "{legs} legs: {found:?}");
            assert!(found.at_least <= p + of_point && p - of_point <= found.at_most, "{found:?}");
        }
    }
}

/// Three legs at a right angle, each off by 100 tenths: the two slopes are normal, alike, and hang together by a half, as
/// both have the corner in them. With limits of one deviation of a slope and no planarity the chance is that of a
/// square of the bivariate table at r = 1/2: F(1,1) - 2 F(1,-1) + F(-1,-1) (NBS AMS 50).
#[test]
fn truth_two_slopes_from_the_bivariate_table() {
    let square = 0.745_203_586_892_947_6 - 2.0 * 0.154_872_951_858_41 + 0.062_514_094_704_316_53;
    // A slope over 4 m is off by 100 sqrt 2 / 4 = 35.355 tenths a metre; limits are whole, so scale the deviation.
    let deviation = 35.0 * 4.0 / core::f64::consts::SQRT_2;
    let problem = frame(&[(0, 0), (4000, 0), (0, 4000)], (35, 35), 0);
    let found = asked(&problem, &[0, 0, 0], &still(own(&[deviation; 3]), 3));
    assert!((found.chance - square).abs() < 1e-3 + found.off_by, "{found:?} for {square}");
    assert!(found.off_by < 1e-3, "{found:?}");
    assert!(found.at_least <= square && square <= found.at_most);
}

/// A slope that is read for all legs and is off by one deviation tilts all alike: the chance is that of one normal
/// variable inside the level tolerance, at 1.96 deviations 0.95 (Abramowitz and Stegun, table 26.1).
#[test]
fn truth_one_shared_slope() {
    let at = [(0, 0), (4000, 0), (0, 2400), (4000, 2400)];
    let problem = frame(&at, (196, 0), 0);
    let moves = at.iter().map(|&(x, _)| Length::mm(10.0 * x as f64 / 1000.0)).collect();
    let slope = Cause { name: "the slope".to_owned(), moves, left: Some(0.5), again: String::new() };
    let found = asked(&problem, &[0; 4], &still(vec![slope], 4));
    assert!((found.chance - 0.950_004_209_703_56).abs() < 1e-9, "{found:?}");
    assert_eq!(found.raises.len(), 1);
    // Half the deviation: 3.92 of them.
    assert!((found.raises[0].chance - (2.0 * normal(3.92) - 1.0)).abs() < 1e-9);
}

/// Whether some plane inside the slopes is within planarity of every seat: for each slope along, the least spread over the
/// slopes across by thirds; the least of those by thirds again. Both are convex.
fn in_tolerance(problem: &Problem, z: &[f64]) -> bool {
    let spread = |a: f64, b: f64| {
        let mut ends = (f64::INFINITY, f64::NEG_INFINITY);
        for (s, z) in problem.supports.iter().zip(z) {
            let rest = z - (a * s.x_mm as f64 + b * s.y_mm as f64) / 1000.0;
            ends = (ends.0.min(rest), ends.1.max(rest));
        }
        ends.1 - ends.0
    };
    let most = 2.0 * problem.planarity_tol.0 as f64;
    let third = |limit: f64, of: &dyn Fn(f64) -> f64| {
        let (mut low, mut high) = (-limit, limit);
        let mut best = of(0.0);
        for _ in 0..28 {
            let (p, q) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
            let (at_p, at_q) = (of(p), of(q));
            best = best.min(at_p).min(at_q);
            if best <= most {
                break;
            }
            if at_p < at_q { high = q } else { low = p }
        }
        best
    };
    let (along, across) = (problem.level_tol_x.0 as f64, problem.level_tol_y.0 as f64);
    third(along, &|a| third(across, &|b| spread(a, b))) <= most
}

fn standard(lot: &mut Lot) -> f64 {
    // The sum of twelve evenly drawn figures less six would not do in the tails; Box and Muller's way does.
    let even = |lot: &mut Lot| (lot.between(0, 999_999) as f64 + 0.5) / 1e6;
    let (u, v) = (even(lot), even(lot));
    (-2.0 * tober_quantity::maths::ln(u)).sqrt() * tober_quantity::maths::cos(core::f64::consts::TAU * v)
}

/// Frames of four to eight legs over seats that are off, with causes of their own and shared ones, against ten
/// thousand drawn builds each: within four deviations of the drawing and what the lattice says it may be off by.
#[test]
fn law_the_chance_is_that_of_seeded_sampling() {
    const BUILDS: usize = 10_000;
    let mut lot = Lot(0x70BE_0401);
    let (mut middling, mut sum) = (0, 0.0);
    for trial in 0..12 {
        let n = [4, 6, 8][trial % 3];
        let at: Vec<(i64, i64)> = (0..n)
            .map(|i| ((i / 2) * 3000 + lot.between(-200, 200), (i % 2) * 2400 + lot.between(-100, 100)))
            .collect();
        let problem = frame(&at, (lot.between(5, 40), lot.between(5, 40)), lot.between(10, 40));
        let seats: Vec<i64> = (0..n).map(|_| lot.between(-15, 15)).collect();
        let deviations: Vec<f64> = (0..n).map(|_| lot.between(3, 25) as f64).collect();
        let mut causes = own(&deviations);
        let tilt = lot.between(0, 8) as f64;
        let moves = at.iter().map(|&(x, _)| Length::mm(tilt * x as f64 / 1e4)).collect();
        causes.push(Cause { name: "slope".to_owned(), moves, left: Some(0.5), again: String::new() });
        let shift: Vec<Length> = (0..n).map(|_| Length::mm(lot.between(-10, 10) as f64 / 10.0)).collect();
        let doubts = Doubts { shift, causes };
        let found = asked(&problem, &seats, &doubts);
        let mut met = 0;
        for _ in 0..BUILDS {
            let mut z: Vec<f64> =
                seats.iter().zip(&doubts.shift).map(|(&s, by)| s as f64 + 10.0 * by.as_mm()).collect();
            for cause in &doubts.causes {
                let u = standard(&mut lot);
                z.iter_mut().zip(&cause.moves).for_each(|(z, by)| *z += u * 10.0 * by.as_mm());
            }
            met += usize::from(in_tolerance(&problem, &z));
        }
        let drawn = met as f64 / BUILDS as f64;
        let deviation = (drawn * (1.0 - drawn) / BUILDS as f64).sqrt().max(1.0 / BUILDS as f64);
        let off = (found.chance - drawn).abs();
        assert!(off < 4.0 * deviation + found.off_by, "trial {trial}: drawn {drawn}, {found:?}");
        assert!(found.off_by < 0.01, "trial {trial}: {found:?}");
        assert!(found.at_least <= drawn + 4.0 * deviation && drawn - 4.0 * deviation <= found.at_most);
        middling += usize::from((0.05..0.95).contains(&drawn));
        sum += off / deviation;
    }
    assert!(middling >= 4, "frames that may go either way: {middling}");
    // A mean of |normal| is 0.8: were the figures off by more than chance, it would be far above.
    assert!(sum / 12.0 < 1.6, "{sum}");
}

/// What all legs share in height does not matter; nor which way round the frame is named, nor the unit.
#[test]
fn law_height_mirror_and_scale() {
    let at = [(0, 0), (4100, 0), (0, 2400), (4000, 2300), (8000, 100), (8100, 2400)];
    let problem = frame(&at, (20, 15), 20);
    let seats = [3, -8, 6, 0, 9, -4];
    let doubts = still(own(&[9.0, 12.0, 8.0, 15.0, 10.0, 11.0]), 6);
    let plain = asked(&problem, &seats, &doubts);
    let raised = asked(&problem, &seats.map(|seat| seat + 5000), &doubts);
    assert!((plain.chance - raised.chance).abs() < 1e-9);
    let mut together = doubts.clone();
    together.causes.push(Cause {
        name: "datum".to_owned(),
        moves: vec![Length::mm(40.0); 6],
        left: None,
        again: String::new(),
    });
    assert!((plain.chance - asked(&problem, &seats, &together).chance).abs() < 1e-9);
    let turned = asked(&problem, &seats.map(|seat| -seat), &doubts);
    assert!((plain.chance - turned.chance).abs() < plain.off_by + turned.off_by);
    let mut wide = frame(&at.map(|(x, y)| (2 * x, 2 * y)), (20, 15), 40);
    wide.max_stack = TenthMm(2000);
    let larger = still(own(&[18.0, 24.0, 16.0, 30.0, 20.0, 22.0]), 6);
    let scaled = asked(&wide, &seats.map(|seat| 2 * seat), &larger);
    assert!((plain.chance - scaled.chance).abs() < 1e-9, "{plain:?} {scaled:?}");
    // Reading again can only raise it where seats lie in the middle.
    let middle = asked(&problem, &[0; 6], &doubts);
    assert!(middle.raises.iter().all(|raise| raise.chance >= middle.chance - middle.off_by));
}

#[test]
fn hand_nothing_moves() {
    let at = [(0, 0), (4000, 0), (0, 2400), (4000, 2400)];
    let problem = frame(&at, (10, 10), 10);
    let none = still(Vec::new(), 4);
    // Corners against each other: 0 + 0 - 40 - 0 is 40 tenths, four times the planarity of 10: just in, and just out.
    assert!((asked(&problem, &[0, 0, 0, 40], &none).chance - 1.0).abs() < 1e-12);
    let out = asked(&problem, &[0, 0, 0, 41], &none);
    assert_eq!((out.chance, out.weakest.0.len()), (0.0, 4));
}

#[test]
fn refuse_lists_that_do_not_fit() {
    let at = [(0, 0), (4000, 0), (0, 2400), (4000, 2400)];
    let problem = frame(&at, (10, 10), 10);
    let seats = [TenthMm(0); 4];
    let doubts = still(own(&[5.0; 4]), 4);
    assert!(matches!(chance(&problem, &seats[..3], &doubts), Err(ChanceError::WrongCount { have: 3, .. })));
    let mut short = doubts.clone();
    short.causes[1].moves.pop();
    assert!(matches!(chance(&problem, &seats, &short), Err(ChanceError::WrongCount { have: 3, .. })));
    let mut wild = doubts.clone();
    wild.shift[2] = Length::m(f64::NAN);
    assert!(matches!(chance(&problem, &seats, &wild), Err(ChanceError::NotANumber { .. })));
    let mut share = doubts;
    share.causes[0].left = Some(1.5);
    assert!(matches!(chance(&problem, &seats, &share), Err(ChanceError::Share { .. })));
}

/// The same chance as one integral over the first variable, `density(x) F((k - r x) / sqrt(1 - r r))`, by Simpson's
/// rule of 20,000 steps: another formula, to 1e-11.
#[test]
fn law_two_formulas_of_the_bivariate_normal_agree() {
    for (h, k, r) in
        [(0.0, 1.0, 0.5), (1.5, -0.7, -0.95), (2.5, 2.4, 0.99), (-1.0, 0.3, 0.2), (3.0, 1.0, 0.5)]
    {
        let low = -9.0;
        let of = |x: f64| {
            let density = tober_quantity::maths::exp(-0.5 * x * x) / core::f64::consts::TAU.sqrt();
            density * normal((k - r * x) / (1.0_f64 - r * r).sqrt())
        };
        let steps = 20_000;
        let width = (h - low) / f64::from(steps);
        let weight = |i: i32| if i == 0 || i == steps { 1.0 } else { f64::from(2 + 2 * (i % 2)) };
        let sum: f64 = (0..=steps).map(|i| weight(i) * of(low + f64::from(i) * width)).sum();
        let other = sum * width / 3.0;
        assert!((normal_of_two(h, k, r) - other).abs() < 1e-10, "{h} {k} {r}: {other}");
    }
}
