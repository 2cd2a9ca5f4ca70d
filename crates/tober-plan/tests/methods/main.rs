//! Every way of reading the ground gives the same packing on the same ground, and what settled since is told.

#[path = "../demo/books.rs"]
#[allow(dead_code)]
mod books;

use books::{Texts, planned, quern_meadow};
use tober_calc::finding::{Finding, Standing};
use tober_plan::Plan;

/// The legs of the ride, where they stand in millimetres, and the invented ground under each.
const LEGS: [(&str, f64, f64, f64); 6] = [
    ("front left", 8400.0, 1900.0, -730.0),
    ("front right", 8400.0, -1900.0, -762.0),
    ("middle left", 4500.0, 2300.0, -755.0),
    ("middle right", 4500.0, -2300.0, -790.0),
    ("rear left", 600.0, 1900.0, -775.0),
    ("rear right", 600.0, -1900.0, -818.0),
];
/// How the frame slopes while it stands on its wheels, along and across.
const SLOPES: (f64, f64) = (-4e-3, 3e-3);

/// The hard pitch with other readings, as the keys and tables that follow `[readings]`.
fn with(readings: &str) -> Texts {
    let mut texts = quern_meadow();
    let (before, rest) = texts.pitch.split_once("[readings]").expect("it has readings");
    let (_, after) = rest.split_once("# Turf:").expect("the ground follows");
    texts.pitch = format!("{before}[readings]\n{readings}\n# Turf:{after}");
    texts.rows = None;
    texts
}

/// One row for each leg.
fn rows(row: impl Fn(&str, f64, f64, f64) -> String) -> String {
    LEGS.iter().map(|&(name, x, y, ground)| row(name, x, y, ground)).collect()
}

fn down(x: f64, y: f64, ground: f64) -> f64 {
    SLOPES.0 * x + SLOPES.1 * y - ground
}

const SLOPED: &str = "slope-along = [\"-4 mm/m\", \"-4 mm/m\"]\nslope-across = [\"3 mm/m\", \"3 mm/m\"]\nslope-deviation = \"0.3 mm/m\"\n";

fn tape(sunk: impl Fn(&str) -> f64) -> String {
    let leg = |name: &str, x, y, ground: f64| {
        format!("[[readings.leg]]\nleg = \"{name}\"\ntape = \"{:.4} mm\"\n", down(x, y, ground - sunk(name)))
    };
    format!("method = \"tape\"\n{SLOPED}tape-deviation = \"2 mm\"\nmeasured = \"2031-06-21\"\n{}", rows(leg))
}

fn methods() -> Vec<(&'static str, String)> {
    let scale = rows(|name, x, y, ground| {
        format!("[[readings.leg]]\nleg = \"{name}\"\nreading = \"{:.4} mm\"\n", down(x, y, ground))
    });
    let water = rows(|name, _, _, ground| {
        let line = if name.starts_with("rear") { 2 } else { 1 };
        let reading = if line == 1 { 200.0 - ground } else { 350.0 - ground };
        format!("[[readings.leg]]\nleg = \"{name}\"\nreading = \"{reading} mm\"\nline = \"{line}\"\n")
    });
    let tie = "[[readings.leg]]\nleg = \"front left\"\nreading = \"1080 mm\"\nline = \"2\"\n";
    let read = |name: &str, reading: f64, kind: &str| {
        format!(
            "[[readings.reading]]\npoint = \"{name}\"\nset-up = \"1\"\nkind = \"{kind}\"\nreading = \"{reading} mm\"\ndistance = \"9 m\"\n"
        )
    };
    let staff = format!(
        "{}{}",
        read("kerb", 1400.0, "back"),
        rows(|name, _, _, ground| read(name, 1400.0 + 500.0 - ground - 900.0, "between"))
    );
    let spots = rows(|name, _, _, ground| {
        format!("[[readings.spot]]\npoint = \"{name}\"\nheight = \"{} mm\"\n", 62_300.0 + ground)
    });
    vec![
        ("tape", tape(|_| 0.0)),
        ("scale", format!("method = \"scale\"\n{SLOPED}reading-deviation = \"2 mm\"\n{scale}")),
        ("water level", format!("method = \"water level\"\nreading-deviation = \"2 mm\"\n{water}{tie}")),
        (
            "staff",
            format!(
                "method = \"staff\"\nreading-deviation = \"1.5 mm\"\nline-of-sight-deviation = \"0.05 mm/m\"\n{staff}"
            ),
        ),
        (
            "laser",
            format!(
                "method = \"laser\"\nreading-deviation = \"1.5 mm\"\nplane-deviation = \"0.05 mm/m\"\ncone-deviation = \"0.02 mm/m\"\n{staff}"
            ),
        ),
        ("spots", format!("method = \"spots\"\nheight-deviation = \"2 mm\"\n{spots}")),
    ]
}

fn plan(readings: &str) -> Plan {
    planned(&with(readings)).unwrap_or_else(|wrong| panic!("{wrong}\n{readings}"))
}

