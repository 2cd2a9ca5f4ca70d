//! What a hand and a gauge find at the feet, and what it does to the loads of the legs.

use crate::books::{Texts, quern_meadow};
use crate::hand::{Read, heights};
use std::collections::BTreeMap;
use std::fs;
use tober_calc::finding::{Finding, Standing};
use tober_plan::{FootLoad, FrameRead, Plan, Stood, Trim, plan};
use tober_quantity::{Force, Mass};

/// Ends are rounded outward to 0.1 t, so a like band may differ by binary noise alone.
const NOISE_T: f64 = 1e-9;

fn level_and_snug() -> FrameRead {
    heights(&[
        ("front left", 645.0, None),
        ("middle left", 645.0, None),
        ("rear left", 645.0, None),
        ("front right", 645.0, None),
        ("middle right", 645.0, None),
        ("rear right", 645.0, None),
    ])
}

fn measured(load_t: f64, off_t: f64) -> FootLoad {
    let weight = |t: f64| Force::weight(Mass::t(t));
    FootLoad { load: weight(load_t), off_by: Some(weight(off_t)) }
}

fn told(plan: &Plan, read: &FrameRead, books: &Read) -> Trim {
    tober_plan::trim(books.books(), plan, &Stood::of(plan), read).expect("a trim")
}

fn readings(trim: &Trim) -> &Finding {
    let found = trim.findings.iter().filter(|f| f.code == "supports.readings").collect::<Vec<_>>();
    let [one] = found.as_slice() else { panic!("one finding on the readings: {found:?}") };
    one
}

fn bands(trim: &Trim) -> BTreeMap<&str, (f64, f64)> {
    let band = |leg: &(Mass, Mass)| (leg.0.as_t(), leg.1.as_t());
    trim.legs.iter().filter_map(|leg| Some((leg.name.as_str(), band(leg.load.as_ref()?)))).collect()
}

fn within(inner: (f64, f64), outer: (f64, f64)) -> bool {
    inner.0 >= outer.0 - NOISE_T && inner.1 <= outer.1 + NOISE_T
}

/// Four legs at the corners of 4 m by 2 m and 4 t in the middle: moments about the diagonals make opposite legs alike.
fn four_legs() -> Read {
    let demo = |name: &str| {
        let path = format!("{}/../../demo/minimal/{name}", env!("CARGO_MANIFEST_DIR"));
        fs::read_to_string(path).expect("it is there")
    };
    let ride = demo("ride.toml")
        .lines()
        .filter(|line| !line.starts_with("mass ") && !line.starts_with("cg ") && !line.starts_with("wheels "))
        .collect::<Vec<_>>()
        .join("\n")
        .replacen("[ride]", "[ride]\nmass = \"4 t\"\ncg = [\"CG\", \"0 m\", \"1 m\"]", 1)
        .replacen("[frame]", "[frame]\nwheels = \"clear\"", 1);
    let middle = middle_of(&ride);
    Read::of(&Texts {
        ride: ride.replace("CG", &format!("{middle} m")),
        kit: demo("kit.toml"),
        pitch: demo("pitch.toml"),
        visit: demo("visit.toml"),
        rows: None,
    })
}

/// Half-way between the rear and the front legs, in metres.
fn middle_of(ride: &str) -> f64 {
    let along = ride.lines().filter_map(|line| {
        let at = line.strip_prefix("at = [\"")?.split(" m").next()?;
        at.parse::<f64>().ok()
    });
    let along: Vec<f64> = along.collect();
    0.5 * (along.iter().copied().fold(f64::MAX, f64::min) + along.iter().copied().fold(f64::MIN, f64::max))
}

fn four(loads: &[(&str, f64, f64)]) -> FrameRead {
    let mut read = heights(&[
        ("rear left", 645.0, None),
        ("rear right", 645.0, None),
        ("front left", 645.0, None),
        ("front right", 645.0, None),
    ]);
    read.loads = loads.iter().map(|(leg, t, off)| ((*leg).to_owned(), measured(*t, *off))).collect();
    read
}

/// With 4 t in the middle of four legs each diagonal carries the same at both its ends, A and 2 - A. A gauge that shows
/// 0.8 and one that shows 1.2 at the ends of one diagonal, each good to 0.1, are apart by 0.2: each must be off by 0.1
/// more than it may. Each alone can be, since A lies anywhere from 0 to 2.
#[test]
fn hand_two_gauges_on_one_diagonal_that_cannot_both_be_right() {
    let books = four_legs();
    let plan = plan(books.books());
    let trim = told(&plan, &four(&[("front left", 0.8, 0.1), ("rear right", 1.2, 0.1)]), &books);
    let found = readings(&trim);
    assert_eq!(found.standing, Standing::PastLimit, "{found:?}");
    assert_eq!(trim.standing, Standing::PastLimit);
    assert!(trim.next.starts_with("Stop. "), "{}", trim.next);
    assert!(found.advice.iter().any(|said| said.contains("miss by 0.1")), "{:?}", found.advice);
    assert!(found.advice[0].contains("ground that has sunk"), "{:?}", found.advice);
    // No load is told that rests on a reading which cannot be.
    assert!(trim.loads.is_empty() && trim.legs.iter().all(|leg| leg.load.is_none()));
    // 0.9 and 1.1 meet at 1.0, so they can be.
    let agree = told(&plan, &four(&[("front left", 0.9, 0.1), ("rear right", 1.1, 0.1)]), &books);
    assert_ne!(readings(&agree).standing, Standing::PastLimit);
}

