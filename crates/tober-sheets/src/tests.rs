//! The pack as it is laid out: what stands on it, that it stays on its pages, and that it is the same twice.

mod beside;
mod cards;
mod marks;
mod overflow;
mod snapshots;

use super::*;
use crate::sheets::Given;
use std::collections::BTreeSet;
use tober_book::{
    Crew, Kit, Pitch, Ride, Source, Visit, parse_crew, parse_kit, parse_pitch, parse_ride, parse_visit,
};
use tober_calc::finding::{Finding, Standing, Subject};
use tober_plan::{Books, EveryOrder, Plan, every_order, plan};
use tober_quantity::UnitSet;

/// The books of a visit of the demo.
struct Shelf {
    ride: Ride,
    kit: Kit,
    pitch: Pitch,
    visit: Visit,
    crew: Crew,
}

macro_rules! shelf {
    ($ride:literal, $visit:literal) => {{
        macro_rules! text {
            ($file:literal) => {
                include_str!(concat!("../../../demo/", $ride, "/", $file))
            };
        }
        Shelf {
            ride: parse_ride(&Source::new("ride.toml", text!("ride.toml"))).value.expect("the demo is right"),
            kit: parse_kit(&Source::new("kit.toml", text!("kit.toml"))).value.expect("the demo is right"),
            crew: parse_crew(&Source::new("crew.toml", text!("crew.toml"))).value.expect("the demo is right"),
            pitch: parse_pitch(&Source::new(
                "pitch.toml",
                include_str!(concat!("../../../demo/", $ride, "/", $visit, "/pitch.toml")),
            ))
            .value
            .expect("the demo is right"),
            visit: parse_visit(&Source::new(
                "visit.toml",
                include_str!(concat!("../../../demo/", $ride, "/", $visit, "/visit.toml")),
            ))
            .value
            .expect("the demo is right"),
        }
    }};
}

fn lantern() -> Shelf {
    shelf!("lantern", "plover-hard")
}

fn osier() -> Shelf {
    shelf!("osier", "kestrel-yard")
}

impl Shelf {
    fn planned(&self) -> (Plan, EveryOrder) {
        let books = Books { ride: &self.ride, kit: &self.kit, pitch: &self.pitch, visit: &self.visit };
        (plan(books), every_order(&self.ride, &self.visit).expect("the demo has steps"))
    }
    fn given<'a>(&'a self, plan: &'a Plan, every: &'a EveryOrder) -> Given<'a> {
        Given {
            plan,
            every: Some(every),
            lifts: &[],
            ride: &self.ride,
            kit: &self.kit,
            pitch: &self.pitch,
            visit: &self.visit,
            crew: Some(&self.crew),
        }
    }
}

/// The pages of a pack with all text of each, in the order in which it stands; the first line of trouble, if any.
fn texts(given: &Given<'_>, ask: &Ask) -> Vec<String> {
    let (files, ..) = files_of(given, ask).expect("it can be made");
    let pages = press::pages(files).expect("it can be set");
    let over = measure::overflows(&pages);
    assert!(
        over.is_empty(),
        "{} things are out of place, first {:?}",
        over.len(),
        &over[..over.len().min(3)]
    );
    let text = |frame: &typst::layout::Frame, foot: bool| {
        let mut all = String::new();
        measure::walk(frame, typst::layout::Transform::identity(), &mut |text, from, _| {
            let drawn = text == measure::LINE || text == measure::DRAWING;
            if !drawn && measure::in_the_foot(from, frame.size()) == foot {
                all.push_str(text);
                all.push(' ');
            }
        });
        // Spaces at the ends of lines, and places where a long word may part, are the typesetter's.
        all.replace('\u{200b}', "").split_whitespace().collect::<Vec<_>>().join(" ")
    };
    // All feet first, so that what runs over the end of a page stands together.
    let mut all: Vec<String> = pages.pages().iter().map(|page| text(&page.frame, false)).collect();
    let feet: Vec<String> = pages.pages().iter().map(|page| text(&page.frame, true)).collect();
    if let Some(first) = all.first_mut() {
        *first = format!("{} {first}", feet.join(" "));
    }
    all
}

fn only(kind: SheetKind) -> Ask {
    Ask { only: Some(kind), ..Ask::default() }
}

