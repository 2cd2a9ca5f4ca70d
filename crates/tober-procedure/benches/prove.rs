//! How long the proof of a ride's steps takes: both demo rides, and 300 steps with 400 kinds of fixing; each as a ratio to
//! the lantern ride in the same run.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

#[path = "../tests/procedure/large.rs"]
mod large;

use std::collections::BTreeSet;
use std::hint::black_box;
use std::time::Instant;
use tober_book::{Ride, Source, parse_ride};
use tober_procedure::{Proofs, prove};

fn demo(name: &str) -> String {
    let path = format!("{}/../../demo/{name}/ride.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("the demo is there")
}

/// Seconds for all checks: the best of a few, so that a busy machine shows less.
fn seconds(ride: &Ride) -> (f64, Proofs) {
    let once = || {
        let start = Instant::now();
        let proofs = prove(black_box(ride), &BTreeSet::new());
        (start.elapsed().as_secs_f64(), proofs)
    };
    let all: Vec<(f64, Proofs)> = (0..5).map(|_| once()).collect();
    all.into_iter().min_by(|one, other| one.0.total_cmp(&other.0)).expect("it was done five times")
}

fn main() {
    let books = [
        ("lantern", demo("lantern")),
        ("osier", demo("osier")),
        ("300 steps, 400 fixings", large::book(false)),
        ("300 steps, 400 fixings, one rule less", large::book(true)),
    ];
    let mut first = None;
    for (name, text) in books {
        let ride = parse_ride(&Source::new("ride.toml", &text)).value.expect("it is read");
        let (seconds, proofs) = seconds(&ride);
        let base = *first.get_or_insert(seconds);
        println!(
            "{name}: {} steps, {} claims, {} refuted: {:.1} ms, {:.1} times the first",
            ride.steps.len(),
            proofs.claims.len(),
            proofs.refuted().count(),
            seconds * 1e3,
            seconds / base
        );
    }
}
