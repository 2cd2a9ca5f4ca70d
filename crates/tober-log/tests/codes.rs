//! Entries as codes, and back.
#![cfg(feature = "qr")]

mod common;

use common::{Dice, Writer, chain};
use proptest::prelude::*;
use tober_log::Entry;
use tober_log::qr::{PART_LETTERS_MAX, codes, collect, modules, svg};

/// What one phone enters on one pitch: readings of six legs by tape, some wrong at first, the ground, six stacks ticked
/// board by board, hold points, feet, and two rounds of trimming; over two openings of the page.
fn full_run() -> Vec<Entry> {
    let legs = ["front left", "front right", "middle left", "middle right", "rear left", "rear right"];
    let mut one = Writer::new("k7q2m9-1");
    one.say("reading", &[("what", "slope along"), ("value", "0.4 %")], &[]);
    one.say("reading", &[("what", "slope across"), ("value", "-1.1 %")], &[]);
    for (index, leg) in legs.iter().enumerate() {
        let value = format!("{} mm", 611 + index * 17 % 53);
        let what = format!("leg {leg}");
        one.say("reading", &[("what", &what), ("value", &value)], &[]);
    }
    one.say(
        "reading",
        &[("what", "leg rear left"), ("value", "697 mm"), ("why", "misread")],
        &["k7q2m9-1:7"],
    );
    one.say("choice", &[("what", "ground"), ("value", "firm-turf")], &[]);
    let mut two = Writer::new("k7q2m9-2");
    two.now_ms = one.now_ms + 60_000;
    for leg in legs {
        for board in 1..=4 {
            let what = format!("{leg} board {board}");
            two.say("tick", &[("what", &what), ("plan", "5f0c99e1")], &[]);
        }
    }
    two.say("hold", &[("what", "set legs"), ("value", "looked"), ("plan", "5f0c99e1")], &[]);
    for round in 0..2 {
        for leg in legs {
            let what = format!("height {leg}");
            let value = format!("{} mm", 1200 + round * 4);
            two.say("reading", &[("what", &what), ("value", &value)], &[]);
        }
        for leg in &legs[..3] {
            let what = format!("foot {leg}");
            two.say("foot", &[("what", &what), ("value", "snug")], &[]);
        }
    }
    let mut all = one.chain;
    all.extend(two.chain);
    all
}

/// The most codes that a full run may need.
const CODES_MAX: usize = 2;

#[test]
fn law_a_full_run_of_sixty_entries_fits_few_codes() {
    let run = full_run();
    assert!((50..=70).contains(&run.len()), "{}", run.len());
    let parts = codes("north-meadow", &run).expect("it fits");
    let letters: Vec<usize> = parts.iter().map(String::len).collect();
    let sides: Vec<usize> = parts.iter().map(|part| modules(part).expect("it fits").side).collect();
    assert!(parts.len() <= CODES_MAX, "{letters:?} letters, {sides:?} modules a side");
    assert!(letters.iter().all(|count| *count <= PART_LETTERS_MAX));
    assert!(sides.iter().all(|side| *side <= 69), "version 13 has 69 modules: {sides:?}");
    let collected = collect(&parts.join("\n"));
    assert_eq!(collected.visit.as_deref(), Some("north-meadow"));
    assert_eq!(collected.entries, run);
    assert_eq!(collected.sentences.last().map(String::as_str), Some("All 2 parts are here: 53 entries."));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn law_any_entries_in_any_order_of_parts_come_back(
        seed: u64, count in 1..120_usize, other in 0..60_usize, from in 0..20_usize,
    ) {
        let mut dice = Dice(seed);
        let mut all: Vec<Entry> = chain("a-1", count).into_iter().skip(from.min(count - 1)).collect();
        all.extend(chain("b-2", other));
        let mut parts = codes("v", &all).expect("it fits");
        for _ in 0..2 {
            parts.push(parts[dice.below(parts.len())].clone());
        }
        dice.shuffle(&mut parts);
        let text = parts.iter().map(|part| format!("Text: {part} \r\n\n")).collect::<String>();
        let collected = collect(&text);
        prop_assert_eq!(collected.entries, all, "{:?}", collected.sentences);
    }

    #[test]
    fn law_no_part_has_spaces_that_copying_would_lose(seed in prop_oneof![
        // The check of a part once ended in two spaces whatever the mask.
        Just(10_804_809_596_815_413_248_u64),
        any::<u64>(),
    ]) {
        let mut dice = Dice(seed);
        let mut writer = Writer::new("a-1");
        for _ in 0..30 {
            let value: String = (0..20).map(|_| char::from(b'!' + dice.below(90) as u8)).collect();
            writer.say("note", &[("text", &value)], &[]);
        }
        for part in codes("v", &writer.chain).expect("it fits") {
            prop_assert!(!part.contains("  ") && part.trim() == part, "{}", part);
        }
    }
}

#[test]
fn law_a_picture_is_the_same_every_time_and_has_its_white_edge() {
    let part = codes("v", &chain("a-1", 3)).expect("it fits").remove(0);
    let picture = svg(&part, "Code 1 of 1 \"<&").expect("it fits");
    assert_eq!(picture, svg(&part, "Code 1 of 1 \"<&").expect("it fits"));
    let side = modules(&part).expect("it fits").side + 8;
    assert!(picture.contains(&format!("viewBox=\"0 0 {side} {side}\"")));
    assert!(picture.contains("aria-label=\"Code 1 of 1 &quot;&lt;&amp;\""));
    // The top left mark of a QR code begins with a run of seven dark modules, behind four white ones.
    assert!(picture.contains("d=\"M4 4h7v1h-7z"), "{}", &picture[..300]);
}