/// Without spaces, which stand where lines end.
fn tight(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

#[test]
fn law_the_same_plan_gives_the_same_bytes_and_another_reader_others() {
    let shelf = osier();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let one = pack(&given, &only(SheetKind::OnePage)).expect("it prints");
    let again = pack(&given, &only(SheetKind::OnePage)).expect("it prints");
    assert_eq!(one.pdf, again.pdf);
    assert_eq!(one.pages, 1, "the one page is one page");
    let letter = Ask { paper: Paper::Letter, ..only(SheetKind::OnePage) };
    assert_ne!(one.pdf, pack(&given, &letter).expect("it prints").pdf);
}

#[test]
fn hand_the_one_page_says_hole_stack_hold_points_wind_and_verdict() {
    let shelf = lantern();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let pages = texts(&given, &only(SheetKind::OnePage));
    assert_eq!(pages.len(), 1, "it is one page");
    let page = tight(&pages[0]);
    for leg in &plan.legs {
        for said in [leg.name.clone(), say::setting(leg, plan.units), say::boards(leg)] {
            assert!(page.contains(&tight(&said)), "{said} of {}", leg.name);
        }
    }
    for point in &every.hold_points {
        let step = shelf.ride.step(&point.step).expect("it is a step of the book");
        if step.phase <= tober_book::Phase::Open {
            assert!(page.contains(&tight(&point.looks_at)), "{}", point.looks_at);
        }
    }
    assert!(page.contains("33mph"), "15 m/s is 33.55 mph, and a limit is rounded down");
    assert!(page.contains(&tight(plan.standing.word())));
    assert!(page.contains(&format!("plan{}", plan.name)) && page.contains("page1of1"), "the foot names it");
    assert!(page.contains("Invented:fortryingoutonly."));
}

#[test]
fn law_every_finding_stands_on_the_working_with_its_figure_and_every_line() {
    let shelf = lantern();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let all = tight(&texts(&given, &only(SheetKind::Working)).join(" "));
    let letters = say::Letters::of_fonts();
    let mut lines = 0;
    for finding in given.findings() {
        assert!(
            all.contains(&tight(&letters.printable(&finding.title)).replace('\u{200b}', "")),
            "{}",
            finding.title
        );
        assert!(all.contains(&tight(&finding.figure(plan.units))));
        for line in finding.working.print(plan.units) {
            lines += 1;
            let said = letters.printable(&format!("{} = {}", line.numbers, line.result));
            let said = if line.numbers.is_empty() { letters.printable(&line.result) } else { said };
            assert!(all.contains(&tight(&said).replace('\u{200b}', "")), "{said}");
        }
    }
    assert!(lines > 100, "{lines} lines of working");
}

#[test]
fn law_no_letter_of_the_demo_is_missing_from_the_fonts() {
    let letters = say::Letters::of_fonts();
    for shelf in [lantern(), osier()] {
        let (plan, every) = shelf.planned();
        let given = shelf.given(&plan, &every);
        for kind in SheetKind::ALL {
            let made = sheets::make(kind, &given, &Ask::default(), &Rc::default()).expect("it is made");
            let mut pictures = Pictures::default();
            let data: Vec<Value> = made.blocks.iter().map(|block| block.json(&mut pictures)).collect();
            let text = json!(data).to_string() + &pictures.0.join("");
            let lost: BTreeSet<char> = text
                .chars()
                .filter(|c| !c.is_ascii() && letters.printable(&c.to_string()).contains('\u{fffd}'))
                .collect();
            assert_eq!(lost, BTreeSet::new(), "{} of {}", kind.name(), plan.ride);
        }
    }
}

#[test]
fn law_every_unit_set_word_set_paper_and_reader_stays_on_its_pages() {
    let shelf = osier();
    let (mut plan, every) = shelf.planned();
    for (units, words, paper, reader) in [
        (UnitSet::Metric, WordSet::Gb, Paper::A4, Reader::Chief),
        (UnitSet::Gb, WordSet::Gb, Paper::Letter, Reader::Hand),
        (UnitSet::Us, WordSet::Us, Paper::Letter, Reader::Operator),
        (UnitSet::Us, WordSet::Us, Paper::A4, Reader::Attendant),
        (UnitSet::Metric, WordSet::Us, Paper::A4, Reader::Inspector),
        (UnitSet::Gb, WordSet::Gb, Paper::A4, Reader::Engineer),
    ] {
        (plan.units, plan.words) = (units, words);
        let given = shelf.given(&plan, &every);
        let ask = Ask { reader: Some(reader), paper, ..Ask::default() };
        let mut all = tight(&texts(&given, &ask).join(" "));
        if words == WordSet::Us {
            // What the maker wrote stays as it was written.
            for instruction in shelf.ride.steps.iter().filter_map(|step| step.instruction.as_ref()) {
                all = all.replace(&tight(instruction), "");
            }
            assert!(!all.contains("R-clip") && !all.contains("thechief"), "words of the other side");
        }
    }
}

/// Names of no sense, longer than any column.
fn long(name: &str, at: usize) -> String {
    format!("{name} {at} {}", "Llanfairlongwithoutanyspace".repeat(3))
}

#[test]
fn law_long_names_and_24_legs_stand_on_their_pages() {
    let mut shelf = lantern();
    let (mut plan, every) = shelf.planned();
    let one = plan.legs[0].clone();
    plan.legs = (1..=24)
        .map(|at| {
            let mut leg = one.clone();
            (leg.name, leg.short, leg.order) = (long("leg", at), format!("L{at}"), at);
            let layer = leg.layers.first().cloned();
            leg.layers = layer.into_iter().cycle().take(4).collect();
            for layer in &mut leg.layers {
                layer.board = long("board", at);
            }
            leg
        })
        .collect();
    (plan.ride, plan.pitch, plan.visit) = (long("ride", 1), long("pitch", 1), long("visit", 1));
    plan.findings.push(Finding::not_known(
        "test",
        Subject::Ride,
        &long("title", 1),
        &long("missing", 1).repeat(40),
    ));
    for person in &mut shelf.crew.people {
        person.taught = vec![long("ride", 2)];
    }
    for check in &mut shelf.ride.checks {
        check.item = long("check", 1);
    }
    let given = shelf.given(&plan, &every);
    let all = tight(&texts(&given, &Ask::default()).join(" "));
    for leg in &plan.legs {
        assert!(all.contains(&tight(&leg.name)), "{}", leg.name);
    }
}

#[test]
fn law_300_steps_stand_on_their_pages_and_every_blank_has_a_number_of_its_own() {
    let mut shelf = lantern();
    let (plan, mut every) = shelf.planned();
    let steps = shelf.ride.steps.clone();
    shelf.ride.steps = (0..300)
        .map(|at| {
            let mut step = steps[at % steps.len()].clone();
            step.name = format!("step {at}");
            step.title = if at % 7 == 0 { long("title", at) } else { format!("Title {at}") };
            if at % 11 == 0 {
                step.instruction = Some(long("instruction", at).repeat(30));
            }
            step
        })
        .collect();
    every.people = shelf.ride.steps.iter().map(|step| (step.name.clone(), step.people)).collect();
    let given = shelf.given(&plan, &every);
    let mut numbers = BTreeSet::new();
    let shared = Rc::default();
    for kind in [SheetKind::Steps, SheetKind::PullDown, SheetKind::Night, SheetKind::Lifts, SheetKind::People]
    {
        let all = tight(&texts(&given, &only(kind)).join(" "));
        let made = sheets::make(kind, &given, &Ask::default(), &shared).expect("it is made");
        for blank in made.blanks {
            assert!(all.contains(&blank.number), "blank {} stands on its sheet", blank.number);
            assert!(numbers.insert(blank.number.clone()), "blank {} is there twice", blank.number);
        }
    }
    assert!(numbers.len() > 300, "{} blanks", numbers.len());
}

#[test]
fn law_a_blank_has_the_same_number_whoever_the_pack_is_for() {
    let shelf = osier();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let (_, _, all) = files_of(&given, &Ask::default()).expect("it is made");
    let ask = Ask { reader: Some(Reader::Inspector), ..Ask::default() };
    let (_, kinds, some) = files_of(&given, &ask).expect("it is made");
    assert!(kinds.len() < SheetKind::ALL.len() && !some.is_empty());
    for blank in &some {
        assert!(all.contains(blank), "{blank:?}");
    }
}

#[test]
fn law_verdicts_stand_worst_first_and_past_limit_is_never_below_not_known() {
    let shelf = osier();
    let (mut plan, every) = shelf.planned();
    plan.findings.clear();
    plan.findings.push(Finding::statement("test", Subject::Frame, "good thing", true));
    plan.findings.push(Finding::not_known("test", Subject::Frame, "unknown thing", "what it is"));
    plan.findings.push(Finding::statement("test", Subject::Frame, "bad thing", false));
    let mut every = every;
    every.findings.clear();
    every.riders_off = None;
    let given = shelf.given(&plan, &every);
    let page = texts(&given, &only(SheetKind::Loads)).join(" ");
    let at = |said: &str| page.find(said).unwrap_or_else(|| panic!("{said} in {page}"));
    assert!(at("1 past the limit, 1 not known") < at("bad thing"));
    assert!(at("bad thing") < at("unknown thing"));
    assert!(!page.contains("good thing"), "what is inside stands in the working");
}

#[test]
fn law_every_drawing_has_its_words() {
    let shelf = lantern();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let mut drawings = 0;
    for kind in [SheetKind::Ground, SheetKind::Legs] {
        let made = sheets::make(kind, &given, &Ask::default(), &Rc::default()).expect("it is made");
        let json = json!(made.blocks.iter().map(|b| b.json(&mut Pictures::default())).collect::<Vec<_>>());
        each_picture(&json, &mut |picture| {
            drawings += 1;
            let alt = picture["alt"].as_str().expect("it has words");
            assert!(alt.len() > 30 && !alt.contains('<') && !alt.contains('&'), "{alt}");
        });
    }
    assert_eq!(drawings, 3 + plan.legs.len());
}

fn each_picture(value: &Value, seen: &mut impl FnMut(&Value)) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| each_picture(item, seen)),
        Value::Object(items) if items.get("is").is_some_and(|is| is == "picture") => seen(value),
        Value::Object(items) => items.values().for_each(|item| each_picture(item, seen)),
        _ => {}
    }
}

