//! Step cards with their pictures, and the loads of the stages.

use super::*;
use tober_book::Phase;
use tober_plan::{loads_after, steps_shown};

/// Every block of a kind, wherever it stands.
fn each<'v>(value: &'v Value, kind: &str, all: &mut Vec<&'v Value>) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| each(item, kind, all)),
        Value::Object(items) => {
            if items.get("is").is_some_and(|is| is == kind) {
                all.push(value);
            }
            items.values().for_each(|item| each(item, kind, all));
        }
        _ => {}
    }
}

fn sheet_json(given: &Given<'_>, kind: SheetKind) -> Value {
    let made = sheets::make(kind, given, &Ask::default(), &Rc::default()).expect("it is made");
    json!(made.blocks.iter().map(|b| b.json(&mut Pictures::default())).collect::<Vec<_>>())
}

#[test]
fn law_every_step_that_moves_something_has_a_card_with_its_picture_and_as_many_balloons_as_fixings() {
    for shelf in [lantern(), osier()] {
        let (plan, every) = shelf.planned();
        let given = shelf.given(&plan, &every);
        let mut seen = 0;
        for (kind, phases) in [
            (SheetKind::Steps, &[Phase::Arrive, Phase::BuildUp, Phase::Prove][..]),
            (SheetKind::PullDown, &[Phase::PullDown, Phase::Leave]),
        ] {
            let json = sheet_json(&given, kind);
            let mut cards = Vec::new();
            each(&json, "card", &mut cards);
            for shown in steps_shown(&shelf.ride, &shelf.visit).expect("the demo leads through") {
                if !phases.contains(&shown.step.phase) {
                    continue;
                }
                let card = cards
                    .iter()
                    .find(|card| card["number"].as_str() == Some(shown.number.to_string().as_str()));
                let card = card.unwrap_or_else(|| panic!("step {} has a card", shown.number));
                assert_eq!(card["title"], *shown.step.title);
                assert_eq!(card["of"], shelf.ride.steps.len().to_string());
                let (mut pictures, mut balloons) = (Vec::new(), Vec::new());
                each(card, "picture", &mut pictures);
                each(card, "balloons", &mut balloons);
                let moves = shown.bodies.iter().any(tober_plan::BodyShown::moves);
                assert!(!moves || pictures.len() == 1, "step {}", shown.number);
                let told = balloons.first().map_or(0, |all| all["items"].as_array().map_or(0, Vec::len));
                assert_eq!(told, shown.step.pins.len(), "step {}", shown.number);
                seen += 1;
            }
        }
        assert!(seen > 50, "{seen} cards");
    }
}

#[test]
fn law_a_bar_of_a_stage_is_as_long_as_its_share_of_the_limit() {
    let shelf = lantern();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let json = sheet_json(&given, SheetKind::Loads);
    let mut bars = Vec::new();
    each(&json, "bar", &mut bars);
    let books = Books { ride: &shelf.ride, kit: &shelf.kit, pitch: &shelf.pitch, visit: &shelf.visit };
    let shown = steps_shown(&shelf.ride, &shelf.visit).expect("the demo leads through");
    let stages: Vec<_> = shown.iter().filter(|shown| shown.is_stage(&shelf.ride)).collect();
    assert!(stages.len() > 10);
    let loads: Vec<_> = stages
        .iter()
        .flat_map(|shown| loads_after(books, &plan, shown).expect("the demo is known"))
        .collect();
    assert_eq!(bars.len(), loads.len());
    for (bar, load) in bars.iter().zip(&loads) {
        // Shares are of one division; what is compared is the same quotient.
        let share = load.load.map_or(0.0, |(_, high)| high / load.rated.expect("the demo's legs are rated"));
        assert!((bar["most"].as_f64().expect("it is a number") - share).abs() < 1e-12);
    }
}

