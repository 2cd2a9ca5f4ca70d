//! The rehearsals of both demo rides: every step once, what goes wrong without it, and questions of which one answer is right.

use std::collections::BTreeSet;
use tober_book::{Ride, Role, Source, Visit, parse_ride, parse_visit};
use tober_plan::rehearse::{Asked, Kind, Rehearsal, quiz, rehearsal};
use tober_quantity::UnitSet;

const LANTERN: [&str; 2] = [
    include_str!("../../../../demo/lantern/ride.toml"),
    include_str!("../../../../demo/lantern/plover-hard/visit.toml"),
];
const OSIER: [&str; 2] = [
    include_str!("../../../../demo/osier/ride.toml"),
    include_str!("../../../../demo/osier/kestrel-yard/visit.toml"),
];
const ROLES: [Role; 4] = [Role::Chief, Role::Hand, Role::Operator, Role::Attendant];

fn read([ride, visit]: [&str; 2]) -> (Ride, Visit, Rehearsal) {
    let ride = parse_ride(&Source::new("ride.toml", ride)).into_result().expect("it reads");
    let visit = parse_visit(&Source::new("visit.toml", visit)).into_result().expect("it reads");
    let all = rehearsal(&ride, &visit, UnitSet::Metric).expect("it has steps");
    (ride, visit, all)
}

#[test]
fn law_every_step_stands_once_and_in_an_order_that_is_admitted() {
    for book in [LANTERN, OSIER] {
        let (ride, visit, all) = read(book);
        assert_eq!(all.cards.len(), ride.steps.len());
        let names: BTreeSet<&str> = all.cards.iter().map(|card| card.step.as_str()).collect();
        assert_eq!(names.len(), all.cards.len());
        let mut done = BTreeSet::new();
        for (at, card) in all.cards.iter().enumerate() {
            if card.phase != tober_book::Phase::Stopped {
                let (free, _) = all.open(&ride, &visit, &done);
                assert!(free.contains(&at), "{} may be done", card.title);
                assert_eq!(free.len() - 1, card.instead.len());
            }
            done.insert(at);
        }
    }
}

/// The wheel's tower raised before the winch line is on it: only the line would hold it. And pins of chocks that are not there.
#[test]
fn hand_what_goes_wrong_if_it_is_done_now_is_the_right_story() {
    let (ride, visit, all) = read(OSIER);
    let raise = all.find("raise half").expect("there is such a step");
    let stood = all.what_if(&ride, &visit, &BTreeSet::new(), raise).expect("it is a step of the run");
    let stood = stood.expect("it waits for others");
    assert!(
        stood.wrong.iter().any(|wrong| wrong.says.contains("only the winch line holds it")),
        "{:?}",
        stood.wrong
    );
    let chocks = &all.cards[all.find("chock").expect("there is such a step")];
    let without = &chocks.too_early[0];
    assert_eq!(without.step, "Uncouple");
    assert!(without.wrong[0].says.contains("wheel chock"), "{:?}", without.wrong);
    // Each arm of the lanterns is missed for its own pins, not for those of arms that are left out with it.
    let (_, _, all) = read(LANTERN);
    let arm = &all.cards[all.find("arm C").expect("there is such a step")];
    assert!(arm.too_early[0].wrong.iter().all(|wrong| wrong.says.contains(" C\"")), "{:?}", arm.too_early);
}

fn every_question(all: &Rehearsal) -> Vec<Asked> {
    let seeds = 1..20;
    seeds.flat_map(|seed| ROLES.into_iter().flat_map(move |role| quiz(all, role, 60, seed))).collect()
}

