//! P3 and P4: whatever is changed, dropped, swapped, added or cut off shows, and is named.

mod common;

use common::{Dice, altered, chain};
use proptest::prelude::*;
use tober_log::text::{Opened, entry_line, open, read, write};
use tober_log::{Body, Entry, EntryId, Fields, Head, Hlc, Log, Trouble};

fn id(device: &str, seq: u64) -> EntryId {
    EntryId { device: device.to_owned(), seq }
}

/// Whether a trouble names an entry.
fn names(trouble: &Trouble, entry: &EntryId) -> bool {
    trouble.device() == entry.device
        && match trouble {
            Trouble::Missing { from, to, .. } => (*from..=*to).contains(&entry.seq),
            Trouble::Shortened { count, last, .. } => (*last + 1..=*count).contains(&entry.seq),
            Trouble::Swapped { one, other } => one == entry || other == entry,
            Trouble::Forked { id, .. }
            | Trouble::Changed { id, .. }
            | Trouble::OtherEnd { id, .. }
            | Trouble::TwoSignatures { id } => id == entry,
        }
}

fn opened_names(opened: &Opened, entry: &EntryId) -> bool {
    opened.troubles.iter().any(|trouble| names(trouble, entry))
        || opened.damage.iter().any(|damage| damage.entry.as_ref() == Some(entry))
}

/// The first line and the lines of the entries of a file, with the place where each begins.
fn lines_of(file: &str) -> Vec<(usize, &str)> {
    let mut at = 0;
    file.split_inclusive('\n')
        .map(|line| {
            at += line.len();
            (at - line.len(), line)
        })
        .collect()
}

/// Two devices of a hundred entries each, as a file.
fn two_hundred() -> (Vec<Entry>, String) {
    let (log, troubles) = Log::gather([chain("k7q2m9-1", 100), chain("p3x8aa-2", 100)].concat());
    assert_eq!(troubles, []);
    (log.entries().to_vec(), write("north-meadow", &log))
}

#[test]
fn law_p4_every_flipped_byte_of_a_log_of_two_hundred_names_its_entry() {
    let (entries, file) = two_hundred();
    assert_eq!(entries.len(), 200);
    assert!(open(file.as_bytes()).whole());
    let mut dice = Dice(4);
    let mut bytes = file.clone().into_bytes();
    let lines = lines_of(&file);
    let first = lines[0].1.as_bytes();
    for (number, (start, line)) in lines.iter().enumerate() {
        for at in *start..start + line.len() {
            let was = bytes[at];
            bytes[at] ^= 1 << dice.below(8);
            // A line is read by itself, so where the line alone already names its entry the other 199 are not read again;
            // but every five-hundredth time they are, as where it does not.
            let alone = [first, &bytes[*start..start + line.len()]].concat();
            let entry = number.checked_sub(1).map(|place| entries[place].id());
            let enough = entry.is_some() && read(&alone).damage.iter().any(|damage| damage.entry == entry);
            if !enough || at % 500 == 0 {
                let opened = open(&bytes);
                let named = match &entry {
                    None => opened.damage.iter().any(|damage| damage.line == 1),
                    Some(entry) => opened_names(&opened, entry),
                };
                assert!(named, "line {}, byte {}: {was} became {}", number + 1, at - start, bytes[at]);
            }
            bytes[at] = was;
        }
    }
}

#[test]
fn law_p4_every_other_value_of_every_byte_of_one_entry_names_it() {
    let (log, _) = Log::gather(chain("k7q2m9-1", 3));
    let file = write("north-meadow", &log);
    let mut bytes = file.clone().into_bytes();
    let (start, line) = lines_of(&file)[2];
    for at in start..start + line.len() {
        let was = bytes[at];
        for value in 0..=u8::MAX {
            bytes[at] = value;
            let opened = open(&bytes);
            assert_eq!(
                opened_names(&opened, &id("k7q2m9-1", 2)),
                value != was,
                "byte {}: {value}",
                at - start
            );
        }
        bytes[at] = was;
    }
}

