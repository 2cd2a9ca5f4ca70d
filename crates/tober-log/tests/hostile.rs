//! What was not written by us: files and codes that are spoiled, made up, too large or of another time.

mod common;

use common::{altered, chain};
use proptest::prelude::*;
use tober_log::text::{FILE_BYTES_MAX, LINE_BYTES_MAX, LINES_MAX, entry_line, open, read, write};
use tober_log::{Entry, Fields, Hlc, Log};

fn good() -> (Log, String) {
    let (log, _) = Log::gather(chain("k7q2m9-1", 3));
    let file = write("north-meadow", &log);
    (log, file)
}

/// The complaints about a file, with how many entries were kept of it.
fn said(file: &[u8]) -> (usize, Vec<String>) {
    let read = read(file);
    (read.entries.len(), read.damage.iter().map(ToString::to_string).collect())
}

/// One complaint that begins with a text, and a number of entries kept.
fn check(file: impl AsRef<[u8]>, kept: usize, begins: &str) {
    let (entries, complaints) = said(file.as_ref());
    assert!(matches!(complaints.as_slice(), [one] if one.starts_with(begins)), "{begins}\n{complaints:#?}");
    assert_eq!(entries, kept, "{begins}");
}

#[test]
fn refuse_what_is_not_a_file_of_entries() {
    check("", 0, "Line 1, column 1: The file is empty.");
    check(
        "{}\n",
        0,
        "Line 1, column 1: This is not a file of entries. One begins with a line that says \"what\":\"tober entries\".",
    );
    check("{\"what\":\"tober plan\",\"format\":0}\n", 0, "Line 1, column 2: This is not a file of entries.");
    check("[ride]\n", 0, "Line 1, column 2: The line cannot be read from here on");
    check("7\n", 0, "Line 1, column 1: The line is not an entry. An entry begins with { and ends with }.");
    check(
        vec![b' '; FILE_BYTES_MAX + 1],
        0,
        "Line 1, column 1: The file has 16777217 bytes. At most 16777216 are read.",
    );
    check(
        vec![b' '; LINE_BYTES_MAX + 1].into_iter().chain([b'\n']).collect::<Vec<u8>>(),
        0,
        "Line 1, column 1: The line has 131073 bytes.",
    );
}

#[test]
fn refuse_another_format_in_clear_words() {
    let (_, file) = good();
    let first_end = file.find('\n').expect("there is a line") + 1;
    check(
        file.replace("{\"format\":0", "{\"format\":3"),
        0,
        "Line 1, column 2: The file is of format 3. This version reads format 0: open the file with a newer Tober.",
    );
    check(
        file.replace("{\"format\":0", "{\"format\":-0.5"),
        3,
        "Line 1, column 2: The number of the format cannot be read. It must be 0.",
    );
    check(
        file.replace("\"what\":\"tober entries\"", "\"what\":\"tober entrees\""),
        3,
        "Line 1, column 13: The file says it is \"tober entrees\".",
    );
    check(
        file.replace("north-meadow", "south-meadow"),
        3,
        &format!(
            "Line 1, column {}: The first line was changed",
            file[..first_end].rfind("\"hash\"").expect("it is there") + 1
        ),
    );
    check(
        &file[first_end..],
        3,
        "Line 1, column 1 (k7q2m9-1:1): The first line is missing: this one is an entry.",
    );
}