/// No leg of that frame can carry more than half of the 4 t, so 2.6 good to 0.1 is 0.5 apart from it.
#[test]
fn hand_a_gauge_that_shows_more_than_statics_allow() {
    let books = four_legs();
    let plan = plan(books.books());
    let trim = told(&plan, &four(&[("front left", 2.6, 0.1)]), &books);
    let found = readings(&trim);
    assert_eq!(found.standing, Standing::PastLimit);
    let said = found.advice.join(" ").replace('\u{202f}', " ");
    assert!(said.contains("Begin at front left"), "{said}");
    assert!(said.contains("At front left 2.5 t to 2.7 t was read"), "{said}");
    assert!(said.contains("to 2.0 t is computed") && said.contains("0.5 t apart"), "{said}");
}

#[test]
fn law_a_reading_only_narrows_and_a_gauge_that_is_worse_narrows_less() {
    let books = Read::of(&quern_meadow());
    let plan = plan(books.books());
    let planned: BTreeMap<&str, (f64, f64)> = plan
        .legs
        .iter()
        .map(|leg| {
            let (low, high) = leg.load.expect("the demo tells of its loads");
            (leg.name.as_str(), (low.as_t(), high.as_t()))
        })
        .collect();
    let mut cut = 0;
    for leg in plan.legs.iter().map(|leg| leg.name.clone()) {
        for t in [0.3, 1.0, 1.6] {
            let mut before: Option<Vec<(f64, f64)>> = None;
            for off in [0.05, 0.2, 0.6] {
                let mut read = level_and_snug();
                read.loads.insert(leg.clone(), measured(t, off));
                let trim = told(&plan, &read, &books);
                if readings(&trim).standing == Standing::PastLimit {
                    // A reading that cannot be tells of no band, and a worse gauge may well agree.
                    assert!(
                        before.is_none(),
                        "{leg} {t}: a worse gauge disagrees where a better one does not"
                    );
                    continue;
                }
                let now = bands(&trim);
                for (name, band) in &now {
                    assert!(
                        within(*band, planned[name]),
                        "{leg} {t} ± {off}: {name} {band:?} {:?}",
                        planned[name]
                    );
                    cut += usize::from(band.1 < planned[name].1 - NOISE_T);
                }
                let now: Vec<(f64, f64)> = now.into_values().collect();
                if let Some(before) = before {
                    let wider = before.iter().zip(&now).all(|(better, worse)| within(*better, *worse));
                    assert!(wider, "{leg} {t} ± {off}: {before:?} {now:?}");
                }
                before = Some(now);
            }
        }
    }
    assert!(cut > 0, "no reading narrowed anything");
}

/// What of the books may be missing: a load that no leg can carry is never good, and never better than it was.
#[test]
fn law_a_reading_outside_the_band_is_never_good_whatever_the_book_leaves_out() {
    let whole = quern_meadow();
    let without = |of: &str| whole.ride.lines().filter(|l| !l.starts_with(of)).collect::<Vec<_>>().join("\n");
    for leaves_out in
        ["nothing", "wheels = ", "stiffness = ", "rated-load = ", "on-turntable = ", "rider-mass"]
    {
        let books = Read::of(&Texts { ride: without(leaves_out), ..quern_meadow() });
        let plan = plan(books.books());
        let mut read = level_and_snug();
        read.loads.insert("rear left".to_owned(), measured(30.0, 0.5));
        let trim = told(&plan, &read, &books);
        let good = |standing| matches!(standing, Standing::Inside | Standing::Close);
        assert!(!good(readings(&trim).standing), "{leaves_out}: {:?}", readings(&trim));
        assert!(!good(trim.standing), "{leaves_out}");
        let all = trim.loads.iter().all(|finding| {
            let then =
                plan.findings.iter().find(|f| (f.code, &f.subject) == (finding.code, &finding.subject));
            then.is_some_and(|then| finding.standing >= then.standing)
        });
        assert!(all, "{leaves_out}: a load stands better by a reading that cannot be");
    }
}

#[test]
fn law_not_saying_what_a_gauge_may_be_off_by_is_not_known_and_narrows_nothing() {
    let books = Read::of(&quern_meadow());
    let plan = plan(books.books());
    let mut read = level_and_snug();
    read.feet.clear();
    read.loads.insert("rear left".to_owned(), FootLoad { off_by: None, ..measured(1.0, 0.1) });
    let trim = told(&plan, &read, &books);
    assert_eq!(readings(&trim).standing, Standing::NotKnown);
    assert_ne!(trim.standing, Standing::Inside);
    for leg in &plan.legs {
        let read = trim.legs.iter().find(|read| read.name == leg.name).expect("the leg");
        assert_eq!(read.load, leg.load, "{}", leg.name);
    }
}

/// Without a foot read there is nothing to say, as before.
#[test]
fn law_no_foot_read_says_nothing_of_loads() {
    let books = Read::of(&quern_meadow());
    let plan = plan(books.books());
    let mut read = level_and_snug();
    read.feet.clear();
    let trim = told(&plan, &read, &books);
    assert!(trim.loads.is_empty() && trim.findings.iter().all(|f| !f.code.starts_with("supports.")));
}
