//! P7 and F5: order survives bad clocks.

mod common;

use common::{HALF_PAST_FIVE, Writer, chain};
use proptest::prelude::*;
use tober_log::{AHEAD_MS_MAX, Hlc, Log};

const HOUR: i64 = 3_600_000;
const YEAR: i64 = 31_557_600_000;

#[test]
fn law_p7_the_clock_jumps_and_the_order_stays() {
    for jump in [-1000, -2 * HOUR, -10 * YEAR, 10 * YEAR, 0] {
        let mut writer = Writer::new("k7q2m9-1");
        writer.say("note", &[("text", "before")], &[]);
        let jumped = HALF_PAST_FIVE + jump;
        // A clock that stands still as well.
        for _ in 0..3 {
            writer.now_ms = jumped;
            writer.say("note", &[("text", "after")], &[]);
        }
        let times: Vec<Hlc> = writer.chain.iter().map(|entry| entry.hlc).collect();
        assert!(times.is_sorted_by(|one, other| one < other), "{jump} ms: {times:?}");
        let (log, troubles) = Log::gather(writer.chain.iter().rev().cloned().collect());
        assert_eq!((log.entries(), troubles), (writer.chain.as_slice(), vec![]), "{jump} ms");
    }
}

#[test]
fn hand_a_clock_that_steps_back_counts_on() {
    // l holds at the greatest time seen and c counts; once the clock has passed l again, l moves and c is 0.
    let at = |l, c| Hlc { l, c };
    assert_eq!(Hlc::tick(None, Hlc::default(), 5000), at(5000, 0));
    assert_eq!(Hlc::tick(Some(at(5000, 0)), Hlc::default(), 4000), at(5000, 1));
    assert_eq!(Hlc::tick(Some(at(5000, 1)), Hlc::default(), 5000), at(5000, 2));
    assert_eq!(Hlc::tick(Some(at(5000, 2)), Hlc::default(), 5001), at(5001, 0));
    // Another's time is followed when it is greater, and its count too.
    assert_eq!(Hlc::tick(Some(at(5000, 2)), at(6000, 4), 5001), at(6000, 5));
    assert_eq!(Hlc::tick(Some(at(6000, 9)), at(6000, 4), 5001), at(6000, 10));
    // The end of the count is not the end of the order.
    assert_eq!(Hlc::tick(Some(at(6000, u32::MAX)), Hlc::default(), 5001), at(6001, 0));
    // Before 1970 a clock says nothing.
    assert_eq!(Hlc::tick(None, Hlc::default(), -5), at(0, 1));
}

#[test]
fn law_f5_an_entry_over_five_minutes_before_us_is_kept_named_and_not_followed() {
    let mut fast = Writer::new("fast-1");
    fast.now_ms += 10 * YEAR;
    fast.say("note", &[("text", "from the year 2036")], &[]);
    let mut near = Writer::new("near-1");
    near.now_ms += AHEAD_MS_MAX as i64;
    let near_entry = near.say("note", &[("text", "five minutes before us")], &[]);
    let (log, troubles) = Log::gather([fast.chain.clone(), near.chain].concat());
    assert_eq!(troubles, []);
    assert_eq!(log.entries().len(), 2, "kept");
    assert_eq!(log.ahead(HALF_PAST_FIVE), [&fast.chain[0]], "named");

    // The one within five minutes is followed even though the other is greater.
    let seen = log.seen(HALF_PAST_FIVE);
    assert_eq!(seen, near_entry.hlc);
    let ours = Hlc::tick(None, seen, HALF_PAST_FIVE);
    assert_eq!(ours, Hlc { l: near_entry.hlc.l, c: near_entry.hlc.c + 1 });
    // And a careless caller that passes the greatest of all is not dragged either.
    let ours = Hlc::tick(None, fast.chain[0].hlc, HALF_PAST_FIVE);
    assert_eq!(ours, Hlc { l: HALF_PAST_FIVE as u64, c: 0 });
}

#[test]
fn law_p7_an_answer_comes_after_what_it_answers() {
    // Our clock is four minutes behind theirs: our entry is written after theirs was seen and sorts after it.
    let mut theirs = Writer::new("a-1");
    theirs.now_ms += 240_000;
    theirs.say("reading", &[("what", "front left"), ("value", "1 mm")], &[]);
    let (log, _) = Log::gather(theirs.chain.clone());
    let mut ours = Writer::new("b-1");
    ours.seen = log.seen(ours.now_ms);
    ours.say("reading", &[("what", "front left"), ("value", "2 mm")], &["a-1:1"]);
    let (log, _) = Log::gather([ours.chain, theirs.chain].concat());
    assert_eq!(log.entries().iter().map(|entry| entry.device.as_str()).collect::<Vec<_>>(), ["a-1", "b-1"]);
    assert!(log.entries()[0].wall > log.entries()[1].wall, "the wall times say otherwise, and do not sort");
}

#[test]
fn law_p7_the_number_rules_where_times_were_made_up() {
    // A chain whose second entry claims to be older than its first.
    let first = chain("a-1", 1).remove(0);
    let second = common::altered(&first, |fields| {
        fields.seq = 2;
        fields.prev = Some(first.hash());
        fields.hlc = Hlc { l: 1, c: 0 };
    });
    let (log, troubles) = Log::gather(vec![second.clone(), first.clone()]);
    assert_eq!((log.entries(), troubles), (&[first, second][..], vec![]));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn law_p7_times_of_a_device_always_grow(clocks in prop::collection::vec(any::<i64>(), 1..40), l in 0..u64::MAX, c: u32) {
        let mut own = None;
        for now in clocks {
            let next = Hlc::tick(own, Hlc { l: l >> 11, c }, now);
            prop_assert!(own.is_none_or(|own| own < next), "{own:?} {next:?}");
            own = Some(next);
        }
    }
}
