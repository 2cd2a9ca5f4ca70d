//! What holds the ride besides its weight, and what is stowed before a wind: as books tell of them, in a plan.

#[path = "../demo/books.rs"]
#[allow(dead_code)]
mod books;

use books::{Texts, planned, quern_meadow};
use tober_calc::finding::{Finding, Measure, Standing};
use tober_plan::Plan;

const TIPPING: &str = "overturning, standing empty in the greatest wind allowed";
const SLIDING: &str = "sliding, standing empty in the greatest wind allowed";
const STOWING: &str = "standing empty in the greatest wind allowed, with what the book has stowed";
const STAGE: &str = "overturning, at the worst stage of the build-up";

fn found<'a>(plan: &'a Plan, title: &str) -> &'a Finding {
    plan.findings.iter().find(|finding| finding.title == title).unwrap_or_else(|| panic!("no {title}"))
}

fn share(plan: &Plan, title: &str) -> f64 {
    match &found(plan, title).measure {
        Measure::AgainstLimit { high, limit, .. } => high.si / limit.si,
        other => panic!("{title}: {other:?}"),
    }
}

fn with(add_to_ride: &str, add_to_pitch: &str) -> Texts {
    let mut texts = quern_meadow();
    texts.ride += add_to_ride;
    texts.pitch += add_to_pitch;
    texts
}

fn guys() -> String {
    let guy = |name: &str, x: f64, y: f64| {
        format!(
            "\n[[guy]]\nname = \"{name}\"\nat = [\"4.5 m\", \"0 m\"]\nup = \"1.2 m\"\nanchor = [\"{x} m\", \"{y} m\"]\n\
             pretension = \"200 N\"\nbreaking-strength = \"30 kN\"\nfactor = 5\nanchor-factor = 2\n"
        )
    };
    let all = [("g1", 10.0, 5.0), ("g2", 10.0, -5.0), ("g3", -1.0, 5.0), ("g4", -1.0, -5.0)];
    all.iter().map(|(name, x, y)| guy(name, *x, *y)).collect()
}

fn tests(of: &[&str]) -> String {
    of.iter().map(|name| format!("\n[[anchor]]\nguy = \"{name}\"\nheld = \"8 kN\"\n")).collect()
}

#[test]
fn law_guys_with_tested_anchors_help_and_load_the_legs() {
    let bare = planned(&quern_meadow()).expect("a plan");
    let held = planned(&with(&guys(), &tests(&["g1", "g2", "g3", "g4"]))).expect("a plan");
    for title in [TIPPING, SLIDING] {
        assert!(share(&held, title) < share(&bare, title), "{title}");
    }
    for (leg, then) in bare.legs.iter().zip(&held.legs) {
        let ((_, most), (_, more)) = (leg.load.expect("a load"), then.load.expect("a load"));
        assert!(more > most, "{}: {more:?} with guys and {most:?} without", leg.name);
    }
}

#[test]
fn law_a_guy_whose_anchor_nobody_tested_is_not_known() {
    let plan = planned(&with(&guys(), &tests(&["g1", "g2", "g3"]))).expect("a plan");
    for title in [TIPPING, SLIDING] {
        let finding = found(&plan, title);
        assert_eq!(finding.standing, Standing::NotKnown, "{title}");
        assert!(finding.unknown.iter().any(|why| why.contains("g4")), "{:?}", finding.unknown);
    }
}

/// Ballast low and inside the base: the named case in which more mass helps, against tipping and sliding.
#[test]
fn law_ballast_low_and_inside_helps_and_loads_the_legs() {
    let ballast = "\n[[ballast]]\nname = \"tank\"\nmass = \"1 t ± 1 %\"\nmass-from = \"weighed\"\nat = [\"4.5 m\", \"0 m\", \"0 m\"]\n\
                   on-turntable = false\nwind = { along = \"0 m2\", across = \"0 m2\", lift = \"0 m2\", up = \"0 m\" }\n";
    let bare = planned(&quern_meadow()).expect("a plan");
    let held = planned(&with(ballast, "")).expect("a plan");
    for title in [TIPPING, SLIDING, STOWING] {
        assert!(share(&held, title) < share(&bare, title), "{title}");
    }
    let sum = |plan: &Plan| plan.legs.iter().map(|leg| leg.load.expect("a load").1.as_kg()).sum::<f64>();
    assert!(sum(&held) >= sum(&bare) + 900.0, "{} and {}", sum(&held), sum(&bare));
}

/// On the hard pitch the canopy is what must be stowed; a book that does not have it stowed is past its limit.
#[test]
fn law_what_the_book_does_not_have_stowed_stands_open_in_the_wind() {
    let told = quern_meadow();
    let mut open = told.clone();
    open.ride = open.ride.replace("stowed-in-wind = true\n", "");
    assert!(open.ride != told.ride, "the demo stows something");
    let (told, open) = (planned(&told).expect("a plan"), planned(&open).expect("a plan"));
    assert_eq!(found(&told, STOWING).standing, Standing::Close);
    let past = found(&open, STOWING);
    assert_eq!(past.standing, Standing::PastLimit);
    assert!(past.advice.iter().any(|advice| advice.contains("canopy stowed")), "{:?}", past.advice);
    assert_eq!(found(&open, SLIDING).standing, Standing::PastLimit);
}

/// A step that leaves a body where no other takes it up makes the stages not known, and so does an end that is not open.
#[test]
fn law_steps_that_do_not_lead_to_the_open_ride_are_not_known() {
    let mut texts = quern_meadow();
    texts.ride = include_str!("../../../../demo/lantern/ride.toml").to_owned();
    assert!(matches!(
        found(&planned(&texts).expect("a plan"), STAGE).standing,
        Standing::Inside | Standing::Close
    ));
    let mut broken = texts.clone();
    let at = broken.ride.find("moves = [").expect("a step moves something");
    let end = at + broken.ride[at..].find("\n\n").expect("a step ends");
    let moves = broken.ride[at..end].replacen("to = \"open\"", "to = \"road\"", 1);
    assert!(moves != broken.ride[at..end], "{moves}");
    broken.ride.replace_range(at..end, &moves);
    assert_eq!(found(&planned(&broken).expect("a plan"), STAGE).standing, Standing::NotKnown);
}
