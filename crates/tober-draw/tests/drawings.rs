//! What every drawing must be: readable as XML, titled, free of broken numbers, true to the plan.

mod invented;

use roxmltree::{Document, Node};
use tober_calc::finding::Standing;
use tober_draw::{
    DrawError, Mark, Orientation, Palette, RideSide, STYLE, StyleSheet, fixed_style, ground_plan, side_strip,
    stack, table,
};
use tober_plan::Plan;
use tober_quantity::{Length, Mass};

fn plans() -> Vec<(&'static str, Plan)> {
    vec![("six", invented::six_legs()), ("four", invented::four_screws())]
}

/// Every drawing of a plan with its name.
fn drawings(plan: &Plan, style: StyleSheet) -> Vec<(String, String)> {
    let good = "a good plan can be drawn";
    let mut drawings = Vec::new();
    for (place, leg) in plan.legs.iter().enumerate() {
        drawings.push((format!("stack-{}", leg.short), stack(plan, place, style).expect(good)));
    }
    for orientation in [Orientation::Portrait, Orientation::Landscape] {
        let svg = ground_plan(plan, orientation, Some(0), style).expect(good);
        drawings.push((format!("plan-{orientation:?}").to_lowercase(), svg));
    }
    for side in [RideSide::Left, RideSide::Right] {
        let svg = side_strip(plan, side, style).expect(good);
        drawings.push((format!("side-{side:?}").to_lowercase(), svg));
    }
    drawings
}

fn child<'a>(document: &'a Document<'a>, name: &str) -> Option<Node<'a, 'a>> {
    document.root_element().children().find(|node| node.has_tag_name(name))
}

/// Every text of a drawing, whole where it was cut.
fn texts(svg: &str) -> Vec<String> {
    let document = Document::parse(svg).expect("a drawing is XML");
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    texts
        .map(|text| {
            let whole = text.children().find(|node| node.has_tag_name("title"));
            whole.unwrap_or(text).text().unwrap_or_default().to_owned()
        })
        .collect()
}

#[test]
fn law_every_drawing_is_xml_with_a_title_and_a_description() {
    for (name, plan) in plans() {
        for style in [StyleSheet::Embedded, StyleSheet::OnPage] {
            for (drawing, svg) in drawings(&plan, style) {
                let document = Document::parse(&svg).unwrap_or_else(|e| panic!("{name} {drawing}: {e}"));
                let root = document.root_element();
                assert_eq!(root.attribute("role"), Some("img"), "{name} {drawing}");
                for part in ["title", "desc"] {
                    let text = child(&document, part).and_then(|node| node.text()).unwrap_or_default();
                    assert!(text.len() > 20 && text.ends_with('.'), "{name} {drawing} {part}: {text}");
                }
                let embeds = child(&document, "style").is_some();
                assert_eq!(embeds, style == StyleSheet::Embedded, "{name} {drawing}");
            }
        }
    }
}

#[test]
fn law_no_drawing_holds_a_broken_number_and_each_is_light() {
    for (name, plan) in plans() {
        for (drawing, svg) in drawings(&plan, StyleSheet::Embedded) {
            assert!(!svg.contains("NaN") && !svg.contains("inf\""), "{name} {drawing}");
            assert!(svg.len() <= 40_000, "{name} {drawing} is {} bytes", svg.len());
        }
    }
}

#[test]
fn law_the_same_plan_gives_the_same_bytes() {
    for (_, plan) in plans() {
        assert_eq!(drawings(&plan, StyleSheet::Embedded), drawings(&plan, StyleSheet::Embedded));
    }
}

#[test]
fn law_names_on_a_page_stay_apart() {
    let plan = invented::six_legs();
    let mut seen = std::collections::BTreeSet::new();
    for (drawing, svg) in drawings(&plan, StyleSheet::OnPage) {
        let document = Document::parse(&svg).expect("a drawing is XML");
        for id in document.descendants().filter_map(|node| node.attribute("id")) {
            assert!(seen.insert(id.to_owned()), "{drawing} repeats {id}");
        }
    }
}

/// `hand_`: 2.93 t up to a tenth is 3.0, 2.4 stays, 4.6 stays; 75 and 25 make 100.
#[test]
fn hand_figures_of_a_stack() {
    let plan = invented::six_legs();
    let front_left = texts(&stack(&plan, 0, StyleSheet::OnPage).expect("it can be drawn"));
    for wanted in
        ["2.4 to 3.0 of 4.6\u{202F}t", "pin and clip, hole 2", "hole 1", "hole 3", "ground −19 ± 2", "62"]
    {
        assert!(front_left.iter().any(|text| text == wanted), "{wanted}: {front_left:?}");
    }
    let rear_right = texts(&stack(&plan, 5, StyleSheet::OnPage).expect("it can be drawn"));
    for wanted in ["100", "75", "25", "Past limit", "not to scale", "RR", "Rear right"] {
        assert!(rear_right.iter().any(|text| text == wanted), "{wanted}: {rear_right:?}");
    }
}

