//! How long a crew waits for the packing: the shared cases one by one, and harder random frames.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

#[path = "../tests/packing/cases.rs"]
#[allow(dead_code, unused_imports, reason = "the tests in this file belong to the test run")]
mod cases;
#[path = "../tests/packing/check.rs"]
#[allow(dead_code, reason = "used by the tests of the shared file")]
mod check;
#[path = "../tests/packing/enumeration.rs"]
#[allow(dead_code, unused_imports, reason = "the tests in this file belong to the test run")]
mod enumeration;

use std::hint::black_box;
use std::time::Instant;
use tober_calc::packing::{Answer, Budget, Problem, solve};

/// Seconds for one solve: the best of a few, so that a busy machine shows less.
fn seconds(problem: &Problem, budget: &Budget, times: u32) -> f64 {
    let once = || {
        let start = Instant::now();
        black_box(solve(black_box(problem), budget)).expect("well formed");
        start.elapsed().as_secs_f64()
    };
    (0..times).map(|_| once()).fold(f64::INFINITY, f64::min)
}

fn print(what: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    let at = |share: f64| times[((times.len() - 1) as f64 * share).round() as usize] * 1e3;
    println!(
        "{what}: median {:.3} ms, 90 % {:.3} ms, 99 % {:.3} ms, worst {:.3} ms of {}",
        at(0.5),
        at(0.9),
        at(0.99),
        at(1.0),
        times.len()
    );
}

fn main() {
    let shared: Vec<Problem> = cases::shared().iter().map(cases::problem).collect();
    let bare = Budget { tidying: 0, ..Budget::usual() };
    for (what, budget) in [("lift and boards", bare), ("with stacks and holes tidied", Budget::usual())] {
        let times: Vec<f64> = shared.iter().map(|problem| seconds(problem, &budget, 5)).collect();
        if std::env::args().any(|arg| arg == "--each") {
            for (case, time) in cases::shared().iter().zip(&times) {
                println!("  {} {:.3} ms", case["id"].as_str().unwrap_or("?"), time * 1e3);
            }
        }
        print(&format!("shared cases, {what}"), times);
    }
    for (n, kinds) in [(4, 4), (6, 5), (8, 6), (12, 6)] {
        let mut chance = enumeration::Chance(0x70BE_0010);
        let problems: Vec<Problem> =
            (0..100).map(|_| enumeration::random_kit(&mut chance, n, kinds)).collect();
        let mut unproved = 0;
        let times = problems.iter().map(|problem| {
            let start = Instant::now();
            let answer = solve(problem, &bare).expect("well formed");
            unproved += u32::from(matches!(answer, Answer::BestFound { .. } | Answer::NotReached { .. }));
            start.elapsed().as_secs_f64()
        });
        let times: Vec<f64> = times.collect();
        print(&format!("random, {n} legs, {kinds} kinds ({unproved} unproved)"), times);
    }
}
