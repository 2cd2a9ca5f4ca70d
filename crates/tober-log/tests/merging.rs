//! P6, P8, P12: any order gives the same log, nobody wins in silence, nothing unknown is dropped.

mod common;

use common::{Dice, Writer, altered, chain, names};
use proptest::prelude::*;
use tober_log::{Entry, EntryId, Log, Stands, Trouble, text};

#[test]
fn law_p6_five_hundred_shuffles_with_duplicates_give_one_log() {
    let mut all = Vec::new();
    for device in ["k7q2m9-1", "k7q2m9-2", "p3x8aa-1"] {
        all.extend(chain(device, 200));
    }
    let (first, troubles) = Log::gather(all.clone());
    assert_eq!(troubles, []);
    assert_eq!(first.entries().len(), 600);
    let first_text = text::write("north-meadow", &first);
    let mut dice = Dice(6);
    for round in 0..500 {
        let mut sent = all.clone();
        for _ in 0..300 {
            sent.push(all[dice.below(all.len())].clone());
        }
        dice.shuffle(&mut sent);
        let (log, troubles) = Log::gather(sent);
        assert_eq!(troubles, [], "round {round}");
        assert!(log == first, "round {round}");
        assert_eq!(log.state_hash(), first.state_hash());
    }
    assert_eq!(text::write("north-meadow", &first), first_text);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is wrong with a set of entries, its order is no part of the answer.
    #[test]
    fn law_p6_spoiled_sets_give_one_answer_too(seed: u64) {
        let mut dice = Dice(seed);
        let mut all = chain("a-1", 12);
        all.extend(chain("b-1", 9));
        for _ in 0..4 {
            let at = dice.below(all.len());
            let say = ["1 mm", "2 mm"][dice.below(2)];
            all.push(altered(&all[at], |fields| { fields.body.insert("value".to_owned(), say.to_owned()); }));
            all.remove(dice.below(all.len()));
        }
        let (first, troubles) = Log::gather(all.clone());
        let again: Vec<Entry> = all.iter().rev().cloned().chain(all.iter().cloned()).collect();
        dice.shuffle(&mut all);
        prop_assert_eq!(&Log::gather(all), &(first.clone(), troubles.clone()));
        prop_assert_eq!(Log::gather(again), (first, troubles));
    }

    /// Two that meet say the same whoever went to whom, and a third meeting adds nothing.
    #[test]
    fn law_p6_merging_by_steps_is_merging_at_once(cut_one in 0..40_usize, cut_other in 0..40_usize) {
        let (one, other) = (chain("a-1", 40), chain("b-1", 40));
        let at_once: Vec<Entry> = one.iter().chain(&other).cloned().collect();
        let (half, _) = Log::gather(one[..cut_one].iter().chain(&other[..cut_other]).cloned().collect());
        let rest = one[cut_one..].iter().chain(&other[cut_other..]).cloned();
        let by_steps: Vec<Entry> = half.entries().iter().cloned().chain(rest).collect();
        prop_assert_eq!(Log::gather(by_steps), Log::gather(at_once));
    }
}

#[test]
fn law_p8_two_people_on_one_subject_both_stand() {
    let (mut one, mut other) = (Writer::new("k7q2m9-1"), Writer::new("p3x8aa-1"));
    one.say("reading", &[("what", "front left"), ("value", "697 mm")], &[]);
    other.say("reading", &[("what", "front left"), ("value", "705 mm")], &[]);
    for order in [[&one, &other], [&other, &one]] {
        let (log, troubles) = Log::gather(order.iter().flat_map(|writer| writer.chain.clone()).collect());
        assert_eq!(troubles, []);
        let subjects = log.what_stands("reading");
        let stands = subjects["front left"].stands();
        assert!(matches!(&stands, Stands::Disagree(both) if both.len() == 2), "{stands:?}");
        assert_eq!(stands.value("value"), None, "no silent winner");
    }

    // One entry that replaces both settles it; the old ones stay readable, with who replaced them and why.
    let (log, _) = Log::gather(one.chain.iter().chain(&other.chain).cloned().collect());
    let both: Vec<String> = log.to_replace("reading", "front left").iter().map(ToString::to_string).collect();
    assert_eq!(both, ["k7q2m9-1:1", "p3x8aa-1:1"]);
    let both: Vec<&str> = both.iter().map(String::as_str).collect();
    one.say("reading", &[("what", "front left"), ("value", "697 mm"), ("why", "measured again")], &both);
    let (log, _) = Log::gather(one.chain.iter().chain(&other.chain).cloned().collect());
    let subjects = log.what_stands("reading");
    let subject = &subjects["front left"];
    assert_eq!(subject.stands().value("value"), Some("697 mm"));
    let before: Vec<_> = subject.before.iter().map(|(old, by)| (old.value()[0].1, by[0].why())).collect();
    assert_eq!(before, [("697 mm", Some("measured again")), ("705 mm", Some("measured again"))]);
}

