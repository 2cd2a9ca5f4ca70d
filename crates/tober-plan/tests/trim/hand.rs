//! Cases worked by hand on the demo's hard pitch.

use crate::books::{Texts, quern_meadow};
use tober_book::{
    Kit, Pitch, Ride, Source, Visit, parse_kit, parse_pitch, parse_ride, parse_visit, with_rows,
};
use tober_calc::finding::Standing;
use tober_plan::{Books, Foot, FrameRead, FrameWay, Held, Plan, Stood, Trim, plan};
use tober_quantity::{Length, Slope, UnitSet};

pub struct Read {
    ride: Ride,
    kit: Kit,
    pitch: Pitch,
    visit: Visit,
}

impl Read {
    pub fn of(texts: &Texts) -> Self {
        let mut pitch = parse_pitch(&Source::new("pitch.toml", &texts.pitch));
        if let Some(rows) = &texts.rows {
            pitch = with_rows(pitch, &Source::new("tape.csv", rows));
        }
        Self {
            ride: parse_ride(&Source::new("ride.toml", &texts.ride)).value.expect("a ride"),
            kit: parse_kit(&Source::new("kit.toml", &texts.kit)).value.expect("a kit"),
            pitch: pitch.value.expect("a pitch"),
            visit: parse_visit(&Source::new("visit.toml", &texts.visit)).value.expect("a visit"),
        }
    }
    pub fn books(&self) -> Books<'_> {
        Books { ride: &self.ride, kit: &self.kit, pitch: &self.pitch, visit: &self.visit }
    }
}

pub fn heights(read: &[(&str, f64, Option<f64>)]) -> FrameRead {
    let at = read.iter().map(|(leg, mm, _)| ((*leg).to_owned(), Length::mm(*mm))).collect();
    let foot = |gap: Option<f64>| gap.map_or(Foot::Snug, |gap| Foot::Light { gap: Some(Length::mm(gap)) });
    let feet = read.iter().map(|(leg, _, gap)| ((*leg).to_owned(), foot(*gap))).collect();
    FrameRead {
        way: FrameWay::Heights { at, deviation: Some(Length::ZERO) },
        feet,
        loads: Default::default(),
    }
}

fn told(plan: &Plan, read: &FrameRead, books: &Read) -> Trim {
    tober_plan::trim(books.books(), plan, &Stood::of(plan), read).expect("a trim")
}

/// Rear right stands in hole 3 on mat + 50 + ply 12 + 25 and has sunk: 637 with a gap of 6, so its top is at 631. The
/// others lie within 2 either way of 644, so it wants up by 10 to 16 with the frame level, and a little more
/// or less with the frame tilted. A hole is 40 and the boards are 73, 48, 24, 12 and 38, so 24 and 12 out and 48 in, up 12, is
/// the first that serves: two off, one on. Nothing with fewer boards handled gives 10 to 18: one off leaves the
/// ply on top, which is not allowed; one on is 24 or more, and with a hole up 24 - 40, 38 - 40, 48 - 40 = 8, 73 - 40 = 33.
#[test]
fn hand_rear_right_sunk_on_the_hard_pitch() {
    let books = Read::of(&quern_meadow());
    let plan = plan(books.books());
    let read = heights(&[
        ("front left", 643.0, None),
        ("middle left", 645.0, None),
        ("rear left", 645.0, None),
        ("front right", 646.0, None),
        ("middle right", 642.0, None),
        ("rear right", 637.0, Some(6.0)),
    ]);
    let trim = told(&plan, &read, &books);
    assert_eq!(trim.standing, Standing::PastLimit);
    assert_eq!(trim.proof, "Proved least.");
    let [change] = trim.change.as_slice() else { panic!("one leg changes") };
    assert_eq!(change.words, "Rear right: take out the 25 and the ply 12, put in one 50.");
    assert_eq!(
        change.sum.replace('\u{202f}', " "),
        "Board 25 out, −24; board ply 12 out, −12; board 50 in, +48: up 12 mm."
    );
    assert_eq!(change.handled, 3);
    // 0.3 mm inside its 3 mm once it is done.
    assert_eq!((change.from.standing, change.to.standing), (Standing::PastLimit, Standing::Close));
    assert!(change.steps[0].contains("Hands never under the foot"));
    let after = trim.after.expect("it says how it will stand");
    assert_eq!(after.standing, Standing::Close);
    // Once it is done and read as worked out, nothing has to change any more.
    let again: Vec<(&str, f64, Option<f64>)> = after
        .legs
        .iter()
        .map(|leg| (leg.name.as_str(), leg.height.expect("a height").as_mm(), None))
        .collect();
    let then = tober_plan::trim(books.books(), &plan, &trim.stood, &heights(&again)).expect("a trim");
    assert_eq!((then.standing, then.change.len()), (Standing::Close, 0));
    assert_eq!(then.proof, "Proved: nothing has to change.");
}

