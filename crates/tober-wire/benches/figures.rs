//! The figures a user waits for, as JSON: packing and support loads on the shared cases, and whole plans.
//!
//! `bench/peers/run.sh` runs this beside general solvers, checks that the answers agree, and compares the times.

#![expect(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use serde_json::{Value, json};
use std::hint::black_box;
use std::time::Instant;
use tober_book::{Source, parse_kit, parse_pitch, parse_ride, parse_visit, with_rows};
use tober_calc::packing::{Answer, Budget, Problem, solve};
use tober_calc::supports::flexible::{BeamsSolver, BentAnswer, Condensed};
use tober_calc::supports::{AnswerRef, Solver};
use tober_plan::{Books, plan};
use tober_wire::calc::questions;

/// Each packing case is solved this often, and the quickest counts: the others tell of the machine. The
/// peers solve as often and count the same way.
const PACKING_ROUNDS: usize = 5;
/// Support loads are solved for about this long at a time.
const SUPPORTS_SECONDS: f64 = 0.3;
/// Each visit is planned this often.
const PLAN_ROUNDS: usize = 60;

fn cases(text: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(text).expect("the file is JSON");
    file["cases"].as_array().expect("it has cases").clone()
}

/// The answer and the seconds of the quickest round.
fn quickest(problem: &Problem, budget: &Budget) -> (Answer, f64) {
    let round = || {
        let start = Instant::now();
        let answer = solve(black_box(problem), budget).expect("the case is sound");
        (answer, start.elapsed().as_secs_f64())
    };
    (1..PACKING_ROUNDS).fold(round(), |best, _| {
        let now = round();
        if now.1 < best.1 { now } else { best }
    })
}

fn packing() -> Value {
    let text = include_str!("../../tober-calc/tests/data/c_packing.json");
    let usual = Budget::usual();
    // Least lift and fewest boards are what the peers answer too; tidying is ours alone.
    let bare = Budget { tidying: 0, ..usual };
    let each = |case: &Value| {
        let problem = questions::packing(case).expect("the case is sound");
        let (answer, seconds) = quickest(&problem, &bare);
        let (_, tidied) = quickest(&problem, &usual);
        let proved = matches!(answer, Answer::Optimal(_) | Answer::Infeasible(_));
        let choice = answer.choice();
        json!({
            "id": case["id"], "seconds": seconds, "seconds_tidied": tidied, "proved": proved,
            "feasible": choice.is_some(), "max_lift_01mm": choice.map(|c| c.max_lift.0),
            "boards": choice.map(|c| c.boards),
        })
    };
    cases(text).iter().map(each).collect()
}

fn supports() -> Value {
    let text = include_str!("../../tober-calc/tests/data/a_rigid.json");
    let mut solver = Solver::new();
    let mut each = |case: &Value| {
        let (supports, load) = questions::supports(case).expect("the case is sound");
        let reactions_n = match solver.solve(&supports, &load).expect("the case is sound") {
            AnswerRef::Stands(stands) => Some(stands.reactions.iter().map(|r| r.as_n()).collect::<Vec<_>>()),
            AnswerRef::Tips(_) => None,
        };
        let (mut count, start) = (0_u32, Instant::now());
        while start.elapsed().as_secs_f64() < SUPPORTS_SECONDS {
            for _ in 0..1000 {
                let _ = black_box(solver.solve(black_box(&supports), black_box(&load)));
            }
            count += 1000;
        }
        let seconds = start.elapsed().as_secs_f64() / f64::from(count);
        json!({
            "id": case["id"], "supports": supports.len(), "seconds": seconds, "reactions_N": reactions_n,
        })
    };
    cases(text).iter().map(&mut each).collect()
}

/// The microseconds of one, over about a third of a second.
fn microseconds(mut one: impl FnMut()) -> f64 {
    let (mut count, start) = (0_u32, Instant::now());
    while start.elapsed().as_secs_f64() < SUPPORTS_SECONDS {
        for _ in 0..100 {
            one();
        }
        count += 100;
    }
    start.elapsed().as_secs_f64() * 1e6 / f64::from(count)
}

