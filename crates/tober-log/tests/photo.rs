//! Codes drawn, made into grey pixels as a camera would see them, and read again by a reader that shares no code with
//! what drew them.
#![cfg(feature = "photo")]

mod common;

use common::{Dice, chain};
use proptest::prelude::*;
use tober_log::qr::{Modules, codes, collect, modules, texts_in};

/// A code as a picture: a number of pixels a module, turned by an angle, softened and with grain. Dark is 40 and white 215,
/// as on a screen in daylight.
fn picture(code: &Modules, pixels: f64, angle: f64, grain: usize) -> (usize, Vec<u8>) {
    let whole = code.side as f64 + 8.0;
    let side = (whole * pixels * 1.3) as usize;
    let (sin, cos) = (angle - angle * angle * angle / 6.0, 1.0 - angle * angle / 2.0);
    let mut dice = Dice(7);
    let dark_at = |x: f64, y: f64| {
        let (x, y) = (x - side as f64 / 2.0, y - side as f64 / 2.0);
        let (x, y) = (
            (x * cos + y * sin) / pixels + code.side as f64 / 2.0,
            (y * cos - x * sin) / pixels + code.side as f64 / 2.0,
        );
        let inside = x >= 0.0 && y >= 0.0 && x < code.side as f64 && y < code.side as f64;
        inside && code.dark[y as usize * code.side + x as usize]
    };
    let mut grey = Vec::new();
    for y in 0..side {
        for x in 0..side {
            // Four points a pixel.
            let points = [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)];
            let dark = points.iter().filter(|(dx, dy)| dark_at(x as f64 + dx, y as f64 + dy)).count();
            let light = 215 - dark * 175 / 4;
            grey.push((light + dice.below(2 * grain + 1) - grain) as u8);
        }
    }
    (side, grey)
}

#[test]
fn law_a_code_drawn_and_photographed_gives_the_same_entries() {
    let entries = chain("k7q2m9-1", 100);
    let parts = codes("north-meadow", &entries).expect("it fits");
    assert!(parts.len() >= 2);
    let turned = [0.0, 0.02, 0.05, -0.1, -0.2, 0.4];
    for (pixels, angle, grain) in
        [8.0, 10.5].into_iter().flat_map(|p| turned.map(|a| (p, a, if a < 0.0 { 20 } else { 10 })))
    {
        let mut seen = Vec::new();
        for part in &parts {
            let code = modules(part).expect("it fits");
            let (side, grey) = picture(&code, pixels, angle, grain);
            seen.extend(texts_in(side, side, &grey).expect("a picture"));
        }
        assert_eq!(seen, parts, "{pixels} pixels a module, turned {angle}");
        assert_eq!(collect(&seen.join("\n")).entries, entries);
    }
}

#[test]
fn refuse_a_picture_without_a_code_or_of_another_size() {
    assert_eq!(texts_in(64, 64, &[255; 64 * 64]), Ok(Vec::new()));
    let sentence = texts_in(64, 64, &[255; 64]).expect_err("too few pixels").to_string();
    assert_eq!(
        sentence,
        "The picture is \"64 by 64 with 64 pixels\". It must be 1 to 4096 pixels a side, one byte for each."
    );
    assert!(texts_in(0, 0, &[]).is_err());
    assert!(texts_in(usize::MAX, 2, &[]).is_err());
    for (width, height) in [(1, 1), (1, 100), (100, 1), (7, 3)] {
        assert_eq!(texts_in(width, height, &vec![0; width * height]), Ok(Vec::new()));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// A spoiled picture gives no text or a wrong one, never a fault; and what is read of it never passes for a whole set
    /// that it is not.
    #[test]
    fn law_spoiled_pictures_are_read_without_fault(seed: u64, blots in 0..40_usize) {
        let entries = chain("k7q2m9-1", 5);
        let part = codes("v", &entries).expect("it fits").remove(0);
        let (side, mut grey) = picture(&modules(&part).expect("it fits"), 3.0, 0.0, 0);
        let mut dice = Dice(seed);
        for _ in 0..blots {
            let (x, y, light) = (dice.below(side - 9), dice.below(side - 9), dice.below(256) as u8);
            for row in y..y + 9 {
                grey[row * side + x..row * side + x + 9].fill(light);
            }
        }
        for text in texts_in(side, side, &grey).expect("a picture") {
            let collected = collect(&text);
            prop_assert!(collected.visit.is_none() || collected.entries == entries);
        }
    }

    #[test]
    fn law_noise_is_read_without_fault(seed: u64, width in 1..90_usize, height in 1..90_usize) {
        let mut dice = Dice(seed);
        let grey: Vec<u8> = (0..width * height).map(|_| dice.below(256) as u8).collect();
        prop_assert!(texts_in(width, height, &grey).is_ok());
    }
}