/// Rear right in hole 3 on mat + 50 + ply 12 + 25 and sunk far, with its stack as high as it may be: the words of holes.
#[test]
fn hand_words_of_a_hole_and_of_boards_that_come_back() {
    let books = Read::of(&quern_meadow());
    let plan = plan(books.books());
    let all = |rear_right: f64| {
        heights(&[
            ("front left", 645.0, None),
            ("middle left", 645.0, None),
            ("rear left", 645.0, None),
            ("front right", 645.0, None),
            ("middle right", 645.0, None),
            ("rear right", rear_right, None),
        ])
    };
    // 40 low: one hole down is 40, and no board is handled.
    let trim = told(&plan, &all(605.0), &books);
    let words: Vec<&str> = trim.change.iter().map(|change| change.words.as_str()).collect();
    assert_eq!(words, ["Rear right one hole down."]);
    assert_eq!(trim.change[0].sum.replace('\u{202f}', " "), "Hole 3 to 4, +40: up 40 mm.");
    assert!(trim.change[0].steps.iter().any(|step| step.contains("A stiff pin is a loaded pin")));
    assert!(trim.change[0].steps.iter().any(|step| step.starts_with("Leg to hole 4")));
    // 80 high: two holes up.
    let trim = told(&plan, &all(725.0), &books);
    assert_eq!(trim.change[0].words, "Rear right two holes up.");
    assert!(trim.change[0].sum.contains("−80: down 80"), "{}", trim.change[0].sum);
}

#[test]
fn refuse_what_was_told_and_cannot_be() {
    let books = Read::of(&quern_meadow());
    let plan = plan(books.books());
    let good = heights(&[("rear right", 637.0, None)]);
    let refused = |stood: &[Stood], read: &FrameRead| {
        let refused = tober_plan::trim(books.books(), &plan, stood, read);
        refused.expect_err("it is refused").to_string()
    };
    let stood = Stood::of(&plan);
    assert!(tober_plan::trim(books.books(), &plan, &stood, &good).is_ok(), "sound before it is spoiled");
    let said = refused(&stood, &heights(&[("rear rite", 637.0, None)]));
    assert!(said.contains("Did you mean \"rear right\"?"), "{said}");
    let said = refused(&stood, &heights(&[("rear right", f64::NAN, None)]));
    assert_eq!(said, "The height at rear right is no length or slope that can be read. Read it again.");
    let said = refused(&stood, &heights(&[("rear right", 637.0, Some(f64::INFINITY))]));
    assert_eq!(said, "The gap under rear right is no length or slope that can be read. Read it again.");
    let level = FrameWay::Level { along: Slope::mm_per_m(f64::NAN), across: Slope::ZERO, deviation: None };
    let said =
        refused(&stood, &FrameRead { way: level, feet: Default::default(), loads: Default::default() });
    assert_eq!(said, "The slope along is no length or slope that can be read. Read it again.");
    let said = refused(&stood[1..], &good);
    assert!(said.contains("What stands at rear left is not told."), "{said}");
    let twice = [stood.as_slice(), &stood[..1]].concat();
    assert!(refused(&twice, &good).contains("is told 2 times"));
    let mut plank = stood.clone();
    plank[0].layers[0] = "plank".to_owned();
    assert!(refused(&plank, &good).contains("the kit has no such board"));
    let mut hole = stood.clone();
    hole[0].held = Held::Hole { number: 0, of: 8, pitch: Length::mm(40.0) };
    assert_eq!(refused(&hole, &good), "At rear left hole 0 is told, and there is a leg with holes 1 to 8.");
}

/// With a level: the rear is 4 mm/m low over 7.8 m. Every line of every working is read back by the part that checks.
#[test]
fn law_every_line_of_working_is_what_it_says() {
    let books = Read::of(&quern_meadow());
    let plan = plan(books.books());
    let names: Vec<String> = plan.legs.iter().map(|leg| leg.name.clone()).collect();
    let feet = |gap: f64| {
        let foot = |name: &String| {
            let light = Foot::Light { gap: Some(Length::mm(gap)) };
            (name.clone(), if name == "middle left" { light } else { Foot::Snug })
        };
        names.iter().map(foot).collect::<std::collections::BTreeMap<_, _>>()
    };
    let level = FrameWay::Level {
        along: Slope::mm_per_m(4.0),
        across: Slope::mm_per_m(-0.7),
        deviation: Some(Slope::mm_per_m(0.2)),
    };
    let at = names.iter().enumerate().map(|(i, name)| (name.clone(), Length::mm(640.0 + 4.0 * i as f64)));
    let by_height = FrameWay::Heights { at: at.collect(), deviation: Some(Length::mm(0.5)) };
    let mut lines = 0;
    for way in [level, by_height] {
        let trim = told(&plan, &FrameRead { way, feet: feet(1.5), loads: Default::default() }, &books);
        assert_eq!(trim.standing, Standing::PastLimit);
        assert!(!trim.change.is_empty(), "{}", trim.next);
        for units in [UnitSet::Metric, UnitSet::Us] {
            for finding in trim.findings.iter().chain(trim.after.iter().flat_map(|a| &a.findings)) {
                for line in finding.working.print(units).iter().filter(|line| !line.numbers.is_empty()) {
                    let written = tober_fit::working::check_line(&line.numbers, &line.result);
                    assert!(written.is_ok(), "{}: {line:?}: {written:?}", finding.code);
                    lines += 1;
                }
            }
        }
    }
    assert!(lines > 60, "{lines}");
}