fn frames() -> Value {
    let text = include_str!("../../tober-calc/tests/data/b_flexible.json");
    let each = |case: &Value| {
        let read = questions::frame(case).expect("the case is sound");
        let frame = Condensed::new(&read.beams, &read.supports).expect("the case is sound");
        let column = frame.column(&read.loads).expect("the case is sound");
        let mut solver = BeamsSolver::new();
        let reactions_n: Vec<f64> = match solver.solve(&frame, &read.feet, &column).expect("it is solved") {
            BentAnswer::Stands(bent) => bent.reactions.iter().map(|r| r.as_n()).collect(),
            BentAnswer::Tips(_) => panic!("every case stands"),
        };
        let condense_us = microseconds(|| {
            let _ = black_box(Condensed::new(black_box(&read.beams), black_box(&read.supports)));
        });
        let load_us = microseconds(|| {
            let _ = black_box(frame.column(black_box(&read.loads)));
        });
        let solve_us = microseconds(|| {
            let _ = black_box(solver.solve(black_box(&frame), black_box(&read.feet), black_box(&column)));
        });
        json!({
            "id": case["id"], "nodes": read.beams.nodes.len(), "supports": read.supports.len(),
            "condense_us": condense_us, "load_us": load_us, "solve_us": solve_us, "reactions_N": reactions_n,
        })
    };
    cases(text).iter().map(each).collect()
}

fn plans() -> Value {
    let lantern =
        [include_str!("../../../demo/lantern/ride.toml"), include_str!("../../../demo/lantern/kit.toml")];
    let osier = [include_str!("../../../demo/osier/ride.toml"), include_str!("../../../demo/osier/kit.toml")];
    let visits = [
        (
            "plover-hard",
            lantern,
            include_str!("../../../demo/lantern/plover-hard/pitch.toml"),
            include_str!("../../../demo/lantern/plover-hard/visit.toml"),
            "",
        ),
        (
            "quern-meadow",
            lantern,
            include_str!("../../../demo/lantern/quern-meadow/pitch.toml"),
            include_str!("../../../demo/lantern/quern-meadow/visit.toml"),
            include_str!("../../../demo/lantern/quern-meadow/tape.csv"),
        ),
        (
            "kestrel-yard",
            osier,
            include_str!("../../../demo/osier/kestrel-yard/pitch.toml"),
            include_str!("../../../demo/osier/kestrel-yard/visit.toml"),
            "",
        ),
        (
            "sallow-green",
            osier,
            include_str!("../../../demo/osier/sallow-green/pitch.toml"),
            include_str!("../../../demo/osier/sallow-green/visit.toml"),
            include_str!("../../../demo/osier/sallow-green/staff.csv"),
        ),
    ];
    let each = |(name, [ride, kit], pitch, visit, rows): &(&str, [&str; 2], &str, &str, &str)| {
        let mut seconds: Vec<f64> = (0..PLAN_ROUNDS)
            .map(|_| {
                // From the text of the files, as a user waits for it.
                let start = Instant::now();
                let ride = parse_ride(&Source::new("ride.toml", ride)).value.expect("sound");
                let kit = parse_kit(&Source::new("kit.toml", kit)).value.expect("sound");
                let pitch = parse_pitch(&Source::new("pitch.toml", pitch));
                let pitch =
                    if rows.is_empty() { pitch } else { with_rows(pitch, &Source::new("rows.csv", rows)) };
                let pitch = pitch.value.expect("sound");
                let visit = parse_visit(&Source::new("visit.toml", visit)).value.expect("sound");
                black_box(plan(Books { ride: &ride, kit: &kit, pitch: &pitch, visit: &visit }));
                start.elapsed().as_secs_f64()
            })
            .collect();
        seconds.sort_by(f64::total_cmp);
        json!({ "visit": name, "rounds": PLAN_ROUNDS, "median_s": seconds[PLAN_ROUNDS / 2], "worst_s": seconds[PLAN_ROUNDS - 1] })
    };
    visits.iter().map(each).collect()
}

fn main() {
    println!(
        "{}",
        json!({ "packing": packing(), "supports": supports(), "frames": frames(), "plans": plans() })
    );
}
