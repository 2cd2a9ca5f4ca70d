//! The files beside a PDF, read by others: a reader of calendars, a reader of tables.

use super::*;
use ical::property::Property;

/// A text with everything that a calendar or a table must write otherwise, and letters of more bytes than one.
const HARD: &str = "a, b; c\\d \"e\"\nnächste Zeile; öäüß Żółć \u{202f}ok";

fn events(calendar: &str) -> Vec<Vec<Property>> {
    let mut read = ical::IcalParser::new(calendar.as_bytes());
    let one = read.next().expect("there is a calendar").expect("it is one");
    assert!(read.next().is_none(), "there is one only");
    for (name, wanted) in [("VERSION", "2.0"), ("CALSCALE", "GREGORIAN")] {
        let found: Vec<&Property> = one.properties.iter().filter(|p| p.name == name).collect();
        assert_eq!(found.len(), 1, "{name} stands once (section 3.6)");
        assert_eq!(found[0].value.as_deref(), Some(wanted));
    }
    assert_eq!(one.properties.iter().filter(|p| p.name == "PRODID").count(), 1, "section 3.7.3");
    one.events.into_iter().map(|event| event.properties).collect()
}

fn value<'a>(event: &'a [Property], name: &str) -> &'a str {
    let found: Vec<&Property> = event.iter().filter(|p| p.name == name).collect();
    assert_eq!(found.len(), 1, "{name} stands once in an event (section 3.6.1)");
    found[0].value.as_deref().expect("it has a value")
}

/// A text as it was before it was escaped (section 3.3.11).
fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut letters = text.chars();
    while let Some(letter) = letters.next() {
        if letter == '\\' {
            match letters.next().expect("something follows") {
                'n' | 'N' => out.push('\n'),
                escaped @ ('\\' | ';' | ',') => out.push(escaped),
                other => panic!("\\{other} is nothing"),
            }
        } else {
            assert!(!matches!(letter, ',' | ';'), "{letter} must be escaped in {text}");
            out.push(letter);
        }
    }
    out
}

#[test]
fn truth_the_calendar_keeps_to_rfc_5545_and_another_reader_reads_it() {
    // RFC 5545 (2009), sections 3.1, 3.3.4, 3.3.5, 3.3.10, 3.3.11, 3.6.1, 3.8.4.7, 3.8.7.2.
    for mut shelf in [lantern(), osier()] {
        for step in &mut shelf.ride.steps {
            step.title = format!("{} {HARD}", step.title);
        }
        shelf.ride.checks[0].item = HARD.repeat(4);
        let (mut plan, every) = shelf.planned();
        plan.pitch = format!("{} {HARD}", plan.pitch);
        let given = shelf.given(&plan, &every);
        let text = calendar(&given).expect("the visit has a first day");
        assert!(text.ends_with("\r\n"), "every line has its end");
        for line in text.split_terminator("\r\n") {
            assert!(line.len() <= 75, "{} bytes: {line}", line.len());
            assert!(!line.is_empty() && !line.contains(['\r', '\n']), "{line:?}");
        }
        let first = shelf.visit.about.from.expect("it has one").to_string().replace('-', "");
        let mut identities = BTreeSet::new();
        let mut titles = Vec::new();
        let all = events(&text);
        for event in &all {
            assert!(identities.insert(value(event, "UID").to_owned()), "{} twice", value(event, "UID"));
            assert!(value(event, "UID").is_ascii());
            assert_eq!(value(event, "DTSTAMP"), format!("{first}T000000Z"), "a date with time, UTC");
            assert_eq!(value(event, "DTSTART"), first);
            let start = event.iter().find(|p| p.name == "DTSTART").expect("it is there");
            assert_eq!(start.params, Some(vec![("VALUE".to_owned(), vec!["DATE".to_owned()])]));
            if let Some(rule) = event.iter().find(|p| p.name == "RRULE") {
                let rule = rule.value.as_deref().expect("it has a value");
                let until = rule.split_once(";UNTIL=").expect("it ends").1;
                assert!(rule.starts_with("FREQ=DAILY") || rule.starts_with("FREQ=WEEKLY"), "{rule}");
                assert!(until.len() == 8 && until >= first.as_str(), "a date as DTSTART is: {rule}");
            }
            titles.push(plain(value(event, "SUMMARY")));
            plain(value(event, "DESCRIPTION"));
        }
        let points = every.hold_points.iter().filter(|point| {
            let step = shelf.ride.step(&point.step).expect("it is a step of the book");
            step.phase <= tober_book::Phase::Prove
        });
        for point in points {
            let step = shelf.ride.step(&point.step).expect("it is a step of the book");
            assert!(titles.iter().any(|title| title.ends_with(&step.title)), "{} in {titles:?}", step.title);
        }
        let check = &shelf.ride.checks[0];
        assert!(titles.iter().any(|title| title.ends_with(&check.item)), "{}", check.item);
        // Another reading gives another plan, and the same entries.
        plan.name = "another".to_owned();
        let again = calendar(&shelf.given(&plan, &every)).expect("the visit has a first day");
        let same: BTreeSet<String> =
            events(&again).iter().map(|event| value(event, "UID").to_owned()).collect();
        assert_eq!(same, identities);
    }
}