#[test]
fn law_p8_two_that_say_the_same_agree() {
    let (mut one, mut other) = (Writer::new("a-1"), Writer::new("b-1"));
    one.say("reading", &[("what", "rear left"), ("value", "640 mm")], &[]);
    other.say("reading", &[("what", "rear left"), ("value", "640 mm"), ("why", "second tape")], &[]);
    let (log, _) = Log::gather([one.chain, other.chain].concat());
    let subjects = log.what_stands("reading");
    assert!(matches!(subjects["rear left"].stands(), Stands::Agree(both) if both.len() == 2));
    assert_eq!(subjects["rear left"].stands().value("value"), Some("640 mm"));
}

#[test]
fn law_p8_two_corrections_of_one_reading_disagree() {
    let (mut one, mut other) = (Writer::new("a-1"), Writer::new("b-1"));
    one.say("reading", &[("what", "rear left"), ("value", "640 mm")], &[]);
    one.say("reading", &[("what", "rear left"), ("value", "641 mm")], &["a-1:1"]);
    other.say("reading", &[("what", "rear left"), ("value", "604 mm")], &["a-1:1"]);
    let (log, _) = Log::gather([one.chain, other.chain].concat());
    let subjects = log.what_stands("reading");
    assert!(matches!(subjects["rear left"].stands(), Stands::Disagree(_)));
    assert_eq!(subjects["rear left"].before.len(), 1);
    assert_eq!(subjects["rear left"].before[0].1.len(), 2, "both that replaced it are named");
}

#[test]
fn law_p8_entries_that_replace_each_other_in_a_circle_all_stand() {
    let (mut one, mut other, mut third) = (Writer::new("a-1"), Writer::new("b-1"), Writer::new("c-1"));
    third.say("reading", &[("what", "rear left"), ("value", "1 mm")], &[]);
    one.say("reading", &[("what", "rear left"), ("value", "2 mm")], &["b-1:1", "c-1:1"]);
    other.say("reading", &[("what", "rear left"), ("value", "3 mm")], &["a-1:1"]);
    let (log, _) = Log::gather([one.chain.clone(), other.chain.clone(), third.chain.clone()].concat());
    let subjects = log.what_stands("reading");
    let subject = &subjects["rear left"];
    assert!(matches!(subject.stands(), Stands::Disagree(two) if two.len() == 2));
    assert_eq!(subject.before.len(), 1, "what the circle replaced is replaced");
    // And one more entry settles the circle.
    third.say("reading", &[("what", "rear left"), ("value", "4 mm")], &["a-1:1", "b-1:1"]);
    let (log, _) = Log::gather([one.chain, other.chain, third.chain].concat());
    assert_eq!(log.what_stands("reading")["rear left"].stands().value("value"), Some("4 mm"));
}

#[test]
fn law_p8_an_entry_replaced_by_one_about_something_else_leaves_nothing() {
    let mut writer = Writer::new("a-1");
    writer.say("reading", &[("what", "front left"), ("value", "640 mm")], &[]);
    writer.say(
        "reading",
        &[("what", "front right"), ("value", "640 mm"), ("why", "the other side")],
        &["a-1:1"],
    );
    let (log, _) = Log::gather(writer.chain);
    let subjects = log.what_stands("reading");
    assert_eq!(subjects["front left"].stands(), Stands::Nothing);
    assert_eq!(subjects["front right"].stands().value("value"), Some("640 mm"));
    assert_eq!(log.replaced_by(&log.entries()[0]), [&log.entries()[1]]);
}

