//! The rehearsal on the phone: a sheet for every step, an answer to "what if", and questions that keep score.

use crate::questions::{CREW, KIT, Phone, RIDE, answered, meadow, question};
use serde_json::{Value, json};
use tober_phone::core::Texts;

fn wheel() -> Texts {
    Texts {
        ride: include_str!("../../../../demo/osier/ride.toml").to_owned(),
        kit: include_str!("../../../../demo/osier/kit.toml").to_owned(),
        pitch: include_str!("../../../../demo/osier/kestrel-yard/pitch.toml").to_owned(),
        visit: include_str!("../../../../demo/osier/kestrel-yard/visit.toml").to_owned(),
        crew: Some(include_str!("../../../../demo/osier/crew.toml").to_owned()),
        rows: None,
    }
}

fn asked(texts: &Texts, at: &str) -> Value {
    let mut asked = question("rehearse", texts);
    asked["at"] = json!(at);
    answered(&asked)
}

fn there(texts: &Texts, at: &str) -> String {
    let answer = asked(texts, at);
    answer["html"].as_str().unwrap_or_else(|| panic!("{at}: {answer}")).to_owned()
}

/// The addresses of links on a sheet.
fn links(html: &str) -> Vec<String> {
    html.split("href=\"#").skip(1).map(|rest| rest.split('"').next().unwrap_or_default().to_owned()).collect()
}

#[test]
fn law_every_step_has_a_sheet_with_its_picture_and_leads_on() {
    for (texts, steps) in [(meadow(), 84), (wheel(), 90)] {
        let mut pictures = 0;
        for number in 1..=steps {
            let html = there(&texts, &format!("step-{number}"));
            assert!(html.contains(&format!("Step {number} of {steps}")), "step {number}");
            assert!(html.contains("Nothing here is recorded"), "step {number} says what it is");
            let next = if number == steps { "riders".to_owned() } else { format!("step-{}", number + 1) };
            assert!(links(&html).contains(&next), "step {number}: {:?}", links(&html));
            pictures += usize::from(html.contains("<figure class=\"picture\"><svg"));
        }
        assert_eq!(pictures, steps, "every step is drawn");
        assert!(asked(&texts, &format!("step-{}", steps + 1))["refused"].is_string());
    }
}

/// The frame stands on six legs. With the sixth not pinned, "Read the frame" is answered with five pins of six.
#[test]
fn hand_a_step_before_its_time_is_answered_with_what_goes_wrong() {
    let told = there(&meadow(), "if-21.1-19");
    assert!(told.contains("Not now:") && told.contains("waits for: Pin the middle right leg."), "{told}");
    assert!(told.contains("coach bad") && told.contains("there may be 5 of &quot;leg pin&quot;"), "{told}");
    // The next of the order may be done, and the answer leads to it.
    let may = there(&meadow(), "if-24.1-23");
    assert!(may.contains("May be done now:") && links(&may) == ["step-24"], "{may}");
    assert!(there(&meadow(), "if-3.1-23").contains("is done already"));
    // Steps 4 and 5 may be done in any order: from the fifth with the fourth left out, the way leads to the fourth.
    let other = there(&meadow(), "step-5.1-3");
    assert!(other.contains("Not in the printed order: 3 of 84 steps are done"), "{other}");
    assert!(links(&other).contains(&"step-4.1-3.5".to_owned()), "{:?}", links(&other));
}

#[test]
fn law_the_list_holds_every_step_in_words() {
    let mut asked = question("open", &meadow());
    asked["entries"] = json!([]);
    let html = answered(&asked)["html"].as_str().expect("the sheets").to_owned();
    for number in 1..=84 {
        assert!(html.contains(&format!("<li id=\"step-{number}\"")), "step {number}");
    }
    for wanted in ["4 to 5 in any order", "id=\"riders\"", "id=\"checks\"", "id=\"lesson\"", "Invented"] {
        assert!(html.contains(wanted), "{wanted}");
    }
}