#[test]
fn law_a_code_holds_the_address_of_its_sheet() {
    let shelf = osier();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let at = "http://van.local:8080/kestrel-yard".to_owned();
    let ask = Ask { at: Some(at.clone()), ..only(SheetKind::Legs) };
    let (files, ..) = files_of(&given, &ask).expect("it is made");
    let wanted = tober_log::qr::svg(&format!("{at}#stacks"), "Leg by leg").expect("it fits").into_bytes();
    assert!(files.values().any(|file| *file == wanted), "the code of the sheet is there");
    let ask = Ask { at: Some("a".repeat(200)), ..only(SheetKind::Legs) };
    let refused = pack(&given, &ask).expect_err("it is too long");
    assert_eq!(refused, SheetsError::Address { letters: 207, most: 120 });
}

#[test]
fn refuse_a_sheet_with_nothing_on_it() {
    let mut shelf = osier();
    shelf.ride.stopped = None;
    let (plan, every) = shelf.planned();
    let refused =
        pack(&shelf.given(&plan, &every), &only(SheetKind::RidersOff)).expect_err("it would be empty");
    assert!(refused.to_string().contains("`[stopped]`"), "{refused}");
    assert!("riders".parse::<SheetKind>().is_err_and(|e| e.to_string().contains("riders-off")));
}