#[test]
fn law_a_fork_is_named_and_both_sides_are_kept() {
    let whole = chain("k7q2m9-1", 5);
    let side = altered(&whole[2], |fields| {
        fields.body.insert("value".to_owned(), "999 mm".to_owned());
    });
    let mut all = whole.clone();
    all.push(side.clone());
    let (log, troubles) = Log::gather(all.clone());
    let mut hashes = vec![whole[2].hash(), side.hash()];
    hashes.sort();
    assert_eq!(troubles, [Trouble::Forked { id: whole[2].id(), hashes }]);
    assert_eq!(log.get(&whole[2].id()).len(), 2);
    assert_eq!(log.entries().len(), 6);
    assert!(troubles[0].to_string().starts_with("k7q2m9-1:3 is there 2 times with different contents"));

    // A name without a mark replaces neither side, for nobody can tell which was meant; names with marks do.
    let mut chief = Writer::new("chief-1");
    let plain = chief.say("reading", &[("what", "middle left"), ("value", "1 mm")], &["k7q2m9-1:3"]);
    let (log, _) = Log::gather(all.iter().cloned().chain([plain]).collect());
    assert_eq!(log.what_stands("reading")["middle left"].heads.len(), 3);
    let all_three: Vec<String> =
        log.to_replace("reading", "middle left").iter().map(ToString::to_string).collect();
    assert_eq!(all_three.iter().filter(|name| name.contains('#')).count(), 2, "{all_three:?}");
    let all_three: Vec<&str> = all_three.iter().map(String::as_str).collect();
    chief.say("reading", &[("what", "middle left"), ("value", "2 mm")], &all_three);
    let (log, _) = Log::gather([all, chief.chain].concat());
    assert_eq!(log.what_stands("reading")["middle left"].stands().value("value"), Some("2 mm"));
}

#[test]
fn law_of_two_copies_the_signed_one_is_kept() {
    let plain = chain("a-1", 1).remove(0);
    let signed = |byte: u8| altered(&plain, |fields| fields.sig = Some(vec![byte; 64]));
    assert_eq!(plain.hash(), signed(1).hash(), "the hash is without the signature");
    for order in [[plain.clone(), signed(1)], [signed(1), plain.clone()]] {
        let (log, troubles) = Log::gather(order.to_vec());
        assert_eq!((log.entries(), troubles), (&[signed(1)][..], vec![]));
        assert!(log.entries()[0].signed());
    }
    for order in [[signed(2), signed(1)], [signed(1), signed(2)]] {
        let (log, troubles) = Log::gather(order.to_vec());
        assert_eq!(log.entries(), [signed(1)]);
        assert_eq!(troubles, [Trouble::TwoSignatures { id: plain.id() }]);
    }
}

#[test]
fn law_p5_nothing_counts_while_no_signature_is_checked() {
    let entry = chain("a-1", 1).remove(0);
    assert!(!entry.signed() && !entry.counts());
    let made_up = altered(&entry, |fields| fields.sig = Some(vec![7; 64]));
    assert!(made_up.signed() && !made_up.counts(), "a made-up signature is worth nothing");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn law_p12_unknown_kinds_are_kept_chained_and_shown(kind in "[a-z ]{1,20}", key in "[a-z]{1,9}", value in ".{0,40}") {
        let mut writer = Writer::new("a-1");
        writer.say("reading", &[("what", "front left"), ("value", "640 mm")], &[]);
        let strange = writer.say(&format!("x {kind}"), &[(&key, &value)], &[]);
        writer.say("reading", &[("what", "rear left"), ("value", "641 mm")], &[]);
        let (log, troubles) = Log::gather(writer.chain);
        prop_assert_eq!(troubles, []);
        prop_assert_eq!(log.not_known(&["reading"]), [&strange]);
        let file = text::write("v", &log);
        let opened = text::open(file.as_bytes());
        prop_assert!(opened.whole(), "{:?}", opened.damage);
        prop_assert_eq!(opened.log, log);
    }
}

#[test]
fn law_a_gap_is_named_and_what_is_around_it_stands() {
    let whole = chain("k7q2m9-1", 10);
    let kept: Vec<Entry> = whole.iter().filter(|entry| !matches!(entry.seq, 1 | 4 | 5)).cloned().collect();
    let (log, troubles) = Log::gather(kept);
    let missing = |from, to| Trouble::Missing { device: "k7q2m9-1".to_owned(), from, to };
    assert_eq!(troubles, [missing(1, 1), missing(4, 5)]);
    assert_eq!(log.entries().len(), 7);
    assert_eq!(
        troubles[1].to_string(),
        "k7q2m9-1:4 to k7q2m9-1:5 are missing. Ask the device k7q2m9-1 for them."
    );
    assert!(log.get(&EntryId { device: "k7q2m9-1".to_owned(), seq: 4 }).is_empty());
}

#[test]
fn hand_names_are_read_and_written() {
    let named = names(&["k7q2m9-3:12", "a:1#0123456789abcdef"]);
    let texts: Vec<String> = named.iter().map(ToString::to_string).collect();
    assert_eq!(texts, ["a:1#0123456789abcdef", "k7q2m9-3:12"]);
    for odd in [
        "",
        "a",
        "a:",
        "a:0",
        "a:01",
        "a:+1",
        ":1",
        "a b:1",
        "a:1#",
        "a:1#012",
        "a:1#0123456789ABCDEF",
        "a:1:2",
    ] {
        assert!(odd.parse::<tober_log::Named>().is_err(), "{odd}");
    }
}
