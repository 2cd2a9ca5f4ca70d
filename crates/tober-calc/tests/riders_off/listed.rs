//! Against every order there is, gone through one by one, with sums of its own.

use super::{G, Seeded, seat, wheel};
use tober_calc::riders_off::{Access, Stopped, answered};
use tober_quantity::maths::{cos, hypot, sin};
use tober_quantity::{Angle, Mass};

/// The greatest moment over every choice of masses inside the bands, by trying every corner of them; N m.
fn worst_of(question: &Stopped, aboard: &[bool]) -> f64 {
    let there: Vec<(f64, f64, f64, f64)> = question
        .seats
        .iter()
        .zip(aboard)
        .filter(|(_, aboard)| **aboard)
        .flat_map(|(seat, _)| {
            let a = seat.angle.as_rad();
            let at = (seat.radius.as_m() * cos(a), seat.radius.as_m() * sin(a));
            seat.riders.iter().map(move |(low, high)| (at.0, at.1, low.as_kg(), high.as_kg()))
        })
        .collect();
    let mut worst: f64 = 0.0;
    for corner in 0_u32..(1 << there.len()) {
        let mut sum = question.own_kg_m;
        for (i, (x, y, low, high)) in there.iter().enumerate() {
            let kg = if corner >> i & 1 == 1 { high } else { low };
            sum = (sum.0 + kg * x, sum.1 + kg * y);
        }
        worst = worst.max(G * hypot(sum.0, sum.1));
    }
    (worst - 1e-6 - worst * 1e-9).ceil()
}

/// Least greatest moment and, with it, fewest turns, over every order.
fn best_of_all(question: &Stopped) -> (f64, usize) {
    let n = question.seats.len();
    let there: Vec<usize> =
        (0..n).filter(|&i| !question.seats[i].riders.is_empty() && !question.seats[i].jammed).collect();
    let mut aboard: Vec<bool> = question.seats.iter().map(|seat| !seat.riders.is_empty()).collect();
    let start = worst_of(question, &aboard);
    let mut best = (f64::INFINITY, usize::MAX);
    go(question, &there, &mut aboard, None, (start, 0), &mut best);
    best
}

fn go(
    question: &Stopped,
    there: &[usize],
    aboard: &mut Vec<bool>,
    at: Option<f64>,
    so_far: (f64, usize),
    best: &mut (f64, usize),
) {
    if there.iter().all(|&i| !aboard[i]) {
        if so_far < *best {
            *best = so_far;
        }
        return;
    }
    for &i in there {
        if !aboard[i] {
            continue;
        }
        aboard[i] = false;
        let greatest = so_far.0.max(worst_of(question, aboard));
        // Every stop at which a seat that was filled stands square at the place, and the one it stopped at.
        let filled = question.seats.iter().filter(|seat| !seat.riders.is_empty());
        let stops = filled.map(|seat| -seat.angle.as_deg()).chain([question.turned.as_deg()]);
        for stop in stops {
            let off = (question.seats[i].angle.as_deg() + stop).rem_euclid(360.0);
            if off.min(360.0 - off) > question.access[0].within.as_deg() + 1e-6 {
                continue;
            }
            let here = at.unwrap_or(question.turned.as_deg());
            let apart = (stop - here).rem_euclid(360.0);
            let turns = so_far.1 + usize::from(apart.min(360.0 - apart) > 1e-6);
            go(question, there, aboard, Some(stop), (greatest, turns), best);
        }
        aboard[i] = true;
    }
}

/// Wheels of up to six cars with riders of any mass, empty and jammed ones among them: the same moment and the same turns as the
/// best of all orders.
#[test]
fn law_the_best_of_every_order_of_small_rides() {
    let mut seeded = Seeded(17);
    for case in 0..150 {
        let n = 3 + seeded.below(3) as usize;
        let masses: Vec<f64> = (0..n).map(|_| seeded.below(5) as f64 * 40.0).collect();
        let mut question = wheel(3.0, &masses);
        question.turned = Angle::deg(seeded.below(8) as f64 * 45.0);
        question.access[0].within = Angle::deg(if seeded.below(2) == 0 { 1.0 } else { 95.0 });
        question.own_kg_m = (seeded.below(40) as f64, 0.0);
        for seat in &mut question.seats {
            seat.jammed = seeded.below(6) == 0;
            if seeded.below(3) == 0 {
                for rider in &mut seat.riders {
                    rider.0 = rider.0 - Mass::kg(seeded.below(30) as f64);
                }
            }
        }
        let answer = answered(&question, None).unwrap();
        let expected = best_of_all(&question);
        assert!(answer.proved(), "case {case}");
        assert_eq!((answer.greatest.as_nm(), answer.turns), expected, "case {case}: {question:#?}");
    }
}

/// Seats at any radius and angle, not evenly about, and two to a direction.
#[test]
fn law_the_best_of_every_order_of_uneven_rides() {
    let mut seeded = Seeded(4);
    for case in 0..80 {
        let mut question = wheel(3.0, &[0.0]);
        question.seats.clear();
        for i in 0..5 {
            let kg = 40.0 + seeded.below(120) as f64;
            let (radius, angle) = (1.0 + seeded.below(4) as f64, seeded.below(12) as f64 * 30.0);
            question.seats.push(seat(&format!("s{i}"), radius, angle, &[(kg, kg)]));
        }
        question.access =
            vec![Access { name: "steps".to_owned(), angle: Angle::ZERO, within: Angle::deg(31.0) }];
        let answer = answered(&question, None).unwrap();
        assert_eq!(
            (answer.greatest.as_nm(), answer.turns),
            best_of_all(&question),
            "case {case}: {question:#?}"
        );
        assert!(answer.proved());
    }
}