fn packing(plan: &Plan) -> Vec<String> {
    plan.legs.iter().map(|leg| format!("{}: {:?} {:?}", leg.name, leg.held, leg.layers)).collect()
}

fn of<'a>(plan: &'a Plan, code: &str) -> Vec<&'a Finding> {
    plan.findings.iter().filter(|f| f.code == code).collect()
}

/// The same readings by instruments that are next to perfect: how far the ground may be off goes into what must be cleared,
/// and methods differ in that.
fn perfect(readings: &str) -> String {
    let line = |line: &str| match line.split_once("-deviation = ") {
        Some((key, slope)) if slope.contains("mm/m") => format!("{key}-deviation = \"0.001 mm/m\"\n"),
        Some((key, _)) => format!("{key}-deviation = \"0.01 mm\"\n"),
        None => format!("{line}\n"),
    };
    readings.lines().map(line).collect()
}

#[test]
fn law_every_method_on_the_same_ground_gives_the_same_packing() {
    let plans: Vec<(&str, Plan)> =
        methods().into_iter().map(|(name, readings)| (name, plan(&perfect(&readings)))).collect();
    let first = packing(&plans[0].1);
    assert_eq!(first.len(), 6);
    for (name, plan) in &plans {
        assert_eq!(packing(plan), first, "{name}");
        assert!(plan.legs.iter().all(|leg| leg.ground_deviation.is_some()), "{name}");
        let apart = |i: usize| {
            plan.legs[i].ground.expect("read").as_mm() - plan.legs[0].ground.expect("read").as_mm()
        };
        for i in 0..6 {
            let here = LEGS.iter().find(|leg| leg.0 == plan.legs[i].name).expect("a leg").3;
            let there = LEGS.iter().find(|leg| leg.0 == plan.legs[0].name).expect("a leg").3;
            assert!((apart(i) - (here - there)).abs() < 0.01, "{name}, {}", plan.legs[i].name);
        }
    }
}

/// Without its deviations each method still finds the heights, and knows of no deviation; what is found of its readings
/// is then never inside.
#[test]
fn law_no_method_knows_its_heights_better_for_leaving_a_deviation_out() {
    for (name, readings) in methods() {
        let bare: String = readings
            .lines()
            .filter(|line| !line.contains("deviation"))
            .map(|line| format!("{line}\n"))
            .collect();
        let plan = plan(&bare);
        assert!(plan.legs.iter().all(|leg| leg.ground.is_some() && leg.ground_deviation.is_none()), "{name}");
        let fits = of(&plan, "survey.fits");
        assert!(fits.iter().all(|f| f.standing == Standing::NotKnown) && !fits.is_empty(), "{name}");
    }
}

/// On a plane, spot heights beside the legs, with the trailer at a pose, give what a tape gives; outside them, and at
/// legs between them where nothing tells how rough the ground is, it is said.
#[test]
fn law_spots_beside_the_legs_give_the_packing_of_a_tape_on_a_plane() {
    let plane = |x: f64, y: f64| -760.0 + 0.006 * x + 0.009 * y;
    let under = rows(|name, x, y, _| {
        format!("[[readings.leg]]\nleg = \"{name}\"\ntape = \"{:.4} mm\"\n", down(x, y, plane(x, y)))
    });
    let tape = plan(&format!("method = \"tape\"\n{SLOPED}tape-deviation = \"2 mm\"\n{under}"));
    // The trailer stands at (3 m, -2 m), turned by 30 degrees.
    let (sin, cos) = (0.5, 0.75_f64.sqrt());
    let grid = |xs: &[i32], ys: &[i32]| -> String {
        let mut out = String::new();
        for &i in xs {
            for &j in ys {
                let (x, y) = (f64::from(i) * 2000.0 - 500.0, f64::from(j) * 1500.0 + 100.0);
                let (u, v) = (3000.0 + x * cos - y * sin, -2000.0 + x * sin + y * cos);
                out += &format!(
                    "[[readings.spot]]\npoint = \"s{i}{j}\"\nat = [\"{u:.2} mm\", \"{v:.2} mm\"]\nheight = \"{:.4} mm\"\n",
                    plane(x, y)
                );
            }
        }
        out
    };
    let spots = |list: &str| {
        let mut texts = with(&format!("method = \"spots\"\nheight-deviation = \"2 mm\"\n{list}"));
        texts.visit = texts
            .visit
            .replace("at = [\"0 m\", \"0 m\"]", "at = [\"3 m\", \"-2 m\"]")
            .replace("heading = \"0 deg\"", "heading = \"30 deg\"");
        planned(&texts).expect("sound")
    };
    let whole = spots(&grid(&[0, 1, 2, 3, 4, 5], &[-2, -1, 0, 1, 2]));
    assert_eq!(packing(&whole), packing(&tape));
    assert!(of(&whole, "survey.between").is_empty());
    let coarse = spots(&grid(&[0, 5], &[-2, 2]));
    // Under the feet, under the wheels and under the drive.
    assert_eq!(of(&coarse, "survey.between").len(), 3);
    assert!(of(&coarse, "survey.between").iter().all(|finding| finding.standing == Standing::NotKnown));
    let short = spots(&grid(&[0, 1, 2], &[-2, -1, 0, 1, 2]));
    assert_eq!(of(&short, "survey.heights").len(), 4, "front and middle legs lie outside");
}

