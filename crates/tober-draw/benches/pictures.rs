//! How long a picture of a step takes, over every step of the demo visits, and how heavy it is packed.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use std::hint::black_box;
use std::time::Instant;
use tober_book::{Source, parse_kit, parse_pitch, parse_ride, parse_visit};
use tober_draw::{StyleSheet, step_picture};
use tober_plan::{Books, plan, steps_shown};

fn main() {
    for (demo, visit) in [("lantern", "plover-hard"), ("osier", "kestrel-yard")] {
        let read = |file: &str| {
            let path = format!("{}/../../demo/{demo}/{file}", env!("CARGO_MANIFEST_DIR"));
            std::fs::read_to_string(path).expect("the demo is there")
        };
        let good = "the demo is read";
        let ride = parse_ride(&Source::new("ride.toml", &read("ride.toml"))).value.expect(good);
        let kit = parse_kit(&Source::new("kit.toml", &read("kit.toml"))).value.expect(good);
        let pitch = read(&format!("{visit}/pitch.toml"));
        let pitch = parse_pitch(&Source::new("pitch.toml", &pitch)).value.expect(good);
        let about = read(&format!("{visit}/visit.toml"));
        let about = parse_visit(&Source::new("visit.toml", &about)).value.expect(good);
        let plan = plan(Books { ride: &ride, kit: &kit, pitch: &pitch, visit: &about });
        let mut took: Vec<(f64, usize)> = Vec::new();
        for shown in steps_shown(&ride, &about).expect("the demo's steps lead through") {
            let once = || {
                let start = Instant::now();
                let svg =
                    step_picture(&ride, &plan, black_box(&shown), StyleSheet::Embedded).expect("it is drawn");
                (start.elapsed().as_secs_f64() * 1e3, svg.len())
            };
            took.extend((0..5).map(|_| once()).min_by(|a, b| a.0.total_cmp(&b.0)));
        }
        took.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (half, worst) = (took[took.len() / 2].0, took[took.len() - 1].0);
        let longest = took.iter().map(|(_, length)| *length).max().unwrap_or(0);
        println!(
            "{visit}: {} pictures, half under {half:.1} ms, worst {worst:.1} ms, longest {longest} bytes unpacked",
            took.len()
        );
    }
}