#[test]
fn hand_the_calendar_has_hold_points_and_due_checks_and_folds_long_lines() {
    let shelf = lantern();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let calendar = calendar(&given).expect("the visit has a first day");
    assert!(calendar.lines().all(|line| line.len() <= 75), "RFC 5545: at most 75 bytes a line");
    assert!(calendar.split("\r\n").all(|line| !line.contains('\n')));
    let flat = calendar.replace("\r\n ", "");
    assert_eq!(flat.matches("BEGIN:VEVENT").count(), flat.matches("END:VEVENT").count());
    assert!(flat.contains("SUMMARY:Hold point\\, step ") && flat.contains("Count the arms"), "{flat}");
    assert!(flat.contains("RRULE:FREQ=DAILY;UNTIL=2031"), "{flat}");
    let mut never = shelf.visit.clone();
    never.about.from = None;
    assert_eq!(super::calendar(&Given { visit: &never, ..given }), None);
}

#[test]
fn hand_tables_for_a_spreadsheet_have_a_row_for_each() {
    let shelf = lantern();
    let (mut plan, every) = shelf.planned();
    plan.legs[0].name = "=1+1, \"quoted\"".to_owned();
    let table = packing_csv(&plan);
    assert_eq!(table.lines().count(), 1 + plan.legs.len());
    assert!(table.contains(",\"'=1+1, \"\"quoted\"\"\","), "{table}");
    let given = shelf.given(&plan, &every);
    assert_eq!(pins_csv(&given).lines().count(), 1 + every.homes.len());
    assert!(plan.standing != Standing::NotKnown, "the demo is known");
}

#[test]
fn law_the_file_says_that_it_keeps_to_pdf_a_and_pdf_ua_and_names_itself() {
    let shelf = osier();
    let (plan, every) = shelf.planned();
    let pdf = pack(&shelf.given(&plan, &every), &only(SheetKind::RidersOff)).expect("it prints").pdf;
    let has = |text: &str| pdf.windows(text.len()).any(|bytes| bytes == text.as_bytes());
    // ISO 19005-2:2011, 6.6.4 and ISO 14289-1:2014, clause 5: what the metadata, which is never packed, must say.
    for said in [
        "<pdfaid:part>2</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
    ] {
        assert!(has(said), "{said}");
    }
    assert!(has(&format!("{} on {}: Getting riders off", plan.ride, plan.pitch)), "its title");
    let day = shelf.visit.about.from.expect("the demo has a first day");
    assert!(
        has(&format!("<xmp:ModifyDate>{day}T00:00:00")),
        "it knows no clock but the first day of the visit"
    );
    let mut never = shelf.visit.clone();
    never.about.from = None;
    let given = Given { visit: &never, ..shelf.given(&plan, &every) };
    assert!(pack(&given, &only(SheetKind::RidersOff)).is_ok(), "a visit without dates prints");
}