#[test]
fn truth_tables_keep_to_rfc_4180_and_another_reader_reads_them() {
    // RFC 4180 (2005), section 2: lines end with CRLF, as many fields in each, quotes doubled.
    let mut shelf = lantern();
    for step in &mut shelf.ride.steps {
        step.title = format!("{} {HARD}", step.title);
    }
    let (mut plan, every) = shelf.planned();
    plan.legs[0].name = HARD.to_owned();
    plan.legs[1].name = "=SUM(A1:A9)".to_owned();
    let given = shelf.given(&plan, &every);
    let blanks = pack(&given, &only(SheetKind::Steps)).expect("it prints").blanks;
    let read = |text: &str| -> Vec<Vec<String>> {
        let mut reader =
            csv::ReaderBuilder::new().has_headers(false).flexible(false).from_reader(text.as_bytes());
        let rows = reader.records().map(|row| row.expect("every row has as many fields as the first"));
        rows.map(|row| row.iter().map(str::to_owned).collect()).collect()
    };
    let packing = read(&packing_csv(&plan));
    assert_eq!(packing.len(), 1 + plan.legs.len());
    assert_eq!(packing[1][1], HARD.replace('\u{202f}', " "));
    assert_eq!(packing[2][1], "'=SUM(A1:A9)", "a spreadsheet takes it for a text");
    let pins = read(&pins_csv(&given));
    assert_eq!(pins.len(), 1 + every.homes.len());
    for (row, home) in pins[1..].iter().zip(&every.homes) {
        assert_eq!((&row[0], &row[1]), (&home.fixing, &home.home));
        assert_eq!((row[3].parse(), row[4].parse()), (Ok(home.on_the_road), Ok(home.open)));
    }
    let table = blanks_csv(&blanks, &plan.name);
    let rows = read(&table);
    assert_eq!(rows.len(), 1 + blanks.len());
    for (row, blank) in rows[1..].iter().zip(&blanks) {
        // As a number 1.10 would come back as 1.1: an apostrophe keeps it a text.
        let apostrophe = if blank.number.ends_with('0') { "'" } else { "" };
        assert_eq!(row[0], format!("{apostrophe}{}", blank.number));
        let about = blank.about.replace('\u{202f}', " ");
        assert!(row[1] == about || row[1] == format!("'{about}"), "{row:?}");
    }
    assert!(blanks.iter().any(|blank| blank.number.ends_with('0')), "one of them would be spoiled");
    for text in [packing_csv(&plan), pins_csv(&given), table] {
        assert!(text.ends_with("\r\n"));
        // A line end inside quotes is the text's own; all others are CRLF.
        let outside: String = text.split('"').step_by(2).collect();
        assert!(!outside.replace("\r\n", "").contains(['\r', '\n']), "{outside}");
    }
}