#[test]
fn law_of_every_question_one_answer_is_right_and_no_other() {
    for book in [LANTERN, OSIER] {
        let (_, _, all) = read(book);
        let card = |title: &str| all.cards.iter().find(|card| card.title == title);
        let asked = every_question(&all);
        assert!(asked.len() > 1000, "{}", asked.len());
        for one in &asked {
            let choices: BTreeSet<&String> = one.choices.iter().collect();
            assert_eq!(choices.len(), one.choices.len(), "{one:?}");
            assert!((2..=4).contains(&one.choices.len()) && one.right < one.choices.len(), "{one:?}");
            let right = &one.choices[one.right];
            let wrong = || one.choices.iter().filter(|choice| *choice != right);
            let about = one.question.split('"').nth(1).and_then(card);
            match (one.kind, about) {
                (Kind::Next, _) => {
                    let right = card(right).expect("it is a step");
                    for wrong in wrong() {
                        assert!(!right.instead.contains(wrong), "{wrong} may be done now as well: {one:?}");
                        assert!(card(wrong).is_some_and(|wrong| wrong.number > right.number), "{one:?}");
                    }
                }
                (Kind::Caution, Some(card)) => {
                    assert!(
                        card.cautions.contains(right) && wrong().all(|wrong| !card.cautions.contains(wrong))
                    );
                }
                (Kind::Stand, Some(card)) => assert_eq!(card.keep_clear.as_ref(), Some(right)),
                (Kind::Pin, Some(card)) => {
                    let goes = |home: &String| {
                        card.pins.iter().any(|pins| {
                            pins.to == *home
                                && one.question.contains(&format!("{} from {}", pins.fixing, pins.from))
                        })
                    };
                    assert!(goes(right) && !wrong().any(goes), "{one:?}");
                }
                (Kind::Count, Some(card)) => {
                    let sum = |fixing: &str| -> usize {
                        card.pins.iter().filter(|pins| pins.fixing == fixing).map(|pins| pins.count).sum()
                    };
                    let named = |fixing: &str| one.question.contains(&format!("of {fixing} are"));
                    let fixing = card.pins.iter().find(|pins| named(&pins.fixing)).expect("it is named");
                    assert_eq!(right, &sum(&fixing.fixing).to_string());
                }
                _ => {}
            }
        }
        let kinds: BTreeSet<Kind> = asked.iter().map(|one| one.kind).collect();
        assert_eq!(kinds.len(), 8, "{kinds:?}");
    }
}

#[test]
fn law_a_seed_asks_the_same_and_another_asks_others() {
    let (_, _, all) = read(LANTERN);
    assert_eq!(quiz(&all, Role::Hand, 12, 7), quiz(&all, Role::Hand, 12, 7));
    assert_ne!(quiz(&all, Role::Hand, 12, 7), quiz(&all, Role::Hand, 12, 8));
    // A hand is asked of the work, not of hold points nor of riders.
    for one in quiz(&all, Role::Hand, 100, 3) {
        assert!(!matches!(one.kind, Kind::HoldPoint | Kind::RidersOff), "{one:?}");
    }
}

/// Counts at the wheel's hold points: sixteen rim pins and clips when the rim is closed, and what is looked at again after rain.
#[test]
fn hand_hold_points_count_what_was_moved() {
    let (ride, visit, _) = read(OSIER);
    let every = tober_plan::every_order(&ride, &visit).expect("it has steps");
    let rim = every.hold_points.iter().find(|point| point.step == "close rim").expect("it is one");
    let count = |fixing: &str, home: &str| {
        let found = rim.counts.iter().find(|(f, h, _)| f == fixing && h == home);
        found.map(|(_, _, count)| *count)
    };
    assert_eq!((count("rim pin", "rim joint"), count("rim clip", "rim pin end")), (Some(16), Some(16)));
    let rain = every.looked_at.iter().find(|(when, _)| *when == "after rain").expect("it is told");
    assert_eq!(rain.1, ["packing and feet after rain"]);
    let text = OSIER[0].replace("interval = \"after rain\"", "interval = \"each week\"");
    let less = parse_ride(&Source::new("ride.toml", &text)).value.expect("it reads");
    let less = tober_plan::every_order(&less, &visit).expect("it has steps");
    assert!(less.findings.iter().any(|finding| finding.code == "checks.again"));
    assert!(every.findings.iter().all(|finding| finding.code != "checks.again"));
}

/// The wheel stops within 5 to 9 s, and a gust may be 8 m/s, 17.9 mph: printed, 17. A printed range is never wider than the maker's.
#[test]
fn hand_a_printed_range_is_no_wider_than_the_makers() {
    let (ride, visit, _) = read(OSIER);
    let all = rehearsal(&ride, &visit, UnitSet::Gb).expect("it has steps");
    let stop = all.checks.iter().find(|(item, ..)| item == "stop from full speed").expect("it is told");
    assert_eq!(stop.3, "5 s to 9 s".replace(' ', "\u{202f}").replace("\u{202f}to\u{202f}", " to "));
    let readings = all.cards.iter().filter_map(|card| card.reading.as_ref());
    let gusts: Vec<&String> = readings.filter(|reading| reading.starts_with("gust over")).collect();
    assert!(gusts.iter().all(|gust| gust.ends_with("17\u{202f}mph")), "{gusts:?}");
}
