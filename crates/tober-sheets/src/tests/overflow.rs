//! Whether everything stays in its place whatever the books say: names without end, books that say little, crews of
//! twelve; on every paper, in every unit and word set, for every reader.

use super::*;
use tober_book::{FileKind, Kind, Link, Section};
use tober_plan::LiftBooks;
use toml::{Table, Value as Toml};

/// A name without a space, longer than the longest column.
const LONG: &str = "Llanfairpwllheliaberdaronnefynporthmadogharlechbarmouthtywynborth";

/// Chance with a seed: the same every time. (Numerical Recipes' linear congruential generator, constants from memory.)
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.0 >> 33) % most as u64).expect("it is below `most`")
    }
}

/// The text of a visit's five files: ride, kit, crew, pitch, visit.
const FILES: [FileKind; 5] =
    [FileKind::Ride, FileKind::Kit, FileKind::Crew, FileKind::Pitch, FileKind::Visit];

macro_rules! texts_of {
    ($ride:literal, $visit:literal) => {
        [
            include_str!(concat!("../../../../demo/", $ride, "/ride.toml")),
            include_str!(concat!("../../../../demo/", $ride, "/kit.toml")),
            include_str!(concat!("../../../../demo/", $ride, "/crew.toml")),
            include_str!(concat!("../../../../demo/", $ride, "/", $visit, "/pitch.toml")),
            include_str!(concat!("../../../../demo/", $ride, "/", $visit, "/visit.toml")),
        ]
    };
}

/// Every visit of the demo; the last two without the tables of what was read, which are files of their own.
const VISITS: [[&str; 5]; 4] = [
    texts_of!("lantern", "plover-hard"),
    texts_of!("osier", "kestrel-yard"),
    texts_of!("lantern", "quern-meadow"),
    texts_of!("osier", "sallow-green"),
];

fn tables(texts: [&str; 5]) -> [Table; 5] {
    texts.map(|text| text.parse().expect("the demo is TOML"))
}

