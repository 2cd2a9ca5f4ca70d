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