/// One change to an entry, with its name.
type Change = (&'static str, fn(&mut Fields));

/// What somebody changes who works out the hash of the line anew. The signature is left out: no hash holds it.
fn changes() -> Vec<Change> {
    vec![
        ("value", |fields| drop(fields.body.insert("value".to_owned(), "1 mm".to_owned()))),
        ("key", |fields| drop(fields.body.insert("more".to_owned(), String::new()))),
        ("kind", |fields| fields.kind.push('s')),
        ("role", |fields| fields.role = "hand".to_owned()),
        ("person", |fields| fields.person_tag = None),
        ("wall", |fields| fields.wall.replace_range(11..13, "04")),
        ("l", |fields| fields.hlc.l += 1),
        ("c", |fields| fields.hlc.c += 1),
        ("plan", |fields| fields.plan_hash = Some("5f0c99e1".to_owned())),
        ("replaces", |fields| fields.replaces.extend([id("x", 1).into()])),
    ]
}

#[test]
fn law_p4_a_changed_entry_with_a_good_hash_of_its_own_is_named_by_the_one_after_it() {
    let whole = chain("k7q2m9-1", 200);
    let heads = Log::gather(whole.clone()).0.heads();
    for place in 0..whole.len() {
        let (name, change) = changes()[place % changes().len()];
        let mut all = whole.clone();
        all[place] = altered(&all[place], change);
        let (log, mut troubles) = Log::gather(all);
        if place == 199 {
            assert_eq!(troubles, [], "the last one is held by nothing but the head");
        }
        troubles.extend(log.against(&heads));
        assert!(
            matches!(troubles.as_slice(), [one] if names(one, &whole[place].id())),
            "{name}: {troubles:?}"
        );
    }
}

#[test]
fn law_p4_every_change_changes_the_hash() {
    let entry = chain("k7q2m9-1", 2).remove(1);
    let mut hashes = vec![entry.hash()];
    for (name, change) in changes() {
        let hash = altered(&entry, change).hash();
        assert!(!hashes.contains(&hash), "{name}");
        hashes.push(hash);
    }
    let others: [fn(&mut Fields); 3] = [
        |fields| fields.device = "k7q2m9-2".to_owned(),
        |fields| fields.seq = 3,
        |fields| fields.prev = Some(chain("k7q2m9-2", 1)[0].hash()),
    ];
    for change in others {
        let hash = altered(&entry, change).hash();
        assert!(!hashes.contains(&hash));
        hashes.push(hash);
    }
}

#[test]
fn law_p4_every_dropped_entry_is_named() {
    let whole = chain("k7q2m9-1", 200);
    let heads = Log::gather(whole.clone()).0.heads();
    for place in 0..whole.len() {
        let mut all = whole.clone();
        let gone = all.remove(place).id();
        let (log, mut troubles) = Log::gather(all);
        troubles.extend(log.against(&heads));
        assert!(matches!(troubles.as_slice(), [one] if names(one, &gone)), "{gone}: {troubles:?}");
    }
}

#[test]
fn law_p4_a_dropped_end_is_found_by_a_head_and_by_nothing_else() {
    let whole = chain("k7q2m9-1", 200);
    let heads = Log::gather(whole.clone()).0.heads();
    assert_eq!(heads, [Head { device: "k7q2m9-1".to_owned(), count: 200, hash: whole[199].hash() }]);
    for dropped in 1..=50 {
        let (log, troubles) = Log::gather(whole[..200 - dropped].to_vec());
        assert_eq!(troubles, [], "without a head nobody can tell");
        let last = 200 - dropped as u64;
        let shortened = Trouble::Shortened { device: "k7q2m9-1".to_owned(), count: 200, last };
        assert_eq!(log.against(&heads), [shortened]);
    }
    // All of a device gone.
    let shortened = Trouble::Shortened { device: "k7q2m9-1".to_owned(), count: 200, last: 0 };
    assert_eq!(Log::default().against(&heads), [shortened]);
    // A head from before is no complaint about what came after.
    let earlier = Log::gather(whole[..150].to_vec()).0.heads();
    assert_eq!(Log::gather(whole).0.against(&earlier), []);
}

#[test]
fn law_p4_the_heads_in_a_file_show_that_it_was_cut_short() {
    let (_, file) = two_hundred();
    let lines = lines_of(&file);
    for (kept, (start, _)) in lines.iter().enumerate().skip(1) {
        let opened = open(&file.as_bytes()[..*start]);
        assert_eq!(opened.damage, []);
        assert!(opened.troubles.iter().any(|trouble| matches!(trouble, Trouble::Shortened { .. })), "{kept}");
    }
    for cut in [1, 2, 100, file.len() / 2, file.len() - 1] {
        assert!(!open(&file.as_bytes()[..file.len() - cut]).whole(), "{cut} bytes cut off");
    }
}

#[test]
fn law_p4_two_swapped_entries_are_named_both() {
    let whole = chain("k7q2m9-1", 30);
    for (one, other) in [(1, 2), (1, 3), (4, 9), (27, 28), (2, 28)] {
        // Only the numbers exchanged; the places in the chain exchanged.
        for with_prev in [false, true] {
            let mut all = whole.clone();
            let moved = |entry: &Entry, place: &Entry| {
                altered(entry, |fields| {
                    fields.seq = place.seq;
                    fields.prev = if with_prev { place.prev } else { fields.prev };
                })
            };
            all[one] = moved(&whole[other], &whole[one]);
            all[other] = moved(&whole[one], &whole[other]);
            let (log, troubles) = Log::gather(all);
            let swapped = Trouble::Swapped { one: whole[one].id(), other: whole[other].id() };
            assert_eq!(troubles, [swapped], "with prev: {with_prev}");
            assert_eq!(log.entries().len(), 30, "both are kept");
        }
    }
}

#[test]
fn law_p4_an_added_entry_is_named() {
    let whole = chain("k7q2m9-1", 30);
    for place in [0, 1, 15, 28, 29] {
        let made_up =
            altered(&whole[place], |fields| drop(fields.body.insert("value".to_owned(), "1 mm".to_owned())));
        let mut all = whole.clone();
        all.push(made_up);
        let (log, troubles) = Log::gather(all);
        assert!(
            matches!(troubles.as_slice(), [one @ Trouble::Forked { .. }] if names(one, &whole[place].id()))
        );
        assert_eq!(log.entries().len(), 31);
    }
}

/// A text of any letters, line ends and marks included.
fn any_text(max: usize) -> impl Strategy<Value = String> {
    prop::collection::vec(any::<char>(), 0..max).prop_map(|letters| letters.into_iter().collect())
}

fn any_entry() -> impl Strategy<Value = Entry> {
    let name = "[^\\x00-\\x1f\\x7f-\\x9f]{1,10}";
    let body = prop::collection::btree_map(name, any_text(30), 0..6);
    let replaces =
        prop::collection::btree_set(("[a-z]{1,3}", 1..9_u64, proptest::option::of(any::<[u8; 8]>())), 0..4);
    let people = (name, proptest::option::of(name), name, proptest::option::of(name));
    let sig = proptest::option::of(prop::collection::vec(any::<u8>(), 1..=64));
    (body, replaces, people, 0..1_u64 << 53, any::<u32>(), sig).prop_map(
        |(body, replaces, people, l, c, sig)| {
            let (role, person_tag, kind, plan_hash): (String, _, String, _) = people;
            let replaces = replaces
                .into_iter()
                .map(|(device, seq, mark)| tober_log::Named { id: id(&device, seq), mark });
            Entry::of(Fields {
                device: "K7q2m9_3.a".to_owned(),
                seq: 1,
                prev: None,
                hlc: Hlc { l, c },
                wall: "2026-05-09T05:41:07.250Z".to_owned(),
                role,
                person_tag,
                kind,
                body: body as Body,
                replaces: replaces.collect(),
                plan_hash,
                sig,
            })
            .expect("within limits")
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn law_a_file_read_and_written_again_is_the_same_to_the_byte(entry in any_entry(), visit in any_text(20)) {
        let (log, _) = Log::gather(vec![entry]);
        let file = write(&visit, &log);
        let opened = open(file.as_bytes());
        prop_assert!(opened.whole(), "{:?} {:?}", opened.damage, opened.troubles);
        prop_assert_eq!(&opened.log, &log);
        prop_assert_eq!(opened.header.map(|header| header.visit), Some(visit.clone()));
        prop_assert_eq!(write(&visit, &opened.log), file);
    }

    #[test]
    #[cfg(feature = "qr")]
    fn law_any_entry_goes_through_codes(entry in any_entry(), visit in any_text(20)) {
        let parts = tober_log::qr::codes(&visit, std::slice::from_ref(&entry)).expect("it fits");
        let collected = tober_log::qr::collect(&parts.concat());
        prop_assert_eq!(collected.entries, [entry]);
        prop_assert_eq!(collected.visit, Some(visit));
    }
}

#[test]
fn law_a_line_spelt_otherwise_is_kept_and_named() {
    let (log, _) = Log::gather(chain("k7q2m9-1", 2));
    let file = write("v", &log);
    let spaced = file.replace("\"c\":0", "\"c\": 0");
    let opened = open(spaced.as_bytes());
    assert_eq!(opened.log, log);
    assert_eq!(opened.damage.len(), 2);
    let column = entry_line(&log.entries()[0]).find("\"c\":").expect("it is there") + 5;
    assert_eq!((opened.damage[0].line, opened.damage[0].column), (2, column));
    // A mail program's line ends, and a mark at the beginning, are no complaint.
    let mailed = format!("\u{feff}{}", file.replace('\n', "\r\n"));
    assert!(open(mailed.as_bytes()).whole());
}