#[test]
fn law_the_riders_off_sheet_has_the_order_of_the_plan_seat_by_seat() {
    for shelf in [lantern(), osier()] {
        let (plan, every) = shelf.planned();
        let given = shelf.given(&plan, &every);
        let page = texts(&given, &only(SheetKind::RidersOff)).join(" ");
        let riders = every.riders_off.as_ref().expect("the demo tells of a stop");
        assert!(!riders.ways.is_empty());
        let mut from = 0;
        for way in &riders.ways {
            for off in &way.answer.order {
                let seat = &way.seats[off.seat];
                let found = page[from..].find(seat.as_str());
                from += found.unwrap_or_else(|| panic!("{seat} stands in its turn of {}", way.way));
            }
        }
        assert!(page.contains("proved with every one of the"), "what holds with empty ones is said");
    }
}

#[test]
fn law_what_the_book_does_not_know_of_the_road_is_said_and_has_a_blank() {
    let mut shelf = lantern();
    for axle in &mut shelf.ride.frame.axles {
        axle.load = None;
    }
    shelf.ride.frame.hitch.as_mut().expect("the demo has a hitch").load = None;
    shelf.ride.frame.resting_height = None;
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let json = sheet_json(&given, SheetKind::Road);
    let mut tables = Vec::new();
    each(&json, "table", &mut tables);
    let rows = tables[0]["rows"].as_array().expect("it has rows");
    let told = |what: &str| {
        let row = rows.iter().find(|row| row[0]["text"].as_str().is_some_and(|text| text.starts_with(what)));
        let row = row.unwrap_or_else(|| panic!("{what} has a row"));
        assert_eq!(row[3]["is"], "blank");
        row[1]["text"].as_str().unwrap_or_default().to_owned()
    };
    for what in ["axle 1", "axle 2", "hitch", "height"] {
        assert_eq!(told(what), "not known", "{what}");
    }
    assert_ne!(told("width"), "not known");
    assert_ne!(told("everything"), "not known");
}

#[test]
fn hand_the_height_on_the_road_is_the_highest_shape_over_the_ground() {
    // The mast of the demo lies or stands in its road placement; whichever body reaches highest, no body's middle of weight is
    // above what is printed, and the frame's own top is below it.
    let shelf = lantern();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let rests = shelf.ride.frame.resting_height.expect("the demo says how high it rests").as_m();
    let highest = shelf
        .ride
        .bodies
        .iter()
        .filter_map(|body| body.placement("road"))
        .map(|place| place.cg.up.value.as_m() + rests)
        .fold(rests, f64::max);
    let json = sheet_json(&given, SheetKind::Road);
    let mut tables = Vec::new();
    each(&json, "table", &mut tables);
    let rows = tables[0]["rows"].as_array().expect("it has rows");
    let row = rows.iter().find(|row| row[0]["text"].as_str().is_some_and(|text| text.starts_with("height")));
    let said = row.expect("it has a row")[1]["text"].as_str().expect("it is text").replace('\u{202f}', " ");
    let metres: f64 = said.trim_end_matches(" m").parse().unwrap_or_else(|_| panic!("{said} is a height"));
    assert!(metres >= highest && metres < highest + 3.0, "{metres} over {highest}");
}

#[test]
fn law_one_persons_list_has_the_numbers_that_it_has_among_all() {
    let shelf = lantern();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let all =
        sheets::make(SheetKind::People, &given, &Ask::default(), &Rc::default()).expect("it is made").blanks;
    let tag = shelf.crew.people[1].tag.clone();
    let ask = Ask { person: Some(tag.clone()), ..only(SheetKind::People) };
    let own = sheets::make(SheetKind::People, &given, &ask, &Rc::default()).expect("it is made");
    assert!(!own.blanks.is_empty() && own.blanks.len() < all.len());
    for blank in &own.blanks {
        assert!(all.contains(blank) && blank.about.starts_with(&tag), "{blank:?}");
    }
}
