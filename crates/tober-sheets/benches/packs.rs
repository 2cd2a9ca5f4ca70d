//! How long a printed pack takes and how heavy it is: each with an empty memory of the typesetter, the least of three. A
//! time counts as a ratio to laying out one page of the same pack in the same run; goals are a second and 3 MB for 20 pages.

#![allow(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use std::hint::black_box;
use std::time::Instant;
use tober_book::{Source, parse_crew, parse_kit, parse_pitch, parse_ride, parse_visit};
use tober_plan::{Books, LiftBooks, every_order, lifts, plan};
use tober_sheets::{Ask, Given, Pack, Reader, SheetKind, pack};

/// Pages of the pack that the goals are for.
const PAGES: f64 = 20.0;
/// Of such a pack.
const GOAL_MS: f64 = 1000.0;
const GOAL_BYTES: f64 = 3e6;

fn timed(given: &Given<'_>, ask: &Ask) -> (f64, Pack) {
    let once = || {
        typst::comemo::evict(0);
        let start = Instant::now();
        let made = pack(black_box(given), ask).expect("it prints");
        (start.elapsed().as_secs_f64() * 1e3, made)
    };
    (0..3).map(|_| once()).min_by(|a, b| a.0.total_cmp(&b.0)).expect("it ran")
}

fn main() {
    for (demo, visit) in [("lantern", "quern-meadow"), ("osier", "kestrel-yard")] {
        let read = |file: &str| {
            let path = format!("{}/../../demo/{demo}/{file}", env!("CARGO_MANIFEST_DIR"));
            std::fs::read_to_string(path).expect("the demo is there")
        };
        let good = "the demo is read";
        let ride = parse_ride(&Source::new("ride.toml", &read("ride.toml"))).value.expect(good);
        let kit = parse_kit(&Source::new("kit.toml", &read("kit.toml"))).value.expect(good);
        let crew = parse_crew(&Source::new("crew.toml", &read("crew.toml"))).value.expect(good);
        let pitch = read(&format!("{visit}/pitch.toml"));
        let pitch = parse_pitch(&Source::new("pitch.toml", &pitch)).value.expect(good);
        let about = read(&format!("{visit}/visit.toml"));
        let about = parse_visit(&Source::new("visit.toml", &about)).value.expect(good);
        let plan = plan(Books { ride: &ride, kit: &kit, pitch: &pitch, visit: &about });
        let every = every_order(&ride, &about);
        let lifts =
            lifts(LiftBooks { ride: &ride, kit: Some(&kit), pitch: Some(&pitch), visit: Some(&about) });
        let given = Given {
            plan: &plan,
            every: every.as_ref(),
            lifts: &lifts,
            ride: &ride,
            kit: &kit,
            pitch: &pitch,
            visit: &about,
            crew: Some(&crew),
        };
        let (page, _) = timed(&given, &Ask { only: Some(SheetKind::OnePage), ..Ask::default() });
        println!("{visit}: the one page alone {page:.0} ms");
        let asks = Reader::ALL.into_iter().map(Some).chain([None]);
        for reader in asks {
            let (took, made) = timed(&given, &Ask { reader, ..Ask::default() });
            // A pack of fewer pages is not made longer: some of its work does not grow with its pages.
            let share = (PAGES / made.pages as f64).min(1.0);
            let (ms, bytes) = (took * share, made.pdf.len() as f64 * share);
            println!(
                "{visit}, {}: {} pages, {took:.0} ms, {} kB; of 20 pages at most {ms:.0} ms ({:.2} of the goal, {:.1} times the one \
                 page) and {:.0} kB ({:.2} of the goal)",
                reader.map_or("everybody", Reader::name),
                made.pages,
                made.pdf.len() / 1000,
                ms / GOAL_MS,
                ms / page,
                bytes / 1e3,
                bytes / GOAL_BYTES
            );
        }
    }
}