/// Snapshots: run with `TOBER_GOLDEN=write` to write them anew after looking at the pictures that
/// `cargo run --example show` makes.
#[test]
fn law_drawings_are_those_that_were_looked_at() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden");
    let write = std::env::var_os("TOBER_GOLDEN").is_some_and(|value| value == "write");
    for (name, plan) in plans() {
        for (drawing, svg) in drawings(&plan, StyleSheet::OnPage) {
            let file = folder.join(format!("{name}-{drawing}.svg"));
            if write {
                std::fs::write(&file, &svg).expect("the folder can be written");
            }
            let kept = std::fs::read_to_string(&file)
                .unwrap_or_else(|e| panic!("{}: {e}; set TOBER_GOLDEN=write to write it", file.display()));
            let differs = kept.lines().zip(svg.lines()).position(|(a, b)| a != b);
            let at = differs.unwrap_or(kept.lines().count().min(svg.lines().count())) + 1;
            assert!(kept == svg, "{}:{at} differs; look, then set TOBER_GOLDEN=write", file.display());
        }
    }
}

#[test]
fn law_every_leg_is_named_on_the_ground_plan_with_the_figures_of_the_table() {
    for (_, plan) in plans() {
        let table = table(&plan).expect("it can be drawn");
        for orientation in [Orientation::Portrait, Orientation::Landscape] {
            let shown =
                texts(&ground_plan(&plan, orientation, None, StyleSheet::OnPage).expect("it can be drawn"));
            for row in &table.rows {
                for figure in [&row[2], &row[3], &row[4]] {
                    assert!(shown.contains(figure), "{figure}: {shown:?}");
                }
            }
            for feature in &plan.surroundings.features {
                let named = shown.iter().any(|text| text.contains(&feature.name));
                assert!(named, "{} {orientation:?}: {shown:?}", feature.name);
            }
            assert!(shown.iter().any(|text| text == "front") && shown.iter().any(|text| text == "N"));
        }
    }
}

#[test]
fn law_a_plan_that_assumes_something_says_so_on_every_plan_and_stack() {
    for (name, plan) in plans() {
        for (drawing, svg) in drawings(&plan, StyleSheet::OnPage) {
            let says = texts(&svg).iter().any(|text| text.starts_with("provisional"));
            let must = !plan.assumed.is_empty() && !drawing.starts_with("side");
            assert_eq!(says, must, "{name} {drawing}");
        }
    }
}

/// `hand_`: 76.2 mm is 3 in, 304.8 mm 12 in, 38.1 mm 1 1/2 in; with a thread of 6.35 mm, 76.2 mm are 12 turns.
#[test]
fn hand_figures_of_a_screw_in_inches() {
    let plan = invented::four_screws();
    let front_left = texts(&stack(&plan, 0, StyleSheet::OnPage).expect("it can be drawn"));
    for wanted in ["wind out 12 turns", "3.000 of 12 in", "1\u{202F}1/2", "ash & elm <2×10> \"plank\""] {
        assert!(front_left.iter().any(|text| text == wanted), "{wanted}: {front_left:?}");
    }
    let no_board = texts(&stack(&plan, 3, StyleSheet::OnPage).expect("it can be drawn"));
    for wanted in ["no board under foot", "load not known", "עמוד אחורי ימני"] {
        assert!(no_board.iter().any(|text| text == wanted), "{wanted}: {no_board:?}");
    }
    let mut us = invented::six_legs();
    us.words = tober_quantity::WordSet::Us;
    let hairpin = texts(&stack(&us, 0, StyleSheet::OnPage).expect("it can be drawn"));
    assert!(hairpin.iter().any(|text| text == "pin and hairpin, hole 2"), "{hairpin:?}");
}

#[test]
fn law_figures_of_drawing_and_table_are_the_same() {
    for (_, plan) in plans() {
        let table = table(&plan).expect("it can be drawn");
        assert_eq!(table.rows.len(), plan.legs.len());
        for (place, row) in table.rows.iter().enumerate() {
            assert_eq!(row.len(), table.head.len());
            let shown = texts(&stack(&plan, place, StyleSheet::OnPage).expect("it can be drawn"));
            let load = &row[7];
            assert!(shown.contains(load), "{load}: {shown:?}");
            if row[6] != "not known" {
                let ground = format!("ground {}", row[6]);
                assert!(shown.contains(&ground), "{ground}: {shown:?}");
            }
            if row[5] != "none" {
                assert!(shown.contains(&row[4]), "stack {}: {shown:?}", row[4]);
            }
        }
    }
}