#[test]
fn refuse_spoiled_lines_by_line_and_column_and_keep_the_good_ones() {
    let (log, file) = good();
    let second = entry_line(&log.entries()[1]);
    let spoil = |from: &str, to: &str| file.replace(&second, &second.replacen(from, to, 1));
    let column = |text: &str| second.find(text).expect("it is there") + 1;
    let at = |text: &str| format!("Line 3, column {} (k7q2m9-1:2): ", column(text));
    check(spoil("\"seq\":2", "\"seq\":NaN"), 2, "Line 3, column 28: The line cannot be read from here on");
    check(
        spoil("\"c\":0", "\"c\":-0"),
        2,
        &format!("{}The value of \"c\" must be a whole number from 0.", at("\"c\"")),
    );
    check(
        spoil("\"c\":0", "\"c\":4294967296"),
        2,
        &format!("{}The value of \"c\" must be below 2^32.", at("\"c\"")),
    );
    check(spoil("\"c\":0", "\"c\":1e400"), 2, "Line 3, column ");
    check(spoil("\"c\":0", "\"c\":0.0"), 2, &format!("{}The value of \"c\"", at("\"c\"")));
    check(
        spoil("\"role\":\"chief\"", "\"role\":[\"chief\"]"),
        2,
        &format!("{}The value of \"role\" must be a text.", at("\"role\"")),
    );
    check(
        spoil("\"role\":\"chief\"", "\"role\":\"\""),
        2,
        "Line 3, column 1 (k7q2m9-1:2): The role is \"\". It must be 1 to 40 bytes",
    );
    check(
        spoil("\"role\"", "\"rolle\""),
        2,
        &format!("{}The key \"rolle\" does not belong in an entry.", at("\"role\"")),
    );
    check(
        spoil("\"role\":\"chief\",", ""),
        2,
        "Line 3, column 1 (k7q2m9-1:2): The key \"role\" is missing from the entry.",
    );
    check(spoil("\"role\":\"chief\"", "\"role\":\"hand\""), 2, "Line 3, column ");
    check(
        spoil("\"replaces\":[]", "\"replaces\":[\"k7q2m9-1:2\"]"),
        2,
        "Line 3, column 1 (k7q2m9-1:2): The entry replaced is \"k7q2m9-1:2\". It must be one before this entry.",
    );
    check(
        spoil("\"replaces\":[]", "\"replaces\":[7]"),
        2,
        &format!("{}The name of an entry is \"\".", at("\"replaces\"")),
    );
    check(spoil("\"sig\":null", "\"sig\":\"0g\""), 2, &format!("{}The value of \"sig\"", at("\"sig\"")));
    check(
        spoil("\"sig\":null", &format!("\"sig\":\"{}\"", "00".repeat(65))),
        2,
        "Line 3, column 1 (k7q2m9-1:2): The length of the signature is \"65\".",
    );
    let prev = log.entries()[1].prev.expect("it follows one").to_string();
    check(spoil(&prev, &prev[1..]), 2, &at("\"prev\""));
    check(spoil(&prev, &prev.to_uppercase()), 2, &at("\"prev\""));
    check(
        spoil(&prev, ""),
        2,
        "Line 3, column 1 (k7q2m9-1:2): Prev is \"\". It must be the hash of the entry before it.",
    );
    check(spoil("\"value\":\"", "\"value\":\"\\ud800"), 2, "Line 3, column ");
    check(
        file.replace(&second, &second[..second.len() - 30]),
        2,
        &format!("Line 3, column {} (k7q2m9-1:2): The line ends too early", second.len() - 30),
    );
    check(file.replace(&second, ""), 2, "Line 3, column 1: The line is empty.");
    check(
        file.replace(&second, &"[".repeat(100_000)),
        2,
        "Line 3, column 128: The line cannot be read from here on",
    );
    check(file.replace(&second, &format!("{{\"body\":{}", "{\"a\":".repeat(20_000))), 2, "Line 3, column ");
    let mut bytes = file.clone().into_bytes();
    let start = file.find(&second).expect("it is there");
    bytes[start + 12] = 0xff;
    check(bytes, 2, "Line 3, column 13: These bytes are not text (UTF-8): they were changed.");
    // What is known of the two keys of one name is the last; the line is not spelt as it was written.
    check(spoil("\"c\":0", "\"c\":1,\"c\":0"), 3, "Line 3, column ");
    check(file.trim_end(), 3, "Line 4, column 1: The file does not end with the end of a line");
}