/// Goes through every text of a file that may be any, by what the file may say.
fn each_text(
    table: &mut Table,
    section: &'static Section,
    change: &mut impl FnMut(&'static tober_book::Key, &mut String),
) {
    for key in section.keys {
        if let Some(value) = table.get_mut(key.name) {
            texts_in(value, key, &key.kind, change);
        }
    }
}

fn texts_in(
    value: &mut Toml,
    key: &'static tober_book::Key,
    kind: &'static Kind,
    change: &mut impl FnMut(&'static tober_book::Key, &mut String),
) {
    match (kind, value) {
        (Kind::Text, Toml::String(text)) => change(key, text),
        (Kind::List(inner) | Kind::Repeated(inner), Toml::Array(items)) => {
            items.iter_mut().for_each(|item| texts_in(item, key, inner, change));
        }
        (Kind::Repeated(inner), value) => texts_in(value, key, inner, change),
        (Kind::Table(section), Toml::Table(table)) => each_text(table, section, change),
        (Kind::Variants { tag, variants }, Toml::Table(table)) => {
            let word = table.get(*tag).and_then(Toml::as_str).map(str::to_owned);
            for variant in variants.iter().filter(|variant| word.as_deref() == Some(variant.word)) {
                each_text(table, variant.section, change);
            }
        }
        _ => {}
    }
}

/// A visit that was read from texts; `None` with what is wrong, where they do not agree any more.
fn shelf(tables: &[Table; 5]) -> Result<Shelf, String> {
    let texts: Vec<String> = tables.iter().map(ToString::to_string).collect();
    let wrong = |found: &[tober_book::Diagnostic]| {
        found.iter().map(|one| one.message.clone()).take(3).collect::<Vec<_>>().join("; ")
    };
    macro_rules! read {
        ($parse:ident, $at:literal) => {{
            let parsed = $parse(&Source::new(FILES[$at].file_name(), &texts[$at]));
            parsed.value.ok_or_else(|| wrong(&parsed.diagnostics))?
        }};
    }
    let shelf = Shelf {
        ride: read!(parse_ride, 0),
        kit: read!(parse_kit, 1),
        crew: read!(parse_crew, 2),
        pitch: read!(parse_pitch, 3),
        visit: read!(parse_visit, 4),
    };
    Ok(shelf)
}

/// Prints a visit as the command does and says what is out of its place.
fn out_of_place(shelf: &Shelf, crew: Option<&Crew>, change: impl Fn(&mut Plan), ask: &Ask) -> (Pack, String) {
    let books = Books { ride: &shelf.ride, kit: &shelf.kit, pitch: &shelf.pitch, visit: &shelf.visit };
    let mut plan = plan(books);
    change(&mut plan);
    let every = every_order(&shelf.ride, &shelf.visit);
    let lifts = tober_plan::lifts(LiftBooks {
        ride: &shelf.ride,
        kit: Some(&shelf.kit),
        pitch: Some(&shelf.pitch),
        visit: Some(&shelf.visit),
    });
    let given = Given {
        plan: &plan,
        every: every.as_ref(),
        lifts: &lifts,
        ride: &shelf.ride,
        kit: &shelf.kit,
        pitch: &shelf.pitch,
        visit: &shelf.visit,
        crew,
    };
    let pack = pack(&given, ask).expect("it prints");
    let said = pack.out_of_place.iter().take(4).cloned().collect::<Vec<_>>().join("\n");
    (pack, said)
}

const UNITS: [UnitSet; 3] = [UnitSet::Metric, UnitSet::Gb, UnitSet::Us];
const WORDS: [WordSet; 2] = [WordSet::Gb, WordSet::Us];
const PAPERS: [Paper; 2] = [Paper::A4, Paper::Letter];

/// Every choice of paper, units and words.
fn choices() -> impl Iterator<Item = (Paper, UnitSet, WordSet)> + Clone {
    PAPERS.into_iter().flat_map(|paper| {
        UNITS.into_iter().flat_map(move |units| WORDS.into_iter().map(move |words| (paper, units, words)))
    })
}

#[test]
fn law_every_text_of_every_book_may_be_a_long_word() {
    let mut complaints = Vec::new();
    // Every other choice: each paper meets each set of units, and each set of words.
    for (at, (paper, units, words)) in
        choices().enumerate().filter(|(at, _)| [0, 3, 4, 7, 8, 11].contains(at))
    {
        let mut tables = tables(VISITS[at % VISITS.len()]);
        let mut dice = Dice(at as u64);
        let more = 1 + dice.below(2);
        // The same text becomes the same everywhere, so that what refers to it still does.
        let mut free = BTreeSet::new();
        for (table, file) in tables.iter_mut().zip(FILES) {
            each_text(table, file.section(), &mut |key, text| {
                if is_free(key, text) {
                    free.insert(text.clone());
                }
            });
        }
        let mut longer = 0;
        for (table, file) in tables.iter_mut().zip(FILES) {
            each_text(table, file.section(), &mut |_, text| {
                if free.contains(text) {
                    *text = format!("{text}{}", LONG.repeat(more));
                    longer += 1;
                }
            });
        }
        assert!(longer > 300, "{longer} texts are long");
        let shelf = shelf(&tables).unwrap_or_else(|wrong| panic!("visit {at}: {wrong}"));
        let ask = Ask { paper, at: Some("http://van.invalid/x".to_owned()), ..Ask::default() };
        let (pack, said) =
            out_of_place(&shelf, Some(&shelf.crew), |plan| (plan.units, plan.words) = (units, words), &ask);
        if !said.is_empty() {
            complaints.push(format!("visit {at}, {paper:?}, {units:?}, {words:?}:\n{said}"));
        }
        assert!(pack.pages > 20, "{} pages", pack.pages);
    }
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
}

/// Whether a text may be any: two letters stand for a person, and some names are words that the program knows.
fn is_free(key: &tober_book::Key, text: &str) -> bool {
    const KNOWN: [&str; 4] = ["every foot", "everything", "frame", "road"];
    let tag = text.chars().count() == 2;
    let said =
        matches!(key.name, "title" | "instruction" | "maker" | "manual" | "invented" | "where" | "with");
    !KNOWN.contains(&text) && !tag && (said || key.link != Link::None || key.name == "name")
}

/// Takes optional keys away, one of so many.
fn thinned(table: &mut Table, section: &'static Section, dice: &mut Dice, one_of: usize) {
    for key in section.keys {
        if !key.required && !matches!(key.link, Link::Defines(_)) && dice.below(one_of) == 0 {
            table.remove(key.name);
        }
        let Some(value) = table.get_mut(key.name) else { continue };
        let inner = if let Kind::List(inner) = &key.kind { inner } else { &key.kind };
        let Kind::Table(section) = inner else { continue };
        match value {
            Toml::Table(table) => thinned(table, section, dice, one_of),
            Toml::Array(items) => {
                let tables = items.iter_mut().filter_map(Toml::as_table_mut);
                tables.for_each(|table| thinned(table, section, dice, one_of));
            }
            _ => {}
        }
    }
}

/// How many visits are tried that say less by chance.
const SEEDS: u64 = 8;
/// How often something is taken from each.
const TRIES: usize = 40;
/// How many times something must have been taken in all, so that the test shows something.
const LEAST_TAKEN: usize = 50;

#[test]
fn law_books_that_say_little_print_in_their_place() {
    let mut choices = choices().cycle();
    let (mut all_taken, mut complaints) = (0, Vec::new());
    for seed in 0..SEEDS {
        let mut dice = Dice(seed);
        let mut tables = tables(VISITS[dice.below(VISITS.len())]);
        // What a file cannot be without for the sake of something else in it stays.
        let (mut shelf, mut taken) = (shelf(&tables).expect("the demo is right"), 0);
        for _ in 0..TRIES {
            let mut fewer = tables.clone();
            let at = dice.below(FILES.len());
            thinned(&mut fewer[at], FILES[at].section(), &mut dice, 300);
            if fewer[at] == tables[at] {
                continue;
            }
            if let Ok(still) = super::overflow::shelf(&fewer) {
                (shelf, tables, taken) = (still, fewer, taken + 1);
            }
        }
        all_taken += taken;
        let (paper, units, words) = choices.next().expect("it never ends");
        let reader = Some(Reader::ALL[dice.below(Reader::ALL.len())]);
        let ask = Ask { paper, reader, ..Ask::default() };
        let crew = Some(&shelf.crew).filter(|_| dice.below(2) == 0);
        let change = |plan: &mut Plan| (plan.units, plan.words) = (units, words);
        let (_, said) = out_of_place(&shelf, crew, change, &ask);
        if !said.is_empty() {
            complaints.push(format!("seed {seed}, {ask:?}:\n{said}"));
        }
    }
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
    assert!(all_taken >= LEAST_TAKEN, "only {all_taken} times something was taken");
}

#[test]
fn law_no_reading_no_picture_no_crew_and_a_crew_of_twelve_print_in_their_place() {
    let mut choices = choices().cycle().step_by(5);
    for (at, texts) in VISITS.into_iter().enumerate() {
        let mut tables = tables(texts);
        let [ride, _, crew, pitch, _] = &mut tables;
        let what = match at {
            0 => {
                for key in ["readings", "ground", "terrain", "anchor", "last-visit"] {
                    pitch.remove(key);
                }
                "nothing read"
            }
            1 => {
                for body in ride["body"].as_array_mut().expect("the ride has bodies") {
                    body.as_table_mut().expect("it is a table").remove("shape");
                }
                "no shapes"
            }
            2 => "no crew",
            _ => {
                let people = crew["person"].as_array_mut().expect("the crew has people");
                let one = people[0].clone();
                for more in people.len()..12 {
                    let mut other = one.clone();
                    let tag = format!("Z{}", char::from(b'a' + u8::try_from(more).expect("it is below 12")));
                    other.as_table_mut().expect("it is a table").insert("tag".to_owned(), Toml::String(tag));
                    people.push(other);
                }
                "a crew of twelve"
            }
        };
        let shelf = shelf(&tables).unwrap_or_else(|wrong| panic!("{what}: {wrong}"));
        let (paper, units, words) = choices.next().expect("it never ends");
        let crew = Some(&shelf.crew).filter(|_| at != 2);
        assert!(at != 3 || shelf.crew.people.len() == 12, "the crew has twelve");
        let change = |plan: &mut Plan| (plan.units, plan.words) = (units, words);
        let (pack, said) = out_of_place(&shelf, crew, change, &Ask { paper, ..Ask::default() });
        assert!(said.is_empty(), "{what}, {paper:?}, {units:?}, {words:?}:\n{said}");
        assert_eq!(pack.sheets.contains(&SheetKind::People), at != 2, "{what}");
    }
}

/// The data of the template with one sheet of these blocks.
fn made_up(blocks: &[Value]) -> Files {
    let shelf = osier();
    let (plan, every) = shelf.planned();
    let given = shelf.given(&plan, &every);
    let (mut files, ..) = files_of(&given, &only(SheetKind::Limits)).expect("it can be made");
    let mut data: Value = serde_json::from_slice(&files["pack.json"]).expect("it is JSON");
    data["sheets"][0]["blocks"] = json!(blocks);
    files.insert("pack.json".to_owned(), data.to_string().into_bytes());
    files
}

#[test]
fn refuse_what_stands_out_of_its_cell_its_frame_its_page_or_on_something_else() {
    let found = |blocks: &[Value]| {
        let pages = press::pages(made_up(blocks)).expect("it can be set");
        measure::overflows(&pages).join("\n")
    };
    let table = |text: &str, widths: [&str; 2]| {
        let cell = |text: &str| json!({"is": "plain", "text": text, "long": false});
        json!({
            "is": "table", "caption": "", "head": ["one", "other"], "widths": widths, "size": 10.5, "tight": 1.1,
            "rows": [[cell(text), cell("")], [cell("short"), cell("short")]]
        })
    };
    let text = json!({"is": "text", "text": "A line."});
    assert_eq!(found(&[text]), "");
    assert_eq!(found(&[table("A long cell that parts where it may", ["20mm", "20mm"])]), "");
    // The cell beside it is empty and nothing is printed on anything.
    let said = found(&[table(LONG, ["20mm", "60mm"])]);
    assert!(said.contains("mm out of its cell") && !said.contains("on each other"), "{said}");
    let said = found(&[table(LONG, ["150mm", "60mm"])]);
    assert!(said.contains("mm out of its place"), "{said}");
    let card = |text: &str| {
        json!({
            "is": "card", "number": "1", "title": "Card", "aside": text, "listed": false, "level": 2, "long": false,
            "of": "", "blocks": []
        })
    };
    assert_eq!(found(&[card("A line.")]), "");
    let said = found(&[card(&LONG.repeat(3))]);
    assert!(said.contains("out of its frame") || said.contains("out of its place"), "{said}");
    let said = found(&[]);
    assert!(said.contains("nothing stands on it"), "{said}");
}