/// Gone through by its own links: right answers count, a wrong one is told and stands in the list of what to learn.
#[test]
fn law_questions_keep_score() {
    let texts = wheel();
    let begin = there(&texts, "quiz");
    for role in ["chief", "hand", "operator", "attendant"] {
        let first = links(&begin)
            .into_iter()
            .find(|link| link.starts_with(&format!("quiz-{role}.")))
            .expect("a way in");
        let (mut at, mut right, mut wrong) = (first, 0, 0);
        loop {
            let html = there(&texts, &at);
            let choices: Vec<String> =
                links(&html).into_iter().filter(|link| link.starts_with("quiz-")).collect();
            if html.contains("What is your part?") || choices.is_empty() {
                assert!(html.contains(&format!("{right} of {} right", right + wrong)), "{html}");
                assert!(html.contains("To learn") == (wrong > 0), "{html}");
                break;
            }
            assert!(choices.len() >= 2, "a question has a wrong answer as well: {html}");
            // Every second one is answered wrong, on purpose.
            let want_right = (right + wrong) % 2 == 0;
            let answers: Vec<(String, String)> =
                choices.iter().map(|choice| (choice.clone(), there(&texts, choice))).collect();
            let good = answers.iter().filter(|(_, html)| html.contains("Right:")).count();
            assert_eq!(good, 1, "one answer is right: {html}");
            let (link, told) = answers
                .into_iter()
                .find(|(_, html)| html.contains("Right:") == want_right)
                .expect("there is such an answer");
            (right, wrong) = (right + usize::from(want_right), wrong + usize::from(!want_right));
            assert!(told.contains(&format!("{right} of {}<span>right", right + wrong)), "{told}");
            assert!(told.contains("No:") != want_right && told.contains("To learn:") != want_right, "{told}");
            at = format!("{link}-");
            assert!(links(&told).contains(&at), "{told}");
        }
        assert!(right + wrong >= 4, "{role} is asked something");
    }
}

#[test]
fn refuse_places_that_are_not_there() {
    for at in [
        "",
        "step-",
        "step-0",
        "step-85",
        "step-x",
        "step-3.x",
        "if-",
        "if-99",
        "quiz-",
        "quiz-owner.1.",
        "quiz-hand.x.",
        "quiz-hand.1.9",
        "quiz-hand.1.0",
        "quiz-hand.1",
        "<script>alert(1)</script>",
        "step-1.1-999999999999999999999999",
    ] {
        let answer = asked(&meadow(), at);
        assert!(
            answer["refused"].as_str().is_some_and(|said| said.contains("step-1 to step-84")),
            "{at}: {answer}"
        );
    }
    let mut bare = meadow();
    bare.ride = include_str!("../../../../demo/minimal/ride.toml").to_owned();
    bare.kit = include_str!("../../../../demo/minimal/kit.toml").to_owned();
    bare.pitch = include_str!("../../../../demo/minimal/pitch.toml").to_owned();
    bare.visit = include_str!("../../../../demo/minimal/visit.toml").to_owned();
    (bare.crew, bare.rows) = (None, None);
    assert!(asked(&bare, "step-1")["refused"].as_str().is_some_and(|said| said.contains("no [[step]]")));
}

/// The picture of a step stands on the packing of what stands now, and nothing of a rehearsal is an entry.
#[test]
fn law_the_picture_follows_the_readings_and_nothing_is_entered() {
    let mut phone = Phone::of(Texts {
        ride: RIDE.to_owned(),
        kit: KIT.to_owned(),
        crew: Some(CREW.to_owned()),
        ..meadow()
    });
    let mut at = phone.question("rehearse");
    at["at"] = json!("step-20");
    let before = answered(&at);
    assert!(before["entry"].is_null() && before["parts"].is_null());
    phone.type_meadow();
    phone.read("leg middle right", "860");
    let mut at = phone.question("rehearse");
    at["at"] = json!("step-20");
    assert_ne!(before["html"], answered(&at)["html"], "a higher stack is drawn");
}