#[test]
fn refuse_figures_that_cannot_be_drawn() {
    type Break = fn(&mut Plan);
    let broken: [(&str, Break); 6] = [
        ("its stack", |plan| plan.legs[1].stack = Length::m(f64::NAN)),
        ("the thickness of a board", |plan| plan.legs[1].layers[0].thickness = Length::m(f64::INFINITY)),
        ("its place along the frame", |plan| plan.legs[1].x = Length::m(1e300)),
        ("its load", |plan| plan.legs[1].load = Some((Mass::kg(f64::NEG_INFINITY), Mass::kg(1.0)))),
        ("a place along the frame", |plan| plan.surroundings.frame[0].0 = Length::m(f64::NAN)),
        ("its reach", |plan| plan.surroundings.reach = Some(Length::m(-1e9))),
    ];
    for (wanted, spoil) in broken {
        let mut plan = invented::six_legs();
        spoil(&mut plan);
        let refused = stack(&plan, 0, StyleSheet::Embedded).expect_err(wanted);
        assert!(matches!(&refused, DrawError::Figure { what, .. } if *what == wanted), "{refused}");
        assert!(refused.to_string().ends_with('.'), "{refused}");
        assert_eq!(table(&plan).expect_err(wanted).to_string(), refused.to_string());
    }
    let plan = invented::six_legs();
    let refused = stack(&plan, 6, StyleSheet::Embedded).expect_err("six legs are 0 to 5");
    assert_eq!(refused, DrawError::NoSuchLeg { leg: 6, legs: 6 });
}

#[test]
fn refuse_nothing_that_is_merely_odd() {
    let mut plan = invented::six_legs();
    for leg in &mut plan.legs {
        leg.name = "\u{0}\u{202E}&<>\"'".repeat(40);
        leg.foot_length = Length::ZERO;
        leg.held = tober_plan::Held::Hole { number: usize::MAX, of: 0, pitch: Length::ZERO };
        leg.layers = vec![invented::layer("", 0.0, (0, 0.0), tober_plan::Grain::Across); 40];
    }
    for (drawing, svg) in drawings(&plan, StyleSheet::Embedded) {
        let document = Document::parse(&svg);
        assert!(document.is_ok(), "{drawing}: {document:?}");
        assert!(!svg.contains("NaN"), "{drawing}");
    }
}

