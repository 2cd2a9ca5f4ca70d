//! The figures a user waits for, as JSON: packing and support loads on the shared cases, and whole plans.
//!
//! `bench/peers/run.sh` runs this beside general solvers, checks that the answers agree, and compares the times.

#![expect(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use serde_json::{Value, json};
use std::hint::black_box;
use std::time::Instant;
use tober_book::{Source, parse_kit, parse_pitch, parse_ride, parse_visit};
use tober_calc::packing::{Budget, solve};
use tober_calc::supports::Solver;
use tober_plan::{Books, plan};
use tober_wire::calc::questions;

/// Each packing case is solved this often, and the quickest counts: the others tell of the machine.
const PACKING_ROUNDS: usize = 7;
/// Support loads are solved for about this long at a time.
const SUPPORTS_SECONDS: f64 = 0.3;
/// Each visit is planned this often.
const PLAN_ROUNDS: usize = 60;

fn cases(text: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(text).expect("the file is JSON");
    file["cases"].as_array().expect("it has cases").clone()
}

fn packing() -> Value {
    let text = include_str!("../../tober-calc/tests/data/c_packing.json");
    let each = |case: &Value| {
        let problem = questions::packing(case).expect("the case is sound");
        // Least lift and fewest boards are what the peers answer too; tidying is ours alone.
        let budget = Budget { tidying: 0, ..Budget::usual() };
        let seconds = (0..PACKING_ROUNDS).map(|_| {
            let start = Instant::now();
            black_box(solve(black_box(&problem), &budget).expect("the case is sound"));
            start.elapsed().as_secs_f64()
        });
        json!({ "id": case["id"], "seconds": seconds.fold(f64::INFINITY, f64::min) })
    };
    cases(text).iter().map(each).collect()
}

fn supports() -> Value {
    let text = include_str!("../../tober-calc/tests/data/a_rigid.json");
    let mut solver = Solver::new();
    let mut each = |case: &Value| {
        let (supports, load) = questions::supports(case).expect("the case is sound");
        let (mut count, start) = (0_u32, Instant::now());
        while start.elapsed().as_secs_f64() < SUPPORTS_SECONDS {
            for _ in 0..1000 {
                let _ = black_box(solver.solve(black_box(&supports), black_box(&load)));
            }
            count += 1000;
        }
        let seconds = start.elapsed().as_secs_f64() / f64::from(count);
        json!({ "id": case["id"], "supports": supports.len(), "seconds": seconds })
    };
    cases(text).iter().map(&mut each).collect()
}

fn plans() -> Value {
    let ride = include_str!("../../../demo/lantern/ride.toml");
    let kit = include_str!("../../../demo/lantern/kit.toml");
    let visits = [
        (
            "plover-hard",
            include_str!("../../../demo/lantern/plover-hard/pitch.toml"),
            include_str!("../../../demo/lantern/plover-hard/visit.toml"),
        ),
        (
            "quern-meadow",
            include_str!("../../../demo/lantern/quern-meadow/pitch.toml"),
            include_str!("../../../demo/lantern/quern-meadow/visit.toml"),
        ),
    ];
    let each = |(name, pitch, visit): &(&str, &str, &str)| {
        let mut seconds: Vec<f64> = (0..PLAN_ROUNDS)
            .map(|_| {
                // From the text of the files, as a user waits for it.
                let start = Instant::now();
                let ride = parse_ride(&Source::new("ride.toml", ride)).value.expect("sound");
                let kit = parse_kit(&Source::new("kit.toml", kit)).value.expect("sound");
                let pitch = parse_pitch(&Source::new("pitch.toml", pitch)).value.expect("sound");
                let visit = parse_visit(&Source::new("visit.toml", visit)).value.expect("sound");
                black_box(plan(Books { ride: &ride, kit: &kit, pitch: &pitch, visit: &visit }));
                start.elapsed().as_secs_f64()
            })
            .collect();
        seconds.sort_by(f64::total_cmp);
        json!({ "visit": name, "median_s": seconds[PLAN_ROUNDS / 2], "worst_s": seconds[PLAN_ROUNDS - 1] })
    };
    visits.iter().map(each).collect()
}

fn main() {
    println!("{}", json!({ "packing": packing(), "supports": supports(), "plans": plans() }));
}