#[test]
fn refuse_a_chain_that_begins_wrongly() {
    let entry = chain("k7q2m9-1", 2).remove(1);
    let with = |change: fn(&mut Fields)| {
        let mut fields: Fields = (*entry).clone();
        change(&mut fields);
        Entry::of(fields).map(|entry| entry.id()).map_err(|refused| refused.to_string())
    };
    let refused = |change: fn(&mut Fields), begins: &str| {
        let sentence = with(change).expect_err("outside its limits");
        assert!(sentence.starts_with(begins), "{sentence}");
    };
    refused(|f| f.seq = 0, "The number seq is \"0\". It must be a whole number from 1 to 2^53.");
    refused(|f| f.seq = u64::MAX, "The number seq is");
    refused(|f| f.seq = 1, "Prev of entry 1 is");
    refused(
        |f| f.device = "a:b".to_owned(),
        "The device is \"a:b\". It must be 1 to 40 letters, digits, -, _ and .",
    );
    refused(|f| f.device = String::new(), "The device is \"\".");
    refused(|f| f.hlc = Hlc { l: u64::MAX, c: 0 }, "The time l is");
    refused(
        |f| f.wall = "this morning".to_owned(),
        "The wall time is \"this morning\". It must be a time with its offset",
    );
    refused(
        |f| f.kind = "a\nb".to_owned(),
        "The kind is \"ab\". It must be 1 to 40 bytes of text on one line.",
    );
    refused(
        |f| f.person_tag = Some("x".repeat(41)),
        "The person tag is \"xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…\".",
    );
    refused(|f| f.plan_hash = Some(String::new()), "The name of the plan is");
    refused(|f| drop(f.body.insert("text".to_owned(), "x".repeat(4097))), "The body's text is");
    refused(
        |f| f.body.extend((0..70).map(|i| (i.to_string(), String::new()))),
        "The number of keys of the body is \"7",
    );
    refused(
        |f| f.body.extend((0..5).map(|i| (i.to_string(), "x".repeat(4000)))),
        "The length of the entry is",
    );
    refused(
        |f| f.replaces.extend((1..70).map(|seq| tober_log::EntryId { device: "b".to_owned(), seq }.into())),
        "The number of entries replaced is \"69\".",
    );
    let other = tober_log::next(
        Some(&entry),
        "b-1",
        Hlc::default(),
        tober_log::Now { ms: 0, offset_min: 0 },
        tober_log::Draft { role: "chief".to_owned(), kind: "note".to_owned(), ..Default::default() },
    );
    let sentence = other.expect_err("the chain of another").to_string();
    assert_eq!(sentence, "The writer of the entry before is \"k7q2m9-1\". It must be b-1, the same.");
}

#[test]
fn refuse_more_than_can_be_read() {
    let (_, file) = good();
    let many = format!("{file}{}", "\n".repeat(LINES_MAX));
    let read = read(many.as_bytes());
    assert_eq!(read.entries.len(), 3);
    assert!(read.damage.len() < 502, "{}", read.damage.len());
    let last = read.damage.last().map(ToString::to_string).unwrap_or_default();
    assert!(last.ends_with("more complaints."), "{last}");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn law_any_bytes_are_read_without_fault(bytes: Vec<u8>) {
        let opened = open(&bytes);
        prop_assert!(!opened.whole());
    }

    #[test]
    fn law_spliced_files_are_read_without_fault_and_every_entry_kept_is_a_true_one(from in 0..2000_usize, to in 0..2000_usize) {
        let (log, file) = good();
        let (head, tail) = (&file.as_bytes()[..from.min(file.len())], &file.as_bytes()[to.min(file.len())..]);
        let opened = open(&[head, tail].concat());
        prop_assert!(opened.log.entries().iter().all(|entry| log.entries().contains(entry)));
        prop_assert_eq!(opened.whole(), opened.log == log && opened.damage.is_empty());
    }
}

#[test]
fn law_what_is_kept_of_a_changed_line_is_never_the_changed_entry() {
    let (log, file) = good();
    let changed = altered(&log.entries()[1], |fields| fields.role = "owner".to_owned());
    let lied = file.replace(&entry_line(&log.entries()[1]), &entry_line(&changed));
    // The line's own hash is good; the next entry gives it away.
    let opened = open(lied.as_bytes());
    assert_eq!(opened.damage, []);
    let troubles: Vec<String> = opened.troubles.iter().map(ToString::to_string).collect();
    assert!(
        matches!(troubles.as_slice(), [one] if one.starts_with("k7q2m9-1:2 was changed, or the entry after it was")),
        "{troubles:?}"
    );
}

#[cfg(feature = "qr")]
mod codes {
    use super::*;
    use tober_log::qr::{codes, collect};

    fn parts() -> Vec<String> {
        let parts = codes("north-meadow", &chain("k7q2m9-1", 400)).expect("it fits");
        assert!(parts.len() >= 3, "{}", parts.len());
        parts
    }