/// Relative luminance of `#RRGGBB`: WCAG 2.2, "relative luminance", 2023 (from memory): a channel c of
/// 0 to 1 is c / 12.92 up to 0.04045, else ((c + 0.055) / 1.055)^2.4; weights 0.2126, 0.7152, 0.0722.
fn luminance(colour: &str) -> f64 {
    let channel = |at: usize| {
        let c =
            f64::from(u8::from_str_radix(&colour[at..at + 2], 16).expect("two hexadecimal digits")) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { tober_quantity::maths::pow((c + 0.055) / 1.055, 2.4) }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

/// WCAG 2.2, "contrast ratio", 2023 (from memory): (L1 + 0.05) / (L2 + 0.05).
fn contrast(one: &str, other: &str) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn truth_every_word_is_seven_to_one_on_its_ground() {
    // WCAG 2.2 success criterion 1.4.6, 2023 (from memory): 7:1 for text; 1.4.11: 3:1 for graphics.
    for palette in [Palette::DAY, Palette::NIGHT, Palette::PRINT] {
        for ground in [palette.paper, palette.canvas] {
            for text in [palette.ink, palette.slate, palette.royal, palette.ox] {
                let ratio = contrast(text, ground);
                assert!(ratio >= 7.0, "{text} on {ground}: {ratio:.2}");
            }
            assert!(contrast(palette.line, ground) >= 3.0, "{} on {ground}", palette.line);
        }
    }
    // At night gilt and ink are both bright and the mark is its outer shape on dark paper.
    assert!(contrast(Palette::DAY.ink, Palette::DAY.gilt) >= 7.0, "ink rims what is filled with gilt");
    assert!(contrast(Palette::NIGHT.gilt, Palette::NIGHT.paper) >= 7.0, "gilt stands out at night");
    assert!((contrast("#000000", "#FFFFFF") - 21.0).abs() < 1e-9, "the greatest contrast is 21:1");
}

#[test]
fn law_the_style_sheet_holds_the_palettes_and_least_sizes() {
    for palette in [Palette::DAY, Palette::NIGHT, Palette::PRINT] {
        let roles: Vec<String> =
            palette.roles().iter().map(|(role, colour)| format!("--{role}:{colour}")).collect();
        assert!(STYLE.contains(&roles.join(";")), "{roles:?}");
    }
    let day = fixed_style(&Palette::DAY);
    assert!(!day.contains("var(") && !day.contains("@media"), "{day}");
    for size in STYLE.split("font-size:").skip(1) {
        let size: f64 = size.split("px").next().unwrap_or_default().parse().expect("a size in pixels");
        assert!(size >= 13.0, "{size}");
    }
}

#[test]
fn law_every_class_used_is_in_the_style_sheet() {
    for (name, plan) in plans() {
        for (drawing, svg) in drawings(&plan, StyleSheet::OnPage) {
            let document = Document::parse(&svg).expect("a drawing is XML");
            for classes in document.descendants().filter_map(|node| node.attribute("class")) {
                for class in classes.split(' ') {
                    let known = class == "tober"
                        || [format!(".{class}{{"), format!(".{class},")].iter().any(|c| STYLE.contains(c));
                    assert!(known, "{name} {drawing}: no rule for .{class}");
                }
            }
        }
    }
}

/// A browser matches what lies in a symbol without the elements around its use, so a rule that names an
/// element around it is lost there and the mark of *close* turns black.
#[test]
fn regress_rules_for_parts_of_marks_name_one_class_only() {
    for mark in Mark::ALL {
        let svg = format!("<svg>{}</svg>", mark.shape());
        let document = Document::parse(&svg).expect("a mark is XML");
        for class in document.descendants().filter_map(|node| node.attribute("class")) {
            assert!(STYLE.contains(&format!("\n.{class}{{")), "{mark:?}: .{class}");
        }
    }
}

#[test]
fn law_standings_have_unlike_marks_with_the_same_words() {
    let standings = [Standing::Inside, Standing::Close, Standing::PastLimit, Standing::NotKnown];
    let mut shapes = std::collections::BTreeSet::new();
    for mark in Mark::ALL {
        assert!(shapes.insert(mark.shape()), "{mark:?} has the shape of another");
    }
    for standing in standings.into_iter().skip(1) {
        assert_eq!(Mark::of(standing).word(), standing.word());
    }
}

#[cfg(feature = "png")]
mod pictures {
    use super::*;
    use resvg::tiny_skia::Pixmap;
    use tober_draw::png;

    #[test]
    fn law_a_picture_has_the_size_of_its_drawing_and_its_day_colours() {
        let plan = invented::six_legs();
        for style in [StyleSheet::Embedded, StyleSheet::OnPage] {
            let svg = stack(&plan, 0, style).expect("it can be drawn");
            let picture = Pixmap::decode_png(&png(&svg, 2.0).expect("it can be pictured")).expect("a PNG");
            assert_eq!(picture.width(), 732);
            let corner = picture.pixel(1, 1).expect("a picture has a corner");
            assert_eq!((corner.red(), corner.green(), corner.blue()), (0xFF, 0xFD, 0xF6));
            let pin =
                picture.pixels().iter().filter(|p| (p.red(), p.green(), p.blue()) == (0x8C, 0x15, 0x15));
            assert!(pin.count() > 2000, "the pin is seen");
        }
    }

    #[test]
    fn refuse_what_is_no_drawing_and_sizes_out_of_reach() {
        let svg = stack(&invented::six_legs(), 0, StyleSheet::Embedded).expect("it can be drawn");
        for scale in [0.0, -1.0, f32::NAN, f32::INFINITY, 1e6, 1e-9] {
            let refused = png(&svg, scale).expect_err("no picture of that size");
            assert!(matches!(refused, DrawError::Scale { .. }), "{scale}: {refused}");
        }
        for text in ["", "no drawing", "<svg", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"0\"/>"] {
            assert!(png(text, 1.0).is_err(), "{text}");
        }
    }

    /// The marks in grey, as a printer of one ink gives them: any two differ in at least a tenth of
    /// the pixels that either of them inks.
    #[test]
    fn law_marks_differ_by_shape_alone() {
        let grey = |mark: Mark| {
            let symbol = mark
                .shape()
                .replace("class=\"tober-gilt\"", "fill=\"#ccc\" stroke=\"#000\" stroke-width=\"2.6\"");
            let svg = format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"24\" height=\"24\" color=\"#000\">{}</svg>",
                symbol.replace("class=\"tober-hatch\"", "fill=\"none\"")
            );
            let picture = Pixmap::decode_png(&png(&svg, 1.0).expect("a mark")).expect("a PNG");
            picture.pixels().iter().map(|p| f64::from(p.alpha()) / 255.0).collect::<Vec<f64>>()
        };
        for (i, one) in Mark::ALL.into_iter().enumerate() {
            for other in Mark::ALL.into_iter().skip(i + 1) {
                let (a, b) = (grey(one), grey(other));
                let differ: f64 = a.iter().zip(&b).map(|(x, y)| (x - y).abs()).sum();
                let inked: f64 = a.iter().zip(&b).map(|(x, y)| x.max(*y)).sum();
                assert!(differ / inked > 0.1, "{one:?} and {other:?} differ in {:.3}", differ / inked);
            }
        }
    }
}
