//! Whether the marks of states are told apart as a poor printer prints them.

use super::*;
use resvg::{tiny_skia, usvg};
use tober_quantity::maths::exp;

/// As marks stand on a sheet.
const MARK_MM: f64 = 4.0;
const DOTS_PER_INCH: f64 = 200.0;
/// How far a poor printer spreads its ink: one standard deviation (ours; over one dot of 200 to the inch).
const SPREAD_MM: f64 = 0.15;
/// What a nearly empty cartridge leaves of the ink.
const INK_LEFT: f64 = 0.5;
/// How far one mark may be moved onto another before they are compared: nobody lays them on each other, but the eye does
/// not know where in its field a mark stands.
const MOVED_MM: f64 = 0.5;
/// From which difference in ink a place is seen to be another, of black: half of what is left of a full black.
const SEEN_INK: f64 = 0.25;
/// How much must be seen to be another, mm2: a place of 0.95 by 0.95 mm, which at 400 mm is 8 minutes of arc, over the 5
/// that the smallest letter read by an eye of ordinary sight takes (common practice, no source).
const APART_MM2: f64 = 0.9;

/// The ink of a mark as printed, from 0 to 1, on a field with an edge that holds what spreads and what is moved.
struct Printed {
    side: usize,
    ink: Vec<f64>,
}

fn printed(svg: &str) -> Printed {
    let dots = DOTS_PER_INCH / 25.4;
    let edge = (dots * (MOVED_MM + 2.0 * SPREAD_MM)).ceil();
    let side = (dots * MARK_MM + 2.0 * edge).ceil() as usize;
    let size = u32::try_from(side).expect("a mark is small");
    let tree = usvg::Tree::from_str(svg, &usvg::Options::default()).expect("it is SVG");
    let mut pixels = tiny_skia::Pixmap::new(size, size).expect("it has a size");
    pixels.fill(tiny_skia::Color::WHITE);
    let scale = (dots * MARK_MM / 24.0) as f32;
    let place = tiny_skia::Transform::from_row(scale, 0.0, 0.0, scale, edge as f32, edge as f32);
    resvg::render(&tree, place, &mut pixels.as_mut());
    // Luma of ITU-R BT.709, as a grey printer weighs colours.
    let ink: Vec<f64> = pixels
        .pixels()
        .iter()
        .map(|p| {
            let luma =
                0.2126 * f64::from(p.red()) + 0.7152 * f64::from(p.green()) + 0.0722 * f64::from(p.blue());
            INK_LEFT * (1.0 - luma / 255.0)
        })
        .collect();
    Printed { side, ink: spread(&spread(&ink, side, dots, 1), side, dots, side) }
}

/// Ink spread along one direction: `step` is from a dot to the next.
fn spread(ink: &[f64], side: usize, dots: f64, step: usize) -> Vec<f64> {
    let deviation = dots * SPREAD_MM;
    let reach = (3.0 * deviation).ceil() as isize;
    let weight = |far: isize| exp(-0.5 * (far as f64 / deviation) * (far as f64 / deviation));
    let sum: f64 = (-reach..=reach).map(weight).sum();
    let across = |at: usize| if step == 1 { at % side } else { at / side };
    (0..ink.len())
        .map(|at| {
            let near = (-reach..=reach).filter_map(|far| {
                let place = across(at).checked_add_signed(far).filter(|place| *place < side)?;
                let other = at - across(at) * step + place * step;
                Some(weight(far) * ink[other])
            });
            near.sum::<f64>() / sum
        })
        .collect()
}

/// How much of one mark is seen to be another than the other, mm2, where the one is laid on the other at best.
fn apart(one: &Printed, other: &Printed) -> f64 {
    let dots = DOTS_PER_INCH / 25.4;
    let most = (dots * MOVED_MM).round() as isize;
    let side = one.side;
    let at = |ink: &[f64], x: usize, y: usize, dx: isize, dy: isize| -> f64 {
        let x = x.checked_add_signed(dx).filter(|x| *x < side);
        let y = y.checked_add_signed(dy).filter(|y| *y < side);
        x.zip(y).map_or(0.0, |(x, y)| ink[y * side + x])
    };
    let mut least = usize::MAX;
    for dy in -most..=most {
        for dx in -most..=most {
            let seen = (0..side * side)
                .filter(|place| {
                    let (x, y) = (place % side, place / side);
                    (one.ink[*place] - at(&other.ink, x, y, dx, dy)).abs() > SEEN_INK
                })
                .count();
            least = least.min(seen);
        }
    }
    least as f64 / (dots * dots)
}

#[test]
fn law_states_are_told_apart_as_a_poor_printer_prints_them() {
    let all: Vec<(Mark, Printed)> = Mark::ALL.iter().map(|mark| (*mark, printed(&mark_svg(*mark)))).collect();
    let mut pairs: Vec<(f64, Mark, Mark)> = Vec::new();
    for (at, (mark, one)) in all.iter().enumerate() {
        for (other, two) in &all[at + 1..] {
            pairs.push((apart(one, two), *mark, *other));
        }
    }
    assert_eq!(pairs.len(), 55, "every mark is held against every other");
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (least, one, other) = pairs[0];
    assert!(least >= APART_MM2, "{one:?} and {other:?} are {least:.2} mm2 apart; next {:?}", &pairs[1..4]);
}

#[test]
fn refuse_marks_that_only_a_good_printer_tells_apart() {
    let svg = |shape: &str| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"24\" height=\"24\" viewBox=\"0 0 24 24\" color=\"#000000\">{shape}</svg>"
        )
    };
    let ring = |r: f64, width: f64| {
        svg(&format!(
            "<circle cx=\"12\" cy=\"12\" r=\"{r}\" fill=\"none\" stroke=\"#000000\" stroke-width=\"{width}\"/>"
        ))
    };
    let square = |more: &str| svg(&format!("<path d=\"M3.5 3.5h17v17h-17z\" fill=\"#000000\"/>{more}"));
    for (one, other, why) in [
        (ring(8.5, 3.0), ring(8.5, 2.2), "a thinner ring"),
        (ring(8.5, 3.0), ring(8.2, 3.0), "a smaller ring"),
        (
            square(""),
            square("<path d=\"M11 3v18h2v-18z\" fill=\"#ffffff\"/>"),
            "a slot of a third of a millimetre",
        ),
        (
            ring(8.5, 3.0),
            format!(
                "{}<path d=\"M12 0v6\" stroke=\"#ffffff\" stroke-width=\"3\"/></svg>",
                ring(8.5, 3.0).trim_end_matches("</svg>")
            ),
            "a ring with a gap of half a millimetre",
        ),
        (square(""), svg("<path d=\"M5 2h17v17h-17z\" fill=\"#000000\"/>"), "a square that stands elsewhere"),
        (mark_svg(Mark::Done), square(""), "the same square"),
    ] {
        let found = apart(&printed(&one), &printed(&other));
        assert!(found < APART_MM2, "{why}: {found:.2} mm2 apart");
    }
}