/// The front right foot sinks 9 mm between two days: tilt and planarity of 3 are eaten; by nothing, nothing is.
#[test]
fn law_what_settled_since_is_told_and_is_past_what_the_maker_allows() {
    let compared = |sunk: f64, more: &str| {
        let earlier = tape(|_| 0.0).replace("[[readings.", "[[earlier.").replace("2031-06-21", "2031-06-20");
        let now = tape(|name| if name == "front right" { sunk } else { 0.0 });
        plan(&format!("{now}{more}[earlier]\n{earlier}"))
    };
    let sank = compared(9.0, "");
    let foot = of(&sank, "settlement.foot");
    assert_eq!(foot.len(), 6);
    let right = foot.iter().find(|f| f.subject.to_string() == "front right").expect("told");
    assert_eq!(right.standing, Standing::PastLimit, "{right:?}");
    assert!(right.notes[0].starts_with("Since 2031-06-20: it sank 9"), "{:?}", right.notes);
    assert_eq!(of(&sank, "settlement.still")[0].standing, Standing::NotKnown, "no point was named");
    assert_eq!(of(&sank, "settlement.tilt").len(), 2);
    // Nothing moved: how far that is known is the readings' own doing.
    let still = compared(0.0, "");
    for foot in of(&still, "settlement.foot") {
        let note = &foot.notes[0];
        assert!(
            note.contains("no more than readings can explain") || note.contains("taken as still"),
            "{note}"
        );
    }
    assert!(of(&plan(&tape(|_| 0.0)), "settlement.foot").is_empty());
    let named = compared(9.0, "[settlement]\nstill = [\"middle left\"]\n");
    assert_eq!(of(&named, "settlement.still")[0].standing, Standing::Inside);
    let wrong = compared(9.0, "[settlement]\nstill = [\"kerb\"]\n");
    assert_eq!(of(&wrong, "settlement.read")[0].standing, Standing::NotKnown);
}

/// Level ground under feet that were all read, with holes between them: no ground is higher, and yet what hangs low is kept
/// higher, since where there are holes there may be bumps. Read at the feet alone, somebody is sent to look.
#[test]
fn law_rougher_ground_between_the_points_lets_no_part_hang_lower() {
    let spot = |name: &str, x: f64, y: f64, z: f64| {
        format!(
            "[[readings.spot]]\npoint = \"{name}\"\nat = [\"{x} mm\", \"{y} mm\"]\nheight = \"{z:.1} mm\"\n"
        )
    };
    let feet = rows(|name, x, y, _| spot(name, x, y, -760.0));
    let read = |hole: f64| {
        let mut list = feet.clone();
        for i in 0..6 {
            for j in 0..6 {
                let inner = (1..5).contains(&i) && (1..5).contains(&j);
                let z = if inner && (i + j) % 2 == 0 { -760.0 - hole } else { -760.0 };
                list += &spot(
                    &format!("s{i}{j}"),
                    -750.0 + 2100.0 * f64::from(i),
                    -3500.0 + 1400.0 * f64::from(j),
                    z,
                );
            }
        }
        plan(&format!("method = \"spots\"\nheight-deviation = \"2 mm\"\n{list}"))
    };
    let least = |plan: &Plan| {
        assert!(!plan.legs.is_empty(), "no packing: {:?}", plan.cures);
        plan.legs.iter().map(|leg| leg.lift.as_mm()).fold(f64::INFINITY, f64::min)
    };
    let (even, rough) = (read(0.0), read(30.0));
    assert!(of(&even, "survey.between").is_empty() && of(&rough, "survey.between").is_empty());
    assert!(least(&rough) > least(&even), "{} and {}", least(&rough), least(&even));
    let at_feet = plan(&format!("method = \"spots\"\nheight-deviation = \"2 mm\"\n{feet}"));
    let told = of(&at_feet, "survey.between");
    assert_eq!(told.len(), 2, "the wheels and the drive");
    assert!(told.iter().all(|finding| finding.standing == Standing::Close
        && finding.advice[0].contains("look at this and measure")));
}

/// The ride came on 2031-06-20. Readings of the next day want those of the first beside them; those of the first want none.
#[test]
fn law_a_ride_that_has_stood_is_asked_for_its_earlier_readings() {
    let day = |day: &str, more: &str| plan(&format!("{}{more}", tape(|_| 0.0).replace("2031-06-21", day)));
    let asked = |plan: &Plan| of(plan, "settlement.read").iter().map(|f| f.standing).collect::<Vec<_>>();
    assert_eq!(asked(&day("2031-06-21", "")), [Standing::NotKnown]);
    assert!(asked(&day("2031-06-20", "")).is_empty());
    // Who says what stood still means to compare.
    let still = "[settlement]\nstill = [\"middle left\"]\n";
    assert_eq!(asked(&day("2031-06-20", still)), [Standing::NotKnown]);
}