    fn says(text: &str, begins: &[&str]) {
        let collected = collect(text);
        let good = collected.sentences.len() == begins.len()
            && collected.sentences.iter().zip(begins).all(|(one, begin)| one.starts_with(begin));
        assert!(good, "{:#?}", collected.sentences);
        assert!(collected.entries.is_empty() == collected.visit.is_none());
    }

    #[test]
    fn refuse_what_is_no_code_or_not_all_of_them() {
        let parts = parts();
        let count = parts.len();
        says("", &["There is no code in this text. Each one begins with TOBER0/."]);
        says("https://example.invalid/TOBER", &["There is no code in this text."]);
        says("TOBER7/1/1/01234567/ABC", &["This code is of format 7. This version reads format 0"]);
        says("TOBER0/1/1", &["A code is cut short after \"TOBER0/1/1\". Read it again."]);
        for odd in [
            "TOBER0/0/1/01234567/A",
            "TOBER0/2/1/01234567/A",
            "TOBER0/1/100/01234567/A",
            "TOBER0/1/1/0123456G/A",
            "TOBER0/01/1/01234567/A",
            "TOBER0/-1/1/01234567/A",
        ] {
            says(odd, &["A code says it is part "]);
        }
        says(&parts[1], &[&format!("1 of {count} is here. Parts 1")]);
        let without_second: String =
            parts.iter().enumerate().filter(|(i, _)| *i != 1).map(|(_, part)| format!("{part}\n")).collect();
        says(
            &without_second,
            &[&format!("{} of {count} are here. Part 2 is missing. Read that code too.", count - 1)],
        );
        assert_eq!(collect(&without_second).missing, [2]);
        says(&format!("{}\n{}", parts[0], parts[0]), &["Part 1 is there twice. That does no harm.", "1 of "]);
    }

    #[test]
    fn refuse_parts_that_are_spoiled_or_of_another_set() {
        let parts = parts();
        let name = parts[0].split('/').nth(3).expect("a name").to_owned();
        let cut = &parts[0][..parts[0].len() - 4];
        says(
            &[cut, &parts[1]].join("\n"),
            &[
                &format!(
                    "Part 1 of {} of set {name} is damaged: letters are missing or changed.",
                    parts.len()
                ),
                "1 of ",
            ],
        );
        let other = codes("north-meadow", &chain("p3x8aa-1", 2)).expect("it fits").remove(0);
        let mixed = [&other, &parts[1], &parts[0]].map(String::as_str).join("\n");
        says(&mixed, &["Part 1 of another set (", "2 of "]);
        // Every part good, and one of them put under another number.
        let mut swapped = parts.clone();
        swapped[0] = parts[0].replacen("/1/", "/2/", 1);
        swapped[1] = parts[1].replacen("/2/", "/1/", 1);
        says(&swapped.join("\n"), &["No part is missing, and together they are not the set "]);
        // The name of another set on all of them.
        let renamed: Vec<String> = parts.iter().map(|part| part.replacen(&name, "00000000", 1)).collect();
        says(&renamed.join("\n"), &["No part is missing, and together they are not the set 00000000."]);
    }

    #[test]
    fn refuse_too_many_entries_for_codes() {
        assert!(codes("v", &[]).is_err());
        let refused = codes("v", &chain("a-1", 2001)).expect_err("too many").to_string();
        assert!(refused.ends_with("It must be 1 to 2000 for codes; hand more over as a file."), "{refused}");
        assert!(codes("v", &chain("a-1", 2000)).is_ok());
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn law_every_changed_letter_of_a_part_shows(at in 0..900_usize, letter in "[0-9A-Z $%*+./:-]") {
            let part = codes("v", &chain("k7q2m9-1", 12)).expect("it fits").remove(0);
            let at = at % part.len();
            let mut changed = part.clone();
            changed.replace_range(at..=at, &letter);
            prop_assert_eq!(collect(&changed).visit.is_some(), changed == part, "{:?}", collect(&changed).sentences);
        }

        #[test]
        fn law_any_text_is_collected_without_fault(text in "(TOBER0/[0-9]{1,2}/[0-9]{1,2}/[0-9A-F]{8}/[0-9A-Z $%*+./:-]{0,40}\n?){0,4}", other: String) {
            prop_assert!(collect(&text).visit.is_none());
            prop_assert!(!collect(&other).sentences.is_empty());
        }
    }
}