/// Six screws and a level that shows 8 mm/m along where 3 is allowed: how many screws are enough is proved, and the proof that
/// fewer are not is accepted by the part that did not choose them.
#[test]
fn regress_screws_read_with_a_level_are_proved() {
    let mut texts = quern_meadow();
    let holes = "{ by = \"leg-and-sleeve holes\", first-hole = \"740 mm\", hole-pitch = \"40 mm\", hole-count = 8, retracted-length = \"480 mm\", pin-diameter = \"32 mm\", pin-strength = \"355 N/mm2\", leg-wall = \"8 mm\", sleeve-wall = \"8 mm\", wall-strength = \"355 N/mm2\", pin-gap = \"3 mm\" }";
    let before = texts.ride.matches(holes).count();
    assert_eq!(before, 6, "all six legs have holes");
    texts.ride = texts.ride.replace(
        holes,
        "{ by = \"screw\", retracted-length = \"690 mm\", travel = \"280 mm\", thread-pitch = \"10 mm\" }",
    );
    let books = Read::of(&texts);
    let plan = plan(books.books());
    assert_eq!(plan.legs.len(), 6);
    let feet: std::collections::BTreeMap<String, Foot> =
        plan.legs.iter().map(|leg| (leg.name.clone(), Foot::Snug)).collect();
    let way = |along: f64| FrameWay::Level {
        along: Slope::mm_per_m(along),
        across: Slope::ZERO,
        deviation: Some(Slope::ZERO),
    };
    let out = told(&plan, &FrameRead { way: way(8.0), feet, loads: Default::default() }, &books);
    assert!(!out.change.is_empty(), "{}", out.next);
    assert!(out.change.len() > 1, "{}", out.next);
    assert_eq!(out.proof, "Proved least.");
    let shown = out.findings.iter().find(|finding| finding.code == "trim.fewest").expect("more than one leg");
    assert_eq!(shown.standing, Standing::Inside, "{shown:?}");
}

/// Whatever a level shows and whichever foot is light: the fewest screws are proved, and the part that did not choose them
/// accepts the proof wherever it takes more than one.
#[test]
fn law_the_fewest_screws_are_shown_to_the_part_that_did_not_choose_them() {
    let mut texts = quern_meadow();
    let begun = texts.ride.find("{ by = \"leg-and-sleeve holes\"").expect("legs have holes");
    let holes = texts.ride[begun..].split('\n').next().expect("a line").to_owned();
    let screw =
        "{ by = \"screw\", retracted-length = \"690 mm\", travel = \"280 mm\", thread-pitch = \"10 mm\" }";
    texts.ride = texts.ride.replace(&holes, screw);
    let books = Read::of(&texts);
    let plan = plan(books.books());
    let names: Vec<String> = plan.legs.iter().map(|leg| leg.name.clone()).collect();
    let (mut shown, mut one) = (0, 0);
    for trial in 0..60 {
        // Spread over the slopes by steps that share no factor with their count.
        let along = f64::from(trial * 7 % 25 - 12);
        let across = f64::from(trial * 11 % 17 - 8);
        let light = trial as usize % names.len();
        let foot = |(place, name): (usize, &String)| {
            let gap = Length::mm(f64::from(trial % 5) * 2.0);
            (name.clone(), if place == light { Foot::Light { gap: Some(gap) } } else { Foot::Snug })
        };
        let feet = names.iter().enumerate().map(foot).collect();
        let way = FrameWay::Level {
            along: Slope::mm_per_m(along),
            across: Slope::mm_per_m(across),
            deviation: Some(Slope::mm_per_m(0.1)),
        };
        let out = told(&plan, &FrameRead { way, feet, loads: Default::default() }, &books);
        assert!(out.proof.starts_with("Proved"), "{trial}: {}", out.proof);
        let finding = out.findings.iter().find(|finding| finding.code == "trim.fewest");
        match finding {
            Some(finding) => {
                assert_eq!(finding.standing, Standing::Inside, "{trial}: {finding:?}");
                shown += 1;
            }
            None => {
                assert!(out.change.len() <= 1, "{trial}: {} change and no proof is shown", out.change.len());
                one += 1;
            }
        }
    }
    assert!(shown > 30 && one > 0, "{shown} shown, {one} of one leg or none");
}
